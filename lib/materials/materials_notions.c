/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Notions of a published pattern: what the work certainly needs, by its stitches and by the words of its text, and the
 * materials of costs.csv, with their number.
 */
#include "materials/materials.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

/* ---- By the costs ---- */

/* Returns true for what the reader needs too. */
static bool is_printed(const struct hk_cost *cost)
{
    return hk_cost_is_notion(cost) && !cost->unprinted;
}

/* Returns the text of a notion: "7 (7, 8) buttons", or "label" if no number is stated; NULL if no size needs it. */
static const char *notion_write(struct hk_writing *w, const struct hk_cost *cost)
{
    size_t count = w->size_count;
    const char **texts = hk_arena_take(w->arena, count, sizeof *texts);
    bool any = false;
    if (!cost->quantity)
        return cost->item;
    for (size_t i = 0; texts && i < count; i++) {
        double quantity = (double)cost->quantity[w->first + i] / (double)HK_COST_ONE;
        any |= quantity > 0;
        texts[i] = hk_printed_number(quantity > 0 ? quantity : NAN, false, w->arena);
    }
    return any ? hk_arena_print(w->arena, "%s %s", hk_graded_write(texts, count, w->arena), cost->item) : NULL;
}

/* ---- By the work ---- */

/* Notions that a written pattern names, by the words that need them. The item of costs.csv that has a word replaces it.
 */
static const struct named {
    const char *words[8], *notion;
} named[] = {
    {{"cable needle", "cable needles", "cn"}, "cable needle"},
    {{"waste yarn", "scrap yarn", "provisional", "provisionally"}, "waste yarn"},
    {{"stitch holder", "stitch holders", "holder", "holders"}, "stitch holders"},
    {{"stuffing", "stuff", "stuffed", "fiberfill", "fibrefill", "polyfill"}, "stuffing"},
    {{"stitch marker", "stitch markers", "marker", "markers", "pm"}, "stitch markers"},
};
enum { CABLE_NEEDLE, MARKERS = 4, NAMED };

/* Returns the first of the words that the sentence has, if none denies it ("no marker is needed"); else NULL. */
static const char *sentence_needs(const char *sentence, const struct named *of, size_t *length)
{
    static const char *const denying[] = {"no", "not", "without", "never", "don't", "instead"};
    for (size_t i = 0; i < sizeof denying / sizeof denying[0]; i++)
        if (hk_writing_find(sentence, denying[i]))
            return NULL;
    for (size_t i = 0; of->words[i]; i++) {
        const char *found = hk_writing_find(sentence, of->words[i]);
        *length = strlen(of->words[i]);
        if (found)
            return found;
    }
    return NULL;
}

/* Returns where the amount before the word begins, "4 " or "100 g of "; the word itself if there is none. */
static const char *amount_before(const char *sentence, const char *word)
{
    static const char *const units[] = {"g", "oz", "m", "yd", "cm"};
    const char *at = word;
    if (at - sentence > 3 && strncmp(at - 3, "of ", 3) == 0)
        at -= 3;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        const size_t length = strlen(units[i]);
        if ((size_t)(at - sentence) > length + 2 && strncmp(at - length - 2, " ", 1) == 0 &&
            strncmp(at - length - 1, units[i], length) == 0) {
            at -= length + 1;
            break;
        }
    }
    const char *number = at - (at > sentence);
    while (number > sentence && strchr("0123456789.", number[-1]))
        number--;
    return hk_is_digit(*number) && (number == sentence || strchr(" ,:", number[-1])) ? number : word;
}

/*
 * Returns the notion if a sentence of the text needs it, else NULL; with `amount` in the words of the text where they
 * state how much: "100 g of stuffing".
 */
static const char *needs(struct hk_writing *w, const char *text, const struct named *of, bool amount)
{
    for (const char *c = text ? text : ""; *c;) {
        static const char ends[] = ".;()"; /* of a sentence, or of what stands in brackets */
        size_t length = strcspn(c, ends), word;
        while (c[length] == '.' && hk_is_digit(c[length + 1])) /* a decimal point */
            length += 1 + strcspn(c + length + 1, ends);
        const char *sentence = hk_arena_text(w->arena, c, length);
        const char *found = sentence ? sentence_needs(sentence, of, &word) : NULL;
        const char *from = found && amount ? amount_before(sentence, found) : found;
        if (found)
            return from < found ? hk_arena_text(w->arena, from, (size_t)(found - from) + word) : of->notion;
        c += length + (c[length] != '\0');
    }
    return NULL;
}

/*
 * Returns the notion if pattern.txt, or a row of a fabric in use, needs it, else NULL. A line above the work, such as a
 * list of materials, may state how much; a row states only what it takes itself.
 */
static const char *text_needs(struct hk_writing *w, const struct named *of)
{
    const struct hk_written *written = w->project->written;
    const size_t begins = written && written->entry_count ? written->entries[0].place.line : SIZE_MAX;
    const char *found = NULL;
    for (size_t i = 0; written && i < written->lines.count && !found; i++)
        found = needs(w, written->lines.lines[i].text.text, of, written->lines.lines[i].number < begins);
    for (size_t line = 0; line < w->project->line_count && !found; line++) {
        const struct hk_fabric *fabric = w->project->lines[line].fabric;
        bool rows = fabric->rows && !w->project->lines[line].written && hk_writing_uses(w, line);
        for (size_t r = 0; rows && r < fabric->setup_count + fabric->cycle_count && !found; r++)
            found = needs(w, fabric->rows[r].text->text, of, false);
    }
    return found;
}

/* Returns true when some line works a cable: stitches crossed on a further needle. */
static bool has_cables(struct hk_writing *w)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    bool *used = hk_arena_take(w->arena, catalogue->stitch_count, sizeof *used), found = false;
    for (size_t line = 0; used && line < w->project->line_count; line++)
        if (hk_writing_uses(w, line))
            hk_writing_stitches(w, line, used);
    for (size_t i = 0; used && i < catalogue->stitch_count; i++)
        found |= used[i] && hk_text_starts(catalogue->stitches[i].name, "cable of ");
    return found;
}

/* Returns true when a printed item of costs.csv has one of the words. */
static bool costs_have(const struct hk_writing *w, const char *const *words)
{
    for (size_t i = 0; i < w->project->cost_count; i++)
        for (size_t k = 0; is_printed(&w->project->costs[i]) && words[k]; k++)
            if (hk_writing_find(w->project->costs[i].item, words[k]))
                return true;
    return false;
}

static void notions_of_work(struct hk_writing *w, const char **notions)
{
    static const char *const needles[] = {"yarn needle", "tapestry needle", "darning needle", "wool needle", NULL};
    bool rounds = false, any = false;
    for (size_t i = 0; i < w->project->line_count; i++) {
        any |= hk_writing_uses(w, i);
        rounds |= hk_writing_uses(w, i) && hk_writing_rounds(w, i);
    }
    if (any && !costs_have(w, needles))
        notions[w->face->notion_count++] =
            w->terms == HK_TERMS_UK ? "darning needle for sewing in ends" : "yarn needle for weaving in ends";
    for (size_t i = 0; any && i < NAMED; i++) {
        const struct named *of = &named[i];
        if (costs_have(w, of->words))
            continue;
        const char *stated = text_needs(w, of);
        if (i == CABLE_NEEDLE && !stated && has_cables(w))
            stated = of->notion;
        if (i == MARKERS && rounds)
            stated = stated ? hk_arena_print(w->arena, "%s, one for the start of the round", stated)
                            : "stitch marker for the start of the round";
        if (stated)
            notions[w->face->notion_count++] = stated;
    }
}

/* Writes the notions that the work needs, then those of costs.csv. */
void hk_materials_notions(struct hk_writing *w)
{
    const char **notions = hk_arena_take(w->arena, 1 + NAMED + w->project->cost_count, sizeof *notions);
    w->face->notions = notions;
    if (!notions)
        return;
    notions_of_work(w, notions);
    for (size_t i = 0; i < w->project->cost_count; i++) {
        const struct hk_cost *cost = &w->project->costs[i];
        const char *notion = is_printed(cost) ? notion_write(w, cost) : NULL;
        if (notion)
            notions[w->face->notion_count++] = notion;
    }
}
