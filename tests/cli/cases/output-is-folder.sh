mkdir folder
stillset plan tutorial.xml --target MV-1 --grade single -o folder
status=$?
ls -A folder
ls -d folder.* 2>/dev/null
exit $status
