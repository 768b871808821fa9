/* SPDX-License-Identifier: MIT */
/* Why: see app_photo.h. Hashing and looking at the header happen in the caller's thread; the one
 * writing thread only writes. */
#include "app/app_photo.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "app/app_internal.h"
#include "base/limits.h"
#include "intake/image.h"
#include "model/record.h"
#include "store/store_photo.h"

#include "base/banned.h"

enum { MIB = 1 << 20 };

bool app_photo_id_valid(const char *id)
{
    if (strlen(id) != APP_PHOTO_ID_CHARACTERS) return false;
    for (size_t i = 0; i < APP_PHOTO_ID_CHARACTERS; i++) {
        const bool dash = i == 8 || i == 13 || i == 18 || i == 23;
        const bool digit = (id[i] >= '0' && id[i] <= '9') || (id[i] >= 'a' && id[i] <= 'f');
        if (dash ? id[i] != '-' : !digit) return false;
    }
    return true;
}

static bool photo_out(struct app_photo *out, const struct store_photo *row)
{
    enum image_kind kind = IMAGE_JPEG;
    if (!image_type_parse(&kind, row->type)) return false;
    *out = (struct app_photo){.id = row->id,
                              .job_id = row->job_id,
                              .type = image_type(kind),
                              .ending = image_ending(kind),
                              .width = (int)row->width,
                              .height = (int)row->height,
                              .taken_s = row->taken_s,
                              .received_s = row->received_s,
                              .who = row->who,
                              .size = row->size};
    (void)sodium_bin2hex(out->sha256, sizeof out->sha256, row->sha256, sizeof row->sha256);
    return true;
}

/* --- in ------------------------------------------------------------------------------------ */

struct keeping {
    const struct app_photo_sent *sent;
    struct store_photo row;
    int64_t bytes_max;
    bool created;
    bool no_room;
};

static enum status room_check(struct keeping *keeping, struct store_txn *txn, struct fault *fault)
{
    int64_t count = 0;
    int64_t bytes = 0;
    const enum status status = store_photo_total(txn, &count, &bytes, fault);
    if (status != STATUS_OK || bytes <= keeping->bytes_max) return status;
    keeping->no_room = true;
    fault_set(
        fault, "photos",
        "room: raise photos_mib of the company (PUT /api/v1/company); no photo is ever thrown "
        "away to make some",
        "%lld photos that fill the %lld MiB set for them",
        (long long)count - (keeping->created ? 1 : 0), (long long)(keeping->bytes_max / MIB));
    return STATUS_LIMIT;
}

static enum status keep_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct keeping *keeping = context;
    keeping->created = false;
    keeping->no_room = false;
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_job job = {0};
    enum status status = store_job_find(txn, keeping->row.job_id, &job, arena, fault);
    if (status == STATUS_OK) {
        status = store_photo_add(txn, job.number, &keeping->row, keeping->sent->bytes,
                                 &keeping->created, fault);
    }
    if (status == STATUS_OK && keeping->created && !keeping->sent->any_room)
        status = room_check(keeping, txn, fault);
    arena_free(arena);
    return status;
}

static enum status bytes_max(int64_t *out, struct app *app, struct faults *faults)
{
    struct app_view *view = NULL;
    const enum status status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    *out = (int64_t)app_view_case(view)->company.photos_mib * MIB;
    app_view_release(view);
    return STATUS_OK;
}

/* What can be said of it without the store. */
static enum status look(struct store_photo *row, struct app_photo_kept *out,
                        const struct app_photo_sent *sent, struct faults *faults)
{
    if (!app_photo_id_valid(sent->id))
        return faults_add(faults, "photo", "a UUID in small letters, made by who sends the photo",
                          "\"%.80s\"", sent->id);
    struct fault fault = {0};
    struct image image = {.kind = IMAGE_JPEG};
    enum status status = STATUS_OK;
    if (sent->length > PHOTO_BYTES_MAX) {
        fault_set(&fault, "body", "at most 2 MiB a photo: make it smaller before sending it",
                  "%zu bytes", sent->length);
        status = STATUS_LIMIT;
    }
    if (status == STATUS_OK) status = image_read(&image, sent->bytes, sent->length, &fault);
    enum image_kind said = image.kind;
    if (status == STATUS_OK && sent->type != NULL &&
        (!image_type_parse(&said, sent->type) || said != image.kind)) {
        fault_set(&fault, "Content-Type", image_type(image.kind), "%.80s", sent->type);
        status = STATUS_INVALID;
    }
    out->not_image = status == STATUS_INVALID;
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    *row = (struct store_photo){.job_id = sent->job_id,
                                .id = sent->id,
                                .type = image_type(image.kind),
                                .width = image.width,
                                .height = image.height,
                                .taken_s = sent->taken_s,
                                .received_s = sent->now_s,
                                .who = sent->who,
                                .size = (int64_t)sent->length};
    store_photo_sha256(row->sha256, sent->bytes, sent->length);
    return STATUS_OK;
}

enum status app_photo_put(struct app_photo_kept *out, struct app *app,
                          const struct app_photo_sent *sent, struct faults *faults)
{
    *out = (struct app_photo_kept){.created = false};
    struct keeping keeping = {.sent = sent};
    enum status status = look(&keeping.row, out, sent, faults);
    if (status == STATUS_OK) status = bytes_max(&keeping.bytes_max, app, faults);
    if (status != STATUS_OK) return status;
    struct fault fault = {0};
    status = store_write_large(app->store, (struct store_work){keep_run, &keeping, false},
                               sent->length, &fault);
    out->no_room = keeping.no_room && status == STATUS_LIMIT;
    out->created = keeping.created;
    ENSURE(photo_out(&out->photo, &keeping.row));
    return app_fault(faults, status, &fault);
}

/* --- out ----------------------------------------------------------------------------------- */

struct seeking {
    const char *id; /**< of a photo, or of a job; NULL: every photo */
    struct store_photo row;
    const struct store_photo *all;
    size_t count;
    struct text *text;
    struct arena *arena;
};

static enum status find_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct seeking *seeking = context;
    return store_photo_find(txn, seeking->id, &seeking->row, seeking->arena, fault);
}

static enum status bytes_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct seeking *seeking = context;
    return store_photo_body(txn, seeking->id, seeking->text, fault);
}

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct seeking *seeking = context;
    struct store_job job = {.number = 0};
    if (seeking->id != NULL) {
        const enum status status = store_job_find(txn, seeking->id, &job, seeking->arena, fault);
        if (status != STATUS_OK) return status;
    }
    return store_photo_list(txn, job.number, &seeking->all, &seeking->count, seeking->arena, fault);
}

static enum status corrupt(struct faults *faults, const char *type)
{
    (void)faults_add(faults, "photo", "a media type of ours", "\"%.80s\"", type);
    return STATUS_CORRUPT;
}

enum status app_photo_find(struct app_photo *out, struct app *app, const char *id,
                           struct arena *arena, struct faults *faults)
{
    struct seeking seeking = {.id = id, .arena = arena};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){find_run, &seeking, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    return photo_out(out, &seeking.row) ? STATUS_OK : corrupt(faults, seeking.row.type);
}

enum status app_photo_bytes(struct text *out, struct app *app, const char *id,
                            struct faults *faults)
{
    struct seeking seeking = {.id = id, .text = out};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){bytes_run, &seeking, false}, &fault);
    return app_fault(faults, status, &fault);
}

enum status app_photo_list(const struct app_photo **out, size_t *out_count, struct app *app,
                           const char *job_id, struct arena *arena, struct faults *faults)
{
    struct seeking seeking = {.id = job_id, .arena = arena};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){list_run, &seeking, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct app_photo *photos = ARENA_TAKE(arena, seeking.count, struct app_photo);
    if (photos == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < seeking.count; i++) {
        if (!photo_out(&photos[i], &seeking.all[i])) return corrupt(faults, seeking.all[i].type);
    }
    *out = photos;
    *out_count = seeking.count;
    return STATUS_OK;
}

static enum status room_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct app_photo_room *room = context;
    return store_photo_total(txn, &room->count, &room->bytes, fault);
}

enum status app_photo_room(struct app_photo_room *out, struct app *app, struct faults *faults)
{
    *out = (struct app_photo_room){0};
    enum status status = bytes_max(&out->bytes_max, app, faults);
    if (status != STATUS_OK) return status;
    struct fault fault = {0};
    status = store_read(app->store, (struct store_work){room_run, out, false}, &fault);
    return app_fault(faults, status, &fault);
}
