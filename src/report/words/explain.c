/*
 * Why a wiring does what it does: see the header.
 *
 * Method. Each sector holds one driven pair, so one direction of the field. The rotor turns under
 * it, and the field's lead falls by as much as the rotor turns. Torque per ampere goes as the
 * difference of the two back-EMF shapes (for a sinusoid: the sine of the lead): full at 90 degrees,
 * nothing at 0 and 180, backward below 0. Whether the torque keeps one sense, fades, or changes its
 * sense follows from the sectors' least and greatest torque; the permutation is not looked at.
 */
#include "report/words/explain.h"

#include "base/elementary.h"
#include "base/sine.h"
#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"
#include "model/backemf.h"
#include "report/words/explain_seen.h"
#include "report/words/parts_text.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

/* Torque per ampere below which a pull has faded out. Chosen: sensors 10 degrees out of place leave
 * a smooth wiring 0.77 and give a rough one at most 0.17, so 0.35 stands well apart from both. */
#define FADED 0.35

/* Torque of the wrong sense below which it is a mere touch of the hand-over, not a push. Chosen:
 * sin(20 degrees), twice the displacement of a badly placed sensor. */
#define TOUCH 0.342

/* Mean torque per ampere from which a rotor may gain enough to run past the angles that hold it.
 * Chosen: half of a rough wiring's mean of one half. */
#define PASSABLE 0.25

/* Share of the whole torque below which there is none. Chosen: the sine of 3 degrees. */
#define NOTHING 0.05

/* Sense of the torque at a lead: the sign of its sine tells it for any back-EMF shape that is odd
 * about its zero, and nearly so for the measured ones. */
static double sense(const hp_lead_sector *sector, double lead)
{
    return hp_lead_flows(sector) ? sin(lead) : 0.0;
}

/* The most that (f(x) - f(x - 120 degrees)) / 2 reaches: 1 for a flat of 120 degrees, 0.866 for a
 * sinusoid. In steps of a tenth of a degree, so at most 4e-7 too low. */
static double pair_peak(const hp_backemf *backemf)
{
    return 0.5 * hp_backemf_line_over(backemf, 3600).peak;
}

static void scale_torque(hp_lead_sector *sector, int count, double peak)
{
    for (int k = 0; k < count; k++) {
        sector[k].torque_mean /= peak;
        sector[k].torque_min /= peak;
        sector[k].torque_max /= peak;
    }
}

static void add_rest(hp_pull_sum *sum, double angle)
{
    if (sum->rests < HP_LEAD_SECTOR_MAX)
        sum->rest[sum->rests++] = hp_angle_wrap(angle);
}

/* A rotor rests where the pull behind it is forward and the pull before it is backward: inside a
 * sector where the lead falls through 0, or at a sector's edge. The pull beside an edge is taken a
 * hair into the sector, because at the edge itself it may be nothing. */
static void find_rests(hp_pull_sum *sum, const hp_lead_sector *sector, int count)
{
    const double hair = 1e-6;
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k], *next = &sector[(k + 1) % count];
        if (hp_lead_flows(s) && s->lead_from > hair && s->lead_from < s->to - s->from - hair)
            add_rest(sum, s->from + s->lead_from);
        else if (sense(s, s->lead_to + hair) > 0.0 && sense(next, next->lead_from - hair) < 0.0)
            add_rest(sum, s->to);
    }
}

static int by_angle(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

static hp_pull judge_pull(const hp_pull_sum *sum)
{
    if (sum->off >= HP_TWO_PI - 1e-9)
        return HP_PULL_NONE;
    double against = sum->mean >= 0.0 ? -sum->least : sum->most;
    double weakest = -against;
    if (against > TOUCH)
        return HP_PULL_CHANGING;
    return weakest < FADED || sum->off > 1e-9 ? HP_PULL_FADING : HP_PULL_STEADY;
}

hp_pull_sum hp_pull_sum_make(const hp_lead_sector *sector, int count)
{
    hp_pull_sum sum = {.least = INFINITY, .most = -INFINITY};
    double x = 0.0, y = 0.0;
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        double width = s->to - s->from;
        bool off = !hp_lead_flows(s);
        sum.off += off ? width : 0.0;
        sum.open += s->open ? width : 0.0;
        sum.mean += off ? 0.0 : s->torque_mean * width / HP_TWO_PI;
        sum.least = fmin(sum.least, off ? 0.0 : s->torque_min);
        sum.most = fmax(sum.most, off ? 0.0 : s->torque_max);
        if (!off) {
            double middle = s->lead_from - 0.5 * width;
            x += hp_cosine(middle) * width;
            y += hp_sine(middle) * width;
        }
    }
    sum.lead_middle = hp_direction_of(y, x);
    sum.pull = judge_pull(&sum);
    find_rests(&sum, sector, count);
    qsort(sum.rest, (size_t)sum.rests, sizeof sum.rest[0], by_angle);
    return sum;
}

/* Rounded, and never "-0". */
static double whole_degrees(double angle)
{
    return round(angle / HP_DEG) + 0.0;
}

static double two_decimals(double value)
{
    return round(100.0 * value) / 100.0 + 0.0;
}

static void print_torque(double mean, double least, double most, const hp_screen *out)
{
    fprintf(out->file, "%+5.2f %+5.2f %+5.2f\n", two_decimals(mean), two_decimals(least),
            two_decimals(most));
}

/* Where a sector ends [degrees]: a whole turn, not none. */
static double end_degrees(const hp_lead_sector *sector)
{
    double to = hp_angle_wrap(sector->to);
    return to < 1e-9 ? 360.0 : to / HP_DEG;
}

static void print_sector(const hp_report_case *subject, const hp_lead_sector *sector,
                         const hp_screen *out)
{
    char high[HP_LABEL_SIZE + 8], low[HP_LABEL_SIZE + 8], pair[2 * HP_LABEL_SIZE + 32];
    const hp_labels *labels = subject->labels;
    int code = sector->code;
    fprintf(out->file, "%3.0f to %3.0f  %d%d%d   ", sector->from / HP_DEG, end_degrees(sector),
            code >> 2 & 1, code >> 1 & 1, code & 1);
    if (sector->high < 0) {
        fprintf(out->file, "none: the table lacks this code\n");
        return;
    }
    snprintf(pair, sizeof pair, "%s > %s",
             hp_lead_name(sector->high, labels->motor_lead[sector->high], high, sizeof high),
             hp_lead_name(sector->low, labels->motor_lead[sector->low], low, sizeof low));
    if (hp_text_columns(pair) > 23)
        snprintf(pair, sizeof pair, "%c > %c", hp_phase_letter(sector->high),
                 hp_phase_letter(sector->low));
    hp_text_pad(out->file, pair, 23);
    if (sector->open) {
        fprintf(out->file, " open: no current    ");
        print_torque(0.0, 0.0, 0.0, out);
        return;
    }
    fprintf(out->file, " %4.0f %5.0f to %4.0f  ", sector->field / HP_DEG,
            whole_degrees(sector->lead_from), whole_degrees(sector->lead_to));
    print_torque(sector->torque_mean, sector->torque_min, sector->torque_max, out);
}

/* The same as a sentence, where the table does not fit. */
static void tell_sector(const hp_report_case *subject, const hp_lead_sector *sector,
                        const hp_screen *out)
{
    char high[HP_LABEL_SIZE + 8], low[HP_LABEL_SIZE + 8], text[3 * HP_LABEL_SIZE + 240];
    const hp_labels *labels = subject->labels;
    int code = sector->code;
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    hp_phrase_add(&p, "rotor %.0f to %.0f, code %d%d%d: ", sector->from / HP_DEG,
                  end_degrees(sector), code >> 2 & 1, code >> 1 & 1, code & 1);
    if (sector->high < 0)
        hp_phrase_add(&p, "none driven, the table lacks this code");
    else if (sector->open)
        hp_phrase_add(
            &p, "%s > %s; open: no current",
            hp_lead_name(sector->high, labels->motor_lead[sector->high], high, sizeof high),
            hp_lead_name(sector->low, labels->motor_lead[sector->low], low, sizeof low));
    else
        hp_phrase_add(
            &p, "%s > %s; field at %.0f, %.0f to %.0f ahead; torque %+.2f (%+.2f to %+.2f)",
            hp_lead_name(sector->high, labels->motor_lead[sector->high], high, sizeof high),
            hp_lead_name(sector->low, labels->motor_lead[sector->low], low, sizeof low),
            sector->field / HP_DEG, whole_degrees(sector->lead_from),
            whole_degrees(sector->lead_to), two_decimals(sector->torque_mean),
            two_decimals(sector->torque_min), two_decimals(sector->torque_max));
    hp_text_fill(out, "", 2, text);
}

static void tell_sectors(const hp_report_case *subject, const hp_lead_sector *sector, int count,
                         const hp_pull_sum *sum, const hp_screen *out)
{
    char text[120];
    hp_text_fill(out, "", 0,
                 "Rotor turned forward, step by step: leads driven from + > to -, "
                 "torque per A, mean and (least to most)");
    for (int k = 0; k < count; k++)
        tell_sector(subject, &sector[k], out);
    snprintf(text, sizeof text, "sum over the turn: torque %+.2f (%+.2f to %+.2f)",
             two_decimals(sum->mean), two_decimals(sum->least), two_decimals(sum->most));
    hp_text_fill(out, "", 2, text);
}

#define SECTOR_COLUMNS 79 /* of the table */

static void print_sectors(const hp_report_case *subject, const hp_lead_sector *sector, int count,
                          const hp_pull_sum *sum, const hp_screen *out)
{
    if (out->columns < SECTOR_COLUMNS) {
        tell_sectors(subject, sector, count, sum, out);
        return;
    }
    fprintf(out->file, "Rotor turned forward, step by step\n");
    fprintf(out->file,
            "     rotor  code  motor leads driven     field  field ahead   torque per A\n");
    fprintf(out->file,
            "   degrees        from + > to -              at     of rotor   mean least  most\n");
    for (int k = 0; k < count; k++)
        print_sector(subject, &sector[k], out);
    fprintf(out->file, "%-62s", "sum over the turn");
    print_torque(sum->mean, sum->least, sum->most, out);
}

static void explain_angles(int pole_pairs, const hp_screen *out)
{
    char text[600];
    snprintf(
        text, sizeof text,
        "Angles are electrical degrees: the rotor passes 360 of them %d time%s in one turn. A step "
        "is the stretch over which one code stands. The field pulls the rotor towards itself: "
        "ahead by 90 degrees it pulls forward hardest, ahead by 0 or 180 not at all, and with less "
        "than 0 it is behind and pulls backward. Torque, the pull round, is per ampere, +1.00 "
        "being the most this motor can give.",
        pole_pairs, pole_pairs == 1 ? "" : "s");
    hp_text_fill(out, "", 0, text);
}

/* What the simulation made of it; COUNT where there was none. */
static hp_verdict outcome_of(const hp_judgement *simulated)
{
    return simulated ? simulated->verdict : HP_VERDICT_COUNT;
}

/* What a pull like this leads to by itself, or what the simulation says where that differs. */
static const char *outcome_steady(const hp_pull_sum *sum, const hp_judgement *simulated)
{
    bool forward = sum->mean > 0.0;
    switch (outcome_of(simulated)) {
    case HP_VERDICT_ROUGH:
        if (simulated->kind == HP_KIND_LATE)
            return ". In the simulation it runs rough all the same: its field is too late.";
        if (simulated->kind == HP_KIND_EARLY)
            return ". In the simulation it runs rough all the same: its field is too early.";
        return ". In the simulation it runs rough all the same: the cause lies elsewhere.";
    case HP_VERDICT_STALLED:
        return ". In the simulation it does not turn all the same: the cause lies elsewhere.";
    case HP_VERDICT_UNDECIDED: return ".";
    case HP_VERDICT_CORRECT: forward = true; break;
    case HP_VERDICT_REVERSE: forward = false; break;
    case HP_VERDICT_COUNT: break;
    }
    return forward ? ": this wiring runs smoothly forward."
                   : ": this wiring runs smoothly backward.";
}

static void explain_steady(const hp_pull_sum *sum, const hp_judgement *simulated, char *text,
                           size_t size)
{
    snprintf(text, size,
             "The field keeps about %.0f degrees ahead of the rotor%s in every step. The pull is "
             "%s all the way and never fades%s",
             fabs(sum->lead_middle / HP_DEG), sum->mean > 0.0 ? "" : ", seen backward,",
             sum->mean > 0.0 ? "forward" : "backward", outcome_steady(sum, simulated));
}

/* Whether what the simulation came to is told in figures behind the pull (explain_seen.c), so that
 * it need not be said in general words here. */
static bool figures_follow(const hp_judgement *simulated)
{
    return simulated && simulated->measured;
}

/* Whether the simulated rotor turns against this pull. */
static bool turns_against(const hp_judgement *simulated, double pull)
{
    return simulated && simulated->rotor_direction ==
                            (pull > 0.0 ? HP_DIRECTION_BACKWARD : HP_DIRECTION_FORWARD);
}

static const char *outcome_fading(const hp_pull_sum *sum, const hp_judgement *simulated)
{
    switch (outcome_of(simulated)) {
    case HP_VERDICT_CORRECT:
    case HP_VERDICT_REVERSE:
        return "At standstill that is a bad field. In the simulation it runs smoothly all the "
               "same, because at this speed the current lags behind the field.";
    case HP_VERDICT_STALLED:
        if (figures_follow(simulated))
            return "";
        return simulated->starts > 0
                   ? "In the simulation the motor does not turn from most start positions."
                   : "In the simulation the motor does not turn.";
    case HP_VERDICT_UNDECIDED: return "Such a field draws much more current.";
    case HP_VERDICT_ROUGH:
        if (turns_against(simulated, sum->mean))
            return "In the simulation the rotor turns the other way all the same, and rough.";
        if (figures_follow(simulated))
            return "";
        break;
    case HP_VERDICT_COUNT: break;
    }
    return "The motor runs rough, draws much more current, and may refuse to start from some "
           "angles.";
}

/* "it is too late", where the simulation told the same if it turned; else empty. */
static const char *fading_name(double ahead, const hp_judgement *simulated)
{
    hp_verdict outcome = outcome_of(simulated);
    hp_rough_kind kind = ahead < 90.0 ? HP_KIND_LATE : HP_KIND_EARLY;
    if (outcome == HP_VERDICT_ROUGH && simulated->kind != kind)
        kind = HP_KIND_NONE;
    if (outcome == HP_VERDICT_CORRECT || outcome == HP_VERDICT_REVERSE)
        kind = HP_KIND_NONE;
    return kind == HP_KIND_LATE    ? ": it is too late"
           : kind == HP_KIND_EARLY ? ": it is too early"
                                   : "";
}

/* What an ampere gives where the pull fades: against the correct wiring, or against the most that
 * this motor gives where none is known (`best` 0). */
static const char *torque_words(const hp_pull_sum *sum, double best, char *out, size_t size)
{
    double whole = best > 0.0 ? best : 1.0;
    double weakest = (sum->mean >= 0.0 ? sum->least : -sum->most) / whole;
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "On average an ampere gives %.0f %% of the pull that %s, ",
                  100.0 * fabs(sum->mean) / whole,
                  best > 0.0 ? "it gives in the correct wiring" : "it could give");
    if (weakest > NOTHING)
        hp_phrase_add(&p, "at the weakest angle %.0f %%.", 100.0 * weakest);
    else if (weakest < -NOTHING)
        hp_phrase_add(&p, "and at the worst angle it pulls the other way.");
    else
        hp_phrase_add(&p, "and at the weakest angle none.");
    return out;
}

/* Late and early count from the sense in which the rotor then turns. */
static void explain_fading(const hp_pull_sum *sum, const hp_judgement *simulated, double best,
                           char *text, size_t size)
{
    char torque[200];
    const char *outcome = outcome_fading(sum, simulated);
    const char *way = sum->mean > 0.0 ? "forward" : "backward";
    double ahead = hp_angle_wrap(sum->mean > 0.0 ? sum->lead_middle : -sum->lead_middle) / HP_DEG;
    if (sum->off > 1e-9)
        snprintf(text, size, "What remains pulls %s.", way);
    else
        snprintf(text, size,
                 "The pull is %s on the whole, but in the middle of a step the field stands about "
                 "%.0f degrees ahead, seen that way, instead of 90%s. %s%s%s",
                 way, ahead, fading_name(ahead, simulated),
                 torque_words(sum, best, torque, sizeof torque), outcome[0] ? " " : "", outcome);
}

static const char *outcome_changing(const hp_pull_sum *sum, const hp_judgement *simulated)
{
    switch (outcome_of(simulated)) {
    case HP_VERDICT_CORRECT:
    case HP_VERDICT_REVERSE:
        return "In the simulation momentum carries it past them, and it runs smoothly all the "
               "same.";
    case HP_VERDICT_ROUGH:
        return simulated->rotor_direction == HP_DIRECTION_NONE
                   ? "The rotor shuffles about there, and pumps the wheel forward through the "
                     "clutch."
                   : "Momentum carries it past them, and it turns, but rough.";
    case HP_VERDICT_STALLED:
        if (figures_follow(simulated))
            return "";
        return simulated->starts > 0
                   ? "From most start positions the rotor stops or shivers there, and all the "
                     "current turns into heat."
                   : "The rotor stops or shivers there, and all the current turns into heat.";
    case HP_VERDICT_UNDECIDED: return "";
    case HP_VERDICT_COUNT: break;
    }
    return fabs(sum->mean) > PASSABLE
               ? "Momentum may carry it past them, and then it turns, but rough."
               : "The rotor stops or shivers there, and all the current turns into heat.";
}

/* The same where the pull holds the rotor at no angle. */
static const char *outcome_nowhere(const hp_judgement *simulated)
{
    switch (outcome_of(simulated)) {
    case HP_VERDICT_CORRECT:
    case HP_VERDICT_REVERSE: return " In the simulation it runs smoothly all the same.";
    case HP_VERDICT_ROUGH: return " In the simulation it turns, but rough.";
    case HP_VERDICT_STALLED:
        return figures_follow(simulated) ? "" : " In the simulation the motor does not turn.";
    case HP_VERDICT_UNDECIDED:
    case HP_VERDICT_COUNT: break;
    }
    return "";
}

static void explain_changing(const hp_pull_sum *sum, const hp_judgement *simulated, char *text,
                             size_t size)
{
    hp_phrase p = hp_phrase_begin(text, size);
    double left = round(100.0 * sum->mean) + 0.0;
    hp_phrase_add(
        &p,
        "The pull changes sides as the rotor turns: forward with up to %.0f %% of what an "
        "ampere can give, backward with up to %.0f %%; over a whole turn %.0f %% %sis "
        "left.",
        100.0 * sum->most, -100.0 * sum->least, fabs(left),
        left > 0.0   ? "forward "
        : left < 0.0 ? "backward "
                     : "");
    if (sum->rests == 0) {
        hp_phrase_add(&p, "%s", outcome_nowhere(simulated));
        return;
    }
    hp_phrase_add(&p, " Between them it pulls the rotor back to about");
    for (int k = 0; k < sum->rests; k++)
        hp_phrase_add(&p, "%s %.0f",
                      k == 0                ? ""
                      : k + 1 == sum->rests ? " or"
                                            : ",",
                      sum->rest[k] / HP_DEG);
    const char *outcome = outcome_changing(sum, simulated);
    hp_phrase_add(&p, " electrical degrees.%s%s", outcome[0] ? " " : "", outcome);
}

/* Where nothing pulls, whatever the field does elsewhere: for want of a code, or of a lead. */
static void explain_gaps(const hp_report_case *subject, const hp_pull_sum *sum, hp_phrase *out)
{
    const hp_motor_params *motor = &subject->drive->motor;
    double lacking = sum->off - sum->open;
    static const char *const letter[HP_PHASE_COUNT] = {"U", "V", "W"};
    const char(*label)[HP_LABEL_SIZE] = subject->labels->motor_lead;
    int open = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open += motor->lead_open[k];
    for (int k = 0, told = 0; k < HP_PHASE_COUNT && sum->open > 1e-9; k++)
        if (motor->lead_open[k])
            hp_phrase_add(out, "%s%s",
                          told++ == 0    ? "The "
                          : told == open ? " and "
                                         : ", ",
                          label[k][0] ? label[k] : letter[k]);
    if (sum->open > 1e-9)
        hp_phrase_add(out,
                      " phase lead%s open: over %.0f of 360 electrical degrees the current would "
                      "have to flow through %s, so none flows and nothing pulls. ",
                      open == 1 ? " is" : "s are", sum->open / HP_DEG, open == 1 ? "it" : "them");
    if (lacking > 1e-9 && sum->pull != HP_PULL_NONE)
        hp_phrase_add(out,
                      "Over %.0f of 360 electrical degrees no lead is driven at all, because the "
                      "controller's table lacks the code that it sees there: from rest at those "
                      "angles the motor does not start. ",
                      lacking / HP_DEG);
}

static void explain_sum(const hp_pull_sum *sum, const hp_judgement *simulated, double best,
                        char *text, size_t size)
{
    switch (sum->pull) {
    case HP_PULL_STEADY: explain_steady(sum, simulated, text, size); break;
    case HP_PULL_FADING: explain_fading(sum, simulated, best, text, size); break;
    case HP_PULL_CHANGING: explain_changing(sum, simulated, text, size); break;
    default:
        snprintf(text, size, "%s",
                 sum->open > 1e-9 ? "The motor gets no current."
                                  : "The table drives no pair at any angle, because it lacks every "
                                    "code that the controller sees. The motor gets no current.");
        break;
    }
}

/* What turns which way: the wheel, and the rotor where it does something else. */
static void put_way(const hp_report_row *row, char *text, size_t size)
{
    const char *way =
        row->direction == HP_DIRECTION_BOTH ? "both ways" : hp_direction_name(row->direction);
    if (row->rotor_direction == row->direction)
        snprintf(text, size, "%s", way);
    else if (row->rotor_direction == HP_DIRECTION_NONE)
        snprintf(text, size, "the wheel %s, the rotor to and fro", way);
    else
        snprintf(text, size, "the wheel %s, the rotor %s", way,
                 row->rotor_direction == HP_DIRECTION_BOTH
                     ? "both ways"
                     : hp_direction_name(row->rotor_direction));
}

static void print_simulated(const hp_report_case *subject, const hp_wiring *wiring,
                            const hp_judgement *simulated, const hp_screen *out)
{
    char text[700], way[80], clean[sizeof simulated->reason];
    hp_report_row row = hp_report_row_make(hp_wiring_number(wiring), simulated);
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    put_way(&row, way, sizeof way);
    hp_phrase_add(&p, "%s", hp_verdict_name(row.verdict));
    if (row.verdict == HP_VERDICT_ROUGH)
        hp_phrase_add(&p, "%s%s, %s", row.kind == HP_KIND_NONE ? "" : ", ",
                      hp_rough_kind_name(row.kind), way);
    hp_phrase_add(&p, ": %s.", hp_text_clean(simulated->reason, clean, sizeof clean));
    if (row.measured)
        hp_phrase_add(&p, " Rotor at %.1f rev/min, %.2f A from the battery", fabs(row.speed_rpm),
                      row.battery_current_a);
    if (row.measured && row.rotor_direction != row.direction)
        hp_phrase_add(&p, ", wheel at %.1f rev/min", fabs(row.wheel_speed_rpm));
    if (row.measured)
        hp_phrase_add(&p, " at %.4g %% throttle.", 100.0 * subject->drive->controller.throttle);
    hp_text_fill(out, "Simulated", HP_PARTS_INDENT, text);
}

/* The sectors with their torque relative to the most that a pair of leads can give. */
static int find_sectors(const hp_report_case *subject, const hp_wiring *wiring,
                        hp_lead_sector sector[HP_LEAD_SECTOR_MAX])
{
    const hp_drive *drive = subject->drive;
    int count = hp_drive_sectors(drive, wiring, sector);
    scale_torque(sector, count, pair_peak(&drive->motor.backemf));
    return count;
}

/* All that is said of one wiring. */
typedef struct telling {
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    int count;
    hp_pull_sum sum;
    const hp_judgement *simulated;
    double best; /* torque per ampere of the correct wiring, as hp_pull_sum's mean; 0: none known */
} telling;

static telling telling_of(const hp_report_case *subject, const hp_wiring *wiring,
                          const hp_survey *survey)
{
    telling t = {.count = 0};
    int correct = survey ? hp_survey_first_correct(survey) : 0;
    if (survey)
        t.simulated = &survey->judgement[hp_wiring_number(wiring) - 1];
    if (correct) {
        hp_wiring w = hp_wiring_from_number(correct);
        t.count = find_sectors(subject, &w, t.sector);
        t.best = fabs(hp_pull_sum_make(t.sector, t.count).mean);
        t.best = t.best < NOTHING ? 0.0 : t.best; /* correct by momentum alone */
    }
    t.count = find_sectors(subject, wiring, t.sector);
    t.sum = hp_pull_sum_make(t.sector, t.count);
    return t;
}

static char *put_sentences(const hp_report_case *subject, const telling *t, int number,
                           const hp_survey *survey, char *out, size_t size)
{
    char pull[HP_EXPLAIN_WORDS];
    explain_sum(&t->sum, t->simulated, t->best, pull, sizeof pull);
    hp_phrase p = hp_phrase_begin(out, size);
    explain_gaps(subject, &t->sum, &p);
    hp_phrase_add(&p, "%s", pull);
    if (survey)
        hp_explain_seen(subject, &t->sum, survey, number, &p);
    return out;
}

char *hp_explain_sentences(const hp_report_case *subject, const hp_wiring *wiring,
                           const hp_survey *survey, char *out, size_t size)
{
    telling t = telling_of(subject, wiring, survey);
    return put_sentences(subject, &t, hp_wiring_number(wiring), survey, out, size);
}

void hp_explain_print(const hp_report_case *subject, const hp_wiring *wiring,
                      const hp_survey *survey, const hp_screen *out)
{
    char text[HP_EXPLAIN_WORDS];
    telling t = telling_of(subject, wiring, survey);
    int number = hp_wiring_number(wiring);
    fprintf(out->file, "Wiring %d\n", number);
    hp_joints_print(subject, wiring, out);
    fputc('\n', out->file);
    explain_angles(subject->drive->motor.pole_pairs, out);
    fputc('\n', out->file);
    print_sectors(subject, t.sector, t.count, &t.sum, out);
    fputc('\n', out->file);
    hp_text_fill(out, "", 0, put_sentences(subject, &t, number, survey, text, sizeof text));
    if (survey) {
        fputc('\n', out->file);
        print_simulated(subject, wiring, t.simulated, out);
    }
    fputc('\n', out->file);
    hp_cautions_print(out);
}
