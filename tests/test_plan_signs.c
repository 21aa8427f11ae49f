/*
 * Signs of what no wiring does, and the questions that they bring: a contact that fails now and
 * then, runs that all cut out, a limit that is never left, a table that nobody knows.
 */
#include "decide/advise/plan_parts.h"
#include "plan_bench.h"

#include <math.h>

/* A bench where everything may be asked, and what is not simulated may be true. */
static bench open_real(unsigned allowed)
{
    bench b = make(hp_person_default());
    b.prior = hp_prior_default();
    b.params.allowed = allowed;
    return b;
}

static hp_entry run_of(int number, double amps, double rpm)
{
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.wiring = hp_wiring_from_number(number);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    e.trial.starts = e.trial.starts_tried = 6;
    e.trial.battery_a = amps;
    e.trial.wheel_rad_s = rpm * HP_RPM;
    return e;
}

static unsigned asked_on_demand(void)
{
    return hp_allow(&hp_reading_controls) | hp_allow(&hp_reading_drag) |
           hp_allow(&hp_reading_contacts);
}

static void check_asks(const bench *b, const hp_reading *reading, const char *what)
{
    hp_advice advice = next(b);
    check_true(advice.kind == HP_ADVICE_READ && advice.reading == reading,
               "%s: kind %d, reading %s", what, (int)advice.kind,
               advice.kind == HP_ADVICE_READ ? hp_reading_name(advice.reading) : "none");
}

static void one_start_of_six_that_fails_asks_for_the_contacts(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 0.1, 78.0);
    e.trial.starts = 5;
    add(&b, e);
    check_asks(&b, &hp_reading_contacts, "5 of 6 starts");
    check_int(next(&b).why, HP_WHY_GOES_ON);
    hp_entry held = hp_entry_make(&hp_reading_contacts, 0);
    held.contacts.loose = HP_CONTACT_NOTHING;
    add(&b, held);
    check_true(next(&b).reading != &hp_reading_contacts, "asked again at once");
    close_bench(&b);
}

static void two_looks_that_differ_ask_for_the_contacts(void **state)
{
    (void)state;
    const struct {
        double amps, rpm;
        bool differs;
    } second[] = {{0.45, 78.0, true}, {0.26, 78.0, false}, {0.24, 40.0, true}, {0.24, 75.0, false}};
    for (size_t k = 0; k < sizeof second / sizeof second[0]; k++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        add(&b, run_of(1, 0.24, 78.0));
        add(&b, run_of(1, second[k].amps, second[k].rpm));
        check_int(hp_plan_unsteady(&b.belief, 0.0), second[k].differs);
        close_bench(&b);
    }
}

/* With a switch whose lowest step gives half, what is slower by that and draws no more is the
 * switch; slower still, or at more current, or rough, it is not. */
static void another_speed_step_is_no_sign(void **state)
{
    (void)state;
    const struct {
        double amps, rpm;
        hp_feel feel;
        bool sign;
    } second[] = {{0.15, 40.0, HP_FEEL_SMOOTH, false}, {0.1, 50.0, HP_FEEL_SMOOTH, false},
                  {0.15, 30.0, HP_FEEL_SMOOTH, true},  {0.9, 40.0, HP_FEEL_SMOOTH, true},
                  {0.15, 40.0, HP_FEEL_ROUGH, true},   {0.5, 80.0, HP_FEEL_SMOOTH, true}};
    for (size_t k = 0; k < sizeof second / sizeof second[0]; k++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        add(&b, run_of(1, 0.24, 80.0));
        hp_entry e = run_of(1, second[k].amps, second[k].rpm);
        e.trial.feel = second[k].feel;
        add(&b, e);
        check_true(hp_plan_unsteady(&b.belief, 0.5) == second[k].sign, "%zu", k);
        if (second[k].rpm < 60.0)
            check_true(hp_plan_unsteady(&b.belief, 0.0), "%zu, no switch", k);
        close_bench(&b);
    }
}

/* What is wired wrong starts from some places only, and two wirings may differ as they like. */
static void what_wirings_do_is_no_sign(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry rough = run_of(4, 3.0, 60.0);
    rough.trial.feel = HP_FEEL_ROUGH;
    rough.trial.starts = 3;
    add(&b, rough);
    add(&b, run_of(1, 0.1, 78.0));
    check_true(!hp_plan_unsteady(&b.belief, 0.0), "a sign where there is none");
    close_bench(&b);
}

/* A limit that is left from some places and not from others is not spoken of; once may be
 * forgotten. */
static void a_limit_of_which_twice_nothing_is_said_is_a_sign(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 0.3, 78.0);
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.8;
    add(&b, e);
    check_true(!hp_plan_unsteady(&b.belief, 0.0), "once");
    add(&b, e);
    check_true(hp_plan_unsteady(&b.belief, 0.0), "twice");
    close_bench(&b);
}

/* A rough run that draws less than its limit, of which nothing is said, left it from some places:
 * one is enough, whatever the wiring. */
static void a_rough_run_that_draws_too_little_for_its_limit_is_a_sign(void **state)
{
    const struct {
        hp_feel feel;
        double amps;
        hp_tell reached;
        bool sign;
    } run[] = {{HP_FEEL_ROUGH, 0.5, HP_TELL_UNSAID, true},
               {HP_FEEL_ROUGH, 1.7, HP_TELL_UNSAID, false},
               {HP_FEEL_ROUGH, 0.5, HP_TELL_YES, false},
               {HP_FEEL_ROUGH, 0.5, HP_TELL_NO, false},
               {HP_FEEL_SMOOTH, 0.5, HP_TELL_UNSAID, false}};
    (void)state;
    for (size_t k = 0; k < sizeof run / sizeof run[0]; k++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        hp_entry e = run_of(3, run[k].amps, 52.0);
        e.trial.feel = run[k].feel;
        e.trial.starts = 4;
        e.trial.feed = HP_FEED_BENCH_SUPPLY;
        e.trial.limit_a = 1.8;
        e.trial.limit_reached = run[k].reached;
        if (run[k].feel == HP_FEEL_SMOOTH)
            e.trial.starts = 6; /* else a start missed is a sign of its own */
        add(&b, e);
        check_int(hp_plan_unsteady(&b.belief, 0.0), run[k].sign);
        close_bench(&b);
    }
}

/* What stood and hardly can be correct stands when it is looked at again: another wiring is tried.
 */
static void what_stood_is_not_looked_at_again(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 0.34, (double)NAN);
    e.trial.motion = HP_MOVED_STILL;
    e.trial.feel = HP_FEEL_UNSAID;
    e.trial.starts = 0;
    e.trial.cut_out = HP_TELL_YES;
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.8;
    e.trial.limit_reached = HP_TELL_YES;
    const int tried[] = {1, 3, 4, 2};
    for (int k = 0; k < 4; k++) {
        e.trial.wiring = hp_wiring_from_number(tried[k]);
        add(&b, e);
        hp_advice advice = next(&b);
        check_true(advice.kind == HP_ADVICE_TRY && advice.number != tried[k], "after %d: %d of %d",
                   tried[k], (int)advice.kind, advice.number);
    }
    close_bench(&b);
}

/* A supply that gives way may have made it cut out, where it ran on until its current was read. */
static void a_cut_out_that_its_limit_may_have_made_does_not_count(void **state)
{
    (void)state;
    for (int read = 0; read < 2; read++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        hp_entry e = run_of(1, read ? 0.18 : (double)NAN, 47.0);
        e.trial.cut_out = HP_TELL_YES;
        e.trial.feed = HP_FEED_BENCH_SUPPLY;
        e.trial.limit_a = 1.8;
        add(&b, e);
        add(&b, e);
        check_int(hp_plan_cut_outs(&b.belief), read ? 0 : 2);
        close_bench(&b);
    }
}

/* What was found loose is mended: the trials before it are no evidence of the parts as they are. */
static void a_contact_that_is_found_is_mended(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 0.45, 78.0), found = hp_entry_make(&hp_reading_contacts, 0);
    e.trial.starts = 5;
    add(&b, e);
    found.contacts.loose = HP_CONTACT_HALL_LEAD;
    add(&b, found);
    check_true(hp_belief_changes(&b.belief, 1), "nothing mended");
    check_int(hp_plan_trials_since_mend(&b.belief), 0);
    check_true(!hp_plan_unsteady(&b.belief, 0.0), "the sign stays");
    double probability[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b.belief, probability);
    check_close(probability[hp_trouble_index(-1, (hp_fault){HP_FAULT_LOOSE, 0})], 0.0, 1e-9,
                "it is mended");
    close_bench(&b);
}

/* Who tugged every lead twice has found what can be felt, whatever the trials say. */
static void the_contacts_are_asked_for_twice_at_most(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 0.1, 78.0), held = hp_entry_make(&hp_reading_contacts, 0);
    e.trial.starts = 5;
    held.contacts.loose = HP_CONTACT_NOTHING;
    int asked = 0;
    for (int k = 0; k < 5; k++) {
        add(&b, e);
        hp_advice advice = next(&b);
        if (advice.kind == HP_ADVICE_READ && advice.reading == &hp_reading_contacts) {
            asked++;
            add(&b, held);
        }
    }
    check_int(asked, 2);
    close_bench(&b);
}

static double chance_of(const bench *b, hp_fault_kind kind)
{
    double probability[HP_TROUBLE_COUNT];
    hp_belief_troubles(&b->belief, probability);
    return probability[hp_trouble_index(-1, (hp_fault){kind, 0})];
}

/* What ran well and stands when it is tried again has a lead that makes contact now and then, or
 * something that cuts it out before it starts. */
static void what_runs_and_then_stands_is_loose_or_cut_out(void **state)
{
    (void)state;
    const hp_fault_kind kind[] = {HP_FAULT_LOOSE, HP_FAULT_CUTTING_OUT};
    /* Any lead may be the loose one, and few of them keep it from every start. */
    const double times[] = {1.5, 100.0};
    for (int k = 0; k < 2; k++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        hp_entry runs = run_of(1, 0.1, 78.0), stands = run_of(1, (double)NAN, (double)NAN);
        stands.trial.motion = HP_MOVED_STILL;
        stands.trial.feel = HP_FEEL_UNSAID;
        stands.trial.starts = 0;
        stands.trial.cut_out = k == 1 ? HP_TELL_YES : HP_TELL_UNSAID;
        add(&b, runs);
        double before = chance_of(&b, kind[k]) / chance_of(&b, HP_FAULT_NONE);
        add(&b, stands);
        double after = chance_of(&b, kind[k]) / chance_of(&b, HP_FAULT_NONE);
        check_true(after > times[k] * before, "no. %d: odds %g after %g", k, after, before);
        close_bench(&b);
    }
}

/* Every lead that holds makes a loose one less likely, as often as a stick finds one. */
static void leads_that_hold_speak_against_a_loose_one(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    double before = chance_of(&b, HP_FAULT_LOOSE);
    hp_entry held = hp_entry_make(&hp_reading_contacts, 0);
    held.contacts.loose = HP_CONTACT_NOTHING;
    add(&b, held);
    double after = chance_of(&b, HP_FAULT_LOOSE);
    check_close(after / before, 0.4 / 0.99, 0.01, "the others make up nearly all");
    close_bench(&b);
}

/* ... and a checklist by volts that finds nothing makes a silent controller less likely, as a probe
 * that finds every output off makes it nearly sure. */
static void the_controls_and_the_probe_speak_of_a_silent_controller(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    double before = chance_of(&b, HP_FAULT_SILENT);
    hp_entry sound = hp_entry_make(&hp_reading_controls, 0);
    sound.controls.found = HP_FOUND_NOTHING;
    add(&b, sound);
    check_close(chance_of(&b, HP_FAULT_SILENT) / before, 0.05 / 0.97, 0.01,
                "the others make up nearly all");
    close_bench(&b);
    b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry off = hp_entry_make(&hp_reading_probe, 0);
    for (int code = 1; code < HP_CODE_COUNT - 1; code++)
        off.probe.read[code] = true;
    add(&b, off);
    check_true(chance_of(&b, HP_FAULT_SILENT) > 0.9, "%g", chance_of(&b, HP_FAULT_SILENT));
    close_bench(&b);
}

/* Nothing found: it is not asked again before something has been tried. */
static void the_controls_are_not_gone_through_twice_at_once(void **state)
{
    (void)state;
    bench b = open_real(hp_allow(&hp_reading_controls));
    open_bench(&b);
    hp_entry still = run_of(1, 0.0, (double)NAN), sound = hp_entry_make(&hp_reading_controls, 0);
    still.trial.motion = HP_MOVED_STILL;
    still.trial.feel = HP_FEEL_UNSAID;
    still.trial.starts = 0;
    sound.controls.found = HP_FOUND_NOTHING;
    for (int number = 1; number <= 3; number++) {
        still.trial.wiring = hp_wiring_from_number(number);
        add(&b, still);
    }
    check_asks(&b, &hp_reading_controls, "three that stand, without current");
    add(&b, sound);
    check_true(chance_of(&b, HP_FAULT_SILENT) > 0.5, "%g", chance_of(&b, HP_FAULT_SILENT));
    check_true(next(&b).kind != HP_ADVICE_READ, "asked again at once");
    still.trial.wiring = hp_wiring_from_number(4);
    add(&b, still);
    check_asks(&b, &hp_reading_controls, "one more that stands");
    close_bench(&b);
}

/* Before a part is called broken the leads are tugged at, once something ran; then it is. */
static void the_contacts_come_before_a_part_is_called_broken(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    static const int stuck[] = {4, 0, 1, 5, 4, 0, 1, 5, 4};
    hp_entry turn = hp_entry_make(&hp_reading_hand_turn, 0),
             trial = run_of(1, (double)NAN, (double)NAN),
             held = hp_entry_make(&hp_reading_contacts, 0);
    turn.hand_turn.count = sizeof stuck / sizeof stuck[0];
    memcpy(turn.hand_turn.code, stuck, sizeof stuck);
    add(&b, turn);
    check_int(next(&b).kind, HP_ADVICE_REPAIR); /* no lead was joined yet */
    trial.trial.motion = HP_MOVED_UNSAID;       /* nobody says how it ran */
    trial.trial.feel = HP_FEEL_UNSAID;
    trial.trial.starts = trial.trial.starts_tried = 0;
    add(&b, trial);
    check_asks(&b, &hp_reading_contacts, "a sensor that stays at 0");
    check_int(next(&b).why, HP_WHY_BEFORE_END); /* nothing else in this log asks for it */
    held.contacts.loose = HP_CONTACT_NOTHING;
    add(&b, held);
    check_int(next(&b).kind, HP_ADVICE_REPAIR);
    close_bench(&b);
}

/* ---- sensors without their supply ------------------------------------------------------------ */

/* All three sensors alike, wherever the wheel stands: their supply or ground, not three sensors. */
static void one_code_of_all_ones_asks_for_the_controls(void **state)
{
    (void)state;
    bench b =
        open_real(hp_allow(&hp_reading_hand_turn) | hp_allow(&hp_reading_park) | asked_on_demand());
    open_bench(&b);
    hp_entry e = hp_entry_make(&hp_reading_hand_turn, 0);
    e.hand_turn.count = 1;
    e.hand_turn.code[0] = 7;
    add(&b, e);
    check_asks(&b, &hp_reading_controls, "111 only");
    hp_entry found = hp_entry_make(&hp_reading_controls, 0);
    found.controls.found = HP_FOUND_CODE;
    add(&b, found);
    hp_advice advice = next(&b);
    check_true(advice.kind == HP_ADVICE_READ && advice.reading != &hp_reading_controls,
               "the work does not go on");
    close_bench(&b);
}

/* ---- cutting out ----------------------------------------------------------------------------- */

static hp_entry cut_run(int number)
{
    hp_entry e = run_of(number, (double)NAN, (double)NAN);
    e.trial.cut_out = HP_TELL_YES;
    return e;
}

static void runs_that_all_cut_out_are_named(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    add(&b, cut_run(1));
    check_asks(&b, &hp_reading_controls, "one cut-out");
    hp_entry controls = hp_entry_make(&hp_reading_controls, 0);
    controls.controls.found = HP_FOUND_NOTHING;
    add(&b, controls);
    check_int(next(&b).kind, HP_ADVICE_LOOK); /* once may be imagined */
    add(&b, cut_run(1));
    check_asks(&b, &hp_reading_contacts, "two, and nothing found");
    hp_entry contacts = hp_entry_make(&hp_reading_contacts, 0);
    contacts.contacts.loose = HP_CONTACT_NOTHING;
    add(&b, contacts);
    hp_advice advice = next(&b);
    check_int(advice.kind, HP_ADVICE_REPAIR);
    check_int(advice.why, HP_WHY_CUTS_OUT);
    check_int(advice.trouble, hp_trouble_index(-1, (hp_fault){HP_FAULT_CUTTING_OUT, 0}));
    check_true(advice.certainty > 0.99 && advice.certainty < 1.0, "%g", advice.certainty);
    close_bench(&b);
}

static void other_cut_outs_are_no_sign(void **state)
{
    (void)state;
    hp_entry stands = cut_run(2), limited = cut_run(1), whole = run_of(1, 0.1, 78.0),
             some = cut_run(4);
    stands.trial.motion = HP_MOVED_STILL;
    stands.trial.feel = HP_FEEL_UNSAID;
    stands.trial.starts = 0;
    limited.trial.feed = HP_FEED_BENCH_SUPPLY;
    limited.trial.limit_reached = HP_TELL_YES;
    some.trial.starts = 3; /* from the others it stood, and was cut out for that */
    const hp_entry other[] = {stands, limited, whole, some};
    for (size_t k = 0; k < sizeof other / sizeof other[0]; k++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        add(&b, cut_run(1));
        add(&b, other[k]);
        check_true(hp_plan_cut_outs(&b.belief) < HP_PLAN_CUT_OUTS, "no. %zu counts", k);
        close_bench(&b);
    }
    /* One run that goes through is enough. */
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    for (int k = 0; k < 3; k++)
        add(&b, cut_run(1));
    add(&b, whole);
    check_int(hp_plan_cut_outs(&b.belief), 0);
    close_bench(&b);
}

/* It is off before anybody feels how it runs; that it cut out is what makes a cut-out likely. */
static void a_run_that_is_cut_out_has_no_feel(void **state)
{
    (void)state;
    double right[2], cutting[2];
    for (int rough = 0; rough < 2; rough++) {
        bench b = open_real(asked_on_demand());
        open_bench(&b);
        double probability[HP_WIRING_COUNT + 1], before = chance_of(&b, HP_FAULT_CUTTING_OUT);
        hp_entry e = cut_run(1);
        e.trial.feel = rough ? HP_FEEL_ROUGH : HP_FEEL_SMOOTH;
        add(&b, e);
        hp_belief_wirings_mended(&b.belief, probability);
        right[rough] = probability[1];
        cutting[rough] = chance_of(&b, HP_FAULT_CUTTING_OUT);
        check_true(cutting[rough] > 3.0 * before, "%g of %g", cutting[rough], before);
        close_bench(&b);
    }
    check_close(right[1], right[0], 1e-9, "the same");
}

/* At a limit that starves the controller every wrong wiring stands: no part is broken for that. */
static void wirings_that_stand_at_a_starving_limit_name_no_part(void **state)
{
    (void)state;
    static const int tried[] = {1, 3, 3, 4, 4};
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    for (size_t k = 0; k < sizeof tried / sizeof tried[0]; k++) {
        hp_entry e = cut_run(tried[k]);
        e.trial.motion = HP_MOVED_STILL;
        e.trial.feel = HP_FEEL_UNSAID;
        e.trial.starts = 0;
        e.trial.feed = HP_FEED_BENCH_SUPPLY;
        e.trial.limit_a = 1.8;
        e.trial.limit_reached = HP_TELL_YES;
        add(&b, e);
    }
    hp_advice advice = next(&b);
    check_int(advice.kind, HP_ADVICE_TRY);
    close_bench(&b);
}

/* ---- evidence -------------------------------------------------------------------------------- */

/* However often it runs smoothly there, a wiring at its limit is never called right. */
static void nothing_at_its_limit_is_called_right(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 1.0, 16.0);
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.0;
    e.trial.limit_reached = HP_TELL_YES;
    for (int k = 0; k < 9; k++) {
        add(&b, e);
        hp_advice advice = next(&b);
        check_true(advice.kind != HP_ADVICE_DONE && advice.kind != HP_ADVICE_PROBABLY,
                   "kind %d after %d looks", (int)advice.kind, k + 1);
    }
    close_bench(&b);
}

/* Each wiring is tried behind a limit until it has left it. */
static void a_wiring_is_limited_until_it_has_left_a_limit(void **state)
{
    (void)state;
    for (int first = HP_FIRST_POWER_ANY; first <= HP_FIRST_POWER_NONE; first++) {
        bench b = open_real(hp_allow(&hp_reading_contacts));
        b.params.first_power = (hp_first_power)first;
        open_bench(&b);
        hp_advice advice = next(&b);
        check_int(advice.kind, HP_ADVICE_TRY);
        check_int(advice.limited, first != HP_FIRST_POWER_NONE);
        check_close(advice.limit_a, first == HP_FIRST_POWER_NONE ? 0.0 : b.belief.members.limit_a,
                    0.0, "the limit of the belief");
        hp_entry e = run_of(1, 0.1, 78.0);
        e.trial.feed = HP_FEED_BENCH_SUPPLY;
        e.trial.limit_a = 1.8;
        add(&b, e); /* nobody looked at the limit */
        advice = next(&b);
        check_int(advice.kind, HP_ADVICE_LOOK);
        check_int(advice.limited, first != HP_FIRST_POWER_NONE);
        /* Behind a lamp that stays dark it stood still: it has shown nothing of a limit. */
        hp_entry still = e;
        still.trial.motion = HP_MOVED_STILL;
        still.trial.feel = HP_FEEL_UNSAID;
        still.trial.starts = 0;
        still.trial.limit_reached = HP_TELL_NO;
        still.trial.battery_a = still.trial.wheel_rad_s = (double)NAN;
        add(&b, still);
        advice = next(&b);
        check_int(advice.kind, HP_ADVICE_LOOK);
        check_int(advice.limited, first != HP_FIRST_POWER_NONE);
        e.trial.limit_reached = HP_TELL_NO;
        e.trial.battery_a = e.trial.wheel_rad_s = (double)NAN;
        e.trial.feel = HP_FEEL_UNSAID;
        add(&b, e);
        advice = next(&b);
        check_int(advice.kind, HP_ADVICE_LOOK);
        check_true(!advice.limited, "limited for ever");
        close_bench(&b);
    }
}

/* Lamps of the battery's volts that pass half as much again as the limit when hot. */
static void lamps_are_worked_out_for_the_limit(void **state)
{
    (void)state;
    check_close(hp_lamp_watts(36.0, 2.0), 36.0 * 3.0, 1e-9, "rounding");
}

/* What a limit holds back has no figures of its own: two such looks agree. */
static void two_looks_at_a_limit_agree_whatever_their_figures(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(4, 1.8, 20.0);
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.8;
    e.trial.limit_reached = HP_TELL_YES;
    add(&b, e);
    e.trial.battery_a = 1.0;
    e.trial.wheel_rad_s *= 2.0;
    add(&b, e);
    check_true(hp_plan_looked_enough(&b.belief, 4), "a third look is asked for");
    close_bench(&b);
}

static void what_cuts_out_shows_no_small_current(void **state)
{
    (void)state;
    bench b = open_real(asked_on_demand());
    open_bench(&b);
    hp_entry e = run_of(1, 0.1, 58.0);
    e.trial.cut_out = HP_TELL_YES;
    add(&b, e);
    check_int(hp_plan_current_shown(&b.belief, 1), HP_WHY_GOES_ON);
    add(&b, run_of(1, 0.1, 78.0));
    check_int(hp_plan_current_shown(&b.belief, 1), HP_WHY_CURRENT);
    close_bench(&b);
}

/* A drive by a sine growls in the right wiring: once it has left a limit, two looks are enough. */
static void a_rough_run_below_its_limit_ends_well(void **state)
{
    (void)state;
    bench b = open_real(hp_allow_readings());
    open_bench(&b);
    hp_entry e = run_of(4, 0.17, 72.0);
    e.trial.feel = HP_FEEL_ROUGH;
    add(&b, e);
    check_true(!hp_plan_ran_well(&b.belief, 4), "a rough run without a limit");
    e.trial.feed = HP_FEED_BENCH_SUPPLY;
    e.trial.limit_a = 1.8;
    e.trial.limit_reached = HP_TELL_NO;
    add(&b, e);
    check_true(hp_plan_ran_well(&b.belief, 4), "a rough run below a limit");
    e.trial.feed = HP_FEED_BATTERY;
    e.trial.limit_reached = HP_TELL_UNSAID;
    e.trial.limit_a = (double)NAN;
    add(&b, e);
    check_true(hp_plan_ran_well(&b.belief, 4), "the same on the battery");
    check_true(hp_plan_looked_enough(&b.belief, 4), "two that agree");
    close_bench(&b);
}

/* ---- the controller's table ------------------------------------------------------------------ */

/* A guess about the table is settled before the first power, where it can be; a stated one is
 * believed. */
static void an_unknown_table_is_probed_before_power(void **state)
{
    (void)state;
    for (int stated = 0; stated < 2; stated++) {
        bench b = open_real(hp_allow(&hp_reading_probe));
        b.prior.table_stated = stated ? 0.98 : 0.85;
        open_bench(&b);
        hp_advice advice = next(&b);
        bool probes = advice.kind == HP_ADVICE_READ && advice.reading == &hp_reading_probe;
        check_int(probes, !stated);
        close_bench(&b);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_start_of_six_that_fails_asks_for_the_contacts),
        cmocka_unit_test(another_speed_step_is_no_sign),
        cmocka_unit_test(two_looks_that_differ_ask_for_the_contacts),
        cmocka_unit_test(what_wirings_do_is_no_sign),
        cmocka_unit_test(a_limit_of_which_twice_nothing_is_said_is_a_sign),
        cmocka_unit_test(a_rough_run_that_draws_too_little_for_its_limit_is_a_sign),
        cmocka_unit_test(what_stood_is_not_looked_at_again),
        cmocka_unit_test(a_cut_out_that_its_limit_may_have_made_does_not_count),
        cmocka_unit_test(a_contact_that_is_found_is_mended),
        cmocka_unit_test(the_contacts_are_asked_for_twice_at_most),
        cmocka_unit_test(what_runs_and_then_stands_is_loose_or_cut_out),
        cmocka_unit_test(leads_that_hold_speak_against_a_loose_one),
        cmocka_unit_test(the_controls_and_the_probe_speak_of_a_silent_controller),
        cmocka_unit_test(the_controls_are_not_gone_through_twice_at_once),
        cmocka_unit_test(the_contacts_come_before_a_part_is_called_broken),
        cmocka_unit_test(one_code_of_all_ones_asks_for_the_controls),
        cmocka_unit_test(runs_that_all_cut_out_are_named),
        cmocka_unit_test(other_cut_outs_are_no_sign),
        cmocka_unit_test(a_run_that_is_cut_out_has_no_feel),
        cmocka_unit_test(wirings_that_stand_at_a_starving_limit_name_no_part),
        cmocka_unit_test(nothing_at_its_limit_is_called_right),
        cmocka_unit_test(a_wiring_is_limited_until_it_has_left_a_limit),
        cmocka_unit_test(lamps_are_worked_out_for_the_limit),
        cmocka_unit_test(two_looks_at_a_limit_agree_whatever_their_figures),
        cmocka_unit_test(what_cuts_out_shows_no_small_current),
        cmocka_unit_test(a_rough_run_below_its_limit_ends_well),
        cmocka_unit_test(an_unknown_table_is_probed_before_power),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
