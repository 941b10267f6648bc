stillset plan ready.xml --target ST-1 --grade single
