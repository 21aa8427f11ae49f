/*
 * Scenarios from a text in the test itself: written to a file in the working folder, loaded, and
 * what was printed caught.
 */
#ifndef HUBPHASE_TESTS_SCENARIO_TEXT_H
#define HUBPHASE_TESTS_SCENARIO_TEXT_H

#include "check.h"

#include "hubphase/record/scenario.h"

#include <stdlib.h>

typedef struct loaded {
    hp_result result;
    hp_error err;
    hp_scenario scenario;
    char *printed; /* owned */
} loaded;

static inline void scenario_file_write(const char *name, const void *bytes, size_t size)
{
    FILE *file = fopen(name, "wb");
    check_true(file != NULL, "%s cannot be written", name);
    check_true(fwrite(bytes, 1, size, file) == size, "%s cannot be written", name);
    check_int(fclose(file), 0);
}

static inline loaded scenario_load_path(const char *path)
{
    loaded l = {.err = hp_error_none()};
    size_t size = 0;
    FILE *out = open_memstream(&l.printed, &size);
    check_true(out != NULL, "no memory stream");
    l.result = hp_scenario_load(path, &l.scenario, out, &l.err);
    fclose(out);
    return l;
}

static inline void loaded_free(loaded *l)
{
    hp_scenario_free(&l->scenario);
    free(l->printed);
}

static inline loaded scenario_load_bytes(const char *name, const void *bytes, size_t size)
{
    scenario_file_write(name, bytes, size);
    loaded l = scenario_load_path(name);
    remove(name);
    return l;
}

static inline loaded scenario_load_text(const char *name, const char *text)
{
    return scenario_load_bytes(name, text, strlen(text));
}

#endif
