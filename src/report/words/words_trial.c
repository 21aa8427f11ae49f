/* Words for a trial: see words.h. How a wiring is tried: card.c. */
#include "decide/advise/full_check.h"
#include "decide/advise/nuisance.h"
#include "decide/reading/reading_list.h"
#include "decide/reading/running.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>

/* ---- how it is told -------------------------------------------------------------------------- */

/* What the plan expects of the right wiring; NAN where nothing is known. */
typedef struct expected {
    double amperes;
    double wheel_rad_s;
} expected;

static expected expect(const hp_advice *advice)
{
    expected e = {NAN, NAN};
    if (!advice)
        return e;
    if (advice->current_a.high > 0.0)
        e.amperes = hp_band_middle(advice->current_a);
    if (advice->wheel_rad_s.high > 0.0)
        e.wheel_rad_s = hp_band_middle(advice->wheel_rad_s);
    return e;
}

static bool turned(const hp_trial *t)
{
    return t->motion == HP_MOVED_FORWARD || t->motion == HP_MOVED_BACKWARD ||
           t->motion == HP_MOVED_BOTH || t->motion == HP_MOVED_HUM;
}

static void label_trial(const hp_trial *t, const expected *e, hp_phrase *label)
{
    static const char *const brief[HP_MOVED_COUNT] = {
        "not said",     "forward",      "backward", "both ways", "hub hums, wheel does not turn",
        "only shivers", "does not move"};
    bool large = t->battery_a > HP_CURRENT_SMALL * e->amperes;
    hp_phrase_add(label, "%s", brief[t->motion]);
    if (t->feel != HP_FEEL_UNSAID)
        hp_phrase_add(label, ", %s", hp_card_feel(t->feel));
    if (t->feel == HP_FEEL_ROUGH && t->wheel_rad_s > 0.0 && e->wheel_rad_s > 0.0)
        hp_phrase_add(label, ", %s",
                      t->wheel_rad_s < HP_SPEED_EVEN_LOW * e->wheel_rad_s    ? "slow"
                      : t->wheel_rad_s > HP_SPEED_EVEN_HIGH * e->wheel_rad_s ? "fast"
                                                                             : "usual speed");
    if (t->battery_a >= 0.0 && e->amperes > 0.0)
        hp_phrase_add(label, ", %s current", large ? "large" : "small");
    if (t->limit_reached != HP_TELL_UNSAID)
        hp_phrase_add(label,
                      t->limit_reached == HP_TELL_YES ? ", at the limit" : ", below the limit");
    if (turned(t) && t->starts < t->starts_tried)
        hp_phrase_add(label, ", from some start positions only");
}

static void say_current(const hp_trial *t, const expected *e, hp_phrase *s)
{
    char limit[HP_NUMBER_WORDS];
    if (!(t->battery_a >= 0.0) || !(e->amperes > 0.0))
        return;
    hp_card_number(HP_CURRENT_SMALL * e->amperes, limit, sizeof limit);
    if (t->battery_a > HP_CURRENT_SMALL * e->amperes)
        hp_phrase_add(s, " The battery gives more than about %s A.", limit);
    else
        hp_phrase_add(s, " The battery gives less than about %s A.", limit);
}

static void say_speed(const hp_trial *t, const expected *e, hp_phrase *s)
{
    char low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS];
    if (t->feel != HP_FEEL_ROUGH || !(t->wheel_rad_s > 0.0) || !(e->wheel_rad_s > 0.0))
        return;
    hp_card_rpm(HP_SPEED_EVEN_LOW * e->wheel_rad_s, low, sizeof low);
    hp_card_rpm(HP_SPEED_EVEN_HIGH * e->wheel_rad_s, high, sizeof high);
    if (t->wheel_rad_s < HP_SPEED_EVEN_LOW * e->wheel_rad_s)
        hp_phrase_add(s, " The wheel turns slower than about %s rev/min.", low);
    else if (t->wheel_rad_s > HP_SPEED_EVEN_HIGH * e->wheel_rad_s)
        hp_phrase_add(s, " The wheel turns faster than about %s rev/min.", high);
    else
        hp_phrase_add(s, " The wheel turns at about %s to %s rev/min.", low, high);
}

static void sentence_trial(const hp_trial *t, const expected *e, hp_phrase *s)
{
    switch (t->motion) {
    case HP_MOVED_FORWARD: hp_phrase_add(s, "The wheel turns forward"); break;
    case HP_MOVED_BACKWARD: hp_phrase_add(s, "The wheel turns backward"); break;
    case HP_MOVED_BOTH:
        hp_phrase_add(s,
                      "The wheel turns forward from some start positions and backward from others");
        break;
    case HP_MOVED_HUM:
        hp_phrase_add(s, "The rotor is heard to turn inside the hub, the wheel does not turn");
        break;
    case HP_MOVED_SHIVER:
        hp_phrase_add(s, "The wheel only shivers to and fro, or jerks and stops, without going "
                         "round");
        break;
    case HP_MOVED_STILL: hp_phrase_add(s, "The wheel does not move at all"); break;
    case HP_MOVED_UNSAID:
    case HP_MOVED_COUNT: hp_phrase_add(s, "Nothing was said of the wheel"); break;
    }
    if (t->feel == HP_FEEL_SMOOTH)
        hp_phrase_add(s, ", evenly and quietly");
    else if (t->feel == HP_FEEL_ROUGH)
        hp_phrase_add(s, ", but roughly: it growls, shakes or strains");
    else if (t->feel == HP_FEEL_NOISY)
        hp_phrase_add(s, ", with a noise that you cannot place");
    hp_phrase_add(s, ".");
    if (t->limit_reached != HP_TELL_UNSAID)
        hp_phrase_add(s, t->limit_reached == HP_TELL_YES
                             ? " The supply stays at its limit, the lamp bright."
                             : " The supply leaves its limit, the lamp goes dark.");
    say_current(t, e, s);
    say_speed(t, e, s);
    if (turned(t) && t->starts < t->starts_tried)
        hp_phrase_add(s, " From some start positions it does not start.");
    else if (turned(t) && t->starts_tried > 1)
        hp_phrase_add(s, " It starts from every start position.");
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_trial *t = values;
    const expected e = expect(advice);
    hp_phrase label = hp_phrase_begin(words->label, sizeof words->label);
    hp_phrase s = hp_phrase_begin(words->sentence, sizeof words->sentence);
    (void)context;
    label_trial(t, &e, &label);
    sentence_trial(t, &e, &s);
}

static const char *motion_word(hp_motion motion)
{
    static const char *const word[HP_MOVED_COUNT] = {
        "not said",
        "forward",
        "backward",
        "forward from some start positions, backward from others",
        "the hub hums, the wheel does not turn",
        "shivers to and fro",
        "does not move"};
    return (int)motion >= 0 && motion < HP_MOVED_COUNT ? word[motion] : word[0];
}

/* What limited the current, and whether it did. */
static void say_feed(const hp_trial *t, hp_phrase *p)
{
    char number[HP_NUMBER_WORDS];
    bool lamp = t->feed == HP_FEED_LAMP;
    hp_phrase_add(p, lamp ? ", through a lamp" : ", from a bench supply");
    if (!isnan(t->limit_a))
        hp_phrase_add(p, " set to %s A", hp_card_as_read(t->limit_a, number, sizeof number));
    if (t->limit_reached == HP_TELL_YES)
        hp_phrase_add(p, lamp ? ", bright" : ", at its limit");
    else if (t->limit_reached == HP_TELL_NO)
        hp_phrase_add(p, lamp ? ", dark" : ", below its limit");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_trial *t = values;
    char number[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "wiring %d at %.3g %%", hp_wiring_number(&t->wiring), 100.0 * t->throttle);
    if (!isnan(t->signal_v))
        hp_phrase_add(p, " (signal %s V)", hp_card_as_read(t->signal_v, number, sizeof number));
    hp_phrase_add(p, ": %s", motion_word(t->motion));
    if (t->feel != HP_FEEL_UNSAID)
        hp_phrase_add(p, ", %s", hp_card_feel(t->feel));
    if (t->starts_tried > 0)
        hp_phrase_add(p, "%s started from %d of %d",
                      t->motion == HP_MOVED_HUM ? ", the rotor in the hub" : ",", t->starts,
                      t->starts_tried);
    if (!isnan(t->battery_a))
        hp_phrase_add(p, ", %s A", hp_card_as_read(t->battery_a, number, sizeof number));
    if (!isnan(t->wheel_rad_s))
        hp_phrase_add(p, ", %s rev/min",
                      hp_card_rpm_as_read(t->wheel_rad_s, number, sizeof number));
    if (hp_feed_limits(t->feed))
        say_feed(t, p);
    if (t->cut_out == HP_TELL_YES)
        hp_phrase_add(p, ", cut out");
    if (t->warm == HP_TELL_YES)
        hp_phrase_add(p, ", grew warm");
}

/* ---- how it is asked and logged -------------------------------------------------------------- */

static const hp_choice motions[] = {
    {"forward", "forward: the wheel turned forward"},
    {"backward", "backward: the wheel turned backward"},
    {"both", "both: forward from some start positions, backward from others"},
    {"hum", "hum: the hub hummed and turned inside, the wheel did not turn"},
    {"shiver", "shiver: to and fro on one spot"},
    {"still", "still: nothing moved"},
    {NULL, NULL},
};

/* Without a clutch nothing turns in the hub while the wheel stays: a hum there is "still". */
static const hp_choice direct_motions[] = {
    {"forward", "forward: the wheel turned forward"},
    {"backward", "backward: the wheel turned backward"},
    {"both", "both: forward from some start positions, backward from others"},
    {"shiver", "shiver: to and fro on one spot"},
    {"still", "still: it did not turn, whether it hummed or not"},
    {NULL, NULL},
};

static const hp_choice *offered_motions(const hp_question_case *c)
{
    return c->drive->stand.clutch ? motions : direct_motions;
}

static const hp_choice feels[] = {
    {"smooth", "smooth: even and quiet, like a good one"},
    {"rough", "rough: it growls, jerks or drags"},
    {"noisy", "noisy: loud, but hard to say which"},
    {NULL, NULL},
};

/* Whether wheel or rotor turned. */
static bool has_turned(const hp_question_case *c, const void *values)
{
    (void)c;
    hp_motion motion = ((const hp_trial *)values)->motion;
    return motion != HP_MOVED_UNSAID && motion != HP_MOVED_STILL && motion != HP_MOVED_SHIVER;
}

static bool wheel_turned(const hp_question_case *c, const void *values)
{
    return has_turned(c, values) && ((const hp_trial *)values)->motion != HP_MOVED_HUM;
}

static const char *usual_throttle(const hp_question_case *c, const void *values, char *out,
                                  size_t size)
{
    (void)values;
    bool full = c->advice && hp_card_full_check(c->plan, c->advice);
    snprintf(out, size, "%.6g", 100.0 * (full ? hp_plan_full(c->plan) : c->plan->throttle));
    return out;
}

static const char *usual_wiring(const hp_question_case *c, const void *values, char *out,
                                size_t size)
{
    (void)values;
    if (!c->advice || c->advice->number <= 0)
        return NULL;
    snprintf(out, size, "%d", c->advice->number);
    return out;
}

static const char *usual_tried(const hp_question_case *c, const void *values, char *out,
                               size_t size)
{
    (void)values;
    snprintf(out, size, "%d", c->plan->starts);
    return out;
}

static const char *usual_starts(const hp_question_case *c, const void *values, char *out,
                                size_t size)
{
    (void)c;
    snprintf(out, size, "%d", ((const hp_trial *)values)->starts_tried);
    return out;
}

/* It turned, so it started once at least. */
static void narrow_starts(const void *values, hp_limits *limits)
{
    limits->low = 1;
    limits->high = ((const hp_trial *)values)->starts_tried;
}

static const hp_choice feeds[] = {
    {"battery", "battery: the battery through its fuse"},
    {"bench_supply", "bench_supply: a supply with a current limit"},
    {"lamp", "lamp: the battery through a filament lamp"},
    {NULL, NULL},
};

/* Where nothing can limit it, nothing but the battery fed it. */
static bool asks_feed(const hp_question_case *c, const void *values)
{
    (void)values;
    return c->plan->first_power != HP_FIRST_POWER_NONE;
}

/* What the step asks for; what is not said is the battery. */
static const char *usual_feed(const hp_question_case *c, const void *values, char *out, size_t size)
{
    (void)values;
    bool limited = c->advice && c->advice->limited;
    bool lamp = c->plan->first_power == HP_FIRST_POWER_LAMP;
    snprintf(out, size, "%s", !limited ? "" : lamp ? "lamp" : "bench_supply");
    return out;
}

static const char *usual_limit(const hp_question_case *c, const void *values, char *out,
                               size_t size)
{
    (void)values;
    bool told = c->advice && c->advice->limited && c->advice->limit_a > 0.0;
    snprintf(out, told ? size : 1, "%.3g", told ? c->advice->limit_a : 0.0);
    return out;
}

static bool had_supply(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_trial *)values)->feed == HP_FEED_BENCH_SUPPLY;
}

static bool was_limited(const hp_question_case *c, const void *values)
{
    (void)c;
    return hp_feed_limits(((const hp_trial *)values)->feed);
}

static bool reads_current(const hp_question_case *c, const void *values)
{
    (void)values;
    /* At the end of what can be told without one it is borrowed. */
    return c->plan->ammeter || (c->advice && c->advice->felt > 0);
}

static bool reads_speed(const hp_question_case *c, const void *values)
{
    return c->plan->tachometer && wheel_turned(c, values);
}

static bool reads_signal(const hp_question_case *c, const void *values)
{
    (void)values;
    return c->advice && c->advice->signal_v > 0.0;
}

static const hp_question questions[] = {
    {.field = "wiring",
     .text = "Which wiring is joined? Its number, or the leads.",
     .noun = "wiring",
     .help = "A number from 1 to 36. Or three Hall leads at inputs U V W, a slash, three phase "
             "leads at outputs U V W.",
     .usual = usual_wiring},
    {.field = "throttle_percent",
     .text = "How much throttle, in per cent?",
     .noun = "throttle",
     .help = "0 is closed, 100 is full.",
     .usual = usual_throttle},
    {.field = "throttle_signal_v",
     .text = "How many volts were on the throttle's signal lead?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = reads_signal},
    {.field = "motion", .text = "What did the wheel do?", .offered = offered_motions},
    {.field = "feel", .text = "How did it run?", .choices = feels, .wanted = has_turned},
    {.field = "starts_tried",
     .text = "From how many start positions did you try it?",
     .help = "Between two tries the wheel is turned a little by hand, throttle closed; behind a "
             "one-way clutch backward, so that the rotor moves.",
     .usual = usual_tried},
    {.field = "starts",
     .text = "From how many of them did it start?",
     .wanted = has_turned,
     .usual = usual_starts,
     .narrow = narrow_starts},
    {.field = "fed_by",
     .text = "What fed the controller?",
     .choices = feeds,
     .usual = usual_feed,
     .shown = "Enter: the battery",
     .wanted = asks_feed},
    {.field = "supply_limit_a",
     .text = "To how many amperes was its limit set?",
     .wanted = had_supply,
     .usual = usual_limit,
     .shown = "Enter: not known"},
    {.field = "limit_reached",
     .text = "Once the wheel had run up, or stood: was it at its limit still, or the lamp bright?",
     .fallback = "",
     .shown = "Enter: not seen",
     .wanted = was_limited},
    {.field = "battery_a",
     .text = "How many amperes did the battery give?",
     .help = "With the wheel running, or trying to. The ammeter sits in the battery lead.",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = reads_current},
    {.field = "wheel_speed_rpm",
     .text = "How fast did the wheel turn, in turns a minute?",
     .fallback = "",
     .shown = "Enter: not read",
     .wanted = reads_speed},
    {.field = "cut_out", .text = "Did the controller cut out by itself?", .fallback = ""},
    {.field = "warm", .text = "Did the motor or a lead grow warm?", .fallback = ""},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    const hp_plan_params *plan = context->plan;
    if (advice->number > 0)
        hp_log_word(line, "--wiring=%d", advice->number);
    else
        hp_log_word(line, "--wiring=WIRING");
    if (advice->kind == HP_ADVICE_DANGER) {
        hp_log_word(line, "--throttle-percent=0");
        hp_log_word(line, "--motion=MOTION");
        return;
    }
    /* The final check is made at all that the machine can be asked for. */
    hp_log_word(line, "--throttle-percent=%.6g",
                100.0 * (hp_card_full_check(plan, advice) ? hp_plan_full(plan) : plan->throttle));
    if (advice->signal_v > 0.0)
        hp_log_word(line, "--throttle-signal-v=VOLTS");
    hp_log_word(line, "--motion=MOTION");
    hp_log_word(line, "--feel=FEEL");
    if (plan->starts > 1) {
        hp_log_word(line, "--starts=N");
        hp_log_word(line, "--starts-tried=%d", plan->starts);
    }
    if (advice->limited) {
        hp_log_word(line, plan->first_power == HP_FIRST_POWER_LAMP ? "--fed-by=lamp"
                                                                   : "--fed-by=bench_supply");
        if (plan->first_power != HP_FIRST_POWER_LAMP && advice->limit_a > 0.0)
            hp_log_word(line, "--supply-limit-a=%.3g", advice->limit_a);
        hp_log_word(line, "--limit-reached=YES-OR-NO");
    }
    if (plan->ammeter || advice->felt > 0)
        hp_log_word(line, "--battery-a=AMPERES");
    if (plan->tachometer)
        hp_log_word(line, "--wheel-speed-rpm=RPM");
    if (advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_PROBABLY ||
        advice->kind == HP_ADVICE_LOOK) {
        hp_log_word(line, "--cut-out=YES-OR-NO");
        hp_log_word(line, "--warm=YES-OR-NO");
    }
}

/* ---- what the sheet keeps -------------------------------------------------------------------- */

static const hp_plan_params *plan_of(const hp_sheet_source *source)
{
    return source->steps ? source->steps->plan : NULL;
}

/* What the wiring that works drew when it was last at full throttle, where that is not the run that
 * is kept anyway: no gentle run after it makes up for what was too much there. What a later good
 * run took back is left out. */
static void keep_full_run(hp_wiring_sheet *sheet, const hp_entry *kept)
{
    const hp_sheet_source *source = &sheet->source;
    for (int k = source->entries - 1; k >= 0; k--) {
        const hp_trial *trial = hp_entry_trial(&source->entry[k]);
        if (!trial || hp_wiring_number(&trial->wiring) != sheet->wiring[0].number)
            continue;
        const hp_trial found = hp_entry_as_found(&source->entry[k]).trial;
        if (!hp_plan_asks_all(plan_of(source), &found, found.throttle) || isnan(found.battery_a) ||
            (sheet->wiring[0].ran && hp_sheet_trial_failed(source, &source->entry[k])))
            continue;
        if (&source->entry[k] == kept)
            return;
        char asked[HP_ASKED_WORDS];
        hp_sheet_line *line = hp_sheet_add(
            &sheet->readings, "Battery current at %s",
            plan_of(source) ? hp_full_words(hp_plan_full(plan_of(source)), asked, sizeof asked)
                            : "full throttle");
        hp_sheet_set(source, line, &source->entry[k], "%.4g A, wiring %d", found.battery_a,
                     sheet->wiring[0].number);
        return;
    }
}

/* Current and speed of the wiring that works, wheel lifted. */
static bool is_run(const void *values, int index)
{
    (void)values;
    (void)index;
    return true;
}

static int run_wiring(const hp_wiring_sheet *sheet, const hp_entry *run)
{
    const hp_sheet_source *source = &sheet->source;
    return hp_run_wiring(source->entry, source->entries, (int)(run - source->entry));
}

/* ", wiring 5"; empty: the log does not say. */
static const char *of_wiring(const hp_wiring_sheet *sheet, const hp_entry *run, char *out,
                             size_t size)
{
    int number = run_wiring(sheet, run);
    out[0] = '\0';
    if (number)
        snprintf(out, size, ", wiring %d", number);
    return out;
}

/* The no-load run of commissioning, where it is of the wiring on the sheet and found nothing that
 * speaks against it; else NULL. */
static const hp_entry *no_load_run(const hp_wiring_sheet *sheet)
{
    const hp_card_context *context = sheet->source.steps;
    const hp_commission_step *step =
        context && context->commission
            ? hp_commission_step_of(context->commission, &hp_reading_no_load)
            : NULL;
    if (!step || step->finding == HP_FINDING_STOP ||
        hp_sheet_log_wiring(&sheet->source) != sheet->wiring[0].number)
        return NULL;
    const hp_entry *run = hp_sheet_last(&sheet->source, &hp_reading_no_load, is_run, 0);
    int of = run ? run_wiring(sheet, run) : 0;
    return of == 0 || of == sheet->wiring[0].number ? run : NULL;
}

/* Of a trial, or where none was read, of the run at full throttle. */
static void keep_no_load(hp_wiring_sheet *sheet, const char *what, const hp_entry *trial,
                         double read, const hp_entry *run, double in_run, const char *unit)
{
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "%s", what);
    char with[32];
    if (trial && !isnan(read))
        hp_sheet_set(&sheet->source, line, trial, "%.4g %s at %.4g %% throttle, wiring %d", read,
                     unit, 100.0 * trial->trial.throttle, hp_wiring_number(&trial->trial.wiring));
    else if (run && !isnan(in_run))
        hp_sheet_set(&sheet->source, line, run, "%.4g %s at full throttle and %.4g V%s", in_run,
                     unit, ((const hp_no_load *)hp_entry_said(run))->full.volts,
                     of_wiring(sheet, run, with, sizeof with));
    else
        hp_sheet_set(&sheet->source, line, NULL, "%s", "");
}

/* The run that the advice ends with, where nobody has made it yet: a line to fill in, with what it
 * ought to show, for whoever has the paper and not the program. */
static void keep_check(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_advice *advice = source->advice;
    char low[HP_NUMBER_WORDS], high[HP_NUMBER_WORDS];
    if (!hp_sheet_check_is_open(source, sheet->wiring[0].number))
        return;
    hp_sheet_line *line =
        hp_sheet_add(&sheet->readings, "Final check, wheel lifted, full throttle");
    if (!line)
        return;
    snprintf(line->from, sizeof line->from, "still to be made");
    hp_phrase p = hp_phrase_resume(line->what, sizeof line->what);
    if (advice->full_current_a.high > 0.0)
        hp_phrase_add(&p, ": %s to %s A",
                      hp_card_number(advice->full_current_a.low, low, sizeof low),
                      hp_card_number(advice->full_current_a.high, high, sizeof high));
    if (advice->full_wheel_rad_s.high > 0.0)
        hp_phrase_add(&p, "%s %s to %s rev/min", advice->full_current_a.high > 0.0 ? "," : ":",
                      hp_card_rpm(advice->full_wheel_rad_s.low, low, sizeof low),
                      hp_card_rpm(advice->full_wheel_rad_s.high, high, sizeof high));
}

static void keep(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    int number = sheet->wiring[0].number;
    const hp_entry *trial = number ? hp_sheet_working_trial(source, number) : NULL;
    const hp_trial found =
        trial ? hp_entry_as_found(trial).trial : (hp_trial){.battery_a = NAN, .wheel_rad_s = NAN};
    int joined = 0;
    const hp_entry *run = number ? no_load_run(sheet) : hp_sheet_good_run(source, &joined);
    const hp_no_load *no_load = run ? hp_entry_said(run) : NULL;
    keep_no_load(sheet, "No-load battery current", trial, found.battery_a, run,
                 no_load ? no_load->full.battery_a : (double)NAN, "A");
    keep_no_load(sheet, "No-load speed", trial, found.wheel_rad_s / HP_RPM, run,
                 no_load ? no_load->full.rad_s / HP_RPM : (double)NAN, "rev/min");
    keep_full_run(sheet, trial);
    keep_check(sheet);
    hp_sheet_add_stated(sheet, "motor.no_load_speed_rpm_at_v.speed_rpm", "No-load speed, stated",
                        "rev/min", "motor.no_load_speed_rpm_at_v.volts", "V");
    hp_sheet_add_stated(sheet, "stand.no_load_current_a_at_v.current_a", "No-load current, stated",
                        "A", "stand.no_load_current_a_at_v.volts", "V");
}

/* The place of the entry that shows the danger; -1: not known here. */
static int danger_place(const hp_card_context *context, const hp_danger *danger)
{
    const hp_commission *list = context->commission;
    int k = list && list->danger == danger ? list->given.entries - 1 : -1;
    while (k >= 0 && list->given.entry[k].number != list->danger_entry)
        k--;
    return k;
}

/* How to correct the entry, where it is one that was written wrong. */
static void how_to_correct(const hp_card_context *context, int place, hp_card *words)
{
    const hp_entry *entry = place < 0 ? NULL : &context->commission->given.entry[place];
    if (!entry) {
        hp_card_how(words,
                    "Was the throttle open, or did somebody turn the pedals? Then the entry is "
                    "a slip: correct it.");
    } else if (!hp_entry_trial(entry)) {
        hp_card_how(words,
                    "Was the throttle open in entry %d, or did somebody turn the pedals? Then its "
                    "%.3g %% is a slip: correct it.",
                    entry->number, 100.0 * entry->trial.throttle);
    } else {
        char signal[HP_NUMBER_WORDS];
        hp_card_how(words,
                    "Was the throttle open in entry %d? Then its %s V are a slip, or those at "
                    "rest are: correct them. Did somebody turn the pedals? Leave its volts out.",
                    entry->number, hp_card_as_read(entry->trial.signal_v, signal, sizeof signal));
    }
}

/* What the entry's signal says of the throttle, against its per cent. */
static void add_signal(const hp_card_context *context, int place, hp_phrase *reason)
{
    if (place < 0 || !hp_entry_trial(&context->commission->given.entry[place]))
        return;
    const hp_assess_case *given = &context->commission->given;
    const hp_entry *entry = &given->entry[place];
    char signal[HP_NUMBER_WORDS], rest[HP_NUMBER_WORDS];
    hp_phrase_add(
        reason,
        " Entry %d says %.3g %%, but %s V on the signal lead: that is the throttle at "
        "rest, %s V.",
        entry->number, 100.0 * entry->trial.throttle,
        hp_card_as_read(entry->trial.signal_v, signal, sizeof signal),
        hp_card_as_read(hp_rest_v_at(given->plan, given->entry, place), rest, sizeof rest));
}

static void danger(const hp_card_context *context, const hp_danger *danger, hp_card *words)
{
    hp_phrase reason = hp_phrase_begin(words->reason, sizeof words->reason);
    int place = danger_place(context, danger);
    HP_CARD_SET(words->title, "Stop: it drives with the throttle closed");
    hp_phrase_add(&reason,
                  "On the road such a machine runs away, and the hand has nothing to let go of.");
    add_signal(context, place, &reason);
    hp_card_how(words, "Battery off, the motor's phase leads apart from the controller. Look "
                       "whether the grip springs back, and for the throttle's ground lead: torn or "
                       "loose, it asks for full throttle. So do water in a plug, and a lead that "
                       "rubs through.");
    hp_card_how(words, "Battery on, throttle closed: volts of the throttle's signal lead against "
                       "its minus, about 0.8 V. Battery off.");
    hp_card_doing(words, HP_DOING_LIVE);
    hp_card_how(words, "Phase leads joined as before, wheel lifted, one hand on the battery's "
                       "switch, battery on, throttle closed: the wheel stays still for half a "
                       "minute.");
    hp_card_doing(words, HP_DOING_STAND | HP_DOING_BATTERY | HP_DOING_SELF_START);
    how_to_correct(context, place, words);
}

const hp_words hp_words_trial = {
    .reading = &hp_reading_trial,
    .menu = "a wiring tried under power",
    .card = hp_card_say_own_trial,
    .showing = showing,
    .entry = entry,
    .danger = danger,
    .questions = questions,
    .log = log_options,
    .sheet_place = 7,
    .keep = keep,
};
