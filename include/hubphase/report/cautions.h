/*
 * The cautions that stand wherever somebody is about to join leads or turn a wheel. All of them are
 * common practice; local rules and licensed people come first.
 */
#ifndef HUBPHASE_REPORT_CAUTIONS_H
#define HUBPHASE_REPORT_CAUTIONS_H

#include "hubphase/base/api.h"
#include "hubphase/base/text.h"

#include <stdio.h>

HP_API_BEGIN

/* The cautions as one paragraph; static storage. */
const char *hp_cautions_text(void);
/* The same under the title "Cautions", filled to the width of a terminal. */
void hp_cautions_print(const hp_screen *out);

HP_API_END

#endif
