# [L4] [L8] The chart in every form: what it says, and the same bytes twice.
for form in svg png pdf; do
    stillset relief curve.xml --curve P-1 --format "$form" -o "a.$form"
    stillset relief curve.xml --curve P-1 --format "$form" -o "b.$form"
    cmp "a.$form" "b.$form"
done
head -c 8 a.png | od -An -c
head -c 5 a.pdf
echo
grep -o '>[^<>]*</text>' a.svg | sed 's/^>//; s/<.*//' | grep -E 'L8|bar|absolute|gauge|ambient|design|rigid|gives|Ends|State|Rests'
