run fit --help
