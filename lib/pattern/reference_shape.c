/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Shaping in words: at the ends of some rows, in rows of a label, evenly over a row, by binding off and casting on; and
 * shaping at the same time as other rows.
 */
#include "pattern/reference_reader.h"

#include <string.h>

#define BY_MOST 20 /* stitches at an end */
#define KIND_MOST 8 /* letters of an abbreviated stitch */
#define BESIDES_MOST 2
#define THEN_MOST 6

static const char *const follows[] = {"following", "foll.", "foll", NULL};

static const char *const stitch_words[] = {"sts", "st", "stitches", "stitch", NULL};

static const char *const decs[] = {"dec.", "dec", "decreasing", "decrease", NULL};
static const char *const incs[] = {"inc.", "inc", "increasing", "increase", NULL};

/* ---- The shaping rows ---- */

/* Reads "th" directly after a number. */
static bool ordinal_ending(struct reader *r)
{
    if (!hk_is_letter(*r->c))
        return false;
    r->c += strcspn(r->c, " ,.;");
    return true;
}

/* Reads an interval of rows: "4th", "alternate". */
static bool interval_take(struct reader *r, struct hk_graded_count *every)
{
    static const struct {
        const char *word;
        int64_t value;
    } intervals[] = {{"alternate", 2}, {"alt", 2},    {"other", 2}, {"second", 2}, {"RS", 2},     {"WS", 2},
                     {"third", 3},     {"fourth", 4}, {"fifth", 5}, {"sixth", 6},  {"eighth", 8}, {"tenth", 10}};
    struct reader ahead = *r;
    struct hk_graded_count value;
    if (hk_reference_number(&ahead, &value) && ordinal_ending(&ahead)) {
        *every = value;
        *r = ahead;
        return true;
    }
    for (size_t i = 0; i < sizeof intervals / sizeof *intervals; i++) {
        if (word(r, intervals[i].word)) {
            *every = (struct hk_graded_count){.one = intervals[i].value};
            return true;
        }
    }
    return false;
}

/* Reads "and 4th" after "alternately every 2nd". */
static bool alternate_take(struct reader *r, struct hk_shape_stage *stage)
{
    static const char *const ands[] = {"and every", "and", "& every", "&", NULL};
    struct reader ahead = *r;
    if (!words(&ahead, ands))
        return false;
    words(&ahead, follows);
    if (!interval_take(&ahead, &stage->then))
        return false;
    *r = ahead;
    return true;
}

static bool every_positive(struct hk_graded_count every, size_t size_count)
{
    for (size_t i = 0; i < size_count; i++)
        if (hk_graded_in(every, i) < 1)
            return false;
    return true;
}

/*
 * Reads the rows: "every foll 4th row", "alt rows", "every row", "every 2nd and 4th row alternately"; with their
 * number, "3 foll alt rows", "foll 6 rows", "foll alt row" (one). Otherwise the number is open.
 */
static bool every_scan(struct reader *r, struct hk_shape_stage *stage)
{
    static const char *const everys[] = {"every", "each", NULL}, *const rows[] = {"rows", "rnds", "rounds", NULL};
    *stage = (struct hk_shape_stage){.every = {.one = 1}, .open = true};
    bool alternately = word(r, "alternately"), every = words(r, everys), follow = words(r, follows);
    bool interval = interval_take(r, &stage->every);
    struct hk_graded_count value;
    if (!interval && hk_reference_number(r, &value)) {
        if (every) {
            interval = true;
            stage->every = value;
        } else {
            stage->times = value;
            stage->open = false;
            follow |= words(r, follows);
            interval = interval_take(r, &stage->every);
        }
    }
    if (!every && !follow && !interval)
        return false;
    bool two = every && interval && alternate_take(r, stage);
    words(r, follows);
    bool several = words(r, rows);
    if (!every_positive(stage->every, r->size_count) || (two && !every_positive(stage->then, r->size_count)) ||
        (!several && !words(r, hk_reference_rows)))
        return false;
    alternately |= word(r, "alternately");
    if (alternately != two)
        return false;
    if (stage->open && !every && follow && !several) {
        stage->open = false;
        stage->times.one = 1;
    }
    return true;
}

/* Reads "to 34 sts", "until 34 sts rem". */
static bool target_scan(struct reader *r, struct hk_shape_stage *stage)
{
    static const char *const theres[] = {"there are", "you have", NULL};
    static const char *const remain[] = {"remain", "rem",     "are left", "left", "are on", "on",
                                         "the",    "needles", "needle",   "hook", NULL};
    words(r, theres);
    if (!hk_reference_number(r, &stage->times) || !words(r, stitch_words))
        return false;
    words_skip(r, remain);
    stage->to = true;
    stage->open = false;
    return true;
}

/* The next row is one of N in total: one fewer after it. */
static bool without_next(struct reader *r, struct hk_shape_stage *stage, const char *start)
{
    int64_t *by_size = hk_arena_take(r->arena, r->size_count, sizeof *by_size);
    if (!by_size)
        return false;
    for (size_t i = 0; i < r->size_count; i++) {
        by_size[i] = hk_graded_in(stage->times, i) - 1;
        if (by_size[i] < 0)
            problem(r, start, "this is worked 0 times in a size, and the next row is one of them",
                    "write what that size does in a row of its own: \"Size S only: ...\"");
    }
    stage->times.by_size = by_size;
    return true;
}

/* Reads the number of times: "to 34 sts", "6 times". */
static bool stage_scan(struct reader *r, struct hk_shape_stage *stage, const char *start)
{
    static const char *const tos[] = {"to", "until", "till", NULL};
    struct reader ahead = *r;
    struct amount amount;
    comma_skip(&ahead);
    if (words(&ahead, tos)) {
        *r = ahead;
        return target_scan(r, stage);
    }
    if (!hk_reference_amount(&ahead, &amount) || amount.of != AMOUNT_TIMES)
        return true;
    *r = ahead;
    stage->times = amount.count;
    stage->open = false;
    r->reference->in_all |= stage->then.one > 0 && !amount.total;
    if (!r->reference->first_next || r->reference->stage_count > 0 || amount.more)
        return true;
    if (amount.total)
        return without_next(r, stage, start);
    problem(r, start, "this may be the number of times in all, or the number after the next row",
            "write \"... 6 more times\" where the next row is not one of them, else \"... 6 times in all\"");
    return true;
}

static void stage_add(struct reader *r, struct hk_shape_stage stage)
{
    r->reference->stages[r->reference->stage_count++] = stage;
}

/* Reads "next 4 rows", "next row", "next" before "and every 4th row"; *row: rows are named. */
static bool next_scan(struct reader *r, bool *row)
{
    static const char *const nexts[] = {"next", "this", NULL};
    struct hk_graded_count rows;
    if (!words(r, nexts))
        return false;
    struct reader ahead = *r;
    if (hk_reference_number(&ahead, &rows) && words(&ahead, hk_reference_rows)) {
        *r = ahead;
        stage_add(r, (struct hk_shape_stage){.every = {.one = 1}, .times = rows});
        *row = true;
    } else {
        r->reference->first_next = true;
        *row = words(r, hk_reference_rows);
    }
    return true;
}

/* "and every foll 4th row 6 more times", ", then on every 6th row twice". */
static bool stages_more(struct reader *r, bool first, const char *start)
{
    static const char *const joins[] = {"and then", "and", "then", NULL}, *const fillers[] = {"of", "on",  "in",
                                                                                              "at", "the", NULL};
    struct hk_shape_stage stage;
    if (!first) {
        comma_skip(r);
        words_skip(r, joins);
    }
    words_skip(r, fillers);
    if (r->reference->stage_count == HK_STAGES_MOST || !every_scan(r, &stage) || !stage_scan(r, &stage, start))
        return false;
    stage_add(r, stage);
    return true;
}

/* Reads all stages, and the side of the last row. Returns false when no row is named. */
static bool stages_scan(struct reader *r, const char *start)
{
    bool row = false, next = next_scan(r, &row);
    struct reader ahead = *r;
    for (bool first = !next; stages_more(&ahead, first, start); first = false)
        *r = ahead;
    if (!row && r->reference->stage_count == 0)
        return false;
    ahead = *r;
    comma_skip(&ahead);
    if (hk_reference_ending(&ahead))
        *r = ahead;
    return true;
}

/* ---- At the ends of rows ---- */

static bool ends_scan(struct reader *r)
{
    static const char *const both[] = {"each end of needle", "each end",    "both ends",         "each side",
                                       "both sides",         "beg and end", "beginning and end", "each edge",
                                       "both edges",         NULL};
    static const char *const edges[] = {"neck edge", "armhole edge", "front edge", "same edge",  "side edge",
                                        "this edge", "shaped edge",  "left edge",  "right edge", NULL};
    static const char *const one[] = {"beg", "beginning", "start", NULL}, *const ends[] = {"end", "one end", NULL};
    static const char *const fillers[] = {"at", "the", "on", "of", NULL};
    struct hk_reference *reference = r->reference;
    words_skip(r, fillers);
    reference->ends = words(r, both) ? 2 : 1;
    if (reference->ends == 2)
        return true;
    const char *start = hk_blanks_skipped(r->c);
    if (words(r, edges))
        reference->edge = hk_arena_text(r->arena, start, (size_t)(r->c - start));
    else
        reference->edge = words(r, one) ? "beg" : words(r, ends) ? "end" : NULL;
    return reference->edge;
}

/* "Keeping pattern correct,": the shaping rows are in the stitch of the rows above. */
static void keeping_scan(struct reader *r)
{
    static const char *const keeps[] = {"still keeping", "keeping", "keep", "maintaining", NULL};
    static const char *const what[] = {"continuity of", "the", "pattern", "patt.",          "patt", "correct", "to",
                                       "as set",        "in",  "as est",  "as established", "and",  NULL};
    struct reader ahead = *r;
    if (!words(&ahead, keeps))
        return;
    words_skip(&ahead, what);
    comma_skip(&ahead);
    if (hk_word_of(hk_blanks_skipped(ahead.c), decs) || hk_word_of(hk_blanks_skipped(ahead.c), incs))
        *r = ahead;
}

/* "Dec 1 st at each end of row.", "Dec 1 st at each end (18 sts)": without named rows it is this row. */
static bool one_row(struct reader *r)
{
    static const char *const rows[] = {"row", "rnd", "round", "this row", "this rnd", "this round", NULL};
    struct reader ahead = *r;
    bool row = words(&ahead, rows);
    const char *c = hk_blanks_skipped(ahead.c);
    bool turns = *c == ',' && hk_word_at(hk_blanks_skipped(c + 1), "turn");
    if ((*c && !strchr(".([", *c) && !turns) || (!row && r->c[-1] == ' '))
        return false;
    *r = ahead;
    return true;
}

/* Reads "st" of "dec 1 st at each end", and reports a kind of stitch in its place: "dec 1 dc at each end". */
static bool shaped_take(struct reader *r)
{
    struct reader ahead = *r;
    if (words(r, stitch_words))
        return true;
    const char *kind = hk_blanks_skipped(ahead.c);
    size_t length = 0;
    while (hk_is_letter(kind[length]))
        length++;
    ahead.c = kind + length;
    if (length == 0 || length > KIND_MOST || !word(&ahead, "at"))
        return false;
    problem(r, kind, "a kind of stitch is named here, and a shaped row is worked in the stitch of the rows above",
            "write st for it, \"dec 1 st at each end\", if it is that stitch; else write the row out: \"Dc2tog over "
            "next 2 sts, dc in each st to last 2 sts, dc2tog over last 2 sts\"");
    r->c = ahead.c;
    return true;
}

bool hk_reference_shape(struct reader *r)
{
    static const char *const fillers[] = {"of", "on", "in", "the", NULL};
    struct hk_reference *reference = r->reference;
    keeping_scan(r);
    const char *start = hk_blanks_skipped(r->c);
    bool dec = words(r, decs);
    struct hk_graded_count by;
    if ((!dec && !words(r, incs)) || !hk_reference_number(r, &by) || by.by_size || by.one < 1 || by.one > BY_MOST ||
        !shaped_take(r) || !ends_scan(r))
        return false;
    reference->kind = HK_REFERENCE_SHAPE;
    reference->by = dec ? -(int)by.one : (int)by.one;
    words_skip(r, fillers);
    if (one_row(r)) {
        reference->first_next = reference->one_row = true;
        return true;
    }
    return stages_scan(r, start);
}

/* ---- Rows of a label ---- */

/* "Rep dec row every 4th row 5 more times", "Work inc rnd on every foll 6th rnd to 60 sts". */
bool hk_reference_shape_row(struct reader *r)
{
    static const char *const starts[] = {"rep.", "rep", "repeat", "rpt", "work", NULL};
    static const char *const kinds[] = {"dec.",     "dec",        "decreasing", "decrease",   "inc.", "inc",
                                        "increase", "increasing", "shaping",    "buttonhole", NULL};
    static const char *const fillers[] = {"of", "on", "in", "the", "again", "as before", "once", NULL};
    struct hk_reference *reference = r->reference;
    if (!words(r, starts))
        return false;
    word(r, "the");
    const char *name = hk_blanks_skipped(r->c);
    if (!words(r, kinds) || !words(r, hk_reference_rows))
        return false;
    reference->row = hk_arena_text(r->arena, name, (size_t)(r->c - name));
    reference->kind = HK_REFERENCE_SHAPE;
    if (!reference->row)
        return false;
    struct reader ahead = *r;
    struct amount amount;
    if (hk_reference_amount(&ahead, &amount) && amount.of == AMOUNT_TIMES) { /* worked one after the other */
        *r = ahead;
        stage_add(r, (struct hk_shape_stage){.every = {.one = 1}, .times = amount.count});
        return true;
    }
    words_skip(r, fillers);
    return stages_scan(r, name);
}

/* ---- Evenly ---- */

/* Returns the stitch before "inc 4 sts evenly": "k", "work across in sc", "hdc in each st around". */
static const char *evenly_stitch(struct reader *r, const char *start, const char *end)
{
    static const char *const leads[] = {"work in", "work across in", "work around in", "work", NULL};
    static const char *const tails[] = {" across",   " around",   " to end",  " in each st", " in each stitch",
                                        " 1 row",    " 1 rnd",    " one row", " one rnd",    " next row",
                                        " next rnd", " this row", " even",    NULL};
    struct hk_graded_count chains;
    if (word(r, "ch") && hk_reference_number(r, &chains) && *r->c == ',' && !chains.by_size) {
        r->reference->chains = chains.one;
        start = hk_blanks_skipped(r->c + 1);
    }
    const char *lead = hk_word_of(start, leads);
    start = lead && lead < end ? hk_blanks_skipped(lead) : start;
    while (end > start && strchr(" ,", end[-1]))
        end--;
    for (bool cut = true; cut;) {
        cut = false;
        for (size_t i = 0; tails[i] && !cut; i++) {
            size_t length = strlen(tails[i]);
            cut = (size_t)(end - start) > length && hk_text_starts(end - length, tails[i]);
            end -= cut ? length : 0;
        }
    }
    for (const char *c = start; c < end; c++)
        if (!hk_is_letter(*c) && *c != ' ')
            return NULL;
    return hk_arena_text(r->arena, start, (size_t)(end - start));
}

bool hk_reference_evenly(struct reader *r)
{
    static const char *const evens[] = {"evenly spaced", "evenly", NULL};
    static const char *const wheres[] = {"spaced",  "across",  "around",  "along", "over", "on",         "in", "to end",
                                         "the row", "row",     "the rnd", "rnd",   "next", "this",       "of", "the",
                                         "round",   "all sts", "working", "st",    "sts",  "throughout", NULL};
    struct hk_reference *reference = r->reference;
    const char *start = hk_blanks_skipped(r->c), *at = NULL;
    for (const char *c = start; *c && !strchr(".;:*([", *c) && !at; c++)
        if ((c == start || c[-1] == ' ') && (hk_word_of(c, decs) || hk_word_of(c, incs)))
            at = c;
    if (!at || at - start > HK_REFERENCE_NAME_MOST)
        return false;
    r->c = at;
    bool dec = words(r, decs);
    if ((!dec && !words(r, incs)) || !hk_reference_number(r, &reference->spread))
        return false;
    words(r, stitch_words);
    struct reader ahead = *r;
    words_skip(&ahead, wheres);
    if (!words(&ahead, evens))
        return false;
    words_skip(&ahead, wheres);
    reference->kind = HK_REFERENCE_EVENLY;
    reference->by = dec ? -1 : 1;
    r->c = start;
    reference->words = evenly_stitch(r, start, at);
    *r = ahead;
    return reference->words;
}

/* ---- Binding off and casting on ---- */

/* Reads "4 (5, 6) sts at beg of next 2 rows" after the verb, which begins at `start` and has the length `verb`. */
static bool edge_scan(struct reader *r, const char *start, size_t verb, bool cast_on)
{
    static const char *const ats[] = {"at the", "at", NULL}, *const begs[] = {"beg.", "beg", "beginning", "start",
                                                                              NULL};
    static const char *const ofs[] = {"each", "of", "the", NULL}, *const nexts[] = {"next", "following", "foll.",
                                                                                    "foll", NULL};
    struct hk_graded_count count;
    const char *from = hk_blanks_skipped(r->c);
    if (!hk_reference_number(r, &count) || !words(r, stitch_words))
        return false;
    const char *end = r->c;
    if (!words(r, ats) || (!words(r, begs) && !(cast_on && (r->reference->at_end = word(r, "end")))))
        return false;
    words_skip(r, ofs);
    r->reference->rows.one = 1;
    if (!words(r, nexts))
        return false;
    hk_reference_number(r, &r->reference->rows);
    if (!words(r, hk_reference_rows))
        return false;
    r->reference->kind = HK_REFERENCE_EDGE;
    r->reference->rows_given = true;
    r->reference->words = hk_arena_print(r->arena, "%.*s %.*s", (int)verb, start, (int)(end - from), from);
    return r->reference->words;
}

static const char *const offs[] = {"bind off", "cast off", "BO", NULL}, *const ons[] = {"cast on", "CO", NULL};

bool hk_reference_edge(struct reader *r)
{
    const char *start = hk_blanks_skipped(r->c);
    bool on = words(r, ons);
    if (!on && !words(r, offs))
        return false;
    return edge_scan(r, start, (size_t)(r->c - start), on);
}

/* ---- At the same time, and then ---- */

static const char *const same_times[] = {"at the same time", "at same time", "while", "whilst", NULL};

/*
 * Returns the words after "AT THE SAME TIME,", NULL if there are none. After rows without an end (`openly`), such as
 * "Cont in patt", a comma is enough; *worded: not a comma.
 */
static const char *besides_at(const struct reader *r, bool openly, bool *worded)
{
    struct reader ahead = *r;
    comma_skip(&ahead);
    word(&ahead, "and");
    *worded = words(&ahead, same_times);
    if (!*worded) {
        const char *c = hk_blanks_skipped(ahead.c);
        return openly && (hk_word_of(c, decs) || hk_word_of(c, incs)) ? c : NULL;
    }
    comma_skip(&ahead);
    word(&ahead, "also");
    return hk_blanks_skipped(ahead.c);
}

static struct hk_reference *other_read(struct reader *r, const char *at, bool (*const *forms)(struct reader *))
{
    for (; *forms; forms++) {
        struct hk_reference *other = hk_arena_take(r->arena, 1, sizeof *other);
        struct reader ahead = *r;
        ahead.c = at;
        ahead.reference = other;
        if (!other)
            return NULL;
        *other = (struct hk_reference){0};
        if (!(*forms)(&ahead))
            continue;
        r->c = ahead.c;
        r->wrong = ahead.wrong;
        if (other->problem) {
            r->reference->problem = other->problem;
            r->reference->hint = other->hint;
            r->reference->problem_at = other->problem_at;
        }
        return other;
    }
    return NULL;
}

static void besides_scan(struct reader *r)
{
    static bool (*const forms[])(struct reader *) = {hk_reference_shape, hk_reference_shape_row, NULL};
    enum hk_reference_kind kind = r->reference->kind;
    bool openly = kind == HK_REFERENCE_EVEN || kind == HK_REFERENCE_PATTERN || kind == HK_REFERENCE_WORDS;
    const struct hk_reference **tail = &r->reference->besides;
    for (size_t i = 0; i < BESIDES_MOST && !*tail; i++) {
        bool worded;
        const char *at = besides_at(r, openly && i == 0, &worded), *from = hk_blanks_skipped(r->c);
        from = *from == ',' ? hk_blanks_skipped(from + 1) : from;
        struct hk_reference *other = at ? other_read(r, at, forms) : NULL;
        if (!other && at && worded) {
            problem(r, from, "the work at the same time cannot be read",
                    "write it as \"Work even for 24 rows, at the same time dec 1 st at each end of every 4th row 6 "
                    "times\", or the rows in which both fall as rows of their own");
            r->c = hk_reference_clause_end(from);
        }
        if (!other)
            return;
        *tail = other;
        tail = &other->besides;
    }
}

/* Reads "2 sts at beg of foll 4 rows" after "bind off 3 sts at beg of next 2 rows, then". */
static struct hk_reference *edge_again(struct reader *r, const char *at)
{
    struct hk_reference *other = hk_arena_take(r->arena, 1, sizeof *other);
    struct reader ahead = *r;
    const char *verb = r->reference->words;
    if (!other)
        return NULL;
    *other = (struct hk_reference){0};
    ahead.c = at;
    ahead.reference = other;
    size_t length = 0;
    while (verb[length] && !hk_is_digit(verb[length]))
        length++;
    if (length == 0 || !edge_scan(&ahead, verb, length - 1, hk_word_of(verb, ons) != NULL))
        return NULL;
    r->c = ahead.c;
    r->wrong = ahead.wrong;
    return other;
}

static void then_scan(struct reader *r)
{
    static bool (*const forms[])(struct reader *) = {hk_reference_edge, hk_reference_shape, hk_reference_shape_row,
                                                     NULL};
    static const char *const thens[] = {"and then", "then", NULL}, *const ands[] = {"and then", "then", "and", NULL};
    struct hk_reference *last = r->reference;
    for (size_t i = 0; i < THEN_MOST; i++) {
        struct reader ahead = *r;
        bool edge = last->kind == HK_REFERENCE_EDGE;
        comma_skip(&ahead);
        bool joined = ahead.c != r->c && ahead.c[-1] == ',';
        if (!words(&ahead, edge ? ands : thens) && !(edge && joined))
            return;
        struct reader from = ahead;
        from.reference = last;
        const char *at = hk_blanks_skipped(ahead.c);
        struct hk_reference *other = edge ? edge_again(&from, at) : NULL;
        if (!other)
            other = other_read(&from, at, forms);
        if (!other)
            return;
        if (last->problem && !r->reference->problem) {
            r->reference->problem = last->problem;
            r->reference->hint = last->hint;
            r->reference->problem_at = last->problem_at;
        }
        last->then = other;
        last = other;
        r->c = from.c;
        r->wrong = from.wrong;
    }
}

void hk_reference_more(struct reader *r)
{
    if (r->reference->problem || r->reference->kind == HK_REFERENCE_AS || r->reference->kind == HK_REFERENCE_EVENLY)
        return;
    besides_scan(r);
    if (!r->reference->problem && (r->reference->kind == HK_REFERENCE_EDGE || r->reference->kind == HK_REFERENCE_SHAPE))
        then_scan(r);
}
