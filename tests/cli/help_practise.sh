run practise --help
