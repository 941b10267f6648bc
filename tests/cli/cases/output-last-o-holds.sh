stillset plan tutorial.xml --target MV-1 --grade single --format csv -o one.csv -o two.csv
status=$?
ls *.csv
exit $status
