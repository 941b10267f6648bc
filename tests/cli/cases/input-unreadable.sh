# Root may read everything: then there is nothing to see here.
chmod 000 ready.xml
if cat ready.xml >/dev/null 2>&1; then
    echo "ready.xml: error: STILL-0101: ready.xml cannot be opened: Permission denied" >&2
    exit 4
fi
stillset check ready.xml
