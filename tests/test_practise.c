/*
 * Practice: the hidden machine and the evening at it.
 *
 * What a reading shows is held against tables made by hand here: sensor X reads 1 within 90 degrees
 * of its axis, so that forward the codes by axes U V W go 100 110 010 011 001 101, and a rotor
 * parked on axis X shows X alone.
 */
#include "check.h"

#include "evening.h"

#include "base/random.h"
#include "hubphase/report/case_words.h"
#include "record/case/case_parts.h"

#include <stdlib.h>

static const char *const all_names[] = {"pins", "sensor_supply", "hand_turn", "winding",
                                        "spin", "park",          "drag",      "contacts"};

static hp_entry ask_after(const hp_practice *p, hp_entry *asked, int count, hp_entry question)
{
    hp_error err = hp_error_none();
    const hp_practice_look before = {asked, count};
    hp_result result = hp_practice_see(p, &before, &question, &err);
    check_true(result == HP_OK, "%s", err.text);
    return question;
}

static hp_entry ask(const hp_practice *p, const char *name, int lead)
{
    return ask_after(p, NULL, 0, hp_practice_ask(hp_reading_find(name), lead));
}

static hp_entry try_it(const hp_practice *p, int number, hp_practice_feed feed)
{
    const hp_wiring wiring = hp_wiring_from_number(number);
    return ask_after(p, NULL, 0, hp_practice_ask_trial(p, &wiring, feed, 0.0));
}

/* ---- the same seed --------------------------------------------------------------------------- */

/* Eleven questions, asked in an order that a seed shuffles; each answer at its question's place. */
#define QUESTIONS 11
static void ask_all(const hp_practice *p, uint64_t shuffle, hp_entry *answer)
{
    hp_random random = hp_random_init(shuffle, 0);
    hp_entry asked[QUESTIONS];
    int order[QUESTIONS];
    for (int k = 0; k < QUESTIONS; k++)
        order[k] = k;
    for (int k = QUESTIONS - 1; k > 0 && shuffle > 0; k--) {
        int j = (int)hp_random_below(&random, (uint32_t)k + 1), kept = order[k];
        order[k] = order[j];
        order[j] = kept;
    }
    for (int k = 0; k < QUESTIONS; k++) {
        int q = order[k];
        hp_wiring wiring = hp_wiring_from_number(1 + 7 * q % 36);
        hp_entry question = q < 5   ? hp_practice_ask(hp_reading_find(all_names[q]), -1)
                            : q < 8 ? hp_practice_ask(hp_reading_find("park"), q - 5)
                                    : hp_practice_ask_trial(p, &wiring, HP_PRACTICE_BATTERY, 0.0);
        asked[k] = answer[q] = ask_after(p, asked, k, question);
    }
}

static void the_order_of_the_questions_changes_no_answer(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (int level = 0; level < HP_PRACTICE_CLUTCH; level++)
        for (uint64_t seed = 1; seed <= 2; seed++) {
            hp_entry first[QUESTIONS], other[QUESTIONS];
            hp_practice *p = machine(&s, (hp_practice_level)level, seed);
            hp_practice *twin = machine(&s, (hp_practice_level)level, seed);
            /* A danger is put right by whoever finds it, which no order can hide. */
            if (!hp_practice_fault_danger(p->fault)) {
                ask_all(p, 0, first);
                ask_all(twin, 5, other);
                for (int k = 0; k < QUESTIONS; k++)
                    check_true(memcmp(first[k].values, other[k].values, HP_ENTRY_VALUES) == 0,
                               "level %d, seed %d, question %d", level, (int)seed, k);
            }
            hp_practice_free(p);
            hp_practice_free(twin);
        }
    hp_scenario_free(&s);
}

static void asking_again_is_another_look_of_the_meter(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = machine(&s, HP_PRACTICE_SOUND, 7);
    hp_entry first = ask(p, "spin", -1);
    hp_entry second = ask_after(p, &first, 1, hp_practice_ask(hp_reading_find("spin"), -1));
    assert_memory_not_equal(first.values, second.values, sizeof(hp_spin));
    check_relative(second.spin.volts[0], first.spin.volts[0], 0.3, "meters of a few percent");
    hp_practice_free(p);
    hp_scenario_free(&s);
}

static void seeds_differ(void **state)
{
    (void)state;
    bool seen[12] = {false};
    int kinds = 0;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (uint64_t seed = 1; seed <= 60; seed++) {
        hp_practice *p = machine(&s, HP_PRACTICE_SOUND, seed);
        int right = hp_practice_tell(p).right[0] - 1;
        kinds += !seen[right % 12];
        seen[right % 12] = true;
        hp_practice_free(p);
    }
    check_int(kinds, 12);
    hp_scenario_free(&s);
}

/* Of twelve sets of leads two levels share one by chance in one seed of twelve: 2 of 24, deviation
 * 1.4. */
static void each_level_has_leads_of_its_own(void **state)
{
    (void)state;
    int before[24];
    for (int level = 0; level < HP_PRACTICE_LEVELS; level++) {
        hp_scenario s = load((hp_practice_level)level);
        int alike = 0;
        for (int k = 0; k < 24; k++) {
            hp_practice *p = machine(&s, (hp_practice_level)level, (uint64_t)k + 1);
            int first = hp_practice_tell(p).right[0];
            alike += level > 0 && first == before[k];
            before[k] = first;
            hp_practice_free(p);
        }
        check_true(alike <= 8, "level %d: %d of 24 as one level below", level, alike);
        hp_scenario_free(&s);
    }
}

/* ---- what a reading shows, by hand ----------------------------------------------------------- */

static const char *const forward_by_axes[] = {"100", "110", "010", "011", "001", "101"};

/* The code by marks of a code by axes. */
static int marked(const hp_practice *p, const char *by_axes)
{
    int code = 0;
    for (int mark = 0; mark < 3; mark++)
        code = 2 * code + (by_axes[p->sensor_axis[mark]] == '1');
    return code;
}

static void a_hand_turn_shows_the_codes_of_the_table(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND), g = load(HP_PRACTICE_CLUTCH);
    for (uint64_t seed = 1; seed <= 20; seed++)
        for (int geared = 0; geared < 2; geared++) {
            hp_practice *p = machine(geared ? &g : &s, HP_PRACTICE_SOUND, seed);
            hp_entry e = ask(p, "hand_turn", -1);
            int step = geared ? 5 : 1, at = 0;
            check_int(e.hand_turn.count, 7);
            check_int(e.hand_turn.backward, geared);
            while (at < 6 && marked(p, forward_by_axes[at]) != e.hand_turn.code[0])
                at++;
            for (int k = 0; k < 7; k++, at += step)
                check_int(e.hand_turn.code[k], marked(p, forward_by_axes[at % 6]));
            hp_practice_free(p);
        }
    hp_scenario_free(&s);
    hp_scenario_free(&g);
}

static void a_parked_lead_shows_its_partner_alone(void **state)
{
    (void)state;
    static const char *const alone[] = {"100", "010", "001"};
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (uint64_t seed = 1; seed <= 20; seed++) {
        hp_practice *p = machine(&s, HP_PRACTICE_SOUND, seed);
        for (int lead = 0; lead < 3; lead++) {
            hp_entry e = ask(p, "park", lead);
            check_int(e.park.lead, lead);
            check_int(e.park.no_current, HP_TELL_NO);
            check_int(e.park.code, marked(p, alone[p->phase_axis[lead]]));
        }
        hp_practice_free(p);
    }
    hp_scenario_free(&s);
}

static void good_parts_give_what_they_measure(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (uint64_t seed = 1; seed <= 10; seed++) {
        hp_practice *p = machine(&s, HP_PRACTICE_SOUND, seed);
        hp_entry pins = ask(p, "pins", -1), winding = ask(p, "winding", -1);
        hp_entry spin = ask(p, "spin", -1), volts = ask(p, "sensor_supply", -1);
        hp_entry contacts = ask(p, "contacts", -1), drag = ask(p, "drag", -1);
        hp_entry controls = ask(p, "controls", -1);
        for (int k = 0; k < 3; k++) {
            check_int(pins.pins.open[k], HP_TELL_NO);
            check_close(winding.winding.ohm[k], 0.23, 0.11,
                        "parts within 15 %, ten degrees, up to 0.1 ohm of test leads");
            /* 36 V drive it to 215 rev/min through two phases in series: 60 rev/min give
             * 36 * 60 / 215 V of peak, and about 0.82 of it rms where the flat is 120 degrees. */
            check_relative(spin.spin.volts[k], 36.0 * 60.0 / 215.0 * 0.82, 0.25,
                           "parts within 8 %, a meter of a few percent, the flat's width");
        }
        check_int(pins.pins.shell, HP_TELL_NO);
        check_int(pins.pins.crossed, HP_TELL_NO);
        check_close(volts.supply.volts, 5.0, 0.1, "a meter");
        check_int(contacts.contacts.loose, HP_CONTACT_NOTHING);
        check_int(controls.controls.found, HP_FOUND_NOTHING);
        check_true(drag.drag.coast_s > 0.5 && drag.drag.coast_s < 60.0, "%g s", drag.drag.coast_s);
        hp_practice_free(p);
    }
    hp_scenario_free(&s);
}

/* ---- trials ---------------------------------------------------------------------------------- */

static void the_right_wirings_run_and_no_other_does(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = machine(&s, HP_PRACTICE_SOUND, 11);
    const hp_practice_truth truth = hp_practice_tell(p);
    for (int n = 1; n <= 36; n++) {
        const hp_entry e = try_it(p, n, HP_PRACTICE_BATTERY);
        const hp_trial *t = &e.trial;
        bool right = n == truth.right[0] || n == truth.right[1] || n == truth.right[2];
        bool well = t->motion == HP_MOVED_FORWARD && t->feel == HP_FEEL_SMOOTH &&
                    t->starts == t->starts_tried && t->battery_a < 1.5;
        check_true(right == well, "wiring %d: motion %d, feel %d, %d of %d, %g A", n, t->motion,
                   t->feel, t->starts, t->starts_tried, t->battery_a);
    }
    hp_practice_free(p);
    hp_scenario_free(&s);
}

static void a_limit_holds_a_wrong_wiring_and_leaves_the_right_one_alone(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (uint64_t seed = 1; seed <= 3; seed++) {
        hp_practice *p = machine(&s, HP_PRACTICE_SOUND, seed);
        int right = hp_practice_tell(p).right[0];
        hp_entry good = try_it(p, right, HP_PRACTICE_LIMITED);
        check_int(good.trial.limit_reached, HP_TELL_NO);
        check_int(good.trial.motion, HP_MOVED_FORWARD);
        check_int(good.trial.feed, HP_FEED_BENCH_SUPPLY);
        /* The next column has two phase leads crossed: the field turns against the rotor. */
        int crossed = 6 * ((right - 1) / 6) + (right - 1 + (right % 2 ? 1 : 5)) % 6 + 1;
        hp_entry bad = try_it(p, crossed, HP_PRACTICE_LIMITED);
        check_int(bad.trial.limit_reached, HP_TELL_YES);
        check_true(bad.trial.battery_a <= bad.trial.limit_a, "%g A from a supply set to %g A",
                   bad.trial.battery_a, bad.trial.limit_a);
        check_close(bad.trial.battery_a, bad.trial.limit_a, 0.3 * bad.trial.limit_a,
                    "halving to a hundredth of the volts, and a meter");
        hp_practice_free(p);
    }
    hp_scenario_free(&s);
}

/* ---- faults ---------------------------------------------------------------------------------- */

/* A machine with this fault; the seed that drew it. */
static hp_practice *with_fault(const hp_scenario *s, hp_practice_fault fault)
{
    for (uint64_t seed = 1; seed <= 400; seed++) {
        hp_practice *p = machine(s, HP_PRACTICE_FAULT, seed);
        if (p->fault == fault)
            return p;
        hp_practice_free(p);
    }
    fail_msg("no seed to 400 draws fault %d", fault);
    return NULL;
}

static void each_fault_shows_in_what_finds_it(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND), g = load(HP_PRACTICE_CLUTCH);
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++) {
        hp_practice_fault fault = (hp_practice_fault)k;
        hp_practice *p = with_fault(hp_practice_fault_needs_clutch(fault) ? &g : &s, fault);
        hp_entry turn = ask(p, "hand_turn", -1), pins = ask(p, "pins", -1);
        hp_entry winding = ask(p, "winding", -1), spin = ask(p, "spin", -1);
        hp_entry controls = ask(p, "controls", -1), contacts = ask(p, "contacts", -1);
        hp_entry volts = ask(p, "sensor_supply", -1);
        const int bit = p->lead >= 0 ? 4 >> p->lead : 0;
        int changes = 0, odd = 0, open = 0;
        for (int j = 1; j < turn.hand_turn.count; j++)
            changes += (turn.hand_turn.code[j] & bit) != (turn.hand_turn.code[0] & bit);
        for (int j = 0; j < turn.hand_turn.count; j++)
            odd += turn.hand_turn.code[j] == 0 || turn.hand_turn.code[j] == 7;
        for (int j = 0; j < 3; j++)
            open += isinf(winding.winding.ohm[j]);
        const hp_danger *danger = hp_practice_fault_danger(fault);
        check_int(bit && changes == 0 && fault != HP_PRACTICE_PHASE_OPEN,
                  fault == HP_PRACTICE_HALL_STUCK);
        if (fault == HP_PRACTICE_HALL_STUCK)
            check_int(!!(turn.hand_turn.code[0] & bit), p->high);
        else
            check_int(odd > 0, fault == HP_PRACTICE_HALL_INVERTED);
        check_int(open, fault == HP_PRACTICE_PHASE_OPEN ? 2 : 0);
        if (open)
            check_true(!isinf(winding.winding.ohm[p->lead]), "pair %d", p->lead);
        check_int(controls.controls.found != HP_FOUND_NOTHING,
                  fault == HP_PRACTICE_SILENT || fault == HP_PRACTICE_CUTTING_OUT);
        check_int(contacts.contacts.loose != HP_CONTACT_NOTHING, fault == HP_PRACTICE_LOOSE);
        check_int(spin.spin.volts[0] + spin.spin.volts[1] + spin.spin.volts[2] == 0.0,
                  fault == HP_PRACTICE_CLUTCH_SLIPS);
        check_int(pins.pins.shell, fault == HP_PRACTICE_ON_SHELL ? HP_TELL_YES : HP_TELL_NO);
        check_int(pins.pins.crossed, fault == HP_PRACTICE_PHASE_ON_HALL ? HP_TELL_YES : HP_TELL_NO);
        check_int(volts.supply.volts > 20.0, fault == HP_PRACTICE_HALL_SUPPLY);
        if (danger) { /* whoever found it put it right */
            hp_entry found = danger->reading == pins.reading ? pins : volts;
            hp_entry again = ask_after(p, &found, 1, hp_practice_ask(danger->reading, -1));
            check_true(!hp_entry_danger(&again, &p->stated.plan, &p->stated.person), "%s",
                       hp_practice_fault_name(fault));
        }
        hp_practice_free(p);
    }
    hp_scenario_free(&s);
    hp_scenario_free(&g);
}

static void a_silent_controller_drives_once_its_cause_is_found(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = with_fault(&s, HP_PRACTICE_SILENT);
    int right = hp_practice_tell(p).right[1];
    hp_entry still = try_it(p, right, HP_PRACTICE_LIMITED);
    check_int(still.trial.motion, HP_MOVED_STILL);
    check_true(still.trial.battery_a < 0.6, "%g A", still.trial.battery_a);
    hp_entry controls = ask(p, "controls", -1);
    const hp_wiring wiring = hp_wiring_from_number(right);
    hp_entry runs =
        ask_after(p, &controls, 1, hp_practice_ask_trial(p, &wiring, HP_PRACTICE_LIMITED, 0.0));
    check_int(runs.trial.motion, HP_MOVED_FORWARD);
    hp_practice_free(p);
    hp_scenario_free(&s);
}

static void a_loose_lead_makes_two_looks_differ(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = with_fault(&s, HP_PRACTICE_LOOSE);
    const hp_wiring wiring = hp_wiring_from_number(hp_practice_tell(p).right[0]);
    hp_entry asked[6];
    int differ = 0;
    for (int k = 0; k < 6; k++) {
        asked[k] =
            ask_after(p, asked, k, hp_practice_ask_trial(p, &wiring, HP_PRACTICE_LIMITED, 0.0));
        differ += asked[k].trial.starts != asked[0].trial.starts ||
                  asked[k].trial.feel != asked[0].trial.feel ||
                  asked[k].trial.motion != asked[0].trial.motion;
    }
    check_true(differ > 0, "six looks are alike");
    hp_practice_free(p);
    hp_scenario_free(&s);
}

/* ---- risks and minutes ----------------------------------------------------------------------- */

static int risks_of(const hp_practice *p, hp_entry *asked, int count, const hp_entry *shown,
                    hp_practice_risk_kind kind, bool met)
{
    hp_practice_risk risk[HP_PRACTICE_RISKS];
    const hp_practice_look before = {asked, count};
    int all = hp_practice_risks(p, &before, shown, risk), found = 0;
    for (int k = 0; k < all; k++)
        found += risk[k].kind == kind && risk[k].met == met;
    return found;
}

static void power_before_the_checks_is_a_risk_and_may_be_met(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = with_fault(&s, HP_PRACTICE_HALL_SUPPLY);
    int right = hp_practice_tell(p).right[0];
    hp_entry first = try_it(p, right, HP_PRACTICE_LIMITED);
    check_int(risks_of(p, NULL, 0, &first, HP_RISK_UNCHECKED, true), 1);  /* the Hall supply */
    check_int(risks_of(p, NULL, 0, &first, HP_RISK_UNCHECKED, false), 1); /* pins: luck */
    hp_entry volts = ask(p, "sensor_supply", -1);
    check_int(risks_of(p, &volts, 1, &first, HP_RISK_UNCHECKED, true), 0);
    /* A park needs no controller: its Hall supply cannot be met there. */
    hp_entry park = ask(p, "park", 0), turn = ask(p, "hand_turn", -1);
    check_int(risks_of(p, NULL, 0, &park, HP_RISK_UNCHECKED, true), 0);
    check_int(risks_of(p, NULL, 0, &park, HP_RISK_UNCHECKED, false), 1);
    check_int(risks_of(p, NULL, 0, &turn, HP_RISK_UNCHECKED, false), 0);
    hp_practice_free(p);
    hp_scenario_free(&s);
}

/* Found or met, a danger is put right; what can do neither leaves it there. */
static void a_danger_is_gone_once_it_was_found_or_met(void **state)
{
    (void)state;
    static const struct {
        hp_practice_fault fault;
        const char *finds, *other; /* readings: the one that shows it, another check */
        bool park_meets;           /* a current through the phase leads, no controller */
    } danger[] = {
        {HP_PRACTICE_HALL_SUPPLY, "sensor_supply", "pins", false},
        {HP_PRACTICE_ON_SHELL, "pins", "sensor_supply", true},
        {HP_PRACTICE_PHASE_ON_HALL, "pins", "sensor_supply", true},
    };
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (size_t k = 0; k < sizeof danger / sizeof danger[0]; k++) {
        hp_practice *p = with_fault(&s, danger[k].fault);
        const struct {
            hp_entry entry;
            bool gone;
        } after[] = {
            {ask(p, danger[k].finds, -1), true},       {ask(p, danger[k].other, -1), false},
            {ask(p, "hand_turn", -1), false},          {ask(p, "park", 0), danger[k].park_meets},
            {try_it(p, 1, HP_PRACTICE_LIMITED), true},
        };
        const hp_practice_look none = {NULL, 0};
        check_int(hp_practice_present(p, &none), danger[k].fault);
        for (size_t j = 0; j < sizeof after / sizeof after[0]; j++) {
            const hp_practice_look one = {&after[j].entry, 1};
            hp_practice_fault still = hp_practice_present(p, &one);
            check_true(still == (after[j].gone ? HP_PRACTICE_NO_FAULT : danger[k].fault),
                       "fault %d after %s: %d", danger[k].fault, after[j].entry.reading->name,
                       still);
        }
        hp_practice_free(p);
    }
    hp_scenario_free(&s);
}

static void battery_and_full_throttle_are_risks_until_a_wiring_ran(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = machine(&s, HP_PRACTICE_SOUND, 3);
    int right = hp_practice_tell(p).right[0];
    hp_entry limited = try_it(p, right, HP_PRACTICE_LIMITED);
    hp_entry battery = try_it(p, right, HP_PRACTICE_BATTERY);
    hp_entry full = try_it(p, right, HP_PRACTICE_FULL);
    check_int(risks_of(p, NULL, 0, &limited, HP_RISK_UNLIMITED, false), 0);
    check_int(risks_of(p, NULL, 0, &battery, HP_RISK_UNLIMITED, false), 1);
    check_int(risks_of(p, &limited, 1, &battery, HP_RISK_UNLIMITED, false), 0);
    check_int(risks_of(p, NULL, 0, &full, HP_RISK_FULL, false), 1);
    check_int(risks_of(p, &limited, 1, &full, HP_RISK_FULL, false), 0);
    int crossed = right % 2 ? right + 1 : right - 1;
    hp_entry stalls = try_it(p, crossed, HP_PRACTICE_BATTERY);
    check_int(risks_of(p, NULL, 0, &stalls, HP_RISK_UNLIMITED, true), 1);
    const hp_practice_look none = {NULL, 0}, one = {&limited, 1};
    const hp_costs *costs = &p->stated.plan.costs;
    check_close(hp_practice_minutes(p, &none, &limited), costs->trial, 1e-12, "the plan's");
    check_close(hp_practice_minutes(p, &one, &limited), costs->look, 1e-12, "nothing is moved");
    check_close(hp_practice_minutes(p, &one, &stalls), costs->trial + 2.0 * costs->phase_lead,
                1e-12, "two leads are moved");
    hp_practice_free(p);
    hp_scenario_free(&s);
}

/* ---- the end --------------------------------------------------------------------------------- */

static hp_practice_end judged(const hp_practice *p, bool dropped, hp_practice_answer a)
{
    const hp_practice_look none = {NULL, 0};
    return hp_practice_judge(p, &none, dropped, &a);
}

static void answers_are_judged_by_what_is_hidden(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice *p = machine(&s, HP_PRACTICE_SOUND, 5);
    int right = hp_practice_tell(p).right[2];
    const hp_practice_answer wiring = {HP_CLAIM_WIRING, right, HP_PRACTICE_NO_FAULT, -1};
    check_int(judged(p, false, wiring), HP_END_RIGHT);
    check_int(
        judged(p, false,
               (hp_practice_answer){HP_CLAIM_WIRING, right % 36 + 1, HP_PRACTICE_NO_FAULT, -1}),
        HP_END_WRONG);
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_FAULT, 0, HP_PRACTICE_LOOSE, -1}),
              HP_END_WRONG);
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_SLIP, 0, HP_PRACTICE_NO_FAULT, -1}),
              HP_END_WRONG);
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_NOTHING, 0, HP_PRACTICE_NO_FAULT, 0}),
              HP_END_WRONG);
    hp_practice_free(p);
    p = with_fault(&s, HP_PRACTICE_PHASE_OPEN);
    right = hp_practice_tell(p).right[0];
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_WIRING, right, 0, 0}),
              HP_END_MISSED_FAULT);
    check_int(
        judged(p, false, (hp_practice_answer){HP_CLAIM_FAULT, 0, HP_PRACTICE_PHASE_OPEN, p->lead}),
        HP_END_RIGHT);
    check_int(
        judged(p, false,
               (hp_practice_answer){HP_CLAIM_FAULT, 0, HP_PRACTICE_PHASE_OPEN, (p->lead + 1) % 3}),
        HP_END_OTHER_LEAD);
    check_int(
        judged(p, false, (hp_practice_answer){HP_CLAIM_FAULT, 0, HP_PRACTICE_HALL_STUCK, p->lead}),
        HP_END_WRONG);
    hp_practice_free(p);
    p = machine(&s, HP_PRACTICE_SLIP, 5);
    right = hp_practice_tell(p).right[0];
    int slipped = hp_practice_slipped(p);
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_SLIP, slipped, 0, 0}), HP_END_RIGHT);
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_SLIP, slipped ? 0 : 1, 0, 0}),
              HP_END_WRONG);
    check_int(judged(p, false, (hp_practice_answer){HP_CLAIM_WIRING, right, 0, 0}),
              HP_END_MISSED_SLIP);
    check_int(judged(p, true, (hp_practice_answer){HP_CLAIM_WIRING, right, 0, 0}), HP_END_RIGHT);
    hp_practice_free(p);
    hp_scenario_free(&s);
}

static void one_given_entry_says_what_nobody_saw(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SLIP);
    bool kinds[HP_READINGS_MAX] = {false};
    int different = 0;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        hp_practice *p = machine(&s, HP_PRACTICE_SLIP, seed);
        int slipped = hp_practice_slipped(p), given = hp_practice_given(p);
        check_true(given >= 7 && slipped >= 0 && slipped < given, "%d of %d", slipped, given);
        const hp_entry *wrong = hp_practice_given_entry(p, slipped);
        const hp_entry *truth = hp_practice_true_entry(p);
        assert_ptr_equal(wrong->reading, truth->reading);
        check_true(memcmp(wrong->values, truth->values, HP_ENTRY_VALUES) != 0,
                   "seed %d: the slip of entry %d says what is true", (int)seed, slipped);
        /* The rest is as the machine shows it to whoever asks. */
        for (int k = 0; k < given; k++)
            if (k != slipped && !hp_entry_trial(hp_practice_given_entry(p, k))) {
                const hp_entry *e = hp_practice_given_entry(p, k);
                int lead = e->reading->lead ? e->reading->lead(e->values) : -1;
                hp_entry fresh = ask(p, e->reading->name, lead);
                assert_memory_equal(fresh.values, e->values, HP_ENTRY_VALUES);
            }
        different += !kinds[hp_reading_index(wrong->reading)];
        kinds[hp_reading_index(wrong->reading)] = true;
        hp_practice_free(p);
    }
    check_int(different, 4); /* winding, hand turn, park, trial */
    hp_practice *sound = machine(&s, HP_PRACTICE_SOUND, 1);
    check_int(hp_practice_given(sound), 0);
    check_int(hp_practice_slipped(sound), -1);
    assert_null(hp_practice_true_entry(sound));
    hp_practice_free(sound);
    hp_scenario_free(&s);
}

static void a_level_that_does_not_suit_is_refused(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_error err = hp_error_none();
    hp_practice_stated stated = stated_of(&s);
    assert_null(hp_practice_create(&stated, HP_PRACTICE_CLUTCH, 1, &err));
    check_int(err.code, HP_FAIL_INPUT);
    assert_non_null(strstr(err.text, "stand.clutch"));
    stated.plan.powered = false;
    err = hp_error_none();
    assert_null(hp_practice_create(&stated, HP_PRACTICE_SOUND, 1, &err));
    assert_non_null(strstr(err.text, "bench.powered"));
    hp_scenario_free(&s);
}

static void only_who_has_a_limit_feeds_through_one(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (int first = HP_FIRST_POWER_ANY; first <= HP_FIRST_POWER_NONE; first++) {
        hp_error err = hp_error_none();
        hp_practice_stated stated = stated_of(&s);
        stated.plan.first_power = (hp_first_power)first;
        hp_practice *p = hp_practice_create(&stated, HP_PRACTICE_SOUND, 1, &err);
        check_true(p != NULL, "%s", err.text);
        for (int feed = 0; feed < HP_PRACTICE_FEEDS; feed++)
            check_int(hp_practice_may_feed(p, (hp_practice_feed)feed),
                      feed != HP_PRACTICE_LIMITED || first != HP_FIRST_POWER_NONE);
        hp_practice_free(p);
    }
    hp_scenario_free(&s);
}

/* ---- the evening ----------------------------------------------------------------------------- */

/* `HP_SCORES=1` prints how many of how many seeds; `HP_SEEDS=100` takes so many. */
static void who_follows_the_advice_ends_right(void **state)
{
    (void)state;
    const char *wanted = getenv("HP_SEEDS");
    int seeds = wanted ? atoi(wanted) : HP_DRAWS(3, 1);
    for (int level = 0; level < HP_PRACTICE_CLUTCH; level++) {
        hp_scenario s = load((hp_practice_level)level);
        int right = 0;
        for (int seed = 1; seed <= seeds; seed++) {
            hp_error err = hp_error_none();
            hp_practice_case *c = evening(&s, (hp_practice_level)level, (uint64_t)seed);
            const hp_practice_answer none = {.claim = HP_CLAIM_NOTHING};
            check_true(hp_practice_case_end(c, &none, &err) == HP_OK, "%s", err.text);
            const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_ADVICE);
            check_int(hp_practice_case_path(c, HP_PRACTICE_LEARNER)->end, HP_END_WRONG);
            check_int(path->risks, 0);
            right += path->end == HP_END_RIGHT;
            hp_practice_case_free(c);
        }
        if (getenv("HP_SCORES"))
            printf("%s: right %d of %d\n", hp_practice_level_name((hp_practice_level)level), right,
                   seeds);
        /* 30, 29, 30 of 30 when this was written: one loose lead in thirty machines was missed. */
        check_true(right * 10 >= seeds * 9 - 9, "level %d: %d of %d", level, right, seeds);
        hp_scenario_free(&s);
    }
}

/* A learner's question, drawn. */
static hp_entry any_question(const hp_practice *p, hp_random *random)
{
    const hp_reading *may[HP_READINGS_MAX];
    int count = 0;
    for (int k = 0; hp_readings[k]; k++)
        if (hp_practice_shows(p, hp_readings[k]))
            may[count++] = hp_readings[k];
    const hp_reading *kind = may[hp_random_below(random, (uint32_t)count)];
    const hp_wiring wiring = hp_wiring_from_number(1 + (int)hp_random_below(random, 36));
    hp_practice_feed feed = (hp_practice_feed)hp_random_below(random, HP_PRACTICE_FEEDS);
    if (kind == hp_reading_find("trial"))
        return hp_practice_ask_trial(p, &wiring, feed, 0.0);
    return hp_practice_ask(kind,
                           hp_reading_is_by_lead(kind) ? (int)hp_random_below(random, 3) : -1);
}

/* Equals are left together, and what is right is never struck off unless a slip is in the log. */
static void check_left(hp_practice_case *c)
{
    double right[HP_WIRING_COUNT + 1];
    const hp_practice *p = hp_practice_case_machine(c);
    const hp_practice_truth truth = hp_practice_tell(p);
    const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
    int left = path->step[path->steps - 1].left;
    check_true(left >= 3 && left % 3 == 0, "%d left", left);
    hp_belief_wirings_mended(hp_practice_case_counted(c), right);
    for (int k = 0; k < 3 && hp_practice_slipped(p) < 0; k++)
        check_true(right[truth.right[k]] >= HP_PRACTICE_LEFT, "seed %d: wiring %d at %g after %d",
                   (int)hp_practice_seed(p), truth.right[k], right[truth.right[k]], path->steps);
}

/* The end says of the last `count` steps what was said when they were taken. */
static void check_told_alike(hp_practice_case *c, char (*told)[HP_PRACTICE_WORDS], int count)
{
    hp_error err = hp_error_none();
    const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
    char(*end)[HP_PRACTICE_WORDS] = calloc((size_t)path->steps, sizeof *end);
    assert_non_null(end);
    check_int(hp_practice_told(c, HP_PRACTICE_LEARNER, end, &err), HP_OK);
    for (int k = 0; k < count; k++) {
        int at = path->steps - count + k;
        size_t length = strlen(told[k]);
        check_true(length > 0 && strncmp(end[at], told[k], length) == 0,
                   "step %d: \"%s\", then \"%s\"", at, told[k], end[at]);
        check_true((end[at][length] != '\0') == (path->step[at].number == 0), "%s", end[at]);
    }
    free(end);
}

static void whoever_asks_at_random_gets_a_log_that_the_advice_reads_alike(void **state)
{
    (void)state;
    /* Watched, the levels between are run through by who follows the advice. */
    for (int level = 0; level < HP_PRACTICE_CLUTCH; level += HP_DRAWS(1, 2)) {
        hp_scenario s = load((hp_practice_level)level);
        for (uint64_t seed = 1; seed <= HP_DRAWS(2, 1); seed++) {
            hp_error err = hp_error_none();
            hp_practice_case *c = evening(&s, (hp_practice_level)level, seed);
            const hp_practice *p = hp_practice_case_machine(c);
            hp_random random = hp_random_init(seed, 77);
            char told[8][HP_PRACTICE_WORDS];
            for (int k = 0; k < 8; k++) {
                hp_entry question = any_question(p, &random);
                check_true(hp_practice_case_take(c, &question, &err) == HP_OK, "%s", err.text);
                hp_practice_told_last(c, told[k]);
                check_left(c);
                if (k == 4)
                    check_true(hp_practice_case_drop(c, 2, &err) == HP_OK, "%s", err.text);
            }
            const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
            check_told_alike(c, told, 8);
            check_int(path->asked, 8);
            check_int(path->steps, 8 + hp_practice_given(p));
            hp_advice here, there;
            hp_case_options options = hp_case_options_default();
            options.log_text = hp_practice_case_log(c, HP_PRACTICE_LEARNER);
            hp_case *own = hp_case_create(&s, &options, &err);
            check_true(own != NULL, "%s", err.text);
            check_int(hp_case_log(own)->count, path->steps - 1);
            check_int(hp_case_next(own, &there, &err), HP_OK);
            check_int(hp_case_next(hp_practice_case_bench(c), &here, &err), HP_OK);
            check_int(here.kind, there.kind);
            assert_ptr_equal(here.reading, there.reading);
            check_int(here.number, there.number);
            check_int(here.lead, there.lead);
            check_close(here.certainty, there.certainty, 0.0, "the same log");
            hp_case_free(own);
            const hp_practice_answer answer = {.claim = HP_CLAIM_WIRING, .number = 1};
            check_true(hp_practice_case_end(c, &answer, &err) == HP_OK, "%s", err.text);
            check_int(hp_practice_case_take(c, &(hp_entry){.reading = hp_readings[0]}, &err),
                      HP_FAIL_INPUT);
            hp_practice_case_free(c);
        }
        hp_scenario_free(&s);
    }
}

/* A rotor that turns behind a wheel that stays is what a clutch that slips does, and no loose lead:
 * the advice stands by the clutch. */
static void a_run_behind_a_slipping_clutch_speaks_for_the_clutch(void **state)
{
    (void)state;
    char words[HP_PRACTICE_WORDS];
    hp_error err = hp_error_none();
    hp_advice advice;
    hp_scenario s = load(HP_PRACTICE_CLUTCH);
    /* Its table is no part of the library. Short runs make it in a quarter of the time, and tell a
     * clutch as well: by what turns, not by how fast. */
    s.run.seconds = 0.1;
    s.run.settle_s = 0.05;
    uint64_t seed = seed_with(&s, HP_PRACTICE_CLUTCH, HP_PRACTICE_CLUTCH_SLIPS);
    hp_practice_case *c = evening(&s, HP_PRACTICE_CLUTCH, seed);
    int right = hp_practice_tell(hp_practice_case_machine(c)).right[0];
    hp_practice_step *step = take_kind(c, "pins", -1);
    assert_string_equal(hp_practice_left_words(step, words),
                        "All 36 wirings can still be correct.");
    take_kind(c, "sensor_supply", -1);
    step = take_kind(c, "hand_turn", -1);
    assert_string_equal(hp_practice_left_words(step, words),
                        "Once what is faulty is mended, all 36 wirings can still be correct.");
    take_kind(c, "park", 0);
    take_kind(c, "park", 1);
    step = take_trial(c, right);
    check_int(step->entry.entry.trial.motion, HP_MOVED_HUM);
    hp_practice_step_words(c, step, words);
    check_true(strstr(words, "smooth, the rotor in the hub started from 6 of 6") != NULL, "%s",
               words);
    check_int(hp_practice_case_hint(c, &advice, &err), HP_OK);
    check_int(advice.kind, HP_ADVICE_REPAIR);
    check_int(advice.trouble, hp_trouble_index(-1, (hp_fault){HP_FAULT_CLUTCH, 0}));
    check_text_contains(hp_practice_truth_words(c, words),
                        "Hidden was this: the one-way clutch slips. Once that is mended, wirings ");
    hp_practice_case_free(c);
    hp_scenario_free(&s);
}

/* What a small figure is worth is said beside it: a wheel that turns on nothing puzzles. */
static void a_small_current_is_told_with_its_error(void **state)
{
    (void)state;
    int small = 0;
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice_case *c = evening(&s, HP_PRACTICE_SOUND, 8);
    int right = hp_practice_tell(hp_practice_case_machine(c)).right[0];
    for (int k = 0; k < 4; k++) {
        char words[HP_PRACTICE_WORDS];
        const hp_practice_step *step = take_trial(c, k < 2 ? right : right % HP_WIRING_COUNT + k);
        bool is_small = step->entry.entry.trial.battery_a < 0.2; /* meter: zero within 0.1 A */
        hp_practice_step_words(c, step, words);
        check_int(strstr(words, "; the ammeter may be 0.1 A off") != NULL, is_small);
        small += is_small;
    }
    check_true(small > 0 && small < 4, "%d of 4 currents are small", small);
    hp_practice_case_free(c);
    hp_scenario_free(&s);
}

/* A wrong answer is shown by a run, unless that run would destroy something. */
static void no_wrong_answer_is_tried_while_a_danger_is_there(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_FAULT);
    uint64_t seed = seed_with(&s, HP_PRACTICE_FAULT, HP_PRACTICE_PHASE_ON_HALL);
    for (int found = 0; found < 2; found++) {
        char words[HP_PRACTICE_WORDS];
        hp_error err = hp_error_none();
        hp_practice_case *c = evening(&s, HP_PRACTICE_FAULT, seed);
        const hp_practice_truth truth = hp_practice_tell(hp_practice_case_machine(c));
        hp_practice_answer answer = {.claim = HP_CLAIM_WIRING, .number = 1};
        while (answer.number == truth.right[0] || answer.number == truth.right[1] ||
               answer.number == truth.right[2])
            answer.number++;
        if (found)
            take_kind(c, "pins", -1);
        check_int(hp_practice_case_end(c, &answer, &err), HP_OK);
        hp_practice_end_words(c, HP_PRACTICE_LEARNER, words);
        check_true((strstr(words, " Tried gently, ") != NULL) == found, "%s", words);
        check_true((strstr(words, " It is not tried: a phase lead touches a Hall lead, ") !=
                    NULL) == !found,
                   "%s", words);
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

static void a_wrong_entry_that_is_dropped_counts_as_found(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SLIP);
    for (int dropped = 0; dropped < 3; dropped++) {
        hp_error err = hp_error_none();
        hp_practice_case *c = evening(&s, HP_PRACTICE_SLIP, 4);
        const hp_practice *p = hp_practice_case_machine(c);
        int slipped = hp_practice_slipped(p);
        const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
        int other = slipped == 0 ? 1 : 0;
        if (dropped == 1) /* another one first: numbers stay */
            check_int(hp_practice_case_drop(c, other + 1, &err), HP_OK);
        if (dropped > 0)
            check_int(hp_practice_case_drop(c, slipped + 1, &err), HP_OK);
        if (dropped > 0)
            check_int(hp_practice_case_drop(c, slipped + 1, &err), HP_FAIL_INPUT);
        const hp_practice_answer answer = {.claim = HP_CLAIM_WIRING,
                                           .number = hp_practice_tell(p).right[1]};
        check_int(hp_practice_case_end(c, &answer, &err), HP_OK);
        check_int(path->end, dropped ? HP_END_RIGHT : HP_END_MISSED_SLIP);
        check_int(hp_practice_case_drop(c, 1, &err), HP_FAIL_INPUT);
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

/* Seeds whose slip the advice names without more readings, first entry gone or not. */
static void entries_keep_their_numbers_when_others_go(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SLIP);
    for (uint64_t seed = 4; seed <= 6; seed++) {
        hp_error err = hp_error_none();
        hp_advice advice;
        hp_practice_case *c = evening(&s, HP_PRACTICE_SLIP, seed);
        const hp_practice *p = hp_practice_case_machine(c);
        const hp_practice_path *path = hp_practice_case_path(c, HP_PRACTICE_LEARNER);
        int slipped = hp_practice_slipped(p), given = hp_practice_given(p);
        check_true(slipped > 0, "seed %d: the first entry is the wrong one", (int)seed);
        check_int(hp_practice_case_drop(c, 1, &err), HP_OK);
        hp_entry question = hp_practice_ask(hp_reading_find("contacts"), -1);
        check_int(hp_practice_case_take(c, &question, &err), HP_OK);
        check_int(path->step[0].number, 0);
        for (int k = 1; k <= given; k++)
            check_int(path->step[k].number, k + 1);
        check_int(hp_practice_case_hint(c, &advice, &err), HP_OK);
        assert_true(advice.contradiction.found);
        const hp_bench_log *log = hp_case_log(hp_practice_case_bench(c));
        check_int(log->count, given);
        check_int(log->entry[advice.contradiction.slipped].entry.number, slipped + 1);
        check_int(log->entry[given - 1].entry.number, given + 1);
        const hp_practice_answer answer = {.claim = HP_CLAIM_SLIP, .number = slipped + 1};
        check_int(hp_practice_case_end(c, &answer, &err), HP_OK);
        check_int(path->end, HP_END_RIGHT);
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

static void answers_that_cannot_be_are_refused(void **state)
{
    (void)state;
    static const hp_practice_answer bad[] = {{HP_CLAIM_WIRING, 0, 0, 0},
                                             {HP_CLAIM_WIRING, 37, 0, 0},
                                             {HP_CLAIM_SLIP, 1, 0, 0},
                                             {HP_CLAIM_FAULT, 0, HP_PRACTICE_HALL_STUCK, -1},
                                             {HP_CLAIM_FAULT, 0, HP_PRACTICE_PHASE_OPEN, 3}};
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice_case *c = evening(&s, HP_PRACTICE_SOUND, 2);
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
        hp_error err = hp_error_none();
        check_int(hp_practice_case_end(c, &bad[k], &err), HP_FAIL_INPUT);
        check_true(err.text[0] != '\0', "answer %d", (int)k);
        assert_false(hp_practice_case_path(c, HP_PRACTICE_LEARNER)->ended);
    }
    hp_error err = hp_error_none();
    check_int(hp_practice_case_drop(c, 1, &err), HP_FAIL_INPUT);
    hp_practice_case_free(c);
    hp_scenario_free(&s);
}

static void names_lead_back(void **state)
{
    (void)state;
    for (int k = 0; k < HP_PRACTICE_LEVELS; k++)
        check_int(hp_practice_level_find(hp_practice_level_name((hp_practice_level)k)), k);
    for (int k = 0; k < HP_PRACTICE_FAULTS; k++)
        check_int(hp_practice_fault_find(hp_practice_fault_name((hp_practice_fault)k)), k);
    for (int k = 0; k < HP_PRACTICE_FEEDS; k++)
        check_int(hp_practice_feed_find(hp_practice_feed_name((hp_practice_feed)k)), k);
    check_int(hp_practice_level_find("easy"), -1);
    check_int(hp_practice_fault_find("none"), -1);
    check_int(hp_practice_feed_find(""), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_order_of_the_questions_changes_no_answer),
        cmocka_unit_test(asking_again_is_another_look_of_the_meter),
        cmocka_unit_test(seeds_differ),
        cmocka_unit_test(each_level_has_leads_of_its_own),
        cmocka_unit_test(a_hand_turn_shows_the_codes_of_the_table),
        cmocka_unit_test(a_parked_lead_shows_its_partner_alone),
        cmocka_unit_test(good_parts_give_what_they_measure),
        cmocka_unit_test(the_right_wirings_run_and_no_other_does),
        cmocka_unit_test(a_limit_holds_a_wrong_wiring_and_leaves_the_right_one_alone),
        cmocka_unit_test(each_fault_shows_in_what_finds_it),
        cmocka_unit_test(a_silent_controller_drives_once_its_cause_is_found),
        cmocka_unit_test(a_loose_lead_makes_two_looks_differ),
        cmocka_unit_test(power_before_the_checks_is_a_risk_and_may_be_met),
        cmocka_unit_test(a_danger_is_gone_once_it_was_found_or_met),
        cmocka_unit_test(battery_and_full_throttle_are_risks_until_a_wiring_ran),
        cmocka_unit_test(answers_are_judged_by_what_is_hidden),
        cmocka_unit_test(one_given_entry_says_what_nobody_saw),
        cmocka_unit_test(a_level_that_does_not_suit_is_refused),
        cmocka_unit_test(only_who_has_a_limit_feeds_through_one),
        cmocka_unit_test(who_follows_the_advice_ends_right),
        cmocka_unit_test(whoever_asks_at_random_gets_a_log_that_the_advice_reads_alike),
        cmocka_unit_test(a_run_behind_a_slipping_clutch_speaks_for_the_clutch),
        cmocka_unit_test(a_small_current_is_told_with_its_error),
        cmocka_unit_test(no_wrong_answer_is_tried_while_a_danger_is_there),
        cmocka_unit_test(a_wrong_entry_that_is_dropped_counts_as_found),
        cmocka_unit_test(entries_keep_their_numbers_when_others_go),
        cmocka_unit_test(answers_that_cannot_be_are_refused),
        cmocka_unit_test(names_lead_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
