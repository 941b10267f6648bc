#!/usr/bin/env bash
# Rules that a compiler does not see. Prints what is wrong; quiet when all is well.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
bad=0
say() { echo "lint: $*" >&2; bad=1; }
sources=$(git ls-files -co --exclude-standard 'src/*.c' 'src/*.h' 'include/*.h' 'tests/*.c' 'tests/*.h' 'tools/*.c')
library=$(git ls-files -co --exclude-standard 'src/*.c' 'src/*.h' 'include/*.h')

# Functions that are banned because they cannot be told how much room there is, or hide errors.
banned='\b(sprintf|strcpy|strcat|strtok|atoi|atof|gets|alloca)\('
grep -nE "$banned" $sources && say "banned function"
# The heap has one door; the command line, which sees public headers only, has its own.
grep -nE '\b(malloc|calloc|realloc|free)\(' $(echo "$library" | grep -vE '^src/(base/alloc\.c|cli/)') && say "use base/alloc.h"
grep -nE '#include "\.\./' $sources && say "include with ../"
# Only one module each may see these libraries.
grep -lE '#include <(igraph|igraph/)' $library | grep -v '^src/graph/' && say "igraph outside graph/"
grep -lE '#include <libxml' $library | grep -v '^src/input/' && say "libxml2 outside input/"
grep -lE '#include <graphviz' $library | grep -v '^src/output/diagram' && say "Graphviz outside output/diagram"
grep -lE '#include <(cairo|pango)' $library | grep -v '^src/output/paint\.c$' && say "cairo or Pango outside output/paint.c"
grep -nE '#include "' src/cli/*.c src/cli/*.h | grep -vE '"(stillset/|options\.h|terminal\.h)' && say "cli may use public headers only"
# File names are unique, so that an include can mean one file only.
echo "$library" | xargs -n1 basename | sort | uniq -d | grep . && say "file name used twice"
# Top level is fixed.
git ls-files | cut -d/ -f1 | sort -u |
    grep -vxE 'README.md|DEVELOPERS.md|CMakeLists.txt|src|include|tests|plants-demo|docs|tools|\..*' && say "top level"
command -v clang-format >/dev/null && ! clang-format --dry-run -Werror $sources 2>/tmp/lint.$$ &&
    { head -5 /tmp/lint.$$ >&2; say "clang-format"; }
rm -f /tmp/lint.$$
# Each public header compiles alone, as C11 and as C++.
for h in include/stillset/*.h; do
    gcc -std=c11 -pedantic -Wall -Werror -fsyntax-only -Iinclude -x c "$h" || say "$h as C"
    if command -v g++ >/dev/null; then g++ -pedantic -Wall -Werror -fsyntax-only -Iinclude -x c++ "$h" || say "$h as C++"; fi
done
exit $bad
