/*
 * Files that appear only when they are whole: see the header.
 *
 * All is done by names inside a descriptor of the folder, so that nobody can exchange the folder
 * between the steps.
 *
 * A temporary is removed by others only when they get its lock and the name still belongs to the
 * file they locked. Who makes one takes its lock at once, and begins anew when somebody removed it
 * in between. The lock is given back only after the temporary has taken the file's name. On file
 * systems that know no locks nothing is removed.
 */
#define _GNU_SOURCE /* O_PATH */
#include "hubphase/base/files.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#define LINKS_MAX 40  /* as the kernel's own limit */
#define TRIES_MAX 100 /* names for a temporary */
#define LOOKS_MAX 20  /* for a file that others replace meanwhile */
#define PREFIX    ".unfinished-"

const char *hp_file_cause(int cause)
{
    return cause == EISDIR ? "it is a folder" : cause == EBADF ? "it is closed" : strerror(cause);
}

/* ---- where a name leads ---------------------------------------------------------------------- */

/* Length of the folder's part of a path, with its slash. */
static int folder_length(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? (int)(slash - path) + 1 : 0;
}

/* Follows the links at the end of a path. */
static int follow(char path[HP_FILE_PATH_SIZE])
{
    char target[HP_FILE_PATH_SIZE], next[2 * HP_FILE_PATH_SIZE];
    for (int links = 0; links < LINKS_MAX; links++) {
        ssize_t length = readlink(path, target, sizeof target);
        if (length < 0)
            return errno == EINVAL || errno == ENOENT ? 0 : errno;
        int folder = target[0] == '/' ? 0 : folder_length(path);
        int needed = snprintf(next, sizeof next, "%.*s%.*s", folder, path, (int)length, target);
        if (length == (ssize_t)sizeof target || needed >= HP_FILE_PATH_SIZE)
            return ENAMETOOLONG;
        memcpy(path, next, (size_t)needed + 1);
    }
    return ELOOP;
}

static void note(hp_file *file, const struct stat *found)
{
    file->there = true;
    file->plain = S_ISREG(found->st_mode);
    file->mode = found->st_mode & 07777;
    file->owner = found->st_uid;
    file->group = found->st_gid;
    file->device = found->st_dev;
    file->inode = found->st_ino;
}

int hp_file_look(hp_file *file)
{
    struct stat found;
    file->there = false;
    if (fstatat(file->folder, file->name, &found, AT_SYMLINK_NOFOLLOW) != 0)
        return errno == ENOENT ? 0 : errno;
    note(file, &found);
    return S_ISDIR(found.st_mode) ? EISDIR : 0;
}

/* A folder that may be searched but not read still takes files; it cannot be locked or synced. */
static int open_folder(const char *path)
{
    char folder[HP_FILE_PATH_SIZE];
    int length = folder_length(path);
    snprintf(folder, sizeof folder, "%.*s", length ? length : 1, length ? path : ".");
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    return descriptor < 0 && errno == EACCES ? open(folder, O_PATH | O_DIRECTORY | O_CLOEXEC)
                                             : descriptor;
}

static bool is_link(const char *path)
{
    struct stat found;
    return lstat(path, &found) == 0 && S_ISLNK(found.st_mode);
}

/* *moved: where the name led to is not what is found there. */
static int find(hp_file *file, const char *path, bool *moved)
{
    struct stat found;
    *moved = false;
    if (!path[0])
        return ENOENT;
    if (strlen(path) >= sizeof file->path)
        return ENAMETOOLONG;
    memcpy(file->path, path, strlen(path) + 1);
    bool there = stat(path, &found) == 0;
    if (!there && errno != ENOENT)
        return errno;
    if (there && S_ISDIR(found.st_mode))
        return EISDIR;
    if (there && !S_ISREG(found.st_mode)) {
        note(file, &found);
        return 0;
    }
    file->dangling = !there && is_link(path);
    int cause = follow(file->path);
    if (cause)
        return cause;
    file->name = file->path + folder_length(file->path);
    if (!file->name[0])
        return ENOENT;
    file->folder = open_folder(file->path);
    if (file->folder < 0)
        return errno;
    cause = hp_file_look(file);
    *moved = !cause && there &&
             !(file->there && file->device == found.st_dev && file->inode == found.st_ino);
    return *moved ? ENOENT : cause;
}

/* Another program may give the name to another file between two looks, as we do ourselves; then a
 * next look finds that. A link of /proc to a file that has lost its name leads nowhere each time.
 */
int hp_file_find(hp_file *file, const char *path)
{
    int cause = 0;
    bool moved;
    for (int looks = 0; looks < LOOKS_MAX; looks++) {
        memset(file, 0, sizeof *file);
        file->folder = file->hold = -1;
        file->name = file->path;
        cause = find(file, path, &moved);
        if (cause)
            hp_file_discard(file);
        if (!moved)
            break;
    }
    return cause;
}

bool hp_file_same(const char *a, const char *b)
{
    hp_file one, other;
    struct stat folder, other_folder;
    bool same = false;
    if (hp_file_find(&one, a) != 0)
        return false;
    if (hp_file_find(&other, b) == 0) {
        if (one.there || other.there)
            same = one.there && other.there && one.plain && other.plain &&
                   one.device == other.device && one.inode == other.inode;
        else
            same = strcmp(one.name, other.name) == 0 && fstat(one.folder, &folder) == 0 &&
                   fstat(other.folder, &other_folder) == 0 &&
                   folder.st_dev == other_folder.st_dev && folder.st_ino == other_folder.st_ino;
        hp_file_discard(&other);
    }
    hp_file_discard(&one);
    return same;
}

bool hp_file_is_open_as(const char *path, int descriptor)
{
    struct stat one, other;
    return stat(path, &one) == 0 && fstat(descriptor, &other) == 0 && S_ISREG(one.st_mode) &&
           one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

/* ---- temporaries ----------------------------------------------------------------------------- */

/* ".unfinished-123.0-name"; the number was not always there. */
static bool is_temporary(const char *name)
{
    static const char digits[] = "0123456789";
    if (strncmp(name, PREFIX, strlen(PREFIX)) != 0)
        return false;
    const char *at = name + strlen(PREFIX);
    size_t process = strspn(at, digits);
    at += process;
    if (process > 0 && *at == '.')
        at += 1 + strspn(at + 1, digits);
    return process > 0 && at[0] == '-' && at[1];
}

/* Removes a temporary of ours that no living program holds. */
static void remove_left(int folder, const char *name)
{
    struct stat found, named;
    int file = openat(folder, name, O_RDONLY | O_NONBLOCK | O_NOFOLLOW | O_CLOEXEC);
    if (file < 0)
        return;
    if (fstat(file, &found) == 0 && S_ISREG(found.st_mode) && found.st_uid == geteuid() &&
        flock(file, LOCK_EX | LOCK_NB) == 0 &&
        fstatat(folder, name, &named, AT_SYMLINK_NOFOLLOW) == 0 && named.st_dev == found.st_dev &&
        named.st_ino == found.st_ino)
        unlinkat(folder, name, 0);
    close(file);
}

static void remove_all_left(int folder)
{
    int again = openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    DIR *names = again >= 0 ? fdopendir(again) : NULL;
    if (!names) {
        if (again >= 0)
            close(again);
        return;
    }
    for (const struct dirent *entry; (entry = readdir(names)) != NULL;)
        if (is_temporary(entry->d_name))
            remove_left(folder, entry->d_name);
    closedir(names);
}

/* Takes the lock of a temporary just made. False: somebody took it for a left one. */
static bool hold(int file)
{
    struct stat found;
    if (flock(file, LOCK_EX | LOCK_NB) != 0)
        return errno != EWOULDBLOCK;
    return fstat(file, &found) == 0 && found.st_nlink > 0;
}

/* Makes a temporary that only the owner can read until it has the mode of what it replaces. Returns
 * the descriptor, or -1 with errno set. */
static int make_temporary(hp_file *file)
{
    mode_t mode = file->there ? (mode_t)0600 : (mode_t)0666;
    for (int n = 0; n < TRIES_MAX; n++) {
        char start[48];
        int length = snprintf(start, sizeof start, PREFIX "%ld.%d-", (long)getpid(), n);
        snprintf(file->temporary, sizeof file->temporary, "%s%.*s", start,
                 HP_FILE_NAME_SIZE - 1 - length, file->name);
        int made = openat(file->folder, file->temporary,
                          O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, mode);
        if (made < 0 && errno != EEXIST)
            break;
        if (made >= 0 && hold(made))
            return made;
        if (made >= 0)
            close(made);
        errno = EEXIST;
    }
    file->temporary[0] = '\0';
    return -1;
}

/* Owner and group as they were, as far as we may; where the group cannot stay it gets no more than
 * everybody has. */
static int take_over(const hp_file *file, int made)
{
    struct stat now;
    mode_t mode = file->mode;
    if (fstat(made, &now) != 0)
        return errno;
    bool given = (now.st_uid == file->owner && now.st_gid == file->group) ||
                 fchown(made, file->owner, file->group) == 0 || now.st_gid == file->group ||
                 fchown(made, (uid_t)-1, file->group) == 0;
    if (!given)
        mode &= (mode & 07707U) | (mode & 0007U) << 3U;
    return fchmod(made, mode) == 0 ? 0 : errno;
}

/* ---- writing --------------------------------------------------------------------------------- */

static int open_stream(hp_file *file, int descriptor)
{
    file->file = fdopen(descriptor, "wb");
    if (file->file)
        return 0;
    int cause = errno;
    close(descriptor);
    return cause;
}

static int begin(hp_file *file)
{
    if (file->there && !file->plain) {
        int device = open(file->path, O_WRONLY | O_CLOEXEC);
        return device < 0 ? errno : open_stream(file, device);
    }
    if (file->there && faccessat(file->folder, file->name, W_OK, AT_EACCESS) != 0)
        return errno;
    remove_all_left(file->folder);
    int made = make_temporary(file);
    if (made < 0)
        return errno;
    int cause = file->there ? take_over(file, made) : 0;
    file->hold = cause ? -1 : fcntl(made, F_DUPFD_CLOEXEC, 3);
    if (!cause && file->hold < 0)
        cause = errno;
    if (!cause)
        return open_stream(file, made);
    close(made);
    return cause;
}

int hp_file_begin(hp_file *file, bool durable)
{
    file->durable = durable;
    int cause = begin(file);
    if (cause)
        hp_file_discard(file);
    return cause;
}

int hp_file_open(hp_file *file, const char *path, bool durable)
{
    int cause = hp_file_find(file, path);
    return cause ? cause : hp_file_begin(file, durable);
}

/* A full disk may show only when the last bytes leave, so closing is checked too. */
static int finish_stream(hp_file *file)
{
    int cause = 0;
    errno = 0;
    if (fflush(file->file) != 0 || ferror(file->file))
        cause = errno ? errno : EIO;
    if (!cause && file->durable && file->temporary[0] && fsync(fileno(file->file)) != 0)
        cause = errno;
    if (fclose(file->file) != 0 && !cause)
        cause = errno;
    file->file = NULL;
    return cause;
}

int hp_file_commit(hp_file *file)
{
    int cause = file->file ? finish_stream(file) : 0;
    if (!cause && file->temporary[0]) {
        if (renameat(file->folder, file->temporary, file->folder, file->name) != 0)
            cause = errno;
        else
            file->taken = true;
    }
    if (file->taken)
        file->temporary[0] = '\0';
    /* Some file systems cannot sync a folder, and say so by EINVAL. */
    if (file->taken && file->durable && fsync(file->folder) != 0 && errno != EINVAL)
        cause = errno;
    hp_file_discard(file);
    return cause;
}

void hp_file_discard(hp_file *file)
{
    bool used = file->name != NULL; /* else zeroed: its descriptors mean nothing */
    if (file->file)
        (void)fclose(file->file);
    if (used && file->temporary[0])
        unlinkat(file->folder, file->temporary, 0);
    if (used && file->hold >= 0)
        close(file->hold);
    if (used && file->folder >= 0)
        close(file->folder);
    file->file = NULL;
    file->temporary[0] = '\0';
    file->folder = file->hold = -1;
}
