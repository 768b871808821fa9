/* SPDX-License-Identifier: MIT */
/* The answer to records that were sent: the ids, which are stored now and which were known. */
#ifndef EMBERWAIT_HTTP_REPLY_ADDED_H
#define EMBERWAIT_HTTP_REPLY_ADDED_H

#include "app/app_record.h"
#include "http/request.h"

/** 201 when one was stored, 200 when all were known. `added` is borrowed, shape [count]. */
void reply_added(struct http_reply *reply, const struct app_added *added, size_t count);

#endif
