/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/weighed_once.h"

#include "base/diags.h"

#include <stdlib.h>

static int by_number(const void *a, const void *b)
{
    const struct hk_weighing *x = a, *y = b;
    return (x->number > y->number) - (x->number < y->number);
}

static int by_hash(const void *a, const void *b)
{
    const struct hk_weighing *x = a, *y = b;
    if (x->hash != y->hash)
        return x->hash < y->hash ? -1 : 1;
    return by_number(a, b);
}

static size_t list_of(struct hk_project *of, const struct hk_weighings *kind, struct hk_weighing *list, size_t count)
{
    for (size_t i = 0; i < kind->count(of); i++) {
        list[count] = (struct hk_weighing){.number = count, .of = of};
        kind->list(of, i, &list[count]);
        count += list[count].what != NULL;
    }
    return count;
}

void hk_weighed_once(struct hk_project *project, const struct hk_weighings *kind, struct hk_diags *diags)
{
    struct hk_arena scratch = {0};
    size_t most = kind->count(project);
    for (size_t i = 0; i < project->learned_count; i++)
        most += kind->count(project->learned[i]);
    struct hk_weighing *list =
        project->learned_count > 0 && most > 0 ? hk_arena_take(&scratch, most, sizeof *list) : NULL;
    diags->out_of_memory |= scratch.out_of_memory;
    if (!list)
        return;
    size_t count = list_of(project, kind, list, 0);
    for (size_t i = 0; i < project->learned_count; i++)
        count = list_of(project->learned[i], kind, list, count);
    qsort(list, count, sizeof *list, by_hash);
    for (size_t i = 0; i < count; i++)
        for (size_t k = i; k > 0 && list[k - 1].hash == list[i].hash && !list[i].again; k--)
            if (list[k - 1].of != list[i].of && !list[k - 1].again)
                kind->compare(&list[k - 1], &list[i], diags);
    qsort(list, count, sizeof *list, by_number);
    for (size_t i = count; i > 0; i--)
        if (list[i - 1].again)
            kind->leave_out(&list[i - 1]);
    hk_arena_free(&scratch);
}
