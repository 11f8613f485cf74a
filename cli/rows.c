/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include "number.h"

#include <inttypes.h>

/* Returns the run that contains the row, or NULL if the size has no such row. */
static const struct hk_row_run *run_of(const struct hk_line_count *line, int64_t row)
{
    for (size_t i = 0; i < line->run_count; i++)
        if (row >= line->runs[i].first && row <= line->runs[i].last)
            return &line->runs[i];
    return NULL;
}

/* Returns the last row before the stitch count changes in any size; 0 if no size has the row. */
static int64_t alike_until(const struct hk_tally *tally, size_t line, struct size_range sizes, int64_t row)
{
    int64_t until = 0;
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(tally, line, size);
        const struct hk_row_run *run = count.times ? run_of(&count, row) : NULL;
        if (run && (!until || run->last < until))
            until = run->last;
    }
    return until;
}

static void add_run(struct text_table *table, const struct hk_row_run *run, int64_t row, int64_t until)
{
    if (!run) {
        text_table_cell(table, "-");
        return;
    }
    const int64_t from = run->stitches + (row - run->first) * run->step;
    const int64_t to = from + (until - row) * run->step;
    if (from == to)
        text_table_cell(table, "%s", number_whole(from).text);
    else if (until == row + 1)
        text_table_cell(table, "%s, %s", number_whole(from).text, number_whole(to).text);
    else
        text_table_cell(table, "%s to %s, %+" PRId64, number_whole(from).text, number_whole(to).text, run->step);
}

static void add_every_row(struct text_table *table, const struct hk_tally *tally, size_t line, struct size_range sizes,
                          const char **part)
{
    int64_t until;
    for (int64_t row = 1; (until = alike_until(tally, line, sizes, row)) != 0; row = until + 1) {
        text_table_cell(table, "%s", *part);
        *part = "";
        if (row == until)
            text_table_cell(table, "row %s", number_whole(row).text);
        else
            text_table_cell(table, "rows %s-%s", number_whole(row).text, number_whole(until).text);
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_line_count count = hk_tally_line(tally, line, size);
            add_run(table, count.times ? run_of(&count, row) : NULL, row, until);
        }
    }
}

/* ---- The summary of a long line: its changes in place of its rows ---- */

enum { rows_long = 8 };

/*
 * The shaping of a line: from its first row to its last, the stitches added (-2: 2 fewer) and the rows between changes,
 * each as least and greatest. Without a change, `by` is {0, 0}.
 */
struct shaping {
    int64_t rows, from, to;
    int64_t by[2], after[2];
    int64_t changed; /* the row of the last change; 0: none yet */
};

static void shaping_change(struct shaping *shaping, int64_t row, int64_t by)
{
    if (!by)
        return;
    const int64_t after = row - shaping->changed;
    if (!shaping->by[0]) {
        shaping->by[0] = shaping->by[1] = by;
    } else {
        shaping->by[0] = by < shaping->by[0] ? by : shaping->by[0];
        shaping->by[1] = by > shaping->by[1] ? by : shaping->by[1];
        shaping->after[0] = !shaping->after[0] || after < shaping->after[0] ? after : shaping->after[0];
        shaping->after[1] = after > shaping->after[1] ? after : shaping->after[1];
    }
    shaping->changed = row;
}

static struct shaping shaping_of(const struct hk_line_count *line)
{
    struct shaping shaping = {0};
    int64_t before = 0;
    for (size_t i = 0; line->times && i < line->run_count; i++) {
        const struct hk_row_run *run = &line->runs[i];
        if (i == 0)
            shaping.from = run->stitches;
        else
            shaping_change(&shaping, run->first, run->stitches - before);
        if (run->step && run->last > run->first) {
            shaping_change(&shaping, run->first + 1, run->step);
            shaping_change(&shaping, run->first + 2, run->step);
            shaping.changed = run->last;
        }
        before = run->stitches + (run->last - run->first) * run->step;
        shaping.rows = run->last;
    }
    shaping.to = before;
    return shaping;
}

/* Returns whether any size changes its width; sets *steady to false if one both widens and narrows. */
static bool shaping_any(const struct hk_tally *tally, size_t line, struct size_range sizes, bool *steady)
{
    bool any = false;
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(tally, line, size);
        const struct shaping shaping = shaping_of(&count);
        *steady &= (shaping.by[0] < 0) == (shaping.by[1] < 0);
        any |= shaping.by[0] != 0;
    }
    return any;
}

/* Returns whether the rows of a line fill many lines of the table although every size only widens, or only narrows. */
static bool shaping_long(const struct hk_tally *tally, size_t line, struct size_range sizes)
{
    size_t lines = 0;
    for (int64_t row = 1, until; lines <= rows_long; row = until + 1, lines++) {
        until = alike_until(tally, line, sizes, row);
        if (!until)
            break;
    }
    bool steady = true;
    shaping_any(tally, line, sizes, &steady);
    return steady && lines > rows_long;
}

enum shaping_row { SHAPED_ROWS, SHAPED_FROM, SHAPED_TO, SHAPED_BY, SHAPED_AFTER };

static void add_shaping(struct text_table *table, const struct shaping *shaping, enum shaping_row what)
{
    const int64_t *const after = shaping->after, *const by = shaping->by;
    switch (what) {
    case SHAPED_ROWS:
        text_table_cell(table, "%s", number_whole(shaping->rows).text);
        return;
    case SHAPED_FROM:
        text_table_cell(table, "%s", number_whole(shaping->from).text);
        return;
    case SHAPED_TO:
        text_table_cell(table, "%s", number_whole(shaping->to).text);
        return;
    case SHAPED_BY:
        if (!by[0])
            text_table_cell(table, "-");
        else if (by[0] == by[1])
            text_table_cell(table, "%+" PRId64, by[0]);
        else
            text_table_cell(table, "%+" PRId64 ", %+" PRId64, by[0], by[1]);
        return;
    case SHAPED_AFTER:
        if (!after[0])
            text_table_cell(table, "-");
        else if (after[0] == after[1])
            text_table_cell(table, "%" PRId64, after[0]);
        else
            text_table_cell(table, "%" PRId64 "-%" PRId64, after[0], after[1]);
        return;
    }
}

static void shaping_rows(struct text_table *table, const struct hk_tally *tally, size_t line, struct size_range sizes,
                         const char **part)
{
    static const char *const names[] = {[SHAPED_ROWS] = "rows", [SHAPED_FROM] = "row 1", [SHAPED_TO] = "last row",
                                        [SHAPED_BY] = "changes by", [SHAPED_AFTER] = "every (rows)"};
    bool steady = true;
    const bool any = shaping_any(tally, line, sizes, &steady);
    for (int what = SHAPED_ROWS; what <= (any ? SHAPED_AFTER : SHAPED_FROM); what++) {
        text_table_cell(table, "%s", *part);
        text_table_cell(table, "%s", what == SHAPED_FROM && !any ? "each row" : names[what]);
        *part = "";
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_line_count count = hk_tally_line(tally, line, size);
            const struct shaping shaping = shaping_of(&count);
            if (count.times)
                add_shaping(table, &shaping, (enum shaping_row)what);
            else
                text_table_cell(table, "-");
        }
    }
}

void rows_print(struct text_table *table, const struct hk_tally *tally, size_t line, struct size_range sizes,
                bool every_row, const char **part)
{
    if (!every_row && shaping_long(tally, line, sizes))
        shaping_rows(table, tally, line, sizes, part);
    else
        add_every_row(table, tally, line, sizes, part);
}
