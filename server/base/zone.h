/* SPDX-License-Identifier: MIT */
/*
 * A time zone as a plain table: from each transition on, an offset from UTC. The table is read once
 * from the system's zone files (zone.c) and then handed about by pointer, so that the computing
 * layers stay free of files and of the process-wide TZ setting.
 */
#ifndef EMBERWAIT_BASE_ZONE_H
#define EMBERWAIT_BASE_ZONE_H

#include <stddef.h>
#include <stdint.h>

#include "base/status.h"

enum { ZONE_NAME_MAX = 64, ZONE_ABBREVIATION_MAX = 12 };

/** From `from_s` (inclusive) on, local time = UTC + offset_s. */
struct zone_span {
    int64_t from_s;
    int32_t offset_s;
    char abbreviation[ZONE_ABBREVIATION_MAX];
};

/** An IANA zone, complete from 1970 to 2200. Spans ascend; span[0].from_s is INT64_MIN. */
struct zone {
    char name[ZONE_NAME_MAX];
    size_t count;
    struct zone_span *spans;
};

/**
 * Read a zone by its IANA name, e.g. `America/Denver`.
 *
 * @param[out] out    Own; free with zone_free.
 * @param[in]  name   Letters, digits, `_ - + /`; no leading slash, no `..`.
 * @param[out] fault  found / wanted when the name is unknown; may be NULL.
 * Status: OK, INVALID (bad name), NOT_FOUND (no such zone), CORRUPT (bad file), IO.
 * Source: [rfc9636] TZif, with the footer rule expanded to 2200.
 */
MUST_USE enum status zone_load(struct zone **out, const char *name, struct fault *fault);

/** Free a zone; NULL is allowed. */
void zone_free(struct zone *zone);

#endif
