stillset plan tutorial.xml --target MV-1,HV-1 --grade single
echo "exit $?" >&2
stillset plan tutorial.xml --target MV-1 --target HV-1 --grade single
