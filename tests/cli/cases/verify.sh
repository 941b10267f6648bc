# I7: a plan of the program agrees with its plant; cut short, of another plant or broken it does not.
stillset plan tutorial.xml --target MV-1 --grade single --format json -o plan.json
echo "plan $?" >&2
stillset verify tutorial.xml plan.json
echo "exit $?" >&2
stillset verify ready.xml plan.json >/dev/null
echo "exit $?" >&2
echo '{"target": ["MV-1"], "grade": {"achieved": "single"}, "points": []}' >bare.json
stillset verify tutorial.xml bare.json
echo "exit $?" >&2
stillset verify tutorial.xml - --format json <bare.json >verdict.json
echo "exit $?" >&2
grep -c '"rule": "I1"' verdict.json
echo '{"target": "MV-1", "points": [{"id": 3}]}' | stillset verify tutorial.xml -
echo "exit $?" >&2
head -c 100 plan.json | stillset verify tutorial.xml -
echo "exit $?" >&2
stillset verify tutorial.xml
echo "exit $?" >&2
stillset verify - - </dev/null
echo "exit $?" >&2
stillset verify tutorial.xml plan.json --format csv
echo "exit $?" >&2
exit 0
