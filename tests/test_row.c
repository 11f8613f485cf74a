/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows as they are written (hankful(1), ROW NOTATION), parsed: each in its canonical form, or with its mistake.
 * test_count.c and test_rows.c have their stitch counts.
 */
#include "proofed.h"

#include "base/arena.h"
#include "pattern/fabric.h"
#include "pattern/row.h"
#include "written.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define LINE_MOST 4096

/* Returns the row in its canonical form, or its findings, with columns within the cell. */
static void read_row(const struct hk_catalogue *catalogue, enum hk_terms terms, const char *make, char *text,
                     size_t size)
{
    static const struct hk_column columns[] = {{.name = "make", .required = true}, {.name = NULL}};
    const struct hk_row_words words = {.catalogue = catalogue, .terms = terms, .size_count = 1};
    char file[LINE_MOST + 32];
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    snprintf(file, sizeof file, "make,x\n\"%s\",1\n", make);
    const struct memory_file files[] = {{"f", file, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_table *table = hk_table_read(&source, "f", (struct hk_table_options){.columns = columns}, &diags);
    assert_non_null(table);
    hk_diags_free(&diags); /* for the column x */
    diags = (struct hk_diags){0};
    struct hk_row row = {.step_count = 77};
    if (hk_row_parse(hk_table_cell(table, 0, 0), terms, catalogue, &row, &arena, &diags)) {
        const char *printed = hk_row_print(&row, &words, &arena);
        assert_true(hk_diags_ok(&diags));
        assert_non_null(printed);
        snprintf(text, size, "%s", printed);
    } else {
        assert_int_equal(row.step_count, 77); /* unchanged */
        assert_true(diags.errors > 0);
        text[0] = '\0';
        for (size_t i = 0, length = 0; i < diags.count && length < size; i++) {
            const struct hk_finding *f = &diags.findings[i];
            length += (size_t)snprintf(text + length, size - length, "%s%zu %s: %s; %s", i ? "\n" : "",
                                       f->at.column - 1, hk_code_name(f->code), f->message, f->hint ? f->hint : "-");
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
        {"sc 3", "sc 3"},
        {"3 sc", "sc 3"},
        {"SC 3", "sc 3"},
        {"sc3", "sc 3"},
        {"sc", "sc 1"},
        {"single crochet 3", "sc 3"},
        {"sc 3, ch 2; dc", "sc 3, ch 2, dc 1"},
        {"sc 3, sc 2", "sc 3, sc 2"},
        {"sc 3.", "sc 3"},
        {"sk 4", "sk next 4 sts"},
        {"ch 5", "ch 5"},
        {"k2, p2", "k 2, p 2"},
        {"BLO sc 3, sc FLO 2, 3 FL sc, sc 1 BL, sc 2 in BLO", "sc 3, sc 2, sc 3, sc 1, sc 2"},
        {"turn, sc 1, turn", "turn, sc 1, turn"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* Longest name first, then numbers: sc2tog is not "sc 2", and takes 2 to make 1. */
static void the_longest_name_wins(void **state)
{
    static const struct example examples[] = {
        {"sc2tog", "sc2tog 1"},
        {"sc2tog 3", "sc2tog 3"},
        {"3 sc2tog", "sc2tog 3"},
        {"sc 2", "sc 2"},
        {"k2tog, k2", "k2tog 1, k 2"},
        {"5-dc bobble 2", "5-dc bobble 2"},
        {"5 dc in 1", "5 dc in next st"},
        {"2 5-dc bobble", "5-dc bobble 2"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void places_say_what_is_needed(void **state)
{
    static const struct example examples[] = {
        {"5 dc in 1", "5 dc in next st"},
        {"dc 2 in ch-2 sp", "2 dc in next ch-2 sp"},
        {"3 dc in sp", "3 dc in next sp"},
        {"2 dc in same", "2 dc in same st"},
        {"2 dc in same st", "2 dc in same st"},
        {"sc 1, 2 dc in same st", "sc 1, 2 dc in same st"},
        {"11 dc in ring", "11 dc in ring"},
        {"11 dc in the ring", "11 dc in ring"},
        {"2 sc in each of 3", "2 sc in each of next 3 sts"},
        {"2 sc in each of the next 3 sts", "2 sc in each of next 3 sts"},
        {"3 sc in next st", "3 sc in next st"},
        {"sc2tog in 1", "sc2tog in next st"},
        {"(2 dc, ch 1, 2 dc) in 1", "(dc 2, ch 1, dc 2) in next st"},
        {"(2 dc, ch 1) x3 in ch-1 sp", "([dc 2, ch 1] 3 times) in next ch-1 sp"},
        {"(dc, ch 1) in each of 4", "(dc 1, ch 1) in each of next 4 sts"},
        {"((dc, ch 1) in 1, sk 1) x 2", "[(dc 1, ch 1) in next st, sk next st] 2 times"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void groups_are_worked_a_given_number_of_times(void **state)
{
    static const struct example examples[] = {
        {"(sc 1, ch 1, sk 1) x 3", "[sc 1, ch 1, sk next st] 3 times"},
        {"(sc 1, ch 1, sk 1) × 3", "[sc 1, ch 1, sk next st] 3 times"},
        {"(sc 2) 3 times", "[sc 2] 3 times"},
        {"(sc 2) twice", "[sc 2] 2 times"},
        {"[sc 2] x3", "[sc 2] 3 times"},
        {"(sc 2)", "[sc 2] once"},
        {"((sc 1, ch 1) x 2, sk 1) x 3", "[[sc 1, ch 1] 2 times, sk next st] 3 times"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* Several repeats of a row, and repeats in groups. */
static void repeats_stand_where_they_stand(void **state)
{
    static const struct example examples[] = {
        {"tch 1, *sc 1*", "tch 1, [sc 1] rep"},
        {"*sc 1, sk 1*, sc 1, *dc 1*", "[sc 1, sk next st] rep, sc 1, [dc 1] rep"},
        {"(2 sc in 1, *sc 1*) 6 times", "[2 sc in next st, [sc 1] rep] 6 times"},
        {"(2 dc, *dc 1*) in 1", "(dc 2, [dc 1] rep) in next st"},
        {"*sc 1 in ring*", "[sc in ring] rep"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void turning_chains_and_joins(void **state)
{
    static const struct example examples[] = {
        {"tch 1", "tch 1"},
        {"tch 3 as dc", "tch 3 as (dc 1)"},
        {"tch 4 as (dc, ch 1)", "tch 4 as (dc 1, ch 1)"},
        {"(tch 3 as dc, 2 dc, ch 2, 3 dc) in ch-2 sp", "(tch 3 as (dc 1), dc 2, ch 2, dc 3) in next ch-2 sp"},
        {"join", "join"},
        {"join 3, sl st 2", "join 3, sl st 2"},
        {"*sc, join*", "[sc 1, join] rep"},
        {"(sc, join) twice", "[sc 1, join] 2 times"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* 30 cm twice is 0.6 m; 7 1/4 in is 7.25 * 0.0254 = 0.18415 m (inch: NIST SP 811). */
static void cut_lengths_add_up(void **state)
{
    static const struct example examples[] = {
        {"cut 30 cm", "cut 0.3 m"},
        {"cut 30 cm x 2", "cut 0.3 m x 2"},
        {"cut 12 in twice, cut 5 mm 4 times", "cut 0.30479999999999996 m x 2, cut 0.005 m x 4"},
        {"cut 7¼ in", "cut 0.18414999999999998 m"},
        {"*cut 2.5 cm, sk 1*", "[cut 0.025 m, sk next st] rep"},
        {"cut 30", "5 unit-missing: the cut length has no unit; write a length like cut 30 cm or cut 12 in"},
        {"cut 30 g", "5 unit-wrong: 30 g is no length; write a length like cut 30 cm or cut 12 in"},
        {"cut 0 cm", "5 range: the cut length is 0; write a length like cut 30 cm or cut 12 in"},
        {"cut", "1 row-syntax: cut does not say how long; write a length like cut 30 cm or cut 12 in"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void words_of_the_other_terms_are_named(void **state)
{
    static const struct example uk[] = {
        {"dc 3", "dc 3"},
        {"ss 2, htr 1, miss 2", "ss 2, htr 1, sk next 2 sts"},
        {"tch 3 as tr", "tch 3 as (tr 1)"},
        {"sc 3, sk 1", "1 row-terms: sc is a US word, and this project has terms,UK; write dc"},
        {"dc 1, hdc 2", "7 row-terms: hdc is a US word, and this project has terms,UK; write htr"},
        {NULL, NULL},
    };
    static const struct example us[] = {
        {"htr 1", "1 row-terms: htr is a UK word, and this project has terms,US; write hdc"},
        {"dc 1, miss 2", "7 row-terms: miss is a UK word, and this project has terms,US; write sk"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_UK, uk);
    assert_examples(*state, HK_TERMS_US, us);
}

static void mistakes_say_what_would_do(void **state)
{
    static const struct example examples[] = {
        {"3 sc 3", "6 row-syntax: a number without a stitch; name what is worked: sc 3, 5 dc in "
                   "next st"},
        {"5 dc in 2", "9 row-place: in 2 can be read in two ways; write in each of next 2 sts for once in each, or "
                      "in next st for all in one"},
        {"*sc, *dc*, sc*", "6 row-nested: a repeat between stars is inside another; write the inner one in brackets, "
                           "[dc, ch 1] 3 times or [dc, ch 1] to next ch-2 sp, or close the outer one before it"},
        {"*sc, (dc, *sc*) x 2*", "[sc 1, [dc 1, [sc 1] rep] 2 times] rep"},
        {"sc 1, *sc", "7 row-syntax: the repeat that opens here is not closed; write * after its last stitch too, or "
                      "rep from * with the number of times"},
        {"sc, (sc, dc", "5 row-syntax: the bracket that opens here is not closed; write ) where the group ends"},
        {"*(sc*", "5 row-syntax: the repeat that opens here is not closed; write * after its last stitch too, or rep "
                  "from * with the number of times\n"
                  "2 row-syntax: the bracket that opens here is not closed; write ) where the group ends"},
        {"sc)", "3 row-syntax: this bracket closes nothing; write ( where the group begins, or leave it out"},
        {"", "1 row-syntax: the row is empty; write what is worked, such as *sc 1*"},
        {"()", "1 row-syntax: this is empty; leave it out, or write what is missing"},
        {"**", "1 row-syntax: the repeat that opens here is not closed; write * after its last stitch too, or rep from "
               "* with the number of times"},
        {"sc,", "3 row-syntax: nothing stands behind this comma; leave it out, or write what is missing"},
        {",sc", "1 row-syntax: nothing stands before this comma; leave it out, or write what is missing"},
        {"*sc,*", "[sc 1] rep"},
        {"sc dc", "sc 1, dc 1"},
        {"hdcc 2", "1 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {"sc 2.5", "4 number: 2.5 is not a whole number; stitches are counted in whole numbers"},
        {"sc 0", "4 range: 0 works nothing; leave it out, or write a number from 1"},
        {"sc 1000000000001",
         "4 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"(sc 1000000) x 1000001", "[sc 1000000] 1000001 times"},
        {"(sc 3) 2", "8 row-syntax: a number after brackets needs x or times; write ( ) x 2"},
        {"3 (sc, ch)", "1 row-syntax: there is a number before brackets; write it after them: ( ) x 3"},
        {"*sc* x 3", "[sc 1] 3 times"},
        {"rep from *", "1 row-syntax: there is no * before this to repeat from; write * before the first stitch that "
                       "is repeated, in the same brackets"},
        {"sc in moon", "7 row-syntax: \"in moon\" names no place; name a stitch and its place: sc in next st, 2 dc in "
                       "ch-2 sp, (dc, ch 2) in ring"},
        {"sc in ch-sp", "sc in next ch sp"},
        {"tch", "1 row-syntax: the turning chain does not say how many chains it has; write tch 1 for one that does "
                "not count, tch 3 as dc for one that counts as one"},
        {"ch-2", "ch 2"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* A word of any length. */
static void words_of_any_length_are_reported(void **state)
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
            assert_false(hk_row_parse((struct hk_cell){.text = text}, HK_TERMS_US, *state, &row, &arena, &diags));
            assert_true(diags.errors > 0);
            hk_diags_free(&diags);
            hk_arena_free(&arena);
        }
    }
}

/* Wordings of published patterns. */
static void sentences_of_patterns_are_understood(void **state)
{
    static const struct example examples[] = {
        {"*k4, k2tog; rep from * to end", "[k 4, k2tog 1] across"},
        {"*k4, k2tog, rep from * around.", "[k 4, k2tog 1] around"},
        {"*k4, k2tog. Repeat from * across", "[k 4, k2tog 1] across"},
        {"* k4, k2tog; rep from *", "[k 4, k2tog 1] rep"},
        {"k1, *k4, k2tog; repeat from * to the end of the row", "k 1, [k 4, k2tog 1] across"},
        {"*sc 3, ch 1, sk 1; rep from * to last 2 sts, dc 2", "[sc 3, ch 1, sk next st] to last 2 sts, dc 2"},
        {"sc in next 3 sts", "sc in next 3 sts"},
        {"dc in next st, sc in the next 2 stitches", "dc in next st, sc in next 2 sts"},
        {"(sc in next 3 sts, ch 1) twice", "[sc in next 3 sts, ch 1] 2 times"},
        {"2 sc in next st", "2 sc in next st"},
        {"tch 1, sc in each st across", "tch 1, sc in each st across"},
        {"Sc in each stitch to the end.", "sc in each st across"},
        {"2 sc in each st around, join", "2 sc in each st around, join"},
        {"*sc in next 3 sts, 2 sc in next st; rep from * around", "[sc in next 3 sts, 2 sc in next st] around"},
        {"sc in same st and in each st around", "sc in same st, sc in each st around"},
        {"ch 1, sc in same st as joining, sc in each st around, join",
         "ch 1, sc in same st, sc in each st around, join"},
        {"tch 3 as dc, dc in same st, *dc*", "tch 3 as (dc 1), dc in same st, [dc 1] rep"},
        {"6 sc in magic ring", "6 sc in ring"},
        {"sc in 2nd ch from hook and in each ch across. Turn.", "sc in 2nd ch from hook, sc in each ch across, turn"},
        {"hdc in the third ch from the hook, hdc in each ch across", "hdc in 3rd ch from hook, hdc in each ch across"},
        {"Dc in 4th ch from hook and in each ch across", "dc in 4th ch from hook, dc in each ch across"},
        {"[sc in next 3 sts, 2 sc in next st] around", "[sc in next 3 sts, 2 sc in next st] around"},
        {"(sc 4, sc2tog) around, join", "[sc 4, sc2tog 1] around, join"},
        {"(sc 4, sc2tog) x 6 around",
         "20 name-unknown: around is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"3 ch (counts as dc), dc in each st across", "ch 3 (counts as dc), dc in each st across"},
        {"ch 2 (does not count as a st), dc across", "ch 2 (does not count), dc across"},
        {"sc in each st around. (40 sts)", "sc in each st around (40 sts)"},
        {"sc 3, ch 1 [4]", "sc 3, ch 1 (4 sts)"},
        {"sc 3, (ch 1)", "sc 3, [ch 1] once"},
        {"sc 3, (2 sc)", "sc 3 (2 sc)"},
        {"sc 3, (2 sc) twice (7 stitches).", "sc 3, [sc 2] 2 times (7 sts)"},
        {"sc 3, ch 1 (4), sc 1", "13 row-syntax: a number without a stitch; name what is worked: sc 3, 5 dc in "
                                 "next st"},
        {"dc 10 sts", "dc 10"},
        {"2 dc in next ch sp", "2 dc in next ch sp"},
        {"5 dc in next 3 sts", "9 row-place: this can be read in two ways: 5 in each, or 5 in all; write \"in each of "
                               "next 3\" and their kind, if this is the number in each"},
        {"sc2tog in each st across", "sc2tog in each st across"},
        /* Columns count in the original cell, also after rewritten text. */
        {"*sc in next 2 sts; rep from * to end, hdcc 2",
         "39 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* One meaning in the various words of patterns. */
static void other_words_for_the_same_come_to_the_same(void **state)
{
    static const struct example examples[] = {
        {"sc in each st to end of row", "sc in each st across"},
        {"sc in each st to the end of the rnd", "sc in each st across"},
        {"sc in each st to end of the round", "sc in each st across"},
        {"*sc 3; rep from * to end", "[sc 3] across"},
        {"*sc 3, rep from *.", "[sc 3] rep"},
        {"*sc 3; rep from * to last st; dc", "[sc 3] to last 1 sts, dc 1"},
        {"ch 3 (count as the first dc), dc in each st across", "ch 3 (counts as dc), dc in each st across"},
        {"chain 3 (counts as 1 dc), dc", "ch 3 (counts as dc), dc 1"},
        {"ch-3 (counts as dc throughout), dc", "ch 3 (counts as dc), dc 1"},
        {"ch 4 (counts as dc + ch 1), dc", "ch 4 (counts as dc and ch 1), dc 1"},
        {"join in first st, sc", "join to first st, sc 1"},
        {"join rnd", "join"},
        {"join round with sl st", "join"},
        {"join to top of tch", "join to top of tch"},
        {"join", "join"},
        {"ss to first st", "1 row-terms: ss is a UK word, and this project has terms,US; write sl st"},
        {"sl st in first st", "sl st in first st"},
        {"sc 3 in front loop only", "sc 3"},
        {"dc 2 through the back loop", "dc 2"},
        {"hdc in the third loop", "hdc 1"},
        {"hdc in the 3rd loops", "hdc 1"},
        {"sc in the skipped stitch", "sc in next skipped st"},
        {"sc 2 in next chs",
         "14 row-place: the number of these places is not stated; write each st across, or their number: next 3 sts"},
        {"sc 2 in each next st", "2 sc in each st"},
        {"[sc, ch 1] twice", "[sc 1, ch 1] 2 times"},
        {"{sc, ch 1} x 2", "[sc 1, ch 1] 2 times"},
        {"sc in chain-2 space", "sc in next ch-2 sp"},
        {"sc in ch 2 sp", "sc in next ch-2 sp"},
        {"(sc, ch 1) X 2", "[sc 1, ch 1] 2 times"},
        {"(sc, ch 1) 2 times", "[sc 1, ch 1] 2 times"},
        {"treble", "tr 1"},
        {"double treble crochet 2", "dtr 2"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* Text that begins like such words but differs: each word is reported at its place in the cell. */
static void what_only_begins_like_a_sentence_is_reported(void **state)
{
    static const struct example examples[] = {
        {"*sc 3; rep from * to last 2 sts", "[sc 3] to last 2 sts"},
        {"*sc 3; rep from * to last moon, dc",
         "27 name-unknown: moon is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"sc 2, rep from * to end",
         "7 row-syntax: there is no * before this to repeat from; write * before the first stitch that "
         "is repeated, in the same brackets"},
        {"*(sc, rep from *) x 2*",
         "7 row-syntax: there is no * before this to repeat from; write * before the first stitch that "
         "is repeated, in the same brackets"},
        {"*sc, repeat this", "[sc 1] rep"},
        {"*sc, rep from here*",
         "6 row-syntax: the start of this repeat is not marked; write * before its first stitch: *sc in "
         "next st, ch 1; rep from * across"},
        {"ch 3 (counts 1 dc), dc",
         "7 row-syntax: \"counts\" is not understood here; write (counts as dc), or (does not count as "
         "a st)"},
        {"ch 3 (counts as 10), dc",
         "7 row-syntax: \"counts\" is not understood here; write (counts as dc), or (does not count as "
         "a st)"},
        {"ch 3 (counts as ), dc", "ch 3 (counts as st), dc 1"},
        {"ch 3 (counts as [dc]), dc",
         "7 row-syntax: \"counts\" is not understood here; write (counts as dc), or (does not count as "
         "a st)"},
        {"ch 3 (dc 2), dc", "ch 3, [dc 2] once, dc 1"},
        {"dc 2 through both loops", "dc 2"},
        {"hdc in back post",
         "8 row-syntax: \"in back\" names no place; name a stitch and its place: sc in next st, 2 dc in "
         "ch-2 sp, (dc, ch 2) in ring"},
        {"sc in skipped moon",
         "15 name-unknown: moon is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"sc 2, fasten off yarn", "18 name-unknown: yarn is not a stitch in US terms; did you mean \"yarn over\"?"},
        {"sk next moon",
         "4 row-syntax: \"next\" is not understood here; name the stitch first: sc in next 3 sts, sc in "
         "each st across"},
        {"sk next 2 chs of",
         "15 name-unknown: of is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"skip 2 dc of the shell",
         "11 name-unknown: of is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"sc in next ch-2", "sc in top of ch-2"},
        {"2 sc in next 3 ch-2 sps", "9 row-place: this can be read in two ways: 2 in each, or 2 in all; write \"in "
                                    "each of next 3\" and their kind, if this is the number in each"},
        {"sc ~ 2", "4 row-syntax: \"~\" is not understood here; name what is worked, such as sc in next 3 sts or "
                   "ch 2"},
        {"sc in ch-2", "sc in top of ch-2"},
        {"sc in ch- sp", "sc in next ch sp"},
        {"sc in ch-0 sp", "10 range: a space of 0 chains is none; write of how many chains it is, such as ch-2 sp"},
        {"sc in each of", "14 row-syntax: a stitch is missing here; name what is worked, such as sc in next 3 sts or "
                          "ch 2"},
        {"sc in each of 0", "15 range: 0 works nothing; leave it out, or write a number from 1"},
        {"sc in each of the",
         "18 row-syntax: a stitch is missing here; name what is worked, such as sc in next 3 sts or "
         "ch 2"},
        {"(sc, ch 1) x", "12 row-syntax: \"x\" is not understood here; write it after brackets: (sc, ch 1) x 3"},
        {"(sc, ch 1) x 0", "14 range: 0 times works nothing; leave it out, or write a number from 1"},
        {"(sc, ch 1) 2 moons",
         "14 name-unknown: moons is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"tch 3 as (*sc*)", "11 row-syntax: a turning chain counts as stitches and chains only; write the stitches "
                            "that it counts as: tch 4 as (dc, ch 1)"},
        {"tch 3 as (tch 2)", "11 row-syntax: a turning chain counts as stitches and chains only; write the stitches "
                             "that it counts as: tch 4 as (dc, ch 1)"},
        {"tch 3 as (cut 20 cm)", "11 row-syntax: a turning chain counts as stitches and chains only; write the "
                                 "stitches that it counts as: tch 4 as (dc, ch 1)"},
        {"cut 0 cm", "5 range: the cut length is 0; write a length like cut 30 cm or cut 12 in"},
        {"cut 99999999999 km", "5 range: the cut length is too large; write a length like cut 30 cm or cut 12 in"},
        {"cut 20 cm x", "11 row-syntax: \"x\" is not understood here; write it after brackets: (sc, ch 1) x 3"},
        {"cut 20 cm x 0", "13 range: 0 times works nothing; leave it out, or write a number from 1"},
        {"cut 20", "5 unit-missing: the cut length has no unit; write a length like cut 30 cm or cut 12 in"},
        {"cut 20 g", "5 unit-wrong: 20 g is no length; write a length like cut 30 cm or cut 12 in"},
        {"sc*2", "4 row-syntax: a number without a stitch; name what is worked: sc 3, 5 dc in "
                 "next st"},
        {"*sc**dc*", "1 row-syntax: the purpose of ** in this repeat is not stated; write rep from * across, ending "
                     "last rep at **; or a comma between two repeats: *sc 1*, *dc 1*"},
        {"*sc*dc", "[sc 1] rep, dc 1"},
        {"(sc))", "5 row-syntax: this bracket closes nothing; write ( where the group begins, or leave it out"},
        {"sc & dc", "sc 1, dc 1"},
        {"front post",
         "1 name-unknown: front is not a stitch in US terms; did you mean \"front post single crochet\"?"},
        {"sc in next", "7 row-syntax: \"in next\" names no place; name a stitch and its place: sc in next st, 2 dc in "
                       "ch-2 sp, (dc, ch 2) in ring"},
        {"sc, in 1", "5 row-syntax: \"in\" is not understood here; write the stitch first: 5 dc in next st"},
        {"x 2", "1 row-syntax: \"x\" is not understood here; write it after brackets: (sc, ch 1) x 3"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* 10^12 is the largest number allowed; the results of rows have their own limits (test_count.c). */
static void no_number_is_too_large(void **state)
{
#define TOO_LARGE " count-too-large: a count is above 1000000000000; look for a number with too many digits"
    static const struct example examples[] = {
        {"dc2tog 1000000000000", "dc2tog 1000000000000"},
        {"dc2tog 1000000000001", "8" TOO_LARGE},
        {"1000000000001 sc in next st", "1" TOO_LARGE},
        {"2 sc in each of 1000000000001", "17" TOO_LARGE},
        {"(sc 1000000000001, ch 1) x 2", "5" TOO_LARGE},
        {"(sc) x 99999999999999999999999", "8" TOO_LARGE},
        {"tch 1000000000001", "5" TOO_LARGE},
        {"join 1000000000001", "6" TOO_LARGE},
        {"ch 1000000000001", "4" TOO_LARGE},
        {"sk 1000000000001", "4" TOO_LARGE},
        {"cut 20 cm 1000000000001 times", "11" TOO_LARGE},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* The most common places, in the words of patterns. */
static void places_are_understood_as_patterns_name_them(void **state)
{
    static const struct example examples[] = {
        {"2 sc in first 2 sts, 3 sc in last 3 sts", "sc in first 2 sts, sc in last 3 sts"},
        {"3 sc in first 2 sts", "9 row-place: this can be read in two ways: 3 in each, or 3 in all; write \"in each of "
                                "first 2\" and their kind, if this is the number in each"},
        {"2 sc in each of first 2 sts, 2 sc in each of last 2 sts",
         "2 sc in each of first 2 sts, 2 sc in each of last 2 sts"},
        {"sc2tog over first 3 sts",
         "13 row-place: sc2tog takes 2 stitches, and 3 places are named; write over first 2 sts"},
        {"sc2tog over first 2 sts, sc3tog in first 6 sc", "sc2tog in first st, sc3tog in first 6 sc"},
        /* A cluster over places of its own is a decrease; in one place it is a cluster (common practice, no source). */
        {"3-dc cluster over first 3 sts, 2-tr cl over next 4 sts, cl over next 3 sts",
         "dc3tog in first st, tr2tog in next 4 sts, dc3tog in next st"},
        {"3-dc cl over next st, 3-dc cl in next 2 sts, 3-dc cl in next st, 3-dc cl over same st",
         "3-dc cl in next st, 3-dc cl in next 2 sts, 3-dc cl in next st, 3-dc cl in same st"},
        {"3-dc cl over next 4 sts",
         "14 row-place: dc3tog takes 3 stitches, and 4 places are named; write over next 3 sts"},
        {"sc in skipped sc, 2 dc in missed dc, tr in each of 2 skipped dc sts, sk skipped dc",
         "sc in next skipped sc, 2 dc in next skipped dc, tr in each of next 2 skipped dc, sk next skipped dc"},
        {"2 sc in first st, sc in each st to last st, 2 sc in last st",
         "2 sc in first st, sc in each st to last 1 sts, 2 sc in last st"},
        {"dc in next st and in each st across", "dc in next st, dc in each st across"},
        {"sc in each of next 4 sts, sc in last 2 dc", "sc in each of next 4 sts, sc in last 2 dc"},
        {"sc in first ch-2 sp, 3 dc in next ch-3 space", "sc in first ch-2 sp, 3 dc in next ch-3 sp"},
        {"*sk next st, dc in next st, dc in skipped st; rep from * to end",
         "[sk next st, dc in next st, dc in next skipped st] across"},
        {"sk next 2 sts, skip the first dc, sk 3 sts, sk 4",
         "sk next 2 sts, sk first dc, sk next 3 sts, sk next 4 sts"},
        {"sk next ch-2 sp", "sk next ch-2 sp"},
        {"*fpdc around next st, bpdc around each of next 2 sts; rep from * across",
         "[FPdc in next st, BPdc in each of next 2 sts] across"},
        {"sc in each sc across", "sc in each sc across"},
        {"sc in back loop only across, 2 hdc in the 3rd loop in 1", "sc across, 2 hdc in next st"},
        {"*sc, dc; rep from * around, join with sl st to first sc", "[sc 1, dc 1] around, join to first sc"},
        {"sc 5, sl st to top of ch-3, fasten off.", "sc 5, join to top of ch-3"},
        {"k1, m1, k to last st, m1, k1", "k 1, M1 1, k to last 1 sts, M1 1, k 1"},
        {"k2, p2 across", "[k 2, p 2] across"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* Chains that only lift the hook leave no stitch; those that count are needed as the stitch that they replace. */
static void chains_that_turn_are_distinguished_from_those_that_widen(void **state)
{
    static const struct example examples[] = {
        {"ch 3 (counts as first dc here and throughout), dc in each st across",
         "ch 3 (counts as dc), dc in each st across"},
        {"ch 4 (counts as dc and ch-1), sk 1, dc", "ch 4 (counts as dc and ch 1), sk next st, dc 1"},
        {"ch 3 (counts as a dc, sc",
         "7 row-syntax: \"counts\" is not understood here; write (counts as dc), or (does not count as "
         "a st)\n"
         "6 row-syntax: the bracket that opens here is not closed; write ) where the group ends"},
        {"sc across, ch 1, turn", "sc across, ch 1, turn"},
        {"turn, ch 1, sc across", "turn, ch 1, sc across"},
        {"ch 1, sc across, turn", "ch 1, sc across, turn"},
        {"ch 2, turn, ch 2", "ch 2, turn, ch 2"},
        {"sc 4, ch 20, turn", "sc 4, ch 20, turn"}, /* too many to turn with: the work widens */
        {"(ch 3), sc 2", "[ch 3] once, sc 2"},
        {"ch 6, join", "ch 6, join"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* The no-break space and the dash before it take more bytes than their replacements: columns count characters. */
static void columns_are_those_of_the_cell_as_written(void **state)
{
    static const struct example examples[] = {
        {"sc\xC2\xA0"
         "3, dc in ch\xE2\x80\x93"
         "1 sp, hdcc 2",
         "22 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void each_wrong_item_is_reported(void **state)
{
    static const struct example examples[] = {
        {"hdcc 2, sc 3 3 dc, (scc, ch 1) x 2, 5 dc in 3",
         "1 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?\n"
         "21 name-unknown: scc is not a stitch in US terms; did you mean \"sc\"?\n"
         "45 row-place: in 3 can be read in two ways; write in each of next 3 sts for once in each, "
         "or in next st for all in one"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* A star after a comma closes the repeat if no text is attached to it. */
static void a_star_behind_a_comma_closes(void **state)
{
    static const struct example examples[] = {
        {"*sc 1, *", "[sc 1] rep"},
        {"*sc 1, *; sc 2", "[sc 1] rep, sc 2"},
        {"(*sc 1, *)", "[[sc 1] rep] once"},
        {"(*sc 1, * ) x 2", "[[sc 1] rep] 2 times"},
        {"*sc 1, **sc 2*",
         "1 row-syntax: the purpose of ** in this repeat is not stated; write rep from * across, ending "
         "last rep at **; or a comma between two repeats: *sc 1*, *dc 1*"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void places_and_times_that_only_begin_well_are_reported(void **state)
{
    static const struct example examples[] = {
        {"sc in ch-1-sp", "sc in next ch-1 sp"},
        {"sc in ch 1-sp", "sc in next ch-1 sp"},
        {"sc in next dragon",
         "7 row-syntax: \"in next\" names no place; name a stitch and its place: sc in next st, 2 dc in "
         "ch-2 sp, (dc, ch 2) in ring"},
        {"sc in next st", "sc in next st"},
        {"(sc 1) 3 timely",
         "10 name-unknown: timely is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"ch 2 in next st, sc 1",
         "9 row-syntax: \"in next\" names no place; name a stitch and its place: sc in next st, 2 dc in "
         "ch-2 sp, (dc, ch 2) in ring"},
        {"(ch 2), sc 1", "[ch 2] once, sc 1"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/*
 * In a cell of junk 20 mistakes are reported, and a word as long as a sentence is not searched for among the stitches.
 */
static void garbage_is_reported_up_to_a_limit(void **state)
{
    char make[LINE_MOST] = "", text[LINE_MOST];
    size_t lines = 1;
    for (size_t i = 0; i < 40; i++)
        strcat(make, i ? ",0 sc" : "0 sc");
    read_row(*state, HK_TERMS_US, make, text, sizeof text);
    for (const char *at = text; *at; at++)
        lines += *at == '\n';
    assert_int_equal(lines, 20);
    memset(make, 'q', 200);
    make[200] = '\0';
    read_row(*state, HK_TERMS_US, make, text, sizeof text);
    assert_string_equal(text, "1 name-unknown: qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq is not a stitch in US terms; "
                              "write it in stitches that hankful tables stitches lists");
}

/* 32 nested brackets are read, 33 are not; thousands do no harm. */
static void brackets_nest_to_a_limit(void **state)
{
    char make[LINE_MOST], text[LINE_MOST];
    memset(make, '(', 32);
    strcpy(make + 32, "sc 2");
    memset(make + 36, ')', 32);
    make[68] = '\0';
    read_row(*state, HK_TERMS_US, make, text, sizeof text);
    char once[LINE_MOST] = "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[sc 2]";
    for (size_t i = 0; i < 32; i++)
        strcat(once, i ? "] once" : " once");
    assert_string_equal(text, once);
    memset(make, '(', 2000);
    strcpy(make + 2000, "sc 2");
    read_row(*state, HK_TERMS_US, make, text, sizeof text);
    assert_string_equal(text, "33 row-syntax: brackets are nested more than 32 deep; "
                              "write the row with fewer brackets in each other");
}

/* Random pieces of notation: a row or a finding, never a crash. */
static void junk_gives_a_row_or_a_finding(void **state)
{
    static const char *const pieces[] = {"sc",
                                         "dc ",
                                         "5-dc bobble",
                                         "3",
                                         " 2 ",
                                         "(",
                                         ")",
                                         "[",
                                         "]",
                                         "*",
                                         ",",
                                         ";",
                                         " in ",
                                         "in 1",
                                         "in each of 2",
                                         " x 3",
                                         "twice",
                                         "tch 3 as ",
                                         "tch",
                                         "join",
                                         "cut 3 cm",
                                         "cut",
                                         "BLO ",
                                         ".",
                                         "-",
                                         "ch-1 sp",
                                         "same",
                                         "ring",
                                         "×",
                                         "½",
                                         "\xC3\xA9",
                                         "999999999999",
                                         "as",
                                         "turn",
                                         "sk",
                                         "\xE2\x80\x93",
                                         "times",
                                         "+",
                                         "'",
                                         "&",
                                         "; rep from * ",
                                         "to end",
                                         " to last 2 sts, ",
                                         " in next 3 sts",
                                         " in each st around",
                                         "repeat from *",
                                         " across"};
    uint64_t seed = 4;
    char make[LINE_MOST], text[LINE_MOST];
    for (size_t trial = 0; trial < RANDOM_CASES(4000); trial++) {
        make[0] = '\0';
        for (size_t i = 0, n = 1 + trial % 24; i < n; i++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u; /* Knuth's MMIX generator */
            strcat(make, pieces[(seed >> 33) % (sizeof pieces / sizeof *pieces)]);
        }
        read_row(*state, trial % 2 ? HK_TERMS_US : HK_TERMS_UK, make, text, sizeof text);
        assert_true(text[0] != '\0');
    }
}

/* ---- Forms of the language ---- */

#define NOTHING "0 works nothing; leave it out, or write a number from 1"
#define NO_TIMES "0 times works nothing; leave it out, or write a number from 1"
#define NOT_CLOSED "the bracket that opens here is not closed; write ) where the group ends"
#define EVERY_OTHER "\"every other\" is not read; write what repeats: *sc in next st, sk next st; rep from * across"
#define THREE_FOR_ONE "3 values for 1 size; write one value for all sizes, or one for each: 12 (14, 16)"
#define NO_USE                                                                                                         \
    "the purpose of ** in this repeat is not stated; write rep from * across, ending last rep at **; or a comma "      \
    "between two repeats: *sc 1*, *dc 1*"
#define HALF "1/2 is not a whole number; stitches are counted in whole numbers"
#define NESTED                                                                                                         \
    "a repeat between stars is inside another; write the inner one in brackets, [dc, ch 1] 3 times or "                \
    "[dc, ch 1] to next ch-2 sp, or close the outer one before it"

static void times_are_read_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"(sc 1, ch 1) 3 more", "[sc 1, ch 1] 4 times"},
        {"(sc 1) x 3 more", "[sc 1] 4 times"},
        {"(sc 1) 3 times more", "[sc 1] 4 times"},
        {"(sc 1) 3 additional times", "[sc 1] 4 times"},
        {"(sc 1) 3 times in all", "[sc 1] 3 times"},
        {"(sc 1) 3 times total", "[sc 1] 3 times"},
        {"(sc 1) once more", "[sc 1] 2 times"},
        {"(sc 1) twice more", "[sc 1] 3 times"},
        {"(sc 1) three times", "[sc 1] 3 times"},
        {"(sc 1) 0 more times", "[sc 1] once"},
        {"(sc 1, ch 1) rep 0 times", "18 range: " NO_TIMES},
        {"(sc 1, ch 1) repeat this 3 times", "[sc 1, ch 1] rep 3 times"},
        {"(dc, ch 1, dc) in next st 3 times", "[(dc 1, ch 1, dc 1) in next st] 3 times"},
        {"(dc, ch 1, dc) in next st 3 more times", "[(dc 1, ch 1, dc 1) in next st] 4 times"},
        {"(dc, ch 1) in next st 0 times, sc 1", "23 range: " NO_TIMES},
        {"2 sc in next st 3 times", "[2 sc in next st] 3 times"},
        {"2 sc in next st 3 more times", "[2 sc in next st] 4 times"},
        {"2 sc in next st 0 times", "17 range: " NO_TIMES},
        {"sc in same st twice",
         "15 row-syntax: \"twice\" is not understood here; write it after brackets: (sc, ch 1) 3 "
         "times"},
        {"sc inc twice", "sc 2 inc"},
        {"sc dec 3 times, sc 1", "sc2tog 3, sc 1"},
        {"sc inc 0 times", "8 range: " NO_TIMES},
        {"(sc 3) 2, dc 1", "8 row-syntax: a number after brackets needs x or times; write ( ) x 2"},
        {"(sc 3) 2; dc 1", "8 row-syntax: a number after brackets needs x or times; write ( ) x 2"},
        {"(sc 3) 2 dc", "[sc 3] once, dc 2"},
        {"(sc 3) 2 (dc)", "8 row-syntax: there is a number before brackets; write it after them: ( ) x 3"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void repeats_between_stars_end_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"*sc 1, ch 1*; rep from * to * 3 times", "[sc 1, ch 1] rep 3 times"},
        {"*sc 1, ch 1*, rep between first * and * across", "[sc 1, ch 1] across"},
        {"**sc 1, ch 1**, rep from ** to ** twice", "[sc 1, ch 1] rep 2 times"},
        {"*sc 1, ch 1, ** dc 1; rep from * to ** 2 times", "23 row-syntax: " NO_USE},
        {"*sc 1, ** ch 1; rep from * across, ending last rep at **",
         "*sc 1, ** ch 1, rep from * across, ending last rep at **"},
        {"*sc 1, ch 1; rep from * across, ending with sc in last st", "[sc 1, ch 1] across, sc in last st"},
        {"*sc 1, **; rep from * across, ending last rep at **", "[sc 1] across"},
        {"* **sc 1; rep from * across", "[sc 1] across"},
        {"*sc 1, *(dc, ch 1) in next st, sc 1*", "8 row-nested: " NESTED},
        {"*sc 1, *dc 1**, sc 2", "8 row-nested: " NESTED},
        {"*sc 1, *dc 1", "8 row-nested: " NESTED},
        {"*sc 1; rep from * to last 2 (3, 4) sts", "27 grade-count: " THREE_FOR_ONE},
        {"(sc, dc) to last 2 (3, 4) sts, sc 1", "18 grade-count: " THREE_FOR_ONE},
        {"*sc 1, (ch 1, sk 1) rep from * across", "[sc 1, [ch 1, sk next st] once] across"},
        {"turn, k1, p1 around", "turn, [k 1, p 1] around"},
        {"sl st 2, ch 1, sc 1, dc 1 across", "sl st 2, ch 1, [sc 1, dc 1] across"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void remarks_work_nothing(void **state)
{
    static const struct example examples[] = {
        {"sc 3 (RS)", "sc 3"},
        {"sc 3 (wrong side), dc 1", "sc 3, dc 1"},
        {"sc 3, ch 1, (not included), sc 1", "sc 3, ch 1, sc 1"},
        {"sc 3 (center st), sc 3", "sc 3, sc 3"},
        {"sc 3 [centre st], sc 3", "sc 3, sc 3"},
        {"sc 3 (approx), sc 1", "sc 3, sc 1"},
        {"sc 3 (30 rows)", "sc 3"},
        {"sc 3 (12 cm), sc 2", "sc 3, sc 2"},
        {"sc 3, fasten off", "sc 3"},
        {"sc 3, cut the yarn", "sc 3"},
        {"sc 3, break yarn, weave in ends", "sc 3"},
        {"sc 3, fasten off, leaving a 40 cm tail for sewing", "sc 3"},
        {"sc 3, finish off leaving a long tail", "sc 3"},
        {"sc 3, leave a 12\"\" end to sew with", "sc 3"},
        {"make a magic ring, 6 sc in ring", "6 sc in ring"},
        {"form an adjustable loop, 6 sc in ring", "6 sc in ring"},
        {"6 sc in ring, pull ring closed", "6 sc in ring"},
        {"6 sc in ring, draw the loop tight, join", "6 sc in ring, join"},
        {"6 sc in ring, close ring", "6 sc in ring"},
        {"RS facing, sc 3", "sc 3"},
        {"with WS facing, sc 3", "sc 3"},
        {"work in a spiral, sc 3", "sc 3"},
        {"sc 3, do not turn", "sc 3"},
        {"sc 3, don't join", "sc 3"},
        {"sc 3, do not cut the yarn", "sc 3"},
        {"ch 3, here and throughout, sc 3", "ch 3, sc 3"},
        {"BO 3, loosely", "BO 3"},
        {"join with sl st at end of rnds throughout, sc 3", "sc 3"},
        {"*dc 1; rep from * across, working last dc in top of ch-3", "[dc 1] across"},
        {"*dc 1; rep from * across, making the last st in top of tch", "[dc 1] across"},
        {"*dc 1; rep from * across, working last dc in every other st", "52 row-place: " EVERY_OTHER},
        {"dc 1, working last dc",
         "7 name-unknown: working is not a stitch in US terms; write it in stitches that hankful "
         "tables stitches lists"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void what_chains_count_as_is_read_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"ch 3 (this counts as dc), dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 (these 3 ch count as dc), dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 - counts as dc, dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3, counts as dc, dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 [counts as dc], dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 (beg ch- counts as dc), dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 4 (counts as dc, ch 1), dc 1", "ch 4 (counts as dc and ch 1), dc 1"},
        {"ch 5 (counts as 1 dc and ch-2 sp), sk 2, dc 1", "ch 5 (counts as dc and ch 2), sk next 2 sts, dc 1"},
        {"ch 4 (counts as dc plus a ch), dc 1", "ch 4 (counts as dc and ch 1), dc 1"},
        {"ch 2 (doesn't count as a st), dc 1", "ch 2 (does not count), dc 1"},
        {"ch 2 (is not counted as a stitch), dc 1", "ch 2 (does not count), dc 1"},
        {"ch 2 (will not count), dc 1", "ch 2 (does not count), dc 1"},
        {"ch 2 (not counted), dc 1", "ch 2 (does not count), dc 1"},
        {"ch 3 (counts as dc in each row), dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 (counts as dc in all rnds), dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 (counts as first dc at beginning of row), dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 (counts as dc in every row and throughout), dc 1", "ch 3 (counts as dc), dc 1"},
        {"dc in 4th ch from hook (3 skipped ch count as dc), dc 1", "dc in 4th ch from hook (counts as st), dc 1"},
        {"dc in 4th ch from hook (skipped 3 ch count as dc), dc 1", "dc in 4th ch from hook (counts as st), dc 1"},
        {"dc in 4th ch from hook (beg ch-3 counts as dc), dc 1", "dc in 4th ch from hook (counts as st), dc 1"},
        {"dc in 4th ch from hook (skipped chs do not count), dc 1", "dc in 4th ch from hook (does not count), dc 1"},
        {"tch 3 (counts as dc), dc 1", "ch 3 (counts as dc), dc 1"},
        {"turning ch 3 (counts as st), dc 1", "ch 3 (counts as st), dc 1"},
        {"tch 2 (does not count), dc 1", "tch 2 (does not count), dc 1"},
        {"tch 4 as ch 4, sc 1", "tch 4 as (ch 4), sc 1"},
        {"tch 4 as ch, sc 1", "tch 4 as (ch 1), sc 1"},
        {"tch 3 as ch 1/2", "13 number: " HALF},
        {"tch 3 as hdcc", "10 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {"tch 3 as (dc, sc 1", "10 row-syntax: " NOT_CLOSED},
        {"tch 3 as (hdcc), sc 1", "11 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {"tch 3 as (inc), sc 1", "11 row-syntax: a turning chain counts as stitches and chains only; write the "
                                 "stitches that it counts as: tch 4 as (dc, ch 1)"},
        {"ch 3 (counts as 1 st), dc 1", "ch 3 (counts as st), dc 1"},
        {"tch 3 as (), sc 1", "10 row-syntax: this is empty; leave it out, or write what is missing"},
        {"ch 0, sc 1", "4 range: " NOTHING},
        {"ch 1/2, sc 1", "4 number: " HALF},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void joins_and_markers_are_read_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"sc 6, join with slst in first sc", "sc 6, join to first sc"},
        {"ch 6, join to form a ring", "ch 6, join"},
        {"sc 6, join at the beginning", "sc 6, join"},
        {"sc 6, sl st to join", "sc 6, join"},
        {"sc 6, sl st and join", "sc 6, join"},
        {"sc 6, sl st to first sc, turn", "sc 6, join to first sc, turn"},
        {"join new color with sl st in any ch-2 sp, sc 1", "join yarn to next ch-2 sp, sc 1"},
        {"sl st across", "sl st across"},
        {"sc 3, mark last st, sc 3", "sc 3, pm, sc 3"},
        {"sc 1, place marker, sc 3", "sc 1, pm, sc 3"},
        {"k 3, pm, k 3", "k 3, pm, k 3"},
        {"k 3, slip marker, k 3", "k 3, sm, k 3"},
        {"k 3, remove marker, k 3", "k 3, rm, k 3"},
        {"k 3, rm, k 3", "k 3, rm, k 3"},
        {"sc 6, move marker up", "sc 6"},
        {"k 3, w&t", "k 3, turn"},
        {"k 3, wrap and turn", "k 3, turn"},
        {"k 3, wrap next st & turn", "k 3, turn"},
        {"sc 3, working along the other side of the foundation ch, sc 3", "sc 3, working along other side, sc 3"},
        {"sc 3, work along the other side of the ch, sc 3", "sc 3, working along other side, sc 3"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void places_are_skipped_left_and_held_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"sk one st, sc 1", "sk next st, sc 1"},
        {"sk 2-ch sp, sc 1", "sk next ch-2 sp, sc 1"},
        {"sk 5-dc bobble, sc 1", "sk next 5-dc bobble, sc 1"},
        {"sk 2 dc, sc 1", "sk next 2 dc, sc 1"},
        {"sk, sc 1", "sk next st, sc 1"},
        {"sk next 3 sts for left sleeve, sc 1", "sk next 3 sts for left sleeve, sc 1"},
        {"sc 3, sk 2 - 3 sts", "sc 3, sk next 2 sts (3 sts)"},
        {"sk every other st, sc 1", "10 row-place: " EVERY_OTHER},
        {"sk 2 every other st, sc 1", "12 row-place: " EVERY_OTHER},
        {"sk 2 next 3 sts",
         "6 row-syntax: \"next\" is not understood here; name the stitch first: sc in next 3 sts, sc "
         "in each st across"},
        {"sk 0, sc 1", "4 range: " NOTHING},
        {"sk 2-3, sc 1",
         "6 name-unknown: 3 is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists"},
        {"sk 2-dc, sc 1",
         "4 row-place: in 2 can be read in two ways; write in each of next 2 sts for once in each, or in "
         "next st for all in one"},
        {"sk 2 all sts, sc 1",
         "6 name-unknown: all is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"sk 2 last sts, sc 1",
         "6 name-unknown: last is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists"},
        {"sc 3, leaving rem sts unworked", "sc 3, leave each st across unworked"},
        {"sc 3, leave last 2 sts unworked", "sc 3, leave last 2 sts unworked"},
        {"sc 3, leave every other st unworked", "19 row-place: " EVERY_OTHER},
        {"sc 3, leave hdcc", "13 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {"place next 3 sts on hold for left sleeve, sc 1", "place next 3 sts on hold for left sleeve, sc 1"},
        {"place next 3 sts on a holder (left sleeve), sc 1", "place next 3 sts on hold for left sleeve, sc 1"},
        {"put first 3 sts on scrap yarn, sc 1", "place first 3 sts on hold, sc 1"},
        {"place next 0 sts on hold, sc 1", "12 range: " NOTHING},
        {"place next every other st on hold, sc 1",
         "1 name-unknown: place is not a stitch in US terms; write it in stitches "
         "that hankful tables stitches lists"},
        {"slip next 2 sts purlwise, k 1", "sl in next 2 sts, k 1"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void stitches_are_placed_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"sc in next st and 2 in last st", "sc in next st, 2 sc in last st"},
        {"sc in next st and last st", "sc in next st, sc in last st"},
        {"sc in next st, then in top of ch-3", "sc in next st, sc in top of ch-3"},
        {"sc in next st and dc in last st", "sc in next st, dc in last st"},
        {"sc in next st and 1/2 in last st", "19 number: " HALF},
        {"sc in next st and in every other st", "28 row-place: " EVERY_OTHER},
        {"sc in next st and each other st", "24 row-place: " EVERY_OTHER},
        {"sc in next st and to hdcc",
         "19 name-unknown: to is not a stitch in US terms; write it in stitches that hankful "
         "tables stitches lists"},
        {"sc each other st", "9 row-place: " EVERY_OTHER},
        {"sc in next st and 2 next",
         "21 row-syntax: \"next\" is not understood here; name the stitch first: sc in next "
         "3 sts, sc in each st across"},
        {"sc2tog over next 4 sts, sc 1", "sc2tog in next 4 sts, sc 1"},
        {"sc2tog over next 2 sts and in next 3 sts", "31 row-place: sc2tog takes 2 stitches, and 3 places are named; "
                                                     "write over next 2 sts"},
        {"hdc inc, sc 1", "hdc 1 inc, sc 1"},
        {"sc in 112th ch from hook, sc 1", "sc in 112th ch from hook, sc 1"},
        {"sc in 23rd ch from hook, sc 1", "sc in 23rd ch from hook, sc 1"},
        {"sc in 125th ch from hook, sc 1", "sc in 125th ch from hook, sc 1"},
        {"M1 2 across, k 1", "M1 2 across, k 1"},
        {"FPsc dec, sc 1", "6 name-unknown: a decrease of FPsc is in no table; name the decrease, such as sc2tog or "
                           "k2tog"},
        {"sl 2 with yarn in front, k 3", "sl 2, k 3"},
        {"sl 1 as if to purl, k 1", "sl 1, k 1"},
        {"sl 1, k2tog, psso, k 1", "sk2p 1, k 1"},
        {"sl 1 kwise, k1, psso, k 1", "skp 1, k 1"},
        {"sl 2 tog knitwise, k1, p2sso, k 1", "s2kp 1, k 1"},
        {"sl 2 sts together knitwise, k 1, psso, k 1", "s2kp 1, k 1"},
        {"sl 2 as if to k2tog, k1, p2sso, k 1", "s2kp 1, k 1"},
        {"in blo, sc 3", "sc 3"},
        {"back loops only, sc 3", "sc 3"},
        {"FLO, sc 3", "sc 3"},
        {"working in the back loop only, sc 3", "sc 3"},
        {"sc 3, blo", "10 row-syntax: a stitch is missing here; name what is worked, such as sc in next 3 sts or ch 2"},
        {"and then now work sc 3", "sc 3"},
        {"then (sc 1, ch 1) twice", "[sc 1, ch 1] 2 times"},
        {"sc 2, and *dc 1*", "sc 2, [dc 1] rep"},
        {"sc 3 dc", "6 row-syntax: a comma is missing before dc; write a comma between items: sc 3, ch 1"},
        {"sc 3dc", "5 row-syntax: a comma is missing before dc; write a comma between items: sc 3, ch 1"},
        {"sc3 dc 2", "sc 3, dc 2"},
        {"k2, p2 to marker, k 1",
         "5 row-place: p has both a number and a place that it goes up to; write [p 2] to marker for "
         "what repeats up to there, or p to marker"},
        {"[k2, p2] to marker, k 1", "[k 2, p 2] to next marked st, k 1"},
        {"k2, p to marker, k 1", "k 2, p to next marked st, k 1"},
        {"cut 1/0 cm", "5 unit-missing: the cut length has no unit; write a length like cut 30 cm or cut 12 in"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

static void what_a_row_comes_to_is_read_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"sc 6 - 6 sts", "sc 6 (6 sts)"},
        {"sc 6 = 6 sts", "sc 6 (6 sts)"},
        {"sc 6 == 6 sts", "sc 6 (6 sts)"},
        {"sc 6 -- 6 sts", "sc 6 (6 sts)"},
        {"sc 6. 6 sts", "sc 6 (6 sts)"},
        {"sc 6: 6 sc", "sc 6 (6 sc)"},
        {"sc 6, inc 2 (10 sts) (4 sts inc'd)", "sc 6, inc 2 (10 sts, 4 sts increased)"},
        {"sc 6, dec 2 (2 sts dec'd)", "sc 6, dec 2 (2 sts decreased)"},
        {"sc 6 - hdcc", "8 name-unknown: hdcc is not a stitch in US terms; did you mean \"hdc\"?"},
        {NULL, NULL},
    };
    assert_examples(*state, HK_TERMS_US, examples);
}

/* A word that represents these steps. */
static struct hk_definition define(const char *name, const char *steps, const struct hk_row_words *words,
                                   struct hk_arena *arena)
{
    struct hk_row row;
    struct hk_diags diags = {0};
    if (!written_read(steps, words, &row, arena, &diags))
        assert_findings(&diags, "");
    return (struct hk_definition){name, row.steps, row.step_count};
}

/* 1001 steps: more than a word may represent. */
static struct hk_step *many_steps(const struct hk_row_words *words, struct hk_arena *arena)
{
    struct hk_step *steps = hk_arena_take(arena, 1001, sizeof *steps);
    const struct hk_definition one = define("one", "sc 1", words, arena);
    for (size_t i = 0; i < 1001; i++)
        steps[i] = one.steps[0];
    return steps;
}

/* Like read_row, for words of a written pattern: in a number of sizes, with yarns and definitions. */
static void assert_pattern_examples(const struct hk_catalogue *catalogue, size_t sizes, const struct example *examples)
{
    static const char *const yarns[] = {"Fog", "Down"};
    struct hk_arena arena = {0};
    struct hk_row_words words = written_words(catalogue, HK_TERMS_US, sizes);
    words.yarns = yarns;
    words.yarn_count = 2;
    const struct hk_definition definitions[] = {
        define("shell", "5 dc in same st", &words, &arena),
        define("picot", "ch 3, sl st in 3rd ch from hook", &words, &arena),
        define("blob", "5 dc", &words, &arena),
        define("cltog", "dc2tog", &words, &arena),
        define("dyo", "yo 2", &words, &arena),
        define("fern", "dc in last st", &words, &arena),
        define("rung", "dc in next 2 sts", &words, &arena),
        (struct hk_definition){"wall", many_steps(&words, &arena), 1001},
        define("fan", "5 dc in next st, ch 1", &words, &arena),
        define("cross", "sk next st, dc in next st, dc in skipped st", &words, &arena),
        define("twice over", "[sk next st, dc in next st] twice", &words, &arena),
    };
    static const struct hk_work_name works[] = {{"Front", {0, 1}}, {"Back", {1, 1}}, {"Motifs", {2, 3}}};
    words.definitions = definitions;
    words.definition_count = sizeof definitions / sizeof *definitions;
    words.works = works;
    words.work_count = sizeof works / sizeof *works;
    bool good = true;
    for (; examples->make; examples++) {
        char text[LINE_MOST] = "";
        struct hk_diags diags = {0};
        struct hk_row row;
        if (written_read(examples->make, &words, &row, &arena, &diags))
            snprintf(text, sizeof text, "%s", hk_row_print(&row, &words, &arena));
        for (size_t i = 0, length = 0; i < diags.count && length < sizeof text; i++)
            length += (size_t)snprintf(text + length, sizeof text - length, "%s%zu %s: %s; %s", i ? "\n" : "",
                                       diags.findings[i].at.column, hk_code_name(diags.findings[i].code),
                                       diags.findings[i].message, diags.findings[i].hint);
        if (strcmp(text, examples->comes_to) != 0) {
            print_error("%s\n  is       %s\n  and not  %s\n", examples->make, text, examples->comes_to);
            good = false;
        }
        hk_diags_free(&diags);
    }
    hk_arena_free(&arena);
    assert_true(good);
}

static void words_of_a_pattern_are_worked_as_they_are_defined(void **state)
{
    static const struct example examples[] = {
        {"shell in next st, sc 1", "(5 dc in same st) in next st, sc 1"},
        {"shell, sc 1", "(5 dc in same st) in next st, sc 1"},
        {"2 shells, sc 1", "(5 dc in same st) in next 2 sts, sc 1"},
        {"shell across", "(5 dc in same st) in each st across"},
        {"2 shells in next st, sc 1", "[(5 dc in same st) in next st] 2 times, sc 1"},
        {"1 shell in next st, sc 1", "(5 dc in same st) in next st, sc 1"},
        {"shell in every other st", "16 row-place: " EVERY_OTHER},
        {"shell to last 2 (3, 4) sts", "15 grade-count: " THREE_FOR_ONE},
        {"picot, sc 1", "[ch 3, sl st in 3rd ch from hook] once, sc 1"},
        {"3 picots, sc 1", "[ch 3, sl st in 3rd ch from hook] 3 times, sc 1"},
        {"picot in next st, sc 1", "(ch 3, sl st in 3rd ch from hook) in next st, sc 1"},
        {"blob, sc 1", "(dc 5) in next st, sc 1"},
        {"blob in next ch-1 sp", "(dc 5) in next ch-1 sp"},
        {"cltog 2, sc 1", "dc2tog 2, sc 1"},
        {"dyo, k 1", "[yo 2] once, k 1"},
        {"fern, sc 1", "[dc in last st] once, sc 1"},
        {"rung, sc 1", "[dc in next 2 sts] once, sc 1"},
        {"wall, sc 1", "1 row-syntax: wall stands for more than 1000 steps; write out what is worked"},
        {"shell 3, sc 1", "(5 dc in same st) in next 3 sts, sc 1"},
        {"shell x 3, sc 1", "(5 dc in same st) in next 3 sts, sc 1"},
        {"picot twice more, sc 1", "[ch 3, sl st in 3rd ch from hook] 3 times, sc 1"},
        {"shell 0 times, sc 1", "7 range: " NO_TIMES},
        {"shell 3 (4, 5), sc 1", "7 grade-count: " THREE_FOR_ONE},
        {"shell in next 2 shells, sc 1", "(5 dc in same st) in next 2 shells, sc 1"},
        {"2 dyo, k 1", "[yo 2] 2 times, k 1"},
        {"dyo in next st, k 1", "(yo 2) in next st, k 1"},
        {"fan in next ch-1 sp, sc 1", "(5 dc in same st, ch 1) in next ch-1 sp, sc 1"},
        {"fan, sc 1", "(5 dc in same st, ch 1) in next st, sc 1"},
        {"cross, sc 1", "[sk next st, dc in next st, dc in next skipped st] once, sc 1"},
        {"2 cross, sc 1", "[sk next st, dc in next st, dc in next skipped st] 2 times, sc 1"},
        {"cross across", "[sk next st, dc in next st, dc in next skipped st] across"},
        {"cross in next st",
         "10 row-place: cross goes over places of its own; leave this place out, or write out what is "
         "worked"},
        {"cross to last 2 (3, 4) sts", "15 grade-count: " THREE_FOR_ONE},
        {"twice over, sc 1", "[[sk next st, dc in next st] 2 times] once, sc 1"},
        {"with Down, sc 3", "with Down, sc 3"},
        {"change to B, sc 3", "with Down, sc 3"},
        {"and with B, sc 3", "with Down, sc 3"},
        {"using the color Fog, sc 3", "with Fog, sc 3"},
        {"k1 MC, k1 CC", "with Fog, k 1, with Down, k 1"},
        {"with a, sc 3", "1 name-unknown: with is not a stitch in US terms; write it in stitches that hankful tables "
                         "stitches lists, or write [take as 24 sc] after the row"},
        {"change B, sc 3",
         "1 name-unknown: change is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row"},
        {"using F, sc 3", "1 name-unknown: using is not a stitch in US terms; write it in stitches that hankful tables "
                          "stitches lists, or write [take as 24 sc] after the row"},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 1, examples);
}

static void numbers_may_be_one_for_each_size(void **state)
{
    static const struct example two[] = {
        {"sc 0 (2), dc 1", "sc 0 (2) sts, dc 1"},
        {"0 (2) sc, dc 1", "sc 0 (2) sts, dc 1"},
        {"ch 0 (2), sc 1", "ch 0 (2) sts, sc 1"},
        {"[sc 1] 0 (2) times, dc 1", "[sc 1] 0 (2) times, dc 1"},
        {"[sc 1] 2 (3) more times, dc 1", "[sc 1] 3 (4) times, dc 1"},
        {"2 (3) sc in next 2 (3) sts, dc 1", "sc in next 2 (3) sts, dc 1"},
        {"2 (3) sc in next 2 sts, dc 1", "13 row-place: this can be read in two ways: 2 in each, or 2 in all; write "
                                         "\"in each of next 2\" and their kind, if this is the number in each"},
        {"sc2tog over next 4 (6) sts, sc 1", "sc2tog in next 4 (6) sts, sc 1"},
        {"sk 2 (3) dc, sc 1", "sk next 2 (3) dc, sc 1"},
        {"sk 2 next 3 (4) sts, sc 1",
         "6 row-syntax: \"next\" is not understood here; name the stitch first: sc in next "
         "3 sts, sc in each st across"},
        {"join 2 (3), sc 1", "join 2 (3), sc 1"},
        {"sc 12 (14)", "sc 12 (14)"},
        {"sc in next 3 sts. 12 (14) sts", "sc in next 3 sts (12 (14) sts)"},
        {NULL, NULL},
    };
    static const struct example three[] = {
        {"sc 6 - (6, 7) sts", "sc 6 (0 (6, 7) sts)"},
        {"sc - (6, 7), dc 1", "sc 0 (6, 7) sts, dc 1"},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 2, two);
    assert_pattern_examples(*state, 3, three);
}

#define LISTED "write it in stitches that hankful tables stitches lists, or write [take as 24 sc] after the row"
#define PLACED "name a stitch and its place: sc in next st, 2 dc in ch-2 sp, (dc, ch 2) in ring"
#define CUT_LIKE "write a length like cut 30 cm or cut 12 in"
#define STITCH_FIRST "name the stitch first: sc in next 3 sts, sc in each st across"
#define SUCH_AS "name the stitch, such as sc 3 or k 3"

static void places_wait_and_stitches_are_picked_up(void **state)
{
    static const struct example examples[] = {
        {"sk 3 (left sleeve), sc 1", "sk next 3 sts for left sleeve, sc 1"},
        {"sk 3 (left), sc 1", "sk next 3 sts for left, sc 1"},
        {"sk 3 for left sleeve and sc 1", "sk next 3 sts for left sleeve, sc 1"},
        {"sk 3 for the left sleeve then sc 1", "sk next 3 sts for left sleeve, sc 1"},
        {"sk 2 (does not count), sc 1", "7 name-unknown: does is not a stitch in US terms; " LISTED},
        {"sk 3 sts to last 2 sts, sc 1", "10 name-unknown: to is not a stitch in US terms; " LISTED},
        {"sk 3 each st, sc 1", "6 row-syntax: \"each\" is not understood here; " STITCH_FIRST},
        {"sk 3 last st, sc 1", "6 name-unknown: last is not a stitch in US terms; " LISTED},
        {"sk 2-ch sp, sc 1", "sk next ch-2 sp, sc 1"},
        {"sk 2 ch-2 sps, sc 1", "sk next 2 ch-2 sps, sc 1"},
        {"sk next, sc 1", "4 row-syntax: \"next\" is not understood here; " STITCH_FIRST},
        {"place next 4 sts on hold (left front), k 2", "place next 4 sts on hold for left front, k 2"},
        {"place next 4 sts on hold (left front, k 2", "1 name-unknown: place is not a stitch in US terms; " LISTED},
        {"place 4 sts on hold for the front then k 2", "place next 4 sts on hold for front, k 2"},
        {"place next 4 sts on a holder as the neck, k 2", "place next 4 sts on hold for neck, k 2"},
        {"place 4 on hold, k 2", "9 name-unknown: on is not a stitch in US terms; " LISTED},
        {"slip 4 on hold, k 2", "8 name-unknown: on is not a stitch in US terms; " LISTED},
        {"leave next 4 sts on hold for front, k 2", "place next 4 sts on hold for front, k 2"},
        {"leave next 4 sts on hold (front, k 2",
         "32 row-syntax: \",\" is not understood here; name what is worked, such as sc in next 3 sts or ch 2"},
        {"leave nothing, k 2", "7 name-unknown: nothing is not a stitch in US terms; " LISTED},
        {"leave next 4 sts free, k 2", "leave next 4 sts unworked, k 2"},
        {"leave last 4 sts unworked", "leave last 4 sts unworked"},
        {"place the next 2 ch-2 sps on hold, k 2", "place next 2 ch-2 sps on hold, k 2"},
        {"transfer next 0 sts to holder, k 1", "15 range: " NOTHING},
        {"transfer 0 sts to holder, k 1", "10 range: " NOTHING},
        {"sl 4 sts to st holder, k 1", "place next 4 sts on hold, k 1"},
        {"pick up and knit 3 sts for every 4 row ends, k 1", "k in 3 of every 4 row ends, k 1"},
        {"pick up and knit 5 sts for every 4 rows, k 1", "36 name-unknown: rows is not a stitch in US terms; " LISTED},
        {"pick up and knit 3 sts for every 400 rows, k 1",
         "38 name-unknown: rows is not a stitch in US terms; " LISTED},
        {"pick up and knit 3 sts for every 4 sts, k 1", "36 row-syntax: \"sts\" is not understood here; " SUCH_AS},
        {"pick up and knit 3 for each 4 skipped sts, k 1",
         "31 name-unknown: skipped is not a stitch in US terms; " LISTED},
        {"pick up and knit 3 out of 4 rows", "k in 3 of every 4 row ends"},
        {"pick up and knit 1 st in each row end", "k in each row end"},
        {"pick up and knit 2 sts in each row end, k 1", "2 k in each row end, k 1"},
        {"pick up and knit 24 sts evenly along the neck and turn, k 3", "24 k evenly along edge, turn, k 3"},
        {"pick up and knit 24 sts along neck then join", "24 k evenly along edge, join"},
        {"pick up and knit sts along the neck", "22 name-unknown: along is not a stitch in US terms; " LISTED},
        {"pick up and purl 24 sts along the neck", "24 p evenly along edge"},
        {"pick up & purl 24 sts along the neck", "24 p evenly along edge"},
        {"pick up and p 24 sts along the neck", "24 p evenly along edge"},
        {"pick up & knit 24 sts", "24 k evenly along edge"},
        {"puk 24 sts", "24 k evenly along edge"},
        {"pick up 24 sts along edge", "24 k evenly along edge"},
        {"pick up and knit 0 sts along edge", "18 range: " NOTHING},
        {"pick up and knit 2000000000000 sts along edge",
         "18 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"pick up and knit 3 sts in any 4 rows", "33 name-unknown: rows is not a stitch in US terms; " LISTED},
        {"sk 2, sc 2, sc in 2 skipped sts", "19 row-place: in 2 can be read in two ways; write in each of next 2 sts "
                                            "for once in each, or in next st for all in one"},
        {"sk 2, sc in held st", "sk next 2 sts, sc in next held st"},
        {"sk 2 shells, sc 1", "sk next 2 shells, sc 1"},
        {"sk st, sc 1", "sk next st, sc 1"},
        {"sk next 2 sts, sk last st", "sk next 2 sts, sk last st"},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 1, examples);
}

static void yarns_and_lengths_are_read_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"cut 30 cm, sc 1", "cut 0.3 m, sc 1"},
        {"cut 3 kg, sc 1", "5 unit-wrong: 3 kg is no length; " CUT_LIKE},
        {"cut x cm, sc 1", "1 row-syntax: cut does not say how long; " CUT_LIKE},
        {"cut 1/0 cm, sc 1", "5 unit-missing: the cut length has no unit; " CUT_LIKE},
        {"cut 0 cm, sc 1", "5 range: the cut length is 0; " CUT_LIKE},
        {"cut 30 cm x 4, sc 1", "cut 0.3 m x 4, sc 1"},
        {"cut 30 cm twice, sc 1", "cut 0.3 m x 2, sc 1"},
        {"cut 12 1/2 in", "cut 0.3175 m"},
        {"cut 0.1 mm", "cut 0.0001 m"},
        {"cut 33.333333333 cm", "cut 0.33333333333 m"},
        {"sc 2 with Fog, dc 1", "with Fog, sc 2, dc 1"},
        {"sc 2 with color Fog, dc 1", "with Fog, sc 2, dc 1"},
        {"sc 2 with Fog in last st, dc 1", "with Fog, 2 sc in last st, dc 1"},
        {"sc 2 in Fog, dc 1", "with Fog, sc 2, dc 1"},
        {"with Fog in last st, sc 1", "with Fog, sc 1"},
        {"change to Down at the end of the row, sc 1", "with Down, sc 1"},
        {"change to Down in last sc of this rnd, sc 1", "with Down, sc 1"},
        {"change to Down on last, sc 1", "with Down, sc 1"},
        {"turn with Fog, sc 1", "turn, with Fog, sc 1"},
        {"remove all markers, sc 3", "remove all markers, sc 3"},
        {"removing the marker, sc 3", "remove all markers, sc 3"},
        {"remove markers, sc 3", "remove all markers, sc 3"},
        {"remove marker, sc 3", "rm, sc 3"},
        {"remove both markers, sc 3", "remove all markers, sc 3"},
        {"remove all m, sc 3", "remove all markers, sc 3"},
        {"rm, sm, pm, sc 2", "rm, sm, pm, sc 2"},
        {"sc in marker, sc 1", "sc in next marked st, sc 1"},
        {"sc in st with the marker, sc 1", "sc in next marked st, sc 1"},
        {"sl st to marker, ch 1", "sl st to next marked st, ch 1"},
        {"sl st to 2 sts before marker", "sl st to 2 sts before next marked st"},
        {"sc to 2 sts before marker, sc 1", "sc to 2 sts before next marked st, sc 1"},
        {"sc to marker, sc 1", "sc to next marked st, sc 1"},
        {"with Fog, sc 1", "with Fog, sc 1"},
        {"sc in each st, with Fog, ch 1", "sc in each st, with Fog, ch 1"},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 1, examples);
}

static void places_are_named_in_all_forms(void **state)
{
    static const struct example examples[] = {
        {"sc in next st and in next 2 sts, dc 1", "sc in next st, sc in next 2 sts, dc 1"},
        {"sc in next st, and 2 in last st", "sc in next st, 2 sc in last st"},
        {"sc in next st and each st across", "sc in next st, sc in each st across"},
        {"sc in next st and 0 in next st", "19 range: " NOTHING},
        {"sc in next st and 2 dc in next st", "sc in next st, 2 dc in next st"},
        {"sc in next st and next ch-1 sp, sc in ring", "sc in next st, sc in next ch-1 sp, sc in ring"},
        {"sc in next st and 2000000000000 in next st",
         "19 count-too-large: a count is above 1000000000000; look for a number with too many digits"},
        {"k 4 in pattern, k 2", "8 row-syntax: \"in pattern\" names no place; " PLACED},
        {"BO 4 in pattern, k 2", "BO 4, k 2"},
        {"BO 4 in rib, p 1", "BO 4, p 1"},
        {"BO 4 in patt, in k, p 1",
         "15 row-syntax: \"in\" is not understood here; write the stitch first: 5 dc in next st"},
        {"BO in knit across", "BO across"},
        {"CO 4 in pattern, k 1", "9 row-syntax: \"in pattern\" names no place; " PLACED},
        {"sc in magic ring", "sc in ring"},
        {"6 sc in adjustable loop", "6 sc in ring"},
        {"6 sc in center ring", "6 sc in ring"},
        {"6 sc in the ring", "6 sc in ring"},
        {"6 sc in circle", "6 sc in ring"},
        {"6 sc in center of the ring", "6 sc in ring"},
        {"6 sc in mr", "6 sc in ring"},
        {"6 sc in beg lp", "6 sc in ring"},
        {"sc in m, sc 1", "sc in next marked st, sc 1"},
        {"sc in each of next 3 sts, sc 1", "sc in each of next 3 sts, sc 1"},
        {"sc in each of first 3 sts, sc 1", "sc in each of first 3 sts, sc 1"},
        {"sc in each of last 3 sts", "sc in each of last 3 sts"},
        {"sc in each next 3 dc", "sc in each of next 3 dc"},
        {"sc in each first 3 dc", "sc in each of first 3 dc"},
        {"sc in each last 3 dc", "sc in each of last 3 dc"},
        {"sc in each of 3, sc 1", "sc in each of next 3 sts, sc 1"},
        {"sc in each of 3-dc cl", "sc in each 3-dc cl"},
        {"sc in each of the 2 ch-2 sps", "sc in each of next 2 ch-2 sps"},
        {"sc in centre 3rd st", "14 row-place: of what this is the 3rd is not read; write what it is part of: 3rd ch "
                                "from hook, 2nd dc of next shell"},
        {"sc through both layers in next 3 sts, sc 1", "sc through both layers in next 3 sts, sc 1"},
        {"sc in next 3 sts through both layers, sc 1", "sc through both layers in next 3 sts, sc 1"},
        {"sc through both layers across", "4 name-unknown: through is not a stitch in US terms; " LISTED},
        {"sc in next st of both layers", "15 name-unknown: of is not a stitch in US terms; " LISTED},
        {"sc in both layers", "7 row-syntax: \"in both\" names no place; " PLACED},
        {"sc in skipped st, sc 1", "sc in next skipped st, sc 1"},
        {"sc in next skipped st, sc 1", "sc in next skipped st, sc 1"},
        {"sc in each skipped st", "sc in each skipped st"},
        {"sc in row end, sc 1", "sc in next row end, sc 1"},
        {"sc in each row end", "sc in each row end"},
        {"sc in next 4 row ends", "sc in next 4 row ends"},
        {"3 sc in next row end", "3 sc in next row end"},
        {"sc in each underarm ch", "sc in each underarm ch"},
        {"sc in each ch of the foundation", "15 name-unknown: of is not a stitch in US terms; " LISTED},
        {"sc in base of ch", "sc in same st, ch 1"},
        {"sc in 2 of every 3 row ends", "sc in 2 of every 3 row ends"},
        {"24 sc evenly along edge", "24 sc evenly along edge"},
        {"sl st to next ch-2 sp, ch 3", "sl st to next ch-2 sp, ch 3"},
        {"sl st to 3rd dc, ch 1", "7 name-unknown: to is not a stitch in US terms; " LISTED},
        {"sl st in next 2 sts, sl st in ch-2 sp", "sl st in next 2 sts, sl st in next ch-2 sp"},
        {"sl st in each st to marked st", "sl st in each st to next marked st"},
        {"dc to last 2 sts", "dc to last 2 sts"},
        {"sc in first st, sc in last st, sc in same st", "sc in first st, sc in last st, sc in same st"},
        {"sc in top of tch", "sc in top of tch"},
        {"sc in top of ch-3", "sc in top of ch-3"},
        {"dc in 4th ch from hook (counts as dc, ch 1)", "dc in 4th ch from hook (counts as st and ch 1)"},
        {"dc in 11th ch from hook, dc in 21st ch from hook", "dc in 11th ch from hook, dc in 21st ch from hook"},
        {"*sc 1, ** ch 1, rep from * across, ending last rep at **",
         "*sc 1, ** ch 1, rep from * across, ending last rep at **"},
        {"*sc 1, ch 1; rep from * 0 more times", "[sc 1, ch 1] once"},
        {"[sc 1] once", "[sc 1] once"},
        {"[sc 1] 1 time, dc 1", "[sc 1] once, dc 1"},
        {"[sc 1, ch 1] x 3", "[sc 1, ch 1] 3 times"},
        {"[sc 1] twice more, dc 1", "[sc 1] 3 times, dc 1"},
        {"k in row below", "6 row-syntax: \"in row\" names no place; " PLACED},
        {"sc in each corner", "sc in each corner"},
        {"2 sc in corner", "2 sc in next corner"},
        {"sc in next 2 corners", "sc in next 2 corners"},
        {"sc in ch sp, sc in 3 ch sps", "sc in next ch sp, sc in next ch-3 sp"},
        {"sc 3 (3 sc, 2 ch-1 sps)", "sc 3 (3 sc, 2 ch-1 sps)"},
        {"sc 3 (3 sts, 1 ch-2 sp, 2 shells, 2 chs)", "sc 3 (3 sts, 1 ch-2 sps, 2 shells, 2 chs)"},
        {"sc 3. 3 sts increased", "sc 3 (3 sts increased)"},
        {"sc 3 (2 sts decreased)", "sc 3 (2 sts decreased)"},
        {"sc 3 (3 sts at each corner)", "9 row-syntax: \"sts\" is not understood here; " SUCH_AS},
        {"sc 3, 6 sc", "sc 3, sc 6"},
        {"sc 3 (4 counting each ch as a st)", "sc 3 (4 sts counting each ch as a st)"},
        {"sc 3 (4 sts including ch-1 sps)", "sc 3 (4 sts counting each ch as a st)"},
        {"3 sc in sp between 2 sts", "3 sc in next sp between 2 sts"},
        {"sc in sp between next 2 dc", "sc in next sp between 2 sts"},
        {"sc in 2nd dc of shell", "sc in 2nd dc of shell"},
        {"sc in 2nd st of next shell, sc 1", "sc in 2nd st of shell, sc 1"},
        {"sc in each shell", "sc in each shell"},
        {"sc in next 2 shells", "sc in next 2 shells"},
        {"sc in center st of shell", "sc in centre st of shell"},
        {"sc in center dc of next shell", "sc in centre dc of shell"},
        {"join with sl st in first st", "join to first st"},
        {"join yarn with sl st in any ch-2 sp", "join yarn to next ch-2 sp"},
        {"join 2", "join 2"},
        {"tch 3 (counts as dc), dc 1", "ch 3 (counts as dc), dc 1"},
        {"working along other side, sc 1", "working along other side, sc 1"},
        {"sc in next 2 shells, sc 1", "sc in next 2 shells, sc 1"},
        {"2 sc in next 2 shells, sc 1", "sc in next 2 shells, sc 1"},
        {"sc in last 2 shells, sc 1", "sc in last 2 shells, sc 1"},
        {"sc in 2 shells, sc 1", "7 row-place: in 2 can be read in two ways; write in each of next 2 sts for once in "
                                 "each, or in next st for all in one"},
        {"sc in next 5-dc group, sc 1", "sc in next shell, sc 1"},
        {"sc in next 2 5-dc shells, sc 1", "sc in next 2 shells, sc 1"},
        {"sc in next 2 groups", "sc in next 2 shells"},
        {"k 1, in rib", "6 row-syntax: \"in\" is not understood here; write the stitch first: 5 dc in next st"},
        {"ch 3, counts as dc, dc 1", "ch 3 (counts as dc), dc 1"},
        {"ch 3 (this ch 3 counts as dc), dc 1", "7 name-unknown: this is not a stitch in US terms; " LISTED},
        {"ch 3 (3 does not count), dc 1", "ch 3 (does not count), dc 1"},
        {"ch 3 (1 st does not count), dc 1", "9 row-syntax: \"st\" is not understood here; " SUCH_AS},
        {"*sc 1, (ch 1) x 0*", "17 range: " NO_TIMES},
        {"*sc 1* 0 times", "8 range: " NO_TIMES},
        {"*sc 1; rep from * to last, sc 1", "[sc 1] to last 1 sts, sc 1"},
        {"dc 1. 2 sc", "dc 1 (2 sc)"},
        {"sc 3 : dc", "sc 3, dc 1"},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 1, examples);
}

/* A front, a back and several motifs are already worked. */
static void places_of_other_work_name_it(void **state)
{
    static const struct example examples[] = {
        {"*sc 1, ** ch 1, rep from * 0 more times, ending last rep at **",
         "*sc 1, ** ch 1, rep from * 0 more times, ending last rep at **"},
        {"*sc 1, ** ch 1, rep from * once, ending last rep at **",
         "*sc 1, ** ch 1, rep from * 1 times, ending last rep at **"},
        {"pick up and knit 3 sts in every other st, k 1", "33 row-place: " EVERY_OTHER},
        {"6 sc in marker 2", "9 row-syntax: \"in marker\" names no place; " PLACED},
        {"sc in center 2-ch sp", "7 row-syntax: \"in center\" names no place; " PLACED},
        {"24 sc evenly along front then turn", "24 sc evenly along edge, turn"},
        {"sc 2 with Fog in last st in ring, dc 1", "29 row-syntax: \"in ring\" names no place; " PLACED},
        {"sl st to ch-2 sp, sl st in ch-2 sp", "sl st to next ch-2 sp, sl st in next ch-2 sp"},
        {"sl st in each st to ch-2 sp", "sl st in each st to next ch-2 sp"},
        {"sc , , dc", "6 row-syntax: nothing stands before this comma; leave it out, or write what is missing"},
        {"sc in each row end of front", "sc in each row end of Front"},
        {"sc in each row end of the front and back", "sc in each row end of Front and Back"},
        {"sc in next 4 row ends of both motifs", "sc in next 4 row ends of all Motifs"},
        {"sc in each row end of the neck, sc 1", "27 name-unknown: no piece or part has this name; write it as its "
                                                 "heading does\n27 name-unknown: neck is not a "
                                                 "stitch in US terms; " LISTED},
        {"sc in each st of front", "sc in each st of Front"},
        {"sc in each st of the edge", "sc in each st of the edge"},
        {"sc in each skipped st of front", "sc in each skipped st of Front"},
        {"sc in next 2 skipped dc of front", "sc in next 2 skipped dc of Front"},
        {"sk next 4 sts of front, join in next st, sc across", "sk next 4 sts of Front, join to next st, sc across"},
        {"sk next 4 sc of front, join in next st, sc across", "sk next 4 sc of Front, join to next st, sc across"},
        {"sk next 4 sts of front, sc across", "sk next 4 sts of Front, sc across"},
        {"sc in each held st of back", "sc in each skipped st of Back"},
        {"sc in each underarm ch of back", "sc in each underarm ch of Back"},
        {"sc in each foundation ch of front", "sc in each foundation ch of Front"},
        {"pick up and knit 3 sts for every 4 rows of back, k 1", "k in 3 of every 4 row ends of Back, k 1"},
        {"pick up and knit 3 sts for every 4 row ends of front, k 1", "k in 3 of every 4 row ends of Front, k 1"},
        {"pick up and knit 3 sts for every 4 held sts, k 1",
         "36 name-unknown: held is not a stitch in US terms; " LISTED},
        {"sc in next 3 sts of front and back through both layers",
         "sc through both layers in next 3 sts of Front and Back"},
        {"sc through both layers of front and back in next 3 sts",
         "sc through both layers in next 3 sts of Front and Back"},
        {"sc through both layers in each st of front and back", "sc through both layers in each st of Front and Back"},
        {"sc in next st through both layers of front and back", "sc through both layers in next st of Front and Back"},
        {"sc in next row end through both layers of front and back",
         "sc through both layers in next row end of Front and Back"},
        {"sc in center 2-ch sp", "7 row-syntax: \"in center\" names no place; " PLACED},
        {"6 sc in center lp", "6 sc in ring"},
        {"place 0 sts on hold, k 1", "7 range: " NOTHING},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 1, examples);
}

static void numbers_of_two_sizes_stand_in_all_places(void **state)
{
    static const struct example examples[] = {
        {"inc x 6 (3 sc, 12)", "inc 6 (3 sc, 12 sts)"},
        {"sk 2 (3) last st, sc 1", "10 name-unknown: last is not a stitch in US terms; " LISTED},
        {"place 4 (5) sts on hold, k 2", "place next 4 (5) sts on hold, k 2"},
        {"pick up and knit 3 (4) sts for every 4 rows, k 1",
         "40 name-unknown: rows is not a stitch in US terms; " LISTED},
        {"sc in each of next 3 (4) dc, sc 1", "sc in each of next 3 (4) dc, sc 1"},
        {"sc to 0 (2) sts before marker, sc 1", "sc to 0 (2) sts before next marked st, sc 1"},
        {"[sc 1] 1 (2) times", "[sc 1] 1 (2) times"},
        {"inc x 6 (12)", "inc 6 (12)"},
        {"dec 6 (12)", "dec 6 (12)"},
        {"[sc 1] 6 (12)", "8 row-syntax: a number without a stitch; name what is worked: sc 3, 5 dc in next st"},
        {"[sc 1] x 6 (12)", "[sc 1] x 6 (12)"},
        {"[sc 1] 6 (12) times", "[sc 1] 6 (12) times"},
        {"k 6 (12)", "k 6 (12)"},
        {NULL, NULL},
    };
    assert_pattern_examples(*state, 2, examples);
}

static void rows_of_cut_lengths_and_turns_work_no_stitch(void **state)
{
    static const struct {
        const char *make;
        bool without;
    } rows[] = {
        {"cut 30 cm", true}, {"(cut 30 cm) 3 times", true}, {"*cut 30 cm*", false}, {"ch 1, turn", true},
        {"ch 1", false},     {"ch 1, sc 1", false},         {"tch 1", true},        {"tch 3 as dc", false},
        {"turn", true},      {"(sc 1) 3 times", false},     {"sc 1", false},        {"cut 30 cm, sc 1", false},
    };
    const struct hk_row_words words = written_words(*state, HK_TERMS_US, 1);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct hk_arena arena = {0};
        struct hk_diags diags = {0};
        struct hk_row row;
        assert_true(written_read(rows[i].make, &words, &row, &arena, &diags));
        if (hk_row_without_stitches(&row) != rows[i].without)
            fail_msg("%s", rows[i].make);
        hk_diags_free(&diags);
        hk_arena_free(&arena);
    }
}

/* Rows need chains and slip stitches: a table without them reads no row. */
static void a_table_without_chains_is_reported(void **state)
{
    static const struct {
        const char *missing, *text, *finding;
    } cases[] = {
        {"ch", "sc 3", "the table of stitches has no ch, which rows are made of"},
        {"sl st", "sc 3", "the table of stitches has no sl st, which rows are made of"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct hk_catalogue *whole = *state;
        struct hk_catalogue part = *whole;
        struct hk_arena arena = {0};
        struct hk_diags diags = {0};
        struct hk_row row;
        struct hk_stitch *stitches = hk_arena_take(&arena, whole->stitch_count, sizeof *stitches);
        memcpy(stitches, whole->stitches, whole->stitch_count * sizeof *stitches);
        for (size_t s = 0; s < whole->stitch_count; s++)
            if (stitches[s].us && strcmp(stitches[s].us, cases[i].missing) == 0)
                stitches[s].us = NULL;
        part.stitches = stitches;
        assert_false(hk_row_parse((struct hk_cell){.text = cases[i].text}, HK_TERMS_US, &part, &row, &arena, &diags));
        assert_string_equal(diags.findings[0].message, cases[i].finding);
        hk_diags_free(&diags);
        hk_arena_free(&arena);
    }
}

/*
 * Rows in single crochet have 16 stitches in 10 cm, and a space of n chains is as wide as n stitches; the width of
 * others is unknown.
 */
static void rows_are_as_wide_as_the_swatch_of_their_stitch_says(void **state)
{
    static const char pattern[] = "# Body\nWith main and 5 mm hook, ch 20.\nRow 1: Sc in 2nd ch from hook and in each "
                                  "ch across, turn.\nRow 2: Ch 1, sc in "
                                  "next st, *ch 2, sk 2 sts, sc in next st; rep from * to end, turn.\nRow 3: Ch 1, sc "
                                  "in next sc, *2 sc in next ch-2 sp, sc "
                                  "in next sc; rep from * to end, turn.\nRow 4: Ch 1, sc in next 2 sts, *ch 12, sk 1 "
                                  "st, sc in next st; rep from * to last st, sc in "
                                  "last st, turn.\nRow 5: Ch 3 (counts as dc), dc in next sc, 3 dc in each sp to last "
                                  "sc, dc in last sc, turn.\nL only:\nRow 6: "
                                  "Ch 1, sc in each st across.\nAll sizes:\nRow 7: Follow the chart.\n";
    /* 19 sc; 7 sc and 6 spaces of 2; 19 sc; 11 sc and 8 spaces of 12; dc; in L alone; not read */
    static const double stitches[] = {19, 19, 19, 11 + 8 * 12, 0, 0, 0};
    struct proofed read = proofed_read(*state, pattern, NULL, NULL);
    assert_non_null(read.project);
    assert_int_equal(hk_written_rows(read.project), 7);
    for (size_t i = 0; i < 7; i++)
        assert_float_equal(hk_written_row_width(read.project, i, 0), stitches[i] * 0.1 / 16, 1e-9);
    assert_true(hk_written_row_width(read.project, 5, 2) > 0);
    proofed_free(&read);

    /* no swatch was worked in garter stitch */
    read = proofed_read(*state, "# Body\nWith main and 5 mm needles, cast on 20 sts.\nRows 1-20: K.\n", "swatches.csv",
                        "swatch,yarn,tool,fabric,stitches,rows,gauge\nplain,main,5 mm,stockinette,20,20,18 x 25\n");
    assert_non_null(read.tally);
    assert_float_equal(hk_written_row_width(read.project, 0, 0), 0, 0);
    assert_float_equal(hk_tally_row_width(read.tally, 0, 20), 0, 0);
    proofed_free(&read);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stitches_and_numbers_stand_in_either_order),
        cmocka_unit_test(the_longest_name_wins),
        cmocka_unit_test(places_say_what_is_needed),
        cmocka_unit_test(groups_are_worked_a_given_number_of_times),
        cmocka_unit_test(repeats_stand_where_they_stand),
        cmocka_unit_test(turning_chains_and_joins),
        cmocka_unit_test(cut_lengths_add_up),
        cmocka_unit_test(words_of_the_other_terms_are_named),
        cmocka_unit_test(mistakes_say_what_would_do),
        cmocka_unit_test(words_of_any_length_are_reported),
        cmocka_unit_test(sentences_of_patterns_are_understood),
        cmocka_unit_test(other_words_for_the_same_come_to_the_same),
        cmocka_unit_test(what_only_begins_like_a_sentence_is_reported),
        cmocka_unit_test(no_number_is_too_large),
        cmocka_unit_test(places_are_understood_as_patterns_name_them),
        cmocka_unit_test(chains_that_turn_are_distinguished_from_those_that_widen),
        cmocka_unit_test(columns_are_those_of_the_cell_as_written),
        cmocka_unit_test(each_wrong_item_is_reported),
        cmocka_unit_test(a_star_behind_a_comma_closes),
        cmocka_unit_test(places_and_times_that_only_begin_well_are_reported),
        cmocka_unit_test(garbage_is_reported_up_to_a_limit),
        cmocka_unit_test(brackets_nest_to_a_limit),
        cmocka_unit_test(junk_gives_a_row_or_a_finding),
        cmocka_unit_test(times_are_read_in_all_forms),
        cmocka_unit_test(repeats_between_stars_end_in_all_forms),
        cmocka_unit_test(remarks_work_nothing),
        cmocka_unit_test(what_chains_count_as_is_read_in_all_forms),
        cmocka_unit_test(joins_and_markers_are_read_in_all_forms),
        cmocka_unit_test(places_are_skipped_left_and_held_in_all_forms),
        cmocka_unit_test(stitches_are_placed_in_all_forms),
        cmocka_unit_test(what_a_row_comes_to_is_read_in_all_forms),
        cmocka_unit_test(words_of_a_pattern_are_worked_as_they_are_defined),
        cmocka_unit_test(numbers_may_be_one_for_each_size),
        cmocka_unit_test(places_wait_and_stitches_are_picked_up),
        cmocka_unit_test(yarns_and_lengths_are_read_in_all_forms),
        cmocka_unit_test(places_are_named_in_all_forms),
        cmocka_unit_test(places_of_other_work_name_it),
        cmocka_unit_test(numbers_of_two_sizes_stand_in_all_places),
        cmocka_unit_test(rows_of_cut_lengths_and_turns_work_no_stitch),
        cmocka_unit_test(a_table_without_chains_is_reported),
        cmocka_unit_test(rows_are_as_wide_as_the_swatch_of_their_stitch_says),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
