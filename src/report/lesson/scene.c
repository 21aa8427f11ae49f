/* A scene of the club evening: see the header. */
#include "report/lesson/scene.h"

#include "hubphase/base/text.h"
#include "model/backemf.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

void hp_scene_tell(const hp_scene *scene, const hp_scene_case *c, hp_scene_words *out)
{
    memset(out, 0, sizeof *out);
    scene->tell(c, out);
}

const char *hp_scene_view_name(hp_scene_view view)
{
    static const char *const name[HP_VIEW_COUNT] = {"hand",   "run",    "pair",
                                                    "groups", "faults", "tries"};
    return name[view];
}

/* ---- pieces ---------------------------------------------------------------------------------- */

static void put(char out[HP_SCENE_TEXT], const char *format, va_list list)
{
    hp_phrase p = hp_phrase_begin(out, HP_SCENE_TEXT);
    hp_phrase_add_list(&p, format, list);
}

#define PUT(where)                                                                                 \
    do {                                                                                           \
        va_list list;                                                                              \
        va_start(list, format);                                                                    \
        put(where, format, list);                                                                  \
        va_end(list);                                                                              \
    } while (0)

void hp_scene_ask(hp_scene_words *out, const char *format, ...)
{
    PUT(out->question);
}

void hp_scene_choose(hp_scene_words *out, bool right, const char *format, ...)
{
    assert(out->choices < HP_SCENE_CHOICES);
    hp_scene_choice *choice = &out->choice[out->choices++];
    choice->right = right;
    PUT(choice->text);
}

void hp_scene_look(hp_scene_words *out, const char *format, ...)
{
    assert(out->looks < HP_SCENE_LOOKS);
    PUT(out->look[out->looks++]);
}

void hp_scene_say(hp_scene_words *out, const char *format, ...)
{
    assert(out->lines < HP_SCENE_LINES);
    PUT(out->line[out->lines++]);
}

void hp_scene_usual(hp_scene_words *out, const char *format, ...)
{
    PUT(out->usual);
}

void hp_scene_instead(hp_scene_words *out, const char *format, ...)
{
    PUT(out->instead);
}

void hp_scene_leave_out(hp_scene_words *out, const char *format, ...)
{
    PUT(out->left_out);
}

hp_scene_run *hp_scene_show(const hp_scene_case *c, hp_scene_words *out, int number)
{
    assert(out->runs < HP_SCENE_RUNS);
    hp_scene_run *run = &out->run[out->runs++];
    run->number = number;
    run->fault = -1;
    run->start = hp_scene_judged(c, number)->mean.start_angle;
    run->backward = hp_scene_goes_backward(hp_scene_judged(c, number));
    snprintf(run->title, sizeof run->title, "Wiring %d", number);
    return run;
}

/* ---- figures --------------------------------------------------------------------------------- */

const hp_judgement *hp_scene_judged(const hp_scene_case *c, int number)
{
    return &c->lesson->survey.judgement[number - 1];
}

double hp_scene_rpm(const hp_judgement *judgement)
{
    return fabs(judgement->mean.wheel_speed) / HP_RPM;
}

double hp_scene_times(const hp_scene_case *c, const hp_judgement *judgement)
{
    return judgement->mean.battery_current /
           hp_scene_judged(c, c->lesson->correct)->mean.battery_current;
}

double hp_scene_held_field(void)
{
    return hp_angle_wrap(hp_phase_axis(HP_V) - 30.0 * HP_DEG);
}

double hp_scene_pull_at(const hp_lesson *lesson, double lead)
{
    const hp_backemf *shape = &lesson->drive.motor.backemf;
    return hp_backemf_pair(shape, HP_V, HP_W, hp_scene_held_field() - lead) /
           hp_backemf_line_over(shape, 720).peak;
}

bool hp_scene_goes_backward(const hp_judgement *j)
{
    return j->verdict != HP_VERDICT_STALLED && j->rotor_direction == HP_DIRECTION_BACKWARD;
}

hp_scene_seen hp_scene_seen_of(const hp_judgement *j)
{
    switch (j->verdict) {
    case HP_VERDICT_CORRECT: return HP_SEEN_FORWARD;
    case HP_VERDICT_REVERSE: return HP_SEEN_BACKWARD;
    case HP_VERDICT_STALLED: return HP_SEEN_STILL;
    case HP_VERDICT_ROUGH:
        if (j->direction == HP_DIRECTION_FORWARD)
            return HP_SEEN_ROUGH_FORWARD;
        return j->direction == HP_DIRECTION_BACKWARD ? HP_SEEN_ROUGH_BACKWARD : HP_SEEN_NO_WAY;
    default: return HP_SEEN_NO_WAY;
    }
}

/* Of wheels that nobody sees turn: less than one turn in two minutes. */
static bool wheel_stands(const hp_judgement *j)
{
    return hp_scene_rpm(j) < 0.5;
}

char *hp_scene_outcome(const hp_lesson *lesson, int number, char *out, size_t size)
{
    static const char *const does[HP_SEEN_COUNT] = {
        "runs smoothly forward", "runs smoothly backward", "runs rough, forward",
        "runs rough, backward",  "does not get round",     "turns now one way, now the other"};
    const hp_judgement *j = &lesson->survey.judgement[number - 1];
    double right = lesson->survey.judgement[lesson->correct - 1].mean.battery_current;
    hp_phrase p = hp_phrase_begin(out, size);
    if (j->verdict == HP_VERDICT_UNDECIDED || !j->measured) {
        hp_phrase_add(&p, "Wiring %d: nobody can say", number);
        return out;
    }
    hp_phrase_add(&p, "Wiring %d %s", number, does[hp_scene_seen_of(j)]);
    if (j->verdict != HP_VERDICT_STALLED && wheel_stands(j))
        hp_phrase_add(&p, " in the hub, and the wheel does not turn");
    else if (j->verdict != HP_VERDICT_STALLED)
        hp_phrase_add(&p, ": wheel at %.0f rev/min", hp_scene_rpm(j));
    hp_phrase_add(&p, ", %.2f A", j->mean.battery_current);
    double times = j->mean.battery_current / right;
    if (times >= 1.5)
        hp_phrase_add(&p, ", %.0f times a correct one", times);
    return out;
}

char *hp_scene_watts(double watts, char *out, size_t size)
{
    if (watts < 0.1)
        snprintf(out, size, "less than 0.1 W");
    else
        snprintf(out, size, watts < 9.95 ? "%.1f W" : "%.0f W", watts);
    return out;
}

char *hp_scene_readings(unsigned readings, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    if (readings & HP_LESSON_HAND_TURN)
        hp_phrase_add(&p, "hand turn");
    if (readings & HP_LESSON_SPIN)
        hp_phrase_add(&p, "%svolts of the spun wheel", p.used > 0 ? " + " : "");
    if (readings & HP_LESSON_PARK)
        hp_phrase_add(&p, "%scurrent through %s", p.used > 0 ? " + " : "",
                      readings & HP_LESSON_PARK_TWO ? "two leads" : "one lead");
    if (readings == 0)
        hp_phrase_add(&p, "nothing measured, best order");
    return out;
}
