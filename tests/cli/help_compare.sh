run compare --help
