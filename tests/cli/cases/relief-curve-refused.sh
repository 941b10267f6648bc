# [L4] What names no part, or several, is misuse, and nothing is written.
for id in HV-99 LQ "" V-2 E-1 L-1.in; do
    stillset relief curve.xml --curve "$id" -o out
    echo "exit $?" >&2
done
for format in text json html; do
    stillset relief curve.xml --curve P-1 --format "$format" -o out
    echo "exit $?" >&2
done
stillset relief curve.xml --curve P-1 --around P-1 --format svg -o out
echo "exit $?" >&2
stillset relief curve.xml --curve P-1 --ambient 40 -o out
echo "exit $?" >&2
stillset relief curve.xml --curve
echo "exit $?" >&2
stillset plan curve.xml --curve P-1
echo "exit $?" >&2
stillset relief bad.xml --curve P-1 -o out 2>/dev/null
echo "exit $?" >&2
[ ! -e out ]
