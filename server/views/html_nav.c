/* SPDX-License-Identifier: MIT */
/* Why: see html_screens.h. The order is that of a day, then of a week, then of a season. */
#include <string.h>

#include "views/html_screens.h"

#include "base/banned.h"

void html_nav(struct text *out, const struct page *page)
{
    static const struct {
        const char *path;
        enum word word;
    } links[] = {{"/", WORD_NAV_TODAY},
                 {"/pads", WORD_NAV_PADS},
                 {"/tonight", WORD_NAV_TONIGHT},
                 {"/call-in", WORD_NAV_CALL_IN},
                 {"/jobs", WORD_NAV_JOBS},
                 {"/weeks", WORD_NAV_WEEKS},
                 {"/first-fires", WORD_NAV_FIRST_FIRES},
                 {"/dates", WORD_NAV_DATES},
                 {"/rules", WORD_NAV_RULES},
                 {"/people", WORD_PEOPLE_TITLE},
                 {"/import", WORD_NAV_SHEET}};
    RAW(out, "<nav class=\"screens\" aria-label=\"");
    html_word(out, page, WORD_NAV_SCREENS);
    RAW(out, "\"><ul>");
    for (size_t i = 0; i < sizeof links / sizeof *links; i++) {
        const bool here = page->path != NULL && strcmp(page->path, links[i].path) == 0;
        text_print(out, "<li><a href=\"%s\"%s>", links[i].path,
                   here ? " aria-current=\"page\"" : "");
        html_word(out, page, links[i].word);
        RAW(out, "</a></li>");
    }
    RAW(out, "</ul></nav>");
}
