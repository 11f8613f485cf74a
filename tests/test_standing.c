/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines worked on other work (the column `on`) and lines shaped at intervals of rows: counts worked by hand. */
#include "folder.h"

#include <stdio.h>
#include <string.h>

#define PIECES "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start,on,every\n"

struct counted {
    struct hk_project *project;
    struct hk_tally *tally;
};

static struct counted count(const struct hk_catalogue *catalogue, const char *pieces, const char *notes)
{
    struct counted c = {folder_good(catalogue, (struct folder){.pieces = pieces}), NULL};
    struct hk_diags diags = {0};
    c.tally = hk_tally_count(c.project, &diags);
    assert_findings(&diags, notes);
    assert_non_null(c.tally);
    return c;
}

static void done(struct counted c)
{
    hk_tally_free(c.tally);
    hk_project_free(c.project);
}

static void assert_uncounted(const struct hk_catalogue *catalogue, const char *pieces, const char *expected)
{
    struct hk_project *project = folder_good(catalogue, (struct folder){.pieces = pieces});
    struct hk_diags diags = {0};
    assert_null(hk_tally_count(project, &diags));
    assert_findings(&diags, expected);
    hk_project_free(project);
}

static const struct hk_worked *worked(struct counted c, size_t line, size_t size)
{
    return &c.tally->lines[size * c.project->line_count + line];
}

static double stitches(struct counted c, size_t line, size_t size, const char *us)
{
    const struct hk_kinds *kinds = &worked(c, line, size)->uses[0].kinds;
    for (size_t i = 0; i < kinds->count; i++)
        if (strcmp(c.project->catalogue->stitches[kinds->kinds[i].stitch].us, us) == 0)
            return kinds->kinds[i].count;
    return 0;
}

static int64_t first_row(struct counted c, size_t line, size_t size)
{
    return worked(c, line, size)->runs[0].stitches;
}

/* ---- Division ---------------------------------------------------------------------------------------------------- */

/* 100 - 2 x 20 = 60 and two underarms of 6 are 72; a sleeve is 20 + 6. */
#define RAGLAN                                                                                                         \
    PIECES "yoke,,single crochet,main,4 mm,\"100 (110, 120)\",10,,,,,\n"                                               \
           "body,,single crochet,main,4 mm,\"72 (80, 88)\",4,,,,rest of yoke + 2 x 6 ch,\n"                            \
           "sleeves,,single crochet,main,4 mm,,5,,2,,\"20 (21, 22) of yoke + 6 ch\",\n"

static void a_yoke_divides_into_body_and_sleeves(void **state)
{
    struct counted c =
        count(*state, RAGLAN,
              "pieces.csv:3:51: note: \"body\" stands on 72 (80, 88) stitches: 60 (68, 76) of yoke + 2 x 6 ch\n"
              "pieces.csv:4:43: note: \"sleeves\" stands on 26 (27, 28) stitches: 20 (21, 22) of yoke + 6 ch\n");
    assert_int_equal(first_row(c, 1, 0), 72);
    assert_int_equal(first_row(c, 1, 2), 88);
    assert_int_equal(first_row(c, 2, 1), 27);
    /* 12 of the underarms, and a turning chain a row; 6 and 5 */
    assert_close(stitches(c, 1, 0, "ch"), 12 + 4, 0, 0);
    assert_close(stitches(c, 2, 0, "ch"), 6 + 5, 0, 0);
    assert_close(stitches(c, 2, 0, "sc"), 5 * 26, 0, 0);
    assert_close(worked(c, 1, 0)->uses[0].ends[0], 2, 0, 0); /* it is joined there */
    done(c);
}

static void more_taken_than_there_is_shows_the_sum(void **state)
{
    assert_uncounted(*state,
                     PIECES "yoke,,single crochet,main,4 mm,\"100 (110, 120)\",10,,,,,\n"
                            "body,,single crochet,main,4 mm,,4,,,,\"60 (68, 76) of yoke + 2 x 6 ch\",\n"
                            "sleeves,,single crochet,main,4 mm,,5,,2,,\"20 (21, 23) of yoke + 6 ch\",\n",
                     "pieces.csv:3:39: note: \"body\" stands on 72 (80, 88) stitches: 60 (68, 76) of yoke + 2 x 6 ch\n"
                     "pieces.csv:4:43: error: \"yoke\", size L leaves 120 stitches, and 76 for \"body\" + 2 x 23 for "
                     "\"sleeves\" are 122; take fewer, or the rest with one of them\n"
                     "pieces.csv:4:43: note: \"sleeves\" stands on 26 (27, 29) stitches: 20 (21, 23) of yoke + 6 ch\n");
    /* then no rest is left */
    assert_uncounted(
        *state,
        PIECES "yoke,,single crochet,main,4 mm,\"30 (40, 50)\",10,,,,,\n"
               "body,,single crochet,main,4 mm,,4,,,,\"rest of yoke + 3 ch\",\n"
               "sleeves,,single crochet,main,4 mm,,5,,2,,20 of yoke,\n",
        "pieces.csv:3:47: error: \"body\", size M: 0 stitches are left of \"yoke\"; take fewer elsewhere, or "
        "write how many stitches it takes\n"
        "pieces.csv:4:42: error: \"yoke\", size S leaves 30 stitches, and 2 x 20 for \"sleeves\" are 40; take fewer, "
        "or the rest with one of them\n"
        "pieces.csv:4:42: note: \"sleeves\" stands on 20 stitches: 20 of yoke\n");
    /* a continued body takes all; two yokes have twice the stitches */
    assert_uncounted(
        *state,
        PIECES "top,yoke,single crochet,main,4 mm,\"30 (30, -)\",10,,\"2 (-, 2)\",,,\n"
               "top,body,single crochet,main,4 mm,,\"4 (-, -)\",,2,,,\n"
               "flap,,single crochet,main,4 mm,,\"5 (-, -)\",,,,5 of top/yoke,\n",
        "pieces.csv:4:47: error: \"top\", part \"yoke\", size S leaves 2 x 30 stitches, and 2 x 30 for \"top\", "
        "part \"body\" + 5 for \"flap\" are 65; fill the cell \"on\" of the line that continues: else it takes all\n"
        "pieces.csv:4:47: note: \"flap\" stands on 5 (-, -) stitches: 5 (-, -) of top/yoke\n");
}

static void a_body_that_does_not_follow_shows_the_sum(void **state)
{
    assert_uncounted(
        *state,
        PIECES "yoke,,single crochet,main,4 mm,\"100 (110, 120)\",10,,,,,\n"
               "body,,single crochet,main,4 mm,\"72 (80, 90)\",4,,,,rest of yoke + 2 x 6 ch,\n"
               "sleeves,,single crochet,main,4 mm,,5,,2,,\"20 (21, 22) of yoke + 6 ch\",\n",
        "pieces.csv:3:33: error: \"body\", size L: 90 stitches are stated, and 76 of yoke + 2 x 6 ch are 88; "
        "write 88, or leave the cell empty\n"
        "pieces.csv:4:43: note: \"sleeves\" stands on 26 (27, 28) stitches: 20 (21, 22) of yoke + 6 ch\n");
}

static void what_nothing_takes_is_noted(void **state)
{
    done(count(*state,
               PIECES "yoke,,single crochet,main,4 mm,\"100 (110, 120)\",10,,,,,\n"
                      "body,,single crochet,main,4 mm,,4,,,,\"90 (110, 100) of yoke\",\n",
               "pieces.csv:2:1: note: no part takes 10 (0, 20) of the stitches that \"yoke\" leaves\n"
               "pieces.csv:3:39: note: \"body\" stands on 90 (110, 100) stitches: 90 (110, 100) of yoke\n"));
}

static void copies_are_counted_together(void **state)
{
    struct counted c = count(*state,
                             PIECES "half,,single crochet,main,4 mm,15,10,,2,,,\n"
                                    "joined,,single crochet,main,4 mm,,4,,,,stitches of all halfs,\n",
                             "pieces.csv:3:40: note: \"joined\" stands on 30 stitches: 30 of all halfs\n");
    assert_int_equal(first_row(c, 1, 0), 30);
    done(c);
    c = count(
        *state,
        PIECES "motif,,single crochet,main,4 mm,15,10,,\"4 (6, 9)\",,,\n"
               "border,,single crochet,main,4 mm,,4,,,,each row end of all motifs,\n",
        "pieces.csv:3:40: note: \"border\" stands on 40 (60, 90) stitches: 40 (60, 90) for 10 rows of all motifs\n");
    assert_int_equal(first_row(c, 1, 2), 90);
    done(c);
    /* each of two takes half of the rest: (41 - 5) / 2 */
    c = count(*state,
              PIECES "yoke,,single crochet,main,4 mm,41,10,,,,,\n"
                     "tab,,single crochet,main,4 mm,,4,,,,5 of the yoke,\n"
                     "halves,,single crochet,main,4 mm,,4,,2,,rest of yoke,\n",
              "pieces.csv:3:37: note: \"tab\" stands on 5 stitches: 5 of yoke\n"
              "pieces.csv:4:41: note: \"halves\" stands on 18 stitches: 18 of yoke\n");
    assert_int_equal(first_row(c, 2, 0), 18);
    done(c);
}

static void a_rest_that_cannot_be_is_an_error(void **state)
{
    assert_uncounted(
        *state,
        PIECES "yoke,,single crochet,main,4 mm,40,10,,,,,\n"
               "a,,single crochet,main,4 mm,,10,,,,rest of yoke,\n"
               "b,,single crochet,main,4 mm,,10,,,,rest of yoke,\n"
               "odd,,single crochet,main,4 mm,41,10,,,,,\n"
               "c,,single crochet,main,4 mm,,10,,2,,rest of odd,\n"
               "gone,,single crochet,main,4 mm,\"20 (-, 20)\",10,,,,,\n"
               "d,,single crochet,main,4 mm,,10,,,,20 of gone,\n"
               "e,,single crochet,main,4 mm,,\"10 (-, -)\",,,,rest of gone,\n"
               "f,,single crochet,main,4 mm,,10,,,,foundation of d,\n"
               "round,,single crochet in a spiral,main,4 mm,20,10,,,,,\n"
               "g,,single crochet,main,4 mm,,10,,,,each row end of round,\n",
        "pieces.csv:3:44: error: \"a\": the rest of \"yoke\" is taken twice; write for one of them how many "
        "stitches it takes\n"
        "pieces.csv:4:44: error: \"b\": the rest of \"yoke\" is taken twice; write for one of them how many "
        "stitches it takes\n"
        "pieces.csv:6:45: error: \"c\", size S: 41 stitches are left of \"odd\", no multiple of 2; take fewer "
        "elsewhere, or write how many stitches it takes\n"
        "pieces.csv:6:45: error: \"c\", size M: 41 stitches are left of \"odd\", no multiple of 2; take fewer "
        "elsewhere, or write how many stitches it takes\n"
        "pieces.csv:6:45: error: \"c\", size L: 41 stitches are left of \"odd\", no multiple of 2; take fewer "
        "elsewhere, or write how many stitches it takes\n"
        "pieces.csv:8:42: error: \"d\", size M: nothing of \"gone\" is worked to stand on; write 0 of gone for a "
        "size that does without\n"
        "pieces.csv:9:53: error: \"e\", size S: 0 stitches are left of \"gone\"; take fewer elsewhere, or write "
        "how many stitches it takes\n"
        "pieces.csv:10:50: error: \"f\": \"d\" has no foundation; write the stitches as a number\n"
        "pieces.csv:12:52: error: \"g\": \"round\" is worked in rounds and has no row ends; write \"stitches of "
        "round\", or the stitches as a number\n");
}

/* ---- Row ends, foundations, order ----------------------------------------------------------------------------------
 */

/* 3 for 4 of 30 rows are 22.5, so 23; of 34 they are 25.5, so 26: 4 rows more are 3 stitches more, and so is their
 * yarn. */
static void a_band_follows_its_front(void **state)
{
    static const char *const fronts[] = {
        PIECES "band,,single crochet,main,4 mm,,5,,,,3 for 4 rows of front,\n"
               "front,hem,single crochet,main,4 mm,20,10,,,,,\nfront,body,single crochet,main,4 mm,,20,,,,,\n",
        PIECES "band,,single crochet,main,4 mm,,5,,,,3 for 4 rows of front,\n"
               "front,hem,single crochet,main,4 mm,20,10,,,,,\nfront,body,single crochet,main,4 mm,,24,,,,,\n"};
    static const char *const notes[] = {
        "pieces.csv:2:38: note: \"band\" stands on 23 stitches: 23 for 30 rows of front, to the nearest "
        "whole stitch, halves up\n",
        "pieces.csv:2:38: note: \"band\" stands on 26 stitches: 26 for 34 rows of front, to the nearest "
        "whole stitch, halves up\n"};
    for (size_t i = 0; i < 2; i++) {
        struct counted c = count(*state, fronts[i], notes[i]);
        assert_int_equal(first_row(c, 0, 0), 23 + 3 * (int64_t)i);
        assert_close(stitches(c, 0, 0, "sc"), 5 * (23 + 3 * (double)i), 0, 0);
        done(c);
    }
}

/*
 * pairs needs an even number: of 11 + 2 x 5 = 21 the nearest are 20 and 22, halves up. A stated number is used
 * unchanged.
 */
static void row_ends_are_rounded_to_what_fits(void **state)
{
    struct counted c =
        count(*state,
              PIECES "front,,single crochet,main,4 mm,20,11,,,,,\n"
                     "band,,pairs,main,4 mm,,4,,,,each row end of front + 2 x 5 ch,\n",
              "pieces.csv:3:29: note: \"band\" stands on 21 stitches: 11 for 11 rows of front + 2 x 5 ch, and the "
              "nearest that fits \"pairs\" is 22\n");
    assert_int_equal(first_row(c, 1, 0), 22);
    done(c);
    assert_uncounted(
        *state,
        PIECES "front,,single crochet,main,4 mm,21,11,,,,,\n"
               "band,,pairs,main,4 mm,,4,,,,stitches of front,\n",
        "pieces.csv:3:29: error: \"band\": row 1 of \"pairs\" does not fit 21 stitches; 20 or 22 would do\n");
}

/* Every other row end of one part; 20 chains, so 20 along their other side. */
static void other_edges(void **state)
{
    struct counted c = count(
        *state,
        PIECES "front,hem,single crochet,main,4 mm,20,10,,,,,\n"
               "front,body,single crochet,main,4 mm,,21,,,,,\n"
               "a,,single crochet,main,4 mm,,4,,,,every other row end of body,\n"
               "b,,single crochet,main,4 mm,,4,,,,foundation of front + 3 CO,\n"
               "c,,single crochet,main,4 mm,,4,,,,stitches of front + 2 x 3 for every 4 row ends of front/hem,\n",
        "pieces.csv:4:35: note: \"a\" stands on 11 stitches: 11 for 21 rows of body, to the nearest whole stitch, "
        "halves up\n"
        "pieces.csv:5:35: note: \"b\" stands on 23 stitches: 20 of the foundation of front + 3 CO\n"
        "pieces.csv:6:35: note: \"c\" stands on 36 stitches: 20 of front + 2 x 8 for 10 rows of front/hem, to the "
        "nearest whole stitch, halves up\n");
    assert_int_equal(first_row(c, 2, 0), 11);
    assert_int_equal(first_row(c, 3, 0), 23);
    assert_close(stitches(c, 3, 0, "CO"), 3, 0, 0);
    assert_int_equal(first_row(c, 4, 0), 36);
    done(c);
}

/*
 * Of 22 chains, dc in the 4th from the hook: the 3 skipped chains use one of them, so 20 are left along the other side.
 */
static void a_turning_chain_is_no_edge(void **state)
{
    struct hk_project *project = folder_good(
        *state,
        (struct folder){.fabrics = "fabric,row,make\npanel,1,\"dc in 4th ch from hook and in each ch across, turn\"\n",
                        .pieces = PIECES "hem,,panel,main,4 mm,20,1,,,,,\n"
                                         "edging,,single crochet,main,4 mm,,1,,,,foundation of hem,\n"});
    struct hk_diags diags = {0};
    struct counted c = {project, hk_tally_count(project, &diags)};
    assert_findings(&diags, "pieces.csv:3:40: note: \"edging\" stands on 20 stitches: 20 of the foundation of hem\n");
    assert_non_null(c.tally);
    assert_int_equal(worked(c, 0, 0)->foundation, 22);
    assert_int_equal(first_row(c, 1, 0), 20);
    done(c);
}

static void a_circle_is_shown(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = PIECES "front,,single crochet,main,4 mm,,10,,,,stitches of band,\n"
                                          "band,,single crochet,main,4 mm,,4,,,,each row end of collar,\n"
                                          "collar,,single crochet,main,4 mm,,4,,,,rest of front,\n"
                                          "self,,single crochet,main,4 mm,,4,,,,each row end of self,\n"}),
        "pieces.csv:2:1: error: lines depend on one another in a circle: front (line 2) -> band (line 3) -> "
        "collar (line 4) -> front; write the stitches of one of them as a number\n"
        "pieces.csv:5:1: error: lines depend on one another in a circle: self (line 5) -> self; write the "
        "stitches of one of them as a number\n");
}

#define FORMS                                                                                                          \
    "write 44 (48, 52) of yoke, rest of yoke, stitches of yoke, each row end of front, 3 for 4 rows of front, "        \
    "foundation of hem "                                                                                               \
    "or 8 ch, with + between them\n"

static void mistakes_of_the_cell_are_reported_in_one_run(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces =
                             PIECES "front,body,single crochet,main,4 mm,10,10,,,,,\n"
                                    "front,edge,single crochet,main,4 mm,10,10,,,edge,,\n"
                                    "back,body,single crochet,main,4 mm,10,10,,,,,\n"
                                    "back,body,single crochet,main,4 mm,,10,,,,,\n"
                                    "a,,single crochet,main,4 mm,,4,,,,each row end of frnt,\n"
                                    "b,,single crochet,main,4 mm,,4,,,,each row end of body,\n"
                                    "c,,single crochet,main,4 mm,,4,,,,each row end of front,\n"
                                    "d,,single crochet,main,4 mm,,4,,,,8 of back/body,\n"
                                    "e,,single crochet,main,4 mm,,4,,,,many of back,\n"
                                    "f,,single crochet,main,4 mm,,4,,,,\"4 (5, 6, 7) of back + 8 chairs + 3 x \",\n"
                                    "g,,single crochet,main,4 mm,,4,,,chain,8 of back,\n"
                                    "h,,single crochet,main,4 mm,20 cm,4,,,,8 of back,\n"
                                    "i,,single crochet,main,4 mm,,4,,,,4 of all back,\n"
                                    "j,,single crochet,main,4 mm,,4,,,,3 for 0 rows of back,\n"
                                    "k,,single crochet,main,4 mm,,4,,,,8 of back + ,\n"
                                    "l,,single crochet,main,4 mm,,4,,,,0 x 8 ch,\n"
                                    "m,,single crochet,main,4 mm,,4,,,,8 of the ,\n"
                                    "n,,single crochet,main,4 mm,,4,,,,3 for 4 inches of back,\n"}),
        "pieces.csv:6:51: error: there is no piece or part \"frnt\"; did you mean \"front\"?\n"
        "pieces.csv:7:51: error: \"body\" is the name of two parts; write front/body or back/body\n"
        "pieces.csv:8:51: error: \"front\" has parts that do not continue on one another; name the part that is "
        "meant, such as front/edge\n"
        "pieces.csv:9:40: error: \"back/body\" is the name of two parts; give the parts of \"back\" different "
        "names\n"
        "pieces.csv:10:35: error: a line cannot stand on \"many\"; write 44 (48, 52) of yoke, rest of yoke, "
        "stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n"
        "pieces.csv:11:36: error: 4 values for 3 sizes (S, M, L); write one value for all sizes, or one for each "
        "with 0 or - where a size does without\n"
        "pieces.csv:11:58: error: a line cannot stand on \"8 chairs\"; write 44 (48, 52) of yoke, rest of yoke, "
        "stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n"
        "pieces.csv:11:69: error: a line cannot stand on \"3 x\"; write 44 (48, 52) of yoke, rest of yoke, "
        "stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n"
        "pieces.csv:12:34: error: \"on\" says already what it stands on; leave this cell empty, or the cell "
        "\"on\"\n"
        "pieces.csv:13:29: error: a length, and \"on\" says how many stitches; leave this cell empty, or write "
        "the stitches as a check of what \"on\" comes to\n"
        "pieces.csv:14:44: error: a number or the rest of \"all back\" may be of each or of all together; write "
        "stitches of all back, or 2 x 44 of back\n"
        "pieces.csv:15:35: error: a line cannot stand on \"3 for 0 rows\"; write 44 (48, 52) of yoke, rest of "
        "yoke, stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n"
        "pieces.csv:16:35: error: a line cannot stand on \"8 of back +\"; write 44 (48, 52) of yoke, rest of "
        "yoke, stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n"
        "pieces.csv:17:35: error: a line cannot stand on \"0 x 8 ch\"; write 44 (48, 52) of yoke, rest of yoke, "
        "stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n"
        "pieces.csv:18:40: error: there is no piece or part \"the\"; write the name of a piece, or of a part as "
        "piece/part\n"
        "pieces.csv:19:35: error: a line cannot stand on \"3 for 4 inches\"; write 44 (48, 52) of yoke, rest of "
        "yoke, stitches of yoke, each row end of front, 3 for 4 rows of front, foundation of hem or 8 ch, with + "
        "between them\n");
}

/* The band is above its front; the first 34 rows of both together are the band's 5, then 29 of the front. */
static void progress_goes_by_the_order_of_the_file(void **state)
{
    struct hk_project *project = folder_good(
        *state, (struct folder){.pieces = PIECES "coat,band,single crochet,main,4 mm,,5,,,,each row end of hem,\n"
                                                 "coat,front,single crochet,main,4 mm,20,30,,,chain,,\n"
                                                 "hem,,single crochet,main,4 mm,10,12,,,,,\n",
                                .other_name = "progress.csv",
                                .other_text = "size,piece,rows,weight\nS,coat,34,20 g\n"});
    struct hk_diags diags = {0};
    struct counted c = {project, hk_tally_count(project, &diags)};
    assert_findings(&diags,
                    "pieces.csv:2:42: note: \"coat\", part \"band\" stands on 12 stitches: 12 for 12 rows of hem\n");
    assert_non_null(c.tally);
    assert_int_equal(c.tally->progress[0].count, 2);
    assert_int_equal(c.tally->progress[0].lines[0], 0);
    assert_int_equal(c.tally->progress[0].worked[1].runs[0].last, 29);
    done(c);
}

/* A band on the 6 rows of a piece of pattern.txt, and on its 20 last stitches. */
static void a_line_stands_on_a_written_piece(void **state)
{
    struct hk_project *project = folder_good(
        *state,
        (struct folder){
            .pieces = PIECES "band,,single crochet,main,4 mm,,5,,,,2 x each row end of front + stitches of front,\n",
            .other_name = "pattern.txt",
            .other_text = "# Front\nWith main and 4 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch "
                          "across, turn. (20)\nRows 2-6: Ch 1, sc in each st across, turn. (20)\n"});
    struct hk_diags diags = {0};
    struct counted c = {project, hk_tally_count(project, &diags)};
    assert_findings(&diags,
                    "pieces.csv:2:38: note: \"band\" stands on 32 stitches: 2 x 6 for 6 rows of front + 20 of front\n");
    assert_non_null(c.tally);
    assert_int_equal(first_row(c, 1, 0), 32);
    done(c);
}

/* ---- Shaping ----------------------------------------------------------------------------------------------------- */

/*
 * 40 rows on 46: decreases in rows 5, 10, ... 40 leave 30. Such a row has 2 decreases, and two stitches fewer than it
 * leaves.
 */
static void a_sleeve_narrows_every_fifth_row(void **state)
{
    struct counted c = count(*state,
                             PIECES "arm,,single crochet,main,4 mm,46,40,,,,,dec 2 sts every 5 rounds\n"
                                    "arm,cuff,single crochet,main,4 mm,,3,,,,,\n",
                             "");
    double sc = 4 * 46; /* rows 1 to 4 */
    for (int64_t width = 44; width > 30; width -= 2)
        sc += (double)(width - 2 + 4 * width); /* the row that shapes, and 4 without shaping */
    sc += 30 - 2;
    assert_int_equal(worked(c, 0, 0)->leaves, 30);
    assert_close(stitches(c, 0, 0, "sc2tog"), 16, 0, 0);
    assert_close(stitches(c, 0, 0, "sc"), sc, 0, 0);
    assert_close(stitches(c, 0, 0, "ch"), 46 + 40, 0, 0);
    assert_close(stitches(c, 1, 0, "sc"), 90, 0, 0);
    done(c);
}

static int64_t last_row(struct counted c, size_t line)
{
    const struct hk_worked *w = worked(c, line, 0);
    return w->runs[w->run_count - 1].last;
}

/* 60 to 40 by 2 every 5 rows are 10 times, 50 rows; increasing, the same. */
static void rows_follow_from_both_ends(void **state)
{
    struct counted c =
        count(*state,
              PIECES "a,,single crochet,main,4 mm,60,,40,,,,2 sts every 5 rows\n"
                     "b,,single crochet,main,4 mm,40,,60,,,,inc 1 st each end of every 5th row\n"
                     "c,,single crochet,main,4 mm,60,50,40,,,,dec 2 sts every 5 rows\n"
                     "d,,single crochet,main,4 mm,20,,26,,,,1 st each end every 4 and 6 rows alternately\n"
                     "e,,single crochet,main,4 mm,20,\"9 (7, 8)\",\"4 (-, 6)\",,,,\"2 (0, 2) every row\"\n",
              "");
    assert_int_equal(last_row(c, 0), 50);
    assert_int_equal(worked(c, 0, 0)->leaves, 40);
    assert_int_equal(last_row(c, 1), 50);
    assert_close(stitches(c, 1, 0, "sc2tog"), 0, 0, 0);
    /* rows 1 to 4 on 40, 5 rows on each of 42 to 58, the last row leaves 60 */
    assert_close(stitches(c, 1, 0, "sc"), 4 * 40 + 5 * (42 + 44 + 46 + 48 + 50 + 52 + 54 + 56 + 58) + 60, 0, 0);
    assert_close(stitches(c, 2, 0, "sc"), stitches(c, 0, 0, "sc"), 0, 0);
    /* rows 4, 10 and 14 */
    assert_int_equal(last_row(c, 3), 14);
    assert_close(stitches(c, 3, 0, "sc"), 3 * 20 + 6 * 22 + 4 * 24 + 26, 0, 0);
    /* never in row 1: rows 2 to 9 leave 18 to 4, two of them decreases */
    assert_close(stitches(c, 4, 0, "sc"), 20 + 16 + 14 + 12 + 10 + 8 + 6 + 4 + 2, 0, 0);
    assert_close(stitches(c, 4, 0, "sc2tog"), 16, 0, 0);
    assert_close(stitches(c, 4, 1, "sc"), 140, 0, 0);
    done(c);
}

/*
 * The decrease matches the most frequent stitch of the row: k2tog in the knit rows of stockinette, p2tog in its purl
 * rows.
 */
static void knitting_narrows_by_its_own_stitches(void **state)
{
    struct counted c = count(*state, PIECES "a,,stockinette,main,4 mm,20,9,,,,,dec 1 every 3rd row\n", "");
    /* rows 3, 6 and 9 leave 19, 18 and 17; row 6 is purled */
    assert_close(stitches(c, 0, 0, "k2tog"), 2, 0, 0);
    assert_close(stitches(c, 0, 0, "p2tog"), 1, 0, 0);
    assert_close(stitches(c, 0, 0, "k"), 20 + (19 - 1) + 19 + 18 + (17 - 1), 0, 0);
    assert_close(stitches(c, 0, 0, "p"), 20 + 19 + (18 - 1) + 18, 0, 0);
    done(c);
}

/* By the swatch 20 stitches and 25 rows in 10 cm: 20 cm are 40 stitches, 12 cm 24: 8 times 2. 18 cm are 45 rows. */
static void lengths_are_met_by_whole_steps(void **state)
{
    struct counted c =
        count(*state,
              PIECES "a,,single crochet,main,4 mm,20 cm,,12 cm,,,,dec 2 every 4 rows\n"
                     "b,,single crochet,main,4 mm,20 cm,,12.4 cm,,,,dec 3 every 4 rows\n"
                     "c,,single crochet,main,4 mm,20 cm,18 cm,,,,,dec 2 every 10 rows\n",
              "pieces.csv:2:29: note: \"a\" is worked as 40 stitches for 20 cm, finished 20 cm by swatch \"plain\"; 24 "
              "stitches at the end for 12 cm, finished 12 cm by swatch \"plain\"\n"
              "pieces.csv:3:29: note: \"b\" is worked as 40 stitches for 20 cm, finished 20 cm by swatch \"plain\"; 25 "
              "stitches at the end for 12.4 cm, finished 12.5 cm by swatch \"plain\"\n"
              "pieces.csv:4:29: note: \"c\" is worked as 40 stitches for 20 cm, finished 20 cm by swatch \"plain\"; 45 "
              "rows for 18 cm, finished 18 cm by swatch \"plain\"\n");
    assert_int_equal(last_row(c, 0), 32);
    assert_int_equal(worked(c, 1, 0)->leaves, 25);
    assert_int_equal(worked(c, 2, 0)->leaves, 32);
    done(c);
}

static void shaping_that_does_not_agree_shows_what_follows(void **state)
{
    assert_uncounted(
        *state,
        PIECES "a,,single crochet,main,4 mm,60,45,40,,,,2 sts every 5 rows\n"
               "b,,single crochet,main,4 mm,60,,41,,,,dec 2 sts every 5 rows\n"
               "c,,single crochet,main,4 mm,60,,40,,,,inc 2 sts every 5 rows\n"
               "d,,single crochet,main,4 mm,\"6 (60, 6)\",45,,,,,dec 2 sts every 5 rows\n"
               "e,,single crochet circle,main,4 mm,,45,,,ring,,dec 2 every 3 rows\n"
               "f,,stockinette,main,4 mm,60,1000000000,,,,,inc 2 every 3 rows\n"
               "g,,single crochet,main,4 mm,20,,\"30 (-, 30)\",,,,\"1 (0, 1) st each end every 4 rows\"\n"
               "h,,puff stitch,main,4 mm,61,10,,,,,dec 2 every 3 rows\n"
               "i,,single crochet,main,4 mm,30,,41,,,,2 sts every 4 and 6 rows\n"
               "j,,single crochet circle,main,4 mm,6,9,,,ring,,inc 2 every row\n",
        "pieces.csv:2:41: error: \"a\": 2 stitches every 5 rows: 45 rows shape 9 times, from 60 to 42, and "
        "end_stitches says 40; write 50 rows for 10 times\n"
        "pieces.csv:3:39: error: \"b\": 2 stitches every 5 rows: from 60 to 41 are 19 stitches, no multiple of 2; "
        "end on 42 or 40\n"
        "pieces.csv:4:39: error: \"c\": 2 stitches every 5 rows: it says inc, and from 60 to 40 it narrows; write "
        "dec, or other end_stitches\n"
        "pieces.csv:5:48: error: \"d\", size S: 2 stitches every 5 rows: from 6 stitches in 45 rows leaves none; "
        "write fewer rows, or shape less often\n"
        "pieces.csv:5:48: error: \"d\", size L: 2 stitches every 5 rows: from 6 stitches in 45 rows leaves none; "
        "write fewer rows, or shape less often\n"
        "pieces.csv:6:48: error: \"e\", size S: 2 stitches every 3 rows: nothing says how many stitches it begins "
        "with; write the stitches of its first row\n"
        "pieces.csv:6:48: error: \"e\", size M: 2 stitches every 3 rows: nothing says how many stitches it begins "
        "with; write the stitches of its first row\n"
        "pieces.csv:6:48: error: \"e\", size L: 2 stitches every 3 rows: nothing says how many stitches it begins "
        "with; write the stitches of its first row\n"
        "pieces.csv:7:44: error: \"f\": too much to count; at most a million stitches in a row, and a million "
        "rows, can be counted\n"
        "pieces.csv:8:32: error: \"g\", size M: nothing says how many rows; write the rows of a size that is not "
        "shaped\n"
        "pieces.csv:9:36: error: \"h\": its row 3, which is row 1 of \"puff stitch\", has no stitch whose "
        "decrease is in the tables; write rows with the decreases into fabrics.csv, or end_stitches alone\n"
        "pieces.csv:10:39: error: \"i\": 2 stitches every 4 and 6 rows: from 30 to 41 are 11 stitches, no "
        "multiple of 2; end on 40 or 42\n"
        "pieces.csv:11:36: error: \"j\": its row 2, which is row 1 of \"single crochet circle\", does not fit the "
        "8 stitches of the row below; 6 or 12 would fit; as written \"single crochet circle\" gets 6 stitches "
        "wider with every row: is that meant?\n");
}

static void mistakes_of_every_are_reported_in_one_run(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = PIECES "a,,single crochet,main,4 mm,60,45,,,,,2 sts every 5 rows\n"
                                          "b,,single crochet,main,4 mm,60,45,,,,,quickly\n"
                                          "c,,single crochet,main,4 mm,60,45,,,,,dec 2 every 0 rows\n"
                                          "d,,single crochet,main,4 mm,60,,,,,,dec 2 every 3 rows\n"
                                          "e,,single crochet,main,4 mm,60,45,,,,,dec every 3 rows\n"
                                          "f,,single crochet,main,4 mm,60,45,,,,,dec some every 3 rows\n"
                                          "g,,single crochet,main,4 mm,60,45,,,,,dec 2 every 3 alternately rows\n"
                                          "h,,single crochet,main,4 mm,60,45,,,,,dec 2 every other 3 rows\n"
                                          "i,,single crochet,main,4 mm,60,45,,,,,dec 2 every 3 rows alternately\n"
                                          "j,,single crochet,main,4 mm,60,45,,,,,\"dec 2 every 3 (4, 5, 6) rows\"\n"}),
        "pieces.csv:2:39: error: \"2 sts every 5 rows\" may widen or narrow; write inc or dec before it, or the "
        "end_stitches\n"
        "pieces.csv:3:39: error: \"quickly\" does not say how many stitches are shaped, and how often; write dec "
        "2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n"
        "pieces.csv:4:39: error: \"dec 2 every 0 rows\" does not say how many stitches are shaped, and how often; "
        "write dec 2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n"
        "pieces.csv:5:32: error: the cell \"rows\" is empty; write how many, or the end_stitches that they lead "
        "to\n"
        "pieces.csv:6:39: error: \"dec every 3 rows\" does not say how many stitches are shaped, and how often; "
        "write dec 2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n"
        "pieces.csv:7:39: error: \"dec some every 3 rows\" does not say how many stitches are shaped, and how "
        "often; write dec 2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n"
        "pieces.csv:8:53: error: 3 alternately has a unit, and a count is needed here; write a whole number "
        "without a unit\n"
        "pieces.csv:9:39: error: \"dec 2 every other 3 rows\" does not say how many stitches are shaped, and how "
        "often; write dec 2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n"
        "pieces.csv:10:39: error: \"dec 2 every 3 rows alternately\" does not say how many stitches are shaped, "
        "and how often; write dec 2 sts every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n"
        "pieces.csv:11:52: error: 4 values for 3 sizes (S, M, L); write one value for all sizes, or one for each "
        "with 0 or - where a size does without\n");
}

/* ---- Every form of the cells ---------------------------------------------------------------------------------------
 */

/* The stitches for each form, in sizes S, M and L, on a front of 3 copies, 20 stitches and 30 rows each. */
static void each_form_of_on_counts(void **state)
{
    static const struct {
        const char *on;
        int64_t stitches[3];
    } cases[] = {
        {"foundation of all fronts", {60, 60, 60}},
        {"other side of foundation of front", {20, 20, 20}},
        {"the other side of the foundation of the front", {20, 20, 20}},
        {"3 (0, 3) for 4 (0, 4) rows of front + 8 ch", {23 + 8, 8, 23 + 8}}, /* 22.5, halves up */
        {"3 for each 4 row ends of front", {23, 23, 23}},
        {"every 2nd row of front", {15, 15, 15}},
        {"row ends of both fronts", {90, 90, 90}},
        {"500 for 7 rows of front", {2143, 2143, 2143}}, /* 2142.86 */
        {"width of front", {20, 24, 28}},                /* grade.csv */
        {"- (5, 5) of front + 2 X 4 co", {8, 13, 13}},
        {"remaining sts of front", {60, 60, 60}},
        {"2 x 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + 1 ch + "
         "1 ch",
         {17, 17, 17}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char pieces[512];
        snprintf(pieces, sizeof pieces,
                 PIECES "front,,single crochet,main,4 mm,20,30,,3,,,\nband,,single crochet,main,4 mm,,1,,,,\"%s\",\n",
                 cases[i].on);
        struct hk_diags diags = {0};
        struct counted c = {folder_good(*state, (struct folder){.pieces = pieces}), NULL};
        c.tally = hk_tally_count(c.project, &diags);
        assert_non_null(c.tally);
        assert_int_equal(diags.errors, 0);
        for (size_t size = 0; size < 3; size++)
            assert_int_equal(first_row(c, 1, size), cases[i].stitches[size]);
        done(c);
        hk_diags_free(&diags);
    }
}

#define ON(part, at, words) "pieces.csv:" part ":" at ": error: a line cannot stand on \"" words "\"; " FORMS

static void forms_of_on_that_are_none(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = PIECES "front,body,single crochet,main,4 mm,20,30,,3,,,\n"
                                          "a,,single crochet,main,4 mm,,4,,,,3 for every rows of front,\n"
                                          "b,,single crochet,main,4 mm,,4,,,,3 for 4 of front,\n"
                                          "c,,single crochet,main,4 mm,,4,,,,3 for rows of front,\n"
                                          "d,,single crochet,main,4 mm,,4,,,,8-ch,\n"
                                          "e,,single crochet,main,4 mm,,4,,,,rest of all fronts,\n"
                                          "f,,single crochet,main,4 mm,,4,,,,12345 x 8 ch,\n"
                                          "g,,single crochet,main,4 mm,,4,,,,3 x8 ch,\n"
                                          "h,,single crochet,main,4 mm,,4,,,,1001 x 8 ch,\n"
                                          "i,,single crochet,main,4 mm,,4,,,,8 of all ,\n"
                                          "j,,single crochet,main,4 mm,,4,,,,many for 4 rows of front,\n"
                                          "k,,single crochet,main,4 mm,,4,,,,1 ch+1 ch+1 ch+1 ch+1 ch+1 ch+1 ch+1 ch+1 "
                                          "ch+1 ch+1 ch+1 ch+1 ch+1 ch+1 ch+1 "
                                          "ch+1 ch,\n"
                                          "l,,single crochet,main,4 mm,,4,,,,stitches of fore/body/edge,\n"
                                          "m,,single crochet,main,4 mm,,4,,,,ch,\n"
                                          "n,,single crochet,main,4 mm,,4,,,,1 ch + + 1 ch,\n"}),
        ON("3", "35", "3 for every rows") ON("4", "35", "3 for 4") ON("5", "35", "3 for rows") ON(
            "6", "35",
            "8-ch") "pieces.csv:7:47: error: a number or the rest of \"all fronts\" may be of each or of all together; "
                    "write stitches of "
                    "all fronts, or 2 x 44 of fronts\n"
                    "pieces.csv:8:41: error: 12345 x 8 has a unit, and a count is needed here; write a whole number "
                    "without a unit\n"
                    "pieces.csv:9:37: error: 3 x8 has a unit, and a count is needed here; write a whole number without "
                    "a unit\n" ON(
                        "10", "35",
                        "1001 x 8 ch") "pieces.csv:11:40: error: there is no piece or part \"all\"; write the name of "
                                       "a piece, or of a part as piece/part\n"
                                       "pieces.csv:12:35: error: \"many\" is neither a number nor a name in grade.csv; "
                                       "write "
                                       "numbers like 71 (77, 83)\n"
                                       "pieces.csv:13:35: error: 17 parts are summed up in one cell; write at most 16\n"
                                       "pieces.csv:14:47: error: there is no piece or part \"fore/body/edge\"; write "
                                       "the name of a piece, or of a part as "
                                       "piece/part\n" ON("15", "35", "ch") ON("16", "35", "1 ch + + 1 ch"));
    /* a circle begins with its first line in the file; a piece without parts may be divided too */
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = PIECES "front,,single crochet,main,4 mm,10,10,,,,,\n"
                                          "front,,single crochet,main,4 mm,10,10,,,chain,,\n"
                                          "a,,single crochet,main,4 mm,,4,,,,stitches of front,\n"
                                          "b,,single crochet,main,4 mm,,4,,,,stitches of d,\n"
                                          "c,,single crochet,main,4 mm,,4,,,,stitches of d,\n"
                                          "d,,single crochet,main,4 mm,,4,,,,stitches of c,\n"}),
        "pieces.csv:4:47: error: \"front\" has parts that do not continue on one another; give its lines a "
        "part, and name the one that is meant\n"
        "pieces.csv:6:1: error: lines depend on one another in a circle: c (line 6) -> d (line 7) -> c; write "
        "the stitches of one of them as a number\n");
}

/* The search for the nearest name covers only the first 20. */
static void many_names_that_are_none(void **state)
{
    char pieces[2048] = PIECES "front,,single crochet,main,4 mm,20,30,,,,,\n", expected[4096] = "";
    for (int i = 0; i < 21; i++) {
        char line[160];
        snprintf(line, sizeof line, "b%c,,single crochet,main,4 mm,,4,,,,1 of frnt,\n", 'a' + i);
        strcat(pieces, line);
        snprintf(line, sizeof line, "pieces.csv:%d:41: error: there is no piece or part \"frnt\"; %s\n", i + 3,
                 i < 20 ? "did you mean \"front\"?" : "write the name of a piece, or of a part as piece/part");
        strcat(expected, line);
    }
    assert_folder_bad(*state, (struct folder){.pieces = pieces}, expected);
}

/* Without sizes no graded number can be read: the mistakes in the sizes are reported, and no others. */
static void cells_wait_for_the_sizes(void **state)
{
    static const char pieces[] =
        PIECES "front,,single crochet,main,4 mm,20,30,,,,,dec some\nb,,single crochet,main,4 mm,,4,,,,some of front,\n";
    assert_folder_bad(
        *state, ((struct folder){.pieces = pieces, .project = "field,value\ntitle,Sampler\nsizes,\"S (S, L)\"\n"}),
        "project.csv:3:11: error: size \"S\" stands twice; give each size a name of its own\n");
    assert_folder_bad(*state, ((struct folder){.pieces = pieces, .grade = "name,unit,S,M\n"}),
                      "grade.csv:0:0: error: there is no column \"L\"; add a column for each size of project.csv\n");
}

static void sizes_that_a_source_does_without(void **state)
{
    assert_uncounted(
        *state,
        PIECES "top,yoke,single crochet,main,4 mm,\"20 (-, 20)\",10,,,,,\n"
               "top,body,single crochet,main,4 mm,30,10,,,chain,,\n"
               "flap,,single crochet,main,4 mm,,4,,,,5 of top/yoke,\n",
        "pieces.csv:2:1: note: no part takes 15 (-, 15) of the stitches that \"top\", part \"yoke\" leaves\n"
        "pieces.csv:4:43: error: \"flap\", size M: nothing of \"top/yoke\" is worked to stand on; write 0 of "
        "top/yoke for a size that does without\n");
    /* a zero count in that size is not part of the sum */
    assert_uncounted(
        *state,
        PIECES "top,yoke,single crochet,main,4 mm,\"20 (-, 20)\",10,,,,,\n"
               "top,body,single crochet,main,4 mm,30,10,,,chain,,\n"
               "flap,,single crochet,main,4 mm,,\"4 (-, 4)\",,,,\"5 (0, 6) of top/yoke + 4 ch\",\n"
               "brim,,single crochet,main,4 mm,\"9 (-, 99)\",\"4 (-, 4)\",,,,\"5 (0, 6) of top/yoke + 4 (0, 0) "
               "ch\",\n",
        "pieces.csv:2:1: note: no part takes 10 (-, 8) of the stitches that \"top\", part \"yoke\" leaves\n"
        "pieces.csv:4:48: note: \"flap\" stands on 9 (-, 10) stitches: 5 (-, 6) of top/yoke + 4 (-, 4) ch\n"
        "pieces.csv:5:33: error: \"brim\", size L: 99 stitches are stated, and 6 of top/yoke are 6; write 6, or "
        "leave the cell empty\n");
}

/*
 * 8 pieces are named: in S 7 x 2 + 3 x 3 are 23; M has one of 2 fewer; L lacks the last, and 6 x 2 + 2 + 2 x 3 are 20.
 */
static void many_that_take_are_summed_up(void **state)
{
    assert_uncounted(
        *state,
        PIECES "yoke,,single crochet,main,4 mm,20,10,,,,,\n"
               "a,,single crochet,main,4 mm,,4,,,,2 of yoke,\n"
               "b,,single crochet,main,4 mm,,4,,,,2 of yoke,\n"
               "c,,single crochet,main,4 mm,,4,,,,2 of yoke,\n"
               "d,,single crochet,main,4 mm,,4,,,,2 of yoke,\n"
               "e,,single crochet,main,4 mm,,4,,,,2 of yoke,\n"
               "f,,single crochet,main,4 mm,,4,,,,2 of yoke,\n"
               "g,,single crochet,main,4 mm,,4,,,,\"2 (0, 2) of yoke + 3 ch\",\n"
               "h,,single crochet,main,4 mm,,4,,,,3 of yoke,\n"
               "i,,single crochet,main,4 mm,,4,,,,3 of yoke,\n"
               "j,,single crochet,main,4 mm,,\"4 (4, -)\",,,,\"3 (3, 0) of yoke\",\n",
        "pieces.csv:3:35: note: \"a\" stands on 2 stitches: 2 of yoke\n"
        "pieces.csv:4:35: note: \"b\" stands on 2 stitches: 2 of yoke\n"
        "pieces.csv:5:35: note: \"c\" stands on 2 stitches: 2 of yoke\n"
        "pieces.csv:6:35: note: \"d\" stands on 2 stitches: 2 of yoke\n"
        "pieces.csv:7:35: note: \"e\" stands on 2 stitches: 2 of yoke\n"
        "pieces.csv:8:35: note: \"f\" stands on 2 stitches: 2 of yoke\n"
        "pieces.csv:9:36: note: \"g\" stands on 5 (3, 5) stitches: 2 (-, 2) of yoke + 3 ch\n"
        "pieces.csv:10:35: note: \"h\" stands on 3 stitches: 3 of yoke\n"
        "pieces.csv:11:35: note: \"i\" stands on 3 stitches: 3 of yoke\n"
        "pieces.csv:12:45: error: \"yoke\", size S leaves 20 stitches, and 2 for \"a\" + 2 for \"b\" + 2 for "
        "\"c\" + 2 for \"d\" + 2 for \"e\" + 2 for \"f\" + 2 for \"g\" + 3 for \"h\" and 2 more are 23; take fewer, or "
        "the rest with one of them\n"
        "pieces.csv:12:45: error: \"yoke\", size M leaves 20 stitches, and 2 for \"a\" + 2 for \"b\" + 2 for "
        "\"c\" + 2 for \"d\" + 2 for \"e\" + 2 for \"f\" + 3 for \"h\" + 3 for \"i\" and 1 more are 21; take fewer, or "
        "the rest with one of them\n"
        "pieces.csv:12:45: note: \"j\" stands on 3 (3, -) stitches: 3 (3, -) of yoke\n");
    /* all copies of one, and one whole copy */
    assert_uncounted(
        *state,
        PIECES "yoke,,single crochet,main,4 mm,\"20 (-, -)\",10,,2,,,\n"
               "a,,single crochet,main,4 mm,,\"4 (-, -)\",,,,stitches of all yokes,\n"
               "b,,single crochet,main,4 mm,,\"4 (-, -)\",,,,stitches of yoke,\n"
               "c,,single crochet,main,4 mm,7,\"- (4, -)\",,,,,\n",
        "pieces.csv:3:44: note: \"a\" stands on 40 (-, -) stitches: 40 (-, -) of all yokes\n"
        "pieces.csv:4:44: error: \"yoke\", size S leaves 2 x 20 stitches, and 40 for \"a\" + 20 for \"b\" are 60; "
        "take fewer, or the rest with one of them\n"
        "pieces.csv:4:44: note: \"b\" stands on 20 (-, -) stitches: 20 (-, -) of yoke\n");
}

#define TOO_MUCH "too much to count at row 1; at most a million stitches in a row, and a million rows, can be counted\n"

static void more_than_can_be_counted(void **state)
{
    assert_uncounted(*state,
                     PIECES "yoke,,single crochet,main,4 mm,\"20 (-, -)\",10,,2,,,\n"
                            "a,,single crochet,main,4 mm,,\"4 (-, -)\",,2,,1000 x 1000000000000 of yoke,\n"
                            "b,,single crochet,main,4 mm,,\"4 (-, -)\",,2,,1000 x 1000000000000 of yoke,\n"
                            "c,,single crochet,main,4 mm,,\"4 (-, -)\",,,,1000000000000 for 1 rows of yoke,\n"
                            "d,,single crochet,main,4 mm,,\"4 (-, -)\",,,,1000 x 1000000000000 for 1 rows of yoke,\n"
                            "long,,single crochet,main,4 mm,\"20 (-, -)\",1000,,,,,\n"
                            "e,,single crochet,main,4 mm,,\"4 (-, -)\",,,,1000000000000 for 1 rows of long,\n",
                     "pieces.csv:3:45: error: \"a\": " TOO_MUCH
                     "pieces.csv:4:45: error: \"yoke\", size S leaves 2 x 20 stitches, and 2000 x "
                     "1000000000000 for \"a\" + 2000 x 1000000000000 for \"b\" are at least 10^15; take fewer, or the "
                     "rest with one of them\n"
                     "pieces.csv:4:45: error: \"b\": " TOO_MUCH "pieces.csv:5:44: error: \"c\": " TOO_MUCH
                     "pieces.csv:6:44: error: \"d\": " TOO_MUCH "pieces.csv:8:44: error: \"e\": " TOO_MUCH);
}

/* An existing edge has no foundation; a spiral of 20 is worked on 20 chains. */
static void foundations_of_rounds_and_edges(void **state)
{
    assert_uncounted(*state,
                     PIECES "round,,single crochet in a spiral,main,4 mm,20,10,,,,,\n"
                            "a,,single crochet,main,4 mm,,4,,,,foundation of round,\n"
                            "cast,,single crochet,main,4 mm,20,10,,,edge,,\n"
                            "b,,single crochet,main,4 mm,,4,,,,foundation of cast,\n",
                     "pieces.csv:3:35: note: \"a\" stands on 20 stitches: 20 of the foundation of round\n"
                     "pieces.csv:5:49: error: \"b\": \"cast\" has no foundation; write the stitches as a number\n");
}

/* 11 row ends and 10 chains are 21, so 22 pairs; "twelve" fits no other number near 11. */
static void what_is_stated_of_a_band_is_compared_with_what_fits(void **state)
{
    static const char fabrics[] =
        "fabric,row,make\npairs,1,\"tch 1, *sc 2*\"\npairs,2,\"tch 1, *sc*\"\ntwelve,1,sc 12\n";
    static const struct {
        const char *pieces, *expected;
    } cases[] = {
        {"band,,pairs,main,4 mm,\"30 (22, 22)\",4,,,,each row end of front + 2 x 5 ch,\n",
         "pieces.csv:3:24: error: \"band\", size S: 30 stitches are stated, and 11 for 11 rows of front + 2 x 5 ch "
         "come to "
         "22; write 22, or leave the cell empty\n"},
        {"band,,twelve,main,4 mm,,1,,,,each row end of front,\n",
         "pieces.csv:3:30: error: \"band\": 11 stitches are stated, and row 1 of \"twelve\" takes 12; write 12\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char pieces[512];
        snprintf(pieces, sizeof pieces, PIECES "front,,single crochet,main,4 mm,20,11,,,,,\n%s", cases[i].pieces);
        struct hk_project *project = folder_good(*state, (struct folder){.pieces = pieces, .fabrics = fabrics});
        struct hk_diags diags = {0};
        assert_null(hk_tally_count(project, &diags));
        assert_findings(&diags, cases[i].expected);
        hk_project_free(project);
    }
    /* 22, two fewer in rows 3, 6 and 9 */
    struct counted c = count(
        *state,
        PIECES "front,,single crochet,main,4 mm,20,11,,,,,\n"
               "band,,pairs,main,4 mm,,,16,,,each row end of front + 2 x 5 ch,dec 2 every 3 rows\n",
        "pieces.csv:3:30: note: \"band\" stands on 21 stitches: 11 for 11 rows of front + 2 x 5 ch, and the nearest "
        "that fits \"pairs\" is 22\n");
    assert_int_equal(last_row(c, 1), 9);
    assert_int_equal(worked(c, 1, 0)->leaves, 16);
    done(c);
}

/* A size without a band, and one whose band picks up no stitches. */
static void rows_of_some_sizes(void **state)
{
    struct counted c = count(
        *state,
        PIECES "front,,single crochet,main,4 mm,20,\"10 (20, 30)\",,,,,\n"
               "band,,single crochet,main,4 mm,,\"4 (-, 4)\",,,,3 for 4 rows of front,\n",
        "pieces.csv:3:47: note: \"band\" stands on 8 (-, 23) stitches: 8 (-, 23) for 10 (-, 30) rows of front, to the "
        "nearest whole stitch, halves up\n");
    done(c);
}

/* An unmeasured swatch determines no length. */
static void swatches_without_a_gauge(void **state)
{
    struct hk_project *project = folder_good(
        *state, (struct folder){.pieces = PIECES
                                "a,,single crochet,main,4 mm,20,6 cm,,,,,\nb,,single crochet,main,4 mm,6 cm,6,,,,,\n",
                                .swatches = "swatch,yarn,tool,fabric,stitches,rows,weight\n"
                                            "plain,main,4 mm,single crochet,20,20,9 g\n"});
    struct hk_diags diags = {0};
    assert_null(hk_tally_count(project, &diags));
    assert_findings(
        &diags,
        "pieces.csv:2:32: error: \"a\" is given as a length, and no swatch of \"single crochet\" says how many rows "
        "that is; write the height of swatch \"plain\" into swatches.csv, or its gauge, such as 18 x 24\n"
        "pieces.csv:3:29: error: \"b\" is given as a length, and no swatch of \"single crochet\" says how many "
        "stitches that is; write the width of swatch \"plain\" into swatches.csv, or its gauge, such as 18 x 24\n");
    hk_project_free(project);
}

static void lengths_that_no_width_meets(void **state)
{
    static const struct folder folders[] = {
        {.pieces = PIECES
         "front,,single crochet,main,4 mm,\"21 (-, -)\",11,,,,,\nfront,,twelve,main,4 mm,\"6 (-, -) cm\",1,,,,,\n"},
        {.pieces = PIECES "front,,never,main,4 mm,\"6 (-, -) cm\",2,,,,,\n"},
    };
    static const char *const expected[] = {"pieces.csv:3:26: error: \"front\", size S: no width fits all 1 rows of "
                                           "\"twelve\"; leave the cell empty to see what "
                                           "does not fit\n",
                                           "pieces.csv:2:25: error: \"front\", size S: no width near this one fits all "
                                           "2 rows of \"never\"; write a number of "
                                           "stitches to see what does not fit\n"};
    for (size_t i = 0; i < 2; i++) {
        struct folder folder = folders[i];
        folder.fabrics = "fabric,row,make\ntwelve,1,sc 12\nnever,1,*sc 2*\nnever,2,sc 3\n";
        folder.swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge\n"
                          "a,main,4 mm,twelve,12,20,20 x 25\nb,main,4 mm,never,12,1,20 x 25\n";
        struct hk_project *project = folder_good(*state, folder);
        struct hk_diags diags = {0};
        assert_null(hk_tally_count(project, &diags));
        assert_findings(&diags, expected[i]);
        hk_project_free(project);
    }
}

/* 60 stitches; row 1 never shapes. */
static void each_form_of_every_shapes(void **state)
{
    static const struct {
        const char *every;
        int64_t rows, leaves[3];
    } cases[] = {
        {"dec 2 sts every 30 rows", 10, {60, 60, 60}},
        {"dec. 1 st at both ends every 3rd row", 10, {54, 54, 54}}, /* rows 3, 6, 9 */
        {"Increasing 2 of every 2nd row", 10, {70, 70, 70}},
        {"increase 2 in each row", 10, {78, 78, 78}},
        {"inc. 1 every 1st row", 10, {69, 69, 69}},
        {"decreasing 1 st on every rnd", 4, {57, 57, 57}},
        {"inc width every other row", 10, {160, 180, 200}}, /* 5 x 20, 24, 28 of grade.csv */
        {"dec 2 every width rows", 30, {58, 58, 58}},
        {"dec - (2, 2) every other round", 10, {60, 50, 50}},
        {"dec 2 sts every 3 and 4 rows alternately", 14, {52, 52, 52}}, /* rows 3, 7, 10, 14 */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char pieces[256];
        snprintf(pieces, sizeof pieces, PIECES "a,,single crochet,main,4 mm,60,%d,,,,,\"%s\"\n", (int)cases[i].rows,
                 cases[i].every);
        struct counted c = count(*state, pieces, "");
        for (size_t size = 0; size < 3; size++)
            assert_int_equal(worked(c, 0, size)->leaves, cases[i].leaves[size]);
        done(c);
    }
}

static void forms_of_every_that_are_none(void **state)
{
    static const char *const cases[] = {
        "december 2 every 5 rows",
        "dec (2) every 5 rows",
        "dec 2 every fifth row",
        "dec 2 every xth row",
        "dec 2 every th rows",
        "dec 2 every 5",
        "dec 2 every x and 3 rows",
        "dec 2 every 3 and 0 rows",
        "dec 2 every 3 and x rows",
        "dec 2 every otherwise rows",
        "every 3 rows",
        "dec 2 every srow",
        "dec 2 every (3) rows",
        "dec some every 3 rows",
        "dec every row",
        "inc at each end every row",
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char pieces[256], expected[512];
        snprintf(pieces, sizeof pieces, PIECES "a,,single crochet,main,4 mm,60,45,,,,,%s\n", cases[i]);
        snprintf(
            expected, sizeof expected,
            "pieces.csv:2:39: error: \"%s\" does not say how many stitches are shaped, and how often; write dec 2 sts "
            "every 5 rounds, or inc 1 st each end every 4 (4, 6) rows\n",
            cases[i]);
        assert_folder_bad(*state, (struct folder){.pieces = pieces}, expected);
    }
}

#define MUCH "too much to count; at most a million stitches in a row, and a million rows, can be counted\n"

/* A size that states neither the direction nor the number of rows is not guessed. */
static void sizes_that_shaping_does_not_report(void **state)
{
    assert_uncounted(
        *state,
        PIECES "a,,single crochet,main,4 mm,60,50,\"40 (-, 40)\",,,,2 sts every 5 rows\n"
               "b,,single crochet,main,4 mm,60,,\"60 (50, 40)\",,,,2 sts every 5 rows\n"
               "c,,single crochet,main,4 mm,60,50,60,,,,dec 2 sts every 5 rows\n"
               "d,,single crochet,main,4 mm,60,50,60,,,,2 sts every 5 rows\n"
               "e,,single crochet,main,4 mm,60,5,60,,,,2 sts every 6 rows\n"
               "f,,single crochet,main,4 mm,40,,60,,,,dec 1 st every 5 rows\n"
               "h,,single crochet,main,4 mm,60,50,\"40 (40, 42)\",,,,2 sts every 5 rows\n"
               "i,,single crochet,main,4 mm,60,45,,,,,dec 2 sts every 1000001 rows\n"
               "j,,single crochet,main,4 mm,60,45,,,,,dec 2 sts every 4 and 1000001 rows\n"
               "k,,single crochet,main,4 mm,60,45,,,,,dec 1000001 sts every 4 rows\n"
               "l,,single crochet,main,4 mm,60,,\"40 (-, 40)\",,,,2 sts every 5 rows\n"
               "m,,single crochet,main,4 mm,60,45,\"21 (20, 22.5) cm\",,,,2 sts every 5 rows\n"
               "n,,single crochet,main,4 mm,60,45,42,,,,\"2 sts every 5 (5, 4) rows\"\n"
               "o,,single crochet,main,4 mm,60,45,44,,,,\"2 sts every 5 and 6 (6, 7) rows\"\n"
               "p,,single crochet,main,4 mm,60,45,42,,,,\"2 (2, 4) sts every 5 rows\"\n"
               "q,,single crochet,main,4 mm,60,\"45 (45, 50)\",42,,,,2 sts every 5 rows\n"
               "r,hem,single crochet,main,4 mm,60,10,,,,,\n"
               "r,body,single crochet,main,4 mm,,50,42,,,,2 sts every 5 rows\n",
        "pieces.csv:2:51: error: \"a\", size M: 2 stitches every 5 rows may widen or narrow; write inc or dec before "
        "it, or "
        "the end_stitches of each size\n"
        "pieces.csv:3:32: error: \"b\", size S: nothing says how many rows; write the rows of a size that is not "
        "shaped\n"
        "pieces.csv:4:41: error: \"c\": 2 stitches every 5 rows: 50 rows shape 10 times, from 60 to 40, and "
        "end_stitches says "
        "60; write 0 stitches for a size that is not shaped\n"
        "pieces.csv:5:41: error: \"d\": 2 stitches every 5 rows: 50 rows shape 10 times, from 60 to 80, and "
        "end_stitches says "
        "60; write 0 stitches for a size that is not shaped\n"
        "pieces.csv:7:39: error: \"f\": 1 stitch every 5 rows: it says dec, and from 40 to 60 it widens; write inc, or "
        "other "
        "end_stitches\n"
        "pieces.csv:8:52: error: \"h\", size L: 2 stitches every 5 rows: 50 rows shape 10 times, from 60 to 40, and "
        "end_stitches says 42; write 45 rows for 9 times\n"
        "pieces.csv:9:39: error: \"i\": " MUCH "pieces.csv:10:39: error: \"j\": " MUCH
        "pieces.csv:11:39: error: \"k\": " MUCH "pieces.csv:12:32: error: \"l\", size M: nothing says how many rows; "
        "write the rows of a size that is not shaped\n"
        "pieces.csv:13:57: error: \"m\", size M: 2 stitches every 5 rows: 45 rows shape 9 times, from 60 to 42, and "
        "end_stitches says 40; write 50 rows for 10 times\n"
        "pieces.csv:13:57: error: \"m\", size L: 2 stitches every 5 rows: 45 rows shape 9 times, from 60 to 42, and "
        "end_stitches says 44; write 40 rows for 8 times\n"
        "pieces.csv:14:42: error: \"n\", size L: 2 stitches every 4 rows: 45 rows shape 11 times, from 60 to 38, and "
        "end_stitches says 42; write 36 rows for 9 times\n"
        "pieces.csv:15:42: error: \"o\", size L: 2 stitches every 5 and 7 rows: 45 rows shape 7 times, from 60 to 46, "
        "and end_stitches says 44; write 48 rows for 8 times\n"
        "pieces.csv:16:42: error: \"p\", size L: 4 stitches every 5 rows: from 60 to 42 are 18 stitches, no multiple "
        "of 4; end on 44 or 40\n"
        "pieces.csv:17:52: error: \"q\", size L: 2 stitches every 5 rows: 50 rows shape 10 times, from 60 to 40, and "
        "end_stitches says 42; write 45 rows for 9 times\n"
        "pieces.csv:19:43: error: \"r\", part \"body\", size S: 2 stitches every 5 rows: 50 rows shape 10 times, from "
        "60 to 40, and end_stitches says 42; write 45 rows for 9 times\n"
        "pieces.csv:19:43: error: \"r\", part \"body\", size M: 2 stitches every 5 rows: 50 rows shape 10 times, from "
        "60 to 40, and end_stitches says 42; write 45 rows for 9 times\n"
        "pieces.csv:19:43: error: \"r\", part \"body\", size L: 2 stitches every 5 rows: 50 rows shape 10 times, from "
        "60 to 40, and end_stitches says 42; write 45 rows for 9 times\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_yoke_divides_into_body_and_sleeves),
        cmocka_unit_test(more_taken_than_there_is_shows_the_sum),
        cmocka_unit_test(a_body_that_does_not_follow_shows_the_sum),
        cmocka_unit_test(what_nothing_takes_is_noted),
        cmocka_unit_test(copies_are_counted_together),
        cmocka_unit_test(a_rest_that_cannot_be_is_an_error),
        cmocka_unit_test(a_band_follows_its_front),
        cmocka_unit_test(row_ends_are_rounded_to_what_fits),
        cmocka_unit_test(other_edges),
        cmocka_unit_test(a_turning_chain_is_no_edge),
        cmocka_unit_test(a_circle_is_shown),
        cmocka_unit_test(mistakes_of_the_cell_are_reported_in_one_run),
        cmocka_unit_test(progress_goes_by_the_order_of_the_file),
        cmocka_unit_test(a_line_stands_on_a_written_piece),
        cmocka_unit_test(a_sleeve_narrows_every_fifth_row),
        cmocka_unit_test(rows_follow_from_both_ends),
        cmocka_unit_test(knitting_narrows_by_its_own_stitches),
        cmocka_unit_test(lengths_are_met_by_whole_steps),
        cmocka_unit_test(shaping_that_does_not_agree_shows_what_follows),
        cmocka_unit_test(mistakes_of_every_are_reported_in_one_run),
        cmocka_unit_test(each_form_of_on_counts),
        cmocka_unit_test(forms_of_on_that_are_none),
        cmocka_unit_test(many_names_that_are_none),
        cmocka_unit_test(cells_wait_for_the_sizes),
        cmocka_unit_test(sizes_that_a_source_does_without),
        cmocka_unit_test(many_that_take_are_summed_up),
        cmocka_unit_test(more_than_can_be_counted),
        cmocka_unit_test(foundations_of_rounds_and_edges),
        cmocka_unit_test(what_is_stated_of_a_band_is_compared_with_what_fits),
        cmocka_unit_test(rows_of_some_sizes),
        cmocka_unit_test(swatches_without_a_gauge),
        cmocka_unit_test(lengths_that_no_width_meets),
        cmocka_unit_test(each_form_of_every_shapes),
        cmocka_unit_test(forms_of_every_that_are_none),
        cmocka_unit_test(sizes_that_shaping_does_not_report),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
