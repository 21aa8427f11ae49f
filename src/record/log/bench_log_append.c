/*
 * Changes to a bench log's file: see bench_log.h.
 *
 * A change is made under a lock: the file is read and checked, the new bytes (the old ones,
 * comments and all, and the change) are checked by reading them too, written and brought to the
 * disk as base/files.h does it. Whenever the program is killed, the name stands for the whole old
 * or the whole new file. A file that cannot be read is never replaced.
 *
 * The lock is flock on the folder. Not on the log: renaming gives its name to another file, so two
 * programs could hold locks on two files of one name. Not on a lock file of its own: one more file
 * in people's folders, which somebody sooner or later deletes while it is locked. The price:
 * changes to all logs of one folder wait for each other, for some milliseconds. The system gives
 * the lock back when a program dies.
 *
 * The system gives the lock to whoever asks first after it became free, which is who just had it
 * where a program makes change after change; one that waits would wait until the other is done. So
 * who comes right after a change lets those go first who were there before.
 */
#include "base/hash.h"
#include "hubphase/base/files.h"
#include "record/log/bench_log_parts.h"
#include "record/scenario/line_ends.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>

/* How long to wait for another program, and how often to look. */
#define WAIT_MS 10000
#define LOOK_MS 2
/* A change is so recent, in what clocks of file systems tell, and those who wait for so long go
 * first. */
#define RECENT_MS   20
#define GIVE_WAY_MS 6

/* ---- the place of the file, locked ----------------------------------------------------------- */

static hp_result fail(hp_error *err, const char *path, const char *why)
{
    return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: %s", path, why);
}

static void pause_ms(long milliseconds)
{
    const struct timespec pause = {0, milliseconds * 1000000L};
    nanosleep(&pause, NULL);
}

/* A folder changes with each file that gets its name. */
static void give_way(const hp_file *file)
{
    struct stat folder;
    struct timespec now;
    if (fstat(file->folder, &folder) != 0 || clock_gettime(CLOCK_REALTIME, &now) != 0)
        return;
    double ago_ms = 1e3 * (double)(now.tv_sec - folder.st_mtim.tv_sec) +
                    1e-6 * (double)(now.tv_nsec - folder.st_mtim.tv_nsec);
    if (ago_ms >= 0.0 && ago_ms < RECENT_MS)
        pause_ms(GIVE_WAY_MS);
}

static hp_result lock(const hp_file *file, const char *path, hp_error *err)
{
    give_way(file);
    for (int waited = 0; flock(file->folder, LOCK_EX | LOCK_NB) != 0; waited += LOOK_MS) {
        if (errno == EBADF) /* a folder that may not be read */
            return fail(err, path, hp_file_cause(EACCES));
        if (errno != EWOULDBLOCK && errno != EINTR)
            return fail(err, path, hp_file_cause(errno));
        if (waited >= WAIT_MS)
            return fail(err, path, "another program has kept its folder locked for ten seconds");
        pause_ms(LOOK_MS);
    }
    return HP_OK;
}

/* Finds the file, locks its folder and looks at the file again. Discard in any case. */
static hp_result open_site(hp_file *file, const char *path, hp_error *err)
{
    int cause = hp_file_find(file, path);
    if (cause == ENOENT && path[0])
        return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: folder %.*s: %s", path,
                            strrchr(path, '/') ? (int)(strrchr(path, '/') - path) + 1 : 1,
                            strrchr(path, '/') ? path : ".", hp_file_cause(cause));
    if (cause)
        return fail(err, path, hp_file_cause(cause));
    if (file->there && !file->plain)
        return fail(err, path, "it is no plain file");
    if (file->dangling)
        return fail(err, path, "it is a link to a file that is not there");
    hp_result result = lock(file, path, err);
    cause = result == HP_OK ? hp_file_look(file) : 0;
    return cause ? fail(err, path, hp_file_cause(cause)) : result;
}

/* Discards the place, and so gives the lock back. */
static hp_result replace(hp_file *file, const char *path, const char *bytes, size_t size,
                         hp_error *err)
{
    int cause = hp_file_begin(file, true);
    if (cause)
        return fail(err, path, hp_file_cause(cause));
    errno = 0;
    if (fwrite(bytes, 1, size, file->file) != size)
        cause = errno ? errno : EIO;
    if (!cause)
        cause = hp_file_commit(file);
    if (cause && file->taken)
        return hp_error_set(err, HP_FAIL_IO,
                            "%s was written, but may not outlast a loss of power: %s", path,
                            hp_file_cause(cause));
    return cause ? fail(err, path, hp_file_cause(cause)) : HP_OK;
}

/* ---- a change -------------------------------------------------------------------------------- */

typedef struct change {
    const char *path;            /* as the user named it; borrowed */
    hp_file site;                /* its folder is locked; nothing where the log is in memory */
    bool there;                  /* there is an old log */
    const hp_scenario *scenario; /* borrowed */
    hp_source source;            /* the old file; no text when there is none */
    hp_bench_log log;            /* what it says */
    hp_bench_text text;
    hp_problems *problems;       /* owned */
    int number;                  /* of the entry that is changed; the count and one: added */
    const hp_bench_entry *entry; /* what it becomes; NULL: it goes; borrowed */
    const char *time;            /* when it was changed; NULL: now; borrowed */
} change;

static void change_end(change *c)
{
    hp_bench_log_free(&c->log);
    hp_source_free(&c->source);
    free(c->problems);
    hp_file_discard(&c->site);
}

/* The old log: from its file, which is locked, or from memory. `text` NULL: there is none. */
static hp_result fetch(change *c, bool in_memory, const char *text, hp_error *err)
{
    if (in_memory) {
        c->there = text != NULL;
        return text ? hp_source_copy_as(&c->source, text, strlen(text), c->path, "bench log",
                                        "hubphase_log: 1", err)
                    : HP_OK;
    }
    hp_result result = open_site(&c->site, c->path, err);
    if (result != HP_OK)
        return result;
    result = hp_bench_log_fetch(c->path, &c->source, &c->there, err);
    /* What cannot be read is a wrong input: a failed write is another thing. */
    if (result == HP_FAIL_IO && err)
        err->code = HP_FAIL_INPUT;
    return result == HP_FAIL_IO ? HP_FAIL_INPUT : result;
}

/* Reads and checks. End in any case. */
static hp_result change_begin(change *c, bool in_memory, const char *text, const char *path,
                              const hp_scenario *scenario, FILE *diagnostics, hp_error *err)
{
    const hp_screen unfilled = {.file = diagnostics};
    memset(c, 0, sizeof *c);
    c->path = path;
    c->scenario = scenario;
    hp_result result = fetch(c, in_memory, text, err);
    c->problems = calloc(1, sizeof *c->problems);
    if (result == HP_OK && !c->problems)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    if (result == HP_OK && c->there)
        result = hp_bench_log_parse(&c->source, scenario, &c->log, &c->text, c->problems, err);
    if (result == HP_FAIL_INPUT && c->problems && c->problems->count > 0)
        return hp_bench_log_report(path, c->problems, &c->source, diagnostics ? &unfilled : NULL,
                                   err);
    if (result == HP_OK && c->there && !c->text.list_last)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s: entries must be the last key and have its entries line by line, "
                            "each after a dash, so that one can be added or taken back",
                            path);
    return result;
}

/* Whether two entries have the same text. */
static hp_result compare_text(const hp_bench_entry *a, const hp_bench_entry *b,
                              const hp_labels *labels, hp_error *err)
{
    char *one = hp_bench_log_entry_text(a, labels), *two = hp_bench_log_entry_text(b, labels);
    hp_result result = HP_OK;
    if (!one || !two)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for an entry");
    else if (strcmp(one, two) != 0)
        result = hp_error_set(err, HP_FAIL_INPUT, "it would be read as something else");
    free(one);
    free(two);
    return result;
}

/* Whether a log says what it is to say after the change: the old entries and no others, but for the
 * one that is changed. */
static hp_result check_said(const change *c, const hp_bench_log *log, hp_error *err)
{
    const hp_labels *labels = &c->scenario->labels;
    hp_result result = HP_OK;
    if (log->count != c->log.count + (c->number > c->log.count) - (c->entry == NULL))
        return hp_error_set(err, HP_FAIL_INPUT, "it would be read as something else");
    for (int k = 0; result == HP_OK && k < log->count; k++) {
        const hp_bench_entry *old = &c->log.entry[k + (!c->entry && k >= c->number - 1)];
        const hp_bench_entry *wanted = c->entry && k == c->number - 1 ? c->entry : old;
        result = compare_text(&log->entry[k], wanted, labels, err);
    }
    return result;
}

/* Whether the new bytes are read as the change means them. */
static hp_result check_new(const change *c, const char *bytes, size_t size, hp_error *err)
{
    hp_source source = {.path = c->path,
                        .what = "bench log",
                        .begins = "hubphase_log: 1",
                        .text = bytes,
                        .size = size};
    hp_bench_log log;
    hp_bench_text text;
    hp_error cause = hp_error_none();
    if (size > HP_SCENARIO_BYTES_MAX)
        return hp_error_set(
            err, HP_FAIL_INPUT,
            "%s is full and left as it was: with %s it would have %zu bytes, must "
            "have at most %d; take old comments out of it by hand, or begin "
            "another log",
            c->path, c->number > c->log.count ? "this entry" : "the entry's lines kept as comments",
            size, HP_SCENARIO_BYTES_MAX);
    memset(&log, 0, sizeof log);
    memset(c->problems, 0, sizeof *c->problems);
    /* A byte order mark was skipped in the old text. */
    if (size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) {
        source.text += 3;
        source.size -= 3;
    }
    hp_result result = hp_bench_log_parse(&source, c->scenario, &log, &text, c->problems, &cause);
    if (result == HP_FAIL_INPUT && c->problems->count > 0)
        hp_error_set(&cause, result, "%s", c->problems->item[0].text);
    if (result == HP_OK)
        result = check_said(c, &log, &cause);
    hp_bench_log_free(&log);
    if (result == HP_OK)
        return HP_OK;
    return hp_error_set(err, result, "%s is left as it was: the change would not be read back: %s",
                        c->path, cause.text);
}

/* The old file's bytes, with its byte order mark. */
static void put_old(FILE *out, const hp_source *source, size_t size)
{
    if (source->buffer)
        fwrite(source->buffer, 1, (size_t)(source->text - source->buffer) + size, out);
}

/* The entry, its lines ended as those of the old file. False: no memory. */
static bool put_entry(FILE *out, const change *c)
{
    hp_lines lines;
    if (!hp_lines_begin(&lines))
        return false;
    hp_bench_put_entry(lines.file, c->entry, &c->scenario->labels,
                       c->text.column ? c->text.column : 3);
    return hp_lines_finish(&lines, out, c->source.text ? c->source.text : "");
}

static bool put_appended(FILE *out, const change *c)
{
    const hp_source *source = &c->source;
    if (!c->there) {
        char *head = hp_bench_log_head_text(c->scenario);
        if (head)
            fputs(head, out);
        free(head);
        if (!head)
            return false;
    }
    put_old(out, source, source->size);
    if (source->size > 0 && hp_line_end_at(source->text + source->size - 1) == 0)
        fputs(hp_line_end_of(source->text), out);
    return put_entry(out, c);
}

bool hp_bench_is_bare(const char *at, size_t length)
{
    size_t blanks = strspn(at, " \t\r");
    return blanks >= length || at[blanks] == '#';
}

/* The line after this one. */
static const char *next_line(const char *at, const char *end)
{
    at += strcspn(at, "\r\n");
    return at < end ? at + hp_line_end_at(at) : at;
}

/* Behind the last line of an entry that says something: comments after it belong to the next. */
static const char *behind_last(const char *at, const char *end)
{
    const char *behind = at;
    for (; at < end; at = next_line(at, end))
        if (!hp_bench_is_bare(at, strcspn(at, "\r\n")))
            behind = next_line(at, end);
    return behind;
}

/* The old lines before the entry as they are, its own as comments, if they are not, what it
 * becomes, and the rest. */
static bool put_changed(FILE *out, const change *c)
{
    char now[HP_BENCH_TIME_SIZE];
    size_t length;
    const hp_bench_entry *old = &c->log.entry[c->number - 1];
    const char *text = c->source.text, *end = text + c->source.size;
    const char *ends = hp_line_end_of(text);
    bool good = true;
    const char *at = hp_source_line(&c->source, old->line, &length);
    const char *next =
        c->number < c->log.count ? hp_source_line(&c->source, old[1].line, &length) : end;
    const char *behind = behind_last(at, next);
    put_old(out, &c->source, (size_t)(at - text));
    fprintf(out, "# %s %s:%s", c->entry ? "changed" : "taken back",
            c->time ? c->time : hp_bench_log_now(now, sizeof now), ends);
    for (; at < behind; at = next_line(at, end)) {
        int line = (int)strcspn(at, "\r\n");
        const int end_of = (int)hp_line_end_at(at + line);
        fprintf(out, "%s%.*s%.*s", hp_bench_is_bare(at, (size_t)line) ? "" : "# ", line, at,
                end_of ? end_of : (int)strlen(ends), end_of ? at + line : ends);
    }
    if (c->entry)
        good = put_entry(out, c);
    fwrite(at, 1, (size_t)(end - at), out);
    if (at < end && hp_line_end_at(end - 1) == 0)
        fputs(ends, out);
    return good;
}

/* The whole new log, checked by reading it. *bytes is for the caller to free, set on HP_OK only. */
static hp_result change_make(change *c, char **bytes, size_t *size, hp_error *err)
{
    char *text = NULL;
    FILE *out = open_memstream(&text, size);
    if (!out)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to write %s", c->path);
    bool good = c->number > c->log.count ? put_appended(out, c) : put_changed(out, c);
    good = !ferror(out) && good;
    good = fclose(out) == 0 && good;
    hp_result result = HP_OK;
    if (!good)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory to write %s", c->path);
    if (result == HP_OK)
        result = check_new(c, text, *size, err);
    if (result == HP_OK)
        *bytes = text;
    else
        free(text);
    return result;
}

/* Makes it the file. */
static hp_result change_file(change *c, hp_error *err)
{
    char *bytes = NULL;
    size_t size = 0;
    hp_result result = change_make(c, &bytes, &size, err);
    if (result == HP_OK)
        result = replace(&c->site, c->path, bytes, size, err);
    free(bytes);
    return result;
}

hp_result hp_bench_log_append(const char *path, const hp_scenario *scenario, hp_bench_entry *entry,
                              FILE *diagnostics, hp_error *err)
{
    change c;
    hp_result result = change_begin(&c, false, NULL, path, scenario, diagnostics, err);
    c.number = c.log.count + 1;
    c.entry = entry;
    if (result == HP_OK)
        result = change_file(&c, err);
    if (result == HP_OK)
        entry->entry.number = c.number;
    change_end(&c);
    return result;
}

hp_result hp_bench_log_append_text(const char *text, const hp_scenario *scenario,
                                   hp_bench_entry *entry, char **longer, FILE *diagnostics,
                                   hp_error *err)
{
    change c;
    size_t size = 0;
    hp_result result = change_begin(&c, true, text, "the log", scenario, diagnostics, err);
    c.number = c.log.count + 1;
    c.entry = entry;
    if (result == HP_OK)
        result = change_make(&c, longer, &size, err);
    if (result == HP_OK)
        entry->entry.number = c.number;
    change_end(&c);
    return result;
}

/* Aims at an entry that is there: to become `entry`, or to go. */
static hp_result aim(change *c, int number, const hp_bench_entry *entry, hp_error *err)
{
    if (number < 1 || number > c->log.count)
        return hp_error_set(err, HP_FAIL_INPUT, "%s has no entry %d, must be 1 to %d", c->path,
                            number, c->log.count);
    bool ends = number == c->log.count || c->log.entry[number].line > 0;
    if (c->log.entry[number - 1].line == 0 || !ends)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s: entry %d cannot be %s, since no dash on a line of its own begins "
                            "%s: edit the file by hand",
                            c->path, number, entry ? "changed" : "taken back",
                            ends ? "it" : "the next one");
    c->number = number;
    c->entry = entry;
    return HP_OK;
}

static hp_result change_one(change *c, int number, const hp_bench_entry *entry, hp_error *err)
{
    hp_result result = aim(c, number, entry, err);
    return result == HP_OK ? change_file(c, err) : result;
}

hp_result hp_bench_log_undo(const char *path, const hp_scenario *scenario, hp_bench_entry *taken,
                            FILE *diagnostics, hp_error *err)
{
    change c;
    hp_result result = change_begin(&c, false, NULL, path, scenario, diagnostics, err);
    if (result == HP_OK && c.log.count == 0)
        result = hp_error_set(err, HP_FAIL_INPUT, "%s has no entry to take back", path);
    if (result == HP_OK && taken)
        *taken = c.log.entry[c.log.count - 1];
    if (result == HP_OK)
        result = change_one(&c, c.log.count, NULL, err);
    change_end(&c);
    return result;
}

/* Changes an entry of a log that is still what it was when it was read. */
static hp_result change_seen(const hp_bench_log *seen, int number, const hp_scenario *scenario,
                             const hp_bench_entry *entry, FILE *diagnostics, hp_error *err)
{
    change c;
    hp_result result = change_begin(&c, false, NULL, seen->path, scenario, diagnostics, err);
    if (result == HP_OK &&
        (c.source.text == NULL || hp_hash_bytes(c.source.text, c.source.size) != seen->print))
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "%s was changed meanwhile, by hand or by another program: it is left "
                              "as it is now",
                              seen->path);
    if (result == HP_OK)
        result = change_one(&c, number, entry, err);
    change_end(&c);
    return result;
}

hp_result hp_bench_log_replace(const hp_bench_log *seen, int number, const hp_scenario *scenario,
                               hp_bench_entry *entry, FILE *diagnostics, hp_error *err)
{
    hp_result result = change_seen(seen, number, scenario, entry, diagnostics, err);
    if (result == HP_OK)
        entry->entry.number = number;
    return result;
}

hp_result hp_bench_log_remove(const hp_bench_log *seen, int number, const hp_scenario *scenario,
                              FILE *diagnostics, hp_error *err)
{
    return change_seen(seen, number, scenario, NULL, diagnostics, err);
}

/* The same of a log in memory. */
static hp_result change_text(const char *text, int number, const hp_scenario *scenario,
                             const hp_bench_entry *entry, const char *time, char **changed,
                             FILE *diagnostics, hp_error *err)
{
    change c;
    size_t size = 0;
    hp_result result = change_begin(&c, true, text, "the log", scenario, diagnostics, err);
    c.time = time;
    if (result == HP_OK)
        result = aim(&c, number, entry, err);
    if (result == HP_OK)
        result = change_make(&c, changed, &size, err);
    change_end(&c);
    return result;
}

hp_result hp_bench_log_replace_text(const char *text, int number, const hp_scenario *scenario,
                                    hp_bench_entry *entry, const char *time, char **changed,
                                    FILE *diagnostics, hp_error *err)
{
    hp_result result = change_text(text, number, scenario, entry, time, changed, diagnostics, err);
    if (result == HP_OK)
        entry->entry.number = number;
    return result;
}

hp_result hp_bench_log_remove_text(const char *text, int number, const hp_scenario *scenario,
                                   const char *time, char **changed, FILE *diagnostics,
                                   hp_error *err)
{
    return change_text(text, number, scenario, NULL, time, changed, diagnostics, err);
}
