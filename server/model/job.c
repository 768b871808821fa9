/* SPDX-License-Identifier: MIT */
/* Why: the table of quantity names, beside the list that makes the enum. */
#include "model/job.h"

#include <string.h>

#define JOB_TEXT(name, id) id,
static const char *const quantity_text[] = {QUANTITY_LIST(JOB_TEXT)};
const struct id_table quantity_ids = {"quantity", quantity_text,
                                      sizeof quantity_text / sizeof *quantity_text};

const struct kit *company_kit(const struct company *company, const char *id)
{
    for (size_t i = 0; id != NULL && i < company->kit_count; i++)
        if (strcmp(company->kits[i].id, id) == 0) return &company->kits[i];
    return NULL;
}
#define JOB_TEXT_LANGUAGE(name, id) id,
static const char *const language_text[] = {LANGUAGE_LIST(JOB_TEXT_LANGUAGE)};
const struct id_table language_ids = {"language", language_text,
                                      sizeof language_text / sizeof *language_text};
