/* Leads, pairs and codes as a bench log spells them, and what a key's value must be: see
 * bench_log_keys.h. */
#include "record/log/bench_log_keys.h"

#include <stdarg.h>
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

int hp_bench_pair_find(const hp_labels *labels, const char *text)
{
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

/* ---- what is expected ------------------------------------------------------------------------ */

/* Adds to a text what still fits. */
static void add(char *out, size_t size, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void add(char *out, size_t size, const char *format, ...)
{
    size_t used = strlen(out);
    va_list args;
    va_start(args, format);
    vsnprintf(out + used, size - used, format, args);
    va_end(args);
}

/* ", ", " or " or nothing, before item k of `count`. */
static const char *between(int k, int count)
{
    return k == 0 ? "" : k == count - 1 ? " or " : ", ";
}

static void add_leads(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], char *out, size_t size)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add(out, size, "%s%s", between(k, HP_PHASE_COUNT), label[k]);
}

static void add_pairs(const hp_labels *labels, char *out, size_t size)
{
    char name[HP_BENCH_PAIR_SIZE];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add(out, size, "%s%s", between(k, HP_PHASE_COUNT),
            hp_bench_pair_name(labels, hp_bench_pair_order[k], name, sizeof name));
}

static void add_words(const char *const *words, char *out, size_t size)
{
    int count = 0;
    while (words[count])
        count++;
    for (int k = 0; k < count; k++)
        add(out, size, "%s%s", between(k, count), words[k]);
}

static void add_number(const hp_limits *limits, char *out, size_t size)
{
    add(out, size, "%s %s %.10g %s %.10g", limits->whole ? "a whole number" : "a number",
        limits->above ? "above" : "from", limits->low, limits->above ? "and at most" : "to",
        limits->high);
    if (limits->unit[0])
        add(out, size, " (%s)", limits->unit);
}

char *hp_bench_key_expected(const hp_bench_key *key, const hp_labels *labels, char *out,
                            size_t size)
{
    out[0] = '\0';
    switch (key->type) {
    case HP_BENCH_NUMBER:
    case HP_BENCH_WHOLE: add_number(&key->limits, out, size); break;
    case HP_BENCH_TELL: add(out, size, "yes or no"); break;
    case HP_BENCH_CHOICE:
    case HP_BENCH_BACKWARD:
    case HP_BENCH_PART: add_words(key->words, out, size); break;
    case HP_BENCH_PAIRS:
        add_number(&key->limits, out, size);
        add(out, size, "%s for each pair measured: ", key->limits.none ? ", or open," : "");
        add_pairs(labels, out, size);
        break;
    case HP_BENCH_CONTINUITY:
        add(out, size, "yes or no, for all pairs or for each: ");
        add_pairs(labels, out, size);
        break;
    case HP_BENCH_CODES:
        add(out, size, "1 to %d codes of three digits 0 or 1 such as 101 100 110", HP_TURN_CODES);
        break;
    case HP_BENCH_CODE: add(out, size, "three digits 0 or 1 such as \"110\""); break;
    case HP_BENCH_PHASE_LEAD: add_leads(labels->motor_lead, out, size); break;
    case HP_BENCH_WIRING:
        add(out, size,
            "a number from 1 to %d, or three sensor leads, a slash and three phase leads",
            HP_WIRING_COUNT);
        break;
    case HP_BENCH_ROWS:
        add(out, size, "codes with the output seen high > the output seen low, or off; outputs: ");
        add_leads(labels->controller_output, out, size);
        break;
    case HP_BENCH_PHASE_PINS:
        add(out, size, "a pin for each phase lead: ");
        add_leads(labels->motor_lead, out, size);
        break;
    case HP_BENCH_SENSOR_PINS:
        add(out, size, "a pin for each sensor lead: ");
        add_leads(labels->motor_sensor, out, size);
        break;
    case HP_BENCH_PIN: add(out, size, "a pin's name of 1 to %d bytes", HP_PLUG_PIN_SIZE - 1); break;
    case HP_BENCH_PART_LEAD: add(out, size, "the lead of the mended part"); break;
    }
    return out;
}
