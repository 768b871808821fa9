/* SPDX-License-Identifier: MIT */
/* `emberwait backup` and `emberwait restore`: a checked copy of a store, and one put back. */
#ifndef EMBERWAIT_CLI_CMD_BACKUP_H
#define EMBERWAIT_CLI_CMD_BACKUP_H

/**
 * Copy a store, in use or not, into a new file; the copy is checked before it gets its name.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `backup`; then `--db STORE FILE`.
 * @return exit status (sysexits.h).
 */
int cmd_backup(int argc, char **argv);

/**
 * Put a checked copy in the place of a store; refuses one that is there without `--force`, and one
 * that is in use always.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `restore`; then `--db STORE [--force] FILE`.
 * @return exit status (sysexits.h).
 */
int cmd_restore(int argc, char **argv);

#endif
