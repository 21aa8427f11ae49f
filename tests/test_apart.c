/* Work in a process of its own: what it hands over, and what is told when it ends early. */
#include "check.h"

#include "app/apart.h"
#include "app/terminal.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

pid_t __real_fork(void);
pid_t __wrap_fork(void);

static bool no_process; /* the system gives none */
static int forks;

pid_t __wrap_fork(void)
{
    forks++;
    errno = EAGAIN;
    return no_process ? -1 : __real_fork();
}

#define LARGE (3 << 20) /* more than a pipe holds */

typedef struct notes {
    void (*at_one)(FILE *out); /* what piece 1 does after its first words; may be NULL */
    hp_result fail_take;       /* of piece 0 */
    pid_t maker[5];            /* who made the piece; noted by the maker, so lost with it */
    int taken;
    size_t size[5];
    char begin[5][16];
    char end[8]; /* of piece 1 behind that */
    hp_error err;
} notes;

static hp_result make(void *user, int k, FILE *out, hp_error *err)
{
    notes *n = user;
    n->maker[k] = getpid();
    fprintf(out, "piece %d", k);
    if (k == 1 && n->at_one)
        n->at_one(out);
    if (k == 2)
        for (int at = 0; at < LARGE; at++)
            putc(at % 251, out);
    return k == 3 ? hp_error_set(err, HP_FAIL_NUMBER, "piece 3 is none") : HP_OK;
}

static hp_result take(void *user, int k, const char *bytes, size_t size, hp_error *err)
{
    notes *n = user;
    check_int(k, n->taken);
    n->size[n->taken] = size;
    snprintf(n->begin[n->taken++], sizeof n->begin[0], "%.*s", (int)(size < 7 ? size : 7), bytes);
    if (k == 1)
        snprintf(n->end, sizeof n->end, "%.*s", (int)size - 7, bytes + 7);
    for (int at = 0; k == 2 && at < LARGE; at++)
        check_int((unsigned char)bytes[7 + at], at % 251);
    return k == 0 && n->fail_take ? hp_error_set(err, n->fail_take, "no room") : HP_OK;
}

static hp_result run(notes *n, int count, bool safe)
{
    const hp_apart work = {.count = count, .safe = safe, .user = n, .make = make, .take = take};
    forks = 0;
    return hp_apart_run(&work, &n->err);
}

/* No child is left, not even a dead one. */
static void check_no_child(void)
{
    check_int(waitpid(-1, NULL, WNOHANG), -1);
    check_int(errno, ECHILD);
}

static void check_whole(const notes *n)
{
    check_int(n->taken, 3);
    assert_string_equal(n->begin[0], "piece 0");
    assert_string_equal(n->begin[1], "piece 1");
    check_int((long long)n->size[1], 7);
    check_int((long long)n->size[2], 7 + LARGE);
}

static void pieces_come_whole_and_in_order_from_another_process(void **state)
{
    (void)state;
    notes n = {.taken = 0};
    check_int(run(&n, 3, false), HP_OK);
    check_whole(&n);
    check_int(forks, 1);
    check_int(n.maker[0], 0);
    check_no_child();
}

static FILE *farewells;
static pid_t tester;

static void say_farewell(void)
{
    if (getpid() != tester)
        (void)!write(fileno(farewells), "x", 1);
}

static void what_is_done_at_the_end_is_the_programs(void **state)
{
    (void)state;
    notes n = {.taken = 0};
    farewells = tmpfile();
    assert_non_null(farewells);
    tester = getpid();
    check_int(atexit(say_farewell), 0);
    check_int(run(&n, 3, false), HP_OK);
    check_int(lseek(fileno(farewells), 0, SEEK_END), 0);
}

static void safe_work_is_done_here(void **state)
{
    (void)state;
    notes n = {.taken = 0};
    check_int(run(&n, 3, true), HP_OK);
    check_whole(&n);
    check_int(forks, 0);
    check_int(n.maker[2], getpid());
}

static void without_a_process_it_is_done_here(void **state)
{
    (void)state;
    notes n = {.taken = 0};
    no_process = true;
    hp_result result = run(&n, 5, false);
    no_process = false;
    check_int(result, HP_FAIL_NUMBER);
    check_whole(&n);
    check_int(n.maker[2], getpid());
}

static void a_failure_comes_over_with_its_words(void **state)
{
    (void)state;
    notes n = {.taken = 0};
    check_int(run(&n, 5, false), HP_FAIL_NUMBER);
    check_int(n.err.code, HP_FAIL_NUMBER);
    assert_string_equal(n.err.text, "piece 3 is none");
    check_whole(&n);
    check_no_child();
}

static void wait_for_good(FILE *out)
{
    (void)out;
    alarm(60); /* should nobody end it */
    for (;;)
        pause();
}

static void a_piece_that_is_not_taken_ends_all(void **state)
{
    (void)state;
    notes n = {.at_one = wait_for_good, .fail_take = HP_FAIL_IO};
    check_int(run(&n, 3, false), HP_FAIL_IO);
    assert_string_equal(n.err.text, "no room");
    check_int(n.taken, 1);
    check_no_child();
}

static void die_by_abort(FILE *out)
{
    (void)out;
    abort();
}

static void die_killed(FILE *out)
{
    fflush(out);
    raise(SIGKILL);
}

static void die_asked(FILE *out)
{
    (void)out;
    raise(SIGTERM);
}

static void die_by_exit(FILE *out)
{
    (void)out;
    exit(0);
}

static void an_early_end_is_told_and_its_piece_not_taken(void **state)
{
    (void)state;
    static const struct {
        void (*die)(FILE *out);
        const char *how;
    } ends[] = {{die_by_abort, "(Aborted)"},
                {die_killed, "(Killed)"},
                {die_asked, "(Terminated)"},
                {die_by_exit, "(by itself)"}};
    hp_terminal_catch_signals(); /* which the other process does not keep */
    for (size_t k = 0; k < sizeof ends / sizeof ends[0]; k++) {
        notes n = {.at_one = ends[k].die};
        check_int(run(&n, 3, false), HP_FAIL_LIBRARY);
        check_text_contains(n.err.text, ends[k].how);
        check_text_contains(n.err.text, "memory");
        check_int(n.taken, 1);
        check_no_child();
    }
}

static void what_waits_in_a_stream_is_written_once(void **state)
{
    (void)state;
    char text[64] = "";
    notes n = {.at_one = die_by_exit};
    FILE *file = tmpfile();
    assert_non_null(file);
    fputs("once", file);
    check_int(run(&n, 2, false), HP_FAIL_LIBRARY);
    fflush(file);
    rewind(file);
    assert_non_null(fgets(text, sizeof text, file));
    assert_string_equal(text, "once");
    fclose(file);
}

/* Has a large block and gives it back; then, with nothing more to be had, wants it again. */
static void want_it_again(FILE *out)
{
    const struct rlimit nothing = {.rlim_cur = 1 << 20, .rlim_max = 1 << 20};
    void *volatile block = malloc(64 << 20);
    free(block);
    setrlimit(RLIMIT_AS, &nothing);
    void *volatile more = malloc(60 << 20);
    fputs(more ? ", held" : ", gone", out);
    free(more);
}

static void memory_that_was_had_is_kept(void **state)
{
    (void)state;
    HP_FIGURES_ALONE(); /* the sanitizers allocate in a way of their own */
#ifdef __SANITIZE_THREAD__
    skip();
#endif
    notes n = {.at_one = want_it_again};
    check_int(run(&n, 2, false), HP_OK);
    check_int((long long)n.size[1], (long long)strlen("piece 1, held"));
    assert_string_equal(n.end, ", held");
}

static void ask_to_stop(FILE *out)
{
    kill(getppid(), SIGINT);
    wait_for_good(out);
}

static void a_wish_to_stop_is_heeded_at_once(void **state)
{
    (void)state;
    notes n = {.at_one = ask_to_stop};
    hp_terminal_catch_signals();
    check_int(run(&n, 3, false), HP_FAIL_CANCELLED);
    hp_terminal_heed();
    check_true(n.taken < 2, "%d pieces taken", n.taken);
    check_no_child();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_come_whole_and_in_order_from_another_process),
        cmocka_unit_test(what_is_done_at_the_end_is_the_programs),
        cmocka_unit_test(safe_work_is_done_here),
        cmocka_unit_test(without_a_process_it_is_done_here),
        cmocka_unit_test(a_failure_comes_over_with_its_words),
        cmocka_unit_test(a_piece_that_is_not_taken_ends_all),
        cmocka_unit_test(an_early_end_is_told_and_its_piece_not_taken),
        cmocka_unit_test(what_waits_in_a_stream_is_written_once),
        cmocka_unit_test(memory_that_was_had_is_kept),
        cmocka_unit_test(a_wish_to_stop_is_heeded_at_once), /* last: the wish stays */
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
