/* SPDX-License-Identifier: MIT */
/* A posted form becomes a record by the API's own door. Inside http/ only. */
#ifndef EMBERWAIT_HTTP_FORM_POST_H
#define EMBERWAIT_HTTP_FORM_POST_H

#include "http/request.h"
#include "model/plan.h"
#include "views/page.h"

/** A form that was read, and what became of it. */
struct form_post {
    struct form_field *fields; /**< in the arena */
    size_t count;
    struct form_said said;
    struct faults faults; /**< path = name of a field; form_post_free */
};

/** Read the fields. Status: OK, INVALID or LIMIT with the faults. */
MUST_USE enum status form_post_read(struct form_post *out, struct http_request *request);

/**
 * Store the record a form speaks of. An `agreed` one is refused unless the plan supports its date:
 * nothing is blocked, and the cure is complete on or before that day.
 *
 * @param[in,out] post  Read by form_post_read; takes the faults.
 * @param[in] job       The job's row of the plan that is shown.
 * @param[in] who       Who sends it, or NULL.
 * Status: OK; INVALID or CONFLICT (the page is shown again with the faults); NOT_FOUND, LIMIT,
 * BUSY, IO.
 */
MUST_USE enum status form_post_store(struct form_post *post, struct http_request *request,
                                     const struct job_plan *job, const char *who);

/** What the page shows again. Borrows from the post. */
struct form_echo form_post_echo(const struct form_post *post, const char *job_id);

/** Go back to a page with the notice that it was sent. `path` without a query. */
void form_post_sent(const struct form_post *post, struct http_request *request,
                    struct http_reply *reply, const char *path);

void form_post_free(struct form_post *post);

#endif
