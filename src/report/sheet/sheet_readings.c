/*
 * Readings of a wiring sheet: see sheet_lists.h.
 *
 * Of several readings of the same thing the last one counts, since a part may have been mended in
 * between; a reading older than the last mend says so.
 */
#include "report/sheet/sheet_lists.h"

#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define NOT_MEASURED "not measured"

hp_sheet_line *hp_sheet_add(hp_sheet_list *list, const char *format, ...)
{
    if (list->count == HP_SHEET_LINES)
        return NULL;
    hp_sheet_line *line = &list->line[list->count++];
    memset(line, 0, sizeof *line);
    va_list args;
    va_start(args, format);
    vsnprintf(line->what, sizeof line->what, format, args);
    va_end(args);
    return line;
}

/* A line with a value that entry gave, or the empty line when entry is NULL. */
static void set_line(const hp_sheet_source *source, hp_sheet_line *line, const hp_entry *entry,
                     const char *format, ...) __attribute__((format(printf, 4, 5)));

static void set_line(const hp_sheet_source *source, hp_sheet_line *line, const hp_entry *entry,
                     const char *format, ...)
{
    if (!line)
        return;
    if (!entry) {
        snprintf(line->from, sizeof line->from, NOT_MEASURED);
        return;
    }
    va_list args;
    va_start(args, format);
    vsnprintf(line->value, sizeof line->value, format, args);
    va_end(args);
    const hp_entry *mend = NULL;
    for (const hp_entry *later = entry + 1; later < source->entry + source->entries; later++)
        if (later->kind == HP_ENTRY_MEND)
            mend = later;
    if (mend)
        snprintf(line->from, sizeof line->from, "log entry %d, before the mend of entry %d",
                 entry->number, mend->number);
    else
        snprintf(line->from, sizeof line->from, "log entry %d", entry->number);
}

/* What the scenario itself states stands below the log's own reading. */
static void add_stated(hp_wiring_sheet *sheet, const char *key, const char *what, const char *unit,
                       const char *at_key, const char *at_unit)
{
    hp_parameters *parameters = sheet->source.parameters;
    const hp_parameter *p = hp_parameters_find(parameters, key);
    const hp_parameter *at = at_key ? hp_parameters_find(parameters, at_key) : NULL;
    if (!p || p->origin != HP_ORIGIN_FILE)
        return;
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "%s", what);
    if (!line)
        return;
    if (at && at->origin == HP_ORIGIN_FILE)
        snprintf(line->value, sizeof line->value, "%s %s at %s %s", p->value, unit, at->value,
                 at_unit);
    else
        snprintf(line->value, sizeof line->value, "%s%s%s", p->value, unit[0] ? " " : "", unit);
    snprintf(line->from, sizeof line->from, "scenario, line %d", p->line);
}

/* The two leads of pair k, which is named by the lead that it leaves out. */
static const char *pair_name(const hp_labels *labels, int pair, char *out, size_t size)
{
    int a = (pair + 1) % HP_PHASE_COUNT, b = (pair + 2) % HP_PHASE_COUNT;
    snprintf(out, size, "%s-%s", hp_picture_label(labels->motor_lead[a], a),
             hp_picture_label(labels->motor_lead[b], b));
    return out;
}

/* In the order in which people name the pairs: U-V, V-W, W-U. */
static const int pair_order[HP_PHASE_COUNT] = {2, 0, 1};

typedef bool (*has)(const hp_entry *entry, int index);

/* The last entry that says something. */
static const hp_entry *last_with(const hp_sheet_source *source, has has, int index)
{
    for (int k = source->entries - 1; k >= 0; k--)
        if (has(&source->entry[k], index))
            return &source->entry[k];
    return NULL;
}

static bool has_ohm(const hp_entry *entry, int pair)
{
    return entry->kind == HP_ENTRY_WINDING && !isnan(entry->winding.ohm[pair]);
}

static bool has_volts(const hp_entry *entry, int pair)
{
    return entry->kind == HP_ENTRY_SPIN && !isnan(entry->spin.volts[pair]) &&
           entry->spin.wheel_rad_s > 0.0;
}

static bool has_edges(const hp_entry *entry, int unused)
{
    (void)unused;
    return entry->kind == HP_ENTRY_HAND_TURN && entry->hand_turn.edges > 0;
}

static bool has_codes(const hp_entry *entry, int unused)
{
    (void)unused;
    return entry->kind == HP_ENTRY_HAND_TURN && entry->hand_turn.count > 0;
}

static bool has_supply(const hp_entry *entry, int unused)
{
    (void)unused;
    return entry->kind == HP_ENTRY_SUPPLY && !isnan(entry->supply.volts);
}

static bool has_park(const hp_entry *entry, int lead)
{
    return entry->kind == HP_ENTRY_PARK && entry->park.lead == lead && entry->park.code >= 0;
}

static void add_resistance(hp_wiring_sheet *sheet, int pair)
{
    char name[2 * HP_LABEL_SIZE + 8], taken_off[60] = "";
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *entry = last_with(source, has_ohm, pair);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Resistance %s",
                                       pair_name(source->labels, pair, name, sizeof name));
    if (!entry) {
        set_line(source, line, NULL, " ");
        return;
    }
    const hp_winding *w = &entry->winding;
    if (isinf(w->ohm[pair])) {
        set_line(source, line, entry, "open");
        return;
    }
    if (w->leads_ohm > 0.0)
        snprintf(taken_off, sizeof taken_off, " (less %.4g of the meter leads)", w->leads_ohm);
    set_line(source, line, entry, "%.4g ohm at %.4g \u00b0C%s",
             fmax(w->ohm[pair] - w->leads_ohm, 0.0), w->copper_c, taken_off);
}

static const char *volt_kind(hp_volt_kind kind)
{
    static const char *const name[HP_VOLT_KIND_COUNT] = {"true rms", "on a plain a.c. meter",
                                                         "peak"};
    return name[kind];
}

static void add_backemf(hp_wiring_sheet *sheet, int pair)
{
    char name[2 * HP_LABEL_SIZE + 8];
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *entry = last_with(source, has_volts, pair);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Back-EMF %s",
                                       pair_name(source->labels, pair, name, sizeof name));
    if (!entry) {
        set_line(source, line, NULL, " ");
        return;
    }
    const hp_spin *s = &entry->spin;
    double rpm = s->wheel_rad_s / HP_RPM;
    set_line(source, line, entry, "%.4g V %s at %.4g rev/min: %.4g V at 1000", s->volts[pair],
             volt_kind(s->kind), rpm, 1000.0 * s->volts[pair] / rpm);
}

static void add_hand_turn(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_labels *labels = source->labels;
    const hp_entry *counted = last_with(source, has_edges, 0);
    const hp_entry *turned = last_with(source, has_codes, 0);
    /* Each sensor changes twice in an electrical turn. */
    hp_sheet_line *line = hp_sheet_add(
        &sheet->readings, "%s",
        source->drive->stand.gear_ratio > 1.0 ? "Pole pairs times gear ratio" : "Pole pairs");
    set_line(source, line, counted, "%.4g (%d changes of one sensor in a wheel turn)",
             counted ? 0.5 * counted->hand_turn.edges : 0.0,
             counted ? counted->hand_turn.edges : 0);
    char codes[6 * HP_TURN_CODES] = "";
    size_t used = 0;
    for (int k = 0; turned && k < turned->hand_turn.count && k < HP_TURN_CODES; k++) {
        int code = turned->hand_turn.code[k];
        used += (size_t)snprintf(codes + used, sizeof codes - used, "%s%d%d%d", k ? " " : "",
                                 code >> 2 & 1, code >> 1 & 1, code & 1);
    }
    line = hp_sheet_add(&sheet->readings, "Sensor codes in order (%s, %s, %s)",
                        hp_picture_label(labels->motor_sensor[HP_U], HP_U),
                        hp_picture_label(labels->motor_sensor[HP_V], HP_V),
                        hp_picture_label(labels->motor_sensor[HP_W], HP_W));
    set_line(source, line, turned, "%s (wheel turned %s)", codes,
             turned && turned->hand_turn.backward ? "backward" : "forward");
}

static bool has_continuity(const hp_entry *entry, int unused)
{
    (void)unused;
    const hp_pins *p = &entry->pins;
    return entry->kind == HP_ENTRY_PINS &&
           (p->open[0] || p->open[1] || p->open[2] || p->shell || p->crossed);
}

/* "yes", "no" or "not said" to what a pins entry tells; `open` pairs are told the other way. */
static const char *tell_word(hp_tell tell, bool open)
{
    if (tell == HP_TELL_UNSAID)
        return "not said";
    return (tell == HP_TELL_YES) != open ? "yes" : "no";
}

static void add_continuity(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *entry = last_with(source, has_continuity, 0);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Continuity, all unplugged");
    if (!entry) {
        set_line(source, line, NULL, " ");
        return;
    }
    char pairs[3 * (2 * HP_LABEL_SIZE + 16)] = "", name[2 * HP_LABEL_SIZE + 8];
    const hp_tell *open = entry->pins.open;
    size_t used = 0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int pair = pair_order[k];
        used += (size_t)snprintf(pairs + used, sizeof pairs - used, "%s%s %s", k ? ", " : "",
                                 pair_name(source->labels, pair, name, sizeof name),
                                 tell_word(open[pair], true));
    }
    bool alike = open[0] == open[1] && open[1] == open[2];
    set_line(source, line, entry, "%s%s; a lead to the shell: %s; a phase to a sensor lead: %s",
             alike ? "phase pairs: " : "", alike ? tell_word(open[0], true) : pairs,
             tell_word(entry->pins.shell, false), tell_word(entry->pins.crossed, false));
}

static void add_supply_and_parking(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *supply = last_with(source, has_supply, 0);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Sensor supply from the controller");
    set_line(source, line, supply, "%.4g V", supply ? supply->supply.volts : 0.0);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        const hp_entry *entry = last_with(source, has_park, k);
        if (!entry)
            continue;
        line = hp_sheet_add(&sheet->readings, "Rotor parked, %s to plus, the others to minus",
                            hp_picture_label(source->labels->motor_lead[k], k));
        set_line(source, line, entry, "sensor code %d%d%d", entry->park.code >> 2 & 1,
                 entry->park.code >> 1 & 1, entry->park.code & 1);
    }
}

/* Current and speed of the wiring that works, wheel lifted. */
static void add_no_load(hp_wiring_sheet *sheet)
{
    const hp_sheet_source *source = &sheet->source;
    int number = sheet->wiring[0].number;
    const hp_entry *trial = number ? hp_sheet_working_trial(source, number) : NULL;
    bool current = trial && !isnan(trial->trial.battery_a);
    bool speed = trial && !isnan(trial->trial.wheel_rad_s);
    double throttle = trial ? 100.0 * trial->trial.throttle : 0.0;
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "No-load battery current");
    set_line(source, line, current ? trial : NULL, "%.4g A at %.4g %% throttle",
             current ? trial->trial.battery_a : 0.0, throttle);
    line = hp_sheet_add(&sheet->readings, "No-load speed");
    set_line(source, line, speed ? trial : NULL, "%.4g rev/min at %.4g %% throttle",
             speed ? trial->trial.wheel_rad_s / HP_RPM : 0.0, throttle);
}

static void add_winding(hp_wiring_sheet *sheet)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_resistance(sheet, pair_order[k]);
    add_stated(sheet, "motor.resistance_between_leads_ohm", "Resistance of any pair, stated", "ohm",
               "motor.resistance_measured_at_c", "\u00b0C");
}

void hp_sheet_fill_readings(hp_wiring_sheet *sheet)
{
    add_continuity(sheet);
    add_winding(sheet);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_backemf(sheet, pair_order[k]);
    add_stated(sheet, "motor.backemf_peak_v_per_krpm", "Back-EMF of any pair, peak, stated",
               "V per 1000 rev/min", NULL, "");
    add_stated(sheet, "motor.backemf_rms_v_per_krpm", "Back-EMF of any pair, rms, stated",
               "V per 1000 rev/min", NULL, "");
    add_hand_turn(sheet);
    add_stated(sheet, "motor.pole_pairs", "Pole pairs of the rotor, stated", "", NULL, "");
    add_stated(sheet, "motor.magnets", "Magnets of the rotor, stated", "", NULL, "");
    add_stated(sheet, "stand.gear_ratio", "Gear ratio, stated", "", NULL, "");
    add_supply_and_parking(sheet);
    add_no_load(sheet);
    add_stated(sheet, "motor.no_load_speed_rpm_at_v.speed_rpm", "No-load speed, stated", "rev/min",
               "motor.no_load_speed_rpm_at_v.volts", "V");
    add_stated(sheet, "stand.no_load_current_a_at_v.current_a", "No-load current, stated", "A",
               "stand.no_load_current_a_at_v.volts", "V");
}
