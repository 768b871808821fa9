/* SPDX-License-Identifier: MIT */
/* The code on paper that opens the homeowner's page. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_QR_H
#define EMBERWAIT_VIEWS_HTML_QR_H

#include "views/html.h"

/** A text as a QR code, drawn as one path. */
void html_qr(struct text *out, const struct page *page, const char *plain);
/** The code of a homeowner's page with its caption; nothing without a token or a base_url. */
void html_home_code(struct text *out, const struct page *page, const char *home_token);

#endif
