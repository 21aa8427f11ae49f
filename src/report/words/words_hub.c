/* Words for the hub itself: see words.h. */
#include "decide/reading/machine_values.h"
#include "report/words/control_words.h"

#include <math.h>

static void card(const hp_card_context *context, int lead, hp_card *words)
{
    bool clutch = context->drive->stand.clutch || context->drive->stand.gear_ratio != 1.0;
    (void)lead;
    HP_CARD_SET(words->title, "Look the hub over before it goes out in the rain");
    HP_CARD_SET(words->reason, "Water that gets in through a needle prick, a cover or the cable "
                               "kills Hall sensors first, then bearings.");
    hp_card_how(words, "Seal each place where a needle went through insulation: varnish or liquid "
                       "tape, then a sleeve; look for copper where the cable leaves the axle.");
    hp_card_how(words,
                "Phase leads apart, turn the wheel by hand with an ear on the axle, then pull "
                "and push the rim sideways.");
    hp_card_doing(words, HP_DOING_TURN);
    hp_card_detail(words, "Grinding that stays with the phase leads apart is a bearing. Even "
                          "clicks are the magnets.");
    hp_card_how(words, clutch ? "Turn the wheel forward, then backward: one way it turns freely, "
                                "the other way it takes the rotor along."
                              : "Turn the wheel both ways: a freewheel for a chain turns one way "
                                "and holds the other.");
    hp_card_doing(words, HP_DOING_TURN);
    hp_card_how(words, "If it was opened: rust, water, whole seals; grease the seals, and tighten "
                       "the cover screws crosswise with a torque wrench.");
    hp_card_doing(words, HP_DOING_HUB);
    hp_card_detail(words, "By the maker's figure. Where there is none: 2 to 3 N m for M4, 4 to 6 "
                          "N m for M5 into aluminium is common practice.");
    HP_CARD_SET(words->healthy,
                "No copper to be seen, no play at the rim, no grinding, dry inside, "
                "covers tight on whole seals.");
    HP_CARD_SET(words->note,
                "Pricks, bearings, inside, covers and their torque, cable, freewheel or "
                "clutch.");
}

static void add_word(hp_phrase *p, const char *word)
{
    if (word)
        hp_add_item(p, "%s", word);
}

static void entry(const hp_card_context *context, const void *values, hp_phrase *p)
{
    static const char *const pricks[HP_PRICKS_COUNT] = {NULL, "no pricks", "pricks sealed",
                                                        "pricks open"};
    static const char *const bearings[HP_BEARINGS_COUNT] = {NULL, "bearings free", "bearings rough",
                                                            "bearings loose"};
    static const char *const inside[HP_INSIDE_COUNT] = {NULL, "not opened", "dry inside",
                                                        "rust inside", "wet inside"};
    static const char *const covers[HP_COVERS_COUNT] = {NULL, "covers torqued",
                                                        "covers tightened by hand", "covers leaky"};
    static const char *const cable[HP_CABLE_COUNT] = {NULL, "cable good", "cable chafed",
                                                      "cable bare"};
    static const char *const clutch[HP_CLUTCH_COUNT] = {NULL, "no freewheel", "freewheel holds",
                                                        "freewheel slips", "freewheel seized"};
    const hp_hub_reading *h = values;
    char number[HP_NUMBER_WORDS];
    (void)context;
    hp_phrase_add(p, "hub:");
    add_word(p, pricks[h->pricks]);
    add_word(p, bearings[h->bearings]);
    add_word(p, inside[h->inside]);
    add_word(p, covers[h->covers]);
    if (!isnan(h->cover_nm))
        hp_add_item(p, "cover screws %s N m", hp_card_as_read(h->cover_nm, number, sizeof number));
    add_word(p, cable[h->cable]);
    add_word(p, clutch[h->clutch]);
}

static const hp_fault_words faults[] = {
    {HP_HUB_BARE, "copper shows where the cable leaves the axle",
     "do not power it, fit a new sleeve and strain relief, or a new cable"},
    {HP_HUB_WET, "there is water inside",
     "dry it open and warm for a day, then measure insulation to the shell"},
    {HP_HUB_LOOSE, "the rim has play", "new bearings, or the axle nuts, before anything turns"},
    {HP_HUB_SLIPS, "the freewheel or clutch slips both ways", "open it and mend it"},
    {HP_HUB_PRICKS, "needle pricks are open", "seal each one"},
    {HP_HUB_ROUGH, "bearings grind", "new bearings soon, and a coast-down tells what they cost"},
    {HP_HUB_RUST, "there was water once", "clean off the rust, grease the seals, and look again"},
    {HP_HUB_BY_HAND, "covers were tightened by hand", "crosswise, with a torque wrench"},
    {HP_HUB_LEAKY, "covers leak", "a new seal, and all screws"},
    {HP_HUB_CHAFED, "the cable is chafed", "a sleeve, and a clip that keeps it off the edge"},
    {HP_HUB_SEIZED, "the freewheel or clutch is seized", "clean and oil it, or open it"},
    {HP_HUB_CLUTCHLESS,
     "no freewheel or clutch was found, yet the scenario has a clutch in the hub",
     "turn the wheel both ways by hand: where it drags alike, correct stand.clutch in the "
     "scenario"},
};

static void finding(const hp_card_context *context, const hp_commission_step *step,
                    hp_finding_words *words)
{
    if (!hp_finding_shared(context, step, "hub",
                           "pricks, bearings, inside, covers, cable, freewheel", words))
        hp_finding_faults(step->code, faults, (int)(sizeof faults / sizeof faults[0]), words);
}

static const hp_choice pricks[] = {{"none", "none: no needle went through insulation"},
                                   {"sealed", "sealed: each prick is sealed again"},
                                   {"open", "open: some are still open"},
                                   {NULL, NULL}};
static const hp_choice bearings[] = {{"free", "free: quiet, no play"},
                                     {"rough", "rough: they grind or rumble"},
                                     {"loose", "loose: the rim has play"},
                                     {NULL, NULL}};
static const hp_choice inside[] = {{"not_seen", "not_seen: the hub was not opened"},
                                   {"dry", "dry: clean and dry"},
                                   {"rust", "rust: dry, with rust"},
                                   {"wet", "wet: water inside"},
                                   {NULL, NULL}};
static const hp_choice covers[] = {{"torqued", "torqued: with a torque wrench, seals whole"},
                                   {"by_hand", "by_hand: tight by feel"},
                                   {"leaky", "leaky: a seal torn, a screw missing"},
                                   {NULL, NULL}};
static const hp_choice cable[] = {{"good", "good: whole, with strain relief"},
                                  {"chafed", "chafed: the jacket is hurt"},
                                  {"bare", "bare: copper shows, or a lead is squeezed"},
                                  {NULL, NULL}};
static const hp_choice clutch[] = {{"none", "none: no freewheel, no clutch"},
                                   {"holds", "holds: free one way, firm the other"},
                                   {"slips", "slips: it never holds"},
                                   {"seized", "seized: never free"},
                                   {NULL, NULL}};

static bool torqued(const hp_question_case *c, const void *values)
{
    (void)c;
    return ((const hp_hub_reading *)values)->covers == HP_COVERS_TORQUED;
}

#define LOOKED_AT .fallback = "", .shown = "Enter: not looked at"

static const hp_question questions[] = {
    {.field = "pricks", .text = "Needle pricks in the insulation?", .choices = pricks, LOOKED_AT},
    {.field = "bearings", .text = "Bearings, by hand and ear?", .choices = bearings, LOOKED_AT},
    {.field = "inside", .text = "Inside of the hub?", .choices = inside, LOOKED_AT},
    {.field = "covers", .text = "Covers and their seals?", .choices = covers, LOOKED_AT},
    {.field = "cover_nm",
     .text = "With how many N m?",
     .fallback = "",
     .shown = "Enter: not noted",
     .wanted = torqued},
    {.field = "cable", .text = "Cable where it leaves the axle?", .choices = cable, LOOKED_AT},
    {.field = "clutch", .text = "Freewheel or clutch?", .choices = clutch, LOOKED_AT},
    {.text = NULL},
};

static void log_options(const hp_card_context *context, const hp_advice *advice, hp_log_line *line)
{
    static const char *const option[] = {"pricks", "bearings", "inside",
                                         "covers", "cable",    "clutch"};
    (void)context;
    (void)advice;
    for (size_t k = 0; k < sizeof option / sizeof option[0]; k++)
        hp_log_word(line, "--%s=HOW", option[k]);
    hp_log_word(line, "--cover-nm=NM");
}

const hp_words hp_words_hub = {
    .reading = &hp_reading_hub,
    .menu = "the hub itself: pricks, bearings, water, covers, cable",
    .safety = HP_SAFE_APART,
    .card = card,
    .entry = entry,
    .finding = finding,
    .questions = questions,
    .log = log_options,
};
