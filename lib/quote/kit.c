/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A kit: yarn, notions and pattern for another maker. A batch has kits of one size, or N_i kits of each of several
 * sizes. Balls from home are charged at their value. The cost of a kit is the cost of its size's part of the batch /
 * N_i, rounded up. Costs of the batch are divided equally among its kits; its yarn by the value of each size's balls or
 * grams (kit_yarn.c).
 *
 * The cost of a batch of one size grows with N, also for bought yarn, since a basket for N + 1 kits is enough for N. So
 * if the batch of `high` kits, with the maximum of yarn from home, costs no more than the income from `low` kits, every
 * batch between the two pays.
 */
#include "quote/kit.h"

#include "base/diags.h"
#include "base/money.h"

#include <stdlib.h>

#define BATCHES_MOST 7
/*
 * The parts of the search time for each other batch shown, and for each batch of the search for the break-even one;
 * half of it is for the batch asked for.
 */
#define SECONDS_SHOWN (0.25 / BATCHES_MOST)
#define SECONDS_EVEN (0.25 / 100)

/* ---- A batch ----------------------------------------------------------------------------------------------------- */

/* All costs of a part of a batch, and the maker's labour and markup. */
struct batch {
    int64_t bought, home, materials, fixed, overhead, postage, time, labour, markup, costs; /* time in HK_COST_ONE */
};

/* Returns a part's share of an amount of the whole batch, equal for each kit; the shares add up to the amount. */
static int64_t shared(const struct hk_kit *k, const struct hk_kit_part *part, int64_t amount)
{
    int64_t to = 0, from = 0;
    k->q->too_much |= !hk_money_part(amount, part->before + part->kits, k->kits, &to) ||
                      !hk_money_part(amount, part->before, k->kits, &from);
    return to - from;
}

/* Returns the cost of the contents of the kits besides yarn, spare included; countable items are bought whole. */
static int64_t contents_of(struct hk_quoting *q, const struct hk_kit_part *part)
{
    int64_t sum = 0, spare = q->options.spare_millionths;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (!hk_cost_applies(cost, HK_COST_MATERIAL, HK_PER_KIT) && !hk_cost_applies(cost, HK_COST_KIT, HK_PER_KIT))
            continue;
        int64_t one = hk_cost_quantity(cost, part->index), all = part->kits * one;
        all += all / HK_MILLION * spare + hk_ceil_div(all % HK_MILLION * spare, HK_MILLION);
        if (one % HK_COST_ONE == 0)
            all = HK_COST_ONE * hk_ceil_div(all, HK_COST_ONE);
        hk_quoting_add(q, &sum, hk_quoting_times(q, cost->amount_minor, all));
    }
    return sum;
}

static struct batch batch_of(const struct hk_kit *k, const struct hk_kit_part *part, int64_t bought_minor, int64_t home_minor)
{
    struct hk_quoting *q = k->q;
    int64_t time = 0, kits = part->kits;
    struct batch b = {.bought = bought_minor, .home = home_minor, .materials = contents_of(q, part),
                      .fixed = shared(k, part, hk_quoting_sum(q, HK_COST_FIXED, HK_PER_BATCH, part->index, 1)),
                      .postage = hk_quoting_sum(q, HK_COST_POSTAGE, HK_PER_KIT, part->index, kits)};
    hk_quoting_add(q, &b.materials, shared(k, part, hk_quoting_sum(q, HK_COST_KIT, HK_PER_BATCH, part->index, 1)));
    b.labour = shared(k, part, hk_quoting_stated_labour(q, HK_PER_BATCH, part->index, 1, &time));
    b.time = shared(k, part, time);
    hk_quoting_add(q, &b.labour, hk_quoting_stated_labour(q, HK_PER_KIT, part->index, kits, &b.time));
    int64_t materials = b.bought;
    hk_quoting_add(q, &materials, b.home);
    hk_quoting_add(q, &materials, b.materials);
    b.overhead = hk_quoting_shares(q, HK_COST_OVERHEAD, materials, b.labour);
    hk_quoting_add(q, &b.overhead, hk_quoting_hour_overhead(q, b.time));
    hk_quoting_add(q, &b.overhead, hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_KIT, part->index, kits));
    hk_quoting_add(q, &b.overhead, shared(k, part, hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_BATCH, part->index, 1)));
    b.markup = hk_quoting_shares(q, HK_COST_MARKUP, materials, b.labour);
    b.costs = materials;
    hk_quoting_add(q, &b.costs, b.fixed);
    hk_quoting_add(q, &b.costs, b.overhead);
    hk_quoting_add(q, &b.costs, b.postage);
    return b;
}

/* Returns the income from a number of kits, limited to the range of money. */
static int64_t income(int64_t left_minor, int64_t kits)
{
    int64_t most = HK_MONEY_MOST / kits;
    return left_minor > most ? HK_MONEY_MOST : left_minor < -most ? -HK_MONEY_MOST : left_minor * kits;
}

/* ---- Kits sold until the money is back --------------------------------------------------------------------------- */

/* Kits of one size and what each leaves, postage paid. */
struct selling {
    int64_t kits, net_minor;
};

static int by_net(const void *a, const void *b)
{
    const struct selling *x = a, *y = b;
    return (x->net_minor > y->net_minor) - (x->net_minor < y->net_minor);
}

/*
 * Returns the number of kits that pay an amount, whichever are sold: those that leave least, first. -1: not even all of
 * them do.
 */
static int64_t sold_until(const struct selling *sorted, size_t count, int64_t amount_minor)
{
    int64_t sold = 0;
    for (size_t i = 0; i < count && amount_minor > 0; i++) {
        int64_t all = income(sorted[i].net_minor, sorted[i].kits);
        sold += all < amount_minor ? sorted[i].kits : hk_ceil_div(amount_minor, sorted[i].net_minor);
        amount_minor -= all;
    }
    return amount_minor > 0 ? -1 : sold;
}

/* Sets the kits to sell of the batch, whose parts are priced. */
static void fill_sold(const struct hk_kit *k, const struct batch *batches, struct hk_quote_sold *sold)
{
    struct selling *selling = hk_arena_take(k->q->arena, k->part_count, sizeof *selling);
    int64_t costs = 0, work = 0;
    for (size_t p = 0; selling && p < k->part_count; p++) {
        const struct hk_kit_part *part = &k->parts[p];
        int64_t postage = hk_quoting_sum(k->q, HK_COST_POSTAGE, HK_PER_KIT, part->index, 1);
        selling[p] = (struct selling){part->kits, part->size->bill.kept_minor + part->size->bill.costs_minor - postage};
        hk_quoting_add(k->q, &costs, batches[p].costs - batches[p].postage);
        hk_quoting_add(k->q, &work, batches[p].labour);
    }
    if (!selling)
        return;
    qsort(selling, k->part_count, sizeof *selling, by_net);
    hk_quoting_add(k->q, &work, costs);
    *sold = (struct hk_quote_sold){sold_until(selling, k->part_count, costs), sold_until(selling, k->part_count, work)};
}

/* ---- The break-even batch of one size ---------------------------------------------------------------------------- */

/* Returns what a batch of one size leaves at a number of kits sold, all costs and the work paid. */
static int64_t left_of(struct hk_kit *k, int64_t kits, int64_t home_minor, int64_t left_minor, int64_t sold)
{
    hk_kit_resize(k, kits);
    struct batch b = batch_of(k, &k->parts[0], k->trials[kits - 1].bought_minor, home_minor);
    return income(left_minor, sold) - b.costs - b.labour;
}

/* Returns true when the costs of the largest batch prove that every batch from low to high pays. */
static bool all_pay(struct hk_kit *k, int64_t low, int64_t high, int64_t left_minor)
{
    const struct hk_kit_trial *trial = hk_kit_try(k, high, SECONDS_EVEN);
    return trial->had && left_of(k, high, low == high ? trial->home_minor : hk_kit_home_most(k), left_minor, low) >= 0;
}

/*
 * Returns the largest batch from low to high that does not pay; 0 if all pay. Above EVEN_MOST the resolution is a
 * thousandth of the largest batch: the result may be too high by that.
 */
static int64_t last_loss(struct hk_kit *k, int64_t low, int64_t high, int64_t left_minor)
{
    if (all_pay(k, low, high, left_minor))
        return 0;
    if (high - low <= k->most / 1000)
        return high;
    int64_t middle = low + (high - low) / 2;
    int64_t upper = last_loss(k, middle + 1, high, left_minor);
    return upper > 0 ? upper : last_loss(k, low, middle, left_minor);
}

/* Returns the largest batch with enough yarn; at least the batch asked for. */
static int64_t most_had(struct hk_kit *k)
{
    int64_t had = k->q->options.batch, lacking = k->most + 1;
    if (hk_kit_try(k, k->most, SECONDS_EVEN)->had)
        return k->most;
    while (had + 1 < lacking) {
        int64_t middle = had + (lacking - had) / 2;
        if (hk_kit_try(k, middle, SECONDS_EVEN)->had)
            had = middle;
        else
            lacking = middle;
    }
    return had;
}

static int64_t even_batch(struct hk_kit *k, int64_t left_minor)
{
    int64_t most = k->parts[0].size->even_most, even = left_minor > 0 ? 1 + last_loss(k, 1, most, left_minor) : most + 1;
    return even <= most ? even : -1;
}

/* ---- By batch ---------------------------------------------------------------------------------------------------- */

/* Sets the usual batches and the one asked for, ascending. Returns their number. */
static size_t batch_sizes(int64_t asked, int64_t kits[BATCHES_MOST])
{
    static const int64_t usual[BATCHES_MOST - 1] = {1, 5, 10, 25, 50, 100};
    size_t count = 0;
    bool placed = false;
    for (size_t i = 0; i < BATCHES_MOST - 1; i++) {
        if (!placed && usual[i] > asked)
            kits[count++] = asked;
        placed = placed || usual[i] >= asked;
        kits[count++] = usual[i];
    }
    if (!placed)
        kits[count++] = asked;
    return count;
}

static void fill_batches(struct hk_kit *k, int64_t left_minor)
{
    int64_t kits[BATCHES_MOST];
    struct hk_quote_batch *batches = hk_arena_take(k->q->arena, BATCHES_MOST, sizeof *batches);
    size_t count = batch_sizes(k->q->options.batch, kits);
    for (size_t i = 0; batches && i < count; i++) {
        const struct hk_kit_trial *trial = hk_kit_try(k, kits[i], SECONDS_SHOWN);
        batches[i] = (struct hk_quote_batch){.kits = kits[i], .had = trial->had};
        if (!trial->had)
            continue;
        batches[i].left_minor = left_of(k, kits[i], trial->home_minor, left_minor, kits[i]);
        batches[i].unit_minor = hk_ceil_div(income(left_minor, kits[i]) - batches[i].left_minor, kits[i]);
        batches[i].proven = trial->proven;
        batches[i].gap = trial->gap;
    }
    k->parts[0].size->batches = batches;
    k->parts[0].size->batch_count = batches ? count : 0;
}

/* ---- One batch ---------------------------------------------------------------------------------------------------- */

/*
 * Returns a kit's share of one more amount: the difference of the rounded-up sums per kit, so that shares add up to the
 * total per kit.
 */
static int64_t of_kit(int64_t *sum, int64_t amount, int64_t kits)
{
    int64_t before = hk_ceil_div(*sum, kits);
    *sum += amount; /* cannot overflow: parts of amounts added before */
    return hk_ceil_div(*sum, kits) - before;
}

/* Sets the costs of one kit, and its price. Returns false with a finding. */
static bool price_part(struct hk_kit *k, const struct hk_kit_part *part, const struct batch *b)
{
    int64_t kits = part->kits, costs = 0, hers = 0;
    struct hk_quote_size *size = part->size;
    size->yarn_bought_minor = of_kit(&costs, b->bought, kits);
    size->yarn_home_minor = of_kit(&costs, b->home, kits);
    size->yarn_minor = size->yarn_bought_minor + size->yarn_home_minor;
    size->materials_minor = of_kit(&costs, b->materials, kits);
    size->each_fixed_minor = of_kit(&costs, b->fixed, kits);
    size->overhead_minor = of_kit(&costs, b->overhead, kits);
    size->postage_minor = of_kit(&costs, b->postage, kits);
    size->labour_minor = of_kit(&hers, b->labour, kits);
    size->markup_minor = of_kit(&hers, b->markup, kits);
    size->fixed_minor = b->fixed;
    size->stated_h = (double)b->time / (double)HK_COST_ONE / (double)kits;
    size->hours = (struct hk_range){size->stated_h, size->stated_h, size->stated_h, size->stated_h};
    hers = hk_ceil_div(hers, kits);
    if (!hk_quoting_price(k->q, hk_ceil_div(costs, kits), hers, &size->bill))
        return false;
    size->rounding_minor = k->q->face->solved ? size->bill.kept_minor - hers : 0;
    hk_quoting_code_bill(k->q, &size->bill, &size->code_bill);
    hk_quoting_discounts(k->q, size);
    return true;
}

/* Sets what other batches of one size leave at the price. */
static void fill_others(struct hk_kit *k)
{
    struct hk_quote_size *size = k->parts[0].size;
    int64_t costs = size->bill.costs_minor, left = size->bill.kept_minor + costs;
    fill_batches(k, left);
    size->even_most = most_had(k);
    size->even_batch = even_batch(k, left);
    size->code_even_batch = even_batch(k, size->code_bill.kept_minor + costs);
}

static void price_batch(struct hk_kit *k)
{
    struct hk_quoting *q = k->q;
    struct hk_kit_trial *yarn = hk_arena_take(q->arena, k->part_count, sizeof *yarn);
    struct batch *batches = hk_arena_take(q->arena, k->part_count, sizeof *batches);
    if (!yarn || !batches)
        return;
    hk_kit_split_yarn(k, yarn);
    for (size_t p = 0; p < k->part_count; p++) {
        hk_kit_fill_yarns(k, &k->parts[p]);
        batches[p] = batch_of(k, &k->parts[p], yarn[p].bought_minor, yarn[p].home_minor);
        if (!price_part(k, &k->parts[p], &batches[p]))
            return;
    }
    fill_sold(k, batches, q->face->mixed ? &q->face->sold : &k->parts[0].size->sold);
    if (!q->face->mixed)
        fill_others(k);
}

/*
 * Returns true when each row of costs.csv for a batch has one quantity for all sizes of the batch; else reports it,
 * since the sizes share it.
 */
static bool batch_rows_fit(const struct hk_kit *k)
{
    bool fit = true;
    for (size_t i = 0; i < k->q->project->cost_count; i++) {
        const struct hk_cost *cost = &k->q->project->costs[i];
        bool one = true;
        for (size_t p = 1; p < k->part_count && cost->per == HK_PER_BATCH; p++)
            one &= hk_cost_quantity(cost, k->parts[p].index) == hk_cost_quantity(cost, k->parts[0].index);
        if (one)
            continue;
        fit = false;
        hk_diags_add(k->q->diags, HK_CODE_RANGE, hk_cell_place(cost->cell, 0),
                     "\"%s\" is for a batch and has a quantity for each size, but the sizes share one batch", cost->item);
        hk_diags_hint(k->q->diags, "write one quantity for all sizes");
    }
    return fit;
}

/* Sets the parts of the batch: the sizes from first to last that have kits. */
static bool set_parts(struct hk_kit *k, size_t first, size_t last, struct hk_quote_size *sizes)
{
    struct hk_quoting *q = k->q;
    k->parts = hk_arena_take(q->arena, last - first + 1, sizeof *k->parts);
    for (size_t index = first; k->parts && index <= last; index++) {
        int64_t kits = q->face->mixed ? q->options.kits[index] : q->options.batch;
        if (kits == 0)
            continue;
        struct hk_kit_part *part = &k->parts[k->part_count];
        *part = (struct hk_kit_part){.index = index, .kits = kits, .before = k->kits, .size = &sizes[k->part_count]};
        part->size->size = q->project->sizes[index];
        part->size->kits = kits;
        k->kits += kits;
        k->part_count++;
    }
    return k->parts;
}

/* Returns "M", or "XS 2, M 5, L 3"; "" when out of memory. */
static const char *name_of(const struct hk_kit *k)
{
    const char *name = k->q->face->mixed ? "" : k->parts[0].size->size;
    for (size_t p = 0; name && p < k->part_count && k->q->face->mixed; p++)
        name = hk_arena_print(k->q->arena, "%s%s%s %lld", name, p ? ", " : "", k->parts[p].size->size,
                              (long long)k->parts[p].kits);
    return name ? name : "";
}

void hk_kit_batch(struct hk_quoting *q, size_t first, size_t last, struct hk_quote_size *sizes,
                  struct hk_shop_size *shop_size)
{
    bool named = first == last && q->project->size_count > 1;
    const char *title = hk_arena_print(q->arena, "%s%s, for %lld %s", named ? " in size " : "",
                                       named ? q->project->sizes[first] : "", (long long)q->face->batch,
                                       q->face->batch == 1 ? "kit" : "kits");
    struct hk_kit k = {.q = q, .buy = {.project = q->project, .title = title ? title : "", .arena = q->arena, .diags = q->diags,
                                    .watching = &q->watching}};
    *shop_size = (struct hk_shop_size){.size = "", .times = 1};
    if (!set_parts(&k, first, last, sizes))
        return;
    shop_size->size = name_of(&k);
    if (batch_rows_fit(&k) && hk_kit_open(&k) && hk_kit_buy(&k, shop_size))
        price_batch(&k);
}
