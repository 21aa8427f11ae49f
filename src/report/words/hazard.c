/* The list of hazards: see the header. In the order in which cautions of one how-to are told. */
#include "report/words/hazard.h"

#include "hubphase/model/drive.h"
#include "report/words/card_parts.h"
#include "report/words/drive_words.h"

#include <math.h>

#define DEAD                                                                                       \
    "Battery off and unplugged. Controller discharged: 1 kilohm, 5 W, across its plus and minus "  \
    "for 10 seconds, never a screwdriver; then under 1 V measured there."

static const char *const safe_text[HP_SAFE_COUNT] = {
    [HP_SAFE_DEAD] = DEAD,
    [HP_SAFE_APART] = (DEAD " Motor unplugged, too."),
    [HP_SAFE_HANDS_OFF] = "Hands off the leads while power is on. Before you go near wheel or "
                          "leads: throttle off, power off, wheel at rest.",
};

const char *hp_safe_text(hp_safe safe, const hp_plan_params *plan)
{
    return safe == HP_SAFE_HANDS_OFF && hp_plan_by_pedals(plan)
               ? "Hands off the leads while power is on. Before you go near wheel or leads: "
                 "pedals still, power off, wheel at rest."
               : safe_text[safe];
}

/* ---- cautions with numbers ------------------------------------------------------------------- */

static bool has_phase_limit(const hp_card_context *context)
{
    return context->drive->controller.phase_limit_a > 0.0;
}

/* 2 ke times the phase limit, at the wheel: what an opposed wiring reaches at least, since the
 * limiter needs a moment. In whole tens, rounded down. */
static void say_axle(const hp_card_context *context, hp_phrase *more)
{
    const hp_drive *drive = context->drive;
    double torque =
        2.0 * drive->motor.ke * drive->controller.phase_limit_a * drive->stand.gear_ratio;
    hp_phrase_add(more, "A wrong wiring may jerk");
    if (has_phase_limit(context) && torque >= 10.0)
        hp_phrase_add(more, " with %.0f N m and more", 10.0 * floor(torque / 10.0));
    hp_phrase_add(more, ", and an axle that spins out of its slots tears its leads off.");
}

/* chosen: common hand meters have a 10 A socket. */
#define METER_SOCKET_A 10.0

bool hp_hand_meter_bears(const hp_drive *drive, double throttle, double *amperes)
{
    double stalled = hp_drive_stalled_battery_a(drive, throttle);
    if (amperes)
        *amperes = stalled;
    return stalled < METER_SOCKET_A;
}

static void say_ammeter(const hp_card_context *context, hp_phrase *caution)
{
    char number[HP_NUMBER_WORDS];
    double amperes;
    bool bears = hp_hand_meter_bears(context->drive, context->plan->throttle, &amperes);
    hp_card_number(round(2.0 * amperes) / 2.0, number, sizeof number);
    if (bears)
        hp_phrase_add(caution,
                      "10 A socket, fuse whole, never mA: a stalled motor draws about %s A.",
                      number);
    else
        hp_phrase_add(caution,
                      "A power meter or a clamp only: a stalled motor draws about %s A, a hand "
                      "meter takes 10 A.",
                      number);
}

/* Where nothing is there that limits it, the fuse alone does. */
static bool limits_first(const hp_card_context *context)
{
    return context->plan->first_power != HP_FIRST_POWER_NONE;
}

static bool on_bench_supply(const hp_card_context *context)
{
    hp_first_power first = context->plan->first_power;
    return first == HP_FIRST_POWER_BENCH_SUPPLY || first == HP_FIRST_POWER_ANY;
}

static void say_first_power(const hp_card_context *context, hp_phrase *caution)
{
    hp_phrase_add(caution, "%s",
                  limits_first(context)
                      ? "First through a limit, bench supply or lamps; then a fuse at the plus."
                      : "A fuse close to the battery's plus, no larger than its leads bear.");
}

static void say_fuse(const hp_card_context *context, hp_phrase *more)
{
    hp_phrase_add(more, "%s",
                  limits_first(context)
                      ? "Only what ran well behind a limit goes on the battery, and only through a "
                        "fuse at its plus."
                      : "Nothing limits the first run here but that fuse: lamps or a bench supply, "
                        "borrowed, are the gentler way.");
}

static bool geared(const hp_card_context *context)
{
    return context->drive->stand.gear_ratio != 1.0 || context->drive->stand.clutch;
}

static bool unfused(const hp_card_context *context)
{
    return context->plan->unfused;
}

static bool on_lead(const hp_card_context *context)
{
    return context->plan->cell == HP_CELL_LEAD;
}

static bool brakes_with_motor(const hp_card_context *context)
{
    return context->plan->regenerates;
}

static bool on_lithium(const hp_card_context *context)
{
    return !on_lead(context);
}

/* ---- the list -------------------------------------------------------------------------------- */

static const hp_hazard_row rows[HP_HAZARD_COUNT] = {
    [HP_HAZARD_OHMS] =
        {
            .name = "Meter on ohms",
            .doings = HP_DOING_OHMS,
            .caution = {.text = "A meter on ohms or continuity never goes on anything live."},
        },
    [HP_HAZARD_GENERATOR] =
        {
            .name = "A turned motor makes volts",
            .doings = HP_DOING_TURN,
            .caution = {.text =
                            "Keep the ends of the phase leads apart: a turned motor makes volts."},
            .more = {.text = "At speed the volts of a turned motor can be felt, and phase leads "
                             "joined to one another brake the wheel hard."},
        },
    [HP_HAZARD_PUSHED] =
        {
            .name = "A pushed wheel wakes the controller",
            .doings = HP_DOING_JOIN | HP_DOING_TURN_JOINED,
            .caution =
                {.text =
                     "A wheel turned or pushed wakes the controller: slowly, then measure again."},
            .more =
                {.text =
                     "With its phase leads joined, a wheel that is pushed charges the controller, "
                     "battery or not. After any push measure under 1 V before you touch a lead."},
        },
    [HP_HAZARD_WINDING] =
        {
            .name = "Current in a motor that is not turning",
            .doings = HP_DOING_WINDING,
            .caution =
                {.text =
                     "Never the machine's own battery. A few seconds; stop when it grows warm."},
            .more = {.text = "A motor that is not turning takes all it is given and overheats: "
                             "feel leads and hub."},
        },
    [HP_HAZARD_HEATING] =
        {
            .name = "Warming a winding on purpose",
            .doings = HP_DOING_HEATING,
            .caution =
                {.text = "Bench supply only. A fifth more volts, smoke or a smell: off at once."},
            .more = {.text = "A fifth more volts is 50 degrees warmer. Stay with it, hand on the "
                             "switch; a direct current through a held hub lets nothing turn, and "
                             "clips that are not tight glow first."},
        },
    [HP_HAZARD_HALL_VOLTS] =
        {
            .name = "Battery voltage on a Hall lead",
            .doings = HP_DOING_HALL_POWER | HP_DOING_LIVE,
            .caution =
                {.text =
                     "Battery voltage kills a Hall sensor: only the Hall supply on thin leads."},
        },
    [HP_HAZARD_AXLE] =
        {
            .name = "Axle spin-out",
            .doings = HP_DOING_STAND,
            .caution = {.text = "Torque washers or a torque arm on the axle, nuts tight."},
            .more = {.say = say_axle},
        },
    [HP_HAZARD_WHEEL] =
        {
            .name = "Spokes, tyre, nuts",
            .doings = HP_DOING_STAND,
            .caution = {.text = "Spokes, tyre and nuts checked. Nobody in line with the wheel."},
        },
    [HP_HAZARD_LIFTED] =
        {
            .name = "Turning wheel",
            .doings = HP_DOING_STAND | HP_DOING_TURN,
            .caution = {.text =
                            "Wheel lifted, machine held fast; hands, hair, sleeves, cables clear."},
        },
    [HP_HAZARD_THROTTLE] =
        {
            .name = "Throttle",
            .doings = HP_DOING_STAND,
            .caution =
                {.text =
                     "Throttle springs back by itself. Plug it in or out with battery off only.",
                 .pedalled = "Clear of crank and chain: the pedals drive the wheel, and for a "
                             "moment after they stop."},
        },
    [HP_HAZARD_AMMETER] =
        {
            .name = "Joining an ammeter",
            .doings = HP_DOING_METER,
            .caution = {.say = say_ammeter},
        },
    [HP_HAZARD_LITHIUM] =
        {
            .name = "Lithium battery",
            .doings = HP_DOING_BATTERY,
            .concerns = on_lithium,
            .caution =
                {.text = "No lithium battery that is unknown, swollen, punctured, wet or frozen."},
            .more = {.text = "Never bypass the protection of a lithium battery. Keep and charge it "
                             "where a fire can do no harm."},
        },
    [HP_HAZARD_LEAD] =
        {
            .name = "Lead battery",
            .doings = HP_DOING_BATTERY,
            .concerns = on_lead,
            .caution = {.text =
                            "Lead battery: no spark or flame near it, no tool across its poles."},
            .more = {.text = "Charging, and for a while after, it gives off gas that explodes: "
                             "fresh air. A tool across its poles welds fast: rings off, poles "
                             "covered. Its acid burns: eyes covered, rinse at once with much "
                             "water. A charger for lead only."},
        },
    [HP_HAZARD_NO_FUSE] =
        {
            .name = "No fuse",
            .doings = HP_DOING_BATTERY,
            .concerns = unfused,
            .caution = {.text = "No fuse here, says the scenario: fit one at the battery's plus "
                                "first."},
            .more = {.text = "Without a fuse a lead that is pinched or scraped burns, and so may "
                             "the battery: nothing else breaks its current."},
        },
    [HP_HAZARD_FIRST_POWER] =
        {
            .name = "First power",
            .doings = HP_DOING_BATTERY,
            .caution = {.say = say_first_power},
            .more = {.say = say_fuse},
        },
    [HP_HAZARD_INRUSH] =
        {
            .name = "Inrush spark",
            .doings = HP_DOING_BATTERY,
            .caution =
                {.text = "Spark at the plug: first touch through 100 ohm, 5 W, for two seconds."},
            .more = {.text = "The empty capacitors of the controller draw the spark as they fill."},
        },
    [HP_HAZARD_CUT_OFF] =
        {
            .name = "Breaking the current",
            .doings = HP_DOING_BATTERY,
            .caution =
                {.text =
                     "Within reach a switch or plug that breaks full current; a second person."},
        },
    [HP_HAZARD_LIVE_BOARD] =
        {
            .name = "Live board",
            .doings = HP_DOING_LIVE,
            .caution =
                {.text = "Live: eye protection, one hand, one pin at a time; bridge no two pins."},
            .more =
                {.text =
                     "Nothing loose near the live controller: no ring, no watch, no spare lead."},
        },
    [HP_HAZARD_INPUTS] =
        {
            .name = "Controller inputs",
            .doings = HP_DOING_INPUTS,
            .caution = {.text = "Join an input to the Hall minus only: anything else can kill it."},
        },
    [HP_HAZARD_SELF_START] =
        {
            .name = "Wheel that starts by itself",
            .doings = HP_DOING_SELF_START,
            .caution =
                {.text = "The wheel starts by itself, without the throttle, and either way round.",
                 .pedalled = "The wheel may start by itself, and either way round."},
        },
    [HP_HAZARD_STALLED] =
        {
            .name = "Motor that does not start",
            .doings = HP_DOING_THROTTLE,
            .caution = {.text = "Not turning, or anything warm: throttle off within two seconds.",
                        .pedalled = "Not turning, or anything warm: battery off within two "
                                    "seconds."},
            .more = {.text = "A motor that is not turning draws full current and overheats. Stop "
                             "for good when a lead, the hub or the controller grows warm."},
        },
    [HP_HAZARD_GEARS] =
        {
            .name = "Geared hub",
            .doings = HP_DOING_THROTTLE,
            .concerns = geared,
            .caution = {.text = "Geared hub: a second at most when it is rough or does not turn."},
            .more = {.text = "The jerks of a rough try break gear teeth and clutch."},
        },
    [HP_HAZARD_PUMPED] =
        {
            .name = "Supply pumped up",
            .doings = HP_DOING_STOP,
            .concerns = on_bench_supply,
            .caution =
                {.text = "Throttle off slowly, no electric brake: a bench supply takes none back.",
                 .pedalled = "No electric brake: a bench supply takes no current back."},
            .more = {.text = "A motor that brakes pumps the volts of a bench supply up and can "
                             "destroy it."},
        },
    [HP_HAZARD_MOTOR_BRAKES] =
        {
            .name = "A motor that brakes",
            .doings = HP_DOING_LEVER,
            .concerns = brakes_with_motor,
            .caution = {.text = "This motor brakes hard and charges: never with a full battery."},
            .more = {.text = "A controller that brakes with the motor sends the current into the "
                             "battery. A full one takes none: the volts climb until a part "
                             "breaks. The jerk goes into the axle, too."},
        },
    [HP_HAZARD_MAGNETS] =
        {
            .name = "Open hub",
            .doings = HP_DOING_HUB,
            .caution = {.text = "An open hub has strong magnets: mind fingers and steel chips."},
        },
    [HP_HAZARD_LOCAL] =
        {
            .name = "Local rules",
            .doings = 0,
            .caution = {.text = "Local rules and licensed people come first."},
        },
};

const hp_hazard_row *hp_hazard_row_of(hp_hazard hazard)
{
    return &rows[hazard];
}
