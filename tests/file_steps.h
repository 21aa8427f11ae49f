/*
 * The order in which a file is brought to the disk and takes its name: a letter a step in
 * `file_steps`. The linker puts these functions in front of those of the C library for our own code
 * (the tests listed in CMakeLists.txt). Include it once in a program.
 */
#ifndef HUBPHASE_TESTS_FILE_STEPS_H
#define HUBPHASE_TESTS_FILE_STEPS_H

#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>

int __real_fsync(int descriptor);
int __real_renameat(int from_folder, const char *from, int to_folder, const char *to);
int __wrap_fsync(int descriptor);
int __wrap_renameat(int from_folder, const char *from, int to_folder, const char *to);

/* s: a file was synced, e: an empty one (its bytes had not left the program yet), d: a folder;
 * n: a name was taken. */
static char file_steps[16];

static void note_step(char step)
{
    size_t used = strlen(file_steps);
    if (used + 1 < sizeof file_steps) {
        file_steps[used] = step;
        file_steps[used + 1] = '\0';
    }
}

int __wrap_fsync(int descriptor)
{
    struct stat found;
    if (fstat(descriptor, &found) == 0)
        note_step(S_ISDIR(found.st_mode) ? 'd' : found.st_size > 0 ? 's' : 'e');
    return __real_fsync(descriptor);
}

int __wrap_renameat(int from_folder, const char *from, int to_folder, const char *to)
{
    note_step('n');
    return __real_renameat(from_folder, from, to_folder, to);
}

#endif
