/*
 * Bench logs from a text in the test itself, and the scenario that they belong to.
 */
#ifndef HUBPHASE_TESTS_BENCH_TEXT_H
#define HUBPHASE_TESTS_BENCH_TEXT_H

#include "scenario_text.h"

#include "hubphase/record/bench_log.h"

/* The allotment barrow. */
static inline hp_scenario bench_scenario(void)
{
    loaded l = scenario_load_path(HP_SCENARIO_DIR "/barrow.yaml");
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    free(l.printed);
    return l.scenario;
}

typedef struct logged {
    hp_result result;
    hp_error err;
    hp_bench_log log;
    char *printed; /* owned */
} logged;

static inline logged bench_load_path(const hp_scenario *scenario, const char *path)
{
    logged l = {.err = hp_error_none()};
    size_t size = 0;
    FILE *out = open_memstream(&l.printed, &size);
    check_true(out != NULL, "no memory stream");
    l.result = hp_bench_log_load(path, scenario, &l.log, out, &l.err);
    fclose(out);
    return l;
}

static inline void logged_free(logged *l)
{
    hp_bench_log_free(&l->log);
    free(l->printed);
}

static inline logged bench_load_bytes(const hp_scenario *scenario, const char *name,
                                      const void *bytes, size_t size)
{
    scenario_file_write(name, bytes, size);
    logged l = bench_load_path(scenario, name);
    remove(name);
    return l;
}

/* A whole small file as text; owned by the caller. */
static inline char *slurp(const char *path)
{
    char *text = calloc(1, 1 << 17);
    FILE *file = fopen(path, "rb");
    check_true(file && text, "%s cannot be read", path);
    text[fread(text, 1, (1 << 17) - 1, file)] = '\0';
    fclose(file);
    return text;
}

#define BENCH_HEAD "hubphase_log: 1\nscenario: Allotment barrow\nentries:\n"
#define BENCH_TIME "time: 2026-11-25T10:40:00+01:00"

#endif
