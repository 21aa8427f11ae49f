#!/usr/bin/env bash
# Checks tests/packages.sh against make-believe systems: stand-ins for dpkg-query, apt-get, sudo and
# id write down what they were asked.
#
#   packages_check.sh SOURCE
set -u
source=$1
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
tools=$room/bin log=$room/log
mkdir "$tools"
for tool in bash env printf cat; do ln -s "$(command -v $tool)" "$tools/$tool"; done

stand_in() { # NAME BODY
    printf '#!/usr/bin/env bash\n%s\n' "$2" >"$tools/$1"
    chmod +x "$tools/$1"
}
failures=0
# expect "what" STATUS "words in the output" "lines in the log": runs need_packages for two packages
expect() {
    : >"$log"
    local out status
    out=$(PATH=$tools bash -c ". '$source/tests/packages.sh'; need_packages 'for the check' there absent" 2>&1)
    status=$?
    if [ $status -ne "$2" ] || [[ $out != *"$3"* ]] || [ "$(cat "$log")" != "$4" ]; then
        printf 'FAILED: %s\nstatus %s, wanted %s\noutput:\n%s\ncalls:\n%s\nwanted:\n%s\n' \
            "$1" "$status" "$2" "$out" "$(cat "$log")" "$4"
        failures=$((failures + 1))
    fi
}

expect "another system: prints the list, fails" 1 "    absent" ""

stand_in dpkg-query '[ "${!#}" = there ] && printf installed'
stand_in apt-get 'echo "apt-get $*" >>'"'$log'"
stand_in id 'echo 0'
calls="apt-get update -q
apt-get install -q -y --no-install-recommends absent"
expect "root: installs only what is missing" 0 "that are missing: absent" "$calls"

stand_in id 'echo 1000'
expect "neither root nor sudo: says what to run, fails" 1 "apt-get install absent" ""

stand_in sudo 'echo sudo >>'"'$log'"'; exec "$@"'
expect "sudo: asks it for both steps" 0 "through sudo" "sudo
apt-get update -q
sudo
apt-get install -q -y --no-install-recommends absent"

stand_in apt-get '[ "$1" = update ]'
stand_in sudo 'exec "$@"'
expect "an installation that fails: fails" 1 "missing: absent" ""

stand_in dpkg-query 'printf installed'
stand_in apt-get 'echo "apt-get $*" >>'"'$log'"
expect "all there: installs nothing" 0 "all there" ""
exit $failures
