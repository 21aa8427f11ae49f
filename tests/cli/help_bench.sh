run bench --help
