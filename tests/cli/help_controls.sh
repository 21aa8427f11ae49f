run controls --help
