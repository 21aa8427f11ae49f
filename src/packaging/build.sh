#!/usr/bin/env bash
# Makes Debian packages and a source archive.
#
#   src/packaging/build.sh OUT
#
# Files are as old as the changelog says, and the same commit gives the same bytes in any folder
# (tests/same_bytes.sh). What was built before is used again (build/package).
set -euo pipefail
out=$(mkdir -p "$1" && cd "$1" && pwd)
cd "$(dirname "$0")/../.."
version=$(sed -n '1s/^[^(]*(\([^)]*\)).*/\1/p' src/packaging/changelog)
# Everything is as old as the changelog says.
SOURCE_DATE_EPOCH=$(date -d "$(sed -n 's/^ -- .*>  //p' src/packaging/changelog | head -n 1)" +%s)
export SOURCE_DATE_EPOCH HP_PACKAGING=1
umask 022

flags=$(DEB_BUILD_MAINT_OPTIONS=hardening=+all dpkg-buildflags --get CFLAGS |
    sed 's/-ffile-prefix-map=[^ ]*//; s/-g //; s/-O2//')
cmake -S . -B build/package -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_INSTALL_PREFIX=/usr -DBUILD_TESTING=OFF \
    "-DCMAKE_C_FLAGS=$flags $(dpkg-buildflags --get CPPFLAGS)" \
    "-DCMAKE_EXE_LINKER_FLAGS=-Wl,-z,relro -Wl,-z,now" "-DCMAKE_SHARED_LINKER_FLAGS=-Wl,-z,relro -Wl,-z,now"
cmake --build build/package
rm -rf build/package/packages
(cd build/package && cpack -G DEB)
cp build/package/packages/*.deb "$out"
if git rev-parse --git-dir >/dev/null 2>&1; then
    git archive --prefix="hubphase-$version/" --mtime="@$SOURCE_DATE_EPOCH" HEAD 2>/dev/null |
        gzip -9n >"$out/hubphase-$version.tar.gz" ||
        git archive --prefix="hubphase-$version/" HEAD | gzip -9n >"$out/hubphase-$version.tar.gz"
fi
ls -l "$out"
