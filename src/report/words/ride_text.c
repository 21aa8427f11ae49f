/* Controls in words: see the header. */
#include "report/words/ride_text.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "hubphase/report/tables.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <string.h>

#define INDENT 8

/* ---- actions --------------------------------------------------------------------------------- */

static const char *lead_words(int lead)
{
    static const char *const words[HP_CONTROL_LEAD_COUNT] = {
        "supply lead of the throttle", "ground lead of the throttle",
        "signal lead of the throttle", "brake lead",
        "lead of the pedal sensor",    "lead of the speed switch"};
    return words[lead];
}

char *hp_action_words(const hp_action *a, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    switch (a->kind) {
    case HP_ACTION_KEY: hp_phrase_add(&p, "key %s", a->value != 0.0 ? "on" : "off"); break;
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

/* Why nothing drives; "" where there is nothing to say. */
static const char *reason_words(hp_control_reason reason)
{
    static const char *const words[HP_CONTROL_REASON_COUNT] = {
        [HP_CONTROL_DRIVES] = "",
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
        [HP_WHAT_IF_OPEN_GRIP] = "Key switched on with the grip open",
        [HP_WHAT_IF_BRAKE] = "Brake lever pulled while the motor runs",
        [HP_WHAT_IF_BRAKE_LEAD] = "Brake lever pulled, but its lead is off",
        [HP_WHAT_IF_THROTTLE_SUPPLY] = "Supply lead of the throttle comes off while the motor runs",
        [HP_WHAT_IF_THROTTLE_GROUND] = "Ground lead of the throttle comes off while the motor runs",
        [HP_WHAT_IF_THROTTLE_SIGNAL] = "Signal lead of the throttle comes off while the motor runs",
        [HP_WHAT_IF_REST_SUPPLY] = "Supply lead of the throttle comes off, grip let go",
        [HP_WHAT_IF_REST_GROUND] = "Ground lead of the throttle comes off, grip let go",
        [HP_WHAT_IF_REST_SIGNAL] = "Signal lead of the throttle comes off, grip let go",
        [HP_WHAT_IF_PEDALS_STOP] = "Pedals stop",
        [HP_WHAT_IF_PEDALS_BACK] = "Pedals turned backward",
        [HP_WHAT_IF_PEDAL_SIDE] = "Pedal sensor mounted on the other side, pedalled forward",
        [HP_WHAT_IF_PEDAL_LEAD] = "Lead of the pedal sensor comes off while the motor runs",
        [HP_WHAT_IF_SPEED_LEAD] = "Lead of the speed switch comes off while the motor runs",
    };
    hp_phrase p = hp_phrase_begin(out, size);
    if (what == HP_WHAT_IF_BRAKE_SORT)
        hp_phrase_add(&p, "Brake switch of the other sort (normally %s), lever pulled",
                      c->brake.fitted == HP_SWITCH_NORMALLY_OPEN ? "closed" : "open");
    else if (what == HP_WHAT_IF_BRAKE_LEVEL)
        hp_phrase_add(&p, "Brake switch that joins to %s instead, lever pulled",
                      c->brake.joins == HP_LEVEL_GROUND ? "volts" : "ground");
    else
        hp_phrase_add(&p, "%s", title[what]);
    return out;
}

const char *hp_what_if_remedy(hp_what_if what, hp_outcome outcome)
{
    static const char throttle[] =
        "Guard these leads: a plug that latches, no pull on the cable. A controller that looks at "
        "the "
        "throttle's volts stays off. Keep a switch within reach that cuts the battery.";
    static const char brake[] = "Do not ride like this. Take the sort of switch, and the level, "
                                "that the controller is made "
                                "for.";
    static const char pedals[] = "Do not ride before the drive stops with the pedals.";
    static const char *const remedy[HP_WHAT_IF_COUNT] = {
        [HP_WHAT_IF_KEY_OFF] = "Do not ride without a switch that stops the drive.",
        [HP_WHAT_IF_OPEN_GRIP] = "Let the grip spring back before the key is switched on, always.",
        [HP_WHAT_IF_BRAKE] = brake,
        [HP_WHAT_IF_BRAKE_SORT] = brake,
        [HP_WHAT_IF_BRAKE_LEVEL] = brake,
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
        [HP_WHAT_IF_PEDAL_LEAD] = pedals,
        [HP_WHAT_IF_SPEED_LEAD] = "Know of it: a lead that comes off gives another speed.",
    };
    hp_finding finding = hp_what_if_finding(what, outcome);
    return finding == HP_FINDING_GOOD ? "" : remedy[what];
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

/* What was reckoned with. */
static void print_controls(const hp_controls_params *c, const hp_screen *out)
{
    char text[600];
    const hp_throttle_params *t = &c->throttle;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%.3g to %.3g V of %.3g V; the controller starts at %.3g V, all from %.3g V",
                  t->rest_v, t->full_v, t->supply_v, t->starts_v, t->saturates_v);
    if (t->fault_low_v > 0.0)
        hp_phrase_add(&p, ", taken for broken below %.3g V", t->fault_low_v);
    if (t->fault_high_v > 0.0)
        hp_phrase_add(&p, ", taken for broken above %.3g V", t->fault_high_v);
    if (t->fault_low_v == 0.0 && t->fault_high_v == 0.0)
        hp_phrase_add(&p, ", and does not look whether the throttle is broken");
    hp_phrase_add(&p,
                  "; without its supply lead it sees %.3g V, without ground %.3g V, without signal "
                  "%.3g V",
                  t->lost_supply_v, t->lost_ground_v, t->lost_signal_v);
    hp_text_fill(out, "Throttle", HP_PARTS_INDENT, text);
    p = hp_phrase_begin(text, sizeof text);
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
    else
        hp_phrase_add(&p, "wiring %d if each lead sat where the scenario lists it",
                      hp_wiring_number(wiring));
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

void hp_what_if_print(const hp_report_case *subject, const hp_wiring *wiring,
                      const hp_controls_params *controls, const hp_what_if_result *result,
                      int count, const hp_screen *out)
{
    char title[HP_RIDE_WORDS], words[HP_RIDE_WORDS], text[2 * HP_RIDE_WORDS + 80], mark[16];
    print_head(subject, wiring, controls, out);
    fputs("\nWhat if\n", out->file);
    for (int k = 0; k < count; k++) {
        hp_what_if what = result[k].what;
        const hp_moment *moment = &result[k].moment;
        hp_finding finding = hp_what_if_finding(what, moment->outcome);
        snprintf(mark, sizeof mark, "  %s", hp_finding_name(finding));
        snprintf(text, sizeof text, "%s: %s. (%s)",
                 hp_what_if_title(what, controls, title, sizeof title),
                 hp_moment_words(moment, words, sizeof words), hp_what_if_name(what));
        hp_text_fill(out, mark, INDENT, text);
        const char *remedy = hp_what_if_remedy(what, moment->outcome);
        bool last = true; /* told once, under the last of those that have it */
        for (int later = k + 1; later < count; later++)
            last = last &&
                   remedy != hp_what_if_remedy(result[later].what, result[later].moment.outcome);
        if (remedy[0] && last)
            hp_text_fill(out, "", INDENT, remedy);
    }
    print_end(out);
}

void hp_course_print(const hp_report_case *subject, const hp_wiring *wiring,
                     const hp_controls_params *stated, const hp_course_run *run,
                     const hp_what_if_result *about, const hp_screen *out)
{
    char words[HP_RIDE_WORDS], action[120], text[2 * HP_RIDE_WORDS], mark[24];
    print_head(subject, wiring, &run->controls, out);
    fputc('\n', out->file);
    if (about) {
        hp_what_if_title(about->what, stated, text, sizeof text);
        hp_text_fill(out, "What if", HP_PARTS_INDENT, text);
    }
    for (int k = 0; k < run->moments; k++) {
        const hp_moment *m = &run->moment[k];
        snprintf(mark, sizeof mark, "%7.2f s", m->action.time);
        snprintf(text, sizeof text, "%s: %s", hp_action_words(&m->action, action, sizeof action),
                 hp_moment_words(m, words, sizeof words));
        hp_text_fill(out, mark, HP_PARTS_INDENT, text);
    }
    if (about) {
        hp_finding finding = hp_what_if_finding(about->what, about->moment.outcome);
        const char *remedy = hp_what_if_remedy(about->what, about->moment.outcome);
        fputc('\n', out->file);
        snprintf(text, sizeof text, "%s%s%s", hp_finding_name(finding), remedy[0] ? ". " : "",
                 remedy);
        hp_text_fill(out, "Finding", HP_PARTS_INDENT, text);
    }
    print_end(out);
}
