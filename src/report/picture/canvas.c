/* A page for one picture: see the header. What draws it stands in strokes.h. */
#include "report/picture/canvas.h"

#include "hubphase/base/files.h"
#include "report/picture/strokes.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const format_name[HP_PICTURE_FORMAT_COUNT] = {"svg", "png", "pdf"};

const char *hp_picture_format_name(hp_picture_format format)
{
    return format_name[format];
}

hp_result hp_picture_format_parse(const char *name, hp_picture_format *format, hp_error *err)
{
    for (int k = 0; k < HP_PICTURE_FORMAT_COUNT; k++) {
        if (strcmp(name, format_name[k]) == 0) {
            *format = (hp_picture_format)k;
            return HP_OK;
        }
    }
    return hp_error_set(err, HP_FAIL_INPUT, "picture format is \"%s\", must be svg, png or pdf",
                        name);
}

static hp_result check_page(hp_picture_format format, const hp_paper *page, hp_error *err)
{
    if ((int)format < 0 || format >= HP_PICTURE_FORMAT_COUNT)
        return hp_error_set(err, HP_FAIL_INPUT, "picture format is %d, must be 0..%d", (int)format,
                            HP_PICTURE_FORMAT_COUNT - 1);
    if (!(page->width >= 16.0 && page->width <= 1e4 && page->height >= 16.0 && page->height <= 1e4))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "picture is %g x %g units, must be 16 to 10000 each way", page->width,
                            page->height);
    return HP_OK;
}

hp_result hp_canvas_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                           const void *data, char **bytes, size_t *size, hp_error *err)
{
    hp_result result = check_page(format, page, err);
    if (result != HP_OK)
        return result;
    if (format == HP_PICTURE_SVG)
        return hp_svg_render(page, paint, data, bytes, size, err);
#ifdef HP_WITHOUT_PLPLOT
    return hp_error_set(err, HP_FAIL_ABSENT,
                        "%s pictures are not made here: this is hubphase without PLplot",
                        format_name[format]);
#else
    return hp_plplot_render(format, page, paint, data, bytes, size, err);
#endif
}

static hp_result cannot_be_written(hp_error *err, const char *path, int cause)
{
    if (!path[0])
        return hp_error_set(err, HP_FAIL_IO, "a picture's file name is empty");
    return hp_error_set(err, HP_FAIL_IO, "picture %s cannot be written: %s", path,
                        hp_file_cause(cause));
}

hp_result hp_canvas_draw(const char *path, hp_picture_format format, const hp_paper *page,
                         hp_paint paint, const void *data, hp_error *err)
{
    hp_file file;
    char *bytes = NULL;
    size_t size = 0;
    hp_result result = check_page(format, page, err);
    if (result != HP_OK)
        return result;
    int cause = hp_file_open(&file, path, false);
    if (cause)
        return cannot_be_written(err, path, cause);
    result = hp_canvas_render(format, page, paint, data, &bytes, &size, err);
    if (result == HP_OK) {
        errno = 0;
        if (fwrite(bytes, 1, size, file.file) != size)
            cause = errno ? errno : EIO;
        else
            cause = hp_file_commit(&file);
        if (cause)
            result = cannot_be_written(err, path, cause);
    }
    hp_file_discard(&file);
    free(bytes);
    if (result == HP_FAIL_LIBRARY || result == HP_FAIL_ABSENT || result == HP_FAIL_MEMORY)
        return hp_error_context(err, result, "picture %s", path);
    return result;
}
