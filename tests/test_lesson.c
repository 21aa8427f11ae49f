/*
 * What the evening shows of one machine, held against things that do not share its code: groups
 * against the permutations themselves, geometry against closed forms and against samples of runs,
 * picks against runs from start positions of our own, tries against counts by hand.
 */
#include "runs.h"

#include "hubphase/decide/advice.h"
#include "hubphase/decide/lesson.h"
#include "hubphase/record/scenario.h"

#include <dirent.h>

#define STARTS       HP_DRAWS(7, 2)
#define SHIPPED_MOST HP_DRAWS(100, 2)

static hp_survey_options options_with(int starts)
{
    hp_survey_options o = hp_survey_options_default();
    o.starts = starts;
    o.jobs = 2;
    return o;
}

static void make_lesson(const hp_drive *drive, int starts, hp_lesson *lesson)
{
    hp_error err = hp_error_none();
    hp_survey_options o = options_with(starts);
    hp_result result = hp_lesson_make(drive, &o, lesson, &err);
    check_true(result == HP_OK, "no lesson: %s", err.text);
}

static hp_drive shipped(const char *name)
{
    char path[300];
    hp_scenario scenario;
    hp_error err = hp_error_none();
    snprintf(path, sizeof path, HP_SCENARIO_DIR "/%s.yaml", name);
    hp_result result = hp_scenario_load(path, &scenario, NULL, &err);
    check_true(result == HP_OK, "%s: %s", path, err.text);
    hp_drive drive = scenario.drive;
    hp_scenario_free(&scenario);
    return drive;
}

/* ---- groups: permutations alone -------------------------------------------------------------- */

/* Whether a common turn of all the motor's axes makes the one of the other. */
static bool is_turned(int one, int other)
{
    hp_wiring a = hp_wiring_from_number(one), b = hp_wiring_from_number(other);
    for (int turn = 0; turn < 3; turn++) {
        bool same = true;
        for (int j = 0; j < 3; j++)
            same = same && (a.sensor[j] + turn) % 3 == b.sensor[j] &&
                   (a.phase[j] + turn) % 3 == b.phase[j];
        if (same)
            return true;
    }
    return false;
}

/* Exchanges that it takes to put an order back: a bubble sort counts them. */
static int exchanges(const int order[3])
{
    int list[3] = {order[0], order[1], order[2]}, count = 0;
    for (int pass = 0; pass < 3; pass++)
        for (int k = 0; k < 2; k++)
            if (list[k] > list[k + 1]) {
                int kept = list[k];
                list[k] = list[k + 1];
                list[k + 1] = kept;
                count++;
            }
    return count;
}

static void groups_are_what_a_common_turn_leaves(void **state)
{
    (void)state;
    for (int reference = 1; reference <= HP_WIRING_COUNT; reference++)
        for (int a = 1; a <= HP_WIRING_COUNT; a++)
            for (int b = 1; b <= HP_WIRING_COUNT; b++) {
                hp_lesson_place p = hp_lesson_place_of(a, reference);
                hp_lesson_place q = hp_lesson_place_of(b, reference);
                bool same =
                    p.kind == q.kind && p.shift == q.shift && p.sensors_turned == q.sensors_turned;
                check_true(same == is_turned(a, b), "%d and %d, against %d", a, b, reference);
            }
}

static void orders_are_turned_by_an_odd_number_of_exchanges(void **state)
{
    (void)state;
    for (int reference = 1; reference <= HP_WIRING_COUNT; reference++) {
        hp_wiring right = hp_wiring_from_number(reference);
        int count[HP_LESSON_KIND_COUNT] = {0};
        for (int n = 1; n <= HP_WIRING_COUNT; n++) {
            hp_wiring w = hp_wiring_from_number(n);
            hp_lesson_place p = hp_lesson_place_of(n, reference);
            bool sensors = (exchanges(w.sensor) + exchanges(right.sensor)) % 2;
            bool phases = (exchanges(w.phase) + exchanges(right.phase)) % 2;
            check_int(p.sensors_turned, sensors);
            check_int(p.phases_turned, phases);
            check_int(p.kind == HP_LESSON_CROSSED, sensors != phases);
            count[p.kind]++;
        }
        check_int(count[HP_LESSON_MATCHED], 6);
        check_int(count[HP_LESSON_SHIFTED], 12);
        check_int(count[HP_LESSON_CROSSED], 18);
        check_int(hp_lesson_place_of(reference, reference).kind, HP_LESSON_MATCHED);
    }
}

/* ---- groups against verdicts, on every shipped machine --------------------------------------- */

static int judged[HP_LESSON_KIND_COUNT][HP_VERDICT_COUNT];
static int traps;

static void check_verdict(const char *name, const hp_lesson *lesson, int number)
{
    const hp_judgement *j = &lesson->survey.judgement[number - 1];
    const hp_lesson_place *p = &lesson->place[number - 1];
    bool smooth = j->verdict == HP_VERDICT_CORRECT || j->verdict == HP_VERDICT_REVERSE;
    judged[p->kind][j->verdict]++;
    check_true(smooth == (p->kind == HP_LESSON_MATCHED), "%s, wiring %d is %s and %s", name, number,
               hp_lesson_kind_name(p->kind), hp_verdict_name(j->verdict));
    if (p->kind == HP_LESSON_MATCHED)
        check_int(j->verdict, p->phases_turned ? HP_VERDICT_REVERSE : HP_VERDICT_CORRECT);
    /* A place off pulls the other way than the smooth ones of the same order. */
    if (p->kind == HP_LESSON_SHIFTED && j->rotor_direction != HP_DIRECTION_NONE)
        check_int(j->rotor_direction,
                  p->phases_turned ? HP_DIRECTION_FORWARD : HP_DIRECTION_BACKWARD);
    if (p->kind == HP_LESSON_SHIFTED && j->verdict == HP_VERDICT_ROUGH)
        check_true(j->kind != HP_KIND_NONE, "%s, wiring %d is neither early nor late", name,
                   number);
    check_int(lesson->place[lesson->group[p->group] - 1].group, p->group);
}

static void check_picks(const char *name, const hp_lesson *lesson)
{
    const hp_judgement *judgement = lesson->survey.judgement;
    check_int(judgement[lesson->correct - 1].verdict, HP_VERDICT_CORRECT);
    check_int(judgement[lesson->reverse - 1].verdict, HP_VERDICT_REVERSE);
    hp_wiring right = hp_wiring_from_number(lesson->correct);
    hp_wiring crossed = hp_wiring_from_number(lesson->crossed);
    hp_wiring shifted = hp_wiring_from_number(lesson->shifted);
    int moved[2] = {0, 0};
    for (int k = 0; k < 3; k++) {
        check_int(crossed.sensor[k], right.sensor[k]);
        check_int(shifted.sensor[k], right.sensor[k]);
        moved[0] += crossed.phase[k] != right.phase[k];
        moved[1] += shifted.phase[k] != right.phase[k];
    }
    check_true(moved[0] == 2 && moved[1] == 3, "%s: %d and %d leads moved", name, moved[0],
               moved[1]);
    if (!lesson->trap)
        return;
    const hp_judgement *trap = &judgement[lesson->trap - 1];
    traps++;
    check_int(trap->verdict, HP_VERDICT_ROUGH);
    check_int(trap->starts, trap->starts_tried);
    check_true(trap->mean.battery_current >
                   HP_CURRENT_SMALL * judgement[lesson->correct - 1].mean.battery_current,
               "%s: the trap draws %g A", name, trap->mean.battery_current);
}

static void check_counts(const char *name, const hp_lesson *lesson)
{
    int wrong = 0, hungry = 0, stuck = 0, seen = 0;
    double small = 3.0 * lesson->survey.judgement[lesson->correct - 1].mean.battery_current;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        const hp_judgement *j = &lesson->survey.judgement[n - 1];
        if (lesson->place[n - 1].kind == HP_LESSON_MATCHED || j->verdict == HP_VERDICT_UNDECIDED)
            continue;
        wrong++;
        hungry += j->mean.battery_current > small;
        stuck += j->starts != j->starts_tried;
        seen += j->direction != HP_DIRECTION_FORWARD;
    }
    check_true(wrong == lesson->wrong && hungry == lesson->found_by_current &&
                   stuck == lesson->found_by_starts && seen == lesson->found_by_eye,
               "%s: %d %d %d %d", name, wrong, hungry, stuck, seen);
}

static void check_limit(const char *name, const hp_lesson *lesson)
{
    const hp_judgement *right = &lesson->survey.judgement[lesson->correct - 1];
    check_relative(lesson->limit_a, 3.0 * right->mean.battery_current, 1e-12, "rounding");
    check_true(!lesson->limited_correct.reached, "%s: the correct one stands at the limit", name);
    check_relative(lesson->limited_correct.wheel_rad_s, right->mean.wheel_speed, 0.02,
                   "a correct one does not feel the limit");
    if (!lesson->trap)
        return;
    check_true(lesson->limited_trap.reached, "%s: the trap does not stand at the limit", name);
    check_true(lesson->limited_trap.wheel_rad_s <
                   0.7 * lesson->survey.judgement[lesson->trap - 1].mean.wheel_speed,
               "%s: the limit does not slow the trap", name);
}

static void every_shipped_machine_makes_its_lesson(void **state)
{
    (void)state;
    DIR *folder = opendir(HP_SCENARIO_DIR);
    int machines = 0;
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder)) && machines < SHIPPED_MOST;) {
        char name[300];
        const char *end = strstr(entry->d_name, ".yaml");
        hp_lesson lesson;
        if (!end || strstr(entry->d_name, ".bench"))
            continue;
        snprintf(name, sizeof name, "%.*s", (int)(end - entry->d_name), entry->d_name);
        hp_drive drive = shipped(name);
        make_lesson(&drive, STARTS, &lesson);
        for (int n = 1; n <= HP_WIRING_COUNT; n++)
            check_verdict(name, &lesson, n);
        check_picks(name, &lesson);
        check_counts(name, &lesson);
        check_limit(name, &lesson);
        hp_lesson_free(&lesson);
        machines++;
    }
    closedir(folder);
    check_true(machines >= 2, "%d machines", machines);
    check_true(traps > 0 && judged[HP_LESSON_CROSSED][HP_VERDICT_STALLED] > 0 &&
                   judged[HP_LESSON_SHIFTED][HP_VERDICT_ROUGH] > 0,
               "nothing was seen of a kind");
}

/* ---- geometry -------------------------------------------------------------------------------- */

/* Ideal six-step current (derived; exact): a sinusoidal motor gives 3/pi of its peak on average,
 * half of that a place off, nothing crossed; a trapezoid with a flat of 120 degrees 1, 1/2, 0. */
static void torque_of_each_kind_is_the_closed_form(void **state)
{
    (void)state;
    static const double mean[2][3] = {{3.0 / HP_PI, 1.5 / HP_PI, 0.0}, {1.0, 0.5, 0.0}};
    static const double least[2][3] = {{0.86602540378443865, 0.0, -1.0}, {1.0, 0.0, -1.0}};
    for (int shape = 0; shape < 2; shape++)
        for (int n = 1; n <= HP_WIRING_COUNT; n++) {
            hp_drive drive = hp_drive_default();
            drive.motor.backemf =
                shape == 0 ? hp_backemf_sinusoidal() : hp_backemf_trapezoidal(120.0 * HP_DEG);
            hp_lesson_pull pull = hp_lesson_pull_of(&drive, n);
            int class = (int)class_of(n);
            double way = class == CLASS_OPPOSED ? 1.0 : direction_of_class(n);
            check_close(way * pull.torque_mean, mean[shape][class], 2e-6, "a peak in small steps");
            if (way > 0.0 && class != CLASS_OPPOSED)
                check_close(pull.torque_least, least[shape][class], 2e-6, "the same");
            check_close(pull.off, 0.0, 1e-12, "nothing is off");
        }
}

/* The field of the driven pair, seen in samples of a run, stands where geometry says. */
static void the_lead_of_a_run_is_that_of_geometry(void **state)
{
    (void)state;
    hp_drive drive = shipped("trainer"); /* its sensors sit askew */
    hp_engine *engine = make_engine();
    hp_run_options o = run_for(1.0, 0.3);
    hp_trace trace = hp_trace_init(0.6, 1.0, 1e-5);
    hp_lesson_pull pull = hp_lesson_pull_of(&drive, 1);
    double least = INFINITY, most = -INFINITY;
    run_wiring(engine, &drive, 1, &o, &trace);
    for (size_t k = 0; k < trace.count; k++) {
        const hp_sample *s = &trace.sample[k];
        double x = 0.0, y = 0.0;
        for (int lead = 0; lead < 3; lead++) {
            x += s->drive[lead] * cos(lead * HP_PHASE_STEP);
            y += s->drive[lead] * sin(lead * HP_PHASE_STEP);
        }
        if (x * x + y * y < 0.25)
            continue;
        double lead = hp_angle_wrap_signed(atan2(y, x) - s->theta);
        least = fmin(least, lead);
        most = fmax(most, lead);
    }
    /* Each edge comes late by the hysteresis. */
    double late = drive.sensors.hysteresis_rad;
    check_close(least, pull.lead_least - late, 0.5 * HP_DEG, "one sample's turn");
    check_close(most, pull.lead_most - late, 0.5 * HP_DEG, "one sample's turn");
    hp_trace_free(&trace);
    hp_engine_free(engine);
}

/* ---- what scenes tell of single wirings, from start positions of our own --------------------- */

static void the_trap_runs_free_and_fast_and_hungry_from_anywhere(void **state)
{
    (void)state;
    hp_drive drive = shipped("barrow");
    hp_engine *engine = make_engine();
    hp_lesson lesson;
    make_lesson(&drive, STARTS, &lesson);
    check_int(lesson.trap, 12); /* colour to colour: the scenario's own word for it */
    for (int k = 0; k < 5; k++) {
        hp_run_options o = run_for(3.0, 0.11 + k * 1.13);
        hp_figures right = run_wiring(engine, &drive, lesson.correct, &o, NULL);
        hp_figures trap = run_wiring(engine, &drive, lesson.trap, &o, NULL);
        check_true(trap.wheel_speed > HP_LESSON_FAST_SHARE * right.wheel_speed,
                   "from %g rad: %g rad/s", o.start_angle, trap.wheel_speed);
        check_true(trap.battery_current > 10.0 * right.battery_current, "from %g rad: %g A",
                   o.start_angle, trap.battery_current);
        o.start_angle += 0.4;
        hp_figures crossed = run_wiring(engine, &drive, lesson.crossed, &o, NULL);
        check_true(fabs(crossed.net_turn) < HP_TWO_PI, "crossed turned %g", crossed.net_turn);
    }
    hp_lesson_free(&lesson);
    hp_engine_free(engine);
}

/* ---- faults ---------------------------------------------------------------------------------- */

/* Codes of a forward turn, looked up degree by degree from what a sensor is said to do. */
static int codes_of(const hp_drive *drive, int number, int code[HP_CODE_COUNT])
{
    hp_wiring w = hp_wiring_from_number(number);
    int count = 0, last = -1, first = -1;
    for (int degree = 0; degree < 360; degree++) {
        int bit[3];
        for (int k = 0; k < 3; k++) {
            double away = fmod(degree + 0.5 - 120.0 * k + 540.0, 360.0) - 180.0;
            bit[k] = fabs(away) < 90.0;
            if (drive->sensors.spacing_60 && k == 1)
                bit[k] = !bit[k];
            if (drive->sensors.fault[k] == HP_SENSOR_STUCK_HIGH)
                bit[k] = 1;
            if (drive->sensors.fault[k] == HP_SENSOR_STUCK_LOW)
                bit[k] = 0;
        }
        int now = 4 * bit[w.sensor[0]] + 2 * bit[w.sensor[1]] + bit[w.sensor[2]];
        if (now != last && count < HP_CODE_COUNT)
            code[count++] = now;
        last = now;
        first = first < 0 ? now : first;
    }
    return last == first && count > 1 ? count - 1 : count;
}

static void faults_are_what_their_names_say(void **state)
{
    (void)state;
    hp_drive drive = shipped("minimal");
    hp_lesson lesson;
    make_lesson(&drive, STARTS, &lesson);
    for (int k = 0; k < HP_LESSON_FAULT_COUNT; k++) {
        const hp_lesson_fault *f = &lesson.fault[k];
        int code[HP_CODE_COUNT], missing = 0;
        int count = codes_of(&f->drive, lesson.correct, code);
        check_int(f->codes, count);
        for (int c = 0; c < count; c++) {
            int at = 0;
            while (at < f->codes && f->code[at] != code[c])
                at++;
            check_true(at < f->codes, "fault %d: code %d is not told", k, code[c]);
            missing += code[c] == 0 || code[c] == 7;
        }
        check_int(f->missing, missing);
        check_true(!f->own, "fault %d is not the scenario's", k);
        check_true(f->judgement.verdict != HP_VERDICT_CORRECT, "fault %d runs correctly", k);
    }
    hp_lesson_free(&lesson);
}

static void a_stated_fault_is_mended_and_shown(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        hp_lesson_fault_kind kind;
        int lead;
    } row[] = {{"watercart", HP_LESSON_SENSOR_DEAD, HP_V},
               {"trolley", HP_LESSON_LEAD_OPEN, HP_W},
               {"wheelhoe", HP_LESSON_OTHER_CODE, HP_V}};
    for (int k = 0; k < 3; k++) {
        hp_drive drive = shipped(row[k].name);
        hp_lesson lesson;
        make_lesson(&drive, 1, &lesson);
        check_true(lesson.mended, "%s is not mended", row[k].name);
        for (int f = 0; f < HP_LESSON_FAULT_COUNT; f++)
            check_int(lesson.fault[f].own, f == (int)row[k].kind);
        check_int(lesson.fault[row[k].kind].lead, row[k].lead);
        hp_lesson_free(&lesson);
    }
}

/* ---- tries ----------------------------------------------------------------------------------- */

/* Counted by hand: 37/4 at random; 32/12 by trials alone (docs/advisor.md); a reading of two
 * outcomes or three can only help; a hand turn and two parks leave one relation. */
static void readings_save_tries(void **state)
{
    (void)state;
    hp_drive drive = shipped("barrow");
    hp_lesson lesson;
    double least = INFINITY;
    make_lesson(&drive, STARTS, &lesson);
    check_close(lesson.tries_at_random, 37.0 / 4.0, 1e-12, "rounding");
    check_int(lesson.tries[0].readings, 0);
    check_close(lesson.tries[0].mean, 32.0 / 12.0, 1e-12, "rounding");
    check_int(lesson.tries[0].most, 4);
    for (int k = 0; k < lesson.tries_count; k++)
        for (int m = 0; m < lesson.tries_count; m++) {
            const hp_lesson_tries *few = &lesson.tries[k], *many = &lesson.tries[m];
            if ((few->readings & ~many->readings) == 0)
                check_true(many->mean <= few->mean + 1e-12, "readings %x do worse than %x",
                           many->readings, few->readings);
        }
    const hp_lesson_tries *all = &lesson.tries[lesson.tries_count - 1];
    check_close(all->mean, 1.0, 1e-12, "rounding");
    check_int(all->most, 1);
    for (int k = 1; k < lesson.tries_count; k++)
        if ((lesson.tries[k].readings & (lesson.tries[k].readings - 1)) == 0)
            least = fmin(least, lesson.tries[k].mean);
    for (int k = 1; k < lesson.tries_count; k++)
        if (lesson.tries[k].readings == lesson.best_reading)
            check_close(lesson.tries[k].mean, least, 1e-12, "rounding");
    hp_lesson_free(&lesson);
}

/* ---- what goes wrong, and the same whoever works --------------------------------------------- */

static void a_machine_that_cannot_run_makes_no_lesson(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_survey_options o = options_with(1);
    hp_lesson lesson;
    hp_error err = hp_error_none();
    drive.stand.wheel.coulomb_nm = drive.stand.wheel.breakaway_nm = 500.0;
    check_int(hp_lesson_make(&drive, &o, &lesson, &err), HP_FAIL_INPUT);
    check_true(strstr(err.text, "runs correctly") != NULL, "%s", err.text);
    err = hp_error_none();
    o.starts = 0;
    check_int(hp_lesson_make(&drive, &o, &lesson, &err), HP_FAIL_INPUT);
    check_true(strstr(err.text, "starts") != NULL, "%s", err.text);
    hp_lesson_free(&lesson);
    hp_lesson_free(NULL);
}

static int last_told, told_backward;

static int note_progress(void *user, int done, int total)
{
    told_backward += done < last_told || done > total;
    last_told = done;
    return user && done > *(int *)user;
}

static void progress_goes_on_and_may_stop_it(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_survey_options o = options_with(1);
    hp_lesson lesson;
    int until = 300;
    o.progress = note_progress;
    last_told = 0;
    check_int(hp_lesson_make(&drive, &o, &lesson, NULL), HP_OK);
    check_int(told_backward, 0);
    check_true(last_told > 900, "ended at %d", last_told);
    hp_lesson_free(&lesson);
    last_told = 0;
    o.user = &until;
    check_int(hp_lesson_make(&drive, &o, &lesson, NULL), HP_FAIL_CANCELLED);
}

static void the_same_for_any_number_of_threads(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_lesson one, two;
    hp_survey_options o = options_with(2);
    o.jobs = 1;
    check_int(hp_lesson_make(&drive, &o, &one, NULL), HP_OK);
    o.jobs = 2;
    check_int(hp_lesson_make(&drive, &o, &two, NULL), HP_OK);
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        check_true(one.survey.judgement[n].mean.battery_current ==
                       two.survey.judgement[n].mean.battery_current,
                   "wiring %d differs", n + 1);
    check_true(one.limited_trap.battery_a == two.limited_trap.battery_a, "the limit differs");
    check_int(one.trap, two.trap);
    hp_lesson_free(&one);
    hp_lesson_free(&two);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(groups_are_what_a_common_turn_leaves),
        cmocka_unit_test(orders_are_turned_by_an_odd_number_of_exchanges),
        cmocka_unit_test(every_shipped_machine_makes_its_lesson),
        cmocka_unit_test(torque_of_each_kind_is_the_closed_form),
        cmocka_unit_test(the_lead_of_a_run_is_that_of_geometry),
        cmocka_unit_test(the_trap_runs_free_and_fast_and_hungry_from_anywhere),
        cmocka_unit_test(faults_are_what_their_names_say),
        cmocka_unit_test(a_stated_fault_is_mended_and_shown),
        cmocka_unit_test(readings_save_tries),
        cmocka_unit_test(a_machine_that_cannot_run_makes_no_lesson),
        cmocka_unit_test(progress_goes_on_and_may_stop_it),
        cmocka_unit_test(the_same_for_any_number_of_threads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
