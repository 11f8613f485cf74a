/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design as one paragraph for a shop page: sizes, yarn, gauge and tools. */
#include "materials/materials.h"

#include <string.h>

static const char *craft(const struct hk_materials *face)
{
    bool hooks = false, needles = false;
    for (size_t i = 0; i < face->tool_count; i++) {
        hooks |= !face->tools[i].needle;
        needles |= face->tools[i].needle;
    }
    return hooks && needles ? "crochet and knitting" : needles ? "knitting" : "crochet";
}

static const char *sizes_write(struct hk_writing *w)
{
    const struct hk_materials *face = w->face;
    if (face->size_count > 1)
        return hk_arena_print(w->arena, "in %zu sizes, %s", face->size_count, face->sizes_text);
    return w->project->size_count > 1 ? hk_arena_print(w->arena, "in size %s", face->sizes_text) : "in one size";
}

/* Returns "8 (9, 10) balls of Lichen, 870 (940, 1030) m / 950 (1030, 1120) yd". */
static const char *colour_write(struct hk_writing *w, const struct hk_materials_colour *colour)
{
    const char *name = *colour->colour ? colour->colour : colour->roles;
    if (colour->small)
        return hk_arena_print(w->arena, "a small amount of %s, %s", name, colour->length.text);
    return hk_arena_print(w->arena, "%s %s of %s, %s", colour->balls_text,
                          strcmp(colour->balls_text, "1") ? "balls" : "ball", name, colour->length.text);
}

static const char *yarn_write(struct hk_writing *w, const struct hk_materials_yarn *yarn)
{
    const char *all =
        hk_arena_print(w->arena, "%s (%s%s%s%s a ball): ", yarn->yarn, *yarn->categories ? "category " : "",
                       yarn->categories, *yarn->categories ? ", " : "", yarn->put_up_text);
    for (size_t i = 0; i < yarn->colour_count && all; i++)
        all = hk_arena_print(w->arena, "%s%s%s", all, i ? ", and " : "", colour_write(w, &yarn->colours[i]));
    return all;
}

/* The paragraph, a sentence at a time; NULL when out of memory. */
struct paragraph {
    struct hk_writing *w;
    const char *all;
    size_t parts; /* of the sentence */
};

/* Begins a sentence, or continues it after a semicolon. */
static void add(struct paragraph *paragraph, const char *heading, const char *words)
{
    if (paragraph->all && words)
        paragraph->all = paragraph->parts++
                             ? hk_arena_print(paragraph->w->arena, "%s; %s", paragraph->all, words)
                             : hk_arena_print(paragraph->w->arena, "%s %s: %s", paragraph->all, heading, words);
    else
        paragraph->all = NULL;
}

static void end(struct paragraph *paragraph)
{
    if (paragraph->all && paragraph->parts)
        paragraph->all = hk_arena_print(paragraph->w->arena, "%s.", paragraph->all);
    paragraph->parts = 0;
}

static void add_tools(struct paragraph *paragraph)
{
    static const char *const headings[] = {"Hooks", "Needles", "Hooks and needles"};
    const struct hk_materials *face = paragraph->w->face;
    const char *what = craft(face);
    for (size_t i = 0; i < face->tool_count; i++)
        add(paragraph,
            headings[strcmp(what, "crochet") == 0    ? 0
                     : strcmp(what, "knitting") == 0 ? 1
                                                     : 2],
            face->tools[i].text);
    end(paragraph);
}

void hk_materials_listing(struct hk_writing *w)
{
    const struct hk_materials *face = w->face;
    struct paragraph paragraph = {w,
                                  hk_arena_print(w->arena, "%s: %s pattern %s, in %s terms.", face->project,
                                                 craft(face), sizes_write(w), face->uk ? "UK" : "US"),
                                  0};
    for (size_t i = 0; i < face->measure_count; i++)
        add(&paragraph, "Finished size",
            hk_arena_print(w->arena, "%s %s", face->measures[i].name, face->measures[i].amount.text));
    end(&paragraph);
    for (size_t i = 0; i < face->yarn_count; i++)
        add(&paragraph, "Yarn", yarn_write(w, &face->yarns[i]));
    end(&paragraph);
    for (size_t i = 0; i < face->held_count; i++)
        add(&paragraph, "Held together", face->held[i]);
    end(&paragraph);
    for (size_t i = 0; i < face->gauge_count; i++)
        add(&paragraph, face->uk ? "Tension" : "Gauge", face->gauges[i].text);
    end(&paragraph);
    add_tools(&paragraph);
    w->face->listing = paragraph.all ? paragraph.all : "";
}
