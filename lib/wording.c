/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One pass from left to right. What is put in takes the origin of the words that it stands for. */
#include "wording.h"

#include "text.h"

#include <string.h>

/* The numbers of the item so far. */
enum numbers {
    NO_NUMBER,
    NUMBER_BEFORE, /* one, at the beginning */
    OTHER_NUMBERS,
};

struct wording {
    const char *text;
    const size_t *origin;
    size_t at;             /* the next byte of text */
    char *out;
    size_t *out_origin;
    size_t length, item;   /* of out; where its present item begins */
    enum numbers numbers;
    size_t brackets;
    bool starred;          /* a repeat is open */
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
}

/* The word and the blank behind it at the cursor, which then stands behind them. */
static bool take(const char **cursor, const char *word)
{
    size_t length = strlen(word);
    if (!hk_text_starts(*cursor, word) || (is_letter(word[length - 1]) && is_letter((*cursor)[length])))
        return false;
    *cursor += length;
    *cursor += **cursor == ' ';
    return true;
}

static bool take_stitches(const char **cursor)
{
    return take(cursor, "st") || take(cursor, "sts") || take(cursor, "stitch") || take(cursor, "stitches");
}

static bool take_digits(const char **cursor)
{
    const char *start = *cursor;
    while (is_digit(**cursor))
        ++*cursor;
    bool found = *cursor > start;
    *cursor += found && **cursor == ' ';
    return found;
}

static bool take_to_end(const char **cursor)
{
    const char *start = *cursor;
    if (take(cursor, "across") || take(cursor, "around"))
        return true;
    if (take(cursor, "to") && (take(cursor, "the"), take(cursor, "end"))) {
        const char *end = *cursor;
        if (take(cursor, "of") && (take(cursor, "the"), true) &&
            (take(cursor, "row") || take(cursor, "round") || take(cursor, "rnd")))
            return true;
        *cursor = end;
        return true;
    }
    *cursor = start;
    return false;
}

static bool ends_item(const char *at)
{
    return !*at || strchr(",;.)]}", *at);
}

static void put(struct wording *w, char c, size_t origin)
{
    if (is_digit(c)) {
        bool before = w->numbers != OTHER_NUMBERS;
        for (size_t i = w->item; before && i < w->length && w->numbers == NO_NUMBER; i++)
            before = w->out[i] == ' ';
        before = before && (w->numbers == NO_NUMBER || is_digit(w->out[w->length - 1]));
        w->numbers = before ? NUMBER_BEFORE : OTHER_NUMBERS;
    }
    w->out[w->length] = c;
    w->out_origin[w->length++] = origin;
}

static void put_words(struct wording *w, const char *words, size_t origin)
{
    for (; *words; words++)
        put(w, *words, origin);
}

static void item_begins(struct wording *w)
{
    w->item = w->length;
    w->numbers = NO_NUMBER;
}

/* "sc in next 3 sts": three times, where the stitch has no number of its own. */
static bool next_stitches(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (w->numbers != NO_NUMBER || !take(&cursor, "in"))
        return false;
    take(&cursor, "the");
    const char *next = cursor;
    if (!take(&cursor, "next") || !take_digits(&cursor) || !take_stitches(&cursor))
        return false;
    put_words(w, "in each of ", origin);
    w->at = (size_t)(next - w->text);
    return true;
}

/* "2 sc in each st around": stars around the item. */
static bool each_stitch(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at], item = w->item;
    if (w->numbers == OTHER_NUMBERS || w->starred || !take(&cursor, "in") || !take(&cursor, "each") ||
        !take_stitches(&cursor) || !take_to_end(&cursor) || !ends_item(cursor))
        return false;
    while (item < w->length && w->out[item] == ' ')
        item++;
    if (item == w->length)
        return false;
    memmove(w->out + item + 1, w->out + item, w->length - item);
    memmove(w->out_origin + item + 1, w->out_origin + item, (w->length - item) * sizeof *w->out_origin);
    w->out[item] = '*';
    w->length++;
    put_words(w, "in 1*", origin);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* "; rep from * to end" closes the repeat that is open. */
static bool repeat_from(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (!w->starred || w->brackets || !(take(&cursor, "rep") || take(&cursor, "repeat")) || !take(&cursor, "from") ||
        !take(&cursor, "*"))
        return false;
    const char *behind = cursor;
    if (take(&cursor, "to") && (take(&cursor, "the"), take(&cursor, "last")) && take_digits(&cursor) &&
        take_stitches(&cursor) && (*cursor == ',' || *cursor == ';')) {
        behind = cursor;
    } else {
        cursor = behind;
        take_to_end(&cursor);
        behind = cursor;
    }
    if (!ends_item(behind))
        return false;
    while (w->length && strchr(" ,;.", w->out[w->length - 1]))
        w->length--;
    put(w, '*', origin);
    w->starred = false;
    item_begins(w);
    w->at = (size_t)(behind - w->text);
    return true;
}

static void copy(struct wording *w)
{
    char c = w->text[w->at];
    put(w, c, w->origin[w->at++]);
    if (strchr("([{", c))
        w->brackets++;
    else if (strchr(")]}", c) && w->brackets)
        w->brackets--;
    else if (c == '*')
        w->starred = !w->starred;
    if (strchr(",;*([{)]}", c))
        item_begins(w);
}

bool hk_wording(struct hk_arena *arena, char **text, size_t **origin)
{
    /* "in next 1 st" gains 8 of 12 bytes; the other words are longer than what stands for them. */
    size_t most = 2 * strlen(*text) + 1;
    struct wording w = {.text = *text, .origin = *origin};
    w.out = hk_arena_take(arena, most, 1);
    w.out_origin = hk_arena_take(arena, most, sizeof *w.out_origin);
    if (!w.out || !w.out_origin)
        return false;
    while (w.text[w.at]) {
        bool begins = w.at == 0 || !is_letter(w.text[w.at - 1]);
        if (!begins || !(next_stitches(&w) || each_stitch(&w) || repeat_from(&w)))
            copy(&w);
    }
    w.out[w.length] = '\0';
    w.out_origin[w.length] = w.origin[w.at];
    *text = w.out;
    *origin = w.out_origin;
    return true;
}
