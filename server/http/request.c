/* SPDX-License-Identifier: MIT */
/* Why: small questions that handlers ask of a request. */
#include "http/request.h"

#include <stdio.h>
#include <string.h>

#include "base/banned.h"

const char *request_header(const struct http_request *request, const char *name)
{
    return head_value(&request->head, name);
}

const char *request_query(const struct http_request *request, const char *name)
{
    return form_field_value(request->query, request->query_count, name);
}

const char *request_path(struct http_request *request)
{
    const char *path = arena_copy(request->arena, request->target, strcspn(request->target, "?"));
    return path == NULL ? "/" : path;
}

const char *request_base_url(struct http_request *request)
{
    if (request->says.host == NULL) return NULL;
    return arena_print(request->arena, "%s://%s",
                       request->host_kind == ORIGIN_HOST_NAMED ? "https" : "http",
                       request->says.host);
}
