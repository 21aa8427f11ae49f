/* The list of parameters: see the header. */
#include "record/scenario/scenario_list.h"

#include "hubphase/base/text.h"
#include "record/scenario/parameters.h"
#include "record/scenario/scenario_number.h"

#include <math.h>
#include <string.h>

static void write_number(const hp_reader *reader, hp_key_id id, hp_parameter *parameter)
{
    double number = hp_reader_number(reader, id);
    if (hp_key_of(id)->limits.none && number == 0.0) {
        snprintf(parameter->value, sizeof parameter->value, "none");
        return;
    }
    snprintf(parameter->value, sizeof parameter->value, "%.6g", number);
    parameter->number = number;
}

/* A word that is a number, such as 120, counts as one. */
static void write_choice(const char *word, hp_parameter *parameter)
{
    double number;
    snprintf(parameter->value, sizeof parameter->value, "%s", word);
    if (hp_number_read(word, &number) == HP_NUMBER_FINE)
        parameter->number = number;
}

static void write_table(const hp_draft *draft, hp_parameter *parameter)
{
    hp_phrase p = hp_phrase_begin(parameter->value, sizeof parameter->value);
    if (draft->table_named) {
        write_choice(hp_table_names[draft->table_name], parameter);
        return;
    }
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        hp_commutation_row row = draft->drive.controller.table.row[code];
        if (row.high >= 0)
            hp_phrase_add(&p, "%s%d%d%d: %c>%c", p.used ? ", " : "", code >> 2, code >> 1 & 1,
                          code & 1, hp_phase_letter(row.high), hp_phase_letter(row.low));
    }
}

static void write_steps(const hp_draft *draft, hp_parameter *parameter)
{
    char *out = parameter->value;
    hp_phrase p = hp_phrase_begin(out, sizeof parameter->value);
    if (draft->speed_steps == 0) {
        hp_phrase_add(&p, "[100]");
        return;
    }
    for (int k = 0; k < draft->speed_steps; k++)
        hp_phrase_add(&p, "%s%.6g", k ? ", " : "[", draft->speed_step_percent[k]);
    hp_phrase_add(&p, "]");
}

/* "n: cosine sine; ..." of the entries that are not zero; cut with dots where there are many. */
static void write_harmonics(const hp_backemf *backemf, hp_parameter *parameter)
{
    char *out = parameter->value;
    const size_t size = sizeof parameter->value;
    hp_phrase p = hp_phrase_begin(out, size);
    for (int n = 1; n <= backemf->harmonics; n++)
        if (backemf->cosine[n] != 0.0 || backemf->sine[n] != 0.0)
            hp_phrase_add(&p, "%s%d: %.4g %.4g", p.used ? "; " : "", n, backemf->cosine[n],
                          backemf->sine[n]);
    if (p.cut)
        memcpy(out + size - 4, "...", 4);
}

/* Stretches as "500 m at 6 %"; cut with dots where there are many. */
static void write_ride(const hp_vehicle *vehicle, hp_parameter *parameter)
{
    char *out = parameter->value;
    const size_t size = sizeof parameter->value;
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < vehicle->stretches; k++)
        hp_phrase_add(&p, "%s%.6g m at %.4g %%", k ? ", " : "", vehicle->ride[k].metres,
                      vehicle->ride[k].percent);
    if (p.cut)
        memcpy(out + size - 4, "...", 4);
}

static void write_special(const hp_reader *reader, hp_key_id id, hp_parameter *parameter)
{
    const hp_draft *draft = &reader->draft;
    if (id == HP_KEY_TABLE)
        write_table(draft, parameter);
    else if (id == HP_KEY_SPEED_STEPS)
        write_steps(draft, parameter);
    else if (id == HP_KEY_RIDE)
        write_ride(&draft->vehicle, parameter);
    else if (id == HP_KEY_HARMONICS)
        write_harmonics(&draft->drive.motor.backemf, parameter);
}

static void write_value(const hp_reader *reader, hp_key_id id, hp_parameter *parameter)
{
    const hp_key *key = hp_key_of(id);
    const char *at = (const char *)&reader->draft + key->offset;
    int choice;
    bool flag;
    switch (key->kind) {
    case HP_KEY_IS_NUMBER:
    case HP_KEY_IS_WHOLE: write_number(reader, id, parameter); break;
    case HP_KEY_IS_FLAG:
        memcpy(&flag, at, sizeof flag);
        snprintf(parameter->value, sizeof parameter->value, "%s", flag ? "yes" : "no");
        break;
    case HP_KEY_IS_CHOICE:
        memcpy(&choice, at, sizeof choice);
        write_choice(key->words[choice], parameter);
        break;
    case HP_KEY_IS_LINE:
    case HP_KEY_IS_LABEL: snprintf(parameter->value, sizeof parameter->value, "%s", at); break;
    case HP_KEY_IS_SECTION: break;
    case HP_KEY_IS_SPECIAL: write_special(reader, id, parameter); break;
    }
}

/* Whether the key says anything in this scenario. */
static bool is_listed(const hp_reader *reader, hp_key_id id)
{
    const hp_key *key = hp_key_of(id);
    const hp_key_found *reading = &reader->reading[id];
    if (key->kind == HP_KEY_IS_SECTION || id == HP_KEY_FORMAT || id == HP_KEY_ABOUT ||
        id == HP_KEY_HARNESS || (id > HP_KEY_LEARNT && id <= HP_KEY_LEARNT_BEFORE) || reading->idle)
        return false;
    if (reading->state == HP_VALUE_GOOD || reading->derived)
        return true;
    return key->why && key->kind != HP_KEY_IS_LINE;
}

hp_result hp_scenario_list(const hp_reader *reader, hp_key_id from, hp_key_id until,
                           hp_parameters *list, hp_error *err)
{
    for (hp_key_id id = from; id < until; id++) {
        const hp_key_found *reading = &reader->reading[id];
        hp_parameter parameter = {.number = NAN, .origin = HP_ORIGIN_DEFAULT};
        if (!is_listed(reader, id))
            continue;
        const char *why = hp_key_of(id)->why;
        snprintf(parameter.key, sizeof parameter.key, "%s", hp_key_of(id)->path);
        write_value(reader, id, &parameter);
        if (reading->derived) {
            parameter.origin = HP_ORIGIN_DERIVED;
            why = reading->why;
        } else if (reading->changed) {
            parameter.origin = HP_ORIGIN_OPTION;
            why = "stated in place of the scenario";
        } else if (reading->state == HP_VALUE_GOOD) {
            parameter.origin = HP_ORIGIN_FILE;
            parameter.line = reading->place.line;
            why = "";
        }
        snprintf(parameter.why, sizeof parameter.why, "%s", why ? why : "");
        if (hp_parameters_add(list, &parameter) != HP_OK)
            return hp_error_set(err, HP_FAIL_MEMORY, "no memory for the list of parameters");
    }
    return HP_OK;
}
