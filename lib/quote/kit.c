/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A kit: yarn, notions and pattern for another maker. A batch has kits of one size, or N_i kits of each of several
 * sizes. With a share s of spare, m_i grams of a role enough for a kit, and p grams per ball, it needs of each role, in
 * one lot and from the cheapest basket (purchase.h)
 *
 *     whole balls:  ceil((1 + s) sum N_i b_i) balls of one put-up, b_i the balls that are enough for a kit
 *     wound off:    sum p x >= (1 + s) (1 + w) sum N_i m_i,  w lost in winding; a kit holds its m_i grams, and no joins
 *                   are bought
 *
 * Balls from home are charged at their value. The cost of a kit is the cost of its size's part of the batch / N_i,
 * rounded up. Costs of the batch are divided equally among its kits; yarn by the value of each size's balls or grams.
 *
 * The cost of a batch of one size grows with N, also for bought yarn, since a basket for N + 1 kits is enough for N. So
 * if the batch of `high` kits, with the maximum of yarn from home, costs no more than the income from `low` kits, every
 * batch between the two pays.
 */
#include "quote/quoting.h"

#include "base/diags.h"
#include "base/money.h"
#include "model/predict.h"
#include "need/balls.h"
#include "shop/purchase.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>

#define BATCHES_MOST 7
/* The largest batch examined, unless the one asked for is larger. */
#define EVEN_MOST 100
/* The limit of balls in a kit, so that products do not overflow. */
#define BALLS_IN_KIT_MOST 1000000
/*
 * The parts of the search time: for the batch asked for, and for each other batch shown; the rest is for the break-even
 * batch.
 */
#define SECONDS_ASKED 0.5
#define SECONDS_SHOWN (0.25 / BATCHES_MOST)
#define SECONDS_EVEN (0.25 / EVEN_MOST)
/* The tolerance before ceil(). */
#define HAIR 1e-9

/* The cost of the yarn of a batch, once computed, and the value of the part from home. */
struct trial {
    bool tried, had, proven;
    double gap;
    int64_t bought_minor, home_minor;
};

/* The kits of one size in a batch. */
struct part {
    size_t index;            /* of the size in the project */
    int64_t kits, before;    /* of this size, and of the parts before it */
    struct hk_demand demand; /* of one kit */
    int64_t *balls;          /* by offer: whole balls in one kit; 0: wound off, or not in this size */
    struct hk_quote_size *size;
};

/* One batch. */
struct kit {
    struct hk_quoting *q;
    struct part *parts;
    size_t part_count;
    int64_t kits; /* of all parts */
    struct hk_purchase buy;
    struct trial *trials; /* index: kits - 1; of one size, since only that has other batches */
    int64_t most;         /* the largest batch examined */
};

/* Changes a batch of one size; one of several keeps its kits. */
static void set_kits(struct kit *k, int64_t kits)
{
    if (k->part_count == 1)
        k->kits = k->parts[0].kits = kits;
}

/* ---- The contents of a kit --------------------------------------------------------------------------------------- */

/* Returns what a kit of this part has of role r of the batch, or NULL. */
static const struct hk_demand_role *role_in(const struct kit *k, const struct part *part, size_t r)
{
    for (size_t i = 0; i < part->demand.count; i++)
        if (part->demand.roles[i].role == k->buy.demand.roles[r].role)
            return &part->demand.roles[i];
    return NULL;
}

/*
 * Sets the amounts of one kit that are enough for another maker: the reader's spread is added to the maker's. A flat
 * margin stays unchanged.
 */
static bool open_part(struct kit *k, struct part *part)
{
    const struct hk_need *need = &k->q->needed->face;
    struct hk_level level = hk_level_of(need->chance, need->margin);
    if (!hk_demand_make(k->q->needed, part->index, part->index, 1, &part->demand, k->q->arena))
        return false;
    for (size_t r = 0; r < part->demand.count; r++) {
        struct hk_demand_role *role = &part->demand.roles[r];
        role->enough_g = hk_enough(&level, role->likely_g, hypot(role->spread, k->q->project->spreads.reader));
        role->swatch_use_g = 0; /* swatches are not made from the kits' yarn */
    }
    return true;
}

/* Sets the parts of the batch: the sizes from first to last that have kits. */
static bool open_parts(struct kit *k, size_t first, size_t last, struct hk_quote_size *sizes)
{
    struct hk_quoting *q = k->q;
    k->parts = hk_arena_take(q->arena, last - first + 1, sizeof *k->parts);
    for (size_t index = first; k->parts && index <= last; index++) {
        int64_t kits = q->face->mixed ? q->options.kits[index] : q->options.batch;
        if (kits == 0)
            continue;
        struct part *part = &k->parts[k->part_count];
        *part = (struct part){.index = index, .kits = kits, .before = k->kits, .size = &sizes[k->part_count]};
        part->size->size = q->project->sizes[index];
        part->size->kits = kits;
        k->kits += kits;
        k->part_count++;
        if (!open_part(k, part))
            return false;
    }
    return k->parts;
}

/* Sets the roles of the batch, in the order of yarns.csv, with the greatest loss of a join in any part. */
static bool open_roles(struct kit *k)
{
    struct hk_demand *all = &k->buy.demand;
    size_t role_count = k->q->project->role_count;
    all->roles = hk_arena_take(k->q->arena, role_count, sizeof *all->roles);
    for (size_t role = 0; all->roles && role < role_count; role++) {
        bool used = false;
        struct hk_demand_role found = {.role = role};
        for (size_t p = 0; p < k->part_count; p++)
            for (size_t r = 0; r < k->parts[p].demand.count; r++) {
                const struct hk_demand_role *of = &k->parts[p].demand.roles[r];
                if (of->role != role)
                    continue;
                used = true;
                found.join_g = fmax(found.join_g, of->join_g);
                found.g_m = of->g_m;
            }
        if (used)
            all->roles[all->count++] = found;
    }
    return all->roles;
}

static bool count_balls(struct kit *k, struct part *part)
{
    part->balls = hk_arena_take(k->q->arena, k->buy.eligible.count, sizeof *part->balls);
    for (size_t i = 0; part->balls && i < k->buy.eligible.count && !k->q->options.used; i++) {
        const struct hk_eligible_offer *choice = &k->buy.eligible.eligible[i];
        const struct hk_demand_role *role = role_in(k, part, choice->role);
        if (role && (!hk_balls_needed(role->enough_g, choice->put_up_g, role->join_g, &part->balls[i]) ||
                     part->balls[i] > BALLS_IN_KIT_MOST))
            k->q->too_much = true;
    }
    return part->balls && !k->q->too_much;
}

static bool open_kit(struct kit *k)
{
    struct hk_quoting *q = k->q;
    k->buy.eligible.put_ups_apart = !q->options.used; /* all kits of a batch have balls of one put-up */
    if (!open_roles(k) || !hk_purchase_open(&k->buy))
        return false;
    q->face->shop.offers |= k->buy.eligible.from_offers;
    for (size_t p = 0; p < k->part_count; p++)
        if (!count_balls(k, &k->parts[p]))
            return false;
    k->most = k->kits > EVEN_MOST ? k->kits : EVEN_MOST;
    k->trials = hk_arena_take(q->arena, (size_t)k->most, sizeof *k->trials);
    return k->trials;
}

/* ---- Yarn of a batch --------------------------------------------------------------------------------------------- */

/*
 * Sets the need of role r in whole balls: offer i alone fills it with ceil((1 + s) sum N b) balls, so each of its balls
 * covers that part of the need, and half a ball of the smallest put-up is the tolerance. Returns the need.
 */
static double need_whole(struct kit *k, size_t r, double all_g)
{
    int64_t most = 1;
    for (size_t i = 0; i < k->buy.eligible.count; i++) {
        if (k->buy.eligible.eligible[i].role != r)
            continue;
        int64_t balls = 0;
        for (size_t p = 0; p < k->part_count; p++)
            balls += k->parts[p].kits * k->parts[p].balls[i];
        balls = hk_ceil_div(balls * (HK_MILLION + k->q->options.spare_millionths), HK_MILLION);
        k->buy.eligible.offers[i].usable_g = all_g / (double)balls;
        most = balls > most ? balls : most;
    }
    return all_g * (1 - 0.5 / (double)most);
}

/* Sets the need of the batch, spare and waste included. */
static void set_need(struct kit *k)
{
    const struct hk_quote_options *options = &k->q->options;
    double waste = options->used ? (double)options->waste_millionths / (double)HK_MILLION : 0;
    double more = (1 + (double)options->spare_millionths / (double)HK_MILLION) * (1 + waste);
    for (size_t i = 0; i < k->buy.eligible.count; i++)
        k->buy.eligible.offers[i].usable_g = k->buy.eligible.eligible[i].put_up_g;
    for (size_t r = 0; r < k->buy.demand.count; r++) {
        double all_g = 0;
        for (size_t p = 0; p < k->part_count; p++) {
            const struct hk_demand_role *role = role_in(k, &k->parts[p], r);
            all_g += role ? (double)k->parts[p].kits * role->enough_g * more : 0;
        }
        k->buy.roles[r].needed_g = options->used ? all_g * (1 - HAIR) : need_whole(k, r, all_g);
    }
}

/* Returns the maximum value of balls from home in the batch: of each offer as many as fill its role. */
static int64_t home_most(struct kit *k)
{
    int64_t sum = 0;
    set_need(k);
    for (size_t i = 0; i < k->buy.eligible.count; i++) {
        const struct hk_basket_offer *offer = &k->buy.eligible.offers[i];
        double fill = fmin(ceil(k->buy.roles[offer->role].needed_g / offer->usable_g), (double)offer->stock);
        if (k->buy.eligible.eligible[i].seller == HK_SELLER_OWN)
            hk_quoting_add(k->q, &sum, hk_purchase_worth(&k->buy, i, (int64_t)fill));
    }
    return sum;
}

static void note(struct kit *k, enum hk_basket_answer answer, const struct hk_basket *found, struct trial *trial)
{
    if (k->buy.arena->out_of_memory) {
        k->q->arena->out_of_memory = true;
        return;
    }
    switch (answer) {
    case HK_BASKET_FOUND:
        *trial = (struct trial){true, true, found->proven, found->gap, found->total_minor, hk_purchase_home(&k->buy)};
        break;
    case HK_BASKET_SHORT:
        *trial = (struct trial){.tried = true};
        break;
    case HK_BASKET_RANGE:
        k->q->too_much = true;
        break;
    case HK_BASKET_CANCELLED:
    case HK_BASKET_FAILED:
        hk_purchase_refuse(&k->buy, answer);
        break;
    }
}

/* Finds the cheapest basket for a number of kits. A failure is recorded; later results are then not used. */
static const struct trial *try_batch(struct kit *k, int64_t kits, double share)
{
    struct trial *trial = &k->trials[kits - 1];
    struct hk_arena scratch = {0}, *kept = k->buy.arena;
    bool failed = k->q->too_much || k->q->arena->out_of_memory || k->q->diags->errors > k->q->errors;
    set_kits(k, kits);
    if (trial->tried || failed)
        return trial;
    k->buy.seconds = k->q->options.seconds * share;
    k->buy.arena = &scratch;
    set_need(k);
    enum hk_basket_answer answer = hk_purchase_solve(&k->buy);
    note(k, answer, &k->buy.found, trial);
    k->buy.arena = kept;
    hk_arena_free(&scratch);
    return trial;
}

/* Buys the batch asked for and keeps it. Returns false with a finding when the stock is not enough. */
static bool buy_batch(struct kit *k, struct hk_shop_size *shop_size)
{
    struct hk_shop_role *roles = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *roles);
    k->buy.seconds = k->q->options.seconds * SECONDS_ASKED;
    set_need(k);
    enum hk_basket_answer answer = hk_purchase_solve(&k->buy);
    if (answer != HK_BASKET_FOUND) {
        hk_purchase_refuse(&k->buy, answer);
        return false;
    }
    note(k, answer, &k->buy.found, &k->trials[k->kits - 1]);
    hk_purchase_fill(&k->buy, shop_size);
    for (size_t r = 0; roles && r < k->buy.demand.count; r++)
        roles[r] = (struct hk_shop_role){.role = hk_purchase_role(&k->buy, r), .lots = hk_purchase_lots(&k->buy, r)};
    shop_size->roles = roles;
    shop_size->role_count = roles ? k->buy.demand.count : 0;
    return true;
}

/* The value of yarn, bought and from home. */
struct value {
    double bought, home;
};

/* Adds the value of the balls or grams of one part in the basket, of each role in proportion to the whole batch. */
static void add_value(const struct kit *k, const struct part *part, struct value *value)
{
    for (size_t i = 0; i < k->buy.eligible.count; i++) {
        const struct hk_eligible_offer *choice = &k->buy.eligible.eligible[i];
        double mine = 0, all = 0;
        for (size_t p = 0; p < k->part_count && k->buy.found.balls[i] > 0; p++) {
            const struct hk_demand_role *role = role_in(k, &k->parts[p], choice->role);
            double one = !role ? 0 : k->q->options.used ? role->enough_g : (double)k->parts[p].balls[i];
            all += (double)k->parts[p].kits * one;
            mine += &k->parts[p] == part ? (double)part->kits * one : 0;
        }
        int64_t worth = all > 0 ? hk_purchase_worth(&k->buy, i, k->buy.found.balls[i]) : 0;
        double *of = choice->seller == HK_SELLER_OWN ? &value->home : &value->bought;
        *of += worth > 0 ? (double)worth * mine / all : 0;
    }
}

/* Returns the part of an amount up to `value` of `all`, or of the kits where all is worth nothing; the last part is whole. */
static int64_t up_to(const struct kit *k, size_t p, int64_t amount_minor, double value, double all)
{
    int64_t kits = k->parts[p].before + k->parts[p].kits;
    double ratio = all > 0 ? value / all : (double)kits / (double)k->kits;
    return p + 1 == k->part_count ? amount_minor : (int64_t)floor(fmin(ratio, 1) * (double)amount_minor + 0.5);
}

/* Divides the cost of the yarn of the batch among its parts, to the minor unit. */
static void split_yarn(const struct kit *k, const struct trial *whole, struct trial *by_part)
{
    struct value all = {0}, value = {0};
    int64_t bought = 0, home = 0;
    for (size_t p = 0; p < k->part_count; p++)
        add_value(k, &k->parts[p], &all);
    for (size_t p = 0; p < k->part_count; p++) {
        add_value(k, &k->parts[p], &value);
        by_part[p].bought_minor = up_to(k, p, whole->bought_minor, value.bought, all.bought) - bought;
        by_part[p].home_minor = up_to(k, p, whole->home_minor, value.home, all.home) - home;
        bought += by_part[p].bought_minor;
        home += by_part[p].home_minor;
    }
}

/* ---- A batch ----------------------------------------------------------------------------------------------------- */

/* All costs of a part of a batch, and the maker's labour and markup. */
struct batch {
    int64_t bought, home, materials, fixed, overhead, postage, time, labour, markup, costs; /* time in HK_COST_ONE */
};

/* Returns a part's share of an amount of the whole batch, equal for each kit; the shares add up to the amount. */
static int64_t shared(const struct kit *k, const struct part *part, int64_t amount)
{
    int64_t to = 0, from = 0;
    k->q->too_much |= !hk_money_part(amount, part->before + part->kits, k->kits, &to) ||
                      !hk_money_part(amount, part->before, k->kits, &from);
    return to - from;
}

/* Returns the cost of the contents of the kits besides yarn, spare included; countable items are bought whole. */
static int64_t contents_of(struct hk_quoting *q, const struct part *part)
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

static struct batch batch_of(const struct kit *k, const struct part *part, int64_t bought_minor, int64_t home_minor)
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
static void fill_sold(const struct kit *k, const struct batch *batches, struct hk_quote_sold *sold)
{
    struct selling *selling = hk_arena_take(k->q->arena, k->part_count, sizeof *selling);
    int64_t costs = 0, work = 0;
    for (size_t p = 0; selling && p < k->part_count; p++) {
        const struct part *part = &k->parts[p];
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
static int64_t left_of(struct kit *k, int64_t kits, int64_t home_minor, int64_t left_minor, int64_t sold)
{
    set_kits(k, kits);
    struct batch b = batch_of(k, &k->parts[0], k->trials[kits - 1].bought_minor, home_minor);
    return income(left_minor, sold) - b.costs - b.labour;
}

/* Returns true when the costs of the largest batch prove that every batch from low to high pays. */
static bool all_pay(struct kit *k, int64_t low, int64_t high, int64_t left_minor)
{
    const struct trial *trial = try_batch(k, high, SECONDS_EVEN);
    return trial->had && left_of(k, high, low == high ? trial->home_minor : home_most(k), left_minor, low) >= 0;
}

/*
 * Returns the largest batch from low to high that does not pay; 0 if all pay. Above EVEN_MOST the resolution is a
 * thousandth of the largest batch: the result may be too high by that.
 */
static int64_t last_loss(struct kit *k, int64_t low, int64_t high, int64_t left_minor)
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
static int64_t most_had(struct kit *k)
{
    int64_t had = k->q->options.batch, lacking = k->most + 1;
    if (try_batch(k, k->most, SECONDS_EVEN)->had)
        return k->most;
    while (had + 1 < lacking) {
        int64_t middle = had + (lacking - had) / 2;
        if (try_batch(k, middle, SECONDS_EVEN)->had)
            had = middle;
        else
            lacking = middle;
    }
    return had;
}

static int64_t even_batch(struct kit *k, int64_t left_minor)
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

static void fill_batches(struct kit *k, int64_t left_minor)
{
    int64_t kits[BATCHES_MOST];
    struct hk_quote_batch *batches = hk_arena_take(k->q->arena, BATCHES_MOST, sizeof *batches);
    size_t count = batch_sizes(k->q->options.batch, kits);
    for (size_t i = 0; batches && i < count; i++) {
        const struct trial *trial = try_batch(k, kits[i], SECONDS_SHOWN);
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

/* ---- One size ---------------------------------------------------------------------------------------------------- */

/* Sets the yarns by role; whole balls have the single put-up of the batch. */
static void fill_yarns(const struct kit *k, const struct part *part)
{
    struct hk_quote_balls *put_ups = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *put_ups);
    struct hk_quote_yarn *yarns = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *yarns);
    for (size_t r = 0; put_ups && yarns && r < k->buy.demand.count; r++) {
        const struct hk_demand_role *role = role_in(k, part, r);
        size_t i = 0, n = part->size->yarn_count;
        if (!role)
            continue;
        while (k->buy.eligible.eligible[i].role != r || k->buy.found.balls[i] == 0)
            i++;
        const struct hk_eligible_offer *choice = &k->buy.eligible.eligible[i];
        yarns[n] = (struct hk_quote_yarn){
            .role = hk_purchase_role(&k->buy, r),
            .yarn = hk_purchase_yarn(&k->buy, r)->name,
            .colour = choice->colour,
            .mass_g = role->enough_g,
            .balls = part->balls[i],
            .put_ups = &put_ups[n],
            .put_up_count = part->balls[i] > 0,
        };
        put_ups[n] = (struct hk_quote_balls){choice->put_up_g, part->balls[i]};
        part->size->yarn_count++;
    }
    part->size->yarns = yarns;
}

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
static bool price_part(struct kit *k, const struct part *part, const struct batch *b)
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
static void fill_others(struct kit *k)
{
    struct hk_quote_size *size = k->parts[0].size;
    int64_t costs = size->bill.costs_minor, left = size->bill.kept_minor + costs;
    fill_batches(k, left);
    size->even_most = most_had(k);
    size->even_batch = even_batch(k, left);
    size->code_even_batch = even_batch(k, size->code_bill.kept_minor + costs);
}

static void price_batch(struct kit *k)
{
    struct hk_quoting *q = k->q;
    struct trial *yarn = hk_arena_take(q->arena, k->part_count, sizeof *yarn);
    struct batch *batches = hk_arena_take(q->arena, k->part_count, sizeof *batches);
    if (!yarn || !batches)
        return;
    split_yarn(k, &k->trials[k->kits - 1], yarn);
    for (size_t p = 0; p < k->part_count; p++) {
        fill_yarns(k, &k->parts[p]);
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
static bool batch_rows_fit(const struct kit *k)
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

/* Returns "M", or "XS 2, M 5, L 3"; "" when out of memory. */
static const char *name_of(const struct kit *k)
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
    struct kit k = {.q = q, .buy = {.project = q->project, .title = title ? title : "", .arena = q->arena, .diags = q->diags,
                                    .watching = &q->watching}};
    *shop_size = (struct hk_shop_size){.size = "", .times = 1};
    if (!open_parts(&k, first, last, sizes))
        return;
    shop_size->size = name_of(&k);
    if (batch_rows_fit(&k) && open_kit(&k) && buy_batch(&k, shop_size))
        price_batch(&k);
}
