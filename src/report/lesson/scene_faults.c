/* A faulty part in a correct wiring. */
#include "report/lesson/scene.h"

#include "hubphase/base/text.h"
#include "model/lead.h"

#include <math.h>

/* Of the sensors as they are, and of those that the controller is made for [degrees]. */
static int spacing(const hp_lesson_fault *f)
{
    return f->drive.sensors.spacing_60 ? 60 : 120;
}

static int wanted_spacing(const hp_lesson_fault *f)
{
    return f->drive.sensors.spacing_60 ? 120 : 60;
}

static const char *apart(int degrees)
{
    return degrees == 60 ? "a sixth" : "a third";
}

static void name_fault(const hp_scene_case *c, const hp_lesson_fault *f, char *out, size_t size)
{
    switch (f->kind) {
    case HP_LESSON_SENSOR_DEAD:
        snprintf(out, size, "The %s Hall sensor is faulty", c->labels->motor_sensor[f->lead]);
        return;
    case HP_LESSON_LEAD_OPEN:
        snprintf(out, size, "The %s phase lead is open", c->labels->motor_lead[f->lead]);
        return;
    default: snprintf(out, size, "The Hall sensors are %d-degree ones", spacing(f)); return;
    }
}

static void add_code(hp_phrase *p, const char *between, int code)
{
    hp_phrase_add(p, "%s%d%d%d", p->used > 0 ? between : "", code >> 2 & 1, code >> 1 & 1,
                  code & 1);
}

/* The codes, all of them or those alone that the table does not drive. */
static char *codes_of(const hp_lesson_fault *f, bool missing, char *out, size_t size)
{
    const hp_commutation_row *row = f->drive.controller.table.row;
    hp_phrase p = hp_phrase_begin(out, size);
    for (int k = 0; k < f->codes; k++)
        if (!missing || row[f->code[k]].high < 0)
            add_code(&p, missing ? " and " : ", ", f->code[k]);
    return out;
}

static int sectors_of(const hp_scene_case *c, const hp_lesson_fault *f,
                      hp_lead_sector sector[HP_LEAD_SECTOR_MAX])
{
    hp_wiring wiring = hp_wiring_from_number(c->lesson->correct);
    return hp_drive_sectors(&f->drive, &wiring, sector);
}

/* Where the arrow stands on one side of a quarter turn, over all codes that are driven so. */
typedef struct aside {
    char codes[HP_SCENE_TEXT];
    double least, most; /* [rad] ahead of the rotor */
    int count;
} aside;

/* `early`: the middle of the stretch is more than a quarter turn ahead; else less. */
static aside stands_aside(const hp_lead_sector *sector, int count, bool early)
{
    const double quarter = 90.0 * HP_DEG;
    aside a = {.least = INFINITY, .most = -INFINITY};
    hp_phrase p = hp_phrase_begin(a.codes, sizeof a.codes);
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        double off = 0.5 * (s->lead_from + s->lead_to) - quarter;
        if (s->high < 0 || (early ? off : -off) <= 0.0)
            continue;
        add_code(&p, " and ", s->code);
        a.least = fmin(a.least, s->lead_to);
        a.most = fmax(a.most, s->lead_from);
        a.count++;
    }
    return a;
}

/* Rounded, and never "-0". */
static double degrees(double angle)
{
    return round(angle / HP_DEG) + 0.0;
}

/* Codes of a dead sensor that stay for two steps: where the arrow begins too early, or ends too
 * late. */
static void tell_long_codes(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = sectors_of(c, f, sector), early = -1, late = -1;
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        if (s->high < 0 || s->to - s->from < 90.0 * HP_DEG)
            continue;
        if (s->lead_from + s->lead_to > 180.0 * HP_DEG)
            early = k;
        else
            late = k;
    }
    if (early < 0 || late < 0)
        return;
    char text[2][8] = {"", ""};
    hp_phrase first = hp_phrase_begin(text[0], sizeof text[0]);
    hp_phrase second = hp_phrase_begin(text[1], sizeof text[1]);
    add_code(&first, "", sector[early].code);
    add_code(&second, "", sector[late].code);
    double far = degrees(sector[early].lead_from), near = degrees(sector[late].lead_to);
    char where[40];
    if (near > 0.0)
        snprintf(where, sizeof where, "comes within %.0f degrees of it", near);
    else
        snprintf(where, sizeof where, "catches it");
    hp_scene_say(out,
                 "Two codes last for two steps. At %s the arrow jumps to %.0f degrees ahead: too "
                 "early. At %s the magnet %s: too late.",
                 text[0], far, text[1], where);
}

/* Of the most that an ampere can give, over what is driven of a turn; forward positive. */
static double pull_where_driven(const hp_scene_case *c, const hp_lesson_fault *f)
{
    hp_lesson_pull pull = hp_lesson_pull_of(&f->drive, c->lesson->correct);
    return pull.torque_mean * HP_TWO_PI / (HP_TWO_PI - pull.off);
}

/* Where sensors of the other sort put the arrow, and what mends it. */
static void tell_other_code(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = sectors_of(c, f, sector);
    aside early = stands_aside(sector, count, true), late = stands_aside(sector, count, false);
    if (early.count > 0 && late.count > 0)
        hp_scene_say(out,
                     "At %s the arrow stands %.0f to %.0f degrees ahead: too early. At %s only "
                     "%.0f to %.0f: too late. There each ampere gives %.0f %% on average.",
                     early.codes, degrees(early.least), degrees(early.most), late.codes,
                     degrees(late.least), degrees(late.most), 100.0 * pull_where_driven(c, f));
    hp_scene_say(out,
                 "No order of the leads mends that. It takes a controller made for %d degrees, or "
                 "an inverter in the %s Hall lead.",
                 spacing(f), c->labels->motor_sensor[f->lead]);
}

/* Which steps an open lead takes away. */
static void tell_open_lead(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = sectors_of(c, f, sector), through = 0;
    for (int k = 0; k < count; k++)
        through += sector[k].high >= 0 && (sector[k].high == f->lead || sector[k].low == f->lead);
    hp_scene_say(out,
                 "%d of the %d steps send their current through %s: there none flows, and nothing "
                 "pulls.%s",
                 through, count, c->labels->motor_lead[f->lead],
                 f->judgement.starts == 0 ? " It gets no further than the first of them." : "");
}

/* Turned forward, a wheel behind a one-way clutch leaves the rotor where it is. */
static const char *by_hand(const hp_scene_case *c)
{
    return c->lesson->drive.stand.clutch ? " backward by hand" : " by hand";
}

/* What the meters say before any power. */
static void tell_finding(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    char all[HP_SCENE_TEXT], missing[HP_SCENE_TEXT], good[40] = "Good sensors";
    if (f->kind == HP_LESSON_LEAD_OPEN) {
        tell_open_lead(c, f, out);
        hp_scene_say(out,
                     "Turning%s shows nothing odd: %d codes. Measure between the phase leads, "
                     "battery off: of three pairs the two with %s are open.",
                     by_hand(c), f->codes, c->labels->motor_lead[f->lead]);
        return;
    }
    if (f->kind == HP_LESSON_SENSOR_DEAD)
        hp_scene_say(out, "Turn it%s, and we see %d codes only: %s.", by_hand(c), f->codes,
                     codes_of(f, false, all, sizeof all));
    else {
        snprintf(good, sizeof good, "%d-degree sensors", wanted_spacing(f));
        hp_scene_say(out, "Turn it%s, and we see %d codes: %s.", by_hand(c), f->codes,
                     codes_of(f, false, all, sizeof all));
    }
    if (f->missing > 0)
        hp_scene_say(out,
                     "%s would never show %s. The controller has nothing to do there: all leads "
                     "rest, and the rotor gets no pull.",
                     good, codes_of(f, true, missing, sizeof missing));
    if (f->kind == HP_LESSON_OTHER_CODE)
        tell_other_code(c, f, out);
    else
        tell_long_codes(c, f, out);
}

static void tell_run(const hp_scene_case *c, const hp_lesson_fault *f, hp_scene_words *out)
{
    const hp_judgement *j = &f->judgement;
    if (j->verdict == HP_VERDICT_STALLED) {
        hp_scene_say(out,
                     "It starts from %d of %d positions%s stands, at %.2f A. The good machine "
                     "takes %.2f A running.",
                     j->starts, j->starts_tried, j->starts > 0 ? " and otherwise" : ": it",
                     j->mean.battery_current,
                     hp_scene_judged(c, c->lesson->correct)->mean.battery_current);
        return;
    }
    hp_scene_say(out,
                 "It starts from %d of %d positions. Then it runs %s, at %.0f rev/min, and takes "
                 "%.2f A, %.1f times what the good machine takes.",
                 j->starts, j->starts_tried, j->verdict == HP_VERDICT_ROUGH ? "rough" : "smoothly",
                 hp_scene_rpm(j), j->mean.battery_current, hp_scene_times(c, j));
}

static void ask(const hp_scene_case *c, const hp_lesson_fault *f, const char *name,
                hp_scene_words *out)
{
    char sort[160];
    if (f->kind == HP_LESSON_SENSOR_DEAD)
        snprintf(sort, sizeof sort, " It says %d all the way round.",
                 f->drive.sensors.fault[f->lead] == HP_SENSOR_STUCK_HIGH);
    else if (f->kind == HP_LESSON_LEAD_OPEN)
        snprintf(sort, sizeof sort, " No current gets through it.");
    else
        snprintf(sort, sizeof sort, " They sit %s of a turn apart; the controller is made for %s.",
                 apart(spacing(f)), apart(wanted_spacing(f)));
    hp_scene_ask(out, "Wiring %d is correct. %s%s.%s What will the wheel do?", c->lesson->correct,
                 name, f->own ? ", as in this very machine" : "", sort);
}

static const char *what_to_watch(const hp_lesson_fault *f)
{
    if (f->kind == HP_LESSON_LEAD_OPEN)
        return f->judgement.verdict == HP_VERDICT_STALLED
                   ? "Two leads are driven. How long is there an arrow?"
                   : "At which steps is there no arrow?";
    return f->kind == HP_LESSON_SENSOR_DEAD ? "At which code is no lead driven?"
                                            : "How far ahead is the arrow? Which codes drive no "
                                              "lead?";
}

static void tell(const hp_scene_case *c, hp_scene_words *out)
{
    const hp_lesson *l = c->lesson;
    const hp_lesson_fault *f = &l->fault[c->fault];
    const hp_judgement *j = &f->judgement;
    bool all = j->starts == j->starts_tried;
    char name[HP_SCENE_TEXT];
    name_fault(c, f, name, sizeof name);
    ask(c, f, name, out);
    hp_scene_choose(out, j->verdict == HP_VERDICT_CORRECT, "Run as before");
    hp_scene_choose(out,
                    j->verdict != HP_VERDICT_CORRECT && j->verdict != HP_VERDICT_STALLED && all,
                    "Start every time, but run badly");
    hp_scene_choose(out, j->verdict != HP_VERDICT_STALLED && !all,
                    "Start from some positions and not from others");
    hp_scene_choose(out, j->verdict == HP_VERDICT_STALLED, "Hardly ever get round");
    hp_scene_look(out, "%s", what_to_watch(f));
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
    if (f->kind == HP_LESSON_OTHER_CODE)
        snprintf(run->title, sizeof run->title, "%d-degree Hall sensors", spacing(f));
    else
        snprintf(run->title, sizeof run->title, "%s", name);
}

extern const hp_scene hp_scene_faults;
const hp_scene hp_scene_faults = {"faults", "A faulty part", HP_VIEW_FAULTS, tell};
