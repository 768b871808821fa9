/* SPDX-License-Identifier: MIT */
/*
 * Inside the store: connections and their prepared statements. Every statement of the program is
 * one line of STMT_LIST in store_stmt.c's table; it is prepared at first use and kept. A struct
 * stmt carries its first error to its end, so that a caller binds, steps and reads, and asks once.
 */
#ifndef EMBERWAIT_STORE_STORE_STMT_H
#define EMBERWAIT_STORE_STORE_STMT_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/status.h"
#include "base/text.h"
#include "store/store.h"

#define PHOTO_COLUMNS                                                                              \
    "SELECT p.number, j.id, p.id, p.type, p.width, p.height, p.taken, p.received, p.who, "         \
    "p.size, p.sha256 FROM photo p JOIN job j ON j.number = p.job "

#define LINK_COLUMNS                                                                               \
    "SELECT number, kind, target, generation, made, revoked, token_hash, phone, seen FROM link "
#define PERSON_COLUMNS "SELECT number, name, role, made, revoked, password FROM person "
#define PASS_COLUMNS                                                                               \
    "SELECT s.number, s.person, s.kind, s.made, s.seen, p.name, p.role FROM pass s "               \
    "JOIN person p ON p.number = s.person "

#define STMT_LIST(X)                                                                               \
    X(BEGIN_WRITE, "BEGIN IMMEDIATE")                                                              \
    X(BEGIN_READ, "BEGIN")                                                                         \
    X(COMMIT, "COMMIT")                                                                            \
    X(ROLLBACK, "ROLLBACK")                                                                        \
    X(SAVEPOINT, "SAVEPOINT one")                                                                  \
    X(RELEASE, "RELEASE one")                                                                      \
    X(ROLLBACK_TO, "ROLLBACK TO one")                                                              \
    X(COMPANY_GET, "SELECT version, body FROM company")                                            \
    X(COMPANY_PUT, "INSERT INTO company (one, version, body) VALUES (1, ?1, ?2) "                  \
                   "ON CONFLICT (one) DO UPDATE SET version = ?1, body = ?2")                      \
    X(JOB_FIND, "SELECT number, id, version, created, body FROM job WHERE id = ?1")                \
    X(JOB_NUMBER, "SELECT number, id, version, created, body FROM job WHERE number = ?1")          \
    X(JOB_LIST, "SELECT number, id, version, created, body FROM job ORDER BY number")              \
    X(JOB_HEADS, "SELECT number, version FROM job ORDER BY number")                                \
    X(JOB_COUNT, "SELECT count(*) FROM job")                                                       \
    X(JOB_ADD, "INSERT INTO job (id, version, created, body) VALUES (?1, 1, ?2, ?3)")              \
    X(JOB_PUT, "UPDATE job SET version = version + 1, body = ?2 WHERE number = ?1")                \
    X(JOB_TOUCH, "UPDATE job SET version = version + 1 WHERE number = ?1")                         \
    X(RECORD_TIP, "SELECT seq, hash FROM record ORDER BY seq DESC LIMIT 1")                        \
    X(RECORD_KNOWN, "SELECT sent FROM record WHERE job = ?1 AND id = ?2")                          \
    X(RECORD_ADD, "INSERT INTO record (seq, job, id, kind, at, received, who, body, sent, "        \
                  "previous, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)")         \
    X(RECORD_OF_JOB, "SELECT id, body FROM record WHERE job = ?1 ORDER BY seq")                    \
    X(RECORD_MARKS, "SELECT seq, id, hash FROM record WHERE job = ?1 ORDER BY seq")                \
    X(RECORD_COUNT_OF_JOB, "SELECT count(*) FROM record WHERE job = ?1")                           \
    X(RECORD_ALL, "SELECT r.seq, j.id, r.id, r.kind, r.at, r.received, r.who, r.body, r.sent, "    \
                  "r.previous, r.hash FROM record r JOIN job j ON j.number = r.job "               \
                  "ORDER BY r.seq")                                                                \
    X(RECORD_COUNT, "SELECT count(*) FROM record")                                                 \
    X(STATION_FIND, "SELECT number, id, name, latitude, longitude, forecast_made, version, "       \
                    "history_version FROM station WHERE id = ?1")                                  \
    X(STATION_LIST, "SELECT number, id, name, latitude, longitude, forecast_made, version, "       \
                    "history_version FROM station ORDER BY number")                                \
    X(STATION_ADD, "INSERT INTO station (id, version, history_version) VALUES (?1, 1, 0)")         \
    X(STATION_PUT, "UPDATE station SET name = coalesce(?2, name), "                                \
                   "latitude = coalesce(?3, latitude), longitude = coalesce(?4, longitude), "      \
                   "forecast_made = CASE WHEN ?6 THEN ?5 ELSE forecast_made END, "                 \
                   "version = version + 1, history_version = history_version + ?7 "                \
                   "WHERE number = ?1")                                                            \
    X(HOUR_PUT, "INSERT INTO station_hour (station, kind, hour, temp, rain, rh, wind, gust) "      \
                "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) "                                         \
                "ON CONFLICT (station, kind, hour) DO UPDATE SET "                                 \
                "temp = CASE WHEN ?9 & 1 THEN ?4 ELSE temp END, "                                  \
                "rain = CASE WHEN ?9 & 2 THEN ?5 ELSE rain END, "                                  \
                "rh = CASE WHEN ?9 & 4 THEN ?6 ELSE rh END, "                                      \
                "wind = CASE WHEN ?9 & 8 THEN ?7 ELSE wind END, "                                  \
                "gust = CASE WHEN ?9 & 16 THEN ?8 ELSE gust END")                                  \
    X(HOUR_CUT, "DELETE FROM station_hour WHERE station = ?1 AND kind = ?2 AND hour >= ?3")        \
    X(HOUR_CUT_HISTORY, "DELETE FROM station_hour WHERE station = ?1 AND kind >= 2")               \
    X(HOUR_SPANS, "SELECT kind, min(hour), max(hour) FROM station_hour "                           \
                  "WHERE station = ?1 AND kind BETWEEN ?2 AND ?3 GROUP BY kind ORDER BY kind")     \
    X(HOUR_OF, "SELECT hour, temp, rain, rh, wind, gust FROM station_hour "                        \
               "WHERE station = ?1 AND kind = ?2 ORDER BY hour")                                   \
    X(LINK_OPEN,                                                                                   \
      LINK_COLUMNS "WHERE kind = ?1 AND target = ?2 AND phone IS ?3 AND revoked IS NULL")          \
    X(LINK_LAST, "SELECT coalesce(max(generation), 0) FROM link WHERE kind = ?1 AND target = ?2")  \
    X(LINK_ADD, "INSERT INTO link (kind, target, generation, made, token_hash, phone) "            \
                "VALUES (?1, ?2, ?3, ?4, ?5, ?6)")                                                 \
    X(LINK_FIND, LINK_COLUMNS "WHERE token_hash = ?1")                                             \
    X(LINK_REVOKE, "UPDATE link SET revoked = ?4 WHERE kind = ?1 AND target = ?2 "                 \
                   "AND phone IS ?3 AND revoked IS NULL")                                          \
    X(LINK_SEEN, "UPDATE link SET seen = ?2 WHERE number = ?1")                                    \
    X(LINK_LIST, LINK_COLUMNS "ORDER BY kind, target, generation")                                 \
    X(PERSON_ADD, "INSERT INTO person (name, role, made, password) VALUES (?1, ?2, ?3, ?4)")       \
    X(PERSON_OPEN, PERSON_COLUMNS "WHERE name = ?1 AND revoked IS NULL")                           \
    X(PERSON_NUMBER, PERSON_COLUMNS "WHERE number = ?1 AND revoked IS NULL")                       \
    X(PERSON_LIST, PERSON_COLUMNS "ORDER BY number")                                               \
    X(PERSON_COUNT, "SELECT count(*) FROM person WHERE role = ?1 AND revoked IS NULL")             \
    X(PERSON_REVOKE, "UPDATE person SET revoked = ?2 WHERE number = ?1 AND revoked IS NULL")       \
    X(PERSON_PASSWORD, "UPDATE person SET password = ?2 WHERE number = ?1 AND revoked IS NULL")    \
    X(PASS_ADD,                                                                                    \
      "INSERT INTO pass (person, kind, made, seen, token_hash) VALUES (?1, ?2, ?3, ?3, ?4)")       \
    X(PASS_FIND,                                                                                   \
      PASS_COLUMNS "WHERE s.token_hash = ?1 AND s.revoked IS NULL AND p.revoked IS NULL")          \
    X(PASS_LIST, PASS_COLUMNS "WHERE s.revoked IS NULL AND p.revoked IS NULL ORDER BY s.number")   \
    X(PASS_SEEN, "UPDATE pass SET seen = ?2 WHERE number = ?1")                                    \
    X(PASS_REVOKE, "UPDATE pass SET revoked = ?2 WHERE number = ?1 AND revoked IS NULL")           \
    X(PASS_REVOKE_ALL, "UPDATE pass SET revoked = ?3 WHERE person = ?1 AND kind = ?2 "             \
                       "AND revoked IS NULL")                                                      \
    X(PASS_FORGET, "DELETE FROM pass WHERE kind = 'session' AND seen < ?1")                        \
    X(SECRET_GET, "SELECT value FROM secret WHERE name = ?1")                                      \
    X(SECRET_PUT, "INSERT INTO secret (name, value) VALUES (?1, ?2)")                              \
    X(PHOTO_ADD, "INSERT INTO photo (job, id, type, width, height, taken, received, who, size, "   \
                 "sha256, body) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)")            \
    X(PHOTO_FIND, PHOTO_COLUMNS "WHERE p.id = ?1")                                                 \
    X(PHOTO_OF_JOB, PHOTO_COLUMNS "WHERE p.job = ?1 ORDER BY p.number")                            \
    X(PHOTO_ALL, PHOTO_COLUMNS "ORDER BY p.number")                                                \
    X(PHOTO_BODY, "SELECT body FROM photo WHERE id = ?1")                                          \
    X(PHOTO_TOTAL, "SELECT count(*), coalesce(sum(size), 0) FROM photo")                           \
    X(FEED_LIST, "SELECT uid, job, task, crew, day, start, finish, status, sequence, changed "     \
                 "FROM feed_event WHERE target = ?1 ORDER BY uid")                                 \
    X(FEED_PUT,                                                                                    \
      "INSERT INTO feed_event (target, uid, job, task, crew, day, start, finish, "                 \
      "status, sequence, changed) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11) "          \
      "ON CONFLICT (target, uid) DO UPDATE SET job = ?3, task = ?4, crew = ?5, "                   \
      "day = ?6, start = ?7, finish = ?8, status = ?9, sequence = ?10, changed = ?11")             \
    X(FEED_DROP, "DELETE FROM feed_event WHERE target = ?1 "                                       \
                 "AND coalesce(finish, (day + 1) * 86400) < ?2")                                   \
    X(WATCHED_LIST, "SELECT j.id, w.open, w.given FROM watched w JOIN job j ON j.number = w.job")  \
    X(WATCHED_PUT, "INSERT INTO watched (job, open, given) "                                       \
                   "SELECT number, ?2, ?3 FROM job WHERE id = ?1 "                                 \
                   "ON CONFLICT (job) DO UPDATE SET open = excluded.open, given = excluded.given") \
    X(ALARM_LIST, "SELECT a.number, j.id, a.kind, a.about, a.at, a.due, a.told, a.told_at, "       \
                  "a.over, a.seen, a.seen_by, a.crew_seen, a.since "                               \
                  "FROM alarm a JOIN job j ON j.number = a.job "                                   \
                  "WHERE a.over IS NULL OR a.seen IS NULL OR a.crew_seen IS NULL "                 \
                  "ORDER BY a.number LIMIT 2000")                                                  \
    X(ALARM_ADD, "INSERT INTO alarm (job, kind, about, at, due, since) "                           \
                 "SELECT number, ?2, ?3, ?4, ?5, ?6 FROM job WHERE id = ?1 "                       \
                 "ON CONFLICT (job, kind, about) WHERE over IS NULL DO NOTHING")                   \
    X(ALARM_PUT, "UPDATE alarm SET due = ?2, told = ?3, told_at = ?4, over = ?5 "                  \
                 "WHERE number = ?1")                                                              \
    X(ALARM_SEEN, "UPDATE alarm SET seen = coalesce(seen, ?2), seen_by = coalesce(seen_by, ?3) "   \
                  "WHERE number = ?1")                                                             \
    X(ALARM_CREW_SEEN, "UPDATE alarm SET crew_seen = coalesce(crew_seen, ?2) WHERE number = ?1")   \
    X(MAIL_WAITING, "SELECT count(*) FROM mail WHERE sent IS NULL")                                \
    X(MAIL_KNOWN, "SELECT 1 FROM mail WHERE id = ?1")                                              \
    X(MAIL_ADD, "INSERT INTO mail (id, job, kind, receiver, subject, body, made, made_by) "        \
                "SELECT ?1, (SELECT number FROM job WHERE id = ?2), ?3, ?4, ?5, ?6, ?7, ?8 "       \
                "WHERE ?2 IS NULL OR EXISTS (SELECT 1 FROM job WHERE id = ?2)")                    \
    X(MAIL_QUEUED, "SELECT m.number, m.id, j.id, m.kind, m.receiver, m.subject, m.body, m.made, "  \
                   "m.made_by, m.sent FROM mail m LEFT JOIN job j ON j.number = m.job "            \
                   "WHERE m.sent IS NULL ORDER BY m.number LIMIT 1000")                            \
    X(MAIL_LIST, "SELECT m.number, m.id, j.id, m.kind, m.receiver, m.subject, m.body, m.made, "    \
                 "m.made_by, m.sent FROM mail m LEFT JOIN job j ON j.number = m.job "              \
                 "WHERE ?1 IS NULL OR j.id = ?1 ORDER BY m.number DESC LIMIT 200")                 \
    X(MAIL_SENT, "UPDATE mail SET sent = ?2 WHERE number = ?1 AND sent IS NULL")                   \
    X(BEAT, "PRAGMA user_version = 1")                                                             \
    X(INTEGRITY, "PRAGMA integrity_check")                                                         \
    X(FOREIGN_KEYS, "PRAGMA foreign_key_check")
#define STMT_ENUM(name, sql) STMT_##name,
enum stmt_id { STMT_LIST(STMT_ENUM) STMT_COUNT };

/** One connection with its prepared statements; used by one thread at a time. */
struct store_txn {
    sqlite3 *db;
    sqlite3_stmt *prepared[STMT_COUNT];
    bool writing; /**< the writing connection */
};

/** A statement under way. */
struct stmt {
    struct store_txn *txn;
    sqlite3_stmt *handle; /**< NULL when it could not be prepared */
    int result;           /**< SQLite's first error, or SQLITE_OK */
    bool row;             /**< a row is there to be read */
};

/** Start a statement. Errors are kept in it. */
struct stmt stmt_begin(struct store_txn *txn, enum stmt_id id);
/** Bind a whole number. */
void stmt_integer(struct stmt *stmt, int index, int64_t value);
/** Bind a number; not finite: NULL. */
void stmt_real(struct stmt *stmt, int index, double value);
/** Bind text, borrowed until the end of the statement; NULL: NULL. */
void stmt_text(struct stmt *stmt, int index, const char *text, size_t length);
/** The same for a NUL-ended string. */
void stmt_text_z(struct stmt *stmt, int index, const char *z);
/** Bind bytes, borrowed. */
void stmt_blob(struct stmt *stmt, int index, const void *bytes, size_t length);
/** Step; true when a row is there. */
bool stmt_step(struct stmt *stmt);
/** Start over with the same bindings kept, for the next row to be put. */
void stmt_again(struct stmt *stmt);
/** Reset the statement. Status: OK, or what its first error means, with the fault. */
MUST_USE enum status stmt_end(struct stmt *stmt, struct fault *fault);
/** Run a statement that has no parameters and no rows. Status as stmt_end. */
MUST_USE enum status stmt_run(struct store_txn *txn, enum stmt_id id, struct fault *fault);

/** Column of the row as a whole number; `otherwise` for NULL. */
int64_t stmt_column_integer(const struct stmt *stmt, int column, int64_t otherwise);
/** Column as a number; NAN for NULL. */
double stmt_column_real(const struct stmt *stmt, int column);
/** Column as text in the arena; NULL for NULL or (with the statement failed) without memory. */
const char *stmt_column_text(struct stmt *stmt, int column, struct arena *arena, size_t *length);
/** Column as bytes, added to a text; without memory or room the statement has failed. */
void stmt_column_bytes(struct stmt *stmt, int column, struct text *out);
/** Column of exactly `length` bytes; otherwise zeros, and the statement has failed as corrupt. */
void stmt_column_blob(struct stmt *stmt, int column, unsigned char *out, size_t length);

/**
 * A connection with our settings. The file is never created here.
 *
 * @param[out] out    Own; stmt_disconnect.
 * @param[in]  writing  Read and write; else read-only.
 * Status: OK, NOT_FOUND, CORRUPT, LIMIT, BUSY, IO.
 */
MUST_USE enum status stmt_connect(struct store_txn *out, const struct store_options *options,
                                  bool writing, struct fault *fault);
/** Close a connection; one that was never opened is allowed. */
void stmt_disconnect(struct store_txn *txn);
/** Status and fault of a SQLite result. */
enum status stmt_failure(sqlite3 *db, int result, struct fault *fault);
/** SQL text of a migration or pragma: run it all. Status as stmt_failure. */
MUST_USE enum status stmt_script(sqlite3 *db, const char *sql, struct fault *fault);

#endif
