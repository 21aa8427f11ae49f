/*
 * The kinds of entries of a bench log, one row a kind. Everything that lists them is made from
 * this: their descriptors (hp_reading_KIND, reading_list.c), their words (hp_words_KIND,
 * words_list.c), and the names of both. The order is that of menus and help texts; no output beside
 * them depends on it.
 */
#ifndef HUBPHASE_SRC_DECIDE_READING_READING_LIST_H
#define HUBPHASE_SRC_DECIDE_READING_READING_LIST_H

#include "hubphase/decide/readings.h"

/* clang-format off */
#define HP_READING_KINDS(KIND)                                        \
    KIND(pins)                                                        \
    KIND(supply)                                                      \
    KIND(hand_turn)                                                   \
    KIND(winding)                                                     \
    KIND(spin)                                                        \
    KIND(park)                                                        \
    KIND(probe)                                                       \
    KIND(controls)   /* what keeps a controller silent */             \
    KIND(drag)       /* what drags, and what else draws current */    \
    KIND(contacts)   /* a lead that makes contact now and then */     \
    KIND(hall_plug)  /* whether it runs without its Hall sensors */   \
    KIND(trial)                                                       \
    KIND(learn)      /* the controller learnt the wiring by itself */ \
    KIND(mend)       /* what is measured after it does not show it */ \
    KIND(hub)        /* here begin the steps of commissioning */      \
    KIND(key)                                                         \
    KIND(throttle)                                                    \
    KIND(brake)                                                       \
    KIND(pedal_sensor)                                                \
    KIND(speed_switch)                                                \
    KIND(display)                                                     \
    KIND(learn_lead)                                                  \
    KIND(idle_draw)                                                   \
    KIND(coast_down)                                                  \
    KIND(no_load)                                                     \
    KIND(sag)                                                         \
    KIND(heating)                                                     \
    KIND(shared_pack) \
    KIND(left_out)   /* a step that cannot be done here */
/* clang-format on */

#define HP_READING_NAMED(kind) extern const hp_reading hp_reading_##kind;
HP_READING_KINDS(HP_READING_NAMED)
#undef HP_READING_NAMED

#endif
