# A better grade than can be had is no plan: exit status 1, the answer is written.
for grade in policy double single-bleed double-bleed; do
    stillset plan tutorial.xml --target MV-1 --grade "$grade" -o out.txt
    echo "exit $?"
    sed -n '/^Grade/p;/^VERDICT/p' out.txt
done
