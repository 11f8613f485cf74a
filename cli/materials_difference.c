/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the block of a pattern has other numbers of balls than the designer's own answer. */
#include "materials_writer.h"
#include "number.h"

#include <stdlib.h>
#include <string.h>

/* Returns the balls of the role in a size for the designer herself, as need counts them; 0: none, or several roles. */
static int64_t own_balls(const struct work *work, size_t size, const char *role)
{
    const size_t project_size = pipeline_sizes(work).first + size;
    for (size_t i = 0; i < work->need->role_count; i++)
        if (work->need->roles[i].size == project_size && strcmp(work->need->roles[i].role_name, role) == 0)
            return work->need->roles[i].balls;
    return 0;
}

/* Appends the balls of a colour, for a reader and for the designer, if they differ in some size. */
static bool append_difference(char **words, const struct work *work, const struct hk_materials *materials,
                              const struct hk_materials_colour *colour)
{
    char *own = NULL;
    bool differs = false, same = true;
    for (size_t i = 0; i < materials->size_count; i++) {
        const int64_t balls = own_balls(work, i, colour->roles);
        if (balls == 0 && colour->balls[i] > 0) { /* of several roles: need counts each by itself */
            free(own);
            return true;
        }
        differs |= balls != colour->balls[i];
        same &= balls == own_balls(work, 0, colour->roles);
        if (!text_append(&own, "%s%s", hk_graded_mark(i, materials->size_count),
                         balls ? number_whole(balls).text : "-"))
            return false;
    }
    bool good = true;
    if (differs)
        good = text_append(words, "%s %s %s instead of %s%s", *words ? ";" : "", colour->roles, colour->balls_text,
                           same ? number_whole(own_balls(work, 0, colour->roles)).text : own,
                           same ? "" : hk_graded_mark(materials->size_count, materials->size_count));
    free(own);
    return good;
}

char *block_difference(const struct work *work, const struct hk_materials *materials, bool *failed)
{
    char *words = NULL, *sentence = NULL;
    bool good = true;
    for (size_t i = 0; i < materials->yarn_count; i++)
        for (size_t k = 0; k < materials->yarns[i].colour_count && good; k++)
            good = append_difference(&words, work, materials, &materials->yarns[i].colours[k]);
    if (words && good) {
        sentence =
            text_format("Readers vary more than you do, so this block has more balls than need and shop:%s.", words);
        good = sentence;
    }
    *failed |= !good;
    free(words);
    return sentence;
}
