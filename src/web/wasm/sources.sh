#!/usr/bin/env bash
# Gets the sources of the three libraries that the WebAssembly is built with, in the versions that the
# system has installed, through apt's own lists with `deb` turned into `deb-src`. Lists and state stand in
# the folder, so that neither root nor a change of the system is needed. What is there already stays.
#
#   sources.sh FOLDER     makes FOLDER/sundials, FOLDER/libfyaml, FOLDER/jansson
#
# Leaves with 1 and says why when the archive is not reached or no such version is in it.
set -u
folder=$1
mkdir -p "$folder" || exit 1
folder=$(cd "$folder" && pwd)

say() { echo "sources.sh: $*" >&2; }

# Source packages and the installed packages that tell their versions.
packages=(sundials:libsundials-dev libfyaml:libfyaml-dev jansson:libjansson-dev)

all_there() {
    local pair
    for pair in "${packages[@]}"; do
        [ "$(cat "$folder/${pair%%:*}.version" 2>/dev/null)" = "$(version_of "${pair##*:}")" ] || return 1
    done
}

# The version of the source package that an installed package was built from; empty: not installed.
version_of() { dpkg-query -W -f '${source:Version}' "$1" 2>/dev/null; }

command -v apt-get >/dev/null && command -v dpkg-source >/dev/null ||
    { say "needs apt-get and dpkg-source (package dpkg-dev)"; exit 1; }
all_there && exit 0

# The system's lists, for sources.
mkdir -p "$folder/apt/lists/partial" "$folder/apt/cache/archives/partial" "$folder/apt/parts"
: >"$folder/apt/sources.list"
for list in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
    [ -f "$list" ] && sed -n 's/^deb\([ \t]\)/deb-src\1/p' "$list" >>"$folder/apt/sources.list"
done
for list in /etc/apt/sources.list.d/*.sources; do
    [ -f "$list" ] && sed 's/^Types:.*/Types: deb-src/' "$list" >"$folder/apt/parts/$(basename "$list")"
done
options=(-q -o "Dir::Etc::sourcelist=$folder/apt/sources.list" -o "Dir::Etc::sourceparts=$folder/apt/parts"
    -o "Dir::State::lists=$folder/apt/lists" -o "Dir::Cache=$folder/apt/cache" -o APT::Sandbox::User=
    -o Acquire::Languages=none -o Acquire::Retries=2)

if ! apt-get "${options[@]}" update >"$folder/apt/log" 2>&1; then
    say "the archive's lists of sources are not reached:"
    tail -n 3 "$folder/apt/log" >&2
    exit 1
fi
for pair in "${packages[@]}"; do
    name=${pair%%:*} version=$(version_of "${pair##*:}")
    [ -n "$version" ] || { say "${pair##*:} is not installed"; exit 1; }
    [ "$(cat "$folder/$name.version" 2>/dev/null)" = "$version" ] && continue
    rm -rf "$folder/$name" "$folder/get"
    mkdir "$folder/get"
    if ! (cd "$folder/get" && apt-get "${options[@]}" source --download-only "$name=$version" &&
        dpkg-source --no-check --no-copy -x ./*.dsc "$folder/$name") >>"$folder/apt/log" 2>&1; then
        say "the sources of $name $version could not be had:"
        tail -n 3 "$folder/apt/log" >&2
        exit 1
    fi
    rm -rf "$folder/get"
    echo "$version" >"$folder/$name.version"
done
