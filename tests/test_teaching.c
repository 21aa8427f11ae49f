/*
 * docs/teaching.md against the scenes of the wall: the titles are theirs, and the words that it
 * counts for the clock are as many as the scenes have for those two machines, within a tenth.
 * tests/teaching_clock.sh holds the plans' minutes against these counts.
 */
#include "scenario_text.h"

#include "hubphase/decide/lesson.h"
#include "report/lesson/scene.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int count_words(const char *text)
{
    int count = 0;
    for (; *text; text += strcspn(text, " "), text += strspn(text, " "))
        count++;
    return count;
}

/* All that a leader reads aloud. */
static int spoken(const hp_scene_words *w)
{
    int count = count_words(w->question) + count_words(w->usual) + count_words(w->instead);
    for (int k = 0; k < w->choices; k++)
        count += count_words(w->choice[k].text);
    for (int k = 0; k < w->looks; k++)
        count += count_words(w->look[k]);
    for (int k = 0; k < w->lines; k++)
        count += count_words(w->line[k]);
    return count;
}

/* The row "| 1 | title | words | words |" of a scene; false: there is none. */
static bool row_of(const char *page, int number, char title[80], int words[2])
{
    char begin[24];
    snprintf(begin, sizeof begin, "\n| %d | ", number);
    for (const char *at = page; (at = strstr(at, begin)); at++)
        if (sscanf(at + strlen(begin), "%79[^|]| %d | %d |", title, &words[0], &words[1]) == 3) {
            title[strlen(title) - 1] = '\0'; /* the blank before the bar */
            return true;
        }
    return false;
}

static char *read_page(void)
{
    static char page[40000];
    FILE *in = fopen(HP_SCENARIO_DIR "/../docs/teaching.md", "r");
    check_true(in != NULL, "no docs/teaching.md");
    page[fread(page, 1, sizeof page - 1, in)] = '\0';
    fclose(in);
    return page;
}

static void check_machine(const char *page, const char *name, int column)
{
    char path[1024];
    hp_error err = hp_error_none();
    static hp_lesson lesson;
    snprintf(path, sizeof path, "%s/%s.yaml", HP_SCENARIO_DIR, name);
    loaded l = scenario_load_path(path);
    check_true(l.result == HP_OK, "%s", l.printed);
    hp_survey_options options = hp_survey_options_default();
    options.run.seconds = l.scenario.run.seconds;
    options.run.settle_s = l.scenario.run.settle_s;
    options.starts = 3;
    check_true(hp_lesson_make(&l.scenario.drive, &options, &lesson, &err) == HP_OK, "%s", err.text);
    hp_scene_case c = {
        .lesson = &lesson, .labels = &l.scenario.labels, .costs = &l.scenario.bench.plan.costs};
    for (int k = 0; k < hp_scene_count; k++) {
        static hp_scene_words w;
        char title[80];
        int words[2];
        memset(&w, 0, sizeof w);
        hp_scene_tell(hp_scenes[k], &c, &w);
        check_true(row_of(page, k + 1, title, words), "no row for scene %d", k + 1);
        check_true(strcmp(title, hp_scenes[k]->title) == 0, "scene %d is called %s", k + 1,
                   hp_scenes[k]->title);
        int is = spoken(&w);
        check_true(abs(words[column] - is) <= is / 10, "%s, scene %d: the page counts %d, it is %d",
                   name, k + 1, words[column], is);
    }
    hp_lesson_free(&lesson);
    hp_scenario_free(&l.scenario);
    free(l.printed);
}

static void the_page_counts_what_the_wall_says(void **state)
{
    (void)state;
    const char *page = read_page();
    check_int(hp_scene_count, 9);
    check_machine(page, "barrow", 0);
    check_machine(page, "trike", 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_page_counts_what_the_wall_says)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
