# An old file is replaced whole, and no scrap stays behind.
seq 100000 >out.csv
stillset plan tutorial.xml --target MV-1 --grade single --format csv -o out.csv
status=$?
stillset plan tutorial.xml --target MV-1 --grade single --format csv | cmp - out.csv
ls out.csv*
exit $status
