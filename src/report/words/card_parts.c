/* Pieces of step words: see the header. */
#include "report/words/card_parts.h"

#include "decide/reading/reading_parts.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/evidence.h"
#include "report/words/again_words.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void hp_card_how(hp_card *words, const char *format, ...)
{
    assert(words->hows < HP_CARD_HOWS);
    hp_phrase phrase = hp_phrase_begin(words->how[words->hows], sizeof words->how[0]);
    va_list args;
    va_start(args, format);
    hp_phrase_add_list(&phrase, format, args);
    va_end(args);
    words->hows++;
}

static void add_detail(hp_card *words, int at, const char *format, va_list args)
{
    assert(words->details < HP_CARD_DETAILS);
    hp_phrase phrase = hp_phrase_begin(words->detail[words->details], sizeof words->detail[0]);
    hp_phrase_add_list(&phrase, format, args);
    words->detail_at[words->details++] = at;
}

void hp_card_detail(hp_card *words, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_detail(words, words->hows > 0 ? words->hows - 1 : 0, format, args);
    va_end(args);
}

void hp_card_detail_at(hp_card *words, int at, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    add_detail(words, at, format, args);
    va_end(args);
}

void hp_card_reason_first(hp_card *words, const char *text)
{
    char before[sizeof words->reason];
    snprintf(before, sizeof before, "%s", words->reason);
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    hp_phrase_add(&reason, "%s %s", text, before);
}

/* What stands in the list of hazards: a text of its own, or one with numbers. */
static void say_hazard(const hp_card_context *context, const hp_hazard_words *own, hp_phrase *out)
{
    bool pedals = own->pedalled && hp_plan_by_pedals(context->plan);
    if (own->text)
        hp_phrase_add(out, "%s", pedals ? own->pedalled : own->text);
    else if (own->say)
        own->say(context, out);
}

static void detail_hazard(const hp_card_context *context, const hp_hazard_row *row, int at,
                          hp_card *words)
{
    if (!row->more.text && !row->more.say)
        return;
    assert(words->details < HP_CARD_DETAILS);
    hp_phrase more = hp_phrase_begin(words->detail[words->details], sizeof words->detail[0]);
    say_hazard(context, &row->more, &more);
    words->detail_at[words->details++] = at;
}

void hp_card_doing(hp_card *words, unsigned doings)
{
    assert(words->hows > 0);
    words->doing[words->hows - 1] |= doings;
}

/* ---- safety ---------------------------------------------------------------------------------- */

static char *next_caution(hp_card *words, hp_hazard hazard, int at)
{
    assert(words->cautions < HP_CARD_CAUTIONS);
    words->caution_of[words->cautions] = hazard;
    words->caution_at[words->cautions] = at;
    return words->caution[words->cautions++];
}

void hp_card_caution_at(hp_card *words, int at, const char *text)
{
    snprintf(next_caution(words, HP_HAZARD_COUNT, at), sizeof words->caution[0], "%s", text);
}

void hp_card_caution(hp_card *words, const char *text)
{
    hp_card_caution_at(words, words->hows > 0 ? words->hows - 1 : 0, text);
}

static void add_hazard(const hp_card_context *context, hp_hazard hazard, int at, hp_card *words)
{
    const hp_hazard_row *row = hp_hazard_row_of(hazard);
    if (row->concerns && !row->concerns(context))
        return;
    char *text = next_caution(words, hazard, at);
    hp_phrase caution = hp_phrase_begin(text, sizeof words->caution[0]);
    say_hazard(context, &row->caution, &caution);
    detail_hazard(context, row, at, words);
}

/* The card's own cautions and details of a how-to. */
static void keep_own(const hp_card *own, int at, hp_card *words)
{
    for (int k = 0; k < own->cautions; k++)
        if (own->caution_at[k] == at)
            snprintf(next_caution(words, HP_HAZARD_COUNT, at), sizeof words->caution[0], "%s",
                     own->caution[k]);
    for (int k = 0; k < own->details; k++)
        if (own->detail_at[k] == at) {
            assert(words->details < HP_CARD_DETAILS);
            memcpy(words->detail[words->details], own->detail[k], sizeof words->detail[0]);
            words->detail_at[words->details++] = at;
        }
}

/* The battery is joined, or the motor driven. */
#define POWERED                                                                                    \
    (HP_DOING_BATTERY | HP_DOING_LIVE | HP_DOING_METER | HP_DOING_THROTTLE | HP_DOING_SELF_START)

/* What of the parts no run shows before it does harm. */
static void say_fit(const hp_card_context *context, unsigned done, hp_card *words)
{
    if (!context->commission || !(done & POWERED))
        return;
    hp_phrase safe = hp_phrase_resume(words->safe, sizeof words->safe);
    hp_fit_beside_words(context->commission, &safe);
}

void hp_card_take_care(const hp_card_context *context, hp_card *words)
{
    const hp_card own = *words;
    unsigned done = 0;
    HP_CARD_SET(words->safe, "%s", hp_safe_text(words->safety, context->plan));
    words->cautions = words->details = 0;
    for (int at = 0; at < words->hows; at++) {
        keep_own(&own, at, words);
        for (int h = 0; h < HP_HAZARD_COUNT; h++) {
            unsigned doings = hp_hazard_row_of((hp_hazard)h)->doings;
            if ((doings & words->doing[at]) && !(doings & done))
                add_hazard(context, (hp_hazard)h, at, words);
        }
        done |= words->doing[at];
    }
    for (int h = 0; h < HP_HAZARD_COUNT; h++)
        if (hp_hazard_row_of((hp_hazard)h)->doings == 0)
            add_hazard(context, (hp_hazard)h, words->hows, words);
    say_fit(context, done, words);
}

bool hp_card_is_unproved(const hp_card_context *context, const hp_reading *reading)
{
    const hp_commission *list = context->commission;
    return reading->needs_run && list && list->wired && !list->proved;
}

void hp_card_say_unproved(hp_card *words)
{
    hp_phrase safe = hp_phrase_resume(words->safe, sizeof words->safe);
    hp_phrase_add(&safe, " Do this only once the advice calls the wiring that is joined correct: "
                         "one run that felt well proves none.");
}

/* ---- names ----------------------------------------------------------------------------------- */

hp_lead_names hp_lead_names_of(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what)
{
    hp_lead_names names;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char bare[HP_LABEL_SIZE];
        hp_text_clean(label[k], bare, sizeof bare);
        if (bare[0] == '\0')
            snprintf(bare, sizeof bare, "%c", hp_phase_letter(k));
        memcpy(names.bare[k], bare, sizeof bare);
        /* A letter or a number stands after its noun, a colour before it. */
        if (hp_text_columns(bare) <= 2)
            snprintf(names.full[k], sizeof names.full[k], "%s %s", what, bare);
        else
            snprintf(names.full[k], sizeof names.full[k], "the %s %s", bare, what);
    }
    return names;
}

hp_lead_names hp_card_phases(const hp_labels *labels)
{
    return hp_lead_names_of(labels->motor_lead, "phase lead");
}

hp_lead_names hp_card_sensors(const hp_labels *labels)
{
    return hp_lead_names_of(labels->motor_sensor, "Hall lead");
}

char *hp_card_pair(const hp_lead_names *names, int pair, char *out, size_t size)
{
    snprintf(out, size, "%s and %s", names->bare[(pair + 1) % HP_PHASE_COUNT],
             names->bare[(pair + 2) % HP_PHASE_COUNT]);
    return out;
}

static char *joints(const char motor[HP_PHASE_COUNT][HP_LABEL_SIZE],
                    const char controller[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *what,
                    const int order[HP_PHASE_COUNT], const int *before, char *out, size_t size)
{
    hp_lead_names from = hp_lead_names_of(motor, ""), to = hp_lead_names_of(controller, "");
    hp_phrase phrase = hp_phrase_begin(out, size);
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        hp_phrase_comma(&phrase);
        hp_phrase_add(&phrase, "%s to %s %s%s", from.bare[order[j]], what, to.bare[j],
                      before && before[j] != order[j] ? " (moves)" : "");
    }
    return out;
}

char *hp_phase_joint_words(const hp_labels *labels, const hp_wiring *wiring, int present, char *out,
                           size_t size)
{
    hp_wiring before = hp_wiring_from_number(present > 0 ? present : 1);
    return joints(labels->motor_lead, labels->controller_output, "output", wiring->phase,
                  present > 0 ? before.phase : NULL, out, size);
}

char *hp_sensor_joint_words(const hp_labels *labels, const hp_wiring *wiring, int present,
                            char *out, size_t size)
{
    hp_wiring before = hp_wiring_from_number(present > 0 ? present : 1);
    return joints(labels->motor_sensor, labels->controller_input, "input", wiring->sensor,
                  present > 0 ? before.sensor : NULL, out, size);
}

char *hp_code_words(int code, char *out)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        out[k] = (char)('0' + (code >> (2 - k) & 1));
    out[HP_PHASE_COUNT] = '\0';
    return out;
}

/* ---- words of entries ------------------------------------------------------------------------ */

const char *hp_card_feel(hp_feel feel)
{
    static const char *const word[HP_FEEL_COUNT] = {"", "smooth", "rough", "noisy"};
    return (int)feel >= 0 && feel < HP_FEEL_COUNT ? word[feel] : "";
}

void hp_card_codes(const hp_hand_turn *t, bool whole, hp_phrase *phrase)
{
    char code[4];
    int count = t->count;
    if (!whole && count > 1 && t->code[count - 1] == t->code[0])
        count--;
    for (int k = 0; k < count; k++)
        hp_phrase_add(phrase, "%s%s", k ? " " : "", hp_code_words(t->code[k], code));
}

/* ---- numbers --------------------------------------------------------------------------------- */

char *hp_card_number(double value, char *out, size_t size)
{
    double magnitude = fabs(value);
    int digits = magnitude >= 9.95 ? 0 : magnitude >= 0.995 ? 1 : magnitude >= 0.00995 ? 2 : 3;
    snprintf(out, size, "%.*f", digits, value);
    if (strchr(out, '.')) {
        size_t length = strlen(out);
        while (out[length - 1] == '0')
            out[--length] = '\0';
        if (out[length - 1] == '.')
            out[length - 1] = '\0';
    }
    return out;
}

char *hp_card_figures(double value, char *out, size_t size)
{
    int order = value != 0.0 && isfinite(value) ? (int)floor(log10(fabs(value))) : 0;
    int digits = value == 0.0 || order >= 2 ? 0 : order < -6 ? 8 : 2 - order;
    snprintf(out, size, "%.*f", digits, value);
    return out;
}

char *hp_card_percent(double probability, char *out, size_t size)
{
    double value = 100.0 * probability;
    if (value > 99.0 && value < 100.0)
        snprintf(out, size, "%.1f %%", fmin(floor(10.0 * value) / 10.0, 99.9));
    else
        snprintf(out, size, "%.0f %%", value);
    return out;
}

char *hp_card_rpm(double rad_s, char *out, size_t size)
{
    return hp_card_number(rad_s / HP_RPM, out, size);
}

/* "battery current 0.2 to 0.7 A, wheel 264 to 322 rev/min": one of the two, or both. */
static void add_bands(hp_band current_a, hp_band wheel_rad_s, bool current, bool speed,
                      hp_phrase *phrase)
{
    char low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS];
    if (current)
        hp_phrase_add(phrase, "battery current %s to %s A",
                      hp_card_number(current_a.low, low, sizeof low),
                      hp_card_number(current_a.high, high, sizeof high));
    if (speed)
        hp_phrase_add(phrase, "%swheel %s to %s rev/min", current ? ", " : "",
                      hp_card_rpm(wheel_rad_s.low, low, sizeof low),
                      hp_card_rpm(wheel_rad_s.high, high, sizeof high));
}

char *hp_card_bands(const hp_card_context *context, const hp_advice *advice, char *out, size_t size)
{
    const hp_plan_params *plan = context->plan;
    hp_phrase phrase = hp_phrase_begin(out, size);
    if (!(advice->current_a.high > 0.0) || !(advice->wheel_rad_s.high > 0.0) ||
        !(plan->ammeter || plan->tachometer))
        return out;
    add_bands(advice->current_a, advice->wheel_rad_s, plan->ammeter, plan->tachometer, &phrase);
    hp_phrase_add(&phrase, ", at %.3g %% throttle", 100.0 * plan->throttle);
    return out;
}

bool hp_card_full_check(const hp_plan_params *plan, const hp_advice *advice)
{
    bool full = advice->kind == HP_ADVICE_DONE || advice->why == HP_WHY_CHECK_FAILED ||
                advice->why == HP_WHY_RAN || advice->why == HP_WHY_RAN_SOME_WAY ||
                advice->why == HP_WHY_RUN_DOUBTED || advice->why == HP_WHY_CONTRARY;
    return advice->felt > 0 || (full && (plan->ammeter || plan->tachometer));
}

const char *hp_card_bands_from(hp_bands_from from)
{
    static const char *const words[HP_BANDS_FROM_COUNT] = {
        [HP_BANDS_MOTORS] = "by how such motors scatter, and what was tried here",
        [HP_BANDS_PARTS] = "by the parts as stated and measured",
        [HP_BANDS_MACHINE] = "by this machine's own readings"};
    return words[from];
}

char *hp_card_full_bands(const hp_plan_params *plan, const hp_advice *advice, char *out,
                         size_t size)
{
    char asked[HP_ASKED_WORDS];
    hp_phrase phrase = hp_phrase_begin(out, size);
    if (!(advice->full_current_a.high > 0.0) || !(advice->full_wheel_rad_s.high > 0.0))
        return out;
    add_bands(advice->full_current_a, advice->full_wheel_rad_s, plan->ammeter || !plan->tachometer,
              plan->tachometer, &phrase);
    hp_phrase_add(&phrase, ", at %s (%s)", hp_full_words(hp_plan_full(plan), asked, sizeof asked),
                  hp_card_bands_from(advice->full_from));
    return out;
}

/* A number as it was read. */
char *hp_card_as_read(double value, char *out, size_t size)
{
    snprintf(out, size, "%.5g", value);
    return out;
}

char *hp_card_rpm_as_read(double rad_s, char *out, size_t size)
{
    return hp_card_as_read(rad_s / HP_RPM, out, size);
}

/* ---- codes and pairs ------------------------------------------------------------------------- */

#define ALKALINE_V     1.5 /* one fresh cell, nominal, IEC 60086-2 */
#define RECHARGEABLE_V 1.2 /* one cell, nominal, IEC 61951-2 */
#define CHARGER_V      5.0 /* what most Hall sensors are fed with, and a USB charger gives */

hp_hall_cells hp_card_hall_cells(double least_v)
{
    return (hp_hall_cells){.alkaline = (int)ceil(fmax(least_v, 4.5) / ALKALINE_V - 1e-9),
                           .rechargeable = (int)ceil(fmax(least_v, 4.8) / RECHARGEABLE_V - 1e-9)};
}

static void say_cells(double least_v, hp_phrase *cells)
{
    hp_hall_cells n = hp_card_hall_cells(least_v);
    hp_phrase_add(cells, "%d fresh alkaline AA cells (%.1f V) or %d rechargeable ones (%.1f V)",
                  n.alkaline, n.alkaline * ALKALINE_V, n.rechargeable,
                  n.rechargeable * RECHARGEABLE_V);
    if (n.alkaline * RECHARGEABLE_V < least_v)
        hp_phrase_add(cells, ", not %d rechargeable: %.1f V is too little", n.alkaline,
                      n.alkaline * RECHARGEABLE_V);
}

void hp_card_how_to_read_code(const hp_card_context *context, const hp_lead_names *sensors,
                              hp_card *words)
{
    char cells[200];
    hp_phrase phrase = hp_phrase_begin(cells, sizeof cells);
    const hp_plan_params *plan = context->plan;
    double volts = fmin(fmax(CHARGER_V, plan->sensor_v_min), hp_plan_sensor_stop_v(plan));
    say_cells(plan->sensor_v_min, &phrase);
    hp_card_how(words,
                "Give the Hall sensors a supply of their own, %.3g V between plus and minus of the "
                "Hall plug, with 1 to 10 kilohm from each Hall lead to plus.",
                volts);
    hp_card_doing(words, HP_DOING_HALL_POWER);
    hp_card_detail(words, "The supply: %s%s.", volts == CHARGER_V ? "a 5 V charger, or " : "",
                   cells);
    hp_card_detail(words, "Or use the controller's own pins, once you have measured them: battery "
                          "on last, phase leads apart, no resistors.");
    hp_card_how(words, "Meter on d.c. volts, 20 V range, black tip on the Hall minus: a lead near "
                       "0 V is 0, a lead near the supply is 1.");
    hp_card_detail(words,
                   "Read them always in the order %s, %s, %s: three figures, that is one code.",
                   sensors->bare[0], sensors->bare[1], sensors->bare[2]);
    const hp_commission *list = context->commission;
    int lead = list ? hp_mended_inverter(list->given.entry, list->given.entries) : -1;
    if (lead >= 0)
        hp_card_detail(words,
                       "Read %s behind its inverter, on the controller's side, with the inverter "
                       "supplied: before it everything reads as it did.",
                       lead < HP_PHASE_COUNT ? sensors->bare[lead] : "that Hall lead");
}

const int hp_card_pair_order[HP_PHASE_COUNT] = {HP_W, HP_U, HP_V};

void hp_showing_pairs(const hp_labels *labels, const bool open[HP_PHASE_COUNT], const char *alike,
                      const char *nothing, hp_showing_words *words)
{
    hp_lead_names phases = hp_card_phases(labels);
    char pair[HP_PAIR_WORDS];
    int count = open[0] + open[1] + open[2];
    if (count == 0) {
        HP_CARD_SET(words->label, "all three pairs %s", alike);
        HP_CARD_SET(words->sentence, "All three pairs of phase leads are %s.", alike);
        return;
    }
    if (count == HP_PHASE_COUNT) {
        HP_CARD_SET(words->label, "%s at any pair", nothing);
        HP_CARD_SET(words->sentence, "There is %s at any pair of phase leads.", nothing);
        return;
    }
    hp_phrase list = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase_add(&list, "%s:", nothing);
    for (int k = 0, n = 0; k < HP_PHASE_COUNT; k++)
        if (open[k])
            hp_phrase_add(&list, "%s %s", n++ ? "," : "",
                          hp_card_pair(&phases, k, pair, sizeof pair));
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    hp_phrase_add(&s, "There is %s", words->label);
    for (int k = 0; count == 2 && k < HP_PHASE_COUNT; k++)
        if (!open[k])
            hp_phrase_add(&s, "; that is %s by itself", phases.full[k]);
    hp_phrase_add(&s, ".");
}

void hp_card_say_unlike(const char *figures, const char *again, hp_card *words)
{
    HP_CARD_SET(words->title, "Stop: the three pairs of phase leads are not alike");
    HP_CARD_SET(words->reason,
                "Three good windings have like %s. One pair far below the others: those two leads "
                "touch, in the plug, where the cable leaves the axle, or in the winding. Two pairs "
                "far off: turns, or a bad joint, in the lead that they share. Both burn under "
                "power.",
                figures);
    hp_card_how(words, "%s", again);
    hp_card_how(words, "Look at each phase lead, in the plug and where the cable leaves the axle: "
                       "squeezed, scorched, a joint that gives.");
    hp_card_how(words, "It stays so: no power. With all phase leads apart a hub with shorted turns "
                       "turns hard; only a winder can mend it.");
}
