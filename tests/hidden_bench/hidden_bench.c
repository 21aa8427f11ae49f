/*
 * The advice tried at benches that do not share its assumptions.
 *
 *   hidden_bench HUBPHASE FOLDER CASES [FAMILIES [TABLE_FILE]]
 *   hidden_bench HUBPHASE FOLDER tell FAMILY CASE
 *   hidden_bench list
 *
 * FAMILIES: `all`, `alone` (one nuisance), `pairs` (two at a time), `gate` (those that every test
 * run holds to the aims), a number of the list or two with a hyphen between. `tell` prints one case
 * as a story. What the wheel does comes from bench_world.c, which shares nothing with the library;
 * the only way to the advice is `hubphase next --json` and a bench log written as by a pencil.
 * HIDDEN_BENCH_PLAIN=1 in the environment leaves out of the log what older programs do not take.
 *
 * Every aim that is missed by more than chance allows is told; exit status 1 when one is missed by
 * a family of the gate.
 */
#include "../chance.h"
#include "bench_person.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define SEED       20261129
#define STEPS_MAX  60
#define LOG_SIZE   65536
#define ASKED_MAX  2048
#define ASKED_SIZE 2048

static bool plain;

static void fail(const char *what, const char *detail)
{
    fprintf(stderr, "hidden_bench: %s%s\n", what, detail);
    exit(2);
}

/* ---- families -------------------------------------------------------------------------------- */

typedef struct family {
    char name[96];
    unsigned out;
    int readings; /* 0: trials alone, 1: readings, 2: every other case */
    bool gate;
} family;

#define FAMILIES_MAX 80
static family families[FAMILIES_MAX];
static int family_count, alone_count;

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
};
#define NUISANCES (int)(sizeof nuisance / sizeof nuisance[0])

static void add_family(unsigned out, int readings, bool gate, const char *one, const char *two)
{
    static const char *const mode[] = {"trials alone", "readings", "half with readings"};
    family *f = &families[family_count++];
    f->out = out;
    f->readings = readings;
    f->gate = gate;
    snprintf(f->name, sizeof f->name, "%s%s%s, %s", one, two ? " and " : "", two ? two : "",
             mode[readings]);
}

static void list_families(void)
{
    for (int k = 0; k < NUISANCES; k++)
        for (int mode = 0; mode < 2; mode++)
            if (nuisance[k].modes >> mode & 1)
                add_family(nuisance[k].out, mode, nuisance[k].gate >> mode & 1, nuisance[k].name,
                           NULL);
    alone_count = family_count;
    for (int a = 0; a < NUISANCES; a++)
        for (int b = a + 1; b < NUISANCES; b++)
            /* A sine drive has its own edges: no pair with the one-sided ones. */
            if (nuisance[a].pairs && nuisance[b].pairs &&
                (nuisance[a].out | nuisance[b].out) != (OUT_ONE_SIDED | OUT_SINE))
                add_family(nuisance[a].out | nuisance[b].out,
                           (nuisance[a].out | nuisance[b].out) & OUT_METERLESS ? 0 : 2, false,
                           nuisance[a].name, nuisance[b].name);
}

/* ---- the scenario: what the person knows of the machine -------------------------------------- */

static void write_scenario(const char *path, unsigned out, bool readings)
{
    static const char *const reading[] = {"pins", "sensor_supply", "hand_turn",       "winding",
                                          "spin", "park",          "controller_probe"};
    FILE *file = fopen(path, "w");
    if (!file)
        fail("cannot write ", path);
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
    fputs("bench:\n  rest_angles: 6\n", file);
    if (out & OUT_METERLESS)
        fputs("  meters: {ammeter: no, tachometer: no}\n", file);
    if (!readings) {
        fputs("  readings:\n", file);
        for (size_t k = 0; k < sizeof reading / sizeof reading[0]; k++)
            fprintf(file, "    %s: no\n", reading[k]);
    }
    if (fclose(file) != 0)
        fail("cannot write ", path);
}

/* ---- asking ---------------------------------------------------------------------------------- */

typedef struct answer {
    char kind[16], title[160], reason[512], fault[24], danger[32];
    person_step step;
    double certainty;
    int trouble_lead;
    bool inverted; /* the trouble is a sensor that reads the wrong way round */
} answer;

static struct {
    char key[ASKED_SIZE];
    answer answer;
} asked[ASKED_MAX];
static int asked_count;

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

static answer read_answer(const json_t *root)
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

typedef struct bench {
    const char *program, *folder;
    char scenario[1024], log[1024];
} bench;

/* One scenario for all families of which the person knows the same. */
static void choose_scenario(bench *b, const family *f, bool readings)
{
    unsigned stated = f->out & (OUT_GEARED | OUT_METERLESS | OUT_STATED);
    snprintf(b->scenario, sizeof b->scenario, "%s/bench_%x_%d.yaml", b->folder, stated, readings);
    snprintf(b->log, sizeof b->log, "%s/bench_%x_%d.bench.yaml", b->folder, f->out, f->readings);
    write_scenario(b->scenario, f->out, readings);
}

static answer run_next(const bench *b, const char *log)
{
    char command[4096];
    unlink(b->log);
    if (log[0]) {
        FILE *out = fopen(b->log, "w");
        if (!out || fputs("hubphase_log: 1\nscenario: Hidden bench\nentries:\n", out) < 0 ||
            fputs(log, out) < 0 || fclose(out) != 0)
            fail("cannot write ", b->log);
    }
    snprintf(command, sizeof command,
             "XDG_CACHE_HOME='%s' '%s' next '%s' --log '%s' --json --quiet", b->folder, b->program,
             b->scenario, b->log);
    FILE *in = popen(command, "r");
    json_error_t error;
    json_t *root = in ? json_loadf(in, JSON_DISABLE_EOF_CHECK, &error) : NULL;
    if (!root || pclose(in) != 0)
        fail("failed: ", command);
    answer a = read_answer(root);
    json_decref(root);
    return a;
}

/* Until power is on, many cases have the same log: what was answered then is kept. */
static answer ask(const bench *b, const char *log)
{
    char key[ASKED_SIZE];
    if (strstr(log, "trial:") ||
        snprintf(key, sizeof key, "%s\n%s", b->scenario, log) >= (int)sizeof key)
        return run_next(b, log);
    for (int k = 0; k < asked_count; k++)
        if (strcmp(asked[k].key, key) == 0)
            return asked[k].answer;
    answer a = run_next(b, log);
    if (asked_count < ASKED_MAX) {
        snprintf(asked[asked_count].key, sizeof key, "%s", key);
        asked[asked_count++].answer = a;
    }
    return a;
}

/* ---- one case -------------------------------------------------------------------------------- */

typedef enum ending {
    END_RIGHT,      /* done, and it is */
    END_PROBABLY,   /* said to be probably right, and it is */
    END_FALSE_DONE, /* done, and it is not */
    END_FALSE_PROBABLY,
    END_PART,       /* a sound part is called broken */
    END_GAVE_UP,    /* without naming a sound part */
    END_GAVE_UP_ON, /* named a sound part on the way out */
    END_STOPPED,    /* a danger that is not there */
    END_NONE,       /* goes on and on, or asks for what cannot be done */
    END_COUNT
} ending;

typedef struct outcome {
    ending end;
    bool named;  /* what was wrong was named, or found by a reading that was advised */
    bool reason; /* the end says why */
    bool tried, first_right, to_equal;
    int powered, readings, same_reading;
} outcome;

static bool is(const answer *a, const char *kind)
{
    return strcmp(a->kind, kind) == 0;
}

static ending judge(const person *p, const answer *a)
{
    bool right = a->step.number > 0 && person_wiring_right(p, &a->step);
    if (is(a, "done"))
        return right && person_sound(p) ? END_RIGHT : END_FALSE_DONE;
    /* This promises the wiring only, and leaves something to check. */
    if (is(a, "probably"))
        return right ? END_PROBABLY : END_FALSE_PROBABLY;
    if (is(a, "repair"))
        return strcmp(a->fault, "unlisted") == 0 ? END_GAVE_UP : END_PART;
    if (is(a, "give_up")) {
        bool names =
            (a->fault[0] && strcmp(a->fault, "none") != 0 && strcmp(a->fault, "unlisted") != 0) ||
            a->inverted;
        return names && a->certainty >= 0.5 ? END_GAVE_UP_ON : END_GAVE_UP;
    }
    return is(a, "danger") ? END_STOPPED : END_NONE;
}

/* Adds one entry to the log; false when the person cannot do what is asked. */
static bool do_step(person *p, const answer *a, outcome *o, FILE *out)
{
    if (is(a, "read")) {
        o->readings++;
        bool trouble = !person_sound(p);
        if (!person_read(p, &a->step, out))
            return false;
        o->named = o->named || (trouble && person_sound(p));
        return true;
    }
    if (is(a, "try") || is(a, "look")) {
        if (!o->tried)
            o->first_right = person_wiring_right(p, &a->step);
        o->tried = true;
        o->powered++;
        person_try(p, &a->step, plain, out);
        return true;
    }
    if (is(a, "repair") || is(a, "give_up")) {
        bool mended = person_mend(p, a->fault, a->trouble_lead, out);
        o->named = o->named || mended;
        return mended;
    }
    if (is(a, "danger") && strcmp(a->danger, "sensor_supply_low") == 0 && person_mend_supply(p)) {
        o->named = true;
        person_step again = {.reading = "sensor_supply", .lead = -1};
        return person_read(p, &again, out);
    }
    return false;
}

static void tell(const answer *a, const char *entry)
{
    printf("%s: %s (%.4f)%s%s\n", a->kind, a->title, a->certainty, a->fault[0] ? " fault " : "",
           a->fault);
    if (is(a, "done") || is(a, "probably") || is(a, "give_up") || is(a, "repair"))
        printf("  %s\n", a->reason);
    fputs(entry, stdout);
}

static void describe(const person *p)
{
    const world_machine *m = &p->machine;
    printf("hidden: sensors on axes %d %d %d, phases on %d %d %d; friction x%.2f (%.2f N m), duty "
           "x%.2f, idle %.2f A, %s%s, EMF %.1f V, supply limit %.0f A, brown-out %.0f V, silent "
           "%d, trips at %.1f A, cuts after %.2f s, loose phase %d sensor %d\n",
           p->sensor_axis[0], p->sensor_axis[1], p->sensor_axis[2], p->phase_axis[0],
           p->phase_axis[1], p->phase_axis[2], p->friction_factor, m->rotor.coulomb, p->duty_factor,
           m->idle_a, m->pwm == WORLD_ONE_SIDED ? "one-sided" : "complementary",
           m->sine ? ", sine" : "", m->emf, p->fixed_limit_a, m->brownout_v, (int)p->silent,
           m->trip_a, m->cut_after, p->loose_phase, p->loose_sensor);
    printf("right wirings:");
    for (int number = 1; number <= 36; number++) {
        static const int order[6][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                        {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
        person_step s = {.number = number};
        memcpy(s.sensor, order[(number - 1) / 6], sizeof s.sensor);
        memcpy(s.phase, order[(number - 1) % 6], sizeof s.phase);
        if (person_wiring_right(p, &s))
            printf(" %d", number);
    }
    puts("");
}

static outcome run_case(bench *b, const family *f, int index, bool story)
{
    static char log[LOG_SIZE];
    bool readings = f->readings == 2 ? index % 2 == 0 : f->readings == 1;
    person p = person_draw(f->out, readings, SEED, index);
    outcome o = {.end = END_NONE};
    answer last = {.kind = ""};
    bool was_smooth = false;
    choose_scenario(b, f, readings);
    log[0] = 0;
    size_t length = 0;
    if (story)
        describe(&p);
    for (int step = 0; step < STEPS_MAX; step++) {
        char entry[2048] = "";
        FILE *out = fmemopen(entry, sizeof entry, "w");
        answer a = ask(b, log);
        /* Three wirings are right together: from one that ran smoothly nobody moves to another. */
        if (is(&a, "try") && was_smooth && a.step.number != last.step.number &&
            person_wiring_right(&p, &a.step) && person_wiring_right(&p, &last.step))
            o.to_equal = true;
        bool goes_on = out && do_step(&p, &a, &o, out);
        if (out)
            fclose(out);
        if (story)
            tell(&a, goes_on ? entry : "");
        if (!goes_on) {
            o.end = judge(&p, &a);
            o.reason = a.reason[0] && o.end != END_NONE;
            break;
        }
        if (is(&a, "try") || is(&a, "look")) {
            was_smooth = strstr(entry, "motion: forward") && strstr(entry, "feel: smooth");
            last = a;
        }
        size_t more = strlen(entry);
        if (length + more + 1 > LOG_SIZE)
            fail("the log grew too long", "");
        memcpy(log + length, entry, more + 1);
        length += more;
    }
    return o;
}

/* ---- what came of it ------------------------------------------------------------------------- */

typedef struct tally {
    int cases, end[END_COUNT], named, reason, first, tried, to_equal, powered, worst, readings;
} tally;

/* 95 % interval of a share: Wilson, J. Am. Stat. Assoc. 22 (1927); from memory. */
static void wilson(int part, int whole, double *low, double *high)
{
    double n = whole, p = part / n, z = 1.96, d = 1.0 + z * z / n;
    double middle = (p + z * z / (2.0 * n)) / d;
    double half = z / d * sqrt(p * (1.0 - p) / n + z * z / (4.0 * n * n));
    *low = fmax(0.0, middle - half);
    *high = fmin(1.0, middle + half);
}

static void put_share(FILE *out, int part, int whole)
{
    double low, high;
    if (whole == 0) {
        fputs("  |", out);
        return;
    }
    wilson(part, whole, &low, &high);
    fprintf(out, " %.1f (%.1f to %.1f) |", 100.0 * part / whole, 100.0 * low, 100.0 * high);
}

static void put_heading(FILE *out)
{
    fputs("| family | cases | correct wiring | of it \"probably\" | false \"done\" | false "
          "\"probably\" | wrong part named | gave up | no honest end | trouble found | first "
          "powered right | powered trials, mean | worst | readings | moved to an equal |\n"
          "|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|\n",
          out);
}

static int wrong_parts(const tally *t)
{
    return t->end[END_PART] + t->end[END_GAVE_UP_ON];
}

static int dishonest(const tally *t)
{
    return t->end[END_NONE] + t->end[END_STOPPED];
}

static void put_row(FILE *out, const family *f, const tally *t)
{
    int n = t->cases;
    bool trouble = f->out & (OUT_SILENT | OUT_CUTTING | OUT_LOOSE);
    fprintf(out, "| %s | %d |", f->name, n);
    put_share(out, t->end[END_RIGHT] + t->end[END_PROBABLY], n);
    fprintf(out, " %d |", t->end[END_PROBABLY]);
    put_share(out, t->end[END_FALSE_DONE], n);
    put_share(out, t->end[END_FALSE_PROBABLY], n);
    put_share(out, wrong_parts(t), n);
    put_share(out, t->end[END_GAVE_UP], n);
    put_share(out, dishonest(t) + (n - t->reason - t->end[END_NONE]), n);
    put_share(out, t->named, trouble ? n : 0);
    put_share(out, t->first, t->tried);
    fprintf(out, " %.2f | %d | %.2f | %d |\n", (double)t->powered / n, t->worst,
            (double)t->readings / n, t->to_equal);
    fflush(out);
}

/* ---- the aims -------------------------------------------------------------------------------- */

/* In shares of the cases. The means are those of a sharp person and the exact plan
 * (tests/test_search.c) and one trial more. */
#define AIM_RIGHT         0.99
#define AIM_FALSE         0.002
#define AIM_FIRST         0.95 /* with readings */
#define AIM_MEAN_READINGS 2.0
#define AIM_MEAN_WORDS    3.667
#define AIM_WORST         8

static int held(const family *f, const char *what, double found, double most)
{
    if (found <= most)
        return 0;
    fprintf(stderr, "  MISSED by %s: %s %g, at most %g\n", f->name, what, found, most);
    return 1;
}

static int check_aims(const family *f, const tally *t)
{
    int n = t->cases, right = t->end[END_RIGHT] + t->end[END_PROBABLY];
    double mean = f->readings == 0   ? AIM_MEAN_WORDS
                  : f->readings == 1 ? AIM_MEAN_READINGS
                                     : 0.5 * (AIM_MEAN_WORDS + AIM_MEAN_READINGS);
    /* Four standard errors of a mean whose cases differ by about one trial. */
    mean += 4.0 / sqrt(n);
    int missed = held(f, "cases not brought to the right wiring", n - right,
                      most_by_chance(1.0 - AIM_RIGHT, n));
    missed +=
        held(f, "cases with a false \"done\"", t->end[END_FALSE_DONE] + t->end[END_FALSE_PROBABLY],
             most_by_chance(AIM_FALSE, n));
    missed +=
        held(f, "cases with a wrong part named", wrong_parts(t), most_by_chance(AIM_FALSE, n));
    missed += held(f, "cases without an honest end", dishonest(t), 0);
    missed += held(f, "cases that move to an equal of a wiring that ran smoothly", t->to_equal, 0);
    missed += held(f, "powered trials in the mean", (double)t->powered / n, mean);
    missed += held(f, "powered trials at worst", t->worst, AIM_WORST);
    if (f->readings == 1)
        missed += held(f, "first powered trials that are wrong", t->tried - t->first,
                       most_by_chance(1.0 - AIM_FIRST, t->tried));
    return missed;
}

static tally run_family(bench *b, const family *f, int cases)
{
    tally t = {.cases = cases};
    for (int k = 0; k < cases; k++) {
        outcome o = run_case(b, f, k, false);
        t.end[o.end]++;
        t.named += o.named;
        t.reason += o.reason;
        t.tried += o.tried;
        t.first += o.tried && o.first_right;
        t.to_equal += o.to_equal;
        t.powered += o.powered;
        t.worst = o.powered > t.worst ? o.powered : t.worst;
        t.readings += o.readings;
        if (o.end != END_RIGHT && o.end != END_PROBABLY)
            fprintf(stderr, "  family %d case %d: end %d, %d powered\n", (int)(f - families) + 1, k,
                    (int)o.end, o.powered);
    }
    return t;
}

/* "all", "alone", "pairs", a number or two with a hyphen between. */
static bool wanted(const char *which, int k)
{
    int first = 0, last = 0, count = sscanf(which, "%d-%d", &first, &last);
    if (count > 0)
        return k + 1 >= first && k + 1 <= (count > 1 ? last : first);
    return strcmp(which, "all") == 0 || (strcmp(which, "alone") == 0 && k < alone_count) ||
           (strcmp(which, "pairs") == 0 && k >= alone_count) ||
           (strcmp(which, "gate") == 0 && families[k].gate);
}

int main(int argc, char **argv)
{
    bench b = {0};
    plain = getenv("HIDDEN_BENCH_PLAIN") != NULL;
    list_families();
    if (argc == 2 && strcmp(argv[1], "list") == 0) {
        for (int k = 0; k < family_count; k++)
            printf("%d %s\n", k + 1, families[k].name);
        return 0;
    }
    if (argc < 4) {
        fputs("usage: hidden_bench HUBPHASE FOLDER CASES [FAMILIES [TABLE_FILE]]\n"
              "       hidden_bench HUBPHASE FOLDER tell FAMILY CASE\n",
              stderr);
        return 2;
    }
    b.program = argv[1];
    b.folder = argv[2];
    if (strcmp(argv[3], "tell") == 0 && argc == 6) {
        const family *f = &families[atoi(argv[4]) - 1];
        outcome o = run_case(&b, f, atoi(argv[5]), true);
        printf("end %d, named %d, reason %d, first right %d, %d powered, %d readings\n", (int)o.end,
               o.named, o.reason, o.first_right, o.powered, o.readings);
        return 0;
    }
    const char *which = argc > 4 ? argv[4] : "all";
    FILE *out = argc > 5 ? fopen(argv[5], "w") : stdout;
    if (!out)
        fail("cannot write ", argv[5]);
    int missed = 0;
    put_heading(out);
    for (int k = 0; k < family_count; k++) {
        if (!wanted(which, k))
            continue;
        tally t = run_family(&b, &families[k], atoi(argv[3]));
        put_row(out, &families[k], &t);
        int of_family = check_aims(&families[k], &t);
        missed += families[k].gate ? of_family : 0;
    }
    if (out != stdout && fclose(out) != 0)
        fail("cannot write ", argv[5]);
    return missed > 0;
}
