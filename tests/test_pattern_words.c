/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The small words of a written pattern (hankful(1), PATTERNS AS THEY ARE WRITTEN), one by one: labels, sizes, numbers,
 * beginnings, yarn and tool, lines. Expected values are taken from the words by hand.
 */
#include "out.h"

#include "pattern/begin.h"
#include "pattern/lines.h"
#include "pattern/setting.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define TEXT_MOST 4000

/* A text, and the result of reading it. */
struct read_case {
    const char *text, *expected;
};

static const char *const letter_names[] = {"S", "M", "L", "XL", "5", "6", "7", "8", "9", "10"},
                         *const figure_names[] = {"5", "6"}, *const adult_names[] = {"Child", "Adult S", "Adult M"},
                         *const yarns[] = {"main", "trim", "lace", "main body", "border edge", "border",
                                           "A1",   "A2",   "A3",   "A4",        "A5"};
static const char *const *size_names = letter_names;

typedef void put_read(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena);

/* Checks every case of a table and reports all differences together. */
static void assert_cases(const struct hk_catalogue *catalogue, size_t sizes, size_t yarn_count, put_read *read,
                         const struct read_case *cases, size_t count)
{
    const struct hk_row_words words = {.catalogue = catalogue,
                                       .size_count = sizes,
                                       .size_names = size_names,
                                       .yarns = yarns,
                                       .yarn_count = yarn_count};
    size_t wrong = 0;
    for (size_t i = 0; i < count; i++) {
        struct hk_arena arena = {0}, lost = {.out_of_memory = true};
        struct out out = {.length = 0}, nothing = {.length = 0};
        read(&out, cases[i].text, &words, &arena);
        read(&nothing, cases[i].text, &words, &lost);
        assert_false(arena.out_of_memory);
        hk_arena_free(&arena);
        if (strcmp(out.text, cases[i].expected) == 0)
            continue;
        print_error("%s\n    gives    %s\n    and not  %s\n", cases[i].text, out.text, cases[i].expected);
        wrong++;
    }
    assert_int_equal(wrong, 0);
}
#define ASSERT_CASES(sizes, yarn_count, read, cases)                                                                   \
    assert_cases(*state, (sizes), (yarn_count), (read), (cases), sizeof(cases) / sizeof *(cases))

/* ---- Labels ------------------------------------------------------------------------------------------------------ */

/* "2-9 RS others | the row's words", "none". */
static void put_label(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    struct hk_label label;
    bool read = hk_label_read(text, words, &label, arena);
    if (!arena->out_of_memory)
        assert_int_equal(read, hk_label_begins(text));
    if (!read) {
        put(out, "none");
        return;
    }
    if (label.numbered) {
        put_number(out, label.first, words->size_count);
        put(out, "-");
        put_number(out, label.last, words->size_count);
    } else {
        put(out, label.rows_given ? "of " : "one of ");
        put_number(out, label.rows, words->size_count);
    }
    for (size_t i = 0; i < label.list_count; i++)
        put(out, " +%" PRId64, label.list[i]);
    if (label.side != HK_SIDE_OPEN)
        put(out, label.side == HK_SIDE_RIGHT ? " RS" : " WS");
    if (label.others)
        put(out, " others");
    if (label.wrong)
        put(out, " wrong@%zu", label.wrong - 1);
    if (label.problem)
        put(out, " ?%.12s@%zu", label.problem, label.problem_at);
    put(out, " |%s", text + label.length);
}

static void labels_with_a_colon(void **state)
{
    static const struct read_case cases[] = {
        {"Row 1: sc", "1-1 | sc"},
        {"Row 1:sc", "1-1 |sc"},
        {"Row 1:*sc", "1-1 |*sc"},
        {"Row 1:(sc)", "1-1 |(sc)"},
        {"Row 1:[sc]", "1-1 |[sc]"},
        {"Row 1:", "1-1 |"},
        {"R12: k", "12-12 | k"},
        {"r3: k", "3-3 | k"},
        {"R: k", "none"},
        {"Rnd1: k", "1-1 | k"},
        {"Rows 2-9: k", "2-9 | k"},
        {"Rounds 2 - 9: k", "2-9 | k"},
        {"Rows 2 to 9: k", "2-9 | k"},
        {"Rows 2 through 9: k", "2-9 | k"},
        {"Rnds 2-9 (2-10, 2-11): k", "2/2/2-9/10/11 | k"},
        {"Rnds 2-9 [2-10, 2-11]: k", "2/2/2-9/10/11 | k"},
        {"Rnds 2-9 (2-10; 2-11): k", "2/2/2-9/10/11 | k"},
        {"Rnds 2-9 (2-10/2-11): k", "2/2/2-9/10/11 | k"},
        {"Rnds 2-9 (2-10)(2-11): k", "2/2/2-9/10/11 | k"},
        {"Rows 2-30 (32, 36): k", "2/2/2-30/32/36 | k"},
        {"Rows 2-30 (-, 36): k", "2/1/2-30/0/36 | k"},
        {"Rows - (2-4, 2-6): k", "1/2/2-0/4/6 | k"},
        {"Rows 2-4 (2-6, -): k", "2/2/1-4/6/0 | k"},
        {"Rows 5 (7, 9)-20 (22, 24): k", "5/7/9-20/22/24 | k"},
        {"Rows 5 (7, 9) to 20: k", "5/7/9-20/20/20 | k"},
        {"Rows 5 to 20 (22, 24): k", "5/5/5-20/22/24 | k"},
        {"Rows 5 to 20 (22, -): k", "5/5/1-20/22/0 | k"},
        {"Row 5 (7, 9): k", "5/7/9-5/7/9 | k"},
        {"Row 5 - RS: k", "5-5 RS | k"},
        /* a bracket that has not one value for each size left */
        {"Row 3 (4): k", "3-3 wrong@4 ?this number @7 | k"},
        {"Row 3 (4, 5, 6): k", "3-3 wrong@4 ?this number @7 | k"},
        {"Row 3 (4, 5, 6, 7): k", "3-3 wrong@4 ?this number @7 | k"},
        {"Row 3 (4, x): k", "3-3 ?this number @7 | k"},
        {"Row 3 (4, 5]: k", "3-3 ?this number @7 | k"},
        {"Row 3 [4, 5): k", "3-3 ?this number @7 | k"},
        {"Row 3 (RS) (4): k", "3-3 RS ?this number @12 | k"},
        /* lists */
        {"Rows 3 and 4: k", "3-4 | k"},
        {"Rows 3, 4: k", "3-4 | k"},
        {"Rows 2, 4 and 6: k", "2-2 +4 +6 | k"},
        {"Rows 2 & 4 + 6: k", "2-2 +4 +6 | k"},
        {"Rows 2, 4, and 6: k", "2-2 +4 +6 | k"},
        {"Rows 2-3, 5-6: k", "2-3 +5 +6 | k"},
        {"Rows 2-3, 4-6: k", "2-6 | k"},
        {"Rows 4, 2: k", "4-4 ?the rows of @6 | k"},
        {"Rows 2, 6-4: k", "2-2 ?the rows of @6 | k"},
        {"Rows 2, 4-2000: k", "2-2 ?the rows of @6 | k"},
        {"Rows 2, - (WS): k", "2-2 WS | k"},
        {"Rows 2 4: k", "2-2 ?this number @7 | k"},
        {"Row 2 (RS) and row 4: k", "2-2 RS ?this number @19 | k"},
        {"2nd and 4th rows: k", "2-2 +4 | k"},
        {"2nd, 3rd and 4th rows: k", "2-4 | k"},
        {"3rd (5th, 7th) row: k", "3-3 ?this number @5 | k"},
        {"4th and 2nd rows: k", "4-4 ?the rows of @3 | k"},
        /* sides, and words for rows that are not written out */
        {"Row 1 (RS): k", "1-1 RS | k"},
        {"Row 1 (right side): k", "1-1 RS | k"},
        {"Row 2 (WS): p", "2-2 WS | p"},
        {"Wrong side row: p", "one of 1 WS | p"},
        {"Row 2 and all WS rows: p", "2-2 WS others | p"},
        {"Row 2 and every other row: p", "2-2 others | p"},
        {"All WS rows: p", "one of 1 WS others | p"},
        {"Row 2 and every 4th row: p", "2-2 others ?this number @16 | p"},
        /* without its own number */
        {"Next row: k", "one of 1 | k"},
        {"Inc rnd: k", "one of 1 | k"},
        {"Armhole Row 1: k", "1-1 | k"},
        {"1st row: k", "1-1 | k"},
        {"Next 3 rnds: k", "of 3 | k"},
        {"Next 3 (4, 5) rnds: k", "of 3/4/5 | k"},
        {"Next - (2, 4) rows: k", "of 0/2/4 | k"},
        {"Next two rows: k", "of 2 | k"},
        {"One row: k", "of 1 | k"},
        {"Next 3 (4) rnds: k", "of 3 wrong@5 ?this number @8 | k"},
        {"Next 3 (4, 5, 6) rnds: k", "of 3 wrong@5 ?this number @8 | k"},
        {"Next 3 or 4 rnds: k", "of 3 ?this number @10 | k"},
        {"Next rows: k", "one of 1 ?the number o@0 | k"},
        {"Motif 2 joining rnd: k", "of 2 ?this number @6 | k"},
        {"Next row (24 sts): k", "one of 1 ?this number @10 | k"},
        {"Part2 row: k", "one of 1 | k"},
        /* malformed numbers */
        {"Row 9-2: k", "9-9 ?the last of @0 | k"},
        {"Rows 9 (9, 9)-2 (12, 12): k", "9/9/9-9/9/9 ?the last of @0 | k"},
        {"Row 1234567890: k", "one of 1 ?this number @4 | k"},
        {"Row 200000000: k", "one of 1 ?this number @4 | k"},
        {"Rows 2-200000000: k", "2-2 ?this number @7 | k"},
        {"Rows 2 to 200000000: k", "2-2 ?this number @10 | k"},
        {"Rows 2-5 to 8: k", "2-5 ?this number @12 | k"},
        {"Row two: k", "one of 1 ?the number o@4 | k"},
        {"Rows -: k", "one of 1 ?the number o@0 | k"},
        /* sizes are read elsewhere */
        {"Row 3 (size L only): k", "3-3 ?words that l@7 | k"},
        {"Row 3 (M and L): k", "3-3 ?words that l@7 | k"},
        {"Row 3 (L): k", "3-3 ?words that l@7 | k"},
        {"M and L, row 3: k", "3-3 ?words that l@0 | k"},
        {"Large square, row 3: k", "3-3 | k"},
        {"L only, row 3: k", "3-3 ?words that l@0 | k"},
        {"Row 3 (left front only): k", "3-3 ?words that l@18 | k"},
        {"Row 3 (back loops only): k", "3-3 | k"},
        {"Row 3 (dec every time): k", "3-3 | k"},
        {"Row 3 (all sizes): k", "3-3 | k"},
        {"Rnds 5-8 (4 rnds): k", "5-8 | k"},
        {"Rnds 5-8 (5 rnds): k", "5-8 ?this number @10 | k"},
        {"Rnds 5-8 (4 sts): k", "5-8 ?this number @10 | k"},
        {"Rnds 5-8 (4 rnds, WS): k", "5-8 WS ?this number @10 | k"},
        {"Row 3 (for M): k", "3-3 | k"},
        /* no labels */
        {"Rep rows 1 and 2: k", "none"},
        {"Note: the rows curl", "none"},
        {"Rows are worked in turns; see below: k", "none"},
        {"Sc *in row 1: k", "none"},
        {"The rows curl. Note: k", "none"},
        {"The rows form a 2:1 rib", "none"},
        {"Borrow: k", "none"},
        {"3rows: k", "none"},
        {"Rowing: k", "none"},
        {"Edging (row 1: k) in MC", "none"},
        {"A long remark that goes on and on before it speaks of any row, and goes on again for longer than labels are, "
         "so "
         "the colon of row 1: is none",
         "none"},
        {"", "none"},
    };
    ASSERT_CASES(3, 3, put_label, cases);
}

/* Words after a number without a colon may belong to the row: the label takes no number of the row. */
static void labels_without_a_colon(void **state)
{
    static const struct read_case cases[] = {
        {"Row 2 sc in each st", "2-2 |sc in each st"},
        {"Row 2 2 sc in each st", "2-2 |2 sc in each st"},
        {"Row 2. 2 sc in each st", "2-2 |2 sc in each st"},
        {"Row 2) 2 sc in each st", "2-2 |2 sc in each st"},
        {"R2, 2 sc in each st", "2-2 |2 sc in each st"},
        {"Row 2, 6 sc in next st", "2-2 |6 sc in next st"},
        {"Row 2 - 2 sc in each st", "2-2 |2 sc in each st"},
        {"Row 2 - sc in each st", "2-2 |sc in each st"},
        {"Row 2. - sc in each st", "2-2 |sc in each st"},
        {"Row 2; sc in each st", "2-2 |sc in each st"},
        {"Row 2 = sc in each st", "2-2 |sc in each st"},
        {"Row 2:2 sc in each st", "2-2 |2 sc in each st"},
        {"Row 12-6 sc in each st", "12-12 |6 sc in each st"},
        {"Row 2-5 sc in each st", "2-2 ?this number @6 |5 sc in each st"},
        {"Row 2 - 5 sc in each st", "2-2 ?this number @8 |5 sc in each st"},
        {"Rows 2-5 sc in each st", "2-5 |sc in each st"},
        {"Rows 2 to 5 sc in each st", "2-5 |sc in each st"},
        {"Rows 2 through 5 sc", "2-5 |sc"},
        {"Rows 2-5, 2 sc in each st", "2-5 |2 sc in each st"},
        {"Rows 2-5, 8 sc in each st", "2-5 ?this number @10 |8 sc in each st"},
        {"Rows 2, 4 sc in each st", "2-2 +4 |sc in each st"},
        {"Rows 2, 4 and 6 sc in each st", "2-2 +4 +6 |sc in each st"},
        {"Rows 2 & 4 sc in each st", "2-2 +4 |sc in each st"},
        {"Row 2 and 4 sc", "2-2 +4 |sc"},
        {"Row 2 (WS) p", "2-2 WS |p"},
        {"Row 2 (wrong side) p", "2-2 WS |p"},
        {"Row 2 (right side) p", "2-2 RS |p"},
        {"Row 2 (3, 4) p", "2/3/4-2/3/4 |p"},
        {"Row 2 (3, 4), p", "2/3/4-2/3/4 |p"},
        {"Row 2 (sc, ch 1) in next st", "2-2 |(sc, ch 1) in next st"},
        {"Row 2 (sc, ch 1 in next st", "2-2 |(sc, ch 1 in next st"},
        {"Row 2 () p", "2-2 |() p"},
        {"Row 2 (3 p", "2-2 |(3 p"},
        {"Rows 2 and 1234567890 p", "2-2 |and 1234567890 p"},
        {"Row 1234567890 p", "none"},
        {"Row 2 and p", "2-2 |and p"},
        /* sentences about rows */
        {"Row 2", "none"},
        {"Row 2.", "none"},
        {"Row 2 -", "none"},
        {"Row 2 is the right side", "none"},
        {"Row 2 = RS", "none"},
        {"Row of sc", "none"},
        {"sc in row 2", "none"},
    };
    ASSERT_CASES(3, 3, put_label, cases);
}

static void labels_of_one_size(void **state)
{
    static const struct read_case cases[] = {
        {"Rows 2-9: k", "2-9 | k"},
        {"Next 3 rnds: k", "of 3 | k"},
        {"Rows 2-9 (2-10): k", "2-9 wrong@5 ?this number @10 | k"},
        {"Next 3 (4) rnds: k", "of 3 wrong@5 ?this number @8 | k"},
        {"Row - : k", "one of 1 | k"},
    };
    ASSERT_CASES(1, 3, put_label, cases);
}

/* A number may name a size. */
static void labels_of_ten_sizes(void **state)
{
    static const struct read_case cases[] = {
        {"Rnds 5 (5-6, 5-7, 5-8, 5-9, 5-10, 5-11, 5-12, 5-13, 5-14): k",
         "5/5/5/5/5/5/5/5/5/5-5/6/7/8/9/10/11/12/13/14 | k"},
        {"5 and 6, row 3: k", "3-3 ?words that l@0 | k"},
        {"Row 3 (5 and 6): k", "3-3 ?this number @7 | k"},
    };
    ASSERT_CASES(10, 3, put_label, cases);
}

/* More rows than a list takes are refused, not dropped. */
static void long_lists(void **state)
{
    const struct hk_row_words words = {.catalogue = *state, .size_count = 1, .size_names = size_names};
    struct hk_arena arena = {0};
    struct hk_label label;
    assert_true(hk_label_read("Rows 2, 4-1003: k", &words, &label, &arena));
    assert_int_equal(label.list_count, 1000);
    assert_int_equal(label.list[999], 1003);
    assert_null(label.problem);
    assert_true(hk_label_read("Rows 2, 4-1004: k", &words, &label, &arena));
    assert_non_null(label.problem);
    hk_arena_free(&arena);
}

static void put_work(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    (void)words;
    (void)arena;
    put(out, hk_line_begins_work(text) ? "yes" : "no");
}

static void lines_that_begin_work(void **state)
{
    static const struct read_case cases[] = {
        {"Row 1: sc", "yes"},
        {"row 1: sc", "yes"},
        {"Ch 20", "yes"},
        {"Ch20", "yes"},
        {"Chain 20", "yes"},
        {"chain 20", "no"},
        {"Chain several", "no"},
        {"CO 20", "yes"},
        {"CO20", "yes"},
        {"Cotton", "no"},
        {"Chart A", "no"},
        {"Join MC at underarm", "yes"},
        {"Join", "no"},
        {"Join-as-you-go", "no"},
        {"Join with sl st", "no"},
        {"Join to first sc", "no"},
        {"Join in first sc", "no"},
        {"With MC, k", "yes"},
        {"Rep these 2 rows", "yes"},
        {"Sew side seams", "no"},
        {"Zipper", "no"},
        {"~ Cuff ~", "no"},
    };
    ASSERT_CASES(3, 3, put_work, cases);
}

/* ---- Numbers ----------------------------------------------------------------------------------------------------- */

static void put_whole(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    struct hk_graded_count number;
    bool wrong = false;
    const char *c = text;
    if (!hk_whole_scan(&c, words->size_count, &number, &wrong, arena)) {
        assert_ptr_equal(c, text);
        put(out, "none");
        return;
    }
    put_number(out, number, words->size_count);
    put(out, "%s%s|%s", wrong ? " wrong" : "", hk_numbers_follow(c) ? " more" : "", c);
}

static void whole_numbers(void **state)
{
    static const struct read_case cases[] = {
        {"12 sts", "12| sts"},
        {"twice", "2|"},
        {"six sts", "6| sts"},
        {"sixty", "60|"},
        {"thirty-six times", "36| times"},
        {"fourteen rows", "14| rows"},
        {"ninety nine", "99|"},
        {"twentyone", "none"},
        {"12 (14, 16) sts", "12/14/16| sts"},
        {"12 [14, 16]", "12/14/16|"},
        {"12 (14) (16)", "12/14/16|"},
        {"12 (-, 16)", "12/0/16|"},
        {"12 (-; 16)", "12/0/16|"},
        {"12 (14: 16) sts", "12/14/16| sts"},
        {"12 [-:16]", "12/0/16|"},
        {"12 (14: 16: 18)", "12 wrong more| (14: 16: 18)"},
        {"12 (14, -) ", "12/14/0| "},
        {"12 (14, -]", "12| (14, -]"},
        {"- (2, 4) sts", "0/2/4| sts"},
        {"- sts", "none"},
        {"-2", "none"},
        {"-", "none"},
        {"-x", "none"},
        {"12 (14)", "12 more| (14)"},
        {"12 [14]", "12 more| [14]"},
        {"12 (14]", "12| (14]"},
        {"12 ()", "12| ()"},
        {"12 (sts)", "12| (sts)"},
        {"12 (14", "12| (14"},
        {"12 (14, 16, 18)", "12 wrong more| (14, 16, 18)"},
        {"12 (14, 16)(18)", "12/14/16 more|(18)"},
        {"123456789 sts", "none"},
        {"1234567890", "none"},
        {"100000000", "100000000|"},
        {"", "none"},
    };
    static const struct read_case four_sizes[] = {
        {"12 (14, 16)", "12 wrong more| (14, 16)"},
        {"12 (14, 16, 18)", "12/14/16/18|"},
    };
    static const struct read_case one_size[] = {{"12 (14, 16)", "12 more| (14, 16)"}, {"12 sts", "12| sts"}};
    ASSERT_CASES(3, 3, put_whole, cases);
    ASSERT_CASES(4, 3, put_whole, four_sizes);
    ASSERT_CASES(1, 3, put_whole, one_size);
}

/* ---- Sizes ------------------------------------------------------------------------------------------------------- */

static void put_sizes(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    const bool *sizes;
    bool unknown;
    size_t taken = hk_sizes_read(text, words, &sizes, &unknown, arena);
    put(out, taken == 0 ? "none" : sizes || unknown ? "" : "all");
    for (size_t i = 0; sizes && i < words->size_count; i++)
        if (sizes[i])
            put(out, "%s", words->size_names[i]);
    put(out, "%s", unknown ? "unknown" : "");
    if (taken > 0)
        put(out, "|%s", text + taken);
}

static void sizes_that_a_line_is_limited_to(void **state)
{
    static const struct read_case cases[] = {
        {"Medium and large only: k", "ML| k"},
        {"Size L only:", "L|"},
        {"L :", "L|"},
        {"M/L: k", "ML| k"},
        {"M & L: k", "ML| k"},
        {"(For sizes S, M): k", "SM| k"},
        {"Sizes S (M) - k", "SM| k"},
        {"Sizes S-M: k", "SM| k"},
        {"Sizes S to M: k", "SM| k"},
        {"Sizes S - L: k", "SML| k"},
        {"Sizes M - L only: Row 2: k", "ML| Row 2: k"},
        {"Size M - Row 2: k", "M| Row 2: k"},
        {"Size M: Row 2 - k", "M| Row 2 - k"},
        {"1st and 3rd sizes only: k", "SL| k"},
        {"First and second sizes: k", "SM| k"},
        {"Fourth size only: k", "unknown| k"},
        {"Finished size: 40 cm", "none"},
        {"Finished size: 40 cm only", "none"},
        {"Smallest size: k", "S| k"},
        {"Largest size only: k", "L| k"},
        {"All sizes: k", "all| k"},
        {"All: k", "none"},
        {"Sizes: k", "none"},
        {"Sizes M and XL only: k", "unknown| k"},
        {"M and XL only: k", "unknown| k"},
        {"M and XL: only k", "none"},
        {"M and XL: k", "none"},
        {"Sizes L-S: k", "unknown| k"},
        {"Sizes S-XL: k", "unknown| k"},
        {"Sizes to M: k", "unknown| k"},
        {"Sizes - M: k", "unknown| k"},
        {"Extra large only: k", "none"},
        {"Row 3 (M only): k", "none"},
        {"Sizes M, row 3: k", "none"},
        {"Only k: x", "none"},
        {"Sew in ends", "none"},
        {"A remark that is longer than the words of a label ever are stands before this dash, which is no mark behind "
         "the "
         "names of any of them - k",
         "none"},
        {"M and L", "none"},
        {"M only, or all that are as large as it: k", "unknown| k"},
        {"Adlut sizes: k", "unknown| k"},
    };
    static const struct read_case named_by_figures[] = {
        {"5 and 6: k", "none"}, {"Sizes 5 and 6: k", "56| k"}, {"5 and 6 only: k", "56| k"}, {"5 and x: k", "none"},
        {"S: k", "none"},
    };
    static const struct read_case adults[] = {
        {"Adult sizes only: k", "Adult SAdult M| k"},
        {"adult sizes: k", "Adult SAdult M| k"},
        {"A sizes: k", "unknown| k"},
        {"Adu sizes: k", "unknown| k"},
        {"Adults only: k", "none"},
        {"Child and adult s only: k", "ChildAdult S| k"},
    };
    static const struct read_case ten_sizes[] = {{"Ninth size: k", "9| k"}, {"Tenth size only: k", "unknown| k"}};
    ASSERT_CASES(3, 3, put_sizes, cases);
    ASSERT_CASES(10, 3, put_sizes, ten_sizes);
    size_names = figure_names;
    ASSERT_CASES(2, 3, put_sizes, named_by_figures);
    size_names = adult_names;
    ASSERT_CASES(3, 3, put_sizes, adults);
    size_names = letter_names;
}

/* ---- Beginnings -------------------------------------------------------------------------------------------------- */

static void put_begin(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    static const char *const kinds[] = {"chain", "cast on", "ring", "pick up", "edge", "held", "left", "only", "join", "nothing"};
    struct hk_begin begin;
    if (!hk_begin_read(text, words->size_count, &begin, arena)) {
        put(out, "none");
        return;
    }
    put(out, "%s ", kinds[begin.kind]);
    put_number(out, begin.count, words->size_count);
    put(out, "%s", begin.joined ? " joined" : "");
    if (begin.stitch)
        put(out, " of %s", begin.stitch);
    if (begin.setting)
        put(out, " with@%zu", begin.setting - 1);
    if (begin.wrong)
        put(out, " wrong@%zu", begin.wrong - 1);
    if (begin.list)
        put(out, " as %s", begin.list);
    put(out, "|%s", text + begin.length);
}

static void beginnings_of_all_kinds(void **state)
{
    static const struct read_case cases[] = {
        {"Ch 20. Sc", "chain 20| Sc"},
        {"Ch20, sc", "chain 20| sc"},
        {"Chain 20", "chain 20|"},
        {"A chain of 20", "chain 20|"},
        {"Chain of 20 sts", "chain 20|"},
        {"Ch 20sts", "chain 20|"},
        {"Ch 20st.", "chain 20|"},
        {"Ch 20 sts; turn", "chain 20|"},
        {"Ch 20mm", "none"},
        {"Ch several", "none"},
        {"Chart A", "none"},
        {"Ch 72 (78, 84), join.", "chain 72/78/84 joined|"},
        {"Ch 72 (78)", "chain 72 wrong@3|"},
        {"Ch 72 (78, 84, 90)", "chain 72 wrong@3|"},
        {"Ch 72 (78: 84), join.", "chain 72/78/84 joined|"},
        {"Ch 72 (78: 84: 90)", "chain 72 wrong@3|"},
        {"Ch 72/78/84.", "chain 72 wrong@3 as 72 (78, 84)|"},
        {"Cast on 72 / 78 / 84 sts.", "cast on 72 wrong@8 as 72 (78, 84)|"},
        {"Cast on 72-78-84 sts.", "cast on 72 wrong@8 as 72 (78, 84)|"},
        {"Cast on 72-78 sts.", "cast on 72 wrong@8 as 72 (78)|"},
        {"CO 72, 78, 84.", "cast on 72 wrong@3 as 72 (78, 84)|"},
        {"CO 72, 78 sts.", "cast on 72 wrong@3 as 72 (78)|"},
        {"CO 72: 78: 84 sts, join.", "cast on 72 joined wrong@3 as 72 (78, 84)|"},
        {"CO 72 sts (78, 84).", "cast on 72 wrong@3|"},
        {"CO 72 sts (78 sts, 84 sts).", "cast on 72 wrong@3|"},
        {"CO 72 (78, 84) sts (26, 28).", "cast on 72/78/84|"},
        {"CO 72 sts (72).", "cast on 72|"},
        {"CO 72 sts (72 sts", "cast on 72| (72 sts"},
        {"CO 72 sts (72 sts, some)", "cast on 72|"},
        {"CO 72 - 72 sts.", "cast on 72| - 72 sts."},
        {"CO 72/x sts.", "cast on 72|/x sts."},
        {"Ch 4, 12 dc in ring.", "chain 4| 12 dc in ring."},
        {"Ch 4, 2, 12 dc in ring.", "chain 4| 2, 12 dc in ring."},
        {"Ch 4, 12.", "chain 4| 12."},
        {"Ch 72 (multiple of 6), join", "chain 72 joined|"},
        {"Ch 72 (multiple of 6", "chain 72| (multiple of 6"},
        {"Foundation chain: Ch 20", "chain 20|"},
        {"Loosely ch 20", "chain 20|"},
        {"Ch 4, sl st to first ch to form a ring, 6 sc", "chain 4 joined| 6 sc"},
        {"Ch 4, join with sl st (in first ch, being careful) to form ring. 6 sc", "chain 4 joined| 6 sc"},
        {"Ch 4, join :", "chain 4 joined|"},
        {"Ch 4, join) and 6 sc", "chain 4 joined| 6 sc"},
        {"Ch 4; join and work 6 dc in ring", "chain 4 joined| work 6 dc in ring"},
        {"Ch 20 and turn, sc", "chain 20| sc"},
        {"Ch 20, turn and sc in 2nd ch", "chain 20| sc in 2nd ch"},
        {"Ch 20, sc", "chain 20| sc"},
        {"Cast on 84 sts", "cast on 84|"},
        {"CO 84 sts", "cast on 84|"},
        {"CO84", "cast on 84|"},
        {"Cast on a few", "none"},
        {"Cast on 4 sts at beg of next 2 rows", "none"},
        {"Cast on 4 sts each end", "none"},
        {"Ch 4 sts at the underarm", "chain 4| at the underarm"},
        {"Ch 4, sl st to form a ring", "chain 4 joined|"},
        {"Cotton", "none"},
        {"Cast on 84 sts, do not twist, join", "cast on 84 joined|"},
        {"Cast on 84 sts, place marker and join, k", "cast on 84 joined| k"},
        {"Cast on 84 sts using MC, k", "cast on 84 with@15| k"},
        {"Cast on 84 sts with MC (2 balls), join", "cast on 84 joined with@15|"},
        {"Cast on 84 sts. With MC, k", "cast on 84| With MC, k"},
        {"Cast on 84 sts, with MC, k", "cast on 84 with@16| k"},
        {"Make a magic ring, 6 sc", "ring 0 joined| 6 sc"},
        {"Magic ring", "ring 0 joined|"},
        {"MR: 6 sc", "ring 0 joined| 6 sc"},
        {"Make a pompom", "none"},
        {"Pick up and knit 60 sts evenly along the neck edge, k", "pick up 60| k"},
        {"Pick up and knit 60 sts, join", "pick up 60 joined|"},
        {"Pick up and knit 60 sts evenly; join, k", "pick up 60 joined| k"},
        {"Pick up 60 sts: k", "pick up 60| k"},
        {"Pick up and purl 60", "none"},
        {"Pick up about 60", "none"},
        {"Pick up stitches", "none"},
        {"On an edge of 20 sts: k", "edge 20| k"},
        {"On an edge of 20 dc: k", "edge 20 of dc| k"},
        {"On an edge of 20 dc", "edge 20 of dc|"},
        {"On an edge of 20", "edge 20|"},
        {"On an edge of some", "none"},
        {"Work on the 44 held sts, k", "held 44| k"},
        {"Work on the 44 held sts", "held 44|"},
        {"Work on the held sts", "none"},
        {"Work on the 44 sts of the front", "none"},
        {"Work on 44 sts of the front, with those of the back and sleeves held", "none"},
        {"Join yarn at underarm, sc", "join 0| sc"},
        {"Join yarn", "join 0|"},
        {"Sc in next st", "none"},
    };
    ASSERT_CASES(3, 3, put_begin, cases);
}

static void put_row_kind(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    (void)words;
    (void)arena;
    put(out, "%s%s", hk_row_in_ring(text) ? "ring" : "", hk_row_founds(text) ? "founds" : "");
}

static void rows_that_begin_by_themselves(void **state)
{
    static const struct read_case cases[] = {
        {"6 sc in ring", "ring"},
        {"6 sc in MR", "ring"},
        {"6 sc in magic circle", "ring"},
        {"6 sc in magic loop", "ring"},
        {"adjustable loop", "ring"},
        {"6 sc in each string", ""},
        {"Fsc 20", "founds"},
        {"12fsc", "founds"},
        {"foundation double crochet", "founds"},
        {"halfdc", ""},
        {"xfsc", ""},
    };
    ASSERT_CASES(3, 3, put_row_kind, cases);
}

/* ---- Yarn and tool ----------------------------------------------------------------------------------------------- */

static void put_setting(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    static const double two[] = {4, 5};
    const struct hk_setting_words setting_words = {.words = words,
                                                   .main_named = words->yarn_count > 2,
                                                   .tools_mm = two,
                                                   .tool_count = words->yarn_count > 1 ? 2 : 1};
    struct hk_setting s;
    if (!hk_setting_read(text, &setting_words, &s, arena)) {
        put(out, "none");
        return;
    }
    for (size_t i = 0; i < s.held.count; i++)
        put(out, "%s%s x%" PRId64, i ? "+" : "", words->yarns[s.held.roles[i]], s.held.times[i]);
    if (s.tool_mm > 0)
        put(out, " %gmm", s.tool_mm);
    if (s.unknown_yarn)
        put(out, " %.*s?", (int)strcspn(s.unknown_yarn, " ,.;:"), s.unknown_yarn);
    put(out, "%s%s%s", s.apart ? " apart" : "", s.unknown_tool ? " unknown" : "", s.unnamed ? " unnamed" : "");
    if (s.facing != HK_SIDE_OPEN)
        put(out, s.facing == HK_SIDE_RIGHT ? " RS" : " WS");
    put(out, "%s|%s", s.joins ? " joins" : "", text + s.length);
}

/* Tool labels: tables/tools.csv. */
static void yarns_and_tools(void **state)
{
    static const struct read_case cases[] = {
        {"With MC, k", "main x1| k"},
        {"With MC k", "main x1|k"},
        {"With main, k", "main x1| k"},
        {"With main body, k", "main body x1| k"},
        {"Change to CC.", "trim x1|"},
        {"With CC2, k", "lace x1| k"},
        {"With CC0, k", " CC0?| k"},
        {"With CC9, k", " CC9?| k"},
        {"With CCX, k", "none"},
        {"With A, k", "trim x1| k"}, /* MC is in the text: A is the next yarn */
        {"With C, k", "main body x1| k"},
        {"With Z, k", " Z?| k"},
        {"With A's, k", "none"},
        {"With 4 mm hook and Z, k", " 4mm Z?| k"},
        {"With Z and 4 mm hook, k", " 4mm Z?| k"},
        {"With MC and Z held together, k", "main x1 Z?| k"},
        {"Join Z.", " Z? joins|"},
        {"Join in Z", " Z? joins|"},
        {"With Z hook, k", "none"},
        {"In K, p", "none"},
        {"With Buoy, k", "none"},
        {"With AB, k", "none"},
        {"With 9, k", "none"},
        {"With MC and CC, k", "main x1+trim x1 apart| k"},
        {"With CC and MC held together, k", "main x1+trim x1| k"},
        {"With CC, MC held together", "trim x1| MC held together"},
        {"With MC and MC held together, k", "main x2| k"},
        {"With MC held double, k", "main x2| k"},
        {"With 2 strands of MC, k", "main x2| k"},
        {"With one strand MC and two strands CC held together, k", "main x1+trim x2| k"},
        {"With 100 strands of MC, k", "none"},
        {"With 0 strands of MC, k", "none"},
        {"With 2 of MC, k", "none"},
        {"With 5 mm hook, k", " 5mm| k"},
        {"With 5mm hook", " 5mm|"},
        {"With 5-mm hook: k", " 5mm| k"},
        {"With 3,5 mm hook; k", " 3.5mm| k"},
        {"With 3.125 mm hook, k", " 3.125mm| k"},
        {"With 3.1255 mm hook, k", "none"},
        {"With 3. mm hook, k", "none"},
        {"With 100 mm hook, k", "none"},
        {"With 0.1 mm hook, k", "none"},
        {"With 75 mm hook, k", "none"},
        {"With 5 cm hook, k", "none"},
        {"With size 5 mm (H-8) hook, k", " 5mm| k"},
        {"With 5 mm (H-8 hook, k", " 5mm|(H-8 hook, k"},
        {"With H-8 hook, k", " 5mm| k"},
        {"With size US 7 hook, k", " 4.5mm| k"},
        {"With K-10.5 hook, k", " 6.5mm| k"},
        {"With G-6.x hook, k", "none"},
        {"With H-8 (5 mm) hook, k", " 5mm| k"},
        {"With H-8 (5 mm, steel) hook, k", "none"},
        {"With H-8 (steel) hook, k", "none"},
        {"With W-99 hook, k", "none"},
        {"With Q hook, k", "none"}, /* two diameters have this number */
        {"With ABCDEFGHIJKLMN hook, k", "none"},
        {"With smaller hook, k", " 4mm| k"},
        {"Change to larger needles, k", " 5mm| k"},
        {"With RS facing, k", " RS| k"},
        {"With wrong side facing, k", " WS| k"},
        {"With MC, RS facing, k", "main x1 RS| k"},
        {"With MC, 4 mm hook, k", "main x1 4mm| k"},
        {"With yarn held double and 4 mm hook, k", " 4mm unnamed| k"},
        {"With 4 mm hook and 2 strands of yarn, k", " 4mm unnamed| k"},
        {"With MC held together, k", "main x1 unnamed| k"},
        {"With both held together, k", " unnamed| k"},
        {"With main, trim, k", "main x1| trim, k"},
        {"With main, trim, lace, k", "main x1| trim, lace, k"},
        {"Join MC at underarm, sc", "main x1 joins| sc"},
        {"Join CC with sl st in any st", "trim x1 joins|"},
        {"Join MC", "main x1 joins|"},
        {"Join MC.", "main x1 joins|"},
        {"Join with sl st", "none"},
        {"Join 4 mm", "none"},
        {"With care, k", "none"},
        {"Knit", "none"},
    };
    static const struct read_case one_yarn[] = {
        {"With A, k", "main x1| k"},
        {"With B, k", " B?| k"},
        {"With CC, k", " CC?| k"},
        {"With smaller hook, k", " unknown| k"},
        {"With bigger hook and MC, k", "main x1 unknown| k"},
    };
    static const struct read_case no_yarn[] = {{"With MC, k", " MC?| k"}, {"With A, k", " A?| k"}};
    static const struct read_case many[] = {
        {"With border edge, k", "border edge x1| k"},
        {"With border, k", "border x1| k"},
        {"With main + trim + lace + border + A1 + A2 + A3 + A4 held together, k",
         "main x1+trim x1+lace x1+border x1+A1 x1+A2 x1+A3 x1+A4 x1| k"},
        {"With main + trim + lace + border + A1 + A2 + A3 + A4 + A5 held together, k",
         "main x1+trim x1+lace x1+border x1+A1 x1+A2 x1+A3 x1+A4 x1 apart| held together, k"},
    };
    ASSERT_CASES(3, 4, put_setting, cases);
    ASSERT_CASES(3, 1, put_setting, one_yarn);
    ASSERT_CASES(3, 0, put_setting, no_yarn);
    ASSERT_CASES(3, 11, put_setting, many);
}

static void put_within(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    const struct hk_setting_words setting_words = {.words = words, .main_named = true};
    const char *at = hk_setting_within(text, &setting_words, arena);
    put(out, "%s", at ? at : "none");
}

static void labels_that_name_a_yarn(void **state)
{
    static const struct read_case cases[] = {
        {"Row 3", "none"},
        {"Row 3 (CC)", "CC)"},
        {"Row 3 (A, RS)", "A, RS)"},
        {"Row 3 (A row)", "none"},
        {"Row 3 (RS)", "none"},
        {"Row 3 (RS, with CC)", "with CC)"},
        {"Row 3 in CC", "in CC"},
        {"Row 3 (in the round)", "none"},
        {"Row 3 (with RS facing)", "none"},
        {"Main row 3", "none"},
        {"With CC, row 3", "With CC, row 3"},
        {"With 4 mm hook, row 3", "With 4 mm hook, row 3"},
        {"With RS facing, row 3", "none"},
    };
    ASSERT_CASES(3, 3, put_within, cases);
}

static void put_tools(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    double *tools_mm;
    size_t count;
    if (!hk_tools_find(text, words->catalogue, &tools_mm, &count, arena)) {
        put(out, "lost");
        return;
    }
    for (size_t i = 0; i < count; i++)
        put(out, " %g", tools_mm[i]);
}

static void tools_of_a_text(void **state)
{
    static const struct read_case cases[] = {
        {"5 mm hook and 4 mm hook, then 5 mm hook again", " 4 5"},
        {"hook: 5 mm", " 5"},
        {"Needles, 4 mm and 3.5 mm", " 3.5 4"},
        {"hook\n5 mm buttons", ""},
        {"5 mm buttons\nhook", ""},
        {"5 mm buttons", ""},
        {"6 mm beads, which are sewn on by hand later, after the work is done. 5 mm hook", " 5"},
        {"A hook, and then many more words before there are some 6 mm beads", ""},
        {"H-8 hook", " 5"},
        {"a15 mm hook", ""},
        {"1.5 mm hook", " 1.5"},
        {"~5 mm hook", " 5"},
        {"{a} hook", ""},
        {"", ""},
    };
    ASSERT_CASES(3, 3, put_tools, cases);
    struct hk_arena arena = {0};
    char text[2000] = "";
    for (int i = 1; i <= 33; i++) /* no more than 32 */
        snprintf(text + strlen(text), sizeof text - strlen(text), "%d mm hook\n", i);
    double *tools_mm;
    size_t count;
    assert_true(hk_tools_find(text, *state, &tools_mm, &count, &arena));
    assert_int_equal(count, 32);
    assert_close(tools_mm[31], 32, 0, 0);
    hk_arena_free(&arena);
}

/* ---- Lines ------------------------------------------------------------------------------------------------------- */

/* "1:1 text / 3:1 #1 heading": the position of the first letter, the level of a heading. */
static void put_lines(struct out *out, const char *text, const struct hk_row_words *words, struct hk_arena *arena)
{
    struct hk_pattern_lines lines;
    bool unsized = words->size_count == 1;
    if (!hk_pattern_lines_read(text, "pattern.txt", unsized ? NULL : words, &lines, arena))
        return;
    for (size_t i = 0; i < lines.count; i++) {
        const struct hk_pattern_line *line = &lines.lines[i];
        struct hk_place place = hk_row_text_place(&line->text, 0);
        assert_int_equal(place.line, line->number);
        put(out, "%s%zu:%zu ", i ? " / " : "", place.line, place.column);
        if (line->heading)
            put(out, "#%d ", line->level);
        put(out, "%s", line->text.text);
    }
}

static void marks_of_lines(void **state)
{
    static const struct read_case cases[] = {
        {"", ""},
        {"Row 1: sc", "1:1 Row 1: sc"},
        {"Row 1: sc\rRow 2: sc", "1:1 Row 1: sc / 2:1 Row 2: sc"},
        {"Row 1: sc\r\nRow 2: sc\n", "1:1 Row 1: sc / 2:1 Row 2: sc"},
        {"Row 1: sc\r", "1:1 Row 1: sc"},
        /* headings */
        {"# Body", "1:3 #1 Body"},
        {"## Sleeves ##", "1:4 #2 Sleeves"},
        {"###### F", "1:8 #6 F"},
        {"####### G", "1:1 ####### G"},
        {"#5 hook", "1:1 #5 hook"},
        {"#", ""},
        {"# #", ""},
        {"Body\n====\nRow 1: sc", "1:1 #1 Body / 3:1 Row 1: sc"},
        {"Body\n----\nRow 1: sc", "1:1 #2 Body / 3:1 Row 1: sc"},
        {"# Body\n----\nRow 1: sc", "1:3 #1 Body / 3:1 Row 1: sc"},
        {"# Body\nNeck band\n----\nRow 1: sc", "1:3 #1 Body / 2:1 #2 Neck band / 4:1 Row 1: sc"},
        {"----\nRow 1: sc", "2:1 Row 1: sc"},
        {"\n----\nRow 1: sc", "3:1 Row 1: sc"},
        {"Row 1: sc\n----\nRow 2: sc", "1:1 Row 1: sc / 3:1 Row 2: sc"},
        {"Row 1: sc,\nturn.\n----\nRow 2: sc", "1:1 Row 1: sc, turn. / 4:1 Row 2: sc"},
        {"Row 1: sc\n***\nRow 2: sc\n___\nRow 3: sc", "1:1 Row 1: sc / 3:1 Row 2: sc / 5:1 Row 3: sc"},
        {"Row 1: sc\n--\n", "1:1 Row 1: sc --"},
        {"Row 1: sc\n--x\n", "1:1 Row 1: sc --x"},
        {"Row 1: sc\n---x\n", "1:1 Row 1: sc ---x"},
        /* lists */
        {"- Row 1: sc", "1:3 Row 1: sc"},
        {"+ Row 1: sc", "1:3 Row 1: sc"},
        {"* Row 1: *sc, ch 1; rep from * around", "1:3 Row 1: *sc, ch 1; rep from * around"},
        {"* Weave in ends", "1:3 Weave in ends"},
        {"* sc, ch 1; rep from * around", "1:1 * sc, ch 1; rep from * around"},
        {"*sc", "1:1 *sc"},
        {"\xE2\x80\xA2 Row 1: sc", "1:3 Row 1: sc"},
        {"1. Row 1: sc", "1:4 Row 1: sc"},
        {"12) Row 1: sc", "1:5 Row 1: sc"},
        {"1234. Row 1: sc", "1:1 1234. Row 1: sc"},
        {"1. Weave in ends", "1:1 1. Weave in ends"},
        {"1.Row 1: sc", "1:1 1.Row 1: sc"},
        {"1 Row 1: sc", "1:1 1 Row 1: sc"},
        {"> Row 1: sc", "1:3 Row 1: sc"},
        /* bold and slanted type */
        {"**Rnd 1:** sc", "1:3 Rnd 1: sc"},
        {"__Rnd 1:__ sc __(24 sts)__", "1:3 Rnd 1: sc (24 sts)"},
        {"**Body**", "1:3 #0 Body"},
        {"Row 1: **sc, ch 1** twice", "1:1 Row 1: sc, ch 1 twice"},
        {"Row 1: **sc, ch 1 **; rep", "1:1 Row 1: **sc, ch 1 **; rep"},
        {"Row 1: ** sc", "1:1 Row 1: ** sc"},
        {"Row 1: sc**", "1:1 Row 1: sc**"},
        {"Row 1: a**b** c", "1:1 Row 1: a**b** c"},
        {"Row 1: **sc**x, ch **", "1:1 Row 1: **sc**x, ch **"},
        {"Row 1: (**sc**) [**ch**]", "1:1 Row 1: (sc) [ch]"},
        {"*Rnd 1:* sc", "1:2 Rnd 1: sc"},
        {"_Rnd 1_: sc", "1:2 Rnd 1: sc"},
        {"*Rnd 1: sc* twice", "1:1 *Rnd 1: sc* twice"},
        {"*Rnd 1: sc", "1:1 *Rnd 1: sc"},
        {"*sc* twice", "1:1 *sc* twice"},
        /* escapes */
        {"Row 1: \\*sc, ch 1\\*", "1:1 Row 1: *sc, ch 1*"},
        {"Row 1: sc\\", "1:1 Row 1: sc\\"},
        {"Row 1: sc\\x", "1:1 Row 1: sc\\x"},
    };
    ASSERT_CASES(3, 3, put_lines, cases);
}

static void headings_by_their_looks(void **state)
{
    static const struct read_case cases[] = {
        {"YOKE", "1:1 #0 YOKE"},
        {"Row 1: sc\nYOKE", "1:1 Row 1: sc / 2:1 #0 YOKE"},
        {"Shape neck:", "1:1 #0 Shape neck:"},
        {"Row 1: sc\nShape neck:", "1:1 Row 1: sc / 2:1 #0 Shape neck:"},
        {"Row 1: sc\nShape neck", "1:1 Row 1: sc / 2:1 Shape neck"},
        {"Row 1: Sc in each st around to the marker, turn\nYOKE",
         "1:1 Row 1: Sc in each st around to the marker, turn / 2:1 #0 YOKE"},
        {"Row 1: sc\n\nShape neck", "1:1 Row 1: sc / 3:1 #0 Shape neck"},
        {"Square 1", "1:1 #0 Square 1"},
        {"Square 1:", "1:1 #0 Square 1:"},
        {"Sleeves (make 2)", "1:1 #0 Sleeves (make 2)"},
        {"Sleeves [make 2]", "1:1 Sleeves [make 2]"},
        {"Gauge 16 sts to", "1:1 Gauge 16 sts to"},
        {"shape neck", "1:1 shape neck"},
        {"~Shape neck", "1:1 ~Shape neck"},
        {"The neck and all of the bands", "1:1 The neck and all of the bands"},
        {"Neckbandneckbandneckband neckbandneckbandneckbandneckbandneckbandneckband",
         "1:1 Neckbandneckbandneckband neckbandneckbandneckbandneckbandneckbandneckband"},
        {"Neck.", "1:1 Neck."},
        {"Neck = band", "1:1 Neck = band"},
        {"Neck * band", "1:1 Neck * band"},
        {"Neck: band", "1:1 Neck: band"},
        {"- Neck band", "1:3 Neck band"},
        {"AB", "1:1 AB"},
        {"Ch 20", "1:1 Ch 20"},
        {"Medium and large only:", "1:1 Medium and large only:"},
        {"Sizes M and XL only:", "1:1 Sizes M and XL only:"},
    };
    static const struct read_case unsized[] = {
        {"Medium and large only:", "1:1 #0 Medium and large only:"},
        {"Row 1: K2\nto end", "1:1 Row 1: K2 to end"},
    };
    ASSERT_CASES(3, 3, put_lines, cases);
    ASSERT_CASES(1, 3, put_lines, unsized);
}

static void wrapped_lines_are_one(void **state)
{
    static const struct read_case cases[] = {
        {"Row 1: Sc in next\n3 sts.", "1:1 Row 1: Sc in next 3 sts."},
        {"Row 1: Sc\nacross.", "1:1 Row 1: Sc across."},
        {"Row 1: Sc in ch-\n2 sp.", "1:1 Row 1: Sc in ch-2 sp."},
        {"Row 1: Sc in ch-\nsp.", "1:1 Row 1: Sc in ch- sp."},
        {"Row 1: Sc -\n2 dc.", "1:1 Row 1: Sc - 2 dc."},
        {"-\n2 dc", "1:1 - 2 dc"},
        {"Row 1: K2, p2,\nPurl to end.", "1:1 Row 1: K2, p2, Purl to end."},
        {"Row 1: K2 and\nPurl to end.", "1:1 Row 1: K2 and Purl to end."},
        {"Row 1: K2;\nK to end.", "1:1 Row 1: K2; K to end."},
        {"Row 1: Repeat to last\nst\nPurl to end.", "1:1 Row 1: Repeat to last st / 3:1 Purl to end."},
        {"Row 1: K2\nPurl to end.", "1:1 Row 1: K2 / 2:1 Purl to end."},
        {"Row 1: K2\n~", "1:1 Row 1: K2 / 2:1 ~"},
        {"K2,\nPurl", "1:1 K2, / 2:1 Purl"},
        {"Row 1: K2,\nRow 2: P2", "1:1 Row 1: K2, / 2:1 Row 2: P2"},
        {"Row 1: Follow the chart.\n[take as 84 hdc]", "1:1 Row 1: Follow the chart. [take as 84 hdc]"},
        {"Row 1: K2\n- Row 2: k", "1:1 Row 1: K2 / 2:3 Row 2: k"},
        {"Row 1: K2\n## Sleeve", "1:1 Row 1: K2 / 2:4 #2 Sleeve"},
        {"Row 1: K2\n(24 sts)", "1:1 Row 1: K2 (24 sts)"},
        {"Row 1: K2\n\n(24 sts)", "1:1 Row 1: K2 / 3:1 (24 sts)"},
        {"Row 1: K2\nsmall only: k", "1:1 Row 1: K2 / 2:1 small only: k"},
        {"Row 1: K2\nsizes M and XL only: k", "1:1 Row 1: K2 / 2:1 sizes M and XL only: k"},
        {"Medium and large only:\nk to end", "1:1 Medium and large only: / 2:1 k to end"},
        {"Medium and large only: k\nto end", "1:1 Medium and large only: k to end"},
        /* lists of required items */
        {"Holm Aran, 200 g\n5 mm hook", "1:1 Holm Aran, 200 g / 2:1 5 mm hook"},
        {"Holm Aran, 200 g\n5 mm hooks", "1:1 Holm Aran, 200 g / 2:1 5 mm hooks"},
        {"Holm Aran, 200 g\n5 mm needles", "1:1 Holm Aran, 200 g / 2:1 5 mm needles"},
        {"Row 1: sc in\n5 sts from hook", "1:1 Row 1: sc in 5 sts from hook"},
        /* meanings of words */
        {"shell = 5 dc\npicot: ch 3", "1:1 shell = 5 dc / 2:1 picot: ch 3"},
        {"shell = 5 dc\nin same st", "1:1 shell = 5 dc / 2:1 in same st"},
        {"With MC = A, k\nto end", "1:1 With MC = A, k to end"},
        {"Row 1: k\nshell = 5 dc", "1:1 Row 1: k / 2:1 shell = 5 dc"},
        {"Row 1: k\n= 5 dc", "1:1 Row 1: k / 2:1 = 5 dc"},
        {"Row 1: k\nto the marker that is nearest to the end: sl st",
         "1:1 Row 1: k to the marker that is nearest to the end: sl st"},
        /* a capital continues the sentence if its word had no room above: here lines have up to 40 characters */
        {"Row 1: sc in each stitch to the marker A\nMiddle stitch, sc again",
         "1:1 Row 1: sc in each stitch to the marker A Middle stitch, sc again"},
        {"Row 1: sc in each stitch to the marker A\n\nRow 2: sc around\nMiddle stitch, sc",
         "1:1 Row 1: sc in each stitch to the marker A / 3:1 Row 2: sc around / 4:1 Middle stitch, sc"},
        {"Row 1: sc in each stitch to the marker A\n\nRow 2: sc in each stitch to marker.\nMiddle sc",
         "1:1 Row 1: sc in each stitch to the marker A / 3:1 Row 2: sc in each stitch to marker. Middle sc"},
        {"Row 1: sc in each stitch to the marker A\n\nRow 2: sc around.\nMiddle-of-the-stitches, sc",
         "1:1 Row 1: sc in each stitch to the marker A / 3:1 Row 2: sc around. / 4:1 Middle-of-the-stitches, sc"},
        {"Row 1: sc in each stitch to the marker A\n\nRow 2: sc around\nMiddle-of-the-stitches,, sc",
         "1:1 Row 1: sc in each stitch to the marker A / 3:1 Row 2: sc around Middle-of-the-stitches,, sc"},
    };
    ASSERT_CASES(3, 3, put_lines, cases);
}

/* A file with a line of more than 130 characters is not wrapped. */
static void unwrapped_lines_stay_apart(void **state)
{
    char text[400];
    snprintf(text, sizeof text, "Row 1: sc in the markedd\nMiddle stitch, sc again\n%0140d\n", 1);
    char expected[400];
    snprintf(expected, sizeof expected, "1:1 Row 1: sc in the markedd / 2:1 Middle stitch, sc again %0140d", 1);
    const struct read_case cases[] = {{text, expected}};
    ASSERT_CASES(3, 3, put_lines, cases);
}

static struct hk_place place_in_words(const struct hk_row_text *text, size_t offset)
{
    return (struct hk_place){text->host, 1, offset + 1};
}

static void parts_know_their_place(void **state)
{
    (void)state;
    struct hk_arena arena = {0}, lost = {.out_of_memory = true};
    struct hk_pattern_lines lines;
    struct hk_row_text part;
    assert_true(hk_pattern_lines_read("Row 1: sc\n\n**Row 2:** k2,  p2 .", "pattern.txt", NULL, &lines, &arena));
    assert_int_equal(lines.count, 2);
    assert_true(hk_row_text_part(&lines.lines[1].text, 6, 8, &part, &arena)); /* " k2, p2 " */
    assert_string_equal(part.text, "k2, p2");
    assert_int_equal(hk_row_text_place(&part, 4).line, 3);
    assert_int_equal(hk_row_text_place(&part, 4).column, 17);
    assert_true(hk_row_text_part(&lines.lines[1].text, 7, 1, &part, &arena));
    assert_true(hk_row_text_part(&lines.lines[1].text, 7, 0, &part, &arena));
    assert_string_equal(part.text, "");
    assert_true(hk_row_text_part(&lines.lines[1].text, 6, 1, &part, &arena));
    assert_string_equal(part.text, "");
    assert_false(hk_row_text_part(&lines.lines[1].text, 6, 8, &part, &lost));
    const struct hk_row_text words = {.text = "sc 3", .place = place_in_words, .host = "words"};
    assert_int_equal(hk_row_text_place(&words, 3).column, 4);
    hk_arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(labels_with_a_colon),
        cmocka_unit_test(labels_without_a_colon),
        cmocka_unit_test(labels_of_one_size),
        cmocka_unit_test(labels_of_ten_sizes),
        cmocka_unit_test(long_lists),
        cmocka_unit_test(lines_that_begin_work),
        cmocka_unit_test(whole_numbers),
        cmocka_unit_test(sizes_that_a_line_is_limited_to),
        cmocka_unit_test(beginnings_of_all_kinds),
        cmocka_unit_test(rows_that_begin_by_themselves),
        cmocka_unit_test(yarns_and_tools),
        cmocka_unit_test(labels_that_name_a_yarn),
        cmocka_unit_test(tools_of_a_text),
        cmocka_unit_test(marks_of_lines),
        cmocka_unit_test(headings_by_their_looks),
        cmocka_unit_test(wrapped_lines_are_one),
        cmocka_unit_test(unwrapped_lines_stay_apart),
        cmocka_unit_test(parts_know_their_place),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
