/* SPDX-License-Identifier: MIT */
/* Why: the ids of crew_plan.h as texts. */
#include "model/crew_plan.h"

#define CREW_TEXT(name, id) id,
#define CREW_TABLE(table, what, list)                                                              \
    static const char *const table##_text[] = {list(CREW_TEXT)};                                   \
    const struct id_table table = {what, table##_text, sizeof table##_text / sizeof *table##_text}

CREW_TABLE(crew_why_ids, "why a crew is sent", CREW_WHY_LIST);
CREW_TABLE(crew_change_ids, "change of a proposal", CREW_CHANGE_LIST);
CREW_TABLE(crew_change_why_ids, "why a proposal changed", CREW_CHANGE_WHY_LIST);
CREW_TABLE(crew_unplaced_ids, "why nobody is sent", CREW_UNPLACED_LIST);
CREW_TABLE(crew_load_ids, "thing on the truck", CREW_LOAD_LIST);
