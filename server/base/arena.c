/* SPDX-License-Identifier: MIT */
/* Why: see arena.h. Blocks double up to a ceiling, so a plan of one job costs one malloc. */
#include "base/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/status.h"

#include "base/banned.h"

enum { BLOCK_BYTES_FIRST = 32768, BLOCK_BYTES_LARGEST = 4194304 };

struct block {
    struct block *next;
    size_t capacity;
    size_t used;
    max_align_t data[];
};

struct arena {
    struct block *head;
    size_t bytes;
    bool failed;
};

struct arena *arena_new(void)
{
    return calloc(1, sizeof(struct arena));
}

void arena_free(struct arena *arena)
{
    if (arena == NULL) return;
    for (struct block *block = arena->head; block != NULL;) {
        struct block *next = block->next;
        free(block);
        block = next;
    }
    free(arena);
}

void arena_reset(struct arena *arena)
{
    struct block *kept = arena->head;
    if (kept == NULL) return;
    for (struct block *block = kept->next; block != NULL;) {
        struct block *next = block->next;
        arena->bytes -= block->capacity;
        free(block);
        block = next;
    }
    kept->next = NULL;
    kept->used = 0;
    arena->failed = false;
}

static struct block *block_add(struct arena *arena, size_t bytes)
{
    size_t capacity = arena->head == NULL ? BLOCK_BYTES_FIRST : arena->head->capacity * 2;
    if (capacity > BLOCK_BYTES_LARGEST) capacity = BLOCK_BYTES_LARGEST;
    if (capacity < bytes) capacity = bytes;
    if (capacity > SIZE_MAX - sizeof(struct block)) return NULL;
    struct block *block = malloc(sizeof *block + capacity);
    if (block == NULL) return NULL;
    block->capacity = capacity;
    block->used = 0;
    block->next = arena->head;
    arena->head = block;
    arena->bytes += capacity;
    return block;
}

void *arena_take(struct arena *arena, size_t count, size_t size)
{
    REQUIRE(arena != NULL);
    const size_t align = sizeof(max_align_t);
    if (size != 0 && count > (SIZE_MAX - align) / size) {
        arena->failed = true;
        return NULL;
    }
    size_t bytes = count * size;
    bytes = bytes == 0 ? align : (bytes + align - 1) / align * align;
    struct block *block = arena->head;
    if (block == NULL || block->capacity - block->used < bytes) block = block_add(arena, bytes);
    if (block == NULL) {
        arena->failed = true;
        return NULL;
    }
    void *taken = (char *)block->data + block->used;
    block->used += bytes;
    memset(taken, 0, bytes);
    return taken;
}

struct arena_mark arena_mark(const struct arena *arena)
{
    struct block *head = arena->head;
    return (struct arena_mark){head, head == NULL ? 0 : head->used};
}

void arena_rewind(struct arena *arena, struct arena_mark mark)
{
    while (arena->head != NULL && arena->head != mark.block) {
        struct block *next = arena->head->next;
        arena->bytes -= arena->head->capacity;
        free(arena->head);
        arena->head = next;
    }
    if (arena->head != NULL) arena->head->used = mark.used;
}

char *arena_copy(struct arena *arena, const char *text, size_t length)
{
    char *copy = length == SIZE_MAX ? NULL : arena_take(arena, length + 1, 1);
    if (copy != NULL && length > 0) memcpy(copy, text, length);
    return copy;
}

char *arena_print(struct arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    ENSURE(length >= 0);
    char *text = arena_take(arena, (size_t)length + 1, 1);
    if (text != NULL) (void)vsnprintf(text, (size_t)length + 1, format, again);
    va_end(again);
    return text;
}

bool arena_failed(const struct arena *arena)
{
    return arena->failed;
}

size_t arena_bytes(const struct arena *arena)
{
    return arena->bytes;
}
