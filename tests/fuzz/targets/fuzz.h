/* What the fuzz targets share: an input is cut into pieces, and a broken promise ends the program.
 */
#ifndef HUBPHASE_TESTS_FUZZ_FUZZ_H
#define HUBPHASE_TESTS_FUZZ_FUZZ_H

#include "hubphase.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define promise(condition)                                                                         \
    do {                                                                                           \
        if (!(condition)) {                                                                        \
            fprintf(stderr, "%s:%d: broken promise: %s\n", __FILE__, __LINE__, #condition);        \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

/* A terminated copy, so that a sanitizer sees every byte that is read beyond. */
static inline char *fuzz_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    promise(text != NULL);
    memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

/* A machine with names of its own for the leads, for the targets that want one. */
static inline const hp_scenario *fuzz_scenario(void)
{
    static const char text[] =
        "hubphase: 1\nname: Fuzz\nmotor: {pole_pairs: 10, resistance_between_leads_ohm: 0.3, "
        "no_load_speed_rpm_at_v: {speed_rpm: 300, volts: 36}}\n"
        "leads: {motor_phases: {U: yellow, V: green, W: blue}, motor_sensors: {U: red, V: white, "
        "W: black}}\n";
    static hp_scenario scenario;
    hp_error err = hp_error_none();
    if (scenario.parameters.count == 0)
        promise(hp_scenario_read(text, strlen(text), "fuzz.yaml", &scenario, NULL, &err) == HP_OK);
    return &scenario;
}

/* A stream that takes everything and keeps nothing. */
static inline FILE *fuzz_nowhere(void)
{
    static FILE *nowhere;
    if (!nowhere)
        nowhere = fopen("/dev/null", "w");
    promise(nowhere != NULL);
    return nowhere;
}

#endif
