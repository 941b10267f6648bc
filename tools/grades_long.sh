#!/usr/bin/env bash
# The long check of all grades: 100,000 random plants, each planned to every grade, against the exhaustive
# search; and 5,000 large ones against GLPK. Hours.
# usage: tools/grades_long.sh STILLSET_BIN [FIRST_SEED]
set -euo pipefail
[ $# -ge 1 ] || { echo "usage: $0 STILLSET_BIN [FIRST_SEED]" >&2; exit 2; }
top=$(cd "$(dirname "$0")/.." && pwd)
start=${2:-1000000}
export PYTHONDONTWRITEBYTECODE=1
/usr/bin/python3 "$top/tests/outside/test_grades.py" "$1" --plants 100000 --start "$start" --cover
/usr/bin/python3 "$top/tests/outside/test_integer_program.py" "$1" --plants 5000 --start "$start"
