/*
 * A wiring at the wheel and at the battery: see the header.
 *
 * Every number is one of the survey's figures, or a quotient of two; how many places hold a rotor
 * follows from its sectors. What a hand or an ear makes of it is said only where a figure says so.
 */
#include "report/words/explain_seen.h"

#include <math.h>

/* [A] below which a quotient of two currents says nothing. */
#define CURRENT_LEAST 0.005
/* Speeds, and torques, that differ by less are alike. Chosen: nobody sees or feels a twentieth. */
#define ALIKE 0.05
/* A torque swings so much harder than in the correct wiring that a hand feels it. Chosen: twice. */
#define FELT 2.0
/* [rad electrical] below which a rotor that is held does not visibly move. Chosen. */
#define STILL (5.0 * HP_DEG)
/* Share of the rotor's speed below which the wheel is not moved along. Chosen. */
#define LEFT_BEHIND 0.01
/* The limiter holds the duty when it is below what the throttle asks for by more than this share.
 * Chosen: less is what a filtered limiter does now and then. */
#define HELD 0.05

/* What all sentences are made of. */
typedef struct seen {
    const hp_drive *drive;
    const hp_pull_sum *sum;
    const hp_judgement *own;
    const hp_judgement *correct; /* another wiring that is correct; NULL: none, or this is one */
} seen;

/* "21", "1.4": a quotient as people say it. */
static void add_times(hp_phrase *out, double times)
{
    hp_phrase_add(out, times < 9.95 ? "%.1f times" : "%.0f times", times);
}

static bool smooth(const hp_judgement *j)
{
    return j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
}

/* ---- the wheel that turns -------------------------------------------------------------------- */

static void add_starts(const seen *s, hp_phrase *out)
{
    if (s->own->starts == s->own->starts_tried)
        hp_phrase_add(out, " from every one of %d start positions", s->own->starts_tried);
    else
        hp_phrase_add(out, " from %d of %d start positions", s->own->starts, s->own->starts_tried);
}

static void add_against_speed(const seen *s, double speed, hp_phrase *out)
{
    double best = s->correct ? fabs(s->correct->mean.wheel_speed) : 0.0;
    if (best <= 0.0 || smooth(s->own))
        return;
    double times = speed / best;
    if (fabs(times - 1.0) < ALIKE)
        hp_phrase_add(out, ", as fast as in the correct wiring,");
    else
        hp_phrase_add(out, ", %.2f times the speed of the correct wiring,", times);
}

/* How hard the torque swings is felt by the hand on the stand, and heard. */
static void add_shake(const seen *s, hp_phrase *out)
{
    const hp_figures *mean = &s->own->mean;
    double best = s->correct ? s->correct->mean.torque_rms : 0.0;
    double times = best > 0.0 ? mean->torque_rms / best : 1.0;
    hp_phrase_add(out, "; its pull swings by %.2g N m to either side",
                  s->drive->stand.gear_ratio * mean->torque_rms);
    if (times >= FELT) {
        hp_phrase_add(out, ", ");
        add_times(out, times);
        hp_phrase_add(out,
                      " as hard as in the correct wiring: felt in the stand, heard as a growl");
    }
    hp_phrase_add(out, ".");
}

bool hp_explain_wheel_turns(const hp_drive *drive, const hp_judgement *judgement)
{
    return fabs(judgement->mean.wheel_speed) * drive->stand.gear_ratio >=
           LEFT_BEHIND * fabs(judgement->mean.speed);
}

static void add_turning(const seen *s, hp_phrase *out)
{
    const hp_judgement *own = s->own;
    bool named = own->verdict == HP_VERDICT_ROUGH && s->sum->pull == HP_PULL_FADING;
    double wheel = fabs(own->mean.wheel_speed), rotor = fabs(own->mean.speed);
    bool left = !hp_explain_wheel_turns(s->drive, own);
    hp_phrase_add(out, named ? " It runs rough: the " : " The ");
    if (own->direction == HP_DIRECTION_BOTH)
        hp_phrase_add(out, "%s turns one way or the other, by where it starts,",
                      left ? "rotor" : "wheel");
    else if (left)
        hp_phrase_add(out, "wheel stands, and in the hub the rotor turns %s at %.1f rev/min",
                      hp_direction_name(own->rotor_direction), rotor / HP_RPM);
    else
        hp_phrase_add(out, "wheel turns %s at %.1f rev/min", hp_direction_name(own->direction),
                      wheel / HP_RPM);
    if (own->direction != HP_DIRECTION_BOTH && !left)
        add_against_speed(s, wheel, out);
    add_starts(s, out);
    add_shake(s, out);
}

/* ---- the wheel that does not ----------------------------------------------------------------- */

/* Places in one turn of the wheel that hold the rotor. Behind a one-way clutch the wheel is not
 * held. */
static void add_held(const seen *s, hp_phrase *out)
{
    double places = s->drive->motor.pole_pairs * s->drive->stand.gear_ratio * s->sum->rests;
    if (!s->drive->stand.clutch && s->sum->pull == HP_PULL_CHANGING && s->sum->rests > 0)
        hp_phrase_add(out,
                      ", and turned on by hand it catches again: at %.0f places in one turn, "
                      "%.1f degrees of the wheel apart",
                      places, 360.0 / places);
}

static void add_standing(const seen *s, hp_phrase *out)
{
    double swing = s->own->mean.swing;
    bool there = s->sum->pull == HP_PULL_CHANGING && s->sum->rests > 0;
    hp_phrase_add(out, s->own->starts > 0 ? " From most start positions the " : " The ");
    hp_phrase_add(out, there ? "rotor stops or shivers there: " : "motor does not turn: ");
    if (swing < STILL)
        hp_phrase_add(out, "the wheel does not move");
    else if (s->drive->stand.clutch)
        hp_phrase_add(out, "the rotor moves to and fro through %.0f electrical degrees",
                      swing / HP_DEG);
    else
        hp_phrase_add(out, "the wheel moves to and fro through %.1f degrees",
                      swing / s->drive->motor.pole_pairs / s->drive->stand.gear_ratio / HP_DEG);
    add_held(s, out);
    if (s->own->starts > 0)
        hp_phrase_add(out, "; from %d of %d it turns", s->own->starts, s->own->starts_tried);
    hp_phrase_add(out, ".");
}

/* ---- the battery ----------------------------------------------------------------------------- */

static void add_heat(const seen *s, hp_phrase *out)
{
    const hp_figures *mean = &s->own->mean;
    double heat = mean->copper_power + mean->diode_power;
    if (mean->battery_power < 1.0 || heat <= 0.0)
        return;
    double share = round(100.0 * heat / mean->battery_power);
    if (share >= 100.0)
        hp_phrase_add(out, "; all of its %.0f W only heats winding and controller",
                      mean->battery_power);
    else
        hp_phrase_add(out, "; %.0f %% of its %.0f W only heats winding and controller", share,
                      mean->battery_power);
    if (mean->limited && mean->duty < (1.0 - HELD) * mean->duty_asked)
        hp_phrase_add(out, ", and a current limit already holds it to %.0f %% throttle",
                      100.0 * mean->duty);
}

static void add_battery(const seen *s, hp_phrase *out)
{
    double own = s->own->mean.battery_current;
    double best = s->correct && !smooth(s->own) ? s->correct->mean.battery_current : 0.0;
    hp_phrase_add(out, " At %.4g %% throttle, the wheel %s, it takes %.2f A from the battery",
                  100.0 * s->drive->controller.throttle,
                  s->drive->stand.load_nm != 0.0 ? "under its load" : "lifted", own + 0.0);
    if (best >= CURRENT_LEAST && own >= CURRENT_LEAST) {
        hp_phrase_add(out, ", ");
        add_times(out, own / best);
        hp_phrase_add(out, " the %.2f A of the correct wiring", best);
    }
    if (!smooth(s->own))
        add_heat(s, out);
    else if (isfinite(s->own->excess))
        hp_phrase_add(out, ", %.2f times the power that it needs to turn", s->own->excess);
    hp_phrase_add(out, ".");
}

void hp_explain_seen(const hp_report_case *subject, const hp_pull_sum *sum, const hp_survey *survey,
                     int number, hp_phrase *out)
{
    const hp_judgement *own = &survey->judgement[number - 1];
    int correct = hp_survey_first_correct(survey);
    seen s = {.drive = subject->drive, .sum = sum, .own = own};
    if (!own->measured || own->verdict == HP_VERDICT_UNDECIDED)
        return;
    if (correct && own->verdict != HP_VERDICT_CORRECT)
        s.correct = &survey->judgement[correct - 1];
    if (own->verdict == HP_VERDICT_STALLED)
        add_standing(&s, out);
    else
        add_turning(&s, out);
    add_battery(&s, out);
}
