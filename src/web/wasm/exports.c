/*
 * What the WebAssembly offers: hp_web_create, hp_web_call, malloc and free; and the one thing
 * beside the system's calls that it asks for, hp_web_progress.
 */
#include "web/face.h"

__attribute__((import_module("env"), import_name("hp_web_progress"))) int
hp_web_progress(int done, int total);

static int tell(void *user, int done, int total)
{
    (void)user;
    return hp_web_progress(done, total);
}

hp_web *hp_web_create_told(void);

__attribute__((export_name("hp_web_create"))) hp_web *hp_web_create_told(void)
{
    return hp_web_create(tell, NULL);
}
