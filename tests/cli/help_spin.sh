run spin --help
