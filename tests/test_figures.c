/*
 * The pictures, from made-up data: whole files of the right kind, text that is text and stays on
 * the page, the same bytes twice, and errors that come back instead of ending the program.
 */
#include "check.h"
#include "report_sample.h"
#include "svg_check.h"

#include "hubphase/report/figure_classes.h"
#include "hubphase/report/figure_lead.h"
#include "hubphase/report/figure_map.h"
#include "hubphase/report/figure_steps.h"
#include "hubphase/report/figure_waveforms.h"
#include "hubphase/sim/trace.h"

#include <dirent.h>
#include <pthread.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#define TEXTS 2000

/* PLplot's own way out of the program; public in its library, but not in plplot.h. */
void plexit(const char *message);

typedef struct fixture {
    report_sample sample;
    hp_trace trace;
    hp_thresholds thresholds;
    char folder[64];
} fixture;

static void put_folder(fixture *f)
{
    snprintf(f->folder, sizeof f->folder, "%s", "/tmp/hubphase-figures-XXXXXX");
    assert_non_null(mkdtemp(f->folder));
}

/* Three electrical turns of an ideal run, with one gap. */
static void put_trace(hp_trace *trace, size_t count)
{
    static const int ring[HP_SECTOR_COUNT] = {4, 6, 2, 3, 1, 5};
    *trace = hp_trace_init(0.5, 0.56, 0.06 / (double)(count - 1));
    for (size_t k = 0; k < count; k++) {
        hp_sample s = {.time = 0.5 + 0.06 * (double)k / (double)(count - 1)};
        s.theta = 3.0 * HP_TWO_PI * (double)k / (double)(count - 1);
        s.code = ring[(int)(s.theta / (HP_PI / 3.0)) % HP_SECTOR_COUNT];
        for (int p = 0; p < HP_PHASE_COUNT; p++) {
            s.current[p] = 3.0 * sin(s.theta - hp_phase_axis(p));
            s.backemf[p] = 8.0 * sin(s.theta - hp_phase_axis(p));
        }
        s.torque = k == count / 2 ? (double)NAN : 0.8 + 0.1 * cos(6.0 * s.theta);
        s.speed = 20.0 + 0.2 * cos(6.0 * s.theta);
        assert_int_equal(hp_trace_add_sample(trace, &s), HP_OK);
    }
}

static int set_up(void **state)
{
    fixture *f = calloc(1, sizeof *f);
    assert_non_null(f);
    report_sample_init(&f->sample);
    f->thresholds = hp_thresholds_default();
    put_trace(&f->trace, 5000);
    put_folder(f);
    *state = f;
    return 0;
}

static int count_files(const char *folder)
{
    int count = 0;
    DIR *d = opendir(folder);
    assert_non_null(d);
    for (const struct dirent *e = readdir(d); e; e = readdir(d))
        count += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
    closedir(d);
    return count;
}

static int tear_down(void **state)
{
    fixture *f = *state;
    DIR *d = opendir(f->folder);
    assert_non_null(d);
    for (const struct dirent *e = readdir(d); e; e = readdir(d)) {
        char path[400];
        snprintf(path, sizeof path, "%s/%s", f->folder, e->d_name);
        unlink(path);
    }
    closedir(d);
    rmdir(f->folder);
    hp_trace_free(&f->trace);
    report_sample_free(&f->sample);
    free(f);
    return 0;
}

/* The whole file, with a zero behind it; for the caller to free. */
static char *read_file(const char *path, size_t *size)
{
    FILE *in = fopen(path, "rb");
    check_true(in != NULL, "%s is not there", path);
    fseek(in, 0, SEEK_END);
    *size = (size_t)ftell(in);
    rewind(in);
    char *bytes = malloc(*size + 1);
    assert_non_null(bytes);
    assert_int_equal(fread(bytes, 1, *size, in), *size);
    bytes[*size] = '\0';
    fclose(in);
    return bytes;
}

/* The pictures, by number. */
static hp_result draw_map(fixture *f, const char *path, hp_figure_format format, hp_error *err)
{
    return hp_figure_map_draw(path, format, &f->sample.survey, &f->sample.labels, err);
}

static hp_result draw_waveforms(fixture *f, const char *path, hp_figure_format format,
                                hp_error *err)
{
    return hp_figure_waveforms_draw(path, format, &f->trace, &f->sample.labels,
                                    "Waveforms of wiring 1: correct", err);
}

static hp_result draw_classes(fixture *f, const char *path, hp_figure_format format, hp_error *err)
{
    return hp_figure_classes_draw(path, format, &f->sample.survey, &f->thresholds,
                                  &f->sample.labels, err);
}

static hp_result draw_lead(fixture *f, const char *path, hp_figure_format format, hp_error *err)
{
    return hp_figure_lead_draw(path, format, &f->sample.drive, &f->sample.survey, &f->sample.labels,
                               err);
}

static hp_result draw_lead_bare(fixture *f, const char *path, hp_figure_format format,
                                hp_error *err)
{
    return hp_figure_lead_draw(path, format, &f->sample.drive, NULL, &f->sample.labels, err);
}

static hp_result draw_wiring(fixture *f, const char *path, hp_figure_format format, hp_error *err)
{
    hp_wiring wiring = hp_wiring_from_number(2);
    return hp_figure_lead_wiring_draw(path, format, &f->sample.drive, &wiring,
                                      &f->sample.survey.judgement[1], &f->sample.labels, err);
}

static hp_result draw_steps(fixture *f, const char *path, hp_figure_format format, hp_error *err)
{
    hp_wiring wiring = hp_wiring_from_number(1);
    return hp_figure_steps_draw(path, format, &f->sample.drive, &wiring, &f->sample.labels, err);
}

static const struct {
    const char *name;
    hp_result (*draw)(fixture *f, const char *path, hp_figure_format format, hp_error *err);
    const char *words[12]; /* that its text must hold, ended by NULL */
} pictures[] = {
    {"map",
     draw_map,
     {"All 36 wirings: Allotment barrow", "correct", "reverse", "rough", "stalled", "undecided",
      "early", "late", "yellow", "0.25\u00d7", "Cautions"}},
    {"waveforms",
     draw_waveforms,
     {"Waveforms of wiring 1: correct", "Phase current, A", "Back-EMF of each phase, V",
      "Torque on the rotor, N m", "Rotor speed, rev/min", "110", "Time, ms",
      "Motor leads: U yellow, V green, W blue."}},
    {"classes",
     draw_classes,
     {"Smooth or rough: Allotment barrow", "Current excess (no unit)", "Torque ripple (no unit)",
      "correct", "reverse", "rough", "stalled", "undecided", "1, 22, 29", "8, 15, 36",
      "up to 2.5: smooth"}},
    {"lead",
     draw_lead,
     {"Where the field stands: Allotment barrow", "correct", "stalled", "36", "yellow",
      "pulls forward", "pulls backward"}},
    {"bare", draw_lead_bare, {"Where the field stands: Allotment barrow", "36", "yellow"}},
    {"wiring",
     draw_wiring,
     {"Where the field stands in wiring 2", "blue + / yellow \u2212", "code",
      "180\u00b0 to 120\u00b0", "60\u00b0 to 0\u00b0", "\u221260\u00b0 to \u2212120\u00b0",
      "field ahead"}},
    {"steps",
     draw_steps,
     {"The steps of the table, wiring 1", "1. Rotor at 30\u00b0 to 90\u00b0",
      "green + / yellow \u2212", "6. Rotor at 330\u00b0 to 30\u00b0", "U+", "W\u2212"}},
};
#define PICTURES (sizeof pictures / sizeof pictures[0])

static void picture_path(const fixture *f, size_t picture, const char *format, char path[128])
{
    snprintf(path, 128, "%s/%s.%s", f->folder, pictures[picture].name, format);
}

/* Draws one picture and returns its bytes. */
static char *draw_bytes(fixture *f, size_t picture, hp_figure_format format, size_t *size)
{
    char path[128];
    hp_error err = hp_error_none();
    picture_path(f, picture, hp_figure_format_name(format), path);
    hp_result result = pictures[picture].draw(f, path, format, &err);
    check_true(result == HP_OK, "%s: %s", path, err.text);
    return read_file(path, size);
}

static double page_height(const char *svg)
{
    return strtod(svg_attribute(svg, " height=\""), NULL);
}

static bool has_word(const svg_text *text, size_t count, const char *word)
{
    for (size_t k = 0; k < count; k++)
        if (strcmp(text[k].text, word) == 0)
            return true;
    return false;
}

/* Text that leaves the page, or lies on other text, is named. */
static void check_layout(const char *name, const svg_text *t, size_t count, double height)
{
    for (size_t k = 0; k < count; k++) {
        check_true(t[k].left >= 0.0 && t[k].right <= HP_FIGURE_WIDTH && t[k].top >= 0.0 &&
                       t[k].bottom <= height,
                   "%s: \"%s\" reaches from %.0f, %.0f to %.0f, %.0f on a page of %.0f x %.0f",
                   name, t[k].text, t[k].left, t[k].top, t[k].right, t[k].bottom, HP_FIGURE_WIDTH,
                   height);
        for (size_t j = 0; j < k; j++) {
            double across = fmin(t[k].right, t[j].right) - fmax(t[k].left, t[j].left);
            double down = fmin(t[k].bottom, t[j].bottom) - fmax(t[k].top, t[j].top);
            /* The letters' own margins are within the estimate: two units overlap touch nothing. */
            check_true(across < 2.0 || down < 2.0, "%s: \"%s\" and \"%s\" overlap by %.0f x %.0f",
                       name, t[k].text, t[j].text, across, down);
        }
    }
}

/* A number that is none, where SVG has numbers: after a quote, blank, comma or sign inside a tag.
 */
static bool has_no_number(const char *svg)
{
    static const char *const none[] = {"nan", "inf"};
    for (int k = 0; k < 2; k++) {
        for (const char *at = strstr(svg, none[k]); at; at = strstr(at + 1, none[k])) {
            const char *tag = at;
            while (tag > svg && *tag != '<' && *tag != '>')
                tag--;
            if (*tag == '<' && strchr("\" ,-(", at[-1]))
                return true;
        }
    }
    return false;
}

/* Well-formed, without NaN, text in place. */
static void check_svg(const char *name, const char *svg)
{
    static svg_text text[TEXTS];
    const char *fault = svg_fault(svg);
    check_true(fault == NULL, "%s: %s", name, fault);
    check_true(!has_no_number(svg), "%s holds a number that is none", name);
    size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
    check_true(count > 10 && count < TEXTS, "%s has %zu texts", name, count);
    check_layout(name, text, count, page_height(svg));
}

static void every_svg_is_xml_with_its_words_as_text_clear_of_each_other(void **state)
{
    fixture *f = *state;
    static svg_text text[TEXTS];
    for (size_t k = 0; k < PICTURES; k++) {
        size_t size;
        char *svg = draw_bytes(f, k, HP_FIGURE_SVG, &size);
        check_svg(pictures[k].name, svg);
        size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
        for (int w = 0; w < 12 && pictures[k].words[w]; w++)
            check_true(has_word(text, count, pictures[k].words[w]), "%s lacks the text \"%s\"",
                       pictures[k].name, pictures[k].words[w]);
        free(svg);
    }
}

static unsigned big_endian(const char *bytes)
{
    const unsigned char *b = (const unsigned char *)bytes;
    return (unsigned)b[0] << 24 | (unsigned)b[1] << 16 | (unsigned)b[2] << 8 | b[3];
}

static void every_png_is_whole_and_of_the_svgs_shape(void **state)
{
    fixture *f = *state;
    for (size_t k = 0; k < PICTURES; k++) {
        size_t size, svg_size;
        char *svg = draw_bytes(f, k, HP_FIGURE_SVG, &svg_size);
        char *png = draw_bytes(f, k, HP_FIGURE_PNG, &size);
        assert_true(size > 5000);
        assert_memory_equal(png, "\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16);
        assert_memory_equal(png + size - 8, "IEND\xae\x42\x60\x82", 8);
        check_int(big_endian(png + 16), HP_FIGURE_PNG_SCALE * (long)HP_FIGURE_WIDTH);
        /* The page's height is rounded to whole units in the SVG and to whole pixels here. */
        check_close(big_endian(png + 20), HP_FIGURE_PNG_SCALE * page_height(svg),
                    0.5 * HP_FIGURE_PNG_SCALE + 0.5, "rounding of the height, twice");
        free(svg);
        free(png);
    }
}

static void every_pdf_is_whole(void **state)
{
    fixture *f = *state;
    for (size_t k = 0; k < PICTURES; k++) {
        size_t size;
        char *pdf = draw_bytes(f, k, HP_FIGURE_PDF, &size);
        assert_true(size > 5000);
        assert_memory_equal(pdf, "%PDF-1.", 7);
        assert_memory_equal(pdf + size - 6, "%%EOF\n", 6);
        free(pdf);
    }
}

static void the_same_input_gives_the_same_bytes(void **state)
{
    fixture *f = *state;
    char *first[PICTURES][HP_FIGURE_FORMAT_COUNT];
    size_t size[PICTURES][HP_FIGURE_FORMAT_COUNT], again;
    for (size_t k = 0; k < PICTURES; k++)
        for (int m = 0; m < HP_FIGURE_FORMAT_COUNT; m++)
            first[k][m] = draw_bytes(f, k, (hp_figure_format)m, &size[k][m]);
    /* A date in whole seconds must not hide behind a fast machine. */
    sleep(1);
    for (size_t k = 0; k < PICTURES; k++) {
        for (int m = 0; m < HP_FIGURE_FORMAT_COUNT; m++) {
            char *bytes = draw_bytes(f, k, (hp_figure_format)m, &again);
            check_int((long)again, (long)size[k][m]);
            check_true(memcmp(bytes, first[k][m], again) == 0, "%s.%s differs the second time",
                       pictures[k].name, hp_figure_format_name((hp_figure_format)m));
            free(bytes);
            free(first[k][m]);
        }
    }
    check_int(count_files(f->folder), (int)PICTURES * HP_FIGURE_FORMAT_COUNT);
}

static void *draw_in_thread(void *data)
{
    fixture *f = data;
    char path[128];
    snprintf(path, sizeof path, "%s/thread.svg", f->folder);
    return hp_figure_lead_draw(path, HP_FIGURE_SVG, &f->sample.drive, &f->sample.survey,
                               &f->sample.labels, NULL) == HP_OK
               ? data
               : NULL;
}

static void threads_wait_for_each_other(void **state)
{
    fixture *f = *state;
    pthread_t thread;
    void *fine;
    size_t size, other;
    char path[128];
    assert_int_equal(pthread_create(&thread, NULL, draw_in_thread, f), 0);
    char *map = draw_bytes(f, 0, HP_FIGURE_SVG, &size);
    check_svg("map beside a thread", map);
    assert_int_equal(pthread_join(thread, &fine), 0);
    assert_non_null(fine);
    snprintf(path, sizeof path, "%s/thread.svg", f->folder);
    char *there = read_file(path, &other), *lead = draw_bytes(f, 3, HP_FIGURE_SVG, &size);
    check_int((long)other, (long)size);
    assert_memory_equal(there, lead, size);
    free(map);
    free(there);
    free(lead);
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
    for (size_t k = 0; k < PICTURES; k++) {
        for (int m = 0; m < HP_FIGURE_FORMAT_COUNT; m++) {
            for (int p = 0; p < 4; p++) {
                hp_error err = hp_error_none();
                check_int(pictures[k].draw(f, path[p], (hp_figure_format)m, &err), HP_FAIL_IO);
                check_int(err.code, HP_FAIL_IO);
                check_text_contains(err.text, path[p]);
            }
        }
    }
    hp_error err = hp_error_none();
    check_int(draw_map(f, "", HP_FIGURE_SVG, &err), HP_FAIL_IO);
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
    hp_page page = {.width = 100.0, .height = 100.0, .title = "none"};
    char path[128];
    for (int m = 0; m < HP_FIGURE_FORMAT_COUNT; m++) {
        hp_error err = hp_error_none();
        size_t size;
        picture_path(f, 0, hp_figure_format_name((hp_figure_format)m), path);
        char *before = draw_bytes(f, 0, (hp_figure_format)m, &size);
        check_int(hp_canvas_draw(path, (hp_figure_format)m, &page, leave_through_plplot,
                                 "made-up trouble", &err),
                  HP_FAIL_LIBRARY);
        check_text_contains(err.text, "made-up trouble");
        check_text_contains(err.text, path);
        /* The older picture stays, and the next one can be drawn. */
        size_t kept;
        char *after = read_file(path, &kept);
        check_int((long)kept, (long)size);
        assert_memory_equal(before, after, size);
        free(after);
        after = draw_bytes(f, 0, (hp_figure_format)m, &kept);
        check_int((long)kept, (long)size);
        assert_memory_equal(before, after, size);
        free(before);
        free(after);
    }
    check_int(count_files(f->folder), HP_FIGURE_FORMAT_COUNT);
}

static void bad_pages_and_formats_are_refused(void **state)
{
    fixture *f = *state;
    const double bad[] = {0.0, -5.0, 15.0, 10001.0, (double)NAN, (double)INFINITY};
    char path[128];
    picture_path(f, 0, "svg", path);
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++) {
        hp_page wide = {.width = bad[k], .height = 100.0, .title = ""};
        hp_page high = {.width = 100.0, .height = bad[k], .title = ""};
        check_int(hp_canvas_draw(path, HP_FIGURE_SVG, &wide, leave_through_plplot, "", NULL),
                  HP_FAIL_INPUT);
        check_int(hp_canvas_draw(path, HP_FIGURE_SVG, &high, leave_through_plplot, "", NULL),
                  HP_FAIL_INPUT);
    }
    check_int(draw_map(f, path, HP_FIGURE_FORMAT_COUNT, NULL), HP_FAIL_INPUT);
    check_int(draw_map(f, path, (hp_figure_format)-1, NULL), HP_FAIL_INPUT);
    check_int(count_files(f->folder), 0);
    hp_figure_format format;
    hp_error err = hp_error_none();
    check_int(hp_figure_format_parse("jpeg", &format, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "jpeg");
    for (int m = 0; m < HP_FIGURE_FORMAT_COUNT; m++) {
        check_int(hp_figure_format_parse(hp_figure_format_name((hp_figure_format)m), &format, NULL),
                  HP_OK);
        check_int((int)format, m);
    }
}

static void a_trace_without_time_is_refused(void **state)
{
    fixture *f = *state;
    hp_error err = hp_error_none();
    size_t count = f->trace.count;
    char path[128];
    picture_path(f, 1, "svg", path);
    f->trace.count = 1;
    check_int(draw_waveforms(f, path, HP_FIGURE_SVG, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "1 samples");
    f->trace.count = count;
    f->trace.sample[count - 1].time = f->trace.sample[0].time;
    err = hp_error_none();
    check_int(draw_waveforms(f, path, HP_FIGURE_SVG, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "must advance");
    check_int(count_files(f->folder), 0);
}

/* Markup of XML, of Pango and of PLplot, its escapes for other fonts and for a code point. */
static const char hostile[] = "</text><b>&amp;#u#gw#[0x3c]##]]>";

static void put_everywhere(hp_labels *labels, const char *text)
{
    snprintf(labels->machine, sizeof labels->machine, "%s", text);
    for (int p = 0; p < HP_PHASE_COUNT; p++) {
        snprintf(labels->motor_lead[p], HP_LABEL_SIZE, "%s", text);
        snprintf(labels->motor_sensor[p], HP_LABEL_SIZE, "%s", text);
        snprintf(labels->controller_output[p], HP_LABEL_SIZE, "%s", text);
        snprintf(labels->controller_input[p], HP_LABEL_SIZE, "%s", text);
    }
}

static void hostile_labels_stay_text(void **state)
{
    fixture *f = *state;
    static svg_text text[TEXTS];
    put_everywhere(&f->sample.labels, hostile);
    for (size_t k = 0; k < PICTURES; k++) {
        for (int m = 0; m < HP_FIGURE_FORMAT_COUNT; m++) {
            size_t size;
            char *bytes = draw_bytes(f, k, (hp_figure_format)m, &size);
            if (m == HP_FIGURE_SVG)
                check_svg(pictures[k].name, bytes);
            free(bytes);
        }
    }
    /* In the title, where there is room, the text comes back whole, in a line of its own. */
    size_t size;
    char *svg = draw_bytes(f, 0, HP_FIGURE_SVG, &size);
    size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
    check_true(has_word(text, count, hostile), "the title lacks \"%s\"", hostile);
    assert_null(strstr(svg, "<b>"));
    free(svg);
}

static void long_foreign_and_empty_labels_keep_their_places(void **state)
{
    fixture *f = *state;
    static const char *const odd[] = {
        "the thick violet lead beside the axle, with the torn sleeve, 6 mm",
        "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
        "\xe9\xbb\x84\xe7\xb6\xa0\xe8\x97\x8d\xe9\xbb\x84\xe7\xb6\xa0\xe8\x97\x8d\xe9\xbb\x84",
        "bad \xff\xfe bytes \x01\x1b[31m and \xef\xbf\xbf",
        "e\xcc\x81\xcc\x81\xcc\x81\xcc\x81\xcc\x81\xcc\x81",
        "",
    };
    for (size_t o = 0; o < sizeof odd / sizeof odd[0]; o++) {
        put_everywhere(&f->sample.labels, odd[o]);
        for (size_t k = 0; k < PICTURES; k++) {
            size_t size;
            char *svg = draw_bytes(f, k, HP_FIGURE_SVG, &size);
            check_svg(odd[o], svg);
            free(svg);
        }
    }
}

static void escaping_keeps_whole_characters(void **state)
{
    (void)state;
    char out[64], small[8];
    assert_string_equal(hp_pen_escape("a#u", out, sizeof out), "a##u");
    assert_string_equal(hp_pen_escape("###", out, sizeof out), "######");
    assert_string_equal(hp_pen_escape("\xef\xbf\xbe|\xef\xbf\xbf|\n", out, sizeof out), "?|?|?");
    /* Room for seven bytes: three degree signs, and not half of the fourth. */
    assert_string_equal(hp_pen_escape("\u00b0\u00b0\u00b0\u00b0", small, sizeof small),
                        "\u00b0\u00b0\u00b0");
    /* Never half of a doubled sign. */
    for (size_t room = 1; room <= sizeof small; room++) {
        size_t length = strlen(hp_pen_escape("######", small, room));
        check_true(length < room && length % 2 == 0, "%zu bytes of %zu", length, room);
    }
}

static void numbers_without_bound_stand_at_the_edge(void **state)
{
    fixture *f = *state;
    static const double value[] = {INFINITY, NAN, 0.0, -1.0, 1e300, 1e-300};
    for (size_t v = 0; v < sizeof value / sizeof value[0]; v++) {
        for (int n = 0; n < HP_WIRING_COUNT; n++) {
            f->sample.survey.judgement[n].ripple = value[v];
            f->sample.survey.judgement[n].excess = value[v];
            f->sample.survey.judgement[n].mean.battery_current = value[v];
        }
        for (size_t k = 0; k < PICTURES; k++) {
            size_t size;
            char *svg = draw_bytes(f, k, HP_FIGURE_SVG, &size);
            check_svg(pictures[k].name, svg);
            free(svg);
        }
    }
}

static void every_verdict_and_direction_can_be_drawn(void **state)
{
    fixture *f = *state;
    for (int n = 0; n < HP_WIRING_COUNT; n++) {
        hp_judgement *j = &f->sample.survey.judgement[n];
        j->verdict = (hp_verdict)(n % HP_VERDICT_COUNT);
        j->direction = (hp_direction)(n % HP_DIRECTION_COUNT);
        j->kind = (hp_rough_kind)(n % HP_KIND_COUNT);
    }
    for (size_t k = 0; k < PICTURES; k++) {
        size_t size;
        char *svg = draw_bytes(f, k, HP_FIGURE_SVG, &size);
        check_svg(pictures[k].name, svg);
        free(svg);
    }
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        for (int n = 0; n < HP_WIRING_COUNT; n++)
            f->sample.survey.judgement[n].verdict = (hp_verdict)v;
        size_t size;
        char *svg = draw_bytes(f, 2, HP_FIGURE_SVG, &size);
        check_svg(hp_verdict_name((hp_verdict)v), svg);
        free(svg);
    }
}

/* 60-degree sensors on a 120-degree table: two codes that the table lacks. */
static void codes_that_the_table_lacks_are_said(void **state)
{
    fixture *f = *state;
    static svg_text text[TEXTS];
    size_t size;
    f->sample.drive.sensors.spacing_60 = true;
    char *svg = draw_bytes(f, 5, HP_FIGURE_SVG, &size);
    check_svg("wiring", svg);
    size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
    assert_true(has_word(text, count, "nothing driven"));
    free(svg);
    svg = draw_bytes(f, 6, HP_FIGURE_SVG, &size);
    check_svg("steps", svg);
    count = svg_texts(svg, page_height(svg), text, TEXTS);
    assert_true(has_word(text, count, "all leads off"));
    free(svg);
    /* No supply: one code all the way round. */
    f->sample.drive.sensors.no_supply = true;
    for (size_t k = 0; k < PICTURES; k++) {
        svg = draw_bytes(f, k, HP_FIGURE_SVG, &size);
        check_svg(pictures[k].name, svg);
        free(svg);
    }
}

/* Both directions of the checker: what it must let pass, and what it must catch. */
static void the_checker_itself_can_fail(void **state)
{
    (void)state;
    static const char *const broken[] = {
        "<svg></svg>",
        "<?xml?><svg>",
        "<?xml?><svg><g></svg></g>",
        "<?xml?><svg>a & b</svg>",
        "<?xml?><svg>&nbsp;</svg>",
        "<?xml?><svg a=b></svg>",
        "<?xml?><svg a=\"<\"></svg>",
        "<?xml?><svg>a > b</svg>",
        "<?xml?><svg/><svg/>",
        "<?xml?><svg/>more",
        "<?xml?><svg>\x01</svg>",
    };
    assert_null(svg_fault("<?xml?>\n<svg a=\"1\"\n b=\"2\"><g/>a &lt; b</svg>\n"));
    assert_true(has_no_number("<g a=\"1,nan\"/>") && has_no_number("<g a=\"-inf\"/>"));
    assert_false(has_no_number("<g dominant=\"x\"/>inf nan<g/>"));
    for (size_t k = 0; k < sizeof broken / sizeof broken[0]; k++)
        check_true(svg_fault(broken[k]) != NULL, "%s passes", broken[k]);
}

int main(void)
{
#define WITH_FIXTURE(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_checker_itself_can_fail),
        cmocka_unit_test(escaping_keeps_whole_characters),
        WITH_FIXTURE(every_svg_is_xml_with_its_words_as_text_clear_of_each_other),
        WITH_FIXTURE(every_png_is_whole_and_of_the_svgs_shape),
        WITH_FIXTURE(every_pdf_is_whole),
        WITH_FIXTURE(the_same_input_gives_the_same_bytes),
        WITH_FIXTURE(threads_wait_for_each_other),
        WITH_FIXTURE(a_place_that_cannot_be_written_is_an_error_with_its_name),
        WITH_FIXTURE(a_plplot_that_gives_up_does_not_end_the_program),
        WITH_FIXTURE(bad_pages_and_formats_are_refused),
        WITH_FIXTURE(a_trace_without_time_is_refused),
        WITH_FIXTURE(hostile_labels_stay_text),
        WITH_FIXTURE(long_foreign_and_empty_labels_keep_their_places),
        WITH_FIXTURE(numbers_without_bound_stand_at_the_edge),
        WITH_FIXTURE(every_verdict_and_direction_can_be_drawn),
        WITH_FIXTURE(codes_that_the_table_lacks_are_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
