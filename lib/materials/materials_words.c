/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Abbreviations of a published pattern. */
#include "materials/materials.h"

#include "base/text.h"
#include "catalogue/terms.h"

#include <math.h>
#include <string.h>

static void mark_steps(const struct hk_step *steps, size_t count, size_t stitch_count, bool *used)
{
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_STITCH && steps[i].stitch < stitch_count)
            used[steps[i].stitch] = true;
        mark_steps(steps[i].steps, steps[i].step_count, stitch_count, used);
    }
}

/* Marks the stitches that are worked, and all other stitches in the rows of their fabrics. */
static void mark_words(const struct hk_writing *w, bool *used)
{
    for (size_t line = 0; line < w->project->line_count; line++) {
        const struct hk_fabric *fabric = w->project->lines[line].fabric;
        if (!hk_writing_uses(w, line))
            continue;
        hk_writing_stitches(w, line, used);
        bool rows = fabric->rows && !w->project->lines[line].written;
        for (size_t r = 0; rows && r < fabric->setup_count + fabric->cycle_count; r++)
            mark_steps(fabric->rows[r].steps, fabric->rows[r].step_count, w->project->catalogue->stitch_count, used);
    }
}

/*
 * Words in rows other than stitches, in US and UK terms; each meaning in both. "skip", and "miss" in UK patterns, are
 * no abbreviations. Shipped fabrics use tch only for counting.
 */
struct row_word {
    const char *spellings[4], *word, *us, *uk;
    bool own_only;
};

static const struct row_word row_words[] = {
    {{"sk"}, "sk", "skip a stitch", "miss a stitch", false},
    {{"BLO", "BL"}, "BLO", "back loop only", "back loop only", false},
    {{"FLO", "FL"}, "FLO", "front loop only", "front loop only", false},
    {{"sp", "sps"}, "sp(s)", "space(s)", "space(s)", false},
    {{"tch", "t-ch"}, "tch", "turning chain", "turning chain", true},
};
enum { row_word_count = sizeof row_words / sizeof row_words[0] };

static bool has_stitch(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (steps[i].kind == HK_STEP_STITCH || has_stitch(steps[i].steps, steps[i].step_count))
            return true;
    return false;
}

/* Returns true for a seam that is sewn: a pattern names it and does not spell its row. */
static bool is_sewn(const struct hk_fabric *fabric)
{
    bool stitches = !fabric->rows;
    for (size_t r = 0; fabric->rows && r < fabric->setup_count + fabric->cycle_count; r++)
        stitches |= has_stitch(fabric->rows[r].steps, fabric->rows[r].step_count);
    return !stitches;
}

/* Returns true when a row of a fabric in use has the word. */
static bool row_word_used(const struct hk_writing *w, const struct row_word *word)
{
    const struct hk_written *written = w->project->written;
    for (size_t e = 0; written && e < written->entry_count; e++)
        for (size_t i = 0; word->spellings[i]; i++)
            if (hk_writing_find(written->entries[e].text.text, word->spellings[i]))
                return true;
    for (size_t line = 0; line < w->project->line_count; line++) {
        const struct hk_fabric *fabric = w->project->lines[line].fabric;
        if (w->project->lines[line].written || !hk_writing_uses(w, line) ||
            (word->own_only && !hk_writing_own(w, fabric)) || is_sewn(fabric))
            continue;
        for (size_t r = 0; fabric->rows && r < fabric->setup_count + fabric->cycle_count; r++) {
            const char *row = fabric->rows[r].text->text;
            for (size_t i = 0; row && word->spellings[i]; i++) {
                if (hk_writing_find(row, word->spellings[i]))
                    return true;
            }
        }
    }
    return false;
}

/*
 * Returns the full name of a stitch in the terms of the block. "bind-off" is the only knitting name that exists in US
 * terms only.
 */
static const char *meaning_of(struct hk_writing *w, const struct hk_stitch *stitch)
{
    static const char us[] = "bind-off";
    const char *found = strstr(stitch->name, us);
    if (w->terms == HK_TERMS_UK && found)
        return hk_arena_print(w->arena, "%.*scast-off", (int)(found - stitch->name), stitch->name);
    return hk_terms_change(w->project->catalogue, stitch->name, HK_TERMS_US, w->terms, w->arena);
}

/* Returns true when the word is not an abbreviation, such as "cast off" for "cast-off". */
static bool says_itself(const char *word, const char *meaning)
{
    for (; *word && *meaning; word++, meaning++) {
        if (*word != *meaning && !(*word == ' ' && *meaning == '-'))
            return false;
    }
    return *word == *meaning;
}

/* Returns true when a line with shaping every few rows widens; its increases are not stitch kinds. */
static bool widens(const struct hk_writing *w)
{
    for (size_t line = 0; line < w->project->line_count; line++)
        for (size_t size = 0; w->project->lines[line].every.given && size < w->size_count; size++) {
            const struct hk_worked *worked = hk_writing_worked(w, size, line);
            if (worked->times > 0 && worked->run_count > 0 && worked->leaves > worked->runs[0].stitches)
                return true;
        }
    return false;
}

void hk_materials_words(struct hk_writing *w)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    bool *used = hk_arena_take(w->arena, catalogue->stitch_count, sizeof *used);
    size_t count = 0, most = catalogue->stitch_count + row_word_count + 2;
    struct hk_materials_word *words = hk_arena_take(w->arena, most, sizeof *words);
    if (!used || !words)
        return;
    mark_words(w, used);
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &catalogue->stitches[i];
        const char *word = w->terms == HK_TERMS_US ? stitch->us : stitch->uk;
        const char *meaning = used[i] && word ? meaning_of(w, stitch) : NULL;
        if (meaning && !says_itself(word, meaning))
            words[count++] = (struct hk_materials_word){word, meaning};
    }
    for (size_t i = 0; i < row_word_count; i++) {
        const struct row_word *of = &row_words[i];
        if (row_word_used(w, of))
            words[count++] = (struct hk_materials_word){of->word, w->terms == HK_TERMS_UK ? of->uk : of->us};
    }
    if (widens(w))
        words[count++] = (struct hk_materials_word){"inc", "increase"};
    words[count++] = (struct hk_materials_word){"st(s)", "stitch(es)"};
    w->face->words = words;
    w->face->word_count = count;
}
