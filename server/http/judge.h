/* SPDX-License-Identifier: MIT */
/* What is decided on a request's head alone. Inside http/ only. */
#ifndef EMBERWAIT_HTTP_JUDGE_H
#define EMBERWAIT_HTTP_JUDGE_H

#include "http/request.h"

/**
 * Judge a head: sets the request's route and query, or its refusal.
 *
 * @return true when the refusal must be answered at once and the connection closed: the framing
 *         cannot be trusted, or the body is too long to be read and thrown away.
 */
bool judge_head(struct http_request *request, const char *method, const char *version);

/** The request is refused; its refusal, to be filled in. At most once. */
struct http_reply *judge_refuse(struct http_request *request);

/** A body turned out to be over its ceiling. */
void judge_body_long(struct http_request *request);

#endif
