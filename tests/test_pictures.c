/*
 * The pictures, from made-up data: whole files of the right kind, text that is text, stays on the
 * page and clear of other text, whatever labels and figures are.
 */
#include "picture_fixture.h"

static void every_svg_is_xml_with_its_words_as_text_clear_of_each_other(void **state)
{
    fixture *f = *state;
    static svg_text text[TEXTS];
    for (size_t k = 0; k < PICTURES; k++) {
        size_t size;
        char *svg = draw_bytes(f, k, HP_PICTURE_SVG, &size);
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
        char *svg = draw_bytes(f, k, HP_PICTURE_SVG, &svg_size);
        char *png = draw_bytes(f, k, HP_PICTURE_PNG, &size);
        assert_true(size > 5000);
        assert_memory_equal(png, "\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16);
        assert_memory_equal(png + size - 8, "IEND\xae\x42\x60\x82", 8);
        check_int(big_endian(png + 16), HP_PICTURE_PNG_SCALE * (long)HP_PICTURE_WIDTH);
        /* The page's height is rounded to whole units in the SVG and to whole pixels here. */
        check_close(big_endian(png + 20), HP_PICTURE_PNG_SCALE * page_height(svg),
                    0.5 * HP_PICTURE_PNG_SCALE + 0.5, "rounding of the height, twice");
        free(svg);
        free(png);
    }
}

static void every_pdf_is_whole(void **state)
{
    fixture *f = *state;
    for (size_t k = 0; k < PICTURES; k++) {
        size_t size;
        char *pdf = draw_bytes(f, k, HP_PICTURE_PDF, &size);
        assert_true(size > 5000);
        assert_memory_equal(pdf, "%PDF-1.", 7);
        assert_memory_equal(pdf + size - 6, "%%EOF\n", 6);
        free(pdf);
    }
}

static void the_same_input_gives_the_same_bytes(void **state)
{
    fixture *f = *state;
    char *first[PICTURES][HP_PICTURE_FORMAT_COUNT];
    size_t size[PICTURES][HP_PICTURE_FORMAT_COUNT], again;
    for (size_t k = 0; k < PICTURES; k++)
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++)
            first[k][m] = draw_bytes(f, k, (hp_picture_format)m, &size[k][m]);
    /* A date in whole seconds must not hide behind a fast machine. */
    sleep(1);
    for (size_t k = 0; k < PICTURES; k++) {
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++) {
            char *bytes = draw_bytes(f, k, (hp_picture_format)m, &again);
            check_int((long)again, (long)size[k][m]);
            check_true(memcmp(bytes, first[k][m], again) == 0, "%s.%s differs the second time",
                       pictures[k].name, hp_picture_format_name((hp_picture_format)m));
            free(bytes);
            free(first[k][m]);
        }
    }
    check_int(count_files(f->folder), (int)PICTURES * HP_PICTURE_FORMAT_COUNT);
}

static void a_trace_without_time_is_refused(void **state)
{
    fixture *f = *state;
    hp_error err = hp_error_none();
    size_t count = f->trace.count;
    char path[128];
    picture_path(f, 1, "svg", path);
    f->trace.count = 1;
    check_int(draw_waveforms(f, path, HP_PICTURE_SVG, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "1 samples");
    f->trace.count = count;
    f->trace.sample[count - 1].time = f->trace.sample[0].time;
    err = hp_error_none();
    check_int(draw_waveforms(f, path, HP_PICTURE_SVG, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "must advance");
    check_int(count_files(f->folder), 0);
}

/* The dials show torque per ampere, so that no current flows must be said. */
static void lead_pictures_mention_an_open_lead(void **state)
{
    fixture *f = *state;
    const size_t lead[] = {3, 5}; /* of pictures[] */
    size_t size;
    for (size_t k = 0; k < 2; k++) {
        f->sample.drive.motor.lead_open[HP_V] = false;
        char *sound = draw_bytes(f, lead[k], HP_PICTURE_SVG, &size);
        check_true(!strstr(sound, "lead is open"), "%s of a sound motor", pictures[lead[k]].name);
        f->sample.drive.motor.lead_open[HP_V] = true;
        char *open = draw_bytes(f, lead[k], HP_PICTURE_SVG, &size);
        check_text_contains(open, "one phase lead is open");
        check_svg(pictures[lead[k]].name, open);
        free(sound);
        free(open);
    }
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
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++) {
            size_t size;
            char *bytes = draw_bytes(f, k, (hp_picture_format)m, &size);
            if (m == HP_PICTURE_SVG)
                check_svg(pictures[k].name, bytes);
            free(bytes);
        }
    }
    /* In the title, where there is room, the text comes back whole, in a line of its own. */
    size_t size;
    char *svg = draw_bytes(f, 0, HP_PICTURE_SVG, &size);
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
            char *svg = draw_bytes(f, k, HP_PICTURE_SVG, &size);
            check_svg(odd[o], svg);
            free(svg);
        }
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
            char *svg = draw_bytes(f, k, HP_PICTURE_SVG, &size);
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
        char *svg = draw_bytes(f, k, HP_PICTURE_SVG, &size);
        check_svg(pictures[k].name, svg);
        free(svg);
    }
    for (int v = 0; v < HP_VERDICT_COUNT; v++) {
        for (int n = 0; n < HP_WIRING_COUNT; n++)
            f->sample.survey.judgement[n].verdict = (hp_verdict)v;
        size_t size;
        char *svg = draw_bytes(f, 2, HP_PICTURE_SVG, &size);
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
    char *svg = draw_bytes(f, 5, HP_PICTURE_SVG, &size);
    check_svg("wiring", svg);
    size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
    assert_true(has_word(text, count, "nothing driven"));
    free(svg);
    svg = draw_bytes(f, 6, HP_PICTURE_SVG, &size);
    check_svg("steps", svg);
    count = svg_texts(svg, page_height(svg), text, TEXTS);
    assert_true(has_word(text, count, "all leads off"));
    free(svg);
    /* No supply: one code all the way round. */
    f->sample.drive.sensors.no_supply = true;
    for (size_t k = 0; k < PICTURES; k++) {
        svg = draw_bytes(f, k, HP_PICTURE_SVG, &size);
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
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_checker_itself_can_fail),
        WITH_FIXTURE(every_svg_is_xml_with_its_words_as_text_clear_of_each_other),
        WITH_FIXTURE(every_png_is_whole_and_of_the_svgs_shape),
        WITH_FIXTURE(every_pdf_is_whole),
        WITH_FIXTURE(the_same_input_gives_the_same_bytes),
        WITH_FIXTURE(a_trace_without_time_is_refused),
        WITH_FIXTURE(hostile_labels_stay_text),
        WITH_FIXTURE(lead_pictures_mention_an_open_lead),
        WITH_FIXTURE(long_foreign_and_empty_labels_keep_their_places),
        WITH_FIXTURE(numbers_without_bound_stand_at_the_edge),
        WITH_FIXTURE(every_verdict_and_direction_can_be_drawn),
        WITH_FIXTURE(codes_that_the_table_lacks_are_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
