/* Cases of the hidden bench: see the header. */
#include "bench_case.h"

#include <string.h>

/* ---- families -------------------------------------------------------------------------------- */

static const struct {
    unsigned out;
    const char *name;
    bool pairs;
    int modes; /* 1: trials alone, 2: readings, 3: both */
    int gate;  /* the same, of those that every test run holds to the aims */
} nuisance[] = {
    {0, "nothing outside", false, 3, 3},
    {OUT_IDLE, "idle draw", true, 3, 3},
    {OUT_DRAG, "dragging friction", true, 3, 3},
    {OUT_DUTY, "duty not as said", true, 3, 3},
    {OUT_ONE_SIDED, "one-sided PWM", true, 3, 3},
    {OUT_SINE, "sine drive", true, 3, 2},
    {OUT_SUPPLY, "supply of 1, 2, 4 A", true, 3, 3},
    {OUT_LAMP, "lamp", false, 3, 0},
    {OUT_TABLE, "another table", true, 3, 3},
    {OUT_METERLESS, "no meters", true, 1, 1},
    {OUT_SILENT, "silent controller", false, 3, 3},
    {OUT_CUTTING, "cutting out", false, 3, 2},
    {OUT_LOOSE, "loose lead", false, 3, 2},
    {OUT_GEARED, "geared, one-way clutch", false, 3, 0},
    {OUT_SMOOTH_1, "wiring 1 smooth at once", false, 1, 1},
    {OUT_SLIPS, "5 % slips", false, 3, 0},
    {OUT_ONE_SIDED | OUT_STATED, "one-sided PWM, stated", false, 2, 0},
    {OUT_SIXTY, "60-degree set, hub stated", false, 3, 2},
    {OUT_SIXTY_SET, "60-degree set, stated", false, 3, 2},
    {OUT_SIXTY_HUB, "60-degree hub, 120-degree controller", false, 2, 2},
};
#define NUISANCES (int)(sizeof nuisance / sizeof nuisance[0])

static family made_of(unsigned out, int readings, bool gate, const char *one, const char *two)
{
    static const char *const mode[] = {"trials alone", "readings", "half with readings"};
    family f = {.out = out, .readings = readings, .gate = gate};
    snprintf(f.name, sizeof f.name, "%s%s%s, %s", one, two ? " and " : "", two ? two : "",
             mode[readings]);
    return f;
}

int families_list(family list[FAMILIES_MAX], int *alone)
{
    int count = 0;
    for (int k = 0; k < NUISANCES; k++)
        for (int mode = 0; mode < 2; mode++)
            if (nuisance[k].modes >> mode & 1)
                list[count++] = made_of(nuisance[k].out, mode, nuisance[k].gate >> mode & 1,
                                        nuisance[k].name, NULL);
    *alone = count;
    for (int a = 0; a < NUISANCES; a++)
        for (int b = a + 1; b < NUISANCES; b++) {
            unsigned out = nuisance[a].out | nuisance[b].out;
            /* A sine drive has its own edges: no pair with the one-sided ones. */
            if (nuisance[a].pairs && nuisance[b].pairs && out != (OUT_ONE_SIDED | OUT_SINE))
                list[count++] = made_of(out, out & OUT_METERLESS ? 0 : 2, false, nuisance[a].name,
                                        nuisance[b].name);
        }
    return count;
}

bool family_reads(const family *f, int index)
{
    return f->readings == 2 ? index % 2 == 0 : f->readings == 1;
}

/* ---- the scenario: what the person knows of the machine -------------------------------------- */

bool scenario_write(FILE *file, unsigned out, bool readings)
{
    static const char *const reading[] = {"pins", "sensor_supply", "hand_turn",       "winding",
                                          "spin", "park",          "controller_probe"};
    fputs("hubphase: 1\nname: Hidden bench\nmotor:\n", file);
    if (out & OUT_GEARED)
        fputs("  magnets: 20\n  rotor_inertia_kg_m2: 0.0008\n", file);
    else
        fputs("  magnets: 46\n", file);
    fputs("  resistance_between_leads_ohm: 0.2\n"
          "  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}\n",
          file);
    if (out & OUT_GEARED)
        fputs("stand: {gear_ratio: 4.8, clutch: yes}\n", file);
    if (out & OUT_STATED)
        fputs("controller: {pwm: one_sided, pwm_khz: 8}\n", file);
    if (out & OUT_SIXTIES)
        fputs("sensors: {spacing_deg: 60}\n", file);
    if (out & OUT_SIXTY_SET)
        fputs("controller: {table: six_step_60}\n", file);
    fputs("bench:\n  rest_angles: 6\n", file);
    if (out & (OUT_SIXTY | OUT_SIXTY_HUB))
        fputs("  table_known: no\n", file);
    if (out & OUT_METERLESS)
        fputs("  meters: {ammeter: no, tachometer: no}\n", file);
    if (!readings) {
        fputs("  readings:\n", file);
        for (size_t k = 0; k < sizeof reading / sizeof reading[0]; k++)
            fprintf(file, "    %s: no\n", reading[k]);
    }
    return !ferror(file);
}

/* ---- an advice ------------------------------------------------------------------------------- */

static const char *text_of(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));
    return text ? text : "";
}

static void copy_text(char *to, size_t size, const json_t *object, const char *key)
{
    snprintf(to, size, "%s", text_of(object, key));
}

static int lead_of(const char *label)
{
    return label[0] >= 'U' && label[0] <= 'W' && !label[1] ? label[0] - 'U' : -1;
}

static void get_wiring(const json_t *wiring, person_step *s)
{
    s->number = (int)json_integer_value(json_object_get(wiring, "number"));
    for (size_t k = 0; k < 3; k++) {
        const char *sensor =
            json_string_value(json_array_get(json_object_get(wiring, "sensors"), k));
        const char *phase = json_string_value(json_array_get(json_object_get(wiring, "phases"), k));
        s->sensor[k] = sensor ? lead_of(sensor) : 0;
        s->phase[k] = phase ? lead_of(phase) : 0;
    }
}

/* What the command that logs the step already holds, and what it asks for. */
static void get_asked(const json_t *words, person_step *s)
{
    size_t k;
    json_t *word;
    json_array_foreach(words, k, word)
    {
        const char *text = json_string_value(word);
        double value;
        if (text && sscanf(text, "--throttle-percent=%lf", &value) == 1)
            s->throttle = value;
        if (text && sscanf(text, "--supply-limit-a=%lf", &value) == 1)
            s->limit_a = value;
        if (text && (strncmp(text, "--fed-by=bench_supply", 21) == 0 ||
                     strncmp(text, "--limit-reached", 15) == 0))
            s->limited = true;
        if (text && strncmp(text, "--throttle-signal-v", 19) == 0)
            s->signal_asked = true;
    }
}

answer answer_read(const json_t *root)
{
    const json_t *advice = json_object_get(root, "advice");
    const json_t *trouble = json_object_get(advice, "trouble");
    answer a = {.step = {.lead = lead_of(text_of(advice, "lead"))}};
    copy_text(a.kind, sizeof a.kind, advice, "kind");
    copy_text(a.title, sizeof a.title, advice, "title");
    copy_text(a.reason, sizeof a.reason, advice, "reason");
    copy_text(a.fault, sizeof a.fault, trouble, "fault");
    copy_text(a.danger, sizeof a.danger, advice, "danger");
    copy_text(a.step.reading, sizeof a.step.reading, advice, "reading");
    a.trouble_lead = lead_of(text_of(trouble, "lead"));
    a.inverted = text_of(trouble, "inverted_sensor")[0];
    if (a.inverted && strcmp(a.fault, "none") == 0) {
        copy_text(a.fault, sizeof a.fault, trouble, "inverted_sensor");
        a.trouble_lead = lead_of(a.fault);
        snprintf(a.fault, sizeof a.fault, "inverted");
    }
    a.certainty = json_number_value(json_object_get(advice, "certainty"));
    a.step.throttle =
        json_number_value(json_object_get(json_object_get(root, "expected"), "throttle_percent"));
    a.step.limited = json_is_true(json_object_get(advice, "limited"));
    a.step.limit_a = json_number_value(json_object_get(advice, "limit_a"));
    get_asked(json_object_get(advice, "log_command"), &a.step);
    if (a.step.limit_a > 0.0)
        a.step.limited = true;
    get_wiring(json_object_get(advice, "wiring"), &a.step);
    return a;
}

/* ---- what comes of it ------------------------------------------------------------------------ */

bool answer_is(const answer *a, const char *kind)
{
    return strcmp(a->kind, kind) == 0;
}

ending answer_judge(const person *p, const answer *a)
{
    bool right = a->step.number > 0 && person_wiring_right(p, &a->step);
    if (answer_is(a, "done"))
        return right && person_sound(p) ? END_RIGHT : END_FALSE_DONE;
    /* This promises the wiring only, and leaves something to check. */
    if (answer_is(a, "probably"))
        return right ? END_PROBABLY : END_FALSE_PROBABLY;
    if (answer_is(a, "repair"))
        return strcmp(a->fault, "unlisted") == 0 ? END_GAVE_UP : END_PART;
    if (answer_is(a, "give_up")) {
        bool names =
            (a->fault[0] && strcmp(a->fault, "none") != 0 && strcmp(a->fault, "unlisted") != 0) ||
            a->inverted;
        return names && a->certainty >= 0.5 ? END_GAVE_UP_ON : END_GAVE_UP;
    }
    return answer_is(a, "danger") ? END_STOPPED : END_NONE;
}

bool answer_do(person *p, const answer *a, bool plain, outcome *o, FILE *out)
{
    if (answer_is(a, "read")) {
        o->readings++;
        bool trouble = person_troubled(p);
        if (!person_read(p, &a->step, out))
            return false;
        o->named = o->named || (trouble && !person_troubled(p));
        return true;
    }
    if (answer_is(a, "try") || answer_is(a, "look")) {
        if (!o->tried)
            o->first_right = person_wiring_right(p, &a->step);
        o->tried = true;
        o->powered++;
        person_try(p, &a->step, plain, out);
        return true;
    }
    if (answer_is(a, "repair") || answer_is(a, "give_up")) {
        bool mended = person_mend(p, a->fault, a->trouble_lead, out);
        o->named = o->named || mended;
        return mended;
    }
    if (answer_is(a, "danger") && strcmp(a->danger, "sensor_supply_low") == 0 &&
        person_mend_supply(p)) {
        o->named = true;
        person_step again = {.reading = "sensor_supply", .lead = -1};
        return person_read(p, &again, out);
    }
    return false;
}
