hubphase next --help
