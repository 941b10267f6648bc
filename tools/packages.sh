#!/usr/bin/env bash
# Install the Debian packages that are missing, and for tests those of npm (tests/outside/pack). Quiet; does
# nothing when all are there.
# usage: tools/packages.sh build|test
set -euo pipefail
pack="$(cd "$(dirname "$0")/.." && pwd)/tests/outside/pack"
build="gcc cmake ninja-build pkg-config libc6-dev libxml2-dev libigraph-dev libgraphviz-dev libcairo2-dev
libpango1.0-dev libjansson-dev libcsv-dev nettle-dev libqrencode-dev gettext fonts-dejavu-core"
test="libcmocka-dev libxml2-utils librsvg2-bin chromium python3 python3-pil python3-networkx python3-igraph glpk-utils python3-jsonschema python3-iapws
clang clang-format jq qpdf poppler-utils zbar-tools"
case "${1:-build}" in
build) want="$build" ;;
test) want="$build $test" ;;
*) echo "usage: $0 build|test" >&2; exit 2 ;;
esac
# Node.js may come from elsewhere.
if [ "${1:-build}" = test ]; then
    command -v node >/dev/null || want="$want nodejs"
    command -v npm >/dev/null || want="$want npm"
fi
missing=()
for p in $want; do
    dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'install ok installed' || missing+=("$p")
done
log=$(mktemp)
trap 'rm -f "$log"' EXIT
if [ ${#missing[@]} -gt 0 ]; then
    sudo=""
    [ "$(id -u)" -eq 0 ] || sudo="sudo"
    echo "installing ${#missing[@]} packages: ${missing[*]}"
    if ! { $sudo apt-get update -qq &&
        DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends "${missing[@]}"; } >"$log" 2>&1; then
        cat "$log" >&2
        echo "packages could not be installed" >&2
        exit 1
    fi
fi
[ "${1:-build}" = test ] || exit 0
# Exact versions, none of which runs a script of its own or brings a browser.
mark="$pack/node_modules/.installed"
if ! cmp -s "$pack/package-lock.json" "$mark"; then
    echo "installing packages of npm for tests/outside/pack"
    if ! npm ci --prefix "$pack" --ignore-scripts --no-audit --no-fund --loglevel=error >"$log" 2>&1; then
        cat "$log" >&2
        echo "packages of npm could not be installed" >&2
        exit 1
    fi
    cp "$pack/package-lock.json" "$mark"
fi
