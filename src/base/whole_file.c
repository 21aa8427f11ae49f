/* A file that appears only when it is whole: see the header. */
#include "base/whole_file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The process number keeps two programs apart. An unfinished file of the same name can only be what
 * a killed program with this number left. */
static int open_temporary(hp_whole_file *out)
{
    const char *slash = strrchr(out->path, '/');
    int folder = slash ? (int)(slash - out->path) + 1 : 0;
    snprintf(out->temporary, sizeof out->temporary, "%.*s.unfinished-%ld-%s", folder, out->path,
             (long)getpid(), out->path + folder);
    int flags = O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC;
    int descriptor = open(out->temporary, flags, (mode_t)0666);
    if (descriptor < 0 && errno == EEXIST && unlink(out->temporary) == 0)
        descriptor = open(out->temporary, flags, (mode_t)0666);
    if (descriptor < 0)
        out->temporary[0] = '\0';
    return descriptor;
}

int hp_whole_file_open(hp_whole_file *out, const char *path)
{
    struct stat found;
    memset(out, 0, sizeof *out);
    if (!path[0])
        return ENOENT;
    if (strlen(path) >= sizeof out->path)
        return ENAMETOOLONG;
    snprintf(out->path, sizeof out->path, "%s", path);
    bool there = stat(path, &found) == 0;
    if (there && S_ISDIR(found.st_mode))
        return EISDIR;
    int descriptor =
        there && !S_ISREG(found.st_mode) ? open(path, O_WRONLY | O_CLOEXEC) : open_temporary(out);
    if (descriptor < 0)
        return errno;
    out->file = fdopen(descriptor, "wb");
    if (out->file)
        return 0;
    int cause = errno;
    close(descriptor);
    hp_whole_file_discard(out);
    return cause;
}

int hp_whole_file_commit(hp_whole_file *out)
{
    int cause = 0;
    if (out->file) {
        /* A full disk may show only when the last bytes leave, so closing is checked too. */
        errno = 0;
        if (fflush(out->file) != 0 || ferror(out->file))
            cause = errno ? errno : EIO;
        if (fclose(out->file) != 0 && !cause)
            cause = errno;
        out->file = NULL;
    }
    if (!cause && out->temporary[0] && rename(out->temporary, out->path) != 0)
        cause = errno;
    if (cause)
        hp_whole_file_discard(out);
    out->temporary[0] = '\0';
    return cause;
}

void hp_whole_file_discard(hp_whole_file *out)
{
    if (out->file)
        fclose(out->file);
    if (out->temporary[0])
        unlink(out->temporary);
    out->file = NULL;
    out->temporary[0] = '\0';
}
