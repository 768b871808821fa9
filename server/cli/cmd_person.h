/* SPDX-License-Identifier: MIT */
/* `emberwait person add|list|revoke|password|token --db STORE …`. */
#ifndef EMBERWAIT_CLI_CMD_PERSON_H
#define EMBERWAIT_CLI_CMD_PERSON_H

/**
 * Who may come in. A password is asked for (or read from standard input, one line) and never an
 * argument, where others of the machine could read it. A server that runs has to be stopped first,
 * for only one process writes; while it runs, the owner's page /people does the same.
 *
 * @param[in] argc  Words.
 * @param[in] argv  argv[0] is "person".
 * @return exit status (sysexits.h): 0, 64 usage, 65 faults, 66 no such store or person, 75 in use.
 */
int cmd_person(int argc, char **argv);

#endif
