/* SPDX-License-Identifier: MIT */
/*
 * Why: what no single row shows. A ring of "after" links is a job that can never begin; it is named
 * task by task. A last chance ("before") is an "after" seen from the other end and counts too.
 */
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
            if (link->kind == LINK_AFTER) walk.first[task][link->task] = true;
            if (link->kind == LINK_BEFORE) walk.first[link->task][task] = true;
        }
    }
    for (int task = 0; task < TASK_COUNT; task++) {
        if (walk.colours[task] == COLOUR_NEW) walk_from(reader, &walk, task);
    }
}
