/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Another yarn in a role's place. Nothing is fitted again: of the design's parameters a candidate changes the diameter, the
 * grist and the yarn's departure v alone. With the role's work gathered once by tool and combination k (of what the
 * candidate may be one strand among several), worked length and its gradient scale by the loop rule:
 *
 *     s_k = (h_k + d'_k) / (h_k + d_k) * exp(v')     d'_k^2 = sum over the other strands d^2 + times * d_candidate^2
 *     W'  = sum_k s_k W_k        T' = W' + plain     W_k: at the optimum, v left out
 *
 *     var ln T' = h'^T C h' + sum_b (share of blend b)^2 yarn^2 + (W'/T')^2 making^2
 *                 + piece^2 / T'^2 sum_kl s_k s_l P_kl       P_kl = sum over lines j of W_jk W_jl / copies_j
 *
 * v' and the grist are those of the fit where it knows the yarn, else 0 and the label's with the spreads' uncertainty. For
 * the planned yarn itself all of this is hk_need_predict (tests/test_compare.c). Two yarns held together replace one strand by
 * one of each: d_candidate^2 = d_1^2 + d_2^2, and each is used to the length T'.
 */
#include "need.h"

#include "balls.h"
#include "chance.h"
#include "diags.h"
#include "loop.h"
#include "moisture.h"
#include "money.h"
#include "text.h"
#include "yarn_list.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

/* Stitches this much larger or smaller keep the gauge: half a stitch in 16 over 10 cm. From experience, no source. */
#define GAUGE_KEPT 0.03
/* A yarn more than this thicker, or the planned one than it, makes another fabric, denser or more open. From experience, no source. */
#define THICKNESS_KEPT 0.25
/* Allowances this far apart show on a scale in damp air. From experience, no source. */
#define DAMP_APART 0.03
/* Added grist of a pair against the planned yarn's. From experience, no source. */
#define PAIR_APART 0.05
#define PARTNERS_MOST 3
/* Two ways to write one label agree no better (yarns.c). */
#define SAME_GRIST 1e-3
#define LOW_CHANCE 0.05
#define HIGH_CHANCE 0.95
#define MM_PER_INCH 25.4
#define NO_PRICE (-1)
#define DEFAULT_MINOR_DIGITS 2
#define CATEGORIES_MOST 16
#define YARNS_MOST 2
#define FIBRES_KEPT 256

/* The role's work with one tool in one combination. */
struct group {
    double tool_mm, old_mm; /* of the tool; the diameter of the combination as planned */
    double others_mm2;      /* sum of d^2 of its other strands */
    double times;           /* strands of the role */
    size_t combination, blend;
    double worked_m;        /* W_k */
    double *gradient;       /* of W_k in the parameters of the fit, its blend left out */
    double other_g;         /* what the other strands weigh, v left out */
    double longest_m;       /* the longest row of one strand */
    bool needles;
};

/* What was looked up for the words of a label. */
struct known_fibre {
    const char *words;
    double low, high; /* moisture; -1: not known */
};

struct compared {
    struct hk_compare face;
    struct hk_arena arena;
};

struct comparing {
    struct compared *compared;
    const struct hk_needed *needed;
    const struct hk_project *project;
    const struct hk_fit *fit;
    const struct hk_need_role *plan;
    struct hk_diags *diags;
    struct hk_arena scratch;
    size_t size, role;
    struct group *groups;
    size_t group_count, main; /* main: the one with the most yarn */
    double *pieces;           /* P_kl */
    double plain_m;
    double other_g;           /* other roles in lines without this one, and what of them no tension acts on */
    double low, high, enough; /* quantiles of the standard normal */
    double *gradient, *scale; /* of the candidate at hand */
    double *blends;           /* by blend of the project: share of W' in one that the fit does not know */
    double plan_mm; /* diameter of the planned yarn */
    unsigned plan_categories;
    double plan_low, plan_high; /* moisture */
    const char *sets[1 << 8];   /* names of sets of categories */
    struct known_fibre fibres[FIBRES_KEPT];
    struct hk_compare_row *rows;
    size_t row_count, row_capacity;
    bool too_dear;
};

/* What stands in the place of a strand of the role. */
struct stand_in {
    const struct hk_listed *yarns[YARNS_MOST];
    size_t count;
    double diameter_mm2;         /* sum of d^2 */
    size_t grists[YARNS_MOST];   /* parameters; SIZE_MAX where the fit does not know the yarn */
    bool known;                  /* the fit knows all its yarns */
};

/* ---- Gathering the role's work ----------------------------------------------------------------------------------- */

static const struct hk_combination *combination_of(const struct comparing *c, size_t combination)
{
    return &c->project->combinations[combination];
}

static struct group *group_of(struct comparing *c, const struct hk_worked *worked, size_t combination, bool needles)
{
    for (size_t i = 0; i < c->group_count; i++) {
        if (c->groups[i].tool_mm == worked->tool_mm && c->groups[i].combination == combination)
            return &c->groups[i];
    }
    const struct hk_combination *of = combination_of(c, combination);
    struct group *group = &c->groups[c->group_count++];
    *group = (struct group){.tool_mm = worked->tool_mm, .old_mm = of->diameter_mm, .combination = combination,
                            .needles = needles, .blend = c->fit->folders[0].blends[combination]};
    group->gradient = hk_arena_take(&c->scratch, c->fit->count, sizeof *group->gradient);
    for (size_t s = 0; s < of->strand_count; s++) {
        double d = c->project->yarns[of->strands[s].yarn].diameter_mm, times = (double)of->strands[s].times;
        if (of->strands[s].role == c->role)
            group->times += times;
        else
            group->others_mm2 += times * d * d;
    }
    return group;
}

static bool has_role(const struct hk_combination *combination, size_t role)
{
    for (size_t s = 0; s < combination->strand_count; s++) {
        if (combination->strands[s].role == role)
            return true;
    }
    return false;
}

/* exp(-v): what takes the planned yarn's departure out again. */
static double without_blend(const struct comparing *c, size_t blend)
{
    return blend == SIZE_MAX ? 1 : exp(-c->fit->parameters[blend].value);
}

static double strand_m(const struct comparing *c, const struct hk_worked *worked, size_t combination,
                       struct hk_kinds kinds, double weight, double *gradient)
{
    return hk_fit_length_m(c->fit, NULL, c->fit->tally, combination, worked->tool_mm, kinds, weight, gradient);
}

/* What the strands of other roles in a use weigh: worked, and ends and cut lengths. */
static void weigh_others(const struct comparing *c, const struct hk_use *use, double copies, double worked_m,
                         double *worked_g, double *plain_g)
{
    const struct hk_combination *of = combination_of(c, use->combination);
    for (size_t s = 0; s < of->strand_count; s++) {
        if (of->strands[s].role == c->role)
            continue;
        double g_m = copies * (double)of->strands[s].times * hk_fit_grist_g_m(c->fit, of->strands[s].yarn);
        *worked_g += g_m * worked_m;
        *plain_g += g_m * (use->ends[s] * c->project->tail_m + use->cut_m);
    }
}

static void gather_use(struct comparing *c, const struct hk_worked *worked, const struct hk_use *use, bool needles,
                       double *by_group)
{
    const struct hk_combination *of = combination_of(c, use->combination);
    double copies = (double)worked->times, plain_g = 0, worked_g = 0;
    if (!has_role(of, c->role)) {
        weigh_others(c, use, copies, strand_m(c, worked, use->combination, use->kinds, 0, NULL), &c->other_g, &c->other_g);
        return;
    }
    struct group *group = group_of(c, worked, use->combination, needles);
    if (!group->gradient)
        return;
    double bare = without_blend(c, group->blend), strands = copies * group->times;
    double one_m = bare * strand_m(c, worked, use->combination, use->kinds, bare * strands, group->gradient);
    group->worked_m += strands * one_m;
    by_group[group - c->groups] += strands * one_m;
    if (group->blend != SIZE_MAX)
        group->gradient[group->blend] = 0;
    weigh_others(c, use, copies, one_m, &worked_g, &plain_g);
    group->other_g += worked_g;
    c->other_g += plain_g;
    for (size_t s = 0; s < of->strand_count; s++) {
        if (of->strands[s].role == c->role)
            c->plain_m += copies * (double)of->strands[s].times * (use->ends[s] * c->project->tail_m + use->cut_m);
    }
    for (size_t i = 0; i < use->longest_count; i++)
        group->longest_m =
            fmax(group->longest_m, bare * strand_m(c, worked, use->combination, use->longest[i], 0, NULL));
}

/* Adds a line's W_jk W_jl / copies. */
static void add_pieces(struct comparing *c, const double *by_group, size_t most, double copies)
{
    for (size_t k = 0; k < c->group_count; k++)
        for (size_t l = 0; l < c->group_count; l++)
            c->pieces[k * most + l] += by_group[k] * by_group[l] / copies;
}

/* Every use may be a group of its own. */
static size_t groups_most(const struct comparing *c)
{
    size_t most = 1;
    for (size_t line = 0; line < c->project->line_count; line++)
        most += c->fit->tally->lines[c->size * c->project->line_count + line].use_count;
    return most < c->project->combination_count * (c->project->line_count + 1) + 1
               ? most
               : c->project->combination_count * (c->project->line_count + 1) + 1;
}

/* Puts P_kl close together once the number of groups is known. */
static void pack_pieces(struct comparing *c, size_t most)
{
    for (size_t k = 0; k < c->group_count; k++)
        for (size_t l = 0; l < c->group_count; l++)
            c->pieces[k * c->group_count + l] = c->pieces[k * most + l];
}

static bool gather(struct comparing *c)
{
    size_t most = groups_most(c);
    double *by_group = hk_arena_take(&c->scratch, most, sizeof *by_group);
    c->groups = hk_arena_take(&c->scratch, most, sizeof *c->groups);
    c->pieces = hk_arena_take(&c->scratch, most * most, sizeof *c->pieces);
    c->gradient = hk_arena_take(&c->scratch, c->fit->count, sizeof *c->gradient);
    c->blends = hk_arena_take(&c->scratch, c->project->blend_count, sizeof *c->blends);
    if (c->scratch.lost)
        return false;
    for (size_t line = 0; line < c->project->line_count; line++) {
        const struct hk_worked *worked = &c->fit->tally->lines[c->size * c->project->line_count + line];
        memset(by_group, 0, most * sizeof *by_group);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++)
            gather_use(c, worked, &worked->uses[u], c->project->lines[line].fabric->knit, by_group);
        if (worked->times > 0)
            add_pieces(c, by_group, most, (double)worked->times);
    }
    pack_pieces(c, most);
    for (size_t k = 0; k < c->group_count; k++) {
        if (c->groups[k].worked_m > c->groups[c->main].worked_m)
            c->main = k;
    }
    c->scale = hk_arena_take(&c->scratch, c->group_count, sizeof *c->scale);
    return !c->scratch.lost;
}

/* ---- What the fit knows of a candidate --------------------------------------------------------------------------- */

static double label_g_m(const struct hk_listed *yarn)
{
    return yarn->put_up_g / yarn->length_m;
}

/* By name, if it is the same yarn by its label too. */
static size_t known_grist(const struct comparing *c, const struct hk_listed *yarn)
{
    size_t i = hk_fit_find(c->fit, HK_GRIST, 0, 0, yarn->name);
    bool same = i != SIZE_MAX && fabs(c->fit->parameters[i].prior - log(label_g_m(yarn))) < SAME_GRIST;
    return same ? i : SIZE_MAX;
}

static struct stand_in stand_in_of(const struct comparing *c, const struct hk_listed *a, const struct hk_listed *b)
{
    struct stand_in in = {.yarns = {a, b}, .count = b ? 2 : 1, .known = true};
    for (size_t i = 0; i < in.count; i++) {
        in.diameter_mm2 += in.yarns[i]->diameter_mm * in.yarns[i]->diameter_mm;
        in.grists[i] = known_grist(c, in.yarns[i]);
        in.known &= in.grists[i] != SIZE_MAX;
    }
    return in;
}

/* The departure of the combination with the stand-in in the role's place; SIZE_MAX where the fit does not know it. */
static size_t known_blend(struct comparing *c, const struct stand_in *in, const struct group *group)
{
    if (!in->known)
        return SIZE_MAX;
    const struct hk_combination *of = combination_of(c, group->combination);
    if (of->strand_count == 1 && in->count == 1 && group->times == 1)
        return hk_fit_find(c->fit, HK_BLEND, 0, 0, in->yarns[0]->name);
    /* Only the names are asked of these yarns. */
    struct hk_arena arena = {0};
    size_t most = of->strand_count + YARNS_MOST, found = SIZE_MAX;
    struct hk_yarn *yarns = hk_arena_take(&arena, most, sizeof *yarns);
    struct hk_strand *strands = hk_arena_take(&arena, most, sizeof *strands);
    struct hk_combination held = {.strands = strands};
    for (size_t s = 0; yarns && strands && s < of->strand_count; s++) {
        bool replaced = of->strands[s].role == c->role;
        for (size_t i = 0; i < (replaced ? in->count : 1); i++, held.strand_count++) {
            yarns[held.strand_count].name = replaced ? in->yarns[i]->name : c->project->yarns[of->strands[s].yarn].name;
            strands[held.strand_count] = (struct hk_strand){0, held.strand_count, of->strands[s].times};
        }
    }
    struct hk_project names = {.yarns = yarns};
    const char *name = arena.lost ? NULL : hk_blend_name(&arena, &names, &held);
    if (name)
        found = hk_fit_find(c->fit, HK_BLEND, 0, 0, name);
    c->scratch.lost |= arena.lost;
    hk_arena_free(&arena);
    return found;
}

/* ---- Length and spread ------------------------------------------------------------------------------------------- */

static double loop_ratio(const struct group *group, double diameter_mm2, double tool_mm)
{
    double d = sqrt(group->others_mm2 + group->times * diameter_mm2);
    return (tool_mm + d) / (group->tool_mm + group->old_mm);
}

/* Adds what the fit says of v to the scale; what it does not know counts by itself, for each blend of the design. */
static void scale_groups(struct comparing *c, const struct stand_in *in, size_t *known)
{
    for (size_t k = 0; k < c->group_count; k++) {
        const struct group *group = &c->groups[k];
        known[k] = known_blend(c, in, group);
        c->scale[k] = loop_ratio(group, in->diameter_mm2, group->tool_mm);
        if (known[k] != SIZE_MAX)
            c->scale[k] *= exp(c->fit->parameters[known[k]].value);
    }
}

static double worked_length_m(const struct comparing *c)
{
    double worked_m = 0;
    for (size_t k = 0; k < c->group_count; k++)
        worked_m += c->scale[k] * c->groups[k].worked_m;
    return worked_m;
}

/* The gradient of ln T' in the fit's parameters; the variance that the fit knows nothing of is the answer. */
static double fill_gradient(struct comparing *c, const size_t *known, double length_m)
{
    double yarn = c->project->spreads.yarn, variance = 0;
    memset(c->gradient, 0, c->fit->count * sizeof *c->gradient);
    memset(c->blends, 0, c->project->blend_count * sizeof *c->blends);
    for (size_t k = 0; k < c->group_count; k++) {
        const struct group *group = &c->groups[k];
        double weight = c->scale[k] / length_m, share = weight * group->worked_m;
        for (size_t i = 0; i < c->fit->count; i++)
            c->gradient[i] += weight * group->gradient[i];
        if (known[k] != SIZE_MAX)
            c->gradient[known[k]] += share;
        else
            c->blends[combination_of(c, group->combination)->blend] += share;
    }
    for (size_t b = 0; b < c->project->blend_count; b++)
        variance += c->blends[b] * c->blends[b] * yarn * yarn;
    return variance;
}

static double own_variance(const struct comparing *c, double worked_m, double length_m)
{
    const struct hk_spreads *spreads = &c->project->spreads;
    double pieces = 0, share = worked_m / length_m;
    for (size_t k = 0; k < c->group_count; k++)
        for (size_t l = 0; l < c->group_count; l++)
            pieces += c->scale[k] * c->scale[l] * c->pieces[k * c->group_count + l];
    return share * share * spreads->making * spreads->making +
           pieces / (length_m * length_m) * spreads->piece * spreads->piece;
}

static double quadratic(const struct comparing *c)
{
    double sum = 0;
    for (size_t i = 0; i < c->fit->count; i++) {
        double row = 0;
        if (c->gradient[i] == 0)
            continue;
        for (size_t k = 0; k < c->fit->count; k++)
            row += c->fit->covariance[i * c->fit->count + k] * c->gradient[k];
        sum += c->gradient[i] * row;
    }
    return sum;
}

static struct hk_range range_of(const struct comparing *c, double likely, double spread)
{
    bool flat = c->needed->face.margin >= 0;
    return (struct hk_range){
        .likely = likely,
        .low = likely * exp(spread * c->low),
        .high = likely * exp(spread * c->high),
        .enough = flat ? likely * (1 + c->needed->face.margin) : likely * exp(spread * c->enough),
    };
}

/* ---- One yarn of a stand-in -------------------------------------------------------------------------------------- */

static int64_t cost_of(struct comparing *c, int64_t balls, int64_t price_minor)
{
    if (price_minor < 0 || balls <= 0)
        return NO_PRICE;
    if (price_minor > 0 && balls > HK_MONEY_MOST / price_minor) {
        c->too_dear = true;
        return NO_PRICE;
    }
    return balls * price_minor;
}

static void fill_yarn(struct comparing *c, const struct stand_in *in, size_t i, double length_m, double longest_m,
                      double variance, struct hk_compare_yarn *yarn)
{
    const struct hk_listed *listed = in->yarns[i];
    double g_m = label_g_m(listed), grist = c->project->spreads.grist;
    if (in->grists[i] == SIZE_MAX) {
        variance += quadratic(c) + grist * grist;
    } else {
        g_m = exp(c->fit->parameters[in->grists[i]].value);
        c->gradient[in->grists[i]] += 1;
        variance += quadratic(c);
        c->gradient[in->grists[i]] -= 1;
    }
    *yarn = (struct hk_compare_yarn){
        .yarn = listed->name, .colour = listed->colour, .fibre = listed->fibre,
        .put_up_g = listed->put_up_g, .put_up_m = listed->length_m, .price_minor = listed->price_minor,
        .mass_g = range_of(c, g_m * length_m, sqrt(fmax(variance, 0))),
        .weighed = in->grists[i] != SIZE_MAX && c->fit->parameters[in->grists[i]].touched,
    };
    double join_g = g_m * (2 * c->project->tail_m + (c->project->join_anywhere ? 0 : longest_m / 2));
    if (hk_balls_needed(yarn->mass_g.enough, yarn->put_up_g, join_g, &yarn->balls))
        yarn->left_over_m =
            fmax(0, hk_balls_usable_g(yarn->balls, yarn->put_up_g, join_g) - yarn->mass_g.likely) / g_m;
    yarn->cost_minor = cost_of(c, yarn->balls, yarn->price_minor);
}

/* ---- Categories, moisture ---------------------------------------------------------------------------------------- */

/* As labels state it: "4", "Medium", "4 Medium", "category 4". */
static bool category_stated(const struct hk_category *category, const char *text, struct hk_arena *scratch)
{
    static const char word[] = "category ";
    if (hk_text_starts(text, word))
        text += sizeof word - 1;
    if (!*text || hk_text_same(text, category->name) || hk_text_same(text, category->label))
        return *text;
    const char *both = hk_arena_print(scratch, "%s %s", category->name, category->label);
    return both && hk_text_same(text, both);
}

/* All that fit by thickness, and the one that the label states: a bit for each. */
static unsigned categories_of(struct comparing *c, double diameter_mm, const char *stated)
{
    const struct hk_catalogue *catalogue = c->project->catalogue;
    struct hk_arena scratch = {0};
    unsigned set = 0;
    for (size_t i = 0; i < catalogue->category_count && i < CATEGORIES_MOST; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (hk_category_holds(catalogue, category, MM_PER_INCH / diameter_mm) ||
            (*stated && category_stated(category, stated, &scratch)))
            set |= 1u << i;
    }
    hk_arena_free(&scratch);
    return set;
}

static const char *set_text(struct comparing *c, unsigned set)
{
    const struct hk_catalogue *catalogue = c->project->catalogue;
    bool keep = set < sizeof c->sets / sizeof c->sets[0];
    const char *text = keep ? c->sets[set] : NULL;
    if (text)
        return text;
    text = "";
    for (size_t i = 0; i < catalogue->category_count && i < CATEGORIES_MOST && text; i++) {
        if (set & 1u << i)
            text = hk_arena_print(&c->compared->arena, "%s%s%s %s", text, *text ? ", " : "",
                                  catalogue->categories[i].name, catalogue->categories[i].label);
    }
    if (keep)
        c->sets[set] = text;
    return text ? text : "";
}

/* Catalogues say the same of many yarns: each place keeps the words last looked up there (D. J. Bernstein's hash). */
static const struct known_fibre *moisture_of(struct comparing *c, const char *words)
{
    uint32_t hash = 5381;
    for (const char *word = words; *word; word++)
        hash = hash * 33 + (unsigned char)*word;
    struct known_fibre *known = &c->fibres[hash % FIBRES_KEPT];
    if (!known->words || strcmp(known->words, words) != 0) {
        *known = (struct known_fibre){words, -1, -1};
        hk_moisture_allowance(c->project->catalogue, words, &known->low, &known->high);
    }
    return known;
}

/* Of a pair: by mass, as its yarns share it. */
static void fill_moisture(struct comparing *c, struct hk_compare_row *row)
{
    row->moisture_low = row->moisture_high = 0;
    for (size_t i = 0; i < row->yarn_count; i++) {
        double share = row->yarns[i].mass_g.likely / row->mass_g;
        const struct known_fibre *fibre = moisture_of(c, row->yarns[i].fibre);
        if (fibre->low < 0) {
            row->moisture_low = row->moisture_high = -1;
            return;
        }
        row->moisture_low += share * fibre->low;
        row->moisture_high += share * fibre->high;
    }
    row->damp = c->plan_low >= 0 &&
                fabs(row->moisture_low + row->moisture_high - c->plan_low - c->plan_high) / 2 >= DAMP_APART;
}

/* ---- Verdict ----------------------------------------------------------------------------------------------------- */

static bool kept(double stitch_size)
{
    return fabs(log(stitch_size)) <= log1p(GAUGE_KEPT);
}

/* Among the trade's tools of the craft the one that keeps stitches nearest to their size; false where there is none. */
static bool nearest_tool(const struct comparing *c, double diameter_mm2, double *tool_mm, const char **label)
{
    const struct hk_catalogue *catalogue = c->project->catalogue;
    const struct group *group = &c->groups[c->main];
    double best = INFINITY;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        const struct hk_tool *tool = &catalogue->tools[i];
        double ratio = loop_ratio(group, diameter_mm2, tool->tool_mm), off = fmax(ratio, 1 / ratio);
        if ((tool->kind == HK_NEEDLE) != group->needles || off >= best)
            continue;
        best = off;
        *tool_mm = tool->tool_mm;
        *label = tool->label;
    }
    return best < INFINITY;
}

static const char *tool_label(const struct comparing *c, double tool_mm)
{
    const struct hk_catalogue *catalogue = c->project->catalogue;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        const struct hk_tool *tool = &catalogue->tools[i];
        if (tool->tool_mm == tool_mm && (tool->kind == HK_NEEDLE) == c->groups[c->main].needles)
            return tool->label;
    }
    return "";
}

static void fill_tool(const struct comparing *c, const struct stand_in *in, struct hk_compare_row *row)
{
    const struct group *group = &c->groups[c->main];
    row->tool_mm = row->keeping_tool_mm = group->tool_mm;
    row->thickness = sqrt(in->diameter_mm2) / c->plan_mm;
    row->stitch_size = loop_ratio(group, in->diameter_mm2, group->tool_mm);
    row->keeping_label = tool_label(c, group->tool_mm);
    if (!kept(row->stitch_size))
        nearest_tool(c, in->diameter_mm2, &row->keeping_tool_mm, &row->keeping_label);
    row->keeping_length_m = c->plain_m;
    for (size_t k = 0; k < c->group_count; k++) {
        double tool_mm = fmax(c->groups[k].tool_mm + row->keeping_tool_mm - row->tool_mm, 0);
        double before = loop_ratio(&c->groups[k], in->diameter_mm2, c->groups[k].tool_mm);
        double now = loop_ratio(&c->groups[k], in->diameter_mm2, tool_mm);
        row->keeping_length_m += c->scale[k] * now / before * c->groups[k].worked_m;
    }
}

static void judge(const struct comparing *c, const struct stand_in *in, unsigned categories, struct hk_compare_row *row)
{
    bool enough = true;
    for (size_t i = 0; i < row->yarn_count; i++)
        enough &= row->yarns[i].balls > 0;
    row->verdict = HK_VERDICT_DIFFERS;
    if (!enough) {
        row->reason = HK_REASON_BALL_SMALL;
    } else if (!(categories & c->plan_categories)) {
        row->reason = HK_REASON_CATEGORY;
    } else if (fabs(log(row->thickness)) > log1p(THICKNESS_KEPT)) {
        row->reason = HK_REASON_THICKNESS;
    } else if (kept(row->stitch_size)) {
        row->verdict = HK_VERDICT_FITS;
        row->reason = HK_REASON_GAUGE;
    } else if (kept(loop_ratio(&c->groups[c->main], in->diameter_mm2, row->keeping_tool_mm))) {
        row->verdict = HK_VERDICT_OTHER_TOOL;
        row->reason = HK_REASON_TOOL;
    } else {
        row->reason = HK_REASON_NO_TOOL;
    }
}

/* ---- One row ----------------------------------------------------------------------------------------------------- */

static void add_up(struct comparing *c, struct hk_compare_row *row)
{
    for (size_t i = 0; i < row->yarn_count; i++) {
        const struct hk_compare_yarn *yarn = &row->yarns[i];
        row->mass_g += yarn->mass_g.likely;
        row->balls += yarn->balls;
        row->left_over_m += yarn->left_over_m;
        if (yarn->cost_minor < 0 || row->cost_minor < 0)
            row->cost_minor = NO_PRICE;
        else if (yarn->cost_minor > HK_MONEY_MOST - row->cost_minor)
            c->too_dear = true;
        else
            row->cost_minor += yarn->cost_minor;
    }
    row->piece_g = row->mass_g + c->other_g;
    for (size_t k = 0; k < c->group_count; k++)
        row->piece_g += c->scale[k] * c->groups[k].other_g;
}

static bool fill_row(struct comparing *c, const struct hk_listed *a, const struct hk_listed *b, struct hk_compare_row *row)
{
    struct stand_in in = stand_in_of(c, a, b);
    size_t few[64], *known = c->group_count <= sizeof few / sizeof few[0]
                                 ? few
                                 : hk_arena_take(&c->scratch, c->group_count, sizeof *known);
    if (!known)
        return false;
    scale_groups(c, &in, known);
    double worked_m = worked_length_m(c), length_m = worked_m + c->plain_m, longest_m = 0;
    for (size_t k = 0; k < c->group_count; k++)
        longest_m = fmax(longest_m, c->scale[k] * c->groups[k].longest_m);
    double variance = fill_gradient(c, known, length_m) + own_variance(c, worked_m, length_m);
    *row = (struct hk_compare_row){.yarn_count = in.count, .spread = sqrt(fmax(variance + quadratic(c), 0))};
    row->length_m = range_of(c, length_m, row->spread);
    for (size_t i = 0; i < in.count; i++)
        fill_yarn(c, &in, i, length_m, longest_m, variance, &row->yarns[i]);
    add_up(c, row);
    fill_tool(c, &in, row);
    unsigned categories = categories_of(c, sqrt(in.diameter_mm2), b ? "" : a->category);
    row->categories = set_text(c, categories);
    fill_moisture(c, row);
    judge(c, &in, categories, row);
    return !c->scratch.lost && !c->compared->arena.lost;
}

static bool add_row(struct comparing *c, const struct hk_listed *a, const struct hk_listed *b)
{
    struct hk_compare_row *rows =
        hk_arena_grow(&c->compared->arena, c->rows, c->row_count, &c->row_capacity, sizeof *rows);
    if (!rows)
        return false;
    c->rows = rows;
    if (!fill_row(c, a, b, &rows[c->row_count]))
        return false;
    rows[c->row_count].listed = c->row_count;
    c->row_count++;
    return true;
}

/* ---- Pairs held together ----------------------------------------------------------------------------------------- */

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

/* The first of those from `from` on that weighs at least so much a metre. */
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

/* For the yarn at `i` the partners no finer than it whose grist comes nearest to what is wanting, itself among them. */
static bool add_partners(struct comparing *c, const struct by_grist *sorted, size_t i, size_t count, double plan_g_m)
{
    double wanting = plan_g_m - sorted[i].g_m;
    size_t above = first_from(sorted, i, count, wanting), below = above;
    for (size_t partners = 0; partners < PARTNERS_MOST; partners++) {
        double up = above < count ? sorted[above].g_m - wanting : INFINITY;
        double down = below > i ? wanting - sorted[below - 1].g_m : INFINITY;
        if (fmin(fabs(up), fabs(down)) > PAIR_APART * plan_g_m)
            return true;
        size_t partner = up <= down ? above++ : --below;
        if (!add_row(c, sorted[i].yarn, sorted[partner].yarn))
            return false;
    }
    return true;
}

static bool add_pairs(struct comparing *c, const struct hk_listed *yarns, size_t count, double plan_g_m)
{
    struct by_grist *sorted = hk_arena_take(&c->scratch, count, sizeof *sorted);
    if (!sorted)
        return false;
    for (size_t i = 0; i < count; i++)
        sorted[i] = (struct by_grist){label_g_m(&yarns[i]), &yarns[i]};
    qsort(sorted, count, sizeof *sorted, grist_order);
    for (size_t i = 0; i < count; i++) {
        if (!add_partners(c, sorted, i, count, plan_g_m))
            return false;
    }
    return true;
}

/* ---- Order ------------------------------------------------------------------------------------------------------- */

static int whole_order(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

static int real_order(double a, double b)
{
    return (a > b) - (a < b);
}

static int fits_order(const struct hk_compare_row *a, const struct hk_compare_row *b)
{
    return (a->verdict == HK_VERDICT_DIFFERS) - (b->verdict == HK_VERDICT_DIFFERS);
}

static int cost_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : (a->cost_minor < 0) - (b->cost_minor < 0);
    order = order ? order : whole_order(a->cost_minor, b->cost_minor);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static int length_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : real_order(a->length_m.likely, b->length_m.likely);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static int mass_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : real_order(a->mass_g, b->mass_g);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static int balls_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : whole_order(a->balls, b->balls);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static void sort_rows(struct comparing *c, enum hk_compare_order order)
{
    static int (*const orders[])(const void *, const void *) = {
        [HK_BY_COST] = cost_order, [HK_BY_LENGTH] = length_order, [HK_BY_MASS] = mass_order, [HK_BY_BALLS] = balls_order};
    if (c->row_count)
        qsort(c->rows, c->row_count, sizeof *c->rows, orders[order]);
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

struct hk_compare_options hk_compare_defaults(void)
{
    return (struct hk_compare_options){.role = NULL, .list = NULL, .order = HK_BY_COST, .held_together = false};
}

static size_t candidates_of(const struct hk_project *project, size_t role)
{
    size_t count = 0;
    for (size_t i = 0; i < project->candidate_count; i++)
        count += project->candidates[i].role == role;
    return count;
}

static const char *role_name(const void *context, size_t i)
{
    return ((const struct hk_project *)context)->roles[i].name;
}

/* SIZE_MAX with a finding. */
static size_t role_of(const struct hk_project *project, const struct hk_compare_options *options, struct hk_diags *diags)
{
    for (size_t i = 0; i < project->role_count; i++) {
        if (options->role ? hk_text_same(project->roles[i].name, options->role)
                          : options->list || candidates_of(project, i) > 1)
            return i;
    }
    if (!options->role)
        return 0;
    hk_diags_add(diags, HK_NAME_UNKNOWN, (struct hk_place){hk_cell_place(project->roles[0].cell, 0).file, 0, 0}, "there is no role \"%s\" in yarns.csv",
                 options->role);
    size_t nearest = hk_text_nearest(options->role, project->role_count, role_name, project);
    hk_diags_hint(diags, nearest != SIZE_MAX ? "did you mean \"%s\"?" : "the first is \"%s\"",
                  project->roles[nearest != SIZE_MAX ? nearest : 0].name);
    return SIZE_MAX;
}

static const struct hk_need_role *plan_of(const struct hk_need *need, size_t size, size_t role)
{
    for (size_t i = 0; i < need->role_count; i++) {
        if (need->roles[i].size == size && need->roles[i].role == role)
            return &need->roles[i];
    }
    return NULL;
}

/* The candidates of yarns.csv as a list, the plan first; of all roles if `all`, as partners for pairs. */
static struct hk_listed *own_yarns(struct comparing *c, bool all, size_t *count)
{
    const struct hk_project *project = c->project;
    struct hk_listed *yarns = hk_arena_take(&c->compared->arena, project->candidate_count, sizeof *yarns);
    *count = 0;
    for (size_t i = 0; yarns && i < project->candidate_count; i++) {
        if (all || project->candidates[i].role == c->role)
            yarns[(*count)++] = hk_listed_candidate(project, &project->candidates[i]);
    }
    return yarns;
}

static bool add_candidates(struct comparing *c, const struct hk_compare_options *options,
                           const struct hk_listed *plan)
{
    size_t own_count, count = options->list ? options->list->count : 0;
    const struct hk_listed *own = own_yarns(c, false, &own_count), *yarns = own;
    if (!own)
        return false;
    if (options->list)
        yarns = options->list->yarns;
    else
        count = own_count;
    c->rows = hk_arena_take(&c->compared->arena, count, sizeof *c->rows);
    c->row_capacity = c->rows ? count : 0;
    for (size_t i = options->list ? 0 : 1; i < count; i++) { /* the first of yarns.csv is the plan */
        if (!add_row(c, &yarns[i], NULL))
            return false;
    }
    if (!options->held_together)
        return true;
    if (!options->list)
        yarns = own_yarns(c, true, &count);
    return yarns && add_pairs(c, yarns, count, label_g_m(plan));
}

static void nothing_to_compare(const struct comparing *c, const struct hk_compare_options *options)
{
    const struct hk_role *role = &c->project->roles[c->role];
    if (options->held_together)
        hk_diags_add(c->diags, HK_ROWS_MISSING, hk_cell_place(role->cell, 0),
                     "no other yarn, and no two held together, may take the place of %s", role->name);
    else
        hk_diags_add(c->diags, HK_ROWS_MISSING, hk_cell_place(role->cell, 0), "no other yarn is listed for %s",
                     role->name);
    hk_diags_hint(c->diags, "add a row of that role below the planned yarn, or name a catalogue with --yarns FILE");
}

static bool compare_all(struct comparing *c, const struct hk_compare_options *options)
{
    struct hk_compare *face = &c->compared->face;
    struct hk_listed plan =
        hk_listed_candidate(c->project, &c->project->candidates[c->project->roles[c->role].plan]);
    if (!gather(c))
        return false;
    c->low = hk_normal_quantile(LOW_CHANCE);
    c->high = hk_normal_quantile(HIGH_CHANCE);
    c->enough = hk_normal_quantile(c->needed->face.chance);
    c->plan_mm = plan.diameter_mm;
    c->plan_categories = categories_of(c, plan.diameter_mm, plan.category);
    c->plan_low = c->plan_high = -1;
    hk_moisture_allowance(c->project->catalogue, plan.fibre, &c->plan_low, &c->plan_high);
    face->needles = c->groups[c->main].needles;
    if (!fill_row(c, &plan, NULL, &face->plan) || !add_candidates(c, options, &plan))
        return false;
    sort_rows(c, options->order);
    face->rows = c->rows;
    face->row_count = c->row_count;
    if (c->row_count == 0)
        nothing_to_compare(c, options);
    if (c->too_dear) {
        hk_diags_add(c->diags, HK_MONEY, hk_cell_place(c->project->roles[c->role].cell, 0),
                     "what %s costs is more than can be counted to the minor unit", c->project->roles[c->role].name);
        hk_diags_hint(c->diags, "check prices and put_up");
    }
    return true;
}

static bool role_used(struct comparing *c)
{
    c->plan = plan_of(&c->needed->face, c->size, c->role);
    if (c->plan && c->plan->loops > 0)
        return true;
    hk_diags_add(c->diags, HK_RANGE, hk_cell_place(c->project->roles[c->role].cell, 0), "nothing is worked in %s in size %s",
                 c->project->roles[c->role].name, c->project->sizes[c->size]);
    hk_diags_hint(c->diags, "ask for another size or another role");
    return false;
}

struct hk_compare *hk_compare_make(const struct hk_need *need, struct hk_compare_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors, role = role_of(project, &options, diags);
    struct compared *compared = role == SIZE_MAX ? NULL : calloc(1, sizeof *compared);
    if (!compared) {
        diags->lost |= role != SIZE_MAX;
        return NULL;
    }
    struct comparing c = {.compared = compared, .needed = needed, .project = project, .fit = needed->fit, .diags = diags,
                          .size = (needed->first_size + needed->last_size) / 2, .role = role};
    compared->face = (struct hk_compare){
        .project = need->project, .size = project->sizes[c.size], .role = project->roles[role].name,
        .currency = project->currency ? project->currency->code : "",
        .minor_digits = project->currency ? project->currency->minor_digits : DEFAULT_MINOR_DIGITS,
        .chance = need->chance, .margin = need->margin,
    };
    bool done = role_used(&c) && compare_all(&c, &options);
    diags->lost |= c.scratch.lost || compared->arena.lost;
    hk_arena_free(&c.scratch);
    if (done && !diags->lost && diags->errors == errors)
        return &compared->face;
    hk_compare_free(&compared->face);
    return NULL;
}

void hk_compare_free(struct hk_compare *compare)
{
    struct compared *compared = (struct compared *)compare;
    if (!compared)
        return;
    hk_arena_free(&compared->arena);
    free(compared);
}
