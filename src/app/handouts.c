/* The hand-outs of a club evening: see the header. */
#include "app/handouts.h"

#include "app/advice_session.h"
#include "app/apart.h"

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

/* ---- files: of each hand-out one as HTML, one as PDF ----------------------------------------- */

typedef struct hand_out {
    const hp_session *session;
    const hp_handout_source *source;
    const char *folder;
} hand_out;

static hp_handout_form form_of(int k)
{
    return k % 2 ? HP_HANDOUT_PDF : HP_HANDOUT_HTML;
}

static hp_result make_one(void *user, int k, FILE *out, hp_error *err)
{
    const hand_out *h = user;
    return hp_handout_write(h->source, k / 2, form_of(k), out, err);
}

static hp_result put_one(void *user, int k, const char *bytes, size_t size, hp_error *err)
{
    const hand_out *h = user;
    char name[HP_HANDOUT_NAME], path[PATH_SIZE];
    hp_handout_name(h->source, k / 2, form_of(k), name);
    hp_result result = place(h->session, h->folder, name, path, err);
    if (result == HP_OK)
        result = hp_output_put(path, bytes, size, err);
    if (result == HP_OK)
        hp_session_wrote(h->session, path);
    return result;
}

static hp_result put_all(const hp_session *session, const hp_handout_source *source,
                         const char *folder, hp_error *err)
{
    hand_out h = {session, source, folder};
    const hp_apart work = {
        .count = 2 * hp_handout_count(source), .user = &h, .make = make_one, .take = put_one};
    return hp_apart_run(&work, err);
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
