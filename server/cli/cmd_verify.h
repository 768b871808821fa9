/* SPDX-License-Identifier: MIT */
/* `emberwait verify`: is the store whole? */
#ifndef EMBERWAIT_CLI_CMD_VERIFY_H
#define EMBERWAIT_CLI_CMD_VERIFY_H

/**
 * Check a store and print what was looked at; every fault is one line on stderr.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `verify`; then `--db FILE`.
 * @return exit status (sysexits.h): 0 whole, 64 usage, 65 damaged, 66 no such store, 74 unreadable.
 */
int cmd_verify(int argc, char **argv);

#endif
