stillset plan tutorial.xml --target MV-1 --grade single --accept L6:S-4,I3:MV-1
