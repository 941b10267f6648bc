#!/usr/bin/env bash
# Tests of the command line.
#
#   run.sh BIN [--rewrite] [NAME...]
#
# cases/NAME.sh runs in a fresh folder that holds copies of plants/ and the tutorial plant, with
# `stillset` on the PATH. What it must do stands beside it:
#   NAME.exit          exit status; no file = 0
#   NAME.stdout        standard output, byte for byte
#   NAME.stdout.glob   likewise, line by line as patterns of the shell; "..." = any lines or none
#   NAME.stderr, NAME.stderr.glob
#   NAME.known         a known fault of the program: the case is expected to fail, and failing to
#                      fail is the failure, so that the mark is taken off with the fault
# Neither file = nothing may be written there. --rewrite writes exit status and exact files anew,
# and leaves patterns and known faults alone: look at the difference before keeping it.
set -u
here=$(cd "$(dirname "$0")" && pwd) || exit 2
root=$(cd "$here/../.." && pwd) || exit 2
[ $# -ge 1 ] || { echo "usage: run.sh BIN [--rewrite] [NAME...]" >&2; exit 2; }
bin=$(readlink -f -- "$1") || exit 2
[ -x "$bin" ] || { echo "run.sh: $1 is no program" >&2; exit 2; }
shift
rewrite=no
if [ "${1:-}" = --rewrite ]; then
    rewrite=yes
    shift
fi

work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin"
: >"$work/empty"
ln -s "$bin" "$work/bin/stillset"

# matches PATTERNS TEXT: does the text match the file of patterns?
# Runs of lines between "..." are looked for one after the other; the last one stands at the end.
matches()
{
    local -a pats lines run
    mapfile -t pats <"$1"
    mapfile -t lines <"$2"
    local at=0 i=0 free=no k start
    while [ "$i" -lt "${#pats[@]}" ]; do
        if [ "${pats[i]}" = "..." ]; then
            free=yes
            i=$((i + 1))
            continue
        fi
        run=()
        while [ "$i" -lt "${#pats[@]}" ] && [ "${pats[i]}" != "..." ]; do
            run+=("${pats[i]}")
            i=$((i + 1))
        done
        start=$at
        # At the end of the patterns the run has to end the text.
        if [ "$free" = yes ] && [ "$i" -eq "${#pats[@]}" ]; then
            [ $((${#lines[@]} - ${#run[@]})) -ge "$at" ] || return 1
            start=$((${#lines[@]} - ${#run[@]}))
        fi
        while :; do
            [ $((start + ${#run[@]})) -le "${#lines[@]}" ] || return 1
            for ((k = 0; k < ${#run[@]}; k++)); do
                # shellcheck disable=SC2053  # a pattern is meant
                [[ ${lines[start + k]} == ${run[k]} ]] || break
            done
            [ "$k" -eq "${#run[@]}" ] && break
            [ "$free" = yes ] || return 1
            start=$((start + 1))
        done
        at=$((start + ${#run[@]}))
        free=no
    done
    [ "$free" = yes ] || [ "$at" -eq "${#lines[@]}" ]
}

# compare NAME KIND GOT: one stream against what is wanted
compare()
{
    local base=$here/cases/$1.$2
    if [ -e "$base.glob" ]; then
        matches "$base.glob" "$3" && return 0
        echo "FAIL $1: $2 does not match $1.$2.glob; it is:"
        head -n 60 "$3" | cat -v
        return 1
    fi
    if [ "$rewrite" = yes ]; then
        if [ -s "$3" ]; then cp "$3" "$base"; else rm -f "$base"; fi
        return 0
    fi
    local want=$base
    [ -e "$want" ] || want=$work/empty
    cmp -s "$want" "$3" && return 0
    echo "FAIL $1: $2 differs:"
    diff -u "$want" "$3" | head -n 60 | cat -v
    return 1
}

run_case()
{
    local name=$1 want=0 got good=0
    local dir=$work/run/$name
    mkdir -p "$dir/in" || exit 2
    cp "$here"/plants/* "$root/plants-demo/tutorial.xml" "$root/plants-demo/site.policy" "$root/plants-demo/today.state" "$root/plants-demo/harbour.site" "$dir/in/" || exit 2
    (
        cd "$dir/in" || exit 99
        export PATH="$work/bin:$PATH" LC_ALL=C TMPDIR="$dir"
        unset LANG LANGUAGE COLUMNS
        exec bash "$here/cases/$name.sh"
    ) >"$dir/stdout" 2>"$dir/stderr" <"$work/empty"
    got=$?
    [ -e "$here/cases/$name.exit" ] && want=$(cat "$here/cases/$name.exit")
    if [ "$rewrite" = yes ]; then
        if [ "$got" -eq 0 ]; then rm -f "$here/cases/$name.exit"
        else echo "$got" >"$here/cases/$name.exit"; fi
    elif [ "$got" != "$want" ]; then
        echo "FAIL $name: exit status $got, not $want"
        good=1
    fi
    compare "$name" stdout "$dir/stdout" || good=1
    compare "$name" stderr "$dir/stderr" || good=1
    rm -rf "$dir"
    return "$good"
}

count=0 failed=0 known=0
if [ $# -eq 0 ]; then
    set --
    for file in "$here"/cases/*.sh; do set -- "$@" "$(basename "$file" .sh)"; done
fi
for name in "$@"; do
    if [ ! -e "$here/cases/$name.sh" ]; then
        echo "FAIL $name: there is no such case"
        failed=$((failed + 1))
        continue
    fi
    count=$((count + 1))
    if [ -e "$here/cases/$name.known" ]; then
        [ "$rewrite" = no ] || continue
        if run_case "$name" >"$work/known"; then
            echo "FAIL $name: passes, but is marked as a known fault"
            failed=$((failed + 1))
        else
            known=$((known + 1))
            echo "known fault: $name: $(cat "$here/cases/$name.known")"
        fi
        continue
    fi
    run_case "$name" || failed=$((failed + 1))
done
# A file of expectations without its script would never be looked at.
for file in "$here"/cases/*; do
    name=$(basename "$file")
    name=${name%.glob}
    [ "${name##*.}" != sh ] || continue
    if [ ! -e "$here/cases/${name%.*}.sh" ]; then
        echo "FAIL $name: belongs to no case"
        failed=$((failed + 1))
    fi
done
echo "$count cases, $failed failed, $known known faults"
[ "$failed" -eq 0 ] && [ "$count" -gt 0 ]
