#!/usr/bin/env bash
# What the program says of itself, the man page and docs/FORMAT.md agree.
#
#   consistency.sh BIN
#
# Compared: commands, options, formats and exit statuses; what is refused; codes of messages and
# their severity and meaning against src/base/codes.h; elements, attributes, words and units against
# the tables in src/; keys of the record and columns of the tag list against what is written; rule
# ids of findings against the glossary. The examples of the man page are run.
# shellcheck disable=SC2016  # backquotes are those of the documents
set -u
shopt -s lastpipe # the end of a pipe counts its failures here
export LC_ALL=C
here=$(cd "$(dirname "$0")" && pwd) || exit 2
root=$(cd "$here/../.." && pwd) || exit 2
[ $# -eq 1 ] || { echo "usage: consistency.sh BIN" >&2; exit 2; }
bin=$(readlink -f -- "$1") || exit 2
format=$root/docs/FORMAT.md man=$root/docs/stillset.1 src=$root/src
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
failed=0 checks=0

fail()
{
    echo "FAIL $1"
    failed=$((failed + 1))
}

# same TITLE FILE FILE: two lists, the second being what has to be there
same()
{
    checks=$((checks + 1))
    [ -s "$3" ] || fail "$1: nothing to compare with"
    diff <(sort -u "$2") <(sort -u "$3") >"$work/diff" || { fail "$1 (< documented, > real):"; cat "$work/diff"; }
}

# has TITLE FILE: each word of standard input stands in FILE as `word`
has()
{
    local word n=0
    while read -r word; do
        n=$((n + 1))
        checks=$((checks + 1))
        grep -qF -- "\`$word\`" "$2" || fail "$1: \`$word\` is not in $(basename "$2")"
    done
    [ "$n" -gt 0 ] || fail "$1: nothing to compare with"
}

section() # section N: that section of FORMAT.md
{
    awk -v n="$1" '/^## /{on = ($2 == n ".")} on' "$format"
}

# The man page as plain text of its options: ".It Fl -target Ar id" is "--target".
sed -n '/^\.Sh DESCRIPTION/,/^\.Sh EXIT/p' "$man" | sed -n 's/^\.It Fl \([^ ]*\).*/-\1/p' >"$work/man-options"
"$bin" --help >"$work/help" || fail "--help"
sed -n '/^options:/,/^$/s/^  \(-[^ ]*\).*/\1/p' "$work/help" >"$work/options"
section 5 | sed -n 's/^| `\(-[^ `]*\)[^`]*` |[^|]*|..* |$/\1/p' >"$work/format-options"
same "options in the man page" "$work/man-options" "$work/options"
same "options in FORMAT.md" "$work/format-options" "$work/options"
grep -o '"--[a-z]*", "[^"]*", NULL' "$src/cli/options.c" | sed 's/"\(--[a-z]*\)".*/\1/' >"$work/later"
[ -s "$work/later" ] && has "options refused" "$format" <"$work/later"
while read -r option; do
    grep -qF -- "$option" "$work/help" && fail "$option is refused, and stands in --help"
    grep -qF -- "Fl ${option#-}" "$man" || fail "$option is refused, and the man page does not say so"
    "$bin" plan x "$option" y >"$work/out" 2>&1
    [ $? -eq 2 ] || fail "$option is not refused with 2"
done <"$work/later"

# Help of a command lists the options that FORMAT.md gives to it.
for command in plan check draw import relief; do
    "$bin" "$command" --help | sed -n '/^options:/,/^$/s/^  \(-[^ ]*\).*/\1/p' >"$work/of-command"
    section 5 | sed -n 's/^| `\(-[^ `]*\)[^`]*` |\([^|]*\)|..* |$/\1 \2/p' |
        awk -v c="$command" 'NF == 1 || index($0, " " c)  {print $1}' >"$work/of-format"
    same "options of $command" "$work/of-format" "$work/of-command"
done

# Commands: those that run, and those that are refused by name.
sed -n '/^commands:/,/^$/s/^  \([a-z]*\) .*/\1/p' "$work/help" >"$work/commands"
section 5 | sed -n 's/^    stillset \([a-z]*\) .*/\1/p' >"$work/format-commands"
sed -n '/^The commands are/,/^\.El/s/^\.It Cm \([a-z]*\)$/\1/p' "$man" >"$work/man-commands"
same "commands in FORMAT.md" "$work/format-commands" "$work/commands"
same "commands in the man page" "$work/man-commands" "$work/commands"
sed -n 's/^    {"\([a-z]*\)", NULL.*/\1/p' "$src/cli/main.c" | has "commands refused" "$format"
sed -n 's/^    {"\([a-z]*\)", NULL.*/\1/p' "$src/cli/main.c" | while read -r command; do
    grep -q "^\.Cm $command\( ,\)\{0,1\}$" "$man" || echo "$command"
done >"$work/missing"
[ -s "$work/missing" ] && fail "commands refused that the man page does not name: $(cat "$work/missing")"

# Exit statuses: the table of statuses, the man page, FORMAT.md, help.
{
    echo 1
    sed -n 's/^    X(STILL_[A-Z_]*, [0-9]*, \([0-9]*\),.*/\1/p' "$root/include/stillset/status.h"
} >"$work/exits"
sed -n '/^\.Sh EXIT/,/^\.El/s/^\.It \([0-9]*\)$/\1/p' "$man" >"$work/man-exits"
section 5 | sed -n 's/^| \([0-9][0-9]*\) | .*/\1/p' >"$work/format-exits"
sed -n '/^exit:/,/^$/p' "$work/help" | grep -o '[0-9][0-9]*' >"$work/help-exits"
same "exit statuses in the man page" "$work/man-exits" "$work/exits"
same "exit statuses in FORMAT.md" "$work/format-exits" "$work/exits"
same "exit statuses in --help" "$work/help-exits" "$work/exits"

# Codes of messages.
sed ':a; /\\$/{N; s/ *\\\n */ /; ba}' "$src/base/codes.h" | grep -o 'X(STILL_CODE_[A-Z_]*, [^)]*)' |
    sed 's/X([A-Z_]*, "\([^"]*\)", *STILL_SEV_\([A-Z]*\), *"\([^"]*\)")/| `\1` | \L\2\E | \3 |/' >"$work/codes"
section 6 | grep '^| `STILL-[0-9]' >"$work/format-codes"
same "codes in FORMAT.md" "$work/format-codes" "$work/codes"
grep -rhoE '"STILL-[A-Z0-9]+"' "$src" | tr -d '"' | has "codes in the source" "$format"

# The plant file: elements, attributes, words, units.
section 1 >"$work/section1"
grep -oE 'STILL_ATTR_[A-Z]+\(X, [A-Z_]+, "[^"]+"|^ *X\([A-Z_]+, "[^"]+"' "$src/input/plantvocab.h" |
    sed 's/.*"\(.*\)"/\1/' | sort -u >"$work/attributes"
[ "$(wc -l <"$work/attributes")" -gt 40 ] || fail "attributes: the table was not understood"
grep -v '^id$' "$work/attributes" | while read -r word; do
    grep -qE -- "\`$word(=|\`)" "$work/section1" || echo "$word"
done >"$work/missing"
[ -s "$work/missing" ] && fail "attributes that FORMAT.md does not have: $(tr '\n' ' ' <"$work/missing")"
sed -n 's/.*\[STILL_ELEM_[A-Z]*\] = {"\([a-z]*\)".*/\1/p' "$src/input/plantvocab.c" | while read -r word; do
    grep -qE "^#+ .*\<$word\>|\*\*$word\*\*|\`$word\`" "$work/section1" || echo "$word"
done >"$work/missing"
[ -s "$work/missing" ] && fail "elements that FORMAT.md does not have: $(tr '\n' ' ' <"$work/missing")"
sed -n '/STILL_KIND_WORDS/,/STILL_VOCABULARIES/p' "$src/model/words.h" | grep -oE 'X\(E, [A-Z_]+, "[^"]+"' |
    sed 's/.*"\(.*\)"/\1/' | sort -u | has "words" "$work/section1"
sed -n 's/^    {"\([^"]*\)", STILL_DIM_.*/\1/p' "$src/base/quantity.c" | has "units" "$work/section1"

# The record and the tag list, as they are written.
command -v jq >/dev/null || { echo "consistency.sh: jq is needed" >&2; exit 2; }
section 3 >"$work/section3"
cd "$root" || exit 2
for target in MV-1 HV-1 V-1; do
    "$bin" plan plants-demo/tutorial.xml --target "$target" --grade single --format json
done >"$work/records" 2>"$work/err"
# Keys of start and end are ids.
jq -r 'del(.start, .end) | [.. | objects | keys_unsorted[]] | unique[]' "$work/records" | sort -u >"$work/keys"
printf 'start\nend\n' >>"$work/keys"
has "keys of the record" "$work/section3" <"$work/keys"
jq -r 'keys_unsorted[]' "$work/records" | sort -u >"$work/top"
sed -n '/^| `format`/,/^$/s/^| \(`[^|]*\) |.*/\1/p' "$work/section3" | grep -o '`[^`]*`' | tr -d '`' >"$work/format-top"
same "top keys of the record" "$work/format-top" "$work/top"
jq -r '[.steps[].phase, .restore[].phase] | .[]' "$work/records" | sort -u | has "phases" "$work/section3"
grep -rhoE 'phase = "[a-z-]+"' "$src/procedure" | sed 's/.*"\(.*\)"/\1/' | sort -u | has "phases" "$work/section3"
grep -rhoE 'legend = .*' "$src/procedure" | grep -oE '"Do [^"]+"' | tr -d '"' | has "words on tags" "$work/section3"
if [ -e docs/plan.schema.json ]; then
    jq -r '[.. | objects | select(.properties? | type == "object") | .properties | keys_unsorted[]] | unique[]' \
        docs/plan.schema.json | sort -u >"$work/schema-keys"
    sort -u -o "$work/keys" "$work/keys"
    comm -23 "$work/keys" "$work/schema-keys" >"$work/missing"
    [ -s "$work/missing" ] && fail "keys that plan.schema.json does not have: $(tr '\n' ' ' <"$work/missing")"
fi
"$bin" plan plants-demo/tutorial.xml --target MV-1 --grade single --format csv 2>"$work/err" | head -n 1 |
    tr -d '"\r' | tr ',' '\n' >"$work/columns"
section 4 | sed -n 's/^| \(`[^|]*\) |.*/\1/p' | grep -o '`[^`]*`' | tr -d '`' >"$work/format-columns"
same "columns of the tag list" "$work/format-columns" "$work/columns"

# Rule ids that can stand in a finding, an assumption or a caution.
grep -rhoE '"[NDIELP][0-9]{1,2}"' "$src/api" | tr -d '"' | sort -u >"$work/rules"
section 7 | sed -n 's/^| \([NDIELP][0-9]*\)\*\{0,1\} | .*/\1/p' | sort >"$work/glossary"
[ "$(uniq -d "$work/glossary")" = "" ] || fail "rule ids twice in the glossary: $(uniq -d "$work/glossary")"
comm -23 "$work/rules" "$work/glossary" >"$work/missing"
[ -s "$work/rules" ] || fail "rule ids: nothing to compare with"
[ -s "$work/missing" ] && fail "rule ids without a line in the glossary: $(tr '\n' ' ' <"$work/missing")"
checks=$((checks + $(wc -l <"$work/rules")))

# Words of --work, --grade and --format.
grep -oE 'return "[a-z-]+"' "$src/api/api.c" | sed 's/.*"\(.*\)"/\1/' | has "grades and kinds of work" "$format"
for word in text json csv svg png pdf; do
    "$bin" plan plants-demo/tutorial.xml --target MV-1 --grade single --format "$word" >"$work/out" 2>"$work/err"
    if [ $? -ne 1 ] || [ ! -s "$work/out" ]; then fail "--format $word"; fi
    grep -q "^\.Cm $word\( ,\| \.\)\{0,1\}$" "$man" || fail "--format $word is not in the man page"
done

# The man page is sound, and its examples run.
if command -v mandoc >/dev/null; then
    mandoc -T lint -W warning "$man" >"$work/lint" 2>&1 || { fail "mandoc:"; cat "$work/lint"; }
fi
mkdir "$work/example" && cp -r plants-demo "$work/example/" && cd "$work/example" || exit 2
mkdir "$work/bin" && ln -s "$bin" "$work/bin/stillset"
PATH=$work/bin:$PATH
sed -n 's/^\.Dl //p' "$man" >"$work/examples"
n=0
while read -r line; do
    n=$((n + 1))
    # Only plain words: nothing in the man page is taken for more than that.
    read -ra words <<<"$line"
    "${words[@]}" >"$work/out" 2>"$work/err"
    status=$?
    want=1
    case $line in *" check "* | *" draw "* | *--accept*) want=0 ;; esac
    [ "$status" -eq "$want" ] || fail "example of the man page: exit status $status, not $want: $line"
done <"$work/examples"
[ "$n" -ge 4 ] || fail "examples of the man page: only $n"
for file in plan.json tags.csv near.svg plant.pdf; do [ -s "$file" ] || fail "example of the man page: no $file"; done

echo "$((checks + n)) checks, $failed failed"
[ "$failed" -eq 0 ]
