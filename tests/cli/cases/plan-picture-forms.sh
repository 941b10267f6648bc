# The picture of a plan as PNG and PDF: exit status as for every form.
for format in png pdf; do
    stillset plan tutorial.xml --target MV-1 --grade single --format "$format" >a
    echo "exit $?"
    stillset plan tutorial.xml --target MV-1 --grade single --format "$format" -o b
    cmp a b && head -c 4 a | tr -d "\211"
    echo
done
