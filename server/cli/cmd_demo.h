/* SPDX-License-Identifier: MIT */
/* `emberwait demo`: an invented company to look at, in a store that is gone afterwards. */
#ifndef EMBERWAIT_CLI_CMD_DEMO_H
#define EMBERWAIT_CLI_CMD_DEMO_H

/**
 * Print the demonstration's case, or put it in a store and serve it on loopback until a signal.
 *
 * `[--port N] [--now INSTANT] [--print-case] [--db FILE]`. Without --db the store lies in a folder
 * of its own below TMPDIR that is removed at the end, whichever signal ends it. A store that --db
 * names and that has jobs already is served as it is. With --now every page shows that instant.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is `demo`.
 * @return exit status (sysexits.h): 0; 64 usage; 69 port or store taken; 73 no folder; 65, 71, 74.
 */
int cmd_demo(int argc, char **argv);

#endif
