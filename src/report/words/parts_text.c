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

static void print_line(FILE *out, const char *title, const line *l)
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

static void print_motor(const hp_report_case *subject, FILE *out)
{
    const hp_motor_params *motor = &subject->drive->motor;
    static const char *const shape[HP_BACKEMF_KIND_COUNT] = {
        "sinusoidal back-EMF", "trapezoidal back-EMF", "back-EMF of a measured shape"};
    line l = {.used = 0};
    if (subject->labels->motor[0])
        add(&l, "%s: ", subject->labels->motor);
    add(&l, "%d pole pairs, %s", motor->pole_pairs, shape[motor->backemf.kind]);
    if (motor->backemf.kind == HP_BACKEMF_TRAPEZOIDAL)
        add(&l, " (flat over %.4g degrees)", motor->backemf.flat_rad / HP_DEG);
    add(&l, ", %.3g ohm and %.3g mH between two leads", 2.0 * motor->resistance_ohm,
        2e3 * motor->inductance_h);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char name[HP_LABEL_SIZE + 8];
        if (motor->lead_open[k])
            add(&l, "; FAULT: phase lead %s is open",
                hp_lead_name(k, subject->labels->motor_lead[k], name, sizeof name));
    }
    print_line(out, "Motor", &l);
}

static void print_sensors(const hp_report_case *subject, FILE *out)
{
    const hp_sensors_params *sensors = &subject->drive->sensors;
    static const char *const fault[HP_SENSOR_FAULT_COUNT] = {"", "stuck at 1", "stuck at 0",
                                                             "inverted"};
    const double *place = sensors->placement_rad;
    line l = {.used = 0};
    add(&l, "spaced for %d degrees", sensors->spacing_60 ? 60 : 120);
    if (place[HP_U] != 0.0 || place[HP_V] != 0.0 || place[HP_W] != 0.0)
        add(&l, ", misplaced by %+.3g, %+.3g and %+.3g degrees (U, V, W)", place[HP_U] / HP_DEG,
            place[HP_V] / HP_DEG, place[HP_W] / HP_DEG);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char name[HP_LABEL_SIZE + 8];
        if (sensors->fault[k] != HP_SENSOR_SOUND)
            add(&l, "; FAULT: sensor %s is %s",
                hp_lead_name(k, subject->labels->motor_sensor[k], name, sizeof name),
                fault[sensors->fault[k]]);
    }
    if (sensors->no_supply)
        add(&l, "; FAULT: the sensors have no supply");
    print_line(out, "Sensors", &l);
}

static void add_limit(line *l, const char *what, double amperes)
{
    if (amperes > 0.0)
        add(l, ", %s limit %.3g A", what, amperes);
    else
        add(l, ", no %s limit", what);
}

static void print_controller(const hp_report_case *subject, FILE *out)
{
    const hp_controller_params *controller = &subject->drive->controller;
    line l = {.used = 0};
    if (subject->labels->controller[0])
        add(&l, "%s: ", subject->labels->controller);
    add(&l, "throttle %.4g %%", 100.0 * controller->throttle);
    if (controller->speed_cap < 1.0)
        add(&l, " of a speed step of %.4g %%", 100.0 * controller->speed_cap);
    add_limit(&l, "battery", controller->battery_limit_a);
    add_limit(&l, "phase", controller->phase_limit_a);
    if (controller->pwm != HP_PWM_AVERAGED)
        add(&l, ", real PWM edges at %.4g kHz", 1e-3 * controller->pwm_hz);
    print_line(out, "Controller", &l);
}

static void print_supply_and_wheel(const hp_report_case *subject, FILE *out)
{
    const hp_drive *drive = subject->drive;
    line l = {.used = 0};
    add(&l, "%.4g V behind %.3g ohm", drive->supply.emf_v, drive->supply.resistance_ohm);
    print_line(out, "Supply", &l);
    l = (line){.used = 0};
    add(&l, "lifted, no road; %.3g kg m2", drive->stand.wheel_inertia_kg_m2);
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

static void print_leads(const hp_labels *labels, FILE *out)
{
    line l = {.used = 0};
    add_set(&l, "motor phases", labels->motor_lead);
    add_set(&l, "motor sensors", labels->motor_sensor);
    add_set(&l, "controller outputs", labels->controller_output);
    add_set(&l, "controller inputs", labels->controller_input);
    if (l.used)
        print_line(out, "Leads", &l);
}

/* One paragraph, whatever line breaks the file has. */
static void print_about(const char *about, FILE *out)
{
    line l = {.used = 0};
    add(&l, "%s", about);
    for (char *at = l.text; *at; at++)
        if (*at == '\n' || *at == '\t')
            *at = ' ';
    print_line(out, "About", &l);
}

void hp_parts_print(const hp_report_case *subject, FILE *out)
{
    line l = {.used = 0};
    if (subject->labels->machine[0])
        add(&l, "%s (%s)", subject->labels->machine, subject->file);
    else
        add(&l, "%s", subject->file);
    print_line(out, "Machine", &l);
    if (subject->about)
        print_about(subject->about, out);
    print_motor(subject, out);
    print_sensors(subject, out);
    print_controller(subject, out);
    print_supply_and_wheel(subject, out);
    print_leads(subject->labels, out);
}

static void print_joint(FILE *out, const char *from, const char *to)
{
    fputs("  ", out);
    hp_text_pad(out, from, 38);
    fprintf(out, "  %s\n", to);
}

void hp_joints_print(const hp_report_case *subject, const hp_wiring *wiring, FILE *out)
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
        snprintf(from, sizeof from, "motor sensor lead %s",
                 hp_lead_name(sensor, labels->motor_sensor[sensor], name, sizeof name));
        snprintf(to, sizeof to, "to controller input %s",
                 hp_lead_name(j, labels->controller_input[j], name, sizeof name));
        print_joint(out, from, to);
    }
}
