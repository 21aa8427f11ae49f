/*
 * Two commissionings of one machine held against each other: which figures changed by more than
 * their readings can be off, and what that may come from; which steps now find something else.
 *
 * Only figures that both logs tell, and that battery volts do not move. Current and drag are taken
 * apart here: the current from the run alone, the drag from the coast-down alone, so that a motor
 * that draws more and coasts as before is seen.
 */
#ifndef HUBPHASE_SRC_DECIDE_COMMISSION_COMPARE_H
#define HUBPHASE_SRC_DECIDE_COMMISSION_COMPARE_H

#include "hubphase/decide/commission.h"

typedef enum hp_change {
    HP_CHANGE_NONE,   /* the readings cannot tell the two apart */
    HP_CHANGE_MAYBE,  /* outside what they are off by in 90 of 100 cases */
    HP_CHANGE_SURELY, /* in 99 of 100 */
    HP_CHANGE_COUNT
} hp_change;

typedef struct hp_compare_row {
    hp_own_kind kind;
    const hp_own_figure *then, *now; /* borrowed */
    double ratio;                    /* now over then */
    double low, high;                /* of the ratio, in 90 of 100 cases */
    hp_change change;
    int sense; /* +1 more, -1 less; 0: no change */
} hp_compare_row;

/* What changes come from; each stands beside figures, never alone. */
typedef enum hp_cause {
    HP_CAUSE_DRAG_MORE,     /* it drags more, and draws more for it */
    HP_CAUSE_WHEEL_DRAGS,   /* behind a one-way clutch: what coasts alone drags more */
    HP_CAUSE_DRAG_LESS,     /* it runs more freely */
    HP_CAUSE_POWER_LOST,    /* it draws more and coasts as before */
    HP_CAUSE_GEARS,         /* ... behind a one-way clutch */
    HP_CAUSE_TURNS,         /* less resistance: shorted turns */
    HP_CAUSE_JOINT,         /* more resistance: a joint, a torn lead */
    HP_CAUSE_MAGNETS,       /* more speed per volt */
    HP_CAUSE_SLOWER,        /* less of it */
    HP_CAUSE_IDLE_MORE,     /* something else draws current */
    HP_CAUSE_BATTERY_MORE,  /* more resistance ahead of the controller */
    HP_CAUSE_WHEEL,         /* another moment of inertia */
    HP_CAUSE_WINDING_LOOSE, /* the winding gives its heat away more slowly */
    HP_CAUSE_OTHER_MOTOR,   /* more speed per volt than any magnets lose */
    HP_CAUSE_DRAG_GONE,     /* less drag than running in takes away */
    HP_CAUSE_LEAD,          /* the two pairs with one lead have more resistance, the third not */
    HP_CAUSE_LEAD_TURNS,    /* ... less */
    HP_CAUSE_PAIR,          /* one pair alone changed, or each by another amount */
    HP_CAUSE_COUNT
} hp_cause;

/* The winding pair by pair, each named by the lead that it leaves out, where some pair changed by
 * more than another: a mean of them would say nothing. */
typedef struct hp_compare_pairs {
    bool unlike;
    double then[HP_PHASE_COUNT], now[HP_PHASE_COUNT]; /* [ohm] at 20 C; INFINITY: open */
    int lead;  /* that both changed pairs share; -1: there is none */
    int sense; /* of these two: +1 more, -1 less */
} hp_compare_pairs;

/* A step that found something to mend in one log and not the same in the other. */
typedef struct hp_compare_finding {
    const hp_reading *reading;
    hp_finding then, now;
} hp_compare_finding;

typedef struct hp_compare {
    bool same_meters;
    hp_own then, now; /* with current and drag taken apart */
    hp_compare_row row[HP_OWN_COUNT];
    int rows;
    hp_compare_pairs pairs; /* in place of a row of the winding where they are unlike */
    bool cause[HP_CAUSE_COUNT];
    int changed; /* rows that surely did */
    int maybe;   /* ... that may have */
    hp_compare_finding finding[HP_COMMISSION_STEPS];
    int findings;
} hp_compare;

/* Fills *compare, which points into itself: never copied. same_meters: both were read with the same
 * meters, whose scales then cancel; else they count as others. */
void hp_compare_make(const hp_assess_case *then, const hp_assess_case *now, bool same_meters,
                     hp_compare *compare);
/* Adds what the steps found. */
void hp_compare_add_findings(const hp_commission *then, const hp_commission *now,
                             hp_compare *compare);

#endif
