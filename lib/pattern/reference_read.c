/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/reference_reader.h"

#include "input/quantity.h"

#include <string.h>

#define NUMBERS_MOST 1000

static void wrong_at(struct reader *r, const char *at)
{
    if (!r->wrong)
        r->wrong = (size_t)(at - r->text) + 1;
}

bool hk_reference_number(struct reader *r, struct hk_graded_count *value)
{
    bool wrong = false;
    const char *c = hk_blanks_skipped(r->c), *start = c;
    if (!hk_whole_scan(&c, r->size_count, value, &wrong, r->arena))
        return false;
    if (wrong)
        wrong_at(r, start);
    if (wrong && hk_numbers_follow(c))
        c = strpbrk(c, ")]") + 1;
    r->c = c;
    return true;
}

const char *const hk_reference_rows[] = {"rows", "row", "rnds", "rnd", "rounds", "round", NULL};

/* ---- Lengths ---- */

/* The numbers and their unit read so far. */
struct lengths {
    const char *c;
    double unit_m; /* 0: no unit so far */
    size_t units;
    bool mixed; /* the units differ */
};

static void unit_take(struct lengths *lengths)
{
    const char *c = lengths->c;
    enum hk_dimension dimension;
    double factor;
    if (!hk_unit_scan(&c, &dimension, &factor) || dimension != HK_DIM_LENGTH)
        return;
    lengths->mixed |= lengths->units > 0 && factor != lengths->unit_m;
    lengths->unit_m = factor;
    lengths->units++;
    lengths->c = c;
}

static bool length_take(struct lengths *lengths, double *value)
{
    const char *c = hk_blanks_skipped(lengths->c);
    if (!hk_is_digit(*c) || !hk_number_scan(&c, HK_DECIMAL_POINT, value))
        return false;
    lengths->c = c;
    unit_take(lengths);
    return true;
}

/*
 * Reads the values in a bracket, from values[1] on, and a unit after it. Returns their number; 0 if it is not a bracket
 * of lengths.
 */
static size_t bracket_take(struct lengths *lengths, double *values, size_t size_count)
{
    size_t count = 0;
    double value;
    for (bool more = true; more; lengths->c += more) {
        if (!length_take(lengths, &value))
            return 0;
        count++;
        if (count < size_count)
            values[count] = value;
        lengths->c = hk_blanks_skipped(lengths->c);
        more = *lengths->c && strchr(HK_VALUE_MARKS, *lengths->c);
    }
    if (*lengths->c != ')' && *lengths->c != ']')
        return 0;
    lengths->c++;
    unit_take(lengths);
    return count;
}

/*
 * Reads "20 cm", "20 (22, 24) cm", "8" (9", 10")" in metres by size, without a bracket that does not hold the other
 * sizes.
 */
static bool measure_scan(struct reader *r, double *values)
{
    struct lengths first = {.c = r->c};
    if (!length_take(&first, &values[0]))
        return false;
    const char *start = hk_blanks_skipped(r->c), *open = hk_blanks_skipped(first.c);
    struct lengths all = first;
    all.c = open + 1;
    size_t count = *open == '(' || *open == '[' ? bracket_take(&all, values, r->size_count) : 0;
    bool one_unit = all.units > 0 && !all.mixed, graded = count > 0 && count + 1 == r->size_count && one_unit;
    bool several =
        count > 1 || (all.units > first.units && !all.mixed); /* "(24)" may be a count, "(8 in)" the same length */
    if (count > 0 && !graded && several && all.units > 0) {
        wrong_at(r, start);
        first = all;
    } else if (graded) {
        first = all;
    }
    if (first.units == 0)
        return false;
    double one = values[0];
    for (size_t i = 0; i < r->size_count; i++)
        values[i] = (graded ? values[i] : one) * first.unit_m;
    r->c = first.c;
    return true;
}

/* The same, with the length in other units after it: "20 cm / 8 in", "20 cm (8 in)". */
static bool length_scan(struct reader *r, const double **length_m)
{
    double *values = hk_arena_take(r->arena, r->size_count, sizeof *values),
           *others = hk_arena_take(r->arena, r->size_count, sizeof *others);
    if (!values || !others || !measure_scan(r, values))
        return false;
    *length_m = values;
    struct reader ahead = *r;
    const char *other = hk_blanks_skipped(r->c);
    if (*other != '(' && *other != '[' && *other != '/')
        return true;
    ahead.c = other + 1;
    if (!measure_scan(&ahead, others))
        return true;
    const char *close = hk_blanks_skipped(ahead.c);
    if (*other == '/')
        *r = ahead;
    else if (*close == ')' || *close == ']')
        r->c = close + 1;
    return true;
}

const char *hk_reference_clause_end(const char *text)
{
    while (*text && *text != ';' && (*text != '.' || (text[1] && text[1] != ' ')))
        text++;
    return text;
}

static bool stands_within(const char *text, const char *end, const char *const *list)
{
    for (; *list; list++) {
        const char *found = hk_word_find(text, *list);
        if (found && found < end)
            return true;
    }
    return false;
}

/* Returns the text after "measures" or "is" in "until piece measures"; NULL if neither is there. */
static const char *measures_end(const char *text)
{
    static const char *const verbs[] = {"measures", "is", NULL};
    const char *end = hk_reference_clause_end(text);
    for (size_t i = 0; verbs[i]; i++) {
        const char *at = hk_word_find(text, verbs[i]);
        if (at && at < end)
            return at + strlen(verbs[i]);
    }
    return NULL;
}

/*
 * Reads "from beg", "from underarm", "or desired length", "deep". Returns false when the length is measured from
 * another point within the piece.
 */
static bool from_scan(struct reader *r)
{
    static const char *const longs[] = {"long", "deep", "high", "tall", "in length", "in total", "in all", NULL};
    static const char *const froms[] = {"measured from", "from", "above", "below", "past", "after", "beyond", NULL};
    static const char *const begs[] = {"beg", "beginning",  "start",      "cast on", "cast-on", "CO", "chain",
                                       "ch",  "foundation", "lower edge", "bottom",  "hem",     NULL};
    static const char *const divisions[] = {"underarm",     "underarms",      "division",   "divide", "dividing row",
                                            "dividing rnd", "dividing round", "separation", NULL};
    words(r, longs);
    if (words(r, froms)) {
        word(r, "the");
        word(r, "very");
        r->reference->of_division = words(r, divisions);
        if (!r->reference->of_division && !words(r, begs) && !r->reference->of_part)
            return false;
        r->c += strcspn(r->c, ",.;");
    } else if (word(r, "or")) {
        r->c += strcspn(r->c, ",.;");
    }
    return true;
}

/* Reads "until piece measures 20 cm from beg". */
static bool until_scan(struct reader *r)
{
    static const char *const untils[] = {"until", "till", NULL};
    static const char *const abouts[] = {"approx.", "approx", "approximately", "about", "a total of", NULL};
    static const char *const parts[] = {"rib",     "ribbing", "border", "cuff", "brim",     "band", "edging", "part",
                                        "section", "crown",   "yoke",   "heel", "neckband", "hand", "thumb",  NULL};
    static const char *const withins[] = {"armhole",  "armholes", "opening", "slit", "neck",  "neckline",
                                          "shoulder", "gusset",   "foot",    "leg",  "strap", NULL};
    struct reader ahead = *r;
    if (!words(&ahead, untils))
        return false;
    const char *until = hk_blanks_skipped(r->c), *measured = ahead.c, *at = measures_end(measured);
    r->c = hk_reference_clause_end(until);
    if (!at) {
        problem(r, until, "where this ends cannot be read", "write how many rows, or \"until piece measures 20 cm\"");
        return true;
    }
    r->reference->of_part = stands_within(measured, at, parts);
    ahead.c = at;
    words(&ahead, abouts);
    if (!length_scan(&ahead, &r->reference->length_m)) {
        problem(r, until, "how long it becomes cannot be read",
                "write a length with its unit, one for each size, such as \"until piece measures 20 cm\"");
        return true;
    }
    if (stands_within(measured, at, withins) || !from_scan(&ahead)) {
        r->reference->from_unread = (size_t)(until - r->text) + 1;
        return true;
    }
    *r = ahead;
    return true;
}

/* ---- Times ---- */

bool hk_reference_ending(struct reader *r)
{
    static const char *const starts[] = {"ending with", "ending on", "ending after", "end with", "end on",
                                         "ending",      NULL};
    static const char *const rights[] = {"RS", NULL}, *const wrongs[] = {"WS", NULL};
    const char *ending = hk_blanks_skipped(r->c);
    if (!words(r, starts))
        return false;
    const char *end = r->c + strcspn(r->c, ",.;");
    if (stands_within(r->c, end, rights))
        r->reference->end_side = HK_SIDE_RIGHT;
    else if (stands_within(r->c, end, wrongs))
        r->reference->end_side = HK_SIDE_WRONG;
    else
        problem(r, ending, "which row this ends with cannot be read",
                "write \"ending with a WS row\", or how many rows");
    r->c = end;
    return true;
}

/* Reads the sign of "5 x"; in "rows 2 x 3" it belongs to the next number. */
static bool times_sign(struct reader *r)
{
    struct reader ahead = *r;
    if (!word(&ahead, "x") || hk_is_digit(*hk_blanks_skipped(ahead.c)))
        return false;
    *r = ahead;
    return true;
}

bool hk_reference_amount(struct reader *r, struct amount *amount)
{
    static const char *const fors[] = {"for the next", "for next", "for", "over", NULL};
    static const char *const mores[] = {"another", "a further", NULL}, *const in_all[] = {"a total of", NULL};
    static const char *const times[] = {"times", "time", NULL}, *const adverbs[] = {"once", "twice", "thrice", NULL};
    static const char *const totals[] = {"in all", "in total", "total", "altogether", NULL};
    struct reader ahead = *r;
    *amount = (struct amount){.of = AMOUNT_TIMES};
    bool given = words(&ahead, fors);
    amount->more = words(&ahead, mores);
    amount->total = words(&ahead, in_all);
    if (given || amount->more || amount->total) {
        struct reader measured = ahead;
        if (length_scan(&measured, &amount->length_m)) {
            amount->of = AMOUNT_LENGTH;
            *r = measured;
            return true;
        }
    }
    bool counted = word(&ahead, "x") || hk_word_of(hk_blanks_skipped(ahead.c), adverbs);
    if (!hk_reference_number(&ahead, &amount->count))
        return false;
    amount->more |= word(&ahead, "more");
    if (!counted && !words(&ahead, times) && !times_sign(&ahead)) {
        if (!words(&ahead, hk_reference_rows))
            return false;
        amount->of = AMOUNT_ROWS;
    }
    amount->more |= word(&ahead, "more");
    amount->total |= words(&ahead, totals);
    *r = ahead;
    return true;
}

static bool how_many(const struct hk_reference *reference)
{
    return reference->times_given || reference->rows_given || reference->length_m || reference->to_edge ||
           reference->problem;
}

static bool amount_scan(struct reader *r);

/* Reads a number of times at `from`, which `close` follows; 0: whatever follows. */
static bool times_at(struct reader *r, const char *from, char close)
{
    struct reader ahead = *r;
    struct hk_reference found = *r->reference;
    ahead.c = from;
    ahead.reference = &found;
    if (!amount_scan(&ahead) || !found.times_given)
        return false;
    const char *end = hk_blanks_skipped(ahead.c);
    if (close && *end != close)
        return false;
    *r->reference = found;
    r->c = close ? end + 1 : ahead.c;
    r->wrong = ahead.wrong;
    return true;
}

/* Reads "(9 times)", "[9 more times]", ": 9 times", " - 9 times". */
static bool marked_times(struct reader *r)
{
    const char *mark = hk_blanks_skipped(r->c);
    if (*mark == '(' || *mark == '[')
        return times_at(r, mark + 1, *mark == '(' ? ')' : ']');
    return (*mark == ':' || (*mark == '-' && mark[1] == ' ')) && times_at(r, mark + 1, 0);
}

/* Reads "beg with a K row", "starting with a RS row". */
static bool first_scan(struct reader *r)
{
    static const char *const starts[] = {"beg with",      "beg. with", "beginning with", "begin with", "start with",
                                         "starting with", NULL};
    static const char *const knits[] = {"knit", "k", NULL}, *const purls[] = {"purl", "p", NULL},
                             *const rights[] = {"RS", "right side", NULL}, *const wrongs[] = {"WS", "wrong side", NULL};
    struct reader ahead = *r;
    if (r->reference->first || r->reference->first_side != HK_SIDE_OPEN || !words(&ahead, starts))
        return false;
    word(&ahead, "a");
    const char *first = words(&ahead, knits) ? "knit" : words(&ahead, purls) ? "purl" : NULL;
    enum hk_side side = first                   ? HK_SIDE_OPEN
                        : words(&ahead, rights) ? HK_SIDE_RIGHT
                        : words(&ahead, wrongs) ? HK_SIDE_WRONG
                                                : HK_SIDE_OPEN;
    if ((!first && side == HK_SIDE_OPEN) || !words(&ahead, hk_reference_rows))
        return false;
    r->reference->first = first;
    r->reference->first_side = side;
    r->c = ahead.c;
    return true;
}

static bool amount_scan(struct reader *r)
{
    struct hk_reference *reference = r->reference;
    struct amount amount;
    const char *at = hk_blanks_skipped(r->c);
    if (!hk_reference_amount(r, &amount))
        return false;
    if (amount.of == AMOUNT_TIMES) {
        reference->times = amount.count;
        reference->times_given = true;
    } else if (amount.of == AMOUNT_ROWS) {
        reference->rows = amount.count;
        reference->rows_given = true;
    } else {
        reference->length_m = amount.length_m;
        reference->onward = true;
    }
    if (amount.total && (reference->kind == HK_REFERENCE_ROWS || reference->kind == HK_REFERENCE_LAST))
        problem(r, at, "this may be meant with or without the rows that are worked already",
                "write \"5 more times\" or \"for 10 more rows\"");
    return true;
}

/* Reads the words after the rows: the number of times or the length, and words without meaning for the count. */
static void tail_scan(struct reader *r)
{
    static const char *const edges[] = {"to end of the edge",
                                        "to the end of the edge",
                                        "along the edge",
                                        "along entire edge",
                                        "across the edge",
                                        "around the edge",
                                        "until all sts of the edge are used",
                                        "until the edge is used up",
                                        NULL};
    static const char *const patterns[] = {"for pattern",    "for patt", "for the pattern", "to form pattern",
                                           "in pattern",     "in patt",  "throughout",      "as set",
                                           "as established", "as est",   "in this patt",    NULL};
    for (;;) {
        struct reader ahead = *r;
        comma_skip(&ahead);
        bool to_edge = !how_many(r->reference) && words(&ahead, edges);
        r->reference->to_edge |= to_edge;
        bool begins = r->reference->kind == HK_REFERENCE_PATTERN && first_scan(&ahead);
        if (!to_edge && !begins && !words(&ahead, patterns) && !hk_reference_ending(&ahead) &&
            (how_many(r->reference) ||
             (!until_scan(&ahead) && !amount_scan(&ahead) && !marked_times(&ahead))))
            return;
        *r = ahead;
    }
}

/* ---- Rows by number ---- */

/* Reads a row number: "4", "R4". */
static bool row_number(struct reader *r, int64_t *value)
{
    const char *c = hk_blanks_skipped(r->c);
    c += (*c == 'R' || *c == 'r') && hk_is_digit(c[1]);
    size_t count = hk_digit_run(c);
    if (count == 0 || count > 6)
        return false;
    *value = 0;
    for (size_t i = 0; i < count; i++)
        *value = 10 * *value + (c[i] - '0');
    r->c = c + count;
    return true;
}

/* Returns true for ", 4 more times", which is not another row. */
static bool counts_times(const struct reader *r)
{
    struct reader ahead = *r;
    struct amount amount;
    return hk_reference_amount(&ahead, &amount);
}

/* Adds a range, ascending or descending: "1-4", "4-1". */
static void range_add(struct reader *r, int64_t from, int64_t to, int64_t *numbers)
{
    int64_t step = from <= to ? 1 : -1, more = (to - from) * step + 1;
    size_t *count = &r->reference->number_count;
    if (more > NUMBERS_MOST - (int64_t)*count) {
        problem(r, hk_blanks_skipped(r->text), "more than 1000 rows are named at once",
                "check the numbers, or write several references");
        return;
    }
    for (int64_t i = 0; i < more; i++)
        numbers[(*count)++] = from + i * step;
}

static bool rows_scan(struct reader *r)
{
    static const char *const ranges[] = {"-", "to", "through", "thru", NULL}, *const seps[] = {"and", "&", "+", NULL};
    int64_t *numbers = hk_arena_take(r->arena, NUMBERS_MOST, sizeof *numbers), from, to;
    struct reader ahead = *r;
    if (!numbers || !row_number(&ahead, &from))
        return false;
    r->reference->numbers = numbers;
    for (bool more = true; more;) {
        *r = ahead;
        to = from;
        bool dash = hk_text_starts(hk_blanks_skipped(r->c), "- ");
        if (words(&ahead, ranges) && !(dash && counts_times(&ahead)) && row_number(&ahead, &to))
            *r = ahead; /* not "row 2 - 18 times" */
        range_add(r, from, to, numbers);
        ahead = *r;
        comma_skip(&ahead);
        more = words(&ahead, seps) || ahead.c[-1] == ',';
        words(&ahead, hk_reference_rows);
        more = more && !counts_times(&ahead) && row_number(&ahead, &from);
    }
    return true;
}

static bool rep_read(struct reader *r)
{
    static const char *const starts[] = {"rep.",        "rep",         "repeat",       "rpt",
                                         "repeating",   "cont to rep", "cont rep",     "continue to repeat",
                                         "work as for", "work as",     "work same as", "work",
                                         "as for",      "as",          "same as for",  "same as",
                                         "like",        NULL};
    static const char *const lasts[] = {"last", "previous", "these", "preceding", "above", NULL};
    if (!words(r, starts))
        return false;
    word(r, "the");
    if (words(r, lasts)) {
        r->reference->kind = HK_REFERENCE_LAST;
        r->reference->last.one = 1;
        hk_reference_number(r, &r->reference->last);
        if (!words(r, hk_reference_rows))
            return false;
    } else {
        const char *rows = hk_blanks_skipped(r->c);
        r->reference->kind = HK_REFERENCE_ROWS;
        if ((!words(r, hk_reference_rows) && *rows != 'R' && *rows != 'r') || !rows_scan(r))
            return false;
    }
    tail_scan(r);
    return true;
}

/* ---- Work even, in a stitch pattern, rows of a stitch ---- */

/* Returns the words up to "for", "until", shaping or a mark. */
static const char *name_scan(struct reader *r)
{
    static const char *const ends[] = {
        "for",      "until",    "over",      "ending",         "at the same time", "and at the same time", "while",
        "dec",      "dec.",     "inc",       "inc.",           "decreasing",       "increasing",           "decrease",
        "increase", "beg with", "beg. with", "beginning with", "starting with",    "start with",           NULL};
    const char *start = hk_blanks_skipped(r->c), *c = start;
    while (*c && !strchr(".;:([", *c)) {
        if ((c == start || c[-1] == ' ') && hk_word_of(c, ends))
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

/* Reads "work even in sc", "work even in patt". Returns false when out of memory. */
static bool even_in(struct reader *r)
{
    static const char *const same[] = {"patt",        "pattern",        "est patt", "established pattern",
                                       "patt as set", "pattern as set", NULL};
    r->reference->kind = HK_REFERENCE_EVEN;
    if (!word(r, "in"))
        return true;
    word(r, "the");
    const char *name = name_scan(r);
    if (!name)
        return false;
    if (!hk_word_of(name, same)) {
        r->reference->kind = HK_REFERENCE_PATTERN;
        r->reference->words = name;
    }
    return true;
}

static bool even_read(struct reader *r)
{
    static const char *const works[] = {
        "work",  "continue to work", "continue working", "continue", "cont. to work", "cont. working",
        "cont.", "cont to work",     "cont working",     "cont",     "keep working",  NULL};
    static const char *const mores[] = {"a further", "another", NULL}, *const ins[] = {"in", "of", NULL};
    struct hk_reference *reference = r->reference;
    bool begins = first_scan(r);
    if (begins) {
        comma_skip(r);
        word(r, "and");
    }
    if (!words(r, works)) { /* "In patt as set for 6 rows" */
        if (begins)
            return false;
        reference->kind = HK_REFERENCE_EVEN;
        if (!words(r, evens))
            return false;
        tail_scan(r);
        return true;
    }
    words(r, mores);
    struct reader counted = *r;
    if (hk_reference_number(&counted, &reference->rows)) {
        word(&counted, "more");
        reference->rows_given = words(&counted, hk_reference_rows);
    }
    if (reference->rows_given)
        *r = counted;
    if (words(r, evens)) {
        if (!even_in(r) || (begins && reference->kind != HK_REFERENCE_PATTERN))
            return false;
        tail_scan(r);
        return true;
    }
    if (!words(r, ins) && reference->rows_given)
        return false;
    word(r, "the");
    reference->kind = HK_REFERENCE_PATTERN;
    reference->words = name_scan(r);
    if (!reference->words || !*reference->words || strlen(reference->words) > HK_REFERENCE_NAME_MOST)
        return false;
    tail_scan(r);
    if (!how_many(reference))
        hk_reference_more(r);
    return how_many(reference) || reference->besides; /* "Work 6 sc in ring" is a row */
}

/* Reads "St st 44 rows.", "Garter st for 10 rows.", "Beg with a K row, st st 44 rows.". */
static bool fabric_read(struct reader *r)
{
    static const char *const last_words[] = {"st", "stitch", "rib", "ribbing", "stockinette", "garter", NULL};
    static const char *const places[] = {"in", "into", "next", "each", "same", "around", "to", "of", "the", "a", NULL};
    static const size_t words_most = 3;
    if (first_scan(r))
        comma_skip(r);
    const char *start = hk_blanks_skipped(r->c), *c = start, *last = start, *end = start;
    size_t count = 0;
    while (hk_is_letter(*c)) {
        if (hk_word_at(c, "for"))
            break;
        if (hk_word_of(c, places))
            return false;
        last = c;
        while (hk_is_letter(*c) || *c == '-')
            c++;
        end = c;
        c = hk_blanks_skipped(c);
        count++;
    }
    const char *behind = hk_word_of(last, last_words);
    if (count == 0 || count > words_most || behind != end)
        return false;
    r->c = c;
    r->reference->kind = HK_REFERENCE_PATTERN;
    if (!amount_scan(r) || (!r->reference->rows_given && !r->reference->length_m))
        return false;
    r->reference->words = hk_arena_text(r->arena, start, (size_t)(end - start));
    tail_scan(r);
    const char *rest = hk_blanks_skipped(r->c);
    return r->reference->words && (!*rest || strchr(".,;([", *rest));
}

static bool words_read(struct reader *r)
{
    static const char *const knits[] = {"knit", "k", NULL}, *const purls[] = {"purl", "p", NULL};
    static const char *const every[] = {"every", "all", "each", NULL};
    bool knit = words(r, knits);
    if (!knit && !words(r, purls))
        return false;
    r->reference->kind = HK_REFERENCE_WORDS;
    r->reference->words = knit ? "k" : "p";
    if (!words(r, every)) {
        if (!hk_reference_number(r, &r->reference->rows))
            return false;
        word(r, "more");
        r->reference->rows_given = true;
    }
    if (!words(r, hk_reference_rows))
        return false;
    tail_scan(r);
    return true;
}

/* ---- As another piece ---- */

static const char *const reverses[] = {"reversing", "reverse", "rev", NULL};

/* Returns the end of the name of a piece: before a mark, "reversing" or "but". */
static const char *piece_name_end(const char *start)
{
    const char *c = start;
    while (*c && !strchr(",.;:(", *c) && !(*c == ' ' && (hk_word_at(c + 1, "but") || hk_word_of(c + 1, reverses))))
        c++;
    return c;
}

/* Reads "reversing all shaping", which changes no count. */
static void reversing_scan(struct reader *r)
{
    static const char *const plain[] = {"all",     "the",   "shaping", "shapings", "and",   "neck",
                                        "armhole", "front", "side",    "shoulder", "sides", NULL};
    struct reader ahead = *r;
    comma_skip(&ahead);
    const char *rest = hk_blanks_skipped(ahead.c);
    bool but = word(&ahead, "but");
    if (!words(&ahead, reverses)) {
        if (!but)
            return;
    } else {
        words_skip(&ahead, plain);
        r->reference->reversing = true;
        but = false;
    }
    r->c = ahead.c;
    if (!but && strchr(",.;(", *hk_blanks_skipped(r->c)))
        return;
    problem(r, rest, "the differences from that piece cannot be read", "write the rows of this piece");
    r->c = hk_reference_clause_end(rest);
}

static bool as_read(struct reader *r)
{
    static const char *const starts[] = {
        "work as for", "work as", "work same as", "work the same as",    "as for",          "same as for", "same as",
        "make as for", "make as", "make same as", "work exactly as for", "make another as", "as",          NULL};
    if (!words(r, starts))
        return false;
    word(r, "the");
    const char *start = hk_blanks_skipped(r->c), *end = piece_name_end(start);
    r->c = end;
    while (end > start && end[-1] == ' ')
        end--;
    if (end == start || end - start > HK_REFERENCE_NAME_MOST)
        return false;
    r->reference->kind = HK_REFERENCE_AS;
    r->reference->words = hk_arena_text(r->arena, start, (size_t)(end - start));
    reversing_scan(r);
    return r->reference->words;
}

bool hk_reference_read(const char *text, size_t size_count, struct hk_reference *reference, struct hk_arena *arena)
{
    bool (*const forms[])(struct reader *) = {rep_read,           hk_reference_evenly,    words_read, hk_reference_edge,
                                              hk_reference_shape, hk_reference_shape_row, even_read,  as_read,
                                              fabric_read};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        *reference = (struct hk_reference){0};
        struct reader r = {.text = text, .c = text, .size_count = size_count, .reference = reference, .arena = arena};
        if (!forms[i](&r) || arena->out_of_memory)
            continue;
        hk_reference_more(&r);
        const char *end = hk_blanks_skipped(r.c);
        if (*end && strchr(".,;", *end))
            end++;
        reference->length = (size_t)(end - text);
        reference->wrong = r.wrong;
        return true;
    }
    return false;
}
