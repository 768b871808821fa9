/* SPDX-License-Identifier: MIT */
/*
 * Why: see clock_sum.h. Pieces are walked one by one while a goal may be reached in them; whole
 * past station hours that cannot reach one are summed in bulk, since no hour earns more than one.
 */
#include "planner/clock_sum.h"

#include <math.h>

#include "base/limits.h"

enum { HOUR_S = 3600 };
#define CROSSING_SLACK_S 1e-3 /* seconds: rounding of sums must not undo an exact hour */
#define MOIST_SLACK_DEGC 1e-9

double sum_rate(const struct earning *earning, const struct piece *piece)
{
    if (isnan(piece->temp_degc)) return 0;
    if (earning->kind != CLOCK_KIND_MOIST) return maturity_rate(&earning->law, piece->temp_degc);
    return piece->temp_degc + MOIST_SLACK_DEGC >= earning->moist_degc ? 1 : 0;
}

/* Is the pad kept wet at an instant, and until when does that stay so? */
static bool wet_at(const struct earning *earning, int64_t at_s, int64_t *until_s)
{
    for (size_t i = 0; i < earning->wet_count; i++) {
        if (at_s < earning->wet[i][0]) {
            if (earning->wet[i][0] < *until_s) *until_s = earning->wet[i][0];
            return false;
        }
        if (at_s < earning->wet[i][1]) {
            if (earning->wet[i][1] < *until_s) *until_s = earning->wet[i][1];
            return true;
        }
    }
    return false;
}

void sum_goal(struct sum *sum, double need)
{
    sum->goals[sum->goal_count++] = (struct goal){need, INSTANT_NONE, 0};
}

/* Reach what can be reached from `credit` at a steady rate in [from_s, until_s). */
static void reach(struct sum *sum, double credit, double rate, int64_t from_s, double until_s,
                  unsigned assumes)
{
    for (size_t i = 0; i < sum->goal_count; i++) {
        struct goal *goal = &sum->goals[i];
        if (goal->crossing_s != INSTANT_NONE) continue;
        goal->assumes |= assumes;
        double seconds = (goal->need * HOUR_S - credit) / rate;
        if (seconds > until_s - (double)from_s + CROSSING_SLACK_S) continue;
        goal->crossing_s = from_s + (int64_t)ceil(fmax(0, seconds - CROSSING_SLACK_S));
        sum->waiting--;
    }
}

/* What is had at an instant, of a stretch that began before it. */
static double had_at(double credit, double rate, int64_t at_s, int64_t from_s, int64_t until_s)
{
    return credit + rate * (double)((until_s < at_s ? until_s : at_s) - from_s);
}

/* Earn over [from_s, until_s) at a steady rate, in warm seconds; note the goals and what is had. */
static void earn(struct sum *sum, double *credit, double rate, const struct history *history,
                 int64_t from_s, int64_t until_s, unsigned assumes)
{
    const int64_t now_s = history->now_s, ahead_s = history->weather->ahead_s;
    if (rate > 0 && sum->waiting > 0)
        reach(sum, *credit, rate, from_s, (double)until_s, until_s > now_s ? assumes : 0);
    if (from_s < now_s) sum->have = had_at(*credit, rate, now_s, from_s, until_s);
    if (from_s < ahead_s) sum->ahead_credit = had_at(*credit, rate, ahead_s, from_s, until_s);
    *credit += rate * (double)(until_s - from_s);
}

static void note_silence(struct sum *sum, const struct piece *piece)
{
    if (!isnan(piece->temp_degc))
        sum->silent_s = INSTANT_NONE;
    else if (sum->silent_s == INSTANT_NONE)
        sum->silent_s = piece->from_s;
}

/* One piece of the history; a moist cure counts only while the pad is kept wet. The last rate. */
static double integrate_piece(struct sum *sum, double *credit, const struct earning *earning,
                              const struct piece *piece, const struct history *history)
{
    double rate = sum_rate(earning, piece);
    if (piece->from_s < history->now_s) note_silence(sum, piece);
    if (earning->kind != CLOCK_KIND_MOIST) {
        earn(sum, credit, rate, history, piece->from_s, piece->until_s, piece->span->assumes);
        return rate;
    }
    double last = 0;
    for (int64_t at_s = piece->from_s; at_s < piece->until_s;) {
        int64_t stop_s = piece->until_s;
        last = wet_at(earning, at_s, &stop_s) ? rate : 0;
        earn(sum, credit, last, history, at_s, stop_s, piece->span->assumes);
        at_s = stop_s;
    }
    return last;
}

/* How many whole hours cannot reach the next goal, since no hour earns more than one. */
static size_t hours_to_spare(const struct sum *sum, double credit)
{
    double spare = 1e9;
    for (size_t i = 0; i < sum->goal_count; i++) {
        const struct goal *goal = &sum->goals[i];
        if (goal->crossing_s == INSTANT_NONE) spare = fmin(spare, goal->need - credit / HOUR_S - 1);
    }
    return spare > 0 ? (size_t)spare : 0;
}

static double earned_h(const struct earning *earning, const double *temp_degc, size_t hours)
{
    double earned = 0;
    if (earning->kind == CLOCK_KIND_MOIST) {
        for (size_t i = 0; i < hours; i++)
            earned += temp_degc[i] + MOIST_SLACK_DEGC >= earning->moist_degc ? 1 : 0;
        return earned;
    }
    for (size_t i = 0; i < hours; i++)
        if (!isnan(temp_degc[i])) earned += maturity_rate(&earning->law, temp_degc[i]);
    return earned;
}

/* Past station hours in bulk, as long as no goal can be reached among them. */
static void integrate_hours(struct sum *sum, double *credit, const struct earning *earning,
                            struct history_walk *walk)
{
    for (;;) {
        size_t most = hours_to_spare(sum, *credit), hours;
        int64_t steady_s = INT64_MAX; /* a moist cure: until the cover comes off or on */
        bool counts = earning->kind != CLOCK_KIND_MOIST || wet_at(earning, walk->at_s, &steady_s);
        if ((double)(steady_s - walk->at_s) / HOUR_S < (double)most)
            most = (size_t)((steady_s - walk->at_s) / HOUR_S);
        if (most == 0) return;
        const double *temp_degc = history_walk_hours(walk, most, &hours);
        if (hours == 0) return;
        if (counts) *credit += earned_h(earning, temp_degc, hours) * HOUR_S;
        sum->have = sum->ahead_credit = *credit;
        size_t silent = 0;
        while (silent < hours && isnan(temp_degc[hours - 1 - silent])) silent++;
        if (silent < hours) sum->silent_s = INSTANT_NONE;
        if (silent > 0 && sum->silent_s == INSTANT_NONE)
            sum->silent_s = walk->at_s - (int64_t)silent * HOUR_S;
    }
}

/* Hours of a past year at the station alone: looked up in its sums, to the year's end. */
static void integrate_past(struct sum *sum, double *credit, const struct earning *earning,
                           struct history_walk *walk)
{
    const struct past_tail *tail = walk->history->weather->tail;
    if (tail == NULL || earning->sums == NULL || walk->at_s >= walk->until_s) return;
    if (walk->at_s < tail->line->from_s || walk->at_s >= tail->end_s) return;
    if (walk->at_s % HOUR_S != 0 || !history_is_station_from(walk->history, walk->at_s)) return;
    int64_t steady_s = INT64_MAX;
    if (earning->kind == CLOCK_KIND_MOIST &&
        (!wet_at(earning, walk->at_s, &steady_s) || steady_s != INT64_MAX))
        return;
    for (size_t i = 0; i < sum->goal_count; i++) {
        struct goal *goal = &sum->goals[i];
        if (goal->crossing_s != INSTANT_NONE) continue;
        goal->crossing_s = past_reach_s(earning->sums, tail, walk->at_s,
                                        goal->need * HOUR_S - *credit, CROSSING_SLACK_S);
        if (goal->crossing_s != INSTANT_NONE) sum->waiting--;
    }
    *credit += past_sum(earning->sums, tail, walk->at_s, tail->end_s);
    walk->at_s = tail->end_s;
}

/*
 * Warm seconds over the times it ran, from `from_s` on with `credit` in hand. After the history is
 * settled nothing changes any more.
 */
static void integrate_spans(struct sum *sum, const struct history *history,
                            const struct running *running, const struct earning *earning,
                            int64_t from_s, double credit)
{
    int64_t settled_s = history->settled_s > from_s ? history->settled_s : from_s;
    for (size_t i = 0; i < running->count; i++) {
        bool endless = running->spans[i][1] == INT64_MAX;
        int64_t until_s = endless ? settled_s + 1 : running->spans[i][1];
        if (until_s <= from_s) continue;
        struct history_walk walk;
        struct piece piece;
        history_walk_begin(&walk, history,
                           running->spans[i][0] > from_s ? running->spans[i][0] : from_s, until_s);
        double rate = 0; /* the last second before `until_s` shows the settled rate */
        integrate_hours(sum, &credit, earning, &walk);
        integrate_past(sum, &credit, earning, &walk);
        while (history_walk_next(&walk, &piece)) {
            rate = integrate_piece(sum, &credit, earning, &piece, history);
            if (sum->waiting == 0 && piece.until_s >= history->now_s) return;
            integrate_hours(sum, &credit, earning, &walk);
            integrate_past(sum, &credit, earning, &walk);
        }
        if (endless && rate > 0)
            reach(sum, credit, rate, until_s, (double)INSTANT_MAX_S, piece.span->assumes);
    }
}

void sum_integrate(struct sum *sum, const struct history *history, const struct running *running,
                   const struct earning *earning, int64_t start_s)
{
    sum->have = sum->ahead_credit = 0;
    sum->silent_s = INSTANT_NONE;
    sum->waiting = sum->goal_count;
    for (size_t i = 0; i < sum->goal_count; i++) {
        struct goal *goal = &sum->goals[i];
        if (!isnan(goal->need) && goal->need > CREDIT_SLACK) continue;
        goal->crossing_s = start_s;
        sum->waiting--;
    }
    int64_t from_s = running->count > 0 ? running->spans[0][0] : start_s;
    integrate_spans(sum, history, running, earning, from_s, 0);
    sum->have /= HOUR_S;
}

void sum_integrate_year(struct sum *sum, const struct history *history,
                        const struct running *running, const struct earning *earning)
{
    const int64_t ahead_s = history->weather->ahead_s;
    sum->waiting = 0;
    for (size_t i = 0; i < sum->goal_count; i++) {
        struct goal *goal = &sum->goals[i];
        if (goal->crossing_s != INSTANT_NONE && goal->crossing_s <= ahead_s) continue;
        goal->crossing_s = INSTANT_NONE;
        sum->waiting++;
    }
    if (sum->waiting > 0)
        integrate_spans(sum, history, running, earning, ahead_s, sum->ahead_credit);
}

struct maturity_law sum_law(const struct earning *earning)
{
    if (earning->kind != CLOCK_KIND_MOIST) return earning->law;
    return (struct maturity_law){.kind = MATURITY_STEPS,
                                 .stall_degc = earning->moist_degc,
                                 .cap = 1,
                                 .step_count = 1,
                                 .steps = {{earning->moist_degc - 1, 1}}};
}
