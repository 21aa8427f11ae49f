/*
 * The members of a mapping that is the value of a bench log's key, such as the pairs of
 * `resistance_ohm`.
 */
#ifndef HUBPHASE_SRC_RECORD_LOG_BENCH_LOG_MEMBER_H
#define HUBPHASE_SRC_RECORD_LOG_BENCH_LOG_MEMBER_H

#include "record/log/bench_log_keys.h"

#define HP_BENCH_VALUE_PATH 192

/* One `name: value` of the mapping. Points into itself: never copied. */
typedef struct hp_bench_member {
    char name[HP_BENCH_PAIR_SIZE];
    char path[HP_BENCH_VALUE_PATH + HP_BENCH_PAIR_SIZE];
    hp_value value; /* its path is `path` */
} hp_bench_member;

/* The next member; false at the end. *good turns false, a problem added, when its name is no
 * text. */
bool hp_bench_member_next(const hp_value *mapping, void **position, hp_bench_member *m, bool *good);

/* Adds "PATH is not known, must be EXPECTED". */
void hp_bench_member_refuse(const hp_bench_member *m, const char *expected);
/* Adds that it is given a second time; returns false. */
bool hp_bench_member_refuse_twice(const hp_bench_member *m);

/* Adds that the key's value is not what it must be; returns false. */
bool hp_bench_value_refuse(const hp_bench_key *key, const hp_value *value, const hp_labels *labels);
/* Whether the value is a mapping with something in it; else a problem is added. */
bool hp_bench_mapping_check(const hp_bench_key *key, const hp_value *value,
                            const hp_labels *labels);

#endif
