/* What the words of commissioning's runs share: see the header. */
#include "report/words/words_running.h"

#include <stdio.h>
#include <string.h>

const hp_drive *hp_card_own_drive(const hp_card_context *context)
{
    return context->commission ? &context->commission->own.drive : context->drive;
}

hp_assess_case hp_card_assess_case(const hp_card_context *context)
{
    if (context->commission)
        return context->commission->given;
    return (hp_assess_case){
        .drive = context->drive, .labels = context->labels, .plan = context->plan};
}

static void foretell(const hp_card_context *context, hp_machine_fit *fit)
{
    const hp_person usual = hp_person_default();
    hp_assess_case given = hp_card_assess_case(context);
    if (!given.person)
        given.person = &usual;
    hp_machine_fit_foretell(&given, fit);
    fit->given = NULL; /* borrowed no longer than this */
}

hp_no_load_told hp_card_no_load(const hp_card_context *context, double volts)
{
    hp_machine_fit fit;
    foretell(context, &fit);
    return hp_machine_no_load(&fit, volts);
}

hp_part_told hp_card_part(const hp_card_context *context, double volts, double rad_s)
{
    hp_machine_fit fit;
    foretell(context, &fit);
    return hp_machine_part(&fit, volts, rad_s);
}

char *hp_card_range(double low, double high, char *out, size_t size)
{
    char from[HP_NUMBER_WORDS], to[HP_NUMBER_WORDS];
    hp_card_number(low, from, sizeof from);
    hp_card_number(high, to, sizeof to);
    if (strcmp(from, to) == 0)
        snprintf(out, size, "%s", from);
    else
        snprintf(out, size, "%s to %s", from, to);
    return out;
}
