/* SPDX-License-Identifier: MIT */
/* Who may do what, in two tables: roles against what routes ask for, and kinds of record that are
 * the owner's (what a crew may write by its link: app/app_crew.h). */
#ifndef EMBERWAIT_HTTP_MAY_H
#define EMBERWAIT_HTTP_MAY_H

#include <stdbool.h>
#include <stdint.h>

#include "app/app_person.h"
#include "http/route.h"

/** Whether a role may use a route that asks for `auth` (no role opens HTTP_AUTH_TOKEN). */
bool may_use(enum app_role role, enum http_auth auth);

/** Whether the office may write a record of a kind (its name; unknown kinds: refused elsewhere). */
bool may_office_record(const char *kind);
/** The kinds of record that are the owner's alone, as bits of enum record_kind. */
uint64_t may_owner_kinds(void);

#endif
