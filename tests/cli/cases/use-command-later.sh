# Commands of later versions are refused by name.
for command in survey verify; do
    stillset "$command" tutorial.xml
    echo "exit $?" >&2
done
exit 0
