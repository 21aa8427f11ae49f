/*
 * The rules of the fit, one by one: parts that go together are ok on every line; each change that
 * makes them go together less changes one line's state to what it must be, at its own bound.
 */
#include "check.h"

#include "decide/fit/fit_rules.h"
#include "hubphase/model/drive.h"
#include "model/axle.h"
#include "report/words/fit_words.h"

/* A machine on paper: a fit as a simulation might leave it, filled in by hand. */
typedef struct paper {
    hp_drive drive;
    hp_vehicle vehicle;
    hp_fit_given given;
    hp_fit fit;
} paper;

static hp_fit_meeting meeting_at(double speed, double torque, double battery_a)
{
    return (hp_fit_meeting){
        .meets = true,
        .speed = speed,
        .slow = 0.9 * speed,
        .quick = 1.1 * speed,
        .point = {.runs = true,
                  .torque_nm = torque,
                  .wheel_rad_s = speed / 0.33,
                  .battery_a = battery_a,
                  .battery_w = 37.0 * battery_a,
                  .wheel_w = 0.8 * 37.0 * battery_a,
                  .phase_rms_a = 14.0,
                  .duty = 0.9},
        .limit_s = INFINITY,
        .limit_low_s = INFINITY,
        .limit_high_s = INFINITY,
    };
}

/* Parts that go together. */
static void paper_make(paper *p)
{
    memset(p, 0, sizeof *p);
    p->drive = hp_drive_default();
    p->drive.controller.undervoltage_v = 31.0;
    p->vehicle = hp_vehicle_default();
    hp_vehicle *v = &p->vehicle;
    v->pack.limit_a = 20.0;
    v->pack.capacity_ah = 12.0;
    v->fuse = (hp_fuse_params){true, 20.0, 1000.0, 58.0};
    v->battery_lead.area_mm2 = 2.5;
    v->phase_lead.area_mm2 = 4.0;
    v->phase_lead.ampacity_a = 45.0;
    v->axle = (hp_axle_params){.diameter_mm = 14.0,
                               .flats_mm = 10.0,
                               .engaged_mm = 14.0,
                               .dropout = HP_DROPOUT_STEEL,
                               .allowed_mpa = 235.0};
    v->ratings = (hp_ratings){.controller_most_v = 50.0,
                              .battery_connector_a = 30.0,
                              .phase_connector_a = 40.0,
                              .sensor_supply_v = 5.0,
                              .winding_most_c = 100.0};
    v->hill = 0.01; /* so gentle that it does not charge going down */
    hp_fit *f = &p->fit;
    f->correct = 1;
    f->reverse = 8;
    f->moved = 4;
    f->stalled_phase_a = 40.0;
    f->stalled_battery_a = 9.0;
    f->torque_most_nm = 20.0;
    f->lasting_slope = 0.05;
    f->steepest = 0.2;
    f->cruises = true;
    f->cruise = meeting_at(5.5, 5.0, 3.0).point;
    for (int k = 0; k < HP_FIT_CHARGE_COUNT; k++) {
        f->curve[k].emf_v = 37.0;
        f->curve[k].point[3] = meeting_at(6.0, 20.0, 14.0).point;
        f->level[k] = meeting_at(7.0, 8.0, 6.0);
        f->hill[k] = meeting_at(5.0, 25.0, 15.0);
    }
    f->course =
        (hp_fit_course){.count = 1, .hottest_c = 50, .hottest_low_c = 40, .hottest_high_c = 60};
    p->given = (hp_fit_given){
        .drive = &p->drive, .vehicle = &p->vehicle, .sensor_least_v = 3.8, .sensor_most_v = 24.0};
}

static const hp_fit_line *reckon(paper *p, hp_fit_rule_id rule)
{
    hp_fit_rules_apply(&p->given, &p->fit);
    return &p->fit.line[rule];
}

static void check_line(paper *p, hp_fit_rule_id rule, hp_fit_state state, int code,
                       const char *what)
{
    const hp_fit_line *line = reckon(p, rule);
    check_true(line->state == state && line->code == code && line->rule == rule,
               "%s: rule %d is %s with finding %d, expected %s with %d", what, (int)rule,
               hp_fit_state_name(line->state), line->code, hp_fit_state_name(state), code);
}

static void parts_that_go_together_are_ok_on_every_line(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++)
        if (k != HP_FIT_LAW)
            check_line(&p, (hp_fit_rule_id)k, HP_FIT_OK, 0, "as made");
    check_line(&p, HP_FIT_LAW, HP_FIT_LOOK, HP_LAW_LOOK, "the law is always to be looked up");
    check_int(hp_fit_worst(&p.fit), HP_FIT_LOOK);
}

/* That there is none is no thing that is not known, whatever else is not stated. */
static void a_battery_without_a_fuse_is_a_stop(void **state)
{
    (void)state;
    paper p;
    char text[600];
    paper_make(&p);
    p.vehicle.fuse = (hp_fuse_params){.fitted = false};
    p.vehicle.battery_lead.area_mm2 = p.vehicle.battery_lead.ampacity_a = 0.0;
    check_line(&p, HP_FIT_FUSE_RATING, HP_FIT_STOP, HP_FUSE_NONE, "no fuse");
    hp_fit_advice_text(&p.fit, &p.fit.line[HP_FIT_FUSE_RATING], NULL, NULL, text, sizeof text);
    check_text_contains(text, "There is no fuse");
    check_line(&p, HP_FIT_FUSE_BREAKING, HP_FIT_STOP, HP_BREAKING_NONE, "no fuse");
    check_relative(p.fit.line[HP_FIT_FUSE_BREAKING].figure[0].value, 525.0, 1e-9, "42 V, 0.08 ohm");
    p.vehicle.fuse.fitted = true;
    check_line(&p, HP_FIT_FUSE_RATING, HP_FIT_UNKNOWN, 0, "a fuse of which nothing is stated");
}

/* What no leads would help stands whatever is known of them. */
static void a_fuse_too_small_is_told_without_the_leads(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.vehicle.battery_lead.area_mm2 = p.vehicle.battery_lead.ampacity_a = 0.0;
    p.vehicle.fuse.rated_a = 10.0;
    check_line(&p, HP_FIT_FUSE_RATING, HP_FIT_LOOK, HP_FUSE_TOO_SMALL, "10 A before 15 A");
    check_int(p.fit.line[HP_FIT_FUSE_RATING].figures, 2);
    p.vehicle.fuse.rated_a = 20.0;
    check_line(&p, HP_FIT_FUSE_RATING, HP_FIT_UNKNOWN, 0, "20 A, for leads that nobody states");
}

/* One number of the paper, what is put there, and what must come out. */
typedef struct change {
    size_t offset;
    double value;
    hp_fit_rule_id rule;
    hp_fit_state state;
    int code;
} change;

/* One cell more, and the full battery may be above what was ok: no line that holds its volts
 * against something is ok by a guess. What is a stop by the guess stays one. */
static void a_guessed_count_of_cells_is_never_ok(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.given.pack_guessed = true;
    check_line(&p, HP_FIT_CONTROLLER_VOLTS, HP_FIT_LOOK, HP_VOLTS_GUESSED, "guessed");
    check_true(p.fit.pack_guessed, "told beside the battery");
    check_line(&p, HP_FIT_FUSE_BREAKING, HP_FIT_LOOK, HP_BREAKING_GUESSED, "guessed");
    check_line(&p, HP_FIT_CUT_OFF, HP_FIT_LOOK, HP_CUT_OFF_GUESSED, "guessed");
    check_line(&p, HP_FIT_BATTERY_CONNECTOR, HP_FIT_OK, 0, "a current, no volts of cells");
    p.vehicle.ratings.controller_most_v = 43.0; /* near, and guessed: the guess is the worse */
    check_line(&p, HP_FIT_CONTROLLER_VOLTS, HP_FIT_LOOK, HP_VOLTS_GUESSED, "near");
    p.vehicle.ratings.controller_most_v = 41.0;
    check_line(&p, HP_FIT_CONTROLLER_VOLTS, HP_FIT_STOP, HP_VOLTS_ABOVE, "above");
}

#define AT(field) offsetof(paper, field)

static void each_change_moves_its_line_at_its_bound(void **state)
{
    (void)state;
    static const change changes[] = {
        /* 42 V full */
        {AT(vehicle.ratings.controller_most_v), 41.9, HP_FIT_CONTROLLER_VOLTS, HP_FIT_STOP,
         HP_VOLTS_ABOVE},
        {AT(vehicle.ratings.controller_most_v), 42.1, HP_FIT_CONTROLLER_VOLTS, HP_FIT_LOOK,
         HP_VOLTS_NEAR},
        {AT(vehicle.ratings.controller_most_v), 44.1, HP_FIT_CONTROLLER_VOLTS, HP_FIT_LOOK,
         HP_VOLTS_NEAR},
        {AT(vehicle.ratings.controller_most_v), 44.3, HP_FIT_CONTROLLER_VOLTS, HP_FIT_OK, 0},
        /* 30 to 42 V: a third of the way up is 34.2 V */
        {AT(drive.controller.undervoltage_v), 0.0, HP_FIT_CUT_OFF, HP_FIT_LOOK, HP_CUT_OFF_NONE},
        {AT(drive.controller.undervoltage_v), 29.9, HP_FIT_CUT_OFF, HP_FIT_LOOK, HP_CUT_OFF_LOW},
        {AT(drive.controller.undervoltage_v), 30.0, HP_FIT_CUT_OFF, HP_FIT_OK, 0},
        {AT(drive.controller.undervoltage_v), 34.1, HP_FIT_CUT_OFF, HP_FIT_OK, 0},
        {AT(drive.controller.undervoltage_v), 34.3, HP_FIT_CUT_OFF, HP_FIT_LOOK, HP_CUT_OFF_HIGH},
        {AT(drive.controller.undervoltage_v), 42.0, HP_FIT_CUT_OFF, HP_FIT_STOP, HP_CUT_OFF_HIGH},
        {AT(vehicle.ratings.sensor_supply_v), 24.1, HP_FIT_SENSOR_SUPPLY, HP_FIT_STOP,
         HP_SENSORS_ABOVE},
        {AT(vehicle.ratings.sensor_supply_v), 3.7, HP_FIT_SENSOR_SUPPLY, HP_FIT_LOOK,
         HP_SENSORS_BELOW},
        /* limit 15 A */
        {AT(vehicle.pack.limit_a), 14.9, HP_FIT_PACK_CURRENT, HP_FIT_STOP, HP_PACK_WEAK},
        {AT(vehicle.pack.limit_a), 15.0, HP_FIT_PACK_CURRENT, HP_FIT_OK, 0},
        {AT(drive.controller.battery_limit_a), 0.0, HP_FIT_PACK_CURRENT, HP_FIT_LOOK,
         HP_PACK_UNLIMITED},
        {AT(vehicle.fuse.rated_a), 14.9, HP_FIT_FUSE_RATING, HP_FIT_LOOK, HP_FUSE_TOO_SMALL},
        {AT(vehicle.fuse.rated_a), 15.0, HP_FIT_FUSE_RATING, HP_FIT_LOOK, HP_FUSE_JUST},
        {AT(vehicle.fuse.rated_a), 15.1, HP_FIT_FUSE_RATING, HP_FIT_OK, 0},
        {AT(vehicle.battery_lead.ampacity_a), 19.9, HP_FIT_FUSE_RATING, HP_FIT_STOP,
         HP_FUSE_TOO_LARGE},
        {AT(vehicle.battery_lead.ampacity_a), 20.0, HP_FIT_FUSE_RATING, HP_FIT_OK, 0},
        {AT(vehicle.battery_lead.area_mm2), 0.5, HP_FIT_FUSE_RATING, HP_FIT_STOP,
         HP_FUSE_TOO_LARGE},
        /* 42 V over 0.08 ohm: 525 A */
        {AT(vehicle.fuse.breaking_a), 524.0, HP_FIT_FUSE_BREAKING, HP_FIT_STOP, HP_BREAKING_WEAK},
        {AT(vehicle.fuse.breaking_a), 526.0, HP_FIT_FUSE_BREAKING, HP_FIT_OK, 0},
        {AT(vehicle.fuse.rated_v), 41.9, HP_FIT_FUSE_BREAKING, HP_FIT_STOP, HP_BREAKING_VOLTS},
        {AT(vehicle.pack.resistance_ohm), 0.0, HP_FIT_FUSE_BREAKING, HP_FIT_LOOK,
         HP_BREAKING_UNSURE},
        {AT(vehicle.ratings.battery_connector_a), 14.9, HP_FIT_BATTERY_CONNECTOR, HP_FIT_STOP,
         HP_PLUG_OVER},
        {AT(vehicle.ratings.battery_connector_a), 18.7, HP_FIT_BATTERY_CONNECTOR, HP_FIT_LOOK,
         HP_PLUG_NEAR},
        {AT(vehicle.ratings.battery_connector_a), 18.8, HP_FIT_BATTERY_CONNECTOR, HP_FIT_OK, 0},
        {AT(vehicle.battery_lead.ampacity_a), 14.9, HP_FIT_BATTERY_LEADS, HP_FIT_STOP,
         HP_LEADS_OVER},
        {AT(vehicle.battery_lead.length_m), 6.0, HP_FIT_BATTERY_LEADS, HP_FIT_LOOK, HP_LEADS_DROP},
        {AT(drive.controller.phase_limit_a), 0.0, HP_FIT_PHASE_CURRENT, HP_FIT_LOOK,
         HP_PHASE_UNLIMITED},
        /* 14 A rms on the hill, 40 A stalled */
        {AT(vehicle.ratings.phase_connector_a), 13.9, HP_FIT_PHASE_CONNECTOR, HP_FIT_STOP,
         HP_PLUG_OVER},
        {AT(vehicle.ratings.phase_connector_a), 17.4, HP_FIT_PHASE_CONNECTOR, HP_FIT_LOOK,
         HP_PLUG_NEAR},
        {AT(vehicle.phase_lead.ampacity_a), 13.9, HP_FIT_PHASE_LEADS, HP_FIT_STOP, HP_LEADS_OVER},
        {AT(vehicle.phase_lead.ampacity_a), 39.9, HP_FIT_PHASE_LEADS, HP_FIT_LOOK, HP_LEADS_BRIEF},
        {AT(vehicle.phase_lead.ampacity_a), 40.0, HP_FIT_PHASE_LEADS, HP_FIT_OK, 0},
        /* 0.8 of the battery's power reaches the wheel */
        {AT(fit.level[HP_FIT_CHARGE_MIDDLE].point.wheel_w), 110.0, HP_FIT_LEVEL, HP_FIT_LOOK,
         HP_ROAD_POOR},
        {AT(fit.level[HP_FIT_CHARGE_MIDDLE].point.wheel_w), 112.0, HP_FIT_LEVEL, HP_FIT_OK, 0},
        {AT(fit.hill[HP_FIT_CHARGE_MIDDLE].point.wheel_w), 277.0, HP_FIT_HILL, HP_FIT_LOOK,
         HP_ROAD_POOR},
        /* 12 Ah, 0.9, 7 m/s, 6 A: 45 km, at worst 39; the ride is 4.5 km */
        {AT(vehicle.pack.capacity_ah), 1.3, HP_FIT_RANGE, HP_FIT_LOOK, HP_RANGE_SHORT},
        {AT(vehicle.pack.capacity_ah), 1.4, HP_FIT_RANGE, HP_FIT_OK, 0},
        {AT(fit.course.hottest_c), 100.1, HP_FIT_RIDE_HEAT, HP_FIT_STOP, HP_HEAT_OVER},
        {AT(fit.course.hottest_high_c), 100.1, HP_FIT_RIDE_HEAT, HP_FIT_LOOK, HP_HEAT_NEAR},
        /* 500 m at 5 m/s */
        {AT(fit.hill[HP_FIT_CHARGE_MIDDLE].limit_s), 99.0, HP_FIT_HILL_HEAT, HP_FIT_STOP,
         HP_HEAT_OVER},
        {AT(fit.hill[HP_FIT_CHARGE_MIDDLE].limit_low_s), 99.0, HP_FIT_HILL_HEAT, HP_FIT_LOOK,
         HP_HEAT_NEAR},
        {AT(fit.hill[HP_FIT_CHARGE_MIDDLE].limit_low_s), 101.0, HP_FIT_HILL_HEAT, HP_FIT_OK, 0},
        {AT(fit.lasting_slope), -1.0, HP_FIT_HILL_HEAT, HP_FIT_LOOK, HP_HEAT_LEVEL},
        {AT(drive.controller.stall_cutout_s), 0.0, HP_FIT_STALL_HEAT, HP_FIT_LOOK, HP_STALL_SLOW},
        {AT(drive.controller.stall_cutout_s), 600.0, HP_FIT_STALL_HEAT, HP_FIT_STOP, HP_STALL_LATE},
        {AT(fit.stalled_phase_a), 400.0, HP_FIT_STALL_HEAT, HP_FIT_STOP, HP_STALL_LATE},
    };
    for (size_t k = 0; k < sizeof changes / sizeof changes[0]; k++) {
        paper p;
        char what[80];
        paper_make(&p);
        memcpy((char *)&p + changes[k].offset, &changes[k].value, sizeof changes[k].value);
        snprintf(what, sizeof what, "change %zu", k);
        check_line(&p, changes[k].rule, changes[k].state, changes[k].code, what);
    }
}

static void what_is_not_stated_is_named_and_not_judged(void **state)
{
    (void)state;
    static const struct {
        size_t offset;
        hp_fit_rule_id rule;
        unsigned missing;
    } gap[] = {
        {AT(vehicle.ratings.controller_most_v), HP_FIT_CONTROLLER_VOLTS, HP_FIT_LACKS_CONTROLLER_V},
        {AT(vehicle.ratings.sensor_supply_v), HP_FIT_SENSOR_SUPPLY, HP_FIT_LACKS_SENSOR_V},
        {AT(vehicle.pack.limit_a), HP_FIT_PACK_CURRENT, HP_FIT_LACKS_PACK_LIMIT},
        {AT(vehicle.fuse.rated_a), HP_FIT_FUSE_RATING, HP_FIT_LACKS_FUSE},
        {AT(vehicle.battery_lead.area_mm2), HP_FIT_FUSE_RATING, HP_FIT_LACKS_BATTERY_LEAD},
        {AT(vehicle.fuse.breaking_a), HP_FIT_FUSE_BREAKING, HP_FIT_LACKS_FUSE_BREAKING},
        {AT(vehicle.fuse.rated_v), HP_FIT_FUSE_BREAKING, HP_FIT_LACKS_FUSE_V},
        {AT(vehicle.ratings.battery_connector_a), HP_FIT_BATTERY_CONNECTOR,
         HP_FIT_LACKS_BATTERY_PLUG},
        {AT(vehicle.battery_lead.area_mm2), HP_FIT_BATTERY_LEADS, HP_FIT_LACKS_BATTERY_LEAD},
        {AT(vehicle.ratings.phase_connector_a), HP_FIT_PHASE_CONNECTOR, HP_FIT_LACKS_PHASE_PLUG},
        {AT(vehicle.phase_lead.area_mm2), HP_FIT_PHASE_LEADS, HP_FIT_LACKS_PHASE_LEAD},
        {AT(vehicle.pack.capacity_ah), HP_FIT_RANGE, HP_FIT_LACKS_CAPACITY},
        {AT(vehicle.axle.diameter_mm), HP_FIT_AXLE, HP_FIT_LACKS_AXLE},
        {AT(vehicle.axle.flats_mm), HP_FIT_AXLE, HP_FIT_LACKS_FLATS},
        {AT(vehicle.axle.engaged_mm), HP_FIT_AXLE, HP_FIT_LACKS_ENGAGED},
    };
    for (size_t k = 0; k < sizeof gap / sizeof gap[0]; k++) {
        paper p;
        const double none = 0.0;
        paper_make(&p);
        memcpy((char *)&p + gap[k].offset, &none, sizeof none);
        const hp_fit_line *line = reckon(&p, gap[k].rule);
        check_int(line->state, HP_FIT_UNKNOWN);
        check_int(line->missing, gap[k].missing);
        check_int(line->figures, 0);
    }
}

/* Without a correct wiring nothing of the road is said; what needs none is. */
static void without_a_correct_wiring_the_road_is_unknown(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.fit.correct = 0;
    hp_fit_rules_apply(&p.given, &p.fit);
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++) {
        bool needs = hp_fit_rule_of((hp_fit_rule_id)k)->needs & HP_FIT_LACKS_CORRECT;
        check_int(p.fit.line[k].state, needs ? HP_FIT_UNKNOWN : HP_FIT_OK);
    }
    check_int(p.fit.line[HP_FIT_HILL].missing, HP_FIT_LACKS_CORRECT);
}

/* Why there is none is said where a part is stated to be broken. */
static void a_stated_fault_is_named_where_no_wiring_is_correct(void **state)
{
    (void)state;
    for (int k = 0; k < 3; k++) {
        paper p;
        paper_make(&p);
        hp_drive broken = *p.given.drive;
        broken.sensors.no_supply = k == 0;
        broken.motor.lead_open[1] = k == 1;
        broken.sensors.fault[2] = k == 2 ? HP_SENSOR_STUCK_LOW : HP_SENSOR_SOUND;
        p.given.drive = &broken;
        hp_fit_rules_apply(&p.given, &p.fit);
        check_int(p.fit.line[HP_FIT_HILL].missing, 0); /* it runs all the same */
        p.fit.correct = 0;
        hp_fit_rules_apply(&p.given, &p.fit);
        check_int(p.fit.line[HP_FIT_HILL].missing, HP_FIT_LACKS_CORRECT | HP_FIT_LACKS_SOUND);
        check_int(p.fit.line[HP_FIT_AXLE].missing, 0);
    }
}

/* Figures of a speed step say that they are. */
static void a_speed_step_is_told_with_the_level(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    hp_drive step = *p.given.drive;
    p.given.drive = &step;
    hp_fit_rules_apply(&p.given, &p.fit);
    int figures = p.fit.line[HP_FIT_LEVEL].figures;
    step.controller.speed_cap = 0.6;
    hp_fit_rules_apply(&p.given, &p.fit);
    const hp_fit_line *line = &p.fit.line[HP_FIT_LEVEL];
    check_int(line->figures, figures + 1);
    check_int(line->figure[figures].what, HP_FIT_STEP_PERCENT);
    check_close(line->figure[figures].value, 0.6, 0.0, "of all the duty");
}

/* Of lead no protection is spoken: there is none. */
static void a_lead_battery_is_not_left_to_a_protection(void **state)
{
    (void)state;
    for (int cell = 0; cell < HP_CELL_COUNT; cell++) {
        paper p;
        paper_make(&p);
        bool bare = cell == HP_CELL_LEAD;
        p.vehicle.pack.cell = (hp_cell)cell;
        p.drive.controller.undervoltage_v = 29.0;
        check_line(&p, HP_FIT_CUT_OFF, HP_FIT_LOOK, bare ? HP_CUT_OFF_LOW_BARE : HP_CUT_OFF_LOW,
                   "below the empty battery");
        p.drive.controller.undervoltage_v = 0.0;
        check_line(&p, HP_FIT_CUT_OFF, HP_FIT_LOOK, bare ? HP_CUT_OFF_NONE_BARE : HP_CUT_OFF_NONE,
                   "no cut-out");
        char text[600];
        hp_fit_advice_text(&p.fit, &p.fit.line[HP_FIT_CUT_OFF], NULL, NULL, text, sizeof text);
        check_text_contains(text, bare ? "a lead battery has no protection of its own"
                                       : "the battery's own protection ends the ride");
        check_text_contains(hp_fit_battery_caution((hp_cell)cell, text, sizeof text),
                            bare ? "gas that explodes" : "Never bypass the protection");
    }
}

/* 7 m/s, and 6 km/h is a brisk walk. */
static void a_machine_that_outruns_who_walks_with_it_is_named(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.vehicle.ridden = false;
    check_line(&p, HP_FIT_LEVEL, HP_FIT_LOOK, HP_ROAD_RUNS_AWAY, "nobody rides it");
    p.fit.level[HP_FIT_CHARGE_FULL].speed = 6.05 / 3.6;
    check_line(&p, HP_FIT_LEVEL, HP_FIT_LOOK, HP_ROAD_RUNS_AWAY, "just quicker than a walk");
    p.fit.level[HP_FIT_CHARGE_FULL].speed = 5.95 / 3.6;
    check_line(&p, HP_FIT_LEVEL, HP_FIT_OK, 0, "a walk");
    paper_make(&p);
    p.vehicle.ridden = false;
    p.fit.level[HP_FIT_CHARGE_FULL].meets = false;
    check_line(&p, HP_FIT_LEVEL, HP_FIT_STOP, HP_ROAD_NOT, "it does not move");
}

static void a_machine_that_does_not_climb_is_stopped(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.fit.hill[HP_FIT_CHARGE_EMPTY].meets = false;
    check_line(&p, HP_FIT_HILL, HP_FIT_LOOK, HP_ROAD_NOT_EMPTY, "not when empty");
    p.fit.hill[HP_FIT_CHARGE_FULL].meets = p.fit.hill[HP_FIT_CHARGE_MIDDLE].meets = false;
    check_line(&p, HP_FIT_HILL, HP_FIT_STOP, HP_ROAD_NOT, "never");
    check_int(p.fit.line[HP_FIT_HILL].figure[0].what, HP_FIT_STEEPEST); /* and no speed of 0 */
    check_line(&p, HP_FIT_HILL_HEAT, HP_FIT_STOP, HP_HEAT_STUCK, "never");
    p.fit.level[HP_FIT_CHARGE_FULL].meets = false;
    check_line(&p, HP_FIT_LEVEL, HP_FIT_STOP, HP_ROAD_NOT, "not even on the level");
    p.fit.level[HP_FIT_CHARGE_MIDDLE].meets = false;
    check_line(&p, HP_FIT_RANGE, HP_FIT_STOP, HP_RANGE_SHORT, "nowhere to go");
    p.fit.course.stuck = 2;
    check_line(&p, HP_FIT_RIDE_HEAT, HP_FIT_STOP, HP_HEAT_STUCK, "stretch 2");
    paper_make(&p);
    p.fit.cruises = false;
    check_line(&p, HP_FIT_RANGE, HP_FIT_LOOK, HP_RANGE_NO_CRUISE, "too slow");
    paper_make(&p);
    p.drive.controller.stall_cutout_s = 0.0;
    p.fit.stalled_phase_a = 400.0;
    check_line(&p, HP_FIT_STALL_HEAT, HP_FIT_STOP, HP_STALL_BURNS, "hot at once");
}

/* The bounds are one and a half times, and half of, what the slots bear. */
static void an_axle_is_judged_by_its_pressure_unless_an_arm_holds_it(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    const double bound[] = {0.5, 1.5};
    const hp_fit_state below[] = {HP_FIT_OK, HP_FIT_LOOK}, above[] = {HP_FIT_LOOK, HP_FIT_STOP};
    for (int k = 0; k < 2; k++) {
        double torque = hp_axle_torque_at(&p.vehicle.axle, bound[k] * 235.0);
        p.fit.torque_most_nm = 0.999 * torque;
        check_int(reckon(&p, HP_FIT_AXLE)->state, below[k]);
        p.fit.torque_most_nm = 1.001 * torque;
        check_int(reckon(&p, HP_FIT_AXLE)->state, above[k]);
    }
    p.vehicle.axle.torque_arm = true;
    check_line(&p, HP_FIT_AXLE, HP_FIT_OK, HP_AXLE_ARM, "an arm");
    p.vehicle.axle.engaged_mm = 0.0;
    check_line(&p, HP_FIT_AXLE, HP_FIT_OK, HP_AXLE_ARM, "an arm, and nothing measured");
}

static void a_hub_turned_round_needs_a_reverse_wiring(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.vehicle.mounted = HP_MOUNTED_OTHER_WAY;
    check_line(&p, HP_FIT_MOUNTING, HP_FIT_LOOK, HP_MOUNT_SWAP, "exchange");
    p.fit.reverse = 0;
    check_line(&p, HP_FIT_MOUNTING, HP_FIT_STOP, HP_MOUNT_NO_REVERSE, "none");
    p.fit.reverse = 8;
    p.drive.stand.clutch = true;
    check_line(&p, HP_FIT_MOUNTING, HP_FIT_STOP, HP_MOUNT_CLUTCH, "a clutch");
}

/* The default motor has 2 ke = 1.6 V s/rad or so: at 42 V and two diodes it pushes from some 50
 * km/h of a wheel of 3 m. */
static void a_hill_that_outruns_the_battery_charges_it(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_OK, 0, "gentle");
    p.vehicle.hill = 0.12;
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_LOOK, HP_DOWN_CHARGES, "steep");
    const hp_fit_line *line = &p.fit.line[HP_FIT_DOWNHILL];
    check_int(line->figure[0].what, HP_FIT_COASTING);
    check_true(line->figure[0].value > line->figure[1].value, "rolls faster than it charges");
    check_int(line->figure[2].what, HP_FIT_CHARGE_A);
    double amperes = line->figure[2].value;
    /* The pair's peak voltage at that speed, less the battery's and two diodes', over all that it
     * flows through. */
    double rotor = line->figure[0].value / p.vehicle.wheel_m * HP_TWO_PI;
    double pushed = 2.0 * p.drive.motor.ke * rotor - 42.0 - 2.0 * p.drive.controller.diode_drop_v;
    check_relative(amperes, pushed / (2.0 * p.drive.motor.resistance_ohm + 0.08), 1e-9,
                   "Ohm's law");
    check_relative(line->figure[3].value, 42.0 + 0.08 * amperes, 1e-12, "Ohm's law");
    p.vehicle.pack.charge_a = 0.9 * amperes;
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_STOP, HP_DOWN_OVER, "the battery takes less");
    p.vehicle.pack.charge_a = 1.1 * amperes;
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_LOOK, HP_DOWN_CHARGES, "the battery takes it");
    p.vehicle.ratings.controller_most_v = 42.0 + 0.07 * amperes;
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_STOP, HP_DOWN_OVER, "the controller takes less");
    paper_make(&p);
    p.vehicle.hill = 0.12;
    p.drive.stand.clutch = true;
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_OK, HP_DOWN_FREE, "a clutch runs free");
}

/* Pulled on the level, a lever of such a controller charges as on a hill. */
static void a_motor_that_brakes_charges_the_battery_at_any_lever(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.vehicle.hill = 0.0;
    p.drive.controller.battery_limit_a = 25.0;
    p.vehicle.pack.charge_a = 5.0;
    check_line(&p, HP_FIT_MOTOR_BRAKING, HP_FIT_OK, 0, "it does not brake");
    p.vehicle.ratings.regenerates = true;
    check_line(&p, HP_FIT_MOTOR_BRAKING, HP_FIT_STOP, HP_BRAKING_OVER, "25 A into 5 A");
    check_line(&p, HP_FIT_DOWNHILL, HP_FIT_OK, 0, "of a wheel that rolls nothing is wrong");
    const hp_fit_line *line = &p.fit.line[HP_FIT_MOTOR_BRAKING];
    check_int(line->figure[0].what, HP_FIT_CHARGE_A);
    check_relative(line->figure[0].value, 25.0, 1e-12, "the controller's limit");
    p.vehicle.pack.charge_a = 26.0;
    check_line(&p, HP_FIT_MOTOR_BRAKING, HP_FIT_LOOK, HP_BRAKING_FULL, "it takes 26 A");
    p.vehicle.ratings.controller_most_v = 42.0 + 0.07 * 25.0; /* 0.08 ohm lift it above that */
    check_line(&p, HP_FIT_MOTOR_BRAKING, HP_FIT_STOP, HP_BRAKING_OVER, "the controller takes less");
    p.drive.stand.clutch = true;
    check_line(&p, HP_FIT_MOTOR_BRAKING, HP_FIT_OK, HP_BRAKING_FREE, "a clutch runs free");
}

static void what_only_a_ride_or_a_lever_meets_stops_no_lifted_wheel(void **state)
{
    (void)state;
    static const hp_fit_rule_id road[] = {HP_FIT_LEVEL,        HP_FIT_HILL,      HP_FIT_RANGE,
                                          HP_FIT_RIDE_HEAT,    HP_FIT_HILL_HEAT, HP_FIT_DOWNHILL,
                                          HP_FIT_MOTOR_BRAKING};
    int count = 0;
    for (size_t k = 0; k < sizeof road / sizeof road[0]; k++)
        check_true(hp_fit_rule_of(road[k])->road, "rule %d", (int)road[k]);
    for (int k = 0; k < HP_FIT_RULE_COUNT; k++)
        count += hp_fit_rule_of((hp_fit_rule_id)k)->road;
    check_int(count, (int)(sizeof road / sizeof road[0]));
}

/* Nothing leaves the winding: two thirds of the copper take what two phases make, and more as they
 * warm: t = C ln(1 + a dT) / (a P) (textbook). */
static void a_stall_without_cooling_is_a_logarithm(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.vehicle.heat.copper_hub_k_w = 1000.0;
    p.vehicle.heat.air_c = 20.0;
    const hp_fit_line *line = reckon(&p, HP_FIT_STALL_HEAT);
    double a = p.drive.motor.copper_per_k, watts = 2.0 * 40.0 * 40.0 * p.drive.motor.resistance_ohm;
    double capacity = 2.0 / 3.0 * p.vehicle.heat.copper_j_per_k;
    check_int(line->figure[1].what, HP_FIT_STALL_S);
    check_relative(line->figure[1].value, capacity * log(1.0 + a * 80.0) / (a * watts), 2e-3,
                   "1000 K/W still let a thousandth pass");
}

/* Of two findings as grave the first is told. */
static void the_first_of_equal_findings_is_told(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    p.vehicle.fuse.rated_v = 30.0;
    p.vehicle.fuse.breaking_a = 100.0;
    check_line(&p, HP_FIT_FUSE_BREAKING, HP_FIT_STOP, HP_BREAKING_VOLTS, "both");
}

/* Figures are those of the rule: spot checks by hand. */
static void figures_come_out_as_by_hand(void **state)
{
    (void)state;
    paper p;
    paper_make(&p);
    const hp_fit_line *line = reckon(&p, HP_FIT_RANGE);
    /* 12 Ah x 0.9 over 6 A: 1.8 h at 7 m/s. */
    check_relative(line->figure[0].value, 1.8 * 3600.0 * 7.0, 1e-12, "rounding");
    check_relative(line->figure[0].low, line->figure[0].value / 1.15, 1e-12, "the band");
    check_int(line->figure[3].what, HP_FIT_WH_PER_KM);
    check_relative(line->figure[3].value / 3.6, 37.0 * 3.0 / (20.0 / 3.6) / 3.6, 1e-12,
                   "37 V, 3 A");
    line = &p.fit.line[HP_FIT_PHASE_CURRENT];
    check_int(line->figure[2].what, HP_FIT_OVER_DUTY_A);
    check_relative(line->figure[2].value, 15.0 / 0.9, 1e-12, "battery over duty");
    line = &p.fit.line[HP_FIT_FUSE_BREAKING];
    check_relative(line->figure[0].value, 42.0 / 0.08, 1e-12, "Ohm's law");
    line = &p.fit.line[HP_FIT_BATTERY_LEADS];
    check_int(line->figure[3].what, HP_FIT_DROP_V);
    double warm = 20.0 + line->figure[2].value;
    check_relative(line->figure[3].value,
                   2.0 * 15.0 * 0.5 / (58.0 * 2.5) * (1.0 + 0.00393 * (warm - 20.0)), 1e-12,
                   "two leads of half a metre");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_that_go_together_are_ok_on_every_line),
        cmocka_unit_test(a_battery_without_a_fuse_is_a_stop),
        cmocka_unit_test(a_fuse_too_small_is_told_without_the_leads),
        cmocka_unit_test(a_guessed_count_of_cells_is_never_ok),
        cmocka_unit_test(each_change_moves_its_line_at_its_bound),
        cmocka_unit_test(what_is_not_stated_is_named_and_not_judged),
        cmocka_unit_test(a_stated_fault_is_named_where_no_wiring_is_correct),
        cmocka_unit_test(a_speed_step_is_told_with_the_level),
        cmocka_unit_test(without_a_correct_wiring_the_road_is_unknown),
        cmocka_unit_test(a_lead_battery_is_not_left_to_a_protection),
        cmocka_unit_test(a_machine_that_outruns_who_walks_with_it_is_named),
        cmocka_unit_test(a_machine_that_does_not_climb_is_stopped),
        cmocka_unit_test(an_axle_is_judged_by_its_pressure_unless_an_arm_holds_it),
        cmocka_unit_test(a_hub_turned_round_needs_a_reverse_wiring),
        cmocka_unit_test(a_hill_that_outruns_the_battery_charges_it),
        cmocka_unit_test(a_motor_that_brakes_charges_the_battery_at_any_lever),
        cmocka_unit_test(what_only_a_ride_or_a_lever_meets_stops_no_lifted_wheel),
        cmocka_unit_test(a_stall_without_cooling_is_a_logarithm),
        cmocka_unit_test(the_first_of_equal_findings_is_told),
        cmocka_unit_test(figures_come_out_as_by_hand),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
