/* SPDX-License-Identifier: MIT */
/* One record as a line a person reads. Inside views only. */
#ifndef EMBERWAIT_VIEWS_HTML_RECORD_H
#define EMBERWAIT_VIEWS_HTML_RECORD_H

#include "views/html.h"

/** "Reading: pad, 44°F, probe". Escaped; everything the record says except its times and names. */
void html_record(struct text *out, const struct page *page, const struct when *when,
                 const struct record *record);

#endif
