/* SPDX-License-Identifier: MIT */
/* `emberwait weather import` and `emberwait weather show`: hours of a station in and out. */
#ifndef EMBERWAIT_CLI_CMD_WEATHER_H
#define EMBERWAIT_CLI_CMD_WEATHER_H

/**
 * `weather import [options] FILE...|-`: files of a published format into a station's hours, or the
 * readings of a logger into a job. `weather show --db STORE --station ID [--from T] [--to T]`.
 *
 * @return sysexits: 0; 64 wrong call; 65 faults in the file; 66 no such file, station or job; 73 or
 *         74 the machine refused. A fault of the file stores nothing.
 */
int cmd_weather(int argc, char **argv);

#endif
