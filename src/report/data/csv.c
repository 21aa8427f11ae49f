/* CSV by RFC 4180 (Y. Shafranovich, 2005; rules from memory): see the header. */
#include "report/data/csv.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

hp_csv hp_csv_line(FILE *out)
{
    return (hp_csv){.out = out, .fields = 0};
}

static void separate(hp_csv *csv)
{
    if (csv->fields++ > 0)
        fputc(',', csv->out);
}

/* What a spreadsheet would take for a formula when it opens the file, not for a text. */
static bool looks_like_formula(const char *text)
{
    return text[0] != '\0' && strchr("=+-@\t\r", text[0]);
}

void hp_csv_text(hp_csv *csv, const char *text)
{
    separate(csv);
    const char *guard = looks_like_formula(text) ? "'" : "";
    if (!strpbrk(text, ",\"\r\n")) {
        fprintf(csv->out, "%s%s", guard, text);
        return;
    }
    fprintf(csv->out, "\"%s", guard);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', csv->out);
        fputc(*text, csv->out);
    }
    fputc('"', csv->out);
}

void hp_csv_integer(hp_csv *csv, long value)
{
    separate(csv);
    fprintf(csv->out, "%ld", value);
}

void hp_csv_number(hp_csv *csv, double value)
{
    separate(csv);
    if (isfinite(value))
        fprintf(csv->out, "%.9g", value == 0.0 ? 0.0 : value);
}

void hp_csv_end(hp_csv *csv)
{
    fputs("\r\n", csv->out);
    csv->fields = 0;
}
