/* The plan as a numbered list for paper: see the header. */
#include "report/paper/plan_list.h"

#include "report/embedded.h"
#include "report/paper/list_lines.h"

#include "hubphase/report/case_words.h"
#include "report/paper/html_text.h"

#include <string.h>

static const char *machine_of(const hp_plan_list *list)
{
    const char *machine = list->subject.labels->machine;
    return machine[0] ? machine : list->subject.file;
}

/* No source is allowed but the style sheet of the list itself; nothing can be sent. */
static void put_head(const hp_plan_list *list, FILE *out)
{
    fprintf(out,
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
            "style-src '%s'; base-uri 'none'; form-action 'none'\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
            "<meta name=\"color-scheme\" content=\"light dark\">\n"
            "<meta name=\"referrer\" content=\"no-referrer\">\n<title>",
            hp_plan_list_css_hash);
    hp_html_put(out, machine_of(list));
    fprintf(out, ": which lead goes where</title>\n<style>%s</style>\n</head>\n",
            (const char *)hp_plan_list_css);
}

static void put_term(FILE *out, const char *term, const char *text)
{
    if (!text[0])
        return;
    fprintf(out, "<dt>%s</dt><dd>", term);
    hp_html_put(out, text);
    fputs("</dd>\n", out);
}

/* One paragraph, whatever line breaks the file has. */
static void put_about(const char *about, FILE *out)
{
    fputs("<p>", out);
    for (const char *at = about; *at;) {
        char line[1024];
        size_t length = strcspn(at, "\n"), taken = length < sizeof line ? length : sizeof line - 1;
        memcpy(line, at, taken);
        line[taken] = '\0';
        hp_html_put(out, line);
        at += taken;
        if (*at == '\n') {
            fputc('\n', out);
            at++;
        }
    }
    fputs("</p>\n", out);
}

static void put_job(const hp_plan_list *list, FILE *out)
{
    const hp_labels *labels = list->subject.labels;
    fputs("<header>\n<h1>", out);
    hp_html_put(out, machine_of(list));
    fputs("</h1>\n", out);
    if (list->subject.about) {
        put_about(list->subject.about, out);
    }
    fputs("<dl>\n", out);
    put_term(out, "Motor", labels->motor);
    put_term(out, "Controller", labels->controller);
    const char *slash = strrchr(list->subject.file, '/');
    const char *file = slash ? slash + 1 : list->subject.file;
    put_term(out, "Scenario", strcmp(file, machine_of(list)) == 0 ? "" : file);
    fputs("</dl>\n<div class=\"cautions\" role=\"note\" aria-labelledby=\"cautions\">\n"
          "<h2 id=\"cautions\">Cautions</h2>\n<p>",
          out);
    hp_html_put(out, hp_cautions_text());
    fputs("</p>\n</div>\n</header>\n", out);
}

/* The entries of the log. */
static void put_entries(const hp_plan_list *list, FILE *out)
{
    char words[HP_ENTRY_WORDS];
    if (list->entries == 0) {
        fputs("<p>The log was empty when this list was made.</p>\n", out);
        return;
    }
    fputs("<section id=\"standing\" aria-labelledby=\"standing-head\">\n"
          "<h2 id=\"standing-head\">Where things stand</h2>\n"
          "<p>In the log when this list was made:</p>\n<ol>\n",
          out);
    for (int k = 0; k < list->entries; k++) {
        fputs("<li>", out);
        hp_html_put(out, hp_entry_words(&list->words, &list->entry[k], words, sizeof words));
        fputs("</li>\n", out);
    }
    fputs("</ol>\n</section>\n", out);
}

hp_result hp_plan_list_put(const hp_plan_list *list, FILE *out, hp_error *err)
{
    hp_list_steps plan;
    hp_result result = hp_list_steps_make(list, &plan, err);
    if (result == HP_OK) {
        put_head(list, out);
        fputs("<body>\n", out);
        put_job(list, out);
        fputs("<main>\n", out);
        put_entries(list, out);
        if (!hp_list_lines_put(list, &plan, out))
            result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
        fputs("</main>\n</body>\n</html>\n", out);
        if (result == HP_OK && ferror(out))
            result = hp_error_set(err, HP_FAIL_IO, "the plan cannot be written");
    }
    hp_list_steps_free(&plan);
    return result;
}
