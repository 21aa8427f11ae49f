/*
 * A command line, one word a line. It is parsed as the program would; what would be done then is
 * left out: the first call that leads there, or leaving the program, comes back here.
 *
 * argp leaves by exit(), which nothing can stand in for inside the C library. So a function is to
 * be called at the exit, and never returns there. POSIX promises nothing of that; glibc, which
 * calls one after the other with no lock held, bears it.
 */
#include "fuzz.h"

#include "app/command_table.h"
#include "app/session.h"

#include <setjmp.h>
#include <unistd.h>

#define WORDS 40

static jmp_buf back;
static bool parsing;

int __real_atexit(void (*function)(void));
int __wrap_atexit(void (*function)(void));
void __wrap_hp_terminal_catch_signals(void);
hp_exit __wrap_hp_terminal_end(hp_exit status);
hp_exit __wrap_hp_session_open(hp_session *session, const char *command, const char *file,
                               const hp_run_choice *choice);
hp_result __wrap_hp_scenario_load_on(const char *path, hp_scenario *scenario,
                                     const hp_screen *diagnostics, hp_error *err);
int __wrap_hp_file_open(hp_file *file, const char *path, bool durable);
hp_result __wrap_hp_output_folder(const char *path, bool *made, hp_error *err);

static void come_back(void)
{
    if (parsing)
        longjmp(back, 1);
}

int __wrap_atexit(void (*function)(void))
{
    (void)function;
    return 0;
}

void __wrap_hp_terminal_catch_signals(void)
{
}

hp_exit __wrap_hp_terminal_end(hp_exit status)
{
    return status;
}

hp_exit __wrap_hp_session_open(hp_session *session, const char *command, const char *file,
                               const hp_run_choice *choice)
{
    (void)session;
    promise(command && file);
    promise(choice->starts >= 0 && choice->starts <= HP_SURVEY_STARTS_MAX);
    promise(choice->jobs >= 0 && choice->jobs <= HP_JOBS_MAX);
    promise(choice->throttle_percent <= 100.0);
    longjmp(back, 2);
}

hp_result __wrap_hp_scenario_load_on(const char *path, hp_scenario *scenario,
                                     const hp_screen *diagnostics, hp_error *err)
{
    (void)scenario, (void)diagnostics, (void)err;
    promise(path != NULL);
    longjmp(back, 2);
}

int __wrap_hp_file_open(hp_file *file, const char *path, bool durable)
{
    (void)file, (void)path, (void)durable;
    longjmp(back, 2);
}

hp_result __wrap_hp_output_folder(const char *path, bool *made, hp_error *err)
{
    (void)path, (void)made, (void)err;
    longjmp(back, 2);
}

/* Cuts the text at its line ends into words behind "hubphase"; returns how many. */
static int cut(char *text, char **word)
{
    int count = 0;
    word[count++] = (char *)"hubphase";
    for (char *at = text; at && count < WORDS; count++) {
        word[count] = at;
        at = strchr(at, '\n');
        if (at)
            *at++ = '\0';
    }
    word[count] = NULL;
    return count;
}

/* Words go to /dev/null but for the sanitizers' own. */
static void hush(void)
{
    static bool hushed;
    if (hushed)
        return;
    hushed = true;
    int keep = dup(STDERR_FILENO);
    promise(keep >= 0 && freopen("/dev/null", "w", stdout));
    (void)keep;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static char *text; /* what is pointed to stays until the next time */
    static char *word[WORDS + 1];
    free(text);
    text = fuzz_text(data, size);
    hush();
    int count = cut(text, word);
    __real_atexit(come_back);
    parsing = true;
    if (setjmp(back) == 0)
        hp_program_run(count, word);
    parsing = false;
    return 0;
}
