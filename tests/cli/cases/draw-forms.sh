# The whole plant, and part of it, in every form; the same bytes twice. What it is called does not count.
for format in svg png pdf; do
    stillset draw tutorial.xml --format "$format" -o a
    echo "exit $?"
    stillset draw - --format "$format" <tutorial.xml >b
    cmp a b && head -c 4 a | tr -d "\211" | tr -d "\n"
    echo
done
stillset draw tutorial.xml | cmp - <(stillset draw tutorial.xml --format svg)
stillset draw tutorial.xml --around MV-1 --depth 1 >near.svg
grep -c "<text.*>HV-1<" near.svg
grep -o ">to [A-Z0-9-]*<" near.svg | sort
grep -c "No isolation is planned here" near.svg
