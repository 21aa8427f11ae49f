/* Words for a mend: what the advice takes for broken is what is offered, logged and told of it. */
#include "check.h"

#include "decide/advise/hypothesis.h"
#include "decide/advise/trouble.h"
#include "hubphase/decide/evidence.h"
#include "hubphase/record/bench_log.h"
#include "report/words/words.h"

/* Another Hall lead at each input than its own. */
#define WIRING 17

static hp_labels named_leads(void)
{
    static const char *const phase[] = {"yellow", "green", "blue"};
    static const char *const sensor[] = {"grey", "pink", "white"};
    hp_labels labels = hp_labels_default();
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        snprintf(labels.motor_lead[k], HP_LABEL_SIZE, "%s", phase[k]);
        snprintf(labels.motor_sensor[k], HP_LABEL_SIZE, "%s", sensor[k]);
    }
    return labels;
}

static hp_advice repair_of(int trouble)
{
    hp_advice advice = {.kind = HP_ADVICE_REPAIR, .reading = &hp_reading_mend, .lead = -1};
    advice.trouble = trouble;
    advice.number = WIRING;
    advice.wiring = hp_wiring_from_number(WIRING);
    return advice;
}

/* A mend as somebody types it; an empty lead is not given. */
static hp_mend typed(const hp_labels *labels, const char *part, const char *lead)
{
    char why[300] = "";
    hp_bench_entry entry = hp_bench_entry_make(&hp_reading_mend);
    check_true(hp_bench_typed_read(hp_field_find(&hp_reading_mend, "part"), "part", part, labels,
                                   &entry, why, sizeof why),
               "part %s: %s", part, why);
    check_true(!lead[0] || hp_bench_typed_read(hp_field_find(&hp_reading_mend, "lead"), "lead",
                                               lead, labels, &entry, why, sizeof why),
               "%s, lead %s: %s", part, lead, why);
    return entry.entry.mend;
}

/* Whether a mend puts right what is broken in a trouble. */
static void check_mends(const hp_mend *mend, int trouble, const char *how)
{
    int misfit;
    hp_fault fault;
    hp_trouble_get(trouble, &misfit, &fault);
    int lead = misfit < HP_MISFIT_INPUT
                   ? misfit
                   : hp_wiring_from_number(WIRING).sensor[misfit - HP_MISFIT_INPUT];
    check_true(mend->fault.kind == fault.kind, "%s, trouble %d: fault %d", how, trouble,
               (int)mend->fault.kind);
    check_true(mend->fault.which == fault.which, "%s, trouble %d: lead %d", how, trouble,
               mend->fault.which);
    check_true((mend->what == HP_MENDED_INVERSION) == (fault.kind == HP_FAULT_NONE),
               "%s, trouble %d: inversion", how, trouble);
    check_int(mend->inverter, fault.kind == HP_FAULT_NONE ? 1 + lead : 0);
}

static const hp_question *question_of(const char *field)
{
    const hp_question *q = hp_questions_of(&hp_reading_mend);
    while (q->text && strcmp(q->field, field) != 0)
        q++;
    check_true(q->text != NULL, "nobody asks for %s", field);
    return q;
}

static void the_line_that_logs_a_repair_says_what_the_advice_takes_for_broken(void **state)
{
    (void)state;
    const hp_labels labels = named_leads();
    const hp_card_context context = {.labels = &labels};
    for (int trouble = 1; trouble < HP_TROUBLE_COUNT; trouble++) {
        char line[200] = "";
        hp_log_line words = {.out = line, .size = sizeof line};
        const hp_advice advice = repair_of(trouble);
        hp_log_options(&context, &advice, &hp_reading_mend, &words);
        /* The kind's name, then its options, a byte of zero behind each. */
        assert_string_equal(line, "mend");
        const char *part = line + strlen(line) + 1;
        const char *lead = part + strlen(part) + 1;
        check_true(strncmp(part, "--part=", 7) == 0, "%s", part);
        check_true(!lead[0] || strncmp(lead, "--lead=", 7) == 0, "%s", lead);
        const hp_mend mend = typed(&labels, part + 7, lead[0] ? lead + 7 : "");
        check_mends(&mend, trouble, "log line");
        check_true((hp_mend_has_lead(&mend) || mend.inverter > 0) == (lead[0] != '\0'), "%s %s",
                   part, lead);
    }
}

static void the_questions_offer_what_the_advice_takes_for_broken(void **state)
{
    (void)state;
    char out[40];
    const hp_labels labels = named_leads();
    const hp_question *part = question_of("part"), *lead = question_of("lead");
    for (int trouble = 1; trouble < HP_TROUBLE_COUNT; trouble++) {
        const hp_advice advice = repair_of(trouble);
        const hp_question_case c = {.labels = &labels, .advice = &advice};
        const hp_mend nothing = {.what = HP_MENDED_FAULT};
        const char *offered = part->usual(&c, &nothing, out, sizeof out);
        int at = 0;
        while (part->choices[at].word && strcmp(part->choices[at].word, offered) != 0)
            at++;
        check_true(part->choices[at].word != NULL, "%s is no choice", offered);
        hp_mend mend = typed(&labels, offered, "");
        if (lead->wanted(&c, &mend)) {
            const char *which = lead->usual(&c, &mend, out, sizeof out);
            check_true(which != NULL, "trouble %d: no lead is offered", trouble);
            mend = typed(&labels, offered, which);
        }
        check_mends(&mend, trouble, "questions");
    }
}

/* Whoever mended another part than was advised gets no lead put into the mouth. */
static void nothing_is_offered_that_was_not_advised(void **state)
{
    (void)state;
    char out[40];
    const hp_labels labels = named_leads();
    const hp_question *part = question_of("part"), *lead = question_of("lead");
    const hp_mend open = {.fault = {HP_FAULT_LEAD_OPEN, 1}},
                  silent = {.fault.kind = HP_FAULT_SILENT};
    hp_advice advice = repair_of(hp_trouble_index(-1, (hp_fault){HP_FAULT_SENSOR_HIGH, 2}));
    hp_question_case c = {.labels = &labels, .advice = &advice};
    assert_null(lead->usual(&c, &open, out, sizeof out));
    assert_true(lead->wanted(&c, &open));
    assert_false(lead->wanted(&c, &silent));
    advice.kind = HP_ADVICE_READ;
    assert_null(part->usual(&c, &open, out, sizeof out));
    assert_null(lead->usual(&c, &open, out, sizeof out));
    c.advice = NULL;
    assert_null(part->usual(&c, &open, out, sizeof out));
    assert_null(lead->usual(&c, &open, out, sizeof out));
}

static void each_mended_part_is_told_by_its_name(void **state)
{
    (void)state;
    static const struct {
        const char *part, *lead, *told;
    } row[] = {
        {"sensor_stuck_high", "pink", "mended: the pink sensor"},
        {"sensor_stuck_low", "W", "mended: the white sensor"},
        {"phase_lead_open", "blue", "mended: the blue phase lead"},
        {"clutch", "", "mended: the clutch"},
        {"controller", "", "mended: what kept the controller silent"},
        {"protection", "", "mended: what cut out"},
        {"loose_lead", "", "mended: a loose lead"},
        {"key", "", "mended: the key switch"},
        {"throttle", "", "mended: the throttle"},
        {"brake_left", "", "mended: the left brake lever"},
        {"brake_right", "", "mended: the right brake lever"},
        {"pedal_sensor", "", "mended: the pedal sensor"},
        {"speed_switch", "", "mended: the speed switch"},
        {"battery", "", "mended: the battery"},
        {"unlisted", "", "mended: something else"},
        {"inverted_sensor", "", "mended: the level of a Hall lead"},
        {"inverted_sensor", "W", "mended: an inverter in the lead of the white sensor"},
        {"other_controller", "", "mended: another controller in its place"},
    };
    const hp_labels labels = named_leads();
    const hp_card_context context = {.labels = &labels};
    int choices = 0;
    while (question_of("part")->choices[choices].word)
        choices++;
    check_int(choices, (int)(sizeof row / sizeof row[0]) - 1); /* one with its lead, and without */
    for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
        char text[HP_ENTRY_WORDS];
        hp_entry entry = hp_entry_make(&hp_reading_mend, 1);
        entry.mend = typed(&labels, row[k].part, row[k].lead);
        assert_string_equal(hp_entry_words(&context, &entry, text, sizeof text), row[k].told);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_line_that_logs_a_repair_says_what_the_advice_takes_for_broken),
        cmocka_unit_test(the_questions_offer_what_the_advice_takes_for_broken),
        cmocka_unit_test(nothing_is_offered_that_was_not_advised),
        cmocka_unit_test(each_mended_part_is_told_by_its_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
