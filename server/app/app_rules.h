/* SPDX-License-Identifier: MIT */
/* The rules in force, for people to read. */
#ifndef EMBERWAIT_APP_APP_RULES_H
#define EMBERWAIT_APP_APP_RULES_H

#include "app/app.h"
#include "base/text.h"

/** The rulebook of every job as sentences, one a line (rulebook/rulebook.h). Check the text. */
void app_rules_show(struct text *out, const struct app *app);

#endif
