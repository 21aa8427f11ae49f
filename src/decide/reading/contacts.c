/*
 * Contacts: each lead and plug tugged while the wheel runs, behind a limit. A lead that makes
 * contact now and then shows in no single look; it makes two looks at the same wiring differ.
 */
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"

static const char *const found_words[] = {"phase_lead", "hall_lead", "supply_lead", "nothing",
                                          NULL};

static const hp_field fields[] = {
    {.name = "loose",
     .type = HP_FIELD_CHOICE,
     .required = true,
     .words = found_words,
     .first = HP_CONTACT_PHASE_LEAD,
     .offset = offsetof(hp_contacts, loose),
     .argument = "WHAT",
     .help = "What made contact only now and then and is mended: phase_lead, hall_lead or "
             "supply_lead (battery, Hall supply or ground); nothing: all held"},
    {.name = NULL},
};

static hp_result check(const void *values, hp_error *err)
{
    const hp_contacts *c = values;
    return hp_check_whole(err, "what was loose", (int)c->loose, 0, HP_CONTACT_COUNT - 1);
}

static bool found_one(hp_contact loose)
{
    return loose != HP_CONTACT_UNSAID && loose != HP_CONTACT_NOTHING;
}

/* chosen: a stick finds plugs, bolts and what of a lead lies bare; a break inside the cable or in
 * the axle stays as it is, and so do two in five. One that is found loose was hardly ever good. */
#define MISSED   0.4
#define MISTAKEN 0.01

static double weigh(const hp_reading_case *c, const void *values)
{
    hp_contact loose = ((const hp_contacts *)values)->loose;
    bool is_loose = c->hypothesis->fault.kind == HP_FAULT_LOOSE;
    if (loose == HP_CONTACT_UNSAID)
        return 1.0;
    if (loose == HP_CONTACT_NOTHING)
        return is_loose ? MISSED : 1.0 - MISTAKEN;
    return is_loose ? 1.0 - MISSED : MISTAKEN;
}

static void typical(const hp_reading_case *c, void *values)
{
    bool is_loose = c->hypothesis && c->hypothesis->fault.kind == HP_FAULT_LOOSE;
    ((hp_contacts *)values)->loose = is_loose ? HP_CONTACT_HALL_LEAD : HP_CONTACT_NOTHING;
}

/* What was found is mended. */
static void change(const void *values, hp_hypothesis *h)
{
    if (found_one(((const hp_contacts *)values)->loose) && h->fault.kind == HP_FAULT_LOOSE)
        h->fault = (hp_fault){HP_FAULT_NONE, 0};
}

/* It is a mend as any other: of another lead were the looks before it. */
static hp_renewal renews(const void *values)
{
    return found_one(((const hp_contacts *)values)->loose) ? HP_RENEWS_PARTS : HP_RENEWS_NOTHING;
}

static hp_result see(hp_seen *seen, void *values, hp_error *err)
{
    hp_contact found = seen->machine->loose_hall ? HP_CONTACT_HALL_LEAD : HP_CONTACT_PHASE_LEAD;
    (void)err;
    ((hp_contacts *)values)->loose = seen->fault == HP_PRACTICE_LOOSE ? found : HP_CONTACT_NOTHING;
    return HP_OK;
}

const hp_reading hp_reading_contacts = {
    .name = "contacts",
    .title = "contacts",
    .size = sizeof(hp_contacts),
    .fields = fields,
    .check = check,
    .minutes = 3.0, /* chosen: nine leads, a tug each */
    .demand = HP_DEMAND_UNSTEADY | HP_DEMAND_END,
    .rank = 10,
    .proves = HP_PROVES(HP_FAULT_LOOSE),
    .shows_faults = true,
    .typical = typical,
    .weigh = weigh,
    .change = change,
    .renews = renews,
    .powers = HP_POWER_LEADS | HP_POWER_HALL,
    .see = see,
};
