/*
 * How to use the library: from a description of a machine to verdicts on all 36 wirings, and to the
 * one thing to do next. C17 and C++17: cc example.c $(pkg-config --cflags --libs hubphase)
 */
#include <hubphase.h>
#include <stdio.h>
#include <string.h>

/* As it would stand in a file; what is left out has defaults: docs/scenario.md, docs/benchlog.md */
static const char machine[] = "hubphase: 1\n"
                              "name: Orchard trailer\n"
                              "motor:\n"
                              "  magnets: 46\n"
                              "  resistance_between_leads_ohm: 0.2\n"
                              "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"
                              "leads: {motor_phases: {U: red, V: white, W: black}}\n";
static const char measured[] = "hubphase_log: 1\nscenario: Orchard trailer\nentries:\n"
                               "  - time: 2026-11-25T10:40:00+01:00\n"
                               "    pins: {continuity: yes, touches_shell: no}\n";

/* Which of the 36 ways to join the leads run smoothly forward? All of them are simulated. */
static hp_result judge(const hp_scenario *scenario, hp_error *err)
{
    hp_survey survey;
    hp_survey_options options = hp_scenario_survey_options(scenario);
    hp_result result = hp_survey_run(&scenario->drive, &options, &survey, err);
    for (int k = 0; result == HP_OK && k < HP_WIRING_COUNT; k++)
        if (survey.judgement[k].verdict == HP_VERDICT_CORRECT)
            printf("wiring %d: correct, takes %.2f A\n", k + 1,
                   survey.judgement[k].mean.battery_current);
    hp_survey_free(&survey);
    return result;
}

/* And when nobody knows which lead is which: what to do next, after what was measured? */
static hp_result advise(const hp_scenario *scenario, hp_error *err)
{
    hp_advice advice;
    hp_screen screen = hp_screen_plain(stdout);
    hp_case_options options = hp_case_options_default();
    options.log_text = measured;
    hp_case *bench = hp_case_create(scenario, &options, err);
    hp_result result = bench ? hp_case_next(bench, &advice, err) : err->code;
    if (result == HP_OK)
        hp_step_print(bench, &advice, &screen);
    hp_case_free(bench);
    return result;
}

int main(void)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    /* Problems in a text or file, with line and column, go to the stream that is handed in. */
    hp_result result =
        hp_scenario_read(machine, strlen(machine), "trailer.yaml", &scenario, stderr, &err);
    if (result == HP_OK)
        result = judge(&scenario, &err);
    if (result == HP_OK)
        result = advise(&scenario, &err);
    if (result != HP_OK)
        fprintf(stderr, "%s: %s\n", hp_result_name(result), err.text);
    hp_scenario_free(&scenario);
    return result == HP_OK ? 0 : 1;
}
