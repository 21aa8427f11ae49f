/*
 * Weights of entries worked out by hand: volts from the back-EMF's own geometry, words and counts
 * in a world so plain that Bayes' rule can be done on paper.
 */
#include "check.h"

#include "decide/advise/belief.h"
#include "decide/advise/hypothesis.h"
#include "decide/advise/likelihood_parts.h"
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

static void open_bench(bench *b, hp_likelihood table)
{
    hp_error err = hp_error_none();
    *b = (bench){.table = table, .person = hp_person_default(), .prior = hp_prior_plain()};
    check_true(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err) == HP_OK, "%s",
               err.text);
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

/* ---- volts of a turned motor ----------------------------------------------------------------- */

/* Weight of one pair's volts at 10 rad/s of the wheel, of one sound motor. */
static double weigh_volts(const hp_drive *drive, hp_volt_kind kind, double volts)
{
    hp_drive copy = *drive;
    hp_likelihood table = {.motor = &copy, .nominal = copy};
    hp_person person = hp_person_default();
    hp_hypothesis sound = {0, 0, -1, {HP_FAULT_NONE, 0}};
    hp_entry e = hp_entry_make(&hp_reading_spin, 1);
    e.spin.wheel_rad_s = 10.0;
    e.spin.kind = kind;
    e.spin.volts[1] = volts;
    return hp_weigh_reading(&table, &person, &e, &sound, 0, NULL);
}

/* Volts at which the weight is largest, within a percent. */
static double best_volts(const hp_drive *drive, hp_volt_kind kind)
{
    double best = 0.0, most = 0.0;
    for (double volts = 0.1; volts < 100.0; volts *= 1.01) {
        double weight = weigh_volts(drive, kind, volts);
        if (weight > most) {
            most = weight;
            best = volts;
        }
    }
    return best;
}

/* Two phases 120 degrees apart of a sinusoidal motor make sqrt(3) times one phase's peak between
 * two leads. A true-rms meter shows it over sqrt(2); so does a plain a.c. meter, whose scale is
 * made for sines. Of a trapezoid flat over 120 degrees the peak is twice one phase's, for a third
 * of the time: its rms is 2 sqrt(2/3) of it less the flanks, and the plain meter shows less. A gear
 * turns the rotor so many times faster. */
static void volts_of_every_meter(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    const double one = drive.motor.ke * 10.0;
    drive.stand.gear_ratio = 1.0;
    drive.motor.backemf = hp_backemf_sinusoidal();
    check_relative(best_volts(&drive, HP_VOLT_PEAK), sqrt(3.0) * one, 0.01, "steps of a percent");
    check_relative(best_volts(&drive, HP_VOLT_RMS), sqrt(1.5) * one, 0.01, "steps of a percent");
    check_relative(best_volts(&drive, HP_VOLT_AVERAGE), sqrt(1.5) * one, 0.01,
                   "steps of a percent");
    drive.stand.gear_ratio = 4.4;
    check_relative(best_volts(&drive, HP_VOLT_RMS), 4.4 * sqrt(1.5) * one, 0.01,
                   "steps of a percent");
    drive.stand.gear_ratio = 1.0;
    drive.motor.backemf = hp_drive_default().motor.backemf;
    check_relative(best_volts(&drive, HP_VOLT_PEAK), 2.0 * one, 0.01, "steps of a percent");
}

/* ---- a plain world --------------------------------------------------------------------------- */

/* One motor, many runs. A right wiring always runs forward smoothly, a reversed one backward, the
 * others stand; and the controller cuts out those whose field turns against the rotor, of which
 * sensors and phases are of opposite parity. */
static hp_likelihood plain_world(void)
{
    hp_likelihood table;
    hp_error err = hp_error_none();
    hp_drive drive = hp_drive_default();
    hp_likelihood_options options = hp_likelihood_options_default();
    options.motors = options.levels = 1;
    check_true(hp_likelihood_prepare(&drive, &options, &table, &err) == HP_OK, "%s", err.text);
    for (int c = 0; c < table.map.count; c++) {
        hp_behaviour b = hp_behaviour_from_raw(table.map.raw[c]);
        const int *h = b.wiring.sensor, *p = b.wiring.phase;
        bool even = (h[1] - h[0] + 3) % 3 == 1, phases_even = (p[1] - p[0] + 3) % 3 == 1;
        bool sound = b.inverted < 0 && b.fault.kind == HP_FAULT_NONE;
        bool smooth = sound && memcmp(h, p, 3 * sizeof *h) == 0;
        hp_record *r = &table.record[c];
        r->sight[!smooth ? HP_SIGHT_STILL
                 : even  ? HP_SIGHT_FORWARD_SMOOTH
                         : HP_SIGHT_BACKWARD_SMOOTH] = 250;
        r->cut_out = !smooth && even != phases_even ? 250 : 0;
    }
    return table;
}

/* Nothing is broken and the table is known: twelve relations. */
static void open_plain(bench *b)
{
    hp_error err = hp_error_none();
    open_bench(b, plain_world());
    hp_belief_free(&b->belief);
    b->prior.table_stated = 1.0;
    b->prior.inverted = b->prior.sensor_fault = b->prior.lead_open = 0.0;
    check_int(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err), HP_OK);
    check_int(b->belief.count, 12);
}

/* Share of the relations under which wiring 1 is of this kind: smooth, or opposed. */
static double share(const bench *b, bool smooth)
{
    double sum = 0.0, p[12];
    hp_wiring one = hp_wiring_from_number(1);
    hp_belief_hypotheses(&b->belief, p);
    for (int h = 0; h < 12; h++) {
        hp_wiring w = hp_wiring_effective(b->belief.hypothesis[h].relation, 0, &one);
        bool same = memcmp(w.sensor, w.phase, sizeof w.phase) == 0;
        bool even = (w.sensor[1] - w.sensor[0] + 3) % 3 == 1;
        bool phases_even = (w.phase[1] - w.phase[0] + 3) % 3 == 1;
        sum += (smooth ? same : even != phases_even) ? p[h] : 0.0;
    }
    return sum;
}

/* Bayes' rule for two classes of relations, `first` of twelve with weight a, the others with b; `n`
 * of 36 wirings are of the first class, in case other leads were joined than told. */
static double two_classes(const hp_person *p, int first, int n, double a, double b)
{
    double mean = (n * a + (36 - n) * b) / 36.0;
    double x = (1.0 - p->wrong_wiring) * a + p->wrong_wiring * mean;
    double y = (1.0 - p->wrong_wiring) * b + p->wrong_wiring * mean, most = fmax(x, y);
    x = p->wrong_entry + (1.0 - p->wrong_entry) * x / most;
    y = p->wrong_entry + (1.0 - p->wrong_entry) * y / most;
    return first * x / (first * x + (12 - first) * y);
}

static hp_entry bare_trial(const bench *b)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 1);
    e.trial.wiring = hp_wiring_from_number(1);
    e.trial.throttle = b->table.nominal.controller.throttle;
    return e;
}

/* It stood, and cut out or did not. Smooth wirings, two of twelve, would have turned. Of the ten
 * that stand six are opposed and are always cut out, four never. */
static void a_cut_out_by_hand(void **state)
{
    (void)state;
    for (int cut = 0; cut < 2; cut++) {
        bench b;
        open_plain(&b);
        double before = share(&b, false), missed = b.person.cut_out_missed;
        hp_entry e = bare_trial(&b);
        e.trial.motion = HP_MOVED_STILL;
        e.trial.cut_out = cut ? HP_TELL_YES : HP_TELL_NO;
        add(&b, &e);
        check_close(before, 6.0 / 12.0, 1e-12, "rounding");
        /* Among those that stand: 6 to 4, times the odds of what was said. */
        double imagined = HP_CUT_OUT_IMAGINED;
        double odds = 6.0 / 4.0 * (cut ? (1.0 - missed) / imagined : missed / (1.0 - imagined));
        check_close(share(&b, false) / (1.0 - share(&b, true)), odds / (1.0 + odds), 0.01,
                    "other leads joined than told, one time in a hundred");
        close_bench(&b);
    }
}

/* Something grew warm, and nothing else is said: half of the rough or standing trials leave
 * something warm, few of the smooth. */
static void warmth_by_hand(void **state)
{
    (void)state;
    const double slip = 0.03; /* trial_said.c: warmth imagined, or not felt */
    for (int warm = 0; warm < 2; warm++) {
        bench b;
        open_plain(&b);
        hp_entry e = bare_trial(&b);
        e.trial.warm = warm ? HP_TELL_YES : HP_TELL_NO;
        add(&b, &e);
        double smooth = warm ? slip : 1.0 - slip, standing = 0.5;
        check_close(share(&b, true), two_classes(&b.person, 2, 6, smooth, standing), 2e-3,
                    "runs that the smoothing adds to the 250");
        check_int(share(&b, true) < 2.0 / 12.0, warm);
        close_bench(&b);
    }
}

/* Learning that failed speaks for a broken part, learning that went well against it, each as often
 * as it happens: nine times in ten with sound parts, one in twenty with a fault. */
static void learning_by_hand(void **state)
{
    (void)state;
    for (int worked = 0; worked < 2; worked++) {
        bench b;
        double trouble[HP_TROUBLE_COUNT];
        open_bench(&b, default_table());
        hp_belief_free(&b.belief);
        b.prior.inverted = 0.0;
        assert_int_equal(hp_belief_create(&b.table, &b.person, &b.prior, &b.belief, NULL), HP_OK);
        hp_belief_troubles(&b.belief, trouble);
        double before = trouble[HP_TROUBLE_SOUND] / (1.0 - trouble[HP_TROUBLE_SOUND]);
        hp_entry e = hp_entry_make(&hp_reading_learn, 1);
        e.learn.worked = worked ? HP_TELL_YES : HP_TELL_NO;
        add(&b, &e);
        hp_belief_troubles(&b.belief, trouble);
        double odds = before * (worked ? 0.9 / 0.05 : 0.1 / 0.95);
        check_close(trouble[HP_TROUBLE_SOUND], odds / (1.0 + odds), 1e-3,
                    "worthless entries, one in ten thousand");
        close_bench(&b);
    }
}

/* ---- looking again --------------------------------------------------------------------------- */

/* How far the motors' weights moved between two beliefs: half the sum of the differences. */
static double moved(const bench *a, const bench *b)
{
    double one[HP_LIKELIHOOD_MOTORS], other[HP_LIKELIHOOD_MOTORS], sum = 0.0;
    hp_belief_motors(&a->belief, one);
    hp_belief_motors(&b->belief, other);
    for (int m = 0; m < a->belief.members.count; m++)
        sum += 0.5 * fabs(one[m] - other[m]);
    return sum;
}

static double largest(const bench *b)
{
    double weight[HP_LIKELIHOOD_MOTORS], most = 0.0;
    hp_belief_motors(&b->belief, weight);
    for (int m = 0; m < b->belief.members.count; m++)
        most = fmax(most, weight[m]);
    return most;
}

/* The same amperes read ten times tell what the meter shows, not more of which motor it is: the
 * machine at the bench is none of the ensemble's, and departs from the nearest by a factor of its
 * own. The first look says nearly all there is to say of that. */
static void the_same_amperes_ten_times(void **state)
{
    (void)state;
    bench once, often;
    open_bench(&once, default_table());
    open_bench(&often, default_table());
    hp_entry e = bare_trial(&once);
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.battery_a = 4.0;
    add(&once, &e);
    for (int k = 0; k < 10; k++)
        add(&often, &e);
    check_true(largest(&often) < 2.0 * largest(&once) && largest(&often) < 0.3,
               "one motor has %g after one look, %g after ten", largest(&once), largest(&often));
    check_true(moved(&once, &often) < 0.5, "moved %g", moved(&once, &often));
    close_bench(&once);
    close_bench(&often);
}

/* Nor do the same counts: what this machine does from its rest angles was seen at the first look.
 * The hypotheses that explain "three of six" by themselves gain little on those that the ensemble's
 * scatter lets do so. */
static void the_same_count_ten_times(void **state)
{
    (void)state;
    bench b;
    double trouble[HP_TROUBLE_COUNT];
    open_bench(&b, default_table());
    hp_entry e = bare_trial(&b);
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.starts = 3;
    e.trial.starts_tried = 6;
    double early = 0.0, late = 0.0;
    for (int k = 0; k < 10; k++) {
        add(&b, &e);
        hp_belief_troubles(&b.belief, trouble);
        if (k == 1)
            early = trouble[HP_TROUBLE_SOUND];
        late = trouble[HP_TROUBLE_SOUND];
    }
    print_message("sound after two looks %g, after ten %g\n", early, late);
    check_true(late > 0.5 * early, "sound with %g after two looks, %g after ten", early, late);
    close_bench(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(volts_of_every_meter),
        cmocka_unit_test(a_cut_out_by_hand),
        cmocka_unit_test(warmth_by_hand),
        cmocka_unit_test(learning_by_hand),
        cmocka_unit_test(the_same_amperes_ten_times),
        cmocka_unit_test(the_same_count_ten_times),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
