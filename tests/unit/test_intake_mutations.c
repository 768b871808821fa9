/* SPDX-License-Identifier: MIT */
/* links: intake views planner rulebook compute model */
/*
 * Thousands of damaged cases with a fixed seed, so that a failure comes back with the next run:
 * whole values exchanged for awkward ones, pieces cut, doubled and joined, single bytes changed.
 * What must hold of each is in tests/fuzz/fuzz_case.c.
 */
#include <check.h>
#include <dirent.h>
#include <stdio.h>

#include "../fuzz/fuzz_case.c"

enum { SEEDS_MAX = 32, SEED_BYTES_MAX = 1 << 16, ROUNDS = 1500 };

static struct seed {
    char *bytes;
    size_t length;
} seeds[SEEDS_MAX];
static size_t seed_count;

static const char *const awkward[] = {
    "null",
    "true",
    "false",
    "0",
    "-1",
    "1",
    "7",
    "28",
    "400",
    "-61",
    "1e308",
    "-1e308",
    "0.5",
    "1e999",
    "NaN",
    "99999999999999999999",
    "2147483648",
    "\"\"",
    "\"x\"",
    "[]",
    "{}",
    "[[]]",
    "[null]",
    "\"1969-12-31T23:59:59Z\"",
    "\"9999-01-01T00:00:00Z\"",
    "\"2199-12-31T23:00:00Z\"",
    "\"1970-01-01T00:00:00Z\"",
    "\"2026-10-23T18:00:00-06:00\"",
    "\"2026-03-29T01:30:00Z\"",
    "\"2026-10-20\"",
    "\"2199-12-31\"",
    "\"pad\"",
    "\"unit\"",
    "\"air\"",
    "\"lowest\"",
    "\"blanket\"",
    "\"room\"",
    "\"redo\"",
    "\"pad-pour\"",
    "\"line-clean\"",
    "\"fire-1\"",
    "\"corrected\"",
    "\"relaid\"",
    "\"lit\"",
    "\"patched\"",
    "\"exposed\"",
    "\"existing\"",
    "\"Pacific/Apia\"",
    "\"Australia/Lord_Howe\"",
    "\"00:00\"",
    "\"24:00\"",
    "\"r7\"",
    "\"\\u0000\"",
    "\"\\ud800\"",
    "\"\xff\"",
    "{\"part\":\"pad\",\"degf\":40}",
};

/* splitmix64: the same numbers everywhere. */
static uint64_t state;
static size_t below(size_t most)
{
    uint64_t z = (state += UINT64_C(0x9e3779b97f4a7c15));
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return (size_t)((z ^ z >> 31) % most);
}

static void load_seeds(void)
{
    struct dirent **names;
    int count = scandir(PROJECT_ROOT "/tests/fuzz/corpus", &names, NULL, alphasort);
    for (int i = 0; i < count; i++) {
        char path[1024];
        snprintf(path, sizeof path, "%s/tests/fuzz/corpus/%s", PROJECT_ROOT, names[i]->d_name);
        FILE *file = names[i]->d_name[0] == '.' ? NULL : fopen(path, "rb");
        free(names[i]);
        if (file == NULL || seed_count == SEEDS_MAX) continue;
        struct seed *seed = &seeds[seed_count++];
        seed->bytes = malloc(SEED_BYTES_MAX);
        seed->length = fread(seed->bytes, 1, SEED_BYTES_MAX, file);
        fclose(file);
    }
    free(names);
    ck_assert_uint_gt(seed_count, 2);
}

/* Puts `piece` in the place of bytes [from, until) of a case. */
static void splice(struct seed *at, size_t from, size_t until, const char *piece, size_t length)
{
    if (at->length - (until - from) + length > 4 * SEED_BYTES_MAX) return;
    memmove(at->bytes + from + length, at->bytes + until, at->length - until);
    memcpy(at->bytes + from, piece, length);
    at->length = at->length - (until - from) + length;
}

/* Exchanges one whole value (text, number, word) for an awkward one; the JSON stays well-formed. */
static void change_value(struct seed *at)
{
    size_t i = below(at->length);
    while (i < at->length && at->bytes[i] != ':' && at->bytes[i] != '[') i++;
    size_t from = ++i;
    if (from >= at->length || strchr("{[]", at->bytes[from]) != NULL) return;
    bool quoted = at->bytes[from] == '"';
    for (i = from + 1; i < at->length; i++) {
        if (quoted ? at->bytes[i] == '"' : strchr(",]}", at->bytes[i]) != NULL) break;
    }
    size_t until = i + (quoted && i < at->length ? 1 : 0);
    const char *piece = awkward[below(sizeof awkward / sizeof *awkward)];
    splice(at, from, until, piece, strlen(piece));
}

/* Exchanges a value for another value of the same case. */
static void swap_text(struct seed *at)
{
    size_t i = below(at->length), j = below(at->length);
    while (i < at->length && at->bytes[i] != '"') i++;
    while (j < at->length && at->bytes[j] != '"') j++;
    size_t i2 = i + 1, j2 = j + 1;
    while (i2 < at->length && at->bytes[i2] != '"') i2++;
    while (j2 < at->length && at->bytes[j2] != '"') j2++;
    if (i2 >= at->length || j2 >= at->length || j2 - j > 64) return;
    char piece[64];
    memcpy(piece, at->bytes + j, j2 - j);
    splice(at, i, i2, piece, j2 - j);
}

static void change(struct seed *at)
{
    if (at->length < 4) return;
    size_t from = below(at->length), length = below(at->length - from);
    switch (below(12)) {
    case 0:
        at->bytes[from] = (char)below(256);
        break;
    case 1:
        splice(at, from, from + length % 40, "", 0);
        break;
    case 2: { /* a piece of another seed */
        const struct seed *other = &seeds[below(seed_count)];
        size_t start = below(other->length);
        splice(at, from, from, other->bytes + start, below(other->length - start));
        break;
    }
    case 3:
        at->length = from;
        break;
    case 4:
    case 5:
        swap_text(at);
        break;
    default:
        change_value(at);
    }
}

START_TEST(every_seed_is_a_case_and_has_a_plan)
{
    load_seeds();
    for (size_t i = 0; i < seed_count; i++) {
        size_t before = fuzz_planned;
        LLVMFuzzerTestOneInput((const uint8_t *)seeds[i].bytes, seeds[i].length);
        ck_assert_msg(fuzz_planned == before + 1, "seed %zu is refused", i);
    }
}
END_TEST

START_TEST(no_damaged_case_brings_the_program_down)
{
    load_seeds();
    struct seed at = {.bytes = malloc(8 * SEED_BYTES_MAX)};
    state = (uint64_t)_i * 1000003 + 17;
    for (int round = 0; round < ROUNDS; round++) {
        const struct seed *seed = &seeds[below(seed_count)];
        memcpy(at.bytes, seed->bytes, seed->length);
        at.length = seed->length;
        for (size_t n = 1 + below(round % 3 == 0 ? 6 : 2); n > 0; n--) change(&at);
        /* in memory of exactly its length, so that a byte read too far is seen */
        uint8_t *exact = malloc(at.length + (at.length == 0));
        memcpy(exact, at.bytes, at.length);
        LLVMFuzzerTestOneInput(exact, at.length);
        free(exact);
    }
    /* a runner whose every case is refused at the door tests only the door */
    ck_assert_uint_gt(fuzz_planned, ROUNDS / 20);
    free(at.bytes);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("intake mutations");
    TCase *cases = tcase_create("mutations");
    tcase_set_timeout(cases, 120);
    tcase_add_test(cases, every_seed_is_a_case_and_has_a_plan);
    tcase_add_loop_test(cases, no_damaged_case_brings_the_program_down, 0, 3);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
