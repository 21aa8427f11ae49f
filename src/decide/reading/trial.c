/*
 * Trial: one wiring tried under power. What it is weighed against is the simulated ensemble
 * (weigh_trial.c).
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <stdio.h>

static const char *const motion_words[] = {"forward", "backward", "both", "hum",
                                           "shiver",  "still",    NULL};
static const char *const feed_words[] = {"battery", "bench_supply", "lamp", NULL};
static const char *const feel_words[] = {"smooth", "rough", "noisy", NULL};

/* No starts at all are worth noting once they were counted. */
static bool counted(const void *values)
{
    return ((const hp_trial *)values)->starts_tried > 0;
}

/* chosen: a limiter needs a moment, and may be stated too low. */
#define LIMITS_MOST 3.0

static const hp_field fields[] = {
    {.name = "wiring",
     .type = HP_FIELD_WIRING,
     .required = true,
     .offset = offsetof(hp_trial, wiring),
     .argument = "W",
     .help = "Wiring that was joined: its number 1 to 36, or \"Hall leads / phase leads\""},
    {.name = "throttle_percent",
     .from_throttle = true,
     .type = HP_FIELD_NUMBER,
     .required = true,
     .limits = {.unit = "%", .low = 0, .high = 100},
     .offset = offsetof(hp_trial, throttle),
     .factor = 0.01,
     .argument = "PERCENT",
     .help = "Throttle, 0 to 100 (the scenario's when not given)"},
    {.name = "motion",
     .type = HP_FIELD_CHOICE,
     .words = motion_words,
     .first = HP_MOVED_FORWARD,
     .offset = offsetof(hp_trial, motion),
     .argument = "MOTION",
     .help =
         "forward, backward, both (from some start positions forward, from others backward), hum "
         "(the hub hums, the wheel does not turn), shiver or still"},
    {.name = "feel",
     .type = HP_FIELD_CHOICE,
     .words = feel_words,
     .first = HP_FEEL_SMOOTH,
     .offset = offsetof(hp_trial, feel),
     .argument = "FEEL",
     .help = "smooth, rough or noisy"},
    {.name = "starts",
     .type = HP_FIELD_WHOLE,
     .limits = {.unit = "", .low = 0, .high = 100, .whole = true},
     .offset = offsetof(hp_trial, starts),
     .said = counted,
     .argument = "N",
     .help = "Start positions from which it started"},
    {.name = "starts_tried",
     .type = HP_FIELD_WHOLE,
     .limits = {.unit = "", .low = 1, .high = 100, .whole = true},
     .offset = offsetof(hp_trial, starts_tried),
     .argument = "N",
     .help = "Start positions that were tried"},
    {.name = "battery_a",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "A", .low = 0, .high = 1000},
     .usual = {.high = 300, .limit = LIMITS_MOST},
     .offset = offsetof(hp_trial, battery_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Current from the battery"},
    {.name = "wheel_speed_rpm",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "rpm", .low = 0, .high = HP_WHEEL_RPM_MAX},
     .usual = {.high = 3000},
     .offset = offsetof(hp_trial, wheel_rad_s),
     .factor = HP_RPM,
     .argument = "RPM",
     .help = "Speed of the wheel"},
    {.name = "cut_out",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_trial, cut_out),
     .argument = "YES-OR-NO",
     .help = "The controller cut out"},
    {.name = "warm",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_trial, warm),
     .argument = "YES-OR-NO",
     .help = "Winding or leads grew warm"},
    {.name = "fed_by",
     .type = HP_FIELD_CHOICE,
     .words = feed_words,
     .first = HP_FEED_BATTERY,
     .offset = offsetof(hp_trial, feed),
     .argument = "WHAT",
     .help = "What fed the controller: battery (when not given), bench_supply (limits its current) "
             "or lamp (in the battery's plus lead)"},
    {.name = "supply_limit_a",
     .type = HP_FIELD_NUMBER,
     .limits = {.unit = "A", .low = 0, .high = 1000, .above = true},
     .offset = offsetof(hp_trial, limit_a),
     .factor = 1,
     .argument = "AMPERES",
     .help = "Current limit that the bench supply was set to"},
    {.name = "limit_reached",
     .type = HP_FIELD_TELL,
     .offset = offsetof(hp_trial, limit_reached),
     .argument = "YES-OR-NO",
     .help = "Once the wheel has run up, or does not turn: the supply is at its limit, the lamp "
             "bright"},
    {.name = "throttle_signal_v",
     .type = HP_FIELD_NUMBER,
     .figure = true,
     .limits = {.unit = "V", .low = 0, .high = 60},
     .offset = offsetof(hp_trial, signal_v),
     .factor = 1,
     .argument = "VOLTS",
     .help = "Volts on the throttle's signal lead meanwhile"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_trial *t = values;
    t->wiring = hp_wiring_from_number(1);
    t->battery_a = t->wheel_rad_s = t->limit_a = t->signal_v = NAN;
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_trial *t = values;
    if (hp_wiring_number(&t->wiring) == 0)
        return hp_error_set(err, HP_FAIL_INPUT, "a wiring must join each lead once");
    hp_result result = hp_check_range(err, "throttle", t->throttle, 0.0, 1.0);
    if (result == HP_OK)
        result = hp_check_whole(err, "motion", (int)t->motion, 0, HP_MOVED_COUNT - 1);
    if (result == HP_OK)
        result = hp_check_whole(err, "feel", (int)t->feel, 0, HP_FEEL_COUNT - 1);
    if (result == HP_OK)
        result = hp_check_whole(err, "starts tried", t->starts_tried, 0, HP_STARTS_MAX);
    if (result == HP_OK && t->starts_tried > 0)
        result = hp_check_whole(err, "starts", t->starts, 0, t->starts_tried);
    if (result == HP_OK && !isnan(t->battery_a))
        result = hp_check_range(err, "battery current in A", t->battery_a, 0.0, 1000.0);
    if (result == HP_OK && !isnan(t->wheel_rad_s))
        result = hp_check_range(err, "wheel speed in rad/s", t->wheel_rad_s, 0.0, 1000.0);
    if (result == HP_OK && !isnan(t->limit_a))
        result = hp_check_range(err, "supply limit in A", t->limit_a, 1e-6, 1000.0);
    if (result == HP_OK && !isnan(t->signal_v))
        result = hp_check_range(err, "throttle signal in V", t->signal_v, 0.0, 60.0);
    if (result == HP_OK)
        result = hp_check_whole(err, "supply", (int)t->feed, 0, HP_FEED_COUNT - 1);
    if (result == HP_OK && t->limit_reached != HP_TELL_UNSAID && !hp_feed_limits(t->feed))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "the limit is said to be reached or not, yet nothing limits the "
                              "supply, must be a bench supply or a lamp");
    if (result == HP_OK && !isnan(t->limit_a) && t->feed != HP_FEED_BENCH_SUPPLY)
        result =
            hp_error_set(err, HP_FAIL_INPUT,
                         "a limit of %g A is said, must be that of a bench supply", t->limit_a);
    if (result != HP_OK || t->motion == HP_MOVED_UNSAID)
        return result;
    bool turned = t->motion != HP_MOVED_STILL && t->motion != HP_MOVED_SHIVER;
    if (!turned && t->wheel_rad_s > 0.0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it did not turn, yet the wheel has a speed, must be 0 or left out");
    if (turned && t->motion != HP_MOVED_HUM && t->wheel_rad_s <= 0.0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it turned, yet the wheel's speed is 0, must be above 0 or left out");
    if (t->starts_tried == 0)
        return HP_OK;
    if (turned && t->starts == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it turned, yet started from none of %d start positions",
                            t->starts_tried);
    if (!turned && t->starts > 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "it did not turn, yet started from %d start positions", t->starts);
    return HP_OK;
}

/* Whether it says anything of what was seen: what was joined, fed and turned up tells nothing. */
static bool says_something(const hp_trial *t)
{
    return t->motion != HP_MOVED_UNSAID || t->feel != HP_FEEL_UNSAID || t->starts_tried > 0 ||
           !isnan(t->battery_a) || !isnan(t->wheel_rad_s) || t->cut_out != HP_TELL_UNSAID ||
           t->warm != HP_TELL_UNSAID || t->limit_reached != HP_TELL_UNSAID;
}

/* chosen: no controller turns a wheel at so little, and no hand holds it. */
#define CLOSED 0.01
/* chosen: parts of it are a share of one that was written for a percentage. */
static bool is_a_share(double throttle)
{
    return throttle > 0.0 && throttle < CLOSED;
}

/* Starts and how many were tried belong together. */
static bool settle(const hp_settling *settling, const void *values)
{
    const hp_trial *t = values;
    char name[80], text[160];
    if (is_a_share(t->throttle)) {
        snprintf(text, sizeof text,
                 "is %.3g, must be 0 (closed) or 1 to 100: write %.3g if that was the share of "
                 "full throttle",
                 100.0 * t->throttle, 1e4 * t->throttle);
        settling->refuse(settling, "throttle_percent", "throttle_percent", text);
        return false;
    }
    if (!settling->given)
        return true;
    if (!says_something(t) &&
        !settling->given[hp_field_find(&hp_reading_trial, "starts") - fields]) {
        settling->refuse(settling, "motion", "wiring",
                         "is missing, must be there unless something else was seen: a feel, a "
                         "current, a speed");
        return false;
    }
    bool tried = t->starts_tried > 0;
    if (tried == settling->given[hp_field_find(&hp_reading_trial, "starts") - fields])
        return true;
    snprintf(text, sizeof text, "is missing, must be there beside %s",
             settling->name(settling, tried ? "starts_tried" : "starts", name, sizeof name));
    settling->refuse(settling, tried ? "starts" : "starts_tried", "starts", text);
    return false;
}

/* chosen: volts of a signal within so much of those at rest are those at rest. */
#define AT_REST_V 0.05

/* Trials are what all else is about, so who weighs, counts or tells them knows them: through this
 * alone. With the throttle closed no wiring is tried. */
const hp_trial *hp_entry_trial(const hp_entry *entry)
{
    bool tried = entry->reading == &hp_reading_trial && entry->trial.throttle > CLOSED;
    return tried ? &entry->trial : NULL;
}

/* ---- the throttle closed --------------------------------------------------------------------- */

const hp_danger hp_danger_runaway = {"drives_unasked", &hp_reading_trial};

static const hp_danger *const trial_dangers[] = {&hp_danger_runaway, NULL};

/* As it is said, or by its signal, whatever the hand meant. */
static bool is_closed(const hp_trial *t, const hp_plan_params *plan)
{
    return t->throttle <= CLOSED || (plan->rest_v > 0.0 && t->signal_v <= plan->rest_v + AT_REST_V);
}

static hp_tell danger(const void *values, const hp_danger *danger, const hp_plan_params *plan,
                      const hp_person *person)
{
    const hp_trial *t = values;
    (void)danger, (void)person;
    if (!is_closed(t, plan))
        return HP_TELL_UNSAID;
    if (t->motion == HP_MOVED_UNSAID)
        return t->wheel_rad_s > 0.0 || t->starts > 0 ? HP_TELL_YES : HP_TELL_UNSAID;
    return t->motion == HP_MOVED_STILL ? HP_TELL_NO : HP_TELL_YES;
}

/* Joined otherwise than written down: two phase leads are exchanged in the note. */
static void slip(hp_seen *seen, void *values)
{
    hp_trial *t = values;
    int stays = (int)hp_random_below(&seen->random, HP_PHASE_COUNT);
    int a = (stays + 1) % HP_PHASE_COUNT, b = (stays + 2) % HP_PHASE_COUNT;
    int kept = t->wiring.phase[a];
    t->wiring.phase[a] = t->wiring.phase[b];
    t->wiring.phase[b] = kept;
}

const hp_reading hp_reading_trial = {
    .name = "trial",
    .title = "trial",
    .size = sizeof(hp_trial),
    .fields = fields,
    .make = make,
    .check = check,
    .settle = settle,
    .advised_as = HP_ADVICE_TRY,
    .speaks_of = trial_dangers,
    .danger = danger,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .see = hp_see_trial,
    .slip = slip,
};
