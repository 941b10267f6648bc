# Wrong use, and what is no drawing: nothing is written.
stillset import; echo "exit $?" >&2
stillset import csv list.csv -o plant.xml; echo "exit $?" >&2
stillset import dexpi -o plant.xml; echo "exit $?" >&2
stillset import dexpi drawing.xml; echo "exit $?" >&2
stillset import dexpi tutorial.xml -o plant.xml; echo "exit $?" >&2
printf '<!DOCTYPE PlantModel><PlantModel/>' | stillset import dexpi - -o plant.xml; echo "exit $?" >&2
head -c 900 drawing.xml | stillset import dexpi - -o plant.xml; echo "exit $?" >&2
stillset import dexpi nowhere.xml -o plant.xml; echo "exit $?" >&2
stillset check tutorial.xml --accept-losses; echo "exit $?" >&2
ls plant.xml* 2>/dev/null
exit 0
