run spread --help
