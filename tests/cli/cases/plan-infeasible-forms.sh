for format in json csv svg; do
    stillset plan tutorial.xml --target HV-1 --grade single --format "$format" -o "out.$format"
    echo "$format: exit $?"
    [ -s "out.$format" ] || echo "$format: empty"
done
cat out.csv
grep -E "^ \"(feasible|ready|points|steps)\"" out.json
