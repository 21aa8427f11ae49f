/* Files that the program writes: see the header. */
#include "hubphase/app/output.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static hp_result fail(hp_error *err, const char *path, const char *why)
{
    return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: %s", path, why);
}

/* The process number keeps two programs apart. */
static hp_result name_temporary(hp_output *output, const char *path, hp_error *err)
{
    const char *slash = strrchr(path, '/');
    int folder = slash ? (int)(slash - path) + 1 : 0;
    if (strlen(path) >= sizeof output->path)
        return fail(err, path, "the name is too long");
    snprintf(output->path, sizeof output->path, "%s", path);
    snprintf(output->temporary, sizeof output->temporary, "%.*s.unfinished-%ld-%s", folder, path,
             (long)getpid(), path + folder);
    return HP_OK;
}

/* Devices and pipes, and the standard output. */
static hp_result open_straight(hp_output *output, const char *path, hp_error *err)
{
    int descriptor = strcmp(path, "-") == 0 ? dup(STDOUT_FILENO) : open(path, O_WRONLY | O_CLOEXEC);
    output->file = descriptor >= 0 ? fdopen(descriptor, "w") : NULL;
    snprintf(output->path, sizeof output->path, "%s",
             strcmp(path, "-") == 0 ? "the standard output" : path);
    return output->file ? HP_OK : fail(err, output->path, strerror(errno));
}

hp_result hp_output_open(hp_output *output, const char *path, hp_error *err)
{
    struct stat found;
    memset(output, 0, sizeof *output);
    if (!path[0])
        return fail(err, "\"\"", "a file name is expected");
    bool there = stat(path, &found) == 0;
    if (strcmp(path, "-") == 0 || (there && !S_ISREG(found.st_mode) && !S_ISDIR(found.st_mode)))
        return open_straight(output, path, err);
    if (there && S_ISDIR(found.st_mode))
        return fail(err, path, "it is a folder");
    hp_result result = name_temporary(output, path, err);
    if (result != HP_OK)
        return result;
    int descriptor = open(output->temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, (mode_t)0666);
    output->file = descriptor >= 0 ? fdopen(descriptor, "w") : NULL;
    if (!output->file) {
        int cause = errno;
        output->temporary[0] = '\0';
        return fail(err, path, strerror(cause));
    }
    return HP_OK;
}

void hp_output_discard(hp_output *output)
{
    if (output->file)
        fclose(output->file);
    if (output->temporary[0])
        unlink(output->temporary);
    output->file = NULL;
    output->temporary[0] = '\0';
}

hp_result hp_output_commit(hp_output *output, hp_error *err)
{
    int cause = 0;
    if (output->file) {
        /* A full disk may show only when the last bytes leave, so closing is checked too. */
        errno = 0;
        if (fflush(output->file) != 0 || ferror(output->file))
            cause = errno ? errno : EIO;
        if (fclose(output->file) != 0 && !cause)
            cause = errno;
        output->file = NULL;
    }
    if (!cause && output->temporary[0] && rename(output->temporary, output->path) != 0)
        cause = errno;
    if (cause) {
        hp_output_discard(output);
        return fail(err, output->path, strerror(cause));
    }
    output->temporary[0] = '\0';
    return HP_OK;
}

/* Whether a failed write leaves this in errno. */
static bool is_write_error(int number)
{
    return number == EPIPE || number == ENOSPC || number == EFBIG || number == EIO ||
           number == EDQUOT;
}

hp_result hp_output_finish(hp_output *output, hp_result written, hp_error *err)
{
    /* The writer only saw that it failed; errno may still tell why, or trying once more does. */
    int cause = errno;
    if (written == HP_OK)
        return hp_output_commit(output, err);
    if (!is_write_error(cause) && output->file && fflush(output->file) != 0)
        cause = errno;
    hp_output_discard(output);
    if (written == HP_FAIL_IO && is_write_error(cause))
        return fail(err, output->path, strerror(cause));
    return hp_error_context(err, written, "%s", output->path);
}

hp_result hp_output_folder_try(const char *path, hp_error *err)
{
    struct stat found;
    bool there = stat(path, &found) == 0;
    hp_result result = hp_output_folder(path, err);
    if (result == HP_OK && !there)
        rmdir(path);
    return result;
}

hp_result hp_output_folder(const char *path, hp_error *err)
{
    struct stat found;
    if (mkdir(path, (mode_t)0777) != 0 && errno != EEXIST)
        return hp_error_set(err, HP_FAIL_IO, "folder %s cannot be made: %s", path, strerror(errno));
    if (stat(path, &found) != 0 || !S_ISDIR(found.st_mode))
        return fail(err, path, "it is not a folder");
    if (access(path, W_OK | X_OK) != 0)
        return hp_error_set(err, HP_FAIL_IO, "folder %s cannot be written into: %s", path,
                            strerror(errno));
    return HP_OK;
}
