# A relief valve behind the check valve, a pipe with another id, and the way back.
sed -e 's/revision="A"/revision="B"/' -e 's/S-8"/S-8x"/' \
    -e 's/id="S-4" from="CV-1.out" to="HV-1.in"/id="S-4" from="CV-1.out" to="T-9.a"/' \
    -e '/<fitting id="T-2"/i <valve id="RV-9" kind="relief" set-pressure="18 barg"/><outlet id="OUT-9" kind="vent" leads-to="safe-place" shared="no" fitted="open"/><fitting id="T-9" kind="tee"/><spool id="S-4b" from="T-9.b" to="HV-1.in" length="3 m" bore="DN50" service="LIQ"/><spool id="S-20" from="T-9.c" to="RV-9.in" length="1 m" bore="DN15" service="LIQ"/><spool id="S-21" from="RV-9.out" to="OUT-9.in" length="1 m" bore="DN15" service="SAFE"/>' \
    tutorial.xml >b.xml
stillset relief b.xml --since tutorial.xml >there.txt
echo "exit $?"
sed -n '/^WHAT CHANGED/,/^ANSWER/p' there.txt
stillset relief tutorial.xml --since b.xml >back.txt
echo "exit $?"
sed -n '/^WHAT CHANGED/,/^ANSWER/p' back.txt
stillset relief tutorial.xml --since tutorial.xml --format json >same.json
echo "exit $?"
sed -n '/^ "since"/,/^ }/p' same.json
stillset relief - --since tutorial.xml --format json <tutorial.xml | cmp - same.json
stillset relief tutorial.xml --since - --format json <tutorial.xml | cmp - same.json
