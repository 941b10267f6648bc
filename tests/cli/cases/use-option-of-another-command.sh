for option in --target --grade --work --accept --format -o; do
    stillset check tutorial.xml "$option" x
    echo "exit $?" >&2
done
[ ! -e x ]
