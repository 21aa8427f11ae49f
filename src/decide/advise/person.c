/* The person at the bench: see the header. */
#include "hubphase/decide/assumptions.h"

#include <math.h>
#include <stddef.h>

hp_person hp_person_default(void)
{
    /* chosen: one word or number in twenty is wrong, which is cautious: whoever slips less pays
     * with a look too many, whoever slips more with a wrong wiring called right. Others as noted.
     */
    return (hp_person){
        .wrong_entry = 1e-4,      /* rare, yet no single entry may weigh more than this allows */
        .wrong_direction = 0.05,  /* seen from the other side of the wheel */
        .rough_as_smooth = 0.05,  /* a rough wheel may turn fast and look fine */
        .smooth_as_rough = 0.05,  /* a rattling mudguard */
        .noisy = 0.30,            /* chosen: a word that many use for rough */
        .missed_motion = 0.02,    /* chosen: a few degrees of turn, or a wheel pushed by hand */
        .shiver_as_still = 0.15,  /* chosen: at a geared hub a shiver is hardly felt */
        .still_as_shiver = 0.10,  /* chosen: the jerk of switching on */
        .miscounted = 0.05,       /* counting while holding a throttle */
        .wrong_wiring = 0.01,     /* chosen: two leads of like colour, yet checked before power */
        .cut_out_missed = 0.15,   /* chosen: a cut-out makes no sound */
        .code_misread = 0.05,     /* chosen: three small lamps, written down by hand */
        .turned_back = 0.05,      /* as of the direction of a run */
        .code_skipped = 0.02,     /* chosen: 46 magnets pass quickly */
        .wrong_lead = 0.05,       /* chosen: clips on the wrong lead */
        .pair_misread = 0.03,     /* chosen: a probe that did not touch */
        .row_misread = 0.05,      /* chosen: as a code */
        .value_misread = 0.05,    /* wrong range, wrong decimal */
        .current_relative = 0.03, /* chosen: a cheap power meter in the battery lead */
        .current_zero_a = 0.05,   /* chosen: its last digits */
        .speed_relative = 0.03,   /* chosen: counted spokes, or a cheap tachometer */
        .volt_relative = 0.03,    /* chosen: a handheld meter on a wave that is no sine */
        .ohm_relative = 0.10,     /* chosen: tenths of an ohm on a handheld meter */
        .ohm_zero = 0.05,         /* chosen: test leads and contacts */
    };
}

/* The fields that are probabilities. */
#define SLIPS 18

static void slip_fields(hp_person *person, double *field[SLIPS])
{
    double *all[SLIPS] = {
        &person->wrong_entry,     &person->wrong_direction, &person->rough_as_smooth,
        &person->smooth_as_rough, &person->noisy,           &person->missed_motion,
        &person->shiver_as_still, &person->still_as_shiver, &person->miscounted,
        &person->wrong_wiring,    &person->cut_out_missed,  &person->code_misread,
        &person->turned_back,     &person->code_skipped,    &person->wrong_lead,
        &person->pair_misread,    &person->row_misread,     &person->value_misread,
    };
    for (int k = 0; k < SLIPS; k++)
        field[k] = all[k];
}

hp_person hp_person_slipping(double probability)
{
    hp_person person = hp_person_default();
    double *field[SLIPS];
    slip_fields(&person, field);
    for (int k = 0; k < SLIPS; k++)
        *field[k] = probability;
    /* Far rarer than a wrong word. */
    person.wrong_entry = fmin(probability, 1e-4);
    return person;
}

hp_person hp_person_sharp(void)
{
    return hp_person_slipping(1e-6);
}

hp_result hp_person_check(const hp_person *person, hp_error *err)
{
    static const char *const name[SLIPS] = {
        "wrong_entry",    "wrong_direction", "rough_as_smooth", "smooth_as_rough", "noisy",
        "missed_motion",  "shiver_as_still", "still_as_shiver", "miscounted",      "wrong_wiring",
        "cut_out_missed", "code_misread",    "turned_back",     "code_skipped",    "wrong_lead",
        "pair_misread",   "row_misread",     "value_misread"};
    hp_person copy = *person;
    double *field[SLIPS];
    slip_fields(&copy, field);
    for (int k = 0; k < SLIPS; k++)
        if (!(*field[k] > 0.0 && *field[k] <= 0.5))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "person.%s is %g, must be above 0 and at most 0.5", name[k],
                                *field[k]);
    const struct {
        const char *name;
        double value;
    } meter[] = {
        {"current_relative", person->current_relative}, {"current_zero_a", person->current_zero_a},
        {"speed_relative", person->speed_relative},     {"volt_relative", person->volt_relative},
        {"ohm_relative", person->ohm_relative},         {"ohm_zero", person->ohm_zero},
    };
    for (size_t k = 0; k < sizeof meter / sizeof meter[0]; k++)
        if (!(meter[k].value > 0.0 && meter[k].value <= 10.0))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "person.%s is %g, must be above 0 and at most 10", meter[k].name,
                                meter[k].value);
    return HP_OK;
}
