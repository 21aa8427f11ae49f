/* The command line that logs an advised step: see the header. */
#include "app/advice_log_line.h"

#include "base/shell_word.h"
#include "report/words/case_card.h"
#include "report/words/words.h"

char *hp_advice_log_line(const hp_advice_session *s, const char *chosen, const hp_advice *advice,
                         char *out, size_t size)
{
    char scenario[HP_BENCH_PATH_SIZE];
    hp_log_line l = {.out = out, .size = size};
    out[0] = '\0';
    bool ends = advice->kind == HP_ADVICE_DONE || advice->kind == HP_ADVICE_GIVE_UP ||
                advice->kind == HP_ADVICE_COUNT;
    if (ends)
        return out;
    hp_log_word(&l, "hubphase");
    hp_log_word(&l, "log");
    hp_log_word(&l, "%s", hp_shell_file(s->session.scenario.path, scenario, sizeof scenario));
    if (chosen)
        hp_log_word(&l, "--log=%s", chosen);
    hp_card_context context = hp_case_card_context(s->bench);
    hp_log_options(&context, advice, hp_advice_entry(advice), &l);
    return out;
}
