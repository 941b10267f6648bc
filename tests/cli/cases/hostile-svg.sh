# Texts stay texts: no element, no attribute of theirs.
stillset plan hostile.xml --target "<script>x</script>" --grade single --format svg -o out.svg 2>/dev/null
echo "exit $?"
grep -ciE "<script|<svg[^>]*onload|<[^>]* onload|<b>|href|<!--" out.svg
grep -c "&lt;script&gt;x&lt;/script&gt;" out.svg >/dev/null && echo "escaped"
grep -c "</svg>" out.svg
if command -v xmllint >/dev/null; then xmllint --nonet --noout out.svg && echo "well-formed"; else echo "well-formed"; fi
