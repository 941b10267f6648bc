# A bad state is an error, with all that is wrong in it, and nothing is written.
cat >bad.state <<'END'
<state plant="quay-room-4">
  <at id="HV-9" position="closed"/>
  <at id="HV-1" position="shut"/>
  <at id="HV-1" condition="passing"/>
</state>
END
stillset plan tutorial.xml --target MV-1 --grade single --state bad.state -o never.txt
echo "plan $?"
stillset relief tutorial.xml --state bad.state -o never.txt
echo "relief $?"
stillset plan tutorial.xml --target MV-1 --grade single --format json -o plan.json
stillset verify tutorial.xml plan.json --state bad.state
echo "verify $?"
stillset plan tutorial.xml --target MV-1 --state missing.state -o never.txt
echo "missing $?"
stillset plan bad.xml --target MV-1 --state today.state -o never.txt 2>/dev/null
echo "plant first $?"
[ ! -e never.txt ]
