/* SPDX-License-Identifier: MIT */
/* Why: see metrics.h. Every counter is an atomic; a request adds to four of them. */
#include "http/metrics.h"

#include <stdatomic.h>
#include <stdlib.h>

#include "base/banned.h"

enum { ROUTES_MAX = 128, CLASSES = 6, BOUNDS = 9 };

static const int64_t bounds_us[BOUNDS] = {250,    1000,    4000,    16000,   64000,
                                          250000, 1000000, 4000000, 16000000};

struct metrics {
    _Atomic uint64_t requests[ROUTES_MAX + 1][CLASSES]; /* the last row: no route */
    _Atomic uint64_t within[BOUNDS];
    _Atomic uint64_t count;
    _Atomic uint64_t took_us;
    _Atomic uint64_t bytes;
};

struct metrics *metrics_new(void)
{
    return calloc(1, sizeof(struct metrics));
}

void metrics_free(struct metrics *metrics)
{
    free(metrics);
}

void metrics_add(struct metrics *metrics, const struct http_route *route, unsigned status,
                 size_t bytes, int64_t took_ns)
{
    size_t count;
    const struct http_route *routes = http_routes(&count);
    REQUIRE(count <= ROUTES_MAX);
    const size_t row = route == NULL ? ROUTES_MAX : (size_t)(route - routes);
    const unsigned class = status / 100 < CLASSES ? status / 100 : 0;
    atomic_fetch_add_explicit(&metrics->requests[row][class], 1, memory_order_relaxed);
    const int64_t took_us = took_ns / 1000;
    for (size_t i = 0; i < BOUNDS; i++) {
        if (took_us > bounds_us[i]) continue;
        atomic_fetch_add_explicit(&metrics->within[i], 1, memory_order_relaxed);
        break;
    }
    atomic_fetch_add_explicit(&metrics->count, 1, memory_order_relaxed);
    atomic_fetch_add_explicit(&metrics->took_us, (uint64_t)took_us, memory_order_relaxed);
    atomic_fetch_add_explicit(&metrics->bytes, bytes, memory_order_relaxed);
}

static void write_requests(struct text *out, const struct metrics *metrics)
{
    size_t count;
    const struct http_route *routes = http_routes(&count);
    text_add_z(out, "# HELP emberwait_http_requests_total Requests answered.\n"
                    "# TYPE emberwait_http_requests_total counter\n");
    for (size_t i = 0; i <= count; i++) {
        const size_t row = i == count ? ROUTES_MAX : i;
        for (unsigned class = 0; class < CLASSES; class ++) {
            const uint64_t value = atomic_load(&metrics->requests[row][class]);
            if (value == 0) continue;
            text_print(
                out, "emberwait_http_requests_total{method=\"%s\",route=\"%s\",status=\"%uxx\"} ",
                i == count ? "-" : routes[i].method, i == count ? "-" : routes[i].pattern, class);
            text_integer(out, (int64_t)value);
            text_add_byte(out, '\n');
        }
    }
}

void metrics_write(struct text *out, const struct metrics *metrics)
{
    write_requests(out, metrics);
    text_add_z(out, "# HELP emberwait_http_request_seconds Time from a whole head to the answer.\n"
                    "# TYPE emberwait_http_request_seconds histogram\n");
    uint64_t below = 0;
    for (size_t i = 0; i < BOUNDS; i++) {
        below += atomic_load(&metrics->within[i]);
        text_print(out, "emberwait_http_request_seconds_bucket{le=\"%g\"} ",
                   (double)bounds_us[i] / 1e6);
        text_integer(out, (int64_t)below);
        text_add_byte(out, '\n');
    }
    const uint64_t count = atomic_load(&metrics->count);
    text_print(out, "emberwait_http_request_seconds_bucket{le=\"+Inf\"} %llu\n",
               (unsigned long long)count);
    text_print(out, "emberwait_http_request_seconds_sum %.6f\n",
               (double)atomic_load(&metrics->took_us) / 1e6);
    text_print(out, "emberwait_http_request_seconds_count %llu\n", (unsigned long long)count);
    text_add_z(out, "# HELP emberwait_http_reply_bytes_total Bytes of answers, heads left out.\n"
                    "# TYPE emberwait_http_reply_bytes_total counter\n");
    text_print(out, "emberwait_http_reply_bytes_total %llu\n",
               (unsigned long long)atomic_load(&metrics->bytes));
}
