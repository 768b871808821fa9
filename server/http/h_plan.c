/* SPDX-License-Identifier: MIT */
/*
 * Plans as JSON. A job's plan is its row of the plan of everything, so that it never says another
 * date than the yard does: crews are shared between jobs.
 */
#include <string.h>

#include "app/app_changes.h"
#include "app/app_plan.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/today.h"
#include "views/change_json.h"
#include "views/plan_json.h"
#include "views/plan_json_gate.h"

#include "base/banned.h"

enum { HTTP_REPLY_SLIPS_MAX = 4194304 };

/* Tag of what is worked out from a plan; true when the client has it already. */
static bool tag_is_held(struct http_request *request, struct http_reply *reply, char kind,
                        struct plans_key key, const struct words *words)
{
    reply_tag(reply, "%c%llu-%lld-%s-%s", kind, (unsigned long long)key.generation,
              (long long)key.now_s, words_language(words), request->tools->boot);
    reply->varies = true;
    return reply_not_modified(request, reply);
}

/* Without working a plan out: the client may hold the answer already. */
static bool answered_by_tag(struct http_request *request, struct http_reply *reply, char kind)
{
    struct plans_key key;
    if (request_header(request, "If-None-Match") == NULL) return false;
    if (plans_key(&key, request, NULL) != STATUS_OK) return false;
    return tag_is_held(request, reply, kind, key, request_words(request, NULL));
}

void h_job_plan(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    if (request_query(request, "now") != NULL) {
        (void)faults_add(&faults, "now", "nothing: a plan is always of now", "%s",
                         request_query(request, "now"));
        reply_status(request, reply, STATUS_INVALID, &faults);
        return;
    }
    const enum status status = plans_take(&entry, request, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    const struct words *words = request_words(request, NULL);
    const struct plan *all = plans_plan(entry);
    const struct job_plan *job = app_plan_find(all, request->match.captures[0]);
    if (job == NULL) {
        reply_problem(request, reply, PROBLEM_NOT_FOUND, "no job has this id", NULL);
    } else if (!tag_is_held(request, reply, 'p', plans_key_of(entry), words)) {
        const struct plan one = {.casefile = all->casefile, .jobs = job, .job_count = 1};
        plan_json(&reply->body, &one, words);
        reply_json(reply, 200);
    }
    plans_release(entry);
}

void h_yard(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    if (answered_by_tag(request, reply, 'y')) return;
    const enum status status = plans_take(&entry, request, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    const struct words *words = request_words(request, NULL);
    if (!tag_is_held(request, reply, 'y', plans_key_of(entry), words)) {
        plan_json(&reply->body, plans_plan(entry), words);
        reply_json(reply, 200);
    }
    plans_release(entry);
}

/* `slips`: what the try moved, job by job, as a member. */
static enum status put_slips(struct http_request *request, struct http_reply *reply,
                             const struct app_try *tried, const struct words *words,
                             struct faults *faults)
{
    const struct job_moves *moves = NULL;
    size_t count = 0;
    struct text list = TEXT_UP_TO(HTTP_REPLY_SLIPS_MAX);
    struct json json = {.text = &list};
    const enum status status =
        app_changes_between(&moves, &count, tried->before, tried->after, request->arena, faults);
    json_open_object(&json, NULL);
    change_json_slips(&json, "slips", moves, count, tried->after->casefile->now_s, words);
    json_close(&json);
    /* the object's own braces are left out: it stands among the members of another */
    if (list.length > 2) text_add(&reply->body, list.data + 1, list.length - 2);
    text_free(&list);
    return status;
}

void h_job_try(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct app_view *view = NULL;
    struct app_try tried = {NULL, NULL};
    enum status status = app_view_take(&view, request->tools->app, &faults);
    if (status == STATUS_OK)
        status = app_try(&tried, view, request->match.captures[0], text_z(&request->body),
                         request->body.length, request->now_s, request->arena, &faults);
    if (status == STATUS_OK) {
        const struct words *words = request_words(request, NULL);
        text_add_z(&reply->body, "{\"before\":");
        plan_json(&reply->body, tried.before, words);
        text_add_z(&reply->body, ",\"after\":");
        plan_json(&reply->body, tried.after, words);
        text_add_z(&reply->body, ",");
        status = put_slips(request, reply, &tried, words, &faults);
        text_add_z(&reply->body, "}\n");
    }
    if (status == STATUS_OK) {
        reply_json(reply, 200);
    } else {
        text_clear(&reply->body);
        reply_status(request, reply, status, &faults);
    }
    app_view_release(view);
}

static void put_work(struct json *json, const struct plan *plan, const struct crew_work *work)
{
    const struct job_plan *job = app_plan_find(plan, work->job->id);
    json_open_object(json, NULL);
    json_put_text(json, "job", work->job->id);
    json_put_text(json, "name", work->job->name);
    json_put_text(json, "task", id_of(&task_ids, (int)work->task));
    if (job != NULL)
        json_put_text(json, "state", id_of(&task_state_ids, (int)job->tasks[work->task].state));
    json_put_instant(json, "start", work->start_s, work->job->zone);
    json_put_instant(json, "finish", work->finish_s, work->job->zone);
    json_put_text(json, "access", work->job->access);
    json_close(json);
}

static void put_today(struct text *out, const struct plan *plan, const struct crew *crew,
                      const struct change *changes, size_t change_count, const struct words *words)
{
    const struct casefile *casefile = plan->casefile;
    const struct zone *zone = casefile->company.zone;
    struct json json = {.text = out};
    json_open_object(&json, NULL);
    json_put_integer(&json, "emberwait", 1);
    json_put_instant(&json, "now", casefile->now_s, zone);
    json_put_text(&json, "crew", crew->id);
    json_put_text(&json, "name", crew->name);
    json_put_date(&json, "date", today_of(zone, casefile->now_s));
    const struct crew_day *day = today_of_crew(plan, crew->id);
    json_open_array(&json, "work");
    for (size_t i = 0; day != NULL && i < day->work_count; i++)
        put_work(&json, plan, &day->work[i]);
    json_close(&json);
    change_json_list(&json, "changes", changes, change_count, casefile->now_s, words);
    json_open_array(&json, "jobs");
    for (size_t i = 0; i < plan->job_count; i++) {
        if (today_crew_has(plan, crew->id, plan->jobs[i].job))
            plan_json_job(&json, NULL, &plan->jobs[i], casefile->now_s, words);
    }
    json_close(&json);
    json_open_array(&json, "tonight");
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct job *job = plan->jobs[i].job;
        const struct when when = {.words = words, .zone = job->zone, .now_s = casefile->now_s};
        if (today_crew_has(plan, crew->id, job)) plan_json_tonight(&json, &when, &plan->jobs[i]);
    }
    json_close(&json);
    json_close(&json);
    text_add_byte(out, '\n');
}

void h_today(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    struct plans_entry *entry = NULL;
    const char *crew_id = request_query(request, "crew");
    if (crew_id == NULL) {
        (void)faults_add(&faults, "crew", "the id of a crew, ?crew=ID", "nothing");
        reply_status(request, reply, STATUS_INVALID, &faults);
        return;
    }
    const struct change *changes = NULL;
    size_t change_count = 0;
    enum status status = plans_take(&entry, request, &faults);
    if (status == STATUS_OK)
        status = plans_all_changes(&changes, &change_count, request, entry, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        plans_release(entry);
        return;
    }
    const struct plan *plan = plans_plan(entry);
    const struct crew *crew = today_crew(&plan->casefile->company, crew_id);
    if (crew == NULL) {
        (void)faults_add(&faults, "crew", "the id of a crew of the company", "%s", crew_id);
        reply_status(request, reply, STATUS_NOT_FOUND, &faults);
    } else {
        put_today(&reply->body, plan, crew, changes, change_count, request_words(request, NULL));
        reply_json(reply, 200);
        reply->varies = true;
    }
    plans_release(entry);
}
