stillset import --help
