/* Reading a whole file: see the header. */
#include "base/slurp.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

/* Reads up to `room` bytes; a file that grows meanwhile is read as far as it was. */
static int read_all(int descriptor, char *text, size_t room, size_t *size)
{
    while (*size < room) {
        ssize_t got = read(descriptor, text + *size, room - *size);
        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return errno;
        if (got == 0)
            break;
        *size += (size_t)got;
    }
    text[*size] = '\0';
    return 0;
}

static int look(int descriptor, size_t most, size_t *room)
{
    struct stat found;
    if (fstat(descriptor, &found) != 0)
        return errno;
    if (S_ISDIR(found.st_mode))
        return EISDIR;
    if (!S_ISREG(found.st_mode) || found.st_size < 0)
        return EINVAL;
    if ((unsigned long long)found.st_size > most)
        return EFBIG;
    *room = (size_t)found.st_size;
    return 0;
}

int hp_slurp(const char *path, size_t most, char **text, size_t *size)
{
    size_t room = 0;
    *text = NULL;
    *size = 0;
    int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0)
        return errno;
    int cause = look(descriptor, most, &room);
    if (cause == 0) {
        *text = malloc(room + 1);
        cause = *text ? read_all(descriptor, *text, room, size) : ENOMEM;
    }
    close(descriptor);
    if (cause != 0) {
        free(*text);
        *text = NULL;
    }
    return cause;
}
