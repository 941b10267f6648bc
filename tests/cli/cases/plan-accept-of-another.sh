# A name that fits no finding accepts none: not in part, not in another case, not without its rule.
for name in L6:S-40 L6:S- l6:S-4 L60:S-4 L:S-4 D4:S-4 L6:S-4:; do
    stillset plan tutorial.xml --target MV-1 --grade single --accept "$name" >out.txt
    echo "$name: exit $?"
done
