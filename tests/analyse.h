/* What an analyser that sees one file at a time has to be told: these return the code they are given. */
#include "hubphase/base/result.h"

#define hp_error_set(err, code, ...)     (hp_error_set(err, code, __VA_ARGS__), (code))
#define hp_error_context(err, code, ...) (hp_error_context(err, code, __VA_ARGS__), (code))
