/* SPDX-License-Identifier: MIT */
/* The store's own secret: made with it, kept in it, never shown. */
#ifndef EMBERWAIT_APP_APP_SECRET_H
#define EMBERWAIT_APP_APP_SECRET_H

struct app;

enum { APP_SECRET_BYTES = 32 };

/** Secret for a purpose (1 to 16 bytes of name): derived, so that purposes never share a key. */
void app_secret(unsigned char out[APP_SECRET_BYTES], const struct app *app, const char *purpose);

#endif
