# argp lays help out as ARGP_HELP_FMT says. What it would write without end by, or beyond its buffer, is left aside.
hubphase survey --help >plain
layout() { # SETTING
    local status
    ARGP_HELP_FMT=$1 timeout 20 hubphase survey --help 2>&1 | head -c 100000 >laid_out
    status=${PIPESTATUS[0]}
    printf '%-34q status %s, ' "$1" "$status"
    cmp -s plain laid_out && echo "as without it" || echo "laid out likewise"
}
for setting in rmargin=60 rmargin=49,opt-doc-col=24 rmargin=20000,opt-doc-col=60,dup-args-note=0; do layout $setting; done
for setting in rmargin=0 rmargin=1 ' rmargin=0' 'rmargin =0' rmargin=48 rmargin=60,rmargin=2 rmargin=20001 \
    rmargin=99999999999999999999 rmargin=-5 rmargin=80x rmargin=80=3 short-opt-col=100000 opt-doc-col=40 header-col=-7 \
    rmargin=60,usage-indent=31 $'\e[31m'; do
    layout "$setting"
done
# Whatever it is called by, messages begin with its own name.
(exec -a $'other\e[31m' hubphase --unknown) 2>&1
echo "status $?"
