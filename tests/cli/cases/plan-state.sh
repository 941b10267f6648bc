# N2, D6, I7: what was found today; the second check takes the plan with that file and with no other.
stillset plan tutorial.xml --target MV-1 --grade single --state today.state -o out.txt
echo "plan $?"
grep -A1 "^State" out.txt
sed -n "/^FOUND TODAY, BY/,/^STEPS/p" out.txt
stillset plan tutorial.xml --target MV-1 --grade single --state today.state --format csv | grep 'HV-[23]\|BV-1'
stillset plan tutorial.xml --target MV-1 --grade single --state - --format json -o plan.json <today.state
echo "plan $?"
stillset verify tutorial.xml plan.json --state today.state
echo "verify $?"
stillset verify tutorial.xml plan.json | head -n 6
{ cat today.state; echo; } >other.state
stillset verify tutorial.xml plan.json --state other.state | head -n 6
stillset relief tutorial.xml --state today.state | grep -A1 "^State\|^FOUND"
stillset relief tutorial.xml --state today.state --format svg | grep -c ">passing<"
exit 0
