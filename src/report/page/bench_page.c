/* The page for the bench: see the header. */
#include "report/page/bench_page.h"

#include "base/hash.h"
#include "report/embedded.h"
#include "report/page/page_sections.h"

#include "hubphase/report/case_words.h"
#include "report/page/html_text.h"

#include <stdlib.h>
#include <string.h>

static const char *machine_of(const hp_bench_page *page)
{
    const char *machine = page->subject.labels->machine;
    return machine[0] ? machine : page->subject.file;
}

/* No source is allowed but the two parts of the page itself; nothing can be sent. */
static void put_head(const hp_bench_page *page, FILE *out)
{
    fprintf(out,
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
            "style-src '%s'; script-src '%s'; base-uri 'none'; form-action 'none'\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
            "<meta name=\"color-scheme\" content=\"light dark\">\n"
            "<meta name=\"referrer\" content=\"no-referrer\">\n<title>",
            hp_page_css_hash, hp_page_js_hash);
    hp_html_put(out, machine_of(page));
    fprintf(out, ": which lead goes where</title>\n<style>%s</style>\n</head>\n",
            (const char *)hp_page_css);
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

static void put_job(const hp_bench_page *page, FILE *out)
{
    const hp_labels *labels = page->subject.labels;
    fputs("<header>\n<h1>", out);
    hp_html_put(out, machine_of(page));
    fputs("</h1>\n", out);
    if (page->subject.about) {
        put_about(page->subject.about, out);
    }
    fputs("<dl>\n", out);
    put_term(out, "Motor", labels->motor);
    put_term(out, "Controller", labels->controller);
    const char *slash = strrchr(page->subject.file, '/');
    put_term(out, "Scenario", slash ? slash + 1 : page->subject.file);
    fputs("</dl>\n<div class=\"cautions\" role=\"note\" aria-labelledby=\"cautions\">\n"
          "<h2 id=\"cautions\">Cautions</h2>\n<p>",
          out);
    hp_html_put(out, hp_cautions_text());
    fputs("</p>\n</div>\n</header>\n", out);
}

static void put_parts(FILE *out)
{
    fputs("<nav aria-label=\"Parts of this page\">\n<ul>\n"
          "<li><a href=\"#standing\">Where things stand</a></li>\n"
          "<li class=\"needs-script\"><a href=\"#next\">What to do next</a></li>\n"
          "<li><a href=\"#map\">Map of the 36</a></li>\n</ul>\n</nav>\n",
          out);
}

/* The entries of the log; the section stays open. */
static void put_entries(const hp_bench_page *page, FILE *out)
{
    char words[HP_ENTRY_WORDS];
    fputs("<section id=\"standing\" aria-labelledby=\"standing-head\">\n"
          "<h2 id=\"standing-head\">Where things stand</h2>\n",
          out);
    if (page->entries > 0)
        fputs("<p>In the log when this page was made:</p>\n<ol>\n", out);
    else
        fputs("<p>The log was empty when this page was made.</p>\n", out);
    for (int k = 0; k < page->entries; k++) {
        fputs("<li>", out);
        hp_html_put(out, hp_entry_words(&page->words, &page->entry[k], words, sizeof words));
        fputs("</li>\n", out);
    }
    fputs(page->entries > 0 ? "</ol>\n" : "", out);
}

static void put_standing(const hp_bench_page *page, FILE *out)
{
    put_entries(page, out);
    fputs("<div class=\"needs-script screen\">\n<p id=\"joined\"></p>\n"
          "<p id=\"given-none\">No answer has been given on this page yet.</p>\n"
          "<div id=\"given-some\">\n<p>Answers given on this page:</p>\n<ol id=\"given\"></ol>\n"
          "</div>\n</div>\n</section>\n",
          out);
}

/* How far the plan goes, honestly. */
static void put_reach(const hp_page_plan *plan, FILE *out)
{
    if (plan->step[0].answers == 0)
        return;
    int of_hundred = (int)(100.0 * plan->ends + 0.5);
    fprintf(out,
            "<p class=\"soft\">The buttons on this page cover "
            "about %d cases in 100. The others meet something rarer; the page then says how to go "
            "on.</p>\n",
            of_hundred > 99 ? 99 : of_hundred);
}

static void put_next(const hp_page_plan *plan, FILE *out)
{
    fputs("<section id=\"next\" class=\"needs-script screen\" aria-labelledby=\"next-head\">\n"
          "<h2 id=\"next-head\">What to do next</h2>\n"
          "<p id=\"say\" class=\"unseen\" role=\"status\" aria-live=\"polite\"></p>\n"
          "<div id=\"step\" class=\"card\"></div>\n"
          "<div class=\"controls\">\n"
          "<button type=\"button\" id=\"back\">Back one answer</button>\n"
          "<button type=\"button\" id=\"restart\">Start again</button>\n"
          "<button type=\"button\" id=\"whole\" aria-expanded=\"false\" aria-controls=\"flow\">"
          "The plan as a list</button>\n</div>\n",
          out);
    put_reach(plan, out);
    fputs("<h3>Answers as a log</h3>\n"
          "<p>Save this as <code id=\"log-name\"></code> beside the scenario; "
          "<code id=\"log-ask\"></code> then goes on from it. "
          "A button writes typical figures and says so: <code>figures: typical</code>. Where you "
          "read a meter, put in your own figures and take that line away; only those come on the "
          "wiring sheet.</p>\n"
          "<textarea id=\"log\" readonly spellcheck=\"false\" aria-label=\"Log to copy out\">"
          "</textarea>\n"
          "<div class=\"controls\">\n<button type=\"button\" id=\"copy\">Copy the log</button>\n"
          "<p id=\"copied\" role=\"status\"></p>\n</div>\n</section>\n",
          out);
}

static bool put_body(const hp_bench_page *page, const hp_page_plan *plan, const char *json,
                     FILE *out)
{
    fprintf(out,
            "<body data-key=\"%016llx\">\n<a class=\"skip needs-script\" href=\"#next\">To the "
            "next step</a>\n",
            (unsigned long long)hp_hash(json));
    put_job(page, out);
    put_parts(out);
    fputs("<main>\n", out);
    put_standing(page, out);
    put_next(plan, out);
    fputs("<p class=\"unscripted screen\">Scripts do not run here, so there are no buttons. "
          "The list below is the same plan, and the map can be touched.</p>\n",
          out);
    bool fine = hp_page_put_flow(page, plan, out);
    hp_page_put_map(page, out);
    fputs("</main>\n<footer>\n<p class=\"soft\">Made by hubphase from a simulation. This page "
          "fetches nothing and sends nothing; answers stay in this browser.</p>\n</footer>\n"
          "<script type=\"application/json\" id=\"plan\">",
          out);
    hp_html_put_json(out, json);
    fprintf(out, "</script>\n<script>%s</script>\n</body>\n</html>\n", (const char *)hp_page_js);
    return fine;
}

hp_result hp_bench_page_write(const hp_bench_page *page, FILE *out, hp_error *err)
{
    hp_page_plan plan;
    hp_result result = hp_page_plan_make(page, &plan, err);
    char *json = result == HP_OK ? hp_page_plan_json(&plan, page) : NULL;
    if (result == HP_OK && !json)
        result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a page");
    if (result == HP_OK) {
        put_head(page, out);
        if (!put_body(page, &plan, json, out))
            result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a page");
        if (result == HP_OK && ferror(out))
            result = hp_error_set(err, HP_FAIL_IO, "the page cannot be written");
    }
    free(json);
    hp_page_plan_free(&plan);
    return result;
}

hp_result hp_bench_page_write_paper(const hp_bench_page *page, FILE *out, hp_error *err)
{
    hp_page_plan plan;
    hp_result result = hp_page_plan_make(page, &plan, err);
    if (result == HP_OK) {
        put_head(page, out);
        fputs("<body>\n", out);
        put_job(page, out);
        fputs("<main>\n", out);
        put_entries(page, out);
        fputs("</section>\n", out);
        if (!hp_page_put_flow(page, &plan, out))
            result = hp_error_set(err, HP_FAIL_MEMORY, "no memory for a plan");
        fputs("</main>\n</body>\n</html>\n", out);
        if (result == HP_OK && ferror(out))
            result = hp_error_set(err, HP_FAIL_IO, "the plan cannot be written");
    }
    hp_page_plan_free(&plan);
    return result;
}
