/* SPDX-License-Identifier: MIT */
/* Why: see store_feed.h. */
#include "store/store_feed.h"

#include <string.h>

#include "model/record.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { EVENTS_AT_ONCE = 128 };

static void event_read(struct stmt *stmt, struct store_feed_event *out, struct arena *arena)
{
    out->uid = stmt_column_text(stmt, 0, arena, NULL);
    out->job = stmt_column_text(stmt, 1, arena, NULL);
    out->task = stmt_column_text(stmt, 2, arena, NULL);
    out->crew = stmt_column_text(stmt, 3, arena, NULL);
    out->day = stmt_column_integer(stmt, 4, INSTANT_NONE);
    out->start_s = stmt_column_integer(stmt, 5, INSTANT_NONE);
    out->finish_s = stmt_column_integer(stmt, 6, INSTANT_NONE);
    out->status = stmt_column_integer(stmt, 7, 0);
    out->sequence = stmt_column_integer(stmt, 8, 0);
    out->changed_s = stmt_column_integer(stmt, 9, 0);
}

enum status store_feed_list(struct store_txn *txn, const char *target,
                            const struct store_feed_event **out, size_t *out_count,
                            struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_FEED_LIST);
    stmt_text_z(&stmt, 1, target);
    size_t room = EVENTS_AT_ONCE;
    size_t count = 0;
    struct store_feed_event *all = ARENA_TAKE(arena, room, struct store_feed_event);
    while (all != NULL && stmt_step(&stmt)) {
        if (count == room) {
            struct store_feed_event *more = ARENA_TAKE(arena, room * 2, struct store_feed_event);
            if (more != NULL) memcpy(more, all, count * sizeof *all);
            all = more;
            room *= 2;
        }
        if (all != NULL) event_read(&stmt, &all[count++], arena);
    }
    if (all == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = all;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

static void maybe_integer(struct stmt *stmt, int index, int64_t value)
{
    if (value != INSTANT_NONE)
        stmt_integer(stmt, index, value); /* else NULL, as a binding begins */
}

enum status store_feed_put(struct store_txn *txn, const char *target,
                           const struct store_feed_event *event, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_FEED_PUT);
    stmt_text_z(&stmt, 1, target);
    stmt_text_z(&stmt, 2, event->uid);
    stmt_text_z(&stmt, 3, event->job);
    stmt_text_z(&stmt, 4, event->task);
    stmt_text_z(&stmt, 5, event->crew);
    maybe_integer(&stmt, 6, event->day);
    maybe_integer(&stmt, 7, event->start_s);
    maybe_integer(&stmt, 8, event->finish_s);
    stmt_integer(&stmt, 9, event->status);
    stmt_integer(&stmt, 10, event->sequence);
    stmt_integer(&stmt, 11, event->changed_s);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

enum status store_feed_drop(struct store_txn *txn, const char *target, int64_t before_s,
                            struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_FEED_DROP);
    stmt_text_z(&stmt, 1, target);
    stmt_integer(&stmt, 2, before_s);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}
