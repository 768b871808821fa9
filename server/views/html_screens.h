/* SPDX-License-Identifier: MIT */
/* The owner's screens and the row of links between them. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_SCREENS_H
#define EMBERWAIT_VIEWS_HTML_SCREENS_H

#include "views/html.h"

/** The row of links, the page at hand marked. */
void html_nav(struct text *out, const struct page *page);

#endif
