/* SPDX-License-Identifier: MIT */
/*
 * How often something may be tried: a bucket of tries for each name and each address, that fills
 * again slowly. Kept in a table of fixed size in memory, so that nobody can make it grow; where two
 * meet, the fuller bucket makes room, so tries with invented names do not wash a used-up one away.
 * Time is an argument.
 */
#ifndef EMBERWAIT_HTTP_THROTTLE_H
#define EMBERWAIT_HTTP_THROTTLE_H

#include <stdint.h>

struct throttle;

/** Own; throttle_free. NULL when there is no memory. */
struct throttle *throttle_new(void);
/** NULL is allowed. */
void throttle_free(struct throttle *throttle);

/** What is counted together, and how much of it. */
struct throttle_rule {
    const char *kind; /**< e.g. "name" */
    int tries;        /**< a full bucket */
    int refill_s;     /**< one more try each so many seconds */
};

/**
 * Take a try.
 *
 * @param[in] rule    Borrowed.
 * @param[in] key     Whose, NUL-ended; any text.
 * @param[in] now_ns  A steady clock.
 * @return 0: taken. Else none was left, and one will be in so many seconds.
 */
int throttle_take(struct throttle *throttle, const struct throttle_rule *rule, const char *key,
                  int64_t now_ns);

/** Give a try back: it was a good one. */
void throttle_give(struct throttle *throttle, const struct throttle_rule *rule, const char *key,
                   int64_t now_ns);

#endif
