"""The simulation broken on purpose: see sabotage.py. Patterns are regular expressions."""
SECTION = "sabotage"
PATTERNS = True
EVERY_TEST = True
NOTE = ("The comparisons with SciPy and ngspice in four and two wirings, test_properties with 30 "
        "machines.")

# Tests that are quick enough to run for each mutation, in the order in which a reader would look.
TESTS = [
    "test_backemf", "test_commutation", "test_sensors", "test_motor", "test_stand",
    "test_drive", "test_circuit", "test_figures_measure", "test_verdict",
    "test_engine_circuit_forms", "test_engine_motion_forms", "test_engine_balance",
    "test_engine_symmetry", "test_events", "test_scenario", "test_closed_forms",
    "test_worked_examples", "test_published_surveys", "test_properties", "validation_units",
    "validation_scipy", "validation_ngspice",
]

# What is broken; file; pattern that must occur exactly once in it; what stands there instead.
MUTATIONS = [
    ("sign of the back-EMF turned round", "circuit.c",
     r"\* i - backemf\[k\];", "* i + backemf[k];"),
    ("no star point: the sum of currents is not zero", "circuit.c",
     r"circuit->star = sum \* law->per_count;", "circuit->star = 0.5 * bus;"),
    ("no diode: the current of a lead switched off vanishes", "circuit.c",
     r"leg\[k\] = current\[k\] > 0\.0 \? HP_LEG_LOWER : HP_LEG_UPPER;",
     "current[k] = 0.0, leg[k] = HP_LEG_FLOAT;"),
    ("missed event: a floating lead never begins to conduct", "circuit.c",
     r"return below < above \? below : above;", "return 1.0;"),
    ("diode drop of the wrong sign", "circuit.c",
     r"== HP_LEG_UPPER( +)\? params->diode_drop_v", r"== HP_LEG_UPPER\1? -params->diode_drop_v"),
    ("battery current without the duty", "circuit.c",
     r"from_bus \+= share\[k\] \* current\[k\];",
     "from_bus += (law->share_duty[k] + law->share_whole[k]) * current[k];"),
    ("line for phase: the winding's resistance doubled", "circuit.c",
     r"\.winding_ohm = hp_motor", ".winding_ohm = 2.0 * hp_motor"),
    ("two rows of the commutation table exchanged", "commutation.c",
     r"table\.row\[hp_code\(1, 0, 0\)\](.{1,60}?)table\.row\[hp_code\(1, 1, 0\)\]",
     r"table.row[hp_code(1, 1, 0)]\1table.row[hp_code(1, 0, 0)]"),
    ("sensor order read the wrong way", "machine.c",
     r"int sensor = m->wiring\.sensor\[j\];",
     "int sensor = 0; while (m->wiring.sensor[sensor] != j) sensor++;"),
    ("missed event: edges are not seen backward", "machine.c",
     r"guard\[HP_GUARD_BACKWARD\] = y\[HP_Y_THETA\] - m->bound_backward;",
     "guard[HP_GUARD_BACKWARD] = 1.0;"),
    ("pole pairs forgotten between rotor and field", "machine.c",
     r"= m->pole_pairs \* w;", "= w;"),
    ("torque constant too large by 3 %", "machine.c",
     r"now->torque \+= m->ke", "now->torque += 1.03 * m->ke"),
    ("phase current limit ignored", "machine.c",
     r"m->phase_share = c->phase_limit_a > 0\.0 \? 1\.0 / c->phase_limit_a : 0\.0;",
     "m->phase_share = 0.0;"),
    ("sensors' hysteresis of the wrong sign", "sensors.c",
     r"inside \? sensors->hysteresis_rad : -sensors->hysteresis_rad",
     "inside ? -sensors->hysteresis_rad : sensors->hysteresis_rad"),
    ("misplaced sensors displaced the other way", "sensors.c",
     r"\+ sensors->placement_rad\[phase\]", "- sensors->placement_rad[phase]"),
    ("copper's resistance falls with temperature", "motor.c",
     r"\(motor->winding_c - 20\.0\)", "(20.0 - motor->winding_c)"),
    ("wheel's inertia not divided by the gear's square", "stand.c",
     r"\(stand->gear_ratio \* stand->gear_ratio\)", "stand->gear_ratio"),
    ("a resting rotor breaks away too soon", "motion.c",
     r"return level \* \(1\.0 \+ TORQUE_SLACK\)", "return 0.8 * level * (1.0 + TORQUE_SLACK)"),
    ("no viscous friction", "motion.c",
     r" \+ friction->viscous_nm_s_rad \* speed;", ";"),
    ("rms taken about zero, not about the mean", "measure.c",
     r"squares / duration - mean \* mean", "squares / duration"),
    ("means over broken turns", "measure.c",
     r"fabs\(turned\) > HP_PI", "fabs(turned) > 1e9"),
    ("current excess upside down", "figures.c",
     r"figures->battery_power / moving :", "moving / figures->battery_power :"),
    ("rms for peak in the back-EMF constant", "scenario_backemf.c",
     r"line->rms \* gear", "line->peak * gear"),
]
