/*
 * A page as SVG: hp_svg_render of strokes.h.
 *
 * A picture that stands alone is as wide as the reader's screen at most. One for an HTML page has
 * no style of its own, which a strict Content-Security-Policy forbids, and no size, which the page
 * says.
 */
#include "report/picture/pen_svg.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* [units] Curves of a picture that stands alone may be off by what no screen shows. */
#define TOLERANCE 0.05
/* [units] The same in an HTML page. Chosen: half of what a phone shows as one point. */
#define INSET_TOLERANCE 0.5

static void put_head(hp_svg_pen *pen, const hp_paper *page)
{
    char text[400], title[512];
    long width = lround(page->width), height = lround(page->height);
    if (page->inset)
        snprintf(text, sizeof text,
                 "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %ld %ld\"", width,
                 height);
    else
        snprintf(text, sizeof text,
                 "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                 "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%ld\" height=\"%ld\" "
                 "viewBox=\"0 0 %ld %ld\" style=\"max-width:100%%;height:auto\"",
                 width, height, width, height);
    hp_svg_put(pen, text);
    /* Round ends: strokes that are nearly dots need them. */
    hp_svg_put(pen, " role=\"img\" font-family=\"sans-serif\" stroke-linecap=\"round\" "
                    "stroke-linejoin=\"round\">\n<title>");
    hp_svg_put_escaped(pen, hp_pen_clean(page->title, title, sizeof title));
    snprintf(text, sizeof text, "</title>\n<rect width=\"%ld\" height=\"%ld\" fill=\"#FFFFFF\"/>\n",
             width, height);
    hp_svg_put(pen, text);
}

hp_result hp_svg_render(const hp_paper *page, hp_paint paint, const void *data, char **bytes,
                        size_t *size, hp_error *err)
{
    hp_svg_pen pen = hp_svg_pen_begin(page->inset ? INSET_TOLERANCE : TOLERANCE);
    hp_canvas canvas = {
        .width = page->width, .height = page->height, .strokes = &hp_svg_strokes, .sheet = &pen};
    put_head(&pen, page);
    paint(&canvas, data);
    hp_svg_pen_flush(&pen);
    hp_svg_put(&pen, "</svg>\n");
    bool whole = !pen.failed;
    if (whole) {
        *bytes = pen.text;
        *size = pen.size;
        pen.text = NULL;
    }
    hp_svg_pen_free(&pen);
    return whole ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a picture");
}
