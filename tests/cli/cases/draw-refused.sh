# What can't be drawn is misuse, and nothing is written.
stillset draw tutorial.xml --around HV-99 -o out
echo "exit $?" >&2
stillset draw tutorial.xml --depth 2 -o out
echo "exit $?" >&2
for depth in -1 1.5 x "" 1000000; do
    stillset draw tutorial.xml --around HV-1 --depth "$depth" -o out
    echo "exit $?" >&2
done
for format in text json csv; do
    stillset draw tutorial.xml --format "$format" -o out
    echo "exit $?" >&2
done
stillset draw -o out
echo "exit $?" >&2
stillset draw bad.xml -o out 2>/dev/null
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --grade single --around HV-1
echo "exit $?" >&2
[ ! -e out ]
