# Closed-in liquid as a picture, whole and close up, in every form; the same bytes twice. The answer
# is the exit status, as with the text; numbers at the flags are those of the text.
for format in svg png pdf; do
    stillset relief tutorial.xml --format "$format" -o a
    echo "exit $?"
    stillset relief - --format "$format" <tutorial.xml >b
    cmp a b && head -c 4 a | tr -d "\211" | tr -d "\n"
    echo
done
stillset relief tutorial.xml --format svg >whole.svg
grep -o '<title id.*title>' whole.svg
grep -o '<desc.*desc>' whole.svg
stillset relief tutorial.xml | sed -n 's/^  \([0-9]*\.\) \([A-Z].*\)/\1 \2/p'
grep -c ">covers<" whole.svg
grep -o "\[L8\][^<]*" whole.svg
for class in cut-person cut-stub covered not-full cut-itself; do
    echo "$class $(grep -c "<path class=\"$class\"" whole.svg)"
done
echo "close up"
for id in S-4 HV-2 V-1 T-2; do
    stillset relief tutorial.xml --around "$id" --format svg -o near.svg
    echo "exit $? $(grep -o '<title id.*title>' near.svg)"
done
stillset relief tutorial.xml --around S-4 --format svg | grep -o ">to [A-Z0-9-]*<\|>shuts it in<" | sort
stillset relief tutorial.xml --around S-4 --depth 1 --format svg | grep -o ">to [A-Z0-9-]*<\|>shuts it in<" | sort
stillset relief tutorial.xml --around S-4 --format svg --accept L5:S-4 | grep -o "No. 3[^<]*" | head -1
