/* SPDX-License-Identifier: MIT */
/*
 * Why: eighteen jobs are open on the first morning, so one page takes a whole job: ticks with days.
 * A day that is left empty is the day at the top, for most of a job was done on days nobody knows.
 */
#include "views/form_take_over.h"

#include <stdio.h>
#include <string.h>

#include "base/instant.h"
#include "base/json.h"
#include "model/ids.h"

#include "base/banned.h"

enum { FIELD_NAME_MAX = 80, BODY_MAX = 1 << 16 };

struct taking {
    const struct form_field *fields;
    size_t count;
    struct faults *faults;
    bool bad;
};

/* The value of `<prefix><id>`; NULL when absent or empty. */
static const char *value_of(const struct taking *form, const char *prefix, const char *id)
{
    char name[FIELD_NAME_MAX];
    (void)snprintf(name, sizeof name, "%s%s", prefix, id);
    const char *value = form_field_value(form->fields, form->count, name);
    return value == NULL || value[0] == '\0' ? NULL : value;
}

static void put_date(struct taking *form, struct json *json, const char *task)
{
    char name[FIELD_NAME_MAX] = "done_on";
    const char *value = value_of(form, "date.", task);
    if (value != NULL) (void)snprintf(name, sizeof name, "date.%s", task);
    if (value == NULL) value = value_of(form, "", "done_on");
    int32_t day = 0;
    if (value != NULL && date_parse(&day, value, strlen(value), NULL) == STATUS_OK) {
        json_put_date(json, "date", day);
        return;
    }
    form->bad = true;
    (void)faults_add(form->faults, name, "a date, YYYY-MM-DD", "%.80s",
                     value == NULL ? "nothing" : value);
}

static void put_text(struct taking *form, struct json *json, const char *name)
{
    const char *value = value_of(form, "", name);
    if (value != NULL) {
        json_put_text(json, name, value);
        return;
    }
    form->bad = true;
    (void)faults_add(form->faults, name, "something here", "nothing");
}

enum status form_take_over_json(struct text *json, const struct form_field *fields, size_t count,
                                struct faults *faults)
{
    struct taking form = {fields, count, faults, false};
    struct text written = TEXT_UP_TO(BODY_MAX);
    struct json writer = {.text = &written};
    json_open_object(&writer, NULL);
    put_text(&form, &writer, "id");
    put_text(&form, &writer, "by");
    put_text(&form, &writer, "reason");
    json_open_array(&writer, "tasks");
    for (size_t t = 0; t < task_ids.count; t++) {
        if (value_of(&form, "task.", task_ids.ids[t]) == NULL) continue;
        json_open_object(&writer, NULL);
        json_put_text(&writer, "task", task_ids.ids[t]);
        put_date(&form, &writer, task_ids.ids[t]);
        json_close(&writer);
    }
    json_close(&writer);
    json_open_array(&writer, "clocks");
    for (size_t c = 0; c < clock_ids.count; c++) {
        if (value_of(&form, "clock.", clock_ids.ids[c]) == NULL) continue;
        json_open_object(&writer, NULL);
        json_put_text(&writer, "clock", clock_ids.ids[c]);
        json_close(&writer);
    }
    json_close(&writer);
    json_close(&writer);
    enum status status = form.bad ? STATUS_INVALID : text_status(&written);
    if (status == STATUS_OK) {
        text_add(json, text_z(&written), written.length);
        status = text_status(json);
    }
    text_free(&written);
    return status;
}
