/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The content of the block, in the usual order of published patterns. */
#include "materials_writer.h"

#include "number.h"
#include "safe.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Writes the words and takes ownership of them; NULL means that memory ran out. */
static void write_safe(struct block_writer *writer, block_part *part, char *words)
{
    writer->failed |= !words;
    if (words) {
        safe_words(words);
        part(writer, words);
    }
    free(words);
}

static void item(struct block_writer *writer, char *words)
{
    write_safe(writer, writer->item, words);
}

static void subitem(struct block_writer *writer, char *words)
{
    write_safe(writer, writer->subitem, words);
}

bool block_one_unit(const struct hk_printed *amount)
{
    return !*amount->metric_unit;
}

/* Formats "480 (520, 570) m / 530 (570, 630) yd". */
static char *amount_words(const struct hk_printed *amount)
{
    if (block_one_unit(amount))
        return text_format("%s", amount->metric_text);
    return text_format("%s / %s", amount->metric_text, amount->customary_text);
}

/* Formats "Slate (main): 90 (100) m / 100 (110) yd; 40 (50) g / 1.5 (2) oz; 1 (2) balls". */
static void write_colour(struct block_writer *writer, const struct hk_materials_colour *colour)
{
    /* A stripe is often named after its colour: "Sand", not "Sand (sand)". */
    const bool named = *colour->colour && strcasecmp(colour->colour, colour->roles) != 0;
    const bool one = strcmp(colour->balls_text, "1") == 0;
    char *length = amount_words(&colour->length), *mass = amount_words(&colour->mass);
    char *name = named ? text_format("%s (%s)", colour->colour, colour->roles)
                       : text_format("%s", *colour->colour ? colour->colour : colour->roles);
    subitem(writer, name && length && mass ? text_format("%s: %s; %s; %s %s", name, length, mass, colour->balls_text,
                                                         one ? "ball" : "balls")
                                           : NULL);
    free(name);
    free(length);
    free(mass);
}

/* Writes the gauge; British patterns call it tension. */
static const char *gauge_word(const struct hk_materials *materials)
{
    return materials->uk ? "tension" : "gauge";
}

static void write_chance(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    if (materials->plain)
        return;
    if (materials->margin >= 0)
        item(writer,
             text_format("Amounts are %s above the likely ones, rounded up.", number_asked(materials->margin).text));
    else
        item(writer, text_format("Amounts are enough for %s of makers%s%s, rounded up.",
                                 number_asked(materials->chance).text, materials->gauge_count ? " who meet the " : "",
                                 materials->gauge_count ? gauge_word(materials) : ""));
    if (materials->margin < 0 && materials->colour_count > 1)
        item(writer,
             text_format("All yarns together are enough for %s of them.", number_chance(materials->chance_all).text));
}

static void write_yarns(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    writer->heading(writer, "Yarn");
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        const bool known = *yarn->categories || *yarn->fibre;
        item(writer, text_format("%s%s%s%s%s%s%s, %s a ball", yarn->yarn, known ? " (" : "",
                                 *yarn->categories ? "category " : "", yarn->categories,
                                 *yarn->categories && *yarn->fibre ? "; " : "", yarn->fibre, known ? ")" : "",
                                 yarn->put_up_text));
        for (size_t k = 0; k < yarn->colour_count; k++)
            write_colour(writer, &yarn->colours[k]);
    }
    write_chance(writer);
}

static void write_tools(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    bool needles = true, hooks = true;
    for (size_t i = 0; i < materials->tool_count; i++) {
        needles &= materials->tools[i].needle;
        hooks &= !materials->tools[i].needle;
    }
    writer->heading(writer, hooks ? "Hooks" : needles ? "Needles" : "Hooks and needles");
    for (size_t i = 0; i < materials->tool_count; i++)
        item(writer, text_format("%s", materials->tools[i].text));
    if (materials->gauge_count)
        item(writer, text_format("Or the size that meets the %s.", gauge_word(materials)));
}

static void write_measures(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    if (!materials->measure_count)
        return;
    writer->heading(writer, "Finished size");
    for (size_t i = 0; i < materials->measure_count; i++) {
        char *amount = amount_words(&materials->measures[i].amount);
        item(writer, amount ? text_format("%s: %s", materials->measures[i].name, amount) : NULL);
        free(amount);
    }
}

static void write_rest(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    if (materials->notion_count)
        writer->heading(writer, "Notions");
    for (size_t i = 0; i < materials->notion_count; i++)
        item(writer, text_format("%s", materials->notions[i]));
    if (materials->gauge_count)
        writer->heading(writer, materials->uk ? "Tension" : "Gauge");
    for (size_t i = 0; i < materials->gauge_count; i++)
        item(writer, text_format("%s", materials->gauges[i].text));
    write_measures(writer);
}

static void write_words(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    writer->heading(writer, materials->uk ? "Abbreviations (UK terms)" : "Abbreviations (US terms)");
    for (size_t i = 0; i < materials->word_count; i++)
        item(writer, text_format("%s: %s", materials->words[i].word, materials->words[i].meaning));
}

enum outcome block_write(struct block_writer *writer)
{
    const struct hk_materials *materials = writer->materials;
    write_safe(writer, writer->title, text_format("%s", materials->project));
    writer->heading(writer, "Sizes");
    item(writer, text_format("%s", materials->sizes_text));
    write_yarns(writer);
    write_tools(writer);
    write_rest(writer);
    write_words(writer);
    if (writer->close)
        writer->close(writer);
    if (!writer->failed)
        return DONE;
    complain("out of memory");
    return FAILED;
}
