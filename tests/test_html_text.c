/* Text for HTML: nothing that stands in a file becomes markup. */
#include "check.h"
#include "report/paper/html_text.h"

#include <stdlib.h>
#include <string.h>

typedef void (*put)(FILE *out, const char *text);

static void check_put(put put, const char *text, const char *expected)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    assert_non_null(out);
    put(out, text);
    fclose(out);
    assert_string_equal(bytes, expected);
    free(bytes);
}

static void markup_is_text(void **state)
{
    (void)state;
    check_put(hp_html_put, "<b> & \"x\" 'y'</b>",
              "&lt;b&gt; &amp; &quot;x&quot; &#39;y&#39;&lt;/b&gt;");
    check_put(hp_html_put, "gr\xc3\xbcn \xe2\x9a\xa1", "gr\xc3\xbcn \xe2\x9a\xa1");
    check_put(hp_html_put, "", "");
}

static void control_characters_do_not_pass(void **state)
{
    (void)state;
    check_put(hp_html_put, "a\x1b[1mb\nc", "a?[1mb?c");
    check_put(hp_html_put, "a\xff\xc3", "a??");
    check_put(hp_html_put, "\xe2\x80\xae", "?"); /* turns the direction of writing */
    check_put(hp_html_put, "\xef\xbf\xbe", "?"); /* no XML character */
}

static void lines_break(void **state)
{
    (void)state;
    check_put(hp_html_put_lines, "one <\ntwo", "one &lt;<br>\ntwo");
}

static void numbers_come_with_words(void **state)
{
    (void)state;
    char *bytes = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    hp_html_printf(out, "%.2f ohm at <%d", 0.214, 20);
    fclose(out);
    assert_string_equal(bytes, "0.21 ohm at &lt;20");
    free(bytes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(markup_is_text),
        cmocka_unit_test(control_characters_do_not_pass),
        cmocka_unit_test(lines_break),
        cmocka_unit_test(numbers_come_with_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
