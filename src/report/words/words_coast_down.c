/* Words for the coast-down: see words.h. */
#include "model/stand.h"
#include "report/words/control_words.h"
#include "report/words/drive_words.h"
#include "report/words/words.h"
#include "report/words/words_running.h"

#include <math.h>

/* Seconds from full speed to rest, by the drive as it is known. */
static double usual_seconds(const hp_card_context *context)
{
    const hp_drive *d = hp_card_own_drive(context);
    double g = d->stand.gear_ratio, from = hp_card_no_load(context, d->supply.emf_v).rad_s;
    bool clutch = d->stand.clutch;
    hp_friction all = hp_stand_friction(&d->stand);
    double inertia = clutch ? d->stand.wheel_inertia_kg_m2
                            : g * g * hp_stand_inertia(&d->stand, d->motor.rotor_inertia_kg_m2);
    double friction = clutch ? d->stand.wheel.coulomb_nm : g * all.coulomb_nm;
    double viscous = clutch ? d->stand.wheel.viscous_nm_s_rad : g * g * all.viscous_nm_s_rad;
    if (!(friction > 0.0))
        return NAN;
    double growth = viscous * from / friction;
    return growth > 1e-6 ? inertia / viscous * log1p(growth) : inertia * from / friction;
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    char number[HP_NUMBER_WORDS];
    double seconds = usual_seconds(context);
    const hp_drive_words *drive = hp_drive_words_of(context->plan);
    bool pedals = hp_plan_by_pedals(context->plan);
    double within =
        context->commission ? hp_coast_down_within(&context->commission->given, NULL) : 2.0;
    bool gates = hp_card_controls(context).pedal.mode == HP_PEDAL_GATES;
    (void)lead;
    HP_CARD_SET(words->title, "Let the wheel coast down and time it");
    HP_CARD_SET(words->reason, "How fast it slows tells its drag, whatever the motor draws, and so "
                               "the no-load current that ought to be.");
    hp_card_how_to_make_ready(context, words);
    hp_card_how(words,
                "On the battery behind its fuse, no bench supply here: %s, let it settle; film "
                "speedometer or a mark on the tyre together with a running clock.",
                pedals ? drive->up_to_full : "throttle slowly to full");
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_THROTTLE);
    if (!pedals)
        hp_card_detail(words,
                       "A throttle closed at once can pump the volts of a bench supply up and "
                       "destroy it. A battery takes the current back.");
    hp_card_detail(words, "No phone? Two people: one calls speeds, one reads a stop watch.");
    hp_card_how(words,
                "%s at once%s, and leave everything alone until the wheel stands. No brake, no "
                "electric brake.",
                pedals ? "Pedals still and battery switched off" : "Throttle to zero",
                gates ? ", the second person stops pedalling at the same moment" : "");
    if (!pedals)
        hp_card_detail(words,
                       "A controller that brakes by itself spoils it: then %s at the moment when "
                       "you close the throttle.",
                       hp_card_keyless(context) ? "switch the battery off" : "pull the key");
    hp_card_how(words, "From the film: speed at the start, at two or three moments on the way, and "
                       "the seconds until it stands.");
    hp_card_how(words, "Battery off. If you can, weigh rim, tyre and tube, and measure their mean "
                       "radius.");
    hp_card_detail(words, "The wheel's moment of inertia is mass times radius squared. Of a "
                          "direct-drive hub the shell with its magnets belongs to it, too.");
    if (isnan(seconds))
        HP_CARD_SET(words->healthy, "It slows evenly and comes to rest without a jerk.");
    else
        HP_CARD_SET(words->healthy,
                    "From %s about %s s, at least %s of that, more where it runs freely; "
                    "evenly, without a jerk.",
                    pedals ? "the speed that the pedals give" : "full speed",
                    hp_card_number(seconds, number, sizeof number),
                    within > 2.0 ? "a third" : "half");
    HP_CARD_SET(words->note, "Speeds with their moments; seconds to rest; masses and radii.");
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_coast_down *c = values;
    char number[HP_NUMBER_WORDS], at[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "coast-down: from %s rev/min",
                  hp_card_rpm_as_read(c->from_rad_s, number, sizeof number));
    for (int k = 0; k < HP_COAST_MARKS; k++)
        if (!isnan(c->mark_s[k]))
            hp_phrase_add(p, ", %s after %s s",
                          hp_card_rpm_as_read(c->mark_rad_s[k], number, sizeof number),
                          hp_card_as_read(c->mark_s[k], at, sizeof at));
    if (!isnan(c->stop_s))
        hp_phrase_add(p, ", rest after %s s", hp_card_as_read(c->stop_s, at, sizeof at));
    if (!isnan(c->rim_kg))
        hp_phrase_add(p, "; rim %s kg at %s m", hp_card_as_read(c->rim_kg, number, sizeof number),
                      hp_card_as_read(c->rim_m, at, sizeof at));
    if (!isnan(c->ring_kg))
        hp_phrase_add(p, ", shell %s kg at %s m",
                      hp_card_as_read(c->ring_kg, number, sizeof number),
                      hp_card_as_read(c->ring_m, at, sizeof at));
}

#define TURN_BY_HAND                                                                               \
    "Turn it by hand: brake shoe or disc that touches, cone too tight, seal, tyre against the "    \
    "frame."

/* Nothing was learnt from it: what it says by itself. */
static void say_slipped(const hp_card_context *context, const hp_commission_step *step,
                        hp_finding_words *words)
{
    hp_coast_drag drag =
        hp_coast_down_drag(&context->commission->given, hp_entry_said(step->entry));
    char read[HP_NUMBER_WORDS], stated[HP_NUMBER_WORDS];
    bool free_wheel = step->code == HP_COAST_FREE;
    HP_CARD_SET(words->means,
                "Check the figures: by these the wheel drags with about %s N m, far %s than was "
                "to be expected (%s N m). Nothing is learnt from this run, and no other step is "
                "held against it.",
                hp_card_number(drag.read, read, sizeof read), free_wheel ? "less" : "more",
                hp_card_number(drag.stated, stated, sizeof stated));
    HP_CARD_SET(words->otherwise,
                "Look at the seconds and their decimal point, the speed at the start, mass and "
                "radius of the wheel. If they stand, time it again, and %s.",
                free_wheel ? "see that the motor does not drive on"
                           : "turn the wheel by hand, battery off, and find what holds it");
}

static void say_bent(hp_finding_words *words)
{
    HP_CARD_SET(words->means, "Check the figures: these moments contradict one another. A wheel "
                              "that is left alone slows evenly, a little less the slower it is. "
                              "Nothing is learnt from this run, and no other step is held against "
                              "it.");
    HP_CARD_SET(words->otherwise,
                "A slip in a speed or a moment, a brake, or a controller that brakes for a part of "
                "the way: time it again, the key off as the throttle is closed.");
}

static void say_sooner(const hp_card_context *context, hp_finding_words *words)
{
    const hp_entry *before = hp_coast_down_longer(&context->commission->given);
    HP_CARD_SET(words->means,
                "The wheel slows at least three times as hard as in entry %d of this log: "
                "something drags that did not drag then.",
                before ? before->number : 0);
    HP_CARD_SET(words->otherwise, "%s",
                TURN_BY_HAND " Nothing there? Then time it again: a slip "
                             "in speed or seconds does that, too.");
}

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    const hp_own *own = &context->commission->own;
    bool clutch = context->drive->stand.clutch;
    const hp_own_figure *drag = &own->figure[clutch ? HP_OWN_COAST_FRICTION_NM : HP_OWN_DRAG_NM];
    char range[HP_RANGE_WORDS];
    hp_card_range(drag->low, drag->high, range, sizeof range);
    switch (step->code) {
    case HP_COAST_FREE:
    case HP_COAST_HELD: say_slipped(context, step, words); return;
    case HP_COAST_BENT: say_bent(words); return;
    case HP_COAST_SOONER: say_sooner(context, words); return;
    default: break;
    }
    if (!drag->known)
        return;
    if (step->code == HP_COAST_FINE) {
        HP_CARD_SET(words->means, "The wheel drags with %s N m%s, as such a one does.", range,
                    clutch ? "" : " at half of its full speed");
        return;
    }
    HP_CARD_SET(words->means, "The wheel drags with %s N m%s: far more than was to be expected.",
                range, clutch ? "" : " at half of its full speed");
    /* Behind a clutch the rotor stands: no winding brakes what coasts. */
    if (clutch)
        HP_CARD_SET(words->otherwise, "%s",
                    TURN_BY_HAND " All of that is free? Then the one-way clutch drags: it is dry "
                                 "or worn.");
    else
        HP_CARD_SET(words->otherwise, "%s",
                    TURN_BY_HAND " Battery off and one phase lead apart: if it then turns more "
                                 "freely, two phases are shorted, in the controller or in the "
                                 "winding.");
}

#define NOT_READ .fallback = "", .shown = "Enter: not read"

static bool said(double value)
{
    return !isnan(value);
}

static bool has_first(const hp_question_case *c, const void *values)
{
    (void)c;
    return said(((const hp_coast_down *)values)->mark_s[0]);
}

static bool has_second(const hp_question_case *c, const void *values)
{
    (void)c;
    return said(((const hp_coast_down *)values)->mark_s[1]);
}

static bool has_third(const hp_question_case *c, const void *values)
{
    (void)c;
    return said(((const hp_coast_down *)values)->mark_s[2]);
}

static bool has_ring(const hp_question_case *c, const void *values)
{
    (void)c;
    return said(((const hp_coast_down *)values)->ring_kg);
}

static const hp_question questions[] = {
    {.field = "coast_from_rpm", .text = "From how many turns a minute did it run on?"},
    {.field = "coast_s", .text = "After how many seconds did it stand?", NOT_READ},
    {.field = "after_1_s",
     .text = "A moment on the way: how many seconds after the start?",
     NOT_READ},
    {.field = "after_1_rpm", .text = "How many turns a minute then?", .wanted = has_first},
    {.field = "after_2_s",
     .text = "Another one, later: how many seconds after the start?",
     NOT_READ,
     .wanted = has_first},
    {.field = "after_2_rpm", .text = "How many turns a minute then?", .wanted = has_second},
    {.field = "after_3_s",
     .text = "A third: how many seconds after the start?",
     NOT_READ,
     .wanted = has_second},
    {.field = "after_3_rpm", .text = "How many turns a minute then?", .wanted = has_third},
    {.text = "Did you weigh rim, tyre and tube?", .fallback = "no"},
    {.field = "rim_kg", .text = "How many kilograms together?"},
    {.field = "rim_radius_m", .text = "At which mean radius, in metres?"},
    {.field = "ring_kg", .text = "And the hub shell with its magnets, in kilograms?", NOT_READ},
    {.field = "ring_radius_m", .text = "At which mean radius, in metres?", .wanted = has_ring},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    (void)advice;
    hp_log_word(line, "--coast-from-rpm=RPM");
    hp_log_word(line, "--after-1-s=SECONDS");
    hp_log_word(line, "--after-1-rpm=RPM");
    hp_log_word(line, "--after-2-s=SECONDS");
    hp_log_word(line, "--after-2-rpm=RPM");
    hp_log_word(line, "--coast-s=SECONDS");
    hp_log_word(line, "--rim-kg=KG");
    hp_log_word(line, "--rim-radius-m=METRES");
    if (context->drive->stand.clutch)
        return; /* the shell does not turn with the wheel */
    hp_log_word(line, "--ring-kg=KG");
    hp_log_word(line, "--ring-radius-m=METRES");
}

const hp_words hp_words_coast_down = {
    .reading = &hp_reading_coast_down,
    .menu = "how the lifted wheel slows when nothing drives it",
    .safety = HP_SAFE_DEAD,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log = log_options,
};
