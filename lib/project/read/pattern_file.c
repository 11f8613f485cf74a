/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/pattern_file.h"

#include "input/ok_words.h"
#include "input/read_file.h"
#include "pattern/fabric.h"
#include "pattern/proof.h"
#include "pattern/shipped_fabrics.h"
#include "project/gauge.h"
#include "project/read/yarn_cell.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FILE_NAME "pattern.txt"
#define EFFORT_MOST ((int64_t)100000000)

/* ---- What rows need besides the file ---- */

static const struct hk_fabric *fabric_named(const struct hk_project *project, const char *name)
{
    for (size_t i = 0; i < project->fabric_count; i++)
        if (hk_text_same(project->fabrics[i].name, name))
            return &project->fabrics[i];
    return hk_catalogue_fabric(project->catalogue, name);
}

static bool fabric_rows(const void *context, const char *name, const struct hk_row **rows, size_t *setup, size_t *cycle)
{
    const struct hk_fabric *fabric = fabric_named(context, name);
    if (!fabric)
        return false;
    *rows = fabric->rows;
    *setup = fabric->setup_count;
    *cycle = fabric->cycle_count;
    return true;
}

static bool steps_have(const struct hk_step *steps, size_t count, size_t stitch)
{
    for (size_t i = 0; i < count; i++)
        if ((steps[i].kind == HK_STEP_STITCH && steps[i].stitch == stitch) ||
            steps_have(steps[i].steps, steps[i].step_count, stitch))
            return true;
    return false;
}

/* The swatch of that stitch, nearest in tool, whose rows in 10 cm are known; of no stitch in particular the only swatch
 * that has them. */
static double rows_per_m(const void *context, size_t stitch, double tool_mm, const char **name)
{
    const struct hk_project *project = context;
    const struct hk_swatch *nearest = NULL;
    size_t measured = 0;
    for (size_t i = 0; i < project->swatch_count; i++) {
        const struct hk_swatch *swatch = &project->swatches[i];
        if (!(swatch->gauge_rows > 0))
            continue;
        measured++;
        bool has = stitch == SIZE_MAX;
        for (size_t r = 0; swatch->fabric && !has && r < swatch->fabric->setup_count + swatch->fabric->cycle_count; r++)
            has = steps_have(swatch->fabric->rows[r].steps, swatch->fabric->rows[r].step_count, stitch);
        if (has && (!nearest || fabs(swatch->tool_mm - tool_mm) < fabs(nearest->tool_mm - tool_mm)))
            nearest = swatch;
    }
    if (!nearest || (stitch == SIZE_MAX && measured > 1))
        return 0;
    *name = nearest->name;
    return 10 * nearest->gauge_rows;
}

/* ---- Lines ---- */

/* The combination of yarns held together. */
static bool held_combination(struct hk_reading *reading, const struct hk_held *held, size_t *combination)
{
    struct hk_project *project = reading->project;
    struct hk_strand strands[HK_TOGETHER_MOST];
    for (size_t i = 0; i < held->count; i++) {
        size_t plan = project->roles[held->roles[i]].plan;
        if (plan == SIZE_MAX)
            return false;
        strands[i] = (struct hk_strand){held->roles[i], project->candidates[plan].yarn, held->times[i]};
    }
    return hk_combination_of(reading, strands, held->count, combination);
}

static bool combinations_make(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    const struct hk_written *w = project->written;
    const struct hk_held main_yarn = {.roles = {0}, .times = {1}, .count = 1};
    project->held_combinations = hk_arena_take(&project->arena, w->held_count + 1, sizeof *project->held_combinations);
    if (!project->held_combinations || project->role_count == 0)
        return false;
    for (size_t i = 0; i < w->held_count; i++)
        if (!held_combination(reading, &w->helds[i], &project->held_combinations[i]))
            return false;
    bool named = true;
    for (size_t i = 0; i < w->entry_count; i++)
        named &= w->entries[i].held != SIZE_MAX;
    return named || held_combination(reading, &main_yarn, &project->held_combinations[w->held_count]);
}

/* Every combination that entries of the line name, each a stripe of any length. */
static bool line_yarn(struct hk_project *project, size_t work, struct hk_line *line)
{
    const struct hk_written *w = project->written;
    const struct hk_written_line *of = &w->works[work];
    struct hk_stripe *stripes = hk_arena_take(&project->arena, w->held_count + 1, sizeof *stripes);
    bool *seen = hk_arena_take(&project->arena, project->combination_count, sizeof *seen);
    if (!stripes || !seen)
        return false;
    line->yarn = (struct hk_stripes){.stripes = stripes};
    for (size_t size = 0; size < project->size_count; size++) {
        const struct hk_proof_line *proof = &project->proof->lines[work * project->size_count + size];
        for (size_t i = 0; i < proof->count; i++)
            for (size_t s = 0; s < proof->works[i].stitch_count; s++) {
                size_t combination = hk_held_combination(project, proof->works[i].stitches[s].held);
                if (!seen[combination])
                    stripes[line->yarn.count++] = (struct hk_stripe){combination, HK_COUNT_MOST};
                seen[combination] = true;
            }
    }
    if (line->yarn.count == 0)
        stripes[line->yarn.count++] =
            (struct hk_stripe){hk_held_combination(project, w->entries[of->first].held), HK_COUNT_MOST};
    return true;
}

/* The most frequent stitch of the line, without chains and slip stitches; SIZE_MAX: none. */
static size_t main_stitch(struct hk_project *project, size_t work, bool *purled)
{
    const struct hk_catalogue *catalogue = project->catalogue;
    int64_t *counts = hk_arena_take(&project->arena, catalogue->stitch_count, sizeof *counts), knit = 0, purl = 0;
    size_t most = SIZE_MAX;
    for (size_t size = 0; counts && size < project->size_count; size++) {
        const struct hk_proof_line *line = &project->proof->lines[work * project->size_count + size];
        for (size_t i = 0; i < line->count; i++)
            for (size_t s = 0; s < line->works[i].stitch_count && line->works[i].rows > 0; s++)
                counts[line->works[i].stitches[s].stitch] += line->works[i].stitches[s].count * line->works[i].rows;
    }
    for (size_t i = 0; counts && i < catalogue->stitch_count; i++) {
        const char *us = catalogue->stitches[i].us ? catalogue->stitches[i].us : "";
        knit += strcmp(us, "k") == 0 ? counts[i] : 0;
        purl += strcmp(us, "p") == 0 ? counts[i] : 0;
        bool chains = catalogue->stitches[i].needs == 0 || strcmp(us, "sl st") == 0;
        if (counts[i] > 0 && !chains && (most == SIZE_MAX || counts[i] > counts[most]))
            most = i;
    }
    *purled = 4 * purl > knit;
    return most;
}

/* The forms of a crochet fabric, those of rounds first. */
static const char *const forms[] = {" in a spiral", " in joined rounds", ""};
#define FORMS (sizeof forms / sizeof *forms)

/* A shipped fabric of mostly the same stitch: its gauge and its swatches are compared with the line. */
static const struct hk_fabric *line_fabric(struct hk_project *project, size_t stitch, bool purled, bool rounds)
{
    const struct hk_stitch *s = stitch == SIZE_MAX ? NULL : &project->catalogue->stitches[stitch];
    const struct hk_fabric *fabric = NULL;
    if (s && s->family == HK_FAMILY_KNIT)
        fabric = fabric_named(project, rounds ? "stockinette in rounds" : purled ? "stockinette" : "garter stitch");
    for (size_t i = rounds ? 0 : FORMS - 1; s && s->family != HK_FAMILY_KNIT && i < FORMS && !fabric; i++) {
        const char *name = hk_arena_print(&project->arena, "%s%s", s->name, forms[i]);
        fabric = name ? fabric_named(project, name) : NULL;
    }
    return fabric ? fabric : fabric_named(project, s && s->family == HK_FAMILY_KNIT ? "stockinette" : "single crochet");
}

/*
 * A swatch with a gauge of the line's fabric; of rounds, else one of the same stitch in rounds that are joined, or are
 * not. NULL where there is none.
 */
static const struct hk_swatch *line_gauge(struct hk_project *project, const struct hk_line *line, size_t stitch,
                                          bool rows)
{
    const struct hk_swatch *gauge = hk_gauge_swatch(project, line->fabric, line->tool_mm, rows);
    bool rounds = hk_fabric_way(line->fabric) == HK_WAY_ROUNDS && stitch != SIZE_MAX;
    for (size_t i = 0; i < FORMS - 1 && !gauge && rounds; i++) {
        const char *name = hk_arena_print(&project->arena, "%s%s", project->catalogue->stitches[stitch].name, forms[i]);
        const struct hk_fabric *fabric = name ? fabric_named(project, name) : NULL;
        if (fabric)
            gauge = hk_gauge_swatch(project, fabric, line->tool_mm, rows);
    }
    return gauge;
}

/* "Rnd 3", "Rnds1-4", "2nd round". */
static bool names_rounds(const char *label)
{
    for (const char *c = label; *c; c++)
        if ((c == label || c[-1] == ' ') &&
            (hk_text_starts(c, "rnd") || hk_text_starts(c, "round") || hk_text_starts(c, "rd")))
            return true;
    return false;
}

static bool line_rounds(const struct hk_written *w, const struct hk_written_line *of)
{
    for (size_t i = 0; i < of->count; i++) {
        const struct hk_entry *entry = &w->entries[of->first + i];
        if (names_rounds(entry->label) || (entry->kind == HK_ENTRY_BEGIN && entry->begin.joined))
            return true;
    }
    return false;
}

static bool line_times(struct hk_project *project, const struct hk_written_line *of, struct hk_line *line)
{
    const struct hk_written *w = project->written;
    struct hk_graded_count piece = w->pieces[of->piece].times, part = w->parts[of->part_index].times;
    struct hk_amount *by_size = hk_arena_take(&project->arena, project->size_count, sizeof *by_size);
    if (!by_size)
        return false;
    for (size_t i = 0; i < project->size_count; i++) {
        int64_t times = hk_graded_in(piece, i) * hk_graded_in(part, i);
        by_size[i] = (struct hk_amount){.kind = times > 0 ? HK_AMOUNT_COUNT : HK_AMOUNT_NONE, .count = times};
    }
    line->times = (struct hk_graded){.given = true, .by_size = by_size};
    return true;
}

static enum hk_start line_start(const struct hk_written *w, const struct hk_written_line *of)
{
    static const enum hk_start starts[] = {
        [HK_BEGIN_CHAIN] = HK_START_CHAIN,  [HK_BEGIN_CAST_ON] = HK_START_CHAIN, [HK_BEGIN_RING] = HK_START_RING,
        [HK_BEGIN_PICK_UP] = HK_START_EDGE, [HK_BEGIN_EDGE] = HK_START_EDGE,     [HK_BEGIN_HELD] = HK_START_EDGE,
        [HK_BEGIN_JOIN] = HK_START_EDGE,    [HK_BEGIN_LEFT] = HK_START_EDGE,     [HK_BEGIN_ONLY] = HK_START_EDGE,
        [HK_BEGIN_NOTHING] = HK_START_CHAIN,
    };
    const struct hk_entry *entry = &w->entries[of->first];
    return entry->kind == HK_ENTRY_BEGIN ? starts[entry->begin.kind] : HK_START_CONTINUE;
}

static void tool_needed(struct hk_project *project, const struct hk_written_line *of, struct hk_line *line)
{
    const struct hk_written *w = project->written;
    line->tool_mm = of->tool_mm;
    if (line->tool_mm > 0)
        return;
    line->tool_mm = w->tool_count > 0 ? w->tools_mm[0] : 1;
    if (w->tool_count == 1)
        return;
    hk_diags_add(&project->proof_diags, HK_CODE_CELL_MISSING, of->place, "\"%s\" does not say its hook or needles",
                 line->piece);
    hk_diags_hint(&project->proof_diags, "write them where it begins: \"With MC and 5 mm hook, ch 72\"");
}

static void yarn_assumed(struct hk_project *project, const struct hk_written_line *of, const struct hk_line *line)
{
    if (project->role_count < 2 || project->written->entries[of->first].held != SIZE_MAX)
        return;
    hk_diags_add(&project->proof_diags, HK_CODE_ASSUMPTION, of->place, "\"%s\" names no yarn: %s is taken", line->piece,
                 project->roles[0].name);
    hk_diags_hint(&project->proof_diags, "write it where it begins: \"With MC and 5 mm hook, ch 72\"");
}

static bool lines_make(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    const struct hk_written *w = project->written;
    project->lines = hk_arena_take(&project->arena, w->work_count, sizeof *project->lines);
    for (size_t i = 0; project->lines && i < w->work_count; i++) {
        const struct hk_written_line *of = &w->works[i];
        struct hk_line *line = &project->lines[i];
        bool first = i == 0 || w->works[i - 1].piece != of->piece;
        line->piece = w->pieces[of->piece].name;
        line->part = of->part;
        line->at = of->place;
        line->written = true;
        line->first = first;
        line->before = first ? SIZE_MAX : i - 1;
        line->start = line_start(w, of);
        if (!line_times(project, of, line) || !line_yarn(project, i, line))
            return false;
        tool_needed(project, of, line);
        yarn_assumed(project, of, line);
        bool purled;
        size_t stitch = main_stitch(project, i, &purled);
        line->fabric = line_fabric(project, stitch, purled, line_rounds(w, of));
        line->width_gauge = line_gauge(project, line, stitch, false);
        line->height_gauge = line_gauge(project, line, stitch, true);
        project->line_count++;
    }
    return project->lines != NULL;
}

/* ---- Totals ---- */

static bool totals_make(struct hk_project *project)
{
    const struct hk_written *w = project->written;
    size_t stitches = project->catalogue->stitch_count;
    int64_t *counts = hk_arena_take(&project->arena, stitches, sizeof *counts);
    project->written_totals =
        hk_arena_take(&project->arena, stitches * project->size_count, sizeof *project->written_totals);
    for (size_t size = 0; counts && project->written_totals && size < project->size_count; size++) {
        memset(counts, 0, stitches * sizeof *counts);
        for (size_t i = 0; i < w->work_count; i++) {
            const struct hk_proof_line *line = &project->proof->lines[i * project->size_count + size];
            int64_t times = hk_graded_in(w->pieces[w->works[i].piece].times, size) *
                            hk_graded_in(w->parts[w->works[i].part_index].times, size);
            for (size_t j = 0; j < line->count; j++)
                for (size_t s = 0; s < line->works[j].stitch_count; s++)
                    counts[line->works[j].stitches[s].stitch] +=
                        times * line->works[j].stitches[s].count * (line->works[j].rows ? line->works[j].rows : 1);
        }
        for (size_t s = 0; s < stitches; s++)
            if (counts[s] > 0)
                project->written_totals[project->written_total_count++] = (struct hk_stitch_total){
                    size, hk_stitch_word(&project->catalogue->stitches[s], project->terms), counts[s]};
    }
    return counts && project->written_totals;
}

static bool rows_list(struct hk_project *project)
{
    const struct hk_written *w = project->written;
    project->written_rows = hk_arena_take(&project->arena, w->entry_count, sizeof *project->written_rows);
    for (size_t p = 0; project->written_rows && p < w->part_count; p++)
        for (size_t e = 0; e < w->parts[p].count; e++) {
            size_t index = w->parts[p].first + e;
            enum hk_entry_kind kind = w->entries[index].kind;
            if (kind == HK_ENTRY_ROW || kind == HK_ENTRY_REFERENCE || kind == HK_ENTRY_REFUSED)
                project->written_rows[project->written_row_count++] = index;
        }
    return project->written_rows != NULL;
}

/* ---- The file ---- */

static const char *role_name_at(const struct hk_project *project, size_t i)
{
    return project->roles[i].name;
}

bool hk_pattern_file_words(const struct hk_project *project, struct hk_row_words *words, struct hk_arena *arena)
{
    const char **yarns = hk_arena_take(arena, project->role_count, sizeof *yarns);
    *words = (struct hk_row_words){.catalogue = project->catalogue,
                                   .terms = project->terms,
                                   .size_count = project->size_count,
                                   .size_names = project->sizes,
                                   .yarns = yarns,
                                   .yarn_count = project->role_count};
    for (size_t i = 0; yarns && i < project->role_count; i++)
        yarns[i] = role_name_at(project, i);
    return yarns != NULL;
}

struct hk_proof_host hk_pattern_file_host(const struct hk_project *project)
{
    return (struct hk_proof_host){project, fabric_rows, rows_per_m};
}

static void nothing_found(struct hk_project *project)
{
    hk_diags_add(&project->proof_diags, HK_CODE_ROWS_MISSING, (struct hk_place){project->written->lines.file, 0, 0},
                 "no piece begins in it");
    hk_diags_hint(
        &project->proof_diags,
        "a piece begins with \"ch 72\", \"cast on 84 sts\", \"6 sc in magic ring\" or \"On an edge of 20 sts:\"");
}

static struct hk_place ok_place(const void *host, size_t offset)
{
    return hk_row_text_place(host, offset);
}

/* Accepts what the lines "ok: ..." accept for the lines below them. */
static void oks_read(const struct hk_pattern_lines *lines, struct hk_diags *diags)
{
    for (size_t i = 0; i < lines->ok_count; i++) {
        const struct hk_pattern_ok *ok = &lines->oks[i];
        const struct hk_ok_lines where = {hk_row_text_place(&ok->text, 0), ok->first, ok->last};
        hk_ok_words(ok->text.text, ok->codes, where, ok_place, &ok->text, diags);
    }
}

void hk_pattern_file_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    struct hk_file_text file;
    const char *path = hk_arena_print(&project->arena, "%s%s", reading->folder, FILE_NAME);
    if (!path || hk_read_file(reading->source, path, HK_PATTERN_BYTES, &file, reading->diags) != HK_FILE_READ_WHOLE)
        return;
    const char *text = hk_arena_text(&project->arena, file.text, file.bytes);
    free(file.text);
    project->written = hk_arena_take(&project->arena, 1, sizeof *project->written);
    struct hk_row_words words;
    if (!text || !project->written || !reading->knows_sizes || !reading->knows_terms || !reading->knows_yarns ||
        !hk_pattern_file_words(project, &words, &project->arena) ||
        !hk_written_read(text, path, &words, project->written, &project->arena)) {
        project->written = NULL;
        project->pattern_unread = true;
        return;
    }
    oks_read(&project->written->lines, reading->diags);
    const struct hk_proof_host host = hk_pattern_file_host(project);
    int64_t effort = EFFORT_MOST;
    project->proof = hk_proof_make(project->written, &host, &effort, &project->proof_diags);
    if (project->written->piece_count == 0)
        nothing_found(project);
    if (project->proof && totals_make(project) && rows_list(project) && combinations_make(reading))
        lines_make(reading);
}

void hk_pattern_file_report(const struct hk_project *project, struct hk_diags *diags)
{
    const struct hk_diags *found = &project->proof_diags;
    for (size_t i = 0; i < found->count; i++) {
        const struct hk_finding *f = &found->findings[i];
        hk_diags_add(diags, f->code, f->at, "%s", f->message);
        if (f->hint)
            hk_diags_hint(diags, "%s", f->hint);
    }
    diags->out_of_memory |= found->out_of_memory;
}
