/* Step words: everything that the advice can say has words, in the names of the leads. */
#include "check.h"
#include "entry_kind.h"

#include "decide/advise/hypothesis.h"
#include "default_table.h"
#include "hubphase/base/text.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"
#include "report/words/card.h"

/* Longest label that a scenario may give. */
#define LONG "grün mit einem sehr langen Namen, der kaum auf den Stecker paßt"

typedef struct room {
    hp_drive drive;
    hp_labels labels;
    hp_plan_params plan;
    hp_card_context context;
} room;

static void set_labels(hp_labels *labels, const char *const name[3], const char *end)
{
    char(*side[])[HP_LABEL_SIZE] = {labels->motor_lead, labels->motor_sensor,
                                    labels->controller_output, labels->controller_input};
    for (int k = 0; k < 4; k++)
        for (int j = 0; j < 3; j++)
            snprintf(side[k][j], HP_LABEL_SIZE, "%s%s", name[j], end);
}

static void furnish(room *r)
{
    static const char *const colour[] = {"yellow", "green", "blue"};
    r->drive = hp_drive_default();
    r->labels = hp_labels_default();
    r->plan = hp_plan_params_default();
    r->plan.throttle = 0.35;
    set_labels(&r->labels, colour, "");
    r->context = (hp_card_context){.drive = &r->drive, .labels = &r->labels, .plan = &r->plan};
}

static hp_advice advice_of(hp_advice_kind kind)
{
    hp_advice advice;
    memset(&advice, 0, sizeof advice);
    advice.kind = kind;
    advice.lead = -1;
    advice.wiring = hp_wiring_from_number(14);
    advice.number = 14;
    advice.certainty = 0.83;
    advice.moved_phase = 2;
    advice.moved_sensor = 3;
    advice.trouble = 1;
    advice.proof = &hp_reading_hand_turn;
    advice.danger = kind == HP_ADVICE_DANGER ? &hp_danger_shell : NULL;
    advice.current_a = (hp_band){0.4, 0.9};
    advice.wheel_rad_s = (hp_band){7.0, 9.0};
    return advice;
}

/* Text that was cut fills its place to the last byte but few. */
static void check_line(const char *text, size_t size, const char *what)
{
    unsigned character;
    check_true(text[0] != '\0', "%s is empty", what);
    check_true(strlen(text) + 5 < size, "%s was cut: %s", what, text);
    for (const char *at = text; *at;) {
        int length = hp_text_character(at, &character);
        check_true(length > 0 && character >= 0x20, "%s holds a byte that is no text: %s", what,
                   text);
        at += length;
    }
    check_true(strstr(text, "(null)") == NULL && strstr(text, "nan") == NULL &&
                   strstr(text, "inf ") == NULL && strstr(text, "  ") == NULL,
               "%s: %s", what, text);
}

static void check_words(const hp_card *w)
{
    check_line(w->title, sizeof w->title, "title");
    check_line(w->reason, sizeof w->reason, w->title);
    check_true(w->hows > 0 && w->hows <= HP_CARD_HOWS, "%s: %d hows", w->title, w->hows);
    for (int k = 0; k < w->hows; k++)
        check_line(w->how[k], sizeof w->how[k], w->title);
    for (int k = 0; k < w->details; k++) {
        check_line(w->detail[k], sizeof w->detail[k], w->title);
        check_true(w->detail_at[k] >= (k ? w->detail_at[k - 1] : 0) && w->detail_at[k] < w->hows,
                   "%s: detail %d at %d", w->title, k, w->detail_at[k]);
    }
    check_true(w->cautions > 0, "%s has no caution", w->title);
    for (int k = 0; k < w->cautions; k++)
        check_line(w->caution[k], sizeof w->caution[k], w->title);
    check_int(w->caution_of[w->cautions - 1], HP_HAZARD_LOCAL);
    check_line(w->safe, sizeof w->safe, w->title);
    if (w->healthy[0])
        check_line(w->healthy, sizeof w->healthy, w->title);
    if (w->note[0])
        check_line(w->note, sizeof w->note, w->title);
}

static void say(const room *r, const hp_advice *advice, hp_card *words)
{
    hp_card_make(&r->context, advice, words);
    check_words(words);
}

/* Every advice that there is: each reading, each end, each danger, each trouble. */
static void say_everything(room *r)
{
    static hp_card words;
    hp_advice advice = advice_of(HP_ADVICE_READ);
    for (int kind = 0; kind < KIND_TRIAL; kind++) {
        advice.reading = kind_reading(kind);
        for (int lead = 0; lead < 3; lead++) {
            advice.lead = kind == KIND_PARK ? lead : -1;
            say(r, &advice, &words);
            check_true(words.healthy[0] && words.note[0], "%s expects or notes nothing",
                       words.title);
        }
    }
    for (int kind = HP_ADVICE_TRY; kind < HP_ADVICE_COUNT; kind++)
        for (int present = 0; present <= 36; present += 12) {
            advice = advice_of((hp_advice_kind)kind);
            advice.why = kind == HP_ADVICE_DONE ? HP_WHY_CURRENT : HP_WHY_NOTHING_LEFT;
            r->context.present = present;
            say(r, &advice, &words);
        }
    r->context.present = 0;
    for (int danger = DANGER_SENSOR_VOLTS; danger <= DANGER_CROSSED; danger++) {
        advice = advice_of(HP_ADVICE_DANGER);
        advice.danger = danger_at(danger);
        say(r, &advice, &words);
    }
    for (int trouble = 1; trouble < HP_TROUBLE_COUNT; trouble++) {
        advice = advice_of(HP_ADVICE_REPAIR);
        advice.trouble = trouble;
        advice.proof = hp_plan_proof(trouble);
        say(r, &advice, &words);
        advice.kind = HP_ADVICE_GIVE_UP;
        say(r, &advice, &words);
    }
    for (int why = HP_WHY_CURRENT; why < HP_WHY_COUNT; why++) {
        advice = advice_of(why <= HP_WHY_LIMIT ? HP_ADVICE_DONE : HP_ADVICE_PROBABLY);
        advice.why = (hp_why)why;
        say(r, &advice, &words);
    }
    advice = advice_of(HP_ADVICE_PROBABLY); /* after the controller has learnt by itself */
    advice.why = HP_WHY_LEARNT;
    advice.number = 0;
    say(r, &advice, &words);
    advice = advice_of(HP_ADVICE_TRY); /* nothing is known of the numbers */
    advice.current_a = advice.wheel_rad_s = (hp_band){0.0, 0.0};
    say(r, &advice, &words);
}

static void every_advice_has_words(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    say_everything(&r);
    r.drive.stand.clutch = true;
    r.drive.stand.gear_ratio = 4.4;
    r.plan.ammeter = r.plan.tachometer = false;
    r.plan.starts = 1;
    say_everything(&r);
    r.labels = hp_labels_default();
    say_everything(&r);
}

/* Labels of 63 bytes, of wide characters, and labels that would steer a terminal. */
static void no_label_spoils_the_words(void **state)
{
    (void)state;
    static const char *const longest[] = {"a" LONG, "b" LONG, "c" LONG};
    static const char *const wide[] = {"黄色", "緑色の線", "ブルー"};
    static const char *const bad[] = {"red\033[2J", "\xff\xfe odd", "a\nb"};
    static const char *const quotes[] = {"%s%n", "<b>&\"'", "\\"};
    const char *const *set[] = {longest, wide, bad, quotes};
    room r;
    furnish(&r);
    for (int k = 0; k < 4; k++) {
        set_labels(&r.labels, set[k], "");
        say_everything(&r);
    }
}

static void words_name_the_leads(void **state)
{
    (void)state;
    static hp_card words;
    room r;
    furnish(&r);
    hp_advice advice = advice_of(HP_ADVICE_READ);
    advice.reading = &hp_reading_park;
    advice.lead = 2;
    say(&r, &advice, &words);
    assert_string_equal(words.title, "Park the rotor on the blue phase lead");
    r.labels = hp_labels_default();
    say(&r, &advice, &words);
    assert_string_equal(words.title, "Park the rotor on phase lead W");

    /* Both ends of all six joints. Wiring 14: sensors V U W, phases U W V. */
    char joints[HP_JOINT_WORDS];
    furnish(&r);
    snprintf(r.labels.controller_output[0], HP_LABEL_SIZE, "A");
    assert_string_equal(hp_phase_joint_words(&r.labels, &advice.wiring, 0, joints, sizeof joints),
                        "yellow to output A, blue to output green, green to output blue");
    assert_string_equal(
        hp_sensor_joint_words(&r.labels, &advice.wiring, 1, joints, sizeof joints),
        "green to input yellow (moves), yellow to input green (moves), blue to input blue");
    advice = advice_of(HP_ADVICE_TRY);
    say(&r, &advice, &words);
    check_text_contains(words.how[0], "yellow to output A");
    check_text_contains(words.how[0], "yellow to input green");
}

static bool says_how(const hp_card *words, const char *what)
{
    for (int k = 0; k < words->hows; k++)
        if (strstr(words->how[k], what))
            return true;
    for (int k = 0; k < words->details; k++)
        if (strstr(words->detail[k], what))
            return true;
    return false;
}

/* Where the plug is known the card says it in words, both faces: 3 o'clock is 9 in the other. */
static void a_trial_tells_where_the_leads_sit(void **state)
{
    (void)state;
    static hp_card words;
    room r;
    furnish(&r);
    hp_plug_map plug = {.given = true, .half = HP_HALF_CONTROLLER};
    for (int k = 0; k < HP_PLUG_LEAD_COUNT; k++)
        snprintf(plug.pin[k], sizeof plug.pin[k], "%d o'clock outer", k + 1);
    hp_advice advice = advice_of(HP_ADVICE_TRY);
    say(&r, &advice, &words);
    check_true(!says_how(&words, "key mark"), "a plug that nobody noted");
    r.context.plug = &plug;
    say(&r, &advice, &words);
    check_true(
        says_how(&words, "the motor's half, key mark at the top: phase yellow 11 o'clock outer"),
        "the mirror image");
    check_true(
        says_how(&words, "into the controller's half, its mirror image: phase yellow 1 o'clock"),
        "as it was seen");
    say_everything(&r);
}

/* The two-lead trap: a rotor parked by two leads rests on a sensor's edge. */
static void parking_ties_two_leads(void **state)
{
    (void)state;
    static hp_card words;
    room r;
    furnish(&r);
    hp_advice advice = advice_of(HP_ADVICE_READ);
    advice.reading = &hp_reading_park;
    advice.lead = 0;
    say(&r, &advice, &words);
    bool said = false, why = false;
    for (int k = 0; k < words.hows; k++)
        said =
            said || strstr(words.how[k], "yellow to plus; green and blue, tied together, to minus");
    for (int k = 0; k < words.details; k++)
        why = why || strstr(words.detail[k], "edge of a sensor");
    check_true(said && why, "two leads are tied to minus: said %d, why %d", said, why);
}

/* Numbers of a healthy part follow from the scenario: 0.2 ohm, 46 changes, and back-EMF. For a
 * trapezoid with a flat of 120 degrees the peak between two leads is 2 ke w
 * (model/backemf.h). */
static void healthy_numbers_come_from_the_scenario(void **state)
{
    (void)state;
    static hp_card words;
    char expected[64];
    room r;
    furnish(&r);
    hp_advice advice = advice_of(HP_ADVICE_READ);
    advice.reading = &hp_reading_winding;
    say(&r, &advice, &words);
    check_text_contains(words.healthy, "about 0.2 ohm");
    advice.reading = &hp_reading_hand_turn;
    say(&r, &advice, &words);
    check_text_contains(words.healthy, "46 times in a turn");
    r.drive.motor.ke *= 2.0;
    advice.reading = &hp_reading_spin;
    say(&r, &advice, &words);
    snprintf(expected, sizeof expected, "%.0f V peak", 2.0 * r.drive.motor.ke * 60.0 * HP_RPM);
    check_text_contains(words.healthy, expected);
    advice.reading = &hp_reading_supply;
    r.plan.sensor_v_max = 17.0;
    say(&r, &advice, &words);
    check_text_contains(words.healthy, "above 17 V");
}

/* Forward, a one-way clutch leaves the rotor behind. */
static void a_clutch_is_turned_backward(void **state)
{
    (void)state;
    static hp_card words;
    room r;
    furnish(&r);
    r.drive.stand.clutch = true;
    hp_advice advice = advice_of(HP_ADVICE_READ);
    const hp_reading *turned[] = {&hp_reading_hand_turn, &hp_reading_spin};
    for (int k = 0; k < 2; k++) {
        advice.reading = turned[k];
        say(&r, &advice, &words);
        bool said = false;
        for (int j = 0; j < words.hows; j++)
            said = said || strstr(words.how[j], "backward");
        check_true(said, "%s: forward would leave the rotor behind", words.title);
    }
    for (int clutch = 0; clutch < 2; clutch++) {
        r.drive.stand.clutch = clutch;
        advice = advice_of(HP_ADVICE_TRY);
        say(&r, &advice, &words);
        check_int(says_how(&words, "by hand, backward: forward the clutch lets it overrun"),
                  clutch);
    }
}

/* A throttle is told by volts where they are known, else by a speed step that gives about as much,
 * else how to find them. */
static void a_throttle_is_told_by_volts_or_by_a_step(void **state)
{
    (void)state;
    static hp_card words;
    room r;
    furnish(&r);
    hp_advice advice = advice_of(HP_ADVICE_TRY);
    say(&r, &advice, &words);
    check_true(says_how(&words, "set 35 % of the way between"), "how its volts are found");
    r.plan.lowest_step = 0.4;
    say(&r, &advice, &words);
    check_true(says_how(&words, "speed switch at its lowest step, full grip: counts as 40 %"),
               "the step that gives as much");
    r.plan.lowest_step = 0.6;
    say(&r, &advice, &words);
    check_true(!says_how(&words, "lowest step"), "a step that gives far more");
    advice.signal_v = 1.9377;
    say(&r, &advice, &words);
    check_true(says_how(&words, "up to 35 % (1.94 V on its signal lead"), "the volts to set");
}

/* The final check is made at full throttle, where the hand cannot be out; it is not asked for
 * again once it was made, and not before something shows what the wiring draws. */
static void the_final_check_is_made_at_full_throttle(void **state)
{
    (void)state;
    static hp_card words;
    room r;
    furnish(&r);
    hp_advice advice = advice_of(HP_ADVICE_DONE);
    advice.why = HP_WHY_CURRENT;
    advice.full_current_a = (hp_band){0.21, 0.64};
    advice.full_most_a = 1.1;
    advice.full_wheel_rad_s = (hp_band){190.0 * HP_RPM, 250.0 * HP_RPM};
    say(&r, &advice, &words);
    check_true(says_how(&words, "throttle slowly up to full"), "full throttle");
    check_text_contains(words.healthy,
                        "0.21 to 0.64 A, wheel 190 to 250 rev/min, at full throttle (by how such "
                        "motors scatter, and what was tried here). Above 1.1 A "
                        "do not ride it; between 0.64 and 1.1 A measure again");
    check_true(!strstr(words.reason, "nobody read"), "nothing is unread");
    advice.unread = 9;
    say(&r, &advice, &words);
    check_text_contains(words.reason, "Entry 9 was a run at full throttle, but nobody read what");
    advice.full_from = HP_BANDS_MACHINE;
    say(&r, &advice, &words);
    check_text_contains(words.healthy, "(by this machine's own readings)");
    advice.checked = true;
    say(&r, &advice, &words);
    check_true(!says_how(&words, "throttle"), "it was made already");
    check_text_contains(words.title, "the final check says so");
    check_true(!strstr(words.reason, "nobody read"), "nothing is unread");
    advice = advice_of(HP_ADVICE_PROBABLY);
    advice.why = HP_WHY_WORDS_ALONE;
    say(&r, &advice, &words);
    check_true(!says_how(&words, "up to full"), "nothing shows what it draws");
    advice.why = HP_WHY_CHECK_FAILED;
    advice.full_current_a = (hp_band){0.52, 1.6};
    advice.full_most_a = 2.8;
    advice.full_wheel_rad_s = (hp_band){190.0 * HP_RPM, 250.0 * HP_RPM};
    advice.failed = (hp_failed_check){.stands = true, .battery_a = 4.8};
    advice.failed.entry[HP_CHECK_CURRENT] = 7;
    say(&r, &advice, &words);
    check_text_contains(words.title, "Do not ride wiring");
    check_text_contains(words.reason, "4.8 A in entry 7");
    check_text_contains(words.reason, "above the 2.8 A");
    check_true(says_how(&words, "throttle slowly up to full"), "checked anew at full throttle");
    check_text_contains(words.healthy, "0.52 to 1.6 A");
    /* Nobody runs a warm hub again before it was looked at; and only what speaks of it takes it
     * back. */
    check_text_contains(words.how[0], "Find out what it was first");
    check_text_contains(words.note, "whether anything grew warm");
    check_true(!says_how(&words, "insulate and seal"), "it is not done");
    /* Where nothing is read and no start is counted the note is a sentence all the same. */
    r.plan.ammeter = r.plan.tachometer = false;
    r.plan.starts = 1;
    advice = advice_of(HP_ADVICE_DONE);
    advice.why = HP_WHY_CURRENT;
    say(&r, &advice, &words);
    check_true(strncmp(words.note, "Whether", 7) == 0, "%s", words.note);
}

/* What is joined as a meter bears what its caution says that a stalled motor draws. */
static void a_hand_meter_is_named_where_it_bears_the_current(void **state)
{
    (void)state;
    static hp_card words;
    static const double throttle[] = {0.1, 0.9};
    room r;
    furnish(&r);
    r.drive.controller.phase_limit_a = r.drive.controller.battery_limit_a = 0.0;
    const hp_advice advice = advice_of(HP_ADVICE_TRY);
    for (int k = 0; k < 2; k++) {
        bool bears = k == 0;
        r.plan.throttle = throttle[k];
        check_int(hp_hand_meter_bears(&r.drive, throttle[k], NULL), bears);
        say(&r, &advice, &words);
        check_int(says_how(&words, "A power meter, a clamp or an ammeter. Put"), bears);
        check_int(says_how(&words, "A power meter or a clamp. Put"), !bears);
    }
}

/* Where the throttle works only while somebody pedals, each card that opens it says so, and none
 * takes the pedal sensor away to see whether it drives. */
static void a_throttle_that_pedals_gate_is_tried_by_two(void **state)
{
    (void)state;
    static hp_card words;
    static hp_commission list;
    room r;
    static const char two[] = "a second person turns the pedals forward";
    hp_controls_params controls = hp_controls_params_default();
    furnish(&r);
    list.given.controls = &controls;
    list.given.drive = &r.drive;
    list.given.plan = &r.plan;
    list.own.drive = r.drive;
    r.context.commission = &list;
    static const hp_reading *const driving[] = {&hp_reading_brake, &hp_reading_throttle,
                                                &hp_reading_controls};
    for (int mode = HP_PEDAL_NONE; mode <= HP_PEDAL_DRIVES; mode++) {
        bool gates = mode == HP_PEDAL_GATES;
        controls.pedal.mode = (hp_pedal_mode)mode;
        hp_advice run = advice_of(HP_ADVICE_TRY), read = advice_of(HP_ADVICE_READ);
        say(&r, &run, &words);
        check_true(says_how(&words, two) == gates, "a trial, mode %d", mode);
        check_true(says_how(&words, "throttle slowly"), "the action itself, mode %d", mode);
        for (size_t k = 0; k < sizeof driving / sizeof driving[0]; k++) {
            read.reading = driving[k];
            say(&r, &read, &words);
            check_true(says_how(&words, two) == gates, "%s, mode %d", driving[k]->name, mode);
        }
        check_true(says_how(&words, "pull both plugs and try again") == !gates, "mode %d", mode);
        /* The grip is read with the wheel at rest; with a lead off somebody pedals. */
        read.reading = &hp_reading_throttle;
        say(&r, &read, &words);
        for (int k = 0; k < words.hows; k++)
            check_true((strstr(words.how[k], two) != NULL) ==
                           (gates && strstr(words.how[k], "taken out of its plug") != NULL),
                       "mode %d, %s", mode, words.how[k]);
        read.reading = &hp_reading_coast_down;
        say(&r, &read, &words);
        check_true(says_how(&words, "stops pedalling at the same moment") == gates, "mode %d",
                   mode);
        read.reading = &hp_reading_controls;
        say(&r, &read, &words);
        check_true(says_how(&words, "Leave its plug in") == gates, "mode %d", mode);
        read.reading = &hp_reading_pedal_sensor;
        say(&r, &read, &words);
        check_true(says_how(&words, "throttle held a little open") == gates, "mode %d", mode);
        check_true(says_how(&words, "hands off the throttle") == !gates, "mode %d", mode);
        check_true(!says_how(&words, two), "the same person pedals, mode %d", mode);
    }
}

/* Runs are reckoned in one position of the speed switch, which each card names; a final check that
 * ran at another's speed sends to the switch first. The grip's volts are the scenario's, too. */
static void runs_name_the_position_of_the_switch_and_the_grips_volts(void **state)
{
    (void)state;
    static hp_card words;
    static hp_commission list;
    room r;
    hp_controls_params controls = hp_controls_params_default();
    furnish(&r);
    controls.throttle.rest_v = 1.1;
    controls.throttle.full_v = 4.3;
    list.given.controls = &controls;
    r.context.commission = &list;
    hp_advice check = advice_of(HP_ADVICE_DONE), run = advice_of(HP_ADVICE_TRY);
    check.why = HP_WHY_CURRENT;
    check.full_current_a = (hp_band){0.21, 0.64};
    check.full_wheel_rad_s = (hp_band){20.0, 25.0};
    say(&r, &run, &words);
    check_true(says_how(&words, "at rest (about 1.1 V) and full (about 4.3 V)"), "its own grip");
    check_true(!says_how(&words, "speed switch"), "there is none");
    hp_advice controls_read = advice_of(HP_ADVICE_READ);
    controls_read.reading = &hp_reading_controls;
    say(&r, &controls_read, &words);
    check_text_contains(words.healthy, "throttle signal about 1.1 V at rest and 4.3 V at full");
    check_true(says_how(&words, "about 1.1 V at rest, about 4.3 V at full grip"), "there, too");
    controls.speed = (hp_speed_params){.cap = {0.5, 0.75, 1.0}, .steps = 3, .chosen = 3};
    say(&r, &run, &words);
    check_true(says_how(&words, "35 %, speed switch in its fastest position"), "a trial");
    say(&r, &check, &words);
    check_true(says_how(&words, "up to full, speed switch in its fastest position"), "the check");
    controls.speed.chosen = 2;
    say(&r, &check, &words);
    check_true(says_how(&words, "up to full, speed switch in its second position"), "as chosen");
    controls.speed.chosen = 3;
    check.kind = HP_ADVICE_PROBABLY;
    check.why = HP_WHY_CHECK_FAILED;
    check.failed = (hp_failed_check){.stands = true, .wheel_rad_s = 11.0};
    check.failed.entry[HP_CHECK_SLOW] = 7;
    say(&r, &check, &words);
    check_text_contains(words.title, "look at the speed switch");
    check_text_contains(words.reason, "gives that speed in the first position");
    check_text_contains(words.how[0], "speed switch in its fastest position");
    run.failed = check.failed;
    run.full_wheel_rad_s = check.full_wheel_rad_s;
    say(&r, &run, &words);
    check_text_contains(words.reason, "gives that speed in its first position: look there first");
    check.failed.wheel_rad_s = 13.5;
    say(&r, &check, &words);
    check_text_contains(words.title, "runs as no correct one does");
}

/* What drags makes no wheel faster, and gentle runs make up for neither. */
static void a_failed_check_names_what_gives_its_signs(void **state)
{
    (void)state;
    static hp_card words;
    static const struct {
        hp_check_sign sign[2];
        bool drags;
        const char *said;
    } cases[] = {
        {{HP_CHECK_FAST, HP_CHECK_FAST}, false, "more volts, fewer turns or weaker magnets"},
        {{HP_CHECK_FAST, HP_CHECK_CURRENT}, false, "A lead on the wrong place does that"},
        {{HP_CHECK_CURRENT, HP_CHECK_WARM}, true, "A lead on the wrong place does that"}};
    room r;
    furnish(&r);
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_advice advice = advice_of(HP_ADVICE_PROBABLY);
        advice.why = HP_WHY_CHECK_FAILED;
        advice.full_wheel_rad_s = (hp_band){20.0, 25.0};
        advice.failed = (hp_failed_check){.stands = true, .battery_a = 4.8, .wheel_rad_s = 40.0};
        advice.failed.entry[cases[k].sign[0]] = advice.failed.entry[cases[k].sign[1]] = 7;
        say(&r, &advice, &words);
        check_text_contains(words.reason, cases[k].said);
        check_text_contains(words.reason, "No gentle run makes up for that");
        check_true((strstr(words.reason, "or something that drags") != NULL) == cases[k].drags,
                   "%s", words.reason);
        check_true((strstr(words.how[0], "turn freely by hand") != NULL) == cases[k].drags, "%s",
                   words.how[0]);
    }
}

/* Where nothing but the hand tells, nothing is sealed before it was asked, and a controller that
 * learnt is asked for no reading that is not reckoned with. */
static void what_is_to_be_felt_is_sealed_by_nobody(void **state)
{
    (void)state;
    static hp_card words;
    static const hp_why why[] = {HP_WHY_UNMETERED, HP_WHY_LEARNT};
    room r;
    furnish(&r);
    r.plan.ammeter = r.plan.tachometer = false;
    for (int k = 0; k < 2; k++) {
        hp_advice advice = advice_of(HP_ADVICE_PROBABLY);
        advice.why = why[k];
        say(&r, &advice, &words);
        check_text_contains(words.title, "run it for half a minute, and feel it");
        check_true(says_how(&words, "seal nothing yet"), "sealed");
        check_true(!says_how(&words, "insulate and seal"), "sealed all the same");
        check_text_contains(words.healthy, "stay cool");
    }
    r.plan.ammeter = true;
    hp_advice done = advice_of(HP_ADVICE_DONE);
    done.why = HP_WHY_CURRENT;
    done.full_current_a = (hp_band){0.52, 1.6};
    done.full_wheel_rad_s = (hp_band){20.0, 25.0};
    say(&r, &done, &words);
    check_true(says_how(&words, "Was it as below? Battery off, insulate and seal"), "%s: %s",
               words.healthy, words.how[words.hows - 1]);
}

/* No certainty is said that is none: 100 % is said of a sure thing alone. */
static void nearly_sure_is_not_sure(void **state)
{
    (void)state;
    static hp_card words;
    static const struct {
        double certainty;
        const char *said;
    } cases[] = {{0.834, "83 %"},     {0.99, "99 %"},        {0.9949, "99.4 %"},
                 {0.99999, "99.9 %"}, {0.9999999, "99.9 %"}, {1.0, "100 %"}};
    room r;
    furnish(&r);
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        hp_advice advice = advice_of(HP_ADVICE_TRY);
        advice.certainty = cases[k].certainty;
        say(&r, &advice, &words);
        check_text_contains(words.reason, cases[k].said);
        check_int(strstr(words.reason, "100 %") != NULL, cases[k].certainty == 1.0);
    }
}

/* ---- showings -------------------------------------------------------------------------------- */

typedef struct bench {
    room room;
    hp_likelihood table;
    hp_person person;
    hp_prior_params prior;
    hp_belief belief;
    hp_planner *planner;
} bench;

static void open_bench(bench *b)
{
    hp_error err = hp_error_none();
    furnish(&b->room);
    b->table = default_table();
    b->person = hp_person_default();
    b->prior = hp_prior_default();
    b->planner = hp_planner_create(&b->table, &b->person, &b->room.plan, &err);
    check_true(b->planner != NULL, "%s", err.text);
    check_true(hp_belief_create(&b->table, &b->person, &b->prior, &b->belief, &err) == HP_OK, "%s",
               err.text);
}

static void close_bench(bench *b)
{
    hp_planner_free(b->planner);
    hp_belief_free(&b->belief);
    hp_likelihood_free(&b->table);
}

/* Each has a label and a sentence, and no two of one step the same label. */
static void check_showings(bench *b, const hp_advice *advice)
{
    static hp_showing showing[HP_SHOWING_MAX];
    static hp_showing_words words[HP_SHOWING_MAX];
    char entry[HP_ENTRY_WORDS];
    int count = hp_plan_showings(b->planner, &b->belief, advice, 1e-9, showing);
    check_true(count > 0, "advice %d, %s shows nothing", (int)advice->kind,
               advice->reading ? advice->reading->name : "none");
    for (int k = 0; k < count; k++) {
        hp_showing_words_make(&b->room.context, advice, &showing[k].entry, &words[k]);
        check_line(words[k].label, sizeof words[k].label, "label");
        check_line(words[k].sentence, sizeof words[k].sentence, words[k].label);
        check_line(hp_entry_words(&b->room.context, &showing[k].entry, entry, sizeof entry),
                   sizeof entry, "entry");
        for (int j = 0; j < k; j++)
            check_true(strcmp(words[j].label, words[k].label) != 0,
                       "advice %d, %s: two showings are called \"%s\"", (int)advice->kind,
                       advice->reading ? advice->reading->name : "none", words[k].label);
    }
}

static void every_showing_has_its_own_label(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_advice advice = advice_of(HP_ADVICE_READ);
    for (int kind = 0; kind < KIND_TRIAL; kind++)
        for (int lead = 0; lead < 3; lead++) {
            advice.reading = kind_reading(kind);
            advice.lead = kind == KIND_PARK ? lead : -1;
            check_showings(&b, &advice);
        }
    const hp_advice_kind tries[] = {HP_ADVICE_TRY, HP_ADVICE_LOOK, HP_ADVICE_LEARN};
    for (int k = 0; k < 3; k++) {
        advice = advice_of(tries[k]);
        check_showings(&b, &advice);
    }
    close_bench(&b);
}

/* Labels tell apart what the plan tells apart, without meters too. */
static void showings_say_what_meters_say(void **state)
{
    (void)state;
    bench b;
    open_bench(&b);
    hp_showing_words words;
    hp_advice advice = advice_of(HP_ADVICE_TRY);
    hp_entry e = hp_entry_make(&hp_reading_trial, 0);
    e.trial.motion = HP_MOVED_FORWARD;
    e.trial.feel = HP_FEEL_SMOOTH;
    e.trial.starts = e.trial.starts_tried = 6;
    hp_showing_words_make(&b.room.context, &advice, &e, &words);
    assert_string_equal(words.label, "forward, smooth");
    e.trial.battery_a = 0.6; /* geometric mean of the band 0.4 to 0.9 A */
    hp_showing_words_make(&b.room.context, &advice, &e, &words);
    assert_string_equal(words.label, "forward, smooth, small current");
    check_text_contains(words.sentence, "less than about 1.8 A");
    e.trial.battery_a = 6.0;
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.wheel_rad_s = 11.0;
    e.trial.starts = 3;
    hp_showing_words_make(&b.room.context, &advice, &e, &words);
    assert_string_equal(words.label,
                        "forward, rough, fast, large current, from some start positions only");
    e.trial.motion = HP_MOVED_STILL;
    e.trial.feel = HP_FEEL_UNSAID;
    e.trial.battery_a = e.trial.wheel_rad_s = NAN;
    e.trial.starts = 0;
    hp_showing_words_make(&b.room.context, &advice, &e, &words);
    assert_string_equal(words.label, "does not move");
    close_bench(&b);
}

static void entries_are_said_as_they_were_read(void **state)
{
    (void)state;
    room r;
    furnish(&r);
    char text[HP_ENTRY_WORDS];
    hp_entry e = hp_entry_make(&hp_reading_winding, 1);
    e.winding.ohm[0] = 0.213;
    e.winding.ohm[1] = INFINITY;
    e.winding.leads_ohm = 0.04;
    assert_string_equal(hp_entry_words(&r.context, &e, text, sizeof text),
                        "winding: green and blue 0.213 ohm, blue and yellow open (tips 0.04 ohm)");
    e = hp_entry_make(&hp_reading_hand_turn, 2);
    e.hand_turn.count = 3;
    e.hand_turn.code[0] = e.hand_turn.code[2] = 4;
    e.hand_turn.code[1] = 6;
    e.hand_turn.backward = true;
    e.hand_turn.edges = 46;
    assert_string_equal(hp_entry_words(&r.context, &e, text, sizeof text),
                        "hand turn backward: 100 110 100; 46 changes a turn of the wheel");
    e = hp_entry_make(&hp_reading_trial, 3);
    e.trial.wiring = hp_wiring_from_number(14);
    e.trial.throttle = 0.35;
    e.trial.motion = HP_MOVED_BACKWARD;
    e.trial.feel = HP_FEEL_ROUGH;
    e.trial.battery_a = 4.21;
    e.trial.warm = HP_TELL_YES;
    assert_string_equal(hp_entry_words(&r.context, &e, text, sizeof text),
                        "wiring 14 at 35 %: backward, rough, 4.21 A, grew warm");
    e = hp_entry_make(&hp_reading_mend, 4);
    e.mend.fault = (hp_fault){HP_FAULT_LEAD_OPEN, 1};
    assert_string_equal(hp_entry_words(&r.context, &e, text, sizeof text),
                        "mended: the green phase lead");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_advice_has_words),
        cmocka_unit_test(no_label_spoils_the_words),
        cmocka_unit_test(words_name_the_leads),
        cmocka_unit_test(a_trial_tells_where_the_leads_sit),
        cmocka_unit_test(parking_ties_two_leads),
        cmocka_unit_test(healthy_numbers_come_from_the_scenario),
        cmocka_unit_test(a_clutch_is_turned_backward),
        cmocka_unit_test(a_throttle_is_told_by_volts_or_by_a_step),
        cmocka_unit_test(the_final_check_is_made_at_full_throttle),
        cmocka_unit_test(a_hand_meter_is_named_where_it_bears_the_current),
        cmocka_unit_test(a_throttle_that_pedals_gate_is_tried_by_two),
        cmocka_unit_test(runs_name_the_position_of_the_switch_and_the_grips_volts),
        cmocka_unit_test(a_failed_check_names_what_gives_its_signs),
        cmocka_unit_test(what_is_to_be_felt_is_sealed_by_nobody),
        cmocka_unit_test(nearly_sure_is_not_sure),
        cmocka_unit_test(every_showing_has_its_own_label),
        cmocka_unit_test(showings_say_what_meters_say),
        cmocka_unit_test(entries_are_said_as_they_were_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
