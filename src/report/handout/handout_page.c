/* What the pages of all hand-outs share: see the header. */
#include "report/handout/handout_page.h"

#include "hubphase/base/text.h"
#include "report/picture/lead_colour.h"
#include "report/picture/picture_parts.h"

#include <math.h>
#include <stdio.h>

#define TITLE 26.0
#define LINE  1.3 /* of a paragraph, as the pen sets it */

hp_type hp_handout_body(bool bold)
{
    return (hp_type){HP_HANDOUT_BODY, HP_INK_BLACK, HP_ALIGN_LEFT, bold};
}

hp_type hp_handout_small(hp_align align, bool bold)
{
    return (hp_type){HP_HANDOUT_SMALL, HP_INK_BLACK, align, bold};
}

/* "group 2 of 4, seed 7" */
static char *whose(const hp_handout_job *job, char *out, size_t size)
{
    hp_phrase p = hp_phrase_begin(out, size);
    if (job->group)
        hp_phrase_add(&p, "group %d of %d, seed %llu", job->group, job->source->groups,
                      job->source->seed);
    else
        hp_phrase_add(&p, "for all groups");
    return out;
}

double hp_handout_head(const hp_canvas *canvas, const hp_handout_job *job, bool names)
{
    char who[120];
    const char *machine = job->source->subject.labels->machine;
    hp_type title = {TITLE, HP_INK_BLACK, HP_ALIGN_LEFT, true};
    double y = HP_HANDOUT_TOP;
    hp_pen_text(canvas, HP_HANDOUT_LEFT, y + 0.5 * TITLE, title, job->handout->title);
    hp_pen_text(canvas, HP_HANDOUT_RIGHT, y + 0.6 * TITLE, hp_handout_small(HP_ALIGN_RIGHT, true),
                whose(job, who, sizeof who));
    y += 1.35 * TITLE;
    hp_pen_text_cut(canvas, HP_HANDOUT_LEFT, y + 0.5 * HP_HANDOUT_BODY, names ? 340.0 : 700.0,
                    hp_handout_body(false), machine[0] ? machine : job->source->subject.file);
    if (names) {
        hp_pen_text(canvas, HP_HANDOUT_LEFT + 350.0, y + 0.5 * HP_HANDOUT_BODY,
                    hp_handout_body(false), "Names");
        hp_pen_dots(canvas, HP_HANDOUT_LEFT + 400.0, HP_HANDOUT_RIGHT, y + HP_HANDOUT_BODY);
    }
    y += 1.7 * HP_HANDOUT_BODY;
    hp_pen_line(canvas, HP_HANDOUT_LEFT, y, HP_HANDOUT_RIGHT, y, HP_INK_BLACK, 1.5);
    return y + 8.0;
}

void hp_handout_foot(const hp_canvas *canvas, const hp_handout_job *job)
{
    char who[120], foot[400];
    hp_type grey = {HP_HANDOUT_SMALL, HP_INK_DARK, HP_ALIGN_LEFT, false};
    const char *machine = job->source->subject.labels->machine;
    snprintf(foot, sizeof foot, "%s%s%s, %s, page %d of %d. All figures are simulated.",
             job->handout->title, machine[0] ? ", " : "", machine, whose(job, who, sizeof who),
             job->page + 1, job->pages);
    hp_pen_text_cut(canvas, HP_HANDOUT_LEFT, HP_PICTURE_A4_HEIGHT - 38.0, HP_HANDOUT_WIDTH, grey,
                    foot);
}

/* ---- several pages --------------------------------------------------------------------------- */

hp_handout_flow hp_handout_flow_begin(const hp_canvas *canvas, const hp_handout_job *job)
{
    hp_handout_flow f = {.canvas = canvas, .job = job, .y = HP_HANDOUT_TOP};
    f.y = hp_handout_head(hp_handout_flow_room(&f, 0.0), job, false);
    return f;
}

void hp_handout_flow_page(hp_handout_flow *f)
{
    f->page++;
    f->y = HP_HANDOUT_TOP;
}

const hp_canvas *hp_handout_flow_room(hp_handout_flow *f, double height)
{
    if (f->y + height > HP_HANDOUT_BOTTOM)
        hp_handout_flow_page(f);
    return f->canvas && f->job->page == f->page ? f->canvas : NULL;
}

void hp_handout_flow_say(hp_handout_flow *f, double indent, double gap, hp_type type,
                         const char *text)
{
    double width = HP_HANDOUT_TEXT - indent;
    double height = hp_pen_paragraph_height(width, type, text);
    if (!text[0])
        return;
    const hp_canvas *canvas = hp_handout_flow_room(f, height);
    hp_pen_paragraph(canvas, HP_HANDOUT_LEFT + indent, f->y, width, type, text);
    f->y += height + gap;
}

double hp_handout_say(const hp_canvas *canvas, double y, hp_type type, const char *text)
{
    return hp_pen_paragraph(canvas, HP_HANDOUT_LEFT, y, HP_HANDOUT_TEXT, type, text) + 5.0;
}

double hp_handout_boxed(const hp_canvas *canvas, double y, const char *title, const char *text)
{
    double inner = HP_HANDOUT_WIDTH - 20.0;
    double line = LINE * HP_HANDOUT_BODY;
    double height = line + hp_pen_paragraph_height(inner, hp_handout_body(false), text) + 12.0;
    hp_pen_frame(canvas, (hp_box){HP_HANDOUT_LEFT, y, HP_HANDOUT_RIGHT, y + height}, HP_INK_BLACK,
                 1.6);
    hp_pen_paragraph(canvas, HP_HANDOUT_LEFT + 10.0, y + 6.0, inner, hp_handout_body(true), title);
    hp_pen_paragraph(canvas, HP_HANDOUT_LEFT + 10.0, y + 6.0 + line, inner, hp_handout_body(false),
                     text);
    return y + height + 8.0;
}

void hp_handout_tick(const hp_canvas *canvas, double x, double y, const char *text)
{
    hp_pen_frame(canvas, (hp_box){x, y - 7.0, x + 14.0, y + 7.0}, HP_INK_BLACK, 1.2);
    hp_pen_text(canvas, x + 20.0, y, hp_handout_small(HP_ALIGN_LEFT, false), text);
}

void hp_handout_lead(const hp_canvas *canvas, double x, double y, double width,
                     const char label[HP_PHASE_COUNT][HP_LABEL_SIZE], int lead)
{
    hp_type small = hp_handout_small(HP_ALIGN_LEFT, false);
    hp_lead_line_wide(canvas, x, y - 10.0, x + 30.0, y - 10.0, label[lead], 5.0);
    hp_pen_text_cut(canvas, x, y + 7.0, width, small,
                    hp_picture_label_fit(label, lead, small, width));
}

#define SWATCH 34.0

void hp_handout_swatch(const hp_canvas *canvas, double x, double y, const hp_labels *labels,
                       int lead)
{
    hp_lead_sample(canvas, x - 0.5 * SWATCH, y, SWATCH, lead, labels->motor_lead[lead]);
}

double hp_handout_legend(const hp_canvas *canvas, double x, double y, double width,
                         const hp_labels *labels)
{
    const double letter_at = x + SWATCH + 10.0, name_at = letter_at + 18.0;
    for (int k = 0; k < HP_PHASE_COUNT; k++) {
        char letter[2] = {hp_phase_letter(k), '\0'};
        if (!labels->motor_lead[k][0])
            continue;
        hp_handout_swatch(canvas, x + 0.5 * SWATCH, y + 9.0, labels, k);
        hp_pen_text(canvas, letter_at, y + 9.0, hp_handout_small(HP_ALIGN_LEFT, true), letter);
        hp_pen_text_cut(canvas, name_at, y + 9.0, x + width - name_at,
                        hp_handout_small(HP_ALIGN_LEFT, false), labels->motor_lead[k]);
        y += 20.0;
    }
    return y;
}

int hp_handout_given(const hp_handout_source *source)
{
    return hp_survey_first_correct(source->survey);
}

int hp_handout_sectors(const hp_handout_source *source, int number,
                       hp_lead_sector sector[HP_LEAD_SECTOR_MAX])
{
    const hp_drive *drive = source->subject.drive;
    hp_wiring wiring = hp_wiring_from_number(number);
    return hp_drive_sectors(drive, &wiring, sector);
}

char *hp_handout_pair(const hp_lead_sector *sector, char *out, size_t size)
{
    if (sector->high < 0)
        snprintf(out, size, "none");
    else
        snprintf(out, size, "%c+ %c-", hp_phase_letter(sector->high), hp_phase_letter(sector->low));
    return out;
}

char *hp_handout_code(const hp_lead_sector *sector, char *out, size_t size)
{
    snprintf(out, size, "%d%d%d", sector->code >> 2 & 1, sector->code >> 1 & 1, sector->code & 1);
    return out;
}
