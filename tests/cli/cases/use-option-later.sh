# Options of later versions are refused by name, wherever they stand.
for option in --state --keep; do
    stillset plan tutorial.xml --target MV-1 --grade single "$option" x -o out.txt
    echo "exit $?" >&2
    stillset plan "$option=x" tutorial.xml --target MV-1 --grade single -o out.txt
    echo "exit $?" >&2
done
[ ! -e out.txt ]
