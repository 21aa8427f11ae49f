# Colour only on a terminal, never with NO_COLOR or on a dumb one; the words stay the same.
need_terminal
write_scenario
on_terminal() { # ENVIRONMENT...
    script -qec "env $* hubphase survey small.yaml --starts 1 --quiet" /dev/null | tr -d '\r'
}
colours() { grep -c $'\033' "$1"; }
on_terminal TERM=xterm >coloured
on_terminal TERM=xterm NO_COLOR=1 >no_color
on_terminal TERM=xterm NO_COLOR= >empty_no_color
on_terminal TERM=dumb >dumb
TERM=xterm hubphase survey small.yaml --starts 1 >piped
for file in coloured no_color empty_no_color dumb piped; do
    echo "$file: $(colours $file) lines with escapes"
done
sed 's/\x1b\[[0-9;]*m//g' coloured | cmp - piped && cmp no_color piped && cmp dumb piped && echo "same words"
