/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Dates worked back and dates of fires: latest finishes against the very forward pass, last
 * chances, cut-offs and their price, lead times, bans, stop signs. Each test is one situation.
 */
#include "network_case.h"

#include "planner/facts.h"
#include "planner/gate.h"

static struct facts the_facts;

/* Calm and dry but for one hour of rain, from Monday 7 September 18:00, and one of wind at noon. */
#define STATIONS                                                                                   \
    "\"stations\":{\"town\":{\"forecast\":{\"start\":\"2026-09-07T12:00:00-06:00\","               \
    "\"temp_degc\":[20,20,20,20,20,20,20,20],\"gust_mps\":[13,2,2,2,2,2,2,2],"                     \
    "\"rain_mm\":[0,0,0,0,0,0,2,0]}}},"

/* A job with members of its own (`more` ends in a comma) in a company with members of its own. */
static struct job_plan *dated(const char *now, const char *company, const char *more,
                              const char *options, const char *records)
{
    const char *text = arena_print(
        case_intake.arena,
        "{\"emberwait\":1,\"now\":\"%s:00-06:00\",\"company\":{\"time_zone\":\"America/Denver\","
        "\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],\"work_hours\":[\"07:00\",\"15:"
        "30\"],\"lunch\":[\"12:00\",\"12:30\"],%s\"crews\":[{\"id\":\"north\",\"people\":3}]}"
        "," STATIONS
        "\"jobs\":[{\"id\":\"elm\",\"time_zone\":\"America/Denver\",%s\"options\":{%s},"
        "\"quantities\":{" UNIT_42 "},\"records\":[%s]}]}",
        now, company, more, options, case_with_ids(records));
    struct casefile *casefile = NULL;
    enum status status = intake_case_text(&casefile, text, strlen(text), &case_intake);
    if (status != STATUS_OK && case_faults.count > 0)
        ck_abort_msg("%s: found %s, wanted %s", case_faults.items[0].path,
                     case_faults.items[0].found, case_faults.items[0].wanted);
    const struct plan *plan = NULL;
    ck_assert_int_eq(planner_run(&plan, casefile, book, case_intake.arena), STATUS_OK);
    the_job = &casefile->jobs[0];
    the_company = &casefile->company;
    the_now_s = casefile->now_s;
    facts_gather(&the_facts, the_job, the_company, book, the_now_s, case_intake.arena);
    struct gates *gates = ARENA_TAKE(case_intake.arena, 1, struct gates);
    struct clocks *clocks = ARENA_TAKE(case_intake.arena, 1, struct clocks);
    clocks->facts = &the_facts;
    gates_begin(gates, &the_facts, clocks);
    the_facts.gates = gates;
    struct job_plan *copy = ARENA_TAKE(case_intake.arena, 1, struct job_plan);
    *copy = plan->jobs[0];
    return copy;
}

#define ALMOST                                                                                     \
    DONE("site-walk", "2026-09-01T08:00")                                                          \
    DONE("permit-get", "2026-09-02T08:00")                                                         \
    DONE("order-kit", "2026-09-02T09:00")                                                          \
    DONE("book-trades", "2026-09-02T10:00")                                                        \
    DONE("kit-receive", "2026-09-03T08:00")                                                        \
    PASSED("footing-ready", "2026-09-03T10:00")
#define BEGUN ALMOST PASSED("pad-check", "2026-09-03T11:00") DONE("layout", "2026-09-03T12:00")
#define NO_PERMIT OLD_SLAB ",\"permit\":false"

static int32_t fire_if(struct job_plan *plan, enum task task, int64_t at_s)
{
    int64_t pins[TASK_COUNT];
    for (int t = 0; t < TASK_COUNT; t++) pins[t] = INSTANT_NONE;
    if (task != TASK_NONE) pins[task] = at_s;
    return network_fire_day_if(plan, &the_facts, pins);
}

START_TEST(each_task_at_its_latest_finish_reaches_the_day_and_a_day_later_does_not)
{
    struct job_plan *plan = dated("2026-09-04T07:00", "", "\"wanted_fire\":\"2026-11-26\",",
                                  OLD_SLAB ",\"outside_air\":true,\"lighter\":\"flush\"", BEGUN);
    const int32_t wanted = civil_day(2026, 11, 26);
    unsigned dated_tasks = 0;
    int64_t all[TASK_COUNT];
    ck_assert_int_eq(plan->fire.wanted_day, wanted);
    ck_assert_int_le(plan->fire.projected_day, wanted);
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &plan->tasks[t];
        all[t] = t < TASK_FIRE_1 ? task->latest_finish_s : INSTANT_NONE;
        if (task->latest_finish_s == INSTANT_NONE || t >= TASK_FIRE_1) continue;
        if (t == TASK_TAG_HANG || t == TASK_CURE_WATCH) continue;
        ck_assert_msg(task->latest_finish_s >= task->finish_s, "%s", task_ids.ids[t]);
        ck_assert_msg(fire_if(plan, (enum task)t, task->latest_finish_s) <= wanted, "%s at %s",
                      task_ids.ids[t], wall(task->latest_finish_s));
        ck_assert_msg(fire_if(plan, (enum task)t, task->latest_finish_s + 86400) > wanted,
                      "%s a day after %s", task_ids.ids[t], wall(task->latest_finish_s));
        dated_tasks++;
    }
    ck_assert_uint_gt(dated_tasks, 18);
    ck_assert_int_le(network_fire_day_if(plan, &the_facts, all), wanted);
}
END_TEST

START_TEST(without_a_wanted_or_agreed_date_nothing_is_worked_back)
{
    struct job_plan *plan = dated("2026-09-04T07:00", "", "", NO_PERMIT, BEGUN);
    for (int t = 0; t < TASK_COUNT; t++) ck_assert(plan->tasks[t].latest_finish_s == INSTANT_NONE);
    plan = dated("2026-09-04T07:00", "", "", NO_PERMIT,
                 BEGUN "{\"kind\":\"agreed\",\"date\":\"2026-12-01\"" AT("2026-09-03T13:00"));
    ck_assert(plan->fire.wanted_is_agreed);
    ck_assert_int_eq(plan->fire.wanted_day, civil_day(2026, 12, 1));
    ck_assert(plan->tasks[TASK_LINE_CLEAN].latest_finish_s != INSTANT_NONE);
}
END_TEST

START_TEST(lining_for_thanksgiving_has_to_be_clean_by_the_day_that_leaves_28)
{
    /* fire on Thu 26 November; handover at the latest that day, so day 28 is Wed 25 November and
       the last wet work Wed 28 October, with the quarter hour left that the tag needs */
    struct job_plan *plan =
        dated("2026-09-04T07:00", "", "\"wanted_fire\":\"2026-11-26\",", NO_PERMIT, BEGUN);
    ck_assert_str_eq(wall(plan->tasks[TASK_HANDOVER].latest_finish_s), "2026-11-26 15:30");
    ck_assert_str_eq(wall(plan->tasks[TASK_LINE_CLEAN].latest_finish_s), "2026-10-28 15:15");
}
END_TEST

START_TEST(a_date_that_cannot_be_reached_leaves_fewer_than_no_days_to_spare)
{
    struct job_plan *plan =
        dated("2026-09-04T07:00", "", "\"wanted_fire\":\"2026-09-20\",", NO_PERMIT, BEGUN);
    ck_assert_int_gt(plan->fire.projected_day, plan->fire.wanted_day);
    ck_assert_int_lt(plan->tasks[TASK_BOX_COURSES].days_to_spare, 0);
    ck_assert_int_lt(plan->tasks[TASK_LINE_CLEAN].days_to_spare, 0);
}
END_TEST

START_TEST(a_last_chance_ends_when_what_closes_it_in_would_begin)
{
    struct job_plan *plan = dated(
        "2026-09-04T07:00", "", "", OLD_SLAB ",\"permit\":false,\"outside_air\":true",
        BEGUN
        "{\"kind\":\"booked\",\"task\":\"air-cut\",\"date\":\"2026-09-09\"" AT("2026-09-03T13:00"));
    const struct task_plan *cut = &plan->tasks[TASK_AIR_CUT];
    ck_assert_int_eq(cut->closed_by, TASK_BOX_COURSES);
    ck_assert_str_eq(wall(cut->last_chance_s), "2026-09-04 07:00");
    ck_assert(cautioned(plan, CAUTION_SLOT_TOO_LATE, TASK_AIR_CUT));
}
END_TEST

#define TOWN ",\"town\":{\"name\":\"Alder\",\"request_cutoff\":\"14:00\"}"
#define INSPECTOR                                                                                  \
    "\"inspectors\":[{\"id\":\"alder\",\"name\":\"Alder\",\"phone\":\"555-0140\","                 \
    "\"work_days\":[\"tue\",\"thu\"],\"work_hours\":[\"08:00\",\"12:00\"]}],"
#define STEEL_UP ALMOST DONE("pad-steel", "2026-09-10T12:00")

START_TEST(a_town_that_serves_tuesdays_takes_the_call_on_monday)
{
    struct job_plan *plan = dated("2026-09-14T13:59", INSPECTOR, "", SLAB TOWN, STEEL_UP);
    ck_start(plan, PAD_INSPECT, "2026-09-15 08:00");
    ck_assert_int_eq(plan->call_ins[0].task, TASK_PAD_INSPECT);
    ck_assert(plan->call_ins[0].today);
    ck_assert_str_eq(wall(plan->call_ins[0].request_by_s), "2026-09-14 14:00");
    ck_assert_str_eq(plan->call_ins[0].inspector->phone, "555-0140");
    ck_assert(plan->call_ins[0].releases & UINT64_C(1) << TASK_PAD_POUR);
    ck_assert(plan->call_ins[0].missed_s == INSTANT_NONE);
}
END_TEST

START_TEST(a_cut_off_that_went_by_is_priced)
{
    struct job_plan *plan = dated("2026-09-14T14:01", INSPECTOR, "", SLAB TOWN, STEEL_UP);
    ck_start(plan, PAD_INSPECT, "2026-09-17 08:00");
    ck_assert_int_eq(plan->call_ins[0].task, TASK_PAD_INSPECT);
    ck_assert_str_eq(wall(plan->call_ins[0].missed_s), "2026-09-14 14:00");
    ck_assert_int_eq(plan->call_ins[0].cost_days, 2);
    ck_assert_int_ge(plan->call_ins[0].end_cost_days, 2);
    ck_assert(cautioned(plan, CAUTION_CUTOFF_MISSED, TASK_PAD_INSPECT));
}
END_TEST

START_TEST(a_town_holiday_moves_the_visit_and_the_call)
{
    struct job_plan *plan =
        dated("2026-09-14T13:00", INSPECTOR, "",
              SLAB ",\"town\":{\"name\":\"Alder\",\"request_cutoff\":\"14:00\",\"holidays\":["
                   "\"2026-09-15\"]}",
              STEEL_UP);
    ck_start(plan, PAD_INSPECT, "2026-09-17 08:00");
    ck_assert_str_eq(wall(plan->call_ins[0].request_by_s), "2026-09-16 14:00");
    ck_assert(!plan->call_ins[0].today);
}
END_TEST

START_TEST(an_inspector_who_never_serves_is_named)
{
    /* one day of visits a week, and every one of them a holiday for as long as anybody looks */
    const char *off = "";
    for (int32_t day = civil_day(2026, 9, 15); day < civil_day(2026, 9, 15) + 4200; day += 7) {
        int year, month, date;
        civil_date(day, &year, &month, &date);
        off = arena_print(case_intake.arena, "%s%s\"%04d-%02d-%02d\"", off, *off ? "," : "", year,
                          month, date);
    }
    const char *alder = arena_print(case_intake.arena,
                                    "\"inspectors\":[{\"id\":\"alder\",\"work_days\":[\"tue\"],"
                                    "\"work_hours\":[\"08:00\",\"12:00\"],\"holidays\":[%s]}],",
                                    off);
    struct job_plan *plan = dated("2026-09-14T13:00", alder, "", SLAB, STEEL_UP);
    ck_start(plan, PAD_INSPECT, "none");
    ck_assert(cautioned(plan, CAUTION_NEVER_SERVES, TASK_PAD_INSPECT));
}
END_TEST

START_TEST(a_task_no_crew_can_staff_is_named)
{
    struct job_plan *plan = dated("2026-09-04T07:00", "", "", NO_PERMIT, BEGUN);
    ck_assert(!cautioned(plan, CAUTION_NO_CREW, TASK_BOX_COURSES));
    const struct crew two = {.id = "two", .people = 2};
    struct company company = *the_company;
    company.crews = &two;
    ck_assert_int_eq(planner_job(plan, the_job, &company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    ck_assert(cautioned(plan, CAUTION_NO_CREW, TASK_BOX_COURSES));
    ck_assert(!cautioned(plan, CAUTION_NO_CREW, TASK_LINE_FLOOR));
}
END_TEST

START_TEST(a_kit_takes_its_lead_time_and_a_delivery_ends_it)
{
    const char *ordered =
        DONE("site-walk", "2026-09-01T08:00") DONE("order-kit", "2026-09-04T09:00");
    struct job_plan *plan = dated("2026-09-04T10:00", "\"holidays\":[\"2026-09-07\"],",
                                  "\"kit_lead_days\":5,", NO_PERMIT, ordered);
    ck_start(plan, KIT_RECEIVE, "2026-09-14 07:00"); /* Tue 8 to Fri 11, Mon 14: Labor Day is off */
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_KIT_RECEIVE], "lead"));
    plan = dated("2026-09-04T10:00", "\"holidays\":[\"2026-09-07\"],", "\"kit_lead_days\":5,",
                 NO_PERMIT,
                 arena_print(case_intake.arena, "%s%s", ordered,
                             "{\"kind\":\"delivered\",\"item\":\"kit\"" AT("2026-09-04T09:30")));
    ck_start(plan, KIT_RECEIVE, "2026-09-04 10:00");
}
END_TEST

#define NOTE(at) "{\"kind\":\"reading\",\"part\":\"unit\",\"how\":\"thermostat\",\"degf\":68" AT(at)
#define FIRE(body, at) "{\"kind\":\"fire\"," body AT(at)
#define DRIED                                                                                      \
    BEGUN ROOM("unit", "2026-08-20T08:00") DONE("box-courses", "2026-09-04T12:00")                 \
        DONE("chimney-run", "2026-09-07T12:00") DONE("cap-set", "2026-09-07T14:00")                \
            PASSED("line-floor", "2026-09-08T10:00") DONE("line-back", "2026-09-08T11:00")         \
                PASSED("line-sides", "2026-09-08T12:00") DONE("line-clean", "2026-09-08T14:00")    \
                    DONE("hearth-ext", "2026-09-09T14:00") NOTE("2026-09-08T08:00")                \
                        NOTE("2026-09-15T08:00") NOTE("2026-09-22T08:00") NOTE("2026-09-29T08:00") \
                            NOTE("2026-10-06T08:00") DONE("handover", "2026-10-07T09:00")

START_TEST(a_burn_ban_passes_over_its_days_and_takes_the_date_given_away)
{
    const char *agreed = "{\"kind\":\"agreed\",\"date\":\"2026-10-09\"" AT("2026-10-01T09:00");
    const char *records = arena_print(case_intake.arena, "%s%s", DRIED, agreed);
    struct job_plan *plan = dated("2026-10-07T12:00", "", "", NO_PERMIT, records);
    ck_start(plan, FIRE_1, "2026-10-07 12:00");
    ck_assert(plan->fire.agreed_holds);
    plan = dated("2026-10-07T12:00",
                 "\"burn_bans\":[{\"from\":\"2026-10-05\",\"until\":\"2026-10-11\"}],", "",
                 NO_PERMIT, records);
    ck_start(plan, FIRE_1, "2026-10-12 07:00");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_1], "burn-ban"));
    ck_assert(!plan->fire.agreed_holds);
    ck_assert_int_eq(plan->tasks[TASK_FIRE_1].state, TASK_STATE_NOT_YET);
    plan = dated("2026-10-07T12:00",
                 "\"burn_bans\":[{\"from\":\"2026-10-05\",\"town\":\"Elsewhere\"}],", "", NO_PERMIT,
                 records);
    ck_start(plan, FIRE_1, "2026-10-07 12:00");
    plan = dated("2026-10-07T12:00", "\"burn_bans\":[{\"from\":\"2026-10-05\"}],", "", NO_PERMIT,
                 records);
    ck_start(plan, FIRE_1, "none");
    /* its last day counts */
    plan = dated("2026-10-07T12:00",
                 "\"burn_bans\":[{\"from\":\"2026-10-05\",\"until\":\"2026-10-07\"}],", "",
                 NO_PERMIT, records);
    ck_start(plan, FIRE_1, "2026-10-08 07:00");
}
END_TEST

START_TEST(an_enclosure_that_stands_keeps_the_fire_from_being_ready)
{
    struct job_plan *plan = dated(
        "2026-10-07T12:00", "", "", NO_PERMIT,
        DRIED
        "{\"kind\":\"closed-in\",\"part\":\"unit\",\"how\":\"enclosure\"" AT("2026-10-07T10:00"));
    ck_assert_int_ne(plan->tasks[TASK_FIRE_1].state, TASK_STATE_WAIT_OVER);
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_1], "enclosure"));
    plan = dated("2026-10-07T12:00", "", "", NO_PERMIT,
                 DRIED "{\"kind\":\"closed-in\",\"part\":\"unit\",\"how\":\"enclosure\"" AT(
                     "2026-10-07T10:00") "{\"kind\":\"opened\",\"part\":\"unit\",\"how\":"
                                         "\"enclosure\"" AT("2026-10-07T11:00"));
    ck_state(plan, FIRE_1, "wait-over");
}
END_TEST

START_TEST(fires_go_up_in_size_a_day_apart)
{
    struct job_plan *plan = dated("2026-10-09T12:00", "", "", NO_PERMIT,
                                  DRIED FIRE("\"number\":1", "2026-10-08T17:00"));
    ck_state(plan, FIRE_1, "done");
    ck_assert_int_eq(plan->fire.next_size, 2);
    ck_start(plan, FIRE_2, "2026-10-09 17:00");
    ck_assert_int_eq(plan->tasks[TASK_FIRE_2].state, TASK_STATE_NOT_YET);
}
END_TEST

START_TEST(a_crack_holds_every_fire_until_somebody_has_looked)
{
    const char *cracked = DRIED FIRE("\"number\":1", "2026-10-08T17:00")
        FIRE("\"number\":2,\"stop_sign\":true,\"sign\":\"crack\"", "2026-10-09T18:00");
    struct job_plan *plan = dated("2026-10-10T12:00", "", "", NO_PERMIT, cracked);
    ck_start(plan, FIRE_2, "none");
    ck_assert_ptr_nonnull(plan->fire.sign_hold);
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_2], "fire.sign"));
    plan = dated("2026-10-12T08:00", "", "", NO_PERMIT,
                 arena_print(case_intake.arena, "%s%s", cracked,
                             "{\"kind\":\"looked\",\"part\":\"unit\",\"result\":\"no-damage-seen\","
                             "\"by\":\"Wren\"" AT("2026-10-12T07:30")));
    ck_assert_ptr_null(plan->fire.sign_hold);
    ck_assert_int_eq(plan->fire.next_size, 2);
    ck_start(plan, FIRE_2, "2026-10-12 08:00");
    /* looked at the next morning: still a day after the last fire */
    plan = dated("2026-10-10T08:00", "", "", NO_PERMIT,
                 arena_print(case_intake.arena, "%s%s", cracked,
                             "{\"kind\":\"looked\",\"part\":\"unit\",\"result\":\"no-damage-seen\","
                             "\"by\":\"Wren\"" AT("2026-10-10T07:30")));
    ck_start(plan, FIRE_2, "2026-10-10 18:00");
}
END_TEST

START_TEST(a_stop_sign_of_no_kind_is_the_worst_kind)
{
    struct job_plan *plan =
        dated("2026-10-10T12:00", "", "", NO_PERMIT,
              DRIED FIRE("\"number\":1,\"stop_sign\":true", "2026-10-08T17:00"));
    ck_start(plan, FIRE_1, "none");
}
END_TEST

START_TEST(after_thirty_days_indoors_the_next_fire_is_one_size_back)
{
#define THREE                                                                                      \
    DRIED FIRE("\"number\":1", "2026-10-08T17:00") FIRE("\"number\":2", "2026-10-09T18:00")        \
        FIRE("\"number\":3", "2026-10-10T19:00")
    struct job_plan *plan = dated("2026-11-09T12:00", "", "", NO_PERMIT, THREE);
    ck_assert_int_eq(plan->fire.next_size, 4); /* 30 days */
    plan = dated("2026-11-10T12:00", "", "", NO_PERMIT, THREE);
    ck_assert_int_eq(plan->fire.next_size, 3); /* 31 days */
    ck_assert(cautioned(plan, CAUTION_FIRE_STEP_BACK, TASK_NONE));
    ck_assert_int_ne(plan->tasks[TASK_FIRE_3].state, TASK_STATE_DONE);
    plan = dated("2026-10-25T12:00", "", "",
                 "\"base\":\"slab\",\"pad\":\"existing\",\"place\":"
                 "\"covered\",\"permit\":false",
                 THREE);
    ck_assert_int_eq(plan->fire.next_size, 3); /* 15 days outdoors */
}
END_TEST

START_TEST(a_soaking_between_fires_asks_for_three_dry_days_and_one_size_back)
{
    struct job_plan *plan =
        dated("2026-10-12T12:00", "", "", NO_PERMIT,
              THREE "{\"kind\":\"soaked\",\"part\":\"unit\"" AT("2026-10-11T15:00"));
    ck_assert_int_eq(plan->fire.next_size, 3);
    ck_start(plan, FIRE_3, "2026-10-15 07:00"); /* the 12th, 13th, 14th are dry */
}
END_TEST

START_TEST(cold_masonry_asks_for_one_more_small_fire_first)
{
    const char *cold =
        THREE "{\"kind\":\"reading\",\"part\":\"unit\",\"degf\":36" AT("2026-10-12T08:00");
    struct job_plan *plan = dated("2026-10-12T09:00", "", "", NO_PERMIT, cold);
    ck_assert_int_eq(plan->fire.next_size, 4);
    ck_assert(plan->fire.next_extra);
    ck_assert(cautioned(plan, CAUTION_FIRE_COLD, TASK_NONE));
    plan = dated(
        "2026-10-13T09:00", "", "", NO_PERMIT,
        arena_print(case_intake.arena, "%s%s", cold, FIRE("\"number\":1", "2026-10-12T10:00")));
    ck_assert_int_eq(plan->fire.next_size, 4);
    ck_assert(!plan->fire.next_extra);
}
END_TEST

START_TEST(a_fire_that_was_too_big_does_not_skip_a_size)
{
    struct job_plan *plan = dated("2026-10-12T09:00", "", "", NO_PERMIT,
                                  DRIED FIRE("\"number\":1", "2026-10-08T17:00")
                                      FIRE("\"number\":4", "2026-10-10T17:00"));
    ck_assert_int_eq(plan->fire.next_size, 3);
    ck_assert(cautioned(plan, CAUTION_FIRE_TOO_BIG, TASK_NONE));
}
END_TEST

START_TEST(a_young_bed_carries_four_feet_and_the_rest_waits)
{
    /* bed laid Mon 7 September 12:00; open Tue 04:00; young until Tue 12:00 */
    struct job_plan *plan = dated(
        "2026-09-08T07:00", "", "", NO_PERMIT,
        BEGUN DONE("box-courses", "2026-09-04T12:00") ROOM("joints", "2026-09-04T07:00")
            ROOM("bed", "2026-09-04T07:00") DONE("throat-set", "2026-09-04T14:00")
                DONE("lintel-iron", "2026-09-04T14:10") DONE("damper-set", "2026-09-04T15:00")
                    DONE("smoke-chamber", "2026-09-07T10:00")
                        DONE("transition-set", "2026-09-07T12:00")
                            READ("unit", 70, "2026-09-07T12:00") READ("bed", 70, "2026-09-07T12:00")
                                READ("bed", 70, "2026-09-08T06:00"));
    /* 14 ft in 7.3 h: 4 ft take 2.086 h (to 09:05), then from 12:00 (lunch: 12:30) 4 ft more in
       2.086 h (to 14:35), then 6 ft in 3.129 h the next morning (to 10:07:43) */
    ck_start(plan, CHIMNEY_RUN, "2026-09-08 07:00");
    ck_finish(plan, CHIMNEY_RUN, "2026-09-09 10:07");
}
END_TEST

START_TEST(a_hearth_extension_is_not_ready_before_the_box_stands)
{
    struct job_plan *plan = dated("2026-09-04T07:00", "", "", NO_PERMIT, BEGUN);
    ck_state(plan, HEARTH_EXT, "not-yet");
    plan =
        dated("2026-09-07T07:00", "", "", NO_PERMIT, BEGUN DONE("box-courses", "2026-09-04T12:00"));
    ck_state(plan, HEARTH_EXT, "wait-over");
}
END_TEST

START_TEST(late_work_is_told_with_the_time_it_was_due)
{
    struct job_plan *plan =
        dated("2026-10-05T07:00", "", "", NO_PERMIT,
              BEGUN DONE("box-courses", "2026-09-04T12:00") DONE("throat-set", "2026-10-02T14:00"));
    ck_assert_str_eq(wall(plan->tasks[TASK_LINTEL_IRON].due_s), "2026-10-02 14:10");
    ck_assert(cautioned(plan, CAUTION_LATE, TASK_LINTEL_IRON));
}
END_TEST

#define COVERED "\"base\":\"slab\",\"pad\":\"existing\",\"place\":\"covered\",\"permit\":false"

START_TEST(green_joints_are_covered_an_hour_before_the_rain)
{
    struct job_plan *plan = dated("2026-09-07T16:00", "", "\"station\":\"town\",", COVERED,
                                  BEGUN DONE("box-courses", "2026-09-07T15:00"));
    /* half an hour after the work is 15:30, an hour before the rain 17:00: the first rules */
    ck_assert_str_eq(wall(plan->tasks[TASK_NIGHT_COVER].due_s), "2026-09-07 15:30");
    ck_assert(cautioned(plan, CAUTION_LATE, TASK_NIGHT_COVER));
    plan = dated("2026-09-07T16:45", "", "\"station\":\"town\",", COVERED,
                 BEGUN DONE("box-courses", "2026-09-07T16:40"));
    ck_assert_str_eq(wall(plan->tasks[TASK_NIGHT_COVER].due_s), "2026-09-07 17:00");
    ck_assert(cautioned(plan, CAUTION_COVER_BEFORE_RAIN, TASK_NIGHT_COVER));
    ck_assert(!cautioned(plan, CAUTION_LATE, TASK_NIGHT_COVER));
}
END_TEST

START_TEST(a_pass_that_will_be_too_old_when_the_work_comes_has_to_be_looked_at_again)
{
    const char *steel = STEEL_UP INSPECTED("pad-inspect", "passed", "2026-09-11T09:00");
    struct job_plan *plan = dated("2026-09-14T07:00", INSPECTOR, "", SLAB TOWN, steel);
    ck_assert(!cautioned(plan, CAUTION_LOOK_AGAIN, TASK_PAD_INSPECT));
    ck_assert_str_eq(wall(plan->tasks[TASK_PAD_POUR].due_s), "2026-09-25 09:00");
    plan = dated(
        "2026-09-14T07:00", INSPECTOR, "", SLAB TOWN,
        arena_print(case_intake.arena, "%s%s", steel,
                    "{\"kind\":\"held-date\",\"task\":\"pad-pour\",\"date\":\"2026-09-28\"" AT(
                        "2026-09-12T09:00")));
    ck_assert(cautioned(plan, CAUTION_LOOK_AGAIN, TASK_PAD_INSPECT));
}
END_TEST

START_TEST(a_slot_that_cannot_be_kept_is_a_call_that_is_owed)
{
    struct job_plan *plan =
        dated("2026-09-10T16:00", "", "", OLD_SLAB ",\"permit\":false,\"lighter\":\"flush\"",
              BEGUN "{\"kind\":\"booked\",\"task\":\"gas-rough\",\"date\":\"2026-09-10\"" AT(
                  "2026-09-04T09:00"));
    ck_assert(cautioned(plan, CAUTION_SLOT_LOST, TASK_GAS_ROUGH));
}
END_TEST

START_TEST(a_gust_at_noon_puts_a_fire_outdoors_off_to_the_calm_hour)
{
    static const char dry[] = ALMOST PASSED("pad-check", "2026-07-03T11:00")
        DONE("layout", "2026-07-03T12:00") ROOM("unit", "2026-07-01T08:00")
            DONE("box-courses", "2026-07-04T12:00") DONE("chimney-run", "2026-07-07T12:00")
                DONE("cap-set", "2026-07-07T14:00") PASSED("line-floor", "2026-07-08T10:00")
                    DONE("line-back", "2026-07-08T11:00") PASSED("line-sides", "2026-07-08T12:00")
                        DONE("line-clean", "2026-07-08T14:00")
                            DONE("hearth-ext", "2026-07-09T14:00") NOTE("2026-07-08T08:00")
                                NOTE("2026-07-15T08:00") NOTE("2026-07-22T08:00")
                                    NOTE("2026-07-29T08:00") NOTE("2026-08-05T08:00")
                                        DONE("handover", "2026-09-07T09:00");
    struct job_plan *plan = dated("2026-09-07T12:00", "", "\"station\":\"town\",", COVERED, dry);
    ck_start(plan, FIRE_1, "2026-09-07 13:00");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_FIRE_1], "fire.gust"));
    plan = dated("2026-09-07T12:00", "", "", COVERED, dry);
    ck_start(plan, FIRE_1, "2026-09-07 12:00");
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        each_task_at_its_latest_finish_reaches_the_day_and_a_day_later_does_not,
        without_a_wanted_or_agreed_date_nothing_is_worked_back,
        lining_for_thanksgiving_has_to_be_clean_by_the_day_that_leaves_28,
        a_date_that_cannot_be_reached_leaves_fewer_than_no_days_to_spare,
        a_last_chance_ends_when_what_closes_it_in_would_begin,
        a_town_that_serves_tuesdays_takes_the_call_on_monday,
        a_cut_off_that_went_by_is_priced,
        a_town_holiday_moves_the_visit_and_the_call,
        an_inspector_who_never_serves_is_named,
        a_task_no_crew_can_staff_is_named,
        a_kit_takes_its_lead_time_and_a_delivery_ends_it,
        a_burn_ban_passes_over_its_days_and_takes_the_date_given_away,
        an_enclosure_that_stands_keeps_the_fire_from_being_ready,
        fires_go_up_in_size_a_day_apart,
        a_crack_holds_every_fire_until_somebody_has_looked,
        a_stop_sign_of_no_kind_is_the_worst_kind,
        after_thirty_days_indoors_the_next_fire_is_one_size_back,
        a_soaking_between_fires_asks_for_three_dry_days_and_one_size_back,
        cold_masonry_asks_for_one_more_small_fire_first,
        a_fire_that_was_too_big_does_not_skip_a_size,
        a_young_bed_carries_four_feet_and_the_rest_waits,
        a_hearth_extension_is_not_ready_before_the_box_stands,
        late_work_is_told_with_the_time_it_was_due,
        green_joints_are_covered_an_hour_before_the_rain,
        a_pass_that_will_be_too_old_when_the_work_comes_has_to_be_looked_at_again,
        a_slot_that_cannot_be_kept_is_a_call_that_is_owed,
        a_gust_at_noon_puts_a_fire_outdoors_off_to_the_calm_hour,
    };
    return case_run("dates", tests, sizeof tests / sizeof *tests);
}
