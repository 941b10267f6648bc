# Nothing steers a terminal: no control character but the line feed, none that turns text.
stillset plan hostile.xml --target "<script>x</script>" --grade single >out.txt 2>err.txt
echo "exit $?"
LC_ALL=C grep -caP "[\x00-\x09\x0b-\x1f\x7f]" out.txt err.txt
LC_ALL=C grep -caP "\xc2[\x80-\x9f]|\xe2\x80[\x8b-\x8f\xaa-\xae]|\xe2\x81[\xa0-\xaf]" out.txt
grep -E "^  (TAG|      place)" out.txt
grep -E "^      (place|switch) " out.txt
