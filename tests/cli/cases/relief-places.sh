# Where new relief valves would close the gaps of the tutorial plant; none where all are accepted.
stillset relief tutorial.xml >out.txt
echo "exit $?"
sed -n '/^WHERE A NEW/,/^STUBS/p' out.txt
stillset relief tutorial.xml --format json | sed -n '/^ "places/,/^ "since/p'
stillset relief tutorial.xml --accept L5:S-4,L5:PL-3,L5:S-11,L5:E-1 >none.txt
echo "exit $?"
grep -c '^WHERE A NEW' none.txt
true
