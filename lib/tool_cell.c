/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a hook or needle is called, to its diameter. The diameter is what counts; labels are the trade's and several
 * diameters may share one, which is an error rather than a guess.
 */
#include "catalogue.h"
#include "diags.h"
#include "quantity.h"
#include "text.h"

#include <math.h>
#include <string.h>

#define TOOL_MOST_MM 100.0 /* thicker than any hook or needle, arms included: a slip of the unit */

struct label_cell {
    struct hk_cell cell;
    const char *text; /* made plain */
    const struct hk_catalogue *catalogue;
    struct hk_arena *arena;
    struct hk_diags *diags;
};

/* What two spellings share: lower case, "10 1/2" as "10.5", without blanks, dashes and a leading "us" or "size". */
static char *label_fold(struct hk_arena *arena, const char *text)
{
    char *folded = hk_arena_take(arena, strlen(text) + 1, 1);
    if (!folded)
        return NULL;
    size_t length = 0;
    for (const char *c = text; *c; c++) {
        if (strncmp(c, " 1/2", 4) == 0) {
            folded[length++] = '.';
            folded[length++] = '5';
            c += 3;
        } else if (*c != ' ' && *c != '-') {
            folded[length++] = *c >= 'A' && *c <= 'Z' ? (char)(*c - 'A' + 'a') : *c;
        }
    }
    folded[length] = '\0';
    if (hk_text_starts(folded, "us") && folded[2])
        folded += 2;
    if (hk_text_starts(folded, "size") && folded[4])
        folded += 4;
    return folded;
}

/* "n/p15" is meant by n/p15, n15, p15, n and p; "8" and "steel7" by themselves only. Both folded. */
static bool label_means(const char *label, const char *key)
{
    if (strcmp(label, key) == 0)
        return true;
    size_t letters = strspn(label, "abcdefghijklmnopqrstuvwxyz/");
    for (size_t i = 0; i < letters; i += 2) {
        if (i + 1 < letters && label[i + 1] != '/')
            return false;
        if (label[i] == key[0] && (!key[1] || strcmp(key + 1, label + letters) == 0))
            return true;
    }
    return false;
}

/* The diameters that a label may mean, ascending, none twice. */
static size_t label_diameters(const struct label_cell *l, const char *text, double **tools_mm)
{
    const char *key = label_fold(l->arena, text);
    *tools_mm = hk_arena_take(l->arena, l->catalogue->tool_count, sizeof **tools_mm);
    size_t count = 0;
    for (size_t i = 0; key && *tools_mm && i < l->catalogue->tool_count; i++) {
        const struct hk_tool *tool = &l->catalogue->tools[i];
        const char *label = label_fold(l->arena, tool->label);
        if (!label || !label_means(label, key))
            continue;
        size_t at = count;
        while (at > 0 && (*tools_mm)[at - 1] > tool->tool_mm)
            at--;
        if (at > 0 && (*tools_mm)[at - 1] == tool->tool_mm)
            continue;
        memmove(*tools_mm + at + 1, *tools_mm + at, (count - at) * sizeof **tools_mm);
        (*tools_mm)[at] = tool->tool_mm;
        count++;
    }
    return count;
}

static const char *tool_label(const void *catalogue, size_t i)
{
    return ((const struct hk_catalogue *)catalogue)->tools[i].label;
}

static void label_unknown(const struct label_cell *l)
{
    hk_diags_add(l->diags, HK_NAME_UNKNOWN, hk_cell_place(l->cell, 0), "there is no hook or needle \"%s\"", l->text);
    /* With fewer letters every label is near. */
    size_t nearest = strlen(l->text) < 3 ? SIZE_MAX
                                         : hk_text_nearest(l->text, l->catalogue->tool_count, tool_label, l->catalogue);
    if (nearest != SIZE_MAX)
        hk_diags_hint(l->diags, "did you mean \"%s\"? its diameter, such as 5 mm, would do too",
                      l->catalogue->tools[nearest].label);
    else
        hk_diags_hint(l->diags, "write its diameter, such as 5 mm");
}

static void label_shared(const struct label_cell *l, const double *tools_mm, size_t count)
{
    const char *list = "";
    for (size_t i = 0; i < count && list; i++)
        list = hk_arena_print(l->arena, "%s%s%.6g", list, i == 0 ? "" : i + 1 < count ? ", " : " or ", tools_mm[i]);
    hk_diags_add(l->diags, HK_CHOICE, hk_cell_place(l->cell, 0), "\"%s\" may be %s mm", l->text, list ? list : "");
    hk_diags_hint(l->diags, "write the diameter, such as %.6g mm", tools_mm[0]);
}

static bool label_read(const struct label_cell *l, double *tool_mm)
{
    double *tools_mm;
    size_t count = label_diameters(l, l->text, &tools_mm);
    if (l->arena->lost)
        return false;
    if (count == 1)
        *tool_mm = tools_mm[0];
    else if (count == 0)
        label_unknown(l);
    else
        label_shared(l, tools_mm, count);
    return count == 1;
}

/* A number alone is a diameter to one reader and a US size to another. */
static void unit_missing(const struct label_cell *l)
{
    double *tools_mm;
    size_t count = label_diameters(l, l->text, &tools_mm);
    hk_diags_add(l->diags, HK_UNIT_MISSING, hk_cell_place(l->cell, 0), "the tool \"%s\" has no unit", l->text);
    if (count == 1)
        hk_diags_hint(l->diags, "write %s mm, or US %s, which is %.6g mm", l->text, l->text, tools_mm[0]);
    else
        hk_diags_hint(l->diags, "write %s mm", l->text);
}

static bool diameter_read(const struct label_cell *l, double *tool_mm)
{
    const char *cursor = l->text;
    double length_m;
    if (hk_number_scan(&cursor, l->cell.table && hk_table_decimal_comma(l->cell.table), &length_m) && !*cursor) {
        unit_missing(l);
        return false;
    }
    if (!hk_quantity_cell(l->cell, HK_LENGTH, HK_POSITIVE, &length_m, l->diags))
        return false;
    /* To the nanometre, so that 2.25 mm is the same double from whatever unit: tools are compared by diameter. */
    double diameter_mm = round(length_m * 1e9) / 1e6;
    if (diameter_mm == 0 || diameter_mm > TOOL_MOST_MM) {
        hk_diags_add(l->diags, HK_RANGE, hk_cell_place(l->cell, 0), "%s is no diameter of a hook or needle", l->text);
        hk_diags_hint(l->diags, "write it like 5 mm");
        return false;
    }
    *tool_mm = diameter_mm;
    return true;
}

bool hk_tool_cell(struct hk_cell cell, const struct hk_catalogue *catalogue, double *tool_mm, struct hk_diags *diags)
{
    if (hk_cell_empty(cell))
        return false;
    struct hk_arena scratch = {0};
    struct label_cell l = {cell, hk_text_plain(&scratch, cell.text, NULL), catalogue, &scratch, diags};
    bool number = l.text && *l.text && strchr("0123456789.,+-", *l.text);
    bool read = l.text && (number ? diameter_read(&l, tool_mm) : label_read(&l, tool_mm));
    if (scratch.lost)
        diags->lost = true;
    hk_arena_free(&scratch);
    return read;
}
