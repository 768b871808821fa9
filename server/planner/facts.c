/* SPDX-License-Identifier: MIT */
/*
 * Why: see facts.h. A correction names a record and puts a new body in its place (or none). The
 * latest correction of a record wins; a correction may itself be corrected or withdrawn.
 */
#include "planner/facts.h"

#include <string.h>

#include "base/status.h"

enum { CORRECTION_DEPTH_MAX = 16 };

/* The latest correction of `id` that is known at now, older than `before` in order; NULL: none. */
static const struct record *correction_of(const struct facts *facts, const char *id,
                                          const struct record *before)
{
    const struct record *best = NULL;
    for (size_t i = 0; i < facts->job->record_count; i++) {
        const struct record *r = &facts->job->records[i];
        if (r->kind != RECORD_CORRECTED || r->at_s > facts->now_s) continue;
        if (r->corrects == NULL || strcmp(r->corrects, id) != 0) continue;
        if (before != NULL && (r->at_s > before->at_s || (r->at_s == before->at_s && r >= before)))
            continue;
        if (best == NULL || r->at_s >= best->at_s) best = r;
    }
    return best;
}

/* What stands in the place of `record` once corrections are carried out; NULL: withdrawn. */
static const struct record *effective(const struct facts *facts, const struct record *record,
                                      int depth)
{
    if (depth > CORRECTION_DEPTH_MAX) return record;
    const struct record *before = NULL;
    for (;;) {
        const struct record *correction = correction_of(facts, record->id, before);
        if (correction == NULL) return record;
        const struct record *body = effective(facts, correction, depth + 1);
        if (body != NULL) return body->kind == RECORD_CORRECTED ? body->with : body;
        before = correction; /* that correction was itself withdrawn: ask the one before it */
    }
}

/* Stable merge sort by at_s; `spare` holds as many pointers as `items`. */
static void sort_by_instant(const struct record **items, const struct record **spare, size_t count)
{
    for (size_t width = 1; width < count; width *= 2) {
        for (size_t left = 0; left < count; left += 2 * width) {
            size_t middle = left + width < count ? left + width : count;
            size_t right = left + 2 * width < count ? left + 2 * width : count;
            size_t a = left, b = middle;
            for (size_t k = left; k < right; k++) {
                bool take_left = a < middle && (b >= right || items[a]->at_s <= items[b]->at_s);
                spare[k] = take_left ? items[a++] : items[b++];
            }
        }
        memcpy(items, spare, count * sizeof *items);
    }
}

void facts_gather(struct facts *out, const struct job *job, const struct company *company,
                  const struct rulebook *rulebook, int64_t now_s, struct arena *arena)
{
    *out = (struct facts){
        .job = job, .company = company, .rulebook = rulebook, .now_s = now_s, .arena = arena};
    size_t count = job->record_count;
    const struct record **items = ARENA_TAKE(arena, count, const struct record *);
    const struct record **spare = ARENA_TAKE(arena, count, const struct record *);
    if (items == NULL || spare == NULL) return;
    bool corrections = false;
    for (size_t i = 0; i < count && !corrections; i++)
        corrections = job->records[i].kind == RECORD_CORRECTED;
    size_t kept = 0;
    bool sorted = true;
    for (size_t i = 0; i < count; i++) {
        const struct record *record = &job->records[i];
        if (record->kind == RECORD_CORRECTED) continue;
        if (corrections) record = effective(out, record, 0);
        if (record == NULL || record->at_s > now_s) continue;
        if (kept > 0 && items[kept - 1]->at_s > record->at_s) sorted = false;
        items[kept++] = record;
    }
    if (!sorted) sort_by_instant(items, spare, kept);
    out->records = items;
    out->count = kept;
}

const struct record *facts_latest(const struct facts *facts, enum record_kind kind, enum task task)
{
    for (size_t i = facts->count; i-- > 0;) {
        const struct record *record = facts->records[i];
        if (record->kind == kind && (task == TASK_NONE || record->task == task)) return record;
    }
    return NULL;
}
