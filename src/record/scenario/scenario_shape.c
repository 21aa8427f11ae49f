/* Shape of the back-EMF. See scenario_settle.h. */
#include "record/scenario/scenario_settle.h"

#include <math.h>
#include <string.h>

/* One entry of the list: {n: 3, cosine: 0, sine: 0.1}. */
typedef struct harmonic {
    double n, cosine, sine;
    bool has_n;
} harmonic;

static bool read_part(const hp_value *item, const hp_yaml_member *m, harmonic *entry)
{
    static const hp_limits order = {
        .unit = "", .low = 1, .high = HP_BACKEMF_HARMONICS, .whole = true};
    static const hp_limits part = {.unit = "", .low = -1e6, .high = 1e6};
    const char *name = m->name;
    char path[HP_YAML_NAME + 160];
    snprintf(path, sizeof path, "%s.%s", item->path, name);
    hp_value value = {.problems = item->problems, .path = path, .node = m->value, .key = m->place};
    if (strcmp(name, "n") == 0 && !entry->has_n) {
        entry->has_n = true;
        return hp_value_number(&value, &order, &entry->n);
    }
    if (strcmp(name, "cosine") == 0)
        return hp_value_number(&value, &part, &entry->cosine);
    if (strcmp(name, "sine") == 0)
        return hp_value_number(&value, &part, &entry->sine);
    hp_problems_add(item->problems, value.key, "%s is not known, must be n, cosine or sine, once",
                    path);
    return false;
}

static bool read_harmonic(const hp_value *item, harmonic *entry)
{
    static const char expected[] = "a mapping such as {n: 3, cosine: 0, sine: -0.1}";
    void *position = NULL;
    hp_yaml_member m;
    bool good = true;
    if (hp_yaml_kind_of(item->node) != HP_YAML_MAPPING) {
        hp_value_refuse(item, expected, "");
        return false;
    }
    while (hp_yaml_next(item->node, item->key, &position, &m))
        good = read_part(item, &m, entry) && good;
    if (good && !entry->has_n) {
        hp_problems_add(item->problems, item->key, "%s has no n, must be %s", item->path, expected);
        return false;
    }
    return good;
}

/* Fills the series; false when an entry was wrong. */
static bool read_harmonics(hp_reader *reader, hp_backemf *backemf)
{
    hp_value list = hp_reader_value(reader, HP_KEY_HARMONICS);
    bool seen[HP_BACKEMF_HARMONICS + 1] = {false}, good = true;
    if (hp_yaml_kind_of(list.node) != HP_YAML_LIST) {
        hp_value_refuse(&list, "a list of mappings such as {n: 1, cosine: 0, sine: -1}", "");
        return false;
    }
    void *position = NULL;
    struct fy_node *node;
    for (int k = 1; (node = fy_node_sequence_iterate(list.node, &position)) != NULL; k++) {
        char path[80];
        harmonic entry = {.has_n = false};
        snprintf(path, sizeof path, "%s[%d]", list.path, k);
        hp_value item = {.problems = list.problems, .path = path, .node = node, .key = list.key};
        if (!read_harmonic(&item, &entry)) {
            good = false;
            continue;
        }
        int n = (int)entry.n;
        if (seen[n]) {
            hp_problems_add(list.problems, list.key, "%s gives n: %d a second time", path, n);
            good = false;
        }
        seen[n] = true;
        backemf->cosine[n] = entry.cosine;
        backemf->sine[n] = entry.sine;
        if (n > backemf->harmonics)
            backemf->harmonics = n;
    }
    return good;
}

static void settle_series(hp_reader *reader, hp_backemf *backemf)
{
    hp_error err = hp_error_none();
    if (!hp_reader_require(reader, HP_KEY_HARMONICS,
                           "a list of mappings such as {n: 1, cosine: 0, sine: -1}"))
        return;
    if (!read_harmonics(reader, backemf)) {
        reader->reading[HP_KEY_HARMONICS].state = HP_VALUE_BAD;
        return;
    }
    hp_backemf_normalise(backemf);
    if (hp_backemf_check(backemf, &err) != HP_OK)
        hp_reader_problem(reader, HP_KEY_HARMONICS, "motor.backemf.harmonics: %s", err.text);
}

void hp_settle_shape(hp_reader *reader)
{
    hp_backemf *backemf = &reader->draft.drive.motor.backemf;
    if (!hp_reader_sound(reader, HP_KEY_SHAPE) || !hp_reader_sound(reader, HP_KEY_FLAT_WIDTH))
        return;
    hp_backemf_kind kind = backemf->kind;
    if (hp_reader_has(reader, HP_KEY_FLAT_WIDTH) && kind != HP_BACKEMF_TRAPEZOIDAL)
        hp_reader_problem(reader, HP_KEY_FLAT_WIDTH,
                          "motor.backemf.flat_width_deg is given, but motor.backemf.shape is not "
                          "trapezoidal: leave one of them out");
    if (hp_reader_has(reader, HP_KEY_HARMONICS) && kind != HP_BACKEMF_FOURIER)
        hp_reader_problem(reader, HP_KEY_HARMONICS,
                          "motor.backemf.harmonics is given, but motor.backemf.shape is not "
                          "fourier: leave one of them out");
    reader->reading[HP_KEY_FLAT_WIDTH].idle = kind != HP_BACKEMF_TRAPEZOIDAL;
    if (kind == HP_BACKEMF_SINUSOIDAL)
        *backemf = hp_backemf_sinusoidal();
    if (kind == HP_BACKEMF_FOURIER) {
        memset(backemf, 0, sizeof *backemf);
        backemf->kind = HP_BACKEMF_FOURIER;
        settle_series(reader, backemf);
    }
}
