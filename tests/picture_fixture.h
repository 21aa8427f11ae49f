/*
 * Made-up data for tests of pictures, a folder to draw into, and checks on what was drawn.
 */
#ifndef HUBPHASE_TESTS_FIGURES_FIXTURE_H
#define HUBPHASE_TESTS_FIGURES_FIXTURE_H

#include "check.h"
#include "report_sample.h"
#include "svg_check.h"

#include "hubphase/report/pictures.h"
#include "hubphase/sim/trace.h"
#include "report/picture/picture_lead.h"
#include "report/picture/picture_waveforms.h"

#include <dirent.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#define TEXTS 2000

typedef struct fixture {
    report_sample sample;
    hp_trace trace;
    hp_thresholds thresholds;
    char folder[64];
} fixture;

static inline void put_folder(fixture *f)
{
    snprintf(f->folder, sizeof f->folder, "%s", "figures-XXXXXX");
    assert_non_null(mkdtemp(f->folder));
}

/* Three electrical turns of an ideal run, with one gap. */
static inline void put_trace(hp_trace *trace, size_t count)
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

static inline int set_up(void **state)
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

static inline int count_files(const char *folder)
{
    int count = 0;
    DIR *d = opendir(folder);
    assert_non_null(d);
    for (const struct dirent *e = readdir(d); e; e = readdir(d))
        count += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
    closedir(d);
    return count;
}

static inline int tear_down(void **state)
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
static inline char *read_file(const char *path, size_t *size)
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
static inline hp_result draw_map(fixture *f, const char *path, hp_picture_format format,
                                 hp_error *err)
{
    return hp_picture_map_draw(path, format, &f->sample.survey, &f->sample.labels, err);
}

static inline hp_result draw_waveforms(fixture *f, const char *path, hp_picture_format format,
                                       hp_error *err)
{
    return hp_picture_waveforms_draw(path, format, &f->trace, &f->sample.labels,
                                     "Waveforms of wiring 1: correct", err);
}

static inline hp_result draw_classes(fixture *f, const char *path, hp_picture_format format,
                                     hp_error *err)
{
    return hp_picture_classes_draw(path, format, &f->sample.survey, &f->thresholds,
                                   &f->sample.labels, err);
}

static inline hp_result draw_lead(fixture *f, const char *path, hp_picture_format format,
                                  hp_error *err)
{
    return hp_picture_lead_draw(path, format, &f->sample.drive, &f->sample.survey,
                                &f->sample.labels, err);
}

static inline hp_result draw_lead_bare(fixture *f, const char *path, hp_picture_format format,
                                       hp_error *err)
{
    return hp_picture_lead_draw(path, format, &f->sample.drive, NULL, &f->sample.labels, err);
}

static inline hp_result draw_wiring(fixture *f, const char *path, hp_picture_format format,
                                    hp_error *err)
{
    hp_wiring wiring = hp_wiring_from_number(2);
    return hp_picture_lead_wiring_draw(path, format, &f->sample.drive, &wiring,
                                       &f->sample.survey.judgement[1], &f->sample.labels, err);
}

static inline hp_result draw_steps(fixture *f, const char *path, hp_picture_format format,
                                   hp_error *err)
{
    hp_wiring wiring = hp_wiring_from_number(1);
    return hp_picture_steps_draw(path, format, &f->sample.drive, &wiring, &f->sample.labels, err);
}

static const struct {
    const char *name;
    hp_result (*draw)(fixture *f, const char *path, hp_picture_format format, hp_error *err);
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
      "up to 1.6: may be smooth"}},
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

static inline void picture_path(const fixture *f, size_t picture, const char *format,
                                char path[128])
{
    snprintf(path, 128, "%s/%s.%s", f->folder, pictures[picture].name, format);
}

/* Draws one picture and returns its bytes. */
static inline char *draw_bytes(fixture *f, size_t picture, hp_picture_format format, size_t *size)
{
    char path[128];
    hp_error err = hp_error_none();
    picture_path(f, picture, hp_picture_format_name(format), path);
    hp_result result = pictures[picture].draw(f, path, format, &err);
    check_true(result == HP_OK, "%s: %s", path, err.text);
    return read_file(path, size);
}

static inline double page_height(const char *svg)
{
    return strtod(svg_attribute(svg, " height=\""), NULL);
}

static inline bool has_word(const svg_text *text, size_t count, const char *word)
{
    for (size_t k = 0; k < count; k++)
        if (strcmp(text[k].text, word) == 0)
            return true;
    return false;
}

/* Text that leaves the page, or lies on other text, is named. */
static inline void check_layout(const char *name, const svg_text *t, size_t count, double height)
{
    for (size_t k = 0; k < count; k++) {
        check_true(t[k].left >= 0.0 && t[k].right <= HP_PICTURE_WIDTH && t[k].top >= 0.0 &&
                       t[k].bottom <= height,
                   "%s: \"%s\" reaches from %.0f, %.0f to %.0f, %.0f on a page of %.0f x %.0f",
                   name, t[k].text, t[k].left, t[k].top, t[k].right, t[k].bottom, HP_PICTURE_WIDTH,
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
static inline bool has_no_number(const char *svg)
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
static inline void check_svg(const char *name, const char *svg)
{
    static svg_text text[TEXTS];
    const char *fault = svg_fault(svg);
    check_true(fault == NULL, "%s: %s", name, fault);
    check_true(!has_no_number(svg), "%s holds a number that is none", name);
    size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
    check_true(count > 10 && count < TEXTS, "%s has %zu texts", name, count);
    check_layout(name, text, count, page_height(svg));
}

#define WITH_FIXTURE(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

#endif
