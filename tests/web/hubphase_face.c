/*
 * The face of the library on a terminal: a request a line in, an answer a line out, for tests and
 * for who works on the page. Progress goes to the standard error with --progress.
 */
#include "web/face.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int say(void *user, int done, int total)
{
    (void)user;
    fprintf(stderr, "%d %d\n", done, total);
    return 0;
}

int main(int argc, char **argv)
{
    bool progress = argc > 1 && strcmp(argv[1], "--progress") == 0;
    hp_web *web = hp_web_create(progress ? say : NULL, NULL);
    char *line = NULL;
    size_t size = 0;
    int status = web ? EXIT_SUCCESS : EXIT_FAILURE;
    while (status == EXIT_SUCCESS && getline(&line, &size, stdin) >= 0) {
        char *answer = hp_web_call(web, line);
        if (!answer || puts(answer) < 0 || fflush(stdout) != 0)
            status = EXIT_FAILURE;
        free(answer);
    }
    free(line);
    hp_web_free(web);
    return status;
}
