/* SPDX-License-Identifier: MIT */
/* Why: see app_photo_case.h. A file's name is made here from the id, never taken from the list: a
 * list from outside can lead nowhere else. */
#include "app/app_photo_case.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "app/app_internal.h"
#include "base/instant.h"
#include "base/json.h"
#include "base/limits.h"
#include "intake/image.h"
#include "model/record.h"
#include "store/store_photo.h"

#include "base/banned.h"

void app_photo_file(char out[APP_PHOTO_FILE_MAX], const struct app_photo *photo)
{
    const int length = snprintf(out, APP_PHOTO_FILE_MAX, "photos/%s.%s", photo->id, photo->ending);
    ENSURE(length > 0 && length < APP_PHOTO_FILE_MAX);
}

static void put_photo(struct json *json, const struct app_photo *photo)
{
    char file[APP_PHOTO_FILE_MAX];
    app_photo_file(file, photo);
    json_open_object(json, NULL);
    json_put_text(json, "id", photo->id);
    json_put_text(json, "file", file);
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
    text_add_byte(json->text, '\n');
}

enum status app_photo_list_write(struct text *out, struct app *app, struct faults *faults)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return app_no_memory(faults);
    const struct app_photo *photos = NULL;
    size_t count = 0;
    enum status status = app_photo_list(&photos, &count, app, NULL, arena, faults);
    if (status == STATUS_OK) {
        struct json json = {.text = out};
        json_open_object(&json, NULL);
        json_put_integer(&json, "emberwait_photos", 1);
        json_open_array(&json, "photos");
        for (size_t i = 0; i < count; i++) put_photo(&json, &photos[i]);
        json_close(&json);
        json_close(&json);
        text_add_byte(out, '\n');
        status = app_text_status(out, faults);
    }
    arena_free(arena);
    return status;
}

/* --- in ------------------------------------------------------------------------------------ */

struct importing {
    struct app *app;
    app_photo_reader *read;
    void *context;
    struct text bytes;
    struct app_photos_imported counts;
    struct faults *faults;
};

static const char *text_of(const json_t *json, const char *name)
{
    return json_string_value(json_object_get(json, name));
}

static enum status instant_of(int64_t *out, const json_t *json, const char *name, bool needed,
                              struct faults *faults)
{
    const char *text = text_of(json, name);
    *out = INSTANT_NONE;
    struct fault fault = {0};
    if (text == NULL && !needed) return STATUS_OK;
    if (text != NULL && instant_parse(out, text, strlen(text), &fault) == STATUS_OK)
        return STATUS_OK;
    return faults_add(faults, name, "an instant like 2026-10-23T18:00:00Z", "%.80s",
                      text == NULL ? "nothing" : text);
}

/* A row of the list, as far as it can be read without its file. */
static enum status row_read(struct app_photo_sent *out, char file[APP_PHOTO_FILE_MAX],
                            const json_t *row, struct faults *faults)
{
    *out = (struct app_photo_sent){.id = text_of(row, "id"),
                                   .job_id = text_of(row, "job"),
                                   .type = text_of(row, "type"),
                                   .who = text_of(row, "who"),
                                   .any_room = true};
    enum image_kind kind = IMAGE_JPEG;
    if (out->id == NULL || !app_photo_id_valid(out->id))
        return faults_add(faults, "id", "a UUID in small letters", "%.80s",
                          out->id == NULL ? "nothing" : out->id);
    if (out->job_id == NULL || out->type == NULL || !image_type_parse(&kind, out->type))
        return faults_add(faults, out->id, "a job and a media type of a picture", "%.80s",
                          out->type == NULL ? "nothing" : out->type);
    const struct app_photo photo = {.id = out->id, .ending = image_ending(kind)};
    app_photo_file(file, &photo);
    enum status status = instant_of(&out->taken_s, row, "taken", false, faults);
    if (status == STATUS_OK) status = instant_of(&out->now_s, row, "received", true, faults);
    return status;
}

/* The file of a row, held against it. */
static enum status row_load(struct importing *importing, struct app_photo_sent *sent,
                            const json_t *row)
{
    char file[APP_PHOTO_FILE_MAX];
    enum status status = row_read(sent, file, row, importing->faults);
    if (status != STATUS_OK) return status;
    text_clear(&importing->bytes);
    if (!importing->read(importing->context, file, &importing->bytes))
        return faults_add(importing->faults, file, "a file that can be read", "none");
    unsigned char sha256[STORE_SHA256_BYTES];
    char hex[APP_PHOTO_SHA256_TEXT_MAX];
    sent->bytes = text_z(&importing->bytes);
    sent->length = importing->bytes.length;
    store_photo_sha256(sha256, sent->bytes, sent->length);
    (void)sodium_bin2hex(hex, sizeof hex, sha256, sizeof sha256);
    const char *said = text_of(row, "sha256");
    if (said != NULL && strcmp(said, hex) == 0) return STATUS_OK;
    return faults_add(importing->faults, file, "the sha256 that the list gives", "%s", hex);
}

static enum status row_keep(struct importing *importing, const json_t *row)
{
    struct app_photo_sent sent;
    enum status status = row_load(importing, &sent, row);
    struct app_photo_kept kept;
    if (status == STATUS_OK)
        status = app_photo_put(&kept, importing->app, &sent, importing->faults);
    if (status != STATUS_OK) return status;
    importing->counts.photos += kept.created;
    importing->counts.photos_known += !kept.created;
    return STATUS_OK;
}

static enum status rows_import(struct importing *importing, const json_t *rows)
{
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < json_array_size(rows); i++) {
        struct app_photo_sent sent;
        status = row_load(importing, &sent, json_array_get(rows, i));
    }
    for (size_t i = 0; status == STATUS_OK && i < json_array_size(rows); i++)
        status = row_keep(importing, json_array_get(rows, i));
    return status;
}

enum status app_photos_import(struct app_photos_imported *out, struct app *app, const char *json,
                              size_t length, app_photo_reader *read, void *context,
                              struct faults *faults)
{
    *out = (struct app_photos_imported){0};
    json_t *root = NULL;
    enum status status = intake_parse(&root, json, length, faults);
    if (status != STATUS_OK) return status;
    struct importing importing = {.app = app,
                                  .read = read,
                                  .context = context,
                                  .bytes = TEXT_UP_TO(PHOTO_BYTES_MAX),
                                  .faults = faults};
    const json_t *rows = json_object_get(root, "photos");
    if (json_number_value(json_object_get(root, "emberwait_photos")) == 1.0 && json_is_array(rows))
        status = rows_import(&importing, rows);
    else
        status =
            faults_add(faults, "photos", "a list of photos, emberwait_photos 1", "another file");
    *out = importing.counts;
    text_free(&importing.bytes);
    json_decref(root);
    return status;
}
