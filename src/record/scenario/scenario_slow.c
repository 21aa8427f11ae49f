/*
 * What of a scenario makes it slow to simulate: see hp_scenario_tell_slow.
 *
 * Each number that the file or an option states is put back to its default, one at a time, in an
 * estimate of the steps that a run takes (sim/step_rate.h); those that would save most are told. So
 * nobody has to say beforehand which of them goes with which.
 */
#include "record/scenario/scenario_keys.h"

#include "hubphase/base/text.h"
#include "record/scenario/parameters.h"
#include "sim/step_rate.h"

#include <math.h>

/* chosen: less is not worth a line, and more than three lines nobody reads. */
#define SAVES_LEAST 1.5
#define TOLD_MOST   3

/* Everything that an estimate is made of. */
typedef struct subject {
    hp_drive drive;
    hp_run_options run;
} subject;

/* A number of a scenario, and what becomes of the subject if it is `ratio` times what it is. */
typedef struct row {
    hp_key_id key;
    void (*scale)(subject *s, double ratio);
} row;

static void tolerance(subject *s, double ratio)
{
    s->run.tolerance *= ratio;
}
static void inductance(subject *s, double ratio)
{
    s->drive.motor.inductance_h *= ratio;
}
static void wheel_inertia(subject *s, double ratio)
{
    s->drive.stand.wheel_inertia_kg_m2 *= ratio;
}
static void switch_ohm(subject *s, double ratio)
{
    s->drive.controller.switch_resistance_ohm *= ratio;
}
static void battery_ohm(subject *s, double ratio)
{
    s->drive.supply.resistance_ohm *= ratio;
}
static void filter(subject *s, double ratio)
{
    s->drive.controller.filter_s *= ratio;
}
static void cogging_periods(subject *s, double ratio)
{
    s->drive.motor.cogging_order = (int)lround(ratio * s->drive.motor.cogging_order);
}
static void pwm(subject *s, double ratio)
{
    s->drive.controller.pwm_hz *= ratio;
}
static void rotor_viscous(subject *s, double ratio)
{
    s->drive.stand.rotor.viscous_nm_s_rad *= ratio;
}
/* The back-EMF is stated of the wheel: a rotor that turns less often for it has more of it. */
static void gear(subject *s, double ratio)
{
    s->drive.stand.gear_ratio *= ratio;
    s->drive.motor.ke /= ratio;
}
static void battery_v(subject *s, double ratio)
{
    s->drive.supply.emf_v *= ratio;
}

static const row rows[] = {{HP_KEY_TOLERANCE, tolerance},
                           {HP_KEY_INDUCTANCE, inductance},
                           {HP_KEY_WHEEL_INERTIA, wheel_inertia},
                           {HP_KEY_SWITCH, switch_ohm},
                           {HP_KEY_BATTERY_OHM, battery_ohm},
                           {HP_KEY_FILTER, filter},
                           {HP_KEY_COGGING_PERIODS, cogging_periods},
                           {HP_KEY_PWM_KHZ, pwm},
                           {HP_KEY_ROTOR_VISCOUS, rotor_viscous},
                           {HP_KEY_GEAR, gear},
                           {HP_KEY_BATTERY_V, battery_v}};
enum { ROWS = sizeof rows / sizeof rows[0] };

/* As a file would state it. */
static double default_of(hp_key_id id)
{
    const hp_draft draft = hp_draft_default();
    return hp_draft_number(&draft, id);
}

typedef struct found {
    const hp_parameter *stated;
    double usual, saves; /* so many times fewer steps with the usual one */
} found;

static bool look(const row *of, const hp_scenario *scenario, double rate, found *f)
{
    f->stated = hp_scenario_parameter(scenario, hp_key_of(of->key)->path);
    if (!f->stated || !hp_parameter_is_stated(f->stated) || !(f->stated->number > 0.0))
        return false;
    subject s = {scenario->drive, scenario->run};
    f->usual = default_of(of->key);
    of->scale(&s, f->usual / f->stated->number);
    f->saves = rate / hp_step_rate(&s.drive, &s.run);
    return f->saves >= SAVES_LEAST;
}

/* Those that save most first; how many are worth telling. */
static int find(const hp_scenario *scenario, found told[ROWS])
{
    int count = 0;
    double rate = hp_step_rate(&scenario->drive, &scenario->run);
    for (int k = 0; k < ROWS; k++) {
        found f;
        if (!look(&rows[k], scenario, rate, &f))
            continue;
        int at = count++;
        for (; at > 0 && told[at - 1].saves < f.saves; at--)
            told[at] = told[at - 1];
        told[at] = f;
    }
    return count < TOLD_MOST ? count : TOLD_MOST;
}

/* To one digit: an estimate is no better. */
static double rounded(double x)
{
    double unit = pow(10.0, floor(log10(x)));
    return round(x / unit) * unit;
}

static void put_place(FILE *out, const hp_scenario *scenario, const hp_parameter *stated)
{
    char path[sizeof scenario->path];
    fputs(hp_text_clean(scenario->path, path, sizeof path), out);
    if (stated->line > 0)
        fprintf(out, ":%d", stated->line);
    fprintf(out, ": %s is %s: ", stated->key, stated->value);
}

/* An estimate is right within a factor of three (sim/step_rate.h); usual machines stay a hundred
 * times below. */
#define SLOW_SHARE (1.0 / 3.0)

bool hp_scenario_is_slow(const hp_scenario *scenario)
{
    const hp_run_options *run = &scenario->run;
    double pwm = scenario->drive.controller.pwm == HP_PWM_AVERAGED
                     ? 0.0
                     : 4.0 * scenario->drive.controller.pwm_hz;
    double most = fmin((double)run->max_steps / run->seconds, HP_STEPS_PER_SECOND + pwm);
    return hp_step_rate(&scenario->drive, run) > SLOW_SHARE * most;
}

void hp_scenario_tell_slow(const hp_scenario *scenario, FILE *out)
{
    found told[ROWS];
    int count = find(scenario, told);
    for (int k = 0; k < count; k++) {
        put_place(out, scenario, told[k].stated);
        fprintf(out, "with %.6g, which is usual, a run takes about %.10g times fewer steps\n",
                told[k].usual, rounded(told[k].saves));
    }
    double rate = hp_step_rate(&scenario->drive, &scenario->run);
    double most = (double)scenario->run.max_steps;
    const hp_parameter *stated = hp_scenario_parameter(scenario, hp_key_of(HP_KEY_SECONDS)->path);
    if (stated && rate * stated->number > most) {
        put_place(out, scenario, stated);
        fprintf(out, "about %.10g would do\n", rounded(0.5 * most / rate));
    }
}
