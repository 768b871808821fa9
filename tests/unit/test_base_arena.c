/* SPDX-License-Identifier: MIT */
/*
 * The arena: zeroed, aligned, never overlapping, and honest when there is no memory. arena.c is
 * compiled in here so that its allocations can be made to fail.
 */
#include <check.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static int allocations_left = -1; /* before one fails; below 0: none does */

static void *test_malloc(size_t size)
{
    if (allocations_left >= 0 && allocations_left-- == 0) return NULL;
    return malloc(size);
}

static void *test_calloc(size_t count, size_t size)
{
    if (allocations_left >= 0 && allocations_left-- == 0) return NULL;
    return calloc(count, size);
}

#define malloc test_malloc
#define calloc test_calloc
#include "base/arena.c"
#undef malloc
#undef calloc

START_TEST(what_is_taken_is_zero_aligned_and_its_own)
{
    struct arena *arena = arena_new();
    ck_assert_ptr_nonnull(arena);
    enum { ITEMS = 3000 };
    static unsigned char *items[ITEMS];
    for (int i = 0; i < ITEMS; i++) {
        const size_t bytes = (size_t)(i * 7 % 301);
        items[i] = arena_take(arena, bytes, 1);
        if (items[i] == NULL || (uintptr_t)items[i] % _Alignof(max_align_t) != 0)
            ck_abort_msg("item %d", i);
        for (size_t b = 0; b < bytes; b++) {
            if (items[i][b] != 0) ck_abort_msg("item %d is not zero", i);
        }
        memset(items[i], i % 255 + 1, bytes);
    }
    for (int i = 0; i < ITEMS; i++) {
        for (size_t b = 0; b < (size_t)(i * 7 % 301); b++) {
            if (items[i][b] != i % 255 + 1) ck_abort_msg("item %d was overwritten", i);
        }
    }
    ck_assert(!arena_failed(arena));
    ck_assert_uint_ge(arena_bytes(arena), ITEMS * 150);
    arena_free(arena);
    arena_free(NULL);
}
END_TEST

START_TEST(an_item_larger_than_any_block_has_its_own)
{
    struct arena *arena = arena_new();
    ck_assert_ptr_nonnull(ARENA_TAKE(arena, 3, int));
    char *large = ARENA_TAKE(arena, 9000001, char);
    ck_assert_ptr_nonnull(large);
    large[9000000] = 1;
    ck_assert_ptr_nonnull(ARENA_TAKE(arena, 3, int));
    arena_free(arena);
}
END_TEST

START_TEST(a_size_that_cannot_be_is_refused_and_remembered)
{
    struct arena *arena = arena_new();
    ck_assert_ptr_null(arena_take(arena, SIZE_MAX, 1));
    ck_assert(arena_failed(arena));
    ck_assert_ptr_null(arena_take(arena, SIZE_MAX / 8 + 2, 8));
    ck_assert_ptr_null(arena_take(arena, SIZE_MAX / 2, 3));
    ck_assert_ptr_null(arena_copy(arena, "x", SIZE_MAX));
    ck_assert_ptr_nonnull(arena_take(arena, 1, 1));
    ck_assert(arena_failed(arena));
    arena_free(arena);
}
END_TEST

START_TEST(text_is_copied_and_printed_with_its_end)
{
    struct arena *arena = arena_new();
    ck_assert_str_eq(arena_copy(arena, "abcdef", 3), "abc");
    ck_assert_str_eq(arena_copy(arena, "", 0), "");
    ck_assert_str_eq(arena_copy(arena, NULL, 0), "");
    ck_assert_str_eq(arena_print(arena, "%s-%d", "x", 12), "x-12");
    ck_assert_uint_eq(strlen(arena_print(arena, "%100000d", 1)), 100000);
    arena_free(arena);
}
END_TEST

START_TEST(a_reset_arena_is_empty_again_and_keeps_one_block)
{
    struct arena *arena = arena_new();
    arena_reset(arena);
    for (int round = 0; round < 3; round++) {
        for (int i = 0; i < 2000; i++) {
            unsigned char *bytes = arena_take(arena, 100, 1);
            if (bytes == NULL || bytes[0] != 0 || bytes[99] != 0) ck_abort_msg("%d", i);
            memset(bytes, 0xff, 100);
        }
        ck_assert_ptr_null(arena_take(arena, SIZE_MAX, 1));
        const size_t held = arena_bytes(arena);
        arena_reset(arena);
        ck_assert(!arena_failed(arena));
        ck_assert_uint_le(arena_bytes(arena), held);
        ck_assert_uint_gt(arena_bytes(arena), 0);
    }
    arena_free(arena);
}
END_TEST

START_TEST(going_back_to_a_mark_gives_back_what_came_after_and_keeps_what_came_before)
{
    struct arena *arena = arena_new();
    const struct arena_mark empty = arena_mark(arena);
    char *kept = arena_copy(arena, "kept", 4);
    const struct arena_mark mark = arena_mark(arena);
    const size_t held = arena_bytes(arena);
    for (int round = 0; round < 3; round++) {
        for (int i = 0; i < 200; i++) { /* through several blocks */
            unsigned char *bytes = arena_take(arena, 1000, 1);
            if (bytes == NULL || bytes[0] != 0 || bytes[999] != 0) ck_abort_msg("%d", i);
            memset(bytes, 0xff, 1000);
        }
        ck_assert_uint_gt(arena_bytes(arena), held);
        arena_rewind(arena, mark);
        ck_assert_uint_eq(arena_bytes(arena), held);
        ck_assert_str_eq(kept, "kept");
    }
    ck_assert_ptr_null(arena_take(arena, SIZE_MAX, 1));
    arena_rewind(arena, mark);
    ck_assert(arena_failed(arena));
    arena_rewind(arena, empty);
    ck_assert_uint_eq(arena_bytes(arena), 0);
    ck_assert_ptr_nonnull(arena_take(arena, 1, 1));
    arena_free(arena);
}
END_TEST

START_TEST(every_allocation_that_fails_is_told_and_the_rest_stays_whole)
{
    int failing = 0;
    for (;; failing++) {
        allocations_left = failing;
        struct arena *arena = arena_new();
        int missing = 0;
        char *first = arena == NULL ? NULL : arena_copy(arena, "first", 5);
        for (int i = 0; arena != NULL && i < 100; i++) {
            missing += arena_take(arena, 10000, 1) == NULL;
        }
        const bool none_failed = allocations_left >= 0;
        allocations_left = -1;
        if (failing == 0) ck_assert_ptr_null(arena);
        if (arena != NULL) {
            ck_assert_int_eq(arena_failed(arena), !none_failed);
            ck_assert_int_eq(missing > 0 || first == NULL, !none_failed);
            if (first != NULL) ck_assert_str_eq(first, "first");
            ck_assert_ptr_nonnull(arena_take(arena, 10000, 1)); /* memory is back */
        }
        arena_free(arena);
        if (none_failed) break;
    }
    ck_assert_int_ge(failing, 4);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("arena");
    TCase *tests = tcase_create("arena");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, what_is_taken_is_zero_aligned_and_its_own);
    tcase_add_test(tests, an_item_larger_than_any_block_has_its_own);
    tcase_add_test(tests, a_size_that_cannot_be_is_refused_and_remembered);
    tcase_add_test(tests, text_is_copied_and_printed_with_its_end);
    tcase_add_test(tests, a_reset_arena_is_empty_again_and_keeps_one_block);
    tcase_add_test(tests,
                   going_back_to_a_mark_gives_back_what_came_after_and_keeps_what_came_before);
    tcase_add_test(tests, every_allocation_that_fails_is_told_and_the_rest_stays_whole);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
