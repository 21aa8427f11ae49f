/*
 * Files of this folder made into C arrays by embed.cmake: terminated texts, and the hashes by which
 * a page's Content-Security-Policy lets them work.
 */
#ifndef HUBPHASE_SRC_REPORT_EMBEDDED_H
#define HUBPHASE_SRC_REPORT_EMBEDDED_H

extern const unsigned char hp_page_css[];
extern const char hp_page_css_hash[]; /* "sha256-..." */
extern const unsigned char hp_page_js[];
extern const char hp_page_js_hash[];
extern const unsigned char hp_sheet_css[];
extern const char hp_sheet_css_hash[];

#endif
