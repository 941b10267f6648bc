for work in Entry "" hotwork; do
    stillset plan tutorial.xml --target MV-1 --grade single --work "$work"
    echo "exit $?" >&2
done
exit 0
