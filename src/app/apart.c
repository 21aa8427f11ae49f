/* Work in a process of its own: see the header. */
#include "app/apart.h"

#include "app/terminal.h"

#include <errno.h>
#include <limits.h>
#include <malloc.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* What goes over the pipe before the bytes of a piece. */
typedef struct heading {
    hp_error error; /* of making it; then no bytes follow */
    size_t size;
} heading;

static hp_result no_memory(hp_error *err)
{
    return hp_error_set(err, HP_FAIL_MEMORY, "no memory for what is drawn");
}

/* The bytes are for the caller to free, also on failure. */
static hp_result make_piece(const hp_apart *work, int k, char **bytes, size_t *size, hp_error *err)
{
    *bytes = NULL;
    *size = 0;
    FILE *out = open_memstream(bytes, size);
    hp_result result = out ? work->make(work->user, k, out, err) : no_memory(err);
    if (out && fclose(out) != 0 && result == HP_OK)
        result = no_memory(err);
    return result;
}

static hp_result run_here(const hp_apart *work, hp_error *err)
{
    hp_result result = HP_OK;
    for (int k = 0; result == HP_OK && k < work->count; k++) {
        char *bytes;
        size_t size;
        result = make_piece(work, k, &bytes, &size, err);
        if (result == HP_OK)
            result = work->take(work->user, k, bytes, size, err);
        free(bytes);
    }
    return result;
}

/* ---- in the other process -------------------------------------------------------------------- */

/* False: nobody takes it. */
static bool hand_over(int to, const void *bytes, size_t size)
{
    const char *at = bytes;
    while (size > 0) {
        ssize_t sent = write(to, at, size);
        if (sent < 0 && errno != EINTR)
            return false;
        at += sent > 0 ? sent : 0;
        size -= sent > 0 ? (size_t)sent : 0;
    }
    return true;
}

/* What was once had of memory is kept, so that what draws still finds it where it was asked for
 * beforehand (canvas_plplot.c): without some of its memory a library of fonts leaves letters out,
 * and says nothing. */
static void keep_memory(void)
{
#ifdef __GLIBC__
    mallopt(M_MMAP_MAX, 0);
    mallopt(M_TRIM_THRESHOLD, INT_MAX);
#endif
}

static _Noreturn void serve(const hp_apart *work, int to)
{
    bool on = true;
    hp_terminal_leave_signals();
    keep_memory();
    for (int k = 0; on && k < work->count; k++) {
        heading head = {.error = hp_error_none()};
        char *bytes;
        bool made = make_piece(work, k, &bytes, &head.size, &head.error) == HP_OK;
        on = hand_over(to, &head, sizeof head) && made && hand_over(to, bytes, head.size);
        free(bytes);
    }
    _exit(EXIT_SUCCESS); /* what this process has of streams is the other's to write */
}

/* ---- in the program -------------------------------------------------------------------------- */

/* False: it ended before, or somebody wishes to stop. */
static bool receive(int from, void *bytes, size_t size)
{
    char *at = bytes;
    while (size > 0) {
        ssize_t came = hp_terminal_stop(NULL) ? 0 : read(from, at, size);
        if (came == 0 || (came < 0 && errno != EINTR))
            return false;
        at += came > 0 ? came : 0;
        size -= came > 0 ? (size_t)came : 0;
    }
    return true;
}

/* Takes all pieces. False: one did not come. */
static bool take_all(const hp_apart *work, int from, hp_result *result, hp_error *err)
{
    *result = HP_OK;
    for (int k = 0; *result == HP_OK && k < work->count; k++) {
        heading head;
        if (!receive(from, &head, sizeof head))
            return false;
        if (head.error.code != HP_OK) {
            *result = hp_error_set(err, head.error.code, "%s", head.error.text);
            return true;
        }
        char *bytes = malloc(head.size + 1);
        bool came = bytes && receive(from, bytes, head.size);
        if (came)
            *result = work->take(work->user, k, bytes, head.size, err);
        else if (!bytes)
            *result = no_memory(err);
        free(bytes);
        if (bytes && !came)
            return false;
    }
    return true;
}

static hp_result ended_early(int status, hp_error *err)
{
    if (hp_terminal_stop(NULL))
        return hp_error_set(err, HP_FAIL_CANCELLED, "stopped while drawing");
    return hp_error_set(err, HP_FAIL_LIBRARY,
                        "what draws ended early (%s): most likely memory ran out",
                        WIFSIGNALED(status) ? strsignal(WTERMSIG(status)) : "by itself");
}

/* Begins it; `from`: where its pieces come out. -1: the system gives none. */
static pid_t start(const hp_apart *work, int *from)
{
    int ends[2];
    if (pipe(ends) != 0)
        return -1;
    (void)fflush(NULL); /* else both processes would write what waits in a stream */
    pid_t other = fork();
    if (other == 0) {
        close(ends[0]);
        serve(work, ends[1]);
    }
    close(ends[1]);
    *from = ends[0];
    if (other < 0)
        close(ends[0]);
    return other;
}

/* Takes what the other process (above 0) makes, and sees it ended. */
static hp_result collect(const hp_apart *work, pid_t other, int from, hp_error *err)
{
    int status = 0;
    hp_result result;
    bool all = take_all(work, from, &result, err);
    close(from);
    /* One that has more to hand over is not waited for; one that has ended stays as it ended. */
    kill(other, SIGKILL);
    while (waitpid(other, &status, 0) < 0 && errno == EINTR)
        ;
    return all ? result : ended_early(status, err);
}

hp_result hp_apart_run(const hp_apart *work, hp_error *err)
{
    int from = -1;
    pid_t other = work->safe ? -1 : start(work, &from);
    return other > 0 ? collect(work, other, from, err) : run_here(work, err);
}
