/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Columns, all integer: x packs of each offer; for each shop `used` (0 or 1: postage is due), `free` and `off` (0 or 1:
 * the threshold is met), `part` (the discount by percentage) and `less` (the whole discount); for each lot of a role
 * that must stay in one lot, `chosen` (0 or 1). Goods G = sum of price x over a shop's offers, with the price of a pack.
 *
 *     minimise  sum G + sum postage (used - free) - sum less
 *     x <= packs_most used           for each offer by itself: one large number for all of a shop bounds far less
 *     sum cover x >= enough | chosen cover: a pack's part of the need, never above 1, for more than all is no more than
 * all sum used >= 1 | chosen,  sum price x >= price_least | chosen        follow from the rest, but not from its
 * fractions G >= free_from free            prices above free_from count as free_from, for the same reason G >= off_from
 * off part <= G millionths / 10^6 + 1/2 off,  part <= part_most off       half up, exactly, as part is whole less <=
 * off_minor off + part,  less <= G                            what is maximised needs no lower bound
 *
 * A quantity price applies to all packs of its offer from a number q of packs on. Each has a column y, the packs bought
 * at that price, and `met` (0 or 1); the packs bought at the first price are x - sum y:
 *
 *     q met <= y <= (the next q - 1 | packs_most) met       0 <= x - sum y <= (q of the first - 1) (1 - sum met)
 *
 * The first q is at least 2, so one `met` at most is 1, and then x is its y. The price of a pack in every sum above is
 * that of x - sum y and of each y, and the costs are exact even where ten balls cost less than nine. An offer without
 * quantity prices has none of these columns and rows.
 *
 * GLPK satisfies a row only within its tolerance, which HK_NEED_SHORT exceeds. If it wrongly treats a threshold above
 * 10^7 as met, the bound is too low by that discount, and basket_solve.c reports the gap.
 *
 * Presolve and mixed integer rounding cuts only: of GLPK's cuts only these close the gap of `used`. GLPK's default
 * branching is faster for few offers, pseudocost branching for many; backtracking by best projection is faster for both
 * (tests/bench/basket).
 */
#include "shop/basket_programme.h"

#include "base/money.h"

#include <assert.h>
#include <glpk.h>
#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <stdlib.h>

/*
 * GLPK prunes nodes that are not better by this ratio. All objectives are integers below 10^12, so no better solution
 * is lost.
 */
#define BETTER_BY 1e-13
/* The tolerance of GLPK for integers: for a pack at 10,000.00 a thousandth of a minor unit. */
#define WHOLE_WITHIN 1e-9
/* The number of offers from which pseudocost branching is worth its trial solutions. */
#define OFFERS_TO_LEARN 100
/* The right-hand side of needs: with GLPK's tolerance of 1e-7 it is still above the limit of hk_basket_solve. */
#define COVER_ENOUGH (1 - HK_NEED_SHORT / 2)

struct programme {
    const struct hk_basket_plan *plan;
    double seconds;
    struct hk_programme_found *found;
    glp_prob *prob;
    /* 0: the column does not exist */
    int *packs;                                /* by offer */
    int *used, *postage_free, *off, *part, *less; /* by shop */
    int *chosen;                               /* by lot */
    int *tiers, *tier_count;                   /* by offer: its first column y, each before its `met`; their number */
    int *sold, sold_rows;                      /* sold: by shop, the last value of sold_rows it was added at */
    /* the current row, from index 1 */
    int size;
    int *index;
    double *value;
    double start; /* start of the search, by glp_time */
    jmp_buf failed;
};

/* ---- Columns and rows -------------------------------------------------------------------------------------------- */

static int add_column(struct programme *p, double most)
{
    int column = glp_add_cols(p->prob, 1);
    glp_set_col_kind(p->prob, column, GLP_IV);
    glp_set_col_bnds(p->prob, column, most > 0 ? GLP_DB : GLP_FX, 0, most);
    return column;
}

static void term(struct programme *p, int column, double value)
{
    if (column == 0 || value == 0)
        return;
    p->size++;
    p->index[p->size] = column;
    p->value[p->size] = value;
}

/* Ends the current row: type GLP_LO, GLP_UP or GLP_FX with the bound. */
static void close_row(struct programme *p, int type, double bound)
{
    int row = glp_add_rows(p->prob, 1);
    glp_set_row_bnds(p->prob, row, type, bound, bound);
    glp_set_mat_row(p->prob, row, p->size, p->index, p->value);
    p->size = 0;
}

/* Adds the terms of `factor` times the goods of an offer, with prices limited to price_most. */
static void offer_terms(struct programme *p, size_t offer, double factor, double price_most)
{
    const struct hk_basket_offer *o = &p->plan->problem->offers[offer];
    double first = fmin((double)o->pack_minor, price_most);
    term(p, p->packs[offer], factor * first);
    for (int t = 0; t < p->tier_count[offer]; t++)
        term(p, p->tiers[offer] + 2 * t, factor * (fmin((double)o->tiers[t].pack_minor, price_most) - first));
}

/* Adds the terms of `factor` times the goods of a shop, with prices limited to price_most. */
static void goods_terms(struct programme *p, size_t shop, double factor, double price_most)
{
    const struct hk_basket_problem *problem = p->plan->problem;
    for (size_t i = 0; i < problem->offer_count; i++)
        if (problem->offers[i].shop == shop)
            offer_terms(p, i, factor, price_most);
}

/* G >= from * met */
static void add_threshold(struct programme *p, size_t shop, int met, double from)
{
    goods_terms(p, shop, 1, from);
    term(p, met, -from);
    close_row(p, GLP_LO, 0);
}

/* Adds a <= most * b for two columns. */
static void add_only_if(struct programme *p, int a, double most, int b)
{
    term(p, a, 1);
    term(p, b, -most);
    close_row(p, GLP_UP, 0);
}

/* ---- Shops ------------------------------------------------------------------------------------------------------- */

static bool reachable(const struct programme *p, size_t shop, int64_t from_minor)
{
    return from_minor >= 0 && (double)from_minor <= p->plan->goods_most[shop];
}

static void add_postage(struct programme *p, size_t shop)
{
    const struct hk_basket_problem *problem = p->plan->problem;
    const struct hk_basket_shop *s = &problem->shops[shop];
    if (s->postage_minor == 0 || s->free_from_minor == 0)
        return;
    int used = p->used[shop] = add_column(p, 1);
    glp_set_obj_coef(p->prob, used, (double)s->postage_minor);
    for (size_t i = 0; i < problem->offer_count; i++)
        if (problem->offers[i].shop == shop && p->packs[i])
            add_only_if(p, p->packs[i], (double)p->plan->packs_most[i], used);
    if (!reachable(p, shop, s->free_from_minor))
        return;
    int postage_free = p->postage_free[shop] = add_column(p, 1);
    glp_set_obj_coef(p->prob, postage_free, -(double)s->postage_minor);
    add_threshold(p, shop, postage_free, (double)s->free_from_minor);
    add_only_if(p, postage_free, 1, used);
}

static int64_t common_divisor(int64_t a, int64_t b)
{
    return b == 0 ? a : common_divisor(b, a % b);
}

/* Adds the percentage's discount. met: the column `off`, or 0 if the threshold is always met. */
static void add_part(struct programme *p, size_t shop, int met)
{
    int64_t millionths = p->plan->problem->shops[shop].off_millionths;
    double part_most = floor(p->plan->goods_most[shop] * (double)millionths / HK_MILLION + 0.5);
    int part = p->part[shop] = add_column(p, part_most);
    double divisor = (double)common_divisor(HK_MILLION / 2, millionths);
    double half = HK_MILLION / 2.0 / divisor;
    term(p, part, 2 * half);
    goods_terms(p, shop, -(double)millionths / divisor, HUGE_VAL);
    term(p, met, -half);
    close_row(p, GLP_UP, met ? 0 : half);
    if (met)
        add_only_if(p, part, part_most, met);
}

/* Limits the discount to the goods: if the threshold does not imply that, by a column and two rows. */
static void add_less(struct programme *p, size_t shop, int met)
{
    const struct hk_basket_shop *s = &p->plan->problem->shops[shop];
    double most = (double)s->off_minor + (p->part[shop] ? glp_get_col_ub(p->prob, p->part[shop]) : 0);
    int less = p->less[shop] = add_column(p, fmin(most, p->plan->goods_most[shop]));
    glp_set_obj_coef(p->prob, less, -1);
    term(p, less, 1);
    term(p, p->part[shop], -1);
    term(p, met, -(double)s->off_minor);
    close_row(p, GLP_UP, met ? 0 : (double)s->off_minor);
    term(p, less, 1);
    goods_terms(p, shop, -1, HUGE_VAL);
    close_row(p, GLP_UP, 0);
}

static void add_discount(struct programme *p, size_t shop)
{
    const struct hk_basket_shop *s = &p->plan->problem->shops[shop];
    if ((s->off_minor == 0 && s->off_millionths == 0) || !reachable(p, shop, s->off_from_minor))
        return;
    int met = 0;
    if (s->off_from_minor > 0) {
        met = p->off[shop] = add_column(p, 1);
        add_threshold(p, shop, met, (double)s->off_from_minor);
    }
    if (s->off_millionths > 0)
        add_part(p, shop, met);
    double left_at_threshold = (double)s->off_from_minor * (1 - (double)s->off_millionths / HK_MILLION);
    if (s->off_minor == 0 || left_at_threshold >= (double)s->off_minor + 1) {
        if (met)
            glp_set_obj_coef(p->prob, met, -(double)s->off_minor);
        if (p->part[shop])
            glp_set_obj_coef(p->prob, p->part[shop], -1);
    } else {
        add_less(p, shop, met);
    }
}

/* ---- Roles ------------------------------------------------------------------------------------------------------- */

/* Returns true when an offer can contribute to the role, from the lot unless NULL. */
static bool fills(const struct programme *p, size_t offer, size_t role, const size_t *lot)
{
    return p->packs[offer] && p->plan->problem->offers[offer].role == role && (!lot || p->plan->lot[offer] == *lot);
}

/* Adds sum used >= 1 | chosen: a lot comes from some shop. No row if one of its shops has no `used`. */
static void add_somewhere(struct programme *p, size_t role, const size_t *lot, int chosen)
{
    const struct hk_basket_problem *problem = p->plan->problem;
    p->sold_rows++;
    for (size_t i = 0; i < problem->offer_count; i++) {
        size_t shop = problem->offers[i].shop;
        if (!fills(p, i, role, lot) || p->sold[shop] == p->sold_rows)
            continue;
        if (!p->used[shop]) {
            p->size = 0;
            return;
        }
        p->sold[shop] = p->sold_rows;
        term(p, p->used[shop], 1);
    }
    term(p, chosen, -1);
    close_row(p, GLP_LO, chosen ? 0 : 1);
}

/* Adds sum price x >= price_least | chosen, with the least price of whole packs that fill the role. */
static void add_price_least(struct programme *p, size_t role, const size_t *lot, int chosen)
{
    double least = hk_basket_price_least(p->plan, role, lot);
    if (least <= 0)
        return;
    for (size_t i = 0; i < p->plan->problem->offer_count; i++)
        if (fills(p, i, role, lot))
            offer_terms(p, i, 1, least);
    term(p, chosen, -least);
    close_row(p, GLP_LO, chosen ? 0 : least);
}

/* Adds sum cover x >= enough | chosen. */
static void add_need(struct programme *p, size_t role, const size_t *lot, int chosen)
{
    for (size_t i = 0; i < p->plan->problem->offer_count; i++)
        if (fills(p, i, role, lot))
            term(p, p->packs[i], p->plan->cover[i]);
    term(p, chosen, -COVER_ENOUGH);
    close_row(p, GLP_LO, chosen ? 0 : COVER_ENOUGH);
    add_somewhere(p, role, lot, chosen);
    add_price_least(p, role, lot, chosen);
}

static void add_lots(struct programme *p, size_t role)
{
    const struct hk_basket_plan *plan = p->plan;
    for (size_t l = 0; l < plan->lot_count; l++) {
        if (plan->lot_role[l] != role)
            continue;
        p->chosen[l] = add_column(p, 1);
        add_need(p, role, &l, p->chosen[l]);
    }
    for (size_t i = 0; i < plan->problem->offer_count; i++)
        if (plan->problem->offers[i].role == role && p->packs[i])
            add_only_if(p, p->packs[i], (double)plan->packs_most[i], p->chosen[plan->lot[i]]);
    for (size_t l = 0; l < plan->lot_count; l++)
        if (plan->lot_role[l] == role)
            term(p, p->chosen[l], 1);
    close_row(p, GLP_FX, 1);
}

/*
 * ---- The whole programme
 * ---------------------------------------------------------------------------------------------------
 */

/* ---- Quantity prices ------------------------------------------------------------------------------------------ */

/* Adds the rows of the packs at the first price, x - sum y, of which there are at most `most`. */
static void add_first_price(struct programme *p, size_t offer, double most)
{
    for (int bounded = 0; bounded < 2; bounded++) {
        term(p, p->packs[offer], 1);
        for (int t = 0; t < p->tier_count[offer]; t++) {
            term(p, p->tiers[offer] + 2 * t, -1);
            term(p, p->tiers[offer] + 2 * t + 1, bounded ? most : 0);
        }
        close_row(p, bounded ? GLP_UP : GLP_LO, bounded ? most : 0);
    }
}

/* Adds the columns and rows of the quantity prices that the packs of an offer can reach. */
static void add_tiers(struct programme *p, size_t offer)
{
    const struct hk_basket_offer *o = &p->plan->problem->offers[offer];
    int64_t packs_most = p->plan->packs_most[offer];
    double first_most = 0;
    for (const struct hk_basket_tier *tier = o->tiers; tier && tier->from; tier++) {
        int64_t from = hk_basket_tier_packs(o, tier), next = tier[1].from ? hk_basket_tier_packs(o, &tier[1]) - 1 : packs_most;
        int64_t most = next < packs_most ? next : packs_most;
        if (from > packs_most)
            break;
        int packs = add_column(p, (double)most), met = add_column(p, 1);
        if (p->tier_count[offer]++ == 0) {
            p->tiers[offer] = packs;
            first_most = (double)(from - 1);
        }
        glp_set_obj_coef(p->prob, packs, (double)(tier->pack_minor - o->pack_minor));
        add_only_if(p, packs, (double)most, met);
        term(p, packs, 1);
        term(p, met, -(double)from);
        close_row(p, GLP_LO, 0);
    }
    if (p->tier_count[offer] > 0)
        add_first_price(p, offer, first_most);
}

static void set_packs(struct programme *p)
{
    const struct hk_basket_problem *problem = p->plan->problem;
    for (size_t i = 0; i < problem->offer_count; i++) {
        if (p->plan->packs_most[i] == 0)
            continue;
        p->packs[i] = add_column(p, (double)p->plan->packs_most[i]);
        glp_set_obj_coef(p->prob, p->packs[i], (double)problem->offers[i].pack_minor);
        add_tiers(p, i);
    }
}

static void build(struct programme *p)
{
    const struct hk_basket_plan *plan = p->plan;
    p->prob = glp_create_prob();
    glp_set_obj_dir(p->prob, GLP_MIN);
    set_packs(p);
    for (size_t s = 0; s < plan->problem->shop_count; s++) {
        add_postage(p, s);
        add_discount(p, s);
    }
    for (size_t r = 0; r < plan->problem->role_count; r++) {
        if (plan->problem->roles[r].one_lot)
            add_lots(p, r);
        else
            add_need(p, r, NULL, 0);
    }
}

/* ---- The search -------------------------------------------------------------------------------------------------- */

static bool goes_on(const struct programme *p)
{
    const struct hk_watch *watch = &p->plan->problem->watch;
    double done = glp_difftime(glp_time(), p->start) / p->seconds;
    return !watch->go_on || watch->go_on(watch->host, fmin(fmax(done, 0), 1));
}

/* Callback of GLPK for each node: the least bound of all open nodes is the bound of the search. */
static void watch(glp_tree *tree, void *info)
{
    struct programme *p = info;
    if (p->found->cancelled || !goes_on(p)) {
        p->found->cancelled = true;
        glp_ios_terminate(tree);
        return;
    }
    if (glp_ios_reason(tree) != GLP_ISELECT)
        return;
    int best = glp_ios_best_node(tree);
    if (best)
        p->found->bound = fmax(p->found->bound, glp_ios_node_bound(tree, best));
}

static int milliseconds(double seconds)
{
    double ms = ceil(seconds * 1000);
    return ms < 1 ? 1 : ms < INT_MAX ? (int)ms : INT_MAX;
}

static void solve(struct programme *p)
{
    const struct hk_basket_problem *problem = p->plan->problem;
    glp_iocp options;
    glp_init_iocp(&options);
    options.msg_lev = GLP_MSG_OFF;
    options.presolve = GLP_ON;
    options.mir_cuts = GLP_ON;
    options.br_tech = problem->offer_count < OFFERS_TO_LEARN ? GLP_BR_DTH : GLP_BR_PCH;
    options.bt_tech = GLP_BT_BPH;
    options.tol_obj = BETTER_BY;
    options.tol_int = WHOLE_WITHIN;
    options.tm_lim = milliseconds(p->seconds);
    options.cb_func = watch;
    options.cb_info = p;
    int status = glp_intopt(p->prob, &options);
    int found = glp_mip_status(p->prob);
    bool optimal = status == 0 && found == GLP_OPT;
    if (optimal)
        p->found->bound = glp_mip_obj_val(p->prob);
    p->found->seen = optimal || (status == GLP_ETMLIM && found == GLP_FEAS);
    for (size_t i = 0; i < problem->offer_count && p->found->seen; i++)
        p->found->packs[i] = p->packs[i] ? llround(glp_mip_col_val(p->prob, p->packs[i])) : 0;
}

/* ---- GLPK's environment ------------------------------------------------------------------------------------------ */

static int print_nothing(void *info, const char *text)
{
    (void)info, (void)text;
    return 1;
}

/*
 * GLPK calls abort() when its error hook returns, so this jumps out. All its memory belongs to the environment, so
 * nothing leaks.
 */
static void leave(void *info)
{
    struct programme *p = info;
    glp_free_env();
    longjmp(p->failed, 1);
}

static bool survives(struct programme *p)
{
    if (setjmp(p->failed))
        return false;
    build(p);
    p->start = glp_time();
    p->found->cancelled = !goes_on(p);
    if (!p->found->cancelled)
        solve(p);
    glp_delete_prob(p->prob);
    return true;
}

static bool run(struct programme *p)
{
    int before = glp_init_env();
    if (before > 1)
        return false;
    glp_term_hook(print_nothing, NULL);
    int out = glp_term_out(GLP_OFF);
    glp_error_hook(leave, p);
    if (!survives(p))
        return false;
    glp_error_hook(NULL, NULL);
    glp_term_hook(NULL, NULL);
    glp_term_out(out);
    if (before == 0)
        glp_free_env();
    return true;
}

/*
 * Allocates the columns by offer, shop and lot in one block, and a row with room for all columns. Returns false when
 * out of memory.
 */
static bool take_memory(struct programme *p)
{
    const struct hk_basket_problem *problem = p->plan->problem;
    size_t offers = problem->offer_count, shops = problem->shop_count, lots = p->plan->lot_count;
    size_t columns = 3 * offers + 6 * shops + lots; /* tiers and tier_count take no columns, but room */
    for (size_t i = 0; i < offers; i++)
        for (const struct hk_basket_tier *tier = problem->offers[i].tiers; tier && tier->from; tier++)
            columns += 2;
    if (columns >= INT_MAX / 2)
        return false;
    p->value = calloc(columns + 1, sizeof *p->value);
    p->index = calloc(columns + 1, 2 * sizeof *p->index);
    if (!p->value || !p->index)
        return false;
    p->packs = p->index + columns + 1;
    p->used = p->packs + offers;
    p->postage_free = p->used + shops;
    p->off = p->postage_free + shops;
    p->part = p->off + shops;
    p->less = p->part + shops;
    p->sold = p->less + shops;
    p->chosen = p->sold + shops;
    p->tiers = p->chosen + lots;
    p->tier_count = p->tiers + offers;
    return true;
}

bool hk_programme_search(const struct hk_basket_plan *plan, double seconds, struct hk_programme_found *found)
{
    struct programme p = {.plan = plan, .seconds = seconds, .found = found};
    found->seen = false;
    found->bound = 0;
    bool done = take_memory(&p) && run(&p);
    free(p.value);
    free(p.index);
    return done;
}
