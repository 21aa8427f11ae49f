/* The one way to write files; test_output.c and test_canvas.c try what they add to it. */
#include "check.h"
#include "file_steps.h"

#include "hubphase/base/files.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[64], before[4096];

static int set_up(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/hubphase-files-XXXXXX");
    return mkdtemp(folder) && getcwd(before, sizeof before) ? chdir(folder) : -1;
}

/* Everything is tried inside the folder; two levels are all there is. */
static int tear_down(void **state)
{
    char command[192];
    (void)state;
    snprintf(command, sizeof command, "chmod -R u+rwx %s && rm -rf %s", folder, folder);
    return chdir(before) == 0 ? system(command) : -1;
}

static void put(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    check_true(file != NULL, "%s", path);
    fputs(text, file);
    fclose(file);
}

static void check_content(const char *path, const char *expected)
{
    char text[32] = "";
    FILE *file = fopen(path, "r");
    check_true(file != NULL, "%s", path);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(text, expected);
}

/* Writes a file through the functions tried. Returns their cause. */
static int write_file(const char *path, const char *text, bool durable)
{
    hp_file file;
    int cause = hp_file_open(&file, path, durable);
    if (cause)
        return cause;
    fputs(text, file.file);
    return hp_file_commit(&file);
}

static int count_unfinished(const char *path)
{
    int count = 0;
    DIR *names = opendir(path);
    assert_non_null(names);
    for (struct dirent *entry; (entry = readdir(names)) != NULL;)
        count += strncmp(entry->d_name, ".unfinished-", 12) == 0;
    closedir(names);
    return count;
}

static bool is_link(const char *path)
{
    struct stat found;
    return lstat(path, &found) == 0 && S_ISLNK(found.st_mode);
}

static struct stat stat_of(const char *path)
{
    struct stat found;
    check_true(stat(path, &found) == 0, "%s", path);
    return found;
}

/* ---- whole or not at all --------------------------------------------------------------------- */

static void the_name_is_taken_at_the_end(void **state)
{
    (void)state;
    hp_file file;
    check_int(hp_file_open(&file, "file", false), 0);
    fputs("first", file.file);
    check_int(access("file", F_OK), -1);
    check_int(count_unfinished("."), 1);
    check_int(hp_file_commit(&file), 0);
    check_content("file", "first");
    check_int(hp_file_open(&file, "file", false), 0);
    fputs("second", file.file);
    hp_file_discard(&file);
    hp_file_discard(&file);
    check_content("file", "first");
    check_int(count_unfinished("."), 0);
}

static void what_must_last_is_synced_before_it_takes_its_name(void **state)
{
    (void)state;
    file_steps[0] = '\0';
    check_int(write_file("file", "text", true), 0);
    assert_string_equal(file_steps, "snd");
    file_steps[0] = '\0';
    check_int(write_file("file", "text", false), 0);
    assert_string_equal(file_steps, "n");
}

/* Of a step that fails, on a disk that dies, the cause comes back; until the name is taken the old
 * file stays, and nothing unfinished does. */
static void a_step_that_fails_takes_nothing_away(void **state)
{
    (void)state;
    static const struct {
        char step;
        int errno_of_it, cause;
        const char *left;
    } cases[] = {{'s', EIO, EIO, "old"},
                 {'s', ENOSPC, ENOSPC, "old"},
                 {'n', EIO, EIO, "old"},
                 {'d', EIO, EIO, "new"},
                 {'d', EINVAL, 0, "new"}}; /* a file system that cannot sync a folder */
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        put("file", "old");
        file_step_failing = cases[k].step;
        file_step_cause = cases[k].errno_of_it;
        int cause = write_file("file", "new", true);
        file_step_failing = '\0';
        check_int(cause, cases[k].cause);
        check_content("file", cases[k].left);
        check_int(count_unfinished("."), 0);
    }
}

static void causes_come_back_as_numbers(void **state)
{
    (void)state;
    hp_file file;
    static char longest[HP_FILE_PATH_SIZE + 1], name[300];
    memset(longest, 'x', sizeof longest - 1);
    memset(name, 'x', sizeof name - 1);
    check_int(hp_file_open(&file, "", false), ENOENT);
    check_int(hp_file_open(&file, ".", false), EISDIR);
    assert_string_equal(hp_file_cause(EISDIR), "it is a folder");
    check_int(hp_file_open(&file, "missing/file", false), ENOENT);
    check_int(hp_file_open(&file, "missing/", false), ENOENT);
    check_int(hp_file_open(&file, longest, false), ENAMETOOLONG);
    check_int(hp_file_open(&file, name, false), ENAMETOOLONG);
    check_int(hp_file_open(&file, "/dev/null/file", false), ENOTDIR);
    check_int(hp_file_open(&file, "/dev/full", true), 0);
    assert_string_equal(file.temporary, "");
    fputs("text", file.file);
    check_int(hp_file_commit(&file), ENOSPC);
    assert_null(file.file);
    check_int(count_unfinished("."), 0);
}

/* The longest name that a folder takes leaves no room for a prefix. */
static void long_names(void **state)
{
    (void)state;
    char name[NAME_MAX + 1] = "";
    memset(name, 'x', NAME_MAX);
    check_int(write_file(name, "text", false), 0);
    check_content(name, "text");
}

/* ---- links, modes, owners -------------------------------------------------------------------- */

static void links_stay_links(void **state)
{
    (void)state;
    check_int(mkdir("real", 0777), 0);
    put("real/kept", "old");
    check_int(symlink("kept", "real/inner"), 0);
    check_int(symlink("real/inner", "outer"), 0);
    check_int(write_file("outer", "new", false), 0);
    check_content("real/kept", "new");
    check_true(is_link("outer") && is_link("real/inner") && !is_link("real/kept"), "links");
    check_int(count_unfinished("."), 0);
    check_int(count_unfinished("real"), 0);
    /* One to a file that is not there makes it. */
    check_int(symlink("real/made", "early"), 0);
    check_int(write_file("early", "new", false), 0);
    check_true(is_link("early"), "the link is gone");
    check_content("real/made", "new");
    check_int(symlink("loop", "loop"), 0);
    check_int(write_file("loop", "new", false), ELOOP);
    check_int(symlink("real", "place"), 0);
    check_int(write_file("place", "new", false), EISDIR);
    check_int(write_file("place/kept", "again", false), 0);
    check_content("real/kept", "again");
}

static void modes_stay(void **state)
{
    (void)state;
    mode_t mask = umask(027);
    check_int(write_file("file", "text", false), 0);
    check_int(stat_of("file").st_mode & 07777, 0640);
    check_int(chmod("file", 0602), 0);
    check_int(write_file("file", "more", false), 0);
    umask(mask);
    check_int(stat_of("file").st_mode & 07777, 0602);
    check_content("file", "more");
}

/* Nobody may read in the temporary what they may not read in the file. */
static void what_is_private_stays_so_meanwhile(void **state)
{
    (void)state;
    hp_file file;
    put("file", "old");
    check_int(chmod("file", 0600), 0);
    mode_t mask = umask(0);
    check_int(hp_file_open(&file, "file", false), 0);
    umask(mask);
    check_int(stat_of(file.temporary).st_mode & 0777, 0600);
    hp_file_discard(&file);
}

/* In a child with this user and group; its exit status. */
static int as_other(uid_t user, gid_t group, int (*work)(void))
{
    int status = -1;
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        bool other = setgid(group) == 0 && setuid(user) == 0;
        _exit(other ? work() : 99);
    }
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static int write_as_other(void)
{
    return write_file("file", "other", false);
}

/* Needs root, as whom the tests run in a container. */
static void owner_and_group_stay(void **state)
{
    (void)state;
    if (geteuid() != 0)
        skip();
    put("file", "old");
    check_int(chown("file", 1234, 4321), 0);
    check_int(write_file("file", "new", false), 0);
    check_content("file", "new");
    check_int(stat_of("file").st_uid, 1234);
    check_int(stat_of("file").st_gid, 4321);
    /* One who may not give the group away does not give its rights to their own. */
    check_int(chmod(".", 0777), 0);
    check_int(chmod("file", 0664 | 0002), 0);
    check_int(as_other(4000, 4001, write_as_other), 0);
    check_int(stat_of("file").st_gid, 4001);
    check_int(chown("file", 1234, 4321), 0);
    check_int(chmod("file", 0676), 0);
    check_int(as_other(4000, 4001, write_as_other), 0);
    check_int(stat_of("file").st_mode & 0777, 0666);
}

static void what_may_not_be_written_is_not_replaced(void **state)
{
    (void)state;
    put("file", "old");
    check_int(chmod("file", 0444), 0);
    check_int(chmod(".", 0777), 0);
    int cause =
        geteuid() == 0 ? as_other(65534, 65534, write_as_other) : write_file("file", "new", false);
    check_int(cause, EACCES);
    check_content("file", "old");
}

/* ---- what was left --------------------------------------------------------------------------- */

static void what_a_killed_program_left_is_removed(void **state)
{
    (void)state;
    put(".unfinished-4194305.0-other", "half");
    put(".unfinished-7-file", "half");
    check_int(write_file("file", "new", false), 0);
    check_int(count_unfinished("."), 0);
}

/* Even when its process number is ours. */
static void one_of_our_own_name_is_no_obstacle(void **state)
{
    (void)state;
    char name[64];
    snprintf(name, sizeof name, ".unfinished-%ld.0-file", (long)getpid());
    put(name, "a longer text than the new one");
    check_int(write_file("file", "new", false), 0);
    check_content("file", "new");
    check_int(count_unfinished("."), 0);
    check_int(mkdir(name, 0777), 0);
    check_int(write_file("file", "newer", false), 0);
    check_content("file", "newer");
}

static void what_is_being_written_stays(void **state)
{
    (void)state;
    hp_file one, other;
    check_int(hp_file_open(&one, "one", false), 0);
    fputs("1", one.file);
    check_int(hp_file_open(&other, "other", false), 0);
    fputs("2", other.file);
    check_int(count_unfinished("."), 2);
    check_int(hp_file_commit(&one), 0);
    check_int(write_file("third", "3", true), 0);
    check_int(hp_file_commit(&other), 0);
    check_content("one", "1");
    check_content("other", "2");
}

static void what_is_not_ours_stays(void **state)
{
    (void)state;
    static const char *const name[] = {".unfinished-notes", ".unfinished-12",  ".unfinished-12-",
                                       ".unfinished-1.x-f", "unfinished-1-f",  ".unfinished--f",
                                       ".unfinished-12.f",  ".unfinished-1x-f"};
    for (size_t k = 0; k < sizeof name / sizeof name[0]; k++)
        put(name[k], "mine");
    put("target", "mine");
    check_int(mkdir(".unfinished-1-folder", 0777), 0);
    check_int(symlink("target", ".unfinished-1-link"), 0);
    check_int(write_file("file", "new", false), 0);
    for (size_t k = 0; k < sizeof name / sizeof name[0]; k++)
        check_content(name[k], "mine");
    check_content("target", "mine");
    check_int(access(".unfinished-1-folder", F_OK), 0);
    check_true(is_link(".unfinished-1-link"), "a link was removed");
    if (geteuid() == 0) {
        put(".unfinished-1-strange", "theirs");
        check_int(chown(".unfinished-1-strange", 1234, 4321), 0);
        check_int(write_file("file", "new", false), 0);
        check_content(".unfinished-1-strange", "theirs");
    }
}

/* Writers that remove what others left do not remove what others write: many at once. */
static void many_writers_at_once(void **state)
{
    (void)state;
    enum { WRITERS = 6, ROUNDS = 60 };
    pid_t child[WRITERS];
    fflush(NULL);
    for (int w = 0; w < WRITERS; w++) {
        child[w] = fork();
        for (int k = 0; child[w] == 0 && k < ROUNDS; k++) {
            char name[16], text[16];
            snprintf(name, sizeof name, "file%d", w);
            snprintf(text, sizeof text, "%d", k);
            if (write_file(name, text, false) != 0 || write_file("shared", text, false) != 0)
                _exit(1);
        }
        if (child[w] == 0)
            _exit(0);
    }
    for (int w = 0; w < WRITERS; w++) {
        int status = -1;
        char name[16];
        waitpid(child[w], &status, 0);
        check_true(WIFEXITED(status) && WEXITSTATUS(status) == 0, "writer %d failed", w);
        snprintf(name, sizeof name, "file%d", w);
        check_content(name, "59");
    }
    check_int(count_unfinished("."), 0);
}

static void exchange(void)
{
    put("other", "theirs");
    check_int(rename("other", "file"), 0);
}

static void take_away(void)
{
    check_int(unlink("file"), 0);
}

/* Another program gives the name to another file, makes the file or takes it away while its place
 * is looked for: what is there then is replaced. */
static void a_file_that_others_replace_meanwhile(void **state)
{
    (void)state;
    static void (*const doings[])(void) = {exchange, take_away};
    for (int there = 0; there < 2; there++) {
        for (int k = 0; k < 1 + there; k++) {
            if (there)
                put("file", "old");
            file_step_between = doings[k];
            check_int(write_file("file", "new", false), 0);
            check_true(file_step_between == NULL, "nothing was done between");
            check_content("file", "new");
            check_int(unlink("file"), 0);
        }
    }
    hp_file file;
    file_step_between = exchange;
    check_int(hp_file_find(&file, "file"), 0);
    check_true(!file.dangling, "no link at all");
    hp_file_discard(&file);
    /* A file without a name has none at the next look either. */
    char path[64];
    int descriptor = open("file", O_RDONLY);
    check_int(unlink("file"), 0);
    snprintf(path, sizeof path, "/proc/self/fd/%d", descriptor);
    check_int(write_file(path, "new", false), ENOENT);
    close(descriptor);
}

/* ---- one file, two names --------------------------------------------------------------------- */

static void check_same(const char *a, const char *b, bool expected)
{
    check_true(hp_file_same(a, b) == expected && hp_file_same(b, a) == expected, "%s and %s", a, b);
}

static void names_of_one_file(void **state)
{
    (void)state;
    char whole[128];
    put("file", "");
    put("twin", "");
    check_int(mkdir("below", 0777), 0);
    check_int(link("file", "hard"), 0);
    check_int(symlink("../file", "below/soft"), 0);
    check_int(symlink("below", "folder"), 0);
    snprintf(whole, sizeof whole, "%s/below//../file", folder);
    check_same("file", "file", true);
    check_same("file", "./hard", true);
    check_same("file", "folder/soft", true);
    check_same("hard", whole, true);
    check_same("file", "twin", false);
    check_same("file", "new", false);
    check_same("below", "folder", false);
    check_same("/dev/null", "/dev/null", false);
    check_same("", "", false);
}

static void names_of_a_file_to_come(void **state)
{
    (void)state;
    check_int(mkdir("below", 0777), 0);
    check_int(symlink("below", "folder"), 0);
    check_int(symlink("below/new", "early"), 0);
    check_same("below/new", "./folder/new", true);
    check_same("below/new", "early", true);
    check_same("below/new", "new", false);
    check_same("below/new", "below/newer", false);
    check_same("missing/new", "missing/new", false); /* nothing can be made there */
}

static void an_open_file_has_a_name(void **state)
{
    (void)state;
    put("file", "");
    put("twin", "");
    int descriptor = open("file", O_RDONLY), device = open("/dev/null", O_RDONLY);
    check_true(hp_file_is_open_as("./file", descriptor), "the same");
    check_true(!hp_file_is_open_as("twin", descriptor), "another");
    check_true(!hp_file_is_open_as("missing", descriptor), "none");
    check_true(!hp_file_is_open_as("/dev/null", device), "a device");
    close(descriptor);
    close(device);
}

int main(void)
{
#define FOLDER_TEST(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
    const struct CMUnitTest tests[] = {
        FOLDER_TEST(the_name_is_taken_at_the_end),
        FOLDER_TEST(what_must_last_is_synced_before_it_takes_its_name),
        FOLDER_TEST(a_step_that_fails_takes_nothing_away),
        FOLDER_TEST(causes_come_back_as_numbers),
        FOLDER_TEST(long_names),
        FOLDER_TEST(links_stay_links),
        FOLDER_TEST(modes_stay),
        FOLDER_TEST(what_is_private_stays_so_meanwhile),
        FOLDER_TEST(owner_and_group_stay),
        FOLDER_TEST(what_may_not_be_written_is_not_replaced),
        FOLDER_TEST(what_a_killed_program_left_is_removed),
        FOLDER_TEST(one_of_our_own_name_is_no_obstacle),
        FOLDER_TEST(what_is_being_written_stays),
        FOLDER_TEST(what_is_not_ours_stays),
        FOLDER_TEST(many_writers_at_once),
        FOLDER_TEST(a_file_that_others_replace_meanwhile),
        FOLDER_TEST(names_of_one_file),
        FOLDER_TEST(names_of_a_file_to_come),
        FOLDER_TEST(an_open_file_has_a_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
