/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The yarn of a batch: N_i kits of each of its sizes. With a share s of spare, m_i grams of a role enough for a kit, and
 * p grams per ball, it needs of each role, in one lot and from the cheapest basket (purchase.h)
 *
 *     whole balls:  ceil((1 + s) sum N_i b_i) balls of one put-up, b_i the balls that are enough for a kit
 *     wound off:    sum p x >= (1 + s) (1 + w) sum N_i m_i,  w lost in winding; a kit holds its m_i grams, and no joins
 *                   are bought
 */
#include "quote/kit.h"

#include "base/money.h"
#include "model/predict.h"
#include "model/readers.h"
#include "need/balls.h"

#include <gsl/gsl_math.h>

/* The largest batch examined, unless the one asked for is larger. */
#define EVEN_MOST 100
/* The limit of balls in a kit, so that products do not overflow. */
#define BALLS_IN_KIT_MOST 1000000
/* The part of the search time for the batch asked for. */
#define SECONDS_ASKED 0.5
/* The tolerance before ceil(). */
#define HAIR 1e-9

void hk_kit_resize(struct hk_kit *k, int64_t kits)
{
    if (k->part_count == 1)
        k->kits = k->parts[0].kits = kits;
}

/* Returns what a kit of this part has of role r of the batch. */
static const struct hk_demand_role *role_in(const struct hk_kit *k, const struct hk_kit_part *part, size_t r)
{
    return &part->roles[k->buy.demand.roles[r].role];
}

/* ---- The contents of a kit --------------------------------------------------------------------------------------- */

/* Returns the covariance of the grams of a role in a size with P (model/readers.h). */
static double with_readers(const struct hk_kit *k, size_t size, size_t role)
{
    const struct hk_needed *needed = k->q->needed;
    for (size_t r = 0; r < needed->face.role_count; r++)
        if (needed->face.roles[r].size == size && needed->face.roles[r].role == role)
            return hk_readers_covariance(needed->fit, needed->gradients + r * needed->fit->count);
    return 0;
}

/*
 * Sets the amounts of one kit that are enough for another maker: a reader's departure is added to the maker's, as in
 * materials. A flat margin stays unchanged. Swatches are not made from the kits' yarn.
 */
static bool open_part(struct hk_kit *k, struct hk_kit_part *part)
{
    const struct hk_need *need = &k->q->needed->face;
    const struct hk_fit *fit = k->q->needed->fit;
    struct hk_level level = hk_level_of(need->chance, need->margin);
    struct hk_demand demand;
    part->roles = hk_arena_take(k->q->arena, k->q->project->role_count, sizeof *part->roles);
    if (!part->roles || !hk_demand_make(k->q->needed, part->index, part->index, 1, &demand, k->q->arena))
        return false;
    for (size_t r = 0; r < demand.count; r++) {
        const struct hk_demand_role *of = &demand.roles[r];
        part->roles[of->role] = *of;
        double variance = gsl_pow_2(of->spread) + 2 * with_readers(k, part->index, of->role) + hk_readers_variance(fit);
        part->roles[of->role].enough_g =
            hk_enough(&level, of->likely_g * hk_readers_ratio(fit), sqrt(fmax(variance, 0)));
    }
    return true;
}

/* Sets the roles of the batch, in the order of yarns.csv, with the greatest loss of a join in any part. */
static bool open_roles(struct hk_kit *k)
{
    struct hk_demand *all = &k->buy.demand;
    size_t role_count = k->q->project->role_count;
    all->roles = hk_arena_take(k->q->arena, role_count, sizeof *all->roles);
    for (size_t role = 0; all->roles && role < role_count; role++) {
        struct hk_demand_role found = {.role = role};
        for (size_t p = 0; p < k->part_count; p++) {
            const struct hk_demand_role *of = &k->parts[p].roles[role];
            found.join_g = fmax(found.join_g, of->join_g);
            found.g_m = fmax(found.g_m, of->g_m);
            found.enough_g = fmax(found.enough_g, of->enough_g);
        }
        if (found.enough_g > 0)
            all->roles[all->count++] = found;
    }
    return all->roles;
}

static bool count_balls(struct hk_kit *k, struct hk_kit_part *part)
{
    part->balls = hk_arena_take(k->q->arena, k->buy.eligible.count, sizeof *part->balls);
    for (size_t i = 0; part->balls && i < k->buy.eligible.count && !k->q->options.used; i++) {
        const struct hk_eligible_offer *choice = &k->buy.eligible.eligible[i];
        const struct hk_demand_role *role = role_in(k, part, choice->role);
        if (role->enough_g > 0 && (!hk_balls_needed(role->enough_g, choice->put_up_g, role->join_g, &part->balls[i]) ||
                                   part->balls[i] > BALLS_IN_KIT_MOST))
            k->q->too_much = true;
    }
    return part->balls && !k->q->too_much;
}

bool hk_kit_open(struct hk_kit *k)
{
    bool good = true;
    for (size_t p = 0; p < k->part_count; p++)
        good = good && open_part(k, &k->parts[p]);
    k->buy.eligible.put_ups_apart = !k->q->options.used; /* all kits of a batch have balls of one put-up */
    if (!good || !open_roles(k) || !hk_purchase_open(&k->buy))
        return false;
    k->q->face->shop.offers |= k->buy.eligible.from_offers;
    for (size_t p = 0; p < k->part_count; p++)
        good = good && count_balls(k, &k->parts[p]);
    k->most = k->kits > EVEN_MOST ? k->kits : EVEN_MOST;
    k->trials = hk_arena_take(k->q->arena, (size_t)k->most, sizeof *k->trials);
    return good && k->trials;
}

/* ---- Yarn of a batch --------------------------------------------------------------------------------------------- */

/*
 * Sets the need of role r in whole balls: offer i alone fills it with ceil((1 + s) sum N b) balls, so each of its balls
 * covers that part of the need, and half a ball of the smallest put-up is the tolerance. Returns the need.
 */
static double need_whole(struct hk_kit *k, size_t r, double all_g)
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
static void set_need(struct hk_kit *k)
{
    const struct hk_quote_options *options = &k->q->options;
    double waste = options->used ? (double)options->waste_millionths / (double)HK_MILLION : 0;
    double more = (1 + (double)options->spare_millionths / (double)HK_MILLION) * (1 + waste);
    for (size_t i = 0; i < k->buy.eligible.count; i++)
        k->buy.eligible.offers[i].usable_g = k->buy.eligible.eligible[i].put_up_g;
    for (size_t r = 0; r < k->buy.demand.count; r++) {
        double all_g = 0;
        for (size_t p = 0; p < k->part_count; p++)
            all_g += (double)k->parts[p].kits * role_in(k, &k->parts[p], r)->enough_g * more;
        k->buy.roles[r].needed_g = options->used ? all_g * (1 - HAIR) : need_whole(k, r, all_g);
    }
}

int64_t hk_kit_home_most(struct hk_kit *k)
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

static void note(struct hk_kit *k, enum hk_basket_answer answer, const struct hk_basket *found, struct hk_kit_trial *trial)
{
    if (k->buy.arena->out_of_memory) {
        k->q->arena->out_of_memory = true;
        return;
    }
    switch (answer) {
    case HK_BASKET_FOUND:
        *trial = (struct hk_kit_trial){true, true, found->proven, found->gap, found->total_minor, hk_purchase_home(&k->buy)};
        break;
    case HK_BASKET_SHORT:
        *trial = (struct hk_kit_trial){.tried = true};
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

const struct hk_kit_trial *hk_kit_try(struct hk_kit *k, int64_t kits, double share)
{
    struct hk_kit_trial *trial = &k->trials[kits - 1];
    struct hk_arena scratch = {0}, *kept = k->buy.arena;
    bool failed = k->q->too_much || k->q->arena->out_of_memory || k->q->diags->errors > k->q->errors;
    hk_kit_resize(k, kits);
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

bool hk_kit_buy(struct hk_kit *k, struct hk_shop_size *shop_size)
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

/* ---- The yarn of each part --------------------------------------------------------------------------------------- */

/* The value of yarn, bought and from home. */
struct value {
    double bought, home;
};

/* Adds the value of the balls or grams of one part in the basket, of each offer in proportion to the whole batch. */
static void add_value(const struct hk_kit *k, const struct hk_kit_part *part, struct value *value)
{
    for (size_t i = 0; i < k->buy.eligible.count; i++) {
        const struct hk_eligible_offer *choice = &k->buy.eligible.eligible[i];
        double mine = 0, all = 0;
        for (size_t p = 0; p < k->part_count && k->buy.found.balls[i] > 0; p++) {
            const struct hk_kit_part *of = &k->parts[p];
            double one = k->q->options.used ? role_in(k, of, choice->role)->enough_g : (double)of->balls[i];
            all += (double)of->kits * one;
            mine += of == part ? (double)of->kits * one : 0;
        }
        int64_t worth = all > 0 ? hk_purchase_worth(&k->buy, i, k->buy.found.balls[i]) : 0;
        *(choice->seller == HK_SELLER_OWN ? &value->home : &value->bought) += worth > 0 ? (double)worth * mine / all : 0;
    }
}

/* Returns `value` of `all` of an amount, or by kits where all is worth nothing; the last part makes it whole. */
static int64_t up_to(const struct hk_kit *k, size_t p, int64_t amount_minor, double value, double all)
{
    int64_t kits = k->parts[p].before + k->parts[p].kits;
    double ratio = all > 0 ? value / all : (double)kits / (double)k->kits;
    return p + 1 == k->part_count ? amount_minor : (int64_t)floor(fmin(ratio, 1) * (double)amount_minor + 0.5);
}

void hk_kit_split_yarn(const struct hk_kit *k, struct hk_kit_trial *by_part)
{
    const struct hk_kit_trial *whole = &k->trials[k->kits - 1];
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

/* Whole balls have the single put-up of the batch. */
void hk_kit_fill_yarns(const struct hk_kit *k, const struct hk_kit_part *part)
{
    struct hk_quote_balls *put_ups = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *put_ups);
    struct hk_quote_yarn *yarns = hk_arena_take(k->q->arena, k->buy.demand.count, sizeof *yarns);
    for (size_t r = 0; put_ups && yarns && r < k->buy.demand.count; r++) {
        const struct hk_demand_role *role = role_in(k, part, r);
        size_t i = 0, n = part->size->yarn_count;
        if (!(role->enough_g > 0))
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
