# A bar on the standard error when it is a terminal and the work is long; none when it is quiet or a
# file; and it is gone at the end.
need_terminal
write_scenario
work="hubphase survey small.yaml --starts 12 --jobs 1 -o report.txt"
script -qec "TERM=xterm $work" /dev/null | tr '\r' '\n' >terminal
[ "$(grep -c '^\[[#.]*\] [0-9]* of 432 runs' terminal)" -gt 1 ] && echo "long work shows a bar"
echo "left at the end: $(tail -1 terminal | tr -d ' \n' | wc -c) characters"
script -qec "TERM=xterm $work --quiet" /dev/null | wc -c
TERM=xterm $work 2>&1 | wc -c
