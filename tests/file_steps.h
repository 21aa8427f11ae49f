/*
 * The order in which a file is brought to the disk and takes its name: a letter a step in
 * `file_steps`. The linker puts these functions in front of those of the C library for our own code
 * (the tests listed in CMakeLists.txt). Include it once in a program.
 */
#ifndef HUBPHASE_TESTS_FILE_STEPS_H
#define HUBPHASE_TESTS_FILE_STEPS_H

#include <errno.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>

int __real_fsync(int descriptor);
int __real_renameat(int from_folder, const char *from, int to_folder, const char *to);
int __wrap_fsync(int descriptor);
int __wrap_renameat(int from_folder, const char *from, int to_folder, const char *to);
int __real_lstat(const char *path, struct stat *found);
int __real_fstatat(int folder, const char *name, struct stat *found, int flags);
int __wrap_lstat(const char *path, struct stat *found);
int __wrap_fstatat(int folder, const char *name, struct stat *found, int flags);

/* s: a file was synced, e: an empty one (its bytes had not left the program yet), d: a folder;
 * n: a name was taken. */
static char file_steps[16];
/* The step that fails and is not taken, and by which errno; '\0': none. */
static char file_step_failing;
static int file_step_cause;
/* What another program does once, before the next look at a name itself; NULL: nothing. */
static void (*file_step_between)(void);

/* Whether the step is to be taken. */
static bool note_step(char step)
{
    size_t used = strlen(file_steps);
    if (used + 1 < sizeof file_steps) {
        file_steps[used] = step;
        file_steps[used + 1] = '\0';
    }
    if (step == file_step_failing)
        errno = file_step_cause;
    return step != file_step_failing;
}

int __wrap_fsync(int descriptor)
{
    struct stat found;
    if (fstat(descriptor, &found) == 0 && !note_step(S_ISDIR(found.st_mode) ? 'd'
                                                     : found.st_size > 0    ? 's'
                                                                            : 'e'))
        return -1;
    return __real_fsync(descriptor);
}

int __wrap_renameat(int from_folder, const char *from, int to_folder, const char *to)
{
    return note_step('n') ? __real_renameat(from_folder, from, to_folder, to) : -1;
}

static void do_between(void)
{
    void (*between)(void) = file_step_between;
    file_step_between = NULL;
    if (between)
        between();
}

int __wrap_lstat(const char *path, struct stat *found)
{
    do_between();
    return __real_lstat(path, found);
}

int __wrap_fstatat(int folder, const char *name, struct stat *found, int flags)
{
    do_between();
    return __real_fstatat(folder, name, found, flags);
}

#endif
