stillset plan tutorial.xml --target=MV-1 --grade=single --accept=L6:S-4,I3:MV-1 --format=json -o=x.json
echo "exit $?" >&2
stillset plan --accept N4:none --target=MV-1 tutorial.xml --grade=single --accept=L6:S-4,I3:MV-1,L8:MV-1 --format=json >out.json
status=$?
grep -E "^ \"(feasible|ready)\"" out.json
grep -A 4 "\"accept\"" out.json
exit $status
