/* Which key was meant: see scenario_keys.h. */
#include "record/scenario/scenario_keys.h"

#include <string.h>

#define WORD_MAX 63

static int least(int a, int b, int c)
{
    int m = a < b ? a : b;
    return m < c ? m : c;
}

int hp_key_distance(const char *a, const char *b)
{
    size_t m = strlen(a), n = strlen(b);
    if (m > WORD_MAX || n > WORD_MAX)
        return (int)(m > n ? m : n); /* no more than that */
    /* d[i][j]: from the first i letters of a to the first j of b. */
    int d[WORD_MAX + 1][WORD_MAX + 1];
    for (size_t i = 0; i <= m; i++)
        d[i][0] = (int)i;
    for (size_t j = 0; j <= n; j++)
        d[0][j] = (int)j;
    for (size_t i = 1; i <= m; i++)
        for (size_t j = 1; j <= n; j++) {
            int change = a[i - 1] != b[j - 1];
            d[i][j] = least(d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + change);
            bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped && d[i - 2][j - 2] + 1 < d[i][j])
                d[i][j] = d[i - 2][j - 2] + 1;
        }
    return d[m][n];
}

/* Whether `word` of this length is one of the words, joined by underscores, of `name`. */
static bool has_word(const char *name, const char *word, size_t length)
{
    for (;;) {
        size_t here = strcspn(name, "_");
        if (here == length && strncmp(name, word, length) == 0)
            return true;
        if (!name[here])
            return false;
        name += here + 1;
    }
}

/* Words of three letters or more that two names share; shorter ones are mostly units. */
static int words_shared(const char *a, const char *b)
{
    int shared = 0;
    for (;;) {
        size_t length = strcspn(a, "_");
        if (length >= 3 && has_word(b, a, length))
            shared++;
        if (!a[length])
            return shared;
        a += length + 1;
    }
}

/* A misspelling differs in a third of its letters at most; a name from memory, such as
 * resistance_ohm, shares words. */
hp_key_id hp_key_nearest(const char *section, const char *name)
{
    hp_key_id misspelt = HP_KEY_COUNT, remembered = HP_KEY_COUNT;
    int best_distance = (int)(strlen(name) / 3) + 1, most_shared = 0;
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++) {
        if (!hp_key_is_in(id, section))
            continue;
        int distance = hp_key_distance(name, hp_key_name(id));
        if (distance < best_distance) {
            best_distance = distance;
            misspelt = id;
        }
        int shared = words_shared(name, hp_key_name(id));
        if (shared > most_shared) {
            most_shared = shared;
            remembered = id;
        }
    }
    return misspelt != HP_KEY_COUNT ? misspelt : remembered;
}

hp_key_id hp_key_elsewhere(const char *section, const char *name)
{
    for (hp_key_id id = 0; id < HP_KEY_COUNT; id++)
        if (!hp_key_is_in(id, section) && strcmp(hp_key_name(id), name) == 0)
            return id;
    return HP_KEY_COUNT;
}
