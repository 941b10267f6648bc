# A full disk behind -o, by a limit on the size of files: the old file stays, no scrap is left.
echo "kept as it was" >out.json
(
    trap "" XFSZ
    ulimit -f 1
    stillset plan tutorial.xml --target MV-1 --grade single --format json -o out.json
)
status=$?
cat out.json
ls out.json*
exit $status
