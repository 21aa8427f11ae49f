run log --help
run log --usage
