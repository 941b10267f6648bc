stillset draw --help
