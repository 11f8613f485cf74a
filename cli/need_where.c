/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "need_text.h"

#include "bar.h"
#include "number.h"

#include <stdlib.h>
#include <string.h>

#define WIDTH_WITH_BARS 96 /* a narrower table of parts has no room for bars */

static void report_lines(const struct hk_need *need, struct text *text)
{
    const bool bars = text->width >= WIDTH_WITH_BARS, blocks = bar_blocks();
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "PIECE");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_LEFT, "ROLE");
    text_table_column(table, TEXT_RIGHT, "STITCHES");
    text_table_column(table, TEXT_RIGHT, "g");
    text_table_column(table, TEXT_RIGHT, "m");
    text_table_column(table, TEXT_RIGHT, "SHARE");
    text_table_column(table, TEXT_RIGHT, "ENOUGH g");
    if (bars)
        text_table_column(table, TEXT_LEFT, "%s", "");
    for (size_t i = 0; i < need->part_count; i++) {
        const struct hk_need_part *part = &need->parts[i];
        text_table_cell(table, "%s", part->piece);
        text_table_cell(table, "%s", part->part);
        text_table_cell(table, "%s", part->role_name);
        text_table_cell(table, "%s", part->stitches > 0 ? number_whole(part->stitches).text : "-");
        text_table_cell(table, "%s", number_unit(part->mass_g).text);
        text_table_cell(table, "%s", number_unit(part->length_m).text);
        text_table_cell(table, "%s", number_share(part->share).text);
        text_table_cell(table, "%s", number_unit(part->enough_g).text);
        if (bars)
            text_table_cell(table, "%s", bar_of(part->share, blocks).text);
    }
    text_table_print(table);
}

const char *need_stitch_name(const struct hk_need_stitch *stitch)
{
    return *stitch->stitch ? stitch->stitch : "ends";
}

/* The yarn of each kind of stitch in one size. */
static void report_stitches(const struct hk_need *need, struct text *text)
{
    const bool blocks = bar_blocks();
    struct text_table *table = text_table(text);
    text_gap(text);
    text_table_column(table, TEXT_KEY, "STITCH");
    text_table_column(table, TEXT_LEFT, "ROLE");
    text_table_column(table, TEXT_RIGHT, "g");
    text_table_column(table, TEXT_RIGHT, "m");
    text_table_column(table, TEXT_RIGHT, "SHARE");
    text_table_column(table, TEXT_LEFT, "%s", "");
    for (size_t i = 0; i < need->stitch_count; i++) {
        const struct hk_need_stitch *stitch = &need->stitches[i];
        text_table_cell(table, "%s", need_stitch_name(stitch));
        text_table_cell(table, "%s", stitch->role_name);
        text_table_cell(table, "%s", number_unit(stitch->mass_g).text);
        text_table_cell(table, "%s", number_unit(stitch->length_m).text);
        text_table_cell(table, "%s", number_share(stitch->share).text);
        text_table_cell(table, "%s", bar_of(stitch->share, blocks).text);
    }
    text_table_print(table);
}

static int compare_parts(const struct hk_need_part *a, const struct hk_need_part *b)
{
    const int piece = strcmp(a->piece, b->piece), part = piece ? piece : strcmp(a->part, b->part);
    return part ? part : (a->role > b->role) - (a->role < b->role);
}

static int by_part(const void *a, const void *b)
{
    const struct hk_need_part *x = *(const struct hk_need_part *const *)a, *y = *(const struct hk_need_part *const *)b;
    const int order = compare_parts(x, y);
    return order ? order : (x > y) - (x < y);
}

/* The lines of one piece, part and role in all sizes: `count` lines starting at `parts`. */
struct lines {
    const struct hk_need_part **parts;
    size_t count;
};

static int by_first(const void *a, const void *b)
{
    const struct hk_need_part *x = ((const struct lines *)a)->parts[0], *y = ((const struct lines *)b)->parts[0];
    return (x > y) - (x < y);
}

/* Groups the sorted parts. Returns the number of groups. */
static size_t group(const struct hk_need_part **parts, size_t count, struct lines *lines)
{
    size_t groups = 0;
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || compare_parts(parts[i - 1], parts[i]) != 0)
            lines[groups++] = (struct lines){parts + i, 0};
        lines[groups - 1].count++;
    }
    qsort(lines, groups, sizeof *lines, by_first);
    return groups;
}

/* Adds up the share of the lines in each size; -1 for a size that has none of them. */
static void add_shares(const struct lines *lines, double *shares, size_t size_count)
{
    for (size_t size = 0; size < size_count; size++)
        shares[size] = -1;
    for (size_t i = 0; i < lines->count; i++) {
        double *share = &shares[lines->parts[i]->size];
        *share = (*share < 0 ? 0 : *share) + lines->parts[i]->share;
    }
}

static void fill_shares(const struct hk_need *need, const struct lines *lines, size_t groups, double *shares,
                        struct text_table *table)
{
    text_table_column(table, TEXT_KEY, "PIECE");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_KEY, "ROLE");
    for (size_t size = 0; size < need->size_count; size++)
        text_table_column(table, TEXT_RIGHT, "%s", need->sizes[size]);
    for (size_t i = 0; i < groups; i++) {
        text_table_cell(table, "%s", lines[i].parts[0]->piece);
        text_table_cell(table, "%s", lines[i].parts[0]->part);
        text_table_cell(table, "%s", lines[i].parts[0]->role_name);
        add_shares(&lines[i], shares, need->size_count);
        for (size_t size = 0; size < need->size_count; size++)
            text_table_cell(table, "%s", shares[size] < 0 ? "-" : number_share(shares[size]).text);
    }
}

static void report_shares(const struct hk_need *need, struct text *text)
{
    const size_t count = need->part_count;
    const struct hk_need_part **parts = calloc(count + 1, sizeof *parts);
    struct lines *lines = calloc(count + 1, sizeof *lines);
    double *shares = calloc(need->size_count + 1, sizeof *shares);
    if (parts && lines && shares) {
        struct text_table *table = text_table(text);
        for (size_t i = 0; i < count; i++)
            parts[i] = &need->parts[i];
        qsort(parts, count, sizeof *parts, by_part);
        fill_shares(need, lines, group(parts, count, lines), shares, table);
        text_table_print(table);
    } else {
        text->failed = true;
    }
    free(parts);
    free(lines);
    free(shares);
}

void need_where_report(const struct work *work, struct text *text)
{
    text_gap(text);
    if (work->need->size_count == 1)
        text_heading(text, "Where the yarn goes: likely amounts, ends included");
    else if (work->size != HK_NO_SIZE)
        text_heading(text, "Where the yarn goes (size %s): likely amounts, ends included",
                     work->need->sizes[work->size]);
    else
        text_heading(text, "Where the yarn goes: share of each role's grams");
    text_gap(text);
    if (work->need->size_count == 1 || work->size != HK_NO_SIZE) {
        report_lines(work->need, text);
        report_stitches(work->need, text);
    } else {
        report_shares(work->need, text);
        text_gap(text);
        text_paragraph(text, "With --size, every line has its stitches, grams and metres.");
    }
}

