/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/hand_amounts.h"

#include <string.h>
#include <strings.h>

static size_t number_length(const char *text)
{
    size_t length = 0;
    while (hk_is_digit(text[length]) || text[length] == '.' || text[length] == ',')
        length++;
    return length;
}

static bool is_ball(const char *word, size_t length)
{
    static const char *const words[] = {"ball", "balls", "skein", "skeins", "hank", "hanks"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strlen(words[i]) == length && strncasecmp(word, words[i], length) == 0)
            return true;
    return false;
}

/* A number with a unit at the start of a word; *end: the byte behind the unit. */
static bool amount_at(const char *text, size_t at, size_t stop, size_t *end, bool *balls)
{
    size_t digits = number_length(text + at), unit = at + digits;
    enum hk_dimension dimension;
    double factor;
    const char *cursor;
    if (digits == 0 || !hk_is_digit(text[at]) || (at > 0 && text[at - 1] != ' '))
        return false;
    while (unit < stop && text[unit] == ' ')
        unit++;
    cursor = text + unit;
    size_t letters = 0;
    while (unit + letters < stop && text[unit + letters] != ' ')
        letters++;
    *balls = is_ball(text + unit, letters);
    if (*balls)
        *end = unit + letters;
    else if (hk_unit_scan(&cursor, &dimension, &factor) && dimension == HK_DIM_MASS && (size_t)(cursor - text) <= stop)
        *end = (size_t)(cursor - text);
    else
        return false;
    return true;
}

/*
 * Finds a word that is a number and nothing else, at the start or the end of an item that has no other: from *at to
 * *end.
 */
static bool bare_number(const struct hk_hand_item *item, size_t *at, size_t *end)
{
    const struct hk_cell cell = hk_hand_cell(item);
    const char *last = strrchr(cell.text, ' ');
    size_t digits = number_length(cell.text);
    const char *behind = hk_blanks_skipped(cell.text + digits);
    enum hk_dimension dimension;
    double factor;
    if (digits > 0 && (cell.text[digits] == ' ' || cell.text[digits] == '\0') && !strpbrk(behind, "0123456789") &&
        !(hk_unit_scan(&behind, &dimension, &factor) && *behind == '\0')) {
        *at = cell.index;
        *end = *at + digits;
        return true;
    }
    if (!last || number_length(last + 1) == 0 || last[1 + number_length(last + 1)] != '\0')
        return false;
    *at = cell.index + (size_t)(last + 1 - cell.text);
    *end = cell.index + strlen(cell.text);
    return true;
}

/* The grams of the last digit of the number: 1 for "118 g", 0.1 for "118.4 g". Other units than grams: 1 g. */
static double last_digit_g(const char *text)
{
    size_t whole = 0, digits = number_length(text);
    double step = 1;
    while (whole < digits && hk_is_digit(text[whole]))
        whole++;
    for (size_t i = whole + 1; i < digits; i++)
        step /= 10;
    const char *unit = hk_blanks_skipped(text + digits);
    return *unit == 'g' ? step : 1;
}

static void name_amount(struct hk_hand_reading *hand, struct hk_hand_item name, struct hk_hand_amount *amount)
{
    struct hk_reading *reading = hand->reading;
    const struct hk_project *project = reading->project;
    amount->of = (struct hk_of_yarn){project->role_count == 1 ? 0 : SIZE_MAX, SIZE_MAX};
    amount->name = hk_hand_cell(&name);
    if (hk_cell_empty(amount->name))
        return;
    amount->of.role = hk_names_find(hk_project_role_names(project), amount->name.text);
    if (amount->of.role != SIZE_MAX)
        return;
    amount->of.yarn = hk_names_find(hk_project_yarn_names(project), amount->name.text);
    if (amount->of.yarn != SIZE_MAX)
        return;
    hk_reading_unknown(reading, amount->name, 0, "role or yarn", amount->name.text, " in yarns.csv",
                       hk_project_role_names(project));
    hand->good = false;
}

/*
 * Reports an item in which no number has a unit that an amount has. Returns false where the reader of quantities says
 * what is wrong; that is of masses alone.
 */
static bool refuse_amount(struct hk_hand_reading *hand, const struct hk_hand_item *item, bool balls)
{
    struct hk_arena *arena = &hand->reading->project->arena;
    size_t at, end;
    if (bare_number(item, &at, &end)) {
        struct hk_hand_item number = {item->table, item->text, at, end - at};
        struct hk_cell cell = hk_hand_cell(&number);
        hk_hand_wrong(
            hand, cell, hk_arena_print(arena, "%s has no unit", cell.text),
            hk_arena_print(arena, balls ? "write %s balls or %s g" : "write %s g or %s oz", cell.text, cell.text));
        return true;
    }
    if (!balls)
        return false;
    struct hk_cell cell = hk_hand_cell(item);
    hk_hand_wrong(hand, cell, hk_arena_print(arena, "\"%s\" is neither a mass nor a number of balls", cell.text),
                  "write it like 50 g, 1.75 oz or 1.5 balls");
    return true;
}

/* Reads "118 g", "main 118 g", "118 g of main"; where `balls`, also "4 balls". */
static bool read_amount(struct hk_hand_reading *hand, const struct hk_hand_item *item, bool balls, enum hk_sign sign,
                        struct hk_hand_amount *amount)
{
    const char *text = item->text;
    size_t stop = item->start + item->length, at = item->start, end = stop;
    bool had = hand->good;
    *amount = (struct hk_hand_amount){.of = {SIZE_MAX, SIZE_MAX}, .cell = hk_hand_cell(item)};
    if (hk_cell_empty(amount->cell)) {
        hk_diags_add(hand->reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(amount->cell, 0),
                     "an amount is missing");
        hk_diags_hint(hand->reading->diags, "write one such as 118 g%s", balls ? ", or 4 balls" : "");
        return hand->good = false;
    }
    hand->good = true;
    while (at < stop && !amount_at(text, at, stop, &end, &amount->balls))
        at++;
    if (at == stop && refuse_amount(hand, item, balls))
        return false;
    if (at == stop)
        at = item->start;
    struct hk_hand_item before = hk_hand_part(item, 0, at - item->start);
    struct hk_hand_item behind = {item->table, text, end, stop - end};
    if (at == item->start && end == stop)
        before.length = behind.length = 0;
    if (strncmp(hk_blanks_skipped(text + end), "of ", 3) == 0 && end < stop) {
        size_t of = (size_t)(hk_blanks_skipped(text + end) - text) + 3;
        behind = (struct hk_hand_item){item->table, text, of < stop ? of : stop, of < stop ? stop - of : 0};
    }
    struct hk_hand_item number = {item->table, text, at, end - at};
    if (amount->balls)
        number.length = number_length(text + at);
    amount->cell = hk_hand_cell(&number);
    amount->step_g = last_digit_g(amount->cell.text);
    hand->good &= hk_quantity_cell(amount->cell, amount->balls ? HK_DIM_PLAIN : HK_DIM_MASS, sign, &amount->number,
                                   hand->reading->diags);
    bool both = before.length > 0 && !hk_cell_empty(hk_hand_cell(&before));
    bool more = !hk_cell_empty(hk_hand_cell(&behind)) && (both || strpbrk(hk_hand_cell(&behind).text, "0123456789"));
    if (hand->good && (!more || both))
        name_amount(hand, both ? before : behind, amount);
    if (hand->good && more)
        hk_hand_wrong(hand, hk_hand_cell(&behind),
                      hk_arena_print(&hand->reading->project->arena, "\"%s\" is not read", hk_hand_cell(&behind).text),
                      "one amount of one yarn at a time, with commas between them");
    bool good = hand->good;
    hand->good = had && good;
    return good;
}

static bool same_yarn(struct hk_of_yarn a, struct hk_of_yarn b)
{
    return a.role == b.role && a.yarn == b.yarn;
}

/* Reports a second amount of the same yarn, or of no named one. */
static void refuse_again(struct hk_hand_reading *hand, const struct hk_hand_amount *amount)
{
    const struct hk_project *project = hand->reading->project;
    const bool named = amount->of.role != SIZE_MAX || amount->of.yarn != SIZE_MAX;
    hk_hand_wrong(
        hand, amount->cell,
        named ? "this yarn is stated twice" : "several amounts, and two of them do not say of which yarn they are",
        named ? "write one amount for each yarn"
              : hk_arena_print(&hand->reading->project->arena, "write a role or yarn before each, such as %s %s",
                               project->roles[0].name, amount->cell.text));
}

struct hk_hand_amounts hk_hand_read_amounts(struct hk_hand_reading *hand, const char *option, const char *words,
                                            bool balls, enum hk_sign sign)
{
    struct hk_project *project = hand->reading->project;
    struct hk_hand_amounts amounts = {0};
    struct hk_table *table = hk_hand_table(hand->reading, option, words);
    if (!table)
        return amounts;
    const char *text = hk_table_text(table);
    struct hk_hand_item whole = {table, text, 0, strlen(text)}, item;
    amounts.list = hk_arena_take(&project->arena, whole.length + 1, sizeof *amounts.list);
    for (size_t at = 0; amounts.list && hk_hand_next(&whole, &at, &item);) {
        struct hk_hand_amount *amount = &amounts.list[amounts.count];
        if (!read_amount(hand, &item, balls, sign, amount))
            continue;
        for (size_t i = 0; i < amounts.count; i++)
            if (same_yarn(amounts.list[i].of, amount->of) && amounts.list[i].balls == amount->balls)
                refuse_again(hand, amount);
        amounts.count++;
    }
    hand->reading->diags->out_of_memory |= hk_table_words_failed(table);
    return amounts;
}
