stillset --version
