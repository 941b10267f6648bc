# [L4] Where the equation ends rows end, with exit 1; no numbers, nothing written; a contradiction is said.
stillset relief curve.xml --curve P-3 --ambient "60 degC" | tail -n 2
echo "exit ${PIPESTATUS[0]}"
stillset relief curve.xml --curve P-4 -o none.csv
echo "exit $?"
[ ! -e none.csv ] || echo "none.csv was written"
stillset relief curve.xml --curve P-4 --format png -o none.png
echo "exit $?"
[ ! -e none.png ] || echo "none.png was written"
stillset relief curve.xml --curve P-2 --ambient "-19 degC"
echo "exit $?"
