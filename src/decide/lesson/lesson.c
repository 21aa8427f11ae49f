/*
 * What the evening needs of one machine: see the header.
 *
 * The survey of all 36 tells what each does; scenes pick from it by figures, and by permutations
 * only where a scene is about them ("exchange two leads of the one that runs"). A limit on the
 * supply is simulated as the controller's battery limit at so much: both hold the mean battery
 * current.
 */
#include "decide/lesson/lesson_parts.h"

#include "decide/judge/survey_runs.h"
#include "hubphase/decide/advice.h"
#include "model/lead.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- progress over several pieces of work ---------------------------------------------------- */

#define WHOLE 1000 /* steps that the work is told in */

typedef struct share {
    hp_progress progress; /* may be NULL */
    void *user;
    int from, to; /* of WHOLE: this piece */
} share;

static int tell_share(void *user, int done, int total)
{
    const share *s = user;
    int at = s->from + (int)((double)(s->to - s->from) * done / (total > 0 ? total : 1));
    return s->progress ? s->progress(s->user, at, WHOLE) : 0;
}

/* Options of a piece of the work. `s` must outlive them. */
static hp_survey_options piece(const hp_lesson *lesson, share *s, int from, int to)
{
    hp_survey_options options = lesson->options;
    *s = (share){options.progress, options.user, from, to};
    options.progress = tell_share;
    options.user = s;
    return options;
}

/* ---- mended ---------------------------------------------------------------------------------- */

static int count_missing(const hp_drive *drive, int number, int code[HP_CODE_COUNT], int *codes)
{
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count = hp_drive_sectors(drive, &wiring, sector);
    int missing = 0;
    *codes = 0;
    for (int k = 0; k < count; k++) {
        missing += sector[k].high < 0;
        if (*codes < HP_CODE_COUNT)
            code[(*codes)++] = sector[k].code;
    }
    return missing;
}

static bool lacks_codes(const hp_drive *drive)
{
    int code[HP_CODE_COUNT], codes;
    return count_missing(drive, 1, code, &codes) > 0;
}

/* The machine without the faults that a scenario can state. */
static hp_drive mend(const hp_drive *stated)
{
    hp_drive drive = *stated;
    drive.sensors.no_supply = false;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        drive.sensors.fault[k] = HP_SENSOR_SOUND;
        drive.motor.lead_open[k] = false;
    }
    if (lacks_codes(&drive))
        drive.sensors.spacing_60 = !drive.sensors.spacing_60;
    return drive;
}

static bool is_mended(const hp_drive *stated, const hp_drive *drive)
{
    return !hp_drive_is_sound(stated) || stated->sensors.spacing_60 != drive->sensors.spacing_60;
}

/* ---- the wirings that scenes show ------------------------------------------------------------ */

static const hp_judgement *judged(const hp_lesson *lesson, int number)
{
    return &lesson->survey.judgement[number - 1];
}

/* The correct wiring with the phase lead of output j put where that of output order[j] was. */
static int with_phases(int correct, const int order[HP_PHASE_COUNT])
{
    hp_wiring right = hp_wiring_from_number(correct), wiring = right;
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        wiring.phase[j] = right.phase[order[j]];
    return hp_wiring_number(&wiring);
}

/* Of these orders of the phase leads the first whose verdict is wanted, else the first. */
static int pick(const hp_lesson *lesson, const int order[][HP_PHASE_COUNT], int count,
                hp_verdict wanted)
{
    for (int k = 0; k < count; k++) {
        int number = with_phases(lesson->correct, order[k]);
        if (judged(lesson, number)->verdict == wanted)
            return number;
    }
    return with_phases(lesson->correct, order[0]);
}

/* Rough, and yet nothing but an ammeter says so. */
static bool looks_well(const hp_lesson *lesson, int number)
{
    const hp_judgement *j = judged(lesson, number), *right = judged(lesson, lesson->correct);
    return j->verdict == HP_VERDICT_ROUGH && j->measured && j->direction == HP_DIRECTION_FORWARD &&
           j->starts == j->starts_tried &&
           j->mean.wheel_speed >= HP_LESSON_FAST_SHARE * right->mean.wheel_speed;
}

static int find_trap(const hp_lesson *lesson)
{
    int trap = 0;
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (looks_well(lesson, n) && (trap == 0 || judged(lesson, n)->mean.wheel_speed >
                                                       judged(lesson, trap)->mean.wheel_speed))
            trap = n;
    return trap;
}

static void count_found(hp_lesson *lesson)
{
    double small = HP_CURRENT_SMALL * judged(lesson, lesson->correct)->mean.battery_current;
    for (int n = 1; n <= HP_WIRING_COUNT; n++) {
        const hp_judgement *j = judged(lesson, n);
        if (j->verdict != HP_VERDICT_ROUGH && j->verdict != HP_VERDICT_STALLED)
            continue;
        lesson->wrong++;
        lesson->found_by_current += j->measured && j->mean.battery_current > small;
        lesson->found_by_starts += j->starts < j->starts_tried;
        lesson->found_by_eye += j->direction != HP_DIRECTION_FORWARD;
    }
}

static void pick_wirings(hp_lesson *lesson)
{
    static const int exchanged[][HP_PHASE_COUNT] = {{1, 0, 2}, {0, 2, 1}, {2, 1, 0}};
    static const int moved_on[][HP_PHASE_COUNT] = {{1, 2, 0}, {2, 0, 1}};
    for (int n = HP_WIRING_COUNT; n >= 1; n--)
        if (judged(lesson, n)->verdict == HP_VERDICT_REVERSE)
            lesson->reverse = n;
    lesson->crossed = pick(lesson, exchanged, 3, HP_VERDICT_STALLED);
    lesson->shifted = pick(lesson, moved_on, 2, HP_VERDICT_ROUGH);
    lesson->trap = find_trap(lesson);
    count_found(lesson);
}

/* ---- with a limit ---------------------------------------------------------------------------- */

/* From this share of the limit on a mean current stands at it. Chosen: a correct wiring draws a
 * third of it, and what limiters and ripple take off is less than a tenth. */
#define AT_LIMIT 0.8

/* What so many runs of one wiring did. */
static hp_lesson_limit mean_of(const hp_figures *run, int count, double limit_a)
{
    hp_lesson_limit mean = {0.0, 0.0, false};
    for (int k = 0; k < count; k++) {
        mean.wheel_rad_s += run[k].wheel_speed / count;
        mean.battery_a += run[k].battery_current / count;
    }
    mean.reached = mean.battery_a >= AT_LIMIT * limit_a;
    return mean;
}

/* Both wirings from every start position; without a trap the correct one alone. */
static hp_result run_limited(hp_lesson *lesson, int from, int to, hp_error *err)
{
    share s;
    hp_survey_options options = piece(lesson, &s, from, to);
    hp_drive drive = lesson->drive;
    double stated = drive.controller.battery_limit_a, limit = lesson->limit_a;
    hp_wiring wiring[2] = {hp_wiring_from_number(lesson->correct)};
    if (lesson->trap)
        wiring[1] = hp_wiring_from_number(lesson->trap);
    drive.controller.battery_limit_a = stated > 0.0 ? fmin(stated, limit) : limit;
    hp_figures *run = calloc(2 * (size_t)options.starts, sizeof *run);
    if (!run)
        return hp_error_set(err, HP_FAIL_MEMORY, "no memory for a lesson");
    hp_result result = hp_survey_runs(&drive, &options, wiring, lesson->trap ? 2 : 1, run, err);
    if (result == HP_OK)
        lesson->limited_correct = mean_of(run, options.starts, limit);
    if (result == HP_OK && lesson->trap)
        lesson->limited_trap = mean_of(run + options.starts, options.starts, limit);
    free(run);
    return result;
}

/* ---- faults ---------------------------------------------------------------------------------- */

static bool is_stuck(hp_sensor_fault fault)
{
    return fault == HP_SENSOR_STUCK_HIGH || fault == HP_SENSOR_STUCK_LOW;
}

static void break_sensor(const hp_lesson *lesson, hp_lesson_fault *fault)
{
    hp_sensor_fault how = HP_SENSOR_STUCK_HIGH;
    for (int k = HP_PHASE_COUNT - 1; k >= 0; k--)
        if (is_stuck(lesson->stated.sensors.fault[k])) {
            fault->lead = k;
            fault->own = true;
            how = lesson->stated.sensors.fault[k];
        }
    fault->drive.sensors.fault[fault->lead] = how;
}

static void break_lead(const hp_lesson *lesson, hp_lesson_fault *fault)
{
    for (int k = HP_PHASE_COUNT - 1; k >= 0; k--)
        if (lesson->stated.motor.lead_open[k]) {
            fault->lead = k;
            fault->own = true;
        }
    fault->drive.motor.lead_open[fault->lead] = true;
}

static void change_code(const hp_lesson *lesson, hp_lesson_fault *fault)
{
    bool sixty = lesson->drive.sensors.spacing_60;
    fault->lead = HP_V;
    fault->own = lesson->stated.sensors.spacing_60 != sixty;
    fault->drive.sensors.spacing_60 = !sixty;
}

static hp_result make_fault(hp_lesson *lesson, hp_lesson_fault_kind kind, int from, int to,
                            hp_error *err)
{
    static void (*const breaks[])(const hp_lesson *, hp_lesson_fault *) = {break_sensor, break_lead,
                                                                           change_code};
    hp_lesson_fault *fault = &lesson->fault[kind];
    hp_wiring wiring = hp_wiring_from_number(lesson->correct);
    share s;
    hp_survey_options options = piece(lesson, &s, from, to);
    *fault = (hp_lesson_fault){.kind = kind, .lead = HP_U, .drive = lesson->drive};
    breaks[kind](lesson, fault);
    fault->missing = count_missing(&fault->drive, lesson->correct, fault->code, &fault->codes);
    return hp_survey_one(&fault->drive, &wiring, &options, &fault->judgement, err);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static hp_result survey_all(hp_lesson *lesson, hp_error *err)
{
    share s;
    hp_survey_options options = piece(lesson, &s, 0, 600);
    hp_result result = hp_survey_run(&lesson->drive, &options, &lesson->survey, err);
    if (result != HP_OK)
        return result;
    lesson->correct = hp_survey_first_correct(&lesson->survey);
    if (lesson->correct == 0)
        return hp_error_set(err, HP_FAIL_INPUT,
                            "not one of the 36 wirings of this machine runs correctly%s, so there "
                            "is nothing to show: see `hubphase survey' for why",
                            lesson->mended ? ", mended" : "");
    return HP_OK;
}

static hp_result work(hp_lesson *lesson, hp_error *err)
{
    hp_result result = survey_all(lesson, err);
    if (result != HP_OK)
        return result;
    hp_lesson_sort(lesson);
    pick_wirings(lesson);
    lesson->limit_a = HP_CURRENT_SMALL * judged(lesson, lesson->correct)->mean.battery_current;
    result = run_limited(lesson, 600, 750, err);
    for (int k = 0; k < HP_LESSON_FAULT_COUNT && result == HP_OK; k++)
        result = make_fault(lesson, (hp_lesson_fault_kind)k, 750 + 80 * k, 830 + 80 * k, err);
    return result == HP_OK ? hp_lesson_count_tries(lesson, err) : result;
}

hp_result hp_lesson_make(const hp_drive *drive, const hp_survey_options *options, hp_lesson *lesson,
                         hp_error *err)
{
    memset(lesson, 0, sizeof *lesson);
    hp_result result = hp_survey_options_check(options, err);
    if (result == HP_OK)
        result = hp_drive_check(drive, err);
    if (result != HP_OK)
        return result;
    lesson->stated = *drive;
    lesson->drive = mend(drive);
    lesson->mended = is_mended(drive, &lesson->drive);
    lesson->options = *options;
    result = work(lesson, err);
    if (result != HP_OK)
        hp_lesson_free(lesson);
    return result;
}

hp_lesson_fault_kind hp_lesson_usual_fault(const hp_lesson *lesson)
{
    for (int k = 0; k < HP_LESSON_FAULT_COUNT; k++)
        if (lesson->fault[k].own)
            return (hp_lesson_fault_kind)k;
    return (hp_lesson_fault_kind)0;
}

void hp_lesson_free(hp_lesson *lesson)
{
    if (!lesson)
        return;
    hp_survey_free(&lesson->survey);
    memset(lesson, 0, sizeof *lesson);
}
