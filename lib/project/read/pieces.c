/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pieces.csv (hankful(1), FILES). Lines of one piece need not stand together: the line before a line is the
 * previous line of the same piece.
 */
#include "project/read/pieces.h"

#include "project/gauge.h"
#include "project/read/every_cell.h"
#include "project/read/fields.h"
#include "project/read/on_cell.h"
#include "project/read/yarn_cell.h"

#include <inttypes.h>
#include <string.h>

enum { PIECE, FABRIC, YARN, TOOL, STITCHES, ROWS, TIMES, PART, START, END_STITCHES, ENDS, CARRY, ON, EVERY, SHAPING };
static const struct hk_field fields[] = {
    [PIECE] = {"piece", HK_FIELD_FILLED, HK_FIELD_NAME(hk_line, piece), HK_FIELD_KEEPS(hk_line, cell)},
    [FABRIC] = {"fabric", HK_FIELD_FILLED, HK_FIELD_FABRIC(hk_line, fabric)},
    [YARN] = {"yarn", HK_FIELD_FILLED},
    [TOOL] = {"tool", HK_FIELD_FILLED, HK_FIELD_TOOL(hk_line, tool_mm)},
    [STITCHES] = {"stitches", HK_FIELD_REQUIRED, HK_FIELD_GRADED(hk_line, stitches), .lengths = true},
    [ROWS] = {"rows", HK_FIELD_REQUIRED, HK_FIELD_GRADED(hk_line, rows), .lengths = true},
    [TIMES] = {"times", HK_FIELD_GRADED(hk_line, times)},
    [PART] = {"part", HK_FIELD_NAME(hk_line, part)},
    [START] = {"start"},
    [END_STITCHES] = {"end_stitches", HK_FIELD_GRADED(hk_line, end_stitches), .lengths = true},
    [ENDS] = {"ends", HK_FIELD_GRADED(hk_line, ends)},
    [CARRY] = {"carry", HK_FIELD_WORD(hk_line, carry, "no", "yes")},
    [ON] = {"on"},
    [EVERY] = {"every"},
    [SHAPING] = {"shaping"},
    {.name = NULL},
};

/* The previous line of the same piece; SIZE_MAX where there is none. */
static size_t line_before(const struct hk_project *project, const char *piece)
{
    for (size_t i = project->line_count; i > 0; i--) {
        if (hk_text_same(project->lines[i - 1].piece, piece))
            return i - 1;
    }
    return SIZE_MAX;
}

static bool read_start(struct hk_reading_row row, struct hk_line *line)
{
    struct hk_cell cell = hk_reading_cell(row, START);
    bool on = !hk_cell_empty(line->on.cell);
    line->start = on ? HK_START_EDGE : line->first ? HK_START_CHAIN : HK_START_CONTINUE;
    if (!hk_reading_start(row.reading, cell, &line->start))
        return false;
    if (on && line->start != HK_START_EDGE) {
        hk_diags_add(row.reading->diags, HK_CODE_START, hk_cell_place(cell, 0), "\"on\" says already what it stands on");
        hk_diags_hint(row.reading->diags, "leave this cell empty, or the cell \"on\"");
        return false;
    }
    if (!line->first || line->start != HK_START_CONTINUE)
        return true;
    hk_diags_add(row.reading->diags, HK_CODE_START, hk_cell_place(cell, 0),
                 "the first line of \"%s\" has no line before to continue on", line->piece);
    hk_diags_hint(row.reading->diags, "write chain, edge or ring, or leave the cell empty");
    return false;
}

static void stitches_needed(struct hk_reading_row row, const struct hk_line *line)
{
    if (!hk_cell_empty(line->stitches.cell) || !hk_cell_empty(line->on.cell) || line->start == HK_START_RING ||
        line->start == HK_START_CONTINUE || (line->fabric && hk_row_without_stitches(hk_fabric_row(line->fabric, 0))))
        return;
    hk_diags_add(row.reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(line->stitches.cell, 0),
                 *line->part ? "\"%s\", part \"%s\" does not say its stitches" : "\"%s\" does not say its stitches",
                 line->piece, line->part);
    hk_diags_hint(row.reading->diags, line->start == HK_START_EDGE ? "write how many stitches of the edge it stands on"
                                                                   : "write how many its first row leaves");
}

/*
 * "0" means that a size does without: it then has no taper. A maker who writes 0 for a point would get a part of full
 * width, so 0 is refused.
 */
static void end_stitches_meant(struct hk_reading_row row, const struct hk_line *line)
{
    struct hk_reading *reading = row.reading;
    struct hk_cell cell = line->end_stitches.cell;
    size_t count = reading->project->size_count;
    const char **texts = hk_arena_take(&reading->project->arena, count, sizeof *texts);
    if (!texts || !line->end_stitches.given || hk_is_letter(*hk_reading_text(reading, cell)) ||
        !hk_graded_split(cell, count, texts, &reading->project->arena, reading->diags))
        return;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(texts[i], "0") != 0)
            continue;
        hk_diags_add(reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "a taper down to 0 stitches");
        hk_diags_hint(reading->diags, "write 1 for a point, or - for a size that has no taper");
        return;
    }
}

/* ---- How many times ---- */

/* A number of one or two digits; *end is the place behind it. */
static int64_t small_number(const char *text, const char **end)
{
    int64_t number = 0;
    for (*end = text; hk_is_digit(**end) && *end < text + 2; ++*end)
        number = 10 * number + (**end - '0');
    return hk_is_digit(**end) ? 0 : number;
}

/* The number in "sleeves x2", "sleeve (2)", "cuffs (make 2)" and "2 x strap"; 0 in other names. */
static int64_t times_in_name(const char *name)
{
    static const char *const before[] = {" x", " x ", " make ", " (", " (x", " (x ", " (make "};
    const char *end;
    int64_t times = small_number(name, &end);
    end += *end == ' ';
    if (times > 0 && hk_text_starts(end, "x ") && !hk_is_digit(end[2]))
        return times;
    for (const char *at = strchr(name, ' '); at; at = strchr(at + 1, ' ')) {
        for (size_t i = 0; i < sizeof before / sizeof before[0]; i++) {
            bool ribbed = before[i][1] == 'x' && at > name && hk_is_digit(at[-1]); /* "rib 2 x 2" */
            if (ribbed || !hk_text_starts(at, before[i]))
                continue;
            times = small_number(at + strlen(before[i]), &end);
            if (times > 0 && strcmp(end, before[i][1] == '(' ? ")" : "") == 0)
                return times;
        }
    }
    return 0;
}

/* A number in a name does not count: a maker who writes "sleeves x2" means two, and would get one. */
static void warn_of_name(struct hk_reading_row row, struct hk_cell cell, const char *name)
{
    int64_t times = times_in_name(hk_reading_text(row.reading, cell));
    if (times < 2)
        return;
    hk_diags_add(row.reading->diags, HK_CODE_UNUSUAL, hk_cell_place(cell, 0),
                 "\"%s\" is worked once: a number in its name counts for nothing", name);
    hk_diags_hint(row.reading->diags, "write %" PRId64 " in the column times, or 1 if once is right", times);
}

/* The size whose count of times is above one; SIZE_MAX where there is none. */
static size_t size_repeated(const struct hk_project *project, const struct hk_line *line)
{
    for (size_t i = 0; line->times.given && i < project->size_count; i++) {
        if (line->times.by_size[i].count > 1)
            return i;
    }
    return SIZE_MAX;
}

/* Each line has its own times, and a line that continues on another is nearly always worked as often. */
static void warn_of_times(struct hk_reading_row row, const struct hk_line *line)
{
    const struct hk_project *project = row.reading->project;
    if (!hk_cell_empty(line->times.cell))
        return;
    if (line->first)
        warn_of_name(row, line->cell, line->piece);
    warn_of_name(row, hk_reading_cell(row, PART), line->part);
    size_t size = line->start == HK_START_CONTINUE && !line->first ? size_repeated(project, &project->lines[line->before])
                                                                    : SIZE_MAX;
    if (size == SIZE_MAX)
        return;
    const struct hk_line *before = &project->lines[line->before];
    int64_t count = before->times.by_size[size].count;
    hk_diags_add(row.reading->diags, HK_CODE_UNUSUAL, hk_cell_place(line->times.cell, 0),
                 "%s\"%s\" is worked once, and the line that it continues on %" PRId64 " times", *line->part ? "part " : "",
                 *line->part ? line->part : line->piece, count);
    hk_diags_hint(row.reading->diags, "write %" PRId64 " in the column times, or 1 if once is right", count);
}

/* A length cannot be compared with the number of stitches that the cell `on` gives. */
static void stitches_counted(struct hk_reading_row row, const struct hk_line *line)
{
    const struct hk_graded *stitches = &line->stitches;
    bool length = false;
    for (size_t i = 0; stitches->given && i < row.reading->project->size_count; i++)
        length |= stitches->by_size[i].kind == HK_AMOUNT_LENGTH;
    if (!length || hk_cell_empty(line->on.cell))
        return;
    hk_diags_add(row.reading->diags, HK_CODE_UNIT_WRONG, hk_cell_place(stitches->cell, 0),
                 "a length, and \"on\" says how many stitches");
    hk_diags_hint(row.reading->diags,
                  "leave this cell empty, or write the stitches as a check of what \"on\" comes to");
}

/* The rows may follow from the stitches at both ends and the rows between shapings. */
static void rows_needed(struct hk_reading_row row, const struct hk_line *line)
{
    bool every = !hk_cell_empty(line->every.cell);
    if (!hk_cell_empty(line->rows.cell) || (every && !hk_cell_empty(line->end_stitches.cell)))
        return;
    hk_diags_add(row.reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(line->rows.cell, 0), "the cell \"rows\" is empty");
    hk_diags_hint(row.reading->diags,
                  every ? "write how many, or the end_stitches that they lead to"
                        : "every row of pieces.csv needs one, but where end_stitches and every say it");
}

static void every_meant(struct hk_reading_row row, const struct hk_line *line)
{
    if (!line->every.given || line->every.sign != 0 || !line->every.by.given || !hk_cell_empty(line->end_stitches.cell))
        return;
    hk_diags_add(row.reading->diags, HK_CODE_CHOICE, hk_cell_place(line->every.cell, 0), "\"%s\" may widen or narrow",
                 hk_reading_text(row.reading, line->every.cell));
    hk_diags_hint(row.reading->diags, "write inc or dec before it, or the end_stitches");
}

/* The place of shaping in a row. It has no effect on stitches, and a round has no ends. */
static void read_shaping(struct hk_reading_row row, struct hk_line *line)
{
    static const char *const words[] = {"both ends", "one end", "within"};
    static const enum hk_shaping_at places[] = {HK_SHAPING_AT_BOTH_ENDS, HK_SHAPING_AT_ONE_END, HK_SHAPING_WITHIN};
    struct hk_cell cell = hk_reading_cell(row, SHAPING);
    size_t choice;
    if (hk_cell_empty(cell) || !hk_reading_choice(row.reading, cell, words, sizeof words / sizeof words[0], &choice))
        return;
    line->shaping = places[choice];
    if (line->every.both_ends && line->shaping != HK_SHAPING_AT_BOTH_ENDS) {
        hk_diags_add(row.reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0),
                     "\"%s\", and the cell \"every\" shapes at each end", words[choice]);
        hk_diags_hint(row.reading->diags, "leave this cell empty, or \"each end\" out of the other");
        return;
    }
    if (!line->fabric || hk_fabric_way(line->fabric) != HK_WAY_ROUNDS)
        return;
    hk_diags_add(row.reading->diags, HK_CODE_UNUSUAL, hk_cell_place(cell, 0),
                 "\"%s\" is worked in rounds, which have no ends: the cell has no effect", line->fabric->name);
    hk_diags_hint(row.reading->diags, "leave the cell empty");
}

/* A line with a mistake is kept too, so that later lines find their piece. Nothing is counted then. */
static void read_row(struct hk_reading_row row, struct hk_line *line)
{
    struct hk_project *project = row.reading->project;
    hk_fields_read(fields, row, line);
    line->before = line_before(project, line->piece);
    line->first = line->before == SIZE_MAX;
    if (!line->first)
        line->piece = project->lines[line->before].piece; /* one spelling for one piece */
    hk_yarn_cell(row.reading, hk_reading_cell(row, YARN), false, &line->yarn);
    line->width_gauge = hk_gauge_swatch(project, line->fabric, line->tool_mm, false);
    line->height_gauge = hk_gauge_swatch(project, line->fabric, line->tool_mm, true);
    hk_on_cell(row.reading, hk_reading_cell(row, ON), &line->on);
    hk_every_cell(row.reading, hk_reading_cell(row, EVERY), &line->every);
    end_stitches_meant(row, line);
    stitches_counted(row, line);
    rows_needed(row, line);
    every_meant(row, line);
    read_shaping(row, line);
    if (read_start(row, line))
        stitches_needed(row, line);
    warn_of_times(row, line);
}

void hk_pieces_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    bool known;
    bool required = !project->written && !project->pattern_unread;
    const struct hk_table *table = hk_fields_table(reading, "pieces.csv", fields, required, &known);
    size_t rows = table ? hk_table_rows(table) : 0;
    struct hk_line *lines = hk_arena_take(&project->arena, project->line_count + rows, sizeof *lines);
    if (lines && project->line_count > 0)
        memcpy(lines, project->lines, project->line_count * sizeof *lines);
    project->lines = lines;
    for (size_t i = 0; project->lines && i < rows; i++) {
        read_row((struct hk_reading_row){reading, table, i}, &project->lines[project->line_count]);
        project->line_count++;
    }
    if (project->lines)
        hk_on_find(reading);
    if (table)
        hk_reading_doubled(reading, table, "times");
}
