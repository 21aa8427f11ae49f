/*
 * Controller probe: motor unplugged, the controller's inputs pulled to levels, its outputs metered
 * at light throttle. It tells which table the controller follows.
 */
#include "decide/advise/hypothesis.h"
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "hubphase/decide/evidence.h"

static const hp_field fields[] = {
    {.name = "rows",
     .type = HP_FIELD_ROWS,
     .required = true,
     .offset = 0,
     .argument = "CODE=HIGH>LOW",
     .help = "Outputs seen high and low at a code of the inputs, or CODE=off"},
    {.name = NULL},
};

static void make(void *values)
{
    hp_probe *probe = values;
    for (int k = 0; k < HP_CODE_COUNT; k++)
        probe->row[k] = (hp_commutation_row){-1, -1};
}

static hp_result check(const void *values, hp_error *err)
{
    const hp_probe *p = values;
    for (int k = 0; k < HP_CODE_COUNT; k++) {
        const hp_commutation_row *row = &p->row[k];
        bool off = row->high == -1 && row->low == -1;
        bool pair = row->high >= 0 && row->high < HP_PHASE_COUNT && row->low >= 0 &&
                    row->low < HP_PHASE_COUNT && row->high != row->low;
        if (p->read[k] && !off && !pair)
            return hp_error_set(err, HP_FAIL_INPUT,
                                "code %d drives outputs %d and %d, must be two of 0 to 2 that "
                                "differ, or none",
                                k, row->high, row->low);
    }
    return HP_OK;
}

static hp_commutation_table table_shown(const hp_hypothesis *h)
{
    return h->fault.kind == HP_FAULT_SILENT ? hp_commutation_table_empty() : hp_table_get(h->table);
}

static double weigh(const hp_reading_case *c, const void *values)
{
    const hp_probe *probe = values;
    hp_commutation_table table = table_shown(c->hypothesis);
    double weight = 1.0;
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        if (!probe->read[code])
            continue;
        /* Another row is one of six pairs or none: six others. */
        bool same = probe->row[code].high == table.row[code].high &&
                    probe->row[code].low == table.row[code].low;
        weight *= same ? 1.0 - c->person->row_misread : c->person->row_misread / 6.0;
    }
    return weight;
}

static void typical(const hp_reading_case *c, void *values)
{
    hp_probe *probe = values;
    hp_commutation_table table = table_shown(c->hypothesis);
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        probe->read[code] = true;
        probe->row[code] = table.row[code];
    }
}

/* Which codes drive nothing by the table, nobody knows yet. */
static hp_tell drives(const void *values)
{
    const hp_probe *probe = values;
    for (int code = 0; code < HP_CODE_COUNT; code++)
        if (probe->read[code] && probe->row[code].high >= 0)
            return HP_TELL_YES;
    return HP_TELL_UNSAID;
}

static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_probe *probe = values;
    (void)err;
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        probe->read[code] = true;
        if (seen->fault != HP_PRACTICE_SILENT)
            probe->row[code] = seen->drive.controller.table.row[code];
    }
    return HP_OK;
}

const hp_reading hp_reading_probe = {
    .name = "controller_probe",
    .title = "controller probe",
    .size = sizeof(hp_probe),
    .fields = fields,
    .make = make,
    .check = check,
    .minutes = 12.0, /* chosen: eight codes, at six three voltages each, controller live */
    .rank = 6,
    .settles = true,
    .by_table = true,
    .typical = typical,
    .weigh = weigh,
    .drives = drives,
    .see = see,
};
