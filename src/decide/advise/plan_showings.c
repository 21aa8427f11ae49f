/* What an advised action may show, as the entries that a person would log: see
 * decide/advise/plan.h. */
#include "decide/advise/planner.h"

#include <math.h>
#include <stdlib.h>

/* Numbers as they would be read with the typical motor: those of the smooth wiring times these. */
static const struct {
    double current, speed;
    hp_feel feel;
    bool some;
} manners[HP_MANNERS] = {
    [HP_MANNER_SMOOTH] = {1.0, 1.0, HP_FEEL_SMOOTH, false},
    [HP_MANNER_SMOOTH_SOME] = {1.0, 1.0, HP_FEEL_SMOOTH, true},
    [HP_MANNER_ODD] = {10.0, 1.0, HP_FEEL_SMOOTH, false},
    [HP_MANNER_ROUGH_SLOW] = {10.0, 0.85, HP_FEEL_ROUGH, false},
    [HP_MANNER_ROUGH_EVEN] = {10.0, 1.03, HP_FEEL_ROUGH, false},
    [HP_MANNER_ROUGH_FAST] = {10.0, 1.3, HP_FEEL_ROUGH, false},
    [HP_MANNER_SOME_SLOW] = {10.0, 0.85, HP_FEEL_ROUGH, true},
    [HP_MANNER_SOME_EVEN] = {10.0, 1.03, HP_FEEL_ROUGH, true},
    [HP_MANNER_SOME_FAST] = {10.0, 1.3, HP_FEEL_ROUGH, true},
};

/* Ways of turning, in the order of the symbols. */
#define WAYS (HP_SYMBOL_BOTH / HP_MANNERS)

/* Likeliest count of a wiring that turns one way from some rest angles only: a count that is rare
 * would say more than "some" does. */
static void likeliest_some(const hp_outlook *o, int number, int some[WAYS])
{
    static const hp_happening way[WAYS] = {HP_HAPPENED_FORWARD, HP_HAPPENED_BACKWARD,
                                           HP_HAPPENED_HUM};
    const hp_belief *b = o->belief;
    int tried = o->planner->params.starts;
    double sum[HP_STARTS_MAX + 1][WAYS] = {0};
    for (int h = 0; h < b->count; h++) {
        if (o->probability[h] < 1e-4)
            continue;
        int at = b->behaviour[b->now[h] * HP_WIRING_COUNT + number - 1];
        for (int m = 0; m < b->motors; m++) {
            double happened[HP_STARTS_MAX + 1][HP_HAPPENED_COUNT][2];
            hp_shares shares = hp_shares_of(b->table, o->planner->level, at / 2, m);
            if (at % 2)
                shares = hp_shares_mirrored(&shares);
            hp_happenings(&shares, tried, happened);
            for (int starts = 1; starts < tried; starts++)
                for (int k = 0; k < WAYS; k++)
                    sum[starts][k] += b->weight[h * b->motors + m] *
                                      (happened[starts][way[k]][0] + happened[starts][way[k]][1]);
        }
    }
    for (int k = 0; k < WAYS; k++) {
        some[k] = 1;
        for (int starts = 2; starts < tried; starts++)
            if (sum[starts][k] > sum[some[k]][k])
                some[k] = starts;
    }
}

double hp_band_middle(hp_band band)
{
    return band.low > 0.0 ? sqrt(band.low * band.high) : 0.5 * band.high;
}

static hp_entry trial_entry(const hp_planner *p, const hp_advice *advice, int symbol,
                            const int some[WAYS])
{
    static const hp_motion motion[WAYS] = {HP_MOVED_FORWARD, HP_MOVED_BACKWARD, HP_MOVED_HUM};
    static const hp_motion rest[] = {HP_MOVED_BOTH, HP_MOVED_SHIVER, HP_MOVED_STILL};
    hp_entry entry = hp_entry_make(&hp_reading_trial, 0);
    hp_trial *t = &entry.trial;
    t->wiring = hp_wiring_from_number(advice->number);
    t->throttle = p->params.throttle;
    t->starts_tried = p->params.starts;
    if (symbol >= HP_SYMBOL_BOTH) {
        t->motion = rest[symbol - HP_SYMBOL_BOTH];
        t->starts = symbol == HP_SYMBOL_BOTH ? t->starts_tried : 0;
        return entry;
    }
    int manner = symbol % HP_MANNERS;
    t->motion = motion[symbol / HP_MANNERS];
    t->feel = manners[manner].feel;
    t->starts =
        manners[manner].some && t->starts_tried > 1 ? some[symbol / HP_MANNERS] : t->starts_tried;
    if (p->params.ammeter)
        t->battery_a = manners[manner].current * hp_band_middle(advice->current_a);
    if (p->params.tachometer && t->motion != HP_MOVED_HUM)
        t->wheel_rad_s =
            manners[manner].speed * sqrt(advice->wheel_rad_s.low * advice->wheel_rad_s.high);
    return entry;
}

static int by_probability(const void *a, const void *b)
{
    double x = ((const hp_showing *)a)->probability, y = ((const hp_showing *)b)->probability;
    return (x < y) - (x > y);
}

static int keep_likely(hp_showing *showing, int count, double least)
{
    qsort(showing, (size_t)count, sizeof *showing, by_probability);
    while (count > 0 && showing[count - 1].probability < least)
        count--;
    return count;
}

static int trial_showings(const hp_outlook *o, const hp_advice *advice, double least,
                          hp_showing *showing)
{
    double group[HP_SYMBOLS][HP_GROUP_COUNT];
    int some[WAYS];
    hp_outlook_trial(o, advice->number, group);
    likeliest_some(o, advice->number, some);
    for (int s = 0; s < HP_SYMBOLS; s++) {
        showing[s].entry = trial_entry(o->planner, advice, s, some);
        showing[s].probability = hp_group_sum(group[s]);
    }
    return keep_likely(showing, HP_SYMBOLS, least);
}

static int reading_showings(const hp_outlook *o, const hp_plan_reading *t, double least,
                            hp_showing *showing)
{
    const hp_belief *b = o->belief;
    for (int e = 0; e < t->count; e++) {
        showing[e].entry = t->entry[e];
        showing[e].probability = 0.0;
        for (int h = 0; h < b->count; h++)
            showing[e].probability +=
                o->probability[h] * t->probability[e * o->planner->count + b->now[h]];
    }
    return keep_likely(showing, t->count, least);
}

/* chosen: how often a check for danger finds one. Such showings are never left out, however rare:
 * they are what the check is for. */
#define DANGER_SHARE 0.01

/* Puts a danger beside the showings found so far, whose shares make room for it. */
static int add_danger(const hp_entry *entry, hp_showing *showing, int count)
{
    if (count == HP_SHOWING_MAX)
        return count;
    for (int k = 0; k < count; k++)
        showing[k].probability *= 1.0 - DANGER_SHARE;
    showing[count] = (hp_showing){*entry, DANGER_SHARE};
    return count + 1;
}

static int add_dangers(const hp_planner *p, const hp_advice *advice, hp_showing *showing, int count)
{
    hp_entry entry[HP_DANGERS_MAX];
    const hp_reading_case given = {
        .table = p->table, .person = p->person, .plan = &p->params, .lead = advice->lead};
    int dangers = advice->reading->dangers ? advice->reading->dangers(&given, entry) : 0;
    for (int k = 0; k < dangers; k++)
        count = add_danger(&entry[k], showing, count);
    return count;
}

/* A reading that tells nothing of the wirings has one usual figure, besides its dangers. */
static int usual_showing(const hp_planner *p, const hp_advice *advice, hp_showing *showing)
{
    const hp_reading_case given = {
        .table = p->table, .person = p->person, .plan = &p->params, .lead = advice->lead};
    if (!advice->reading->typical)
        return 0;
    showing[0] = (hp_showing){hp_entry_make(advice->reading, 0), 1.0};
    advice->reading->typical(&given, showing[0].entry.values);
    return 1;
}

static int read_showings(const hp_outlook *o, const hp_advice *advice, double least,
                         hp_showing *showing)
{
    const hp_planner *p = o->planner;
    const hp_reading *reading = advice->reading;
    int count = 0;
    if (!reading->weigh)
        count = usual_showing(p, advice, showing);
    for (int k = 0; k < p->reading_count; k++) {
        const hp_plan_reading *t = &p->reading[k];
        if (t->reading == reading && t->lead == advice->lead)
            count = reading_showings(o, t, reading->shows_faults ? 0.1 * least : least, showing);
    }
    return add_dangers(p, advice, showing, count);
}

int hp_plan_showings(hp_planner *p, const hp_belief *b, const hp_advice *advice, double least,
                     hp_showing showing[HP_SHOWING_MAX])
{
    if (hp_planner_meet(p, b, NULL) != HP_OK)
        return 0;
    hp_outlook o;
    hp_outlook_fill(&o, p, b, hp_plan_present(b));
    if (advice->kind == HP_ADVICE_TRY || advice->kind == HP_ADVICE_LOOK)
        return trial_showings(&o, advice, least, showing);
    if (advice->kind == HP_ADVICE_LEARN) {
        for (int k = 0; k < 2; k++) {
            showing[k].entry = hp_entry_make(&hp_reading_learn, 0);
            showing[k].entry.learn.worked = k == 0 ? HP_TELL_YES : HP_TELL_NO;
            showing[k].probability = 0.5;
        }
        return 2;
    }
    if (advice->kind != HP_ADVICE_READ)
        return 0;
    return read_showings(&o, advice, least, showing);
}
