/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rest of a making. With R the label's grams of one role in the rows to come, B of this making a parameter of the
 * fit, and u the grams weighed of it on the maker's scale, which shows exp(H) of the label's:
 *
 *     to come, on her scale                 R exp(H)
 *     in hand, by the label                 left exp(-H), or start - u exp(-H)
 *     ln(R / in hand)                       normal; its gradient is that of ln R, with 1 or -u exp(-H) / in hand for H
 *
 * The variance is that of the fit, and that of a c for each copy to come. A row of a copy that is begun has the c of
 * its first rows, which their weighing shows; it is taken as another one, so that the range is up to 2% wider than it
 * need be.
 */
#include "left/left.h"

#include "base/diags.h"
#include "model/chance.h"
#include "model/outlier.h"
#include "need/ball_ends.h"
#include "need/by_stitch.h"
#include "tally/progress.h"
#include "tally/rest.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

/* The spread of a row's length: from experience, as in need/walk.c. */
#define ROW_SPREAD 0.02

struct leaving {
    struct hk_remaining face;
    struct hk_arena arena;
};

struct rest_of {
    struct leaving *left;
    const struct hk_needed *needed;
    const struct hk_fit *fit;
    const struct hk_project *project;
    size_t size;
    struct hk_priors priors;
    struct hk_level level;
    const struct hk_parameter *making; /* B; NULL: nothing of this making is weighed */
    struct hk_rest rest;
    struct hk_arena scratch;
};

/* An amount of one role: label grams, the gradient of their ln, and the variance of pieces and of a new making. */
struct grams {
    double likely_g, variance;
    double *gradient;
};

static size_t yarn_of(const struct rest_of *r, size_t role)
{
    return r->project->candidates[r->project->roles[role].plan].yarn;
}

/* Predicts the grams of a role in some work. Returns false when out of memory. */
static bool predict(struct rest_of *r, size_t role, const struct hk_worked *worked, size_t count, struct grams *grams)
{
    const struct hk_of_role of = {r->project, role};
    const struct hk_asked asked = {r->fit, worked, count, hk_of_role_use, &of, r->making};
    struct hk_predicted predicted = {.lines = hk_arena_take(&r->scratch, count, sizeof *predicted.lines),
                                     .gradient = hk_arena_take(&r->scratch, r->fit->count, sizeof *predicted.gradient)};
    if (r->scratch.out_of_memory)
        return false;
    hk_predict(&asked, &r->priors, &predicted);
    grams->gradient = predicted.gradient;
    grams->variance = predicted.garment_variance;
    grams->likely_g = predicted.total * hk_fit_grist_g_m(r->fit, yarn_of(r, role));
    size_t grist = r->fit->folders[0].grists[yarn_of(r, role)];
    if (grist != SIZE_MAX)
        grams->gradient[grist] += 1;
    return true;
}

/* The spread of ln grams when the gradient has `more` added for H of the role's yarn. */
static double spread_with(const struct rest_of *r, size_t role, const struct grams *grams, double more)
{
    size_t ball = r->fit->folders[0].balls[yarn_of(r, role)];
    double prior = r->project->yarns[yarn_of(r, role)].ln_weighs_sd;
    if (ball != SIZE_MAX)
        grams->gradient[ball] += more;
    double variance = hk_fit_variance(r->fit, grams->gradient) + grams->variance;
    if (ball != SIZE_MAX)
        grams->gradient[ball] -= more;
    else
        variance += gsl_pow_2(more * prior);
    return grams->likely_g > 0 ? sqrt(variance) : 0;
}

/* ---- What was used -------------------------------------------------------------------------------------------------
 */

/* Adds the grams of the role in a weighing, by the label; *shared: it is a part of the weighing, by the fit. */
static double used_label_g(const struct rest_of *r, const struct hk_datum *datum, size_t role, bool *shared)
{
    const struct hk_project *project = r->project;
    double all_g = 0, role_g = 0;
    for (size_t w = 0; w < datum->worked_count; w++) {
        const struct hk_worked *worked = &datum->worked[w];
        for (size_t u = 0; u < worked->use_count; u++) {
            const struct hk_use *use = &worked->uses[u];
            const struct hk_combination *c = &project->combinations[use->combination];
            const struct hk_ground ground = {r->fit->tally, use->combination, worked->tool_mm, false};
            const double day = r->making ? exp(r->making->value) : 1;
            const double worked_m = day * hk_fit_length_m(r->fit, NULL, ground, use->kinds, 0, NULL);
            for (size_t s = 0; s < c->strand_count; s++) {
                const struct hk_strand *strand = &c->strands[s];
                if (!hk_of_yarn(datum->of, strand->role, strand->yarn))
                    continue;
                double mass_g = (double)(worked->times * strand->times) * hk_fit_grist_g_m(r->fit, strand->yarn) *
                                (worked_m + use->ends[s] * project->tail_m + use->cut_m);
                all_g += mass_g;
                role_g += strand->role == role ? mass_g : 0;
            }
        }
    }
    if (!(role_g > 0))
        return 0;
    *shared |= role_g < all_g;
    double read_g = hk_fit_read(r->fit, datum);
    if (!(datum->left_g > 0))
        read_g /= hk_fit_weighs(r->fit, 0, yarn_of(r, role));
    return role_g < all_g ? read_g * role_g / all_g : read_g;
}

static bool is_of_making(const struct rest_of *r, const struct hk_datum *datum)
{
    return datum->folder == 0 && datum->progress != SIZE_MAX && r->project->progress[datum->progress].size == r->size;
}

/* Sums the weighings of the making; what is left out of the fit was used all the same. */
static double sum_used(struct rest_of *r, size_t role, struct hk_remaining_role *of)
{
    double sum_g = 0;
    for (size_t i = 0; i < r->fit->evidence; i++)
        if (is_of_making(r, &r->fit->data[i]))
            sum_g += used_label_g(r, &r->fit->data[i], role, &of->shared);
    for (size_t i = 0; i < r->fit->odd_count; i++) {
        const double odd_g = is_of_making(r, &r->fit->odd[i]) ? used_label_g(r, &r->fit->odd[i], role, &of->shared) : 0;
        of->odd |= odd_g > 0;
        sum_g += odd_g;
    }
    return sum_g;
}

/* Returns the weighing of a row of progress.csv among the data; NULL: there is none. */
static const struct hk_datum *datum_of_row(const struct rest_of *r, const struct hk_datum *data, size_t count, size_t row)
{
    for (size_t i = 0; i < count; i++)
        if (is_of_making(r, &data[i]) && data[i].progress == row)
            return &data[i];
    return NULL;
}

static size_t count_of_making(const struct rest_of *r, const struct hk_datum *data, size_t count)
{
    size_t of_making = 0;
    for (size_t i = 0; i < count; i++)
        of_making += is_of_making(r, &data[i]);
    return of_making;
}

/* Returns true when the work of a row of progress.csv has the role. */
static bool works(const struct rest_of *r, size_t row, size_t role)
{
    const struct hk_progress_work *work = &r->fit->tally->progress[row];
    for (size_t w = 0; w < work->count; w++)
        for (size_t u = 0; u < work->worked[w].use_count; u++) {
            const struct hk_combination *c = &r->project->combinations[work->worked[w].uses[u].combination];
            for (size_t s = 0; s < c->strand_count; s++)
                if (c->strands[s].role == role)
                    return true;
        }
    return false;
}

/* Names the yarn that a row weighs, with the rows weighed with it: its role, its yarn, or "" for several. */
static const char *weighed_name(const struct rest_of *r, size_t row)
{
    const struct hk_project *project = r->project;
    const struct hk_of_yarn of = project->progress[row].of;
    size_t count = 0, only = 0;
    if (of.role == SIZE_MAX && of.yarn != SIZE_MAX)
        return project->yarns[of.yarn].name;
    for (size_t role = 0; role < project->role_count && of.role == SIZE_MAX; role++) {
        bool any = false;
        for (size_t i = 0; i < project->progress_count && !any; i++)
            any = hk_progress_weight_row(project, i) == row && works(r, i, role);
        count += any;
        only = any ? role : only;
    }
    if (of.role != SIZE_MAX || count == 1)
        return project->roles[of.role != SIZE_MAX ? of.role : only].name;
    return "";
}

/* Returns what a weighed row used, on the scale; where what is left was weighed, by the labels of what there was. */
static double done_g(const struct rest_of *r, size_t row, const struct hk_datum *datum)
{
    const struct hk_progress *progress = &r->project->progress[row];
    bool shared = false;
    if (datum && progress->left_g > 0 && progress->of.role != SIZE_MAX)
        return used_label_g(r, datum, progress->of.role, &shared) *
               hk_fit_weighs(r->fit, 0, yarn_of(r, progress->of.role));
    return progress->mass_g;
}

/* Returns true when the list has that work already: work that is typed may be in progress.csv, weighed. */
static bool is_listed(const struct hk_remaining_done *done, size_t count, const char *work)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(done[i].work, work) == 0)
            return true;
    return false;
}

static void list_done(struct rest_of *r)
{
    const struct hk_project *project = r->project;
    struct hk_remaining_done *done = hk_arena_take(&r->left->arena, project->progress_count, sizeof *done);
    size_t count = 0;
    for (size_t i = 0; done && i < project->progress_count; i++) {
        const struct hk_progress *row = &project->progress[i];
        bool weighed = r->fit->tally->progress[i].weighed;
        bool replaced = row->replaced || (row->mass_g > 0 && !weighed); /* a later row includes the same work */
        if (row->size != r->size || hk_progress_weight_row(project, i) != i || replaced ||
            (!weighed && is_listed(done, count, row->work)))
            continue;
        const struct hk_datum *datum = datum_of_row(r, r->fit->data, r->fit->evidence, i),
                              *odd = datum_of_row(r, r->fit->odd, r->fit->odd_count, i);
        done[count++] = (struct hk_remaining_done){.work = row->work,
                                                   .of = weighed ? weighed_name(r, i) : "",
                                                   .mass_g = weighed ? done_g(r, i, datum ? datum : odd) : 0,
                                                   .left_out = !datum && odd};
    }
    r->left->face.done = done;
    r->left->face.done_count = count;
}

/* ---- Rows to come --------------------------------------------------------------------------------------------------
 */

/* Keeps the rows of the rest, and scales them to its likely length. Returns false when they are not known. */
static bool list_rows(struct rest_of *r, size_t role, double likely_g, struct hk_walk *walk)
{
    double sum_m = 0, squares = 0;
    size_t count = 0;
    if (!hk_walk_list(r->needed, r->size, role, walk, &r->scratch))
        return false;
    for (size_t i = 0; i < walk->row_count; i++) {
        const struct hk_walk_place *at = &walk->places[i];
        if (!hk_rest_has(&r->rest, at->line, at->copy, at->row))
            continue;
        walk->rows_m[count] = walk->rows_m[i];
        walk->places[count] = *at;
        sum_m += walk->rows_m[count++];
    }
    walk->row_count = count;
    double scale = sum_m > 0 ? likely_g / walk->g_m / sum_m : 0;
    for (size_t i = 0; i < count; i++) {
        walk->rows_m[i] *= scale;
        squares += gsl_pow_2(walk->rows_m[i]);
    }
    walk->sum_m = scale * sum_m;
    walk->mean_row_m = walk->sum_m > 0 ? squares / walk->sum_m : 0;
    return scale > 0;
}

/* The variance of ln of the first rows together, of their copies' c and of the rows themselves. */
static double rows_variance(const struct rest_of *r, const struct hk_walk *walk, size_t rows)
{
    double sum = 0, squares = 0, copy = 0, copies = 0;
    for (size_t i = 0; i < rows && i < walk->row_count; i++) {
        bool same = i > 0 && walk->places[i].line == walk->places[i - 1].line &&
                    walk->places[i].copy == walk->places[i - 1].copy;
        copies += same ? 0 : gsl_pow_2(copy);
        copy = (same ? copy : 0) + walk->rows_m[i];
        sum += walk->rows_m[i];
        squares += gsl_pow_2(walk->rows_m[i]);
    }
    copies += gsl_pow_2(copy);
    return sum > 0 ? (copies * gsl_pow_2(r->priors.piece) + squares * gsl_pow_2(ROW_SPREAD)) / gsl_pow_2(sum) : 0;
}

static struct hk_ball_place place_of(const struct rest_of *r, const struct hk_walk *walk, size_t rows)
{
    if (rows == 0)
        return (struct hk_ball_place){.piece = "", .part = ""};
    const struct hk_walk_place *at = &walk->places[rows - 1];
    return (struct hk_ball_place){r->project->lines[at->line].piece, r->project->lines[at->line].part, at->copy,
                                  at->row, at->copies};
}

/* ---- A role --------------------------------------------------------------------------------------------------------
 */

/* A role while it is computed, in grams of the label. */
struct of_role {
    struct hk_remaining_role *role;
    const struct hk_need_role *need;
    struct grams rest;
    double weighs;       /* exp(H) */
    double in_hand_g;    /* by the label, past joins taken off */
    struct hk_have have; /* the same, in balls */
    double first_more;   /* the coefficient of H in -ln(the ball in use) */
    double used_g;       /* by the label */
    double spread;       /* of ln(rest / in hand) */
    struct hk_walk walk;
    bool rows_known;
};

/*
 * Sets what is missing of the yarn before the work, if that is typed or less than what was used: without what was used
 * and what is left. Below three standard deviations of the balls and two steps of the scale, it is none.
 */
static void find_missing(const struct rest_of *r, struct of_role *o, double start_g)
{
    struct hk_remaining_role *role = o->role;
    const double noise_g = 3 * r->project->yarns[yarn_of(r, role->role)].ln_weighs_sd * start_g + 2;
    double missing_g = start_g - o->used_g - (role->weighed ? o->in_hand_g : 0);
    bool typed = false;
    for (size_t i = 0; i < r->project->in_hand_count; i++)
        typed |= r->project->in_hand[i].role == role->role && !r->project->in_hand[i].left;
    if ((!typed || !role->weighed) && missing_g > 0)
        return; /* what is in hand */
    if (!(o->used_g > 0) || role->shared || (!typed && role->weighed) || fabs(missing_g) <= noise_g)
        return;
    role->missing_g = missing_g * o->weighs;
}

/* Returns the likely grams of work that is done and not weighed. Sets *taken: the rest with it. */
static bool find_unweighed(struct rest_of *r, const struct of_role *o, struct grams *taken, double *unweighed_g)
{
    struct hk_rest unweighed = {0};
    if (!hk_rest_make(r->fit->tally, r->size, o->role->role, &unweighed, &r->scratch) ||
        !predict(r, o->role->role, unweighed.worked, unweighed.count, taken))
        return false;
    *unweighed_g = fmax(taken->likely_g - o->rest.likely_g, 0);
    return true;
}

/* Sets what is in hand, and the coefficient of H in ln(rest / in hand). */
static bool find_in_hand(struct rest_of *r, struct of_role *o, double *more)
{
    const struct hk_project *project = r->project;
    struct hk_remaining_role *role = o->role;
    const double put_up_g = o->need->put_up_g;
    double start_g, weighed_g = 0, full_g = 0, unweighed_g;
    const bool started = hk_have_start_g(project, role->role, &start_g);
    struct grams taken;
    *more = 0;
    for (size_t i = 0; i < project->in_hand_count; i++) {
        const struct hk_in_hand *in_hand = &project->in_hand[i];
        if (in_hand->role != role->role || !in_hand->left)
            continue;
        *(in_hand->weighed ? &weighed_g : &full_g) += in_hand->mass_g / (in_hand->weighed ? o->weighs : 1);
        role->known = role->weighed = true;
    }
    o->in_hand_g = weighed_g + full_g;
    if (started && !find_unweighed(r, o, &taken, &unweighed_g))
        return false;
    if (started && !(unweighed_g > 1e-9 * taken.likely_g))
        find_missing(r, o, start_g);
    if (role->known) {
        *more = o->in_hand_g > 0 ? weighed_g / o->in_hand_g : 0;
    } else if (started) {
        const double begun = floor(o->used_g / put_up_g);
        role->known = true;
        role->unweighed_g = unweighed_g * o->weighs;
        o->rest = role->unweighed_g > 1e-9 * taken.likely_g ? taken : o->rest;
        o->in_hand_g = fmax(start_g - o->used_g - begun * o->need->join_g, 0);
        *more = o->in_hand_g > 0 ? -o->used_g / o->in_hand_g : 0;
    }
    o->have = hk_have_of(weighed_g > 0 && full_g > 0 ? full_g : o->in_hand_g, put_up_g);
    o->have.first_g += weighed_g > 0 && full_g > 0 ? weighed_g : 0; /* the ball in use was on the scale alone */
    if (o->have.first_g > 0)
        o->first_more = *more * (weighed_g > 0 && full_g > 0 ? o->in_hand_g - full_g : o->in_hand_g) / o->have.first_g;
    role->in_hand_g = o->in_hand_g * o->weighs;
    role->ball_weighs_g = put_up_g * o->weighs;
    role->by_label = (started && (!role->weighed || role->used_g > 0)) || full_g > 0;
    role->joins_g = fmax(o->in_hand_g - hk_have_usable_g(o->have, o->need->join_g), 0) * o->weighs;
    return true;
}

/*
 * Computes the spread of ln(the first rows / in hand): of the lines that they are of, since those behind may have other
 * stitches. `more`: the coefficient of H. Returns false when out of memory.
 */
static bool ends_spread(struct rest_of *r, const struct of_role *o, size_t rows, double more, double *spread)
{
    struct grams grams;
    size_t count = r->rest.count;
    const size_t last = rows < o->walk.row_count ? rows : o->walk.row_count - 1; /* the row in which the ball ends */
    for (size_t i = 0; i < r->rest.count; i++)
        if (r->rest.lines[i].line == o->walk.places[last].line && o->walk.places[last].copy >= r->rest.lines[i].first)
            count = i + 1;
    if (!predict(r, o->role->role, r->rest.worked, count, &grams))
        return false;
    grams.variance = (r->making ? 0 : gsl_pow_2(r->priors.making)) + rows_variance(r, &o->walk, last + 1);
    *spread = spread_with(r, o->role->role, &grams, more);
    return true;
}

static bool list_ends(struct rest_of *r, struct of_role *o)
{
    const struct hk_have have = o->have;
    struct hk_remaining_role *role = o->role;
    size_t balls = (size_t)fmin((double)have.balls + (have.first_g > 0 ? 1 : 0), (double)o->walk.row_count);
    role->ball_g = (have.first_g > 0 ? have.first_g : have.balls > 0 ? have.put_up_g : 0) * o->weighs;
    if (!o->rows_known || balls == 0 || role->unweighed_g > 1e-9 * role->mass_g.likely)
        return true;
    double first_m = have.first_g > 0 ? have.first_g / o->walk.g_m : have.put_up_g / o->walk.g_m;
    const struct hk_ball_lengths lengths = {first_m, have.put_up_g / o->walk.g_m, r->project->join_anywhere};
    struct hk_ball_end *ends = hk_arena_take(&r->left->arena, balls, sizeof *ends);
    size_t rows;
    double spread;
    if (!ends)
        return false;
    hk_ball_rows(&o->walk, lengths, 1, &rows, 1);
    if (!ends_spread(r, o, rows, o->first_more, &spread))
        return false;
    const double scales[] = {1, exp(spread * r->level.high), exp(spread * r->level.low)};
    if (!hk_ball_ends_list(r->project, &o->walk, lengths, scales, ends, balls, &r->scratch))
        return false;
    role->ends = ends;
    role->end_count = balls;
    return true;
}

/* ---- Lines ---------------------------------------------------------------------------------------------------------
 */

/* Sets the last row at which to stop before a line, so that the yarn in hand is enough for the line and all behind it.
 */
static void find_stop(struct rest_of *r, const struct of_role *o, size_t line, int64_t copy,
                      struct hk_remaining_part *part)
{
    const struct hk_walk *walk = &o->walk;
    double behind_m = 0, enough_m = hk_have_usable_g(o->have, o->need->join_g) / walk->g_m;
    size_t first = 0, rows = 0;
    while (first < walk->row_count && !(walk->places[first].line == line && walk->places[first].copy == copy))
        first++;
    for (size_t i = first; i < walk->row_count; i++)
        behind_m += walk->rows_m[i];
    enough_m /= r->level.margin >= 0 ? 1 + r->level.margin : exp(o->spread * r->level.enough);
    for (; rows < first && behind_m + walk->rows_m[rows] <= enough_m; rows++)
        behind_m += walk->rows_m[rows];
    part->must_stop = rows < first;
    part->stop = place_of(r, walk, part->must_stop && behind_m <= enough_m ? rows : 0);
}

static bool add_parts(struct rest_of *r, const struct of_role *o, size_t role_at, struct hk_remaining_part *parts)
{
    bool any = false;
    for (size_t i = 0; i < r->rest.count; i++) {
        const struct hk_rest_line *line = &r->rest.lines[i];
        struct grams grams;
        if (!predict(r, o->role->role, &r->rest.worked[i], 1, &grams))
            return false;
        if (!(grams.likely_g > 0))
            continue;
        struct hk_remaining_part *part = &parts[r->left->face.part_count++];
        *part = (struct hk_remaining_part){
            .role = role_at,
            .piece = r->project->lines[line->line].piece,
            .part = r->project->lines[line->line].part,
            .copy = line->first,
            .copies = r->rest.worked[i].times,
            .rows_done = line->rows_done,
            .rows = line->rows,
            .mass_g = hk_range_of(&r->level, grams.likely_g * o->weighs, spread_with(r, o->role->role, &grams, 1)),
            .stop = {.piece = "", .part = ""},
        };
        bool short_of = o->role->known && o->role->order > 0;
        if (any && short_of && o->rows_known && !(o->role->unweighed_g > 1e-9 * o->role->mass_g.likely))
            find_stop(r, o, line->line, line->first, part);
        any = true;
    }
    return true;
}

static bool is_worked(const struct rest_of *r, size_t role)
{
    for (size_t i = 0; i < r->project->progress_count; i++)
        if (r->project->progress[i].size == r->size && works(r, i, role))
            return true;
    return false;
}

static bool add_role(struct rest_of *r, const struct hk_need_role *need, struct hk_remaining_role *role,
                     struct hk_remaining_part *parts)
{
    struct of_role o = {.role = role, .need = need, .weighs = hk_fit_weighs(r->fit, 0, yarn_of(r, need->role))};
    double more;
    *role = (struct hk_remaining_role){.role = need->role,
                                       .role_name = need->role_name,
                                       .yarn = need->yarn,
                                       .colour = need->colour,
                                       .put_up_g = need->put_up_g,
                                       .worked = is_worked(r, need->role)};
    o.used_g = sum_used(r, need->role, role);
    role->used_g = o.used_g * o.weighs;
    if (!predict(r, need->role, r->rest.worked, r->rest.count, &o.rest))
        return false;
    role->spread = spread_with(r, need->role, &o.rest, 1);
    role->mass_g = hk_range_of(&r->level, o.rest.likely_g * o.weighs, role->spread);
    double rest_g = o.rest.likely_g;
    if (!find_in_hand(r, &o, &more))
        return false;
    o.spread = spread_with(r, need->role, &o.rest, more);
    o.rows_known = rest_g > 0 && list_rows(r, need->role, rest_g, &o.walk);
    struct hk_remaining_taking taking = {
        .project = r->project,
        .level = &r->level,
        .taking = {o.rest.likely_g, o.spread, need->join_g,
                   o.rows_known && !r->project->join_anywhere && !(role->unweighed_g > 0) ? &o.walk : NULL},
        .have = o.have,
    };
    return hk_have_chance(taking.have, &taking.taking, &role->chance) &&
           hk_remaining_order(&taking, r->left->face.chance, role) && list_ends(r, &o) &&
           add_parts(r, &o, (size_t)(role - r->left->face.roles), parts) && !r->scratch.out_of_memory;
}

static void add_roles(struct rest_of *r)
{
    const struct hk_need *need = &r->needed->face;
    struct hk_remaining *face = &r->left->face;
    struct hk_remaining_role *roles = hk_arena_take(&r->left->arena, r->project->role_count, sizeof *roles);
    if (!hk_rest_make(r->fit->tally, r->size, HK_REST_ALL, &r->rest, &r->scratch) || !roles)
        return;
    struct hk_remaining_part *parts =
        hk_arena_take(&r->left->arena, r->rest.count * r->project->role_count, sizeof *parts);
    face->roles = roles;
    face->parts = parts;
    for (size_t i = 0; parts && i < need->role_count; i++) {
        if (need->roles[i].size != r->size)
            continue;
        if (!add_role(r, &need->roles[i], &roles[face->role_count], parts))
            return;
        face->role_count++;
    }
}

struct hk_remaining *hk_remaining_predict(const struct hk_need *need, size_t size, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    if (size < needed->first_size || size > needed->last_size) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"size", 0, 0},
                     "the prediction does not include this size");
        hk_diags_hint(diags, "predict it for the size of the work in hand");
        return NULL;
    }
    struct leaving *left = calloc(1, sizeof *left);
    if (!left) {
        hk_diags_set_out_of_memory(diags);
        return NULL;
    }
    struct rest_of r = {.left = left,
                        .needed = needed,
                        .fit = needed->fit,
                        .project = project,
                        .size = size,
                        .priors = hk_priors_of(&project->spreads, HK_QUANTITY_YARN),
                        .level = hk_level_of(need->chance, need->margin)};
    left->face = (struct hk_remaining){.project = need->project,
                                       .size_name = project->sizes[size],
                                       .size = size,
                                       .chance = need->chance,
                                       .margin = need->margin};
    size_t making = hk_fit_find_like(r.fit, &(struct hk_parameter){.kind = HK_PARAM_MAKING, .key = size});
    r.making = making != SIZE_MAX ? &r.fit->parameters[making] : NULL;
    left->face.evidence = count_of_making(&r, r.fit->data, r.fit->evidence);
    left->face.left_out = count_of_making(&r, r.fit->odd, r.fit->odd_count);
    list_done(&r);
    add_roles(&r);
    bool failed = r.scratch.out_of_memory || left->arena.out_of_memory;
    hk_arena_free(&r.scratch);
    if (!failed)
        return &left->face;
    hk_diags_set_out_of_memory(diags);
    hk_remaining_free(&left->face);
    return NULL;
}

void hk_remaining_free(struct hk_remaining *left)
{
    struct leaving *whole = (struct leaving *)left;
    if (!whole)
        return;
    hk_arena_free(&whole->arena);
    free(whole);
}
