/* SPDX-License-Identifier: MIT */
/*
 * Random jobs for the property tests: records, weather and options drawn from a seed, small enough
 * to be planned tens of thousands of times a second, wild enough to reach every clock. The same
 * world can be written out as a case file, so that a failure can be looked at with `emberwait
 * plan`.
 */
#ifndef EMBERWAIT_TESTS_WORLD_H
#define EMBERWAIT_TESTS_WORLD_H

#include <stdbool.h>
#include <stdio.h>

#include "base/arena.h"
#include "model/job.h"

enum { WORLD_RECORDS_MAX = 160, WORLD_HOURS_MAX = 24 * 120 };

/** splitmix64: one 64-bit state, the whole world follows from it. */
struct chance {
    uint64_t state;
};
uint64_t chance_next(struct chance *chance);
/** 0 .. below-1 */
int chance_below(struct chance *chance, int below);
double chance_between(struct chance *chance, double low, double high);
bool chance_of(struct chance *chance, int percent);

struct world {
    struct record records[WORLD_RECORDS_MAX];
    char ids[WORLD_RECORDS_MAX][8];
    size_t count;
    double temp[WORLD_HOURS_MAX], rain[WORLD_HOURS_MAX], ahead[24 * 14], ahead_rain[24 * 14];
    struct station station;
    struct job job;
    struct company company;
    int64_t now_s;
};

/** Draw a world. `zones` are borrowed, [zone_count]. */
void world_draw(struct world *world, uint64_t seed, struct zone *const *zones, size_t zone_count);
/** Copy; pointers inside are mended. */
void world_copy(struct world *to, const struct world *from);
/** Append a blank record of a kind; NULL when full. */
struct record *world_add(struct world *world, enum record_kind kind, int64_t at_s);
/** Leave one record out. */
void world_drop(struct world *world, size_t index);
/** Write the world as a case file. */
void world_print(const struct world *world, FILE *out);

#endif
