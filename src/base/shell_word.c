/* Words for a shell (POSIX.1-2017, Shell Command Language 2.2 and printf; from memory). */
#include "hubphase/base/text.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

static const char plain[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
                            "_-./=,:+%@";

/* The length of a character that may be shown, else 0. */
static int shown(const char *at)
{
    unsigned character = 0;
    int length = hp_text_character(at, &character);
    return length > 0 && !hp_text_is_control(character) ? length : 0;
}

static bool all_shown(const char *word)
{
    for (int length; *word; word += length)
        if ((length = shown(word)) == 0)
            return false;
    return true;
}

static void add_quoted(hp_phrase *p, const char *word, size_t bytes)
{
    hp_phrase_add(p, "'");
    for (size_t k = 0; k < bytes; k++)
        hp_phrase_add(p, word[k] == '\'' ? "'\\''" : "%.1s", word + k);
    hp_phrase_add(p, "'");
}

/* As \ooo what may not be shown, and what the quotes or printf's options mean something by. */
static void add_printed(hp_phrase *p, const char *word, size_t bytes)
{
    hp_phrase_add(p, "\"$(printf '");
    for (size_t k = 0; k < bytes;) {
        int length = shown(word + k);
        if (length == 0 || word[k] == '\'' || (k == 0 && word[k] == '-'))
            hp_phrase_add(p, "\\%03o", (unsigned char)word[k]);
        else if (word[k] == '%' || word[k] == '\\')
            hp_phrase_add(p, "%c%c", word[k], word[k]);
        else
            hp_phrase_add(p, "%.*s", length, word + k);
        k += length ? (size_t)length : 1;
    }
    hp_phrase_add(p, "')\"");
}

char *hp_shell_word(const char *word, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    size_t bytes = strlen(word), kept = bytes;
    if (word[0] && word[0] != '=' && strspn(word, plain) == bytes) {
        hp_phrase_add(&p, "%s", word);
        return out;
    }
    if (all_shown(word)) {
        add_quoted(&p, word, bytes);
        return out;
    }
    /* $( ) drops the line breaks at the end of what it read. */
    while (kept > 0 && word[kept - 1] == '\n')
        kept--;
    if (kept > 0)
        add_printed(&p, word, kept);
    if (kept < bytes)
        add_quoted(&p, word + kept, bytes - kept);
    return out;
}

char *hp_shell_file(const char *path, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    hp_phrase_add(&p, "%s%s", path[0] == '-' ? "./" : "", path);
    return out;
}
