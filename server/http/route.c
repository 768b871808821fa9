/* SPDX-License-Identifier: MIT */
/* Why: see route.h. Thirty routes are walked one by one: 0.3 us, and nothing to keep in step. */
#include "http/route.h"

#include <stdio.h>
#include <string.h>

#include "http/handlers.h"
#include "http/urlencoded.h"

#include "base/banned.h"

#define JOB_MAX HTTP_BODY_BYTES_MAX
#define OPEN HTTP_AUTH_OPEN
#define OWNER HTTP_AUTH_OWNER
#define OFFICE HTTP_AUTH_OFFICE
#define STATION HTTP_AUTH_STATION
#define TOKEN HTTP_AUTH_TOKEN
#define NONE HTTP_BODY_NONE
#define JSON HTTP_BODY_JSON
#define FORM HTTP_BODY_FORM
#define PHOTO HTTP_BODY_PHOTO
#define API HTTP_FACE_JSON
#define PAGE HTTP_FACE_PAGE
#define PLAIN HTTP_FACE_PLAIN

/* clang-format off */
static const struct http_route routes[] = {
    {"GET",   "/healthz",                    OPEN,  NONE, API,   0, h_healthz},
    {"GET",   "/metrics",                    OFFICE, NONE, PLAIN, 0, h_metrics},
    {"GET",   "/api/v1/openapi.json",        OPEN,  NONE, API,   0, h_openapi},
    {"GET",   "/api/v1/json/{file}",         OPEN,  NONE, API,   0, h_schema},
    {"GET",   "/api/v1/company",             OFFICE, NONE, API,   0, h_company_get},
    {"PUT",   "/api/v1/company",             OWNER, JSON, API,   JOB_MAX, h_company_put},
    {"GET",   "/api/v1/jobs",                OFFICE, NONE, API,   0, h_jobs_list},
    {"POST",  "/api/v1/jobs",                OFFICE, JSON, API,   JOB_MAX, h_jobs_create},
    {"GET",   "/api/v1/jobs/{id}",           OFFICE, NONE, API,   0, h_job_get},
    {"PATCH", "/api/v1/jobs/{id}",           OFFICE, HTTP_BODY_PATCH, API, JOB_MAX, h_job_patch},
    {"GET",   "/api/v1/jobs/{id}/plan",      OFFICE, NONE, API,   0, h_job_plan},
    {"GET",   "/api/v1/jobs/{id}/records",   OFFICE, NONE, API,   0, h_records_list},
    {"POST",  "/api/v1/jobs/{id}/records",   OFFICE, JSON, API,   JOB_MAX, h_records_add},
    {"POST",  "/api/v1/jobs/{id}/take-over", OWNER, JSON, API,   JOB_MAX, h_take_over},
    {"POST",  "/api/v1/jobs/{id}/try",       OFFICE, JSON, API,   JOB_MAX, h_job_try},
    {"GET",   "/api/v1/jobs/{id}/photos",    OFFICE, NONE, API,   0, h_photos_list},
    {"PUT",   "/api/v1/jobs/{id}/photos/{photo}", OFFICE, PHOTO, API, HTTP_PHOTO_BYTES_MAX,
     h_photo_put},
    {"GET",   "/jobs/{id}/photos/{photo}",   OFFICE, NONE, API,   0, h_photo_get},
    {"GET",   "/api/v1/today",               OFFICE, NONE, API,   0, h_today},
    {"GET",   "/api/v1/changes",             OFFICE, NONE, API,   0, h_changes},
    {"GET",   "/api/v1/yard",                OFFICE, NONE, API,   0, h_yard},
    {"PUT",   "/api/v1/stations/{id}/hours", STATION, JSON, API,   HTTP_HOURS_BYTES_MAX,
     h_station_hours},
    {"GET",   "/api/v1/links",               OWNER, NONE, API,   0, h_links_list},
    {"PUT",   "/api/v1/links/{kind}/{target}", OWNER, NONE, API, 0, h_links_make},
    {"DELETE", "/api/v1/links/{kind}/{target}", OWNER, NONE, API, 0, h_links_revoke},
    {"GET",   "/sign-in",                    OPEN,  NONE, PAGE,  0, h_sign_in_page},
    {"POST",  "/sign-in",                    OPEN,  FORM, PAGE,  HTTP_FORM_BYTES_MAX, h_sign_in},
    {"POST",  "/sign-out",                   OFFICE, FORM, PAGE, HTTP_FORM_BYTES_MAX, h_sign_out},
    {"GET",   "/people",                     OWNER, NONE, PAGE,  0, h_people},
    {"POST",  "/people",                     OWNER, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_people_change},
    {"GET",   "/",                           OFFICE, NONE, PAGE,  0, h_page_today},
    {"GET",   "/yard",                       OFFICE, NONE, PAGE,  0, h_page_yard},
    {"GET",   "/pads",                       OFFICE, NONE, PAGE,  0, h_page_pads},
    {"GET",   "/tonight",                    OFFICE, NONE, PAGE,  0, h_page_tonight},
    {"GET",   "/call-in",                    OFFICE, NONE, PAGE,  0, h_page_call_in},
    {"GET",   "/jobs",                       OFFICE, NONE, PAGE,  0, h_page_jobs},
    {"GET",   "/weeks",                      OFFICE, NONE, PAGE,  0, h_page_weeks},
    {"GET",   "/first-fires",                OFFICE, NONE, PAGE,  0, h_page_fires},
    {"GET",   "/rules",                      OFFICE, NONE, PAGE,  0, h_page_rules},
    {"POST",  "/rules",                      OWNER, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_page_rules_post},
    {"GET",   "/dates",                      OFFICE, NONE, PAGE,  0, h_page_dates},
    {"GET",   "/jobs/new",                   OFFICE, NONE, PAGE,  0, h_page_new_job},
    {"POST",  "/jobs/new",                   OFFICE, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_page_new_job_post},
    {"GET",   "/jobs/{id}",                  OFFICE, NONE, PAGE,  0, h_page_job},
    {"POST",  "/jobs/{id}/records",          OFFICE, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_page_job_record},
    {"GET",   "/jobs/{id}/take-over",        OWNER, NONE, PAGE,  0, h_page_take_over},
    {"POST",  "/jobs/{id}/take-over",        OWNER, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_page_take_over_post},
    {"POST",  "/jobs/{id}/agree",            OWNER, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_page_job_agree},
    {"POST",  "/jobs/{id}/links",            OWNER, FORM, PAGE,  HTTP_FORM_BYTES_MAX,
     h_page_job_link},
    {"GET",   "/jobs/{id}/tag",              OFFICE, NONE, PAGE,  0, h_page_tag},
    {"GET",   "/jobs/{id}/day-sheet",        OFFICE, NONE, PAGE,  0, h_page_job_sheet},
    {"GET",   "/api/v1/alarms",              OFFICE, NONE, API,   0, h_alarms_list},
    {"POST",  "/alarms/{number}/seen",       OFFICE, FORM, PAGE, HTTP_FORM_BYTES_MAX, h_alarm_seen},
    {"POST",  "/jobs/{id}/try",              OFFICE, FORM, PAGE,  HTTP_FORM_BYTES_MAX, h_page_try},
    {"GET",   "/jobs/{id}/tell",             OFFICE, NONE, PAGE,  0, h_tell},
    {"GET",   "/jobs/{id}/proof",            OFFICE, NONE, PAGE,  0, h_proof},
    {"GET",   "/jobs/{id}/letter",           OFFICE, NONE, PAGE,  0, h_letter},
    {"GET",   "/jobs/{id}/fire-sheet",       OFFICE, NONE, PAGE,  0, h_fire_sheet},
    {"POST",  "/jobs/{id}/tell",             OFFICE, FORM, PAGE,  HTTP_FORM_BYTES_MAX, h_tell_send},
    {"GET",   "/api/v1/jobs.csv",            OFFICE, NONE, PLAIN, 0, h_jobs_csv},
    {"GET",   "/api/v1/records.csv",         OFFICE, NONE, PLAIN, 0, h_records_csv},
    {"POST",  "/api/v1/import/{what}",       OWNER, HTTP_BODY_CSV, API, JOB_MAX, h_import_csv},
    {"GET",   "/import",                     OWNER, NONE, PAGE,  0, h_page_import},
    {"POST",  "/import",                     OWNER, FORM, PAGE,  JOB_MAX, h_page_import_post},
    {"POST",  "/c/{token}/alarms/{number}/seen", TOKEN, FORM, PAGE, HTTP_FORM_BYTES_MAX,
     h_crew_alarm_seen},
    {"GET",   "/c/{token}",                  TOKEN, NONE, PAGE,  0, h_crew},
    {"POST",  "/c/{token}/records",          TOKEN, HTTP_BODY_WORDS, PAGE, HTTP_FORM_BYTES_MAX,
     h_crew_record},
    {"GET",   "/c/{token}/sheet",            TOKEN, NONE, PAGE,  0, h_crew_sheet},
    {"PUT",   "/c/{token}/photos/{photo}",   TOKEN, PHOTO, API,  HTTP_PHOTO_BYTES_MAX,
     h_crew_photo_put},
    {"GET",   "/c/{token}/photos/{photo}",   TOKEN, NONE, API,   0, h_crew_photo_get},
    {"GET",   "/h/{token}",                  TOKEN, NONE, PAGE,  0, h_home},
    {"GET",   "/feed/{token}.ics",           TOKEN, NONE, PLAIN, 0, h_feed},
    {"GET",   "/static/{path*}",             OPEN,  NONE, PLAIN, 0, h_static},
};
/* clang-format on */

const struct http_route *http_routes(size_t *count)
{
    *count = sizeof routes / sizeof *routes;
    return routes;
}

struct span {
    const char *bytes;
    size_t length;
};

/* Parts between slashes; a path that ends in a slash has an empty last part. */
static bool split(struct span parts[HTTP_SEGMENTS_MAX], size_t *count, const char *path,
                  size_t length)
{
    *count = 0;
    for (size_t at = 1; at <= length;) {
        if (*count == HTTP_SEGMENTS_MAX) return false;
        const char *slash = at == length ? NULL : memchr(path + at, '/', length - at);
        const size_t end = slash == NULL ? length : (size_t)(slash - path);
        parts[(*count)++] = (struct span){path + at, end - at};
        at = end + 1;
    }
    return true;
}

struct found {
    struct span captures[HTTP_CAPTURES_MAX];
    size_t count;
};

/* What follows the brace of "{token}.ics" has to end the part too, with something before it. */
static bool take_suffix(struct span *part, struct span wanted)
{
    const char *brace = memchr(wanted.bytes, '}', wanted.length);
    const size_t suffix = wanted.length - (size_t)(brace + 1 - wanted.bytes);
    if (part->length <= suffix) return suffix == 0;
    if (memcmp(part->bytes + part->length - suffix, brace + 1, suffix) != 0) return false;
    part->length -= suffix;
    return true;
}

static bool matches(const char *pattern, const struct span *all, size_t count, const char *end,
                    struct found *found)
{
    struct span parts[HTTP_SEGMENTS_MAX];
    memcpy(parts, all, count * sizeof *all);
    found->count = 0;
    struct span wanted[HTTP_SEGMENTS_MAX];
    size_t wanted_count;
    if (!split(wanted, &wanted_count, pattern, strlen(pattern))) return false;
    for (size_t i = 0; i < wanted_count; i++) {
        if (i >= count) return false;
        const bool capture = wanted[i].length > 0 && wanted[i].bytes[0] == '{';
        const bool rest = capture && wanted[i].bytes[wanted[i].length - 2] == '*';
        if (capture && parts[i].length == 0) return false;
        if (capture && !take_suffix(&parts[i], wanted[i])) return false;
        if (rest) {
            found->captures[found->count++] =
                (struct span){parts[i].bytes, (size_t)(end - parts[i].bytes)};
            return true;
        }
        if (capture) {
            found->captures[found->count++] = parts[i];
        } else if (wanted[i].length != parts[i].length ||
                   memcmp(wanted[i].bytes, parts[i].bytes, parts[i].length) != 0) {
            return false;
        }
    }
    return wanted_count == count;
}

static void add_allowed(struct route_match *out, const char *method)
{
    const size_t had = strlen(out->allow);
    const bool get = strcmp(method, "GET") == 0;
    const int length = snprintf(out->allow + had, sizeof out->allow - had, "%s%s%s",
                                had == 0 ? "" : ", ", method, get ? ", HEAD" : "");
    ENSURE(length > 0 && (size_t)length < sizeof out->allow - had);
}

static bool same_method(const char *asked, const char *method)
{
    return strcmp(asked, method) == 0 || (strcmp(asked, "HEAD") == 0 && strcmp(method, "GET") == 0);
}

static void decode(struct route_match *out, const struct found *found, struct arena *arena)
{
    for (size_t i = 0; i < found->count; i++) {
        out->captures[i] =
            urlencoded_segment(found->captures[i].bytes, found->captures[i].length, arena);
        if (out->captures[i] == NULL) out->broken = true;
    }
}

void route_find(struct route_match *out, const char *method, const char *path, size_t length,
                struct arena *arena)
{
    *out = (struct route_match){.face = HTTP_FACE_PAGE};
    if (length >= 5 && memcmp(path, "/api/", 5) == 0) out->face = HTTP_FACE_JSON;
    struct span parts[HTTP_SEGMENTS_MAX];
    size_t count;
    if (!split(parts, &count, path, length)) return;
    for (size_t i = 0; i < sizeof routes / sizeof *routes; i++) {
        struct found found;
        if (!matches(routes[i].pattern, parts, count, path + length, &found)) continue;
        out->known = true;
        out->face = routes[i].face;
        add_allowed(out, routes[i].method);
        if (out->route != NULL || !same_method(method, routes[i].method)) continue;
        out->route = &routes[i];
        decode(out, &found, arena);
    }
}
