/* Commissioning as JSON: see hubphase/report/case_words.h. */
#include "hubphase/report/case_words.h"

#include "decide/reading/reading.h"
#include "report/data/card_json.h"
#include "report/words/again_words.h"
#include "report/words/case_card.h"
#include "report/words/fit_words.h"
#include "report/words/words.h"

static json_t *figure_object(hp_json *b, const hp_own_figure *figure, hp_own_kind kind)
{
    json_t *object = json_object();
    hp_json_set(b, object, "title", hp_json_text(hp_own_title(kind)));
    hp_json_set(b, object, "unit", hp_json_text(hp_own_unit(kind)));
    hp_json_set(b, object, "value", hp_json_number(figure->value));
    hp_json_set(b, object, "low", hp_json_number(figure->low));
    hp_json_set(b, object, "high", hp_json_number(figure->high));
    hp_json_set(b, object, "entry", json_integer(figure->entry));
    return object;
}

json_t *hp_json_own(hp_json *b, const hp_own *own)
{
    json_t *object = json_object();
    for (int k = 0; k < HP_OWN_COUNT; k++)
        if (own->figure[k].known)
            hp_json_set(b, object, hp_own_name((hp_own_kind)k),
                        figure_object(b, &own->figure[k], (hp_own_kind)k));
    return object;
}

static json_t *gainsaid_object(hp_json *b, const hp_commission *list)
{
    const hp_card_context context = {.drive = list->given.drive,
                                     .labels = list->given.labels,
                                     .plan = list->given.plan,
                                     .commission = list};
    char text[400];
    hp_phrase words = hp_phrase_begin(text, sizeof text);
    json_t *object = json_object();
    hp_gainsaid_words(&context, list->gainsaid, &words);
    hp_json_set(b, object, "entry", json_integer(list->gainsaid->number));
    hp_json_set(b, object, "kind", hp_json_text(list->gainsaid->reading->name));
    hp_json_set(b, object, "value", json_null());
    hp_json_set(b, object, "words", hp_json_text(text));
    return object;
}

static json_t *again_object(hp_json *b, const hp_entry *entry, const hp_doubt *doubt)
{
    char text[900];
    hp_phrase words = hp_phrase_begin(text, sizeof text);
    json_t *object = json_object();
    if (doubt)
        hp_doubt_words(doubt, &words);
    else
        hp_contrary_words(entry, &words);
    hp_json_set(b, object, "entry", json_integer(entry->number));
    hp_json_set(b, object, "kind", hp_json_text(entry->reading->name));
    hp_json_set(b, object, "value",
                doubt ? hp_json_text(doubt->figure[0].field->name) : json_null());
    hp_json_set(b, object, "words", hp_json_text(text));
    return object;
}

json_t *hp_json_plug(hp_plug plug)
{
    return plug == HP_PLUG_OWED      ? hp_json_text("owed")
           : plug == HP_PLUG_UNTRIED ? hp_json_text("untried")
                                     : json_null();
}

json_t *hp_json_fit_stops(hp_json *json, const hp_commission *list)
{
    json_t *array = json_array();
    for (int k = 0; list && k < list->fit_stops; k++)
        hp_json_append(json, array, hp_json_text(hp_fit_words_of(list->fit_stop[k])->name));
    return array;
}

json_t *hp_json_again(hp_json *b, const hp_commission *list)
{
    json_t *array = json_array();
    if (list && list->contrary)
        hp_json_append(b, array, again_object(b, list->contrary, NULL));
    if (list && list->gainsaid)
        hp_json_append(b, array, gainsaid_object(b, list));
    if (hp_commission_asks_again(list))
        hp_json_append(b, array, again_object(b, list->doubt.entry, &list->doubt));
    return array;
}

json_t *hp_json_commission_step(hp_json *b, const hp_card_context *context,
                                const hp_commission_step *step)
{
    const char *menu = hp_reading_menu(step->reading);
    char text[HP_ENTRY_WORDS];
    hp_finding_words found;
    bool told = hp_finding_words_make(context, step, &found);
    json_t *object = json_object();
    hp_json_set(b, object, "name", hp_json_text(step->reading->name));
    hp_json_set(b, object, "title", hp_json_text(menu ? menu : step->reading->title));
    hp_json_set(b, object, "stage", hp_json_text(hp_stage_name(step->stage)));
    hp_json_set(b, object, "finding", hp_json_text(hp_finding_name(step->finding)));
    hp_json_set(b, object, "concerns", json_boolean(step->concerns));
    hp_json_set(b, object, "possible", json_boolean(step->possible));
    hp_json_set(b, object, "left_out", json_boolean(step->left_out));
    hp_json_set(b, object, "minutes", hp_json_number(step->reading->effort));
    hp_json_set(b, object, "entry", step->entry ? json_integer(step->entry->number) : json_null());
    hp_json_set(b, object, "other_entry", step->other ? json_integer(step->other) : json_null());
    hp_json_set(b, object, "other_wiring",
                step->other_wiring ? json_integer(step->other_wiring) : json_null());
    hp_json_set(b, object, "other_failed",
                step->other_failed ? json_integer(step->other_failed) : json_null());
    hp_json_set(b, object, "words",
                step->entry ? hp_json_text(hp_entry_words(context, step->entry, text, sizeof text))
                            : json_null());
    hp_json_set(b, object, "means", told ? hp_json_text(found.means) : json_null());
    hp_json_set(b, object, "otherwise",
                told && found.otherwise[0] ? hp_json_text(found.otherwise) : json_null());
    return object;
}

/* With the reason why it was left out, which stands in the log only. */
static json_t *step_object(hp_json *b, const hp_commission_case *c, const hp_card_context *context,
                           const hp_commission_step *step)
{
    json_t *object = hp_json_commission_step(b, context, step);
    const hp_bench_entry *left = hp_commission_case_left_out(c, step->reading);
    hp_json_set(b, object, "left_out_why",
                left && left->note[0] ? hp_json_text(left->note) : json_null());
    return object;
}

/* null: the log does not say, and nothing asks for it. */
static json_t *unsensed_word(const hp_commission *list)
{
    hp_tell said = hp_log_runs_unsensed(list->given.entry, list->given.entries);
    return said == HP_TELL_UNSAID ? hp_json_plug(list->plug)
                                  : hp_json_text(said == HP_TELL_YES ? "yes" : "no");
}

/* What power would harm, where nobody has looked for it. */
static json_t *unguarded_array(hp_json *b, const hp_commission_case *c)
{
    const hp_commission *list = hp_commission_case_list(c);
    json_t *array = json_array();
    for (int k = 0; k < list->unguarded_count; k++) {
        const hp_unguarded *u = &list->unguarded[k];
        const hp_bench_entry *left = hp_commission_case_left_out(c, u->reading);
        json_t *object = json_object();
        hp_json_set(b, object, "name", hp_json_text(u->reading->name));
        hp_json_set(b, object, "left_out", json_boolean(u->left_out));
        hp_json_set(b, object, "left_out_why",
                    left && left->note[0] ? hp_json_text(left->note) : json_null());
        hp_json_set(b, object, "other_entry", u->mend ? json_integer(u->other) : json_null());
        hp_json_set(b, object, "mend_entry", u->mend ? json_integer(u->mend) : json_null());
        hp_json_append(b, array, object);
    }
    return array;
}

static json_t *card_object(hp_json *b, const hp_card_context *context, const hp_reading *kind,
                           const char *log_line)
{
    const hp_advice advice = {.kind = HP_ADVICE_READ, .reading = kind, .lead = -1};
    hp_card words;
    json_t *object = json_object();
    hp_card_make(context, &advice, &words);
    hp_json_set(b, object, "name", hp_json_text(kind->name));
    hp_json_set_card(b, object, &words);
    hp_json_set(b, object, "log_command", hp_json_words(b, log_line));
    return object;
}

hp_result hp_commission_json_write(const hp_commission_case *c, const hp_reading *kind,
                                   const char *log_line, FILE *out, hp_error *err)
{
    const hp_commission *list = hp_commission_case_list(c);
    const hp_scenario *scenario = hp_commission_case_scenario(c);
    const hp_report_case subject = hp_report_case_of(scenario);
    hp_card_context context = hp_commission_card_context(c);
    hp_json b = {.failed = false};
    json_t *root = json_object(), *steps = json_array();
    char why[HP_COMMISSION_WHY_WORDS], source[HP_SOURCE_WORDS];
    for (int k = 0; k < list->steps; k++)
        hp_json_append(&b, steps, step_object(&b, c, &context, &list->step[k]));
    if (!kind && list->next >= 0)
        kind = list->step[list->next].reading;
    hp_commission_why_words(list, why, sizeof why);
    hp_json_set(&b, root, "scenario", hp_json_scenario(&b, &subject));
    hp_json_set(&b, root, "log", hp_json_text(hp_commission_case_log(c)->path));
    hp_commission_source_words(c, source, sizeof source);
    hp_json_set(&b, root, "learnt_words", source[0] ? hp_json_text(source) : json_null());
    hp_json_set(&b, root, "wired", json_boolean(list->wired));
    hp_json_set(&b, root, "why", hp_json_text(hp_commission_why_name(list->why)));
    hp_json_set(&b, root, "why_words", hp_json_text(why));
    hp_json_set(&b, root, "measure_again", hp_json_again(&b, list));
    hp_json_set(&b, root, "unguarded", unguarded_array(&b, c));
    hp_json_set(&b, root, "runs_without_sensors", unsensed_word(list));
    hp_json_set(&b, root, "hall_leads_open",
                json_boolean(list->plug_pulled || list->plug != HP_PLUG_SETTLED));
    hp_json_set(&b, root, "fit_stops", hp_json_fit_stops(&b, list));
    hp_json_set(&b, root, "next",
                list->next >= 0 ? hp_json_text(list->step[list->next].reading->name) : json_null());
    hp_json_set(&b, root, "steps", steps);
    hp_json_set(&b, root, "figures", hp_json_own(&b, &list->own));
    hp_json_set(&b, root, "step",
                kind ? card_object(&b, &context, kind, log_line ? log_line : "") : json_null());
    return hp_json_finish(&b, root, out, err);
}
