/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Hold points and their measures. The first tests walk every check the rulebook has, on jobs whose
 * options ask for it: each side of each limit, each answer left out, each piece of evidence
 * missing. The rest are situations of the trade, with the figures of the trade written out.
 */
#include "network_case.h"

#define ALL_ON                                                                                     \
    "\"base\":\"basement\",\"pad\":\"new\",\"place\":\"indoor\",\"outside_air\":true,"             \
    "\"lighter\":\"top\",\"through_roof\":true,\"propped\":true,\"facing\":\"mortared\","          \
    "\"town\":{\"throat_look\":true,\"seismic\":true}"
#define OTHER_WAY                                                                                  \
    "\"base\":\"slab\",\"pad\":\"existing\",\"place\":\"exposed\",\"lighter\":\"flush\""
#define LARGE UNIT_42 ",\"opening_height_in\":34" /* 42 x 34 = 9.9 ft2 */
#define SMALL                                                                                      \
    "\"opening_width_in\":30,\"opening_height_in\":26,\"courses\":5,\"chimney_ft\":14,"            \
    "\"floor_brick\":36,\"back_brick\":45,\"side_brick\":56,\"drive_h\":0.2" /* 5.4 ft2 */
#define NOW "2026-11-20T12:00"
#define CHECKED "\"at\":\"2026-11-19T10:00:00-07:00\""

static const char *const option_sets[] = {ALL_ON, OTHER_WAY};
enum { OPTION_SETS = 2, RECORD_BYTES = 8192 };

/* Its own way through the plan: never done once (the watch, the cover), or done by a `fire`. */
static bool special(enum task task)
{
    return task == TASK_CURE_WATCH || task == TASK_NIGHT_COVER ||
           (task >= TASK_FIRE_1 && task <= TASK_FIRE_5);
}

/* How one answer of the record under test is to be wrong. */
enum spoil { RIGHT, LEFT_OUT, SAID_NO, NO_PHOTO, NO_INITIALS, FIGURE };
struct wrong {
    enum spoil how;
    enum check_id check;
    double figure;
};

/* A figure inside the limits of a measure. */
static double fair(const struct check_plan *check)
{
    if (!isnan(check->least)) return check->least;
    return isnan(check->most) ? 50 : check->most;
}

static int put_answer(char *out, size_t room, const struct check_plan *check,
                      const struct wrong *wrong)
{
    const bool mine = wrong->check == check->check;
    const char *slip = check->evidence == EVIDENCE_SLIP && !(mine && wrong->how == NO_PHOTO)
                           ? ",\"slip\":\"A-1\""
                           : "";
    const bool photo = (check->evidence == EVIDENCE_PHOTO || check->evidence == EVIDENCE_CLIP) &&
                       !(mine && wrong->how == NO_PHOTO);
    const bool initials =
        check->evidence == EVIDENCE_INITIALS && !(mine && wrong->how == NO_INITIALS);
    char answer[100];
    switch (check->kind) {
    case CHECK_KIND_MEASURE:
        snprintf(answer, sizeof answer, "\"value\":%.9g",
                 mine && wrong->how == FIGURE ? wrong->figure : fair(check));
        break;
    case CHECK_KIND_COUNT:
        snprintf(answer, sizeof answer, "\"value\":%.9g,\"of\":5",
                 mine && wrong->how == FIGURE ? wrong->figure : 5.0);
        break;
    case CHECK_KIND_YES:
        snprintf(answer, sizeof answer, "\"yes\":%s",
                 mine && wrong->how == SAID_NO ? "false" : "true");
        break;
    case CHECK_KIND_DATE:
        snprintf(answer, sizeof answer, "\"date\":\"2026-11-18\"");
        break;
    default:
        snprintf(answer, sizeof answer, "\"text\":\"14:20\"");
    }
    return snprintf(out, room, "[\"check\":\"%s\",%s%s%s%s]", check_short_id(check->check), answer,
                    slip, photo ? ",\"photo\":\"p1\"" : "", initials ? ",\"initials\":\"AM\"" : "");
}

/* A `passed` of the task with an answer to each of its checks; wrong in one thing. */
static const char *passed_with(const struct task_plan *task, const struct wrong *wrong)
{
    char *out = arena_take(case_intake.arena, RECORD_BYTES, 1);
    size_t used = (size_t)snprintf(out, RECORD_BYTES,
                                   "{\"kind\":\"passed\",\"task\":\"%s\"," CHECKED ",\"checks\":[",
                                   id_of(&task_ids, (int)task->task));
    bool first = true;
    for (size_t i = 0; i < task->check_count; i++) {
        if (wrong->how == LEFT_OUT && wrong->check == task->checks[i].check) continue;
        if (!first) out[used++] = ',';
        first = false;
        used += (size_t)put_answer(out + used, RECORD_BYTES - used, &task->checks[i], wrong);
    }
    snprintf(out + used, RECORD_BYTES - used, "]}");
    return out;
}

/* case_plan gives ids to every `{`: answers come with brackets that are put right afterwards. */
static struct job_plan *plan_with(const char *options, const char *quantities, const char *records);

static const struct task_plan *try_one(const char *options, const struct task_plan *task,
                                       const struct wrong *wrong)
{
    return &plan_with(options, LARGE, passed_with(task, wrong))->tasks[task->task];
}

/* --- a case with a company of its own ----------------------------------------------------------
 */

static const char *the_kits = "";
static const char *the_kit = "";

static struct job_plan *plan_at(const char *now, const char *options, const char *quantities,
                                const char *records)
{
    char *with_ids = arena_take(case_intake.arena, 65536, 1);
    size_t used = 0;
    int id = 0, depth = 0;
    for (const char *p = records; *p != '\0'; p++) {
        /* a record begins at depth 0; answers stand deeper */
        if (*p == '{' && depth++ == 0) {
            used += (size_t)snprintf(with_ids + used, 65536 - used, "%s{\"id\":\"r%d\",",
                                     id > 0 ? "," : "", id);
            id++;
            continue;
        }
        if (*p == '}') depth--;
        with_ids[used++] = *p;
    }
    /* "[\"check\"" … "]" of put_answer are objects */
    for (char *p = with_ids; (p = strstr(p, "[\"check\"")) != NULL; p++) {
        *p = '{';
        char *end = strchr(p, ']');
        ck_assert_ptr_nonnull(end);
        *end = '}';
    }
    const char *text = arena_print(
        case_intake.arena,
        "{\"emberwait\":1,\"now\":\"%s:00-07:00\",\"company\":{\"time_zone\":\"America/Denver\","
        "\"work_days\":[\"mon\",\"tue\",\"wed\",\"thu\",\"fri\"],\"work_hours\":[\"07:00\","
        "\"15:30\"],\"crews\":[{\"id\":\"north\",\"people\":3}]%s},"
        "\"jobs\":[{\"id\":\"elm\",\"time_zone\":\"America/Denver\"%s,\"options\":{%s},"
        "\"quantities\":{%s},\"records\":[%s]}]}",
        now, the_kits, the_kit, options, quantities, with_ids);
    struct casefile *casefile = NULL;
    if (intake_case_text(&casefile, text, strlen(text), &case_intake) != STATUS_OK) {
        ck_assert_uint_gt(case_faults.count, 0);
        ck_abort_msg("%s: found %s, wanted %s\n%s", case_faults.items[0].path,
                     case_faults.items[0].found, case_faults.items[0].wanted, text);
    }
    the_job = &casefile->jobs[0];
    the_company = &casefile->company;
    the_now_s = casefile->now_s;
    struct job_plan *plan = ARENA_TAKE(case_intake.arena, 1, struct job_plan);
    ck_assert_int_eq(planner_job(plan, the_job, the_company, book, the_now_s, case_intake.arena),
                     STATUS_OK);
    return plan;
}

static struct job_plan *plan_with(const char *options, const char *quantities, const char *records)
{
    return plan_at(NOW, options, quantities, records);
}

static const struct check_plan *check_in(const struct job_plan *plan, enum check_id check)
{
    const struct task_plan *task = &plan->tasks[check_task(check)];
    for (size_t i = 0; i < task->check_count; i++)
        if (task->checks[i].check == check) return &task->checks[i];
    return NULL;
}

#define ck_check(plan, check, wanted)                                                              \
    ck_assert_str_eq(id_of(&check_state_ids, (int)check_in(plan, CHECK_##check)->state), wanted)

/* --- every check of the rulebook ---------------------------------------------------------------
 */

#define FOR_EACH_TASK(plan, task)                                                                  \
    for (int t = 0; t < TASK_COUNT; t++)                                                           \
        for (const struct task_plan *task = &(plan)->tasks[t];                                     \
             task != NULL && task->state != TASK_STATE_NOT_NEEDED && !special((enum task)t) &&     \
             task->check_count > 0;                                                                \
             task = NULL)

START_TEST(a_task_whose_every_check_holds_is_passed)
{
    int tasks = 0;
    for (int o = 0; o < OPTION_SETS; o++) {
        const struct job_plan *bare = plan_with(option_sets[o], LARGE, "");
        FOR_EACH_TASK(bare, task)
        {
            const struct task_plan *tried =
                try_one(option_sets[o], task, &(struct wrong){RIGHT, CHECK_NONE, 0});
            ck_assert_msg(tried->state == TASK_STATE_PASSED, "%s is %s: %s", id_of(&task_ids, t),
                          id_of(&task_state_ids, (int)tried->state),
                          tried->because_count > 0 ? tried->because[0].rule : "no reason");
            ck_assert(tried->measured);
            tasks++;
        }
    }
    ck_assert_int_ge(tasks, 60);
}
END_TEST

START_TEST(no_check_may_be_left_out_once_one_is_made)
{
    for (int o = 0; o < OPTION_SETS; o++) {
        const struct job_plan *bare = plan_with(option_sets[o], LARGE, "");
        FOR_EACH_TASK(bare, task)
        for (size_t i = 0; i < task->check_count && task->check_count > 1; i++) {
            const struct check_plan *check = &task->checks[i];
            const struct task_plan *tried =
                try_one(option_sets[o], task, &(struct wrong){LEFT_OUT, check->check, 0});
            const char *rule = id_of(&check_rule_ids, (int)check->check);
            if (check->optional) {
                ck_assert_msg(tried->state == TASK_STATE_PASSED, "%s", rule);
                continue;
            }
            ck_assert_msg(tried->state == TASK_STATE_CHECK_IT && tried->held, "%s", rule);
            ck_assert_msg(because(tried, rule) != NULL, "%s", rule);
            ck_assert_int_eq((int)because(tried, rule)->kind, REASON_CHECK_MISSING);
        }
    }
}
END_TEST

START_TEST(a_no_and_a_short_count_hold_the_task)
{
    int tried_count = 0;
    for (int o = 0; o < OPTION_SETS; o++) {
        const struct job_plan *bare = plan_with(option_sets[o], LARGE, "");
        FOR_EACH_TASK(bare, task)
        for (size_t i = 0; i < task->check_count; i++) {
            const struct check_plan *check = &task->checks[i];
            const char *rule = id_of(&check_rule_ids, (int)check->check);
            struct wrong wrong = {SAID_NO, check->check, 4};
            if (check->kind == CHECK_KIND_COUNT) wrong.how = FIGURE;
            if (check->kind != CHECK_KIND_COUNT && check->kind != CHECK_KIND_YES) continue;
            const struct task_plan *tried = try_one(option_sets[o], task, &wrong);
            ck_assert_msg(tried->state == TASK_STATE_CHECK_IT, "%s", rule);
            ck_assert_int_eq((int)because(tried, rule)->kind, REASON_CHECK_OUT);
            tried_count++;
        }
    }
    ck_assert_int_ge(tried_count, 80);
}
END_TEST

START_TEST(each_side_of_each_limit_is_where_it_is_said_to_be)
{
    int limits = 0;
    for (int o = 0; o < OPTION_SETS; o++) {
        const struct job_plan *bare = plan_with(option_sets[o], LARGE, "");
        FOR_EACH_TASK(bare, task)
        for (size_t i = 0; i < task->check_count; i++) {
            const struct check_plan *check = &task->checks[i];
            const char *rule = id_of(&check_rule_ids, (int)check->check);
            for (int side = 0; side < 2; side++) {
                const double limit = side == 0 ? check->least : check->most;
                const double beyond = side == 0 ? limit - 0.01 : limit + 0.01;
                if (isnan(limit)) continue;
                limits++;
                const struct task_plan *at =
                    try_one(option_sets[o], task, &(struct wrong){FIGURE, check->check, limit});
                ck_assert_msg(at->state == TASK_STATE_PASSED, "%s at %g", rule, limit);
                const struct task_plan *past =
                    try_one(option_sets[o], task, &(struct wrong){FIGURE, check->check, beyond});
                ck_assert_msg(past->state == TASK_STATE_CHECK_IT, "%s at %g", rule, beyond);
                const struct reason *reason = because(past, rule);
                ck_assert_msg(reason->kind == REASON_CHECK_OUT, "%s", rule);
                ck_assert_double_eq_tol(reason->have, beyond, 1e-9);
                ck_assert_double_eq_tol(reason->need, limit, 1e-9);
                ck_assert_int_eq(reason->at_most, side);
                ck_assert_int_ne((int)reason->mark, MARK_NONE);
            }
        }
    }
    ck_assert_int_ge(limits, 50);
}
END_TEST

START_TEST(evidence_that_is_asked_for_and_missing_holds_the_task)
{
    int missing = 0;
    for (int o = 0; o < OPTION_SETS; o++) {
        const struct job_plan *bare = plan_with(option_sets[o], LARGE, "");
        FOR_EACH_TASK(bare, task)
        for (size_t i = 0; i < task->check_count; i++) {
            const struct check_plan *check = &task->checks[i];
            const char *rule = id_of(&check_rule_ids, (int)check->check);
            if (check->evidence == EVIDENCE_NOTHING) continue;
            const struct task_plan *tried = try_one(
                option_sets[o], task,
                &(struct wrong){check->evidence == EVIDENCE_INITIALS ? NO_INITIALS : NO_PHOTO,
                                check->check, 0});
            ck_assert_msg(tried->state == TASK_STATE_CHECK_IT, "%s", rule);
            ck_assert_int_eq((int)because(tried, rule)->kind, REASON_CHECK_EVIDENCE);
            missing++;
        }
    }
    ck_assert_int_ge(missing, 70);
}
END_TEST

/* --- what counts as evidence -------------------------------------------------------------------
 */

#define SPACERS(more, answer)                                                                      \
    "{\"kind\":\"passed\",\"task\":\"line-sides\"," CHECKED more                                   \
    ",\"checks\":[{\"check\":\"spacers\"," answer "}]}"

START_TEST(a_photo_of_the_record_or_of_the_task_will_do)
{
    ck_state(plan_with(OLD_SLAB, LARGE, SPACERS("", "\"value\":6,\"of\":6")), LINE_SIDES,
             "check-it");
    ck_state(plan_with(OLD_SLAB, LARGE, SPACERS(",\"photo\":\"p\"", "\"value\":6,\"of\":6")),
             LINE_SIDES, "passed");
    ck_state(plan_with(OLD_SLAB, LARGE,
                       "{\"kind\":\"photo\",\"task\":\"line-sides\",\"photo\":\"p9\"," CHECKED
                       "}" SPACERS("", "\"value\":6,\"of\":6")),
             LINE_SIDES, "passed");
    ck_state(plan_with(OLD_SLAB, LARGE,
                       "{\"kind\":\"photo\",\"task\":\"line-back\",\"photo\":\"p9\"," CHECKED
                       "}" SPACERS("", "\"value\":6,\"of\":6")),
             LINE_SIDES, "check-it"); /* of another task */
}
END_TEST

START_TEST(a_photo_of_what_failed_or_began_shows_nothing_right)
{
    static const char *const kinds[] = {"failed", "started", "stopped"};
    for (size_t i = 0; i < 3; i++)
        ck_state(plan_with(OLD_SLAB, LARGE,
                           arena_print(case_intake.arena,
                                       "{\"kind\":\"%s\",\"task\":\"line-sides\",\"photo\":\"p9\","
                                       "\"at\":\"2026-11-18T10:00:00-07:00\"}%s",
                                       kinds[i], SPACERS("", "\"value\":6,\"of\":6"))),
                 LINE_SIDES, "check-it");
}
END_TEST

START_TEST(spacers_are_out_only_when_as_many_are_counted_as_went_in)
{
    ck_state(plan_with(OLD_SLAB, LARGE, SPACERS(",\"photo\":\"p\"", "\"value\":5,\"of\":6")),
             LINE_SIDES, "check-it");
    ck_state(plan_with(OLD_SLAB, LARGE, SPACERS(",\"photo\":\"p\"", "\"value\":7,\"of\":6")),
             LINE_SIDES, "check-it"); /* nobody knows how many went in */
    ck_state(plan_with(OLD_SLAB, LARGE, SPACERS(",\"photo\":\"p\"", "\"value\":0,\"of\":0")),
             LINE_SIDES, "check-it"); /* not counted */
    const struct job_plan *plan =
        plan_with(OLD_SLAB, LARGE, SPACERS(",\"photo\":\"p\"", "\"value\":6"));
    ck_state(plan, LINE_SIDES, "check-it");
    ck_check(plan, LINE_SIDES_SPACERS, "missing");
}
END_TEST

START_TEST(a_photo_a_course_is_counted_against_the_jobs_courses)
{
#define COURSES(n)                                                                                 \
    "{\"kind\":\"done\",\"task\":\"box-courses\",\"photo\":\"p\"," CHECKED                         \
    ",\"checks\":[{\"check\":\"plumb\",\"yes\":true},{\"check\":\"joint\",\"value\":0.1},"         \
    "{\"check\":\"squeeze\",\"yes\":true},{\"check\":\"photos\",\"value\":" #n "}]}"
    ck_state(plan_with(OLD_SLAB, LARGE, COURSES(5)), BOX_COURSES, "done");
    ck_state(plan_with(OLD_SLAB, LARGE, COURSES(7)), BOX_COURSES, "done"); /* more is no fault */
    ck_state(plan_with(OLD_SLAB, LARGE, COURSES(4)), BOX_COURSES, "check-it");
}
END_TEST

/* --- what a failing check does -----------------------------------------------------------------
 */

#define PAD_AS(kind, at, level)                                                                    \
    "{\"kind\":\"" kind "\",\"task\":\"pad-check\",\"by\":\"Ana\",\"photo\":\"p\",\"at\":\"" at    \
    ":00-07:00\",\"checks\":[{\"check\":\"level\",\"value\":" level "},"                           \
    "{\"check\":\"scratch\",\"yes\":true},{\"check\":\"probe\",\"value\":61},"                     \
    "{\"check\":\"cracks\",\"yes\":true},{\"check\":\"dry\",\"yes\":true}]}"
#define PAD(at, level) PAD_AS("passed", at, level)
#define ONE(kind, at, check)                                                                       \
    "{\"kind\":\"" kind "\",\"task\":\"pad-check\",\"by\":\"Ana\",\"photo\":\"p\",\"at\":\"" at    \
    ":00-07:00\",\"checks\":[" check "]}"
#define BARE(kind, at)                                                                             \
    "{\"kind\":\"" kind "\",\"task\":\"pad-check\",\"by\":\"Ana\",\"at\":\"" at ":00-07:00\"}"
#define KIT "{\"kind\":\"done\",\"task\":\"kit-receive\",\"at\":\"2026-11-10T10:00:00-07:00\"}"

START_TEST(a_bare_pass_is_a_pass_by_name_and_is_said_so)
{
    const struct job_plan *plan =
        plan_with(OLD_SLAB, LARGE, KIT BARE("passed", "2026-11-18T09:00"));
    ck_state(plan, PAD_CHECK, "passed");
    ck_state(plan, LAYOUT, "wait-over");
    ck_assert(cautioned(plan, CAUTION_PASSED_WITHOUT_CHECKS, TASK_PAD_CHECK));
    ck_assert(!plan->tasks[TASK_PAD_CHECK].measured);
    plan = plan_with(OLD_SLAB, LARGE, KIT PAD("2026-11-18T09:00", "0.125"));
    ck_state(plan, PAD_CHECK, "passed");
    ck_assert(!cautioned(plan, CAUTION_PASSED_WITHOUT_CHECKS, TASK_PAD_CHECK));
}
END_TEST

START_TEST(out_of_tolerance_releases_nothing_and_names_what_was_found_and_wanted)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, KIT PAD("2026-11-18T09:00", "0.25"));
    ck_state(plan, PAD_CHECK, "check-it");
    ck_state(plan, LAYOUT, "not-yet");
    ck_start(plan, LAYOUT, "none");
    const struct reason *reason = because(&plan->tasks[TASK_PAD_CHECK], "check.pad-check.level");
    ck_assert_double_eq(reason->have, 0.25);
    ck_assert_double_eq(reason->need, 0.125);
    ck_assert(reason->at_most);
    ck_assert_int_eq((int)reason->mark, MARK_CP);
    ck_assert_int_eq((int)because(&plan->tasks[TASK_LAYOUT], "after.pad-check")->kind, REASON_HOLD);
    ck_assert(cautioned(plan, CAUTION_CHECK_FAILED, TASK_PAD_CHECK));
}
END_TEST

START_TEST(a_failing_measure_in_a_later_record_opens_a_passed_hold_point_again)
{
    const struct job_plan *plan =
        plan_with(OLD_SLAB, LARGE,
                  KIT PAD("2026-11-18T09:00", "0.1")
                      ONE("passed", "2026-11-18T15:00", "{\"check\":\"level\",\"value\":0.2}"));
    ck_state(plan, PAD_CHECK, "check-it");
    ck_state(plan, LAYOUT, "not-yet");
    plan = plan_with(OLD_SLAB, LARGE,
                     KIT PAD("2026-11-18T09:00", "0.2")
                         ONE("passed", "2026-11-18T15:00", "{\"check\":\"level\",\"value\":0.1}"));
    ck_state(plan, PAD_CHECK, "passed"); /* the latest answer governs, the others stand */
}
END_TEST

START_TEST(a_bare_pass_after_a_failing_measure_changes_nothing)
{
    ck_state(plan_with(OLD_SLAB, LARGE,
                       KIT PAD("2026-11-18T09:00", "0.2") BARE("passed", "2026-11-18T15:00")),
             PAD_CHECK, "check-it");
}
END_TEST

START_TEST(work_that_is_opened_again_is_measured_again)
{
    const struct job_plan *plan =
        plan_with(OLD_SLAB, LARGE,
                  KIT PAD("2026-11-18T09:00", "0.2") BARE("failed", "2026-11-18T10:00")
                      BARE("passed", "2026-11-18T15:00"));
    ck_state(plan, PAD_CHECK, "passed");
    ck_assert(cautioned(plan, CAUTION_PASSED_WITHOUT_CHECKS, TASK_PAD_CHECK));
    plan = plan_with(OLD_SLAB, LARGE,
                     KIT PAD("2026-11-18T09:00", "0.1") BARE("failed", "2026-11-18T10:00")
                         ONE("passed", "2026-11-18T15:00", "{\"check\":\"level\",\"value\":0.1}"));
    ck_state(plan, PAD_CHECK, "check-it"); /* the four others were of the work before */
    ck_check(plan, PAD_CHECK_SCRATCH, "missing");
}
END_TEST

START_TEST(measures_on_a_done_do_not_pass_a_hold_point)
{
    const struct job_plan *plan =
        plan_with(OLD_SLAB, LARGE, KIT PAD_AS("done", "2026-11-18T09:00", "0.1"));
    ck_state(plan, PAD_CHECK, "check-it");
    ck_assert_ptr_nonnull(because(&plan->tasks[TASK_PAD_CHECK], "hold.pad-check"));
    ck_state(plan, LAYOUT, "not-yet");
}
END_TEST

START_TEST(a_task_that_is_no_hold_point_is_held_by_its_checks_too)
{
#define CENTRED(figure)                                                                            \
    "{\"kind\":\"done\",\"task\":\"layout\",\"photo\":\"p\"," CHECKED                              \
    ",\"checks\":[{\"check\":\"diagonals\",\"value\":0.1},{\"check\":\"centred\","                 \
    "\"value\":" figure "},{\"check\":\"level\",\"yes\":true}]}"
    const char *pad = KIT PAD("2026-11-18T09:00", "0.1");
    const struct job_plan *plan =
        plan_with(OLD_SLAB, LARGE, arena_print(case_intake.arena, "%s%s", pad, CENTRED("0.25")));
    ck_state(plan, LAYOUT, "done");
    ck_state(plan, BOX_COURSES, "wait-over");
    plan =
        plan_with(OLD_SLAB, LARGE, arena_print(case_intake.arena, "%s%s", pad, CENTRED("0.3125")));
    ck_state(plan, LAYOUT, "check-it");
    ck_state(plan, BOX_COURSES, "not-yet");
}
END_TEST

START_TEST(an_inspectors_pass_may_carry_measures_too)
{
#define CLEAR(back)                                                                                \
    "{\"kind\":\"inspection\",\"task\":\"frame-inspect\",\"result\":\"passed\",\"photo\":"         \
    "\"p\"," CHECKED                                                                               \
    ",\"checks\":[{\"check\":\"front\",\"value\":2},{\"check\":\"sides\",\"value\":2},"            \
    "{\"check\":\"back\",\"value\":" back "},{\"check\":\"chimney\",\"value\":2},"                 \
    "{\"check\":\"blocking\",\"yes\":true},{\"check\":\"slip\",\"yes\":true,\"slip\":\"77\"}]}"
    ck_state(plan_with(OLD_SLAB, LARGE, CLEAR("4")), FRAME_INSPECT, "passed");
    ck_state(plan_with(OLD_SLAB, LARGE, CLEAR("3.9")), FRAME_INSPECT, "check-it");
}
END_TEST

/* --- where practice and the published code part company ------------------------------------------
 */

#define LINING(thick)                                                                              \
    "{\"kind\":\"passed\",\"task\":\"line-floor\",\"photo\":\"p\"," CHECKED                        \
    ",\"checks\":[{\"check\":\"thickness\",\"value\":" thick                                       \
    "},{\"check\":\"gap-back\",\"value\":0.5},{\"check\":\"gap-sides\",\"value\":0.5},"            \
    "{\"check\":\"empty\",\"yes\":true},{\"check\":\"flat\",\"value\":0.125},"                     \
    "{\"check\":\"joint\",\"value\":0.0625}]}"
#define ACCEPTS(need)                                                                              \
    "{\"kind\":\"overridden\",\"rule\":\"check.line-floor.thickness\",\"need\":" need              \
    ",\"sheet\":\"listing page 12\",\"by\":\"Rosa\",\"reason\":\"listed at 1-1/4 in.\","           \
    "\"at\":\"2026-11-01T09:00:00-07:00\"}"

START_TEST(both_figures_are_shown_and_the_stricter_is_asked_for)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, LINING("1.25"));
    ck_state(plan, LINE_FLOOR, "check-it");
    const struct check_plan *check = check_in(plan, CHECK_LINE_FLOOR_THICKNESS);
    ck_assert_uint_eq(check->limit_count, 2);
    ck_assert_double_eq(check->limits[0].figure, 1.25);
    ck_assert_int_eq((int)check->limits[0].basis, BASIS_PRACTICE);
    ck_assert_double_eq(check->limits[1].figure, 2);
    ck_assert_int_eq((int)check->limits[1].basis, BASIS_PUBLISHED);
    ck_assert_double_eq(check->least, 2);
    ck_state(plan_with(OLD_SLAB, LARGE, LINING("2")), LINE_FLOOR, "passed");
}
END_TEST

START_TEST(the_owner_may_accept_the_less_strict_of_the_two_and_is_named_for_ever)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, ACCEPTS("1.25") LINING("1.25"));
    ck_state(plan, LINE_FLOOR, "passed");
    const struct check_plan *check = check_in(plan, CHECK_LINE_FLOOR_THICKNESS);
    ck_assert_str_eq(check->accepted->by, "Rosa");
    ck_assert_double_eq(check->least, 1.25);
    ck_assert(cautioned(plan, CAUTION_FIGURE_ACCEPTED, TASK_LINE_FLOOR));
    ck_state(plan_with(OLD_SLAB, LARGE, ACCEPTS("1.25") LINING("1.2")), LINE_FLOOR, "check-it");
}
END_TEST

START_TEST(a_figure_of_the_owners_own_is_not_taken)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, ACCEPTS("1.5") LINING("1.5"));
    ck_state(plan, LINE_FLOOR, "check-it");
    ck_assert_ptr_null(check_in(plan, CHECK_LINE_FLOOR_THICKNESS)->accepted);
    ck_assert(!cautioned(plan, CAUTION_FIGURE_ACCEPTED, TASK_LINE_FLOOR));
}
END_TEST

START_TEST(accepting_the_stricter_figure_changes_nothing)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, ACCEPTS("2") LINING("1.25"));
    ck_state(plan, LINE_FLOOR, "check-it");
    ck_assert(!cautioned(plan, CAUTION_FIGURE_ACCEPTED, TASK_LINE_FLOOR));
}
END_TEST

START_TEST(both_ends_of_a_brick_joint_are_asked_for_each_by_its_own_mark)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, "");
    const struct check_plan *check = check_in(plan, CHECK_LINE_FLOOR_JOINT);
    ck_assert_double_eq(check->least, 0.0625);
    ck_assert_double_eq(check->most, 0.25);
    ck_assert_int_eq((int)check->limits[0].mark, MARK_CP);
    ck_assert_int_eq((int)check->limits[1].mark, MARK_P);
}
END_TEST

START_TEST(the_hearth_rule_goes_by_the_opening)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, "");
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_FRONT)->least, 20);
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_SIDES)->least, 12);
    plan = plan_with(OLD_SLAB, SMALL, "");
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_FRONT)->least, 20); /* practice */
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_SIDES)->least, 8);
    plan = plan_with(OLD_SLAB, UNIT_42, ""); /* no height: taken to be large */
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_SIDES)->least, 12);
    plan = plan_with(OLD_SLAB, /* 36 x 24 in. are 6 ft2 exactly: large */
                     "\"opening_width_in\":36,\"opening_height_in\":24", "");
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_SIDES)->least, 12);
    plan = plan_with(OLD_SLAB, "\"opening_width_in\":36,\"opening_height_in\":23.9", "");
    ck_assert_double_eq(check_in(plan, CHECK_HEARTH_EXT_SIDES)->least, 8);
}
END_TEST

START_TEST(clearance_is_two_and_four_inches_without_a_listing_page)
{
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, "");
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_FRONT)->least, 2);
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_SIDES)->least, 2);
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_BACK)->least, 4);
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_CHIMNEY)->least, 2);
    plan = plan_with(OTHER_WAY, LARGE, ""); /* fully outside */
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_CHIMNEY)->least, 1);
}
END_TEST

/* --- the kit's own sheet -------------------------------------------------------------------------
 */

#define SHEET(more) ",\"kits\":[{\"id\":\"k42\",\"name\":\"Forty-two\",\"revision\":\"C\"" more "}]"

START_TEST(a_listing_page_that_is_named_takes_the_place_of_the_published_distance)
{
    the_kit = ",\"kit\":\"k42\"";
    the_kits = SHEET(",\"page\":\"p. 7\",\"clearances\":{\"back_in\":1,\"front_in\":3}");
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, "");
    const struct check_plan *back = check_in(plan, CHECK_FRAME_INSPECT_BACK);
    ck_assert_double_eq(back->least, 1);
    ck_assert_uint_eq(back->limit_count, 3);
    ck_assert_int_eq((int)back->limits[2].basis, BASIS_LISTING);
    ck_assert(back->limits[2].acts && !back->limits[0].acts && !back->limits[1].acts);
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_FRONT)->least, 3);
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_SIDES)->least, 2); /* it says nothing */
}
END_TEST

START_TEST(without_a_page_a_kits_distance_can_only_ask_for_more)
{
    the_kit = ",\"kit\":\"k42\"";
    the_kits = SHEET(",\"clearances\":{\"back_in\":1,\"front_in\":3}");
    const struct job_plan *plan = plan_with(OLD_SLAB, LARGE, "");
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_BACK)->least, 4);
    ck_assert_double_eq(check_in(plan, CHECK_FRAME_INSPECT_FRONT)->least, 3);
}
END_TEST

/* --- a missed last chance that is excused --------------------------------------------------------
 */

#define CUT_TOO_LATE                                                                               \
    KIT PAD(                                                                                       \
        "2026-11-10T11:00",                                                                        \
        "0.1") "{\"kind\":\"done\",\"task\":\"layout\",\"at\":\"2026-11-10T12:00:00-07:00\"}"      \
               "{\"kind\":\"done\",\"task\":\"box-courses\",\"at\":\"2026-11-11T12:00:00-07:00\"}"
#define EXCUSE(task)                                                                               \
    "{\"kind\":\"overridden\",\"rule\":\"missed." task "\",\"by\":\"Rosa\","                       \
    "\"reason\":\"kit has no air inlet\",\"at\":\"2026-11-12T09:00:00-07:00\"}"

START_TEST(an_excused_chance_holds_nothing_back_and_is_said_for_ever)
{
    const char *air = OLD_SLAB ",\"outside_air\":true";
    const struct job_plan *plan = plan_with(air, LARGE, CUT_TOO_LATE);
    ck_state(plan, AIR_CUT, "check-it");
    ck_state(plan, THROAT_SET, "not-yet");
    plan = plan_with(air, LARGE, CUT_TOO_LATE EXCUSE("air-cut"));
    ck_state(plan, AIR_CUT, "not-needed");
    ck_state(plan, THROAT_SET, "wait-over");
    ck_assert_str_eq(because(&plan->tasks[TASK_AIR_CUT], "before.air-cut")->record->by, "Rosa");
    ck_assert(cautioned(plan, CAUTION_CHANCE_EXCUSED, TASK_AIR_CUT));
    ck_assert(!cautioned(plan, CAUTION_LAST_CHANCE_MISSED, TASK_AIR_CUT));
}
END_TEST

START_TEST(a_chance_that_was_not_missed_is_not_excused_away)
{
    const struct job_plan *plan = plan_with(OLD_SLAB ",\"outside_air\":true", LARGE,
                                            KIT PAD("2026-11-10T11:00", "0.1") EXCUSE("air-cut"));
    ck_state(plan, AIR_CUT, "wait-over");
    ck_assert(!cautioned(plan, CAUTION_CHANCE_EXCUSED, TASK_AIR_CUT));
}
END_TEST

START_TEST(nobody_excuses_an_inspection)
{
    const char *town = OLD_SLAB ",\"town\":{\"throat_look\":true}";
    const char *records = CUT_TOO_LATE
        "{\"kind\":\"done\",\"task\":\"throat-set\",\"at\":\"2026-11-11T14:00:00-07:00\"}"
        "{\"kind\":\"done\",\"task\":\"lintel-iron\",\"at\":\"2026-11-11T14:05:00-07:00\"}"
        "{\"kind\":\"done\",\"task\":\"damper-set\",\"at\":\"2026-11-11T14:50:00-07:00\"}"
        "{\"kind\":\"done\",\"task\":\"smoke-chamber\",\"at\":\"2026-11-11T15:20:00-07:00\"}";
    const struct job_plan *plan = plan_with(town, LARGE, records);
    ck_state(plan, THROAT_INSPECT, "check-it");
    plan = plan_with(town, LARGE,
                     arena_print(case_intake.arena, "%s%s", records, EXCUSE("throat-inspect")));
    ck_state(plan, THROAT_INSPECT, "check-it");
    ck_state(plan, TRANSITION_SET, "not-yet");
}
END_TEST

START_TEST(work_that_was_taken_over_is_said_for_ever)
{
    const struct job_plan *plan = plan_with(
        OLD_SLAB, LARGE,
        "{\"kind\":\"passed\",\"task\":\"pad-check\",\"by\":\"Rosa\",\"taken_over\":true," CHECKED
        "}");
    ck_state(plan, PAD_CHECK, "passed");
    ck_assert(cautioned(plan, CAUTION_TAKEN_OVER, TASK_PAD_CHECK));
    ck_assert(!cautioned(plan, CAUTION_PASSED_WITHOUT_CHECKS, TASK_PAD_CHECK));
}
END_TEST

/* --- work that is not done once ------------------------------------------------------------------
 */

#define COVERED(vented)                                                                            \
    "{\"kind\":\"done\",\"task\":\"box-courses\",\"at\":\"2026-11-20T09:00:00-07:00\"}"            \
    "{\"kind\":\"done\",\"task\":\"night-cover\",\"photo\":\"p\",\"at\":\"2026-11-20T11:00:00-07:" \
    "00\""                                                                                         \
    ",\"checks\":[{\"check\":\"sides\",\"value\":2},{\"check\":\"weighted\",\"yes\":true},"        \
    "{\"check\":\"vented\",\"yes\":" vented "}]}"

START_TEST(a_night_cover_that_does_not_hold_is_none)
{
    const char *open = "\"base\":\"slab\",\"pad\":\"existing\",\"place\":\"exposed\"";
    const struct job_plan *plan = plan_with(open, LARGE, COVERED("true"));
    ck_state(plan, NIGHT_COVER, "done");
    plan = plan_with(open, LARGE, COVERED("false"));
    ck_state(plan, NIGHT_COVER, "wait-over");
    ck_assert(cautioned(plan, CAUTION_CHECK_FAILED, TASK_NIGHT_COVER));
}
END_TEST

START_TEST(a_watch_that_finds_a_crack_is_said)
{
#define WATCH(cracks)                                                                              \
    "{\"kind\":\"done\",\"task\":\"line-clean\",\"at\":\"2026-11-10T09:00:00-07:00\"}"             \
    "{\"kind\":\"done\",\"task\":\"cure-watch\",\"photo\":\"p\"," CHECKED                          \
    ",\"checks\":[{\"check\":\"dry\",\"yes\":true},{\"check\":\"warm\",\"value\":50},"             \
    "{\"check\":\"cracks\",\"yes\":" cracks "},{\"check\":\"tag\",\"yes\":true}]}"
    ck_assert(!cautioned(plan_with(OLD_SLAB, LARGE, WATCH("true")), CAUTION_CHECK_FAILED,
                         TASK_CURE_WATCH));
    ck_assert(cautioned(plan_with(OLD_SLAB, LARGE, WATCH("false")), CAUTION_CHECK_FAILED,
                        TASK_CURE_WATCH));
}
END_TEST

int main(void)
{
    const TTest *const tests[] = {
        a_task_whose_every_check_holds_is_passed,
        no_check_may_be_left_out_once_one_is_made,
        a_no_and_a_short_count_hold_the_task,
        each_side_of_each_limit_is_where_it_is_said_to_be,
        evidence_that_is_asked_for_and_missing_holds_the_task,
        a_photo_of_the_record_or_of_the_task_will_do,
        a_photo_of_what_failed_or_began_shows_nothing_right,
        spacers_are_out_only_when_as_many_are_counted_as_went_in,
        a_photo_a_course_is_counted_against_the_jobs_courses,
        a_bare_pass_is_a_pass_by_name_and_is_said_so,
        out_of_tolerance_releases_nothing_and_names_what_was_found_and_wanted,
        a_failing_measure_in_a_later_record_opens_a_passed_hold_point_again,
        a_bare_pass_after_a_failing_measure_changes_nothing,
        work_that_is_opened_again_is_measured_again,
        measures_on_a_done_do_not_pass_a_hold_point,
        a_task_that_is_no_hold_point_is_held_by_its_checks_too,
        an_inspectors_pass_may_carry_measures_too,
        both_figures_are_shown_and_the_stricter_is_asked_for,
        the_owner_may_accept_the_less_strict_of_the_two_and_is_named_for_ever,
        a_figure_of_the_owners_own_is_not_taken,
        accepting_the_stricter_figure_changes_nothing,
        both_ends_of_a_brick_joint_are_asked_for_each_by_its_own_mark,
        the_hearth_rule_goes_by_the_opening,
        clearance_is_two_and_four_inches_without_a_listing_page,
        a_listing_page_that_is_named_takes_the_place_of_the_published_distance,
        without_a_page_a_kits_distance_can_only_ask_for_more,
        an_excused_chance_holds_nothing_back_and_is_said_for_ever,
        a_chance_that_was_not_missed_is_not_excused_away,
        nobody_excuses_an_inspection,
        work_that_was_taken_over_is_said_for_ever,
        a_night_cover_that_does_not_hold_is_none,
        a_watch_that_finds_a_crack_is_said,
    };
    return case_run("hold", tests, sizeof tests / sizeof *tests);
}
