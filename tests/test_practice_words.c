/* Words of practice: what was hidden, what came of a risk, what the end says of an answer. */
#include "check.h"

#include "evening.h"

#include "hubphase/report/case_words.h"

/* The wirings that are right, as the end says them. */
static const char *right_words(const hp_practice *p, char *out, size_t size)
{
    const hp_practice_truth truth = hp_practice_tell(p);
    snprintf(out, size, "wirings %d, %d and %d run smoothly forward.", truth.right[0],
             truth.right[1], truth.right[2]);
    return out;
}

static const char *end_with(hp_practice_case *c, hp_practice_answer answer, char *out)
{
    hp_error err = hp_error_none();
    check_true(hp_practice_case_end(c, &answer, &err) == HP_OK, "%s", err.text);
    return hp_practice_end_words(c, HP_PRACTICE_LEARNER, out);
}

/* What the end says of each thing that can be hidden; %s: the lead that it is about. */
static const struct {
    const char *any, *of_lead;
} hidden[HP_PRACTICE_FAULTS] = {
    [HP_PRACTICE_HALL_STUCK] = {"a Hall sensor is stuck: its lead never changes",
                                "the %s Hall sensor is stuck at "},
    [HP_PRACTICE_HALL_INVERTED] =
        {"a Hall sensor reads the wrong way round, as 60-degree sensors do",
         "the %s Hall sensor reads the wrong way round, as 60-degree sensors do. "},
    [HP_PRACTICE_PHASE_OPEN] = {"a phase lead is broken", "the %s phase lead is broken. "},
    [HP_PRACTICE_SILENT] = {"something keeps the controller from driving",
                            "something keeps the controller from driving ("},
    [HP_PRACTICE_CUTTING_OUT] = {"the battery's protection cuts out in every run",
                                 "the battery's protection cuts out in every run. "},
    [HP_PRACTICE_LOOSE] = {"a lead makes contact only now and then",
                           "a lead makes contact only now and then. "},
    [HP_PRACTICE_CLUTCH_SLIPS] = {"the one-way clutch slips", NULL}, /* test_practise.c */
    [HP_PRACTICE_HALL_SUPPLY] = {"the Hall supply pins carry battery voltage",
                                 "the Hall supply pins carry battery voltage. "},
    [HP_PRACTICE_ON_SHELL] = {"a lead touches the shell", "a lead touches the shell. "},
    [HP_PRACTICE_PHASE_ON_HALL] = {"a phase lead touches a Hall lead",
                                   "a phase lead touches a Hall lead. "},
};

static const char *cause_words(hp_found cause)
{
    switch (cause) {
    case HP_FOUND_KEY: return "driving (the key lead had no volts). ";
    case HP_FOUND_SUPPLY: return "driving (the supply of throttle and Hall sensors was missing). ";
    case HP_FOUND_THROTTLE:
        return "driving (the throttle was not at rest when it was switched on). ";
    case HP_FOUND_BRAKE: return "driving (the brake input was active). ";
    case HP_FOUND_PEDAL: return "driving (it stood in pedal mode). ";
    case HP_FOUND_CODE: return "driving (the Hall code was none). ";
    default: return NULL;
    }
}

/* What the end says of the machine that this seed draws. */
static void check_truth(const hp_scenario *s, uint64_t seed)
{
    char words[HP_PRACTICE_WORDS], said[HP_PRACTICE_WORDS], right[100];
    hp_practice_case *c = evening(s, HP_PRACTICE_FAULT, seed);
    const hp_practice *p = hp_practice_case_machine(c);
    const char *told = hidden[p->fault].of_lead;
    const char *lead = p->fault == HP_PRACTICE_PHASE_OPEN
                           ? s->labels.motor_lead[p->lead < 0 ? 0 : p->lead]
                           : s->labels.motor_sensor[p->lead < 0 ? 0 : p->lead];
    int cut = (int)strcspn(told, "%");
    bool named = told[cut] != '\0';
    snprintf(said, sizeof said, "Hidden was this: %.*s%s%s", cut, told, named ? lead : "",
             named ? told + cut + 2 : "");
    hp_practice_truth_words(c, words);
    check_true(strncmp(words, said, strlen(said)) == 0, "\"%s\" does not begin with \"%s\"", words,
               said);
    if (p->fault == HP_PRACTICE_HALL_STUCK)
        check_text_contains(words, p->high ? "stuck at 1. Once" : "stuck at 0. Once");
    if (p->fault == HP_PRACTICE_SILENT)
        check_text_contains(words, cause_words(p->cause));
    check_text_contains(words, " Once that is mended, ");
    check_text_contains(words, right_words(p, right, sizeof right));
    hp_practice_case_free(c);
}

static void the_end_names_what_was_hidden(void **state)
{
    (void)state;
    unsigned told = 0, causes = 0;
    hp_scenario s = load(HP_PRACTICE_FAULT);
    for (uint64_t seed = 1; seed <= 100; seed++) {
        hp_practice *p = machine(&s, HP_PRACTICE_FAULT, seed);
        unsigned fault = 1U << p->fault;
        unsigned cause = p->fault == HP_PRACTICE_SILENT ? 1U << p->cause : 0;
        hp_practice_free(p);
        if (!(fault & ~told) && !(cause & ~causes))
            continue;
        check_truth(&s, seed);
        told |= fault;
        causes |= cause;
    }
    check_int((int)told, (1 << HP_PRACTICE_FAULTS) - 1 - (1 << HP_PRACTICE_CLUTCH_SLIPS));
    check_true((causes & (causes - 1)) != 0, "one cause alone in 100 machines");
    hp_scenario_free(&s);
}

static void a_fault_is_named_for_no_lead_in_particular(void **state)
{
    (void)state;
    char words[HP_PRACTICE_WORDS];
    const hp_labels labels = hp_labels_default();
    for (int fault = 0; fault < HP_PRACTICE_FAULTS; fault++)
        assert_string_equal(hp_practice_fault_words(&labels, (hp_practice_fault)fault, -1, words),
                            hidden[fault].any);
    assert_string_equal(hp_practice_fault_words(&labels, HP_PRACTICE_NO_FAULT, -1, words),
                        "every part is good");
}

static void good_parts_are_called_good(void **state)
{
    (void)state;
    char words[HP_PRACTICE_WORDS], expected[160], right[100];
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice_case *c = evening(&s, HP_PRACTICE_SOUND, 3);
    snprintf(expected, sizeof expected, "Every part is good: %s",
             right_words(hp_practice_case_machine(c), right, sizeof right));
    assert_string_equal(hp_practice_truth_words(c, words), expected);
    assert_string_equal(hp_practice_code_words(&s.labels, words),
                        "Hall codes are read in the order white, grey, brown.");
    hp_practice_case_free(c);
    hp_scenario_free(&s);
}

/* ---- what was taken ------------------------------------------------------------------------- */

static void steps_are_named_by_what_was_asked(void **state)
{
    (void)state;
    char words[HP_PRACTICE_WORDS], expected[80];
    hp_scenario s = load(HP_PRACTICE_SOUND);
    hp_practice_case *c = evening(&s, HP_PRACTICE_SOUND, 8);
    const hp_practice *p = hp_practice_case_machine(c);
    int right = hp_practice_tell(p).right[0];
    const hp_wiring wiring = hp_wiring_from_number(right);
    assert_string_equal(hp_practice_step_name(c, take_kind(c, "pins", -1), words), "pins");
    assert_string_equal(hp_practice_step_name(c, take_kind(c, "park", 2), words), "park on blue");
    static const struct {
        hp_practice_feed feed;
        const char *name, *choice;
    } feed[] = {{HP_PRACTICE_LIMITED, "bench supply", "bench supply set to "},
                {HP_PRACTICE_BATTERY, "battery", "the battery, 35 % throttle"},
                {HP_PRACTICE_FULL, "battery, full throttle", "the battery, full throttle"}};
    for (int k = 0; k < HP_PRACTICE_FEEDS; k++) {
        const hp_practice_step *step = take(c, hp_practice_ask_trial(p, &wiring, feed[k].feed, 0));
        snprintf(expected, sizeof expected, "wiring %d, %s", right, feed[k].name);
        assert_string_equal(hp_practice_step_name(c, step, words), expected);
        check_text_contains(hp_practice_feed_words(c, feed[k].feed, words), feed[k].choice);
    }
    hp_practice_case_free(c);
    /* Who has no supply takes a lamp. */
    s.bench.plan.first_power = HP_FIRST_POWER_LAMP;
    c = evening(&s, HP_PRACTICE_SOUND, 8);
    assert_string_equal(hp_practice_feed_words(c, HP_PRACTICE_LIMITED, words),
                        "through a lamp that limits the current, 35 % throttle");
    const hp_practice_step *step = take_trial(c, right);
    snprintf(expected, sizeof expected, "wiring %d, lamp", right);
    assert_string_equal(hp_practice_step_name(c, step, words), expected);
    hp_practice_case_free(c);
    hp_scenario_free(&s);
}

/* The words of the first risk of a kind, met or not, that a step took; none: NULL. */
static const char *risk_words(hp_practice_case *c, const hp_practice_step *step,
                              hp_practice_risk_kind kind, bool met, char *out)
{
    for (int k = 0; k < step->risks; k++)
        if (step->risk[k].kind == kind && step->risk[k].met == met)
            return hp_practice_risk_words(c, step, k, out);
    return NULL;
}

static void what_came_of_a_risk_is_told(void **state)
{
    (void)state;
    char words[HP_PRACTICE_WORDS];
    hp_scenario s = load(HP_PRACTICE_SOUND);
    for (int well = 0; well < 2; well++) {
        hp_practice_case *c = evening(&s, HP_PRACTICE_SOUND, 8);
        const hp_practice *p = hp_practice_case_machine(c);
        const hp_practice_truth truth = hp_practice_tell(p);
        /* Wirings whose number is one more behave otherwise. */
        const hp_wiring wiring = hp_wiring_from_number(truth.right[0] % HP_WIRING_COUNT + !well);
        const hp_practice_step *step =
            take(c, hp_practice_ask_trial(p, &wiring, HP_PRACTICE_BATTERY, 0.0));
        const char *said = risk_words(c, step, HP_RISK_UNLIMITED, !well, words);
        assert_non_null(said);
        check_text_contains(said, "First power on this wiring came straight from the battery. ");
        check_int(strstr(said, "This time nothing came of it.") != NULL, well);
        check_int(strstr(said, " Left on, winding and controller overheat fast.") != NULL, !well);
        said = risk_words(c, step, HP_RISK_UNCHECKED, false, words);
        assert_non_null(said);
        check_text_contains(said, "before anybody had checked what touches what. This time");
        step = take(c, hp_practice_ask_trial(p, &wiring, HP_PRACTICE_FULL, 0.0));
        said = risk_words(c, step, HP_RISK_FULL, !well, words);
        check_int(said == NULL, well); /* it was seen to run well before */
        if (!well)
            check_text_contains(said, "Full throttle, and nobody had seen this wiring run well. "
                                      "Nothing held the current: ");
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

static void a_danger_that_was_met_is_told_by_its_noise(void **state)
{
    (void)state;
    static const struct {
        hp_practice_fault fault;
        const char *words;
    } danger[] = {{HP_PRACTICE_HALL_SUPPLY, "A small pop: the Hall supply pins carried battery"},
                  {HP_PRACTICE_ON_SHELL, "A bang: a lead touched the shell, and the fuse went."},
                  {HP_PRACTICE_PHASE_ON_HALL, "A small pop: a phase lead touched a Hall lead"}};
    hp_scenario s = load(HP_PRACTICE_FAULT);
    for (size_t k = 0; k < sizeof danger / sizeof danger[0]; k++) {
        char words[HP_PRACTICE_WORDS];
        hp_practice_case *c =
            evening(&s, HP_PRACTICE_FAULT, seed_with(&s, HP_PRACTICE_FAULT, danger[k].fault));
        const hp_practice_step *step = take_trial(c, 1);
        const char *said = risk_words(c, step, HP_RISK_UNCHECKED, true, words);
        assert_non_null(said);
        check_text_contains(said, danger[k].words);
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

/* ---- the end -------------------------------------------------------------------------------- */

static void a_fault_on_another_lead_is_half_right(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_FAULT);
    uint64_t seed = seed_with(&s, HP_PRACTICE_FAULT, HP_PRACTICE_PHASE_OPEN);
    for (int off = 0; off < 2; off++) {
        char words[HP_PRACTICE_WORDS], answer[HP_PRACTICE_WORDS], expected[HP_PRACTICE_WORDS + 16];
        hp_practice_case *c = evening(&s, HP_PRACTICE_FAULT, seed);
        int lead = (hp_practice_case_machine(c)->lead + off) % HP_PHASE_COUNT;
        end_with(c,
                 (hp_practice_answer){
                     .claim = HP_CLAIM_FAULT, .fault = HP_PRACTICE_PHASE_OPEN, .lead = lead},
                 words);
        snprintf(expected, sizeof expected, "the %s phase lead is broken",
                 s.labels.motor_lead[lead]);
        assert_string_equal(hp_practice_answer_words(c, HP_PRACTICE_LEARNER, answer), expected);
        snprintf(expected, sizeof expected, "Right: %s.", answer);
        assert_string_equal(words,
                            off ? "Half right: that is the fault, but on another lead." : expected);
        assert_string_equal(
            hp_practice_end_word(hp_practice_case_path(c, HP_PRACTICE_LEARNER)->end),
            off ? "half right" : "right");
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

/* The right wiring of a machine that something is wrong with: half right, unless it was found. */
static void a_right_wiring_beside_a_fault_is_told_with_it(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_FAULT);
    uint64_t seed = seed_with(&s, HP_PRACTICE_FAULT, HP_PRACTICE_ON_SHELL);
    for (int found = 0; found < 2; found++) {
        char words[HP_PRACTICE_WORDS], expected[HP_PRACTICE_WORDS];
        hp_practice_case *c = evening(&s, HP_PRACTICE_FAULT, seed);
        int right = hp_practice_tell(hp_practice_case_machine(c)).right[2];
        if (found)
            take_kind(c, "pins", -1);
        end_with(c, (hp_practice_answer){.claim = HP_CLAIM_WIRING, .number = right}, words);
        snprintf(expected, sizeof expected,
                 found ? "Right: wiring %d is correct. What was wrong with the machine was found "
                         "and mended on the way."
                       : "Half right: wiring %d is correct, but not all parts are good: a lead "
                         "touches the shell.",
                 right);
        assert_string_equal(words, expected);
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

static void a_slip_is_told_by_its_number(void **state)
{
    (void)state;
    hp_scenario s = load(HP_PRACTICE_SLIP);
    for (int way = 0; way < 4; way++) {
        char words[HP_PRACTICE_WORDS], expected[HP_PRACTICE_WORDS];
        hp_error err = hp_error_none();
        hp_practice_case *c = evening(&s, HP_PRACTICE_SLIP, 4);
        const hp_practice *p = hp_practice_case_machine(c);
        int slip = hp_practice_slipped(p) + 1, other = slip == 1 ? 2 : 1;
        int right = hp_practice_tell(p).right[1];
        const hp_practice_answer wiring = {.claim = HP_CLAIM_WIRING, .number = right};
        switch (way) {
        case 0:
            end_with(c, wiring, words);
            snprintf(expected, sizeof expected,
                     "Half right: wiring %d is correct, but entry %d of the log is wrong and "
                     "still in it.",
                     right, slip);
            break;
        case 1:
            check_int(hp_practice_case_drop(c, slip, &err), HP_OK);
            end_with(c, wiring, words);
            snprintf(expected, sizeof expected,
                     "Right: wiring %d is correct. The wrong entry, number %d, had been taken "
                     "out.",
                     right, slip);
            break;
        case 2:
            end_with(c, (hp_practice_answer){.claim = HP_CLAIM_SLIP, .number = slip}, words);
            snprintf(expected, sizeof expected, "Right: entry %d is wrong.", slip);
            break;
        default:
            end_with(c, (hp_practice_answer){.claim = HP_CLAIM_SLIP, .number = other}, words);
            snprintf(expected, sizeof expected, "Wrong: it is not so that entry %d is wrong.",
                     other);
            break;
        }
        assert_string_equal(words, expected);
        snprintf(expected, sizeof expected, " Entry %d was wrong. It said: ", slip);
        check_text_contains(hp_practice_truth_words(c, words), expected);
        check_text_contains(words, ". There was this to see: ");
        hp_practice_case_free(c);
    }
    hp_scenario_free(&s);
}

/* Each level says what to find, and by what the wirings that are left are counted. */
static void each_level_says_its_aim_and_what_is_counted(void **state)
{
    (void)state;
    static const char *const aim[HP_PRACTICE_LEVELS] = {
        "Every part is good. Find a wiring", "One part is faulty, or something touches",
        "one of its entries is wrong. Find out which.", "the clutch may slip."};
    for (int level = 0; level < HP_PRACTICE_LEVELS; level++) {
        char words[HP_PRACTICE_WORDS];
        hp_scenario s = load((hp_practice_level)level);
        check_text_contains(hp_practice_level_words((hp_practice_level)level), aim[level]);
        /* The geared hub's likelihood table is not shipped: building it takes seconds. */
        for (int table = -1; table <= 0 && level != HP_PRACTICE_CLUTCH; table++) {
            s.bench.table_known = table >= 0;
            s.bench.prior.table = table;
            hp_practice_case *c = evening(&s, (hp_practice_level)level, 4);
            hp_practice_counts_words(c, words);
            check_int(strstr(words, "the controller's table is as stated") != NULL, table >= 0);
            check_int(strstr(words, "no reading is a slip") != NULL, level != HP_PRACTICE_SLIP);
            hp_practice_case_free(c);
        }
        hp_scenario_free(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_end_names_what_was_hidden),
        cmocka_unit_test(good_parts_are_called_good),
        cmocka_unit_test(a_fault_is_named_for_no_lead_in_particular),
        cmocka_unit_test(steps_are_named_by_what_was_asked),
        cmocka_unit_test(what_came_of_a_risk_is_told),
        cmocka_unit_test(a_danger_that_was_met_is_told_by_its_noise),
        cmocka_unit_test(a_fault_on_another_lead_is_half_right),
        cmocka_unit_test(a_right_wiring_beside_a_fault_is_told_with_it),
        cmocka_unit_test(a_slip_is_told_by_its_number),
        cmocka_unit_test(each_level_says_its_aim_and_what_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
