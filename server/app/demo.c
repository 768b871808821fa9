/* SPDX-License-Identifier: MIT */
/* Why: see demo.h. The parts are demo_weather.c (the station), demo_jobs_*.c (what was written
 * down), demo_job.c (tables to records). */
#include "app/demo.h"

#include "app/demo_job.h"
#include "app/demo_weather.h"
#include "base/limits.h"

#include "base/banned.h"

static const int64_t demo_from_s = 315532800;   /* 1980: six years of history stay after 1970 */
static const int64_t demo_until_s = 6942412800; /* 2190 */

static void put_window(struct json *json, const char *key, const char *from, const char *until)
{
    json_open_array(json, key);
    json_put_text(json, NULL, from);
    json_put_text(json, NULL, until);
    json_close(json);
}

static void put_days(struct json *json, const char *key)
{
    static const char *const days[] = {"mon", "tue", "wed", "thu", "fri"};
    json_open_array(json, key);
    for (size_t i = 0; i < sizeof days / sizeof *days; i++) json_put_text(json, NULL, days[i]);
    json_close(json);
}

static void put_crew(struct json *json, const char *id, const char *name)
{
    json_open_object(json, NULL);
    json_put_text(json, "id", id);
    json_put_text(json, "name", name);
    json_put_integer(json, "people", 3);
    json_close(json);
}

static void put_party(struct json *json, const char *id, const char *name, const char *cutoff,
                      const char *phone)
{
    json_open_object(json, NULL);
    json_put_text(json, "id", id);
    json_put_text(json, "name", name);
    json_put_text(json, "phone", phone);
    if (cutoff != NULL) json_put_text(json, "request_cutoff", cutoff);
    put_days(json, "work_days");
    put_window(json, "work_hours", "08:00", "16:00");
    json_close(json);
}

static void put_company(struct json *json)
{
    json_open_object(json, "company");
    json_put_text(json, "name", "Tamsel Valley Hearthworks");
    json_put_text(json, "phone", "555-0134");
    json_put_text(json, "time_zone", "America/Denver");
    put_days(json, "work_days");
    put_window(json, "work_hours", "07:00", "15:30");
    put_window(json, "lunch", "12:00", "12:30");
    json_open_array(json, "crews");
    put_crew(json, "river", "River crew, Ines Tavarel");
    put_crew(json, "ridge", "Ridge crew, Colm Adair");
    json_close(json);
    json_open_array(json, "inspectors");
    put_party(json, "tamsel-county", "P. Haldane, Tamsel County", "14:00", "555-0140");
    put_party(json, "orrin-ferry", "J. Brandvold, town of Orrin Ferry", "11:00", "555-0141");
    json_close(json);
    json_open_array(json, "trades");
    put_party(json, "plumber", "Brix and Daughters, gas fitting", NULL, "555-0151");
    put_party(json, "hvac", "Loess Air and Duct", NULL, "555-0152");
    put_party(json, "roofer", "Hobnail Roofing", NULL, "555-0153");
    put_party(json, "framer", "Two Oxen Carpentry", NULL, "555-0154");
    put_party(json, "setter", "Marrow Stone Setting", NULL, "555-0155");
    json_close(json);
    json_close(json);
}

static void put_case(struct json *json, int64_t now_s, const struct zone *zone, struct arena *arena)
{
    json_open_object(json, NULL);
    json_put_integer(json, "emberwait", 1);
    json_put_instant(json, "now", now_s, zone);
    put_company(json);
    json_open_object(json, "stations");
    demo_weather_station(json, now_s, zone, arena);
    json_close(json);
    json_open_array(json, "jobs");
    for (size_t i = 0; i < demo_jobs_base_count; i++)
        demo_job_write(json, &demo_jobs_base[i], i, now_s, zone, arena);
    for (size_t i = 0; i < demo_jobs_unit_count; i++)
        demo_job_write(json, &demo_jobs_unit[i], demo_jobs_base_count + i, now_s, zone, arena);
    json_close(json);
    json_close(json);
    ENSURE(json_done(json));
}

enum status demo_case(struct text *out, int64_t now_s, struct fault *fault)
{
    if (now_s < demo_from_s || now_s >= demo_until_s) {
        fault_set(fault, "now", "an instant of 1980 to 2189", "%lld s", (long long)now_s);
        return STATUS_INVALID;
    }
    struct zone *zone = NULL;
    enum status status = zone_load(&zone, "America/Denver", fault);
    if (status != STATUS_OK) return status;
    struct arena *arena = arena_new();
    struct json json = {.text = out};
    if (arena != NULL) put_case(&json, now_s, zone, arena);
    if (arena == NULL || arena_failed(arena)) {
        fault_set(fault, "", "memory for the demonstration", "none");
        status = STATUS_LIMIT;
    } else {
        status = text_status(out);
        if (status != STATUS_OK)
            fault_set(fault, "", "room for the demonstration", "%zu bytes", out->limit);
    }
    arena_free(arena);
    zone_free(zone);
    return status;
}
