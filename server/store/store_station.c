/* SPDX-License-Identifier: MIT */
/* Why: see store_station.h. */
#include "store/store_station.h"

#include <math.h>
#include <string.h>

#include "base/limits.h"
#include "model/record.h"
#include "store/store_stmt.h"

#include "base/banned.h"

enum { KIND_OBSERVED, KIND_FORECAST, KIND_HISTORY };
enum { HOUR_S = 3600, COLUMNS = 5 };

/* --- reading ------------------------------------------------------------------------------- */

static void station_read(struct stmt *stmt, struct store_station *out, struct arena *arena)
{
    out->number = stmt_column_integer(stmt, 0, 0);
    out->id = stmt_column_text(stmt, 1, arena, NULL);
    out->name = stmt_column_text(stmt, 2, arena, NULL);
    out->latitude_deg = stmt_column_real(stmt, 3);
    out->longitude_deg = stmt_column_real(stmt, 4);
    out->forecast_made_s = stmt_column_integer(stmt, 5, INSTANT_NONE);
    out->version = stmt_column_integer(stmt, 6, 0);
    out->history_version = stmt_column_integer(stmt, 7, 0);
}

enum status store_station_list(struct store_txn *txn, const struct store_station **out,
                               size_t *out_count, struct arena *arena, struct fault *fault)
{
    struct store_station *stations = ARENA_TAKE(arena, STATIONS_MAX, struct store_station);
    struct stmt stmt = stmt_begin(txn, STMT_STATION_LIST);
    size_t count = 0;
    while (stations != NULL && count < STATIONS_MAX && stmt_step(&stmt)) {
        station_read(&stmt, &stations[count++], arena);
    }
    if (stations == NULL && stmt.result == SQLITE_OK) stmt.result = SQLITE_NOMEM;
    *out = stations;
    *out_count = count;
    return stmt_end(&stmt, fault);
}

struct span {
    int64_t kind, first, last;
};

static enum status series_room(struct series *out, const struct span *span, struct arena *arena,
                               struct fault *fault)
{
    const int64_t hours = span->last - span->first + 1;
    if (hours > SERIES_SAMPLES_MAX) {
        fault_set(fault, "station", "at most 1000000 hours in one series", "%lld",
                  (long long)hours);
        return STATUS_LIMIT;
    }
    const size_t count = (size_t)hours;
    double *all = ARENA_TAKE(arena, count * COLUMNS, double);
    if (all == NULL) {
        fault_set(fault, "station", "memory", "no memory");
        return STATUS_LIMIT;
    }
    for (size_t i = 0; i < count * COLUMNS; i++) all[i] = NAN;
    *out = (struct series){
        .start_s = span->first * HOUR_S,
        .count = count,
        .temp_degc = all,
        .rain_mm = all + count,
        .rh_pct = all + 2 * count,
        .wind_mps = all + 3 * count,
        .gust_mps = all + 4 * count,
    };
    return STATUS_OK;
}

/* A column nobody ever filled is absent, not missing. */
static double *column_or_none(double *column, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!isnan(column[i])) return column;
    }
    return NULL;
}

static enum status series_read(struct store_txn *txn, int64_t number, const struct span *span,
                               struct series *out, struct arena *arena, struct fault *fault)
{
    enum status status = series_room(out, span, arena, fault);
    if (status != STATUS_OK) return status;
    struct stmt stmt = stmt_begin(txn, STMT_HOUR_OF);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, span->kind);
    while (stmt_step(&stmt)) {
        const int64_t at = stmt_column_integer(&stmt, 0, 0) - span->first;
        ENSURE(at >= 0 && (size_t)at < out->count);
        out->temp_degc[at] = stmt_column_real(&stmt, 1);
        out->rain_mm[at] = stmt_column_real(&stmt, 2);
        out->rh_pct[at] = stmt_column_real(&stmt, 3);
        out->wind_mps[at] = stmt_column_real(&stmt, 4);
        out->gust_mps[at] = stmt_column_real(&stmt, 5);
    }
    status = stmt_end(&stmt, fault);
    out->rain_mm = column_or_none(out->rain_mm, out->count);
    out->rh_pct = column_or_none(out->rh_pct, out->count);
    out->wind_mps = column_or_none(out->wind_mps, out->count);
    out->gust_mps = column_or_none(out->gust_mps, out->count);
    return status;
}

static enum status spans_read(struct store_txn *txn, int64_t number, int64_t from, int64_t until,
                              struct span *spans, size_t room, size_t *out_count,
                              struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_HOUR_SPANS);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, from);
    stmt_integer(&stmt, 3, until);
    size_t count = 0;
    while (count < room && stmt_step(&stmt)) {
        spans[count].kind = stmt_column_integer(&stmt, 0, 0);
        spans[count].first = stmt_column_integer(&stmt, 1, 0);
        spans[count++].last = stmt_column_integer(&stmt, 2, 0);
    }
    *out_count = count;
    return stmt_end(&stmt, fault);
}

enum status store_station_hours(struct store_txn *txn, int64_t number, struct series *observed,
                                struct series *forecast, struct arena *arena, struct fault *fault)
{
    *observed = (struct series){0};
    *forecast = (struct series){0};
    struct span spans[2];
    size_t count = 0;
    enum status status =
        spans_read(txn, number, KIND_OBSERVED, KIND_FORECAST, spans, 2, &count, fault);
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        status = series_read(txn, number, &spans[i],
                             spans[i].kind == KIND_OBSERVED ? observed : forecast, arena, fault);
    }
    return status;
}

enum status store_station_history(struct store_txn *txn, int64_t number, struct series **out,
                                  size_t *out_count, struct arena *arena, struct fault *fault)
{
    struct span spans[HISTORY_YEARS_MAX];
    size_t count = 0;
    enum status status =
        spans_read(txn, number, KIND_HISTORY, INT32_MAX, spans, HISTORY_YEARS_MAX, &count, fault);
    struct series *history = ARENA_TAKE(arena, count, struct series);
    if (status == STATUS_OK && history == NULL) {
        fault_set(fault, "station", "memory", "no memory");
        status = STATUS_LIMIT;
    }
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        status = series_read(txn, number, &spans[i], &history[i], arena, fault);
    }
    *out = history;
    *out_count = count;
    return status;
}

/* --- writing ------------------------------------------------------------------------------- */

static enum status station_number(struct store_txn *txn, const char *id, int64_t *out,
                                  bool *out_found, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_STATION_FIND);
    stmt_text_z(&stmt, 1, id);
    *out_found = stmt_step(&stmt);
    *out = *out_found ? stmt_column_integer(&stmt, 0, 0) : 0;
    return stmt_end(&stmt, fault);
}

static enum status station_make(struct store_txn *txn, const char *id, int64_t *out,
                                struct fault *fault)
{
    struct stmt all = stmt_begin(txn, STMT_STATION_LIST);
    size_t count = 0;
    while (stmt_step(&all)) count++;
    enum status status = stmt_end(&all, fault);
    if (status != STATUS_OK) return status;
    if (count >= STATIONS_MAX) {
        fault_set(fault, "station", "at most 1000 stations", "%zu already", count);
        return STATUS_LIMIT;
    }
    struct stmt stmt = stmt_begin(txn, STMT_STATION_ADD);
    stmt_text_z(&stmt, 1, id);
    (void)stmt_step(&stmt);
    *out = sqlite3_last_insert_rowid(txn->db);
    return stmt_end(&stmt, fault);
}

static enum status hours_put(struct store_txn *txn, int64_t number, int64_t kind,
                             const struct series *series, struct fault *fault)
{
    const double *const columns[COLUMNS] = {series->temp_degc, series->rain_mm, series->rh_pct,
                                            series->wind_mps, series->gust_mps};
    int64_t given = 0;
    for (int c = 0; c < COLUMNS; c++) given |= (int64_t)(columns[c] != NULL) << c;
    struct stmt stmt = stmt_begin(txn, STMT_HOUR_PUT);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, kind);
    stmt_integer(&stmt, 9, given);
    for (size_t i = 0; i < series->count && stmt.result == SQLITE_OK; i++) {
        stmt_integer(&stmt, 3, series->start_s / HOUR_S + (int64_t)i);
        for (int c = 0; c < COLUMNS; c++) {
            stmt_real(&stmt, 4 + c, columns[c] == NULL ? NAN : columns[c][i]);
        }
        (void)stmt_step(&stmt);
        stmt_again(&stmt);
    }
    return stmt_end(&stmt, fault);
}

static enum status forecast_put(struct store_txn *txn, int64_t number,
                                const struct series *forecast, struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_HOUR_CUT);
    stmt_integer(&stmt, 1, number);
    stmt_integer(&stmt, 2, KIND_FORECAST);
    stmt_integer(&stmt, 3, forecast->start_s / HOUR_S);
    (void)stmt_step(&stmt);
    const enum status status = stmt_end(&stmt, fault);
    return status == STATUS_OK ? hours_put(txn, number, KIND_FORECAST, forecast, fault) : status;
}

static enum status history_put(struct store_txn *txn, int64_t number, const struct station *station,
                               struct fault *fault)
{
    if (station->history_count > HISTORY_YEARS_MAX) {
        fault_set(fault, "history", "at most 200 past years", "%zu", station->history_count);
        return STATUS_LIMIT;
    }
    struct stmt stmt = stmt_begin(txn, STMT_HOUR_CUT_HISTORY);
    stmt_integer(&stmt, 1, number);
    (void)stmt_step(&stmt);
    enum status status = stmt_end(&stmt, fault);
    for (size_t i = 0; status == STATUS_OK && i < station->history_count; i++) {
        status = hours_put(txn, number, KIND_HISTORY + (int64_t)i, &station->history[i], fault);
    }
    return status;
}

static enum status head_put(struct store_txn *txn, int64_t number, const struct station *station,
                            struct fault *fault)
{
    struct stmt stmt = stmt_begin(txn, STMT_STATION_PUT);
    stmt_integer(&stmt, 1, number);
    stmt_text_z(&stmt, 2, station->name);
    stmt_real(&stmt, 3, station->latitude_deg);
    stmt_real(&stmt, 4, station->longitude_deg);
    if (station->forecast_made_s != INSTANT_NONE) stmt_integer(&stmt, 5, station->forecast_made_s);
    stmt_integer(&stmt, 6, station->forecast.count > 0);
    stmt_integer(&stmt, 7, station->history_count > 0);
    (void)stmt_step(&stmt);
    return stmt_end(&stmt, fault);
}

enum status store_station_put(struct store_txn *txn, const struct station *station,
                              struct fault *fault)
{
    int64_t number = 0;
    bool found = false;
    enum status status = station_number(txn, station->id, &number, &found, fault);
    if (status == STATUS_OK && !found) status = station_make(txn, station->id, &number, fault);
    if (status == STATUS_OK) status = head_put(txn, number, station, fault);
    if (status == STATUS_OK && station->observed.count > 0) {
        status = hours_put(txn, number, KIND_OBSERVED, &station->observed, fault);
    }
    if (status == STATUS_OK && station->forecast.count > 0) {
        status = forecast_put(txn, number, &station->forecast, fault);
    }
    if (status == STATUS_OK && station->history_count > 0) {
        status = history_put(txn, number, station, fault);
    }
    return status;
}
