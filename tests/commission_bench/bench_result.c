/* What a bench found: see the header. */
#include "bench_result.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bench_result bench_result_begin(const char *path)
{
    bench_result r = {.file = path ? fopen(path, "w") : NULL};
    if (path && !r.file) {
        perror(path);
        exit(2);
    }
    return r;
}

/* Takes the object over. */
static void put(bench_result *r, json_t *object)
{
    if (r->file) {
        json_dumpf(object, r->file, JSON_COMPACT | JSON_PRESERVE_ORDER);
        fputc('\n', r->file);
    }
    json_decref(object);
}

void bench_note(bench_result *r, const char *text)
{
    printf("%s\n", text);
    put(r, json_pack("{s:s, s:s}", "kind", "note", "text", text));
}

void bench_count(bench_result *r, const char *name, int count, int most, const char *reason)
{
    int good = count <= most;
    r->failures += !good;
    printf("%s%s: %d, at most %d (%s)\n", good ? "" : "FAILED ", name, count, most, reason);
    put(r,
        json_pack("{s:s, s:s, s:f, s:f, s:f, s:s, s:s, s:s, s:s, s:b}", "kind", "row", "name", name,
                  "value", (double)count, "reference", 0.0, "tolerance", (double)most, "unit", "",
                  "reason", reason, "source", "hidden machines", "status", "derived", "ok", good));
}

void bench_table_begin(bench_result *r, const char *title, int columns, const char *const column[])
{
    json_t *names = json_array();
    printf("\n%s\n|", title);
    for (int k = 0; k < columns; k++) {
        printf(" %s |", column[k]);
        json_array_append_new(names, json_string(column[k]));
    }
    printf("\n");
    r->table = json_pack("{s:s, s:s, s:o, s:[]}", "kind", "table", "title", title, "columns", names,
                         "rows");
}

void bench_table_row(bench_result *r, int columns, char cell[][BENCH_CELL])
{
    json_t *row = json_array();
    printf("|");
    for (int k = 0; k < columns; k++) {
        printf(" %s |", cell[k]);
        json_array_append_new(row, json_string(cell[k]));
    }
    printf("\n");
    json_array_append_new(json_object_get(r->table, "rows"), row);
}

int bench_result_end(bench_result *r)
{
    if (r->table)
        put(r, r->table);
    if (r->file && fclose(r->file) != 0)
        r->failures++;
    return r->failures;
}

void bench_wilson(int hits, int cases, double *low, double *high)
{
    const double z = 1.96, n = cases, share = cases > 0 ? hits / n : 0.0;
    double mid = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
    double half = z / (1.0 + z * z / n) * sqrt(share * (1.0 - share) / n + z * z / (4.0 * n * n));
    *low = mid - half;
    *high = mid + half;
}
