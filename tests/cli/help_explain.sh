run explain --help
