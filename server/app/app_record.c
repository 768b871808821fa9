/* SPDX-License-Identifier: MIT */
/*
 * Why: see app_record.h. Records are checked against the newest view before the write is queued, so
 * that the one writing thread only writes. The write then makes sure that the job's body and the
 * company are still those it was checked with; if not, it is checked again.
 */
#include "app/app_record.h"

#include <sodium.h>
#include <stdio.h>
#include <string.h>

#include "app/app_accept.h"
#include "app/app_internal.h"
#include "app/app_plan.h"
#include "base/instant.h"
#include "base/json.h"
#include "base/limits.h"
#include "model/record.h"

#include "base/banned.h"

enum { RECORD_BYTES_MAX = 1048576 };

/* --- made ready ---------------------------------------------------------------------------- */

static const char *text_of(const json_t *json, const char *name)
{
    return json_string_value(json_object_get(json, name));
}

/* `received` and `who` as they are to be stored. */
static bool stamp(json_t *json, const char *who, int64_t now_s, bool keep)
{
    if (!keep || text_of(json, "received") == NULL) {
        char received[INSTANT_TEXT_MAX];
        instant_format(received, now_s, NULL);
        if (json_object_set_new(json, "received", json_string(received)) != 0) return false;
    }
    if (who == NULL || (keep && text_of(json, "who") != NULL)) return true;
    return json_object_set_new(json, "who", json_string(who)) == 0;
}

static enum status ready(struct store_record *out, json_t *json, const char *who, int64_t now_s,
                         bool keep, struct text *text, struct arena *arena, struct faults *faults)
{
    static const char *const less[] = {"received", "who", NULL};
    text_clear(text);
    app_canonical(text, json, less);
    if (!text->failed) store_hash(out->sent, text->data, text->length, NULL, 0, NULL, 0);
    if (!stamp(json, who, now_s, keep)) return app_no_memory(faults);
    const size_t from = text->length;
    app_canonical(text, json, NULL);
    const enum status status = app_text_status(text, faults);
    if (status != STATUS_OK) return status;
    out->body_length = text->length - from;
    out->body = arena_copy(arena, text->data + from, out->body_length);
    out->id = text_of(json, "id");
    out->kind = text_of(json, "kind");
    out->who = text_of(json, "who");
    const char *at = text_of(json, "at");
    const char *received = text_of(json, "received");
    ENSURE(out->id != NULL && out->kind != NULL && at != NULL && received != NULL);
    ENSURE(instant_parse(&out->at_s, at, strlen(at), NULL) == STATUS_OK);
    ENSURE(instant_parse(&out->received_s, received, strlen(received), NULL) == STATUS_OK);
    return out->body == NULL ? app_no_memory(faults) : STATUS_OK;
}

enum status app_records_ready(const struct store_record **out, json_t *array, const char *who,
                              int64_t now_s, bool keep, struct arena *arena, struct faults *faults)
{
    const size_t count = json_array_size(array);
    struct store_record *records = ARENA_TAKE(arena, count, struct store_record);
    if (records == NULL) return app_no_memory(faults);
    struct text text = TEXT_UP_TO(2 * RECORD_BYTES_MAX);
    enum status status = STATUS_OK;
    for (size_t i = 0; status == STATUS_OK && i < count; i++) {
        status =
            ready(&records[i], json_array_get(array, i), who, now_s, keep, &text, arena, faults);
    }
    text_free(&text);
    *out = records;
    return status;
}

/* --- adding -------------------------------------------------------------------------------- */

struct adding {
    const char *job_id;
    const struct store_record *records;
    size_t count;
    struct app_added *added;
    int64_t company_version;
    unsigned char body_hash[STORE_HASH_BYTES];
    bool stale;
};

static enum status add_all(struct adding *adding, struct store_txn *txn,
                           const struct store_job *job, struct fault *fault)
{
    size_t there = 0;
    size_t created = 0;
    enum status status = store_record_count(txn, job->number, &there, fault);
    for (size_t i = 0; status == STATUS_OK && i < adding->count; i++) {
        adding->added[i].id = adding->records[i].id;
        status = store_record_add(txn, job->number, job->id, &adding->records[i],
                                  &adding->added[i].created, fault);
        created += adding->added[i].created;
    }
    if (status == STATUS_OK && there + created > RECORDS_PER_JOB_MAX) {
        fault_set(fault, "records", "at most 20000 records of one job", "%zu", there + created);
        status = STATUS_LIMIT;
    }
    if (status == STATUS_OK && created > 0) status = store_job_touch(txn, job->number, fault);
    return status;
}

static enum status add_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct adding *adding = context;
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_job job = {0};
    struct store_company company = {.version = 0};
    enum status status = store_company_get(txn, &company, arena, fault);
    if (status == STATUS_OK || status == STATUS_NOT_FOUND) {
        status = store_job_find(txn, adding->job_id, &job, arena, fault);
    }
    if (status == STATUS_OK) {
        unsigned char hash[STORE_HASH_BYTES];
        store_hash(hash, job.body, job.body_length, NULL, 0, NULL, 0);
        adding->stale = company.version != adding->company_version ||
                        memcmp(hash, adding->body_hash, sizeof hash) != 0;
        status = adding->stale ? STATUS_BUSY : add_all(adding, txn, &job, fault);
    }
    arena_free(arena);
    return status;
}

static enum status check_with(struct adding *adding, const struct app_view *view, json_t *array,
                              struct arena *arena, struct faults *faults)
{
    enum status status = STATUS_OK;
    const struct job *job = app_view_job(view, adding->job_id);
    if (job == NULL) {
        (void)faults_add(faults, "job", "the id of a job of this store", "\"%s\"", adding->job_id);
        status = STATUS_NOT_FOUND;
    } else {
        const struct intake intake = {.arena = arena, .zones = NULL, .faults = faults};
        const struct record *records = NULL;
        size_t count = 0;
        status = intake_records(&records, &count, array, "records", job->zone, job->records,
                                job->record_count, &intake);
        if (status == STATUS_OK)
            status = app_accept_check(app_view_rulebook(view, job), &app_view_case(view)->company,
                                      job, records, count, "records", faults);
        adding->company_version = app_view_company_version(view);
        memcpy(adding->body_hash, app_view_body_hash(view, job), sizeof adding->body_hash);
    }
    return status;
}

/*
 * An older view will do as long as nothing is found wrong with it: records are only ever added, so
 * what is right beside fewer of them is right beside all. That spares a busy writer a new view each
 * time. What an older view refuses (a correction of a record it has not seen) the newest judges.
 */
static enum status add_check(struct adding *adding, struct app *app, json_t *array, bool newest,
                             struct arena *arena, struct faults *faults)
{
    struct app_view *view = NULL;
    enum status status = STATUS_NOT_FOUND;
    if (!newest && app_view_glance(&view, app)) {
        struct faults ignored = {0};
        status = check_with(adding, view, array, arena, &ignored);
        faults_free(&ignored);
        app_view_release(view);
    }
    if (status == STATUS_OK) return status;
    status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    status = check_with(adding, view, array, arena, faults);
    app_view_release(view);
    return status;
}

static enum status add(struct adding *adding, struct app *app, json_t *array, const char *who,
                       int64_t now_s, struct arena *arena, struct faults *faults)
{
    enum status status = STATUS_OK;
    for (int tries = 0; tries <= APP_TRIES_MAX; tries++) {
        status = add_check(adding, app, array, tries > 0, arena, faults);
        if (status == STATUS_OK && adding->records == NULL) {
            adding->count = json_array_size(array);
            adding->added = ARENA_TAKE(arena, adding->count, struct app_added);
            if (adding->added == NULL) return app_no_memory(faults);
            status = app_records_ready(&adding->records, array, who, now_s, false, arena, faults);
        }
        if (status != STATUS_OK) return status;
        struct fault fault = {0};
        adding->stale = false;
        status = store_write(app->store, (struct store_work){add_run, adding, false}, &fault);
        if (!adding->stale) return app_fault(faults, status, &fault);
    }
    (void)faults_add(faults, "job", "a job that keeps for a moment", "one that is being changed");
    return status;
}

/* One object is a list of one. */
static enum status as_list(json_t **out, const char *json, size_t length, struct faults *faults)
{
    json_t *parsed = NULL;
    const enum status status = intake_parse(&parsed, json, length, faults);
    if (status != STATUS_OK || !json_is_object(parsed)) {
        *out = parsed;
        return status;
    }
    *out = json_array();
    if (*out != NULL && json_array_append_new(*out, parsed) == 0) return STATUS_OK;
    json_decref(*out);
    *out = NULL;
    return app_no_memory(faults);
}

enum status app_records_add(const struct app_added **out, size_t *out_count, struct app *app,
                            const char *job_id, const char *json, size_t length, const char *who,
                            int64_t now_s, struct arena *arena, struct faults *faults)
{
    *out = NULL;
    *out_count = 0;
    json_t *array = NULL;
    enum status status = as_list(&array, json, length, faults);
    struct adding adding = {.job_id = job_id};
    if (status == STATUS_OK) status = add(&adding, app, array, who, now_s, arena, faults);
    for (size_t i = 0; status == STATUS_OK && i < adding.count; i++) {
        struct app_added *one = &adding.added[i];
        one->id = arena_copy(arena, one->id, strlen(one->id));
        if (one->id == NULL) one->id = ""; /* it is stored all the same */
    }
    if (status == STATUS_OK) {
        *out = adding.added;
        *out_count = adding.count;
    }
    json_decref(array);
    return status;
}

static uint64_t kind_bit(const json_t *record)
{
    const char *kind = text_of(record, "kind");
    const int value = kind == NULL ? -1 : id_find(&record_kind_ids, kind);
    return value < 0 ? 0 : UINT64_C(1) << value;
}

enum status app_records_kinds(uint64_t *out, const char *json, size_t length, struct faults *faults)
{
    *out = 0;
    json_t *root = NULL;
    const enum status status = intake_parse(&root, json, length, faults);
    const json_t *inside = json_object_get(root, "records"); /* of a whole job */
    const json_t *array = json_is_array(inside) ? inside : root;
    if (!json_is_array(array)) *out = kind_bit(root) | kind_bit(json_object_get(root, "with"));
    for (size_t i = 0; status == STATUS_OK && i < json_array_size(array); i++) {
        const json_t *record = json_array_get(array, i);
        *out |= kind_bit(record) | kind_bit(json_object_get(record, "with"));
    }
    json_decref(root);
    return status;
}

static const struct record *stored_record(const struct job *job, const char *id)
{
    for (size_t i = 0; id != NULL && i < job->record_count; i++)
        if (strcmp(job->records[i].id, id) == 0) return &job->records[i];
    return NULL;
}

/* The kind of the record of an id, of what it became, and of what it corrects in its turn. */
static uint64_t kinds_behind(const struct job *job, const char *id)
{
    uint64_t kinds = 0;
    size_t steps = 0;
    const struct record *record = stored_record(job, id);
    for (; record != NULL && steps <= job->record_count; steps++) {
        kinds |= UINT64_C(1) << record->kind;
        if (record->with != NULL) kinds |= UINT64_C(1) << record->with->kind;
        record = stored_record(job, record->corrects);
    }
    for (size_t i = 0; i < job->record_count; i++) {
        const struct record *later = &job->records[i];
        if (later->corrects == NULL || later->with == NULL || strcmp(later->corrects, id) != 0)
            continue;
        kinds |= UINT64_C(1) << later->with->kind;
    }
    return kinds;
}

enum status app_records_corrected(uint64_t *out, struct app *app, const char *job_id,
                                  const char *json, size_t length, struct faults *faults)
{
    *out = 0;
    json_t *root = NULL;
    struct app_view *view = NULL;
    enum status status = intake_parse(&root, json, length, faults);
    if (status == STATUS_OK) status = app_view_take(&view, app, faults);
    const struct job *job = status == STATUS_OK ? app_view_job(view, job_id) : NULL;
    const size_t count = json_is_array(root) ? json_array_size(root) : 1;
    for (size_t i = 0; job != NULL && i < count; i++) {
        const char *id = text_of(json_is_array(root) ? json_array_get(root, i) : root, "corrects");
        if (id != NULL) *out |= kinds_behind(job, id);
    }
    app_view_release(view);
    json_decref(root);
    return status;
}

/* --- listing ------------------------------------------------------------------------------- */

struct listing {
    struct text *out;
    const char *job_id;
    int64_t version;
};

static enum status list_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct listing *listing = context;
    struct arena *arena = arena_new();
    if (arena == NULL) {
        fault_set(fault, "", "memory", "none left");
        return STATUS_LIMIT;
    }
    struct store_job job = {0};
    const struct store_record_body *records = NULL;
    size_t count = 0;
    enum status status = store_job_find(txn, listing->job_id, &job, arena, fault);
    if (status == STATUS_OK) {
        status = store_record_list(txn, job.number, &records, &count, arena, fault);
    }
    if (status == STATUS_OK) {
        listing->version = job.version;
        text_add_z(listing->out, "{\"records\":[");
        for (size_t i = 0; i < count; i++) {
            if (i > 0) text_add_byte(listing->out, ',');
            text_add(listing->out, records[i].body, records[i].body_length);
        }
        text_add_z(listing->out, "]}");
    }
    arena_free(arena);
    return status;
}

enum status app_records_list(struct text *out, int64_t *out_version, struct app *app,
                             const char *job_id, struct faults *faults)
{
    struct listing listing = {out, job_id, 0};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){list_run, &listing, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    if (out_version != NULL) *out_version = listing.version;
    return app_text_status(out, faults);
}

/* --- the owner's yes ----------------------------------------------------------------------- */

void app_new_id(char out[APP_ID_TEXT_MAX])
{
    unsigned char b[16];
    randombytes_buf(b, sizeof b);
    b[6] = (unsigned char)((b[6] & 0x0f) | 0x40); /* version 4 */
    b[8] = (unsigned char)((b[8] & 0x3f) | 0x80); /* variant 1 */
    (void)snprintf(out, APP_ID_TEXT_MAX,
                   "%02x%02x%02x%02x-%02x%02x-%02x%02x-%02x%02x-%02x%02x%02x%02x%02x%02x", b[0],
                   b[1], b[2], b[3], b[4], b[5], b[6], b[7], b[8], b[9], b[10], b[11], b[12], b[13],
                   b[14], b[15]);
}

static enum status agree_check(struct app *app, const char *job_id, int32_t day, int64_t now_s,
                               struct arena *arena, struct faults *faults)
{
    struct app_view *view = NULL;
    const struct job_plan *plan = NULL;
    enum status status = app_view_take(&view, app, faults);
    if (status != STATUS_OK) return status;
    status = app_plan_job(&plan, view, job_id, now_s, arena, faults);
    if (status == STATUS_OK) {
        const struct fire_plan *fire = &plan->fire;
        char earliest[DATE_TEXT_MAX] = "none";
        char wanted[DATE_TEXT_MAX];
        date_format(wanted, day);
        if (fire->cure_complete_day != DAY_NONE) date_format(earliest, fire->cure_complete_day);
        if (fire->blocked_by != 0 || fire->cure_complete_day == DAY_NONE ||
            fire->cure_complete_day > day) {
            (void)faults_add(faults, "date",
                             fire->blocked_by != 0 ? "no block on the first fire"
                                                   : "a date the plan supports",
                             "%s; the first date the plan has is %s", wanted, earliest);
            status = STATUS_CONFLICT;
        }
    }
    app_view_release(view);
    return status;
}

enum status app_agree(char out_id[APP_ID_TEXT_MAX], struct app *app, const char *job_id,
                      int32_t day, const char *by, int64_t now_s, struct faults *faults)
{
    struct arena *arena = arena_new();
    if (arena == NULL) return app_no_memory(faults);
    char id[APP_ID_TEXT_MAX];
    app_new_id(id);
    struct text text = TEXT_UP_TO(RECORD_BYTES_MAX);
    enum status status = agree_check(app, job_id, day, now_s, arena, faults);
    if (status == STATUS_OK) {
        struct json json = {.text = &text};
        json_open_object(&json, NULL);
        json_put_text(&json, "id", id);
        json_put_text(&json, "kind", "agreed");
        json_put_instant(&json, "at", now_s, NULL);
        json_put_date(&json, "date", day);
        json_put_text(&json, "by", by);
        json_close(&json);
        status = app_text_status(&text, faults);
    }
    const struct app_added *added = NULL;
    size_t count = 0;
    if (status == STATUS_OK) {
        status = app_records_add(&added, &count, app, job_id, text.data, text.length, by, now_s,
                                 arena, faults);
    }
    if (status == STATUS_OK && out_id != NULL) memcpy(out_id, id, sizeof id);
    text_free(&text);
    arena_free(arena);
    return status;
}

/* --- marks --------------------------------------------------------------------------------- */

struct marking {
    const char *job_id;
    const struct store_record_mark *marks;
    size_t count;
    int64_t tip_seq;
    unsigned char tip_hash[STORE_HASH_BYTES];
    struct arena *arena;
};

static enum status marks_run(struct store_txn *txn, void *context, struct fault *fault)
{
    struct marking *m = context;
    struct store_job job = {0};
    enum status status = store_job_find(txn, m->job_id, &job, m->arena, fault);
    if (status == STATUS_OK)
        status = store_record_marks(txn, job.number, &m->marks, &m->count, m->arena, fault);
    if (status == STATUS_OK) status = store_record_tip(txn, &m->tip_seq, m->tip_hash, fault);
    return status;
}

static struct app_mark mark_text(const char *id, int64_t seq, const unsigned char *hash)
{
    struct app_mark out = {.record_id = id, .seq = seq};
    (void)sodium_bin2hex(out.hash, sizeof out.hash, hash, STORE_HASH_BYTES);
    return out;
}

enum status app_record_marks(const struct app_mark **out, size_t *out_count, struct app_mark *tip,
                             struct app *app, const char *job_id, struct arena *arena,
                             struct faults *faults)
{
    struct marking m = {.job_id = job_id, .arena = arena};
    struct fault fault = {0};
    const enum status status =
        store_read(app->store, (struct store_work){marks_run, &m, false}, &fault);
    if (status != STATUS_OK) return app_fault(faults, status, &fault);
    struct app_mark *marks = ARENA_TAKE(arena, m.count, struct app_mark);
    if (marks == NULL) return app_no_memory(faults);
    for (size_t i = 0; i < m.count; i++)
        marks[i] = mark_text(m.marks[i].id, m.marks[i].seq, m.marks[i].hash);
    *tip = mark_text(NULL, m.tip_seq, m.tip_hash);
    *out = marks;
    *out_count = m.count;
    return STATUS_OK;
}
