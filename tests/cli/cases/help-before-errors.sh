stillset plan --help --target
