/*
 * Values that a person typed, as options or as answers: see bench_log_parts.h.
 *
 * They are turned into YAML and read by the reader of logs itself, so that it alone decides what is
 * right, and its messages are the same everywhere.
 */
#include "record/log/bench_log_parts.h"

#include <stdlib.h>
#include <string.h>

/* Numbers and plain words stay as they stand, so that the reader can say what is wrong with them;
 * whatever YAML could take for something else goes into quotes. */
void hp_bench_put_typed(FILE *out, const char *text)
{
    static const char safe[] = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                               ".,+-_ %";
    size_t length = strlen(text);
    bool edge = length == 0 || strchr(" ,%", text[0]) || text[length - 1] == ' ' ||
                (text[0] == '-' && (text[1] == ' ' || text[1] == '-' || length == 1));
    if (!edge && strspn(text, safe) == length)
        fputs(text, out);
    else
        hp_bench_put_scalar(out, text, true);
}

bool hp_bench_put_member(FILE *out, const char *text)
{
    char name[HP_BENCH_PAIR_SIZE];
    /* The last: no value has one, but a lead's name may. */
    const char *sign = strrchr(text, '=');
    if (!sign || sign == text || (size_t)(sign - text) >= sizeof name)
        return false;
    snprintf(name, sizeof name, "%.*s", (int)(sign - text), text);
    fputs("  ? ", out);
    hp_bench_put_scalar(out, name, true);
    fputs("\n  : ", out);
    hp_bench_put_typed(out, sign + 1);
    fputc('\n', out);
    return true;
}

hp_result hp_bench_typed_load(hp_yaml *yaml, const char *text, size_t size, hp_problems *problems,
                              hp_error *err)
{
    const hp_source source = {.path = "what was typed",
                              .what = "set of values",
                              .begins = "a value",
                              .text = text,
                              .size = size};
    memset(yaml, 0, sizeof *yaml);
    return size > 0 ? hp_yaml_load(yaml, &source, problems, err) : HP_OK;
}

/* The node of the only key of a document. */
static struct fy_node *only_value(struct fy_node *root)
{
    void *position = NULL;
    hp_yaml_member m;
    return hp_yaml_next(root, (hp_place){1, 1, 1}, &position, &m) ? m.value : NULL;
}

/* Reads the only value of a document into an entry; false, why[size] saying it, where it is none.
 */
static bool read_only_value(const hp_field *field, const char *path, const char *text,
                            size_t length, const hp_labels *labels, hp_bench_entry *entry,
                            char *why, size_t size)
{
    hp_yaml yaml;
    hp_error err = hp_error_none();
    hp_problems *problems = calloc(1, sizeof *problems);
    bool good = false;
    snprintf(why, size, "no memory");
    memset(&yaml, 0, sizeof yaml);
    if (problems && hp_bench_typed_load(&yaml, text, length, problems, &err) == HP_OK) {
        hp_bench_entry trial = *entry;
        hp_value value = {
            .problems = problems, .path = path, .node = only_value(yaml.root), .key = {1, 1, 1}};
        good = hp_field_read(field, &value, labels, &trial.entry);
        if (good)
            *entry = trial;
    } else if (problems) {
        snprintf(why, size, "%s", err.text);
    }
    if (problems && problems->count > 0)
        snprintf(why, size, "%s", problems->item[0].text);
    hp_yaml_free(&yaml);
    free(problems);
    return good;
}

bool hp_bench_typed_read(const hp_field *field, const char *path, const char *text,
                         const hp_labels *labels, hp_bench_entry *entry, char *why, size_t size)
{
    char *yaml = NULL, shown[64];
    size_t length = 0;
    FILE *out = open_memstream(&yaml, &length);
    bool good = out != NULL, member = true;
    snprintf(why, size, "no memory");
    if (out && hp_field_is_mapping(field, text)) {
        fputs("value:\n", out);
        member = hp_bench_put_member(out, text);
    } else if (out) {
        fputs("value: ", out);
        hp_bench_put_typed(out, text);
        fputc('\n', out);
    }
    if (out)
        good = fclose(out) == 0;
    if (good && !member)
        snprintf(why, size, "%s is \"%s\", must be %s", path,
                 hp_text_clean(text, shown, sizeof shown), field->argument);
    good = good && member && read_only_value(field, path, yaml, length, labels, entry, why, size);
    free(yaml);
    return good;
}

void hp_field_copy(const hp_field *field, const hp_entry *from, const hp_labels *labels,
                   hp_bench_entry *to)
{
    char *yaml = NULL, why[200];
    size_t length = 0;
    FILE *out = open_memstream(&yaml, &length);
    if (!out)
        return;
    fputs("value: ", out);
    hp_field_put(out, field, from, labels);
    fputc('\n', out);
    if (fclose(out) == 0)
        read_only_value(field, field->name, yaml, length, labels, to, why, sizeof why);
    free(yaml);
}
