/* SPDX-License-Identifier: MIT */
/*
 * Why: see may.h. A crew writes down what happened. The office books and files besides. A date that
 * is given, a clock opened without readings, and figures that replace the house's are the owner's:
 * somebody has to answer for them.
 */
#include "http/may.h"

#include <stddef.h>
#include <string.h>

#include "model/ids.h"

#include "base/banned.h"

static const bool table[APP_ROLE_COUNT][HTTP_AUTH_COUNT] = {
    [APP_ROLE_OWNER] = {[HTTP_AUTH_OPEN] = true,
                        [HTTP_AUTH_STATION] = true,
                        [HTTP_AUTH_OFFICE] = true,
                        [HTTP_AUTH_OWNER] = true},
    [APP_ROLE_OFFICE] =
        {[HTTP_AUTH_OPEN] = true, [HTTP_AUTH_STATION] = true, [HTTP_AUTH_OFFICE] = true},
    [APP_ROLE_STATION] = {[HTTP_AUTH_OPEN] = true, [HTTP_AUTH_STATION] = true},
};

static const enum record_kind owners[] = {RECORD_AGREED, RECORD_ACCEPTED, RECORD_ENGINEER,
                                          RECORD_OVERRIDDEN};

bool may_use(enum app_role role, enum http_auth auth)
{
    REQUIRE((unsigned)role < APP_ROLE_COUNT && (unsigned)auth < HTTP_AUTH_COUNT);
    return table[role][auth];
}

bool may_office_record(const char *kind)
{
    const int value = id_find(&record_kind_ids, kind);
    return value < 0 || (may_owner_kinds() >> value & 1) == 0;
}

uint64_t may_owner_kinds(void)
{
    uint64_t kinds = 0;
    for (size_t i = 0; i < sizeof owners / sizeof *owners; i++) kinds |= UINT64_C(1) << owners[i];
    return kinds;
}
