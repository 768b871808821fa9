/* SPDX-License-Identifier: MIT */
/* Why: see cmd_version.h. */
#include "cli/cmd_version.h"

#include <stdio.h>
#include <sysexits.h>

#include "base/banned.h"

int cmd_version(int argc, char **argv)
{
    (void)argv;
    if (argc != 1) {
        (void)fputs("usage: emberwait version\n", stderr);
        return EX_USAGE;
    }
    return puts("emberwait " EMBERWAIT_VERSION) < 0 || fflush(stdout) != 0 ? EX_IOERR : EX_OK;
}
