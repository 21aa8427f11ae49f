/* Weighing: what may be said adds up to one under every hypothesis, and says what it should. */
#include "check.h"

#include "decide/advise/hypothesis.h"
#include "decide/reading/reading_list.h"
#include "decide/reading/weigh.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

static void what_is_said_adds_up(void **state)
{
    (void)state;
    hp_person persons[] = {hp_person_default(), hp_person_sharp(), hp_person_slipping(0.3)};
    for (int k = 0; k < 3; k++) {
        for (int h = 0; h < HP_HAPPENED_COUNT; h++) {
            double sum = 0.0;
            for (int said = HP_MOVED_FORWARD; said < HP_MOVED_COUNT; said++)
                sum += hp_said_motion(&persons[k], (hp_happening)h, (hp_motion)said);
            check_close(sum, 1.0, 1e-12, "rounding");
        }
        for (int smooth = 0; smooth < 2; smooth++) {
            double sum = 0.0;
            for (int said = HP_FEEL_SMOOTH; said < HP_FEEL_COUNT; said++)
                sum += hp_said_feel(&persons[k], smooth, (hp_feel)said);
            check_close(sum, 1.0, 1e-12, "rounding");
        }
    }
}

/* What a sequence of sights comes to, by looking at each. */
static hp_happening happening_of(const int *sight, int tried, int *starts, bool *smooth)
{
    int way[3] = {0, 0, 0}, rough = 0, shivered = 0;
    *starts = 0;
    for (int k = 0; k < tried; k++) {
        if (hp_sight_turns((hp_sight)sight[k])) {
            ++*starts;
            way[sight[k] / 2]++;
            rough += !hp_sight_smooth((hp_sight)sight[k]);
        }
        shivered += sight[k] == HP_SIGHT_SHIVER;
    }
    *smooth = *starts > 0 && rough == 0;
    if (*starts == 0)
        return shivered > 0 ? HP_HAPPENED_SHIVER : HP_HAPPENED_STILL;
    return way[0] == *starts   ? HP_HAPPENED_FORWARD
           : way[1] == *starts ? HP_HAPPENED_BACKWARD
           : way[2] == *starts ? HP_HAPPENED_HUM
                               : HP_HAPPENED_BOTH;
}

/* Against every sequence of up to four starts. */
static void happenings_are_those_of_all_sequences(void **state)
{
    (void)state;
    hp_shares shares = {.sight = {0.2, 0.15, 0.1, 0.05, 0.12, 0.08, 0.13, 0.17}};
    for (int tried = 1, sequences = 8; tried <= 4; tried++, sequences *= 8) {
        double sum[5][HP_HAPPENED_COUNT][2] = {0}, happened[5][HP_HAPPENED_COUNT][2];
        for (int k = 0; k < sequences; k++) {
            int sight[4], starts;
            bool smooth;
            double probability = 1.0;
            for (int i = 0; i < tried; i++) {
                sight[i] = k >> (3 * i) & 7;
                probability *= shares.sight[sight[i]];
            }
            hp_happening h = happening_of(sight, tried, &starts, &smooth);
            sum[starts][h][smooth] += probability;
        }
        hp_happenings(&shares, tried, happened);
        for (int starts = 0; starts <= tried; starts++)
            for (int h = 0; h < HP_HAPPENED_COUNT; h++)
                for (int smooth = 0; smooth < 2; smooth++)
                    check_close(happened[starts][h][smooth], sum[starts][h][smooth], 1e-13,
                                "rounding");
    }
}

/* All words and counts of a trial together, for every case and motor. */
static void trials_add_up(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    hp_members members;
    assert_int_equal(hp_members_make(&table, &prior.nuisance, &members, NULL), HP_OK);
    int size = hp_weigh_rows(&table) * members.count;
    double *one = malloc((size_t)size * sizeof *one), *sum = calloc((size_t)size, sizeof *sum);
    hp_entry earlier = hp_entry_make(&hp_reading_trial, 1);
    earlier.trial.motion = HP_MOVED_FORWARD;
    earlier.trial.starts = 1;
    earlier.trial.starts_tried = 3;
    const hp_trial *past[] = {&earlier.trial};
    for (int repeats = 0; repeats < 2; repeats++) {
        memset(sum, 0, (size_t)size * sizeof *sum);
        for (int motion = HP_MOVED_FORWARD; motion < HP_MOVED_COUNT; motion++) {
            bool turned = motion < HP_MOVED_SHIVER;
            for (int feel = HP_FEEL_SMOOTH; feel < HP_FEEL_COUNT; feel++) {
                for (int starts = turned; starts <= (turned ? 3 : 0); starts++) {
                    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
                    e.trial.throttle = 0.35;
                    e.trial.motion = (hp_motion)motion;
                    e.trial.feel = (hp_feel)feel;
                    e.trial.starts = starts;
                    e.trial.starts_tried = 3;
                    hp_weigh_trial(&members, &person, &e.trial, past, repeats, one);
                    for (int k = 0; k < size; k++)
                        sum[k] += one[k];
                }
            }
        }
        /* A miscount to none is said as "did not turn" only: those few percent are missing. */
        for (int k = 0; k < size; k++)
            check_close(sum[k], 1.0, person.miscounted, "counts that cannot be said");
    }
    free(one);
    free(sum);
    hp_members_free(&members);
    hp_likelihood_free(&table);
}

/* Densities of numbers integrate to one over the scale that they are densities of. */
static void numbers_integrate_to_one(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    hp_person person = hp_person_default();
    hp_members members = hp_members_plain(&table);
    int size = hp_weigh_rows(&table) * members.count;
    double *one = malloc((size_t)size * sizeof *one), *sum = calloc((size_t)size, sizeof *sum);
    double *bare = malloc((size_t)size * sizeof *bare);
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.throttle = 0.35;
    hp_weigh_trial(&members, &person, &e.trial, NULL, 0, bare);
    const int points = 2000;
    double top = asinh(100.0 / person.current_zero_a);
    for (int k = 0; k < points; k++) {
        e.trial.battery_a = person.current_zero_a * sinh(top * (k + 0.5) / points);
        hp_weigh_trial(&members, &person, &e.trial, NULL, 0, one);
        for (int i = 0; i < size; i++)
            sum[i] += one[i] * top / points;
    }
    /* A reading below zero is not said: of a current near zero up to half the normal law is cut
     * off, so only currents well above are held to it. */
    for (int c = 0; c < table.map.count; c++)
        for (int m = 0; m < table.options.motors; m++) {
            const hp_record *r = hp_likelihood_record(&table, 0, c, m);
            double lowest = fmin(r->current_turning ? hp_grid_value(r->current_turning) : 9.0,
                                 r->current_standing ? hp_grid_value(r->current_standing) : 9.0);
            int at = 2 * c * table.options.motors + m;
            if (lowest > 0.3)
                check_close(sum[at], bare[at], 0.01, "midpoint rule and tails");
        }
    free(one);
    free(sum);
    free(bare);
    hp_likelihood_free(&table);
}

/* Volts on the throttle's signal say what the hand only guesses, of this look and of earlier ones.
 */
static void volts_of_the_throttle_take_the_hand_s_place(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    prior.nuisance.throttle_rest_v = 0.8;
    prior.nuisance.throttle_full_v = 4.0;
    hp_members members;
    assert_int_equal(hp_members_make(&table, &prior.nuisance, &members, NULL), HP_OK);
    check_close(hp_members_share(&members, 1.6), 0.25, 1e-12, "rounding");
    check_close(hp_members_signal(&members, 0.25), 1.6, 1e-12, "rounding");
    check_close(hp_members_share(&members, 0.2), 0.01, 0.0, "never closed");
    check_close(hp_members_share(&members, 4.4), 1.0, 0.0, "never beyond full");
    int size = hp_weigh_rows(&table) * members.count, smooth = hp_smooth_case(&table);
    double *said = malloc((size_t)size * sizeof *said), *told = malloc((size_t)size * sizeof *told);
    hp_entry by_hand = hp_entry_make(&hp_reading_trial, 1), by_volts = by_hand;
    by_hand.trial.throttle = 0.35;
    by_volts.trial.throttle = 0.25;
    by_hand.trial.signal_v = by_volts.trial.signal_v = 1.6;
    by_hand.trial.motion = by_volts.trial.motion = HP_MOVED_FORWARD;
    const double speed = hp_grid_value(hp_likelihood_record(&table, 0, smooth, 0)->wheel_speed);
    by_hand.trial.wheel_rad_s = by_volts.trial.wheel_rad_s = speed * 25.0 / 35.0;
    const hp_trial *past[] = {&by_hand.trial};
    for (int earlier = 0; earlier < 2; earlier++) {
        hp_weigh_trial(&members, &person, &by_hand.trial, past, earlier, said);
        hp_weigh_trial(&members, &person, &by_volts.trial, past, earlier, told);
        for (int k = 0; k < size; k++)
            check_relative(said[k], told[k], 1e-12, "the same run");
    }
    /* A bench on which nothing else is odd: fits by the volts, not by the hand. */
    int own = 0;
    for (int k = 1; k < members.benches; k++)
        if (!members.nuisance[k].one_sided &&
            fabs(log(members.nuisance[k].duty)) < fabs(log(members.nuisance[own].duty)))
            own = k;
    hp_weigh_trial(&members, &person, &by_hand.trial, NULL, 0, told);
    by_hand.trial.signal_v = NAN;
    hp_weigh_trial(&members, &person, &by_hand.trial, NULL, 0, said);
    int at = 2 * smooth * members.count + own;
    check_true(told[at] > 3.0 * said[at], "%g by the volts, %g by the hand", told[at], said[at]);
    free(said);
    free(told);
    hp_members_free(&members);
    hp_likelihood_free(&table);
}

/* Weight of a trial of the smooth wiring for the first member. */
static double weigh_smooth(const hp_members *members, const hp_trial *trial,
                           const hp_trial *earlier)
{
    hp_person person = hp_person_default();
    int at = 2 * hp_smooth_case(members->table) * members->count;
    double *all = malloc((size_t)(hp_weigh_rows(members->table) * members->count) * sizeof *all);
    hp_weigh_trial(members, &person, trial, &earlier, earlier ? 1 : 0, all);
    double own = all[at];
    free(all);
    return own;
}

/* Where the current may pause within a PWM period, a smooth, free wheel runs faster than its duty;
 * at full duty nothing pauses. */
static void a_current_that_pauses_makes_a_smooth_wheel_faster(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    hp_members members = hp_members_plain(&table);
    hp_nuisance *pauses = malloc((size_t)members.count * sizeof *pauses);
    for (int k = 0; k < members.count; k++)
        pauses[k] = (hp_nuisance){.duty = 1.0, .coasting = 1.8, .one_sided = true, .friction = 1.0};
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_FORWARD;
    double usual =
        hp_grid_value(hp_likelihood_record(&table, 0, hp_smooth_case(&table), 0)->wheel_speed);
    e.trial.wheel_rad_s = usual;
    double even = weigh_smooth(&members, &e.trial, NULL);
    e.trial.wheel_rad_s = 1.8 * usual;
    double odd = weigh_smooth(&members, &e.trial, NULL);
    members.nuisance = pauses;
    double paused = weigh_smooth(&members, &e.trial, NULL);
    check_relative(paused, even, 0.05, "the same law, shifted; the slope of speed over duty");
    check_true(paused > 20.0 * odd, "%g paused, %g not", paused, odd);
    free(pauses);
    hp_likelihood_free(&table);
}

/* A current far from all that is usual, read once, is a slip as like as not; read twice it is a
 * fact about the machine. */
static void a_figure_that_comes_back_is_a_fact(void **state)
{
    (void)state;
    hp_likelihood table = default_table();
    hp_members members = hp_members_plain(&table);
    double usual =
        hp_grid_value(hp_likelihood_record(&table, 0, hp_smooth_case(&table), 0)->current_turning);
    hp_entry odd = hp_entry_make(&hp_reading_trial, 2),
             before = hp_entry_make(&hp_reading_trial, 1);
    odd.trial.throttle = before.trial.throttle = 0.35;
    odd.trial.motion = before.trial.motion = HP_MOVED_FORWARD;
    odd.trial.battery_a = 8.0 * fmax(usual, 0.2);
    before.trial.battery_a = usual;
    double slip = weigh_smooth(&members, &odd.trial, &before.trial);
    before.trial.battery_a = odd.trial.battery_a;
    double fact = weigh_smooth(&members, &odd.trial, &before.trial);
    check_true(fact > 20.0 * slip, "%g after the same, %g after the usual", fact, slip);
    hp_likelihood_free(&table);
}

/* ---- readings -------------------------------------------------------------------------------- */

typedef struct bench {
    hp_likelihood table;
    hp_person person;
} bench;

static double weigh(const bench *b, const hp_entry *entry, const hp_hypothesis *h)
{
    return hp_weigh_reading(&b->table, &b->person, entry, h, 0, NULL);
}

/* Calls `sum` for a spread of hypotheses and holds it to one. */
static void every_hypothesis(double (*sum)(const bench *, const hp_hypothesis *))
{
    bench b = {default_table(), hp_person_default()};
    for (int r = 0; r < HP_RELATION_COUNT; r++)
        for (int i = -1; i < 3; i++)
            for (int f = 0; f < HP_FAULT_COUNT; f++) {
                hp_hypothesis h = {r, r, i, hp_fault_from_index(f)};
                check_close(sum(&b, &h), 1.0, 1e-12, "rounding");
            }
    hp_likelihood_free(&b.table);
}

static double sum_pins(const bench *b, const hp_hypothesis *h)
{
    double sum = 0.0;
    for (int k = 0; k < 8; k++) {
        hp_entry e = hp_entry_make(&hp_reading_pins, 1);
        for (int p = 0; p < 3; p++)
            e.pins.open[p] = k >> p & 1 ? HP_TELL_YES : HP_TELL_NO;
        sum += weigh(b, &e, h);
    }
    return sum;
}

static double sum_park(const bench *b, const hp_hypothesis *h)
{
    double sum = 0.0;
    for (int code = 0; code < 8; code++)
        for (int current = 0; current < 2; current++) {
            hp_entry e = hp_entry_make(&hp_reading_park, 1);
            e.park.lead = 1;
            e.park.code = code;
            e.park.no_current = current ? HP_TELL_YES : HP_TELL_NO;
            sum += weigh(b, &e, h);
        }
    return sum;
}

/* All sequences of three codes. A rotor that does turn shows one code too, with its own small
 * probability, which is counted apart. */
static double sum_turn(const bench *b, const hp_hypothesis *h)
{
    double sum = 0.0;
    for (int k = 0; k < 512; k++) {
        hp_entry e = hp_entry_make(&hp_reading_hand_turn, 1);
        e.hand_turn.count = 3;
        for (int i = 0; i < 3; i++)
            e.hand_turn.code[i] = k >> (3 * i) & 7;
        sum += weigh(b, &e, h);
    }
    return sum;
}

static double sum_learn(const bench *b, const hp_hypothesis *h)
{
    hp_entry e = hp_entry_make(&hp_reading_learn, 1);
    e.learn.worked = HP_TELL_YES;
    double sum = weigh(b, &e, h);
    e.learn.worked = HP_TELL_NO;
    return sum + weigh(b, &e, h);
}

static void pins_add_up(void **state)
{
    (void)state;
    every_hypothesis(sum_pins);
}

static void parks_add_up(void **state)
{
    (void)state;
    every_hypothesis(sum_park);
}

static void hand_turns_add_up(void **state)
{
    (void)state;
    every_hypothesis(sum_turn);
}

/* Behind a one-way clutch no code changes forward. Codes that do were seen backward, whatever way
 * was written down or left out, and tell the same of every relation; one code tells nothing then.
 */
static void codes_that_change_forward_of_a_clutch_were_seen_backward(void **state)
{
    (void)state;
    static const int ring[] = {4, 6, 2, 3, 1, 5, 4};
    bench b = {default_table(), hp_person_default()};
    b.table.nominal.stand.clutch = true;
    hp_entry said = hp_entry_make(&hp_reading_hand_turn, 1);
    said.hand_turn.count = 7;
    memcpy(said.hand_turn.code, ring, sizeof ring);
    hp_entry told = said, one = said;
    told.hand_turn.backward = true;
    one.hand_turn.count = 1;
    double most = 0.0, least = 1.0;
    for (int r = 0; r < HP_RELATION_COUNT; r++) {
        const hp_hypothesis sound = {r, r, -1, {HP_FAULT_NONE, 0}},
                            stuck = {r, r, -1, {HP_FAULT_SENSOR_LOW, 0}},
                            slips = {r, r, -1, {HP_FAULT_CLUTCH, 0}};
        double weight = weigh(&b, &said, &sound);
        /* Written down rightly, the share of those who turned the other way counts against it. */
        if (weigh(&b, &told, &sound) > 0.5 * (1.0 - b.person.turned_back) / 6.0)
            check_relative(weight / b.person.turned_back,
                           weigh(&b, &told, &sound) / (1.0 - b.person.turned_back), 0.06,
                           "the slip of the way");
        most = fmax(most, weight);
        least = fmin(least, weight);
        check_true(weigh(&b, &said, &stuck) < 1e-3 * b.person.turned_back, "%d: stuck", r);
        check_true(weigh(&b, &said, &slips) < 1e-3 * b.person.turned_back, "%d: slips", r);
        check_relative(weigh(&b, &one, &sound), weigh(&b, &one, &slips), 0.06,
                       "turned_back, and a code alone");
    }
    check_true(most > 1e3 * least, "the codes tell relations apart: %g, %g", most, least);
    hp_likelihood_free(&b.table);
}

static void learning_adds_up(void **state)
{
    (void)state;
    every_hypothesis(sum_learn);
}

/* One row of a probe: six pairs and off. */
static void probe_rows_add_up(void **state)
{
    (void)state;
    bench b = {default_table(), hp_person_default()};
    for (int t = 0; t < HP_TABLE_COUNT; t++) {
        hp_hypothesis h = {0, t, -1, {HP_FAULT_NONE, 0}};
        double sum = 0.0;
        for (int high = -1; high < 3; high++)
            for (int low = -1; low < 3; low++) {
                if ((high < 0) != (low < 0) || (high >= 0 && high == low))
                    continue;
                hp_entry e = hp_entry_make(&hp_reading_probe, 1);
                e.probe.read[5] = true;
                e.probe.row[5] = (hp_commutation_row){high, low};
                sum += weigh(&b, &e, &h);
            }
        check_close(sum, 1.0, 1e-12, "rounding");
    }
    hp_likelihood_free(&b.table);
}

/* Winding: the density of a sound pair's ohms and the chance of "open" add up. */
static void ohms_add_up(void **state)
{
    (void)state;
    bench b = {default_table(), hp_person_default()};
    for (int f = 0; f < HP_FAULT_COUNT; f += 7) {
        hp_hypothesis h = {0, 0, -1, hp_fault_from_index(f)};
        hp_entry e = hp_entry_make(&hp_reading_winding, 1);
        e.winding.ohm[0] = INFINITY;
        double sum = weigh(&b, &e, &h), top = asinh(1000.0 / b.person.ohm_zero);
        const int points = 20000;
        for (int k = 0; k < points; k++) {
            e.winding.ohm[0] = b.person.ohm_zero * sinh(top * (k + 0.5) / points);
            sum += weigh(&b, &e, &h) * top / points;
        }
        check_close(sum, 1.0, 0.01, "the part of the normal law below zero ohm");
    }
    hp_likelihood_free(&b.table);
}

/* The volts of the right size are told from those of twice the back-EMF constant, whatever the
 * meter: peak 2 ke w, rms by the sine's or the trapezoid's own form. */
static void volts_fit_the_back_emf(void **state)
{
    (void)state;
    bench b = {default_table(), hp_person_default()};
    const hp_drive *drive = &b.table.motor[0];
    hp_hypothesis sound = {0, 0, -1, {HP_FAULT_NONE, 0}};
    hp_entry e = hp_entry_make(&hp_reading_spin, 1);
    e.spin.wheel_rad_s = 10.0;
    e.spin.kind = HP_VOLT_PEAK;
    double peak = 2.0 * drive->motor.ke * 10.0;
    e.spin.volts[0] = peak;
    double fits = weigh(&b, &e, &sound);
    e.spin.volts[0] = 2.0 * peak;
    check_true(fits > 50.0 * weigh(&b, &e, &sound), "twice the volts weigh too much");
    hp_hypothesis open = {0, 0, -1, {HP_FAULT_LEAD_OPEN, 1}};
    e.spin.volts[0] = 0.0;
    /* A dead pair is one word, "no volts": it weighs what the person's slips let it weigh. */
    check_relative(weigh(&b, &e, &open) / weigh(&b, &e, &sound),
                   (1.0 - b.person.pair_misread) / b.person.pair_misread, 1e-12, "rounding");
    hp_likelihood_free(&b.table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_said_adds_up),
        cmocka_unit_test(happenings_are_those_of_all_sequences),
        cmocka_unit_test(trials_add_up),
        cmocka_unit_test(numbers_integrate_to_one),
        cmocka_unit_test(volts_of_the_throttle_take_the_hand_s_place),
        cmocka_unit_test(a_current_that_pauses_makes_a_smooth_wheel_faster),
        cmocka_unit_test(a_figure_that_comes_back_is_a_fact),
        cmocka_unit_test(pins_add_up),
        cmocka_unit_test(parks_add_up),
        cmocka_unit_test(hand_turns_add_up),
        cmocka_unit_test(codes_that_change_forward_of_a_clutch_were_seen_backward),
        cmocka_unit_test(learning_adds_up),
        cmocka_unit_test(probe_rows_add_up),
        cmocka_unit_test(ohms_add_up),
        cmocka_unit_test(volts_fit_the_back_emf),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
