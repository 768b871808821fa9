/* SPDX-License-Identifier: MIT */
/*
 * Why: see plans.h. One entry is current; older ones live until their last reader is done. The lock
 * is held while a plan is worked out, so that those who ask meanwhile wait for that one plan.
 */
#include "http/plans.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>

#include "app/app_changes.h"
#include "app/app_plan.h"

#include "base/banned.h"

enum { MINUTE_S = 60 };

struct plans_entry {
    atomic_uint references;
    struct plans_key key;
    struct app_view *view;
    struct arena *arena;
    const struct plan *plan;
    const struct date_change *changes; /* NULL: not worked out yet; under the lock of plans */
    size_t change_count;
    const struct change *all_changes; /* tasks that moved too */
    size_t all_count;
};

struct plans {
    pthread_mutex_t lock;
    struct plans_entry *current;
    _Atomic int64_t wrote_s;
    void (*on_write)(void *context); /* set once, before the first request */
    void *on_write_context;
};

struct plans *plans_new(void)
{
    struct plans *plans = calloc(1, sizeof *plans);
    if (plans != NULL) (void)pthread_mutex_init(&plans->lock, NULL);
    return plans;
}

void plans_release(struct plans_entry *entry)
{
    if (entry == NULL || atomic_fetch_sub(&entry->references, 1) != 1) return;
    arena_free(entry->arena);
    app_view_release(entry->view);
    free(entry);
}

void plans_free(struct plans *plans)
{
    if (plans == NULL) return;
    plans_release(plans->current);
    (void)pthread_mutex_destroy(&plans->lock);
    free(plans);
}

void plans_on_write(struct plans *plans, void (*told)(void *context), void *context)
{
    plans->on_write = told;
    plans->on_write_context = context;
}

void plans_wrote(struct plans *plans, int64_t now_s)
{
    int64_t had_s = atomic_load(&plans->wrote_s);
    while (now_s > had_s && !atomic_compare_exchange_weak(&plans->wrote_s, &had_s, now_s)) {
    }
    if (plans->on_write != NULL) plans->on_write(plans->on_write_context);
}

static struct plans_key key_of(const struct http_request *request, const struct app_view *view)
{
    const struct http_tools *tools = request->tools;
    struct plans_key key = {.generation = app_view_generation(view), .now_s = request->now_s};
    if (tools->fixed_clock) return key;
    const int64_t wrote_s = atomic_load(&tools->plans->wrote_s);
    key.now_s -= key.now_s % MINUTE_S;
    if (wrote_s > key.now_s) key.now_s = wrote_s;
    return key;
}

enum status plans_key(struct plans_key *out, const struct http_request *request,
                      struct faults *faults)
{
    struct app_view *view = NULL;
    const enum status status = app_view_take(&view, request->tools->app, faults);
    if (status != STATUS_OK) return status;
    *out = key_of(request, view);
    app_view_release(view);
    return STATUS_OK;
}

static bool same(struct plans_key a, struct plans_key b)
{
    return a.generation == b.generation && a.now_s == b.now_s;
}

/* Takes the view over, on any status. */
static enum status make(struct plans_entry **out, struct app_view *view, struct plans_key key,
                        struct faults *faults)
{
    struct plans_entry *entry = calloc(1, sizeof *entry);
    struct arena *arena = entry == NULL ? NULL : arena_new();
    enum status status = arena == NULL ? STATUS_LIMIT : STATUS_OK;
    if (status == STATUS_OK) status = app_plan_all(&entry->plan, view, key.now_s, arena, faults);
    if (status != STATUS_OK) {
        arena_free(arena);
        free(entry);
        app_view_release(view);
        return status;
    }
    entry->references = 1;
    entry->key = key;
    entry->view = view;
    entry->arena = arena;
    *out = entry;
    return STATUS_OK;
}

enum status plans_take(struct plans_entry **out, const struct http_request *request,
                       struct faults *faults)
{
    struct plans *plans = request->tools->plans;
    struct app_view *view = NULL;
    *out = NULL;
    enum status status = app_view_take(&view, request->tools->app, faults);
    if (status != STATUS_OK) return status;
    const struct plans_key key = key_of(request, view);
    (void)pthread_mutex_lock(&plans->lock);
    if (plans->current != NULL && same(plans->current->key, key)) {
        app_view_release(view);
    } else {
        struct plans_entry *entry = NULL;
        status = make(&entry, view, key, faults);
        if (status == STATUS_OK) {
            plans_release(plans->current);
            plans->current = entry;
        }
    }
    if (status == STATUS_OK) {
        *out = plans->current;
        atomic_fetch_add(&plans->current->references, 1);
    }
    (void)pthread_mutex_unlock(&plans->lock);
    return status;
}

const struct plan *plans_plan(const struct plans_entry *entry)
{
    return entry->plan;
}

const struct app_view *plans_view(const struct plans_entry *entry)
{
    return entry->view;
}

struct plans_key plans_key_of(const struct plans_entry *entry)
{
    return entry->key;
}

/* Under the lock. The plans they rest on live as long as the entry. */
static enum status find_changes(struct plans_entry *entry, struct faults *faults)
{
    const struct plan *now = entry->plan;
    const struct casefile *casefile = now->casefile;
    const struct change *found = NULL;
    size_t found_count = 0;
    struct date_change *changes = ARENA_TAKE(entry->arena, now->job_count, struct date_change);
    if (changes == NULL) return STATUS_LIMIT;
    const int64_t evening_s = app_changes_evening_s(&casefile->company, casefile->now_s);
    const enum status status =
        app_changes_since(&found, &found_count, entry->view, now, evening_s, entry->arena, faults);
    size_t count = 0;
    for (size_t i = 0; status == STATUS_OK && i < found_count; i++) {
        const struct job_moves *moves = &found[i].moves;
        if (moves->old_fire_day == moves->new_fire_day && !found[i].holds_no_more) continue;
        changes[count++] =
            (struct date_change){moves->after, moves->old_fire_day, moves->new_fire_day, &found[i]};
    }
    if (status == STATUS_OK) {
        entry->all_changes = found;
        entry->all_count = found_count;
        entry->change_count = count;
        entry->changes = changes;
    }
    return status;
}

enum status plans_changes(const struct date_change **out, size_t *count,
                          const struct http_request *request, struct plans_entry *entry,
                          struct faults *faults)
{
    struct plans *plans = request->tools->plans;
    (void)pthread_mutex_lock(&plans->lock);
    const enum status status = entry->changes == NULL ? find_changes(entry, faults) : STATUS_OK;
    *out = entry->changes;
    *count = entry->change_count;
    (void)pthread_mutex_unlock(&plans->lock);
    return status;
}

enum status plans_all_changes(const struct change **out, size_t *count,
                              const struct http_request *request, struct plans_entry *entry,
                              struct faults *faults)
{
    const struct date_change *fires = NULL;
    size_t fire_count = 0;
    const enum status status = plans_changes(&fires, &fire_count, request, entry, faults);
    *out = entry->all_changes;
    *count = status == STATUS_OK ? entry->all_count : 0;
    return status;
}
