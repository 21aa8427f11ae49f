/* A question, and what a person sees: see the header. */
#include "base/hash.h"
#include "decide/advise/nuisance.h"
#include "decide/practise/hidden.h"
#include "decide/reading/reading_parts.h"
#include "model/sensors.h"

#include <math.h>
#include <string.h>

/* ---- a question ------------------------------------------------------------------------------ */

bool hp_practice_shows(const hp_practice *p, const hp_reading *kind)
{
    const hp_plan_params *plan = &p->stated.plan;
    if (!kind->see)
        return false;
    if (hp_reading_is_advised(kind))
        return plan->allowed & hp_allow(kind);
    return kind->advised_as == HP_ADVICE_LEARN ? plan->learns : plan->powered;
}

bool hp_reading_is_by_lead(const hp_reading *kind)
{
    return hp_reading_is_advised(kind) && kind->lead != NULL;
}

bool hp_practice_is_trial(const hp_reading *kind)
{
    return kind == hp_reading_advised_as(HP_ADVICE_TRY);
}

hp_entry hp_practice_ask(const hp_reading *kind, int lead)
{
    hp_entry question = hp_entry_make(kind, 0);
    for (const hp_field *f = kind->fields; lead >= 0 && kind->lead && f->name; f++)
        if (f->type == HP_FIELD_LEAD)
            memcpy((char *)hp_entry_values(&question) + f->offset, &lead, sizeof lead);
    return question;
}

static const char *const feed_names[HP_PRACTICE_FEEDS] = {"limited", "battery", "full"};

const char *hp_practice_feed_name(hp_practice_feed feed)
{
    return feed < HP_PRACTICE_FEEDS ? feed_names[feed] : "none";
}

int hp_practice_feed_find(const char *name)
{
    for (int k = 0; k < HP_PRACTICE_FEEDS; k++)
        if (strcmp(feed_names[k], name) == 0)
            return k;
    return -1;
}

bool hp_practice_has_limit(const hp_practice *practice)
{
    return practice->stated.plan.first_power != HP_FIRST_POWER_NONE;
}

bool hp_practice_may_feed(const hp_practice *practice, hp_practice_feed feed)
{
    return feed != HP_PRACTICE_LIMITED || hp_practice_has_limit(practice);
}

hp_entry hp_practice_ask_trial(const hp_practice *p, const hp_wiring *wiring, hp_practice_feed feed,
                               double limit_a)
{
    hp_entry question = hp_entry_make(hp_reading_advised_as(HP_ADVICE_TRY), 0);
    hp_trial *t = &question.trial;
    t->wiring = *wiring;
    t->throttle = feed == HP_PRACTICE_FULL ? 1.0 : p->stated.plan.throttle;
    t->starts_tried = p->stated.plan.starts;
    if (feed == HP_PRACTICE_LIMITED && hp_practice_has_limit(p)) {
        bool lamp = p->stated.plan.first_power == HP_FIRST_POWER_LAMP;
        t->feed = lamp ? HP_FEED_LAMP : HP_FEED_BENCH_SUPPLY;
        if (!lamp)
            t->limit_a = limit_a > 0.0 ? limit_a : p->limit_a;
    }
    return question;
}

/* ---- chance ---------------------------------------------------------------------------------- */

/* A number of what was chosen, the same wherever it is asked. The limit of a supply is left out: a
 * knob set a little otherwise is the same question. */
static uint64_t choice_of(const hp_entry *e)
{
    const hp_trial *t = hp_entry_trial(e);
    uint64_t choice = hp_hash(e->reading->name);
    if (e->reading->lead)
        choice = choice * 31 + (uint64_t)(e->reading->lead(e->values) + 1);
    if (t)
        choice = (choice * 31 + (uint64_t)hp_wiring_number(&t->wiring)) * 31 +
                 (uint64_t)t->feed * 3 + (t->throttle < HP_FULL_THROTTLE ? 0 : 1);
    return choice;
}

/* How often it was asked before. A look back is enough: nothing is kept that could be lost. */
static uint64_t times_asked(const hp_practice_look *before, uint64_t choice)
{
    uint64_t times = 0;
    for (int k = 0; k < before->entries; k++)
        times += choice_of(&before->entry[k]) == choice;
    return times;
}

double hp_seen_gauss(hp_seen *seen)
{
    /* Sum of twelve: no function of the C library, whose last bits differ between machines. */
    double sum = -6.0;
    for (int k = 0; k < 12; k++)
        sum += hp_random_unit(&seen->random);
    return sum;
}

double hp_seen_metered(hp_seen *seen, double value, double relative, double zero, double step)
{
    double first = hp_seen_gauss(seen), second = hp_seen_gauss(seen);
    double shown = value * (1.0 + relative * first) + zero * second;
    return fmax(0.0, step * floor(shown / step + 0.5));
}

/* ---- the machine as it stands now ------------------------------------------------------------ */

/* With what is broken; a loose lead makes contact while nothing shakes it. */
static hp_drive drive_with(const hp_seen *seen)
{
    const hp_practice *p = seen->machine;
    hp_sensor_fault stuck = p->high ? HP_SENSOR_STUCK_HIGH : HP_SENSOR_STUCK_LOW;
    hp_drive drive = p->drive;
    if (seen->fault == HP_PRACTICE_HALL_STUCK)
        drive.sensors.fault[p->sensor_axis[p->lead]] = stuck;
    if (seen->fault == HP_PRACTICE_HALL_INVERTED)
        drive.sensors.fault[p->sensor_axis[p->lead]] = HP_SENSOR_INVERTED;
    if (seen->fault == HP_PRACTICE_PHASE_OPEN)
        drive.motor.lead_open[p->phase_axis[p->lead]] = true;
    return drive;
}

void hp_seen_shake(hp_seen *seen)
{
    const hp_practice *p = seen->machine;
    seen->drive = drive_with(seen);
    if (seen->fault != HP_PRACTICE_LOOSE || hp_random_below(&seen->random, 2) == 0)
        return;
    if (p->loose_hall)
        seen->drive.sensors.fault[p->sensor_axis[p->lead]] = HP_SENSOR_STUCK_HIGH;
    else
        seen->drive.motor.lead_open[p->phase_axis[p->lead]] = true;
}

hp_seen hp_seen_begin(const hp_practice *p, const hp_practice_look *before,
                      const hp_entry *question)
{
    uint64_t choice = choice_of(question);
    hp_seen seen = {.machine = p, .fault = hp_practice_present(p, before)};
    /* The lower half of the streams draws the machine itself. */
    seen.random =
        hp_random_init(p->seed, (choice * 64 + times_asked(before, choice)) | UINT64_C(1) << 63);
    seen.drive = drive_with(&seen);
    return seen;
}

/* What a person chose; nothing else is said yet. */
static hp_result check_choice(const hp_entry *e, hp_error *err)
{
    if (hp_entry_trial(e))
        return hp_entry_check(e, err);
    return e->reading->lead
               ? hp_check_whole(err, "lead", e->reading->lead(e->values), 0, HP_PHASE_COUNT - 1)
               : HP_OK;
}

hp_result hp_practice_see(const hp_practice *p, const hp_practice_look *before, hp_entry *question,
                          hp_error *err)
{
    if (!question->reading->see)
        return hp_error_set(err, HP_FAIL_INPUT, "%s shows nothing at a practice machine",
                            question->reading->title);
    hp_result result = check_choice(question, err);
    if (result != HP_OK)
        return result;
    hp_seen seen = hp_seen_begin(p, before, question);
    result = question->reading->see(&seen, hp_entry_values(question), err);
    return result == HP_OK ? hp_entry_check(question, err) : result;
}

/* ---- what a `see` needs ---------------------------------------------------------------------- */

int hp_seen_code(const hp_seen *seen, double theta)
{
    const hp_sensors_params *sensors = &seen->drive.sensors;
    int code = 0;
    for (int mark = 0; mark < HP_PHASE_COUNT; mark++) {
        int axis = seen->machine->sensor_axis[mark];
        bool inside = hp_sensor_inside(sensors, axis, theta);
        code = 2 * code + hp_sensor_output(sensors, axis, inside);
    }
    return code;
}

bool hp_seen_pair_open(const hp_seen *seen, int pair)
{
    bool open = false;
    for (int mark = 0; mark < HP_PHASE_COUNT; mark++)
        open =
            open || (mark != pair && seen->drive.motor.lead_open[seen->machine->phase_axis[mark]]);
    return open;
}

bool hp_seen_carries(const hp_seen *seen)
{
    return seen->fault != HP_PRACTICE_CLUTCH_SLIPS;
}
