#!/usr/bin/env bash
# Installs the packages in a fresh root of Debian 12, runs the program there, compiles against the library,
# removes all, and looks for what is left. Wants mmdebstrap, root and an archive; takes minutes, no test.
#
#   src/packaging/build.sh OUT; tests/fresh_root.sh OUT [SUITE]
set -euo pipefail
debs=$(cd "$1" && pwd) suite=${2:-bookworm}
here=$(cd "$(dirname "$0")" && pwd)
root=$(mktemp -d)
trap 'rm -rf "$root"' EXIT
# The archive that this machine uses.
mmdebstrap --variant=apt "$suite" "$root" >"$root.log" 2>&1 || { tail -20 "$root.log"; rm -f "$root.log"; exit 1; }
rm -f "$root.log"
cp "$debs"/*.deb "$here/example.c" "$here/example.stdout" "$here/../scenarios/barrow.yaml" "$root/root/"
in_root() { chroot "$root" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive HOME=/root sh -euc "$1"; }
in_root 'find / -xdev \( -path /proc -o -path /sys -o -path /var -o -path /tmp -o -path /root \) -prune -o -print | sort >/root/before'
in_root 'apt-get update -q && apt-get install -q -y --no-install-recommends /root/*.deb' >"$root/root/log" 2>&1 || { tail -20 "$root/root/log"; exit 1; }
in_root 'cd /root
    hubphase --version
    hubphase survey barrow.yaml --starts 1 --quiet --plots pictures --format png >survey.txt
    head -n 3 survey.txt
    for picture in pictures/*.png; do test -s "$picture"; done
    echo "$(ls pictures | wc -l) pictures"
    hubphase page -o page.html --quiet && cmp page.html /usr/share/hubphase/hubphase.html && echo "the page is the packaged one"
    test -s /usr/share/doc/hubphase/scenarios/barrow.yaml
    ldconfig -p | grep libhubphase'
in_root 'apt-get install -q -y --no-install-recommends gcc libc6-dev pkgconf libsundials-dev libplplot-dev libcairo2-dev libfyaml-dev libjansson-dev' \
    >"$root/root/log" 2>&1 || { tail -20 "$root/root/log"; exit 1; }
in_root 'cd /root && gcc -std=c17 example.c $(pkg-config --cflags --libs hubphase) -o example && ./example | cmp - example.stdout &&
    echo "a program compiled against it says what it should"'
in_root 'apt-get purge -q -y hubphase libhubphase0 libhubphase-dev hubphase-page' >"$root/root/log" 2>&1 || { tail -20 "$root/root/log"; exit 1; }
in_root 'if find / -xdev \( -path /proc -o -path /sys -o -path /root \) -prune -o -name "*hubphase*" -print | grep .; then exit 1; fi
    echo "nothing is left"'
