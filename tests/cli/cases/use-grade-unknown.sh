for grade in Single singl "single " "" none; do
    stillset plan tutorial.xml --target MV-1 --grade "$grade" -o out.txt
    echo "exit $?" >&2
done
[ ! -e out.txt ]
