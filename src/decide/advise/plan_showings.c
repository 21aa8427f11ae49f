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
    hp_entry entry = hp_entry_make(HP_ENTRY_TRIAL, 0);
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

static int reading_showings(const hp_outlook *o, const hp_reading_table *t, double least,
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

static int pins_showings(const hp_outlook *o, const hp_reading_table *t, double least,
                         hp_showing *showing)
{
    int count = reading_showings(o, t, least, showing);
    hp_entry sound = hp_entry_make(HP_ENTRY_PINS, 0);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        sound.pins.open[k] = HP_TELL_NO;
    hp_entry shell = sound, crossed = sound;
    shell.pins.shell = HP_TELL_YES;
    crossed.pins.crossed = HP_TELL_YES;
    count = add_danger(&shell, showing, count);
    return add_danger(&crossed, showing, count);
}

static int supply_showings(const hp_planner *p, hp_showing *showing)
{
    hp_entry entry = hp_entry_make(HP_ENTRY_SUPPLY, 0), high = entry, none = entry;
    /* 5 V and 12 V are usual. */
    entry.supply.volts = fmin(fmax(5.0, p->params.sensor_v_min), p->params.sensor_v_max);
    high.supply.volts = fmax(p->table->nominal.supply.emf_v, 1.5 * p->params.sensor_v_max);
    none.supply.volts = 0.0;
    showing[0] = (hp_showing){entry, 1.0};
    int count = add_danger(&high, showing, 1);
    return p->params.sensor_v_min > 0.0 ? add_danger(&none, showing, count) : count;
}

/* Readings that prove a part are drawn with what rarely shows, too. */
static double least_of(hp_entry_kind kind, double least)
{
    bool proves = kind == HP_ENTRY_PINS || kind == HP_ENTRY_WINDING || kind == HP_ENTRY_SPIN;
    return proves ? 0.1 * least : least;
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
            showing[k].entry = hp_entry_make(HP_ENTRY_LEARN, 0);
            showing[k].entry.learn.worked = k == 0 ? HP_TELL_YES : HP_TELL_NO;
            showing[k].probability = 0.5;
        }
        return 2;
    }
    if (advice->kind != HP_ADVICE_READ)
        return 0;
    least = least_of(advice->reading, least);
    for (int k = 0; k < p->reading_count; k++) {
        const hp_reading_table *t = &p->reading[k];
        if (t->kind == advice->reading && t->lead == advice->lead)
            return t->kind == HP_ENTRY_PINS ? pins_showings(&o, t, least, showing)
                                            : reading_showings(&o, t, least, showing);
    }
    return supply_showings(p, showing);
}
