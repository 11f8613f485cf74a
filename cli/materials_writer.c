/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The content of the block, in the usual order of published patterns. */
#include "materials_writer.h"

#include "number.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool block_one_unit(const struct hk_printed *amount)
{
    return !*amount->metric_unit;
}

/* Formats "Slate (main): 1 (2) balls; 90 (100) m / 100 (110) yd; 40 (50) g / 1.5 (2) oz". */
static void write_colour(struct document *document, const struct hk_materials_colour *colour)
{
    /* A stripe is often named after its colour: "Sand", not "Sand (sand)". */
    const bool named = *colour->colour && strcasecmp(colour->colour, colour->roles) != 0;
    const bool one = strcmp(colour->balls_text, "1") == 0;
    char *name = named ? text_format("%s (%s)", colour->colour, colour->roles)
                       : text_format("%s", *colour->colour ? colour->colour : colour->roles);
    if (!name)
        document_subitem(document, NULL);
    else if (colour->small)
        document_subitem(document, text_format("%s: small amount; %s", name, colour->length.text));
    else
        document_subitem(document, text_format("%s: %s %s; %s; %s", name, colour->balls_text, one ? "ball" : "balls",
                                               colour->length.text, colour->mass.text));
    free(name);
}

/* British patterns call the gauge tension. */
static const char *gauge_word(const struct hk_materials *materials)
{
    return materials->uk ? "tension" : "gauge";
}

static void write_chance(struct document *document, const struct hk_materials *materials)
{
    if (materials->plain)
        return;
    if (materials->margin >= 0) {
        document_item(document, text_format("Amounts are %s above the likely ones, rounded up.",
                                            number_asked(materials->margin).text));
        return;
    }
    char *all = materials->colour_count > 1
                    ? text_format(", all yarns together for %s", number_chance(materials->chance_all).text)
                    : text_format("%s", "");
    document_item(document, all ? text_format("Amounts are enough for %s of makers%s%s%s, rounded up.",
                                              number_asked(materials->chance).text,
                                              materials->gauge_count ? " who meet the " : "",
                                              materials->gauge_count ? gauge_word(materials) : "", all)
                                : NULL);
    free(all);
}

static void write_yarns(struct document *document, const struct hk_materials *materials)
{
    document_heading(document, text_format("Yarn"));
    for (size_t i = 0; i < materials->yarn_count; i++) {
        const struct hk_materials_yarn *yarn = &materials->yarns[i];
        const bool known = *yarn->categories || *yarn->fibre;
        document_item(document, text_format("%s%s%s%s%s%s%s, %s a ball", yarn->yarn, known ? " (" : "",
                                            *yarn->categories ? "category " : "", yarn->categories,
                                            *yarn->categories && *yarn->fibre ? "; " : "", yarn->fibre,
                                            known ? ")" : "", yarn->put_up_text));
        for (size_t k = 0; k < yarn->colour_count; k++)
            write_colour(document, &yarn->colours[k]);
    }
    for (size_t i = 0; i < materials->held_count; i++)
        document_item(document, text_format("Held together: %s.", materials->held[i]));
    write_chance(document, materials);
}

static void write_tools(struct document *document, const struct hk_materials *materials)
{
    bool needles = true, hooks = true;
    for (size_t i = 0; i < materials->tool_count; i++) {
        needles &= materials->tools[i].needle;
        hooks &= !materials->tools[i].needle;
    }
    document_heading(document, text_format("%s", hooks ? "Hooks" : needles ? "Needles" : "Hooks and needles"));
    for (size_t i = 0; i < materials->tool_count; i++)
        document_item(document, text_format("%s", materials->tools[i].text));
    if (materials->gauge_count)
        document_item(document, text_format("or the size that meets the %s", gauge_word(materials)));
}

static void write_rest(struct document *document, const struct hk_materials *materials)
{
    if (materials->notion_count)
        document_heading(document, text_format("Notions"));
    for (size_t i = 0; i < materials->notion_count; i++)
        document_item(document, text_format("%s", materials->notions[i]));
    if (materials->gauge_count)
        document_heading(document, text_format("%s", materials->uk ? "Tension" : "Gauge"));
    for (size_t i = 0; i < materials->gauge_count; i++)
        document_item(document, text_format("%s", materials->gauges[i].text));
    if (materials->measure_count)
        document_heading(document, text_format("Finished size"));
    for (size_t i = 0; i < materials->measure_count; i++)
        document_item(document, text_format("%s %s", materials->measures[i].name, materials->measures[i].amount.text));
}

static void write_words(struct document *document, const struct hk_materials *materials)
{
    document_heading(document, text_format("Abbreviations (%s terms)", materials->uk ? "UK" : "US"));
    for (size_t i = 0; i < materials->word_count; i++)
        document_item(document, text_format("%s: %s", materials->words[i].word, materials->words[i].meaning));
}

bool block_write(struct document *document, const struct hk_materials *materials)
{
    document_title(document, text_format("%s: materials", materials->project));
    document_heading(document, text_format("Sizes"));
    document_item(document, text_format("%s", materials->sizes_text));
    write_yarns(document, materials);
    write_tools(document, materials);
    write_rest(document, materials);
    write_words(document, materials);
    return document_end(document);
}
