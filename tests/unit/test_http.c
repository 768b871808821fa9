/* SPDX-License-Identifier: MIT */
/* links: http intake */
/*
 * The pure parts of the server: heads that are refused, hosts and origins, percent-encoding,
 * routes, and that schema/openapi.json describes each route and each problem, and no other.
 */
#include <check.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/app_crew.h"
#include "http/compress.h"
#include "http/head.h"
#include "http/may.h"
#include "http/origin.h"
#include "http/request.h"
#include "http/route.h"
#include "http/throttle.h"
#include "http/today.h"
#include "http/urlencoded.h"
#include "model/ids.h"

/* A head of lines `name: value`, its size what such lines have. */
static struct head head_of(const char *method, const char *target, const char *const *lines)
{
    struct head head = {.method = method, .target = target, .version = "HTTP/1.1"};
    head.bytes = strlen(method) + strlen(target) + strlen(head.version) + 4 + 2;
    for (; *lines != NULL; lines += 2) {
        head.fields[head.field_count++] =
            (struct head_field){lines[0], strlen(lines[0]), lines[1], strlen(lines[1])};
        head.bytes += strlen(lines[0]) + strlen(lines[1]) + 4;
    }
    head.field_total = head.field_count;
    return head;
}
#define HEAD(method, target, ...) head_of(method, target, (const char *const[]){__VA_ARGS__, NULL})

static unsigned judged(const struct head *head)
{
    struct head_says says;
    unsigned http_status = 0;
    return head_check(&says, head, &http_status) == NULL ? 200 : http_status;
}

START_TEST(a_head_whose_framing_is_plain_is_taken)
{
    struct head head = HEAD("POST", "/x?y=1", "Host", "localhost", "Content-Length", "12");
    struct head_says says;
    unsigned http_status = 0;
    ck_assert_ptr_null(head_check(&says, &head, &http_status));
    ck_assert_str_eq(says.host, "localhost");
    ck_assert(says.has_length && !says.chunked);
    ck_assert_uint_eq(says.body_length, 12);
    head.bytes -= head.field_count; /* no blank behind any colon */
    ck_assert_uint_eq(judged(&head), 200);
}
END_TEST

START_TEST(bytes_that_were_not_shown_refuse_the_head)
{
    struct head head = HEAD("GET", "/", "Host", "a", "A", "b");
    head.bytes += 1; /* a NUL and what is behind it, a folded line */
    ck_assert_uint_eq(judged(&head), 400);
    head.bytes -= 1 + head.field_count + 1; /* a bare LF */
    ck_assert_uint_eq(judged(&head), 400);
}
END_TEST

START_TEST(two_ways_to_read_a_body_are_refused)
{
    const struct head both =
        HEAD("POST", "/", "Host", "a", "Content-Length", "3", "Transfer-Encoding", "chunked");
    const struct head twice =
        HEAD("POST", "/", "Host", "a", "Content-Length", "3", "content-length", "3");
    const struct head other = HEAD("POST", "/", "Host", "a", "Transfer-Encoding", "gzip, chunked");
    const struct head plus = HEAD("POST", "/", "Host", "a", "Content-Length", "+3");
    const struct head list = HEAD("POST", "/", "Host", "a", "Content-Length", "3, 3");
    const struct head huge =
        HEAD("POST", "/", "Host", "a", "Content-Length", "9999999999999999999");
    ck_assert_uint_eq(judged(&both), 400);
    ck_assert_uint_eq(judged(&twice), 400);
    ck_assert_uint_eq(judged(&other), 501);
    ck_assert_uint_eq(judged(&plus), 400);
    ck_assert_uint_eq(judged(&list), 400);
    ck_assert_uint_eq(judged(&huge), 400);
    struct head old = HEAD("POST", "/", "Host", "a", "Transfer-Encoding", "chunked");
    ck_assert_uint_eq(judged(&old), 200);
    old.version = "HTTP/1.0";
    ck_assert_uint_eq(judged(&old), 400);
}
END_TEST

START_TEST(exactly_one_host_is_wanted)
{
    const struct head none = HEAD("GET", "/", "A", "b");
    const struct head two = HEAD("GET", "/", "Host", "a", "host", "a");
    ck_assert_uint_eq(judged(&none), 400);
    ck_assert_uint_eq(judged(&two), 400);
    struct head old = HEAD("GET", "/", "A", "b");
    old.version = "HTTP/1.0";
    ck_assert_uint_eq(judged(&old), 200);
}
END_TEST

START_TEST(names_values_and_targets_hold_only_what_they_may)
{
    const struct head blank = HEAD("GET", "/", "Host", "a", "D ", "e");
    const struct head control = HEAD("GET", "/", "Host", "a", "D", "e\x01");
    const struct head absolute = HEAD("GET", "http://a/", "Host", "a");
    const struct head star = HEAD("OPTIONS", "*", "Host", "a");
    const struct head high = HEAD("GET", "/\xff", "Host", "a");
    ck_assert_uint_eq(judged(&blank), 400);
    ck_assert_uint_eq(judged(&control), 400);
    ck_assert_uint_eq(judged(&absolute), 400);
    ck_assert_uint_eq(judged(&star), 400);
    ck_assert_uint_eq(judged(&high), 400);
}
END_TEST

START_TEST(long_heads_are_said_to_be_long)
{
    static char path[HTTP_TARGET_BYTES_MAX + 3];
    memset(path, '/', sizeof path - 1);
    const struct head target = HEAD("GET", path, "Host", "a");
    ck_assert_uint_eq(judged(&target), 414);
    struct head bytes = HEAD("GET", "/", "Host", "a");
    bytes.bytes = HTTP_HEAD_BYTES_MAX + 1;
    ck_assert_uint_eq(judged(&bytes), 431);
    struct head lines = HEAD("GET", "/", "Host", "a");
    lines.field_total = HTTP_HEADERS_MAX + 1;
    ck_assert_uint_eq(judged(&lines), 431);
}
END_TEST

START_TEST(a_host_is_loopback_or_was_given)
{
    const char *const names[] = {"yard.example"};
    const struct {
        const char *host;
        enum origin_host kind;
    } rows[] = {
        {"localhost", ORIGIN_HOST_LOOPBACK},
        {"LOCALHOST:80", ORIGIN_HOST_LOOPBACK},
        {"127.0.0.1:9000", ORIGIN_HOST_LOOPBACK},
        {"[::1]:9000", ORIGIN_HOST_LOOPBACK},
        {"Yard.example", ORIGIN_HOST_NAMED},
        {"yard.example:8443", ORIGIN_HOST_NAMED},
        {"yard.example.evil", ORIGIN_HOST_FOREIGN},
        {"localhost.evil", ORIGIN_HOST_FOREIGN},
        {"127.0.0.1.evil", ORIGIN_HOST_FOREIGN},
        {"localhost:80x", ORIGIN_HOST_FOREIGN},
        {"localhost:", ORIGIN_HOST_FOREIGN},
        {"", ORIGIN_HOST_FOREIGN},
        {"[::1", ORIGIN_HOST_FOREIGN},
        {"127.0.0.2", ORIGIN_HOST_FOREIGN},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_msg(origin_host_of(rows[i].host, names, 1) == rows[i].kind, "%s", rows[i].host);
    ck_assert_int_eq(origin_host_of(NULL, names, 1), ORIGIN_HOST_FOREIGN);
}
END_TEST

START_TEST(only_our_own_pages_and_no_browser_may_change_something)
{
    const enum origin_host local = ORIGIN_HOST_LOOPBACK;
    const struct {
        const char *site, *origin, *host;
        enum origin_host kind;
        enum origin_from from;
    } rows[] = {
        {NULL, NULL, "localhost:1", local, ORIGIN_FROM_UNSAID},
        {"same-origin", "null", "localhost:1", local, ORIGIN_FROM_OURS},
        {"none", NULL, "localhost:1", local, ORIGIN_FROM_OURS},
        {"cross-site", "http://localhost:1", "localhost:1", local, ORIGIN_FROM_ANOTHER},
        {"same-site", NULL, "localhost:1", local, ORIGIN_FROM_ANOTHER},
        {"", NULL, "localhost:1", local, ORIGIN_FROM_ANOTHER},
        {NULL, "http://localhost:1", "localhost:1", local, ORIGIN_FROM_OURS},
        {NULL, "http://localhost:2", "localhost:1", local, ORIGIN_FROM_ANOTHER},
        {NULL, "https://localhost:1", "localhost:1", local, ORIGIN_FROM_ANOTHER},
        {NULL, "", "localhost:1", local, ORIGIN_FROM_ANOTHER},
        {NULL, "http://localhost:1", NULL, local, ORIGIN_FROM_ANOTHER},
        {NULL, "null", "localhost:1", local, ORIGIN_FROM_HIDDEN},
        {NULL, "https://yard.example", "yard.example", ORIGIN_HOST_NAMED, ORIGIN_FROM_OURS},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_msg(origin_from(rows[i].site, rows[i].origin, rows[i].host, rows[i].kind) ==
                          rows[i].from,
                      "row %zu", i);
}
END_TEST

static enum status read_fields(const char *text, struct form_field **fields, size_t *count,
                               struct arena *arena)
{
    return urlencoded_read(fields, count, text, strlen(text), 3, arena, NULL);
}

START_TEST(fields_are_decoded_strictly)
{
    struct arena *arena = arena_new();
    struct form_field *fields;
    size_t count;
    ck_assert_int_eq(read_fields("a=1+2&b=%C3%A9%26&&c", &fields, &count, arena), STATUS_OK);
    ck_assert_uint_eq(count, 3);
    ck_assert_str_eq(form_field_value(fields, count, "a"), "1 2");
    ck_assert_str_eq(form_field_value(fields, count, "b"), "\xc3\xa9&");
    ck_assert_str_eq(form_field_value(fields, count, "c"), "");
    ck_assert_int_eq(read_fields("", &fields, &count, arena), STATUS_OK);
    ck_assert_uint_eq(count, 0);
    const char *const broken[] = {"a=%", "a=%4", "a=%zz", "a=%00", "a=%ff", "%C3=1", "a=%ED%A0%80"};
    for (size_t i = 0; i < sizeof broken / sizeof *broken; i++)
        ck_assert_int_eq(read_fields(broken[i], &fields, &count, arena), STATUS_INVALID);
    ck_assert_int_eq(read_fields("a&b&c&d", &fields, &count, arena), STATUS_LIMIT);
    ck_assert_ptr_null(urlencoded_segment("%0a", 3, arena));
    ck_assert_str_eq(urlencoded_segment("a+b%2F", 6, arena), "a+b/");
    arena_free(arena);
}
END_TEST

static struct route_match route_of(const char *method, const char *path, struct arena *arena)
{
    struct route_match match;
    route_find(&match, method, path, strlen(path), arena);
    return match;
}

START_TEST(a_path_leads_to_one_route_or_says_what_is_allowed)
{
    struct arena *arena = arena_new();
    struct route_match match = route_of("GET", "/api/v1/jobs/a%2Fb/plan", arena);
    ck_assert_ptr_nonnull(match.route);
    ck_assert_str_eq(match.route->pattern, "/api/v1/jobs/{id}/plan");
    ck_assert_str_eq(match.captures[0], "a/b");
    match = route_of("HEAD", "/", arena);
    ck_assert_str_eq(match.route->pattern, "/");
    match = route_of("GET", "/static/css/base.css", arena);
    ck_assert_str_eq(match.captures[0], "css/base.css");
    match = route_of("DELETE", "/api/v1/jobs", arena);
    ck_assert(match.route == NULL && match.known);
    ck_assert_str_eq(match.allow, "GET, HEAD, POST");
    const char *const nowhere[] = {
        "/api/v1/jobs/", "/api/v1/jobs//plan",   "//",          "/x", "/jobz", "/static/",
        "/h/",           "/a/b/c/d/e/f/g/h/i/j", "/api/v2/jobs"};
    for (size_t i = 0; i < sizeof nowhere / sizeof *nowhere; i++) {
        match = route_of("GET", nowhere[i], arena);
        ck_assert_msg(match.route == NULL && !match.known, "%s", nowhere[i]);
    }
    ck_assert(route_of("GET", "/jobs/%00", arena).broken);
    ck_assert(route_of("GET", "/jobs/%c3", arena).broken);
    ck_assert_int_eq(route_of("GET", "/api/x", arena).face, HTTP_FACE_JSON);
    ck_assert_int_eq(route_of("GET", "/x", arena).face, HTTP_FACE_PAGE);
    arena_free(arena);
}
END_TEST

START_TEST(gzip_is_sent_to_who_takes_it)
{
    ck_assert(compress_accepted("gzip"));
    ck_assert(compress_accepted("br, gzip;q=0.5"));
    ck_assert(compress_accepted("*"));
    ck_assert(!compress_accepted(NULL));
    ck_assert(!compress_accepted("br, identity"));
    ck_assert(!compress_accepted("gzip;q=0"));
    ck_assert(!compress_accepted("*;q=0"));
    ck_assert(!compress_accepted("*, gzip; q=0.000"));
    ck_assert(!compress_accepted("xgzip"));
}
END_TEST

static json_t *description(void)
{
    json_error_t error;
    json_t *root =
        json_load_file(PROJECT_ROOT "/schema/openapi.json", JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(root != NULL, "%s at %d", error.text, error.line);
    return root;
}

/* The path as the description has it: `{path*}` is `{path}` there. */
static void described_path(char out[128], const char *pattern)
{
    size_t n = 0;
    for (const char *at = pattern; *at != '\0' && n < 127; at++) {
        if (*at != '*') out[n++] = *at;
    }
    out[n] = '\0';
}

static void lower(char out[16], const char *method)
{
    size_t n = 0;
    for (; method[n] != '\0' && n < 15; n++) out[n] = (char)(method[n] | 0x20);
    out[n] = '\0';
}

START_TEST(every_route_is_described_and_every_description_is_a_route)
{
    json_t *root = description();
    json_t *paths = json_object_get(root, "paths");
    size_t route_count;
    const struct http_route *routes = http_routes(&route_count);
    static const char *const who[HTTP_AUTH_COUNT] = {[HTTP_AUTH_OPEN] = "open",
                                                     [HTTP_AUTH_OWNER] = "owner",
                                                     [HTTP_AUTH_OFFICE] = "office",
                                                     [HTTP_AUTH_STATION] = "station",
                                                     [HTTP_AUTH_TOKEN] = "token"};
    for (size_t i = 0; i < route_count; i++) {
        char path[128], method[16];
        described_path(path, routes[i].pattern);
        lower(method, routes[i].method);
        json_t *operation = json_object_get(json_object_get(paths, path), method);
        ck_assert_msg(operation != NULL, "not described: %s %s", method, path);
        const char *says = json_string_value(json_object_get(operation, "x-who"));
        ck_assert_msg(says != NULL && strcmp(says, who[routes[i].auth]) == 0, "x-who of %s", path);
        const bool asks = routes[i].auth != HTTP_AUTH_OPEN && routes[i].auth != HTTP_AUTH_TOKEN;
        ck_assert_msg((json_array_size(json_object_get(operation, "security")) > 0) == asks,
                      "security of %s %s", method, path);
        const bool body = json_object_get(operation, "requestBody") != NULL;
        ck_assert_msg(body == (routes[i].body != HTTP_BODY_NONE), "body of %s %s", method, path);
    }
    size_t described = 0;
    const char *path, *method;
    json_t *item, *operation;
    json_object_foreach(paths, path, item) json_object_foreach(item, method, operation) described++;
    ck_assert_uint_eq(described, route_count);
    json_decref(root);
}
END_TEST

START_TEST(each_role_may_what_its_row_says)
{
    const struct {
        enum app_role role;
        unsigned may; /* bits of enum http_auth */
    } rows[] = {
        {APP_ROLE_OWNER, 1U << HTTP_AUTH_OPEN | 1U << HTTP_AUTH_STATION | 1U << HTTP_AUTH_OFFICE |
                             1U << HTTP_AUTH_OWNER},
        {APP_ROLE_OFFICE, 1U << HTTP_AUTH_OPEN | 1U << HTTP_AUTH_STATION | 1U << HTTP_AUTH_OFFICE},
        {APP_ROLE_STATION, 1U << HTTP_AUTH_OPEN | 1U << HTTP_AUTH_STATION}};
    ck_assert_uint_eq(sizeof rows / sizeof *rows, APP_ROLE_COUNT);
    for (size_t i = 0; i < APP_ROLE_COUNT; i++) {
        for (int auth = 0; auth < HTTP_AUTH_COUNT; auth++)
            ck_assert_int_eq(may_use(rows[i].role, (enum http_auth)auth), rows[i].may >> auth & 1U);
    }
    ck_assert(may_office_record("held-date") && !app_crew_may_kind("held-date"));
    ck_assert(!may_office_record("agreed") && !app_crew_may_kind("agreed"));
    ck_assert(may_office_record("booked") && app_crew_may_kind("reading"));
    ck_assert(may_owner_kinds() & UINT64_C(1) << RECORD_AGREED);
    ck_assert(!(may_owner_kinds() & UINT64_C(1) << RECORD_HELD_DATE));
}
END_TEST

START_TEST(a_script_reaches_one_route_and_links_open_no_door)
{
    size_t count;
    const struct http_route *routes = http_routes(&count);
    size_t stations = 0;
    for (size_t i = 0; i < count; i++) {
        const char *pattern = routes[i].pattern;
        stations += routes[i].auth == HTTP_AUTH_STATION;
        const bool link = strncmp(pattern, "/c/", 3) == 0 || strncmp(pattern, "/h/", 3) == 0 ||
                          strncmp(pattern, "/feed/", 6) == 0;
        ck_assert_msg(link == (routes[i].auth == HTTP_AUTH_TOKEN), "%s", pattern);
        if (routes[i].auth == HTTP_AUTH_OPEN && strcmp(routes[i].method, "GET") != 0)
            ck_assert_str_eq(pattern, "/sign-in");
    }
    ck_assert_uint_eq(stations, 1);
}
END_TEST

START_TEST(a_crew_has_its_own_jobs_and_those_of_the_coming_week)
{
    const int64_t day_s = 86400;
    const int32_t today = 20000;
    struct zone *zone = NULL;
    ck_assert_int_eq(zone_load(&zone, "Etc/UTC", NULL), STATUS_OK);
    const struct job own = {.id = "own", .crew_id = "north"}, other = {.id = "other"};
    const struct casefile casefile = {.now_s = today * day_s + 100, .company = {.zone = zone}};
    const struct crew north = {.id = "north"};
    const struct {
        int32_t day;
        bool has;
    } rows[] = {{today, true}, {today + 7, true}, {today + 8, false}, {today + 40, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct crew_work work = {.job = &other};
        struct crew_day day = {.day = rows[i].day, .work = &work, .work_count = 1};
        struct crew_plan crew = {.crew = &north, .days = &day, .day_count = 1};
        const struct plan plan = {.casefile = &casefile, .crews = &crew, .crew_count = 1};
        ck_assert(today_crew_has(&plan, "north", &own));
        ck_assert(!today_crew_has(&plan, "south", &own));
        ck_assert_int_eq(today_crew_has(&plan, "north", &other), rows[i].has);
        ck_assert(!today_crew_has(&plan, "south", &other));
    }
    zone_free(zone);
}
END_TEST

START_TEST(tries_run_out_and_come_back_one_by_one)
{
    const struct throttle_rule rule = {"name", 3, 60};
    const struct throttle_rule other = {"address", 1, 10};
    const int64_t s = INT64_C(1000000000);
    struct throttle *throttle = throttle_new();
    for (int i = 0; i < 3; i++) ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 5 * s), 0);
    ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 5 * s), 60);
    ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 35 * s), 30);
    ck_assert_int_eq(throttle_take(throttle, &rule, "ada", 5 * s), 0);
    ck_assert_int_eq(throttle_take(throttle, &other, "Ada", 5 * s), 0);
    ck_assert_int_eq(throttle_take(throttle, &other, "Ada", 5 * s), 10);
    ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 65 * s), 0);
    ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 65 * s), 60);
    throttle_give(throttle, &rule, "Ada", 65 * s);
    ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 65 * s), 0);
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 100000 * s), 0);
    ck_assert_int_ne(throttle_take(throttle, &rule, "Ada", 100000 * s), 0);
    throttle_free(throttle);
}
END_TEST

START_TEST(invented_names_do_not_wash_a_used_up_one_away)
{
    const struct throttle_rule rule = {"name", 10, 60};
    struct throttle *throttle = throttle_new();
    for (int i = 0; i < 10; i++) ck_assert_int_eq(throttle_take(throttle, &rule, "Ada", 1), 0);
    for (int i = 0; i < 10 * HTTP_THROTTLE_BUCKETS; i++) {
        char name[32];
        snprintf(name, sizeof name, "nobody %d", i);
        ck_assert_int_eq(throttle_take(throttle, &rule, name, 1), 0);
    }
    ck_assert_int_ne(throttle_take(throttle, &rule, "Ada", 1), 0);
    throttle_free(throttle);
}
END_TEST

START_TEST(every_problem_is_described_with_its_status)
{
    json_t *root = description();
    json_t *problems = json_object_get(root, "x-problems");
    ck_assert_uint_eq(json_object_size(problems), PROBLEM_COUNT);
    for (int i = 0; i < PROBLEM_COUNT; i++) {
        const struct problem_kind *kind = problem_kind((enum problem)i);
        json_t *row = json_object_get(problems, kind->id);
        ck_assert_msg(row != NULL, "%s", kind->id);
        ck_assert_int_eq(json_integer_value(json_object_get(row, "status")), kind->http);
        if (kind->status != STATUS_INVALID && kind->http == (unsigned)status_http(kind->status))
            ck_assert_str_eq(kind->id, status_name(kind->status));
    }
    json_decref(root);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("http");
    TCase *tests = tcase_create("http");
    tcase_add_test(tests, a_head_whose_framing_is_plain_is_taken);
    tcase_add_test(tests, bytes_that_were_not_shown_refuse_the_head);
    tcase_add_test(tests, two_ways_to_read_a_body_are_refused);
    tcase_add_test(tests, exactly_one_host_is_wanted);
    tcase_add_test(tests, names_values_and_targets_hold_only_what_they_may);
    tcase_add_test(tests, long_heads_are_said_to_be_long);
    tcase_add_test(tests, a_host_is_loopback_or_was_given);
    tcase_add_test(tests, only_our_own_pages_and_no_browser_may_change_something);
    tcase_add_test(tests, fields_are_decoded_strictly);
    tcase_add_test(tests, a_path_leads_to_one_route_or_says_what_is_allowed);
    tcase_add_test(tests, gzip_is_sent_to_who_takes_it);
    tcase_add_test(tests, every_route_is_described_and_every_description_is_a_route);
    tcase_add_test(tests, every_problem_is_described_with_its_status);
    tcase_add_test(tests, each_role_may_what_its_row_says);
    tcase_add_test(tests, a_script_reaches_one_route_and_links_open_no_door);
    tcase_add_test(tests, a_crew_has_its_own_jobs_and_those_of_the_coming_week);
    tcase_add_test(tests, tries_run_out_and_come_back_one_by_one);
    tcase_add_test(tests, invented_names_do_not_wash_a_used_up_one_away);
    suite_add_tcase(suite, tests);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
