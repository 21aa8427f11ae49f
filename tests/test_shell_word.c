/*
 * Words for a shell, held against a real one: sh reads back the very bytes.
 */
#include "hubphase/base/text.h"

#include "check.h"

#include <stdlib.h>

/* The word as sh reads it; a dot behind it, or else a pipe could not tell where it ends. */
static void read_back(const char *quoted, char *out, size_t size)
{
    char command[2048];
    snprintf(command, sizeof command, "printf %%s. %s", quoted);
    FILE *shell = popen(command, "r");
    assert_non_null(shell);
    size_t got = fread(out, 1, size - 1, shell);
    out[got] = '\0';
    check_true(pclose(shell) == 0 && got > 0 && out[got - 1] == '.', "sh -c '%s'", command);
    out[got - 1] = '\0';
}

static void a_shell_reads_what_was_written(void **state)
{
    (void)state;
    static const char *const words[] = {
        "",
        "plain-name_1.yaml",
        "a b;rm -rf x",
        "it's",
        "''",
        "$(touch x) `touch y` $HOME",
        "a\"b\\c*?[!~#&|<>(){}",
        "~",
        "=ls",
        "--log=my log.yaml",
        "t\xc3\xbcr 12\xc2\xb0",
        "line\nbreak",
        "ends in two\n\n",
        "\n",
        "\n\nx",
        "tab\tesc\033[31m bell\a del\x7f",
        "-%s\\n\\\\'\r1",
        "not UTF-8: \xff\xfe'\xc3",
        "turned \xe2\x80\xae \xd8\x9c \xe2\x80\x8f about 7",
        ("\001"
         "23"),
    };
    for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
        char quoted[400], back[400], clean[400];
        check_true(strlen(words[k]) < 60, "%zu", k);
        hp_shell_word(words[k], quoted, HP_SHELL_WORD_SIZE(strlen(words[k])) + 1);
        read_back(quoted, back, sizeof back);
        assert_string_equal(back, words[k]);
        /* Printed, a terminal obeys nothing of it; only breaks at the end stay as they are. */
        size_t shown = strlen(quoted);
        while (shown > 0 && strchr("\n'", quoted[shown - 1]))
            shown--;
        quoted[shown] = '\0';
        assert_string_equal(hp_text_clean(quoted, clean, sizeof clean), quoted);
    }
}

static void plain_words_stay_as_they_are(void **state)
{
    (void)state;
    char out[100];
    assert_string_equal(hp_shell_word("my/x.bench.yaml", out, sizeof out), "my/x.bench.yaml");
    assert_string_equal(hp_shell_word("--starts=6", out, sizeof out), "--starts=6");
    assert_string_equal(hp_shell_word("a b", out, sizeof out), "'a b'");
}

static void no_file_passes_for_an_option(void **state)
{
    (void)state;
    char out[100];
    assert_string_equal(hp_shell_file("-x.yaml", out, sizeof out), "./-x.yaml");
    assert_string_equal(hp_shell_file("--help", out, sizeof out), "./--help");
    assert_string_equal(hp_shell_file("x-.yaml", out, sizeof out), "x-.yaml");
    assert_string_equal(hp_shell_file("/a/-x.yaml", out, sizeof out), "/a/-x.yaml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shell_reads_what_was_written),
        cmocka_unit_test(plain_words_stay_as_they_are),
        cmocka_unit_test(no_file_passes_for_an_option),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
