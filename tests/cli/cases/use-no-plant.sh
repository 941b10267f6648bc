stillset check
echo "exit $?" >&2
stillset plan --target MV-1 --grade single
