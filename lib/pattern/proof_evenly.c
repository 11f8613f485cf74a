/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "Inc 6 sts evenly across": a row of one stitch, with increases or decreases spread over it. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>

/*
 * Writes the words of one group: a number of stitches of the row below, with one increase or decrease. Returns false if
 * the stitch has no such words.
 */
static bool group_words(const struct proof_run *run, size_t stitch, int by, int64_t stitches, char *words, size_t size)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *us = hk_stitch_word(s, HK_TERMS_US), *name = hk_proof_stitch(run->p, stitch);
    bool knit = s->family == HK_FAMILY_KNIT, purl = knit && us[0] == 'p';
    int64_t plain = by > 0 ? stitches - !knit : stitches - 2;
    char shape[60], even[80] = "";
    if (s->family == HK_FAMILY_TUNISIAN)
        return false;
    if (knit)
        snprintf(shape, sizeof shape, "%s", by > 0 ? purl ? "M1P" : "M1" : purl ? "p2tog" : "k2tog");
    else if (by > 0)
        snprintf(shape, sizeof shape, "2 %s in next st", name);
    else {
        char together[40];
        snprintf(together, sizeof together, "%.20s2tog", us);
        size_t two = hk_catalogue_stitch(run->p->words.catalogue, together);
        if (two == NO_STITCH)
            return false;
        snprintf(shape, sizeof shape, "%s", hk_proof_stitch(run->p, two));
    }
    if (plain > 0 && knit)
        snprintf(even, sizeof even, "%s %" PRId64 ", ", name, plain);
    else if (plain > 0)
        snprintf(even, sizeof even, "%s in next %" PRId64 " st%s, ", name, plain, plain == 1 ? "" : "s");
    snprintf(words, size, "%s%s", even, shape);
    return true;
}

/* Writes the words of the whole row. Returns false if the stitch has no such words. */
static bool row_words(const struct proof_run *run, size_t stitch, int by, int64_t there, int64_t spread, char *words)
{
    int64_t size = there / spread, larger = there % spread;
    char group[2][160] = {"", ""}, times[2][200] = {"", ""};
    for (int i = 0; i < 2; i++) {
        int64_t often = i == 0 ? larger : spread - larger;
        if (often == 0)
            continue;
        if (!group_words(run, stitch, by, size + (i == 0), group[i], sizeof group[i]))
            return false;
        snprintf(times[i], sizeof times[i], often == 1 ? "%s" : "[%s] %" PRId64 " times", group[i], often);
    }
    int length = snprintf(words, HK_PROOF_WORDS_MOST, "%s%s%s", times[0], *times[0] && *times[1] ? ", " : "", times[1]);
    return length < HK_PROOF_WORDS_MOST;
}

/* Returns the stitch with this name; NO_STITCH if there is none. */
static size_t stitch_reported(const struct proof_run *run, const char *name)
{
    const struct hk_words *words = &run->w->words.catalogue->words[run->w->words.terms];
    for (size_t i = 0; i < words->count; i++)
        if (hk_text_same(words->words[i].text, name))
            return words->words[i].stitch;
    return NO_STITCH;
}

/* Finds the row to shape. Returns false when it is ambiguous. */
static bool plain_find(struct proof_run *run, const struct hk_reference *reference, struct plain_row *plain)
{
    struct plain_row *rows = hk_arena_take(run->p->arena, CYCLE_MOST, sizeof *rows);
    if (!rows) {
        hk_proof_lose(run);
        return false;
    }
    if (*reference->words) {
        size_t stitch = stitch_reported(run, reference->words);
        if (stitch == NO_STITCH)
            return false;
        *plain = hk_proof_plain_of(run, stitch);
    } else {
        if (hk_proof_plain_rows(run, rows) == 0)
            return false;
        *plain = rows[0];
    }
    if (reference->chains > 0)
        plain->chains = reference->chains;
    return true;
}

void hk_proof_evenly(struct proof_run *run, const struct hk_reference *reference, const struct hk_row *stated)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    int64_t there = hk_edge_count(edge, false), spread = hk_graded_in(reference->spread, run->size);
    struct plain_row plain;
    struct planned_row planned;
    char words[HK_PROOF_WORDS_MOST];
    if (hk_proof_labelled(run) && hk_entry_rows(entry, run->size) != 1) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the number of rows over which these are spread is not stated",
                        "write one row for them: \"Next row: K, inc 6 sts evenly across\"");
        return;
    }
    if (!plain_find(run, reference, &plain) || hk_edge_width(edge) != there) {
        if (!run->p->out_of_memory)
            hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the stitch of this row is ambiguous from the rows above",
                            "name it: \"Sc around, inc 6 sts evenly\", or write where they are worked");
        return;
    }
    if (spread > (reference->by > 0 ? there : there / 2)) {
        char text[120];
        snprintf(text, sizeof text, "%" PRId64 " stitches cannot be %s evenly over %" PRId64, spread,
                 reference->by > 0 ? "increased" : "decreased", there);
        hk_proof_refuse(run, HK_CODE_COUNT_DIFFERS, text, "check both numbers");
        return;
    }
    bool good = spread == 0 ? hk_proof_plain_words(run, &plain, NULL, &planned)
                            : row_words(run, plain.stitch, reference->by, there, spread, words) &&
                                  hk_proof_plain_words(run, &plain, words, &planned);
    if (!good) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "how this stitch is increased or decreased is not known",
                        "write where they are worked, such as *k 18, M1; rep from * to end");
        return;
    }
    run->cycle = 0;
    run->ends.of = HK_ENDS_OF_NEITHER;
    hk_proof_work_cycle(run, &planned, 1, 1, stated);
    run->ends.of = HK_ENDS_OF_ROW;
}
