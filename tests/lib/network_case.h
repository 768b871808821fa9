/* SPDX-License-Identifier: MIT */
/* A small job, given as options, quantities and records in JSON, and its plan. Used by the tests of
 * the task network; everything it makes lives until case_tear_down. */
#ifndef EMBERWAIT_TESTS_NETWORK_CASE_H
#define EMBERWAIT_TESTS_NETWORK_CASE_H

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/instant.h"
#include "compute/civil.h"
#include "intake/intake.h"
#include "planner/network.h"
#include "planner/planner.h"
#include "rulebook/rulebook.h"

#define AT(at) ",\"at\":\"" at ":00-06:00\"}"
#define OF(kind, task, at) "{\"kind\":\"" kind "\",\"task\":\"" task "\"" AT(at)
#define DONE(task, at) OF("done", task, at)
#define STARTED(task, at) OF("started", task, at)
#define PASSED(task, at) OF("passed", task, at)
#define FAILED(task, at) OF("failed", task, at)
#define ROOM(part, at) "{\"kind\":\"closed-in\",\"part\":\"" part "\",\"how\":\"room\"" AT(at)
#define READ(part, degf, at) "{\"kind\":\"reading\",\"part\":\"" part "\",\"degf\":" #degf AT(at)
#define INSPECTED(task, result, at)                                                                \
    "{\"kind\":\"inspection\",\"task\":\"" task "\",\"result\":\"" result "\"" AT(at)

#define SLAB "\"base\":\"slab\",\"pad\":\"new\",\"place\":\"indoor\""
#define OLD_SLAB "\"base\":\"slab\",\"pad\":\"existing\",\"place\":\"indoor\""
#define UNIT_42                                                                                    \
    "\"opening_width_in\":42,\"courses\":5,\"chimney_ft\":14,\"floor_brick\":36,"                  \
    "\"back_brick\":45,\"side_brick\":56,\"pad_ft2\":24,\"pad_thickness_in\":6,"                   \
    "\"sleeves\":0,\"pallets\":4,\"drive_h\":0.2"

static struct rulebook *book;
static struct faults case_faults;
static struct intake case_intake;
static const struct job *the_job;
static const struct company *the_company;
static int64_t the_now_s;

static void case_set_up(void)
{
    memset(&case_faults, 0, sizeof case_faults);
    case_intake = (struct intake){arena_new(), intake_zones_new(), &case_faults};
    ck_assert_int_eq(rulebook_load_shipped(&book, "modular-masonry", &case_faults), STATUS_OK);
}

static void case_tear_down(void)
{
    rulebook_free(book);
    faults_free(&case_faults);
    arena_free(case_intake.arena);
    intake_zones_free(case_intake.zones);
}

/* Give each record an id: r0, r1, ... */
static const char *case_with_ids(const char *records)
{
    size_t room = 2 * strlen(records) + 1024 + strlen(records) / 8 * 16, used = 0;
    char *out = arena_take(case_intake.arena, room, 1);
    int count = 0;
    for (const char *p = records; *p != '\0'; p++) {
        out[used++] = *p;
        if (*p != '{') continue;
        if (count > 0) { /* a comma between neighbours */
            out[used - 1] = ',';
            out[used++] = '{';
        }
        used += (size_t)snprintf(out + used, room - used, "\"id\":\"r%d\",", count++);
    }
    return out;
}

/* The plan of one job at `now` (no offset: it is -06:00). Options, quantities: bare members. */
static inline struct job_plan *case_plan(const char *now, const char *options, const char *quantities,
                                  const char *records)
{
    const char *text = arena_print(
        case_intake.arena,
        "{\"emberwait\":1,\"now\":\"%s:00-06:00\",\"company\":{\"time_zone\":\"America/Denver\","
        "\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],\"work_hours\":[\"07:00\",\"15:"
        "30\"],"
        "\"lunch\":[\"12:00\",\"12:30\"],\"days_off\":[],\"crews\":[{\"id\":\"north\",\"people\":3}"
        "]},"
        "\"jobs\":[{\"id\":\"elm\",\"time_zone\":\"America/Denver\",\"options\":{%s},"
        "\"quantities\":{%s},\"records\":[%s]}]}",
        now, options, quantities, case_with_ids(records));
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

/* An instant as "2026-10-26 07:00" of the job's wall clock; "none". */
static inline const char *wall(int64_t at_s)
{
    if (at_s == INSTANT_NONE) return "none";
    char text[INSTANT_TEXT_MAX];
    instant_format(text, at_s, the_job->zone);
    text[10] = ' ';
    return arena_copy(case_intake.arena, text, 16);
}

/* The reason with a rule id, or NULL. */
static inline const struct reason *because(const struct task_plan *plan, const char *rule)
{
    for (size_t i = 0; i < plan->because_count; i++)
        if (strcmp(plan->because[i].rule, rule) == 0) return &plan->because[i];
    return NULL;
}

static inline bool cautioned(const struct job_plan *plan, enum caution_id id, enum task task)
{
    for (size_t i = 0; i < plan->caution_count; i++)
        if (plan->cautions[i].caution == id && plan->cautions[i].task == task) return true;
    return false;
}

#define ck_state(plan, name, wanted)                                                               \
    ck_assert_str_eq(id_of(&task_state_ids, (int)(plan)->tasks[TASK_##name].state), wanted)
#define ck_start(plan, name, wanted)                                                               \
    ck_assert_str_eq(wall((plan)->tasks[TASK_##name].start_s), wanted)
#define ck_finish(plan, name, wanted)                                                              \
    ck_assert_str_eq(wall((plan)->tasks[TASK_##name].finish_s), wanted)

static inline int case_run(const char *name, const TTest *const *tests, size_t count)
{
    Suite *suite = suite_create(name);
    TCase *sentences = tcase_create(name);
    tcase_add_checked_fixture(sentences, case_set_up, case_tear_down);
    tcase_set_timeout(sentences, 60);
    for (size_t i = 0; i < count; i++) tcase_add_test(sentences, tests[i]);
    suite_add_tcase(suite, sentences);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

#endif
