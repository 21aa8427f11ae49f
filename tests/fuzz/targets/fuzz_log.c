/*
 * A bench log: whatever is accepted can be added to, changed, taken from, and read again, and says
 * what it should then. The first byte of the input chooses what is done and where.
 */
#include "fuzz.h"

#define TIME "2026-11-25T10:40:00+01:00"

static bool read_log(const char *text, hp_bench_log *log)
{
    hp_error err = hp_error_none();
    memset(log, 0, sizeof *log);
    hp_result result = hp_bench_log_read(text, strlen(text), "fuzz.bench.yaml", fuzz_scenario(),
                                         log, fuzz_nowhere(), &err);
    promise(result == HP_OK || (result == HP_FAIL_INPUT && err.text[0] && log->count == 0));
    return result == HP_OK;
}

static void check_entries(const hp_bench_log *log)
{
    hp_screen out = hp_screen_plain(fuzz_nowhere());
    for (int k = 0; k < log->count; k++) {
        promise(log->entry[k].entry.number == k + 1);
        promise(hp_entry_check(&log->entry[k].entry, NULL) == HP_OK);
        hp_bench_entry_print(&log->entry[k], fuzz_scenario(), &out);
    }
}

/* An entry of this log or, in an empty one, one of the first kind of the list that needs nothing.
 */
static hp_bench_entry some_entry(const hp_bench_log *log, int which)
{
    hp_bench_entry entry = log->entry[which % log->count];
    snprintf(entry.time, sizeof entry.time, TIME);
    return entry;
}

/* The changed text, owned, which may be refused; never for a reason that is not told. */
static char *change(const char *text, const hp_bench_log *log, int what, int which)
{
    hp_error err = hp_error_none();
    char *changed = NULL;
    int number = which % log->count + 1;
    hp_bench_entry entry = some_entry(log, which / 3);
    hp_result result = HP_OK;
    switch (what) {
    case 0:
        result = hp_bench_log_append_text(text, fuzz_scenario(), &entry, &changed, NULL, &err);
        break;
    case 1:
        result = hp_bench_log_replace_text(text, number, fuzz_scenario(), &entry, TIME, &changed,
                                           NULL, &err);
        break;
    default:
        result =
            hp_bench_log_remove_text(text, number, fuzz_scenario(), TIME, &changed, NULL, &err);
        break;
    }
    promise((result == HP_OK) == (changed != NULL));
    promise(result == HP_OK || (result == HP_FAIL_INPUT && err.text[0]));
    return changed;
}

/* Entry `k` of both logs says the same but for its number and line. */
static void check_same(const hp_bench_log *a, int k, const hp_bench_log *b, int n)
{
    char *one = hp_bench_log_entry_text(&a->entry[k], &fuzz_scenario()->labels);
    char *other = hp_bench_log_entry_text(&b->entry[n], &fuzz_scenario()->labels);
    promise(one && other && strcmp(one, other) == 0);
    free(one);
    free(other);
}

static void check_change(const hp_bench_log *before, const hp_bench_log *after, int what, int which)
{
    int at = which % before->count;
    promise(after->count == before->count + (what == 0 ? 1 : what == 1 ? 0 : -1));
    for (int k = 0; k < before->count; k++) {
        if (k == at && what != 0)
            continue;
        check_same(before, k, after, k - (what > 1 && k > at));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 1)
        return 0;
    int what = data[0] % 3, which = data[0] / 3;
    char *text = fuzz_text(data + 1, size - 1);
    hp_bench_log log, again;
    if (strlen(text) == size - 1 && read_log(text, &log)) {
        check_entries(&log);
        char *changed = log.count > 0 ? change(text, &log, what, which) : NULL;
        if (changed) {
            promise(read_log(changed, &again));
            check_change(&log, &again, what, which);
            hp_bench_log_free(&again);
        }
        free(changed);
        hp_bench_log_free(&log);
    }
    free(text);
    return 0;
}
