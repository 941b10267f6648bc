# Positive isolation: valves outside, spades as a stage of their own. A device to be avoided is no point.
stillset plan tutorial.xml --target MV-1 --grade positive --format csv | cut -d, -f1-3
stillset plan tutorial.xml --target MV-1 --grade single --avoid HV-2 --format csv | cut -d, -f1-3
stillset plan tutorial.xml --target MV-1 --grade single --avoid NO-1
