/* SPDX-License-Identifier: MIT */
/*
 * Passes: what proves who is there after the password was right. A session belongs to a browser and
 * ends by itself; a token belongs to a script and ends when it is taken back. Both are 256 random
 * bits; the store keeps a hash, so whoever reads a copy of it still cannot come in.
 */
#ifndef EMBERWAIT_APP_APP_PASS_H
#define EMBERWAIT_APP_APP_PASS_H

#include "app/app_person.h"

enum { APP_PASS_TEXT_MAX = 44 }; /**< base64url of 32 bytes (43) and NUL */

/** Who a pass stands for; the name is in the caller's arena. */
struct app_pass {
    int64_t number;
    int64_t person;
    const char *name;
    enum app_role role;
};

/**
 * Sign in: a new session, whatever passes there were before.
 *
 * A wrong name and a wrong password take the same work and give the same answer.
 *
 * @param[out] out_token  The only time it is seen.
 * @param[in]  name       From outside, NUL-ended.
 * @param[in]  password   From outside, NUL-ended.
 * Status: OK; DENIED (not told why); BUSY (others are signing in: try again); LIMIT; IO.
 */
MUST_USE enum status app_pass_sign_in(char out_token[APP_PASS_TEXT_MAX], struct app *app,
                                      const char *name, const char *password, int64_t now_s,
                                      struct faults *faults);

/**
 * Whom a session's token stands for; notes that it was used.
 *
 * Status: OK; NOT_FOUND (unknown, signed out, over, or the person was revoked: not told apart);
 *         LIMIT; BUSY; IO.
 */
MUST_USE enum status app_pass_session(struct app_pass *out, struct app *app, const char *token,
                                      size_t length, int64_t now_s, struct arena *arena,
                                      struct faults *faults);
/** The same for the token of a script. */
MUST_USE enum status app_pass_token(struct app_pass *out, struct app *app, const char *token,
                                    size_t length, int64_t now_s, struct arena *arena,
                                    struct faults *faults);

/** End one session. Status: OK, BUSY, IO. */
MUST_USE enum status app_pass_sign_out(struct app *app, const struct app_pass *pass, int64_t now_s,
                                       struct faults *faults);
/** End every session of a person, by name. Status: OK, NOT_FOUND, BUSY, IO. */
MUST_USE enum status app_pass_sign_out_everywhere(struct app *app, const char *name, int64_t now_s,
                                                  struct faults *faults);

/**
 * A new token for scripts of a person; those made before end.
 *
 * @param[out] out_token  The only time it is seen.
 * Status: OK, NOT_FOUND, BUSY, IO.
 */
MUST_USE enum status app_pass_new_token(char out_token[APP_PASS_TEXT_MAX], struct app *app,
                                        const char *name, int64_t now_s, struct faults *faults);

#endif
