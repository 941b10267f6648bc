#!/usr/bin/env bash
# Install the Debian packages that are missing. Quiet; does nothing when all are there.
# usage: tools/packages.sh build|test
set -euo pipefail
build="gcc cmake ninja-build pkg-config libc6-dev libxml2-dev libigraph-dev libgraphviz-dev libcairo2-dev
libpango1.0-dev libjansson-dev libcsv-dev nettle-dev"
test="libcmocka-dev libxml2-utils librsvg2-bin chromium python3 python3-pil python3-networkx python3-igraph glpk-utils python3-jsonschema python3-iapws fonts-dejavu-core
clang clang-format jq"
case "${1:-build}" in
build) want="$build" ;;
test) want="$build $test" ;;
*) echo "usage: $0 build|test" >&2; exit 2 ;;
esac
missing=()
for p in $want; do
    dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'install ok installed' || missing+=("$p")
done
[ ${#missing[@]} -eq 0 ] && exit 0
sudo=""
[ "$(id -u)" -eq 0 ] || sudo="sudo"
log=$(mktemp)
echo "installing ${#missing[@]} packages: ${missing[*]}"
if ! { $sudo apt-get update -qq &&
    DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends "${missing[@]}"; } >"$log" 2>&1; then
    cat "$log" >&2
    echo "packages could not be installed" >&2
    exit 1
fi
rm -f "$log"
