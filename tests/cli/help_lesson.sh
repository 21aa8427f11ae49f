run lesson --help
