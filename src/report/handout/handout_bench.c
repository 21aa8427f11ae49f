/*
 * The bench card: what to measure, and in which order, on this machine. See handout.h.
 *
 * The steps are those of the advice along its likeliest way, up to the first try. What a step like
 * it said word for word is not said again; other cautions stand wherever the hand is.
 */
#include "report/handout/handout_page.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define INDENT 20.0

static void say(hp_handout_flow *f, double indent, hp_type type, const char *text)
{
    hp_handout_flow_say(f, indent, 1.0, type, text);
}

#define RESULT (HP_HANDOUT_TEXT - 440.0) /* [units] beside the line to write on */

/* What the step mostly shows, and how much room the line to write on takes. */
static double result_words(const hp_bench_step *s, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    if (s->likely[0])
        hp_phrase_add(&p, "mostly: %s", s->likely);
    hp_type small = hp_handout_small(HP_ALIGN_LEFT, false);
    return fmax(22.0, hp_pen_paragraph_height(RESULT, small, out) + 6.0);
}

/* The line to write on never stands on another page than what good parts show. */
static void put_end(hp_handout_flow *f, const hp_bench_step *s, const char *good)
{
    char text[300];
    hp_type small = hp_handout_small(HP_ALIGN_LEFT, false);
    double height = result_words(s, text, sizeof text);
    double before = good[0] ? hp_pen_paragraph_height(HP_HANDOUT_TEXT - INDENT, small, good) : 0.0;
    hp_handout_flow_room(f, before + 1.0 + height);
    say(f, INDENT, small, good);
    const hp_canvas *canvas = hp_handout_flow_room(f, height);
    if (canvas) {
        hp_pen_text(canvas, HP_HANDOUT_LEFT + INDENT, f->y + 14.0, small, "Found:");
        hp_pen_dots(canvas, HP_HANDOUT_LEFT + INDENT + 48.0, HP_HANDOUT_LEFT + 430.0, f->y + 21.0);
        hp_pen_paragraph(canvas, HP_HANDOUT_LEFT + 440.0, f->y + 14.0 - 0.65 * HP_HANDOUT_SMALL,
                         RESULT, small, text);
    }
    f->y += height;
}

static bool warned(const hp_card *before, const char *caution)
{
    bool same = false;
    for (int k = 0; before && k < before->cautions; k++)
        same = same || strcmp(before->caution[k], caution) == 0;
    return same;
}

/* The cautions of an action stand before it, where the hand is, with those of actions before it
 * that are not told again; those of a step like this one are named with it, and that local rules
 * come first stands at the head of the card. */
static void put_cautions(hp_handout_flow *f, const hp_card *card, const hp_card *before, int from,
                         int how)
{
    char text[HP_CARD_CAUTIONS * 120];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    for (int k = 0; k < card->cautions; k++)
        if (card->caution_at[k] >= from && card->caution_at[k] <= how &&
            card->caution_of[k] != HP_HAZARD_LOCAL && !warned(before, card->caution[k]))
            hp_phrase_add(&p, "%s%s", text[0] ? " " : "! ", card->caution[k]);
    say(f, INDENT, hp_handout_small(HP_ALIGN_LEFT, true), text);
}

/* The first step of the same kind, which says all that they share; NULL: it is this one. */
static const hp_bench_step *like_it(const hp_bench_path *path, int k)
{
    for (int n = 0; n < k; n++)
        if (path->step[k].reading && path->step[n].reading == path->step[k].reading)
            return &path->step[n];
    return NULL;
}

static bool said(const hp_card *before, const char *text)
{
    bool same = false;
    for (int k = 0; before && k < before->hows; k++)
        same = same || strcmp(before->how[k], text) == 0;
    return same;
}

/* The first step that is made safe like this one; under power it is said in full. */
static int safe_like(const hp_bench_path *path, int k)
{
    int n = path->step[k].kind == HP_ADVICE_TRY ? k : 0;
    while (strcmp(path->step[n].card.safe, path->step[k].card.safe) != 0)
        n++;
    return n;
}

static void put_safe(hp_handout_flow *f, const hp_bench_path *path, int k)
{
    char text[sizeof path->step[k].card.safe + 40];
    int first = safe_like(path, k);
    if (first < k)
        snprintf(text, sizeof text, "Safe first: as in step %d; measure it again.", first + 1);
    else
        snprintf(text, sizeof text, "Safe first: %s", path->step[k].card.safe);
    say(f, INDENT, hp_handout_small(HP_ALIGN_LEFT, true), text);
}

/* Which leads are joined follows from the readings, which nobody has taken yet. */
static const char *how_words(const hp_bench_step *step, int k)
{
    return step->kind == HP_ADVICE_TRY && (step->card.doing[k] & HP_DOING_JOIN)
               ? "Join the phase leads and the Hall leads as the advice then says."
               : step->card.how[k];
}

static void put_step(hp_handout_flow *f, const hp_bench_path *path, int k)
{
    char text[1200];
    const hp_bench_step *step = &path->step[k], *alike = like_it(path, k);
    const hp_card *card = &step->card, *before = alike ? &alike->card : NULL;
    hp_type small = hp_handout_small(HP_ALIGN_LEFT, false);
    hp_handout_flow_room(f, 130.0);
    snprintf(text, sizeof text, "%d.  %s", k + 1,
             step->kind == HP_ADVICE_TRY ? "Join the wiring that fits, and try it under power"
                                         : card->title);
    say(f, 0.0, hp_handout_body(true), text);
    put_safe(f, path, k);
    if (alike) {
        snprintf(text, sizeof text,
                 "! As step %d, with all its cautions, but:", (int)(alike - path->step) + 1);
        say(f, INDENT, hp_handout_small(HP_ALIGN_LEFT, true), text);
    }
    int from = 0;
    for (int n = 0; n < card->hows; n++) {
        if (said(before, card->how[n]))
            continue;
        put_cautions(f, card, before, from, n);
        say(f, INDENT, small, how_words(step, n));
        from = n + 1;
    }
    put_cautions(f, card, before, from, card->hows);
    bool expects = card->healthy[0] && !(before && strcmp(before->healthy, card->healthy) == 0);
    snprintf(text, sizeof text, "%s%s", expects ? "Good parts: " : "",
             expects ? card->healthy : "");
    put_end(f, step, text);
    f->y += 3.0;
}

static int flow_all(const hp_canvas *canvas, const hp_handout_job *job)
{
    hp_handout_flow f = hp_handout_flow_begin(canvas, job);
    const hp_canvas *first = hp_handout_flow_room(&f, 0.0);
    f.y = hp_handout_boxed(first, f.y, "Cautions", hp_cautions_text());
    f.y = hp_handout_say(first, f.y, hp_handout_body(false),
                         "What to do on this machine, in this order. Where a step finds something "
                         "wrong, the order changes: log it, and hubphase next says how to go on.");
    for (int k = 0; k < job->path->steps; k++)
        put_step(&f, job->path, k);
    return f.page + 1;
}

const hp_handout hp_handout_bench = {
    .name = "bench-card", .title = "Bench card", .bench = true, .flow = flow_all};
