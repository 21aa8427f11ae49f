/*
 * Weighing a trial: see hubphase/decide/weigh.h.
 *
 * Given a case and a motor, starts from different rest angles are independent draws from the shares
 * of the sights. The number that turned is binomial; of those, all may go forward, all backward, or
 * some each way; and the trial feels smooth if all of them did. What the person then says of it is
 * read off the model of the person. Numbers are weighed by a normal law about the record's mean,
 * the meter's error and the ensemble's coarseness added in squares, with a small share of worthless
 * readings that can be anything.
 */
#include "hubphase/decide/weigh.h"

#include <math.h>

/* Weight of the pool in a share, in runs. */
#define POOL_RUNS 6.0
/* Runs spread evenly over all sights in the pool itself. */
#define EVEN_RUNS 0.5

/* ---- shares ---------------------------------------------------------------------------------- */

hp_shares hp_shares_of(const hp_likelihood *table, int level, int behaviour, int motor)
{
    double pool[HP_SIGHT_COUNT], pool_runs = EVEN_RUNS, runs = 0.0;
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        pool[s] = EVEN_RUNS / HP_SIGHT_COUNT;
    for (int m = 0; m < table->options.motors; m++) {
        const hp_record *r = hp_likelihood_record(table, level, behaviour, m);
        for (int s = 0; s < HP_SIGHT_COUNT; s++) {
            pool[s] += r->sight[s];
            pool_runs += r->sight[s];
        }
    }
    const hp_record *own = hp_likelihood_record(table, level, behaviour, motor);
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        runs += own->sight[s];
    hp_shares shares;
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        shares.sight[s] = (own->sight[s] + POOL_RUNS * pool[s] / pool_runs) / (runs + POOL_RUNS);
    double standing = own->sight[HP_SIGHT_SHIVER] + own->sight[HP_SIGHT_STILL];
    shares.cut_out = (fmin(own->cut_out, standing) + 0.25) / (standing + 0.5);
    return shares;
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

static double power(double base, int exponent)
{
    double value = 1.0;
    for (int k = 0; k < exponent; k++)
        value *= base;
    return value;
}

static double binomial(int n, int k)
{
    double value = 1.0;
    for (int i = 1; i <= k; i++)
        value = value * (n - k + i) / i;
    return value;
}

/* All of `starts` turning runs of the kind with these shares of smooth and rough, and smooth or
 * not; shares are of one start. */
static double all_of(double smooth_share, double rough_share, int starts, bool smooth)
{
    double all_smooth = power(smooth_share, starts);
    return smooth ? all_smooth : power(smooth_share + rough_share, starts) - all_smooth;
}

double hp_happening_probability(const hp_shares *shares, int tried, int starts,
                                hp_happening happening, bool smooth)
{
    const double *s = shares->sight;
    double standing = s[HP_SIGHT_SHIVER] + s[HP_SIGHT_STILL];
    double choose = binomial(tried, starts) * power(standing, tried - starts);
    if (starts == 0) {
        /* Feel has no meaning here; it is counted once, as not smooth. */
        double still = power(s[HP_SIGHT_STILL], tried);
        if (smooth || happening < HP_HAPPENED_SHIVER)
            return 0.0;
        return happening == HP_HAPPENED_STILL ? still : fmax(0.0, power(standing, tried) - still);
    }
    double forward = all_of(s[HP_SIGHT_FORWARD_SMOOTH], s[HP_SIGHT_FORWARD_ROUGH], starts, smooth);
    double backward =
        all_of(s[HP_SIGHT_BACKWARD_SMOOTH], s[HP_SIGHT_BACKWARD_ROUGH], starts, smooth);
    double hum = all_of(s[HP_SIGHT_HUM_SMOOTH], s[HP_SIGHT_HUM_ROUGH], starts, smooth);
    switch (happening) {
    case HP_HAPPENED_FORWARD: return choose * forward;
    case HP_HAPPENED_BACKWARD: return choose * backward;
    case HP_HAPPENED_HUM: return choose * hum;
    case HP_HAPPENED_BOTH: {
        double any = all_of(
            s[HP_SIGHT_FORWARD_SMOOTH] + s[HP_SIGHT_BACKWARD_SMOOTH] + s[HP_SIGHT_HUM_SMOOTH],
            s[HP_SIGHT_FORWARD_ROUGH] + s[HP_SIGHT_BACKWARD_ROUGH] + s[HP_SIGHT_HUM_ROUGH], starts,
            smooth);
        return choose * fmax(0.0, any - forward - backward - hum);
    }
    case HP_HAPPENED_SHIVER:
    case HP_HAPPENED_STILL:
    case HP_HAPPENED_COUNT: break;
    }
    return 0.0;
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

/* What was said earlier of the same wiring, sorted out. */
typedef struct history {
    double turning_a[HP_EARLIER_MAX], standing_a[HP_EARLIER_MAX], speed[HP_EARLIER_MAX];
    int turning_count, standing_count, speed_count;
    double starts, tried; /* summed */
} history;

static history history_of(const hp_trial *const *earlier, int count)
{
    history past = {0};
    for (int k = 0; k < count; k++) {
        const hp_trial *t = earlier[k];
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

/* What does not depend on direction or feel, given the number of starts. */
static double weigh_numbers(const hp_person *p, const hp_trial *t, const hp_record *r,
                            const hp_shares *shares, const history *past, int tried, int starts)
{
    double weight = said_starts(p, t, starts);
    double cut_out = starts < tried ? 1.0 - power(1.0 - shares->cut_out, tried - starts) : 0.0;
    weight *= said_tell(t->cut_out, cut_out, p->cut_out_missed);
    if (!isnan(t->battery_a) && starts > 0)
        weight *= current_density(p, t->battery_a, hp_grid_value(r->current_turning),
                                  past->turning_a, past->turning_count);
    else if (!isnan(t->battery_a))
        weight *= current_density(p, t->battery_a, hp_grid_value(r->current_standing),
                                  past->standing_a, past->standing_count);
    if (!isnan(t->wheel_rad_s))
        weight *= speed_density(p, t->wheel_rad_s,
                                starts > 0 ? hp_grid_value(r->wheel_speed) : (double)NAN,
                                past->speed, past->speed_count);
    return weight;
}

/* chosen: half of the rough or standing trials leave something warm, few of the smooth. */
static double weigh_warmth(const hp_trial *t, bool smooth)
{
    return said_tell(t->warm, smooth ? 0.0 : 0.5, 0.03);
}

static double weigh_one(const hp_person *p, const hp_trial *t, const hp_record *r,
                        const hp_shares *shares, const history *past)
{
    int tried = t->starts_tried > 0 ? t->starts_tried : 1;
    double sum = 0.0;
    for (int starts = 0; starts <= tried; starts++) {
        double said = 0.0;
        for (int h = 0; h < HP_HAPPENED_COUNT; h++) {
            double motion = hp_said_motion(p, (hp_happening)h, t->motion);
            for (int smooth = 0; smooth < 2; smooth++) {
                double happened =
                    hp_happening_probability(shares, tried, starts, (hp_happening)h, smooth);
                if (happened <= 0.0)
                    continue;
                /* Whoever saw nothing turn has no feel to tell; what they say then is chance. */
                double feel = starts > 0                  ? hp_said_feel(p, smooth, t->feel)
                              : t->feel == HP_FEEL_UNSAID ? 1.0
                                                          : 1.0 / 3.0;
                said += happened * motion * feel * weigh_warmth(t, smooth);
            }
        }
        if (said > 0.0)
            sum += said * weigh_numbers(p, t, r, shares, past, tried, starts);
    }
    return sum;
}

void hp_weigh_trial(const hp_likelihood *table, const hp_person *person, const hp_trial *trial,
                    const hp_trial *const *earlier, int earlier_count, double *weight)
{
    int level = hp_likelihood_level(table, trial->throttle), motors = table->options.motors;
    history past = history_of(earlier, earlier_count);
    double strength = table->options.starts + POOL_RUNS;
    for (int c = 0; c < table->map.count; c++) {
        for (int m = 0; m < motors; m++) {
            const hp_record *record = hp_likelihood_record(table, level, c, m);
            hp_shares shares = hp_shares_of(table, level, c, m);
            if (past.tried > 0.0)
                learn_shares(&shares, &past, strength);
            hp_shares image = hp_shares_mirrored(&shares);
            weight[2 * c * motors + m] = weigh_one(person, trial, record, &shares, &past);
            weight[(2 * c + 1) * motors + m] =
                table->map.mirror ? weigh_one(person, trial, record, &image, &past) : 0.0;
        }
    }
}
