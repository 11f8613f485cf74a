/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A grading error is a series that rises from the first size to the last but falls in between. A series that does not
 * rise overall is accepted: a measurement may shrink intentionally.
 */
#include "tally/grading_check.h"

#include "base/diags.h"
#include "base/text.h"

#include <inttypes.h>
#include <math.h>

/* The tolerance for equal lengths, in metres. */
#define SAME_LENGTH_M 1e-9

/*
 * Returns the size whose value is below that of the previous size with a value; `count` if there is none. NAN: no
 * value.
 */
static size_t falls_at(const double *values, size_t count, size_t *before)
{
    size_t at = count, last = count, first = count;
    for (size_t i = 0; i < count; i++) {
        if (isnan(values[i]))
            continue;
        if (last < count && at == count && values[i] < values[last] - SAME_LENGTH_M) {
            at = i;
            *before = last;
        }
        first = first == count ? i : first;
        last = i;
    }
    return at < count && values[last] > values[first] + SAME_LENGTH_M ? at : count;
}

/* Returns an amount with its unit: "42 stitches", "36.5 cm". */
static const char *amount_text(double value, const char *what, bool length, struct hk_arena *arena)
{
    double hundredths = rint(length ? 100 * 100 * value : 100 * value);
    return hk_arena_print(arena, "%s%s%s", hk_number_text(hundredths / 100, 15).text, length || !*what ? "" : " ",
                          length ? " cm" : what);
}

static void warn(const struct hk_project *project, struct hk_cell cell, const char *title, const char *what,
                 bool length, const double *values, struct hk_arena *arena, struct hk_diags *diags)
{
    size_t before = 0, at = falls_at(values, project->size_count, &before);
    if (at == project->size_count)
        return;
    const char *larger = amount_text(values[before], what, length, arena);
    const char *smaller = amount_text(values[at], what, length, arena);
    hk_diags_add(diags, HK_CODE_GRADING_FALLS, hk_cell_place(cell, 0), "%s falls: %s in size %s and %s in size %s",
                 title, larger ? larger : "", project->sizes[before], smaller ? smaller : "", project->sizes[at]);
    hk_diags_hint(diags, "check the value of one of the two sizes");
}

static double amount_value(struct hk_amount amount)
{
    switch (amount.kind) {
    case HK_AMOUNT_NONE:
        return NAN;
    case HK_AMOUNT_COUNT:
        return (double)amount.count;
    case HK_AMOUNT_LENGTH:
        return amount.length_m;
    }
    return NAN;
}

void hk_grading_check_sheet(const struct hk_project *project, struct hk_diags *diags)
{
    struct hk_arena scratch = {0};
    double *values = hk_arena_take(&scratch, project->size_count, sizeof *values);
    for (size_t i = 0; values && i < project->grade.count; i++) {
        const struct hk_measure *measure = &project->grade.measures[i];
        bool length = false;
        for (size_t size = 0; size < project->size_count; size++) {
            values[size] = amount_value(measure->by_size[size]);
            length |= measure->by_size[size].kind == HK_AMOUNT_LENGTH;
        }
        const char *title = hk_arena_print(&scratch, "\"%s\"", measure->name);
        warn(project, measure->cell, title ? title : "", "", length, values, &scratch, diags);
    }
    diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

/* Returns true for the name of a measure in grade.csv, which has had its own warning. */
static bool is_measure(const struct hk_project *project, struct hk_cell cell)
{
    for (size_t i = 0; i < project->grade.count; i++) {
        if (hk_text_same(project->grade.measures[i].name, cell.text))
            return true;
    }
    return false;
}

enum worked { STITCHES, END_STITCHES, ROWS };

static double worked_count(const struct hk_sized *sized, enum worked what)
{
    if (sized->times == 0)
        return NAN;
    int64_t count = what == STITCHES       ? sized->work.stitches
                    : what == END_STITCHES ? sized->work.end_stitches
                                           : sized->work.rows;
    return count == HK_NOT_STATED ? NAN : (double)count;
}

void hk_grading_check_line(const struct hk_project *project, size_t line, const struct hk_sized *by_size,
                           struct hk_arena *arena, struct hk_diags *diags)
{
    static const char *const names[] = {[STITCHES] = "stitches", [END_STITCHES] = "end stitches", [ROWS] = "rows"};
    const struct hk_line *of = &project->lines[line];
    const struct hk_graded *cells[] = {
        [STITCHES] = &of->stitches, [END_STITCHES] = &of->end_stitches, [ROWS] = &of->rows};
    double *values = hk_arena_take(arena, project->size_count, sizeof *values);
    for (int what = STITCHES; values && what <= ROWS; what++) {
        if (!cells[what]->given || is_measure(project, cells[what]->cell))
            continue;
        for (size_t size = 0; size < project->size_count; size++)
            values[size] = worked_count(&by_size[size], (enum worked)what);
        warn(project, cells[what]->cell, hk_line_title(of, arena), names[what], false, values, arena, diags);
    }
}
