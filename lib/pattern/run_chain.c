/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chains that count as a stitch, by words, by convention or by the join of the row. */
#include "pattern/run.h"

#include <string.h>

const struct hk_step *hk_run_first_worked(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_STITCH)
            return &steps[i];
        const struct hk_step *inner =
            steps[i].kind == HK_STEP_TURNING ? NULL : hk_run_first_worked(steps[i].steps, steps[i].step_count);
        if (inner)
            return inner;
    }
    return NULL;
}

bool hk_run_chooses(struct run *run, enum hk_convention choice, bool usual)
{
    unsigned bit = 1u << choice;
    run->choices |= bit;
    return (run->follow->conventions->other & bit) ? !usual : usual;
}

enum hk_counts hk_run_join_says(const struct run *run)
{
    for (size_t i = 1; i < run->row->step_count; i++) {
        const struct hk_step *step = &run->row->steps[i];
        if (step->kind != HK_STEP_JOIN || !step->where.given)
            continue;
        if (step->where.what == HK_WHAT_TOP)
            return HK_COUNTS_YES;
        if (step->where.what == HK_WHAT_STITCH && step->where.stitch != run->follow->slip)
            return HK_COUNTS_NO;
    }
    return HK_COUNTS_OPEN;
}

bool hk_run_is_us(const struct run *run, size_t stitch, const char *us)
{
    const char *text = stitch < run->follow->catalogue->stitch_count ? hk_run_stitch_of(run, stitch)->us : NULL;
    return text && strcmp(text, us) == 0;
}

size_t hk_run_row_stitch(const struct run *run, const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_STITCH && steps[i].stitch < run->follow->catalogue->stitch_count) {
            const struct hk_stitch *of = hk_run_stitch_of(run, steps[i].stitch);
            if (of->needs >= 1 && of->leaves == 1 && steps[i].stitch != run->follow->slip)
                return of->base;
        }
        size_t inner =
            steps[i].kind == HK_STEP_TURNING ? NO_KIND : hk_run_row_stitch(run, steps[i].steps, steps[i].step_count);
        if (inner != NO_KIND)
            return inner;
    }
    return NO_KIND;
}

/* Returns true when chains at the start of the row count as a stitch; sets the stitch. */
static bool chain_counts(struct run *run, int64_t chains, const struct hk_step *chain_step, size_t *stitch,
                         int64_t *spare)
{
    size_t kind = run->row_stitch;
    *stitch = chain_step->stitch != SIZE_MAX ? chain_step->stitch : kind;
    *spare = chain_step->spare;
    if (chain_step->counts != HK_COUNTS_OPEN)
        return chain_step->counts == HK_COUNTS_YES;
    if (chains == 1 || kind == NO_KIND)
        return false;
    if (run->join_says != HK_COUNTS_OPEN)
        return run->join_says == HK_COUNTS_YES;
    if (chains == 2 && (hk_run_is_us(run, kind, "hdc") || hk_run_is_us(run, kind, "dc")))
        return hk_run_chooses(run, HK_CONVENTION_CH2, false);
    if (chains == 3 && hk_run_is_us(run, kind, "dc"))
        return hk_run_chooses(run, HK_CONVENTION_CH3, true);
    if (chains == 4 && hk_run_is_us(run, kind, "tr"))
        return hk_run_chooses(run, HK_CONVENTION_CH4, true);
    if (chains > 3 && hk_run_is_us(run, kind, "dc"))
        *spare = chains - 3;
    return hk_run_chooses(run, HK_CONVENTION_CH_OTHER, false);
}

/* Puts a counting chain on the first place, which is then worked. */
static bool stand(struct run *run)
{
    struct position position = {0};
    bool ring = run->below.count && run->below.spots[0].kind == HK_SPOT_RING;
    run->landed &= run->here != 0;
    if (ring || run->in.on || run->here != NOWHERE ||
        (run->follow->foundation && !run->manner.round && !run->row->joined))
        return true;
    const struct hk_where any = {.what = HK_WHAT_ANY};
    if (hk_run_seek(run, &any, run->end, &position) != FOUND) {
        return run->below.count == 0 || hk_run_none_left(run, &any, NONE_LEFT, NULL, 0);
    }
    return hk_run_take(run, &position);
}

bool hk_run_chain_too_long(struct run *run, int64_t chains)
{
    if (chains <= (int64_t)HK_SPOTS_MOST)
        return false;
    hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, 0, "a chain of more than %zu", HK_SPOTS_MOST);
    return true;
}

bool hk_run_push_counting(struct run *run, size_t stitch, int64_t chains, int64_t spare)
{
    struct hk_spot spot = {.kind = HK_SPOT_STITCH, .stitch = (uint16_t)stitch, .chains = (uint32_t)chains};
    spot.group = hk_run_group_now(run);
    return hk_run_push(run, spot) && hk_run_push_space(run, spare);
}

bool hk_run_start_chain(struct run *run, int64_t chains, const struct hk_step *chain_step, bool worked)
{
    size_t stitch;
    int64_t spare;
    if (hk_run_chain_too_long(run, chains) || (worked && !hk_run_log_stitch(run, run->follow->chain, chains)))
        return false;
    if (!chain_counts(run, chains, chain_step, &stitch, &spare) || stitch == NO_KIND)
        return true;
    bool leading = run->leading;
    bool good = stand(run) && hk_run_push_counting(run, stitch, chains, spare);
    run->leading = leading;
    return good;
}

bool hk_run_turning_chain(struct run *run, const struct hk_step *step)
{
    int64_t chains = hk_graded_in(step->many, run->follow->size);
    if (hk_run_chain_too_long(run, chains) || !hk_run_log_stitch(run, run->follow->chain, chains) ||
        step->step_count == 0)
        return !run->failed;
    if (!stand(run))
        return false;
    bool first = true;
    for (size_t i = 0; i < step->step_count; i++) {
        const struct hk_step *as = &step->steps[i];
        int64_t count = hk_graded_in(as->kind == HK_STEP_CHAIN ? as->many : as->where.count, run->follow->size);
        if (as->kind == HK_STEP_CHAIN) {
            if (!hk_run_push_space(run, count))
                return false;
            continue;
        }
        for (int64_t j = 0; j < count; j++) {
            struct hk_spot spot = {.kind = HK_SPOT_STITCH,
                                   .stitch = (uint16_t)hk_run_stitch_of(run, as->stitch)->base,
                                   .group = hk_run_group_now(run)};
            if (first)
                spot.chains = (uint32_t)chains;
            first = false;
            if (!hk_run_push(run, spot))
                return false;
        }
    }
    return true;
}
