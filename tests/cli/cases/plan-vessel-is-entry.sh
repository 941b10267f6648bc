# A vessel as target without --work means entry, which is never ready here.
stillset plan tutorial.xml --target V-1 --grade single --format json >out.json
echo "exit $?"
grep -E "^ \"(work|ready)\"" out.json
stillset plan tutorial.xml --target V-1 --grade single --work open --format json | grep -E "^ \"work\""
