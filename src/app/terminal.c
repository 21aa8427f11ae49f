/* The person at the terminal: see the header. */
#include "app/terminal.h"

#include "hubphase/base/text.h"

#include <math.h>
#include <signal.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define BAR_COLUMNS 30
#define BAR_LINE    78  /* columns of the whole line, cleared at the end */
#define LONG_WORK_S 0.5 /* shorter work gets no bar: it would only flicker */
#define REDRAW_S    0.1

/* Set by the signal, read between runs. */
static volatile sig_atomic_t interrupted;

static void note_interrupt(int number)
{
    (void)number;
    interrupted = 1;
}

/* A signal that whoever started the program chose to ignore stays ignored. */
static void catch_signal(int number)
{
    struct sigaction action, before;
    memset(&action, 0, sizeof action);
    action.sa_handler = note_interrupt;
    action.sa_flags = (int)SA_RESETHAND;
    sigemptyset(&action.sa_mask);
    if (sigaction(number, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
        sigaction(number, &action, NULL);
}

void hp_terminal_catch_signals(void)
{
    catch_signal(SIGINT);
    catch_signal(SIGTERM);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

bool hp_terminal_colour(FILE *out)
{
    const char *no_colour = getenv("NO_COLOR"), *term = getenv("TERM");
    if (no_colour && no_colour[0])
        return false;
    return isatty(fileno(out)) && term && term[0] && strcmp(term, "dumb") != 0;
}

void hp_terminal_line(FILE *out, const char *format, ...)
{
    char text[2400], clean[sizeof text];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    fprintf(out, "%s\n", hp_text_clean(text, clean, sizeof clean));
}

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

hp_bar hp_bar_begin(bool quiet)
{
    const char *term = getenv("TERM");
    bool dumb = !term || strcmp(term, "dumb") == 0;
    return (hp_bar){.wanted = !quiet && !dumb && isatty(STDERR_FILENO), .began = now()};
}

/* ", 2 min 5 s left"; empty before anything is done. */
static void left_text(double passed, int done, int total, char *out, size_t size)
{
    out[0] = '\0';
    if (done <= 0)
        return;
    long seconds = (long)ceil(passed / done * (total - done));
    if (seconds >= 3600)
        snprintf(out, size, ", %ld h %ld min left", seconds / 3600, seconds % 3600 / 60);
    else if (seconds >= 60)
        snprintf(out, size, ", %ld min %ld s left", seconds / 60, seconds % 60);
    else
        snprintf(out, size, ", %ld s left", seconds);
}

static void draw(double passed, int done, int total)
{
    char bar[BAR_COLUMNS + 1], left[40], line[160];
    int filled = total > 0 ? (int)((double)BAR_COLUMNS * done / total) : 0;
    for (int k = 0; k < BAR_COLUMNS; k++)
        bar[k] = k < filled ? '#' : '.';
    bar[BAR_COLUMNS] = '\0';
    left_text(passed, done, total, left, sizeof left);
    snprintf(line, sizeof line, "[%s] %d of %d runs%s", bar, done, total, left);
    fprintf(stderr, "\r%-*s", BAR_LINE, line);
    fflush(stderr);
}

int hp_bar_step(void *user, int done, int total)
{
    hp_bar *bar = user;
    double time = now();
    if (bar->wanted && time - bar->began > LONG_WORK_S && time - bar->last > REDRAW_S) {
        draw(time - bar->began, done, total);
        bar->drawn = true;
        bar->last = time;
    }
    return interrupted ? 1 : 0;
}

void hp_bar_end(hp_bar *bar)
{
    if (bar->drawn)
        fprintf(stderr, "\r%*s\r", BAR_LINE, "");
    bar->drawn = false;
}
