/* SPDX-License-Identifier: MIT */
/*
 * Passwords: what is asked of one, and Argon2id around it, one at a time. Stretching takes a
 * processor for some 60 ms; without a ceiling a thousand tries would take every thread there is.
 * Inside app/ only.
 */
#ifndef EMBERWAIT_APP_APP_PASSWORD_H
#define EMBERWAIT_APP_APP_PASSWORD_H

#include "app/app.h"

enum { APP_PASSWORD_TEXT_MAX = 128 }; /**< what libsodium writes, with its NUL */

/** What a password has to be. OK or INVALID. */
enum status app_password_check(const char *password, const char *name, struct faults *faults);

/** Stretch a password that was checked. Status: OK, BUSY, LIMIT (no memory). */
MUST_USE enum status app_password_stretch(char out[APP_PASSWORD_TEXT_MAX], struct app *app,
                                          const char *password, struct faults *faults);

/**
 * Hold a password against what is stored.
 *
 * @param[in] stored  NULL (nobody of that name, or none set): the same work, then DENIED.
 * Status: OK, DENIED, BUSY.
 */
MUST_USE enum status app_password_verify(struct app *app, const char *stored, const char *password,
                                         struct faults *faults);

/** Set up and take down what an app keeps for this. */
void app_password_ready(struct app *app);
void app_password_done(struct app *app);

#endif
