/*
 * `hubphase compare` held to its word: machines that changed in one way, and machines that did not.
 *
 *   compare_bench HUBPHASE FOLDER CASES [RESULT_FILE]
 *   compare_bench HUBPHASE FOLDER tell CASE
 *
 * The same person commissions a machine twice. In between one thing changed, in every other case
 * nothing. How often is what changed named, how often an unchanged machine accused? Asked three
 * ways: the meters are the same, and nobody says so; they are, and it is said; they are others.
 *
 * Exit status 1 when unchanged machines are accused more often than stated, or the program fails.
 */
#include "../chance.h"
#include "bench_result.h"
#include "finished_driver.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static uint64_t seed = 20261129;

/* How the meters of the second day are, and what is said of them. */
typedef enum meters {
    METERS_SAME,
    METERS_SAID_SAME,
    METERS_OTHERS,
    METERS_MISSAID, /* others, though they are said to be the same: told, held to nothing */
    METERS_COUNT
} meters;

static const char *const meters_name[METERS_COUNT] = {
    "the same, unsaid", "the same, said", "others", "others, though said to be the same"};

typedef struct tally {
    int named, hinted, wrong;
} tally;

typedef struct change {
    const char *name;
    void (*make)(finished_person *p);
    const char *causes; /* names that are right, with blanks round each */
    int cases;
    tally told[METERS_COUNT];
} change;

static double full_drag(const finished_person *p)
{
    return finished_drag(&p->machine, p->full.wheel_rad_s);
}

static void nothing(finished_person *p)
{
    (void)p;
}

static void warmer_joint(finished_person *p)
{
    p->machine.ohm_20 *= 1.04;
}

static void torn_joint(finished_person *p)
{
    p->machine.ohm_20 *= 1.15;
}

static void bearing(finished_person *p)
{
    p->machine.rotor_coulomb += 0.4 * full_drag(p) / p->machine.gear_ratio;
}

static void brake(finished_person *p)
{
    p->machine.wheel_coulomb += finished_person_between(p, 0.8, 1.5);
}

static void magnets(finished_person *p)
{
    p->machine.ke *= 0.92;
}

/* A loop in the winding: a braking torque that grows with speed, a little less resistance. */
static void turns(finished_person *p)
{
    const finished_machine *m = &p->machine;
    double g = m->gear_ratio, share = finished_person_between(p, 0.4, 1.0);
    p->machine.braking = share * full_drag(p) / g / (p->full.wheel_rad_s * g);
    p->machine.ohm_20 *= 0.985;
}

static void connector(finished_person *p)
{
    p->machine.lead_ohm += finished_person_between(p, 0.06, 0.15);
}

static change changes[] = {
    {"nothing", nothing, " ", 0, {{0}}},
    {"winding 4 % more ohm", warmer_joint, " joint ", 0, {{0}}},
    {"a joint: 15 % more ohm", torn_joint, " joint ", 0, {{0}}},
    {"a bearing: 40 % more drag", bearing, " drag_more power_lost gears ", 0, {{0}}},
    {"a brake rubs, 0.8 to 1.5 N m", brake, " drag_more ", 0, {{0}}},
    {"magnets 8 % weaker", magnets, " magnets ", 0, {{0}}},
    {"shorted turns: 40 to 100 % more drag", turns, " power_lost turns drag_more gears ", 0, {{0}}},
    {"a connector: 60 to 150 mohm more", connector, " battery_more ", 0, {{0}}},
};
#define CHANGES ((int)(sizeof changes / sizeof changes[0]))

/* Every other case is unchanged; the others in turn. */
static change *change_of(int index)
{
    return index % 2 == 0 ? &changes[0] : &changes[1 + index / 2 % (CHANGES - 1)];
}

static void weigh(const driver *d, change *c, meters how, const json_t *root, int index)
{
    const json_t *causes = json_object_get(root, "causes"),
                 *rows = json_object_get(root, "figures");
    bool named = false, wrong = false, hinted = false;
    char told[400] = "";
    for (size_t k = 0; k < json_array_size(causes); k++) {
        char padded[64];
        const char *name = driver_text(json_array_get(causes, k), "name");
        snprintf(padded, sizeof padded, " %s ", name);
        bool right = strstr(c->causes, padded) != NULL;
        named = named || right;
        wrong = wrong || !right;
        strncat(told, padded, sizeof told - strlen(told) - 1);
    }
    for (size_t k = 0; k < json_array_size(rows); k++)
        hinted = hinted || strcmp(driver_text(json_array_get(rows, k), "change"), "same") != 0;
    tally *t = &c->told[how];
    t->named += named;
    t->wrong += wrong;
    t->hinted += hinted;
    if (d->tells || wrong || (!named && c != &changes[0]))
        printf("%03d %s, meters %s:%s%s\n", index, c->name, meters_name[how],
               told[0] ? told : " nothing told", wrong ? "  WRONG" : "");
    for (size_t k = 0; (d->tells || wrong) && k < json_array_size(rows); k++) {
        const json_t *row = json_array_get(rows, k);
        printf("    %-22s %9.4g now %9.4g ratio %.3f %s\n", driver_text(row, "name"),
               json_number_value(json_object_get(json_object_get(row, "then"), "value")),
               json_number_value(json_object_get(json_object_get(row, "now"), "value")),
               json_number_value(json_object_get(row, "ratio")), driver_text(row, "change"));
    }
}

static void compare(driver *d, change *c, meters how, const char *to, const char *from, int index)
{
    char arguments[6400];
    snprintf(arguments, sizeof arguments, "compare '%s/%s.yaml' '%s' '%s' --json%s", d->folder,
             d->name, to, from,
             how == METERS_SAID_SAME || how == METERS_MISSAID ? " --same-meters" : "");
    json_t *root = driver_ask(d, arguments);
    if (root)
        weigh(d, c, how, root, index);
    json_decref(root);
}

/* Commissions the machine as it is and puts its log aside. */
static void commission(driver *d, finished_person *p, const char *to)
{
    char from[2048];
    json_decref(driver_commission(d, p));
    snprintf(from, sizeof from, "%s/%s.bench.yaml", d->folder, d->name);
    if (rename(from, to) != 0)
        driver_fail("cannot rename ", from);
}

static void one_case(driver *d, int index)
{
    char name[32], then[2048], now[2048], others[2048];
    change *c = change_of(index);
    finished_person p = finished_person_draw(seed, index);
    p.left = LEFT_NOTHING;
    snprintf(name, sizeof name, "compare_%03d", index);
    snprintf(then, sizeof then, "%s/%s_then.bench.yaml", d->folder, name);
    snprintf(now, sizeof now, "%s/%s_now.bench.yaml", d->folder, name);
    snprintf(others, sizeof others, "%s/%s_others.bench.yaml", d->folder, name);
    driver_begin(d, &p, name);
    commission(d, &p, then);
    finished_person_other_day(&p);
    c->make(&p);
    finished_person_run(&p);
    commission(d, &p, now);
    c->cases++;
    compare(d, c, METERS_SAME, then, now, index);
    compare(d, c, METERS_SAID_SAME, then, now, index);
    finished_person_other_day(&p);
    finished_person_other_meters(&p);
    commission(d, &p, others);
    compare(d, c, METERS_OTHERS, then, others, index);
    compare(d, c, METERS_MISSAID, then, others, index);
}

static int report(const driver *d, int cases, const char *path)
{
    static const char *const columns[5] = {
        "what changed", "machines",
        ("named: meters the same, unsaid / the same, said / others / others, though said to be the "
         "same"),
        "some figure perhaps or surely changed", "something else named"};
    bench_result r = bench_result_begin(path);
    char cell[5][BENCH_CELL], name[160];
    snprintf(name, sizeof name, "Drawn from seed %llu.", (unsigned long long)seed);
    bench_note(&r, name);
    snprintf(name, sizeof name, "crashes, of %d machines", cases);
    bench_count(&r, name, d->crashes, 0, "none");
    int changed = 0;
    for (int k = 1; k < CHANGES; k++)
        changed += changes[k].cases;
    for (int how = 0; how < METERS_MISSAID; how++) {
        int wrong = 0;
        for (int k = 1; k < CHANGES; k++)
            wrong += changes[k].told[how].wrong;
        snprintf(name, sizeof name, "meters %s: unchanged machines accused, of %d",
                 meters_name[how], changes[0].cases);
        bench_count(&r, name, changes[0].told[how].wrong, most_by_chance(0.05, changes[0].cases),
                    "chosen: one in twenty; more than this comes once in a thousand");
        snprintf(name, sizeof name,
                 "meters %s: changed machines of which something else is named, of %d",
                 meters_name[how], changed);
        bench_count(&r, name, wrong, most_by_chance(0.05, changed),
                    "chosen: one in twenty; more than this comes once in a thousand");
    }
    bench_table_begin(&r, "What was named, where one thing had changed:", 5, columns);
    for (int k = 0; k < CHANGES; k++) {
        const change *c = &changes[k];
        if (c->cases == 0)
            continue;
        snprintf(cell[0], BENCH_CELL, "%s", c->name);
        snprintf(cell[1], BENCH_CELL, "%d", c->cases);
        const tally *t = c->told;
        snprintf(cell[2], BENCH_CELL, "%d / %d / %d / %d", t[0].named, t[1].named, t[2].named,
                 t[3].named);
        snprintf(cell[3], BENCH_CELL, "%d / %d / %d / %d", t[0].hinted, t[1].hinted, t[2].hinted,
                 t[3].hinted);
        snprintf(cell[4], BENCH_CELL, "%d / %d / %d / %d", t[0].wrong, t[1].wrong, t[2].wrong,
                 t[3].wrong);
        bench_table_row(&r, 5, cell);
    }
    return bench_result_end(&r);
}

int main(int argc, char **argv)
{
    if (argc < 4)
        driver_fail("usage: compare_bench HUBPHASE FOLDER CASES [RESULT_FILE] | tell CASE", "");
    driver d = {.program = argv[1], .folder = argv[2]};
    const char *text = getenv("COMMISSION_BENCH_SEED");
    if (text)
        seed = strtoull(text, NULL, 10);
    if (strcmp(argv[3], "tell") == 0 && argc > 4) {
        d.tells = true;
        one_case(&d, atoi(argv[4]));
        return 0;
    }
    int cases = atoi(argv[3]);
    for (int k = 0; k < cases; k++)
        one_case(&d, k);
    return report(&d, cases, argc > 4 ? argv[4] : NULL) ? 1 : 0;
}
