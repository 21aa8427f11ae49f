# Files with odd names: a quoted command is read by a shell as it was meant, and nothing in a name
# reaches the terminal that it would obey.
controls() { LC_ALL=C grep -aP '[\x00-\x09\x0b-\x1f\x7f]|\xc2[\x80-\x9f]|\xd8\x9c|\xe2\x80[\x8e\x8f\xa8-\xae]|\xe2\x81[\xa6-\xa9]'; }
mkdir bin
printf '#!/bin/sh\nfor word in "$@"; do printf "<%%s>" "$word"; done; echo\n' >bin/hubphase
chmod +x bin/hubphase
export XDG_CACHE_HOME=$PWD/cache
for name in 'a b;rm -rf x.yaml' "it's \"\$(x)\".yaml" -x.yaml $'one\ntwo.yaml' $'esc\e[31m\u202e\u200f.yaml'; do
    cp scenarios/minimal.yaml "./$name"
    file=$name
    [ "${name#-}" = "$name" ] || file=./$name
    hubphase next "$file" --quiet --log "$name.log" >next
    # The command that logs the step, and the one that asks, up to the blank line behind them.
    sed -n '/^To log it /,/^$/p' next >commands
    sed 's/^ *//' commands
    sed 's/^To log it *//; s/^or be asked *//; s/YES-OR-NO/yes/g' commands | PATH=$PWD/bin:$PATH sh
    controls <next
    hubphase log "$file" pins --continuity=yes 2>&1 | sed 1q
    rm -f -- "./$name" "./${name%.yaml}.bench.yaml"
done
# Every command, with names that hold what a terminal obeys.
name=$'a\e[31mb\u202ec\u061c.yaml' odd=$'l\e[1m\u200f\n.bench.yaml'
cp scenarios/minimal.yaml "$name"
try() {
    hubphase "$@" >shown 2>&1
    printf "%q: status %d\n" "$1" $?
    controls <shown || true
}
try survey "$name" --starts 1 --plots "$name.d"
try survey "$name" --starts 1 -o "$name.d"
try spin "$name" --wiring 1
try explain "$name" --wiring 1 --starts 1
try spread "$name" --motors 2 --starts 1
try log "$name"
try log "$name" pins --continuity=yes
try log "$name" --log "$odd" pins --continuity=yes
try log "$name" "$odd"
try next "$name" --log "$odd"
try sheet "$name" --log "$odd" -o sheet.html
try sheet "$name" -o "$name"
try sheet "$name" "$odd" "$odd"
try survey "missing$name"
try survey "$name" "$odd"
try survey "$name" --starts "$odd"
try survey "$name" "--$odd"
try "$odd"
printf 'stop\n' | try bench "$name" --log "$odd"
