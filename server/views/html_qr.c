/* SPDX-License-Identifier: MIT */
/* Why: see html_qr.h. */
#include "views/html_qr.h"

#include <qrencode.h>

#include "base/banned.h"

enum { QR_MARGIN = 4 };

/* A code as one path of unit squares; run-length, so that a page stays small. */
void html_qr(struct text *out, const struct page *page, const char *plain)
{
    QRcode *code = QRcode_encodeString8bit(plain, 0, QR_ECLEVEL_M);
    if (code == NULL) {
        out->failed = true;
        return;
    }
    int side = code->width + 2 * QR_MARGIN;
    text_print(out, "<svg class=\"qr\" viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"", side,
               side);
    html_word(out, page, WORD_TAG_SCAN);
    RAW(out, "\" shape-rendering=\"crispEdges\"><path d=\"");
    for (int y = 0; y < code->width; y++) {
        for (int x = 0; x < code->width;) {
            int run = 0;
            while (x + run < code->width && (code->data[y * code->width + x + run] & 1) != 0) run++;
            if (run > 0)
                text_print(out, "M%d %dh%dv1h-%dz", x + QR_MARGIN, y + QR_MARGIN, run, run);
            x += run > 0 ? run : 1;
        }
    }
    RAW(out, "\"/></svg>");
    QRcode_free(code);
}

void html_home_code(struct text *out, const struct page *page, const char *home_token)
{
    if (home_token == NULL || page->base_url == NULL) return;
    struct text url = TEXT_UP_TO(2000);
    text_add_z(&url, page->base_url);
    text_add_z(&url, "/h/");
    html_segment(&url, home_token);
    RAW(out, "<figure class=\"home-code\">");
    html_qr(out, page, text_z(&url));
    RAW(out, "<figcaption>");
    html_word(out, page, WORD_TAG_SCAN);
    RAW(out, "</figcaption></figure>");
    text_free(&url);
}
