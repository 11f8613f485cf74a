/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "searching.h"

#include <stdio.h>
#include <unistd.h>

struct searching searching_start(void)
{
    struct searching searching = {.terminal = isatty(STDERR_FILENO) == 1, .percent = -1};
    if (clock_gettime(CLOCK_MONOTONIC, &searching.start) != 0)
        searching.terminal = false;
    return searching;
}

static double seconds_between(struct timespec from, struct timespec to)
{
    return (double)(to.tv_sec - from.tv_sec) + (double)(to.tv_nsec - from.tv_nsec) / 1e9;
}

static bool go_on(void *host, double done)
{
    struct searching *searching = host;
    struct timespec now;
    if (!searching->terminal || clock_gettime(CLOCK_MONOTONIC, &now) != 0 ||
        seconds_between(searching->start, now) <= 1)
        return true;
    const int percent = (int)(100 * done);
    if (percent != searching->percent)
        fprintf(stderr, "\rSearching for the cheapest basket: %d%% of the time limit (--seconds) ", percent);
    searching->percent = percent;
    searching->shown = true;
    return true;
}

struct hk_watch searching_watch(struct searching *searching)
{
    return (struct hk_watch){go_on, searching};
}

void searching_end(const struct searching *searching)
{
    if (searching->shown)
        fprintf(stderr, "\r%70s\r", "");
}
