/* SPDX-License-Identifier: MIT */
/* Counters of the server for /metrics, in the Prometheus text format. By route, never by address.
 */
#ifndef EMBERWAIT_HTTP_METRICS_H
#define EMBERWAIT_HTTP_METRICS_H

#include <stddef.h>
#include <stdint.h>

#include "base/text.h"
#include "http/route.h"

struct metrics;
struct guard;

/** NULL when there is no memory. Own; metrics_free. */
struct metrics *metrics_new(void);
/** NULL is allowed. */
void metrics_free(struct metrics *metrics);
/** One request was answered. `route` NULL: no route took it. */
void metrics_add(struct metrics *metrics, const struct http_route *route, unsigned status,
                 size_t bytes, int64_t took_ns);
/** Write them. */
void metrics_write(struct text *out, const struct metrics *metrics);

#endif
