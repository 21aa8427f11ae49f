/* The log that a scenario's figures were learnt from: see bench_log.h. */
#include "hubphase/record/bench_log.h"

#include "base/hash.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static bool is_there(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0;
}

/* By whatever names. */
static bool is_same_file(const char *a, const char *b)
{
    struct stat one, other;
    return strcmp(a, b) == 0 || (stat(a, &one) == 0 && stat(b, &other) == 0 &&
                                 one.st_dev == other.st_dev && one.st_ino == other.st_ino);
}

bool hp_bench_log_learnt_path(const hp_scenario *scenario, char *out, size_t size)
{
    const char *log = scenario->learnt.log, *slash = strrchr(scenario->path, '/');
    int folder = slash && log[0] != '/' ? (int)(slash - scenario->path) + 1 : 0;
    int length = snprintf(out, size, "%.*s%s", folder, scenario->path, log);
    return log[0] && length >= 0 && (size_t)length < size;
}

hp_result hp_bench_log_path_of(const hp_scenario *scenario, const char *chosen, char *out,
                               size_t size, hp_error *err)
{
    char learnt[HP_BENCH_PATH_SIZE];
    hp_result result = hp_bench_log_path(scenario->path, chosen, out, size, err);
    if (result == HP_OK && !chosen && !is_there(out) &&
        hp_bench_log_learnt_path(scenario, learnt, sizeof learnt) && is_there(learnt))
        result = hp_bench_log_path(scenario->path, learnt, out, size, err);
    return result;
}

hp_result hp_bench_log_print_of(const hp_bench_log *log, int entries, const hp_labels *labels,
                                char *out, hp_error *err)
{
    char *all = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&all, &size);
    bool good = stream != NULL;
    for (int k = 0; good && k < entries && k < log->count; k++) {
        char *text = hp_bench_log_entry_text(&log->entry[k], labels);
        good = text && fputs(text, stream) >= 0;
        free(text);
    }
    good = stream && fclose(stream) == 0 && good;
    if (good)
        snprintf(out, HP_BENCH_PRINT, "%016" PRIx64, hp_hash_bytes(all, size));
    free(all);
    return good ? HP_OK : hp_error_set(err, HP_FAIL_MEMORY, "no memory for a log");
}

bool hp_bench_log_is_learnt(const hp_bench_log *log, const hp_scenario *scenario)
{
    char path[HP_BENCH_PATH_SIZE], print[HP_BENCH_PRINT];
    const hp_learnt *learnt = &scenario->learnt;
    if (log->count == 0 || !hp_bench_log_learnt_path(scenario, path, sizeof path))
        return false;
    if (is_same_file(path, log->path))
        return true;
    return log->count >= learnt->entries &&
           hp_bench_log_print_of(log, learnt->entries, &scenario->labels, print, NULL) == HP_OK &&
           strcmp(print, learnt->print) == 0;
}
