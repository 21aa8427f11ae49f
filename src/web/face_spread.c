/* Many motors like the one of the scenario, as `hubphase spread` surveys them. See face_parts.h. */
#include "hubphase/decide/spread.h"
#include "hubphase/report/pictures.h"
#include "hubphase/report/tables.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

typedef struct request {
    hp_scenario scenario;
    hp_spread *spread; /* owned */
    hp_shape shape;
    int columns;
} request;

static hp_result take(hp_web *web, hp_web_answer *a, request *r)
{
    int motors = 0, seed = -1;
    bool good = hp_web_take_columns(a, &r->columns);
    good = hp_web_take_shape(a, &r->shape) && good;
    good = hp_web_take_whole(a, "motors", 1, HP_SPREAD_MOTORS_MAX, &motors) && good;
    good = hp_web_take_whole(a, "seed", 0, HP_SPREAD_SEED_MAX, &seed) && good;
    hp_result result = good ? hp_web_read_changed(web, a, &r->scenario) : HP_FAIL_INPUT;
    if (result != HP_OK)
        return result;
    if (motors > 0) {
        r->scenario.spread.motors = motors;
        hp_parameters_note_option(&r->scenario.parameters, "spread.motors", motors, "--motors");
    }
    if (seed >= 0) {
        r->scenario.spread.seed = (uint64_t)seed;
        hp_parameters_note_option(&r->scenario.parameters, "spread.seed", seed, "--seed");
    }
    return HP_OK;
}

static hp_result reckon(hp_web *web, hp_web_answer *a, request *r)
{
    hp_spread_options options = hp_scenario_spread_options(&r->scenario);
    options.survey.progress = web->progress;
    options.survey.user = web->user;
    r->spread = malloc(sizeof *r->spread);
    if (!r->spread)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a spread");
    return hp_spread_run(&r->scenario.drive, &options, r->spread, &a->err);
}

typedef hp_result (*writer)(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                            hp_error *err);

/* What the program would write, byte for byte. */
static hp_result set_file(hp_web_answer *a, const request *r, const char *key, writer write)
{
    hp_web_stream out = {.text = NULL};
    hp_report_case subject = hp_report_case_of(&r->scenario);
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK)
        result = write(&subject, r->spread, out.file, &a->err);
    return hp_web_stream_tell(&out, key, result, a);
}

static hp_result set_text(hp_web_answer *a, const request *r)
{
    hp_web_stream out = {.text = NULL};
    hp_report_case subject = hp_report_case_of(&r->scenario);
    hp_result result = hp_web_stream_begin(&out, &a->err);
    const hp_screen screen = {.file = out.file, .columns = r->columns};
    if (result == HP_OK)
        hp_spread_print(&subject, r->spread, &screen);
    return hp_web_stream_tell(&out, "text", result, a);
}

static hp_result tell(hp_web_answer *a, const request *r)
{
    const hp_picture_subject subject = {.drive = &r->scenario.drive,
                                        .labels = &r->scenario.labels,
                                        .thresholds = hp_thresholds_default(),
                                        .spread = r->spread};
    hp_web_set(a, "motors", json_integer(r->spread->motors));
    hp_web_set(a, "seed", json_integer((json_int_t)r->spread->plan.seed));
    hp_result result = set_text(a, r);
    if (result == HP_OK)
        result = set_file(a, r, "json_file", hp_spread_json_write);
    if (result == HP_OK)
        result = set_file(a, r, "csv_file", hp_spread_csv_write);
    return result == HP_OK ? hp_web_set_pictures(a, HP_MAKER_SPREAD, &subject, r->shape) : result;
}

hp_result hp_web_spread(hp_web *web, hp_web_answer *a)
{
    request r = {.shape = HP_SHAPE_PHONE};
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK)
        result = take(web, a, &r);
    if (result == HP_OK)
        result = reckon(web, a, &r);
    if (result == HP_OK)
        result = tell(a, &r);
    free(r.spread);
    hp_scenario_free(&r.scenario);
    return result;
}
