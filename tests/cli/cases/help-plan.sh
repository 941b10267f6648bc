stillset plan --help
