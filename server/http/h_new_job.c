/* SPDX-License-Identifier: MIT */
/*
 * The form of a new job becomes one row of a spreadsheet, so that it is read by the rules of every
 * other way in; the faults come back under the names of the fields.
 */
#include <string.h>

#include "app/app_csv.h"
#include "app/app_view.h"
#include "http/form_post.h"
#include "http/handlers.h"
#include "http/plans.h"
#include "http/say_page.h"

#include "base/banned.h"

enum { ID_MAX = 40 };

static void write_page(struct http_request *request, struct http_reply *reply, struct new_job *form,
                       unsigned status)
{
    struct faults faults = {0};
    struct app_view *view = NULL;
    const enum status taken = app_view_take(&view, request->tools->app, &faults);
    if (taken != STATUS_OK) {
        reply_status(request, reply, taken, &faults);
        return;
    }
    const struct casefile *casefile = app_view_case(view);
    const char **stations = ARENA_TAKE(request->arena, casefile->station_count, const char *);
    for (size_t i = 0; stations != NULL && i < casefile->station_count; i++)
        stations[i] = casefile->stations[i].id;
    form->stations = stations;
    form->station_count = stations == NULL ? 0 : casefile->station_count;
    struct page page;
    say_page(&page, request, reply, &casefile->company, request->now_s);
    html_new_job(&reply->body, &page, form);
    reply_page(reply, status);
    app_view_release(view);
}

void h_page_new_job(struct http_request *request, struct http_reply *reply)
{
    struct new_job form = {.fields = NULL};
    write_page(request, reply, &form, 200);
}

/* "Elm End, rear" -> "elm-end-rear". */
static const char *id_of_name(struct arena *arena, const char *name)
{
    char id[ID_MAX + 1];
    size_t length = 0;
    for (const char *c = name; *c != '\0' && length < ID_MAX; c++) {
        const char small = (char)(*c >= 'A' && *c <= 'Z' ? *c - 'A' + 'a' : *c);
        const bool plain = (small >= 'a' && small <= 'z') || (small >= '0' && small <= '9');
        if (plain)
            id[length++] = small;
        else if (length > 0 && id[length - 1] != '-')
            id[length++] = '-';
    }
    while (length > 0 && id[length - 1] == '-') length--;
    return length == 0 ? NULL : arena_copy(arena, id, length);
}

static void add_cell(struct text *out, const char *text)
{
    text_add_byte(out, '"');
    if (text[0] == '\'') text_add_byte(out, '\''); /* one is taken off again */
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '"') text_add_byte(out, '"');
        text_add_byte(out, *c);
    }
    text_add_byte(out, '"');
}

/* Two lines: the names of the fields that say something, and what they say. */
static void row_of(struct text *out, const struct form_post *post, const char *id)
{
    text_add_z(out, "id");
    for (int line = 0; line < 2; line++) {
        if (line == 1) add_cell(out, id);
        for (size_t i = 0; i < post->count; i++) {
            const struct form_field *field = &post->fields[i];
            if (strcmp(field->name, "id") == 0 || strcmp(field->name, "csrf") == 0) continue;
            if (field->value[0] == '\0') continue;
            text_add_byte(out, ',');
            add_cell(out, line == 0 ? field->name : field->value);
        }
        text_add_z(out, "\r\n");
    }
}

/* "line 2 options.place" -> "place"; "line 1 x" -> "x". */
static void name_faults(struct faults *faults)
{
    static const char *const before[] = {"line 1 ", "line 2 ", "options.town.", "options.",
                                         "quantities."};
    for (size_t i = 0; i < faults->count; i++) {
        char *path = faults->items[i].path;
        for (size_t k = 0; k < sizeof before / sizeof *before; k++) {
            const size_t length = strlen(before[k]);
            if (strncmp(path, before[k], length) != 0) continue;
            memmove(path, path + length, strlen(path + length) + 1);
        }
    }
}

static enum status create(struct form_post *post, struct http_request *request, const char **id)
{
    const char *name = form_field_value(post->fields, post->count, "name");
    *id = form_field_value(post->fields, post->count, "id");
    if (*id == NULL || (*id)[0] == '\0')
        *id = name == NULL ? NULL : id_of_name(request->arena, name);
    if (*id == NULL) return faults_add(&post->faults, "name", "a name with letters", "none");
    struct app_view *view = NULL;
    enum status status = app_view_take(&view, request->tools->app, &post->faults);
    if (status != STATUS_OK) return status;
    const bool there = app_view_job(view, *id) != NULL || strcmp(*id, "new") == 0;
    app_view_release(view);
    if (there)
        return faults_add(&post->faults, "id", "a short name that no job has yet", "\"%s\"", *id);
    struct text csv = TEXT_UP_TO(1 << 20);
    struct app_imported counts;
    const struct app_csv_row *rows = NULL;
    size_t count = 0;
    row_of(&csv, post, *id);
    status = text_status(&csv);
    if (status == STATUS_OK)
        status = app_csv_import(&counts, &rows, &count, request->tools->app, APP_CSV_JOBS,
                                text_z(&csv), csv.length, false, request->who.name, request->now_s,
                                request->arena, &post->faults);
    text_free(&csv);
    name_faults(&post->faults);
    return status;
}

void h_page_new_job_post(struct http_request *request, struct http_reply *reply)
{
    struct form_post post;
    const char *id = NULL;
    enum status status = form_post_read(&post, request);
    if (status == STATUS_OK) status = create(&post, request, &id);
    if (status == STATUS_OK) {
        plans_wrote(request->tools->plans, request->now_s);
        struct text path = TEXT_UP_TO(400);
        text_add_z(&path, "/jobs/");
        urlencoded_add(&path, id);
        reply_see_other(reply, arena_copy(request->arena, text_z(&path), path.length));
        text_free(&path);
    } else if (status == STATUS_INVALID || status == STATUS_CONFLICT || status == STATUS_LIMIT) {
        struct new_job form = {
            .fields = post.fields, .field_count = post.count, .faults = &post.faults};
        write_page(request, reply, &form, 422);
    } else {
        reply_status(request, reply, status, &post.faults);
    }
    form_post_free(&post);
}
