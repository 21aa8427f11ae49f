/*
 * Scenario files that nobody would write: good ones with letters changed, moved, doubled and lost.
 * Nothing may crash, hang or leak (the sanitizers watch), and what is accepted must be a drive that
 * the model accepts.
 */
#include "scenario_text.h"

#include "base/random.h"

#include <dirent.h>

#define FILE_NAME "test_scenario_mutations.yaml"
#define ROUNDS    3000 /* chosen: a few seconds with sanitizers */
#define SEEDS_MAX 32
#define ROOM      16384

typedef struct seeds {
    int count;
    char *text[SEEDS_MAX]; /* owned */
} seeds;

static void read_seeds(seeds *s)
{
    DIR *folder = opendir(HP_SCENARIO_DIR);
    struct dirent *item;
    check_true(folder != NULL, "%s cannot be opened", HP_SCENARIO_DIR);
    s->count = 0;
    while (s->count < SEEDS_MAX && (item = readdir(folder)) != NULL) {
        char path[1024];
        if (!strstr(item->d_name, ".yaml"))
            continue;
        snprintf(path, sizeof path, "%s/%s", HP_SCENARIO_DIR, item->d_name);
        FILE *file = fopen(path, "rb");
        check_true(file != NULL, "%s cannot be opened", path);
        char *text = calloc(1, ROOM / 2);
        assert_non_null(text);
        size_t size = fread(text, 1, ROOM / 2 - 1, file);
        fclose(file);
        check_true(size > 0 && strlen(text) == size, "%s is no text", path);
        s->text[s->count++] = text;
    }
    closedir(folder);
    check_true(s->count > 0, "no scenarios");
}

/* Pieces that parsers and readers of numbers stumble over. */
static const char *const pieces[] = {
    "\t",       "\n",
    "  ",       "- ",
    "? ",       ": ",
    "{",        "}",
    "[",        "]",
    "&a ",      "*a",
    "!!int ",   "|\n",
    "> ",       "\"",
    "'",        "#",
    "%",        "---\n",
    "...\n",    "\r\n",
    "\xC3\xBC", "\xE2\x80\xA8",
    "\xC2\x85", "\xEF\xBB\xBF",
    ",",        "<<: ",
    "1e9",      "-1",
    "0",        "none",
    ".nan",     "1e-300",
    "1e300",    "99999",
    "off",      "\\u0000",
    "V>W",      "leads:\n",
    "U",        "\xFF",
    "motor:",   "hubphase",
    "~",        "360",
    "0.5e",     "200",
    "-0",       "sine: 1",
};
#define PIECES ((uint32_t)(sizeof pieces / sizeof pieces[0]))

static size_t insert(char *text, size_t size, size_t at, const char *piece, size_t length)
{
    if (size + length >= ROOM)
        return size;
    memmove(text + at + length, text + at, size - at);
    memcpy(text + at, piece, length);
    return size + length;
}

static size_t mutate(hp_random *random, char *text, size_t size)
{
    size_t at = hp_random_below(random, (uint32_t)size + 1);
    size_t length = 1 + hp_random_below(random, 24);
    size_t from = hp_random_below(random, (uint32_t)size + 1);
    const char *piece = pieces[hp_random_below(random, PIECES)];
    char copy[32];
    switch (hp_random_below(random, 5)) {
    case 0: /* lost */
        length = length < size - at ? length : size - at;
        memmove(text + at, text + at + length, size - at - length);
        return size - length;
    case 1: return insert(text, size, at, piece, strlen(piece));
    case 2: /* changed */
        if (at < size)
            text[at] = (char)(32 + hp_random_below(random, 95));
        return size;
    case 3: /* a value replaced */
        while (at < size && text[at] != ':')
            at++;
        return at + 2 <= size ? insert(text, size, at + 2, piece, strlen(piece)) : size;
    default: /* doubled elsewhere */
        length = length < size - from ? length : size - from;
        memcpy(copy, text + from, length);
        return insert(text, size, at, copy, length);
    }
}

static void mutated_scenarios_are_read_or_refused(void **state)
{
    (void)state;
    static char text[ROOM];
    seeds s;
    int accepted = 0;
    read_seeds(&s);
    for (int round = 0; round < ROUNDS; round++) {
        hp_random random = hp_random_init(2718, (uint64_t)round);
        const char *seed = s.text[hp_random_below(&random, (uint32_t)s.count)];
        size_t size = strlen(seed);
        memcpy(text, seed, size);
        for (uint32_t k = 1 + hp_random_below(&random, 6); k > 0; k--)
            size = mutate(&random, text, size);
        loaded l = scenario_load_bytes(FILE_NAME, text, size);
        hp_error err = hp_error_none();
        if (l.result == HP_OK) {
            check_true(hp_drive_check(&l.scenario.drive, &err) == HP_OK, "round %d: %s", round,
                       err.text);
            check_true(l.printed[0] == '\0', "round %d: %s", round, l.printed);
            accepted++;
        } else {
            check_true(l.result == HP_FAIL_INPUT && l.printed[0] != '\0', "round %d: %s", round,
                       l.err.text);
            /* The model's own checks find nothing that the reader has not told with its place. */
            check_true(!strstr(l.printed, FILE_NAME ": error: motor.") ||
                           strstr(l.printed, "is missing"),
                       "round %d: %s", round, l.printed);
        }
        loaded_free(&l);
    }
    for (int k = 0; k < s.count; k++)
        free(s.text[k]);
    /* Else the mutations are too wild to reach beyond the parser. */
    check_true(accepted > ROUNDS / 20, "only %d of %d were accepted", accepted, ROUNDS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mutated_scenarios_are_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
