/*
 * The list of what else hangs on the controller. See scenario_settle.h.
 *
 *     harness:
 *       - part: throttle grip
 *         control: throttle
 *         leads: {red: 5 V supply, black: ground, white: signal}
 *         note: springs back by itself
 */
#include "record/scenario/scenario_settle.h"

#include "hubphase/base/text.h"

#include <string.h>
#include <strings.h>

/* What is being read: a part of the list, and what it has given so far. */
typedef struct reading {
    const hp_value *item;
    hp_harness_part *part;
    struct fy_node *name, *control, *leads, *note;
} reading;

static bool read_lead(const hp_value *leads, const hp_yaml_member *m, hp_harness_part *part)
{
    char path[200];
    hp_harness_lead lead;
    snprintf(path, sizeof path, "the name of a lead in %s", leads->path);
    hp_value name = {.problems = leads->problems, .path = path, .node = m->key, .key = leads->key};
    if (!hp_value_line(&name, lead.colour, sizeof lead.colour))
        return false;
    snprintf(path, sizeof path, "%s.%s", leads->path, lead.colour);
    hp_value function = {
        .problems = leads->problems, .path = path, .node = m->value, .key = hp_value_place(&name)};
    for (int k = 0; k < part->leads; k++)
        if (strcasecmp(part->lead[k].colour, lead.colour) == 0) {
            hp_problems_add(leads->problems, function.key,
                            "%s is given a second time, must be there once", path);
            return false;
        }
    if (!hp_value_line(&function, lead.function, sizeof lead.function))
        return false;
    if (part->leads == HP_HARNESS_LEADS) {
        hp_problems_add(leads->problems, function.key, "%s has more than %d leads, must have fewer",
                        leads->path, HP_HARNESS_LEADS);
        return false;
    }
    part->lead[part->leads++] = lead;
    return true;
}

static bool read_leads(const hp_value *leads, hp_harness_part *part)
{
    void *position = NULL;
    hp_yaml_member m;
    bool good = true;
    if (hp_yaml_kind_of(leads->node) != HP_YAML_MAPPING) {
        hp_value_refuse(leads, "a mapping of leads, such as {red: 5 V supply, black: ground}", "");
        return false;
    }
    while (good && hp_yaml_next(leads->node, leads->key, &position, &m))
        good = read_lead(leads, &m, part);
    return good;
}

/* A key of a part: only notes which it is. */
static bool take_key(reading *r, const hp_yaml_member *m)
{
    static const char *const known[] = {"part", "control", "leads", "note"};
    struct fy_node **place[] = {&r->name, &r->control, &r->leads, &r->note};
    for (int k = 0; k < 4; k++) {
        if (strcmp(m->name, known[k]) != 0)
            continue;
        if (*place[k]) {
            hp_problems_add(r->item->problems, m->place,
                            "%s.%s is given a second time, must be there "
                            "once",
                            r->item->path, m->name);
            return false;
        }
        *place[k] = m->value;
        return true;
    }
    hp_problems_add(r->item->problems, m->place,
                    "%s.%s is not known, must be part, control, leads or note", r->item->path,
                    m->name);
    return false;
}

static hp_value value_of(const reading *r, const char *key, struct fy_node *node, char path[80])
{
    snprintf(path, 80, "%s.%s", r->item->path, key);
    return (hp_value){
        .problems = r->item->problems, .path = path, .node = node, .key = r->item->key};
}

static bool read_control(const hp_value *value, hp_harness_part *part)
{
    char text[HP_LABEL_SIZE], expected[200];
    if (!hp_value_line(value, text, sizeof text))
        return false;
    hp_phrase names = hp_phrase_begin(expected, sizeof expected);
    for (int k = 1; k < HP_CONTROL_PART_COUNT; k++) {
        const char *name = hp_control_part_name((hp_control_part)k);
        if (strcmp(text, name) == 0)
            part->control = (hp_control_part)k;
        hp_phrase_add(&names, "%s%s",
                      k == 1                          ? ""
                      : k < HP_CONTROL_PART_COUNT - 1 ? ", "
                                                      : " or ",
                      name);
    }
    if (part->control == HP_CONTROL_PART_NONE)
        hp_value_refuse(value, expected, "");
    return part->control != HP_CONTROL_PART_NONE;
}

static bool read_part(const hp_value *item, hp_harness_part *part)
{
    char path[80];
    void *position = NULL;
    hp_yaml_member m;
    reading r = {.item = item, .part = part};
    if (hp_yaml_kind_of(item->node) != HP_YAML_MAPPING) {
        hp_value_refuse(item, "a mapping such as {part: fuse, note: 20 A}", "");
        return false;
    }
    while (hp_yaml_next(item->node, item->key, &position, &m))
        if (!take_key(&r, &m))
            return false;
    if (!r.name) {
        hp_problems_add(item->problems, hp_value_place(item),
                        "%s.part is missing, must be the part's name", item->path);
        return false;
    }
    hp_value name = value_of(&r, "part", r.name, path);
    bool good = hp_value_line(&name, part->name, sizeof part->name);
    if (r.control) {
        hp_value control = value_of(&r, "control", r.control, path);
        good = read_control(&control, part) && good;
    }
    if (r.leads) {
        hp_value leads = value_of(&r, "leads", r.leads, path);
        good = read_leads(&leads, part) && good;
    }
    if (r.note) {
        hp_value note = value_of(&r, "note", r.note, path);
        good = hp_value_line(&note, part->note, sizeof part->note) && good;
    }
    return good;
}

void hp_settle_harness(hp_reader *reader)
{
    hp_harness *harness = &reader->draft.harness;
    if (!hp_reader_has(reader, HP_KEY_HARNESS))
        return;
    hp_value list = hp_reader_value(reader, HP_KEY_HARNESS);
    void *position = NULL;
    struct fy_node *node;
    if (hp_yaml_kind_of(list.node) != HP_YAML_LIST) {
        hp_value_refuse(&list, "a list of parts such as {part: fuse, note: 20 A}", "");
        reader->reading[HP_KEY_HARNESS].state = HP_VALUE_BAD;
        return;
    }
    for (int k = 1; (node = fy_node_sequence_iterate(list.node, &position)) != NULL; k++) {
        char path[40];
        snprintf(path, sizeof path, "%s[%d]", list.path, k);
        hp_value item = {.problems = list.problems, .path = path, .node = node, .key = list.key};
        if (harness->parts == HP_HARNESS_PARTS) {
            hp_problems_add(list.problems, hp_value_place(&item),
                            "%s is one too many, a list of parts must have at most %d", path,
                            HP_HARNESS_PARTS);
            reader->reading[HP_KEY_HARNESS].state = HP_VALUE_BAD;
            return;
        }
        if (read_part(&item, &harness->part[harness->parts]))
            harness->parts++;
        else
            reader->reading[HP_KEY_HARNESS].state = HP_VALUE_BAD;
    }
}
