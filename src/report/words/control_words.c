/* What the words of the controls share: see the header. */
#include "report/words/control_words.h"

#include "decide/advise/full_check.h"
#include "hubphase/record/bench_log.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>

const char hp_pin_help[] =
    "Colour or place first, then the volts against battery minus: \"red 5.02 5.01\".";

hp_controls_params hp_card_controls(const hp_card_context *context)
{
    const hp_controls_params *stated =
        context->commission ? context->commission->given.controls : NULL;
    return stated ? *stated : hp_controls_params_default();
}

bool hp_card_brake_plug_holds(const hp_card_context *context)
{
    const hp_assess_case *given = context->commission ? &context->commission->given : NULL;
    return given && given->controls && given->controls_stated &&
           given->controls->brake.fitted != HP_SWITCH_NONE &&
           given->controls->brake.expects == HP_SWITCH_NORMALLY_CLOSED;
}

/* ---- speed switch ---------------------------------------------------------------------------- */

static const char *position_words(int position)
{
    static const char *const word[HP_SPEED_STEPS_MAX] = {"first", "second", "third",   "fourth",
                                                         "fifth", "sixth",  "seventh", "eighth"};
    return word[position - 1];
}

char *hp_card_speed_step(const hp_card_context *context, char *out, size_t size)
{
    const hp_speed_params speed = hp_card_controls(context).speed;
    bool fastest = true;
    out[0] = '\0';
    for (int k = 0; k < speed.steps; k++)
        fastest = fastest && speed.cap[k] <= speed.cap[speed.chosen - 1];
    if (speed.steps > 1)
        snprintf(out, size, ", speed switch in its %s position",
                 fastest ? "fastest" : position_words(speed.chosen));
    return out;
}

const char *hp_slow_step(const hp_card_context *context, double wheel_rad_s, hp_band full_rad_s)
{
    const hp_controls_params controls = hp_card_controls(context);
    int step = hp_slower_step(wheel_rad_s, full_rad_s, &controls.speed);
    return step ? position_words(step) : NULL;
}

const char *hp_failed_step(const hp_card_context *context, const hp_failed_check *failed,
                           hp_band full_rad_s)
{
    const hp_controls_params controls = hp_card_controls(context);
    int step = hp_failed_check_step(failed, full_rad_s, &controls.speed);
    return step ? position_words(step) : NULL;
}

void hp_add_failed_step(const hp_card_context *context, const hp_failed_check *failed,
                        hp_band full_rad_s, hp_phrase *p)
{
    const char *position = hp_failed_step(context, failed, full_rad_s);
    if (position)
        hp_phrase_add(p, " The speed switch gives that speed in its %s position: look there first.",
                      position);
}

/* ---- pins ------------------------------------------------------------------------------------ */

static const char *role_words(hp_pin_role role)
{
    static const char *const word[HP_PIN_ROLE_COUNT] = {
        [HP_PIN_UNTOLD] = "not told",
        [HP_PIN_PLUS] = "plus",
        [HP_PIN_GROUND] = "ground",
        [HP_PIN_SIGNAL] = "signal",
        [HP_PIN_PLUS_MAYBE] = "perhaps plus",
        [HP_PIN_GROUND_MAYBE] = "perhaps ground",
        [HP_PIN_SPARE] = "spare",
        [HP_PIN_OTHER] = "data or other",
    };
    return word[role];
}

static void add_sort(const hp_pin_roles *roles, hp_phrase *p)
{
    const char *rail = roles->to_plus ? "plus" : "ground";
    switch (roles->sort) {
    case HP_PINS_NORMALLY_OPEN: hp_phrase_add(p, ", normally open to %s", rail); return;
    case HP_PINS_NORMALLY_CLOSED: hp_phrase_add(p, ", normally closed to %s", rail); return;
    case HP_PINS_CHANGEOVER: hp_phrase_add(p, ", changeover to %s", rail); return;
    case HP_PINS_UNTOLD:
    case HP_PINS_SORT_COUNT: return;
    }
}

void hp_add_pins(const hp_card_context *context, const hp_plug_volts *plug, hp_pins_of control,
                 hp_phrase *p)
{
    char number[HP_NUMBER_WORDS];
    if (!hp_plug_volts_said(plug))
        return;
    hp_pin_roles roles = hp_plug_volts_roles(plug, control, context->drive->supply.emf_v);
    bool told = roles.why == HP_ROLES_TOLD;
    for (int pin = 0; pin < plug->pins; pin++) {
        hp_add_item(p, "%s", plug->name[pin]);
        if (told)
            hp_phrase_add(p, " %s", role_words(roles.role[pin]));
        for (int s = 0; s < plug->states[pin]; s++)
            hp_phrase_add(p, "%s%s", s ? "/" : " ",
                          hp_card_as_read(plug->at[s][pin], number, sizeof number));
        hp_phrase_add(p, " V");
    }
    if (told)
        add_sort(&roles, p);
    else
        hp_phrase_add(p, ": volts do not tell which is which");
}

void hp_add_item(hp_phrase *p, const char *format, ...)
{
    va_list args;
    bool title = p->used > 0 && p->out[p->used - 1] == ':';
    hp_phrase_add(p, "%s", title ? " " : ", ");
    va_start(args, format);
    hp_phrase_add_list(p, format, args);
    va_end(args);
}

void hp_add_volts(hp_phrase *p, const char *what, double volts)
{
    char number[HP_NUMBER_WORDS];
    if (!isnan(volts))
        hp_add_item(p, "%s %s V", what, hp_card_as_read(volts, number, sizeof number));
}

void hp_add_tell(hp_phrase *p, const char *yes, const char *no, hp_tell tell)
{
    if (tell != HP_TELL_UNSAID)
        hp_add_item(p, "%s", tell == HP_TELL_YES ? yes : no);
}

/* ---- how they are measured ------------------------------------------------------------------- */

double hp_card_pins_most_v(const hp_card_context *context, hp_pins_of control)
{
    const hp_assess_case none = {.controls = NULL};
    double most =
        hp_step_pins_most_v(context->commission ? &context->commission->given : &none, control);
    return isinf(most) ? 0.0 : most;
}

void hp_card_how_to_measure_pins(const hp_card_context *context, const char *plug,
                                 const char *states, double most_v, unsigned doings, hp_card *words)
{
    double battery_v = context->drive->supply.emf_v;
    hp_card_how(
        words,
        "Wheel lifted, all dead, the %s pulled: on continuity from battery minus to each pin of "
        "the controller's half, and note the one that beeps.",
        plug);
    hp_card_doing(words, HP_DOING_STAND | HP_DOING_OHMS);
    hp_card_detail(words, "That one is ground. Volts alone cannot tell it from a pin that goes "
                          "nowhere.");
    hp_card_how(words,
                "Plug still pulled, meter on d.c. volts (200 V range), black tip on "
                "battery minus, then battery on: read each pin%s.",
                most_v > 0.0 ? ", before the part is joined to it" : "");
    hp_card_doing(words, HP_DOING_BATTERY | HP_DOING_LIVE);
    if (most_v > 0.0)
        hp_card_detail(words, "A pin above %.3g V kills what it is joined to: stop there.", most_v);
    else
        hp_card_detail(words, "Battery volts, up to about %.3g V, are usual on some pins here.",
                       battery_v);
    hp_card_how(words, "Battery off, plug in, battery on: read each pin from behind the plug, %s.",
                states);
    hp_card_doing(words, HP_DOING_LIVE | doings);
    hp_card_detail(words, "Slide the tip in along the lead; never bridge two pins.");
}

/* ---- findings -------------------------------------------------------------------------------- */

static const struct plug_finding {
    const char *means, *otherwise;
} plug_findings[HP_ROLES_WHY_COUNT] = {
    [HP_ROLES_UNMEASURED] = {"Not every pin was read in every position.",
                             "Read all of its pins, each in every position."},
    [HP_ROLES_REVERSED] =
        {"A pin lies below battery minus: the tips were swapped, or the black tip "
         "was not on battery minus.",
         "Black tip on the controller's battery minus, and read again."},
    [HP_ROLES_TOO_HIGH] =
        {"A pin carries more volts than this part bears.",
         "Do not join it: it is killed at once. Find the plug that it belongs to, "
         "or the lead that brings battery volts into this one."},
    [HP_ROLES_STILL] = {"No pin changes from one reading to the next: a lead is broken, the part "
                        "is dead, or it has no supply.",
                        "Check that one pin has its supply, then each lead on continuity, dead and "
                        "unplugged; then try another part."},
    [HP_ROLES_NO_PLUS] = {"No pin carries a supply all the time.",
                          "Look for it at the controller's half with the plug pulled: none there "
                          "means key off, a lead torn off, or another part that shorts it."},
    [HP_ROLES_NO_GROUND] = {"No pin lies at battery minus all the time.",
                            "The ground lead is torn off, or is not among these pins: on "
                            "continuity, dead and unplugged, it beeps to battery minus."},
    [HP_ROLES_TWO_GROUNDS] = {"Two pins lie at nothing, and volts cannot tell which is ground.",
                              "All dead and unplugged: the one that beeps to battery minus is "
                              "ground. Write it down with the volts."},
    [HP_ROLES_TWO_PLUS] = {"Two pins carry volts all the time.",
                           "A supply holds its volts with 10 kilohm from the pin to ground, stray "
                           "volts fall. Leave the pin out that falls, and read again."},
    [HP_ROLES_FALLS] = {"The signal falls when the grip is opened.",
                        "Supply and ground of the grip are swapped, or it is made the other way "
                        "round: compare it with its label, and try another before it is ridden."},
    [HP_ROLES_BETWEEN] = {"A pin is neither high nor low, or changes by too little to count on.",
                          "Water or dirt in the plug, a worn contact, or a pin that goes nowhere: "
                          "clean and dry the plug, and read again."},
    [HP_ROLES_CONTRADICTS] =
        {"What a pin shows with the plug pulled, or its beep, does not fit what "
         "it shows when it is joined.",
         "Read that pin once more, the plug pulled and joined."},
    [HP_ROLES_NO_FIT] = {"The volts fit no usual part of this sort.",
                         "Check that all pins belong to this one part, and read again."},
};

/* The input of a switch bears less than its battery. */
static const struct plug_finding battery_at_input = {
    "Battery volts on a pin of a switch: its input bears 5 V, at most 12 V, and dies of them.",
    "Battery off, and leave that plug pulled. Find the lead that brings battery volts into it, or "
    "the plug that it belongs to. If the maker says that this controller's switch joins to battery "
    "plus, state it in the scenario (of the brake: controls, brake, expects_at: volts)."};

static const struct plug_finding *plug_finding_of(const hp_commission_step *step)
{
    bool input = step->reading->control == HP_CONTROL_PART_BRAKE ||
                 step->reading->control == HP_CONTROL_PART_SPEED_SWITCH;
    int why = step->code - HP_STEP_PINS_AT;
    return why == HP_ROLES_TOO_HIGH && input ? &battery_at_input : &plug_findings[why];
}

bool hp_finding_shared(const hp_card_context *context, const hp_commission_step *step,
                       const char *what, const char *missing, hp_finding_words *words)
{
    if (step->code >= HP_STEP_PINS_AT && step->code < HP_STEP_PINS_AT + HP_ROLES_WHY_COUNT) {
        const struct plug_finding *f = plug_finding_of(step);
        HP_CARD_SET(words->means, "%s", f->means);
        HP_CARD_SET(words->otherwise, "%s", f->otherwise);
        return true;
    }
    switch (step->code) {
    case HP_STEP_FINE: HP_CARD_SET(words->means, "The %s is as it should be.", what); return true;
    case HP_STEP_PART:
        if (hp_bench_says_nothing(step->entry)) {
            HP_CARD_SET(words->means, "There is one, and nothing was read of it yet: %s.", missing);
            return true;
        }
        HP_CARD_SET(words->means, "What was read of the %s is as it should be. Not all was: %s.",
                    what, missing);
        return true;
    case HP_STEP_NOT_FITTED:
        HP_CARD_SET(words->means, "This machine has no %s.", what);
        return true;
    case HP_STEP_YET_LISTED: {
        const hp_harness_part *part =
            hp_step_listed(&context->commission->given, step->reading->control);
        HP_CARD_SET(words->means,
                    "The log says that there is no %s, yet the scenario's harness lists one: %s.",
                    what, part ? part->name : "");
        HP_CARD_SET(words->otherwise, "Look at the machine. Is it there, log what it shows; is it "
                                      "not, take it out of the harness.");
        return true;
    }
    default: return false;
    }
}

/* Adds a text with a capital in front. */
static void add_sentence(hp_phrase *p, const char *text)
{
    hp_phrase_add(p, "%c%s", toupper((unsigned char)text[0]), text + 1);
}

void hp_finding_faults(int code, const hp_fault_words *fault, int count, hp_finding_words *words)
{
    hp_phrase means = hp_phrase_begin(words->means, sizeof words->means);
    hp_phrase otherwise = hp_phrase_begin(words->otherwise, sizeof words->otherwise);
    int found = 0, only = -1;
    for (int k = 0; k < count; k++)
        if (code & fault[k].code) {
            found++;
            only = k;
        }
    if (found == 1) {
        add_sentence(&means, fault[only].means);
        add_sentence(&otherwise, fault[only].otherwise);
        hp_phrase_add(&means, ".");
        hp_phrase_add(&otherwise, ".");
        return;
    }
    const char *between = "";
    for (int k = 0; k < count; k++)
        if (code & fault[k].code) {
            hp_phrase_add(&means, "%s", between);
            add_sentence(&means, fault[k].means);
            hp_phrase_add(&means, ": %s.", fault[k].otherwise);
            between = " ";
        }
    hp_phrase_add(&otherwise, "Mend them in this order, then look again.");
}

bool hp_card_keyless(const hp_card_context *context)
{
    return context->commission && !hp_assess_has(&context->commission->given, HP_CONTROL_PART_KEY);
}

void hp_card_no_ammeter(const hp_card_context *context, const char *otherwise, hp_card *words)
{
    if (!context->plan->ammeter)
        hp_card_detail(words,
                       "No ammeter is at hand here: borrow one, or a watt display in the "
                       "battery's lead, whose watts over the volts are amperes. Else %s.",
                       otherwise);
}
