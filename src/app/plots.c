/* The pictures that commands write: see the header. */
#include "app/plots.h"

#include "report/picture/picture_classes.h"
#include "report/picture/picture_lead.h"
#include "report/picture/picture_map.h"
#include "report/picture/picture_spread.h"
#include "report/picture/picture_steps.h"
#include "report/picture/picture_waveforms.h"

#include <string.h>

#define PATH_SIZE 1200

/* Also makes the folder, so that it appears only with the first picture. */
static hp_result picture_path(const hp_plot_choice *choice, const char *name, char path[PATH_SIZE],
                              hp_picture_format *format, hp_error *err)
{
    hp_result result = hp_picture_format_parse(choice->format, format, err);
    if (result == HP_OK)
        result = hp_output_folder(choice->directory, err);
    if (result != HP_OK)
        return result;
    size_t length = strlen(choice->directory);
    const char *slash = length > 0 && choice->directory[length - 1] == '/' ? "" : "/";
    int needed = snprintf(path, PATH_SIZE, "%s%s%s.%s", choice->directory, slash, name,
                          hp_picture_format_name(*format));
    if (needed >= PATH_SIZE)
        return hp_error_set(err, HP_FAIL_IO, "the name of folder %s is too long",
                            choice->directory);
    return HP_OK;
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

static const struct {
    const char *name;
    survey_picture draw;
} survey_pictures[] = {
    {"map", draw_map},
    {"classes", draw_classes},
    {"lead-angles", draw_leads},
    {"six-steps", draw_steps},
};

hp_result hp_plots_write_survey(const hp_session *session, const hp_survey *survey,
                                const hp_plot_choice *choice, hp_error *err)
{
    for (size_t k = 0; k < sizeof survey_pictures / sizeof survey_pictures[0]; k++) {
        char path[PATH_SIZE];
        hp_picture_format format;
        hp_result result = picture_path(choice, survey_pictures[k].name, path, &format, err);
        if (result == HP_OK)
            result = survey_pictures[k].draw(path, format, session, survey, err);
        if (result != HP_OK)
            return result;
        note(session, path);
    }
    return HP_OK;
}

hp_result hp_plots_write_spread(const hp_session *session, const hp_spread *spread,
                                const hp_plot_choice *choice, hp_error *err)
{
    static const struct {
        const char *name;
        hp_result (*draw)(const char *path, hp_picture_format format, const hp_spread *spread,
                          const hp_labels *labels, hp_error *err);
    } pictures[] = {
        {"spread-map", hp_picture_spread_map_draw},
        {"spread-bands", hp_picture_spread_bands_draw},
    };
    for (size_t k = 0; k < sizeof pictures / sizeof pictures[0]; k++) {
        char path[PATH_SIZE];
        hp_picture_format format;
        hp_result result = picture_path(choice, pictures[k].name, path, &format, err);
        if (result == HP_OK)
            result = pictures[k].draw(path, format, spread, &session->scenario.labels, err);
        if (result != HP_OK)
            return result;
        note(session, path);
    }
    return HP_OK;
}

/* Name of a picture of one wiring: "waveforms-05". */
static hp_result wiring_path(const hp_plot_choice *choice, const char *what,
                             const hp_wiring *wiring, char path[PATH_SIZE],
                             hp_picture_format *format, hp_error *err)
{
    char name[40];
    snprintf(name, sizeof name, "%s-%02d", what, hp_wiring_number(wiring));
    return picture_path(choice, name, path, format, err);
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
    hp_result result = wiring_path(choice, "waveforms", wiring, path, &format, err);
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
    hp_result result = wiring_path(choice, "lead-angle", wiring, path, &format, err);
    if (result == HP_OK)
        result = hp_picture_lead_wiring_draw(path, format, &scenario->drive, wiring, judgement,
                                             &scenario->labels, err);
    if (result != HP_OK)
        return result;
    note(session, path);
    result = wiring_path(choice, "six-steps", wiring, path, &format, err);
    if (result == HP_OK)
        result =
            hp_picture_steps_draw(path, format, &scenario->drive, wiring, &scenario->labels, err);
    if (result == HP_OK)
        note(session, path);
    return result;
}
