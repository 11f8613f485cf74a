/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pairs of yarns held together. The yarns are sorted by grams per metre and each finds its partners by binary search,
 * so the time is O(n log n), not proportional to the number of pairs.
 */
#include "compare/compare.h"

#include "base/text.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>

/* The tolerance of a pair's grist relative to the planned yarn's. From experience, no source. */
#define PAIR_APART 0.05
#define PARTNERS_MOST 3
/* The limit of skipped rows that repeat the same yarn in another put-up or at another price. */
#define AGAIN_MOST 100

struct by_grist {
    double g_m;
    const struct hk_listed *yarn;
};

static int grist_order(const void *a, const void *b)
{
    const struct by_grist *x = a, *y = b;
    if (x->g_m != y->g_m)
        return x->g_m < y->g_m ? -1 : 1;
    return (x->yarn > y->yarn) - (x->yarn < y->yarn);
}

/* Returns the first yarn from `from` on with at least g_m grams per metre. */
static size_t first_from(const struct by_grist *sorted, size_t from, size_t count, double g_m)
{
    size_t end = count;
    while (from < end) {
        size_t middle = from + (end - from) / 2;
        if (sorted[middle].g_m < g_m)
            from = middle + 1;
        else
            end = middle;
    }
    return from;
}

/* Returns true for the same yarn in another row: a pair of the two equals the yarn held with itself. */
static bool is_again(const struct by_grist *a, const struct by_grist *b)
{
    return a->yarn != b->yarn && fabs(log(a->g_m / b->g_m)) < HK_SAME_GRIST && hk_text_same(a->yarn->name, b->yarn->name) &&
           hk_text_same(a->yarn->colour, b->yarn->colour);
}

/*
 * Adds pairs of yarn i with the partners, not finer than it and including itself, whose grist is nearest to the missing
 * grist.
 */
static bool add_partners(struct hk_comparing *c, const struct by_grist *sorted, size_t i, size_t count, double plan_g_m)
{
    double wanting = plan_g_m - sorted[i].g_m;
    size_t above = first_from(sorted, i, count, wanting), below = above;
    for (size_t partners = 0, again = 0; partners < PARTNERS_MOST && again < AGAIN_MOST;) {
        double up = above < count ? sorted[above].g_m - wanting : INFINITY;
        double down = below > i ? wanting - sorted[below - 1].g_m : INFINITY;
        if (fmin(fabs(up), fabs(down)) > PAIR_APART * plan_g_m)
            return true;
        size_t partner = up <= down ? above++ : --below;
        if (is_again(&sorted[i], &sorted[partner])) {
            again++;
            continue;
        }
        if (!hk_compare_add(c, sorted[i].yarn, sorted[partner].yarn))
            return false;
        partners++;
    }
    return true;
}

bool hk_compare_add_pairs(struct hk_comparing *c, const struct hk_listed *yarns, size_t count, double plan_g_m)
{
    struct by_grist *sorted = hk_arena_take(&c->scratch, count, sizeof *sorted);
    if (!sorted)
        return false;
    for (size_t i = 0; i < count; i++)
        sorted[i] = (struct by_grist){hk_listed_g_m(&yarns[i]), &yarns[i]};
    qsort(sorted, count, sizeof *sorted, grist_order);
    for (size_t i = 0; i < count; i++) {
        if (!add_partners(c, sorted, i, count, plan_g_m))
            return false;
    }
    return true;
}
