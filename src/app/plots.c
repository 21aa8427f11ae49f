/* The pictures that commands write: see the header. */
#include "app/plots.h"

#include "hubphase/report/pictures.h"
#include "report/picture/picture_lead.h"
#include "report/picture/picture_waveforms.h"

#include <string.h>

#define PATH_SIZE 1200

/* Names of the pictures, NULL-ended; those of one wiring get its number at the end. */
#define NAMES_MAX 5
static const char *const names[][NAMES_MAX] = {
    [HP_PLOTS_SURVEY] = {"map", "classes", "lead-angles", "six-steps"},
    [HP_PLOTS_SPREAD] = {"spread-map", "spread-bands"},
    [HP_PLOTS_WAVEFORMS] = {"waveforms"},
    [HP_PLOTS_WIRING] = {"lead-angle", "six-steps"},
};

/* Length of a folder's name without slashes at its end. */
static int bare_length(const char *folder)
{
    size_t length = strlen(folder);
    while (length > 1 && folder[length - 1] == '/')
        length--;
    return (int)length;
}

/* "pictures/map.svg", "pictures/waveforms-05.svg". */
static hp_result picture_path(const hp_plot_choice *choice, const char *name,
                              const hp_wiring *wiring, char path[PATH_SIZE],
                              hp_picture_format *format, hp_error *err)
{
    char number[16] = "";
    hp_result result = hp_picture_format_parse(choice->format, format, err);
    if (result != HP_OK)
        return result;
    if (wiring)
        snprintf(number, sizeof number, "-%02d", hp_wiring_number(wiring));
    size_t length = strlen(choice->directory);
    const char *slash = length > 0 && choice->directory[length - 1] == '/' ? "" : "/";
    int needed = snprintf(path, PATH_SIZE, "%s%s%s%s.%s", choice->directory, slash, name, number,
                          hp_picture_format_name(*format));
    if (needed >= PATH_SIZE)
        return hp_error_set(err, HP_FAIL_IO, "the name of folder %s is too long",
                            choice->directory);
    return HP_OK;
}

hp_result hp_plots_try(hp_session *session, const hp_plot_choice *choice, hp_plots what,
                       const hp_wiring *wiring, hp_error *err)
{
    char path[PATH_SIZE];
    hp_picture_format format;
    snprintf(path, sizeof path, "%.*s", bare_length(choice->directory), choice->directory);
    hp_result result = hp_output_folder_try(choice->directory, err);
    if (result == HP_OK)
        result = hp_output_names_claim(&session->names, path, err);
    for (int k = 0; result == HP_OK && names[what][k]; k++) {
        result = picture_path(choice, names[what][k], wiring, path, &format, err);
        if (result == HP_OK)
            result = hp_output_names_claim(&session->names, path, err);
    }
    return result;
}

/* The folder appears only with the first picture. */
static hp_result open_place(const hp_plot_choice *choice, const char *name, const hp_wiring *wiring,
                            char path[PATH_SIZE], hp_picture_format *format, hp_error *err)
{
    hp_result result = hp_output_folder(choice->directory, err);
    return result == HP_OK ? picture_path(choice, name, wiring, path, format, err) : result;
}

/* Tells the user where the picture is. */
static void note(const hp_session *session, const char *path)
{
    if (!session->choice.quiet)
        hp_terminal_line(stderr, "%s: wrote %s", session->command, path);
}

/* One picture of a survey. */
typedef hp_result (*survey_picture)(const char *path, hp_picture_format format,
                                    const hp_session *session, const hp_survey *survey,
                                    hp_error *err);

static hp_result draw_map(const char *path, hp_picture_format format, const hp_session *session,
                          const hp_survey *survey, hp_error *err)
{
    return hp_picture_map_draw(path, format, survey, &session->scenario.labels, err);
}

static hp_result draw_classes(const char *path, hp_picture_format format, const hp_session *session,
                              const hp_survey *survey, hp_error *err)
{
    hp_thresholds thresholds = hp_thresholds_default();
    return hp_picture_classes_draw(path, format, survey, &thresholds, &session->scenario.labels,
                                   err);
}

static hp_result draw_leads(const char *path, hp_picture_format format, const hp_session *session,
                            const hp_survey *survey, hp_error *err)
{
    return hp_picture_lead_draw(path, format, &session->scenario.drive, survey,
                                &session->scenario.labels, err);
}

/* Steps of the first wiring that the simulation found smooth forward; of wiring 1 if there is none.
 */
static hp_result draw_steps(const char *path, hp_picture_format format, const hp_session *session,
                            const hp_survey *survey, hp_error *err)
{
    int number = 1;
    while (number < HP_WIRING_COUNT && survey->judgement[number - 1].verdict != HP_VERDICT_CORRECT)
        number++;
    if (survey->judgement[number - 1].verdict != HP_VERDICT_CORRECT)
        number = 1;
    hp_wiring wiring = hp_wiring_from_number(number);
    return hp_picture_steps_draw(path, format, &session->scenario.drive, &wiring,
                                 &session->scenario.labels, err);
}

/* In the order of their names. */
static const survey_picture survey_pictures[] = {draw_map, draw_classes, draw_leads, draw_steps};

hp_result hp_plots_write_survey(const hp_session *session, const hp_survey *survey,
                                const hp_plot_choice *choice, hp_error *err)
{
    for (int k = 0; names[HP_PLOTS_SURVEY][k]; k++) {
        char path[PATH_SIZE];
        hp_picture_format format;
        hp_result result = open_place(choice, names[HP_PLOTS_SURVEY][k], NULL, path, &format, err);
        if (result == HP_OK)
            result = survey_pictures[k](path, format, session, survey, err);
        if (result != HP_OK)
            return result;
        note(session, path);
    }
    return HP_OK;
}

hp_result hp_plots_write_spread(const hp_session *session, const hp_spread *spread,
                                const hp_plot_choice *choice, hp_error *err)
{
    static hp_result (*const draw[])(const char *path, hp_picture_format format,
                                     const hp_spread *spread, const hp_labels *labels,
                                     hp_error *err) = {
        hp_picture_spread_map_draw,
        hp_picture_spread_bands_draw,
    };
    for (int k = 0; names[HP_PLOTS_SPREAD][k]; k++) {
        char path[PATH_SIZE];
        hp_picture_format format;
        hp_result result = open_place(choice, names[HP_PLOTS_SPREAD][k], NULL, path, &format, err);
        if (result == HP_OK)
            result = draw[k](path, format, spread, &session->scenario.labels, err);
        if (result != HP_OK)
            return result;
        note(session, path);
    }
    return HP_OK;
}

hp_result hp_plots_write_waveforms(const hp_session *session, const hp_wiring *wiring,
                                   const hp_judgement *judgement, const hp_trace *trace,
                                   const hp_plot_choice *choice, hp_error *err)
{
    static const char *const edges[HP_PWM_KIND_COUNT] = {
        "averaged duty", "PWM edges, complementary", "PWM edges, one-sided"};
    char path[PATH_SIZE], title[280];
    hp_picture_format format;
    const hp_controller_params *controller = &session->scenario.drive.controller;
    const char *machine = session->scenario.labels.machine;
    snprintf(title, sizeof title, "Wiring %d, %s%s%s; %.4g %% throttle, %s",
             hp_wiring_number(wiring), hp_verdict_name(judgement->verdict), machine[0] ? ": " : "",
             machine, 100.0 * controller->throttle, edges[controller->pwm]);
    hp_result result = open_place(choice, names[HP_PLOTS_WAVEFORMS][0], wiring, path, &format, err);
    if (result == HP_OK)
        result =
            hp_picture_waveforms_draw(path, format, trace, &session->scenario.labels, title, err);
    if (result == HP_OK)
        note(session, path);
    return result;
}

hp_result hp_plots_write_wiring(const hp_session *session, const hp_wiring *wiring,
                                const hp_judgement *judgement, const hp_plot_choice *choice,
                                hp_error *err)
{
    char path[PATH_SIZE];
    hp_picture_format format;
    const hp_scenario *scenario = &session->scenario;
    hp_result result = open_place(choice, names[HP_PLOTS_WIRING][0], wiring, path, &format, err);
    if (result == HP_OK)
        result = hp_picture_lead_wiring_draw(path, format, &scenario->drive, wiring, judgement,
                                             &scenario->labels, err);
    if (result != HP_OK)
        return result;
    note(session, path);
    result = open_place(choice, names[HP_PLOTS_WIRING][1], wiring, path, &format, err);
    if (result == HP_OK)
        result =
            hp_picture_steps_draw(path, format, &scenario->drive, wiring, &scenario->labels, err);
    if (result == HP_OK)
        note(session, path);
    return result;
}
