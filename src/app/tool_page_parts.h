/*
 * The parts of the page with the library inside, as C arrays that embed.cmake makes of the files in
 * src/web/page and src/web/wall, and of src/packaging/copyright: terminated texts, and the hashes
 * by which its policy lets them work.
 */
#ifndef HUBPHASE_SRC_APP_TOOL_PAGE_PARTS_H
#define HUBPHASE_SRC_APP_TOOL_PAGE_PARTS_H

#include <stddef.h>

extern const unsigned char hp_shell_html[];
extern const unsigned char hp_tool_css[];
extern const char hp_tool_css_hash[]; /* "sha256-..." */
extern const unsigned char hp_tool_js[];
extern const char hp_tool_js_hash[];
extern const unsigned char hp_worker_js[];
extern const unsigned char hp_wall_html[];
extern const unsigned char hp_wall_css[];
extern const char hp_wall_css_hash[];
extern const unsigned char hp_wall_js[];
extern const char hp_wall_js_hash[];
extern const unsigned char hp_copyright[]; /* notices of all that a page holds */
/* The library; no bytes where the build had no tools for it. */
extern const unsigned char hp_hubphase_wasm[];
extern const size_t hp_hubphase_wasm_size;

#endif
