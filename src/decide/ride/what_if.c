/* What can be wrong with the controls: see the header. */
#include "hubphase/decide/what_if.h"

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

static bool has_brake(const hp_controls_params *c)
{
    return c->brake.fitted != HP_SWITCH_NONE;
}

static bool has_pedals(const hp_controls_params *c)
{
    return c->pedal.mode != HP_PEDAL_NONE;
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

/* Riding: half a grip, and pedals where the throttle wants them. */
static void ride(hp_course *course, const hp_controls_params *c)
{
    if (c->pedal.mode == HP_PEDAL_GATES)
        add(course, 0.1, HP_ACTION_PEDALS, 1.0);
    add(course, OPENS_S, HP_ACTION_GRIP, GRIP);
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

/* One row of the list. */
typedef struct what_if {
    const char *name;
    bool (*applies)(const hp_controls_params *controls);
    void (*suppose)(hp_controls_params *controls); /* NULL: nothing is changed */
    void (*before)(hp_course *course, const hp_controls_params *controls);
    hp_action_kind kind; /* of what happens then */
    double value;
    hp_control_lead off; /* this lead is off since a second before; HP_CONTROL_LEAD_COUNT: none */
    unsigned good, look; /* sets of outcomes; the others: stop */
} what_if;

#define SET(outcome) (1u << (HP_OUTCOME_##outcome))
#define NO_LEAD      HP_CONTROL_LEAD_COUNT
#define LOST(name_, before_, lead, good_, look_)                                                   \
    {                                                                                              \
        .name = name_, .applies = always, .before = before_, .kind = HP_ACTION_LEAD_OFF,           \
        .value = lead, .off = NO_LEAD, .good = good_, .look = look_                                \
    }

/* Pedalling where the throttle wants it, the grip let go. */
static void rest(hp_course *course, const hp_controls_params *c)
{
    if (c->pedal.mode == HP_PEDAL_GATES)
        add(course, 0.1, HP_ACTION_PEDALS, 1.0);
}

/* The key is off while the grip opens. */
static void open_grip(hp_course *course, const hp_controls_params *c)
{
    add(course, 0.0, HP_ACTION_KEY, 0.0);
    ride(course, c);
}

static const what_if list[HP_WHAT_IF_COUNT] = {
    [HP_WHAT_IF_KEY_OFF] = {"key_off", always, NULL, ride, HP_ACTION_KEY, 0.0, NO_LEAD, SET(STOPS),
                            0},
    [HP_WHAT_IF_OPEN_GRIP] = {"open_grip_at_key", always, NULL, open_grip, HP_ACTION_KEY, 1.0,
                              NO_LEAD, SET(STAYS_OFF), 0},
    [HP_WHAT_IF_BRAKE] = {"brake", always, NULL, ride, HP_ACTION_LEVER, 1.0, NO_LEAD, SET(STOPS),
                          SET(STAYS_OFF)},
    [HP_WHAT_IF_BRAKE_SORT] = {"brake_other_sort", has_brake, other_sort, ride, HP_ACTION_LEVER,
                               1.0, NO_LEAD, SET(STOPS), SET(STAYS_OFF)},
    [HP_WHAT_IF_BRAKE_LEVEL] = {"brake_other_level", has_brake, other_level, ride, HP_ACTION_LEVER,
                                1.0, NO_LEAD, SET(STOPS), SET(STAYS_OFF)},
    /* A normally open switch cannot tell: common practice, and to be known. */
    [HP_WHAT_IF_BRAKE_LEAD] = {"brake_lead_off", has_brake, NULL, ride, HP_ACTION_LEVER, 1.0,
                               HP_CONTROL_LEAD_BRAKE, SET(STOPS) | SET(STAYS_OFF), SET(GOES_ON)},
    [HP_WHAT_IF_THROTTLE_SUPPLY] =
        LOST("throttle_supply_off", ride, HP_CONTROL_LEAD_THROTTLE_SUPPLY, SET(STOPS), SET(SLOWER)),
    [HP_WHAT_IF_THROTTLE_GROUND] =
        LOST("throttle_ground_off", ride, HP_CONTROL_LEAD_THROTTLE_GROUND, SET(STOPS), SET(SLOWER)),
    [HP_WHAT_IF_THROTTLE_SIGNAL] =
        LOST("throttle_signal_off", ride, HP_CONTROL_LEAD_THROTTLE_SIGNAL, SET(STOPS), SET(SLOWER)),
    [HP_WHAT_IF_REST_SUPPLY] = LOST("throttle_supply_off_at_rest", rest,
                                    HP_CONTROL_LEAD_THROTTLE_SUPPLY, SET(STAYS_OFF), 0),
    [HP_WHAT_IF_REST_GROUND] = LOST("throttle_ground_off_at_rest", rest,
                                    HP_CONTROL_LEAD_THROTTLE_GROUND, SET(STAYS_OFF), 0),
    [HP_WHAT_IF_REST_SIGNAL] = LOST("throttle_signal_off_at_rest", rest,
                                    HP_CONTROL_LEAD_THROTTLE_SIGNAL, SET(STAYS_OFF), 0),
    [HP_WHAT_IF_PEDALS_STOP] = {"pedals_stop", has_pedals, NULL, pedal, HP_ACTION_PEDALS, 0.0,
                                NO_LEAD, SET(STOPS), 0},
    [HP_WHAT_IF_PEDALS_BACK] = {"pedals_back", has_pedals, NULL, pedal, HP_ACTION_PEDALS, -1.0,
                                NO_LEAD, SET(STOPS), SET(GOES_ON)},
    [HP_WHAT_IF_PEDAL_SIDE] = {"pedal_sensor_other_side", has_pedals, other_side, before_pedals,
                               HP_ACTION_PEDALS, 1.0, NO_LEAD, SET(STARTS), SET(STAYS_OFF)},
    [HP_WHAT_IF_PEDAL_LEAD] = {"pedal_lead_off", has_pedals, NULL, pedal, HP_ACTION_LEAD_OFF,
                               HP_CONTROL_LEAD_PEDAL, NO_LEAD, SET(STOPS), 0},
    [HP_WHAT_IF_SPEED_LEAD] = {"speed_lead_off", has_speeds, NULL, ride, HP_ACTION_LEAD_OFF,
                               HP_CONTROL_LEAD_SPEED, NO_LEAD, SET(GOES_ON) | SET(SLOWER),
                               SET(FASTER)},
};

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

bool hp_what_if_applies(hp_what_if what, const hp_controls_params *controls)
{
    return list[what].applies(controls);
}

hp_what_if_plan hp_what_if_plan_make(hp_what_if what, const hp_controls_params *controls)
{
    const what_if *row = &list[what];
    hp_what_if_plan plan = {.controls = *controls, .seconds = HAPPENS_S + LOOKS_S};
    if (row->suppose)
        row->suppose(&plan.controls);
    row->before(&plan.course, &plan.controls);
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

hp_finding hp_what_if_finding(hp_what_if what, hp_outcome outcome)
{
    const what_if *row = &list[what];
    return row->good & 1u << outcome   ? HP_FINDING_GOOD
           : row->look & 1u << outcome ? HP_FINDING_LOOK
                                       : HP_FINDING_STOP;
}

hp_result hp_what_if_run_all(const hp_drive *drive, const hp_wiring *wiring,
                             const hp_controls_params *controls,
                             hp_what_if_result result[HP_WHAT_IF_COUNT], int *count, hp_error *err)
{
    *count = 0;
    for (hp_what_if what = 0; what < HP_WHAT_IF_COUNT; what++) {
        hp_course_run run;
        if (!hp_what_if_applies(what, controls))
            continue;
        hp_what_if_plan plan = hp_what_if_plan_make(what, controls);
        hp_result done = hp_course_run_make(drive, wiring, &plan.controls, &plan.course,
                                            plan.seconds, &run, err);
        if (done != HP_OK)
            return hp_error_context(err, done, "%s", hp_what_if_name(what));
        result[(*count)++] = (hp_what_if_result){what, run.moment[plan.focus]};
        hp_course_run_free(&run);
    }
    return HP_OK;
}
