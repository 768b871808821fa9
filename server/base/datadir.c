/* SPDX-License-Identifier: MIT */
/* Why: see datadir.h. */
#include "base/datadir.h"

#include <stddef.h>
#include <stdlib.h>

#include "base/banned.h"

const char *data_dir(void)
{
    const char *told = getenv("EMBERWAIT_DATA");
    return told != NULL && told[0] != '\0' ? told : EMBERWAIT_DATA_DIR;
}
