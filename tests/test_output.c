/* Files that the program writes: whole or not at all, nothing left behind, devices kept. */
#include "check.h"

#include "app/output.h"

#include <dirent.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct room {
    char folder[64];
} room;

static int open_room(void **state)
{
    static room place;
    snprintf(place.folder, sizeof place.folder, "/tmp/hubphase-output-XXXXXX");
    *state = &place;
    return mkdtemp(place.folder) ? 0 : -1;
}

/* Names in the folder, hidden ones too. */
static int count_files(const room *place)
{
    int count = 0;
    DIR *folder = opendir(place->folder);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;)
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    closedir(folder);
    return count;
}

static void path_of(const room *place, const char *name, char path[256])
{
    snprintf(path, 256, "%s/%s", place->folder, name);
}

static int close_room(void **state)
{
    room *place = *state;
    DIR *folder = opendir(place->folder);
    if (!folder)
        return -1;
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        char path[512];
        snprintf(path, sizeof path, "%s/%s", place->folder, entry->d_name);
        if (entry->d_name[0] != '.' || strlen(entry->d_name) > 2)
            remove(path);
    }
    closedir(folder);
    return rmdir(place->folder);
}

static void check_content(const char *path, const char *expected)
{
    char text[64] = "";
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(text, expected);
}

static void put(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
}

static void a_file_appears_when_whole(void **state)
{
    char path[256];
    hp_output output;
    path_of(*state, "report.txt", path);
    put(path, "old");
    assert_int_equal(hp_output_open(&output, path, NULL), HP_OK);
    fputs("new", output.file);
    fflush(output.file);
    check_content(path, "old");
    assert_int_equal(hp_output_commit(&output, NULL), HP_OK);
    check_content(path, "new");
    check_int(count_files(*state), 1);
    struct stat found;
    assert_int_equal(stat(path, &found), 0);
    mode_t mask = umask(0);
    umask(mask);
    check_int(found.st_mode & 0777, 0666 & ~mask);
    hp_output_discard(&output); /* harmless afterwards */
    check_int(count_files(*state), 1);
}

static void what_is_discarded_leaves_nothing(void **state)
{
    char path[256];
    hp_output output;
    path_of(*state, "report.txt", path);
    put(path, "old");
    assert_int_equal(hp_output_open(&output, path, NULL), HP_OK);
    fputs("half", output.file);
    hp_output_discard(&output);
    check_content(path, "old");
    check_int(count_files(*state), 1);
    hp_error err = hp_error_none();
    assert_int_equal(hp_output_open(&output, path, NULL), HP_OK);
    hp_error_set(&err, HP_FAIL_IO, "cause");
    assert_int_equal(hp_output_finish(&output, HP_FAIL_IO, &err), HP_FAIL_IO);
    check_text_contains(err.text, "report.txt: cause");
    check_int(count_files(*state), 1);
}

static void wrong_places_are_told(void **state)
{
    char path[256], text[2000];
    hp_output output;
    hp_error err = hp_error_none();
    path_of(*state, "missing/report.txt", path);
    assert_int_equal(hp_output_open(&output, path, &err), HP_FAIL_IO);
    check_text_contains(err.text, "missing/report.txt cannot be written: No such file");
    hp_output_discard(&output);
    assert_int_equal(hp_output_open(&output, ((room *)*state)->folder, &err), HP_FAIL_IO);
    check_text_contains(err.text, "it is a folder");
    assert_int_equal(hp_output_open(&output, "", &err), HP_FAIL_IO);
    memset(text, 'x', sizeof text);
    text[sizeof text - 1] = '\0';
    assert_int_equal(hp_output_open(&output, text, &err), HP_FAIL_IO);
    check_text_contains(err.text, "xxx");
    check_int(count_files(*state), 0);
}

/* Renaming over a device would replace it by a file. */
static void devices_are_written_straight(void **state)
{
    (void)state;
    hp_output output;
    hp_error err = hp_error_none();
    struct stat found;
    assert_int_equal(hp_output_open(&output, "/dev/full", &err), HP_OK);
    fputs("text", output.file);
    assert_int_equal(hp_output_commit(&output, &err), HP_FAIL_IO);
    check_text_contains(err.text, "/dev/full cannot be written: No space left on device");
    assert_int_equal(stat("/dev/full", &found), 0);
    assert_true(S_ISCHR(found.st_mode));
}

static void folders_are_made_once(void **state)
{
    char path[256], file[256];
    hp_error err = hp_error_none();
    path_of(*state, "pictures", path);
    bool made = false;
    assert_int_equal(hp_output_folder(path, &made, &err), HP_OK);
    assert_true(made);
    assert_int_equal(hp_output_folder(path, &made, &err), HP_OK);
    assert_false(made);
    path_of(*state, "file", file);
    put(file, "");
    assert_int_equal(hp_output_folder(file, &made, &err), HP_FAIL_IO);
    check_text_contains(err.text, "it is not a folder");
    path_of(*state, "file/below", file);
    assert_int_equal(hp_output_folder(file, &made, &err), HP_FAIL_IO);
    check_text_contains(err.text, "cannot be made");
}

static void bytes_are_put_whole_or_the_cause_is_told(void **state)
{
    static char many[1 << 16]; /* more than waits in a stream: the write itself fails */
    char path[256];
    hp_error err = hp_error_none();
    path_of(*state, "put", path);
    check_int(hp_output_put(path, "all of it", 9, &err), HP_OK);
    check_content(path, "all of it");
    check_int(hp_output_put("/dev/full", many, sizeof many, &err), HP_FAIL_IO);
    check_text_contains(err.text, "/dev/full cannot be written: No space left");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_file_appears_when_whole, open_room, close_room),
        cmocka_unit_test_setup_teardown(what_is_discarded_leaves_nothing, open_room, close_room),
        cmocka_unit_test_setup_teardown(wrong_places_are_told, open_room, close_room),
        cmocka_unit_test(devices_are_written_straight),
        cmocka_unit_test_setup_teardown(folders_are_made_once, open_room, close_room),
        cmocka_unit_test_setup_teardown(bytes_are_put_whole_or_the_cause_is_told, open_room,
                                        close_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
