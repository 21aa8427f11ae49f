/* Files that the program writes: see the header. */
#include "app/output.h"

#include "app/terminal.h"

#include <assert.h>
#include <errno.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static hp_result fail(hp_error *err, const char *path, const char *why)
{
    return hp_error_set(err, HP_FAIL_IO, "%s cannot be written: %s", path, why);
}

static hp_result open_standard_output(hp_output *output, hp_error *err)
{
    int descriptor = dup(STDOUT_FILENO);
    output->file = descriptor >= 0 ? fdopen(descriptor, "w") : NULL;
    output->whole.file = output->file;
    snprintf(output->path, sizeof output->path, "the standard output");
    /* What stands in for one that the caller closed is open for reading alone. */
    int cause = errno == EINVAL ? EBADF : errno;
    return output->file ? HP_OK : fail(err, output->path, hp_file_cause(cause));
}

void hp_output_names_keep(hp_output_names *names, const char *path, const char *what)
{
    assert(names->count < HP_OUTPUT_NAMES_MAX);
    snprintf(names->item[names->count].path, HP_OUTPUT_NAME_SIZE, "%s", path);
    names->item[names->count++].what = what;
}

hp_result hp_output_names_claim(hp_output_names *names, const char *path, hp_error *err)
{
    bool standard = strcmp(path, "-") == 0;
    for (int k = 0; k < names->count; k++) {
        const char *other = names->item[k].path;
        if (standard ? hp_file_is_open_as(other, STDOUT_FILENO) : hp_file_same(other, path))
            return fail(err, standard ? "the standard output" : path, names->item[k].what);
    }
    if (!standard)
        hp_output_names_keep(names, path, "another output of this command has that name");
    return HP_OK;
}

hp_result hp_output_open(hp_output *output, const char *path, hp_error *err)
{
    memset(output, 0, sizeof *output);
    if (!path[0])
        return fail(err, "\"\"", "a file name is expected");
    if (strcmp(path, "-") == 0)
        return open_standard_output(output, err);
    if (strlen(path) >= sizeof output->path)
        return fail(err, path, "the name is too long");
    snprintf(output->path, sizeof output->path, "%s", path);
    hp_terminal_keep(&output->whole);
    int cause = hp_file_open(&output->whole, path, false);
    output->file = output->whole.file;
    if (cause) {
        hp_terminal_drop(&output->whole);
        return fail(err, path, hp_file_cause(cause));
    }
    return HP_OK;
}

void hp_output_discard(hp_output *output)
{
    hp_file_discard(&output->whole);
    hp_terminal_drop(&output->whole);
    output->file = NULL;
}

hp_result hp_output_commit(hp_output *output, hp_error *err)
{
    int cause = hp_file_commit(&output->whole);
    hp_terminal_drop(&output->whole);
    output->file = NULL;
    return cause ? fail(err, output->path, hp_file_cause(cause)) : HP_OK;
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
    if (written == HP_FAIL_IO && err->code == HP_OK)
        return fail(err, output->path, "not all of it could be written");
    return hp_error_context(err, written, "%s", output->path);
}

hp_result hp_output_put(const char *path, const char *bytes, size_t size, hp_error *err)
{
    hp_output output;
    hp_result result = hp_output_open(&output, path, err);
    if (result != HP_OK)
        return result;
    if (fwrite(bytes, 1, size, output.file) != size)
        result = HP_FAIL_IO; /* why, errno tells */
    return hp_output_finish(&output, result, err);
}

hp_result hp_output_folder(const char *path, bool *made, hp_error *err)
{
    struct stat found;
    *made = mkdir(path, (mode_t)0777) == 0;
    if (!*made && errno != EEXIST)
        return hp_error_set(err, HP_FAIL_IO, "folder %s cannot be made: %s", path, strerror(errno));
    if (stat(path, &found) != 0 || !S_ISDIR(found.st_mode))
        return fail(err, path, "it is not a folder");
    if (access(path, W_OK | X_OK) != 0)
        return hp_error_set(err, HP_FAIL_IO, "folder %s cannot be written into: %s", path,
                            strerror(errno));
    return HP_OK;
}
