# Bytes that are no text are misuse in every form, not an internal error.
for format in text json; do
    stillset plan ready.xml --target ST-1 --grade single --accept "$(printf "L6:\377")" --format $format 2>err.txt
    echo "exit $?"
done
