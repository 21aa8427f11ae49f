/*
 * How it is connected: supply, clips, meter and leads for one step of the advice.
 *
 * Common practice, as the cards say it. Leads are drawn in the order of what they go to, so that
 * none crosses another.
 */
#include "report/picture/picture_connect.h"

#include "decide/reading/reading.h"
#include "hubphase/base/text.h"
#include "report/picture/joints_board.h"
#include "report/picture/picture.h"
#include "report/picture/picture_parts.h"
#include "report/words/card_parts.h"

#include <math.h>
#include <stdio.h>

#define BOARDS_MAX   3
#define LETTERS_MOST 1.7 /* times the smallest of the shape */

typedef struct connect {
    const hp_picture_subject *subject;
    hp_board board[BOARDS_MAX];
    int boards;
    char safe[420];   /* what makes it safe now */
    const char *then; /* what is done, in a sentence or two */
    char title[300];
} connect;

static const char apart[] = "free: end kept apart";

/* ---- pieces ---------------------------------------------------------------------------------- */

static hp_board *add_board(connect *c, const char *part)
{
    hp_board *board = &c->board[c->boards++];
    *board = hp_board_begin(part);
    return board;
}

static const char *phase_name(const connect *c, int lead)
{
    return hp_picture_label(c->subject->labels->motor_lead[lead], lead);
}

static const char *sensor_name(const connect *c, int lead)
{
    return hp_picture_label(c->subject->labels->motor_sensor[lead], lead);
}

static void add_end(hp_board *board, const char *name, const char *to, hp_board_end end)
{
    hp_board_add(board, name, to)->end = end;
}

static void add_thick(hp_board *board, const char *name, const char *to, hp_board_end end)
{
    hp_board_row *row = hp_board_add(board, name, to);
    row->thick = true;
    row->end = end;
}

static void add_phase(hp_board *board, const connect *c, int lead, const char *to, hp_board_end end)
{
    add_thick(board, phase_name(c, lead), to, end);
}

static void add_free_phases(hp_board *board, const connect *c)
{
    hp_board_group_add(board, "Phase leads: nothing", "");
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_phase(board, c, k, apart, HP_END_FREE);
}

/* The Hall sensors on their own supply, with a meter that reads the code. */
static void add_code_meter(hp_board *board, const connect *c)
{
    hp_plan_params plan = c->subject->plan ? *c->subject->plan : hp_plan_params_default();
    hp_hall_cells cells = hp_card_hall_cells(plan.sensor_v_min);
    char note[120];
    snprintf(note, sizeof note,
             "%d fresh alkaline AA cells, or %d rechargeable ones. Never the battery.",
             cells.alkaline, cells.rechargeable);
    hp_board_group_add(board, "Hall supply", note);
    add_end(board, "Hall plus", "plus (+)", HP_END_RED_CLIP);
    add_end(board, "Hall minus", "minus (\u2212), meter black", HP_END_BLACK_CLIP);
    hp_board_group_add(board, "Meter, d.c. volts, 20 V range",
                       "Red tip on one Hall lead after the other. On cells: 1 to 10 kohm from "
                       "each Hall lead to Hall plus.");
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        static const char *const place[HP_PHASE_COUNT] = {"1st figure", "2nd figure", "3rd figure"};
        add_end(board, sensor_name(c, k), place[k], HP_END_RED_TIP);
    }
}

/* ---- steps ----------------------------------------------------------------------------------- */

static void connect_park(connect *c)
{
    int lead = c->subject->advice->lead;
    char note[200];
    const hp_drive *drive = c->subject->drive;
    int plus = lead >= 0 ? lead : 0;
    hp_board *board = add_board(c, "MOTOR, unplugged");
    snprintf(note, sizeof note, "Set before it is switched on: %.2g A, %.0f V. Never the battery.",
             hp_drive_park_current(drive), hp_drive_park_volts(drive));
    hp_board_group_add(board, "Bench supply", note);
    add_phase(board, c, plus, "plus (+)", HP_END_RED_CLIP);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        if (k != plus)
            add_phase(board, c, k, "minus (\u2212), both tied", HP_END_BLACK_CLIP);
    add_code_meter(board, c);
    c->then = "Supply on: the rotor moves a little and holds. Nudge it both ways, read the code, "
              "supply off. A few seconds are enough.";
}

static void connect_hand_turn(connect *c)
{
    hp_board *board = add_board(c, "MOTOR, unplugged");
    add_free_phases(board, c);
    add_code_meter(board, c);
    c->then = c->subject->drive->stand.clutch
                  ? "Turn the wheel slowly backward and write the code down each time it changes."
                  : "Turn the wheel slowly forward and write the code down each time it changes.";
}

static void connect_supply(connect *c)
{
    hp_board *board = add_board(c, "CONTROLLER, Hall plug");
    const hp_labels *labels = c->subject->labels;
    hp_board_group_add(board, "Meter, d.c. volts, 200 V range",
                       "One pin at a time. Tips must not bridge two pins.");
    add_end(board, "plus", "red tip", HP_END_RED_TIP);
    add_end(board, "minus", "black tip", HP_END_BLACK_TIP);
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_end(board, hp_picture_label(labels->controller_input[k], k), "then the red tip",
                HP_END_RED_TIP);
    hp_board *motor = add_board(c, "MOTOR");
    hp_board_group_add(motor, "Nothing: all unplugged", "");
    add_end(motor, "Hall plug", apart, HP_END_FREE);
    add_end(motor, "phase leads", apart, HP_END_FREE);
    c->board[c->boards++] = hp_power_board("BATTERY", "Controller on.", false);
    c->then = "Write down the volts between plus and minus; none of the others may show more. "
              "Battery off again.";
}

static void connect_winding(connect *c)
{
    hp_board *board = add_board(c, "MOTOR, unplugged");
    hp_board_group_add(board, "Bench supply, 5 A, a few volts",
                       "Meter on d.c. volts at the motor's own leads: volts by amperes are ohms.");
    add_phase(board, c, 0, "plus (+), meter red", HP_END_RED_CLIP);
    add_phase(board, c, 1, "minus (\u2212), meter black", HP_END_BLACK_CLIP);
    hp_board_group_add(board, "Nothing", "");
    add_phase(board, c, 2, apart, HP_END_FREE);
    c->then = "A second or two for each pair; then the other two pairs in the same way. The rotor "
              "may jerk.";
}

static void connect_spin(connect *c)
{
    hp_board *board = add_board(c, "MOTOR, unplugged");
    hp_board_group_add(board, "Meter, a.c. volts, 20 V range", "200 V range with a fast drill.");
    add_phase(board, c, 0, "red tip", HP_END_RED_TIP);
    add_phase(board, c, 1, "black tip", HP_END_BLACK_TIP);
    hp_board_group_add(board, "Nothing", "");
    add_phase(board, c, 2, apart, HP_END_FREE);
    c->then =
        "Turn the wheel at a steady speed that you know; then the other two pairs at the same "
        "speed.";
}

static void connect_pins(connect *c)
{
    hp_board *board = add_board(c, "MOTOR, every plug out");
    hp_board_group_add(board, "Meter, the range that beeps",
                       "Every pair of phase leads must beep.");
    add_phase(board, c, 0, "red tip", HP_END_RED_TIP);
    add_phase(board, c, 1, "black tip", HP_END_BLACK_TIP);
    add_phase(board, c, 2, "red tip next", HP_END_RED_TIP);
    hp_board_group_add(board, "Must never beep", "");
    hp_board_add(board, "any lead", "axle, bare shell")->thick = true;
    hp_board_add(board, "phase leads", "any Hall lead")->thick = true;
    c->then = "From each pin find the one lead it goes to, and write its colour down.";
}

static void connect_probe(connect *c)
{
    const hp_labels *labels = c->subject->labels;
    char note[120];
    snprintf(note, sizeof note, "In place of the battery: %.3g V, limit 1 A.",
             c->subject->drive->supply.emf_v);
    hp_board *board = add_board(c, "CONTROLLER, motor unplugged");
    hp_board_group_add(board, "Bench supply", note);
    add_thick(board, "red (+)", "plus (+)", HP_END_RED_CLIP);
    add_thick(board, "black (\u2212)", "minus (\u2212), meter black", HP_END_BLACK_CLIP);
    hp_board_group_add(board, "Meter, d.c. volts, 200 V range",
                       "Red tip on each output in turn, light throttle.");
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        add_thick(board, hp_picture_label(labels->controller_output[k], k),
                  "high, near 0 V or between", HP_END_RED_TIP);
    hp_board_group_add(board, "Code 100: open is 1", "Joined to the Hall plug's minus is 0.");
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        add_end(board, hp_picture_label(labels->controller_input[k], k),
                k ? "Hall minus (\u2212): 0" : "open: 1", k ? HP_END_JOINED : HP_END_FREE);
    }
    c->then = "Then the codes 110, 010, 011, 001 and 101 in the same way.";
}

static void connect_trial(connect *c)
{
    char note[200];
    const hp_advice *advice = c->subject->advice;
    bool meter = !c->subject->plan || c->subject->plan->ammeter;
    hp_phrase text = hp_phrase_begin(note, sizeof note);
    if (advice->limited && advice->limit_a > 0.0)
        hp_phrase_add(&text, "First through a limit of %.2g A.", advice->limit_a);
    else if (advice->limited)
        hp_phrase_add(&text, "First through a limit.");
    double throttle = c->subject->plan ? c->subject->plan->throttle : 0.0;
    if (throttle <= 0.0)
        throttle = c->subject->drive->controller.throttle;
    if (meter)
        hp_phrase_add(&text, "%s%s, joined before the power is.", text.used > 0 ? " " : "",
                      hp_hand_meter_bears(c->subject->drive, throttle, NULL)
                          ? "Meter on its 10 A jack"
                          : "Power meter or clamp, no hand meter");
    c->board[c->boards++] =
        hp_power_board(advice->limited ? "SUPPLY, later the BATTERY" : "BATTERY", note, meter);
    c->board[c->boards++] =
        hp_joints_board(c->subject->labels, advice->number ? &advice->wiring : NULL);
    c->then = "A switch or plug that breaks the battery's current within reach. Then light "
              "throttle; off at once if it jerks, hums or hangs at the limit.";
}

/* ---- the picture ----------------------------------------------------------------------------- */

/* What is connected for each kind; one that is not here has no picture. */
static const struct view {
    const hp_reading *reading;
    const char *what; /* in the title */
    void (*fill)(connect *c);
} views[] = {
    {&hp_reading_pins, "finding the pins", connect_pins},
    {&hp_reading_supply, "measuring the Hall supply", connect_supply},
    {&hp_reading_hand_turn, "turning by hand", connect_hand_turn},
    {&hp_reading_winding, "measuring the winding", connect_winding},
    {&hp_reading_spin, "spinning the wheel", connect_spin},
    {&hp_reading_park, "parking", connect_park},
    {&hp_reading_probe, "asking the controller", connect_probe},
    {&hp_reading_trial, "first power", connect_trial},
};

static const struct view *view_of(const hp_reading *reading)
{
    for (size_t k = 0; k < sizeof views / sizeof views[0]; k++)
        if (views[k].reading == reading)
            return &views[k];
    return NULL;
}

/* To prove that a part is broken comes before it is mended; learning needs all that a trial does.
 */
const hp_reading *hp_connect_kind(const hp_advice *advice)
{
    const hp_reading *reading = advice->kind == HP_ADVICE_REPAIR ? advice->proof
                                : advice->kind == HP_ADVICE_LEARN
                                    ? hp_reading_advised_as(HP_ADVICE_TRY)
                                : advice->danger ? NULL
                                                 : hp_advice_entry(advice);
    return view_of(reading) ? reading : NULL;
}

/* The same words as on the step's card; where the picture is of a proof, of the proof's. */
static const char *safe_text(const hp_advice *advice, const hp_plan_params *plan,
                             const hp_reading *kind)
{
    const hp_advice proof = {.kind = HP_ADVICE_READ, .reading = kind};
    return hp_safe_text(hp_card_safety(advice->kind == HP_ADVICE_REPAIR ? &proof : advice), plan);
}

static void fill(connect *c, const hp_reading *kind)
{
    const hp_advice *advice = c->subject->advice;
    const struct view *view = view_of(kind);
    hp_phrase title = hp_phrase_begin(c->title, sizeof c->title);
    hp_phrase_add(&title, "How it is connected: %s", view->what);
    if (kind->lead && advice->lead >= 0)
        hp_phrase_add(&title, " on %s", phase_name(c, advice->lead));
    else if (kind->advised_as == HP_ADVICE_TRY && advice->number)
        hp_phrase_add(&title, ", wiring %d", advice->number);
    snprintf(c->safe, sizeof c->safe, "Safe now: %s", safe_text(advice, c->subject->plan, kind));
    view->fill(c);
}

/* What the marks in the leads mean, for those that are there. */
static void put_marks(hp_flow *flow, const connect *c)
{
    char text[300];
    bool end[HP_END_COUNT] = {false}, fuse = false, ammeter = false;
    for (int b = 0; b < c->boards; b++) {
        for (int k = 0; k < c->board[b].rows; k++) {
            const hp_board_row *row = &c->board[b].row[k];
            end[row->end] = true;
            fuse = fuse || row->fuse;
            ammeter = ammeter || row->ammeter;
        }
    }
    bool clip = end[HP_END_RED_CLIP] || end[HP_END_BLACK_CLIP];
    bool tip = end[HP_END_RED_TIP] || end[HP_END_BLACK_TIP];
    hp_phrase p = hp_phrase_begin(text, sizeof text);
    if (clip)
        hp_phrase_add(&p, "Jaws: a clip. ");
    if (tip)
        hp_phrase_add(&p, "Point: a tip of the meter. ");
    if (fuse)
        hp_phrase_add(&p, "Box in a lead: the fuse. ");
    if (ammeter)
        hp_phrase_add(&p, "A in a ring: the meter for current. ");
    if (end[HP_END_FREE])
        hp_phrase_add(&p, "Ring at the end: goes nowhere, touches nothing. ");
    hp_flow_paragraph(flow, text);
}

/* In letters so many times the usual; `whole`: nothing is cut or passes the page's end. */
static double lay(const hp_canvas *canvas, const hp_look *shape, const connect *c, double top,
                  double times, bool *whole)
{
    hp_look look = *shape;
    look.small *= times;
    look.body *= times;
    hp_room room = hp_look_room(&look, top, 0.0, 0.62);
    double y = top, width = room.plot.right - room.plot.left;
    *whole = true;
    for (int k = 0; k < c->boards; k++) {
        *whole = *whole && hp_board_fits(&look, width, &c->board[k]);
        y = hp_board_draw(canvas, &look, room.plot.left, y, width, &c->board[k]);
    }
    if (look.shape != HP_SHAPE_WALL)
        room.words.top = y + 0.2 * look.gap;
    hp_flow flow = hp_flow_begin(canvas, &look, room.words);
    hp_flow_bold(&flow, c->safe);
    hp_flow_paragraph(&flow, c->then);
    put_marks(&flow, c);
    *whole = *whole && !flow.full && y <= look.height - 0.5 * look.margin;
    return hp_picture_end(&look, &flow);
}

/* As large as a page with an end holds: few leads need no small letters. */
static double draw(const hp_canvas *canvas, const hp_look *look, const void *data)
{
    const connect *c = data;
    double top = hp_picture_heading(canvas, look, c->title, c->subject->labels->machine);
    bool whole = false;
    double times = look->height > 0.0 ? LETTERS_MOST : 1.0;
    for (; times > 1.0; times = fmax(1.0, times - 0.1)) {
        lay(NULL, look, c, top, times, &whole);
        if (whole)
            break;
    }
    return lay(canvas, look, c, top, times, &whole);
}

static hp_result draw_connect(const hp_picture_subject *subject, const hp_picture_target *to,
                              hp_error *err)
{
    connect c = {.subject = subject};
    const hp_reading *kind = hp_connect_kind(subject->advice);
    if (!kind)
        return hp_error_set(err, HP_FAIL_INPUT, "nothing is to be connected for this step");
    fill(&c, kind);
    return hp_picture_put(to, c.title, draw, &c, err);
}

const hp_picture hp_picture_connect = {
    .name = "connect",
    .question = "How do I connect supply, meter and leads for this step?",
    .makers = HP_MAKER_NEXT,
    .needs = HP_NEEDS_STEP,
    .draw = draw_connect,
};
