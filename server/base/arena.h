/* SPDX-License-Identifier: MIT */
/*
 * One arena per request or plan: memory is taken in order and freed as a whole. There are no single
 * frees, so an answer can hold pointers into its own arena without anybody counting them. When the
 * machine has no more memory the arena answers NULL and remembers it (arena_failed), so that a
 * computing layer can check once at its end.
 */
#ifndef EMBERWAIT_BASE_ARENA_H
#define EMBERWAIT_BASE_ARENA_H

#include <stdbool.h>
#include <stddef.h>

struct arena;

/** A new, empty arena; NULL when there is no memory. Own; free with arena_free. */
struct arena *arena_new(void);
/** Free the arena and everything taken from it; NULL is allowed. */
void arena_free(struct arena *arena);
/** Forget everything taken but keep the first block for the next use. */
void arena_reset(struct arena *arena);
/**
 * Take zeroed memory for `count` items of `size` bytes, aligned for any type.
 *
 * @return arena memory, or NULL when there is none (arena_failed then stays true). A request for
 *         nothing answers a valid pointer.
 */
void *arena_take(struct arena *arena, size_t count, size_t size);
/** Copy `length` bytes and end them with NUL. NULL when there is no memory. */
char *arena_copy(struct arena *arena, const char *text, size_t length);
/** printf into the arena; NULL when there is no memory. */
char *arena_print(struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
/** Where an arena stands, to go back to after work whose memory is not needed any more. */
struct arena_mark {
    void *block;
    size_t used;
};
/** Remember where the arena stands. */
struct arena_mark arena_mark(const struct arena *arena);
/** Give back everything taken since the mark; a failure stays remembered. */
void arena_rewind(struct arena *arena, struct arena_mark mark);
/** True once any request could not be met. */
bool arena_failed(const struct arena *arena);
/** Bytes held from the machine, for measurements. */
size_t arena_bytes(const struct arena *arena);

/** Take `count` zeroed items of a type. */
#define ARENA_TAKE(arena, count, type) ((type *)arena_take((arena), (count), sizeof(type)))

#endif
