/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Counts of whole folders: continued lines, ends, stripes, yarns held together, gauge; and exact findings for widths
 * that do not fit.
 */
#include "folder.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Counts a folder and asserts that it has no findings except the expected notes. */
struct counted {
    struct hk_project *project;
    struct hk_tally *tally;
};

static struct counted count_noted(const struct hk_catalogue *catalogue, struct folder folder, const char *notes)
{
    struct counted c = {folder_good(catalogue, folder), NULL};
    struct hk_diags diags = {0};
    c.tally = hk_tally_count(c.project, &diags);
    assert_findings(&diags, notes);
    assert_non_null(c.tally);
    return c;
}

static struct counted count(const struct hk_catalogue *catalogue, struct folder folder)
{
    return count_noted(catalogue, folder, "");
}

static void done(struct counted c)
{
    hk_tally_free(c.tally);
    hk_project_free(c.project);
}

/* Asserts that the folder is read and cannot be counted, and asserts the findings. */
static void assert_uncounted(const struct hk_catalogue *catalogue, struct folder folder, const char *expected)
{
    struct hk_project *project = folder_good(catalogue, folder);
    struct hk_diags diags = {0};
    struct hk_tally *tally = hk_tally_count(project, &diags);
    assert_findings(&diags, expected);
    assert_null(tally);
    hk_project_free(project);
}

static const struct hk_worked *worked(struct counted c, size_t line, size_t size)
{
    return &c.tally->lines[size * c.project->line_count + line];
}

/* Returns the count of the stitch with that US abbreviation. */
static double stitches(struct counted c, const struct hk_use *use, const char *us)
{
    for (size_t i = 0; i < use->kinds.count; i++) {
        if (strcmp(c.project->catalogue->stitches[use->kinds.kinds[i].stitch].us, us) == 0)
            return use->kinds.kinds[i].count;
    }
    return 0;
}

#define PIECES "piece,fabric,yarn,tool,stitches,rows\n"
#define PIECES_MORE "piece,part,fabric,yarn,tool,stitches,rows,times,start,end_stitches,ends,carry\n"

/* By custom ch 2 is not a stitch, so the row would have 19: it states 20, in both sizes, which is reported once. */
static void a_convention_that_a_stated_count_decides_is_named(void **state)
{
    done(count_noted(
        *state,
        (struct folder){.fabrics =
                            "fabric,row,make\nridge,1,\"Ch 2, sk first st, hdc in next st and in each st across, "
                            "turn (20)\"\n",
                        .pieces = PIECES_MORE "p,,ridge,main,4 mm,20,10,1,edge,,,\n"},
        "pieces.csv:2:1: note: \"p\" is worked so that ch 2 at the start of a row counts as its first stitch: only "
        "then do the rows of \"ridge\" agree with their stated counts\n"));
}

/* The first and the third row are main: 20 ch and 20 sc, then 20 dc, summed as kinds of one yarn; the row between is
 * lace. */
static void stripes_of_one_yarn_add_up_kind_by_kind(void **state)
{
    struct counted c =
        count(*state, (struct folder){.fabrics = "fabric,row,make\nmixed,1,*sc 1*\nmixed,2,*sc 1*\nmixed,3,*dc 1*\n",
                                      .pieces = PIECES "strip,mixed,\"main 1, lace 1, main 1\",4 mm,20,3\n"});
    const struct hk_worked *w = worked(c, 0, 0);
    double sc = 0, dc = 0, ch = 0;
    assert_int_equal(w->use_count, 2);
    for (size_t i = 0; i < w->use_count; i++) {
        sc += stitches(c, &w->uses[i], "sc");
        dc += stitches(c, &w->uses[i], "dc");
        ch += stitches(c, &w->uses[i], "ch");
    }
    assert_close(sc, 40, 0, 0);
    assert_close(dc, 20, 0, 0);
    assert_close(ch, 20, 0, 0);
    done(c);
}

/* ---- Lines and sizes ----------------------------------------------------------------------------------------- */

/* 10 rows of 20, 24 and 28 sc over as many chains; each row has a turning chain of 1. */
static void a_strip_is_counted_in_every_size(void **state)
{
    struct counted c = count(*state, good_folder);
    for (size_t size = 0; size < 3; size++) {
        int64_t width = 20 + 4 * (int64_t)size;
        const struct hk_worked *w = worked(c, 0, size);
        assert_int_equal(w->times, 1);
        assert_int_equal(w->foundation, width);
        assert_int_equal(w->leaves, width);
        assert_int_equal(w->use_count, 1);
        assert_close(stitches(c, &w->uses[0], "sc"), 10.0 * (double)width, 0, 0);
        assert_close(stitches(c, &w->uses[0], "ch"), (double)width + 10, 0, 0);
        assert_close(w->uses[0].ends[0], 2, 0, 0);
        assert_close(w->tool_mm, 4, 0, 0);
    }
    assert_int_equal(hk_tally_lines(c.tally), 1);
    struct hk_line_count line = hk_tally_line(c.tally, 0, 2);
    assert_string_equal(line.piece, "strip");
    assert_string_equal(line.part, "");
    assert_string_equal(line.fabric, "single crochet");
    assert_int_equal(line.run_count, 1);
    assert_int_equal(line.runs[0].last, 10);
    assert_int_equal(line.runs[0].stitches, 28);
    assert_int_equal(line.width.count, 0);
    done(c);
}

static void knitting_is_cast_on(void **state)
{
    struct counted c = count(*state, (struct folder){.pieces = PIECES "strip,stockinette,main,4 mm,20,2\n"});
    const struct hk_use *use = &worked(c, 0, 0)->uses[0];
    assert_close(stitches(c, use, "CO"), 20, 0, 0);
    assert_close(stitches(c, use, "ch"), 0, 0, 0);
    assert_close(stitches(c, use, "k") + stitches(c, use, "p"), 40, 0, 0);
    done(c);
}

/* 20 sts: row 1 of pairs uses each stitch once; the body continues on the rib's stitches and has no foundation. */
static void a_line_that_continues_stands_on_the_one_before(void **state)
{
    struct counted c =
        count(*state, (struct folder){.pieces = PIECES_MORE "back,rib,pairs,main,4 mm,\"20 (24, 28)\",4,,,,,\n"
                                                            "back,body,single crochet,main,5 mm,,10,,,,,\n"});
    for (size_t size = 0; size < 3; size++) {
        const struct hk_worked *body = worked(c, 1, size);
        assert_int_equal(body->foundation, 0);
        assert_int_equal(body->leaves, 20 + 4 * (int64_t)size);
        assert_close(stitches(c, &body->uses[0], "sc"), 10.0 * (double)body->leaves, 0, 0);
        assert_close(body->uses[0].ends[0], 0, 0, 0); /* the yarn continues */
    }
    done(c);
}

/* The waist is omitted in S (rows 0), M (stitches -) and L (times 0): the body continues on the rib directly. */
static void a_size_that_does_without_passes_on_what_was_before(void **state)
{
    struct counted c = count_noted(
        *state,
        (struct folder){.pieces =
                            PIECES_MORE "back,rib,pairs,main,4 mm,20,4,,,,,\n"
                                        "back,waist,pairs,lace,4 mm,\"20 (-, 20)\",\"0 (6, 6)\",\"1 (1, 0)\",,,,\n"
                                        "back,body,single crochet,main,4 mm,,10,,,,,\n"},
        "pieces.csv:3:1: warning: \"back\", part \"waist\" takes no yarn in any size; check its stitches, rows and "
        "times: 0 in any of them works nothing; or take the line out\n");
    for (size_t size = 0; size < 3; size++) {
        assert_int_equal(worked(c, 1, size)->times, 0);
        assert_int_equal(worked(c, 1, size)->use_count, 0);
        assert_int_equal(worked(c, 2, size)->leaves, 20);
        assert_close(worked(c, 2, size)->uses[0].ends[0], 0, 0, 0);
    }
    done(c);
}

static void continuing_on_nothing_is_an_error_in_that_size_only(void **state)
{
    assert_uncounted(
        *state,
        (struct folder){.pieces = PIECES_MORE "back,rib,pairs,main,4 mm,20,\"4 (0, 4)\",,,,,\n"
                                              "back,body,single crochet,main,4 mm,,10,,,,,\n"},
        "pieces.csv:3:1: error: \"back\", part \"body\", size M: no line before it is worked to continue on; "
        "write chain, edge or ring as its start\n");
}

/*
 * One line for each way to start, on rows that cannot be worked that way: `b` to `k` continue on 20 stitches; a ring
 * has none; an edge has the stated number; tapers and lengths beyond the limit. narrow loses a stitch a row, so the
 * losses of 29 of 30 rows leave none.
 */
static void every_way_to_start_says_what_does_not_fit(void **state)
{
    struct folder folder = {
        .project = "field,value\nsizes,S\n",
        .grade = "",
        .fabrics =
            "fabric,row,make\nthrees,1,\"tch 1, *sc 3*\"\nthrees,2,\"tch 1, *sc 2, sk 2*\"\n"
            "set,set-up,\"tch 1, *sc 3*\"\nset,1,\"tch 1, sc 7\"\nbig,1,\"tch 1, sc 7\"\nlost,1,\"tch 1, *ch 1*\"\n"
            "lost2,1,\"tch 1, *sc 1*\"\nlost2,2,\"tch 1, *ch 1*\"\nnarrow,1,\"*sc 1*, sk 1\"\n"
            "narrow,2,\"*sc 1*, sk 1\"\nwide,1,\"*sc 1*, ch 1\"\nsolo,1,\"sc in ring\"\nany,1,\"*ch 1*\"\n"
            "cuts,1,\"cut 20 cm\"\n",
        .swatches = "swatch,yarn,tool,fabric,stitches,rows,weight,width,height\nplain,main,4 mm,single crochet,20,20,9 "
                    "g,10 cm,10 cm\n",
        .pieces =
            "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,start\nb,base,single crochet,main,4 mm,20,2,,\n"
            "b,on,single crochet,main,4 mm,21,2,,continue\nc,base,single crochet,main,4 mm,20,2,,\n"
            "c,on,set,main,4 mm,,3,,continue\nd,base,single crochet,main,4 mm,20,2,,\nd,on,big,main,4 mm,,3,,continue\n"
            "e,base,single crochet,main,4 mm,20,2,,\ne,on,any,main,4 mm,,3,,continue\n"
            "f,base,single crochet,main,4 mm,20,2,,\nf,on,lost2,main,4 mm,,3,,continue\n"
            "h,base,single crochet,main,4 mm,20,2,,\nh,on,threes,main,4 mm,,3,,continue\n"
            "i,base,single crochet,main,4 mm,20,2,,\ni,on,threes,main,4 mm,20,3,,continue\n"
            "j,base,single crochet,main,4 mm,20,2,,\nj,on,cuts,main,4 mm,,1,,continue\n"
            "k,base,single crochet,main,4 mm,20,2,,\nk,on,threes,main,4 mm,,3,9,continue\n"
            "two,ring,single crochet,main,4 mm,6,3,,ring\ntwo,ring2,solo,main,4 mm,2,1,,ring\n"
            "two,ring3,threes,main,4 mm,,2,,ring\ntwo,ring4,any,main,4 mm,,2,,ring\n"
            "three,edge,set,main,4 mm,9,3,,edge\nthree,edge2,big,main,4 mm,1,3,,edge\n"
            "three,edge3,any,main,4 mm,20,1,,edge\nthree,edge4,cuts,main,4 mm,20,1,,edge\n"
            "four,taper,big,main,4 mm,7,3,9,chain\nfour,taper2,any,main,4 mm,7,3,9,chain\n"
            "four,taper3,single crochet,main,4 mm,1000000000000,3,2,chain\n"
            "four,taper4,single crochet,main,4 mm,9,3000000,2,chain\n"
            "four,long,single crochet,main,4 mm,100000000 km,3,,chain\n"
            "four,tall,single crochet,main,4 mm,9,100000000 km,,chain\nfive,n,narrow,main,4 mm,9,30,,chain\n"
            "five,w,wide,main,4 mm,9,30,,chain\nfive,w2,wide,main,4 mm,9,3000000,,chain\n"
            "five,w3,wide,main,4 mm,20 cm,2,,chain\n",
    };
    assert_uncounted(
        *state, folder,
        "fabrics.csv:9:17: error: \"f\", part \"on\": there is no end to the repeat of row 2 of \"lost2\"; let "
        "each run of the repeat use up stitches of the row below\n"
        "fabrics.csv:14:8: error: \"e\", part \"on\": there is no end to the repeat of row 1 of \"any\"; let "
        "each run of the repeat use up stitches of the row below\n"
        "pieces.csv:3:31: error: \"b\", part \"on\": 21 stitches are stated, and row 1 of \"single "
        "crochet\" leaves 20; write 20, or leave the cell empty\n"
        "pieces.csv:5:20: error: \"c\", part \"on\": its row 1, which is the set-up of \"set\", does not "
        "fit the 20 stitches of the line before; it fits 18 or 21\n"
        "pieces.csv:7:20: error: \"d\", part \"on\": row 1 of \"big\" does not fit the 20 stitches of "
        "the line before; it fits 7\n"
        "pieces.csv:13:23: error: \"h\", part \"on\": row 1 of \"threes\" does not fit the 20 stitches "
        "of the line before; it fits 18 or 21\n"
        "pieces.csv:15:23: error: \"i\", part \"on\": row 1 of \"threes\" does not fit the 20 stitches "
        "of the line before; it fits 18 or 21\n"
        "pieces.csv:17:21: error: \"j\", part \"on\": row 1 of \"cuts\" does not fit the 20 stitches of "
        "the line before; start it with edge\n"
        "pieces.csv:20:35: error: \"two\", part \"ring\": row 1 of \"single crochet\" needs 1 stitch "
        "below it, and a ring has none; start it with chain, or write row 1 with stitches in ring\n"
        "pieces.csv:21:26: error: \"two\", part \"ring2\": 2 stitches are stated, and row 1 of \"solo\" "
        "leaves 1; write 1, or leave the cell empty\n"
        "pieces.csv:22:28: error: \"two\", part \"ring3\": row 1 of \"threes\" needs 3 stitches below "
        "it, and a ring has none; start it with chain, or write row 1 with stitches in ring\n"
        "pieces.csv:23:25: error: \"two\", part \"ring4\": row 1 of \"any\" may be of any width, and no "
        "stitches are stated; write how many stitches it leaves\n"
        "pieces.csv:24:26: error: \"three\", part \"edge\": its row 2, which is row 1 of \"set\", does "
        "not fit the 9 stitches of the row below; it fits 7\n"
        "pieces.csv:25:27: error: \"three\", part \"edge2\": 1 stitch is stated, and row 1 of \"big\" "
        "takes 7; write 7\n"
        "pieces.csv:27:28: error: \"three\", part \"edge4\": 20 stitches are stated, and row 1 of "
        "\"cuts\" takes 0; leave the cell empty\n"
        "pieces.csv:28:30: error: \"four\", part \"taper\": row 1 of \"big\" has no repeat, so it has no "
        "other width to taper to; leave end_stitches empty, or write the row with a repeat such as "
        "*sc*\n"
        "pieces.csv:30:38: error: \"four\", part \"taper3\": too much to count at row 1; at most a "
        "million stitches in a row, and a million rows, can be counted\n"
        "pieces.csv:31:38: error: \"four\", part \"taper4\": too much to count at row 1000000; at most a "
        "million stitches in a row, and a million rows, can be counted\n"
        "pieces.csv:32:36: error: \"four\", part \"long\" comes to more than 10^12 stitches\n"
        "pieces.csv:33:38: error: \"four\", part \"tall\" comes to more than 10^12 rows\n"
        "pieces.csv:34:25: error: \"five\", part \"n\": its row 11, which is row 1 of \"narrow\", does "
        "not fit the 0 stitches of the row below; it fits 1; started with 29, all rows fit\n"
        "pieces.csv:36:24: error: \"five\", part \"w2\": too much to count at row 1000000; at most a "
        "million stitches in a row, and a million rows, can be counted\n"
        "pieces.csv:37:24: error: \"five\", part \"w3\" is given as a length, and no swatch of \"wide\" "
        "says how many stitches that is; work a swatch of \"wide\" with a 4 mm tool and write its gauge, "
        "such as 18 x 24, into swatches.csv; or write a number of stitches here\n");
}

/* An edge has no foundation. 30 stitches picked up, 2 rows. */
static void an_edge_adds_nothing_below(void **state)
{
    struct counted c =
        count(*state, (struct folder){.pieces = PIECES_MORE "hem,,single crochet,lace,4 mm,30,2,2,edge,,,\n"});
    const struct hk_worked *w = worked(c, 0, 1);
    assert_int_equal(w->times, 2);
    assert_int_equal(w->foundation, 0);
    assert_close(stitches(c, &w->uses[0], "sc"), 60, 0, 0);
    assert_close(stitches(c, &w->uses[0], "ch"), 2, 0, 0);
    done(c);
}

/* 6, 12, 18: in a ring 6 sc, then twice increases; the stitches need not be stated. */
static void a_ring_counts_itself(void **state)
{
    struct counted c = count(
        *state, (struct folder){.fabrics = "fabric,row,make\ncrown,set-up,6 sc in ring\ncrown,set-up 2,*2 sc in 1*\n"
                                           "crown,1,\"*sc 1, 2 sc in 1*\"\n",
                                .pieces = PIECES_MORE "hat,,crown,main,4 mm,,3,,ring,,,\n"});
    const struct hk_worked *w = worked(c, 0, 0);
    assert_int_equal(w->foundation, 0);
    assert_int_equal(w->leaves, 18);
    assert_close(stitches(c, &w->uses[0], "sc"), 36, 0, 0);
    done(c);
}

/* 4 rows from 10 to 4: worked on 10, 8, 6 and 4, 28 in all. */
static void a_taper_is_counted_evenly(void **state)
{
    struct counted c = count(
        *state, (struct folder){.pieces = PIECES_MORE "gusset,,single crochet,main,4 mm,10,4,,,\"4 (4, -)\",,\n"});
    assert_close(stitches(c, &worked(c, 0, 0)->uses[0], "sc"), 28, 1e-15, 0);
    assert_int_equal(worked(c, 0, 0)->leaves, 4);
    assert_close(stitches(c, &worked(c, 0, 2)->uses[0], "sc"), 40, 1e-15, 0); /* L has no taper */
    assert_int_equal(worked(c, 0, 2)->leaves, 10);
    done(c);
}

/* A cuff of 3 rows on the 4 stitches that the taper leaves, in L on all 10. */
static void what_continues_stands_on_the_last_row_of_a_taper(void **state)
{
    struct counted c =
        count(*state, (struct folder){.pieces = PIECES_MORE "gusset,,single crochet,main,4 mm,10,4,,,\"4 (4, -)\",,\n"
                                                            "gusset,cuff,single crochet,main,4 mm,,3,,,,,\n"});
    assert_close(stitches(c, &worked(c, 1, 0)->uses[0], "sc"), 12, 0, 0);
    assert_int_equal(worked(c, 1, 0)->leaves, 4);
    assert_close(stitches(c, &worked(c, 1, 2)->uses[0], "sc"), 30, 0, 0);
    done(c);
}

/* ---- Ends ---------------------------------------------------------------------------------------------------- */

/* `main` after `lace` is new; `main + lace` after `main`: lace is new; `main x2` after `main`: one of two is new, so 1
 * each. */
static void ends_are_added_where_a_strand_is_new(void **state)
{
    struct counted c = count(*state, (struct folder){.pieces = PIECES_MORE "a,1,pairs,lace,4 mm,20,2,,,,,\n"
                                                                           "a,2,pairs,main,4 mm,,2,,,,,\n"
                                                                           "a,3,pairs,main + lace,4 mm,,2,,,,,\n"
                                                                           "a,4,pairs,main,4 mm,,2,,,,,\n"
                                                                           "a,5,pairs,main x2,4 mm,,2,,,,,\n"
                                                                           "a,6,pairs,main x2,4 mm,20,2,,edge,,,\n"
                                                                           "a,7,pairs,main,4 mm,,2,,,,3,\n"
                                                                           "a,8,pairs,lace,4 mm,,2,,,,0,\n"});
    double first[] = {2, 2, 0, 0, 1, 2, 3, 0};
    for (size_t line = 0; line < 8; line++)
        assert_close(worked(c, line, 0)->uses[0].ends[0], first[line], 0, 0);
    assert_close(worked(c, 2, 0)->uses[0].ends[1], 2, 0, 0); /* the ends of the lace */
    done(c);
}

/*
 * main 2, lace 1 over 6 rows: rows 1, 2, 4, 5 in main, 3 and 6 in lace; main is changed to once, lace twice. 20 chains
 * and the turning chains: main 20 + 4, lace 2.
 */
static void stripes_share_rows_and_each_change_adds_two_ends(void **state)
{
    struct counted c =
        count(*state, (struct folder){.pieces = PIECES_MORE "a,,single crochet,\"main 2, lace 1\",4 mm,20,6,,,,,\n"
                                                            "b,,single crochet,\"main 2, lace 1\",4 mm,20,6,,,,,yes\n"
                                                            "b,,single crochet,lace,4 mm,,1,,,,,\n"});
    const struct hk_worked *a = worked(c, 0, 0), *b = worked(c, 1, 0);
    assert_int_equal(a->use_count, 2);
    assert_close(stitches(c, &a->uses[0], "sc"), 80, 0, 0);
    assert_close(stitches(c, &a->uses[0], "ch"), 24, 0, 0);
    assert_close(stitches(c, &a->uses[1], "sc"), 40, 0, 0);
    assert_close(stitches(c, &a->uses[1], "ch"), 2, 0, 0);
    assert_close(a->uses[0].ends[0], 2 + 2, 0, 0);
    assert_close(a->uses[1].ends[0], 4, 0, 0);
    assert_close(b->uses[0].ends[0], 2, 0, 0); /* carried along: ends only where a strand is first joined */
    assert_close(b->uses[1].ends[0], 2, 0, 0);
    assert_close(worked(c, 2, 0)->uses[0].ends[0], 0, 0, 0); /* row 6 was worked in lace */
    done(c);
}

/* main 1, main + lace 1, main 1: one use of main for both stripes; main is in every stripe, lace is joined once in 3
 * rows. */
static void stripes_of_one_combination_are_one_use(void **state)
{
    struct counted c =
        count(*state, (struct folder){.pieces = PIECES_MORE
                                      "a,,single crochet,\"main 1, main + lace 1, main 1\",4 mm,20,3,,,,,\n"});
    const struct hk_worked *a = worked(c, 0, 0);
    assert_int_equal(a->use_count, 2);
    assert_close(stitches(c, &a->uses[0], "sc"), 40, 0, 0);
    assert_close(a->uses[0].ends[0], 2, 0, 0);
    assert_int_equal(a->uses[1].longest_count, 1);
    assert_close(a->uses[1].ends[0], 0, 0, 0);
    assert_close(a->uses[1].ends[1], 2, 0, 0);
    done(c);
}

static void a_stripe_that_is_not_reached_uses_nothing(void **state)
{
    struct counted c =
        count(*state, (struct folder){.pieces = PIECES_MORE
                                      "a,,single crochet,\"main 4, lace 4\",4 mm,20,\"4 (4, 5)\",,,,,\n"});
    assert_int_equal(worked(c, 0, 0)->use_count, 1);
    assert_int_equal(worked(c, 0, 2)->use_count, 2);
    done(c);
}

/* ---- Swatches ------------------------------------------------------------------------------------------------ */

/* 20 rows of 20 sc, 20 chains and 20 turning chains, an end at each end of the strand. */
static void swatches_are_counted_like_parts(void **state)
{
    struct counted c = count(*state, good_folder);
    const struct hk_worked *w = &c.tally->swatches[0];
    assert_int_equal(w->times, 1);
    assert_close(stitches(c, &w->uses[0], "sc"), 400, 0, 0);
    assert_close(stitches(c, &w->uses[0], "ch"), 40, 0, 0);
    assert_close(w->uses[0].ends[0], 2, 0, 0);
    assert_close(w->tool_mm, 4, 0, 0);
    done(c);
}

static void a_swatch_that_does_not_fit_is_reported_at_its_stitches(void **state)
{
    assert_uncounted(*state,
                     (struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows\nodd,main,4 mm,pairs,21,4\n"},
                     "swatches.csv:2:21: error: the swatch \"odd\": row 1 of \"pairs\" does not fit 21 stitches; 20 or "
                     "22 would do\n");
}

static void learned_swatches_are_counted_too(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", "field,value\nlearn_from,../hat\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
        {"pieces.csv", PIECES "strip,single crochet,main,4 mm,20,10\n", 0},
        {"../hat/project.csv", "field,value\ntitle,Hat\n", 0},
        {"../hat/yarns.csv", "role,yarn,put_up,length\nbrim,Quay DK,50 g,120 m\n", 0},
        {"../hat/swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,weight\nhat,brim,4 mm,single crochet,20,20,9 g\n", 0},
        {NULL, NULL, 0},
    };
    struct hk_diags diags = {0};
    struct hk_source source = memory_source(files);
    struct counted c = {hk_project_read(&source, *state, &diags), NULL};
    assert_non_null(c.project);
    c.tally = hk_tally_count(c.project, &diags);
    assert_findings(&diags, "");
    assert_close(c.tally->learned[0]->swatches[0].uses[0].ends[0], 2, 0, 0);
    assert_ptr_equal(c.tally->learned[0]->project, c.project->learned[0]);
    done(c);
}

/* ---- Gauge --------------------------------------------------------------------------------------------------- */

/*
 * 20 stitches and 25 rows in 10 cm. Widths 10.3, 12 and 13.8 cm are 20.6, 24 and 27.6 stitches: 21, 24 and 28, finished
 * 10.5, 12 and 14 cm. A height of 9.9 cm is 24.75 rows: 25, finished 10 cm.
 */
static void centimetres_become_stitches_and_rows_by_gauge(void **state)
{
    struct counted c = count_noted(
        *state, (struct folder){.pieces = PIECES "strip,single crochet,main,4 mm,\"10.3 (12, 13.8) cm\",9.9 cm\n"},
        "pieces.csv:2:33: note: \"strip\" is worked as 21 (24, 28) stitches for 10.3 (12, 13.8) cm, finished 10.5 (12, "
        "14) cm "
        "by swatch \"plain\"; 25 rows for 9.9 cm, finished 10 cm by swatch \"plain\"\n");
    int64_t widths[] = {21, 24, 28};
    for (size_t size = 0; size < 3; size++) {
        struct hk_line_count line = hk_tally_line(c.tally, 0, size);
        assert_int_equal(line.foundation, widths[size]);
        assert_int_equal(line.runs[0].last, 25);
        assert_close(line.width.finished_m, (double)widths[size] / 200, 1e-14, 0);
        assert_close(line.height.finished_m, 0.1, 1e-14, 0);
        assert_close(line.height.asked_m, 0.099, 1e-14, 0);
        assert_int_equal(line.width.count, widths[size]);
        assert_int_equal(line.width.apart, 1);
        assert_string_equal(line.width.swatch, "plain");
    }
    done(c);
}

/* 4 in are 10.16 cm, 20.32 stitches at 20 in 10 cm. Repeats of 2: 20. 10.5 cm are 21: halves up, 22. 1 cm: one repeat
 * at least. */
static void a_width_becomes_the_nearest_that_the_fabric_fits(void **state)
{
    struct counted c = count_noted(
        *state,
        (struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge\n"
                                    "pairs,main,4 mm,pairs,20,20,20 x 25\n",
                        .pieces = PIECES "a,pairs,main,4 mm,\"4 in (10.5 cm, 1 mm)\",10\n"},
        "pieces.csv:2:20: note: \"a\" is worked as 20 (22, 2) stitches, a multiple of 2, for 10.2 (10.5, 0.1) "
        "cm, finished 10 (11, 1) cm by swatch "
        "\"pairs\"\n");
    assert_int_equal(worked(c, 0, 0)->leaves, 20);
    assert_int_equal(worked(c, 0, 1)->leaves, 22);
    assert_int_equal(worked(c, 0, 2)->leaves, 2);
    done(c);
}

/* 4, 5 and 6.5 in are 10.16, 12.7 and 16.51 cm: 20.3, 25.4 and 33.0 stitches, so 20, 26 and 34 of pairs. */
static void what_is_asked_in_inches_is_reported_in_inches(void **state)
{
    done(count_noted(
        *state,
        (struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge\n"
                                    "pairs,main,4 mm,pairs,20,20,20 x 25\n",
                        .pieces = PIECES "a,pairs,main,4 mm,4 (5; 6 1/2) in,10\n"},
        "pieces.csv:2:19: note: \"a\" is worked as 20 (26, 34) stitches, a multiple of 2, for 4 (5, 6.5) in, "
        "finished 3.9 (5.1, 6.7) in by swatch \"pairs\"\n"));
}

/*
 * For the swatches of this fabric: 5 mm is nearest to 4.6 mm; of two equally near the first; b has no rows, so c
 * determines a height.
 */
static void the_swatch_of_the_same_fabric_nearest_in_tool_counts(void **state)
{
    struct counted c = count_noted(
        *state,
        (struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows,width,height\n"
                                    "a,main,3.5 mm,single crochet,20,20,5 cm,5 cm\n"
                                    "b,main,5 mm,single crochet,20,20,20 cm,\n"
                                    "c,main,6 mm,single crochet,20,20,40 cm,40 cm\n"
                                    "d,main,4.5 mm,pairs,20,20,5 cm,5 cm\n",
                        .pieces = PIECES "x,single crochet,main,4.6 mm,20 cm,8 cm\n"
                                         "y,single crochet,main,5.5 mm,20 cm,20 cm\n"},
        "pieces.csv:2:30: note: \"x\" is worked as 20 stitches for 20 cm, finished 20 cm by swatch \"b\" (5 mm); "
        "32 rows for 8 cm, finished 8 cm by swatch \"a\" (3.5 mm)\n"
        "pieces.csv:3:30: note: \"y\" is worked as 20 stitches for 20 cm, finished 20 cm by swatch \"b\" (5 mm); "
        "10 rows for 20 cm, finished 20 cm by swatch \"c\" (6 mm)\n");
    done(c);
}

static void without_a_swatch_centimetres_ask_for_one(void **state)
{
    assert_uncounted(
        *state,
        (struct folder){.pieces = PIECES_MORE "a,,pairs,main,4 mm,10 cm,5,,,,,\nb,top,pairs,main,4 mm,20,5 cm,,,,,\n"},
        "pieces.csv:2:20: error: \"a\" is given as a length, and no swatch of \"pairs\" says how many stitches that "
        "is; work a swatch of \"pairs\" with a 4 mm tool and write its gauge, such as 18 x 24, into swatches.csv; or "
        "write "
        "a number of stitches here\n"
        "pieces.csv:3:26: error: \"b\", part \"top\" is given as a length, and no swatch of \"pairs\" says how many "
        "rows that is; work a swatch of \"pairs\" with a 4 mm tool and write its gauge, such as 18 x 24, into "
        "swatches.csv; or "
        "write a number of rows here\n");
}

/* 10 cm are 20 stitches, tapered to 5 cm, 10 stitches. */
static void a_taper_may_end_in_centimetres(void **state)
{
    struct counted c =
        count_noted(*state, (struct folder){.pieces = PIECES_MORE "a,,single crochet,main,4 mm,10 cm,11,,,5 cm,,\n"},
                    "pieces.csv:2:29: note: \"a\" is worked as 20 stitches for 10 cm, finished 10 cm by swatch "
                    "\"plain\"; 10 stitches at the "
                    "end for 5 cm, finished 5 cm by swatch \"plain\"\n");
    assert_close(stitches(c, &worked(c, 0, 0)->uses[0], "sc"), 11 * 15, 1e-14, 0);
    done(c);
}

/* 0.3 mm are less than a tenth of a stitch, and one stitch is worked. */
static void a_length_of_next_to_nothing_is_one_stitch(void **state)
{
    struct counted c =
        count_noted(*state, (struct folder){.pieces = PIECES_MORE "a,,single crochet,main,4 mm,0.3 mm,2 mm,,,,,\n"},
                    "pieces.csv:2:29: note: \"a\" is worked as 1 stitch for under 0.1 cm, finished 0.5 cm by swatch "
                    "\"plain\"; 1 row for "
                    "0.2 cm, finished 0.4 cm by swatch \"plain\"\n");
    done(c);
}

/* The line before left 20 stitches, 10 cm; 10.4 cm is within one stitch of it, 12 cm is not. */
static void a_length_on_a_continuing_line_must_be_what_is_there(void **state)
{
    struct counted c = count_noted(
        *state,
        (struct folder){.pieces = PIECES_MORE "a,,pairs,main,4 mm,20,2,,,,,\n"
                                              "a,,single crochet,main,4 mm,10.4 cm,2,,,,,\n"},
        "pieces.csv:3:29: note: \"a\" is worked as 20 stitches for 10.4 cm, finished 10 cm by swatch \"plain\"\n");
    done(c);
    assert_uncounted(*state,
                     (struct folder){.pieces = PIECES_MORE "a,,pairs,main,4 mm,20,2,,,,,\n"
                                                           "a,,single crochet,main,4 mm,\"12 (10, 10) cm\",2,,,,,\n"},
                     "pieces.csv:3:30: error: \"a\", size S: 12 cm is asked for, and row 1 on the stitches of the line "
                     "before leaves 20, which "
                     "is 10 cm; leave the cell empty, or change the line before\n");
}

/* ---- Widths that do not fit ---------------------------------------------------------------------------------- */

static void a_width_that_does_not_fit_names_the_nearest(void **state)
{
    assert_uncounted(*state,
                     (struct folder){.pieces = PIECES_MORE "back,rib,pairs,main,4 mm,\"20 (23, 25)\",4,,,,,\n"
                                                           "back,body,single crochet,main,4 mm,,4,,,,,\n"},
                     "pieces.csv:2:27: error: \"back\", part \"rib\", size M: row 1 of \"pairs\" does not fit 23 "
                     "stitches; 22 or 24 would do\n"
                     "pieces.csv:2:27: error: \"back\", part \"rib\", size L: row 1 of \"pairs\" does not fit 25 "
                     "stitches; 24 or 26 would do\n");
}

/*
 * Row 1 takes pairs and row 2 takes threes, and each leaves the number that it found: 18 or 21 fit row 2, 18 or 24 fit
 * both.
 */
static void a_later_row_says_what_it_fits_and_what_fits_all(void **state)
{
    assert_uncounted(*state,
                     (struct folder){.project = "field,value\nsizes,S\n",
                                     .grade = "",
                                     .fabrics = "fabric,row,make\nmixed,1,*sc 2*\nmixed,2,*sc 3*\n",
                                     .pieces = PIECES_MORE "back,,mixed,main,4 mm,20,4,,,,,\n"},
                     "pieces.csv:2:23: error: \"back\": row 2 of \"mixed\" does not fit the 20 stitches of the row "
                     "below; it fits 18 or 21; "
                     "started with 18 or 24, all rows fit\n");
}

/* The part's rows are numbered through; the file has "set-up", "set-up 2", "1". Sevens fit 56 and 63. */
static void a_row_is_named_as_its_file_names_it(void **state)
{
    assert_uncounted(
        *state,
        (struct folder){.project = "field,value\nsizes,S\n",
                        .grade = "",
                        .fabrics = "fabric,row,make\nrag,set-up,*sc*\nrag,1,*sc 7*\n"
                                   "bag,set-up,*sc 7*\nbag,set-up 2,*sc*\nbag,1,*sc*\n"
                                   "tag,set-up,*sc*\ntag,set-up 2,*sc 7*\ntag,1,*sc*\n"
                                   "wag,set-up,*sc*\nwag,1,*ch 1*\n",
                        .pieces = PIECES_MORE "yoke,,rag,main,4 mm,60,4,,,,,\n"
                                              "belt,,bag,main,4 mm,60,4,,,,,\n"
                                              "cuff,,tag,main,4 mm,60,4,,,,,\n"
                                              "hood,,wag,main,4 mm,60,4,,,,,\n"},
        "fabrics.csv:11:7: error: \"hood\": there is no end to the repeat of its row 2, which is row 1 of \"wag\"; "
        "let each run of the repeat use up stitches of the row below\n"
        "pieces.csv:2:21: error: \"yoke\": its row 2, which is row 1 of \"rag\", does not fit the 60 stitches "
        "of the row below; it fits 56 or 63; started with 56 or 63, all rows fit\n"
        "pieces.csv:3:21: error: \"belt\": its row 1, which is the set-up of \"bag\", does not fit 60 "
        "stitches; 56 or 63 would do\n"
        "pieces.csv:4:21: error: \"cuff\": its row 2, which is set-up 2 of \"tag\", does not fit the 60 "
        "stitches of the row below; it fits 56 or 63; started with 56 or 63, all rows fit\n");
}

/*
 * A net without its last "sk 1": on 60 it leaves 61, so the next row is between 60 and 62. For two rows that take one
 * off each, the message names the effect of one repeat. A statement common to all sizes appears once.
 */
static void a_fabric_that_creeps_is_reported_by_how_much(void **state)
{
    assert_uncounted(
        *state,
        (struct folder){.project = "field,value\nsizes,\"S (M, L)\"\n",
                        .grade = "",
                        .fabrics = "fabric,row,make\nnet,1,\"tch 4 as (dc, ch 1), *sk 1, dc 1, ch 1*, dc 1\"\n"
                                   "lean,1,\"sc2tog, *sc 2*\"\nlean,2,\"sc2tog, *sc 2*\"\n",
                        .pieces = PIECES_MORE "yoke,,net,main,4 mm,61,4,,,,,\n"
                                              "belt,,lean,main,4 mm,\"61 (62, 65)\",4,,,,,\n"},
        "pieces.csv:2:21: error: \"yoke\": its row 2, which is row 1 of \"net\", does not fit the 61 stitches of "
        "the row below; 60 or 62 would fit; as written \"net\" gets 1 stitch wider with every row: is that "
        "meant?\n"
        "pieces.csv:3:23: error: \"belt\", size S: row 2 of \"lean\" does not fit the 61 stitches of the row below; "
        "60 or 62 would fit; as written \"lean\" gets 2 stitches narrower each time it is worked through: is "
        "that meant?\n"
        "pieces.csv:3:23: error: \"belt\", size M: row 1 of \"lean\" does not fit 62 stitches; 61 or 63 would "
        "do\n"
        "pieces.csv:3:23: error: \"belt\", size L: row 2 of \"lean\" does not fit the 65 stitches of the row below; "
        "64 or 66 would fit; as written \"lean\" gets 2 stitches narrower each time it is worked through: is "
        "that meant?\n");
}

static void stated_stitches_must_be_those_counted(void **state)
{
    assert_uncounted(*state,
                     (struct folder){.pieces =
                                         PIECES_MORE "back,rib,pairs,main,4 mm,20,4,,,,,\n"
                                                     "back,body,single crochet,main,4 mm,\"20 (21, 20)\",4,,,,,\n"},
                     "pieces.csv:3:37: error: \"back\", part \"body\", size M: 21 stitches are stated, and row 1 of "
                     "\"single crochet\" leaves 20; "
                     "write 20, or leave the cell empty\n");
}

/*
 * A finding for all sizes appears once without a size, a finding for several sizes once with their names: `b` has 21
 * stitches in M and L, `c` 25 in all, `d` none in S.
 */
static void sizes_that_say_the_same_say_it_together(void **state)
{
    assert_uncounted(
        *state,
        (struct folder){.pieces = PIECES_MORE "b,low,single crochet,main,4 mm,\"20 (21, 21)\",4,,,,,\n"
                                              "b,top,pairs,main,4 mm,,4,,,,,\n"
                                              "c,low,single crochet,main,4 mm,25,4,,,,,\n"
                                              "c,top,single crochet,main,4 mm,24,\"4 (5, 6)\",,,,,\n"
                                              "d,low,single crochet,main,4 mm,\"- (21, 21)\",4,,,,,\n"
                                              "d,top,pairs,main,4 mm,\"- (21, 21)\",4,,,,,\n"},
        "pieces.csv:3:23: error: \"b\", part \"top\", sizes M, L: row 1 of \"pairs\" does not fit the 21 stitches "
        "of the line before; it fits 20 or 22\n"
        "pieces.csv:5:32: error: \"c\", part \"top\": 24 stitches are stated, and row 1 of \"single crochet\" "
        "leaves 25; write 25, or leave the cell empty\n"
        "pieces.csv:7:24: error: \"d\", part \"top\": row 1 of \"pairs\" does not fit the 21 stitches of the "
        "line before; it fits 20 or 22\n");
    assert_uncounted(
        *state,
        (struct folder){.project = "field,value\nsizes,\"A (B, C, D, E, F, G, H, I, J, K)\"\n",
                        .grade = "",
                        .pieces = PIECES_MORE "b,,pairs,main,4 mm,\"20 (21, 21, 21, 21, 21, 21, 21, 21, 21, 21)\","
                                              "4,,,,,\n"},
        "pieces.csv:2:21: error: \"b\", sizes B, C, D, E, F, G, H, I and 2 more: row 1 of \"pairs\" does not fit 21 "
        "stitches; 20 or 22 would do\n");
}

static void a_ring_has_nothing_to_work_into(void **state)
{
    assert_uncounted(*state,
                     (struct folder){.project = "field,value\nsizes,S\n",
                                     .grade = "",
                                     .fabrics = "fabric,row,make\nsix,1,sc 6\n",
                                     .pieces = PIECES_MORE "hat,,six,main,4 mm,,4,,ring,,,\n"},
                     "pieces.csv:2:20: error: \"hat\": row 1 of \"six\" needs 6 stitches below it, and a ring has "
                     "none; start it with chain, or "
                     "write row 1 with stitches in ring\n");
}

static void endless_repeats_tapers_without_repeat_and_huge_counts_are_errors(void **state)
{
    assert_uncounted(
        *state,
        (struct folder){.project = "field,value\nsizes,S\n",
                        .grade = "",
                        .fabrics = "fabric,row,make\nloose,1,*sc*\nloose,2,*ch 1*\nstiff,1,sc 6\n",
                        .pieces = PIECES_MORE "a,,loose,main,4 mm,20,4,,,,,\n"
                                              "b,,stiff,main,4 mm,6,4,,,3,,\n"
                                              "c,,single crochet,main,4 mm,1000000000000,2000000000,,,,,\n"},
        "fabrics.csv:3:9: error: \"a\": there is no end to the repeat of row 2 of \"loose\"; let each run of "
        "the repeat use up stitches "
        "of the row below\n"
        "pieces.csv:3:26: error: \"b\": row 1 of \"stiff\" has no repeat, so it has no other width to "
        "taper to; leave end_stitches "
        "empty, or write the row with a repeat such as *sc*\n"
        "pieces.csv:4:29: error: \"c\": too much to count at row 1000000; at most a million stitches in a row, "
        "and a million rows, can be counted\n");
}

static void nothing_is_freed_without_complaint(void **state)
{
    (void)state;
    hk_tally_free(NULL);
}

/* One row of lace after 99 rows of main, in a fabric of 7 rows: in row 601 lace has the sixth of them, its longest. */
static void the_longest_row_of_a_stripe_may_come_late(void **state)
{
    struct counted c =
        count(*state, (struct folder){.fabrics = "fabric,row,make\nseven,1,*sc 1*\nseven,2,*sc 1*\nseven,3,*sc 1*\n"
                                                 "seven,4,*sc 1*\nseven,5,*sc 1*\nseven,6,*dc 1*\nseven,7,*sc 1*\n",
                                      .pieces = PIECES "p,seven,\"lace 1, main 99\",4 mm,20,700\n"});
    for (size_t u = 0; u < 2; u++) {
        const struct hk_use *use = &worked(c, 0, 0)->uses[u];
        bool dc = false;
        for (size_t i = 0; i < use->longest_count; i++)
            for (size_t k = 0; k < use->longest[i].count; k++)
                dc |= strcmp(c.project->catalogue->stitches[use->longest[i].kinds[k].stitch].us, "dc") == 0;
        assert_true(dc);
    }
    done(c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_convention_that_a_stated_count_decides_is_named),
        cmocka_unit_test(stripes_of_one_yarn_add_up_kind_by_kind),
        cmocka_unit_test(a_strip_is_counted_in_every_size),
        cmocka_unit_test(knitting_is_cast_on),
        cmocka_unit_test(a_line_that_continues_stands_on_the_one_before),
        cmocka_unit_test(a_size_that_does_without_passes_on_what_was_before),
        cmocka_unit_test(continuing_on_nothing_is_an_error_in_that_size_only),
        cmocka_unit_test(every_way_to_start_says_what_does_not_fit),
        cmocka_unit_test(an_edge_adds_nothing_below),
        cmocka_unit_test(a_ring_counts_itself),
        cmocka_unit_test(a_taper_is_counted_evenly),
        cmocka_unit_test(what_continues_stands_on_the_last_row_of_a_taper),
        cmocka_unit_test(ends_are_added_where_a_strand_is_new),
        cmocka_unit_test(stripes_share_rows_and_each_change_adds_two_ends),
        cmocka_unit_test(stripes_of_one_combination_are_one_use),
        cmocka_unit_test(the_longest_row_of_a_stripe_may_come_late),
        cmocka_unit_test(a_stripe_that_is_not_reached_uses_nothing),
        cmocka_unit_test(swatches_are_counted_like_parts),
        cmocka_unit_test(a_swatch_that_does_not_fit_is_reported_at_its_stitches),
        cmocka_unit_test(learned_swatches_are_counted_too),
        cmocka_unit_test(centimetres_become_stitches_and_rows_by_gauge),
        cmocka_unit_test(a_width_becomes_the_nearest_that_the_fabric_fits),
        cmocka_unit_test(what_is_asked_in_inches_is_reported_in_inches),
        cmocka_unit_test(the_swatch_of_the_same_fabric_nearest_in_tool_counts),
        cmocka_unit_test(without_a_swatch_centimetres_ask_for_one),
        cmocka_unit_test(a_taper_may_end_in_centimetres),
        cmocka_unit_test(a_length_of_next_to_nothing_is_one_stitch),
        cmocka_unit_test(a_length_on_a_continuing_line_must_be_what_is_there),
        cmocka_unit_test(a_width_that_does_not_fit_names_the_nearest),
        cmocka_unit_test(a_later_row_says_what_it_fits_and_what_fits_all),
        cmocka_unit_test(a_row_is_named_as_its_file_names_it),
        cmocka_unit_test(a_fabric_that_creeps_is_reported_by_how_much),
        cmocka_unit_test(stated_stitches_must_be_those_counted),
        cmocka_unit_test(sizes_that_say_the_same_say_it_together),
        cmocka_unit_test(a_ring_has_nothing_to_work_into),
        cmocka_unit_test(endless_repeats_tapers_without_repeat_and_huge_counts_are_errors),
        cmocka_unit_test(nothing_is_freed_without_complaint),
    };
    return cmocka_run_group_tests_name("tally", tests, catalogue_set_up, catalogue_tear_down);
}
