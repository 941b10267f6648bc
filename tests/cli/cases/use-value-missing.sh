for option in --target --grade --work --accept --format -o; do
    stillset plan tutorial.xml "$option"
    echo "exit $?" >&2
done
exit 0
