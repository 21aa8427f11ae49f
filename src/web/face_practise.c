/*
 * Practice: a hidden machine plays the bench. See face_parts.h.
 *
 * It lives beside the open case and needs none. All of it follows from level, seed and what was
 * asked: a page that was left, or a Worker that fell over, begins again with `steps` and is where
 * it was.
 */
#include "hubphase/record/practice_case.h"
#include "hubphase/report/case_words.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

struct hp_web_practice {
    hp_scenario scenario; /* owned */
    hp_practice_case *c;  /* owned */
};

void hp_web_practice_free(hp_web_practice *p)
{
    if (!p)
        return;
    hp_practice_case_free(p->c);
    hp_scenario_free(&p->scenario);
    free(p);
}

/* ---- telling --------------------------------------------------------------------------------- */

static json_t *texts(hp_web_answer *a, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    json_t *array = json_array();
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_json_append(&a->json, array, hp_json_text(label[k]));
    return array;
}

static json_t *levels(hp_web_answer *a)
{
    json_t *array = json_array();
    for (int k = 0; k < HP_PRACTICE_LEVELS; k++) {
        json_t *object = json_object();
        hp_json_set(&a->json, object, "level",
                    hp_json_text(hp_practice_level_name((hp_practice_level)k)));
        hp_json_set(&a->json, object, "words",
                    hp_json_text(hp_practice_level_words((hp_practice_level)k)));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *choices(const hp_web_practice *p, hp_web_answer *a)
{
    json_t *array = json_array();
    for (int k = 0; hp_readings[k]; k++) {
        const hp_reading *kind = hp_readings[k];
        const char *menu = hp_reading_menu(kind);
        if (!hp_practice_shows(hp_practice_case_machine(p->c), kind))
            continue;
        json_t *object = json_object();
        hp_json_set(&a->json, object, "kind", hp_json_text(hp_reading_name(kind)));
        hp_json_set(&a->json, object, "title", hp_json_text(hp_reading_title(kind)));
        hp_json_set(&a->json, object, "menu", menu ? hp_json_text(menu) : json_null());
        hp_json_set(&a->json, object, "by_lead", json_boolean(hp_reading_is_by_lead(kind)));
        hp_json_set(&a->json, object, "trial", json_boolean(hp_practice_is_trial(kind)));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *feeds(const hp_web_practice *p, hp_web_answer *a)
{
    char words[HP_PRACTICE_WORDS];
    json_t *array = json_array();
    for (int k = 0; k < HP_PRACTICE_FEEDS; k++) {
        hp_practice_feed feed = (hp_practice_feed)k;
        if (!hp_practice_may_feed(hp_practice_case_machine(p->c), feed))
            continue;
        json_t *object = json_object();
        hp_json_set(&a->json, object, "feed", hp_json_text(hp_practice_feed_name(feed)));
        hp_json_set(&a->json, object, "text",
                    hp_json_text(hp_practice_feed_words(p->c, feed, words)));
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *faults(const hp_web_practice *p, hp_web_answer *a)
{
    char words[HP_PRACTICE_WORDS];
    json_t *array = json_array();
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++) {
        hp_practice_fault fault = (hp_practice_fault)k;
        int side = hp_practice_fault_side(fault);
        if (!hp_practice_may_fail(hp_practice_case_machine(p->c), fault))
            continue;
        json_t *object = json_object();
        hp_json_set(&a->json, object, "fault", hp_json_text(hp_practice_fault_name(fault)));
        hp_json_set(&a->json, object, "text",
                    hp_json_text(hp_practice_fault_words(&p->scenario.labels, fault, -1, words)));
        hp_json_set(&a->json, object, "leads",
                    side == HP_PLUG_PHASE_U    ? texts(a, p->scenario.labels.motor_lead)
                    : side == HP_PLUG_SENSOR_U ? texts(a, p->scenario.labels.motor_sensor)
                                               : json_null());
        hp_json_append(&a->json, array, object);
    }
    return array;
}

static json_t *step_object(const hp_web_practice *p, hp_web_answer *a, const hp_practice_step *step)
{
    char words[HP_PRACTICE_WORDS];
    json_t *object = json_object(), *risks = json_array();
    for (int k = 0; k < step->risks; k++) {
        json_t *risk = json_object();
        hp_json_set(&a->json, risk, "text",
                    hp_json_text(hp_practice_risk_words(p->c, step, k, words)));
        hp_json_set(&a->json, risk, "met", json_boolean(step->risk[k].met));
        hp_json_append(&a->json, risks, risk);
    }
    hp_json_set(&a->json, object, "number",
                step->number > 0 ? json_integer(step->number) : json_null());
    hp_json_set(&a->json, object, "given", json_boolean(step->given));
    hp_json_set(&a->json, object, "name", hp_json_text(hp_practice_step_name(p->c, step, words)));
    hp_json_set(&a->json, object, "words", hp_json_text(hp_practice_step_words(p->c, step, words)));
    hp_json_set(&a->json, object, "minutes", hp_json_number(step->minutes));
    hp_json_set(&a->json, object, "left", json_integer(step->left));
    hp_json_set(&a->json, object, "left_words", hp_json_text(hp_practice_left_words(step, words)));
    hp_json_set(&a->json, object, "risks", risks);
    return object;
}

static json_t *path_object(const hp_web_practice *p, hp_web_answer *a, hp_practice_who who)
{
    const hp_practice_path *path = hp_practice_case_path(p->c, who);
    json_t *object = json_object(), *steps = json_array();
    for (int k = 0; k < path->steps; k++)
        hp_json_append(&a->json, steps, step_object(p, a, &path->step[k]));
    hp_json_set(&a->json, object, "steps", steps);
    hp_json_set(&a->json, object, "asked", json_integer(path->asked));
    hp_json_set(&a->json, object, "minutes", hp_json_number(path->minutes));
    hp_json_set(&a->json, object, "trials", json_integer(path->trials));
    hp_json_set(&a->json, object, "risks", json_integer(path->risks));
    hp_json_set(&a->json, object, "met", json_integer(path->met));
    hp_json_set(&a->json, object, "hints", json_integer(path->hints));
    return object;
}

/* What the learner sees at any time. */
static void set_state(hp_web *web, hp_web_answer *a)
{
    hp_web_set(a, "path", path_object(web->practice, a, HP_PRACTICE_LEARNER));
    hp_web_set_text(a, "log", hp_practice_case_log(web->practice->c, HP_PRACTICE_LEARNER));
}

/* ---- beginning ------------------------------------------------------------------------------- */

static hp_result want_practice(hp_web *web, hp_web_answer *a)
{
    return web->practice ? HP_OK
                         : hp_web_problem(a, "practise",
                                          "No practice is begun: ask for it with its level "
                                          "and its seed first.");
}

static hp_result read_scenario(hp_web_practice *p, hp_web_answer *a, hp_practice_level level)
{
    const hp_problem_ear ear = hp_web_ear(a);
    const char *text = hp_practice_scenario_text(level), *name = hp_practice_scenario_name(level);
    if (!hp_web_take_text(a, "scenario", &text) || !hp_web_take_text(a, "name", &name))
        return HP_FAIL_INPUT;
    return hp_scenario_read_changed(text, strlen(text), name, NULL, 0, &p->scenario, &ear, &a->err);
}

/* When it is: the library knows no time zone. */
static bool take_time(hp_web_answer *a, const char **time)
{
    if (!hp_web_take_text(a, "time", time))
        return false;
    if (!*time || hp_bench_log_time_check(*time))
        return true;
    hp_web_problem(a, "time", "time must be a time with its offset from UTC");
    return false;
}

static hp_result open_practice(hp_web *web, hp_web_answer *a, hp_web_practice *p,
                               hp_practice_level level, int seed)
{
    const char *table = NULL, *time = NULL;
    hp_case_options options = hp_case_options_default();
    if (!hp_web_take_text(a, "table", &table) || !take_time(a, &time))
        return HP_FAIL_INPUT;
    options.table = table;
    options.progress = web->progress;
    options.progress_user = web->user;
    p->c = hp_practice_case_create(&p->scenario, level, (uint64_t)seed, &options, time, &a->err);
    return p->c ? HP_OK : a->err.code;
}

/* The table where it took long to make. */
static hp_result set_table(const hp_web_practice *p, hp_web_answer *a)
{
    hp_web_stream text;
    const hp_case *bench = hp_practice_case_bench(p->c);
    if (hp_case_table(bench) != HP_TABLE_BUILT) {
        hp_web_set(a, "table", json_null());
        return HP_OK;
    }
    hp_result result = hp_web_stream_begin(&text, &a->err);
    if (result == HP_OK)
        result = hp_case_table_write(bench, text.file, &a->err);
    return hp_web_stream_tell(&text, "table", result, a);
}

static void set_bench(const hp_web_practice *p, hp_web_answer *a)
{
    char log[HP_BENCH_PATH_SIZE], words[HP_PRACTICE_WORDS];
    const hp_practice *machine = hp_practice_case_machine(p->c);
    json_t *leads = json_object();
    hp_practice_level level = hp_practice_level_of(machine);
    hp_json_set(&a->json, leads, "phase", texts(a, p->scenario.labels.motor_lead));
    hp_json_set(&a->json, leads, "sensor", texts(a, p->scenario.labels.motor_sensor));
    hp_json_set(&a->json, leads, "output", texts(a, p->scenario.labels.controller_output));
    hp_json_set(&a->json, leads, "input", texts(a, p->scenario.labels.controller_input));
    hp_web_set_text(a, "level", hp_practice_level_name(level));
    hp_web_set(a, "seed", json_integer((json_int_t)hp_practice_seed(machine)));
    hp_web_set_text(a, "aim", hp_practice_level_words(level));
    hp_web_set_text(a, "counts", hp_practice_counts_words(p->c, words));
    hp_web_set_text(a, "codes", hp_practice_code_words(&p->scenario.labels, words));
    hp_web_set_text(a, "machine", p->scenario.labels.machine);
    hp_web_set(a, "leads", leads);
    hp_web_set(a, "given", json_integer(hp_practice_given(machine)));
    hp_web_set(a, "choices", choices(p, a));
    hp_web_set(a, "feeds", feeds(p, a));
    hp_web_set(a, "faults", faults(p, a));
    hp_web_set_text(a, "name", p->scenario.path);
    hp_bench_log_path(p->scenario.path, NULL, log, sizeof log, NULL);
    hp_web_set_text(a, "log_name", log);
}

/* ---- steps ----------------------------------------------------------------------------------- */

/* A lead by its name. */
static bool want_lead(hp_web_answer *a, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int *lead)
{
    const char *name;
    if (!hp_web_want_text(a, "lead", &name))
        return false;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (strcmp(label[k], name) == 0) {
            *lead = k;
            return true;
        }
    hp_web_problem(a, "lead", "\"%.80s\" is no lead, must be %s, %s or %s", name, label[0],
                   label[1], label[2]);
    return false;
}

static bool want_wiring(hp_web_answer *a, const hp_web_practice *p, hp_wiring *wiring)
{
    const char *text;
    hp_error err = hp_error_none();
    if (!hp_web_want_text(a, "wiring", &text))
        return false;
    if (hp_wiring_parse(text, &p->scenario.labels, wiring, &err) == HP_OK)
        return true;
    hp_web_problem(a, "wiring", "%s", err.text);
    return false;
}

static bool want_feed(hp_web_answer *a, hp_practice_feed *feed)
{
    const char *name;
    if (!hp_web_want_text(a, "feed", &name))
        return false;
    int found = hp_practice_feed_find(name);
    if (found < 0)
        hp_web_problem(a, "feed", "\"%.80s\" feeds nothing, must be limited, battery or full",
                       name);
    *feed = found < 0 ? HP_PRACTICE_LIMITED : (hp_practice_feed)found;
    return found >= 0;
}

/* The question of a request. */
static bool take_question(const hp_web_practice *p, hp_web_answer *a, hp_entry *question)
{
    const hp_reading *kind;
    hp_practice_feed feed;
    hp_wiring wiring;
    int lead = -1;
    if (!hp_web_want_kind(a, &kind))
        return false;
    if (hp_practice_is_trial(kind)) {
        if (!want_wiring(a, p, &wiring) || !want_feed(a, &feed))
            return false;
        *question = hp_practice_ask_trial(hp_practice_case_machine(p->c), &wiring, feed,
                                          hp_practice_case_limit(p->c));
        return true;
    }
    if (hp_reading_is_by_lead(kind) && !want_lead(a, p->scenario.labels.motor_lead, &lead))
        return false;
    *question = hp_practice_ask(kind, lead);
    return true;
}

static hp_result take_step(const hp_web_practice *p, hp_web_answer *a)
{
    hp_entry question;
    const char *time = NULL;
    if (!take_question(p, a, &question) || !take_time(a, &time))
        return HP_FAIL_INPUT;
    hp_practice_case_at(p->c, time);
    return hp_practice_case_take(p->c, &question, &a->err);
}

static hp_result drop_step(const hp_web_practice *p, hp_web_answer *a)
{
    int number = 0;
    const char *time = NULL;
    if (!hp_web_take_whole(a, "number", 1, HP_PRACTICE_STEPS_MAX, &number) || !take_time(a, &time))
        return HP_FAIL_INPUT;
    hp_practice_case_at(p->c, time);
    return hp_practice_case_drop(p->c, number, &a->err);
}

/* A step that was taken before the page was left: with a kind it was asked, else taken out. */
static hp_result take_again(const hp_web_practice *p, hp_web_answer *a)
{
    const json_t *request = a->request, *list = json_object_get(request, "steps"), *step;
    hp_result result = HP_OK;
    size_t k;
    if (list && !json_is_null(list) && !json_is_array(list))
        return hp_web_problem(a, "steps", "steps must be a list of what was asked");
    json_array_foreach((json_t *)list, k, step)
    {
        a->request = step;
        result = json_object_get(step, "kind") ? take_step(p, a) : drop_step(p, a);
        if (result != HP_OK)
            break;
    }
    a->request = request;
    return result;
}

/* ---- requests -------------------------------------------------------------------------------- */

/* Without a level: what levels there are. */
hp_result hp_web_practise(hp_web *web, hp_web_answer *a)
{
    const char *name = NULL;
    int seed = 1;
    hp_web_set(a, "levels", levels(a));
    if (!hp_web_take_text(a, "level", &name))
        return HP_FAIL_INPUT;
    if (!name)
        return HP_OK;
    int level = hp_practice_level_find(name);
    if (level < 0)
        return hp_web_problem(a, "level",
                              "\"%.80s\" is no level, must be sound, fault, slip or clutch", name);
    if (!hp_web_take_whole(a, "seed", 1, HP_PRACTICE_SEED_MAX, &seed))
        return HP_FAIL_INPUT;
    hp_web_practice *p = calloc(1, sizeof *p);
    if (!p)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for practice");
    hp_result result = read_scenario(p, a, (hp_practice_level)level);
    if (result == HP_OK)
        result = open_practice(web, a, p, (hp_practice_level)level, seed);
    if (result == HP_OK)
        result = take_again(p, a);
    if (result != HP_OK) {
        hp_web_practice_free(p);
        return result;
    }
    hp_web_practice_free(web->practice);
    web->practice = p;
    set_bench(p, a);
    set_state(web, a);
    return set_table(p, a);
}

hp_result hp_web_practise_take(hp_web *web, hp_web_answer *a)
{
    char told[HP_PRACTICE_WORDS];
    hp_result result = want_practice(web, a);
    if (result == HP_OK)
        result = take_step(web->practice, a);
    if (result != HP_OK)
        return result;
    hp_web_set_text(a, "told", hp_practice_told_last(web->practice->c, told));
    set_state(web, a);
    return HP_OK;
}

hp_result hp_web_practise_drop(hp_web *web, hp_web_answer *a)
{
    hp_result result = want_practice(web, a);
    if (result == HP_OK)
        result = drop_step(web->practice, a);
    if (result == HP_OK)
        set_state(web, a);
    return result;
}

hp_result hp_web_practise_hint(hp_web *web, hp_web_answer *a)
{
    hp_advice advice;
    char title[HP_HINT_WORDS], reason[HP_HINT_WORDS], again[HP_HINT_WORDS];
    hp_result result = want_practice(web, a);
    if (result == HP_OK)
        result = hp_practice_case_hint(web->practice->c, &advice, &a->err);
    if (result != HP_OK)
        return result;
    hp_hint_words(hp_practice_case_bench(web->practice->c), &advice, title, reason, again);
    hp_web_set_text(a, "title", title);
    hp_web_set_text(a, "reason", reason);
    hp_web_set_text(a, "again", again);
    set_state(web, a);
    return HP_OK;
}

/* What somebody says at the end. */
static bool take_claim(const hp_web_practice *p, hp_web_answer *a, hp_practice_answer *said)
{
    const char *claim, *fault = "";
    const hp_labels *labels = &p->scenario.labels;
    hp_wiring wiring;
    *said = (hp_practice_answer){.claim = HP_CLAIM_NOTHING, .lead = -1};
    if (!hp_web_want_text(a, "claim", &claim))
        return false;
    if (strcmp(claim, "nothing") == 0)
        return true;
    if (strcmp(claim, "wiring") == 0) {
        said->claim = HP_CLAIM_WIRING;
        if (!want_wiring(a, p, &wiring))
            return false;
        said->number = hp_wiring_number(&wiring);
        return true;
    }
    if (strcmp(claim, "entry") == 0) {
        said->claim = HP_CLAIM_SLIP;
        return hp_web_take_whole(a, "number", 1, HP_PRACTICE_STEPS_MAX, &said->number);
    }
    if (strcmp(claim, "fault") != 0) {
        hp_web_problem(a, "claim",
                       "\"%.80s\" says nothing, must be wiring, fault, entry or "
                       "nothing",
                       claim);
        return false;
    }
    said->claim = HP_CLAIM_FAULT;
    if (!hp_web_want_text(a, "fault", &fault))
        return false;
    int found = hp_practice_fault_find(fault);
    if (found < 0) {
        hp_web_problem(a, "fault", "\"%.80s\" is none of the faults", fault);
        return false;
    }
    said->fault = (hp_practice_fault)found;
    int side = hp_practice_fault_side(said->fault);
    return side < 0 ||
           want_lead(a, side == HP_PLUG_PHASE_U ? labels->motor_lead : labels->motor_sensor,
                     &said->lead);
}

/* Adds what each step told to the steps of a path. */
static hp_result set_told(const hp_web_practice *p, hp_web_answer *a, hp_practice_who who,
                          json_t *path)
{
    int steps = hp_practice_case_path(p->c, who)->steps;
    char(*told)[HP_PRACTICE_WORDS] = calloc((size_t)steps + 1, sizeof *told);
    if (!told)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for practice");
    hp_result result = hp_practice_told(p->c, who, told, &a->err);
    for (int k = 0; k < steps && result == HP_OK; k++)
        hp_json_set(&a->json, json_array_get(json_object_get(path, "steps"), (size_t)k), "told",
                    hp_json_text(told[k]));
    free(told);
    return result;
}

static hp_result set_end(const hp_web_practice *p, hp_web_answer *a)
{
    static const char *const name[HP_PRACTICE_WHO] = {"learner", "advice"};
    char words[HP_PRACTICE_WORDS];
    hp_result result = HP_OK;
    hp_web_set_text(a, "words", hp_practice_end_words(p->c, HP_PRACTICE_LEARNER, words));
    hp_web_set_text(a, "truth", hp_practice_truth_words(p->c, words));
    for (int w = 0; w < HP_PRACTICE_WHO && result == HP_OK; w++) {
        hp_practice_who who = (hp_practice_who)w;
        json_t *path = path_object(p, a, who);
        hp_json_set(&a->json, path, "answer",
                    hp_json_text(hp_practice_answer_words(p->c, who, words)));
        hp_json_set(&a->json, path, "end",
                    hp_json_text(hp_practice_end_word(hp_practice_case_path(p->c, who)->end)));
        result = set_told(p, a, who, path);
        hp_web_set(a, name[w], path);
    }
    return result;
}

hp_result hp_web_practise_end(hp_web *web, hp_web_answer *a)
{
    hp_practice_answer said;
    hp_result result = want_practice(web, a);
    if (result == HP_OK && !take_claim(web->practice, a, &said))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = hp_practice_case_end(web->practice->c, &said, &a->err);
    if (result == HP_OK)
        result = set_end(web->practice, a);
    if (result == HP_OK)
        set_state(web, a);
    return result;
}
