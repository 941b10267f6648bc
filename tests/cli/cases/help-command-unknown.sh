# Help on what is not there, or not in this version, is misuse.
stillset plann --help 2>err.txt
echo "exit $?"
stillset survey --help 2>>err.txt
echo "exit $?"
stillset --help=3 2>>err.txt
echo "exit $?"
grep -c . err.txt
