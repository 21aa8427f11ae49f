/* Entries asked for one by one, by kind or by step of commissioning: see bench_talk.h. */
#include "app/bench_talk.h"

#include "app/ask_form.h"
#include "hubphase/report/case_words.h"

#define KIND_TEXT 160

void hp_talk_rule(const hp_talk *b)
{
    for (int k = 0; k < b->ask.out.columns; k++)
        fputc('-', b->ask.out.file);
    fputc('\n', b->ask.out.file);
}

bool hp_talk_take_entry(hp_talk *b, const hp_reading *kind, bool advised)
{
    hp_bench_entry entry;
    hp_form_context context = {.scenario = &b->session->session.scenario,
                               .plan = hp_case_plan(b->session->bench),
                               .advice = advised ? &b->advice : NULL,
                               .number = hp_talk_log(b)->count + 1};
    switch (hp_form_ask(&b->ask, &context, kind, &entry)) {
    case HP_ANSWER_GIVEN: return hp_talk_save(b, 0, &entry);
    case HP_ANSWER_BACK:
    case HP_ANSWER_UNDO: return true;
    case HP_ANSWER_STOP:
    case HP_ANSWER_END: hp_ask_say(&b->ask, "The entry begun is dropped."); return false;
    }
    return false;
}

/* How-to and cautions of a kind of entry that was not advised. */
static void show_other(const hp_talk *b, const hp_reading *kind)
{
    fputc('\n', b->ask.out.file);
    hp_talk_rule(b);
    hp_how_to_print(b->session->bench, kind, &b->ask.out);
    hp_talk_rule(b);
}

/* Kinds by the words that the log has for them: those that find the wiring, or the steps of
 * commissioning. */
static int list_kinds(bool steps, const hp_reading **kind, hp_choice *choices,
                      char (*text)[KIND_TEXT])
{
    int count = 0;
    for (int k = 0; hp_readings[k]; k++) {
        const char *name = hp_reading_name(hp_readings[k]);
        const char *menu = hp_reading_menu(hp_readings[k]);
        if ((hp_reading_stage(hp_readings[k]) != HP_STAGE_WIRING) != steps)
            continue;
        snprintf(text[count], KIND_TEXT, "%s%s%s", name, menu ? ": " : "", menu ? menu : "");
        choices[count] = (hp_choice){name, text[count]};
        kind[count++] = hp_readings[k];
    }
    return count;
}

const hp_commission *hp_talk_steps(const hp_talk *b)
{
    return hp_commission_case_list(hp_case_commissioning(b->session->bench));
}

hp_answer hp_talk_ask_step(hp_talk *b, const hp_reading **kind)
{
    const hp_reading *listed[HP_READINGS_MAX];
    hp_choice choices[HP_READINGS_MAX];
    char text[HP_READINGS_MAX][KIND_TEXT];
    const hp_commission *list = hp_talk_steps(b);
    int index = 0, next = -1, count = list_kinds(true, listed, choices, text);
    for (int k = 0; k < count && list->next >= 0; k++)
        if (listed[k] == list->step[list->next].reading)
            next = k;
    hp_answer answer = hp_ask_choice(&b->ask, "Which step?", "", choices, count, next, &index);
    if (answer == HP_ANSWER_GIVEN)
        *kind = listed[index];
    return answer;
}

/* Which kind; steps of commissioning go by their names, too. *kind NULL: their list is wanted. */
static hp_answer ask_kind(hp_talk *b, const hp_reading **kind)
{
    const hp_reading *listed[HP_READINGS_MAX + 1] = {NULL};
    hp_choice choices[HP_READINGS_MAX + 1];
    char text[HP_READINGS_MAX][KIND_TEXT];
    int index = 0, count = list_kinds(false, listed, choices, text), all = count;
    if (count < hp_readings_count()) {
        listed[count] = NULL;
        choices[count++] =
            (hp_choice){"step", "step: a step of commissioning, once a wiring runs; or its name"};
        all = count + list_kinds(true, listed + count, choices + count, text + count - 1);
    }
    hp_answer answer = hp_ask_choice_or_more(&b->ask, "What do you want to write down?", "",
                                             choices, count, all, -1, &index);
    if (answer == HP_ANSWER_GIVEN)
        *kind = listed[index];
    return answer;
}

void hp_talk_show_step(const hp_talk *b, const hp_reading *kind)
{
    fputc('\n', b->ask.out.file);
    hp_talk_rule(b);
    hp_commission_step_print(hp_case_commissioning(b->session->bench), kind, &b->ask.out);
    hp_talk_rule(b);
}

bool hp_talk_take_step(hp_talk *b, const hp_reading *kind)
{
    int before = hp_talk_log(b)->count;
    if (!hp_talk_take_entry(b, kind, false))
        return false;
    if (hp_talk_log(b)->count > before)
        hp_commission_finding_print(hp_case_commissioning(b->session->bench), kind, &b->ask.out);
    return true;
}

bool hp_talk_take_other(hp_talk *b)
{
    const hp_reading *kind = NULL;
    hp_answer answer = ask_kind(b, &kind);
    if (answer == HP_ANSWER_GIVEN && !kind)
        answer = hp_talk_ask_step(b, &kind);
    if (answer == HP_ANSWER_GIVEN) {
        if (hp_reading_stage(kind) != HP_STAGE_WIRING) {
            hp_talk_show_step(b, kind);
            return hp_talk_take_step(b, kind);
        }
        bool advised = kind == hp_advice_entry(&b->advice);
        if (!advised)
            show_other(b, kind);
        return hp_talk_take_entry(b, kind, advised);
    }
    if (answer == HP_ANSWER_UNDO)
        return hp_talk_take_back(b);
    return answer == HP_ANSWER_BACK;
}
