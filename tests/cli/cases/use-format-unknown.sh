for format in PDF JSON xml ""; do
    stillset plan tutorial.xml --target MV-1 --grade single --format "$format" -o out
    echo "exit $?" >&2
done
[ ! -e out ]
