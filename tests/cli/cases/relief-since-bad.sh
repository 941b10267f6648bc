# Errors in the older file are reported with its name, and nothing is written.
stillset relief tutorial.xml --since bad.xml -o out.txt
echo "exit $?" >&2
stillset relief tutorial.xml --since none.xml -o out.txt
echo "exit $?" >&2
stillset relief - --since - <tutorial.xml
echo "exit $?" >&2
stillset relief tutorial.xml --since ''
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --grade single --since tutorial.xml
echo "exit $?" >&2
[ ! -e out.txt ]
