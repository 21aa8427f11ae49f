/* Words for a mend: see words.h. */
#include "decide/advise/hypothesis.h"
#include "decide/advise/trouble.h"
#include "decide/reading/mend_parts.h"
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
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
    hp_card_how(words, "A controller with other leads, or another hub motor, in its place? Write "
                       "it into a scenario of its own and begin a new log: what was read of the "
                       "old one says nothing of it.");
    HP_CARD_SET(words->healthy, "The part now gives what a good one gives.");
    HP_CARD_SET(words->note, "Which part it was.");
}

/* Each part as it is told and asked for; one with a lead is told by it. */
#define WORDS(ROW)                                                                                 \
    ROW(sensor_stuck_high, NULL, "a sensor that always read 1")                                    \
    ROW(sensor_stuck_low, NULL, "a sensor that always read 0")                                     \
    ROW(inverted_sensor, "the level of a Hall lead",                                               \
        "an inverter in the lead that read the wrong way round")                                   \
    ROW(phase_lead_open, NULL, "a broken phase lead")                                              \
    ROW(clutch, "the clutch", "the one-way clutch")                                                \
    ROW(controller, "what kept the controller silent", "what kept it from driving")                \
    ROW(other_controller, "another controller in its place", "one of another kind in its place")   \
    ROW(key, "the key switch", "the key switch, or its leads")                                     \
    ROW(throttle, "the throttle", "the grip, or its leads")                                        \
    ROW(brake_left, "the left brake lever", "the left lever, its switch or leads")                 \
    ROW(brake_right, "the right brake lever", "the right lever, its switch or leads")              \
    ROW(pedal_sensor, "the pedal sensor", "the pedal sensor, its ring or leads")                   \
    ROW(speed_switch, "the speed switch", "the speed switch, or its leads")                        \
    ROW(battery, "the battery", "another one, or its cells")                                       \
    ROW(protection, "what cut out", "what cut out again and again")                                \
    ROW(loose_lead, "a loose lead", "a lead that made contact now and then")                       \
    ROW(unlisted, "something else", "something else")

#define ONE(word_, told_, ask_)    +1
#define TOLD(word_, told_, ask_)   [HP_MEND_##word_] = told_,
#define CHOICE(word_, told_, ask_) [HP_MEND_##word_] = {#word_, #word_ ": " ask_},

_Static_assert(0 WORDS(ONE) == HP_MEND_PARTS, "words for each part");

static const char *const told_of[HP_MEND_PARTS] = {WORDS(TOLD)};
static const hp_choice choices[HP_MEND_PARTS + 1] = {WORDS(CHOICE)};

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_mend *mend = values;
    const hp_labels *labels = context->labels;
    const hp_mend_part *part = hp_mend_part_of(mend);
    if (hp_mend_has_lead(mend)) {
        hp_lead_names names = mend->fault.kind == HP_FAULT_LEAD_OPEN
                                  ? hp_card_phases(labels)
                                  : hp_lead_names_of(labels->motor_sensor, "sensor");
        hp_phrase_add(p, "mended: %s", names.full[mend->fault.which]);
        return;
    }
    if (mend->inverter > 0) {
        hp_lead_names names = hp_lead_names_of(labels->motor_sensor, "sensor");
        hp_phrase_add(p, "mended: an inverter in the lead of %s", names.full[mend->inverter - 1]);
        return;
    }
    hp_phrase_add(p, "mended: %s", part ? told_of[part - hp_mend_parts] : "nothing");
}

static bool has_lead(const hp_question_case *c, const void *values)
{
    (void)c;
    return hp_mend_has_lead(values) || ((const hp_mend *)values)->what == HP_MENDED_INVERSION;
}

/* What the advice takes for broken. */
static bool suspect(const hp_question_case *c, hp_fault *fault, int *misfit)
{
    if (!c->advice || c->advice->kind != HP_ADVICE_REPAIR)
        return false;
    hp_trouble_get(c->advice->trouble, misfit, fault);
    return true;
}

static const char *part_word(const hp_fault *fault)
{
    const hp_mend mend = {.fault = *fault,
                          .what =
                              fault->kind == HP_FAULT_NONE ? HP_MENDED_INVERSION : HP_MENDED_FAULT};
    return hp_mend_part_of(&mend)->word;
}

static const char *usual_part(const hp_question_case *c, const void *values, char *out, size_t size)
{
    hp_fault fault;
    int misfit;
    (void)values;
    (void)out;
    (void)size;
    return suspect(c, &fault, &misfit) ? part_word(&fault) : NULL;
}

static const char *usual_lead(const hp_question_case *c, const void *values, char *out, size_t size)
{
    hp_fault fault;
    int misfit;
    if (!suspect(c, &fault, &misfit) || fault.kind != ((const hp_mend *)values)->fault.kind)
        return NULL;
    int lead = fault.kind == HP_FAULT_NONE ? hp_misfit_lead(c->advice, misfit) : fault.which;
    if (lead < 0)
        return NULL;
    snprintf(out, size, "%c", hp_phase_letter(lead));
    return out;
}

static const hp_question questions[] = {
    {.field = "part", .text = "What was mended?", .choices = choices, .usual = usual_part},
    {.field = "lead",
     .text = "Which lead does it belong to?",
     .wanted = has_lead,
     .usual = usual_lead},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    const hp_labels *labels = context->labels;
    int misfit;
    hp_fault fault;
    hp_trouble_get(advice->trouble, &misfit, &fault);
    int inverted = hp_misfit_lead(advice, misfit);
    hp_log_word(line, "--part=%s", part_word(&fault));
    if (fault.kind == HP_FAULT_LEAD_OPEN)
        hp_log_word(line, "--lead=%s", labels->motor_lead[fault.which]);
    else if (hp_mend_has_lead(&(hp_mend){.fault = fault}))
        hp_log_word(line, "--lead=%s", labels->motor_sensor[fault.which]);
    else if (fault.kind == HP_FAULT_NONE && inverted >= 0)
        hp_log_word(line, "--lead=%s", labels->motor_sensor[inverted]);
}

static bool is_inverter(const void *values, int unused)
{
    (void)unused;
    return ((const hp_mend *)values)->what == HP_MENDED_INVERSION;
}

/* Who seals a cable anew, or takes the hub to another controller, must know of it. */
static void keep(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *found = hp_sheet_last(source, &hp_reading_mend, is_inverter, 0);
    if (!found)
        return;
    int lead = found->mend.inverter - 1;
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Inverter between hub and controller");
    hp_sheet_set(source, line, found, "%s%s", lead < 0 ? "" : "in the Hall lead ",
                 lead < 0 ? "in a Hall lead, the log does not say which"
                          : hp_picture_label(source->labels->motor_sensor[lead], lead));
    /* A later mend does not take it out. */
    if (line)
        snprintf(line->from, sizeof line->from, "log entry %d", found->number);
}

const hp_words hp_words_mend = {
    .reading = &hp_reading_mend,
    .menu = "something was repaired",
    .card = card,
    .entry = entry,
    .questions = questions,
    .log = log_options,
    .sheet_place = 4,
    .keep = keep,
};
