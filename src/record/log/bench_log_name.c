/* Names and times of a bench log: see bench_log.h. */
#include "record/log/bench_log_parts.h"
#include "record/scenario/scenario_keys.h"

#include "hubphase/base/text.h"

#include <string.h>
#include <time.h>

const char *const hp_bench_figures_words[] = {"measured", "typical", NULL};

const char *hp_bench_nearest(const char *name, const char *const *words, int count)
{
    /* A misspelling differs in a third of its letters at most. */
    int best = (int)(strlen(name) / 3) + 1;
    const char *nearest = NULL;
    for (int k = 0; k < count; k++) {
        int distance = hp_key_distance(name, words[k]);
        if (distance < best) {
            best = distance;
            nearest = words[k];
        }
    }
    return nearest;
}

const hp_reading *hp_reading_nearest(const char *name)
{
    const char *word[HP_READINGS_MAX];
    int count = 0;
    for (; hp_readings[count]; count++)
        word[count] = hp_reading_name(hp_readings[count]);
    const char *nearest = hp_bench_nearest(name, word, count);
    return nearest ? hp_reading_find(nearest) : NULL;
}

/* ---- names ----------------------------------------------------------------------------------- */

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* Length of a file's name without `.yaml` or `.yml`. */
static size_t stem_length(const char *name)
{
    size_t length = strlen(name);
    if (length > 5 && strcmp(name + length - 5, ".yaml") == 0)
        return length - 5;
    return length > 4 && strcmp(name + length - 4, ".yml") == 0 ? length - 4 : length;
}

hp_result hp_bench_log_path(const char *scenario_path, const char *chosen, char *out, size_t size,
                            hp_error *err)
{
    int length = chosen ? snprintf(out, size, "%s", chosen)
                        : snprintf(out, size, "%.*s.bench.yaml", (int)stem_length(scenario_path),
                                   scenario_path);
    if (chosen && !chosen[0])
        return hp_error_set(err, HP_FAIL_INPUT, "the name of the bench log is empty");
    if (length < 0 || (size_t)length >= size || length >= HP_BENCH_PATH_SIZE)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "the name of the bench log has %d bytes, must have "
                            "at most %d",
                            length, HP_BENCH_PATH_SIZE - 1);
    return HP_OK;
}

char *hp_bench_log_scenario_name(const hp_scenario *scenario, char *out, size_t size)
{
    const char *base = base_name(scenario->path);
    char stem[sizeof scenario->path];
    if (scenario->labels.machine[0] || scenario->learnt.scenario[0]) {
        snprintf(out, size, "%s",
                 scenario->labels.machine[0] ? scenario->labels.machine
                                             : scenario->learnt.scenario);
        return out;
    }
    /* A file may be called anything, a name in a log must be a clean text. */
    snprintf(stem, sizeof stem, "%.*s", (int)stem_length(base), base);
    return hp_text_clean(stem, out, size);
}

/* ---- time ------------------------------------------------------------------------------------ */

/* Reads digits where the pattern has them; false when the text differs from it elsewhere. */
static bool match(const char *text, const char *pattern, int number[])
{
    int k = -1;
    for (char last = '\0'; *pattern; last = *pattern, pattern++, text++) {
        if (*pattern != '0') {
            if (*text != *pattern)
                return false;
            continue;
        }
        if (*text < '0' || *text > '9')
            return false;
        if (last != '0')
            number[++k] = 0;
        number[k] = 10 * number[k] + (*text - '0');
    }
    return true;
}

static int days_of(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && leap);
}

bool hp_bench_log_time_check(const char *text)
{
    int n[5], second = 0, offset[2] = {0, 0};
    if (strlen(text) < 17 || !match(text, "0000-00-00T00:00", n))
        return false;
    const char *rest = text + 16;
    if (*rest == ':') {
        if (!match(rest, ":00", &second))
            return false;
        rest += 3;
    }
    bool utc = strcmp(rest, "Z") == 0;
    if (!utc &&
        (strlen(rest) != 6 || (!match(rest, "+00:00", offset) && !match(rest, "-00:00", offset))))
        return false;
    /* A leap second counts 60; the widest offsets in use are 14 hours. */
    return n[1] >= 1 && n[1] <= 12 && n[2] >= 1 && n[2] <= days_of(n[0], n[1]) && n[3] < 24 &&
           n[4] < 60 && second <= 60 && offset[0] <= 14 && offset[1] < 60;
}

/* As one text. False when the parts give none that the log takes, such as offsets beyond 14 hours,
 * which a zone like XYZ+99 has. */
static bool put_time(const struct tm *parts, char *out, size_t size)
{
    char local[32], offset[8];
    /* strftime writes +0100; the log wants the colon of ISO 8601's extended form. */
    if (!strftime(local, sizeof local, "%Y-%m-%dT%H:%M:%S", parts) ||
        strftime(offset, sizeof offset, "%z", parts) != 5)
        return false;
    snprintf(out, size, "%s%.3s:%s", local, offset, offset + 3);
    return hp_bench_log_time_check(out);
}

char *hp_bench_log_now(char *out, size_t size)
{
    struct tm parts;
    time_t now = time(NULL);
    if (!localtime_r(&now, &parts) || !put_time(&parts, out, size))
        put_time(gmtime_r(&now, &parts), out, size);
    return out;
}
