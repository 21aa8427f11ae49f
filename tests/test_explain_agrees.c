/*
 * What `explain` says of a wiring agrees with what the simulation made of it: over every shipped
 * scenario, and over machines that do odd things: a fast hub of much inductance whose early field
 * passes and whose opposed wirings turn, and hubs whose wheel an opposed wiring pumps forward
 * through a one-way clutch (drawn over the wide ranges of verdict_spread).
 *
 * The words are looked at from outside: what a reader would take for a claim must not be another
 * claim than the verdict's, and every number in them is reckoned again here, from the single runs
 * of the survey and from an engine that holds the rotor fast at 72 angles.
 */
#include "scenario_text.h"
#include "verdict_spread_draw.h"

#include "hubphase/decide/survey.h"
#include "model/backemf.h"
#include "report/words/explain.h"

#include <dirent.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STARTS     HP_DRAWS(4, 1)
#define HELD_EVERY HP_DRAWS(1, 7) /* wirings: of all classes in turn */

/* How often each claim was held against a verdict: a test that saw none of a kind tests nothing. */
static int seen[HP_VERDICT_COUNT], told_kind, shuffling, some_start, against;

static bool says(const char *text, const char *words)
{
    return strstr(text, words) != NULL;
}

/* Claims, each in all its wordings. */
static bool says_smooth(const char *text)
{
    return says(text, "runs smoothly");
}
static bool says_rough(const char *text)
{
    return says(text, "runs rough") || says(text, "but rough") || says(text, "and rough") ||
           says(text, "pumps the wheel");
}
static bool says_stalled(const char *text)
{
    return says(text, "does not turn") || says(text, "stops or shivers") ||
           says(text, "gets no current");
}

static void check_claims(const char *machine, int number, const hp_judgement *j, const char *text)
{
    bool smooth = j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
    bool rough = j->verdict == HP_VERDICT_ROUGH, stalled = j->verdict == HP_VERDICT_STALLED;
    /* What pulls one way where it pulls at all: the text speaks of what cannot start, and leaves
     * the rest to the figures, where there are any. */
    bool open = says(text, "What remains pulls") && !j->measured;
    check_true(open || says_smooth(text) == smooth, "%s, wiring %d is %s: %s", machine, number,
               hp_verdict_name(j->verdict), text);
    check_true(open || says_rough(text) == rough, "%s, wiring %d is %s: %s", machine, number,
               hp_verdict_name(j->verdict), text);
    check_true(open || says_stalled(text) == stalled, "%s, wiring %d is %s: %s", machine, number,
               hp_verdict_name(j->verdict), text);
    if (smooth)
        check_true(!says(text, j->verdict == HP_VERDICT_CORRECT ? "smoothly backward"
                                                                : "smoothly forward"),
                   "%s, wiring %d: %s", machine, number, text);
    bool early = says(text, "too early"), late = says(text, "too late");
    check_true(!early || stalled || j->verdict == HP_VERDICT_UNDECIDED || j->kind == HP_KIND_EARLY,
               "%s, wiring %d is of kind \"%s\": %s", machine, number, hp_rough_kind_name(j->kind),
               text);
    check_true(!late || stalled || j->verdict == HP_VERDICT_UNDECIDED || j->kind == HP_KIND_LATE,
               "%s, wiring %d is of kind \"%s\": %s", machine, number, hp_rough_kind_name(j->kind),
               text);
    told_kind += rough && (early || late);
    check_true(!says(text, "lies elsewhere") || j->kind == HP_KIND_NONE, "%s, wiring %d: %s",
               machine, number, text);
    /* Which way it pulls and which way it turns. */
    bool only_back = j->rotor_direction == HP_DIRECTION_BACKWARD;
    bool only_on = j->rotor_direction == HP_DIRECTION_FORWARD;
    bool turns_over = (only_back && says(text, "pull is forward on the whole")) ||
                      (only_on && says(text, "pull is backward on the whole"));
    if (rough && turns_over) {
        against++;
        check_true(says(text, "the other way"), "%s, wiring %d: %s", machine, number, text);
    }
    if (rough && j->rotor_direction == HP_DIRECTION_NONE) {
        shuffling++;
        check_true(open || says(text, "pumps the wheel"), "%s, wiring %d: %s", machine, number,
                   text);
    }
    if (stalled && j->starts > 0) {
        some_start++;
        check_true(open || says(text, "most start positions"), "%s, wiring %d: %s", machine, number,
                   text);
    }
    seen[j->verdict]++;
}

/* ---- numbers --------------------------------------------------------------------------------- */

static int changing, gaps; /* pulls that change sides; turns with angles where nothing pulls */
static int numbers;        /* that were held against the simulation */

/* The number right behind `words`, or NAN where the text lacks them. */
static double behind(const char *text, const char *words)
{
    const char *at = strstr(text, words);
    return at ? strtod(at + strlen(words), NULL) : NAN;
}

/* The number right before `words`. */
static double before(const char *text, const char *words)
{
    const char *at = strstr(text, words);
    if (!at)
        return NAN;
    while (at > text && strchr("0123456789.+-", at[-1]))
        at--;
    return strtod(at, NULL);
}

/* `told` was rounded to `digit`. */
static void check_told(const char *machine, int number, const char *text, double told, double true_,
                       double digit)
{
    check_true(fabs(told - true_) <= 0.5001 * digit + 1e-9 * fabs(true_),
               "%s, wiring %d: told %g, is %.6g: %s", machine, number, told, true_, text);
    numbers++;
}

/* What the runs of a wiring come to: of those that turned, of a stalled one of the others. */
typedef struct run_sum {
    int turned, tried, counted;
    double current, power, heat, wheel, rotor, swing, torque_sd, duty;
} run_sum;

static run_sum add_runs(const hp_survey *survey, int number, bool turned)
{
    run_sum sum = {.tried = survey->starts};
    hp_thresholds thresholds = hp_thresholds_default();
    for (int k = 0; k < survey->starts; k++) {
        const hp_figures *f = &survey->run[(number - 1) * survey->starts + k];
        bool turns = hp_verdict_turned(f, &thresholds);
        sum.turned += turns;
        if (turns != turned)
            continue;
        sum.counted++;
        sum.current += f->battery_current;
        sum.power += f->battery_power;
        sum.heat += f->copper_power + f->diode_power;
        sum.wheel += f->wheel_speed;
        sum.rotor += f->speed;
        sum.swing += f->swing;
        sum.torque_sd += f->torque_rms;
        sum.duty += f->duty;
    }
    double n = sum.counted;
    sum.current /= n, sum.power /= n, sum.heat /= n, sum.wheel /= n, sum.swing /= n;
    sum.torque_sd /= n, sum.duty /= n, sum.rotor /= n;
    return sum;
}

/* "21 times" or "1.4 times" may be a digit off where the rounded amperes are. */
static double times_digit(double times)
{
    return times < 9.95 ? 0.1 : 1.0;
}

static void check_battery(const char *machine, int number, const hp_drive *drive,
                          const run_sum *own, const run_sum *best, bool compared, const char *text)
{
    check_told(machine, number, text, before(text, " A from the battery"), own->current, 0.01);
    check_told(machine, number, text, before(text, " % throttle"),
               100.0 * drive->controller.throttle, 0.01);
    double times = behind(text, "A from the battery, ");
    check_true(!compared || says(text, "A of the correct wiring"), "%s, wiring %d: %s", machine,
               number, text);
    if (strstr(text, "A of the correct wiring")) {
        check_told(machine, number, text, times, own->current / best->current,
                   times_digit(own->current / best->current));
        check_told(machine, number, text, before(text, " A of the correct wiring"), best->current,
                   0.01);
    }
    double heat = 100.0 * own->heat / own->power;
    if (strstr(text, "; all of its ")) {
        check_told(machine, number, text, behind(text, "; all of its "), own->power, 1.0);
        check_true(heat >= 99.5, "%s, wiring %d, %g %%: %s", machine, number, heat, text);
    } else if (strstr(text, " only heats")) {
        check_told(machine, number, text, before(text, " W only heats"), own->power, 1.0);
        check_told(machine, number, text, before(text, " % of its "), heat, 1.0);
    }
    if (strstr(text, "limit already holds it to "))
        check_told(machine, number, text, behind(text, "limit already holds it to "),
                   100.0 * own->duty, 1.0);
}

static void check_wheel(const char *machine, int number, const hp_drive *drive,
                        const hp_judgement *j, const run_sum *own, const run_sum *best,
                        const char *text)
{
    char starts[40];
    bool one_way = j->direction == HP_DIRECTION_FORWARD || j->direction == HP_DIRECTION_BACKWARD;
    bool left = says(text, "wheel stands");
    double speed = left ? own->rotor : own->wheel;
    const char *way = speed > 0.0 ? " turns forward at " : " turns backward at ";
    check_true(!one_way ||
                   left == (fabs(own->wheel) * drive->stand.gear_ratio < 0.01 * fabs(own->rotor)),
               "%s, wiring %d: %s", machine, number, text);
    if (one_way)
        check_told(machine, number, text, behind(text, way), fabs(speed) / HP_RPM, 0.1);
    if (one_way && best && !left && j->verdict == HP_VERDICT_ROUGH) {
        double times = fabs(own->wheel / best->wheel);
        if (strstr(text, "as fast as in the correct"))
            check_true(fabs(times - 1.0) < 0.05, "%s, wiring %d: %s", machine, number, text);
        else
            check_told(machine, number, text, before(text, " times the speed of"), times, 0.01);
    }
    snprintf(starts, sizeof starts, " of %d start positions", own->tried);
    if (own->turned == own->tried)
        check_true(says(text, "from every one of"), "%s, wiring %d: %s", machine, number, text);
    else
        check_told(machine, number, text, before(text, starts), own->turned, 1.0);
    check_told(machine, number, text, before(text, " start positions"), own->tried, 1.0);
    double swings = behind(text, "pull swings by "), is = drive->stand.gear_ratio * own->torque_sd;
    check_true(fabs(swings - is) <= 0.051 * is, "%s, wiring %d: %g, is %g: %s", machine, number,
               swings, is, text);
    bool felt = strstr(text, "as hard as in the correct") != NULL;
    check_true(felt == (best && own->torque_sd >= 2.0 * best->torque_sd), "%s, wiring %d: %s",
               machine, number, text);
    if (felt)
        check_told(machine, number, text, before(text, " times as hard"),
                   own->torque_sd / best->torque_sd, times_digit(own->torque_sd / best->torque_sd));
}

static void check_standing(const char *machine, int number, const hp_drive *drive,
                           const run_sum *own, const char *text)
{
    double mechanical = own->swing / HP_DEG / drive->motor.pole_pairs / drive->stand.gear_ratio;
    check_true((own->swing < 5.0 * HP_DEG) == says(text, "the wheel does not move"),
               "%s, wiring %d swings by %g: %s", machine, number, own->swing / HP_DEG, text);
    if (strstr(text, "wheel moves to and fro"))
        check_told(machine, number, text, behind(text, "to and fro through "), mechanical, 0.1);
    if (strstr(text, "rotor moves to and fro"))
        check_told(machine, number, text, behind(text, "to and fro through "), own->swing / HP_DEG,
                   1.0);
    if (own->turned > 0) {
        check_told(machine, number, text, behind(text, "; from "), own->turned, 1.0);
        check_told(machine, number, text, before(text, " it turns"), own->tried, 1.0);
    }
}

/* ---- the rotor held fast --------------------------------------------------------------------- */

#define HELD_ANGLES 72 /* in the middle of 5 degrees each: none falls on an edge */

/* What the engine drives and what torque an ampere then gives, the rotor held at each angle. */
typedef struct held {
    double torque[HELD_ANGLES]; /* [N m / A] of the ampere in the lead that is driven high */
    double ahead;               /* [rad] of the field over the rotor: the mean direction */
    double mean, least, most;
    int rests;
    double off; /* [rad] of the angles without current */
} held;

static held hold(hp_engine *engine, const hp_drive *given, int number)
{
    held h = {.least = INFINITY, .most = -INFINITY};
    hp_drive drive = *given;
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_run_options options = hp_run_options_default();
    double x = 0.0, y = 0.0;
    drive.stand.rotor.breakaway_nm = 1000.0; /* holds it */
    drive.stand.wheel.breakaway_nm = 1000.0;
    drive.controller.pwm = HP_PWM_AVERAGED;
    options.seconds = 0.002;
    options.settle_s = 0.001;
    options.start_duty = hp_drive_duty(&drive);
    for (int k = 0; k < HELD_ANGLES; k++) {
        hp_error err = hp_error_none();
        hp_figures figures;
        hp_trace trace = hp_trace_init(0.0019, 0.002, 0.0001);
        options.start_angle = (k + 0.5) * HP_TWO_PI / HELD_ANGLES;
        check_true(hp_engine_run(engine, &drive, &wiring, &options, &trace, &figures, &err) ==
                       HP_OK,
                   "%s", err.text);
        const hp_sample *s = &trace.sample[trace.count - 1];
        double driven = 0.0, fx = 0.0, fy = 0.0;
        for (int lead = 0; lead < HP_PHASE_COUNT; lead++) {
            driven = s->drive[lead] > 0 ? s->current[lead] : driven;
            fx += s->drive[lead] * cos(hp_phase_axis(lead));
            fy += s->drive[lead] * sin(hp_phase_axis(lead));
        }
        check_true(fabs(s->theta - options.start_angle) < 1e-6, "the rotor moved");
        h.torque[k] = driven > 1e-3 ? s->torque / driven : 0.0;
        h.off += driven > 1e-3 ? 0.0 : HP_TWO_PI / HELD_ANGLES;
        double ahead = atan2(fy, fx) - s->theta;
        x += driven > 1e-3 ? cos(ahead) : 0.0;
        y += driven > 1e-3 ? sin(ahead) : 0.0;
        h.mean += h.torque[k] / HELD_ANGLES;
        h.least = fmin(h.least, h.torque[k]);
        h.most = fmax(h.most, h.torque[k]);
        hp_trace_free(&trace);
    }
    for (int k = 0; k < HELD_ANGLES; k++)
        h.rests += h.torque[k] > 0.0 && h.torque[(k + 1) % HELD_ANGLES] < 0.0;
    h.ahead = atan2(y, x);
    return h;
}

/* The texts speak of torque against the peak of a pair of leads. */
static double peak_of(const hp_drive *drive)
{
    double peak = 0.0;
    for (int k = 0; k < 3600; k++) {
        double at = k * HP_TWO_PI / 3600.0;
        peak = fmax(peak, hp_backemf_value(&drive->motor.backemf, at) -
                              hp_backemf_value(&drive->motor.backemf, at - HP_PHASE_STEP));
    }
    return peak * drive->motor.ke;
}

/* Between two of the 72 angles a pull that rises or falls as a sine moves by 5 degrees' worth. */
#define HELD_STEP (5.0 * HP_DEG)
/* Least and most may stand at an edge, which hysteresis moves as far again. */
#define HELD_EDGE (2.0 * HELD_STEP)
/* An edge may lie 2.5 degrees beside the end of an angle's stretch, and the pull jumps by at most
 * 1 there: of six edges 15 of 360 degrees, 4 in 100 of the mean. */
#define HELD_MEAN 0.04

static void check_field(const char *machine, int number, const hp_drive *drive, const held *own,
                        const held *best, const char *text)
{
    double peak = peak_of(drive), sense = own->mean >= 0.0 ? 1.0 : -1.0;
    double ahead = hp_angle_wrap(sense * own->ahead) / HP_DEG;
    if (strstr(text, "The field keeps about "))
        check_told(machine, number, text, behind(text, "keeps about "), fabs(own->ahead) / HP_DEG,
                   3.0);
    if (strstr(text, "field stands about "))
        check_told(machine, number, text, behind(text, "field stands about "), ahead, 3.0);
    if (strstr(text, "ampere gives ")) {
        double whole = best ? fabs(best->mean) : peak;
        double weakest = (own->mean >= 0.0 ? own->least : -own->most) / whole;
        check_told(machine, number, text, behind(text, "ampere gives "),
                   100.0 * fabs(own->mean) / whole, 2.0 * 100.0 * HELD_MEAN + 1.0);
        check_true(best ? says(text, "it gives in the correct wiring")
                        : says(text, "it could give"),
                   "%s, wiring %d: %s", machine, number, text);
        if (strstr(text, "weakest angle none"))
            check_true(fabs(weakest) < 0.05 + HELD_EDGE, "%s, wiring %d: %s", machine, number,
                       text);
        else if (strstr(text, "pulls the other way."))
            check_true(weakest < -0.05 + HELD_EDGE, "%s, wiring %d, %g: %s", machine, number,
                       weakest, text);
        else
            check_true(fabs(behind(text, "weakest angle ") / 100.0 - weakest) < HELD_EDGE,
                       "%s, wiring %d, %g: %s", machine, number, weakest, text);
    }
    if (strstr(text, "The pull changes sides")) {
        double most = behind(text, "forward with up to ") / 100.0;
        double least = -behind(text, "backward with up to ") / 100.0;
        double left = behind(text, "over a whole turn ") / 100.0;
        check_true(fabs(least - own->least / peak) < HELD_EDGE &&
                       fabs(most - own->most / peak) < HELD_EDGE,
                   "%s, wiring %d: %g to %g: %s", machine, number, own->least / peak,
                   own->most / peak, text);
        check_told(machine, number, text, says(text, "% backward is left") ? -left : left,
                   own->mean / peak, 2.0 * HELD_MEAN + 0.01);
        changing++;
    }
    /* What of a turn carries no current: held at angles 5 degrees apart, of up to four edges each
     * half of that beside. */
    double lacking = behind(text, "Over "), open = behind(text, "open: over ");
    double told = (isnan(lacking) ? 0.0 : lacking) + (isnan(open) ? 0.0 : open);
    check_true(fabs(told - own->off / HP_DEG) <= 4.0 * 2.5 + 1e-6, "%s, wiring %d: %g: %s", machine,
               number, own->off / HP_DEG, text);
    check_true((told > 0.0) == (own->off > 0.0), "%s, wiring %d: %g: %s", machine, number,
               own->off / HP_DEG, text);
    gaps += told > 0.0;
    double places = own->rests * drive->motor.pole_pairs * drive->stand.gear_ratio;
    if (strstr(text, "places in one turn")) {
        check_told(machine, number, text, before(text, " places in one turn"), places, 1.0);
        check_told(machine, number, text, before(text, " degrees of the wheel apart"),
                   360.0 / places, 0.1);
    }
}

static void check_numbers(const char *machine, int number, const hp_drive *drive,
                          const hp_survey *survey, const char *text)
{
    const hp_judgement *j = &survey->judgement[number - 1];
    int correct = 0;
    for (int n = HP_WIRING_COUNT; n >= 1; n--)
        correct = survey->judgement[n - 1].verdict == HP_VERDICT_CORRECT ? n : correct;
    run_sum own = add_runs(survey, number, j->verdict != HP_VERDICT_STALLED);
    run_sum best = correct ? add_runs(survey, correct, true) : own;
    bool told = strstr(text, "from the battery") != NULL;
    check_true(told == (j->measured && j->verdict != HP_VERDICT_UNDECIDED), "%s, wiring %d: %s",
               machine, number, text);
    if (!told)
        return;
    bool smooth = j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
    bool compared = correct && !smooth && own.current >= 0.005 && best.current >= 0.005;
    check_battery(machine, number, drive, &own, &best, compared, text);
    if (j->verdict == HP_VERDICT_STALLED)
        check_standing(machine, number, drive, &own, text);
    else
        check_wheel(machine, number, drive, j, &own,
                    correct && j->verdict != HP_VERDICT_CORRECT ? &best : NULL, text);
}

static void check_machine(const char *machine, const hp_drive *drive, const hp_labels *labels,
                          const hp_survey *survey)
{
    hp_report_case subject = {.drive = drive, .labels = labels};
    hp_error err = hp_error_none();
    hp_engine *engine = hp_engine_create(&err);
    int correct = hp_survey_first_correct(survey);
    held best = {.mean = 0.0};
    check_true(engine != NULL, "%s", err.text);
    if (correct)
        best = hold(engine, drive, correct);
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        char text[HP_EXPLAIN_WORDS];
        hp_wiring wiring = hp_wiring_from_number(number);
        hp_explain_sentences(&subject, &wiring, survey, text, sizeof text);
        check_true(strlen(text) < sizeof text - 100, "%s, wiring %d: %s", machine, number, text);
        check_claims(machine, number, &survey->judgement[number - 1], text);
        check_numbers(machine, number, drive, survey, text);
        if (number % HELD_EVERY == 0) {
            held own = hold(engine, drive, number);
            check_field(machine, number, drive, &own, correct ? &best : NULL, text);
        }
    }
    hp_engine_free(engine);
}

static void survey_machine(const char *machine, const hp_drive *drive, const hp_labels *labels,
                           const hp_run_options *run)
{
    hp_survey_options options = hp_survey_options_default();
    hp_survey survey;
    hp_error err = hp_error_none();
    options.run.seconds = run->seconds;
    options.run.settle_s = run->settle_s;
    options.starts = STARTS;
    check_true(hp_survey_run(drive, &options, &survey, &err) == HP_OK, "%s: %s", machine, err.text);
    check_machine(machine, drive, labels, &survey);
    hp_survey_free(&survey);
}

static void every_shipped_scenario(void **state)
{
    (void)state;
    DIR *folder = opendir(HP_SCENARIO_DIR);
    check_true(folder != NULL, "%s", HP_SCENARIO_DIR);
    int scenarios = 0;
    for (const struct dirent *entry; (entry = readdir(folder));) {
        size_t length = strlen(entry->d_name);
        if (length < 6 || strcmp(&entry->d_name[length - 5], ".yaml") != 0 ||
            strstr(entry->d_name, ".bench.yaml"))
            continue;
        char path[1024];
        snprintf(path, sizeof path, "%s/%s", HP_SCENARIO_DIR, entry->d_name);
        loaded l = scenario_load_path(path);
        check_true(l.result == HP_OK, "%s: %s", path, l.printed);
        survey_machine(entry->d_name, &l.scenario.drive, &l.scenario.labels, &l.scenario.run);
        hp_scenario_free(&l.scenario);
        free(l.printed);
        scenarios++;
    }
    closedir(folder);
    check_true(scenarios >= 9, "only %d scenarios", scenarios);
}

/* The fast hub: 72 V, 28 pole pairs, 0.25 ohm and 1.2 mH between leads, full throttle. */
static void a_fast_hub(void **state)
{
    (void)state;
    static const char text[] =
        "hubphase: 1\n"
        "motor: {pole_pairs: 28, resistance_between_leads_ohm: 0.25,\n"
        "  inductance_between_leads_mh: 1.2, backemf_peak_v_per_krpm: 128.6}\n"
        "controller: {throttle_percent: 100, battery_current_limit_a: 30,\n"
        "  phase_current_limit_a: 80}\n"
        "supply: {battery_v: 72}\n"
        "stand: {rotor: {friction_nm: 0.6, viscous_nm_s_per_rad: 0.02}}\n";
    hp_scenario s;
    hp_error err = hp_error_none();
    check_true(hp_scenario_read(text, sizeof text - 1, "hub.yaml", &s, stderr, &err) == HP_OK, "%s",
               err.text);
    survey_machine("hub of 72 V", &s.drive, &s.labels, &s.run);
    hp_scenario_free(&s);
}

/* Sensors all a whole 30 degrees off: the pull never fades, and the field is late or early still.
 */
static void displaced_sensors(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_labels labels = hp_labels_default();
    hp_run_options run = hp_run_options_default();
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        drive.sensors.placement_rad[j] = 30.0 * HP_DEG;
    int told = told_kind;
    survey_machine("displaced sensors", &drive, &labels, &run);
    check_true(told_kind - told >= 6, "a kind only %d times", told_kind - told);
}

static void hubs_behind_a_clutch(void **state)
{
    (void)state;
    static const int index[] = {2, 3, 5, 6, 7};
    hp_labels labels = hp_labels_default();
    hp_run_options run = hp_run_options_default();
    for (size_t k = 0; k < sizeof index / sizeof index[0]; k++) {
        char machine[40];
        double share;
        hp_drive drive = draw_wide(90211, index[k], &share);
        snprintf(machine, sizeof machine, "drawn motor %d", index[k]);
        survey_machine(machine, &drive, &labels, &run);
    }
}

static void enough_was_seen(void **state)
{
    (void)state;
    print_message(
        "correct %d, reverse %d, rough %d, stalled %d, undecided %d; kind told %d, shuffling "
        "%d, stalled with some starts %d, against its pull %d\n",
        seen[HP_VERDICT_CORRECT], seen[HP_VERDICT_REVERSE], seen[HP_VERDICT_ROUGH],
        seen[HP_VERDICT_STALLED], seen[HP_VERDICT_UNDECIDED], told_kind, shuffling, some_start,
        against);
    for (int v = 0; v < HP_VERDICT_UNDECIDED; v++)
        check_true(seen[v] >= 20, "%s only %d times", hp_verdict_name((hp_verdict)v), seen[v]);
    check_true(changing >= 20 && gaps >= 10, "changing %d times, gaps %d times", changing, gaps);
    check_true(told_kind >= 20, "a kind only %d times", told_kind);
    check_true(STARTS == 1 || shuffling >= 3, "a shuffling rotor only %d times", shuffling);
    print_message("%d numbers\n", numbers);
    check_true(numbers >= 3000 / HELD_EVERY, "only %d numbers", numbers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_scenario), cmocka_unit_test(a_fast_hub),
        cmocka_unit_test(displaced_sensors),      cmocka_unit_test(hubs_behind_a_clutch),
        cmocka_unit_test(enough_was_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
