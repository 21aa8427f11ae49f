/*
 * A row of the list of what can be wrong with the controls: the course that shows it, what it may
 * begin from, and what its outcome means.
 */
#ifndef HUBPHASE_SRC_DECIDE_RIDE_WHAT_IF_CASE_H
#define HUBPHASE_SRC_DECIDE_RIDE_WHAT_IF_CASE_H

#include "hubphase/decide/what_if.h"

typedef struct hp_what_if_case {
    const char *name;
    bool (*applies)(const hp_controls_params *controls);
    /* Whether these controls are without the part that would answer; NULL: never. */
    bool (*lacks)(const hp_controls_params *controls);
    void (*suppose)(hp_controls_params *controls); /* NULL: nothing is changed */
    void (*course)(hp_course *course, const hp_controls_params *controls); /* up to what happens */
    hp_action_kind kind;                                                   /* of what happens */
    double value;
    hp_control_lead off; /* this lead is off since a second before; HP_CONTROL_LEAD_COUNT: none */
    bool by_pedals;      /* the pedals have the say in it */
    /* Sets of hp_control_reason. `before`: why the drive may be off before anything is amiss, with
     * HP_CONTROL_DRIVES where it may as well drive; none: it has to drive. `after`: where it is off
     * then, what may keep it off, and be the answer. Any other reason belongs to a part that the
     * case is not about. */
    unsigned before, after;
    unsigned good, look; /* sets of outcomes; the others: stop */
} hp_what_if_case;

const hp_what_if_case *hp_what_if_case_of(hp_what_if what);

#endif
