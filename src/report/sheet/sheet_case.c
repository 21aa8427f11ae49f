/* The wiring sheet of a scenario and its log: see the header. */
#include "hubphase/report/documents.h"

#include "hubphase/decide/evidence.h"
#include "model/plug.h"
#include "report/sheet/sheet_html.h"
#include "report/sheet/sheet_pdf.h"
#include "report/words/case_card.h"

#include <stdlib.h>
#include <string.h>

#define DATE_SIZE 64

hp_sheet_options hp_sheet_options_default(void)
{
    return (hp_sheet_options){.form = HP_SHEET_HTML};
}

/* What sits at each pin, from the last entry that says; false when none does.
 */
static bool fill_plug(const hp_bench_log *log, const hp_labels *labels, hp_sheet_plug *plug)
{
    const hp_plug_map *map = hp_bench_log_plug(log);
    const hp_bench_entry *entry = NULL;
    for (int k = 0; map && k < log->count; k++)
        if (&log->entry[k].entry.pins.plug == map)
            entry = &log->entry[k];
    memset(plug, 0, sizeof *plug);
    if (!entry)
        return false;
    plug->note = entry->note[0] ? entry->note : NULL;
    snprintf(plug->name, sizeof plug->name, "motor");
    hp_plug_view_make(map, labels, &plug->view);
    for (int k = 0; k < HP_PLUG_LEAD_COUNT; k++) {
        char lead[HP_LABEL_SIZE + 16];
        if (plug->view.pins && hp_pin_place_read(map->pin[k]).kind != HP_PLACE_NONE)
            continue;
        hp_plug_lead_words(labels, k, lead, sizeof lead);
        hp_sheet_plug_add(plug, map->pin[k], lead);
    }
    hp_sheet_plug_arrange(plug);
    return true;
}

/* The day of the last entry. */
static const char *log_date(const hp_bench_log *log, char *out, size_t size)
{
    if (log->count == 0 || !log->entry[log->count - 1].time[0])
        return NULL;
    snprintf(out, size, "%.10s (last entry of the bench log)", log->entry[log->count - 1].time);
    return out;
}

static hp_entry *copy_entries(const hp_bench_log *log, hp_error *err)
{
    hp_entry *entry = calloc((size_t)log->count + 1, sizeof *entry);
    if (!entry)
        hp_error_set(err, HP_FAIL_MEMORY, "no memory for the entries of the log");
    for (int k = 0; entry && k < log->count; k++)
        entry[k] = log->entry[k].entry;
    return entry;
}

static hp_result write_pdf(const hp_wiring_sheet *sheet, FILE *out, hp_error *err)
{
    char *bytes = NULL;
    size_t size = 0;
    hp_result result = hp_sheet_pdf_render(sheet, &bytes, &size, err);
    if (result == HP_OK && fwrite(bytes, 1, size, out) != size)
        result = hp_error_set(err, HP_FAIL_IO, "the sheet could not be written");
    free(bytes);
    return result;
}

static hp_result write_form(const hp_wiring_sheet *sheet, hp_sheet_form form, FILE *out,
                            hp_error *err)
{
    switch (form) {
    case HP_SHEET_HTML: return hp_sheet_html_write(sheet, out, err);
    case HP_SHEET_PDF: return write_pdf(sheet, out, err);
    case HP_SHEET_FORM_COUNT: break;
    }
    return hp_error_set(err, HP_FAIL_INPUT, "the form of the sheet is %d, must be HTML or PDF",
                        (int)form);
}

bool hp_sheet_wants_advice(const hp_bench_log *log)
{
    for (int k = 0; k < log->count; k++) {
        if (hp_entry_trial(&log->entry[k].entry))
            return true;
    }
    return false;
}

hp_result hp_sheet_write(const hp_scenario *scenario, const hp_bench_log *log,
                         const hp_sheet_options *options, FILE *out, hp_error *err)
{
    hp_sheet_plug plug;
    char date[DATE_SIZE];
    hp_parameters parameters = scenario->parameters; /* borrowed: looked up only */
    if (options->wiring < 0 || options->wiring > HP_WIRING_COUNT)
        return hp_error_set(err, HP_FAIL_INPUT, "the sheet's wiring is %d, must be from 0 to %d",
                            options->wiring, HP_WIRING_COUNT);
    hp_entry *entry = copy_entries(log, err);
    hp_commission_case *commission = entry ? hp_commission_case_create(scenario, log, err) : NULL;
    if (!commission) {
        free(entry);
        return HP_FAIL_MEMORY;
    }
    const hp_card_context steps = hp_commission_card_context(commission);
    const char *slash = strrchr(log->path, '/');
    hp_sheet_source source = {.drive = &scenario->drive,
                              .labels = &scenario->labels,
                              .harness = &scenario->harness,
                              .parameters = &parameters,
                              .person = &scenario->bench.person,
                              .prior = &scenario->bench.prior,
                              .log = log->exists ? (slash ? slash + 1 : log->path) : NULL,
                              .entry = entry,
                              .entries = log->count,
                              .plug = &plug,
                              .plugs = fill_plug(log, &scenario->labels, &plug),
                              .wiring = options->wiring,
                              .date =
                                  options->date ? options->date : log_date(log, date, sizeof date),
                              .advice = options->advice,
                              .steps = &steps,
                              .work = commission};
    hp_wiring_sheet sheet;
    hp_wiring_sheet_make(&source, &sheet);
    hp_result result = write_form(&sheet, options->form, out, err);
    hp_commission_case_free(commission);
    free(entry);
    return result;
}
