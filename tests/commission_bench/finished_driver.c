/* Running the program: see the header. */
#include "finished_driver.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define STEPS_MAX    64
#define OUTPUT_MAX   (1 << 19)
#define STATUS_CRASH 5 /* from here on no status that the program gives: DEVELOPERS.md */

void driver_fail(const char *what, const char *detail)
{
    fprintf(stderr, "bench: %s%s\n", what, detail);
    exit(2);
}

const char *driver_text(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));
    return text ? text : "";
}

/* Its output, for the caller to free; what failed is told and counted. */
static char *run(driver *d, const char *arguments, bool *good)
{
    char command[PERSON_ARGS + 2048];
    snprintf(command, sizeof command, "'%s' %s 2>&1", d->program, arguments);
    FILE *in = popen(command, "r");
    char *text = malloc(OUTPUT_MAX);
    size_t used = 0, got;
    if (!in || !text)
        driver_fail("cannot run ", command);
    while ((got = fread(text + used, 1, OUTPUT_MAX - 1 - used, in)) > 0)
        used += got;
    text[used] = '\0';
    int ended = pclose(in), status = WIFEXITED(ended) ? WEXITSTATUS(ended) : STATUS_CRASH;
    *good = status == 0;
    if (status >= STATUS_CRASH)
        d->crashes++;
    else if (status != 0)
        d->refused++;
    if (status != 0)
        printf("%s: status %d\n  %s\n  %s\n", d->name, status, command, text);
    return text;
}

json_t *driver_ask(driver *d, const char *arguments)
{
    bool good;
    json_error_t error;
    char *text = run(d, arguments, &good);
    json_t *root = good ? json_loads(text, 0, &error) : NULL;
    if (good && !root) {
        printf("%s: no JSON from %s: %s\n", d->name, arguments, error.text);
        d->crashes++;
    }
    free(text);
    return root;
}

static json_t *ask_commission(driver *d, const char *step)
{
    char arguments[2048];
    snprintf(arguments, sizeof arguments, "commission '%s/%s.yaml' --json%s%s", d->folder, d->name,
             step ? " --step=" : "", step ? step : "");
    return driver_ask(d, arguments);
}

static void log_entry(driver *d, const char *kind, const char *options)
{
    char arguments[PERSON_ARGS + 1024];
    bool good;
    snprintf(arguments, sizeof arguments, "log '%s/%s.yaml' %s%s", d->folder, d->name, kind,
             options);
    free(run(d, arguments, &good));
    if (d->tells)
        printf("  log %s%s\n", kind, options);
}

void driver_begin(driver *d, const finished_person *p, const char *name)
{
    char path[2048];
    snprintf(d->name, sizeof d->name, "%s", name);
    snprintf(path, sizeof path, "%s/%s.bench.yaml", d->folder, name);
    unlink(path);
    snprintf(path, sizeof path, "%s/%s.yaml", d->folder, name);
    FILE *out = fopen(path, "w");
    if (!out)
        driver_fail("cannot write ", path);
    finished_person_scenario(p, name, out);
    if (fclose(out) != 0)
        driver_fail("cannot write ", path);
}

/* What the card of the heating asks for: "about N A". */
static double advised_amperes(const json_t *card)
{
    const json_t *how = json_object_get(json_object_get(card, "step"), "how");
    double amperes = 0.0;
    for (size_t k = 0; k < json_array_size(how); k++) {
        const char *line = json_string_value(json_array_get(how, k));
        const char *about = line ? strstr(line, "about ") : NULL;
        if (about && sscanf(about, "about %lf A", &amperes) == 1)
            return amperes;
    }
    driver_fail("the heating step names no current: ", driver_text(card, "next"));
    return 0.0;
}

/* The first step without an entry that was not come to yet; "" when there is none. */
static void choose_step(const json_t *root, char done[][32], int count, char kind[32])
{
    const json_t *steps = json_object_get(root, "steps");
    kind[0] = '\0';
    for (size_t k = 0; k < json_array_size(steps) && !kind[0]; k++) {
        const json_t *step = json_array_get(steps, k);
        const char *name = driver_text(step, "name");
        bool seen = !json_is_null(json_object_get(step, "entry")) ||
                    !json_is_true(json_object_get(step, "concerns"));
        for (int n = 0; n < count; n++)
            seen = seen || strcmp(done[n], name) == 0;
        if (!seen)
            snprintf(kind, 32, "%s", name);
    }
}

/* The end has a name: a step that comes next, or why there is none. `part': a step of which not all
 * was read, such as a run at full throttle without its amperes. */
static void judge_end(driver *d, const json_t *root)
{
    static const char *const ends[] = {"goes_on", "stopped", "wiring",  "look",
                                       "part",    "ready",   "left_out"};
    const char *why = driver_text(root, "why");
    bool known = false;
    for (size_t k = 0; k < sizeof ends / sizeof ends[0]; k++)
        known = known || strcmp(why, ends[k]) == 0;
    if (known && (driver_text(root, "next")[0] || driver_text(root, "why_words")[0]))
        return;
    d->unnamed++;
    printf("%s: ends without a named reason: \"%s\"\n", d->name, why);
}

/* Does the step, or says that it is left out. */
static void do_step(driver *d, finished_person *p, const char *kind)
{
    char options[PERSON_ARGS];
    if (strcmp(kind, "heating") == 0) {
        json_t *card = ask_commission(d, kind);
        p->heating_a = fmin(advised_amperes(card), p->supply_most_a);
        json_decref(card);
    }
    if (finished_person_read(p, kind, options)) {
        log_entry(d, kind, options);
        return;
    }
    snprintf(options, sizeof options, " --step=%s --note='Nobody here can.'", kind);
    log_entry(d, "left_out", options);
}

json_t *driver_commission(driver *d, finished_person *p)
{
    char done[STEPS_MAX][32], kind[32];
    int count = 0;
    /* Whoever joined it has looked for what power would harm. */
    log_entry(d, "pins", " --continuity=yes --touches-shell=no --phase-touches-sensor=no");
    log_entry(d, "sensor_supply", " --supply-v=5");
    log_entry(d, "trial",
              " --wiring=1 --throttle-percent=35 --motion=forward --feel=smooth --starts=6 "
              "--starts-tried=6");
    /* No reading at the hub is logged here: the list owes a look at the Hall plug behind that run.
     */
    log_entry(d, "hall_plug", " --turns=no");
    json_t *root = ask_commission(d, NULL);
    for (bool asked = true; root;) {
        choose_step(root, done, count, kind);
        if (kind[0] && count < STEPS_MAX) {
            snprintf(done[count++], sizeof done[0], "%s", kind);
            do_step(d, p, kind);
            asked = false;
        }
        if (!kind[0] && asked) {
            judge_end(d, root);
            return root;
        }
        if (d->asks_each || !kind[0]) {
            json_decref(root);
            root = ask_commission(d, NULL);
            asked = true;
        }
    }
    return NULL;
}
