# The folder of the build in which the tests in a browser work; sourced by their scripts.
#
# prepare_room SOURCE ROOM: goes there, with the tests' modules and what package-lock.json pins of npm, which
# is installed there and not in the source. Leaves with 77 (skipped) where there is no node or npm.

prepare_room() {
    local source=$1/tests/browser room=$2 tool
    for tool in node npm; do
        command -v $tool >/dev/null || { echo "no $tool here: skipped"; exit 77; }
    done
    mkdir -p "$room"
    cd "$room"
    # Several tests share it, and may start together.
    exec 8>lock
    flock 8
    cp "$source"/*.mjs "$source"/package.json .
    if ! cmp -s "$source/package-lock.json" package-lock.json || [ ! -e node_modules/axe-core ]; then
        cp "$source/package-lock.json" .
        npm ci --no-audit --no-fund --ignore-scripts || { rm package-lock.json; exit 1; }
    fi
    exec 8>&-
}

# The browser itself, empty where it is not there.
CHROMIUM=${CHROMIUM:-$(command -v chromium || command -v chromium-browser || true)}
FIREFOX=${FIREFOX:-$(command -v firefox-esr || command -v firefox || true)}
# WebKitGTK: its driver, a screen that nobody sees, and the small browser that comes with the library.
WEBKIT=${WEBKIT:-}
if [ -z "$WEBKIT" ] && command -v WebKitWebDriver >/dev/null && command -v Xvfb >/dev/null; then
    WEBKIT=$(ls /usr/lib/*/webkit2gtk-4.*/MiniBrowser 2>/dev/null | tail -n 1 || true)
fi
export CHROMIUM FIREFOX WEBKIT
