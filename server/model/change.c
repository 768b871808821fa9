/* SPDX-License-Identifier: MIT */
/* Why: the ids of change.h's vocabulary, from the list that makes the enum. */
#include "model/change.h"

#define CHANGE_TEXT(name, id) id,
static const char *const change_why_text[] = {CHANGE_WHY_LIST(CHANGE_TEXT)};
const struct id_table change_why_ids = {"reason of a change", change_why_text, CHANGE_WHY_COUNT};
