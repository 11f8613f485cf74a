/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Small designs made by hand, with stated stitch counts, for suites of the stages after the tally. The numbers allow
 * calculation of lengths on paper: every yarn is 2 mm thick unless set, so on a 5 mm tool a loop is 7 pi mm.
 */
#ifndef TEST_HANDMADE_H
#define TEST_HANDMADE_H

#include "pattern/fabric.h"
#include "need/need.h"
#include "support.h"

#include <assert.h>
#include <string.h>

enum { SC, DC, SKIP, KNIT, CHAIN, HANDMADE_STITCHES };
enum { HANDMADE_SIZES = 3, HANDMADE_LINES = 64, HANDMADE_FEW = 8, HANDMADE_USES = 256, HANDMADE_OFFERS = 64 };

struct handmade {
    struct hk_stitch stitches[HANDMADE_STITCHES];
    struct hk_fabric fabrics[HANDMADE_STITCHES]; /* one row for each stitch: `*sc 1*` */
    struct hk_row rows[HANDMADE_STITCHES];
    struct hk_step steps[HANDMADE_STITCHES][2];
    struct hk_catalogue catalogue;
    const char *sizes[HANDMADE_SIZES];
    struct hk_yarn yarns[HANDMADE_FEW];
    struct hk_candidate candidates[HANDMADE_FEW];
    struct hk_role roles[HANDMADE_FEW];
    struct hk_offer offers[HANDMADE_OFFERS];
    struct hk_seller sellers[HANDMADE_FEW];
    struct hk_strand strands[HANDMADE_FEW][2];
    struct hk_combination combinations[HANDMADE_FEW];
    struct hk_line lines[HANDMADE_LINES];
    struct hk_swatch swatches[HANDMADE_FEW];
    struct hk_worked worked[HANDMADE_SIZES * HANDMADE_LINES], worked_swatches[HANDMADE_FEW];
    struct hk_use uses[HANDMADE_USES];
    struct hk_kind kinds[HANDMADE_USES][2], longest[HANDMADE_USES][1];
    struct hk_kinds longest_kinds[HANDMADE_USES];
    double ends[HANDMADE_USES][2];
    size_t use_count;
    struct hk_project project;
    struct hk_tally tally;
};

/* The spreads of DEVELOPERS.md, The model, copied here, so that a change of the table cannot change these cases. */
static inline struct hk_spreads handmade_spreads(void)
{
    return (struct hk_spreads){
        .wrap_ratio = 2.0 / 3, .wrap = 0.2, .tension = 0.15, .stitch = 0.12, .tool = 0.05, .yarn = 0.06, .grist = 0.02,
        .making = 0.04, .piece = 0.02, .garment = 0.03, .moisture = 0.15, .unstated = 0.015, .unstated_spread = 0.02, .ball = 0.015,
        .unravelled = 0.02, .diameter_mm = 0.108,
        .time_loop_s = 1.3, .time_tension = 0.35, .time_stitch = 0.15, .time_tool = 0.05, .time_yarn = 0.1,
        .time_making = 0.1, .time_piece = 0.05, .time_end_min = 3,
    };
}

/* Makes a project of `sizes` sizes and `lines` lines, all empty. */
static inline void handmade_start(struct handmade *h, size_t sizes, size_t lines)
{
    static const char *const size_names[HANDMADE_SIZES] = {"S", "M", "L"};
    memset(h, 0, sizeof *h);
    h->stitches[SC] = (struct hk_stitch){
        .us = "sc", .uk = "dc", .name = "single crochet", .family = HK_FAMILY_CROCHET, .loops = 2, .needs = 1, .leaves = 1};
    h->stitches[DC] = (struct hk_stitch){.us = "dc",
                                         .uk = "tr",
                                         .name = "double crochet",
                                         .family = HK_FAMILY_CROCHET,
                                         .loops = 2,
                                         .wraps = 2,
                                         .needs = 1,
                                         .leaves = 1,
                                         .base = DC};
    h->stitches[SKIP] = (struct hk_stitch){.us = "sk", .uk = "miss", .name = "skip", .family = HK_FAMILY_CROCHET};
    h->stitches[KNIT] = (struct hk_stitch){
        .us = "k", .uk = "k", .name = "knit", .family = HK_FAMILY_KNIT, .loops = 1, .needs = 1, .leaves = 1, .base = KNIT};
    h->stitches[CHAIN] = (struct hk_stitch){.us = "ch", .uk = "ch", .name = "chain", .family = HK_FAMILY_CROCHET, .loops = 1};
    static const char *const fabrics[HANDMADE_STITCHES] = {"single crochet", "double crochet", "skipped", "stockinette", "chains"};
    for (size_t i = 0; i < HANDMADE_STITCHES; i++) {
        h->steps[i][1] = (struct hk_step){.kind = HK_STEP_STITCH, .stitch = i, .many.one = 1, .where.count.one = 1};
        h->steps[i][0] = (struct hk_step){.kind = HK_STEP_REPEAT, .steps = &h->steps[i][1], .step_count = 1};
        h->rows[i] = (struct hk_row){.steps = h->steps[i], .step_count = 1, .repeats = true, .to_end = true};
        h->fabrics[i] = (struct hk_fabric){.name = fabrics[i], .rows = &h->rows[i], .cycle_count = 1};
    }
    h->catalogue.stitches = h->stitches;
    h->catalogue.stitch_count = HANDMADE_STITCHES;
    for (size_t i = 0; i < HANDMADE_SIZES; i++)
        h->sizes[i] = size_names[i];
    h->project = (struct hk_project){
        .catalogue = &h->catalogue, .title = "made by hand", .sizes = h->sizes, .size_count = sizes,
        .chance = 0.95, .margin = -1,
        .spreads = handmade_spreads(), .yarns = h->yarns, .candidates = h->candidates, .roles = h->roles,
        .combinations = h->combinations, .swatches = h->swatches, .lines = h->lines, .line_count = lines,
    };
    h->sellers[HK_SELLER_OWN] = (struct hk_seller){.name = "own", .free_from_minor = -1};
    h->sellers[HK_SELLER_PRICE] = (struct hk_seller){.name = "", .free_from_minor = -1};
    h->project.sellers = h->sellers;
    h->project.seller_count = 2;
    h->project.short_cost_minor = -1;
    h->project.offers = h->offers;
    for (size_t i = 0; i < lines; i++)
        h->lines[i] = (struct hk_line){.piece = "piece", .part = "", .fabric = &h->fabrics[SC], .first = i == 0};
    h->tally = (struct hk_tally){.project = &h->project, .lines = h->worked, .swatches = h->worked_swatches};
}

/*
 * Adds a yarn and a role with the same name, 50 g = 100 m and 2 mm thick, and the combination of one strand of it; all
 * have the same index.
 */
static inline size_t handmade_yarn(struct handmade *h, const char *name, int64_t price_minor)
{
    size_t i = h->project.yarn_count++;
    assert(i < HANDMADE_FEW && h->project.role_count == i && h->project.combination_count == i);
    h->yarns[i] = (struct hk_yarn){.name = name, .put_up_g = 50, .length_m = 100, .tex = 500, .diameter_mm = 2, .fibre = "",
                                  .ln_weighs = -0.015, .ln_weighs_sd = 0.02};
    h->candidates[i] = (struct hk_candidate){.role = i, .yarn = i, .colour = "", .fibre = "", .category = "", .notes = "",
                                              .price_minor = price_minor};
    h->roles[i] = (struct hk_role){.name = name, .plan = i};
    h->strands[i][0] = (struct hk_strand){.role = i, .yarn = i, .times = 1};
    h->combinations[i] = (struct hk_combination){.strands = h->strands[i], .strand_count = 1, .diameter_mm = 2,
                                                 .blend = i};
    h->project.candidate_count = h->project.role_count = h->project.combination_count = i + 1;
    return i;
}

/*
 * Adds strands held together, `a_times` of yarn a and `b_times` of yarn b (0: yarn a alone). Call it after all yarns
 * are added.
 */
static inline size_t handmade_together(struct handmade *h, size_t a, int64_t a_times, size_t b, int64_t b_times,
                                       double diameter_mm)
{
    size_t i = h->project.combination_count++;
    assert(i < HANDMADE_FEW);
    h->strands[i][0] = (struct hk_strand){.role = a, .yarn = a, .times = a_times};
    h->strands[i][1] = (struct hk_strand){.role = b, .yarn = b, .times = b_times};
    h->combinations[i] = (struct hk_combination){.strands = h->strands[i], .strand_count = b_times > 0 ? 2 : 1,
                                                 .diameter_mm = diameter_mm, .blend = i};
    return i;
}

/* Returns one use: a count of stitches of one kind, rows of `row` stitches, in a combination. */
struct handmade_use {
    size_t combination, stitch;
    double count, row, ends, cut_m;
};

static inline void handmade_work(struct handmade *h, struct hk_worked *worked, double tool_mm, struct handmade_use use)
{
    size_t u = h->use_count++;
    assert(u < HANDMADE_USES);
    h->kinds[u][0] = (struct hk_kind){use.stitch, use.count};
    h->longest[u][0] = (struct hk_kind){use.stitch, use.row};
    h->longest_kinds[u] = (struct hk_kinds){h->longest[u], 1};
    h->ends[u][0] = h->ends[u][1] = use.ends;
    if (!worked->uses)
        worked->uses = &h->uses[u];
    assert(worked->uses + worked->use_count == &h->uses[u]); /* the next piece of work in the sequence */
    h->uses[u] = (struct hk_use){.combination = use.combination, .kinds = {h->kinds[u], 1},
                                 .ends = h->ends[u], .cut_m = use.cut_m,
                                 .longest = &h->longest_kinds[u], .longest_count = 1};
    worked->use_count++;
    worked->tool_mm = tool_mm;
}

/* Adds a use to a line in one size, worked `times` times. */
static inline void handmade_line(struct handmade *h, size_t size, size_t line, double tool_mm, int64_t times,
                                 struct handmade_use use)
{
    struct hk_worked *worked = &h->worked[size * h->project.line_count + line];
    worked->times = times;
    h->lines[line].fabric = &h->fabrics[use.stitch];
    h->lines[line].tool_mm = tool_mm;
    handmade_work(h, worked, tool_mm, use);
}

/* Adds a weighed swatch of 20 rows. */
static inline size_t handmade_swatch(struct handmade *h, const char *name, double tool_mm, double mass_g, double step_g,
                                     struct handmade_use use)
{
    size_t i = h->project.swatch_count++;
    assert(i < HANDMADE_FEW);
    h->swatches[i] = (struct hk_swatch){.name = name, .tool_mm = tool_mm, .fabric = &h->fabrics[use.stitch], .rows = 20,
                                        .stitches = (int64_t)use.row, .mass_g = mass_g, .scale = {step_g, step_g},
                                        .tape_step_m = 0.001, .care = ""};
    h->worked_swatches[i].times = 1;
    handmade_work(h, &h->worked_swatches[i], tool_mm, use);
    return i;
}

/* Runs fit and prediction; fails the test on any error. */
struct handmade_answer {
    struct hk_fit *fit;
    struct hk_need *need;
};

static inline struct handmade_answer handmade_predict(const struct handmade *h, struct hk_need_options options)
{
    struct hk_diags diags = {0};
    struct handmade_answer answer = {.fit = hk_fit_make(&h->tally, &diags)};
    assert_non_null(answer.fit);
    answer.need = hk_need_predict(answer.fit, options, &diags);
    assert_true(hk_diags_ok(&diags));
    assert_non_null(answer.need);
    hk_diags_free(&diags);
    return answer;
}

static inline void handmade_done(struct handmade_answer answer)
{
    hk_need_free(answer.need);
    hk_fit_free(answer.fit);
}

static inline size_t handmade_seller(struct handmade *h, const char *name)
{
    size_t i = h->project.seller_count++;
    h->sellers[i] = (struct hk_seller){.name = name, .free_from_minor = -1};
    return i;
}

/* Offers balls of 50 g for role 0, without limit. */
static inline struct hk_offer *handmade_offer(struct handmade *h, size_t shop, int64_t price_minor)
{
    struct hk_offer *new = &h->offers[h->project.offer_count++];
    *new = (struct hk_offer){.shop = shop, .colour = "", .lot = "", .put_up_g = 50, .pack = 1, .stock = -1,
                             .price = {price_minor, 1, NULL, 0}, .value_minor = -1};
    return new;
}

#endif
