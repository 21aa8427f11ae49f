/*
 * The leader's answers: what each group's eight wirings do and why, then the whole six-step table.
 * See handout.h.
 */
#include "report/handout/handout_steps_table.h"

#include "hubphase/base/text.h"
#include "hubphase/decide/lesson.h"
#include "report/words/explain_seen.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void say(hp_handout_flow *f, hp_type type, const char *text)
{
    hp_handout_flow_say(f, 0.0, 3.0, type, text);
}

/* What its equals draw [A]: they do the same, from other start positions. */
static void range_of(const hp_survey *survey, int number, double *least, double *most)
{
    *least = *most = survey->judgement[number - 1].mean.battery_current;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        const hp_lesson_place place = hp_lesson_place_of(n, number);
        double amperes = survey->judgement[n - 1].mean.battery_current;
        if (place.kind != HP_LESSON_MATCHED || place.sensors_turned)
            continue;
        *least = fmin(*least, amperes);
        *most = fmax(*most, amperes);
    }
}

/* "3.  wiring 12: rough, too early, forward, 110.2 rev/min, 4.35 A" */
static void answer_line(const hp_handout_source *source, int k, int number, char *out, size_t size)
{
    const hp_judgement *j = &source->survey->judgement[number - 1];
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%d.  Wiring %d: %s", k + 1, number, hp_verdict_name(j->verdict));
    if (j->kind != HP_KIND_NONE)
        hp_phrase_add(&p, ", too %s", hp_rough_kind_name(j->kind));
    if (j->verdict != HP_VERDICT_STALLED) {
        bool wheel = hp_explain_wheel_turns(source->subject.drive, j);
        double speed = wheel ? j->mean.wheel_speed : j->mean.speed;
        hp_direction way = wheel ? j->direction : j->rotor_direction;
        hp_phrase_add(&p, ", %s, %s %.1f rev/min",
                      way == HP_DIRECTION_BOTH ? "both ways" : hp_direction_name(way),
                      wheel ? "wheel" : "the wheel stands, rotor", fabs(speed) / HP_RPM);
    }
    char least[24], most[24];
    double from, to;
    range_of(source->survey, number, &from, &to);
    snprintf(least, sizeof least, "%.2f", from + 0.0);
    snprintf(most, sizeof most, "%.2f", to + 0.0);
    hp_phrase_add(&p, ", %.2f A", j->mean.battery_current + 0.0);
    if (strcmp(least, most) != 0)
        hp_phrase_add(&p, " (it and its equals: %s to %s A)", least, most);
}

/* Wirings that behave alike share their sentences: those are printed with the first of them. */
static void put_group(hp_handout_flow *f, int group)
{
    const hp_handout_source *source = f->job->source;
    int number[HP_HANDOUT_WIRINGS];
    char text[HP_HANDOUT_WIRINGS][HP_EXPLAIN_WORDS], line[300];
    hp_handout_draw_wirings(source->survey, hp_handout_given(source), source->seed, group, number);
    snprintf(line, sizeof line, "Group %d of %d, seed %llu: work sheet", group, source->groups,
             source->seed);
    say(f, (hp_type){18.0, HP_INK_BLACK, HP_ALIGN_LEFT, true}, line);
    for (int k = 0; k < HP_HANDOUT_WIRINGS && number[k]; k++) {
        hp_wiring wiring = hp_wiring_from_number(number[k]);
        int same = 0;
        hp_explain_sentences(&source->subject, &wiring, source->survey, text[k], sizeof text[k]);
        while (same < k && strcmp(text[same], text[k]) != 0)
            same++;
        hp_type small = hp_handout_small(HP_ALIGN_LEFT, false);
        char as[40];
        snprintf(as, sizeof as, "As line %d.", same + 1);
        const char *why = same < k ? as : text[k];
        answer_line(source, k, number[k], line, sizeof line);
        hp_handout_flow_room(f, 30.0 + hp_pen_paragraph_height(HP_HANDOUT_TEXT, small, why));
        say(f, hp_handout_body(true), line);
        say(f, small, why);
        f->y += 5.0;
    }
}

static void put_steps(hp_handout_flow *f)
{
    const hp_canvas *canvas = hp_handout_flow_room(f, 480.0);
    say(f, (hp_type){18.0, HP_INK_BLACK, HP_ALIGN_LEFT, true}, "Six-step table, for every group");
    f->y = hp_handout_steps_table(canvas, f->y, f->job->source, NULL);
    say(f, hp_handout_body(false),
        "The drawings: the field half-way through each step is the table's. It is a quarter of an "
        "electrical turn ahead; if it were 0, the motor would hold and not turn.");
}

static int flow_all(const hp_canvas *canvas, const hp_handout_job *job)
{
    hp_handout_flow f = hp_handout_flow_begin(canvas, job);
    for (int group = 1; group <= job->source->groups; group++) {
        if (group > 1)
            hp_handout_flow_page(&f);
        put_group(&f, group);
    }
    put_steps(&f);
    return f.page + 1;
}

const hp_handout hp_handout_answers = {
    .name = "answers", .title = "Answers for the leader", .flow = flow_all};
