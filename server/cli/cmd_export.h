/* SPDX-License-Identifier: MIT */
/* `emberwait export` and `emberwait import`: a store as a case file, and a case file into a store.
 */
#ifndef EMBERWAIT_CLI_CMD_EXPORT_H
#define EMBERWAIT_CLI_CMD_EXPORT_H

/**
 * Print the whole store as one case file; nothing on stdout unless all of it.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `export`; then `--db STORE`.
 * @return exit status (sysexits.h).
 */
int cmd_export(int argc, char **argv);

/**
 * Take a case file in, all or nothing.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `import`; then `--db STORE [--create] FILE` (`-` for stdin).
 * @return exit status (sysexits.h).
 */
int cmd_import(int argc, char **argv);

#endif
