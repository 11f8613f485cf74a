/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The words of a row, form by form: places and the end of "each", counts at the end of a row, numbers and names. Each
 * in the row's canonical form, by hand; or its mistake, with its byte.
 */
#include "support.h"

#include "base/arena.h"
#include "written.h"

#include <stdio.h>
#include <string.h>

#define LINE_MOST 2000
/* The suggestions for an unknown stitch name, and for an unknown place. */
#define LISTED "write it in stitches that hankful tables stitches lists, or write [take as 24 sc] after the row"
#define PLACED "name a stitch and its place: sc in next st, 2 dc in ch-2 sp, (dc, ch 2) in ring"

struct example {
    const char *text, *read;
};

/* The settings for reading the examples. */
struct manner {
    enum hk_terms terms;
    size_t sizes;
    bool defined; /* "leaf" is 3 dc, "leaf pair" 2 of them */
};

static struct hk_row_words words_of(const struct hk_catalogue *catalogue, struct manner manner)
{
    static const struct hk_definition definitions[] = {{.name = "leaf"}, {.name = "leaf pair"}};
    struct hk_row_words words = written_words(catalogue, manner.terms, manner.sizes);
    words.definitions = definitions;
    words.definition_count = manner.defined ? sizeof definitions / sizeof *definitions : 0;
    return words;
}

static void read_text(const char *text, const struct hk_row_words *words, char *out, size_t size)
{
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    struct hk_row row;
    size_t length = 0;
    out[0] = '\0';
    if (written_read(text, words, &row, &arena, &diags))
        snprintf(out, size, "%s", hk_row_print(&row, words, &arena));
    for (size_t i = 0; i < diags.count && length < size; i++) {
        const struct hk_finding *f = &diags.findings[i];
        length += (size_t)snprintf(out + length, size - length, "%s%zu %s; %s", i ? " | " : "", f->at.column - 1,
                                   f->message, f->hint ? f->hint : "-");
    }
    hk_diags_free(&diags);
    hk_arena_free(&arena);
}

static void assert_examples(const struct hk_catalogue *catalogue, struct manner manner, const struct example *examples)
{
    const struct hk_row_words words = words_of(catalogue, manner);
    bool good = true;
    for (; examples->text; examples++) {
        char out[LINE_MOST];
        read_text(examples->text, &words, out, sizeof out);
        if (strcmp(out, examples->read) != 0) {
            print_error("%s\n  is       %s\n  and not  %s\n", examples->text, out, examples->read);
            good = false;
        }
    }
    assert_true(good);
}

static const struct manner us = {.terms = HK_TERMS_US, .sizes = 1}, us3 = {.terms = HK_TERMS_US, .sizes = 3},
                           uk = {.terms = HK_TERMS_UK, .sizes = 1};

/* The loops, the row that has them and the time of working: none changes a count. */
static void words_without_meaning_for_the_count(void **state)
{
    static const struct example examples[] = {
        {"Sc in back loop only of each st across", "sc in each st across"},
        {"Sc in the top 2 loops of next st", "sc in next st"},
        {"Sc in blo of next 3 sts", "sc in next 3 sts"},
        {"Sc in FLO of each st", "sc in each st"},
        {"Sc in each lower st", "11 lower is not a stitch in US terms; " LISTED},
        {"Sc in the 3rd loop of each st", "sc in each st"},
        {"Dc in back bump of next ch", "dc in next ch"},
        {"Dc in each sc of previous rnd", "dc in each sc"},
        {"Dc in next st of rnd 2", "dc in next st"},
        {"Dc in next st of rnd", "dc in next st"},
        {"Dc in next st of the row below", "dc in next st"},
        {"2 dc in last ch made", "2 dc in last ch"},
        {"Sc in same st as joining sl st", "sc in same st"},
        {"Sc in same st as joining and in next st", "sc in same st, sc in next st"},
        {"Dc in same sp as beg ch-3, ch 2", "dc in same sp, ch 2"},
        {"Dc in same as join, dc in next st", "dc in same st, dc in next st"},
        {"Dc in same st as base", "dc in same st"},
        {"Dc in same sp as beg ch-, ch 2", "dc in same sp, ch 2"},
        {"Dc in same st as join across", "22 across is not a stitch in US terms; " LISTED},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void spaces_and_chains(void **state)
{
    static const struct example examples[] = {
        {"2 dc in next ch-2 sp", "2 dc in next ch-2 sp"},
        {"2 dc in next 2-ch sp", "2 dc in next ch-2 sp"},
        {"2 dc in next chain 2 space", "2 dc in next ch-2 sp"},
        {"2 dc in ch-sp", "2 dc in next ch sp"},
        {"2 dc in corner ch-2 sp", "2 dc in next ch-2 sp"},
        {"2 dc in corner sp", "2 dc in next corner"},
        {"2 dc in next corner", "2 dc in next corner"},
        {"2 dc in ch-0 sp", "11 a space of 0 chains is none; write of how many chains it is, such as ch-2 sp"},
        {"Dc in turning 3 ch", "dc in top of ch-3"},
        {"Dc in turning 3 sts", "6 \"in turning\" names no place; " PLACED},
        {"Dc in beg ch-3", "dc in top of ch-3"},
        {"Dc in t-ch", "dc in top of tch"},
        {"Dc in tch", "dc in top of tch"},
        {"Dc in top of ch-3", "dc in top of ch-3"},
        {"Dc in top of beg ch", "dc in top of tch"},
        {"Dc in top of next ch", "dc in top of tch"},
        {"Dc in top of first cluster", "dc in first 3-dc cl"},
        {"Dc in top of ch-3 sp", "dc in next ch-3 sp"},
        {"Dc in ch -", "10 a stitch is missing here; name what is worked, such as sc in next 3 sts or ch 2"},
        {"Dc in next ch", "dc in next ch"},
        {"Dc in next 2 chs", "dc in next 2 chs"},
        {"Dc in 3rd ch from hook", "dc in 3rd ch from hook"},
        {"Dc in 3rd ch of turning ch", "dc in top of tch"},
        {"Dc in 3rd ch of 3", "dc in top of ch-3"},
        {"Dc in 3rd ch of 3 ch", "dc in top of ch-3"},
        {"Dc in 2nd ch of ch-3 sp", "dc in next ch-3 sp"},
        {"Dc in 3rd ch of the next 5-ch lp", "dc in next ch-5 sp"},
        {"Dc in 3rd ch of tch-3", "dc in top of ch-3"},
        {"Dc in 3rd ch of it",
         "6 of what this is the 3rd is not read; write what it is part of: 3rd ch from hook, 2nd dc of next shell"},
        {"Dc in 3rd ch",
         "6 of what this is the 3rd is not read; write what it is part of: 3rd ch from hook, 2nd dc of next shell"},
        {"Join with sl st to top of first cluster", "join to first 3-dc cl"},
        {"Dc in top of last ch-3", "dc in last top of ch-3"},
        {"Dc in top of same st", "dc in same st"},
        {"Dc in top of ch-", "16 a stitch is missing here; name what is worked, such as sc in next 3 sts or ch 2"},
        {"Dc in ch-3", "dc in top of ch-3"},
        {"Dc in ch-3-sp", "dc in next ch-3 sp"},
        {"Dc in top of ch-3-sp", "dc in next ch-3 sp"},
        {"Dc in top of next ch sp", "dc in next ch sp"},
        {"Dc in 2nd ch of next ch sp", "dc in next ch sp"},
        {"Dc in centre ch of beg ch", "6 \"in centre\" names no place; " PLACED},
        {"Dc in last ch of ch-3", "14 of is not a stitch in US terms; " LISTED},
        {"Dc in 3rd ch of next shell",
         "6 of what this is the 3rd is not read; write what it is part of: 3rd ch from hook, 2nd dc of next shell"},
        {"Dc in ch-2 sp of next shell", "dc in next ch-2 sp"},
        {"Dc in base of ch-3", "dc in same st"},
        {"Dc 3, sl st in top of ch-3", "dc 3, join to top of ch-3"},
        {"Dc 3, sl st in next ch-3 sp", "dc 3, sl st in next ch-3 sp"},
        {"Sc 4, join with sl st in 2 sts",
         "25 in 2 can be read in two ways; write in each of next 2 sts for once in each, or in next st for all in one"},
        {"Sc in each row end of 5", "19 of is not a stitch in US terms; " LISTED},
        {"Dc in 4th ch from hook [counts as 2 dc]", "dc in 4th ch from hook (counts as st)"},
        {"Dc in 4th ch from hook [counts as 2 tr]",
         "24 \"counts\" is not understood here; write (counts as dc), or (does not count as a st)"},
        {"Dc in st at base of tch", "dc in same st"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void groups_and_what_stands_between(void **state)
{
    static const struct example examples[] = {
        {"Sc in next shell", "sc in next shell"},
        {"Sc in next 5-dc shell", "sc in next shell"},
        {"Sc in next 4-petal group", "13 petal is not a stitch in US terms; " LISTED},
        {"Sc in next 2 shells", "sc in next 2 shells"},
        {"Sc in next V-st", "sc in next shell"},
        {"Sc in next v st", "sc in next shell"},
        {"Sc in next vst", "sc in next shell"},
        {"Sc in each grp", "sc in each shell"},
        {"Sc in each inc", "sc in each shell"},
        {"Sc in next 3 dcs", "sc in next 3 dc"},
        {"Sc in next ch-3 picot", "sc in next ch-3 picot"},
        {"Sc between next 2 dc", "sc in next sp between 2 sts"},
        {"Sc between the next two shells", "sc in next sp between 2 sts"},
        {"Sc between st and next st", "sc in next sp between 2 sts"},
        {"Sc between dc and next dc", "sc in next sp between 2 sts"},
        {"Sc between 2 groups", "sc in next sp between 2 sts"},
        {"Sc between next 2 ch-1 sps", "sc in next sp between 2 sts"},
        {"Sc between shells and the next ch sp", "sc in next sp between 2 sts"},
        {"Sc between next 2 moons", "18 moons is not a stitch in US terms; " LISTED},
        {"Sc in sp between 2 dc", "sc in next sp between 2 sts"},
        {"Sc in space between next 2 shells", "sc in next sp between 2 sts"},
        {"Sc in sp between next 2 sts", "sc in next sp between 2 sts"},
        {"Sc in centre dc of next shell", "sc in centre dc of shell"},
        {"Sc in 2nd st of next group", "sc in 2nd st of shell"},
        {"Sc in 2nd st of each group",
         "6 of what this is the 2nd is not read; write what it is part of: 3rd ch from hook, 2nd dc of next shell"},
        {"Sc in 2nd moon",
         "6 of what this is the 2nd is not read; write what it is part of: 3rd ch from hook, 2nd dc of next shell"},
        {"Sc in last dc of cluster", "sc in last dc of shell"},
        {"Sc in middle dc of next 5 dc", "sc in centre dc of shell"},
        {"Sc in third st of same 3-dc group", "sc in 3rd st of shell"},
        {"Sc in second st", "6 \"in second\" names no place; " PLACED},
        {"Sc in fourth dc from hook", "6 \"in fourth\" names no place; " PLACED},
        {"Sc in fifth ch from hook", "sc in 5th ch from hook"},
        {"Sc in 2nd dc of row",
         "6 of what this is the 2nd is not read; write what it is part of: 3rd ch from hook, 2nd dc of next shell"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void rings_markers_and_rows_below(void **state)
{
    static const struct example examples[] = {
        {"6 sc in magic ring", "6 sc in ring"},
        {"6 sc in the ring", "6 sc in ring"},
        {"6 sc in beg loop", "6 sc in ring"},
        {"6 sc in circle", "6 sc in ring"},
        {"6 sc in centre of ring", "6 sc in ring"},
        {"6 sc in MR", "6 sc in ring"},
        {"Sc in marked st", "sc in next marked st"},
        {"Sc in st with marker", "sc in next marked st"},
        {"Sc in st at m", "sc in next marked st"},
        {"Sc in marker", "sc in next marked st"},
        {"Sc in m 2", "6 \"in m\" names no place; " PLACED},
        {"Sc in next skipped st", "sc in next skipped st"},
        {"Sc in each unworked ch", "sc in each skipped st"},
        {"Sc in st 2 rows below", "sc in next st 1 row below"},
        {"Sc 2 rows below", "sc in next st 1 row below"},
        {"Sc in next st 1 row down", "sc in next st 1 row below"},
        {"Sc around post of next dc", "sc in next dc"},
        {"Sc around next dc", "sc in next dc"},
        {"Sc around the stem of each dc", "sc in each dc"},
        {"Sc around", "sc around"},
        {"Sc around 3 sts", "12 \"sts\" is not understood here; name the stitch, such as sc 3 or k 3"},
        {"Sc over next 3 sts", "sc in next 3 sts"},
        {"Sc all around", "sc around"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void each_of_them(void **state)
{
    static const struct example examples[] = {
        {"Sc in each st", "sc in each st"},
        {"Sc in every other st",
         "12 \"every other\" is not read; write what repeats: *sc in next st, sk next st; rep from * across"},
        {"Sc in each of next 3 sts", "sc in each of next 3 sts"},
        {"Sc in each of the first 2 dc", "sc in each of first 2 dc"},
        {"Sc in each of last two sts", "sc in each of last 2 sts"},
        {"Sc in each next 3 sts", "sc in each of next 3 sts"},
        {"Sc in each of 3", "sc in each of next 3 sts"},
        {"Sc in each of 3 dc", "sc in each of next 3 dc"},
        {"Sc in each of 2-ch sps", "sc in each ch-2 sp"},
        {"Sc in each of next 2-ch sp", "sc in each ch-2 sp"},
        {"Sc in each of 5-dc bobble", "sc in each 5-dc bobble"},
        {"Sc in each of next 0 sts", "19 0 works nothing; leave it out, or write a number from 1"},
        {"Sc in each of next 3", "sc in each of next 3 sts"},
        {"Sc in each remaining st", "sc in each st"},
        {"Sc in each rem st to last 2 sts", "sc in each st to last 2 sts"},
        {"Sc in each moon", "11 moon is not a stitch in US terms; " LISTED},
        {"Sc in each st and ch-1 sp across", "sc in each st and each ch-1 sp across"},
        {"Sc in each st and in each ch-1 sp around", "sc in each st and each ch-1 sp around"},
        {"Sc in each st & each ch", "sc in each st and each ch"},
        {"Sc in each st and next ch", "sc in each st, sc in next ch"},
        {"Sc in each st and moon", "18 moon is not a stitch in US terms; " LISTED},
        {"Sc in each st to last 0.5 sts", "22 0.5 is not a whole number; stitches are counted in whole numbers"},
        {"Sc in each 3 sts", "11 3 is not a stitch in US terms; " LISTED},
        {"Sc in all sts to last 0.5 sts", "22 0.5 is not a whole number; stitches are counted in whole numbers"},
        {"Sc in all remaining sts", "sc in each st across"},
        {"Sc in all sts to last st", "sc in each st to last 1 sts"},
        {"Sc in remaining sts", "sc in each st across"},
        {"Sc in all 8 sts", "sc in each of next 8 sts"},
        {"Sc in all of the 8 dc", "sc in each of next 8 dc"},
        {"Sc in all of 8", "sc in each of next 8 sts"},
        {"Sc in all 0 sts", "10 0 works nothing; leave it out, or write a number from 1"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void which_and_how_many(void **state)
{
    static const struct example examples[] = {
        {"Sc in next 3 sts", "sc in next 3 sts"},
        {"Sc in following st", "sc in next st"},
        {"Sc in first st", "sc in first st"},
        {"Sc in last 2 sts", "sc in last 2 sts"},
        {"Sc in final dc", "sc in last dc"},
        {"Sc in same sp", "sc in same sp"},
        {"2 sc in same 3 sts",
         "13 the same place is one, not 3; write in same st for all in one, or in each of next 3 sts"},
        {"Sc in same 2-ch sp", "sc in same ch-2 sp"},
        {"Sc in same 1 st", "sc in same st"},
        {"Sc in rem dc", "6 \"in rem\" names no place; " PLACED},
        {"Sc in rem 4 dc", "sc in next 4 dc"},
        {"Sc in that st", "sc in same st"},
        {"2 dc in 3",
         "8 in 3 can be read in two ways; write in each of next 3 sts for once in each, or in next st for all in one"},
        {"2 dc in the next 3", "8 this can be read in two ways: 2 in each, or 2 in all; write \"in each of next 3\" "
                               "and their kind, if this is the number in each"},
        {"2 dc in the 3 sts", "8 this can be read in two ways: 2 in each, or 2 in all; write \"in each of next 3\" and "
                              "their kind, if this is the number in each"},
        {"2 dc in 1", "2 dc in next st"},
        {"2 dc in 1 st", "2 dc in next st"},
        {"Sc in next the st", "6 \"in next\" names no place; " PLACED},
        {"Sc in last dc of row", "sc in last dc"},
        {"Sc in next 0 sts", "11 0 works nothing; leave it out, or write a number from 1"},
        {"Sc in next 5-dc bobble", "sc in next 5-dc bobble"},
        {"Sc in next 3-dc group", "sc in next shell"},
        {"Sc in 3-dc group", "sc in next shell"},
        {"Sc in next moon", "6 \"in next\" names no place; " PLACED},
        {"Sc in the", "6 \"in the\" names no place; " PLACED},
        {"Sc in the moon", "6 \"in the\" names no place; " PLACED},
        {"Sc in pattern", "6 \"in pattern\" names no place; " PLACED},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void where_sweeps_end(void **state)
{
    static const struct example examples[] = {
        {"Sc across", "sc across"},
        {"Sc all the way around", "sc around"},
        {"Sc all round", "sc across"},
        {"Sc across the row", "sc across"},
        {"Sc to end", "sc across"},
        {"Sc to end of the rnd", "sc across"},
        {"Sc until end of row", "sc across"},
        {"Sc to within 3 sts of end", "sc to last 3 sts"},
        {"Sc to within 3 sts of the end of row", "sc to last 3 sts"},
        {"Sc to within end", "3 to is not a stitch in US terms; " LISTED},
        {"Sc to last 3 sts", "sc to last 3 sts"},
        {"Sc to last st", "sc to last 1 sts"},
        {"Sc to last dc", "sc to last 1 sts"},
        {"Sc to last 3 before end", "sc to last 3 sts"},
        {"Sc to last 2 dc before ch-2 sp", "sc to 2 sts before next ch-2 sp"},
        {"Sc to last 2 sts before moon", "24 moon is not a stitch in US terms; " LISTED},
        {"Sc to last ch-2 sp", "sc to last ch-2 sp"},
        {"Sc to last shell", "sc to last shell"},
        {"Sc to last 0.5 sts", "11 0.5 is not a whole number; stitches are counted in whole numbers"},
        {"Sc to 3 sts before marker", "sc to 3 sts before next marked st"},
        {"Sc to 2 dc before ch-2 sp", "sc to 2 sts before next ch-2 sp"},
        {"Sc to 2 dc tog", "3 to is not a stitch in US terms; " LISTED},
        {"Sc to 3 sts before end", "sc to last 3 sts"},
        {"Sc to 3 sts from end", "sc to last 3 sts"},
        {"Sc to 3 sts from the marker", "sc to 3 sts before next marked st"},
        {"Sc to 3 sts remaining", "sc to last 3 sts"},
        {"Sc until 3 sts rem", "sc to last 3 sts"},
        {"Sc until 3 sts are left", "sc to last 3 sts"},
        {"Sc until 3 sts are unworked", "sc to last 3 sts"},
        {"Sc to 3 sts", "3 to is not a stitch in US terms; " LISTED},
        {"Sc to 3 sts before moon", "3 to is not a stitch in US terms; " LISTED},
        {"Sc to 0.5 sts before marker", "6 0.5 is not a whole number; stitches are counted in whole numbers"},
        {"Sc to next 0 sts", "11 0 works nothing; leave it out, or write a number from 1"},
        {"Sc to last 2 sts before next 0 sts", "29 0 works nothing; leave it out, or write a number from 1"},
        {"Sc to 3 dc, turn", "3 to is not a stitch in US terms; " LISTED},
        {"Sc to 3 before end", "sc to last 3 sts"},
        {"Sc to next ch-2 sp", "sc to next ch-2 sp"},
        {"Sc to 2-ch sp", "sc to next ch-2 sp"},
        {"Sc to marker", "sc to next marked st"},
        {"Sc to centre dc of next shell", "sc to centre dc of shell"},
        {"Sc to moon", "3 to is not a stitch in US terms; " LISTED},
        {"Sc across to last st", "sc to last 1 sts"},
        {"Sc across to moon", "10 to is not a stitch in US terms; " LISTED},
        {"Sl st to next ch-2 sp", "sl st to next ch-2 sp"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void stated_at_the_end(void **state)
{
    static const struct example examples[] = {
        {"Sc across (24)", "sc across (24 sts)"},
        {"Sc across. 24 sts.", "sc across (24 sts)"},
        {"Sc across - 24 sc", "sc across (24 sc)"},
        {"Sc across {24 sc}", "sc across (24 sc)"},
        {"Sc across [24 scs]", "sc across (24 sc)"},
        {"Sc across = 24 sts", "sc across (24 sts)"},
        {"Sc across: total of 24 sts", "sc across (24 sts)"},
        {"Sc across (approx 24 sts)", "sc across"},
        {"Sc across (~24 sts)", "sc across"},
        {"Sc across (12 dc, 4 ch-1 sps)", "sc across (12 dc, 4 ch-1 sps)"},
        {"Sc across (12 dc, 4 corner ch-2 sps)", "sc across (12 dc, 4 ch-2 sps)"},
        {"Sc across (12 dc and 4 1-ch sps)", "sc across (12 dc, 4 ch-1 sps)"},
        {"Sc across (12 dc + 4 3-dc groups)", "sc across (12 dc, 4 shells)"},
        {"Sc across (4 ch-1)", "sc across (4 ch-1 sps)"},
        {"Sc across (4 2-ch)", "sc across (4 ch-2 sps)"},
        {"Sc across (six)", "sc across (6 sts)"},
        {"Sc across (24 sts rem)", "sc across (24 sts)"},
        {"Sc across. 24 sts plus 6 chs at each underarm", "sc across (24 sts, 6 chs at each corner)"},
        {"Sc across. 24 sts and 12 ch at underarms", "sc across (24 sts, 12 chs)"},
        {"Sc across (2 ch-1 sps at each end)", "18 sps is not a stitch in US terms; did you mean \"tps\"?"},
        {"Sc across (24 sts counting ch 1 as one st)", "sc across (24 sts counting each ch as a st)"},
        {"Sc across (24 sts counting all sts)",
         "14 \"sts\" is not understood here; name the stitch, such as sc 3 or k 3"},
        {"Sc across (12 in each half)", "sc across (24 sts)"},
        {"Sc across (2 ends)", "13 ends is not a stitch in US terms; " LISTED},
        {"Sc across (24 more)", "sc across (24 sts increased)"},
        {"Sc across (24 sts approx)", "sc across"},
        {"Sc across (24 or so)", "sc across"},
        {"Sc across (24 or more)", "14 or is not a stitch in US terms; " LISTED},
        {"Sc across (about 12 front, 12 back)", "sc across"},
        {"Sc across (4 corners)", "sc across (4 sps)"},
        {"Sc across (4 sps)", "sc across (4 sps)"},
        {"Sc across (4 2-moons)", "13 2-moons is not a stitch in US terms; " LISTED},
        {"Sc across (4 shells)", "sc across (4 shells)"},
        {"Sc across (4 V-sts)", "sc across (4 shells)"},
        {"Sc across (4 v sts)", "sc across (4 shells)"},
        {"Sc across (4 vsts)", "sc across (4 shells)"},
        {"Sc across (4 moons)", "13 moons is not a stitch in US terms; " LISTED},
        {"Sc across (6 ch)", "sc across (6 chs)"},
        {"Sc across (6 chs)", "sc across (6 chs)"},
        {"Sc across (8 sts inc'd)", "sc across (8 sts increased)"},
        {"Sc across (8 sts dec'd, 24 sts)", "sc across (8 sts decreased, 24 sts)"},
        {"Sc across (24 sts rem on needle)", "sc across (24 sts)"},
        {"Sc across (24 sts in all)", "sc across (24 sts)"},
        {"Sc across (24 sts on the hook)", "sc across (24 sts)"},
        {"Sc across (24 sts total made)", "sc across (24 sts)"},
        {"Sc across, 24 sts plus 6 chs at each underarm",
         "14 \"sts\" is not understood here; name the stitch, such as sc 3 or k 3"},
        {"Sc across, 24 sts plus 12 chs at underarms",
         "14 \"sts\" is not understood here; name the stitch, such as sc 3 or k 3"},
        {"Sc across (24 sts, counting each ch-1 as a st)", "sc across (24 sts counting each ch as a st)"},
        {"Sc across (24 sts including ch-1 sps)", "sc across (24 sts counting each ch as a st)"},
        {"Sc across (24 sts including turning ch)", "sc across (24 sts)"},
        {"Sc across (24 sts counting moons)",
         "14 \"sts\" is not understood here; name the stitch, such as sc 3 or k 3"},
        {"Sc across (12 each front, 8 for each sleeve, 24 back)", "sc across (64 sts)"},
        {"Sc across (12 for left front, 12 for the right front, 24 for back)", "sc across (48 sts)"},
        {"Sc across (12 on each side)", "sc across (24 sts)"},
        {"Sc across (12 left moon)", "14 left is not a stitch in US terms; did you mean \"left lifted increase\"?"},
        {"Sc across (approx 12 each front)", "sc across"},
        {"Sc across (24 sts). Turn", "sc across, turn (24 sts)"},
        {"Sc across (24 sts), do not turn.", "sc across (24 sts)"},
        {"Sc across (24 sts); join, ch 3", "sc around, join, ch 3 (24 sts)"},
        {"Sc across (24 sts), fasten off", "sc across (24 sts)"},
        {"Sc across (24 sts). Cut yarn.", "sc across (24 sts)"},
        {"Sc across (24 sts), place marker", "sc across, pm (24 sts)"},
        {"Sc across (24 sts) (12 sc)", "sc across (24 sts, 12 sc)"},
        {"Sc across (24 sts) [RS]", "sc across (24 sts)"},
        {"Sc across (24 sts", "14 \"sts\" is not understood here; name the stitch, such as sc 3 or k 3 | 10 the "
                              "bracket that opens here is not closed; write ) where the group ends"},
        {"Sc across (30 rows)", "sc across"},
        {"Sc across (0.5 sts)", "11 0.5 is not a whole number; stitches are counted in whole numbers"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
}

static void graded_numbers(void **state)
{
    static const struct example examples[] = {
        {"Sc 12 (14, 16)", "sc 12 (14, 16) sts"},
        {"Sc in next 12 [14; 16] sts", "sc in next 12 (14, 16) sts"},
        {"Sc in next 12 (14) (16) sts", "sc in next 12 (14, 16) sts"},
        {"Sc in next 12 (14, -) sts", "sc in next 12 (14, 0) sts"},
        {"Sc in next - (14, 16) sts", "sc in next 0 (14, 16) sts"},
        {"Sc in next - (14) sts", "6 \"in next\" names no place; " PLACED},
        {"Sc in next - [14, 16] sts", "sc in next 0 (14, 16) sts"},
        {"Sc in next - 14 sts", "6 \"in next\" names no place; " PLACED},
        {"Sc in next - (14 16) sts", "6 \"in next\" names no place; " PLACED},
        {"Sc in next 12 (14, 16 sts", "15 a number without a stitch; name what is worked: sc 3, 5 dc in "
                                      "next st | 22 \"sts\" is not understood here; name the stitch, such as sc 3 or k "
                                      "3 | 14 the bracket that opens here is not closed; write ) where the group ends"},
        {"Sc in next 12 (- 14) sts", "17 14 is not a stitch in US terms; " LISTED},
        {"Sc in next 9999999999999 (14, 16) sts",
         "11 a count is above 1000000000000; look for a number with too many digits"},
        {"Sc to last 12 (14, 16) sts", "sc to last 12 (14, 16) sts"},
        {"Sc in next 12 (14, 16, 18) sts",
         "11 4 values for 3 sizes; write one value for all sizes, or one for each: 12 (14, 16)"},
        {"Sc in next 12 (14, moon) sts", "15 a number without a stitch; name what is worked: sc 3, 5 dc in "
                                         "next st | 19 moon is not a stitch in US terms; " LISTED},
        {"Sc in next 12 (14 moon) sts", "18 moon is not a stitch in US terms; " LISTED},
        {"Sc in next 0 (1, 2) sts", "sc in next 0 (1, 2) sts"},
        {"Sc in next 12 (14, 9999999999999) sts",
         "11 a count is above 1000000000000; look for a number with too many digits"},
        {"Sc in next 9999999999999 sts", "11 a count is above 1000000000000; look for a number with too many digits"},
        {"Sc in next six sts", "sc in next 6 sts"},
        {"Sc in next 1.5 sts", "11 1.5 is not a whole number; stitches are counted in whole numbers"},
        {"Sc in next 1/2 sts", "11 1/2 is not a whole number; stitches are counted in whole numbers"},
        {"Sc in next 3. Turn.", "sc in next 3 sts, turn"},
        {"Sc in next st (12, 14, 16)", "sc in next st (12 (14, 16) sts)"},
        {"Sc in next st (12, 14, 16 sts)", "sc in next st (12 (14, 16) sts)"},
        {"Sc across. 12, 14, 16, turn", "sc across, turn (12 (14, 16) sts)"},
        {"Sc in next st (12/14/16/18)", "15 12/14 is not a whole number; stitches are counted in whole numbers"},
        {"Sc in next st (12/14/16)", "sc in next st (12 (14, 16) sts)"},
        {"Sc in next st (12, 14, 16, 18)", "sc in next st (12 sts, 14 (16, 18) sts)"},
        {"Sc in next st (12 (14, 16) sts)", "sc in next st (12 (14, 16) sts)"},
        {NULL, NULL},
    };
    assert_examples(*state, us3, examples);
}

static void names_and_what_is_none(void **state)
{
    static const struct example examples[] = {
        {"Dc3tog", "dc3tog 1"},
        {"Sc 2x", "4 \"x\" is not understood here; write it after brackets: (sc, ch 1) x 3"},
        {"Sc2x", "0 Sc2x is not a stitch in US terms; " LISTED},
        {"Sc2x 3", "3 \"x\" is not understood here; write it after brackets: (sc, ch 1) x 3"},
        {"M12", "0 M12 is not a stitch in US terms; " LISTED},
        {"M 12 sts", "0 M is not a stitch in US terms; " LISTED},
        {"tr4tog", "0 tr4tog is a UK word, and this project has terms,US; write dc4tog"},
        {"q in next st", "0 q is not a stitch in US terms; " LISTED},
        {"qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq"
         "qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq",
         "0 qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq is not a stitch in US terms; " LISTED},
        {"Sc in next 12 (14, 16) sts",
         "11 3 values for 1 size; write one value for all sizes, or one for each: 12 (14, 16)"},
        {"Sc in next 12 (14) sts", "15 a number without a stitch; name what is worked: sc 3, 5 dc in next st"},
        {"Sc 3 .5", "sc 3 (5 sts)"},
        {"Sc 3.5", "3 3.5 is not a whole number; stitches are counted in whole numbers"},
        {"Sc 3 / 5", "5 \"/\" is not understood here; name what is worked, such as sc in next 3 sts or ch 2"},
        {"Ch 2, k", "ch 2, k across"},
        {"K", "k across"},
        {"K 2", "k 2"},
        {"Sc in next - (14) sts", "6 \"in next\" names no place; " PLACED},
        {"Sc2 x 3", "4 \"x\" is not understood here; write it after brackets: (sc, ch 1) x 3"},
        {"k2tog2", "k2tog 2"},
        {"k&p", "0 k&p is not a stitch in US terms; " LISTED},
        {"sc&", "0 sc& is not a stitch in US terms; did you mean \"sc\"?"},
        {"htr in next st", "0 htr is a UK word, and this project has terms,US; write hdc"},
        {"scc", "0 scc is not a stitch in US terms; did you mean \"sc\"?"},
        {"zz", "0 zz is not a stitch in US terms; " LISTED},
        {"%", "0 \"%\" is not understood here; name what is worked, such as sc in next 3 sts or ch 2"},
        {"", "0 the row is empty; write what is worked, such as *sc 1*"},
        {"sc in st\n2", "9 a number without a stitch; name what is worked: sc 3, 5 dc in next st"},
        {"sc,\tdc", "sc 1, dc 1"},
        {NULL, NULL},
    };
    static const struct example british[] = {
        {"sc in next st", "0 sc is a US word, and this project has terms,UK; write dc"},
        {"htr in next st", "htr in next st"},
        {"moon",
         "0 moon is not a stitch in UK terms; write it in stitches that hankful tables stitches lists, or write "
         "[take as 24 dc] after the row"},
        {NULL, NULL},
    };
    assert_examples(*state, us, examples);
    assert_examples(*state, uk, british);
}

static void words_that_the_pattern_defines(void **state)
{
    static const struct example examples[] = {
        {"Sc in next leaf", "sc in next shell"},
        {"Sc in next 2 leafs", "sc in next 2 shells"},
        {"Sc in next leaf pair", "sc in next shell"},
        {"Sc in next leaflet", "6 \"in next\" names no place; " PLACED},
        {"Sc in next leafsy", "6 \"in next\" names no place; " PLACED},
        {"Sc across (4 leafs)", "sc across (4 shells)"},
        {"Sc across (4 leafx)", "13 leafx is not a stitch in US terms; " LISTED},
        {NULL, NULL},
    };
    assert_examples(*state, (struct manner){.terms = HK_TERMS_US, .sizes = 1, .defined = true}, examples);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_without_meaning_for_the_count),
        cmocka_unit_test(spaces_and_chains),
        cmocka_unit_test(groups_and_what_stands_between),
        cmocka_unit_test(rings_markers_and_rows_below),
        cmocka_unit_test(each_of_them),
        cmocka_unit_test(which_and_how_many),
        cmocka_unit_test(where_sweeps_end),
        cmocka_unit_test(stated_at_the_end),
        cmocka_unit_test(graded_numbers),
        cmocka_unit_test(names_and_what_is_none),
        cmocka_unit_test(words_that_the_pattern_defines),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
