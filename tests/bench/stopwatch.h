/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Processor time, since other work on the machine says nothing about ours; and the median of some runs. */
#ifndef BENCH_STOPWATCH_H
#define BENCH_STOPWATCH_H

#include <stdlib.h>
#include <time.h>

static inline double cpu_s(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static inline int stopwatch_order(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Sorts them. */
static inline double stopwatch_median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, stopwatch_order);
    return values[count / 2];
}

#endif
