/*
 * How a step of the advice is connected: whether there is anything to connect for it.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_PICTURE_CONNECT_H
#define HUBPHASE_SRC_REPORT_PICTURE_PICTURE_CONNECT_H

#include "decide/advise/plan.h"

/* The kind of reading or trial whose connection an advice asks for; NULL: none that can be drawn.
 */
const hp_reading *hp_connect_kind(const hp_advice *advice);

#endif
