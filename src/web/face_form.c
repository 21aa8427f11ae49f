/*
 * Entries by questions: the form for one, the answers taken into the log, an entry changed or taken
 * out. The questions and how answers are read: hubphase/report/forms.h. See face_parts.h.
 *
 * A form is replayed from its first question on with every request: the face holds nothing that a
 * page could lose.
 */
#include "hubphase/base/text.h"
#include "hubphase/report/forms.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

#define MEANT_SIZE 1200

/* How the page puts a question about a field of each type. */
static const char *type_word(const hp_field *field)
{
    static const char *const word[HP_FIELD_TYPE_COUNT] = {
        [HP_FIELD_NUMBER] = "number",     [HP_FIELD_WHOLE] = "whole",
        [HP_FIELD_TELL] = "yes_no",       [HP_FIELD_CHOICE] = "choice",
        [HP_FIELD_WAY] = "choice",        [HP_FIELD_PAIRS] = "pair",
        [HP_FIELD_CONTINUITY] = "yes_no", [HP_FIELD_CODES] = "codes",
        [HP_FIELD_CODE] = "code",         [HP_FIELD_LEAD] = "lead",
        [HP_FIELD_WIRING] = "wiring",     [HP_FIELD_ROWS] = "row",
        [HP_FIELD_PHASE_PINS] = "pin",    [HP_FIELD_SENSOR_PINS] = "pin",
        [HP_FIELD_PIN] = "pin",           [HP_FIELD_PART] = "choice",
        [HP_FIELD_PART_LEAD] = "lead",    [HP_FIELD_PIN_VOLTS] = "words",
        [HP_FIELD_MINUS_PIN] = "words",
    };
    return field ? word[field->type] : "gate";
}

hp_question_case hp_web_given(hp_web *web, hp_web_answer *a, const hp_reading *kind)
{
    const hp_scenario *scenario = &web->c->scenario;
    const hp_case_report *report = web->c->bench ? hp_web_report(web, a) : NULL;
    const hp_advice *advice = report ? hp_case_report_advice(report) : NULL;
    return (hp_question_case){.drive = &scenario->drive,
                              .labels = &scenario->labels,
                              .plan = hp_web_plan(web->c),
                              .advice = advice && hp_advice_entry(advice) == kind ? advice : NULL};
}

/* The answer to the question of this key; "": none. */
static const char *answer_to(const hp_scenario_change *value, int count, const char *key)
{
    for (int k = 0; k < count; k++)
        if (strcmp(value[k].key, key) == 0)
            return value[k].text;
    return "";
}

/* ---- a form ---------------------------------------------------------------------------------- */

static json_t *choices_of(hp_web_answer *a, const hp_form_question *put)
{
    json_t *array = json_array();
    for (int k = 0; k < put->choices; k++) {
        json_t *object = json_object();
        hp_json_set(&a->json, object, "word", hp_json_text(put->choice[k].word));
        hp_json_set(&a->json, object, "text", hp_json_text(put->choice[k].text));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static void set_limits(hp_web_answer *a, json_t *object, const hp_limits *limits)
{
    hp_json_set(&a->json, object, "unit", hp_json_text(limits->unit ? limits->unit : ""));
    hp_json_set(&a->json, object, "min", hp_json_number(limits->low));
    hp_json_set(&a->json, object, "max", hp_json_number(limits->high));
    hp_json_set(&a->json, object, "above", json_boolean(limits->above));
    hp_json_set(&a->json, object, "whole", json_boolean(limits->whole));
    hp_json_set(&a->json, object, "open", json_boolean(limits->none));
}

static json_t *question_object(hp_web_answer *a, const hp_question *q, const hp_form_question *put,
                               const char *key)
{
    json_t *object = json_object();
    bool number = put->field && !put->choices && put->limits.high > put->limits.low;
    hp_json_set(&a->json, object, "key", hp_json_text(key));
    hp_json_set(&a->json, object, "field", q->field ? hp_json_text(q->field) : json_null());
    hp_json_set(&a->json, object, "type", hp_json_text(type_word(put->field)));
    hp_json_set(&a->json, object, "text", hp_json_text(put->text));
    hp_json_set(&a->json, object, "noun", hp_json_text(q->noun ? q->noun : ""));
    hp_json_set(&a->json, object, "help", hp_json_text(q->help ? q->help : ""));
    hp_json_set(&a->json, object, "required", json_boolean(put->required));
    hp_json_set(&a->json, object, "fallback", hp_json_text(put->fallback));
    /* Not what is merely usual: nobody looked yet. */
    hp_json_set(&a->json, object, "advised", json_boolean(q->usual && put->fallback[0]));
    hp_json_set(&a->json, object, "shown", put->shown ? hp_json_text(put->shown) : json_null());
    hp_json_set(&a->json, object, "choices", put->choices ? choices_of(a, put) : json_null());
    if (number)
        set_limits(a, object, &put->limits);
    return object;
}

/* One answer of a form that is replayed; `before`: an entry that is changed, or NULL. False when it
 * is none. */
static bool replay(const hp_question_case *given, const hp_bench_entry *before,
                   hp_form_state *state, const hp_question *q, const hp_form_question *put,
                   const char *answer, char *why, size_t size)
{
    /* A gate that nobody opened is closed: a form on one screen begins short. */
    if (!put->field && !answer[0]) {
        state->closed = true;
        return true;
    }
    if (!answer[0] && before && hp_form_left_out(given, before, q))
        return true;
    if (!answer[0] && put->required) {
        snprintf(why, size, "%s", hp_form_wanted);
        return false;
    }
    if (!answer[0] && !put->fallback[0])
        return true;
    return hp_form_take(given, state, q, answer[0] ? answer : put->fallback, why, size);
}

/* Walks the questions that are wanted with these answers; each is told to `each`. `before`: an
 * entry that is changed, or NULL. */
static hp_form_state walk(hp_web_answer *a, const hp_question_case *given, const hp_reading *kind,
                          const hp_bench_entry *before, const hp_scenario_change *value, int count,
                          void (*each)(hp_web_answer *a, void *user, const hp_question *q,
                                       const hp_form_question *put, const char *key,
                                       const char *answer, const char *said, const char *why),
                          void *user)
{
    hp_form_state state = hp_form_begin(kind);
    bool open = false; /* an answer that is wanted is not there yet */
    for (const hp_question *q = hp_questions_of(kind); q && q->text; q++) {
        hp_form_question put;
        char key[HP_FORM_KEY], why[HP_FORM_WHY] = "";
        /* What may or may not be asked, as it turns out, is not asked before it has. */
        if ((open && q->wanted) || !hp_form_wants(given, &state, q))
            continue;
        hp_form_question_make(given, &state, q, &put);
        const char *answer = answer_to(value, count, hp_form_key(kind, q, key));
        open = open || (put.required && !answer[0]);
        bool good = replay(given, before, &state, q, &put, answer, why, sizeof why);
        char said[HP_FORM_ANSWER] = "";
        if (good && answer[0])
            hp_form_said(given, &state.entry, q, said);
        each(a, user, q, &put, key, answer, said, good ? NULL : why);
    }
    return state;
}

static void add_question(hp_web_answer *a, void *user, const hp_question *q,
                         const hp_form_question *put, const char *key, const char *answer,
                         const char *said, const char *why)
{
    json_t *object = question_object(a, q, put, key);
    hp_json_set(&a->json, object, "answer", answer[0] ? hp_json_text(answer) : json_null());
    hp_json_set(&a->json, object, "taken", said[0] ? hp_json_text(said) : json_null());
    hp_json_set(&a->json, object, "problem", why && answer[0] ? hp_json_text(why) : json_null());
    hp_json_append(&a->json, user, object);
}

json_t *hp_web_form_make(hp_web_answer *a, const hp_question_case *given, const hp_reading *kind,
                         const hp_scenario_change *value, int count)
{
    json_t *array = json_array();
    walk(a, given, kind, NULL, value, count, add_question, array);
    return array;
}

json_t *hp_web_values(hp_web_answer *a, const hp_question_case *given, const hp_bench_entry *entry)
{
    const hp_reading *kind = entry->entry.reading;
    json_t *object = json_object();
    for (const hp_question *q = hp_questions_of(kind); q && q->text; q++) {
        char key[HP_FORM_KEY], said[HP_FORM_ANSWER];
        if (hp_form_said(given, entry, q, said)[0])
            hp_json_set(&a->json, object, hp_form_key(kind, q, key), hp_json_text(said));
    }
    return object;
}

/* ---- an entry -------------------------------------------------------------------------------- */

static void add_missing(hp_web_answer *a, void *user, const hp_question *q,
                        const hp_form_question *put, const char *key, const char *answer,
                        const char *said, const char *why)
{
    (void)user;
    (void)q;
    (void)put;
    (void)answer;
    (void)said;
    if (why)
        hp_web_problem(a, key, "%s", why);
}

static void add_misfit(void *user, const char *text)
{
    hp_web_problem(user, "", "This does not fit together: %s.", text);
}

/* A line of the person's own. */
static bool take_note(hp_web_answer *a, char note[HP_BENCH_NOTE_SIZE])
{
    const char *text = "";
    char clean[HP_BENCH_NOTE_SIZE];
    if (!hp_web_take_text(a, "note", &text))
        return false;
    if (strlen(text) >= HP_BENCH_NOTE_SIZE) {
        hp_web_problem(a, "note", "That is too long for a note, must be at most %d bytes.",
                       HP_BENCH_NOTE_SIZE - 1);
        return false;
    }
    if (strcmp(hp_text_clean(text, clean, sizeof clean), text) != 0) {
        hp_web_problem(a, "note", "A note must be text in one line.");
        return false;
    }
    snprintf(note, HP_BENCH_NOTE_SIZE, "%s", text);
    return true;
}

/* When it was; now where the request does not say. */
static bool take_time(hp_web_answer *a, char time[HP_BENCH_TIME_SIZE])
{
    const char *text = NULL;
    if (!hp_web_take_text(a, "time", &text))
        return false;
    if (text && (strlen(text) >= HP_BENCH_TIME_SIZE || !hp_bench_log_time_check(text))) {
        hp_web_problem(a, "time",
                       "time is \"%.60s\", must be a time with its offset from UTC such as "
                       "2026-11-25T10:40:00+01:00",
                       text);
        return false;
    }
    if (text)
        snprintf(time, HP_BENCH_TIME_SIZE, "%s", text);
    else
        hp_bench_log_now(time, HP_BENCH_TIME_SIZE);
    return true;
}

/* The entry that the request's answers make, in the place of one that is changed (NULL: a new
 * one). */
static hp_result take_entry(hp_web *web, hp_web_answer *a, const hp_bench_entry *changed,
                            hp_bench_entry *entry)
{
    const hp_reading *kind;
    hp_scenario_change *value = NULL;
    int count = 0;
    bool typical = false;
    bool good = hp_web_want_kind(a, &kind);
    good = hp_web_take_texts(a, "values", &value, &count) && good;
    good = hp_web_take_flag(a, "typical", &typical) && good;
    if (good) {
        const hp_question_case given = hp_web_given(web, a, kind);
        const hp_bench_entry *before = changed && changed->entry.reading == kind ? changed : NULL;
        *entry = walk(a, &given, kind, before, value, count, add_missing, NULL).entry;
        if (before)
            hp_form_keep(&given, before, entry);
        good = take_note(a, entry->note);
        good = take_time(a, entry->time) && good;
    }
    free(value);
    if (good && a->err.code == HP_OK && hp_bench_says_nothing(&entry->entry)) {
        hp_web_problem(a, "", "Nothing is noted yet: answer one of the questions at least.");
        return HP_FAIL_INPUT;
    }
    if (good && a->err.code == HP_OK &&
        !hp_bench_entry_fits(entry, &web->c->scenario.labels, "the entry.", add_misfit, a))
        return HP_FAIL_INPUT;
    if (good && typical)
        hp_entry_mark_typical(&entry->entry);
    return good && a->err.code == HP_OK ? HP_OK : a->err.code ? a->err.code : HP_FAIL_INPUT;
}

/* ---- requests -------------------------------------------------------------------------------- */

/* What was written, and what it told. */
static hp_result set_meant(hp_web *web, hp_web_answer *a, int number)
{
    const hp_case_report_options why = {.why = true};
    char meant[MEANT_SIZE];
    hp_case_report *report = hp_case_report_create(web->c->bench, &why, &a->err);
    if (!report)
        return a->err.code;
    const hp_reading *kind = web->c->entries.entry[number - 1].entry.reading;
    hp_web_set(a, "number", json_integer(number));
    if (hp_reading_stage(kind) != HP_STAGE_WIRING) { /* it tells of the parts, not of the wiring */
        char found[HP_FOUND_WORDS];
        hp_web_set_text(a, "meant",
                        hp_commission_found_words(hp_case_commissioning(web->c->bench), kind, found,
                                                  sizeof found));
        hp_web_set_text(a, "counted", "");
        hp_case_report_free(report);
        return HP_OK;
    }
    hp_web_set_text(a, "meant", hp_case_report_meant(report, number, meant, sizeof meant));
    hp_web_set_text(a, "counted", hp_case_report_counted(report, number, meant, sizeof meant));
    hp_case_report_free(report);
    return HP_OK;
}

/* A change of the log as text: what the library said is wrong becomes a problem. */
static hp_result finish(hp_web *web, hp_web_answer *a, hp_result result, char *log, int number)
{
    if (result == HP_OK)
        result = hp_web_take_log(web, a, log);
    if (result == HP_OK && number > 0)
        result = set_meant(web, a, number);
    return result;
}

hp_result hp_web_form(hp_web *web, hp_web_answer *a)
{
    const hp_reading *kind;
    hp_scenario_change *value = NULL;
    int count = 0;
    hp_result result = hp_web_want_open(web, a, true);
    if (result != HP_OK)
        return result;
    bool good = hp_web_want_kind(a, &kind);
    if (!hp_web_take_texts(a, "values", &value, &count) || !good) {
        free(value);
        return HP_FAIL_INPUT;
    }
    const hp_question_case given = hp_web_given(web, a, kind);
    const hp_advice own = {.kind = HP_ADVICE_READ, .reading = kind, .lead = -1};
    hp_web_set_text(a, "kind", hp_reading_name(kind));
    hp_web_set_text(a, "title", hp_reading_title(kind));
    hp_web_set(a, "questions", hp_web_form_make(a, &given, kind, value, count));
    hp_web_set(a, "advised", json_boolean(given.advice != NULL));
    hp_web_set(a, "card", hp_web_card(web, a, given.advice ? given.advice : &own));
    free(value);
    return HP_OK;
}

hp_result hp_web_answer_form(hp_web *web, hp_web_answer *a)
{
    hp_bench_entry entry = {.line = 0};
    char *longer = NULL;
    hp_result result = hp_web_want_open(web, a, true);
    if (result == HP_OK)
        result = take_entry(web, a, NULL, &entry);
    if (result == HP_OK)
        result = hp_bench_log_append_text(web->c->log, &web->c->scenario, &entry, &longer, NULL,
                                          &a->err);
    return finish(web, a, result, longer, entry.entry.number);
}

static hp_result want_number(hp_web *web, hp_web_answer *a, int *number)
{
    int count = web->c->entries.count;
    *number = 0;
    if (count == 0)
        return hp_web_problem(a, "number", "There is no entry to change.");
    if (!hp_web_take_whole(a, "number", 1, count, number))
        return HP_FAIL_INPUT;
    return *number > 0 ? HP_OK
                       : hp_web_problem(a, "number", "number is missing, must be 1 to %d", count);
}

hp_result hp_web_change(hp_web *web, hp_web_answer *a)
{
    hp_bench_entry entry = {.line = 0};
    char *changed = NULL;
    int number = 0;
    const char *when = NULL;
    hp_result result = hp_web_want_open(web, a, true);
    if (result == HP_OK)
        result = want_number(web, a, &number);
    if (result == HP_OK)
        result = take_entry(web, a, &web->c->entries.entry[number - 1], &entry);
    if (result == HP_OK && !hp_web_take_text(a, "changed", &when))
        result = HP_FAIL_INPUT;
    if (result == HP_OK && when && !hp_bench_log_time_check(when))
        result = hp_web_problem(a, "changed", "changed must be a time with its offset from UTC");
    if (result == HP_OK)
        result = hp_bench_log_replace_text(web->c->log, number, &web->c->scenario, &entry,
                                           when ? when : entry.time, &changed, NULL, &a->err);
    return finish(web, a, result, changed, number);
}

hp_result hp_web_drop(hp_web *web, hp_web_answer *a)
{
    char time[HP_BENCH_TIME_SIZE], *changed = NULL;
    int number = 0;
    hp_result result = hp_web_want_open(web, a, true);
    if (result == HP_OK)
        result = want_number(web, a, &number);
    if (result == HP_OK && !take_time(a, time))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = hp_bench_log_remove_text(web->c->log, number, &web->c->scenario, time, &changed,
                                          NULL, &a->err);
    return finish(web, a, result, changed, 0);
}
