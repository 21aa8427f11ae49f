/*
 * What the words of a case's steps are about.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_CASE_CARD_H
#define HUBPHASE_SRC_REPORT_WORDS_CASE_CARD_H

#include "hubphase/record/case.h"
#include "report/words/card.h"

/* Borrowed from the case. */
hp_card_context hp_case_card_context(const hp_case *c);
/* The same of a machine that is being commissioned. */
hp_card_context hp_commission_card_context(const hp_commission_case *c);

#endif
