/*
 * Changes to a bench log's file: see bench_log.h.
 *
 * A change is made under a lock: the file is read and checked, the new bytes (the old ones,
 * comments and all, and the entry) are checked by reading them too, written under another name in
 * the same folder, and brought to the disk; then they take the old file's name in one step, and the
 * folder goes to the disk. Whenever the program is killed, the name stands for the whole old or the
 * whole new file. A file that cannot be read is never replaced.
 *
 * The lock is flock on the folder. Not on the log: renaming gives its name to another file, so two
 * programs could hold locks on two files of one name. Not on a lock file of its own: one more file
 * in people's folders, which somebody sooner or later deletes while it is locked. The price:
 * changes to all logs of one folder wait for each other, for some milliseconds. The system gives
 * the lock back when a program dies.
 *
 * The other name is a fixed one: under the lock nobody else uses it, and what a killed program left
 * there is overwritten by the next.
 *
 * hp_output (output.h) is not used: it need not survive a loss of power, and does not sync.
 */
#include "record/log/bench_log_keys.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* How long to wait for another program, and how often to look. */
#define WAIT_MS 10000
#define LOOK_MS 20

/* ---- the place of the file, locked ----------------------------------------------------------- */

typedef struct site {
    const char *path;         /* as the user named it; borrowed */
    char file[PATH_MAX];      /* what a link at the end leads to */
    const char *name;         /* in its folder; points into file */
    char temporary[PATH_MAX]; /* name in the folder */
    int folder;               /* descriptor, locked; -1: none */
    bool there;               /* the file is there */
    mode_t mode;              /* of the file */
} site;

static hp_result fail(hp_error *err, const site *s, const char *why)
{
    return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: %s", s->path, why);
}

/* Follows links, so that renaming replaces the file and leaves the link. */
static hp_result resolve(site *s, hp_error *err)
{
    struct stat found;
    if (realpath(s->path, s->file))
        return HP_OK;
    if (errno != ENOENT)
        return fail(err, s, strerror(errno));
    if (lstat(s->path, &found) == 0)
        return fail(err, s, "it is a link to a file that is not there");
    if (strlen(s->path) >= sizeof s->file)
        return fail(err, s, "the name is too long");
    strcpy(s->file, s->path);
    return HP_OK;
}

static hp_result lock(const site *s, hp_error *err)
{
    const struct timespec pause = {0, LOOK_MS * 1000000L};
    for (int waited = 0; flock(s->folder, LOCK_EX | LOCK_NB) != 0; waited += LOOK_MS) {
        if (errno != EWOULDBLOCK && errno != EINTR)
            return fail(err, s, strerror(errno));
        if (waited >= WAIT_MS)
            return fail(err, s, "another program has kept its folder locked for ten seconds");
        nanosleep(&pause, NULL);
    }
    return HP_OK;
}

/* Looks at the file under the lock. A file that may not be written is not replaced either. */
static hp_result look(site *s, hp_error *err)
{
    struct stat found;
    if (fstatat(s->folder, s->name, &found, 0) != 0)
        return errno == ENOENT ? HP_OK : fail(err, s, strerror(errno));
    if (!S_ISREG(found.st_mode))
        return fail(err, s, S_ISDIR(found.st_mode) ? "it is a folder" : "it is no plain file");
    if (faccessat(s->folder, s->name, W_OK, 0) != 0)
        return fail(err, s, strerror(errno));
    s->there = true;
    s->mode = found.st_mode & 07777;
    return HP_OK;
}

static void site_close(site *s)
{
    if (s->folder >= 0)
        close(s->folder); /* gives the lock back */
    s->folder = -1;
}

/* Close in any case. */
static hp_result site_open(site *s, const char *path, hp_error *err)
{
    char folder[PATH_MAX];
    memset(s, 0, sizeof *s);
    s->path = path;
    s->folder = -1;
    hp_result result = resolve(s, err);
    if (result != HP_OK)
        return result;
    const char *slash = strrchr(s->file, '/');
    s->name = slash ? slash + 1 : s->file;
    if (!s->name[0])
        return fail(err, s, "a file name is expected");
    snprintf(folder, sizeof folder, "%.*s", slash ? (int)(slash - s->file) + 1 : 1,
             slash ? s->file : ".");
    snprintf(s->temporary, sizeof s->temporary, ".unfinished-%.*s", NAME_MAX, s->name);
    s->folder = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (s->folder < 0)
        return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: folder %s: %s", path, folder,
                            strerror(errno));
    result = lock(s, err);
    return result == HP_OK ? look(s, err) : result;
}

/* ---- bytes to the disk ----------------------------------------------------------------------- */

/* Returns 0 or the cause. */
static int write_all(int file, const char *bytes, size_t size)
{
    while (size > 0) {
        ssize_t written = write(file, bytes, size);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return written < 0 ? errno : EIO;
        bytes += written;
        size -= (size_t)written;
    }
    return 0;
}

/* Writes the temporary file and brings it to the disk. Returns 0 or the cause. */
static int write_temporary(const site *s, const char *bytes, size_t size)
{
    if (unlinkat(s->folder, s->temporary, 0) != 0 && errno != ENOENT)
        return errno;
    int file = openat(s->folder, s->temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW,
                      (mode_t)0666);
    if (file < 0)
        return errno;
    int cause = write_all(file, bytes, size);
    if (!cause && s->there && fchmod(file, s->mode) != 0)
        cause = errno;
    if (!cause && fsync(file) != 0)
        cause = errno;
    if (close(file) != 0 && !cause)
        cause = errno;
    return cause;
}

static hp_result replace(const site *s, const char *bytes, size_t size, hp_error *err)
{
    int cause = write_temporary(s, bytes, size);
    if (!cause && renameat(s->folder, s->temporary, s->folder, s->name) != 0)
        cause = errno;
    if (cause) {
        unlinkat(s->folder, s->temporary, 0);
        return fail(err, s, strerror(cause));
    }
    /* Some file systems cannot sync a folder, and say so by EINVAL. */
    if (fsync(s->folder) != 0 && errno != EINVAL)
        return hp_error_set(err, HP_FAIL_IO,
                            "%s was written, but may not outlast a loss of power: %s", s->path,
                            strerror(errno));
    return HP_OK;
}

/* ---- a change -------------------------------------------------------------------------------- */

typedef struct change {
    site site;
    const hp_scenario *scenario; /* borrowed */
    hp_source source;            /* the old file; no text when there is none */
    hp_bench_log log;            /* what it says */
    hp_bench_text text;
    hp_problems *problems; /* owned */
} change;

static void change_end(change *c)
{
    hp_bench_log_free(&c->log);
    hp_source_free(&c->source);
    free(c->problems);
    site_close(&c->site);
}

/* Locks, reads and checks. End in any case. */
static hp_result change_begin(change *c, const char *path, const hp_scenario *scenario,
                              FILE *diagnostics, hp_error *err)
{
    bool there = false;
    memset(c, 0, sizeof *c);
    c->scenario = scenario;
    hp_result result = site_open(&c->site, path, err);
    c->problems = calloc(1, sizeof *c->problems);
    if (result == HP_OK && !c->problems)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory to read %s", path);
    if (result == HP_OK)
        result = hp_bench_log_fetch(path, &c->source, &there, err);
    if (result == HP_OK && there)
        result = hp_bench_log_parse(&c->source, scenario, &c->log, &c->text, c->problems, err);
    if (result == HP_FAIL_INPUT && c->problems->count > 0)
        return hp_bench_log_report(path, c->problems, &c->source, diagnostics, err);
    if (result == HP_OK && there && !c->text.list_last)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s: entries must be the last key and have its entries line by line, "
                            "each after a dash, so that one can be added or taken back",
                            path);
    return result;
}

static bool same_text(const hp_bench_entry *a, const hp_bench_entry *b, const hp_labels *labels)
{
    char *one = hp_bench_log_entry_text(a, labels), *two = hp_bench_log_entry_text(b, labels);
    bool same = one && two && strcmp(one, two) == 0;
    free(one);
    free(two);
    return same;
}

/* Whether the new bytes say `count` entries, the last of them `last` when that is not NULL. */
static hp_result check_new(const change *c, const char *bytes, size_t size, int count,
                           const hp_bench_entry *last, hp_error *err)
{
    hp_source source = {.path = c->site.path,
                        .what = "bench log",
                        .begins = "hubphase_log: 1",
                        .text = bytes,
                        .size = size};
    hp_bench_log log;
    hp_bench_text text;
    hp_error cause = hp_error_none();
    if (size > HP_SCENARIO_BYTES_MAX)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "%s is full: with this entry it would have %zu bytes, must have at "
                            "most %d",
                            c->site.path, size, HP_SCENARIO_BYTES_MAX);
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
    if (result == HP_OK && (log.count != count || (last && !same_text(&log.entry[count - 1], last,
                                                                      &c->scenario->labels))))
        result = hp_error_set(&cause, HP_FAIL_INPUT, "it would be read as something else");
    hp_bench_log_free(&log);
    if (result == HP_OK)
        return HP_OK;
    return hp_error_set(err, result, "%s is left as it was: the change would not be read back: %s",
                        c->site.path, cause.text);
}

/* The old file's bytes, with its byte order mark. */
static void put_old(FILE *out, const hp_source *source, size_t size)
{
    if (source->buffer)
        fwrite(source->buffer, 1, (size_t)(source->text - source->buffer) + size, out);
}

static bool put_appended(FILE *out, const change *c, const hp_bench_entry *entry)
{
    const hp_source *source = &c->source;
    if (!c->site.there) {
        char *head = hp_bench_log_head_text(c->scenario);
        if (head)
            fputs(head, out);
        free(head);
        if (!head)
            return false;
    }
    put_old(out, source, source->size);
    if (source->size > 0 && source->text[source->size - 1] != '\n')
        fputc('\n', out);
    hp_bench_put_entry(out, entry, &c->scenario->labels, c->text.column ? c->text.column : 3);
    return true;
}

/* The old lines before the last entry as they are, the others as comments, if they are not. */
static void put_undone(FILE *out, const change *c)
{
    char now[HP_BENCH_TIME_SIZE];
    size_t length;
    const char *at = hp_source_line(&c->source, c->text.last_line, &length);
    const char *end = c->source.text + c->source.size;
    put_old(out, &c->source, (size_t)(at - c->source.text));
    fprintf(out, "# taken back %s:\n", hp_bench_log_now(now, sizeof now));
    while (at < end) {
        size_t line = strcspn(at, "\n");
        size_t blanks = strspn(at, " \t\r");
        bool bare = blanks >= line || at[blanks] == '#';
        fprintf(out, "%s%.*s\n", bare ? "" : "# ", (int)line, at);
        at += line + (at + line < end);
    }
}

/* Writes what `put` gives and makes it the file. */
static hp_result change_make(const change *c, const hp_bench_entry *entry, hp_error *err)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    if (!out)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to write %s", c->site.path);
    bool good = true;
    if (entry)
        good = put_appended(out, c, entry);
    else
        put_undone(out, c);
    good = !ferror(out) && good;
    good = fclose(out) == 0 && good;
    hp_result result = HP_OK;
    if (!good)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory to write %s", c->site.path);
    if (result == HP_OK)
        result = check_new(c, bytes, size, c->log.count + (entry ? 1 : -1), entry, err);
    if (result == HP_OK)
        result = replace(&c->site, bytes, size, err);
    free(bytes);
    return result;
}

hp_result hp_bench_log_append(const char *path, const hp_scenario *scenario, hp_bench_entry *entry,
                              FILE *diagnostics, hp_error *err)
{
    change c;
    hp_result result = change_begin(&c, path, scenario, diagnostics, err);
    if (result == HP_OK)
        result = change_make(&c, entry, err);
    if (result == HP_OK)
        entry->entry.number = c.log.count + 1;
    change_end(&c);
    return result;
}

hp_result hp_bench_log_undo(const char *path, const hp_scenario *scenario, hp_bench_entry *taken,
                            FILE *diagnostics, hp_error *err)
{
    change c;
    hp_result result = change_begin(&c, path, scenario, diagnostics, err);
    if (result == HP_OK && c.log.count == 0)
        result = hp_error_set(err, HP_FAIL_INPUT, "%s has no entry to take back", path);
    if (result == HP_OK && c.text.last_line == 0)
        result = hp_error_set(err, HP_FAIL_INPUT,
                              "%s: the last entry cannot be taken back, since no dash on a line "
                              "of its own begins it: edit the file by hand",
                              path);
    if (result == HP_OK && taken)
        *taken = c.log.entry[c.log.count - 1];
    if (result == HP_OK)
        result = change_make(&c, NULL, err);
    change_end(&c);
    return result;
}
