/* The pictures that commands write: see the header. */
#include "app/plots.h"

#include "app/apart.h"

#include <math.h>
#include <stdlib.h>
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
                              char path[PATH_SIZE], hp_error *err)
{
    char file[NAME_SIZE];
    hp_picture_format format;
    hp_result result = hp_picture_format_parse(choice->format, &format, err);
    if (result != HP_OK)
        return result;
    const char *ending = hp_picture_format_name(format);
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
    if (!choice->directory)
        return HP_OK;
    snprintf(path, sizeof path, "%.*s", bare_length(choice->directory), choice->directory);
    hp_result result = hp_output_names_claim(&session->names, path, err);
    if (result == HP_OK)
        result = hp_session_folder(session, choice->directory, err);
    for (int k = 0; result == HP_OK && k < hp_picture_count; k++) {
        if (!(hp_pictures[k]->makers & maker))
            continue;
        result = picture_path(choice, hp_pictures[k]->name, number, path, err);
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

/* ---- drawing --------------------------------------------------------------------------------- */

/* What hp_plots_write was called with, and what comes of it. */
typedef struct drawing {
    const hp_session *session;
    const hp_plot_choice *choice;
    int number;
    const hp_picture_subject *subject;
    hp_picture_format format;
    hp_shape shape;
    const hp_picture *picture[HP_OUTPUT_NAMES_MAX];
} drawing;

static hp_result path_of(const drawing *d, int k, char path[PATH_SIZE], hp_error *err)
{
    return picture_path(d->choice, d->picture[k]->name, d->number, path, err);
}

static hp_result draw_one(void *user, int k, FILE *out, hp_error *err)
{
    const drawing *d = user;
    char path[PATH_SIZE], *bytes = NULL;
    size_t size = 0;
    const hp_picture_target to = {
        .format = d->format, .shape = d->shape, .bytes = &bytes, .size = &size};
    hp_result result = hp_picture_make(d->picture[k], d->subject, &to, err);
    if (result != HP_OK && path_of(d, k, path, NULL) == HP_OK)
        return hp_error_context(err, result, "picture %s", path);
    fwrite(bytes, 1, size, out); /* whether it was taken shows when the stream is closed */
    free(bytes);
    return result;
}

static hp_result write_one(void *user, int k, const char *bytes, size_t size, hp_error *err)
{
    const drawing *d = user;
    char path[PATH_SIZE];
    hp_result result = path_of(d, k, path, err);
    if (result == HP_OK)
        result = hp_output_put(path, bytes, size, err);
    if (result == HP_OK)
        hp_session_wrote(d->session, path);
    return result;
}

hp_result hp_plots_write(const hp_session *session, const hp_plot_choice *choice, unsigned maker,
                         int number, const hp_picture_subject *subject, hp_error *err)
{
    drawing d = {.session = session, .choice = choice, .number = number, .subject = subject};
    hp_apart work = {.user = &d, .make = draw_one, .take = write_one};
    hp_result result = hp_picture_format_parse(choice->format, &d.format, err);
    if (result == HP_OK)
        result = hp_shape_parse(choice->shape, &d.shape, err);
    if (result != HP_OK)
        return result;
    for (int k = 0; k < hp_picture_count; k++)
        if ((hp_pictures[k]->makers & maker) && hp_picture_can(hp_pictures[k], subject))
            d.picture[work.count++] = hp_pictures[k];
    work.safe = work.count == 0 || d.format == HP_PICTURE_SVG;
    return hp_apart_run(&work, err);
}
