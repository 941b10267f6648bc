# What can't be drawn is misuse, and nothing is written.
stillset relief tutorial.xml --format svg --around HV-99 -o out
echo "exit $?" >&2
stillset relief tutorial.xml --format svg --depth 2 -o out
echo "exit $?" >&2
for format in text json csv; do
    stillset relief tutorial.xml --around S-4 --format "$format" -o out
    echo "exit $?" >&2
done
stillset relief tutorial.xml --around S-4 -o out
echo "exit $?" >&2
[ ! -e out ]
