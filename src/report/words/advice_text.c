/* The next step and where things stand, as text: see report/words/advice_report.h. */
#include "report/words/card_parts.h"

#include "decide/advise/hypothesis.h"
#include "decide/reading/running.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/report/case_words.h"
#include "report/words/advice_report.h"
#include "report/words/parts_text.h"
#include "report/words/words.h"

#include <math.h>
#include <string.h>

#define INDENT    HP_CARD_INDENT
#define SETS_MOST 4
#define WHY_MOST  10    /* hypotheses */
#define LEFT      0.001 /* less likely than this, a hypothesis is not left any more */
/* chosen: below this, what may be broken or contradict is not worth a line. */
#define WORTH_SAYING 0.01
/* A part as likely broken as this is named, with the reading that would prove it. */
#define SUSPECT 0.25

/* At most two figures behind the point, and never 0 or 100 for what is neither. */
static char *percent(double probability, char *out, size_t size)
{
    double value = 100.0 * probability;
    if (value > 0.0 && value < 0.1)
        snprintf(out, size, "under 0.1 %%");
    else if (value < 9.95 || (value > 99.0 && value < 99.95))
        snprintf(out, size, "%.1f %%", value);
    else if (value >= 99.95 && probability < 1.0)
        snprintf(out, size, "over 99.9 %%");
    else
        snprintf(out, size, "%.0f %%", value);
    return out;
}

/* chosen: below this a lead that makes contact only now and then explains nothing. */
#define LOOSE_AT_ALL 0.01

/* Whether a lead that makes contact only now and then could have made an entry what it is. */
static bool may_be_loose(const hp_belief *b, const hp_entry *entry)
{
    double trouble[HP_TROUBLE_COUNT];
    hp_belief_troubles(b, trouble);
    return entry->reading->looks != HP_LOOKS_NONE &&
           trouble[hp_trouble_index(-1, (hp_fault){HP_FAULT_LOOSE, 0})] >= LOOSE_AT_ALL;
}

char *hp_contradiction_words(const hp_belief *b, const hp_contradiction *c, char *out, size_t size)
{
    char sure[24];
    hp_phrase p = hp_phrase_begin(out, size);
    if (!c->found || c->slipped < 0 || c->slipped >= b->entries)
        return out;
    int slipped = b->entry[c->slipped].number;
    if (c->other >= 0 && c->other < b->entries) {
        int other = b->entry[c->other].number;
        hp_phrase_add(&p, "Entries %d and %d cannot both be true",
                      other < slipped ? other : slipped, other < slipped ? slipped : other);
    } else {
        hp_phrase_add(&p, "Entry %d does not fit %s", slipped,
                      b->entries > 1 ? "the others" : "any such motor");
    }
    hp_phrase_add(&p, "%s; %d is the likelier slip (%s).",
                  may_be_loose(b, &b->entry[c->slipped])
                      ? ", unless a lead makes contact only now and then"
                      : "",
                  slipped, percent(c->probability, sure, sizeof sure));
    return out;
}

/* ---- the step -------------------------------------------------------------------------------- */

/* The cautions of a how-to; `at` behind the last: those of the whole card. */
static void print_cautions(const hp_card *words, int at, const hp_screen *out)
{
    for (int k = 0; k < words->cautions; k++)
        if (words->caution_at[k] == at)
            hp_text_fill(out, at < words->hows ? "     !" : "  !", at < words->hows ? 7 : 5,
                         words->caution[k]);
}

/* What may be folded elsewhere: a block of its own, by the numbers of the actions. */
void hp_card_print_details(const hp_card *words, const hp_screen *out)
{
    if (words->details > 0)
        fputs("\nMore about these actions\n", out->file);
    for (int k = 0; k < words->details; k++) {
        char mark[16] = "";
        if (k == 0 || words->detail_at[k] != words->detail_at[k - 1])
            snprintf(mark, sizeof mark, "  %d.", words->detail_at[k] + 1);
        hp_text_fill(out, mark, 5, words->detail[k]);
    }
}

void hp_card_print(const hp_card *words, const hp_screen *out)
{
    char title[sizeof words->title + 16];
    snprintf(title, sizeof title, "%s%s",
             words->stop || words->chosen ? "" : "Next: ", words->title);
    fputs(out->colour ? "\033[1m" : "", out->file);
    hp_text_fill(out, "", 0, title);
    fputs(out->colour ? "\033[0m" : "", out->file);
    hp_text_fill(out, "Safe now", INDENT, words->safe);
    hp_text_fill(out, "Why", INDENT, words->reason);
    fprintf(out->file, "\nHow (!: take care)\n");
    for (int k = 0; k < words->hows; k++) {
        char mark[16];
        snprintf(mark, sizeof mark, "  %d.", k + 1);
        hp_text_fill(out, mark, 5, words->how[k]);
        print_cautions(words, k, out);
    }
    print_cautions(words, words->hows, out);
    if (words->healthy[0] || words->note[0])
        fputc('\n', out->file);
    if (words->healthy[0])
        hp_text_fill(out, "To expect", INDENT, words->healthy);
    if (words->note[0])
        hp_text_fill(out, "Write down", INDENT, words->note);
}

/* A command in one or several lines, ready for a shell. */
void hp_command_print(const char *title, const char *command, const hp_screen *out)
{
    const int first = INDENT, next = out->columns < HP_TEXT_COLUMNS ? 4 : INDENT + 4;
    int column = first;
    hp_text_pad(out->file, title, first);
    for (const char *at = command; *at; at += strlen(at) + 1) {
        char word[HP_SHELL_WORD_SIZE(1200)];
        int width = hp_text_columns(hp_shell_word(at, word, sizeof word));
        if (column > next && column + 1 + width > out->columns - 2) {
            fprintf(out->file, " \\\n%*s", next, "");
            column = next;
        }
        fprintf(out->file, "%s%s", column > next || (column == first && at != command) ? " " : "",
                word);
        column += width + (at != command);
    }
    fputc('\n', out->file);
}

/* The words that name the scenario, and the log if it is named, behind "hubphase bench". */
static void print_commands(const char *log_line, const hp_screen *out)
{
    static const char bench[] = "hubphase\0bench";
    char ask[sizeof bench + 2400] = {0};
    size_t used = sizeof bench;
    memcpy(ask, bench, sizeof bench);
    hp_command_print("To log it", log_line, out);
    const char *word = log_line + strlen(log_line) + 1; /* "log" */
    for (word += strlen(word) + 1; *word; word += strlen(word) + 1) {
        size_t bytes = strlen(word) + 1;
        bool named = used == sizeof bench || strncmp(word, "--log=", 6) == 0;
        if (!named || used + bytes >= sizeof ask)
            break;
        memcpy(ask + used, word, bytes);
        used += bytes;
    }
    if (used > sizeof bench)
        hp_command_print("or be asked", ask, out);
}

/* Room for the wirings that are right together. */
#define HP_RIGHT_WORDS 48

/* ---- where things stand ---------------------------------------------------------------------- */

/* "3, 12 or 27"; one alone where hub and controller are made for 60 degrees. */
static char *right_words(const int number[3], char *out, size_t size)
{
    if (number[1] > 0)
        snprintf(out, size, "%d, %d or %d", number[0], number[1], number[2]);
    else
        snprintf(out, size, "%d", number[0]);
    return out;
}

/* Nothing has told the sets apart when the likeliest is no likelier than any of twelve. */
static bool all_alike(const hp_standing *s)
{
    return s->set[0].probability < 1.01 / HP_RELATION_COUNT;
}

/* Whether a wiring may be correct without two equals, with a chance worth a word. */
static bool may_be_alone(const hp_standing *s)
{
    double alone = 0.0;
    for (int k = 0; k < s->sets; k++)
        alone += s->set[k].number[1] == 0 ? s->set[k].probability : 0.0;
    return alone >= WORTH_SAYING;
}

/* The joints of the likeliest: of its three wirings the one that the advice is about. */
static void print_joints(const hp_advice_report *r, const hp_screen *out)
{
    const hp_standing_set *set = &r->standing->set[0];
    char joints[HP_JOINT_WORDS], text[HP_JOINT_WORDS + 80];
    int number = set->number[0];
    for (int k = 1; k < 3 && set->number[k] > 0; k++)
        if (set->number[k] == r->advice->number)
            number = r->advice->number;
    hp_wiring wiring = hp_wiring_from_number(number);
    snprintf(text, sizeof text, "%d: phase leads %s;", number,
             hp_phase_joint_words(r->context->labels, &wiring, 0, joints, sizeof joints));
    hp_text_fill(out, "", INDENT, text);
    snprintf(text, sizeof text, "Hall leads %s",
             hp_sensor_joint_words(r->context->labels, &wiring, 0, joints, sizeof joints));
    hp_text_fill(out, "", INDENT, text);
}

/* How many sets from this one on are as likely as it: none of them is left out before another. */
static int sets_alike(const hp_standing *s, int first)
{
    int count = 1;
    while (first + count < s->sets &&
           s->set[first + count].probability > 0.99 * s->set[first].probability)
        count++;
    return count;
}

static void print_wirings(const hp_advice_report *r, const hp_screen *out)
{
    if (r->advice->learnt > 0) {
        hp_text_fill(out, "Correct", INDENT,
                     "what is joined, as the controller learnt it by itself");
        return;
    }
    const hp_standing *s = r->standing;
    double rest = 1.0;
    char text[160], sure[24];
    int shown = 0;
    if (all_alike(s)) {
        const hp_commission *list = r->context->commission;
        hp_text_fill(
            out, "Correct", INDENT,
            list && list->exchanged
                ? "open: what is known of the hub stays, but of this controller nothing is known "
                  "yet; three of the 36 wirings are correct together"
            : may_be_alone(s)
                ? "nothing has told the 36 wirings apart yet; three of them are correct together, "
                  "or one alone where hub and controller are both made for 60-degree sensors"
                : "nothing has told the 36 wirings apart yet; three of them are always correct "
                  "together");
        return;
    }
    for (int lines = 0; shown < s->sets && lines < SETS_MOST; lines++) {
        double probability = s->set[shown].probability;
        bool likely = shown == 0 && probability > 0.5 && r->advice->kind != HP_ADVICE_DONE &&
                      r->advice->kind != HP_ADVICE_PROBABLY;
        if (shown > 0 && probability < WORTH_SAYING)
            break;
        int alike = sets_alike(s, shown);
        for (int k = shown; k < shown + alike; k++) {
            char right[HP_RIGHT_WORDS];
            snprintf(text, sizeof text, "%s %s", percent(probability, sure, sizeof sure),
                     right_words(s->set[k].number, right, sizeof right));
            hp_text_fill(out, k == 0 ? "Correct" : "", INDENT, text);
        }
        shown += alike;
        rest -= alike * probability;
        if (likely)
            print_joints(r, out);
    }
    if (shown < s->sets && rest > 0.0005) {
        snprintf(text, sizeof text, "%s one of the others", percent(rest, sure, sizeof sure));
        hp_text_fill(out, "", INDENT, text);
    }
}

static void print_parts(const hp_advice_report *r, const hp_screen *out)
{
    const hp_standing *s = r->standing;
    char text[HP_TROUBLE_WORDS + 80], trouble[HP_TROUBLE_WORDS], sure[24];
    snprintf(text, sizeof text, "%s all good", percent(s->sound, sure, sizeof sure));
    hp_text_fill(out, "Parts", INDENT, text);
    for (int k = 0; k < s->troubles && k < SETS_MOST; k++) {
        if (s->trouble[k].probability < WORTH_SAYING)
            break;
        hp_trouble_words(r->context->labels, s->trouble[k].trouble, trouble, sizeof trouble);
        snprintf(text, sizeof text, "%s %s", percent(s->trouble[k].probability, sure, sizeof sure),
                 trouble);
        hp_text_fill(out, "", INDENT, text);
    }
    if (r->advice->learnt == 0 && s->stated_table >= 0 && s->table < 1.0 - WORTH_SAYING) {
        snprintf(text, sizeof text, "%s the scenario's, or the usual one if it names none",
                 percent(s->table, sure, sizeof sure));
        hp_text_fill(out, "Table", INDENT, text);
    }
}

/* A part that may well be broken, and how to prove it, while the advice is about something else. */
static void print_suspect(const hp_advice_report *r, const hp_screen *out)
{
    const hp_standing *s = r->standing;
    char trouble[HP_TROUBLE_WORDS], text[HP_TROUBLE_WORDS + 160];
    if (r->advice->kind == HP_ADVICE_REPAIR || r->advice->kind == HP_ADVICE_GIVE_UP ||
        s->troubles == 0 || s->trouble[0].probability < SUSPECT)
        return;
    bool alone = s->troubles < 2 || s->trouble[1].probability < 0.8 * s->trouble[0].probability;
    const hp_reading *proof = hp_plan_proof(s->trouble[0].trouble);
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(
        &p, "%s%s.",
        hp_trouble_words(r->context->labels, s->trouble[0].trouble, trouble, sizeof trouble),
        alone ? "" : ", or another that is as likely");
    if (r->context->plan->allowed & hp_allow(proof))
        hp_phrase_add(&p, " This would check it: %s.", proof->title);
    hp_text_fill(out, "Suspect", INDENT, text);
}

/* What comes after the end: the steps of commissioning. */
static void print_commissioning(const hp_advice_report *r, const hp_screen *out)
{
    const hp_commission *list = r->context->commission;
    char text[1100], after[1000];
    bool ends = r->advice->kind == HP_ADVICE_DONE || r->advice->kind == HP_ADVICE_PROBABLY;
    if (!ends || !list || r->advice->why == HP_WHY_CHECK_FAILED)
        return;
    snprintf(text, sizeof text, "%s%s", hp_commission_after_words(list, after, sizeof after),
             out->page ? "" : " The steps: `hubphase commission'.");
    hp_text_fill(out, "Afterwards", INDENT, text);
}

static void print_log(const hp_advice_report *r, const hp_screen *out)
{
    char text[HP_ENTRY_WORDS + 80], words[HP_ENTRY_WORDS], sure[24];
    const hp_belief *b = r->belief;
    snprintf(text, sizeof text, "%s, %d entr%s", r->log_file, b->entries,
             b->entries == 1 ? "y" : "ies");
    hp_text_clean(text, words, sizeof words);
    hp_text_fill(out, "Log", INDENT, b->entries > 0 ? words : "empty: nothing is measured yet");
    for (int k = 0; k < b->entries; k++) {
        hp_phrase p = hp_phrase_begin(text, sizeof text);
        hp_phrase_add(&p, "%d  %s", b->entry[k].number,
                      hp_entry_words(r->context, &b->entry[k], words, sizeof words));
        if (r->slip && r->slip[k] >= 0.1)
            hp_phrase_add(&p, " (a slip? %s)", percent(r->slip[k], sure, sizeof sure));
        hp_text_fill(out, "", INDENT, text);
    }
}

static void print_ahead(const hp_advice_report *r, const hp_screen *out)
{
    const hp_advice *a = r->advice;
    char text[320], number[HP_NUMBER_WORDS];
    if (a->kind == HP_ADVICE_READ || a->kind == HP_ADVICE_TRY || a->kind == HP_ADVICE_LOOK) {
        hp_phrase p = hp_phrase_begin(text, sizeof text);
        if (a->expected_trials > 0.0)
            hp_phrase_add(
                &p, "on average %s powered trial%s",
                hp_card_number(round(10.0 * a->expected_trials) / 10.0, number, sizeof number),
                a->expected_trials < 1.05 ? "" : "s");
        if (a->expected_cost > 0.0)
            hp_phrase_add(&p, "%sabout %.0f minutes", p.used > 0 ? ", " : "",
                          fmax(1.0, a->expected_cost));
        if (p.used > 0)
            hp_text_fill(out, "Still to come", INDENT, text);
    }
    hp_card_bands(r->context, a, text, sizeof text);
    if (text[0] && a->kind != HP_ADVICE_DONE && a->kind != HP_ADVICE_PROBABLY)
        hp_text_fill(out, "At the end", INDENT, text);
}

/* ---- why ------------------------------------------------------------------------------------- */

static void hypothesis_words(const hp_advice_report *r, int index, char *out, size_t size)
{
    const hp_belief *b = r->belief;
    const hp_hypothesis *h = &b->hypothesis[index];
    char trouble[HP_TROUBLE_WORDS];
    char right[HP_RIGHT_WORDS];
    int number[3];
    hp_hypothesis_rights(h, number);
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "correct %s; %s", right_words(number, right, sizeof right),
                  hp_trouble_words(r->context->labels, hp_trouble_of(h), trouble, sizeof trouble));
    if (b->now[index] != index)
        hp_phrase_add(&p, ", mended since");
    if (r->standing->stated_table >= 0 && h->table != r->standing->stated_table)
        hp_phrase_add(&p, "; the controller's table is another (%d of %d)", h->table + 1,
                      HP_TABLE_COUNT);
}

static void print_hypotheses(const hp_advice_report *r, const hp_screen *out)
{
    const hp_standing_course *c = r->course;
    char words[HP_TROUBLE_WORDS + 120], text[sizeof words + 400], title[16];
    int shown = 0;
    hp_text_fill(out, "", 0, "What is left, in per cent: now; before the log and after each entry");
    for (; shown < c->count && shown < WHY_MOST; shown++) {
        const double *after = &c->after[shown * c->steps];
        if (shown > 0 && after[c->steps - 1] < LEFT)
            break;
        hypothesis_words(r, c->index[shown], words, sizeof words);
        hp_phrase p = hp_phrase_begin(text, sizeof text);
        hp_phrase_add(&p, "%s:", words);
        for (int step = 0; step < c->steps; step++)
            hp_phrase_add(&p, "%s %.*f", step ? "," : "", 100.0 * after[step] < 9.95 ? 1 : 0,
                          100.0 * after[step]);
        snprintf(title, sizeof title, "%6.1f", 100.0 * after[c->steps - 1]);
        hp_text_fill(out, title, 8, text);
    }
    if (c->count > shown)
        fprintf(out->file, "        and %d less likely%s\n", c->count - shown,
                out->page ? "" : "; --json has them");
}

static void print_moves(const hp_advice_report *r, const hp_screen *out)
{
    const hp_standing_course *c = r->course;
    char words[HP_ENTRY_WORDS], text[2 * HP_ENTRY_WORDS], title[16], from[24], to[24];
    hp_text_fill(out, "", 0,
                 "How each entry moved it. Doubt: how many yes-or-no questions are still open");
    snprintf(text, sizeof text, "before the log: doubt %.1f", c->doubt[0]);
    hp_text_fill(out, "", 8, text);
    for (int step = 1; step < c->steps; step++) {
        const hp_entry *entry = &r->belief->entry[step - 1];
        hp_phrase p = hp_phrase_begin(text, sizeof text);
        hp_phrase_add(&p, "%s: doubt %.1f to %.1f",
                      hp_entry_words(r->context, entry, words, sizeof words), c->doubt[step - 1],
                      c->doubt[step]);
        if (c->to[step] - c->from[step] >= 0.005) {
            hypothesis_words(r, c->raised[step], words, sizeof words);
            hp_phrase_add(&p, "; up most: ");
            /* Of several that rose alike none is named as if it led. */
            if (c->equals[step] > 1)
                hp_phrase_add(&p, "%d cases alike, each", c->equals[step]);
            else
                hp_phrase_add(&p, "%s,", words);
            hp_phrase_add(&p, " from %s to %s", percent(c->from[step], from, sizeof from),
                          percent(c->to[step], to, sizeof to));
        }
        snprintf(title, sizeof title, "%6d", entry->number);
        hp_text_fill(out, title, 8, text);
    }
}

/* Chosen: a fault is worth a word from one in twenty on; yes-or-no questions are told to one
 * decimal. */
#define FAULT_TOLD 0.05
#define DOUBT_TOLD 0.05
/* Groups of three up to this number are named. */
#define GROUPS_NAMED 2

/* What is said of an entry that speaks for good parts, or moves little: nothing soothing while the
 * work is stopped, and of a mend what it does. NULL: neither is so. */
static const char *not_soothing(const hp_advice_report *r, int step)
{
    if (r->belief->entry[step - 1].reading == hp_reading_advised_as(HP_ADVICE_REPAIR))
        return "It counts as mended from here on: what was read before tells of the parts as they "
               "were.";
    switch (r->advice->kind) {
    case HP_ADVICE_DANGER:
        /* Told in full where it is found; elsewhere it is only not forgotten. */
        return hp_danger_standing(r->belief->entry, r->belief->entries, step - 1, r->context->plan,
                                  r->belief->person)
                   ? "The log holds a danger: nothing goes on before that is settled."
                   : "The danger still stands.";
    case HP_ADVICE_REPAIR: return "The log says stop and mend: that is not settled by it.";
    default: return NULL;
    }
}

/* Of an entry that is none to weigh: it says that a step is left out, or what cannot be. */
static bool add_beside_weight(const hp_advice_report *r, const hp_entry *entry, hp_phrase *p)
{
    const hp_reading *left = hp_entry_leaves_out(entry);
    const hp_words *words = hp_words_of(entry->reading);
    size_t before = p->used;
    if (left)
        hp_phrase_add(p, "The step \"%s\" is left out: the advice goes on without it.",
                      left->title);
    else if (words && words->impossible)
        words->impossible(r->context, hp_entry_said(entry), p);
    return p->used > before;
}

/* Whether a reading multiplied the odds of good parts by more than a bare mention. */
static bool parts_good(const hp_standing_move *m)
{
    double from = m->sound_from, to = m->sound_to;
    return to - from >= 0.005 && to * (1.0 - from) >= HP_WORTH_A_MENTION * from * (1.0 - to);
}

/* Whether every case with this trouble has been mended since. */
static bool is_mended(const hp_belief *b, int trouble)
{
    for (int h = 0; h < b->count; h++)
        if (hp_trouble_of(&b->hypothesis[h]) == trouble && b->now[h] == h)
            return false;
    return true;
}

static void add_fault_told(const hp_advice_report *r, const hp_standing_move *m, hp_phrase *p)
{
    char trouble[HP_TROUBLE_WORDS];
    hp_phrase_add(p, "It makes a fault likelier: %s%s.",
                  hp_trouble_words(r->context->labels, m->trouble, trouble, sizeof trouble),
                  is_mended(r->belief, m->trouble) ? ", mended since" : "");
}

/* Of several that rose alike none is named as if it led. */
static void add_wirings_told(const hp_standing_move *m, hp_phrase *p)
{
    char from[24], to[24], right[HP_RIGHT_WORDS];
    const char *parts = parts_good(m) ? " and for good parts" : "";
    percent(m->set_from, from, sizeof from);
    percent(m->set_to, to, sizeof to);
    if (m->alike == 1) {
        hp_phrase_add(p, "It speaks for wiring %s%s (%s likely, before %s).",
                      right_words(m->set[0], right, sizeof right), parts, to, from);
        return;
    }
    hp_phrase_add(p, "It speaks for %d %s%s alike (each %s, before %s)", m->alike,
                  m->set[0][1] > 0 ? "groups of three equals" : "wirings", parts, to, from);
    for (int k = 0; k < m->alike && m->alike <= GROUPS_NAMED; k++)
        hp_phrase_add(p, "%s %s", k == 0 ? ":" : ";", right_words(m->set[k], right, sizeof right));
    hp_phrase_add(p, ".");
}

char *hp_advice_meant(const hp_advice_report *r, int step, char *out, size_t size)
{
    const hp_standing_course *c = r->course;
    hp_phrase p = hp_phrase_begin(out, size);
    if (!c || step < 1 || step >= c->steps)
        return out;
    const hp_belief *b = r->belief;
    const char *instead = not_soothing(r, step);
    const hp_failed_check *failed = &r->advice->failed;
    if (failed->stands && b->entry[step - 1].number == hp_failed_check_entry(failed)) {
        bool drew = failed->entry[HP_CHECK_CURRENT] == hp_failed_check_entry(failed);
        hp_phrase_add(&p, drew ? "It drew more at full throttle than a correct wiring does: do not "
                                 "ride it."
                               : "At full throttle it ran as no correct wiring does: do not ride "
                                 "it.");
        return out;
    }
    if (add_beside_weight(r, &b->entry[step - 1], &p))
        return out;
    const hp_standing_move *m = &c->move[step];
    bool fault = m->trouble != HP_TROUBLE_SOUND && m->trouble_to >= FAULT_TOLD;
    bool wirings = m->set_to - m->set_from >= 0.005 && m->set_bits >= DOUBT_TOLD;
    if (fault) {
        add_fault_told(r, m, &p);
    } else if (instead) {
        hp_phrase_add(&p, "%s", instead);
        return out;
    } else if (wirings) {
        add_wirings_told(m, &p);
    } else {
        bool less = c->doubt[step - 1] - c->doubt[step] >= DOUBT_TOLD;
        hp_phrase_add(&p, "%s",
                      less ? "It leaves less open, and points at no faulty part."
                           : "It fits what was known and changes little.");
        return out;
    }
    if (c->doubt[step] - c->doubt[step - 1] >= DOUBT_TOLD)
        hp_phrase_add(&p, " More is open than before.");
    return out;
}

char *hp_advice_counted(const hp_advice_report *r, int step, char *out, size_t size)
{
    const hp_standing_course *c = r->course;
    hp_phrase p = hp_phrase_begin(out, size);
    if (!c || step < 1 || step >= c->steps)
        return out;
    double before = c->doubt[step - 1], after = c->doubt[step];
    if (before - after >= DOUBT_TOLD)
        hp_phrase_add(&p, "It answered %.1f of the %.1f yes-or-no questions that were open.",
                      before - after, before);
    else if (after - before >= DOUBT_TOLD)
        hp_phrase_add(&p, "It raised doubt: %.1f yes-or-no questions were open, now it is %.1f.",
                      before, after);
    else
        hp_phrase_add(&p,
                      "It answered next to nothing of the %.1f yes-or-no questions that are "
                      "open.",
                      after);
    return out;
}

void hp_advice_print(const hp_advice_report *r, const hp_screen *out)
{
    hp_card words;
    char text[600];
    hp_card_make(r->context, r->advice, &words);
    hp_card_print(&words, out);
    if (r->log_line[0])
        print_commands(r->log_line, out);
    hp_card_print_details(&words, out);
    fprintf(out->file, "\nWhere things stand\n");
    hp_contradiction_words(r->belief, &r->advice->contradiction, text, sizeof text);
    if (text[0])
        hp_text_fill(out, "Contradiction", INDENT, text);
    print_wirings(r, out);
    print_parts(r, out);
    print_suspect(r, out);
    print_ahead(r, out);
    print_commissioning(r, out);
    print_log(r, out);
    if (r->course) {
        fputc('\n', out->file);
        print_moves(r, out);
        fputc('\n', out->file);
        print_hypotheses(r, out);
    }
}
