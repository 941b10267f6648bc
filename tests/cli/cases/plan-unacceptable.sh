# What cannot be accepted by name stays as it is.
stillset plan tutorial.xml --target MV-1 --grade single --work entry --accept L6:S-4,I3:MV-1 >out.txt
status=$?
grep -A 4 "BLOCKS" out.txt
exit $status
