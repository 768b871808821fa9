/* SPDX-License-Identifier: MIT */
/*
 * Keeps slow clients from holding connections. The library's own timeout starts again with every
 * byte, so a thousand clients that send one byte a second would lock everybody out. Here each open
 * connection has a deadline that bytes do not move: for its head, its body (by a least rate), and
 * the taking of its answer. One thread looks at them four times a second and shuts down what is
 * late.
 */
#ifndef EMBERWAIT_HTTP_GUARD_H
#define EMBERWAIT_HTTP_GUARD_H

#include <stdint.h>

#include "base/status.h"

struct guard;
/** An open connection. */
struct guard_slot;

enum { GUARD_NEVER = 0 }; /**< a deadline that does not come */

/** A guard for `slots` connections, its thread running. Status: OK, LIMIT (no memory), IO. */
MUST_USE enum status guard_start(struct guard **out, unsigned slots);
/** Stop its thread and free it. No connection may be open. NULL is allowed. */
void guard_stop(struct guard *guard);

/** A connection was made; NULL when there is no slot left. */
struct guard_slot *guard_open(struct guard *guard, int descriptor, int64_t deadline_ns);
/** It is about to be closed; afterwards its descriptor is never touched. */
void guard_close(struct guard *guard, struct guard_slot *slot);
/** Set its deadline: guard_now_ns plus something, or GUARD_NEVER. NULL slot is allowed. */
void guard_deadline(struct guard_slot *slot, int64_t deadline_ns);
/** Bring its deadline nearer, never farther. NULL slot is allowed. */
void guard_deadline_within(struct guard_slot *slot, int64_t deadline_ns);

/** The monotonic clock. */
int64_t guard_now_ns(void);
/** `seconds` from now. */
int64_t guard_in_s(int64_t seconds);

/** Connections open now. */
unsigned guard_connections(const struct guard *guard);
/** Connections shut down so far. */
uint64_t guard_closed(const struct guard *guard);

#endif
