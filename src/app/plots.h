/*
 * The pictures that commands write, under fixed names in the user's folder.
 */
#ifndef HUBPHASE_SRC_APP_PLOTS_H
#define HUBPHASE_SRC_APP_PLOTS_H

#include "app/options.h"
#include "app/session.h"
#include "hubphase/sim/trace.h"

/* What is drawn. */
typedef enum hp_plots {
    HP_PLOTS_SURVEY,
    HP_PLOTS_SPREAD,
    HP_PLOTS_WAVEFORMS,
    HP_PLOTS_WIRING
} hp_plots;

/* Finds out before the work whether the pictures can be written: makes the folder, leaves nothing
 * behind, and claims their names among the session's. `wiring`: of pictures of one wiring. */
hp_result hp_plots_try(hp_session *session, const hp_plot_choice *choice, hp_plots what,
                       const hp_wiring *wiring, hp_error *err);

/* Pictures of a survey. Each file written is named on the standard error, unless --quiet. */
hp_result hp_plots_write_survey(const hp_session *session, const hp_survey *survey,
                                const hp_plot_choice *choice, hp_error *err);

/* Pictures of a spread. */
hp_result hp_plots_write_spread(const hp_session *session, const hp_spread *spread,
                                const hp_plot_choice *choice, hp_error *err);

/* Waveforms of one wiring. */
hp_result hp_plots_write_waveforms(const hp_session *session, const hp_wiring *wiring,
                                   const hp_judgement *judgement, const hp_trace *trace,
                                   const hp_plot_choice *choice, hp_error *err);

/* Why one wiring does what it does: lead of the field, and the six steps. */
hp_result hp_plots_write_wiring(const hp_session *session, const hp_wiring *wiring,
                                const hp_judgement *judgement, const hp_plot_choice *choice,
                                hp_error *err);

#endif
