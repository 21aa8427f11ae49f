# Debian and Ubuntu packages that building and testing need; sourced by scenarios/demo.sh and
# tests/run.sh.
#
# need_packages WHY PACKAGE... installs what is missing with apt-get, after saying what and why.

# What builds the program. Each package's reason stands beside it.
build_packages=(
    gcc                   # C17 compiler
    libc6-dev             # C library headers
    cmake                 # build
    ninja-build           # build
    pkgconf               # finds the libraries
    libsundials-dev       # integrates the differential equations
    libplplot-dev         # draws the pictures as PNG and PDF
    plplot-driver-cairo   # ... on Cairo
    libcairo2-dev         # ... with a fixed date in the PDF
    fonts-dejavu-core     # ... with letters in them
    libfyaml-dev          # reads scenario files
    libjansson-dev        # writes JSON
)

# What the tests need besides.
test_packages=(
    libcmocka-dev         # unit tests
    libxml2-utils         # xmllint reads the SVG pictures back
    librsvg2-bin          # rsvg-convert draws them, to hold them against the PNG pictures
    poppler-utils         # pdftotext and pdfinfo read the PDF pictures back
    python3-numpy         # the drive's equations a second time ...
    python3-scipy         # ... with a solver of other people's
    ngspice               # ... and as a circuit
    units                 # conversions of the scenario reader
)

# What the tests in a browser need. Where node and npm come from elsewhere, Debian's are not wanted.
browser_packages=(chromium) # opens the page for the bench
command -v node >/dev/null || browser_packages+=(nodejs) # ... driven by tests/browser
command -v npm >/dev/null || browser_packages+=(npm)     # ... with what package-lock.json pins
# The other two engines, each by itself: a system may have one and not the other.
firefox_packages=(firefox-esr) # opens the page with the library inside
webkit_packages=(
    webkit2gtk-driver # opens it, too: the engine, its small browser and its driver
    xvfb              # ... on a screen that nobody sees
)

# What makes the library as WebAssembly, for the page: the sources of the three libraries come by
# src/web/wasm/sources.sh, in the versions that the system has. The run-time library goes by the
# compiler's version.
web_packages=(
    clang     # compiles for WebAssembly
    lld       # links it
    wasi-libc # its C library
    dpkg-dev  # unpacks sources
)
clang_version() {
    apt-cache depends clang 2>/dev/null | sed -n 's/.*Depends: clang-\([0-9][0-9]*\)$/\1/p' | head -n 1
}
wasm_runtime_package() {
    local version
    version=$(clang_version)
    [ -z "$version" ] || echo "libclang-rt-$version-dev-wasm32"
}
# What the fuzz targets need besides clang: its sanitizers and libFuzzer.
fuzz_runtime_package() {
    local version
    version=$(clang_version)
    [ -z "$version" ] || echo "libclang-rt-$version-dev"
}

package_is_there() {
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

# Prints the list for somebody whose system has no apt-get.
list_for_other_systems() {
    echo "This system has no apt-get and dpkg-query. Install by hand what matches these packages of" >&2
    echo "Debian 12 and Ubuntu 24.04, then build with CMake as README.md says:" >&2
    printf '    %s\n' "$@" >&2
}

need_packages() {
    local why=$1 package missing=()
    shift
    if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
        if [ "${HP_SKIP_PACKAGES:-}" = 1 ]; then
            return 0
        fi
        list_for_other_systems "$@"
        echo "When they are there, set HP_SKIP_PACKAGES=1 and start again." >&2
        return 1
    fi
    for package in "$@"; do
        package_is_there "$package" || missing+=("$package")
    done
    if [ ${#missing[@]} -eq 0 ]; then
        echo "Packages $why: all there."
        return 0
    fi
    echo "Packages $why that are missing: ${missing[*]}"
    case " ${missing[*]} " in
    *" libsundials-dev "*)
        echo "libsundials-dev is the heavy one: about 70 MB to fetch. With all that the packages lean on,"
        echo "a bare system fetches about 310 MB and needs 1.4 GB of disk. It takes a few minutes."
        ;;
    esac
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        if ! command -v sudo >/dev/null; then
            echo "Installing needs root, and there is no sudo. As root, run:" >&2
            echo "    apt-get update && apt-get install ${missing[*]}" >&2
            return 1
        fi
        as_root=(sudo)
    fi
    echo "Installing them with apt-get${as_root:+ through sudo}."
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get update -q || return 1
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -q -y \
        --no-install-recommends "${missing[@]}"
}
