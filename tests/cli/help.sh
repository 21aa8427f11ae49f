run --help
run --version
