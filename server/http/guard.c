/* SPDX-License-Identifier: MIT */
/*
 * Why: see guard.h. Deadlines are single atomics, so a request costs two stores. The lock of a slot
 * is taken only at opening, closing and shutting down: while the guard holds it the descriptor
 * cannot be closed and given to somebody else.
 */
#include "http/guard.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <sys/socket.h>
#include <time.h>

#include "http/limits.h"

#include "base/banned.h"

#define NS_PER_S INT64_C(1000000000)

struct guard_slot {
    pthread_mutex_t lock;
    int descriptor; /* -1: free */
    _Atomic int64_t deadline_ns;
    unsigned next_free; /* index + 1; 0: none */
};

struct guard {
    struct guard_slot *slots;
    unsigned count;
    pthread_mutex_t lock; /* of first_free and stopping */
    pthread_cond_t wake;
    unsigned first_free;
    bool stopping;
    pthread_t thread;
    atomic_uint open;
    _Atomic uint64_t closed;
};

int64_t guard_now_ns(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * NS_PER_S + now.tv_nsec;
}

int64_t guard_in_s(int64_t seconds)
{
    return guard_now_ns() + seconds * NS_PER_S;
}

static bool late(const struct guard_slot *slot, int64_t now_ns)
{
    const int64_t deadline_ns = atomic_load_explicit(&slot->deadline_ns, memory_order_relaxed);
    return deadline_ns != GUARD_NEVER && now_ns > deadline_ns;
}

static void look(struct guard *guard)
{
    const int64_t now_ns = guard_now_ns();
    for (unsigned i = 0; i < guard->count; i++) {
        struct guard_slot *slot = &guard->slots[i];
        if (!late(slot, now_ns)) continue;
        (void)pthread_mutex_lock(&slot->lock);
        if (slot->descriptor >= 0 && late(slot, now_ns)) {
            (void)shutdown(slot->descriptor, SHUT_RDWR);
            atomic_store(&slot->deadline_ns, GUARD_NEVER);
            atomic_fetch_add(&guard->closed, 1);
        }
        (void)pthread_mutex_unlock(&slot->lock);
    }
}

static void *watch(void *context)
{
    struct guard *guard = context;
    (void)pthread_mutex_lock(&guard->lock);
    while (!guard->stopping) {
        int64_t until_ns = guard_now_ns() + NS_PER_S / HTTP_GUARD_TICKS_PER_S;
        struct timespec until = {.tv_sec = (time_t)(until_ns / NS_PER_S),
                                 .tv_nsec = (long)(until_ns % NS_PER_S)};
        (void)pthread_cond_timedwait(&guard->wake, &guard->lock, &until);
        (void)pthread_mutex_unlock(&guard->lock);
        look(guard);
        (void)pthread_mutex_lock(&guard->lock);
    }
    (void)pthread_mutex_unlock(&guard->lock);
    return NULL;
}

static void release(struct guard *guard)
{
    for (unsigned i = 0; i < guard->count; i++) (void)pthread_mutex_destroy(&guard->slots[i].lock);
    (void)pthread_cond_destroy(&guard->wake);
    (void)pthread_mutex_destroy(&guard->lock);
    free(guard->slots);
    free(guard);
}

enum status guard_start(struct guard **out, unsigned slots)
{
    struct guard *guard = calloc(1, sizeof *guard);
    struct guard_slot *memory = calloc(slots, sizeof *memory);
    if (guard == NULL || memory == NULL) {
        free(memory);
        free(guard);
        return STATUS_LIMIT;
    }
    guard->slots = memory;
    guard->count = slots;
    for (unsigned i = 0; i < slots; i++) {
        (void)pthread_mutex_init(&memory[i].lock, NULL);
        memory[i].descriptor = -1;
        memory[i].next_free = i + 1 < slots ? i + 2 : 0;
    }
    guard->first_free = 1;
    pthread_condattr_t attributes;
    (void)pthread_condattr_init(&attributes);
    (void)pthread_condattr_setclock(&attributes, CLOCK_MONOTONIC);
    (void)pthread_cond_init(&guard->wake, &attributes);
    (void)pthread_condattr_destroy(&attributes);
    (void)pthread_mutex_init(&guard->lock, NULL);
    if (pthread_create(&guard->thread, NULL, watch, guard) != 0) {
        release(guard);
        return STATUS_IO;
    }
    *out = guard;
    return STATUS_OK;
}

void guard_stop(struct guard *guard)
{
    if (guard == NULL) return;
    (void)pthread_mutex_lock(&guard->lock);
    guard->stopping = true;
    (void)pthread_cond_signal(&guard->wake);
    (void)pthread_mutex_unlock(&guard->lock);
    (void)pthread_join(guard->thread, NULL);
    release(guard);
}

struct guard_slot *guard_open(struct guard *guard, int descriptor, int64_t deadline_ns)
{
    (void)pthread_mutex_lock(&guard->lock);
    struct guard_slot *slot = NULL;
    if (guard->first_free != 0) {
        slot = &guard->slots[guard->first_free - 1];
        guard->first_free = slot->next_free;
    }
    (void)pthread_mutex_unlock(&guard->lock);
    if (slot == NULL) return NULL;
    (void)pthread_mutex_lock(&slot->lock);
    slot->descriptor = descriptor;
    atomic_store(&slot->deadline_ns, deadline_ns);
    (void)pthread_mutex_unlock(&slot->lock);
    atomic_fetch_add(&guard->open, 1);
    return slot;
}

void guard_close(struct guard *guard, struct guard_slot *slot)
{
    if (slot == NULL) return;
    (void)pthread_mutex_lock(&slot->lock);
    slot->descriptor = -1;
    atomic_store(&slot->deadline_ns, GUARD_NEVER);
    (void)pthread_mutex_unlock(&slot->lock);
    (void)pthread_mutex_lock(&guard->lock);
    slot->next_free = guard->first_free;
    guard->first_free = (unsigned)(slot - guard->slots) + 1;
    (void)pthread_mutex_unlock(&guard->lock);
    atomic_fetch_sub(&guard->open, 1);
}

void guard_deadline(struct guard_slot *slot, int64_t deadline_ns)
{
    if (slot != NULL) atomic_store_explicit(&slot->deadline_ns, deadline_ns, memory_order_relaxed);
}

void guard_deadline_within(struct guard_slot *slot, int64_t deadline_ns)
{
    if (slot == NULL) return;
    const int64_t had_ns = atomic_load_explicit(&slot->deadline_ns, memory_order_relaxed);
    if (had_ns == GUARD_NEVER || deadline_ns < had_ns) guard_deadline(slot, deadline_ns);
}

unsigned guard_connections(const struct guard *guard)
{
    return atomic_load(&guard->open);
}

uint64_t guard_closed(const struct guard *guard)
{
    return atomic_load(&guard->closed);
}
