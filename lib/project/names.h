/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of a project for looking up and suggesting. */
#ifndef HK_NAMES_H
#define HK_NAMES_H

#include "project/project.h"

struct hk_names {
    size_t count;
    const char *(*name)(const void *context, size_t i);
    const void *context;
};

/* The index of a name, SIZE_MAX where there is none. */
size_t hk_names_find(struct hk_names names, const char *word);

struct hk_names hk_project_size_names(const struct hk_project *project);
struct hk_names hk_project_role_names(const struct hk_project *project);
struct hk_names hk_project_yarn_names(const struct hk_project *project);

#endif
