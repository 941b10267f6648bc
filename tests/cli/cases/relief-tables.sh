# The tables of closed-in liquid: places for new valves, and what changed since.
sed -e 's/revision="A"/revision="B"/' -e 's/S-8"/S-8x"/' tutorial.xml >b.xml
stillset relief b.xml --format csv --table places | tr -d '\r'
echo "exit ${PIPESTATUS[0]}"
stillset relief b.xml --since tutorial.xml --format csv --table since | tr -d '\r'
stillset relief tutorial.xml --since b.xml --format csv --table segments | cmp - <(stillset relief tutorial.xml --format csv)
stillset relief b.xml --format csv --table since
echo "exit $?"
stillset relief b.xml --format json --table places
echo "exit $?"
stillset relief b.xml --format csv --table gaps
echo "exit $?"
