/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Work that may bring its process down, done in another one: libxlsxwriter 1.1.5 uses what it had no memory for.
 */
#ifndef APART_H
#define APART_H

#include <stdbool.h>

/* Returns whether it is done; if not, *why is the reason, static or in the memory of its own process. */
typedef bool apart_work(const void *context, const char **why);

/*
 * Runs the work in a process of its own and waits for it. Returns what it returned; *why is static. What it writes to
 * standard error is dropped.
 */
bool apart_run(apart_work *work, const void *context, const char **why);

#endif
