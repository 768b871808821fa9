/* SPDX-License-Identifier: MIT */
/*
 * Zone files: the table agrees with the C library's localtime_r at every moment looked at, fat and
 * slim files give the same table, and no file, however broken, is believed. zone.c is compiled in
 * here, so that broken files can be handed to it as bytes and its allocations can be made to fail.
 */
#ifndef _DEFAULT_SOURCE
#define _DEFAULT_SOURCE /* tm_gmtoff, tm_zone */
#endif
#include <check.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/instant.h"

static int allocations_left = -1; /* before one fails; below 0: none does */

static bool allocation_fails(void)
{
    if (allocations_left < 0) return false;
    return allocations_left-- == 0;
}

static void *test_malloc(size_t size)
{
    return allocation_fails() ? NULL : malloc(size);
}

static void *test_calloc(size_t count, size_t size)
{
    return allocation_fails() ? NULL : calloc(count, size);
}

static void *test_realloc(void *old, size_t size)
{
    return allocation_fails() ? NULL : realloc(old, size);
}

#define malloc test_malloc
#define calloc test_calloc
#define realloc test_realloc
#include "base/zone.c"
#undef malloc
#undef calloc
#undef realloc

static const char *const names[] = {
    "UTC",
    "America/Denver",
    "America/Boise",
    "America/New_York",
    "America/Phoenix",
    "America/St_Johns",
    "America/Santiago",
    "America/Havana",
    "America/Nuuk",
    "America/Argentina/San_Luis",
    "Europe/Dublin",
    "Europe/London",
    "Europe/Berlin",
    "Africa/Casablanca",
    "Africa/Cairo",
    "Africa/Monrovia",
    "Africa/Windhoek",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Asia/Gaza",
    "Asia/Tehran",
    "Australia/Lord_Howe",
    "Australia/Sydney",
    "Antarctica/Troll",
    "Pacific/Apia",
    "Pacific/Chatham",
    "Pacific/Kwajalein",
    "Etc/GMT-14",
};

enum { NAMES = sizeof names / sizeof names[0] };

static struct zone *zone_of(const char *name)
{
    struct zone *zone = NULL;
    ck_assert_msg(zone_load(&zone, name, NULL) == STATUS_OK, "%s", name);
    return zone;
}

static void ck_like_library(const struct zone *zone, int64_t at_s)
{
    const time_t at = (time_t)at_s;
    struct tm wall;
    if (localtime_r(&at, &wall) == NULL) ck_abort_msg("no local time at %lld", (long long)at_s);
    const struct zone_span *span = &zone->spans[zone_span_at(zone, at_s)];
    if (span->offset_s != wall.tm_gmtoff || strcmp(span->abbreviation, wall.tm_zone) != 0)
        ck_abort_msg("%s at %lld: %d %s, the library says %ld %s", zone->name, (long long)at_s,
                     span->offset_s, span->abbreviation, wall.tm_gmtoff, wall.tm_zone);
}

static void library_zone(const char *name)
{
    ck_assert_int_eq(setenv("TZ", name, 1), 0);
    tzset();
}

START_TEST(the_table_agrees_with_the_c_library_all_the_way_to_2200)
{
    struct zone *zone = zone_of(names[_i]);
    library_zone(names[_i]);
    for (int64_t at_s = INSTANT_MIN_S; at_s < INSTANT_MAX_S; at_s += 2 * 86400 + 7 * 3600 - 61)
        ck_like_library(zone, at_s);
    zone_free(zone);
}
END_TEST

START_TEST(the_table_agrees_with_the_c_library_to_the_second_of_each_change)
{
    struct zone *zone = zone_of(names[_i]);
    library_zone(names[_i]);
    ck_assert_int_eq(zone->spans[0].from_s, INT64_MIN);
    for (size_t i = 1; i < zone->count; i++) {
        const int64_t from_s = zone->spans[i].from_s;
        ck_assert_int_gt(from_s, zone->spans[i - 1].from_s);
        if (from_s <= INSTANT_MIN_S || from_s >= INSTANT_MAX_S) continue;
        ck_like_library(zone, from_s - 1);
        ck_like_library(zone, from_s);
    }
    zone_free(zone);
}
END_TEST

START_TEST(every_zone_of_the_system_agrees_with_the_c_library)
{
    FILE *list = fopen("/usr/share/zoneinfo/zone1970.tab", "r");
    ck_assert_ptr_nonnull(list);
    char line[512];
    int count = 0;
    while (fgets(line, sizeof line, list) != NULL) {
        char name[ZONE_NAME_MAX];
        if (line[0] == '#' || sscanf(line, "%*s\t%*s\t%63s", name) != 1) continue;
        struct zone *zone = zone_of(name);
        library_zone(name);
        for (int64_t at_s = INSTANT_MIN_S; at_s < INSTANT_MAX_S; at_s += 29 * 86400 + 12347)
            ck_like_library(zone, at_s);
        zone_free(zone);
        count++;
    }
    ck_assert_int_eq(fclose(list), 0);
    ck_assert_int_gt(count, 250);
}
END_TEST

START_TEST(a_name_that_is_no_zone_is_told_apart_from_a_name_that_cannot_be_one)
{
    static const char *const unknown[] = {"Mars/Olympus", "America",    "america/denver",
                                          "localtime",    "posixrules", "right/UTC",
                                          "posix/UTC",    "UTC/x"};
    static const char *const bad[] = {
        "",
        "/etc/passwd",
        "../../etc/passwd",
        "America/../UTC",
        "America//Denver",
        "America/",
        "America/Den ver",
        "zone.tab",
        "America\\Denver",
        "caf\xc3\xa9",
        "America/Denver\n",
        "/",
        "A123456789012345678901234567890123456789012345678901234567890123"};
    struct zone *zone = NULL;
    struct fault fault;
    for (size_t i = 0; i < sizeof unknown / sizeof unknown[0]; i++) {
        ck_assert_msg(zone_load(&zone, unknown[i], &fault) == STATUS_NOT_FOUND, "%s", unknown[i]);
        ck_assert_str_eq(fault.found, unknown[i]);
    }
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        ck_assert_msg(zone_load(&zone, bad[i], &fault) == STATUS_INVALID, "%s", bad[i]);
    ck_assert_ptr_null(zone);
    ck_assert_int_eq(zone_load(&zone, "leapseconds", &fault), STATUS_CORRUPT);
}
END_TEST

/* ---- files of our own ------------------------------------------------------------------------ */

struct file {
    unsigned char bytes[8192];
    size_t length;
};

static void put(struct file *file, const void *bytes, size_t length)
{
    ck_assert_uint_le(file->length + length, sizeof file->bytes);
    memcpy(file->bytes + file->length, bytes, length);
    file->length += length;
}

static void put_be(struct file *file, int64_t value, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        const unsigned char byte = (unsigned char)((uint64_t)value >> (8 * (size - 1 - i)));
        put(file, &byte, 1);
    }
}

static void put_header(struct file *file, char version, size_t transitions, size_t types,
                       size_t characters)
{
    char start[20] = "TZif";
    start[4] = version;
    put(file, start, sizeof start);
    for (int i = 0; i < 3; i++) put_be(file, 0, 4);
    put_be(file, (int64_t)transitions, 4);
    put_be(file, (int64_t)types, 4);
    put_be(file, (int64_t)characters, 4);
}

/* A file of version 2 with two types, AAA at +1 h and BBB at +2 h, that change at `times`. */
static void file_make(struct file *file, const int64_t *times, size_t count, const char *rule)
{
    file->length = 0;
    put_header(file, '2', 0, 1, 1);
    put(file, "\0\0\0\0\0\0", 7);
    put_header(file, '2', count, 2, 8);
    for (size_t i = 0; i < count; i++) put_be(file, times[i], 8);
    for (size_t i = 0; i < count; i++) put(file, i % 2 == 0 ? "\1" : "\0", 1);
    put_be(file, 3600, 4);
    put(file, "\0\0", 2);
    put_be(file, 7200, 4);
    put(file, "\1\4AAA\0BBB", 10);
    put(file, "\n", 1);
    put(file, rule, strlen(rule));
    put(file, "\n", 1);
}

/* Read bytes from a block of exactly their length, so that a sanitizer sees a read past it. */
static enum status decode(struct spans *spans, const struct file *file)
{
    unsigned char *exact = malloc(file->length + (file->length == 0));
    ck_assert_ptr_nonnull(exact);
    memcpy(exact, file->bytes, file->length);
    *spans = (struct spans){.items = NULL};
    const enum status status = file_decode(spans, (struct bytes){exact, file->length}, "x", NULL);
    free(exact);
    return status;
}

static void system_file(struct file *file, const char *path)
{
    FILE *from = fopen(path, "rb");
    ck_assert_ptr_nonnull(from);
    file->length = fread(file->bytes, 1, sizeof file->bytes, from);
    ck_assert_int_eq(fclose(from), 0);
    ck_assert_uint_lt(file->length, sizeof file->bytes);
}

/* The same zone with only the transitions up to `until_s`, as slim files have it. */
static void slim_make(struct file *slim, const struct file *fat, int64_t until_s)
{
    const struct bytes bytes = {fat->bytes, fat->length};
    struct block block;
    ck_assert(block_read(&block, bytes, 0, 4));
    const size_t second = HEADER_BYTES + block.body_bytes;
    ck_assert(block_read(&block, bytes, second, 8));
    size_t kept = 0;
    while (kept < block.transitions && be_signed(block.body + kept * 8, 8) <= until_s) kept++;
    ck_assert_uint_gt(kept, 0);
    ck_assert_uint_lt(kept, block.transitions);
    const unsigned char *indices = block.body + block.transitions * 8;
    const unsigned char *footer = block.body + block.body_bytes;
    slim->length = 0;
    put_header(slim, '3', 0, 1, 1);
    put(slim, "\0\0\0\0\0\0", 7);
    put_header(slim, '3', kept, block.types, block.characters);
    put(slim, block.body, kept * 8);
    put(slim, indices, kept);
    put(slim, indices + block.transitions, block.types * 6 + block.characters);
    put(slim, footer, (size_t)(fat->bytes + fat->length - footer));
}

START_TEST(fat_and_slim_files_give_the_same_table)
{
    static const struct {
        const char *path;
        const char *law; /* the last change of the law is before this */
    } zones[] = {{"/usr/share/zoneinfo/America/Denver", "2008-01-01T00:00:00Z"},
                 {"/usr/share/zoneinfo/Europe/Dublin", "1999-01-01T00:00:00Z"},
                 {"/usr/share/zoneinfo/Australia/Lord_Howe", "2009-01-01T00:00:00Z"}};
    for (size_t i = 0; i < sizeof zones / sizeof zones[0]; i++) {
        struct file fat;
        struct file slim;
        struct spans of_fat;
        struct spans of_slim;
        int64_t until_s = 0;
        ck_assert_int_eq(instant_parse(&until_s, zones[i].law, 20, NULL), STATUS_OK);
        system_file(&fat, zones[i].path);
        if (fat.length < 1500) continue; /* the system's own files are slim already */
        slim_make(&slim, &fat, until_s);
        ck_assert_int_eq(decode(&of_fat, &fat), STATUS_OK);
        ck_assert_int_eq(decode(&of_slim, &slim), STATUS_OK);
        ck_assert_uint_eq(of_fat.count, of_slim.count);
        for (size_t j = 0; j < of_fat.count; j++) {
            ck_assert_int_eq(of_fat.items[j].from_s, of_slim.items[j].from_s);
            ck_assert_int_eq(of_fat.items[j].offset_s, of_slim.items[j].offset_s);
            ck_assert_str_eq(of_fat.items[j].abbreviation, of_slim.items[j].abbreviation);
        }
        free(of_fat.items);
        free(of_slim.items);
    }
}
END_TEST

/* A directory of our own that holds one zone file, `Test/Zone`. */
static void directory_make(char *directory, const struct file *file)
{
    char path[256];
    ck_assert_ptr_nonnull(mkdtemp(directory));
    (void)snprintf(path, sizeof path, "%s/Test", directory);
    ck_assert_int_eq(mkdir(path, 0700), 0);
    (void)snprintf(path, sizeof path, "%s/Test/Zone", directory);
    FILE *to = fopen(path, "wb");
    ck_assert_ptr_nonnull(to);
    ck_assert_uint_eq(fwrite(file->bytes, 1, file->length, to), file->length);
    ck_assert_int_eq(fclose(to), 0);
}

static void directory_remove(const char *directory)
{
    char path[256];
    (void)snprintf(path, sizeof path, "%s/Test/Zone", directory);
    ck_assert_int_eq(unlink(path), 0);
    (void)snprintf(path, sizeof path, "%s/Test", directory);
    ck_assert_int_eq(rmdir(path), 0);
    ck_assert_int_eq(rmdir(directory), 0);
}

static const char *const rules[] = {
    "AAA-1",
    "AAA-1BBB,M3.5.0,M10.5.0/3",
    "AAA-1BBB-2,M10.1.0,M4.1.6/3",
    "<+0130>-1:30<+02>-2,M10.1.0/2:15:30,M4.2.0/-1",
    "AAA-1BBB,J60,J300/26",
    "AAA-1BBB,59/0,300",
    "IST-1GMT0,M10.5.0,M3.5.0/1",
    "AAA+11BBB+10,M3.4.4/50,M10.4.4/50",
    "AAA-1BBB,M2.5.0/167,M11.1.1/-167",
};

enum { RULES = sizeof rules / sizeof rules[0] };

START_TEST(every_form_of_a_rule_line_agrees_with_the_c_library)
{
    const int64_t times[] = {0, 86400};
    struct file file;
    char directory[] = "/tmp/zone-XXXXXX";
    file_make(&file, times, 2, rules[_i]);
    directory_make(directory, &file);
    ck_assert_int_eq(setenv("TZDIR", directory, 1), 0);
    struct zone *zone = zone_of("Test/Zone");
    ck_assert_int_eq(unsetenv("TZDIR"), 0);
    directory_remove(directory);
    ck_assert_int_eq(zone->spans[zone_span_at(zone, 3600)].offset_s, 7200);
    library_zone(rules[_i]);
    for (int64_t at_s = 400 * 86400; at_s < INSTANT_MAX_S; at_s += 2 * 86400 + 7 * 3600 + 1)
        ck_like_library(zone, at_s);
    for (size_t i = 1; i < zone->count && zone->spans[i].from_s < INSTANT_MAX_S; i++) {
        if (zone->spans[i].from_s < 400 * 86400) continue;
        ck_like_library(zone, zone->spans[i].from_s);
        ck_like_library(zone, zone->spans[i].from_s - 1);
    }
    zone_free(zone);
}
END_TEST

/* RFC 9636 writes it so; the library takes the last hour of each year for standard time. */
START_TEST(daylight_time_all_year_has_no_hour_of_standard_time)
{
    const int64_t times[] = {0, 86400};
    struct file file;
    struct spans spans;
    file_make(&file, times, 2, "AAA-1BBB-2,0/0,J365/25");
    ck_assert_int_eq(decode(&spans, &file), STATUS_OK);
    ck_assert_uint_eq(spans.count, 4);
    ck_assert_int_eq(spans.items[3].from_s, 365 * 86400 - 3600);
    ck_assert_int_eq(spans.items[3].offset_s, 7200);
    free(spans.items);
}
END_TEST

START_TEST(a_rule_line_that_is_not_one_is_refused)
{
    static const char *const bad[] = {"A",
                                      "AA-1",
                                      "AAA",
                                      "AAA-",
                                      "AAA-25",
                                      "AAA-1:60",
                                      "AAA-1:",
                                      "AAA-1BBB",
                                      "AAA-1BBB,",
                                      "AAA-1BBB,M3.5.0",
                                      "AAA-1BBB,M3.5.0,",
                                      "AAA-1BBB,M13.5.0,M10.5.0",
                                      "AAA-1BBB,M0.5.0,J1",
                                      "AAA-1BBB,M3.0.0,M10.5.0",
                                      "AAA-1BBB,M3.6.0,M10.5.0",
                                      "AAA-1BBB,M3.5.7,M10.5.0",
                                      "AAA-1BBB,J0,J300",
                                      "AAA-1BBB,J366,J300",
                                      "AAA-1BBB,366,3",
                                      "AAA-1BBB,M3.5.0,M10.5.0/168",
                                      "AAA-1BBB,M3.5.0,M10.5.0 ",
                                      "<AAA-1",
                                      "<A+>-1",
                                      "AAA-1BBB,M99999999999.1.1,J1",
                                      "ABCDEFGHIJKL-1",
                                      "AAA-1BBB,J1/-167,J365/167",
                                      "AAA-1CCC"};
    const int64_t times[] = {0, 86400};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct file file;
        struct spans spans;
        file_make(&file, times, 2, bad[i]);
        ck_assert_msg(decode(&spans, &file) == STATUS_CORRUPT, "%s", bad[i]);
        free(spans.items);
    }
}
END_TEST

START_TEST(a_file_of_version_1_is_read_by_its_only_block)
{
    struct file file = {.length = 0};
    struct spans spans;
    put_header(&file, '\0', 1, 2, 8);
    put_be(&file, 1000000, 4);
    put(&file, "\1", 1);
    put_be(&file, -3600, 4);
    put(&file, "\0\0", 2);
    put_be(&file, 7200, 4);
    put(&file, "\1\4AAA\0BBB", 10);
    ck_assert_int_eq(decode(&spans, &file), STATUS_OK);
    ck_assert_uint_eq(spans.count, 2);
    ck_assert_int_eq(spans.items[0].offset_s, -3600);
    ck_assert_int_eq(spans.items[1].from_s, 1000000);
    ck_assert_int_eq(spans.items[1].offset_s, 7200);
    free(spans.items);
}
END_TEST

START_TEST(transitions_out_of_order_and_a_type_that_is_not_there_are_refused)
{
    const int64_t backwards[] = {86400, 0};
    const int64_t forwards[] = {0, 86400};
    struct file file;
    struct spans spans;
    file_make(&file, backwards, 2, "AAA-1");
    ck_assert_int_eq(decode(&spans, &file), STATUS_CORRUPT);
    free(spans.items);
    file_make(&file, forwards, 2, "AAA-1");
    file.bytes[HEADER_BYTES + 7 + HEADER_BYTES + 16] = 2;
    ck_assert_int_eq(decode(&spans, &file), STATUS_CORRUPT);
    free(spans.items);
}
END_TEST

START_TEST(a_file_cut_anywhere_is_refused)
{
    struct file file;
    system_file(&file, "/usr/share/zoneinfo/America/Denver");
    const size_t whole = file.length;
    for (file.length = 0; file.length < whole; file.length++) {
        struct spans spans;
        ck_assert_msg(decode(&spans, &file) == STATUS_CORRUPT, "cut at %zu", file.length);
        free(spans.items);
    }
}
END_TEST

START_TEST(a_file_with_any_byte_changed_is_refused_or_gives_an_ordered_table)
{
    static const unsigned char changes[] = {0x01, 0x80, 0x7f, 0xff};
    struct file file;
    int refused = 0;
    system_file(&file, "/usr/share/zoneinfo/America/St_Johns");
    for (size_t at = 0; at < file.length; at++) {
        for (size_t c = 0; c < sizeof changes; c++) {
            struct spans spans;
            file.bytes[at] ^= changes[c];
            const enum status status = decode(&spans, &file);
            file.bytes[at] ^= changes[c];
            if (status != STATUS_OK && status != STATUS_CORRUPT)
                ck_abort_msg("byte %zu ^ %02x: status %d", at, changes[c], (int)status);
            refused += status == STATUS_CORRUPT;
            for (size_t i = 0; status == STATUS_OK && i < spans.count; i++) {
                const struct zone_span *span = &spans.items[i];
                if ((i > 0 && span->from_s <= span[-1].from_s) ||
                    abs(span->offset_s) >= ZONE_OFFSET_MAX_S)
                    ck_abort_msg("byte %zu ^ %02x: span %zu", at, changes[c], i);
            }
            free(spans.items);
        }
    }
    ck_assert_int_gt(refused, 1000);
}
END_TEST

START_TEST(a_file_over_a_mebibyte_is_not_read)
{
    struct file file;
    char directory[] = "/tmp/zone-XXXXXX";
    char path[256];
    struct zone *zone = NULL;
    struct fault fault;
    system_file(&file, "/usr/share/zoneinfo/America/Denver");
    directory_make(directory, &file);
    (void)snprintf(path, sizeof path, "%s/Test/Zone", directory);
    ck_assert_int_eq(setenv("TZDIR", directory, 1), 0);
    ck_assert_int_eq(truncate(path, 1048577), 0);
    ck_assert_int_eq(zone_load(&zone, "Test/Zone", &fault), STATUS_CORRUPT);
    ck_assert_str_eq(fault.found, "Test/Zone: a file of over 1 MiB");
    ck_assert_int_eq(truncate(path, 1048576), 0); /* a good file with zeros behind its rule line */
    ck_assert_int_eq(zone_load(&zone, "Test/Zone", &fault), STATUS_OK);
    zone_free(zone);
    directory_remove(directory);
    ck_assert_int_eq(unsetenv("TZDIR"), 0);
}
END_TEST

START_TEST(every_allocation_that_fails_is_told_and_nothing_is_left_behind)
{
    int failing = 0;
    for (;; failing++) {
        struct zone *zone = NULL;
        struct fault fault = {.found = ""};
        allocations_left = failing;
        const enum status status = zone_load(&zone, "America/Denver", &fault);
        const bool none_failed = allocations_left >= 0;
        allocations_left = -1;
        if (none_failed) {
            ck_assert_int_eq(status, STATUS_OK);
            zone_free(zone);
            break;
        }
        ck_assert_int_eq(status, STATUS_IO);
        ck_assert_ptr_null(zone);
        ck_assert_str_ne(fault.found, "");
    }
    ck_assert_int_ge(failing, 3);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("zone");
    TCase *tests = tcase_create("zone");
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, the_table_agrees_with_the_c_library_all_the_way_to_2200, 0, NAMES);
    tcase_add_loop_test(tests, the_table_agrees_with_the_c_library_to_the_second_of_each_change, 0,
                        NAMES);
    tcase_add_test(tests, every_zone_of_the_system_agrees_with_the_c_library);
    tcase_add_test(tests, a_name_that_is_no_zone_is_told_apart_from_a_name_that_cannot_be_one);
    tcase_add_test(tests, fat_and_slim_files_give_the_same_table);
    tcase_add_loop_test(tests, every_form_of_a_rule_line_agrees_with_the_c_library, 0, RULES);
    tcase_add_test(tests, daylight_time_all_year_has_no_hour_of_standard_time);
    tcase_add_test(tests, a_rule_line_that_is_not_one_is_refused);
    tcase_add_test(tests, a_file_of_version_1_is_read_by_its_only_block);
    tcase_add_test(tests, transitions_out_of_order_and_a_type_that_is_not_there_are_refused);
    tcase_add_test(tests, a_file_cut_anywhere_is_refused);
    tcase_add_test(tests, a_file_with_any_byte_changed_is_refused_or_gives_an_ordered_table);
    tcase_add_test(tests, a_file_over_a_mebibyte_is_not_read);
    tcase_add_test(tests, every_allocation_that_fails_is_told_and_nothing_is_left_behind);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
