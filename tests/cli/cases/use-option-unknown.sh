stillset plan tutorial.xml --taget MV-1 --grade single
