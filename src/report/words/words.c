/* Words for kinds of entries, and the command that logs one: see the header. */
#include "report/words/words.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define LETTERS "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"

const hp_words *hp_words_of(const hp_reading *reading)
{
    for (int k = 0; hp_words_list[k]; k++)
        if (hp_words_list[k]->reading == reading)
            return hp_words_list[k];
    return NULL;
}

const hp_question *hp_questions_of(const hp_reading *kind)
{
    const hp_words *own = hp_words_of(kind);
    return own ? own->questions : NULL;
}

const char *hp_reading_menu(const hp_reading *kind)
{
    const hp_words *own = hp_words_of(kind);
    return own ? own->menu : NULL;
}

/* ---- what a step may show -------------------------------------------------------------------- */

void hp_showing_words_make(const hp_card_context *context, const hp_advice *advice,
                           const hp_entry *entry, hp_showing_words *words)
{
    const hp_words *own = hp_words_of(entry->reading);
    *words = (hp_showing_words){.label = ""};
    if (own && own->showing) {
        own->showing(context, advice, entry->values, words);
        return;
    }
    snprintf(words->label, sizeof words->label, "%s", entry->reading->title);
    snprintf(words->sentence, sizeof words->sentence, "%s.", entry->reading->title);
}

char *hp_entry_words(const hp_card_context *context, const hp_entry *entry, char *out, size_t size)
{
    const hp_words *own = hp_words_of(entry->reading);
    hp_phrase p = hp_phrase_begin(out, size);
    if (own && own->entry) {
        own->entry(context, entry->values, &p);
        if (p.used > 0 && out[p.used - 1] == ':') /* there is such a part, no more */
            hp_phrase_add(&p, " nothing read yet");
        return out;
    }
    hp_showing_words words;
    hp_showing_words_make(context, NULL, entry, &words);
    hp_phrase_add(&p, "%s: %s", entry->reading->title, words.label);
    return out;
}

/* ---- the command that logs a step ------------------------------------------------------------ */

void hp_log_word(hp_log_line *l, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    size_t room = l->size - l->used;
    int bytes = vsnprintf(l->out + l->used, room, format, args);
    va_end(args);
    if (bytes < 0 || (size_t)bytes + 2 > room)
        l->size = l->used + 1;
    else
        l->used += (size_t)bytes + 1;
    l->out[l->used] = '\0';
}

void hp_log_words(hp_log_line *l, const char *words)
{
    while (*words) {
        int length = (int)strcspn(words, " ");
        hp_log_word(l, "%.*s", length, words);
        words += length;
        words += strspn(words, " ");
    }
}

/* Whether a label needs no quotes and cannot be taken for two: one may itself hold a hyphen. */
static bool is_one_word(const char *label)
{
    return label[0] && label[strspn(label, LETTERS)] == '\0';
}

/* By their labels, or by their axis letters where one of those is no plain word. */
void hp_log_pairs(hp_log_line *l, const hp_labels *labels, const char *option, const char *what)
{
    bool plain = true;
    for (int k = 0; k < HP_PHASE_COUNT; k++)
        plain = plain && is_one_word(labels->motor_lead[k]);
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        int next = (k + 1) % HP_PHASE_COUNT;
        char letter[2][2] = {{hp_phase_letter(k)}, {hp_phase_letter(next)}};
        hp_log_word(l, "--%s=%s-%s=%s", option, plain ? labels->motor_lead[k] : letter[0],
                    plain ? labels->motor_lead[next] : letter[1], what);
    }
}

/* Each required field as it would be typed. */
static void log_required(const hp_reading *reading, hp_log_line *l)
{
    for (const hp_field *field = reading->fields; field->name; field++) {
        char option[64];
        snprintf(option, sizeof option, "%s", field->name);
        for (char *c = option; *c; c++)
            if (*c == '_')
                *c = '-';
        if (field->required)
            hp_log_word(l, "--%s=%s", option, field->argument);
    }
}

void hp_log_options(const hp_card_context *context, const hp_advice *advice,
                    const hp_reading *reading, hp_log_line *line)
{
    const hp_words *own = hp_words_of(reading);
    hp_log_word(line, "%s", reading->name);
    if (own && own->log_words)
        hp_log_words(line, own->log_words);
    else if (own && own->log)
        own->log(context, advice, line);
    else
        log_required(reading, line);
}
