/* Many motors like the one of the scenario, as `hubphase spread` surveys them. See face_parts.h. */
#include "hubphase/decide/spread.h"
#include "hubphase/report/pictures.h"
#include "hubphase/report/tables.h"
#include "web/face_parts.h"

#include <stdlib.h>
#include <string.h>

/* A spread that is worked out by and by, and what of. */
struct hp_web_spread_work {
    char *basis; /* owned; the members of the request that it follows from, as text */
    hp_scenario scenario;
    hp_spread_work *work; /* owned */
};

typedef struct request {
    hp_shape shape;
    int columns;
    int motors;      /* 0: the scenario's */
    int seed;        /* below 0: the scenario's */
    int at_once;     /* motors surveyed by this request, at most */
    bool sum;        /* told of what is done, though it is not all */
    hp_spread *what; /* owned */
} request;

static bool take(hp_web_answer *a, request *r)
{
    bool good = hp_web_take_columns(a, &r->columns);
    good = hp_web_take_shape(a, &r->shape) && good;
    good = hp_web_take_whole(a, "motors", 1, HP_SPREAD_MOTORS_MAX, &r->motors) && good;
    good = hp_web_take_whole(a, "seed", 0, HP_SPREAD_SEED_MAX, &r->seed) && good;
    good = hp_web_take_whole(a, "at_once", 0, HP_SPREAD_MOTORS_MAX, &r->at_once) && good;
    r->sum = !json_object_get(a->request, "at_once");
    return hp_web_take_flag(a, "sum", &r->sum) && good;
}

/* ---- the work -------------------------------------------------------------------------------- */

void hp_web_forget_spread(hp_web *web)
{
    hp_web_spread_work *s = web->spread;
    web->spread = NULL;
    if (!s)
        return;
    hp_spread_work_free(s->work);
    hp_scenario_free(&s->scenario);
    free(s->basis);
    free(s);
}

static char *basis_of(const hp_web_answer *a, const request *r)
{
    json_t *all =
        json_pack("[O?, i, i]", json_object_get(a->request, "changes"), r->motors, r->seed);
    char *text = all ? json_dumps(all, JSON_COMPACT | JSON_SORT_KEYS) : NULL;
    json_decref(all);
    return text;
}

static void lay_over(const request *r, hp_scenario *scenario)
{
    if (r->motors > 0) {
        scenario->spread.motors = r->motors;
        hp_parameters_note_option(&scenario->parameters, "spread.motors", r->motors, "--motors");
    }
    if (r->seed >= 0) {
        scenario->spread.seed = (uint64_t)r->seed;
        hp_parameters_note_option(&scenario->parameters, "spread.seed", r->seed, "--seed");
    }
}

/* Begins another one, in the place of what was begun before; takes over the basis. */
static hp_result begin(hp_web *web, hp_web_answer *a, const request *r, char *basis)
{
    hp_web_spread_work *s = calloc(1, sizeof *s);
    hp_web_forget_spread(web);
    if (!s) {
        free(basis);
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a spread");
    }
    web->spread = s;
    s->basis = basis;
    hp_result result = hp_web_read_changed(web, a, &s->scenario);
    if (result == HP_OK) {
        lay_over(r, &s->scenario);
        hp_spread_options options = hp_scenario_spread_options(&s->scenario);
        options.survey.progress = web->progress;
        options.survey.user = web->user;
        s->work = hp_spread_work_create(&s->scenario.drive, &options, &a->err);
        result = s->work ? HP_OK : a->err.code;
    }
    if (result != HP_OK)
        hp_web_forget_spread(web);
    return result;
}

/* What was begun of the same goes on. */
static hp_result reckon(hp_web *web, hp_web_answer *a, const request *r)
{
    hp_result result = HP_OK;
    char *basis = basis_of(a, r);
    if (!basis)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a spread");
    if (web->spread && strcmp(web->spread->basis, basis) == 0)
        free(basis);
    else
        result = begin(web, a, r, basis);
    if (result != HP_OK)
        return result;
    hp_spread_work *work = web->spread->work;
    result = hp_spread_work_run(work, r->at_once, &a->err);
    if (result == HP_FAIL_CANCELLED && hp_spread_work_motors(work) > 0) {
        a->err = hp_error_none();
        result = HP_OK;
    }
    return result;
}

typedef hp_result (*writer)(const hp_report_case *subject, const hp_spread *spread, FILE *out,
                            hp_error *err);

/* What the program would write, byte for byte. */
static hp_result set_file(hp_web_answer *a, const hp_scenario *scenario, const request *r,
                          const char *key, writer write)
{
    hp_web_stream out = {.text = NULL};
    hp_report_case subject = hp_report_case_of(scenario);
    hp_result result = hp_web_stream_begin(&out, &a->err);
    if (result == HP_OK)
        result = write(&subject, r->what, out.file, &a->err);
    return hp_web_stream_tell(&out, key, result, a);
}

static hp_result set_text(hp_web_answer *a, const hp_scenario *scenario, const request *r)
{
    hp_web_stream out = {.text = NULL};
    hp_report_case subject = hp_report_case_of(scenario);
    hp_result result = hp_web_stream_begin(&out, &a->err);
    const hp_screen screen = {.file = out.file, .columns = r->columns, .page = true};
    if (result == HP_OK)
        hp_spread_print(&subject, r->what, &screen);
    return hp_web_stream_tell(&out, "text", result, a);
}

static hp_result tell(hp_web *web, hp_web_answer *a, request *r)
{
    const hp_scenario *scenario = &web->spread->scenario;
    r->what = malloc(sizeof *r->what);
    if (!r->what)
        return hp_error_set(&a->err, HP_FAIL_MEMORY, "no memory for a spread");
    hp_result result = hp_spread_work_sum(web->spread->work, r->what, &a->err);
    if (result != HP_OK)
        return result;
    const hp_picture_subject subject = {.drive = &scenario->drive,
                                        .labels = &scenario->labels,
                                        .thresholds = hp_thresholds_default(),
                                        .spread = r->what};
    result = set_text(a, scenario, r);
    if (result == HP_OK)
        result = set_file(a, scenario, r, "json_file", hp_spread_json_write);
    if (result == HP_OK)
        result = set_file(a, scenario, r, "csv_file", hp_spread_csv_write);
    return result == HP_OK ? hp_web_set_pictures(a, HP_MAKER_SPREAD, &subject, r->shape) : result;
}

hp_result hp_web_spread(hp_web *web, hp_web_answer *a)
{
    request r = {.shape = HP_SHAPE_PHONE, .seed = -1, .at_once = HP_SPREAD_MOTORS_MAX};
    hp_result result = hp_web_want_open(web, a, false);
    if (result == HP_OK && !take(a, &r))
        result = HP_FAIL_INPUT;
    if (result == HP_OK)
        result = reckon(web, a, &r);
    if (result != HP_OK)
        return result;
    const hp_spread_plan *plan = &web->spread->scenario.spread;
    int motors = hp_spread_work_motors(web->spread->work);
    hp_web_set(a, "motors", json_integer(motors));
    hp_web_set(a, "of", json_integer(plan->motors));
    hp_web_set(a, "seed", json_integer((json_int_t)plan->seed));
    if (r.sum || motors == plan->motors)
        result = tell(web, a, &r);
    free(r.what);
    return result;
}
