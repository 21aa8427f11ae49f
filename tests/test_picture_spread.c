/* The pictures of a spread: odd bands, a single outcome. What all pictures must be stands in
 * test_pictures.c. */
#include "picture_fixture.h"

/* Bands without bound, of no width, of nothing, and beyond any scale. */
static void odd_bands_leave_no_odd_numbers(void **state)
{
    fixture *f = *state;
    static const hp_spread_band odd[] = {
        {INFINITY, INFINITY, INFINITY}, {NAN, NAN, NAN},      {0.0, 0.0, 0.0},
        {-5.0, 0.0, INFINITY},          {1e-300, 1.0, 1e300}, {7.0, 7.0, 7.0}};
    for (size_t b = 0; b < sizeof odd / sizeof odd[0]; b++) {
        for (int every = 0; every < 2; every++) {
            spread_sample_init(&f->spread);
            for (int g = 0; g < (every ? f->spread.groups : 1); g++)
                for (int k = 0; k < HP_SPREAD_FIGURE_COUNT; k++)
                    f->spread.group[g].band[k] = odd[b];
            for (int s = 0; s < HP_SHAPE_COUNT; s++) {
                size_t size;
                char *svg = draw_bytes(f, hp_picture_find("spread-bands"), HP_PICTURE_SVG,
                                       (hp_shape)s, &size);
                check_svg("odd bands", svg);
                free(svg);
            }
        }
    }
}

static void a_single_outcome_is_drawn(void **state)
{
    fixture *f = *state;
    for (int undecided = 0; undecided < 2; undecided++) {
        spread_sample_init(&f->spread);
        f->spread.groups = 1;
        if (undecided)
            f->spread.group[0].verdict = HP_VERDICT_UNDECIDED;
        free(draw_svg(f, "spread-map"));
        free(draw_svg(f, "spread-bands"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        WITH_FIXTURE(odd_bands_leave_no_odd_numbers),
        WITH_FIXTURE(a_single_outcome_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
