/*
 * A page by PLplot: hp_plplot_render of strokes.h.
 *
 * PNG and PDF come from PLplot's extcairo device over a surface made here: the pngcairo and
 * pdfcairo devices draw the same, but check no write and date the PDF with the clock.
 *
 * PLplot ends the program when something fails deep inside it, unless a plsexit handler does not
 * return; ours jumps back into guard_plplot. What PLplot held is then lost, since its state
 * cannot be trusted for freeing; the next picture takes a fresh stream.
 */
#include "report/picture/pen_plplot.h"

#include "base/memory.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <math.h>
#include <plplot/plplot.h>
#include <pthread.h>
#include <setjmp.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* A PDF of the common width of 720 units is 180 mm wide, which an A4 sheet holds. */
#define POINTS_PER_UNIT (180.0 / 25.4 * 72.0 / 720.0)
/* What PLplot draws with: Cairo, on a surface that is given to it. */
#define DEVICE "extcairo"
/* The date in a PDF. Arbitrary, but the same for every picture, since equal input is to give equal
 * bytes. */
#define PDF_DATE "2000-01-01T00:00:00Z"

/* [bytes] What fonts need at most under Cairo, the stacks and heaps of threads included. GLib and
 * Fontconfig, which find them, end the program when they get none. Measured on Debian 12 by
 * limiting the address space: 130 million above what drawing needs without it, and twice that is
 * asked for. */
#define CAIRO_MEMORY (256 << 20)

/* One picture on its way. */
typedef struct job {
    hp_picture_format format;
    const hp_paper *page;
    char title[512]; /* the page's, cleaned */
    hp_paint paint;
    const void *data;
    char *bytes; /* owned; the finished picture */
    size_t size, room;
    cairo_surface_t *surface;
    cairo_t *cairo;
    bool can;            /* PLplot has the device */
    int number;          /* of the page being drawn, from 0 */
    char complaint[200]; /* first thing PLplot or Cairo was unhappy with */
    bool starved;        /* some bytes of the picture found no memory */
} job;

/* PLplot's handlers take no user data, so what they need stands here; the lock guards it, and
 * PLplot. */
static pthread_mutex_t plplot_lock = PTHREAD_MUTEX_INITIALIZER;
static job *current;
static jmp_buf escape;

static void complain(job *job, const char *text)
{
    if (!job->complaint[0])
        snprintf(job->complaint, sizeof job->complaint, "%s", text && text[0] ? text : "no reason");
}

static int on_exit_wanted(const char *message)
{
    complain(current, message);
    longjmp(escape, 1);
}

static void on_abort_wanted(const char *message)
{
    complain(current, message);
}

static hp_result no_memory(hp_error *err)
{
    return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a picture");
}

/* PLplot asks the terminal for another device when it lacks the one wanted, so it is looked up
 * first. Control may leave through on_exit_wanted: in a folder without any driver. */
static void find_device(job *job)
{
    const char *menu[64], *name[64];
    const char **menus = menu, **names = name;
    int count = 64;
    plgDevs(&menus, &names, &count);
    for (int k = 0; k < count; k++)
        job->can = job->can || strcmp(names[k], DEVICE) == 0;
}

static cairo_status_t take_bytes(void *closure, const unsigned char *data, unsigned length)
{
    job *job = closure;
    if (job->size + length > job->room) {
        size_t room = 2 * (job->size + length);
        char *grown = realloc(job->bytes, room);
        if (!grown) {
            job->starved = true;
            return CAIRO_STATUS_NO_MEMORY;
        }
        job->bytes = grown;
        job->room = room;
    }
    memcpy(job->bytes + job->size, data, length);
    job->size += length;
    return CAIRO_STATUS_SUCCESS;
}

/* A white surface whose unit is the page's. */
static void open_surface(job *job)
{
    double width = job->page->width, height = job->page->height, scale = HP_PICTURE_PNG_SCALE;
    if (job->format == HP_PICTURE_PDF) {
        scale = POINTS_PER_UNIT;
        job->surface =
            cairo_pdf_surface_create_for_stream(take_bytes, job, width * scale, height * scale);
        cairo_pdf_surface_set_metadata(job->surface, CAIRO_PDF_METADATA_CREATE_DATE, PDF_DATE);
        cairo_pdf_surface_set_metadata(job->surface, CAIRO_PDF_METADATA_TITLE, job->title);
    } else {
        job->surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)lround(width * scale),
                                                  (int)lround(height * scale));
    }
    job->cairo = cairo_create(job->surface);
    cairo_set_source_rgb(job->cairo, 1.0, 1.0, 1.0);
    cairo_paint(job->cairo);
    cairo_scale(job->cairo, scale, scale);
}

static void close_surface(job *job)
{
    cairo_status_t status = cairo_status(job->cairo);
    if (job->format == HP_PICTURE_PDF) {
        cairo_surface_finish(job->surface);
    } else if (status == CAIRO_STATUS_SUCCESS) {
        status = cairo_surface_write_to_png_stream(job->surface, take_bytes, job);
    }
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(job->surface);
    if (status != CAIRO_STATUS_SUCCESS)
        complain(job, cairo_status_to_string(status));
}

/* Draws with PLplot. Control may leave through on_exit_wanted at any PLplot call. */
static void run_plplot(job *job)
{
    PLINT stream, before;
    plgstrm(&before);
    plmkstrm(&stream);
    plsdev(DEVICE);
    /* Text is never drawn outside the page, and clip paths would hide it from some readers. */
    plsetopt("drvopt", "text_clipping=0");
    hp_plplot_inks();
    plspage(HP_PLPLOT_UNITS_PER_INCH, HP_PLPLOT_UNITS_PER_INCH, (PLINT)lround(job->page->width),
            (PLINT)lround(job->page->height), 0, 0);
    plinit();
    pl_cmd(PLESC_DEVINIT, job->cairo);
    pladv(0);
    hp_canvas canvas = {.width = job->page->width,
                        .height = job->page->height,
                        .number = job->number,
                        .strokes = &hp_plplot_strokes};
    job->paint(&canvas, job->data);
    plend1();
    plsstrm(before);
}

/* Apart, so that no local variable of the caller lives across setjmp. */
static bool guard_plplot(job *job, void (*work)(struct job *job))
{
    current = job;
    if (setjmp(escape) != 0)
        return false;
    plsexit(on_exit_wanted);
    plsabort(on_abort_wanted);
    work(job);
    return true;
}

/* Fills job->bytes. */
static hp_result draw(job *job, hp_error *err)
{
    bool whole = guard_plplot(job, find_device);
    if (whole && !job->can)
        return hp_error_set(err, HP_FAIL_LIBRARY,
                            "PLplot finds no driver \"%s\" for %s pictures: is its package of "
                            "drivers installed, and does PLPLOT_DRV_DIR, where it is set, name "
                            "their folder?",
                            DEVICE, hp_picture_format_name(job->format));
    if (whole && !hp_memory_is_there(CAIRO_MEMORY))
        return no_memory(err);
    if (whole)
        open_surface(job);
    int pages = job->format == HP_PICTURE_PDF && job->page->count > 1 ? job->page->count : 1;
    for (job->number = 0; whole && job->number < pages; job->number++) {
        /* PLplot's device turns the surface over for itself and leaves it so. */
        cairo_save(job->cairo);
        whole = guard_plplot(job, run_plplot);
        if (whole)
            cairo_restore(job->cairo);
        if (whole && job->format == HP_PICTURE_PDF)
            cairo_show_page(job->cairo);
    }
    if (whole)
        close_surface(job);
    if (job->starved)
        return no_memory(err);
    if (job->complaint[0])
        return hp_error_set(err, HP_FAIL_LIBRARY, "drawing a picture failed: %s", job->complaint);
    return HP_OK;
}

static void release(job *job)
{
    if (job->cairo)
        cairo_destroy(job->cairo);
    if (job->surface)
        cairo_surface_destroy(job->surface);
    free(job->bytes);
}

hp_result hp_plplot_render(hp_picture_format format, const hp_paper *page, hp_paint paint,
                           const void *data, char **bytes, size_t *size, hp_error *err)
{
    job job = {.format = format, .page = page, .paint = paint, .data = data};
    hp_pen_clean(page->title, job.title, sizeof job.title);
    pthread_mutex_lock(&plplot_lock);
    hp_result result = draw(&job, err);
    if (result == HP_OK) {
        *bytes = job.bytes;
        *size = job.size;
        job.bytes = NULL;
    }
    release(&job);
    current = NULL;
    pthread_mutex_unlock(&plplot_lock);
    return result;
}
