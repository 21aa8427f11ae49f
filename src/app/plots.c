/* The pictures that commands write: see the header. */
#include "app/plots.h"

#include <math.h>
#include <string.h>

#define PATH_SIZE 1200
#define NAME_SIZE 96 /* of a picture's file without its folder */

/* Length of a folder's name without slashes at its end. */
static int bare_length(const char *folder)
{
    size_t length = strlen(folder);
    while (length > 1 && folder[length - 1] == '/')
        length--;
    return (int)length;
}

/* "pictures/map.svg", "pictures/waveforms-05.svg". */
static hp_result picture_path(const hp_plot_choice *choice, const char *name, int number,
                              char path[PATH_SIZE], hp_picture_format *format, hp_error *err)
{
    char file[NAME_SIZE];
    hp_result result = hp_picture_format_parse(choice->format, format, err);
    if (result != HP_OK)
        return result;
    const char *ending = hp_picture_format_name(*format);
    if (number)
        snprintf(file, sizeof file, "%s-%02d.%s", name, number, ending);
    else
        snprintf(file, sizeof file, "%s.%s", name, ending);
    return hp_session_place(choice->directory, file, path, PATH_SIZE, err);
}

hp_result hp_plots_open(hp_session *session, const hp_plot_choice *choice, unsigned maker,
                        int number, hp_error *err)
{
    char path[PATH_SIZE];
    hp_picture_format format;
    if (!choice->directory)
        return HP_OK;
    snprintf(path, sizeof path, "%.*s", bare_length(choice->directory), choice->directory);
    hp_result result = hp_output_names_claim(&session->names, path, err);
    if (result == HP_OK)
        result = hp_session_folder(session, choice->directory, err);
    for (int k = 0; result == HP_OK && k < hp_picture_count; k++) {
        if (!(hp_pictures[k]->makers & maker))
            continue;
        result = picture_path(choice, hp_pictures[k]->name, number, path, &format, err);
        if (result == HP_OK)
            result = hp_output_names_claim(&session->names, path, err);
    }
    return result;
}

hp_picture_subject hp_plots_subject(const hp_session *session)
{
    return (hp_picture_subject){.drive = &session->scenario.drive,
                                .labels = &session->scenario.labels,
                                .harness = &session->scenario.harness,
                                .thresholds = hp_thresholds_default(),
                                .start_angle = NAN};
}

static hp_result write_one(const hp_session *session, const hp_plot_choice *choice,
                           const hp_picture *picture, int number, const hp_picture_subject *subject,
                           hp_error *err)
{
    char path[PATH_SIZE];
    hp_picture_target to = {.path = path};
    hp_result result = picture_path(choice, picture->name, number, path, &to.format, err);
    if (result == HP_OK)
        result = hp_shape_parse(choice->shape, &to.shape, err);
    if (result == HP_OK)
        result = hp_picture_make(picture, subject, &to, err);
    if (result == HP_OK)
        hp_session_wrote(session, path);
    return result;
}

hp_result hp_plots_write(const hp_session *session, const hp_plot_choice *choice, unsigned maker,
                         int number, const hp_picture_subject *subject, hp_error *err)
{
    hp_result result = HP_OK;
    for (int k = 0; result == HP_OK && k < hp_picture_count; k++)
        if ((hp_pictures[k]->makers & maker) && hp_picture_can(hp_pictures[k], subject))
            result = write_one(session, choice, hp_pictures[k], number, subject, err);
    return result;
}
