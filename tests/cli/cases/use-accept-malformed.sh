for name in L6 :S-4 L6: "" L6:S-4, ,L6:S-4; do
    stillset plan tutorial.xml --target MV-1 --grade single --accept "$name" -o out.txt
    echo "exit $?" >&2
done
[ ! -e out.txt ]
