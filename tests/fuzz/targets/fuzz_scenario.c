/* A scenario file: read, and what is accepted is a machine that the model accepts, listed and
 * drawn. */
#include "fuzz.h"

static void take(const hp_scenario *scenario)
{
    hp_error err = hp_error_none();
    hp_screen out = hp_screen_plain(fuzz_nowhere());
    hp_survey_options survey = hp_scenario_survey_options(scenario);
    promise(hp_drive_check(&scenario->drive, &err) == HP_OK);
    promise(hp_spread_plan_check(&scenario->spread, &err) == HP_OK);
    promise(hp_survey_options_check(&survey, &err) == HP_OK);
    hp_parameters_print(&scenario->parameters, &out);
    hp_parameters_print(&scenario->controls_parameters, &out);
    hp_parameters_print(&scenario->fit_parameters, &out);
    for (int motor = 0; motor < scenario->spread.motors; motor += 1 + scenario->spread.motors / 4) {
        double rest;
        hp_drive drive = hp_spread_motor(&scenario->drive, &scenario->spread, motor, &rest);
        promise(hp_drive_check(&drive, &err) == HP_OK);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    hp_scenario scenario;
    hp_error err = hp_error_none();
    memset(&scenario, 0, sizeof scenario);
    hp_result result =
        hp_scenario_read((const char *)data, size, "fuzz.yaml", &scenario, fuzz_nowhere(), &err);
    promise(result == HP_OK || (result == HP_FAIL_INPUT && err.text[0]));
    if (result == HP_OK)
        take(&scenario);
    else
        promise(!scenario.about && !scenario.parameters.item);
    hp_scenario_free(&scenario);
    return 0;
}
