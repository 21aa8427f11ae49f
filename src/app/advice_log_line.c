/* The command line that logs an advised step: see the header. */
#include "app/advice_log_line.h"

#include "base/shell_word.h"

#include <stdarg.h>
#include <string.h>

typedef struct line {
    char *out;
    size_t size;
    size_t used;
} line;

/* Adds one word; the last that fits whole ends the line, so that none is cut. */
static void add(line *l, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void add(line *l, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    size_t room = l->size - l->used;
    int bytes = vsnprintf(l->out + l->used, room, format, args);
    va_end(args);
    if (bytes < 0 || (size_t)bytes + 2 > room)
        l->size = l->used + 1;
    else
        l->used += (size_t)bytes + 1;
    l->out[l->used] = '\0';
}

/* The pairs by their axis letters: a label may itself hold a hyphen. */
static void add_pairs(line *l, const char *option, const char *what)
{
    static const char *const pair[] = {"U-V", "V-W", "W-U"};
    for (int k = 0; k < 3; k++)
        add(l, "--%s=%s=%s", option, pair[k], what);
}

/* The codes in the order in which the how-to takes them. */
static void add_rows(line *l)
{
    static const char *const code[] = {"100", "110", "010", "011", "001", "101"};
    for (int k = 0; k < HP_SECTOR_COUNT; k++)
        add(l, "--rows=%s=HIGH>LOW", code[k]);
}

static void add_reading(line *l, const hp_advice_session *s, hp_entry_kind kind, int lead)
{
    const hp_labels *labels = &s->session.scenario.labels;
    add(l, "%s", hp_bench_kind_name(kind));
    switch (kind) {
    case HP_ENTRY_PINS:
        add(l, "--continuity=YES-OR-NO");
        add(l, "--touches-shell=YES-OR-NO");
        add(l, "--phase-touches-sensor=YES-OR-NO");
        break;
    case HP_ENTRY_SUPPLY: add(l, "--supply-v=VOLTS"); break;
    case HP_ENTRY_HAND_TURN:
        if (s->session.scenario.drive.stand.clutch)
            add(l, "--direction=backward");
        add(l, "--codes=CODE,CODE,...");
        break;
    case HP_ENTRY_WINDING: add_pairs(l, "resistance-ohm", "OHMS"); break;
    case HP_ENTRY_SPIN:
        add_pairs(l, "voltage-v", "VOLTS");
        add(l, "--wheel-speed-rpm=RPM");
        add(l, "--meter=KIND");
        break;
    case HP_ENTRY_PARK:
        add(l, "--plus-lead=%s", labels->motor_lead[lead >= 0 ? lead : 0]);
        add(l, "--code=CODE");
        break;
    case HP_ENTRY_PROBE: add_rows(l); break;
    case HP_ENTRY_LEARN: add(l, "--worked=YES-OR-NO"); break;
    case HP_ENTRY_TRIAL:
    case HP_ENTRY_MEND:
    case HP_ENTRY_KIND_COUNT: break;
    }
}

static void add_trial(line *l, const hp_plan_params *plan, const hp_advice *advice)
{
    add(l, "trial");
    add(l, "--wiring=%d", advice->number);
    add(l, "--throttle-percent=%.6g", 100.0 * plan->throttle);
    add(l, "--motion=MOTION");
    add(l, "--feel=FEEL");
    if (plan->starts > 1) {
        add(l, "--starts=N");
        add(l, "--starts-tried=%d", plan->starts);
    }
    if (plan->ammeter)
        add(l, "--battery-a=AMPERES");
    if (plan->tachometer)
        add(l, "--wheel-speed-rpm=RPM");
}

static void add_mend(line *l, const hp_labels *labels, int trouble)
{
    int inverted;
    hp_fault fault;
    hp_trouble_get(trouble, &inverted, &fault);
    add(l, "mend");
    switch (fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
    case HP_FAULT_SENSOR_LOW:
        add(l, "--part=%s",
            fault.kind == HP_FAULT_SENSOR_HIGH ? "sensor_stuck_high" : "sensor_stuck_low");
        add(l, "--lead=%s", labels->motor_sensor[fault.which]);
        break;
    case HP_FAULT_LEAD_OPEN:
        add(l, "--part=phase_lead_open");
        add(l, "--lead=%s", labels->motor_lead[fault.which]);
        break;
    case HP_FAULT_CLUTCH: add(l, "--part=clutch"); break;
    case HP_FAULT_NONE:
    case HP_FAULT_KIND_COUNT: add(l, "--part=inverted_sensor"); break;
    }
}

char *hp_advice_log_line(const hp_advice_session *s, const char *chosen, const hp_advice *advice,
                         char *out, size_t size)
{
    char scenario[HP_BENCH_PATH_SIZE];
    line l = {.out = out, .size = size};
    out[0] = '\0';
    bool ends = advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_GIVE_UP ||
                advice->kind == HP_ADVICE_COUNT;
    if (ends)
        return out;
    bool supply =
        advice->danger == HP_DANGER_SENSOR_VOLTS || advice->danger == HP_DANGER_SENSOR_SUPPLY;
    add(&l, "hubphase");
    add(&l, "log");
    add(&l, "%s", hp_shell_file(s->session.scenario.path, scenario, sizeof scenario));
    if (chosen)
        add(&l, "--log=%s", chosen);
    if (advice->kind == HP_ADVICE_READ)
        add_reading(&l, s, advice->reading, advice->lead);
    else if (advice->kind == HP_ADVICE_DANGER)
        add_reading(&l, s, supply ? HP_ENTRY_SUPPLY : HP_ENTRY_PINS, -1);
    else if (advice->kind == HP_ADVICE_LEARN)
        add_reading(&l, s, HP_ENTRY_LEARN, -1);
    else if (advice->kind == HP_ADVICE_REPAIR)
        add_mend(&l, &s->session.scenario.labels, advice->trouble);
    else
        add_trial(&l, hp_planner_params(s->planner), advice);
    return out;
}
