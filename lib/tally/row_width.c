/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The width and the height of rows by the gauge of a swatch. For pattern.txt the swatch must be worked in the row's
 * most frequent stitch, since another stitch has another width.
 */
#include "base/text.h"
#include "pattern/fabric.h"
#include "pattern/proof.h"
#include "tally/tally.h"

#include <string.h>

/* Gauges are stitches in 10 cm. */
static const double gauge_length_m = 0.1;

/* Returns the width in metres. gauge: a swatch with a gauge, or NULL. */
static double width_of(const struct hk_swatch *gauge, double stitches)
{
    return gauge ? stitches * gauge_length_m / gauge->gauge_stitches : 0;
}

double hk_tally_row_width(const struct hk_tally *tally, size_t line, int64_t stitches)
{
    return width_of(tally->project->lines[line].width_gauge, (double)stitches);
}

double hk_tally_row_height(const struct hk_tally *tally, size_t line, int64_t rows)
{
    const struct hk_swatch *gauge = tally->project->lines[line].height_gauge;
    return gauge ? (double)rows * gauge_length_m / gauge->gauge_rows : 0;
}

/* Returns true when the fabric uses the stitch with this name in the project's terms. */
static bool fabric_has(const struct hk_project *project, const struct hk_fabric *fabric, const char *word)
{
    const struct hk_catalogue *catalogue = project->catalogue;
    for (size_t s = 0; s < catalogue->stitch_count; s++) {
        if (strcmp(hk_stitch_word(&catalogue->stitches[s], project->terms), word) != 0)
            continue;
        if (hk_fabric_works(fabric, catalogue, catalogue->stitches[s].base))
            return true;
    }
    return false;
}

int64_t hk_space_chains(const char *kind)
{
    static const int64_t most = 1000000;
    int64_t chains = 0;
    if (!hk_text_starts(kind, "ch-"))
        return 0;
    const char *c = kind + strlen("ch-");
    for (; hk_is_digit(*c) && chains < most; c++)
        chains = 10 * chains + (*c - '0');
    return strcmp(c, " sp") == 0 ? chains : 0;
}

double hk_written_row_width(const struct hk_project *project, size_t row, size_t size)
{
    const struct hk_proof_row *of = &project->proof->rows[project->written_rows[row] * project->size_count + size];
    const size_t index = project->written->entries[project->written_rows[row]].line;
    const struct hk_line *line = index < project->line_count ? &project->lines[index] : NULL;
    if (!of->there || !of->worked || !line || !line->written || !line->width_gauge)
        return 0;
    int64_t alike = 0, other = 0, wide = of->stitches;
    for (size_t i = 0; i < of->place_count; i++) {
        const int64_t chains = hk_space_chains(of->places[i].kind);
        wide += chains * of->places[i].count;
        if (chains == 0)
            *(fabric_has(project, line->width_gauge->fabric, of->places[i].kind) ? &alike : &other) +=
                of->places[i].count;
    }
    return alike > other ? width_of(line->width_gauge, (double)wide) : 0;
}
