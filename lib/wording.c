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
    struct hk_arena *arena;
    const char *text;
    const size_t *origin;
    size_t at;             /* the next byte of text */
    char *out;
    size_t *out_origin;
    size_t length, most;   /* of out; and what it has room for, a closing zero among it */
    bool full;             /* it had no room for all */
    size_t item;           /* where its present item begins */
    enum numbers numbers;
    size_t brackets;
    bool starred;          /* a repeat is open */
    bool closed;           /* the present item begins behind a bracket or a repeat that closed */
    size_t opened;         /* where in out the latest outermost bracket opens */
    struct hk_stated stated;
};

/* The word and the blank behind it at the cursor, which then stands behind them. */
static bool take(const char **cursor, const char *word)
{
    size_t length = strlen(word);
    if (!hk_text_starts(*cursor, word) || (hk_is_letter(word[length - 1]) && hk_is_letter((*cursor)[length])))
        return false;
    *cursor += length;
    *cursor += **cursor == ' ';
    return true;
}

static bool take_stitches(const char **cursor)
{
    return take(cursor, "st") || take(cursor, "sts") || take(cursor, "stitch") || take(cursor, "stitches");
}

/* What is counted off in a row below: stitches, chains, or the basic ones by name. */
static bool take_counted(const char **cursor)
{
    static const char *const names[] = {"ch", "chs", "sc", "hdc", "dc", "htr", "tr"};
    const char *start = *cursor;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (take(cursor, names[i]) && **cursor != '-' && !hk_text_starts(*cursor, "sp")) /* "ch-2 sp" is another place */
            return true;
        else
            *cursor = start;
    return take_stitches(cursor);
}

static bool take_side(const char **cursor)
{
    return take(cursor, "next") || take(cursor, "first") || take(cursor, "last");
}

static bool take_digits(const char **cursor)
{
    const char *start = *cursor;
    while (hk_is_digit(**cursor))
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

/* "(40 sts)." and then nothing; "(2 sc)" would be worked. */
static bool states_count(const char *at)
{
    if (*at != '(' && *at != '[')
        return false;
    at++;
    if (!take_digits(&at))
        return false;
    take_stitches(&at);
    return (*at == ')' || *at == ']') && !at[1 + strspn(at + 1, " .")];
}

static bool ends_item(const char *at)
{
    return !*at || strchr(",;.)]}", *at) || states_count(at);
}

/* "to last 2 sts", with what is worked into those behind it. */
static bool take_to_last(const char **cursor)
{
    const char *at = *cursor;
    if (!take(&at, "to") || !(take(&at, "the"), take(&at, "last")) || !(take_digits(&at), take_stitches(&at)) ||
        (*at != ',' && *at != ';'))
        return false;
    *cursor = at;
    return true;
}

static bool has_room(struct wording *w)
{
    w->full |= w->length + 1 >= w->most;
    return !w->full;
}

static void put(struct wording *w, char c, size_t origin)
{
    if (!has_room(w))
        return;
    if (hk_is_digit(c)) {
        bool before = w->numbers != OTHER_NUMBERS;
        for (size_t i = w->item; before && i < w->length && w->numbers == NO_NUMBER; i++)
            before = w->out[i] == ' ';
        before = before && (w->numbers == NO_NUMBER || hk_is_digit(w->out[w->length - 1]));
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

/* Those at a place of the text, and a blank. */
static void put_digits(struct wording *w, const char *at)
{
    for (; hk_is_digit(*at); at++)
        put(w, *at, w->origin[at - w->text]);
    if (w->length && hk_is_digit(w->out[w->length - 1]))
        put(w, ' ', w->out_origin[w->length - 1]);
}

static void item_begins(struct wording *w)
{
    w->item = w->length;
    w->numbers = NO_NUMBER;
}

/* Where nothing of the present item is written yet. */
static bool at_item_start(const struct wording *w)
{
    for (size_t i = w->item; i < w->length; i++)
        if (w->out[i] != ' ')
            return false;
    return true;
}

/*
 * "sc in next 3 sts", "sc in each of the last 3 sts", "fpdc around next st": so many times, where the stitch has no number of
 * its own; where the place has none, whatever the number, all in one.
 */
static bool next_stitches(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (!take(&cursor, "in") && !take(&cursor, "around"))
        return false;
    bool each = take(&cursor, "each") && take(&cursor, "of");
    take(&cursor, "the");
    if (!take_side(&cursor))
        return false;
    const char *number = cursor;
    bool many = take_digits(&cursor);
    if (!many && !each && hk_text_starts(cursor, "ch-")) {
        put_words(w, "in ", origin);
        w->at = (size_t)(cursor - w->text);
        return true;
    }
    if (!take_counted(&cursor) || (many ? w->numbers != NO_NUMBER && !each : each))
        return false;
    put_words(w, many ? "in each of " : "in 1 ", origin);
    put_digits(w, many ? number : "");
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* "sk next 2 sts": "sk 2". */
static bool skipped(struct wording *w)
{
    const char *start = w->text + w->at, *cursor = start;
    size_t origin = w->origin[w->at];
    if (!at_item_start(w) || !(take(&cursor, "sk") || take(&cursor, "skip") || take(&cursor, "miss")))
        return false;
    const char *behind = cursor;
    take(&cursor, "the");
    take_side(&cursor);
    const char *number = cursor;
    bool many = take_digits(&cursor);
    if (!take_counted(&cursor) || !ends_item(cursor))
        return false;
    for (; start < behind; start++)
        put(w, *start, origin);
    put_words(w, many ? " " : " 1", origin);
    put_digits(w, many ? number : "");
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* Bytes of what a chain counts as, up to the bracket that closes or words that say how long it does; 0: it is not closed. */
static size_t counts_as(const char *at)
{
    static const char *const ends[] = {" here and throughout", " now and throughout", " throughout"};
    size_t length = strcspn(at, "()[]{}*");
    if (at[length] != ')')
        return 0;
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        size_t end = strlen(ends[i]);
        if (length > end && hk_text_starts(at + length - end, ends[i]))
            return length - end;
    }
    return length;
}

static bool take_chain(const char **cursor)
{
    return take(cursor, "ch") || take(cursor, "chs") || take(cursor, "chain") || take(cursor, "chains");
}

/*
 * "ch 3 (counts as first dc)", "3 ch (counts as dc)": "tch 3 as (dc)"; "ch 4 (counts as dc and ch 1)": "tch 4 as (dc, ch 1)";
 * "ch 2 (does not count as st)": "tch 2".
 */
static bool counted_chain(struct wording *w)
{
    const char *cursor = w->text + w->at, *number = cursor;
    size_t origin = w->origin[w->at];
    bool first = take_digits(&cursor);
    if (!at_item_start(w) || !take_chain(&cursor))
        return false;
    cursor += !first && *cursor == '-';
    number = first ? number : cursor;
    if ((!first && !take_digits(&cursor)) || *cursor != '(')
        return false;
    const char *end = strchr(cursor++, ')');
    if (end && (take(&cursor, "does not count") || take(&cursor, "doesn't count") || take(&cursor, "not counted"))) {
        put_words(w, "tch ", origin);
        put_digits(w, number);
        w->at = (size_t)(end + 1 - w->text);
        return true;
    }
    if (!(take(&cursor, "counts") || take(&cursor, "count")) || !take(&cursor, "as"))
        return false;
    if (!take(&cursor, "the"))
        take(&cursor, "a");
    take(&cursor, "first");
    if (*cursor == '1' && cursor[1] == ' ')
        cursor += 2;
    size_t length = counts_as(cursor);
    if (!end || !length)
        return false;
    put_words(w, "tch ", origin);
    put_digits(w, number);
    put_words(w, "as (", origin);
    for (size_t i = 0; i < length; i++) {
        const char *at = cursor + i;
        bool and = hk_text_starts(at, " and ");
        put(w, and || *at == '+' ? ',' : *at == '-' ? ' ' : *at, w->origin[at - w->text]);
        i += and ? strlen(" and") - 1 : 0;
    }
    put(w, ')', origin);
    w->at = (size_t)(end + 1 - w->text);
    return true;
}

/* "join with sl st to first sc", "sl st to top of ch-3": where a round is joined takes no more or less yarn. */
static bool joined(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (!at_item_start(w))
        return false;
    bool join = take(&cursor, "join") && (take(&cursor, "with") || take(&cursor, "to") || take(&cursor, "in") ||
                                          take(&cursor, "rnd") || take(&cursor, "round"));
    if (!join && !((take(&cursor, "sl st") || take(&cursor, "ss")) && take(&cursor, "to")))
        return false;
    put_words(w, "join", origin);
    w->at = (size_t)(cursor + strcspn(cursor, ",;.*()[]{}") - w->text);
    return true;
}

/* "in back loop only", "through the front loops": as BLO and FLO. */
static bool one_loop(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (!take(&cursor, "in") && !take(&cursor, "through"))
        return false;
    take(&cursor, "the");
    bool front = take(&cursor, "front");
    if (!front && !take(&cursor, "back") && !take(&cursor, "third") && !take(&cursor, "3rd"))
        return false;
    if (!take(&cursor, "loop") && !take(&cursor, "loops"))
        return false;
    take(&cursor, "only");
    put_words(w, front ? "FLO " : "BLO ", origin);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* What was passed over used up its stitch then. */
static bool in_skipped(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (!take(&cursor, "in"))
        return false;
    take(&cursor, "the");
    if (!take(&cursor, "skipped") || !take_counted(&cursor))
        return false;
    put_words(w, "in same sp", origin);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* The star of a repeat in front of the present item; false where there is none. */
static bool star_item(struct wording *w)
{
    size_t item = w->item;
    if (at_item_start(w) || !has_room(w))
        return false;
    while (w->out[item] == ' ')
        item++;
    memmove(w->out + item + 1, w->out + item, w->length - item);
    memmove(w->out_origin + item + 1, w->out_origin + item, (w->length - item) * sizeof *w->out_origin);
    w->out[item] = '*';
    w->length++;
    return true;
}

/* "sc across", "k to end", "k to last 3 sts", "(sc 4, sc2tog) around": again and again. */
static bool across(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    bool group = w->closed && w->brackets == 0 && w->out[w->item - 1] != '*' && at_item_start(w);
    if (w->numbers != NO_NUMBER || w->starred || (w->closed && !group) || !(take_to_last(&cursor) || take_to_end(&cursor)) ||
        !ends_item(cursor))
        return false;
    if (group) {
        w->out[w->opened] = w->out[w->item - 1] = '*';
        w->at = (size_t)(cursor - w->text);
        return true;
    }
    if (!star_item(w))
        return false;
    put(w, '*', origin);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* "2 sc in each st around": stars around the item. */
static bool each_stitch(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at];
    if (w->numbers == OTHER_NUMBERS || w->starred || !take(&cursor, "in"))
        return false;
    if (take(&cursor, "next")) { /* "in next st and in each st across" */
        if (!take_stitches(&cursor) || !take(&cursor, "and"))
            return false;
        take(&cursor, "in");
    }
    if (!take(&cursor, "each") || !take_counted(&cursor) || !(take_to_last(&cursor) || take_to_end(&cursor)) ||
        !ends_item(cursor))
        return false;
    if (!star_item(w))
        return false;
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
    if (!take_to_last(&cursor))
        take_to_end(&cursor);
    if (!ends_item(cursor))
        return false;
    while (w->length && strchr(" ,;.", w->out[w->length - 1]))
        w->length--;
    put(w, '*', origin);
    w->starred = false;
    item_begins(w);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* The words of the present item up to its place, NULL where they are not only words; *length. */
static const char *item_words(const struct wording *w, size_t *length)
{
    const char *words = w->out + w->item, *end = w->out + w->length;
    while (words < end && *words == ' ')
        words++;
    const char *c = words;
    while (c < end && (hk_is_letter(*c) || (*c == ' ' && !(end - c > 3 && hk_text_starts(c, " in ")))))
        c++;
    bool whole = c == end || *c == ' ';
    while (c > words && c[-1] == ' ')
        c--;
    *length = (size_t)(c - words);
    return whole && *length > 0 ? words : NULL;
}

/* "sc in same st and in each st around": the stitch again. */
static bool and_in(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t origin = w->origin[w->at], length;
    const char *words = item_words(w, &length);
    if (!take(&cursor, "and") || !hk_text_starts(cursor, "in ") || !words)
        return false;
    while (w->out[w->length - 1] == ' ')
        w->length--;
    put_words(w, ", ", origin);
    item_begins(w);
    for (size_t i = 0; i < length; i++)
        put(w, words[i], origin);
    put(w, ' ', origin);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* "2nd", "third": 2, 3; 0 where it is none of those that a first row begins in. */
static size_t take_ordinal(const char **cursor)
{
    static const char *const ordinals[][2] = {{"2nd", "second"}, {"3rd", "third"}, {"4th", "fourth"}, {"5th", "fifth"}};
    for (size_t i = 0; i < sizeof ordinals / sizeof ordinals[0]; i++)
        if (take(cursor, ordinals[i][0]) || take(cursor, ordinals[i][1]))
            return i + 2;
    return 0;
}

/* "sc in 2nd ch from hook": "tch 1, sc"; of four and more the chains passed over stand for a stitch: "tch 3 as (dc), dc". */
static bool from_hook(struct wording *w)
{
    const char *cursor = w->text + w->at;
    size_t length;
    const char *words = item_words(w, &length);
    if (!words || w->brackets || w->starred || !take(&cursor, "in"))
        return false;
    take(&cursor, "the");
    size_t ordinal = take_ordinal(&cursor);
    if (!ordinal || !take_chain(&cursor) || !take(&cursor, "from") || (take(&cursor, "the"), !take(&cursor, "hook")))
        return false;
    size_t origin = w->out_origin[words - w->out];
    const char *stitch = hk_arena_text(w->arena, words, length);
    if (!stitch)
        return false;
    w->length = w->item;
    put_words(w, " tch ", origin);
    put(w, (char)('0' + ordinal - 1), origin);
    if (ordinal > 3) {
        put_words(w, " as (", origin);
        put_words(w, stitch, origin);
        put(w, ')', origin);
    }
    put_words(w, ", ", origin);
    item_begins(w);
    put_words(w, stitch, origin);
    put(w, ' ', origin);
    w->at = (size_t)(cursor - w->text);
    return true;
}

/* Beyond what can be counted it is no matter how far. */
static int64_t number_at(const char *digits)
{
    int64_t number = 0;
    for (; hk_is_digit(*digits) && number < INT64_MAX / 100; digits++)
        number = number * 10 + (*digits - '0');
    return number;
}

/* "(40 sts)" or "[40]" at the end of a row says what it comes to. */
static bool stated_count(struct wording *w)
{
    const char *bracket = w->text + w->at, *digits = bracket + 1;
    if (w->brackets || w->starred || !w->length || !states_count(bracket))
        return false;
    while (w->length && strchr(" ,;.", w->out[w->length - 1]))
        w->length--;
    w->stated = (struct hk_stated){number_at(digits), w->origin[digits - w->text]};
    w->at += strlen(bracket);
    return true;
}

static void copy(struct wording *w)
{
    char c = w->text[w->at];
    const char *next = w->text + w->at + 1;
    if (c == '.' && *next == ' ' && next[1] >= 'A' && next[1] <= 'Z') /* the next sentence */
        c = ';';
    put(w, c, w->origin[w->at++]);
    if (hk_is_letter(c) || hk_is_digit(c) || c == ' ')
        return;
    if (strchr("([{", c) && w->brackets++ == 0)
        w->opened = w->length - 1;
    else if (strchr(")]}", c) && w->brackets)
        w->brackets--;
    else if (c == '*')
        w->starred = !w->starred;
    if (strchr(",;*([{)]}", c)) {
        item_begins(w);
        w->closed = strchr(")]}", c) || (c == '*' && !w->starred);
    }
}

/* A way to put a sentence, and what it may begin with. */
struct way {
    bool (*put)(struct wording *w);
    const char *letters;
};

static bool reworded(struct wording *w)
{
    static const struct way ways[] = {
        {each_stitch, "i"},  {from_hook, "i"}, {next_stitches, "ia"}, {in_skipped, "i"}, {across, "at"},
        {repeat_from, "r"},  {skipped, "sm"},  {joined, "js"},        {one_loop, "it"},
        {and_in, "a"},       {counted_chain, "c0123456789"},          {stated_count, "({"},
    };
    const char c = w->text[w->at], letter = (char)(c | 0x20); /* which makes [ a { */
    const bool begins = hk_is_letter(c) || hk_is_digit(c) || c == '(' || c == '[';
    for (size_t i = 0; begins && i < sizeof ways / sizeof ways[0]; i++)
        if (strchr(ways[i].letters, letter) && ways[i].put(w))
            return true;
    return false;
}

bool hk_wording(struct hk_arena *arena, char **text, size_t **origin, struct hk_stated *stated)
{
    size_t most = 2 * strlen(*text) + 1;
    struct wording w = {.arena = arena, .text = *text, .origin = *origin, .most = most, .stated.stitches = -1};
    w.out = hk_arena_take(arena, most, 1);
    w.out_origin = hk_arena_take(arena, most, sizeof *w.out_origin);
    if (!w.out || !w.out_origin)
        return false;
    while (w.text[w.at] && !w.full) {
        bool begins = w.at == 0 || !hk_is_letter(w.text[w.at - 1]);
        if (!begins || !reworded(&w))
            copy(&w);
    }
    if (w.full)
        return true;
    *stated = w.stated;
    w.out[w.length] = '\0';
    w.out_origin[w.length] = w.origin[w.at];
    *text = w.out;
    *origin = w.out_origin;
    return true;
}
