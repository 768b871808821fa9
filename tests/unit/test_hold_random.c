/* SPDX-License-Identifier: MIT */
/* links: intake planner */
/*
 * Random jobs with random answers to their checks. A judge of its own says which tasks have a check
 * that does not hold; what must be true of every such job is then held against the plan:
 *  - such a task is neither passed nor done, and nothing that comes after it may start;
 *  - a bare pass on top of it changes nothing;
 *  - making an answer worse, or taking a photo away, frees no task and brings no start nearer.
 */
#include "network_case.h"

enum { JOBS = 4000, RECORDS_MAX = 64, ANSWERS_MAX = 16 };

struct made {
    struct record records[RECORDS_MAX];
    struct check_result answers[RECORDS_MAX][ANSWERS_MAX];
    char ids[RECORDS_MAX][8];
    size_t count;
};

/* splitmix64 */
static uint64_t state;
static int below(int most)
{
    uint64_t z = (state += UINT64_C(0x9e3779b97f4a7c15));
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return (int)((z ^ z >> 31) % (uint64_t)most);
}

static const enum task tasks[] = {TASK_FOOTING_READY, TASK_PAD_CHECK,   TASK_LAYOUT,
                                  TASK_BOX_COURSES,   TASK_THROAT_SET,  TASK_LINE_FLOOR,
                                  TASK_LINE_SIDES,    TASK_GAS_ROUGH,   TASK_HEARTH_EXT,
                                  TASK_FRAME_INSPECT, TASK_KIT_RECEIVE, TASK_ROOF_FLASH};
enum { TASKS = sizeof tasks / sizeof *tasks };

/* Mostly right, sometimes just outside, sometimes empty. */
static struct check_result answer_of(enum check_id id)
{
    const struct check_rule *rule = &book->checks[id];
    struct check_result r = {.check = id, .yes = -1, .value = NAN, .of = NAN, .day = DAY_NONE};
    switch (rule->kind) {
    case CHECK_KIND_MEASURE:
        r.value = rule->limit_count > 0 ? rule->limits[below((int)rule->limit_count)].figure : 50;
        if (below(12) == 0) r.value += below(2) ? 0.02 : -0.02;
        break;
    case CHECK_KIND_COUNT:
        r.value = r.of = 5;
        if (below(12) == 0) r.value = below(6);
        break;
    case CHECK_KIND_YES:
        r.yes = below(20) == 0 ? 0 : 1;
        break;
    case CHECK_KIND_DATE:
        r.day = 20000;
        break;
    default:
        r.text = "14:20";
    }
    if (below(8) != 0) r.photo = "p";
    if (below(8) != 0) r.slip = "s";
    if (below(8) != 0) r.initials = "AM";
    return r;
}

static struct record *add(struct made *made, enum record_kind kind, int64_t at_s, enum task task)
{
    struct record *r = &made->records[made->count];
    *r = record_blank(kind, at_s);
    snprintf(made->ids[made->count], sizeof made->ids[0], "r%zu", made->count);
    r->id = made->ids[made->count];
    r->task = task;
    made->count++;
    return r;
}

static void add_answers(struct made *made, struct record *r)
{
    struct check_result *answers = made->answers[made->count - 1];
    int first = 0;
    const int checks = (int)check_range(r->task, &first), mode = below(4);
    for (int i = 0; mode > 0 && i < checks; i++)
        if (mode > 1 || below(3) > 0) answers[r->check_count++] = answer_of(first + i);
    r->checks = answers;
    if (below(5) == 0) r->photo = "whole";
    if (below(5) == 0) r->by = "Ana";
}

static void draw(struct made *made, int64_t begin_s)
{
    static const enum record_kind kinds[] = {RECORD_PASSED, RECORD_PASSED, RECORD_PASSED,
                                             RECORD_FAILED, RECORD_PHOTO};
    uint64_t seen = 0;
    memset(made, 0, sizeof *made);
    int64_t at_s = begin_s;
    for (int n = 4 + below(20); n > 0; n--) {
        enum task task = tasks[below(TASKS)];
        at_s += 600 + below(20000);
        bool first = (seen >> task & 1U) == 0;
        enum record_kind kind = first && below(2) ? RECORD_DONE : kinds[below(5)];
        struct record *r = add(made, kind, at_s, task);
        seen |= UINT64_C(1) << task;
        if (kind == RECORD_PHOTO) r->photo = "p";
        if (kind == RECORD_DONE || kind == RECORD_PASSED) add_answers(made, r);
    }
}

/* --- the judge ----------------------------------------------------------------------------------
 */

static bool inside(const struct job *job, const struct check_rule *rule, double value)
{
    for (size_t i = 0; i < rule->limit_count; i++) {
        const struct check_limit_rule *limit = &rule->limits[i];
        const bool large = !(job->quantities[QUANTITY_OPENING_WIDTH_IN] *
                                 job->quantities[QUANTITY_OPENING_HEIGHT_IN] <
                             864); /* 6 ft2 */
        if (!rulebook_holds(limit->when, limit->when_count, &job->options)) continue;
        if (limit->opening == OPENING_FROM_6_FT2 && !large) continue;
        if (limit->opening == OPENING_UNDER_6_FT2 && large) continue;
        if (limit->at_most ? value > limit->figure + 1e-7 : value < limit->figure - 1e-7)
            return false;
    }
    return true;
}

static bool answered_right(const struct job *job, const struct check_rule *rule,
                           const struct check_result *r)
{
    double of = rule->quantity == QUANTITY_NONE ? NAN : job->quantities[rule->quantity];
    switch (rule->kind) {
    case CHECK_KIND_MEASURE:
        return inside(job, rule, r->value);
    case CHECK_KIND_COUNT:
        return r->value > 0 && (isnan(of) ? r->value == r->of : r->value >= of);
    case CHECK_KIND_YES:
        return r->yes == 1;
    default:
        return true;
    }
}

/* Whether some check of a task fails: the latest answers since it last failed, read backwards. */
static bool fails(const struct made *made, const struct job *job, enum task task)
{
    int first = 0;
    const int checks = (int)check_range(task, &first);
    bool any = false, bad = false;
    for (int c = first; c < first + checks; c++) {
        const struct check_rule *rule = &book->checks[c];
        const struct check_result *result = NULL;
        const struct record *from = NULL;
        bool photo = false;
        for (size_t i = made->count; i-- > 0;) {
            const struct record *r = &made->records[i];
            if (r->task != task) continue;
            if (r->kind == RECORD_FAILED) break;
            photo = photo || r->photo != NULL;
            for (size_t k = 0; k < r->check_count && result == NULL; k++)
                if ((int)r->checks[k].check == c) {
                    result = &r->checks[k];
                    from = r;
                }
        }
        any = any || result != NULL;
        if (!rulebook_holds(rule->when, rule->when_count, &job->options)) continue;
        if (result == NULL) {
            bad = bad || !rule->optional;
            continue;
        }
        photo = photo || result->photo != NULL;
        bool kept = rule->evidence == EVIDENCE_NOTHING ||
                    (rule->evidence == EVIDENCE_INITIALS
                         ? result->initials != NULL || from->initials != NULL || from->by != NULL
                     : rule->evidence == EVIDENCE_SLIP ? photo || result->slip != NULL
                                                       : photo);
        bad = bad || !kept || !answered_right(job, rule, result);
    }
    return any && bad;
}

/* --- what must hold ------------------------------------------------------------------------------
 */

static struct job job;
static struct company company;

static const struct job_plan *plan_of(const struct made *made, struct arena *arena, int64_t now_s)
{
    static struct job_plan plans[3];
    static int turn;
    struct job_plan *plan = &plans[turn++ % 3];
    job.records = made->records;
    job.record_count = made->count;
    ck_assert_int_eq(planner_job(plan, &job, &company, book, now_s, arena), STATUS_OK);
    return plan;
}

static bool over(const struct task_plan *plan)
{
    return plan->state == TASK_STATE_DONE || plan->state == TASK_STATE_PASSED;
}

static void nothing_is_released(const struct made *made, const struct job_plan *plan)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *task = &plan->tasks[t];
        if (task->state == TASK_STATE_NOT_NEEDED || !fails(made, &job, (enum task)t)) continue;
        if (task->state == TASK_STATE_REDO) continue; /* to be done again: dates are of that work */
        ck_assert_msg(!over(task), "%s is over", id_of(&task_ids, t));
        for (int u = 0; u < TASK_COUNT; u++) {
            const struct task_rule *rule = &book->tasks[u];
            for (size_t i = 0; i < rule->link_count; i++) {
                const struct task_link *link = &rule->links[i];
                if (link->kind != LINK_AFTER || (int)link->task != t) continue;
                if (!rulebook_holds(link->when, link->when_count, &job.options)) continue;
                ck_assert_msg(plan->tasks[u].state != TASK_STATE_WAIT_OVER, "%s frees %s",
                              id_of(&task_ids, t), id_of(&task_ids, u));
                if (over(&plan->tasks[u]) || plan->tasks[u].held) continue;
                ck_assert_msg(plan->tasks[u].start_s == INSTANT_NONE, "%s dates %s",
                              id_of(&task_ids, t), id_of(&task_ids, u));
            }
        }
    }
}

/* Whether the judge and the plan agree about a task that was passed or done at the last. */
static int agreement(const struct made *made, const struct job_plan *plan)
{
    int judged = 0;
    for (int k = 0; k < TASKS; k++) {
        const struct record *last = NULL;
        for (size_t i = 0; i < made->count; i++)
            if (made->records[i].task == tasks[k] && made->records[i].kind != RECORD_PHOTO)
                last = &made->records[i];
        const struct task_plan *task = &plan->tasks[tasks[k]];
        if (last == NULL || last->kind != RECORD_PASSED || task->state == TASK_STATE_NOT_NEEDED)
            continue;
        if (task->state == TASK_STATE_REDO) continue; /* what it stands on was opened again */
        const bool bad = fails(made, &job, tasks[k]);
        if (task->state == TASK_STATE_CHECK_IT && !task->held) continue; /* closed in meanwhile */
        ck_assert_msg(bad == (task->state == TASK_STATE_CHECK_IT), "%s is %s: %s",
                      id_of(&task_ids, (int)tasks[k]), id_of(&task_state_ids, (int)task->state),
                      task->because_count > 0 ? task->because[0].rule : "no reason");
        judged++;
    }
    return judged;
}

static void a_bare_pass_clears_nothing(struct made *made, struct arena *arena, int64_t now_s)
{
    for (int k = 0; k < TASKS; k++) {
        if (!fails(made, &job, tasks[k])) continue;
        (void)add(made, RECORD_PASSED, now_s, tasks[k]);
        const struct job_plan *plan = plan_of(made, arena, now_s);
        ck_assert_msg(!over(&plan->tasks[tasks[k]]), "%s", id_of(&task_ids, (int)tasks[k]));
        made->count--;
    }
}

/* One answer made worse, or one photo gone; false: there is none. */
static bool worsen(struct made *made)
{
    for (int tries = 0; tries < 20; tries++) {
        struct record *r = &made->records[below((int)made->count)];
        if (r->check_count == 0) continue;
        struct check_result *a = &made->answers[r - made->records][below((int)r->check_count)];
        switch (below(3)) {
        case 0:
            if (a->yes == 1)
                a->yes = 0;
            else if (!isnan(a->of))
                a->value = 0;
            else if (!isnan(a->value) && book->checks[a->check].limit_count > 0)
                a->value = book->checks[a->check].limits[0].at_most ? 999 : 0;
            else
                continue;
            return true;
        case 1:
            if (r->photo == NULL && a->photo == NULL) continue;
            r->photo = a->photo = NULL;
            return true;
        default:
            if (a->slip == NULL && a->initials == NULL) continue;
            a->slip = a->initials = NULL;
            return true;
        }
    }
    return false;
}

static void never_earlier(const struct job_plan *before, const struct job_plan *after)
{
    for (int t = 0; t < TASK_COUNT; t++) {
        const struct task_plan *a = &before->tasks[t], *b = &after->tasks[t];
        bool free_now = b->state == TASK_STATE_WAIT_OVER && a->state != TASK_STATE_WAIT_OVER;
        ck_assert_msg(!free_now, "%s is freed", id_of(&task_ids, t));
        ck_assert_msg(!over(b) || over(a), "%s is over", id_of(&task_ids, t));
        if (over(a) || a->held || b->start_s == INSTANT_NONE) continue;
        ck_assert_msg(a->start_s != INSTANT_NONE && b->start_s >= a->start_s, "%s is sooner",
                      id_of(&task_ids, t));
    }
}

START_TEST(what_does_not_hold_releases_nothing_whoever_says_so)
{
    (void)case_plan("2026-10-01T12:00", OLD_SLAB, UNIT_42, "");
    job = *the_job;
    company = *the_company;
    struct arena *arena = arena_new();
    struct made made;
    int judged = 0, failing = 0, worse = 0;
    for (int n = 0; n < JOBS; n++) {
        state = (uint64_t)n * 7919 + (uint64_t)_i * 1000003;
        arena_reset(arena);
        job.options.base = below(3);
        job.options.pad = below(2) ? PAD_NEW : PAD_EXISTING;
        job.options.place = below(3);
        job.options.outside_air = below(2);
        job.options.lighter = below(3);
        job.options.through_roof = below(2);
        job.options.permit = below(3) > 0;
        job.quantities[QUANTITY_OPENING_HEIGHT_IN] = below(3) == 0 ? NAN : 18 + below(18);
        draw(&made, the_now_s - 40 * 86400);
        const struct job_plan *plan = plan_of(&made, arena, the_now_s);
        judged += agreement(&made, plan);
        nothing_is_released(&made, plan);
        for (int k = 0; k < TASKS; k++) failing += fails(&made, &job, tasks[k]);
        a_bare_pass_clears_nothing(&made, arena, the_now_s);
        plan = plan_of(&made, arena, the_now_s);
        if (!worsen(&made)) continue;
        never_earlier(plan, plan_of(&made, arena, the_now_s));
        worse++;
    }
    arena_free(arena);
    ck_assert_int_ge(judged, JOBS);
    ck_assert_int_ge(failing, JOBS / 2);
    ck_assert_int_ge(worse, JOBS / 2);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("hold-random");
    TCase *cases = tcase_create("random");
    tcase_add_checked_fixture(cases, case_set_up, case_tear_down);
    tcase_set_timeout(cases, 120);
    tcase_add_loop_test(cases, what_does_not_hold_releases_nothing_whoever_says_so, 0, 3);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
