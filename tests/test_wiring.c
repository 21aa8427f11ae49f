/* The 36 wirings: numbers and permutations are one and the same thing. */
#include "check.h"

#include "hubphase/model/wiring.h"

#include <stdbool.h>

/* Even permutations of three are the rotations. */
static bool is_even(const int order[HP_PHASE_COUNT])
{
    return order[HP_V] == (order[HP_U] + 1) % 3 && order[HP_W] == (order[HP_U] + 2) % 3;
}

static void orders_stand_in_the_documented_sequence(void **state)
{
    (void)state;
    static const char *const sequence[HP_ORDER_COUNT] = {"UVW", "UWV", "VUW", "VWU", "WUV", "WVU"};
    for (int k = 0; k < HP_ORDER_COUNT; k++) {
        int order[HP_PHASE_COUNT];
        hp_order_get(k, order);
        const char text[4] = {hp_phase_letter(order[0]), hp_phase_letter(order[1]),
                              hp_phase_letter(order[2]), '\0'};
        assert_string_equal(text, sequence[k]);
        check_int(hp_order_index(order), k);
    }
}

static void what_is_no_permutation_has_no_index(void **state)
{
    (void)state;
    int orders = 0;
    for (int u = -1; u <= HP_PHASE_COUNT; u++) {
        for (int v = -1; v <= HP_PHASE_COUNT; v++) {
            for (int w = -1; w <= HP_PHASE_COUNT; w++) {
                int order[HP_PHASE_COUNT] = {u, v, w};
                bool inside = u >= 0 && v >= 0 && w >= 0 && u < 3 && v < 3 && w < 3;
                bool permutation = inside && u != v && v != w && w != u;
                check_true((hp_order_index(order) >= 0) == permutation, "%d %d %d", u, v, w);
                orders += permutation;
                hp_wiring odd = {.sensor = {u, v, w}, .phase = {HP_U, HP_V, HP_W}};
                check_true((hp_wiring_number(&odd) > 0) == permutation, "%d %d %d", u, v, w);
                odd = (hp_wiring){.sensor = {HP_U, HP_V, HP_W}, .phase = {u, v, w}};
                check_true((hp_wiring_number(&odd) > 0) == permutation, "%d %d %d", u, v, w);
            }
        }
    }
    check_int(orders, HP_ORDER_COUNT);
}

static void numbers_and_wirings_are_one_to_one(void **state)
{
    (void)state;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_wiring wiring = hp_wiring_from_number(number);
        check_int(hp_wiring_number(&wiring), number);
        check_int(hp_order_index(wiring.sensor), hp_wiring_row(number));
        check_int(hp_order_index(wiring.phase), hp_wiring_column(number));
    }
}

static void wiring_one_joins_like_to_like(void **state)
{
    (void)state;
    hp_wiring wiring = hp_wiring_from_number(1);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        check_int(wiring.sensor[k], k);
        check_int(wiring.phase[k], k);
    }
}

/* 3 alike and even, 3 alike and odd, 12 of one parity but unlike, 18 of opposite parity (the count
 * in print: common practice; the split is derived). */
static void parity_splits_the_wirings_3_3_12_18(void **state)
{
    (void)state;
    int alike_even = 0, alike_odd = 0, unlike = 0, opposed = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_wiring wiring = hp_wiring_from_number(number);
        bool even = is_even(wiring.sensor);
        if (even != is_even(wiring.phase))
            opposed++;
        else if (hp_wiring_row(number) != hp_wiring_column(number))
            unlike++;
        else if (even)
            alike_even++;
        else
            alike_odd++;
    }
    check_int(alike_even, 3);
    check_int(alike_odd, 3);
    check_int(unlike, 12);
    check_int(opposed, 18);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(orders_stand_in_the_documented_sequence),
        cmocka_unit_test(what_is_no_permutation_has_no_index),
        cmocka_unit_test(numbers_and_wirings_are_one_to_one),
        cmocka_unit_test(wiring_one_joins_like_to_like),
        cmocka_unit_test(parity_splits_the_wirings_3_3_12_18),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
