# No grade is made up: nothing is written.
stillset plan tutorial.xml --target MV-1
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --format json -o out.json
status=$?
ls out.json 2>/dev/null
exit $status
