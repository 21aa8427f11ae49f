/*
 * The commutation table: see the header.
 *
 * A pair (high, low) holds the field in direction axis_high - axis_low: one of six directions 60
 * degrees apart. A true table drives each direction for one code, and neighbouring codes of its
 * ring drive neighbouring directions.
 */
#include "model/commutation.h"

#include "base/elementary.h"
#include "base/sine.h"
#include "hubphase/model/controller.h"

#include <math.h>

hp_commutation_table hp_commutation_table_empty(void)
{
    hp_commutation_table table;
    for (int code = 0; code < HP_CODE_COUNT; code++)
        table.row[code] = (hp_commutation_row){-1, -1};
    return table;
}

hp_commutation_table hp_commutation_table_120(void)
{
    hp_commutation_table table = hp_commutation_table_empty();
    table.row[hp_code(1, 0, 0)] = (hp_commutation_row){HP_V, HP_W};
    table.row[hp_code(1, 1, 0)] = (hp_commutation_row){HP_V, HP_U};
    table.row[hp_code(0, 1, 0)] = (hp_commutation_row){HP_W, HP_U};
    table.row[hp_code(0, 1, 1)] = (hp_commutation_row){HP_W, HP_V};
    table.row[hp_code(0, 0, 1)] = (hp_commutation_row){HP_U, HP_V};
    table.row[hp_code(1, 0, 1)] = (hp_commutation_row){HP_U, HP_W};
    return table;
}

hp_commutation_table hp_commutation_table_60(void)
{
    hp_commutation_table table = hp_commutation_table_empty(), usual = hp_commutation_table_120();
    for (int code = 0; code < HP_CODE_COUNT; code++)
        table.row[code ^ hp_code(0, 1, 0)] = usual.row[code];
    return table;
}

double hp_field_angle(int high, int low)
{
    double x = hp_cosine(hp_phase_axis(high)) - hp_cosine(hp_phase_axis(low));
    double y = hp_sine(hp_phase_axis(high)) - hp_sine(hp_phase_axis(low));
    return hp_angle_wrap(hp_direction_of(y, x));
}

/* Direction of a pair in sixths of a turn from 30 degrees: V>W is 1, V>U 2, W>U 3 ... U>V 5, U>W 0.
 */
static int direction_of(const hp_commutation_row *row)
{
    static const int sixth[HP_PHASE_COUNT][HP_PHASE_COUNT] = {{-1, 5, 0}, {2, -1, 1}, {3, 4, -1}};
    return sixth[row->high][row->low];
}

static bool is_driven(const hp_commutation_row *row)
{
    return row->high >= 0 && row->low >= 0;
}

static const char *code_text(int code)
{
    static const char *const text[HP_CODE_COUNT] = {"000", "001", "010", "011",
                                                    "100", "101", "110", "111"};
    return text[code];
}

/* Each row by itself, the number of driven rows, and no pair twice. */
static hp_result check_rows(const hp_commutation_table *table, hp_error *err)
{
    int count = 0, code_of[HP_SECTOR_COUNT] = {-1, -1, -1, -1, -1, -1};
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        const hp_commutation_row *row = &table->row[code];
        if (row->high < -1 || row->high >= HP_PHASE_COUNT || row->low < -1 ||
            row->low >= HP_PHASE_COUNT)
            return hp_error_set(err, HP_FAIL_INPUT, "code %s names an output that does not exist",
                                code_text(code));
        if ((row->high < 0) != (row->low < 0))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "code %s drives one output only, must drive a pair or be off",
                                code_text(code));
        if (!is_driven(row))
            continue;
        count++;
        if (row->high == row->low)
            return hp_error_set(err, HP_FAIL_INPUT, "code %s drives output %c against itself",
                                code_text(code), hp_phase_letter(row->high));
        int direction = direction_of(row);
        if (code_of[direction] >= 0)
            return hp_error_set(err, HP_FAIL_INPUT, "codes %s and %s drive the same pair %c>%c",
                                code_text(code_of[direction]), code_text(code),
                                hp_phase_letter(row->high), hp_phase_letter(row->low));
        code_of[direction] = code;
    }
    if (count != HP_SECTOR_COUNT)
        return hp_error_set(err, HP_FAIL_INPUT, "%d codes are driven, must be 6", count);
    return HP_OK;
}

/* Codes in the order of the directions they drive. */
static void order_by_direction(const hp_commutation_table *table, int code_of[HP_SECTOR_COUNT])
{
    for (int code = 0; code < HP_CODE_COUNT; code++)
        if (is_driven(&table->row[code]))
            code_of[direction_of(&table->row[code])] = code;
}

hp_result hp_commutation_table_check(const hp_commutation_table *table, hp_error *err)
{
    hp_result result = check_rows(table, err);
    if (result != HP_OK)
        return result;
    int code_of[HP_SECTOR_COUNT];
    order_by_direction(table, code_of);
    for (int k = 0; k < HP_SECTOR_COUNT; k++) {
        int here = code_of[k], next = code_of[(k + 1) % HP_SECTOR_COUNT];
        if (__builtin_popcount((unsigned)(here ^ next)) != 1)
            return hp_error_set(err, HP_FAIL_INPUT,
                                "codes %s and %s drive neighbouring pairs but differ in more than "
                                "one sensor",
                                code_text(here), code_text(next));
    }
    /* The ring is closed; but one through neighbouring idle codes would need a sensor that is high
     * for a third of the turn, where three of them half a turn wide must do. */
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        int inverse = HP_CODE_COUNT - 1 - code;
        if (!is_driven(&table->row[code]) && is_driven(&table->row[inverse]))
            return hp_error_set(err, HP_FAIL_INPUT,
                                "code %s is off but its inverse %s is driven: three sensors half a "
                                "turn wide pass through both or neither",
                                code_text(code), code_text(inverse));
    }
    return HP_OK;
}

void hp_commutation_ring(const hp_commutation_table *table, int ring[HP_SECTOR_COUNT])
{
    int code_of[HP_SECTOR_COUNT], first = 0;
    order_by_direction(table, code_of);
    for (int k = 1; k < HP_SECTOR_COUNT; k++)
        if (code_of[k] < code_of[first])
            first = k;
    for (int k = 0; k < HP_SECTOR_COUNT; k++)
        ring[k] = code_of[(first + k) % HP_SECTOR_COUNT];
}
