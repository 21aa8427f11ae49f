/*
 * Questions for one entry of the bench log, as `bench` asks them one by one: words only. How a
 * question is put follows from the type of its field.
 */
#ifndef HUBPHASE_REPORT_QUESTION_H
#define HUBPHASE_REPORT_QUESTION_H

#include "hubphase/base/api.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/fields.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"

HP_API_BEGIN

/* One of several answers. */
typedef struct hp_choice {
    const char *word; /* may be typed instead of its digit */
    const char *text; /* shown */
} hp_choice;

/* What questions depend on; all borrowed. */
typedef struct hp_question_case {
    const hp_drive *drive;
    const hp_labels *labels;
    const hp_plan_params *plan;
    const hp_advice *advice; /* what was advised, where the entry fits it; else NULL */
} hp_question_case;

#define HP_QUESTION_ALL (-1) /* all pairs at once */

typedef struct hp_question hp_question;
struct hp_question {
    const char *field; /* of the kind; NULL: a gate: whether what follows is to be asked at all */
    int which;         /* pair (as people count them), pin or code of the field */
    const char *text;  /* the question; %s: the name of pair, pin or code */
    const char *help;
    const char *fallback;     /* what Enter alone gives; "": it may be left out; NULL: neither */
    const char *shown;        /* how that is shown; NULL: as it is */
    const hp_choice *choices; /* texts for words of the field; ended by one without a word */
    bool inverse;             /* asks for the opposite of what the log notes */
    /* Each may be NULL; `values` are those of the entry so far. */
    bool (*wanted)(const hp_question_case *c, const void *values);
    /* In place of `fallback`; may write into out. */
    const char *(*usual)(const hp_question_case *c, const void *values, char *out, size_t size);
    /* In place of `choices`. */
    const hp_choice *(*offered)(const hp_question_case *c);
    /* Limits that the answers so far set. */
    void (*narrow)(const void *values, hp_limits *limits);
};

/* The questions of a kind, ended by one without a text; NULL when there are none. */
const hp_question *hp_questions_of(const hp_reading *kind);
/* What stands behind a kind's name where it is offered: "codes while the wheel is turned by hand";
 * NULL when there are no words for it. */
const char *hp_reading_menu(const hp_reading *kind);
/* A sensor code as it is written down: "110". out holds at least 4 bytes. Returns out. */
char *hp_code_words(int code, char *out);

HP_API_END

#endif
