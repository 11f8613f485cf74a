/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Labels name fibres in many ways, so a fibre matches if its words occur anywhere in a part of the label ("extra fine
 * merino wool"). In a table name such as "wool, carded" the fibre is before the comma and the kind after it; a label
 * may omit the kind.
 */
#include "catalogue/moisture.h"

#include "base/text.h"
#include "input/quantity.h"

#include <math.h>
#include <string.h>

#define WHOLE_PERCENT 100.0
/* Printed shares are rounded, so three shares may add up to 99 or 101. */
#define SHARES_MISS 1.5

struct span {
    const char *from;
    size_t length;
};

/* Returns true when the text contains the word, not within another word ("rayon" in "crayon"). */
static bool has_word(struct span text, struct span word)
{
    char start[64];
    if (word.length == 0 || word.length >= sizeof start)
        return false;
    memcpy(start, word.from, word.length);
    start[word.length] = '\0';
    for (size_t i = 0; i + word.length <= text.length; i++) {
        bool begins = i == 0 || !hk_is_letter(text.from[i - 1]);
        bool ends = i + word.length == text.length || !hk_is_letter(text.from[i + word.length]);
        if (begins && ends && hk_text_starts(text.from + i, start))
            return true;
    }
    return false;
}

static struct span until(const char *text, const char *marks)
{
    return (struct span){text, strcspn(text, marks)};
}

static bool has_alias(struct span text, const char *also)
{
    while (*also) {
        struct span alias = until(also, ";");
        if (has_word(text, alias))
            return true;
        also += alias.length + (also[alias.length] == ';');
    }
    return false;
}

enum match { NO_MATCH, KIND_OPEN, PLAIN, KIND_STATED };

/* Returns how well a part of the label names the fibre. The kind may be anywhere in the label. */
static enum match match(const struct hk_fibre *fibre, struct span part, const char *label)
{
    struct span name = until(fibre->name, ",");
    if (!has_word(part, name) && !has_alias(part, fibre->also))
        return NO_MATCH;
    const char *kind = fibre->name + name.length;
    if (!*kind)
        return PLAIN;
    kind += strspn(kind, ", ");
    return has_word(until(label, ""), until(kind, "")) ? KIND_STATED : KIND_OPEN;
}

static bool part_allowance(const struct hk_catalogue *catalogue, struct span part, const char *label, double *low,
                           double *high)
{
    enum match best = NO_MATCH;
    for (size_t i = 0; i < catalogue->fibre_count; i++) {
        const struct hk_fibre *fibre = &catalogue->fibres[i];
        enum match found = match(fibre, part, label);
        if (found == NO_MATCH || found < best)
            continue;
        *low = found > best ? fibre->allowance : fmin(*low, fibre->allowance);
        *high = found > best ? fibre->allowance : fmax(*high, fibre->allowance);
        best = found;
    }
    return best != NO_MATCH;
}

/* Returns the number before the percent sign in the part; -1 if there is none. */
static double part_percent(struct span part)
{
    for (size_t i = 0; i < part.length; i++) {
        const char *cursor = part.from + i;
        double value;
        if (!hk_number_scan(&cursor, HK_DECIMAL_COMMA, &value))
            continue;
        cursor = hk_blanks_skipped(cursor);
        return *cursor == '%' && cursor < part.from + part.length ? value : -1;
    }
    return -1;
}

struct blend {
    size_t parts, shared;     /* number of parts with a fibre, and of these with a share */
    double percent;           /* sum of the shares */
    double sum_low, sum_high; /* weighted by share */
    double least, most;
};

/* Returns false when a share belongs to an unknown fibre. */
static bool blend_add(const struct hk_catalogue *catalogue, struct span part, const char *label, struct blend *blend)
{
    double low = 0, high = 0, percent = part_percent(part);
    if (!part_allowance(catalogue, part, label, &low, &high))
        return percent < 0;
    blend->least = blend->parts == 0 ? low : fmin(blend->least, low);
    blend->most = blend->parts == 0 ? high : fmax(blend->most, high);
    blend->parts++;
    if (percent >= 0) {
        blend->shared++;
        blend->percent += percent;
        blend->sum_low += percent * low;
        blend->sum_high += percent * high;
    }
    return true;
}

/* Returns the next part of the label, up to a mark or the next number ("70% wool 30% silk"). */
static struct span part_next(const char *text)
{
    struct span part = until(text, ",;/+&");
    size_t i = strspn(text, "0123456789.% ");
    for (; i < part.length; i++) {
        if (text[i] >= '0' && text[i] <= '9')
            return (struct span){text, i};
    }
    return part;
}

bool hk_moisture_allowance(const struct hk_catalogue *catalogue, const char *label, double *low, double *high)
{
    struct blend blend = {0};
    for (const char *text = label; *text;) {
        struct span part = part_next(text);
        if (!blend_add(catalogue, part, label, &blend))
            return false;
        text += part.length;
        text += strspn(text, ",;/+& ");
    }
    if (blend.parts == 0 || (blend.shared > 0 && fabs(blend.percent - WHOLE_PERCENT) > SHARES_MISS))
        return false;
    bool weighted = blend.shared == blend.parts;
    *low = weighted ? blend.sum_low / blend.percent : blend.least;
    *high = weighted ? blend.sum_high / blend.percent : blend.most;
    return true;
}

/* ---- Mistyped fibres --------------------------------------------------------------------------------------------- */

#define WORD_LEAST 3 /* letters: shorter words are near too many */

struct fibre_words {
    const char **words;
    size_t count;
};

static void words_add(struct fibre_words *known, struct span word, struct hk_arena *arena)
{
    const char *text = hk_arena_text(arena, word.from, word.length);
    if (text && *text && !strchr(text, ' '))
        known->words[known->count++] = text;
}

/* Returns all names of one word, and what else labels call the fibres. */
static struct fibre_words words_known(const struct hk_catalogue *catalogue, struct hk_arena *arena)
{
    size_t most = 0;
    for (size_t i = 0; i < catalogue->fibre_count; i++)
        most += 2 + strlen(catalogue->fibres[i].also);
    struct fibre_words known = {.words = hk_arena_take(arena, most, sizeof *known.words)};
    for (size_t i = 0; known.words && !arena->out_of_memory && i < catalogue->fibre_count; i++) {
        words_add(&known, until(catalogue->fibres[i].name, ","), arena);
        for (const char *also = catalogue->fibres[i].also; *also;) {
            struct span alias = until(also, ";");
            words_add(&known, alias, arena);
            also += alias.length + (also[alias.length] == ';');
        }
    }
    return known;
}

static const char *part_meant(const struct fibre_words *known, struct span part, struct hk_arena *arena)
{
    for (size_t from = 0, to; from < part.length; from = to + 1) {
        for (to = from; to < part.length && hk_is_letter(part.from[to]);)
            to++;
        if (to - from < WORD_LEAST)
            continue;
        const char *word = hk_arena_text(arena, part.from + from, to - from);
        size_t nearest = word ? hk_nearest_name(word, known->words, known->count) : SIZE_MAX;
        if (nearest != SIZE_MAX)
            return known->words[nearest];
    }
    return NULL;
}

const char *hk_fibre_meant(const struct hk_catalogue *catalogue, const char *label, struct hk_arena *arena)
{
    double low, high;
    const char *meant = NULL;
    struct fibre_words known = words_known(catalogue, arena);
    for (const char *text = label; known.words && !arena->out_of_memory && *text && !meant;) {
        struct span part = part_next(text);
        if (!part_allowance(catalogue, part, label, &low, &high))
            meant = part_meant(&known, part, arena);
        text += part.length;
        text += strspn(text, ",;/+& ");
    }
    return meant;
}
