/* A file that appears only when it is whole: see the header. */
#include "hubphase/report/picture_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static hp_result fail(hp_error *err, const char *path, int cause)
{
    return hp_error_set(err, HP_FAIL_IO, "picture %s cannot be written: %s", path, strerror(cause));
}

/* The process number keeps two programs apart. An unfinished file of the same name can only be what
 * a killed program with this number left. */
static int open_temporary(hp_picture_file *out)
{
    const char *slash = strrchr(out->path, '/');
    int folder = slash ? (int)(slash - out->path) + 1 : 0;
    int length = snprintf(out->temporary, sizeof out->temporary, "%.*s.unfinished-%ld-%s", folder,
                          out->path, (long)getpid(), out->path + folder);
    if (length < 0 || (size_t)length >= sizeof out->temporary) {
        out->temporary[0] = '\0';
        errno = ENAMETOOLONG;
        return -1;
    }
    int flags = O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC;
    int descriptor = open(out->temporary, flags, (mode_t)0666);
    if (descriptor < 0 && errno == EEXIST && unlink(out->temporary) == 0)
        descriptor = open(out->temporary, flags, (mode_t)0666);
    if (descriptor < 0)
        out->temporary[0] = '\0';
    return descriptor;
}

hp_result hp_picture_file_open(hp_picture_file *out, const char *path, hp_error *err)
{
    struct stat found;
    memset(out, 0, sizeof *out);
    out->path = path;
    if (!path[0])
        return hp_error_set(err, HP_FAIL_IO, "a picture's file name is empty");
    bool there = stat(path, &found) == 0;
    if (there && S_ISDIR(found.st_mode))
        return fail(err, path, EISDIR);
    /* Renaming over a device or pipe would replace it. */
    int descriptor =
        there && !S_ISREG(found.st_mode) ? open(path, O_WRONLY | O_CLOEXEC) : open_temporary(out);
    if (descriptor < 0)
        return fail(err, path, errno);
    out->file = fdopen(descriptor, "wb");
    if (!out->file) {
        int cause = errno;
        close(descriptor);
        hp_picture_file_discard(out);
        return fail(err, path, cause);
    }
    return HP_OK;
}

hp_result hp_picture_file_commit(hp_picture_file *out, const char *bytes, size_t size,
                                 hp_error *err)
{
    int cause = 0;
    errno = 0;
    if (fwrite(bytes, 1, size, out->file) != size || fflush(out->file) != 0)
        cause = errno ? errno : EIO;
    /* A full disk may show only when the last bytes leave, so closing is checked too. */
    if (fclose(out->file) != 0 && !cause)
        cause = errno;
    out->file = NULL;
    if (!cause && out->temporary[0] && rename(out->temporary, out->path) != 0)
        cause = errno;
    if (cause) {
        hp_picture_file_discard(out);
        return fail(err, out->path, cause);
    }
    out->temporary[0] = '\0';
    return HP_OK;
}

void hp_picture_file_discard(hp_picture_file *out)
{
    if (out->file)
        fclose(out->file);
    if (out->temporary[0])
        unlink(out->temporary);
    out->file = NULL;
    out->temporary[0] = '\0';
}
