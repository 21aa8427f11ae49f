/* Questions and answers: see the header. */
#include "app/ask.h"

#include "app/terminal.h"
#include "hubphase/base/text.h"
#include "hubphase/report/forms.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

/* Wrong answers to one question in a row before the words are explained; chosen. */
#define PATIENCE 3

hp_ask hp_ask_begin(FILE *in, const hp_screen *out)
{
    return (hp_ask){.in = in, .out = *out, .echo = !isatty(fileno(in))};
}

void hp_ask_end(hp_ask *ask)
{
    free(ask->line);
    ask->line = NULL;
}

void hp_ask_say(const hp_ask *ask, const char *format, ...)
{
    char text[2400], clean[sizeof text];
    va_list args;
    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    hp_text_fill(&ask->out, "", 0, hp_text_clean(text, clean, sizeof clean));
}

static void explain_words(const hp_ask *ask)
{
    if (ask->words) {
        hp_ask_say(ask, "%s", ask->words);
        return;
    }
    hp_ask_say(ask,
               "Words you can type at any question: \"back\" or \"undo\" takes the last answer "
               "back; between two entries \"undo\" takes the last entry of the log back. "
               "\"help\" explains, \"stop\" ends. Enter alone takes what stands in the square "
               "brackets. Every finished entry is saved at once, so you can stop whenever you "
               "like.");
}

static bool is_one_of(const char *text, const char *const *words)
{
    for (; *words; words++)
        if (strcasecmp(text, *words) == 0)
            return true;
    return false;
}

/* A line that is no clean text, or too long for any answer, is said to be so. */
static bool take_line(hp_ask *ask, ssize_t length)
{
    char clean[sizeof ask->text];
    while (length > 0 && strchr(" \t\r\n", ask->line[length - 1]))
        ask->line[--length] = '\0';
    const char *start = ask->line + strspn(ask->line, " \t");
    if (strlen(start) >= sizeof ask->text) {
        hp_ask_say(ask, "That is too long for an answer, must be at most %d bytes.",
                   HP_ASK_TEXT_SIZE - 1);
        return false;
    }
    snprintf(ask->text, sizeof ask->text, "%s", start);
    if (strlen(ask->line) != (size_t)length ||
        strcmp(hp_text_clean(ask->text, clean, sizeof clean), ask->text) != 0) {
        hp_ask_say(ask, "That holds control characters or is not UTF-8, must be plain text.");
        return false;
    }
    return true;
}

/* Prints the prompt and reads a line. */
static hp_answer read_line(hp_ask *ask, bool *taken)
{
    if (hp_terminal_stop(NULL)) { /* wished for while something was reckoned */
        hp_terminal_heed();
        ask->interrupted = true;
        return HP_ANSWER_STOP;
    }
    fputs("> ", ask->out.file);
    (void)fflush(ask->out.file);
    ssize_t length = getline(&ask->line, &ask->size, ask->in);
    if (length < 0) {
        fputc('\n', ask->out.file);
        /* Ctrl-C breaks off the reading, or came before it with the end of input behind it */
        ask->interrupted = !feof(ask->in) || hp_terminal_stop(NULL);
        hp_terminal_heed();
        return ask->interrupted ? HP_ANSWER_STOP : HP_ANSWER_END;
    }
    *taken = take_line(ask, length);
    if (ask->echo && *taken)
        fprintf(ask->out.file, "%s\n", ask->text);
    return HP_ANSWER_GIVEN;
}

/* What a word for any time asks for; GIVEN: it is none. */
static hp_answer word_for_any_time(const char *text)
{
    static const char *const back[] = {"back", NULL}, *const undo[] = {"undo", NULL};
    static const char *const stop[] = {"stop", "quit", "exit", "q", NULL};
    return is_one_of(text, back)   ? HP_ANSWER_BACK
           : is_one_of(text, undo) ? HP_ANSWER_UNDO
           : is_one_of(text, stop) ? HP_ANSWER_STOP
                                   : HP_ANSWER_GIVEN;
}

/* Asks until a line came that can be an answer: what it asks for, and whether that is help. */
static hp_answer read_words(hp_ask *ask, bool *wants_help)
{
    static const char *const helps[] = {"help", "?", NULL};
    for (;;) {
        bool taken = false;
        hp_answer answer = read_line(ask, &taken);
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        if (!taken)
            continue;
        *wants_help = is_one_of(ask->text, helps);
        return word_for_any_time(ask->text);
    }
}

/* Asks until a line came that is no word for help. */
static hp_answer read_answer(hp_ask *ask, const char *help)
{
    for (;;) {
        bool wants_help = false;
        hp_answer answer = read_words(ask, &wants_help);
        if (answer != HP_ANSWER_GIVEN || !wants_help)
            return answer;
        if (help && help[0])
            hp_ask_say(ask, "%s", help);
        explain_words(ask);
    }
}

hp_answer hp_ask_text(hp_ask *ask, const char *question, const char *help, const char *fallback,
                      const char *shown)
{
    fputc('\n', ask->out.file);
    if (fallback)
        hp_ask_say(ask, "%s [%s]", question, shown ? shown : fallback);
    else
        hp_ask_say(ask, "%s", question);
    for (int tries = 1;; tries++) {
        hp_answer answer = read_answer(ask, help);
        if (answer != HP_ANSWER_GIVEN || ask->text[0])
            return answer;
        if (fallback) {
            snprintf(ask->text, sizeof ask->text, "%s", fallback);
            return HP_ANSWER_GIVEN;
        }
        hp_ask_say(ask, "%s %s", hp_form_wanted,
                   tries % PATIENCE == 0 ? "\"help\" explains, "
                                           "\"stop\" ends."
                                         : "");
    }
}

/* The choice that the text names by digit, word, or the beginning of one word only; -1. */
static int find_choice(const char *text, const hp_choice *choices, int count)
{
    char *end = NULL;
    long digit = strtol(text, &end, 10);
    if (*end == '\0' && end != text)
        return digit >= 1 && digit <= count ? (int)digit - 1 : -1;
    int found = -1, matches = 0;
    for (int k = 0; k < count; k++) {
        if (strcasecmp(text, choices[k].word) == 0)
            return k;
        if (strncasecmp(text, choices[k].word, strlen(text)) == 0) {
            found = k;
            matches++;
        }
    }
    return matches == 1 ? found : -1;
}

static void refuse_choice(const hp_ask *ask, const hp_choice *choices, int count)
{
    char words[400], digits[40];
    snprintf(digits, sizeof digits, count > 2 ? "a digit from 1 to %d" : "1 or %d", count);
    hp_phrase p = hp_phrase_begin(words, sizeof words);
    for (int k = 0; k < count; k++)
        hp_phrase_add(&p, "%s%s", k == 0 ? "" : k == count - 1 ? " or " : ", ", choices[k].word);
    if (ask->text[0])
        hp_ask_say(ask, "\"%s\" is none of the answers, must be %s, or %s.", ask->text, digits,
                   words);
    else
        hp_ask_say(ask, "Please answer with %s (or %s).", digits, words);
}

/* The choice that was typed: of those that are shown, else by its word of those that are not. */
static int find_typed(const char *text, const hp_choice *choices, int count, int all)
{
    int found = find_choice(text, choices, count);
    if (found >= 0 || all == count || strspn(text, "0123456789") > 0)
        return found;
    found = find_choice(text, choices + count, all - count);
    return found >= 0 ? count + found : -1;
}

hp_answer hp_ask_choice(hp_ask *ask, const char *question, const char *help,
                        const hp_choice *choices, int count, int fallback, int *index)
{
    return hp_ask_choice_or_more(ask, question, help, choices, count, count, fallback, index);
}

static void list_choices(const hp_ask *ask, const hp_choice *choices, int count)
{
    char title[16];
    for (int k = 0; k < count; k++) {
        char clean[400];
        snprintf(title, sizeof title, "  %d", k + 1);
        hp_text_fill(&ask->out, title, 5, hp_text_clean(choices[k].text, clean, sizeof clean));
    }
}

hp_answer hp_ask_menu(hp_ask *ask, const char *question, const hp_choice *choices, int count,
                      int *index)
{
    char line[1200];
    hp_phrase p = hp_phrase_begin(line, sizeof line);
    hp_phrase_add(&p, "%s ", question);
    for (int k = 0; k < count; k++)
        hp_phrase_add(&p, "%s%d %s", k ? ", " : "", k + 1, choices[k].word);
    fputc('\n', ask->out.file);
    hp_ask_say(ask, "%s", line);
    for (;;) {
        bool wants_help = false;
        hp_answer answer = read_words(ask, &wants_help);
        if (wants_help) {
            list_choices(ask, choices, count);
            explain_words(ask);
            continue;
        }
        *index = answer == HP_ANSWER_GIVEN ? find_choice(ask->text, choices, count) : -1;
        if (answer != HP_ANSWER_GIVEN || *index >= 0)
            return answer;
        refuse_choice(ask, choices, count);
    }
}

hp_answer hp_ask_choice_or_more(hp_ask *ask, const char *question, const char *help,
                                const hp_choice *choices, int count, int all, int fallback,
                                int *index)
{
    fputc('\n', ask->out.file);
    if (fallback == count)
        hp_ask_say(ask, "%s [Enter: leave it out]", question);
    else if (fallback >= 0)
        hp_ask_say(ask, "%s [%d]", question, fallback + 1);
    else
        hp_ask_say(ask, "%s", question);
    list_choices(ask, choices, count);
    for (;;) {
        hp_answer answer = read_answer(ask, help);
        if (answer != HP_ANSWER_GIVEN)
            return answer;
        *index = ask->text[0]        ? find_typed(ask->text, choices, count, all)
                 : fallback == count ? -2
                                     : fallback;
        if (*index >= 0)
            return HP_ANSWER_GIVEN;
        if (*index == -2) {
            *index = -1;
            return HP_ANSWER_GIVEN;
        }
        refuse_choice(ask, choices, count);
    }
}
