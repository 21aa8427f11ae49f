/* Likelihood tables of scenarios: shipped, kept in the cache, built; a cache is never trusted. */
#include "scenario_text.h"

#include "base/hash.h"
#include "record/case/likelihood_store.h"

#include <dirent.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* Runs so short that nothing in them means anything: a table of them takes a second. */
#define QUICK                                                                                      \
    "hubphase: 1\n"                                                                                \
    "motor: {pole_pairs: 10, resistance_between_leads_ohm: 0.3, no_load_speed_rpm_at_v: "          \
    "{speed_rpm: 300, volts: 36}}\n"                                                               \
    "run: {seconds: 0.02, settle_seconds: 0.01}\n"

/* A place for a cache folder of its own; every test leaves it empty. */
static char cache[64];
static char folder[80]; /* in it: the cache */

/* What was remarked last; empty: nothing. */
static char remarked[400];

static void remark(void *user, const char *text)
{
    (void)user;
    snprintf(remarked, sizeof remarked, "%s", text);
}

static hp_case_options options(void)
{
    hp_case_options options = hp_case_options_default();
    options.cache = folder;
    options.jobs = 2;
    options.remark = remark;
    return options;
}

static int make_cache(void **state)
{
    (void)state;
    snprintf(cache, sizeof cache, "advice-cache-%ld", (long)getpid());
    snprintf(folder, sizeof folder, "%s/hubphase", cache);
    remarked[0] = '\0';
    return mkdir(cache, 0700);
}

static int remove_cache(void **state)
{
    (void)state;
    char command[160];
    snprintf(command, sizeof command, "rm -rf '%s'", cache);
    return system(command);
}

static int files_in_cache(void)
{
    int count = 0;
    struct dirent *item;
    DIR *files = opendir(folder);
    if (!files)
        return 0;
    while ((item = readdir(files)) != NULL)
        count += item->d_name[0] != '.' || strlen(item->d_name) > 2;
    closedir(files);
    return count;
}

static hp_scenario scenario_of(const char *text)
{
    loaded l = scenario_load_text("test_likelihood_store.yaml", text);
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    free(l.printed);
    return l.scenario;
}

/* Gets a table and says where from; its text goes to *text when that is asked for. */
static hp_table_origin get(const hp_scenario *scenario, char **text)
{
    hp_likelihood table;
    hp_table_origin origin;
    hp_error err = hp_error_none();
    hp_case_options how = options();
    check_true(hp_likelihood_store_get(scenario, &how, &table, &origin, &err) == HP_OK, "%s",
               err.text);
    if (text) {
        size_t size = 0;
        FILE *out = open_memstream(text, &size);
        check_true(hp_likelihood_write(&table, out, &err) == HP_OK, "%s", err.text);
        fclose(out);
    }
    hp_likelihood_free(&table);
    return origin;
}

/* Where the scenario's table is kept. */
static void path_of(const hp_scenario *scenario, char *path, size_t size)
{
    hp_error err = hp_error_none();
    hp_likelihood_options content = hp_likelihood_store_options(scenario);
    char *basis = hp_likelihood_basis(&scenario->drive, &content);
    check_true(hp_likelihood_store_path(folder, hp_hash(basis), path, size, &err) == HP_OK, "%s",
               err.text);
    free(basis);
}

static void write_file(const char *path, const char *text, size_t size)
{
    FILE *out = fopen(path, "wb");
    check_true(out && fwrite(text, 1, size, out) == size && fclose(out) == 0, "%s", path);
}

/* ---- tests ----------------------------------------------------------------------------------- */

static void the_default_drive_needs_no_cache(void **state)
{
    (void)state;
    loaded l = scenario_load_path(HP_SCENARIO_DIR "/minimal.yaml");
    check_true(l.result == HP_OK, "%s", l.printed);
    check_int(get(&l.scenario, NULL), HP_TABLE_SHIPPED);
    /* Its faults and the names of its leads are no part of the table. */
    l.scenario.drive.sensors.fault[1] = HP_SENSOR_STUCK_LOW;
    l.scenario.drive.motor.lead_open[2] = true;
    check_int(get(&l.scenario, NULL), HP_TABLE_SHIPPED);
    check_int(files_in_cache(), 0);
    loaded_free(&l);
}

static void a_table_is_built_once_and_kept(void **state)
{
    (void)state;
    hp_scenario s = scenario_of(QUICK);
    char *built, *kept;
    check_int(get(&s, &built), HP_TABLE_BUILT);
    check_int(files_in_cache(), 1);
    check_int(get(&s, &kept), HP_TABLE_KEPT);
    assert_string_equal(built, kept);
    free(built);
    free(kept);
    hp_scenario_free(&s);
}

static void what_is_uncertain_and_the_throttle_make_another_table(void **state)
{
    (void)state;
    static const char *const same[] = {
        QUICK "name: another name\n", QUICK "leads: {motor_phases: {U: red}}\n",
        QUICK "bench: {slip_percent: 1}\n", QUICK "spread: {motors: 7}\n",
        QUICK "bench: {trial_throttle_percent: 35}\n"};
    static const char *const other[] = {QUICK "spread: {friction_percent: 10}\n",
                                        QUICK "bench: {trial_throttle_percent: 20}\n",
                                        QUICK "supply: {battery_v: 30}\n"};
    hp_scenario s = scenario_of(QUICK);
    char usual[1024], path[1024];
    path_of(&s, usual, sizeof usual);
    hp_scenario_free(&s);
    for (size_t k = 0; k < sizeof same / sizeof same[0]; k++) {
        s = scenario_of(same[k]);
        path_of(&s, path, sizeof path);
        assert_string_equal(path, usual);
        hp_scenario_free(&s);
    }
    for (size_t k = 0; k < sizeof other / sizeof other[0]; k++) {
        s = scenario_of(other[k]);
        path_of(&s, path, sizeof path);
        assert_string_not_equal(path, usual);
        hp_scenario_free(&s);
    }
}

/* Trials at the throttle of `bench` are weighed against runs at that throttle. */
static void trials_are_simulated_at_their_throttle(void **state)
{
    (void)state;
    hp_scenario s = scenario_of(QUICK "controller: {throttle_percent: 40}\n"
                                      "bench: {trial_throttle_percent: 20}\n");
    hp_likelihood_options content = hp_likelihood_store_options(&s);
    check_close(content.level[0], 0.5, 1e-12, "20 of 40 %, rounding");
    check_close(content.level[1], 0.2, 1e-12, "0.4 of that, rounding");
    hp_scenario_free(&s);
}

static void a_damaged_table_is_built_afresh(void **state)
{
    (void)state;
    hp_scenario s = scenario_of(QUICK);
    hp_scenario another = scenario_of(QUICK "supply: {battery_v: 30}\n");
    char path[1024], *good, *again, *anothers;
    get(&another, &anothers);
    remove_cache(NULL);
    mkdir(cache, 0700);
    path_of(&s, path, sizeof path);
    get(&s, &good);
    size_t size = strlen(good);
    char *bad = malloc(size + strlen(anothers) + 1);
    for (int damage = 0; damage < 5; damage += HP_DRAWS(1, 2)) {
        memcpy(bad, good, size + 1);
        size_t keep = size;
        if (damage == 0)
            keep = 0; /* empty */
        else if (damage == 1)
            keep = size / 2; /* cut short */
        else if (damage == 2)
            bad[size / 2] = bad[size / 2] == '0' ? '1' : '0'; /* one figure changed */
        else if (damage == 3)
            memset(bad, 0xff, size); /* rubbish */
        else
            keep = (size_t)sprintf(bad, "%s", anothers); /* whole, but of another drive */
        write_file(path, bad, keep);
        check_int(get(&s, &again), HP_TABLE_BUILT);
        assert_string_equal(again, good);
        free(again);
        check_int(get(&s, NULL), HP_TABLE_KEPT);
    }
    free(bad);
    free(good);
    free(anothers);
    check_int(files_in_cache(), 1);
    hp_scenario_free(&another);
    hp_scenario_free(&s);
}

/* A folder in the file's place, a file in the folder's, no folder at all: only time is lost, and
 * whoever waits is told. */
static void a_cache_that_cannot_be_written_is_no_failure(void **state)
{
    (void)state;
    hp_scenario s = scenario_of(QUICK);
    char path[1024];
    path_of(&s, path, sizeof path);
    mkdir(folder, 0700);
    mkdir(path, 0700);
    check_int(get(&s, NULL), HP_TABLE_BUILT);
    check_text_contains(remarked, "it is a folder; this is simulated again the next time");
    rmdir(path);
    rmdir(folder);
    write_file(folder, "in the way", 10);
    check_int(get(&s, NULL), HP_TABLE_BUILT);
    check_text_contains(remarked, "Not a directory; this is simulated again the next time");
    unlink(folder);

    hp_case_options nowhere = options();
    hp_likelihood table;
    hp_table_origin origin;
    hp_error err = hp_error_none();
    nowhere.cache = NULL;
    nowhere.remark = NULL;
    check_true(hp_likelihood_store_get(&s, &nowhere, &table, &origin, &err) == HP_OK, "%s",
               err.text);
    check_int(origin, HP_TABLE_BUILT);
    hp_likelihood_free(&table);
    check_int(files_in_cache(), 0);
    hp_scenario_free(&s);
}

/* Whoever names the cache need not make it, nor the folder that it lies in; a name without a folder
 * lies where the program is. */
static void the_cache_folder_is_made(void **state)
{
    (void)state;
    hp_scenario s = scenario_of(QUICK);
    remove_cache(NULL);
    check_int(get(&s, NULL), HP_TABLE_BUILT);
    check_int(files_in_cache(), 1);
    remove_cache(NULL);
    snprintf(folder, sizeof folder, "%s", cache);
    check_int(get(&s, NULL), HP_TABLE_BUILT);
    check_int(get(&s, NULL), HP_TABLE_KEPT);
    hp_scenario_free(&s);
}

/* Several programs at once: each gets the same table, one whole file is left. */
static void several_programs_at_once(void **state)
{
    (void)state;
    hp_scenario s = scenario_of(QUICK);
    pid_t child[3];
    for (int k = 0; k < 3; k++) {
        child[k] = fork();
        if (child[k] == 0) {
            hp_likelihood table;
            hp_table_origin origin;
            hp_error err = hp_error_none();
            hp_case_options how = options();
            bool good = hp_likelihood_store_get(&s, &how, &table, &origin, &err) == HP_OK;
            _exit(good ? 0 : 1);
        }
    }
    for (int k = 0; k < 3; k++) {
        int status = -1;
        waitpid(child[k], &status, 0);
        check_true(WIFEXITED(status) && WEXITSTATUS(status) == 0, "program %d: status %d", k,
                   status);
    }
    check_int(files_in_cache(), 1);
    check_int(get(&s, NULL), HP_TABLE_KEPT);
    hp_scenario_free(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_default_drive_needs_no_cache, make_cache, remove_cache),
        cmocka_unit_test_setup_teardown(a_table_is_built_once_and_kept, make_cache, remove_cache),
        cmocka_unit_test_setup_teardown(what_is_uncertain_and_the_throttle_make_another_table,
                                        make_cache, remove_cache),
        cmocka_unit_test_setup_teardown(trials_are_simulated_at_their_throttle, make_cache,
                                        remove_cache),
        cmocka_unit_test_setup_teardown(a_damaged_table_is_built_afresh, make_cache, remove_cache),
        cmocka_unit_test_setup_teardown(a_cache_that_cannot_be_written_is_no_failure, make_cache,
                                        remove_cache),
        cmocka_unit_test_setup_teardown(the_cache_folder_is_made, make_cache, remove_cache),
        cmocka_unit_test_setup_teardown(several_programs_at_once, make_cache, remove_cache),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
