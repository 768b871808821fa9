/* SPDX-License-Identifier: MIT */
/* What the token of a path opens: asked by every page, form and photo that a link leads to. */
#ifndef EMBERWAIT_HTTP_LINK_OPEN_H
#define EMBERWAIT_HTTP_LINK_OPEN_H

#include <stdbool.h>

#include "app/app_link.h"
#include "http/plans.h"
#include "http/request.h"

/**
 * The plan of now and the target of the token in captures[0], if it opens that kind.
 *
 * A token that is unknown, misspelt, taken back or of another kind is told in one way.
 *
 * @param[out] entry   plans_release.
 * @param[out] target  Id of a crew or job; in the request's arena.
 * @return false after the fault was told.
 */
bool link_open(struct plans_entry **entry, const char **target, struct http_request *request,
               struct http_reply *reply, enum app_link_kind kind);

/** The crew a token opens, still one of the company; NULL after the fault was told. */
const struct crew *link_open_crew(struct plans_entry **entry, struct http_request *request,
                                  struct http_reply *reply);

#endif
