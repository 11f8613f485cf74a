/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A kit: yarn, notions and pattern for another maker. A batch of N kits with a share s of spare needs of each role, in
 * one lot and from the cheapest basket (purchase.h), with m grams enough for a kit, p grams per ball and j grams lost
 * in a join
 *
 *     whole balls:  ceil(N (1 + s) b) balls of one put-up, b the balls that are enough for a kit
 *     wound off:    sum p x >= N (1 + s) (1 + w) m,  w lost in winding: a kit holds its m grams, and no joins are
 * bought
 *
 * Balls from home are charged at their value. The cost of a kit is the cost of the batch / N, rounded up. The cost of
 * the batch grows with N, also for bought yarn, since a basket for N + 1 kits is enough for N. So if the batch of
 * `high` kits, with the maximum of yarn from home, costs no more than the income from `low` kits, every batch between
 * the two pays.
 */
#include "quote/quoting.h"

#include "base/diags.h"
#include "base/money.h"
#include "model/predict.h"
#include "need/balls.h"
#include "shop/purchase.h"

#include <gsl/gsl_math.h>

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

/* One size. */
struct kit {
    struct hk_quoting *q;
    size_t index; /* index in the project's sizes */
    struct hk_quote_size *size;
    struct hk_purchase buy;
    int64_t *in_kit;      /* by offer: whole balls in one kit; NULL when wound off */
    struct trial *trials; /* index: kits - 1 */
    int64_t most;         /* the largest batch examined */
};

/* ---- The contents of a kit --------------------------------------------------------------------------------------- */

/*
 * Sets the amounts that are enough for another maker: the reader's spread is added to the maker's. A flat margin stays
 * unchanged.
 */
static void set_enough(struct kit *k)
{
    const struct hk_need *need = &k->q->needed->face;
    struct hk_level level = hk_level_of(need->chance, need->margin);
    for (size_t r = 0; r < k->buy.demand.count; r++) {
        struct hk_demand_role *role = &k->buy.demand.roles[r];
        role->enough_g = hk_enough(&level, role->likely_g, hypot(role->spread, k->q->project->spreads.reader));
        role->swatch_use_g = 0; /* swatches are not made from the kits' yarn */
    }
}

static bool count_balls(struct kit *k)
{
    for (size_t i = 0; i < k->buy.eligible.count && !k->q->options.used; i++) {
        const struct hk_demand_role *role = &k->buy.demand.roles[k->buy.eligible.eligible[i].role];
        if (!hk_balls_needed(role->enough_g, k->buy.eligible.eligible[i].put_up_g, role->join_g, &k->in_kit[i]) ||
            k->in_kit[i] > BALLS_IN_KIT_MOST)
            return false;
    }
    return true;
}

static bool open_kit(struct kit *k)
{
    struct hk_quoting *q = k->q;
    if (!hk_demand_make(q->needed, k->index, k->index, 1, &k->buy.demand, q->arena))
        return false;
    set_enough(k);
    k->buy.eligible.put_ups_apart = !q->options.used; /* all kits of a batch are equal */
    if (!hk_purchase_open(&k->buy))
        return false;
    q->face->shop.offers |= k->buy.eligible.from_offers;
    k->in_kit = hk_arena_take(q->arena, k->buy.eligible.count, sizeof *k->in_kit);
    k->trials = hk_arena_take(q->arena, (size_t)k->most, sizeof *k->trials);
    if (!k->in_kit || !k->trials)
        return false;
    q->too_much |= !count_balls(k);
    return !q->too_much;
}

/* ---- Yarn of a batch --------------------------------------------------------------------------------------------- */

static double with_spare(const struct hk_quoting *q, double kits)
{
    return kits * (1 + (double)q->options.spare_millionths / (double)HK_MILLION);
}

/* Returns the grams in the kits of a batch, spare included. */
static double batch_g(const struct kit *k, size_t r, int64_t kits)
{
    double waste = k->q->options.used ? (double)k->q->options.waste_millionths / (double)HK_MILLION : 0;
    return with_spare(k->q, (double)kits) * k->buy.demand.roles[r].enough_g * (1 + waste);
}

/* Returns the balls of a batch when only offer i is used. */
static int64_t batch_balls(const struct kit *k, size_t i, int64_t kits)
{
    return hk_ceil_div(kits * k->in_kit[i] * (HK_MILLION + k->q->options.spare_millionths), HK_MILLION);
}

/*
 * Sets the need in the unit of the batch's demand: each ball covers its part of it, and half a ball of the smallest
 * put-up is the tolerance.
 */
static void need_whole(struct kit *k, size_t r, int64_t kits)
{
    double all_g = batch_g(k, r, kits);
    int64_t most = 1;
    for (size_t i = 0; i < k->buy.eligible.count; i++) {
        if (k->buy.eligible.eligible[i].role != r)
            continue;
        int64_t balls = batch_balls(k, i, kits);
        k->buy.eligible.offers[i].usable_g = all_g / (double)balls;
        most = balls > most ? balls : most;
    }
    k->buy.roles[r].needed_g = all_g * (1 - 0.5 / (double)most);
}

static void need_of(struct kit *k, int64_t kits)
{
    for (size_t i = 0; i < k->buy.eligible.count; i++)
        k->buy.eligible.offers[i].usable_g = k->buy.eligible.eligible[i].put_up_g;
    for (size_t r = 0; r < k->buy.demand.count; r++) {
        if (k->q->options.used)
            k->buy.roles[r].needed_g = batch_g(k, r, kits) * (1 - HAIR);
        else
            need_whole(k, r, kits);
    }
}

/* Returns the maximum value of balls from home in a batch: of each offer as many as fill its role. */
static int64_t home_most(struct kit *k, int64_t kits)
{
    int64_t sum = 0;
    need_of(k, kits);
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
    if (trial->tried || failed)
        return trial;
    k->buy.seconds = k->q->options.seconds * share;
    k->buy.arena = &scratch;
    need_of(k, kits);
    enum hk_basket_answer answer = hk_purchase_solve(&k->buy);
    note(k, answer, &k->buy.found, trial);
    k->buy.arena = kept;
    hk_arena_free(&scratch);
    return trial;
}

static void fill_lots(const struct kit *k, struct hk_shop_size *shop_size)
{
    struct hk_shop_role *roles = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *roles);
    for (size_t r = 0; roles && r < k->buy.demand.count; r++)
        roles[r] = (struct hk_shop_role){.role = hk_purchase_role(&k->buy, r), .lots = hk_purchase_lots(&k->buy, r)};
    shop_size->roles = roles;
    shop_size->role_count = roles ? k->buy.demand.count : 0;
}

/* Buys the batch asked for and keeps it. Returns false with a finding when the stock is not enough. */
static bool buy_batch(struct kit *k, struct hk_shop_size *shop_size)
{
    k->buy.seconds = k->q->options.seconds * SECONDS_ASKED;
    need_of(k, k->q->options.batch);
    enum hk_basket_answer answer = hk_purchase_solve(&k->buy);
    if (answer != HK_BASKET_FOUND) {
        hk_purchase_refuse(&k->buy, answer);
        return false;
    }
    note(k, answer, &k->buy.found, &k->trials[k->q->options.batch - 1]);
    hk_purchase_fill(&k->buy, shop_size);
    fill_lots(k, shop_size);
    return true;
}

/* ---- A batch ----------------------------------------------------------------------------------------------------- */

/* All costs of a batch, and the maker's labour and markup. */
struct batch {
    int64_t bought, home, materials, fixed, overhead, postage, time, labour, markup, costs; /* time in HK_COST_ONE */
};

/* Returns a quantity for all kits, spare included, rounded up. */
static int64_t quantity_with_spare(const struct hk_quoting *q, int64_t quantity)
{
    int64_t spare = q->options.spare_millionths;
    return quantity + quantity / HK_MILLION * spare + hk_ceil_div(quantity % HK_MILLION * spare, HK_MILLION);
}

/* Returns the cost of materials of a batch; countable items are bought whole. */
static int64_t batch_materials(struct hk_quoting *q, size_t size, int64_t kits)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        bool once = cost->kind == HK_COST_KIT && cost->per == HK_PER_BATCH;
        bool each = !once && (hk_cost_applies(cost, HK_COST_MATERIAL, HK_PER_KIT) ||
                              hk_cost_applies(cost, HK_COST_KIT, HK_PER_KIT));
        int64_t quantity = hk_cost_quantity(cost, size);
        bool whole = quantity % HK_COST_ONE == 0;
        if (each)
            quantity = quantity_with_spare(q, kits * quantity);
        if (each && whole)
            quantity = HK_COST_ONE * hk_ceil_div(quantity, HK_COST_ONE);
        if (each || once)
            hk_quoting_add(q, &sum, hk_quoting_times(q, cost->amount_minor, quantity));
    }
    return sum;
}

static struct batch batch_of(struct kit *k, int64_t kits, int64_t bought_minor, int64_t home_minor)
{
    struct hk_quoting *q = k->q;
    struct batch b = {.bought = bought_minor, .home = home_minor, .materials = batch_materials(q, k->index, kits),
                      .fixed = hk_quoting_sum(q, HK_COST_FIXED, HK_PER_BATCH, k->index, 1),
                      .postage = hk_quoting_sum(q, HK_COST_POSTAGE, HK_PER_KIT, k->index, kits)};
    b.labour = hk_quoting_stated_labour(q, HK_PER_KIT, k->index, kits, &b.time);
    hk_quoting_add(q, &b.labour, hk_quoting_stated_labour(q, HK_PER_BATCH, k->index, 1, &b.time));
    int64_t materials = b.bought;
    hk_quoting_add(q, &materials, b.home);
    hk_quoting_add(q, &materials, b.materials);
    b.overhead = hk_quoting_shares(q, HK_COST_OVERHEAD, materials, b.labour);
    hk_quoting_add(q, &b.overhead, hk_quoting_hour_overhead(q, b.time));
    hk_quoting_add(q, &b.overhead, hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_KIT, k->index, kits));
    hk_quoting_add(q, &b.overhead, hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_BATCH, k->index, 1));
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

/* ---- The break-even batch ----------------------------------------------------------------------------------- */

/* Returns true when the costs of the largest batch prove that every batch from low to high pays. */
static bool all_pay(struct kit *k, int64_t low, int64_t high, int64_t left_minor)
{
    const struct trial *trial = try_batch(k, high, SECONDS_EVEN);
    if (!trial->had)
        return false;
    struct batch b = batch_of(k, high, trial->bought_minor, low == high ? trial->home_minor : home_most(k, high));
    return income(left_minor, low) >= b.costs + b.labour;
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
    int64_t most = k->size->even_most, even = 1;
    if (left_minor <= 0)
        return -1;
    even += last_loss(k, 1, most, left_minor);
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

static void fill_batch(struct kit *k, int64_t left_minor, struct hk_quote_batch *batch)
{
    const struct trial *trial = try_batch(k, batch->kits, SECONDS_SHOWN);
    batch->had = trial->had;
    if (!trial->had)
        return;
    struct batch b = batch_of(k, batch->kits, trial->bought_minor, trial->home_minor);
    batch->unit_minor = hk_ceil_div(b.costs + b.labour, batch->kits);
    batch->left_minor = income(left_minor, batch->kits) - b.costs - b.labour;
    batch->proven = trial->proven;
    batch->gap = trial->gap;
}

static void fill_batches(struct kit *k, int64_t left_minor)
{
    int64_t kits[BATCHES_MOST];
    struct hk_quote_batch *batches = hk_arena_take(k->q->arena, BATCHES_MOST, sizeof *batches);
    size_t count = batch_sizes(k->q->options.batch, kits);
    for (size_t i = 0; batches && i < count; i++) {
        batches[i].kits = kits[i];
        fill_batch(k, left_minor, &batches[i]);
    }
    k->size->batches = batches;
    k->size->batch_count = batches ? count : 0;
}

/* ---- One size ---------------------------------------------------------------------------------------------------- */

/* Sets the yarns by role; whole balls have the single put-up of the batch. */
static void fill_yarns(struct kit *k)
{
    struct hk_quote_balls *put_ups = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *put_ups);
    struct hk_quote_yarn *yarns = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *yarns);
    for (size_t r = 0; put_ups && yarns && r < k->buy.demand.count; r++) {
        size_t i = 0;
        while (k->buy.eligible.eligible[i].role != r || k->buy.found.balls[i] == 0)
            i++;
        const struct hk_eligible_offer *choice = &k->buy.eligible.eligible[i];
        yarns[r] = (struct hk_quote_yarn){
            .role = hk_purchase_role(&k->buy, r),
            .yarn = hk_purchase_yarn(&k->buy, r)->name,
            .colour = choice->colour,
            .mass_g = k->buy.demand.roles[r].enough_g,
            .balls = k->in_kit[i],
            .put_ups = &put_ups[r],
            .put_up_count = k->in_kit[i] > 0,
        };
        put_ups[r] = (struct hk_quote_balls){choice->put_up_g, k->in_kit[i]};
    }
    k->size->yarns = yarns;
    k->size->yarn_count = put_ups && yarns ? k->buy.demand.count : 0;
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

static void fill_unit(struct kit *k, const struct batch *b)
{
    int64_t kits = k->q->options.batch, costs = 0, hers = 0;
    struct hk_quote_size *size = k->size;
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
}

static void price_kit(struct kit *k)
{
    struct hk_quoting *q = k->q;
    struct hk_quote_size *size = k->size;
    int64_t kits = q->options.batch;
    const struct trial *asked = &k->trials[kits - 1];
    struct batch b = batch_of(k, kits, asked->bought_minor, asked->home_minor);
    fill_unit(k, &b);
    int64_t costs = hk_ceil_div(b.costs, kits), hers = hk_ceil_div(b.labour + b.markup, kits);
    if (!hk_quoting_price(q, costs, hers, &size->bill))
        return;
    size->rounding_minor = q->face->solved ? size->bill.kept_minor - hers : 0;
    hk_quoting_code_bill(q, &size->bill, &size->code_bill);
    int64_t left = size->bill.kept_minor + costs;
    fill_batches(k, left);
    size->even_most = most_had(k);
    size->even_batch = even_batch(k, left);
    size->code_even_batch = even_batch(k, size->code_bill.kept_minor + costs);
}

static const char *title_of(const struct hk_quoting *q, const char *size)
{
    const char *title = hk_arena_print(q->arena, "%s%s, for %lld %s", q->project->size_count > 1 ? " in size " : "",
                                       q->project->size_count > 1 ? size : "", (long long)q->options.batch,
                                       q->options.batch == 1 ? "kit" : "kits");
    return title ? title : "";
}

void hk_kit_size(struct hk_quoting *q, size_t i, struct hk_quote_size *size, struct hk_shop_size *shop_size)
{
    size->size = q->hours->sizes[i].size_name;
    *shop_size = (struct hk_shop_size){.size = size->size, .times = 1};
    struct kit k = {.q = q, .index = q->hours->sizes[i].size, .size = size,
                    .most = q->options.batch > EVEN_MOST ? q->options.batch : EVEN_MOST,
                    .buy = {.project = q->project, .title = title_of(q, size->size), .arena = q->arena, .diags = q->diags,
                            .watching = &q->watching}};
    if (!open_kit(&k) || !buy_batch(&k, shop_size))
        return;
    fill_yarns(&k);
    price_kit(&k);
}
