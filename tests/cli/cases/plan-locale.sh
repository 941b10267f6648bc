# The locale changes nothing: neither numbers read nor numbers written.
for format in text json csv svg; do
    stillset plan tutorial.xml --target MV-1 --grade single --format "$format" -o "c.$format"
    for locale in C.UTF-8 de_DE.UTF-8 tr_TR.UTF-8 fr_FR.UTF-8 ar_EG.UTF-8; do
        # What is not installed falls back to C: then the test is only weaker.
        LC_ALL=$locale LANG=$locale stillset plan tutorial.xml --target MV-1 --grade single --format "$format" \
            -o "l.$format" 2>/dev/null
        cmp "c.$format" "l.$format" || echo "$locale: $format differs"
    done
done
LC_ALL=de_DE.UTF-8 stillset check tutorial.xml 2>/dev/null
