/* SPDX-License-Identifier: MIT */
/* Why: see app_keep.h. A copy is worth what its check is worth, so no copy gets its name unchecked.
 */
#include "app/app_keep.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "app/app_internal.h"
#include "app/app_record.h"
#include "base/datadir.h"
#include "base/instant.h"
#include "base/limits.h"
#include "intake/image.h"
#include "store/store_keep.h"
#include "store/store_photo.h"
#include "store/store_station.h"

#include "base/banned.h"

enum { KEEP_PATH_MAX = 4096 };

/* --- verify -------------------------------------------------------------------------------- */

struct verifying {
    struct app *app;
    const char *migrations;
    struct app_verified counts;
    enum status status; /**< the worst */
    struct text text;
    struct faults *faults;
};

static void worse(struct verifying *verifying, enum status status)
{
    if (status == STATUS_INVALID || status == STATUS_NOT_FOUND) status = STATUS_CORRUPT;
    if (verifying->status == STATUS_OK) verifying->status = status;
}

static bool text_same(const json_t *json, const char *name, const char *column)
{
    const char *said = json_string_value(json_object_get(json, name));
    if (said == NULL || column == NULL) return said == NULL && column == NULL;
    return strcmp(said, column) == 0;
}

static bool instant_same(const json_t *json, const char *name, int64_t column)
{
    const char *said = json_string_value(json_object_get(json, name));
    int64_t at_s = 0;
    return said != NULL && instant_parse(&at_s, said, strlen(said), NULL) == STATUS_OK &&
           at_s == column;
}

/* What the columns say must be what the body says, and the body must be in its one form. */
static const char *record_wrong(struct verifying *verifying, const json_t *json,
                                const struct store_record *record)
{
    static const char *const less[] = {"received", "who", NULL};
    if (!text_same(json, "id", record->id)) return "id";
    if (!text_same(json, "kind", record->kind)) return "kind";
    if (!text_same(json, "who", record->who)) return "who";
    if (!instant_same(json, "at", record->at_s)) return "at";
    if (!instant_same(json, "received", record->received_s)) return "received";
    text_clear(&verifying->text);
    app_canonical(&verifying->text, json, NULL);
    if (verifying->text.length != record->body_length ||
        memcmp(verifying->text.data, record->body, record->body_length) != 0) {
        return "body";
    }
    unsigned char sent[STORE_HASH_BYTES];
    text_clear(&verifying->text);
    app_canonical(&verifying->text, json, less);
    store_hash(sent, verifying->text.data, verifying->text.length, NULL, 0, NULL, 0);
    return memcmp(sent, record->sent, sizeof sent) == 0 ? NULL : "sent";
}

static void record_verify(const struct store_link_of_chain *link, void *context)
{
    struct verifying *verifying = context;
    json_t *json = NULL;
    char path[FAULT_PATH_MAX];
    (void)snprintf(path, sizeof path, "records[%lld]", (long long)link->seq);
    const enum status status =
        app_parse_stored(&json, link->record.body, link->record.body_length, verifying->faults);
    worse(verifying, status);
    if (status != STATUS_OK) {
        (void)faults_add(verifying->faults, path, "a body that is JSON", "something else");
        return;
    }
    const char *wrong = record_wrong(verifying, json, &link->record);
    if (wrong != NULL) {
        (void)faults_add(verifying->faults, path, "columns that agree with the body",
                         "another \"%s\" (id \"%s\")", wrong, link->record.id);
        worse(verifying, STATUS_CORRUPT);
    }
    json_decref(json);
}

static enum status bodies_verify(struct verifying *verifying, struct store_txn *txn,
                                 struct arena *arena)
{
    struct company company;
    int64_t version = 0;
    enum status status =
        app_company_read(&company, &version, verifying->app, txn, arena, verifying->faults);
    worse(verifying, status);
    if (status == STATUS_OK) {
        worse(verifying, app_jobs_check(verifying->app, txn, company.zone, verifying->faults));
    }
    const struct store_station *stations = NULL;
    const struct store_job *jobs = NULL;
    struct fault fault = {0};
    status = store_station_list(txn, &stations, &verifying->counts.stations, arena, &fault);
    if (status == STATUS_OK) {
        status = store_job_list(txn, &jobs, &verifying->counts.jobs, arena, &fault);
    }
    for (size_t i = 0; status == STATUS_OK && i < verifying->counts.stations; i++) {
        struct series observed, forecast;
        status = store_station_hours(txn, stations[i].number, &observed, &forecast, arena, &fault);
    }
    return app_fault(verifying->faults, status, &fault);
}

/* What a photo's columns say, against its bytes; NULL when they agree. */
static const char *photo_wrong(const struct store_photo *photo, const struct text *bytes)
{
    unsigned char sha256[STORE_SHA256_BYTES];
    store_photo_sha256(sha256, text_z(bytes), bytes->length);
    if (memcmp(sha256, photo->sha256, sizeof sha256) != 0) return "sha256";
    struct image image;
    struct fault fault;
    if (image_read(&image, text_z(bytes), bytes->length, &fault) != STATUS_OK) return "body";
    if (strcmp(image_type(image.kind), photo->type) != 0) return "type";
    if (image.width != photo->width || image.height != photo->height) return "size in pixels";
    return NULL;
}

static enum status photos_verify(struct verifying *verifying, struct store_txn *txn,
                                 struct arena *arena)
{
    const struct store_photo *photos = NULL;
    struct fault fault = {0};
    enum status status =
        store_photo_list(txn, 0, &photos, &verifying->counts.photos, arena, &fault);
    struct text bytes = TEXT_UP_TO(PHOTO_BYTES_MAX);
    for (size_t i = 0; status == STATUS_OK && i < verifying->counts.photos; i++) {
        text_clear(&bytes);
        status = store_photo_body(txn, photos[i].id, &bytes, &fault);
        const char *wrong = status == STATUS_OK ? photo_wrong(&photos[i], &bytes) : NULL;
        if (wrong == NULL) continue;
        char path[FAULT_PATH_MAX];
        (void)snprintf(path, sizeof path, "photos[%s]", photos[i].id);
        (void)faults_add(verifying->faults, path, "bytes that agree with what is said of them",
                         "another %s", wrong);
        worse(verifying, STATUS_CORRUPT);
    }
    text_free(&bytes);
    return app_fault(verifying->faults, status, &fault);
}

static enum status verify_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct verifying *verifying = context;
    (void)fault;
    worse(verifying, store_keep_check(txn, verifying->migrations, &verifying->counts.migrations,
                                      verifying->faults));
    worse(verifying, store_record_walk(txn, record_verify, verifying, &verifying->counts.records,
                                       verifying->faults));
    struct arena *arena = arena_new();
    worse(verifying,
          arena == NULL ? app_no_memory(verifying->faults) : bodies_verify(verifying, txn, arena));
    if (arena != NULL && verifying->counts.migrations >= STORE_PHOTO_MIGRATION)
        worse(verifying, photos_verify(verifying, txn, arena));
    arena_free(arena);
    return STATUS_OK;
}

static enum status verify(struct verifying *verifying, const char *path, const char *vfs)
{
    const struct store_options options = {.path = path,
                                          .migrations = verifying->migrations,
                                          .vfs = vfs,
                                          .read_only = true,
                                          .unchecked = true};
    struct fault fault = {0};
    enum status status = store_open(&verifying->app->store, &options, &fault);
    if (status != STATUS_OK) return app_fault(verifying->faults, status, &fault);
    status = store_read(verifying->app->store, (struct store_work){verify_run, verifying, false},
                        &fault);
    store_close(verifying->app->store);
    return status == STATUS_OK ? verifying->status : app_fault(verifying->faults, status, &fault);
}

enum status app_verify(struct app_verified *out, const char *path, const char *vfs,
                       struct faults *faults)
{
    char migrations[KEEP_PATH_MAX];
    const int length = snprintf(migrations, sizeof migrations, "%s/schema/migrations", data_dir());
    if (length < 0 || (size_t)length >= sizeof migrations) return STATUS_IO;
    struct app app = {.read_only = true};
    ENSURE(pthread_mutex_init(&app.zones_mutex, NULL) == 0);
    app.zones = intake_zones_new();
    struct verifying verifying = {.app = &app,
                                  .migrations = migrations,
                                  .text = TEXT_UP_TO(APP_BODY_BYTES_MAX),
                                  .faults = faults};
    const enum status status =
        app.zones == NULL ? app_no_memory(faults) : verify(&verifying, path, vfs);
    if (out != NULL) *out = verifying.counts;
    text_free(&verifying.text);
    intake_zones_free(app.zones);
    (void)pthread_mutex_destroy(&app.zones_mutex);
    return status;
}

/* --- copies -------------------------------------------------------------------------------- */

static enum status part_name(char out[KEEP_PATH_MAX], const char *path, struct faults *faults)
{
    char id[APP_ID_TEXT_MAX];
    app_new_id(id);
    const int length = snprintf(out, KEEP_PATH_MAX, "%s.part-%.8s", path, id);
    if (length > 0 && length < KEEP_PATH_MAX) return STATUS_OK;
    return faults_add(faults, "path", "a shorter path", "%zu bytes", strlen(path));
}

static enum status fresh(const char *path, struct faults *faults)
{
    if (access(path, F_OK) != 0) return STATUS_OK;
    (void)faults_add(faults, path, "a file that is not there yet", "one that is");
    return STATUS_CONFLICT;
}

/* The copy under its passing name: check it, then give it its own. */
static enum status finish(const char *part, const char *path, bool replace, struct faults *faults)
{
    struct fault fault = {0};
    enum status status = app_verify(NULL, part, NULL, faults);
    if (status == STATUS_OK) {
        status = app_fault(faults, store_keep_place(part, path, replace, &fault), &fault);
    }
    if (status != STATUS_OK) (void)unlink(part);
    return status;
}

static enum status backup(struct app *app, const char *path, const char *copy,
                          struct faults *faults)
{
    char part[KEEP_PATH_MAX];
    struct fault fault = {0};
    enum status status = fresh(copy, faults);
    if (status == STATUS_OK) status = part_name(part, copy, faults);
    if (status != STATUS_OK) return status;
    status = app != NULL ? store_keep_copy_live(app->store, part, &fault)
                         : store_keep_copy(path, part, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    return finish(part, copy, false, faults);
}

enum status app_backup(const char *path, const char *copy, struct faults *faults)
{
    return backup(NULL, path, copy, faults);
}

enum status app_backup_live(struct app *app, const char *copy, struct faults *faults)
{
    return backup(app, NULL, copy, faults);
}

enum status app_restore(const char *copy, const char *path, bool force, struct faults *faults)
{
    char part[KEEP_PATH_MAX];
    struct fault fault = {0};
    enum status status = force ? STATUS_OK : fresh(path, faults);
    if (status == STATUS_OK) status = app_verify(NULL, copy, NULL, faults);
    if (status == STATUS_OK) status = part_name(part, path, faults);
    if (status != STATUS_OK) return status;
    status = store_keep_copy(copy, part, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    return finish(part, path, force, faults);
}
