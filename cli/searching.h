/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The progress of a long search, on standard error where that is a terminal. */
#ifndef SEARCHING_H
#define SEARCHING_H

#include "hankful.h"

#include <stdbool.h>
#include <time.h>

struct searching {
    bool terminal, shown;
    struct timespec start;
    int percent; /* the last one shown */
};

struct searching searching_start(void);

/* Returns a watch that shows the part of the time limit that is used, once the search has taken a second. Borrows
 * `searching`. */
struct hk_watch searching_watch(struct searching *searching);

/* Clears the line. */
void searching_end(const struct searching *searching);

#endif
