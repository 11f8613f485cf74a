/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/label.h"

#include "base/text.h"

#include <assert.h>
#include <string.h>

#define LABEL_MOST ((size_t)120)
#define NUMBER_MOST ((int64_t)100000000)
#define LIST_MOST 1000

static const char *const row_words[] = {"rows", "row", "rnds", "rnd", "rounds", "round", "rds", "rd", "rw", NULL};

/* ---- Words ------------------------------------------------------------------------------------------------------- */

const char *hk_word_at(const char *text, const char *word)
{
    size_t length = strlen(word);
    assert(text);
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

struct number_word {
    const char *word;
    int64_t value;
};

static const char *number_word_at(const char *text, const struct number_word *words, size_t count, int64_t *value)
{
    for (size_t i = 0; i < count; i++) {
        const char *end = hk_word_at(text, words[i].word);
        if (!end)
            continue;
        *value = words[i].value;
        return end;
    }
    return NULL;
}

/* Reads a number word: "once", "six", "fourteen", "thirty", "thirty-six". */
static bool word_number(const char **cursor, int64_t *value)
{
    static const struct number_word ones[] = {{"one", 1}, {"two", 2},   {"three", 3}, {"four", 4}, {"five", 5},
                                              {"six", 6}, {"seven", 7}, {"eight", 8}, {"nine", 9}},
                                    more[] = {{"once", 1},     {"twice", 2},    {"thrice", 3},     {"ten", 10},
                                              {"eleven", 11},  {"twelve", 12},  {"thirteen", 13},  {"fourteen", 14},
                                              {"fifteen", 15}, {"sixteen", 16}, {"seventeen", 17}, {"eighteen", 18},
                                              {"nineteen", 19}},
                                    tens[] = {{"twenty", 20}, {"thirty", 30},  {"forty", 40},  {"fifty", 50},
                                              {"sixty", 60},  {"seventy", 70}, {"eighty", 80}, {"ninety", 90}};
    enum { one_count = sizeof ones / sizeof ones[0], more_count = sizeof more / sizeof more[0] };
    const char *end = number_word_at(*cursor, ones, one_count, value);
    if (!end)
        end = number_word_at(*cursor, more, more_count, value);
    if (!end && (end = number_word_at(*cursor, tens, sizeof tens / sizeof tens[0], value))) {
        int64_t unit = 0;
        const char *behind = *end == '-' || *end == ' ' ? number_word_at(end + 1, ones, one_count, &unit) : NULL;
        *value += unit;
        end = behind ? behind : end;
    }
    *cursor = end ? end : *cursor;
    return end;
}

const char *hk_number_word_end(const char *text)
{
    int64_t value;
    return word_number(&text, &value) ? text : NULL;
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
    if (*c == '-' && strchr(", )];:/", c[1])) {
        range->none = true;
        *cursor = c + 1;
        return true;
    }
    if (!digits_scan(&c, &range->from))
        return false;
    const char *second = c + 1;
    int64_t to;
    if (ranges && *c == '-' && digits_scan(&second, &to)) {
        range->to = to;
        c = second;
    }
    *cursor = c;
    return true;
}

/*
 * Reads the values of the other sizes in brackets after the first value. Returns their number, 0 if there is no bracket
 * of numbers. *good: there are at most `most`.
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
                return count;
            if (here < most)
                values[here] = value;
            here++;
            inner = hk_blanks_skipped(inner);
            if (!*inner || !strchr(HK_VALUE_MARKS "/", *inner))
                break;
            inner++;
        }
        if (*inner != close)
            return count;
        /* "(24)" after a number may be a count: the bracket must have one value for each remaining size. */
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

/* Reads a graded range. `values` has room for size_count. */
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
        if (count == size_count - 1) {
            *graded = true;
            c = behind;
        } else {
            *wrong |= count > 1 || !good;
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

bool hk_numbers_follow(const char *text)
{
    const char *c = hk_blanks_skipped(text);
    if (*c != '(' && *c != '[')
        return false;
    size_t length = strspn(c + 1, "0123456789- /" HK_VALUE_MARKS);
    return length > 0 && c[1 + length] == (*c == '(' ? ')' : ']');
}

const char *const hk_count_units[] = {"sts", "st", "stitches", "chs", "ch", "chains", NULL};

/* Returns the number after a mark between two numbers, "/ 66"; NULL: there is none. *blanks: there are some at "-". */
static const char *listed_number(const char *text, bool *blanks)
{
    const char *mark = hk_blanks_skipped(text);
    if (!*mark || !strchr("/-,;:", *mark))
        return NULL;
    const char *number = hk_blanks_skipped(mark + 1);
    *blanks = *mark == '-' && (mark > text || number > mark + 1);
    return hk_is_digit(*number) ? number : NULL;
}

const char *hk_list_without_bracket(const char *text, const char **end, struct hk_arena *arena)
{
    size_t digits = hk_digit_run(text), more = 0;
    const char *list = NULL, *c = text + digits, *number;
    bool blanks, close = false;
    for (; digits > 0 && (number = listed_number(c, &blanks)); more++) {
        const char *mark = hk_blanks_skipped(c);
        close |= *mark == '/' || (*mark == '-' && !blanks);
        if (!list)
            list = hk_arena_print(arena, "%.*s (", (int)digits, text);
        size_t here = hk_digit_run(number);
        list = list ? hk_arena_print(arena, "%s%s%.*s", list, more > 0 ? ", " : "", (int)here, number) : NULL;
        c = number + here;
    }
    *end = c;
    const char *behind = hk_blanks_skipped(c);
    bool ends = !*behind || strchr(".,;:", *behind) || hk_word_of(behind, hk_count_units);
    if (!list || hk_is_letter(*c) || (!close && (!ends || (more < 2 && !hk_word_of(behind, hk_count_units)))))
        return NULL;
    if (!close && more < 2 && *hk_blanks_skipped(text + digits) == '-') /* "Cast on 62 - 62 sts" */
        return NULL;
    return hk_arena_print(arena, "%s)", list);
}

/* ---- Labels ------------------------------------------------------------------------------------------------------ */

/* Returns the colon that ends a label, outside brackets; NULL if there is none in the first bytes. */
static const char *colon_find(const char *text)
{
    size_t depth = 0;
    for (const char *c = text; *c && c < text + LABEL_MOST; c++) {
        depth += *c == '(' || *c == '[';
        depth -= depth > 0 && (*c == ')' || *c == ']');
        if (*c == ':' && depth == 0 && (hk_is_letter(c[1]) || strchr(" *([", c[1])))
            return c;
        if (depth == 0 && (*c == ';' || *c == '*' || (*c == '.' && c[1] == ' ')))
            return NULL;
    }
    return NULL;
}

/* Returns the text after a word for rows, or after "R" of "R1"; NULL if there is none. */
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

/* Returns the text after the first word for rows. */
static const char *row_word_find(const char *text, const char *end)
{
    for (const char *c = text; c < end; c++) {
        const char *behind = c == text || !(hk_is_letter(c[-1]) || hk_is_digit(c[-1])) ? row_word_at(c) : NULL;
        if (behind)
            return behind;
    }
    return NULL;
}

/* The bounds of a label in a text. */
struct bounds {
    const char *numbers;   /* after the word for rows */
    const char *end;       /* end of the label's own words */
    const char *body;      /* the row's words; NULL: there is no label */
    const char *ambiguous; /* a number that may belong to the label or to the row; NULL: none */
};

static const char *const sides[] = {"RS", "WS", "right side", "wrong side", NULL};

/* Returns the text after a bracket such as "(RS)" or "(4, 6)" following a number, or NULL. */
static const char *label_bracket(const char *c)
{
    const char *close = *c == '(' ? strchr(c, ')') : NULL;
    return close && (hk_numbers_follow(c) || hk_word_of(c + 1, sides)) ? close + 1 : NULL;
}

/* Returns the number after "-", ",", "and" or "to", which join it to the number before; NULL if there is none. */
static const char *joined_number(const char *c)
{
    static const char *const joints[] = {"-", ",", "and", "&", "+", "to", "through", "thru", NULL};
    const char *joint = hk_word_of(c, joints);
    const char *number = joint ? hk_blanks_skipped(joint) : c;
    return joint && hk_is_digit(*number) ? number : NULL;
}

/*
 * Returns the text after the numbers of a label without a colon. A number after a comma or a dash may be the first word
 * of the row: "Row 2 - 2 sc in each st". It belongs to the label if only then "Rows" has a list or range, and to the
 * row if no range can end there.
 */
static const char *bare_numbers(const char *c, bool rows, const char **ambiguous)
{
    int64_t last = 0;
    if (!digits_scan(&c, &last))
        return NULL;
    bool several = !rows;
    for (;;) {
        const char *next = hk_blanks_skipped(c), *bracket = label_bracket(next);
        if (bracket) {
            c = bracket;
            continue;
        }
        const char *number = joined_number(next), *behind = number;
        int64_t value;
        if (!number || !digits_scan(&behind, &value))
            return c;
        if (several && (*next == '-' || *next == ',')) {
            *ambiguous = value > last && (rows || *next == '-') ? number : NULL;
            return c;
        }
        last = value;
        several = true;
        c = behind;
    }
}

/* Finds a label without a colon, "Row 3": words of work must follow its numbers, or it is a sentence about rows. */
static struct bounds bare_label(const char *text)
{
    static const char *const about[] = {"is",      "are",    "counts", "count", "forms", "form", "sets",
                                        "set",     "makes",  "make",   "only",  "has",   "have", "will",
                                        "starts",  "begins", "as",     "of",    "from",  "for",  "until",
                                        "onwards", "onward", "below",  "above", "again", NULL};
    struct bounds none = {0}, found = {.numbers = row_word_at(text)};
    if (!found.numbers)
        return none;
    bool rows = hk_lower(found.numbers[-1]) == 's';
    const char *c = bare_numbers(hk_blanks_skipped(found.numbers), rows, &found.ambiguous);
    if (!c)
        return none;
    found.end = c;
    c += strspn(c, " .),;:-");
    bool means = *c == '=';
    c = hk_blanks_skipped(c + means);
    if (!*c || hk_word_of(c, about) || (means && hk_word_of(c, sides))) /* "Row 2 = RS" */
        return none;
    found.body = c;
    return found;
}

/* Returns true for references, which are not labels: "Rep rows 1 and 2 until piece measures 20 cm: " */
static bool refers(const char *text)
{
    static const char *const words[] = {"rep",   "repeat",   "work",  "as",   "same",  "note",     "notes",
                                        "cont",  "continue", "at",    "when", "after", "starting", "beginning",
                                        "begin", "from",     "until", "on",   "knit",  "purl",     NULL};
    return hk_word_of(text, words) != NULL;
}

static struct bounds label_bounds(const char *text)
{
    const char *colon = colon_find(text);
    const char *numbers = colon && !refers(text) ? row_word_find(text, colon) : NULL;
    return numbers ? (struct bounds){.numbers = numbers, .end = colon, .body = colon + 1} : bare_label(text);
}

bool hk_label_begins(const char *text)
{
    return label_bounds(text).body != NULL;
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
                                          "rep dec",
                                          "rep inc",
                                          "rep the dec",
                                          "rep the inc",
                                          "repeat dec",
                                          "repeat inc",
                                          "repeat the dec",
                                          "repeat the inc",
                                          "keeping patt",
                                          "keeping pattern",
                                          "still keeping",
                                          "alternate",
                                          "stripes",
                                          "stripe sequence",
                                          "stripe pattern",
                                          "colour sequence",
                                          "color sequence",
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

/* Returns the size with the longest name, or other word for it, at *cursor, and advances. */
static size_t size_name_at(const char **cursor, const struct hk_row_words *words)
{
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
    *cursor += length;
    return found;
}

/* The same, also for "2nd", "second", "smallest". */
static size_t size_at(const char **cursor, const struct hk_row_words *words)
{
    static const char *const ordinals[] = {"first", "second",  "third",  "fourth", "fifth",
                                           "sixth", "seventh", "eighth", "ninth"};
    static const char *const figures[] = {"1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th"};
    size_t found = size_name_at(cursor, words);
    const char *end = NULL;
    if (found != SIZE_MAX)
        return found;
    for (size_t i = 0; i < 9 && i < words->size_count && !end; i++) {
        const char *const names[] = {ordinals[i], figures[i], NULL};
        end = hk_word_of(*cursor, names);
        found = i;
    }
    if (!end && (end = hk_word_at(*cursor, "smallest")))
        found = 0;
    if (!end && (end = hk_word_at(*cursor, "largest")))
        found = words->size_count - 1;
    *cursor = end ? end : *cursor;
    return end ? found : SIZE_MAX;
}

/*
 * Returns the colon after sizes, or a dash in its place: "S and M - ", but not that of "S - L:". NULL if there is none.
 */
static const char *sizes_end(const char *text, const struct hk_row_words *words)
{
    const char *colon = colon_find(text), *dash = strstr(text, " - "), *behind = dash ? dash + 3 : NULL;
    if (dash && (!colon || dash < colon) && dash < text + LABEL_MOST && size_name_at(&behind, words) == SIZE_MAX)
        return dash + 1;
    return colon;
}

/*
 * Returns true when words before the colon restrict a line to sizes: "Adult sizes", "M ... only" (a size is `named`).
 */
static bool names_sizes(const char *text, const char *colon, bool named)
{
    static const char *const words[] = {"sizes", "size", NULL};
    static const char *const measured[] = {"finished", "actual", "garment", NULL}; /* "Finished size: 84 cm" */
    const char *only = hk_word_find(text, "only");
    for (const char *c = text; c < colon && !hk_word_of(text, measured); c++)
        if (hk_word_of(c, words))
            return true;
    return named && only && only < colon;
}

/* Reads "Adult sizes": all sizes whose names begin with this word. Advances. */
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

/* Returns true when a size has a number as its name, "4", which may also number rows and lists. */
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
    bool any = false, all = false, size_word_found = false, unreadable = false;
    size_t last = SIZE_MAX;
    const char *colon = sizes_end(text, words), *c = text;
    *sizes = NULL;
    *unknown = false;
    if (!mask || !colon)
        return 0;
    while (c < colon && !unreadable) {
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
            unreadable = to == SIZE_MAX || to < last;
        } else if (sizes_that_begin(&c, words, mask)) {
            any = true;
        } else if (hk_word_at(c, "all")) {
            all = true;
            c += 3;
        } else if ((filler = hk_word_of(c, fillers))) {
            size_word_found |= hk_word_at(c, "size") || hk_word_at(c, "sizes") || hk_word_at(c, "only");
            c = filler;
        } else {
            unreadable = true;
        }
    }
    *unknown = unreadable && !row_word_find(text, colon) && names_sizes(text, colon, any);
    if (!size_word_found && !unreadable && any && named_by_figures(words))
        return 0;
    if (unreadable || (!any && !(all && size_word_found)))
        return *unknown ? (size_t)(colon - text) + 1 : 0;
    if (!all)
        *sizes = mask;
    return (size_t)(colon - text) + 1;
}

/* ---- The meaning of a label ---- */

static enum hk_side side_of(const char *name)
{
    if (hk_word_find(name, "RS") || hk_word_find(name, "right side"))
        return HK_SIDE_RIGHT;
    if (hk_word_find(name, "WS") || hk_word_find(name, "wrong side"))
        return HK_SIDE_WRONG;
    return HK_SIDE_OPEN;
}

static void refuse(struct hk_label *label, size_t at, const char *problem, const char *hint)
{
    if (label->problem)
        return;
    label->problem = problem;
    label->hint = hint;
    label->problem_at = at;
}

/* Reports numbers of a label that are not read: they may be more rows, or a count. */
static void numbers_refuse(const char *c, const char *end, struct hk_label *label)
{
    while (c < end && !hk_is_digit(*c))
        c++;
    if (c < end)
        refuse(label, (size_t)(c - label->name), "this number in the label is not read",
               "write rows as in \"Rows 2, 4 and 6-8:\" or \"Next 3 rows:\", and what a row comes to after it");
}

/* Returns true for "and all WS rows", "every other row"; not for "all sizes". */
static bool names_others(const char *name)
{
    const char *all = hk_word_find(name, "all"), *every = hk_word_find(name, "every"), *end = name + strlen(name);
    return (all && row_word_find(all, end)) || (every && row_word_find(every, end));
}

/* Reports sizes within a label, which must be before it. "Only" may refer to loops. */
static void limits_refuse(const struct hk_row_words *words, struct hk_label *label)
{
    static const char *const behind[] = {")", ",", "&", "/", "-", "and", "or", "only", NULL};
    static const char *const sizes[] = {"size", "sizes", NULL}, *const loops[] = {"loop", "loops", "lp", "lps", NULL};
    bool looped = false;
    for (const char *c = label->name; *c; c++) {
        if (c > label->name && (hk_is_letter(c[-1]) || hk_is_digit(c[-1])))
            continue;
        const char *size = c, *all = hk_word_at(c, "all sizes");
        bool may = c == label->name || (c[-1] == '(' && hk_is_letter(*c)); /* "(2-8, 2-9)" are rows */
        looped |= hk_word_of(c, loops) != NULL;
        if (hk_word_of(c, sizes) || (hk_word_at(c, "only") && !looped) ||
            (may && size_name_at(&size, words) != SIZE_MAX && hk_word_of(hk_blanks_skipped(size), behind)))
            refuse(label, (size_t)(c - label->name), "words that limit a row are not read in its label",
                   "write sizes before it: \"Size L only: Row 3: ...\"");
        c = all ? all - 1 : c;
    }
}

/* Returns the text after "(4 rnds)", which repeats the number of rows. */
static const char *count_again(const char *c, const struct hk_label *label)
{
    const char *count = hk_blanks_skipped(c);
    int64_t value;
    if (*count++ != '(' || !digits_scan(&count, &value) || value != label->last.one - label->first.one + 1)
        return c;
    const char *end = row_word_at(hk_blanks_skipped(count));
    return end && *end == ')' ? end + 1 : c;
}

static bool range_numbers(const struct range *from, const struct range *to, size_t size_count, bool graded,
                          struct hk_label *label, struct hk_arena *arena)
{
    label->numbered = true;
    label->first.one = from[0].from;
    label->last.one = to[0].to >= 0 ? to[0].to : to[0].from;
    bool falls = !graded && label->last.one < label->first.one;
    if (graded) {
        int64_t *first = hk_arena_take(arena, size_count, sizeof *first),
                *last = hk_arena_take(arena, size_count, sizeof *last);
        if (!first || !last)
            return false;
        for (size_t i = 0; i < size_count; i++) {
            bool none = from[i].none || to[i].none;
            first[i] = none ? 1 : from[i].from;
            last[i] = none ? 0 : to[i].to >= 0 ? to[i].to : to[i].from;
            falls |= !none && last[i] < first[i];
        }
        label->first.by_size = first;
        label->last.by_size = last;
    }
    if (falls) {
        refuse(label, 0, "the last of these rows comes before the first",
               "write the lower number first; - for a size without");
        label->last = label->first;
    }
    return true;
}

/* Reads ", 4 and 6-8" after the first number and advances. */
static bool list_scan(const char **cursor, struct hk_label *label, struct hk_arena *arena)
{
    static const char *const seps[] = {"and", "&", "+", NULL}, *const ordinals[] = {"st", "nd", "rd", "th", NULL};
    int64_t *list = NULL, last = label->last.one;
    size_t capacity = 0;
    bool run = true;
    for (;;) {
        const char *c = hk_blanks_skipped(*cursor);
        bool joined = *c == ',';
        c = hk_blanks_skipped(c + joined);
        const char *sep = hk_word_of(c, seps);
        c = sep ? hk_blanks_skipped(sep) : c;
        struct range range;
        if ((!joined && !sep) || !range_scan(&c, true, &range) || range.none)
            break;
        int64_t to = range.to < 0 ? range.from : range.to;
        if (range.from <= last || to < range.from || to - range.from >= LIST_MOST - (int64_t)label->list_count) {
            refuse(label, (size_t)(*cursor - label->name), "the rows of this list do not ascend, or are too many",
                   "write the lower number first, and at most 1000 rows");
            break;
        }
        run &= range.from == last + 1;
        for (last = range.from; last <= to; last++) {
            list = hk_arena_grow(arena, list, label->list_count, &capacity, sizeof *list);
            if (!list)
                return false;
            list[label->list_count++] = last;
        }
        last = to;
        const char *ordinal = hk_word_of(c, ordinals);
        *cursor = ordinal ? ordinal : c;
    }
    label->list = list;
    if (run) { /* "Rows 3 and 4" are a range */
        label->last.one = last;
        label->list_count = 0;
    }
    return true;
}

/* Reads the numbers after the word for rows, "2-9 (2-10, 2-11)". */
static bool numbers_read(const char *c, size_t size_count, struct hk_label *label, struct hk_arena *arena)
{
    static const char *const tos[] = {"-", "to", "through", "thru", NULL};
    struct range *from = hk_arena_take(arena, size_count, sizeof *from),
                 *to = hk_arena_take(arena, size_count, sizeof *to);
    bool graded, graded_to = false, wrong = false;
    const char *end = label->name + strlen(label->name);
    if (!from || !to)
        return false;
    c = hk_blanks_skipped(c);
    const char *start = c, *word = c;
    int64_t value;
    if (word_number(&word, &value))
        refuse(label, (size_t)(c - label->name), "the number of a row is not read as a word",
               "write it in figures: Row 2");
    if (!graded_range(&c, true, size_count, from, &graded, &wrong)) {
        numbers_refuse(c, end, label);
        return true;
    }
    const char *second = hk_word_of(hk_blanks_skipped(c), tos);
    second = second ? hk_blanks_skipped(second) : c;
    if (hk_is_digit(*second) && from[0].to < 0 && graded_range(&second, false, size_count, to, &graded_to, &wrong)) {
        c = second;
        for (size_t i = 1; i < size_count && graded != graded_to; i++) {
            if (graded)
                to[i] = to[0];
            else
                from[i] = from[0];
        }
    } else {
        memcpy(to, from, (graded ? size_count : 1) * sizeof *to);
    }
    if (wrong || hk_numbers_follow(c))
        label->wrong = (size_t)(start - label->name) + 1;
    graded |= graded_to;
    if (!range_numbers(from, to, size_count, graded, label, arena) || (!graded && !list_scan(&c, label, arena)))
        return false;
    numbers_refuse(graded ? c : count_again(c, label), end, label);
    return true;
}

/* "Next 3 (4, 5) rnds", "1st row", "2nd and 4th rows", "Next row": `end` is after the word for rows. */
static bool count_read(const char *end, size_t size_count, struct hk_label *label, struct hk_arena *arena)
{
    struct hk_graded_count number = {.one = 1};
    const char *c = label->name, *behind = c;
    bool wrong = false, found = false;
    for (; c < end && !found; c++) {
        behind = c;
        found = (c == label->name || c[-1] == ' ') && hk_whole_scan(&behind, size_count, &number, &wrong, arena);
    }
    label->rows = number;
    bool several = hk_lower(end[-1]) == 's';
    if (!found && several && !label->others)
        refuse(label, 0, "the number of rows is missing", "write it, as in \"Next 2 rows:\"");
    if (!found)
        return !arena->out_of_memory;
    if (wrong || hk_numbers_follow(behind))
        label->wrong = (size_t)(c - label->name);
    label->numbered = !number.by_size && hk_is_letter(*behind);
    label->rows_given = !label->numbered;
    if (label->numbered) { /* 1st, 2nd */
        label->first = label->last = number;
        while (hk_is_letter(*behind))
            behind++;
        if (!list_scan(&behind, label, arena))
            return false;
    } else if (!number.by_size && number.one > 1 && !several) {
        refuse(label, (size_t)(c - label->name) - 1, "this number is a count of rows, or part of a name",
               "write \"Next 2 rows:\" for a count, and a name without a number");
    }
    numbers_refuse(behind, end, label);
    return true;
}

bool hk_label_read(const char *text, const struct hk_row_words *words, struct hk_label *label, struct hk_arena *arena)
{
    struct bounds bounds = label_bounds(text);
    if (!bounds.body)
        return false;
    *label = (struct hk_label){.length = (size_t)(bounds.body - text)};
    size_t length = (size_t)(bounds.end - text);
    while (strchr(" .-", text[length - 1]))
        length--;
    label->name = hk_arena_text(arena, text, length);
    if (!label->name)
        return false;
    label->side = side_of(label->name);
    label->others = names_others(label->name);
    if (bounds.ambiguous)
        refuse(label, (size_t)(bounds.ambiguous - text), "this number may be of the label or of the row",
               "end the label in a colon: \"Rows 2-5:\", or \"Row 2:\"");
    const char *numbers = label->name + (bounds.numbers - text);
    if (!numbers_read(numbers, words->size_count, label, arena) ||
        (!label->numbered && !count_read(numbers, words->size_count, label, arena)))
        return false;
    limits_refuse(words, label);
    return true;
}
