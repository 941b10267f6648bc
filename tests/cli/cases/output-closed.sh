# Standard output closed.
stillset plan tutorial.xml --target MV-1 --grade single >&- 2>err.txt
echo "exit $?"
stillset plan - --target MV-1 --grade single --format json <tutorial.xml >&- 2>>err.txt
echo "exit $?"
stillset check tutorial.xml >&- 2>>err.txt
echo "exit $?"
stillset --help >&- 2>>err.txt
echo "exit $?"
grep stillset err.txt
stillset plan tutorial.xml --target MV-1 --grade single --format csv -o out.csv >&-
echo "with -o: exit $?"
stillset plan tutorial.xml --target MV-1 --grade single --format csv | cmp - out.csv
