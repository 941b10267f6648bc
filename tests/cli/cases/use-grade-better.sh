# Grades that this version cannot plan are refused: never a worse one instead.
for grade in policy double single-bleed double-bleed positive; do
    stillset plan tutorial.xml --target MV-1 --grade "$grade" -o out.txt
    echo "exit $?" >&2
done
[ ! -e out.txt ]
