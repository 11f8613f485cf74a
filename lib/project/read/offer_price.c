/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/offer_price.h"

#include "base/text.h"

#include <string.h>

#define BALLS_MOST 1000000

struct price_reading {
    struct hk_reading *reading;
    struct hk_cell cell;
    struct hk_offer_price *price;
    struct hk_quantity_price *from; /* room for every part */
};

static bool refuse(struct price_reading *p, const char *hint, const char *found)
{
    hk_diags_add(p->reading->diags, HK_CODE_MONEY, hk_cell_place(p->cell, 0), "%s", found);
    hk_diags_hint(p->reading->diags, "%s", hint);
    return false;
}

/* Reads the digits of a number of balls. Returns 0 and leaves the cursor where there are none; most: BALLS_MOST + 1. */
static int64_t count_scan(const char **cursor)
{
    int64_t count = 0;
    for (; **cursor >= '0' && **cursor <= '9'; ++*cursor)
        count = count > BALLS_MOST ? count : 10 * count + (**cursor - '0');
    return count < BALLS_MOST ? count : BALLS_MOST + 1;
}

/* Skips a word with the blanks behind it. Returns false where it does not stand as a whole word. */
static bool word_skip(const char **cursor, const char *word)
{
    const char *end = *cursor + strlen(word);
    if (!hk_text_starts(*cursor, word) || hk_is_letter(*end))
        return false;
    *cursor = hk_blanks_skipped(end);
    return true;
}

/* Skips "5 for" and returns the number of balls; 1 where the price is for one. */
static int64_t balls_skip(const char **cursor)
{
    const char *ahead = *cursor;
    bool digits = *ahead >= '0' && *ahead <= '9';
    int64_t balls = count_scan(&ahead);
    ahead = hk_blanks_skipped(ahead);
    if (!digits || !word_skip(&ahead, "for"))
        return 1;
    *cursor = ahead;
    return balls;
}

/* Reads "5 for 27.99" or "5.20". */
static bool amount_read(struct price_reading *p, const char *text, int64_t *balls, int64_t *minor)
{
    *balls = balls_skip(&text);
    if (*balls < 1 || *balls > BALLS_MOST)
        return refuse(p, "write how many balls a pack has, like 5 for 27.99",
                      *balls < 1 ? "a price for no ball" : "a price for more than 1000000 balls");
    for (const char *at = text; (at = strchr(at, ' ')); at++) {
        if (hk_text_starts(at, " for "))
            return refuse(p, "write the number of balls first, like 5 for 27.99", "the price of a pack stands before its number");
        if (hk_text_starts(at, " from "))
            return refuse(p, "write it like 5.60; from 10 5.20", "a quantity price without a semicolon before it");
    }
    struct hk_cell amount = p->cell;
    amount.text = text;
    return hk_project_money_cell(p->reading->project, amount, minor, p->reading->diags);
}

static bool quantity_good(struct price_reading *p, const struct hk_quantity_price *quantity, int64_t balls)
{
    const struct hk_offer_price *price = p->price;
    const struct hk_quantity_price *before = price->from_count ? &p->from[price->from_count - 1] : NULL;
    if (balls != price->balls)
        return refuse(p, "let each price be for the same number of balls, or give each pack a row of its own",
                      "prices for packs of two sizes");
    if (before && quantity->from <= before->from)
        return refuse(p, "begin with the smallest number of balls", "the numbers of balls of the quantity prices do not rise");
    if (quantity->minor == 0 || quantity->minor >= (before ? before->minor : price->minor))
        return refuse(p, "check the prices; the more balls, the lower the price of each",
                      "a quantity price that is not lower than the price before it, or is 0");
    return true;
}

/* Reads "from 10 balls 5.20", of which the cursor is behind "from". */
static bool quantity_read(struct price_reading *p, const char *text)
{
    struct hk_quantity_price quantity = {0};
    int64_t balls;
    quantity.from = count_scan(&text);
    if (hk_blanks_skipped(text) == text) /* "from 5.20" */
        quantity.from = 0;
    text = hk_blanks_skipped(text);
    if (!word_skip(&text, "balls"))
        word_skip(&text, "ball");
    if (quantity.from < 1 || quantity.from > BALLS_MOST)
        return refuse(p, "write the number of balls, like from 10 5.20", "a quantity price without its number of balls");
    if (!amount_read(p, text, &balls, &quantity.minor) || !quantity_good(p, &quantity, balls))
        return false;
    p->from[p->price->from_count++] = quantity;
    return true;
}

static bool part_read(struct price_reading *p, const char *text, bool first)
{
    const char *cursor = hk_blanks_skipped(text);
    bool quantity = word_skip(&cursor, "from");
    if (first && quantity)
        return refuse(p, "write the price of a ball first: 5.60; from 10 5.20", "a quantity price without the price of one ball");
    if (!first && !quantity)
        return refuse(p, "write from 10 5.20 for the price from ten balls on; a pack has a row of its own",
                      "a second price that does not say from how many balls");
    return first ? amount_read(p, cursor, &p->price->balls, &p->price->minor) : quantity_read(p, cursor);
}

bool hk_offer_price_read(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    struct hk_offer_price price = {.balls = 1};
    struct price_reading p = {.reading = reading, .cell = cell, .price = &price};
    struct hk_arena *arena = &reading->project->arena;
    const char *text = cell.text;
    bool good = true;
    if (strpbrk(text, ";oO")) { /* "for", "from" or several prices */
        size_t parts = 1;
        for (const char *at = text; (at = strchr(at, ';')); at++)
            parts++;
        char *copy = hk_arena_print(arena, "%s", hk_reading_text(reading, cell));
        p.from = hk_arena_take(arena, parts, sizeof *p.from);
        for (bool first = true; good && copy && p.from; first = false) {
            char *end = strchr(copy, ';');
            if (end)
                *end = '\0';
            good = part_read(&p, copy, first);
            copy = end ? end + 1 : NULL;
        }
        price.from = p.from;
    } else {
        good = hk_project_money_cell(reading->project, cell, &price.minor, reading->diags);
    }
    if (good && !arena->out_of_memory)
        *(struct hk_offer_price *)value = price;
    return good && !arena->out_of_memory;
}
