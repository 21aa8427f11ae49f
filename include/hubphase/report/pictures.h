/*
 * Pictures: of a survey, of a spread, of one wiring, of one run, of one step of the advice.
 *
 * Each is a row of hp_pictures: a name, the question that it answers within ten seconds, and what
 * draws it. All come in three shapes. A file appears under its name only when it is whole, and an
 * older one of that name stays when drawing fails. The same input gives the same bytes. Calls from
 * several threads wait for each other while one draws a PNG or PDF.
 */
#ifndef HUBPHASE_REPORT_PICTURES_H
#define HUBPHASE_REPORT_PICTURES_H

#include "hubphase/base/result.h"
#include "hubphase/decide/advice.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/fit.h"
#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/decide/what_if.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/sim/engine.h"

HP_API_BEGIN

typedef enum hp_picture_format {
    HP_PICTURE_SVG, /* text stays text */
    HP_PICTURE_PNG, /* HP_PICTURE_PNG_SCALE pixels a unit */
    HP_PICTURE_PDF, /* text stays text */
    HP_PICTURE_FORMAT_COUNT
} hp_picture_format;

#define HP_PICTURE_PNG_SCALE 2

/* "svg", "png", "pdf": also the usual end of the file's name. */
const char *hp_picture_format_name(hp_picture_format format);
/* The format of such a name; HP_FAIL_INPUT when there is none. */
hp_result hp_picture_format_parse(const char *name, hp_picture_format *format, hp_error *err);

/* Phone: as high as need be; on a screen of 390 pixels no letter is smaller than 12. Wall: 16 to 9;
 * no letter is smaller than 1/40 of the height. A4: one sheet upright; no letter is smaller than 9
 * points. */
typedef enum hp_shape { HP_SHAPE_PHONE, HP_SHAPE_WALL, HP_SHAPE_A4, HP_SHAPE_COUNT } hp_shape;

/* "phone", "wall", "a4". */
const char *hp_shape_name(hp_shape shape);
/* The shape of such a name; HP_FAIL_INPUT when there is none. */
hp_result hp_shape_parse(const char *name, hp_shape *shape, hp_error *err);

/* The ways in which a wiring can behave; see hp_picture_example. */
typedef enum hp_example_kind {
    HP_EXAMPLE_SMOOTH,
    HP_EXAMPLE_EARLY,
    HP_EXAMPLE_LATE,
    HP_EXAMPLE_OTHER, /* rough, but neither: few machines with good parts have it */
    HP_EXAMPLE_OPPOSED,
    HP_EXAMPLE_COUNT
} hp_example_kind;

/* One run of a wiring that stands for its kind. */
typedef struct hp_example {
    int number;             /* of the wiring; 0: this machine has none of the kind */
    hp_judgement judgement; /* of that wiring */
    hp_trace trace;         /* owned by whoever ran it; empty where nothing was traced */
} hp_example;

/* What a picture may show; each takes what it needs. All borrowed. */
typedef struct hp_picture_subject {
    const hp_drive *drive;
    const hp_labels *labels;
    hp_thresholds thresholds;
    const hp_harness *harness;          /* NULL: not known */
    const hp_survey *survey;            /* NULL: none was made */
    const hp_spread *spread;            /* of pictures of a spread */
    int number;                         /* of the one wiring that the picture is about; 0: none */
    const hp_judgement *judgement;      /* of that wiring; may be NULL */
    const hp_trace *trace;              /* of a run of it */
    double start_angle;                 /* [rad electrical] where that run began; NAN: not said */
    const hp_example *example;          /* HP_EXAMPLE_COUNT of them */
    const hp_advice *advice;            /* of a step of the advice */
    const hp_plan_params *plan;         /* what can be read there; NULL: everything */
    const hp_course_run *course;        /* of the controls; NULL: none was run */
    const hp_controls_params *controls; /* before anything was supposed for that course */
    const hp_what_if_result *what_if;   /* what that course shows; NULL: one of somebody's own */
    const hp_plug_map *plug;            /* what sits where in the motor's plug; NULL: not known */
    const hp_fit *fit;                  /* of pictures of a fit ... */
    const hp_vehicle *vehicle;          /* ... and of this vehicle */
} hp_picture_subject;

/* Where a picture goes: into a file, or into memory when `path` is NULL (then *bytes is for the
 * caller to free, set on HP_OK only). */
typedef struct hp_picture_target {
    hp_picture_format format;
    hp_shape shape;
    const char *path;
    char **bytes;
    size_t *size;
    bool inset; /* an SVG as an element of an HTML page: without size and style of its own, short */
} hp_picture_target;

/* What makes a picture: commands, as a set. */
enum {
    HP_MAKER_SURVEY = 1,
    HP_MAKER_SPREAD = 2,
    HP_MAKER_SPIN = 4,
    HP_MAKER_EXPLAIN = 8,
    HP_MAKER_NEXT = 16,
    HP_MAKER_FIT = 32,
    HP_MAKER_CONTROLS = 64
};

/* What a picture needs of its subject, as a set. */
enum {
    HP_NEEDS_SURVEY = 1,
    HP_NEEDS_SPREAD = 2,
    HP_NEEDS_NUMBER = 4,
    HP_NEEDS_TRACE = 8,
    HP_NEEDS_EXAMPLES = 16, /* one of them with a trace at least */
    HP_NEEDS_STEP = 32,     /* an advice for which something is to be connected */
    HP_NEEDS_PLUG = 64,     /* a plug with pins that are noted by their places */
    HP_NEEDS_FIT = 128,     /* a fit with a correct wiring, and the vehicle */
    HP_NEEDS_COURSE = 256   /* a course of the controls that was simulated */
};

typedef struct hp_picture {
    const char *name;     /* of its file, without an ending; of one wiring "NAME-05" */
    const char *question; /* what it answers within ten seconds */
    unsigned makers;
    unsigned needs; /* of the subject, beyond drive, labels, thresholds */
    /* For hp_picture_make. */
    hp_result (*draw)(const hp_picture_subject *subject, const hp_picture_target *to,
                      hp_error *err);
} hp_picture;

extern const hp_picture *const hp_pictures[];
extern const int hp_picture_count;

/* The picture of that name; NULL: there is none. */
const hp_picture *hp_picture_find(const char *name);

/* Whether the subject has what the picture needs. */
bool hp_picture_can(const hp_picture *picture, const hp_picture_subject *subject);
/* Draws a picture. HP_FAIL_INPUT for a bad format or shape, a number that is no wiring, a trace
 * without time, or where the subject lacks something; HP_FAIL_IO for a file that cannot be written,
 * named with the cause; HP_FAIL_LIBRARY when PLplot or Cairo gave up; HP_FAIL_MEMORY. */
hp_result hp_picture_make(const hp_picture *picture, const hp_picture_subject *subject,
                          const hp_picture_target *to, hp_error *err);

/* The wiring that stands for a kind, from the survey's verdicts: smooth is correct, or reverse
 * where none is; early, late and other are rough, forward where there is one; opposed is stalled.
 * 0: none. */
int hp_picture_example(const hp_survey *survey, hp_example_kind kind);
/* "smooth", "too early", "too late", "other", "opposed". */
const char *hp_example_name(hp_example_kind kind);

/* Runs one wiring of each kind once more, with a trace of the same length at the end of the run,
 * for HP_NEEDS_EXAMPLES. Wiring `number` (0: none) stands for its own kind; a run that breaks off
 * leaves its kind without a trace. `survey` with its runs. Free with hp_examples_free, also on
 * failure. */
hp_result hp_examples_run(const hp_drive *drive, const hp_run_options *run, const hp_survey *survey,
                          int number, hp_example example[HP_EXAMPLE_COUNT], hp_error *err);
void hp_examples_free(hp_example example[HP_EXAMPLE_COUNT]);

HP_API_END

#endif
