/* SPDX-License-Identifier: MIT */
/*
 * Functions nobody here calls; naming one is a compile error. Include this file last, after every
 * other #include of a .c file, because system headers declare these names.
 *
 *   strcpy strcat sprintf vsprintf gets   write past the end: snprintf, memcpy, struct text
 *   strncpy strncat                       leave the NUL out, or count it wrongly: memcpy, snprintf
 *   strtok                                hidden state: walk with {pointer, length}
 *   atoi atol atoll atof                  cannot report a fault: the strict readers
 *   alloca                                no ceiling: arena, struct text
 *   localtime gmtime mktime ctime asctime hidden state and the process-wide TZ: compute/civil
 *   setlocale                             would turn the decimal point of answers into a comma
 *   rand srand                            chance is an argument; keys come from libsodium
 *   system popen                          no shells
 *   tmpnam tempnam mktemp                 a name anybody can take first: mkstemp
 */
#ifndef EMBERWAIT_BASE_BANNED_H
#define EMBERWAIT_BASE_BANNED_H

#undef alloca /* a macro in <stdlib.h> when everything is asked for; such cannot be poisoned */
#pragma GCC poison strcpy strcat sprintf vsprintf gets strncpy strncat strtok
#pragma GCC poison atoi atol atoll atof alloca
#pragma GCC poison localtime gmtime mktime ctime asctime setlocale
#pragma GCC poison rand srand system popen tmpnam tempnam mktemp

#endif
