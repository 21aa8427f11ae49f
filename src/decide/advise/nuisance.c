/* Nuisances of a bench: see the header. */
#include "decide/advise/nuisance.h"

#include "decide/judge/ensemble.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SEED 13u

enum {
    DRAW_DUTY,
    DRAW_PWM,
    DRAW_COASTING,
    DRAW_IDLE,
    DRAW_FRICTION,
    DRAW_DRIVE,
    DRAW_GROWL,
    DRAWS
};

/* chosen: how often a smooth wheel feels rough each time it is tried, driven by a sine, and by six
 * steps. */
#define GROWLS_SINE 0.5
#define GROWLS      0.03

/* Normal quantile of a uniform number, by bisection: it is drawn once a member. */
static double quantile(double unit)
{
    double low = -6.0, high = 6.0;
    for (int k = 0; k < 50; k++) {
        double middle = 0.5 * (low + high);
        if (0.5 * erfc(-middle / sqrt(2.0)) < unit)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* How much faster a free wheel runs when the current may pause; chosen from what simulations of
 * switched edges showed, 1.5 to 2 times, less where it drags. */
static double coasting(double unit, double friction)
{
    return 1.0 + (0.4 + 0.7 * unit) / sqrt(friction);
}

static hp_nuisance draw(const hp_nuisance_params *p, int member, int count)
{
    double unit[DRAWS];
    for (int d = 0; d < DRAWS; d++)
        unit[d] = hp_ensemble_unit(SEED, d, member, count);
    hp_nuisance n = {
        .duty = exp(p->duty_sd * quantile(unit[DRAW_DUTY])),
        /* Half of all benches have less than an eighth of the most. */
        .idle_a = p->idle_most_a * unit[DRAW_IDLE] * unit[DRAW_IDLE] * unit[DRAW_IDLE],
        .friction = exp(log(p->friction_most) * unit[DRAW_FRICTION]),
        .one_sided = unit[DRAW_PWM] < p->one_sided,
        .sine = unit[DRAW_DRIVE] < p->sine,
        .coasting = 1.0,
    };
    n.growls = unit[DRAW_GROWL] < (n.sine ? GROWLS_SINE : GROWLS);
    if (n.one_sided)
        n.coasting = coasting(unit[DRAW_COASTING], n.friction);
    return n;
}

static bool is_none(const hp_nuisance_params *p)
{
    return p->duty_sd <= 0.0 && p->one_sided <= 0.0 && p->sine <= 0.0 && p->idle_most_a <= 0.0 &&
           p->friction_most <= 1.0;
}

hp_members hp_members_plain(const hp_likelihood *table)
{
    return (hp_members){.table = table,
                        .benches = 1,
                        .count = table->options.motors,
                        .misread = NAN,
                        .limit_a = NAN,
                        .rest_v = NAN,
                        .full_v = NAN};
}

/* ---- figures against the throttle ------------------------------------------------------------ */

static double figure_of(const hp_record *r, hp_figure figure)
{
    switch (figure) {
    case HP_FIGURE_SPEED: return hp_grid_value(r->wheel_speed);
    case HP_FIGURE_TURNING_A: return hp_grid_value(r->current_turning);
    case HP_FIGURE_STANDING_A: return hp_grid_value(r->current_standing);
    }
    return NAN;
}

static double level_throttle(const hp_likelihood *table, int level)
{
    return fmin(1.0, table->nominal.controller.throttle * table->options.level[level]);
}

hp_figure_law hp_figure_law_of(const hp_likelihood *table, int level, int behaviour, int motor,
                               hp_figure figure)
{
    double own = figure_of(hp_likelihood_record(table, level, behaviour, motor), figure);
    /* A speed goes with the throttle; a smooth run's current too, nearly. */
    hp_figure_law law = {log(own), 1.0, log(level_throttle(table, level))};
    double nearest = INFINITY;
    for (int k = 0; k < table->options.levels; k++) {
        double other = figure_of(hp_likelihood_record(table, k, behaviour, motor), figure);
        double apart = log(level_throttle(table, k)) - law.log_throttle;
        if (k == level || isnan(other) || fabs(apart) < 0.1 || fabs(apart) >= nearest)
            continue;
        nearest = fabs(apart);
        law.slope = fmin(fmax((log(other) - law.log_value) / apart, 0.0), 3.0);
    }
    if (isnan(law.slope))
        law.slope = 1.0;
    return law;
}

int hp_smooth_case(const hp_likelihood *table)
{
    hp_behaviour sound = {.wiring = hp_wiring_from_number(1), .inverted = -1};
    return table->map.index[hp_behaviour_raw(&sound)];
}

hp_nuisance hp_member_nuisance(const hp_members *members, int member)
{
    return members->nuisance ? members->nuisance[member]
                             : (hp_nuisance){.duty = 1.0, .coasting = 1.0, .friction = 1.0};
}

bool hp_member_smooth(const hp_members *members, int member, double throttle, double *battery_a,
                      double *wheel_rad_s)
{
    const hp_likelihood *table = members->table;
    const hp_nuisance n = hp_member_nuisance(members, member);
    int motor = member / members->benches, level = hp_likelihood_level(table, throttle);
    int smooth = hp_smooth_case(table);
    hp_figure_law amps = hp_figure_law_of(table, level, smooth, motor, HP_FIGURE_TURNING_A);
    hp_figure_law speed = hp_figure_law_of(table, level, smooth, motor, HP_FIGURE_SPEED);
    double duty = fmin(1.0, throttle * (throttle < HP_FULL_THROTTLE ? n.duty : 1.0));
    if (isnan(amps.log_value) || isnan(speed.log_value))
        return false;
    double faster = fmin(n.coasting, 1.0 / duty);
    *wheel_rad_s = faster * exp(hp_figure_log(&speed, log(duty)));
    *battery_a = faster * n.friction * exp(hp_figure_log(&amps, log(duty))) + n.idle_a;
    return true;
}

/* ---- the throttle's signal --------------------------------------------------------------------
 */

double hp_members_share(const hp_members *m, double signal_v)
{
    if (isnan(signal_v) || !(m->full_v > m->rest_v))
        return (double)NAN;
    return fmin(fmax((signal_v - m->rest_v) / (m->full_v - m->rest_v), 0.01), 1.0);
}

double hp_members_signal(const hp_members *m, double share)
{
    return m->full_v > m->rest_v ? m->rest_v + share * (m->full_v - m->rest_v) : (double)NAN;
}

hp_trial hp_members_true_trial(const hp_members *m, const hp_trial *trial)
{
    hp_trial told = *trial;
    double share = hp_members_share(m, trial->signal_v);
    if (!isnan(share))
        told.throttle = share;
    return told;
}

/* ---- the limit of a first trial -------------------------------------------------------------- */

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The least current that a sound, rough wiring draws: five motors in a hundred draw less. */
static double least_rough(const hp_likelihood *table, int level, double *room)
{
    int count = 0;
    for (int c = 0; c < table->map.count; c++) {
        hp_behaviour b = hp_behaviour_from_raw(table->map.raw[c]);
        if (b.inverted >= 0 || b.fault.kind != HP_FAULT_NONE || c == hp_smooth_case(table))
            continue;
        for (int m = 0; m < table->options.motors; m++) {
            const hp_record *r = hp_likelihood_record(table, level, c, m);
            int smooth = r->sight[HP_SIGHT_FORWARD_SMOOTH] + r->sight[HP_SIGHT_BACKWARD_SMOOTH] +
                         r->sight[HP_SIGHT_HUM_SMOOTH];
            double amps = hp_grid_value(r->current_turning);
            if (smooth == 0 && amps > 0.0)
                room[count++] = amps;
        }
    }
    if (count == 0)
        return INFINITY;
    qsort(room, (size_t)count, sizeof *room, by_value);
    return room[count / 20];
}

/* About three times the highest current that a right wiring draws without load; where rough ones
 * draw less than that, half way to them, so that they still reach it. */
static double limit_of(const hp_members *m, double *room)
{
    double throttle = m->table->nominal.controller.throttle * m->table->options.level[0], speed;
    int count = 0;
    for (int k = 0; k < m->count; k++)
        count += hp_member_smooth(m, k, throttle, &room[count], &speed);
    if (count == 0)
        return NAN;
    qsort(room, (size_t)count, sizeof *room, by_value);
    double high = room[count * 95 / 100], middle = room[count / 2];
    double rough = least_rough(m->table, 0, room);
    double limit = fmin(3.0 * high, fmax(sqrt(high * rough), 3.0 * middle));
    /* As a knob can be set: two figures. */
    double step = pow(10.0, floor(log10(limit)) - 1.0);
    return step * round(limit / step);
}

hp_result hp_members_make(const hp_likelihood *table, const hp_nuisance_params *params,
                          hp_members *members, hp_error *err)
{
    *members = hp_members_plain(table);
    if (!is_none(params)) {
        members->benches = HP_NUISANCE_DRAWS;
        members->count = table->options.motors * HP_NUISANCE_DRAWS;
        members->hand = params->hand_sd;
        members->nuisance = malloc((size_t)members->count * sizeof *members->nuisance);
        if (!members->nuisance)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
        for (int m = 0; m < members->count; m++)
            members->nuisance[m] = draw(params, m, members->count);
    }
    size_t cases = (size_t)table->map.count * (size_t)table->options.motors;
    double *room = malloc((cases + (size_t)members->count) * sizeof *room);
    if (!room) {
        hp_members_free(members);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a belief");
    }
    members->limit_a = limit_of(members, room);
    members->most = 1.0;
    members->rest_v = params->throttle_rest_v;
    members->full_v = params->throttle_full_v;
    free(room);
    return HP_OK;
}

void hp_members_free(hp_members *members)
{
    free(members->nuisance);
    members->nuisance = NULL;
}
