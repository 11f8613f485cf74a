/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Converts the cells of a line to work in one size (the model of DEVELOPERS.md): a width in cm to the nearest width
 * that fits the fabric, a height to the nearest whole row. The rounding shows in the finished size.
 */
#include "tally/sizing.h"

#include "base/text.h"
#include "tally/count_error.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

/* ---- Foundations and stripes --------------------------------------------------------------------------------- */

static size_t stitch_find(const struct hk_catalogue *catalogue, const char *us)
{
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        if (catalogue->stitches[i].us && hk_text_same(catalogue->stitches[i].us, us))
            return i;
    }
    return 0;
}

struct hk_foundations hk_foundations_find(const struct hk_catalogue *catalogue)
{
    return (struct hk_foundations){stitch_find(catalogue, "ch"), stitch_find(catalogue, "co")};
}

size_t hk_foundation_stitch(struct hk_foundations foundations, const struct hk_fabric *fabric)
{
    return fabric->knit ? foundations.cast_on : foundations.chain;
}

const int64_t *hk_stripe_rows(const struct hk_stripes *stripes, struct hk_arena *arena)
{
    int64_t *rows = hk_arena_take(arena, stripes->count, sizeof *rows);
    for (size_t i = 0; rows && i < stripes->count; i++)
        rows[i] = stripes->stripes[i].rows;
    return rows;
}

/* ---- Lengths ------------------------------------------------------------------------------------------------- */

/* The context for converting the lengths of one line in one size. */
struct sizer {
    const struct hk_project *project;
    size_t line, size;
    struct hk_standing *standing;
    struct hk_arena *arena;
    struct hk_diags *diags;
};

static const struct hk_line *line_of(const struct sizer *sizer)
{
    return &sizer->project->lines[sizer->line];
}

/* Returns a swatch of the fabric that has no gauge; called when no gauge was found. */
static const struct hk_swatch *swatch_of(const struct hk_project *project, const struct hk_fabric *fabric)
{
    for (size_t i = 0; i < project->swatch_count; i++)
        if (project->swatches[i].fabric == fabric)
            return &project->swatches[i];
    return NULL;
}

static bool gauge_missing(const struct sizer *sizer, struct hk_cell cell, bool rows)
{
    const struct hk_line *line = line_of(sizer);
    hk_diags_add(sizer->diags, HK_CODE_GAUGE_MISSING, hk_cell_place(cell, 0),
                 "%s is given as a length, and no swatch of \"%s\" says how many %s that is",
                 hk_line_title(line, sizer->arena), line->fabric->name, rows ? "rows" : "stitches");
    const struct hk_swatch *worked = swatch_of(sizer->project, line->fabric);
    if (worked)
        hk_diags_hint(sizer->diags, "write the %s of swatch \"%s\" into swatches.csv, or its gauge, such as 18 x 24",
                      rows ? "height" : "width", worked->name);
    else
        hk_diags_hint(sizer->diags,
                      "work a swatch of \"%s\" with a %s mm tool and write its gauge, such as 18 x 24, into swatches.csv; "
                      "or write a number of %s here",
                      line->fabric->name, hk_number_text(line->tool_mm, 6).text, rows ? "rows" : "stitches");
    return false;
}

static double swatch_gauge(const struct hk_swatch *swatch, bool rows)
{
    return rows ? swatch->gauge_rows : swatch->gauge_stitches;
}

static double finished_m(const struct hk_swatch *swatch, bool rows, int64_t count)
{
    return 0.1 * (double)count / swatch_gauge(swatch, rows);
}

static bool whole(double ratio)
{
    return fabs(ratio - rint(ratio)) < 1e-6;
}

/* Converts an amount to a number of stitches or rows, not rounded. *rounded receives the length and the swatch. */
static bool amount_count(const struct sizer *sizer, const struct hk_graded *graded, bool rows, double *count,
                         struct hk_rounded *rounded)
{
    struct hk_amount amount = graded->by_size[sizer->size];
    *count = (double)amount.count;
    if (amount.kind != HK_AMOUNT_LENGTH)
        return true;
    const struct hk_line *line = line_of(sizer);
    rounded->apart = 1;
    rounded->swatch = rows ? line->height_gauge : line->width_gauge;
    if (!rounded->swatch)
        return gauge_missing(sizer, graded->cell, rows);
    rounded->asked_m = amount.length_m;
    rounded->inches = whole(16 * amount.length_m / HK_M_PER_INCH);
    /* Slightly larger, so that a decimal half rounds up in binary too. */
    *count = 10 * amount.length_m * swatch_gauge(rounded->swatch, rows) * (1 + 1e-12);
    if (*count <= (double)HK_COUNT_MOST)
        return true;
    hk_diags_add(sizer->diags, HK_CODE_COUNT_TOO_LARGE, hk_cell_place(graded->cell, 0), "%s comes to more than 10^12 %s",
                 hk_line_title(line, sizer->arena), rows ? "rows" : "stitches");
    return false;
}

static void rounded_close(struct hk_rounded *rounded, bool rows, int64_t count)
{
    if (!rounded->swatch)
        return;
    rounded->count = count;
    rounded->finished_m = finished_m(rounded->swatch, rows, count);
}

static int64_t nearest_whole(double count)
{
    return (int64_t)fmax(1, floor(count + 0.5));
}

/* Sets the rows; if not stated, they follow from the shaping. */
static bool size_rows(const struct sizer *sizer, struct hk_sized *sized)
{
    double count;
    sized->work.rows = HK_NOT_STATED;
    if (!line_of(sizer)->rows.given)
        return true;
    if (!amount_count(sizer, &line_of(sizer)->rows, true, &count, &sized->height))
        return false;
    sized->work.rows = nearest_whole(count);
    rounded_close(&sized->height, true, sized->work.rows);
    return true;
}

static bool size_end(const struct sizer *sizer, struct hk_sized *sized)
{
    const struct hk_graded *end = &line_of(sizer)->end_stitches;
    double count;
    sized->work.end_stitches = HK_NOT_STATED;
    if (!end->given || hk_graded_none(end, sizer->size))
        return true;
    if (!amount_count(sizer, end, false, &count, &sized->end_width))
        return false;
    sized->work.end_stitches = nearest_whole(count);
    rounded_close(&sized->end_width, false, sized->work.end_stitches);
    return true;
}

static bool no_width_fits(const struct sizer *sizer, const struct hk_sized *sized)
{
    const struct hk_line *line = line_of(sizer);
    hk_diags_add(sizer->diags, HK_CODE_WIDTH, hk_cell_place(line->stitches.cell, 0),
                 "%s: no width%s fits all %" PRId64 " rows of \"%s\"",
                 hk_line_title_in(sizer->project, sizer->line, sizer->size, sizer->arena),
                 line->start == HK_START_CONTINUE ? "" : " near this one", sized->work.rows, line->fabric->name);
    hk_diags_hint(sizer->diags, line->start == HK_START_CONTINUE
                                    ? "leave the cell empty to see what does not fit"
                                    : "write a number of stitches to see what does not fit");
    return false;
}

static enum hk_counting nearest(const struct sizer *sizer, const struct hk_work *work, double asked, int64_t *width,
                                int64_t *apart)
{
    enum hk_counting answer = hk_count_nearest(work, asked, width, apart);
    sizer->diags->out_of_memory |= answer == HK_COUNTING_NO_MEMORY;
    return answer;
}

/* Returns the distance between widths that fit row 1 near the width asked for; 1 if not known. */
static int64_t repeat_of(const struct sizer *sizer, const struct hk_sized *sized, double asked)
{
    struct hk_work edge = sized->work;
    int64_t width, apart = 1;
    edge.start = HK_START_EDGE;
    edge.rows = 1;
    return nearest(sizer, &edge, asked, &width, &apart) == HK_COUNTING_DONE ? apart : 1;
}

/*
 * A line that continues has the width of the line before. Returns false with a finding when a length stated for it
 * differs by more than one repeat of the fabric.
 */
static bool width_continues(const struct sizer *sizer, const struct hk_sized *sized, double asked)
{
    const struct hk_line *line = line_of(sizer);
    double width = (double)sized->work.stitches, repeat = (double)repeat_of(sizer, sized, asked);
    if (line->start != HK_START_CONTINUE || fabs(width - asked) <= fmax(1, repeat))
        return true;
    hk_diags_add(sizer->diags, HK_CODE_COUNT_DIFFERS, hk_cell_place(line->stitches.cell, 0),
                 "%s: %s cm is asked for, and row 1 on the stitches of the line before leaves %" PRId64
                 ", which is %s cm",
                 hk_line_title_in(sizer->project, sizer->line, sizer->size, sizer->arena),
                 hk_number_text(100 * sized->width.asked_m, 6).text, sized->work.stitches,
                 hk_number_text(100 * sized->width.finished_m, 4).text);
    hk_diags_hint(sizer->diags, "leave the cell empty, or change the line before");
    return false;
}

static bool size_stitches(const struct sizer *sizer, struct hk_sized *sized)
{
    const struct hk_graded *stitches = &line_of(sizer)->stitches;
    double count;
    sized->work.stitches = HK_NOT_STATED;
    if (!stitches->given)
        return true;
    if (!amount_count(sizer, stitches, false, &count, &sized->width))
        return false;
    if (!sized->width.swatch) {
        sized->work.stitches = stitches->by_size[sizer->size].count;
        return true;
    }
    enum hk_counting answer = nearest(sizer, &sized->work, count, &sized->work.stitches, &sized->width.apart);
    if (answer == HK_COUNTING_NO_MEMORY)
        return false;
    if (answer == HK_COUNTING_SPENT) {
        hk_spent_report(stitches->cell, sizer->diags);
        return false;
    }
    if (answer != HK_COUNTING_DONE)
        return no_width_fits(sizer, sized);
    rounded_close(&sized->width, false, sized->work.stitches);
    return width_continues(sizer, sized, count);
}

/* ---- Stitches of other lines ------------------------------------------------------------------------------------ */

/*
 * The number of stitches picked up along row ends is adjusted to the nearest width that fits the fabric, at most half a
 * repeat away.
 */
static void fit_standing(const struct sizer *sizer, struct hk_sized *sized)
{
    const struct hk_on *on = &line_of(sizer)->on;
    bool choice = false;
    int64_t width, apart;
    for (size_t i = 0; i < on->count; i++)
        choice |= on->parts[i].kind == HK_ON_ROWS && sizer->standing->parts[i] > 0;
    struct hk_work whole = sized->work;
    whole.rows = whole.rows == HK_NOT_STATED ? 1 : whole.rows;
    double asked = (double)sizer->standing->stitches;
    if (choice && nearest(sizer, &whole, asked, &width, &apart) == HK_COUNTING_DONE &&
        2 * fabs((double)width - asked) <= (double)apart)
        sizer->standing->fitted = width;
}

static bool size_standing(const struct sizer *sizer, struct hk_sized *sized)
{
    const struct hk_line *line = line_of(sizer);
    fit_standing(sizer, sized);
    int64_t comes = sizer->standing->fitted,
            stated = line->stitches.given ? line->stitches.by_size[sizer->size].count : comes;
    sized->work.stitches = comes;
    if (stated == comes)
        return true;
    const char *title = hk_line_title_in(sizer->project, sizer->line, sizer->size, sizer->arena);
    hk_diags_add(sizer->diags, HK_CODE_COUNT_DIFFERS, hk_cell_place(line->stitches.cell, 0),
                 "%s: %" PRId64 " stitches are stated, and %s %s %" PRId64, title, stated,
                 hk_standing_text(sizer->project, sizer->line, sizer->standing, sizer->arena),
                 comes == sizer->standing->stitches ? "are" : "come to", comes);
    hk_diags_hint(sizer->diags, "write %" PRId64 ", or leave the cell empty", comes);
    return false;
}

/* ---- Shaping ----------------------------------------------------------------------------------------------------- */

/* The known values of a line with shaping every few rows. */
struct shape {
    struct hk_shaping shaping; /* by: above 0 until its direction is known */
    int64_t from, to, rows;    /* HK_NOT_STATED: to compute */
};

/* Returns the shaping in words: `2 stitches every 5 rows`, `every 4 and 6 rows`. */
static const char *shape_text(const struct shape *shape, struct hk_arena *arena)
{
    int64_t by = shape->shaping.by < 0 ? -shape->shaping.by : shape->shaping.by;
    const int64_t *after = shape->shaping.after;
    const char *stitches = by == 1 ? "stitch" : "stitches";
    const char *text =
        after[0] != after[1] ? hk_arena_print(arena, "%" PRId64 " %s every %" PRId64 " and %" PRId64 " rows", by,
                                              stitches, after[0], after[1])
        : after[0] == 1      ? hk_arena_print(arena, "%" PRId64 " %s every row", by, stitches)
                             : hk_arena_print(arena, "%" PRId64 " %s every %" PRId64 " rows", by, stitches, after[0]);
    return text ? text : "";
}

static bool same_in_all(const struct hk_graded *graded, size_t sizes)
{
    for (size_t size = 1; graded->given && size < sizes; size++)
        if (graded->by_size[size].kind != graded->by_size[0].kind ||
            graded->by_size[size].count != graded->by_size[0].count ||
            graded->by_size[size].length_m != graded->by_size[0].length_m)
            return false;
    return true;
}

/* Returns the title without a size if the error is the same in every size, so that it is reported once. */
static const char *shape_title(const struct sizer *sizer)
{
    const struct hk_line *line = line_of(sizer);
    size_t sizes = sizer->project->size_count;
    bool same = line->stitches.given && line->on.count == 0 && same_in_all(&line->stitches, sizes) &&
                same_in_all(&line->rows, sizes) && same_in_all(&line->end_stitches, sizes) &&
                same_in_all(&line->every.by, sizes) && same_in_all(&line->every.after[0], sizes) &&
                same_in_all(&line->every.after[1], sizes);
    return same ? hk_line_title(line, sizer->arena)
                : hk_line_title_in(sizer->project, sizer->line, sizer->size, sizer->arena);
}

static bool shape_differs(const struct sizer *sizer, const struct shape *shape, const char *what)
{
    hk_diags_add(sizer->diags, HK_CODE_COUNT_DIFFERS, hk_cell_place(line_of(sizer)->every.cell, 0), "%s: %s: %s",
                 shape_title(sizer), shape_text(shape, sizer->arena), what ? what : "");
    return false;
}

/* Computes the number of shapings from the stitches at both ends. */
static bool shape_count(const struct sizer *sizer, const struct shape *shape, int64_t *count)
{
    int64_t way = shape->to - shape->from, by = shape->shaping.by, apart = way < 0 ? -way : way;
    int sign = line_of(sizer)->every.sign;
    *count = apart / by;
    if (apart % by != 0) {
        shape_differs(sizer, shape,
                      hk_arena_print(sizer->arena,
                                     "from %" PRId64 " to %" PRId64 " are %" PRId64
                                     " stitches, no multiple of %" PRId64,
                                     shape->from, shape->to, apart, by));
        hk_diags_hint(sizer->diags, "end on %" PRId64 " or %" PRId64,
                      shape->to + (way < 0 ? apart % by : -(apart % by)),
                      shape->to + (way < 0 ? apart % by - by : by - apart % by));
        return false;
    }
    if (way == 0 || sign == 0 || (way < 0) == (sign < 0))
        return true;
    shape_differs(sizer, shape,
                  hk_arena_print(sizer->arena, "it says %s, and from %" PRId64 " to %" PRId64 " it %s",
                                 sign < 0 ? "dec" : "inc", shape->from, shape->to, way < 0 ? "narrows" : "widens"));
    hk_diags_hint(sizer->diags, "write %s, or other end_stitches", way < 0 ? "dec" : "inc");
    return false;
}

/* Returns false with a finding when the stated ends and rows do not agree. */
static bool shape_agrees(const struct sizer *sizer, const struct shape *shape, int64_t count)
{
    int64_t times = hk_shaping_count(&shape->shaping, shape->rows), by = shape->shaping.by;
    if (times == count)
        return true;
    bool narrows = shape->to < shape->from || (shape->to == shape->from && line_of(sizer)->every.sign < 0);
    int64_t end = shape->from + (narrows ? -by : by) * times;
    shape_differs(sizer, shape,
                  hk_arena_print(sizer->arena,
                                 "%" PRId64 " rows shape %" PRId64 " times, from %" PRId64 " to %" PRId64
                                 ", and end_stitches says %" PRId64,
                                 shape->rows, times, shape->from, end, shape->to));
    if (count == 0)
        hk_diags_hint(sizer->diags, "write 0 stitches for a size that is not shaped");
    else
        hk_diags_hint(sizer->diags, "write %" PRId64 " rows for %" PRId64 " times",
                      hk_shaping_row(&shape->shaping, count), count);
    return false;
}

/* Reports a size without end_stitches when only these give the direction of the shaping. */
static bool shape_either(const struct sizer *sizer, const struct shape *shape)
{
    hk_diags_add(sizer->diags, HK_CODE_CHOICE, hk_cell_place(line_of(sizer)->every.cell, 0),
                 "%s: %s may widen or narrow", shape_title(sizer), shape_text(shape, sizer->arena));
    hk_diags_hint(sizer->diags, "write inc or dec before it, or the end_stitches of each size");
    return false;
}

static bool shape_narrows_away(const struct sizer *sizer, const struct shape *shape)
{
    shape_differs(sizer, shape,
                  hk_arena_print(sizer->arena, "from %" PRId64 " stitches in %" PRId64 " rows leaves none", shape->from,
                                 shape->rows));
    hk_diags_hint(sizer->diags, "write fewer rows, or shape less often");
    return false;
}

/* Rounds an end in centimetres to the nearest step of the shaping. */
static void shape_length(struct hk_sized *sized, struct shape *shape)
{
    if (!sized->end_width.swatch)
        return;
    double steps = rint((double)(shape->to - shape->from) / (double)shape->shaping.by);
    shape->to = shape->from + (int64_t)steps * shape->shaping.by;
    rounded_close(&sized->end_width, false, shape->to);
}

/* Returns false with a finding when the numbers could overflow the sums below. */
static bool shape_bounded(const struct sizer *sizer, const struct shape *shape)
{
    const int64_t *after = shape->shaping.after;
    if (shape->from < 1) {
        shape_differs(sizer, shape, "nothing says how many stitches it begins with");
        hk_diags_hint(sizer->diags, "write the stitches of its first row");
        return false;
    }
    if (shape->rows <= HK_PART_ROWS_MOST && after[0] <= HK_PART_ROWS_MOST && after[1] <= HK_PART_ROWS_MOST &&
        shape->shaping.by <= (int64_t)HK_SPOTS_MOST)
        return true;
    hk_diags_add(sizer->diags, HK_CODE_COUNT_TOO_LARGE, hk_cell_place(line_of(sizer)->every.cell, 0),
                 "%s: too much to count", shape_title(sizer));
    hk_diags_hint(sizer->diags, "at most a million stitches in a row, and a million rows, can be counted");
    return false;
}

/* Returns false with a finding when rows are not stated and there is no shaping to compute them from. */
static bool size_unshaped(const struct sizer *sizer, const struct hk_sized *sized)
{
    if (sized->work.rows != HK_NOT_STATED)
        return true;
    hk_diags_add(sizer->diags, HK_CODE_CELL_MISSING, hk_cell_place(line_of(sizer)->rows.cell, 0),
                 "%s: nothing says how many rows",
                 hk_line_title_in(sizer->project, sizer->line, sizer->size, sizer->arena));
    hk_diags_hint(sizer->diags, "write the rows of a size that is not shaped");
    return false;
}

static bool shape_close(const struct sizer *sizer, struct hk_sized *sized, struct shape *shape)
{
    int64_t count;
    int sign = line_of(sizer)->every.sign;
    if (shape->to != HK_NOT_STATED) {
        shape_length(sized, shape);
        if (!shape_count(sizer, shape, &count))
            return false;
        if (count == 0 && shape->rows == HK_NOT_STATED)
            return size_unshaped(sizer, sized);
        if (shape->rows != HK_NOT_STATED && !shape_agrees(sizer, shape, count))
            return false;
        sign = shape->to < shape->from ? -1 : 1;
    } else {
        count = hk_shaping_count(&shape->shaping, shape->rows);
        if (sign == 0)
            return shape_either(sizer, shape);
        if (sign < 0 && count >= (shape->from + shape->shaping.by - 1) / shape->shaping.by)
            return shape_narrows_away(sizer, shape);
    }
    sized->work.rows = shape->rows != HK_NOT_STATED ? shape->rows : hk_shaping_row(&shape->shaping, count);
    shape->shaping.by *= sign;
    sized->work.end_stitches = count > 0 ? shape->from + count * shape->shaping.by : HK_NOT_STATED;
    sized->work.shaping = count > 0 ? shape->shaping : (struct hk_shaping){0};
    return true;
}

static bool size_shape(const struct sizer *sizer, struct hk_sized *sized)
{
    const struct hk_every *every = &line_of(sizer)->every;
    const struct hk_work *work = &sized->work;
    int64_t by = every->given ? every->by.by_size[sizer->size].count : 0;
    bool ends = work->end_stitches != HK_NOT_STATED;
    if (by == 0 || (!ends && work->rows == HK_NOT_STATED))
        return size_unshaped(sizer, sized);
    int64_t after = every->after[0].by_size[sizer->size].count;
    struct shape shape = {
        .shaping = {by, {after, every->alternately ? every->after[1].by_size[sizer->size].count : after}},
        .from = work->stitches != HK_NOT_STATED ? work->stitches : work->below,
        .to = work->end_stitches,
        .rows = work->rows,
    };
    return shape_bounded(sizer, &shape) && shape_close(sizer, sized, &shape);
}

bool hk_line_sized(const struct hk_project *project, size_t line, size_t size, int64_t below,
                   const struct hk_follow *before, struct hk_standing *standing, struct hk_foundations foundations,
                   int64_t *effort, struct hk_sized *sized, struct hk_arena *arena, struct hk_diags *diags)
{
    const struct hk_line *of = &project->lines[line];
    struct sizer sizer = {project, line, size, standing, arena, diags};
    struct hk_sized made = {
        .times = of->times.given ? of->times.by_size[size].count : 1,
        .work = {.fabric = of->fabric,
                 .catalogue = project->catalogue,
                 .start = of->start,
                 .below = below,
                 .before = before,
                 .stripe_rows = hk_stripe_rows(&of->yarn, arena),
                 .stripe_count = of->yarn.count,
                 .foundation_stitch = hk_foundation_stitch(foundations, of->fabric),
                 .effort = effort},
    };
    if (standing)
        made.work.made = standing->made;
    if (!made.work.stripe_rows || !size_rows(&sizer, &made) || !size_end(&sizer, &made) ||
        !(standing ? size_standing(&sizer, &made) : size_stitches(&sizer, &made)) || !size_shape(&sizer, &made))
        return false;
    *sized = made;
    return true;
}

/* ---- Reporting the rounded lengths ------------------------------------------------------------------------------- */

/* Returns a length in tenths without a trailing zero, `45.5`; inches as asked for in sixteenths. */
static const char *length_text(double length, struct hk_arena *arena)
{
    double tenths = rint(10 * length); /* ties to even, as in tables */
    if (tenths < 1)
        return "under 0.1";
    return hk_arena_print(arena, "%s", hk_number_text(tenths / 10, 15).text);
}

enum shown { COUNT, ASKED_CM, FINISHED_CM, ASKED_IN, FINISHED_IN };

static const char *rounded_text(const struct hk_rounded *rounded, enum shown shown, struct hk_arena *arena)
{
    if (!rounded->swatch)
        return "-";
    switch (shown) {
    case COUNT:
        return hk_arena_print(arena, "%" PRId64, rounded->count);
    case ASKED_CM:
        return length_text(100 * rounded->asked_m, arena);
    case FINISHED_CM:
        return length_text(100 * rounded->finished_m, arena);
    case ASKED_IN:
        return hk_arena_print(arena, "%s", hk_number_text(rint(16 * rounded->asked_m / HK_M_PER_INCH) / 16, 6).text);
    case FINISHED_IN:
        return length_text(rounded->finished_m / HK_M_PER_INCH, arena);
    }
    return "";
}

/* One of a line's lengths, and its count. */
struct length {
    const struct hk_rounded *(*of)(const struct hk_sized *sized);
    const char *one, *many;
};

static const struct hk_rounded *pick_width(const struct hk_sized *sized)
{
    return &sized->width;
}

static const struct hk_rounded *pick_end(const struct hk_sized *sized)
{
    return &sized->end_width;
}

static const struct hk_rounded *pick_height(const struct hk_sized *sized)
{
    return &sized->height;
}

static const struct length width = {pick_width, "stitch", "stitches"};
static const struct length end = {pick_end, "stitch at the end", "stitches at the end"};
static const struct length height = {pick_height, "row", "rows"};

/* Returns graded notation; "" when out of memory. */
static const char *graded_text(const struct hk_sized *by_size, size_t count, const struct length *length, enum shown shown,
                               struct hk_arena *arena)
{
    const char **texts = hk_arena_take(arena, count, sizeof *texts);
    for (size_t i = 0; texts && i < count; i++)
        texts[i] = rounded_text(length->of(&by_size[i]), shown, arena);
    return texts ? hk_graded_write(texts, count, arena) : "";
}

/* Returns ", a multiple of 6 + 1" when the widths that fit are more than one stitch apart; else "". */
static const char *repeat_text(const struct hk_rounded *rounded, struct hk_arena *arena)
{
    if (rounded->apart <= 1)
        return "";
    int64_t plus = rounded->count % rounded->apart;
    const char *text = plus ? hk_arena_print(arena, ", a multiple of %" PRId64 " + %" PRId64 ",", rounded->apart, plus)
                            : hk_arena_print(arena, ", a multiple of %" PRId64 ",", rounded->apart);
    return text ? text : "";
}

/*
 * Returns `before` (NULL for the first) followed by a clause: `81 (90) stitches for 45 (50) cm, finished 45 (50) cm, by
 * swatch "plain"`.
 */
static const char *clause(const char *before, const struct hk_project *project, const struct hk_line *line,
                          const struct hk_sized *by_size, const struct length *length, struct hk_arena *arena)
{
    size_t count = project->size_count;
    const struct hk_rounded *any = NULL;
    bool inches = true;
    for (size_t i = 0; i < count; i++) {
        const struct hk_rounded *rounded = length->of(&by_size[i]);
        any = !any && rounded->swatch ? rounded : any;
        inches &= !rounded->swatch || rounded->inches;
    }
    if (!any)
        return before;
    const struct hk_swatch *swatch = any->swatch;
    const char *tool = swatch->tool_mm == line->tool_mm
                           ? ""
                           : hk_arena_print(arena, " (%s mm)", hk_number_text(swatch->tool_mm, 6).text);
    const char *counts = graded_text(by_size, count, length, COUNT, arena);
    return hk_arena_print(arena, "%s%s%s %s%s for %s %s, finished %s %s by swatch \"%s\"%s", before ? before : "",
                          before ? "; " : "", counts, strcmp(counts, "1") == 0 ? length->one : length->many,
                          repeat_text(any, arena),
                          graded_text(by_size, count, length, inches ? ASKED_IN : ASKED_CM, arena), inches ? "in" : "cm",
                          graded_text(by_size, count, length, inches ? FINISHED_IN : FINISHED_CM, arena),
                          inches ? "in" : "cm", swatch->name, tool ? tool : "");
}

void hk_rounding_report(const struct hk_project *project, size_t line, const struct hk_sized *by_size,
                        struct hk_arena *arena, struct hk_diags *diags)
{
    const struct hk_line *of = &project->lines[line];
    const char *text = clause(NULL, project, of, by_size, &width, arena);
    text = clause(text, project, of, by_size, &end, arena);
    bool wide = text;
    text = clause(text, project, of, by_size, &height, arena);
    if (text)
        hk_diags_add(diags, HK_CODE_LENGTHS, hk_cell_place(wide ? of->stitches.cell : of->rows.cell, 0),
                     "%s is worked as %s", hk_line_title(of, arena), text);
}
