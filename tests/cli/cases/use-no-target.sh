stillset plan tutorial.xml --grade single
