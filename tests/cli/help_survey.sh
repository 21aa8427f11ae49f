run survey --help
