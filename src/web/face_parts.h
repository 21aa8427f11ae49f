/*
 * What the files of the face share: the open case, the request that is answered, its answer.
 */
#ifndef HUBPHASE_SRC_WEB_FACE_PARTS_H
#define HUBPHASE_SRC_WEB_FACE_PARTS_H

#include "hubphase/decide/lesson.h"
#include "hubphase/decide/survey.h"
#include "hubphase/record/case.h"
#include "hubphase/report/case_words.h"
#include "hubphase/report/pictures.h"
#include "record/scenario/scenario_load.h"
#include "report/data/json_tree.h"
#include "web/face.h"

/* A case that is open; all of it owned. */
typedef struct hp_web_case {
    char *name;     /* of the scenario's file */
    char *text;     /* of the scenario */
    char *log;      /* text; NULL: nothing is logged yet */
    char *log_name; /* of the file that the log was opened from, while it is read; or NULL */
    char *table;    /* a likelihood table that was handed in; NULL: none */
    hp_scenario scenario;
    hp_bench_log entries; /* as the log has them */
    hp_case *bench;       /* NULL: its table has yet to be built, or there is no advice */
    char no_advice[HP_ERROR_TEXT_SIZE]; /* why; empty: there is */
} hp_web_case;

typedef struct hp_web_practice hp_web_practice;       /* face_practise.c */
typedef struct hp_web_spread_work hp_web_spread_work; /* face_spread.c */

struct hp_web {
    hp_progress progress;
    void *user;                 /* borrowed */
    hp_web_case *c;             /* owned; NULL: none is open */
    hp_case_report *report;     /* owned; of the open case, as JSON; NULL: not reckoned yet */
    char *surveyed;             /* owned; what `survey` was made of; NULL: none was */
    hp_scenario changed;        /* owned; the scenario that was surveyed, with its changes */
    hp_survey survey;           /* owned */
    hp_web_spread_work *spread; /* owned; NULL: none is begun */
    hp_lesson *lesson;          /* owned; of the open case; NULL: not made yet */
    hp_web_practice *practice;  /* owned; NULL: none is begun */
};

/* An answer while it is made. */
typedef struct hp_web_answer {
    const json_t *request; /* borrowed */
    hp_json json;
    json_t *object;   /* owned */
    json_t *problems; /* owned; of a request that fails */
    hp_error err;
} hp_web_answer;

/* One request: fills the object, or fails with a->err set. */
typedef hp_result (*hp_web_do)(hp_web *web, hp_web_answer *a);

hp_result hp_web_about(hp_web *web, hp_web_answer *a);
hp_result hp_web_open(hp_web *web, hp_web_answer *a);
hp_result hp_web_sort(hp_web *web, hp_web_answer *a);
hp_result hp_web_table(hp_web *web, hp_web_answer *a);
hp_result hp_web_advice(hp_web *web, hp_web_answer *a);
hp_result hp_web_form(hp_web *web, hp_web_answer *a);
hp_result hp_web_answer_form(hp_web *web, hp_web_answer *a);
hp_result hp_web_rename(hp_web *web, hp_web_answer *a);
hp_result hp_web_change(hp_web *web, hp_web_answer *a);
hp_result hp_web_drop(hp_web *web, hp_web_answer *a);
hp_result hp_web_survey(hp_web *web, hp_web_answer *a);
hp_result hp_web_fit(hp_web *web, hp_web_answer *a);
hp_result hp_web_explain(hp_web *web, hp_web_answer *a);
hp_result hp_web_trace(hp_web *web, hp_web_answer *a);
hp_result hp_web_picture(hp_web *web, hp_web_answer *a);
hp_result hp_web_controls(hp_web *web, hp_web_answer *a);
hp_result hp_web_sheet(hp_web *web, hp_web_answer *a);
hp_result hp_web_paper(hp_web *web, hp_web_answer *a);
hp_result hp_web_essentials(hp_web *web, hp_web_answer *a);
hp_result hp_web_compose(hp_web *web, hp_web_answer *a);
hp_result hp_web_amend(hp_web *web, hp_web_answer *a);
hp_result hp_web_commission(hp_web *web, hp_web_answer *a);
hp_result hp_web_lesson(hp_web *web, hp_web_answer *a);
hp_result hp_web_practise(hp_web *web, hp_web_answer *a);
hp_result hp_web_practise_take(hp_web *web, hp_web_answer *a);
hp_result hp_web_practise_drop(hp_web *web, hp_web_answer *a);
hp_result hp_web_practise_hint(hp_web *web, hp_web_answer *a);
hp_result hp_web_practise_end(hp_web *web, hp_web_answer *a);
hp_result hp_web_compare(hp_web *web, hp_web_answer *a);
hp_result hp_web_learnt(hp_web *web, hp_web_answer *a);
hp_result hp_web_spread(hp_web *web, hp_web_answer *a);

/* ---- the request: face.c --------------------------------------------------------------------- */

/* Each takes a member of the request; a member of another type, or beyond its limits, is a problem
 * under its name and makes the call return false. A member that is not there, or null, leaves *out
 * as it is. */
bool hp_web_take_text(hp_web_answer *a, const char *key, const char **out);
bool hp_web_take_number(hp_web_answer *a, const char *key, double low, double high, double *out);
bool hp_web_take_whole(hp_web_answer *a, const char *key, int low, int high, int *out);
bool hp_web_take_flag(hp_web_answer *a, const char *key, bool *out);
/* The same for one that must be there. */
bool hp_web_want_text(hp_web_answer *a, const char *key, const char **out);
/* A kind of entry by its name. */
bool hp_web_want_kind(hp_web_answer *a, const hp_reading **kind);
/* A mapping of keys to texts: list[*count], for the caller to free, its texts borrowed from the
 * request; NULL for an empty one. */
bool hp_web_take_texts(hp_web_answer *a, const char *key, hp_scenario_change **list, int *count);
/* The same; an array of texts states a list. */
bool hp_web_take_stated(hp_web_answer *a, const char *key, hp_scenario_change **list, int *count);
/* Columns that texts are filled to. */
bool hp_web_take_columns(hp_web_answer *a, int *columns);
/* What pictures are drawn for; it stays as it is where the request does not say. */
bool hp_web_take_shape(hp_web_answer *a, hp_shape *shape);

/* ---- the answer: face.c ---------------------------------------------------------------------- */

void hp_web_set(hp_web_answer *a, const char *key, json_t *value);
void hp_web_set_text(hp_web_answer *a, const char *key, const char *text);
/* Adds a problem of a member or an answer; returns HP_FAIL_INPUT with a summary set. */
hp_result hp_web_problem(hp_web_answer *a, const char *key, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* An ear that adds each problem of a file. */
hp_problem_ear hp_web_ear(hp_web_answer *a);

/* Text that is written to a stream. */
typedef struct hp_web_stream {
    char *text; /* owned; whole once it is ended */
    size_t size;
    FILE *file;
} hp_web_stream;

hp_result hp_web_stream_begin(hp_web_stream *stream, hp_error *err);
/* HP_FAIL_MEMORY when not everything was taken. */
hp_result hp_web_stream_end(hp_web_stream *stream, hp_error *err);
/* Closes it if need be, and frees the text. */
void hp_web_stream_free(hp_web_stream *stream);
/* Sets what was written as a member of the answer, where `written` is HP_OK, and frees the stream
 * in any case. Returns `written`, or why the stream could not be ended. */
hp_result hp_web_stream_tell(hp_web_stream *stream, const char *key, hp_result written,
                             hp_web_answer *a);
/* The same of a report that is JSON: member "json", as an object. */
hp_result hp_web_stream_tell_json(hp_web_stream *stream, hp_result written, hp_web_answer *a);

/* ---- the open case: face_case.c -------------------------------------------------------------- */

void hp_web_case_free(hp_web_case *c);
/* Forgets what was reckoned from the case: all, or one of the two. */
void hp_web_forget(hp_web *web);
void hp_web_forget_report(hp_web *web);
void hp_web_forget_survey(hp_web *web);
void hp_web_forget_lesson(hp_web *web);
void hp_web_forget_spread(hp_web *web); /* face_spread.c */
/* Whether a case is open; `bench`: with its table. A problem is added where it is not. */
hp_result hp_web_want_open(hp_web *web, hp_web_answer *a, bool bench);
/* Takes a changed log over: reads it, reckons anew. What was open stays when that fails. */
hp_result hp_web_take_log(hp_web *web, hp_web_answer *a, char *log);
/* What can be done here, as scenario and log have it. */
const hp_plan_params *hp_web_plan(const hp_web_case *c);
/* Sets `log` and `entries`. */
void hp_web_set_log(hp_web *web, hp_web_answer *a);
/* The report of the open case, reckoned where it is not yet; NULL on failure. */
hp_case_report *hp_web_report(hp_web *web, hp_web_answer *a);

void hp_web_practice_free(hp_web_practice *practice);

/* The words of a step: face_advice.c; NULL when memory is short. */
json_t *hp_web_card(hp_web *web, hp_web_answer *a, const hp_advice *advice);

/* ---- forms: face_form.c ---------------------------------------------------------------------- */

/* What questions of a kind depend on; the advice counts where the entry fits it. */
hp_question_case hp_web_given(hp_web *web, hp_web_answer *a, const hp_reading *kind);
/* The questions of a kind that are wanted, given these answers; each with its problem where the
 * answer is none. */
json_t *hp_web_form_make(hp_web_answer *a, const hp_question_case *given, const hp_reading *kind,
                         const hp_scenario_change *value, int count);
/* The answers that an entry gives, by keys. */
json_t *hp_web_values(hp_web_answer *a, const hp_question_case *given, const hp_bench_entry *entry);

/* ---- pictures: face_picture.c ---------------------------------------------------------------- */

/* Sets `pictures`: all that a command (HP_MAKER_...) draws of this. */
hp_result hp_web_set_pictures(hp_web_answer *a, unsigned maker, const hp_picture_subject *subject,
                              hp_shape shape);
/* Sets `svg` and `alt`. */
hp_result hp_web_draw(const hp_picture *picture, const hp_picture_subject *subject, hp_shape shape,
                      hp_web_answer *a);

/* ---- surveys: face_survey.c ------------------------------------------------------------------ */

/* Reads the case's scenario with the changes of the request; free it on HP_OK. */
hp_result hp_web_read_changed(hp_web *web, hp_web_answer *a, hp_scenario *scenario);
/* Surveys the case with the changes of the request, unless that was done before; then
 * web->changed and web->survey are of it. */
hp_result hp_web_surveyed(hp_web *web, hp_web_answer *a);
/* The wiring that the request names. */
hp_result hp_web_want_wiring(hp_web *web, hp_web_answer *a, hp_wiring *wiring);

#endif
