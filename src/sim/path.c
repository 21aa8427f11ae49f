/* Does a run go the way of an earlier one? See the header. */
#include "sim/path.h"

#include <math.h>
#include <string.h>

/* A state lies on a path if no quantity is farther than this share of its size from the straight
 * line between two of the path's states. chosen: of what it does to a likelihood table,
 * docs/performance.md. */
#define NEAR_SHARE 0.002
/* ... and the run goes its way after so many in a row: one may lie where it only crosses. chosen.
 */
#define NEAR_TIMES 3

/* What a run that never settled showed depends on when: of its path only states are compared that
 * it had at nearly the same time [s]. */
#define LAG_MAX 0.01

void hp_paths_clear(hp_paths *paths)
{
    paths->count = 0;
}

void hp_paths_begin(hp_paths *paths)
{
    paths->near = paths->followed = -1;
    paths->times = 0;
    if (paths->count < HP_PATH_COUNT) {
        hp_path *own = &paths->path[paths->count];
        own->count = own->skipped = 0;
        own->stride = 1;
    }
}

static int mode_of(const hp_machine *m)
{
    int mode = m->code;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        mode = 2 * mode + m->inside[k];
    return ((2 * mode + m->joint) * 2 + m->cut_out) * HP_DUTY_MODE_COUNT + (int)m->duty_mode;
}

static hp_waypoint waypoint(const hp_machine *m, double t, const double *y, hp_calm_moment moment)
{
    hp_waypoint p = {.moment = (int)moment, .mode = mode_of(m), .time = t};
    memcpy(p.y, y, sizeof p.y);
    p.y[HP_Y_THETA] = hp_angle_wrap(y[HP_Y_THETA]);
    return p;
}

/* Sizes beside which a difference of states counts. */
static void sizes(const hp_waypoint *p, double size[HP_STATE_DYNAMIC])
{
    double current = 0.0;
    for (int k = HP_Y_CURRENT; k < HP_Y_CURRENT + HP_PHASE_COUNT; k++)
        current = fmax(current, fabs(p->y[k]));
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        size[k] = fabs(p->y[k]);
    for (int k = HP_Y_CURRENT; k < HP_Y_CURRENT + HP_PHASE_COUNT; k++)
        size[k] = current;
    size[HP_Y_THETA] = 1.0;
    size[HP_Y_PHASE_FILTER] = fmax(size[HP_Y_PHASE_FILTER], 0.1 * current);
    size[HP_Y_BATTERY_FILTER] = fmax(size[HP_Y_BATTERY_FILTER], 0.1 * current);
}

static double apart(const double *a, const double *b, int k)
{
    double d = b[k] - a[k];
    return k == HP_Y_THETA ? remainder(d, HP_TWO_PI) : d;
}

static bool is_alike(const hp_waypoint *a, const hp_waypoint *b)
{
    return a->moment == b->moment && a->mode == b->mode;
}

/* Whether a state lies on the straight line between two. */
static bool lies_between(const hp_waypoint *p, const double size[HP_STATE_DYNAMIC],
                         const hp_waypoint *a, const hp_waypoint *b)
{
    double along = 0.0, length = 0.0;
    /* The commonest reasons first. */
    double speed = fmin(fabs(apart(a->y, p->y, HP_Y_SPEED)), fabs(apart(b->y, p->y, HP_Y_SPEED)));
    if (speed > fabs(apart(a->y, b->y, HP_Y_SPEED)) + NEAR_SHARE * size[HP_Y_SPEED])
        return false;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++) {
        if (size[k] == 0.0)
            continue;
        double way = apart(a->y, b->y, k) / size[k];
        along += way * apart(a->y, p->y, k) / size[k];
        length += way * way;
    }
    double s = length > 0.0 ? fmin(fmax(along / length, 0.0), 1.0) : 0.0;
    for (int k = 0; k < HP_STATE_DYNAMIC; k++)
        if (fabs(apart(a->y, p->y, k) - s * apart(a->y, b->y, k)) > NEAR_SHARE * size[k])
            return false;
    return true;
}

static bool lies_on(const hp_waypoint *p, const double size[HP_STATE_DYNAMIC], const hp_path *path)
{
    for (int k = 0; k + 1 < path->count; k++) {
        const hp_waypoint *a = &path->point[k], *b = a + 1;
        bool timely =
            path->settled || (p->time >= a->time - LAG_MAX && p->time <= b->time + LAG_MAX);
        if (timely && is_alike(p, a) && is_alike(p, b) && lies_between(p, size, a, b))
            return true;
    }
    return false;
}

static void keep(hp_path *path, const hp_waypoint *p)
{
    if (++path->skipped < path->stride)
        return;
    path->skipped = 0;
    if (path->count == HP_PATH_POINTS) {
        for (int k = 0; 2 * k < HP_PATH_POINTS; k++)
            path->point[k] = path->point[2 * k];
        path->count = HP_PATH_POINTS / 2;
        path->stride *= 2;
    }
    path->point[path->count++] = *p;
}

bool hp_paths_take(hp_paths *paths, const hp_machine *m, double t, const double *y,
                   hp_calm_moment moment)
{
    hp_waypoint p = waypoint(m, t, y, moment);
    double size[HP_STATE_DYNAMIC];
    sizes(&p, size);
    int near = -1;
    for (int k = 0; k < paths->count && near < 0; k++)
        if (lies_on(&p, size, &paths->path[k]))
            near = k;
    paths->times = near >= 0 && near == paths->near ? paths->times + 1 : near >= 0;
    paths->near = near;
    if (paths->times >= NEAR_TIMES) {
        paths->followed = near;
        return true;
    }
    if (paths->count < HP_PATH_COUNT)
        keep(&paths->path[paths->count], &p);
    return false;
}

void hp_paths_end(hp_paths *paths, bool settled, hp_figures *figures)
{
    if (figures->status != HP_OK)
        return;
    if (paths->followed >= 0) {
        hp_figures own = *figures;
        *figures = paths->path[paths->followed].figures;
        figures->start_angle = own.start_angle;
        figures->seconds = own.seconds;
        figures->events = own.events;
        figures->steps = own.steps;
        figures->rhs = own.rhs;
    } else if (paths->count < HP_PATH_COUNT) {
        paths->path[paths->count].settled = settled;
        paths->path[paths->count++].figures = *figures;
    }
}
