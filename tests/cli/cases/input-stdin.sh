# Standard input gives the plan that the file gives; only its name differs.
stillset plan ready.xml --target ST-1 --grade single --format json >file.json || exit 1
stillset plan - --target ST-1 --grade single --format json <ready.xml >stdin.json || exit 1
cat ready.xml | stillset plan --target ST-1 - --grade single --format json >pipe.json || exit 1
cmp file.json stdin.json && cmp file.json pipe.json
stillset check - <bad.xml 2>&1 | head -n 1
