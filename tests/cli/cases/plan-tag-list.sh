stillset plan tutorial.xml --target MV-1 --grade single --format csv
