/* How the questions of a form are asked, and their answers taken: see ask_form_parts.h. */
#include "app/ask_form_parts.h"

#include <math.h>
#include <string.h>

#define TEXT_SIZE 400
#define NAME_SIZE 200

static const hp_choice yes_no[] = {{"yes", "yes"}, {"no", "no"}};

static const hp_labels *labels_of(const hp_form *form)
{
    return &form->context->scenario->labels;
}

static const hp_bench_key *key_of(const hp_question *question)
{
    return hp_bench_key_find(question->kind, question->key);
}

/* Asks until the answer reads as the key wants it. An answer left out leaves the entry alone. */
static hp_answer ask_key(hp_form *form, const hp_bench_key *key, const hp_question *question,
                         const char *text, const char *fallback, const char *shown)
{
    char why[720];
    for (;;) {
        hp_answer answer = hp_ask_text(form->ask, text, question->help, fallback, shown);
        if (answer != HP_ANSWER_GIVEN || form->ask->text[0] == '\0')
            return answer;
        if (hp_bench_typed_read(key, "the answer", form->ask->text, labels_of(form),
                                &form->state.entry, why, sizeof why))
            return HP_ANSWER_GIVEN;
        hp_ask_say(form->ask, "No: %s.", why);
    }
}

hp_answer hp_form_value(hp_form *form, const hp_question *q)
{
    return ask_key(form, key_of(q), q, q->text, q->fallback, q->shown);
}

hp_answer hp_form_throttle(hp_form *form, const hp_question *q)
{
    char usual[32];
    snprintf(usual, sizeof usual, "%.6g", 100.0 * form->context->plan->throttle);
    return ask_key(form, key_of(q), q, q->text, usual, NULL);
}

/* ---- words ----------------------------------------------------------------------------------- */

static int count_of(const char *const *words)
{
    int count = 0;
    while (words[count])
        count++;
    return count;
}

/* One of the key's words; `usual` is the default's index, or -1. */
static hp_answer ask_words(hp_form *form, const hp_question *q, int usual)
{
    const hp_bench_key *key = key_of(q);
    char why[720];
    int index = 0;
    hp_answer answer =
        hp_ask_choice(form->ask, q->text, q->help, q->choices, count_of(key->words), usual, &index);
    if (answer == HP_ANSWER_GIVEN)
        hp_bench_typed_read(key, q->key, key->words[index], labels_of(form), &form->state.entry,
                            why, sizeof why);
    return answer;
}

hp_answer hp_form_words(hp_form *form, const hp_question *q)
{
    /* Behind a one-way clutch the wheel takes the rotor along backward only. */
    bool clutch = q->kind == HP_ENTRY_HAND_TURN && form->context->scenario->drive.stand.clutch;
    return ask_words(form, q, clutch ? 1 : q->fallback ? 0 : -1);
}

hp_answer hp_form_motion(hp_form *form, const hp_question *q)
{
    /* Without a clutch nothing turns in the hub while the wheel stays: a hum there is "still". */
    const hp_choice direct[] = {q->choices[0],
                                q->choices[1],
                                q->choices[2],
                                q->choices[4],
                                {"still", "still: it did not turn, whether it hummed or not"}};
    char why[720];
    int index = 0;
    if (form->context->scenario->drive.stand.clutch)
        return ask_words(form, q, -1);
    hp_answer answer = hp_ask_choice(form->ask, q->text, q->help, direct, 5, -1, &index);
    if (answer == HP_ANSWER_GIVEN)
        hp_bench_typed_read(key_of(q), q->key, direct[index].word, labels_of(form),
                            &form->state.entry, why, sizeof why);
    return answer;
}

static hp_answer ask_yes_no(hp_form *form, const char *text, const char *help, int usual,
                            int *index)
{
    return hp_ask_choice(form->ask, text, help, yes_no, 2, usual, index);
}

hp_answer hp_form_tell(hp_form *form, const hp_question *q)
{
    char why[720];
    int index = 0;
    hp_answer answer = ask_yes_no(form, q->text, q->help, q->fallback ? 2 : -1, &index);
    if (answer == HP_ANSWER_GIVEN && index >= 0)
        hp_bench_typed_read(key_of(q), q->key, yes_no[index].word, labels_of(form),
                            &form->state.entry, why, sizeof why);
    return answer;
}

hp_answer hp_form_current(hp_form *form, const hp_question *q)
{
    int index = 0;
    hp_answer answer = ask_yes_no(form, q->text, q->help, 0, &index);
    if (answer == HP_ANSWER_GIVEN)
        form->state.entry.entry.park.no_current = index == 1 ? HP_TELL_YES : HP_TELL_NO;
    return answer;
}

/* ---- pairs ----------------------------------------------------------------------------------- */

static char *pair_text(const hp_form *form, const hp_question *q, char *out, size_t size)
{
    char name[2 * HP_LABEL_SIZE + 8];
    int left_out = hp_bench_pair_order[q->which];
    snprintf(name, sizeof name, "%s and %s", labels_of(form)->motor_lead[(left_out + 1) % 3],
             labels_of(form)->motor_lead[(left_out + 2) % 3]);
    snprintf(out, size, q->text, name);
    return out;
}

hp_answer hp_form_pair(hp_form *form, const hp_question *q)
{
    const hp_bench_key *key = key_of(q);
    char text[TEXT_SIZE];
    int pair = hp_bench_pair_order[q->which];
    hp_bench_key one = *key; /* the same limits, for one number */
    one.type = HP_BENCH_NUMBER;
    one.limits.none = false;
    one.factor = 1.0;
    one.offset = key->offset + (size_t)pair * sizeof(double);
    const double *number = q->kind == HP_ENTRY_SPIN ? form->state.entry.entry.spin.volts
                                                    : form->state.entry.entry.winding.ohm;
    /* One pair at least must be there. */
    bool last =
        q->which == HP_PHASE_COUNT - 1 && isnan(number[0]) && isnan(number[1]) && isnan(number[2]);
    pair_text(form, q, text, sizeof text);
    for (;;) {
        char why[720];
        hp_answer answer =
            hp_ask_text(form->ask, text, q->help, last ? NULL : "", "Enter: not measured");
        if (answer != HP_ANSWER_GIVEN || form->ask->text[0] == '\0')
            return answer;
        if (key->limits.none && strcmp(form->ask->text, "open") == 0) {
            form->state.entry.entry.winding.ohm[pair] = INFINITY;
            return HP_ANSWER_GIVEN;
        }
        if (hp_bench_typed_read(&one, "the answer", form->ask->text, labels_of(form),
                                &form->state.entry, why, sizeof why))
            return HP_ANSWER_GIVEN;
        hp_ask_say(form->ask, "No: %s%s.", why, key->limits.none ? ", or open" : "");
    }
}

hp_answer hp_form_continuity_all(hp_form *form, const hp_question *q)
{
    int index = 0;
    hp_answer answer = ask_yes_no(form, q->text, q->help, -1, &index);
    form->state.all_joined = index == 0;
    for (int k = 0; answer == HP_ANSWER_GIVEN && k < HP_PHASE_COUNT; k++)
        form->state.entry.entry.pins.open[k] = index == 0 ? HP_TELL_NO : HP_TELL_UNSAID;
    return answer;
}

hp_answer hp_form_continuity(hp_form *form, const hp_question *q)
{
    char text[TEXT_SIZE];
    int index = 0, pair = hp_bench_pair_order[q->which];
    hp_answer answer = ask_yes_no(form, pair_text(form, q, text, sizeof text), q->help, -1, &index);
    if (answer == HP_ANSWER_GIVEN)
        form->state.entry.entry.pins.open[pair] = index == 0 ? HP_TELL_NO : HP_TELL_YES;
    return answer;
}

/* ---- pins of the plug ------------------------------------------------------------------------ */

hp_answer hp_form_pins_gate(hp_form *form, const hp_question *q)
{
    int index = 0;
    hp_answer answer = ask_yes_no(form, q->text, q->help, 0, &index);
    form->state.pins_wanted = answer == HP_ANSWER_GIVEN && index == 0;
    return answer;
}

static char *plug_lead_name(const hp_labels *labels, int lead, char *out, size_t size)
{
    if (lead < HP_PLUG_SENSOR_U)
        snprintf(out, size, "the phase lead %s", labels->motor_lead[lead]);
    else if (lead < HP_PLUG_SUPPLY_PLUS)
        snprintf(out, size, "the sensor lead %s", labels->motor_sensor[lead - HP_PLUG_SENSOR_U]);
    else
        snprintf(out, size, "%s of the sensors", lead == HP_PLUG_SUPPLY_PLUS ? "plus" : "minus");
    return out;
}

hp_answer hp_form_pin(hp_form *form, const hp_question *q)
{
    char text[TEXT_SIZE], name[NAME_SIZE], other[NAME_SIZE];
    hp_plug_map *plug = &form->state.entry.plug;
    hp_bench_key key = {.kind = q->kind,
                        .name = "pin",
                        .type = HP_BENCH_PIN,
                        .offset = offsetof(hp_bench_entry, plug.pin) +
                                  (size_t)q->which * HP_PLUG_PIN_SIZE};
    plug_lead_name(labels_of(form), q->which, name, sizeof name);
    snprintf(text, sizeof text, q->text, name);
    for (;;) {
        int twice = -1;
        hp_answer answer = ask_key(form, &key, q, text, NULL, NULL);
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        for (int k = 0; k < q->which; k++)
            if (strcmp(plug->pin[k], plug->pin[q->which]) == 0)
                twice = k;
        if (twice < 0)
            return HP_ANSWER_GIVEN;
        hp_ask_say(form->ask, "No: pin %s has %s already, must be another pin.",
                   plug->pin[q->which],
                   plug_lead_name(labels_of(form), twice, other, sizeof other));
        plug->pin[q->which][0] = '\0';
    }
}

/* ---- leads, codes, wirings ------------------------------------------------------------------- */

/* One of three leads by digit, label or letter. */
static hp_answer ask_lead(hp_form *form, const hp_question *q,
                          const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int usual, int *lead)
{
    hp_choice choices[HP_PHASE_COUNT];
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        choices[k] = (hp_choice){label[k], label[k]};
    return hp_ask_choice(form->ask, q->text, q->help, choices, HP_PHASE_COUNT, usual, lead);
}

hp_answer hp_form_lead(hp_form *form, const hp_question *q)
{
    const hp_advice *advice = form->context->advice;
    bool advised = advice && advice->kind == HP_ADVICE_READ && advice->reading == HP_ENTRY_PARK;
    return ask_lead(form, q, labels_of(form)->motor_lead, advised ? advice->lead : -1,
                    &form->state.entry.entry.park.lead);
}

hp_answer hp_form_code(hp_form *form, const hp_question *q)
{
    /* Without current the rotor rests anywhere, and a code says nothing. */
    bool wanted = form->state.entry.entry.park.no_current != HP_TELL_YES;
    return ask_key(form, key_of(q), q, q->text, wanted ? NULL : "", q->shown);
}

/* Two names with a blank between become "high > low", at whichever blank that works. */
static bool read_row(const hp_form *form, const hp_bench_key *key, const char *code,
                     const char *text, hp_bench_entry *entry, char *why, size_t size)
{
    char typed[HP_ASK_TEXT_SIZE + 16];
    if (strlen(text) > 200) {
        snprintf(why, size, "that is too long");
        return false;
    }
    for (const char *blank = strchr(text, ' '); blank && !strchr(text, '>');
         blank = strchr(blank + 1, ' ')) {
        snprintf(typed, sizeof typed, "%s=%.*s > %s", code, (int)(blank - text), text, blank + 1);
        if (hp_bench_typed_read(key, "the answer", typed, labels_of(form), entry, why, size))
            return true;
    }
    snprintf(typed, sizeof typed, "%s=%s", code, text);
    return hp_bench_typed_read(key, "the answer", typed, labels_of(form), entry, why, size);
}

hp_answer hp_form_row(hp_form *form, const hp_question *q)
{
    const hp_labels *labels = labels_of(form);
    const hp_bench_key *key = hp_bench_key_find(HP_ENTRY_PROBE, "rows");
    const hp_probe *probe = &form->state.entry.entry.probe;
    char text[TEXT_SIZE], code[4], name[NAME_SIZE + 100], why[720];
    bool any = false;
    snprintf(code, sizeof code, "%d%d%d", q->which >> 2 & 1, q->which >> 1 & 1, q->which & 1);
    snprintf(name, sizeof name, "%s (%.40s: %c, %.40s: %c, %.40s: %c)", code,
             labels->controller_input[HP_U], code[0], labels->controller_input[HP_V], code[1],
             labels->controller_input[HP_W], code[2]);
    snprintf(text, sizeof text, q->text, name);
    for (int k = 0; k < HP_CODE_COUNT; k++)
        any = any || probe->read[k];
    /* One code at least must be there by the last. */
    const char *fallback = q->which == HP_CODE_COUNT - 1 && !any ? NULL : "";
    for (;;) {
        hp_answer answer = hp_ask_text(form->ask, text, q->help, fallback, "Enter: not tried");
        if (answer != HP_ANSWER_GIVEN || form->ask->text[0] == '\0' ||
            read_row(form, key, code, form->ask->text, &form->state.entry, why, sizeof why))
            return answer;
        hp_ask_say(form->ask, "No: must be two outputs of %s, %s and %s, or off.",
                   labels->controller_output[HP_U], labels->controller_output[HP_V],
                   labels->controller_output[HP_W]);
    }
}

hp_answer hp_form_wiring(hp_form *form, const hp_question *q)
{
    const hp_advice *advice = form->context->advice;
    char usual[16] = "";
    if (advice && advice->number > 0)
        snprintf(usual, sizeof usual, "%d", advice->number);
    return ask_key(form, key_of(q), q, q->text, usual[0] ? usual : NULL, NULL);
}

/* ---- starts ---------------------------------------------------------------------------------- */

bool hp_form_turned(const hp_form_state *state)
{
    hp_motion motion = state->entry.entry.trial.motion;
    return motion != HP_MOVED_UNSAID && motion != HP_MOVED_STILL && motion != HP_MOVED_SHIVER;
}

hp_answer hp_form_starts_tried(hp_form *form, const hp_question *q)
{
    char usual[16];
    snprintf(usual, sizeof usual, "%d", form->context->plan->starts);
    return ask_key(form, key_of(q), q, q->text, usual, NULL);
}

hp_answer hp_form_starts(hp_form *form, const hp_question *q)
{
    char usual[16];
    hp_bench_key key = *key_of(q);
    key.limits.low = 1; /* it turned */
    key.limits.high = form->state.entry.entry.trial.starts_tried;
    snprintf(usual, sizeof usual, "%d", form->state.entry.entry.trial.starts_tried);
    return ask_key(form, &key, q, q->text, usual, NULL);
}

/* ---- repairs --------------------------------------------------------------------------------- */

/* What the advice takes for broken. */
static bool suspect(const hp_form *form, int *inverted, hp_fault *fault)
{
    const hp_advice *advice = form->context->advice;
    if (!advice || advice->kind != HP_ADVICE_REPAIR)
        return false;
    hp_trouble_get(advice->trouble, inverted, fault);
    return true;
}

hp_answer hp_form_part(hp_form *form, const hp_question *q)
{
    static const int word[HP_FAULT_KIND_COUNT] = {[HP_FAULT_NONE] = 4,
                                                  [HP_FAULT_SENSOR_HIGH] = 0,
                                                  [HP_FAULT_SENSOR_LOW] = 1,
                                                  [HP_FAULT_LEAD_OPEN] = 2,
                                                  [HP_FAULT_CLUTCH] = 3};
    int inverted;
    hp_fault fault;
    return ask_words(form, q, suspect(form, &inverted, &fault) ? word[fault.kind] : -1);
}

hp_answer hp_form_part_lead(hp_form *form, const hp_question *q)
{
    const hp_labels *labels = labels_of(form);
    hp_mend *mend = &form->state.entry.entry.mend;
    int inverted;
    hp_fault fault;
    bool usual = suspect(form, &inverted, &fault) && fault.kind == mend->fault.kind;
    return ask_lead(
        form, q, mend->fault.kind == HP_FAULT_LEAD_OPEN ? labels->motor_lead : labels->motor_sensor,
        usual ? fault.which : -1, &mend->fault.which);
}
