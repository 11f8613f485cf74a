/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list of yarns, possibly thousands: the columns of yarns.csv without the role. */
#ifndef HK_YARN_LIST_H
#define HK_YARN_LIST_H

#include "project/project.h"

/* A candidate yarn. A name may occur in several colours and put-ups. */
struct hk_listed {
    const char *name, *colour, *fibre, *category; /* "" if empty */
    double put_up_g, length_m, diameter_mm;
    int64_t price_minor;                  /* -1 if empty */
    const struct hk_candidate *candidate; /* the row of yarns.csv, or NULL */
};

struct hk_yarn_list {
    struct hk_arena arena;
    const struct hk_project *project; /* the project whose currency and spreads were used */
    struct hk_table *table;
    struct hk_listed *yarns;
    size_t count;
};

/* Returns the yarn of a row of yarns.csv. */
struct hk_listed hk_listed_candidate(const struct hk_project *project, const struct hk_candidate *candidate);

#endif
