/*
 * Scenario files: see the header.
 *
 * The way of a file: bytes (scenario_source), document (scenario_yaml), keys into a draft
 * (scenario_read, by the table in scenario_keys), what several keys say together (scenario_motor
 * and the other parts listed in scenario_settle.h), list of parameters (scenario_list). Problems
 * gather in one list (scenario_problem), which is printed at the end.
 */
#include "hubphase/record/scenario.h"

#include "decide/reading/control_values.h"
#include "hubphase/decide/assumptions.h"
#include "record/log/bench_log_parts.h"
#include "record/scenario/parameters.h"
#include "record/scenario/scenario_learnt.h"
#include "record/scenario/scenario_list.h"
#include "record/scenario/scenario_load.h"
#include "record/scenario/scenario_settle.h"

#include <stdlib.h>
#include <string.h>

/* All that exists only while a file is read. */
typedef struct load {
    hp_source source;
    hp_yaml yaml;
    hp_yaml changes;    /* what is stated in place of the file */
    char *changes_text; /* that `changes` points into; owned */
    hp_problems problems;
    hp_reader reader;
    hp_before before; /* what is learnt */
} load;

#define ABOUT_SIZE 4096

/* Copies the text `about`; its last line break goes, block texts always end in one. */
static hp_result take_about(load *l, char **about, hp_error *err)
{
    if (!hp_reader_has(&l->reader, HP_KEY_ABOUT))
        return HP_OK;
    char *text = malloc(ABOUT_SIZE);
    if (!text)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for the text of about");
    hp_value value = hp_reader_value(&l->reader, HP_KEY_ABOUT);
    text[0] = '\0';
    hp_value_text(&value, text, ABOUT_SIZE);
    size_t length = strlen(text);
    while (length > 0 && text[length - 1] == '\n')
        text[--length] = '\0';
    *about = text;
    return HP_OK;
}

/* The model's own checks: whatever they refuse, the reader should have refused before, with a line
 * number. This keeps a gap between the two from becoming a wrong run. */
static void check_model(load *l)
{
    hp_error err = hp_error_none();
    if (hp_drive_check(&l->reader.draft.drive, &err) != HP_OK ||
        hp_run_options_check(&l->reader.draft.run, &err) != HP_OK ||
        hp_spread_plan_check(&l->reader.draft.spread, &err) != HP_OK ||
        hp_person_check(&l->reader.draft.person, &err) != HP_OK ||
        hp_controls_params_check(&l->reader.draft.controls, &err) != HP_OK ||
        hp_plan_params_check(&l->reader.draft.plan, &err) != HP_OK ||
        hp_vehicle_check(&l->reader.draft.vehicle, &err) != HP_OK)
        hp_problems_add(&l->problems, (hp_place){0, 0, 1}, "%s", err.text);
}

static void settle(hp_reader *reader)
{
    hp_reader_require(reader, HP_KEY_FORMAT, "there as `hubphase: 1`, the format's number");
    hp_settle_motor(reader);
    hp_settle_shape(reader);
    hp_settle_backemf(reader);
    hp_settle_sensors(reader);
    hp_settle_controller(reader);
    hp_settle_stand(reader);
    hp_settle_run(reader);
    hp_settle_leads(reader);
    hp_settle_harness(reader);
    hp_settle_bench(reader);
    hp_settle_controls(reader);
    hp_settle_vehicle(reader);
}

#define WHAT   "scenario"
#define BEGINS "hubphase: 1"

/* Lays what is stated elsewhere over the file: one line a key, read as the file's own are. */
static hp_result lay_over(load *l, const hp_scenario_change *change, int count, hp_error *err)
{
    size_t size = 0;
    if (count <= 0)
        return HP_OK;
    FILE *out = open_memstream(&l->changes_text, &size);
    for (int k = 0; out && k < count; k++) {
        if (!change[k].text)
            continue;
        fputs("? ", out);
        hp_bench_put_scalar(out, change[k].key, true);
        fputs("\n:", out);
        hp_scenario_put_stated(out, &change[k], 2);
    }
    if (!out || fclose(out) != 0)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for what a scenario is changed to");
    hp_result result =
        size > 0 ? hp_bench_typed_load(&l->changes, l->changes_text, size, &l->problems, err)
                 : HP_OK;
    if (result == HP_OK && size > 0)
        hp_reader_change(&l->reader, l->changes.root);
    for (int k = 0; k < count; k++)
        if (!change[k].text)
            hp_reader_forget(&l->reader, hp_key_of_path(change[k].key));
    return result;
}

/* From bytes to a draft without problems. */
static hp_result read_sheet(load *l, const hp_scenario_change *change, int changes, char **about,
                            hp_error *err)
{
    hp_place place;
    char what[120];
    if (!hp_source_clean(&l->source, &place, what, sizeof what)) {
        hp_problems_add(&l->problems, place, "%s", what);
        return HP_FAIL_INPUT;
    }
    hp_result result = hp_yaml_load(&l->yaml, &l->source, &l->problems, err);
    if (result != HP_OK)
        return result;
    l->reader.draft = hp_draft_default();
    l->reader.problems = &l->problems;
    if (hp_reader_read(&l->reader, l->yaml.root)) {
        hp_learnt_read(&l->reader, &l->before);
        result = lay_over(l, change, changes, err);
        settle(&l->reader);
        if (result == HP_OK)
            result = take_about(l, about, err);
    }
    if (result == HP_OK && l->problems.count == 0)
        check_model(l);
    return result == HP_OK && l->problems.count > 0 ? HP_FAIL_INPUT : result;
}

static hp_result fill(const load *l, hp_scenario *scenario, hp_error *err)
{
    const hp_draft *draft = &l->reader.draft;
    scenario->drive = draft->drive;
    scenario->labels = draft->labels;
    scenario->harness = draft->harness;
    scenario->controls = draft->controls;
    scenario->run = draft->run;
    scenario->starts = draft->starts;
    scenario->spread = draft->spread;
    scenario->spread.seed = (uint64_t)draft->seed;
    scenario->bench = (hp_bench_settings){.prior = draft->prior,
                                          .table_known = draft->table_known,
                                          .person = draft->person,
                                          .plan = draft->plan};
    scenario->vehicle = draft->vehicle;
    scenario->learnt = draft->learnt;
    hp_result result =
        hp_scenario_list(&l->reader, HP_KEY_FORMAT, HP_KEY_CONTROLS, &scenario->parameters, err);
    if (result == HP_OK)
        result = hp_scenario_list(&l->reader, HP_KEY_CONTROLS, HP_KEY_FIT,
                                  &scenario->controls_parameters, err);
    if (result == HP_OK)
        result =
            hp_scenario_list(&l->reader, HP_KEY_FIT, HP_KEY_COUNT, &scenario->fit_parameters, err);
    return result;
}

/* What a scenario is read from, and who is told of what is wrong in it. */
typedef struct origin {
    const char *text; /* NULL: the file `path` is read */
    size_t size;
    const char *path;
    const hp_scenario_change *change; /* [changes] */
    int changes;
    const hp_screen *diagnostics; /* NULL: nobody reads them */
    const hp_problem_ear *ear;    /* NULL: nobody is told */
    bool base;                    /* it has no base of its own */
} origin;

static hp_result load_from(const origin *from, hp_scenario *scenario, hp_error *err);

static void keep_first(void *user, const hp_problem *problem, const hp_source *source)
{
    hp_problem *first = user;
    (void)source;
    if (!first->text[0])
        *first = *problem;
}

/* The same text with the keys as they were before they were learnt, over what is stated elsewhere.
 */
static hp_result load_base(load *l, const origin *from, hp_scenario *scenario, hp_error *err)
{
    hp_problem first = {.order = 0};
    const hp_problem_ear ear = {keep_first, &first};
    int count = from->changes + l->before.count;
    hp_scenario_change *change = calloc((size_t)count + 1, sizeof *change);
    scenario->base = calloc(1, sizeof *scenario->base);
    if (!change || !scenario->base) {
        free(change);
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a scenario");
    }
    for (int k = 0; k < count; k++)
        change[k] = k < from->changes ? from->change[k] : l->before.key[k - from->changes];
    const origin base = {.text = l->source.text,
                         .size = l->source.size,
                         .path = from->path,
                         .change = change,
                         .changes = count,
                         .ear = &ear,
                         .base = true};
    hp_result result = load_from(&base, scenario->base, err);
    if (result == HP_FAIL_INPUT)
        hp_reader_problem(&l->reader, HP_KEY_LEARNT_BEFORE,
                          "learnt_from.before is what stood there before figures were learnt, and "
                          "does not go with the other keys: %.300s",
                          first.text);
    free(change);
    return result;
}

static hp_result load_from(const origin *from, hp_scenario *scenario, hp_error *err)
{
    const char *path = from->path;
    memset(scenario, 0, sizeof *scenario);
    if (strlen(path) >= sizeof scenario->path)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "the name of the scenario file has %zu bytes, must "
                            "have at most %zu",
                            strlen(path), sizeof scenario->path - 1);
    snprintf(scenario->path, sizeof scenario->path, "%s", path);
    load *l = calloc(1, sizeof *l);
    if (!l)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    hp_result result = from->text
                           ? hp_source_copy_as(&l->source, from->text, from->size, scenario->path,
                                               WHAT, BEGINS, err)
                           : hp_source_read_as(&l->source, scenario->path, WHAT, BEGINS, err);
    if (result == HP_OK)
        result = read_sheet(l, from->change, from->changes, &scenario->about, err);
    if (result == HP_OK)
        result = fill(l, scenario, err);
    if (result == HP_OK && scenario->learnt.log[0] && !from->base)
        result = load_base(l, from, scenario, err);
    int count = l->problems.count;
    if (count > 0 && from->diagnostics)
        hp_problems_print(&l->problems, &l->source, from->diagnostics);
    if (count > 0 && from->ear)
        hp_problems_tell(&l->problems, &l->source, from->ear);
    if (result == HP_FAIL_INPUT && count > 0)
        hp_error_set(err, result, "%s has %d problem%s", path, count, count == 1 ? "" : "s");
    hp_yaml_free(&l->yaml);
    hp_yaml_free(&l->changes);
    free(l->changes_text);
    hp_source_free(&l->source);
    free(l);
    if (result != HP_OK)
        hp_scenario_free(scenario);
    return result;
}

hp_result hp_scenario_load_on(const char *path, hp_scenario *scenario, const hp_screen *diagnostics,
                              hp_error *err)
{
    return load_from(&(origin){.path = path, .diagnostics = diagnostics}, scenario, err);
}

hp_result hp_scenario_load(const char *path, hp_scenario *scenario, FILE *diagnostics,
                           hp_error *err)
{
    const hp_screen unfilled = {.file = diagnostics};
    return hp_scenario_load_on(path, scenario, diagnostics ? &unfilled : NULL, err);
}

hp_result hp_scenario_read(const char *text, size_t size, const char *name, hp_scenario *scenario,
                           FILE *diagnostics, hp_error *err)
{
    const hp_screen unfilled = {.file = diagnostics};
    const origin from = {
        .text = text, .size = size, .path = name, .diagnostics = diagnostics ? &unfilled : NULL};
    return load_from(&from, scenario, err);
}

hp_result hp_scenario_read_changed(const char *text, size_t size, const char *name,
                                   const hp_scenario_change *change, int changes,
                                   hp_scenario *scenario, const hp_problem_ear *ear, hp_error *err)
{
    const origin from = {
        .text = text, .size = size, .path = name, .change = change, .changes = changes, .ear = ear};
    return load_from(&from, scenario, err);
}

hp_survey_options hp_scenario_survey_options(const hp_scenario *scenario)
{
    hp_survey_options options = hp_survey_options_default();
    double calm = options.run.calm_share; /* not the scenario's to say */
    options.run = scenario->run;
    options.run.calm_share = calm;
    options.starts = scenario->starts;
    return options;
}

hp_spread_options hp_scenario_spread_options(const hp_scenario *scenario)
{
    hp_spread_options options = hp_spread_options_default();
    double calm = options.survey.run.calm_share; /* a spread's own, not a survey's */
    options.survey = hp_scenario_survey_options(scenario);
    options.survey.run.calm_share = calm;
    options.plan = scenario->spread;
    return options;
}

bool hp_scenario_states(const hp_scenario *scenario, const char *key)
{
    const hp_parameter *parameter = hp_scenario_parameter(scenario, key);
    return parameter && hp_parameter_is_stated(parameter);
}

hp_fit_given hp_scenario_fit_given(const hp_scenario *scenario)
{
    const hp_assess_case stated = {.controls = &scenario->controls};
    return (hp_fit_given){
        .full = hp_assess_assist(&stated),
        .drive = &scenario->drive,
        .vehicle = &scenario->vehicle,
        .survey = hp_scenario_survey_options(scenario),
        .sensor_least_v = scenario->bench.plan.sensor_v_min,
        .sensor_most_v = hp_plan_sensor_stop_v(&scenario->bench.plan),
        .pack_guessed = !hp_scenario_states(scenario, "pack.full_v") &&
                        !hp_scenario_states(scenario, "pack.in_series"),
    };
}

void hp_scenario_free(hp_scenario *scenario)
{
    free(scenario->about);
    hp_parameters_free(&scenario->parameters);
    hp_parameters_free(&scenario->controls_parameters);
    hp_parameters_free(&scenario->fit_parameters);
    if (scenario->base)
        hp_scenario_free(scenario->base);
    free(scenario->base);
    memset(scenario, 0, sizeof *scenario);
}
