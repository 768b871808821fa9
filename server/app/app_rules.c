/* SPDX-License-Identifier: MIT */
/* Why: see app_rules.h. */
#include "app/app_rules.h"

#include "app/app_internal.h"

#include "base/banned.h"

void app_rules_show(struct text *out, const struct app *app)
{
    rulebook_show(out, app->rulebook);
}
