/* Controls in words: see the header. */
#include "report/words/ride_text.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "hubphase/report/tables.h"
#include "report/words/control_words.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <string.h>

#define INDENT      8
#define WIDE_INDENT 12 /* where a finding is a longer word */

/* ---- actions --------------------------------------------------------------------------------- */

static const char *lead_words(int lead)
{
    static const char *const words[HP_CONTROL_LEAD_COUNT] = {
        "supply lead of the throttle", "ground lead of the throttle",
        "signal lead of the throttle", "brake lead",
        "lead of the pedal sensor",    "lead of the speed switch"};
    return words[lead];
}

char *hp_action_words(const hp_action *a, const hp_controls_params *c, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    switch (a->kind) {
    case HP_ACTION_KEY:
        hp_phrase_add(&p, "%s %s", c->key ? "key" : "battery", a->value != 0.0 ? "on" : "off");
        break;
    case HP_ACTION_GRIP:
        if (a->value > 0.0)
            hp_phrase_add(&p, "grip to %.3g %%", 100.0 * a->value);
        else
            hp_phrase_add(&p, "grip let go");
        break;
    case HP_ACTION_LEVER:
        hp_phrase_add(&p, "brake lever %s", a->value != 0.0 ? "pulled" : "let go");
        break;
    case HP_ACTION_PEDALS:
        if (a->value == 0.0)
            hp_phrase_add(&p, "pedals stop");
        else
            hp_phrase_add(&p, "pedals %s, %.3g turns/min", a->value > 0.0 ? "forward" : "backward",
                          60.0 * fabs(a->value));
        break;
    case HP_ACTION_SPEED: hp_phrase_add(&p, "speed switch to %.0f", a->value); break;
    case HP_ACTION_LEAD_OFF:
    case HP_ACTION_LEAD_ON:
        hp_phrase_add(&p, "%s %s", lead_words((int)a->value),
                      a->kind == HP_ACTION_LEAD_OFF ? "comes off" : "joined again");
        break;
    case HP_ACTION_KIND_COUNT: break;
    }
    return out;
}

/* ---- outcomes -------------------------------------------------------------------------------- */

/* Shorter than a millisecond nobody measures by a lever. */
static void add_time(hp_phrase *p, double seconds)
{
    if (seconds < 0.0995)
        hp_phrase_add(p, "%.2g ms", fmax(1.0, 1e3 * seconds));
    else
        hp_phrase_add(p, "%.2g s", seconds);
}

/* Why nothing drives. */
static const char *reason_words(hp_control_reason reason)
{
    static const char *const words[HP_CONTROL_REASON_COUNT] = {
        [HP_CONTROL_DRIVES] = "no current flows though it is asked for",
        [HP_CONTROL_KEY] = "the key is off",
        [HP_CONTROL_BRAKE] = "the controller reads a pulled brake",
        [HP_CONTROL_FAULT] = "the controller takes the throttle for broken",
        [HP_CONTROL_OPEN] = "the controller wants to see the grip let go first",
        [HP_CONTROL_PEDALS] = "the controller sees no pedals turning forward",
        [HP_CONTROL_REST] = "the controller sees nothing asked for",
    };
    return words[reason];
}

static double rpm(double speed)
{
    return fabs(speed) / HP_RPM;
}

static void add_stop(hp_phrase *p, const hp_moment *m)
{
    hp_phrase_add(p, "the motor stops pulling within ");
    add_time(p, m->no_torque_s);
    if (m->standstill_s < (double)INFINITY) {
        hp_phrase_add(p, ", the wheel stands after ");
        add_time(p, m->standstill_s);
    } else {
        hp_phrase_add(p, ", the wheel still coasts at %.0f rev/min when this ends",
                      rpm(m->wheel_after));
    }
    if (m->reason == HP_CONTROL_FAULT)
        hp_phrase_add(p, " (%s)", reason_words(m->reason));
}

static void add_start(hp_phrase *p, const hp_moment *m)
{
    double speed = rpm(m->wheel_after);
    if (m->action.kind == HP_ACTION_LEVER && m->action.value != 0.0)
        hp_phrase_add(p,
                      "it works the wrong way round, off with the lever let go, pulling with it "
                      "pulled (%.0f rev/min)",
                      speed);
    else if (m->action.kind == HP_ACTION_LEAD_OFF)
        hp_phrase_add(p, "it starts by itself and runs up to %.0f rev/min", speed);
    else if (m->action.kind == HP_ACTION_KEY)
        hp_phrase_add(p, "it drives off at once, up to %.0f rev/min", speed);
    else
        hp_phrase_add(p, "it drives, %.0f rev/min", speed);
}

static void add_change(hp_phrase *p, const hp_moment *m)
{
    bool faster = m->outcome == HP_OUTCOME_FASTER;
    hp_phrase_add(p, "it %s from %.0f to %.0f rev/min%s", faster ? "runs up" : "slows down",
                  rpm(m->wheel_before), rpm(m->wheel_after),
                  faster && m->duty_after > 0.999 ? ", full throttle" : "");
}

static void add_off(hp_phrase *p, const hp_moment *m)
{
    bool always = m->action.kind == HP_ACTION_LEVER && m->reason == HP_CONTROL_BRAKE;
    hp_phrase_add(p, "it %s drive%s (%s%s)", always ? "never" : "does not", always ? "s" : "",
                  reason_words(m->reason), always ? " all the time" : "");
}

char *hp_moment_words(const hp_moment *m, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    bool pulled = m->action.kind == HP_ACTION_LEVER && m->action.value != 0.0;
    switch (m->outcome) {
    case HP_OUTCOME_STAYS_OFF: add_off(&p, m); break;
    case HP_OUTCOME_STARTS: add_start(&p, m); break;
    case HP_OUTCOME_STOPS: add_stop(&p, m); break;
    case HP_OUTCOME_GOES_ON:
        hp_phrase_add(&p, "%s goes on pulling at %.0f rev/min",
                      pulled ? "the lever does nothing, the motor" : "the motor",
                      rpm(m->wheel_after));
        break;
    case HP_OUTCOME_FASTER:
    case HP_OUTCOME_SLOWER: add_change(&p, m); break;
    case HP_OUTCOME_COUNT: break;
    }
    return out;
}

/* ---- what if --------------------------------------------------------------------------------- */

char *hp_what_if_title(hp_what_if what, const hp_controls_params *c, char *out, size_t size)
{
    static const char *const title[HP_WHAT_IF_COUNT] = {
        [HP_WHAT_IF_KEY_OFF] = "Key switched off while the motor runs",
        [HP_WHAT_IF_BRAKE] = "Brake lever pulled while the motor runs",
        [HP_WHAT_IF_BRAKE_LEAD] = "Brake lever pulled, but its lead is off",
        [HP_WHAT_IF_THROTTLE_SUPPLY] = "Supply lead of the throttle comes off while the motor runs",
        [HP_WHAT_IF_THROTTLE_GROUND] = "Ground lead of the throttle comes off while the motor runs",
        [HP_WHAT_IF_THROTTLE_SIGNAL] = "Signal lead of the throttle comes off while the motor runs",
        [HP_WHAT_IF_REST_SUPPLY] = "Supply lead of the throttle comes off, grip let go",
        [HP_WHAT_IF_REST_GROUND] = "Ground lead of the throttle comes off, grip let go",
        [HP_WHAT_IF_REST_SIGNAL] = "Signal lead of the throttle comes off, grip let go",
        [HP_WHAT_IF_PEDALS_STOP] = "Pedals stop",
        [HP_WHAT_IF_PEDALS_BACK] = "Pedals turned backward, or the machine pushed back",
        [HP_WHAT_IF_PEDAL_SIDE] = "Pedal sensor mounted on the other side, pedalled forward",
        [HP_WHAT_IF_PEDAL_SIDE_BACK] = "Pedal sensor mounted on the other side, pedals turned "
                                       "backward or the machine pushed back",
        [HP_WHAT_IF_PEDAL_LEAD] = "Lead of the pedal sensor comes off while the motor runs",
        [HP_WHAT_IF_SPEED_LEAD] = "Lead of the speed switch comes off while the motor runs",
    };
    hp_phrase p = hp_phrase_begin(out, size);
    if (what == HP_WHAT_IF_OPEN_GRIP)
        hp_phrase_add(&p, "%s switched on with the grip open", c->key ? "Key" : "Battery");
    else if (what == HP_WHAT_IF_BRAKE_SORT)
        hp_phrase_add(&p, "Brake switch of the other sort (normally %s), lever pulled",
                      c->brake.fitted == HP_SWITCH_NORMALLY_OPEN ? "closed" : "open");
    else if (what == HP_WHAT_IF_BRAKE_LEVEL)
        hp_phrase_add(&p, "Brake switch that joins to %s instead, lever pulled",
                      c->brake.joins == HP_LEVEL_GROUND ? "volts" : "ground");
    else
        hp_phrase_add(&p, "%s", title[what]);
    return out;
}

/* What holds it off, and what is to be put right. */
static const char *hold_words(hp_hold hold)
{
    static const char *const words[HP_HOLD_COUNT] = {
        [HP_HOLD_NOTHING] = "",
        [HP_HOLD_BRAKE] = "the brake input holds the drive off",
        [HP_HOLD_THROTTLE_FAULT] =
            "the controller takes the throttle for broken and holds the drive off",
        [HP_HOLD_THROTTLE_OPEN] = ("the controller waits for a throttle that is let go, and never "
                                   "sees it so"),
        [HP_HOLD_THROTTLE_REST] = "half a grip asks for nothing yet",
        [HP_HOLD_PEDALS] = "the pedal sensor does not let it drive",
        [HP_HOLD_MOTOR] = "the controller lets it drive, and the wheel does not run",
    };
    return words[hold];
}

/* Which parts were put right; those of the throttle are one. */
static void add_parts(hp_phrase *p, unsigned put_right)
{
    const unsigned throttle =
        1u << HP_HOLD_THROTTLE_FAULT | 1u << HP_HOLD_THROTTLE_OPEN | 1u << HP_HOLD_THROTTLE_REST;
    const struct {
        unsigned set;
        const char *words;
    } part[] = {{1u << HP_HOLD_BRAKE, "the brake"},
                {throttle, "the throttle"},
                {1u << HP_HOLD_PEDALS, "the pedal sensor"}};
    const char *between = "";
    for (size_t k = 0; k < sizeof part / sizeof part[0]; k++)
        if (put_right & part[k].set) {
            hp_phrase_add(p, "%s%s", between, part[k].words);
            between = " and ";
        }
}

char *hp_what_if_shown_title(const hp_what_if_result *result, const hp_controls_params *c,
                             char *out, size_t size)
{
    char title[HP_RIDE_WORDS];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s", hp_what_if_title(result->what, c, title, sizeof title));
    if (result->put_right) {
        hp_phrase_add(&p, " (with ");
        add_parts(&p, result->put_right);
        hp_phrase_add(&p, " mended)");
    }
    return out;
}

char *hp_what_if_shown_note(const hp_what_if_result *result, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    if (result->put_right)
        hp_phrase_add(&p, "As it is, %s; nothing would be seen.", hold_words(result->hold));
    return out;
}

char *hp_what_if_words(const hp_what_if_result *result, char *out, size_t size)
{
    char words[HP_RIDE_WORDS];
    hp_phrase p = hp_phrase_begin(out, size);
    if (hp_what_if_drives_already(result)) {
        hp_phrase_add(&p, "it drives before that, with the grip let go, at %.0f rev/min",
                      rpm(result->moment.wheel_before));
        return out;
    }
    if (result->hold == HP_HOLD_NOTHING)
        return hp_moment_words(&result->moment, out, size);
    hp_phrase_add(&p, "cannot be told: %s; put that right first", hold_words(result->hold));
    if (!result->put_right)
        return out;
    hp_what_if_result right = hp_what_if_once_right(result);
    hp_phrase_add(&p, ". With ");
    add_parts(&p, result->put_right);
    hp_phrase_add(&p, " right (simulated), %s: %s", hp_finding_name(hp_what_if_finding(&right)),
                  hp_what_if_words(&right, words, sizeof words));
    return out;
}

static const char *case_remedy(hp_what_if what)
{
    static const char throttle[] =
        "Guard these leads: a plug that latches, no pull on the cable. A controller that looks at "
        "the "
        "throttle's volts stays off. Keep a switch within reach that cuts the battery.";
    static const char brake[] = "Do not ride like this. Take the sort of switch, and the level, "
                                "that the controller is made "
                                "for.";
    static const char another[] =
        "Try each lever, wheel lifted: one that stops the drive is of the "
        "right sort. A new switch must be of the sort, and the level, "
        "that the controller is made for.";
    static const char pedals[] = "Do not ride before the drive stops with the pedals.";
    static const char *const remedy[HP_WHAT_IF_COUNT] = {
        [HP_WHAT_IF_KEY_OFF] = "Do not ride without a switch that stops the drive.",
        [HP_WHAT_IF_OPEN_GRIP] =
            "Let the grip spring back before the power is switched on, always.",
        [HP_WHAT_IF_BRAKE] = brake,
        [HP_WHAT_IF_BRAKE_SORT] = another,
        [HP_WHAT_IF_BRAKE_LEVEL] = another,
        [HP_WHAT_IF_BRAKE_LEAD] =
            ("Nothing tells that the lead is off: try the lever, wheel lifted, before each ride. A "
             "normally closed switch, where the controller is made for it, would tell."),
        [HP_WHAT_IF_THROTTLE_SUPPLY] = throttle,
        [HP_WHAT_IF_THROTTLE_GROUND] = throttle,
        [HP_WHAT_IF_THROTTLE_SIGNAL] = throttle,
        [HP_WHAT_IF_REST_SUPPLY] = throttle,
        [HP_WHAT_IF_REST_GROUND] = throttle,
        [HP_WHAT_IF_REST_SIGNAL] = throttle,
        [HP_WHAT_IF_PEDALS_STOP] = pedals,
        [HP_WHAT_IF_PEDALS_BACK] =
            "It drives with the pedals turned backward too: know of it when you push the machine.",
        [HP_WHAT_IF_PEDAL_SIDE] = "If pedalling does nothing, mount the sensor on the other side "
                                  "of its ring, or turn the "
                                  "ring round.",
        [HP_WHAT_IF_PEDAL_SIDE_BACK] =
            ("A machine that does this must not be ridden, and not be pushed back with its battery "
             "on. Try it, wheel lifted, with the pedals turned backward by hand: if it drives, "
             "mount the sensor on the other side of its ring, or turn the ring round."),
        [HP_WHAT_IF_PEDAL_LEAD] = pedals,
        [HP_WHAT_IF_SPEED_LEAD] = "Know of it: a lead that comes off gives another speed.",
    };
    return remedy[what];
}

/* What to do about the part that holds the drive off. */
static const char *hold_remedy(hp_hold hold)
{
    static const char throttle[] = "Put the throttle right first: a grip whose volts, let go and "
                                   "open, suit what the controller looks for.";
    static const char *const remedy[HP_HOLD_COUNT] = {
        [HP_HOLD_NOTHING] = "",
        [HP_HOLD_BRAKE] = "Put the brake right first: the sort of switch, and the level, that the "
                          "controller is made for.",
        [HP_HOLD_THROTTLE_FAULT] = throttle,
        [HP_HOLD_THROTTLE_OPEN] = throttle,
        [HP_HOLD_THROTTLE_REST] = throttle,
        [HP_HOLD_PEDALS] = "Put the pedal sensor right first: on the side of its ring, and with "
                           "the pulses, that the controller looks for.",
        [HP_HOLD_MOTOR] = "Find out first why it does not run: the wiring, the battery, the "
                          "controller's low-voltage cut-off.",
    };
    return remedy[hold];
}

const char *hp_what_if_remedy(const hp_what_if_result *result)
{
    if (result->hold != HP_HOLD_NOTHING)
        return hold_remedy(result->hold);
    if (hp_what_if_finding(result) == HP_FINDING_GOOD)
        return "";
    if (result->lacks)
        return "There is no brake cut-off: " HP_WITHOUT_CUT_OFF ".";
    if (result->what == HP_WHAT_IF_PEDALS_BACK && result->moment.outcome == HP_OUTCOME_STARTS)
        return "Do not ride it, and do not push it back with its battery on. Mount the sensor on "
               "the other side of its ring, or turn the ring round.";
    return hp_what_if_drives_already(result)
               ? "Do not ride like this. Let go, the grip must give less than the volts at which "
                 "the controller starts."
               : case_remedy(result->what);
}

const char *hp_what_if_later_remedy(const hp_what_if_result *result)
{
    if (!result->put_right)
        return "";
    hp_what_if_result right = hp_what_if_once_right(result);
    return hp_what_if_remedy(&right);
}

/* ---- text ------------------------------------------------------------------------------------ */

static const char *switch_words(hp_brake_switch fitted)
{
    static const char *const words[HP_SWITCH_COUNT] = {"normally open", "normally closed", "none"};
    return words[fitted];
}

static const char *level_words(hp_level level)
{
    return level == HP_LEVEL_GROUND ? "ground" : "volts";
}

static void print_throttle(const hp_throttle_params *t, const hp_screen *out)
{
    char text[600];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    if (!t->fitted) {
        hp_text_fill(out, "Throttle", HP_PARTS_INDENT, "none: the pedals alone drive it");
        return;
    }
    hp_phrase_add(&p, "%.3g to %.3g V of %.3g V; the controller starts at %.3g V, all from %.3g V",
                  t->rest_v, t->full_v, t->supply_v, t->starts_v, t->saturates_v);
    if (t->fault_low_v > 0.0)
        hp_phrase_add(&p, ", taken for broken below %.3g V", t->fault_low_v);
    if (t->fault_high_v > 0.0)
        hp_phrase_add(&p, ", taken for broken above %.3g V", t->fault_high_v);
    if (t->fault_low_v == 0.0 && t->fault_high_v == 0.0 && !t->stops_lost)
        hp_phrase_add(&p, ", and does not look whether the throttle is broken");
    if (t->stops_lost)
        hp_phrase_add(&p, "; with any of its leads off it stops, as was tried on the machine");
    else
        hp_phrase_add(&p,
                      "; without its supply lead it sees %.3g V, without ground %.3g V, without "
                      "signal %.3g V",
                      t->lost_supply_v, t->lost_ground_v, t->lost_signal_v);
    hp_text_fill(out, "Throttle", HP_PARTS_INDENT, text);
}

/* What was reckoned with. */
static void print_controls(const hp_controls_params *c, const hp_screen *out)
{
    char text[600];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    if (!c->key)
        hp_text_fill(out, "Key", HP_PARTS_INDENT, "none: the battery's own switch or plug is all");
    print_throttle(&c->throttle, out);
    if (c->brake.fitted == HP_SWITCH_NONE)
        hp_phrase_add(&p, "no switch in the lever");
    else
        hp_phrase_add(&p, "%s switch to %s", switch_words(c->brake.fitted),
                      level_words(c->brake.joins));
    hp_phrase_add(&p, "; the controller is made for a %s one to %s", switch_words(c->brake.expects),
                  level_words(c->brake.expects_at));
    hp_text_fill(out, "Brake", HP_PARTS_INDENT, text);
    if (c->pedal.mode == HP_PEDAL_NONE)
        return;
    snprintf(
        text, sizeof text,
        "%d pulses a turn, %.3g %% of each high; %s after %d pulses, off %.3g s after the last",
        c->pedal.pulses_per_turn, 100.0 * c->pedal.high_share,
        c->pedal.mode == HP_PEDAL_DRIVES ? "drives" : "lets the throttle work",
        c->pedal.start_pulses, c->pedal.off_s);
    hp_text_fill(out, "Pedals", HP_PARTS_INDENT, text);
}

static void print_head(const hp_report_case *subject, const hp_wiring *wiring,
                       const hp_controls_params *controls, const hp_screen *out)
{
    char text[200], clean[sizeof subject->labels->machine];
    hp_text_clean(subject->labels->machine, clean, sizeof clean);
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%s%swheel lifted, ", clean, clean[0] ? ", " : "");
    if (subject->labels->axes_known)
        hp_phrase_add(&p, "wiring %d", hp_wiring_number(wiring));
    else /* its number would tell nobody which lead goes where */
        hp_phrase_add(&p, "a correct wiring, whichever leads it takes");
    hp_text_fill(out, "Machine", HP_PARTS_INDENT, text);
    print_controls(controls, out);
}

static void print_end(const hp_screen *out)
{
    fputc('\n', out->file);
    hp_text_fill(out, "", 0,
                 "This follows from the values above; what the scenario does not state is common "
                 "practice, and the worse where it is not known. Try each on the machine itself, "
                 "wheel lifted, before it is ridden.");
    fputc('\n', out->file);
    hp_cautions_print(out);
}

typedef const char *remedy_of(const hp_what_if_result *result);

/* Told once, under the last of those that have it. */
static void print_remedy(const hp_what_if_result *result, int k, int count, remedy_of *of,
                         int indent, const hp_screen *out)
{
    const char *remedy = of(&result[k]);
    bool last = true;
    for (int later = k + 1; later < count; later++)
        last = last && remedy != of(&result[later]);
    if (remedy[0] && last)
        hp_text_fill(out, "", indent, remedy);
}

/* Those that suppose another part than is stated, or the others, under a title of their own. */
static void print_group(const hp_controls_params *controls, const hp_what_if_result *result,
                        int count, bool supposed, const hp_screen *out)
{
    char title[HP_RIDE_WORDS], words[HP_RIDE_WORDS], text[2 * HP_RIDE_WORDS + 80], mark[16];
    hp_what_if_result group[HP_WHAT_IF_COUNT];
    int indent = INDENT, members = 0;
    for (int k = 0; k < count; k++) {
        if (hp_what_if_finding(&result[k]) == HP_FINDING_UNTESTED)
            indent = WIDE_INDENT;
        if (hp_what_if_supposes(result[k].what) == supposed)
            group[members++] = result[k];
    }
    if (members > 0)
        fprintf(out->file, "\n%s\n",
                supposed ? "If a part were another than is stated" : "What if");
    for (int k = 0; k < members; k++) {
        hp_what_if what = group[k].what;
        snprintf(mark, sizeof mark, "  %s", hp_finding_name(hp_what_if_finding(&group[k])));
        snprintf(text, sizeof text, "%s: %s. (%s)",
                 hp_what_if_title(what, controls, title, sizeof title),
                 hp_what_if_words(&group[k], words, sizeof words), hp_what_if_name(what));
        hp_text_fill(out, mark, indent, text);
        print_remedy(group, k, members, hp_what_if_remedy, indent, out);
        print_remedy(group, k, members, hp_what_if_later_remedy, indent, out);
    }
}

void hp_what_if_print(const hp_report_case *subject, const hp_wiring *wiring,
                      const hp_controls_params *controls, const hp_what_if_result *result,
                      int count, const hp_screen *out)
{
    print_head(subject, wiring, controls, out);
    print_group(controls, result, count, false, out);
    print_group(controls, result, count, true, out);
    print_end(out);
}

/* "Stop. Do not ride like this ...": what was found, why it cannot be told, what to do. */
char *hp_what_if_conclusion(const hp_what_if_result *result, char *out, size_t size)
{
    char words[HP_RIDE_WORDS];
    const char *remedy = hp_what_if_remedy(result), *later = hp_what_if_later_remedy(result);
    bool plain = result->hold == HP_HOLD_NOTHING && !hp_what_if_drives_already(result);
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s", hp_finding_name(hp_what_if_finding(result)));
    if (!plain)
        hp_phrase_add(&p, ", %s", hp_what_if_words(result, words, sizeof words));
    if (remedy[0])
        hp_phrase_add(&p, ". %s", remedy);
    if (later[0])
        hp_phrase_add(&p, "%s %s", remedy[0] ? "" : ".", later);
    return out;
}

void hp_course_print(const hp_report_case *subject, const hp_wiring *wiring,
                     const hp_controls_params *stated, const hp_course_run *run,
                     const hp_what_if_result *about, const hp_screen *out)
{
    char words[HP_RIDE_WORDS], action[120], text[2 * HP_RIDE_WORDS], mark[24];
    print_head(subject, wiring, &run->controls, out);
    fputc('\n', out->file);
    if (about) {
        hp_what_if_shown_title(about, stated, text, sizeof text);
        hp_text_fill(out, "What if", HP_PARTS_INDENT, text);
        if (about->put_right)
            hp_text_fill(out, "", HP_PARTS_INDENT, hp_what_if_shown_note(about, text, sizeof text));
    }
    for (int k = 0; k < run->moments; k++) {
        const hp_moment *m = &run->moment[k];
        snprintf(mark, sizeof mark, "%7.2f s", m->action.time);
        snprintf(text, sizeof text, "%s: %s",
                 hp_action_words(&m->action, &run->controls, action, sizeof action),
                 hp_moment_words(m, words, sizeof words));
        hp_text_fill(out, mark, HP_PARTS_INDENT, text);
    }
    if (about) {
        fputc('\n', out->file);
        hp_what_if_conclusion(about, text, sizeof text);
        hp_text_fill(out, "Finding", HP_PARTS_INDENT, text);
    }
    print_end(out);
}
