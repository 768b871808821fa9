/* SPDX-License-Identifier: MIT */
/*
 * What a calendar feed last said of each entry: so that an entry keeps its number while it stays
 * and is taken back by name when it goes. All of it can be made again from a plan; a backup has it
 * all the same, so that a restored store does not count from nought.
 */
#ifndef EMBERWAIT_STORE_STORE_FEED_H
#define EMBERWAIT_STORE_STORE_FEED_H

#include "store/store.h"

/** An entry as it was last said. Strings in the arena or borrowed. */
struct store_feed_event {
    const char *uid;
    const char *job;
    const char *task; /**< NULL: the date given */
    const char *crew; /**< NULL: none */
    int64_t day;      /**< civil day; INSTANT_NONE: from start to finish */
    int64_t start_s;  /**< INSTANT_NONE for a whole day */
    int64_t finish_s; /**< INSTANT_NONE for a whole day */
    int64_t status;   /**< enum feed_status */
    int64_t sequence;
    int64_t changed_s;
};

/** Everything a feed ever said and has not dropped, by uid. Status: OK, LIMIT, IO… */
MUST_USE enum status store_feed_list(struct store_txn *txn, const char *target,
                                     const struct store_feed_event **out, size_t *out_count,
                                     struct arena *arena, struct fault *fault);
/** Say an entry, for the first time or anew. Status: OK, IO… */
MUST_USE enum status store_feed_put(struct store_txn *txn, const char *target,
                                    const struct store_feed_event *event, struct fault *fault);
/** Forget entries whose time was over before an instant. Status: OK, IO… */
MUST_USE enum status store_feed_drop(struct store_txn *txn, const char *target, int64_t before_s,
                                     struct fault *fault);

#endif
