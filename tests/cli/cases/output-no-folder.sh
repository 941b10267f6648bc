stillset plan tutorial.xml --target MV-1 --grade single -o no/such/out.txt
