/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "grading.h"

#include "number.h"

#include <stdlib.h>
#include <string.h>

const char *grading_name(enum grading_what what)
{
    static const char *const names[] = {
        [GRADING_WIDTH] = "width", [GRADING_END_WIDTH] = "end width", [GRADING_HEIGHT] = "height"};
    return names[what];
}

const char *grading_counted(enum grading_what what)
{
    return what == GRADING_HEIGHT ? "rows" : "stitches";
}

const struct hk_length_worked *grading_length(const struct hk_line_count *line, enum grading_what what)
{
    switch (what) {
    case GRADING_END_WIDTH:
        return &line->end_width;
    case GRADING_HEIGHT:
        return &line->height;
    case GRADING_WIDTH:
        break;
    }
    return &line->width;
}

bool grading_given(const struct work *work, size_t line, struct size_range sizes, enum grading_what what,
                   const char **swatch)
{
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(work->tally, line, size);
        const struct hk_length_worked *length = grading_length(&count, what);
        *swatch = length->swatch;
        if (length->count)
            return true;
    }
    return false;
}

enum shown { COUNT, REPEAT, ASKED_CM, ASKED_IN, FINISHED_CM, FINISHED_IN };

static void add_shown(struct text_table *table, const struct hk_length_worked *length, enum shown shown)
{
    static const struct number_step tenths = {1, -1};
    const int64_t plus = length->apart ? length->count % length->apart : 0;
    if (!length->count) {
        text_table_cell(table, "-");
        return;
    }
    switch (shown) {
    case COUNT:
        text_table_cell(table, "%s", number_whole(length->count).text);
        break;
    case REPEAT:
        if (plus)
            text_table_cell(table, "%s + %s", number_whole(length->apart).text, number_whole(plus).text);
        else
            text_table_cell(table, "%s", number_whole(length->apart).text);
        break;
    case ASKED_CM:
        text_table_cell(table, "%s", number_stepped(100 * length->asked_m, tenths, NUMBER_NEAREST).text);
        break;
    case ASKED_IN:
        text_table_cell(table, "%s", number_stated(number_rounded(length->asked_m / HK_M_PER_INCH,
                                                                  (struct number_step){1, -4}, NUMBER_NEAREST)).text);
        break;
    case FINISHED_CM:
        text_table_cell(table, "%s", number_stepped(100 * length->finished_m, tenths, NUMBER_NEAREST).text);
        break;
    case FINISHED_IN:
        text_table_cell(table, "%s", number_stepped(length->finished_m / HK_M_PER_INCH, tenths, NUMBER_NEAREST).text);
        break;
    }
}

/* A row of the table: one property of a length in every size. */
static void add_row(struct text_table *table, const struct work *work, size_t line, struct size_range sizes,
                    enum grading_what what, enum shown shown, const char **part)
{
    text_table_cell(table, "%s", *part);
    *part = "";
    switch (shown) {
    case COUNT:
        text_table_cell(table, "%s%s", what == GRADING_END_WIDTH ? "end " : "", grading_counted(what));
        break;
    case REPEAT:
        text_table_cell(table, "in multiples of");
        break;
    case ASKED_CM:
        text_table_cell(table, "%s asked, cm", grading_name(what));
        break;
    case ASKED_IN:
        text_table_cell(table, "%s asked, in", grading_name(what));
        break;
    case FINISHED_CM:
        text_table_cell(table, "%s, cm", grading_name(what));
        break;
    case FINISHED_IN:
        text_table_cell(table, "%s, in", grading_name(what));
        break;
    }
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(work->tally, line, size);
        add_shown(table, grading_length(&count, what), shown);
    }
}

/* Returns whether a repeat of more than one stitch rounds the width. */
static bool repeats(const struct work *work, size_t line, struct size_range sizes, enum grading_what what)
{
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(work->tally, line, size);
        if (grading_length(&count, what)->apart > 1)
            return true;
    }
    return false;
}

static bool asked_in_inches(const struct work *work, size_t line, struct size_range sizes, enum grading_what what)
{
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(work->tally, line, size);
        const struct hk_length_worked *length = grading_length(&count, what);
        if (length->count && !length->inches)
            return false;
    }
    return true;
}

void grading_rows(struct text_table *table, const struct work *work, size_t line, struct size_range sizes, bool counts,
                  const char **part)
{
    for (int i = 0; i < grading_whats; i++) {
        const enum grading_what what = (enum grading_what)i;
        const char *swatch;
        if (!grading_given(work, line, sizes, what, &swatch))
            continue;
        const bool inches = asked_in_inches(work, line, sizes, what);
        add_row(table, work, line, sizes, what, inches ? ASKED_IN : ASKED_CM, part);
        if (counts)
            add_row(table, work, line, sizes, what, COUNT, part);
        if (repeats(work, line, sizes, what))
            add_row(table, work, line, sizes, what, REPEAT, part);
        add_row(table, work, line, sizes, what, FINISHED_CM, part);
        add_row(table, work, line, sizes, what, FINISHED_IN, part);
    }
}

static bool any_given(const struct work *work, size_t line, struct size_range sizes)
{
    const char *swatch;
    for (int what = 0; what < grading_whats; what++)
        if (grading_given(work, line, sizes, (enum grading_what)what, &swatch))
            return true;
    return false;
}

bool grading_any(const struct work *work, struct size_range sizes)
{
    for (size_t line = 0; line < hk_tally_lines(work->tally); line++)
        if (any_given(work, line, sizes))
            return true;
    return false;
}

static void add_line(struct text_table *table, const struct work *work, size_t line, struct size_range sizes,
                     struct text *text)
{
    const struct hk_line_count count = hk_tally_line(work->tally, line, sizes.first);
    char *title = text_format("%s%s%s", count.piece, *count.part ? ", " : "", count.part);
    const char *part = title ? title : "";
    text->failed |= !title;
    grading_rows(table, work, line, sizes, true, &part);
    free(title);
}

struct met {
    const char *swatch;
    size_t place;
};

static int by_place(const void *a, const void *b)
{
    const struct met *x = a, *y = b;
    return (x->place > y->place) - (x->place < y->place);
}

static int by_swatch(const void *a, const void *b)
{
    const int order = strcmp(((const struct met *)a)->swatch, ((const struct met *)b)->swatch);
    return order ? order : by_place(a, b);
}

/* The swatches that convert lengths to counts, each once, in the order of first use. */
static size_t swatches_met(const struct work *work, struct size_range sizes, struct met *met)
{
    size_t count = 0, kept = 0;
    for (size_t i = 0; i < hk_tally_lines(work->tally) * grading_whats; i++) {
        const char *swatch;
        if (grading_given(work, i / grading_whats, sizes, (enum grading_what)(i % grading_whats), &swatch))
            met[count++] = (struct met){swatch, i};
    }
    qsort(met, count, sizeof *met, by_swatch);
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || strcmp(met[kept - 1].swatch, met[i].swatch) != 0)
            met[kept++] = met[i];
    qsort(met, kept, sizeof *met, by_place);
    return kept;
}

/*
 * Formats the names in quotes: "a", "b" and "c". Returns NULL if there are none or memory ran out; the text records the
 * latter.
 */
static char *swatch_names(const struct work *work, struct size_range sizes, struct text *text)
{
    char *names = NULL;
    struct met *met = calloc(hk_tally_lines(work->tally) * grading_whats + 1, sizeof *met);
    const size_t count = met ? swatches_met(work, sizes, met) : 0;
    text->failed |= !met;
    for (size_t i = 0; i < count && !text->failed; i++)
        text->failed |= !text_append(&names, "%s\"%s\"", i == 0 ? "" : i + 1 < count ? ", " : " and ", met[i].swatch);
    free(met);
    return names;
}

void grading_swatches(const struct work *work, struct size_range sizes, struct text *text)
{
    char *names = swatch_names(work, sizes, text);
    if (names) {
        text_gap(text);
        text_paragraph(text, "Lengths are turned into stitches and rows by the gauge of %s %s.",
                       strstr(names, "\" and \"") ? "the swatches" : "swatch", names);
    }
    free(names);
}

void grading_print(const struct work *work, struct size_range sizes, struct text *text)
{
    struct text_table *table = NULL;
    for (size_t line = 0; line < hk_tally_lines(work->tally); line++) {
        if (!any_given(work, line, sizes))
            continue;
        if (!table) {
            text_gap(text);
            text_heading(text, "Grading: the lengths of pieces.csv as stitches and rows");
            table = text_table(text);
            text_table_column(table, TEXT_KEY, "PART");
            text_table_column(table, TEXT_KEY, "MEASURED");
            for (size_t size = sizes.first; size < sizes.end; size++)
                text_table_column(table, TEXT_RIGHT, "%s", hk_project_size(work->project, size));
        }
        add_line(table, work, line, sizes, text);
    }
    text_table_print(table);
    grading_swatches(work, sizes, text);
}

json_t *grading_json(struct json *json, const struct hk_line_count *line)
{
    json_t *lengths = json_make_array(json);
    for (int what = 0; what < grading_whats; what++) {
        const struct hk_length_worked *length = grading_length(line, (enum grading_what)what);
        if (!length->count)
            continue;
        json_t *object = json_make_object(json);
        json_put_text(json, object, "what", grading_name((enum grading_what)what));
        json_put_text(json, object, "swatch", length->swatch);
        json_put_whole(json, object, "count", length->count);
        json_put_whole(json, object, "apart", length->apart);
        json_put_real(json, object, "asked_m", length->asked_m);
        json_put_real(json, object, "finished_m", length->finished_m);
        json_add(json, lengths, object);
    }
    return lengths;
}
