/*
 * The colour that a lead's name speaks of, so that a picture can show it beside the name.
 */
#ifndef HUBPHASE_SRC_REPORT_PICTURE_LEAD_TINT_H
#define HUBPHASE_SRC_REPORT_PICTURE_LEAD_TINT_H

/* "#f2c200" for "yellow" or "thick yellow"; of a lead with two colours the first. NULL where the
 * name speaks of none. Static storage. */
const char *hp_lead_tint(const char *label);

#endif
