/* A wiring and its number: see the header. */
#include "hubphase/model/wiring.h"

#include <assert.h>
#include <string.h>

static const int orders[HP_ORDER_COUNT][HP_PHASE_COUNT] = {
    {HP_U, HP_V, HP_W}, {HP_U, HP_W, HP_V}, {HP_V, HP_U, HP_W},
    {HP_V, HP_W, HP_U}, {HP_W, HP_U, HP_V}, {HP_W, HP_V, HP_U},
};

void hp_order_get(int index, int order[HP_PHASE_COUNT])
{
    assert(index >= 0 && index < HP_ORDER_COUNT);
    memcpy(order, orders[index], sizeof orders[index]);
}

int hp_order_index(const int order[HP_PHASE_COUNT])
{
    for (int k = 0; k < HP_ORDER_COUNT; k++)
        if (memcmp(order, orders[k], sizeof orders[k]) == 0)
            return k;
    return -1;
}

hp_wiring hp_wiring_from_number(int number)
{
    assert(number >= 1 && number <= HP_WIRING_COUNT);
    hp_wiring wiring;
    hp_order_get(hp_wiring_row(number), wiring.sensor);
    hp_order_get(hp_wiring_column(number), wiring.phase);
    return wiring;
}

int hp_wiring_number(const hp_wiring *wiring)
{
    int row = hp_order_index(wiring->sensor), column = hp_order_index(wiring->phase);
    return row < 0 || column < 0 ? 0 : 1 + HP_ORDER_COUNT * row + column;
}
