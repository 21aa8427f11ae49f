/*
 * Cautions stand where the hands are: each hazard of a bench belongs to what is done, and every
 * card that does it has the caution, at the how-to that does it first.
 *
 * Which hazards a card must have is listed here by hand, from the work itself and not from the
 * program's own table.
 */
#include "entry_kind.h"

#include "hubphase/decide/assumptions.h"
#include "report/words/words.h"
#include "runs.h"

#include <stdlib.h>

#define HAZARDS_MOST 16

typedef struct room {
    hp_drive drive;
    hp_labels labels;
    hp_plan_params plan;
    hp_card_context context;
} room;

static void furnish(room *r)
{
    r->drive = hp_drive_default();
    r->labels = hp_labels_default();
    r->plan = hp_plan_params_default();
    r->plan.throttle = 0.35;
    r->context = (hp_card_context){.drive = &r->drive, .labels = &r->labels, .plan = &r->plan};
}

typedef struct wanted {
    const char *what;
    hp_advice_kind kind;
    const hp_reading *reading;
    hp_safe safety;
    hp_hazard hazard[HAZARDS_MOST]; /* ended by HP_HAZARD_COUNT */
} wanted;

/* All that a powered try has. */
#define POWERED                                                                                    \
    HP_HAZARD_AXLE, HP_HAZARD_WHEEL, HP_HAZARD_LIFTED, HP_HAZARD_THROTTLE, HP_HAZARD_AMMETER,      \
        HP_HAZARD_LITHIUM, HP_HAZARD_FIRST_POWER, HP_HAZARD_INRUSH, HP_HAZARD_CUT_OFF,             \
        HP_HAZARD_STALLED, HP_HAZARD_PUSHED, HP_HAZARD_PUMPED

/* Pins of a control: dead first, then live. */
#define PINS                                                                                       \
    HP_HAZARD_OHMS, HP_HAZARD_AXLE, HP_HAZARD_WHEEL, HP_HAZARD_LIFTED, HP_HAZARD_THROTTLE,         \
        HP_HAZARD_HALL_VOLTS, HP_HAZARD_LITHIUM, HP_HAZARD_FIRST_POWER, HP_HAZARD_INRUSH,          \
        HP_HAZARD_CUT_OFF, HP_HAZARD_LIVE_BOARD

static const wanted cards[] = {
    {"pins", HP_ADVICE_READ, &hp_reading_pins, HP_SAFE_APART, {HP_HAZARD_OHMS, HP_HAZARD_COUNT}},
    {"supply",
     HP_ADVICE_READ,
     &hp_reading_supply,
     HP_SAFE_DEAD,
     {HP_HAZARD_LIVE_BOARD, HP_HAZARD_HALL_VOLTS, HP_HAZARD_INRUSH, HP_HAZARD_LITHIUM,
      HP_HAZARD_CUT_OFF, HP_HAZARD_COUNT}},
    {"hand turn",
     HP_ADVICE_READ,
     &hp_reading_hand_turn,
     HP_SAFE_APART,
     {HP_HAZARD_HALL_VOLTS, HP_HAZARD_GENERATOR, HP_HAZARD_LIFTED, HP_HAZARD_COUNT}},
    {"winding",
     HP_ADVICE_READ,
     &hp_reading_winding,
     HP_SAFE_APART,
     {HP_HAZARD_WINDING, HP_HAZARD_OHMS, HP_HAZARD_COUNT}},
    {"spin",
     HP_ADVICE_READ,
     &hp_reading_spin,
     HP_SAFE_APART,
     {HP_HAZARD_GENERATOR, HP_HAZARD_LIFTED, HP_HAZARD_COUNT}},
    {"park",
     HP_ADVICE_READ,
     &hp_reading_park,
     HP_SAFE_APART,
     {HP_HAZARD_WINDING, HP_HAZARD_HALL_VOLTS, HP_HAZARD_COUNT}},
    {"probe",
     HP_ADVICE_READ,
     &hp_reading_probe,
     HP_SAFE_APART,
     {HP_HAZARD_LIVE_BOARD, HP_HAZARD_INPUTS, HP_HAZARD_HALL_VOLTS, HP_HAZARD_COUNT}},
    {"drag", HP_ADVICE_READ, &hp_reading_drag, HP_SAFE_DEAD, {POWERED, HP_HAZARD_COUNT}},
    {"contacts",
     HP_ADVICE_READ,
     &hp_reading_contacts,
     HP_SAFE_DEAD,
     {HP_HAZARD_AXLE, HP_HAZARD_WHEEL, HP_HAZARD_LIFTED, HP_HAZARD_THROTTLE, HP_HAZARD_LITHIUM,
      HP_HAZARD_FIRST_POWER, HP_HAZARD_INRUSH, HP_HAZARD_CUT_OFF, HP_HAZARD_STALLED,
      HP_HAZARD_COUNT}},
    {"contacts, nothing joined",
     HP_ADVICE_READ,
     &hp_reading_contacts,
     HP_SAFE_DEAD,
     {HP_HAZARD_COUNT}},
    {"hall plug",
     HP_ADVICE_READ,
     &hp_reading_hall_plug,
     HP_SAFE_DEAD,
     {HP_HAZARD_AXLE, HP_HAZARD_WHEEL, HP_HAZARD_LIFTED, HP_HAZARD_THROTTLE, HP_HAZARD_LITHIUM,
      HP_HAZARD_FIRST_POWER, HP_HAZARD_INRUSH, HP_HAZARD_CUT_OFF, HP_HAZARD_STALLED,
      HP_HAZARD_COUNT}},
    {"controls",
     HP_ADVICE_READ,
     &hp_reading_controls,
     HP_SAFE_DEAD,
     {HP_HAZARD_LIVE_BOARD, HP_HAZARD_LITHIUM, HP_HAZARD_INRUSH, HP_HAZARD_CUT_OFF,
      HP_HAZARD_THROTTLE, HP_HAZARD_LIFTED, HP_HAZARD_AXLE, HP_HAZARD_COUNT}},
    {"try", HP_ADVICE_TRY, NULL, HP_SAFE_DEAD, {POWERED, HP_HAZARD_COUNT}},
    {"look", HP_ADVICE_LOOK, NULL, HP_SAFE_HANDS_OFF, {POWERED, HP_HAZARD_COUNT}},
    {"done", HP_ADVICE_DONE, NULL, HP_SAFE_DEAD, {POWERED, HP_HAZARD_COUNT}},
    {"probably", HP_ADVICE_PROBABLY, NULL, HP_SAFE_DEAD, {POWERED, HP_HAZARD_COUNT}},
    {"a trial of one's own",
     HP_ADVICE_READ,
     &hp_reading_trial,
     HP_SAFE_DEAD,
     {POWERED, HP_HAZARD_COUNT}},
    {"mend",
     HP_ADVICE_READ,
     &hp_reading_mend,
     HP_SAFE_DEAD,
     {HP_HAZARD_OHMS, HP_HAZARD_MAGNETS, HP_HAZARD_COUNT}},
    {"idle draw",
     HP_ADVICE_READ,
     &hp_reading_idle_draw,
     HP_SAFE_DEAD,
     {HP_HAZARD_LIFTED, HP_HAZARD_AMMETER, HP_HAZARD_LITHIUM, HP_HAZARD_INRUSH, HP_HAZARD_CUT_OFF,
      HP_HAZARD_COUNT}},
    {"left out", HP_ADVICE_READ, &hp_reading_left_out, HP_SAFE_DEAD, {HP_HAZARD_COUNT}},
    {"coast-down",
     HP_ADVICE_READ,
     &hp_reading_coast_down,
     HP_SAFE_DEAD,
     /* Not HP_HAZARD_PUMPED: it is done on a battery, and "throttle off slowly" would spoil it. */
     {HP_HAZARD_LIFTED, HP_HAZARD_AXLE, HP_HAZARD_STALLED, HP_HAZARD_LITHIUM, HP_HAZARD_COUNT}},
    {"no-load run",
     HP_ADVICE_READ,
     &hp_reading_no_load,
     HP_SAFE_DEAD,
     {HP_HAZARD_LIFTED, HP_HAZARD_AXLE, HP_HAZARD_AMMETER, HP_HAZARD_LITHIUM, HP_HAZARD_STALLED,
      HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"volts under load",
     HP_ADVICE_READ,
     &hp_reading_sag,
     HP_SAFE_DEAD,
     {HP_HAZARD_LIFTED, HP_HAZARD_LIVE_BOARD, HP_HAZARD_AMMETER, HP_HAZARD_LITHIUM,
      HP_HAZARD_STALLED, HP_HAZARD_COUNT}},
    {"heating",
     HP_ADVICE_READ,
     &hp_reading_heating,
     HP_SAFE_APART,
     {HP_HAZARD_HEATING, HP_HAZARD_COUNT}},
    {"hub",
     HP_ADVICE_READ,
     &hp_reading_hub,
     HP_SAFE_APART,
     {HP_HAZARD_GENERATOR, HP_HAZARD_LIFTED, HP_HAZARD_MAGNETS, HP_HAZARD_COUNT}},
    {"key",
     HP_ADVICE_READ,
     &hp_reading_key,
     HP_SAFE_DEAD,
     {PINS, HP_HAZARD_STALLED, HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"throttle",
     HP_ADVICE_READ,
     &hp_reading_throttle,
     HP_SAFE_DEAD,
     {PINS, HP_HAZARD_SELF_START, HP_HAZARD_STALLED, HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"brake",
     HP_ADVICE_READ,
     &hp_reading_brake,
     HP_SAFE_DEAD,
     {PINS, HP_HAZARD_STALLED, HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"pedal sensor",
     HP_ADVICE_READ,
     &hp_reading_pedal_sensor,
     HP_SAFE_DEAD,
     {PINS, HP_HAZARD_SELF_START, HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"speed switch",
     HP_ADVICE_READ,
     &hp_reading_speed_switch,
     HP_SAFE_DEAD,
     {PINS, HP_HAZARD_STALLED, HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"lamp or display", HP_ADVICE_READ, &hp_reading_display, HP_SAFE_DEAD, {PINS, HP_HAZARD_COUNT}},
    {"learn lead", HP_ADVICE_READ, &hp_reading_learn_lead, HP_SAFE_DEAD, {HP_HAZARD_COUNT}},
    {"shared pack",
     HP_ADVICE_READ,
     &hp_reading_shared_pack,
     HP_SAFE_HANDS_OFF,
     {HP_HAZARD_LITHIUM, HP_HAZARD_CUT_OFF, HP_HAZARD_COUNT}},
    {"learn",
     HP_ADVICE_LEARN,
     NULL,
     HP_SAFE_DEAD,
     {HP_HAZARD_SELF_START, HP_HAZARD_AXLE, HP_HAZARD_WHEEL, HP_HAZARD_LIFTED, HP_HAZARD_THROTTLE,
      HP_HAZARD_LITHIUM, HP_HAZARD_FIRST_POWER, HP_HAZARD_INRUSH, HP_HAZARD_CUT_OFF,
      HP_HAZARD_STALLED, HP_HAZARD_PUSHED, HP_HAZARD_PUMPED, HP_HAZARD_COUNT}},
    {"repair", HP_ADVICE_REPAIR, NULL, HP_SAFE_DEAD, {HP_HAZARD_MAGNETS, HP_HAZARD_COUNT}},
    {"danger", HP_ADVICE_DANGER, NULL, HP_SAFE_DEAD, {HP_HAZARD_MAGNETS, HP_HAZARD_COUNT}},
    {"give up", HP_ADVICE_GIVE_UP, NULL, HP_SAFE_DEAD, {HP_HAZARD_COUNT}},
};
#define CARDS (int)(sizeof cards / sizeof cards[0])

static void make(const room *r, const wanted *w, hp_card *card)
{
    hp_advice advice;
    memset(&advice, 0, sizeof advice);
    advice.kind = w->kind;
    advice.reading = w->reading;
    advice.lead = w->reading == &hp_reading_park ? 0 : -1;
    advice.wiring = hp_wiring_from_number(14);
    advice.number = 14;
    advice.certainty = 0.8;
    advice.trouble = 1; /* a stuck sensor: it means opening the hub */
    advice.proof = &hp_reading_hand_turn;
    advice.danger = w->kind == HP_ADVICE_DANGER ? &hp_danger_shell : NULL;
    hp_card_context context = r->context;
    /* Where there is something to take care of, a wiring is joined. */
    context.present = w->hazard[0] == HP_HAZARD_COUNT ? 0 : 14;
    hp_card_make(&context, &advice, card);
}

/* So that no new kind goes unlisted here. */
static void every_kind_that_is_read_is_listed(void **state)
{
    (void)state;
    for (int kind = 0; hp_words_list[kind]; kind++) {
        const hp_words *words = hp_words_list[kind];
        bool listed = words == &hp_words_learn; /* by its own kind of advice */
        for (int k = 0; k < CARDS; k++)
            listed = listed || cards[k].reading == words->reading;
        check_true(listed, "%s has a card that is not listed here", words->reading->name);
    }
}

static int place_of(const hp_card *card, hp_hazard hazard)
{
    for (int k = 0; k < card->cautions; k++)
        if (card->caution_of[k] == hazard)
            return k;
    return -1;
}

static void every_card_says_what_makes_it_safe_now(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    for (int k = 0; k < CARDS; k++) {
        make(&r, &cards[k], &card);
        check_true(card.safety == cards[k].safety, "%s: safety %d", cards[k].what,
                   (int)card.safety);
        assert_string_equal(card.safe, hp_safe_text(cards[k].safety, NULL));
    }
}

static void each_hazard_of_a_step_has_its_caution(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    for (int k = 0; k < CARDS; k++) {
        make(&r, &cards[k], &card);
        for (int h = 0; cards[k].hazard[h] != HP_HAZARD_COUNT; h++)
            check_true(place_of(&card, cards[k].hazard[h]) >= 0, "%s lacks: %s", cards[k].what,
                       hp_hazard_row_of(cards[k].hazard[h])->name);
        check_int(card.caution_of[card.cautions - 1], HP_HAZARD_LOCAL);
        check_int(card.caution_at[card.cautions - 1], card.hows);
    }
}

/* Another sort of battery, another danger: never the other one's caution. */
static void a_lead_battery_has_its_own_caution(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    int joined = 0;
    for (int k = 0; k < CARDS; k++) {
        r.plan.cell = HP_CELL_LIFEPO4;
        make(&r, &cards[k], &card);
        int lithium = place_of(&card, HP_HAZARD_LITHIUM);
        check_int(place_of(&card, HP_HAZARD_LEAD), -1);
        r.plan.cell = HP_CELL_LEAD;
        make(&r, &cards[k], &card);
        check_int(place_of(&card, HP_HAZARD_LITHIUM), -1);
        check_true((place_of(&card, HP_HAZARD_LEAD) >= 0) == (lithium >= 0), "%s: lead",
                   cards[k].what);
        joined += lithium >= 0;
    }
    check_true(joined > 10, "%d cards join a battery", joined);
}

/* In the order of the how-to, each once, at the first that does what it warns of. */
static void a_caution_stands_where_the_hand_is(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    for (int k = 0; k < CARDS; k++) {
        make(&r, &cards[k], &card);
        for (int c = 0; c < card.cautions; c++) {
            hp_hazard hazard = card.caution_of[c];
            check_true(c == 0 || card.caution_at[c] >= card.caution_at[c - 1], "%s: caution %d",
                       cards[k].what, c);
            check_true(hazard == HP_HAZARD_COUNT || place_of(&card, hazard) == c, "%s: %s twice",
                       cards[k].what, card.caution[c]);
            if (hazard == HP_HAZARD_COUNT || hp_hazard_row_of(hazard)->doings == 0)
                continue;
            int first = 0;
            while (!(card.doing[first] & hp_hazard_row_of(hazard)->doings))
                first++;
            check_int(card.caution_at[c], first);
        }
    }
}

/* chosen: what a line of the terminal holds behind its mark, and one word more. */
#define CAUTION_MOST 80
#define ACTIONS_MOST 5 /* what a person keeps in mind while the hands work */
#define AT_ONE_HAND  6

/* Five actions at most, cautions of a line, no heap of them at any action. */
static void a_card_is_read_at_a_glance(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    r.drive.stand.gear_ratio = 4.4;
    for (int k = 0; k < CARDS; k++) {
        int here[HP_CARD_HOWS + 1] = {0};
        make(&r, &cards[k], &card);
        check_true(card.hows <= ACTIONS_MOST, "%s: %d actions", cards[k].what, card.hows);
        check_true(strlen(card.safe) <= 3 * 66, "%s: safe now takes %d characters", cards[k].what,
                   (int)strlen(card.safe));
        for (int c = 0; c < card.cautions; c++) {
            check_true(strlen(card.caution[c]) <= CAUTION_MOST, "%s: %s", cards[k].what,
                       card.caution[c]);
            here[card.caution_at[c]]++;
        }
        for (int at = 0; at <= card.hows; at++)
            check_true(here[at] <= AT_ONE_HAND, "%s, action %d: %d cautions", cards[k].what, at + 1,
                       here[at]);
    }
}

/* Why and what else is not lost: it stands among the details of the action that has the caution. */
static void what_a_caution_leaves_out_is_a_detail(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    r.drive.stand.gear_ratio = 4.4;
    for (int k = 0; k < CARDS; k++) {
        make(&r, &cards[k], &card);
        for (int c = 0; c < card.cautions; c++) {
            if (card.caution_of[c] == HP_HAZARD_COUNT)
                continue;
            const hp_hazard_words *more = &hp_hazard_row_of(card.caution_of[c])->more;
            char text[600];
            hp_phrase p = hp_phrase_begin(text, sizeof text);
            if (more->say)
                more->say(&r.context, &p);
            else if (more->text)
                hp_phrase_add(&p, "%s", more->text);
            bool told = p.used == 0;
            for (int d = 0; d < card.details; d++)
                told = told || (card.detail_at[d] == card.caution_at[c] &&
                                strcmp(card.detail[d], text) == 0);
            check_true(told, "%s lacks: %s", cards[k].what, text);
        }
    }
}

/* What limits the first run is named as it is here: nobody obeys a caution for what is not there.
 */
static void the_first_power_is_told_as_it_can_be_had(void **state)
{
    (void)state;
    static const struct {
        hp_first_power first;
        bool limit, supply;
    } cases[] = {{HP_FIRST_POWER_ANY, true, true},
                 {HP_FIRST_POWER_BENCH_SUPPLY, true, true},
                 {HP_FIRST_POWER_LAMP, true, false},
                 {HP_FIRST_POWER_NONE, false, false}};
    for (size_t k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        room r;
        hp_card card;
        const hp_advice advice = {.kind = HP_ADVICE_TRY,
                                  .number = 1,
                                  .wiring = hp_wiring_from_number(1),
                                  .lead = -1,
                                  .limited = cases[k].limit,
                                  .limit_a = 2.0};
        bool limit = false, fuse = false, supply = false;
        furnish(&r);
        r.plan.first_power = cases[k].first;
        hp_card_make(&r.context, &advice, &card);
        for (int c = 0; c < card.cautions; c++) {
            limit = limit || strstr(card.caution[c], "First through a limit");
            fuse = fuse || strstr(card.caution[c], "A fuse close to the battery's plus");
            supply = supply || strstr(card.caution[c], "a bench supply takes none back");
        }
        check_true(limit == cases[k].limit && fuse != limit, "limit %d, fuse %d", limit, fuse);
        check_true(supply == cases[k].supply, "bench supply %d", supply);
        bool lamps = cases[k].first == HP_FIRST_POWER_LAMP;
        check_true((strstr(card.how[3], "the lamps stay bright") != NULL) == lamps, "%s",
                   card.how[3]);
        check_true((strstr(card.note, "whether they stayed bright") != NULL) == lamps, "%s",
                   card.note);
    }
}

static void every_hazard_is_met(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    r.drive.stand.gear_ratio = 4.4;
    for (int h = 0; h < HP_HAZARD_COUNT; h++) {
        bool met = false;
        for (int k = 0; k < 2 * CARDS && !met; k++) {
            r.plan.cell = k < CARDS ? HP_CELL_LI_ION : HP_CELL_LEAD;
            r.plan.regenerates = r.plan.unfused = k >= CARDS;
            make(&r, &cards[k % CARDS], &card);
            met = place_of(&card, (hp_hazard)h) >= 0;
        }
        check_true(met, "no card warns of: %s", hp_hazard_row_of((hp_hazard)h)->name);
    }
}

/* Only where it is so: no ammeter, no gears. */
static void cautions_fit_the_machine(void **state)
{
    (void)state;
    static hp_card card;
    room r;
    furnish(&r);
    const wanted trial = {"try", HP_ADVICE_TRY, NULL, HP_SAFE_DEAD, {HP_HAZARD_COUNT}};
    make(&r, &trial, &card);
    check_int(place_of(&card, HP_HAZARD_GEARS), -1);
    r.drive.stand.gear_ratio = 4.4;
    make(&r, &trial, &card);
    check_true(place_of(&card, HP_HAZARD_GEARS) >= 0, "a geared hub has no caution");
    r.plan.ammeter = false;
    make(&r, &trial, &card);
    check_int(place_of(&card, HP_HAZARD_AMMETER), -1);
    /* Nobody closes a throttle that is not there. */
    r.plan.assist = 0.6;
    check_text_contains(hp_safe_text(HP_SAFE_HANDS_OFF, &r.plan), "pedals still, power off");
    check_text_contains(hp_safe_text(HP_SAFE_HANDS_OFF, NULL), "throttle off, power off");
    r.plan.assist = 0.0;
    check_int(place_of(&card, HP_HAZARD_NO_FUSE), -1);
    r.plan.unfused = true;
    make(&r, &trial, &card);
    int fuse = place_of(&card, HP_HAZARD_NO_FUSE), first = place_of(&card, HP_HAZARD_FIRST_POWER);
    check_true(fuse >= 0 && card.caution_at[fuse] == card.caution_at[first],
               "where power is joined");
}

/* The amperes that the ammeter's caution names against the simulation's: opposed wiring 2 of the
 * default drive, held by its phase limit. A rotor that shivers makes some volts of its own, and the
 * limiter's filter overshoots: hence 10 %. */
static void the_ammeter_is_told_the_simulated_current(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    static const double throttle[] = {0.05, 0.35, 1.0};
    for (int k = 0; k < 3; k++) {
        hp_drive drive = hp_drive_default();
        hp_run_options options = run_for(1.0, 0.6);
        drive.controller.throttle = throttle[k];
        hp_figures f = run_wiring(engine, &drive, 2, &options, NULL);
        check_close(hp_drive_stalled_battery_a(&drive, throttle[k]) / f.battery_current, 1.0, 0.1,
                    "stalled, as simulated");
    }
    hp_engine_free(engine);
}

/* The jerk that the axle's caution names, in whole tens, against the simulated one of an opposed
 * wiring: never more than that, and at least half, since the limiter closes late. */
static void the_axle_is_told_no_more_than_the_simulated_jerk(void **state)
{
    (void)state;
    hp_engine *engine = make_engine();
    hp_run_options options = run_for(1.0, 0.6);
    static hp_card card;
    room r;
    furnish(&r);
    const wanted trial = {"try", HP_ADVICE_TRY, NULL, HP_SAFE_DEAD, {HP_HAZARD_COUNT}};
    r.drive.controller.throttle = 0.35;
    make(&r, &trial, &card);
    double told = 0.0;
    for (int k = 0; k < card.details; k++)
        if (strstr(card.detail[k], "N m and more"))
            told = strtod(strstr(card.detail[k], "with ") + 5, NULL);
    hp_figures f = run_wiring(engine, &r.drive, 2, &options, NULL);
    double jerk = fmax(f.torque_max, -f.torque_min);
    check_true(told > 0.5 * jerk && told <= jerk, "told %.1f N m, simulated %.1f", told, jerk);
    hp_engine_free(engine);
}

/* By hand: a winding of 0.1 ohm a phase in series with bulbs of 144 / 21 = 6.857 ohm at 12 V. */
static void bulbs_stand_in_for_a_bench_supply(void **state)
{
    (void)state;
    double amperes;
    hp_drive drive = hp_drive_default();
    drive.motor.resistance_ohm = 0.1;
    drive.motor.winding_c = 20.0;
    drive.motor.ke = 0.8;
    drive.motor.cogging_nm = 0.0;
    drive.stand.gear_ratio = 1.0;
    drive.stand.rotor.breakaway_nm = 0.0;
    drive.stand.wheel.breakaway_nm = 0.5; /* 0.5 / (1.5 0.8 sin 15) = 1.61 A: 2 A */
    check_close(hp_drive_park_current(&drive), 2.0, 1e-12, "park current");
    check_int(hp_drive_park_bulbs(&drive, &amperes), 1);
    check_close(amperes, 12.0 / (144.0 / 21.0 + 0.15), 1e-9, "one bulb");
    drive.stand.wheel.breakaway_nm = 0.9; /* 2.90 A: 3 A */
    check_int(hp_drive_park_bulbs(&drive, &amperes), 2);
    check_close(amperes, 12.0 / (72.0 / 21.0 + 0.15), 1e-9, "two bulbs");
    drive.motor.resistance_ohm = 20.0; /* no bulb makes up for such a winding */
    check_int(hp_drive_park_bulbs(&drive, &amperes), 4);
}

/* docs/safety.md has a section for each hazard, under its name. */
static void every_hazard_is_in_the_documents(void **state)
{
    (void)state;
    static char text[64000];
    FILE *in = fopen(HP_SCENARIO_DIR "/../docs/safety.md", "r");
    check_true(in != NULL, "docs/safety.md cannot be read");
    size_t bytes = fread(text, 1, sizeof text - 1, in);
    fclose(in);
    text[bytes] = '\0';
    for (int h = 0; h < HP_HAZARD_COUNT; h++) {
        char heading[120];
        snprintf(heading, sizeof heading, "\n## %s\n", hp_hazard_row_of((hp_hazard)h)->name);
        check_true(strstr(text, heading) != NULL, "docs/safety.md lacks \"%s\"",
                   hp_hazard_row_of((hp_hazard)h)->name);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kind_that_is_read_is_listed),
        cmocka_unit_test(every_card_says_what_makes_it_safe_now),
        cmocka_unit_test(each_hazard_of_a_step_has_its_caution),
        cmocka_unit_test(a_lead_battery_has_its_own_caution),
        cmocka_unit_test(a_caution_stands_where_the_hand_is),
        cmocka_unit_test(a_card_is_read_at_a_glance),
        cmocka_unit_test(what_a_caution_leaves_out_is_a_detail),
        cmocka_unit_test(the_first_power_is_told_as_it_can_be_had),
        cmocka_unit_test(every_hazard_is_met),
        cmocka_unit_test(cautions_fit_the_machine),
        cmocka_unit_test(the_ammeter_is_told_the_simulated_current),
        cmocka_unit_test(the_axle_is_told_no_more_than_the_simulated_jerk),
        cmocka_unit_test(bulbs_stand_in_for_a_bench_supply),
        cmocka_unit_test(every_hazard_is_in_the_documents),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
