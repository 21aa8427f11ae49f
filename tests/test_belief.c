/* Belief: Bayes' rule over the log, contradictions named, nothing ever locked. */
#include "check.h"

#include "base/random.h"
#include "decide/advise/belief.h"
#include "decide/advise/hypothesis.h"
#include "decide/reading/reading_list.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

typedef struct bench {
    hp_likelihood table;
    hp_person person;
    hp_prior_params prior;
    hp_belief belief;
} bench;

static void open_bench_with(bench *b, hp_prior_params prior)
{
    hp_error err = hp_error_none();
    b->table = default_table();
    b->person = hp_person_default();
    b->prior = prior;
    check_true(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err) == HP_OK, "%s",
               err.text);
}

static void open_bench(bench *b)
{
    open_bench_with(b, hp_prior_plain());
}

static void close_bench(bench *b)
{
    hp_belief_free(&b->belief);
    hp_likelihood_free(&b->table);
}

static void add(bench *b, const hp_entry *entry)
{
    hp_error err = hp_error_none();
    check_true(hp_belief_add(&b->belief, entry, &err) == HP_OK, "%s", err.text);
}

static hp_entry trial(int number, hp_motion motion, hp_feel feel, double amps)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(number);
    e.trial.throttle = 0.35;
    e.trial.motion = motion;
    e.trial.feel = feel;
    e.trial.starts_tried = 6;
    e.trial.starts = motion == HP_MOVED_STILL || motion == HP_MOVED_SHIVER ? 0 : 6;
    e.trial.battery_a = amps;
    return e;
}

static hp_entry hand_turn(const int *code, int count)
{
    hp_entry e = hp_entry_make(&hp_reading_hand_turn, 0);
    e.hand_turn.count = count;
    memcpy(e.hand_turn.code, code, (size_t)count * sizeof *code);
    return e;
}

static hp_entry park(int lead, int code)
{
    hp_entry e = hp_entry_make(&hp_reading_park, 0);
    e.park.lead = lead;
    e.park.code = code;
    return e;
}

static double sum_of(const hp_belief *b)
{
    double sum = 0.0;
    for (int k = 0; k < b->count * b->members.count; k++)
        sum += b->weight[k];
    return sum;
}

static double right(const bench *b, int number)
{
    double p[HP_WIRING_COUNT + 1];
    hp_belief_wirings(&b->belief, p);
    return p[number];
}

static void starts_at_the_prior(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    double trouble[HP_TROUBLE_COUNT], wiring[HP_WIRING_COUNT + 1], sum = 0.0;
    check_close(sum_of(&b.belief), 1.0, 1e-12, "rounding");
    hp_belief_troubles(&b.belief, trouble);
    hp_belief_wirings(&b.belief, wiring);
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        check_close(wiring[n], trouble[0] / 12.0, 1e-4,
                    "what the floor leaves out of other tables");
        sum += wiring[n];
    }
    check_close(sum, 3.0 * trouble[0], 1e-12, "three right wirings a relation");
    close_bench(&b);
}

/* Smooth, forward, six starts of six at little current: the wiring is right, as surely as the word
 * "forward" can be. The reverse wiring runs as smoothly on as little current, and is as likely
 * before anything is seen; only that word speaks against it, once more with every look. */
static void smooth_runs_convince_as_far_as_the_direction_does(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    double wrong = b.person.wrong_direction, odds = 1.0;
    double each = 0.8 * wrong / (1.0 - wrong - b.person.missed_motion); /* trial_said.c, rows */
    hp_entry e = trial(1, HP_MOVED_FORWARD, HP_FEEL_SMOOTH, 0.1);
    for (int look = 0; look < 3; look++) {
        add(&b, &e);
        odds *= each;
        double bound = 1.0 / (1.0 + odds);
        check_true(right(&b, 1) < bound, "look %d: %g, at most %g", look, right(&b, 1), bound);
        /* All else together, roughness not felt, other leads joined, a broken part, is at first no
         * likelier than that. */
        if (look == 0)
            check_true(right(&b, 1) > 1.0 / (1.0 + 2.0 * odds), "%g, odds of the reverse %g",
                       right(&b, 1), odds);
    }
    check_true(right(&b, 1) > 0.998, "after three looks %g", right(&b, 1));
    close_bench(&b);
}

/* The same words at five amperes: "smooth" was said of a rough run. The trap of the trade. */
static void amperes_expose_a_false_smooth(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_entry e = trial(1, HP_MOVED_FORWARD, HP_FEEL_SMOOTH, 5.0);
    add(&b, &e);
    check_true(right(&b, 1) < 0.3, "right with %g", right(&b, 1));
    close_bench(&b);
}

static void readings_point_to_the_wiring(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    /* All as in the textbook: wiring 1. */
    const int code[] = {4, 6, 2, 3, 1, 5, 4};
    hp_entry turn = hand_turn(code, 7), first = park(0, 4), second = park(1, 2);
    add(&b, &turn);
    add(&b, &first);
    add(&b, &second);
    /* What is left for the eleven other relations: a hand turn the other way, and one park read
     * wrongly (two relations) or both (three): the wrong lead, or another code that happens to be
     * this one. A rotor at rest beside its sector takes a little more. */
    const hp_person *p = &b.person;
    double turned = p->turned_back / (1.0 - p->turned_back);
    double kept = (1.0 - p->wrong_lead) * (1.0 - p->code_misread);
    double parked = (0.5 * p->wrong_lead * (1.0 - p->code_misread) + p->code_misread / 7.0) / kept;
    double trouble[HP_TROUBLE_COUNT], table[HP_TABLE_COUNT];
    hp_belief_troubles(&b.belief, trouble);
    hp_belief_tables(&b.belief, table);
    double expected = trouble[HP_TROUBLE_SOUND] * table[0] / (1.0 + turned) /
                      (1.0 + 2.0 * parked + 3.0 * parked * parked);
    check_close(right(&b, 1), expected, 0.004, "as above");
    /* Another order of the same readings gives the same belief. */
    bench c;
    open_bench(&c);
    add(&c, &second);
    add(&c, &turn);
    add(&c, &first);
    for (int k = 0; k < b.belief.count * b.belief.members.count; k++)
        check_close(c.belief.weight[k], b.belief.weight[k], 1e-12, "rounding of three products");
    check_close(c.belief.log_evidence, b.belief.log_evidence, 1e-9, "rounding");
    close_bench(&c);
    close_bench(&b);
}

static void troubles_are_named(void **state)
{
    (void)state;
    double trouble[HP_TROUBLE_COUNT];
    bench b;
    open_bench(&b);
    /* Sensor lead V never changes: stuck low. */
    const int stuck[] = {4, 0, 1, 5, 4, 0, 1, 5};
    hp_entry e = hand_turn(stuck, 8);
    add(&b, &e);
    hp_belief_troubles(&b.belief, trouble);
    check_true(trouble[hp_trouble_index(-1, (hp_fault){HP_FAULT_SENSOR_LOW, 1})] > 0.9, "stuck %g",
               trouble[hp_trouble_index(-1, (hp_fault){HP_FAULT_SENSOR_LOW, 1})]);
    close_bench(&b);
    /* 000 and 111 show, 010 and 101 do not: 60-degree sensors, the middle one is V. */
    open_bench(&b);
    const int sixty[] = {6, 4, 0, 1, 3, 7, 6};
    e = hand_turn(sixty, 7);
    add(&b, &e);
    hp_belief_troubles(&b.belief, trouble);
    check_true(trouble[hp_trouble_index(1, (hp_fault){0})] > 0.9, "inverted V %g",
               trouble[hp_trouble_index(1, (hp_fault){0})]);
    close_bench(&b);
    close_bench(&b);
}

static double lead_open(const bench *b, int lead)
{
    double trouble[HP_TROUBLE_COUNT], sum = 0.0;
    hp_belief_troubles(&b->belief, trouble);
    for (int inverted = -1; inverted < HP_PHASE_COUNT; inverted++)
        sum += trouble[hp_trouble_index(inverted, (hp_fault){HP_FAULT_LEAD_OPEN, lead})];
    return sum;
}

/* Two pairs without continuity: the lead that they share, against two pairs misread or a worthless
 * entry. */
static void two_dead_pairs_name_their_lead(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    double misread = b.person.pair_misread / (1.0 - b.person.pair_misread),
           odds = misread * misread + b.person.wrong_entry;
    double before = (1.0 - 3.0 * lead_open(&b, 2)) / lead_open(&b, 2);
    hp_entry e = hp_entry_make(&hp_reading_winding, 0);
    e.winding.ohm[0] = e.winding.ohm[1] = INFINITY;
    e.winding.ohm[2] = 0.2;
    add(&b, &e);
    check_close(lead_open(&b, 2), 1.0 / (1.0 + before * odds), 0.003,
                "another lead open, its pairs misread");
    add(&b, &e);
    check_close(lead_open(&b, 2), 1.0 / (1.0 + before * odds * odds), 0.003, "likewise");
    close_bench(&b);
}

static void a_mend_clears_what_comes_after_it(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    const int stuck[] = {4, 0, 1, 5, 4, 0, 1, 5}, sound[] = {4, 6, 2, 3, 1, 5, 4};
    hp_entry e = hand_turn(stuck, 8);
    add(&b, &e);
    e = hp_entry_make(&hp_reading_mend, 0);
    e.mend.fault = (hp_fault){HP_FAULT_SENSOR_LOW, 1};
    add(&b, &e);
    double trouble[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b.belief, trouble);
    check_true(trouble[HP_TROUBLE_SOUND] > 0.9, "sound with %g", trouble[HP_TROUBLE_SOUND]);
    e = hand_turn(sound, 7);
    add(&b, &e);
    hp_contradiction c;
    assert_int_equal(hp_belief_contradiction(&b.belief, &c, NULL, NULL), HP_OK);
    check_int(c.found, 0);
    close_bench(&b);
}

static void contradictions_are_named(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    const int code[] = {4, 6, 2, 3, 1, 5, 4}, back[] = {4, 5, 1, 3, 2, 6, 4};
    hp_entry turn = hand_turn(code, 7), wrong = hand_turn(back, 7);
    hp_contradiction c;
    double slip[3];
    add(&b, &turn);
    add(&b, &turn);
    assert_int_equal(hp_belief_contradiction(&b.belief, &c, NULL, NULL), HP_OK);
    check_int(c.found, 0);
    /* Against two that agree, the third is the slip. */
    add(&b, &wrong);
    assert_int_equal(hp_belief_contradiction(&b.belief, &c, slip, NULL), HP_OK);
    check_int(c.found, 1);
    check_int(c.slipped, 2);
    check_true(c.other == 0 || c.other == 1, "other is %d", c.other);
    check_true(slip[2] > 0.9 && slip[0] < 0.1 && slip[1] < 0.1, "slips %g %g %g", slip[0], slip[1],
               slip[2]);
    close_bench(&b);
}

static hp_entry nonsense(hp_random *random, int kind)
{
    hp_entry e;
    if (kind == 0) {
        hp_motion motion = (hp_motion)(HP_MOVED_FORWARD + (int)hp_random_below(random, 6));
        e = trial(1 + (int)hp_random_below(random, 36), motion, (hp_feel)hp_random_below(random, 4),
                  hp_random_between(random, 0.0, 900.0));
        if (motion != HP_MOVED_STILL && motion != HP_MOVED_SHIVER)
            e.trial.wheel_rad_s = hp_random_between(random, 1.0, 900.0);
    } else if (kind == 1) {
        int code[24];
        for (int i = 0; i < 24; i++)
            code[i] = (int)hp_random_below(random, 8);
        e = hand_turn(code, 1 + (int)hp_random_below(random, 24));
    } else {
        e = hp_entry_make(&hp_reading_winding, 0);
        for (int i = 0; i < 3; i++)
            e.winding.ohm[i] = hp_random_unit(random) < 0.3 ? (double)INFINITY
                                                            : hp_random_between(random, 0.0, 1e6);
    }
    return e;
}

/* Twelve entries of nonsense: the belief stays a probability, and as many true ones outweigh them.
 */
static void nonsense_never_locks(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_random random = hp_random_init(4, 0);
    for (int k = 0; k < 12; k++) {
        hp_entry e = nonsense(&random, k % 3);
        add(&b, &e);
        check_close(sum_of(&b.belief), 1.0, 1e-9, "rounding");
    }
    check_true(isfinite(b.belief.log_evidence), "log evidence %g", b.belief.log_evidence);
    double before = right(&b, 22);
    const int code[] = {4, 6, 2, 3, 1, 5, 4};
    for (int k = 0; k < 4; k++) {
        hp_entry turn = hand_turn(code, 7), first = park(0, 4), ohm;
        ohm = hp_entry_make(&hp_reading_winding, 0);
        ohm.winding.ohm[0] = ohm.winding.ohm[1] = ohm.winding.ohm[2] = 0.2;
        hp_entry run = trial(22, HP_MOVED_FORWARD, HP_FEEL_SMOOTH, 0.1);
        add(&b, &turn);
        add(&b, &first);
        add(&b, &ohm);
        add(&b, &run);
    }
    check_true(right(&b, 22) > 0.99, "right with %g, before %g", right(&b, 22), before);
    close_bench(&b);
}

/* A current and a speed are held against the throttle that they belong to; a wheel that stands at a
 * closed throttle says nothing. */
static void other_throttles_mislead_nobody(void **state)
{
    (void)state;
    bench words, figures, closed;
    open_bench(&words);
    open_bench(&figures);
    open_bench(&closed);
    /* A sound motor well beyond the throttles that were simulated, yet not full. */
    hp_entry e = trial(1, HP_MOVED_FORWARD, HP_FEEL_SMOOTH, (double)NAN);
    e.trial.throttle = 0.7;
    add(&words, &e);
    e.trial.battery_a = 0.7;
    e.trial.wheel_rad_s = 16.0;
    add(&figures, &e);
    for (int k = 0; k < words.belief.count * words.belief.members.count; k++)
        check_close(figures.belief.weight[k], words.belief.weight[k], 0.0, "the same bytes");
    double before = right(&closed, 1);
    e = trial(1, HP_MOVED_STILL, HP_FEEL_UNSAID, 0.0);
    e.trial.throttle = 0.02;
    add(&closed, &e);
    check_close(right(&closed, 1), before, 1e-12, "rounding");
    add(&closed, &e);
    check_close(right(&closed, 1), before, 1e-12, "rounding");
    close_bench(&words);
    close_bench(&figures);
    close_bench(&closed);
}

/* A new sensor is stuck at neither level, whichever was logged. */
static void a_mended_sensor_is_sound_at_both_levels(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    const int stuck[] = {4, 6, 6, 4};
    hp_entry turn = hand_turn(stuck, 4), mend = hp_entry_make(&hp_reading_mend, 0);
    add(&b, &turn);
    mend.mend.fault = (hp_fault){HP_FAULT_SENSOR_HIGH, 2};
    add(&b, &mend);
    double trouble[HP_TROUBLE_COUNT], left = 0.0;
    hp_belief_troubles(&b.belief, trouble);
    for (int t = 1; t < HP_TROUBLE_COUNT; t++)
        if (hp_part_of(t) % 8 == hp_part_of(hp_trouble_index(-1, mend.mend.fault)))
            left += trouble[t];
    check_close(left, 0.0, 0.0, "the part is new");
    close_bench(&b);
}

static double odds_of(const bench *b, hp_fault fault)
{
    double trouble[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b->belief, trouble);
    return trouble[hp_trouble_index(-1, fault)];
}

static void doubt_mends(bench *b)
{
    hp_error err = hp_error_none();
    check_true(hp_belief_doubt_mends(&b->belief, &b->prior, &err) == HP_OK, "%s", err.text);
}

/* The new sensor reads as the old one: it is the lead, or it was the wrong sensor. One that reads
 * as a sound one does was mended, and so is one of which nothing was read. */
static void a_mend_that_did_not_help_is_found_out(void **state)
{
    (void)state;
    const int stuck[] = {4, 0, 1, 5, 4, 0, 1, 5}, sound[] = {4, 6, 2, 3, 1, 5, 4};
    const hp_fault low = {HP_FAULT_SENSOR_LOW, 1};
    bool another = true;
    for (int then = 0; then < 3; then++) {
        bench b;
        open_bench(&b);
        hp_entry turn = hand_turn(stuck, 8), mend = hp_entry_make(&hp_reading_mend, 7);
        mend.mend.fault = low;
        add(&b, &turn);
        add(&b, &turn);
        add(&b, &mend);
        if (then < 2)
            turn = then == 0 ? hand_turn(stuck, 8) : hand_turn(sound, 7);
        for (int k = 0; k < 2 && then < 2; k++)
            add(&b, &turn);
        doubt_mends(&b);
        check_int(hp_belief_vain_mend(&b.belief, &another), then == 0 ? 7 : 0);
        check_true(!another, "a sensor is no controller");
        check_int(hp_belief_changes(&b.belief, 2), then != 0);
        check_true(then == 0 ? odds_of(&b, low) > 0.9 : odds_of(&b, low) < 0.01,
                   "%d: stuck still with %g", then, odds_of(&b, low));
        close_bench(&b);
    }
}

/* Mended once more, and now it reads as a sound one: nothing is said of the first try any more. */
static void a_second_mend_that_helps_ends_the_doubt(void **state)
{
    (void)state;
    const int stuck[] = {4, 0, 1, 5, 4, 0, 1, 5}, sound[] = {4, 6, 2, 3, 1, 5, 4};
    const hp_fault low = {HP_FAULT_SENSOR_LOW, 1};
    const hp_entry faulty = hand_turn(stuck, 8), good = hand_turn(sound, 7);
    bool another = true;
    bench b;
    open_bench(&b);
    hp_entry mend = hp_entry_make(&hp_reading_mend, 7);
    mend.mend.fault = low;
    add(&b, &faulty);
    add(&b, &faulty);
    add(&b, &mend);
    add(&b, &faulty);
    add(&b, &faulty);
    mend.number = 9;
    add(&b, &mend);
    add(&b, &good);
    add(&b, &good);
    doubt_mends(&b);
    check_int(hp_belief_changes(&b.belief, 2), 0);
    check_int(hp_belief_changes(&b.belief, 5), 1);
    check_int(hp_belief_vain_mend(&b.belief, &another), 0);
    check_true(!another && odds_of(&b, low) < 0.01, "stuck with %g", odds_of(&b, low));
    close_bench(&b);
}

/* A controller from a drawer may be dead, too: it stood still with no current, twice. */
static void an_exchanged_controller_may_drive_nothing(void **state)
{
    (void)state;
    const hp_fault silent = {HP_FAULT_SILENT, 0};
    bool another = false;
    bench b;
    open_bench_with(&b, hp_prior_default());
    hp_entry run = trial(1, HP_MOVED_FORWARD, HP_FEEL_SMOOTH, 0.1),
             still = trial(1, HP_MOVED_STILL, HP_FEEL_UNSAID, 0.03),
             mend = hp_entry_make(&hp_reading_mend, 3);
    mend.mend.fault = silent;
    add(&b, &run);
    add(&b, &run);
    add(&b, &mend);
    add(&b, &still);
    add(&b, &still);
    check_true(odds_of(&b, silent) < 0.01, "at its word: %g", odds_of(&b, silent));
    doubt_mends(&b);
    check_int(hp_belief_vain_mend(&b.belief, &another), 3);
    check_true(another, "another controller");
    check_true(odds_of(&b, silent) > 0.9, "drives nothing: %g", odds_of(&b, silent));
    check_true(hp_belief_changes(&b.belief, 2), "its parts are others now");
    close_bench(&b);
}

/* Repeating a trial repeats its slips' evidence, not that of its numbers: two faults that differ
 * little do not become certain by looking ten times at the same run. */
static void looking_again_proves_no_fault(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_entry e = trial(1, HP_MOVED_FORWARD, HP_FEEL_ROUGH, 1.2);
    e.trial.wheel_rad_s = 8.3;
    double trouble[HP_TROUBLE_COUNT], early = 0.0, late = 0.0;
    for (int k = 0; k < 12; k++) {
        add(&b, &e);
        hp_belief_troubles(&b.belief, trouble);
        for (int t = 1; t < HP_TROUBLE_COUNT; t++)
            *(k < 2 ? &early : &late) = fmax(k < 2 ? early : late, trouble[t]);
    }
    check_true(late < 0.9, "the likeliest trouble has %g, after two looks %g", late, early);
    close_bench(&b);
}

static void the_course_gives_the_steps_between(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_entry entry[] = {trial(1, HP_MOVED_BACKWARD, HP_FEEL_ROUGH, NAN), park(0, 2),
                        trial(2, HP_MOVED_FORWARD, HP_FEEL_SMOOTH, NAN)};
    size_t count = (size_t)b.belief.count;
    double *whole = malloc(4 * count * sizeof *whole), *course = malloc(4 * count * sizeof *course);
    hp_error err = hp_error_none();
    for (int k = 0; k < 4; k++) {
        hp_belief_hypotheses(&b.belief, whole + (size_t)k * count);
        if (k < 3)
            add(&b, &entry[k]);
    }
    check_int(hp_belief_course(&b.belief, course, &err), HP_OK);
    for (size_t h = 0; h < 4 * count; h++)
        check_close(course[h], whole[h], 1e-12, "rounding");
    free(whole);
    free(course);
    close_bench(&b);
}

static void troubles_and_parts(void **state)
{
    (void)state;
    for (int t = 0; t < HP_TROUBLE_COUNT; t++) {
        int inverted;
        hp_fault fault;
        hp_trouble_get(t, &inverted, &fault);
        bool hidden = (fault.kind == HP_FAULT_SENSOR_HIGH || fault.kind == HP_FAULT_SENSOR_LOW) &&
                      fault.which == inverted;
        check_true(hidden || hp_trouble_index(inverted, fault) == t, "trouble %d", t);
        check_true(hp_part_of(t) >= 0 && hp_part_of(t) < HP_PART_COUNT, "part %d", hp_part_of(t));
        check_int(hp_part_of(t) == HP_PART_SOUND, t == HP_TROUBLE_SOUND);
    }
    hp_fault high = {HP_FAULT_SENSOR_HIGH, 2}, low = {HP_FAULT_SENSOR_LOW, 2};
    check_int(hp_part_of(hp_trouble_index(-1, high)), hp_part_of(hp_trouble_index(-1, low)));
}

static void the_likeliest_part_sums_over_what_else_is(void **state)
{
    (void)state;
    double part[HP_PART_COUNT] = {0};
    int which;
    /* Sensor V stuck: alone, or beside an inverted U or W. */
    part[2] = 0.6;
    part[HP_PARTS_EACH + 2] = 0.2;
    part[3 * HP_PARTS_EACH + 2] = 0.1;
    part[2 * HP_PARTS_EACH] = 0.05;
    check_close(hp_part_likeliest(part, &which), 0.9, 1e-12, "rounding");
    check_int(which, 2);
    /* W inverted, alone or with a lead open. */
    part[3 * HP_PARTS_EACH] = 2.0;
    part[3 * HP_PARTS_EACH + 5] = 1.0;
    check_close(hp_part_likeliest(part, &which), 3.1, 1e-12, "rounding");
    check_int(which, 3 * HP_PARTS_EACH);
}

/* A copy takes entries of its own and leaves the original as it was. */
static void a_copy_stands_alone(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_entry one = trial(3, HP_MOVED_BACKWARD, HP_FEEL_ROUGH, 4.0), two = park(1, 3);
    add(&b, &one);
    hp_belief copy;
    assert_int_equal(hp_belief_copy(&b.belief, &copy, NULL), HP_OK);
    double before = b.belief.weight[5];
    assert_int_equal(hp_belief_add(&copy, &two, NULL), HP_OK);
    check_close(b.belief.weight[5], before, 0.0, "the same bytes");
    check_int(b.belief.entries, 1);
    add(&b, &two);
    for (int k = 0; k < b.belief.count * b.belief.members.count; k++)
        check_close(copy.weight[k], b.belief.weight[k], 0.0, "the same bytes");
    hp_belief_free(&copy);
    close_bench(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(starts_at_the_prior),
        cmocka_unit_test(smooth_runs_convince_as_far_as_the_direction_does),
        cmocka_unit_test(amperes_expose_a_false_smooth),
        cmocka_unit_test(readings_point_to_the_wiring),
        cmocka_unit_test(troubles_are_named),
        cmocka_unit_test(two_dead_pairs_name_their_lead),
        cmocka_unit_test(a_mend_clears_what_comes_after_it),
        cmocka_unit_test(contradictions_are_named),
        cmocka_unit_test(nonsense_never_locks),
        cmocka_unit_test(other_throttles_mislead_nobody),
        cmocka_unit_test(a_mended_sensor_is_sound_at_both_levels),
        cmocka_unit_test(a_mend_that_did_not_help_is_found_out),
        cmocka_unit_test(a_second_mend_that_helps_ends_the_doubt),
        cmocka_unit_test(an_exchanged_controller_may_drive_nothing),
        cmocka_unit_test(looking_again_proves_no_fault),
        cmocka_unit_test(the_course_gives_the_steps_between),
        cmocka_unit_test(troubles_and_parts),
        cmocka_unit_test(the_likeliest_part_sums_over_what_else_is),
        cmocka_unit_test(a_copy_stands_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
