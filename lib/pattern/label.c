/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/label.h"

#include "text.h"

#include <string.h>

#define LABEL_MOST ((size_t)120)
#define NUMBER_MOST ((int64_t)100000000)
#define LIST_MOST 64

static const char *const row_words[] = {"rows", "row", "rnds", "rnd", "rounds", "round", "rds", "rd", "rw", NULL};

/* ---- Words ------------------------------------------------------------------------------------------------------- */

const char *hk_word_at(const char *text, const char *word)
{
    size_t length = strlen(word);
    if (!hk_text_starts(text, word))
        return NULL;
    bool ends = hk_is_letter(word[length - 1]) && (hk_is_letter(text[length]) || hk_is_digit(text[length]));
    return ends ? NULL : text + length;
}

const char *hk_word_find(const char *text, const char *word)
{
    for (const char *c = text; *c; c++)
        if ((c == text || !(hk_is_letter(c[-1]) || hk_is_digit(c[-1]))) && hk_word_at(c, word))
            return c;
    return NULL;
}

const char *hk_word_of(const char *text, const char *const *words)
{
    for (; *words; words++) {
        const char *end = hk_word_at(text, *words);
        if (end)
            return end;
    }
    return NULL;
}

/* ---- Numbers ----------------------------------------------------------------------------------------------------- */

static bool word_number(const char **cursor, int64_t *value)
{
    static const struct {
        const char *word;
        int64_t value;
    } words[] = {{"once", 1},  {"twice", 2}, {"thrice", 3}, {"one", 1},     {"two", 2},
                 {"three", 3}, {"four", 4},  {"five", 5},   {"six", 6},     {"seven", 7},
                 {"eight", 8}, {"nine", 9},  {"ten", 10},   {"eleven", 11}, {"twelve", 12}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const char *end = hk_word_at(*cursor, words[i].word);
        if (!end)
            continue;
        *cursor = end;
        *value = words[i].value;
        return true;
    }
    return false;
}

static bool digits_scan(const char **cursor, int64_t *value)
{
    size_t digits = hk_digit_run(*cursor);
    if (digits == 0 || digits > 9)
        return false;
    *value = 0;
    for (size_t i = 0; i < digits; i++)
        *value = 10 * *value + ((*cursor)[i] - '0');
    *cursor += digits;
    return *value <= NUMBER_MOST;
}

/* A range of one size: "5", "2-9", "-" for none. `to` of a lone number is -1. */
struct range {
    int64_t from, to;
    bool none;
};

static bool range_scan(const char **cursor, bool ranges, struct range *range)
{
    const char *c = *cursor;
    *range = (struct range){0, -1, false};
    if (*c == '-' && (c[1] == ',' || c[1] == ' ' || c[1] == ')' || c[1] == ']' || c[1] == ';' || !c[1])) {
        range->none = true;
        *cursor = c + 1;
        return true;
    }
    if (!digits_scan(&c, &range->from))
        return false;
    if (ranges && *c == '-' && hk_is_digit(c[1])) {
        const char *second = c + 1;
        if (digits_scan(&second, &range->to))
            c = second;
    }
    *cursor = c;
    return true;
}

/*
 * The values of the other sizes in brackets behind the first; how many, 0 where no bracket of numbers stands there.
 * *good: there were no more than `most`.
 */
static size_t bracket_scan(const char **cursor, bool ranges, struct range *values, size_t most, bool *good)
{
    const char *c = *cursor;
    size_t count = 0;
    *good = true;
    for (;;) {
        const char *open = hk_blanks_skipped(c);
        if (*open != '(' && *open != '[')
            break;
        char close = *open == '(' ? ')' : ']';
        const char *inner = open + 1;
        size_t here = count;
        for (;;) {
            struct range value;
            inner = hk_blanks_skipped(inner);
            if (!range_scan(&inner, ranges, &value))
                return count == 0 ? 0 : count;
            if (here < most)
                values[here] = value;
            here++;
            inner = hk_blanks_skipped(inner);
            if (*inner != ',' && *inner != ';' && *inner != '/')
                break;
            inner++;
        }
        if (*inner != close)
            return count;
        /* "(24)" behind a number may be a count: only as many as sizes are left are taken. */
        if (here > most) {
            *good = false;
            return count;
        }
        count = here;
        c = inner + 1;
        *cursor = c;
        if (count == most)
            break;
    }
    return count;
}

/* A graded range into two numbers. Room for size_count in `values`. */
static bool graded_range(const char **cursor, bool ranges, size_t size_count, struct range *values, bool *graded,
                         bool *wrong)
{
    const char *c = *cursor;
    *graded = false;
    if (!range_scan(&c, ranges, &values[0]))
        return false;
    if (size_count > 1) {
        const char *behind = c;
        bool good;
        size_t count = bracket_scan(&behind, ranges, values + 1, size_count - 1, &good);
        if (count == size_count - 1 && good) {
            *graded = true;
            c = behind;
        } else if (count > 1 || !good) {
            *wrong = true;
            c = behind;
        }
    }
    if (values[0].none && !*graded)
        return false;
    for (size_t i = 1; *graded && i < size_count && values[0].to >= 0; i++) /* "2-30 (32, 36)": only the end differs */
        if (!values[i].none && values[i].to < 0) {
            values[i].to = values[i].from;
            values[i].from = values[0].from;
        }
    *cursor = c;
    return true;
}

bool hk_whole_scan(const char **cursor, size_t size_count, struct hk_graded_count *number, bool *wrong,
                   struct hk_arena *arena)
{
    int64_t value;
    if (word_number(cursor, &value)) {
        *number = (struct hk_graded_count){.one = value};
        return true;
    }
    struct range *values = hk_arena_take(arena, size_count, sizeof *values);
    bool graded;
    if (!values || !graded_range(cursor, false, size_count, values, &graded, wrong))
        return false;
    *number = (struct hk_graded_count){.one = values[0].from};
    if (!graded)
        return true;
    int64_t *by_size = hk_arena_take(arena, size_count, sizeof *by_size);
    if (!by_size)
        return false;
    for (size_t i = 0; i < size_count; i++)
        by_size[i] = values[i].none ? 0 : values[i].from;
    number->by_size = by_size;
    return true;
}

/* ---- Labels ------------------------------------------------------------------------------------------------------ */

/* The colon that ends a label, not in brackets; NULL: none in the first bytes. */
static const char *colon_find(const char *text)
{
    size_t depth = 0;
    for (const char *c = text; *c && c < text + LABEL_MOST; c++) {
        depth += *c == '(' || *c == '[';
        depth -= depth > 0 && (*c == ')' || *c == ']');
        if (*c == ':' && depth == 0 && (!c[1] || c[1] == ' ' || hk_is_letter(c[1]) || c[1] == '*' || c[1] == '('))
            return c;
        if (depth == 0 && (*c == ';' || *c == '*' || (*c == '.' && c[1] == ' ')))
            return NULL;
    }
    return NULL;
}

/* A word that names rows, or "R1": where what follows it begins, else NULL. */
static const char *row_word_at(const char *text)
{
    const char *end = NULL;
    for (size_t i = 0; row_words[i] && !end; i++) /* "Rnd1" too */
        if (hk_text_starts(text, row_words[i]) && !hk_is_letter(text[strlen(row_words[i])]))
            end = text + strlen(row_words[i]);
    if (!end && (*text == 'R' || *text == 'r') && hk_is_digit(text[1]))
        end = text + 1;
    return end;
}

static const char *row_word_find(const char *text, const char *end)
{
    for (const char *c = text; c < end; c++)
        if ((c == text || !(hk_is_letter(c[-1]) || hk_is_digit(c[-1]))) && row_word_at(c))
            return c;
    return NULL;
}

/* "Row 3" and no colon: the end of its numbers, where words of work may begin. NULL: it is a sentence about rows. */
static const char *bare_label(const char *text)
{
    static const char *const about[] = {"is",      "are",    "counts", "count", "forms", "form", "sets",
                                        "set",     "makes",  "make",   "only",  "has",   "have", "will",
                                        "starts",  "begins", "as",     "of",    "from",  "for",  "until",
                                        "onwards", "onward", "below",  "above", "again", NULL};
    const char *c = row_word_at(text);
    if (!c)
        return NULL;
    c = hk_blanks_skipped(c);
    if (!hk_is_digit(*c))
        return NULL;
    const char *last = c;
    for (;;) {
        c = hk_blanks_skipped(c);
        if (hk_is_digit(*c) || *c == '-') {
            c += hk_is_digit(*c) ? hk_digit_run(c) : 1;
            last = c;
        } else if ((*c == ',' || *c == '&') && hk_is_digit(*hk_blanks_skipped(c + 1))) {
            c++;
        } else if (hk_word_at(c, "and") && hk_is_digit(*hk_blanks_skipped(c + 3))) {
            c += 3;
        } else if (*c == '(') {
            const char *close = strchr(c, ')');
            bool numbers = close && strspn(c + 1, "0123456789-,; ") == (size_t)(close - c - 1);
            bool side = close && (hk_word_at(c + 1, "RS") || hk_word_at(c + 1, "WS") ||
                                  hk_word_at(c + 1, "right side") || hk_word_at(c + 1, "wrong side"));
            if (!numbers && !side)
                break;
            c = last = close + 1;
        } else {
            break;
        }
    }
    if (*last == '.' || *last == ')')
        last++;
    const char *body = hk_blanks_skipped(last);
    if (!*body || hk_word_of(body, about) || *body == ';' || *body == '=')
        return NULL;
    if (body[0] == '-' && body[1] == ' ')
        last = body + 1;
    return last;
}

/* References are no labels: "Rep rows 1 and 2 until ...: " */
static bool refers(const char *text)
{
    static const char *const words[] = {"rep",   "repeat",   "work",  "as",   "same",  "note",     "notes",
                                        "cont",  "continue", "at",    "when", "after", "starting", "beginning",
                                        "begin", "from",     "until", "on",   "knit",  "purl",     NULL};
    return hk_word_of(text, words) != NULL;
}

/* Where the body begins, and in *end the end of the label. NULL: no label. */
static const char *label_bounds(const char *text, const char **end)
{
    const char *colon = colon_find(text);
    if (colon && !refers(text) && row_word_find(text, colon)) {
        *end = colon;
        return colon + 1;
    }
    const char *bare = bare_label(text);
    *end = bare;
    return bare;
}

bool hk_label_begins(const char *text)
{
    const char *end;
    return label_bounds(text, &end) != NULL;
}

bool hk_line_begins_work(const char *text)
{
    static const char *const openers[] = {"cast on",
                                          "magic ring",
                                          "magic circle",
                                          "make a magic",
                                          "with",
                                          "using",
                                          "change to",
                                          "switch to",
                                          "on an edge",
                                          "fasten off",
                                          "work",
                                          "knit",
                                          "purl",
                                          "bind off",
                                          "cast off",
                                          "bo",
                                          "dec",
                                          "inc",
                                          "cont",
                                          "continue",
                                          "place",
                                          "divide",
                                          "pick up",
                                          "next row",
                                          "next rnd",
                                          "rep row",
                                          "rep rows",
                                          "rep rnd",
                                          "rep rnds",
                                          "rep round",
                                          "rep rounds",
                                          "rep last",
                                          "rep the last",
                                          "rep these",
                                          "repeat row",
                                          "repeat rows",
                                          "repeat rnd",
                                          "repeat rnds",
                                          "repeat round",
                                          "repeat rounds",
                                          "repeat last",
                                          "repeat the last",
                                          "repeat these",
                                          "foundation",
                                          "decrease",
                                          "increase",
                                          NULL};
    if (hk_label_begins(text))
        return true;
    if (*text >= 'a' && *text <= 'z')
        return false;
    const char *chain = hk_word_at(text, "chain") ? text + 5 : hk_text_starts(text, "ch") ? text + 2 : NULL;
    if (!chain && hk_text_starts(text, "co"))
        chain = text + 2;
    if (chain && hk_is_digit(*hk_blanks_skipped(chain)))
        return true;
    const char *join = hk_word_at(text, "join");
    if (join && *join == ' ' && !hk_word_at(join + 1, "with") && !hk_word_at(join + 1, "to") &&
        !hk_word_at(join + 1, "in"))
        return true;
    return hk_word_of(text, openers) != NULL;
}

static enum hk_side side_of(const char *name)
{
    if (hk_word_find(name, "RS") || hk_word_find(name, "right side"))
        return HK_SIDE_RIGHT;
    if (hk_word_find(name, "WS") || hk_word_find(name, "wrong side"))
        return HK_SIDE_WRONG;
    return HK_SIDE_OPEN;
}

static bool range_numbers(const struct range *from, const struct range *to, size_t size_count, bool graded,
                          struct hk_label *label, struct hk_arena *arena)
{
    label->numbered = true;
    label->first.one = from[0].from;
    label->last.one = to[0].to >= 0 ? to[0].to : to[0].from;
    if (!graded)
        return true;
    int64_t *first = hk_arena_take(arena, size_count, sizeof *first),
            *last = hk_arena_take(arena, size_count, sizeof *last);
    if (!first || !last)
        return false;
    for (size_t i = 0; i < size_count; i++) {
        bool none = from[i].none || to[i].none;
        first[i] = none ? 1 : from[i].from;
        last[i] = none ? 0 : to[i].to >= 0 ? to[i].to : to[i].from;
    }
    label->first.by_size = first;
    label->last.by_size = last;
    return true;
}

/* ", 4 and 6" behind the first number. */
static bool list_scan(const char *c, struct hk_label *label, struct hk_arena *arena)
{
    int64_t *list = hk_arena_take(arena, LIST_MOST, sizeof *list);
    if (!list)
        return false;
    for (; label->list_count < LIST_MOST;) {
        static const char *const seps[] = {"and", "&", "+", NULL};
        c = hk_blanks_skipped(c);
        c = *c == ',' ? hk_blanks_skipped(c + 1) : c;
        const char *sep = hk_word_of(c, seps);
        c = sep ? hk_blanks_skipped(sep) : c;
        int64_t value;
        if (!digits_scan(&c, &value))
            break;
        list[label->list_count++] = value;
    }
    label->list = list;
    int64_t next = label->last.one;
    bool run = label->list_count > 0;
    for (size_t i = 0; i < label->list_count; i++)
        run &= list[i] == ++next;
    if (run) { /* "Rows 3 and 4" are a range */
        label->last.one = next;
        label->list_count = 0;
    }
    return true;
}

bool hk_numbers_follow(const char *c)
{
    c = hk_blanks_skipped(c);
    if (*c != '(' && *c != '[')
        return false;
    size_t length = strspn(c + 1, "0123456789-,; ");
    return length > 0 && (c[1 + length] == ')' || c[1 + length] == ']');
}

/* What stands behind the row word, "2-9 (2-10, 2-11)". */
static bool numbers_read(const char *c, const char *name, size_t size_count, struct hk_label *label,
                         struct hk_arena *arena)
{
    struct range *from = hk_arena_take(arena, size_count, sizeof *from),
                 *to = hk_arena_take(arena, size_count, sizeof *to);
    bool graded, graded_to = false, wrong = false;
    if (!from || !to)
        return false;
    c = hk_blanks_skipped(c);
    const char *start = c;
    if (!graded_range(&c, true, size_count, from, &graded, &wrong))
        return true;
    memcpy(to, from, (graded ? size_count : 1) * sizeof *to);
    const char *dash = hk_blanks_skipped(c);
    static const char *const tos[] = {"-", "to", "through", "thru", NULL};
    const char *second = hk_word_of(dash, tos);
    if (second && hk_is_digit(*hk_blanks_skipped(second)) && from[0].to < 0) {
        c = hk_blanks_skipped(second);
        if (!graded_range(&c, false, size_count, to, &graded_to, &wrong))
            return true;
        for (size_t i = 1; i < size_count && graded != graded_to; i++) {
            if (!graded)
                from[i] = from[0];
            if (!graded_to)
                to[i] = to[0];
        }
    }
    if (wrong || hk_numbers_follow(c))
        label->wrong = (size_t)(start - name) + 1;
    return range_numbers(from, to, size_count, graded || graded_to, label, arena) &&
           (graded || graded_to || list_scan(c, label, arena));
}

/* "Next 3 (4, 5) rnds", "1st row", "Next row". */
static bool count_read(const char *name, const char *row_word, size_t size_count, struct hk_label *label,
                       struct hk_arena *arena)
{
    label->rows.one = 1;
    for (const char *c = name; c < row_word; c++) {
        if (!hk_is_digit(*c) && !(hk_is_letter(*c) && (c == name || c[-1] == ' ')))
            continue;
        const char *end = c;
        bool wrong = false;
        struct hk_graded_count number;
        if (!hk_whole_scan(&end, size_count, &number, &wrong, arena)) {
            if (hk_is_digit(*c))
                c += hk_digit_run(c) - 1;
            continue;
        }
        if (wrong)
            label->wrong = (size_t)(c - name) + 1;
        if (!number.by_size && hk_is_letter(*end)) { /* 1st, 2nd */
            label->numbered = true;
            label->first = label->last = number;
            return true;
        }
        label->rows = number;
        label->rows_given = true;
        return true;
    }
    return true;
}

bool hk_label_read(const char *text, const struct hk_row_words *words, struct hk_label *label, struct hk_arena *arena)
{
    const char *end, *body = label_bounds(text, &end);
    if (!body)
        return false;
    *label = (struct hk_label){.length = (size_t)(body - text)};
    size_t length = (size_t)(end - text);
    while (length > 0 && strchr(" .-", text[length - 1]))
        length--;
    label->name = hk_arena_text(arena, text, length);
    if (!label->name)
        return false;
    const char *word = row_word_find(label->name, label->name + length);
    const char *numbers = word ? row_word_at(word) : NULL;
    if (!numbers)
        return false;
    label->side = side_of(label->name);
    label->others = hk_word_find(label->name, "all") || hk_word_find(label->name, "every");
    if (!numbers_read(numbers, label->name, words->size_count, label, arena))
        return false;
    return label->numbered || count_read(label->name, word, words->size_count, label, arena);
}

/* ---- Sizes ------------------------------------------------------------------------------------------------------- */

static const struct {
    const char *word, *size;
} size_words[] = {
    {"extra small", "XS"}, {"extra large", "XL"}, {"small", "S"}, {"medium", "M"}, {"large", "L"},
    {"xs", "extra small"}, {"xl", "extra large"}, {"s", "small"}, {"m", "medium"}, {"l", "large"},
};

static size_t size_named(const struct hk_row_words *words, const char *name)
{
    for (size_t i = 0; i < words->size_count; i++)
        if (hk_text_same(words->size_names[i], name))
            return i;
    return SIZE_MAX;
}

/* The size whose name, or another word for it, stands there; the longest of them. Advances. */
static size_t size_at(const char **cursor, const struct hk_row_words *words)
{
    static const char *const ordinals[] = {"first", "second",  "third",  "fourth", "fifth",
                                           "sixth", "seventh", "eighth", "ninth"};
    static const char *const figures[] = {"1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th"};
    size_t found = SIZE_MAX, length = 0;
    for (size_t i = 0; i < words->size_count; i++)
        if (strlen(words->size_names[i]) > length && hk_word_at(*cursor, words->size_names[i])) {
            found = i;
            length = strlen(words->size_names[i]);
        }
    for (size_t i = 0; i < sizeof size_words / sizeof size_words[0]; i++)
        if (strlen(size_words[i].word) > length && hk_word_at(*cursor, size_words[i].word) &&
            size_named(words, size_words[i].size) != SIZE_MAX) {
            found = size_named(words, size_words[i].size);
            length = strlen(size_words[i].word);
        }
    for (size_t i = 0; i < 9 && i < words->size_count && found == SIZE_MAX; i++)
        if (hk_word_at(*cursor, ordinals[i]) || hk_word_at(*cursor, figures[i])) {
            found = i;
            length = strlen(hk_word_at(*cursor, ordinals[i]) ? ordinals[i] : figures[i]);
        }
    if (found == SIZE_MAX && hk_word_at(*cursor, "smallest")) {
        found = 0;
        length = strlen("smallest");
    } else if (found == SIZE_MAX && hk_word_at(*cursor, "largest")) {
        found = words->size_count - 1;
        length = strlen("largest");
    }
    *cursor += found == SIZE_MAX ? 0 : length;
    return found;
}

/* "Adult sizes": all whose names begin with that word. Advances. */
static bool sizes_that_begin(const char **cursor, const struct hk_row_words *words, bool *mask)
{
    size_t length = 0;
    while (hk_is_letter((*cursor)[length]))
        length++;
    bool any = false;
    for (size_t i = 0; length > 1 && i < words->size_count; i++) {
        const char *name = words->size_names[i];
        size_t same = 0;
        while (same < length && hk_lower(name[same]) == hk_lower((*cursor)[same]))
            same++;
        if (same == length && name[length] == ' ')
            mask[i] = any = true;
    }
    *cursor += any ? length : 0;
    return any;
}

/* A name that is a figure, "4", is also how rows and lists are numbered. */
static bool named_by_figures(const struct hk_row_words *words)
{
    for (size_t i = 0; i < words->size_count; i++)
        if (!hk_is_digit(words->size_names[i][0]))
            return false;
    return true;
}

size_t hk_sizes_read(const char *text, const struct hk_row_words *words, const bool **sizes, bool *unknown,
                     struct hk_arena *arena)
{
    static const char *const fillers[] = {"sizes", "size", "and", "or", "only", "for", "the",
                                          "&",     ",",    "(",   ")",  "/",    NULL};
    bool *mask = hk_arena_take(arena, words->size_count, sizeof *mask);
    bool any = false, all = false, said = false, odd = false;
    size_t last = SIZE_MAX;
    const char *colon = colon_find(text), *dash = strstr(text, " - "), *c = text;
    *sizes = NULL;
    *unknown = false;
    if (!mask)
        return 0;
    if (dash && (!colon || dash < colon) && dash < text + LABEL_MOST)
        colon = dash + 1;
    if (!colon)
        return 0;
    while (c < colon && !odd) {
        const char *filler;
        c = hk_blanks_skipped(c);
        if (c >= colon)
            break;
        size_t found = size_at(&c, words);
        if (found != SIZE_MAX) {
            mask[found] = any = true;
            last = found;
        } else if ((*c == '-' || hk_word_at(c, "to")) && last != SIZE_MAX) {
            c += *c == '-' ? 1 : 2;
            c = hk_blanks_skipped(c);
            size_t to = size_at(&c, words);
            for (size_t i = last; to != SIZE_MAX && i <= to; i++)
                mask[i] = true;
            odd = to == SIZE_MAX || to < last;
        } else if (sizes_that_begin(&c, words, mask)) {
            any = true;
        } else if (hk_word_at(c, "all")) {
            all = true;
            c += 3;
        } else if ((filler = hk_word_of(c, fillers))) {
            said |= hk_word_at(c, "size") || hk_word_at(c, "sizes") || hk_word_at(c, "only");
            c = filler;
        } else {
            odd = true;
        }
    }
    const char *only = hk_word_find(text, "only");
    const char *named = hk_word_find(text, "sizes"), *size = hk_word_find(text, "size");
    bool sizes_word = (named && named < colon) || (size && size < colon);
    if (!said && !odd && any && named_by_figures(words))
        return 0;
    if (odd && !row_word_find(text, colon) && (any || sizes_word))
        *unknown = (only && only < colon) || sizes_word;
    if (odd || (!any && !(all && said)))
        return *unknown ? (size_t)(colon - text) + 1 : 0;
    if (!all)
        *sizes = mask;
    return (size_t)(colon - text) + 1;
}
