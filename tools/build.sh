#!/usr/bin/env bash
# Configure and build one folder. Quiet unless it fails.
# usage: tools/build.sh FOLDER [cmake arguments]
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
folder=$1
shift
log=$(mktemp)
trap 'rm -f "$log"' EXIT
if ! { cmake -S "$top" -B "$folder" -G Ninja "$@" && cmake --build "$folder"; } >"$log" 2>&1; then
    cat "$log" >&2
    echo "build failed: $folder" >&2
    exit 1
fi
