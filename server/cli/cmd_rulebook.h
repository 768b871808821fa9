/* SPDX-License-Identifier: MIT */
/* `emberwait rulebook check|show [FILE]`. */
#ifndef EMBERWAIT_CLI_CMD_RULEBOOK_H
#define EMBERWAIT_CLI_CMD_RULEBOOK_H

/**
 * Check a rulebook, or print it as sentences. A FILE is held against the shipped rulebook: it may
 * be slower, never faster. Every fault is one line on stderr, `path: found X, wanted Y`.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is "rulebook"; argv[1] "check" or "show"; argv[2] a file, or absent.
 * @return exit status (sysexits.h): 0, 64 usage, 65 faults, 66 no such file, 74 the machine
 * refused.
 */
int cmd_rulebook(int argc, char **argv);

#endif
