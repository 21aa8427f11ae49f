/*
 * `hubphase lesson FILE -o DIR`: a club evening on commutation, made of one machine: the wall for
 * the projector, with the program itself inside, and the hand-outs.
 */
#include "app/command_table.h"

#include "app/handouts.h"
#include "app/session.h"
#include "app/tool_page.h"
#include "hubphase/decide/lesson.h"
#include "hubphase/report/documents.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#define PATH_SIZE 1200

enum { KEY_JOBS = HP_KEY_OWN, KEY_SEED, KEY_GROUPS };

typedef struct choices {
    const char *file;
    const char *folder;
    hp_handouts_choice handouts; /* its folder is filled in */
    int jobs;
    bool quiet;
} choices;

static const struct argp_option options[] = {
    {"output", 'o', "DIR", 0, "Write the evening into folder DIR, which is made if need be", 0},
    {"seed", KEY_SEED, "N", 0,
     "What the groups get to predict and to fill in: the same number gives the same sheets "
     "(default: "
     "1)",
     0},
    {"groups", KEY_GROUPS, "N", 0, "Groups, each with sheets of its own: 1 to 24 (default: 4)", 0},
    {"jobs", KEY_JOBS, "N", 0, "Threads (default: one a processor)", 0},
    {"quiet", 'q', NULL, 0, "No progress, no remarks", 0},
    {0}};

static error_t parse(int key, char *arg, struct argp_state *state)
{
    choices *choice = state->input;
    switch (key) {
    case 'o': choice->folder = arg; return 0;
    case KEY_JOBS: choice->jobs = hp_option_integer(state, "--jobs", arg, 1, HP_JOBS_MAX); return 0;
    case KEY_SEED:
        choice->handouts.seed = (unsigned)hp_option_integer(state, "--seed", arg, 0, INT_MAX);
        return 0;
    case KEY_GROUPS:
        choice->handouts.groups = hp_option_integer(state, "--groups", arg, 1, HP_HANDOUT_GROUPS);
        return 0;
    case 'q': choice->quiet = true; return 0;
    case ARGP_KEY_ARG: hp_option_take_file(state, arg, &choice->file); return 0;
    case ARGP_KEY_NO_ARGS: hp_option_refuse(state, "the scenario FILE is missing"); return 0;
    case ARGP_KEY_END:
        if (!choice->folder || !choice->folder[0])
            hp_option_refuse(state, "--output DIR is missing, must be the folder for the evening");
        return 0;
    default: return ARGP_ERR_UNKNOWN;
    }
}

static const char doc[] =
    "Make a club evening on commutation of the machine in scenario FILE. wall.html is for the "
    "projector: nine scenes, each one idea, to be guessed first and then looked at in slow "
    "motion; driven by the keyboard or a presenter's clicker. It is one file that needs no "
    "network. The hand-outs are sheets of A4, each as PDF and as HTML: for each group eight "
    "wirings "
    "to predict and a six-step table to fill in; a dial for the lead angle to cut out, a bench "
    "card, "
    "the leader's answers."
    "\vEvery figure is this machine's own, simulated. Where the scenario states a fault, the "
    "scenes "
    "show the machine mended, and the fault is one of them. A plan for the evening: "
    "docs/teaching.md.";

static const struct argp argp = {options, parse, "FILE", doc, NULL, NULL, NULL};

/* ---- files ----------------------------------------------------------------------------------- */

/* Opens the wall's place, so that one that cannot be written costs no waiting. */
static hp_result open_wall(hp_session *session, const choices *choice, hp_output *output,
                           hp_error *err)
{
    char path[PATH_SIZE];
    hp_result result = hp_session_folder(session, choice->folder, err);
    if (result == HP_OK)
        result = hp_session_place(choice->folder, "wall.html", path, sizeof path, err);
    return result == HP_OK ? hp_session_report_open(session, output, path, err) : result;
}

static hp_result write_wall(const hp_session *session, const hp_lesson *lesson, hp_output *output,
                            hp_error *err)
{
    const char *file = session->scenario.path;
    char *scenario = NULL, *evening = hp_evening_text(lesson, &session->scenario);
    hp_result result = evening ? hp_tool_page_read(file, &scenario, err)
                               : hp_error_set(err, HP_FAIL_MEMORY, "no memory for the wall");
    if (result == HP_OK) {
        const hp_tool_page page = {
            .name = hp_tool_page_name(file), .scenario = scenario, .evening = evening};
        hp_tool_page_write(HP_PAGE_WALL, &page, output->file);
        result = hp_output_finish(output, HP_OK, err);
    }
    if (result == HP_OK)
        hp_session_wrote(session, output->path);
    free(scenario);
    free(evening);
    return result;
}

/* ---- the evening ----------------------------------------------------------------------------- */

static hp_result make_lesson(const hp_session *session, hp_lesson *lesson, hp_error *err)
{
    hp_bar bar = hp_bar_begin(session->choice.quiet);
    hp_survey_options of = hp_session_survey_options(session, &bar);
    hp_result result = hp_lesson_make(&session->scenario.drive, &of, lesson, err);
    hp_bar_end(&bar);
    return result;
}

static hp_result write_handouts(hp_session *session, const choices *choice, const hp_lesson *lesson,
                                hp_error *err)
{
    hp_handouts_choice handouts = choice->handouts;
    handouts.folder = choice->folder;
    handouts.jobs = choice->jobs;
    return hp_handouts_put(session, &handouts, &lesson->drive, &lesson->survey, err);
}

/* Wall and hand-outs tell of the one lesson that is made here; a machine of which nothing can be
 * shown is refused before the evening. Without the wall there are the hand-outs. */
static hp_result make_evening(hp_session *session, const choices *choice, hp_error *err)
{
    hp_output wall;
    hp_lesson lesson;
    hp_error no_wall = hp_error_none();
    bool walled = hp_tool_page_want(&no_wall) == HP_OK;
    memset(&lesson, 0, sizeof lesson);
    memset(&wall, 0, sizeof wall);
    hp_result result = walled ? open_wall(session, choice, &wall, err)
                              : hp_session_folder(session, choice->folder, err);
    if (result == HP_OK)
        result = make_lesson(session, &lesson, err);
    if (result == HP_OK && walled)
        result = write_wall(session, &lesson, &wall, err);
    if (result == HP_OK && !walled)
        hp_terminal_line(stderr, "%s: no wall, only the hand-outs: %s", session->command,
                         no_wall.text);
    if (result == HP_OK)
        result = write_handouts(session, choice, &lesson, err);
    hp_output_discard(&wall);
    hp_lesson_free(&lesson);
    return result;
}

hp_exit hp_command_lesson(int argc, char **argv)
{
    choices choice = {.handouts = hp_handouts_choice_default()};
    hp_run_choice run = hp_run_choice_default();
    hp_session session;
    hp_error err = hp_error_none();
    hp_options_parse(&argp, 0, argc, argv, &choice);
    run.jobs = choice.jobs;
    run.quiet = choice.quiet;
    hp_exit status = hp_session_open(&session, argv[0], choice.file, &run);
    if (status != HP_EXIT_FINE)
        return status;
    if (make_evening(&session, &choice, &err) != HP_OK)
        status = hp_session_fail(argv[0], &err);
    hp_session_close(&session);
    return status;
}
