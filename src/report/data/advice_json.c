/* The next step and where things stand, as JSON: see report/words/advice_report.h. */
#include "report/words/advice_report.h"

#include "decide/advise/full_check.h"
#include "decide/advise/hypothesis.h"
#include "hubphase/decide/evidence.h"
#include "report/data/card_json.h"
#include "report/data/json_tree.h"

#include <math.h>
#include <string.h>

/* Troubles and hypotheses less likely than this are left out. */
#define LEAST 1e-4

static const char *advice_word(hp_advice_kind kind)
{
    static const char *const word[HP_ADVICE_COUNT] = {
        "read", "try", "look", "learn", "done", "repair", "danger", "give_up", "probably"};
    return (int)kind >= 0 && kind < HP_ADVICE_COUNT ? word[kind] : "unknown";
}

static json_t *band(hp_json *b, const hp_band *band, double unit)
{
    json_t *object = json_object();
    bool known = band->high > 0.0;
    hp_json_set(b, object, "low", hp_json_number(known ? band->low / unit : NAN));
    hp_json_set(b, object, "high", hp_json_number(known ? band->high / unit : NAN));
    return object;
}

static json_t *wiring_object(hp_json *b, const hp_labels *labels, int number)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    json_t *object = json_object();
    hp_json_set(b, object, "number", json_integer(number));
    hp_json_set_leads(b, object, labels, &wiring);
    return object;
}

/* ---- troubles -------------------------------------------------------------------------------- */

/* Sets `fault`, `lead`, `inverted_sensor`, `inverted_input` and `words`. */
static void set_trouble(hp_json *b, json_t *object, const hp_labels *labels, int trouble)
{
    static const char *const word[HP_FAULT_KIND_COUNT] = {
        "none",   "sensor_high", "sensor_low", "lead_open", "clutch",
        "silent", "cutting_out", "loose_lead", "unlisted"};
    char text[HP_TROUBLE_WORDS];
    int misfit;
    hp_fault fault;
    hp_trouble_get(trouble, &misfit, &fault);
    bool hub = misfit >= 0 && misfit < HP_MISFIT_INPUT;
    bool sensor = fault.kind == HP_FAULT_SENSOR_HIGH || fault.kind == HP_FAULT_SENSOR_LOW;
    const char *lead = sensor                             ? labels->motor_sensor[fault.which]
                       : fault.kind == HP_FAULT_LEAD_OPEN ? labels->motor_lead[fault.which]
                                                          : NULL;
    hp_json_set(b, object, "fault", hp_json_text(word[fault.kind]));
    hp_json_set(b, object, "lead", lead ? hp_json_text(lead) : json_null());
    hp_json_set(b, object, "inverted_sensor",
                hub ? hp_json_text(labels->motor_sensor[misfit]) : json_null());
    hp_json_set(b, object, "inverted_input",
                misfit >= HP_MISFIT_INPUT
                    ? hp_json_text(labels->controller_input[misfit - HP_MISFIT_INPUT])
                    : json_null());
    hp_json_set(b, object, "words",
                hp_json_text(hp_trouble_words(labels, trouble, text, sizeof text)));
}

static json_t *troubles_array(hp_json *b, const hp_advice_report *r)
{
    json_t *array = json_array();
    for (int k = 0; k < r->standing->troubles; k++) {
        const hp_standing_trouble *trouble = &r->standing->trouble[k];
        if (trouble->probability < LEAST)
            break;
        json_t *object = json_object();
        set_trouble(b, object, r->context->labels, trouble->trouble);
        hp_json_set(b, object, "probability", hp_json_number(trouble->probability));
        const hp_reading *proof = hp_plan_proof(trouble->trouble);
        hp_json_set(b, object, "proof", proof ? hp_json_text(proof->name) : json_null());
        hp_json_append(b, array, object);
    }
    return array;
}

/* ---- advice ---------------------------------------------------------------------------------- */

static void set_words(hp_json *b, json_t *object, const hp_advice_report *r)
{
    hp_card words;
    hp_card_make(r->context, r->advice, &words);
    hp_json_set_card(b, object, &words);
    hp_json_set(b, object, "log_command", hp_json_words(b, r->log_line));
}

static json_t *showings_array(hp_json *b, const hp_advice_report *r)
{
    json_t *array = json_array();
    for (int k = 0; k < r->showings; k++) {
        hp_showing_words words;
        json_t *object = json_object();
        hp_showing_words_make(r->context, r->advice, &r->showing[k].entry, &words);
        hp_json_set(b, object, "label", hp_json_text(words.label));
        hp_json_set(b, object, "sentence", hp_json_text(words.sentence));
        hp_json_set(b, object, "probability", hp_json_number(r->showing[k].probability));
        hp_json_append(b, array, object);
    }
    return array;
}

static json_t *advice_object(hp_json *b, const hp_advice_report *r)
{
    const hp_advice *a = r->advice;
    const hp_labels *labels = r->context->labels;
    bool reads = a->kind == HP_ADVICE_READ;
    bool tries = a->kind == HP_ADVICE_TRY || a->kind == HP_ADVICE_LOOK;
    bool broken = a->kind == HP_ADVICE_REPAIR || a->kind == HP_ADVICE_GIVE_UP;
    bool goes_on = reads || tries || a->kind == HP_ADVICE_LEARN;
    json_t *object = json_object(), *trouble = json_null();
    hp_json_set(b, object, "kind", hp_json_text(advice_word(a->kind)));
    hp_json_set(b, object, "why", hp_json_text(hp_why_name(a->why)));
    set_words(b, object, r);
    hp_json_set(b, object, "reading", reads ? hp_json_text(a->reading->name) : json_null());
    hp_json_set(b, object, "lead",
                reads && a->lead >= 0 ? hp_json_text(labels->motor_lead[a->lead]) : json_null());
    hp_json_set(b, object, "wiring",
                a->number > 0 ? wiring_object(b, labels, a->number) : json_null());
    hp_json_set(b, object, "phase_leads_moved", json_integer(a->moved_phase));
    hp_json_set(b, object, "sensor_pins_moved", json_integer(a->moved_sensor));
    hp_json_set(b, object, "certainty",
                reads || a->kind == HP_ADVICE_DANGER || a->kind == HP_ADVICE_LEARN
                    ? json_null()
                    : hp_json_number(a->certainty));
    if (broken && a->trouble > 0) {
        trouble = json_object();
        set_trouble(b, trouble, labels, a->trouble);
    }
    hp_json_set(b, object, "trouble", trouble);
    hp_json_set(b, object, "proof",
                broken && a->proof ? hp_json_text(a->proof->name) : json_null());
    hp_json_set(b, object, "danger", hp_json_text(a->danger ? a->danger->name : "none"));
    hp_json_set(b, object, "learnt_entry", a->learnt > 0 ? json_integer(a->learnt) : json_null());
    hp_json_set(b, object, "throttle_signal_v",
                a->signal_v > 0.0 ? hp_json_number(a->signal_v) : json_null());
    hp_json_set(b, object, "expected_minutes",
                goes_on && a->expected_cost > 0.0 ? hp_json_number(a->expected_cost) : json_null());
    hp_json_set(b, object, "expected_trials",
                goes_on && a->expected_trials > 0.0 ? hp_json_number(a->expected_trials)
                                                    : json_null());
    hp_json_set(b, object, "showings", showings_array(b, r));
    return object;
}

/* ---- log, wirings, hypotheses ---------------------------------------------------------------- */

static json_t *log_object(hp_json *b, const hp_advice_report *r)
{
    json_t *object = json_object(), *entries = json_array();
    char words[HP_ENTRY_WORDS];
    for (int k = 0; k < r->belief->entries; k++) {
        const hp_entry *entry = &r->belief->entry[k];
        json_t *item = json_object();
        hp_json_set(b, item, "number", json_integer(entry->number));
        hp_json_set(b, item, "kind", hp_json_text(entry->reading->name));
        hp_json_set(b, item, "words",
                    hp_json_text(hp_entry_words(r->context, entry, words, sizeof words)));
        hp_json_set(b, item, "slip", hp_json_number(r->slip ? r->slip[k] : NAN));
        hp_json_append(b, entries, item);
    }
    hp_json_set(b, object, "file", hp_json_text(r->log_file));
    hp_json_set(b, object, "entries", entries);
    return object;
}

static json_t *contradiction_object(hp_json *b, const hp_advice_report *r)
{
    const hp_contradiction *c = &r->advice->contradiction;
    char words[240];
    hp_contradiction_words(r->belief, c, words, sizeof words);
    if (words[0] == '\0')
        return json_null();
    json_t *object = json_object();
    hp_json_set(b, object, "words", hp_json_text(words));
    hp_json_set(b, object, "slip", json_integer(r->belief->entry[c->slipped].number));
    hp_json_set(b, object, "other",
                c->other >= 0 ? json_integer(r->belief->entry[c->other].number) : json_null());
    hp_json_set(b, object, "probability", hp_json_number(c->probability));
    hp_json_set(b, object, "no_slip", hp_json_number(c->no_slip));
    return object;
}

static json_t *wirings_array(hp_json *b, const hp_advice_report *r)
{
    double right[HP_WIRING_COUNT + 1], mended[HP_WIRING_COUNT + 1];
    json_t *array = json_array();
    hp_belief_wirings(r->belief, right);
    hp_belief_wirings_mended(r->belief, mended);
    for (int k = 1; k <= HP_WIRING_COUNT; k++) {
        json_t *object = wiring_object(b, r->context->labels, k);
        hp_json_set(b, object, "right", hp_json_number(right[k]));
        hp_json_set(b, object, "right_once_mended", hp_json_number(mended[k]));
        hp_json_append(b, array, object);
    }
    return array;
}

static json_t *expected_object(hp_json *b, const hp_advice_report *r)
{
    json_t *object = json_object();
    hp_json_set(b, object, "throttle_percent", hp_json_number(100.0 * r->context->plan->throttle));
    hp_json_set(b, object, "battery_current_a", band(b, &r->advice->current_a, 1.0));
    hp_json_set(b, object, "wheel_speed_rpm", band(b, &r->advice->wheel_rad_s, HP_RPM));
    return object;
}

/* What a correct wiring shows at full throttle, wheel lifted; null before the work is done. */
static json_t *final_check_object(hp_json *b, const hp_plan_params *plan, const hp_advice *a)
{
    if (!hp_advice_ends_riding(a))
        return json_null();
    json_t *object = json_object();
    hp_json_set(b, object, "throttle_percent", hp_json_number(100.0 * hp_plan_full(plan)));
    hp_json_set(b, object, "battery_current_a", band(b, &a->full_current_a, 1.0));
    hp_json_set(b, object, "wheel_speed_rpm", band(b, &a->full_wheel_rad_s, HP_RPM));
    hp_json_set(b, object, "most_a",
                a->full_most_a > 0.0 ? hp_json_number(a->full_most_a) : json_null());
    hp_json_set(b, object, "from", hp_json_text(hp_bands_from_name(a->full_from)));
    hp_json_set(b, object, "made", json_boolean(a->checked));
    hp_json_set(b, object, "felt_entry", a->felt > 0 ? json_integer(a->felt) : json_null());
    bool failed = a->why == HP_WHY_CHECK_FAILED;
    bool drew = failed && a->failed.entry[HP_CHECK_CURRENT] > 0;
    json_t *signs = json_array();
    for (int s = 0; s < HP_CHECK_COUNT; s++)
        if (failed && a->failed.entry[s] > 0)
            hp_json_append(b, signs, hp_json_text(hp_check_sign_name((hp_check_sign)s)));
    hp_json_set(b, object, "failed_a", drew ? hp_json_number(a->failed.battery_a) : json_null());
    hp_json_set(b, object, "failed_entry",
                failed ? json_integer(hp_failed_check_entry(&a->failed)) : json_null());
    hp_json_set(b, object, "failed_for", signs);
    return object;
}

/* How far the work after the wiring is; null where it is not reckoned. */
static json_t *commissioning_object(hp_json *b, const hp_commission *list)
{
    if (!list)
        return json_null();
    json_t *object = json_object();
    int done, count = hp_commission_count(list, &done);
    hp_json_set(b, object, "wired", json_boolean(list->wired));
    hp_json_set(b, object, "steps", json_integer(count));
    hp_json_set(b, object, "done", json_integer(done));
    hp_json_set(b, object, "why", hp_json_text(hp_commission_why_name(list->why)));
    hp_json_set(b, object, "next",
                list->next >= 0 ? hp_json_text(list->step[list->next].reading->name) : json_null());
    return object;
}

static json_t *hypotheses_array(hp_json *b, const hp_advice_report *r)
{
    const hp_standing_course *c = r->course;
    json_t *array = json_array();
    for (int k = 0; k < c->count; k++) {
        const hp_hypothesis *h = &r->belief->hypothesis[c->index[k]];
        json_t *object = json_object(), *numbers = json_array(), *after = json_array();
        int number[3], rights = hp_hypothesis_rights(h, number);
        for (int j = 0; j < rights; j++)
            hp_json_append(b, numbers, json_integer(number[j]));
        for (int step = 0; step < c->steps; step++)
            hp_json_append(b, after, hp_json_number(c->after[k * c->steps + step]));
        hp_json_set(b, object, "right", numbers);
        set_trouble(b, object, r->context->labels, hp_trouble_of(h));
        hp_json_set(b, object, "mended_since",
                    json_boolean(r->belief->now[c->index[k]] != c->index[k]));
        hp_json_set(b, object, "table_as_stated",
                    r->standing->stated_table < 0
                        ? json_null()
                        : json_boolean(h->table == r->standing->stated_table));
        hp_json_set(b, object, "probability",
                    hp_json_number(c->after[k * c->steps + c->steps - 1]));
        hp_json_set(b, object, "after", after);
        hp_json_append(b, array, object);
    }
    return array;
}

static json_t *doubt_array(hp_json *b, const hp_standing_course *c)
{
    json_t *array = json_array();
    for (int step = 0; step < c->steps; step++)
        hp_json_append(b, array, hp_json_number(c->doubt[step]));
    return array;
}

static json_t *unsensed_word(const hp_advice *a)
{
    return a->unsensed == HP_TELL_YES  ? hp_json_text("yes")
           : a->unsensed == HP_TELL_NO ? hp_json_text("no")
                                       : hp_json_plug(a->plug);
}

hp_result hp_advice_json_write(const hp_advice_report *r, FILE *out, hp_error *err)
{
    hp_json b = {.failed = false};
    json_t *root = json_object();
    hp_json_set(&b, root, "scenario", hp_json_scenario(&b, r->subject));
    hp_json_set(&b, root, "parameters", hp_json_parameters(&b, r->subject->parameters));
    hp_json_set(&b, root, "advice", advice_object(&b, r));
    hp_json_set(&b, root, "expected", expected_object(&b, r));
    hp_json_set(&b, root, "final_check", final_check_object(&b, r->context->plan, r->advice));
    hp_json_set(&b, root, "commissioning", commissioning_object(&b, r->context->commission));
    hp_json_set(&b, root, "log", log_object(&b, r));
    hp_json_set(&b, root, "contradiction", contradiction_object(&b, r));
    hp_json_set(&b, root, "mended_in_vain",
                r->advice->in_vain ? json_integer(r->advice->in_vain) : json_null());
    hp_json_set(&b, root, "measure_again", hp_json_again(&b, r->context->commission));
    hp_json_set(&b, root, "fit_stops", hp_json_fit_stops(&b, r->context->commission));
    hp_json_set(&b, root, "runs_without_sensors", unsensed_word(r->advice));
    hp_json_set(&b, root, "sound", hp_json_number(r->standing->sound));
    hp_json_set(&b, root, "table_as_stated",
                r->standing->stated_table < 0 ? json_null() : hp_json_number(r->standing->table));
    hp_json_set(&b, root, "wirings", wirings_array(&b, r));
    hp_json_set(&b, root, "troubles", troubles_array(&b, r));
    if (r->course) {
        hp_json_set(&b, root, "doubt_bits", doubt_array(&b, r->course));
        hp_json_set(&b, root, "hypotheses", hypotheses_array(&b, r));
    }
    return hp_json_finish(&b, root, out, err);
}
