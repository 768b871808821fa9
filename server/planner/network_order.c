/* SPDX-License-Identifier: MIT */
/*
 * Why: in what order the tasks are worked out, and what the records of other tasks mean for one.
 *
 *  - A task that is not needed is transparent: what comes after it comes after what it waits for.
 *  - Work done again makes the passes given before it worth nothing; a new pad makes everything
 *    done on the old one worth nothing.
 *  - Finished work shows that what nobody recorded before it was done too (network.h says where
 *    that stops).
 *  - Work finished on top of an unpassed hold point, or past a missed last chance, releases nothing
 *    until that is put in order; nor does work done ahead of a clock until the clock is open.
 */
#include "planner/network_internal.h"

#include "base/banned.h"

bool network_link_acts(const struct net *net, const struct task_link *link)
{
    return rulebook_holds(link->when, link->when_count, &net->facts->job->options);
}

bool network_by_crew(const struct net *net, enum task task)
{
    enum who who = net->rulebook->tasks[task].who;
    return who == WHO_CREW || who == WHO_MASON;
}

bool network_releases(const struct step *step)
{
    return step->finished && step->root == TASK_NONE;
}

bool network_held(const struct step *step)
{
    return (step->phase == PHASE_DONE && step->hold) || step->phase == PHASE_NOTED ||
           step->phase == PHASE_FAILED || step->phase == PHASE_REDO || step->phase == PHASE_CHECK;
}

static bool recorded(const struct step *step)
{
    return step->phase == PHASE_DONE || step->phase == PHASE_NOTED || step->phase == PHASE_PASSED ||
           step->phase == PHASE_CHECK;
}

/* --- order --------------------------------------------------------------------------------- */

/* Kahn's sweep over masks; a circle (the rulebook check refuses them) is cut at its first task. */
static void sort_tasks(struct net *net, const uint64_t before[TASK_COUNT])
{
    uint64_t placed = 0;
    size_t count = 0;
    while (count < TASK_COUNT) {
        size_t was = count;
        enum task first = TASK_NONE;
        for (int t = 0; t < TASK_COUNT; t++) {
            uint64_t bit = task_bit((enum task)t);
            if (placed & bit) continue;
            if (first == TASK_NONE) first = (enum task)t;
            if (before[t] & ~placed) continue;
            placed |= bit;
            net->order[count++] = (enum task)t;
        }
        if (count > was) continue;
        placed |= task_bit(first);
        net->order[count++] = first;
    }
}

/* Masks of what the links say, for all tasks; `after` keeps the plain `after` links apart. */
static void read_links(struct net *net, uint64_t before[TASK_COUNT], uint64_t after[TASK_COUNT])
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_rule *rule = &net->rulebook->tasks[t];
        const uint64_t bit = task_bit((enum task)t);
        for (size_t i = 0; i < rule->link_count; i++) {
            const struct task_link *link = &rule->links[i];
            if (link->kind == LINK_AFTER_CLOCK || !network_link_acts(net, link)) continue;
            if (link->kind == LINK_BEFORE) {
                if (!net->steps[t].needed || !net->steps[link->task].needed) continue;
                net->steps[t].precedes |= task_bit(link->task);
                net->steps[link->task].chances |= bit;
                before[link->task] |= bit;
                continue;
            }
            before[t] |= task_bit(link->task);
            if (link->kind == LINK_AFTER) after[t] |= task_bit(link->task);
        }
    }
}

/* The clocks not started yet come after the work that starts them. */
static void add_clock_starts(struct net *net, uint64_t before[TASK_COUNT])
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_rule *rule = &net->rulebook->tasks[t];
        for (size_t i = 0; i < rule->link_count; i++) {
            if (rule->links[i].kind != LINK_AFTER_CLOCK) continue;
            const struct clock_rule *clock = &net->rulebook->clocks[rule->links[i].clock];
            for (size_t k = 0; k < clock->start_count; k++) {
                enum task start = clock->starts[k].task;
                if (start == TASK_NONE || start == (enum task)t) continue;
                if (net->steps[start].earlier & task_bit((enum task)t)) continue;
                if (net->steps[t].earlier & task_bit(start)) continue;
                bool starts_earlier = false;
                for (size_t j = 0; j < clock->start_count && !starts_earlier; j++)
                    starts_earlier = clock->starts[j].task != TASK_NONE &&
                                     (net->steps[t].earlier & task_bit(clock->starts[j].task));
                if (!starts_earlier) before[t] |= task_bit(start);
            }
        }
    }
}

static void find_order(struct net *net)
{
    uint64_t before[TASK_COUNT] = {0}, after[TASK_COUNT] = {0};
    read_links(net, before, after);
    sort_tasks(net, before);
    for (int i = 0; i < TASK_COUNT; i++) {
        struct step *step = &net->steps[net->order[i]];
        for (uint64_t m = before[net->order[i]]; m != 0; m &= m - 1) {
            enum task p = task_first(m);
            step->earlier |= net->steps[p].earlier | task_bit(p);
            if ((after[net->order[i]] & task_bit(p)) == 0) continue;
            step->waits_for |= net->steps[p].needed ? task_bit(p) : net->steps[p].waits_for;
        }
    }
    for (int t = 0; t < TASK_COUNT; t++) {
        if (!net->steps[t].needed) continue;
        for (uint64_t m = net->steps[t].waits_for; m != 0; m &= m - 1)
            net->steps[task_first(m)].releases |= task_bit((enum task)t);
    }
    add_clock_starts(net, before);
    sort_tasks(net, before);
}

/* --- what other records mean ----------------------------------------------------------------- */

static bool starts_ground(const struct net *net, enum task task)
{
    for (int c = 0; c < CLOCK_COUNT; c++) {
        const struct clock_rule *rule = &net->rulebook->clocks[c];
        if (rule->part != PART_PAD && rule->part != PART_FOOTING) continue;
        for (size_t i = 0; i < rule->start_count; i++)
            if (rule->starts[i].task == task && rule->starts[i].kind == RECORD_DONE) return true;
    }
    return false;
}

/* Finished before the work below it was opened again or repeated: that has to be done again too. */
static void find_outdated(struct net *net)
{
    int64_t any_s[TASK_COUNT], ground_s[TASK_COUNT];
    for (int i = 0; i < TASK_COUNT; i++) {
        enum task task = net->order[i];
        struct step *step = &net->steps[task];
        any_s[task] = ground_s[task] = INSTANT_NONE;
        for (uint64_t m = step->waits_for; m != 0; m &= m - 1) {
            enum task p = task_first(m);
            int64_t redone_s = net->steps[p].redone_s;
            any_s[task] = later_s(any_s[task], later_s(any_s[p], redone_s));
            if (redone_s != INSTANT_NONE && starts_ground(net, p))
                ground_s[task] = later_s(ground_s[task], redone_s);
            ground_s[task] = later_s(ground_s[task], ground_s[p]);
        }
        if (!recorded(step)) continue;
        bool pass = step->hold || task == TASK_HANDOVER;
        if (step->done_s < ground_s[task] || (pass && step->done_s < any_s[task]))
            step->phase = PHASE_REDO;
    }
}

static void find_finished(struct net *net)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        struct step *step = &net->steps[t];
        step->finished = step->phase == PHASE_PASSED || (step->phase == PHASE_DONE && !step->hold);
        step->release_s = step->finished ? step->done_s : INSTANT_NONE;
    }
}

/* Work that stands on it, or that it had to precede, has begun or is over. */
static enum task closed_by(const struct net *net, const struct step *step, bool begun)
{
    for (uint64_t m = step->precedes; m != 0; m &= m - 1) {
        enum task t = task_first(m);
        const struct step *next = &net->steps[t];
        bool working = next->phase == PHASE_STARTED || next->phase == PHASE_STOPPED;
        if (next->finished || recorded(next) || (begun && working)) return (enum task)t;
    }
    return TASK_NONE;
}

/* A fire that comes again after a sign or a soaking: one was lit, whatever is open of it now. */
static int64_t relit_s(const struct net *net, enum task task)
{
    const struct fire_plan *fire = &net->out->fire;
    const bool next = task - TASK_FIRE_1 + 1 == fire->next_size;
    return task >= TASK_FIRE_1 && task <= TASK_FIRE_5 && next ? fire->last_fire_s : INSTANT_NONE;
}

/* Earliest instant by which a later task shows this one finished; INSTANT_NONE: none does. */
static int64_t shown_by_s(const struct net *net, const struct step *step)
{
    int64_t shown_s = INSTANT_NONE;
    for (uint64_t m = step->releases; m != 0; m &= m - 1) {
        enum task t = task_first(m);
        const struct step *next = &net->steps[t];
        int64_t at_s = next->implied    ? next->implied_s
                       : recorded(next) ? next->done_s
                                        : relit_s(net, t);
        if (at_s != INSTANT_NONE && (shown_s == INSTANT_NONE || at_s < shown_s)) shown_s = at_s;
    }
    return shown_s;
}

/* From the last task to the first: what later work shows. */
static void find_implied(struct net *net)
{
    for (int i = TASK_COUNT; i-- > 0;) {
        struct step *step = &net->steps[net->order[i]];
        if (!step->needed || step->phase != PHASE_NONE) continue;
        int64_t shown_s = shown_by_s(net, step);
        if (shown_s == INSTANT_NONE || closed_by(net, step, true) != TASK_NONE) continue;
        step->implied = true;
        step->implied_s = shown_s;
        if (net->rulebook->tasks[net->order[i]].inspection) continue; /* only a slip passes it */
        step->finished = true;
        step->release_s = shown_s;
    }
}

/* Small tasks at the side of unrecorded work (forms off, cover on) belong to the same past. */
static void find_implied_sides(struct net *net)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        struct step *step = &net->steps[t];
        if (!step->needed || step->phase != PHASE_NONE || step->hold || step->finished) continue;
        if (step->releases != 0 || step->precedes != 0) continue;
        for (uint64_t m = step->waits_for; m != 0 && !step->finished; m &= m - 1) {
            enum task p = task_first(m);
            if (!net->steps[p].implied) continue;
            step->implied = step->finished = true;
            step->implied_s = step->release_s = net->steps[p].implied_s;
        }
    }
}

/* Finished on top of something that is not in order. */
static void find_root(struct net *net, enum task task)
{
    struct step *step = &net->steps[task];
    uint64_t below = step->waits_for | step->chances;
    for (; below != 0 && step->root == TASK_NONE; below &= below - 1) {
        enum task p = task_first(below);
        const uint64_t bit = task_bit(p);
        if (step->chances & bit && net->steps[p].missed) {
            step->root = (enum task)p;
            step->root_missed = true;
        } else if (step->waits_for & bit) {
            if (network_held(&net->steps[p])) step->root = (enum task)p;
            if (net->steps[p].finished && net->steps[p].root != TASK_NONE) {
                step->root = net->steps[p].root;
                step->root_missed = net->steps[p].root_missed;
            }
        }
    }
}

static bool starts_clock(const struct net *net, enum task task, enum clock_id clock)
{
    const struct clock_rule *rule = &net->rulebook->clocks[clock];
    for (size_t i = 0; i < rule->start_count; i++)
        if (rule->starts[i].task == task) return true;
    return false;
}

/* Clocks that were running when it was done and are not open yet. */
static unsigned ahead_of(const struct net *net, enum task task)
{
    const struct task_rule *rule = &net->rulebook->tasks[task];
    const struct step *step = &net->steps[task];
    unsigned clocks = 0;
    for (uint64_t m = step->waits_for; m != 0; m &= m - 1)
        if (net->steps[task_first(m)].finished) clocks |= net->steps[task_first(m)].clocks;
    if (step->done_s == INSTANT_NONE || !step->finished) return clocks;
    for (size_t i = 0; i < rule->link_count; i++) {
        if (rule->links[i].kind != LINK_AFTER_CLOCK || !network_link_acts(net, &rule->links[i]))
            continue;
        if (starts_clock(net, task, rule->links[i].clock)) continue; /* it runs from this work */
        const struct clock_plan *clock = net->clocks[rule->links[i].clock];
        if (clock != NULL && clock->state != CLOCK_STATE_OPEN && clock->start_s <= step->done_s)
            clocks |= 1U << (unsigned)rule->links[i].clock;
    }
    return clocks;
}

/* The owner lets it be closed in: it holds nothing back any more, and is not done either. */
static void excuse(struct step *step)
{
    step->missed = false;
    step->phase = PHASE_EXCUSED;
    step->finished = true;
    step->release_s = step->excused->at_s;
}

void network_order(struct net *net)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_rule *rule = &net->rulebook->tasks[t];
        net->steps[t].needed =
            rulebook_holds(rule->when, rule->when_count, &net->facts->job->options);
    }
    find_order(net);
    find_outdated(net);
    find_finished(net);
    find_implied(net);
    find_implied_sides(net);
    for (int t = 0; t < TASK_COUNT; t++) {
        struct step *step = &net->steps[t];
        if (!step->needed || step->finished) continue;
        step->closed_by = closed_by(net, step, false);
        step->missed = step->closed_by != TASK_NONE;
        if (step->missed && step->excused != NULL) excuse(step);
    }
    for (int i = 0; i < TASK_COUNT; i++) {
        struct step *step = &net->steps[net->order[i]];
        if (step->needed && step->finished) find_root(net, net->order[i]);
        if (step->needed) step->clocks = ahead_of(net, net->order[i]);
    }
}
