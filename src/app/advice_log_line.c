/* The command line that logs an advised step: see the header. */
#include "app/advice_log_line.h"

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"

char *hp_advice_log_line(const hp_advice_session *s, const char *chosen, const hp_advice *advice,
                         char *out, size_t size)
{
    char scenario[HP_BENCH_PATH_SIZE], log[HP_BENCH_PATH_SIZE + 8];
    hp_shell_file(s->session.scenario.path, scenario, sizeof scenario);
    snprintf(log, sizeof log, "--log=%s", chosen ? chosen : "");
    const char *const begin[] = {"hubphase", "log", scenario, chosen ? log : NULL, NULL};
    return hp_step_log_line(s->bench, advice, begin, out, size);
}
