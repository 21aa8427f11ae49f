/*
 * What `explain` says of a wiring agrees with what the simulation made of it: over every shipped
 * scenario, and over machines that do odd things: a fast hub of much inductance whose early field
 * passes and whose opposed wirings turn, and hubs whose wheel an opposed wiring pumps forward
 * through a one-way clutch (drawn over the wide ranges of verdict_spread).
 *
 * The words are looked at from outside: what a reader would take for a claim must not be another
 * claim than the verdict's.
 */
#include "scenario_text.h"
#include "verdict_spread_draw.h"

#include "hubphase/decide/survey.h"
#include "report/words/explain.h"

#include <dirent.h>

#if defined(__SANITIZE_ADDRESS__)
#define STARTS 1
#else
#define STARTS 4
#endif

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
    /* A table that lacks codes: the text speaks of what cannot start, and leaves the rest open. */
    bool open = says(text, "no lead is driven at all");
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

static void check_machine(const char *machine, const hp_drive *drive, const hp_labels *labels,
                          const hp_judgement judgement[HP_WIRING_COUNT])
{
    hp_report_case subject = {.drive = drive, .labels = labels};
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        char text[700];
        hp_wiring wiring = hp_wiring_from_number(number);
        hp_explain_sentences(&subject, &wiring, &judgement[number - 1], text, sizeof text);
        check_claims(machine, number, &judgement[number - 1], text);
    }
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
    check_machine(machine, drive, labels, survey.judgement);
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
    check_true(told_kind >= 20, "a kind only %d times", told_kind);
    check_true(STARTS == 1 || shuffling >= 3, "a shuffling rotor only %d times", shuffling);
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
