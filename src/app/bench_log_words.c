/* An entry in words: see bench_log.h. */
#include "bench_log_keys.h"

#include "hubphase/report/text.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

/* A line put together piece by piece; what does not fit is cut. */
typedef struct line {
    char text[1600];
    size_t used;
} line;

static void add(line *l, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void add(line *l, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int n = vsnprintf(l->text + l->used, sizeof l->text - l->used, format, args);
    va_end(args);
    if (n > 0)
        l->used += (size_t)n;
    if (l->used >= sizeof l->text)
        l->used = sizeof l->text - 1;
}

static void add_tell(line *l, hp_tell tell, const char *yes, const char *no)
{
    if (tell != HP_TELL_UNSAID)
        add(l, ", %s", tell == HP_TELL_YES ? yes : no);
}

static void add_code(line *l, int code)
{
    add(l, "%d%d%d", code >> 2 & 1, code >> 1 & 1, code & 1);
}

static void add_pins(line *l, const hp_bench_entry *entry, const hp_labels *labels)
{
    const hp_pins *p = &entry->entry.pins;
    char name[HP_BENCH_PAIR_SIZE];
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int pair = hp_bench_pair_order[k];
        if (p->open[pair] != HP_TELL_UNSAID)
            add(l, ", %s %s", hp_bench_pair_name(labels, pair, name, sizeof name),
                p->open[pair] == HP_TELL_YES ? "open" : "has continuity");
    }
    add_tell(l, p->shell, "A LEAD TOUCHES AXLE OR SHELL", "no lead touches axle or shell");
    add_tell(l, p->crossed, "A PHASE LEAD TOUCHES A SENSOR LEAD",
             "no phase lead touches a sensor "
             "lead");
    for (int k = 0; k < HP_PLUG_LEAD_COUNT && entry->plug.given; k++) {
        const char *what = k < HP_PLUG_SENSOR_U       ? labels->motor_lead[k]
                           : k < HP_PLUG_SUPPLY_PLUS  ? labels->motor_sensor[k - HP_PLUG_SENSOR_U]
                           : k == HP_PLUG_SUPPLY_PLUS ? "sensor plus"
                                                      : "sensor minus";
        add(l, ", pin %s %s%s", entry->plug.pin[k],
            k < HP_PLUG_SENSOR_U      ? "phase "
            : k < HP_PLUG_SUPPLY_PLUS ? "sensor "
                                      : "",
            what);
    }
}

static void add_pairs(line *l, const hp_labels *labels, const double number[HP_PHASE_COUNT],
                      const char *unit)
{
    char name[HP_BENCH_PAIR_SIZE];
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int pair = hp_bench_pair_order[k];
        hp_bench_pair_name(labels, pair, name, sizeof name);
        if (isinf(number[pair]))
            add(l, ", %s open", name);
        else if (!isnan(number[pair]))
            add(l, ", %s %.4g %s", name, number[pair], unit);
    }
}

static void add_hand_turn(line *l, const hp_hand_turn *t)
{
    add(l, ", turned %s, codes", t->backward ? "backward" : "forward");
    for (int k = 0; k < t->count; k++) {
        add(l, " ");
        add_code(l, t->code[k]);
    }
    if (t->edges > 0)
        add(l, ", %d edges of one sensor a wheel turn", t->edges);
}

static void add_probe(line *l, const hp_probe *p, const hp_labels *labels)
{
    for (int code = 0; code < HP_CODE_COUNT; code++) {
        if (!p->read[code])
            continue;
        add(l, ", ");
        add_code(l, code);
        if (p->row[code].high < 0)
            add(l, " off");
        else
            add(l, " %s > %s", labels->controller_output[p->row[code].high],
                labels->controller_output[p->row[code].low]);
    }
}

static void add_trial(line *l, const hp_trial *t, const hp_labels *labels)
{
    static const char *const motion[HP_MOVED_COUNT] = {
        "",
        "turned forward",
        "turned backward",
        "turned forward from some places and backward from others",
        "the hub hummed and the wheel stayed",
        "only shivered",
        "did not turn"};
    static const char *const feel[HP_FEEL_COUNT] = {"", "smooth", "rough", "noisy"};
    const hp_wiring *w = &t->wiring;
    add(l, ", wiring %d (sensors %s, %s, %s; phases %s, %s, %s), throttle %.4g %%",
        hp_wiring_number(w), labels->motor_sensor[w->sensor[0]], labels->motor_sensor[w->sensor[1]],
        labels->motor_sensor[w->sensor[2]], labels->motor_lead[w->phase[0]],
        labels->motor_lead[w->phase[1]], labels->motor_lead[w->phase[2]], 100.0 * t->throttle);
    if (t->motion != HP_MOVED_UNSAID)
        add(l, ", %s", motion[t->motion]);
    if (t->feel != HP_FEEL_UNSAID)
        add(l, ", %s", feel[t->feel]);
    if (t->starts_tried > 0)
        add(l, ", started from %d of %d places", t->starts, t->starts_tried);
    if (!isnan(t->battery_a))
        add(l, ", %.4g A", t->battery_a);
    if (!isnan(t->wheel_rad_s))
        add(l, ", wheel at %.4g rpm", t->wheel_rad_s / HP_RPM);
    add_tell(l, t->cut_out, "cut out", "did not cut out");
    add_tell(l, t->warm, "grew warm", "stayed cold");
}

static void add_mend(line *l, const hp_mend *m, const hp_labels *labels)
{
    switch (m->fault.kind) {
    case HP_FAULT_SENSOR_HIGH:
        add(l, ", sensor %s (was stuck high)", labels->motor_sensor[m->fault.which]);
        break;
    case HP_FAULT_SENSOR_LOW:
        add(l, ", sensor %s (was stuck low)", labels->motor_sensor[m->fault.which]);
        break;
    case HP_FAULT_LEAD_OPEN:
        add(l, ", phase lead %s (was open)", labels->motor_lead[m->fault.which]);
        break;
    case HP_FAULT_CLUTCH: add(l, ", clutch"); break;
    default: break;
    }
    if (m->inversion)
        add(l, ", inverted sensor");
}

char *hp_bench_entry_words(const hp_bench_entry *entry, const hp_labels *labels, char *out,
                           size_t size)
{
    static const char *const meter[HP_VOLT_KIND_COUNT] = {"true rms", "a.c. average", "peak"};
    const hp_entry *e = &entry->entry;
    line l = {.used = 0};
    switch (e->kind) {
    case HP_ENTRY_PINS: add_pins(&l, entry, labels); break;
    case HP_ENTRY_SUPPLY: add(&l, ", %.4g V", e->supply.volts); break;
    case HP_ENTRY_HAND_TURN: add_hand_turn(&l, &e->hand_turn); break;
    case HP_ENTRY_WINDING:
        add_pairs(&l, labels, e->winding.ohm, "ohm");
        add(&l, ", test leads %.4g ohm, winding at %.4g C", e->winding.leads_ohm,
            e->winding.copper_c);
        break;
    case HP_ENTRY_SPIN:
        add_pairs(&l, labels, e->spin.volts, "V");
        add(&l, ", %s, wheel at %.4g rpm", meter[e->spin.kind], e->spin.wheel_rad_s / HP_RPM);
        break;
    case HP_ENTRY_PARK:
        add(&l, ", %s to plus", labels->motor_lead[e->park.lead]);
        if (e->park.code >= 0) {
            add(&l, ", code ");
            add_code(&l, e->park.code);
        }
        add_tell(&l, e->park.no_current, "no current", "current flowed");
        break;
    case HP_ENTRY_PROBE: add_probe(&l, &e->probe, labels); break;
    case HP_ENTRY_TRIAL: add_trial(&l, &e->trial, labels); break;
    case HP_ENTRY_LEARN: add_tell(&l, e->learn.worked, "it worked", "it did not work"); break;
    case HP_ENTRY_MEND: add_mend(&l, &e->mend, labels); break;
    case HP_ENTRY_KIND_COUNT: break;
    }
    char whole[sizeof l.text + 40];
    snprintf(whole, sizeof whole, "%s%s%s", hp_entry_name(e->kind), l.used ? ": " : "",
             l.used ? l.text + 2 : "");
    return hp_text_clean(whole, out, size);
}
