/* SPDX-License-Identifier: MIT */
/*
 * Photos in and out: raw bodies, no multipart (the packaged library's reader of those had an
 * overflow). The crew reaches the photos of its own jobs by its link, the owner those of every job;
 * a homeowner's link opens none. A photo is answered so that a browser can only show it: its own
 * media type, no sniffing, a sandbox without anything in it.
 */
#include <string.h>

#include "app/app_photo.h"
#include "app/app_plan.h"
#include "base/instant.h"
#include "base/json.h"
#include "http/handlers.h"
#include "http/link_open.h"
#include "http/today.h"
#include "model/record.h"

#include "base/banned.h"

static void put_photo(struct json *json, const struct app_photo *photo)
{
    json_open_object(json, NULL);
    json_put_text(json, "id", photo->id);
    json_put_text(json, "job", photo->job_id);
    json_put_text(json, "type", photo->type);
    json_put_integer(json, "width", photo->width);
    json_put_integer(json, "height", photo->height);
    json_put_integer(json, "size", photo->size);
    json_put_text(json, "sha256", photo->sha256);
    json_put_instant(json, "taken", photo->taken_s, NULL);
    json_put_instant(json, "received", photo->received_s, NULL);
    json_put_text(json, "who", photo->who);
    json_close(json);
}

/* ?taken=INSTANT, by the clock of who took it; false after the fault was told. */
static bool read_taken(int64_t *out, struct http_request *request, struct http_reply *reply)
{
    const char *text = request_query(request, "taken");
    *out = INSTANT_NONE;
    struct fault fault = {0};
    if (text == NULL || instant_parse(out, text, strlen(text), &fault) == STATUS_OK) return true;
    struct faults faults = {0};
    (void)faults_add(&faults, "taken", fault.wanted, "%s", fault.found);
    reply_status(request, reply, STATUS_INVALID, &faults);
    return false;
}

static enum problem problem_of(const struct app_photo_kept *kept, enum status status)
{
    if (kept->no_room) return PROBLEM_PHOTOS_FULL;
    if (kept->not_image) return PROBLEM_MEDIA_TYPE;
    return problem_of_status(status);
}

static void put(struct http_request *request, struct http_reply *reply, const char *job_id,
                const char *id, const char *who)
{
    struct app_photo_sent sent = {.job_id = job_id,
                                  .id = id,
                                  .type = request_header(request, "Content-Type"),
                                  .bytes = text_z(&request->body),
                                  .length = request->body.length,
                                  .who = who,
                                  .now_s = request->now_s};
    if (!read_taken(&sent.taken_s, request, reply)) return;
    struct faults faults = {0};
    struct app_photo_kept kept;
    const enum status status = app_photo_put(&kept, request->tools->app, &sent, &faults);
    if (status != STATUS_OK) {
        reply_problem(request, reply, problem_of(&kept, status),
                      kept.no_room ? "There is no more room for photos. The owner can make some: "
                                     "raise photos_mib of the company."
                                   : NULL,
                      &faults);
        faults_free(&faults);
        return;
    }
    struct json json = {.text = &reply->body};
    put_photo(&json, &kept.photo);
    reply_json(reply, kept.created ? 201 : 200);
}

static void get(struct http_request *request, struct http_reply *reply,
                const struct app_photo *photo)
{
    struct faults faults = {0};
    reply->status = 200;
    reply->type = photo->type;
    reply->picture = true;
    reply_tag(reply, "%.32s", photo->sha256);
    reply->cache = "private, max-age=31536000, immutable";
    if (reply_not_modified(request, reply)) return;
    const enum status status =
        app_photo_bytes(&reply->body, request->tools->app, photo->id, &faults);
    if (status != STATUS_OK) reply_status(request, reply, status, &faults);
}

/* The photo of an id; false after the fault was told. */
static bool find(struct app_photo *out, struct http_request *request, struct http_reply *reply,
                 const char *id)
{
    struct faults faults = {0};
    const enum status status =
        app_photo_find(out, request->tools->app, id, request->arena, &faults);
    if (status == STATUS_OK) return true;
    reply_status(request, reply, status, &faults);
    return false;
}

static void not_there(struct http_request *request, struct http_reply *reply)
{
    reply_problem(request, reply, PROBLEM_NOT_FOUND, NULL, NULL);
}

void h_photo_put(struct http_request *request, struct http_reply *reply)
{
    put(request, reply, request->match.captures[0], request->match.captures[1], request->who.name);
}

void h_photo_get(struct http_request *request, struct http_reply *reply)
{
    struct app_photo photo;
    if (!find(&photo, request, reply, request->match.captures[1])) return;
    if (strcmp(photo.job_id, request->match.captures[0]) == 0)
        get(request, reply, &photo);
    else
        not_there(request, reply);
}

void h_photos_list(struct http_request *request, struct http_reply *reply)
{
    struct faults faults = {0};
    const struct app_photo *photos = NULL;
    size_t count = 0;
    struct app_photo_room room = {0};
    enum status status = app_photo_list(&photos, &count, request->tools->app,
                                        request->match.captures[0], request->arena, &faults);
    if (status == STATUS_OK) status = app_photo_room(&room, request->tools->app, &faults);
    if (status != STATUS_OK) {
        reply_status(request, reply, status, &faults);
        return;
    }
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_open_array(&json, "photos");
    for (size_t i = 0; i < count; i++) put_photo(&json, &photos[i]);
    json_close(&json);
    json_open_object(&json, "room");
    json_put_integer(&json, "photos", room.count);
    json_put_integer(&json, "bytes", room.bytes);
    json_put_integer(&json, "bytes_max", room.bytes_max);
    json_close(&json);
    json_close(&json);
    reply_json(reply, 200);
}

/* A job of the crew; NULL when it is another's, or none at all: not told apart. */
static const struct job_plan *job_of_crew(const struct plans_entry *entry, const struct crew *crew,
                                          const char *job_id)
{
    const struct plan *plan = plans_plan(entry);
    const struct job_plan *job = job_id == NULL ? NULL : app_plan_find(plan, job_id);
    return job != NULL && today_crew_has(plan, crew->id, job->job) ? job : NULL;
}

void h_crew_photo_put(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    const struct job_plan *job = job_of_crew(entry, crew, request_query(request, "job"));
    if (job == NULL)
        reply_problem(request, reply, PROBLEM_DENIED, "not a job of this crew", NULL);
    else
        put(request, reply, job->job->id, request->match.captures[1], request->who.name);
    plans_release(entry);
}

void h_crew_photo_get(struct http_request *request, struct http_reply *reply)
{
    struct plans_entry *entry = NULL;
    const struct crew *crew = link_open_crew(&entry, request, reply);
    if (crew == NULL) return;
    struct app_photo photo;
    if (find(&photo, request, reply, request->match.captures[1])) {
        if (job_of_crew(entry, crew, photo.job_id) != NULL)
            get(request, reply, &photo);
        else
            not_there(request, reply);
    }
    plans_release(entry);
}
