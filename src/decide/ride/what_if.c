/* What can be wrong with the controls: see the header. */
#include "decide/ride/what_if_case.h"

#include "hubphase/base/text.h"

#include <string.h>

/* When the grip opens, and when what is asked about happens: by then every speed has settled. */
#define OPENS_S   0.3
#define HAPPENS_S 2.5
/* How long to look on: most lifted wheels stand by then. */
#define LOOKS_S 9.0
#define GRIP    0.5

/* ---- parts ----------------------------------------------------------------------------------- */

static bool always(const hp_controls_params *c)
{
    (void)c;
    return true;
}

static bool has_key(const hp_controls_params *c)
{
    return c->key;
}

static bool has_throttle(const hp_controls_params *c)
{
    return c->throttle.fitted;
}

static bool has_no_brake(const hp_controls_params *c)
{
    return c->brake.fitted == HP_SWITCH_NONE;
}

static bool has_brake(const hp_controls_params *c)
{
    return c->brake.fitted != HP_SWITCH_NONE;
}

static bool has_pedals(const hp_controls_params *c)
{
    return c->pedal.mode != HP_PEDAL_NONE;
}

static bool minds_the_side(const hp_controls_params *c)
{
    return has_pedals(c) && c->pedal.forward != HP_PEDAL_ANY;
}

static bool has_speeds(const hp_controls_params *c)
{
    return c->speed.steps > 1;
}

/* ---- what is supposed ------------------------------------------------------------------------ */

static void other_sort(hp_controls_params *c)
{
    c->brake.fitted = c->brake.fitted == HP_SWITCH_NORMALLY_OPEN ? HP_SWITCH_NORMALLY_CLOSED
                                                                 : HP_SWITCH_NORMALLY_OPEN;
}

static void other_level(hp_controls_params *c)
{
    c->brake.joins = c->brake.joins == HP_LEVEL_GROUND ? HP_LEVEL_VOLTS : HP_LEVEL_GROUND;
}

static void other_side(hp_controls_params *c)
{
    c->pedal.high_share = 1.0 - c->pedal.high_share;
}

/* ---- courses --------------------------------------------------------------------------------- */

static int add(hp_course *course, double time, hp_action_kind kind, double value)
{
    course->action[course->count] = (hp_action){time, kind, value};
    return course->count++;
}

/* Riding: half a grip, and pedals where the throttle wants them; without a throttle by the pedals.
 */
static void ride(hp_course *course, const hp_controls_params *c)
{
    if (c->pedal.mode == HP_PEDAL_GATES)
        add(course, 0.1, HP_ACTION_PEDALS, 1.0);
    if (has_throttle(c))
        add(course, OPENS_S, HP_ACTION_GRIP, GRIP);
    else
        add(course, OPENS_S, HP_ACTION_PEDALS, 1.0);
}

/* All that pedalling waits for is done. */
static void before_pedals(hp_course *course, const hp_controls_params *c)
{
    if (c->pedal.mode == HP_PEDAL_GATES)
        add(course, 0.1, HP_ACTION_GRIP, GRIP);
}

/* Riding by the pedals. */
static void pedal(hp_course *course, const hp_controls_params *c)
{
    before_pedals(course, c);
    add(course, OPENS_S, HP_ACTION_PEDALS, 1.0);
}

#define SET(outcome) (1u << (HP_OUTCOME_##outcome))
#define WHY(reason)  (1u << (HP_CONTROL_##reason))
#define NO_LEAD      HP_CONTROL_LEAD_COUNT
/* Off while riding: whatever keeps it still then is what the lead does. */
#define LOST(name_, lead, good_, look_)                                                            \
    {                                                                                              \
        .name = name_, .applies = has_throttle, .course = ride, .kind = HP_ACTION_LEAD_OFF,        \
        .value = lead, .off = NO_LEAD, .good = good_, .look = look_                                \
    }
/* The grip let go: only a throttle that asks for nothing, or is found broken, is an answer. */
#define LOST_AT_REST(name_, lead)                                                                  \
    {                                                                                              \
        .name = name_, .applies = has_throttle, .course = rest, .kind = HP_ACTION_LEAD_OFF,        \
        .value = lead, .off = NO_LEAD, .before = WHY(REST), .after = WHY(REST) | WHY(FAULT),       \
        .good = SET(STAYS_OFF)                                                                     \
    }
/* A brake that reads pulled all the time, or the wrong way round, is what these ask about. */
#define LEVER(name_, applies_, suppose_, lacks_)                                                   \
    {                                                                                              \
        .name = name_, .applies = applies_, .lacks = lacks_, .suppose = suppose_, .course = ride,  \
        .kind = HP_ACTION_LEVER, .value = 1.0, .off = NO_LEAD, .before = WHY(DRIVES) | WHY(BRAKE), \
        .after = WHY(BRAKE), .good = SET(STOPS), .look = SET(STAYS_OFF)                            \
    }
#define PEDALLED(name_, kind_, value_, look_)                                                      \
    {                                                                                              \
        .name = name_, .applies = has_pedals, .course = pedal, .kind = kind_, .value = value_,     \
        .off = NO_LEAD, .by_pedals = true, .good = SET(STOPS), .look = look_                       \
    }

#define OTHER_SIDE(name_, applies_, value_, good_, look_)                                          \
    {                                                                                              \
        .name = name_, .applies = applies_, .suppose = other_side, .course = before_pedals,        \
        .kind = HP_ACTION_PEDALS, .value = value_, .off = NO_LEAD, .by_pedals = true,              \
        .before = WHY(PEDALS), .after = WHY(PEDALS), .good = good_, .look = look_                  \
    }

/* Pedalling where the throttle wants it, the grip let go. */
static void rest(hp_course *course, const hp_controls_params *c)
{
    if (c->pedal.mode == HP_PEDAL_GATES)
        add(course, 0.1, HP_ACTION_PEDALS, 1.0);
}

/* The key, or the battery's own switch, is off while the grip opens. */
static void open_grip(hp_course *course, const hp_controls_params *c)
{
    add(course, 0.0, HP_ACTION_KEY, 0.0);
    ride(course, c);
}

static const hp_what_if_case list[HP_WHAT_IF_COUNT] = {
    [HP_WHAT_IF_KEY_OFF] = {.name = "key_off",
                            .applies = has_key,
                            .course = ride,
                            .kind = HP_ACTION_KEY,
                            .value = 0.0,
                            .off = NO_LEAD,
                            .good = SET(STOPS)},
    [HP_WHAT_IF_OPEN_GRIP] = {.name = "open_grip_at_key",
                              .applies = has_throttle,
                              .course = open_grip,
                              .kind = HP_ACTION_KEY,
                              .value = 1.0,
                              .off = NO_LEAD,
                              .before = WHY(KEY),
                              .after = WHY(OPEN),
                              .good = SET(STAYS_OFF)},
    [HP_WHAT_IF_BRAKE] = LEVER("brake", always, NULL, has_no_brake),
    [HP_WHAT_IF_BRAKE_SORT] = LEVER("brake_other_sort", has_brake, other_sort, NULL),
    [HP_WHAT_IF_BRAKE_LEVEL] = LEVER("brake_other_level", has_brake, other_level, NULL),
    /* A normally open switch cannot tell: common practice, and to be known. */
    [HP_WHAT_IF_BRAKE_LEAD] = {.name = "brake_lead_off",
                               .applies = has_brake,
                               .course = ride,
                               .kind = HP_ACTION_LEVER,
                               .value = 1.0,
                               .off = HP_CONTROL_LEAD_BRAKE,
                               .good = SET(STOPS) | SET(STAYS_OFF),
                               .look = SET(GOES_ON)},
    [HP_WHAT_IF_THROTTLE_SUPPLY] =
        LOST("throttle_supply_off", HP_CONTROL_LEAD_THROTTLE_SUPPLY, SET(STOPS), SET(SLOWER)),
    [HP_WHAT_IF_THROTTLE_GROUND] =
        LOST("throttle_ground_off", HP_CONTROL_LEAD_THROTTLE_GROUND, SET(STOPS), SET(SLOWER)),
    [HP_WHAT_IF_THROTTLE_SIGNAL] =
        LOST("throttle_signal_off", HP_CONTROL_LEAD_THROTTLE_SIGNAL, SET(STOPS), SET(SLOWER)),
    [HP_WHAT_IF_REST_SUPPLY] =
        LOST_AT_REST("throttle_supply_off_at_rest", HP_CONTROL_LEAD_THROTTLE_SUPPLY),
    [HP_WHAT_IF_REST_GROUND] =
        LOST_AT_REST("throttle_ground_off_at_rest", HP_CONTROL_LEAD_THROTTLE_GROUND),
    [HP_WHAT_IF_REST_SIGNAL] =
        LOST_AT_REST("throttle_signal_off_at_rest", HP_CONTROL_LEAD_THROTTLE_SIGNAL),
    [HP_WHAT_IF_PEDALS_STOP] = PEDALLED("pedals_stop", HP_ACTION_PEDALS, 0.0, 0),
    /* A sensor the wrong way round keeps it still before, and is what drives it then. */
    [HP_WHAT_IF_PEDALS_BACK] = {.name = "pedals_back",
                                .applies = has_pedals,
                                .course = pedal,
                                .kind = HP_ACTION_PEDALS,
                                .value = -1.0,
                                .off = NO_LEAD,
                                .by_pedals = true,
                                .before = WHY(DRIVES) | WHY(PEDALS),
                                .after = WHY(PEDALS),
                                .good = SET(STOPS),
                                .look = SET(GOES_ON)},
    [HP_WHAT_IF_PEDAL_SIDE] =
        OTHER_SIDE("pedal_sensor_other_side", has_pedals, 1.0, SET(STARTS), SET(STAYS_OFF)),
    [HP_WHAT_IF_PEDAL_SIDE_BACK] =
        OTHER_SIDE("pedal_sensor_other_side_back", minds_the_side, -1.0, SET(STAYS_OFF), 0),
    [HP_WHAT_IF_PEDAL_LEAD] =
        PEDALLED("pedal_lead_off", HP_ACTION_LEAD_OFF, HP_CONTROL_LEAD_PEDAL, 0),
    [HP_WHAT_IF_SPEED_LEAD] = {.name = "speed_lead_off",
                               .applies = has_speeds,
                               .course = ride,
                               .kind = HP_ACTION_LEAD_OFF,
                               .value = HP_CONTROL_LEAD_SPEED,
                               .off = NO_LEAD,
                               .good = SET(GOES_ON) | SET(SLOWER),
                               .look = SET(FASTER)},
};

const hp_what_if_case *hp_what_if_case_of(hp_what_if what)
{
    return &list[what];
}

const char *hp_what_if_name(hp_what_if what)
{
    return list[what].name;
}

hp_what_if hp_what_if_find(const char *name)
{
    hp_what_if what = 0;
    while (what < HP_WHAT_IF_COUNT && strcmp(list[what].name, name) != 0)
        what++;
    return what;
}

bool hp_what_if_supposes(hp_what_if what)
{
    return list[what].suppose != NULL;
}

bool hp_what_if_applies(hp_what_if what, const hp_controls_params *controls)
{
    return list[what].applies(controls);
}

hp_what_if_plan hp_what_if_plan_make(hp_what_if what, const hp_controls_params *controls)
{
    const hp_what_if_case *row = &list[what];
    hp_what_if_plan plan = {.controls = *controls, .seconds = HAPPENS_S + LOOKS_S};
    if (row->suppose)
        row->suppose(&plan.controls);
    row->course(&plan.course, &plan.controls);
    if (row->off != NO_LEAD)
        add(&plan.course, HAPPENS_S - 1.0, HP_ACTION_LEAD_OFF, row->off);
    plan.focus = add(&plan.course, HAPPENS_S, row->kind, row->value);
    return plan;
}

hp_result hp_what_if_plan_find(const char *name, const hp_controls_params *controls,
                               hp_what_if *what, hp_what_if_plan *plan, hp_error *err)
{
    char names[800];
    hp_phrase p = hp_phrase_begin(names, sizeof names);
    *what = hp_what_if_find(name);
    if (*what < HP_WHAT_IF_COUNT && hp_what_if_applies(*what, controls)) {
        *plan = hp_what_if_plan_make(*what, controls);
        return HP_OK;
    }
    for (hp_what_if k = 0; k < HP_WHAT_IF_COUNT; k++)
        if (hp_what_if_applies(k, controls)) {
            hp_phrase_comma(&p);
            hp_phrase_add(&p, "%s", hp_what_if_name(k));
        }
    return hp_error_set(err, HP_FAIL_INPUT, "\"%.80s\" %s; cases here: %s", name,
                        *what < HP_WHAT_IF_COUNT ? "is of a part that this machine does not have"
                                                 : "is no case",
                        names);
}
