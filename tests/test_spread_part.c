/*
 * A spread in parts: joined they are the spread of one run, bit for bit; whatever is wrong with a
 * file is told by its name, and no damage is believed.
 */
#include "base/hash.h"
#include "base/random.h"
#include "hubphase/record/spread_part.h"
#include "scenario_text.h"

#include <unistd.h>

#define PARTS 3
#define SCENARIO                                                                                   \
    "hubphase: 1\nname: Parts\nmotor: {pole_pairs: 10, resistance_between_leads_ohm: 0.3, "        \
    "no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 36}}\nstand: {wheel_inertia_kg_m2: 0.02}\n"   \
    "run: {seconds: 0.8, settle_seconds: 0.45, starts: 1, tolerance: 1e-6}\n"                      \
    "spread: {motors: 7}\n"

typedef struct work {
    loaded l;
    hp_spread_options options;
    char *text[PARTS]; /* owned */
    size_t size[PARTS];
    char name[PARTS][40];
} work;

static hp_spread_options options_of(const hp_scenario *scenario)
{
    hp_spread_options o = hp_spread_options_default();
    o.survey = hp_scenario_survey_options(scenario);
    o.plan = scenario->spread;
    o.survey.jobs = 2;
    return o;
}

static void put_file(const work *w, int k)
{
    scenario_file_write(w->name[k], w->text[k], w->size[k]);
}

static int set_up(void **state)
{
    work *w = calloc(1, sizeof *w);
    hp_error err = hp_error_none();
    assert_non_null(w);
    w->l = scenario_load_text("test_spread_part.yaml", SCENARIO);
    check_true(w->l.result == HP_OK, "%s", w->l.printed);
    w->options = options_of(&w->l.scenario);
    for (int k = 0; k < PARTS; k++) {
        hp_part part = {k + 1, PARTS};
        FILE *out = open_memstream(&w->text[k], &w->size[k]);
        assert_non_null(out);
        int done;
        check_true(hp_part_write(&w->l.scenario, &w->options, &part, NULL, out, &done, &err) ==
                       HP_OK,
                   "%s", err.text);
        fclose(out);
        snprintf(w->name[k], sizeof w->name[k], "test_spread_part.%d", k + 1);
        put_file(w, k);
    }
    *state = w;
    return 0;
}

static int tear_down(void **state)
{
    work *w = *state;
    for (int k = 0; k < PARTS; k++) {
        remove(w->name[k]);
        free(w->text[k]);
    }
    loaded_free(&w->l);
    free(w);
    return 0;
}

static hp_result join(const work *w, const char *const *path, int paths, hp_spread *spread,
                      hp_error *err)
{
    *err = hp_error_none();
    return hp_parts_join(&w->l.scenario, &w->options, path, paths, spread, err);
}

static void parts_in_any_order_are_the_whole_bit_for_bit(void **state)
{
    work *w = *state;
    hp_error err = hp_error_none();
    hp_spread *whole = calloc(1, sizeof *whole), *joined = calloc(1, sizeof *joined);
    assert_non_null(whole);
    assert_non_null(joined);
    const char *order[][PARTS] = {{w->name[2], w->name[0], w->name[1]},
                                  {w->name[0], w->name[1], w->name[2]}};
    check_int(hp_spread_run(&w->l.scenario.drive, &w->options, whole, &err), HP_OK);
    check_int(whole->motors, 7);
    for (int k = 0; k < 2; k++) {
        check_true(join(w, order[k], PARTS, joined, &err) == HP_OK, "%s", err.text);
        /* Both were zeroed before they were filled, padding too. */
        check_true(memcmp(whole, joined, sizeof *whole) == 0, "order %d gives another spread", k);
    }
    free(whole);
    free(joined);
}

static void parts_cover_every_motor_once(void **state)
{
    (void)state;
    hp_spread_plan plan = hp_spread_plan_default();
    int motors[] = {1, 2, 7, 100, HP_SPREAD_MOTORS_MAX};
    for (size_t m = 0; m < sizeof motors / sizeof motors[0]; m++) {
        plan.motors = motors[m];
        for (int of = 1; of <= plan.motors; of += 1 + of / 3) {
            int next = 0;
            for (int number = 1; number <= of; number++) {
                hp_part part = {number, of};
                int begin, count;
                check_int(hp_part_check(&part, &plan, NULL), HP_OK);
                hp_part_motors(&part, &plan, &begin, &count);
                check_int(begin, next);
                check_true(count >= plan.motors / of && count <= plan.motors / of + 1,
                           "part %d of %d has %d of %d motors", number, of, count, plan.motors);
                next += count;
            }
            check_int(next, plan.motors);
        }
    }
    hp_part wrong[] = {{0, 2}, {3, 2}, {1, 0}, {1, HP_SPREAD_MOTORS_MAX + 1}};
    for (size_t k = 0; k < sizeof wrong / sizeof wrong[0]; k++)
        check_int(hp_part_check(&wrong[k], &plan, NULL), HP_FAIL_INPUT);
}

/* Joins with file 2 as it stands on the disk. */
static hp_result join_all(const work *w, hp_error *err)
{
    const char *all[PARTS] = {w->name[0], w->name[1], w->name[2]};
    hp_spread *spread = calloc(1, sizeof *spread);
    assert_non_null(spread);
    hp_result result = join(w, all, PARTS, spread, err);
    check_true(result == HP_OK || spread->motors == 0, "something was joined all the same");
    free(spread);
    return result;
}

static void no_changed_byte_is_believed(void **state)
{
    work *w = *state;
    hp_error err;
    hp_random random = hp_random_init(18, 0);
    for (int round = 0; round < 300; round++) {
        size_t at = (size_t)(hp_random_unit(&random) * (double)w->size[1]);
        char was = w->text[1][at];
        w->text[1][at] = (char)(was ^ (1 << (round % 8)));
        put_file(w, 1);
        w->text[1][at] = was;
        check_true(join_all(w, &err) == HP_FAIL_INPUT, "byte %zu, bit %d is not missed", at,
                   round % 8);
        check_text_contains(err.text, w->name[1]);
    }
    put_file(w, 1);
    check_true(join_all(w, &err) == HP_OK, "%s", err.text);
}

static void no_shortened_file_is_believed(void **state)
{
    work *w = *state;
    hp_error err;
    size_t size = w->size[1];
    for (size_t k = 0; k < size; k += 1 + size / 150) {
        w->size[1] = k;
        put_file(w, 1);
        check_true(join_all(w, &err) == HP_FAIL_INPUT, "%zu of %zu bytes are enough", k, size);
        check_text_contains(err.text, w->name[1]);
    }
    w->size[1] = size;
}

/* Puts the check sum right, as somebody would who means harm: any answer will do but a crash. */
static void mend_sum(work *w, int k)
{
    size_t body = w->size[k] - 21;
    snprintf(w->text[k] + body, 22, "sum %016llx\n",
             (unsigned long long)hp_hash_bytes(w->text[k], body));
}

static void forged_files_do_no_harm(void **state)
{
    work *w = *state;
    hp_error err;
    hp_random random = hp_random_init(81, 0);
    char *kept = malloc(w->size[1]);
    assert_non_null(kept);
    memcpy(kept, w->text[1], w->size[1]);
    int taken = 0;
    for (int round = 0; round < 400; round++) {
        for (int k = 0; k < 1 + round % 4; k++) {
            size_t at = (size_t)(hp_random_unit(&random) * (double)(w->size[1] - 21));
            w->text[1][at] = (char)(hp_random_unit(&random) * 256.0);
        }
        mend_sum(w, 1);
        put_file(w, 1);
        hp_result result = join_all(w, &err);
        check_true(result == HP_OK || result == HP_FAIL_INPUT, "%d: %s", (int)result, err.text);
        taken += result == HP_OK;
        memcpy(w->text[1], kept, w->size[1]);
    }
    check_true(taken < 400, "whatever stands in a cell is taken");
    free(kept);
    put_file(w, 1);
}

static void expect(const work *w, const char *const *path, int paths, const char *said)
{
    hp_error err;
    hp_spread *spread = calloc(1, sizeof *spread);
    assert_non_null(spread);
    check_int(join(w, path, paths, spread, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, said);
    free(spread);
}

static void what_is_missing_or_there_twice_is_told(void **state)
{
    work *w = *state;
    const char *two[] = {w->name[0], w->name[2]}, *twice[] = {w->name[0], w->name[1], w->name[0]};
    const char *none[] = {w->name[0], "test_spread_part.none"};
    expect(w, two, 2, "part 2 of 3 is missing");
    expect(w, two, 1, "parts 2, 3 of 3 are missing");
    expect(w, twice, 3, "test_spread_part.1 is part 1 of 3 once more: test_spread_part.1 is");
    expect(w, none, 2, "test_spread_part.none cannot be read: No such file");
    expect(w, none, 0, "no part");
}

/* Changes one thing of what is joined with, and puts it back. */
static void foreign_parts_are_told_by_what_differs(void **state)
{
    work *w = *state;
    const char *one[] = {w->name[0]};
    hp_spread_options kept = w->options;
    w->options.plan.seed = 2;
    expect(w, one, 1, "test_spread_part.1 belongs to another spread");
    w->options = kept;
    w->options.survey.thresholds.waste_max *= 1.0 + 1e-15;
    expect(w, one, 1, "in a digit that is not shown");
    w->options = kept;
    w->l.scenario.drive.motor.lead_open[1] = true;
    expect(w, one, 1, "belongs to another spread");
    w->l.scenario.drive.motor.lead_open[1] = false;
    hp_parameter *p = hp_parameters_find(&w->l.scenario.parameters, "supply.battery_v");
    double was = p->number;
    p->number = 36.5;
    w->l.scenario.drive.supply.emf_v = 36.5;
    expect(w, one, 1, "\"supply.battery_v 37\" there, \"supply.battery_v 36.5\" here");
    p->number = was;
    w->l.scenario.drive.supply.emf_v = was;
}

static void another_version_is_told(void **state)
{
    work *w = *state;
    const char *one[] = {w->name[0]};
    char *version = strstr(w->text[0], "version ");
    assert_non_null(version);
    version[8] = '7';
    mend_sum(w, 0);
    put_file(w, 0);
    expect(w, one, 1,
           "test_spread_part.1 was written by another version of the program: "
           "\"version 7");
    version[8] = HP_VERSION[0];
    mend_sum(w, 0);
    put_file(w, 0);
}

/* ---- stopped --------------------------------------------------------------------------------- */

/* Stops after so many runs; what progress was told last stands there for the test. */
typedef struct brake {
    int after, done, total;
} brake;

static int stop_after(void *user, int done, int total)
{
    brake *b = user;
    b->done = done;
    b->total = total;
    return done >= b->after;
}

typedef struct stopped {
    hp_result result;
    int done;
    char *text; /* owned */
    size_t size;
    hp_error err;
} stopped;

/* Part 1 of 2, which has three motors, stopped by `b`. */
static stopped write_stopped(const work *w, const hp_part *part, const char *earlier, brake *b)
{
    stopped s = {.err = hp_error_none()};
    FILE *out = open_memstream(&s.text, &s.size);
    assert_non_null(out);
    hp_spread_options o = w->options;
    o.survey.progress = stop_after;
    o.survey.user = b;
    s.result = hp_part_write(&w->l.scenario, &o, part, earlier, out, &s.done, &s.err);
    fclose(out);
    return s;
}

#define STOPPED "test_spread_part.stopped"

static void put_text(const char *name, const char *text, size_t size)
{
    FILE *file = fopen(name, "wb");
    assert_non_null(file);
    check_int((long long)fwrite(text, 1, size, file), (long long)size);
    fclose(file);
}

/* Runs of one motor: one a wiring that is run, one start. */
static int runs_of_a_motor(const work *w, const hp_part *part)
{
    brake all = {.after = 1 << 30};
    stopped s = write_stopped(w, part, NULL, &all);
    free(s.text);
    check_int(s.done, 3);
    check_int(all.done, all.total);
    return all.total / 3;
}

static void a_part_that_is_stopped_before_its_first_motor_writes_nothing(void **state)
{
    const hp_part part = {1, 2};
    brake b = {.after = 3};
    stopped s = write_stopped(*state, &part, NULL, &b);
    check_int(s.result, HP_FAIL_CANCELLED);
    check_int((long long)s.size, 0);
    check_int(s.done, 0);
    free(s.text);
}

/* Stopped in every motor, and twice in one, it has in the end the bytes of a part that never was;
 * progress goes on where it was. */
static void a_part_that_was_stopped_goes_on(void **state)
{
    const work *w = *state;
    const hp_part part = {1, 2};
    int runs = runs_of_a_motor(w, &part);
    brake never = {.after = 1 << 30}, first = {.after = runs + 2}, second = {.after = 2 * runs + 1},
          again = second;
    stopped whole = write_stopped(w, &part, NULL, &never);
    stopped one = write_stopped(w, &part, NULL, &first);
    check_int(one.result, HP_OK);
    check_int(one.done, 1);
    put_text(STOPPED, one.text, one.size);
    stopped two = write_stopped(w, &part, STOPPED, &second);
    check_int(two.done, 2);
    put_text(STOPPED, two.text, two.size);
    stopped still = write_stopped(w, &part, STOPPED, &again);
    check_int(still.done, 2);
    check_true(still.size == two.size && memcmp(still.text, two.text, two.size) == 0, "as it was");
    never.done = 0;
    stopped last = write_stopped(w, &part, STOPPED, &never);
    check_int(last.done, 3);
    check_true(last.size == whole.size && memcmp(last.text, whole.text, whole.size) == 0,
               "it was stopped, and has other bytes");
    const char *unfinished[] = {STOPPED};
    expect(w, unfinished, 1,
           STOPPED
           " was stopped after 2 of the 3 motors of part 1 of 2: the same spread --part 1/2 "
           "-o " STOPPED " goes on with it");
    remove(STOPPED);
    stopped *const all[] = {&whole, &one, &two, &still, &last};
    for (size_t k = 0; k < sizeof all / sizeof all[0]; k++)
        free(all[k]->text);
}

static void expect_refused(const work *w, const hp_part *part, const char *words)
{
    brake never = {.after = 1 << 30};
    stopped s = write_stopped(w, part, STOPPED, &never);
    check_int(s.result, HP_FAIL_INPUT);
    check_text_contains(s.err.text, words);
    check_text_contains(s.err.text, "would be lost: name another file");
    check_int((long long)s.size, 0);
    free(s.text);
}

/* What is done of another part or spread is not written over, what cannot be gone on from is. */
static void what_was_stopped_is_not_lost(void **state)
{
    work *w = *state;
    const hp_part part = {1, 2}, other = {1, 1};
    brake b = {.after = runs_of_a_motor(w, &part) + 2}, never = {.after = 1 << 30};
    stopped s = write_stopped(w, &part, NULL, &b);
    put_text(STOPPED, s.text, s.size);
    expect_refused(w, &other, STOPPED " is part 1 of 2");
    w->options.plan.seed++;
    expect_refused(w, &part, STOPPED " belongs to another spread");
    w->options.plan.seed--;
    put_text(STOPPED, s.text, s.size - 40);
    expect_refused(w, &part, STOPPED " is damaged");
    put_text(STOPPED, "kept\n", 5);
    stopped fresh = write_stopped(w, &part, STOPPED, &never);
    check_int(fresh.done, 3);
    put_text(STOPPED, fresh.text, fresh.size);
    /* One that is whole is not made again, not even in part, however soon the work is stopped. */
    brake none = {.after = 0};
    stopped kept = write_stopped(w, &part, STOPPED, &none);
    check_int(kept.result, HP_OK);
    check_int(kept.done, 3);
    check_true(kept.size == fresh.size && memcmp(kept.text, fresh.text, fresh.size) == 0,
               "as it was");
    expect_refused(w, &other, STOPPED " is part 1 of 2");
    w->options.plan.seed++;
    expect_refused(w, &part, STOPPED " belongs to another spread");
    w->options.plan.seed--;
    put_text(STOPPED, fresh.text, fresh.size - 40);
    expect_refused(w, &part, STOPPED " is damaged");
    remove(STOPPED);
    free(s.text);
    free(fresh.text);
    free(kept.text);
}

/* The whole spread by and by, stopped amid a motor, and summed up on the way. */
static void a_spread_by_and_by_is_the_whole_bit_for_bit(void **state)
{
    const work *w = *state;
    hp_error err = hp_error_none();
    hp_spread *whole = calloc(1, sizeof *whole), *sum = calloc(1, sizeof *sum);
    brake b = {.after = 1 << 30};
    hp_spread_options o = w->options;
    o.survey.progress = stop_after;
    o.survey.user = &b;
    assert_true(whole && sum);
    check_int(hp_spread_run(&w->l.scenario.drive, &w->options, whole, &err), HP_OK);
    hp_spread_work *by = hp_spread_work_create(&w->l.scenario.drive, &o, &err);
    assert_non_null(by);
    check_int(hp_spread_work_sum(by, sum, &err), HP_FAIL_INPUT);
    check_int(hp_spread_work_run(by, 2, &err), HP_OK);
    check_int(hp_spread_work_motors(by), 2);
    check_int(7 * b.done, 2 * b.total);
    b.after = b.done + b.total / 7 + 3;
    check_int(hp_spread_work_run(by, 5, &err), HP_FAIL_CANCELLED);
    check_int(hp_spread_work_motors(by), 3);
    check_int(hp_spread_work_sum(by, sum, &err), HP_OK);
    check_int(sum->motors, 3);
    b.after = 1 << 30;
    check_int(hp_spread_work_run(by, 100, &err), HP_OK);
    check_int(hp_spread_work_motors(by), 7);
    check_int(b.done, b.total);
    check_int(hp_spread_work_sum(by, sum, &err), HP_OK);
    check_true(memcmp(whole, sum, sizeof *sum) == 0, "by and by it is another spread");
    hp_spread_work_free(by);
    hp_spread_work_free(NULL);
    o.plan.motors = 0;
    check_true(!hp_spread_work_create(&w->l.scenario.drive, &o, &err), "none");
    check_text_contains(err.text, "spread.motors is 0");
    free(whole);
    free(sum);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_in_any_order_are_the_whole_bit_for_bit),
        cmocka_unit_test(parts_cover_every_motor_once),
        cmocka_unit_test(no_changed_byte_is_believed),
        cmocka_unit_test(no_shortened_file_is_believed),
        cmocka_unit_test(forged_files_do_no_harm),
        cmocka_unit_test(what_is_missing_or_there_twice_is_told),
        cmocka_unit_test(foreign_parts_are_told_by_what_differs),
        cmocka_unit_test(another_version_is_told),
        cmocka_unit_test(a_part_that_is_stopped_before_its_first_motor_writes_nothing),
        cmocka_unit_test(a_part_that_was_stopped_goes_on),
        cmocka_unit_test(what_was_stopped_is_not_lost),
        cmocka_unit_test(a_spread_by_and_by_is_the_whole_bit_for_bit),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
