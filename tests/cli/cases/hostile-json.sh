# Ids come back byte for byte; control characters are escaped.
stillset plan hostile.xml --target "<script>x</script>" --grade single --format json 2>/dev/null >out.json
echo "exit $?"
LC_ALL=C grep -caP "[\x00-\x09\x0b-\x1f\x7f]" out.json
grep -A 2 -F "\"target\"" out.json
grep -F "\"id\": \"=HYPERLINK(\\\"http://x\\\")\"" out.json | sort -u
grep -F "\"isolator\": \"=1+1" out.json
