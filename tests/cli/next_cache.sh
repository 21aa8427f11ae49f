# Where tables are kept: $XDG_CACHE_HOME, else ~/.cache; a relative name does not count.
cat >quick.yaml <<'YAML'
hubphase: 1
motor: {pole_pairs: 10, resistance_between_leads_ohm: 0.3, no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 36}}
run: {seconds: 0.02, settle_seconds: 0.01}
YAML
mkdir home
unset XDG_CACHE_HOME
kept() { find "$1/hubphase" -name 'likelihood-*.txt' | wc -l; }
HOME=$PWD/home hubphase next quick.yaml 2>&1 >/dev/null
kept home/.cache
HOME=$PWD/home XDG_CACHE_HOME=$PWD/cache hubphase next quick.yaml 2>&1 >/dev/null
kept cache
echo "a relative one, then a home's that has it already: nothing is simulated"
HOME=$PWD/home XDG_CACHE_HOME=cache hubphase next quick.yaml 2>&1 >/dev/null
echo "no place at all"
HOME='' hubphase next quick.yaml 2>&1 >/dev/null
HOME='' hubphase next --quiet quick.yaml 2>&1 >/dev/null
