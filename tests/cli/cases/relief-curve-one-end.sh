# [L4] One column that leaves the equation's range before ambient is an answer that is not whole: exit 1, in each form.
for ambient in "16 degC" "17 degC"; do
    stillset relief curve.xml --curve P-3 --ambient "$ambient" | tail -n 1
    echo "exit ${PIPESTATUS[0]}"
    for format in svg png pdf; do
        stillset relief curve.xml --curve P-3 --ambient "$ambient" --format $format -o "c.$format" 2>&1
        echo "exit $?, $([ -s "c.$format" ] && echo written)"
    done
done
# [L4] Ambient not a whole kelvin above the start, or below it: the row at the start is all, and that is said.
for ambient in "19.9 degC" "20 degC" "20.5 degC" "21 degC"; do
    stillset relief curve.xml --curve P-6 --ambient "$ambient" 2>&1
    echo "exit $?"
    stillset relief curve.xml --curve P-6 --ambient "$ambient" --format svg -o one.svg 2>/dev/null
    echo "exit $?, $(grep -c 'MIND: ambient is not above the start' one.svg) remark"
done
# The same of a liquid that is kept warmer than ambient.
stillset relief curve.xml --curve P-1 --ambient "-40 degC" 2>&1
echo "exit $?"
