# [L6] What removes a gap: an order, and a place to drain; in the record and in the text.
stillset plan remedies.xml --target F-1 --grade single --format json >plan.json
jq -r '.closed_in[] | select(.state == "uncovered") | .remedies[] | .kind, (.ids | join(" ")), .text' plan.json
stillset plan remedies.xml --target F-1 --grade single >plan.txt
grep -A 9 '^      remedy' plan.txt
