stillset plan tutorial.xml --target S-4 --grade single
