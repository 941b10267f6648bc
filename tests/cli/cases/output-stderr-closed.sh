# Standard error closed: messages do not end up in a file that is opened meanwhile.
stillset plan hostile.xml --target "<script>x</script>" --grade single --format csv -o out.csv 2>&-
echo "exit $?"
stillset plan hostile.xml --target "<script>x</script>" --grade single --format csv 2>/dev/null | cmp - out.csv
stillset check bad.xml 2>&-
