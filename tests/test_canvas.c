/*
 * The page under the pictures: errors that come back instead of ending the program, files that are
 * whole or absent, one thread at a time, text made safe for PLplot.
 */
#include "picture_fixture.h"

#include "report/picture/pen_plplot.h"

#include <pthread.h>

/* PLplot's own way out of the program; public in its library, but not in plplot.h. */
void plexit(const char *message);

#define ROUNDS 8

/* Draws the same picture again and again, as PNG and as SVG; returns NULL when one drawing failed.
 */
static void *draw_in_thread(void *data)
{
    fixture *f = data;
    char path[2][128];
    snprintf(path[0], sizeof path[0], "%s/thread.svg", f->folder);
    snprintf(path[1], sizeof path[1], "%s/thread.png", f->folder);
    for (int k = 0; k < 2 * ROUNDS; k++) {
        hp_picture_target to = {.format = k % 2 ? HP_PICTURE_PNG : HP_PICTURE_SVG,
                                .path = path[k % 2]};
        if (hp_picture_make(hp_picture_find("lead-angles"), &f->subject, &to, NULL) != HP_OK)
            return NULL;
    }
    return data;
}

static void threads_do_not_disturb_each_other(void **state)
{
    fixture *f = *state;
    pthread_t thread;
    void *fine;
    size_t other, size;
    char path[128];
    assert_int_equal(pthread_create(&thread, NULL, draw_in_thread, f), 0);
    for (int k = 0; k < ROUNDS; k++) {
        char *map = draw_svg(f, "map");
        check_svg("map beside a thread", map);
        free(map);
        free(draw_bytes(f, hp_picture_find("bars"), HP_PICTURE_PNG, HP_SHAPE_PHONE, &size));
    }
    assert_int_equal(pthread_join(thread, &fine), 0);
    assert_non_null(fine);
    for (int m = HP_PICTURE_SVG; m <= HP_PICTURE_PNG; m++) {
        hp_picture_format format = (hp_picture_format)m;
        snprintf(path, sizeof path, "%s/thread.%s", f->folder, hp_picture_format_name(format));
        char *there = read_file(path, &other);
        char *lead = draw_bytes(f, hp_picture_find("lead-angles"), format, HP_SHAPE_PHONE, &size);
        check_int((long)other, (long)size);
        assert_memory_equal(there, lead, other);
        free(there);
        free(lead);
    }
}

/* As in PNG and PDF: the third lead's strokes are nearly dots, which without round ends are specks.
 */
static void strokes_end_round_in_svg(void **state)
{
    char *svg = draw_svg(*state, "waveforms");
    check_text_contains(svg, "stroke-linecap=\"round\"");
    free(svg);
}

/* All ways in which a place can be no place; root may write anywhere, so permissions do not serve.
 */
static void a_place_that_cannot_be_written_is_an_error_with_its_name(void **state)
{
    fixture *f = *state;
    char path[4][200];
    FILE *plain;
    snprintf(path[0], sizeof path[0], "%s/none/map.svg", f->folder);
    snprintf(path[1], sizeof path[1], "%s", f->folder);
    snprintf(path[2], sizeof path[2], "%s/plain/map.svg", f->folder);
    snprintf(path[3], sizeof path[3], "/dev/full");
    char file[128];
    snprintf(file, sizeof file, "%s/plain", f->folder);
    plain = fopen(file, "w");
    assert_non_null(plain);
    fclose(plain);
    for (int k = 0; k < hp_picture_count; k++) {
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++) {
            for (int p = 0; p < 4; p++) {
                hp_error err = hp_error_none();
                hp_picture_target to = {.format = (hp_picture_format)m, .path = path[p]};
                check_int(hp_picture_make(hp_pictures[k], &f->subject, &to, &err), HP_FAIL_IO);
                check_int(err.code, HP_FAIL_IO);
                check_text_contains(err.text, path[p]);
            }
        }
    }
    hp_error err = hp_error_none();
    hp_picture_target nowhere = {.path = ""};
    check_int(hp_picture_make(hp_picture_find("map"), &f->subject, &nowhere, &err), HP_FAIL_IO);
    check_text_contains(err.text, "empty");
    check_int(count_files(f->folder), 1);
}

static void leave_through_plplot(const hp_canvas *canvas, const void *data)
{
    hp_pen_line(canvas, 0.0, 0.0, 10.0, 10.0, HP_INK_BLACK, 1.0);
    plexit(data);
}

static void a_plplot_that_gives_up_does_not_end_the_program(void **state)
{
    fixture *f = *state;
    hp_paper page = {.width = 100.0, .height = 100.0, .title = "none"};
    char path[128];
    for (int m = HP_PICTURE_PNG; m < HP_PICTURE_FORMAT_COUNT; m++) {
        hp_error err = hp_error_none();
        size_t size;
        const hp_picture *map = hp_picture_find("map");
        snprintf(path, sizeof path, "%s/map-phone.%s", f->folder,
                 hp_picture_format_name((hp_picture_format)m));
        char *before = draw_bytes(f, map, (hp_picture_format)m, HP_SHAPE_PHONE, &size);
        check_int(hp_canvas_draw(path, (hp_picture_format)m, &page, leave_through_plplot,
                                 "made-up trouble", &err),
                  HP_FAIL_LIBRARY);
        check_text_contains(err.text, "made-up trouble");
        check_text_contains(err.text, path);
        /* Nothing half done is left, the older picture stays, and the next one can be drawn. */
        check_int(count_files(f->folder), m);
        size_t kept;
        char *after = read_file(path, &kept);
        check_int((long)kept, (long)size);
        assert_memory_equal(before, after, size);
        free(after);
        after = draw_bytes(f, map, (hp_picture_format)m, HP_SHAPE_PHONE, &kept);
        check_int((long)kept, (long)size);
        assert_memory_equal(before, after, size);
        free(before);
        free(after);
    }
    check_int(count_files(f->folder), HP_PICTURE_FORMAT_COUNT - 1);
}

static void bad_pages_and_formats_are_refused(void **state)
{
    fixture *f = *state;
    const double bad[] = {0.0, -5.0, 15.0, 10001.0, (double)NAN, (double)INFINITY};
    char path[128];
    snprintf(path, sizeof path, "%s/map.svg", f->folder);
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
        hp_paper wide = {.width = bad[k], .height = 100.0, .title = ""};
        hp_paper high = {.width = 100.0, .height = bad[k], .title = ""};
        check_int(hp_canvas_draw(path, HP_PICTURE_SVG, &wide, leave_through_plplot, "", NULL),
                  HP_FAIL_INPUT);
        check_int(hp_canvas_draw(path, HP_PICTURE_SVG, &high, leave_through_plplot, "", NULL),
                  HP_FAIL_INPUT);
    }
    hp_picture_target to = {.format = HP_PICTURE_FORMAT_COUNT, .path = path};
    check_int(hp_picture_make(hp_picture_find("map"), &f->subject, &to, NULL), HP_FAIL_INPUT);
    to.format = (hp_picture_format)-1;
    check_int(hp_picture_make(hp_picture_find("map"), &f->subject, &to, NULL), HP_FAIL_INPUT);
    check_int(count_files(f->folder), 0);
    hp_picture_format format;
    hp_error err = hp_error_none();
    check_int(hp_picture_format_parse("jpeg", &format, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "jpeg");
    hp_shape shape;
    check_int(hp_shape_parse("wide", &shape, &err), HP_FAIL_INPUT);
    for (int k = 0; k < HP_SHAPE_COUNT; k++) {
        check_int(hp_shape_parse(hp_shape_name((hp_shape)k), &shape, NULL), HP_OK);
        check_int((int)shape, k);
    }
    for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++) {
        check_int(
            hp_picture_format_parse(hp_picture_format_name((hp_picture_format)m), &format, NULL),
            HP_OK);
        check_int((int)format, m);
    }
}

static void draw_page_number(const hp_canvas *canvas, const void *data)
{
    char text[32];
    int *last = *(int *const *)data;
    hp_type type = {20.0, HP_INK_BLACK, HP_ALIGN_LEFT, false};
    snprintf(text, sizeof text, "page %d", canvas->number + 1);
    hp_pen_text(canvas, 20.0, 20.0, type, text);
    *last = canvas->number;
}

/* Only a PDF has several pages; each is painted once, in turn. That none stands on its head shows
 * where pdftotext reads the wiring sheet. */
static void a_pdf_may_have_pages(void **state)
{
    (void)state;
    int last = -1, *data = &last;
    hp_paper page = {.width = 200.0, .height = 100.0, .title = "pages", .count = 3};
    char *bytes = NULL;
    size_t size = 0;
    check_int(hp_canvas_render(HP_PICTURE_PDF, &page, draw_page_number, &data, &bytes, &size, NULL),
              HP_OK);
    check_int(last, 2);
    check_true(size > 8 && memcmp(bytes, "%PDF-", 5) == 0, "no PDF");
    free(bytes);
    check_int(hp_canvas_render(HP_PICTURE_SVG, &page, draw_page_number, &data, &bytes, &size, NULL),
              HP_OK);
    check_int(last, 0);
    check_true(strlen(bytes) == size, "not ended");
    check_text_contains(bytes, "page 1");
    free(bytes);
    hp_error err = hp_error_none();
    page.width = 1.0;
    check_int(hp_canvas_render(HP_PICTURE_SVG, &page, draw_page_number, &data, &bytes, &size, &err),
              HP_FAIL_INPUT);
}

static void escaping_keeps_whole_characters(void **state)
{
    (void)state;
    char out[64], small[8];
    assert_string_equal(hp_plplot_escape("a#u", out, sizeof out), "a##u");
    assert_string_equal(hp_plplot_escape("###", out, sizeof out), "######");
    assert_string_equal(hp_plplot_escape("\xef\xbf\xbe|\xef\xbf\xbf|\n", out, sizeof out), "?|?|?");
    /* Room for seven bytes: three degree signs, and not half of the fourth. */
    assert_string_equal(hp_plplot_escape("\u00b0\u00b0\u00b0\u00b0", small, sizeof small),
                        "\u00b0\u00b0\u00b0");
    /* Never half of a doubled sign. */
    for (size_t room = 1; room <= sizeof small; room++) {
        size_t length = strlen(hp_plplot_escape("######", small, room));
        check_true(length < room && length % 2 == 0, "%zu bytes of %zu", length, room);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(escaping_keeps_whole_characters),
        cmocka_unit_test(a_pdf_may_have_pages),
        WITH_FIXTURE(threads_do_not_disturb_each_other),
        WITH_FIXTURE(strokes_end_round_in_svg),
        WITH_FIXTURE(a_place_that_cannot_be_written_is_an_error_with_its_name),
        WITH_FIXTURE(a_plplot_that_gives_up_does_not_end_the_program),
        WITH_FIXTURE(bad_pages_and_formats_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
