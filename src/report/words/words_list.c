/* The words of the kinds of entries: decide/reading/reading_list.h has the rows. */
#include "decide/reading/reading_list.h"
#include "report/words/words.h"

#define ROW(kind) &hp_words_##kind,

const hp_words *const hp_words_list[] = {HP_READING_KINDS(ROW) NULL};
