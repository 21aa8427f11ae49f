/* What changed between two logs of one machine, as text: see hubphase/report/case_words.h. */
#include "hubphase/report/case_words.h"

#include "report/words/card_parts.h"
#include "report/words/compare_words.h"
#include "report/words/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const cause_words[HP_CAUSE_COUNT] = {
    [HP_CAUSE_DRAG_MORE] =
        "It drags more: a bearing, water or rust inside, a seal, a brake that touches. Or shorted "
        "turns: they brake a wheel that coasts, too, and warm the hub within a minute. Turn it by "
        "hand and listen; compare with all phase leads apart.",
    [HP_CAUSE_WHEEL_DRAGS] =
        "The wheel alone drags more: its bearing, water or rust, a seal, a brake that touches, a "
        "one-way clutch that is dry or worn. No winding: the rotor stands while the wheel runs "
        "on. Turn it by hand and listen.",
    [HP_CAUSE_DRAG_LESS] = "It runs more freely: seals and bearings run in, or a brake was set "
                           "back.",
    [HP_CAUSE_POWER_LOST] =
        "It draws more but coasts as before, so not the bearings or brake of the wheel: a phase "
        "lead or Hall sensor with bad contact, another wiring.",
    [HP_CAUSE_GEARS] = "Behind a one-way clutch also what does not coast: gears, the rotor's "
                       "bearings, shorted turns.",
    [HP_CAUSE_OTHER_MOTOR] = "Faster per volt by more than weak magnets ever make it: another "
                             "motor, or a slip in speed, volts or the wheel's size. Measure again.",
    [HP_CAUSE_DRAG_GONE] = "Less drag by more than running in takes away: something that touched "
                           "is gone, or a slip in speed, seconds or weight. Measure again.",
    [HP_CAUSE_TURNS] = "Less resistance: shorted turns, or measured warmer than noted. Compare the "
                       "three pairs.",
    [HP_CAUSE_JOINT] = "More resistance: a joint or lead that is torn or burnt, or the winding was "
                       "warmer than noted. Measure again closer to the hub.",
    [HP_CAUSE_LEAD] =
        "Two pairs have more resistance, the third not: the lead that these two share, "
        "its plug, crimp or joint. Wag it while the meter is on, from the plug to the "
        "axle; a lead that is half torn warms under load.",
    [HP_CAUSE_LEAD_TURNS] = "Two pairs have less resistance, the third not: shorted turns in the "
                            "phase of the lead that these two share. Or a bad joint there was "
                            "mended since.",
    [HP_CAUSE_PAIR] =
        "No one lead changes the pairs like that. One pair far below the others: its two leads "
        "touch, in the plug, at the axle or in the winding; no power then. Else a reading that is "
        "off, or more than one fault. Measure all three pairs once more.",
    [HP_CAUSE_MAGNETS] = "Faster per volt: magnets that got too hot are weaker, and the motor then "
                         "draws more for the same pull.",
    [HP_CAUSE_SLOWER] =
        "Slower per volt: throttle or speed step not full, another wheel size on the "
        "speedometer, or the fields no longer meet as they did.",
    [HP_CAUSE_IDLE_MORE] =
        "More current at rest: a lamp, display or regulator that was not on then, "
        "or damp in controller or plugs.",
    [HP_CAUSE_BATTERY_MORE] = "More resistance ahead of the controller: a tired or cold battery, a "
                              "plug or fuse holder that warms.",
    [HP_CAUSE_WHEEL] =
        "Another moment of inertia: another tyre or rim, or it was weighed otherwise.",
    [HP_CAUSE_WINDING_LOOSE] =
        "The winding gives its heat away more slowly: it no longer sits tight "
        "in its slots, or it was read at other moments.",
};

const char *hp_cause_words(hp_cause cause)
{
    return cause_words[cause];
}

const char *hp_change_name(hp_change change)
{
    static const char *const name[HP_CHANGE_COUNT] = {"same", "perhaps", "changed"};
    return name[change];
}

hp_compare *hp_compare_of(const hp_commission_case *then, const hp_commission_case *now,
                          bool same_meters, hp_error *err)
{
    hp_compare *c = malloc(sizeof *c);
    if (!c) {
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for a comparison");
        return NULL;
    }
    const hp_commission *before = hp_commission_case_list(then);
    const hp_commission *after = hp_commission_case_list(now);
    hp_compare_make(&before->given, &after->given, same_meters, c);
    hp_compare_add_findings(before, after, c);
    return c;
}

/* Whole percent, for there is no -0 %. */
static double percent(double ratio)
{
    return round(100.0 * (ratio - 1.0)) + 0.0;
}

/* "+52 % (40 to 66 %)". */
static void add_percent(const hp_compare_row *row, hp_phrase *p)
{
    if (isnan(row->ratio))
        return;
    hp_phrase_add(p, ", %+.0f %% (%+.0f to %+.0f %%)", percent(row->ratio), percent(row->low),
                  percent(row->high));
}

#define TITLE 42
#define FOUND 25

static void print_row(const hp_compare_row *row, const hp_screen *out)
{
    char title[96], text[200], then[HP_NUMBER_WORDS], now[HP_NUMBER_WORDS];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "%s, now %s %s", hp_card_figures(row->then->value, then, sizeof then),
                  hp_card_figures(row->now->value, now, sizeof now), hp_own_unit(row->kind));
    add_percent(row, &p);
    snprintf(title, sizeof title, "  %-8s %s", hp_change_name(row->change),
             hp_own_title(row->kind));
    hp_text_fill(out, title, TITLE, text);
}

char *hp_compare_pairs_words(const hp_compare_pairs *pairs, const hp_labels *labels, char *out,
                             size_t size)
{
    const hp_lead_names phases = hp_card_phases(labels);
    char name[HP_PAIR_WORDS], ohm[HP_NUMBER_WORDS];
    hp_phrase p = hp_phrase_begin(out, size);
    for (int at = 0; at < HP_PHASE_COUNT; at++) {
        int k = hp_card_pair_order[at];
        const double *const of[2] = {&pairs->then[k], &pairs->now[k]};
        hp_phrase_add(&p, "%s%s ", at ? "; " : "", hp_card_pair(&phases, k, name, sizeof name));
        for (int n = 0; n < 2; n++)
            hp_phrase_add(&p, "%s%s", n ? ", now " : "",
                          isinf(*of[n]) ? "open" : hp_card_figures(*of[n], ohm, sizeof ohm));
    }
    hp_phrase_add(&p, " ohm");
    if (pairs->lead >= 0)
        hp_phrase_add(&p, ". Both with %s have %s: look there first", phases.bare[pairs->lead],
                      pairs->sense > 0 ? "more" : "less");
    return out;
}

static void print_pairs(const hp_compare *c, const hp_commission_case *now, const hp_screen *out)
{
    char title[96], text[400];
    if (!c->pairs.unlike)
        return;
    snprintf(title, sizeof title, "  %-8s %s", hp_change_name(HP_CHANGE_SURELY),
             "winding, pair by pair");
    hp_text_fill(out, title, TITLE,
                 hp_compare_pairs_words(&c->pairs, hp_commission_case_list(now)->given.labels, text,
                                        sizeof text));
}

static void print_causes(const hp_compare *c, const hp_screen *out)
{
    bool first = true;
    for (int k = 0; k < HP_CAUSE_COUNT; k++) {
        if (!c->cause[k])
            continue;
        if (first)
            fputs("\nWhat that may come from\n", out->file);
        first = false;
        hp_text_fill(out, "  -", 4, cause_words[k]);
    }
}

/* Whether any figure is told by both. */
static bool told(const hp_compare *c)
{
    return c->rows > 0 || c->pairs.unlike;
}

/* "stop, was good: ..." with what it found now. */
static void print_findings(const hp_compare *c, const hp_commission_case *now, const hp_screen *out)
{
    if (c->findings > 0)
        fprintf(out->file, "%sWhat steps found, and had found then\n", told(c) ? "\n" : "");
    for (int k = 0; k < c->findings; k++) {
        const hp_compare_finding *f = &c->finding[k];
        char title[80], text[HP_FOUND_WORDS + 40], found[HP_FOUND_WORDS];
        hp_commission_found_words(now, f->reading, found, sizeof found);
        snprintf(title, sizeof title, "  %-8s %s", hp_finding_name(f->now),
                 hp_reading_name(f->reading));
        snprintf(text, sizeof text, "was %s%s%s", hp_finding_name(f->then), found[0] ? ". " : ".",
                 found);
        hp_text_fill(out, title, FOUND, text);
    }
}

/* What was taken of the meters. */
static const char *meters_words(const hp_compare *c, const hp_screen *out)
{
    return c->same_meters ? "The meters are taken to be the same as then: what they are all off by "
                            "cancels. If one was another, compare without that."
           : out->page    ? "The meters are taken to be others than then. Were they the same, tick "
                            "that they were, and open the earlier log again: smaller changes show."
                          : "The meters are taken to be others than then. Were they the same, say "
                            "so (--same-meters): smaller changes show.";
}

char *hp_compare_last_day(const hp_commission_case *c, char day[HP_DAY_SIZE])
{
    const hp_bench_log *log = hp_commission_case_log(c);
    day[0] = '\0';
    for (int k = 0; k < log->count; k++)
        if (strncmp(log->entry[k].time, day, HP_DAY_SIZE - 1) > 0)
            snprintf(day, HP_DAY_SIZE, "%.*s", HP_DAY_SIZE - 1, log->entry[k].time);
    return day;
}

char *hp_compare_order_words(const hp_commission_case *then, const hp_commission_case *now,
                             char *out, size_t size)
{
    char first[HP_DAY_SIZE], second[HP_DAY_SIZE];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_compare_last_day(then, first);
    hp_compare_last_day(now, second);
    if (first[0] && second[0] && strcmp(first, second) > 0)
        hp_phrase_add(&p,
                      "The log given first goes up to %s, the second only up to %s. Taken the "
                      "wrong way round, what wore out looks mended: give the older log first.",
                      first, second);
    return out;
}

/* "Barrow: then (2026-10-10) and now (2027-04-18)"; the days where they differ. */
static void print_head(const hp_commission_case *then, const hp_commission_case *now,
                       const hp_screen *out)
{
    char name[3 * HP_BENCH_NAME_SIZE], text[sizeof name + 60], order[300];
    char first[HP_DAY_SIZE], second[HP_DAY_SIZE];
    hp_text_clean(hp_commission_case_list(now)->given.labels->machine, name, sizeof name);
    hp_compare_last_day(then, first);
    hp_compare_last_day(now, second);
    if (first[0] && second[0] && strcmp(first, second) != 0)
        snprintf(text, sizeof text, "%s%sthen (%s) and now (%s)", name, name[0] ? ": " : "", first,
                 second);
    else
        snprintf(text, sizeof text, "%s%sthen and now", name, name[0] ? ": " : "");
    hp_text_fill(out, "", 0, text);
    if (hp_compare_order_words(then, now, order, sizeof order)[0])
        hp_text_fill(out, "", 0, order);
    fputc('\n', out->file);
}

hp_result hp_compare_print(const hp_commission_case *then, const hp_commission_case *now,
                           bool same_meters, const hp_screen *out, hp_error *err)
{
    hp_compare *c = hp_compare_of(then, now, same_meters, err);
    if (!c)
        return HP_FAIL_MEMORY;
    print_head(then, now, out);
    for (int k = 0; k < c->rows; k++)
        print_row(&c->row[k], out);
    print_pairs(c, now, out);
    print_causes(c, out);
    print_findings(c, now, out);
    if (told(c) || c->findings > 0)
        fputc('\n', out->file);
    hp_text_fill(out, "", 0, hp_compare_end_words(c));
    if (told(c))
        hp_text_fill(out, "", 0, meters_words(c, out));
    free(c);
    return HP_OK;
}

const char *hp_compare_end_words(const hp_compare *c)
{
    if (!told(c) && c->findings > 0)
        return "No figure is told by both logs, so none can be compared; what the steps found did "
               "change.";
    if (!told(c))
        return "Nothing can be compared: no figure is told by both logs. Take the same steps of "
               "commissioning again.";
    if (c->changed > 0)
        return "\"Changed\": by more than readings are off in 99 of 100 cases; in brackets what "
               "holds 90 times of 100. Measure what changed once more before anything is taken "
               "apart.";
    if (c->maybe > 0)
        return "Nothing changed surely. \"Perhaps\": more than readings are off in 90 of 100 "
               "cases; "
               "among ten figures one does so by chance.";
    if (c->findings > 0)
        return "No figure changed by more than the readings are off; what the steps found did.";
    return "Nothing changed by more than the readings are off.";
}
