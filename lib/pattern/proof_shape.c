/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shaping at the ends of some rows, with rows of their stitches between them; and which stitches these are. */
#include "pattern/proof_run.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

/* ---- Plain rows ---- */

bool hk_proof_planned_words(struct proof_run *run, const char *words, struct planned_row *planned)
{
    const struct hk_row *row = hk_proof_words(run->p, words, &hk_proof_entry_at(run)->text);
    *planned = (struct planned_row){row, run->held, false};
    return row != NULL;
}

bool hk_proof_plain_words(struct proof_run *run, size_t stitch, struct planned_row *planned)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *name = hk_proof_stitch(run->p, stitch);
    char words[HK_PROOF_WORDS_MOST];
    snprintf(words, sizeof words, s->family == HK_FAMILY_KNIT ? "%s to end" : "%s in each st", name);
    return hk_proof_planned_words(run, words, planned);
}

bool hk_proof_plain_stitches(struct proof_run *run, size_t *stitches, bool *pair)
{
    const struct worked_row *last = run->log_count > 0 ? &run->log[run->log_count - 1] : NULL;
    if (!last && run->p->needles) {
        stitches[0] = run->p->knit;
        stitches[1] = run->p->purl;
        *pair = !run->round;
        hk_proof_say(run, HK_CODE_ASSUMED, hk_proof_entry_at(run)->place,
                     *pair ? "no row is above it: knit and purl rows in turn are taken"
                           : "no row is above it: knit rounds are taken",
                     NULL);
        return true;
    }
    if (!last || last->stitch == NO_STITCH)
        return false;
    *pair = last->knit && !run->round;
    if (*pair && (run->log_count < 2 || !last[-1].knit || last[-1].stitch == NO_STITCH))
        return false;
    stitches[0] = *pair ? last[-1].stitch : last->stitch;
    stitches[1] = last->stitch;
    return true;
}

/* ---- Rows that shape ---- */

/* The words of a row that shapes at its ends. False: there are none for that stitch. */
static bool shape_words(const struct proof_run *run, const struct hk_reference *reference, size_t stitch, char *words)
{
    /* By what it does, purl, both ends. */
    static const char *const knits[2][2][2] = {
        {{"k2tog, k to end", "k2tog, k to last 2 sts, ssk"}, {"p2tog, p to end", "p2tog, p to last 2 sts, p2tog"}},
        {{"k1, M1, k to end", "k1, M1, k to last st, M1, k1"},
         {"p1, M1P, p to end", "p1, M1P, p to last st, M1P, p1"}}};
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *us = hk_stitch_word(s, HK_TERMS_US), *name = hk_proof_stitch(run->p, stitch);
    bool both = reference->ends == 2, more = reference->by > 0;
    if (abs(reference->by) != 1 || s->family == HK_FAMILY_TUNISIAN)
        return false;
    if (s->family == HK_FAMILY_KNIT) {
        snprintf(words, HK_PROOF_WORDS_MOST, "%s", knits[more][us[0] == 'p'][both]);
        return true;
    }
    char together[HK_PROOF_WORDS_MOST];
    snprintf(together, sizeof together, "%s2tog", us);
    size_t two = hk_catalogue_stitch(run->p->words.catalogue, together);
    if (!more && two == NO_STITCH)
        return false;
    snprintf(together, sizeof together, more ? "2 %s in" : "%s", more ? name : hk_proof_stitch(run->p, two));
    snprintf(words, HK_PROOF_WORDS_MOST, both ? "%s%s, %s in each st to last %s, %s%s" : "%s%s, %s in each st to end",
             together, more ? " first st" : "", name, more ? "st" : "2 sts", together, more ? " last st" : "");
    return true;
}

struct shaping {
    struct planned_row even[2], shape[2]; /* by side, if `pair` */
    bool pair;
    bool *shapes; /* [count] whether the row shapes */
    size_t count, capacity;
    int64_t shaped; /* rows that do */
};

static bool row_add(struct proof_run *run, struct shaping *shaping, bool shapes)
{
    bool *grown =
        hk_arena_grow(run->p->arena, shaping->shapes, shaping->count, &shaping->capacity, sizeof *shaping->shapes);
    if (!grown) {
        hk_proof_lose(run);
        return false;
    }
    shaping->shapes = grown;
    grown[shaping->count++] = shapes;
    shaping->shaped += shapes;
    return true;
}

static bool words_find(struct proof_run *run, const struct hk_reference *reference, struct shaping *shaping)
{
    size_t stitches[2];
    if (!hk_proof_plain_stitches(run, stitches, &shaping->pair))
        return false;
    for (size_t i = 0; i < 1 + (size_t)shaping->pair; i++) {
        char words[HK_PROOF_WORDS_MOST];
        if (!shape_words(run, reference, stitches[i], words) ||
            !hk_proof_planned_words(run, words, &shaping->shape[i]) ||
            !hk_proof_plain_words(run, stitches[i], &shaping->even[i]))
            return false;
    }
    return true;
}

/* How often a stage shapes. -1: it does not come out, which has been said. */
static int64_t stage_times(struct proof_run *run, const struct hk_reference *reference,
                           const struct hk_shape_stage *stage, const struct shaping *shaping)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    int64_t times = hk_graded_in(stage->times, run->size), each = (int64_t)reference->by * reference->ends;
    if (stage->open && !entry->numbered && !entry->rows_given) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "it does not say how often",
                        "write \"... to 34 sts\", \"... 6 times\" or \"... 6 more times\"");
        return -1;
    }
    if (stage->open) {
        int64_t rows = hk_entry_rows(entry, run->size) - (int64_t)shaping->count;
        return rows > 0 ? rows / stage->every : 0;
    }
    if (!stage->to)
        return times;
    int64_t there = hk_edge_count(hk_follow_edge_now(run->follow), false);
    int64_t more = times - there - each * shaping->shaped;
    if (more % each == 0 && more / each >= 0)
        return more / each;
    char text[160];
    snprintf(text, sizeof text, "%" PRId64 " stitches do not become %" PRId64 " by %" PRId64 " at a time", there, times,
             each < 0 ? -each : each);
    hk_proof_refuse(run, HK_CODE_COUNT_DIFFERS, text, "check both numbers");
    return -1;
}

/* Which rows shape. False: said. */
static bool rows_plan(struct proof_run *run, const struct hk_reference *reference, struct shaping *shaping)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    size_t labelled = entry->numbered || entry->rows_given ? (size_t)hk_entry_rows(entry, run->size) : 0;
    if (reference->first_next && !row_add(run, shaping, true))
        return false;
    for (size_t s = 0; s < reference->stage_count; s++) {
        const struct hk_shape_stage *stage = &reference->stages[s];
        int64_t times = stage_times(run, reference, stage, shaping);
        if (times < 0)
            return false;
        for (int64_t r = 1; r <= times * stage->every && shaping->count <= (size_t)ROWS_MOST; r++)
            if (!row_add(run, shaping, r % stage->every == 0))
                return false;
    }
    if (labelled > 0 && shaping->count > labelled) {
        hk_proof_refuse(run, HK_CODE_COUNT_DIFFERS, "the shaping takes more rows than the label has", "check both numbers");
        return false;
    }
    while (shaping->count < labelled && shaping->count <= (size_t)ROWS_MOST)
        if (!row_add(run, shaping, false))
            return false;
    return true;
}

void hk_proof_shape(struct proof_run *run, const struct hk_reference *reference)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    const struct hk_row *stated = parsed->tailed ? &parsed->tail : NULL;
    struct shaping shaping = {0};
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    kept->from_stated = run->from_stated;
    if (!words_find(run, reference, &shaping)) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "which stitches are shaped cannot be told from the rows above",
                        "write the row that shapes with its label, and \"Rep rows ...\" or \"Work even for 3 rows\"");
        return;
    }
    if (!rows_plan(run, reference, &shaping))
        return;
    struct planned_row *cycle = hk_arena_take(run->p->arena, shaping.count, sizeof *cycle);
    if (!cycle) {
        hk_proof_lose(run);
        return;
    }
    for (size_t i = 0; i < shaping.count; i++)
        cycle[i] = (shaping.shapes[i] ? shaping.shape : shaping.even)[shaping.pair ? i % 2 : 0];
    kept->rows = 0;
    kept->there = false;
    hk_proof_work_cycle(run, cycle, shaping.count, (int64_t)shaping.count, stated);
    run->cycle = 0;
}
