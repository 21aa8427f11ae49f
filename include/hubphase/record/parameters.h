/*
 * The parameters a run was made with, each with where it came from, for tables and JSON.
 */
#ifndef HUBPHASE_RECORD_PARAMETERS_H
#define HUBPHASE_RECORD_PARAMETERS_H

#include "hubphase/base/api.h"
#include "hubphase/base/result.h"
#include "hubphase/base/text.h"

#include <stddef.h>
#include <stdio.h>

HP_API_BEGIN

typedef enum hp_origin {
    HP_ORIGIN_FILE,    /* stated in the scenario */
    HP_ORIGIN_DEFAULT, /* a default; `why` says where that comes from */
    HP_ORIGIN_DERIVED, /* worked out from other entries; `why` says how */
    HP_ORIGIN_OPTION,  /* set on the command line */
    HP_ORIGIN_COUNT
} hp_origin;

typedef struct hp_parameter {
    char key[96];   /* scenario key path, unit included: "motor.resistance_between_leads_ohm" */
    char value[96]; /* as it would be written in the scenario */
    double number;  /* its numeric value, NAN where it is text */
    hp_origin origin;
    int line;      /* line in the scenario, 0 when not from there */
    char why[192]; /* source or reason; may be empty for HP_ORIGIN_FILE */
} hp_parameter;

/* A list in the order of the scenario documentation; owns its array. Zero-initialise before use. */
typedef struct hp_parameters {
    hp_parameter *item;
    size_t count;
    size_t capacity;
} hp_parameters;

hp_result hp_parameters_add(hp_parameters *list, const hp_parameter *parameter);
/* The entry with this key, or NULL; borrowed. */
hp_parameter *hp_parameters_find(hp_parameters *list, const char *key);
void hp_parameters_free(hp_parameters *list);
const char *hp_origin_name(hp_origin origin); /* "scenario", "default", "derived", "option" */

/* Prints the list section by section: key, value, where it comes from and why, in 80 columns. */
void hp_parameters_print(const hp_parameters *list, const hp_screen *out);

HP_API_END

#endif
