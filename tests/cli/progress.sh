# A bar on the standard error when it is a terminal and the work is long; none when it is quiet or a
# file; and it is gone at the end.
write_scenario
bars() { # OPTIONS
    script -qec "TERM=xterm hubphase survey small.yaml $* -o report.txt" /dev/null | tr '\r' '\n' |
        grep -c '^\[[#.]*\] [0-9]* of [0-9]* runs'
}
[ "$(bars --starts 40)" -gt 1 ] && echo "long work shows a bar"
echo "quiet: $(bars --starts 40 --quiet)"
script -qec "TERM=xterm hubphase survey small.yaml --starts 40 -o report.txt" /dev/null | tr '\r' '\n' |
    tail -1 | tr -d ' ' | wc -c
TERM=xterm hubphase survey small.yaml --starts 20 -o report.txt 2>errors
wc -c <errors
