/*
 * Colours of leads: see the header.
 *
 * The words are the colours of insulation; the two-letter codes are those of IEC 60757 (memory).
 * The tints are chosen to be told apart from one another on paper and screen; nothing depends on
 * them, because the name stands beside them.
 */
#include "report/picture/lead_tint.h"

#include <ctype.h>
#include <stddef.h>
#include <string.h>
#include <strings.h>

static const struct {
    const char *word;
    const char *colour;
} words[] = {
    {"black", "#1a1a1a"},     {"BK", "#1a1a1a"},   {"brown", "#7a4a1e"},  {"BN", "#7a4a1e"},
    {"red", "#d42a2a"},       {"RD", "#d42a2a"},   {"orange", "#f08a1c"}, {"OG", "#f08a1c"},
    {"yellow", "#f2d100"},    {"YE", "#f2d100"},   {"green", "#1f9d3f"},  {"GN", "#1f9d3f"},
    {"blue", "#2b62d9"},      {"BU", "#2b62d9"},   {"violet", "#8d4bc4"}, {"VT", "#8d4bc4"},
    {"purple", "#8d4bc4"},    {"grey", "#8c8c8c"}, {"gray", "#8c8c8c"},   {"GY", "#8c8c8c"},
    {"white", "#ffffff"},     {"WH", "#ffffff"},   {"pink", "#f39ab5"},   {"PK", "#f39ab5"},
    {"turquoise", "#25b7b7"}, {"TQ", "#25b7b7"},
};

/* Codes are capitals, so that "be" or "og" in a sentence is no colour. */
static const char *colour_of(const char *at, size_t length)
{
    for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
        const char *word = words[k].word;
        if (strlen(word) != length)
            continue;
        if (isupper((unsigned char)word[0]) ? strncmp(at, word, length) == 0
                                            : strncasecmp(at, word, length) == 0)
            return words[k].colour;
    }
    return NULL;
}

const char *hp_lead_tint(const char *label)
{
    while (*label) {
        size_t length = 0;
        while (isalpha((unsigned char)label[length]))
            length++;
        const char *colour = colour_of(label, length);
        if (colour)
            return colour;
        label += length > 0 ? length : 1;
    }
    return NULL;
}
