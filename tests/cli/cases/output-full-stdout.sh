# A full disk behind standard output.
[ -c /dev/full ] || exec sh -c "echo stillset: standard output could not be written >&2; exit 4"
stillset plan tutorial.xml --target MV-1 --grade single >/dev/full 2>/dev/null
echo "exit $?"
stillset plan ready.xml --target ST-1 --grade single --format json >/dev/full 2>/dev/null
echo "exit $?"
stillset check ready.xml >/dev/full 2>/dev/null
echo "exit $?"
stillset --version >/dev/full 2>/dev/null
echo "exit $?"
stillset --help >/dev/full
