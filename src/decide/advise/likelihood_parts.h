/* What the sources of the likelihood table share. */
#ifndef HUBPHASE_SRC_DECIDE_ADVISE_LIKELIHOOD_PARTS_H
#define HUBPHASE_SRC_DECIDE_ADVISE_LIKELIHOOD_PARTS_H

#include "decide/advise/likelihood.h"

/* The drive with nothing broken and the textbook's table and sensors. */
hp_drive hp_likelihood_sound(const hp_drive *nominal);
/* Number of records. */
int hp_likelihood_count(const hp_likelihood *likelihood);
/* Checks and allocates everything; the records are empty. */
hp_result hp_likelihood_prepare(const hp_drive *nominal, const hp_likelihood_options *options,
                                hp_likelihood *likelihood, hp_error *err);

#endif
