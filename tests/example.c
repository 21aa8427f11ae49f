/*
 * How to use the library: from a description of a machine to verdicts on all 36 wirings, and to the
 * one thing to do next. C17 and C++17; everything comes in through one header.
 *
 *     cc example.c $(pkg-config --cflags --libs hubphase) -o example
 */
#include <hubphase.h>
#include <stdio.h>
#include <string.h>

/* A scenario as it would stand in a file; what it leaves out has defaults. docs/scenario.md */
static const char machine[] = "hubphase: 1\n"
                              "name: Orchard trailer\n"
                              "motor:\n"
                              "  magnets: 46\n"
                              "  resistance_between_leads_ohm: 0.2\n"
                              "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n"
                              "leads: {motor_phases: {U: red, V: white, W: black}}\n";

/* Which of the 36 ways to join the leads run smoothly? All are simulated, each from a few start
 * positions of the rotor. Calls that can fail return a result and say in `err` what was wrong. */
static hp_result survey(const hp_scenario *scenario, hp_error *err)
{
    hp_survey result;
    hp_survey_options options = hp_survey_options_default();
    options.run = scenario->run;
    options.starts = 3;
    if (hp_survey_run(&scenario->drive, &options, &result, err) != HP_OK)
        return err->code;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        const hp_judgement *judgement = &result.judgement[number - 1];
        if (judgement->verdict == HP_VERDICT_CORRECT)
            printf("wiring %d: %s, takes %.2f A\n", number, hp_verdict_name(judgement->verdict),
                   judgement->mean.battery_current);
    }
    hp_survey_free(&result);
    return HP_OK;
}

/* And when nobody knows which lead is which: what to do next, after what the log holds? */
static hp_result advise(const hp_scenario *scenario, hp_error *err)
{
    hp_advice advice;
    hp_case_options options = hp_case_options_default();
    options.log_text = "hubphase_log: 1\n"
                       "scenario: Orchard trailer\n"
                       "entries:\n"
                       "  - time: 2026-11-25T10:40:00+01:00\n"
                       "    pins: {continuity: yes, touches_shell: no}\n";
    options.diagnostics = stderr;
    hp_case *bench = hp_case_create(scenario, &options, err);
    if (!bench)
        return err->code;
    hp_result result = hp_case_next(bench, &advice, err);
    hp_screen screen = hp_screen_plain(stdout);
    if (result == HP_OK)
        hp_step_print(bench, &advice, &screen);
    hp_case_free(bench);
    return result;
}

int main(void)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    /* Problems, with line and column, go to the stream that we hand in. */
    hp_result result =
        hp_scenario_read(machine, strlen(machine), "trailer.yaml", &scenario, stderr, &err);
    if (result == HP_OK)
        result = survey(&scenario, &err);
    if (result == HP_OK)
        result = advise(&scenario, &err);
    if (result != HP_OK)
        fprintf(stderr, "%s: %s\n", hp_result_name(result), err.text);
    hp_scenario_free(&scenario); /* safe after a failure, too */
    return result == HP_OK ? 0 : 1;
}
