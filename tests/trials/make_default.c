/*
 * Builds the likelihood table of the default drive and options afresh and writes it as C source:
 *
 *   make_default src/decide/advise/likelihood_default.c
 *
 * Run by the target likelihood_default after any change of the defaults or of the simulation.
 */
#include "decide/advise/likelihood.h"

#include <stdlib.h>

static int show(void *user, int done, int total)
{
    int *last = user, percent = (int)(100LL * done / total);
    if (percent != *last)
        fprintf(stderr, "\r%3d %%", *last = percent);
    return 0;
}

/* Copies text as string literals, one a line. */
static void put_literals(FILE *out, const char *text)
{
    fputs("    \"", out);
    for (const char *c = text; *c; c++) {
        if (*c == '\n')
            fputs(c[1] ? "\\n\"\n    \"" : "\\n", out);
        else
            fputc(*c, out);
    }
    fputs("\";\n", out);
}

int main(int argc, char **argv)
{
    hp_drive drive = hp_drive_default();
    hp_likelihood_options options = hp_likelihood_options_default();
    hp_likelihood table;
    hp_error err = hp_error_none();
    int last = -1;
    options.progress = show;
    options.user = &last;
    if (argc != 2 || hp_likelihood_build(&drive, &options, &table, &err) != HP_OK) {
        fprintf(stderr, "usage: make_default FILE %s\n", err.text);
        return 1;
    }
    char *text = NULL;
    size_t size = 0;
    FILE *memory = open_memstream(&text, &size), *out = fopen(argv[1], "w");
    if (!memory || !out || hp_likelihood_write(&table, memory, &err) != HP_OK ||
        fclose(memory) != 0) {
        fprintf(stderr, "%s cannot be written %s\n", argv[1], err.text);
        return 1;
    }
    fputs("/* The likelihood table of the default drive and options. Generated: build the target\n"
          " * likelihood_default after any change of the defaults or of the simulation. */\n"
          "/* clang-format off */\n"
          "#include \"decide/advise/likelihood.h\"\n\n"
          "const char hp_likelihood_default_text[] =\n",
          out);
    put_literals(out, text);
    int failed = fclose(out);
    free(text);
    hp_likelihood_free(&table);
    fputc('\n', stderr);
    return failed ? 1 : 0;
}
