/* Wirings that make the same machine: see the header. */
#include "decide/judge/alike.h"

#include <stdbool.h>

static int turned(int place, int turn)
{
    return place < 0 ? place : (place + turn + HP_PHASE_COUNT) % HP_PHASE_COUNT;
}

/* Whether turning inputs by +1 and outputs by `turn` gives the table again. */
static bool is_unchanged(const hp_commutation_table *table, int turn)
{
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        int u = code >> 2 & 1, v = code >> 1 & 1, w = code & 1;
        const hp_commutation_row *from = &table->row[code], *to = &table->row[hp_code(w, u, v)];
        if (turned(from->high, turn) != to->high || turned(from->low, turn) != to->low)
            return false;
    }
    return true;
}

int hp_alike_numbers(const hp_commutation_table *table, int first[HP_WIRING_COUNT])
{
    int turn = is_unchanged(table, 1) ? 1 : is_unchanged(table, -1) ? -1 : 0;
    int different = 0;
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        hp_wiring wiring = hp_wiring_from_number(number);
        first[number - 1] = number;
        for (int k = 1; turn != 0 && k < HP_PHASE_COUNT; k++) {
            hp_wiring image;
            for (int j = 0; j < HP_PHASE_COUNT; j++) {
                image.sensor[(j + k) % HP_PHASE_COUNT] = wiring.sensor[j];
                image.phase[(j + (HP_PHASE_COUNT + turn) * k) % HP_PHASE_COUNT] = wiring.phase[j];
            }
            int other = hp_wiring_number(&image);
            if (other < first[number - 1])
                first[number - 1] = other;
        }
        different += first[number - 1] == number;
    }
    return different;
}
