# No cell begins a formula; quotes are doubled; each row has its 16 cells.
stillset plan hostile.xml --target "<script>x</script>" --grade single --format csv 2>/dev/null
