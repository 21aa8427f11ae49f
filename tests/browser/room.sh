# The folders of the build in which the tests in a browser work; sourced by their script.
#
# prepare_room SOURCE FOLDER NAME: goes to FOLDER/NAME, with the tests' modules; what package-lock.json pins of npm
# is installed in FOLDER, once for all of them, and not in the source. Leaves with 77 (skipped) where there is no
# node or npm.

prepare_room() {
    local source=$1/tests/browser folder=$2 tool
    for tool in node npm; do
        command -v $tool >/dev/null || { echo "no $tool here: skipped"; exit 77; }
    done
    mkdir -p "$folder/$3"
    cd "$folder"
    # Several tests share it, and may start together.
    exec 8>lock
    flock 8
    if ! cmp -s "$source/package-lock.json" package-lock.json || [ ! -e node_modules/axe-core ]; then
        cp "$source"/package.json "$source/package-lock.json" .
        npm ci --no-audit --no-fund --ignore-scripts || { rm package-lock.json; exit 1; }
    fi
    exec 8>&-
    cd "$3"
    cp "$source"/*.mjs "$source"/package.json .
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
