/*
 * A wiring as a person writes it: see scenario.h.
 *
 * Labels are free text and may hold blanks, commas and slashes, so the text is not cut into words
 * first: at each place the longest label that stands there is taken, and only then the letter of an
 * axis.
 */
#include "hubphase/record/scenario.h"

#include "hubphase/base/text.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* One group of leads. */
typedef struct group {
    const char *what;                   /* "Hall lead" */
    const char (*label)[HP_LABEL_SIZE]; /* [HP_PHASE_COUNT] */
} group;

static bool is_between(char c)
{
    return c == ' ' || c == ',' || c == '\t';
}

static const char *skip(const char *text)
{
    while (is_between(*text))
        text++;
    return text;
}

/* Whether `label` stands at the start of the text and ends there as a word. */
static bool stands_at(const char *text, const char *label)
{
    size_t length = strlen(label);
    return length > 0 && strncasecmp(text, label, length) == 0 &&
           (text[length] == '\0' || text[length] == '/' || is_between(text[length]));
}

/* The lead named at the start of the text; -1 when there is none. */
static int lead_at(const char *text, const group *leads, size_t *length)
{
    int found = -1;
    *length = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (stands_at(text, leads->label[k]) && strlen(leads->label[k]) > *length) {
            *length = strlen(leads->label[k]);
            found = k;
        }
    for (int k = 0; k < HP_PHASE_COUNT && found < 0; k++) {
        const char letter[] = {hp_phase_letter(k), '\0'};
        if (stands_at(text, letter)) {
            *length = 1;
            found = k;
        }
    }
    return found;
}

/* "U (yellow), V (green), W (blue)" */
static void list_leads(const group *leads, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        hp_phrase_add(&p, "%s%c (%s)", k ? ", " : "", hp_phase_letter(k), leads->label[k]);
}

static hp_result refuse_word(const char *whole, const char *at, const group *leads, hp_error *err)
{
    char list[4 * HP_LABEL_SIZE];
    size_t length = strcspn(at, " ,/\t");
    list_leads(leads, list, sizeof list);
    if (length == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "\"%.200s\" names too few %ss, must name three of %s", whole,
                            leads->what, list);
    return hp_error_set(err, HP_FAIL_INPUT,
                        "\"%.*s\" in \"%.200s\" is no %s of this motor, must be one of %s",
                        (int)(length < 60 ? length : 60), at, whole, leads->what, list);
}

/* Reads three leads, each once, and moves on behind them. */
static hp_result read_group(const char *whole, const char **text, const group *leads,
                            int order[HP_PHASE_COUNT], hp_error *err)
{
    bool used[HP_PHASE_COUNT] = {false};
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        size_t length;
        const char *at = skip(*text);
        int lead = lead_at(at, leads, &length);
        if (lead < 0)
            return refuse_word(whole, at, leads, err);
        if (used[lead])
            return hp_error_set(err, HP_FAIL_INPUT,
                                "\"%.200s\" names the %s %c (%s) twice, must name each once", whole,
                                leads->what, hp_phase_letter(lead), leads->label[lead]);
        used[lead] = true;
        order[k] = lead;
        *text = at + length;
    }
    *text = skip(*text);
    return HP_OK;
}

/* A text of digits alone. */
static hp_result read_number(const char *text, hp_wiring *wiring, hp_error *err)
{
    size_t digits = strspn(text, "0123456789");
    long number = digits < 6 ? strtol(text, NULL, 10) : 0;
    if (number < 1 || number > HP_WIRING_COUNT)
        return hp_error_set(err, HP_FAIL_INPUT, "wiring %.40s does not exist, must be 1 to %d",
                            text, HP_WIRING_COUNT);
    *wiring = hp_wiring_from_number((int)number);
    return HP_OK;
}

hp_result hp_wiring_parse(const char *text, const hp_labels *labels, hp_wiring *wiring,
                          hp_error *err)
{
    const group sensors = {"Hall lead", labels->motor_sensor};
    const group phases = {"phase lead", labels->motor_lead};
    const char *at = skip(text);
    size_t digits = strspn(at, "0123456789");
    if (digits > 0 && *skip(at + digits) == '\0')
        return read_number(at, wiring, err);
    hp_wiring read;
    hp_result result = read_group(text, &at, &sensors, read.sensor, err);
    if (result != HP_OK)
        return result;
    if (*at != '/')
        return hp_error_set(err, HP_FAIL_INPUT,
                            "\"%.200s\" must have a slash between three Hall leads and three "
                            "phase leads, or be a number from 1 to %d",
                            text, HP_WIRING_COUNT);
    at++;
    result = read_group(text, &at, &phases, read.phase, err);
    if (result != HP_OK)
        return result;
    if (*at)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "\"%.200s\" goes on after three phase leads, must end there", text);
    *wiring = read;
    return HP_OK;
}
