/* Words of the fit: see the header. */
#include "report/words/fit_words.h"

#include "decide/fit/fit_rules.h"
#include "hubphase/base/text.h"
#include "report/words/hazard.h"

#include <math.h>
#include <string.h>

/* ---- rules ----------------------------------------------------------------------------------- */

static const char *const sources[HP_FIT_SOURCES] = {
    "label or data sheet of the part; what is kept free beyond it is common practice",
    "cell data sheets (read for li-ion, from memory for the others); common practice",
    "data sheets of two latching Hall sensors (read)",
    "copper 58 S m/mm2 (GNU Units, ASTM B258), 0.393 % per kelvin (IEC 60028); free-air ampacities "
    "at 30 C: Kuphaldt, Lessons In Electric Circuits I (read), beyond AWG 14 to 8 by a power of "
    "the "
    "area",
    "Ohm's law with the battery's internal resistance",
    "simulated: the correct wiring, loaded at the wheel",
    "road load: Martin et al., J. Appl. Biomech. 14(3), 1998 (second-hand); drag and rolling as "
    "stated, else common practice",
    "two bodies, winding and hub, in closed form; copper by IEC 60028; thermal figures as stated, "
    "else derived: specific heats of Carvill, Mechanical Engineer's Data Handbook (read), 12 W/(m2 "
    "K) from the hub's surface, within what Cengel gives for air (read), weights and slot paper "
    "chosen",
    "derived: pressure that rises evenly to the edge of the flat; what metals bear is common "
    "practice, from memory",
    "common practice",
};

/* Sets of them. */
enum {
    LABEL = 1,
    CELLS = 2,
    HALL = 4,
    COPPER = 8,
    OHM = 16,
    SIMULATED = 32,
    ROAD = 64,
    HEAT = 128,
    AXLE = 256,
    PRACTICE = 512
};

const char *hp_fit_source_text(int bit)
{
    return sources[bit];
}

/* One cell too few, and the full battery is above what a line lets pass. */
#define GUESSED                                                                                    \
    "How many cells the battery has is guessed from its volts, and may be wrong by a cell or in "  \
    "the kind: so may its full and empty volts. The charger's label says how many volts it has "   \
    "when full: state pack.full_v, or count the cells and state pack.in_series."

static const hp_fit_rule_words words[HP_FIT_RULE_COUNT] = {
    [HP_FIT_CONTROLLER_VOLTS] =
        {.name = "controller_volts",
         .title = "Battery and controller",
         .rule = "The full battery stays below what the controller takes; a twentieth is kept free "
                 "for what a braking motor adds.",
         .sources = LABEL,
         .advice = {[HP_VOLTS_ABOVE] = "Do not join them: the first charge destroys the "
                                       "controller. Another controller, or fewer cells.",
                    [HP_VOLTS_GUESSED] = GUESSED,
                    [HP_VOLTS_NEAR] = "Hardly any room above the full battery: do not brake by the "
                                      "motor with it, and never charge it further."}},
    [HP_FIT_CUT_OFF] =
        {.name = "cut_off",
         .title = "Low-voltage cut-out",
         .rule = "The controller stops at the empty battery's voltage or a little above.",
         .sources = CELLS,
         .advice = {[HP_CUT_OFF_GUESSED] = GUESSED,
                    [HP_CUT_OFF_NONE] = "Nothing but the battery's own protection ends the ride. "
                                        "Stop by the volts yourself, or state "
                                        "controller.undervoltage_v.",
                    [HP_CUT_OFF_LOW] = "The controller goes on below the empty battery: its own "
                                       "protection must stop it. Stop by the volts yourself.",
                    [HP_CUT_OFF_NONE_BARE] =
                        "Nothing ends the ride: a lead battery has no protection of its own, and "
                        "one that was emptied to the last is spoilt. Stop by the volts yourself, "
                        "or state controller.undervoltage_v.",
                    [HP_CUT_OFF_LOW_BARE] =
                        "The controller goes on below the empty battery, and a lead battery has no "
                        "protection of its own: emptied to the last it is spoilt. Stop by the "
                        "volts yourself.",
                    [HP_CUT_OFF_HIGH] = "The controller stops long before the battery is empty: "
                                        "it is made for more cells."}},
    [HP_FIT_SENSOR_SUPPLY] =
        {.name = "sensor_supply",
         .title = "Hall supply",
         .rule = "Volts at the Hall plug, between the least and the most that Hall sensors take.",
         .sources = HALL,
         .advice = {[HP_SENSORS_ABOVE] = "Do not plug it in: this destroys the sensors, at once or "
                                         "when the battery is full.",
                    [HP_SENSORS_BELOW] = "The sensors do not work on this: find what pulls the "
                                         "supply down."}},
    [HP_FIT_PACK_CURRENT] =
        {.name = "pack_current",
         .title = "Battery current",
         .rule = "The controller draws no more than the battery gives for long.",
         .sources = LABEL,
         .advice = {[HP_PACK_WEAK] = "The battery switches off under load, or its cells suffer. "
                                     "Lower the controller's limit, or take another battery.",
                    [HP_PACK_UNLIMITED] = "The controller's limit is not stated; the figure is the "
                                          "most that was simulated."}},
    [HP_FIT_FUSE_RATING] =
        {.name = "fuse_rating",
         .title = "Fuse",
         .rule = "Above the controller's limit, so that it holds; below what the leads carry, so "
                 "that it goes before they burn.",
         .sources = COPPER | PRACTICE,
         .advice = {[HP_FUSE_TOO_LARGE] =
                        "The leads burn before this fuse goes. A smaller fuse, or "
                        "thicker leads.",
                    [HP_FUSE_TOO_SMALL] = "It goes on the first hill. A larger fuse, if the leads "
                                          "carry it, or a lower limit.",
                    [HP_FUSE_NONE] = "There is no fuse: a lead that rubs through burns, and the "
                                     "battery with it. Put one into the plus lead, within a hand's "
                                     "breadth of the battery, before anything is joined to it.",
                    [HP_FUSE_JUST] = "Just what the controller draws: warm or aged it goes on a "
                                     "long hill. The next larger one, if the leads carry it."}},
    [HP_FIT_FUSE_BREAKING] =
        {.name = "fuse_breaking",
         .title = "Fuse in a short circuit",
         .rule = "It breaks the battery's short-circuit current at the battery's voltage, both as "
                 "direct current.",
         .sources = OHM | PRACTICE,
         .advice = {[HP_BREAKING_GUESSED] = GUESSED,
                    [HP_BREAKING_WEAK] = "An arc may stand in this fuse. Take one with more "
                                         "breaking capacity.",
                    [HP_BREAKING_NONE] = "Without a fuse nothing stops this current.",
                    [HP_BREAKING_VOLTS] = "It is made for less voltage: an arc may stand in it.",
                    [HP_BREAKING_UNSURE] = "A battery without resistance has no limit: measure it "
                                           "by two loads."}},
    [HP_FIT_BATTERY_CONNECTOR] =
        {.name = "battery_connector",
         .title = "Battery plug",
         .rule = "The current stays below its rating, a fifth kept free for heat and age.",
         .sources = LABEL,
         .advice = {[HP_PLUG_OVER] = "It melts. A larger plug.",
                    [HP_PLUG_NEAR] = "It grows hot on hills. Feel it after the first one."}},
    [HP_FIT_BATTERY_LEADS] =
        {.name = "battery_leads",
         .title = "Battery leads",
         .rule = "The current stays below what the leads carry; at most 3 % of the voltage is lost "
                 "there and back.",
         .sources = COPPER | PRACTICE,
         .advice = {[HP_LEADS_OVER] = "Too thin: the insulation softens. Thicker leads.",
                    [HP_LEADS_DROP] = "They waste more than they need: thicker or shorter."}},
    [HP_FIT_PHASE_CURRENT] =
        {.name = "phase_current",
         .title = "Phase current",
         .rule = "On the hill, battery current over duty flows in the motor; stalled, what the "
                 "phase limit lets through.",
         .sources = SIMULATED,
         .advice = {[HP_PHASE_UNLIMITED] = "Without a phase limit a stalled motor draws this until "
                                           "something burns. Never hold it against the throttle."}},
    [HP_FIT_PHASE_CONNECTOR] =
        {.name = "phase_connector",
         .title = "Phase plug",
         .rule = "The phase current of the hill stays below its rating, a fifth kept free.",
         .sources = LABEL | SIMULATED,
         .advice = {[HP_PLUG_OVER] = "It melts on the hill. A larger plug, or solder and sleeve.",
                    [HP_PLUG_NEAR] = "It grows hot on hills. Feel it after the first one."}},
    [HP_FIT_PHASE_LEADS] =
        {.name = "phase_leads",
         .title = "Phase leads",
         .rule = "The phase current of the hill stays below what the leads carry.",
         .sources = COPPER | SIMULATED,
         .advice = {[HP_LEADS_OVER] = "Too thin for this hill. Thicker leads; through the axle, "
                                      "insulation that bears more heat.",
                    [HP_LEADS_BRIEF] = "They bear the hill, but a start from rest or a stall "
                                       "only for moments."}},
    [HP_FIT_LEVEL] =
        {.name = "level",
         .title = "Speed on the level",
         .rule = "Full throttle, where machine and road meet; power and efficiency at half charge.",
         .sources = SIMULATED | ROAD,
         .advice = {[HP_ROAD_RUNS_AWAY] =
                        "Nobody rides it: if somebody walks with it, at full throttle it draws "
                        "them along. Take a lower speed step or stop the throttle short, and fit a "
                        "switch that cuts the drive when the hand lets go.",
                    [HP_ROAD_NOT] = "It does not move this load. Check the figures of the road.",
                    [HP_ROAD_NOT_EMPTY] = "It does not move this load with an empty battery.",
                    [HP_ROAD_POOR] = "More heat than motion: the motor is too slow or too fast for "
                                     "this wheel."}},
    [HP_FIT_HILL] =
        {.name = "hill",
         .title = "Speed on the hill",
         .rule = "The same up vehicle.hill_percent; the steepest is what it climbs by the motor "
                 "alone at half charge.",
         .sources = SIMULATED | ROAD,
         .advice = {[HP_ROAD_NOT] = "It does not climb this hill. A smaller wheel, a gear, less "
                                    "load, or help by pedalling or pushing.",
                    [HP_ROAD_NOT_EMPTY] = "It climbs with a full battery only.",
                    [HP_ROAD_POOR] = "More heat than motion: help by pedalling or pushing, or a "
                                     "smaller wheel."}},
    [HP_FIT_RANGE] = {.name = "range",
                      .title = "Range on the level",
                      .rule = "Usable charge at the middle voltage over the power drawn.",
                      .sources = SIMULATED | ROAD | PRACTICE,
                      .advice = {[HP_RANGE_NO_CRUISE] =
                                     "It does not reach vehicle.cruise_km_h at half charge.",
                                 [HP_RANGE_SHORT] = "Not enough for the whole of vehicle.ride."}},
    [HP_FIT_RIDE_HEAT] =
        {.name = "ride_heat",
         .title = "Winding on the ride",
         .rule = "From cold along vehicle.ride at full throttle, half charge; hottest anywhere.",
         .sources = SIMULATED | ROAD | HEAT,
         .advice = {[HP_HEAT_OVER] =
                        "It overheats on this ride. Rests, help by pedalling or pushing, "
                        "less load, a smaller wheel.",
                    [HP_HEAT_NEAR] = "It may overheat: the thermal figures are not sure. Feel the "
                                     "hub after the hill.",
                    [HP_HEAT_STUCK] = "One stretch is too steep to climb."}},
    [HP_FIT_HILL_HEAT] =
        {.name = "hill_heat",
         .title = "Winding on the hill",
         .rule = "From cold, how long the hill takes and how long the winding bears it; how steep "
                 "it may be for ever.",
         .sources = SIMULATED | ROAD | HEAT,
         .advice = {[HP_HEAT_OVER] = "It overheats before the top. Rests, help by pedalling or "
                                     "pushing, less load, a smaller wheel.",
                    [HP_HEAT_NEAR] = "It may overheat before the top: the thermal figures are not "
                                     "sure. Feel the hub half way.",
                    [HP_HEAT_STUCK] = "It does not climb this hill.",
                    [HP_HEAT_LEVEL] = "Even on the level it grows too hot in the end: something "
                                      "drags, or the motor is too small."}},
    [HP_FIT_STALL_HEAT] =
        {.name = "stall_heat",
         .title = "Winding at a stall",
         .rule = "Full throttle, wheel held: two of three phases carry it all. The cut-out comes "
                 "before the limit.",
         .sources = HEAT,
         .advice = {[HP_STALL_BURNS] = "No cut-out, and the winding is too hot before a hand lets "
                                       "go. Lower the phase limit, or take another controller.",
                    [HP_STALL_SLOW] = "No cut-out: let go of the throttle at once when the wheel "
                                      "does not turn.",
                    [HP_STALL_LATE] = "The cut-out comes too late. Let go at once when the wheel "
                                      "does not turn; lower the phase limit."}},
    [HP_FIT_AXLE] =
        {.name = "axle",
         .title = "Axle in its slots",
         .rule = "Pressure of the flats' edges at the greatest torque, nuts not counted; half of "
                 "what the slots bear is kept free, and above one and a half times it they "
                 "spread.",
         .sources = AXLE,
         .advice = {[HP_AXLE_ARM] = "A torque arm is fitted: see that it is tight, on both sides "
                                    "where the motor brakes.",
                    [HP_AXLE_OVER] = "The axle spreads the slots, spins out and tears its cable. "
                                     "Fit a torque arm.",
                    [HP_AXLE_NEAR] = "It holds only as long as the nuts are tight. Fit a torque "
                                     "arm."}},
    [HP_FIT_MOUNTING] =
        {.name = "mounting",
         .title = "Direction",
         .rule =
             "A hub mounted the other way round turns the other way: it needs a reverse wiring.",
         .sources = SIMULATED,
         .advice = {[HP_MOUNT_CLUTCH] = "Its one-way clutch drives one way only: mount it as it "
                                        "was made.",
                    [HP_MOUNT_NO_REVERSE] = "No wiring of these parts runs smoothly backward.",
                    [HP_MOUNT_SWAP] = "It needs the reverse wiring"}},
    [HP_FIT_DOWNHILL] =
        {.name = "downhill",
         .title = "Down the hill",
         .rule = "A wheel that turns faster than the full battery's voltage charges it, throttle "
                 "or not; the voltage rises with it.",
         .sources = OHM | ROAD,
         .advice = {[HP_DOWN_FREE] = "The one-way clutch lets the wheel run: nothing is charged.",
                    [HP_DOWN_CHARGES] = "With a full battery use the brakes: do not let it roll "
                                        "faster.",
                    [HP_DOWN_OVER] = "More than battery or controller take. Ride this hill down "
                                     "slowly, with the brakes at the wheels, and never with a full "
                                     "battery."}},
    [HP_FIT_MOTOR_BRAKING] =
        {.name = "motor_braking",
         .title = "Braking by the motor",
         .rule = "A controller that brakes with the motor charges the battery, with up to what its "
                 "limit lets through. Unless stated, it does not.",
         .sources = LABEL | OHM,
         .advice = {[HP_BRAKING_FREE] = "The one-way clutch lets the wheel run: the motor cannot "
                                        "brake it.",
                    [HP_BRAKING_FULL] = "A full battery takes no charge: ride off some of it "
                                        "before the motor brakes.",
                    [HP_BRAKING_OVER] = "More than battery or controller take, at any pull of a "
                                        "brake lever. Switch it off at the controller, or set it "
                                        "lower, before the brake levers are joined."}},
    [HP_FIT_LAW] = {.name = "law",
                    .title = "Law",
                    .rule =
                        "Power and speed of assisted cycles and small vehicles are limited by law.",
                    .sources = SIMULATED,
                    .advice = {[HP_LAW_LOOK] = "Look it up where you live."}},
};

const hp_fit_rule_words *hp_fit_words_of(hp_fit_rule_id rule)
{
    return &words[rule];
}

/* ---- figures --------------------------------------------------------------------------------- */

#define KM_H 3.6

static const hp_fit_figure_words figures[HP_FIT_WHAT_COUNT] = {
    [HP_FIT_FULL_V] = {"full_v", "battery full", "V", 1.0, NULL},
    [HP_FIT_EMPTY_V] = {"empty_v", "battery empty", "V", 1.0, NULL},
    [HP_FIT_MOST_V] = {"controller_most_v", "controller takes", "V", 1.0, NULL},
    [HP_FIT_CUT_OFF_V] = {"cut_off_v", "cut-out", "V", 1.0, NULL},
    [HP_FIT_SUPPLY_V] = {"supply_v", "stated", "V", 1.0, NULL},
    [HP_FIT_LEAST_V] = {"least_v", "at least", "V", 1.0, NULL},
    [HP_FIT_HIGHEST_V] = {"most_v", "at most", "V", 1.0, NULL},
    [HP_FIT_BATTERY_A] = {"battery_a", "battery current", "A", 1.0, NULL},
    [HP_FIT_PACK_A] = {"pack_a", "battery gives", "A", 1.0, NULL},
    [HP_FIT_FUSE_A] = {"fuse_a", "fuse", "A", 1.0, NULL},
    [HP_FIT_AMPACITY_A] = {"ampacity_a", "leads carry", "A", 1.0, NULL},
    [HP_FIT_SHORT_A] = {"short_circuit_a", "short circuit", "A", 1.0, "without limit"},
    [HP_FIT_BREAKING_A] = {"breaking_a", "fuse breaks", "A", 1.0, NULL},
    [HP_FIT_FUSE_V] = {"fuse_v", "fuse made for", "V", 1.0, NULL},
    [HP_FIT_PLUG_A] = {"plug_a", "plug carries", "A", 1.0, NULL},
    [HP_FIT_DROP_V] = {"drop_v", "lost", "V", 1.0, NULL},
    [HP_FIT_DROP_PERCENT] = {"drop_percent", "that is", "%", 100.0, NULL},
    [HP_FIT_LOSS_W] = {"loss_w", "heat", "W", 1.0, NULL},
    [HP_FIT_WARMING_K] = {"warming_k", "warmer by", "K", 1.0, NULL},
    [HP_FIT_PHASE_A] = {"phase_rms_a", "phase current", "A rms", 1.0, NULL},
    [HP_FIT_PHASE_MOST_A] = {"stalled_a", "stalled", "A", 1.0, NULL},
    [HP_FIT_DUTY_PERCENT] = {"duty_percent", "duty", "%", 100.0, NULL},
    [HP_FIT_OVER_DUTY_A] = {"battery_over_duty_a", "over duty", "A", 1.0, NULL},
    [HP_FIT_STEP_PERCENT] = {"speed_step_percent", "all at the speed step of", "% duty", 100.0,
                             NULL},
    [HP_FIT_SPEED_FULL] = {"full_km_h", "battery full", "km/h", KM_H, NULL},
    [HP_FIT_SPEED_EMPTY] = {"empty_km_h", "battery empty", "km/h", KM_H, NULL},
    [HP_FIT_WHEEL_W] = {"wheel_w", "at the wheel", "W", 1.0, NULL},
    [HP_FIT_EFFICIENCY] = {"efficiency_percent", "efficiency", "%", 100.0, NULL},
    [HP_FIT_STEEPEST] = {"steepest_percent", "steepest", "%", 100.0, NULL},
    [HP_FIT_RANGE_FULL_KM] = {"full_throttle_km", "full throttle", "km", 1e-3, "no limit"},
    [HP_FIT_RANGE_CRUISE_KM] = {"cruise_km", "for", "km", 1e-3, "no limit"},
    [HP_FIT_CRUISE_SPEED] = {"cruise_km_h", "at", "km/h", KM_H, NULL},
    [HP_FIT_WH_PER_KM] = {"wh_per_km", "taking", "Wh/km", 1.0 / KM_H, NULL},
    [HP_FIT_HOTTEST_C] = {"hottest_c", "hottest", "C", 1.0, NULL},
    [HP_FIT_LIMIT_C] = {"limit_c", "limit", "C", 1.0, NULL},
    [HP_FIT_HILL_MIN] = {"hill_min", "the hill takes", "min", 1.0 / 60.0, NULL},
    [HP_FIT_LIMIT_MIN] = {"limit_min", "the winding bears it", "min", 1.0 / 60.0, "for ever"},
    [HP_FIT_LASTING_SLOPE] = {"lasting_percent", "for ever up to", "%", 100.0, NULL},
    [HP_FIT_STALL_S] = {"stall_s", "too hot after", "s", 1.0, "never"},
    [HP_FIT_CUTOUT_S] = {"cutout_s", "cut-out after", "s", 1.0, NULL},
    [HP_FIT_TORQUE_NM] = {"torque_nm", "torque", "N m", 1.0, NULL},
    [HP_FIT_PRESSURE_MPA] = {"pressure_mpa", "pressure", "MPa", 1.0, NULL},
    [HP_FIT_ALLOWED_MPA] = {"allowed_mpa", "slots bear", "MPa", 1.0, NULL},
    [HP_FIT_COASTING] = {"rolling_km_h", "it rolls", "km/h", KM_H, NULL},
    [HP_FIT_PUSHING_SPEED] = {"charging_km_h", "charges above", "km/h", KM_H, NULL},
    [HP_FIT_CHARGE_A] = {"charge_a", "charging with", "A", 1.0, NULL},
    [HP_FIT_CHARGE_MOST_A] = {"charge_most_a", "battery takes", "A", 1.0, NULL},
    [HP_FIT_RAISED_V] = {"raised_v", "voltage rises to", "V", 1.0, NULL},
};

const hp_fit_figure_words *hp_fit_figure_words_of(hp_fit_what what)
{
    return &figures[what];
}

const char *hp_fit_lack_key(int bit)
{
    static const char *const key[HP_FIT_LACKS_BITS] = {
        "ratings.controller_most_v",
        "ratings.sensor_supply_v",
        "pack.current_limit_a",
        "fuse.rated_a",
        "fuse.breaking_a",
        "fuse.rated_v",
        "ratings.battery_connector_a",
        "cable.battery_mm2",
        "ratings.phase_connector_a",
        "cable.phase_mm2",
        "pack.capacity_ah",
        "axle.diameter_mm",
        "axle.flats_mm",
        "axle.engaged_mm",
        NULL, /* a correct wiring */
        NULL, /* sound parts */
    };
    return key[bit];
}

char *hp_fit_number(double value, char *out, size_t size)
{
    double size_of = fabs(value);
    int digits = size_of >= 99.95 ? 0 : size_of >= 9.995 ? 1 : 2;
    snprintf(out, size, "%.*f", digits, value);
    /* "42.0" is "42". */
    size_t length = strlen(out);
    while (digits > 0 && length > 1 && out[length - 1] == '0')
        out[--length] = '\0';
    if (digits > 0 && length > 1 && out[length - 1] == '.')
        out[--length] = '\0';
    return out;
}

static const char *number_or_endless(const hp_fit_figure_words *w, double value, char out[32])
{
    if (isfinite(value))
        return hp_fit_number(w->factor * value, out, 32);
    return w->endless ? w->endless : "no limit";
}

char *hp_fit_figure_text(const hp_fit_figure *f, char *out, size_t size)
{
    const hp_fit_figure_words *w = &figures[f->what];
    hp_phrase p = hp_phrase_begin(out, size);
    char value[32], low[32], high[32];
    hp_phrase_add(&p, "%s %s", w->words, number_or_endless(w, f->value, value));
    if (isfinite(f->value))
        hp_phrase_add(&p, " %s", w->unit);
    if (f->low != f->high)
        hp_phrase_add(&p, " (%s%s%s to %s)", number_or_endless(w, f->low, low),
                      isfinite(f->value) ? "" : " ", isfinite(f->value) ? "" : w->unit,
                      number_or_endless(w, f->high, high));
    return out;
}

char *hp_fit_figures_text(const hp_fit_line *line, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < line->figures; k++) {
        char text[160];
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%s", hp_fit_figure_text(&line->figure[k], text, sizeof text));
    }
    return out;
}

/* ---- what to do ------------------------------------------------------------------------------ */

static void add_missing(hp_phrase *p, unsigned missing, hp_fit_namer namer)
{
    bool first = true;
    for (int k = 0; k < HP_FIT_LACKS_BITS; k++) {
        const char *name = missing & 1u << k ? namer(k) : NULL;
        if (!name)
            continue;
        hp_phrase_add(p, "%s%s", first ? "Not stated: " : ", ", name);
        first = false;
    }
    if (!first)
        hp_phrase_add(p, ".");
    if (missing & HP_FIT_LACKS_SOUND)
        hp_phrase_add(p,
                      "%sNo wiring of these parts is correct: a Hall sensor or a lead is stated to "
                      "be faulty. Take that out of the scenario to see the machine once it is "
                      "mended.",
                      first ? "" : " ");
    else if (missing & HP_FIT_LACKS_CORRECT)
        hp_phrase_add(p, "%sNo wiring of these parts is correct: see the map of the 36.",
                      first ? "" : " ");
}

/* The two of three that change places; false where all three move. */
static bool exchanged(const int a[HP_PHASE_COUNT], const int b[HP_PHASE_COUNT], int pair[2])
{
    int count = 0;
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        if (a[j] != b[j] && count++ < 2)
            pair[count - 1] = a[j];
    return count == 2;
}

/* Which leads to exchange, by their names where those are known to sit on their axes. */
static void add_swap(hp_phrase *p, const hp_fit *fit, const hp_labels *labels)
{
    hp_wiring from = hp_wiring_from_number(fit->correct), to = hp_wiring_from_number(fit->reverse);
    int phase[2], sensor[2];
    if (!labels->axes_known) {
        hp_phrase_add(p, ": find the reverse wiring at the bench: the advice says how.");
        return;
    }
    hp_phrase_add(p, ", wiring %d in place of %d", fit->reverse, fit->correct);
    if (exchanged(from.phase, to.phase, phase) && exchanged(from.sensor, to.sensor, sensor))
        hp_phrase_add(p,
                      ": from the correct one exchange the motor's phase leads %s and %s, and its "
                      "Hall leads %s and %s",
                      labels->motor_lead[phase[0]], labels->motor_lead[phase[1]],
                      labels->motor_sensor[sensor[0]], labels->motor_sensor[sensor[1]]);
    hp_phrase_add(p, ".");
}

char *hp_fit_advice_text(const hp_fit *fit, const hp_fit_line *line, const hp_labels *labels,
                         hp_fit_namer namer, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    const char *advice = words[line->rule].advice[line->code];
    if (line->state == HP_FIT_UNKNOWN)
        add_missing(&p, line->missing, namer ? namer : hp_fit_lack_key);
    else if (advice)
        hp_phrase_add(&p, "%s", advice);
    if (line->rule == HP_FIT_MOUNTING && line->code == HP_MOUNT_SWAP)
        add_swap(&p, fit, labels);
    return out;
}

/* ---- the battery ----------------------------------------------------------------------------- */

char *hp_fit_battery_caution(hp_cell cell, char *out, size_t size)
{
    const hp_hazard_row *row =
        hp_hazard_row_of(cell == HP_CELL_LEAD ? HP_HAZARD_LEAD : HP_HAZARD_LITHIUM);
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s %s", row->caution.text, row->more.text);
    return out;
}

char *hp_fit_summary_text(const hp_fit *fit, char *out, size_t size)
{
    int count[HP_FIT_STATE_COUNT] = {0};
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++)
        count[fit->line[k].state]++;
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%d of %d lines are ok, %d to look at, %d to stop for, %d not known.%s",
                  count[HP_FIT_OK], HP_FIT_RULE_COUNT, count[HP_FIT_LOOK], count[HP_FIT_STOP],
                  count[HP_FIT_UNKNOWN], count[HP_FIT_STOP] ? " Do not ride it so." : "");
    return out;
}
