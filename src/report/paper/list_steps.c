/* The plan tree as steps of the list: see the header. */
#include "report/paper/list_steps.h"

#include "hubphase/decide/evidence.h"
#include "report/data/json_tree.h"
#include "report/words/drive_words.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Work space while the steps are made. */
typedef struct maker {
    const hp_plan_list *list;
    hp_list_steps *plan;
    int *joined;  /* owned; [node] number of the wiring that is joined there */
    int *step;    /* owned; [node] */
    json_t *seen; /* owned; step of a key */
} maker;

static bool pool_create(hp_list_pool *pool)
{
    pool->list = json_array();
    pool->map = json_object();
    return pool->list && pool->map;
}

static void pool_free(hp_list_pool *pool)
{
    json_decref(pool->list);
    json_decref(pool->map);
}

/* Place of a thing, taken in when it is new; -1 when memory is short. Takes over `thing`. */
static int pool_take(hp_list_pool *pool, const char *key, json_t *thing)
{
    const json_t *known = key ? json_object_get(pool->map, key) : NULL;
    int place = known ? (int)json_integer_value(known) : (int)json_array_size(pool->list);
    if (known || !key) {
        json_decref(thing);
        return known ? place : -1;
    }
    bool fine = json_array_append_new(pool->list, thing) == 0 &&
                json_object_set_new(pool->map, key, json_integer(place)) == 0;
    return fine ? place : -1;
}

static int take_text(hp_list_steps *plan, const char *text)
{
    return pool_take(&plan->texts, text, hp_json_text(text));
}

/* An array of numbers, which is its own key. */
static int take_numbers(hp_list_pool *pool, json_t *array)
{
    char *key = hp_json_compact(array);
    int place = pool_take(pool, key, array);
    free(key);
    return place;
}

const char *hp_list_text(const hp_list_steps *plan, int text)
{
    return json_string_value(json_array_get(plan->texts.list, (size_t)text));
}

enum { WORDS_SAFE = 2, WORDS_HOW, WORDS_CAUTION, WORDS_DETAIL };

static const json_t *words_part(const hp_list_steps *plan, const hp_list_step *step, size_t part)
{
    return json_array_get(json_array_get(plan->words.list, (size_t)step->words), part);
}

static const char *text_at(const hp_list_steps *plan, const json_t *place)
{
    return place ? hp_list_text(plan, (int)json_integer_value(place)) : NULL;
}

const char *hp_list_safe(const hp_list_steps *plan, const hp_list_step *step)
{
    return text_at(plan, words_part(plan, step, WORDS_SAFE));
}

const char *hp_list_how(const hp_list_steps *plan, const hp_list_step *step, size_t k)
{
    return text_at(plan, json_array_get(words_part(plan, step, WORDS_HOW), k));
}

static const char *text_of(const hp_list_steps *plan, const hp_list_step *step, size_t part,
                           size_t at, size_t k)
{
    return text_at(plan, json_array_get(json_array_get(words_part(plan, step, part), at), k));
}

const char *hp_list_caution(const hp_list_steps *plan, const hp_list_step *step, size_t at,
                            size_t k)
{
    return text_of(plan, step, WORDS_CAUTION, at, k);
}

const char *hp_list_detail(const hp_list_steps *plan, const hp_list_step *step, size_t at, size_t k)
{
    return text_of(plan, step, WORDS_DETAIL, at, k);
}

/* ---- one node as a step ---------------------------------------------------------------------- */

static bool asks_for_trial(const hp_advice *advice)
{
    return advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK;
}

/* Adds the place of a text to an array; false when memory is short. */
static bool append_text(hp_list_steps *plan, json_t *array, const char *text)
{
    int place = take_text(plan, text);
    return place >= 0 && json_array_append_new(array, json_integer(place)) == 0;
}

static json_t *take_hows(hp_list_steps *plan, const hp_card *words, bool *fine)
{
    json_t *array = json_array();
    for (int k = 0; k < words->hows; k++)
        *fine = append_text(plan, array, words->how[k]) && *fine;
    return array;
}

/* One array for each how-to. */
static json_t *take_details(hp_list_steps *plan, const hp_card *words, bool *fine)
{
    json_t *array = json_array();
    for (int at = 0; at < words->hows; at++) {
        json_t *here = json_array();
        for (int k = 0; k < words->details; k++)
            if (words->detail_at[k] == at)
                *fine = append_text(plan, here, words->detail[k]) && *fine;
        *fine = json_array_append_new(array, here) == 0 && *fine;
    }
    return array;
}

/* One array for each how-to, and one for the whole card. */
static json_t *take_cautions(hp_list_steps *plan, const hp_card *words, bool *fine)
{
    json_t *array = json_array();
    for (int at = 0; at <= words->hows; at++) {
        json_t *here = json_array();
        for (int k = 0; k < words->cautions; k++)
            if (words->caution_at[k] == at)
                *fine = append_text(plan, here, words->caution[k]) && *fine;
        *fine = json_array_append_new(array, here) == 0 && *fine;
    }
    return array;
}

/* Nobody is asked on paper: what comes after the final check stands with it, as safe as the card of
 * its own would have it. */
static void add_plug(const hp_card_context *context, const hp_advice *advice, hp_card *words)
{
    hp_phrase p = advice->kind == HP_ADVICE_DONE
                      ? hp_phrase_resume(words->healthy, sizeof words->healthy)
                      : hp_phrase_resume(words->reason, sizeof words->reason);
    hp_phrase_add(
        &p,
        "%sLast, battery off, under 1 V at the controller: pull the Hall plug, both halves "
        "clear of metal. Battery on, %s, one second: the motor is not to turn. If it does, "
        "this controller runs without Hall sensors: the Hall leads are not proved.",
        p.used > 0 ? " " : "", hp_drive_words_of(context->plan)->gently);
}

static bool take_words(hp_list_steps *plan, const hp_card_context *context, const hp_advice *advice,
                       hp_list_step *step)
{
    hp_card words;
    bool fine = true;
    hp_card_make(context, advice, &words);
    if (advice->plug == HP_PLUG_OWED)
        add_plug(context, advice, &words);
    step->title = take_text(plan, words.title);
    step->reason = take_text(plan, words.reason);
    step->healthy = take_text(plan, words.healthy);
    int safe = take_text(plan, words.safe);
    json_t *how = take_hows(plan, &words, &fine);
    json_t *caution = take_cautions(plan, &words, &fine);
    json_t *detail = take_details(plan, &words, &fine);
    step->words = take_numbers(&plan->words, json_pack("[i, i, i, o, o, o]", step->title,
                                                       step->healthy, safe, how, caution, detail));
    return fine && step->title >= 0 && step->reason >= 0 && step->healthy >= 0 && safe >= 0 &&
           step->words >= 0;
}

static bool take_answer(const maker *m, const hp_card_context *context, const hp_advice *advice,
                        const hp_plan_branch *branch, hp_list_answer *answer)
{
    hp_showing_words words;
    hp_showing_words_make(context, advice, &branch->showing.entry, &words);
    *answer = (hp_list_answer){take_text(m->plan, words.label), m->step[branch->node]};
    return answer->label >= 0;
}

/* Answers to a trial in an order in which a person can look one up: by motion, then by how it
 * sounds, then the fewer starts and the larger currents later. Readings stay likeliest first. */
static int by_sight(const void *a, const void *b)
{
    const hp_plan_branch *x = a, *y = b;
    const hp_trial *s = &x->showing.entry.trial, *t = &y->showing.entry.trial;
    if (s->motion != t->motion)
        return s->motion < t->motion ? -1 : 1;
    if (s->feel != t->feel)
        return s->feel < t->feel ? -1 : 1;
    if (s->starts != t->starts)
        return s->starts > t->starts ? -1 : 1;
    /* Not read: NAN, which is neither smaller nor larger. */
    int current = (s->battery_a > t->battery_a) - (s->battery_a < t->battery_a);
    int speed = (s->wheel_rad_s > t->wheel_rad_s) - (s->wheel_rad_s < t->wheel_rad_s);
    if (current || speed)
        return current ? current : speed;
    return (x->node > y->node) - (x->node < y->node);
}

static bool take_answers(const maker *m, const hp_card_context *context, const hp_plan_node *node,
                         hp_list_step *step)
{
    size_t size = (size_t)node->branches * sizeof *node->branch;
    hp_plan_branch *branch = node->branches > 0 ? malloc(size) : NULL;
    if (node->branches == 0)
        return true;
    step->answer = calloc((size_t)node->branches, sizeof *step->answer);
    bool fine = branch && step->answer;
    if (fine) {
        memcpy(branch, node->branch, size);
        if (step->joins)
            qsort(branch, (size_t)node->branches, sizeof *branch, by_sight);
        for (int k = 0; fine && k < node->branches; k++)
            fine =
                take_answer(m, context, &node->advice, &branch[k], &step->answer[step->answers++]);
    }
    free(branch);
    return fine;
}

/* The node as a step; its answers' steps are known already. */
static bool fill_step(const maker *m, int index, hp_list_step *step)
{
    const hp_plan_node *node = &m->list->tree->node[index];
    const hp_advice *advice = &node->advice;
    hp_card_context context = m->list->words;
    context.present = m->joined[index];
    *step = (hp_list_step){.kind = advice->kind,
                           .reading = advice->reading,
                           .trouble = advice->trouble,
                           .joins = asks_for_trial(advice),
                           .cut = node->cut,
                           .reached = node->reached};
    if (step->joins || advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY)
        step->wiring = advice->number;
    return take_words(m->plan, &context, advice, step) && take_answers(m, &context, node, step);
}

/* ---- steps that are the same ----------------------------------------------------------------- */

/* Text that two steps share exactly when they say the same and go on in the same way; NULL when
 * memory is short. */
static char *key_of(const hp_list_step *step)
{
    char *key = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&key, &size);
    if (!out)
        return NULL;
    fprintf(out, "%d %d %d %d %d", (int)step->kind, step->wiring, step->cut, step->words,
            step->reason);
    for (int k = 0; k < step->answers; k++)
        fprintf(out, " %d,%d", step->answer[k].label, step->answer[k].to);
    bool cut = ferror(out) != 0;
    if (fclose(out) != 0 || cut) {
        free(key);
        return NULL;
    }
    return key;
}

/* Puts a step among the plan's, or finds the one that is the same. */
static bool merge_step(maker *m, int node, hp_list_step *step)
{
    hp_list_steps *plan = m->plan;
    char *key = key_of(step);
    const json_t *known = key ? json_object_get(m->seen, key) : NULL;
    if (known) {
        m->step[node] = (int)json_integer_value(known);
        plan->step[m->step[node]].reached += step->reached;
        free(step->answer);
        step->answer = NULL;
    } else if (key && json_object_set_new(m->seen, key, json_integer(plan->count)) == 0) {
        m->step[node] = plan->count;
        plan->step[plan->count++] = *step;
        step->answer = NULL;
    } else {
        free(key);
        return false;
    }
    free(key);
    return true;
}

/* Children come after their parents: downwards for what is joined, upwards for what follows. */
static bool make_steps(maker *m)
{
    const hp_plan_tree *tree = m->list->tree;
    m->joined[0] = m->list->words.present;
    for (int n = 0; n < tree->count; n++)
        for (int k = 0; k < tree->node[n].branches; k++) {
            const hp_plan_branch *branch = &tree->node[n].branch[k];
            m->joined[branch->node] =
                asks_for_trial(&tree->node[n].advice) ? tree->node[n].advice.number : m->joined[n];
        }
    for (int n = tree->count - 1; n >= 0; n--) {
        hp_list_step step = {0};
        bool fine = fill_step(m, n, &step) && merge_step(m, n, &step);
        free(step.answer);
        if (!fine)
            return false;
    }
    return true;
}

/* ---- order ----------------------------------------------------------------------------------- */

typedef struct place {
    int step;
    double reached;
} place;

static int likelier_first(const void *a, const void *b)
{
    const place *x = a, *y = b;
    if (x->reached != y->reached)
        return x->reached < y->reached ? 1 : -1;
    return (x->step < y->step) - (x->step > y->step); /* made last, so nearer to the root */
}

/* The first step to the front, then the likelier ones first. */
static bool sort_steps(hp_list_steps *plan, int root)
{
    size_t count = (size_t)plan->count;
    place *order = malloc(count * sizeof *order);
    int *now = malloc(count * sizeof *now);
    hp_list_step *step = malloc(count * sizeof *step);
    bool fine = order && now && step;
    for (size_t k = 0; fine && k < count; k++)
        order[k] = (place){(int)k, (int)k == root ? 2.0 : plan->step[k].reached};
    if (fine) {
        qsort(order, count, sizeof *order, likelier_first);
        for (size_t k = 0; k < count; k++) {
            step[k] = plan->step[order[k].step];
            now[order[k].step] = (int)k;
        }
        for (size_t k = 0; k < count; k++)
            for (int j = 0; j < step[k].answers; j++)
                step[k].answer[j].to = now[step[k].answer[j].to];
        free(plan->step);
        plan->step = step;
        step = NULL;
    }
    free(order);
    free(now);
    free(step);
    return fine;
}

hp_result hp_list_steps_make(const hp_plan_list *list, hp_list_steps *plan, hp_error *err)
{
    size_t count = (size_t)list->tree->count;
    memset(plan, 0, sizeof *plan);
    maker m = {.list = list, .plan = plan};
    plan->step = calloc(count, sizeof *plan->step);
    m.joined = calloc(count, sizeof *m.joined);
    m.step = calloc(count, sizeof *m.step);
    m.seen = json_object();
    bool fine = pool_create(&plan->texts) && pool_create(&plan->words) && plan->step && m.joined &&
                m.step && m.seen && take_text(plan, "") == 0 && make_steps(&m) &&
                sort_steps(plan, m.step[0]);
    free(m.joined);
    free(m.step);
    json_decref(m.seen);
    return fine ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a list");
}

void hp_list_steps_free(hp_list_steps *plan)
{
    for (int k = 0; k < plan->count; k++)
        free(plan->step[k].answer);
    free(plan->step);
    pool_free(&plan->texts);
    pool_free(&plan->words);
    memset(plan, 0, sizeof *plan);
}
