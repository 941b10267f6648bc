stillset --help
