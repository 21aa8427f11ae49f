/*
 * Files of this folder made into C arrays by embed.cmake: terminated texts, and the hashes by which
 * a page's Content-Security-Policy lets them work.
 */
#ifndef HUBPHASE_SRC_REPORT_EMBEDDED_H
#define HUBPHASE_SRC_REPORT_EMBEDDED_H

extern const unsigned char hp_plan_list_css[];
extern const char hp_plan_list_css_hash[]; /* "sha256-..." */
extern const unsigned char hp_sheet_css[];
extern const char hp_sheet_css_hash[];
extern const unsigned char hp_handout_css[];
extern const char hp_handout_css_hash[];

#endif
