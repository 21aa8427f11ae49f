/* What a file says it is by its first key. See bench_log_parts.h. */
#include "record/log/bench_log_parts.h"
#include "record/scenario/scenario_source.h"
#include "record/scenario/scenario_yaml.h"

#include <stdlib.h>
#include <string.h>

static hp_file_sort sort_of_root(struct fy_node *root)
{
    void *position = NULL;
    hp_yaml_member m;
    if (!hp_yaml_next(root, (hp_place){1, 1, 1}, &position, &m))
        return HP_FILE_OTHER;
    return strcmp(m.name, "hubphase_log") == 0 ? HP_FILE_LOG
           : strcmp(m.name, "hubphase") == 0   ? HP_FILE_SCENARIO
                                               : HP_FILE_OTHER;
}

hp_result hp_file_sort_find(const char *text, size_t size, hp_file_sort *sort, hp_error *err)
{
    hp_source source;
    hp_place place;
    char what[120];
    *sort = HP_FILE_OTHER;
    if (size > HP_SCENARIO_BYTES_MAX)
        return HP_OK;
    hp_problems *problems = calloc(1, sizeof *problems);
    if (!problems)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory to read a file");
    hp_result result = hp_source_copy_as(&source, text, size, "file", "text", "", err);
    if (result == HP_OK && hp_source_clean(&source, &place, what, sizeof what)) {
        hp_yaml yaml;
        result = hp_yaml_load(&yaml, &source, problems, err);
        if (result == HP_OK)
            *sort = sort_of_root(yaml.root);
        hp_yaml_free(&yaml);
    }
    hp_source_free(&source);
    free(problems);
    if (result != HP_FAIL_INPUT)
        return result;
    *err = hp_error_none();
    return HP_OK;
}
