/* What is said of a trial: see the header. */
#include "decide/reading/trial_said.h"

#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#include <math.h>
#include <string.h>

/* Runs spread evenly over all sights in the pool itself. */
#define EVEN_RUNS 0.5

/* ---- shares ---------------------------------------------------------------------------------- */

void hp_shares_pool(const hp_likelihood *table, int level, int behaviour,
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

hp_shares hp_shares_smoothed(const hp_record *own, const double pool[HP_SIGHT_COUNT])
{
    hp_shares shares;
    double runs = 0.0;
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        runs += own->sight[s];
    for (int s = 0; s < HP_SIGHT_COUNT; s++)
        shares.sight[s] = (own->sight[s] + HP_POOL_RUNS * pool[s]) / (runs + HP_POOL_RUNS);
    double standing = own->sight[HP_SIGHT_SHIVER] + own->sight[HP_SIGHT_STILL];
    shares.cut_out = (fmin(own->cut_out, standing) + 0.25) / (standing + 0.5);
    return shares;
}

hp_shares hp_shares_of(const hp_likelihood *table, int level, int behaviour, int motor)
{
    double pool[HP_SIGHT_COUNT];
    hp_shares_pool(table, level, behaviour, pool);
    return hp_shares_smoothed(hp_likelihood_record(table, level, behaviour, motor), pool);
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

/* ---- words ----------------------------------------------------------------------------------- */

/* chosen: half of the rough or standing trials leave something warm, few of the smooth. */
static double weigh_warmth(const hp_trial *t, bool smooth)
{
    return said_tell(t->warm, smooth ? 0.0 : 0.5, 0.03);
}

static double feel_of(const hp_person *p, const hp_trial *t, bool smooth, double silky, bool growls)
{
    double rough = hp_said_feel(p, false, t->feel), even = hp_said_feel(p, true, t->feel);
    if (smooth)
        return growls ? rough : even;
    return (1.0 - silky) * rough + silky * even;
}

hp_trial_words hp_trial_words_of(const hp_person *p, const hp_trial *t, double silky, bool growls)
{
    hp_trial_words w = {.tried = t->starts_tried > 0 ? t->starts_tried : 1};
    for (int h = 0; h < HP_HAPPENED_COUNT; h++) {
        double motion = hp_said_motion(p, (hp_happening)h, t->motion);
        int image = h == HP_HAPPENED_FORWARD    ? HP_HAPPENED_BACKWARD
                    : h == HP_HAPPENED_BACKWARD ? HP_HAPPENED_FORWARD
                                                : h;
        for (int smooth = 0; smooth < 2; smooth++)
            w.turning[0][h][smooth] = w.turning[1][image][smooth] =
                motion * feel_of(p, t, smooth, silky, growls) * weigh_warmth(t, smooth);
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
    double cut = 1.0 - power(1.0 - shares->cut_out, standing);
    double yes = cut * (1.0 - p->cut_out_missed) +
                 (1.0 - cut) * fmin(HP_CUT_OUT_IMAGINED, p->cut_out_missed);
    return t->cut_out == HP_TELL_YES ? yes : 1.0 - yes;
}

/* What was said, of a number of starts that turned. */
static void add_turning(const hp_trial_words *w, double happened[HP_HAPPENED_COUNT][2], double rest,
                        hp_trial_told *result)
{
    double sum[2] = {0.0, 0.0};
    for (int h = 0; h <= HP_HAPPENED_HUM; h++)
        for (int s = 0; s < 2; s++)
            for (int image = 0; image < 2; image++)
                sum[image] += happened[h][s] * w->turning[image][h][s];
    result->turning[0] += rest * sum[0];
    result->turning[1] += rest * sum[1];
}

void hp_trial_tell(const hp_person *p, const hp_trial *t, const hp_trial_words *words, int count,
                   const hp_shares *shares, hp_trial_told *result)
{
    double happened[HP_STARTS_MAX + 1][HP_HAPPENED_COUNT][2];
    int tried = words[0].tried;
    hp_happenings(shares, tried, happened);
    double none = words[0].count[0] * said_cut_out(p, t, shares, tried);
    for (int k = 0; k < count; k++) {
        result[k] = (hp_trial_told){0.0, {0.0, 0.0}};
        for (int h = HP_HAPPENED_SHIVER; h <= HP_HAPPENED_STILL; h++)
            result[k].standing += happened[0][h][0] * words[k].standing[h];
        result[k].standing *= none;
    }
    for (int starts = 1; starts <= tried; starts++) {
        double rest = words[0].count[starts] * said_cut_out(p, t, shares, tried - starts);
        for (int k = 0; k < count; k++)
            add_turning(&words[k], happened[starts], rest, &result[k]);
    }
}
