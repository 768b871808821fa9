/* SPDX-License-Identifier: MIT */
/*
 * Why: what no single row shows. A ring of "after" links is a job that can never begin; it is named
 * task by task. A last chance ("before") is an "after" seen from the other end and counts too, and
 * so does work "with" another. A limit ("within") shorter than the wait that comes first can never
 * be kept, and a clock that only later work starts never opens: both are named with the way out.
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "rulebook/rows.h"

#include "base/banned.h"

enum colour { COLOUR_NEW, COLOUR_OPEN, COLOUR_DONE };

struct walk {
    bool first[TASK_COUNT][TASK_COUNT]; /**< [a][b]: b has to come before a */
    enum colour colours[TASK_COUNT];
    int stack[TASK_COUNT];
    size_t depth;
};

static void cycle_fault(struct reader *reader, const struct walk *walk, int again)
{
    char found[FAULT_TEXT_MAX] = "";
    size_t used = 0;
    size_t from = 0;
    while (walk->stack[from] != again) from++;
    for (size_t i = from; i <= walk->depth && used < sizeof found; i++) {
        int task = i < walk->depth ? walk->stack[i] : again;
        int more = snprintf(found + used, sizeof found - used, "%s%s", i == from ? "" : " after ",
                            id_of(&task_ids, task));
        if (more > 0) used += (size_t)more;
    }
    struct path row =
        path_index("tasks", (size_t)(reader->task_rows[again] < 0 ? 0 : reader->task_rows[again]));
    reader_fault(reader, path_member(row.text, "links").text, "links that do not run in a ring",
                 "%s", found);
}

/** Depth first; the depth is bounded by the number of tasks. */
static void walk_from(struct reader *reader, struct walk *walk, int task)
{
    walk->colours[task] = COLOUR_OPEN;
    walk->stack[walk->depth++] = task;
    for (int next = 0; next < TASK_COUNT; next++) {
        if (!walk->first[task][next]) continue;
        if (walk->colours[next] == COLOUR_NEW)
            walk_from(reader, walk, next);
        else if (walk->colours[next] == COLOUR_OPEN)
            cycle_fault(reader, walk, next);
    }
    walk->depth--;
    walk->colours[task] = COLOUR_DONE;
}

void check_cycles(struct reader *reader)
{
    struct walk walk;
    memset(&walk, 0, sizeof walk);
    for (int task = 0; task < TASK_COUNT; task++) {
        const struct task_rule *rule = &reader->book->tasks[task];
        for (size_t i = 0; i < rule->link_count; i++) {
            const struct task_link *link = &rule->links[i];
            if (link->kind == LINK_AFTER || link->kind == LINK_WITH)
                walk.first[task][link->task] = true;
            if (link->kind == LINK_BEFORE) walk.first[link->task][task] = true;
        }
    }
    for (int task = 0; task < TASK_COUNT; task++) {
        if (walk.colours[task] == COLOUR_NEW) walk_from(reader, &walk, task);
    }
}

/* The least floor of a clock, whatever the job, h. */
static double least_floor_h(const struct clock_rule *rule)
{
    double least_h = INFINITY;
    for (size_t i = 0; i < rule->variant_count; i++) {
        const double floor_h = rule->variants[i].floor_h.value;
        least_h = fmin(least_h, isnan(floor_h) ? 0 : floor_h);
    }
    return isfinite(least_h) ? least_h : 0;
}

static bool starts_with_task(const struct clock_rule *rule, enum task task)
{
    for (size_t i = 0; i < rule->start_count; i++)
        if (rule->starts[i].task == task) return true;
    return false;
}

/* Hours that have to pass after a task before this link lets another begin; 0: none. */
static double wait_after_h(const struct rulebook *book, const struct task_link *link,
                           enum task after)
{
    if (link->kind == LINK_AFTER && link->task == after) return link->wait_h;
    if (link->kind != LINK_AFTER_CLOCK || link->if_started) return 0;
    const struct clock_rule *clock = &book->clocks[link->clock];
    return starts_with_task(clock, after) ? least_floor_h(clock) : 0;
}

/* A limit that is over before the wait is. */
static void limit_check(struct reader *reader, enum task task, size_t index)
{
    const struct task_rule *rule = &reader->book->tasks[task];
    const struct task_link *limit = &rule->links[index];
    for (size_t i = 0; i < rule->link_count; i++) {
        const double wait_h = wait_after_h(reader->book, &rule->links[i], limit->task);
        if (wait_h <= limit->wait_h + 1e-9) continue;
        struct path row = path_index("tasks", (size_t)reader->task_rows[task]);
        struct path links = path_member(row.text, "links");
        char wanted[FAULT_TEXT_MAX];
        (void)snprintf(wanted, sizeof wanted, "a limit of at least %g h, or a wait of at most %g h",
                       wait_h, limit->wait_h);
        reader_fault(reader, path_index(links.text, index).text, wanted,
                     "within %g h of %s, but not before %g h after it", limit->wait_h,
                     id_of(&task_ids, (int)limit->task), wait_h);
        return;
    }
}

/** [a] has bit b: b has to come before a, somewhere. */
struct before {
    uint64_t of[TASK_COUNT];
};

static void find_before(struct before *before, const struct rulebook *book)
{
    memset(before, 0, sizeof *before);
    for (int task = 0; task < TASK_COUNT; task++)
        for (size_t i = 0; i < book->tasks[task].link_count; i++) {
            const struct task_link *link = &book->tasks[task].links[i];
            if (link->kind == LINK_AFTER) before->of[task] |= UINT64_C(1) << link->task;
            if (link->kind == LINK_BEFORE) before->of[link->task] |= UINT64_C(1) << task;
        }
    for (int k = 0; k < TASK_COUNT; k++)
        for (int task = 0; task < TASK_COUNT; task++)
            if (before->of[task] >> k & 1U) before->of[task] |= before->of[k];
}

/* A clock that only work after the task, or the task itself, ever starts. */
static void clock_wait_check(struct reader *reader, const struct before *before, enum task task,
                             size_t index)
{
    const struct task_link *link = &reader->book->tasks[task].links[index];
    const struct clock_rule *clock = &reader->book->clocks[link->clock];
    if (link->if_started || clock->start_count == 0) return;
    for (size_t i = 0; i < clock->start_count; i++) {
        const enum task start = clock->starts[i].task;
        if (start == TASK_NONE) return;
        if (start != task && (before->of[start] >> task & 1U) == 0) return;
    }
    struct path row = path_index("tasks", (size_t)reader->task_rows[task]);
    struct path links = path_member(row.text, "links");
    reader_fault(reader, path_index(links.text, index).text,
                 "a clock that earlier work starts, or \"if\": \"started\"",
                 "%s, which only later work starts", id_of(&clock_ids, (int)link->clock));
}

void check_waits(struct reader *reader)
{
    struct before before;
    if (reader->bad > 0) return; /* rows that are not whole were named already */
    find_before(&before, reader->book);
    for (int task = 0; task < TASK_COUNT; task++) {
        const struct task_rule *rule = &reader->book->tasks[task];
        for (size_t i = 0; i < rule->link_count; i++) {
            if (rule->links[i].kind == LINK_WITHIN) limit_check(reader, (enum task)task, i);
            if (rule->links[i].kind == LINK_AFTER_CLOCK)
                clock_wait_check(reader, &before, (enum task)task, i);
        }
    }
}
