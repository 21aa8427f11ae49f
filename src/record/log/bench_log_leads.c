/* Leads, pairs and codes as a bench log spells them: see field.h. */
#include "record/log/field.h"

#include <string.h>
#include <strings.h>

const int hp_bench_pair_order[HP_PHASE_COUNT] = {2, 0, 1};

int hp_bench_lead_find(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], const char *text)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (label[k][0] && strcasecmp(text, label[k]) == 0)
            return k;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        const char letter[] = {hp_phase_letter(k), '\0'};
        if (strcasecmp(text, letter) == 0)
            return k;
    }
    return -1;
}

/* The leads of a pair, in the order of a turn. */
static void leads_of(int pair, int *first, int *second)
{
    *first = (pair + 1) % HP_PHASE_COUNT;
    *second = (pair + 2) % HP_PHASE_COUNT;
}

/* Whether the text is `first`, a sign between, `second`. */
static bool is_joined(const char *text, const char *first, const char *second)
{
    size_t length = strlen(first);
    if (length == 0 || strncasecmp(text, first, length) != 0)
        return false;
    size_t between = strspn(text + length, " -/");
    return between > 0 && strcasecmp(text + length + between, second) == 0;
}

/* The pair whose own name this is, in either order; -1: none. Names may begin and end in the sign
 * between them. */
static int pair_named(const hp_labels *labels, const char *text)
{
    char name[HP_BENCH_PAIR_SIZE];
    for (int a = 0; a < HP_PHASE_COUNT; a++)
        for (int b = 0; b < HP_PHASE_COUNT; b++) {
            snprintf(name, sizeof name, "%s-%s", labels->motor_lead[a], labels->motor_lead[b]);
            if (a != b && strcasecmp(text, name) == 0)
                return HP_PHASE_COUNT - a - b;
        }
    return -1;
}

int hp_bench_pair_find(const hp_labels *labels, const char *text)
{
    int named = pair_named(labels, text);
    if (named >= 0)
        return named;
    for (int form = 0; form < 4; form++)
        for (int a = 0; a < HP_PHASE_COUNT; a++)
            for (int b = 0; b < HP_PHASE_COUNT; b++) {
                const char one[] = {hp_phase_letter(a), '\0'}, two[] = {hp_phase_letter(b), '\0'};
                const char *first = form & 1 ? one : labels->motor_lead[a];
                const char *second = form & 2 ? two : labels->motor_lead[b];
                if (a != b && is_joined(text, first, second))
                    return HP_PHASE_COUNT - a - b;
            }
    return -1;
}

char *hp_bench_pair_name(const hp_labels *labels, int pair, char *out, size_t size)
{
    int first, second;
    leads_of(pair, &first, &second);
    snprintf(out, size, "%s-%s", labels->motor_lead[first], labels->motor_lead[second]);
    return out;
}

int hp_bench_code_find(const char *text)
{
    if (strlen(text) != 3 || strspn(text, "01") != 3)
        return -1;
    return hp_code(text[0] - '0', text[1] - '0', text[2] - '0');
}
