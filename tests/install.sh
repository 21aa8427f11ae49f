#!/usr/bin/env bash
# Installs a build into an empty folder, runs the installed program, and builds and runs a program of
# three lines against the installed library through pkg-config.
#
#   install.sh BUILD COMPILER [COMPILER-FLAG]
set -eu
build=$1 compiler=$2 flag=${3:-}
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
prefix=$room/usr

cmake --install "$build" --prefix "$prefix" >"$room/log" || { cat "$room/log"; exit 1; }
"$prefix/bin/hubphase" --version
for file in share/man/man1/hubphase.1 share/bash-completion/completions/hubphase \
    share/doc/hubphase/json.md share/doc/hubphase/scenario.md share/doc/hubphase/scenarios/barrow.yaml; do
    [ -s "$prefix/$file" ] || { echo "$file was not installed"; exit 1; }
done
cat >"$room/user.c" <<'SOURCE'
#include <hubphase/decide/survey.h>
#include <stdio.h>

int main(void)
{
    hp_drive drive = hp_drive_default();
    hp_survey_options options = hp_survey_options_default();
    hp_wiring wiring = hp_wiring_from_number(1);
    hp_judgement judgement;
    hp_error err = hp_error_none();
    options.starts = 1;
    if (hp_survey_one(&drive, &wiring, &options, &judgement, &err) != HP_OK)
        return fprintf(stderr, "%s\n", err.text), 1;
    return puts(hp_verdict_name(judgement.verdict)) < 0;
}
SOURCE
export PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name hubphase.pc)")
libdir=$(pkg-config --variable=libdir hubphase)
"$compiler" $flag "$room/user.c" $(pkg-config --cflags --libs hubphase) -o "$room/user"
LD_LIBRARY_PATH=$libdir "$room/user" | grep -qx correct
"$compiler" $flag "$room/user.c" $(pkg-config --cflags hubphase) \
    $(pkg-config --static --libs hubphase | sed 's/-lhubphase/-l:libhubphase.a/') -o "$room/user"
"$room/user" | grep -qx correct
