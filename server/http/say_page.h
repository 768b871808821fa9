/* SPDX-License-Identifier: MIT */
/* What pages share: the model every page needs, and the page of a fault. Inside http/ only. */
#ifndef EMBERWAIT_HTTP_SAY_PAGE_H
#define EMBERWAIT_HTTP_SAY_PAGE_H

#include "http/request.h"
#include "model/job.h"
#include "views/page.h"

/**
 * Fill what every page needs; `?lang` is remembered in a cookie.
 *
 * @param[out] out      Borrows from the request and the company.
 * @param[in]  company  Must outlive the page.
 * @param[in]  now_s    Instant of the plan that is shown.
 */
void say_page(struct page *out, struct http_request *request, struct http_reply *reply,
              const struct company *company, int64_t now_s);

/** Write the page of a fault. False when it could not be written. */
bool say_problem_page(struct http_request *request, struct http_reply *reply, enum problem problem,
                      const char *detail, const struct faults *faults);

#endif
