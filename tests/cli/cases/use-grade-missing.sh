# Without --grade the policy decides.
stillset plan ready.xml --target ST-1 -o out.txt
echo "exit $?"
sed -n '/^Grade/p;/^VERDICT/p' out.txt
stillset plan tutorial.xml --target MV-1 --format json -o out.json
status=$?
grep -A 2 '^ "grade"' out.json
exit $status
