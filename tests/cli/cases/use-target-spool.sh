# A pipe, a joint and a side of an exchanger can be opened, too; what is none of these is said.
for target in S-7 HV-1.out E-1.tubes E-1.none; do
    stillset plan tutorial.xml --target "$target" --grade single -o out.txt
    echo "exit $?"
    [ ! -e out.txt ] || sed -n '/^Target/p;/^Cost/p' out.txt
    rm -f out.txt
done
