/* SPDX-License-Identifier: MIT */
/*
 * Why: see clock_marks.h. The walk for the site offset stops at the first piece in which the
 * station ruled, so that it costs little; a job without an offset is not walked at all.
 */
#include "planner/clock_marks.h"

#include <math.h>

enum { HOUR_S = 3600 };
#define SAME_DEGC 1e-9

bool clock_marks_old(const struct facts *facts)
{
    const struct station *station = facts->job->station;
    if (station == NULL || station->forecast_made_s == INSTANT_NONE) return false;
    const double old_h = rulebook_setting(facts->rulebook, SETTING_FORECAST_OLD_H);
    return (double)(facts->now_s - station->forecast_made_s) > old_h * HOUR_S;
}

/* Whether the station ruled a piece, rather than a reading. */
static bool station_ruled(const struct piece *piece)
{
    const struct history_span *span = piece->span;
    if (isnan(piece->temp_degc) || span->cap_degc <= piece->temp_degc) return false;
    switch (span->use) {
    case STATION_ALONE:
        return true;
    case STATION_LOWER:
    case STATION_OVER:
        return isnan(span->base_degc) || piece->temp_degc < span->base_degc - SAME_DEGC;
    case STATION_UNUSED:
        break;
    }
    return false;
}

/* From the start to the crossing, or to now where there is none; a stop may be the station's frost.
 */
static bool offset_acted(const struct history *history, const struct clock_plan *plan)
{
    int64_t until_s = plan->crossing_s != INSTANT_NONE ? plan->crossing_s : history->now_s;
    struct history_walk walk;
    struct piece piece;
    history_walk_begin(&walk, history, plan->start_s, until_s);
    while (history_walk_next(&walk, &piece)) {
        if (station_ruled(&piece)) return true;
        if (piece.span->open && plan->stopped_s == piece.from_s &&
            piece.frost_degc < fmin(piece.temp_degc, piece.span->cap_degc) - SAME_DEGC)
            return true;
    }
    return false;
}

void clock_marks(struct job_plan *out, struct clocks *clocks)
{
    const struct facts *facts = clocks->facts;
    const struct station *station = facts->job->station;
    const unsigned forecast = ASSUME_FORECAST | ASSUME_BLANKET_FORECAST | ASSUME_STAYS_DRY;
    out->forecast_old = clock_marks_old(facts);
    out->forecast_made_s = station == NULL ? INSTANT_NONE : station->forecast_made_s;
    const bool ahead = clocks->weather.forecast_end_s > facts->now_s; /* is any of it still used? */
    for (size_t i = 0; i < clocks->count; i++) {
        struct clock_plan *plan = &clocks->plans[i];
        plan->forecast_made_s = out->forecast_made_s;
        if (out->forecast_old && ahead && (plan->assumes & forecast) != 0)
            plan->assumes |= ASSUME_FORECAST_OLD;
        if (facts->job->site_offset_degc == 0) continue;
        if (!offset_acted(clock_history(clocks, plan->part), plan)) continue;
        plan->assumes |= ASSUME_SITE_OFFSET;
        plan->site_offset_degc = facts->job->site_offset_degc;
    }
}

/* A task that is over, or has no start, has no date to mark. */
static bool has_date(const struct task_plan *task)
{
    return task->start_s != INSTANT_NONE && task->done_s == INSTANT_NONE &&
           task->state != TASK_STATE_DONE && task->state != TASK_STATE_PASSED &&
           task->state != TASK_STATE_NOT_NEEDED;
}

static bool rests_on_old(const struct job_plan *out, const struct task_plan *task, int64_t now_s)
{
    for (size_t i = 0; i < task->because_count; i++) {
        const struct reason *reason = &task->because[i];
        if (reason->until_s != INSTANT_NONE && reason->until_s <= now_s) continue;
        if (reason->forecast_old) return true;
        if (reason->task != TASK_NONE && out->tasks[reason->task].forecast_old) return true;
    }
    return false;
}

void clock_marks_tasks(struct job_plan *out, int64_t now_s)
{
    if (!out->forecast_old) return;
    for (bool more = true; more;) { /* what goes before may stand later in the list */
        more = false;
        for (int t = 0; t < TASK_COUNT; t++) {
            struct task_plan *task = &out->tasks[t];
            if (task->forecast_old || !has_date(task) || !rests_on_old(out, task, now_s)) continue;
            task->forecast_old = more = true;
        }
    }
}
