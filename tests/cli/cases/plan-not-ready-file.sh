stillset plan tutorial.xml --target MV-1 --grade single --format json -o out.json
status=$?
grep -E "^ \"(format|feasible|ready)\"" out.json
exit $status
