/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The block that a published pattern prints. Amounts are for other hands: a reader who meets the gauge still differs from the
 * designer, so ln length and ln mass have the spread sqrt(spread^2 + reader^2), and what is enough is their quantile at the
 * chance. Roles in one yarn and colour are bought together: with w_r their shares of the likely mass,
 *
 *     var ln M = sum_rs w_r w_s cov(ln M_r, ln M_s)       var ln T = var ln M - sum_r w_r (spread_mass_r^2 - spread_r^2)
 *
 * where the second difference is what the grist, which they share, adds.
 */
#include "need.h"

#include "balls.h"
#include "chance.h"
#include "diags.h"
#include "fabric.h"
#include "gauge.h"
#include "printed.h"
#include "terms.h"
#include "text.h"

#include <gsl/gsl_math.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define DEFAULT_ROUND 10.0
#define HALF_STITCH 0.5
#define MM_STEP_CM 0.1 /* finished sizes in cm are stated to the millimetre, in inches to a quarter */
#define QUARTER_INCH 0.25
#define PUT_UP_OUNCE_STEP 0.01
#define MM_PER_INCH 25.4

struct written {
    struct hk_materials face;
    struct hk_arena arena;
};

struct writing {
    struct written *written;
    struct hk_arena *arena; /* of written */
    const struct hk_needed *needed;
    const struct hk_project *project;
    const struct hk_tally *tally;
    struct hk_diags *diags;
    enum hk_terms terms;
    double round_to;
};

/* ---- Amounts ----------------------------------------------------------------------------------------------------- */

typedef double rounding(double value, double step);

struct unit_step {
    rounding *round;
    double metric, customary; /* steps */
    bool quarters;            /* the customary unit in quarters */
};

/* NULL when the arena is lost. */
static const char *with_unit(const char *graded, const char *unit, struct hk_arena *arena)
{
    return *unit ? hk_arena_print(arena, "%s %s", graded, unit) : graded;
}

static const char *system_print(struct writing *w, const double *values, enum hk_printed_kind kind,
                                enum hk_system system, struct unit_step step, double *rounded)
{
    size_t count = w->project->size_count;
    const char **texts = hk_arena_take(w->arena, count, sizeof *texts);
    double size = system == HK_METRIC ? step.metric : step.customary;
    for (size_t i = 0; texts && i < count; i++) {
        rounded[i] = isnan(values[i]) ? NAN : step.round(hk_printed_in(values[i], kind, system), size);
        texts[i] = hk_printed_number(rounded[i], step.quarters && system == HK_CUSTOMARY, w->arena);
    }
    return texts ? with_unit(hk_graded_write(texts, count, w->arena), hk_printed_unit(kind, system), w->arena) : NULL;
}

/* values: in metres, grams or pieces by size; NAN: does without. */
static struct hk_printed print_amount(struct writing *w, const double *values, enum hk_printed_kind kind,
                                      struct unit_step step)
{
    double *metric = hk_arena_take(w->arena, w->project->size_count, sizeof *metric);
    double *customary = hk_arena_take(w->arena, w->project->size_count, sizeof *customary);
    if (!metric || !customary)
        return (struct hk_printed){0};
    return (struct hk_printed){
        .metric = metric, .customary = customary,
        .metric_unit = hk_printed_unit(kind, HK_METRIC), .customary_unit = hk_printed_unit(kind, HK_CUSTOMARY),
        .metric_text = system_print(w, values, kind, HK_METRIC, step, metric),
        .customary_text = system_print(w, values, kind, HK_CUSTOMARY, step, customary),
    };
}

/* ---- Yarn -------------------------------------------------------------------------------------------------------- */

static const struct hk_candidate *plan_of(const struct writing *w, size_t role)
{
    return &w->project->candidates[w->project->roles[role].plan];
}

static bool role_used(const struct writing *w, size_t role)
{
    const struct hk_need *need = &w->needed->face;
    for (size_t i = 0; i < need->role_count; i++) {
        if (need->roles[i].role == role)
            return true;
    }
    return false;
}

static bool same_colour(const struct writing *w, size_t role, size_t other)
{
    const struct hk_candidate *a = plan_of(w, role), *b = plan_of(w, other);
    return a->yarn == b->yarn && hk_text_same(a->colour, b->colour);
}

/* What all roles of one yarn and colour take in one size. */
struct together {
    double length_m, mass_g;           /* likely */
    double variance, grist;            /* of ln mass; of it what the grist adds */
    double join_g;
};

static struct together take_together(const struct writing *w, size_t size, size_t role)
{
    const struct hk_need *need = &w->needed->face;
    struct together sum = {0};
    for (size_t r = 0; r < need->role_count; r++) {
        const struct hk_need_role *a = &need->roles[r];
        if (a->size != size || !same_colour(w, a->role, role))
            continue;
        sum.length_m += a->length_m.likely;
        sum.mass_g += a->mass_g.likely;
        sum.join_g = fmax(sum.join_g, a->join_g);
        sum.grist += a->mass_g.likely * (a->spread_mass * a->spread_mass - a->spread * a->spread);
        for (size_t s = 0; s < need->role_count; s++) {
            const struct hk_need_role *b = &need->roles[s];
            if (b->size == size && same_colour(w, b->role, role))
                sum.variance += a->mass_g.likely * b->mass_g.likely * need->covariance[r * need->role_count + s];
        }
    }
    if (sum.mass_g > 0) {
        sum.variance /= sum.mass_g * sum.mass_g;
        sum.grist /= sum.mass_g;
    }
    return sum;
}

/* The quantile for a reader, of a median and the maker's own variance of its logarithm. */
static double enough_for_readers(const struct writing *w, double likely, double variance)
{
    const struct hk_need *need = &w->needed->face;
    double reader = w->project->spreads.reader;
    if (need->margin >= 0)
        return likely * (1 + need->margin);
    return likely * exp(hk_normal_quantile(need->chance) * sqrt(fmax(variance, 0) + reader * reader));
}

static void ball_too_small(struct writing *w, size_t size, const struct hk_yarn *yarn)
{
    hk_diags_add(w->diags, HK_BALL_SMALL, hk_cell_place(yarn->cell, 0),
                 "no number of balls of %s is enough for a reader in size %s", yarn->name, w->project->sizes[size]);
    hk_diags_hint(w->diags, "a larger put_up would do");
}

/* "9 (10, 11)". */
static const char *balls_write(struct writing *w, const int64_t *balls)
{
    size_t count = w->project->size_count;
    const char **texts = hk_arena_take(w->arena, count, sizeof *texts);
    for (size_t i = 0; texts && i < count; i++)
        texts[i] = balls[i] ? hk_arena_print(w->arena, "%" PRId64, balls[i]) : "-";
    return texts ? hk_graded_write(texts, count, w->arena) : NULL;
}

/* "main", "main and trim". */
static const char *roles_write(struct writing *w, size_t role)
{
    const char *names = NULL;
    for (size_t i = role; i < w->project->role_count; i++) {
        if (role_used(w, i) && same_colour(w, i, role))
            names = names ? hk_arena_print(w->arena, "%s and %s", names, w->project->roles[i].name)
                          : w->project->roles[i].name;
    }
    return names ? names : "";
}

static void fill_colour(struct writing *w, size_t role, struct hk_materials_colour *colour)
{
    size_t count = w->project->size_count;
    const struct hk_yarn *yarn = &w->project->yarns[plan_of(w, role)->yarn];
    double *length_m = hk_arena_take(w->arena, count, sizeof *length_m);
    double *mass_g = hk_arena_take(w->arena, count, sizeof *mass_g);
    int64_t *balls = hk_arena_take(w->arena, count, sizeof *balls);
    for (size_t i = 0; length_m && mass_g && balls && i < count; i++) {
        struct together sum = take_together(w, i, role);
        length_m[i] = mass_g[i] = NAN;
        if (!(sum.length_m > 0))
            continue;
        length_m[i] = enough_for_readers(w, sum.length_m, sum.variance - sum.grist);
        mass_g[i] = enough_for_readers(w, sum.mass_g, sum.variance);
        if (!hk_balls_needed(mass_g[i], yarn->put_up_g, sum.join_g, &balls[i]))
            ball_too_small(w, i, yarn);
    }
    if (w->arena->lost)
        return;
    struct unit_step step = {hk_round_up, w->round_to, w->round_to, false};
    struct unit_step ounces = {hk_round_up, w->round_to, HALF_STITCH, false};
    *colour = (struct hk_materials_colour){
        .colour = plan_of(w, role)->colour, .roles = roles_write(w, role),
        .length = print_amount(w, length_m, HK_PRINT_YARN_LENGTH, step),
        .mass = print_amount(w, mass_g, HK_PRINT_YARN_MASS, ounces),
        .balls = balls, .balls_text = balls_write(w, balls),
    };
}

/* The stated category by its full name, else all that the yarn's thickness fits. */
static const char *categories_write(struct writing *w, const struct hk_candidate *plan, const struct hk_yarn *yarn)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    const char *all = "";
    for (size_t i = 0; i < catalogue->category_count; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (hk_text_same(plan->category, category->name) || hk_text_same(plan->category, category->label))
            return hk_arena_print(w->arena, "%s %s", category->name, category->label);
        if (all && hk_category_holds(catalogue, category, MM_PER_INCH / yarn->diameter_mm))
            all = hk_arena_print(w->arena, "%s%s%s %s", all, *all ? " or " : "", category->name, category->label);
    }
    return *plan->category ? plan->category : all;
}

/* Labels are stated, so they are shown as exactly as patterns do: "50 g / 1.76 oz, 120 m / 131 yd". */
static const char *put_up_write(struct writing *w, const struct hk_yarn *yarn)
{
    const char *g = hk_printed_number(yarn->put_up_g, false, w->arena);
    const char *m = hk_printed_number(yarn->length_m, false, w->arena);
    const char *oz = hk_printed_number(
        hk_round_near(hk_printed_in(yarn->put_up_g, HK_PRINT_YARN_MASS, HK_CUSTOMARY), PUT_UP_OUNCE_STEP), false, w->arena);
    const char *yd = hk_printed_number(
        hk_round_near(hk_printed_in(yarn->length_m, HK_PRINT_YARN_LENGTH, HK_CUSTOMARY), 1), false, w->arena);
    return g && m && oz && yd ? hk_arena_print(w->arena, "%s g / %s oz, %s m / %s yd", g, oz, m, yd) : NULL;
}

/* Whether an earlier role has this yarn, or this yarn in this colour. */
static bool seen_before(const struct writing *w, size_t role, bool colour)
{
    for (size_t i = 0; i < role; i++) {
        bool same = colour ? same_colour(w, i, role) : plan_of(w, i)->yarn == plan_of(w, role)->yarn;
        if (same && role_used(w, i))
            return true;
    }
    return false;
}

static void fill_yarn(struct writing *w, size_t role, struct hk_materials_yarn *yarn)
{
    const struct hk_candidate *plan = plan_of(w, role);
    const struct hk_yarn *of = &w->project->yarns[plan->yarn];
    struct hk_materials_colour *colours = hk_arena_take(w->arena, w->project->role_count, sizeof *colours);
    *yarn = (struct hk_materials_yarn){
        .yarn = of->name, .fibre = plan->fibre, .categories = categories_write(w, plan, of),
        .put_up_g = of->put_up_g, .put_up_m = of->length_m, .put_up_text = put_up_write(w, of), .colours = colours,
    };
    for (size_t i = role; colours && i < w->project->role_count; i++) {
        if (plan_of(w, i)->yarn == plan->yarn && role_used(w, i) && !seen_before(w, i, true))
            fill_colour(w, i, &colours[yarn->colour_count++]);
    }
}

static void write_yarns(struct writing *w)
{
    struct hk_materials_yarn *yarns = hk_arena_take(w->arena, w->project->role_count, sizeof *yarns);
    size_t count = 0;
    for (size_t i = 0; yarns && i < w->project->role_count; i++) {
        if (role_used(w, i) && !seen_before(w, i, false))
            fill_yarn(w, i, &yarns[count++]);
    }
    w->written->face.yarns = yarns;
    w->written->face.yarn_count = count;
}

/* ---- Lines of the design ----------------------------------------------------------------------------------------- */

static const struct hk_worked *worked_at(const struct writing *w, size_t size, size_t line)
{
    return &w->tally->lines[size * w->project->line_count + line];
}

static bool line_used(const struct writing *w, size_t line)
{
    for (size_t size = 0; size < w->project->size_count; size++) {
        if (worked_at(w, size, line)->times > 0)
            return true;
    }
    return false;
}

/* Own fabrics are named in the project's terms, shipped ones in US terms. */
static const char *fabric_write(struct writing *w, const struct hk_fabric *fabric)
{
    const struct hk_project *project = w->project;
    enum hk_terms from = HK_US;
    for (size_t i = 0; i < project->fabric_count; i++) {
        if (fabric == &project->fabrics[i])
            from = project->terms;
    }
    const char *name = hk_terms_change(project->catalogue, fabric->name, from, w->terms, w->arena);
    return name ? name : "";
}

/* ---- Tools ------------------------------------------------------------------------------------------------------- */

static const char *tool_label(const struct writing *w, double tool_mm, bool needle)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        const struct hk_tool *tool = &catalogue->tools[i];
        if (tool->tool_mm == tool_mm && (tool->kind == HK_NEEDLE) == needle)
            return tool->label;
    }
    return "";
}

/* "US H-8 (5 mm) hook", "5 mm (US H-8) hook", "5 mm hook". */
static const char *tool_write(struct writing *w, double tool_mm, const char *label, bool needle)
{
    const char *what = needle ? "needles" : "hook", *mm = hk_printed_number(tool_mm, false, w->arena);
    const char *us = hk_text_starts(label, "US ") ? "" : "US ";
    if (!mm || !*label)
        return hk_arena_print(w->arena, "%s mm %s", mm ? mm : "", what);
    return w->terms == HK_US ? hk_arena_print(w->arena, "%s%s (%s mm) %s", us, label, mm, what)
                             : hk_arena_print(w->arena, "%s mm (%s%s) %s", mm, us, label, what);
}

static int tool_order(const void *a, const void *b)
{
    const struct hk_materials_tool *x = a, *y = b;
    if (x->needle != y->needle)
        return x->needle ? 1 : -1;
    return (x->tool_mm < y->tool_mm) - (x->tool_mm > y->tool_mm);
}

static bool tool_known(const struct hk_materials_tool *tools, size_t count, double tool_mm, bool needle)
{
    for (size_t i = 0; i < count; i++) {
        if (tools[i].tool_mm == tool_mm && tools[i].needle == needle)
            return true;
    }
    return false;
}

/* Sewn seams and fringes are of lines too, but take no hook: all that they use are cut lengths. */
static bool takes_tool(const struct writing *w, size_t line)
{
    for (size_t size = 0; size < w->project->size_count; size++) {
        const struct hk_worked *worked = worked_at(w, size, line);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            if (worked->uses[u].kinds.count > 0)
                return true;
        }
    }
    return false;
}

static void write_tools(struct writing *w)
{
    struct hk_materials_tool *tools = hk_arena_take(w->arena, w->project->line_count, sizeof *tools);
    size_t count = 0;
    for (size_t i = 0; tools && i < w->project->line_count; i++) {
        const struct hk_line *line = &w->project->lines[i];
        bool needle = line->fabric->knit;
        if (!takes_tool(w, i) || tool_known(tools, count, line->tool_mm, needle))
            continue;
        const char *label = tool_label(w, line->tool_mm, needle);
        tools[count++] = (struct hk_materials_tool){
            .tool_mm = line->tool_mm, .label = label, .needle = needle, .text = tool_write(w, line->tool_mm, label, needle)};
    }
    if (tools)
        qsort(tools, count, sizeof *tools, tool_order);
    w->written->face.tools = tools;
    w->written->face.tool_count = count;
}

/* ---- Notions ----------------------------------------------------------------------------------------------------- */

static bool in_rounds(const struct hk_line *line)
{
    return line->start == HK_START_RING || strstr(line->fabric->name, "spiral") || strstr(line->fabric->name, "round");
}

/* What a piece takes besides yarn; what only kits or patterns cost is nothing that a reader needs. */
static bool is_notion(const struct hk_cost *cost)
{
    return cost->kind == HK_COST_MATERIAL && !cost->percent && (cost->per == HK_PER_EACH || cost->per == HK_PER_PIECE);
}

/* "7 (7, 8) buttons", "label" where no number is stated; NULL where no size takes any. */
static const char *notion_write(struct writing *w, const struct hk_cost *cost)
{
    size_t count = w->project->size_count;
    const char **texts = hk_arena_take(w->arena, count, sizeof *texts);
    bool any = false;
    if (!cost->quantity)
        return cost->item;
    for (size_t i = 0; texts && i < count; i++) {
        double quantity = (double)cost->quantity[i] / HK_THOUSAND;
        any |= quantity > 0;
        texts[i] = hk_printed_number(quantity > 0 ? quantity : NAN, false, w->arena);
    }
    return any ? hk_arena_print(w->arena, "%s %s", hk_graded_write(texts, count, w->arena), cost->item) : NULL;
}

/* What the work itself calls for, then what costs.csv says a piece takes. */
static void write_notions(struct writing *w)
{
    const char **notions = hk_arena_take(w->arena, 2 + w->project->cost_count, sizeof *notions);
    bool rounds = false, any = false;
    for (size_t i = 0; i < w->project->line_count; i++) {
        any |= line_used(w, i);
        rounds |= line_used(w, i) && in_rounds(&w->project->lines[i]);
    }
    size_t count = 0;
    if (notions && any)
        notions[count++] = "yarn needle for weaving in ends";
    if (notions && rounds)
        notions[count++] = "stitch marker for the start of the round";
    for (size_t i = 0; notions && i < w->project->cost_count; i++) {
        const struct hk_cost *cost = &w->project->costs[i];
        const char *notion = is_notion(cost) ? notion_write(w, cost) : NULL;
        if (notion)
            notions[count++] = notion;
    }
    w->written->face.notions = notions;
    w->written->face.notion_count = count;
}

/* ---- Gauge ------------------------------------------------------------------------------------------------------- */

/* "15 sts and 11.5 rows = 10 cm / 4 in in half double crochet, US H-8 (5 mm) hook, washed and dried flat". */
static const char *gauge_write(struct writing *w, const struct hk_materials_gauge *gauge, bool needle)
{
    const char *stitches = hk_printed_number(gauge->stitches, false, w->arena);
    const char *rows = gauge->rows > 0 ? hk_printed_number(gauge->rows, false, w->arena) : NULL;
    const char *tool = tool_write(w, gauge->tool_mm, tool_label(w, gauge->tool_mm, needle), needle);
    return hk_arena_print(w->arena, "%s sts%s%s%s = 10 cm / 4 in in %s, %s%s%s", stitches ? stitches : "",
                          rows ? " and " : "", rows ? rows : "", rows ? " rows" : "", gauge->fabric, tool ? tool : "",
                          *gauge->care ? ", " : "", gauge->care);
}

static bool gauge_known(const struct hk_materials_gauge *gauges, size_t count, const char *swatch)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(gauges[i].swatch, swatch) == 0)
            return true;
    }
    return false;
}

static void write_gauges(struct writing *w)
{
    struct hk_materials_gauge *gauges = hk_arena_take(w->arena, w->project->line_count, sizeof *gauges);
    size_t count = 0;
    for (size_t i = 0; gauges && i < w->project->line_count; i++) {
        const struct hk_line *line = &w->project->lines[i];
        const struct hk_swatch *swatch = hk_gauge_swatch(w->project, line->fabric, line->tool_mm, false);
        if (!swatch || !line_used(w, i) || gauge_known(gauges, count, swatch->name))
            continue;
        struct hk_materials_gauge *gauge = &gauges[count++];
        *gauge = (struct hk_materials_gauge){
            .fabric = fabric_write(w, swatch->fabric), .care = swatch->care, .swatch = swatch->name,
            .tool_mm = swatch->tool_mm, .stitches = hk_round_near(swatch->gauge_stitches, HALF_STITCH),
            .rows = hk_round_near(swatch->gauge_rows, HALF_STITCH),
        };
        gauge->text = gauge_write(w, gauge, swatch->fabric->knit);
    }
    w->written->face.gauges = gauges;
    w->written->face.gauge_count = count;
}

/* ---- Finished size ----------------------------------------------------------------------------------------------- */

struct measures {
    struct hk_materials_size *list;
    size_t count, capacity;
};

static void measure_add(struct writing *w, struct measures *measures, const char *name, const double *values,
                        enum hk_printed_kind kind)
{
    struct hk_materials_size *list =
        hk_arena_grow(w->arena, measures->list, measures->count, &measures->capacity, sizeof *list);
    struct unit_step cm = {hk_round_near, MM_STEP_CM, QUARTER_INCH, true}, plain = {hk_round_near, 1, 1, false};
    if (!list)
        return;
    measures->list = list;
    list[measures->count++] = (struct hk_materials_size){
        .name = name, .amount = print_amount(w, values, kind, kind == HK_PRINT_SIZE ? cm : plain)};
}

/* The rows of the grading sheet that are marked for print. */
static void measures_stated(struct writing *w, struct measures *measures)
{
    double *values = hk_arena_take(w->arena, w->project->size_count, sizeof *values);
    for (size_t i = 0; values && i < w->project->grade.count; i++) {
        const struct hk_measure *measure = &w->project->grade.measures[i];
        bool length = false;
        for (size_t size = 0; size < w->project->size_count; size++) {
            const struct hk_amount *amount = &measure->by_size[size];
            length |= amount->kind == HK_AMOUNT_LENGTH;
            values[size] = amount->kind == HK_AMOUNT_NONE    ? NAN
                           : amount->kind == HK_AMOUNT_COUNT ? (double)amount->count
                                                             : amount->length_m;
        }
        if (measure->print)
            measure_add(w, measures, measure->name, values, length ? HK_PRINT_SIZE : HK_PRINT_COUNT);
    }
}

static int64_t widest(const struct hk_worked *worked)
{
    int64_t most = 0;
    for (size_t i = 0; i < worked->run_count; i++) {
        const struct hk_row_run *run = &worked->runs[i];
        int64_t last = run->stitches + (run->last - run->first) * run->step;
        most = run->stitches > most ? run->stitches : most;
        most = last > most ? last : most;
    }
    return most;
}

/* Metres by the gauge of the line's fabric; NAN where no swatch says it or the size does without. */
static double finished_m(const struct writing *w, size_t size, size_t line, bool rows)
{
    const struct hk_line *of = &w->project->lines[line];
    const struct hk_worked *worked = worked_at(w, size, line);
    const struct hk_swatch *swatch = hk_gauge_swatch(w->project, of->fabric, of->tool_mm, rows);
    if (!swatch || worked->times == 0 || worked->run_count == 0)
        return NAN;
    double count = (double)(rows ? worked->runs[worked->run_count - 1].last : widest(worked));
    return 0.1 * count / (rows ? swatch->gauge_rows : swatch->gauge_stitches);
}

static bool same_piece(const struct writing *w, size_t a, size_t b)
{
    return strcmp(w->project->lines[a].piece, w->project->lines[b].piece) == 0;
}

/* The widest of the lines of a piece, or all its rows; of the line `first` and those that continue on it. */
static double piece_m(const struct writing *w, size_t size, size_t first, bool rows)
{
    double sum = finished_m(w, size, first, rows);
    for (size_t line = first + 1; line < w->project->line_count; line++) {
        const struct hk_line *of = &w->project->lines[line];
        if (!same_piece(w, line, first))
            continue;
        if (of->start != HK_START_CONTINUE)
            break;
        if (worked_at(w, size, line)->times == 0)
            continue;
        double more = finished_m(w, size, line, rows);
        sum = rows ? sum + more : (isnan(more) ? NAN : fmax(sum, more));
    }
    return sum;
}

/* Whether the piece begins with a chain more than once, so that its parts need their names. */
static bool in_parts(const struct writing *w, size_t line)
{
    size_t chains = 0;
    for (size_t i = 0; i < w->project->line_count; i++)
        chains += w->project->lines[i].start == HK_START_CHAIN && same_piece(w, i, line);
    return chains > 1 && *w->project->lines[line].part;
}

static void measure_piece(struct writing *w, struct measures *measures, size_t line, bool rows)
{
    const struct hk_line *of = &w->project->lines[line];
    double *values = hk_arena_take(w->arena, w->project->size_count, sizeof *values);
    bool any = false;
    for (size_t size = 0; values && size < w->project->size_count; size++) {
        values[size] = piece_m(w, size, line, rows);
        any |= !isnan(values[size]);
    }
    const char *what = rows ? "length" : in_rounds(of) ? "round" : "width";
    bool parts = in_parts(w, line);
    if (any)
        measure_add(w, measures,
                    hk_arena_print(w->arena, "%s%s%s, %s", of->piece, parts ? " " : "", parts ? of->part : "", what),
                    values, HK_PRINT_SIZE);
}

/* What begins with a chain is a piece; edgings and seams have no size of their own, motifs no width. */
static void measures_reckoned(struct writing *w, struct measures *measures)
{
    for (size_t i = 0; i < w->project->line_count; i++) {
        const struct hk_line *line = &w->project->lines[i];
        if (line->start != HK_START_CHAIN || !line_used(w, i))
            continue;
        measure_piece(w, measures, i, false);
        measure_piece(w, measures, i, true);
    }
}

static void write_measures(struct writing *w)
{
    struct measures measures = {0};
    measures_stated(w, &measures);
    if (measures.count == 0)
        measures_reckoned(w, &measures);
    w->written->face.measures = measures.list;
    w->written->face.measure_count = measures.count;
}

/* ---- Abbreviations ----------------------------------------------------------------------------------------------- */

static void mark_kinds(const struct writing *w, size_t line, bool *used)
{
    for (size_t size = 0; size < w->project->size_count; size++) {
        const struct hk_worked *worked = worked_at(w, size, line);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            const struct hk_kinds *kinds = &worked->uses[u].kinds;
            for (size_t k = 0; k < kinds->count; k++)
                used[kinds->kinds[k].stitch] |= kinds->kinds[k].count > 0;
        }
    }
}

static void mark_row(const struct hk_sum *sum, bool *used)
{
    for (size_t i = 0; i < sum->stitch_count; i++)
        used[sum->stitches[i].stitch] = true;
}

/* Those that were worked, and what the rows of their fabrics say besides (skipped stitches are not worked). */
static void mark_words(const struct writing *w, bool *used)
{
    for (size_t line = 0; line < w->project->line_count; line++) {
        const struct hk_fabric *fabric = w->project->lines[line].fabric;
        if (!line_used(w, line))
            continue;
        mark_kinds(w, line, used);
        for (size_t r = 0; fabric->rows && r < fabric->setup_count + fabric->cycle_count; r++) {
            mark_row(&fabric->rows[r].once, used);
            mark_row(&fabric->rows[r].each, used);
        }
    }
}

static void write_words(struct writing *w)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    bool *used = hk_arena_take(w->arena, catalogue->stitch_count, sizeof *used);
    struct hk_materials_word *words = hk_arena_take(w->arena, catalogue->stitch_count + 1, sizeof *words);
    size_t count = 0;
    if (!used || !words)
        return;
    mark_words(w, used);
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &catalogue->stitches[i];
        const char *word = w->terms == HK_US ? stitch->us : stitch->uk;
        if (used[i] && word)
            words[count++] = (struct hk_materials_word){
                word, hk_terms_change(catalogue, stitch->name, HK_US, w->terms, w->arena)};
    }
    words[count++] = (struct hk_materials_word){"st(s)", "stitch(es)"};
    w->written->face.words = words;
    w->written->face.word_count = count;
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

struct hk_materials_options hk_materials_defaults(void)
{
    return (struct hk_materials_options){.round_to = DEFAULT_ROUND, .terms = HK_TERMS_PROJECT};
}

static bool options_fit(const struct hk_needed *needed, struct hk_materials_options options, struct hk_diags *diags)
{
    size_t sizes = needed->fit->tally->project->size_count;
    if (needed->first_size != 0 || needed->last_size + 1 != sizes) {
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"size", 0, 0}, "a pattern states all sizes");
        hk_diags_hint(diags, "ask for the need of all sizes");
        return false;
    }
    if (options.round_to > 0 && options.round_to <= HK_QUANTITY_MOST)
        return true;
    hk_diags_add(diags, HK_RANGE, (struct hk_place){"round", 0, 0}, "amounts cannot be rounded up to multiples of %g",
                 options.round_to);
    hk_diags_hint(diags, "5 or 10 would do");
    return false;
}

static enum hk_terms terms_of(const struct hk_project *project, enum hk_terms_wanted wanted)
{
    switch (wanted) {
    case HK_TERMS_PROJECT:
        return project->terms;
    case HK_TERMS_US:
        return HK_US;
    case HK_TERMS_UK:
        return HK_UK;
    }
    return project->terms;
}

static void write_all(struct writing *w)
{
    struct hk_materials *face = &w->written->face;
    face->sizes_text = hk_graded_write(face->sizes, face->size_count, w->arena);
    write_yarns(w);
    write_tools(w);
    write_notions(w);
    write_gauges(w);
    write_measures(w);
    write_words(w);
}

struct hk_materials *hk_materials_make(const struct hk_need *need, struct hk_materials_options options,
                                       struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!options_fit(needed, options, diags))
        return NULL;
    struct written *written = calloc(1, sizeof *written);
    if (!written) {
        diags->lost = true;
        return NULL;
    }
    struct writing w = {.written = written, .arena = &written->arena, .needed = needed, .project = project,
                        .tally = needed->fit->tally, .diags = diags, .terms = terms_of(project, options.terms),
                        .round_to = options.round_to};
    written->face = (struct hk_materials){
        .project = need->project, .sizes = project->sizes, .size_count = project->size_count, .uk = w.terms == HK_UK,
        .chance = need->chance, .margin = need->margin, .reader = project->spreads.reader, .round_to = options.round_to,
    };
    write_all(&w);
    diags->lost |= written->arena.lost;
    if (!diags->lost && diags->errors == errors)
        return &written->face;
    hk_materials_free(&written->face);
    return NULL;
}

void hk_materials_free(struct hk_materials *materials)
{
    struct written *written = (struct written *)materials;
    if (!written)
        return;
    hk_arena_free(&written->arena);
    free(written);
}
