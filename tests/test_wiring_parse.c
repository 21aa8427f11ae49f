/*
 * A wiring as a person writes it: by number, by labels, by axis letters.
 */
#include "check.h"

#include "hubphase/record/scenario.h"

#define FILL(field, u, v, w)                                                                       \
    do {                                                                                           \
        strcpy(labels.field[HP_U], u);                                                             \
        strcpy(labels.field[HP_V], v);                                                             \
        strcpy(labels.field[HP_W], w);                                                             \
    } while (0)

static hp_labels barrow(void)
{
    hp_labels labels = hp_labels_default();
    FILL(motor_sensor, "yellow", "green", "blue");
    FILL(motor_lead, "yellow", "green", "blue");
    return labels;
}

static void check_wiring(const char *text, const hp_labels *labels, int number)
{
    hp_wiring wiring;
    hp_error err = hp_error_none();
    check_true(hp_wiring_parse(text, labels, &wiring, &err) == HP_OK, "%s: %s", text, err.text);
    check_int(hp_wiring_number(&wiring), number);
}

static void check_refused(const char *text, const hp_labels *labels, const char *message)
{
    hp_wiring wiring = {{7, 7, 7}, {7, 7, 7}};
    hp_error err = hp_error_none();
    check_int(hp_wiring_parse(text, labels, &wiring, &err), HP_FAIL_INPUT);
    check_int(err.code, HP_FAIL_INPUT);
    check_true(strcmp(err.text, message) == 0, "\"%s\"\nis not\n\"%s\"", err.text, message);
    check_int(wiring.sensor[0], 7); /* left alone */
    check_int(hp_wiring_parse(text, labels, &wiring, NULL), HP_FAIL_INPUT);
}

static void wirings_by_number(void **state)
{
    (void)state;
    hp_labels labels = barrow();
    for (int number = 1; number <= HP_WIRING_COUNT; number++) {
        char text[32];
        snprintf(text, sizeof text, " %d ", number);
        check_wiring(text, &labels, number);
        check_wiring(text + 1, &labels, number);
    }
    check_wiring("007", &labels, 7);
    check_refused("0", &labels, "wiring 0 does not exist, must be 1 to 36");
    check_refused("37", &labels, "wiring 37 does not exist, must be 1 to 36");
    check_refused("99999999999999999999", &labels,
                  "wiring 99999999999999999999 does not exist, must be 1 to 36");
}

/* Numbers count sensor orders first, in the sequence UVW, UWV, VUW, VWU, WUV, WVU. */
static void every_wiring_by_axis_letters(void **state)
{
    (void)state;
    static const char *const order[] = {"U V W", "U W V", "V U W", "V W U", "W U V", "W V U"};
    hp_labels labels = barrow();
    for (int s = 0; s < 6; s++)
        for (int p = 0; p < 6; p++) {
            char text[32];
            snprintf(text, sizeof text, "%s / %s", order[s], order[p]);
            check_wiring(text, &labels, 1 + 6 * s + p);
        }
}

static void every_wiring_by_its_labels(void **state)
{
    (void)state;
    hp_labels labels = barrow();
    check_wiring("yellow green blue / yellow green blue", &labels, 1);
    check_wiring("yellow,green,blue/blue,green,yellow", &labels, 6);
    check_wiring("  Green , YELLOW\tblue  /W u v ", &labels, 17);
    check_wiring("u green W / V blue yellow", &labels, 4);
    /* Sensors and phases have their own labels. */
    FILL(motor_sensor, "white", "brown", "grey");
    check_wiring("grey white brown / green yellow blue", &labels, 27);
}

static void labels_with_blanks_commas_and_slashes(void **state)
{
    (void)state;
    hp_labels labels = hp_labels_default();
    FILL(motor_sensor, "blue", "blue white", "blue/red");
    FILL(motor_lead, "1", "2", "left, thick");
    check_wiring("blue blue white blue/red / 1 2 left, thick", &labels, 1);
    check_wiring("blue/red,blue white,blue/left, thick,2,1", &labels, 36);
}

/* Terminals may be marked with the letters in another order: then the mark counts. */
static void a_label_wins_over_an_axis_letter(void **state)
{
    (void)state;
    hp_labels labels = hp_labels_default();
    FILL(motor_lead, "W", "V", "U");
    check_wiring("U V W / U V W", &labels, 6);
}

static void mistakes_are_named(void **state)
{
    (void)state;
    hp_labels labels = barrow();
    const char *const sensors = "U (yellow), V (green), W (blue)";
    char message[512];
    snprintf(message, sizeof message,
             "\"purple\" in \"yellow purple blue / U V W\" is no Hall lead of this motor, must be "
             "one of %s",
             sensors);
    check_refused("yellow purple blue / U V W", &labels, message);
    snprintf(message, sizeof message,
             "\"x\" in \"U V W / U V x\" is no phase lead of this motor, must be one of %s",
             sensors);
    check_refused("U V W / U V x", &labels, message);
    check_refused("green V W / U V W", &labels,
                  "\"green V W / U V W\" names the Hall lead V (green) twice, must name each once");
    snprintf(message, sizeof message,
             "\"U V / U V W\" names too few Hall leads, must name three of %s", sensors);
    check_refused("U V / U V W", &labels, message);
    snprintf(message, sizeof message,
             "\"U V W /\" names too few phase leads, must name three of %s", sensors);
    check_refused("U V W /", &labels, message);
    snprintf(message, sizeof message, "\"\" names too few Hall leads, must name three of %s",
             sensors);
    check_refused("", &labels, message);
    check_refused("U V W", &labels,
                  "\"U V W\" must have a slash between three Hall leads and three phase leads, or "
                  "be a number from 1 to 36");
    check_refused("U V W U V W", &labels,
                  "\"U V W U V W\" must have a slash between three Hall leads and three phase "
                  "leads, or be a number from 1 to 36");
    check_refused("U V W / U V W U", &labels,
                  "\"U V W / U V W U\" goes on after three phase leads, must end there");
    /* A number with something behind it is no number. */
    snprintf(message, sizeof message,
             "\"7x\" in \"7x\" is no Hall lead of this motor, must be one of %s", sensors);
    check_refused("7x", &labels, message);
    /* A prefix of a label is not the label. */
    snprintf(message, sizeof message,
             "\"yell\" in \"yell green blue / U V W\" is no Hall lead of this motor, must be one "
             "of %s",
             sensors);
    check_refused("yell green blue / U V W", &labels, message);
}

static void long_text_is_cut_in_messages(void **state)
{
    (void)state;
    static char text[5000];
    hp_labels labels = barrow();
    hp_wiring wiring;
    hp_error err = hp_error_none();
    memset(text, 'a', sizeof text - 1);
    check_int(hp_wiring_parse(text, &labels, &wiring, &err), HP_FAIL_INPUT);
    check_text_contains(err.text, "is no Hall lead of this motor, must be one of U (yellow)");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wirings_by_number),
        cmocka_unit_test(every_wiring_by_axis_letters),
        cmocka_unit_test(every_wiring_by_its_labels),
        cmocka_unit_test(labels_with_blanks_commas_and_slashes),
        cmocka_unit_test(a_label_wins_over_an_axis_letter),
        cmocka_unit_test(mistakes_are_named),
        cmocka_unit_test(long_text_is_cut_in_messages),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
