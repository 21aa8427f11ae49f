#!/usr/bin/env bash
# Packages made of a build: the version is the changelog's, each holds what it should and nothing twice,
# every command has a manual page that roff accepts and that names every option, the completions are
# accepted by their shells and know every command.
#
#   packaging.sh BUILD SOURCE
set -eu
build=$1 source=$2
command -v dpkg-deb >/dev/null && command -v dpkg-shlibdeps >/dev/null || { echo "skipped: dpkg-dev is not here"; exit 77; }
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
bad=0
fail() { echo "$*"; bad=1; }

version=$(sed -n '1s/^hubphase (\([^)]*\)).*/\1/p' "$source/src/packaging/changelog")
[ "$("$build/hubphase" --version)" = "hubphase $version" ] || fail "the changelog says $version, the program does not"
env -u HP_PACKAGING cpack --config "$build/CPackConfig.cmake" -G DEB -B "$room" 2>&1 | grep -q 'src/packaging/build\.sh' &&
    [ -z "$(ls "$room")" ] || fail "a build for development makes packages that lack something"
SOURCE_DATE_EPOCH=1000000000 HP_PACKAGING=1 cpack --config "$build/CPackConfig.cmake" -G DEB -B "$room" >"$room/log" 2>&1 ||
    { cat "$room/log"; exit 1; }
for package in "$room"/*.deb; do
    name=$(dpkg-deb -f "$package" Package)
    dpkg-deb -c "$package" | awk '$1 !~ /^d/ { print $6 }' >"$room/$name.list"
    dpkg-deb -x "$package" "$room/all"
    [ "$(dpkg-deb -f "$package" Version)" = "$version" ] || fail "$name: another version"
    [ -n "$(dpkg-deb -f "$package" Description | sed 1d)" ] || fail "$name: no description"
    for file in changelog.gz copyright; do
        grep -q "/doc/$name/$file$" "$room/$name.list" || fail "$name: no $file"
    done
    if dpkg-deb -c "$package" | grep -v '2001-09-09'; then fail "$name: ^ not as old as it should be"; fi
done
cat "$room"/*.list | sort | uniq -d | grep . && fail "^ in two packages"
expect() { grep -qE "$2" "$room/$1.list" || fail "$1 lacks $2"; }
expect hubphase 'bin/hubphase$'
expect hubphase 'bash-completion/completions/hubphase$'
expect hubphase 'zsh/[a-z-]*/_hubphase$'
expect hubphase 'scenarios/barrow\.yaml$'
expect "libhubphase${version%%.*}" "libhubphase\.so\.${version%%.*}\$"
expect libhubphase-dev 'include/hubphase\.h$'
expect libhubphase-dev 'libhubphase\.a$'
expect libhubphase-dev 'libhubphase\.so$'
expect libhubphase-dev 'pkgconfig/hubphase\.pc$'
dpkg-deb -f "$room"/hubphase_*.deb Depends | grep -q 'libsundials.*\|libplplot' || fail "hubphase depends on no library"

for command in $("$build/hubphase" --help | sed -n '/^Commands:/,/^[^ C]/s/^  \([a-z]*\) .*/\1/p'); do
    page=$(find "$room/all" -name "hubphase-$command.1.gz")
    [ -n "$page" ] || { fail "$command has no manual page"; continue; }
    text=$(gzip -dc "$page" | sed 's/\\-/-/g')
    for option in $("$build/hubphase" "$command" --help | grep -oE '^ +(-., )?--[a-z0-9-]+' | grep -oE -- '--.*'); do
        grep -qF -- "$option" <<<"$text" || fail "the manual page of $command lacks $option"
    done
    find "$room/all" -name _hubphase -exec grep -q "^    $command)" {} + ||
        fail "completion for zsh lacks $command"
    grep -qr "subcommand -a $command " "$room/all" --include=hubphase.fish || fail "completion for fish lacks $command"
done
if command -v man >/dev/null; then
    while read -r page; do
        said=$(LC_ALL=C.UTF-8 MANROFFSEQ= MANWIDTH=80 man --warnings -l "$page" 2>&1 >/dev/null || true)
        [ -z "$said" ] || fail "manual page $(basename "$page"): $said"
    done < <(find "$room/all" -name '*.1.gz')
fi
if command -v zsh >/dev/null; then
    find "$room/all" -name _hubphase -exec zsh -n {} \; || fail "zsh does not read its completion"
fi
if command -v fish >/dev/null; then
    file=$(find "$room/all" -name hubphase.fish)
    HOME=$room fish -N -c "source $file; complete -C 'hubphase spread --sh' | grep -q -- --shape" || fail "fish completes nothing"
    HOME=$room fish -N -c "source $file; complete -C 'hubphase survey --shape ' | grep -q wall" || fail "fish knows no shape"
    HOME=$room fish -N -c "source $file; complete -C 'hubphase log x.yaml hand_' | grep -q hand_turn" || fail "fish knows no kind of entry"
fi
exit $bad
