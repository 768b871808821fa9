/* SPDX-License-Identifier: MIT */
/* Why: see form_post.h. */
#include "http/form_post.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "app/app_record.h"
#include "base/instant.h"
#include "http/plans.h"

#include "base/banned.h"

enum { RECORD_JSON_MAX = 1 << 16 };

/* The reader of forms takes a kind without the blanks around it: who asks whether that kind may be
 * written has to see the same. */
static bool bare_kinds(struct form_post *post, struct arena *arena)
{
    for (size_t i = 0; i < post->count; i++) {
        struct form_field *field = &post->fields[i];
        if (strcmp(field->name, "kind") != 0) continue;
        const char *value = field->value;
        while (isspace((unsigned char)*value)) value++;
        size_t length = strlen(value);
        while (length > 0 && isspace((unsigned char)value[length - 1])) length--;
        field->value = arena_copy(arena, value, length);
        if (field->value == NULL) return false;
    }
    return true;
}

enum status form_post_read(struct form_post *out, struct http_request *request)
{
    *out = (struct form_post){.fields = NULL};
    const enum status status =
        urlencoded_read(&out->fields, &out->count, text_z(&request->body), request->body.length,
                        HTTP_FORM_FIELDS_MAX, request->arena, &out->faults);
    if (status != STATUS_OK) return status;
    return bare_kinds(out, request->arena) ? STATUS_OK : STATUS_LIMIT;
}

/* The API names members of a record, a page its fields: `[0].min_degf` is the field `min`. */
static void rename_path(struct fault *fault)
{
    static const struct {
        const char *member;
        const char *field;
    } names[] = {{"degf", "degrees"},   {"degc", "degrees"}, {"mean_degf", "mean"},
                 {"mean_degc", "mean"}, {"min_degf", "min"}, {"min_degc", "min"},
                 {"at", "at_local"}};
    const char *dot = strrchr(fault->path, '.');
    char last[FAULT_PATH_MAX];
    (void)snprintf(last, sizeof last, "%s", dot == NULL ? fault->path : dot + 1);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        if (strcmp(last, names[i].member) == 0)
            (void)snprintf(last, sizeof last, "%s", names[i].field);
    }
    if (strchr(last, '[') != NULL || strcmp(last, "records") == 0) last[0] = '\0';
    memcpy(fault->path, last, strlen(last) + 1);
}

static enum status check_agreed(struct form_post *post, const struct job_plan *job)
{
    const char *kind = form_field_value(post->fields, post->count, "kind");
    if (kind == NULL || strcmp(kind, "agreed") != 0) return STATUS_OK;
    const char *date = form_field_value(post->fields, post->count, "date");
    int32_t day;
    if (date == NULL || date_parse(&day, date, strlen(date), NULL) != STATUS_OK)
        return STATUS_OK; /* the form's own reader tells it */
    const struct fire_plan *fire = &job->fire;
    if (fire->blocked_by != 0 || fire->cure_complete_day == DAY_NONE)
        return faults_add(&post->faults, "date", "a date the plan supports; it has none now", "%s",
                          date);
    if (day >= fire->cure_complete_day) return STATUS_OK;
    char first[DATE_TEXT_MAX];
    char wanted[FAULT_TEXT_MAX];
    date_format(first, fire->cure_complete_day);
    (void)snprintf(wanted, sizeof wanted, "%s or later", first);
    return faults_add(&post->faults, "date", wanted, "%s", date);
}

enum status form_post_store(struct form_post *post, struct http_request *request,
                            const struct job_plan *job, const char *who)
{
    struct text json = TEXT_UP_TO(RECORD_JSON_MAX);
    const struct app_added *added = NULL;
    size_t count = 0;
    enum status status = check_agreed(post, job);
    if (status == STATUS_OK)
        status = form_record_json(&json, post->fields, post->count, job->job, request->now_s,
                                  &post->said, &post->faults);
    if (status == STATUS_OK) {
        status = app_records_add(&added, &count, request->tools->app, job->job->id, text_z(&json),
                                 json.length, who, request->now_s, request->arena, &post->faults);
        for (size_t i = 0; i < post->faults.count; i++) rename_path(&post->faults.items[i]);
    }
    if (status == STATUS_OK) plans_wrote(request->tools->plans, request->now_s);
    text_free(&json);
    return status;
}

struct form_echo form_post_echo(const struct form_post *post, const char *job_id)
{
    return (struct form_echo){.form = form_field_value(post->fields, post->count, "form"),
                              .job_id = job_id,
                              .fields = post->fields,
                              .field_count = post->count,
                              .faults = post->faults.items,
                              .fault_count = post->faults.count};
}

void form_post_sent(const struct form_post *post, struct http_request *request,
                    struct http_reply *reply, const char *path)
{
    reply_see_other(reply, arena_print(request->arena, "%s?sent=%s", path,
                                       post->said.hour_twice ? "twice" : "1"));
}

void form_post_free(struct form_post *post)
{
    faults_free(&post->faults);
}
