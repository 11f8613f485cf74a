/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The materials block of a published pattern: the common parts, and the whole. */
#include "materials/materials.h"

#include "base/diags.h"
#include "model/readers.h"
#include "base/text.h"
#include "catalogue/terms.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DEFAULT_ROUND 10.0

/* The public struct comes first, so that a `struct hk_materials *` is a `struct written *`. */
struct written {
    struct hk_materials face;
    struct hk_arena arena;
};

/* ---- Amounts ----------------------------------------------------------------------------------------------------- */

/* Returns the text with its unit; NULL when out of memory. */
static const char *with_unit(const char *graded, const char *unit, struct hk_arena *arena)
{
    return *unit ? hk_arena_print(arena, "%s %s", graded, unit) : graded;
}

static const char *system_print(struct hk_writing *w, const double *values, enum hk_printed_kind kind,
                                enum hk_system system, struct hk_unit_step step, double *rounded)
{
    size_t count = w->size_count;
    const char **texts = hk_arena_take(w->arena, count, sizeof *texts);
    double size = system == HK_SYSTEM_METRIC ? step.metric : step.customary;
    for (size_t i = 0; texts && i < count; i++) {
        rounded[i] = isnan(values[i]) ? NAN : step.round(hk_printed_in(values[i], kind, system), size);
        texts[i] = hk_printed_number(rounded[i], step.quarters && system == HK_SYSTEM_CUSTOMARY, w->arena);
    }
    return texts ? with_unit(hk_graded_write(texts, count, w->arena), hk_printed_unit(kind, system), w->arena) : NULL;
}

struct hk_printed hk_writing_amount(struct hk_writing *w, const double *values, enum hk_printed_kind kind,
                                    struct hk_unit_step step)
{
    double *metric = hk_arena_take(w->arena, w->size_count, sizeof *metric);
    double *customary = hk_arena_take(w->arena, w->size_count, sizeof *customary);
    if (!metric || !customary)
        return (struct hk_printed){0};
    struct hk_printed printed = {
        .metric = metric,
        .customary = customary,
        .metric_unit = hk_printed_unit(kind, HK_SYSTEM_METRIC),
        .customary_unit = hk_printed_unit(kind, HK_SYSTEM_CUSTOMARY),
        .metric_text = system_print(w, values, kind, HK_SYSTEM_METRIC, step, metric),
        .customary_text = system_print(w, values, kind, HK_SYSTEM_CUSTOMARY, step, customary),
    };
    printed.text = kind == HK_PRINTED_COUNT ? printed.metric_text
                                            : hk_writing_units(w, printed.metric_text, printed.customary_text);
    return printed;
}

const char *hk_writing_units(const struct hk_writing *w, const char *metric, const char *customary)
{
    if (!metric || !customary)
        return NULL;
    switch (w->units) {
    case HK_UNITS_METRIC:
        return metric;
    case HK_UNITS_IMPERIAL:
        return customary;
    case HK_UNITS_BOTH:
        break;
    }
    return hk_arena_print(w->arena, "%s / %s", metric, customary);
}

const char *hk_writing_list(struct hk_writing *w, const char *const *names, size_t count)
{
    const char *all = names[0];
    for (size_t i = 1; i < count && all; i++)
        all = hk_arena_print(w->arena, "%s%s%s", all, i + 1 < count ? ", " : " and ", names[i]);
    return all;
}

/* ---- Lines of the design ----------------------------------------------------------------------------------------- */

const struct hk_worked *hk_writing_worked(const struct hk_writing *w, size_t size, size_t line)
{
    return &w->tally->lines[(w->first + size) * w->project->line_count + line];
}

bool hk_writing_uses(const struct hk_writing *w, size_t line)
{
    for (size_t size = 0; size < w->size_count; size++) {
        if (hk_writing_worked(w, size, line)->times > 0)
            return true;
    }
    return false;
}

/* Returns true for rounds; work that starts from a ring and is never turned is a spiral. */
static bool goes_round(enum hk_way way, enum hk_start start)
{
    return way == HK_WAY_ROUNDS || (way == HK_WAY_NOT_STATED && start == HK_START_RING);
}

bool hk_writing_rounds(const struct hk_writing *w, size_t line)
{
    const struct hk_line *lines = w->project->lines;
    enum hk_way way = hk_fabric_way(lines[line].fabric);
    while (way == HK_WAY_NOT_STATED && lines[line].start == HK_START_CONTINUE && !lines[line].first) {
        line = lines[line].before;
        way = hk_fabric_way(lines[line].fabric);
    }
    return goes_round(way, lines[line].start);
}

bool hk_writing_swatch_rounds(const struct hk_swatch *swatch)
{
    return goes_round(hk_fabric_way(swatch->fabric), swatch->start);
}

void hk_writing_stitches(const struct hk_writing *w, size_t line, bool *used)
{
    for (size_t size = 0; size < w->size_count; size++) {
        const struct hk_worked *worked = hk_writing_worked(w, size, line);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            const struct hk_kinds *kinds = &worked->uses[u].kinds;
            for (size_t k = 0; k < kinds->count; k++)
                used[kinds->kinds[k].stitch] |= kinds->kinds[k].count > 0;
        }
    }
}

const char *hk_writing_find(const char *text, const char *spelling)
{
    size_t length = strlen(spelling);
    for (size_t i = 0; text[i]; i++) {
        if ((i == 0 || !hk_is_letter(text[i - 1])) && hk_text_starts(text + i, spelling) &&
            !hk_is_letter(text[i + length]))
            return text + i;
    }
    return NULL;
}

bool hk_writing_own(const struct hk_writing *w, const struct hk_fabric *fabric)
{
    for (size_t i = 0; i < w->project->fabric_count; i++) {
        if (fabric == &w->project->fabrics[i])
            return true;
    }
    return false;
}

const char *hk_writing_fabric(struct hk_writing *w, const struct hk_fabric *fabric)
{
    enum hk_terms from = hk_writing_own(w, fabric) ? w->project->terms : HK_TERMS_US;
    const char *name = hk_terms_change(w->project->catalogue, fabric->name, from, w->terms, w->arena);
    return name ? name : "";
}

/*
 * ---- The whole block
 * ---------------------------------------------------------------------------------------------------
 */

struct hk_materials_options hk_materials_defaults(void)
{
    return (struct hk_materials_options){.round_to = DEFAULT_ROUND, .terms = HK_TERMS_WANTED_PROJECT};
}

static bool options_fit(struct hk_materials_options options, struct hk_diags *diags)
{
    if (options.round_to > 0 && options.round_to <= HK_QUANTITY_MOST)
        return true;
    hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"round", 0, 0}, "amounts cannot be rounded up to multiples of %s",
                 hk_number_text(options.round_to, 6).text);
    hk_diags_hint(diags, "5 or 10 would do");
    return false;
}

static enum hk_terms terms_of(const struct hk_project *project, enum hk_terms_wanted wanted)
{
    switch (wanted) {
    case HK_TERMS_WANTED_PROJECT:
        return project->terms;
    case HK_TERMS_WANTED_US:
        return HK_TERMS_US;
    case HK_TERMS_WANTED_UK:
        return HK_TERMS_UK;
    }
    return project->terms;
}

static void write_all(struct hk_writing *w)
{
    w->face->sizes_text = hk_graded_write(w->face->sizes, w->face->size_count, w->arena);
    hk_materials_yarns(w);
    hk_materials_held(w);
    hk_materials_tools(w);
    hk_materials_notions(w);
    hk_materials_gauges(w);
    hk_materials_sizes(w);
    hk_materials_words(w);
    if (!w->arena->out_of_memory)
        hk_materials_listing(w);
}

struct hk_materials *hk_materials_make(const struct hk_need *need, struct hk_materials_options options,
                                       struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!options_fit(options, diags))
        return NULL;
    struct written *written = calloc(1, sizeof *written);
    if (!written) {
        diags->out_of_memory = true;
        return NULL;
    }
    struct hk_writing w = {
        .face = &written->face,
        .arena = &written->arena,
        .needed = needed,
        .project = project,
        .tally = needed->fit->tally,
        .diags = diags,
        .terms = terms_of(project, options.terms),
        .units = options.units,
        .round_to = options.round_to,
        .first = needed->first_size,
        .size_count = needed->last_size - needed->first_size + 1,
    };
    written->face = (struct hk_materials){
        .project = need->project,
        .sizes = project->sizes + w.first,
        .size_count = w.size_count,
        .uk = w.terms == HK_TERMS_UK,
        .chance = need->chance,
        .margin = need->margin,
        .plain = options.plain,
        .units = options.units,
        .reader = hk_readers_spread(needed->fit),
        .testers = needed->fit->readers.testers,
        .reader_low = needed->fit->readers.low,
        .reader_high = needed->fit->readers.high,
        .readers_more = hk_readers_ratio(needed->fit) - 1,
        .round_to = options.round_to,
    };
    write_all(&w);
    diags->out_of_memory |= written->arena.out_of_memory;
    if (!diags->out_of_memory && diags->errors == errors)
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
