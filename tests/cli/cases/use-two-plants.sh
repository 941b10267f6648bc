stillset plan tutorial.xml --target MV-1 --grade single ready.xml -o out.txt
status=$?
ls out.txt 2>/dev/null
exit $status
