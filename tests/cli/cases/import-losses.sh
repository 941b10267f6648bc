# Every loss is listed; plant and report are written in both cases (exit 1, then 0).
stillset import dexpi drawing.xml --assume-lockable -o plant.xml
echo "exit $?"
stillset import dexpi drawing.xml --assume-lockable --accept-losses -o again.xml >report.txt
echo "exit $?"
cmp plant.xml again.xml && cmp plant.xml.import.json again.xml.import.json
cat plant.xml
jq -c '.n_losses, .counts, .parts[0]' plant.xml.import.json
stillset check plant.xml 2>check.txt
grep -c error: check.txt
stillset plan plant.xml --target X1 --grade single --format json | jq -c '.feasible, .obstacle.path'
