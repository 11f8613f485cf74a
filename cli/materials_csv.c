/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers, one column for each size. */
#include "materials_writer.h"

#include "grading.h"
#include "number.h"
#include "safe.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The columns before the sizes. */
static void csv_start(FILE *out, const char *section, const char *name, const char *what, const char *unit,
                      const char *words)
{
    const char *const cells[] = {section, name, what, unit, words};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        if (i)
            fputc(',', out);
        safe_csv(out, cells[i]);
    }
}

static void csv_words(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                      const char *what, const char *words)
{
    csv_start(out, section, name, what, "", words);
    for (size_t i = 0; i < materials->size_count; i++)
        fputc(',', out);
    fputc('\n', out);
}

static void csv_numbers(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                        const char *what, const char *unit, const double *values)
{
    csv_start(out, section, name, what, unit, "");
    for (size_t i = 0; i < materials->size_count; i++) {
        fputc(',', out);
        if (!isnan(values[i]))
            fputs(hk_number_text(values[i], 15).text, out);
    }
    fputc('\n', out);
}

static void csv_same(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                     const char *what, const char *unit, double value)
{
    csv_start(out, section, name, what, unit, "");
    for (size_t i = 0; i < materials->size_count; i++)
        fprintf(out, ",%s", hk_number_text(value, 15).text);
    fputc('\n', out);
}

static void csv_amount(const struct hk_materials *materials, FILE *out, const char *section, const char *name,
                       const char *what, const struct hk_printed *amount)
{
    const bool one = block_one_unit(amount);
    if (one || materials->units != HK_UNITS_IMPERIAL)
        csv_numbers(materials, out, section, name, what, amount->metric_unit, amount->metric);
    if (!one && materials->units != HK_UNITS_METRIC)
        csv_numbers(materials, out, section, name, what, amount->customary_unit, amount->customary);
}

static void csv_colour(const struct hk_materials *materials, FILE *out, const struct hk_materials_yarn *yarn,
                       const struct hk_materials_colour *colour, const char *name)
{
    csv_words(materials, out, "yarn", name, "roles", colour->roles);
    csv_words(materials, out, "yarn", name, "category", yarn->categories);
    csv_words(materials, out, "yarn", name, "fibre", yarn->fibre);
    csv_same(materials, out, "yarn", name, "put-up", "g", yarn->put_up_g);
    csv_same(materials, out, "yarn", name, "put-up", "m", yarn->put_up_m);
    csv_amount(materials, out, "yarn", name, "length", &colour->length);
    csv_amount(materials, out, "yarn", name, "mass", &colour->mass);
    csv_start(out, "yarn", name, "balls", "", "");
    for (size_t i = 0; i < materials->size_count; i++)
        fprintf(out, ",%lld", (long long)colour->balls[i]);
    fputc('\n', out);
}

static enum outcome lost(void)
{
    complain("out of memory");
    return FAILED;
}

static enum outcome csv_yarns(const struct hk_materials *materials, FILE *out)
{
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        for (size_t k = 0; k < yarn->colour_count; k++) {
            const struct hk_materials_colour *colour = &yarn->colours[k];
            char *name = text_format("%s%s%s", yarn->yarn, *colour->colour ? ", " : "", colour->colour);
            if (!name)
                return lost();
            csv_colour(materials, out, yarn, colour, name);
            free(name);
        }
    }
    return DONE;
}

static void csv_rest(const struct hk_materials *materials, FILE *out)
{
    for (size_t i = 0; i < materials->held_count; i++)
        csv_words(materials, out, "yarn", "", "held together", materials->held[i]);
    for (size_t i = 0; i < materials->tool_count; i++) {
        const struct hk_materials_tool *tool = &materials->tools[i];
        csv_start(out, tool->needle ? "needle" : "hook", tool->label, "diameter", "mm", "");
        for (size_t size = 0; size < materials->size_count; size++)
            fprintf(out, ",%s", tool->uses[size] ? hk_number_text(tool->tool_mm, 15).text : "");
        fputc('\n', out);
    }
    for (size_t i = 0; i < materials->notion_count; i++)
        csv_words(materials, out, "notion", "", "", materials->notions[i]);
    for (size_t i = 0; i < materials->gauge_count; i++) {
        const struct hk_materials_gauge *gauge = &materials->gauges[i];
        csv_words(materials, out, "gauge", gauge->fabric, "care", gauge->care);
        csv_same(materials, out, "gauge", gauge->fabric, "tool", "mm", gauge->tool_mm);
        csv_same(materials, out, "gauge", gauge->fabric, "stitches", "10 cm", gauge->stitches);
        if (gauge->rows > 0)
            csv_same(materials, out, "gauge", gauge->fabric, gauge->rounds ? "rounds" : "rows", "10 cm", gauge->rows);
    }
    for (size_t i = 0; i < materials->measure_count; i++)
        csv_amount(materials, out, "finished size", materials->measures[i].name, "", &materials->measures[i].amount);
    for (size_t i = 0; i < materials->word_count; i++)
        csv_words(materials, out, "abbreviation", materials->words[i].word, materials->uk ? "UK" : "US",
                  materials->words[i].meaning);
}

/* Writes one length of one line: the requested length, the resulting counts, and the finished length. */
static void csv_length(const struct work *work, size_t line, enum grading_what what, const char *name,
                       const char *swatch, FILE *out)
{
    static const struct number_step tenths = {1, -1};
    static const char *const shown[] = {"asked", "repeat", "worked", "finished", "finished"};
    const char *const units[] = {"cm", grading_counted(what), grading_counted(what), "cm", "in"};
    const struct size_range sizes = pipeline_sizes(work);
    for (size_t i = 0; i < sizeof shown / sizeof shown[0]; i++) {
        char words[40];
        snprintf(words, sizeof words, "%s %s", grading_name(what), shown[i]);
        csv_start(out, "grading", name, words, units[i], swatch);
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_line_count count = hk_tally_line(work->tally, line, size);
            const struct hk_length_worked *length = grading_length(&count, what);
            const double values[] = {100 * length->asked_m, (double)length->apart, (double)length->count,
                                     100 * length->finished_m, length->finished_m / HK_M_PER_INCH};
            fputc(',', out);
            if (length->count)
                fputs(hk_number_text(number_rounded(values[i], tenths, NUMBER_NEAREST), 15).text, out);
        }
        fputc('\n', out);
    }
}

static enum outcome csv_grading(const struct work *work, FILE *out)
{
    for (size_t line = 0; line < hk_tally_lines(work->tally); line++) {
        const struct hk_line_count count = hk_tally_line(work->tally, line, 0);
        char *name = text_format("%s%s%s", count.piece, *count.part ? ", " : "", count.part);
        if (!name)
            return lost();
        for (int what = 0; what < grading_whats; what++) {
            const char *swatch;
            if (grading_given(work, line, pipeline_sizes(work), (enum grading_what)what, &swatch))
                csv_length(work, line, (enum grading_what)what, name, swatch, out);
        }
        free(name);
    }
    return DONE;
}

static void csv_pattern(const struct hk_materials *materials, FILE *out)
{
    csv_words(materials, out, "pattern", materials->project, "terms", materials->uk ? "UK" : "US");
    if (materials->margin >= 0)
        csv_same(materials, out, "pattern", materials->project, "margin", "", materials->margin);
    else
        csv_same(materials, out, "pattern", materials->project, "chance", "", materials->chance);
    if (materials->margin < 0 && materials->colour_count > 1)
        csv_same(materials, out, "pattern", materials->project, "chance of all", "", materials->chance_all);
}

enum outcome block_csv(const struct work *work, const struct hk_materials *materials, FILE *out)
{
    csv_start(out, "section", "name", "what", "unit", "words");
    for (size_t i = 0; i < materials->size_count; i++) {
        fputc(',', out);
        safe_csv(out, materials->sizes[i]);
    }
    fputc('\n', out);
    csv_pattern(materials, out);
    enum outcome outcome = csv_yarns(materials, out);
    csv_rest(materials, out);
    if (outcome == DONE)
        outcome = csv_grading(work, out);
    return outcome;
}
