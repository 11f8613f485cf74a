/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Yarns held together in a published pattern: which, how many strands of each, and in which pieces. */
#include "materials/materials.h"

#include "base/text.h"

#include <inttypes.h>

/* Returns true when the line works stitches with this combination in some size; sewn seams have none. */
static bool works_with(const struct hk_writing *w, size_t line, size_t combination)
{
    for (size_t size = 0; size < w->size_count; size++) {
        const struct hk_worked *worked = hk_writing_worked(w, size, line);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++)
            if (worked->uses[u].combination == combination && worked->uses[u].kinds.count > 0)
                return true;
    }
    return false;
}

static int64_t strands(const struct hk_combination *combination)
{
    int64_t sum = 0;
    for (size_t i = 0; i < combination->strand_count; i++)
        sum += combination->strands[i].times;
    return sum;
}

/* Returns "2 strands of main and 1 of mist". NULL when out of memory. */
static const char *strands_write(struct hk_writing *w, const struct hk_combination *combination)
{
    const char **texts = hk_arena_take(w->arena, combination->strand_count, sizeof *texts);
    for (size_t i = 0; texts && i < combination->strand_count; i++) {
        const struct hk_strand *strand = &combination->strands[i];
        const char *what = i > 0 ? "" : strand->times == 1 ? " strand" : " strands";
        texts[i] =
            hk_arena_print(w->arena, "%" PRId64 "%s of %s", strand->times, what, w->project->roles[strand->role].name);
        if (!texts[i])
            return NULL;
    }
    return texts ? hk_writing_list(w, texts, combination->strand_count) : NULL;
}

/* Returns "throughout" if no line works with anything else, else the pieces, "in body and sleeve". NULL: in none. */
static const char *where_write(struct hk_writing *w, size_t combination)
{
    const struct hk_line *lines = w->project->lines;
    const char **pieces = hk_arena_take(w->arena, w->project->line_count, sizeof *pieces);
    size_t count = 0;
    bool others = false;
    for (size_t line = 0; pieces && line < w->project->line_count; line++) {
        for (size_t i = 0; i < w->project->combination_count; i++)
            others |= i != combination && works_with(w, line, i);
        bool known = false;
        for (size_t i = 0; i < count; i++)
            known |= hk_text_same(pieces[i], lines[line].piece);
        if (!known && works_with(w, line, combination))
            pieces[count++] = lines[line].piece;
    }
    if (count == 0)
        return NULL;
    const char *list = others ? hk_writing_list(w, pieces, count) : NULL;
    return list ? hk_arena_print(w->arena, "in %s", list) : "throughout";
}

void hk_materials_held(struct hk_writing *w)
{
    const char **held = hk_arena_take(w->arena, w->project->combination_count, sizeof *held);
    size_t count = 0;
    for (size_t i = 0; held && i < w->project->combination_count; i++) {
        const struct hk_combination *combination = &w->project->combinations[i];
        const char *where =
            strands(combination) > 1 && combination->strands[0].role != SIZE_MAX ? where_write(w, i) : NULL;
        const char *what = where ? strands_write(w, combination) : NULL;
        if (what)
            held[count++] = hk_arena_print(w->arena, "%s %s", what, where);
    }
    w->face->held = held;
    w->face->held_count = count;
}
