/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/names.h"

#include "base/text.h"

size_t hk_names_find(struct hk_names names, const char *word)
{
    for (size_t i = 0; i < names.count; i++) {
        if (hk_text_same(names.name(names.context, i), word))
            return i;
    }
    return SIZE_MAX;
}

static const char *size_name(const void *project, size_t i)
{
    return ((const struct hk_project *)project)->sizes[i];
}

struct hk_names hk_project_size_names(const struct hk_project *project)
{
    return (struct hk_names){project->size_count, size_name, project};
}

static const char *role_name(const void *project, size_t i)
{
    return ((const struct hk_project *)project)->roles[i].name;
}

struct hk_names hk_project_role_names(const struct hk_project *project)
{
    return (struct hk_names){project->role_count, role_name, project};
}

static const char *yarn_name(const void *project, size_t i)
{
    return ((const struct hk_project *)project)->yarns[i].name;
}

struct hk_names hk_project_yarn_names(const struct hk_project *project)
{
    return (struct hk_names){project->yarn_count, yarn_name, project};
}
