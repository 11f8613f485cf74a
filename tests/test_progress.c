/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * progress.csv: the values read, every mistake at its place with its hint, the work counted so far, and the information
 * that the fit takes from it. The folder has sizes S, M and L; yarns 50 g = 120 m (main) and 25 g = 210 m (lace).
 */
#include "folder.h"

#include "model/fit.h"
#include "project/read/reading.h"

#include <gsl/gsl_math.h>
#include <stdio.h>
#include <string.h>

#define PIECES                                                                                                         \
    "piece,part,fabric,yarn,tool,stitches,rows,times,start,end_stitches,ends\n"                                        \
    "back,,garter stitch,main,4 mm,30,\"10 (12, 14)\",,edge,,0\n"                                                      \
    "sleeve,cuff,garter stitch,lace,4 mm,20,6,2,edge,,0\n"                                                             \
    "sleeve,arm,garter stitch,main,4 mm,20,11,2,edge,30,0\n"                                                           \
    "hood,,garter stitch,\"main 2, lace 1\",4 mm,10,\"0 (0, 9)\",,edge,,\n"
#define PIECES_ONE "piece,fabric,yarn,tool,stitches,rows,start,ends\nback,garter stitch,main,4 mm,30,10,edge,0\n"
#define HEAD "size,piece,part,rows,weight,yarn,of,scale_step,minutes\n"

static struct folder with(const char *progress)
{
    return (struct folder){.pieces = PIECES, .other_name = "progress.csv", .other_text = progress};
}

static void rows_name_lines_copies_and_yarn(void **state)
{
    struct hk_project *project = folder_good(*state, with(HEAD "M,back,,,20 g,,,,\n"
                                                               "m,sleeve 2,cuff,3,2.5 g,,,0.1 g,12\n"
                                                               "M,Sleeve x2,,8,30 g,Quay DK,used,,1 h 5 min\n"
                                                               "L,all,,,90 g,main,,,\n"
                                                               "L,hood,,,,,,,20\n"));
    const struct hk_progress *p = project->progress;
    assert_int_equal(project->progress_count, 5);
    assert_int_equal(p[0].size, 1);
    assert_int_equal(p[0].line_count, 1);
    assert_int_equal(p[0].rows, HK_NOT_STATED);
    assert_close(p[0].mass_g, 20, 0, 0);
    assert_close(p[0].scale.step_g, 1, 0, 0);
    assert_int_equal(p[1].lines[0], 1);
    assert_int_equal(p[1].first, 2);
    assert_int_equal(p[1].last, 2);
    assert_close(p[1].minutes, 12, 0, 0);
    assert_int_equal(p[2].first, 1);
    assert_int_equal(p[2].last, 2);
    assert_int_equal(p[2].line_count, 2);
    assert_int_equal(p[2].of.yarn, 0);
    assert_close(p[2].minutes, 65, 0, 0);
    assert_int_equal(p[3].line_count, 4);
    assert_int_equal(p[3].of.role, 0);
    assert_close(p[4].mass_g, 0, 0, 0);
    hk_project_free(project);
}

static void later_row_of_the_same_replaces_weight_and_time_each_for_itself(void **state)
{
    struct hk_project *project = folder_good(*state, with(HEAD "M,back,,4,8 g,,,,30\n"
                                                               "M,back,,8,16 g,,,,\n"
                                                               "M,sleeve 1,,,20 g,main,,,\n"
                                                               "M,sleeve 1,,,9 g,lace,,,\n"));
    assert_close(project->progress[0].mass_g, 0, 0, 0);
    assert_close(project->progress[0].minutes, 30, 0, 0);
    assert_close(project->progress[1].mass_g, 16, 0, 0);
    assert_close(project->progress[2].mass_g, 20, 0, 0); /* those of another yarn */
    hk_project_free(project);
}

/* 4 balls of 50 g and a partial ball of 20 g were in hand: 220 g less the 150 g left are 70 g used. */
static void what_is_left_is_taken_from_what_was_in_hand(void **state)
{
    struct folder folder = with(HEAD "M,back,,,150 g,,left,,\n");
    folder.other2_name = "offers.csv";
    folder.other2_text = "role,shop,put_up,price,stock\nmain,own,50 g,0,4\nmain,own,20 g,0,1\nlace,own,25 g,0,1\n";
    struct hk_project *project = folder_good(*state, folder);
    assert_close(project->progress[0].mass_g, 70, 1e-12, 0);
    assert_int_equal(project->progress[0].of.role, 0);
    hk_project_free(project);
}

/* The row names its yarn, so another yarn's balls are not counted: 5 balls of 25 g less the 100 g left. */
static void what_is_left_of_a_yarn_is_taken_from_its_own_balls(void **state)
{
    struct folder folder = with(HEAD "M,sleeve 1,cuff,,100 g,Quay Lace,left,,\n"
                                     "M,sleeve 2,,,75 g,Quay Lace,left,,\n");
    folder.other2_name = "offers.csv";
    folder.other2_text = "role,shop,put_up,price,stock\nmain,own,50 g,0,4\nlace,own,25 g,0,5\n";
    struct hk_project *project = folder_good(*state, folder);
    assert_close(project->progress[0].mass_g, 25, 1e-12, 0);
    assert_int_equal(project->progress[0].of.role, 1);
    assert_string_equal(project->progress[0].title, "\"sleeve 1\", part \"cuff\", size M");
    assert_close(project->progress[1].mass_g, 50, 1e-12, 0);
    assert_int_equal(project->progress[1].of.yarn, 1);
    hk_project_free(project);
}

/* A grade of one size needs no size name, and the messages have none. */
static void one_size_need_not_be_named(void **state)
{
    struct folder folder = {.project = "field,value\ntitle,Sampler\nsizes,M\ncurrency,EUR\n",
                            .grade = "name,unit,M,print\nlength,cm,20,yes\n",
                            .swatches = "",
                            .pieces = PIECES_ONE,
                            .other_name = "progress.csv",
                            .other_text = "size,piece,weight\n,back,20 g\n,all,30 g\n"};
    struct hk_project *project = folder_good(*state, folder);
    assert_int_equal(project->progress[0].size, 0);
    assert_string_equal(project->progress[0].title, "\"back\"");
    assert_string_equal(project->progress[1].title, "the whole work");
    hk_project_free(project);
    folder.other_text = "size,piece,weight\n,back 3,20 g\n";
    assert_folder_bad(*state, folder, "progress.csv:2:2: error: \"back\" is worked 1 time in the design; write back\n");
}

/* The later row of the same yarn counts; a row of another yarn by its name, or a time alone, replaces no weight. */
static void rows_of_other_yarns_by_name_both_stand(void **state)
{
    struct hk_project *project = folder_good(*state, with(HEAD "M,sleeve 1,,,20 g,Quay DK,,,\n"
                                                               "M,sleeve 1,,,9 g,Quay Lace,,,\n"
                                                               "M,sleeve 1,,,10 g,Quay Lace,,,\n"
                                                               "M,sleeve 1,,,,,,,40\n"));
    assert_close(project->progress[0].mass_g, 20, 0, 0);
    assert_close(project->progress[1].mass_g, 0, 0, 0);
    assert_close(project->progress[2].mass_g, 10, 0, 0);
    hk_project_free(project);
}

static void every_mistake_is_reported_at_its_cell(void **state)
{
    assert_folder_bad(
        *state,
        with(HEAD "XM,back,,,20 g,,,,\n"
                  ",back,,,20 g,,,,\n"
                  "M,bakc,,,20 g,,,,\n"
                  "M,sleeve 3,,,20 g,,,,\n"
                  "M,back 2,,,20 g,,,,\n"
                  "M,hood,,,20 g,,,,\n"
                  "M,sleeve 1,cuf,,20 g,,,,\n"
                  "M,all,cuff,,20 g,,,,\n"
                  "M,all,,3,20 g,,,,\n"
                  "M,all 2,,,20 g,,,,\n"
                  "M,back,,,20 g,lace,,,\n"
                  "M,back,,,20 g,angora,,,\n"
                  "M,back,,,0 g,,,,\n"
                  "M,back,,,20,,,,\n"
                  "M,back,,,,,,,\n"
                  "M,back,,0,20 g,,,,\n"
                  "M,back,,,20 g,,over,,\n"
                  "M,back,,,20 g,,left,,\n"
                  "M,sleeve 1,,,20 g,,left,,\n"),
        "progress.csv:2:1: error: there is no size \"XM\"; known here: S, M or L\n"
        "progress.csv:3:1: error: the size is missing; write which size it is that is being worked\n"
        "progress.csv:4:3: error: there is no piece \"bakc\" in pieces.csv; did you mean \"back\"?\n"
        "progress.csv:5:3: error: \"sleeve\" is worked 2 times in size M; write sleeve 1 to sleeve 2, or "
        "sleeve x2 for all of them on the scale together\n"
        "progress.csv:6:3: error: \"back\" is worked 1 time in size M; write back\n"
        "progress.csv:7:3: error: size M works nothing of \"hood\"; check the size; pieces.csv has 0 for it "
        "there\n"
        "progress.csv:8:12: error: there is no part \"cuf\" of \"sleeve\" in pieces.csv; did you mean "
        "\"cuff\"?\n"
        "progress.csv:9:7: error: a part of \"all\"; name its piece, or leave the part empty\n"
        "progress.csv:10:8: error: rows of \"all\" could be anywhere; name the piece, or leave the rows "
        "empty for the whole garment\n"
        "progress.csv:11:3: error: \"all\" is the whole garment, once; name a piece, or write all\n"
        "progress.csv:12:15: error: \"back\", size M is not worked in \"lace\"; is it main?\n"
        "progress.csv:13:15: error: there is no role or yarn \"angora\" in yarns.csv; known here: main or "
        "lace\n"
        "progress.csv:14:10: error: 0 g is not possible here; write a mass above zero\n"
        "progress.csv:15:10: error: 20 has no unit; write 20 g or 20 oz\n"
        "progress.csv:16:10: error: neither a weight nor minutes; write what it weighs so far, or how long "
        "it took in the column minutes\n"
        "progress.csv:17:9: error: 0 is not possible here; write a plain number above zero\n"
        "progress.csv:18:16: error: \"over\" is not a choice here; write used or left\n"
        "progress.csv:19:16: error: what was in hand of main before is not known; write it into offers.csv "
        "as of the shop own, with its put_up, a price of 0 and its stock\n"
        "progress.csv:20:20: error: \"sleeve 1\", size M uses several yarns, and the row does not say which is left; "
        "name it in "
        "the column yarn, and give each yarn a row of its own\n");
}

/* The used mass is not computed for an unknown piece, and its row may still lack minutes. */
static void a_row_for_an_unknown_piece_is_reported_once(void **state)
{
    assert_folder_bad(*state, with("size,piece,weight,of\nM,bakc,20 g,left\n"),
                      "progress.csv:2:3: error: there is no piece \"bakc\" in pieces.csv; did you mean \"back\"?\n");
}

/* A copy is named after the piece; an invalid number, or one beyond the number of copies, is reported. */
static void copies_of_a_piece_are_named_by_number(void **state)
{
    assert_folder_bad(*state, with(HEAD "M,sleeve x2,,,20 g,,,,\nM,sleeve X2,,,20 g,,,,\nM,sleeve 0,,,20 g,,,,\nM,sleevex2,,,20 g,,,,\n"
                                        "M,2,,,20 g,,,,\nM,sleeve 99999999999999999999,,,20 g,,,,\nM,x2,,,20 g,,,,\nM,sleeve 12x2,,,20 g,,,,\n"
                                        "M,all x2,,,20 g,,,,\nM,,,,20 g,,,,\nM,back,bakc,,20 g,,,,\nM,sleeve2,,,20 g,,,,\n"),
                      "progress.csv:4:3: error: there is no piece \"sleeve 0\" in pieces.csv; did you mean \"sleeve\"?\n"
                      "progress.csv:5:3: error: there is no piece \"sleevex2\" in pieces.csv; did you mean \"sleeve\"?\n"
                      "progress.csv:6:3: error: there is no piece \"2\" in pieces.csv; known here: back, sleeve, hood "
                      "or all\n"
                      "progress.csv:7:3: error: \"sleeve\" is worked 2 times in size M; write sleeve 1 to sleeve 2, or "
                      "sleeve x2 for all of them on the scale together\n"
                      "progress.csv:8:3: error: there is no piece \"x2\" in pieces.csv; known here: back, sleeve, hood "
                      "or all\n"
                      "progress.csv:9:3: error: there is no piece \"sleeve 12x2\" in pieces.csv; did you mean "
                      "\"sleeve\"?\n"
                      "progress.csv:10:3: error: \"all\" is the whole garment, once; name a piece, or write all\n"
                      "progress.csv:11:3: error: the cell \"piece\" is empty; every row of progress.csv needs one\n"
                      "progress.csv:12:8: error: there is no part \"bakc\" of \"back\" in pieces.csv; leave it empty "
                      "for the whole piece\n"
                      "progress.csv:13:3: error: there is no piece \"sleeve2\" in pieces.csv; did you mean \"sleeve\"?\n");
}

static void more_left_than_there_was_is_asked_back(void **state)
{
    struct folder folder = with(HEAD "M,back,,,150 g,,left,,\n");
    folder.other2_name = "offers.csv";
    folder.other2_text = "role,shop,put_up,price,stock\nmain,own,50 g,0,3\n";
    assert_folder_bad(*state, folder,
        "progress.csv:2:10: error: 150 g are left of main, and 150 g were in hand; check the weight, and the stock of the shop "
        "own in offers.csv; or is it what was used?\n");
}

/* ---- Counting ---------------------------------------------------------------------------------------------------- */

struct made {
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_diags diags;
};

static struct made make(const struct hk_catalogue *catalogue, struct folder folder)
{
    struct made made = {.project = folder_read(catalogue, folder, &made.diags)};
    assert_non_null(made.project);
    made.tally = hk_tally_count(made.project, &made.diags);
    return made;
}

static void made_free(struct made *made)
{
    hk_fit_free(made->fit);
    hk_tally_free(made->tally);
    hk_project_free(made->project);
    hk_diags_free(&made->diags);
}

static double stitches_of(const struct hk_worked *worked)
{
    double sum = 0;
    for (size_t u = 0; u < worked->use_count; u++)
        for (size_t k = 0; k < worked->uses[u].kinds.count; k++)
            sum += worked->uses[u].kinds.kinds[k].count;
    return sum;
}

/*
 * 8 rows of a sleeve are the 6 of its cuff, 20 stitches each, and 2 of its arm, which widens from 20 to 30 over 11
 * rows: 20 and 21. 4 rows of the hood in stripes of 2 and 1 are 3 of main and 1 of lace, each of 10.
 */
static void first_rows_are_counted_through_the_lines_of_a_piece(void **state)
{
    struct made made = make(*state, with(HEAD "M,sleeve x2,,8,20 g,,,,\nL,hood,,4,9 g,,,,\nM,back,,,20 g,,,,\n"));
    assert_non_null(made.tally);
    const struct hk_progress_work *sleeve = &made.tally->progress[0], *hood = &made.tally->progress[1];
    assert_int_equal(sleeve->count, 2);
    assert_int_equal(sleeve->worked[0].times, 2);
    assert_close(stitches_of(&sleeve->worked[0]), 120, 1e-12, 0);
    assert_close(stitches_of(&sleeve->worked[1]), 41, 1e-12, 0);
    assert_int_equal(hood->worked[0].use_count, 2);
    assert_close(hood->worked[0].uses[0].kinds.kinds[0].count, 30, 1e-12, 0);
    assert_close(hood->worked[0].uses[1].kinds.kinds[0].count, 10, 1e-12, 0);
    assert_close(stitches_of(&made.tally->progress[2].worked[0]), 360, 1e-12, 0);
    made_free(&made);
}

static void more_rows_than_there_are_is_asked_back(void **state)
{
    struct made made = make(*state, with(HEAD "M,sleeve 1,,18,20 g,,,,\nM,back,,12,20 g,,,,\n"));
    assert_null(made.tally);
    assert_findings(&made.diags,
                    "progress.csv:2:13: error: 18 rows, and \"sleeve 1\", size M has 17 in pieces.csv; state no "
                    "rows where all of them are worked\n");
    made_free(&made);
}

/* The cuff is part of the sleeve, and the sleeve's main part of all main; lace is separate. */
static void one_yarn_is_never_counted_twice(void **state)
{
    struct made made = make(*state, with(HEAD "M,sleeve 1,cuff,,3 g,,,,\n"
                                              "M,sleeve 1,,,9 g,,,,40\n"
                                              "M,sleeve 2,,,9 g,lace,,,\n"
                                              "M,all,,,60 g,main,,,\n"));
    assert_non_null(made.tally);
    const struct hk_progress_work *p = made.tally->progress;
    assert_true(p[0].weighed);  /* lace alone, and the row with its weighing is excluded itself */
    assert_false(p[1].weighed);
    assert_true(p[1].timed);
    assert_true(p[2].weighed);
    assert_true(p[3].weighed);
    assert_findings(&made.diags,
                    "progress.csv:3:14: note: the weight of \"sleeve 1\", size M is left out: all of size M in line "
                    "5 is of the same yarn; the later row counts; take it out if this row says more\n");
    made_free(&made);
}

/* The sleeve's second copy has a cuff alone: 6 rows of 20; its arm is not begun. */
static void a_copy_that_a_part_does_not_have_counts_nothing_of_it(void **state)
{
    struct folder folder = with(HEAD "M,sleeve 2,,,5 g,,,,\n");
    folder.pieces = "piece,part,fabric,yarn,tool,stitches,rows,times,start,ends\n"
                    "sleeve,cuff,garter stitch,main,4 mm,20,6,2,edge,0\n"
                    "sleeve,arm,garter stitch,main,4 mm,20,11,1,edge,0\n";
    struct made made = make(*state, folder);
    const struct hk_progress_work *done = &made.tally->progress[0];
    for (size_t i = 0; i < done->count; i++)
        assert_int_equal(done->worked[i].times, done->lines[i] == 0 ? 1 : 0);
    made_free(&made);
}

/* ---- Several folders --------------------------------------------------------------------------------------------- */

/* Two folders with the same title: weights and times of a mitten in each. */
static void assert_learned(const struct hk_catalogue *catalogue, const char *const pieces[2], const char *const progress[2], const char *expected)
{
#define LEARNED_PROJECT "field,value\ntitle,Mittens\nsizes,one\n"
#define LEARNED_YARNS "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n"
#define LEARNED_PIECES "piece,part,fabric,yarn,tool,stitches,rows,times,start,ends\n"
#define LEARNED_SWATCHES "swatch,yarn,tool,fabric,stitches,rows\n"
    char texts[4][600];
    for (size_t i = 0; i < 2; i++) {
        snprintf(texts[i], sizeof texts[i], LEARNED_PIECES "%s", pieces[i]);
        snprintf(texts[2 + i], sizeof texts[2 + i], "size,piece,rows,weight,minutes\n%s", progress[i]);
    }
    const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,S\nlearn_from,../left\nlearn_from,../right\n", 0}, {"yarns.csv", LEARNED_YARNS, 0},
        {"pieces.csv", LEARNED_PIECES "strip,,single crochet,main,4 mm,20,10,,edge,0\n", 0},
        {"../left/project.csv", LEARNED_PROJECT, 0}, {"../left/yarns.csv", LEARNED_YARNS, 0},
        {"../left/swatches.csv", LEARNED_SWATCHES, 0}, {"../left/pieces.csv", texts[0], 0}, {"../left/progress.csv", texts[2], 0},
        {"../right/project.csv", LEARNED_PROJECT, 0}, {"../right/yarns.csv", LEARNED_YARNS, 0},
        {"../right/swatches.csv", LEARNED_SWATCHES, 0}, {"../right/pieces.csv", texts[1], 0}, {"../right/progress.csv", texts[3], 0},
        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    assert_non_null(project);
    const struct hk_project *right = project->learned[1];
    const struct hk_progress *last = &right->progress[right->progress_count - 1];
    assert_int_equal(last->mass_g > 0 || last->minutes > 0, !strstr(expected, "counts once"));
    assert_findings(&diags, expected);
    hk_project_free(project);
}

/* A copied folder has the same weighings; a weighing with any difference is another one. */
static void a_weighing_of_two_folders_counts_once(void **state)
{
    static const char mitten[] = "mitten,,garter stitch,main,4 mm,30,20,2,edge,0\n";
    static const char *const same[] = {mitten, mitten};
    static const char *const readings[][2] = {
        {",mitten 1,10,20 g,30\n", ",mitten 1,11,20 g,30\n"}, {",mitten 1,10,20 g,30\n", ",mitten 1,10,21 g,30\n"},
        {",mitten 1,10,20 g,30\n", ",mitten 1,10,20 g,31\n"}, {",mitten 1,10,20 g,30\n", ",mitten 2,10,20 g,30\n"},
    };
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++)
        assert_learned(*state, same, readings[i], "");
#define COUNTS_ONCE "../left/progress.csv:2, and counts once; take it out of one of the two files\n"
    static const char *const weighed[] = {",mitten 1,10,20 g,\n", ",mitten 1,10,20 g,\n"};
    assert_learned(*state, same, weighed, "../right/progress.csv:2:2: warning: \"mitten 1\" is weighed as in " COUNTS_ONCE);
    static const char *const timed[] = {",mitten x2,,,45\n", ",mitten x2,,,45\n"};
    assert_learned(*state, same, timed, "../right/progress.csv:2:2: warning: \"mitten x2\" is weighed as in " COUNTS_ONCE);
    /* an earlier row that a later one replaced has no effect */
    static const char *const replaced[] = {",mitten 1,10,20 g,\n,mitten 1,10,22 g,\n", ",mitten 1,10,20 g,\n,mitten 1,10,23 g,\n"};
    assert_learned(*state, same, replaced, "");
}

/* The same title, but different things: a piece named like a copy of another, and one with more lines. */
static void one_title_of_two_things_is_two_weighings(void **state)
{
    static const char *const second[] = {"mitten,,garter stitch,main,4 mm,30,20,2,edge,0\n", "mitten 2,,garter stitch,main,4 mm,30,20,,edge,0\n"};
    static const char *const readings[] = {",mitten 2,,20 g,\n", ",mitten 2,,20 g,\n"};
    assert_learned(*state, second, readings, "");
    static const char *const both[] = {"mitten,,garter stitch,main,4 mm,30,20,2,edge,0\n", "mitten x2,,garter stitch,main,4 mm,30,20,,edge,0\n"};
    static const char *const together[] = {",mitten x2,,20 g,\n", ",mitten x2,,20 g,\n"};
    assert_learned(*state, both, together,
                   "../right/pieces.csv:2:1: warning: \"mitten x2\" is worked once: a number in its name counts for nothing; write 2 in "
                   "the column times, or 1 if once is right\n");
    static const char *const lines[] = {"mitten,,garter stitch,main,4 mm,30,20,,edge,0\n",
                                        "mitten,cuff,garter stitch,main,4 mm,30,10,,edge,0\nmitten,hand,garter stitch,main,4 mm,30,10,,edge,0\n"};
    static const char *const whole[] = {",mitten,,20 g,\n", ",mitten,,20 g,\n"};
    assert_learned(*state, lines, whole, "");
}

/* ---- The fit ----------------------------------------------------------------------------------------------------- */

static struct made fitted(const struct hk_catalogue *catalogue, const char *progress)
{
    struct folder folder = with(progress);
    folder.pieces = "piece,fabric,yarn,tool,stitches,rows,times,start,ends\nstrip,garter stitch,main,4 mm,30,30,3,edge,0\n";
    folder.swatches = "";
    struct made made = make(catalogue, folder);
    made.fit = hk_fit_make(made.tally, &made.diags);
    assert_non_null(made.fit);
    return made;
}

/*
 * Four ends of 0.15 m at 50 g / 120 m are 0.25 g, and 1.5% less in a dry room: a weighing of no more mass shows no
 * stitches.
 */
static void what_weighs_less_than_its_ends_is_asked_back(void **state)
{
    struct folder folder = with(HEAD "M,strip,,,0.2 g,,,0.01 g,\n");
    folder.pieces = "piece,fabric,yarn,tool,stitches,rows,times,start,ends\nstrip,garter stitch,main,4 mm,30,30,1,edge,4\n";
    folder.swatches = "";
    struct made made = make(*state, folder);
    assert_null(hk_fit_make(made.tally, &made.diags));
    assert_findings(&made.diags, "progress.csv:2:11: error: \"strip\", size M comes to 0.2 g so far, but its tails alone come to 0.246 g; "
                                 "check the weight and the rows, the ends in pieces.csv and the tail of project.csv\n");
    made.diags = (struct hk_diags){0};
    made_free(&made);
}

/* Returns ln f of a datum at the optimum less ln f at the priors, without B, and the offset of the scale. */
static double moved(const struct hk_fit *fit)
{
    double u = 0;
    for (size_t i = 0; i < fit->count; i++)
        u += fit->parameters[i].kind == HK_PARAM_MAKING || fit->parameters[i].kind == HK_PARAM_SCALE ? 0 : fit->parameters[i].value - fit->parameters[i].prior;
    return u;
}

/* Like the swatch in test_fit.c: 900 knit stitches of pi (4 + 0.108 sqrt(tex)) mm at 50 g / 120 m. */
/*
 * 0.15^2 + 0.12^2 + 0.05^2 + 0.06^2 + 0.02^2, 0.03^2 for a garment, 0.02^2 for the mass of a ball, whose mean is 0.015
 * lower
 */
static const double prior = 0.0447, weighs = -0.015;

static double label_g(void)
{
    return 900 * M_PI * (4 + 0.108 * sqrt(50000.0 / 120)) * 1e-3 * 50 / 120;
}

/*
 * One weighing: s^2 = (1 g / sqrt 12 / 10 g)^2 + 0.02^2, B 0.04^2, Z (1 g / 10 g)^2 / 3; u is at D P / (P + all of
 * these).
 */
static void one_weighing_counts_as_a_swatch_does(void **state)
{
    struct made made = fitted(*state, HEAD "M,strip 1,,,10 g,,,,\n");
    double s2 = 1.0 / 1200 + 0.002 + 1.0 / 300;
    assert_int_equal(made.fit->evidence, 1);
    assert_close(moved(made.fit), (log(10 / label_g()) - weighs) * prior / (prior + s2), 1e-9, 0);
    made_free(&made);
}

/*
 * Two strips of one making: their mean D = ln(reading / label) measures u + B with the variance s^2 / 2, s^2 = (1 g /
 * sqrt 12 / reading)^2 + 0.02^2 (readings of 10 g both), so u is at D P / (P + 0.04^2 + z^2 + s^2 / 2), z for the
 * common scale. Two makings, one in each size, have separate B: D P / (P + z^2 + (0.04^2 + s^2) / 2).
 */
static void two_weighings_of_one_making_share_its_day(void **state)
{
    struct made one = fitted(*state, HEAD "M,strip 1,,,10 g,,,,\nM,strip 2,,,10 g,,,,\n");
    struct made two = fitted(*state, HEAD "M,strip 1,,,10 g,,,,\nL,strip 1,,,10 g,,,,\n");
    double d = log(10 / label_g()) - weighs, s2 = 1.0 / 1200 + 0.0004, z2 = 1.0 / 300;
    assert_int_equal(one.fit->evidence, 2);
    assert_int_not_equal(hk_fit_find(one.fit, HK_PARAM_MAKING, 1, 0, NULL), SIZE_MAX);
    assert_int_not_equal(hk_fit_find(two.fit, HK_PARAM_MAKING, 1, 0, NULL), SIZE_MAX);
    assert_close(moved(one.fit), d * prior / (prior + 0.0016 + z2 + s2 / 2), 1e-9, 0);
    assert_close(moved(two.fit), d * prior / (prior + z2 + (0.0016 + s2) / 2), 1e-9, 0);
    made_free(&one);
    made_free(&two);
}

/* Both strips on the scale together: each has its own c, so their sum has 0.02^2 / 2. */
static void pieces_weighed_together_average_their_own_departures(void **state)
{
    struct made made = fitted(*state, HEAD "M,strip x2,,,20 g,,,,\n");
    assert_close(gsl_pow_2(made.fit->data[0].s), 1.0 / 4800 + 0.0002, 1e-12, 0);
    made_free(&made);
}

/* Timings: s^2 = (1 min / sqrt 12 / 90 min)^2 + 0.05^2, and B of time, 0.10, shared. */
static void two_timings_of_one_making_share_its_day(void **state)
{
    struct made made = fitted(*state, HEAD "M,strip 1,,,,,,,90\nM,strip 2,,,,,,,90\n");
    struct hk_time_fit *timed = hk_fit_time(made.tally, &made.diags);
    assert_non_null(timed);
    const struct hk_fit *time = &timed->fit;
    assert_int_equal(made.fit->evidence, 0);
    assert_int_equal(time->evidence, 2);
    double p = 0.35 * 0.35 + 0.15 * 0.15 + 0.05 * 0.05 + 0.1 * 0.1, s2 = 1.0 / 12 / 8100 + 0.0025;
    assert_close(time->data[0].s, sqrt(s2), 1e-12, 0);
    assert_close(moved(time), log(90 * 60 / (900 * 1.3)) * p / (p + 0.01 + s2 / 2), 1e-9, 0);
    hk_time_fit_free(timed);
    made_free(&made);
}

static void outliers_and_coarse_weighings_are_reported(void **state)
{
    struct made made = fitted(*state, HEAD "M,strip 1,,,30 g,,,,\nL,strip 1,,2,1 g,,,,\n");
    hk_fit_free(made.fit);
    made.fit = NULL;
    assert_findings(&made.diags,
                    "yarns.csv:2:6: note: what a metre of Quay DK weighs is taken from the label; unravel "
                    "and measure a swatch that was "
                    "weighed\n"
                    "progress.csv:2:13: warning: \"strip 1\", size M comes to 3.8 times what its "
                    "stitches, tool and yarn lead to expect, and is left out; "
                    "check the weight (a bag or a tin on the scale), the count of rows and copies, and the "
                    "hook or needle; if they are right, write outlier into its column ok, and it counts\n"
                    "progress.csv:3:14: warning: the scale's step of 1 g is more than a tenth of the 1 g "
                    "that \"strip 1\", size L comes "
                    "to so far; use a finer scale, or weigh again when more is worked\n");
    made_free(&made);
}

/* A step of 1 g is a tenth of 10 g, and a minute of 10 min: fine enough; for 9 min it is too coarse. */
static void a_tenth_of_what_was_read_is_not_coarse(void **state)
{
    struct made made = fitted(*state, HEAD "M,strip 1,,,10 g,,,,10\n");
    struct hk_time_fit *time = hk_fit_time(made.tally, &made.diags);
    hk_time_fit_free(time);
    hk_fit_free(made.fit);
    made.fit = NULL;
    assert_findings(&made.diags, "yarns.csv:2:6: note: what a metre of Quay DK weighs is taken from the label; unravel and "
                                 "measure a swatch that was weighed\n");
    made_free(&made);
    made = fitted(*state, HEAD "M,strip 1,,,,,,,9\n");
    hk_diags_free(&made.diags); /* nothing was weighed */
    made.diags = (struct hk_diags){0};
    hk_time_fit_free(hk_fit_time(made.tally, &made.diags));
    hk_fit_free(made.fit);
    made.fit = NULL;
    assert_findings(&made.diags, "progress.csv:2:17: warning: a clock read to the minute says little of the 9 min that "
                                 "\"strip 1\", size M took; time more of it\n");
    made_free(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_name_lines_copies_and_yarn),
        cmocka_unit_test(later_row_of_the_same_replaces_weight_and_time_each_for_itself),
        cmocka_unit_test(what_is_left_is_taken_from_what_was_in_hand),
        cmocka_unit_test(what_is_left_of_a_yarn_is_taken_from_its_own_balls),
        cmocka_unit_test(one_size_need_not_be_named),
        cmocka_unit_test(rows_of_other_yarns_by_name_both_stand),
        cmocka_unit_test(every_mistake_is_reported_at_its_cell),
        cmocka_unit_test(a_row_for_an_unknown_piece_is_reported_once),
        cmocka_unit_test(copies_of_a_piece_are_named_by_number),
        cmocka_unit_test(more_left_than_there_was_is_asked_back),
        cmocka_unit_test(first_rows_are_counted_through_the_lines_of_a_piece),
        cmocka_unit_test(more_rows_than_there_are_is_asked_back),
        cmocka_unit_test(a_copy_that_a_part_does_not_have_counts_nothing_of_it),
        cmocka_unit_test(a_weighing_of_two_folders_counts_once),
        cmocka_unit_test(one_title_of_two_things_is_two_weighings),
        cmocka_unit_test(one_yarn_is_never_counted_twice),
        cmocka_unit_test(what_weighs_less_than_its_ends_is_asked_back),
        cmocka_unit_test(one_weighing_counts_as_a_swatch_does),
        cmocka_unit_test(two_weighings_of_one_making_share_its_day),
        cmocka_unit_test(pieces_weighed_together_average_their_own_departures),
        cmocka_unit_test(two_timings_of_one_making_share_its_day),
        cmocka_unit_test(outliers_and_coarse_weighings_are_reported),
        cmocka_unit_test(a_tenth_of_what_was_read_is_not_coarse),
    };
    return cmocka_run_group_tests_name("progress", tests, catalogue_set_up, catalogue_tear_down);
}
