/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the yarn goes: by piece and by stitch, stacked in every size; the figures by part and stitch. */
#include "need_text.h"
#include "number.h"
#include "report/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FILLS_MOST 8 /* names with a fill of their own; the last stands for all others where there are more */
#define BAR_HEIGHT 22.0
#define WIDTH 340.0
#define LEFT 64.0

/* The likely mass under one name in one size. */
struct portion {
    size_t size;
    const char *name;
    double mass_g;
};

/* What a picture stacks: portions, and their names in the order in which they first occur. */
struct stack {
    struct portion *portions;
    size_t portion_count;
    const char **names;
    size_t name_count;
};

static bool stack_new(struct stack *stack, size_t most)
{
    *stack = (struct stack){.portions = calloc(most + 1, sizeof *stack->portions),
                            .names = calloc(most + 1, sizeof *stack->names)};
    return stack->portions && stack->names;
}

static void stack_free(struct stack *stack)
{
    free(stack->portions);
    free(stack->names);
}

static size_t name_index(const struct stack *stack, const char *name)
{
    size_t i = 0;
    while (i < stack->name_count && strcmp(stack->names[i], name) != 0)
        i++;
    return i;
}

static void stack_add(struct stack *stack, size_t size, const char *name, double mass_g)
{
    if (name_index(stack, name) == stack->name_count)
        stack->names[stack->name_count++] = name;
    stack->portions[stack->portion_count++] = (struct portion){size, name, mass_g};
}

static size_t fill_count(const struct stack *stack)
{
    return stack->name_count < FILLS_MOST ? stack->name_count : FILLS_MOST;
}

/* Returns the fill of a name: its own, or the last. */
static size_t fill_of(const struct stack *stack, const char *name)
{
    const size_t index = name_index(stack, name);
    return index < FILLS_MOST ? index : FILLS_MOST - 1;
}

static double mass_of(const struct stack *stack, size_t size, size_t fill)
{
    double mass_g = 0;
    for (size_t i = 0; i < stack->portion_count; i++)
        if (stack->portions[i].size == size && (fill == SIZE_MAX || fill_of(stack, stack->portions[i].name) == fill))
            mass_g += stack->portions[i].mass_g;
    return mass_g;
}

static void draw_bar(struct svg *svg, const struct stack *stack, size_t size, double y, double units_a_gram)
{
    double x = LEFT;
    for (size_t i = 0; i < fill_count(stack); i++) {
        const double width = units_a_gram * mass_of(stack, size, i);
        if (width > 0)
            svg_filled(svg, i, x, y, width, 16);
        x += width;
    }
}

static void draw_key(struct svg *svg, const struct stack *stack, double y)
{
    for (size_t i = 0; i < fill_count(stack); i++) {
        const bool others = i == FILLS_MOST - 1 && stack->name_count > FILLS_MOST;
        svg_filled(svg, i, LEFT, y + 16 * (double)i, 12, 11);
        svg_name(svg, LEFT + 18, y + 10 + 16 * (double)i, SVG_START, WIDTH - LEFT - 18,
                 others ? "all others" : stack->names[i]);
    }
}

static void draw(struct report *report, const struct stack *stack, const char *id, const char *title)
{
    const struct size_range sizes = pipeline_sizes(report->work);
    const double bottom = 4 + BAR_HEIGHT * (double)(sizes.end - sizes.first);
    double most = 0;
    for (size_t size = sizes.first; size < sizes.end; size++)
        most = fmax(most, mass_of(stack, size, SIZE_MAX));
    if (!(most > 0))
        return;
    struct svg svg =
        page_picture(report, id, WIDTH, bottom + 12 + 16 * (double)fill_count(stack), title,
                     "A bar for each size, as long as its likely mass, divided as the key names. The figures are in "
                     "the table below.");
    for (size_t i = 0; i < fill_count(stack); i++)
        svg_fill(&svg, i, colour_shown("", "", i));
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const double y = 4 + BAR_HEIGHT * (double)(size - sizes.first);
        svg_name(&svg, LEFT - 6, y + 12, SVG_END, LEFT - 6, report->work->need->sizes[size]);
        draw_bar(&svg, stack, size, y, (WIDTH - LEFT - 8) / most);
    }
    draw_key(&svg, stack, bottom + 8);
    page_picture_end(report, &svg);
}

static void draw_pieces(struct report *report)
{
    const struct hk_need *need = report->work->need;
    struct stack stack;
    if (stack_new(&stack, need->part_count)) {
        for (size_t i = 0; i < need->part_count; i++)
            stack_add(&stack, need->parts[i].size, need->parts[i].piece, need->parts[i].mass_g);
        draw(report, &stack, "where-pieces", "Yarn of each piece, stacked");
    } else {
        report->markup.failed = true;
    }
    stack_free(&stack);
}

static void draw_stitches(struct report *report)
{
    const struct hk_need *need = report->work->need;
    struct stack stack;
    if (stack_new(&stack, need->stitch_count)) {
        for (size_t i = 0; i < need->stitch_count; i++)
            stack_add(&stack, need->stitches[i].size, need_stitch_name(&need->stitches[i]), need->stitches[i].mass_g);
        draw(report, &stack, "where-stitches", "Yarn of each kind of stitch, stacked");
    } else {
        report->markup.failed = true;
    }
    stack_free(&stack);
}

/* ---- The figures ---- */

/* One entry of a list of the JSON: the names that tell it apart, and its figures. */
struct entry {
    size_t size;
    const char *names[3];
    double mass_g, length_m, share;
};

static bool same_names(const struct entry *a, const struct entry *b)
{
    for (size_t i = 0; i < 3; i++)
        if (strcmp(a->names[i], b->names[i]) != 0)
            return false;
    return true;
}

/* A table of entries: a row for each set of names, a column for each size; one size has its metres and shares too. */
struct figures {
    const char *caption, *list;
    const char *heads[3];
    struct entry *entries;
    size_t count;
};

static void figures_head(struct report *report, const struct figures *figures, struct size_range sizes)
{
    page_table(report, figures->caption);
    for (size_t i = 0; i < 3; i++)
        if (*figures->heads[i])
            page_head(report, figures->heads[i]);
    for (size_t size = sizes.first; size < sizes.end; size++)
        page_head_figure(report, report->work->need->sizes[size]);
    if (sizes.end - sizes.first == 1) {
        page_head_figure(report, "m");
        page_head_figure(report, "Share");
    }
    page_body(report);
}

/* Writes the row of the entry at `first`, and marks those that it shows. */
static void figures_row(struct report *report, const struct figures *figures, struct size_range sizes, size_t first,
                        bool *written)
{
    const struct entry *of = &figures->entries[first];
    page_row(report);
    page_name(report, of->names[0]);
    for (size_t i = 1; i < 3; i++)
        if (*figures->heads[i])
            page_cell(report, of->names[i]);
    for (size_t size = sizes.first; size < sizes.end; size++) {
        size_t at = first;
        while (at < figures->count &&
               (written[at] || figures->entries[at].size != size || !same_names(&figures->entries[at], of)))
            at++;
        if (at == figures->count) {
            page_blank(report);
            continue;
        }
        written[at] = true;
        page_figure(report, number_digits(figures->entries[at].mass_g, 3).text, "need:/%s/%zu/mass_g", figures->list,
                    at);
        if (sizes.end - sizes.first == 1) {
            page_figure(report, number_digits(of->length_m, 3).text, "need:/%s/%zu/length_m", figures->list, at);
            page_figure(report, number_share(of->share).text, "need:/%s/%zu/share", figures->list, at);
        }
    }
    page_row_end(report);
}

static void figures_table(struct report *report, const struct figures *figures)
{
    const struct size_range sizes = pipeline_sizes(report->work);
    bool *written = calloc(figures->count + 1, sizeof *written);
    report->markup.failed |= !written || !figures->entries;
    if (written && figures->entries) {
        figures_head(report, figures, sizes);
        for (size_t i = 0; i < figures->count; i++)
            if (!written[i])
                figures_row(report, figures, sizes, i, written);
        page_table_end(report);
    }
    free(written);
}

static void parts_table(struct report *report)
{
    const struct hk_need *need = report->work->need;
    struct figures figures = {.caption = "Likely grams of each part, ends included",
                              .list = "parts",
                              .heads = {"Piece", "Part", "Yarn"},
                              .count = need->part_count};
    figures.entries = calloc(need->part_count + 1, sizeof *figures.entries);
    for (size_t i = 0; figures.entries && i < need->part_count; i++) {
        const struct hk_need_part *part = &need->parts[i];
        figures.entries[i] = (struct entry){
            part->size, {part->piece, part->part, part->role_name}, part->mass_g, part->length_m, part->share};
    }
    figures_table(report, &figures);
    free(figures.entries);
}

static void stitches_table(struct report *report)
{
    const struct hk_need *need = report->work->need;
    struct figures figures = {.caption = "Likely grams of each kind of stitch",
                              .list = "stitches",
                              .heads = {"Stitch", "Yarn", ""},
                              .count = need->stitch_count};
    figures.entries = calloc(need->stitch_count + 1, sizeof *figures.entries);
    for (size_t i = 0; figures.entries && i < need->stitch_count; i++) {
        const struct hk_need_stitch *stitch = &need->stitches[i];
        figures.entries[i] = (struct entry){stitch->size,
                                            {need_stitch_name(stitch), stitch->role_name, ""},
                                            stitch->mass_g,
                                            stitch->length_m,
                                            stitch->share};
    }
    figures_table(report, &figures);
    free(figures.entries);
}

void report_where(struct report *report)
{
    page_section(report, "where", "Where the yarn goes");
    draw_pieces(report);
    page_folded(report, "The figures of every part");
    parts_table(report);
    page_folded_end(report);
    draw_stitches(report);
    page_folded(report, "The figures of every kind of stitch");
    stitches_table(report);
    page_folded_end(report);
    page_section_end(report);
}
