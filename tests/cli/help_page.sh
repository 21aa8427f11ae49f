run page --help
