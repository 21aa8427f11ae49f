/* A faulty part in a correct wiring. */
#include "report/lesson/scene.h"

#include "hubphase/base/text.h"

static void name_fault(const hp_scene_case *c, const hp_lesson_fault *f, char *out, size_t size)
{
    switch (f->kind) {
    case HP_LESSON_SENSOR_DEAD:
        snprintf(out, size, "The %s Hall sensor is faulty", c->labels->motor_sensor[f->lead]);
        return;
    case HP_LESSON_LEAD_OPEN:
        snprintf(out, size, "The %s phase lead is open", c->labels->motor_lead[f->lead]);
        return;
    default:
        snprintf(out, size, "The Hall sensors are of the other sort, %d-degree ones",
                 f->drive.sensors.spacing_60 ? 60 : 120);
    }
}

/* The codes, all of them or those alone that the table does not drive. */
static char *codes_of(const hp_lesson_fault *f, bool missing, char *out, size_t size)
{
    const hp_commutation_row *row = f->drive.controller.table.row;
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < f->codes; k++) {
        int code = f->code[k];
        if (missing && row[code].high >= 0)
            continue;
        hp_phrase_comma(&p);
        hp_phrase_add(&p, "%d%d%d", code >> 2 & 1, code >> 1 & 1, code & 1);
    }
    return out;
}

/* Turned forward, a wheel behind a one-way clutch leaves the rotor where it is. */
static const char *by_hand(const hp_scene_case *c)
{
    return c->lesson->drive.stand.clutch ? " backward by hand" : " by hand";
}

/* What the meters say before any power. */
static void tell_finding(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    char all[HP_SCENE_TEXT], missing[HP_SCENE_TEXT];
    if (f->kind == HP_LESSON_LEAD_OPEN) {
        hp_scene_say(out,
                     "Turning%s shows nothing odd: %d codes. Measure between the phase leads, "
                     "battery off: of three pairs the two with %s are open.",
                     by_hand(c), f->codes, c->labels->motor_lead[f->lead]);
        return;
    }
    if (f->kind == HP_LESSON_SENSOR_DEAD)
        hp_scene_say(out,
                     "Turn it%s: this sensor says %d all the way round, and we see %d codes "
                     "only: %s.",
                     by_hand(c), f->drive.sensors.fault[f->lead] == HP_SENSOR_STUCK_HIGH, f->codes,
                     codes_of(f, false, all, sizeof all));
    else
        hp_scene_say(out, "Turn it%s, and we see %d codes: %s.", by_hand(c), f->codes,
                     codes_of(f, false, all, sizeof all));
    if (f->missing > 0)
        hp_scene_say(out,
                     "The controller has nothing to do at %s: there all leads rest, and the rotor "
                     "gets no pull.",
                     codes_of(f, true, missing, sizeof missing));
}

static void tell_run(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    const hp_judgement *j = &f->judgement;
    if (j->verdict == HP_VERDICT_STALLED) {
        hp_scene_say(
            out,
            "It starts from %d of %d positions, and otherwise stays where it is at %.2f A. "
            "A correct wiring takes %.2f A running.",
            j->starts, j->starts_tried, j->mean.battery_current,
            hp_scene_judged(c, c->lesson->correct)->mean.battery_current);
        return;
    }
    hp_scene_say(out,
                 "It starts from %d of %d positions. Then it runs %s at %.0f rev/min and takes "
                 "%.2f A, %.1f times what the good machine takes.",
                 j->starts, j->starts_tried,
                 j->verdict == HP_VERDICT_ROUGH ? "roughly" : "smoothly", hp_scene_rpm(j),
                 j->mean.battery_current, hp_scene_times(c, j));
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const hp_lesson_fault *f = &l->fault[c->fault];
    const hp_judgement *j = &f->judgement;
    bool all = j->starts == j->starts_tried;
    char name[HP_SCENE_TEXT];
    name_fault(c, f, name, sizeof name);
    hp_scene_ask(out, "Wiring %d is correct. %s%s. What will the wheel do?", l->correct, name,
                 f->own ? ", as in this very machine" : "");
    hp_scene_choose(out, j->verdict == HP_VERDICT_CORRECT, "Run as before");
    hp_scene_choose(out,
                    j->verdict != HP_VERDICT_CORRECT && j->verdict != HP_VERDICT_STALLED && all,
                    "Start every time, but run badly");
    hp_scene_choose(out, j->verdict != HP_VERDICT_STALLED && !all,
                    "Start from some positions and not from others");
    hp_scene_choose(out, j->verdict == HP_VERDICT_STALLED, "Hardly ever get round");
    hp_scene_look(out, "Which step is missing?");
    hp_scene_look(out, "What would you measure first, with the battery off?");
    tell_run(c, f, out);
    tell_finding(c, f, out);
    hp_scene_usual(out, "It does not run well, so the wiring is wrong.");
    hp_scene_instead(out,
                     "Turn it%s and read the codes, measure three pairs of leads, and "
                     "start from several positions. Only then move a lead.",
                     by_hand(c));
    hp_scene_run *run = hp_scene_show(c, out, l->correct);
    run->fault = c->fault;
    run->start = j->mean.start_angle;
    run->backward = hp_scene_goes_backward(j);
    run->beginning = j->verdict == HP_VERDICT_STALLED;
    snprintf(run->title, sizeof run->title, "%s", name);
}

extern const hp_scene hp_scene_faults;
const hp_scene hp_scene_faults = {"faults", "A faulty part", HP_VIEW_FAULTS, tell};
