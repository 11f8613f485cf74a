/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows by reference (hankful(1), PATTERNS AS THEY ARE WRITTEN): the result for each form, by hand, or its refusal.
 * test_pattern_file.c works the rows. Inch: 25.4 mm (NIST SP 811, B.8).
 */
#include "out.h"

#include "pattern/reference.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

static void put_numbers(struct out *out, const struct hk_reference *r)
{
    bool many = r->number_count > 6;
    for (size_t i = 0; i < (many ? 2 : r->number_count); i++)
        put(out, " %" PRId64, r->numbers[i]);
    if (many)
        put(out, " ... %" PRId64, r->numbers[r->number_count - 1]);
}

static void put_shape(struct out *out, const struct hk_reference *r, size_t sizes)
{
    if (r->row)
        put(out, " '%s'%s", r->row, r->first_next ? " next" : "");
    else
        put(out, " %+d at %d%s", r->by, r->ends, r->first_next ? " next" : "");
    for (size_t i = 0; i < r->stage_count; i++) {
        const struct hk_shape_stage *stage = &r->stages[i];
        put(out, ", every ");
        put_number(out, stage->every, sizes);
        if (hk_graded_in(stage->then, 0) > 0) {
            put(out, " and ");
            put_number(out, stage->then, sizes);
        }
        put(out, "%s", stage->open ? "" : stage->to ? " to " : " x");
        if (!stage->open)
            put_number(out, stage->times, sizes);
    }
    put(out, "%s", r->in_all ? " in all" : "");
}

static void put_amount(struct out *out, const struct hk_reference *r, size_t sizes)
{
    if (r->times_given)
        put(out, " times ");
    if (r->times_given)
        put_number(out, r->times, sizes);
    if (r->rows_given)
        put(out, " for ");
    if (r->rows_given)
        put_number(out, r->rows, sizes);
    for (size_t i = 0; r->length_m && i < sizes; i++)
        put(out, "%s%.4g", i ? "/" : r->onward ? " onward " : " until ", 1000 * r->length_m[i]);
    put(out, "%s%s", r->length_m ? " mm" : "", r->of_part ? " of the part" : "");
    if (r->first)
        put(out, " begun by %s", r->first);
    if (r->first_side != HK_SIDE_OPEN)
        put(out, " begun on %s", r->first_side == HK_SIDE_RIGHT ? "RS" : "WS");
    if (r->end_side != HK_SIDE_OPEN)
        put(out, " to %s", r->end_side == HK_SIDE_RIGHT ? "RS" : "WS");
}

static void put_one(struct out *out, const struct hk_reference *r, size_t sizes)
{
    static const char *const kinds[] = {"rows", "last", "even", "words", "pattern", "shape", "evenly", "edge", "as"};
    put(out, "%s", kinds[r->kind]);
    put_numbers(out, r);
    if (r->kind == HK_REFERENCE_LAST)
        put(out, " ");
    if (r->kind == HK_REFERENCE_LAST)
        put_number(out, r->last, sizes);
    if (r->words)
        put(out, " '%s'%s", r->words, r->at_end ? " at end" : "");
    if (r->kind == HK_REFERENCE_SHAPE)
        put_shape(out, r, sizes);
    if (r->kind == HK_REFERENCE_EVENLY) {
        put(out, " %+d x ", r->by);
        put_number(out, r->spread, sizes);
        if (r->chains > 0)
            put(out, " ch %" PRId64, r->chains);
    }
    put_amount(out, r, sizes);
    if (r->besides)
        put(out, " with ");
    if (r->besides)
        put_one(out, r->besides, sizes);
    if (r->then)
        put(out, " then ");
    if (r->then)
        put_one(out, r->then, sizes);
}

/* The result; "!" and the mistake; "|" and the remaining words. */
static void reference_text(const char *text, size_t sizes, struct out *out)
{
    struct hk_reference r;
    struct hk_arena arena = {0};
    *out = (struct out){.text = ""};
    if (!hk_reference_read(text, sizes, &r, &arena)) {
        put(out, "none");
        hk_arena_free(&arena);
        return;
    }
    put_one(out, &r, sizes);
    if (r.wrong)
        put(out, " ! wrong at %zu", r.wrong - 1);
    if (r.from_unread)
        put(out, " ! %zu from where this is measured is not followed", r.from_unread - 1);
    if (r.problem)
        put(out, " ! %zu %s", r.problem_at, r.problem);
    if (text[r.length])
        put(out, " | %s", text + r.length + (text[r.length] == ' '));
    hk_arena_free(&arena);
}

struct example {
    const char *text, *read;
};

static void assert_examples(size_t sizes, const struct example *examples)
{
    bool good = true;
    for (; examples->text; examples++) {
        struct out out;
        reference_text(examples->text, sizes, &out);
        if (strcmp(out.text, examples->read) != 0) {
            print_error("%s\n  is       %s\n  and not  %s\n", examples->text, out.text, examples->read);
            good = false;
        }
    }
    assert_true(good);
}

static void rows_by_their_numbers(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Rep row 2.", "rows 2"},
        {"Rep. row 2.", "rows 2"},
        {"Repeat the rows 1 and 2", "rows 1 2"},
        {"rpt rnds 1-4", "rows 1 2 3 4"},
        {"Rep rows 4-1", "rows 4 3 2 1"},
        {"Rep rows 1 through 3", "rows 1 2 3"},
        {"Rep rows 1 to 3 & 5 + 7", "rows 1 2 3 5 7"},
        {"Rep rows 1, 2, and 4", "rows 1 2 4"},
        {"Rep row 1 and row 2", "rows 1 2"},
        {"Rep R1-R3", "rows 1 2 3"},
        {"Rep r1 and r2", "rows 1 2"},
        {"Rep rows 1 - end", "rows 1 | - end"},
        {"Rep rows 1-900 and 1001-1100", "rows 1 2 ... 1100"},
        {"Rep rows 1-1001", "rows ! 0 more than 1000 rows are named at once"},
        {"Rep rows 1-600 and 2001-2500", "rows 1 2 ... 600 ! 0 more than 1000 rows are named at once"},
        {"Rep row 1234567", "none"},
        {"Rep row until the end", "none"},
        {"Rep from * around", "none"},
        {"Rep Ruth", "none"},
        {"Work rows 3-5", "rows 3 4 5"},
        {"Work as row 3", "rows 3"},
        {"Work as for rows 3 and 4", "rows 3 4"},
        {"Work same as row 2", "rows 2"},
        {"Same as for row 2", "rows 2"},
        {"As rows 1-4.", "rows 1 2 3 4"},
        {"Like row 2", "rows 2"},
        {"Cont to rep rows 1 and 2 for 10 rows", "rows 1 2 for 10"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void how_often_rows_are_worked(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Rep row 1 4 times.", "rows 1 times 4"},
        {"Rep rows 1 and 2, 4 more times", "rows 1 2 times 4"},
        {"Rep rows 1, 2 times", "rows 1 times 2"},
        {"Rep rows 1 and 2 x 3", "rows 1 2 times 3"},
        {"Rep row 1 3 x", "rows 1 times 3"},
        {"Rep row 1 once more.", "rows 1 times 1"},
        {"Rep row 1 twice", "rows 1 times 2"},
        {"Rep row 1 thrice more", "rows 1 times 3"},
        {"Rep row 1 five times", "rows 1 times 5"},
        {"Rep row 1 1 time more", "rows 1 times 1"},
        {"Rep row 2 for 10 rows", "rows 2 for 10"},
        {"Rep row 2, for 10 (12, 14) more rnds", "rows 2 for 10/12/14"},
        {"Rep row 2 for another 5 rows", "rows 2 for 5"},
        {"Rep row 2 for the next 6 rows", "rows 2 for 6"},
        {"Rep row 2 for a further 5 cm", "rows 2 onward 50/50/50 mm"},
        {"Rep row 2 over 6 rows", "rows 2 for 6"},
        {"Rep row 2 for 6 sts", "rows 2 | for 6 sts"},
        {"Rep last row", "last 1"},
        {"Rep the last two rows", "last 2"},
        {"Rep last 2 rows 5 (6, 7) more times. 20 sts", "last 2 times 5/6/7 | 20 sts"},
        {"Rep these 4 rows throughout", "last 4"},
        {"Rep previous rnd", "last 1"},
        {"Rep last 2 sts", "none"},
        {"Rep last 2 (4) rows", "none"},
        {"Rep row 2 another 4 times", "rows 2 times 4"},
        {"Rep last 2 (4, 6, 8) rows 4 (5, 6, 7) times", "last 2 times 4 ! wrong at 9"},
        {"Rep last 2 (4, 6, 8) rows 4 times", "last 2 times 4 ! wrong at 9"},
        /* with or without the rows that are there already */
        {"Rep last 2 rows 5 times in all",
         "last 2 times 5 ! 16 this may be meant with or without the rows that are worked already"},
        {"Rep rows 1-4 a total of 3 times",
         "rows 1 2 3 4 times 3 ! 13 this may be meant with or without the rows that are worked already"},
        {"Rep row 2 for a total of 12 rows",
         "rows 2 for 12 ! 10 this may be meant with or without the rows that are worked already"},
        /* how often may stand in brackets, or after a mark */
        {"Rep row 2 (18 times).", "rows 2 times 18"},
        {"Rep rows 3 and 4 [9 times]. 20 sts", "rows 3 4 times 9 | 20 sts"},
        {"Rep rows 3 and 4 (9 (10, 11) more times)", "rows 3 4 times 9/10/11"},
        {"Rep last 2 rows (twice), ending with a WS row.", "last 2 times 2 to WS"},
        {"Rep last 2 rows (4 (5, 6, 7) times)", "last 2 times 4 ! wrong at 17"},
        {"Rep row 2 (18 times", "rows 2 | (18 times"},
        {"Rep row 2 [18 times)", "rows 2 | [18 times)"},
        {"Rep row 2 (18 sts)", "rows 2 | (18 sts)"},
        {"Rep row 2 (18 rows)", "rows 2 | (18 rows)"},
        {"Rep row 2 4 times (8 rows)", "rows 2 times 4 | (8 rows)"},
        {"Rep row 2 - 18 times.", "rows 2 times 18"},
        {"Rep row 2: 18 (19, 20) times.", "rows 2 times 18/19/20"},
        {"Rep rows 2 - 4 18 times.", "rows 2 3 4 times 18"},
        {"Rep rows 2 - 4 - 18 times.", "rows 2 3 4 times 18"},
        {"Rep rows 2-4.", "rows 2 3 4"},
        {"Rep row 2: 18 rows.", "rows 2 | : 18 rows."},
        {"Rep row 2 4 (5) times", "rows 2 | 4 (5) times"},
        {"Rep row 2 4 (5, 6, 7) times", "rows 2 times 4 ! wrong at 10"},
        {"Rep row 2. 84 (90, 96, 100) sts", "rows 2 | 84 (90, 96, 100) sts"},
        /* only one of them is possible */
        {"Rep row 2 4 times for 8 rows", "rows 2 times 4 | for 8 rows"},
        {"Rep row 2 for 8 rows until piece measures 5 cm", "rows 2 for 8 | until piece measures 5 cm"},
        {"Rep rows 1-4 for pattern, as est, for 12 rows.", "rows 1 2 3 4 for 12"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void until_a_length(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Rep row 2 until piece measures 20 cm.", "rows 2 until 200/200/200 mm"},
        {"Rep row 2, till it is about 20 cm", "rows 2 until 200/200/200 mm"},
        {"Rep row 2 until piece measures approx. 20 cm from beg, ending with a WS row",
         "rows 2 until 200/200/200 mm to WS"},
        {"Rep row 2 until piece measures 20 (22, 24) cm", "rows 2 until 200/220/240 mm"},
        {"Rep row 2 until piece measures 20 [22; 24 cm]", "rows 2 until 200/220/240 mm"},
        {"Rep row 2 until piece measures 8\" (9\", 10 1/2\")", "rows 2 until 203.2/228.6/266.7 mm"},
        {"Rep row 2 until piece measures 20 cm / 8 in", "rows 2 until 200/200/200 mm"},
        {"Rep row 2 until piece measures 19.5 cm/7.5 in.", "rows 2 until 195/195/195 mm"},
        {"Rep row 2 until piece measures 20 cm (8 in) from beg", "rows 2 until 200/200/200 mm"},
        {"Rep row 2 until piece measures 20 cm [8\"]", "rows 2 until 200/200/200 mm"},
        {"Rep row 2 until piece measures 20 (22, 24) cm / 8 (8 1/2, 9 1/2) in from beg", "rows 2 until 200/220/240 mm"},
        {"Rep row 2 until piece measures 20 (22, 24) cm (8 (8 1/2, 9 1/2) in)", "rows 2 until 200/220/240 mm"},
        {"Rep row 2 until piece measures 20 cm (24 sts)", "rows 2 until 200/200/200 mm | (24 sts)"},
        {"Rep row 2 until piece measures 20 cm (24)", "rows 2 until 200/200/200 mm | (24)"},
        {"Rep row 2 until piece measures 20 cm / twice", "rows 2 until 200/200/200 mm | / twice"},
        {"Rep row 2 until piece measures 20 cm (8 in", "rows 2 until 200/200/200 mm | (8 in"},
        {"Rep row 2 until piece measures 20 cm (8 in, sts)", "rows 2 until 200/200/200 mm | (8 in, sts)"},
        /* too few values for the sizes */
        {"Rep row 2 until piece measures 20 (22) cm", "rows 2 until 200/200/200 mm ! wrong at 31"},
        {"Rep row 2 until piece measures 20 cm (22 cm)", "rows 2 until 200/200/200 mm ! wrong at 31"},
        {"Rep row 2 until piece measures 20 (22, 24, 26) cm", "rows 2 until 200/200/200 mm ! wrong at 31"},
        {"Rep row 2 until piece measures 20 cm (22 cm, 9 cm, 3 cm)", "rows 2 until 200/200/200 mm ! wrong at 31"},
        /* not a length */
        {"Rep row 2 until piece measures 20", "rows 2 ! 10 how long it becomes cannot be read"},
        {"Rep row 2 until piece measures 20 (22, 24)", "rows 2 ! 10 how long it becomes cannot be read"},
        {"Rep row 2 until piece measures 20 (8 in) cm", "rows 2 ! 10 how long it becomes cannot be read"},
        {"Rep row 2 until piece measures 1/0 in", "rows 2 ! 10 how long it becomes cannot be read"},
        {"Rep row 2 until piece measures 20 g", "rows 2 ! 10 how long it becomes cannot be read"},
        {"Rep row 2 until piece measures as back", "rows 2 ! 10 how long it becomes cannot be read"},
        {"Rep row 2 until piece measures -5 cm. Turn.", "rows 2 ! 10 how long it becomes cannot be read | Turn."},
        {"Rep row 2 until you like it", "rows 2 ! 10 where this ends cannot be read"},
        {"Rep row 2 until done; piece measures 5 cm",
         "rows 2 ! 10 where this ends cannot be read | piece measures 5 cm"},
        {"Rep row 2 until done. It is 5 cm.", "rows 2 ! 10 where this ends cannot be read | It is 5 cm."},
        {"Rep row 2 until done.25 times", "rows 2 ! 10 where this ends cannot be read"},
        /* the object and the start are missing */
        {"Rep row 2 until rib measures 5 cm", "rows 2 until 50/50/50 mm of the part"},
        {"Rep row 2 until rib measures 5 cm from picked-up edge", "rows 2 until 50/50/50 mm of the part"},
        {"Rep row 2 until piece measures 20 cm from neck edge",
         "rows 2 until 200/200/200 mm ! 10 from where this is measured is not followed"},
        {"Rep row 2 until piece measures 5 cm, then the rib", "rows 2 until 50/50/50 mm | then the rib"},
        {"Rep row 2 until sleeve is 40 cm long from the cast on edge", "rows 2 until 400/400/400 mm"},
        {"Rep row 2 until piece measures 40 cm or desired length.", "rows 2 until 400/400/400 mm"},
        {"Rep row 2 until piece measures 40 cm above rib",
         "rows 2 until 400/400/400 mm ! 10 from where this is measured is not followed"},
        {"Rep row 2 until armhole measures 20 cm",
         "rows 2 until 200/200/200 mm ! 10 from where this is measured is not followed"},
        {"Rep row 2 until piece measures 20 cm from the very beginning", "rows 2 until 200/200/200 mm"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

/* In two sizes a bracket of one value may be the second size's value or the same value in other units. */
static void lengths_in_two_sizes_and_in_one(void **state)
{
    (void)state;
    static const struct example two[] = {
        {"Rep row 2 until piece measures 20 (22) cm", "rows 2 until 200/220 mm"},
        {"Rep row 2 until piece measures 20 cm (8 in)", "rows 2 until 200/200 mm"},
        {"Rep row 2 until piece measures 8 in (20 cm) from beg", "rows 2 until 203.2/203.2 mm"},
        {NULL, NULL},
    };
    static const struct example one[] = {
        {"Rep row 2 until piece measures 20 cm (8 in)", "rows 2 until 200 mm"},
        {"Rep row 2 until piece measures 20 (22, 24) cm", "rows 2 until 200 mm ! wrong at 31"},
        {"Work even for 4\" (10 cm)", "even onward 101.6 mm"},
        {"Work even for 4.", "even | for 4."},
        {NULL, NULL},
    };
    assert_examples(2, two);
    assert_examples(1, one);
}

/* Fewer values than sizes. */
static void numbers_that_miss_a_size(void **state)
{
    (void)state;
    static const struct example four[] = {
        {"Rep last 2 (3, 4) rows", "last 2 ! wrong at 9"},
        {"Rep last 2 (3, 4, 5) rows", "last 2/3/4/5"},
        {NULL, NULL},
    };
    assert_examples(4, four);
}

static void which_row_comes_last(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Work even for 5 cm, ending with a RS row", "even onward 50/50/50 mm to RS"},
        {"Work even for 5 cm ending on WS", "even onward 50/50/50 mm to WS"},
        {"Work even for 5 cm, ending after a WS row; RS again", "even onward 50/50/50 mm to WS | RS again"},
        {"Work even for 5 cm, end with row 4", "even onward 50/50/50 mm ! 20 which row this ends with cannot be read"},
        {"Work even for 5 cm, ending with row 4. RS facing",
         "even onward 50/50/50 mm ! 20 which row this ends with cannot be read | RS facing"},
        {"Work even for 5 cm, ending with row 4; WS facing",
         "even onward 50/50/50 mm ! 20 which row this ends with cannot be read | WS facing"},
        {"Dec 1 st each end of every 4th row 3 times, ending with a WS row", "shape -1 at 2, every 4 x3 to WS"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void going_on_as_before(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Work even.", "even"},
        {"Work even for 10 rows.", "even for 10"},
        {"Work straight for a total of 10 rows", "even for 10"},
        {"Work 4 (6, 8) rows even", "even for 4/6/8"},
        {"Work a further 4 rows without shaping", "even for 4"},
        {"Work another 4 rounds straight", "even for 4"},
        {"Cont. in patt as set for 5 cm", "even onward 50/50/50 mm"},
        {"Continue to work even until piece measures 10 cm", "even until 100/100/100 mm"},
        {"Keep working as est for 4 rows", "even for 4"},
        {"In patt as set for 6 rows", "even for 6"},
        {"In 6 rows", "none"},
        {"Work even in patt for 6 rows", "even for 6"},
        {"Work even in the pattern as set for 6 rows", "even for 6"},
        {"Work even in sc for 6 rows", "pattern 'sc' for 6"},
        {"Work in moss stitch for 6 rows.", "pattern 'moss stitch' for 6"},
        {"Work in the moss stitch, until piece measures 5 cm", "pattern 'moss stitch' until 50/50/50 mm"},
        {"Work in rib ending with a WS row, for 6 rows", "pattern 'rib' for 6 to WS"},
        {"Work in rib over 6 rows", "pattern 'rib' for 6"},
        {"Work 6 rows of garter stitch", "pattern 'garter stitch' for 6"},
        {"Work 6 more rows in st st.", "pattern 'st st' for 6"},
        {"Work 4 (6, 8, 10) rows in sc", "pattern 'sc' for 4 ! wrong at 5"},
        /* with which row it begins */
        {"Beg with a K row, work in st st for 44 (50: 56) rows.", "pattern 'st st' for 44/50/56 begun by knit"},
        {"Beginning with a purl row, cont in st st until piece measures 10 cm.",
         "pattern 'st st' until 100/100/100 mm begun by purl"},
        {"Starting with a RS row, work 6 rows in garter st", "pattern 'garter st' for 6 begun on RS"},
        {"Start with wrong side row and work even in moss st for 6 rows", "pattern 'moss st' for 6 begun on WS"},
        {"Work in st st, beg with a K row, for 6 rows.", "pattern 'st st' for 6 begun by knit"},
        {"Work 6 rows in st st, beginning with a purl row.", "pattern 'st st' for 6 begun by purl"},
        {"Beg with a K row, beg with a P row, work 6 rows in st st.", "none"},
        {"Beg with a K row, work even for 6 rows.", "none"},
        {"Beg with a K row, work in patt for 6 rows.", "none"},
        {"Beg with a K row, K 6 rows.", "none"},
        {"Beg with a sc row, work 6 rows in st st.", "none"},
        {"Beg with a K st, work 6 rows in st st.", "none"},
        /* a stitch pattern without a verb */
        {"St st 44 (50: 56) rows.", "pattern 'St st' for 44/50/56"},
        {"Garter st for 10 rows, ending with a WS row.", "pattern 'Garter st' for 10 to WS"},
        {"Double moss stitch for 5 cm", "pattern 'Double moss stitch' onward 50/50/50 mm"},
        {"Beg with a P row, st st 6 rows (20 sts)", "pattern 'st st' for 6 begun by purl | (20 sts)"},
        {"St st 6 rows in all", "pattern 'St st' for 6"},
        {"St st 6 times", "none"},
        {"St st", "none"},
        {"Dc in next st 2 rows below", "none"},
        {"Loose loopy chain st 2 rows", "none"},
        {"Sc 4 rows.", "none"},
        {"4 rows.", "none"},
        {"Work 6 rows.", "none"},
        {"Work 6 sc in ring", "none"},
        {"Work in forward loop stitch", "none"},
        {"Work in.", "none"},
        {"Work in a stitch of your own choice that nobody else has ever had the patience for, for 6 rows", "none"},
        {"Knit 4 (6, 8) rows.", "words 'k' for 4/6/8"},
        {"P 1 row, k 1 row", "words 'p' for 1 | k 1 row"},
        {"Purl 2 more rows", "words 'p' for 2"},
        {"Knit every row until rib measures 8 in / 20 cm.", "words 'k' until 203.2/203.2/203.2 mm of the part"},
        {"Knit all rows for 10 cm", "words 'k' onward 100/100/100 mm"},
        {"Knit all sts", "none"},
        {"Knit to end", "none"},
        {"K2, p2", "none"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void shaping_at_the_ends_of_rows(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Dec 1 st each end of next row", "shape -1 at 2 next"},
        {"Decrease 1 stitch at each end of this row", "shape -1 at 2 next"},
        {"Inc. 2 sts at beg of every row 4 times", "shape +2 at 1, every 1 x4"},
        {"Dec 1 dc at each end of next 5 rows", "shape -1 at 2, every 1 x5 ! 6 a kind of stitch is named here, and a "
                                                "shaped row is worked in the stitch of the rows above"},
        {"Dec 1 stitch at each end of next 5 rows", "shape -1 at 2, every 1 x5"},
        {"Dec 1 dc, at each end of next 5 rows", "none"},
        {"Dec 1 in each end of next 5 rows", "none"},
        {"Dec 1 at next 5 rows", "none"},
        {"Dec 1 st at both ends of needle on next 4 rows", "none"},
        {"Dec 1 st at each end of needle on next 4 rows", "shape -1 at 2, every 1 x4"},
        {"Dec 1 st at neck edge on next 4 (5, 6) rows", "shape -1 at 1, every 1 x4/5/6"},
        {"Dec 1 st each end of next 4 rows and every 4th row 3 times", "shape -1 at 2, every 1 x4, every 4 x3"},
        {"Dec 1 st each end of next 4 rows, then on every foll alt row 3 times",
         "shape -1 at 2, every 1 x4, every 2 x3"},
        {"Dec 1 st each end of next and every 4th row to 34 (36, 38) sts.", "shape -1 at 2 next, every 4 to 34/36/38"},
        {"Dec 1 st each end of next and every 4th row until there are 34 sts left on needle",
         "shape -1 at 2 next, every 4 to 34"},
        {"Dec 1 st each end of every 4 rows until 34 sts rem. 34 sts", "shape -1 at 2, every 4 to 34 | 34 sts"},
        {"Dec 1 st each end of every row until you have some sts", "none"},
        {"Dec 1 st each end of every row to 34 rows", "none"},
        {"Dec 1 st each end of next and every foll 4th row, 6 more times", "shape -1 at 2 next, every 4 x6"},
        {"Dec 1 st each end of next row, then every RS row 6 times more", "shape -1 at 2 next, every 2 x6"},
        {"Dec 1 st each end of every third row twice, every fourth row once, every fifth row 2 times, then every sixth "
         "row 2 times, every eighth row 2 times and every tenth row 2 times",
         "shape -1 at 2, every 3 x2, every 4 x1, every 5 x2, every 6 x2, every 8 x2, every 10 x2"},
        {"Dec 1 st each end of every row once, every row once, every row once, every row once, every row once, every "
         "row "
         "once, every row once",
         "shape -1 at 2, every 1 x1, every 1 x1, every 1 x1, every 1 x1, every 1 x1, every 1 x1 | every row once"},
        /* British: a number of the following rows */
        {"Dec 1 st each end of next and foll 5 alt rows", "shape -1 at 2 next, every 2 x5"},
        {"Dec 1 st each end of next and 3 (4, 5) foll 4th rows", "shape -1 at 2 next, every 4 x3/4/5"},
        {"Dec 1 st each end of next row and 4 foll rows", "shape -1 at 2 next, every 1 x4"},
        {"Dec 1 st each end of next and foll alt row", "shape -1 at 2 next, every 2 x1"},
        {"Dec 1 st each end of next and foll alt rows to 34 sts", "shape -1 at 2 next, every 2 to 34"},
        {"Dec 1 st at armhole edge of alt rows", "shape -1 at 1, every 2"},
        {"Dec 1 st at end of 4th row", "shape -1 at 1, every 4"},
        {"Dec 1 st at end of 4 rows", "none"},
        {"Dec 1 st at end of each row", "shape -1 at 1, every 1"},
        {"Dec 1 st at end of every 0 rows", "none"},
        {"Dec 1 st at end of every 4 (6, 6) rows", "shape -1 at 1, every 4/6/6"},
        {"Dec 1 st at end of every 4 (0, 6) rows", "none"},
        {"Dec 1 st at end of every 4th st", "none"},
        {"Dec 1 st at end of every 4th row for 20 rows", "shape -1 at 1, every 4 | for 20 rows"},
        {"Dec 1 st at end of every 4th row, turn", "shape -1 at 1, every 4 | turn"},
        {"Dec 1 st at end of row", "shape -1 at 1 next"},
        {"Dec 1 st in next st", "none"},
        {"Dec 1 st each end of next 4 sts", "none"},
        {"Dec 1 st each end of next", "none"},
        {"Dec 1 row", "none"},
        {"Dec 0 sts each end of next row", "none"},
        {"Dec 21 sts each end of next row", "none"},
        {"Dec 1 (2, 2) sts each end of next row", "none"},
        {"Dec each end of next row", "none"},
        /* N or N + 1 */
        {"Dec 1 st each end of next and every 4th row 6 times",
         "shape -1 at 2 next, every 4 x6 ! 0 this may be the number of times in all, or the number after the next row"},
        {"Dec 1 st each end of next and every 4th row 6 (0, 1) times in all",
         "shape -1 at 2 next, every 4 x5/-1/0 ! 0 this is worked 0 times in a size, and the next row is one of them"},
        {"Dec 1 st each end of next and every 4th row a total of 6 times", "shape -1 at 2 next, every 4 x5/5/5"},
        {"Dec 1 st each end of next and every 4th row 2 more times, then every 6th row 2 times",
         "shape -1 at 2 next, every 4 x2, every 6 x2"},
        /* The row with the reference */
        {"Dec 1 st each end of this row.", "shape -1 at 2 next"},
        {"Dec 1 st each end of row, turn.", "shape -1 at 2 next | turn."},
        {"Dec 1 st each end (18 sts)", "shape -1 at 2 next | (18 sts)"},
        {"Dec 1 st each end [18 sts]", "shape -1 at 2 next | [18 sts]"},
        {"Dec 1 st each end of row, then rest", "none"},
        {"Dec 1 st each end, turn", "shape -1 at 2 next | turn"},
        /* Two intervals */
        {"Dec 1 st at end of every 2nd and every other way", "none"},
        {"Dec 1 st at end of alternately every 2nd and 0th row", "none"},
        {"Dec 1 st at end of alternately every 2nd and 4 (0, 4) rows", "none"},
        /* Rows of a label */
        {"Rep dec row 3 more times", "shape 'dec row', every 1 x3"},
        {"Rep dec row 3 rows", "none"},
        {"Rep dec row", "none"},
        {"Rep dec st", "none"},
        {"Rep the inc. rnd every 4th rnd twice", "shape 'inc. rnd', every 4 x2"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void edges_of_rows(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Bind off 4 (5, 6) sts at beg of next 2 rows. 50 sts", "edge 'Bind off 4 (5, 6) sts' for 2 | 50 sts"},
        {"BO 4 sts at the beg. of the next row", "edge 'BO 4 sts' for 1"},
        {"Cast on 3 stitches at start of foll 2 (4, 4) rows", "edge 'Cast on 3 stitches' for 2/4/4"},
        {"CO 3 sts at beg of each of next 2 rows", "edge 'CO 3 sts' for 2"},
        {"Bind off 4 sts at beg of every row", "none"},
        {"Bind off 4 sts at beg of next 2 sts", "none"},
        {"Bind off 4 sts at neck edge", "none"},
        {"Bind off 4 sts, k to end", "none"},
        {"Bind off 4 loops", "none"},
        {"Bind off all sts", "none"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void as_another_piece(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Work as for the left front, reversing shaping.", "as 'left front'"},
        {"Work as left front reversing all shapings", "as 'left front'"},
        {"As left front, but reversing neck and armhole shaping. Fasten off.", "as 'left front' | Fasten off."},
        {"Same as front, rev shaping, and sew", "as 'front' | and sew"},
        {"Make same as front : sew", "as 'front' | : sew"},
        {"As front (make 2)", "as 'front' | (make 2)"},
        {"As front but 2 rows longer.", "as 'front' ! 9 the differences from that piece cannot be read"},
        {"As front, but with reversing neck", "as 'front' ! 10 the differences from that piece cannot be read"},
        {"As front, reversing shaping and omitting the pocket. Turn.",
         "as 'front' ! 10 the differences from that piece cannot be read | Turn."},
        {"As front, omitting the pocket", "as 'front' | omitting the pocket"},
        {"As front", "as 'front'"},
        {"As (2 pieces)", "none"},
        {"As the piece that was worked before the one that has just been finished, turned round", "none"},
        {"Sew the pieces", "none"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void evenly_and_at_row_ends(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Inc 4 sts evenly across.", "evenly '' +1 x 4"},
        {"Dec 6 (8, 10) sts evenly across row. 60 sts", "evenly '' -1 x 6/8/10 | 60 sts"},
        {"K, inc 6 sts evenly spaced around. (66 sts)", "evenly 'K' +1 x 6 | (66 sts)"},
        {"Purl across, decreasing 4 sts evenly.", "evenly 'Purl' -1 x 4"},
        {"Knit 1 row, inc 4 sts evenly across", "evenly 'Knit' +1 x 4"},
        {"Work in sc, inc four sts evenly across next row", "evenly 'sc' +1 x 4"},
        {"Sc in each st around, increase 6 evenly", "evenly 'Sc' +1 x 6"},
        {"Ch 1, sc across, increasing 6 sts evenly, turn.", "evenly 'sc' +1 x 6 ch 1 | turn."},
        /* The number of rows is missing. */
        {"Inc 4 sts evenly over next 3 rows", "evenly '' +1 x 4 | 3 rows"},
        {"*K 10, dec 1 st evenly; rep from *", "none"},
        {"Ch 2 (2, 3), sc across, inc 6 sts evenly", "none"},
        {"Ch sts, inc 6 sts evenly", "evenly 'Ch sts' +1 x 6"},
        {"Ch 1 sc across, inc 6 sts evenly", "none"},
        {"Work, inc 6 sts evenly", "evenly '' +1 x 6"},
        {"K2 in each st, inc 6 sts evenly", "none"},
        {"Dec some sts evenly", "none"},
        {"Inc sts evenly", "none"},
        {"Increased 4 sts evenly", "none"},
        {"BO 3 sts at beg of next 2 rows, then 2 sts at end of next 2 rows",
         "edge 'BO 3 sts' for 2 | then 2 sts at end of next 2 rows"},
        {"BO 3 sts at beg of next 2 rows, then sew", "edge 'BO 3 sts' for 2 | then sew"},
        {"BO 3 sts at beg of next 2 rows, then dec 1 st at each end of next and every alt row 4 times",
         "edge 'BO 3 sts' for 2 then shape -1 at 2 next, every 2 x4 ! 37 this may be the number of times in all, or "
         "the number after the next row"},
        {"Inc 4 sts", "none"},
        {"Cast on 3 sts at beg of next 2 rows. 46 sts", "edge 'Cast on 3 sts' for 2 | 46 sts"},
        {"Cast on 3 sts at end of next 2 rows", "edge 'Cast on 3 sts' at end for 2"},
        {"Bind off 3 sts at end of next 2 rows", "none"},
        {"Bind off 4 (5, 6) sts at beg of next 2 rows, then 2 sts at beg of foll 4 rows",
         "edge 'Bind off 4 (5, 6) sts' for 2 then edge 'Bind off 2 sts' for 4"},
        {"BO 3 sts at beg of next 2 rows, 2 sts at beg of next 2 rows and 1 st at beg of foll 4 rows",
         "edge 'BO 3 sts' for 2 then edge 'BO 2 sts' for 2 then edge 'BO 1 st' for 4"},
        {"Bind off 3 sts at beg of next 2 rows, then dec 1 st at each end of every alt row 4 times",
         "edge 'Bind off 3 sts' for 2 then shape -1 at 2, every 2 x4"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

static void shaping_at_the_same_time(void **state)
{
    (void)state;
    static const struct example examples[] = {
        {"Work even for 24 rows, AT THE SAME TIME dec 1 st at each end of every 4th row 6 times.",
         "even for 24 with shape -1 at 2, every 4 x6"},
        {"Work even for 24 rows and at the same time, inc 1 st each end of every 6th row 4 times. 60 sts",
         "even for 24 with shape +1 at 2, every 6 x4 | 60 sts"},
        {"Cont in patt, dec 1 st each end of next and every foll 4th row to 34 sts",
         "even with shape -1 at 2 next, every 4 to 34"},
        {"Work in sc for 20 rows while decreasing 1 st at each end of every 5th row",
         "pattern 'sc' for 20 with shape -1 at 2, every 5"},
        {"Keeping patt correct, dec 1 st at neck edge on every row 4 times", "shape -1 at 1, every 1 x4"},
        {"Still keeping pattern correct as set, inc 1 st at end of every row 4 times", "shape +1 at 1, every 1 x4"},
        {"Dec 1 st at neck edge on every row 4 times, AT THE SAME TIME dec 1 st at armhole edge on every alt row 3 "
         "times",
         "shape -1 at 1, every 1 x4 with shape -1 at 1, every 2 x3"},
        {"Work even for 24 rows, at the same time shape the neck as written below",
         "even for 24 ! 23 the work at the same time cannot be read"},
        {"Rep dec row every 4th row 5 (6, 7) more times", "shape 'dec row', every 4 x5/6/7"},
        {"Rep the Inc rnd every 6 (6, 8) rnds to 60 sts", "shape 'Inc rnd', every 6/6/8 to 60"},
        {"Work dec row on next and every foll 4th row 5 more times", "shape 'dec row' next, every 4 x5"},
        {"Rep dec row 3 times more, then every 4th row twice",
         "shape 'dec row', every 1 x3 | then every 4th row twice"},
        {"Rep dec row every alt row 3 times, then every 4th row twice", "shape 'dec row', every 2 x3, every 4 x2"},
        {"Dec 1 st each end alternately every 2nd and 4th row 6 times", "shape -1 at 2, every 2 and 4 x6 in all"},
        {"Dec 1 st each end of every 2nd and 4th row alternately to 20 sts", "shape -1 at 2, every 2 and 4 to 20"},
        {"Dec 1 st each end alternately every 2nd and 4th row 6 times in all", "shape -1 at 2, every 2 and 4 x6"},
        {"Dec 1 st each end of every 2nd and 4th row 6 times", "none"},
        {"Dec 1 st each end alternately every 4th row 6 times", "none"},
        {"Rep dec row", "none"},
        {NULL, NULL},
    };
    assert_examples(3, examples);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_by_their_numbers),
        cmocka_unit_test(how_often_rows_are_worked),
        cmocka_unit_test(until_a_length),
        cmocka_unit_test(lengths_in_two_sizes_and_in_one),
        cmocka_unit_test(numbers_that_miss_a_size),
        cmocka_unit_test(which_row_comes_last),
        cmocka_unit_test(going_on_as_before),
        cmocka_unit_test(shaping_at_the_ends_of_rows),
        cmocka_unit_test(edges_of_rows),
        cmocka_unit_test(as_another_piece),
        cmocka_unit_test(evenly_and_at_row_ends),
        cmocka_unit_test(shaping_at_the_same_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
