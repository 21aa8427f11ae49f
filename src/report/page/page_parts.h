/*
 * The page's style sheet and script, made into C arrays from src/report/page by embed.cmake, and
 * the hashes by which its Content-Security-Policy lets them work. Terminated texts.
 */
#ifndef HUBPHASE_SRC_REPORT_PAGE_PAGE_PARTS_H
#define HUBPHASE_SRC_REPORT_PAGE_PAGE_PARTS_H

extern const char hp_page_css_hash[]; /* "sha256-..." */
extern const unsigned char hp_page_css[];
extern const char hp_page_js_hash[];
extern const unsigned char hp_page_js[];

#endif
