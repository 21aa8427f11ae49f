# What the command-line cases share; run_cli.sh reads it before a case.

# Shows a command line, all that it prints, and its exit status.
run() {
    printf '$ hubphase'
    [ $# -eq 0 ] || printf ' %q' "$@"
    printf '\n'
    hubphase "$@" 2>&1
    echo "status $?"
}

# Figures differ in their last digits from machine to machine: their digits become 0.
mask_figures() {
    sed -E 's/[0-9]+\.[0-9]+/0.0/g'
}

# Writes small.yaml: a motor of the trade on a lifted wheel, few and short runs.
write_scenario() {
    cat >small.yaml <<'YAML'
hubphase: 1
name: Allotment barrow
about: A small scenario for tests of the command line.
motor:
  name: hub from the shed
  pole_pairs: 10
  resistance_between_leads_ohm: 0.3
  inductance_between_leads_mh: 0.5
  no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 36}
controller:
  name: grey box
stand:
  wheel_inertia_kg_m2: 0.02
run:
  seconds: 1.5
  settle_seconds: 1.0
  starts: 3
leads:
  motor_phases: {U: yellow, V: green, W: blue}
  motor_sensors: {U: yellow, V: green, W: blue}
  controller_outputs: {U: red, V: black, W: white}
YAML
}

# Whatever is simulated is simulated here.
leave_no_tables() {
    rm -rf "$HOME/.cache"
}

# A full disk from here on, in the guise of a limit on the size of files: BLOCKS of 1024 bytes. The counts of
# tests/coverage.sh would not fit either, and say so where the program speaks.
fill_disk() { # BLOCKS
    export LLVM_PROFILE_FILE=/dev/null
    ulimit -f "$1"
}

# Names of all files here, hidden ones too, but for the links that every case has.
list_files() {
    find . -mindepth 1 ! -name scenarios ! -name cases | LC_ALL=C sort
}

# Leaves the case as skipped on a system without pseudo-terminals, such as a bare chroot.
need_terminal() {
    script -qec true /dev/null >/dev/null 2>&1 && return
    echo "skipped: no pseudo-terminal here" >&2
    exit 77
}
