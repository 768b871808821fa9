/* SPDX-License-Identifier: MIT */
/*
 * `emberwait calc QUANTITY key=value...`: one published figure, uncut, as one line of JSON, so that
 * anybody can hold the arithmetic against a handbook without reading C.
 */
#ifndef EMBERWAIT_CLI_CMD_CALC_H
#define EMBERWAIT_CLI_CMD_CALC_H

/**
 * Run the command.
 *
 * @param[in] argc  Arguments.
 * @param[in] argv  argv[0] is `calc`, then the quantity and its keys; borrowed.
 * @return exit status: 0; 64 usage; 65 a bad value; 71 no memory; 74 stdout refused the line.
 */
int cmd_calc(int argc, char **argv);

#endif
