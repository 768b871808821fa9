/* SPDX-License-Identifier: MIT */
/*
 * Why: a thousand jobs share a handful of zones, and reading one takes a file. A short list
 * searched in order is enough: the whole world has some 400 names, a company works in two or three.
 */
#include <stdlib.h>
#include <string.h>

#include "intake/intake.h"

#include "base/banned.h"

struct intake_zones {
    struct zone **items;
    size_t count;
    size_t capacity;
};

struct intake_zones *intake_zones_new(void)
{
    return calloc(1, sizeof(struct intake_zones));
}

void intake_zones_free(struct intake_zones *zones)
{
    if (zones == NULL) return;
    for (size_t i = 0; i < zones->count; i++) zone_free(zones->items[i]);
    free(zones->items);
    free(zones);
}

enum status intake_zones_get(const struct zone **out, struct intake_zones *zones, const char *name,
                             struct fault *fault)
{
    for (size_t i = 0; i < zones->count; i++) {
        if (strcmp(zones->items[i]->name, name) == 0) {
            *out = zones->items[i];
            return STATUS_OK;
        }
    }
    if (zones->count == zones->capacity) {
        size_t capacity = zones->capacity == 0 ? 4 : 2 * zones->capacity;
        struct zone **items = realloc(zones->items, capacity * sizeof *items);
        if (items == NULL) {
            fault_set(fault, "", "memory", "none left");
            return STATUS_LIMIT;
        }
        zones->items = items;
        zones->capacity = capacity;
    }
    struct zone *zone = NULL;
    enum status status = zone_load(&zone, name, fault);
    if (status != STATUS_OK) return status;
    zones->items[zones->count++] = zone;
    *out = zone;
    return STATUS_OK;
}
