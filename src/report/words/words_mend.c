/* Words for a mend: see words.h. */
#include "decide/advise/hypothesis.h"
#include "decide/advise/trouble.h"
#include "hubphase/decide/evidence.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <stdio.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    (void)context;
    (void)lead;
    HP_CARD_SET(words->title, "Write down what you have mended");
    HP_CARD_SET(words->reason, "What was seen before a part was mended says nothing about the part "
                               "as it is now.");
    hp_card_how(words, "Mend it with everything dead, insulate each joint, and measure the part "
                       "once more.");
    hp_card_doing(words, HP_DOING_OHMS | HP_DOING_HUB);
    hp_card_how(words, "A controller with other leads in its place? Write them into a scenario "
                       "of its own and begin a new log: where leads belong on the old one says "
                       "nothing of them.");
    HP_CARD_SET(words->healthy, "The part now gives what a good one gives.");
    HP_CARD_SET(words->note, "Which part it was.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_mend *mend = values;
    const hp_labels *labels = context->labels;
    hp_lead_names phases = hp_card_phases(labels);
    hp_lead_names sensors = hp_lead_names_of(labels->motor_sensor, "sensor");
    hp_phrase_add(p, "mended: ");
    switch (mend->fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW: hp_phrase_add(p, "%s", sensors.full[mend->fault.which]); break;
    case HP_FAULT_LEAD_OPEN: hp_phrase_add(p, "%s", phases.full[mend->fault.which]); break;
    case HP_FAULT_CLUTCH: hp_phrase_add(p, "the clutch"); break;
    case HP_FAULT_SILENT: hp_phrase_add(p, "what kept the controller silent"); break;
    case HP_FAULT_CUTTING_OUT: hp_phrase_add(p, "what cut out"); break;
    case HP_FAULT_LOOSE: hp_phrase_add(p, "a loose lead"); break;
    case HP_FAULT_UNLISTED: hp_phrase_add(p, "something else"); break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT:
        hp_phrase_add(p, mend->inversion ? "the level of a Hall lead" : "nothing");
        break;
    }
}

static const hp_choice parts[] = {
    {"sensor_stuck_high", "sensor_stuck_high: a sensor that always read 1"},
    {"sensor_stuck_low", "sensor_stuck_low: a sensor that always read 0"},
    {"phase_lead_open", "phase_lead_open: a broken phase lead"},
    {"clutch", "clutch: the one-way clutch"},
    {"controller", "controller: what kept it from driving"},
    {"protection", "protection: what cut out again and again"},
    {"loose_lead", "loose_lead: a lead that made contact now and then"},
    {"unlisted", "unlisted: something else"},
    {"inverted_sensor", "inverted_sensor: a sensor that read the wrong way round"},
    {NULL, NULL},
};

static bool has_lead(const hp_question_case *c, const void *values)
{
    (void)c;
    return hp_mend_has_lead(values);
}

/* What the advice takes for broken. */
static bool suspect(const hp_question_case *c, hp_fault *fault)
{
    int inverted;
    if (!c->advice || c->advice->kind != HP_ADVICE_REPAIR)
        return false;
    hp_trouble_get(c->advice->trouble, &inverted, fault);
    return true;
}

static const char *part_word(const hp_fault *fault)
{
    switch (fault->kind) {
    case HP_FAULT_SENSOR_HIGH: return "sensor_stuck_high";
    case HP_FAULT_SENSOR_LOW: return "sensor_stuck_low";
    case HP_FAULT_LEAD_OPEN: return "phase_lead_open";
    case HP_FAULT_CLUTCH: return "clutch";
    case HP_FAULT_SILENT: return "controller";
    case HP_FAULT_CUTTING_OUT: return "protection";
    case HP_FAULT_LOOSE: return "loose_lead";
    case HP_FAULT_UNLISTED: return "unlisted";
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: break;
    }
    return "inverted_sensor";
}

static const char *usual_part(const hp_question_case *c, const void *values, char *out, size_t size)
{
    hp_fault fault;
    (void)values;
    (void)out;
    (void)size;
    return suspect(c, &fault) ? part_word(&fault) : NULL;
}

static const char *usual_lead(const hp_question_case *c, const void *values, char *out, size_t size)
{
    hp_fault fault;
    if (!suspect(c, &fault) || fault.kind != ((const hp_mend *)values)->fault.kind)
        return NULL;
    snprintf(out, size, "%c", hp_phase_letter(fault.which));
    return out;
}

static const hp_question questions[] = {
    {.field = "part", .text = "What was mended?", .choices = parts, .usual = usual_part},
    {.field = "lead",
     .text = "Which lead does it belong to?",
     .wanted = has_lead,
     .usual = usual_lead},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    const hp_labels *labels = context->labels;
    int inverted;
    hp_fault fault;
    hp_trouble_get(advice->trouble, &inverted, &fault);
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW:
        hp_log_word(line, "--part=%s",
                    fault.kind == HP_FAULT_SENSOR_HIGH ? "sensor_stuck_high" : "sensor_stuck_low");
        hp_log_word(line, "--lead=%s", labels->motor_sensor[fault.which]);
        break;
    case HP_FAULT_LEAD_OPEN:
        hp_log_word(line, "--part=phase_lead_open");
        hp_log_word(line, "--lead=%s", labels->motor_lead[fault.which]);
        break;
    case HP_FAULT_CLUTCH:
    case HP_FAULT_SILENT:
    case HP_FAULT_CUTTING_OUT:
    case HP_FAULT_LOOSE:
    case HP_FAULT_UNLISTED:
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: hp_log_word(line, "--part=%s", part_word(&fault)); break;
    }
}

const hp_words hp_words_mend = {
    .reading = &hp_reading_mend,
    .menu = "something was repaired",
    .card = card,
    .entry = entry,
    .questions = questions,
    .log = log_options,
};
