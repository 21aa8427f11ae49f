/* The pictures of a spread: their words, text clear of other text, odd bands, files that cannot be
 * written. */
#include "picture_fixture.h"
#include "spread_sample.h"

#include "hubphase/report/pictures.h"

typedef hp_result (*spread_picture)(const char *path, hp_picture_format format,
                                    const hp_spread *spread, const hp_labels *labels,
                                    hp_error *err);

static const struct {
    const char *name;
    spread_picture draw;
    const char *words[12];
} drawn[] = {
    {"spread-map",
     hp_picture_spread_map_draw,
     {"How sure is each verdict: Allotment barrow", "correct", "reverse", "rough", "stalled",
      "undecided", "all", "75 %", "75 % late", "yellow", "Cautions"}},
    {"spread-bands",
     hp_picture_spread_bands_draw,
     {"How far the figures spread: Allotment barrow", "correct", "reverse", "rough", "stalled",
      "Rotor speed, rev/min", "Battery current, A", "Phase current rms, A", "Torque ripple",
      "Current excess", "\u00d73", "early \u00d74"}},
};
#define DRAWN (sizeof drawn / sizeof drawn[0])

static char *draw(const fixture *f, size_t picture, const hp_spread *spread,
                  hp_picture_format format, size_t *size)
{
    char path[128];
    hp_error err = hp_error_none();
    snprintf(path, sizeof path, "%s/%s.%s", f->folder, drawn[picture].name,
             hp_picture_format_name(format));
    hp_result result = drawn[picture].draw(path, format, spread, &f->sample.labels, &err);
    check_true(result == HP_OK, "%s: %s", path, err.text);
    return read_file(path, size);
}

static void svg_holds_its_words_clear_of_each_other(void **state)
{
    const fixture *f = *state;
    static svg_text text[TEXTS];
    hp_spread spread;
    size_t size;
    spread_sample_init(&spread);
    for (size_t k = 0; k < DRAWN; k++) {
        char *svg = draw(f, k, &spread, HP_PICTURE_SVG, &size);
        check_svg(drawn[k].name, svg);
        size_t count = svg_texts(svg, page_height(svg), text, TEXTS);
        for (int w = 0; w < 12 && drawn[k].words[w]; w++)
            check_true(has_word(text, count, drawn[k].words[w]), "%s lacks the text \"%s\"",
                       drawn[k].name, drawn[k].words[w]);
        free(svg);
    }
}

static void other_formats_are_whole_and_the_same_again(void **state)
{
    const fixture *f = *state;
    hp_spread spread;
    spread_sample_init(&spread);
    for (size_t k = 0; k < DRAWN; k++) {
        for (int m = 0; m < HP_PICTURE_FORMAT_COUNT; m++) {
            size_t size, again;
            char *first = draw(f, k, &spread, (hp_picture_format)m, &size);
            char *second = draw(f, k, &spread, (hp_picture_format)m, &again);
            assert_true(size > 5000 && size == again);
            check_true(memcmp(first, second, size) == 0, "%s differs the second time",
                       drawn[k].name);
            free(first);
            free(second);
        }
    }
}

/* Bands without bound, of no width, of nothing, and beyond any scale. */
static void odd_bands_leave_no_odd_numbers(void **state)
{
    const fixture *f = *state;
    static const hp_spread_band odd[] = {
        {INFINITY, INFINITY, INFINITY}, {NAN, NAN, NAN},      {0.0, 0.0, 0.0},
        {-5.0, 0.0, INFINITY},          {1e-300, 1.0, 1e300}, {7.0, 7.0, 7.0}};
    for (size_t b = 0; b < sizeof odd / sizeof odd[0]; b++) {
        for (int every = 0; every < 2; every++) {
            hp_spread spread;
            size_t size;
            spread_sample_init(&spread);
            for (int g = 0; g < (every ? spread.groups : 1); g++)
                for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
                    spread.group[g].band[k] = odd[b];
            char *svg = draw(f, 1, &spread, HP_PICTURE_SVG, &size);
            check_svg("odd bands", svg);
            free(svg);
        }
    }
}

static void a_single_outcome_is_drawn(void **state)
{
    const fixture *f = *state;
    hp_spread spread;
    size_t size;
    for (int undecided = 0; undecided < 2; undecided++) {
        spread_sample_init(&spread);
        spread.groups = 1;
        if (undecided)
            spread.group[0].verdict = HP_VERDICT_UNDECIDED;
        for (size_t k = 0; k < DRAWN; k++)
            free(draw(f, k, &spread, HP_PICTURE_SVG, &size));
    }
}

static void files_that_cannot_be_written_are_named(void **state)
{
    const fixture *f = *state;
    hp_spread spread;
    spread_sample_init(&spread);
    for (size_t k = 0; k < DRAWN; k++) {
        char path[128];
        hp_error err = hp_error_none();
        snprintf(path, sizeof path, "%s/no/such/folder.svg", f->folder);
        check_int(drawn[k].draw(path, HP_PICTURE_SVG, &spread, &f->sample.labels, &err),
                  HP_FAIL_IO);
        check_text_contains(err.text, path);
    }
    check_int(count_files(f->folder), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH_FIXTURE(svg_holds_its_words_clear_of_each_other),
        WITH_FIXTURE(other_formats_are_whole_and_the_same_again),
        WITH_FIXTURE(odd_bands_leave_no_odd_numbers),
        WITH_FIXTURE(a_single_outcome_is_drawn),
        WITH_FIXTURE(files_that_cannot_be_written_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
