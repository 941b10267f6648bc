stillset plan tutorial.xml --target HV-1 --grade single
