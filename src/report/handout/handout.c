/* The hand-outs of a club evening: see hubphase/report/documents.h. */
#include "report/handout/handout_page.h"

#include "report/embedded.h"
#include "report/paper/html_text.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>

static const hp_handout *const all[] = {&hp_handout_worksheet, &hp_handout_steps, &hp_handout_dial,
                                        &hp_handout_bench, &hp_handout_answers};
#define ALL ((int)(sizeof all / sizeof all[0]))

static const char *const form_end[HP_HANDOUT_FORM_COUNT] = {"pdf", "html"};

hp_result hp_handout_source_check(const hp_handout_source *source, hp_error *err)
{
    if (source->groups < 1 || source->groups > HP_HANDOUT_GROUPS)
        return hp_error_set(err, HP_FAIL_INPUT, "there are %d groups, must be 1 to %d",
                            source->groups, HP_HANDOUT_GROUPS);
    if (!hp_survey_first_correct(source->survey))
        return hp_error_set(err, HP_FAIL_INPUT,
                            "no wiring of this machine is correct, so there is nothing to compare "
                            "with on a work sheet");
    return HP_OK;
}

/* ---- which files ----------------------------------------------------------------------------- */

static int files_of(const hp_handout_source *source, const hp_handout *handout)
{
    if (handout->bench && !source->bench)
        return 0;
    return handout->by_group ? source->groups : 1;
}

int hp_handout_count(const hp_handout_source *source)
{
    int count = 0;
    for (int k = 0; k < ALL; k++)
        count += files_of(source, all[k]);
    return count;
}

static hp_handout_job job_of(const hp_handout_source *source, int file)
{
    hp_handout_job job = {.source = source, .pages = 1};
    for (int k = 0; k < ALL; k++) {
        int files = files_of(source, all[k]);
        if (file < files) {
            job.handout = all[k];
            job.group = all[k]->by_group ? file + 1 : 0;
            return job;
        }
        file -= files;
    }
    assert(!"a file's number is 0 to hp_handout_count - 1");
    return job;
}

char *hp_handout_name(const hp_handout_source *source, int k, hp_handout_form form, char *out)
{
    hp_handout_job job = job_of(source, k);
    char group[24] = "";
    if (job.group)
        snprintf(group, sizeof group, "-group-%d", job.group);
    snprintf(out, HP_HANDOUT_NAME, "%s%s.%s", job.handout->name, group, form_end[form]);
    return out;
}

/* ---- writing --------------------------------------------------------------------------------- */

static void title_of(const hp_handout_job *job, char *out, size_t size)
{
    if (job->group)
        snprintf(out, size, "%s, group %d, seed %llu", job->handout->title, job->group,
                 job->source->seed);
    else
        snprintf(out, size, "%s", job->handout->title);
}

/* A page of a PDF, which tells its number by its canvas; an HTML page is one canvas each. */
static void paint(const hp_canvas *canvas, const void *data)
{
    hp_handout_job job = *(const hp_handout_job *)data;
    job.page += canvas->number;
    if (job.handout->flow)
        job.handout->flow(canvas, &job);
    else
        job.handout->paint(canvas, &job);
    hp_handout_foot(canvas, &job);
}

static hp_result put_page(const hp_handout_job *job, hp_picture_format format, int count, FILE *out,
                          hp_error *err)
{
    char title[200], *bytes = NULL;
    size_t size = 0;
    title_of(job, title, sizeof title);
    const hp_paper paper = {.width = HP_PICTURE_A4_WIDTH,
                            .height = HP_PICTURE_A4_HEIGHT,
                            .title = title,
                            .count = count,
                            .inset = format == HP_PICTURE_SVG};
    hp_result result = hp_canvas_render(format, &paper, paint, job, &bytes, &size, err);
    if (result == HP_OK && fwrite(bytes, 1, size, out) != size)
        result = hp_error_set(err, HP_FAIL_IO, "a hand-out cannot be written");
    free(bytes);
    return result;
}

static hp_result put_html(const hp_handout_job *job, FILE *out, hp_error *err)
{
    char title[200];
    hp_result result = HP_OK;
    title_of(job, title, sizeof title);
    fprintf(out,
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
            "style-src '%s'; base-uri 'none'; form-action 'none'\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
            "<meta name=\"referrer\" content=\"no-referrer\">\n<title>",
            hp_handout_css_hash);
    hp_html_put(out, title);
    fprintf(out, "</title>\n<style>%s</style>\n</head>\n<body>\n", (const char *)hp_handout_css);
    for (int k = 0; k < job->pages && result == HP_OK; k++) {
        hp_handout_job page = *job;
        page.page = k;
        fputs("<div class=\"page\">\n", out);
        result = put_page(&page, HP_PICTURE_SVG, 1, out, err);
        fputs("</div>\n", out);
    }
    fputs("</body>\n</html>\n", out);
    if (result == HP_OK && ferror(out))
        result = hp_error_set(err, HP_FAIL_IO, "a hand-out cannot be written");
    return result;
}

hp_result hp_handout_write(const hp_handout_source *source, int k, hp_handout_form form, FILE *out,
                           hp_error *err)
{
    hp_handout_job job = job_of(source, k);
    hp_bench_path *path = NULL;
    hp_result result = hp_handout_source_check(source, err);
    if (result == HP_OK && job.handout->bench) {
        path = hp_bench_path_make(source->bench, err);
        result = path ? HP_OK : HP_FAIL_MEMORY;
        job.path = path;
    }
    if (result == HP_OK && job.handout->flow)
        job.pages = job.handout->flow(NULL, &job);
    if (result == HP_OK)
        result = form == HP_HANDOUT_HTML ? put_html(&job, out, err)
                                         : put_page(&job, HP_PICTURE_PDF, job.pages, out, err);
    free(path);
    return result;
}
