/*
 * Weighing a trial: see decide/reading/weigh.h.
 *
 * Given a case and a motor, starts from different rest angles are independent draws from the shares
 * of the sights. The number that turned is binomial; of those, all may go forward, all backward, or
 * some each way; and the trial feels smooth if all of them did. What the person then says of it is
 * read off the model of the person. Numbers are weighed by a normal law about the record's mean,
 * the meter's error and the ensemble's coarseness added in squares, with a small share of worthless
 * readings that can be anything.
 */
#include "decide/reading/weigh.h"

#include <math.h>
#include <string.h>

/* Weight of the pool in a share, in runs. */
#define POOL_RUNS 6.0
/* Runs spread evenly over all sights in the pool itself. */
#define EVEN_RUNS 0.5

/* ---- shares ---------------------------------------------------------------------------------- */

/* Shares of a case over all motors. */
static void pool_of(const hp_likelihood *table, int level, int behaviour,
                    double pool[HP_SIGHT_COUNT])
{
    double runs = EVEN_RUNS;
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        pool[s] = EVEN_RUNS / HP_SIGHT_COUNT;
    for (int m = 0; m < table->options.motors; m++) {
        const hp_record *r = hp_likelihood_record(table, level, behaviour, m);
        for (int s = 0; s < HP_SIGHT_COUNT; s++) {
            pool[s] += r->sight[s];
            runs += r->sight[s];
        }
    }
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        pool[s] /= runs;
}

static hp_shares smoothed(const hp_record *own, const double pool[HP_SIGHT_COUNT])
{
    hp_shares shares;
    double runs = 0.0;
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        runs += own->sight[s];
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        shares.sight[s] = (own->sight[s] + POOL_RUNS * pool[s]) / (runs + POOL_RUNS);
    double standing = own->sight[HP_SIGHT_SHIVER] + own->sight[HP_SIGHT_STILL];
    shares.cut_out = (fmin(own->cut_out, standing) + 0.25) / (standing + 0.5);
    return shares;
}

hp_shares hp_shares_of(const hp_likelihood *table, int level, int behaviour, int motor)
{
    double pool[HP_SIGHT_COUNT];
    pool_of(table, level, behaviour, pool);
    return smoothed(hp_likelihood_record(table, level, behaviour, motor), pool);
}

hp_shares hp_shares_mirrored(const hp_shares *shares)
{
    hp_shares image = *shares;
    image.sight[HP_SIGHT_FORWARD_SMOOTH] = shares->sight[HP_SIGHT_BACKWARD_SMOOTH];
    image.sight[HP_SIGHT_FORWARD_ROUGH] = shares->sight[HP_SIGHT_BACKWARD_ROUGH];
    image.sight[HP_SIGHT_BACKWARD_SMOOTH] = shares->sight[HP_SIGHT_FORWARD_SMOOTH];
    image.sight[HP_SIGHT_BACKWARD_ROUGH] = shares->sight[HP_SIGHT_FORWARD_ROUGH];
    return image;
}

/* ---- what happens ---------------------------------------------------------------------------- */

/* Ways of turning: those of hp_happening, and any of them. */
enum { WAY_FORWARD, WAY_BACKWARD, WAY_HUM, WAY_ANY, WAYS };

/* Of `starts` turning starts all go one way: with all of them smooth, and at all. */
typedef struct way_powers {
    double smooth_share[WAYS], share[WAYS]; /* of one start */
    double smooth[WAYS], all[WAYS];         /* of the starts so far */
} way_powers;

static way_powers ways_of(const double sight[HP_SIGHT_COUNT])
{
    way_powers w = {.smooth_share = {sight[HP_SIGHT_FORWARD_SMOOTH],
                                     sight[HP_SIGHT_BACKWARD_SMOOTH], sight[HP_SIGHT_HUM_SMOOTH]},
                    .share = {sight[HP_SIGHT_FORWARD_ROUGH], sight[HP_SIGHT_BACKWARD_ROUGH],
                              sight[HP_SIGHT_HUM_ROUGH]}};
    for (int k = 0; k < WAY_ANY; k++) {
        w.share[k] += w.smooth_share[k];
        w.share[WAY_ANY] += w.share[k];
        w.smooth_share[WAY_ANY] += w.smooth_share[k];
    }
    for (int k = 0; k < WAYS; k++)
        w.smooth[k] = w.all[k] = 1.0;
    return w;
}

/* One start more; fills the happenings of this number of starts, times `scale`. */
static void add_start(way_powers *w, double scale, double happened[HP_HAPPENED_COUNT][2])
{
    double value[WAYS][2];
    for (int k = 0; k < WAYS; k++) {
        w->smooth[k] *= w->smooth_share[k];
        w->all[k] *= w->share[k];
        value[k][1] = scale * w->smooth[k];
        value[k][0] = scale * (w->all[k] - w->smooth[k]);
    }
    for (int s = 0; s < 2; s++) {
        happened[HP_HAPPENED_FORWARD][s] = value[WAY_FORWARD][s];
        happened[HP_HAPPENED_BACKWARD][s] = value[WAY_BACKWARD][s];
        happened[HP_HAPPENED_HUM][s] = value[WAY_HUM][s];
        happened[HP_HAPPENED_BOTH][s] = fmax(0.0, value[WAY_ANY][s] - value[WAY_FORWARD][s] -
                                                      value[WAY_BACKWARD][s] - value[WAY_HUM][s]);
        happened[HP_HAPPENED_SHIVER][s] = happened[HP_HAPPENED_STILL][s] = 0.0;
    }
}

void hp_happenings(const hp_shares *shares, int tried, double (*happened)[HP_HAPPENED_COUNT][2])
{
    const double *sight = shares->sight;
    double standing = sight[HP_SIGHT_SHIVER] + sight[HP_SIGHT_STILL], still = 1.0, choose = 1.0;
    double stood[HP_STARTS_MAX + 1];
    stood[0] = 1.0;
    for (int k = 1; k <= tried; k++) {
        stood[k] = stood[k - 1] * standing;
        still *= sight[HP_SIGHT_STILL];
    }
    memset(happened[0], 0, sizeof happened[0]);
    /* Feel has no meaning here; it is counted once, as not smooth. */
    happened[0][HP_HAPPENED_SHIVER][0] = fmax(0.0, stood[tried] - still);
    happened[0][HP_HAPPENED_STILL][0] = still;
    way_powers ways = ways_of(sight);
    for (int starts = 1; starts <= tried; starts++) {
        choose = choose * (tried - starts + 1) / starts; /* binomial coefficient */
        add_start(&ways, choose * stood[tried - starts], happened[starts]);
    }
}

static double power(double base, int exponent)
{
    double value = 1.0;
    for (int k = 0; k < exponent; k++)
        value *= base;
    return value;
}

/* ---- what is said ---------------------------------------------------------------------------- */

double hp_said_motion(const hp_person *p, hp_happening happening, hp_motion said)
{
    if (said == HP_MOVED_UNSAID)
        return 1.0;
    double wrong = p->wrong_direction, missed = p->missed_motion / 3.0;
    /* Rows: what happened; columns: forward, backward, both, hum, shiver, still. Each adds to 1. */
    const double shiver = p->shiver_as_still, still = p->still_as_shiver;
    const double row[HP_HAPPENED_COUNT][6] = {
        {1.0 - wrong - 3.0 * missed, 0.8 * wrong, 0.2 * wrong, missed, missed, missed},
        {0.8 * wrong, 1.0 - wrong - 3.0 * missed, 0.2 * wrong, missed, missed, missed},
        {0.5 * wrong, 0.5 * wrong, 1.0 - wrong - 3.0 * missed, missed, missed, missed},
        {0.5 * wrong, 0.5 * wrong, 0.0, 1.0 - wrong - 3.0 * missed, missed, 2.0 * missed},
        {missed, missed, 0.0, missed, 1.0 - shiver - 3.0 * missed, shiver},
        {missed, missed, 0.0, missed, still, 1.0 - still - 3.0 * missed},
    };
    return row[happening][said - HP_MOVED_FORWARD];
}

double hp_said_feel(const hp_person *p, bool smooth, hp_feel said)
{
    double noisy = smooth ? 0.25 * p->noisy : p->noisy;
    double wrong = smooth ? p->smooth_as_rough : p->rough_as_smooth;
    switch (said) {
    case HP_FEEL_SMOOTH: return (1.0 - noisy) * (smooth ? 1.0 - wrong : wrong);
    case HP_FEEL_ROUGH: return (1.0 - noisy) * (smooth ? wrong : 1.0 - wrong);
    case HP_FEEL_NOISY: return noisy;
    case HP_FEEL_UNSAID:
    case HP_FEEL_COUNT: break;
    }
    return 1.0;
}

/* Probability of the count that was said. */
static double said_starts(const hp_person *p, const hp_trial *t, int starts)
{
    bool said_turned = t->motion != HP_MOVED_SHIVER && t->motion != HP_MOVED_STILL;
    if (t->starts_tried == 0 || (t->motion != HP_MOVED_UNSAID && !said_turned))
        return 1.0;
    int tried = t->starts_tried;
    if (starts == 0 && t->motion != HP_MOVED_UNSAID)
        return 1.0 / tried;
    return t->starts == starts ? 1.0 - p->miscounted : p->miscounted / tried;
}

static double said_tell(hp_tell said, double probability, double slip)
{
    double yes = probability * (1.0 - slip) + (1.0 - probability) * slip;
    return said == HP_TELL_UNSAID ? 1.0 : said == HP_TELL_YES ? yes : 1.0 - yes;
}

/* ---- numbers --------------------------------------------------------------------------------- */

static double normal(double x, double deviation)
{
    double z = x / deviation;
    return exp(-0.5 * z * z) / (deviation * sqrt(2.0 * HP_PI));
}

/* The specimen at the bench is none of the ensemble's motors: it departs from the nearest one by a
 * factor of its own, of which the kernel is the prior. Readings said earlier of the same thing show
 * that factor. Mean and deviation of its logarithm after them, by the rule for normal laws; a
 * reading that would need more than four kernels was worthless and is passed over. */
typedef struct offset {
    double mean;
    double deviation;
} offset;

static offset offset_after(const double *said, int count, double value, double kernel, double meter)
{
    double sum = 0.0, used = 0.0;
    for (int k = 0; k < count; k++) {
        double log_ratio = log(fmax(said[k], 1e-9) / value);
        if (fabs(log_ratio) > 4.0 * kernel)
            continue;
        sum += log_ratio;
        used += 1.0;
    }
    double precision = 1.0 / (kernel * kernel) + used / (meter * meter);
    return (offset){sum / (meter * meter) / precision, sqrt(1.0 / precision)};
}

/* Density of a current over asinh(current / zero error): linear near zero, logarithmic far from it.
 * A worthless reading may be anything up to 100 A on that scale. */
static double current_density(const hp_person *p, double said, double value, const double *earlier,
                              int count)
{
    double zero = p->current_zero_a, worthless = 1.0 / asinh(100.0 / zero);
    if (isnan(value))
        return worthless;
    double meter = hypot(p->current_relative, zero / fmax(value, 1e-3));
    offset own = offset_after(earlier, count, value, HP_KERNEL_CURRENT, meter);
    double centre = value * exp(own.mean);
    double relative = hypot(p->current_relative, own.deviation) * centre;
    double good = normal(said - centre, hypot(relative, zero)) * hypot(said, zero);
    return p->value_misread * worthless + (1.0 - p->value_misread) * good;
}

/* Density of a speed over its logarithm; a worthless reading lies within e^3 either way. */
static double speed_density(const hp_person *p, double said, double value, const double *earlier,
                            int count)
{
    const double worthless = 1.0 / 6.0;
    if (isnan(value) || !(said > 0.0))
        return worthless;
    offset own = offset_after(earlier, count, value, HP_KERNEL_SPEED, p->speed_relative);
    double good = normal(log(said / value) - own.mean, hypot(p->speed_relative, own.deviation));
    return p->value_misread * worthless + (1.0 - p->value_misread) * good;
}

/* ---- other throttles ------------------------------------------------------------------------- */

/* chosen: within this factor of the level's throttle a current and a speed are compared with it. */
#define LEVEL_WITHIN 1.25
/* chosen: below this share of the lowest level a wheel that stands says nothing of its wiring. */
#define LEVEL_LEAST 0.7

/* What of a trial may be held against the records of a level. How it turned, and how evenly,
 * changes little with the throttle; current and speed do, and they are read at the level's throttle
 * only. */
static hp_trial comparable_part(const hp_likelihood *table, int level, const hp_trial *trial)
{
    hp_trial part = *trial;
    double nominal = table->nominal.controller.throttle, least = INFINITY;
    double ratio = trial->throttle / fmin(1.0, nominal * table->options.level[level]);
    for (int k = 0; k < table->options.levels; k++)
        least = fmin(least, fmin(1.0, nominal * table->options.level[k]));
    if (!(ratio <= LEVEL_WITHIN && ratio >= 1.0 / LEVEL_WITHIN))
        part.battery_a = part.wheel_rad_s = (double)NAN;
    if (trial->throttle < LEVEL_LEAST * least) {
        part.motion = HP_MOVED_UNSAID;
        part.feel = HP_FEEL_UNSAID;
        part.starts = part.starts_tried = 0;
        part.cut_out = part.warm = HP_TELL_UNSAID;
    }
    return part;
}

/* What was said earlier of the same wiring, sorted out. */
typedef struct history {
    double turning_a[HP_EARLIER_MAX], standing_a[HP_EARLIER_MAX], speed[HP_EARLIER_MAX];
    int turning_count, standing_count, speed_count;
    double starts, tried; /* summed */
} history;

static history history_of(const hp_likelihood *table, int level, const hp_trial *const *earlier,
                          int count)
{
    history past = {0};
    for (int k = 0; k < count; k++) {
        const hp_trial comparable = comparable_part(table, level, earlier[k]), *t = &comparable;
        if (t->motion == HP_MOVED_UNSAID && t->starts_tried == 0)
            continue;
        bool stood = t->motion == HP_MOVED_SHIVER || t->motion == HP_MOVED_STILL;
        if (!isnan(t->battery_a) && stood)
            past.standing_a[past.standing_count++] = t->battery_a;
        else if (!isnan(t->battery_a))
            past.turning_a[past.turning_count++] = t->battery_a;
        if (!isnan(t->wheel_rad_s))
            past.speed[past.speed_count++] = t->wheel_rad_s;
        past.starts += t->starts_tried > 0 ? t->starts : !stood;
        past.tried += t->starts_tried > 0 ? t->starts_tried : 1;
    }
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

/* ---- the weight ------------------------------------------------------------------------------ */

/* Densities of the numbers read, when it turned and when it stood. */
typedef struct numbers {
    double turning;
    double standing;
} numbers;

static numbers weigh_numbers(const hp_person *p, const hp_trial *t, const hp_record *r,
                             const history *past)
{
    numbers n = {1.0, 1.0};
    if (!isnan(t->battery_a)) {
        n.turning = current_density(p, t->battery_a, hp_grid_value(r->current_turning),
                                    past->turning_a, past->turning_count);
        n.standing = current_density(p, t->battery_a, hp_grid_value(r->current_standing),
                                     past->standing_a, past->standing_count);
    }
    if (!isnan(t->wheel_rad_s)) {
        n.turning *= speed_density(p, t->wheel_rad_s, hp_grid_value(r->wheel_speed), past->speed,
                                   past->speed_count);
        n.standing *= speed_density(p, t->wheel_rad_s, (double)NAN, past->speed, past->speed_count);
    }
    return n;
}

/* chosen: half of the rough or standing trials leave something warm, few of the smooth. */
static double weigh_warmth(const hp_trial *t, bool smooth)
{
    return said_tell(t->warm, smooth ? 0.0 : 0.5, 0.03);
}

/* What is the same for all records: probability of the words given what happened, [1] for those who
 * see forward and backward exchanged, and of the count given the starts. */
typedef struct words {
    int tried;
    double turning[2][HP_HAPPENED_COUNT][2];
    double standing[HP_HAPPENED_COUNT];
    double count[HP_STARTS_MAX + 1];
} words;

static words words_of(const hp_person *p, const hp_trial *t)
{
    words w = {.tried = t->starts_tried > 0 ? t->starts_tried : 1};
    for (int h = 0; h < HP_HAPPENED_COUNT; h++) {
        double motion = hp_said_motion(p, (hp_happening)h, t->motion);
        int image = h == HP_HAPPENED_FORWARD    ? HP_HAPPENED_BACKWARD
                    : h == HP_HAPPENED_BACKWARD ? HP_HAPPENED_FORWARD
                                                : h;
        for (int smooth = 0; smooth < 2; smooth++)
            w.turning[0][h][smooth] = w.turning[1][image][smooth] =
                motion * hp_said_feel(p, smooth, t->feel) * weigh_warmth(t, smooth);
        /* Whoever saw nothing turn has no feel to tell; what they say then is chance. */
        double feel = t->feel == HP_FEEL_UNSAID ? 1.0 : 1.0 / 3.0;
        w.standing[h] = motion * feel * weigh_warmth(t, false);
    }
    for (int starts = 0; starts <= w.tried; starts++)
        w.count[starts] = said_starts(p, t, starts);
    return w;
}

/* Probability of what was said of a cut-out. */
static double said_cut_out(const hp_person *p, const hp_trial *t, const hp_shares *shares,
                           int standing)
{
    if (t->cut_out == HP_TELL_UNSAID)
        return 1.0;
    return said_tell(t->cut_out, 1.0 - power(1.0 - shares->cut_out, standing), p->cut_out_missed);
}

/* Weights of one record, as simulated and mirrored. */
static void weigh_record(const hp_person *p, const hp_trial *t, const words *w, const hp_record *r,
                         const hp_shares *shares, const history *past, double weight[2])
{
    double happened[HP_STARTS_MAX + 1][HP_HAPPENED_COUNT][2];
    numbers n = weigh_numbers(p, t, r, past);
    hp_happenings(shares, w->tried, happened);
    double stood = 0.0;
    for (int h = HP_HAPPENED_SHIVER; h <= HP_HAPPENED_STILL; h++)
        stood += happened[0][h][0] * w->standing[h];
    stood *= w->count[0] * n.standing * said_cut_out(p, t, shares, w->tried);
    weight[0] = weight[1] = stood;
    for (int starts = 1; starts <= w->tried; starts++) {
        double sum[2] = {0.0, 0.0};
        for (int h = 0; h <= HP_HAPPENED_HUM; h++)
            for (int s = 0; s < 2; s++)
                for (int image = 0; image < 2; image++)
                    sum[image] += happened[starts][h][s] * w->turning[image][h][s];
        double rest = w->count[starts] * n.turning * said_cut_out(p, t, shares, w->tried - starts);
        weight[0] += rest * sum[0];
        weight[1] += rest * sum[1];
    }
}

void hp_weigh_trial(const hp_likelihood *table, const hp_person *person, const hp_trial *trial,
                    const hp_trial *const *earlier, int earlier_count, double *weight)
{
    int level = hp_likelihood_level(table, trial->throttle), motors = table->options.motors;
    history past = history_of(table, level, earlier, earlier_count);
    hp_trial part = comparable_part(table, level, trial);
    words said = words_of(person, &part);
    double strength = table->options.starts + POOL_RUNS;
    for (int c = 0; c < table->map.count; c++) {
        double pool[HP_SIGHT_COUNT], both[2];
        pool_of(table, level, c, pool);
        for (int m = 0; m < motors; m++) {
            const hp_record *record = hp_likelihood_record(table, level, c, m);
            hp_shares shares = smoothed(record, pool);
            if (past.tried > 0.0)
                learn_shares(&shares, &past, strength);
            weigh_record(person, &part, &said, record, &shares, &past, both);
            weight[2 * c * motors + m] = both[0];
            weight[(2 * c + 1) * motors + m] = table->map.mirror ? both[1] : 0.0;
        }
    }
}
