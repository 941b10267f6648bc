#!/usr/bin/env bash
# Install what is missing, build with and without sanitizers, run all tests.
# Quiet; the last line is the test runner's own summary.
# usage: tools/test.sh [ctest arguments]
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
"$top/tools/packages.sh" test
"$top/tools/build.sh" "$top/build-release" -DCMAKE_BUILD_TYPE=Release -DSTILL_WERROR=ON -DSTILL_TESTS=OFF -DSTILL_PLAN_MANY_TOO=ON
"$top/tools/build.sh" "$top/build-test" -C "$top/tools/cache/asan.cmake" \
    -DSTILL_OUTSIDE_BIN="$top/build-release/stillset" -DSTILL_PLAN_MANY="$top/build-release/plan_many"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
code=0
"$top/tools/lint.sh" || code=1
ctest --test-dir "$top/build-test" -j "$(nproc)" --output-on-failure "$@" >"$log" 2>&1 || code=1
[ $code -eq 0 ] || cat "$log"
tail -n 40 "$log" | grep -E 'tests passed|Total Test time' || true
exit $code
