/* SPDX-License-Identifier: MIT */
/* The vocabulary of alarms; see alarm.h. */
#include "model/alarm.h"

#define ALARM_TEXT(name, id) id,
static const char *const kind_text[] = {ALARM_KIND_LIST(ALARM_TEXT)};
const struct id_table alarm_kind_ids = {"alarm", kind_text, sizeof kind_text / sizeof *kind_text};
