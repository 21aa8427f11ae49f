/*
 * The pictures that commands write, under fixed names in the user's folder: every row of
 * hp_pictures that a command makes.
 */
#ifndef HUBPHASE_SRC_APP_PLOTS_H
#define HUBPHASE_SRC_APP_PLOTS_H

#include "app/options.h"
#include "app/session.h"
#include "hubphase/report/pictures.h"

/* Before the work, and before other outputs, which may stand in the same folder: makes the folder
 * and claims the names of the pictures of one maker (HP_MAKER_...) among the session's, so that a
 * wrong name costs no waiting. `number`: of the wiring in the names; 0: none. Where no pictures are
 * wanted, nothing is done. hp_session_close takes the folder away again when it stayed empty. */
hp_result hp_plots_open(hp_session *session, const hp_plot_choice *choice, unsigned maker,
                        int number, hp_error *err);

/* A subject of the session's machine, with nothing else in it. */
hp_picture_subject hp_plots_subject(const hp_session *session);

/* Writes those of the maker's pictures for which the subject has something. Each file written is
 * named on the standard error, unless --quiet. */
hp_result hp_plots_write(const hp_session *session, const hp_plot_choice *choice, unsigned maker,
                         int number, const hp_picture_subject *subject, hp_error *err);

#endif
