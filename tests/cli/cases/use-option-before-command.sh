stillset --target MV-1 plan tutorial.xml --grade single
