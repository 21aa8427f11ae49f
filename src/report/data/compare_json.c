/* What changed between two logs, as JSON: see hubphase/report/case_words.h. */
#include "hubphase/report/case_words.h"

#include "report/data/json_tree.h"
#include "report/words/card_parts.h"
#include "report/words/compare_words.h"

#include <stdlib.h>

static const char *const cause_name[HP_CAUSE_COUNT] = {[HP_CAUSE_DRAG_MORE] = "drag_more",
                                                       [HP_CAUSE_WHEEL_DRAGS] = "wheel_drags",
                                                       [HP_CAUSE_DRAG_LESS] = "drag_less",
                                                       [HP_CAUSE_POWER_LOST] = "power_lost",
                                                       [HP_CAUSE_GEARS] = "gears",
                                                       [HP_CAUSE_TURNS] = "turns",
                                                       [HP_CAUSE_JOINT] = "joint",
                                                       [HP_CAUSE_MAGNETS] = "magnets",
                                                       [HP_CAUSE_SLOWER] = "slower",
                                                       [HP_CAUSE_IDLE_MORE] = "idle_more",
                                                       [HP_CAUSE_BATTERY_MORE] = "battery_more",
                                                       [HP_CAUSE_WHEEL] = "wheel",
                                                       [HP_CAUSE_WINDING_LOOSE] = "winding_loose",
                                                       [HP_CAUSE_OTHER_MOTOR] = "other_motor",
                                                       [HP_CAUSE_DRAG_GONE] = "drag_gone",
                                                       [HP_CAUSE_LEAD] = "lead",
                                                       [HP_CAUSE_LEAD_TURNS] = "lead_turns",
                                                       [HP_CAUSE_PAIR] = "pair"};

static json_t *figure(hp_json *b, const hp_own_figure *f)
{
    json_t *object = json_object();
    hp_json_set(b, object, "value", hp_json_number(f->value));
    hp_json_set(b, object, "low", hp_json_number(f->low));
    hp_json_set(b, object, "high", hp_json_number(f->high));
    hp_json_set(b, object, "entry", json_integer(f->entry));
    return object;
}

static json_t *row_object(hp_json *b, const hp_compare_row *row)
{
    json_t *object = json_object();
    hp_json_set(b, object, "name", hp_json_text(hp_own_name(row->kind)));
    hp_json_set(b, object, "title", hp_json_text(hp_own_title(row->kind)));
    hp_json_set(b, object, "unit", hp_json_text(hp_own_unit(row->kind)));
    hp_json_set(b, object, "then", figure(b, row->then));
    hp_json_set(b, object, "now", figure(b, row->now));
    hp_json_set(b, object, "ratio", hp_json_number(row->ratio));
    hp_json_set(b, object, "ratio_low", hp_json_number(row->low));
    hp_json_set(b, object, "ratio_high", hp_json_number(row->high));
    hp_json_set(b, object, "change", hp_json_text(hp_change_name(row->change)));
    return object;
}

static json_t *pairs_or_null(hp_json *b, const hp_compare_pairs *p, const hp_labels *labels)
{
    const hp_lead_names phases = hp_card_phases(labels);
    char words[400], name[HP_PAIR_WORDS];
    json_t *object = json_object(), *pairs = json_array();
    for (int at = 0; at < HP_PHASE_COUNT; at++) {
        int k = hp_card_pair_order[at];
        json_t *pair = json_object();
        hp_json_set(b, pair, "pair", hp_json_text(hp_card_pair(&phases, k, name, sizeof name)));
        hp_json_set(b, pair, "then_ohm", hp_json_number(p->then[k]));
        hp_json_set(b, pair, "now_ohm", hp_json_number(p->now[k]));
        hp_json_append(b, pairs, pair);
    }
    hp_json_set(b, object, "pairs", pairs);
    hp_json_set(b, object, "lead", p->lead < 0 ? json_null() : hp_json_text(phases.bare[p->lead]));
    hp_json_set(b, object, "words",
                hp_json_text(hp_compare_pairs_words(p, labels, words, sizeof words)));
    if (p->unlike)
        return object;
    json_decref(object);
    return json_null();
}

static json_t *finding_object(hp_json *b, const hp_commission_case *now,
                              const hp_compare_finding *f)
{
    char words[HP_FOUND_WORDS];
    json_t *object = json_object();
    hp_json_set(b, object, "kind", hp_json_text(hp_reading_name(f->reading)));
    hp_json_set(b, object, "then", hp_json_text(hp_finding_name(f->then)));
    hp_json_set(b, object, "now", hp_json_text(hp_finding_name(f->now)));
    hp_json_set(b, object, "words",
                hp_json_text(hp_commission_found_words(now, f->reading, words, sizeof words)));
    return object;
}

hp_result hp_compare_json_write(const hp_commission_case *then, const hp_commission_case *now,
                                bool same_meters, FILE *out, hp_error *err)
{
    hp_compare *c = hp_compare_of(then, now, same_meters, err);
    if (!c)
        return HP_FAIL_MEMORY;
    const hp_report_case subject = hp_report_case_of(hp_commission_case_scenario(now));
    hp_json b = {.failed = false};
    json_t *root = json_object(), *rows = json_array(), *causes = json_array(),
           *findings = json_array();
    for (int k = 0; k < c->rows; k++)
        hp_json_append(&b, rows, row_object(&b, &c->row[k]));
    for (int k = 0; k < HP_CAUSE_COUNT; k++) {
        if (!c->cause[k])
            continue;
        json_t *object = json_object();
        hp_json_set(&b, object, "name", hp_json_text(cause_name[k]));
        hp_json_set(&b, object, "words", hp_json_text(hp_cause_words((hp_cause)k)));
        hp_json_append(&b, causes, object);
    }
    hp_json_set(&b, root, "scenario", hp_json_scenario(&b, &subject));
    hp_json_set(&b, root, "log_then", hp_json_text(hp_commission_case_log(then)->path));
    hp_json_set(&b, root, "log_now", hp_json_text(hp_commission_case_log(now)->path));
    char day[HP_DAY_SIZE], order[300];
    hp_json_set(&b, root, "until_then", hp_json_text(hp_compare_last_day(then, day)));
    hp_json_set(&b, root, "until_now", hp_json_text(hp_compare_last_day(now, day)));
    hp_json_set(&b, root, "order",
                hp_json_text(hp_compare_order_words(then, now, order, sizeof order)));
    hp_json_set(&b, root, "same_meters", json_boolean(same_meters));
    hp_json_set(&b, root, "figures", rows);
    hp_json_set(&b, root, "pairs", pairs_or_null(&b, &c->pairs, subject.labels));
    hp_json_set(&b, root, "causes", causes);
    for (int k = 0; k < c->findings; k++)
        hp_json_append(&b, findings, finding_object(&b, now, &c->finding[k]));
    hp_json_set(&b, root, "findings", findings);
    hp_json_set(&b, root, "end", hp_json_text(hp_compare_end_words(c)));
    hp_result result = hp_json_finish(&b, root, out, err);
    free(c);
    return result;
}
