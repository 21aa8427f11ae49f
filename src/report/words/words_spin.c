/* Words for the spin: see words.h. */
#include "hubphase/decide/evidence.h"
#include "model/backemf.h"
#include "report/picture/picture_parts.h"
#include "report/sheet/sheet_lists.h"
#include "report/words/card_parts.h"
#include "report/words/words.h"

#include <math.h>
#include <stdio.h>

#define READING_RPM 60.0 /* one turn of the wheel a second: easy to count with a watch */

/* Between two leads at a wheel speed: rms and peak. */
static void spin_volts(const hp_drive *drive, double wheel_rad_s, double *rms, double *peak)
{
    hp_backemf_line line = hp_backemf_line_over(&drive->motor.backemf, 360);
    double per_unit = drive->motor.ke * wheel_rad_s * drive->stand.gear_ratio;
    *rms = line.rms * per_unit;
    *peak = line.peak * per_unit;
}

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    const hp_drive *drive = context->drive;
    hp_lead_names phases = hp_card_phases(context->labels);
    char a[HP_PAIR_WORDS], b[HP_PAIR_WORDS], c[HP_PAIR_WORDS];
    char rms_text[HP_NUMBER_WORDS], peak_text[HP_NUMBER_WORDS];
    double rms, peak;
    (void)lead;
    spin_volts(drive, READING_RPM * HP_RPM, &rms, &peak);
    HP_CARD_SET(words->title, "Spin the wheel and measure the volts that the motor makes");
    HP_CARD_SET(words->reason,
                "It shows an open lead%s, and it gives the speed and current that "
                "the correct wiring must have.",
                drive->stand.clutch ? ", a slipping clutch" : "");
    hp_card_how(words, "Meter on a.c. volts, 20 V range, between %s; ends of the leads apart.",
                hp_card_pair(&phases, 2, a, sizeof a));
    hp_card_detail(words, "200 V range with a fast drill.");
    hp_card_how(words,
                "Turn the lifted wheel %s at a steady speed that you know, such as 60 rev/min.",
                drive->stand.clutch ? "backward" : "either way");
    hp_card_doing(words, HP_DOING_TURN);
    hp_card_detail(words,
                   "One turn a second by a watch is 60 rev/min; or a drill with a rubber drum and "
                   "a tachometer.%s",
                   drive->stand.clutch ? " Forward, the clutch would let go." : "");
    hp_card_how(words, "The same speed again for %s, and for %s.",
                hp_card_pair(&phases, 0, b, sizeof b), hp_card_pair(&phases, 1, c, sizeof c));
    HP_CARD_SET(words->healthy,
                "Three pairs alike; at 60 rev/min of the wheel about %s V rms, %s V peak.",
                hp_card_number(rms, rms_text, sizeof rms_text),
                hp_card_number(peak, peak_text, sizeof peak_text));
    HP_CARD_SET(words->note, "Volts of the three pairs, the speed, and the kind of meter: true "
                             "rms, plain a.c., or peak (a scope).");
}

static void showing(const hp_card_context *context, const hp_advice *advice, const void *values,
                    hp_showing_words *words)
{
    const hp_spin *spin = values;
    bool open[HP_PHASE_COUNT];
    double most = 0.0;
    (void)advice;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        most = fmax(most, spin->volts[k]);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        open[k] = !(spin->volts[k] > 0.1 * most);
    hp_showing_pairs(context->labels, open, "alike", "no voltage", words);
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    const hp_spin *s = values;
    static const char *const kind[HP_VOLT_KIND_COUNT] = {"rms", "a.c., plain meter", "peak"};
    hp_lead_names phases = hp_card_phases(context->labels);
    char pair[HP_PAIR_WORDS], number[HP_NUMBER_WORDS];
    hp_phrase_add(
        p, "spin at %s rev/min: ", hp_card_rpm_as_read(s->wheel_rad_s, number, sizeof number));
    for (int at = 0, n = 0; at < HP_PHASE_COUNT; at++) {
        int k = hp_card_pair_order[at];
        if (isnan(s->volts[k]))
            continue;
        hp_phrase_add(p, "%s%s %s V", n++ ? ", " : "", hp_card_pair(&phases, k, pair, sizeof pair),
                      hp_card_as_read(s->volts[k], number, sizeof number));
    }
    hp_phrase_add(p, " %s", kind[(int)s->kind >= 0 && s->kind < HP_VOLT_KIND_COUNT ? s->kind : 0]);
}

static const hp_choice meters[] = {
    {"rms", "true rms: the case says \"true rms\""},
    {"average", "average: a plain meter on a.c. volts"},
    {"peak", "peak: a scope, or a diode and a capacitor"},
    {NULL, NULL},
};

#define PAIR_HELP "A number alone, with a decimal point. Enter alone when you did not measure it."

static const hp_question questions[] = {
    {.field = "meter",
     .text = "What kind of meter is it?",
     .help = "A plain meter and a true-rms one show different volts on a wave that is no sine.",
     .choices = meters},
    {.field = "wheel_speed_rpm",
     .text = "How fast did the wheel turn, in turns a minute?",
     .help = "Turns counted in half a minute, times two."},
    {.field = "voltage_v", .which = 0, .text = "Volts between %s?", .help = PAIR_HELP},
    {.field = "voltage_v", .which = 1, .text = "Volts between %s?", .help = PAIR_HELP},
    {.field = "voltage_v", .which = 2, .text = "Volts between %s?", .help = PAIR_HELP},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    (void)advice;
    hp_log_pairs(line, context->labels, "voltage-v", "VOLTS");
    hp_log_word(line, "--wheel-speed-rpm=RPM");
    hp_log_word(line, "--meter=KIND");
}

static bool says_volts(const void *values, int pair)
{
    const hp_spin *s = values;
    return !isnan(s->volts[pair]) && s->wheel_rad_s > 0.0;
}

static const char *volt_kind(hp_volt_kind kind)
{
    static const char *const name[HP_VOLT_KIND_COUNT] = {"true rms", "on a plain a.c. meter",
                                                         "peak"};
    return name[kind];
}

static void add_backemf(hp_wiring_sheet *sheet, int pair)
{
    char name[2 * HP_LABEL_SIZE + 8];
    const hp_sheet_source *source = &sheet->source;
    const hp_entry *entry = hp_sheet_last(source, &hp_reading_spin, says_volts, pair);
    hp_sheet_line *line = hp_sheet_add(&sheet->readings, "Back-EMF %s",
                                       hp_sheet_pair(source->labels, pair, name, sizeof name));
    if (!entry) {
        hp_sheet_set(source, line, NULL, " ");
        return;
    }
    const hp_spin *s = &entry->spin;
    double rpm = s->wheel_rad_s / HP_RPM;
    hp_sheet_set(source, line, entry, "%.4g V %s at %.4g rev/min: %.4g V at 1000", s->volts[pair],
                 volt_kind(s->kind), rpm, 1000.0 * s->volts[pair] / rpm);
}

static void keep(hp_wiring_sheet *sheet)
{
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_backemf(sheet, hp_card_pair_order[k]);
    hp_sheet_add_stated(sheet, "motor.backemf_peak_v_per_krpm",
                        "Back-EMF of any pair, peak, stated", "V per 1000 rev/min", NULL, "");
    hp_sheet_add_stated(sheet, "motor.backemf_rms_v_per_krpm", "Back-EMF of any pair, rms, stated",
                        "V per 1000 rev/min", NULL, "");
}

static void danger(const hp_card_context *context, const hp_danger *danger, hp_card *words)
{
    (void)context, (void)danger;
    hp_card_say_unlike(
        "volts at one speed",
        "Spin all three pairs once more, each at the same speed, read while it is spun.", words);
}

const hp_words hp_words_spin = {
    .reading = &hp_reading_spin,
    .menu = "volts while the wheel is spun",
    .proof = "Check with the meter: spin the wheel and measure the volts that the motor "
             "makes; with a slipping clutch there are none.",
    .safety = HP_SAFE_APART,
    .card = card,
    .showing = showing,
    .entry = entry,
    .questions = questions,
    .danger = danger,
    .log = log_options,
    .sheet_place = 3,
    .keep = keep,
};
