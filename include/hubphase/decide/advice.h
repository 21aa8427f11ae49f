/*
 * Advice: the one thing to do next, what it costs, and what it may show.
 *
 * What comes out of a case (hubphase/record/case.h). The method in numbered steps: docs/advisor.md.
 */
#ifndef HUBPHASE_DECIDE_ADVICE_H
#define HUBPHASE_DECIDE_ADVICE_H

#include "hubphase/base/result.h"
#include "hubphase/decide/evidence.h"

HP_API_BEGIN

typedef enum hp_advice_kind {
    HP_ADVICE_READ,    /* take a reading */
    HP_ADVICE_TRY,     /* join a wiring and try it */
    HP_ADVICE_LOOK,    /* try the wiring that is joined once more and look again */
    HP_ADVICE_LEARN,   /* let the controller learn */
    HP_ADVICE_DONE,    /* this wiring is right, and its current says so: final check, then finish */
    HP_ADVICE_REPAIR,  /* no wiring can be right: a part is broken or does not fit */
    HP_ADVICE_DANGER,  /* a reading says stop */
    HP_ADVICE_GIVE_UP, /* too many trials, or nothing left that would tell more */
    HP_ADVICE_PROBABLY, /* this wiring is right by all that was said, but nothing shows its current:
                           what to check before it is ridden */
    HP_ADVICE_COUNT
} hp_advice_kind;

/* Why the work ends, or is about to. */
typedef enum hp_why {
    HP_WHY_GOES_ON,
    HP_WHY_CURRENT,       /* DONE: a small current was read */
    HP_WHY_LIMIT,         /* DONE: the supply stayed below its limit */
    HP_WHY_UNMETERED,     /* PROBABLY: one of the two, but no meter here shows what it draws at full
                             throttle */
    HP_WHY_WORDS_ALONE,   /* PROBABLY: nothing tells what it draws */
    HP_WHY_SAME_FIGURES,  /* PROBABLY: a figure outside its band came back the same */
    HP_WHY_HELD,          /* PROBABLY: it ran well, but never left its supply's limit */
    HP_WHY_LOOKED_ENOUGH, /* PROBABLY: two looks agree, and no other wiring is likelier */
    HP_WHY_CHECK_FAILED,  /* PROBABLY: at full throttle it ran as no right wiring does */
    HP_WHY_LEARNT,        /* PROBABLY: the controller's own learning ended well */
    HP_WHY_RAN,           /* PROBABLY: a no-load run says that what is joined runs, and no trial
                             says which wiring that is, or one that did not make it sure */
    HP_WHY_RAN_SOME_WAY,  /* PROBABLY: ... but nobody noted which way the wheel turned */
    HP_WHY_RUN_DOUBTED,   /* PROBABLY: a trial ran well, the last no-load run is in doubt */
    HP_WHY_CONTRARY,     /* PROBABLY: a reading since the last run does not fit one that is right */
    HP_WHY_PART,         /* REPAIR: one part explains the log, nothing else does */
    HP_WHY_CUTS_OUT,     /* REPAIR: every run was cut out, whatever was joined */
    HP_WHY_TRIALS,       /* PROBABLY, GIVE_UP: as many powered trials as are allowed */
    HP_WHY_NOTHING_LEFT, /* GIVE_UP: nothing that is left would tell more */
    HP_WHY_UNLISTED,     /* GIVE_UP: nothing that is listed explains the log */
    HP_WHY_UNSENSED,     /* GIVE_UP: the controller runs without Hall sensors, no run tells more;
                            TRY: the phase leads that ran forward, before that end */
    HP_WHY_UNPOWERED,    /* GIVE_UP: what is left wants power, and here is none */
    HP_WHY_BEFORE_END,   /* READ: asked for only because the work would end here otherwise */
    HP_WHY_COUNT
} hp_why;

/* How trials are sorted by their numbers, as multiples of those of the right wiring. A current is
 * small up to this many times: half way, on a logarithmic scale, between it and the least that
 * rough ones draw (docs/verdicts.md). Speeds within the band are called even. */
#define HP_CURRENT_SMALL   3.0
#define HP_SPEED_EVEN_LOW  0.97
#define HP_SPEED_EVEN_HIGH 1.10

/* Five to ninety-five percent band of a figure. */
typedef struct hp_band {
    double low;
    double high;
} hp_band;

/* A typical figure of a band: its geometric middle, or half its upper end where the lower one is
 * zero, as the current of an easy motor is on a coarse meter. */
double hp_band_middle(hp_band band);

/* What the bands at full throttle come from. */
typedef enum hp_bands_from {
    HP_BANDS_MOTORS,  /* motors drawn around the scenario's, by the readings and trials logged */
    HP_BANDS_PARTS,   /* the parts as stated and measured; no run of this machine counts */
    HP_BANDS_MACHINE, /* what was learnt of this machine, its runs with it */
    HP_BANDS_FROM_COUNT
} hp_bands_from;

/* "motors": for JSON; static storage. */
const char *hp_bands_from_name(hp_bands_from from);

/* Entries of a log that do not fit each other. */
typedef struct hp_contradiction {
    bool found;  /* the best explanation of the log needs a slip */
    int slipped; /* index of the entry that is the likelier slip */
    int other;   /* index of the entry it cannot stand beside, or -1: all the others together */
    double probability; /* that `slipped` was a slip */
    double no_slip;     /* that nothing at all was */
} hp_contradiction;

/* Signs of a run at full throttle, wheel lifted, that no right wiring of a good machine gives. */
typedef enum hp_check_sign {
    HP_CHECK_CURRENT, /* it drew too much */
    HP_CHECK_FAST,    /* far too fast for its volts */
    HP_CHECK_SLOW,    /* ... too slow */
    HP_CHECK_ROUGH,   /* it felt rough, and no current says that it only growls */
    HP_CHECK_WARM,    /* winding or leads grew warm */
    HP_CHECK_CUT_OUT, /* the controller cut out */
    HP_CHECK_TURNED,  /* not forward, or not at all */
    HP_CHECK_STARTS,  /* forward, but not from every start position */
    HP_CHECK_COUNT
} hp_check_sign;

/* What stands of the runs at full throttle: each sign until a later run says otherwise of it. */
typedef struct hp_failed_check {
    bool stands;
    int entry[HP_CHECK_COUNT]; /* number of the newest run that gave the sign; 0: it does not stand
                                */
    bool backward;             /* of HP_CHECK_TURNED: it ran backward */
    int starts, starts_tried;  /* of HP_CHECK_STARTS: from how many of how many; else 0 */
    double battery_a;          /* what it drew too much; NAN: that sign does not stand */
    double wheel_rad_s;        /* how fast or slow; NAN: the same */
} hp_failed_check;

/* The newest of its entries; 0: none stands. */
int hp_failed_check_entry(const hp_failed_check *failed);
/* "current": for JSON; static storage. */
const char *hp_check_sign_name(hp_check_sign sign);

/* Of the Hall leads runs alone may say that they are right: whether the controller also runs with
 * their plug pulled is then still open. */
typedef enum hp_plug {
    HP_PLUG_SETTLED, /* it is not: somebody has tried, or readings say enough */
    HP_PLUG_OWED,    /* it is asked for once the final check is made */
    HP_PLUG_UNTRIED  /* nobody has tried it, and nobody here can */
} hp_plug;

typedef struct hp_advice {
    hp_advice_kind kind;
    const hp_reading *reading; /* READ: which */
    int lead;                  /* READ of a reading that is taken for each lead: which; else -1 */
    hp_wiring wiring;          /* TRY, LOOK, DONE; REPAIR: the likeliest once mended */
    int number;                /* its number; 0: none */
    int moved_phase; /* TRY: phase leads and sensor pins to move from the present wiring */
    int moved_sensor;
    double certainty; /* TRY, LOOK, DONE, GIVE_UP without power: that this wiring is right; READ:
                         that the one that is joined is, where it ran well; REPAIR, other GIVE_UP:
                         that this is broken */
    hp_why why;       /* of an end, or of a reading that comes before one */
    int trouble;      /* REPAIR, GIVE_UP: index of decide/advise/trouble.h, the likeliest */
    const hp_reading *proof; /* REPAIR: the reading that would prove it */
    const hp_danger *danger; /* DANGER; NULL: none */
    double expected_cost;    /* [min] of this action and all after it */
    double
        expected_trials; /* powered trials still to come in the mean, sharp plan; 0 when unknown */
    hp_band current_a;   /* TRY, LOOK, DONE: battery current if the wiring is right */
    hp_band wheel_rad_s; /* wheel speed if right */
    /* DONE, PROBABLY: the same at full throttle, where neither hand nor kind of PWM matters */
    hp_band full_current_a;
    hp_band full_wheel_rad_s;
    hp_bands_from full_from;
    double full_most_a; /* [A] above this no right wiring draws there; 0: not known */
    bool checked;       /* DONE: a run at full throttle, wheel lifted, was inside these */
    int unread; /* DONE: number of a run at full throttle whose current nobody read, though the
                   meter for it is here; 0: none */
    int learnt; /* DONE, PROBABLY: number of the entry by which the controller learnt what is joined
                   by itself: it is right as it is, and equals do not follow; 0: it did not */
    int felt;   /* PROBABLY, where no meter is here: number of the entry of the last run, which was
                   smooth, not warm and not cut out: all that can be told without one; 0: it is to be
                   made */
    hp_failed_check failed; /* what stands of such runs of the joined wiring, whatever is advised */
    double signal_v;  /* TRY, LOOK: volts to set on the throttle's signal lead; 0: not known */
    bool limited;     /* TRY, LOOK: its current is to be limited */
    double limit_a;   /* to so much; 0: not known. DONE, PROBABLY: what a right one stays below */
    hp_tell unsensed; /* what the log says of whether the controller runs without Hall sensors: a
                         smooth run then says nothing of the Hall leads */
    hp_plug plug;     /* DONE, PROBABLY: whether that is still to be tried */
    bool fresh_controller; /* TRY: of the wiring that is noted down; its leads were off since */
    hp_contradiction contradiction;
    int in_vain;  /* number of the last entry that mended a part and did not help; 0: none */
    bool another; /* it was a controller, and since then nothing drives: the new one is no better */
} hp_advice;

/* Power of filament lamps [W] that together take the battery's volts, hot, at 1.5 times a current:
 * dark below a third of it, bright at the limit. */
double hp_lamp_watts(double battery_v, double limit_a);

/* "unsensed": for JSON; static storage. */
const char *hp_why_name(hp_why why);
/* Whether an advice ends the work with a machine that is ridden as it is joined, proved or not:
 * each of them owes the final check until it is `checked', and heeds what grew warm or cut out. */
bool hp_advice_ends_riding(const hp_advice *advice);
/* The kind of entry that an advised step leads to; NULL: it leads to none. */
const hp_reading *hp_advice_entry(const hp_advice *advice);
/* Whether a log may say that this step cannot be done here, and the advice goes on without it: not
 * where something has to be mended first, nor at an end. */
bool hp_advice_can_be_left_out(const hp_advice *advice);

#define HP_SHOWING_MAX 52

/* One thing that an advised action may show, as the entry that a person would log. */
typedef struct hp_showing {
    hp_entry entry;
    double probability;
} hp_showing;

HP_API_END

#endif
