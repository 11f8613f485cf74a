/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Converts the name of a hook or needle to its diameter. Several diameters may share a trade label, which is an error
 * rather than a guess.
 */
#include "base/diags.h"
#include "base/text.h"
#include "catalogue/catalogue.h"
#include "input/quantity.h"

#include <math.h>
#include <string.h>

#define SAME_MM 1e-6
#define TOOL_MOST_MM 100.0 /* thicker than any hook or needle, so a wrong unit */

struct tool_text {
    struct hk_span span;
    const struct hk_catalogue *catalogue;
    struct hk_arena *arena;
    struct hk_diags *diags;
};

static struct hk_place place(const struct tool_text *t)
{
    return hk_span_place(&t->span, t->span.text);
}

/*
 * Returns the normalised form of a label: lower case, "10 1/2" as "10.5", without blanks, dashes and a leading "us" or
 * "size".
 */
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
            folded[length++] = hk_lower(*c);
        }
    }
    folded[length] = '\0';
    if (hk_text_starts(folded, "us") && folded[2])
        folded += 2;
    if (hk_text_starts(folded, "size") && folded[4])
        folded += 4;
    return folded;
}

/*
 * Returns true when the key may mean the label, both normalised: n/p15, n15, p15, n and p mean "n/p15"; "8" and
 * "steel7" match only themselves.
 */
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

/* Finds the diameters that the text may mean as a label, ascending, without duplicates. Returns their number. */
static size_t label_diameters(const struct tool_text *t, double **tools_mm)
{
    const char *key = label_fold(t->arena, t->span.text);
    *tools_mm = hk_arena_take(t->arena, t->catalogue->tool_count, sizeof **tools_mm);
    size_t count = 0;
    for (size_t i = 0; key && *tools_mm && i < t->catalogue->tool_count; i++) {
        const struct hk_tool *tool = &t->catalogue->tools[i];
        const char *label = label_fold(t->arena, tool->label);
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

static void label_unknown(const struct tool_text *t)
{
    const char *text = t->span.text;
    hk_diags_add(t->diags, HK_CODE_NAME_UNKNOWN, place(t), "there is no hook or needle \"%s\"", text);
    /* With fewer letters every label is near, so there is no suggestion. */
    size_t nearest =
        strlen(text) < 3 ? SIZE_MAX : hk_text_nearest(text, t->catalogue->tool_count, tool_label, t->catalogue);
    if (nearest != SIZE_MAX)
        hk_diags_hint(t->diags, "did you mean \"%s\"? its diameter, such as 5 mm, would do too",
                      t->catalogue->tools[nearest].label);
    else
        hk_diags_hint(t->diags, "write its diameter, such as 5 mm");
}

/* Returns the diameters as a list: "5.75 or 6". */
static const char *diameters_list(const struct tool_text *t, const double *tools_mm, size_t count)
{
    const char *list = "";
    for (size_t i = 0; i < count && list; i++)
        list = hk_arena_print(t->arena, "%s%s%s", list, i == 0 ? "" : i + 1 < count ? ", " : " or ",
                              hk_number_text(tools_mm[i], 6).text);
    return list ? list : "";
}

static bool label_read(const struct tool_text *t, double *tool_mm)
{
    double *tools_mm;
    size_t count = label_diameters(t, &tools_mm);
    if (t->arena->out_of_memory)
        return false;
    if (count == 1) {
        *tool_mm = tools_mm[0];
    } else if (count == 0) {
        label_unknown(t);
    } else {
        hk_diags_add(t->diags, HK_CODE_CHOICE, place(t), "\"%s\" may be %s mm", t->span.text,
                     diameters_list(t, tools_mm, count));
        hk_diags_hint(t->diags, "write the diameter, such as %s mm", hk_number_text(tools_mm[0], 6).text);
    }
    return count == 1;
}

/* Reports a bare number, which may be a diameter or a US size. */
static void unit_missing(const struct tool_text *t)
{
    const char *text = t->span.text;
    double *tools_mm;
    size_t count = label_diameters(t, &tools_mm);
    hk_diags_add(t->diags, HK_CODE_UNIT_MISSING, place(t), "the tool \"%s\" has no unit", text);
    if (count == 1)
        hk_diags_hint(t->diags, "write %s mm, or US %s, which is %s mm", text, text, hk_number_text(tools_mm[0], 6).text);
    else
        hk_diags_hint(t->diags, "write %s mm", text);
}

/*
 * Warns of a diameter that suggests a misplaced decimal mark, though arm knitting and the finest thread use such sizes.
 */
static void warn_of_size(const struct tool_text *t, double diameter_mm)
{
    double least_mm = INFINITY, most_mm = 0, slipped_mm = 0;
    for (size_t i = 0; i < t->catalogue->tool_count; i++) {
        double tool_mm = t->catalogue->tools[i].tool_mm;
        least_mm = fmin(least_mm, tool_mm);
        most_mm = fmax(most_mm, tool_mm);
        if (fabs(10 * tool_mm - diameter_mm) < SAME_MM || fabs(tool_mm - 10 * diameter_mm) < SAME_MM)
            slipped_mm = tool_mm;
    }
    bool thick = diameter_mm > most_mm;
    if (!thick && diameter_mm >= least_mm)
        return;
    hk_diags_add(t->diags, HK_CODE_UNUSUAL, place(t), "%s, and the %s hook or needle listed has %s mm", t->span.text,
                 thick ? "thickest" : "thinnest", hk_number_text(thick ? most_mm : least_mm, 6).text);
    if (slipped_mm > 0)
        hk_diags_hint(t->diags, "did you mean %s mm? if not, it may stay", hk_number_text(slipped_mm, 6).text);
    else
        hk_diags_hint(t->diags, "if it is right, it may stay");
}

static bool diameter_read(const struct tool_text *t, double *tool_mm)
{
    const char *cursor = t->span.text;
    double length_m;
    if (hk_number_scan(&cursor, hk_span_decimal(&t->span), &length_m) && !*cursor) {
        unit_missing(t);
        return false;
    }
    if (!hk_quantity_read(&t->span, HK_DIM_LENGTH, HK_SIGN_POSITIVE, &length_m, t->diags))
        return false;
    /* Rounded to the nanometre, so that 2.25 mm is the same double in every unit: tools are compared by diameter. */
    double diameter_mm = round(length_m * 1e9) / 1e6;
    if (diameter_mm == 0 || diameter_mm > TOOL_MOST_MM) {
        hk_diags_add(t->diags, HK_CODE_RANGE, place(t), "%s is not a diameter of a hook or needle", t->span.text);
        hk_diags_hint(t->diags, "write it like 5 mm");
        return false;
    }
    warn_of_size(t, diameter_mm);
    *tool_mm = diameter_mm;
    return true;
}

static bool begins_as_number(const struct tool_text *t)
{
    return *t->span.text && strchr("0123456789.,+-", *t->span.text);
}

/* Splits "5 mm (US H-8)" or "H-8 (5 mm)", as patterns print it. Returns false when the text has another form. */
static bool pair_split(const struct tool_text *t, struct tool_text *diameter, struct tool_text *label)
{
    const char *text = t->span.text, *open = strchr(text, '(');
    size_t length = strlen(text);
    if (!open || open == text || text[length - 1] != ')')
        return false;
    size_t before = (size_t)(open - text);
    struct tool_text first = *t, second = *t;
    if (!hk_span_part(&t->span, 0, before, &first.span, t->arena) ||
        !hk_span_part(&t->span, before + 1, length - before - 2, &second.span, t->arena))
        return false;
    bool number_first = begins_as_number(&first);
    *diameter = number_first ? first : second;
    *label = number_first ? second : first;
    return begins_as_number(diameter) && !begins_as_number(label) && *label->span.text;
}

/* Reads the diameter, which must be one of the diameters of the label. */
static bool pair_read(const struct tool_text *diameter, const struct tool_text *label, double *tool_mm)
{
    double *tools_mm, stated_mm;
    size_t count = label_diameters(label, &tools_mm);
    bool read = diameter_read(diameter, &stated_mm);
    if (count == 0 && !label->arena->out_of_memory)
        label_unknown(label);
    if (!read || count == 0)
        return false;
    for (size_t i = 0; i < count; i++) {
        if (tools_mm[i] == stated_mm) {
            *tool_mm = stated_mm;
            return true;
        }
    }
    hk_diags_add(label->diags, HK_CODE_CHOICE, place(label), "\"%s\" is %s mm, not %s", label->span.text,
                 diameters_list(label, tools_mm, count), diameter->span.text);
    hk_diags_hint(label->diags, "write the diameter alone, such as %s mm", hk_number_text(tools_mm[0], 6).text);
    return false;
}

static bool tool_read(const struct tool_text *t, double *tool_mm)
{
    struct tool_text diameter, label;
    if (pair_split(t, &diameter, &label))
        return pair_read(&diameter, &label, tool_mm);
    return begins_as_number(t) ? diameter_read(t, tool_mm) : label_read(t, tool_mm);
}

bool hk_tool_cell(struct hk_cell cell, const struct hk_catalogue *catalogue, double *tool_mm, struct hk_diags *diags)
{
    if (hk_cell_empty(cell))
        return false;
    struct hk_arena scratch = {0};
    struct tool_text t = {.catalogue = catalogue, .arena = &scratch, .diags = diags};
    bool read = hk_span_make(cell, &t.span, &scratch) && tool_read(&t, tool_mm);
    if (scratch.out_of_memory)
        diags->out_of_memory = true;
    hk_arena_free(&scratch);
    return read;
}
