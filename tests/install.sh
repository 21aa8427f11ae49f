#!/usr/bin/env bash
# Installs a build into an empty folder, moves it elsewhere, runs the installed program there, and
# builds and runs tests/example.c against the installed library: C and C++, shared and static, through
# pkg-config, and once more through CMake.
#
#   install.sh BUILD SOURCE COMPILER C++-COMPILER [COMPILER-FLAG]
#
# C++-COMPILER may be empty: C++ is then left out.
set -eu
build=$1 source=$2 cc=$3 cxx=$4 flag=${5:-}
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
prefix="$room/usr local"
fail() { echo "$*"; exit 1; }

cmake --install "$build" --prefix "$room/first" >"$room/log" || { cat "$room/log"; exit 1; }
mv "$room/first" "$prefix"
"$prefix/bin/hubphase" --version
"$prefix/bin/hubphase" survey --show-parameters "$prefix/share/doc/hubphase/scenarios/barrow.yaml" |
    grep -q pole_pairs || fail "the installed program does not work"
for file in share/man/man1/hubphase.1 share/man/man1/hubphase-survey.1 share/bash-completion/completions/hubphase \
    share/zsh/site-functions/_hubphase share/fish/vendor_completions.d/hubphase.fish \
    share/doc/hubphase/json.md share/doc/hubphase/scenario.md include/hubphase.h; do
    [ -s "$prefix/$file" ] || fail "$file was not installed"
done

pc=$(find "$prefix" -name hubphase.pc)
lib=$(dirname "$(dirname "$pc")")
if grep -n "$room\|/usr/local" "$pc" "$lib"/cmake/hubphase/*; then
    fail "^ names the place of the installation"
fi
export PKG_CONFIG_PATH=$(dirname "$pc")
readelf -d "$lib/libhubphase.so" | grep -q 'SONAME.*\[libhubphase\.so\.[0-9]*\]' || fail "there is no soname"
# What the shared library shows is the face and nothing else (a sanitizer adds names of its own).
nm -D --defined-only "$lib/libhubphase.so" | sed 's/.* //; s/@.*//' | grep -v '^__' | sort >"$room/shown"
while read -r name; do
    grep -rqw "$name" "$source/include" || echo "$name"
done <"$room/shown" >"$room/strange"
[ -s "$room/shown" ] || fail "the library shows nothing"
[ ! -s "$room/strange" ] || fail "shown, but no part of the face: $(cat "$room/strange")"

# check NAME: the example says the same whatever it was built with.
check() {
    LD_LIBRARY_PATH=$lib "$room/example" >"$room/said" || fail "$1: the example failed"
    cmp "$room/said" "$source/tests/example.stdout" || { diff "$room/said" "$source/tests/example.stdout"; fail "$1"; }
}
# try NAME COMPILER...: shared, then static.
try() {
    local name=$1
    shift
    eval "'$room/cc' -Wall -Wextra -pedantic -Werror $* $(pkg-config --cflags --libs hubphase) -o '$room/example'"
    readelf -d "$room/example" | grep -q libhubphase || fail "$name: not linked with the shared library"
    check "$name, shared"
    eval "'$room/cc' $* $(pkg-config --cflags hubphase) \
        $(pkg-config --static --libs hubphase | sed 's/-lhubphase/-l:libhubphase.a/') -o '$room/example'"
    ! readelf -d "$room/example" | grep -q libhubphase || fail "$name: not linked with the static library"
    check "$name, static"
}
cp "$source/tests/example.c" "$room"
ln -sf "$(command -v "$cc")" "$room/cc"
try C $flag -std=c17 "'$room/example.c'"
if [ -n "$cxx" ]; then
    ln -sf "$(command -v "$cxx")" "$room/cc"
    try C++ $flag -std=c++17 -x c++ "'$room/example.c'" -x none
else
    echo "no C++ compiler: C alone was tried"
fi

cat >"$room/CMakeLists.txt" <<'CMAKE'
cmake_minimum_required(VERSION 3.25)
project(user C)
find_package(hubphase 0.1 REQUIRED)
add_executable(example example.c)
target_link_libraries(example hubphase::hubphase)
CMAKE
cmake -S "$room" -B "$room/user" -DCMAKE_PREFIX_PATH="$prefix" -DCMAKE_C_COMPILER="$cc" \
    -DCMAKE_C_FLAGS="$flag" >"$room/log" 2>&1 && cmake --build "$room/user" >>"$room/log" 2>&1 ||
    { cat "$room/log"; exit 1; }
cp "$room/user/example" "$room/example"
check CMake
