/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sum of a row that divides the work: what it works, and what it sets aside, of the stitches that are there. */
#include "pattern/proof_run.h"

#include <inttypes.h>

struct sum {
    struct proof_run *run;
    const char *text; /* "30 + 46 + 60"; NULL: memory runs out */
    int64_t total;
    size_t terms;
};

static void sum_add(struct sum *sum, int64_t count)
{
    if (!sum->text || count == 0)
        return;
    sum->text = hk_arena_print(sum->run->p->arena, "%s%s%" PRId64, sum->text, sum->terms > 0 ? " + " : "", count);
    sum->total += count;
    sum->terms++;
}

/* A number of stitches that a step names; -1: it names none. */
static int64_t named(const struct proof_run *run, const struct hk_step *step)
{
    const struct hk_where *where = &step->where;
    bool stitches = !where->given || where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH;
    if (where->which == HK_WHICH_EACH)
        return -1;
    return stitches ? hk_graded_in(where->count, run->size) : 0;
}

/* Steps that say for themselves how many stitches they take; false where one of them does not. */
static bool sum_take(struct sum *uses, struct sum *makes, const struct hk_row *row, size_t *aside)
{
    const struct hk_catalogue *catalogue = uses->run->w->words.catalogue;
    for (size_t i = 0; i < row->step_count; i++) {
        const struct hk_step *step = &row->steps[i];
        if (step->kind == HK_STEP_REPEAT || step->kind == HK_STEP_GROUP || step->kind == HK_STEP_LEAVE)
            return false;
        if (step->kind != HK_STEP_STITCH && step->kind != HK_STEP_SKIP)
            continue;
        int64_t count = named(uses->run, step), many = hk_graded_in(step->many, uses->run->size);
        if (count < 0 || (step->kind == HK_STEP_STITCH && step->stitch >= catalogue->stitch_count))
            return false;
        if (step->kind == HK_STEP_SKIP) {
            *aside += count > 1;
            sum_add(uses, count);
            continue;
        }
        const struct hk_stitch *stitch = &catalogue->stitches[step->stitch];
        if (stitch->needs > 0)
            sum_add(uses, count * stitch->needs);
        sum_add(makes, count * many * stitch->leaves);
    }
    return true;
}

const char *hk_proof_sum(struct proof_run *run, const struct hk_row *row, bool worked)
{
    struct sum uses = {.run = run, .text = ""}, makes = {.run = run, .text = ""};
    size_t aside = 0;
    if (!sum_take(&uses, &makes, row, &aside) || aside == 0 || makes.terms < 2)
        return NULL;
    int64_t there = hk_edge_count(hk_follow_edge_now(run->follow), false);
    if (!worked && (there == 0 || uses.total == there))
        return NULL;
    const char *text = !uses.text || !makes.text ? NULL
                       : worked ? hk_arena_print(run->p->arena, "%s are %" PRId64, makes.text, makes.total)
                                : hk_arena_print(run->p->arena, "%s are %" PRId64 " stitches, of %" PRId64, uses.text,
                                                 uses.total, there);
    if (!text)
        hk_proof_lose(run);
    return text;
}
