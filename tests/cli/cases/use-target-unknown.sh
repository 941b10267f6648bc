# An id that is not there, one of a service, one of a feed, none at all.
for id in HV-99 LIQ MCC-1/4 mv-1 ""; do
    stillset plan tutorial.xml --target "$id" --grade single -o out.txt
    echo "exit $?" >&2
done
[ ! -e out.txt ]
