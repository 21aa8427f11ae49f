/* The descriptors of the kinds of entries: reading_list.h has the rows. */
#include "decide/reading/reading_list.h"

#define ROW(kind) &hp_reading_##kind,

const hp_reading *const hp_readings[] = {HP_READING_KINDS(ROW) NULL};
