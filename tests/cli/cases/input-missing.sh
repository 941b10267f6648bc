stillset check nothing-here.xml
echo "exit $?" >&2
stillset plan nothing-here.xml --target MV-1 --grade single -o out.txt
status=$?
ls out.txt 2>/dev/null
exit $status
