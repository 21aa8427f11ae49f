/* The person at the terminal: see the header. */
#include "app/terminal.h"

#include "app/command_table.h"
#include "hubphase/base/text.h"

#include <errno.h>
#include <math.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <time.h>
#include <unistd.h>

#define BAR_COLUMNS 30  /* of the bar in a line of BAR_LINE */
#define BAR_LINE    78  /* columns of the whole line at most, cleared at the end */
#define LONG_WORK_S 0.5 /* shorter work gets no bar: it would only flicker */
#define REDRAW_S    0.1

/* Work that heeds the wish ends within this; the rest is ended. Below half a second, which a person
 * still takes for at once. */
#define GRACE_MS 350
/* The same where the end has something to tell that is worth the wait. */
#define PATIENT_MS 3000

/* ---- signals --------------------------------------------------------------------------------- */

/* The number of the signal that asks to end; 0: none. */
static atomic_int interrupted; /* threads that simulate read it, too */
/* What there is to clean up, for a handler to read: each slot changes in one step. */
#define KEPT_MAX 8
static const hp_file *volatile kept[KEPT_MAX];
static const char *volatile kept_folder; /* made by us; goes if it is empty; NULL: none */
static volatile sig_atomic_t bar_drawn;
/* Blanks the bar's line; whole before a bar is drawn. */
static char clear_bar[BAR_LINE + 3];
static const char *volatile command_name = "hubphase";
static timer_t grace;
static bool has_grace;
static volatile sig_atomic_t grace_ms = GRACE_MS;

/* Only calls that POSIX allows in a handler (2.4.3, from memory). */
static void write_text(const char *text)
{
    ssize_t written = write(STDERR_FILENO, text, strlen(text));
    (void)written; /* there is nobody left to tell */
}

/* Leaves as a shell expects it: 130 after Ctrl-C, by the signal itself else. */
static void leave(int number)
{
    if (number == SIGINT)
        _exit(HP_EXIT_CANCELLED);
    signal(number, SIG_DFL);
    raise(number);
    sigset_t these;
    sigemptyset(&these);
    sigaddset(&these, number);
    pthread_sigmask(SIG_UNBLOCK, &these, NULL);
    _exit(HP_EXIT_CANCELLED);
}

/* Ends the program now: unfinished files go, the line of the bar is cleared. */
static void end_now(int number)
{
    for (int k = 0; k < KEPT_MAX; k++) {
        const hp_file *file = kept[k];
        if (file && file->temporary[0])
            unlinkat(file->folder, file->temporary, 0);
    }
    if (kept_folder)
        rmdir(kept_folder);
    if (bar_drawn)
        write_text(clear_bar);
    write_text(command_name);
    write_text(": stopped\n");
    leave(number);
}

/* The first wish is left to the work, for a moment; a second one ends the program. */
static void note_interrupt(int number)
{
    int cause = errno;
    const struct itimerspec moment = {
        .it_value = {.tv_sec = grace_ms / 1000, .tv_nsec = grace_ms % 1000 * 1000000L}};
    if (interrupted || !has_grace)
        end_now(number);
    interrupted = number;
    timer_settime(grace, 0, &moment, NULL);
    errno = cause;
}

static void end_grace(int number)
{
    (void)number;
    end_now(interrupted ? interrupted : SIGINT);
}

/* Signals that end the program do not interrupt one another's handlers. */
static struct sigaction action_of(void (*handler)(int))
{
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_handler = handler;
    sigemptyset(&action.sa_mask);
    sigaddset(&action.sa_mask, SIGINT);
    sigaddset(&action.sa_mask, SIGTERM);
    sigaddset(&action.sa_mask, SIGHUP);
    sigaddset(&action.sa_mask, SIGALRM);
    return action;
}

/* A signal that whoever started the program chose to ignore stays ignored. */
static void catch_signal(int number)
{
    struct sigaction action = action_of(note_interrupt), before;
    if (sigaction(number, NULL, &before) == 0 && before.sa_handler != SIG_IGN)
        sigaction(number, &action, NULL);
}

void hp_terminal_catch_signals(void)
{
    struct sigaction alarm_action = action_of(end_grace);
    struct sigevent event;
    memset(&event, 0, sizeof event);
    event.sigev_notify = SIGEV_SIGNAL;
    event.sigev_signo = SIGALRM;
    has_grace = sigaction(SIGALRM, &alarm_action, NULL) == 0 &&
                timer_create(CLOCK_MONOTONIC, &event, &grace) == 0;
    catch_signal(SIGINT);
    catch_signal(SIGTERM);
    catch_signal(SIGHUP);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

/* What was caught is obeyed again; what was ignored stays so. */
void hp_terminal_leave_signals(void)
{
    static const int caught[] = {SIGINT, SIGTERM, SIGHUP};
    for (size_t k = 0; k < sizeof caught / sizeof caught[0]; k++) {
        struct sigaction action;
        if (sigaction(caught[k], NULL, &action) == 0 && action.sa_handler == note_interrupt)
            signal(caught[k], SIG_DFL);
    }
}

void hp_terminal_name(const char *command)
{
    command_name = command;
}

void hp_terminal_be_patient(void)
{
    grace_ms = PATIENT_MS;
}

int hp_terminal_stop(void *user)
{
    (void)user;
    return interrupted != 0;
}

hp_exit hp_terminal_end(hp_exit status)
{
    int number = interrupted;
    if (status == HP_EXIT_CANCELLED && number != 0 && number != SIGINT) {
        (void)fflush(NULL);
        leave(number);
    }
    return status;
}

void hp_terminal_keep(const hp_file *file)
{
    for (int k = 0; k < KEPT_MAX; k++)
        if (kept[k] == file || !kept[k]) {
            kept[k] = file;
            return;
        }
}

void hp_terminal_keep_folder(const char *path)
{
    kept_folder = path;
}

void hp_terminal_drop(const hp_file *file)
{
    for (int k = 0; k < KEPT_MAX; k++)
        if (kept[k] == file)
            kept[k] = NULL;
}

/* ---- lines ----------------------------------------------------------------------------------- */

bool hp_terminal_colour(FILE *out)
{
    const char *no_colour = getenv("NO_COLOR"), *term = getenv("TERM");
    if (no_colour && no_colour[0])
        return false;
    return isatty(fileno(out)) && term && term[0] && strcmp(term, "dumb") != 0;
}

/* The last column that `out` is known to have; 0: not known. */
static int known_columns(FILE *out)
{
    struct winsize size;
    const char *stated = getenv("COLUMNS");
    char *end = NULL;
    long columns = stated && stated[0] ? strtol(stated, &end, 10) : 0;
    if (columns <= 0 || *end != '\0')
        columns =
            isatty(fileno(out)) && ioctl(fileno(out), TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
    return columns <= 0                         ? 0
           : columns <= HP_TEXT_COLUMNS_LEAST   ? HP_TEXT_COLUMNS_LEAST
           : columns - 1 > HP_TEXT_COLUMNS_MOST ? HP_TEXT_COLUMNS_MOST
                                                : (int)columns - 1;
}

hp_screen hp_terminal_screen(FILE *out)
{
    hp_screen screen = hp_screen_plain(out);
    int columns = known_columns(out);
    if (columns > 0)
        screen.columns = columns;
    screen.colour = hp_terminal_colour(out);
    return screen;
}

hp_screen hp_terminal_diagnostics(void)
{
    return (hp_screen){.file = stderr, .columns = known_columns(stderr)};
}

/* Columns that argp lays help out by; where one is as wide as the page, it writes without end or
 * beyond its buffer. */
#define MARGIN_LEAST HP_TEXT_COLUMNS_LEAST
#define MARGIN_MOST  20000

/* One setting of ARGP_HELP_FMT into the narrowest page and the widest column so far; false: none
 * that could be read. */
static bool note_setting(const char *text, size_t length, long *margin, long *column)
{
    static const char page[] = "rmargin=";
    char *end = NULL;
    const char *number = memchr(text, '=', length);
    if (!number) /* a word alone switches something on or off */
        return true;
    if (strspn(number + 1, "0123456789") == 0)
        return false;
    long value = strtol(number + 1, &end, 10);
    if (end != text + length)
        return false;
    if (strncmp(text, page, sizeof page - 1) == 0)
        *margin = value;
    else if (value > *column)
        *column = value;
    return true;
}

/* Whether argp bears a layout that the environment states. */
static bool bears_layout(const char *text)
{
    static const char known[] = "abcdefghijklmnopqrstuvwxyz-=0123456789,";
    long margin = HP_TEXT_COLUMNS, column = 0;
    if (strspn(text, known) < strlen(text))
        return false;
    for (size_t length; *text; text += length + (text[length] == ',')) {
        length = strcspn(text, ",");
        if (!note_setting(text, length, &margin, &column))
            return false;
    }
    return margin >= MARGIN_LEAST && margin <= MARGIN_MOST && column <= margin / 2;
}

void hp_terminal_fit_help(void)
{
    char format[48];
    const char *stated = getenv("ARGP_HELP_FMT");
    int columns = known_columns(stdout);
    if (stated && !bears_layout(stated))
        unsetenv("ARGP_HELP_FMT");
    if (columns == 0 || columns == HP_TEXT_COLUMNS)
        return;
    snprintf(format, sizeof format,
             columns < HP_TEXT_COLUMNS ? "rmargin=%d,opt-doc-col=20" : "rmargin=%d", columns);
    setenv("ARGP_HELP_FMT", format, 0);
}

void hp_terminal_line(FILE *out, const char *format, ...)
{
    char text[2400], clean[sizeof text];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    hp_text_clean(text, clean, sizeof clean);
    hp_screen screen = {.file = out, .columns = known_columns(out)};
    if (screen.columns > 0)
        hp_text_fill(&screen, "", 0, clean);
    else
        fprintf(out, "%s\n", clean);
}

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

/* Columns of the bar's line. */
static int bar_line(void)
{
    int columns = known_columns(stderr);
    return columns == 0 || columns > BAR_LINE ? BAR_LINE : columns;
}

hp_bar hp_bar_begin(bool quiet)
{
    const char *term = getenv("TERM");
    bool dumb = !term || strcmp(term, "dumb") == 0;
    int blanks = bar_line();
    snprintf(clear_bar, sizeof clear_bar, "\r%*s\r", blanks, "");
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
    int whole = BAR_COLUMNS - (BAR_LINE - bar_line());
    int columns = whole > 5 ? whole : 5;
    int filled = total > 0 ? (int)((double)columns * done / total) : 0;
    for (int k = 0; k < columns; k++)
        bar[k] = k < filled ? '#' : '.';
    bar[columns] = '\0';
    left_text(passed, done, total, left, sizeof left);
    snprintf(line, sizeof line, "[%s] %d of %d runs%s", bar, done, total, left);
    fprintf(stderr, "\r%-*.*s", bar_line(), bar_line(), line);
    (void)fflush(stderr);
}

int hp_bar_step(void *user, int done, int total)
{
    hp_bar *bar = user;
    double time = now();
    if (bar->wanted && time - bar->began > LONG_WORK_S && time - bar->last > REDRAW_S) {
        draw(time - bar->began, done, total);
        bar->drawn = true;
        bar_drawn = 1;
        bar->last = time;
    }
    return hp_terminal_stop(NULL);
}

void hp_terminal_heed(void)
{
    const struct itimerspec never = {.it_value = {.tv_sec = 0}};
    if (interrupted && has_grace)
        timer_settime(grace, 0, &never, NULL);
}

void hp_bar_end(hp_bar *bar)
{
    if (bar->drawn)
        fputs(clear_bar, stderr);
    bar->drawn = false;
    bar_drawn = 0;
    hp_terminal_heed();
}
