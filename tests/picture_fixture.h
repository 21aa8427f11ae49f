/*
 * Made-up data for tests of pictures, a folder to draw into, and checks on what was drawn.
 */
#ifndef HUBPHASE_TESTS_FIGURES_FIXTURE_H
#define HUBPHASE_TESTS_FIGURES_FIXTURE_H

#include "check.h"
#include "report_sample.h"
#include "svg_check.h"

#include "decide/reading/reading_list.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/report/pictures.h"
#include "hubphase/sim/engine.h"
#include "sim/trace.h"
#include "spread_sample.h"

#include <dirent.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#define TEXTS 2000

typedef struct fixture {
    report_sample sample;
    hp_trace trace;
    hp_spread spread;
    hp_harness harness;
    hp_advice advice;
    hp_plug_map plug;
    hp_controls_params controls;
    hp_course_run course;
    hp_what_if_result what_if;
    hp_example example[HP_EXAMPLE_COUNT];
    hp_fit fit;
    hp_vehicle vehicle;
    hp_picture_subject subject; /* of all of these, wiring 2 */
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

/* One run of a wiring of each kind, as the sample's survey judges them. */
static inline void put_examples(fixture *f)
{
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++) {
        hp_example *e = &f->example[k];
        e->number = hp_picture_example(&f->sample.survey, (hp_example_kind)k);
        if (!e->number)
            continue;
        e->judgement = f->sample.survey.judgement[e->number - 1];
        put_trace(&e->trace, 900);
    }
}

/* A round plug and a square one, with a place without a lead. */
static inline void put_plug(hp_plug_map *plug)
{
    static const char *const pin[HP_PLUG_LEAD_COUNT] = {
        "12 o'clock", "3 o'clock",      "centre",         "row 1 column 1",
        "r1 c2",      "row 2 column 1", "row 2 column 2", "4 o'clock inner"};
    *plug = (hp_plug_map){.given = true, .half = HP_HALF_MOTOR, .columns = 3};
    for (int k = 0; k < HP_PLUG_LEAD_COUNT; k++)
        snprintf(plug->pin[k], HP_PLUG_PIN_SIZE, "%s", pin[k]);
}

/* The lever pulled, with as many actions as a picture has to keep apart. */
static inline void put_course(fixture *f)
{
    hp_drive drive = hp_drive_default();
    hp_wiring wiring = hp_wiring_from_number(1);
    f->controls = hp_controls_params_default();
    assert_int_equal(hp_what_if_run(&drive, &wiring, &f->controls, HP_WHAT_IF_BRAKE, &f->what_if,
                                    &f->course, NULL),
                     HP_OK);
}

/* Curves that fall evenly, and a ride that warms evenly to its 101st point. */
static inline void put_fit(hp_fit *fit, hp_vehicle *vehicle)
{
    *vehicle = hp_vehicle_default();
    fit->correct = 1;
    for (int c = 0; c < HP_FIT_CHARGE_COUNT; c++) {
        hp_fit_curve *curve = &fit->curve[c];
        curve->emf_v = 42.0 - 5.0 * c;
        for (int k = 0; k < HP_FIT_POINTS; k++) {
            double torque = 2.0 * k, speed = 26.0 - 3.0 * c - 0.8 * k;
            curve->point[k] = (hp_fit_point){.runs = k + 3 < HP_FIT_POINTS,
                                             .torque_nm = torque,
                                             .wheel_rad_s = speed,
                                             .battery_a = 0.6 * torque,
                                             .battery_w = 1.2 * torque * speed + 20.0,
                                             .wheel_w = torque * speed,
                                             .phase_rms_a = 0.7 * torque};
            curve->dc_rad_s[k] = k + 2 < HP_FIT_POINTS ? speed + 1.0 : (double)NAN;
        }
        fit->level[c] = (hp_fit_meeting){.meets = true, .speed = 7.5 - c};
        fit->hill[c] = (hp_fit_meeting){.meets = c < HP_FIT_CHARGE_EMPTY, .speed = 4.0 - c};
    }
    hp_fit_course *course = &fit->course;
    course->count = HP_FIT_COURSE;
    for (int k = 0; k < HP_FIT_COURSE; k++) {
        course->metres[k] = 35.0 * k;
        course->percent[k] = k > 40 && k < 60 ? 6.0 : -0.5;
        course->copper_c[k] = 20.0 + 0.4 * (k < 100 ? k : 200 - k);
        course->hub_c[k] = 20.0 + 0.2 * k;
        course->low_c[k] = 20.0 + 0.3 * k;
        course->high_c[k] = 20.0 + 0.5 * k;
    }
    course->hottest_c = course->copper_c[100];
    course->hottest_low_c = 60.0;
    course->hottest_high_c = 86.0;
    course->seconds = 700.0;
}

static inline void put_harness(hp_harness *harness)
{
    *harness = (hp_harness){.parts = 1};
    hp_harness_part *part = &harness->part[0];
    snprintf(part->name, sizeof part->name, "throttle grip");
    part->leads = 1;
    snprintf(part->lead[0].colour, HP_LABEL_SIZE, "white");
    snprintf(part->lead[0].function, HP_LABEL_SIZE, "signal");
}

static inline void put_subject(fixture *f)
{
    f->advice = (hp_advice){
        .kind = HP_ADVICE_READ, .reading = &hp_reading_park, .lead = HP_V, .trouble = -1};
    f->subject = (hp_picture_subject){.drive = &f->sample.drive,
                                      .labels = &f->sample.labels,
                                      .thresholds = hp_thresholds_default(),
                                      .harness = &f->harness,
                                      .survey = &f->sample.survey,
                                      .spread = &f->spread,
                                      .number = 2,
                                      .judgement = &f->sample.survey.judgement[1],
                                      .trace = &f->trace,
                                      .start_angle = 17.0 * HP_DEG,
                                      .example = f->example,
                                      .advice = &f->advice,
                                      .course = &f->course,
                                      .controls = &f->controls,
                                      .what_if = &f->what_if,
                                      .plug = &f->plug,
                                      .fit = &f->fit,
                                      .vehicle = &f->vehicle};
}

static inline int set_up(void **state)
{
    fixture *f = calloc(1, sizeof *f);
    assert_non_null(f);
    report_sample_init(&f->sample);
    put_trace(&f->trace, 5000);
    spread_sample_init(&f->spread);
    put_harness(&f->harness);
    put_plug(&f->plug);
    put_fit(&f->fit, &f->vehicle);
    put_examples(f);
    put_course(f);
    put_subject(f);
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
    hp_course_run_free(&f->course);
    hp_examples_free(f->example);
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

/* Words that every picture must hold. */
static const struct {
    const char *name;
    const char *words[12]; /* ended by NULL */
} picture_words[] = {
    {"map",
     {"All 36 wirings: Allotment barrow", "correct", "reverse", "rough", "stalled", "undecided",
      "early", "late", "yellow", "5/7", "Cautions"}},
    {"bars",
     {"Speed and current of each kind: Allotment barrow", "Wheel speed, rev/min",
      "Battery current, A", "correct", "reverse", "rough", "stalled", "too early \u00d76",
      "too late \u00d75"}},
    {"classes",
     {"Smooth or rough: Allotment barrow", "Current excess (no unit)",
      "Idle current (share of phase current)", "correct", "reverse", "rough", "stalled",
      "undecided", "1, 22, 29", "8, 15, 36", "below the line: may be smooth"}},
    {"torque-angle",
     {"Torque against rotor angle: Allotment barrow", "smooth", "too early", "too late", "opposed",
      "Rotor angle, degrees electrical", "360"}},
    {"lead-angles",
     {"Where the field stands: Allotment barrow", "correct", "stalled", "36", "yellow",
      "pulls forward", "pulls backward"}},
    {"lead-angle",
     {"Where the field stands in wiring 2: stalled", "blue + / yellow \u2212", "code",
      "180\u00b0 to 120\u00b0", "60\u00b0 to 0\u00b0", "\u221260\u00b0 to \u2212120\u00b0"}},
    {"six-steps",
     {"The steps of the table, wiring 2: stalled", "1. Rotor at 30\u00b0 to 90\u00b0",
      "blue + / yellow \u2212", "6. Rotor at 330\u00b0 to 30\u00b0", "U+", "W\u2212",
      "field 150\u00b0 ahead"}},
    {"waveforms",
     {"Waveforms of wiring 2: stalled", "Phase current, A", "Back-EMF of each phase, V",
      "Torque on the rotor, N m", "Rotor speed, rev/min", "Time, ms", "yellow", "green", "blue"}},
    {"beside",
     {"Smooth beside rough, on one scale", "smooth", "too early", "too late", "opposed", "wiring 1",
      "wiring 9", "Phase current, A", "yellow"}},
    {"joints",
     {"Which lead goes where: wiring 2, stalled", "yellow", "red (output U)", "black (output V)",
      "Hall plus", "Hall minus", "throttle grip", "white: signal"}},
    {"connect",
     {"How it is connected: parking on green", "green", "plus (+)", "Hall plus", "1st figure"}},
    {"plug",
     {"Where each lead sits in its plug", "motor's half", "controller's half", "phase yellow",
      "3 o'clock outer", "9 o'clock outer", "row 1 column 1", "row 1 column 3", "Hall minus"}},
    {"fit-curves",
     {"Machine and road: Allotment barrow", "Speed, km/h", "Battery and phase current, A",
      "Power at the wheel, W", "Efficiency, %", "Torque at the wheel, N m", "battery full, 42 V",
      "battery half charged, 37 V", "d.c. line, no limits", "what a hill of 6 % asks"}},
    {"fit-heat",
     {"Heat along the ride: Allotment barrow", "Temperature, C", "Height of the way, m", "Way, km",
      "winding", "hottest it may be", "Hottest: 60 C (60 to 86), at 3.5 km.",
      "The ride takes 11.7 min."}},
    {"spread-map",
     {"How sure is each verdict: Allotment barrow", "correct", "reverse", "rough", "stalled",
      "undecided", "all", "75 %", "late", "yellow"}},
    {"spread-bands",
     {"How far the figures spread: Allotment barrow", "correct", "reverse", "rough", "stalled",
      "Rotor speed, rev/min", "Battery current, A", "Waste", "\u00d73", "early \u00d74"}},
    {"course",
     {"Brake lever pulled while the motor runs", "Asked for (dotted) and duty, %", "Torque, N m",
      "Wheel speed, rev/min", "Time, s", "1", "2", "Finding: good"}},
};

/* Draws one picture into a file and returns its bytes. */
static inline char *draw_bytes(fixture *f, const hp_picture *picture, hp_picture_format format,
                               hp_shape shape, size_t *size)
{
    char path[160];
    hp_error err = hp_error_none();
    snprintf(path, sizeof path, "%s/%s-%s.%s", f->folder, picture->name, hp_shape_name(shape),
             hp_picture_format_name(format));
    hp_picture_target to = {.format = format, .shape = shape, .path = path};
    hp_result result = hp_picture_make(picture, &f->subject, &to, &err);
    check_true(result == HP_OK, "%s: %s", path, err.text);
    return read_file(path, size);
}

/* The same of the picture with that name, as SVG for a phone. */
static inline char *draw_svg(fixture *f, const char *name)
{
    size_t size;
    const hp_picture *picture = hp_picture_find(name);
    check_true(picture != NULL, "no picture %s", name);
    return draw_bytes(f, picture, HP_PICTURE_SVG, HP_SHAPE_PHONE, &size);
}

static inline double page_height(const char *svg)
{
    return strtod(svg_attribute(svg, " height=\""), NULL);
}

static inline double page_width(const char *svg)
{
    return strtod(svg_attribute(svg, " width=\""), NULL);
}

/* Every piece of text of an SVG in one, for sentences that are broken into lines; good until the
 * next call. */
static inline char *all_text(const char *svg)
{
    static svg_text text[TEXTS];
    static char all[TEXTS * sizeof text[0].text + TEXTS];
    char *end = all;
    size_t count = svg_texts(svg, text, TEXTS);
    for (size_t k = 0; k < count; k++) {
        end = stpcpy(end, text[k].text);
        *end++ = ' ';
    }
    *end = '\0';
    return all;
}

static inline bool has_word(const svg_text *text, size_t count, const char *word)
{
    for (size_t k = 0; k < count; k++)
        if (strcmp(text[k].text, word) == 0)
            return true;
    return false;
}

/* Text that leaves the page, or lies on other text, is named. */
static inline void check_layout(const char *name, const svg_text *t, size_t count, double width,
                                double height)
{
    for (size_t k = 0; k < count; k++) {
        check_true(t[k].left >= 0.0 && t[k].right <= width && t[k].top >= 0.0 &&
                       t[k].bottom <= height,
                   "%s: \"%s\" reaches from %.0f, %.0f to %.0f, %.0f on a page of %.0f x %.0f",
                   name, t[k].text, t[k].left, t[k].top, t[k].right, t[k].bottom, width, height);
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
    size_t count = svg_texts(svg, text, TEXTS);
    check_true(count > 5 && count < TEXTS, "%s has %zu texts", name, count);
    check_layout(name, text, count, page_width(svg), page_height(svg));
}

#define WITH_FIXTURE(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

#endif
