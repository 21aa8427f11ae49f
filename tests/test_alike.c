/* Wirings that make the same machine: their runs agree to the last bit, and no others are taken for
 * alike. */
#include "check.h"

#include "decide/advise/hypothesis.h"
#include "decide/judge/alike.h"
#include "decide/judge/ensemble.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/spread.h"
#include "hubphase/sim/engine.h"

static hp_figures run_wiring(hp_engine *engine, const hp_drive *drive, int number)
{
    hp_run_options options = hp_run_options_default();
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_figures figures;
    options.seconds = 0.3;
    options.settle_s = 0.15;
    options.start_angle = hp_rest_angle(1);
    check_int(hp_engine_run(engine, drive, &wiring, &options, NULL, &figures, NULL), HP_OK);
    return figures;
}

/* A motor with nothing symmetric about it: sensors displaced each by itself, one of them broken. */
static hp_drive odd_drive(void)
{
    hp_drive nominal = hp_drive_default();
    hp_variation_params v = hp_variation_default();
    hp_drive drive = hp_ensemble_draw(&nominal, &v, 5, 2, 9);
    drive.sensors.fault[HP_V] = HP_SENSOR_STUCK_HIGH;
    return drive;
}

static void check_alike(hp_engine *engine, const hp_drive *drive)
{
    int first[HP_WIRING_COUNT], compared = 0;
    check_int(hp_alike_numbers(&drive->controller.table, first), 12);
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        if (first[number - 1] == number)
            continue;
        hp_figures a = run_wiring(engine, drive, number);
        hp_figures b = run_wiring(engine, drive, first[number - 1]);
        compared++;
        check_close(a.speed, b.speed, 0.0, "the same machine");
        check_close(a.net_turn, b.net_turn, 0.0, "the same machine");
        check_close(a.torque_rms, b.torque_rms, 0.0, "the same machine");
        check_close(a.battery_power, b.battery_power, 0.0, "the same machine");
        check_close(a.phase_rms, b.phase_rms, 0.0, "the same machine");
        check_close(a.phase_peak, b.phase_peak, 0.0, "the same machine");
        check_int(a.steps, b.steps);
        check_int(a.events, b.events);
    }
    check_int(compared, 24);
}

static void runs_agree_to_the_last_bit(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    assert_non_null(engine);
    hp_drive drive = odd_drive();
    check_alike(engine, &drive);
    hp_engine_free(engine);
}

/* Tables whose field goes round against their codes turn the other way. */
static void every_true_table_makes_twelve(void **state)
{
    (void)state;
    hp_engine *engine = hp_engine_create(NULL);
    assert_non_null(engine);
    hp_drive drive = odd_drive();
    for (int table = 0; table < HP_TABLES_120; table++) {
        int first[HP_WIRING_COUNT];
        drive.controller.table = hp_table_get(table);
        check_int(hp_alike_numbers(&drive.controller.table, first), 12);
    }
    hp_commutation_table usual = hp_commutation_table_120();
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        hp_commutation_row *row = &drive.controller.table.row[code];
        *row = usual.row[code];
        /* Outputs V and W exchanged. */
        row->high = row->high > 0 ? 3 - row->high : row->high;
        row->low = row->low > 0 ? 3 - row->low : row->low;
    }
    check_alike(engine, &drive);
    hp_engine_free(engine);
}

static void other_tables_tell_all_apart(void **state)
{
    (void)state;
    int first[HP_WIRING_COUNT];
    hp_commutation_table sixty = hp_commutation_table_60(), lame = hp_commutation_table_120();
    check_int(hp_alike_numbers(&sixty, first), HP_WIRING_COUNT);
    lame.row[4] = (hp_commutation_row){-1, -1};
    check_int(hp_alike_numbers(&lame, first), HP_WIRING_COUNT);
    for (int k = 0; k < HP_WIRING_COUNT; k++)
        check_int(first[k], k + 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(runs_agree_to_the_last_bit),
        cmocka_unit_test(every_true_table_makes_twelve),
        cmocka_unit_test(other_tables_tell_all_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
