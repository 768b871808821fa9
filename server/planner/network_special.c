/* SPDX-License-Identifier: MIT */
/*
 * Why: two tasks that are not done once. The watch over the drying unit works as long as its clock
 * runs and ends with it, whatever anybody taps. The night cover is due each day that leaves green
 * joints and is over once they are covered.
 */
#include "planner/network_internal.h"

#include <math.h>

#include "compute/civil.h"
#include "planner/explain.h"

#include "base/banned.h"

static bool cure_watch(struct net *net, struct task_plan *out)
{
    const struct clock_plan *clock = net->clocks[CLOCK_UNIT_DRY_CURE];
    struct step *step = &net->steps[TASK_CURE_WATCH];
    if (clock == NULL || step->implied) return false;
    struct bounds bounds = {.latest_s = INSTANT_NONE};
    out->start_s = clock->start_s;
    switch (clock->state) {
    case CLOCK_STATE_OPEN:
        out->state = TASK_STATE_DONE;
        out->finish_s = out->done_s = clock->opens_s;
        break;
    case CLOCK_STATE_RUNNING:
        out->state = TASK_STATE_WORKING;
        out->finish_s = clock->opens_s;
        break;
    default:
        out->state = TASK_STATE_CHECK_IT;
        break;
    }
    step->finished = clock->state == CLOCK_STATE_OPEN;
    step->release_s = out->finish_s;
    if (step->finished) return true;
    explain_add(&bounds, explain_clock(clock), false);
    explain_keep(out, &bounds, net->facts->arena);
    return true;
}

/* When the joints that a clock has counted since `from_s` were covered; INSTANT_NONE: they are not.
 */
static int64_t covered_s(const struct net *net, int64_t from_s)
{
    int64_t covered = INSTANT_NONE;
    for (size_t i = net->facts->count; i-- > 0 && net->facts->records[i]->at_s >= from_s;) {
        const struct record *r = net->facts->records[i];
        if (r->kind == RECORD_UNCOVERED) return covered;
        /* a cover that its own checks found loose or short is none */
        bool tapped = r->kind == RECORD_DONE && r->task == TASK_NIGHT_COVER &&
                      (net->answers.failing & task_bit(TASK_NIGHT_COVER)) == 0;
        bool cover = r->kind == RECORD_COVERED || tapped;
        if (cover) covered = r->at_s;
    }
    return covered;
}

/* Which work left the joints: the latest done at the start of the clock. */
static enum task joints_of(const struct net *net, int64_t start_s)
{
    for (int t = TASK_COUNT; t-- > 0;)
        if (net->rulebook->tasks[t].makes_joints && net->steps[t].done_s == start_s)
            return (enum task)t;
    return TASK_NONE;
}

/* The first work ahead that leaves green joints; TASK_NONE: none is left. */
static enum task next_joints(const struct net *net)
{
    enum task next = TASK_NONE;
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct step *step = &net->steps[t];
        if (!net->rulebook->tasks[t].makes_joints || !step->needed || step->finished) continue;
        bool sooner = next == TASK_NONE || (step->release_s != INSTANT_NONE &&
                                            (net->steps[next].release_s == INSTANT_NONE ||
                                             step->release_s < net->steps[next].release_s));
        if (sooner) next = (enum task)t;
    }
    return next;
}

static void cover_after(struct net *net, struct task_plan *out, enum task joints, int64_t at_s)
{
    struct bounds bounds = {.latest_s = INSTANT_NONE};
    struct span span = {INSTANT_NONE, INSTANT_NONE, false, false};
    bounds.crew_s = bounds.other_s = INSTANT_NONE;
    if (joints != TASK_NONE)
        explain_add(&bounds,
                    explain_plain(REASON_AFTER, explain_rule(EXPLAIN_AFTER, joints), at_s, joints),
                    at_s != INSTANT_NONE && at_s <= net->facts->now_s);
    bounds.crew_s = at_s == INSTANT_NONE ? INSTANT_NONE : later_s(at_s, net->facts->now_s);
    if (!bounds.unknown) network_calendar(&span, net, TASK_NIGHT_COVER, &bounds);
    out->opens_s = bounds.unknown ? INSTANT_NONE : at_s;
    out->start_s = span.start_s;
    out->finish_s = span.finish_s;
    explain_keep(out, &bounds, net->facts->arena);
}

static bool night_cover(struct net *net, struct task_plan *out)
{
    const struct clock_plan *clock = net->clocks[CLOCK_JOINTS_EARLY];
    struct step *step = &net->steps[TASK_NIGHT_COVER];
    if (net->facts->job->options.place == PLACE_INDOOR) {
        out->state = TASK_STATE_NOT_NEEDED;
        return true;
    }
    bool green = clock != NULL && clock->state != CLOCK_STATE_OPEN;
    int64_t done_s = green ? covered_s(net, clock->start_s) : INSTANT_NONE;
    if (green && done_s == INSTANT_NONE) {
        out->state = TASK_STATE_WAIT_OVER;
        cover_after(net, out, joints_of(net, clock->start_s), clock->start_s);
        return true;
    }
    enum task next = next_joints(net);
    if (green || next == TASK_NONE) {
        out->state = TASK_STATE_DONE;
        out->done_s = out->finish_s = green ? done_s : step->done_s;
        return true;
    }
    out->state = TASK_STATE_NOT_YET;
    cover_after(net, out, next, net->steps[next].release_s);
    return true;
}

bool network_special(struct net *net, enum task task)
{
    struct task_plan *out = &net->out->tasks[task];
    if (task == TASK_CURE_WATCH) return cure_watch(net, out);
    if (task == TASK_NIGHT_COVER) return night_cover(net, out);
    return false;
}
