# The same input gives the same bytes, from any folder, at any time, under any name of the file (text aside).
mkdir -p else/where
cp tutorial.xml else/where/copy.xml
for format in text json csv svg; do
    stillset plan tutorial.xml --target MV-1 --grade single --format "$format" -o "a.$format"
    (cd else && TZ=Asia/Tokyo HOME=/nonexistent stillset plan ../tutorial.xml --target MV-1 --grade single \
        --format "$format" >../b.$format)
    case $format in
    text) sed -i "s/\.\.\/tutorial/tutorial/" b.text ;;
    esac
    cmp "a.$format" "b.$format" && echo "$format: same"
done
stillset plan else/where/copy.xml --target MV-1 --grade single --format json | cmp - a.json && echo "name: same"
