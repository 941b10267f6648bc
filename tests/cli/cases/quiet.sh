# --quiet: neither warnings nor notes; errors, result and exit status stay, on every command.
stillset check --quiet tutorial.xml
echo "exit $?"
stillset check tutorial.xml --quiet --quiet
stillset plan tutorial.xml --target MV-1 --grade single --accept L6:NO --format csv >loud.csv 2>loud.txt
echo "exit $?"
stillset plan tutorial.xml --quiet --target MV-1 --grade single --accept L6:NO --format csv >soft.csv
echo "exit $?"
cmp loud.csv soft.csv
grep -c note: loud.txt
stillset draw --quiet tutorial.xml -o out.svg
echo "exit $?"
stillset relief tutorial.xml --curve S-4 --ambient "-33 degC" --quiet >/dev/null
stillset relief --quiet tutorial.xml >/dev/null
echo "exit $?"
stillset plan tutorial.xml --quiet --target HV-99
echo "exit $?"
stillset check --quiet bad.xml
echo "exit $?"
stillset --quiet
echo "exit $?"
stillset check tutorial.xml --quiet=yes
