/* The card of a step as JSON: see the header. */
#include "report/data/card_json.h"

#include <string.h>

static json_t *lines(hp_json *b, int count, const char *line, size_t stride)
{
    json_t *array = json_array();
    for (int k = 0; k < count; k++)
        hp_json_append(b, array, hp_json_text(line + (size_t)k * stride));
    return array;
}

/* For each the number of the how-to that it belongs to, from 1; null: the whole card. */
static json_t *steps_of(hp_json *b, const hp_card *words, int count, const int *at)
{
    json_t *array = json_array();
    for (int k = 0; k < count; k++)
        hp_json_append(b, array, at[k] < words->hows ? json_integer(at[k] + 1) : json_null());
    return array;
}

json_t *hp_json_words(hp_json *b, const char *line)
{
    json_t *array = json_array();
    for (; *line; line += strlen(line) + 1)
        hp_json_append(b, array, hp_json_text(line));
    return array;
}

void hp_json_set_card(hp_json *b, json_t *object, const hp_card *words)
{
    hp_json_set(b, object, "title", hp_json_text(words->title));
    hp_json_set(b, object, "reason", hp_json_text(words->reason));
    hp_json_set(b, object, "safe", hp_json_text(words->safe));
    hp_json_set(b, object, "how", lines(b, words->hows, words->how[0], sizeof words->how[0]));
    hp_json_set(b, object, "details",
                lines(b, words->details, words->detail[0], sizeof words->detail[0]));
    hp_json_set(b, object, "detail_steps", steps_of(b, words, words->details, words->detail_at));
    hp_json_set(b, object, "cautions",
                lines(b, words->cautions, words->caution[0], sizeof words->caution[0]));
    hp_json_set(b, object, "caution_steps", steps_of(b, words, words->cautions, words->caution_at));
    hp_json_set(b, object, "healthy", hp_json_text(words->healthy));
    hp_json_set(b, object, "write_down", hp_json_text(words->note));
}
