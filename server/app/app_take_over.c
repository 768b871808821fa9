/* SPDX-License-Identifier: MIT */
/* Why: see app_take_over.h. The records go through the same door as any other, so that a half-built
 * job has no rules of its own. */
#include "app/app_take_over.h"

#include <stdio.h>
#include <string.h>

#include "app/app_internal.h"
#include "app/app_view.h"
#include "base/json.h"
#include "base/limits.h"
#include "compute/civil.h"
#include "model/take_over.h"

#include "base/banned.h"

enum { RECORDS_BYTES_MAX = 1 << 18, TASK_SLACK_S = 1 };

struct expanding {
    struct json *json;
    const struct take_over *form;
    const struct job *job;
    const struct rulebook *rulebook;
    int64_t now_s;
};

/* The last second of the day, or now when the day is not over. */
static int64_t done_s(const struct expanding *e, const struct taken_task *task)
{
    if (task->at_s != INSTANT_NONE) return task->at_s;
    int64_t end_s = civil_day_start_s(e->job->zone, task->day + 1) - TASK_SLACK_S;
    return end_s < e->now_s ? end_s : e->now_s;
}

static void open_record(const struct expanding *e, const char *what, const char *kind, int64_t at_s,
                        const char *by)
{
    char id[ID_BYTES_MAX + 1];
    int length = snprintf(id, sizeof id, "%s-%s", e->form->id, what);
    ENSURE(length > 0 && (size_t)length < sizeof id); /* intake bounds the id of the form */
    json_open_object(e->json, NULL);
    json_put_text(e->json, "id", id);
    json_put_text(e->json, "kind", kind);
    json_put_instant(e->json, "at", at_s, e->job->zone);
    json_put_text(e->json, "by", by == NULL ? e->form->by : by);
}

static void put_task(const struct expanding *e, const struct taken_task *task)
{
    const struct task_rule *rule = &e->rulebook->tasks[task->task];
    const char *id = id_of(&task_ids, (int)task->task);
    const int64_t at_s = done_s(e, task);
    open_record(e, id, rule->hold || rule->inspection ? "passed" : "done", at_s, task->by);
    json_put_text(e->json, "task", id);
    json_put_bool(e->json, "taken_over", true);
    json_put_text(e->json, "note", e->form->reason);
    json_close(e->json);
    if (task->task != TASK_FACING_OTHERS || e->job->options.facing != FACING_MORTARED) return;
    open_record(e, "facing", "facing", at_s, task->by);
    json_put_bool(e->json, "last", true);
    json_put_text(e->json, "note", e->form->reason);
    json_close(e->json);
}

static void put_clock(const struct expanding *e, const struct taken_clock *clock)
{
    const char *id = id_of(&clock_ids, (int)clock->clock);
    open_record(e, id, "accepted", e->now_s, NULL);
    json_put_text(e->json, "clock", id);
    json_put_text(e->json, "reason", clock->reason != NULL ? clock->reason : e->form->reason);
    json_close(e->json);
}

/* The records in the order of the work: of two done on one day the earlier one stands first. */
static void expand(const struct expanding *e)
{
    json_open_array(e->json, NULL);
    for (int t = 0; t < TASK_COUNT; t++)
        for (size_t i = 0; i < e->form->task_count; i++)
            if ((int)e->form->tasks[i].task == t) put_task(e, &e->form->tasks[i]);
    for (size_t i = 0; i < e->form->clock_count; i++) put_clock(e, &e->form->clocks[i]);
    json_close(e->json);
}

/* What the job does not need cannot have been done; said before anything is stored. */
static enum status check_needed(const struct expanding *e, struct faults *faults)
{
    enum status status = STATUS_OK;
    for (size_t i = 0; i < e->form->task_count; i++) {
        const struct task_rule *rule = &e->rulebook->tasks[e->form->tasks[i].task];
        if (rulebook_holds(rule->when, rule->when_count, &e->job->options)) continue;
        char path[FAULT_PATH_MAX];
        (void)snprintf(path, sizeof path, "tasks[%zu].task", i);
        status = faults_add(faults, path, "work that the options of this job ask for", "%s",
                            id_of(&task_ids, (int)rule->task));
    }
    return status;
}

static enum status records_of(struct text *records, struct app *app, const char *job_id,
                              json_t *parsed, int64_t now_s, struct arena *arena,
                              struct faults *faults)
{
    struct app_view *view = NULL;
    enum status status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    const struct job *job = app_view_job(view, job_id);
    struct take_over form;
    if (job == NULL) {
        (void)faults_add(faults, "job", "the id of a job of this store", "\"%s\"", job_id);
        status = STATUS_NOT_FOUND;
    } else {
        const struct intake intake = {.arena = arena, .zones = NULL, .faults = faults};
        status = intake_take_over(&form, parsed, "", job->zone, now_s, &intake);
    }
    if (status == STATUS_OK) {
        struct json json = {.text = records};
        const struct expanding e = {&json, &form, job, app_view_rulebook(view, job), now_s};
        status = check_needed(&e, faults);
        if (status == STATUS_OK) expand(&e);
    }
    app_view_release(view);
    return status == STATUS_OK ? app_text_status(records, faults) : status;
}

enum status app_take_over(const struct app_added **out, size_t *out_count, struct app *app,
                          const char *job_id, const char *json, size_t length, const char *who,
                          int64_t now_s, struct arena *arena, struct faults *faults)
{
    *out = NULL;
    *out_count = 0;
    json_t *parsed = NULL;
    struct text records = TEXT_UP_TO(RECORDS_BYTES_MAX);
    enum status status = intake_parse(&parsed, json, length, faults);
    if (status == STATUS_OK)
        status = records_of(&records, app, job_id, parsed, now_s, arena, faults);
    json_decref(parsed);
    if (status == STATUS_OK)
        status = app_records_add(out, out_count, app, job_id, text_z(&records), records.length, who,
                                 now_s, arena, faults);
    text_free(&records);
    return status;
}
