# [L6] A finding names the closed hand valve that would give cover.
stillset plan opener.xml --target F-1 --grade single --format json >plan.json
jq -r '.findings[] | select(.rule == "L6") | .text' plan.json
