/* Files that appear only when they are whole; test_output.c and test_canvas.c try the rest. */
#include "check.h"

#include "base/whole_file.h"

#include <errno.h>
#include <stdlib.h>
#include <unistd.h>

static char folder[64], path[128], temporary[192];

static int set_up(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/hubphase-whole-XXXXXX");
    if (!mkdtemp(folder))
        return -1;
    snprintf(path, sizeof path, "%s/file", folder);
    snprintf(temporary, sizeof temporary, "%s/.unfinished-%ld-file", folder, (long)getpid());
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    unlink(path);
    return rmdir(folder); /* fails when something was left */
}

static void check_content(const char *expected)
{
    char text[32] = "";
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(text, expected);
}

static void the_name_is_taken_at_the_end(void **state)
{
    (void)state;
    hp_whole_file file;
    check_int(hp_whole_file_open(&file, path), 0);
    fputs("first", file.file);
    check_int(access(path, F_OK), -1);
    assert_string_equal(file.temporary, temporary);
    check_int(hp_whole_file_commit(&file), 0);
    check_content("first");
    check_int(hp_whole_file_open(&file, path), 0);
    fputs("second", file.file);
    hp_whole_file_discard(&file);
    hp_whole_file_discard(&file);
    check_content("first");
}

/* What a killed program with this process number left is no obstacle. */
static void a_stale_unfinished_file_is_replaced(void **state)
{
    (void)state;
    hp_whole_file file;
    FILE *stale = fopen(temporary, "w");
    assert_non_null(stale);
    fputs("a longer text than the new one", stale);
    fclose(stale);
    check_int(hp_whole_file_open(&file, path), 0);
    fputs("new", file.file);
    check_int(hp_whole_file_commit(&file), 0);
    check_content("new");
}

static void causes_come_back_as_numbers(void **state)
{
    (void)state;
    hp_whole_file file;
    static char longest[HP_WHOLE_PATH_SIZE + 1];
    memset(longest, 'x', sizeof longest - 1);
    check_int(hp_whole_file_open(&file, ""), ENOENT);
    check_int(hp_whole_file_open(&file, folder), EISDIR);
    check_int(hp_whole_file_open(&file, longest), ENAMETOOLONG);
    check_int(hp_whole_file_open(&file, "/dev/null/file"), ENOTDIR);
    check_int(hp_whole_file_open(&file, "/dev/full"), 0);
    assert_string_equal(file.temporary, "");
    fputs("text", file.file);
    check_int(hp_whole_file_commit(&file), ENOSPC);
    assert_null(file.file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_name_is_taken_at_the_end, set_up, tear_down),
        cmocka_unit_test_setup_teardown(a_stale_unfinished_file_is_replaced, set_up, tear_down),
        cmocka_unit_test_setup_teardown(causes_come_back_as_numbers, set_up, tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
