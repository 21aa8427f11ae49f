/* The machines that practice has without a scenario file: see hubphase/record/practice_case.h. */
#include "hubphase/record/practice_case.h"

/* Nobody knows which lead is which. */
#define UNKNOWN_LEADS                                                                              \
    "leads:\n"                                                                                     \
    "  known: no\n"                                                                                \
    "  motor_phases: {U: yellow, V: green, W: blue}\n"                                             \
    "  motor_sensors: {U: white, V: grey, W: brown}\n"                                             \
    "  controller_outputs: {U: A, V: B, W: C}\n"                                                   \
    "  controller_inputs: {U: \"1\", V: \"2\", W: \"3\"}\n"                                        \
    "\n"                                                                                           \
    "bench:\n"                                                                                     \
    "  readings: {controller_probe: no}     # its plug is sealed\n"

/* Of all parts nothing is stated but what the advice's shipped table was made for: it is there at
 * once. */
static const char direct[] =
    "# The practice bench of `hubphase practise'. Every key: docs/scenario.md\n"
    "hubphase: 1\n"
    "name: Practice bench\n"
    "about: |\n"
    "  A direct-drive hub without papers and a 36 V controller, for practice. Nobody knows which\n"
    "  lead is which; the machine is invented.\n"
    "\n"
    "motor:\n"
    "  name: direct-drive hub, no label\n"
    "  magnets: 46\n"
    "  resistance_between_leads_ohm: 0.2\n"
    "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"
    "\n"
    "controller:\n"
    "  name: 36 V practice controller\n"
    "\n" UNKNOWN_LEADS;

static const char geared[] =
    "# The practice bench of `hubphase practise --level clutch'. Every key: docs/scenario.md\n"
    "hubphase: 1\n"
    "name: Practice bench, geared hub\n"
    "about: |\n"
    "  A geared hub without papers and a 36 V controller, for practice. A one-way clutch stands\n"
    "  between rotor and wheel. Nobody knows which lead is which; the machine is invented.\n"
    "\n"
    "motor:\n"
    "  name: geared hub, no label\n"
    "  magnets: 20\n"
    "  resistance_between_leads_ohm: 0.2\n"
    "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"
    "  rotor_inertia_kg_m2: 0.0008\n"
    "\n"
    "controller:\n"
    "  name: 36 V practice controller\n"
    "\n"
    "stand: {gear_ratio: 4.8, clutch: yes}\n"
    "\n" UNKNOWN_LEADS;

const char *hp_practice_scenario_text(hp_practice_level level)
{
    return level == HP_PRACTICE_CLUTCH ? geared : direct;
}

const char *hp_practice_scenario_name(hp_practice_level level)
{
    return level == HP_PRACTICE_CLUTCH ? "practice-geared.yaml" : "practice.yaml";
}
