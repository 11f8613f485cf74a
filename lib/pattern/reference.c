/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/reference.h"

#include "quantity.h"
#include "text.h"

#include <string.h>

#define NUMBERS_MOST 1000

struct reader {
    const char *text, *c;
    size_t size_count;
    struct hk_reference *reference;
    struct hk_arena *arena;
    bool total; /* "in all" */
};

static bool word(struct reader *r, const char *text)
{
    const char *c = hk_blanks_skipped(r->c), *end = hk_word_at(c, text);
    if (!end)
        return false;
    r->c = end;
    return true;
}

static bool words(struct reader *r, const char *const *list)
{
    const char *end = hk_word_of(hk_blanks_skipped(r->c), list);
    if (!end)
        return false;
    r->c = end;
    return true;
}

static bool at_word(const struct reader *r, const char *text)
{
    return hk_word_at(hk_blanks_skipped(r->c), text) != NULL;
}

static bool number(struct reader *r, struct hk_graded_count *value)
{
    bool wrong = false;
    const char *c = hk_blanks_skipped(r->c), *start = c;
    if (!hk_whole_scan(&c, r->size_count, value, &wrong, r->arena))
        return false;
    if (wrong && !r->reference->wrong)
        r->reference->wrong = (size_t)(start - r->text) + 1;
    r->c = c;
    return true;
}

static const char *const row_words[] = {"rows", "row", "rnds", "rnd", "rounds", "round", NULL};

static void problem(struct reader *r, const char *at, const char *text, const char *hint)
{
    if (r->reference->problem)
        return;
    r->reference->problem = text;
    r->reference->hint = hint;
    r->reference->problem_at = (size_t)(at - r->text);
}

/* ---- Lengths ---- */

/* "20 (22, 24) cm", "8 (8 1/2, 9) in": metres by size. */
static bool length_scan(struct reader *r, const double **length_m)
{
    const char *c = hk_blanks_skipped(r->c);
    double *values = hk_arena_take(r->arena, r->size_count, sizeof *values);
    enum hk_dimension dimension;
    double factor = 0;
    if (!values || !hk_is_digit(*c) || !hk_number_scan(&c, false, &values[0]))
        return false;
    const char *unit = c;
    if (hk_unit_scan(&unit, &dimension, &factor) && dimension == HK_LENGTH)
        c = unit;
    else
        factor = 0;
    for (size_t i = 1; i < r->size_count; i++)
        values[i] = values[0];
    const char *open = hk_blanks_skipped(c);
    if (r->size_count > 1 && (*open == '(' || *open == '[')) {
        const char *inner = open + 1;
        size_t count = 1;
        for (; count < r->size_count; count++) {
            inner = hk_blanks_skipped(inner);
            if (!hk_number_scan(&inner, false, &values[count]))
                break;
            unit = inner;
            if (hk_unit_scan(&unit, &dimension, &factor))
                inner = unit;
            inner = hk_blanks_skipped(inner);
            if (*inner != ',' && *inner != ';')
                break;
            inner++;
        }
        inner = hk_blanks_skipped(inner);
        bool closed = *inner == ')' || *inner == ']';
        if (count + 1 == r->size_count && closed)
            c = inner + 1;
        else if (factor == 0) { /* "20 (8 in) cm" is nothing */
            r->reference->wrong = (size_t)(open - r->text) + 1;
            return false;
        } else
            for (size_t i = 1; i < r->size_count; i++)
                values[i] = values[0];
    }
    unit = c;
    double last;
    if (hk_unit_scan(&unit, &dimension, &last) && dimension == HK_LENGTH) {
        factor = last;
        c = unit;
    }
    if (factor == 0)
        return false;
    for (size_t i = 0; i < r->size_count; i++)
        values[i] *= factor;
    /* The same in the other system: "20 cm / 8 in", "20 cm (8 in)". */
    const char *other = hk_blanks_skipped(c);
    bool bracket = *other == '(' || *other == '[', slash = *other == '/';
    if (bracket || slash) {
        size_t inside = strcspn(other + 1, bracket ? ")]" : ",.;");
        const char *end = other + 1 + inside;
        if (bracket && *end && (strchr(other, '"') || hk_word_find(other, "in") || hk_word_find(other, "cm")))
            c = end + 1;
        else if (slash)
            c = end;
    }
    *length_m = values;
    r->c = c;
    return true;
}

/* "until piece measures 20 cm from beg". */
static bool until_scan(struct reader *r)
{
    static const char *const untils[] = {"until", "till", NULL};
    static const char *const from[] = {"from", "above", "below", "or", NULL};
    static const char *const beginnings[] = {"beg",        "beginning", "start", "cast on", "cast-on", "CO",
                                             "foundation", "bottom",    "hem",   "edge",    NULL};
    struct reader ahead = *r;
    if (!words(&ahead, untils))
        return false;
    const char *until = hk_blanks_skipped(r->c), *end = ahead.c + strcspn(ahead.c, ";");
    const char *measures = hk_word_find(ahead.c, "measures"), *is = hk_word_find(ahead.c, "is");
    const char *at = measures && measures < end ? measures + 8 : is && is < end ? is + 2 : NULL;
    static const char *const abouts[] = {"approx", "approximately", "about", "a total of", NULL};
    if (!at) {
        problem(r, until, "where this ends cannot be read", "write how many rows, or \"until piece measures 20 cm\"");
        r->c = until + strcspn(until, ".;");
        return true;
    }
    static const char *const parts[] = {"rib",  "ribbing", "border", "cuff", "brim", "band",     "edging",
                                        "part", "section", "crown",  "yoke", "heel", "neckband", "hand", "thumb", NULL};
    for (size_t i = 0; parts[i]; i++) {
        const char *part = hk_word_find(ahead.c, parts[i]);
        r->reference->of_part |= part && part < at;
    }
    ahead.c = at;
    words(&ahead, abouts);
    if (*ahead.c == '.')
        ahead.c++;
    if (!length_scan(&ahead, &r->reference->length_m)) {
        problem(r, until, "how long it becomes cannot be read",
                "write a length with its unit, one for each size, such as \"until piece measures 20 cm\"");
        r->c = until + strcspn(until, ".;");
        return true;
    }
    r->c = ahead.c;
    const char *behind = hk_blanks_skipped(r->c);
    if (words(r, from)) {
        bool or = hk_word_at(behind, "or") || r->reference->of_part, whole = or;
        const char *to = r->c + strcspn(r->c, ",.;");
        for (size_t i = 0; beginnings[i] && !whole; i++) {
            const char *found = hk_word_find(r->c, beginnings[i]);
            whole = found && found < to;
        }
        if (!whole)
            problem(r, behind, "from where this is measured is not followed",
                    "write how much is worked from here on, such as \"Work even for 20 cm\"");
        r->c = to;
    }
    return true;
}

/* ---- How often ---- */

/* "ending with a WS row". */
static bool ending_scan(struct reader *r)
{
    static const char *const starts[] = {"ending with", "ending on", "ending after", "end with", "end on",
                                         "ending",      NULL};
    struct reader ahead = *r;
    if (*hk_blanks_skipped(ahead.c) == ',')
        ahead.c = hk_blanks_skipped(ahead.c) + 1;
    if (!words(&ahead, starts))
        return false;
    size_t length = strcspn(ahead.c, ".;");
    const char *right = hk_word_find(ahead.c, "RS"), *wrong = hk_word_find(ahead.c, "WS");
    if (right && right < ahead.c + length)
        r->reference->end_side = HK_SIDE_RIGHT;
    else if (wrong && wrong < ahead.c + length)
        r->reference->end_side = HK_SIDE_WRONG;
    else
        problem(r, hk_blanks_skipped(r->c), "which row this ends with cannot be read",
                "write \"ending with a WS row\", or how many rows");
    r->c = ahead.c + length;
    return true;
}

/* "5 (6, 7) more times", "for 10 rows", "for 5 cm", "twice more". False where nothing of the kind stands there. */
static bool amount_scan(struct reader *r)
{
    static const char *const fors[] = {"for", "another", "a further", "a total of", "over", NULL};
    static const char *const times[] = {"times", "time", "x", NULL};
    static const char *const totals[] = {"in all", "in total", "total", "altogether", NULL};
    struct reader ahead = *r;
    if (*hk_blanks_skipped(ahead.c) == ',')
        ahead.c = hk_blanks_skipped(ahead.c) + 1;
    bool length_may = words(&ahead, fors);
    while (words(&ahead, fors))
        ;
    if (word(&ahead, "once")) {
        ahead.reference->times = (struct hk_graded_count){.one = 1};
        ahead.reference->times_given = true;
        word(&ahead, "more");
        r->c = ahead.c;
        return true;
    }
    if (length_may) {
        struct reader measured = ahead;
        const double *kept = NULL;
        size_t wrong = r->reference->wrong;
        if (length_scan(&measured, &kept)) {
            r->reference->length_m = kept;
            r->reference->onward = true;
            r->c = measured.c;
            return true;
        }
        r->reference->wrong = wrong;
    }
    struct hk_graded_count value;
    bool x = word(&ahead, "x");
    size_t wrong = r->reference->wrong;
    const char *start = hk_blanks_skipped(ahead.c);
    if (!number(&ahead, &value)) {
        r->reference->wrong = wrong;
        return false;
    }
    bool word_times = hk_word_at(start, "twice") || hk_word_at(start, "thrice");
    word(&ahead, "more");
    if (x || word_times || words(&ahead, times)) {
        r->reference->times = value;
        r->reference->times_given = true;
        word(&ahead, "more");
    } else if (words(&ahead, row_words)) {
        r->reference->rows = value;
        r->reference->rows_given = true;
        word(&ahead, "more");
    } else {
        r->reference->wrong = wrong;
        return false;
    }
    r->total |= words(&ahead, totals);
    r->c = ahead.c;
    return true;
}

static void tail_scan(struct reader *r)
{
    static const char *const patterns[] = {"for pattern",    "for patt", "for the pattern", "to form pattern",
                                           "in pattern",     "in patt",  "throughout",      "as set",
                                           "as established", "as est",   "in this patt",    NULL};
    for (;;) {
        const char *before = r->c;
        if (*hk_blanks_skipped(r->c) == ',') {
            struct reader ahead = *r;
            ahead.c = hk_blanks_skipped(r->c) + 1;
            const char *comma = ahead.c;
            if (words(&ahead, patterns) || until_scan(&ahead)) {
                r->c = ahead.c;
                continue;
            }
            (void)comma;
        }
        if (words(r, patterns) || until_scan(r) || ending_scan(r) || amount_scan(r))
            continue;
        if (r->c == before)
            break;
    }
}

/* ---- Rows by number ---- */

static bool digits(struct reader *r, int64_t *value)
{
    const char *c = hk_blanks_skipped(r->c);
    size_t count = hk_digit_run(c);
    if (count == 0 || count > 6)
        return false;
    *value = 0;
    for (size_t i = 0; i < count; i++)
        *value = 10 * *value + (c[i] - '0');
    r->c = c + count;
    return true;
}

/* ", 4 more times" is no further row. */
static bool counts_times(const struct reader *r)
{
    static const char *const after[] = {"more", "times", "time", "x", NULL};
    struct reader ahead = *r;
    struct hk_graded_count value;
    size_t wrong = r->reference->wrong;
    bool good = number(&ahead, &value);
    r->reference->wrong = wrong;
    return good && (words(&ahead, after) || words(&ahead, row_words));
}

static bool rows_scan(struct reader *r)
{
    static const char *const ranges[] = {"-", "to", "through", "thru", NULL}, *const seps[] = {"and", "&", "+", NULL};
    int64_t *numbers = hk_arena_take(r->arena, NUMBERS_MOST, sizeof *numbers);
    size_t count = 0;
    if (!numbers)
        return false;
    for (;;) {
        int64_t from, to;
        if (!digits(r, &from))
            break;
        to = from;
        struct reader ahead = *r;
        if (words(&ahead, ranges) && digits(&ahead, &to))
            r->c = ahead.c;
        else
            to = from;
        for (int64_t n = from; n <= to && count < NUMBERS_MOST; n++)
            numbers[count++] = n;
        for (int64_t n = from - 1; n >= to && count < NUMBERS_MOST; n--) /* "rows 4-1" */
            numbers[count++] = n;
        ahead = *r;
        bool comma = *hk_blanks_skipped(ahead.c) == ',';
        if (comma)
            ahead.c = hk_blanks_skipped(ahead.c) + 1;
        if (!words(&ahead, seps) && !comma)
            break;
        words(&ahead, row_words);
        if (counts_times(&ahead) || !hk_is_digit(*hk_blanks_skipped(ahead.c)))
            break;
        r->c = ahead.c;
    }
    r->reference->numbers = numbers;
    r->reference->number_count = count;
    return count > 0;
}

static bool rep_read(struct reader *r)
{
    static const char *const reps[] = {"rep", "rep.", "repeat", "rpt", "repeating", NULL};
    static const char *const lasts[] = {"last", "previous", "these", "preceding", "above", NULL};
    static const char *const works[] = {"work",     "work as for",        "work as", "as for",       "as",
                                        "same as",  "same as for",        "like",    "work same as", "cont to rep",
                                        "cont rep", "continue to repeat", NULL};
    bool rep = words(r, reps);
    if (!rep && !words(r, works))
        return false;
    bool as = !rep;
    while (as && (word(r, "for") || word(r, "as")))
        ;
    if (as)
        words(r, reps);
    word(r, "the");
    if (words(r, lasts)) {
        r->reference->kind = HK_REF_LAST;
        r->reference->last.one = 1;
        number(r, &r->reference->last);
        if (!words(r, row_words))
            return false;
        tail_scan(r);
        return true;
    }
    struct reader ahead = *r;
    bool single =
        words(&ahead, row_words) || ((*hk_blanks_skipped(ahead.c) == 'R' || *hk_blanks_skipped(ahead.c) == 'r') &&
                                     hk_is_digit(hk_blanks_skipped(ahead.c)[1]));
    if (!single)
        return false;
    if (hk_blanks_skipped(ahead.c)[0] == 'R' || hk_blanks_skipped(ahead.c)[0] == 'r')
        ahead.c = hk_blanks_skipped(ahead.c) + 1;
    r->c = ahead.c;
    r->reference->kind = HK_REF_ROWS;
    if (!rows_scan(r))
        return false;
    tail_scan(r);
    return true;
}

/* ---- Work even, in a stitch pattern, rows of a stitch ---- */

static bool how_many(const struct reader *r)
{
    return r->reference->times_given || r->reference->rows_given || r->reference->length_m || r->reference->problem;
}

/* The words up to "for", "until" or a mark. */
static const char *name_scan(struct reader *r)
{
    const char *start = hk_blanks_skipped(r->c), *c = start;
    while (*c && !strchr(".;:([", *c)) {
        bool begins = c == start || c[-1] == ' ';
        if (begins &&
            (hk_word_at(c, "for") || hk_word_at(c, "until") || hk_word_at(c, "over") || hk_word_at(c, "ending")))
            break;
        c++;
    }
    r->c = c;
    while (c > start && strchr(" ,", c[-1]))
        c--;
    return hk_arena_text(r->arena, start, (size_t)(c - start));
}

static const char *const evens[] = {"even",
                                    "straight",
                                    "without shaping",
                                    "as set",
                                    "as established",
                                    "as est",
                                    "in pattern as set",
                                    "in patt as set",
                                    "in pattern as established",
                                    "in patt as est",
                                    "in patt as established",
                                    "in established pattern",
                                    "in established patt",
                                    "in est patt",
                                    "in pattern",
                                    "in patt",
                                    "in the same pattern",
                                    "in same manner without shaping",
                                    NULL};

static bool even_read(struct reader *r)
{
    static const char *const works[] = {"work",
                                        "cont",
                                        "cont.",
                                        "continue",
                                        "continue to work",
                                        "cont to work",
                                        "cont working",
                                        "continue working",
                                        "keep working",
                                        NULL};
    if (!words(r, works)) {
        struct reader bare = *r; /* "In patt as set for 6 rows" */
        if (!words(&bare, evens))
            return false;
        *r = bare;
        r->reference->kind = HK_REF_EVEN;
        tail_scan(r);
        return true;
    }
    struct reader ahead = *r;
    while (words(&ahead, works))
        ;
    word(&ahead, "to");
    word(&ahead, "a further");
    word(&ahead, "another");
    struct hk_graded_count rows;
    size_t wrong = r->reference->wrong;
    struct reader counted = ahead;
    bool given = number(&counted, &rows);
    word(&counted, "more");
    if (given && words(&counted, row_words)) {
        ahead.c = counted.c;
        r->reference->rows = rows;
        r->reference->rows_given = true;
    } else {
        r->reference->wrong = wrong;
        given = false;
    }
    if (words(&ahead, evens)) {
        struct reader in = ahead;
        r->reference->kind = HK_REF_EVEN;
        if (word(&in, "in")) { /* "work even in sc for 6 rows" */
            const char *name = name_scan(&in);
            static const char *const same[] = {"patt",        "pattern",        "est patt", "established pattern",
                                               "patt as set", "pattern as set", NULL};
            if (!name)
                return false;
            if (!hk_word_of(name, same)) {
                r->reference->kind = HK_REF_PATTERN;
                r->reference->words = name;
            }
            ahead.c = in.c;
        }
        r->c = ahead.c;
        tail_scan(r);
        return true;
    }
    static const char *const ins[] = {"in", "of", NULL};
    bool in = words(&ahead, ins);
    if (!in && given) {
        r->reference->rows_given = false;
        return false;
    }
    const char *name = name_scan(&ahead);
    if (!name || !*name || strlen(name) > 60)
        return false;
    r->reference->kind = HK_REF_PATTERN;
    r->reference->words = name;
    r->c = ahead.c;
    tail_scan(r);
    /* "Work 6 sc in ring" is a row. */
    return how_many(r);
}

static bool words_read(struct reader *r)
{
    static const char *const knits[] = {"knit", "k", NULL}, *const purls[] = {"purl", "p", NULL};
    bool knit = words(r, knits);
    if (!knit && !words(r, purls))
        return false;
    r->reference->kind = HK_REF_WORDS;
    r->reference->words = knit ? "k" : "p";
    static const char *const every[] = {"every", "all", "each", NULL};
    if (words(r, every)) {
        if (!words(r, row_words))
            return false;
        tail_scan(r);
        return true;
    }
    if (!number(r, &r->reference->rows))
        return false;
    word(r, "more");
    if (!words(r, row_words))
        return false;
    r->reference->rows_given = true;
    tail_scan(r);
    return true;
}

/* ---- Shaping ---- */

/* "4th", "4", "alt", "other", "RS". */
static bool every_scan(struct reader *r, int64_t *every)
{
    static const char *const seconds[] = {"alternate", "alt", "other", "second", "RS", "WS", NULL};
    static const char *const follows[] = {"following", "foll", "foll.", NULL};
    words(r, follows);
    *every = 1;
    if (words(r, seconds)) {
        *every = 2;
    } else if (digits(r, every)) {
        if (hk_is_letter(*r->c))
            r->c += strcspn(r->c, " ,.;");
    } else if (word(r, "third")) {
        *every = 3;
    } else if (word(r, "fourth")) {
        *every = 4;
    } else if (word(r, "sixth")) {
        *every = 6;
    }
    words(r, follows);
    return *every > 0 && words(r, row_words);
}

static bool stage_scan(struct reader *r, struct hk_shape_stage *stage, const char *start)
{
    static const char *const tos[] = {"to", "until", "till", NULL};
    static const char *const rests[] = {"sts remain", "sts rem",         "sts are left", "sts",
                                        "st",         "stitches remain", "stitches",     NULL};
    struct hk_graded_count value;
    struct reader ahead = *r;
    if (words(&ahead, tos)) {
        word(&ahead, "there are");
        word(&ahead, "you have");
        if (!number(&ahead, &value) || !words(&ahead, rests))
            return false;
        stage->times = value;
        stage->to = true;
        words(&ahead, rests);
        static const char *const remain[] = {"remain", "rem", "are on needle", "on needle", NULL};
        words(&ahead, remain);
        r->c = ahead.c;
        return true;
    }
    bool comma = *hk_blanks_skipped(ahead.c) == ',';
    if (comma)
        ahead.c = hk_blanks_skipped(ahead.c) + 1;
    struct hk_graded_count kept_times = r->reference->times, kept_rows = r->reference->rows;
    bool times_given = r->reference->times_given, rows_given = r->reference->rows_given;
    const char *before = ahead.c;
    r->total = false;
    ahead.total = false;
    if (!amount_scan(&ahead) || !r->reference->times_given || times_given || r->reference->rows_given != rows_given) {
        r->reference->times = kept_times;
        r->reference->times_given = times_given;
        r->reference->rows = kept_rows;
        r->reference->rows_given = rows_given;
        stage->open = true;
        return true;
    }
    stage->times = r->reference->times;
    r->reference->times = kept_times;
    r->reference->times_given = false;
    bool more = false;
    for (const char *c = before; c < ahead.c; c++)
        more |= hk_word_at(c, "more") && (c == before || c[-1] == ' ');
    if (r->reference->first_next && r->reference->stage_count == 0 && !more) {
        if (ahead.total) {
            /* N in all, the next row among them. */
            int64_t *by_size = hk_arena_take(r->arena, r->size_count, sizeof *by_size);
            if (!by_size)
                return false;
            for (size_t i = 0; i < r->size_count; i++) {
                int64_t n = hk_graded_in(stage->times, i);
                by_size[i] = n > 0 ? n - 1 : 0;
            }
            stage->times.by_size = by_size;
        } else {
            problem(r, start, "this may be meant as so many times in all, or as so many more than the next row",
                    "write \"... 6 more times\" where the next row comes besides, else \"... 6 times in all\"");
        }
    }
    r->c = ahead.c;
    return true;
}

static bool ends_scan(struct reader *r, int *ends)
{
    static const char *const both[] = {
        "each end",          "both ends", "each side",  "both sides",         "beg and end",
        "beginning and end", "each edge", "both edges", "each end of needle", NULL};
    static const char *const one[] = {"beg",         "beginning", "end",        "neck edge", "armhole edge",
                                      "front edge",  "same edge", "side edge",  "one end",   "this edge",
                                      "shaped edge", "left edge", "right edge", "start",     NULL};
    static const char *const fillers[] = {"at", "the", "on", "of", NULL};
    while (words(r, fillers))
        ;
    if (words(r, both)) {
        *ends = 2;
        return true;
    }
    *ends = 1;
    return words(r, one);
}

static bool shape_read(struct reader *r)
{
    static const char *const decs[] = {"dec", "dec.", "decrease", NULL}, *const incs[] = {"inc", "inc.", "increase",
                                                                                          NULL};
    static const char *const sts[] = {"sts", "st", "stitches", "stitch", NULL};
    static const char *const fillers[] = {"of", "on", "in", "the", NULL}, *const everys[] = {"every", "each", NULL};
    static const char *const follows[] = {"following", "foll", "foll.", NULL};
    struct hk_reference *reference = r->reference;
    const char *start = r->c;
    bool dec = words(r, decs);
    struct hk_graded_count by;
    if (!dec && !words(r, incs))
        return false;
    if (!number(r, &by) || by.by_size || by.one < 1 || by.one > 20 || !words(r, sts) || !ends_scan(r, &reference->ends))
        return false;
    reference->kind = HK_REF_SHAPE;
    reference->by = dec ? -(int)by.one : (int)by.one;
    while (words(r, fillers))
        ;
    if (word(r, "next") || word(r, "this")) {
        struct hk_graded_count rows;
        struct reader ahead = *r;
        if (number(&ahead, &rows) && words(&ahead, row_words)) { /* "next 4 rows" */
            r->c = ahead.c;
            reference->stages[reference->stage_count++] = (struct hk_shape_stage){.every = 1, .times = rows};
            if (!word(r, "and"))
                return true;
        } else {
            reference->first_next = true;
            bool row = words(r, row_words);
            if (!word(r, "and") && !word(r, "then")) {
                reference->stages[reference->stage_count++] = (struct hk_shape_stage){.every = 1};
                return row;
            }
        }
    }
    while (reference->stage_count < HK_STAGES_MOST) {
        struct hk_shape_stage stage = {0};
        while (words(r, fillers))
            ;
        bool every = words(r, everys);
        every |= words(r, follows);
        if (!every && !hk_is_digit(*hk_blanks_skipped(r->c)) && !at_word(r, "alt"))
            break;
        if (!every_scan(r, &stage.every) || !stage_scan(r, &stage, start))
            return false;
        reference->stages[reference->stage_count++] = stage;
        struct reader ahead = *r;
        if (*hk_blanks_skipped(ahead.c) == ',')
            ahead.c = hk_blanks_skipped(ahead.c) + 1;
        word(&ahead, "and");
        if (!word(&ahead, "then"))
            break;
        word(&ahead, "on");
        r->c = ahead.c;
    }
    if (reference->stage_count == 0)
        return false;
    ending_scan(r);
    return true;
}

/* "Bind off 4 (5, 6) sts at beg of next 2 rows". */
static bool edge_read(struct reader *r)
{
    static const char *const offs[] = {"bind off", "cast off", "BO", NULL}, *const ons[] = {"cast on", "CO", NULL};
    static const char *const sts[] = {"sts", "st", "stitches", "stitch", NULL}, *const ats[] = {"at the", "at", NULL};
    static const char *const begs[] = {"beg", "beginning", "start", NULL}, *const ofs[] = {"of the", "of", NULL};
    const char *start = hk_blanks_skipped(r->c);
    bool off = words(r, offs);
    struct hk_graded_count count;
    if ((!off && !words(r, ons)) || !number(r, &count) || !words(r, sts))
        return false;
    const char *end = r->c;
    if (!words(r, ats) || !words(r, begs))
        return false;
    if (*r->c == '.')
        r->c++;
    if (!words(r, ofs))
        return false;
    static const char *const everys[] = {"every", "each", NULL}, *const nexts[] = {"next", "following", "foll", NULL};
    words(r, everys);
    bool next = words(r, nexts);
    r->reference->rows.one = 1;
    if (next)
        number(r, &r->reference->rows);
    if (!words(r, row_words))
        return false;
    r->reference->kind = HK_REF_EDGE;
    r->reference->rows_given = true;
    r->reference->words = hk_arena_text(r->arena, start, (size_t)(end - start));
    return next && r->reference->words;
}

/* ---- As another piece ---- */

static bool as_read(struct reader *r)
{
    static const char *const starts[] = {
        "work as for", "work as", "work same as", "work the same as",    "as for",          "same as for", "same as",
        "make as for", "make as", "make same as", "work exactly as for", "make another as", "as",          NULL};
    static const char *const ends[] = {"reversing", "but", "rev", NULL};
    if (!words(r, starts))
        return false;
    word(r, "the");
    const char *start = hk_blanks_skipped(r->c), *c = start + strcspn(start, ",.;:(");
    const char *end = c;
    while (end > start && end[-1] == ' ')
        end--;
    if (end == start || end - start > 60)
        return false;
    r->reference->kind = HK_REF_AS;
    r->reference->words = hk_arena_text(r->arena, start, (size_t)(end - start));
    const char *rest = hk_blanks_skipped(*c == ',' ? c + 1 : c);
    if (hk_word_of(rest, ends)) {
        bool but = hk_word_at(rest, "but");
        const char *rev = but ? hk_word_find(rest, "revers") : rest;
        const char *stop = rest + strcspn(rest, ".;");
        if (but && (!hk_text_starts(hk_blanks_skipped(rest + 3), "revers") || !rev))
            rev = NULL;
        c = stop;
        if (but && !rev && !hk_text_starts(hk_blanks_skipped(rest + 3), "revers"))
            problem(r, rest, "what differs from that piece cannot be read", "write the rows of this piece");
    }
    r->c = c;
    return r->reference->words != NULL;
}

bool hk_reference_read(const char *text, size_t size_count, struct hk_reference *reference, struct hk_arena *arena)
{
    bool (*const forms[])(struct reader *) = {rep_read, words_read, edge_read, shape_read, even_read, as_read};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        *reference = (struct hk_reference){0};
        struct reader r = {.text = text, .c = text, .size_count = size_count, .reference = reference, .arena = arena};
        if (!forms[i](&r) || arena->lost)
            continue;
        const char *end = hk_blanks_skipped(r.c);
        if (*end && strchr(".,;", *end))
            end++;
        reference->length = (size_t)(end - text);
        return true;
    }
    return false;
}
