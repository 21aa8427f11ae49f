# Libraries that find fonts end the program when they get no memory: they are not called then. Programs
# that watch their memory themselves do not start in so little of it.
(ulimit -v 120000; hubphase --version >/dev/null 2>&1) || exit 77
(ulimit -v 120000; run sheet scenarios/trolley.yaml -o sheet.pdf)
(ulimit -v 120000; run explain scenarios/barrow.yaml --wiring 3 --starts 1 --plots pictures --format png -o why.txt)
list_files
