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
build/tests/symbol_sheet svg >docs/pictures/symbols.svg
build/tests/symbol_sheet md >docs/SYMBOLS.md
