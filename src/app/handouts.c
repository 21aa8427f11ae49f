/* The hand-outs of a club evening: see the header. */
#include "app/handouts.h"

#include "app/advice_session.h"

#include <string.h>

#define PATH_SIZE 1200

hp_handouts_choice hp_handouts_choice_default(void)
{
    return (hp_handouts_choice){.folder = ".", .seed = 1, .groups = 4};
}

static void remark(const hp_session *session, const char *format, const char *text)
{
    if (!session->choice.quiet)
        hp_terminal_line(stderr, format, session->command, text);
}

/* Where a hand-out goes. Their names differ, so each needs to be held against the inputs only. */
static hp_result place(const hp_session *session, const char *folder, const char *name,
                       char path[PATH_SIZE], hp_error *err)
{
    hp_output_names names = session->names;
    hp_result result = hp_session_place(folder, name, path, PATH_SIZE, err);
    return result == HP_OK ? hp_output_names_claim(&names, path, err) : result;
}

static hp_result put_one(const hp_session *session, const hp_handout_source *source,
                         const char *folder, int k, hp_handout_form form, hp_error *err)
{
    char name[HP_HANDOUT_NAME], path[PATH_SIZE];
    hp_output output;
    memset(&output, 0, sizeof output);
    hp_result result = place(session, folder, hp_handout_name(source, k, form, name), path, err);
    if (result == HP_OK)
        result = hp_output_open(&output, path, err);
    if (result == HP_OK)
        result =
            hp_output_finish(&output, hp_handout_write(source, k, form, output.file, err), err);
    if (result == HP_OK)
        hp_session_wrote(session, path);
    hp_output_discard(&output);
    return result;
}

static hp_result put_all(const hp_session *session, const hp_handout_source *source,
                         const char *folder, hp_error *err)
{
    hp_result result = HP_OK;
    bool pdf = true;
    for (int k = 0; result == HP_OK && k < hp_handout_count(source); k++) {
        result = put_one(session, source, folder, k, HP_HANDOUT_HTML, err);
        if (result == HP_OK && pdf)
            result = put_one(session, source, folder, k, HP_HANDOUT_PDF, err);
        if (result == HP_FAIL_ABSENT) {
            remark(session, "%s: hand-outs as HTML only: %s", err->text);
            pdf = false;
            result = HP_OK;
        }
    }
    return result;
}

hp_result hp_handouts_put(hp_session *session, const hp_handouts_choice *choice,
                          const hp_drive *drive, const hp_survey *survey, hp_error *err)
{
    hp_advice_choice of = hp_advice_choice_default();
    hp_error no_advice = hp_error_none();
    of.jobs = choice->jobs;
    of.quiet = session->choice.quiet;
    hp_case *bench = hp_advice_case_open(session, &of, &no_advice);
    hp_handout_source source = {.subject = hp_report_case_of(&session->scenario),
                                .survey = survey,
                                .bench = bench,
                                .seed = choice->seed,
                                .groups = choice->groups};
    source.subject.drive = drive;
    if (!bench)
        remark(session, "%s: no bench card: %s", no_advice.text);
    hp_result result = hp_handout_source_check(&source, err);
    if (result == HP_OK)
        result = put_all(session, &source, choice->folder, err);
    hp_case_free(bench);
    return result;
}
