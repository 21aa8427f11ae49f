/*
 * Nothing is asked that the scenario says cannot be read: no reading that is not allowed, no figure
 * without its meter, no limit that is not there, neither as advice nor as proof, nor in the words
 * of a card, its questions and the command that logs it.
 *
 * Each reading in turn cannot be taken, each meter is missing, each supply is another; the advice
 * is then followed to its end on usual, silent and dragging machines.
 */
#include "check.h"
#include "plan_bench.h"
#include "report/words/words.h"

#include <strings.h>

#define MOTOR 5 /* of the ensemble: any will do */

/* What is missing here, and words that then may not be said. */
typedef struct lack {
    const char *name;
    const hp_reading *reading; /* cannot be taken; NULL: all can */
    bool no_ammeter, no_tachometer;
    hp_first_power first_power;
    const char *banned[8];
} lack;

/* Machines on which other questions come up. */
typedef enum world { WORLD_USUAL, WORLD_SILENT, WORLD_DRAGS, WORLD_COUNT } world;

/* Whether a word is said, capitals or not. */
static bool says(const char *text, const char *word)
{
    for (; *text; text++)
        if (strncasecmp(text, word, strlen(word)) == 0)
            return true;
    return false;
}

static int asked; /* steps that were looked at */

static void check_unsaid(const lack *l, const char *text, const char *where)
{
    for (int k = 0; l->banned[k]; k++)
        check_true(!says(text, l->banned[k]), "%s: \"%s\" is said in %s: %s", l->name, l->banned[k],
                   where, text);
}

static void check_words(const bench *b, const lack *l, const hp_advice *advice)
{
    static hp_card words;
    hp_labels labels = hp_labels_default();
    hp_plan_params params = *hp_planner_params(b->planner);
    hp_card_context context = {
        .drive = &b->table.nominal, .labels = &labels, .plan = &params, .present = 0};
    hp_card_make(&context, advice, &words);
    for (int k = 0; k < words.hows; k++)
        if (!strstr(words.how[k], "borrow a meter"))
            check_unsaid(l, words.how[k], "a how-to");
    check_unsaid(l, words.note, "the note");
    const hp_reading *entry = hp_advice_entry(advice);
    if (!entry)
        return;
    char line[2000] = "";
    hp_log_line log = {.out = line, .size = sizeof line};
    hp_log_options(&context, advice, entry, &log);
    for (char *word = line; *word; word += strlen(word) + 1)
        check_unsaid(l, word, "the log line");
    /* Whatever was answered before: a trial that turned. */
    hp_entry said = hp_entry_make(entry, 1);
    if (entry == &hp_reading_trial) {
        said.trial.motion = HP_MOVED_FORWARD;
        said.trial.starts_tried = 6;
    }
    hp_question_case given = {
        .drive = &b->table.nominal, .labels = &labels, .plan = &params, .advice = advice};
    for (const hp_question *q = hp_questions_of(entry); q && q->text; q++)
        if (!q->wanted || q->wanted(&given, said.values))
            check_unsaid(l, q->field ? q->field : "", "a question");
}

static void check_step(const bench *b, const lack *l, const hp_advice *advice)
{
    asked++;
    check_true(!l->reading || advice->reading != l->reading, "%s is asked for", l->name);
    check_true(!l->reading || advice->proof != l->reading, "%s is to prove it", l->name);
    check_true(l->first_power != HP_FIRST_POWER_NONE || !advice->limited,
               "a limit is asked for where there is none");
    check_words(b, l, advice);
}

static hp_entry answer(const bench *b, world w, bool *silent, const hp_hypothesis *truth,
                       const hp_advice *advice)
{
    const hp_reading *kind = hp_advice_entry(advice);
    if (kind != &hp_reading_trial) {
        hp_entry e = typical_entry(b, truth, MOTOR, advice);
        if (kind == &hp_reading_controls) {
            e.controls.found = *silent ? HP_FOUND_BRAKE : HP_FOUND_NOTHING;
            *silent = false;
        }
        return e;
    }
    hp_entry e = hp_entry_make(kind, 0);
    bool right = hp_wiring_is_right(truth->relation, truth->table, &advice->wiring);
    const hp_record *r = hp_likelihood_record(&b->table, 0, hp_smooth_case(&b->table), MOTOR);
    hp_trial *t = &e.trial;
    t->wiring = advice->wiring;
    t->throttle = b->table.nominal.controller.throttle;
    t->starts_tried = b->params.starts;
    t->starts = right && !*silent ? t->starts_tried : 0;
    t->motion = t->starts ? HP_MOVED_FORWARD : right ? HP_MOVED_STILL : HP_MOVED_SHIVER;
    t->feel = t->starts ? HP_FEEL_SMOOTH : HP_FEEL_UNSAID;
    if (*silent)
        t->motion = HP_MOVED_STILL;
    double drags = w == WORLD_DRAGS ? 20.0 : 1.0;
    if (b->params.ammeter)
        t->battery_a = *silent ? 0.0 : right ? drags * hp_grid_value(r->current_turning) : 6.0;
    if (b->params.tachometer && t->starts)
        t->wheel_rad_s = hp_grid_value(r->wheel_speed);
    return e;
}

static void follow(const lack *l, world w)
{
    hp_hypothesis truth = {w == WORLD_DRAGS ? 0 : 3, 0, -1, {HP_FAULT_NONE, 0}};
    bool silent = w == WORLD_SILENT;
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.ammeter = !l->no_ammeter;
    b.params.tachometer = !l->no_tachometer;
    b.params.first_power = l->first_power;
    if (l->reading)
        b.params.allowed &= ~hp_allow(l->reading);
    open_bench(&b);
    /* The words of each reading, whether it comes to be asked for or not. A spin is timed by a
     * watch, and makes its speed itself. */
    for (int k = 0; hp_readings[k]; k++) {
        const hp_advice advice = {.kind = HP_ADVICE_READ, .reading = hp_readings[k], .lead = 0};
        if (hp_reading_is_advised(hp_readings[k]) && hp_readings[k] != &hp_reading_spin)
            check_words(&b, l, &advice);
    }
    for (int step = 0; step < 25; step++) {
        hp_advice advice = next(&b);
        check_step(&b, l, &advice);
        if (advice.kind > HP_ADVICE_LOOK)
            break;
        add(&b, answer(&b, w, &silent, &truth, &advice));
    }
    close_bench(&b);
}

static void nothing_is_asked_that_cannot_be_read(void **state)
{
    (void)state;
    const lack meters[] = {
        {.name = "no ammeter",
         .no_ammeter = true,
         .banned = {"ammeter", "amperes from", "battery current", "battery-a", "battery_a",
                    "idle"}},
        {.name = "no tachometer",
         .no_tachometer = true,
         .banned = {"wheel's speed", "rev/min of the wheel", "wheel-speed", "wheel_speed", "coast",
                    "count the seconds"}},
        {.name = "a lamp alone",
         .first_power = HP_FIRST_POWER_LAMP,
         .banned = {"from a bench supply", "bench_supply"}},
        {.name = "a bench supply alone",
         .first_power = HP_FIRST_POWER_BENCH_SUPPLY,
         .banned = {"filament", "by=lamp"}},
        {.name = "no limit",
         .first_power = HP_FIRST_POWER_NONE,
         .banned = {"bench supply set", "filament", "limit-reached", "limit_reached", "fed_by",
                    "supply_limit"}},
    };
    for (int w = 0; w < WORLD_COUNT; w++) {
        for (int k = 0; k < (int)(sizeof meters / sizeof meters[0]); k++)
            if (HP_DRAWS(true, k % WORLD_COUNT == w))
                follow(&meters[k], (world)w);
        for (int k = 0; hp_readings[k]; k++)
            if (hp_reading_is_advised(hp_readings[k]) && HP_DRAWS(true, k % WORLD_COUNT == w)) {
                const lack l = {.name = hp_readings[k]->name, .reading = hp_readings[k]};
                follow(&l, (world)w);
            }
    }
    check_true(asked > HP_DRAWS(150, 50), "only %d steps were looked at", asked);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(nothing_is_asked_that_cannot_be_read)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
