/* SPDX-License-Identifier: MIT */
/* Why: the table of quantity names, beside the list that makes the enum. */
#include "model/job.h"

#define JOB_TEXT(name, id) id,
static const char *const quantity_text[] = {QUANTITY_LIST(JOB_TEXT)};
const struct id_table quantity_ids = {"quantity", quantity_text,
                                      sizeof quantity_text / sizeof *quantity_text};
