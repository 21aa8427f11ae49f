/*
 * Controls in words: an action, what came of it, what can be wrong. Text, JSON and picture take
 * their sentences from here.
 */
#ifndef HUBPHASE_SRC_REPORT_WORDS_RIDE_TEXT_H
#define HUBPHASE_SRC_REPORT_WORDS_RIDE_TEXT_H

#include "hubphase/decide/what_if.h"

#define HP_RIDE_WORDS 600

/* "brake lever pulled", "grip to 50 %". Each returns out. */
char *hp_action_words(const hp_action *action, const hp_controls_params *controls, char *out,
                      size_t size);
/* "Brake lever pulled while riding". */
char *hp_what_if_title(hp_what_if what, const hp_controls_params *controls, char *out, size_t size);
/* The same of the run that shows it: "... (with the brake mended)". */
char *hp_what_if_shown_title(const hp_what_if_result *result, const hp_controls_params *controls,
                             char *out, size_t size);
/* Why that run is not of the machine as it is, in sentences; "" where it is. */
char *hp_what_if_shown_note(const hp_what_if_result *result, char *out, size_t size);
/* A clause: "stops: no torque after 14 ms, the wheel stands after 2.9 s". */
char *hp_moment_words(const hp_moment *moment, char *out, size_t size);
/* What is told of a case, a clause: what came of it, or what holds the drive off, and what would
 * come of it once that is right. */
char *hp_what_if_words(const hp_what_if_result *result, char *out, size_t size);
/* What to do about a finding that is not good; "" where it is. */
const char *hp_what_if_remedy(const hp_what_if_result *result);
/* ... once that is right which holds the drive off; "" where nothing does, or it is good then. */
const char *hp_what_if_later_remedy(const hp_what_if_result *result);
/* "stop. Do not ride like this": the finding of one case by itself, with all that is told above. */
char *hp_what_if_conclusion(const hp_what_if_result *result, char *out, size_t size);

#endif
