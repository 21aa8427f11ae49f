/* The plan as the JSON that the page's script reads: see page_plan.h. */
#include "report/page/page_plan.h"

#include "report/data/json_tree.h"
#include "report/picture/lead_colour.h"
#include "report/words/words.h"

#include "hubphase/base/text.h"

/* [kind, words, reason, wiring, joins, cut, [answer, step, answer, step ...], places]; `places`: the
 * pins of the plug may be noted with the answer. */
static json_t *json_step(hp_json *json, const hp_page_step *step)
{
    static const char *const kind[HP_ADVICE_COUNT] = {
        "read", "try", "look", "learn", "done", "repair", "danger", "give up", "probably"};
    json_t *answers = json_array();
    for (int k = 0; k < step->answers; k++) {
        hp_json_append(json, answers, json_integer(step->answer[k].answer));
        hp_json_append(json, answers, json_integer(step->answer[k].to));
    }
    const hp_words *own = step->kind == HP_ADVICE_READ ? hp_words_of(step->reading) : NULL;
    bool places = own && own->places;
    return json_pack("[s, i, i, i, i, i, o, i]", kind[step->kind], step->words, step->reason,
                     step->wiring, (int)step->joins, (int)step->cut, answers, (int)places);
}

/* Three leads with their names and one or two colours. */
static json_t *json_leads(hp_json *json, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    json_t *array = json_array();
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char clean[HP_LABEL_SIZE], letter[2] = {hp_phase_letter(k), '\0'};
        const char *tint[2] = {NULL, NULL};
        hp_lead_tints(label[k], tint);
        json_t *lead = json_object();
        hp_text_clean(label[k][0] ? label[k] : letter, clean, sizeof clean);
        hp_json_set(json, lead, "name", hp_json_text(clean));
        hp_json_set(json, lead, "colour", tint[0] ? json_string(tint[0]) : json_null());
        hp_json_set(json, lead, "stripe", tint[1] ? json_string(tint[1]) : json_null());
        hp_json_append(json, array, lead);
    }
    return array;
}

static json_t *json_plan(hp_json *json, const hp_page_plan *plan, const hp_bench_page *page)
{
    const hp_labels *labels = page->subject.labels;
    json_t *root = json_object(), *leads = json_object(), *log = json_object();
    json_t *steps = json_array();
    hp_json_set(json, leads, "phase", json_leads(json, labels->motor_lead));
    hp_json_set(json, leads, "sensor", json_leads(json, labels->motor_sensor));
    hp_json_set(json, leads, "output", json_leads(json, labels->controller_output));
    hp_json_set(json, leads, "input", json_leads(json, labels->controller_input));
    hp_json_set(json, log, "text", hp_json_text(page->log.text));
    hp_json_set(json, log, "name", hp_json_text(page->log.name));
    hp_json_set(json, log, "add", hp_json_text(page->log.add));
    hp_json_set(json, log, "ask", hp_json_text(page->log.ask));
    hp_json_set(json, log, "time", json_string(HP_BENCH_PAGE_TIME));
    for (int k = 0; k < plan->count; k++)
        hp_json_append(json, steps, json_step(json, &plan->step[k]));
    hp_json_set(json, root, "leads", leads);
    hp_json_set(json, root, "joined", json_integer(page->words.present));
    hp_json_set(json, root, "log", log);
    hp_json_set(json, root, "texts", json_incref(plan->texts.list));
    hp_json_set(json, root, "words", json_incref(plan->words.list));
    hp_json_set(json, root, "answers", json_incref(plan->answers.list));
    hp_json_set(json, root, "steps", steps);
    return root;
}

char *hp_page_plan_json(const hp_page_plan *plan, const hp_bench_page *page)
{
    hp_json json = {false};
    json_t *root = json_plan(&json, plan, page);
    char *text = json.failed ? NULL : hp_json_compact(root);
    json_decref(root);
    return text;
}
