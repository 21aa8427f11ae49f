/*
 * Adding to a bench log: what stands in the file stays, nothing acknowledged is lost, whatever the
 * disk, other programs and kill -9 do.
 */
#include "bench_text.h"
#include "decide/reading/reading_list.h"
#include "file_steps.h"
#include "hubphase/decide/evidence.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define ROOM      "test_bench_append.d"
#define FILE_NAME ROOM "/barrow.bench.yaml"

static hp_scenario scenario;

static int make_room(void **state)
{
    (void)state;
    int status = system("rm -rf " ROOM " && mkdir " ROOM);
    return status;
}

static int clear_room(void **state)
{
    (void)state;
    return system("rm -rf " ROOM);
}

static void check_nothing_unfinished(void)
{
    check_true(system("test -z \"$(ls -A " ROOM " | grep unfinished)\"") == 0,
               "a temporary file is left");
}

static hp_bench_entry numbered(int number)
{
    hp_bench_entry entry = hp_bench_entry_make(&hp_reading_supply);
    entry.entry.supply.volts = 5.0;
    strcpy(entry.time, "2026-11-25T10:40:12+01:00");
    snprintf(entry.note, sizeof entry.note, "number %d", number);
    return entry;
}

static int number_of(const hp_bench_entry *entry)
{
    int number = -1;
    check_int(sscanf(entry->note, "number %d", &number), 1);
    return number;
}

static void append(int number)
{
    hp_bench_entry entry = numbered(number);
    hp_error err = hp_error_none();
    check_true(hp_bench_log_append(FILE_NAME, &scenario, &entry, stderr, &err) == HP_OK, "%s",
               err.text);
}

/* The append fails with this code and text, and leaves the file and the folder as they were. */
static void check_fails(const char *path, hp_result result, const char *text)
{
    hp_bench_entry entry = numbered(1);
    hp_error err = hp_error_none();
    char *before = access(path, R_OK) == 0 ? slurp(path) : NULL;
    check_int(hp_bench_log_append(path, &scenario, &entry, NULL, &err), result);
    check_int(err.code, result);
    check_text_contains(err.text, text);
    if (before) {
        char *after = slurp(path);
        assert_string_equal(after, before);
        free(after);
    }
    free(before);
    check_nothing_unfinished();
}

static void check_count(int count)
{
    logged l = bench_load_path(&scenario, FILE_NAME);
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    check_int(l.log.count, count);
    logged_free(&l);
}

/* ---- what is written ------------------------------------------------------------------------- */

static void a_new_log(void **state)
{
    (void)state;
    append(1);
    append(2);
    char *text = slurp(FILE_NAME), *head = hp_bench_log_head_text(&scenario);
    check_true(strncmp(text, head, strlen(head)) == 0, "%s", text);
    assert_string_equal(text + strlen(head), "  - time: 2026-11-25T10:40:12+01:00\n"
                                             "    sensor_supply:\n"
                                             "      supply_v: 5\n"
                                             "    note: number 1\n"
                                             "  - time: 2026-11-25T10:40:12+01:00\n"
                                             "    sensor_supply:\n"
                                             "      supply_v: 5\n"
                                             "    note: number 2\n");
    free(text);
    free(head);
    check_count(2);
}

/* Whatever a person wrote stays byte for byte; the entry follows, its lines ended alike. */
static void check_kept(const char *old, const char *between, int count, const char *indent)
{
    char expected[4000];
    const char *ends = strstr(old, "\r\n") ? "\r\n" : "\n";
    scenario_file_write(FILE_NAME, old, strlen(old));
    append(7);
    char *text = slurp(FILE_NAME);
    snprintf(expected, sizeof expected,
             "%s%s%s- time: 2026-11-25T10:40:12+01:00%s%s  sensor_supply:%s%s    supply_v: 5%s%s  "
             "note: number 7%s",
             old, between, indent, ends, indent, ends, indent, ends, indent, ends);
    assert_string_equal(text, expected);
    free(text);
    check_count(count);
}

static void hand_edits_and_comments_are_kept(void **state)
{
    (void)state;
    static const char entry[] = "- sensor_supply: {supply_v: 5} # on the bench\n  " BENCH_TIME "\n";
    char old[2000];
    check_kept("# mine\n" BENCH_HEAD, "", 1, "  ");
    check_kept("# mine\n" BENCH_HEAD "# nothing\n\n", "", 1, "  ");
    snprintf(old, sizeof old, "%s%s# the end", BENCH_HEAD, entry);
    check_kept(old, "\n", 2, "");
    snprintf(old, sizeof old, "%s-\n     " BENCH_TIME "\n     sensor_supply: {supply_v: 5}",
             BENCH_HEAD);
    check_kept(old, "\n", 2, "");
    snprintf(old, sizeof old,
             "%s     - note: |\n         - one\n\n       " BENCH_TIME
             "\n       learn: {worked: no}\n",
             BENCH_HEAD);
    check_kept(old, "", 2, "     ");
    snprintf(old, sizeof old, "\xEF\xBB\xBF%s", BENCH_HEAD);
    check_kept(old, "", 1, "  ");
    snprintf(old, sizeof old,
             "hubphase_log: 1\r\nscenario: Allotment barrow\r\nentries:\r\n"
             "- " BENCH_TIME "\r\n  learn: {worked: no}\r\n");
    check_kept(old, "", 2, "");
}

static void no_place_at_the_end(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "hubphase_log: 1\nscenario: Allotment barrow\nentries: []\n",
        "entries:\nscenario: Allotment barrow\nhubphase_log: 1\n",
        "{hubphase_log: 1, scenario: Allotment barrow, entries: }\n",
    };
    for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++) {
        scenario_file_write(FILE_NAME, texts[k], strlen(texts[k]));
        check_fails(FILE_NAME, HP_FAIL_INPUT, "entries must be the last key");
    }
    static const char ended[] = BENCH_HEAD "- " BENCH_TIME "\n  learn: {worked: no}\n...\n";
    scenario_file_write(FILE_NAME, ended, sizeof ended - 1);
    check_fails(FILE_NAME, HP_FAIL_INPUT, "the change would not be read back");
}

static void a_log_that_cannot_be_read_is_never_replaced(void **state)
{
    (void)state;
    static const char *const texts[] = {"",
                                        "rubbish",
                                        "hubphase: 1\n",
                                        "hubphase_log: 2\nscenario: Allotment barrow\nentries:\n",
                                        "hubphase_log: 1\nscenario: Parcel trike\nentries:\n",
                                        BENCH_HEAD "- learn: {worked: no}\n",
                                        BENCH_HEAD "\xFF",
                                        "%YAML 1.2\n"};
    for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++) {
        scenario_file_write(FILE_NAME, texts[k], strlen(texts[k]));
        check_fails(FILE_NAME, HP_FAIL_INPUT, "problem");
    }
}

static void an_entry_that_would_not_be_read_back(void **state)
{
    (void)state;
    hp_error err = hp_error_none();
    hp_bench_entry entry = numbered(1);
    append(1);
    strcpy(entry.time, "yesterday");
    check_int(hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "is left as it was: the change would not be read back: "
                                  "entries[2].time is \"yesterday\", must be a time");
    entry = numbered(1);
    entry.entry.supply.volts = 500.0;
    check_int(hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "supply_v is 500, must be a number from -200 to 200 (V)");
    check_count(1);
}

/* ---- the file system ------------------------------------------------------------------------- */

static void links_and_modes(void **state)
{
    (void)state;
    struct stat found;
    check_int(mkdir(ROOM "/real", 0777), 0);
    append(1);
    check_int(rename(FILE_NAME, ROOM "/real/kept.yaml"), 0);
    check_int(chmod(ROOM "/real/kept.yaml", 0640), 0);
    check_int(symlink("real/kept.yaml", FILE_NAME), 0);
    append(2);
    check_count(2);
    check_int(lstat(FILE_NAME, &found), 0);
    check_true(S_ISLNK(found.st_mode), "the link is gone");
    check_int(lstat(ROOM "/real/kept.yaml", &found), 0);
    check_true(S_ISREG(found.st_mode), "the file is gone");
    check_int(found.st_mode & 07777, 0640);
}

static void places_that_cannot_be_written(void **state)
{
    (void)state;
    check_fails(ROOM "/no-folder/x.yaml", HP_FAIL_IO, "No such file or directory");
    check_fails(ROOM "/", HP_FAIL_IO, "it is a folder");
    check_fails("", HP_FAIL_IO, "cannot be written");
    check_int(symlink("nothing", FILE_NAME), 0);
    check_fails(FILE_NAME, HP_FAIL_IO, "link to a file that is not there");
    check_int(unlink(FILE_NAME), 0);
    check_int(mkfifo(FILE_NAME, 0666), 0);
    hp_bench_entry entry = numbered(1);
    hp_error err = hp_error_none();
    check_int(hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err), HP_FAIL_IO);
    check_text_contains(err.text, "it is no plain file");
}

/* As nobody, when the test runs as root, who may write anywhere. */
static void a_folder_and_a_file_that_may_not_be_written(void **state)
{
    (void)state;
    append(1);
    check_int(chmod(FILE_NAME, 0444), 0);
    check_int(chmod(ROOM, 0555), 0);
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        hp_error err = hp_error_none();
        hp_bench_entry entry = numbered(1);
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
            _exit(9);
        if (hp_bench_log_append(ROOM "/new.yaml", &scenario, &entry, NULL, &err) != HP_FAIL_IO ||
            !strstr(err.text, "Permission denied"))
            _exit(1);
        if (hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err) != HP_FAIL_IO ||
            !strstr(err.text, "Permission denied"))
            _exit(2);
        _exit(0);
    }
    int status = -1;
    waitpid(child, &status, 0);
    check_int(chmod(ROOM, 0755), 0);
    check_true(WIFEXITED(status), "died");
    check_int(WEXITSTATUS(status), 0);
    check_count(1);
}

/* A limit on the size of files fails a write as a full disk does, in the middle of the bytes. */
static void a_full_disk(void **state)
{
    (void)state;
    struct rlimit before, tight;
    append(1);
    signal(SIGXFSZ, SIG_IGN);
    check_int(getrlimit(RLIMIT_FSIZE, &before), 0);
    tight = before;
    tight.rlim_cur = 300;
    check_int(setrlimit(RLIMIT_FSIZE, &tight), 0);
    hp_bench_entry entry = numbered(2);
    hp_error err = hp_error_none();
    hp_result result = hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err);
    check_int(setrlimit(RLIMIT_FSIZE, &before), 0);
    check_int(result, HP_FAIL_IO);
    check_text_contains(err.text, "File too large");
    check_nothing_unfinished();
    check_count(1);
    append(2);
    check_count(2);
}

/* What is acknowledged is on the disk: the bytes first, then the name. */
static void synced_before_renamed(void **state)
{
    (void)state;
    file_steps[0] = '\0';
    append(1);
    assert_string_equal(file_steps, "snd");
}

/* On a disk that dies an entry is refused and the log is what it was; once it has the name, it is
 * there, and it is said that a loss of power may take it. */
static void a_disk_that_dies(void **state)
{
    (void)state;
    append(1);
    file_step_cause = EIO;
    file_step_failing = 's';
    check_fails(FILE_NAME, HP_FAIL_IO, "Input/output error");
    file_step_failing = 'n';
    check_fails(FILE_NAME, HP_FAIL_IO, "Input/output error");
    check_count(1);
    hp_bench_entry entry = numbered(2);
    hp_error err = hp_error_none();
    file_step_failing = 'd';
    hp_result result = hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err);
    file_step_failing = '\0';
    check_int(result, HP_FAIL_IO);
    check_text_contains(err.text,
                        "was written, but may not outlast a loss of power: Input/output error");
    check_nothing_unfinished();
    check_count(2);
}

/* A log that root adds to stays its owner's. */
static void owner_and_group(void **state)
{
    (void)state;
    struct stat found;
    if (geteuid() != 0)
        skip();
    append(1);
    check_int(chown(FILE_NAME, 1234, 4321), 0);
    append(2);
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, NULL, NULL, NULL), HP_OK);
    check_int(stat(FILE_NAME, &found), 0);
    check_int(found.st_uid, 1234);
    check_int(found.st_gid, 4321);
}

/* ---- other programs, and kill -9 ------------------------------------------------------------- */

/* Appends numbers from `first`; sends each down the pipe once it is acknowledged. */
static void append_until_killed(int first, int pipe)
{
    for (int number = first;; number++) {
        hp_bench_entry entry = numbered(number);
        if (hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, NULL) != HP_OK)
            _exit(1);
        if (write(pipe, &number, sizeof number) != sizeof number)
            _exit(1);
    }
}

/* How far the file counts, each number once and in order. */
static int check_in_order(void)
{
    logged l = bench_load_path(&scenario, FILE_NAME);
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    for (int k = 0; k < l.log.count; k++)
        check_int(number_of(&l.log.entry[k]), k + 1);
    int count = l.log.count;
    logged_free(&l);
    return count;
}

static void killed_at_any_point(void **state)
{
    (void)state;
    int count = 0, lost = 0;
    for (int round = 0; round < 120; round++) {
        int ends[2], number, acknowledged = count;
        check_int(pipe(ends), 0);
        fflush(NULL);
        pid_t child = fork();
        if (child == 0)
            append_until_killed(count + 1, ends[1]);
        close(ends[1]);
        /* Every third one finishes an entry first, however slow the machine is. */
        if (round % 3 == 0 && read(ends[0], &number, sizeof number) == (ssize_t)sizeof number)
            acknowledged = number;
        /* Spread over the steps of an append, whose length the disk decides. */
        usleep((useconds_t)(200 + round * 137 % 6000));
        kill(child, SIGKILL);
        waitpid(child, NULL, 0);
        while (read(ends[0], &number, sizeof number) == (ssize_t)sizeof number)
            acknowledged = number;
        close(ends[0]);
        count = check_in_order();
        lost += acknowledged > count;
        /* At most the entry in hand came in without a word. */
        check_true(count <= acknowledged + 1, "%d, but %d", count, acknowledged);
    }
    check_int(lost, 0);
    check_true(count >= 40, "only %d entries: killed too early to show anything", count);
    append(count + 1); /* over what the last one may have left */
    check_nothing_unfinished();
}

static void two_writers_at_once(void **state)
{
    (void)state;
    enum { EACH = 40, WRITERS = 3 };
    pid_t child[WRITERS];
    fflush(NULL);
    for (int w = 0; w < WRITERS; w++) {
        child[w] = fork();
        for (int k = 1; child[w] == 0 && k <= EACH; k++) {
            hp_bench_entry entry = numbered(1000 * w + k);
            hp_error err = hp_error_none();
            if (hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, &err) != HP_OK) {
                fprintf(stderr, "%s\n", err.text);
                _exit(1);
            }
            if (k == EACH)
                _exit(0);
        }
    }
    for (int w = 0; w < WRITERS; w++) {
        int status = -1;
        waitpid(child[w], &status, 0);
        check_true(WIFEXITED(status) && WEXITSTATUS(status) == 0, "writer %d failed", w);
    }
    logged l = bench_load_path(&scenario, FILE_NAME);
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    check_int(l.log.count, EACH * WRITERS);
    int next[WRITERS] = {1, 1, 1};
    for (int k = 0; k < l.log.count; k++) {
        int number = number_of(&l.log.entry[k]);
        check_int(number % 1000, next[number / 1000]++);
    }
    logged_free(&l);
}

/* Somebody makes change after change: the folder changed just now, the lock becomes free, and the
 * next change of the same program comes at once. One that waits goes first; else it would wait
 * until the other is done. A busy machine may wake it too late, but not each time. */
static void whoever_waits_goes_first(void **state)
{
    (void)state;
    enum { ROUNDS = 20 };
    int first = 0;
    append(1);
    for (int round = 0; round < ROUNDS; round++) {
        int ends[2], folder = open(ROOM, O_RDONLY | O_DIRECTORY), status = -1;
        char byte;
        check_int(pipe(ends), 0);
        check_int(flock(folder, LOCK_EX), 0);
        fflush(NULL);
        pid_t child = fork();
        if (child == 0) {
            hp_bench_entry entry = numbered(2);
            close(folder);
            if (write(ends[1], "", 1) != 1)
                _exit(1);
            _exit(hp_bench_log_append(FILE_NAME, &scenario, &entry, NULL, NULL) != HP_OK);
        }
        check_int(read(ends[0], &byte, 1), 1);
        usleep(20000); /* until it waits */
        scenario_file_write(ROOM "/changed", "", 0);
        check_int(unlink(ROOM "/changed"), 0);
        close(folder);
        append(3);
        waitpid(child, &status, 0);
        check_true(WIFEXITED(status) && WEXITSTATUS(status) == 0, "it did not get in");
        close(ends[0]);
        close(ends[1]);
        logged l = bench_load_path(&scenario, FILE_NAME);
        check_int(l.log.count, 3 + 2 * round);
        first += number_of(&l.log.entry[l.log.count - 1]) == 3;
        logged_free(&l);
    }
    check_true(first >= ROUNDS / 2, "first in %d of %d rounds", first, ROUNDS);
}

/* ---- taking back ----------------------------------------------------------------------------- */

static void taking_back(void **state)
{
    (void)state;
    hp_bench_entry taken;
    hp_error err = hp_error_none();
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, &taken, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "has no entry to take back");
    append(1);
    append(2);
    char *before = slurp(FILE_NAME);
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, &taken, NULL, &err), HP_OK);
    check_int(number_of(&taken), 2);
    check_count(1);
    char *after = slurp(FILE_NAME);
    size_t kept = (size_t)(strstr(before, "    note: number 1\n") - before) + 19;
    check_true(strncmp(before, after, kept) == 0, "%s", after);
    check_true(strncmp(after + kept, "# taken back 20", 15) == 0, "%s", after);
    check_text_contains(after, ":\n#   - time: 2026-11-25T10:40:12+01:00\n"
                               "#     sensor_supply:\n"
                               "#       supply_v: 5\n"
                               "#     note: number 2\n");
    free(before);
    free(after);
    append(3);
    check_count(2);
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, NULL, NULL, &err), HP_OK);
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, &taken, NULL, &err), HP_OK);
    check_int(number_of(&taken), 1);
    check_count(0);
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, NULL, NULL, &err), HP_FAIL_INPUT);
    after = slurp(FILE_NAME);
    check_text_contains(after, "#     note: number 1\n");
    check_text_contains(after, "#     note: number 2\n");
    check_text_contains(after, "#     note: number 3\n");
    check_true(strstr(after, "# #") == NULL, "commented twice:\n%s", after);
    free(after);
    append(4);
    check_count(1);
}

/* Takes back the last entry of a hand-written log: one entry less, every line of it kept, either as
 * it was or as a comment. */
static void check_taken_back(const char *text, int left)
{
    hp_error err = hp_error_none();
    char line[400];
    scenario_file_write(FILE_NAME, text, strlen(text));
    check_true(hp_bench_log_undo(FILE_NAME, &scenario, NULL, stderr, &err) == HP_OK, "%s\n%s",
               err.text, text);
    check_count(left);
    char *after = slurp(FILE_NAME);
    for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
        snprintf(line, sizeof line, "%.*s\n", (int)strcspn(at, "\n"), at);
        check_text_contains(after, line);
    }
    append(7);
    check_count(left + 1);
    free(after);
}

static void taking_back_what_a_person_wrote(void **state)
{
    (void)state;
    static const char one[] = BENCH_HEAD "- " BENCH_TIME "\n  learn: {worked: no}\n";
    char text[2000];
    static const char *const last[] = {
        "- " BENCH_TIME "\n  learn: {worked: yes} # mine\n\n# the end",
        "-\n\n  # why not\n  " BENCH_TIME "\n  learn:\n    worked: yes\n",
        "- {" BENCH_TIME ", learn: {worked: yes}}\n",
        "- \"time\": 2026-11-25T10:40Z\n  learn: {worked: yes}\n  note: |\n    # inside\n\n    "
        "- as well\n",
        "- note: \"two\n    lines\"\n  " BENCH_TIME "\r\n  learn: {worked: yes}\r\n",
    };
    for (size_t k = 0; k < sizeof last / sizeof last[0]; k++) {
        if (k == 1)
            continue; /* a comment between dash and key: refused, see below */
        snprintf(text, sizeof text, "%s%s", one, last[k]);
        check_taken_back(text, 1);
        snprintf(text, sizeof text, "%s%s", BENCH_HEAD, last[k]);
        check_taken_back(text, 0);
    }
    hp_error err = hp_error_none();
    snprintf(text, sizeof text, "%s%s", one, last[1]);
    scenario_file_write(FILE_NAME, text, strlen(text));
    check_int(hp_bench_log_undo(FILE_NAME, &scenario, NULL, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "edit the file by hand");
    char *after = slurp(FILE_NAME);
    assert_string_equal(after, text);
    free(after);
    append(7); /* the other entry shows where dashes stand */
    check_count(3);
}

/* ---- changing any entry ---------------------------------------------------------------------- */

/* Three entries as a person writes them: a comment before each, one behind the last. */
static const char three[] = BENCH_HEAD "# before one\n"
                                       "  - " BENCH_TIME "\n"
                                       "    learn: {worked: no} # mine\n"
                                       "    note: |\n"
                                       "      # inside\n"
                                       "\n"
                                       "      and more\n"
                                       "\n"
                                       "  # before two\n"
                                       "  - " BENCH_TIME "\n"
                                       "    sensor_supply:\n"
                                       "      supply_v: 4.9\n"
                                       "\n"
                                       "  # before three\n"
                                       "  - " BENCH_TIME "\n"
                                       "    learn: {worked: yes}\n"
                                       "# the end\n";

static logged load_three(void)
{
    scenario_file_write(FILE_NAME, three, sizeof three - 1);
    logged l = bench_load_path(&scenario, FILE_NAME);
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    return l;
}

/* The text of FILE_NAME with the time of the change taken out; owned by the caller. */
static char *slurp_timeless(const char *word)
{
    char *text = slurp(FILE_NAME), *at = strstr(text, word);
    check_true(at != NULL, "\"%s\" is not in \"%s\"", word, text);
    at += strlen(word);
    memmove(at, at + 26, strlen(at + 26) + 1);
    return text;
}

static void changing_an_entry_in_the_middle(void **state)
{
    (void)state;
    logged l = load_three();
    hp_bench_entry entry = numbered(7);
    hp_error err = hp_error_none();
    check_true(hp_bench_log_replace(&l.log, 2, &scenario, &entry, stderr, &err) == HP_OK, "%s",
               err.text);
    check_int(entry.entry.number, 2);
    char *text = slurp_timeless("# changed");
    assert_string_equal(text, BENCH_HEAD "# before one\n"
                                         "  - " BENCH_TIME "\n"
                                         "    learn: {worked: no} # mine\n"
                                         "    note: |\n"
                                         "      # inside\n"
                                         "\n"
                                         "      and more\n"
                                         "\n"
                                         "  # before two\n"
                                         "# changed:\n"
                                         "#   - " BENCH_TIME "\n"
                                         "#     sensor_supply:\n"
                                         "#       supply_v: 4.9\n"
                                         "  - time: 2026-11-25T10:40:12+01:00\n"
                                         "    sensor_supply:\n"
                                         "      supply_v: 5\n"
                                         "    note: number 7\n"
                                         "\n"
                                         "  # before three\n"
                                         "  - " BENCH_TIME "\n"
                                         "    learn: {worked: yes}\n"
                                         "# the end\n");
    free(text);
    logged_free(&l);
    check_count(3);
}

static void taking_out_the_first_entry(void **state)
{
    (void)state;
    logged l = load_three();
    hp_error err = hp_error_none();
    check_true(hp_bench_log_remove(&l.log, 1, &scenario, stderr, &err) == HP_OK, "%s", err.text);
    logged_free(&l);
    char *text = slurp_timeless("# taken back");
    check_text_contains(text, "entries:\n# before one\n"
                              "# taken back:\n"
                              "#   - " BENCH_TIME "\n"
                              "#     learn: {worked: no} # mine\n"
                              "#     note: |\n"
                              "      # inside\n"
                              "\n"
                              "#       and more\n"
                              "\n"
                              "  # before two\n"
                              "  - " BENCH_TIME "\n"
                              "    sensor_supply:\n");
    free(text);
    l = bench_load_path(&scenario, FILE_NAME);
    check_int(l.log.count, 2);
    check_true(l.log.entry[0].entry.reading == &hp_reading_supply, "another kind");
    check_int(l.log.entry[1].entry.learn.worked, HP_TELL_YES);
    logged_free(&l);
}

/* Every entry of every kind of change, with CRLF too: the others stay, in their order. */
static void changing_each_entry(void **state)
{
    (void)state;
    for (int number = 1; number <= 3; number++) {
        for (int what = 0; what < 4; what++) {
            hp_bench_entry entry = numbered(7);
            hp_error err = hp_error_none();
            logged l = load_three();
            if (what / 2) {
                char crlf[2 * sizeof three];
                size_t used = 0;
                for (const char *c = three; *c; c++) {
                    if (*c == '\n')
                        crlf[used++] = '\r';
                    crlf[used++] = *c;
                }
                logged_free(&l);
                scenario_file_write(FILE_NAME, crlf, used);
                l = bench_load_path(&scenario, FILE_NAME);
            }
            hp_result result =
                what % 2 ? hp_bench_log_replace(&l.log, number, &scenario, &entry, stderr, &err)
                         : hp_bench_log_remove(&l.log, number, &scenario, stderr, &err);
            check_true(result == HP_OK, "entry %d, change %d: %s", number, what, err.text);
            logged after = bench_load_path(&scenario, FILE_NAME);
            check_int(after.log.count, what % 2 ? 3 : 2);
            for (int k = 0; k < after.log.count; k++) {
                const hp_bench_entry *old = &l.log.entry[k + (what % 2 == 0 && k >= number - 1)];
                bool changed = what % 2 && k == number - 1;
                assert_string_equal(after.log.entry[k].note, changed ? entry.note : old->note);
                check_true(after.log.entry[k].entry.reading ==
                               (changed ? entry.entry.reading : old->entry.reading),
                           "entry %d is of another kind", k + 1);
            }
            logged_free(&after);
            logged_free(&l);
            append(8);
        }
    }
}

/* Nobody changes what they have not seen. */
static void a_log_that_changed_meanwhile_is_left_alone(void **state)
{
    (void)state;
    hp_bench_entry entry = numbered(7);
    hp_error err = hp_error_none();
    logged l = load_three();
    check_true(!hp_bench_log_changed(&l.log), "nothing changed");
    append(4);
    check_true(hp_bench_log_changed(&l.log), "one more entry");
    char *before = slurp(FILE_NAME);
    check_int(hp_bench_log_replace(&l.log, 2, &scenario, &entry, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "was changed meanwhile, by hand or by another program");
    check_int(hp_bench_log_remove(&l.log, 3, &scenario, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "was changed meanwhile");
    char *after = slurp(FILE_NAME);
    assert_string_equal(after, before);
    free(before);
    free(after);
    logged_free(&l);
    /* The same length, another digit. */
    l = load_three();
    after = slurp(FILE_NAME);
    strstr(after, "4.9")[2] = '8';
    scenario_file_write(FILE_NAME, after, strlen(after));
    free(after);
    check_true(hp_bench_log_changed(&l.log), "another digit");
    check_int(unlink(FILE_NAME), 0);
    check_true(hp_bench_log_changed(&l.log), "it is gone");
    check_int(hp_bench_log_remove(&l.log, 1, &scenario, NULL, &err), HP_FAIL_INPUT);
    logged_free(&l);
    l = bench_load_path(&scenario, FILE_NAME);
    check_true(!hp_bench_log_changed(&l.log), "it was not there and is not");
    append(1);
    check_true(hp_bench_log_changed(&l.log), "it is there now");
    logged_free(&l);
}

static void changes_that_cannot_be_made(void **state)
{
    (void)state;
    hp_bench_entry entry = numbered(7);
    hp_error err = hp_error_none();
    static const char hidden[] =
        BENCH_HEAD "- " BENCH_TIME "\n  learn: {worked: no}\n"
                   "-\n  # why not\n  " BENCH_TIME "\n  learn: {worked: yes}\n"
                   "- " BENCH_TIME "\n  learn: {worked: no}\n";
    scenario_file_write(FILE_NAME, hidden, sizeof hidden - 1);
    logged l = bench_load_path(&scenario, FILE_NAME);
    check_int(l.log.count, 3);
    check_int(hp_bench_log_replace(&l.log, 0, &scenario, &entry, NULL, &err), HP_FAIL_INPUT);
    check_int(hp_bench_log_replace(&l.log, 4, &scenario, &entry, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "has no entry 4, must be 1 to 3");
    check_int(hp_bench_log_remove(&l.log, 1, &scenario, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "no dash on a line of its own begins the next one");
    check_int(hp_bench_log_remove(&l.log, 2, &scenario, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "entry 2 cannot be taken back, since no dash");
    strcpy(entry.time, "yesterday");
    check_int(hp_bench_log_replace(&l.log, 3, &scenario, &entry, NULL, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "would not be read back");
    char *after = slurp(FILE_NAME);
    assert_string_equal(after, hidden);
    free(after);
    logged_free(&l);
}

int main(void)
{
    scenario = bench_scenario();
#define ROOM_TEST(f) cmocka_unit_test_setup_teardown(f, make_room, clear_room)
    const struct CMUnitTest tests[] = {
        ROOM_TEST(a_new_log),
        ROOM_TEST(hand_edits_and_comments_are_kept),
        ROOM_TEST(no_place_at_the_end),
        ROOM_TEST(a_log_that_cannot_be_read_is_never_replaced),
        ROOM_TEST(an_entry_that_would_not_be_read_back),
        ROOM_TEST(links_and_modes),
        ROOM_TEST(places_that_cannot_be_written),
        ROOM_TEST(a_folder_and_a_file_that_may_not_be_written),
        ROOM_TEST(a_full_disk),
        ROOM_TEST(synced_before_renamed),
        ROOM_TEST(a_disk_that_dies),
        ROOM_TEST(owner_and_group),
        ROOM_TEST(killed_at_any_point),
        ROOM_TEST(two_writers_at_once),
        ROOM_TEST(whoever_waits_goes_first),
        ROOM_TEST(taking_back),
        ROOM_TEST(taking_back_what_a_person_wrote),
        ROOM_TEST(changing_an_entry_in_the_middle),
        ROOM_TEST(taking_out_the_first_entry),
        ROOM_TEST(changing_each_entry),
        ROOM_TEST(a_log_that_changed_meanwhile_is_left_alone),
        ROOM_TEST(changes_that_cannot_be_made),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    hp_scenario_free(&scenario);
    return failed;
}
