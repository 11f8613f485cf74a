/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/gauge.h"

#include "base/text.h"
#include "input/quantity.h"
#include "input/spreadsheet_damage.h"

#include <math.h>
#include <string.h>

/* Bounds of a gauge in 10 cm: finer than lace thread, and coarser than stitches of half a metre. */
#define GAUGE_LEAST 0.2
#define GAUGE_MOST 200.0

/* One of the words, the longest first, not in the middle of another word. */
static bool skip_word(const char **cursor, const char *const *words)
{
    *cursor = hk_blanks_skipped(*cursor);
    for (; *words; words++) {
        size_t length = strlen(*words);
        char next = hk_text_starts(*cursor, *words) ? (*cursor)[length] : 'a';
        bool letters = strpbrk(*words, "=/") == NULL && hk_is_letter(next);
        if (!hk_text_starts(*cursor, *words) || letters)
            continue;
        *cursor += length;
        return true;
    }
    return false;
}

static bool scan_count(const char **cursor, double *value)
{
    *cursor = hk_blanks_skipped(*cursor);
    /* No list of gauges fits a cell, so a comma between digits is a decimal mark in any file. */
    return hk_number_scan(cursor, HK_DECIMAL_COMMA, value);
}

/* "in 4 in", "= 10 cm", nothing: the length in metres that the counts are for. */
static bool scan_length(const char **cursor, double *length_m)
{
    static const char *const words[] = {"over", "per", "in", "to", "=", "/", NULL};
    enum hk_dimension dimension;
    double value, factor;
    *length_m = 0.1;
    if (!skip_word(cursor, words))
        return true;
    if (!scan_count(cursor, &value) || !hk_unit_scan(cursor, &dimension, &factor) || dimension != HK_DIM_LENGTH ||
        value <= 0)
        return false;
    *length_m = value * factor;
    return true;
}

static bool scan_gauge(const char *text, double *stitches, double *rows)
{
    static const char *const by[] = {"x", "by", NULL};
    static const char *const stitch_words[] = {"stitches", "sts", "st", NULL};
    static const char *const row_words[] = {"rounds", "rows", "rnds", "row", NULL};
    double s, r, length_m;
    if (!scan_count(&text, &s))
        return false;
    skip_word(&text, stitch_words);
    if (!skip_word(&text, by) || !scan_count(&text, &r))
        return false;
    skip_word(&text, row_words);
    if (!scan_length(&text, &length_m))
        return false;
    if (*hk_blanks_skipped(text))
        return false;
    *stitches = s * 0.1 / length_m;
    *rows = r * 0.1 / length_m;
    return true;
}

static bool plausible(double count)
{
    return count >= GAUGE_LEAST && count <= GAUGE_MOST;
}

bool hk_gauge_cell(struct hk_cell cell, double *stitches, double *rows, struct hk_arena *arena, struct hk_diags *diags)
{
    struct hk_span span;
    double s, r;
    if (!hk_span_make(cell, &span, arena) || hk_spreadsheet_damage(&span, diags))
        return false;
    const char *text = span.text;
    if (!scan_gauge(text, &s, &r)) {
        hk_diags_add(diags, HK_CODE_NUMBER, hk_cell_place(cell, 0), "\"%s\" is not a gauge", text);
        hk_diags_hint(diags, "write stitches x rows in 10 cm, such as 18 x 24");
        return false;
    }
    if (!plausible(s) || !plausible(r)) {
        hk_diags_add(diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "a gauge of %s stitches and %s rows in 10 cm",
                     hk_number_text(s, 6).text, hk_number_text(r, 6).text);
        hk_diags_hint(diags, "write stitches x rows in 10 cm, such as 18 x 24");
        return false;
    }
    *stitches = s;
    *rows = r;
    return true;
}

const struct hk_swatch *hk_gauge_swatch(const struct hk_project *project, const struct hk_fabric *fabric,
                                        double tool_mm, bool rows)
{
    const struct hk_swatch *nearest = NULL;
    for (size_t i = 0; i < project->swatch_count; i++) {
        const struct hk_swatch *swatch = &project->swatches[i];
        if (swatch->fabric != fabric || (rows ? swatch->gauge_rows : swatch->gauge_stitches) <= 0)
            continue;
        if (!nearest || fabs(swatch->tool_mm - tool_mm) < fabs(nearest->tool_mm - tool_mm))
            nearest = swatch;
    }
    return nearest;
}
