/* SPDX-License-Identifier: MIT */
/* A job with a forecast of four days that a test may change hour by hour, and its gates. Hour 0 is
 * Tuesday 20 October 2026, 06:00 of the job's wall clock, which is also now. Everything it makes
 * lives until case_tear_down. */
#ifndef EMBERWAIT_TESTS_GATE_CASE_H
#define EMBERWAIT_TESTS_GATE_CASE_H

#include "network_case.h"
#include "planner/gate.h"
#include "planner/history.h"

enum { SKY_HOURS = 96, HOUR_0_S = 1792497600 /* 2026-10-20T12:00Z */ };

/* The forecast that the next case is made with; a mild dry calm day throughout until changed. */
struct sky_hours {
    double temp_degf[SKY_HOURS];
    double rain_in[SKY_HOURS];
    double rh_pct[SKY_HOURS];
    double wind_mph[SKY_HOURS];
    double gust_mph[SKY_HOURS];
    int count;
    double before_degf; /* of the fortnight before, observed and dry */
};
static struct sky_hours sky;
static const struct casefile *sky_case; /* the latest */
static const char *sky_quantities = UNIT_42;

static inline void sky_mild(void)
{
    sky.count = SKY_HOURS;
    sky.before_degf = 60;
    for (int i = 0; i < SKY_HOURS; i++) {
        sky.temp_degf[i] = 60;
        sky.rain_in[i] = 0;
        sky.rh_pct[i] = 50;
        sky.wind_mph[i] = 2;
        sky.gust_mph[i] = 5;
    }
}

static inline void sky_fill(double *figures, int from, int until, double value)
{
    for (int i = from; i < until; i++) figures[i] = value;
}

/* One array of the forecast; scale and offset make the unit of the case file. NAN is null. */
static inline const char *sky_array(const char *name, const double *figures, double scale,
                                    double offset)
{
    enum { ROOM_EACH = 24 };
    const size_t room = (size_t)sky.count * ROOM_EACH + 64;
    char *text = arena_take(case_intake.arena, room, 1);
    size_t used = (size_t)snprintf(text, room, "\"%s\":[", name);
    for (int i = 0; i < sky.count; i++) {
        const char *comma = i > 0 ? "," : "";
        used += isnan(figures[i]) ? (size_t)snprintf(text + used, room - used, "%snull", comma)
                                  : (size_t)snprintf(text + used, room - used, "%s%.9f", comma,
                                                     (figures[i] + offset) * scale);
    }
    snprintf(text + used, room - used, "]");
    return text;
}

/* The observed fortnight that ends where the forecast begins. */
static inline const char *sky_before(void)
{
    enum { HOURS = 336, ROOM_EACH = 24 };
    char *temp = arena_take(case_intake.arena, HOURS * ROOM_EACH, 1);
    char *rain = arena_take(case_intake.arena, HOURS * ROOM_EACH, 1);
    size_t t = 0, r = 0;
    for (int i = 0; i < HOURS; i++) {
        t += (size_t)snprintf(temp + t, ROOM_EACH, "%s%.9f", i > 0 ? "," : "",
                              (sky.before_degf - 32) / 1.8);
        r += (size_t)snprintf(rain + r, ROOM_EACH, "%s0", i > 0 ? "," : "");
    }
    return arena_print(case_intake.arena,
                       "\"observed\":{\"start\":\"2026-10-06T06:00:00-06:00\",\"temp_degc\":[%s],"
                       "\"rain_mm\":[%s]},",
                       temp, rain);
}

/* The job at `now` under the sky; options and records as in case_plan. */
static inline struct job_plan *sky_plan_at(const char *now, const char *options,
                                           const char *records)
{
    const double mps = 0.44704;
    const char *text = arena_print(
        case_intake.arena,
        "{\"emberwait\":1,\"now\":\"%s:00-06:00\",\"company\":{\"time_zone\":\"America/Denver\","
        "\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],\"work_hours\":[\"07:00\",\"15:"
        "30\"],\"lunch\":[\"12:00\",\"12:30\"],\"days_off\":[],"
        "\"crews\":[{\"id\":\"north\",\"people\":3}]},\"stations\":{\"town\":{%s\"forecast\":{"
        "\"start\":\"2026-10-20T06:00:00-06:00\",%s,%s,%s,%s,%s}}},"
        "\"jobs\":[{\"id\":\"elm\",\"time_zone\":\"America/Denver\",\"station\":\"town\","
        "\"options\":{%s},\"quantities\":{%s},\"records\":[%s]}]}",
        now, sky_before(), sky_array("temp_degc", sky.temp_degf, 1 / 1.8, -32),
        sky_array("rain_mm", sky.rain_in, 25.4, 0), sky_array("rh_pct", sky.rh_pct, 1, 0),
        sky_array("wind_mps", sky.wind_mph, mps, 0), sky_array("gust_mps", sky.gust_mph, mps, 0),
        options, sky_quantities, case_with_ids(records));
    struct casefile *casefile = NULL;
    enum status status = intake_case_text(&casefile, text, strlen(text), &case_intake);
    if (status != STATUS_OK && case_faults.count > 0)
        ck_abort_msg("%s: found %s, wanted %s", case_faults.items[0].path,
                     case_faults.items[0].found, case_faults.items[0].wanted);
    ck_assert_int_eq(status, STATUS_OK);
    sky_case = casefile;
    the_job = &casefile->jobs[0];
    the_company = &casefile->company;
    the_now_s = casefile->now_s;
    struct job_plan *plan = ARENA_TAKE(case_intake.arena, 1, struct job_plan);
    ck_assert_int_eq(planner_job(plan, the_job, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    return plan;
}

static inline struct job_plan *sky_plan(const char *options, const char *records)
{
    return sky_plan_at("2026-10-20T06:00", options, records);
}

/* The gates of that job, asked by themselves. */
static inline struct gates *sky_gates(const char *options, const char *records)
{
    (void)sky_plan(options, records);
    struct facts *facts = ARENA_TAKE(case_intake.arena, 1, struct facts);
    struct clocks *clocks = ARENA_TAKE(case_intake.arena, 1, struct clocks);
    struct gates *gates = ARENA_TAKE(case_intake.arena, 1, struct gates);
    facts_gather(facts, the_job, the_company, book, the_now_s, case_intake.arena);
    clocks->facts = facts;
    history_weather(&clocks->weather, facts, the_now_s - 86400);
    gates_begin(gates, facts, clocks);
    return gates;
}

/* What a gate says of an hour: "closed gate.gust 31 25", "open", "with-measure …", "unknown". */
static inline const char *sky_says(struct gates *gates, enum gate_class gate, int hour)
{
    const struct gate_hour *at = gates_hour(gates, gate, HOUR_0_S + (int64_t)hour * 3600);
    if (at == NULL) return "beyond";
    const char *state = id_of(&gate_state_ids, (int)at->state);
    if (at->figure.rule == GATE_RULE_NONE) return state;
    return arena_print(case_intake.arena, "%s %s", state,
                       id_of(&gate_rule_ids, (int)at->figure.rule));
}

/* The measures of work from one hour to another, as their ids with a space between. */
static inline const char *sky_measures(struct gates *gates, enum gate_class gate, int from,
                                       int until)
{
    struct gate_measure room[MEASURE_ID_COUNT];
    size_t count =
        gates_measures(room, gates, gate, &gates->calendar, HOUR_0_S + (int64_t)from * 3600,
                       HOUR_0_S + (int64_t)until * 3600);
    const char *text = "";
    for (size_t i = 0; i < count; i++)
        text = arena_print(case_intake.arena, "%s%s%s", text, i > 0 ? " " : "",
                           id_of(&measure_id_ids, (int)room[i].measure));
    return text;
}

#endif
