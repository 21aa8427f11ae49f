/* The list of hazards: see the header. In the order in which cautions of one how-to are told. */
#include "report/words/hazard.h"

#include "hubphase/model/drive.h"
#include "report/words/card_parts.h"

#include <math.h>

#define DEAD                                                                                       \
    "Battery off and unplugged. Discharge the capacitors: 1 kilohm, 5 W, across plus and minus "   \
    "at "                                                                                          \
    "the controller for some 10 seconds, never a screwdriver. Then measure there: under 1 V."

static const char *const safe_text[HP_SAFE_COUNT] = {
    [HP_SAFE_DEAD] = DEAD,
    [HP_SAFE_APART] = DEAD " Unplug the motor from the controller.",
    [HP_SAFE_HANDS_OFF] = "No lead is moved: hands off the leads while power is on. Before you go "
                          "near wheel or leads: throttle off, power off, wheel at rest.",
};

const char *hp_safe_text(hp_safe safe)
{
    return safe_text[safe];
}

/* ---- cautions with numbers ------------------------------------------------------------------- */

static bool has_phase_limit(const hp_card_context *context)
{
    return context->drive->controller.phase_limit_a > 0.0;
}

/* 2 ke times the phase limit, at the wheel: what an opposed wiring reaches at least, since the
 * limiter needs a moment. In whole tens, rounded down. */
static void say_axle(const hp_card_context *context, hp_phrase *caution)
{
    const hp_drive *drive = context->drive;
    double torque =
        2.0 * drive->motor.ke * drive->controller.phase_limit_a * drive->stand.gear_ratio;
    hp_phrase_add(caution, "Torque washers or a torque arm on the axle, nuts tight: a wrong wiring "
                           "may jerk");
    if (has_phase_limit(context) && torque >= 10.0)
        hp_phrase_add(caution, " with %.0f N m and more", 10.0 * floor(torque / 10.0));
    hp_phrase_add(caution, ", and an axle that spins out of its slots tears its leads off.");
}

/* chosen: common hand meters have a 10 A socket. */
#define METER_SOCKET_A 10.0

static void say_ammeter(const hp_card_context *context, hp_phrase *caution)
{
    char number[HP_NUMBER_WORDS];
    double amperes = hp_drive_stalled_battery_a(context->drive, context->plan->throttle);
    hp_card_number(round(2.0 * amperes) / 2.0, number, sizeof number);
    hp_phrase_add(caution, "A motor that is not turning draws about %s A here", number);
    if (amperes < METER_SOCKET_A)
        hp_phrase_add(caution,
                      ": on a hand meter the 10 A socket, with its fuse whole, never the mA "
                      "socket.");
    else
        hp_phrase_add(caution,
                      ", more than the 10 A socket of a hand meter takes: a power meter or "
                      "a clamp only.");
}

static bool geared(const hp_card_context *context)
{
    return context->drive->stand.gear_ratio != 1.0 || context->drive->stand.clutch;
}

/* ---- the list -------------------------------------------------------------------------------- */

static const hp_hazard_row rows[HP_HAZARD_COUNT] = {
    [HP_HAZARD_OHMS] = {.name = "Meter on ohms",
                        .doings = HP_DOING_OHMS,
                        .text = "A meter on ohms or continuity never goes on anything live."},
    [HP_HAZARD_GENERATOR] =
        {.name = "A turned motor makes volts",
         .doings = HP_DOING_TURN,
         .text = "A turned motor is a generator: at speed its phase leads can be felt, and joined "
                 "to one another they brake hard. Keep their ends apart."},
    [HP_HAZARD_PUSHED] =
        {.name = "A pushed wheel wakes the controller",
         .doings = HP_DOING_JOIN | HP_DOING_TURN_JOINED,
         .text = "With its phase leads joined, a wheel that is pushed or turned charges the "
                 "controller and can wake it, battery or not: slowly, and measure again before "
                 "you touch a lead."},
    [HP_HAZARD_WINDING] =
        {.name = "Current in a motor that is not turning",
         .doings = HP_DOING_WINDING,
         .text = "Never the battery that drives the machine: a motor that is not turning takes all "
                 "it is given and overheats. A few seconds are enough; stop when a lead or the hub "
                 "grows warm."},
    [HP_HAZARD_HALL_VOLTS] =
        {.name = "Battery voltage on a Hall lead",
         .doings = HP_DOING_HALL_POWER | HP_DOING_LIVE,
         .text =
             "Battery voltage kills a Hall sensor at once: nothing but the Hall supply may touch "
             "the thin leads."},
    [HP_HAZARD_AXLE] = {.name = "Axle spin-out", .doings = HP_DOING_STAND, .say = say_axle},
    [HP_HAZARD_WHEEL] = {.name = "Spokes, tyre, nuts",
                         .doings = HP_DOING_STAND,
                         .text = "Check spokes, tyre and nuts before full throttle. Nobody stands "
                                 "in line with the wheel."},
    [HP_HAZARD_LIFTED] = {.name = "Turning wheel",
                          .doings = HP_DOING_STAND | HP_DOING_TURN,
                          .text =
                              "Wheel lifted, machine held fast; hands, hair, sleeves and cables "
                              "well away from it."},
    [HP_HAZARD_THROTTLE] =
        {.name = "Throttle",
         .doings = HP_DOING_STAND,
         .text = "Plug the throttle in or out only with the battery off. It must spring back to "
                 "zero by itself: try it before power."},
    [HP_HAZARD_AMMETER] = {.name = "Joining an ammeter",
                           .doings = HP_DOING_METER,
                           .say = say_ammeter},
    [HP_HAZARD_LITHIUM] =
        {.name = "Lithium battery",
         .doings = HP_DOING_BATTERY,
         .text = "No lithium battery that is unknown, swollen, punctured, wet or frozen. Never "
                 "bypass its protection. Keep and charge it where a fire can do no harm."},
    [HP_HAZARD_FIRST_POWER] =
        {.name = "First power",
         .doings = HP_DOING_BATTERY,
         .text = "First power through a limit: a bench supply or lamps. Only then the battery, and "
                 "only through a fuse at its plus."},
    [HP_HAZARD_INRUSH] =
        {.name = "Inrush spark",
         .doings = HP_DOING_BATTERY,
         .text = "The capacitors draw a spark as they fill: first touch through a resistor (about "
                 "100 ohm, 5 W) for two seconds, then plug in."},
    [HP_HAZARD_CUT_OFF] =
        {.name = "Breaking the current",
         .doings = HP_DOING_BATTERY,
         .text = "Within reach a switch or plug that breaks the battery's full current, and a "
                 "second person beside it."},
    [HP_HAZARD_LIVE_BOARD] =
        {.name = "Live board",
         .doings = HP_DOING_LIVE,
         .text = "The controller is live: eye protection, one hand, one pin at a time, nothing "
                 "loose near it. A tip must not bridge two pins."},
    [HP_HAZARD_INPUTS] = {.name = "Controller inputs",
                          .doings = HP_DOING_INPUTS,
                          .text = "An input joined to anything but the Hall minus can be killed."},
    [HP_HAZARD_SELF_START] =
        {.name = "Wheel that starts by itself",
         .doings = HP_DOING_SELF_START,
         .text = "The wheel starts by itself, without the throttle, and either way round."},
    [HP_HAZARD_STALLED] =
        {.name = "Motor that does not start",
         .doings = HP_DOING_THROTTLE,
         .text =
             "A motor that is not turning draws full current and overheats: throttle off within "
             "two seconds. Stop when a lead, the hub or the controller grows warm."},
    [HP_HAZARD_GEARS] =
        {.name = "Geared hub",
         .doings = HP_DOING_THROTTLE,
         .concerns = geared,
         .text = "A geared hub: keep every try that is rough or does not turn to a second, since "
                 "the jerks break gear teeth and clutch."},
    [HP_HAZARD_PUMPED] =
        {.name = "Supply pumped up",
         .doings = HP_DOING_STOP,
         .text = "A bench supply takes no current back: close the throttle slowly, use no electric "
                 "brake. A motor that brakes pumps its volts up and can destroy it."},
    [HP_HAZARD_MAGNETS] = {.name = "Open hub",
                           .doings = HP_DOING_HUB,
                           .text = "An open hub has strong magnets: mind fingers and steel chips."},
    [HP_HAZARD_LOCAL] = {.name = "Local rules",
                         .doings = 0,
                         .text = "Local rules and licensed people come first."},
};

const hp_hazard_row *hp_hazard_row_of(hp_hazard hazard)
{
    return &rows[hazard];
}
