#!/usr/bin/env bash
# Public headers: each includes nothing but public and standard ones, keeps its declarations between
# HP_API_BEGIN and HP_API_END, and compiles alone as C17 and as C++17; hubphase.h includes them all. They
# are few: what users do not need stands beside its source.
#
#   headers.sh SOURCE COMPILER [C++-COMPILER]
set -u
source=$1 cc=$2 cxx=${3:-}
cd "$source/include" || exit 2
bad=0
warnings="-Wall -Wextra -pedantic -Werror -fsyntax-only -I."
for header in hubphase.h $(find hubphase -name '*.h' | sort); do
    if grep -nE '^[[:space:]]*#[[:space:]]*include[[:space:]]*"' "$header" | grep -v '"hubphase/'; then
        echo "^ $header may include public headers only"
        bad=1
    fi
    if [ "$header" != hubphase.h ]; then
        grep -qF "#include \"$header\"" hubphase.h || { echo "hubphase.h leaves out $header"; bad=1; }
        # In C++ a name outside would be looked for under another.
        begins=$(grep -cx 'HP_API_BEGIN' "$header") ends=$(grep -cx 'HP_API_END' "$header")
        if [ "$begins $ends" != "1 1" ]; then
            echo "$header needs one HP_API_BEGIN after its includes and one HP_API_END"
            bad=1
        fi
    fi
    # Twice, for the guard.
    printf '#include "%s"\n#include "%s"\nint nothing;\n' "$header" "$header" >"${TMPDIR:-/tmp}/hp_$$.c"
    "$cc" -std=c17 -Wmissing-prototypes $warnings "${TMPDIR:-/tmp}/hp_$$.c" || { echo "^ $header as C17"; bad=1; }
    if [ -n "$cxx" ]; then
        "$cxx" -std=c++17 $warnings -x c++ "${TMPDIR:-/tmp}/hp_$$.c" || { echo "^ $header as C++17"; bad=1; }
    fi
done
rm -f "${TMPDIR:-/tmp}/hp_$$.c"
count=$(find hubphase -name '*.h' | wc -l)
[ "$count" -le 36 ] || { echo "$count public headers: join those of one concept"; bad=1; }
[ -n "$cxx" ] || echo "no C++ compiler: C alone was tried"
exit $bad
