/*
 * The pictures, from made-up data: whole files of the right kind, text that is text, stays on the
 * page and clear of other text, whatever labels and figures are.
 */
#include "entry_kind.h"
#include "picture_fixture.h"

#include "report/words/card.h"

/* Runs `check` on the SVG of every picture in every shape. */
/* In every shape; where sanitizers watch, each in one of them, taken in turn. */
#define EACH_SVG(f, picture, shape, svg, statement)                                                \
    for (int p_ = 0; p_ < hp_picture_count; p_++)                                                  \
        for (int s_ = HP_DRAWS(0, p_ % HP_SHAPE_COUNT);                                            \
             s_ < HP_DRAWS(HP_SHAPE_COUNT, p_ % HP_SHAPE_COUNT + 1); s_++) {                       \
            const hp_picture *picture = hp_pictures[p_];                                           \
            hp_shape shape = (hp_shape)s_;                                                         \
            size_t size_;                                                                          \
            char *svg = draw_bytes(f, picture, HP_PICTURE_SVG, shape, &size_);                     \
            (void)shape;                                                                           \
            statement;                                                                             \
            free(svg);                                                                             \
        }

/* The words that every picture must hold are told for every row of the list. */
static void every_svg_is_xml_with_its_words_as_text_clear_of_each_other(void **state)
{
    fixture *f = *state;
    static svg_text text[TEXTS];
    check_int(hp_picture_count, (int)(sizeof picture_words / sizeof picture_words[0]));
    EACH_SVG(f, picture, shape, svg, check_svg(picture->name, svg));
    for (int k = 0; k < hp_picture_count; k++) {
        check_true(strcmp(hp_pictures[k]->name, picture_words[k].name) == 0, "%s is not %s",
                   hp_pictures[k]->name, picture_words[k].name);
        char *svg = draw_svg(f, hp_pictures[k]->name);
        size_t count = svg_texts(svg, text, TEXTS);
        for (int w = 0; w < 12 && picture_words[k].words[w]; w++)
            check_true(has_word(text, count, picture_words[k].words[w]), "%s lacks the text \"%s\"",
                       hp_pictures[k]->name, picture_words[k].words[w]);
        free(svg);
    }
}

/* What each shape promises. A phone shows the picture 390 pixels wide; A4 is 210 mm wide (ISO 216,
 * memory), and a point is 1/72 inch of 25.4 mm. */
static double least_letters(hp_shape shape, double width, double height)
{
    switch (shape) {
    case HP_SHAPE_PHONE: return 12.0 * width / 390.0;
    case HP_SHAPE_WALL: return height / 40.0;
    default: return 9.0 * 25.4 / 72.0 * width / 210.0;
    }
}

static void check_letters(const char *name, hp_shape shape, const char *svg)
{
    double least = least_letters(shape, page_width(svg), page_height(svg));
    for (const char *at = strstr(svg, "font-size=\""); at; at = strstr(at + 1, "font-size=\"")) {
        double size = strtod(at + strlen("font-size=\""), NULL);
        check_true(size >= least - 1e-9, "%s for %s has letters of %g, must be %g at least", name,
                   hp_shape_name(shape), size, least);
    }
}

static void no_letter_is_too_small_for_its_shape(void **state)
{
    fixture *f = *state;
    EACH_SVG(f, picture, shape, svg, check_letters(picture->name, shape, svg));
}

/* Names of a usual length have room in every shape, and nothing that a page must hold is left out.
 */
static void nothing_of_a_usual_machine_is_cut(void **state)
{
    fixture *f = *state;
    EACH_SVG(f, picture, shape, svg, {
        const char *cut = strstr(all_text(svg), "\u2026");
        check_true(cut == NULL, "%s for %s cuts: %.30s", picture->name, hp_shape_name(shape),
                   cut ? cut - 20 : "");
    });
    /* Angles of one wiring are wider than those of another. */
    for (f->subject.number = 1; f->subject.number <= HP_WIRING_COUNT; f->subject.number++) {
        char *svg = draw_svg(f, "lead-angle");
        check_true(!strstr(all_text(svg), "\u2026"), "lead-angle of wiring %d is cut",
                   f->subject.number);
        free(svg);
    }
    f->subject.number = 1;
    const hp_picture *connect = hp_picture_find("connect");
    for (int kind = 0; kind < KIND_LEARN; kind++) {
        f->advice.reading = kind_reading(kind);
        for (int s = 0; s < HP_SHAPE_COUNT; s++) {
            size_t size;
            char *svg = draw_bytes(f, connect, HP_PICTURE_SVG, (hp_shape)s, &size);
            check_true(!strstr(all_text(svg), "\u2026"), "%s for %s is cut",
                       kind_reading(kind)->title, hp_shape_name((hp_shape)s));
            free(svg);
        }
    }
}

static bool picture_says(fixture *f, const char *picture, hp_shape shape, const char *words)
{
    size_t size;
    char *svg = draw_bytes(f, hp_picture_find(picture), HP_PICTURE_SVG, shape, &size);
    bool says = strstr(all_text(svg), words) != NULL;
    free(svg);
    return says;
}

/* Nobody joins leads by a picture of names that nobody has put on their axes. */
static void names_that_are_only_names_are_called_so(void **state)
{
    fixture *f = *state;
    static const char *const picture[] = {"map", "joints"};
    for (int known = 0; known < 2; known++) {
        f->sample.labels.axes_known = known;
        for (size_t k = 0; k < sizeof picture / sizeof picture[0]; k++)
            for (int s = 0; s < HP_SHAPE_COUNT; s++)
                check_int(picture_says(f, picture[k], (hp_shape)s, "do not join by this picture"),
                          !known);
    }
}

/* ... unless the advice says of this wiring to join it: then card and picture say the same. */
static void a_wiring_that_is_advised_is_not_forbidden_by_its_picture(void **state)
{
    fixture *f = *state;
    const hp_advice before = f->advice;
    f->sample.labels.axes_known = false;
    for (hp_advice_kind kind = 0; kind < HP_ADVICE_COUNT; kind++) {
        bool tried = kind == HP_ADVICE_TRY || kind == HP_ADVICE_LOOK;
        bool found = kind == HP_ADVICE_DONE || kind == HP_ADVICE_PROBABLY;
        if (kind == HP_ADVICE_DANGER) /* it names none */
            continue;
        f->advice = (hp_advice){.kind = kind, .reading = &hp_reading_park, .number = 2};
        for (int s = 0; s < HP_SHAPE_COUNT; s++) {
            check_true(!picture_says(f, "joints", (hp_shape)s, "do not join"), "kind %d",
                       (int)kind);
            check_int(picture_says(f, "joints", (hp_shape)s, "To be tried: it is not proven yet."),
                      tried);
            check_int(picture_says(f, "joints", (hp_shape)s,
                                   "The likeliest so far: it is not proven yet."),
                      !tried && !found);
        }
    }
    f->advice.number = 3; /* another than that which is drawn */
    assert_true(picture_says(f, "joints", HP_SHAPE_PHONE, "do not join by this picture"));
    f->sample.labels.axes_known = true;
    f->advice = (hp_advice){.kind = HP_ADVICE_TRY, .number = 2};
    assert_false(picture_says(f, "joints", HP_SHAPE_PHONE, "not proven"));
    f->advice = before;
}

/* On a wall and on paper cautions are not the first thing to go. */
static void maps_keep_their_cautions_in_every_shape(void **state)
{
    fixture *f = *state;
    EACH_SVG(f, picture, shape, svg, {
        if (strcmp(picture->name, "map") == 0 || strcmp(picture->name, "spread-map") == 0)
            check_true(strstr(all_text(svg), "licensed people come first") != NULL,
                       "%s for %s has no cautions", picture->name, hp_shape_name(shape));
        if (strcmp(picture->name, "waveforms") == 0)
            check_true(strstr(all_text(svg), "A dark bar in the code is a 1.") != NULL,
                       "%s for %s loses its last words", picture->name, hp_shape_name(shape));
    });
}

static void pages_have_the_size_of_their_shape(void **state)
{
    fixture *f = *state;
    EACH_SVG(f, picture, shape, svg, {
        double ratio = page_height(svg) / page_width(svg);
        if (shape == HP_SHAPE_WALL)
            check_close(ratio, 9.0 / 16.0, 1e-9, "16 to 9");
        if (shape == HP_SHAPE_A4)
            check_close(ratio, 297.0 / 210.0, 1e-3, "ISO 216, whole units");
        if (shape == HP_SHAPE_PHONE)
            check_true(ratio > 0.8, "%s lies on its side", picture->name);
    });
}

static unsigned big_endian(const char *bytes)
{
    const unsigned char *b = (const unsigned char *)bytes;
    return (unsigned)b[0] << 24 | (unsigned)b[1] << 16 | (unsigned)b[2] << 8 | b[3];
}

static void every_png_is_whole_and_of_the_svgs_shape(void **state)
{
    fixture *f = *state;
    EACH_SVG(f, picture, shape, svg, {
        size_t size;
        char *png = draw_bytes(f, picture, HP_PICTURE_PNG, shape, &size);
        assert_true(size > 5000);
        assert_memory_equal(png, "\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16);
        assert_memory_equal(png + size - 8, "IEND\xae\x42\x60\x82", 8);
        check_int(big_endian(png + 16), HP_PICTURE_PNG_SCALE * (long)page_width(svg));
        /* The page's height is rounded to whole units in the SVG and to whole pixels here. */
        check_close(big_endian(png + 20), HP_PICTURE_PNG_SCALE * page_height(svg),
                    0.5 * HP_PICTURE_PNG_SCALE + 0.5, "rounding of the height, twice");
        free(png);
    });
}

static void every_pdf_is_whole(void **state)
{
    fixture *f = *state;
    for (int k = 0; k < hp_picture_count; k++) {
        size_t size;
        char *pdf = draw_bytes(f, hp_pictures[k], HP_PICTURE_PDF, HP_SHAPE_A4, &size);
        assert_true(size > 5000);
        assert_memory_equal(pdf, "%PDF-1.", 7);
        assert_memory_equal(pdf + size - 6, "%%EOF\n", 6);
        free(pdf);
    }
}

#define PICTURES_MAX 40

static void the_same_input_gives_the_same_bytes(void **state)
{
    fixture *f = *state;
    char *first[PICTURES_MAX][HP_PICTURE_FORMAT_COUNT];
    size_t size[PICTURES_MAX][HP_PICTURE_FORMAT_COUNT], again;
    assert_true(hp_picture_count <= PICTURES_MAX);
    for (int k = 0; k < hp_picture_count; k++)
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++)
            first[k][m] = draw_bytes(f, hp_pictures[k], (hp_picture_format)m,
                                     (hp_shape)(k % HP_SHAPE_COUNT), &size[k][m]);
    /* A date in whole seconds must not hide behind a fast machine. */
    sleep(1);
    for (int k = 0; k < hp_picture_count; k++) {
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++) {
            char *bytes = draw_bytes(f, hp_pictures[k], (hp_picture_format)m,
                                     (hp_shape)(k % HP_SHAPE_COUNT), &again);
            check_int((long)again, (long)size[k][m]);
            check_true(memcmp(bytes, first[k][m], again) == 0, "%s.%s differs the second time",
                       hp_pictures[k]->name, hp_picture_format_name((hp_picture_format)m));
            free(bytes);
            free(first[k][m]);
        }
    }
    check_int(count_files(f->folder), hp_picture_count * HP_PICTURE_FORMAT_COUNT);
}

/* In memory as in a file. */
static void a_picture_in_memory_is_the_same(void **state)
{
    fixture *f = *state;
    for (int k = 0; k < hp_picture_count; k++) {
        char *bytes = NULL, *file = draw_svg(f, hp_pictures[k]->name);
        size_t size = 0;
        hp_picture_target to = {.bytes = &bytes, .size = &size};
        check_int(hp_picture_make(hp_pictures[k], &f->subject, &to, NULL), HP_OK);
        check_int((long)size, (long)strlen(file));
        assert_memory_equal(bytes, file, size);
        free(bytes);
        free(file);
    }
}

static void a_subject_without_what_is_shown_is_refused(void **state)
{
    fixture *f = *state;
    hp_picture_subject bare = {.drive = &f->sample.drive, .labels = &f->sample.labels};
    hp_picture_target to = {.path = "never-written.svg"};
    for (int k = 0; k < hp_picture_count; k++) {
        hp_error err = hp_error_none();
        bool lead_angles = strcmp(hp_pictures[k]->name, "lead-angles") == 0;
        check_true(hp_picture_can(hp_pictures[k], &f->subject), "%s", hp_pictures[k]->name);
        if (lead_angles) /* geometry alone */
            continue;
        check_true(!hp_picture_can(hp_pictures[k], &bare), "%s", hp_pictures[k]->name);
        check_int(hp_picture_make(hp_pictures[k], &bare, &to, &err), HP_FAIL_INPUT);
        check_text_contains(err.text, hp_pictures[k]->name);
    }
    to.shape = HP_SHAPE_COUNT;
    check_int(hp_picture_make(hp_picture_find("map"), &f->subject, &to, NULL), HP_FAIL_INPUT);
    assert_int_equal(access("never-written.svg", F_OK), -1);
    assert_null(hp_picture_find("none"));
}

static void every_picture_answers_a_question_and_has_a_maker(void **state)
{
    (void)state;
    unsigned makers = 0;
    for (int k = 0; k < hp_picture_count; k++) {
        const char *question = hp_pictures[k]->question;
        check_true(question[0] && question[strlen(question) - 1] == '?', "%s: %s",
                   hp_pictures[k]->name, question);
        assert_true(hp_pictures[k]->makers != 0);
        makers |= hp_pictures[k]->makers;
        for (int j = 0; j < k; j++)
            assert_string_not_equal(hp_pictures[j]->name, hp_pictures[k]->name);
    }
    check_int((long)makers, HP_MAKER_SURVEY | HP_MAKER_SPREAD | HP_MAKER_SPIN | HP_MAKER_EXPLAIN |
                                HP_MAKER_NEXT | HP_MAKER_FIT | HP_MAKER_CONTROLS);
}

/* The gallery shows every picture, and its list tells what each is for. */
static void the_gallery_lists_every_picture(void **state)
{
    (void)state;
    size_t size;
    char *list = read_file(HP_SCENARIO_DIR "/../plots/README.md", &size);
    for (int k = 0; k < hp_picture_count; k++) {
        char name[80];
        snprintf(name, sizeof name, "`barrow-%s", hp_pictures[k]->name);
        check_text_contains(list, name);
        check_text_contains(list, hp_pictures[k]->question);
    }
    free(list);
}

/* Thirteen questions of users, each with a command, where to look and what stands there. */
static void thirteen_questions_are_answered(void **state)
{
    (void)state;
    size_t size;
    char *text = read_file(HP_SCENARIO_DIR "/../docs/questions.md", &size);
    int count = 0, pictures = 0;
    for (char *at = strstr(text, "\n## "), *next; at; at = next) {
        next = strstr(at + 1, "\n## ");
        char *section = strndup(at, next ? (size_t)(next - at) : strlen(at));
        count++;
        check_text_contains(section, "?");
        check_text_contains(section, "`hubphase ");
        check_text_contains(section, "*Look here:*");
        check_text_contains(section, "*Answer:*");
        pictures += strstr(section, "](../plots/") != NULL;
        free(section);
    }
    check_int(count, 13);
    check_true(pictures >= 10, "%d pictures", pictures);
    free(text);
}

static void a_trace_without_time_is_refused(void **state)
{
    fixture *f = *state;
    hp_error err = hp_error_none();
    size_t count = f->trace.count;
    const hp_picture *waveforms = hp_picture_find("waveforms");
    hp_picture_target to = {.path = "never-written.svg"};
    f->trace.count = 1;
    check_int(hp_picture_make(waveforms, &f->subject, &to, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "1 samples");
    f->trace.count = count;
    f->trace.sample[count - 1].time = f->trace.sample[0].time;
    err = hp_error_none();
    check_int(hp_picture_make(waveforms, &f->subject, &to, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "must advance");
    check_int(count_files(f->folder), 0);
}

/* The dials show torque per ampere, so that no current flows must be said. */
static void lead_pictures_mention_an_open_lead(void **state)
{
    fixture *f = *state;
    static const char *const lead[] = {"lead-angles", "lead-angle"};
    for (size_t k = 0; k < 2; k++) {
        f->sample.drive.motor.lead_open[HP_V] = false;
        char *good = draw_svg(f, lead[k]);
        check_true(!strstr(all_text(good), "open"), "%s of a good motor", lead[k]);
        if (k == 0)
            check_text_contains(all_text(good), "Rough: all arcs on one side");
        f->sample.drive.motor.lead_open[HP_V] = true;
        char *open = draw_svg(f, lead[k]);
        check_text_contains(all_text(open), "the green phase lead is open");
        check_text_contains(all_text(open), "no current: a lead is open");
        check_true(!strstr(all_text(open), "Rough: all arcs"), "true of good parts only");
        check_svg(lead[k], open);
        free(good);
        free(open);
    }
}

/* ---- words that follow from the results ------------------------------------------------------ */

/* By what was simulated, not by what is set: a limit that is never reached bends no curve. */
static void kinks_are_named_by_what_limits(void **state)
{
    static const struct {
        bool battery, phase;
        const char *words[2]; /* as they stand on a line of the picture; NULL: no word of kinks */
    } row[] = {{false, false, {NULL, NULL}},
               {true, false, {"The kink is where", "battery's current."}},
               {false, true, {"The kink is where", "current of the phases."}},
               {true, true, {"two kinks", "the current of the phases."}}};
    fixture *f = *state;
    static hp_drive drive;
    static hp_fit fit;
    drive = *f->subject.drive;
    f->subject.drive = &drive;
    f->subject.fit = &fit;
    for (size_t n = 0; n < sizeof row / sizeof row[0]; n++) {
        fit = f->fit;
        drive.controller.battery_limit_a = row[n].battery ? 12.0 : 0.0;
        for (int k = 0; k < HP_FIT_POINTS; k++) {
            hp_fit_point *p = &fit.curve[HP_FIT_CHARGE_FULL].point[k];
            if (row[n].battery && p->battery_a > 12.0) {
                p->battery_a = 12.0;
                p->limited = true;
            }
            if (row[n].phase && k + 5 > HP_FIT_POINTS) {
                p->battery_a = 4.0;
                p->limited = true;
            }
        }
        char *svg = draw_svg(f, "fit-curves");
        check_true(row[n].words[0] || !strstr(all_text(svg), "kink"), "row %zu: a kink of nothing",
                   n);
        for (int w = 0; w < 2 && row[n].words[w]; w++)
            check_text_contains(all_text(svg), row[n].words[w]);
        free(svg);
    }
}

/* The words of the fit call the end of the battery empty only where the battery ends it. */
static void an_end_by_the_controller_is_called_so(void **state)
{
    fixture *f = *state;
    f->vehicle.pack.empty_v = 32.0;
    char *svg = draw_svg(f, "fit-curves");
    check_text_contains(all_text(svg), "battery empty, 32 V");
    free(svg);
    f->vehicle.pack.empty_v = 30.0;
    svg = draw_svg(f, "fit-curves");
    check_text_contains(all_text(svg), "cut-out, 32 V");
    free(svg);
}

static void the_map_says_which_part_is_faulty_when_nothing_is_correct(void **state)
{
    fixture *f = *state;
    char *svg = draw_svg(f, "map");
    check_true(!strstr(all_text(svg), "No wiring is correct"), "some wirings are");
    free(svg);
    for (int n = 0; n < HP_WIRING_COUNT; n++)
        if (f->sample.survey.judgement[n].verdict == HP_VERDICT_CORRECT)
            f->sample.survey.judgement[n].verdict = HP_VERDICT_ROUGH;
    f->sample.drive.sensors.fault[HP_W] = HP_SENSOR_STUCK_LOW;
    svg = draw_svg(f, "map");
    check_text_contains(all_text(svg), "the Hall sensor on the blue lead is stuck at 0");
    free(svg);
    f->sample.drive.sensors.fault[HP_W] = HP_SENSOR_SOUND;
    f->sample.drive.sensors.spacing_60 = true;
    svg = draw_svg(f, "map");
    check_text_contains(all_text(svg), "codes that the controller's table lacks");
    free(svg);
}

/* "The current gives it away" only where it does. */
static void the_map_trusts_the_current_only_where_it_tells(void **state)
{
    fixture *f = *state;
    for (int low = 0; low < 2; low++) {
        for (int n = 0; n < HP_WIRING_COUNT; n++) {
            hp_judgement *j = &f->sample.survey.judgement[n];
            j->mean.battery_current = j->verdict == HP_VERDICT_ROUGH ? (low ? 0.22 : 4.0) : 0.2;
        }
        char *svg = draw_svg(f, "map");
        bool trusts = strstr(all_text(svg), "gives it away: 20 to 20 times") != NULL;
        check_true(trusts == !low, "rough at %s current", low ? "the same" : "much");
        free(svg);
    }
}

static void behind_a_clutch_reverse_does_not_turn_the_wheel(void **state)
{
    fixture *f = *state;
    char *svg = draw_svg(f, "map");
    check_text_contains(all_text(svg), "runs smoothly, but backward");
    free(svg);
    f->sample.drive.stand.clutch = true;
    svg = draw_svg(f, "map");
    check_text_contains(all_text(svg), "the wheel does not turn");
    check_true(!strstr(all_text(svg), "runs smoothly, but backward"), "behind a clutch");
    free(svg);
}

static void a_rough_wiring_below_the_line_is_explained(void **state)
{
    fixture *f = *state;
    char *svg = draw_svg(f, "classes");
    check_true(!strstr(all_text(svg), "though below the line"), "none lies there");
    free(svg);
    f->sample.survey.judgement[8].excess = 1.2; /* wiring 9 is rough, starts 5 of 7 */
    svg = draw_svg(f, "classes");
    check_text_contains(all_text(svg), "Rough, though below the line: 9. It draws little");
    free(svg);
}

/* Scales begin at zero and are those of the largest current of the machine, so that a small current
 * looks small; then it is drawn enlarged as well. */
static void waveforms_share_the_scale_of_the_machine(void **state)
{
    fixture *f = *state;
    char *svg = draw_svg(f, "waveforms");
    check_true(!strstr(all_text(svg), "enlarged"), "3 A of 12.5 A is no small share");
    check_text_contains(all_text(svg), "Start position 17\u00b0");
    free(svg);
    f->sample.survey.judgement[20].mean.phase_peak = 60.0;
    svg = draw_svg(f, "waveforms");
    check_text_contains(all_text(svg), "enlarged 20 times");
    static svg_text text[TEXTS];
    size_t count = svg_texts(svg, text, TEXTS);
    assert_true(has_word(text, count, "50") || has_word(text, count, "60"));
    free(svg);
}

static void a_run_that_stands_says_so(void **state)
{
    fixture *f = *state;
    char *svg = draw_svg(f, "waveforms");
    check_true(!strstr(all_text(svg), "does not turn in this run"), "it turns");
    free(svg);
    for (size_t k = 0; k < f->trace.count; k++)
        f->trace.sample[k].theta = 0.3;
    f->subject.judgement = &f->sample.survey.judgement[8]; /* rough, starts 5 of 7 */
    svg = draw_svg(f, "waveforms");
    check_text_contains(all_text(svg), "does not turn in this run");
    free(svg);
}

/* What carries no current does not grow hot. */
static void stalled_without_current_stays_cold(void **state)
{
    fixture *f = *state;
    static const struct {
        double first, rest;
        const char *words;
    } c[] = {{9.0, 9.0, "does not turn, and grows hot"},
             {0.0, 9.0, "does not turn, and may grow hot"},
             {0.0, 0.0, "does not turn: no current flows"}};
    for (size_t k = 0; k < sizeof c / sizeof c[0]; k++) {
        bool first = true;
        for (int n = 0; n < HP_WIRING_COUNT; n++) {
            hp_judgement *j = &f->sample.survey.judgement[n];
            if (j->verdict != HP_VERDICT_STALLED)
                continue;
            j->mean.battery_current = first ? c[k].first : c[k].rest;
            first = false;
        }
        char *svg = draw_svg(f, "map");
        check_text_contains(all_text(svg), c[k].words);
        free(svg);
    }
}

/* The band is that of the wiring that runs smoothly the same way round. */
static void a_backward_run_is_held_against_reverse(void **state)
{
    fixture *f = *state;
    hp_judgement back = f->sample.survey.judgement[8];
    char *svg = draw_svg(f, "waveforms");
    check_text_contains(all_text(svg), "what wiring 1 (correct) does");
    free(svg);
    back.direction = HP_DIRECTION_BACKWARD;
    f->subject.judgement = &back;
    svg = draw_svg(f, "waveforms");
    check_text_contains(all_text(svg), "what wiring 8 (reverse) does");
    free(svg);
}

/* Every code of the three turns can be read, figure by figure: 19 stretches of three. */
static void every_code_of_three_turns_is_shown(void **state)
{
    fixture *f = *state;
    static svg_text text[TEXTS];
    EACH_SVG(f, picture, shape, svg, {
        if (strcmp(picture->name, "waveforms") == 0) {
            size_t count = svg_texts(svg, text, TEXTS);
            int figures = 0;
            for (size_t k = 0; k < count; k++)
                figures += strcmp(text[k].text, "1") == 0 || strcmp(text[k].text, "0") == 0;
            check_true(figures >= 3 * 18, "%d figures for %s", figures, hp_shape_name(shape));
        }
    });
}

static void every_step_that_is_connected_has_its_drawing(void **state)
{
    fixture *f = *state;
    const hp_picture *connect = hp_picture_find("connect");
    for (int kind = 0; kind < KIND_LEARN; kind++) {
        f->advice.reading = kind_reading(kind);
        for (int s = 0; s < HP_SHAPE_COUNT; s++) {
            size_t size;
            char *svg = draw_bytes(f, connect, HP_PICTURE_SVG, (hp_shape)s, &size);
            check_svg(kind_reading(kind)->title, svg);
            check_letters("connect", (hp_shape)s, svg);
            check_text_contains(all_text(svg), "Safe now: Battery off and unplugged.");
            bool apart = hp_card_safety(&f->advice) == HP_SAFE_APART;
            check_int(strstr(all_text(svg), "Motor unplugged, too.") != NULL, apart);
            free(svg);
        }
    }
    f->advice = (hp_advice){.kind = HP_ADVICE_TRY,
                            .number = 12,
                            .wiring = hp_wiring_from_number(12),
                            .limited = true,
                            .limit_a = 1.8};
    char *svg = draw_svg(f, "connect");
    check_text_contains(all_text(svg), "first power, wiring 12");
    check_text_contains(all_text(svg), "through a limit of 1.8 A"); /* as the card says */
    check_text_contains(all_text(svg), "fuse, meter");
    free(svg);
    hp_plan_params plan = hp_plan_params_default();
    /* The meter is one that the card calls for: a hand meter only where its socket bears it. */
    const hp_drive *before = f->subject.drive;
    hp_drive unlimited = *before;
    unlimited.controller.phase_limit_a = unlimited.controller.battery_limit_a = 0.0;
    f->subject.drive = &unlimited;
    f->subject.plan = &plan;
    for (int k = 0; k < 2; k++) {
        plan.throttle = k ? 0.1 : 0.9;
        bool bears = hp_hand_meter_bears(f->subject.drive, plan.throttle, NULL);
        check_int(bears, k);
        svg = draw_svg(f, "connect");
        check_int(strstr(all_text(svg), "10 A jack") != NULL, bears);
        check_int(strstr(all_text(svg), "no hand meter") != NULL, !bears);
        free(svg);
    }
    f->subject.drive = before;
    plan.ammeter = false; /* none is drawn where there is none */
    f->advice.limited = false;
    f->subject.plan = &plan;
    svg = draw_svg(f, "connect");
    check_true(!strstr(all_text(svg), "eter"), "a meter: %s", all_text(svg));
    check_true(!strstr(all_text(svg), "limit of"), "a limit: %s", all_text(svg));
    free(svg);
    plan.sensor_v_min = 7.0; /* sensors that want more cells: as many as the card says */
    f->advice = (hp_advice){.kind = HP_ADVICE_READ, .reading = &hp_reading_hand_turn};
    svg = draw_svg(f, "connect");
    check_text_contains(all_text(svg), "5 fresh alkaline AA cells, or 6 rechargeable ones");
    free(svg);
    f->subject.plan = NULL;
    f->advice.kind = HP_ADVICE_GIVE_UP;
    assert_false(hp_picture_can(connect, &f->subject));
}

/* Runs are of the kinds that they stand for, and of one length. */
static void examples_are_run_of_every_kind(void **state)
{
    (void)state;
    hp_drive drive = hp_drive_default();
    hp_survey_options options = hp_survey_options_default();
    hp_survey survey = {0};
    hp_example example[HP_EXAMPLE_COUNT];
    hp_error err = hp_error_none();
    options.starts = 1;
    assert_int_equal(hp_survey_run(&drive, &options, &survey, &err), HP_OK);
    assert_int_equal(hp_examples_run(&drive, &options.run, &survey, 22, example, &err), HP_OK);
    check_int(example[HP_EXAMPLE_SMOOTH].number, 22);
    for (int k = 0; k < HP_EXAMPLE_COUNT; k++) {
        const hp_trace *trace = &example[k].trace;
        if (k == HP_EXAMPLE_OTHER) { /* the default machine has none */
            check_int(example[k].number, 0);
            continue;
        }
        check_true(example[k].number > 0 && trace->count > 100, "%s: %zu samples",
                   hp_example_name((hp_example_kind)k), trace->count);
        check_close(trace->sample[trace->count - 1].time - trace->sample[0].time,
                    example[0].trace.until - example[0].trace.from, 1e-3, "one sample of 1600");
    }
    hp_examples_free(example);
    hp_survey_free(&survey);
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
    EACH_SVG(f, picture, shape, svg, {
        size_t size;
        check_svg(picture->name, svg);
        free(draw_bytes(f, picture, HP_PICTURE_PNG, shape, &size));
        free(draw_bytes(f, picture, HP_PICTURE_PDF, shape, &size));
    });
    /* In the title, where there is room, the text comes back whole, in a line of its own. */
    char *svg = draw_svg(f, "map");
    size_t count = svg_texts(svg, text, TEXTS);
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
        EACH_SVG(f, picture, shape, svg, {
            check_svg(picture->name, svg);
            check_letters(picture->name, shape, svg);
        });
    }
}

static void numbers_without_bound_leave_no_odd_ones(void **state)
{
    fixture *f = *state;
    static const double value[] = {INFINITY, NAN, 0.0, -1.0, 1e300, 1e-300};
    for (size_t v = 0; v < sizeof value / sizeof value[0]; v++) {
        for (int n = 0; n < HP_WIRING_COUNT; n++) {
            hp_judgement *j = &f->sample.survey.judgement[n];
            j->ripple = value[v];
            j->excess = value[v];
            j->mean.battery_current = value[v];
            j->mean.phase_peak = value[v];
            j->mean.torque_max = value[v];
            j->mean.wheel_speed = value[v];
            j->mean.speed = value[v];
        }
        EACH_SVG(f, picture, shape, svg, check_svg(picture->name, svg));
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
    EACH_SVG(f, picture, shape, svg, check_svg(picture->name, svg));
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        for (int n = 0; n < HP_WIRING_COUNT; n++)
            f->sample.survey.judgement[n].verdict = (hp_verdict)v;
        EACH_SVG(f, picture, shape, svg, check_svg(hp_verdict_name((hp_verdict)v), svg));
    }
}

/* 60-degree sensors on a 120-degree table: two codes that the table lacks. */
static void codes_that_the_table_lacks_are_said(void **state)
{
    fixture *f = *state;
    f->sample.drive.sensors.spacing_60 = true;
    char *svg = draw_svg(f, "lead-angle");
    check_svg("lead-angle", svg);
    check_text_contains(all_text(svg), "nothing driven");
    free(svg);
    svg = draw_svg(f, "six-steps");
    check_svg("six-steps", svg);
    check_text_contains(all_text(svg), "all leads off");
    free(svg);
    svg = draw_svg(f, "lead-angles");
    check_text_contains(all_text(svg), "Fewer than six arcs");
    free(svg);
    /* No supply: one code all the way round. */
    f->sample.drive.sensors.no_supply = true;
    EACH_SVG(f, picture, shape, svg_, check_svg(picture->name, svg_));
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
    const struct CMUnitTest tests[] = {
        WITH_FIXTURE(every_svg_is_xml_with_its_words_as_text_clear_of_each_other),
        WITH_FIXTURE(no_letter_is_too_small_for_its_shape),
        WITH_FIXTURE(nothing_of_a_usual_machine_is_cut),
        WITH_FIXTURE(maps_keep_their_cautions_in_every_shape),
        WITH_FIXTURE(pages_have_the_size_of_their_shape),
        WITH_FIXTURE(every_png_is_whole_and_of_the_svgs_shape),
        WITH_FIXTURE(every_pdf_is_whole),
        WITH_FIXTURE(the_same_input_gives_the_same_bytes),
        WITH_FIXTURE(a_picture_in_memory_is_the_same),
        WITH_FIXTURE(a_subject_without_what_is_shown_is_refused),
        cmocka_unit_test(every_picture_answers_a_question_and_has_a_maker),
        cmocka_unit_test(the_gallery_lists_every_picture),
        cmocka_unit_test(thirteen_questions_are_answered),
        WITH_FIXTURE(a_trace_without_time_is_refused),
        WITH_FIXTURE(lead_pictures_mention_an_open_lead),
        WITH_FIXTURE(kinks_are_named_by_what_limits),
        WITH_FIXTURE(an_end_by_the_controller_is_called_so),
        WITH_FIXTURE(the_map_says_which_part_is_faulty_when_nothing_is_correct),
        WITH_FIXTURE(the_map_trusts_the_current_only_where_it_tells),
        WITH_FIXTURE(behind_a_clutch_reverse_does_not_turn_the_wheel),
        WITH_FIXTURE(a_rough_wiring_below_the_line_is_explained),
        WITH_FIXTURE(waveforms_share_the_scale_of_the_machine),
        WITH_FIXTURE(a_run_that_stands_says_so),
        WITH_FIXTURE(stalled_without_current_stays_cold),
        WITH_FIXTURE(a_backward_run_is_held_against_reverse),
        WITH_FIXTURE(every_code_of_three_turns_is_shown),
        WITH_FIXTURE(every_step_that_is_connected_has_its_drawing),
        WITH_FIXTURE(names_that_are_only_names_are_called_so),
        WITH_FIXTURE(a_wiring_that_is_advised_is_not_forbidden_by_its_picture),
        cmocka_unit_test(examples_are_run_of_every_kind),
        WITH_FIXTURE(hostile_labels_stay_text),
        WITH_FIXTURE(long_foreign_and_empty_labels_keep_their_places),
        WITH_FIXTURE(numbers_without_bound_leave_no_odd_ones),
        WITH_FIXTURE(every_verdict_and_direction_can_be_drawn),
        WITH_FIXTURE(codes_that_the_table_lacks_are_said),
        cmocka_unit_test(the_checker_itself_can_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
