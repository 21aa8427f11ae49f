/*
 * How many powered tries it takes, with readings and without: see the header.
 *
 * Method. Which axis each Hall lead and each phase lead sits on is hidden: twelve relations
 * (decide/advise/hypothesis.h), all alike. What a try shows under each follows from the survey of
 * this machine; what a reading shows, from where the leads sit. Readings split the relations into
 * sets; for each set the exact plan of fewest tries is found (decide/advise/search.h). Nothing is
 * said wrongly here; what slips cost, the trials of docs/advisor.md tell.
 */
#include "decide/lesson/lesson_parts.h"

#include "decide/advise/hypothesis.h"
#include "decide/advise/search.h"

#include <math.h>
#include <string.h>

/* The axes of a relation, as its leads sit. */
typedef struct axes {
    int sensor[HP_PHASE_COUNT]; /* [Hall lead by its mark] */
    int lead[HP_PHASE_COUNT];   /* [phase lead by its mark] */
} axes;

/* Relations that readings leave, and what each wiring then shows. */
typedef struct remaining {
    int relation[HP_RELATION_COUNT];
    int count;
} remaining;

static axes axes_of(int relation)
{
    axes a;
    hp_relation_axes(relation, a.sensor, a.lead);
    return a;
}

/* What one try of a wiring, named by marks, shows to somebody who looks at the wheel. */
static uint8_t shown(const hp_lesson *lesson, int relation, int number)
{
    hp_wiring marked = hp_wiring_from_number(number);
    hp_wiring true_one = hp_wiring_effective(relation, 0, &marked);
    const hp_judgement *judged = &lesson->survey.judgement[hp_wiring_number(&true_one) - 1];
    if (judged->verdict == HP_VERDICT_CORRECT)
        return HP_SEARCH_GOAL;
    /* Whichever way a stalled one shuffles, people see that it does not turn. */
    int way = judged->verdict == HP_VERDICT_STALLED ? 0 : (int)judged->direction;
    return (uint8_t)((int)judged->verdict * HP_DIRECTION_COUNT + way);
}

static int sensor_beside(const axes *a, int lead)
{
    int sensor = 0;
    while (a->sensor[sensor] != a->lead[lead])
        sensor++;
    return sensor;
}

/* What these readings show, as one number. */
static int read_off(unsigned readings, int relation)
{
    axes a = axes_of(relation);
    int value = 0;
    value = 2 * value + (readings & HP_LESSON_HAND_TURN ? hp_order_is_even(a.sensor) : 0);
    value = 2 * value + (readings & HP_LESSON_SPIN ? hp_order_is_even(a.lead) : 0);
    value = 3 * value + (readings & HP_LESSON_PARK ? sensor_beside(&a, 0) : 0);
    value = 3 * value + (readings & HP_LESSON_PARK_TWO ? sensor_beside(&a, 1) : 0);
    return value;
}

/* Adds the mean of one set of relations to the whole, by its share. */
static hp_result add_set(const hp_lesson *lesson, hp_search *search, const remaining *left,
                         hp_lesson_tries *tries, hp_error *err)
{
    double weight[HP_RELATION_COUNT], cost[HP_WIRING_COUNT], mean;
    uint8_t outcome[HP_WIRING_COUNT * HP_RELATION_COUNT];
    int action, step[HP_WIRING_COUNT];
    for (int h = 0; h < left->count; h++)
        weight[h] = 1.0;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        cost[n] = 1.0;
        for (int h = 0; h < left->count; h++)
            outcome[n * left->count + h] = shown(lesson, left->relation[h], n + 1);
    }
    const hp_search_problem problem = {.hypotheses = left->count,
                                       .actions = HP_WIRING_COUNT,
                                       .places = 1,
                                       .weight = weight,
                                       .outcome = outcome,
                                       .cost = cost};
    hp_result result = hp_search_solve(search, &problem, 0, &mean, &action, err);
    if (result != HP_OK)
        return result;
    tries->mean += mean * left->count / HP_RELATION_COUNT;
    for (int h = 0; h < left->count; h++) {
        int steps = hp_search_walk(search, &problem, 0, h, step, HP_WIRING_COUNT);
        tries->most = steps > tries->most ? steps : tries->most;
    }
    return HP_OK;
}

static hp_result count_with(const hp_lesson *lesson, hp_search *search, hp_lesson_tries *tries,
                            hp_error *err)
{
    bool taken[HP_RELATION_COUNT] = {false};
    hp_result result = HP_OK;
    for (int first = 0; first < HP_RELATION_COUNT && result == HP_OK; first++) {
        remaining left = {.count = 0};
        if (taken[first])
            continue;
        for (int r = first; r < HP_RELATION_COUNT; r++)
            if (read_off(tries->readings, r) == read_off(tries->readings, first)) {
                taken[r] = true;
                left.relation[left.count++] = r;
            }
        result = add_set(lesson, search, &left, tries, err);
    }
    return result;
}

static void find_best(hp_lesson *lesson)
{
    double least = INFINITY;
    for (int k = 1; k < lesson->tries_count; k++) {
        const hp_lesson_tries *t = &lesson->tries[k];
        bool single = (t->readings & (t->readings - 1)) == 0;
        if (single && t->mean < least - 1e-9) {
            least = t->mean;
            lesson->best_reading = t->readings;
        }
    }
}

hp_result hp_lesson_count_tries(hp_lesson *lesson, hp_error *err)
{
    /* The single ones, then those that go together. */
    static const unsigned readings[] = {
        0,
        HP_LESSON_HAND_TURN,
        HP_LESSON_SPIN,
        HP_LESSON_PARK,
        HP_LESSON_HAND_TURN | HP_LESSON_SPIN,
        HP_LESSON_HAND_TURN | HP_LESSON_PARK,
        HP_LESSON_PARK | HP_LESSON_PARK_TWO,
        HP_LESSON_HAND_TURN | HP_LESSON_PARK | HP_LESSON_PARK_TWO,
    };
    hp_search *search = hp_search_create(err);
    hp_result result = search ? HP_OK : HP_FAIL_MEMORY;
    int correct = 0;
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        correct += lesson->survey.judgement[n].verdict == HP_VERDICT_CORRECT;
    /* The first of k among n that are drawn blindly: (n + 1) / (k + 1) draws in the mean. */
    lesson->tries_at_random = (HP_WIRING_COUNT + 1.0) / (correct + 1.0);
    lesson->tries_count = (int)(sizeof readings / sizeof readings[0]);
    for (int k = 0; k < lesson->tries_count && result == HP_OK; k++) {
        lesson->tries[k] = (hp_lesson_tries){.readings = readings[k]};
        result = count_with(lesson, search, &lesson->tries[k], err);
    }
    hp_search_free(search);
    find_best(lesson);
    return result;
}
