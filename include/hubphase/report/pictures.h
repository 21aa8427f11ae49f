/*
 * Pictures in files: of a survey, of a spread, of one wiring, of one run.
 *
 * A file appears under its name only when it is whole, and an older one of that name stays when
 * drawing fails. The same input gives the same bytes. Calls from several threads wait for each
 * other.
 *
 * All return HP_FAIL_INPUT for a bad format, HP_FAIL_IO for a file that cannot be written, named
 * with the cause, HP_FAIL_LIBRARY when PLplot or Cairo gave up, HP_FAIL_MEMORY.
 */
#ifndef HUBPHASE_REPORT_PICTURES_H
#define HUBPHASE_REPORT_PICTURES_H

#include "hubphase/base/api.h"
#include "hubphase/decide/spread.h"
#include "hubphase/decide/survey.h"
#include "hubphase/model/drive.h"
#include "hubphase/model/labels.h"
#include "hubphase/sim/trace.h"

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

/* ---- a survey -------------------------------------------------------------------------------- */

/* The map of all 36 wirings: verdict by colour and word, torque ripple and battery current in each
 * square; sensor orders down, phase orders across. */
hp_result hp_picture_map_draw(const char *path, hp_picture_format format, const hp_survey *survey,
                              const hp_labels *labels, hp_error *err);

/* All 36 wirings on torque ripple against current excess, with the boundary between smooth and
 * rough. Both scales are logarithmic. Values without a bound, or far beyond the others, stand at an
 * arrowed edge; those below a thousandth stand at the first value of the scale, which says so.
 * Undecided wirings are listed, not drawn. */
hp_result hp_picture_classes_draw(const char *path, hp_picture_format format,
                                  const hp_survey *survey, const hp_thresholds *thresholds,
                                  const hp_labels *labels, hp_error *err);

/* Lead of the field over the rotor, one dial for each wiring: geometry alone, from table, sensors
 * and wiring; the verdicts beside it come from the survey, which may be NULL. */
hp_result hp_picture_lead_draw(const char *path, hp_picture_format format, const hp_drive *drive,
                               const hp_survey *survey, const hp_labels *labels, hp_error *err);

/* ---- a spread -------------------------------------------------------------------------------- */

/* The map with, in each square, the likeliest verdict and a bar of the shares. */
hp_result hp_picture_spread_map_draw(const char *path, hp_picture_format format,
                                     const hp_spread *spread, const hp_labels *labels,
                                     hp_error *err);

/* A panel for each figure, in it a line from 5 to 95 % of the motors for each group of wirings,
 * with a mark at the middle; scales of currents, ripple and excess are logarithmic. */
hp_result hp_picture_spread_bands_draw(const char *path, hp_picture_format format,
                                       const hp_spread *spread, const hp_labels *labels,
                                       hp_error *err);

/* ---- one wiring ------------------------------------------------------------------------------ */

/* Lead of the field of one wiring on one large dial; judgement may be NULL. */
hp_result hp_picture_lead_wiring_draw(const char *path, hp_picture_format format,
                                      const hp_drive *drive, const hp_wiring *wiring,
                                      const hp_judgement *judgement, const hp_labels *labels,
                                      hp_error *err);

/* The six steps of the commutation table: at each, the rotor's sector, the sensor code, the driven
 * pair and the field it makes. The rotor turns forward, with this wiring between motor and
 * controller; wiring 1 joins like to like and shows the table as it was meant. */
hp_result hp_picture_steps_draw(const char *path, hp_picture_format format, const hp_drive *drive,
                                const hp_wiring *wiring, const hp_labels *labels, hp_error *err);

/* Waveforms of one run: phase currents, back-EMF, torque, speed, sensor code over the trace's time.
 * `title` names the run, such as "Wiring 5, rough"; plain text. HP_FAIL_INPUT when the trace has
 * fewer than two samples or its time does not advance. */
hp_result hp_picture_waveforms_draw(const char *path, hp_picture_format format,
                                    const hp_trace *trace, const hp_labels *labels,
                                    const char *title, hp_error *err);

HP_API_END

#endif
