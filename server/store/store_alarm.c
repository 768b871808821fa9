/* SPDX-License-Identifier: MIT */
/* Why: see store_alarm.h. */
#include "store/store_alarm.h"

#include <string.h>

#include "model/record.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { ROWS_AT_ONCE = 64 };

/* Rows of any size into an array that doubles; what is left behind stays in the arena. */
static enum status every(struct stmt *stmt, size_t size,
                         void (*read)(struct stmt *stmt, void *out, struct arena *arena),
                         const void **out, size_t *out_count, struct arena *arena,
                         struct fault *fault)
{
    size_t room = ROWS_AT_ONCE;
    size_t count = 0;
    unsigned char *all = arena_take(arena, room, size);
    while (all != NULL && stmt_step(stmt)) {
        if (count == room) {
            unsigned char *more = arena_take(arena, room * 2, size);
            if (more != NULL) memcpy(more, all, count * size);
            all = more;
            room *= 2;
        }
        if (all != NULL) read(stmt, all + size * count++, arena);
    }
    if (all == NULL && stmt->result == SQLITE_OK) stmt->result = SQLITE_NOMEM;
    *out = all;
    *out_count = count;
    return stmt_end(stmt, fault);
}

static void maybe(struct stmt *stmt, int index, int64_t value)
{
    if (value != INSTANT_NONE) stmt_integer(stmt, index, value); /* else NULL, as it begins */
}

/* An UPDATE or INSERT … SELECT that must have met a row. */
static enum status met(struct stmt *stmt, const char *wanted, struct fault *fault)
{
    (void)stmt_step(stmt);
    const int rows = sqlite3_changes(stmt->txn->db);
    const enum status status = stmt_end(stmt, fault);
    if (status != STATUS_OK || rows > 0) return status;
    fault_set(fault, "", wanted, "nothing");
    return STATUS_NOT_FOUND;
}

/* --- watched ------------------------------------------------------------------------------- */

static void watched_read(struct stmt *stmt, void *row, struct arena *arena)
{
    struct store_watched *out = row;
    out->job_id = stmt_column_text(stmt, 0, arena, NULL);
    out->open = stmt_column_text(stmt, 1, arena, NULL);
    out->given = stmt_column_integer(stmt, 2, INSTANT_NONE);
}

enum status store_watched_list(struct store_txn *txn, const struct store_watched **out,
                               size_t *out_count, struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_WATCHED_LIST);
    const void *rows = NULL;
    const enum status status =
        every(&stmt, sizeof **out, watched_read, &rows, out_count, arena, fault);
    *out = rows;
    return status;
}

enum status store_watched_put(struct store_txn *txn, const struct store_watched *row,
                              struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_WATCHED_PUT);
    stmt_text_z(&stmt, 1, row->job_id);
    stmt_text_z(&stmt, 2, row->open);
    maybe(&stmt, 3, row->given);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

/* --- alarms -------------------------------------------------------------------------------- */

static void alarm_read(struct stmt *stmt, void *row, struct arena *arena)
{
    struct alarm *out = row;
    out->number = stmt_column_integer(stmt, 0, 0);
    out->job_id = stmt_column_text(stmt, 1, arena, NULL);
    const char *kind = stmt_column_text(stmt, 2, arena, NULL);
    const int known = kind == NULL ? -1 : id_find(&alarm_kind_ids, kind);
    if (known < 0 && stmt->result == SQLITE_OK) stmt->result = SQLITE_CORRUPT;
    out->kind = known < 0 ? ALARM_NOT_YET : (enum alarm_kind)known;
    out->about = stmt_column_text(stmt, 3, arena, NULL);
    out->at_s = stmt_column_integer(stmt, 4, 0);
    out->due_s = stmt_column_integer(stmt, 5, INSTANT_NONE);
    out->told = (int)stmt_column_integer(stmt, 6, 0);
    out->told_s = stmt_column_integer(stmt, 7, INSTANT_NONE);
    out->over_s = stmt_column_integer(stmt, 8, INSTANT_NONE);
    out->seen_s = stmt_column_integer(stmt, 9, INSTANT_NONE);
    out->seen_by = stmt_column_text(stmt, 10, arena, NULL);
    out->crew_seen_s = stmt_column_integer(stmt, 11, INSTANT_NONE);
    out->since_s = stmt_column_integer(stmt, 12, INSTANT_NONE);
}

enum status store_alarm_list(struct store_txn *txn, const struct alarm **out, size_t *out_count,
                             struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_ALARM_LIST);
    const void *rows = NULL;
    const enum status status =
        every(&stmt, sizeof **out, alarm_read, &rows, out_count, arena, fault);
    *out = rows;
    return status;
}

enum status store_alarm_add(struct store_txn *txn, const struct alarm *alarm, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_ALARM_ADD);
    stmt_text_z(&stmt, 1, alarm->job_id);
    stmt_text_z(&stmt, 2, id_of(&alarm_kind_ids, (int)alarm->kind));
    stmt_text_z(&stmt, 3, alarm->about);
    stmt_integer(&stmt, 4, alarm->at_s);
    maybe(&stmt, 5, alarm->due_s);
    maybe(&stmt, 6, alarm->since_s);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

enum status store_alarm_put(struct store_txn *txn, const struct alarm *alarm, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_ALARM_PUT);
    stmt_integer(&stmt, 1, alarm->number);
    maybe(&stmt, 2, alarm->due_s);
    stmt_integer(&stmt, 3, alarm->told);
    maybe(&stmt, 4, alarm->told_s);
    maybe(&stmt, 5, alarm->over_s);
    return met(&stmt, "an alarm of that number", fault);
}

enum status store_alarm_seen(struct store_txn *txn, int64_t number, int64_t now_s, const char *by,
                             struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, by == NULL ? STMT_ALARM_CREW_SEEN : STMT_ALARM_SEEN);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, now_s);
    if (by != NULL) stmt_text_z(&stmt, 3, by);
    return met(&stmt, "an alarm of that number", fault);
}

/* --- messages ------------------------------------------------------------------------------ */

static void mail_read(struct stmt *stmt, void *row, struct arena *arena)
{
    struct store_mail *out = row;
    out->number = stmt_column_integer(stmt, 0, 0);
    out->id = stmt_column_text(stmt, 1, arena, NULL);
    out->job_id = stmt_column_text(stmt, 2, arena, NULL);
    out->kind = stmt_column_text(stmt, 3, arena, NULL);
    out->receiver = stmt_column_text(stmt, 4, arena, NULL);
    out->subject = stmt_column_text(stmt, 5, arena, NULL);
    out->body = stmt_column_text(stmt, 6, arena, NULL);
    out->made_s = stmt_column_integer(stmt, 7, 0);
    out->made_by = stmt_column_text(stmt, 8, arena, NULL);
    out->sent_s = stmt_column_integer(stmt, 9, INSTANT_NONE);
}

enum status store_mail_add(struct store_txn *txn, const struct store_mail *mail,
                           struct fault *fault)
{
    struct stmt known = stmt_begin(txn, STMT_MAIL_KNOWN);
    stmt_text_z(&known, 1, mail->id);
    const bool twice = stmt_step(&known);
    const enum status status = stmt_end(&known, fault);
    if (status != STATUS_OK) return status;
    if (twice) {
        fault_set(fault, "id", "a message that is not queued yet", "\"%s\"", mail->id);
        return STATUS_CONFLICT;
    }
    struct stmt stmt = stmt_begin(txn, STMT_MAIL_ADD);
    stmt_text_z(&stmt, 1, mail->id);
    stmt_text_z(&stmt, 2, mail->job_id);
    stmt_text_z(&stmt, 3, mail->kind);
    stmt_text_z(&stmt, 4, mail->receiver);
    stmt_text_z(&stmt, 5, mail->subject);
    stmt_text_z(&stmt, 6, mail->body);
    stmt_integer(&stmt, 7, mail->made_s);
    stmt_text_z(&stmt, 8, mail->made_by);
    return met(&stmt, "a job that is there", fault);
}

static enum status mails(struct stmt *stmt, const struct store_mail **out, size_t *out_count,
                         struct arena *arena, struct fault *fault)
{
    const void *rows = NULL;
    const enum status status = every(stmt, sizeof **out, mail_read, &rows, out_count, arena, fault);
    *out = rows;
    return status;
}

enum status store_mail_waiting(struct store_txn *txn, int64_t *out, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_MAIL_WAITING);
    *out = stmt_step(&stmt) ? stmt_column_integer(&stmt, 0, 0) : 0;
    return stmt_end(&stmt, fault);
}

enum status store_mail_queued(struct store_txn *txn, const struct store_mail **out,
                              size_t *out_count, struct arena *arena, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_MAIL_QUEUED);
    return mails(&stmt, out, out_count, arena, fault);
}

enum status store_mail_list(struct store_txn *txn, const char *job_id,
                            const struct store_mail **out, size_t *out_count, struct arena *arena,
                            struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_MAIL_LIST);
    stmt_text_z(&stmt, 1, job_id);
    return mails(&stmt, out, out_count, arena, fault);
}

enum status store_mail_sent(struct store_txn *txn, int64_t number, int64_t now_s,
                            struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_MAIL_SENT);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, now_s);
    return met(&stmt, "a message in the queue", fault);
}
