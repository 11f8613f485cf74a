/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weighings that stand in several of the folders that a project learns from, because a folder was copied. */
#ifndef HK_WEIGHED_ONCE_H
#define HK_WEIGHED_ONCE_H

#include "project/project.h"

/* A weighing of the project or of a folder that it learns from. */
struct hk_weighing {
    uint64_t hash; /* of the names that equal ones share */
    size_t number; /* those of the project come first, then those of each folder */
    struct hk_project *of;
    void *what; /* a struct hk_swatch, hk_yarn or hk_progress of the folder */
    bool again; /* an earlier one is the same weighing */
};

/* How weighings of one kind are listed, compared and left out. */
struct hk_weighings {
    size_t (*count)(const struct hk_project *of);
    /* Sets the hash and `what` of weighing i; NULL: it is none. */
    void (*list)(struct hk_project *of, size_t i, struct hk_weighing *weighing);
    /* Compares two of different folders with one hash: sets again->again if they are the same, with a finding. */
    void (*compare)(const struct hk_weighing *first, struct hk_weighing *again, struct hk_diags *diags);
    /* Called for those that stand in an earlier folder too, the last of all folders first. */
    void (*leave_out)(const struct hk_weighing *weighing);
};

/* Once the folders to learn from are read: leaves each weighing out of them that stands in an earlier folder too. */
void hk_weighed_once(struct hk_project *project, const struct hk_weighings *kind, struct hk_diags *diags);

#endif
