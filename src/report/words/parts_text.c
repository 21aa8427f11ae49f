/* The parts of a scenario in a few lines: see the header. */
#include "report/words/parts_text.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

/* A line put together piece by piece; what does not fit is cut. */
typedef struct line {
    char text[1200];
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

static void print_line(const hp_screen *out, const char *title, const line *l)
{
    char clean[sizeof l->text];
    hp_text_fill(out, title, HP_PARTS_INDENT, hp_text_clean(l->text, clean, sizeof clean));
}

char *hp_lead_name(int phase, const char *label, char *out, size_t size)
{
    const char letter[] = {hp_phase_letter(phase), '\0'};
    char clean[HP_LABEL_SIZE];
    hp_text_clean(label, clean, sizeof clean);
    if (clean[0] == '\0' || strcmp(clean, letter) == 0)
        snprintf(out, size, "%s", letter);
    else
        snprintf(out, size, "%s (%s)", letter, clean);
    return out;
}

/* A mark behind a figure that nobody stated; and whether there is one. */
typedef struct marks {
    const hp_parameters *parameters;
    bool any;
} marks;

static const char *mark(marks *m, const char *key)
{
    for (size_t k = 0; m->parameters && k < m->parameters->count; k++)
        if (strcmp(m->parameters->item[k].key, key) == 0 &&
            m->parameters->item[k].origin == HP_ORIGIN_DEFAULT) {
            m->any = true;
            return "*";
        }
    return "";
}

static void print_motor(const hp_report_case *subject, marks *m, const hp_screen *out)
{
    const hp_motor_params *motor = &subject->drive->motor;
    static const char *const shape[HP_BACKEMF_KIND_COUNT] = {
        "sinusoidal back-EMF", "trapezoidal back-EMF", "back-EMF of a measured shape"};
    line l = {.used = 0};
    if (subject->labels->motor[0])
        add(&l, "%s: ", subject->labels->motor);
    add(&l, "%d%s pole pairs, %s%s", motor->pole_pairs, mark(m, "motor.pole_pairs"),
        shape[motor->backemf.kind], mark(m, "motor.backemf.shape"));
    if (motor->backemf.kind == HP_BACKEMF_TRAPEZOIDAL)
        add(&l, " (flat over %.4g%s degrees)", motor->backemf.flat_rad / HP_DEG,
            mark(m, "motor.backemf.flat_width_deg"));
    add(&l, ", %.3g%s ohm and %.3g%s mH between two leads", 2.0 * motor->resistance_ohm,
        mark(m, "motor.resistance_between_leads_ohm"), 2e3 * motor->inductance_h,
        mark(m, "motor.inductance_between_leads_mh"));
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char name[HP_LABEL_SIZE + 8];
        if (motor->lead_open[k])
            add(&l, "; FAULT: phase lead %s is open",
                hp_lead_name(k, subject->labels->motor_lead[k], name, sizeof name));
    }
    print_line(out, "Motor", &l);
}

static void print_sensors(const hp_report_case *subject, marks *m, const hp_screen *out)
{
    const hp_sensors_params *sensors = &subject->drive->sensors;
    static const char *const fault[HP_SENSOR_FAULT_COUNT] = {"", "stuck at 1", "stuck at 0",
                                                             "inverted"};
    const double *place = sensors->placement_rad;
    line l = {.used = 0};
    add(&l, "sensors spaced for %d%s degrees", sensors->spacing_60 ? 60 : 120,
        mark(m, "sensors.spacing_deg"));
    if (place[HP_U] != 0.0 || place[HP_V] != 0.0 || place[HP_W] != 0.0)
        add(&l, ", misplaced by %+.3g, %+.3g and %+.3g degrees (U, V, W)", place[HP_U] / HP_DEG,
            place[HP_V] / HP_DEG, place[HP_W] / HP_DEG);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char name[HP_LABEL_SIZE + 8];
        if (sensors->fault[k] != HP_SENSOR_SOUND)
            add(&l, "; FAULT: Hall sensor %s is %s",
                hp_lead_name(k, subject->labels->motor_sensor[k], name, sizeof name),
                fault[sensors->fault[k]]);
    }
    if (sensors->no_supply)
        add(&l, "; FAULT: the Hall sensors have no supply");
    print_line(out, "Hall", &l);
}

static void add_limit(line *l, const char *what, double amperes, const char *mark)
{
    if (amperes > 0.0)
        add(l, ", %s limit %.3g%s A", what, amperes, mark);
    else
        add(l, ", no %s limit%s", what, mark);
}

static void print_controller(const hp_report_case *subject, marks *m, const hp_screen *out)
{
    const hp_controller_params *controller = &subject->drive->controller;
    line l = {.used = 0};
    if (subject->labels->controller[0])
        add(&l, "%s: ", subject->labels->controller);
    add(&l, "throttle %.4g%s %%", 100.0 * controller->throttle,
        mark(m, "controller.throttle_percent"));
    if (controller->speed_cap < 1.0)
        add(&l, " of a speed step of %.4g %%", 100.0 * controller->speed_cap);
    add_limit(&l, "battery", controller->battery_limit_a,
              mark(m, "controller.battery_current_limit_a"));
    add_limit(&l, "phase", controller->phase_limit_a, mark(m, "controller.phase_current_limit_a"));
    if (controller->pwm != HP_PWM_AVERAGED)
        add(&l, ", real PWM edges at %.4g%s kHz", 1e-3 * controller->pwm_hz,
            mark(m, "controller.pwm_khz"));
    print_line(out, "Controller", &l);
}

static void print_supply_and_wheel(const hp_report_case *subject, marks *m, const hp_screen *out)
{
    const hp_drive *drive = subject->drive;
    line l = {.used = 0};
    add(&l, "%.4g%s V, internal resistance %.3g%s ohm", drive->supply.emf_v,
        mark(m, "supply.battery_v"), drive->supply.resistance_ohm,
        mark(m, "supply.resistance_mohm"));
    print_line(out, "Supply", &l);
    l = (line){.used = 0};
    add(&l, "on the stand; %.3g%s kg m2", drive->stand.wheel_inertia_kg_m2,
        mark(m, "stand.wheel_inertia_kg_m2"));
    if (drive->stand.gear_ratio != 1.0)
        add(&l, "; the rotor turns %.4g times for one turn of the wheel", drive->stand.gear_ratio);
    else
        add(&l, "; turns with the rotor");
    if (drive->stand.clutch)
        add(&l, "; a one-way clutch drives it forward only");
    if (drive->stand.load_nm != 0.0)
        add(&l, "; load %.3g N m", drive->stand.load_nm);
    print_line(out, "Wheel", &l);
}

/* Whether a set of labels says more than the letters U, V, W. */
static bool named(const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (label[k][0] != hp_phase_letter(k) || label[k][1] != '\0')
            return true;
    return false;
}

static void add_set(line *l, const char *what, const char label[HP_PHASE_COUNT][HP_LABEL_SIZE])
{
    if (named(label))
        add(l, "%s%s U %s, V %s, W %s", l->used ? "; " : "", what, label[HP_U], label[HP_V],
            label[HP_W]);
}

static void print_leads(const hp_labels *labels, const hp_screen *out)
{
    line l = {.used = 0};
    add_set(&l, "motor phase leads", labels->motor_lead);
    add_set(&l, "motor Hall leads", labels->motor_sensor);
    add_set(&l, "controller outputs", labels->controller_output);
    add_set(&l, "controller inputs", labels->controller_input);
    if (l.used && !labels->axes_known)
        add(&l, "; only names: which axis each sits on is not known");
    if (l.used)
        print_line(out, "Leads", &l);
}

/* One paragraph, whatever line breaks the file has. */
static void print_about(const char *about, const hp_screen *out)
{
    line l = {.used = 0};
    add(&l, "%s", about);
    for (char *at = l.text; *at; at++)
        if (*at == '\n' || *at == '\t')
            *at = ' ';
    print_line(out, "About", &l);
}

void hp_parts_print(const hp_report_case *subject, const hp_screen *out)
{
    line l = {.used = 0};
    marks m = {.parameters = subject->parameters, .any = false};
    if (subject->labels->machine[0])
        add(&l, "%s (%s)", subject->labels->machine, subject->file);
    else
        add(&l, "%s", subject->file);
    print_line(out, "Machine", &l);
    if (subject->about)
        print_about(subject->about, out);
    print_motor(subject, &m, out);
    print_sensors(subject, &m, out);
    print_controller(subject, &m, out);
    print_supply_and_wheel(subject, &m, out);
    print_leads(subject->labels, out);
    if (m.any)
        hp_text_fill(out, "*", HP_PARTS_INDENT,
                     out->page ? "not stated in the scenario, a usual value is taken"
                               : "not stated in the scenario, a usual value is taken: "
                                 "--show-parameters says where it comes from");
}

/* Two columns where they fit, else a sentence. */
static void print_joint(const hp_screen *out, const char *from, const char *to)
{
    if (hp_text_columns(from) > 38 || 42 + hp_text_columns(to) > out->columns) {
        char text[400];
        snprintf(text, sizeof text, "%s %s", from, to);
        hp_text_fill(out, "", 2, text);
        return;
    }
    fputs("  ", out->file);
    hp_text_pad(out->file, from, 38);
    fprintf(out->file, "  %s\n", to);
}

void hp_joints_print(const hp_report_case *subject, const hp_wiring *wiring, const hp_screen *out)
{
    const hp_labels *labels = subject->labels;
    char name[HP_LABEL_SIZE + 8], from[160], to[160];
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int lead = wiring->phase[j];
        snprintf(from, sizeof from, "motor phase lead %s",
                 hp_lead_name(lead, labels->motor_lead[lead], name, sizeof name));
        snprintf(to, sizeof to, "to controller output %s",
                 hp_lead_name(j, labels->controller_output[j], name, sizeof name));
        print_joint(out, from, to);
    }
    for (int j = 0; j < HP_PHASE_COUNT; j++) {
        int sensor = wiring->sensor[j];
        snprintf(from, sizeof from, "motor Hall lead %s",
                 hp_lead_name(sensor, labels->motor_sensor[sensor], name, sizeof name));
        snprintf(to, sizeof to, "to controller input %s",
                 hp_lead_name(j, labels->controller_input[j], name, sizeof name));
        print_joint(out, from, to);
    }
}
