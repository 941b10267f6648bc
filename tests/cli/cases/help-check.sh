stillset check --help
