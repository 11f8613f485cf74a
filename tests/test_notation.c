/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Row notation (hankful(1), ROW NOTATION). What a row comes to is written "needs(turning)>leaves: stitches | the
 * same of each run".
 */
#include "support.h"

#include "pattern/row.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define LINE_MOST 4096

static void say_sum(char *text, size_t size, const struct hk_sum *sum, const struct hk_catalogue *catalogue)
{
    int at = snprintf(text, size, "%" PRId64, sum->needs);
    if (sum->turning_needs)
        at += snprintf(text + at, size - (size_t)at, "(%" PRId64 ")", sum->turning_needs);
    at += snprintf(text + at, size - (size_t)at, ">%" PRId64 ":", sum->leaves);
    for (size_t i = 0; i < sum->stitch_count; i++)
        at += snprintf(text + at, size - (size_t)at, " %" PRId64 " %s", sum->stitches[i].count,
                       catalogue->stitches[sum->stitches[i].stitch].us);
    if (sum->cut_m > 0)
        snprintf(text + at, size - (size_t)at, " cut %.6g m", sum->cut_m);
}

/* The row as text; its findings, with columns within the cell, where it is wrong. */
static void read_row(const struct hk_catalogue *catalogue, enum hk_terms terms, const char *make, char *text, size_t size)
{
    static const struct hk_column columns[] = {{.name = "make", .required = true}, {.name = NULL}};
    char file[LINE_MOST + 32];
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    snprintf(file, sizeof file, "make,x\n\"%s\",1\n", make);
    const struct memory_file files[] = {{"f", file, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_table *table = hk_table_read(&source, "f", (struct hk_table_options){.columns = columns}, &diags);
    assert_non_null(table);
    hk_diags_free(&diags); /* of the column x */
    diags = (struct hk_diags){0};
    struct hk_row row = {.repeats = true, .once.needs = -7};
    if (hk_row_parse(hk_table_cell(table, 0, 0), terms, catalogue, &row, &arena, &diags)) {
        assert_true(hk_diags_ok(&diags));
        say_sum(text, size, &row.once, catalogue);
        size_t length = strlen(text);
        if (row.repeats) {
            length += (size_t)snprintf(text + length, size - length, " | ");
            say_sum(text + length, size - length, &row.each, catalogue);
        }
        if (row.joined)
            strcat(text, " joined");
    } else {
        assert_int_equal(row.once.needs, -7); /* untouched */
        assert_true(diags.errors > 0);
        text[0] = '\0';
        for (size_t i = 0, length = 0; i < diags.count && length < size; i++) {
            const struct hk_finding *f = &diags.findings[i];
            length += (size_t)snprintf(text + length, size - length, "%s%zu %s: %s; %s", i ? "\n" : "", f->at.column - 1,
                                       hk_code_name(f->code), f->message, f->hint ? f->hint : "-");
        }
    }
    hk_diags_free(&diags);
    hk_arena_free(&arena);
    hk_table_free(table);
}

struct example {
    const char *make, *comes_to;
};

static void assert_examples(const struct hk_catalogue *catalogue, enum hk_terms terms, const struct example *examples)
{
    bool good = true;
    for (; examples->make; examples++) {
        char text[LINE_MOST];
        read_row(catalogue, terms, examples->make, text, sizeof text);
        if (strcmp(text, examples->comes_to) != 0) {
            print_error("%s\n  is       %s\n  and not  %s\n", examples->make, text, examples->comes_to);
            good = false;
        }
    }
    assert_true(good);
}

static void stitches_and_numbers_stand_in_either_order(void **state)
{
    static const struct example examples[] = {
        {"sc 3", "3>3: 3 sc"},
        {"3 sc", "3>3: 3 sc"},
        {"SC 3", "3>3: 3 sc"},
        {"sc3", "3>3: 3 sc"},
        {"sc", "1>1: 1 sc"},
        {"single crochet 3", "3>3: 3 sc"},
        {"sc 3, ch 2; dc", "4>6: 2 ch 3 sc 1 dc"},
        {"sc 3, sc 2", "5>5: 5 sc"},
        {"sc 3.", "3>3: 3 sc"},
        {"sk 4", "4>0:"},
        {"ch 5", "0>5: 5 ch"},
        {"k2, p2", "4>4: 2 k 2 p"},
        {"BLO sc 3, sc FLO 2, 3 FL sc, sc 1 BL, sc 2 in BLO", "11>11: 11 sc"},
        {"turn, sc 1, turn", "1>1: 1 sc"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* Longest name first, then numbers: sc2tog is no "sc 2", and takes 2 to make 1. */
static void the_longest_name_wins(void **state)
{
    static const struct example examples[] = {
        {"sc2tog", "2>1: 1 sc2tog"},   {"sc2tog 3", "6>3: 3 sc2tog"},       {"3 sc2tog", "6>3: 3 sc2tog"},
        {"sc 2", "2>2: 2 sc"},         {"k2tog, k2", "4>3: 2 k 1 k2tog"},   {"5-dc bobble 2", "2>2: 2 5-dc bobble"},
        {"5 dc in 1", "1>5: 5 dc"},    {"2 5-dc bobble", "2>2: 2 5-dc bobble"}, {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

static void places_say_what_is_needed(void **state)
{
    static const struct example examples[] = {
        {"5 dc in 1", "1>5: 5 dc"},
        {"dc 2 in ch-2 sp", "2>2: 2 dc"},
        {"3 dc in sp", "0>3: 3 dc"},
        {"2 dc in same", "1>2: 2 dc"},
        {"2 dc in same st", "1>2: 2 dc"},
        {"sc 1, 2 dc in same st", "1>3: 1 sc 2 dc"},
        {"11 dc in ring", "0>11: 11 dc"},
        {"11 dc in the ring", "0>11: 11 dc"},
        {"2 sc in each of 3", "3>6: 6 sc"},
        {"2 sc in each of the next 3 sts", "3>6: 6 sc"},
        {"3 sc in next st", "1>3: 3 sc"},
        {"sc2tog in 1", "1>1: 1 sc2tog"},
        {"(2 dc, ch 1, 2 dc) in 1", "1>5: 1 ch 4 dc"},
        {"(2 dc, ch 1) x3 in ch-1 sp", "1>9: 3 ch 6 dc"},
        {"(dc, ch 1) in each of 4", "4>8: 4 ch 4 dc"},
        {"((dc, ch 1) in 1, sk 1) x 2", "4>4: 2 ch 2 dc"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

static void groups_are_worked_so_many_times(void **state)
{
    static const struct example examples[] = {
        {"(sc 1, ch 1, sk 1) x 3", "6>6: 3 ch 3 sc"},  {"(sc 1, ch 1, sk 1) × 3", "6>6: 3 ch 3 sc"},
        {"(sc 2) 3 times", "6>6: 6 sc"},               {"(sc 2) twice", "4>4: 4 sc"},
        {"[sc 2] x3", "6>6: 6 sc"},                    {"(sc 2)", "2>2: 2 sc"},
        {"((sc 1, ch 1) x 2, sk 1) x 3", "9>12: 6 ch 6 sc"}, {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* Several repeats of a row run equally often, so their sums add up; in a group each copy has its own. */
static void repeats_make_a_sum_of_their_own(void **state)
{
    static const struct example examples[] = {
        {"tch 1, *sc 1*", "0>0: 1 ch | 1>1: 1 sc"},
        {"*sc 1, sk 1*, sc 1, *dc 1*", "1>1: 1 sc | 3>2: 1 sc 1 dc"},
        {"(2 sc in 1, *sc 1*) 6 times", "6>12: 12 sc | 6>6: 6 sc"},
        {"(2 dc, *dc 1*) in 1", "1>2: 2 dc | 0>1: 1 dc"},
        {"*sc 1 in ring*", "0>0: | 0>1: 1 sc"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

static void turning_chains_and_joins(void **state)
{
    static const struct example examples[] = {
        {"tch 1", "0>0: 1 ch"},
        {"tch 3 as dc", "1(1)>1: 3 ch"},
        {"tch 4 as (dc, ch 1)", "1(1)>2: 4 ch"},
        {"(tch 3 as dc, 2 dc, ch 2, 3 dc) in ch-2 sp", "2>8: 5 ch 5 dc"},
        {"join", "0>0: 1 sl st joined"},
        {"join 3, sl st 2", "2>2: 5 sl st joined"},
        {"*sc, join*", "0>0: | 1>1: 1 sl st 1 sc"},
        {"(sc, join) twice", "2>2: 2 sl st 2 sc"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* 30 cm twice is 0.6 m; 7 1/4 in is 7.25 * 0.0254 = 0.18415 m (inch: NIST SP 811). */
static void cut_lengths_add_up(void **state)
{
    static const struct example examples[] = {
        {"cut 30 cm", "0>0: cut 0.3 m"},
        {"cut 30 cm x 2", "0>0: cut 0.6 m"},
        {"cut 12 in twice, cut 5 mm 4 times", "0>0: cut 0.6296 m"},
        {"cut 7¼ in", "0>0: cut 0.18415 m"},
        {"*cut 2.5 cm, sk 1*", "0>0: | 1>0: cut 0.025 m"},
        {"cut 30", "5 unit-missing: the cut length has no unit; write a length like cut 30 cm or cut 12 in"},
        {"cut 30 g", "5 unit-wrong: 30 g is no length; write a length like cut 30 cm or cut 12 in"},
        {"cut 0 cm", "5 range: the cut length is 0; write a length like cut 30 cm or cut 12 in"},
        {"cut", "1 row-syntax: cut does not say how long; write a length like cut 30 cm or cut 12 in"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

static void words_of_the_other_terms_are_named(void **state)
{
    static const struct example uk[] = {
        {"dc 3", "3>3: 3 sc"},
        {"ss 2, htr 1, miss 2", "5>3: 2 sl st 1 hdc"},
        {"tch 3 as tr", "1(1)>1: 3 ch"},
        {"sc 3, sk 1", "1 row-terms: sc is a US word, and this project has terms,UK; write dc"},
        {"dc 1, hdc 2", "7 row-terms: hdc is a US word, and this project has terms,UK; write htr"},
        {NULL, NULL},
    };
    static const struct example us[] = {
        {"htr 1", "1 row-terms: htr is a UK word, and this project has terms,US; write hdc"},
        {"dc 1, miss 2", "7 row-terms: miss is a UK word, and this project has terms,US; write sk"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_UK, uk);
    assert_examples(*state, HK_US, us);
}

static void mistakes_say_what_would_do(void **state)
{
    static const struct example examples[] = {
        {"3 sc 3", "6 row-syntax: the stitch has two numbers, 3 and 3; write one of them, or brackets: (sc 3) x 2"},
        {"5 dc in 2", "9 row-place: in 2 can be read in two ways; "
                      "write in each of 2 for once in each of so many, or in 1 for all in one"},
        {"*sc, *dc*, sc*", "6 row-nested: a repeat stands in a repeat; "
                           "write the inner one with its number of times, ( ) x 3, or close the outer one before it with *"},
        {"*sc, (dc, *sc*) x 2*", "11 row-nested: a repeat stands in a repeat; "
                                 "write the inner one with its number of times, ( ) x 3, or close the outer one before it with *"},
        {"sc 1, *sc", "7 row-syntax: the repeat that opens here is not closed; write * behind its last stitch too"},
        {"sc, (sc, dc", "5 row-syntax: the bracket that opens here is not closed; write ) behind its last stitch"},
        {"*(sc*", "2 row-syntax: the bracket that opens here is not closed; write ) behind its last stitch"},
        {"sc)", "3 row-syntax: this bracket closes nothing; write ( where the group begins, or leave it out"},
        {"", "1 row-syntax: the row is empty; write what is worked, such as *sc 1*"},
        {"()", "1 row-syntax: nothing stands in here; write what is worked, such as *sc 1*"},
        {"**", "1 row-syntax: nothing stands in here; write what is worked, such as *sc 1*"},
        {"sc,", "3 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {",sc", "1 row-syntax: nothing stands before this comma; leave it out, or write what is missing"},
        {"*sc,*", "4 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {"sc dc", "4 row-syntax: a comma is missing before dc; write a comma between items: sc 3, ch 1"},
        {"hdcc 2", "1 name-unknown: hdcc is no stitch in US terms; did you mean \"hdc\"?"},
        {"sc 2.5", "4 number: 2.5 is not a whole number; stitches are counted in whole numbers"},
        {"sc 0", "4 range: 0 works nothing; leave it out, or write a number from 1"},
        {"sc 1000000000001", "4 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"(sc 1000000) x 1000001",
         "1 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"(sc 3) 2", "8 row-syntax: a number behind brackets needs x or times; write ( ) x 2"},
        {"3 (sc, ch)", "1 row-syntax: a number stands before brackets; write it behind them: ( ) x 3"},
        {"*sc* x 3", "6 row-syntax: what stands between stars is repeated as often as it fits; "
                     "write brackets for a number of times: (sc 1, ch 1) x 3"},
        {"rep from *", "1 row-syntax: rep is no stitch; "
                       "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits"},
        {"sc in moon", "7 row-syntax: in moon is no place; "
                       "write in 1, in each of 2, in same, in ring, in sp or in ch-2 sp"},
        {"sc in ch-sp", "7 row-syntax: the chain space does not say of how many chains; "
                        "write in ch-1 sp or in ch-2 sp, or in sp where its chains are used up otherwise"},
        {"tch", "1 row-syntax: the turning chain does not say how many chains; "
                "write tch 1, or tch 3 as dc where it counts as a stitch"},
        {"ch-2", "1 row-syntax: ch-2 is no stitch; "
                 "write a blank before the number: ch 2, and in ch-2 sp for the space of two chains"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* What published patterns say, and that it comes to what the notation says. */
/* Words of an item are written again for each place of it: however long they are, there is room or they stay. */
static void words_of_any_length_are_written_again_within_their_room(void **state)
{
    static const char *const places[] = {" in x and in 4th ch from hook", " in 4th ch from hook and in each ch across",
                                         " in same st and in same st and in same st and in 5th ch from hook"};
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        for (size_t length = 1; length < 9000; length = 3 * length + 1) {
            struct hk_arena arena = {0};
            struct hk_diags diags = {0};
            struct hk_row row;
            char *text = hk_arena_take(&arena, length + strlen(places[i]) + 1, 1);
            memset(text, 'q', length);
            strcpy(text + length, places[i]);
            assert_false(hk_row_parse((struct hk_cell){.text = text}, HK_US, *state, &row, &arena, &diags));
            assert_true(diags.errors > 0);
            hk_diags_free(&diags);
            hk_arena_free(&arena);
        }
    }
}

static void sentences_of_patterns_are_understood(void **state)
{
    static const struct example examples[] = {
        {"*k4, k2tog; rep from * to end", "0>0: | 6>5: 4 k 1 k2tog"},
        {"*k4, k2tog, rep from * around.", "0>0: | 6>5: 4 k 1 k2tog"},
        {"*k4, k2tog. Repeat from * across", "0>0: | 6>5: 4 k 1 k2tog"},
        {"* k4, k2tog; rep from *", "0>0: | 6>5: 4 k 1 k2tog"},
        {"k1, *k4, k2tog; repeat from * to the end of the row", "1>1: 1 k | 6>5: 4 k 1 k2tog"},
        {"*sc 3, ch 1, sk 1; rep from * to last 2 sts, dc 2", "2>2: 2 dc | 4>4: 1 ch 3 sc"},
        {"sc in next 3 sts", "3>3: 3 sc"},
        {"dc in next st, sc in the next 2 stitches", "3>3: 2 sc 1 dc"},
        {"(sc in next 3 sts, ch 1) twice", "6>8: 2 ch 6 sc"},
        {"2 sc in next st", "1>2: 2 sc"},
        {"tch 1, sc in each st across", "0>0: 1 ch | 1>1: 1 sc"},
        {"Sc in each stitch to the end.", "0>0: | 1>1: 1 sc"},
        {"2 sc in each st around, join", "0>0: 1 sl st | 1>2: 2 sc joined"},
        {"*sc in next 3 sts, 2 sc in next st; rep from * around", "0>0: | 4>5: 5 sc"},
        {"sc in same st and in each st around", "1>1: 1 sc | 1>1: 1 sc"},
        {"ch 1, sc in same st as joining, sc in each st around, join", "1>2: 1 ch 1 sl st 1 sc | 1>1: 1 sc joined"},
        {"tch 3 as dc, dc in same st, *dc*", "1(1)>2: 3 ch 1 dc | 1>1: 1 dc"},
        {"6 sc in magic ring", "0>6: 6 sc"},
        {"sc in 2nd ch from hook and in each ch across. Turn.", "1>1: 1 ch 1 sc | 1>1: 1 sc"},
        {"hdc in the third ch from the hook, hdc in each ch across", "1>1: 2 ch 1 hdc | 1>1: 1 hdc"},
        {"Dc in 4th ch from hook and in each ch across", "2(1)>2: 3 ch 1 dc | 1>1: 1 dc"},
        {"[sc in next 3 sts, 2 sc in next st] around", "0>0: | 4>5: 5 sc"},
        {"(sc 4, sc2tog) around, join", "0>0: 1 sl st | 6>5: 4 sc 1 sc2tog joined"},
        {"(sc 4, sc2tog) x 6 around", "20 row-syntax: around cannot be read here; write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 "
                                      "or *sc 1*, with commas between"},
        {"3 ch (counts as dc), dc in each st across", "1(1)>1: 3 ch | 1>1: 1 dc"},
        {"ch 2 (does not count as a st), dc across", "0>0: 2 ch | 1>1: 1 dc"},
        {"sc in each st around. (40 sts)", "0>0: | 1>1: 1 sc"},
        {"sc 3, ch 1 [4]", "3>4: 1 ch 3 sc"},
        {"sc 3, (ch 1)", "3>4: 1 ch 3 sc"},
        {"sc 3, (2 sc)", "5>5: 5 sc"},
        {"sc 3, (2 sc) twice (7 stitches).", "7>7: 7 sc"},
        {"sc 3, ch 1 (4), sc 1", "12 row-syntax: a comma is missing before (; write a comma between items: sc 3, ch 1\n"
                                 "14 row-syntax: a stitch is missing here; name the stitch, such as sc 3 or 5 dc in 1"},
        {"dc 10 sts", "10>10: 10 dc"},
        {"2 dc in next ch sp", "9 row-syntax: the chain space does not say of how many chains; write in ch-1 sp or in ch-2 sp, "
                               "or in sp where its chains are used up otherwise"},
        {"5 dc in next 3 sts", "14 row-place: in 3 can be read in two ways; "
                               "write in each of 3 for once in each of so many, or in 1 for all in one"},
        {"sc2tog in each st across", "11 row-syntax: in each does not say of how many; "
                                     "write in each of 3, or put it between stars to go on as long as it fits: *2 sc in 1*"},
        /* Columns are those of the cell, behind what was rewritten too. */
        {"*sc in next 2 sts; rep from * to end, hdcc 2", "39 name-unknown: hdcc is no stitch in US terms; did you mean \"hdc\"?"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* One thing said in the words that patterns have for it. */
static void other_words_for_the_same_come_to_the_same(void **state)
{
    static const struct example examples[] = {
        {"sc in each st to end of row", "0>0: | 1>1: 1 sc"},
        {"sc in each st to the end of the rnd", "0>0: | 1>1: 1 sc"},
        {"sc in each st to end of the round", "0>0: | 1>1: 1 sc"},
        {"*sc 3; rep from * to end", "0>0: | 3>3: 3 sc"},
        {"*sc 3, rep from *.", "0>0: | 3>3: 3 sc"},
        {"*sc 3; rep from * to last st; dc", "1>1: 1 dc | 3>3: 3 sc"},
        {"ch 3 (count as the first dc), dc in each st across", "1(1)>1: 3 ch | 1>1: 1 dc"},
        {"chain 3 (counts as 1 dc), dc", "2(1)>2: 3 ch 1 dc"},
        {"ch-3 (counts as dc throughout), dc", "2(1)>2: 3 ch 1 dc"},
        {"ch 4 (counts as dc + ch 1), dc", "2(1)>3: 4 ch 1 dc"},
        {"join in first st, sc", "1>1: 1 sl st 1 sc joined"},
        {"join rnd", "0>0: 1 sl st joined"},
        {"join round with sl st", "0>0: 1 sl st joined"},
        {"join to top of tch", "0>0: 1 sl st joined"},
        {"join", "0>0: 1 sl st joined"},
        {"ss to first st", "0>0: 1 sl st joined"},
        {"sl st in first st", "1>1: 1 sl st"},
        {"sc 3 in front loop only", "3>3: 3 sc"},
        {"dc 2 through the back loop", "2>2: 2 dc"},
        {"hdc in the third loop", "1>1: 1 hdc"},
        {"hdc in the 3rd loops", "1>1: 1 hdc"},
        {"sc in the skipped stitch", "0>1: 1 sc"},
        {"sc 2 in next chs", "1>2: 2 sc"},
        {"sc 2 in each next st", "1>2: 2 sc"},
        {"[sc, ch 1] twice", "2>4: 2 ch 2 sc"},
        {"{sc, ch 1} x 2", "2>4: 2 ch 2 sc"},
        {"sc in chain-2 space", "2>1: 1 sc"},
        {"sc in ch 2 sp", "2>1: 1 sc"},
        {"(sc, ch 1) X 2", "2>4: 2 ch 2 sc"},
        {"(sc, ch 1) 2 times", "2>4: 2 ch 2 sc"},
        {"treble", "1>1: 1 tr"},
        {"double treble crochet 2", "2>2: 2 dtr"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* What begins like such words and is not: the words are told one by one, at their place in the cell. */
static void what_only_begins_like_a_sentence_is_told(void **state)
{
    static const struct example examples[] = {
        {"*sc 3; rep from * to last 2 sts",
         "8 row-syntax: rep is no stitch; "
         "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits\n"
         "19 row-syntax: to cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {"*sc 3; rep from * to last moon, dc",
         "8 row-syntax: rep is no stitch; "
         "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits\n"
         "19 row-syntax: to cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {"sc 2, rep from * to end",
         "7 row-syntax: rep is no stitch; "
         "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits"},
        {"*(sc, rep from *) x 2*",
         "7 row-syntax: rep is no stitch; "
         "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits\n"
         "2 row-syntax: the bracket that opens here is not closed; write ) behind its last stitch\n"
         "17 row-syntax: this bracket closes nothing; write ( where the group begins, or leave it out\n"
         "19 row-syntax: x cannot be read here; write it behind brackets: (sc 1, ch 1) x 3"},
        {"*sc, repeat this",
         "6 row-syntax: repeat is no stitch; "
         "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits\n"
         "1 row-syntax: the repeat that opens here is not closed; write * behind its last stitch too"},
        {"*sc, rep from here*",
         "6 row-syntax: rep is no stitch; "
         "write what repeats between stars, *sc, ch 1*: it is repeated as often as it fits"},
        {"ch 3 (counts 1 dc), dc",
         "6 row-syntax: a comma is missing before (; write a comma between items: sc 3, ch 1\n"
         "7 name-unknown: counts is no stitch in US terms; -"},
        {"ch 3 (counts as 10), dc", "1 row-syntax: a stitch is missing here; name the stitch, such as sc 3 or 5 dc in 1"},
        {"ch 3 (counts as ), dc",
         "6 row-syntax: a comma is missing before (; write a comma between items: sc 3, ch 1\n"
         "7 name-unknown: counts is no stitch in US terms; -"},
        {"ch 3 (counts as [dc]), dc",
         "6 row-syntax: a comma is missing before (; write a comma between items: sc 3, ch 1\n"
         "7 name-unknown: counts is no stitch in US terms; -"},
        {"ch 3 (dc 2), dc", "6 row-syntax: a comma is missing before (; write a comma between items: sc 3, ch 1"},
        {"dc 2 through both loops",
         "6 row-syntax: through cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {"hdc in back post",
         "8 row-syntax: in back is no place; write in 1, in each of 2, in same, in ring, in sp or in ch-2 sp"},
        {"sc in skipped moon",
         "7 row-syntax: in skipped is no place; write in 1, in each of 2, in same, in ring, in sp or in ch-2 sp"},
        {"sc 2, fasten off yarn", "7 name-unknown: fasten is no stitch in US terms; -"},
        {"sk next moon",
         "4 row-syntax: next cannot be read here; name the stitch and how many, sc 3: each goes into the next stitch"},
        {"sk next 2 chs of",
         "4 row-syntax: next cannot be read here; name the stitch and how many, sc 3: each goes into the next stitch"},
        {"skip 2 dc of the shell",
         "8 row-syntax: a comma is missing before dc; write a comma between items: sc 3, ch 1\n"
         "11 row-syntax: of cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {"sc in next ch-2", "12 row-syntax: a place in chains is their space; write in ch-2 sp"},
        {"2 sc in next 3 ch-2 sps",
         "14 row-place: in 3 can be read in two ways; "
         "write in each of 3 for once in each of so many, or in 1 for all in one"},
        {"sc ~ 2",
         "4 row-syntax: ~ cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {"sc in ch-2", "7 row-syntax: a place in chains is their space; write in ch-2 sp"},
        {"sc in ch- sp",
         "7 row-syntax: the chain space does not say of how many chains; "
         "write in ch-1 sp or in ch-2 sp, or in sp where its chains are used up otherwise"},
        {"sc in ch-0 sp", "10 range: 0 works nothing; leave it out, or write a number from 1"},
        {"sc in each of",
         "7 row-syntax: in each does not say of how many; "
         "write in each of 3, or put it between stars to go on as long as it fits: *2 sc in 1*"},
        {"sc in each of 0", "15 range: 0 works nothing; leave it out, or write a number from 1"},
        {"sc in each of the",
         "7 row-syntax: in each does not say of how many; "
         "write in each of 3, or put it between stars to go on as long as it fits: *2 sc in 1*"},
        {"(sc, ch 1) x", "12 row-syntax: x cannot be read here; write it behind brackets: (sc 1, ch 1) x 3"},
        {"(sc, ch 1) x 0", "14 range: 0 works nothing; leave it out, or write a number from 1"},
        {"(sc, ch 1) 2 moons", "12 row-syntax: a number behind brackets needs x or times; write ( ) x 2"},
        {"tch 3 as (*sc*)",
         "11 row-syntax: a turning chain cannot stand for a repeat; "
         "write the stitches that it stands for: tch 4 as (dc, ch 1)"},
        {"tch 3 as (tch 2)",
         "11 row-syntax: a turning chain cannot stand for another; "
         "write the stitches that it stands for: tch 4 as (dc, ch 1)"},
        {"tch 3 as (cut 20 cm)",
         "11 row-syntax: a turning chain cannot stand for a cut length; "
         "write the stitches that it stands for: tch 4 as (dc, ch 1)"},
        {"cut 0 cm", "5 range: the cut length is 0; write a length like cut 30 cm or cut 12 in"},
        {"cut 99999999999 km", "5 range: the cut length is too large; write a length like cut 30 cm or cut 12 in"},
        {"cut 20 cm x", "11 row-syntax: x cannot be read here; write it behind brackets: (sc 1, ch 1) x 3"},
        {"cut 20 cm x 0", "13 range: 0 works nothing; leave it out, or write a number from 1"},
        {"cut 20", "5 unit-missing: the cut length has no unit; write a length like cut 30 cm or cut 12 in"},
        {"cut 20 g", "5 unit-wrong: 20 g is no length; write a length like cut 30 cm or cut 12 in"},
        {"sc*2",
         "3 row-syntax: a comma is missing before *; write a comma between items: sc 3, ch 1\n"
         "5 row-syntax: a stitch is missing here; name the stitch, such as sc 3 or 5 dc in 1\n"
         "3 row-syntax: the repeat that opens here is not closed; write * behind its last stitch too"},
        {"*sc**dc*", "5 row-syntax: a comma is missing before *; write a comma between items: sc 3, ch 1"},
        {"*sc*dc", "5 row-syntax: a comma is missing before dc; write a comma between items: sc 3, ch 1"},
        {"(sc))", "5 row-syntax: this bracket closes nothing; write ( where the group begins, or leave it out"},
        {"sc & dc",
         "4 row-syntax: & cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {"front post",
         "1 name-unknown: front post is no stitch in US terms; did you mean \"front post single crochet\"?"},
        {"sc in next",
         "7 row-syntax: in next is no place; write in 1, in each of 2, in same, in ring, in sp or in ch-2 sp"},
        {"sc, in 1", "5 row-syntax: in is no stitch; write the stitch first: 5 dc in 1"},
        {"x 2", "1 row-syntax: x is no stitch; write it behind brackets: (sc 1, ch 1) x 3"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* 10^12 is the most that is counted, whatever it is a count of: stitches, needs, leaves, slip stitches, chains, lengths. */
static void no_count_goes_beyond_what_can_be_counted(void **state)
{
    static const struct example examples[] = {
        {"dc2tog 1000000000000",
         "1 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"sc 1000000000000, sc 1",
         "19 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"*sc 1000000000000, sc*",
         "20 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"1000000000000 5-dc bobble in 1, sc in 1",
         "33 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"(sc 1000000000000, ch 1) in 1, (sc) in each of 5",
         "20 count-too-large: a count is above 1000000000000; look for a number with too many digits\n"
         "32 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"sc in each of 1000000000000, sc in each of 1",
         "30 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"(dc in 1) in each of 1000000000000, (dc in 1) in 1",
         "37 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"2 sc in each of 1000000000000",
         "1 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"tch 1000000000000, tch 1",
         "20 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"tch 3 as (dc 1000000000000, dc)",
         "29 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"tch 3 as dc, tch 3 as (dc 1000000000000)",
         "14 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"join 1000000000000, join",
         "21 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"sl st 1000000000000, join",
         "22 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"cut 1000000 km 1000000000000 times",
         "1 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"ch 1000000000000, turn, ch 1000000000000",
         "25 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* The commonest places, in the words that patterns have for them. */
static void places_are_understood_as_patterns_name_them(void **state)
{
    static const struct example examples[] = {
        {"2 sc in first st, sc in each st to last st, 2 sc in last st", "2>4: 4 sc | 1>1: 1 sc"},
        {"dc in next st and in each st across", "0>0: | 1>1: 1 dc"},
        {"sc in each of next 4 sts, sc in last 2 dc", "6>6: 6 sc"},
        {"sc in first ch-2 sp, 3 dc in next ch-3 space", "5>4: 1 sc 3 dc"},
        {"*sk next st, dc in next st, dc in skipped st; rep from * to end", "0>0: | 2>2: 2 dc"},
        {"sk next 2 sts, skip the first dc, sk 3 sts, sk 4", "10>0:"},
        {"sk next ch-2 sp", "4 row-syntax: next cannot be read here; "
                            "name the stitch and how many, sc 3: each goes into the next stitch"},
        {"*fpdc around next st, bpdc around each of next 2 sts; rep from * across", "0>0: | 3>3: 1 FPdc 2 BPdc"},
        {"sc in each sc across", "0>0: | 1>1: 1 sc"},
        {"sc in back loop only across, 2 hdc in the 3rd loop in 1", "1>2: 2 hdc | 1>1: 1 sc"},
        {"*sc, dc; rep from * around, join with sl st to first sc", "0>0: 1 sl st | 2>2: 1 sc 1 dc joined"},
        {"sc 5, sl st to top of ch-3, fasten off.", "5>5: 1 sl st 5 sc joined"},
        {"k1, m1, k to last st, m1, k1", "2>4: 2 k 2 M1 | 1>1: 1 k"},
        {"k2, p2 across", "8 row-syntax: across cannot be read here; "
                          "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* Chains that only lift the hook leave nothing; those that count are needed as the stitch that they stand for. */
static void chains_that_turn_are_told_from_those_that_widen(void **state)
{
    static const struct example examples[] = {
        {"ch 3 (counts as first dc here and throughout), dc in each st across", "1(1)>1: 3 ch | 1>1: 1 dc"},
        {"ch 4 (counts as dc and ch-1), sk 1, dc", "3(1)>3: 4 ch 1 dc"},
        {"ch 3 (counts as a dc, sc", "6 row-syntax: a comma is missing before (; write a comma between items: sc 3, ch 1\n"
                                     "7 name-unknown: counts is no stitch in US terms; -\n"
                                     "6 row-syntax: the bracket that opens here is not closed; write ) behind its last stitch"},
        {"sc across, ch 1, turn", "0>0: 1 ch | 1>1: 1 sc"},
        {"turn, ch 1, sc across", "0>0: 1 ch | 1>1: 1 sc"},
        {"ch 1, sc across, turn", "0>0: 1 ch | 1>1: 1 sc"},
        {"ch 2, turn, ch 2", "0>0: 4 ch"},
        {"sc 4, ch 20, turn", "4>24: 20 ch 4 sc"}, /* too many to turn with: the work widens */
        {"(ch 3), sc 2", "2>5: 3 ch 2 sc"},
        {"ch 6, join", "0>6: 6 ch 1 sl st joined"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* The no-break blank and the dash before it take more bytes than what they are made into: columns count characters. */
static void columns_are_those_of_the_cell_as_written(void **state)
{
    static const struct example examples[] = {
        {"sc\xC2\xA0"
         "3, dc in ch\xE2\x80\x93"
         "1 sp, hdcc 2",
         "22 name-unknown: hdcc is no stitch in US terms; did you mean \"hdc\"?"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

static void each_wrong_item_is_told(void **state)
{
    static const struct example examples[] = {
        {"hdcc 2, sc 3 3 dc, (scc, ch 1) x 2, 5 dc in 3",
         "1 name-unknown: hdcc is no stitch in US terms; did you mean \"hdc\"?\n"
         "14 row-syntax: 3 cannot be read here; "
         "write items like sc 3, 5 dc in 1, (sc 1, ch 1) x 3 or *sc 1*, with commas between\n"
         "21 name-unknown: scc is no stitch in US terms; did you mean \"sc\"?\n"
         "45 row-place: in 3 can be read in two ways; "
         "write in each of 3 for once in each of so many, or in 1 for all in one"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* Sums of each kind meet their limit by themselves: what is needed, left, worked, cut, and how often. */
static void each_sum_has_its_limit(void **state)
{
#define TOO_LARGE " count-too-large: a count is above 1000000000000; look for a number with too many digits"
    static const struct example examples[] = {
        {"(sc2tog 400000000000) x 2", "1" TOO_LARGE},
        {"(tch 400000000000) x 3", "1" TOO_LARGE},
        {"(cut 1 m 999999999999 times) x 9", "1" TOO_LARGE},
        {"cut 1 m 999999999999 times, cut 1 m 2 times", "29" TOO_LARGE},
        {"((sc) in each of 999999999) x 9999", "1" TOO_LARGE},
        {"((sc) x 999999999) x 9999", "1" TOO_LARGE},
        {"(sc) x 999999999 in each of 9999", "1" TOO_LARGE},
        {"(*sc 999999999999*) x 2", "1" TOO_LARGE},
        {"*sc 999999999999*, *sc 2*", "20" TOO_LARGE},
        {"sc 999999999999, (tch 1) in each of 9", "18" TOO_LARGE},
        {"sc2tog 499999999999, ch 1 in each of 9", "22" TOO_LARGE},
        {"sc 999999999999, tch 3 as (sc 5)", "18" TOO_LARGE},
        {"sc2tog 500000000000, tch 3 as dc", "22" TOO_LARGE},
        {"ch 999999999999, tch 5", "18" TOO_LARGE},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* A star behind a comma closes the repeat where nothing could be repeated behind it. */
static void a_star_behind_a_comma_closes(void **state)
{
    static const struct example examples[] = {
        {"*sc 1, *", "6 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {"*sc 1, *; sc 2", "6 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {"(*sc 1, *)", "7 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {"(*sc 1, * ) x 2", "7 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {"*sc 1, **sc 2*",
         "6 row-syntax: nothing stands behind this comma; leave it out, or write what is missing\n"
         "9 row-syntax: a comma is missing before *; write a comma between items: sc 3, ch 1"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

static void places_and_times_that_only_begin_well_are_told(void **state)
{
    static const struct example examples[] = {
        {"sc in ch-1-sp", "1>1: 1 sc"},
        {"sc in ch 1-sp", "1>1: 1 sc"},
        {"sc in next dragon",
         "7 row-syntax: in next is no place; write in 1, in each of 2, in same, in ring, in sp or in ch-2 sp"},
        {"sc in next st", "1>1: 1 sc"},
        {"(sc 1) 3 timely", "10 name-unknown: timely is no stitch in US terms; -"},
        {"ch 2 in next st, sc 1", "2>3: 2 ch 1 sc"},
        {"(ch 2), sc 1", "1>3: 2 ch 1 sc"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_US, examples);
}

/* Of a cell of junk 20 mistakes are told, and a word as long as a sentence is not looked for among the stitches. */
static void junk_is_told_to_a_limit(void **state)
{
    char make[LINE_MOST] = "", text[LINE_MOST];
    size_t lines = 1;
    for (size_t i = 0; i < 40; i++)
        strcat(make, i ? ",0 sc" : "0 sc");
    read_row(*state, HK_US, make, text, sizeof text);
    for (const char *at = text; *at; at++)
        lines += *at == '\n';
    assert_int_equal(lines, 20);
    memset(make, 'q', 200);
    make[200] = '\0';
    read_row(*state, HK_US, make, text, sizeof text);
    assert_string_equal(text, "1 name-unknown: qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq is no stitch in US terms; -");
}

/* 32 brackets in each other are read, 33 are not; thousands do no harm. */
static void brackets_nest_to_a_limit(void **state)
{
    char make[LINE_MOST], text[LINE_MOST];
    memset(make, '(', 32);
    strcpy(make + 32, "sc 2");
    memset(make + 36, ')', 32);
    make[68] = '\0';
    read_row(*state, HK_US, make, text, sizeof text);
    assert_string_equal(text, "2>2: 2 sc");
    memset(make, '(', 2000);
    strcpy(make + 2000, "sc 2");
    read_row(*state, HK_US, make, text, sizeof text);
    assert_string_equal(text, "33 row-syntax: brackets are nested more than 32 deep; "
                              "write the row with fewer brackets in each other");
}

/* Pieces of notation thrown together: a row or a finding, never a crash, and the sums in their limits. */
static void junk_gives_a_row_or_a_finding(void **state)
{
    static const char *const pieces[] = {"sc",  "dc ", "5-dc bobble", "3", " 2 ", "(", ")", "[", "]", "*", ",", ";", " in ", "in 1",
                                         "in each of 2", " x 3", "twice", "tch 3 as ", "tch", "join", "cut 3 cm", "cut", "BLO ", ".",
                                         "-", "ch-1 sp", "same", "ring", "×", "½", "\xC3\xA9", "999999999999", "as", "turn", "sk",
                                         "\xE2\x80\x93", "times", "+", "'", "&", "; rep from * ", "to end", " to last 2 sts, ",
                                         " in next 3 sts", " in each st around", "repeat from *", " across"};
    uint64_t seed = 4;
    char make[LINE_MOST], text[LINE_MOST];
    for (size_t trial = 0; trial < 4000; trial++) {
        make[0] = '\0';
        for (size_t i = 0, n = 1 + trial % 24; i < n; i++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u; /* Knuth's MMIX generator */
            strcat(make, pieces[(seed >> 33) % (sizeof pieces / sizeof *pieces)]);
        }
        read_row(*state, trial % 2 ? HK_US : HK_UK, make, text, sizeof text);
        assert_true(text[0] != '\0');
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stitches_and_numbers_stand_in_either_order),
        cmocka_unit_test(the_longest_name_wins),
        cmocka_unit_test(places_say_what_is_needed),
        cmocka_unit_test(groups_are_worked_so_many_times),
        cmocka_unit_test(repeats_make_a_sum_of_their_own),
        cmocka_unit_test(turning_chains_and_joins),
        cmocka_unit_test(cut_lengths_add_up),
        cmocka_unit_test(words_of_the_other_terms_are_named),
        cmocka_unit_test(mistakes_say_what_would_do),
        cmocka_unit_test(words_of_any_length_are_written_again_within_their_room),
        cmocka_unit_test(sentences_of_patterns_are_understood),
        cmocka_unit_test(other_words_for_the_same_come_to_the_same),
        cmocka_unit_test(what_only_begins_like_a_sentence_is_told),
        cmocka_unit_test(no_count_goes_beyond_what_can_be_counted),
        cmocka_unit_test(places_are_understood_as_patterns_name_them),
        cmocka_unit_test(chains_that_turn_are_told_from_those_that_widen),
        cmocka_unit_test(columns_are_those_of_the_cell_as_written),
        cmocka_unit_test(each_wrong_item_is_told),
        cmocka_unit_test(each_sum_has_its_limit),
        cmocka_unit_test(a_star_behind_a_comma_closes),
        cmocka_unit_test(places_and_times_that_only_begin_well_are_told),
        cmocka_unit_test(junk_is_told_to_a_limit),
        cmocka_unit_test(brackets_nest_to_a_limit),
        cmocka_unit_test(junk_gives_a_row_or_a_finding),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
