/* SPDX-License-Identifier: MIT */
/* `emberwait plan FILE`: a case file in, its plan out; no database, no network. */
#ifndef EMBERWAIT_CLI_CMD_PLAN_H
#define EMBERWAIT_CLI_CMD_PLAN_H

/**
 * Print the plan of a case file as JSON. Nothing is printed on stdout unless all of it is; every
 * fault of the case is one line on stderr, `PATH: found X, wanted Y`.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `plan`; argv[1] a file, or `-` for stdin.
 * @return exit status (sysexits.h): 0, 64 usage, 65 faults, 66 not readable, 71 no memory, 74
 * stdout.
 */
int cmd_plan(int argc, char **argv);

#endif
