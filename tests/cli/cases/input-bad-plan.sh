# Errors in the file: no plan, and a file that is there stays as it was.
echo "kept as it was" >out.txt
stillset plan bad.xml --target L --grade single -o out.txt
status=$?
cat out.txt
stillset plan bad.xml --target L --grade single -o new.txt 2>/dev/null
echo "exit $?"
stillset plan bad.xml --target L --grade single 2>/dev/null
echo "exit $?"
ls new.txt* out.txt?* 2>/dev/null
exit $status
