/* Records comparisons: see the header. */
#include "record.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static char path[4096]; /* of the section going on; a test program has one at a time */

void record_section(const char *section)
{
    mkdir(HP_VALIDATION_DIR, 0777);
    snprintf(path, sizeof path, "%s/%s.jsonl", HP_VALIDATION_DIR, section);
    FILE *file = fopen(path, "w");
    if (file)
        fclose(file);
    else
        fprintf(stderr, "cannot write %s\n", path);
}

bool record_row(const char *name, const char *unit, double value, double reference,
                double tolerance, const char *reason, record_source source)
{
    /* Written so that a NaN fails. */
    bool good = fabs(value - reference) <= tolerance;
    json_t *row =
        json_pack("{s:s, s:s, s:s, s:s, s:s, s:s, s:b}", "kind", "row", "name", name, "unit", unit,
                  "reason", reason, "source", source.name, "status", source.status, "ok", good);
    /* Reals that JSON cannot hold are left out; such a row has failed anyway. */
    json_object_set_new(row, "value", json_real(isfinite(value) ? value : 0.0));
    json_object_set_new(row, "reference", json_real(reference));
    json_object_set_new(row, "tolerance", json_real(tolerance));
    FILE *file = fopen(path, "a");
    if (file) {
        json_dumpf(row, file, JSON_COMPACT | JSON_REAL_PRECISION(15));
        fputc('\n', file);
        fclose(file);
    }
    json_decref(row);
    return good && file;
}
