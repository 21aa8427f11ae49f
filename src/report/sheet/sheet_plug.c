/* Plugs of a wiring sheet: see wiring_sheet.h. */
#include "report/sheet/wiring_sheet.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ACROSS 3 /* pins in a row, where the names do not say */
/* Largest plug drawn by rows and columns: beyond that the names are no places. */
#define COLUMNS_MAX 6
#define ROWS_MAX    6

void hp_sheet_plug_add(hp_sheet_plug *plug, const char *place, const char *lead)
{
    if (plug->pins == HP_SHEET_PINS)
        return;
    hp_sheet_pin *pin = &plug->pin[plug->pins++];
    memset(pin, 0, sizeof *pin);
    snprintf(pin->place, sizeof pin->place, "%s", place);
    snprintf(pin->lead, sizeof pin->lead, "%s", lead);
}

/* 1, 2, 3 ... of a number or a single letter; 0 for other names. */
static int ordinal(const char *name)
{
    if (isalpha((unsigned char)name[0]) && !name[1])
        return toupper((unsigned char)name[0]) - 'A' + 1;
    if (!name[0] || strspn(name, "0123456789") != strlen(name) || strlen(name) > 3)
        return 0;
    return atoi(name);
}

/* "B2": row 1, column 1. */
static bool cell(const char *name, int *row, int *column)
{
    if (!isalpha((unsigned char)name[0]) || !isdigit((unsigned char)name[1]) || name[2])
        return false;
    *row = toupper((unsigned char)name[0]) - 'A';
    *column = name[1] - '1';
    return *row < ROWS_MAX && *column >= 0 && *column < COLUMNS_MAX;
}

static bool by_cells(hp_sheet_plug *plug)
{
    for (int k = 0; k < plug->pins; k++)
        if (!cell(plug->pin[k].place, &plug->pin[k].row, &plug->pin[k].column))
            return false;
    return true;
}

static bool is_number(const char *name)
{
    return isdigit((unsigned char)name[0]) != 0;
}

/* Counts the pins that are named by numbers, or by letters, along rows that begin at `row`; adds
 * those that are missing between. Returns the row below. */
static int count_along(hp_sheet_plug *plug, bool numbers, int row)
{
    int most = 0, named = plug->pins;
    bool there[HP_SHEET_PINS + 1] = {false};
    for (int k = 0; k < named; k++) {
        int n = ordinal(plug->pin[k].place);
        if (is_number(plug->pin[k].place) != numbers)
            continue;
        there[n] = true;
        most = n > most ? n : most;
    }
    for (int n = 1; n <= most; n++) {
        char name[16];
        snprintf(name, sizeof name, numbers ? "%d" : "%c", numbers ? n : 'A' + n - 1);
        if (!there[n])
            hp_sheet_plug_add(plug, name, "");
    }
    for (int k = 0; k < plug->pins; k++) {
        int n = ordinal(plug->pin[k].place) - 1;
        if (is_number(plug->pin[k].place) != numbers)
            continue;
        plug->pin[k].row = row + n / ACROSS;
        plug->pin[k].column = n % ACROSS;
    }
    return row + (most + ACROSS - 1) / ACROSS;
}

/* Letters above, numbers below: where there are both, they are two plugs or two rows of one. */
static bool by_ordinals(hp_sheet_plug *plug)
{
    for (int k = 0; k < plug->pins; k++) {
        int n = ordinal(plug->pin[k].place);
        if (n < 1 || n > HP_SHEET_PINS)
            return false;
    }
    count_along(plug, true, count_along(plug, false, 0));
    return true;
}

void hp_sheet_plug_arrange(hp_sheet_plug *plug)
{
    if (plug->pins == 0 || by_cells(plug) || by_ordinals(plug))
        return;
    for (int k = 0; k < plug->pins; k++) {
        plug->pin[k].row = k / ACROSS;
        plug->pin[k].column = k % ACROSS;
    }
}
