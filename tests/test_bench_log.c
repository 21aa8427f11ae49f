/*
 * Bench logs that are right: every kind of entry by hand, and what is written is read back.
 */
#include "bench_text.h"
#include "entry_kind.h"

#include "base/random.h"
#include "decide/advise/hypothesis.h"
#include "decide/advise/plan.h"
#include "default_table.h"
#include "hubphase/decide/assumptions.h"
#include "hubphase/decide/evidence.h"

#define FILE_NAME "test_bench_log.bench.yaml"

static logged load_good(const char *text)
{
    hp_scenario scenario = bench_scenario();
    logged l = bench_load_bytes(&scenario, FILE_NAME, text, strlen(text));
    check_true(l.result == HP_OK, "%s%s", l.printed, l.err.text);
    assert_string_equal(l.printed, "");
    hp_scenario_free(&scenario);
    return l;
}

static void missing_file_is_an_empty_log(void **state)
{
    (void)state;
    hp_scenario scenario = bench_scenario();
    logged l = bench_load_path(&scenario, "nobody-wrote-this.bench.yaml");
    check_int(l.result, HP_OK);
    check_int(l.log.count, 0);
    check_true(!l.log.exists, "it is said to exist");
    logged_free(&l);
    hp_scenario_free(&scenario);
}

static void a_log_without_entries(void **state)
{
    (void)state;
    static const char *const heads[] = {
        BENCH_HEAD, "entries: []\nscenario: Allotment barrow\nhubphase_log: 1\n",
        BENCH_HEAD "# nothing yet\n",
        ("hubphase_log: 1\nscenario: \"Allotment barrow\"\nleads: {motor_phases: [yellow, green, "
         "blue]}\nentries: \n")};
    for (size_t k = 0; k < sizeof heads / sizeof heads[0]; k++) {
        logged l = load_good(heads[k]);
        check_int(l.log.count, 0);
        check_true(l.log.exists, "it is said to be missing");
        logged_free(&l);
    }
}

static const char every_kind[] = BENCH_HEAD
    "- " BENCH_TIME "\n" /* line 4 */
    "  pins:\n"
    "    continuity: {yellow-green: yes, \"W / v\": no}\n"
    "    touches_shell: no\n"
    "    phase_pins: {yellow: 1, green: 2, blue: B}\n"
    "    sensor_pins: {U: 3, V: 4, W: 5}\n"
    "    supply_plus_pin: 6\n"
    "    supply_minus_pin: \"7\"\n"
    "  note: |\n"
    "    two lines\n"
    "    of text\n"
    "-\n" /* line 15 */
    "  " BENCH_TIME "\n"
    "  sensor_supply: {supply_v: 5.06}\n"
    "- hand_turn: {codes: [101, \"001\", 011], direction: backward, edges_per_wheel_turn: 46}\n"
    "  time: 2026-11-25T10:41Z\n"
    "- hand_turn:\n    codes: 101 001,011\n"
    "  time: 2024-02-29T23:59:60-03:30\n"
    "- " BENCH_TIME "\n"
    "  winding: {resistance_ohm: {blue-green: 0.25, U-V: open}, test_leads_ohm: 0.04, winding_c: "
    "14}\n"
    "- " BENCH_TIME "\n"
    "  spin: {voltage_v: {yellow green: 3.5}, wheel_speed_rpm: 60, meter: average}\n"
    "- " BENCH_TIME "\n"
    "  park: {plus_lead: blue, code: 001, no_current: no}\n"
    "- " BENCH_TIME "\n"
    "  controller_probe: {rows: {100: blue > yellow, \"111\": off}}\n"
    "- " BENCH_TIME "\n"
    "  trial:\n"
    "    wiring: yellow, green, blue / blue green yellow\n"
    "    throttle_percent: 35\n"
    "    motion: hum\n"
    "    feel: noisy\n"
    "    starts: 3\n"
    "    starts_tried: 6\n"
    "    battery_a: 4.5\n"
    "    wheel_speed_rpm: 30\n"
    "    cut_out: yes\n"
    "    warm: no\n"
    "- " BENCH_TIME "\n"
    "  trial: {wiring: 12, throttle_percent: 0, motion: still}\n"
    "- " BENCH_TIME "\n"
    "  learn: {worked: yes}\n"
    "- " BENCH_TIME "\n"
    "  mend: {lead: green, part: sensor_stuck_low}\n"
    "- " BENCH_TIME "\n"
    "  mend: {part: inverted_sensor}\n";

static void test_first_entries(const hp_bench_log *log)
{
    const hp_bench_entry *e = &log->entry[0];
    check_true(e->entry.reading == &hp_reading_pins, "another reading");
    check_int(e->entry.number, 1);
    check_int(e->line, 4);
    assert_string_equal(e->time, "2026-11-25T10:40:00+01:00");
    assert_string_equal(e->note, "two lines\nof text");
    check_int(e->entry.pins.open[2], HP_TELL_NO);
    check_int(e->entry.pins.open[0], HP_TELL_YES);
    check_int(e->entry.pins.open[1], HP_TELL_UNSAID);
    check_int(e->entry.pins.shell, HP_TELL_NO);
    check_int(e->entry.pins.crossed, HP_TELL_UNSAID);
    check_true(e->entry.pins.plug.given, "no pins");
    static const char *const pin[] = {"1", "2", "B", "3", "4", "5", "6", "7"};
    for (int k = 0; k < HP_PLUG_LEAD_COUNT; k++)
        assert_string_equal(e->entry.pins.plug.pin[k], pin[k]);
    e = &log->entry[1];
    check_int(e->line, 15);
    check_close(e->entry.supply.volts, 5.06, 0.0, "as written");
    check_true(!e->entry.pins.plug.given && !e->note[0], "something left over");
    e = &log->entry[2];
    check_int(e->entry.hand_turn.count, 3);
    check_int(e->entry.hand_turn.code[0], 5);
    check_int(e->entry.hand_turn.code[1], 1);
    check_int(e->entry.hand_turn.code[2], 3);
    check_int(e->entry.hand_turn.backward, 1);
    check_int(e->entry.hand_turn.edges, 46);
    check_int(log->entry[3].entry.hand_turn.count, 3);
    check_int(log->entry[3].entry.hand_turn.code[2], 3);
    check_int(log->entry[3].entry.hand_turn.backward, 0);
    e = &log->entry[4];
    check_close(e->entry.winding.ohm[0], 0.25, 0.0, "as written");
    check_true(isnan(e->entry.winding.ohm[1]), "%g", e->entry.winding.ohm[1]);
    check_true(isinf(e->entry.winding.ohm[2]), "%g", e->entry.winding.ohm[2]);
    check_close(e->entry.winding.leads_ohm, 0.04, 0.0, "as written");
    check_close(e->entry.winding.copper_c, 14.0, 0.0, "as written");
}

static void test_later_entries(const hp_bench_log *log)
{
    const hp_bench_entry *e = &log->entry[5];
    check_close(e->entry.spin.volts[2], 3.5, 0.0, "as written");
    check_close(e->entry.spin.wheel_rad_s, 60.0 * HP_RPM, 0.0, "one product");
    check_int(e->entry.spin.kind, HP_VOLT_AVERAGE);
    e = &log->entry[6];
    check_int(e->entry.park.lead, HP_W);
    check_int(e->entry.park.code, 1);
    check_int(e->entry.park.no_current, HP_TELL_NO);
    /* Outputs of the barrow: U blue, V green, W yellow. */
    e = &log->entry[7];
    check_true(e->entry.probe.read[4] && e->entry.probe.read[7] && !e->entry.probe.read[0], "read");
    check_int(e->entry.probe.row[4].high, HP_U);
    check_int(e->entry.probe.row[4].low, HP_W);
    check_int(e->entry.probe.row[7].high, -1);
    const hp_trial *t = &log->entry[8].entry.trial;
    check_int(hp_wiring_number(&t->wiring), 6);
    check_close(t->throttle, 0.35, 1e-15, "rounding of a product");
    check_int(t->motion, HP_MOVED_HUM);
    check_int(t->feel, HP_FEEL_NOISY);
    check_int(t->starts, 3);
    check_int(t->starts_tried, 6);
    check_close(t->battery_a, 4.5, 0.0, "as written");
    check_close(t->wheel_rad_s, 30.0 * HP_RPM, 0.0, "one product");
    check_int(t->cut_out, HP_TELL_YES);
    check_int(t->warm, HP_TELL_NO);
    t = &log->entry[9].entry.trial;
    check_int(hp_wiring_number(&t->wiring), 12);
    check_int(t->motion, HP_MOVED_STILL);
    check_int(t->starts_tried, 0);
    check_true(isnan(t->battery_a) && isnan(t->wheel_rad_s), "not unsaid");
    check_int(log->entry[10].entry.learn.worked, HP_TELL_YES);
    check_int(log->entry[11].entry.mend.fault.kind, HP_FAULT_SENSOR_LOW);
    check_int(log->entry[11].entry.mend.fault.which, HP_V);
    check_int(log->entry[12].entry.mend.what, HP_MENDED_INVERSION);
    check_int(log->entry[12].entry.mend.fault.kind, HP_FAULT_NONE);
    check_int(log->entry[12].entry.number, 13);
}

static void every_kind_written_by_hand(void **state)
{
    (void)state;
    logged l = load_good(every_kind);
    check_int(l.log.count, 13);
    test_first_entries(&l.log);
    test_later_entries(&l.log);
    logged_free(&l);
}

/* ---- written and read back ------------------------------------------------------------------- */

static int pick(hp_random *random, int count)
{
    return (int)hp_random_below(random, (uint32_t)count);
}

static double number(hp_random *random, double low, double high)
{
    return low + (high - low) * hp_random_unit(random);
}

static void random_text(hp_random *random, char *out, size_t size)
{
    static const char *const piece[] = {"a", "Z", " ",  "          ", ":",  "#",      "\"", "\\",
                                        "-", "'", "{",  "]",          ",",  "\n",     "%",  "&",
                                        "*", "!", "\t", "|",          "ü",  "\u2028", "7",  "yes",
                                        "?", "@", "`",  "~",          "漢", ">",      "<",  "/"};
    int count = 1 + pick(random, 30);
    out[0] = '\0';
    for (int k = 0; k < count; k++) {
        const char *p = piece[pick(random, sizeof piece / sizeof piece[0])];
        /* The reader takes neither tabs nor a line break at the end of a note. */
        if (*p == '\t' || (*p == '\n' && k == count - 1) || strlen(out) + strlen(p) >= size)
            continue;
        strcat(out, p);
    }
    size_t length = strlen(out);
    while (length > 0 && out[length - 1] == '\n')
        out[--length] = '\0';
}

static hp_bench_entry random_entry(hp_random *random)
{
    hp_bench_entry b = hp_bench_entry_make(kind_reading(pick(random, KIND_COUNT)));
    hp_entry *e = &b.entry;
    e->number = 1;
    strcpy(b.time, "2026-11-25T10:40:12-05:00");
    if (pick(random, 2))
        random_text(random, b.note, sizeof b.note);
    e->typical = pick(random, 2);
    switch (kind_of(e->reading)) {
    case KIND_PINS:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            e->pins.open[k] = (hp_tell)pick(random, HP_TELL_COUNT);
        e->pins.shell = (hp_tell)pick(random, HP_TELL_COUNT);
        e->pins.crossed = (hp_tell)pick(random, HP_TELL_COUNT);
        b.entry.pins.plug.given = pick(random, 2);
        for (int k = 0; b.entry.pins.plug.given && k < HP_PLUG_LEAD_COUNT; k++)
            snprintf(b.entry.pins.plug.pin[k], HP_PLUG_PIN_SIZE, "%s%d", k % 2 ? "pin: " : "", k);
        break;
    case KIND_SUPPLY: e->supply.volts = number(random, -200, 200); break;
    case KIND_HAND_TURN:
        e->hand_turn.count = 1 + pick(random, HP_TURN_CODES);
        for (int k = 0; k < e->hand_turn.count; k++)
            e->hand_turn.code[k] = pick(random, 8);
        e->hand_turn.backward = pick(random, 2);
        e->hand_turn.edges = pick(random, 2) ? pick(random, 1000) : 0;
        break;
    case KIND_WINDING:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            e->winding.ohm[k] = k == 1 || pick(random, 2) ? number(random, 1, 2)
                                : pick(random, 2)         ? (double)INFINITY
                                                          : (double)NAN;
        e->winding.leads_ohm = number(random, 0, 1);
        e->winding.copper_c = number(random, -40, 200);
        break;
    case KIND_SPIN:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            e->spin.volts[k] = k == 2 || pick(random, 2) ? number(random, 0, 50) : (double)NAN;
        e->spin.wheel_rad_s = number(random, 0.1, 1000);
        e->spin.kind = (hp_volt_kind)pick(random, HP_VOLT_KIND_COUNT);
        break;
    case KIND_PARK:
        e->park.lead = pick(random, 3);
        e->park.code = pick(random, 9) - 1;
        e->park.no_current = (hp_tell)pick(random, HP_TELL_COUNT);
        break;
    case KIND_PROBE:
        for (int k = 0; k < HP_CODE_COUNT; k++) {
            e->probe.read[k] = k == 3 || pick(random, 2);
            int high = pick(random, 3);
            if (e->probe.read[k] && pick(random, 3))
                e->probe.row[k] =
                    (hp_commutation_row){high, (high + 1 + pick(random, 2)) % HP_PHASE_COUNT};
        }
        break;
    case KIND_TRIAL:
        e->trial.wiring = hp_wiring_from_number(1 + pick(random, HP_WIRING_COUNT));
        e->trial.throttle = number(random, 0, 1);
        e->trial.motion = (hp_motion)pick(random, HP_MOVED_COUNT);
        e->trial.feel = (hp_feel)pick(random, HP_FEEL_COUNT);
        bool turned = e->trial.motion != HP_MOVED_STILL && e->trial.motion != HP_MOVED_SHIVER;
        if (pick(random, 2)) {
            e->trial.starts_tried = 1 + pick(random, 100);
            e->trial.starts = turned ? 1 + pick(random, e->trial.starts_tried) : 0;
        }
        if (pick(random, 2))
            e->trial.battery_a = number(random, 0, 1000);
        if (turned && pick(random, 2))
            e->trial.wheel_rad_s = number(random, 1, 900);
        e->trial.cut_out = (hp_tell)pick(random, HP_TELL_COUNT);
        e->trial.warm = (hp_tell)pick(random, HP_TELL_COUNT);
        e->trial.feed = (hp_feed)pick(random, HP_FEED_COUNT);
        if (e->trial.feed == HP_FEED_BENCH_SUPPLY)
            e->trial.limit_a = number(random, 0.1, 10);
        if (hp_feed_limits(e->trial.feed))
            e->trial.limit_reached = (hp_tell)pick(random, HP_TELL_COUNT);
        if (pick(random, 2))
            e->trial.signal_v = number(random, 0, 5);
        break;
    case KIND_CONTROLS:
        e->controls.found = (hp_found)(1 + pick(random, HP_FOUND_COUNT - 1));
        if (pick(random, 2)) {
            e->controls.rest_v = number(random, 0, 2);
            e->controls.full_v = number(random, 3, 5);
        }
        break;
    case KIND_DRAG:
        if (pick(random, 2))
            e->drag.idle_a = number(random, 0, 5);
        if (pick(random, 2)) {
            e->drag.coast_s = number(random, 1, 100);
            e->drag.coast_rad_s = number(random, 1, 900);
        }
        e->drag.rubs = (hp_tell)pick(random, HP_TELL_COUNT);
        e->drag.other_load = (hp_tell)pick(random, HP_TELL_COUNT);
        break;
    case KIND_CONTACTS:
        e->contacts.loose = (hp_contact)(1 + pick(random, HP_CONTACT_COUNT - 1));
        break;
    case KIND_LEARN: e->learn.worked = pick(random, 2) ? HP_TELL_YES : HP_TELL_NO; break;
    case KIND_MEND:
        e->mend.fault = hp_fault_from_index(pick(random, HP_FAULT_COUNT));
        e->mend.what = e->mend.fault.kind == HP_FAULT_NONE ? HP_MENDED_INVERSION : HP_MENDED_FAULT;
        break;
    case KIND_COUNT: break;
    }
    return b;
}

/* Numbers go through ten digits. */
static void check_number(double value, double expected)
{
    if (isnan(expected) || isinf(expected))
        check_true(isnan(value) == isnan(expected) && isinf(value) == isinf(expected), "%g, not %g",
                   value, expected);
    else
        check_relative(value, expected, 1e-9, "ten digits");
}

/* Takes the numbers of `read` that are right and makes them those of `written`, so that the rest
 * can be compared byte by byte. */
static void level_numbers(hp_entry *read, const hp_entry *written)
{
#define LEVEL(field)                                                                               \
    do {                                                                                           \
        check_number(read->field, written->field);                                                 \
        read->field = written->field;                                                              \
    } while (0)
    switch (kind_of(written->reading)) {
    case KIND_SUPPLY: LEVEL(supply.volts); break;
    case KIND_WINDING:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            LEVEL(winding.ohm[k]);
        LEVEL(winding.leads_ohm);
        LEVEL(winding.copper_c);
        break;
    case KIND_SPIN:
        for (int k = 0; k < HP_PHASE_COUNT; k++)
            LEVEL(spin.volts[k]);
        LEVEL(spin.wheel_rad_s);
        break;
    case KIND_TRIAL:
        LEVEL(trial.throttle);
        LEVEL(trial.battery_a);
        LEVEL(trial.wheel_rad_s);
        LEVEL(trial.limit_a);
        LEVEL(trial.signal_v);
        break;
    case KIND_CONTROLS:
        LEVEL(controls.rest_v);
        LEVEL(controls.full_v);
        break;
    case KIND_DRAG:
        LEVEL(drag.idle_a);
        LEVEL(drag.coast_s);
        LEVEL(drag.coast_rad_s);
        break;
    default: break;
    }
#undef LEVEL
}

static void check_round_trip(const hp_scenario *scenario, const hp_bench_entry *entry)
{
    char *head = hp_bench_log_head_text(scenario);
    char *text = hp_bench_log_entry_text(entry, &scenario->labels);
    assert_non_null(head);
    assert_non_null(text);
    size_t size = strlen(head) + 2 * strlen(text) + 1;
    char *whole = malloc(size);
    assert_non_null(whole);
    snprintf(whole, size, "%s%s%s", head, text, text);
    logged l = bench_load_bytes(scenario, FILE_NAME, whole, strlen(whole));
    check_true(l.result == HP_OK, "%s%s\n%s", l.printed, l.err.text, whole);
    check_int(l.log.count, 2);
    hp_bench_entry read = l.log.entry[0];
    check_true(read.entry.reading == entry->entry.reading, "another kind");
    check_int(l.log.entry[1].entry.number, 2);
    level_numbers(&read.entry, &entry->entry);
    check_true(memcmp(&read.entry, &entry->entry, sizeof read.entry) == 0, "differs:\n%s", whole);
    assert_string_equal(read.time, entry->time);
    assert_string_equal(read.note, entry->note);
    logged_free(&l);
    free(whole);
    free(text);
    free(head);
}

static void random_entries_are_read_back(void **state)
{
    (void)state;
    hp_scenario scenario = bench_scenario();
    hp_random random = hp_random_init(20261125, 0);
    for (int k = 0; k < 1500; k++) {
        hp_bench_entry entry = random_entry(&random);
        check_round_trip(&scenario, &entry);
    }
    hp_scenario_free(&scenario);
}

/* Labels that YAML, a pair, a row or a wiring could take for something else. */
static void odd_labels_are_read_back(void **state)
{
    (void)state;
    static const char *const odd[][HP_PHASE_COUNT] = {
        {"no", "~", "null"},
        {"red > blue", "a: b", "# c"},
        {"grün", "weiß", "\"quoted\""},
        {"a, b", "a", "b"},
        {"light-blue", "light", "blue"},
        {"1", "2", "3"},
        {"red / white", "red", "white"},
        {"{x}", "[y]", "&z"},
        {"-", "V2", "W2"},
        {"-", "- a", "a=b"},
        {"V2", "W2", "-W2"},
    };
    hp_scenario scenario = bench_scenario();
    hp_random random = hp_random_init(7, 0);
    for (size_t row = 0; row < sizeof odd / sizeof odd[0]; row++) {
        hp_labels *labels = &scenario.labels;
        for (int k = 0; k < HP_PHASE_COUNT; k++) {
            snprintf(labels->motor_lead[k], HP_LABEL_SIZE, "%s", odd[row][k]);
            snprintf(labels->motor_sensor[k], HP_LABEL_SIZE, "%s", odd[row][(k + 1) % 3]);
            snprintf(labels->controller_output[k], HP_LABEL_SIZE, "%s", odd[row][(k + 2) % 3]);
        }
        for (int k = 0; k < 100; k++) {
            hp_bench_entry entry = random_entry(&random);
            check_round_trip(&scenario, &entry);
        }
    }
    hp_scenario_free(&scenario);
}

/* Every entry that the advice says a step may show, on the way of the likeliest and on that of the
 * least likely: a page offers them as text to put into the log. */
static void check_showings(hp_planner *planner, hp_belief *belief, const hp_scenario *scenario,
                           bool likeliest, int *seen)
{
    hp_error err = hp_error_none();
    hp_showing showing[HP_SHOWING_MAX];
    hp_advice advice;
    for (int step = 0; step < 12; step++) {
        check_true(hp_plan_next(planner, belief, false, &advice, &err) == HP_OK, "%s", err.text);
        int count = hp_plan_showings(planner, belief, &advice, 1e-4, showing);
        for (int k = 0; k < count; k++) {
            hp_bench_entry entry = hp_bench_entry_make(showing[k].entry.reading);
            entry.entry = showing[k].entry;
            entry.entry.number = 1;
            strcpy(entry.time, "2026-11-25T10:40:12+01:00");
            check_round_trip(scenario, &entry);
            (*seen)++;
        }
        if (count == 0)
            return;
        hp_entry next = showing[likeliest ? 0 : count - 1].entry;
        next.number = step + 1;
        check_true(hp_belief_add(belief, &next, &err) == HP_OK, "%s", err.text);
    }
}

static void what_a_step_may_show_is_read_back(void **state)
{
    (void)state;
    hp_scenario scenario = bench_scenario();
    hp_likelihood table = default_table();
    hp_person person = hp_person_default();
    hp_prior_params prior = hp_prior_default();
    int seen = 0;
    for (int way = 0; way < 4; way++) {
        hp_error err = hp_error_none();
        hp_belief belief;
        hp_plan_params params = hp_plan_params_default();
        if (way / 2)
            params.allowed = 0; /* trials alone */
        hp_planner *planner = hp_planner_create(&table, &person, &params, &err);
        check_true(planner != NULL, "%s", err.text);
        check_int(hp_belief_create(&table, &person, &prior, &belief, &err), HP_OK);
        check_showings(planner, &belief, &scenario, way % 2, &seen);
        hp_belief_free(&belief);
        hp_planner_free(planner);
    }
    check_true(seen > 100, "only %d", seen);
    hp_likelihood_free(&table);
    hp_scenario_free(&scenario);
}

static void text_of_an_entry(void **state)
{
    (void)state;
    hp_scenario scenario = bench_scenario();
    hp_bench_entry entry = hp_bench_entry_make(&hp_reading_trial);
    strcpy(entry.time, "@TIME@");
    strcpy(entry.note, "smells: of varnish");
    entry.entry.trial.wiring = hp_wiring_from_number(6);
    entry.entry.trial.throttle = 0.35;
    entry.entry.trial.motion = HP_MOVED_FORWARD;
    entry.entry.trial.feel = HP_FEEL_ROUGH;
    entry.entry.trial.starts = entry.entry.trial.starts_tried = 4;
    entry.entry.trial.battery_a = 4.4;
    char *text = hp_bench_log_entry_text(&entry, &scenario.labels);
    assert_string_equal(text, "  - time: @TIME@\n"
                              "    trial:\n"
                              "      wiring: yellow, green, blue / blue, green, yellow\n"
                              "      throttle_percent: 35\n"
                              "      motion: forward\n"
                              "      feel: rough\n"
                              "      starts: 4\n"
                              "      starts_tried: 4\n"
                              "      battery_a: 4.4\n"
                              "    note: \"smells: of varnish\"\n");
    free(text);
    hp_scenario_free(&scenario);
}

static void times_with_their_offsets(void **state)
{
    (void)state;
    static const char *const good[] = {"2026-11-25T10:40:00+01:00", "2026-11-25T10:40+01:00",
                                       "2026-11-25T10:40Z", "2024-02-29T00:00:60-14:00"};
    static const char *const bad[] = {"",
                                      "@TIME@",
                                      "2026-11-25",
                                      "2026-11-25T10:40:00",
                                      "2026-11-25 10:40:00+01:00",
                                      "2026-13-25T10:40:00+01:00",
                                      "2026-11-31T10:40:00+01:00",
                                      "2025-02-29T10:40:00+01:00",
                                      "2026-11-25T24:40:00+01:00",
                                      "2026-11-25T10:60:00+01:00",
                                      "2026-11-25T10:40:61+01:00",
                                      "2026-11-25T10:40:00+15:00",
                                      "2026-11-25T10:40:00+0100",
                                      "2026-11-25T10:40:00+01:00 ",
                                      "26-11-25T10:40:00+01:00"};
    for (size_t k = 0; k < sizeof good / sizeof good[0]; k++)
        check_true(hp_bench_log_time_check(good[k]), "%s", good[k]);
    for (size_t k = 0; k < sizeof bad / sizeof bad[0]; k++)
        check_true(!hp_bench_log_time_check(bad[k]), "%s", bad[k]);
    char now[HP_BENCH_TIME_SIZE];
    check_true(hp_bench_log_time_check(hp_bench_log_now(now, sizeof now)), "%s", now);
}

static void check_path(const char *scenario, const char *chosen, const char *expected)
{
    char path[HP_BENCH_PATH_SIZE];
    check_int(hp_bench_log_path(scenario, chosen, path, sizeof path, NULL), HP_OK);
    assert_string_equal(path, expected);
}

static void name_of_the_file(void **state)
{
    (void)state;
    check_path("a/barrow.yaml", NULL, "a/barrow.bench.yaml");
    check_path("barrow.yml", NULL, "barrow.bench.yaml");
    check_path("barrow", NULL, "barrow.bench.yaml");
    check_path(".yaml", NULL, ".yaml.bench.yaml");
    check_path("barrow.yaml", "other", "other");
    char path[HP_BENCH_PATH_SIZE], longest[HP_BENCH_PATH_SIZE + 1];
    hp_error err = hp_error_none();
    memset(longest, 'x', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    check_int(hp_bench_log_path(longest, NULL, path, sizeof path, &err), HP_FAIL_INPUT);
    check_int(hp_bench_log_path(longest, longest, path, sizeof path, &err), HP_FAIL_INPUT);
    check_int(hp_bench_log_path("x", "", path, sizeof path, &err), HP_FAIL_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(missing_file_is_an_empty_log),
        cmocka_unit_test(a_log_without_entries),
        cmocka_unit_test(every_kind_written_by_hand),
        cmocka_unit_test(random_entries_are_read_back),
        cmocka_unit_test(odd_labels_are_read_back),
        cmocka_unit_test(what_a_step_may_show_is_read_back),
        cmocka_unit_test(text_of_an_entry),
        cmocka_unit_test(times_with_their_offsets),
        cmocka_unit_test(name_of_the_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
