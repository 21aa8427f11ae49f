run sheet --help
