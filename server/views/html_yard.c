/* SPDX-License-Identifier: MIT */
/*
 * The owner's morning: each section answers one question he asks at the kitchen table, in the order
 * he asks them. A section with nothing to say is left out, but Pads and Jobs always stand.
 */
#include <math.h>
#include <stdlib.h>

#include "compute/civil.h"
#include "views/change_json.h"
#include "views/html.h"
#include "views/html_alarms.h"
#include "views/html_yard.h"

#include "base/banned.h"

enum { HOUR_S = 3600, YARD_CALL_DAYS = 7 };

void html_yard_job_link(struct text *out, const struct job *job)
{
    RAW(out, "<a class=\"job\" href=\"/jobs/");
    html_segment(out, job->id);
    RAW(out, "\">");
    text_html_z(out, job->name == NULL ? job->id : job->name);
    RAW(out, "</a>");
}

/* A date that is gone says what stands in its way; one that moved says what moved it. */
void html_yard_change(struct text *out, const struct page *page, const struct date_change *change)
{
    const struct when when = html_when(page, change->job->job->zone);
    const struct phrase was = when_date(&when, change->was_day);
    const struct phrase now = when_date(&when, change->now_day);
    const bool moved = change->change != NULL && change->now_day != DAY_NONE;
    struct text why = TEXT_UP_TO(4000);
    if (moved) says_change(&why, &when, change->change);
    if (why.length == 0) says_fire_blocks(&why, page->words, change->job->fire.blocked_by);
    if (why.length == 0 && change->change != NULL) says_change(&why, &when, change->change);
    RAW(out, "<li>");
    html_yard_job_link(out, change->job->job);
    RAW(out, " ");
    HTML_SAY(out, page, WORD_YARD_CHANGED_SAYS, {"was", was.z}, {"date", now.z});
    RAW(out, " ");
    text_html_z(out, text_z(&why));
    text_free(&why);
    RAW(out, "</li>");
}

static void changes_of_day(struct text *out, const struct page *page,
                           const struct date_change *changes, size_t count)
{
    if (count == 0) return;
    RAW(out, "<section>");
    html_heading(out, page, '2', "changed", WORD_YARD_CHANGED);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = 0; i < count; i++) html_yard_change(out, page, &changes[i]);
    RAW(out, "</ul></section>");
}

/* Homeowners who hold a date that the plan no longer supports. */
static void owed_calls(struct text *out, const struct page *page, const struct plan *plan)
{
    bool begun = false;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job_plan *job = &plan->jobs[i];
        const struct fire_plan *fire = &job->fire;
        if (fire->agreed_day == DAY_NONE || fire->agreed_holds) continue;
        if (!begun) {
            RAW(out, "<section>");
            html_heading(out, page, '2', "owed", WORD_YARD_OWED);
            RAW(out, "<ul class=\"rows\">");
            begun = true;
        }
        struct when when = html_when(page, job->job->zone);
        struct phrase agreed = when_date(&when, fire->agreed_day);
        RAW(out, "<li>");
        html_yard_job_link(out, job->job);
        if (job->job->homeowner != NULL) {
            RAW(out, " (");
            text_html_z(out, job->job->homeowner);
            RAW(out, ")");
        }
        RAW(out, " ");
        HTML_SAY(out, page, WORD_YARD_OWED_SAYS, {"date", agreed.z});
        RAW(out, " ");
        if (fire->blocked_by != 0) {
            struct text why = TEXT_UP_TO(4000);
            says_fire_blocks(&why, page->words, fire->blocked_by);
            text_html_z(out, text_z(&why));
            text_free(&why);
        } else {
            struct phrase now = when_date(&when, fire->cure_complete_day);
            HTML_SAY(out, page, WORD_YARD_OWED_NEW, {"date", now.z});
        }
        RAW(out, "</li>");
    }
    if (begun) RAW(out, "</ul></section>");
}

static const struct job_plan *plan_of(const struct plan *plan, const struct job *job)
{
    for (size_t i = 0; i < plan->job_count; i++) {
        if (plan->jobs[i].job == job) return &plan->jobs[i];
    }
    return NULL;
}

static void work_line(struct text *out, const struct page *page, const struct plan *plan,
                      const struct crew_work *work)
{
    struct when when = html_when(page, work->job->zone);
    const struct job_plan *job = plan_of(plan, work->job);
    RAW(out, "<li>");
    html_time(out, work->job->zone, work->start_s, when_clock(&when, work->start_s));
    RAW(out, " ");
    html_yard_job_link(out, work->job);
    RAW(out, ": ");
    html_of(out, page, WORD_SET_TASK, (int)work->task);
    RAW(out, " <span class=\"aside\">");
    double drive = work->job->quantities[QUANTITY_DRIVE_H];
    if (isfinite(drive)) {
        struct phrase hours = says_figure(drive);
        HTML_SAY(out, page, WORD_YARD_DRIVE, {"hours", hours.z});
        RAW(out, ", ");
    }
    struct phrase hours = says_figure((double)(work->finish_s - work->start_s) / HOUR_S);
    HTML_SAY(out, page, WORD_YARD_WORK_HOURS, {"hours", hours.z});
    RAW(out, "</span> ");
    if (job != NULL) html_state(out, page, job->tasks[work->task].state);
    RAW(out, "</li>");
}

static void who_goes_where(struct text *out, const struct page *page, const struct plan *plan)
{
    if (plan->crew_count == 0) return;
    int32_t today = civil_day_of(page->company->zone, page->now_s);
    RAW(out, "<section>");
    html_heading(out, page, '2', "crews", WORD_YARD_WHO_WHERE);
    for (size_t c = 0; c < plan->crew_count; c++) {
        const struct crew_plan *crew = &plan->crews[c];
        RAW(out, "<h3>");
        text_html_z(out, crew->crew->name == NULL ? crew->crew->id : crew->crew->name);
        RAW(out, "</h3>");
        size_t lines = 0;
        for (size_t d = 0; d < crew->day_count; d++) {
            if (crew->days[d].day != today || crew->days[d].work_count == 0) continue;
            RAW(out, "<ul class=\"rows\">");
            for (size_t w = 0; w < crew->days[d].work_count; w++)
                work_line(out, page, plan, &crew->days[d].work[w]);
            RAW(out, "</ul>");
            lines += crew->days[d].work_count;
        }
        if (lines > 0) continue;
        RAW(out, "<p>");
        html_word(out, page, WORD_YARD_CREW_NONE);
        RAW(out, "</p>");
    }
    RAW(out, "</section>");
}

static bool booked(const struct job *job, enum task task)
{
    for (size_t i = 0; i < job->record_count; i++) {
        if (job->records[i].kind == RECORD_BOOKED && job->records[i].task == task) return true;
    }
    return false;
}

static bool company_works(const struct company *company, int32_t day)
{
    if ((company->work_days & (1u << civil_weekday(day))) == 0) return false;
    for (size_t i = 0; i < company->days_off_count; i++) {
        if (company->days_off[i] == day) return false;
    }
    return true;
}

/* The next day on which anybody works, at most a week ahead. */
static int32_t next_work_day(const struct company *company, int32_t day)
{
    for (int32_t ahead = 1; ahead <= YARD_CALL_DAYS; ahead++) {
        if (company_works(company, day + ahead)) return day + ahead;
    }
    return day + 1;
}

static const struct {
    enum task inspection;
    enum task releases;
} inspections[] = {{TASK_PAD_INSPECT, TASK_PAD_POUR},
                   {TASK_THROAT_INSPECT, TASK_SMOKE_CHAMBER},
                   {TASK_FRAME_INSPECT, TASK_FACING_OTHERS},
                   {TASK_FINAL_INSPECT, TASK_HANDOVER}};

/* An inspection is called in today when it could come on the next work day and nobody booked it. */
static bool to_call_in(const struct page *page, const struct job_plan *job, enum task task)
{
    const struct task_plan *plan = &job->tasks[task];
    if (stage_task_over(plan) || booked(job->job, task)) return false;
    if (plan->state == TASK_STATE_WAIT_OVER || plan->state == TASK_STATE_WAITING_INSPECTOR)
        return true;
    if (plan->start_s == INSTANT_NONE) return false;
    int32_t today = civil_day_of(job->job->zone, page->now_s);
    return civil_day_of(job->job->zone, plan->start_s) <= next_work_day(page->company, today);
}

static void call_in(struct text *out, const struct page *page, const struct plan *plan)
{
    bool begun = false;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job_plan *job = &plan->jobs[i];
        for (size_t k = 0; k < sizeof inspections / sizeof *inspections; k++) {
            if (!to_call_in(page, job, inspections[k].inspection)) continue;
            if (!begun) {
                RAW(out, "<section>");
                html_heading(out, page, '2', "call-in", WORD_YARD_CALL_IN);
                RAW(out, "<ul class=\"rows\">");
                begun = true;
            }
            RAW(out, "<li>");
            html_yard_job_link(out, job->job);
            RAW(out, ": ");
            html_of(out, page, WORD_SET_TASK, (int)inspections[k].inspection);
            int cutoff = job->job->options.town.request_cutoff_min;
            if (cutoff >= 0) {
                struct when when = html_when(page, job->job->zone);
                struct phrase time = when_minute(&when, cutoff);
                RAW(out, " <b>");
                HTML_SAY(out, page, WORD_YARD_CALL_BY, {"time", time.z});
                RAW(out, "</b>");
            }
            RAW(out, ". ");
            const char *task = words_of(page->words, WORD_SET_TASK, (int)inspections[k].releases);
            HTML_SAY(out, page, WORD_YARD_CALL_RELEASES, {"task", task});
            RAW(out, "</li>");
        }
    }
    if (begun) RAW(out, "</ul></section>");
}

static bool on_a_crew_today(const struct page *page, const struct plan *plan, const struct job *job,
                            enum task task)
{
    int32_t today = civil_day_of(page->company->zone, page->now_s);
    for (size_t c = 0; c < plan->crew_count; c++) {
        for (size_t d = 0; d < plan->crews[c].day_count; d++) {
            const struct crew_day *day = &plan->crews[c].days[d];
            for (size_t w = 0; day->day == today && w < day->work_count; w++) {
                if (day->work[w].job == job && day->work[w].task == task) return true;
            }
        }
    }
    return false;
}

struct idle {
    const struct job_plan *job;
    enum task task;
    int64_t since_s;
};

static int longest_idle_first(const void *a, const void *b)
{
    const struct idle *x = a;
    const struct idle *y = b;
    if (x->since_s != y->since_s) return x->since_s < y->since_s ? -1 : 1;
    return (int)x->task - (int)y->task;
}

static size_t find_idle(const struct page *page, const struct plan *plan, struct idle *idle)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->job_count; i++) {
        for (int t = 0; t < TASK_COUNT; t++) {
            const struct job_plan *job = &plan->jobs[i];
            if (job->tasks[t].state != TASK_STATE_WAIT_OVER) continue;
            if (on_a_crew_today(page, plan, job->job, (enum task)t)) continue;
            if (idle != NULL) {
                int64_t since_s = job->tasks[t].opens_s;
                idle[count] =
                    (struct idle){job, (enum task)t, since_s == INSTANT_NONE ? INT64_MAX : since_s};
            }
            count++;
        }
    }
    return count;
}

static void ready_and_nobody(struct text *out, const struct page *page, const struct plan *plan)
{
    size_t count = find_idle(page, plan, NULL);
    if (count == 0) return;
    struct idle *idle = calloc(count, sizeof *idle);
    if (idle == NULL) {
        out->failed = true;
        return;
    }
    find_idle(page, plan, idle);
    qsort(idle, count, sizeof *idle, longest_idle_first);
    RAW(out, "<section>");
    html_heading(out, page, '2', "ready", WORD_YARD_READY);
    RAW(out, "<ul class=\"rows\">");
    for (size_t i = 0; i < count; i++) {
        struct when when = html_when(page, idle[i].job->job->zone);
        RAW(out, "<li>");
        html_yard_job_link(out, idle[i].job->job);
        RAW(out, ": ");
        html_of(out, page, WORD_SET_TASK, (int)idle[i].task);
        if (idle[i].since_s != INT64_MAX && idle[i].since_s <= page->now_s) {
            struct phrase time = when_day_time(&when, idle[i].since_s);
            RAW(out, " <span class=\"aside\">");
            HTML_SAY(out, page, WORD_YARD_IDLE, {"time", time.z});
            RAW(out, "</span>");
        }
        RAW(out, "</li>");
    }
    RAW(out, "</ul></section>");
    free(idle);
}

static void fire_cell(struct text *out, const struct page *page, const struct job_plan *job)
{
    struct when when = html_when(page, job->job->zone);
    const struct fire_plan *fire = &job->fire;
    if (fire->blocked_by != 0 || fire->cure_complete_day == DAY_NONE) {
        html_word(out, page, WORD_JOB_NO_FIRE_DATE);
        struct text why = TEXT_UP_TO(4000);
        says_fire_blocks(&why, page->words, fire->blocked_by);
        if (why.length > 0) {
            RAW(out, "<br><small>");
            text_html_z(out, text_z(&why));
            RAW(out, "</small>");
        }
        text_free(&why);
    } else {
        struct phrase date = when_date(&when, fire->cure_complete_day);
        HTML_SAY(out, page, WORD_YARD_NOT_BEFORE, {"date", date.z});
        html_fire_old(out, page, job);
    }
    const struct clock_plan *dry = stage_clock(job, CLOCK_UNIT_DRY_CURE);
    if (dry != NULL) {
        RAW(out, "<br>");
        html_bar(out, page, dry->have, dry->need, dry->unit);
    }
    RAW(out, "<br><small>");
    html_word(out, page, WORD_YARD_DATE_GIVEN);
    RAW(out, ": ");
    if (fire->agreed_day == DAY_NONE) {
        html_word(out, page, WORD_YARD_NONE_GIVEN);
    } else {
        text_add_z(out, fire->agreed_holds ? "<span>" : "<s>");
        text_html_z(out, when_date(&when, fire->agreed_day).z);
        text_add_z(out, fire->agreed_holds ? "</span>" : "</s>");
    }
    RAW(out, "</small>");
}

static void job_row(struct text *out, const struct page *page, const struct job_plan *job)
{
    struct when when = html_when(page, job->job->zone);
    RAW(out, "<tr><th scope=\"row\">");
    html_yard_job_link(out, job->job);
    RAW(out, "<br><small>");
    html_of(out, page, WORD_SET_STAGE, (int)stage_of(job));
    RAW(out, "</small></th><td>");
    const struct task_plan *next = stage_next_task(job);
    if (next == NULL) {
        html_word(out, page, WORD_PAGE_NONE);
    } else {
        html_of(out, page, WORD_SET_TASK, (int)next->task);
        RAW(out, "<br>");
        html_state(out, page, next->state);
        if (next->start_s != INSTANT_NONE && next->start_s > page->now_s) {
            RAW(out, " <b>");
            html_time(out, job->job->zone, next->start_s, when_day_time(&when, next->start_s));
            RAW(out, "</b>");
        }
        html_because(out, page, &when, next->because, next->because_count);
    }
    html_cautions(out, page, job);
    RAW(out, "</td><td>");
    fire_cell(out, page, job);
    RAW(out, "</td></tr>");
}

struct job_order {
    const struct job_plan *job;
    enum attention attention;
    int64_t start_s;
    size_t index;
};

static int attention_first(const void *a, const void *b)
{
    const struct job_order *x = a;
    const struct job_order *y = b;
    if (x->attention != y->attention) return (int)x->attention - (int)y->attention;
    if (x->start_s != y->start_s) return x->start_s < y->start_s ? -1 : 1;
    return x->index < y->index ? -1 : 1;
}

void html_yard_jobs(struct text *out, const struct page *page, const struct plan *plan)
{
    struct job_order *order = calloc(plan->job_count + 1, sizeof *order);
    if (order == NULL) {
        out->failed = true;
        return;
    }
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct task_plan *next = stage_next_task(&plan->jobs[i]);
        int64_t start_s = next == NULL || next->start_s == INSTANT_NONE ? INT64_MAX : next->start_s;
        order[i] = (struct job_order){&plan->jobs[i], stage_attention(&plan->jobs[i]), start_s, i};
    }
    qsort(order, plan->job_count, sizeof *order, attention_first);
    RAW(out, "<section>");
    html_heading(out, page, '2', "jobs", WORD_YARD_JOBS);
    RAW(out, "<table class=\"jobs\"><thead><tr><th scope=\"col\">");
    html_word(out, page, WORD_YARD_JOB);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, WORD_YARD_NEXT);
    RAW(out, "</th><th scope=\"col\">");
    html_word(out, page, WORD_YARD_FIRE_DATE);
    RAW(out, "</th></tr></thead><tbody>");
    for (size_t i = 0; i < plan->job_count; i++) job_row(out, page, order[i].job);
    RAW(out, "</tbody></table></section>");
    free(order);
}

static void section_links(struct text *out, const struct page *page)
{
    static const struct {
        const char *id;
        enum word word;
    } links[] = {{"pads", WORD_NAV_PADS}, {"jobs", WORD_NAV_JOBS}};
    RAW(out, "<nav class=\"sections\">");
    for (size_t i = 0; i < sizeof links / sizeof *links; i++) {
        text_print(out, "<a href=\"#%s\">", links[i].id);
        html_word(out, page, links[i].word);
        RAW(out, "</a> ");
    }
    RAW(out, "</nav>");
}

void html_yard(struct text *out, const struct page *page, const struct plan *plan,
               const struct date_change *changes, size_t change_count)
{
    struct frame frame = {
        .title = words_get(page->words, WORD_YARD_TITLE), .style = "yard", .yard_links = true};
    html_open(out, page, &frame);
    RAW(out, "<h1>");
    if (page->company->name != NULL) {
        text_html_z(out, page->company->name);
        RAW(out, ": ");
    }
    html_word(out, page, WORD_YARD_TITLE);
    RAW(out, "</h1>");
    section_links(out, page);
    html_alarms(out, page, plan, NULL, NULL, NULL);
    RAW(out, "<div class=\"morning\"><div>");
    owed_calls(out, page, plan);
    changes_of_day(out, page, changes, change_count);
    who_goes_where(out, page, plan);
    call_in(out, page, plan);
    ready_and_nobody(out, page, plan);
    RAW(out, "</div><div>");
    html_yard_pads(out, page, plan);
    html_yard_tonight(out, page, plan);
    html_yard_pours(out, page, plan);
    html_yard_half_days(out, page, plan);
    RAW(out, "</div></div>");
    html_yard_jobs(out, page, plan);
    html_close(out, page, &frame);
}
