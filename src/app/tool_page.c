/* The page with the library inside: see the header. A template whose slots, "@NAME@", are filled.
 */
#include "app/tool_page.h"

#include "app/tool_page_parts.h"

#include <errno.h>
#include <string.h>

/* ---- texts ----------------------------------------------------------------------------------- */

/* Whether a character could end an element of HTML. */
static bool is_markup(int c)
{
    return c == '<' || c == '>' || c == '&';
}

/* A JSON string (RFC 8259) that ends no element of HTML: what could is written as an escape. */
static void put_json(const char *text, FILE *out)
{
    if (!text) {
        fputs("null", out);
        return;
    }
    fputc('"', out);
    for (const unsigned char *c = (const unsigned char *)text; *c; c++) {
        if (*c < 0x20 || *c == '"' || *c == '\\' || *c == 0x7F || is_markup(*c))
            fprintf(out, "\\u%04x", *c);
        else
            fputc(*c, out);
    }
    fputc('"', out);
}

static void put_case(const hp_tool_page *page, FILE *out)
{
    fputs("{\"name\":", out);
    put_json(page->name, out);
    fputs(",\"scenario\":", out);
    put_json(page->scenario, out);
    fputs(",\"log\":", out);
    put_json(page->log, out);
    fputs(",\"table\":", out);
    put_json(page->table, out);
    fputc('}', out);
}

/* JSON as it is, but for what could end an element of HTML, which stands in its texts alone. */
static void put_evening(const hp_tool_page *page, FILE *out)
{
    for (const char *c = page->evening; *c; c++) {
        if (is_markup(*c))
            fprintf(out, "\\u%04x", (unsigned char)*c);
        else
            fputc(*c, out);
    }
}

/* Base64 (RFC 4648). */
static void put_library(const hp_tool_page *page, FILE *out)
{
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const unsigned char *byte = hp_hubphase_wasm;
    (void)page;
    for (size_t k = 0; k < hp_hubphase_wasm_size; k += 3) {
        size_t left = hp_hubphase_wasm_size - k;
        unsigned long group = (unsigned long)byte[k] << 16 |
                              (left > 1 ? (unsigned long)byte[k + 1] << 8 : 0) |
                              (left > 2 ? (unsigned long)byte[k + 2] : 0);
        char four[4] = {digit[group >> 18 & 63], digit[group >> 12 & 63],
                        left > 1 ? digit[group >> 6 & 63] : '=',
                        left > 2 ? digit[group & 63] : '='};
        fwrite(four, 1, sizeof four, out);
    }
}

/* ---- slots ----------------------------------------------------------------------------------- */

typedef struct slot {
    const char *name;
    const void *text; /* put as it is; NULL: `put` does it */
    void (*put)(const hp_tool_page *page, FILE *out);
} slot;

#define SLOTS 9 /* the most of a template */

typedef struct template
{
    const unsigned char *shell;
    slot slot[SLOTS];
}
template;

static const template templates[] = {
    [HP_PAGE_BENCH] = {hp_shell_html,
                       {{"STYLE_HASH", hp_tool_css_hash, NULL},
                        {"SCRIPT_HASH", hp_tool_js_hash, NULL},
                        {"STYLE", hp_tool_css, NULL},
                        {"SCRIPT", hp_tool_js, NULL},
                        {"WORKER", hp_worker_js, NULL},
                        {"NOTICES", hp_copyright, NULL},
                        {"CASE", NULL, put_case},
                        {"LIBRARY", NULL, put_library}}},
    [HP_PAGE_WALL] = {hp_wall_html,
                      {{"STYLE_HASH", hp_wall_css_hash, NULL},
                       {"SCRIPT_HASH", hp_wall_js_hash, NULL},
                       {"STYLE", hp_wall_css, NULL},
                       {"SCRIPT", hp_wall_js, NULL},
                       {"WORKER", hp_worker_js, NULL},
                       {"NOTICES", hp_copyright, NULL},
                       {"CASE", NULL, put_case},
                       {"EVENING", NULL, put_evening},
                       {"LIBRARY", NULL, put_library}}},
};

static void fill(const template *of, const char *name, size_t length, const hp_tool_page *page,
                 FILE *out)
{
    for (int k = 0; k < SLOTS && of->slot[k].name; k++) {
        const slot *one = &of->slot[k];
        if (strlen(one->name) != length || memcmp(one->name, name, length) != 0)
            continue;
        if (one->text)
            fputs(one->text, out);
        else
            one->put(page, out);
        return;
    }
}

void hp_tool_page_write(hp_page_sort sort, const hp_tool_page *page, FILE *out)
{
    const template *of = &templates[sort];
    const char *at = (const char *)of->shell;
    for (;;) {
        size_t plain = strcspn(at, "@");
        fwrite(at, 1, plain, out);
        at += plain;
        if (!*at)
            return;
        size_t length = strcspn(at + 1, "@");
        fill(of, at + 1, length, page, out);
        at += length + 1;
        at += *at == '@';
    }
}

const char *hp_tool_page_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

hp_result hp_tool_page_want(hp_error *err)
{
    return hp_hubphase_wasm_size > 0
               ? HP_OK
               : hp_error_set(err, HP_FAIL_ABSENT,
                              "this hubphase was built without the library as WebAssembly, so it "
                              "cannot put itself into a page: tests/run.sh installs what it wants "
                              "and builds it so in build/optimised");
}

hp_result hp_tool_page_read(const char *path, char **text, hp_error *err)
{
    FILE *file = fopen(path, "rb"), *copy;
    size_t size = 0, count;
    char part[4096];
    if (!file)
        return hp_error_set(err, HP_FAIL_IO, "%s: %s", path, strerror(errno));
    copy = open_memstream(text, &size);
    while (copy && (count = fread(part, 1, sizeof part, file)) > 0)
        fwrite(part, 1, count, copy);
    bool whole = !ferror(file);
    (void)fclose(file);
    if (!copy || fclose(copy) != 0)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a page");
    return whole ? HP_OK : hp_error_set(err, HP_FAIL_IO, "%s cannot be read", path);
}
