/*
 * How the 36 fall into groups, and what their fields do: see the header.
 *
 * Method. Against a reference that runs correctly, a wiring hands each axis of the motor to another
 * one: sensor x is replaced by a(x), lead x by b(x), both permutations of three. Turning all axes
 * together changes nothing, so what counts is the parity of a and the relation a^-1 b: a rotation
 * (both orders turned round or neither) or an exchange (one of them alone). 2 x 6 = 12 groups of
 * three. Nothing here sees a simulated figure.
 */
#include "decide/lesson/lesson_parts.h"

#include "decide/advise/hypothesis.h"
#include "model/backemf.h"
#include "model/lead.h"

#include <assert.h>
#include <math.h>

const char *hp_lesson_kind_name(hp_lesson_kind kind)
{
    static const char *const name[HP_LESSON_KIND_COUNT] = {"matched", "shifted", "crossed"};
    return name[kind];
}

/* to[from[j]] for every j. */
static void replacement(const int from[HP_PHASE_COUNT], const int to[HP_PHASE_COUNT],
                        int out[HP_PHASE_COUNT])
{
    for (int j = 0; j < HP_PHASE_COUNT; j++)
        out[from[j]] = to[j];
}

/* By an odd order of three: just one stays in place. */
static int kept_by(const int order[HP_PHASE_COUNT])
{
    int k = 0;
    while (order[k] != k)
        k++;
    return k;
}

hp_lesson_place hp_lesson_place_of(int number, int reference)
{
    assert(number >= 1 && number <= HP_WIRING_COUNT);
    assert(reference >= 1 && reference <= HP_WIRING_COUNT);
    hp_wiring wiring = hp_wiring_from_number(number), right = hp_wiring_from_number(reference);
    int sensor[HP_PHASE_COUNT], phase[HP_PHASE_COUNT], relation[HP_PHASE_COUNT];
    replacement(right.sensor, wiring.sensor, sensor);
    replacement(right.phase, wiring.phase, phase);
    for (int x = 0; x < HP_PHASE_COUNT; x++)
        for (int y = 0; y < HP_PHASE_COUNT; y++)
            if (sensor[y] == phase[x])
                relation[x] = y;
    hp_lesson_place place = {.sensors_turned = !hp_order_is_even(sensor),
                             .phases_turned = !hp_order_is_even(phase)};
    if (place.sensors_turned != place.phases_turned) {
        place.kind = HP_LESSON_CROSSED;
        place.shift = kept_by(relation);
    } else {
        place.shift = relation[0];
        place.kind = place.shift == 0 ? HP_LESSON_MATCHED : HP_LESSON_SHIFTED;
    }
    return place;
}

static bool same_group(const hp_lesson_place *a, const hp_lesson_place *b)
{
    return a->kind == b->kind && a->shift == b->shift && a->sensors_turned == b->sensors_turned;
}

void hp_lesson_sort(hp_lesson *lesson)
{
    int groups = 0;
    for (int k = 0; k < HP_WIRING_COUNT; k++) {
        hp_lesson_place *place = &lesson->place[k];
        int earlier = 0;
        *place = hp_lesson_place_of(k + 1, lesson->correct);
        while (earlier < k && !same_group(place, &lesson->place[earlier]))
            earlier++;
        if (earlier < k) {
            place->group = lesson->place[earlier].group;
        } else {
            assert(groups < HP_LESSON_GROUPS);
            place->group = groups;
            lesson->group[groups++] = k + 1;
        }
    }
}

hp_lesson_pull hp_lesson_pull_of(const hp_drive *drive, int number)
{
    const hp_backemf *shape = &drive->motor.backemf;
    hp_wiring wiring = hp_wiring_from_number(number);
    hp_lesson_pull pull = {.lead_least = INFINITY,
                           .lead_most = -INFINITY,
                           .torque_least = INFINITY,
                           .torque_most = -INFINITY};
    hp_lead_sector sector[HP_LEAD_SECTOR_MAX];
    double peak = 0.5 * hp_backemf_line_over(shape, 3600).peak;
    int count = hp_drive_sectors(drive, &wiring, sector);
    for (int k = 0; k < count; k++) {
        const hp_lead_sector *s = &sector[k];
        bool off = !hp_lead_flows(s);
        double width = s->to - s->from;
        pull.off += off ? width : 0.0;
        pull.torque_mean += off ? 0.0 : s->torque_mean / peak * width / HP_TWO_PI;
        pull.torque_least = fmin(pull.torque_least, off ? 0.0 : s->torque_min / peak);
        pull.torque_most = fmax(pull.torque_most, off ? 0.0 : s->torque_max / peak);
        if (!off) {
            pull.lead_least = fmin(pull.lead_least, s->lead_to);
            pull.lead_most = fmax(pull.lead_most, s->lead_from);
        }
    }
    return pull;
}
