/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Outlines of pieces: corners calculated by hand as counts over the gauge. The gauges are 20 stitches x 25 rows in
 * 10 cm, so that a stitch is 0.5 cm wide and a row 0.4 cm high, unless a case has others. Lengths are in cm.
 */
#include "folder.h"
#include "proofed.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define TEXT_MOST 8192
#define PIECES "piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start,on,every,shaping\n"

static const double pi = 3.14159265358979323846;

static const char fabrics[] = "fabric,row,make\n"
                              "open,1,*sc 1*\n"
                              "widening,1,\"tch 1, 2 sc in 1, *sc 1*\"\n"
                              "oblong,set-up,\"(2 sc, ch 2, 6 sc, ch 2) 2 times in ring, join\"\n"
                              "oblong,1,\"*sc 1*, (sc 1, ch 2, sc 1) in ch-2 sp, "
                              "(sc 1, *sc 1*, (sc 1, ch 2, sc 1) in ch-2 sp) 3 times, join\"\n"
                              "fan,set-up,\"3 dc in ring, turn\"\n"
                              "fan,1,\"tch 1, *2 sc in 1*, turn\"\n"
                              "crown,1,\"*sc 6, sc2tog 1*\"\ncrown,2,\"*sc 5, sc2tog 1*\"\n"
                              "crown,3,\"*sc 4, sc2tog 1*\"\ncrown,4,\"*sc 3, sc2tog 1*\"\n"
                              "crown,5,\"*sc 2, sc2tog 1*\"\ncrown,6,\"*sc 1, sc2tog 1*\"\ncrown,7,*sc2tog 1*\n"
                              "one loop,1,*BLO sc 1*\nposts,1,*FPsc 1*\nskips,1,\"*sk 1, 2 sc in 1*\"\n"
                              "mixed,1,\"*sc 1, hdc 1*\"\n"
                              "ruffle,set-up,\"6 sc in ring\"\n"
                              "ruffle,1,\"*2 sc in 1*\"\n"
                              "cone,set-up,\"3 sc in ring\"\n"
                              "cone,1,\"(2 sc in 1, *sc 1*) 3 times\"\n"
                              "odd,set-up,\"ch 3 (counts as dc), 11 dc in ring, join\"\n"
                              "odd,1,\"ch 2, dc in first st, *dc 1*, join (13 sts)\"\n";
static const char swatches[] = "swatch,yarn,tool,fabric,stitches,rows,gauge,start\n"
                               "flat,main,4 mm,single crochet,20,20,20 x 25,\n"
                               "rib,main,4 mm,back loop rib,20,20,16 x 25,\n"
                               "tube,main,4 mm,single crochet in a spiral,40,20,20 x 25,\n"
                               "round rib,main,4 mm,single crochet in joined rounds,40,20,20 x 25,\n"
                               "open,main,4 mm,open,20,20,20 x 25,\n"
                               "widening,main,4 mm,widening,20,5,20 x 25,\n"
                               "disc,main,4 mm,single crochet circle,,5,20 x 20,ring\n"
                               "hexagon,main,4 mm,hexagon,,5,20 x 10,ring\n"
                               "square,main,4 mm,solid granny square,,5,20 x 10,ring\n"
                               "treble,main,4 mm,granny square,,5,16 x 20,ring\n"
                               "oblong,main,4 mm,oblong,,5,20 x 20,ring\n"
                               "fan,main,4 mm,fan,,4,20 x 20,ring\n"
                               "ruffle,main,4 mm,ruffle,,4,20 x 20,ring\n"
                               "cone,main,4 mm,cone,,4,20 x 20,ring\n"
                               "odd,main,4 mm,odd,,2,20 x 20,ring\n";

static const char written_swatches[] = "swatch,yarn,tool,fabric,stitches,rows,gauge\n"
                                       "body,main,5 mm,single crochet,20,20,16 x 20\n"
                                       "ring,main,5 mm,single crochet in a spiral,40,20,20 x 20\n"
                                       "motif,main,5 mm,double crochet in joined rounds,40,20,20 x 10\n"
                                       "plain,main,5 mm,stockinette,20,20,18 x 25\n"
                                       "tube,main,5 mm,stockinette in rounds,40,20,18 x 25\n";

/* ---- Drawings as text ------------------------------------------------------------------------------------------- */

struct text {
    char text[TEXT_MOST];
    size_t at;
};

HK_PRINTF(2, 3) static void put(struct text *text, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = vsnprintf(text->text + text->at, sizeof text->text - text->at, format, args);
    va_end(args);
    assert_true(length >= 0 && text->at + (size_t)length < sizeof text->text);
    text->at += (size_t)length;
}

static const char *cm(double length_m)
{
    static char text[8][40];
    static unsigned next;
    char *to = text[next++ % 8];
    double rounded = round(1e5 * length_m) / 1e3;
    snprintf(to, sizeof text[0], "%.5g", rounded == 0 ? 0 : rounded);
    return to;
}

static void put_point(struct text *text, struct hk_schematic_point point)
{
    put(text, " %s,%s", cm(point.x_m), cm(point.y_m));
}

/* "back M x1 flat: -10,0 10,0 ...", then a line for each measure: "  width 40: 20 from -10,0 to 10,0". */
static void put_piece(struct text *text, const struct hk_project *project, const struct hk_schematic_piece *piece)
{
    static const char *const outlines[] = {"unknown", "flat", "tube", "disc", "polygon"};
    static const char *const measured[] = {"width", "round", "height", "radius", "side", "apothem"};
    put(text, "%s%s%s %s x%" PRId64 " %s:", piece->piece, *piece->part ? ", " : "", piece->part,
        hk_project_size(project, piece->size), piece->copies, outlines[piece->outline]);
    if (piece->outline == HK_OUTLINE_UNKNOWN)
        put(text, " %s", piece->why);
    if (piece->radius_m > 0)
        put(text, " radius %s", cm(piece->radius_m));
    for (size_t i = 0; i < piece->point_count; i++)
        put_point(text, piece->points[i]);
    put(text, "\n");
    for (size_t i = 0; i < piece->measure_count; i++) {
        const struct hk_schematic_measure *measure = &piece->measures[i];
        assert_int_equal(measure->rows, measure->measured == HK_MEASURED_HEIGHT ||
                                            measure->measured == HK_MEASURED_RADIUS ||
                                            measure->measured == HK_MEASURED_APOTHEM);
        put(text, "  %s %" PRId64 ": %s from", measured[measure->measured], measure->count, cm(measure->length_m));
        put_point(text, measure->from);
        put(text, " to");
        put_point(text, measure->to);
        put(text, "\n");
    }
}

static void draw(const struct hk_tally *tally, size_t size, struct text *text)
{
    struct hk_diags diags = {0};
    struct hk_schematic *schematic = hk_schematic_make(tally, size, &diags);
    assert_non_null(schematic);
    assert_findings(&diags, "");
    text->at = 0;
    text->text[0] = '\0';
    for (size_t i = 0; i < schematic->piece_count; i++)
        put_piece(text, tally->project, &schematic->pieces[i]);
    hk_schematic_free(schematic);
}

/* Draws the project with this file, which replaces the outlines of *text. */
static void draw_file(const struct hk_catalogue *catalogue, const char *name, const char *file, size_t size,
                      struct text *text)
{
    struct hk_diags diags = {0};
    bool written = strcmp(name, "pattern.txt") == 0;
    const struct memory_file files[] = {{"project.csv", PROJECT, 0},
                                        {"yarns.csv", YARN, 0},
                                        {"swatches.csv", written ? written_swatches : swatches, 0},
                                        {name, file, 0},
                                        {written ? NULL : "fabrics.csv", fabrics, 0},
                                        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    struct hk_tally *tally = project ? hk_tally_count(project, &diags) : NULL;
    if (!tally) {
        char *findings = findings_text(&diags);
        print_error("%s", findings);
        free(findings);
    }
    assert_non_null(tally);
    hk_diags_free(&diags);
    draw(tally, size, text);
    hk_tally_free(tally);
    hk_project_free(project);
}

static void assert_drawn_at(const struct hk_catalogue *catalogue, const char *name, const char *text, size_t size,
                            const char *expected, const char *file, int line)
{
    static struct text drawn;
    draw_file(catalogue, name, text, size, &drawn);
    if (strcmp(drawn.text, expected) != 0)
        print_error("%s:%d: drawn:\n%s", file, line, drawn.text);
    assert_string_equal(drawn.text, expected);
}
#define assert_drawn_in(size, lines, expected)                                                                         \
    assert_drawn_at(*state, "pieces.csv", PIECES lines, (size), (expected), __FILE__, __LINE__)
#define assert_drawn(lines, expected) assert_drawn_in(1, lines, (expected))
#define assert_sizes(lines, expected) assert_drawn_in(HK_NO_SIZE, lines, (expected))
/* The outline of the piece "it" is not drawn, for this reason. */
#define assert_not_drawn(line, why) assert_drawn("it," line "\n", "it M x1 unknown: " why "\n")

#define assert_text_drawn(pattern, expected)                                                                           \
    assert_drawn_at(*state, "pattern.txt", (pattern), 1, (expected), __FILE__, __LINE__)
#define assert_text_not_drawn(pattern, why) assert_text_drawn("# It\n" pattern, "It M x1 unknown: " why "\n")

/* ---- Rows of pieces.csv ------------------------------------------------------------------------------------------ */

/* 40 stitches are 20 cm, 50 rows are 20 cm; a size without the piece has no outline. */
static void test_rectangle(void **state)
{
    assert_drawn("strip,,single crochet,main,4 mm,40,50,,3,,,,\n", "strip M x3 flat: -10,0 10,0 10,20 -10,20\n"
                                                                   "  width 40: 20 from -10,0 to 10,0\n"
                                                                   "  height 50: 20 from 10,0 to 10,20\n");
    assert_sizes("strip,,single crochet,main,4 mm,\"20 (-, 40)\",50,,,,,,\n",
                 "strip S x1 flat: -5,0 5,0 5,20 -5,20\n"
                 "  width 20: 10 from -5,0 to 5,0\n"
                 "  height 50: 20 from 5,0 to 5,20\n"
                 "strip L x1 flat: -10,0 10,0 10,20 -10,20\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 50: 20 from 10,0 to 10,20\n");
}

/* A length is drawn as it is worked: 10.2 cm are 20.4, so 20 stitches; 9.9 cm are 24.75, so 25 rows. */
static void test_lengths(void **state)
{
    assert_drawn("strip,,single crochet,main,4 mm,10.2 cm,9.9 cm,,,,,,\n", "strip M x1 flat: -5,0 5,0 5,10 -5,10\n"
                                                                           "  width 20: 10 from -5,0 to 5,0\n"
                                                                           "  height 25: 10 from 5,0 to 5,10\n");
}

static void test_taper(void **state)
{
    /* Even: 40 to 60 stitches in 50 rows. */
    assert_drawn("sleeve,,single crochet,main,4 mm,40,50,60,2,,,,\n", "sleeve M x2 flat: -10,0 10,0 15,20 -15,20\n"
                                                                      "  width 40: 20 from -10,0 to 10,0\n"
                                                                      "  height 50: 20 from 15,0 to 15,20\n"
                                                                      "  width 60: 30 from -15,20 to 15,20\n");
    /* In rows 6, 12, ... 72: 12 times 2 stitches more, and the last 3 rows stay within one step of the line. */
    assert_drawn("sleeve,,single crochet,main,4 mm,40,75,,2,,,inc 2 sts every 6 rows,\n",
                 "sleeve M x2 flat: -10,0 10,0 16,30 -16,30\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 75: 30 from 16,0 to 16,30\n"
                 "  width 64: 32 from -16,30 to 16,30\n");
    /* In rows 2, 4, ... 20: 20 stitches fewer, then 30 rows without: a corner where the shaping ends. */
    assert_drawn("cap,,single crochet,main,4 mm,60,20,40,,,,,\ncap,,single crochet,main,4 mm,,30,,,,,,\n",
                 "cap M x1 flat: -15,0 15,0 10,8 10,20 -10,20 -10,8\n"
                 "  width 60: 30 from -15,0 to 15,0\n"
                 "  height 20: 8 from 15,0 to 15,8\n"
                 "  width 40: 20 from -10,8 to 10,8\n"
                 "  height 30: 12 from 15,8 to 15,20\n"
                 "  height 50: 20 from 15,0 to 15,20\n");
    /* At its one end a front loses 10 stitches, 5 cm; the other edge is straight. */
    assert_drawn("front,body,single crochet,main,4 mm,40,40,,2,,,,\n"
                 "front,neck,single crochet,main,4 mm,,10,30,2,,,,one end\n",
                 "front M x2 flat: -10,0 10,0 10,16 5,20 -10,20\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 40: 16 from 10,0 to 10,16\n"
                 "  height 10: 4 from 10,16 to 10,20\n"
                 "  width 30: 15 from -10,20 to 5,20\n"
                 "  height 50: 20 from 10,0 to 10,20\n");
    /* 8 stitches a row, at both ends as the column says. */
    assert_drawn("wedge,,single crochet,main,4 mm,16,4,40,,,,,both ends\n", "wedge M x1 flat: -4,0 4,0 10,1.6 -10,1.6\n"
                                                                            "  width 16: 8 from -4,0 to 4,0\n"
                                                                            "  height 4: 1.6 from 10,0 to 10,1.6\n"
                                                                            "  width 40: 20 from -10,1.6 to 10,1.6\n");
    /* 2 stitches at each end of every 5th row, 10 times: 40 to 80. */
    assert_drawn("wedge,,single crochet,main,4 mm,40,50,,,,,inc 2 sts each end every 5 rows,\n",
                 "wedge M x1 flat: -10,0 10,0 20,20 -20,20\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 50: 20 from 20,0 to 20,20\n"
                 "  width 80: 40 from -20,20 to 20,20\n");
    /* A fabric that shapes by itself, with the place of it stated: 20, 21, ... 29. */
    assert_drawn("corner,,widening,main,4 mm,20,10,,,,,,one end\n", "corner M x1 flat: -5,0 5,0 9.5,4 -5,4\n"
                                                                    "  width 20: 10 from -5,0 to 5,0\n"
                                                                    "  height 10: 4 from 9.5,0 to 9.5,4\n"
                                                                    "  width 29: 14.5 from -5,4 to 9.5,4\n");
}

/*
 * A raglan piece in rows: 40 cm wide and 20 cm high to the armhole; then 24 times 2 stitches fewer, in every other of
 * 48 rows: 16 cm at the neck, and 19.2 cm higher.
 */
static void test_raglan(void **state)
{
    assert_drawn("back,body,single crochet,main,4 mm,80,50,,,,,,\n"
                 "back,raglan,single crochet,main,4 mm,,,32,,,,dec 2 sts every other row,\n",
                 "back M x1 flat: -20,0 20,0 20,20 8,39.2 -8,39.2 -20,20\n"
                 "  width 80: 40 from -20,0 to 20,0\n"
                 "  height 50: 20 from 20,0 to 20,20\n"
                 "  height 48: 19.2 from 20,20 to 20,39.2\n"
                 "  width 32: 16 from -8,39.2 to 8,39.2\n"
                 "  height 98: 39.2 from 20,0 to 20,39.2\n");
}

/* The same 48 stitches are 30 cm at 16 in 10 cm, and 24 cm at 20. */
static void test_gauges(void **state)
{
    assert_drawn("back,rib,back loop rib,main,4 mm,48,10,,,,,,\nback,body,single crochet,main,4 mm,,20,,,,,,\n",
                 "back M x1 flat: -15,0 15,0 15,4 12,4 12,12 -12,12 -12,4 -15,4\n"
                 "  width 48: 30 from -15,0 to 15,0\n"
                 "  height 10: 4 from 15,0 to 15,4\n"
                 "  width 48: 24 from -12,4 to 12,4\n"
                 "  height 20: 8 from 15,4 to 15,12\n"
                 "  height 30: 12 from 15,0 to 15,12\n");
}

/* A piece of two halves has two outlines; seams, and a band along an edge, none; a deep part on an edge has one. */
static void test_parts(void **state)
{
    assert_drawn("bag,lower half,single crochet,main,4 mm,40,50,,,chain,,,\n"
                 "bag,upper half,single crochet,main,4 mm,40,50,,,chain,,,\n"
                 "bag,band,single crochet,main,4 mm,100,4,,,edge,,,\n"
                 "bag,flap,single crochet,main,4 mm,40,20,,,edge,,,\n"
                 "bag,seam,slip stitch seam,main,4 mm,50,1,,2,edge,,,\n"
                 "bag,sewn seam,whip stitch seam,main,4 mm,50,1,,2,edge,,,\n",
                 "bag, lower half M x1 flat: -10,0 10,0 10,20 -10,20\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 50: 20 from 10,0 to 10,20\n"
                 "bag, upper half M x1 flat: -10,0 10,0 10,20 -10,20\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 50: 20 from 10,0 to 10,20\n"
                 "bag, flap M x1 flat: -10,0 10,0 10,8 -10,8\n"
                 "  width 40: 20 from -10,0 to 10,0\n"
                 "  height 20: 8 from 10,0 to 10,8\n");
    assert_drawn("band,,single crochet,main,4 mm,200,4,,,edge,,,\nseams,,slip stitch seam,main,4 mm,50,1,,,edge,,,\n",
                 "band M x1 flat: -50,0 50,0 50,1.6 -50,1.6\n"
                 "  width 200: 100 from -50,0 to 50,0\n"
                 "  height 4: 1.6 from 50,0 to 50,1.6\n");
    assert_drawn("back,body,single crochet,main,4 mm,60,50,,,,,,\n"
                 "back,left shoulder,single crochet,main,4 mm,,10,,,,20 of back/body,,\n"
                 "back,right shoulder,single crochet,main,4 mm,,10,,,,20 of back/body,,\n",
                 "back, body M x1 flat: -15,0 15,0 15,20 -15,20\n"
                 "  width 60: 30 from -15,0 to 15,0\n"
                 "  height 50: 20 from 15,0 to 15,20\n"
                 "back, left shoulder M x1 flat: -5,0 5,0 5,4 -5,4\n"
                 "  width 20: 10 from -5,0 to 5,0\n"
                 "  height 10: 4 from 5,0 to 5,4\n"
                 "back, right shoulder M x1 flat: -5,0 5,0 5,4 -5,4\n"
                 "  width 20: 10 from -5,0 to 5,0\n"
                 "  height 10: 4 from 5,0 to 5,4\n");
}

/* ---- Rounds of pieces.csv ---------------------------------------------------------------------------------------- */

/* A tube is laid flat: 96 stitches are 48 cm around, 24 cm across. A crown of 8 stitches is 2 cm across. */
static void test_tube(void **state)
{
    assert_drawn("hat,sides,single crochet in a spiral,main,4 mm,96,30,,,,,,\n"
                 "hat,crown,single crochet in a spiral,main,4 mm,,20,8,,,,,\n",
                 "hat M x1 tube: -12,0 12,0 12,12 1,20 -1,20 -12,12\n"
                 "  round 96: 48 from -12,0 to 12,0\n"
                 "  height 30: 12 from 12,0 to 12,12\n"
                 "  height 20: 8 from 12,12 to 12,20\n"
                 "  round 8: 4 from -1,20 to 1,20\n"
                 "  height 50: 20 from 12,0 to 12,20\n");
    assert_drawn("sleeve,,single crochet in a spiral,main,4 mm,40,75,60,2,,,,\n",
                 "sleeve M x2 tube: -5,0 5,0 7.5,30 -7.5,30\n"
                 "  round 40: 20 from -5,0 to 5,0\n"
                 "  height 75: 30 from 7.5,0 to 7.5,30\n"
                 "  round 60: 30 from -7.5,30 to 7.5,30\n");
    /* From a ring: 6 rounds of a circle (36 stitches, 18 cm around, 3 cm high), then even, then to 6 stitches. */
    assert_drawn("ball,grows,single crochet circle,main,4 mm,,6,,,ring,,,\n"
                 "ball,sides,single crochet in a spiral,main,4 mm,,10,,,,,,\n"
                 "ball,ends,single crochet in a spiral,main,4 mm,,6,6,,,,,\n",
                 "ball M x1 tube: 0,0 4.5,3 4.5,7 0.75,9.4 -0.75,9.4 -4.5,7 -4.5,3\n"
                 "  height 6: 3 from 4.5,0 to 4.5,3\n"
                 "  round 36: 18 from -4.5,3 to 4.5,3\n"
                 "  height 10: 4 from 4.5,3 to 4.5,7\n"
                 "  height 6: 2.4 from 4.5,7 to 4.5,9.4\n"
                 "  round 6: 3 from -0.75,9.4 to 0.75,9.4\n"
                 "  height 22: 9.4 from 4.5,0 to 4.5,9.4\n");
    /* 3 stitches more a round make a cone: 30 stitches are 15 cm, not the 31 cm around a disc of 10 rounds. */
    assert_drawn("cone,,cone,main,4 mm,,10,,,ring,,,\n", "cone M x1 tube: 0,0 3.75,5 -3.75,5\n"
                                                         "  height 10: 5 from 3.75,0 to 3.75,5\n"
                                                         "  round 30: 15 from -3.75,5 to 3.75,5\n");
    /* A yoke is not a tube, and the body on its stitches is: 96 + 2 x 8 are 112 stitches, 56 cm around. */
    assert_drawn("yoke,,single crochet in a spiral,main,4 mm,80,20,160,,,,,\n"
                 "body,,single crochet in a spiral,main,4 mm,,30,,,,96 of yoke + 2 x 8 ch,,\n",
                 "yoke M x1 unknown: a yoke in rounds: its counts alone do not give its shape\n"
                 "body M x1 tube: -14,0 14,0 14,12 -14,12\n"
                 "  round 112: 56 from -14,0 to 14,0\n"
                 "  height 30: 12 from 14,0 to 14,12\n");
    /* A deep part on an edge: a tube; a low one is an edging. */
    assert_drawn("cap,band,back loop rib,main,4 mm,8,100,,,,,,\n"
                 "cap,sides,single crochet in a spiral,main,4 mm,100,30,,,edge,,,\n",
                 "cap, band M x1 flat: -2.5,0 2.5,0 2.5,40 -2.5,40\n"
                 "  width 8: 5 from -2.5,0 to 2.5,0\n"
                 "  height 100: 40 from 2.5,0 to 2.5,40\n"
                 "cap, sides M x1 tube: -12.5,0 12.5,0 12.5,12 -12.5,12\n"
                 "  round 100: 50 from -12.5,0 to 12.5,0\n"
                 "  height 30: 12 from 12.5,0 to 12.5,12\n");
}

/*
 * 6 stitches more a round of a square gauge lie flat (common practice, no source): 60 stitches of 0.5 cm around a
 * radius of 10 rounds of 0.5 cm; a circle of 5 cm is 31.4 cm around.
 */
static void test_disc(void **state)
{
    assert_close(2 * pi * 5, 30, 0.05, 0);
    assert_drawn("disc,,single crochet circle,main,4 mm,,10,,,ring,,,\n", "disc M x1 disc: radius 5\n"
                                                                          "  radius 10: 5 from 0,0 to 5,0\n"
                                                                          "  round 60: 30 from 0,5 to 0,5\n");
    /* With an even round at its edge. */
    assert_drawn("disc,,single crochet circle,main,4 mm,,10,,,ring,,,\n"
                 "disc,edge,single crochet in a spiral,main,4 mm,,1,,,,,,\n",
                 "disc M x1 disc: radius 5.4\n"
                 "  radius 11: 5.4 from 0,0 to 5.4,0\n"
                 "  round 60: 30 from 0,5.4 to 0,5.4\n");
}

/*
 * Sides of regular polygons, from memory of any handbook of geometry: a hexagon's corners are as far from its centre as
 * from each other, and its apothem is sqrt 3 / 2 of a side; a square's is half a side.
 *
 * Round r of the hexagon has 2 r stitches and 1 chain a side: 11 in round 5, 5.5 cm at 20 stitches in 10 cm. Round r of
 * the square has 4 r - 1 stitches and 2 chains: 21 in round 5, 10.5 cm.
 */
static void test_polygon(void **state)
{
    assert_close(5.5 * sqrt(3) / 2, 4.763, 1e-4, 0);
    assert_drawn("hexagon,,hexagon,main,4 mm,,5,,4,ring,,,\n",
                 "hexagon M x4 polygon: radius 5.5 -2.75,-4.763 2.75,-4.763 5.5,0 2.75,4.763 -2.75,4.763 -5.5,0\n"
                 "  side 11: 5.5 from -2.75,-4.763 to 2.75,-4.763\n"
                 "  apothem 5: 4.763 from 0,0 to 0,-4.763\n");
    assert_drawn("square,,solid granny square,main,4 mm,,5,,,ring,,,\n",
                 "square M x1 polygon: radius 7.425 -5.25,-5.25 5.25,-5.25 5.25,5.25 -5.25,5.25\n"
                 "  side 21: 10.5 from -5.25,-5.25 to 5.25,-5.25\n"
                 "  apothem 5: 5.25 from 0,0 to 0,-5.25\n");
}

/* ---- What is not drawn ------------------------------------------------------------------------------------------- */

static void test_not_drawn(void **state)
{
    assert_not_drawn(",double crochet,main,4 mm,40,50,,,,,,", "no swatch of \"double crochet\" has a gauge");
    assert_not_drawn(",open,main,4 mm,40,50,,,,,,",
                     "its fabric does not say whether it is worked in rows or in rounds");
    assert_not_drawn(",fan,main,4 mm,,4,,,ring,,,",
                     "it is worked in rows from a ring, and the counts alone do not give its shape");
    assert_not_drawn(",widening,main,4 mm,20,10,,,,,,",
                     "\"widening\" changes the number of stitches, and the counts alone do not say where");
    assert_not_drawn(",single crochet,main,4 mm,80,20,160,,,,,within",
                     "it is shaped within its rows, and the counts alone do not give its shape");
    assert_not_drawn(",single crochet,main,4 mm,80,20,160,,,,,",
                     "some of its rows change by 5 stitches, and the column shaping of pieces.csv does not say where");
    assert_not_drawn(",single crochet in a spiral,main,4 mm,80,20,160,,,,,",
                     "a yoke in rounds: its counts alone do not give its shape");
    assert_not_drawn(",single crochet in a spiral,main,4 mm,100,4,,,edge,,,",
                     "it is worked in rounds along an edge, which gives its shape");
    assert_not_drawn(",ruffle,main,4 mm,,5,,,ring,,,",
                     "its rounds grow faster than a flat circle, so the counts alone do not give its shape");
    assert_not_drawn(",granny square,main,4 mm,,5,,,ring,,,", "its sides and its rounds do not make a flat motif");
    assert_not_drawn(",odd,main,4 mm,,2,,,ring,,,",
                     "its rounds agree with their stated counts in an unusual reading only");
    assert_not_drawn(",oblong,main,4 mm,,3,,,ring,,,",
                     "its corners do not make equal sides, so the counts alone do not give its shape");
    assert_not_drawn(",hexagon,main,4 mm,,3,,,ring,,,\nit,edging,single crochet in joined rounds,main,4 mm,,1,,,,,,",
                     "its first rounds have corners and its last have not, so the counts alone do not give its shape");
    assert_not_drawn("a,single crochet,main,4 mm,40,50,,,,,,\nit,b,single crochet,main,4 mm,,50,,2,,,,",
                     "its parts are not worked equally often, so their places on each other are not known");
    assert_not_drawn("a,single crochet,main,4 mm,40,50,,,,,,\nit,b,single crochet in a spiral,main,4 mm,,50,,,,,,",
                     "it is worked partly in rows and partly in rounds");
    assert_drawn("it,,single crochet,main,4 mm,80,20,100,,,,,\nbody,,single crochet,main,4 mm,,20,,,,60 of it,,\n"
                 "sleeves,,single crochet,main,4 mm,,20,,2,,20 of it,,\n",
                 "it M x1 unknown: other parts take its stitches apart, so the counts alone do not say where its rows "
                 "are shaped\n"
                 "body M x1 flat: -15,0 15,0 15,8 -15,8\n"
                 "  width 60: 30 from -15,0 to 15,0\n"
                 "  height 20: 8 from 15,0 to 15,8\n"
                 "sleeves M x2 flat: -5,0 5,0 5,8 -5,8\n"
                 "  width 20: 10 from -5,0 to 5,0\n"
                 "  height 20: 8 from 5,0 to 5,8\n");
}

/* ---- Measures in all sizes -------------------------------------------------------------------------------------- */

/* "A stitches start body0: 0=40 1=42 2=44", size by size, a line for each letter of the outline; then its points. */
static void put_measures(struct text *text, const struct hk_schematic *schematic, size_t pieces)
{
    static const char *const places[] = {"whole", "start", "within", "part", "end"};
    text->at = 0;
    for (size_t letter = 0, seen = 1; seen > 0; letter++) {
        seen = 0;
        for (size_t i = 0; i < pieces; i++) {
            const struct hk_schematic_piece *piece = &schematic->pieces[i];
            for (size_t m = 0; m < piece->measure_count; m++) {
                const struct hk_schematic_measure *measure = &piece->measures[m];
                if (measure->letter != letter)
                    continue;
                if (seen++ == 0)
                    put(text, "%c %s %s %s%zu:", (int)('A' + letter), measure->rows ? "rows" : "stitches",
                        places[measure->at], measure->part, measure->nth);
                put(text, " %zu=%" PRId64, piece->size, measure->count);
            }
        }
        if (seen > 0)
            put(text, "\n");
    }
    put(text, "points:");
    for (size_t i = 0; i < pieces; i++)
        put(text, " %zu", schematic->pieces[i].point_count);
}

static void assert_measures_at(const struct hk_catalogue *catalogue, const char *pieces, const char *expected,
                               size_t size)
{
    static struct text text;
    struct hk_diags diags = {0};
    const struct memory_file files[] = {{"project.csv", PROJECT, 0},   {"yarns.csv", YARN, 0},
                                        {"swatches.csv", swatches, 0}, {"pieces.csv", pieces, 0},
                                        {"fabrics.csv", fabrics, 0},   {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    struct hk_tally *tally = hk_tally_count(project, &diags);
    struct hk_schematic *schematic = hk_schematic_make(tally, size, &diags);
    assert_non_null(schematic);
    put_measures(&text, schematic, schematic->piece_count);
    assert_string_equal(text.text, expected);
    hk_schematic_free(schematic);
    hk_tally_free(tally);
    hk_project_free(project);
    hk_diags_free(&diags);
}

/*
 * A letter is the same measure in every size: the taper of one size, a part that one size is without, a part that is
 * shaped in one size alone.
 */
static void test_measures(void **state)
{
    static const char body[] = PIECES "back,body,single crochet,main,4 mm,\"40 (40, 44)\",\"10 (12, 14)\",,,,,,\n"
                                      "back,yoke,single crochet,main,4 mm,,\"8 (-, 8)\",\"40 (-, 38)\",,,,,\n";
    assert_measures_at(*state, body,
                       "A stitches start body0: 0=40 1=40 2=44\n"
                       "B rows part body0: 0=10 1=12 2=14\n"
                       "C rows part yoke0: 0=8 2=8\n"
                       "D stitches end yoke0: 0=40 2=38\n"
                       "E rows whole 0: 0=18 1=12 2=22\n"
                       "points: 4 4 6",
                       HK_NO_SIZE);
    /* One size alone has the letters of all. */
    assert_measures_at(*state, body,
                       "A stitches start body0: 2=44\n"
                       "B rows part body0: 2=14\n"
                       "C rows part yoke0: 2=8\n"
                       "D stitches end yoke0: 2=38\n"
                       "E rows whole 0: 2=22\n"
                       "points: 6",
                       2);
    /* 33 stitches more in 46 rows have a corner that the other sizes have not: it is drawn and not measured. */
    assert_measures_at(*state,
                       PIECES "it,,single crochet,main,4 mm,\"36 (36, 45)\",\"45 (45, 46)\",\"54 (57, 78)\",,,,,\n",
                       "A stitches start 0: 0=36 1=36 2=45\n"
                       "B rows part 0: 0=45 1=45 2=46\n"
                       "C stitches end 0: 0=54 1=57 2=78\n"
                       "points: 4 4 6",
                       HK_NO_SIZE);
}

/*
 * A fabric without a gauge is drawn by a swatch of its stitch: a crown of single crochet and its decreases, 40 to 5
 * stitches of 0.5 cm around, 7 rounds of 0.4 cm. Stitches of one loop have a gauge of their own, as have another tool,
 * posts, and fabrics that skip or mix.
 */
static void test_gauge_of_stitch(void **state)
{
    assert_drawn("it,sides,single crochet in a spiral,main,4 mm,40,10,,,,,,\nit,crown,crown,main,4 mm,,7,,,,,,\n",
                 "it M x1 tube: -5,0 5,0 5,4 0.625,6.8 -0.625,6.8 -5,4\n"
                 "  round 40: 20 from -5,0 to 5,0\n"
                 "  height 10: 4 from 5,0 to 5,4\n"
                 "  height 7: 2.8 from 5,4 to 5,6.8\n"
                 "  round 5: 2.5 from -0.625,6.8 to 0.625,6.8\n"
                 "  height 17: 6.8 from 5,0 to 5,6.8\n");
    assert_not_drawn(",crown,main,5 mm,35,5,,,,,,", "no swatch of \"crown\" has a gauge");
    assert_not_drawn(",one loop,main,4 mm,40,5,,,,,,", "no swatch of \"one loop\" has a gauge");
    assert_not_drawn(",posts,main,4 mm,40,5,,,,,,", "no swatch of \"posts\" has a gauge");
    assert_not_drawn(",skips,main,4 mm,40,5,,,,,,", "no swatch of \"skips\" has a gauge");
    assert_not_drawn(",mixed,main,4 mm,40,5,,,,,,", "no swatch of \"mixed\" has a gauge");
    /* A part without a gauge does not take the outline of the others: it has one of its own. */
    assert_drawn("hat,sides,single crochet in a spiral,main,4 mm,40,10,,,,,,\nhat,edging,posts,main,4 mm,,2,,,,,,\n",
                 "hat, sides M x1 tube: -5,0 5,0 5,4 -5,4\n"
                 "  round 40: 20 from -5,0 to 5,0\n"
                 "  height 10: 4 from 5,0 to 5,4\n"
                 "hat, edging M x1 unknown: no swatch of \"posts\" has a gauge\n");
}

/* Cells of the column that cannot be meant. */
static void test_shaping_column(void **state)
{
    static const char *const lines[] = {
        "it,,single crochet,main,4 mm,40,50,60,,,,,neck edge\n",
        "it,,single crochet in a spiral,main,4 mm,40,50,60,,,,,both ends\n",
        "it,,single crochet,main,4 mm,40,50,,,,,inc 2 sts each end every 5 rows,one end\n"};
    static const char *const findings[] = {
        "pieces.csv:2:43: error: \"neck edge\" is not a choice here; write both ends, one end or within\n",
        "pieces.csv:2:55: warning: \"single crochet in a spiral\" is worked in rounds, which have no ends: the cell "
        "has no "
        "effect; leave the cell empty\n",
        "pieces.csv:2:72: error: \"one end\", and the cell \"every\" shapes at each end; leave this cell empty, or "
        "\"each end\" out of the other\n"};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        char pieces[512];
        struct hk_diags diags = {0};
        snprintf(pieces, sizeof pieces, PIECES "%s", lines[i]);
        struct hk_project *project = folder_read(*state, (struct folder){.pieces = pieces}, &diags);
        assert_findings(&diags, findings[i]);
        hk_project_free(project);
    }
}

/* ---- Rows of pattern.txt: 18 stitches x 25 rows of stockinette, 16 x 20 of single crochet in 10 cm ----------------
 */

#define CAST_ON "With MC and 5 mm needles, cast on 36 sts.\nRow 1 (RS): K.\nRow 2: P.\nRep rows 1 and 2 4 more times.\n"
#define CHAIN                                                                                                          \
    "With MC and 5 mm hook, ch 33.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. 32 sc\n"                \
    "Rows 2-10: Ch 1, sc in each sc across, turn. 32 sc\n"

/* 36 stitches are 20 cm, 10 rows are 4 cm; 32 single crochets are 20 cm, 10 rows are 5 cm. Bound-off rows add nothing.
 */
static void test_written_rectangle(void **state)
{
    assert_text_drawn("# It\n" CAST_ON "Bind off.\n", "It M x1 flat: -10,0 10,0 10,4 -10,4\n"
                                                      "  width 36: 20 from -10,0 to 10,0\n"
                                                      "  height 10: 4 from 10,0 to 10,4\n");
    assert_text_drawn("# It (make 2)\n" CHAIN "Fasten off.\n", "It M x2 flat: -10,0 10,0 10,5 -10,5\n"
                                                               "  width 32: 20 from -10,0 to 10,0\n"
                                                               "  height 10: 5 from 10,0 to 10,5\n");
}

/* Places of shaping: at each end; at one end, turn by turn; at a named edge; sloped and stepped. */
static void test_written_shaping(void **state)
{
    /* 9 times 2 stitches: 36 to 18 stitches, 20 cm to 10 cm, in rows 11, 13, ... 27. */
    assert_text_drawn("# It\n" CAST_ON "Dec 1 st at each end of next and every 2nd row 8 more times.\nBind off.\n",
                      "It M x1 flat: -10,0 10,0 10,4 5,10.8 -5,10.8 -10,4\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 10: 4 from 10,0 to 10,4\n"
                      "  height 17: 6.8 from 10,4 to 10,10.8\n"
                      "  width 18: 10 from -5,10.8 to 5,10.8\n"
                      "  height 27: 10.8 from 10,0 to 10,10.8\n");
    /* Row 11 begins at the right edge, row 12 at the left: steps of 9 stitches, 5 cm. */
    assert_text_drawn("# It\n" CAST_ON "Bind off 9 sts at beg of next 2 rows.\nWork even for 10 rows.\nBind off.\n",
                      "It M x1 flat: -10,0 10,0 10,4 5,4 5,8.8 -5,8.8 -5,4.4 -10,4.4\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 10: 4 from 10,0 to 10,4\n"
                      "  width 27: 15 from -10,4 to 5,4\n"
                      "  height 1: 0.4 from 10,4 to 10,4.4\n"
                      "  width 18: 10 from -5,4.4 to 5,4.4\n"
                      "  height 11: 4.4 from 10,4.4 to 10,8.8\n"
                      "  height 22: 8.8 from 10,0 to 10,8.8\n");
    /* 9 stitches at the neck edge, the right one; at the armhole edge, the left one. */
    assert_text_drawn("# It\n" CAST_ON "Dec 1 st at neck edge of every 2nd row 9 times.\nBind off.\n",
                      "It M x1 flat: -10,0 10,0 10,4.4 5,11.2 -10,11.2\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 11: 4.4 from 10,0 to 10,4.4\n"
                      "  height 17: 6.8 from 10,4.4 to 10,11.2\n"
                      "  width 27: 15 from -10,11.2 to 5,11.2\n"
                      "  height 28: 11.2 from 10,0 to 10,11.2\n");
    assert_text_drawn("# It\n" CAST_ON "Dec 1 st at armhole edge of every 2nd row 9 times.\nBind off.\n",
                      "It M x1 flat: -10,0 10,0 10,11.2 -5,11.2 -10,4.4\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 11: 4.4 from 10,0 to 10,4.4\n"
                      "  height 17: 6.8 from 10,4.4 to 10,11.2\n"
                      "  width 27: 15 from -5,11.2 to 10,11.2\n"
                      "  height 28: 11.2 from 10,0 to 10,11.2\n");
    /* As a mirror image. */
    assert_text_drawn("# Left front\n" CAST_ON "Dec 1 st at neck edge of every 2nd row 9 times.\nBind off.\n"
                      "# Right front\nAs left front, reversing shaping.\n",
                      "Left front M x1 flat: -10,0 10,0 10,4.4 5,11.2 -10,11.2\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 11: 4.4 from 10,0 to 10,4.4\n"
                      "  height 17: 6.8 from 10,4.4 to 10,11.2\n"
                      "  width 27: 15 from -10,11.2 to 5,11.2\n"
                      "  height 28: 11.2 from 10,0 to 10,11.2\n"
                      "Right front M x1 flat: -10,0 10,0 10,11.2 -5,11.2 -10,4.4\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 11: 4.4 from 10,0 to 10,4.4\n"
                      "  height 17: 6.8 from 10,4.4 to 10,11.2\n"
                      "  width 27: 15 from -5,11.2 to 10,11.2\n"
                      "  height 28: 11.2 from 10,0 to 10,11.2\n");
    /* Row 11 leaves 8 stitches, 5 cm, at its end, the left edge; row 12 begins there and skips one. */
    assert_text_drawn("# It\n" CHAIN
                      "Row 11: Ch 1, sc in each sc to last 8 sts, turn, leaving rem sts unworked. 24 sc\n"
                      "Row 12: Ch 1, sk first sc, sc in each sc across, turn. 23 sc\n"
                      "Row 13: Ch 1, sc in each sc to last 2 sc, sc2tog, turn. 22 sc\n"
                      "Rows 14-20: Ch 1, sc in each sc across, turn. 22 sc\nFasten off.\n",
                      "It M x1 flat: -10,0 10,0 10,10 -3.75,10 -3.75,6.5 -5,5 -10,5\n"
                      "  width 32: 20 from -10,0 to 10,0\n"
                      "  height 10: 5 from 10,0 to 10,5\n"
                      "  width 24: 15 from -5,5 to 10,5\n"
                      "  height 3: 1.5 from 10,5 to 10,6.5\n"
                      "  width 22: 13.75 from -3.75,6.5 to 10,6.5\n"
                      "  height 7: 3.5 from 10,6.5 to 10,10\n"
                      "  height 20: 10 from 10,0 to 10,10\n");
    /* Increases two from the edge; the first row on the wrong side is worked from left to right. */
    assert_text_drawn(
        "# It\nWith MC and 5 mm needles, cast on 36 sts.\nRow 1 (WS): P.\nRow 2: K2, M1, k to end. 37 sts\n"
        "Row 3: P.\nRow 4: K2, M1, k to end. 38 sts\nRow 5: P. 38 sts\nBind off.\n",
        "It M x1 flat: -10,0 10,0 11.111,2 -10,2\n"
        "  width 36: 20 from -10,0 to 10,0\n"
        "  height 5: 2 from 11.111,0 to 11.111,2\n"
        "  width 38: 21.111 from -10,2 to 11.111,2\n");
    /* A slant: one stitch more at the right and one fewer at the left in rows 3, 5, 7 and 9; lace does not slant. */
    assert_text_drawn("# It\nWith MC and 5 mm needles, cast on 36 sts.\nRow 1 (RS): K.\nRow 2: P.\n"
                      "Row 3: K1, M1, k to last 3 sts, k2tog, k1. 36 sts\nRow 4: P.\nRep rows 3 and 4 3 more times.\n"
                      "Bind off.\n",
                      "It M x1 flat: -10,0 10,0 12.222,4 -7.778,4\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 10: 4 from 12.222,0 to 12.222,4\n");
    assert_text_drawn("# It\nWith MC and 5 mm needles, cast on 36 sts.\nRow 1 (RS): K.\nRow 2: P.\n"
                      "Row 3: K2, *yo, k2tog; rep from * to last 2 sts, k2. 36 sts\nRow 4: P.\nBind off.\n",
                      "It M x1 flat: -10,0 10,0 10,1.6 -10,1.6\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 4: 1.6 from 10,0 to 10,1.6\n");
    /* 4 stitches more, spread over the row: on both sides alike. */
    assert_text_drawn("# It\n" CAST_ON
                      "Next row: K, inc 4 sts evenly across. 40 sts\nWork even for 9 rows.\nBind off.\n",
                      "It M x1 flat: -10,0 10,0 10,4 11.111,4 11.111,8 -11.111,8 -11.111,4 -10,4\n"
                      "  width 36: 20 from -10,0 to 10,0\n"
                      "  height 10: 4 from 11.111,0 to 11.111,4\n"
                      "  width 40: 22.222 from -11.111,4 to 11.111,4\n"
                      "  height 10: 4 from 11.111,4 to 11.111,8\n"
                      "  height 20: 8 from 11.111,0 to 11.111,8\n");
}

/*
 * 36 stitches are 20 cm around, 10 cm across; 40 are 22.22 cm. In rounds 21 to 24 they close to 8 stitches, 4.44 cm
 * around. From a ring: 6 stitches more a round, 20 stitches x 20 rounds in 10 cm. A motif: 5, 9, 13 stitches a side
 * with the chains of its corner, at 20 in 10 cm.
 */
static void test_written_rounds(void **state)
{
    assert_text_drawn("# It\nWith MC and 5 mm needles, cast on 36 sts and join to work in the round.\nRnds 1-10: K.\n"
                      "Rnd 11: K, inc 4 sts evenly. 40 sts\nRnds 12-20: K.\n"
                      "Rnd 21: [K3, k2tog] around. 32 sts\nRnd 22: [K2, k2tog] around. 24 sts\n"
                      "Rnd 23: [K1, k2tog] around. 16 sts\nRnd 24: [K2tog] around. 8 sts\nCut yarn.\n",
                      "It M x1 tube: -5,0 5,0 5,4 5.556,4 5.556,8 1.111,9.6 -1.111,9.6 -5.556,8 -5.556,4 -5,4\n"
                      "  round 36: 20 from -5,0 to 5,0\n"
                      "  height 10: 4 from 5.556,0 to 5.556,4\n"
                      "  round 40: 22.222 from -5.556,4 to 5.556,4\n"
                      "  height 10: 4 from 5.556,4 to 5.556,8\n"
                      "  height 4: 1.6 from 5.556,8 to 5.556,9.6\n"
                      "  round 8: 4.444 from -1.111,9.6 to 1.111,9.6\n"
                      "  height 24: 9.6 from 5.556,0 to 5.556,9.6\n");
    assert_text_drawn(
        "# It\nWith MC and 5 mm hook:\nRnd 1: 6 sc in magic ring. 6 sc\nRnd 2: 2 sc in each sc around. 12 sc\n"
        "Rnd 3: *Sc in next sc, 2 sc in next sc; rep from * around. 18 sc\n"
        "Rnd 4: *Sc in next 2 sc, 2 sc in next sc; rep from * around. 24 sc\n",
        "It M x1 disc: radius 2\n"
        "  radius 4: 2 from 0,0 to 2,0\n"
        "  round 24: 12 from 0,2 to 0,2\n");
    assert_text_drawn("# It\nWith MC and 5 mm hook, ch 2.\nRnd 1: 6 sc in 2nd ch from hook. 6 sc\n"
                      "Rnd 2: 2 sc in each sc around. 12 sc\nRnds 3-12: Sc in each sc around. 12 sc\n",
                      "It M x1 tube: 0,0 1.5,1 1.5,6 -1.5,6 -1.5,1\n"
                      "  height 2: 1 from 1.5,0 to 1.5,1\n"
                      "  round 12: 6 from -1.5,1 to 1.5,1\n"
                      "  height 10: 5 from 1.5,1 to 1.5,6\n"
                      "  height 12: 6 from 1.5,0 to 1.5,6\n");
    assert_text_drawn("# It\nWith MC and 5 mm hook, ch 4, join with sl st to form a ring.\n"
                      "Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join. 12 dc, "
                      "4 ch-2 sps\nRnd 2: Ch 3, dc in next 2 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, [dc in next 3 dc, "
                      "(2 dc, ch 2, 2 dc) in next ch-2 sp] 3 times, join. 28 dc, 4 ch-2 sps\n",
                      "It M x1 polygon: radius 3.182 -2.25,-2.25 2.25,-2.25 2.25,2.25 -2.25,2.25\n"
                      "  side 9: 4.5 from -2.25,-2.25 to 2.25,-2.25\n"
                      "  apothem 2: 2.25 from 0,0 to 0,-2.25\n");
}

static void test_written_not_drawn(void **state)
{
    assert_text_not_drawn(CHAIN "Row 11: Ch 1, sc in next 15 sc, sc2tog, sc in next 15 sc, turn. 31 sc\nFasten off.\n",
                          "it is shaped within its rows, and the counts alone do not give its shape");
    assert_text_not_drawn(CAST_ON "Next row: K, inc 12 sts evenly across. 48 sts\nWork even for 9 rows.\nBind off.\n",
                          "a row changes from 36 to 48 stitches, and the counts alone do not give its shape");
    assert_text_not_drawn("With MC and 5 mm hook, ch 33.\nRow 1: Hdc in 3rd ch from hook and in each ch across, turn.\n"
                          "Row 2: Ch 2, hdc in each hdc across.\nFasten off.\n",
                          "no swatch of \"half double crochet\" has a gauge");
    assert_text_not_drawn(CHAIN "Row 11: Ch 1, BLO sc in each sc across, turn. 32 sc\nRow 12: Rep row 11. 32 sc\n"
                                "Fasten off.\n",
                          "no swatch of rows in one loop has a gauge");
    assert_text_not_drawn(
        "With MC and 5 mm hook, ch 9.\nRnd 1: Sc in 2nd ch from hook and in next 6 ch, 3 sc in last ch, "
        "working along other side of ch, sc in next 6 ch, 2 sc in last ch. 18 sc\n",
        "its first round has more stitches than its foundation, so the counts alone do not give its "
        "shape");
    assert_text_not_drawn(
        "With MC and 5 mm needles, cast on 72 sts and join to work in the round.\nRnds 1-10: K.\n"
        "Rnd 11: K 28, place next 8 sts on hold for left sleeve, k 28, place next 8 sts on hold for right "
        "sleeve. 56 sts\nRnds 12-20: K.\n",
        "a row puts stitches on hold, and their places are not known");
    assert_text_not_drawn(
        CHAIN "Row 11: Ch 1, sc in next 8 sc, turn, leaving rem sts unworked. 8 sc\n"
              "Row 12: Ch 1, sc in each sc across. 8 sc\nFasten off.\n"
              "Row 11: Sk next 16 sc, join MC with sl st in next sc, ch 1, sc in same st and in each sc to end, "
              "turn. 8 sc\nRow 12: Ch 1, sc in each sc across. 8 sc\nFasten off.\n",
        "work begins more than once in it, and the places of its parts are not known");
    assert_text_not_drawn(CAST_ON "Dec 1 st at same edge of every 2nd row 9 times.\nBind off.\n",
                          "it is shaped within its rows, and the counts alone do not give its shape");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rectangle),
        cmocka_unit_test(test_lengths),
        cmocka_unit_test(test_taper),
        cmocka_unit_test(test_raglan),
        cmocka_unit_test(test_gauges),
        cmocka_unit_test(test_parts),
        cmocka_unit_test(test_tube),
        cmocka_unit_test(test_disc),
        cmocka_unit_test(test_polygon),
        cmocka_unit_test(test_not_drawn),
        cmocka_unit_test(test_shaping_column),
        cmocka_unit_test(test_measures),
        cmocka_unit_test(test_gauge_of_stitch),
        cmocka_unit_test(test_written_rectangle),
        cmocka_unit_test(test_written_shaping),
        cmocka_unit_test(test_written_rounds),
        cmocka_unit_test(test_written_not_drawn),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
