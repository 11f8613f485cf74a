/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The expectation and the influence of every reading of a fit. With J the reading's row, h = J C J^T its leverage and r
 * its residual, the linearised optimum without it is x + C J^T r / (1 - h) (leverage and deleted residuals, as in
 * outlier.c).
 */
#include "model/fit.h"

#include "base/diags.h"
#include "model/outlier.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

/* A departure that changed by less than this part of its spread is not listed. */
#define CHANGE_LEAST 0.02
/* The tolerance for rounding. */
#define NOTHING 1e-12

/* The public struct comes first, as in struct hk_needed. */
struct explained {
    struct hk_evidence face;
    struct hk_arena arena;
};

struct explaining {
    struct explained *explained;
    const struct hk_fit *fit;
    double *gradient, *along;
};

/* Returns the name of a making: its size, or its title if the project has one size. */
static const char *making_name(const struct hk_project *project, size_t size, struct hk_arena *arena)
{
    const char *name = project->size_count > 1 ? hk_arena_print(arena, "size %s", project->sizes[size]) : project->title;
    return name ? name : "";
}

/* Returns the name of a departure's subject, in words of the trade or names of the project. */
static const char *named(const struct hk_fit *fit, const struct hk_parameter *p, struct hk_arena *arena)
{
    static const char *const crafts[HK_FAMILIES] = {
        [HK_FAMILY_CROCHET] = "crochet", [HK_FAMILY_TUNISIAN] = "Tunisian crochet", [HK_FAMILY_KNIT] = "knitting"};
    const struct hk_project *project = fit->tally->project;
    switch (p->kind) {
    case HK_PARAM_TENSION:
    case HK_PARAM_GARMENT:
        return crafts[p->key];
    case HK_PARAM_STITCH: {
        const struct hk_stitch *stitch = &project->catalogue->stitches[p->key];
        const char *name = project->terms == HK_TERMS_UK ? stitch->uk : stitch->us;
        return name ? name : stitch->name;
    }
    case HK_PARAM_MAKING:
        return making_name(fit->folders[p->folder].tally->project, p->key, arena);
    case HK_PARAM_BLEND:
    case HK_PARAM_GRIST:
    case HK_PARAM_BALL:
        return p->name;
    case HK_PARAM_WRAP:
    case HK_PARAM_TOOL:
    case HK_PARAM_SCALE:
    case HK_PARAM_READERS:
        break;
    }
    return "";
}

static enum hk_departure departure_of(enum hk_parameter_kind kind)
{
    static const enum hk_departure departures[] = {
        [HK_PARAM_WRAP] = HK_DEPARTURE_WRAPS,      [HK_PARAM_TENSION] = HK_DEPARTURE_TENSION,
        [HK_PARAM_STITCH] = HK_DEPARTURE_STITCH,   [HK_PARAM_TOOL] = HK_DEPARTURE_TOOL,
        [HK_PARAM_BLEND] = HK_DEPARTURE_YARN,      [HK_PARAM_GRIST] = HK_DEPARTURE_GRIST,
        [HK_PARAM_MAKING] = HK_DEPARTURE_MAKING,   [HK_PARAM_GARMENT] = HK_DEPARTURE_GARMENT,
        [HK_PARAM_SCALE] = HK_DEPARTURE_SCALE,     [HK_PARAM_BALL] = HK_DEPARTURE_BALL,
        [HK_PARAM_READERS] = HK_DEPARTURE_READERS,
    };
    return departures[kind];
}

/* Returns the displayed value: the ratio to the loop rule or label, less 1; for a scale, grams. */
static double shown(const struct hk_parameter *p, double value)
{
    double ln = p->kind == HK_PARAM_GRIST || p->kind == HK_PARAM_WRAP ? value - p->prior : value;
    if (fabs(ln) < NOTHING)
        return 0;
    return p->kind == HK_PARAM_SCALE ? ln : expm1(ln);
}

/* Sorts by the change relative to the spread, largest first. */
static int by_move(const void *a, const void *b)
{
    double x = fabs(((const struct hk_evidence_change *)a)->move), y = fabs(((const struct hk_evidence_change *)b)->move);
    return (x < y) - (x > y);
}

static void list_changes(struct explaining *e, const struct hk_datum *datum, double leverage, struct hk_evidence_reading *reading)
{
    const struct hk_fit *fit = e->fit;
    struct hk_evidence_change *changes = hk_arena_take(&e->explained->arena, fit->count, sizeof *changes);
    hk_fit_along(fit, e->gradient, e->along); /* C J^T: the gradient is that of ln f over s */
    for (size_t i = 0; changes && i < fit->count; i++) {
        const struct hk_parameter *p = &fit->parameters[i];
        double before = p->value + e->along[i] * datum->residual / fmax(1 - leverage, GSL_DBL_EPSILON);
        double move = p->sd > 0 ? (p->value - before) / p->sd : 0;
        if (!(fabs(move) >= CHANGE_LEAST))
            continue;
        changes[reading->change_count++] = (struct hk_evidence_change){
            .departure = departure_of(p->kind), .of = named(fit, p, &e->explained->arena), .tool_mm = p->tool_mm,
            .step_g = p->scale.step_g, .from = shown(p, before), .to = shown(p, p->value), .move = move};
    }
    if (reading->change_count > 0)
        qsort(changes, reading->change_count, sizeof *changes, by_move);
    reading->changes = changes;
}

static void name_reading(const struct hk_datum *datum, struct hk_evidence_reading *reading)
{
    static const enum hk_evidence_kind kinds[] = {[HK_DATUM_WEIGHED] = HK_EVIDENCE_SWATCH,
                                                  [HK_DATUM_UNRAVELLED] = HK_EVIDENCE_LENGTH,
                                                  [HK_DATUM_GRIST] = HK_EVIDENCE_GRIST,
                                                  [HK_DATUM_BALL] = HK_EVIDENCE_BALL,
                                                  [HK_DATUM_TESTER] = HK_EVIDENCE_TESTER};
    const struct hk_project *project = datum->tally->project;
    bool piece = datum->progress != SIZE_MAX;
    reading->kind = piece ? HK_EVIDENCE_PIECE : kinds[datum->kind];
    reading->name = datum->kind == HK_DATUM_TESTER ? project->testers[datum->tester].name
                    : piece                        ? project->progress[datum->progress].title
                    : datum->swatch != SIZE_MAX    ? project->swatches[datum->swatch].name
                                                   : project->yarns[datum->yarn].name;
    reading->at = hk_cell_place(hk_datum_cell(datum), 0);
}

static void explain(struct explaining *e, const struct hk_datum *datum, struct hk_evidence_reading *reading)
{
    struct hk_deviation off = hk_outlier_deviation(e->fit, datum, e->gradient);
    double read = hk_fit_read(e->fit, datum);
    *reading = (struct hk_evidence_reading){.read = read, .expected = read * exp(-off.ln_ratio), .deviations = off.deviations};
    name_reading(datum, reading);
    list_changes(e, datum, off.leverage, reading);
}

/* A reading that is left out has no effect. */
static void explain_left_out(struct explaining *e, const struct hk_datum *datum, struct hk_evidence_reading *reading)
{
    const struct hk_deviation off = hk_outlier_left_out(e->fit, datum, e->gradient);
    const double read = hk_fit_read(e->fit, datum);
    *reading = (struct hk_evidence_reading){
        .read = read, .expected = read * exp(-off.ln_ratio), .deviations = off.deviations, .left_out = true};
    name_reading(datum, reading);
}

/* Explains the readings by number; testers, the last data, may have been left out of them and have none here. */
static size_t explain_all(struct explaining *e, struct hk_evidence_reading *readings)
{
    const struct hk_fit *fit = e->fit;
    size_t in = 0, out = 0;
    while (in + out < fit->evidence + fit->odd_count && !e->explained->arena.out_of_memory) {
        const bool left = out < fit->odd_count && (in == fit->evidence || fit->odd[out].number < fit->data[in].number);
        if (left) {
            explain_left_out(e, &fit->odd[out], &readings[in + out]);
            out++;
        } else {
            explain(e, &fit->data[in], &readings[in + out]);
            in++;
        }
    }
    return in + out;
}

struct hk_evidence *hk_evidence_explain(const struct hk_fit *fit, struct hk_diags *diags)
{
    struct explained *explained = fit->quantity == HK_QUANTITY_YARN ? calloc(1, sizeof *explained) : NULL;
    if (!explained) {
        diags->out_of_memory |= fit->quantity == HK_QUANTITY_YARN;
        return NULL;
    }
    struct explaining e = {.explained = explained, .fit = fit,
                           .gradient = hk_arena_take(&explained->arena, fit->count, sizeof *e.gradient),
                           .along = hk_arena_take(&explained->arena, fit->count, sizeof *e.along)};
    struct hk_evidence_reading *readings =
        hk_arena_take(&explained->arena, fit->evidence + fit->odd_count, sizeof *readings);
    explained->face.count = explain_all(&e, readings);
    explained->face.readings = readings;
    diags->out_of_memory |= explained->arena.out_of_memory;
    if (!diags->out_of_memory)
        return &explained->face;
    hk_evidence_free(&explained->face);
    return NULL;
}

void hk_evidence_free(struct hk_evidence *evidence)
{
    struct explained *explained = (struct explained *)evidence;
    if (!explained)
        return;
    hk_arena_free(&explained->arena);
    free(explained);
}
