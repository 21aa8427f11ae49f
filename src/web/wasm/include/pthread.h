/*
 * Threads where there is but one: no other is ever started, so that the crew of sim/pool.h does all
 * its work by itself, and nothing is to be locked.
 */
#ifndef HUBPHASE_SRC_WEB_WASM_INCLUDE_PTHREAD_H
#define HUBPHASE_SRC_WEB_WASM_INCLUDE_PTHREAD_H

#include <errno.h>
#include <stddef.h>

typedef int pthread_t;
typedef int pthread_mutex_t;

#define PTHREAD_MUTEX_INITIALIZER 0

static inline int pthread_create(pthread_t *thread, const void *attributes, void *(*work)(void *),
                                 void *argument)
{
    (void)thread;
    (void)attributes;
    (void)work;
    (void)argument;
    return EAGAIN;
}

static inline int pthread_join(pthread_t thread, void **result)
{
    (void)thread;
    (void)result;
    return EINVAL;
}

static inline int pthread_mutex_lock(pthread_mutex_t *lock)
{
    (void)lock;
    return 0;
}

static inline int pthread_mutex_unlock(pthread_mutex_t *lock)
{
    (void)lock;
    return 0;
}

static inline int pthread_mutex_destroy(pthread_mutex_t *lock)
{
    (void)lock;
    return 0;
}

#endif
