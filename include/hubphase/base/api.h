/*
 * What every public header begins with: C linkage, visibility, version.
 *
 * What a public header declares between HP_API_BEGIN and HP_API_END can be called from C and C++
 * and is seen from outside the shared library; every other symbol of the library is hidden there.
 */
#ifndef HUBPHASE_BASE_API_H
#define HUBPHASE_BASE_API_H

/* Semantic versioning (semver.org, 2.0.0): while the first number is 0, any change of the second
 * may break users. */
#define HP_VERSION_MAJOR 0
#define HP_VERSION_MINOR 1
#define HP_VERSION_PATCH 0

#define HP_VERSION_TEXT(number)  #number
#define HP_VERSION_JOIN(a, b, c) HP_VERSION_TEXT(a) "." HP_VERSION_TEXT(b) "." HP_VERSION_TEXT(c)
/* "0.1.0": of the headers that a program was compiled with. */
#define HP_VERSION HP_VERSION_JOIN(HP_VERSION_MAJOR, HP_VERSION_MINOR, HP_VERSION_PATCH)

#ifdef __cplusplus
#define HP_API_BEGIN                                                                               \
    extern "C" {                                                                                   \
    _Pragma("GCC visibility push(default)")
#define HP_API_END                                                                                 \
    _Pragma("GCC visibility pop")                                                                  \
    }
#else
#define HP_API_BEGIN _Pragma("GCC visibility push(default)")
#define HP_API_END   _Pragma("GCC visibility pop")
#endif

HP_API_BEGIN

/* "0.1.0": of the library that a program runs with; static storage. */
const char *hp_version(void);

HP_API_END

#endif
