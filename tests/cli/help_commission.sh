run commission --help
