/* What an advised action may show, as the entries that a person would log: see
 * decide/advise/plan.h. */
#include "base/rank.h"
#include "decide/advise/planner.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a manner says. */
static const struct {
    hp_feel feel;
    bool some;
} manners[HP_MANNERS] = {
    [HP_MANNER_SMOOTH] = {HP_FEEL_SMOOTH, false},
    [HP_MANNER_SMOOTH_SOME] = {HP_FEEL_SMOOTH, true},
    [HP_MANNER_ODD] = {HP_FEEL_SMOOTH, false},
    [HP_MANNER_ROUGH_SLOW] = {HP_FEEL_ROUGH, false},
    [HP_MANNER_ROUGH_EVEN] = {HP_FEEL_ROUGH, false},
    [HP_MANNER_ROUGH_FAST] = {HP_FEEL_ROUGH, false},
    [HP_MANNER_SOME_SLOW] = {HP_FEEL_ROUGH, true},
    [HP_MANNER_SOME_EVEN] = {HP_FEEL_ROUGH, true},
    [HP_MANNER_SOME_FAST] = {HP_FEEL_ROUGH, true},
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
    int tried = o->planner->params.starts, motors = o->motors;
    double sum[HP_STARTS_MAX + 1][WAYS] = {0};
    for (int h = 0; h < b->count; h++) {
        if (o->probability[h] < 1e-4)
            continue;
        int at = b->behaviour[b->now[h] * HP_WIRING_COUNT + number - 1];
        if (at >= 2 * b->table->map.count)
            continue;
        for (int m = 0; m < motors; m++) {
            double happened[HP_STARTS_MAX + 1][HP_HAPPENED_COUNT][2];
            hp_shares shares = hp_shares_of(b->table, o->planner->level, at / 2, m);
            if (at % 2)
                shares = hp_shares_mirrored(&shares);
            hp_happenings(&shares, tried, happened);
            for (int starts = 1; starts < tried; starts++)
                for (int k = 0; k < WAYS; k++)
                    sum[starts][k] += o->by_motor[h * motors + m] *
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

/* What the ensemble shows of each symbol: mean logarithms of current and wheel speed. */
typedef struct usual {
    double weight[HP_SYMBOLS], log_amps[HP_SYMBOLS], log_speed[HP_SYMBOLS];
} usual;

static void add_usual(usual *u, const double *symbol, double weight, const hp_record *r)
{
    double amps = hp_grid_value(r->current_turning), speed = hp_grid_value(r->wheel_speed);
    if (isnan(amps) || isnan(speed))
        return;
    for (int s = 0; s < HP_SYMBOLS; s++) {
        u->weight[s] += weight * symbol[s];
        u->log_amps[s] += weight * symbol[s] * log(amps);
        u->log_speed[s] += weight * symbol[s] * log(speed);
    }
}

static usual usual_figures(const hp_outlook *o, int number)
{
    const hp_belief *b = o->belief;
    const hp_planner *p = o->planner;
    usual u;
    memset(&u, 0, sizeof u);
    for (int h = 0; h < b->count; h++) {
        int at = b->behaviour[b->now[h] * HP_WIRING_COUNT + number - 1];
        if (o->probability[h] < 1e-6 || at >= 2 * b->table->map.count)
            continue;
        for (int m = 0; m < o->motors; m++)
            add_usual(&u, &p->symbol[(at * o->motors + m) * HP_SYMBOLS],
                      o->by_motor[h * o->motors + m],
                      hp_likelihood_record(b->table, p->level, at / 2, m));
    }
    for (int s = 0; s < HP_SYMBOLS; s++) {
        u.log_amps[s] /= u.weight[s];
        u.log_speed[s] /= u.weight[s];
    }
    return u;
}

/* A figure of the ensemble, kept on the side that its words say. */
static double within(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

/* chosen: so far from the border that a button's words and its figure cannot part. */
#define CLEAR 1.05

static void add_figures(const hp_planner *p, const hp_advice *advice, const usual *u, int symbol,
                        hp_trial *t)
{
    int manner = symbol % HP_MANNERS;
    double small = HP_CURRENT_SMALL * hp_band_middle(advice->current_a);
    double even = sqrt(advice->wheel_rad_s.low * advice->wheel_rad_s.high);
    if (!(u->weight[symbol] > 1e-12) || !(even > 0.0))
        return; /* no motor shows it: no figure stands for it */
    double amps = exp(u->log_amps[symbol]), speed = exp(u->log_speed[symbol]);
    bool large = manner >= HP_MANNER_ODD;
    if (p->params.ammeter)
        t->battery_a =
            large ? within(amps, CLEAR * small, INFINITY) : within(amps, 0.0, small / CLEAR);
    if (!p->params.tachometer || t->motion == HP_MOVED_HUM)
        return;
    t->wheel_rad_s = speed;
    if (manner < HP_MANNER_ROUGH_SLOW)
        return;
    int pace = (manner - HP_MANNER_ROUGH_SLOW) % 3;
    t->wheel_rad_s = pace == 0   ? within(speed, 0.0, HP_SPEED_EVEN_LOW * even / CLEAR)
                     : pace == 1 ? even * sqrt(HP_SPEED_EVEN_LOW * HP_SPEED_EVEN_HIGH)
                                 : within(speed, HP_SPEED_EVEN_HIGH * even * CLEAR, INFINITY);
}

/* A supply's limit tells what a meter would. */
static void add_limit(const hp_planner *p, const hp_advice *advice, int symbol, hp_trial *t)
{
    if (!advice->limited)
        return;
    bool small = symbol < HP_SYMBOL_BOTH && symbol % HP_MANNERS < HP_MANNER_ODD;
    t->feed = p->params.first_power == HP_FIRST_POWER_LAMP ? HP_FEED_LAMP : HP_FEED_BENCH_SUPPLY;
    if (t->feed == HP_FEED_BENCH_SUPPLY && advice->limit_a > 0.0)
        t->limit_a = advice->limit_a;
    t->limit_reached = small ? HP_TELL_NO : HP_TELL_YES;
    /* What is read at the limit is the limit. */
    if (t->limit_reached == HP_TELL_YES)
        t->battery_a = t->wheel_rad_s = NAN;
}

static hp_entry trial_entry(const hp_planner *p, const hp_advice *advice, int symbol,
                            const int some[WAYS], const usual *u)
{
    static const hp_motion motion[WAYS] = {HP_MOVED_FORWARD, HP_MOVED_BACKWARD, HP_MOVED_HUM};
    static const hp_motion rest[] = {HP_MOVED_BOTH, HP_MOVED_SHIVER, HP_MOVED_STILL};
    hp_entry entry = hp_entry_make(hp_reading_advised_as(HP_ADVICE_TRY), 0);
    hp_trial *t = &entry.trial;
    t->wiring = hp_wiring_from_number(advice->number);
    t->throttle = p->params.throttle;
    t->starts_tried = p->params.starts;
    if (symbol >= HP_SYMBOL_BOTH) {
        t->motion = rest[symbol - HP_SYMBOL_BOTH];
        t->starts = symbol == HP_SYMBOL_BOTH ? t->starts_tried : 0;
    } else {
        int manner = symbol % HP_MANNERS;
        t->motion = motion[symbol / HP_MANNERS];
        t->feel = manners[manner].feel;
        t->starts = manners[manner].some && t->starts_tried > 1 ? some[symbol / HP_MANNERS]
                                                                : t->starts_tried;
        add_figures(p, advice, u, symbol, t);
    }
    add_limit(p, advice, symbol, t);
    return entry;
}

/* Likeliest first; those that are as likely stay in their order, whatever sorts them elsewhere. */
static void sort_likeliest(hp_showing *showing, int count)
{
    for (int k = 1; k < count; k++) {
        hp_showing one = showing[k];
        double probability = hp_rounded(one.probability);
        int at = k;
        for (; at > 0 && hp_rounded(showing[at - 1].probability) < probability; at--)
            showing[at] = showing[at - 1];
        showing[at] = one;
    }
}

static int keep_likely(hp_showing *showing, int count, double least)
{
    sort_likeliest(showing, count);
    while (count > 0 && showing[count - 1].probability < least)
        count--;
    return count;
}

/* Showings that a person would write down alike are one. */
static int merge_alike(hp_showing *showing, int count)
{
    int kept = 0;
    for (int k = 0; k < count; k++) {
        int at = 0;
        while (at < kept && !hp_planner_same_entry(&showing[at].entry, &showing[k].entry))
            at++;
        if (at == kept)
            showing[kept++] = showing[k];
        else
            showing[at].probability += showing[k].probability;
    }
    return kept;
}

static int trial_showings(const hp_outlook *o, const hp_advice *advice, double least,
                          hp_showing *showing)
{
    double group[HP_SYMBOLS][HP_GROUP_COUNT];
    int some[WAYS];
    hp_outlook_trial(o, advice->number, group);
    const usual figures = usual_figures(o, advice->number);
    likeliest_some(o, advice->number, some);
    for (int s = 0; s < HP_SYMBOLS; s++) {
        showing[s].entry = trial_entry(o->planner, advice, s, some, &figures);
        showing[s].probability = hp_group_sum(group[s]);
    }
    return keep_likely(showing, merge_alike(showing, HP_SYMBOLS), least);
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

/* Its first question that is to be answered yes or no; NULL: it has none. */
static const hp_field *question_of(const hp_reading *reading)
{
    const hp_field *field = reading->fields;
    while (field->name && !(field->type == HP_FIELD_TELL && field->required))
        field++;
    return field->name ? field : NULL;
}

static hp_tell *answer_of(hp_showing *showing, const hp_field *question)
{
    return (hp_tell *)(void *)(showing->entry.values + question->offset);
}

/* A reading that tells nothing of the wirings has one usual figure, besides its dangers, and where
 * it is answered by yes or no seldom the other one. */
static int usual_showing(const hp_planner *p, const hp_advice *advice, hp_showing *showing)
{
    const hp_reading_case given = {
        .table = p->table, .person = p->person, .plan = &p->params, .lead = advice->lead};
    if (!advice->reading->typical)
        return 0;
    showing[0] = (hp_showing){hp_entry_make(advice->reading, 0), 1.0};
    advice->reading->typical(&given, showing[0].entry.values);
    const hp_field *question = question_of(advice->reading);
    if (!(advice->reading->seldom > 0.0) || !question)
        return 1;
    showing[1] = showing[0];
    *answer_of(&showing[1], question) =
        *answer_of(&showing[0], question) == HP_TELL_NO ? HP_TELL_YES : HP_TELL_NO;
    showing[1].probability = advice->reading->seldom;
    showing[0].probability = 1.0 - advice->reading->seldom;
    return 2;
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

/* It worked, or it did not: what its one question of yes or no may be answered. */
static int learn_showings(const hp_advice *advice, hp_showing *showing)
{
    const hp_reading *learn = hp_advice_entry(advice);
    const hp_field *question = question_of(learn);
    for (int k = 0; question && k < 2; k++) {
        showing[k] = (hp_showing){.entry = hp_entry_make(learn, 0), .probability = 0.5};
        *answer_of(&showing[k], question) = k == 0 ? HP_TELL_YES : HP_TELL_NO;
    }
    return question ? 2 : 0;
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
    if (advice->kind == HP_ADVICE_LEARN)
        return learn_showings(advice, showing);
    if (advice->kind != HP_ADVICE_READ)
        return 0;
    return read_showings(&o, advice, least, showing);
}
