#!/usr/bin/env bash
# Make the pictures of docs/ from the demo plants.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
"$top/tools/packages.sh" test
"$top/tools/build.sh" "$top/build" -DCMAKE_BUILD_TYPE=Release -DSTILL_TESTS=ON
cd "$top"
for plant in tutorial cold-store; do
    code=0
    build/stillset plan "plants-demo/$plant.xml" --target MV-1 --grade single --format svg \
        -o "docs/pictures/$plant-MV-1.svg" || code=$?
    [ $code -le 1 ]
    echo "$top/docs/pictures/$plant-MV-1.svg"
done
# Pages of the pack: decision, tag list, tag cards.
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
code=0
build/stillset plan plants-demo/cold-store.xml --target MV-1 --grade single --format pdf -o "$work/pack.pdf" || code=$?
[ $code -le 1 ]
pages=$(pdfinfo "$work/pack.pdf" | sed -n 's/^Pages: *//p')
for part in "decision:A. Decision" "tags:Tag list, in the order" "cards:E. Tag cards"; do
    for ((page = 1; page <= pages; page++)); do
        words=$(pdftotext -f $page -l $page "$work/pack.pdf" -)
        grep -q "^${part#*:}" <<<"$words" || continue
        pdftoppm -r 75 -gray -png -singlefile -f $page -l $page "$work/pack.pdf" "docs/pictures/cold-store-MV-1-${part%%:*}"
        break
    done
    echo "$top/docs/pictures/cold-store-MV-1-${part%%:*}.png"
done
build/tests/symbol_sheet svg >docs/pictures/symbols.svg
build/tests/symbol_sheet md >docs/SYMBOLS.md
