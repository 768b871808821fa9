/* SPDX-License-Identifier: MIT */
/* `emberwait version`. */
#ifndef EMBERWAIT_CLI_CMD_VERSION_H
#define EMBERWAIT_CLI_CMD_VERSION_H

/**
 * Print name and version in one line.
 *
 * @param[in] argc  Words; one only.
 * @param[in] argv  argv[0] is `version`.
 * @return exit status (sysexits.h): 0, 64 usage, 74 stdout refused.
 */
int cmd_version(int argc, char **argv);

#endif
