/* Seeded random numbers: the published generator, even, and the same everywhere. */
#include "check.h"

#include "base/random.h"

/* First outputs of xoshiro256** from state 1, 2, 3, 4 (the first by hand: rotl(2 * 5, 7) * 9;
 * the others from memory, as a published test vector of the generator). */
static void bits_follow_the_published_generator(void **state)
{
    (void)state;
    hp_random random = {.state = {1, 2, 3, 4}};
    const uint64_t expected[] = {11520u,
                                 0u,
                                 1509978240u,
                                 1215971899390074240u,
                                 1216172134540287360u,
                                 607988272756665600u,
                                 16172922978634559625u,
                                 8476171486693032832u,
                                 10595114339597558777u,
                                 2904607092377533576u};
    for (size_t k = 0; k < sizeof expected / sizeof expected[0]; k++)
        check_true(hp_random_bits(&random) == expected[k], "output %zu", k);
}

static void a_seed_and_stream_always_give_the_same_sequence(void **state)
{
    (void)state;
    hp_random a = hp_random_init(42, 7), b = hp_random_init(42, 7);
    for (int k = 0; k < 100; k++)
        check_true(hp_random_bits(&a) == hp_random_bits(&b), "draw %d", k);
}

/* Neighbouring seeds and streams: correlation of n uniform pairs scatters by 1 / sqrt(n). */
static void neighbouring_seeds_and_streams_are_independent(void **state)
{
    (void)state;
    enum { DRAWS = 10000 };
    for (uint64_t seed = 0; seed < 4; seed++) {
        for (uint64_t stream = 0; stream < 4; stream++) {
            hp_random a = hp_random_init(seed, stream), b = hp_random_init(seed, stream + 1);
            hp_random c = hp_random_init(seed + 1, stream);
            double ab = 0.0, ac = 0.0;
            for (int k = 0; k < DRAWS; k++) {
                double x = hp_random_unit(&a) - 0.5;
                ab += 12.0 * x * (hp_random_unit(&b) - 0.5) / DRAWS;
                ac += 12.0 * x * (hp_random_unit(&c) - 0.5) / DRAWS;
            }
            check_close(ab, 0.0, 5.0 / sqrt(DRAWS), "five standard deviations of a correlation");
            check_close(ac, 0.0, 5.0 / sqrt(DRAWS), "five standard deviations of a correlation");
        }
    }
}

/* Mean 1/2 and variance 1/12 within five standard deviations; all within [0, 1). */
static void unit_draws_are_uniform(void **state)
{
    (void)state;
    enum { DRAWS = 100000 };
    hp_random random = hp_random_init(1, 0);
    double sum = 0.0, square = 0.0;
    for (int k = 0; k < DRAWS; k++) {
        double x = hp_random_unit(&random);
        check_true(x >= 0.0 && x < 1.0, "%g", x);
        sum += x;
        square += (x - 0.5) * (x - 0.5);
    }
    check_close(sum / DRAWS, 0.5, 5.0 / sqrt(12.0 * DRAWS), "five standard deviations of a mean");
    check_close(square / DRAWS, 1.0 / 12.0, 5.0 / sqrt(180.0 * DRAWS),
                "five standard deviations of a variance: fourth moment 1/80 less 1/144");
}

static void draws_between_stay_there(void **state)
{
    (void)state;
    hp_random random = hp_random_init(3, 1);
    double least = INFINITY, most = -INFINITY;
    for (int k = 0; k < 10000; k++) {
        double x = hp_random_between(&random, -2.0, 3.0);
        check_true(x >= -2.0 && x < 3.0, "%g", x);
        least = fmin(least, x);
        most = fmax(most, x);
    }
    /* Of 10000 draws none in the outer hundredth has probability exp(-100). */
    check_true(least < -1.95 && most > 2.95, "%g to %g", least, most);
    check_close(hp_random_between(&random, 1.5, 1.5), 1.5, 0.0, "an empty range is its end");
}

static void draws_below_are_even(void **state)
{
    (void)state;
    enum { SIDES = 6, DRAWS = 60000 };
    hp_random random = hp_random_init(5, 2);
    int count[SIDES] = {0};
    for (int k = 0; k < DRAWS; k++) {
        uint32_t side = hp_random_below(&random, SIDES);
        check_true(side < SIDES, "%u", side);
        count[side]++;
    }
    double chi_square = 0.0, expected = (double)DRAWS / SIDES;
    for (int k = 0; k < SIDES; k++)
        chi_square += (count[k] - expected) * (count[k] - expected) / expected;
    /* Five degrees of freedom: beyond 25.7 once in ten thousand. */
    check_true(chi_square < 25.7, "chi square %g", chi_square);
    for (int k = 0; k < 100; k++)
        check_int(hp_random_below(&random, 1), 0);
    check_true(hp_random_below(&random, UINT32_MAX) < UINT32_MAX, "the largest count");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bits_follow_the_published_generator),
        cmocka_unit_test(a_seed_and_stream_always_give_the_same_sequence),
        cmocka_unit_test(neighbouring_seeds_and_streams_are_independent),
        cmocka_unit_test(unit_draws_are_uniform),
        cmocka_unit_test(draws_between_stay_there),
        cmocka_unit_test(draws_below_are_even),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
