/* Practice on a terminal: the path so far, and the end with both paths beside one another. */
#include "hubphase/report/case_words.h"

#include <stdlib.h>
#include <string.h>

/* Columns from which two paths have room beside one another. */
#define BESIDE_LEAST 70
#define NUMBER_WIDTH 5

static const char *const whose[HP_PRACTICE_WHO] = {"You", "The advice"};

/* What a step is called where there is little room; empty behind the last. */
static void short_words(hp_practice_case *c, hp_practice_who who, int index, char *out)
{
    const hp_practice_path *path = hp_practice_case_path(c, who);
    out[0] = '\0';
    if (index < path->steps)
        hp_practice_step_name(c, &path->step[index], out);
}

/* ---- a path ---------------------------------------------------------------------------------- */

static void print_step(hp_practice_case *c, const hp_practice_step *step, const hp_screen *out)
{
    char words[HP_PRACTICE_WORDS], title[24];
    hp_phrase p;
    hp_practice_step_words(c, step, words);
    p = hp_phrase_resume(words, sizeof words);
    if (step->given)
        hp_phrase_add(&p, " (was there)");
    else
        hp_phrase_add(&p, " (%.3g min)", step->minutes);
    if (step->number > 0)
        snprintf(title, sizeof title, "%3d", step->number);
    else
        snprintf(title, sizeof title, "  -");
    if (step->number == 0)
        hp_phrase_add(&p, ", taken out");
    hp_text_fill(out, title, NUMBER_WIDTH, words);
}

void hp_practice_path_print(hp_practice_case *c, hp_practice_who who, const hp_screen *out)
{
    const hp_practice_path *path = hp_practice_case_path(c, who);
    for (int k = 0; k < path->steps; k++)
        print_step(c, &path->step[k], out);
}

/* ---- beside one another ---------------------------------------------------------------------- */

typedef struct beside {
    const hp_screen *out;
    int first; /* columns of the row's name */
    int each;
} beside;

/* Writes as much of a text as fits, whole words, and moves on behind it. Returns the rest. */
static const char *put_part(const beside *b, const char *text, bool pad)
{
    char line[HP_PRACTICE_WORDS];
    hp_text_clip(text, b->each - 2, line, sizeof line);
    size_t length = strlen(line), back = length;
    if (text[length] && text[length] != ' ') {
        while (back > 0 && line[back] != ' ')
            back--;
        length = back > 0 ? back : length;
    }
    line[length] = '\0';
    if (pad)
        hp_text_pad(b->out->file, line, b->each);
    else
        fputs(line, b->out->file);
    text += length;
    return text + strspn(text, " ");
}

/* Writes two texts into two columns, as many lines as the longer takes; no line ends in blanks. */
static void put_row(const beside *b, const char *name, const char *left, const char *right)
{
    for (bool first = true; first || *left || *right; first = false) {
        bool more = *left || *right;
        if (more)
            hp_text_pad(b->out->file, first ? name : "", b->first);
        else
            fputs(name, b->out->file);
        left = put_part(b, left, *right);
        right = put_part(b, right, false);
        fputc('\n', b->out->file);
    }
}

static void put_numbers(hp_practice_case *c, const beside *b)
{
    const hp_practice_path *path[HP_PRACTICE_WHO];
    char text[HP_PRACTICE_WHO][64], answer[HP_PRACTICE_WHO][HP_PRACTICE_WORDS];
    for (int w = 0; w < HP_PRACTICE_WHO; w++)
        path[w] = hp_practice_case_path(c, (hp_practice_who)w);
#define ROW(name, ...)                                                                             \
    do {                                                                                           \
        for (int w = 0; w < HP_PRACTICE_WHO; w++)                                                  \
            snprintf(text[w], sizeof text[w], __VA_ARGS__);                                        \
        put_row(b, name, text[0], text[1]);                                                        \
    } while (0)
    for (int w = 0; w < HP_PRACTICE_WHO; w++) {
        char said[HP_PRACTICE_WORDS];
        snprintf(answer[w], sizeof answer[w], "%s: %.800s", hp_practice_end_word(path[w]->end),
                 hp_practice_answer_words(c, (hp_practice_who)w, said));
    }
    put_row(b, "", whose[0], whose[1]);
    put_row(b, "Said", answer[0], answer[1]);
    ROW("Steps", "%d", path[w]->asked);
    ROW("With power", "%d", path[w]->trials);
    ROW("Minutes", "%.0f", path[w]->minutes);
    for (int w = 0; w < HP_PRACTICE_WHO; w++) {
        hp_phrase p = hp_phrase_begin(text[w], sizeof text[w]);
        hp_phrase_add(&p, "%d", path[w]->risks);
        if (path[w]->met > 0)
            hp_phrase_add(&p, ", gone wrong %d", path[w]->met);
    }
    put_row(b, "Risks", text[0], text[1]);
    if (path[0]->hints > 0)
        ROW("Hints", "%d", path[w]->hints);
#undef ROW
}

static void put_steps(hp_practice_case *c, const beside *b)
{
    int most = 0;
    for (int w = 0; w < HP_PRACTICE_WHO; w++) {
        int steps = hp_practice_case_path(c, (hp_practice_who)w)->steps;
        most = steps > most ? steps : most;
    }
    for (int k = hp_practice_given(hp_practice_case_machine(c)); k < most; k++) {
        char name[24], left[HP_PRACTICE_WORDS], right[HP_PRACTICE_WORDS];
        short_words(c, HP_PRACTICE_LEARNER, k, left);
        short_words(c, HP_PRACTICE_ADVICE, k, right);
        snprintf(name, sizeof name, "%d", k + 1);
        put_row(b, name, left, right);
    }
}

/* ---- what each step told --------------------------------------------------------------------- */

static hp_result put_told(hp_practice_case *c, hp_practice_who who, const hp_screen *out,
                          hp_error *err)
{
    const hp_practice_path *path = hp_practice_case_path(c, who);
    char(*told)[HP_PRACTICE_WORDS] = calloc((size_t)path->steps + 1, sizeof *told);
    if (!told)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for practice");
    hp_result result = hp_practice_told(c, who, told, err);
    if (result == HP_OK)
        fprintf(out->file, "\n%s\n",
                who == HP_PRACTICE_LEARNER ? "What each of your steps told"
                                           : "What each step of the advice told");
    int own = 0;
    for (int k = 0; result == HP_OK && k < path->steps; k++) {
        char line[3 * HP_PRACTICE_WORDS], words[HP_PRACTICE_WORDS], title[16];
        const hp_practice_step *step = &path->step[k];
        hp_phrase p = hp_phrase_begin(line, sizeof line);
        if (step->given && who == HP_PRACTICE_ADVICE)
            continue; /* told already */
        own++;
        hp_phrase_add(&p, "%s. %s", hp_practice_step_words(c, step, words), told[k]);
        if (step->number > 0)
            hp_phrase_add(&p, " %s", hp_practice_left_words(step, words));
        for (int r = 0; r < step->risks; r++)
            hp_phrase_add(&p, " Risk: %s", hp_practice_risk_words(c, step, r, words));
        snprintf(title, sizeof title, "%3d", k + 1);
        hp_text_fill(out, title, NUMBER_WIDTH, line);
    }
    if (result == HP_OK && own == 0)
        fprintf(out->file, "No step was taken.\n");
    free(told);
    return result;
}

hp_result hp_practice_print(hp_practice_case *c, const hp_screen *out, hp_error *err)
{
    char words[HP_PRACTICE_WORDS];
    hp_text_fill(out, "", 0, hp_practice_end_words(c, HP_PRACTICE_LEARNER, words));
    hp_text_fill(out, "", 0, hp_practice_truth_words(c, words));
    fputc('\n', out->file);
    int first = 12, each = (out->columns - first) / 2;
    const beside two = {out, first, each};
    put_numbers(c, &two);
    if (out->columns >= BESIDE_LEAST) {
        fputc('\n', out->file);
        put_steps(c, &two);
    }
    hp_result result = HP_OK;
    for (int w = 0; w < HP_PRACTICE_WHO && result == HP_OK; w++)
        result = put_told(c, (hp_practice_who)w, out, err);
    return result == HP_OK ? hp_practice_case_show(c, HP_PRACTICE_LEARNER, err) : result;
}
