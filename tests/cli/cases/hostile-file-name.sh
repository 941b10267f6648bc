# The name of a file may come from others: it does not steer the terminal.
name=$(printf "x\033[31m.xml")
cp ready.xml "$name"
stillset check "$name" | cat -v
stillset plan "$name" --target ST-1 --grade single -o "no/$(printf "\033[31m")" 2>&1 | cat -v
stillset "$(printf "\033[31mx")" 2>&1 | cat -v
stillset check "$(printf -- "-\033[31mx")" 2>&1 | cat -v
