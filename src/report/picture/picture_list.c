/* The list of all pictures, and what they share on their way into a file: see picture.h. */
#include "report/picture/picture.h"

#include "hubphase/decide/evidence.h"
#include "report/picture/picture_connect.h"

#include <math.h>
#include <string.h>

/* In the order in which they are written and told. */
const hp_picture *const hp_pictures[] = {
    &hp_picture_map,          &hp_picture_bars,        &hp_picture_classes,
    &hp_picture_torque_angle, &hp_picture_lead_angles, &hp_picture_lead_angle,
    &hp_picture_steps,        &hp_picture_waveforms,   &hp_picture_beside,
    &hp_picture_joints,       &hp_picture_connect,     &hp_picture_plug,
    &hp_picture_fit_curves,   &hp_picture_fit_heat,    &hp_picture_spread_map,
    &hp_picture_spread_bands, &hp_picture_course,
};
const int hp_picture_count = (int)(sizeof hp_pictures / sizeof hp_pictures[0]);

const hp_picture *hp_picture_find(const char *name)
{
    for (int k = 0; k < hp_picture_count; k++)
        if (strcmp(hp_pictures[k]->name, name) == 0)
            return hp_pictures[k];
    return NULL;
}

static bool has_example(const hp_picture_subject *subject)
{
    for (int k = 0; subject->example && k < HP_EXAMPLE_COUNT; k++)
        if (subject->example[k].number && subject->example[k].trace.count > 0)
            return true;
    return false;
}

/* What the subject has, as a set. */
static unsigned has(const hp_picture_subject *s)
{
    bool number = s->number >= 1 && s->number <= HP_WIRING_COUNT;
    bool step = s->advice && hp_connect_kind(s->advice);
    return (s->survey ? HP_NEEDS_SURVEY : 0u) | (s->spread ? HP_NEEDS_SPREAD : 0u) |
           (number ? HP_NEEDS_NUMBER : 0u) | (s->trace ? HP_NEEDS_TRACE : 0u) |
           (has_example(s) ? HP_NEEDS_EXAMPLES : 0u) | (step ? HP_NEEDS_STEP : 0u) |
           (s->plug && hp_plug_has_places(s->plug) ? HP_NEEDS_PLUG : 0u) |
           (s->fit && s->fit->correct && s->vehicle ? HP_NEEDS_FIT : 0u) |
           (s->course && s->controls && s->course->trace.count > 1 ? HP_NEEDS_COURSE : 0u);
}

bool hp_picture_can(const hp_picture *picture, const hp_picture_subject *subject)
{
    return subject->drive && subject->labels && !(picture->needs & ~has(subject));
}

hp_result hp_picture_make(const hp_picture *picture, const hp_picture_subject *subject,
                          const hp_picture_target *to, hp_error *err)
{
    if (!hp_picture_can(picture, subject))
        return hp_error_set(err, HP_FAIL_INPUT, "picture %s lacks something that it must show",
                            picture->name);
    return picture->draw(subject, to, err);
}

/* What the page's paint needs. */
typedef struct put {
    hp_picture_draw draw;
    const hp_look *look;
    const void *data;
} put;

static void paint(const hp_canvas *canvas, const void *data)
{
    const put *p = data;
    p->draw(canvas, p->look, p->data);
}

hp_result hp_picture_put(const hp_picture_target *to, const char *title, hp_picture_draw draw,
                         const void *data, hp_error *err)
{
    if ((int)to->shape < 0 || to->shape >= HP_SHAPE_COUNT)
        return hp_error_set(err, HP_FAIL_INPUT, "picture shape is %d, must be 0..%d",
                            (int)to->shape, HP_SHAPE_COUNT - 1);
    const hp_look *look = hp_look_of(to->shape), dense = hp_look_dense(to->shape);
    double end = draw(NULL, look, data);
    if (!isfinite(end))
        look = &dense;
    put p = {.draw = draw, .look = look, .data = data};
    double height = look->height > 0.0 ? look->height : end;
    hp_paper page = {.width = look->width, .height = height, .title = title, .inset = to->inset};
    return to->path ? hp_canvas_draw(to->path, to->format, &page, paint, &p, err)
                    : hp_canvas_render(to->format, &page, paint, &p, to->bytes, to->size, err);
}

/* A wiring may stand for a kind: it is judged so; `best` where no other serves as well. */
static bool stands_for(const hp_judgement *j, hp_example_kind kind, bool best)
{
    hp_rough_kind wanted = kind == HP_EXAMPLE_EARLY  ? HP_KIND_EARLY
                           : kind == HP_EXAMPLE_LATE ? HP_KIND_LATE
                                                     : HP_KIND_NONE;
    switch (kind) {
    case HP_EXAMPLE_SMOOTH: return j->verdict == (best ? HP_VERDICT_CORRECT : HP_VERDICT_REVERSE);
    case HP_EXAMPLE_EARLY:
    case HP_EXAMPLE_LATE:
    case HP_EXAMPLE_OTHER:
        return j->verdict == HP_VERDICT_ROUGH && j->kind == wanted &&
               (!best || j->direction == HP_DIRECTION_FORWARD);
    case HP_EXAMPLE_OPPOSED: return j->verdict == HP_VERDICT_STALLED;
    default: return false;
    }
}

int hp_picture_example(const hp_survey *survey, hp_example_kind kind)
{
    for (int best = 1; best >= 0; best--)
        for (int n = 1; n <= HP_WIRING_COUNT; n++)
            if (stands_for(&survey->judgement[n - 1], kind, best))
                return n;
    return 0;
}

const char *hp_example_name(hp_example_kind kind)
{
    static const char *const name[HP_EXAMPLE_COUNT] = {"smooth", "too early", "too late", "other",
                                                       "opposed"};
    return name[kind];
}
