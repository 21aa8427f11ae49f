/*
 * Lead of the field: the theory of the 36 wirings as an independent oracle.
 *
 * Derived (see the model): with everything ideal, 3 wirings hold the lead at 60 to 120 degrees, 3
 * at -60 to -120, 12 run at 0 to 60 or 120 to 180 degrees of the sense in which they turn, and in
 * 18 the lead changes side from sector to sector.
 */
#include "field_limits.h"

#include "base/random.h"
#include "model/backemf.h"
#include "model/lead.h"
#include "model/sensors.h"

#define ROUNDING 1e-12 /* some dozen operations on angles below ten, over sectors of one radian */

/* Torque per ampere over a turn, relative to the largest that the shape can give. */
typedef struct pull {
    double mean, least, most;
} pull;

static int sectors_of(const hp_sensors_params *sensors, const hp_backemf *shape, int number,
                      hp_lead_sector sector[HP_LEAD_SECTOR_MAX])
{
    hp_commutation_table table = hp_commutation_table_120();
    hp_wiring wiring = hp_wiring_from_number(number);
    return hp_lead_sectors(&table, sensors, shape, &wiring, sector);
}

static pull pull_over_turn(const hp_lead_sector *sector, int count, double peak)
{
    pull sum = {0.0, INFINITY, -INFINITY};
    for (int k = 0; k < count; k++) {
        sum.mean += sector[k].torque_mean * (sector[k].to - sector[k].from) / HP_TWO_PI / peak;
        sum.least = fmin(sum.least, sector[k].torque_min / peak);
        sum.most = fmax(sum.most, sector[k].torque_max / peak);
    }
    return sum;
}

/* +1 even, -1 odd, from the number of pairs out of order. */
static int parity(const int order[HP_PHASE_COUNT])
{
    int out_of_order = (order[0] > order[1]) + (order[0] > order[2]) + (order[1] > order[2]);
    return out_of_order % 2 ? -1 : 1;
}

/* Whether every sector's lead lies between these angles [deg] in the middle and at both ends. */
static bool leads_within(const hp_lead_sector *sector, int count, double low, double high)
{
    for (int k = 0; k < count; k++) {
        if (sector[k].lead_to / HP_DEG < low - 1e-9 || sector[k].lead_from / HP_DEG > high + 1e-9)
            return false;
    }
    return true;
}

static void equal_orders_hold_the_lead_at_60_to_120_degrees(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_sinusoidal();
    for (int order = 0; order < HP_ORDER_COUNT; order++) {
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int number = 1 + HP_ORDER_COUNT * order + order, permutation[HP_PHASE_COUNT];
        hp_order_get(order, permutation);
        check_int(sectors_of(&sensors, &shape, number, sector), 6);
        bool ahead = parity(permutation) > 0;
        for (int k = 0; k < 6; k++) {
            check_close(sector[k].lead_from, (ahead ? 120.0 : -60.0) * HP_DEG, ROUNDING,
                        "rounding");
            check_close(sector[k].lead_to, (ahead ? 60.0 : -120.0) * HP_DEG, ROUNDING, "rounding");
        }
    }
}

/* Same parity but unequal: late or early, six of each, backwards for even and forwards for odd. */
static void unequal_orders_of_one_parity_are_late_or_early(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_sinusoidal();
    int late = 0, early = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_wiring wiring = hp_wiring_from_number(number);
        if (parity(wiring.sensor) != parity(wiring.phase) ||
            hp_wiring_row(number) == hp_wiring_column(number))
            continue;
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count = sectors_of(&sensors, &shape, number, sector);
        check_int(count, 6);
        bool backwards = parity(wiring.sensor) > 0;
        bool is_late = backwards ? leads_within(sector, count, -60.0, 0.0)
                                 : leads_within(sector, count, 0.0, 60.0);
        bool is_early = backwards ? leads_within(sector, count, -180.0, -120.0)
                                  : leads_within(sector, count, 120.0, 180.0);
        check_true(is_late != is_early, "wiring %d: late %d, early %d", number, is_late, is_early);
        late += is_late;
        early += is_early;
    }
    check_int(late, 6);
    check_int(early, 6);
}

/* Mean torque per ampere of the ideal motor (derived, exact): sinusoidal +-0.9549 (never below
 * 0.8660), +-0.4775 (touching 0), 0 (-1 to 0.866 or the mirror image); trapezoidal +-1, +-0.5, 0.
 */
static void torque_splits_the_wirings_3_3_12_18(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    const struct {
        hp_backemf shape;
        double peak, smooth, smooth_least, opposed_most;
    } motor[] = {
        {hp_backemf_sinusoidal(), sqrt(3.0) / 2.0, 3.0 / HP_PI, sqrt(3.0) / 2.0, sqrt(3.0) / 2.0},
        {hp_backemf_trapezoidal(120.0 * HP_DEG), 1.0, 1.0, 1.0, 1.0},
    };
    for (size_t n = 0; n < sizeof motor / sizeof motor[0]; n++) {
        int forward = 0, reverse = 0, rough_forward = 0, rough_back = 0, opposed = 0;
        for (int number = 1; number <= HP_WIRING_COUNT; number++) {
            hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
            hp_wiring wiring = hp_wiring_from_number(number);
            int count = sectors_of(&sensors, &motor[n].shape, number, sector);
            check_int(count, 6);
            pull sum = pull_over_turn(sector, count, motor[n].peak);
            int even = parity(wiring.sensor);
            if (even != parity(wiring.phase)) {
                check_close(sum.mean, 0.0, ROUNDING, "rounding");
                check_close(fmin(-sum.least, sum.most), motor[n].opposed_most, ROUNDING,
                            "rounding");
                check_close(fmax(-sum.least, sum.most), 1.0, ROUNDING, "rounding");
                opposed++;
            } else if (hp_wiring_row(number) == hp_wiring_column(number)) {
                check_close(sum.mean, even * motor[n].smooth, ROUNDING, "rounding");
                check_close(even > 0 ? sum.least : -sum.most, motor[n].smooth_least, ROUNDING,
                            "rounding");
                check_close(even > 0 ? sum.most : -sum.least, 1.0, ROUNDING, "rounding");
                forward += even > 0;
                reverse += even < 0;
            } else {
                check_close(sum.mean, -even * 0.5 * motor[n].smooth, ROUNDING, "rounding");
                check_close(even > 0 ? sum.most : sum.least, 0.0, ROUNDING, "rounding");
                rough_back += even > 0;
                rough_forward += even < 0;
            }
        }
        check_int(forward, 3);
        check_int(reverse, 3);
        check_int(rough_forward, 6);
        check_int(rough_back, 6);
        check_int(opposed, 18);
    }
}

/* Four figures of the derived table: 0.95493, 0.47746 as printed, for wirings 1 and 4. */
static void printed_means_agree(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_sinusoidal();
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = sectors_of(&sensors, &shape, 1, sector);
    pull smooth = pull_over_turn(sector, count, sqrt(3.0) / 2.0);
    check_close(smooth.mean, 0.95493, 5e-6, "printed to five decimals");
    check_close((smooth.most - smooth.least) / smooth.mean, 0.1403, 5e-5, "printed to 0.01 %");
    count = sectors_of(&sensors, &shape, 4, sector);
    check_close(pull_over_turn(sector, count, sqrt(3.0) / 2.0).mean, -0.47746, 5e-6,
                "printed to five decimals");
}

/* All sensors displaced alike: mean (3 / pi) cos(d), least cos(30 degrees + d) (derived, exact;
 * printed 0.94042 0.89734 0.82699 and 0.766 0.643 0.5). */
static void displaced_sensors_cost_torque_as_the_cosine(void **state)
{
    (void)state;
    static const double printed[][3] = {
        {10.0, 0.94042, 0.766}, {20.0, 0.89734, 0.643}, {30.0, 0.82699, 0.5}};
    hp_backemf shape = hp_backemf_sinusoidal();
    for (int k = 0; k < 3; k++) {
        for (int sense = -1; sense <= 1; sense += 2) {
            hp_sensors_params sensors = hp_sensors_params_default();
            for (int s = 0; s < HP_PHASE_COUNT; s++)
                sensors.placement_rad[s] = sense * printed[k][0] * HP_DEG;
            hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
            int count = sectors_of(&sensors, &shape, 1, sector);
            check_int(count, 6);
            pull sum = pull_over_turn(sector, count, sqrt(3.0) / 2.0);
            check_close(sum.mean, printed[k][1], 5e-6, "printed to five decimals");
            check_close(sum.least, printed[k][2], 5e-4, "printed to three decimals");
            check_close(sum.mean, 3.0 / HP_PI * cos(printed[k][0] * HP_DEG), ROUNDING, "rounding");
            /* A sensor further on hands over later, so the field lags by as much. */
            check_close(sector[0].lead_from, (120.0 - sense * printed[k][0]) * HP_DEG, ROUNDING,
                        "rounding");
        }
    }
}

/* A common rotation of both orders is a relabelling of the motor: the same sectors, 120 degrees on
 * or back. */
static void a_common_rotation_changes_nothing(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_trapezoidal(100.0 * HP_DEG);
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_wiring turned = hp_wiring_from_number(number);
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            turned.sensor[k] = (turned.sensor[k] + 1) % 3;
            turned.phase[k] = (turned.phase[k] + 1) % 3;
        }
        hp_lead_sector a[HP_LEAD_SECTOR_MAX], b[HP_LEAD_SECTOR_MAX];
        check_int(sectors_of(&sensors, &shape, number, a), 6);
        check_int(sectors_of(&sensors, &shape, hp_wiring_number(&turned), b), 6);
        for (int k = 0; k < 6; k++) {
            const hp_lead_sector *later = &b[(k + 2) % 6];
            check_int(later->code, a[k].code);
            check_close(later->lead_from, a[k].lead_from, ROUNDING, "rounding");
            check_close(later->torque_mean, a[k].torque_mean, ROUNDING, "rounding");
            check_close(later->torque_min, a[k].torque_min, ROUNDING, "rounding");
            check_close(later->torque_max, a[k].torque_max, ROUNDING, "rounding");
        }
    }
}

/* A sensor that never toggles leaves two edges fewer; what it makes of the codes 000 and 111 is
 * driven by nobody. */
static void a_stuck_sensor_merges_sectors(void **state)
{
    (void)state;
    hp_backemf shape = hp_backemf_sinusoidal();
    for (int phase = 0; phase < HP_PHASE_COUNT; phase++) {
        hp_sensors_params sensors = hp_sensors_params_default();
        sensors.fault[phase] = HP_SENSOR_STUCK_HIGH;
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count = sectors_of(&sensors, &shape, 1, sector), off = 0;
        check_int(count, 4);
        for (int k = 0; k < count; k++) {
            check_int(sector[k].high < 0, sector[k].code == 7);
            check_int(sector[k].low < 0, sector[k].code == 7);
            off += sector[k].code == 7;
            if (sector[k].high < 0) {
                check_close(sector[k].torque_mean, 0.0, 0.0, "nothing is driven");
                check_close(sector[k].torque_min, 0.0, 0.0, "nothing is driven");
                check_close(sector[k].torque_max, 0.0, 0.0, "nothing is driven");
            }
        }
        check_int(off, 1);
    }
}

static void sensors_without_supply_leave_one_idle_stretch(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_sinusoidal();
    sensors.no_supply = true;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    check_int(sectors_of(&sensors, &shape, 1, sector), 1);
    check_int(sector[0].code, 7);
    check_int(sector[0].high, -1);
    check_close(sector[0].to - sector[0].from, HP_TWO_PI, ROUNDING, "rounding");
}

/* 60-degree sensors on a table for 120: two sectors of six show codes that it lacks. */
static void sixty_degree_sensors_idle_a_third_of_the_usual_table(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_sinusoidal();
    sensors.spacing_60 = true;
    double idle = 0.0;
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = sectors_of(&sensors, &shape, 1, sector);
    check_int(count, 6);
    for (int k = 0; k < count; k++)
        idle += sector[k].high < 0 ? sector[k].to - sector[k].from : 0.0;
    check_close(idle, 120.0 * HP_DEG, ROUNDING, "rounding");

    hp_commutation_table sixty = hp_commutation_table_60();
    hp_wiring plain = hp_wiring_from_number(1);
    check_int(hp_lead_sectors(&sixty, &sensors, &shape, &plain, sector), 6);
    assert_true(leads_within(sector, 6, 60.0, 120.0));
}

/* Placement errors that bring two sensors' edges together leave no sliver of a sector behind. */
static void coincident_edges_are_one(void **state)
{
    (void)state;
    hp_sensors_params sensors = hp_sensors_params_default();
    hp_backemf shape = hp_backemf_sinusoidal();
    sensors.placement_rad[HP_U] = 30.0 * HP_DEG;  /* leaves at 120 */
    sensors.placement_rad[HP_W] = -30.0 * HP_DEG; /* enters at 120 */
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        int count = sectors_of(&sensors, &shape, number, sector);
        check_int(count, 4);
        for (int k = 0; k < count; k++)
            check_true(sector[k].to - sector[k].from > 25.0 * HP_DEG, "%g degrees",
                       (sector[k].to - sector[k].from) / HP_DEG);
    }
    /* The same where the turn is joined: U enters at 0, W leaves at 360. */
    sensors = hp_sensors_params_default();
    for (int k = -1; k <= 1; k++) {
        for (int n = -1; n <= 1; n++) {
            sensors.placement_rad[HP_U] = 30.0 * HP_DEG;              /* leaves at 120 */
            sensors.placement_rad[HP_V] = -30.0 * HP_DEG + k * 1e-13; /* enters at 0 */
            sensors.placement_rad[HP_W] = 30.0 * HP_DEG + n * 1e-13;  /* leaves at 0 */
            hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
            int count = sectors_of(&sensors, &shape, 1, sector);
            for (int s = 0; s < count; s++)
                check_true(sector[s].to - sector[s].from > 25.0 * HP_DEG, "%g degrees",
                           (sector[s].to - sector[s].from) / HP_DEG);
        }
    }
}

/* Torque figures by brute force: composite midpoint rule on 2000 points. */
static void check_torque(const hp_lead_sector *s, const hp_backemf *shape)
{
    enum { POINTS = 2000 };
    double mean = 0.0, least = INFINITY, most = -INFINITY;
    for (int k = 0; k < POINTS; k++) {
        double theta = s->from + (s->to - s->from) * (k + 0.5) / POINTS;
        double torque = 0.5 * (hp_backemf_value(shape, theta - hp_phase_axis(s->high)) -
                               hp_backemf_value(shape, theta - hp_phase_axis(s->low)));
        mean += torque / POINTS;
        least = fmin(least, torque);
        most = fmax(most, torque);
    }
    /* A half step of at most pi / 2000, at a slope of at most 4 a radian (flat of 90 degrees or
     * less, both leads on a flank: 2 / (pi / 2) times one half, twice; 3 for the series). */
    double slack = (s->to - s->from) / POINTS * 4.0;
    check_close(s->torque_mean, mean, slack * 0.01, "midpoint rule, corners included");
    check_close(s->torque_min, least, slack, "half a step from the extreme");
    check_close(s->torque_max, most, slack, "half a step from the extreme");
    check_true(s->torque_min <= least + ROUNDING && s->torque_max >= most - ROUNDING,
               "extremes are extreme");
}

/* Any placement, fault, shape and wiring: the stretches cover the turn once, neighbours differ in
 * code, and each says truly what the controller drives. */
static void stretches_cover_the_turn_once(void **state)
{
    (void)state;
    hp_random random = hp_random_init(31, 0);
    hp_backemf shape[3] = {hp_backemf_sinusoidal(), hp_backemf_trapezoidal(80.0 * HP_DEG),
                           hp_backemf_sinusoidal()};
    shape[2].kind = HP_BACKEMF_FOURIER;
    shape[2].harmonics = 5;
    shape[2].sine[3] = -0.3;
    shape[2].cosine[5] = 0.1;
    hp_backemf_normalise(&shape[2]);
    for (int trial = 0; trial < 600; trial++) {
        hp_sensors_params sensors = hp_sensors_params_default();
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            sensors.placement_rad[k] = hp_random_between(&random, -30.0, 30.0) * HP_DEG;
            if (hp_random_below(&random, 4) == 0)
                sensors.fault[k] = (hp_sensor_fault)hp_random_below(&random, HP_SENSOR_FAULT_COUNT);
        }
        sensors.spacing_60 = hp_random_below(&random, 3) == 0;
        hp_commutation_table table = hp_commutation_table_120();
        hp_wiring wiring = hp_wiring_from_number(1 + (int)hp_random_below(&random, 36));
        hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
        const hp_backemf *f = &shape[trial % 3];
        int count = hp_lead_sectors(&table, &sensors, f, &wiring, sector);
        check_true(count >= 1 && count <= 6, "%d", count);
        for (int k = 0; k < count; k++) {
            const hp_lead_sector *s = &sector[k], *next = &sector[(k + 1) % count];
            double turn = k + 1 < count ? 0.0 : HP_TWO_PI;
            check_true(s->from >= 0.0 && s->from < HP_TWO_PI && s->to > s->from, "%g", s->from);
            check_close(s->to, next->from + turn, ROUNDING, "no gap");
            check_true(count == 1 || s->code != next->code, "code %d twice", s->code);
            double theta = s->from + (s->to - s->from) * hp_random_between(&random, 0.01, 0.99);
            int bit[HP_PHASE_COUNT];
            for (int j = 0; j < HP_PHASE_COUNT; j++)
                bit[j] = hp_sensor_output(&sensors, wiring.sensor[j],
                                          hp_sensor_inside(&sensors, wiring.sensor[j], theta));
            check_int(s->code, hp_code(bit[HP_U], bit[HP_V], bit[HP_W]));
            const hp_commutation_row *row = &table.row[s->code];
            check_int(s->high, row->high < 0 ? -1 : wiring.phase[row->high]);
            check_int(s->low, row->low < 0 ? -1 : wiring.phase[row->low]);
            if (s->high < 0)
                continue;
            check_close(s->lead_from - s->lead_to, s->to - s->from, ROUNDING, "falls linearly");
            double middle = 0.5 * (s->lead_from + s->lead_to);
            check_true(middle >= -HP_PI && middle < HP_PI, "%g", middle);
            double off = s->field - s->from - s->lead_from;
            check_close(remainder(off, HP_TWO_PI), 0.0, ROUNDING, "lead is field minus rotor");
            check_torque(s, f);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(equal_orders_hold_the_lead_at_60_to_120_degrees),
        cmocka_unit_test(unequal_orders_of_one_parity_are_late_or_early),
        cmocka_unit_test(torque_splits_the_wirings_3_3_12_18),
        cmocka_unit_test(printed_means_agree),
        cmocka_unit_test(displaced_sensors_cost_torque_as_the_cosine),
        cmocka_unit_test(a_common_rotation_changes_nothing),
        cmocka_unit_test(a_stuck_sensor_merges_sectors),
        cmocka_unit_test(sensors_without_supply_leave_one_idle_stretch),
        cmocka_unit_test(sixty_degree_sensors_idle_a_third_of_the_usual_table),
        cmocka_unit_test(coincident_edges_are_one),
        cmocka_unit_test(stretches_cover_the_turn_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
