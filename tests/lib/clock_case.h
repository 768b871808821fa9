/* SPDX-License-Identifier: MIT */
/* A job with weather: records and hours written short, and the clocks of its plan. Hours of weather
 * come in runs ("24*10 6*null 3*5.5"); all instants are UTC unless a test says otherwise. */
#ifndef EMBERWAIT_TESTS_CLOCK_CASE_H
#define EMBERWAIT_TESTS_CLOCK_CASE_H

#include "network_case.h"

#define Z(at) ",\"at\":\"" at ":00Z\"}"
#define POUR(at) "{\"kind\":\"done\",\"task\":\"pad-pour\"" Z(at)
#define WORK(task, at) "{\"kind\":\"done\",\"task\":\"" task "\"" Z(at)
#define CLOSE(part, how, at)                                                                       \
    "{\"kind\":\"closed-in\",\"part\":\"" part "\",\"how\":\"" how "\"" Z(at)
#define OPEN_UP(part, at) "{\"kind\":\"opened\",\"part\":\"" part "\"" Z(at)
#define TAKE_OFF(part, how, at)                                                                    \
    "{\"kind\":\"opened\",\"part\":\"" part "\",\"how\":\"" how "\"" Z(at)
#define DEGC(part, how, degc, at)                                                                  \
    "{\"kind\":\"reading\",\"part\":\"" part "\",\"how\":\"" how "\",\"degc\":" #degc Z(at)
#define DEGF(part, how, degf, at)                                                                  \
    "{\"kind\":\"reading\",\"part\":\"" part "\",\"how\":\"" how "\",\"degf\":" #degf Z(at)
#define LOOK(part, at)                                                                             \
    "{\"kind\":\"looked\",\"part\":\"" part "\",\"result\":\"no-damage-seen\",\"by\":\"Ana\"" Z(at)
#define REDO(part, at)                                                                             \
    "{\"kind\":\"looked\",\"part\":\"" part "\",\"result\":\"redo\",\"by\":\"Ana\"" Z(at)
#define SOAKED(part, at) "{\"kind\":\"soaked\",\"part\":\"" part "\"" Z(at)
#define PLAIN(kind, at) "{\"kind\":\"" kind "\"" Z(at)
#define WITH(kind, members, at) "{\"kind\":\"" kind "\"," members Z(at)
#define BAG(mortar, degf, at)                                                                      \
    WITH("bag", "\"lot\":\"7\",\"mortar\":\"" mortar "\",\"min_degf\":" #degf, at)
#define OVERRIDDEN(rule, members, at)                                                              \
    WITH("overridden", "\"rule\":\"" rule "\",\"by\":\"Ana\",\"reason\":\"cold\"," members, at)
#define ENGINEER(rule, members, at)                                                                \
    WITH("engineer", "\"rule\":\"" rule "\",\"sheet\":\"S1\"," members, at)
#define ACCEPTED(clock, at)                                                                        \
    WITH("accepted", "\"clock\":\"" clock "\",\"by\":\"Ana\",\"reason\":\"taken over\"", at)

#define INDOOR SLAB
#define EXPOSED "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"exposed\""
#define OVER_A_VOID "\"base\":\"crawl\",\"pad\":\"new\",\"place\":\"indoor\""

/** What a test says; everything but `now` and `records` may be left out. */
struct told {
    const char *now;      /* "2026-01-06T12:00" UTC, or with its own ":00-03:00" */
    const char *zone;     /* "UTC" */
    const char *options;  /* INDOOR */
    const char *observed; /* runs; NULL: no such series */
    const char *observed_rain;
    const char *observed_from; /* "2026-01-05T00:00" */
    const char *forecast;
    const char *forecast_rain;
    const char *forecast_from; /* now */
    const char *more;          /* further members of the job, each with a comma before */
    const char *records;
    bool no_station;
};

/* "24*10 3*null" as the members of an array. */
static const char *run_hours(const char *runs)
{
    size_t room = 200000, used = 0;
    char *out = arena_take(case_intake.arena, room, 1);
    out[0] = '\0';
    while (*runs != '\0') {
        char *end = NULL;
        long count = strtol(runs, &end, 10);
        ck_assert(*end == '*');
        size_t length = strcspn(end + 1, " ");
        for (long i = 0; i < count; i++)
            used += (size_t)snprintf(out + used, room - used, "%s%.*s", used == 0 ? "" : ",",
                                     (int)length, end + 1);
        ck_assert(used < room);
        runs = end + 1 + length;
        while (*runs == ' ') runs++;
    }
    return out;
}

static const char *series_text(const char *name, const char *from, const char *temp,
                               const char *rain)
{
    if (temp == NULL && rain == NULL) return "";
    const char *temps =
        temp == NULL ? "" : arena_print(case_intake.arena, ",\"temp_degc\":[%s]", run_hours(temp));
    const char *rains =
        rain == NULL ? "" : arena_print(case_intake.arena, ",\"rain_mm\":[%s]", run_hours(rain));
    return arena_print(case_intake.arena, ",\"%s\":{\"start\":\"%s:00Z\"%s%s}", name, from, temps,
                       rains);
}

/* Records one after another become a list, each with an id: r0, r1, ... */
static const char *told_ids(const char *records)
{
    size_t room = 4 * strlen(records) + 64, used = 0;
    char *out = arena_take(case_intake.arena, room, 1);
    int depth = 0, count = 0;
    out[0] = '\0';
    for (const char *p = records; *p != '\0'; p++) {
        bool begins = *p == '{' && depth++ == 0;
        if (*p == '}') depth--;
        if (begins)
            used += (size_t)snprintf(out + used, room - used, "%s{\"id\":\"r%d\",",
                                     count == 0 ? "" : ",", count),
                count++;
        else
            used += (size_t)snprintf(out + used, room - used, "%c", *p);
        ck_assert(used < room);
    }
    return out;
}

static const char *told_case(const struct told *t)
{
    const char *now =
        strlen(t->now) > 16 ? t->now : arena_print(case_intake.arena, "%s:00Z", t->now);
    const char *from = t->observed_from != NULL ? t->observed_from : "2026-01-05T00:00";
    const char *ahead = t->forecast_from != NULL ? t->forecast_from : t->now;
    return arena_print(
        case_intake.arena,
        "{\"emberwait\":1,\"now\":\"%s\",\"company\":{\"time_zone\":\"UTC\",\"work_days\":[\"mon\"]"
        ","
        "\"work_hours\":[\"07:00\",\"15:30\"],\"lunch\":[\"12:00\",\"12:30\"],\"days_off\":[],"
        "\"crews\":[{\"id\":\"north\",\"people\":3}]},\"stations\":{\"town\":{\"latitude\":43.6%s%"
        "s}},"
        "\"jobs\":[{\"id\":\"elm\",\"time_zone\":\"%s\"%s%s,\"options\":{%s},\"quantities\":{%s},"
        "\"records\":[%s]}]}",
        now, series_text("observed", from, t->observed, t->observed_rain),
        series_text("forecast", ahead, t->forecast, t->forecast_rain),
        t->zone != NULL ? t->zone : "UTC", t->no_station ? "" : ",\"station\":\"town\"",
        t->more != NULL ? t->more : "", t->options != NULL ? t->options : INDOOR, UNIT_42,
        told_ids(t->records));
}

static struct job_plan *told_plan(struct told t)
{
    const char *text = told_case(&t);
    struct casefile *casefile = NULL;
    enum status status = intake_case_text(&casefile, text, strlen(text), &case_intake);
    if (status != STATUS_OK && case_faults.count > 0)
        ck_abort_msg("%s: found %s, wanted %s", case_faults.items[0].path,
                     case_faults.items[0].found, case_faults.items[0].wanted);
    ck_assert_int_eq(status, STATUS_OK);
    the_job = &casefile->jobs[0];
    the_company = &casefile->company;
    the_now_s = casefile->now_s;
    struct job_plan *plan = ARENA_TAKE(case_intake.arena, 1, struct job_plan);
    ck_assert_int_eq(planner_job(plan, the_job, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    return plan;
}

#define plan_told(...) told_plan((struct told){__VA_ARGS__})

static inline const struct clock_plan *clock_in(const struct job_plan *plan, enum clock_id id)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == id) return &plan->clocks[i];
    ck_abort_msg("no clock %s", id_of(&clock_ids, (int)id));
    return NULL;
}

static inline bool has_clock(const struct job_plan *plan, enum clock_id id)
{
    for (size_t i = 0; i < plan->clock_count; i++)
        if (plan->clocks[i].clock == id) return true;
    return false;
}

static inline bool warned(const struct job_plan *plan, enum caution_id id)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (plan->cautions[i].caution == id) return true;
    return false;
}

/* A civil day as "2026-01-05"; "none". */
static inline const char *date_of(int32_t day)
{
    if (day == DAY_NONE) return "none";
    int year, month, day_of_month;
    civil_date(day, &year, &month, &day_of_month);
    return arena_print(case_intake.arena, "%04d-%02d-%02d", year, month, day_of_month);
}

#define ck_have(plan, id, wanted) ck_assert_double_eq_tol(clock_in(plan, id)->have, wanted, 1e-6)
#define ck_cross(plan, id, wanted) ck_assert_str_eq(wall(clock_in(plan, id)->crossing_s), wanted)
#define ck_opens(plan, id, wanted) ck_assert_str_eq(wall(clock_in(plan, id)->opens_s), wanted)
#define ck_clock(plan, id, wanted)                                                                 \
    ck_assert_str_eq(id_of(&clock_state_ids, (int)clock_in(plan, id)->state), wanted)
#define ck_fire(plan, wanted) ck_assert_str_eq(date_of((plan)->fire.cure_complete_day), wanted)

#endif
