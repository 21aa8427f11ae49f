/* The likeliest way along the bench: see the header. */
#include "report/handout/handout_bench_path.h"

#include "record/case/case_parts.h"
#include "report/words/case_card.h"

#include <stdio.h>
#include <stdlib.h>

/* Takes what the step most likely shows into the belief; false: the way ends here. */
static bool go_on(hp_case *c, const hp_card_context *words, hp_belief *belief,
                  const hp_advice *advice, hp_bench_step *step, hp_error *err, hp_result *result)
{
    hp_showing showing[HP_SHOWING_MAX];
    hp_showing_words said;
    step->kind = advice->kind;
    step->reading = advice->kind == HP_ADVICE_READ ? advice->reading : NULL;
    if (advice->kind != HP_ADVICE_READ)
        return false;
    int count = hp_plan_showings(c->planner, belief, advice, 0.0, showing);
    if (count == 0)
        return false;
    hp_showing_words_make(words, advice, &showing[0].entry, &said);
    if (showing[0].probability > 0.5)
        snprintf(step->likely, sizeof step->likely, "%s", said.label);
    showing[0].entry.number = belief->entries + 1;
    *result = hp_belief_add(belief, &showing[0].entry, err);
    return *result == HP_OK;
}

/* Where the steps stand; what an earlier card asks for, with all that its reading has, no later one
 * says first. */
static void go_along(const hp_commission *begun, const hp_belief *belief, hp_commission *list)
{
    *list = *begun;
    list->unguarded_count = 0;
    for (int k = 0; k < begun->unguarded_count; k++) {
        bool asked = false;
        for (int e = 0; e < belief->entries; e++)
            asked = asked || belief->entry[e].reading == begun->unguarded[k].reading;
        if (!asked)
            list->unguarded[list->unguarded_count++] = begun->unguarded[k];
    }
}

static hp_result follow(hp_case *c, hp_belief *belief, hp_bench_path *path, hp_commission *list,
                        hp_error *err)
{
    hp_result result = HP_OK;
    hp_card_context words = hp_case_card_context(c);
    const hp_commission *begun = words.commission;
    words.commission = list;
    for (bool on = true; on && path->steps < HP_BENCH_STEPS;) {
        hp_advice advice;
        hp_bench_step *step = &path->step[path->steps];
        result = hp_plan_next(c->planner, belief, false, &advice, err);
        if (result != HP_OK)
            return result;
        words.present = hp_card_present(belief);
        go_along(begun, belief, list);
        hp_card_make(&words, &advice, &step->card);
        path->steps++;
        on = go_on(c, &words, belief, &advice, step, err, &result);
    }
    return result;
}

hp_bench_path *hp_bench_path_make(hp_case *c, hp_error *err)
{
    hp_belief belief;
    hp_bench_path *path = calloc(1, sizeof *path);
    hp_commission *list = calloc(1, sizeof *list);
    if (!path || !list) {
        free(path);
        free(list);
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a bench card");
        return NULL;
    }
    hp_result result = hp_belief_create(&c->table, &c->scenario->bench.person,
                                        &c->scenario->bench.prior, &belief, err);
    if (result == HP_OK) {
        result = follow(c, &belief, path, list, err);
        hp_belief_free(&belief);
    }
    free(list);
    if (result == HP_OK)
        return path;
    free(path);
    return NULL;
}
