/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of one stitch: finds the stitch of the rows above, and makes rows of it from generated words. */
#include "pattern/proof_run.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define LEAD_MOST 2 /* chains at the start of a row that do not count as a stitch */

bool hk_proof_planned_words(struct proof_run *run, const char *words, size_t held, struct planned_row *planned)
{
    const struct hk_row *row = hk_proof_words(run->p, words, &hk_proof_entry_at(run)->text);
    *planned = (struct planned_row){row, held, false};
    return row != NULL;
}

bool hk_proof_plain_words(struct proof_run *run, const struct plain_row *plain, const char *words,
                          struct planned_row *planned)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[plain->stitch];
    char all[HK_PROOF_WORDS_MOST], lead[40] = "", even[160];
    if (plain->chains > 0)
        snprintf(lead, sizeof lead, "ch %" PRId64 ", ", plain->chains);
    snprintf(even, sizeof even, s->family == HK_FAMILY_KNIT ? "%s to end" : "%s in each st",
             hk_proof_stitch(run->p, plain->stitch));
    int length = snprintf(all, sizeof all, "%s%s%s", lead, words ? words : even, plain->joined ? ", join" : "");
    return length > 0 && (size_t)length < sizeof all && hk_proof_planned_words(run, all, plain->held, planned);
}

struct plain_row hk_proof_plain_of(const struct proof_run *run, size_t stitch)
{
    struct plain_row plain = {.stitch = stitch, .held = run->held};
    for (size_t i = run->log_count; i > 0; i--) { /* like the nearest row of this stitch */
        const struct worked_row *row = &run->log[i - 1];
        if (row->stitch != stitch)
            continue;
        plain.chains = row->knit ? 0 : row->lead;
        plain.joined = !row->knit && row->row->joined;
        break;
    }
    return plain;
}

int64_t hk_proof_lead(const struct proof_run *run, const struct hk_followed *followed)
{
    int64_t chains = 0, leaves = 0;
    for (size_t i = 0; i < followed->worked_count; i++) {
        const struct hk_stitches *worked = &followed->worked[i];
        if (worked->stitch == run->p->chain)
            chains += worked->count;
        else if (worked->stitch != run->p->slip)
            leaves += worked->count * run->w->words.catalogue->stitches[worked->stitch].leaves;
    }
    return chains <= LEAD_MOST && leaves == followed->count ? chains : 0;
}

static struct plain_row plain_again(const struct proof_run *run, const struct worked_row *row)
{
    bool named = hk_proof_entry_at(run)->yarn_named;
    return (struct plain_row){.stitch = row->stitch,
                              .held = named ? run->held : row->held,
                              .chains = row->knit ? 0 : row->lead,
                              .joined = !row->knit && row->row->joined};
}

/* Sets plain knit rows when there is no row above. Returns their number. */
static size_t plain_first(struct proof_run *run, struct plain_row *rows)
{
    if (!run->p->needles)
        return 0;
    rows[0] = (struct plain_row){.stitch = run->p->knit, .held = run->held};
    rows[1] = (struct plain_row){.stitch = run->p->purl, .held = run->held};
    hk_proof_report(run, HK_CODE_ASSUMPTION, hk_proof_entry_at(run)->place,
                    run->round ? "no row is above it: knit rounds are taken"
                               : "there is no row above it: alternate knit and purl rows are assumed",
                    NULL);
    return run->round ? 1 : 2;
}

size_t hk_proof_plain_rows(struct proof_run *run, struct plain_row *rows)
{
    if (run->log_count == 0)
        return plain_first(run, rows);
    const struct worked_row *last = &run->log[run->log_count - 1];
    bool turns = run->cycle > 0 && run->cycle_worked >= run->cycle;
    size_t count = turns ? run->cycle : last->knit && !run->round ? 2 : 1;
    if (count > run->log_count)
        return 0;
    for (size_t i = 0; i < count; i++) {
        const struct worked_row *row = &run->log[run->log_count - count + i];
        if (row->stitch == NO_STITCH || row->knit != last->knit)
            return 0;
        rows[i] = plain_again(run, row);
    }
    return count;
}

void hk_proof_plain_keep(struct proof_run *run, const struct planned_row *rows, size_t count, int64_t worked)
{
    struct planned_row *kept = hk_arena_take(run->p->arena, count, sizeof *kept);
    if (!kept) {
        hk_proof_lose(run);
        return;
    }
    memcpy(kept, rows, count * sizeof *kept);
    run->cycle = count;
    run->cycle_rows = kept;
    run->cycle_worked = (size_t)worked;
    run->cycle_plain = true;
}
