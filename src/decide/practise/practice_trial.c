/*
 * What a person sees when a wiring is tried at a hidden machine: each start is a run of the engine.
 *
 * A supply that limits its current gives way: its volts fall until the machine draws what it lets
 * through. So much is looked for by halving, run by run, with the controller's capacitors taking up
 * the ripple. Left out: that the controller may lose its own supply meanwhile, and volts that a
 * braking motor pumps up. A lamp is taken for such a supply, for a filament that glows holds the
 * current nearly as well.
 */
#include "decide/advise/behaviour.h"
#include "decide/advise/sight.h"
#include "decide/practise/hidden.h"

#include <math.h>

/* Volts of a supply at its limit are found to a hundredth. */
#define HALVINGS 7
/* chosen: from so many watts on a winding grows warm while it is tried, and below so many not. */
#define WARM_W 40.0
#define COOL_W 8.0

/* What several starts showed. */
typedef struct watched {
    int forward, backward, hum, shiver, turning, smooth, limited, cut, runs;
    double turning_a, standing_a, wheel_rad_s, copper_w;
    int standing, wheel;
} watched;

static hp_run_options run_options(void)
{
    hp_run_options options = hp_run_options_default();
    options.tolerance = 1e-5;
    options.calm_share = 0.002; /* as the advice's own runs: figures move by 0.1 % */
    return options;
}

double hp_practice_usual_a(const hp_drive *drive, hp_error *err)
{
    hp_drive d = *drive;
    const hp_wiring same = hp_wiring_from_number(1);
    const hp_run_options options = run_options();
    hp_figures figures;
    double amperes = NAN;
    d.controller.table = hp_commutation_table_120();
    hp_engine *engine = hp_engine_create(err);
    if (engine && hp_engine_run(engine, &d, &same, &options, NULL, &figures, err) == HP_OK)
        amperes = figures.battery_current;
    hp_engine_free(engine);
    return amperes;
}

/* As the machine is run: throttle, and the rotor by itself behind a clutch that slips. */
static hp_drive driven(const hp_seen *seen, const hp_trial *t)
{
    hp_drive d = seen->drive;
    if (seen->fault == HP_PRACTICE_CLUTCH_SLIPS) {
        const hp_behaviour slips = {
            .wiring = hp_wiring_from_number(1), .inverted = -1, .fault = {HP_FAULT_CLUTCH, 0}};
        const hp_commutation_table table = d.controller.table;
        d = hp_behaviour_drive(&d, &slips);
        d.controller.table = table;
    }
    d.controller.throttle = t->throttle;
    if (hp_feed_limits(t->feed))
        d.controller.undervoltage_v = 0.0;
    return d;
}

/* One start. *limited: the supply gave way. */
static hp_result start(hp_engine *engine, const hp_drive *drive, const hp_wiring *joined,
                       const hp_run_options *options, double limit_a, hp_figures *figures,
                       bool *limited, hp_error *err)
{
    hp_drive d = *drive;
    hp_result result = hp_engine_run(engine, &d, joined, options, NULL, figures, err);
    *limited = result == HP_OK && limit_a > 0.0 && figures->battery_current > limit_a;
    if (!*limited)
        return result;
    double low = 0.0, high = d.supply.emf_v;
    for (int k = 0; k < HALVINGS && result == HP_OK; k++) {
        d.supply.emf_v = 0.5 * (low + high);
        result = hp_engine_run(engine, &d, joined, options, NULL, figures, err);
        *(figures->battery_current > limit_a ? &high : &low) = d.supply.emf_v;
    }
    return result;
}

static void watch(const hp_figures *f, hp_sight sight, bool limited, watched *w)
{
    w->runs++;
    w->forward += sight == HP_SIGHT_FORWARD_SMOOTH || sight == HP_SIGHT_FORWARD_ROUGH;
    w->backward += sight == HP_SIGHT_BACKWARD_SMOOTH || sight == HP_SIGHT_BACKWARD_ROUGH;
    w->hum += sight == HP_SIGHT_HUM_SMOOTH || sight == HP_SIGHT_HUM_ROUGH;
    w->shiver += sight == HP_SIGHT_SHIVER;
    w->smooth += hp_sight_smooth(sight);
    w->limited += limited;
    w->cut += f->cut_out;
    w->copper_w = fmax(w->copper_w, f->copper_power);
    if (!hp_sight_turns(sight)) {
        w->standing++;
        w->standing_a += f->battery_current;
        return;
    }
    w->turning++;
    w->turning_a += f->battery_current;
    if (sight < HP_SIGHT_HUM_SMOOTH) {
        w->wheel++;
        w->wheel_rad_s += fabs(f->wheel_speed);
    }
}

static hp_motion motion_of(const hp_seen *seen, const watched *w)
{
    if ((w->forward > 0) + (w->backward > 0) + (w->hum > 0) > 1)
        return HP_MOVED_BOTH;
    if (w->forward > 0)
        return HP_MOVED_FORWARD;
    if (w->backward > 0)
        return HP_MOVED_BACKWARD;
    if (w->hum > 0)
        return seen->drive.stand.clutch ? HP_MOVED_HUM : HP_MOVED_STILL;
    return w->shiver > 0 ? HP_MOVED_SHIVER : HP_MOVED_STILL;
}

static void tell_figures(hp_seen *seen, const watched *w, hp_trial *t)
{
    const hp_practice_stated *stated = &seen->machine->stated;
    const hp_person *p = &stated->person;
    double amperes = seen->machine->idle_a;
    if (w->turning > 0)
        amperes += w->turning_a / w->turning;
    else if (w->standing > 0)
        amperes += w->standing_a / w->standing;
    /* Both are drawn whether there is a meter or not: the rest must not hang on it. */
    double shown = hp_seen_metered(seen, amperes, p->current_relative, p->current_zero_a, 0.01);
    /* The supply that holds its limit shows it, whatever a clip-on meter would say. */
    if (t->feed == HP_FEED_BENCH_SUPPLY && w->limited > 0)
        shown = fmin(shown, t->limit_a);
    double speed = w->wheel > 0 ? w->wheel_rad_s / w->wheel : 0.0;
    double rpm = hp_seen_metered(seen, speed / HP_RPM, p->speed_relative, 0.0, 1.0);
    if (stated->plan.ammeter)
        t->battery_a = shown;
    if (stated->plan.tachometer && w->wheel > 0)
        t->wheel_rad_s = rpm * HP_RPM;
}

static void tell(hp_seen *seen, const watched *w, hp_trial *t)
{
    bool cut = w->cut > 0 || seen->fault == HP_PRACTICE_CUTTING_OUT;
    t->motion = motion_of(seen, w);
    t->starts = t->motion == HP_MOVED_SHIVER || t->motion == HP_MOVED_STILL ? 0 : w->turning;
    if (t->starts > 0)
        t->feel = w->smooth == w->turning ? HP_FEEL_SMOOTH : HP_FEEL_ROUGH;
    if (seen->fault != HP_PRACTICE_SILENT)
        t->cut_out = cut ? HP_TELL_YES : HP_TELL_NO;
    if (w->copper_w > WARM_W && seen->fault != HP_PRACTICE_CUTTING_OUT)
        t->warm = HP_TELL_YES;
    else if (w->copper_w < COOL_W)
        t->warm = HP_TELL_NO;
    if (hp_feed_limits(t->feed) && (w->limited == 0 || w->limited == w->runs))
        t->limit_reached = w->limited > 0 ? HP_TELL_YES : HP_TELL_NO;
    /* Off before a needle has come to rest. */
    if (seen->fault != HP_PRACTICE_CUTTING_OUT)
        tell_figures(seen, w, t);
}

hp_result hp_see_trial(hp_seen *seen, void *values, hp_error *err)
{
    hp_trial *t = values;
    const hp_wiring joined = hp_practice_joined(seen->machine, &t->wiring);
    hp_run_options options = run_options();
    hp_sight_params sight = hp_sight_params_of();
    double limit_a = t->feed == HP_FEED_LAMP           ? seen->machine->limit_a
                     : t->feed == HP_FEED_BENCH_SUPPLY ? t->limit_a
                                                       : 0.0;
    /* What else is on draws from the same supply. */
    double spare_a = limit_a > 0.0 ? fmax(0.1 * limit_a, limit_a - seen->machine->idle_a) : 0.0;
    watched w = {0};
    sight.wheel_free = seen->fault == HP_PRACTICE_CLUTCH_SLIPS;
    hp_engine *engine = hp_engine_create(err);
    hp_result result = engine ? HP_OK : HP_FAIL_MEMORY;
    for (int k = 0; k < t->starts_tried && result == HP_OK; k++) {
        hp_figures figures = {.status = HP_OK, .at_rest = true};
        bool limited = false;
        options.start_angle = hp_random_between(&seen->random, 0.0, HP_TWO_PI);
        hp_seen_shake(seen);
        const hp_drive drive = driven(seen, t);
        if (seen->fault != HP_PRACTICE_SILENT)
            result = start(engine, &drive, &joined, &options, spare_a, &figures, &limited, err);
        if (result == HP_OK)
            watch(&figures, hp_sight_of(&figures, &sight), limited, &w);
    }
    hp_engine_free(engine);
    if (result == HP_OK)
        tell(seen, &w, t);
    return result;
}
