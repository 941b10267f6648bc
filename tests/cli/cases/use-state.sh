# Wrong use of --state: two files from standard input, no file, a command without it.
stillset plan - --target MV-1 --state - <tutorial.xml
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --state - --policy - <today.state
echo "exit $?" >&2
stillset relief - --state - <tutorial.xml
echo "exit $?" >&2
stillset relief tutorial.xml --since - --state - <tutorial.xml
echo "exit $?" >&2
stillset verify - plan.json --state - <tutorial.xml
echo "exit $?" >&2
stillset verify tutorial.xml - --state - <today.state
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --state=
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --state
echo "exit $?" >&2
stillset check tutorial.xml --state today.state
echo "exit $?" >&2
stillset draw tutorial.xml --state today.state
echo "exit $?" >&2
exit 0
