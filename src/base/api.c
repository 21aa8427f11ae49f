/* The library's version: see the header. */
#include "hubphase/base/api.h"

const char *hp_version(void)
{
    return HP_VERSION;
}
