/* SPDX-License-Identifier: MIT */
/* Why: see reply_added.h. */
#include "http/reply_added.h"

#include "base/json.h"

#include "base/banned.h"

static void put_ids(struct json *json, const char *key, const struct app_added *added, size_t count,
                    bool created)
{
    json_open_array(json, key);
    for (size_t i = 0; i < count; i++) {
        if (added[i].created == created) json_put_text(json, NULL, added[i].id);
    }
    json_close(json);
}

void reply_added(struct http_reply *reply, const struct app_added *added, size_t count)
{
    bool created = false;
    for (size_t i = 0; i < count; i++) created = created || added[i].created;
    struct json json = {.text = &reply->body};
    json_open_object(&json, NULL);
    json_open_array(&json, "ids");
    for (size_t i = 0; i < count; i++) json_put_text(&json, NULL, added[i].id);
    json_close(&json);
    put_ids(&json, "stored", added, count, true);
    put_ids(&json, "known", added, count, false);
    json_close(&json);
    reply_json(reply, created ? 201 : 200);
}
