/*
 * Weighing a trial: see decide/reading/weigh.h.
 *
 * Words and counts are weighed as trial_said.h says, numbers as figure_said.h does.
 *
 * What a bench adds is reckoned: the throttle's error by a power law between the levels; friction
 * by the power that it takes at the speed of the wheel; PWM that lets the current pause by a factor
 * on what a smooth wheel does; a limit on the supply by whether the current would pass it.
 */
#include "decide/reading/figure_said.h"
#include "decide/reading/trial_said.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>

/* ---- other throttles ------------------------------------------------------------------------- */

/* chosen: below this share of the lowest level a wheel that stands says nothing of its wiring. */
#define LEVEL_LEAST 0.7

static double level_throttle(const hp_likelihood *table, int level)
{
    return fmin(1.0, table->nominal.controller.throttle * table->options.level[level]);
}

/* What goes off and on draws less than it takes while it is on, and is off before anybody feels how
 * it runs. */
static void drop_spoilt(hp_trial *t)
{
    t->battery_a = (double)NAN;
    if (t->limit_reached != HP_TELL_YES)
        t->feel = HP_FEEL_UNSAID;
}

hp_trial hp_trial_until_cut(const hp_trial *trial)
{
    hp_trial until = *trial;
    if (trial->cut_out == HP_TELL_YES)
        drop_spoilt(&until);
    until.cut_out = HP_TELL_UNSAID;
    return until;
}

/* What of a trial may be held against the records. How it turned, and how evenly, changes little
 * with the throttle; current and speed do, and they are known near the levels, between them, and
 * where the duty is full. */
static hp_trial comparable_part(const hp_members *members, const hp_trial *said)
{
    const hp_likelihood *table = members->table;
    const hp_trial told = hp_members_true_trial(members, said), *trial = &told;
    hp_trial part = *trial;
    double least = INFINITY, most = 0.0;
    for (int k = 0; k < table->options.levels; k++) {
        least = fmin(least, level_throttle(table, k));
        most = fmax(most, level_throttle(table, k));
    }
    bool between =
        trial->throttle >= least / HP_LEVEL_WITHIN && trial->throttle <= most * HP_LEVEL_WITHIN;
    if (!between && trial->throttle < HP_FULL_THROTTLE)
        part.battery_a = part.wheel_rad_s = (double)NAN;
    if (trial->throttle < LEVEL_LEAST * least) {
        part.motion = HP_MOVED_UNSAID;
        part.feel = HP_FEEL_UNSAID;
        part.starts = part.starts_tried = 0;
        part.cut_out = part.warm = part.limit_reached = HP_TELL_UNSAID;
        part.battery_a = part.wheel_rad_s = (double)NAN;
    }
    if (trial->cut_out == HP_TELL_YES)
        drop_spoilt(&part);
    /* A controller whose supply gives way may cut out for that. */
    if (hp_trial_is_held(&part))
        part.cut_out = HP_TELL_UNSAID;
    return part;
}

bool hp_trials_alike(const hp_members *members, const hp_trial *a, const hp_trial *b)
{
    double throttle_a = hp_members_true_trial(members, a).throttle;
    double throttle_b = hp_members_true_trial(members, b).throttle;
    return hp_wiring_number(&a->wiring) == hp_wiring_number(&b->wiring) &&
           hp_likelihood_level(members->table, throttle_a) ==
               hp_likelihood_level(members->table, throttle_b);
}

static bool stood(const hp_trial *t)
{
    return t->motion == HP_MOVED_SHIVER || t->motion == HP_MOVED_STILL;
}

/* Figures can be held against each other at the same throttle, where nothing limits either. */
static bool figures_alike(const hp_trial *a, const hp_trial *b)
{
    return hp_trial_is_free(a) && hp_trial_is_free(b) &&
           fabs(log(fmax(a->throttle, 1e-6) / fmax(b->throttle, 1e-6))) < 0.1;
}

/* What was said earlier of the same wiring, sorted out. */
typedef struct history {
    hp_said_figure turning_a, standing_a, speed;
    double starts, tried; /* summed */
} history;

static history history_of(const hp_members *members, const hp_person *p, const hp_trial *trial,
                          const hp_trial *const *earlier, int count)
{
    double zero = p->current_zero_a, relative = p->current_relative;
    history past = {
        .turning_a = hp_figure_said(trial->battery_a, relative, zero, hp_current_worthless(p)),
        .standing_a = hp_figure_said(trial->battery_a, relative, zero, hp_current_worthless(p)),
        .speed = hp_figure_said(trial->wheel_rad_s, p->speed_relative, 0.0, HP_SPEED_WORTHLESS)};
    for (int k = 0; k < count; k++) {
        const hp_trial comparable = comparable_part(members, earlier[k]), *t = &comparable;
        bool told = t->motion != HP_MOVED_UNSAID || t->starts_tried > 0;
        bool alike = figures_alike(trial, t);
        if (!isnan(t->battery_a) && alike)
            hp_figure_add_earlier(stood(t) ? &past.standing_a : &past.turning_a, t->battery_a);
        if (!isnan(t->wheel_rad_s) && alike)
            hp_figure_add_earlier(&past.speed, t->wheel_rad_s);
        if (!told)
            continue;
        past.starts += t->starts_tried > 0 ? t->starts : !stood(t);
        past.tried += t->starts_tried > 0 ? t->starts_tried : 1;
    }
    past.turning_a.misread = past.standing_a.misread = past.speed.misread =
        isnan(members->misread) ? p->value_misread : members->misread;
    hp_figure_find_return(&past.turning_a);
    hp_figure_find_return(&past.standing_a);
    hp_figure_find_return(&past.speed);
    return past;
}

/* Shares after what was counted earlier: the share of turning starts has a beta law whose strength
 * is that of the record and its pool. */
static void learn_shares(hp_shares *shares, const history *past, double strength)
{
    double turning = 0.0;
    for (int s = 0; s < HP_SIGHT_SHIVER; s++)
        turning += shares->sight[s];
    double after = (strength * turning + past->starts) / (strength + past->tried);
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        shares->sight[s] *= s < HP_SIGHT_SHIVER ? after / turning : (1.0 - after) / (1.0 - turning);
}

/* ---- what a bench makes of a record ---------------------------------------------------------- */

/* Everything about the figures of a trial that is the same for all records. */
typedef struct look {
    const hp_members *members;
    const hp_person *person;
    const hp_trial *trial;
    history past;
    double limit_a;      /* NAN: nothing limits the current */
    double log_throttle; /* as said */
    bool starved;        /* at its limit the supply left the controller without its volts */
    bool by_volts;       /* the throttle is known by its signal's volts */
    double far;          /* of the throttle from its level, logarithm */
} look;

/* chosen: how far the throttle's signal tells the duty. */
#define SIGNAL_ERROR 0.05
/* chosen: figures scatter more for each e-fold beyond a level. */
#define FAR_SMOOTH 0.05
#define FAR_ROUGH  0.30
/* chosen: what an ensemble driven evenly, with a current that never pauses, tells less well of
 * other drives: how far rough figures scatter there. */
#define OTHER_SPEED   0.15
#define OTHER_CURRENT 0.30
/* chosen: a figure near the limit may be on either side of it. */
#define LIMIT_WITHIN 0.15
/* chosen: a supply's lamp, or a bright filament, is told wrongly as often as this. */
#define LIMIT_MISREAD 0.03

static look look_at(const hp_members *members, const hp_person *person, const hp_trial *trial)
{
    look l = {.members = members, .person = person, .trial = trial, .limit_a = (double)NAN};
    double throttle = fmax(trial->throttle, 1e-6);
    int level = hp_likelihood_level(members->table, throttle);
    if (hp_feed_limits(trial->feed))
        l.limit_a = isnan(trial->limit_a) ? members->limit_a : trial->limit_a;
    l.by_volts = !isnan(hp_members_share(members, trial->signal_v));
    l.log_throttle = log(throttle);
    l.far = fabs(log(throttle / level_throttle(members->table, level)));
    return l;
}

/* Logarithm of the duty with a member. */
static double log_duty(const look *l, const hp_nuisance *n)
{
    if (l->by_volts || l->trial->throttle >= HP_FULL_THROTTLE)
        return l->log_throttle;
    return fmin(0.0, l->log_throttle + log(n->duty));
}

/* Figures of one case and motor, and of its right wiring. */
typedef struct laws {
    hp_figure_law speed, turning, standing, smooth_speed, smooth_a;
    bool smooth; /* most of its turning runs are */
} laws;

static laws laws_of(const hp_likelihood *table, int level, int behaviour, int motor)
{
    int right = hp_smooth_case(table);
    const hp_record *r = hp_likelihood_record(table, level, behaviour, motor);
    int smooth = r->sight[HP_SIGHT_FORWARD_SMOOTH] + r->sight[HP_SIGHT_BACKWARD_SMOOTH] +
                 r->sight[HP_SIGHT_HUM_SMOOTH];
    int rough = r->sight[HP_SIGHT_FORWARD_ROUGH] + r->sight[HP_SIGHT_BACKWARD_ROUGH] +
                r->sight[HP_SIGHT_HUM_ROUGH];
    return (laws){
        .speed = hp_figure_law_of(table, level, behaviour, motor, HP_FIGURE_SPEED),
        .turning = hp_figure_law_of(table, level, behaviour, motor, HP_FIGURE_TURNING_A),
        .standing = hp_figure_law_of(table, level, behaviour, motor, HP_FIGURE_STANDING_A),
        .smooth_speed = hp_figure_law_of(table, level, right, motor, HP_FIGURE_SPEED),
        .smooth_a = hp_figure_law_of(table, level, right, motor, HP_FIGURE_TURNING_A),
        .smooth = smooth > rough,
    };
}

/* What a member's meters would show. */
typedef struct shown {
    double log_speed, turning_a, standing_a; /* NAN: no such run */
    double speed_kernel, current_kernel;
    bool smooth;
} shown;

static shown show(const look *l, const laws *laws, const hp_nuisance *n)
{
    double duty = log_duty(l, n), hand = l->by_volts ? SIGNAL_ERROR : l->members->hand;
    if (l->trial->throttle >= HP_FULL_THROTTLE)
        hand = 0.0;
    shown s = {.log_speed = hp_figure_log(&laws->speed, duty),
               .turning_a = exp(hp_figure_log(&laws->turning, duty)),
               .standing_a = exp(hp_figure_log(&laws->standing, duty)) + n->idle_a,
               .smooth = laws->smooth};
    double far = l->far * (laws->smooth ? FAR_SMOOTH : FAR_ROUGH);
    bool other = !laws->smooth && (n->one_sided || n->sine);
    s.speed_kernel = sqrt(HP_KERNEL_SPEED * HP_KERNEL_SPEED + hand * hand + far * far +
                          (other ? OTHER_SPEED * OTHER_SPEED : 0.0));
    s.current_kernel = sqrt(HP_KERNEL_CURRENT * HP_KERNEL_CURRENT + hand * hand + far * far +
                            (other ? OTHER_CURRENT * OTHER_CURRENT : 0.0));
    if (laws->smooth && n->coasting > 1.0) {
        double faster = fmin(log(n->coasting), -duty);
        s.log_speed += faster;
        s.turning_a *= exp(faster);
    }
    /* Friction takes its power at the speed of the wheel; smooth current is all friction. */
    if (n->friction > 1.0) {
        double ratio = hp_figure_log(&laws->speed, duty) - hp_figure_log(&laws->smooth_speed, duty);
        double own = laws->smooth ? s.turning_a : exp(hp_figure_log(&laws->smooth_a, duty) + ratio);
        if (!isnan(own))
            s.turning_a += (n->friction - 1.0) * own;
    }
    s.turning_a += n->idle_a;
    return s;
}

static double normal_below(double x)
{
    return 0.5 * erfc(-x / sqrt(2.0));
}

/* Density of a current that is held at the limit. */
static double limited_density(const look *l, const hp_said_figure *f)
{
    const hp_person *p = l->person;
    double good =
        hp_normal_density(f->value - l->limit_a, hypot(0.1 * l->limit_a, f->zero)) * f->stretch;
    return p->value_misread * f->worthless + (1.0 - p->value_misread) * good;
}

/* chosen: a right wiring that is held back by its limit runs slower by as much as it lacks amperes,
 * within a third. */
#define HELD_SPEED 0.35

/* Density of the speed of a run at its limit. It says nothing of a rough one. */
static double held_speed_density(const look *l, const shown *s)
{
    const hp_trial *t = l->trial;
    if (!s->smooth || isnan(s->turning_a) || isnan(s->log_speed) || !(t->wheel_rad_s > 0.0))
        return HP_SPEED_WORTHLESS;
    double slower = fmin(0.0, log(l->limit_a / s->turning_a));
    double good = hp_normal_density(log(t->wheel_rad_s) - s->log_speed - slower, HELD_SPEED);
    return l->person->value_misread * HP_SPEED_WORTHLESS + (1.0 - l->person->value_misread) * good;
}

/* Densities of the figures of a run with this current: free of the limit, and at it. At the limit
 * the current says nothing of the wiring. */
static double weigh_figures(const look *l, const hp_said_figure *current, double amps, double free,
                            double speed, double held_speed)
{
    const hp_trial *t = l->trial;
    if (isnan(l->limit_a))
        return free * speed;
    double over = isnan(amps) ? 0.5 : normal_below(log(amps / l->limit_a) / LIMIT_WITHIN);
    double held = isnan(t->battery_a) ? 1.0 : limited_density(l, current);
    held *= isnan(t->wheel_rad_s) ? 1.0 : held_speed;
    if (t->limit_reached == HP_TELL_UNSAID)
        return over * held + (1.0 - over) * free * speed;
    double yes = t->limit_reached == HP_TELL_YES ? 1.0 - LIMIT_MISREAD : LIMIT_MISREAD;
    return over * yes * held + (1.0 - over) * (1.0 - yes) * free * speed;
}

static double turning_figures(const look *l, const shown *s)
{
    const hp_trial *t = l->trial;
    const history *past = &l->past;
    double free = 1.0, speed = 1.0;
    if (!isnan(t->battery_a))
        free = isnan(s->turning_a) ? past->turning_a.worthless
                                   : hp_current_density(l->person, &past->turning_a, s->turning_a,
                                                        s->current_kernel);
    if (!isnan(t->wheel_rad_s))
        speed = isnan(s->log_speed) || !(t->wheel_rad_s > 0.0)
                    ? HP_SPEED_WORTHLESS
                    : hp_speed_density(l->person, &past->speed, s->log_speed, s->speed_kernel);
    return weigh_figures(l, &past->turning_a, s->turning_a, free, speed, held_speed_density(l, s));
}

static double standing_figures(const look *l, const shown *s)
{
    const hp_trial *t = l->trial;
    const history *past = &l->past;
    double free = 1.0, speed = isnan(t->wheel_rad_s) ? 1.0 : HP_SPEED_WORTHLESS;
    if (!isnan(t->battery_a))
        free = isnan(s->standing_a) ? past->standing_a.worthless
                                    : hp_current_density(l->person, &past->standing_a,
                                                         s->standing_a, s->current_kernel);
    return weigh_figures(l, &past->standing_a, s->standing_a, free, speed, HP_SPEED_WORTHLESS);
}

/* ---- the weight ------------------------------------------------------------------------------ */

/* How a limit weakens rough runs: a share of the motors, for all starts alike, stands from some of
 * the places instead; of those a share from nearly all. */
typedef struct weakness {
    double weaker, wholly;
} weakness;

/* chosen: held at its limit, many a rough wiring starts as ever, and many stands from half of the
 * places, a few from all; driven by a sine most do, as there its field waits for the rotor. */
static const weakness held_back = {0.4, 0.2}, held_back_sine = {0.8, 0.6};
#define LIMITED_STANDS 0.5
#define STANDS_WHOLLY  0.97
/* chosen: where the limit starves the controller itself, which goes off and on, hardly any rough
 * wiring gets going. */
static const weakness starved = {0.8, 0.3};
#define STARVED_STANDS 0.9

/* Rough runs stand instead, this share of them: shivering or still, all in the same way. */
static hp_shares stalled_shares(const hp_shares *shares, double stalls, hp_sight stands)
{
    hp_shares own = *shares;
    for (int s = 0; s < HP_SIGHT_SHIVER; s++) {
        if (hp_sight_smooth((hp_sight)s))
            continue;
        own.sight[stands] += stalls * own.sight[s];
        own.sight[s] -= stalls * own.sight[s];
    }
    if (stands == HP_SIGHT_STILL) {
        own.sight[HP_SIGHT_STILL] += stalls * own.sight[HP_SIGHT_SHIVER];
        own.sight[HP_SIGHT_SHIVER] -= stalls * own.sight[HP_SIGHT_SHIVER];
    }
    return own;
}

static void add_told(hp_trial_told *sum, double share, hp_trial_told told)
{
    sum->standing += share * told.standing;
    sum->turning[0] += share * told.turning[0];
    sum->turning[1] += share * told.turning[1];
}

/* What of a bench changes words: how it is driven, and whether what is smooth growls. */
enum { DRIVEN_SINE = 1, DRIVEN_GROWLS = 2, DRIVEN = 4 };

static int driven_of(const hp_nuisance *n)
{
    return (n->sine ? DRIVEN_SINE : 0) + (n->growls ? DRIVEN_GROWLS : 0);
}

/* Words of one record with a limited supply, for each way of being driven. */
static void tell_limited(const look *l, const hp_trial_words said[DRIVEN], int ways,
                         const hp_shares *shares, hp_trial_told result[DRIVEN])
{
    const double stands[2] = {l->starved ? STARVED_STANDS : LIMITED_STANDS, STANDS_WHOLLY};
    hp_trial_told free[DRIVEN], weak[2][DRIVEN], wholly[2][DRIVEN];
    hp_trial_tell(l->person, l->trial, said, ways, shares, free);
    for (int k = 0; k < 2; k++) {
        hp_sight sight = k == 0 ? HP_SIGHT_STILL : HP_SIGHT_SHIVER;
        const hp_shares some = stalled_shares(shares, stands[0], sight),
                        all = stalled_shares(shares, stands[1], sight);
        hp_trial_tell(l->person, l->trial, said, ways, &some, weak[k]);
        hp_trial_tell(l->person, l->trial, said, ways, &all, wholly[k]);
    }
    for (int k = 0; k < ways; k++) {
        const weakness *limit = l->starved        ? &starved
                                : k & DRIVEN_SINE ? &held_back_sine
                                                  : &held_back;
        result[k] = (hp_trial_told){0.0, {0.0, 0.0}};
        add_told(&result[k], 1.0 - limit->weaker, free[k]);
        for (int i = 0; i < 2; i++) {
            add_told(&result[k], 0.5 * limit->weaker * (1.0 - limit->wholly), weak[i][k]);
            add_told(&result[k], 0.5 * limit->weaker * limit->wholly, wholly[i][k]);
        }
    }
}

static void tell_record(const look *l, const hp_trial_words said[DRIVEN], const hp_shares *shares,
                        hp_trial_told result[DRIVEN])
{
    int ways = l->members->nuisance ? DRIVEN : 1;
    if (isnan(l->limit_a))
        hp_trial_tell(l->person, l->trial, said, ways, shares, result);
    else
        tell_limited(l, said, ways, shares, result);
}

/* Whether the trial has anything that depends on a figure. */
static bool has_figures(const hp_trial *t)
{
    return !isnan(t->battery_a) || !isnan(t->wheel_rad_s) || t->limit_reached != HP_TELL_UNSAID;
}

/* One case and motor with each of its benches: into the rows as simulated and mirrored. */
static void weigh_motor(const look *l, int behaviour, int motor, const hp_trial_told words[DRIVEN],
                        double *plain, double *image)
{
    const hp_likelihood *table = l->members->table;
    int level = hp_likelihood_level(table, l->trial->throttle);
    bool figures = has_figures(l->trial);
    laws laws = {.smooth = false};
    if (figures)
        laws = laws_of(table, level, behaviour, motor);
    for (int k = 0; k < l->members->benches; k++) {
        int member = motor * l->members->benches + k;
        const hp_nuisance n = hp_member_nuisance(l->members, member);
        const hp_trial_told *said = &words[driven_of(&n)];
        double turning = 1.0, standing = 1.0;
        if (figures) {
            shown s = show(l, &laws, &n);
            turning = turning_figures(l, &s);
            standing = standing_figures(l, &s);
        }
        plain[member] = said->standing * standing + said->turning[0] * turning;
        image[member] =
            table->map.mirror ? said->standing * standing + said->turning[1] * turning : 0.0;
    }
}

/* Nothing is driven: it stands, and the battery gives what it gives anyhow. */
static void weigh_silent(const look *l, const hp_trial_words *said, double *row)
{
    hp_shares shares = {.sight = {[HP_SIGHT_STILL] = 1.0}, .cut_out = 0.3};
    hp_trial_told words;
    hp_trial_tell(l->person, l->trial, said, 1, &shares, &words);
    for (int m = 0; m < l->members->count; m++) {
        const hp_nuisance n = hp_member_nuisance(l->members, m);
        shown s = {.log_speed = (double)NAN,
                   .turning_a = (double)NAN,
                   .standing_a = n.idle_a,
                   .current_kernel = HP_KERNEL_CURRENT};
        row[m] = words.standing * standing_figures(l, &s);
    }
}

/* Anything may happen: every word and every figure as likely as any other. */
static double weigh_anything(const look *l, const hp_trial_words *said)
{
    const hp_trial *t = l->trial;
    double weight = 1.0;
    if (t->motion != HP_MOVED_UNSAID)
        weight /= HP_HAPPENED_COUNT;
    if (t->feel != HP_FEEL_UNSAID)
        weight /= 3.0;
    if (t->starts_tried > 0 && !stood(t))
        weight /= said->tried;
    if (!isnan(t->battery_a))
        weight *= l->past.turning_a.worthless;
    if (!isnan(t->wheel_rad_s))
        weight *= HP_SPEED_WORTHLESS;
    const hp_tell tells[] = {t->cut_out, t->warm, t->limit_reached};
    for (size_t k = 0; k < sizeof tells / sizeof tells[0]; k++)
        weight *= tells[k] == HP_TELL_UNSAID ? 1.0 : 0.5;
    return weight;
}

void hp_weigh_trial(const hp_members *members, const hp_person *person, const hp_trial *trial,
                    const hp_trial *const *earlier, int earlier_count, double *weight)
{
    const hp_likelihood *table = members->table;
    hp_trial part = comparable_part(members, trial);
    int level = hp_likelihood_level(table, part.throttle), count = members->count;
    look l = look_at(members, person, &part);
    l.starved = hp_trial_is_held(trial) && trial->cut_out == HP_TELL_YES;
    l.past = history_of(members, person, &part, earlier, earlier_count);
    double silky = part.limit_reached == HP_TELL_YES ? HP_LIMIT_SILKY : 0.0;
    hp_trial_words said[DRIVEN];
    for (int k = 0; k < DRIVEN; k++)
        said[k] = hp_trial_words_of(
            person, &part, k & DRIVEN_SINE ? fmax(silky, HP_SINE_SILKY) : silky, k & DRIVEN_GROWLS);
    double strength = table->options.starts + HP_POOL_RUNS;
    for (int c = 0; c < table->map.count; c++) {
        double pool[HP_SIGHT_COUNT];
        hp_shares_pool(table, level, c, pool);
        for (int m = 0; m < table->options.motors; m++) {
            hp_trial_told words[DRIVEN];
            hp_shares shares = hp_shares_smoothed(hp_likelihood_record(table, level, c, m), pool);
            if (l.past.tried > 0.0)
                learn_shares(&shares, &l.past, strength);
            tell_record(&l, said, &shares, words);
            weigh_motor(&l, c, m, words, &weight[2 * c * count], &weight[(2 * c + 1) * count]);
        }
    }
    double *reckoned = &weight[2 * table->map.count * count], anything = weigh_anything(&l, said);
    weigh_silent(&l, &said[0], &reckoned[HP_RECKONED_SILENT * count]);
    for (int m = 0; m < count; m++)
        reckoned[HP_RECKONED_ANYTHING * count + m] = anything;
}
