/* What a group gets: see the header. */
#include "report/handout/handout_draw.h"

#include "base/random.h"

#include <string.h>

#define KINDS     5
#define KIND_MOST 3 /* of eight: with two of everything else there is still a choice */

enum { DRAW_WIRINGS = 1, DRAW_BLANKS };

/* A stream of its own for each group and sheet. */
static hp_random stream(unsigned long long seed, int group, int what)
{
    return hp_random_init(seed, (uint64_t)group * 16 + (uint64_t)what);
}

int hp_handout_kind(const hp_judgement *judgement)
{
    switch (judgement->verdict) {
    case HP_VERDICT_CORRECT: return 0;
    case HP_VERDICT_REVERSE: return 1;
    case HP_VERDICT_ROUGH: return judgement->direction == HP_DIRECTION_BACKWARD ? 3 : 2;
    case HP_VERDICT_STALLED: return 4;
    case HP_VERDICT_UNDECIDED:
    case HP_VERDICT_COUNT: break;
    }
    return -1;
}

static void shuffle(int *list, int count, hp_random *random)
{
    for (int k = count - 1; k > 0; k--) {
        int other = (int)hp_random_below(random, (uint32_t)k + 1);
        int keep = list[k];
        list[k] = list[other];
        list[other] = keep;
    }
}

/* Takes wirings in the order of `pool`: first one of each kind, then up to `most` of each, then
 * whatever there is. */
static int take(const hp_survey *survey, const int *pool, int count, int most,
                bool taken[HP_WIRING_COUNT + 1], int of_kind[KINDS], int *number, int have)
{
    for (int k = 0; k < count && have < HP_HANDOUT_WIRINGS; k++) {
        int kind = hp_handout_kind(&survey->judgement[pool[k] - 1]);
        if (taken[pool[k]] || of_kind[kind] >= most)
            continue;
        taken[pool[k]] = true;
        of_kind[kind]++;
        number[have++] = pool[k];
    }
    return have;
}

void hp_handout_draw_wirings(const hp_survey *survey, int given, unsigned long long seed, int group,
                             int number[HP_HANDOUT_WIRINGS])
{
    int pool[HP_WIRING_COUNT], count = 0, of_kind[KINDS] = {0}, have = 0;
    bool taken[HP_WIRING_COUNT + 1] = {false};
    hp_random random = stream(seed, group, DRAW_WIRINGS);
    memset(number, 0, HP_HANDOUT_WIRINGS * sizeof *number);
    for (int n = 1; n <= HP_WIRING_COUNT; n++)
        if (n != given && hp_handout_kind(&survey->judgement[n - 1]) >= 0)
            pool[count++] = n;
    shuffle(pool, count, &random);
    have = take(survey, pool, count, 1, taken, of_kind, number, have);
    shuffle(pool, count, &random);
    have = take(survey, pool, count, KIND_MOST, taken, of_kind, number, have);
    have = take(survey, pool, count, HP_WIRING_COUNT, taken, of_kind, number, have);
    shuffle(number, have, &random);
}

/* ---- blanks ---------------------------------------------------------------------------------- */

static bool every_column_is_blank_somewhere(int rows, bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT])
{
    for (int c = 0; c < HP_BLANK_COUNT; c++) {
        bool any = false;
        for (int r = 0; r < rows; r++)
            any = any || blank[r][c];
        if (!any)
            return false;
    }
    return true;
}

void hp_handout_draw_blanks(int rows, unsigned long long seed, int group,
                            bool blank[HP_HANDOUT_STEPS][HP_BLANK_COUNT])
{
    hp_random random = stream(seed, group, DRAW_BLANKS);
    do {
        memset(blank, 0, HP_HANDOUT_STEPS * sizeof *blank);
        for (int r = 0; r < rows; r++) {
            blank[r][hp_random_below(&random, 2) ? HP_BLANK_CODE : HP_BLANK_PAIR] = true;
            blank[r][hp_random_below(&random, 2) ? HP_BLANK_FIELD : HP_BLANK_AHEAD] = true;
        }
    } while (rows > 1 && !every_column_is_blank_somewhere(rows, blank));
}
