/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef COMPLAIN_H
#define COMPLAIN_H

/* Prints "hankful: ..." on standard error: the format of all messages about usage and the machine. */
#if defined __GNUC__
__attribute__((format(printf, 1, 2)))
#endif
void complain(const char *format, ...);

#endif
