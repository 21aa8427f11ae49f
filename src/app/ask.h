/*
 * Questions and answers, one at a time, on any terminal or through a pipe: a question, a line "> ",
 * one line of answer. No cursor movement, no colour.
 *
 * Words that every question understands: back, undo, help (or ?), stop. An empty line takes the
 * default that the question shows. When the answers do not come from a terminal they are printed
 * after the prompt, so that what comes out reads like a conversation.
 */
#ifndef HUBPHASE_SRC_APP_ASK_H
#define HUBPHASE_SRC_APP_ASK_H

#include "hubphase/base/text.h"
#include "hubphase/report/case_words.h"

#include <stdbool.h>
#include <stdio.h>

#define HP_ASK_TEXT_SIZE 1200

typedef enum hp_answer {
    HP_ANSWER_GIVEN,
    HP_ANSWER_BACK, /* one question back */
    HP_ANSWER_UNDO, /* the last answer, or between entries the last entry, taken back */
    HP_ANSWER_STOP, /* or Ctrl-C */
    HP_ANSWER_END   /* no more input */
} hp_answer;

typedef struct hp_ask {
    FILE *in;          /* borrowed */
    hp_screen out;     /* its file is borrowed */
    bool echo;         /* print answers */
    bool interrupted;  /* by Ctrl-C */
    const char *words; /* what "help" says of the words for any time; NULL: as at the bench */
    char *line;        /* owned; buffer of getline */
    size_t size;
    char text[HP_ASK_TEXT_SIZE]; /* the answer, without blanks at its ends */
} hp_ask;

hp_ask hp_ask_begin(FILE *in, const hp_screen *out);
void hp_ask_end(hp_ask *ask);

/* Prints text filled to the width of the terminal. */
void hp_ask_say(const hp_ask *ask, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* A free answer, in ask->text. `fallback` is what an empty line gives: NULL: one must be given;
 * "": nothing, the question may be left out. `shown` is how the default is shown, NULL: as it is.
 */
hp_answer hp_ask_text(hp_ask *ask, const char *question, const char *help, const char *fallback,
                      const char *shown);

/* One of `count` choices by digit or word; its index. `fallback` is the index of the default, or
 * -1: one must be given, or `count`: the question may be left out, and *index is then -1. */
hp_answer hp_ask_choice(hp_ask *ask, const char *question, const char *help,
                        const hp_choice *choices, int count, int fallback, int *index);
/* The same of `all`, of which only the first `count` are shown; the others go by their words. */
hp_answer hp_ask_choice_or_more(hp_ask *ask, const char *question, const char *help,
                                const hp_choice *choices, int count, int all, int fallback,
                                int *index);
/* The same of a menu that the person has seen: its words alone, in a running line; "help" lists
 * them with their texts. */
hp_answer hp_ask_menu(hp_ask *ask, const char *question, const hp_choice *choices, int count,
                      int *index);

#endif
