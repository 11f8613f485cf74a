/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pattern.txt as text (hankful(1), PATTERNS AS THEY ARE WRITTEN): lines and headings, labels, starts, references, yarn
 * and tool, prose. Rows remain texts here; test_pattern_file works them.
 */
#include "out.h"
#include "written.h"

#include "pattern/colours.h"
#include "pattern/prose.h"
#include "pattern/written.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void put_reference(struct out *out, const struct hk_reference *r, size_t sizes)
{
    static const char *const kinds[] = {"rows", "last", "even", "words", "pattern", "shape", "evenly", "edge", "as"};
    put(out, " %s", kinds[r->kind]);
    for (size_t i = 0; i < r->number_count; i++)
        put(out, " %" PRId64, r->numbers[i]);
    if (r->kind == HK_REFERENCE_LAST) {
        put(out, " ");
        put_number(out, r->last, sizes);
    }
    if (r->words)
        put(out, " '%s'", r->words);
    if (r->first_next)
        put(out, " next");
    for (size_t i = 0; i < r->stage_count; i++) {
        put(out, " every ");
        put_number(out, r->stages[i].every, sizes);
        put(out, "%s", r->stages[i].open ? "" : r->stages[i].to ? " to " : " x");
        if (!r->stages[i].open)
            put_number(out, r->stages[i].times, sizes);
    }
    if (r->times_given) {
        put(out, " times ");
        put_number(out, r->times, sizes);
    }
    if (r->rows_given) {
        put(out, " for ");
        put_number(out, r->rows, sizes);
    }
    for (size_t i = 0; r->length_m && i < sizes; i++)
        put(out, "%s%.0f mm", i ? "/" : r->onward ? " onward " : " until ", 1000 * r->length_m[i]);
}

static void put_entry(struct out *out, const struct hk_written *w, const struct hk_entry *e)
{
    static const char *const kinds[] = {"begin", "row", "reference", "cut", "refused"};
    static const char *const begins[] = {"chain", "cast on", "ring", "pick up", "edge", "held", "left", "only", "join", "nothing"};
    size_t sizes = w->words.size_count;
    put(out, "  %zu:%zu %s", e->place.line, e->place.column, kinds[e->kind]);
    if (*e->label)
        put(out, " [%s]", e->label);
    if (e->numbered) {
        put(out, " ");
        put_number(out, e->first, sizes);
        put(out, "-");
        put_number(out, e->last, sizes);
    } else if (e->rows_given) {
        put(out, " of ");
        put_number(out, e->rows, sizes);
    }
    for (size_t i = 0; i < e->list_count; i++)
        put(out, " +%" PRId64, e->list[i]);
    if (e->others)
        put(out, " others");
    if (e->side != HK_SIDE_OPEN)
        put(out, e->side == HK_SIDE_RIGHT ? " RS" : " WS");
    for (size_t i = 0; e->sizes && i < sizes; i++)
        if (e->sizes[i])
            put(out, " only-%s", w->words.size_names[i]);
    if (e->held != SIZE_MAX)
        for (size_t i = 0; i < w->helds[e->held].count; i++)
            put(out, "%s%s%s", i ? "+" : " ", w->words.yarns[w->helds[e->held].roles[i]],
                w->helds[e->held].times[i] > 1 ? " x2" : "");
    if (e->tool_mm > 0)
        put(out, " %gmm", e->tool_mm);
    if (e->kind == HK_ENTRY_BEGIN) {
        put(out, " %s ", begins[e->begin.kind]);
        put_number(out, e->begin.count, sizes);
        put(out, "%s", e->begin.joined ? " joined" : "");
    } else if (e->kind == HK_ENTRY_REFERENCE) {
        put_reference(out, &e->reference, sizes);
        if (*e->stated.text)
            put(out, " | %s", e->stated.text);
    } else if (e->kind == HK_ENTRY_CUT) {
        put(out, " %.2f m", e->cut_m);
    } else {
        put(out, " | %s", e->text.text);
    }
    if (e->taken.text)
        put(out, " | taken: %s", e->taken.text);
    if (e->problem.text)
        put(out, " ! %zu:%zu %s", e->problem.place.line, e->problem.place.column, e->problem.text);
    put(out, "\n");
}

static void put_written(struct out *out, const struct hk_written *w)
{
    for (size_t i = 0; i < w->definition_count; i++)
        put(out, "%s := %s\n", w->definitions[i].name, w->definitions[i].steps.text);
    for (size_t i = 0; i < w->block_count; i++) {
        put(out, "stitch pattern %s\n", w->blocks[i].name);
        for (size_t e = 0; e < w->blocks[i].count; e++)
            put_entry(out, w, &w->entries[w->blocks[i].first + e]);
    }
    for (size_t p = 0; p < w->piece_count; p++) {
        put(out, "%s x", w->pieces[p].name);
        put_number(out, w->pieces[p].times, w->words.size_count);
        put(out, "\n");
        for (size_t q = 0; q < w->pieces[p].count; q++) {
            const struct hk_written_part *part = &w->parts[w->pieces[p].first + q];
            if (*part->name)
                put(out, " %s\n", part->name);
            for (size_t e = 0; e < part->count; e++)
                put_entry(out, w, &w->entries[part->first + e]);
        }
    }
    for (size_t i = 0; i < w->prose_count; i++)
        put(out, "prose %zu%s%s%s: %s\n", w->prose[i].place.line, w->prose[i].work ? " work" : "",
            w->prose[i].count ? " count" : "",
            w->prose[i].instruction ? " instruction"
            : w->prose[i].rows      ? " rows"
                                    : "",
            w->prose[i].text);
}

/* Sizes S, M and L; yarns main, trim and lace. */
static void assert_written_at(const struct hk_catalogue *catalogue, const char *text, const char *expected,
                              const char *file, int line)
{
    static const char *const sizes[] = {"S", "M", "L"}, *const yarns[] = {"main", "trim", "lace"};
    const struct hk_row_words words = {
        .catalogue = catalogue, .size_count = 3, .size_names = sizes, .yarns = yarns, .yarn_count = 3};
    struct hk_arena arena = {0};
    struct hk_written *written = calloc(1, sizeof *written);
    struct out *out = calloc(1, sizeof *out);
    assert_non_null(written);
    assert_non_null(out);
    assert_true(hk_written_read(text, "pattern.txt", &words, written, &arena));
    put_written(out, written);
    if (strcmp(out->text, expected) != 0) {
        print_error("%s\n--- and not\n%s", out->text, expected);
        _fail(file, line);
    }
    free(out);
    free(written);
    hk_arena_free(&arena);
}
#define assert_written(text, expected) assert_written_at(*state, (text), (expected), __FILE__, __LINE__)

static void pieces_begin_where_work_begins(void **state)
{
    assert_written(
        "Quay jumper\n\nBy the studio.\n\n# Body (worked in one piece)\nWith MC and 5 mm hook, ch 72 (78, 84), join.\n"
        "Rnd 1: Ch 1, sc in each ch around, join. 72 (78, 84) sts\nRnds 2-9 (2-10, 2-11): Rep rnd 1.\nYOKE\nRnd 1: Sc "
        "around.\n"
        "## Sleeves (make 2)\nChange to 4 mm hook.\n6 sc in magic ring.\n",
        "Body x1\n"
        "  6:24 begin main 5mm chain 72/78/84 joined\n"
        "  7:1 row [Rnd 1] 1-1 main 5mm | Ch 1, sc in each ch around, join. 72 (78, 84) sts\n"
        "  8:1 reference [Rnds 2-9 (2-10, 2-11)] 2/2/2-9/10/11 main 5mm rows 1\n"
        " YOKE\n"
        "  10:1 row [Rnd 1] 1-1 main 5mm | Sc around.\n"
        "Sleeves x2\n"
        "  13:1 begin main 4mm ring 0 joined\n"
        "  13:1 row main 4mm | 6 sc in magic ring.\n"
        "prose 3: By the studio.\n");
}

/*
 * Text from a word processor and Markdown: CRLF, a no-break space, a soft hyphen, curly quotes, bullets, bold type,
 * wrapped lines.
 */
static void what_programs_leave_is_taken_off(void **state)
{
    assert_written("**Body**\r\n\r\nCh\xC2\xA0"
                   "20.\r\n**Rnd 1:** Sc in next 3 sts **(3 sts)**\r\n\xE2\x80\xA2 Rnd 2: Sc a\xC2\xADround\r\n- Rnd "
                   "3: *Sc in next st,\r\n  ch 1; rep\r\nfrom * around.\r\n"
                   "* Rnd 4: Ch 3, dc in ch-\r\n2 sp, turn.\r\n\\*Sc 1, ch 1, sk 1\\*\r\n",
                   "Body x1\n"
                   "  3:1 begin chain 20\n"
                   "  4:3 row [Rnd 1] 1-1 | Sc in next 3 sts (3 sts)\n"
                   "  5:3 row [Rnd 2] 2-2 | Sc around\n"
                   "  6:3 row [Rnd 3] 3-3 | *Sc in next st, ch 1; rep from * around.\n"
                   "  9:3 row [Rnd 4] 4-4 | Ch 3, dc in ch-2 sp, turn. *Sc 1, ch 1, sk 1*\n");
}

static void labels_of_all_kinds(void **state)
{
    assert_written(
        "Ch 20.\nArmhole Row 1: sc.\nNext 3 (4, 5) rnds: sc.\n1st row: sc.\nRow 2 (WS) and all WS rows: P.\nRows 3 and "
        "4: sc.\n"
        "Rows 6, 8 and 10: P.\nInc rnd: sc.\nR12: sc.\nRnds 5 (7, 9)-20 (22, 24): sc.\nRow 40 Ch 1, sc across.\nRow 41 "
        "- Ch 1, sc.\n"
        "Rnd 3 (4): sc.\nRnds 2-5 (2-6): sc.\nRows 2-30 (32, 36): sc.\nRow 5: sc. Row 6: dc.\nDivide: Sc in next 12 "
        "sts.\nRow 7 counts as the right side.\n",
        "pattern x1\n"
        "  1:1 begin chain 20\n"
        "  2:1 row [Armhole Row 1] 1-1 | sc.\n"
        "  3:1 row [Next 3 (4, 5) rnds] of 3/4/5 | sc.\n"
        "  4:1 row [1st row] 1-1 | sc.\n"
        "  5:1 row [Row 2 (WS) and all WS rows] 2-2 others WS | P.\n"
        "  6:1 row [Rows 3 and 4] 3-4 | sc.\n"
        "  7:1 row [Rows 6, 8 and 10] 6-6 +8 +10 | P.\n"
        "  8:1 row [Inc rnd] | sc.\n"
        "  9:1 row [R12] 12-12 | sc.\n"
        "  10:1 row [Rnds 5 (7, 9)-20 (22, 24)] 5/7/9-20/22/24 | sc.\n"
        "  11:1 row [Row 40] 40-40 | Ch 1, sc across.\n"
        "  12:1 row [Row 41] 41-41 | Ch 1, sc.\n"
        "  13:1 refused [Rnd 3 (4)] 3-3 | sc. ! 13:5 a number is not given once for each of the 3 sizes\n"
        "  14:1 refused [Rnds 2-5 (2-6)] 2-5 | sc. ! 14:6 a number is not given once for each of the 3 sizes\n"
        "  15:1 row [Rows 2-30 (32, 36)] 2/2/2-30/32/36 | sc.\n"
        "  16:1 row [Row 5] 5-5 | sc.\n"
        "  16:12 row [Row 6] 6-6 | dc.\n"
        "  17:1 row [Divide] | Sc in next 12 sts.\n"
        "prose 18: Row 7 counts as the right side.\n");
}

static void rows_by_reference(void **state)
{
    assert_written(
        "Ch 20.\nRow 1: sc.\nRep row 1 4 times.\nRep rows 1 and 2 twice more. (20 sts)\nRows 5-12: As rows 1-4.\n"
        "Rep last 2 rows 5 (6, 7) more times.\nRep rows 1 and 2 until piece measures 20 (22, 24) cm from beg, ending "
        "with a WS row.\n"
        "Work even for 10 rows.\nWork 4 rows even.\nCont in patt as set for 5 cm.\nWork in moss stitch for 6 rows.\n"
        "Knit 4 (6, 8) rows.\nKnit every row until rib measures 8 in / 20 cm.\nWork 6 sc in next ring.\nRow 20: Rep "
        "row 1 4 (5) times.\n"
        "Bind off 3 sts at beg of next 2 rows.\n",
        "pattern x1\n"
        "  1:1 begin chain 20\n"
        "  2:1 row [Row 1] 1-1 | sc.\n"
        "  3:1 reference rows 1 times 4\n"
        "  4:1 reference rows 1 2 times 2 | (20 sts)\n"
        "  5:1 reference [Rows 5-12] 5-12 rows 1 2 3 4\n"
        "  6:1 reference last 2 times 5/6/7\n"
        "  7:1 reference rows 1 2 until 200 mm/220 mm/240 mm\n"
        "  8:1 reference even for 10\n"
        "  9:1 reference even for 4\n"
        "  10:1 reference even onward 50 mm/50 mm/50 mm\n"
        "  11:1 reference pattern 'moss stitch' for 6\n"
        "  12:1 reference words 'k' for 4/6/8\n"
        "  13:1 reference words 'k' until 203 mm/203 mm/203 mm\n"
        "  14:1 row | Work 6 sc in next ring.\n"
        "  15:1 reference [Row 20] 20-20 rows 1 | 4 (5) times.\n"
        "  16:1 reference edge 'Bind off 3 sts' for 2\n");
}

/* "6 times" after "next and every 4th row" is 6 or 7 in total: refused as ambiguous. */
static void shaping_at_the_ends(void **state)
{
    assert_written("Cast on 60 sts.\nDec 1 st each end of next and every 4th row to 34 (36, 38) sts.\n"
                   "Dec 1 st at each end of next and every foll alt row 6 more times.\nDec 1 st each end of next and "
                   "every 4th row 6 times.\n"
                   "Dec 1 st each end of next and every 4th row 6 times in all.\nInc 1 st at beg of every other row 0 "
                   "(1, 2) times.\n"
                   "Inc 1 st each end of every 4th row 3 times, then every 6th row 2 times.\nDec 1 st at neck edge on "
                   "next 4 rows.\n",
                   "pattern x1\n"
                   "  1:1 begin cast on 60\n"
                   "  2:1 reference shape next every 4 to 34/36/38\n"
                   "  3:1 reference shape next every 2 x6\n"
                   "  4:1 refused | Dec 1 st each end of next and every 4th row 6 times. ! 4:1 this may be the number "
                   "of times in all, or the number after the next row\n"
                   "  5:1 reference shape next every 4 x5/5/5\n"
                   "  6:1 reference shape every 2 x0/1/2\n"
                   "  7:1 reference shape every 4 x3 every 6 x2\n"
                   "  8:1 reference shape every 1 x4\n");
}

static void yarn_and_tool(void **state)
{
    assert_written(
        "# Hat\nUsing trim and 4.5 mm needles, cast on 60 sts and join to work in the round.\nRnd 1: With A, k.\n"
        "Rnd 2: K. Change to MC.\nRnd 3: K.\nWith MC and lace held together and H-8 (5 mm) hook, ch 9.\nRow 1: Sc.\n"
        "With two strands of trim, knit 4 rows.\nChange to smaller hook.\nRow 2: Sc.\nWith MC and trim, k to end.\n",
        "Hat x1\n"
        "  2:32 begin trim 4.5mm cast on 60 joined\n"
        "  3:1 row [Rnd 1] 1-1 trim 4.5mm | k.\n"
        "  4:1 row [Rnd 2] 2-2 trim 4.5mm | K.\n"
        "  5:1 row [Rnd 3] 3-3 main 4.5mm | K.\n"
        "Hat 2 x1\n"
        "  6:53 begin main+lace 5mm chain 9\n"
        "  7:1 row [Row 1] 1-1 main+lace 5mm | Sc.\n"
        "  8:27 reference trim x2 5mm words 'k' for 4\n"
        "  10:1 row [Row 2] 2-2 trim x2 4.5mm | Sc.\n"
        "  11:19 refused main 4.5mm | k to end. ! 11:1 several yarns are named together\n");
}

static void sizes_that_do_without(void **state)
{
    assert_written("# Toy\nCh 5.\nMedium and large only: Sc in next 3 sts. - (4, 5) sts\nSize L only:\nRow 5: sc.\nAll "
                   "sizes:\nRow 6: sc.\n"
                   "Sizes S-M: Row 7: sc.\nSizes M and XL only: sc across.\nMedium and XL only: sc.\n",
                   "Toy x1\n"
                   "  2:1 begin chain 5\n"
                   "  3:24 row only-M only-L | Sc in next 3 sts. - (4, 5) sts\n"
                   "  5:1 row [Row 5] 5-5 only-L | sc.\n"
                   "  7:1 row [Row 6] 6-6 | sc.\n"
                   "  8:12 row [Row 7] 7-7 only-S only-M | sc.\n"
                   "  9:1 refused | Sizes M and XL only: sc across. ! 9:1 the sizes of this line cannot be read\n"
                   "  10:1 refused | Medium and XL only: sc. ! 10:1 the sizes of this line cannot be read\n");
}

/* A yarn that a row changes to applies to the rows below it; if a row has several, none applies. */
static void rows_change_yarn(void **state)
{
    assert_written("# Toy\nWith main, ch 5.\nRow 1: sc, changing to trim in last st.\nRow 2: sc.\nRow 3: K with main.\n"
                   "Row 4: k.\nRow 5: *K1 with main, k1 with trim; rep from * to end.\nRow 6: k.\n",
                   "Toy x1\n"
                   "  2:12 begin main chain 5\n"
                   "  3:1 row [Row 1] 1-1 main | sc, changing to trim in last st.\n"
                   "  4:1 row [Row 2] 2-2 trim | sc.\n"
                   "  5:1 row [Row 3] 3-3 trim | K with main.\n"
                   "  6:1 row [Row 4] 4-4 main | k.\n"
                   "  7:1 row [Row 5] 5-5 main | *K1 with main, k1 with trim; rep from * to end.\n"
                   "  8:1 row [Row 6] 6-6 main | k.\n");
}

/* Text that opens a row without a label, and text that resembles it. */
static void rows_without_labels(void **state)
{
    assert_written(
        "# Toy\nCh 5.\n\nMedium and large only: (4 sc, inc) x 6 (36)\n\nS only: K to end. - (20, 20)\n\n"
        "(See the picture of sc.)\n\nPlace eyes between rounds 6 and 7.\n\nRepeat decrease row.\n\nThen "
        "work 5 more rows.\n\nBO loosely.\n\n"
        "For sizes M and larger: Sc in next 3 sts.\n\nMake a second one in the same way.\n",
        "Toy x1\n"
        "  2:1 begin chain 5\n"
        "  4:24 row only-M only-L | (4 sc, inc) x 6 (36)\n"
        "  6:9 row only-S | K to end. - (20, 20)\n"
        "  12:1 row | Repeat decrease row.\n"
        "  14:1 row | Then work 5 more rows.\n"
        "  16:1 row | BO loosely.\n"
        "  18:1 refused | For sizes M and larger: Sc in next 3 sts. ! 18:1 the sizes of this line cannot be read\n"
        "  20:1 refused | Make a second one in the same way. ! 20:1 the number of copies of a piece is not read here\n"
        "prose 8: (See the picture of sc.)\n"
        "prose 10: Place eyes between rounds 6 and 7.\n");
}

static void starts_of_all_kinds(void **state)
{
    assert_written("# A\nCh 4, join with sl st to form a ring.\nRnd 1: 12 dc in ring.\n# B\nRow 1: Ch 20, sc in 2nd ch "
                   "from hook and in each ch.\n"
                   "# C\nOn an edge of 20 (22, 24) sts:\nRow 1: sc.\n# D\nWith RS facing and 4 mm hook, pick up and "
                   "knit 64 sts evenly around, join.\nRnd 1: k.\n"
                   "# E\nJoin MC at underarm, sc in each st around. (40 sts)\n# F\nFoundation row: Fsc 20.\n# G\nRow "
                   "1: Sc across.\n# H\nWork as A, reversing shaping.\n"
                   "# I\nCast on 40 sts using 5 mm needles and trim.\nRow 1: k.\n# J\nWork on the 44 held sts.\nRow 1: "
                   "k.\n# K\nOn an edge of 20 dc:\nRow 1: dc.\n",
                   "A x1\n"
                   "  2:1 begin ring 4 joined\n"
                   "  3:1 row [Rnd 1] 1-1 | 12 dc in ring.\n"
                   "B x1\n"
                   "  5:8 begin chain 20\n"
                   "  5:1 row [Row 1] 1-1 | sc in 2nd ch from hook and in each ch.\n"
                   "C x1\n"
                   "  7:1 begin edge 20/22/24\n"
                   "  8:1 row [Row 1] 1-1 | sc.\n"
                   "D x1\n"
                   "  10:31 begin 4mm pick up 64 joined\n"
                   "  11:1 row [Rnd 1] 1-1 4mm | k.\n"
                   "E x1\n"
                   "  13:1 begin main 4mm join 0\n"
                   "  13:22 row main 4mm | sc in each st around. (40 sts)\n"
                   "F x1\n"
                   "  15:17 begin main 4mm nothing 0\n"
                   "  15:1 row [Foundation row] main 4mm | Fsc 20.\n"
                   " G\n"
                   "  17:1 row [Row 1] 1-1 main 4mm | Sc across.\n"
                   "H x1\n"
                   "  19:1 begin main 4mm nothing 0\n"
                   "  19:1 reference main 4mm as 'A'\n"
                   "I x1\n"
                   "  21:1 begin trim 5mm cast on 40\n"
                   "  22:1 row [Row 1] 1-1 trim 5mm | k.\n"
                   "J x1\n"
                   "  24:1 begin trim 5mm held 44\n"
                   "  25:1 row [Row 1] 1-1 trim 5mm | k.\n"
                   "K x1\n"
                   "  27:1 begin trim 5mm edge 20\n"
                   "  28:1 row [Row 1] 1-1 trim 5mm | dc.\n");
}

static void prose_defines_and_is_counted(void **state)
{
    assert_written(
        "NOTES\nshell = 5 dc in same st\npicot: ch 3, sl st in 3rd ch from hook\nV-stitch (V-st): (dc, ch 1, dc) in "
        "same st\nsc = single crochet\n"
        "Join = sl st in first st.\nch 2 does not count as a st throughout.\n\nGAUGE\n17 sts and 20 rows = 10 cm\nRow "
        "1: Ch 18.\n\n"
        "K2, p2 rib (multiple of 4):\nRow 1: *K2, p2; rep from * to end.\n\n# Body\nCh 20.\nRow 1: sc. (20 sts) Stuff "
        "firmly.\nSew side seams.\nWeave in ends.\n"
        "The work curls.\nRow 2: Follow chart A. [take as 84 (90, 96) hdc, 6 ch] (84 (90, 96) sts)\n\nShape the neck "
        "AT THE SAME TIME.\n",
        "shell := 5 dc in same st\n"
        "picot := ch 3, sl st in 3rd ch from hook\n"
        "V-stitch := (dc, ch 1, dc) in same st\n"
        "V-st := (dc, ch 1, dc) in same st\n"
        "stitch pattern K2, p2 rib\n"
        "  14:1 row [Row 1] 1-1 | *K2, p2; rep from * to end.\n"
        "Body x1\n"
        "  17:1 begin chain 20\n"
        "  18:1 row [Row 1] 1-1 | sc. (20 sts)\n"
        "  22:1 row [Row 2] 2-2 | Follow chart A. (84 (90, 96) sts) | taken: 84 (90, 96) hdc, 6 ch\n"
        "  24:1 refused | Shape the neck AT THE SAME TIME. ! 24:16 two shapings at the same time are not read\n"
        "prose 5: sc = single crochet\n"
        "prose 10: 17 sts and 20 rows = 10 cm\n"
        "prose 11 work: Row 1: Ch 18.\n"
        "prose 18: Stuff firmly.\n"
        "prose 19 work: Sew side seams.\n"
        "prose 21: The work curls.\n");
}

static void times_stand_in_headings_and_below(void **state)
{
    assert_written("# (make 2) Legs\nCh 5.\nRow 1: sc.\nWith main doubled, work 2 rows.\n",
                   "Legs x2\n"
                   "  2:1 begin chain 5\n"
                   "  3:1 row [Row 1] 1-1 | sc.\n"
                   "prose 4 work instruction: With main doubled, work 2 rows.\n");
    assert_written("# Legs (make 2 (3, 4))\nCh 5.\nRow 1: sc.\n\nSOLES\nMake 2.\nCh 6.\nRow 1: sc.\n# Wings\nBoth "
                   "alike.\nCh 7.\nRow 1: sc.\n"
                   "# Outer (make 2)\n## Inner x 3\nCh 8.\nRow 1: sc.\n",
                   "Legs x2/3/4\n"
                   "  2:1 begin chain 5\n"
                   "  3:1 row [Row 1] 1-1 | sc.\n"
                   "SOLES x2\n"
                   "  7:1 begin chain 6\n"
                   "  8:1 row [Row 1] 1-1 | sc.\n"
                   "Wings x2\n"
                   "  11:1 begin chain 7\n"
                   "  12:1 row [Row 1] 1-1 | sc.\n"
                   "Inner x6\n"
                   "  15:1 begin chain 8\n"
                   "  16:1 row [Row 1] 1-1 | sc.\n");
}

/* In sequence, each a separate text. */
struct example {
    const char *text, *expected;
};

static void assert_examples_at(const struct hk_catalogue *catalogue, const struct example *examples, size_t count,
                               const char *file, int line)
{
    for (size_t i = 0; i < count; i++)
        assert_written_at(catalogue, examples[i].text, examples[i].expected, file, line);
}
#define assert_examples(examples)                                                                                      \
    assert_examples_at(*state, (examples), sizeof(examples) / sizeof *(examples), __FILE__, __LINE__)

static void pieces_of_one_name_are_numbered(void **state)
{
    assert_written(
        "# Cuff\nCh 5.\n# Cuff\nCh 6.\n# Cuff 2\nCh 7.\n# Cuffs\nCh 8.\n# Cuff 2b\nCh 9.\n# Cuff hem\nCh 10.\n"
        "# Cuff\nCh 11.\n",
        "Cuff x1\n  2:1 begin chain 5\nCuff 2 x1\n  4:1 begin chain 6\nCuff 2 2 x1\n  6:1 begin chain 7\n"
        "Cuffs x1\n  8:1 begin chain 8\nCuff 2b x1\n  10:1 begin chain 9\nCuff hem x1\n  12:1 begin chain "
        "10\nCuff 3 x1\n  14:1 begin chain 11\n");
}

static void times_that_do_not_fit_the_sizes_are_reported(void **state)
{
#define WRONG "a number is not given once for each of the 3 sizes\n"
    static const struct example examples[] = {
        {"# Legs (make 2 (3))\nCh 5.\nRow 1: sc.\n",
         "Legs x2\n  2:1 begin chain 5 ! 1:8 " WRONG "  3:1 row [Row 1] 1-1 | sc.\n"},
        {"# Legs\nMake 2 (3).\nCh 5.\n", "Legs x1\n  3:1 begin chain 5 ! 2:1 " WRONG},
        {"# Legs\nCh 5.\nMake 2 (3).\nRow 1: sc.\n",
         "Legs x1\n  2:1 begin chain 5\n  3:1 refused | Make 2 (3). ! 3:1 " WRONG "  4:1 row [Row 1] 1-1 | sc.\n"},
        /* The first of two mistakes is reported. */
        {"# Legs (make 2 (3))\nCh 5 (6).\n", "Legs x2\n  2:1 begin chain 5 ! 1:8 " WRONG},
        {"# Legs\nCh 5.\nRow 1: sc.\nMake 2 (2, 3).\n",
         "Legs x2/2/3\n  2:1 begin chain 5\n  3:1 row [Row 1] 1-1 | sc.\n"},
        {"# Legs (long), make 2\nCh 5.\n", "Legs x2\n  2:1 begin chain 5\n"},
        {"# Legs - make 2:\nCh 5.\n", "Legs x2\n  2:1 begin chain 5\n"},
        {"# Legs(make 2)\nCh 5.\n", "Legs x2\n  2:1 begin chain 5\n"},
        {"# Make 2\nCh 5.\n", "Make 2 x2\n  2:1 begin chain 5\n"},
        {"# Legs\nMake 2, one in CC.\nCh 5.\n", "Legs x2\n  3:1 begin chain 5\nprose 2: Make 2, one in CC.\n"},
        {"Make 2.\nCh 5.\n", "pattern x1\n  2:1 begin chain 5\nprose 1: Make 2.\n"},
        {"# Legs\nCh 5.\n# --\nRow 1: sc.\n", "Legs x1\n  2:1 begin chain 5\n  4:1 row [Row 1] 1-1 | sc.\n"},
    };
    assert_examples(examples);
}

static void notes_begin_no_piece(void **state)
{
    static const struct example examples[] = {
        {"GAUGE\nRow 1: Ch 18. Row 2: sc. So far.\n\n# Hat\nCh 5.\nRow 1: sc.\nNOTES\nSew well. Stuff it. With 5 mm "
         "hook.\nRep row 1.\n\nWith 4 mm hook, ch 20.\nRow 1: sc.\n",
         "Hat x1\n  5:1 begin chain 5\n  6:1 row [Row 1] 1-1 | sc.\nHat 2 x1\n  11:17 begin 4mm chain 20\n  12:1 row "
         "[Row 1] 1-1 4mm | sc.\n"
         "prose 2 work: Row 1: Ch 18.\nprose 2 work: Row 2: sc.\nprose 2: So far.\nprose 8: Sew well.\nprose 8: Stuff "
         "it.\nprose 8: With 5 mm hook.\nprose 9: Rep row 1.\n"},
        {"# Hat\nCh 5.\nNOTES\nWork at the same time 3. Work as the cap. Work 4 sc. Divide in two halves: sc 3. Fasten "
         "off.\n",
         "Hat x1\n  2:1 begin chain 5\nprose 4: Work at the same time 3.\nprose 4: Work as the cap.\nprose 4: Work 4 "
         "sc.\nprose 4: Divide in two halves: sc 3.\nprose 4: Fasten off.\n"},
    };
    assert_examples(examples);
}

static void sentences_end_at_their_marks(void **state)
{
    static const struct example examples[] = {
        {"Ch 5.\nStuff! Sc in 3 sts? Dc in 4 sts.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:8 row | Sc in 3 sts?\n  2:21 row | Dc in 4 sts.\nprose 2: Stuff!\n"},
        {"Ch 5.\nSc in 3 sts. [20 sts] Stuff firmly.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row | Sc in 3 sts. [20 sts]\nprose 2: Stuff firmly.\n"},
        {"Ch 5.\nSc in 3 sts. (20 sts) in all. (20 sts), too.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row | Sc in 3 sts. (20 sts) in all.\nprose 2: (20 sts), too.\n"},
        {"Ch 5.\nSc [in 3 sts.] (dc. or not!) dc) in foll. st. 2.5 times.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row | Sc [in 3 sts.] (dc. or not!) dc) in foll. st.\nprose 2 rows: "
         "2.5 "
         "times.\n"},
        {"Ch 50.\nDec. 1 st each end of next row. sc in 3 sts. Inc. Approx. {it}.\n",
         "pattern x1\n  1:1 begin chain 50\n  2:1 reference shape next\n  2:33 row | sc in 3 sts.\nprose 2: "
         "Inc.\nprose 2: Approx.\nprose 2: {it}.\n"},
    };
    assert_examples(examples);
}

static void yarn_is_cut(void **state)
{
    static const struct example examples[] = {
        {"Fasten off.\nCh 5.\nFasten off.\nFO, leave 2 ends, 1,234 m, of 1/2 m.\nFinish off with 100 g in 3.\nTie off "
         "20cm.\n",
         "pattern x1\n  2:1 begin chain 5\n  3:1 cut 0.00 m\n  4:1 cut 0.50 m\n  5:1 cut 0.00 m\n  6:1 cut 0.20 m\n"},
        {"Ch 5.\nCut yarn, leaving 12 in (30 cm).\nCut a 10 cm tail.\nBreak the yarn.\nBreak off, darn the end.\nCut "
         "MC yarn.\nCut it.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 cut 0.30 m\n  3:1 cut 0.10 m\n  4:1 cut 0.00 m\n  5:1 cut 0.00 m\n  "
         "6:1 cut 0.00 m\nprose 7: Cut it.\n"},
        {"Ch 5.\nTurn\nDo not turn.\nDo not join, but sew.\n",
         "pattern x1\n  1:1 begin chain 5\nprose 4 work: Do not join, but sew.\n"},
    };
    assert_examples(examples);
}

/* Sentences without a label. */
static void words_of_work_are_rows(void **state)
{
    static const struct example examples[] = {
        {"Ch 5.\n\n[Sc, ch 1] twice.\n\n*Sc, ch; rep from * to end.\n\n4 sc in each st.\n\nScout the 3 quays.\n\nWork "
         "on.\n\nKnit "
         "to end.\n\nTurn at 3.\n\n4 times.\n",
         "pattern x1\n  1:1 begin chain 5\n  3:1 row | [Sc, ch 1] twice.\n  5:1 row | *Sc, ch; rep from * to end.\n  "
         "7:1 row | 4 sc in each st.\n  13:1 row | Knit to end.\n  15:1 row | Turn at 3.\nprose 9: Scout the 3 quays.\n"
         "prose 11 work: Work on.\nprose 17 rows: 4 times.\n"},
        {"Ch 5. [take as 3 sc]\n", "pattern x1\n  1:1 begin chain 5\nprose 1: [take as 3 sc]\n"},
        {"Ch 5.\nRow 1: [take as 3 sc]\nRow 2: [take as 3 sc\nRow 3: sc [take as 3 sc] (3 sts)\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row [Row 1] 1-1 |  | taken: 3 sc\n  3:1 row [Row 2] 2-2 | [take as 3 "
         "sc\n  4:1 row [Row 3] 3-3 | sc (3 sts) | taken: 3 sc\n"},
        /* A label without words is kept for the message. */
        {"Ch 5.\nRow 1:\nRow 2: With CC.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row [Row 1] 1-1 | \n  3:1 row [Row 2] 2-2 trim | \n"},
        /* The value of a chain, stated in a row. */
        {"Ch 5, join.\nCh 3 (counts as dc), dc in each ch around.\nCh 3, counts as dc, dc around.\nCh 3, counts as dc, "
         "here too.\nCh 3 counts as dc, ch 2 counts as hdc.\nCounts 3.\nIt counts 1.\n",
         "pattern x1\n  1:1 begin chain 5 joined\n  2:1 row | Ch 3 (counts as dc), dc in each ch around.\n  3:1 row | "
         "Ch 3, counts as dc, dc around.\nprose 6: Counts 3.\nprose 7: It counts 1.\n"},
    };
    assert_examples(examples);
}

static void brackets_and_places_are_rows_or_remarks(void **state)
{
    static const struct example examples[] = {
        {"Ch 5.\n\n(sc, inc) 6 times.\n\n(sc, inc) x6.\n\n(sc, inc) x.\n\n((sc, inc) x 2, sc) twice.\n\n(sc, inc) "
         "again.\n\n(sc, "
         "inc\n\n(as in the picture) twice.\n\nPlace next 4 sts on hold.\n\nPlace 3 pins.\n\nPlace it in reach.\n",
         "pattern x1\n  1:1 begin chain 5\n  3:1 row | (sc, inc) 6 times.\n  5:1 row | (sc, inc) x6.\n  7:1 row | (sc, "
         "inc) "
         "x.\n  9:1 row | ((sc, inc) x 2, sc) twice.\n  17:1 row | Place next 4 sts on hold.\n  19:1 row | Place 3 "
         "pins.\n"
         "prose 11: (sc, inc) again.\nprose 13: (sc, inc\nprose 15: (as in the picture) twice.\nprose 21: Place it in "
         "reach.\n"},
        {"Make another.\n\nCh 5.\nRow 1: sc.\n\nMake tea.\n\nCrochet a second one.\n\nWork the other row.\n\nWork "
         "another rnd.\n",
         "pattern x1\n  3:1 begin chain 5\n  4:1 row [Row 1] 1-1 | sc.\n  8:1 refused | Crochet a second one. ! 8:1 "
         "the number of copies of a piece is not read here\nprose "
         "1: Make another.\nprose 6: Make tea.\nprose 10 work: Work the other row.\nprose 12 work: Work another "
         "rnd.\n"},
        {"Ch 5.\nRow 1: sc.\nCast on 4 sts, k to end.\nCast on 4 sts, in the other colour.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row [Row 1] 1-1 | sc.\n  3:1 row | Cast on 4 sts, k to end.\npattern "
         "2 "
         "x1\n  4:1 begin cast on 4\nprose 4: in the other colour.\n"},
    };
    assert_examples(examples);
}

/* A count that differs from the start above it is not attached to a row. */
static void counts_alone_are_marked(void **state)
{
    static const struct example examples[] = {
        {"20 sts.\n\nCh 20.\n\n20 sts.\n\n21 sts.\n\n(20 sts rem)\n\n(22 ch in all)\n\n20 (21) sts\n\n20 sts are "
         "here.\n\n20.\n\n2000000000 sts.\n",
         "pattern x1\n  3:1 begin chain 20\nprose 1: 20 sts.\nprose 5: 20 sts.\nprose 7 count: 21 sts.\nprose 9: (20 "
         "sts "
         "rem)\nprose 11 count: (22 ch in all)\nprose 13: 20 (21) sts\nprose 15: 20 sts are here.\nprose 17: "
         "20.\nprose 19: "
         "2000000000 sts.\n"},
        {"Ch 20.\nRow 1: sc.\n\n20 sts.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row [Row 1] 1-1 | sc.\nprose 4 count: 20 sts.\n"},
    };
    assert_examples(examples);
}

/* What has a number of rows and is no row: instructions, and remarks. */
static void numbers_of_rows_are_marked(void **state)
{
    static const struct example examples[] = {
        {"Work 18 rows of sc.\n\nCh 20.\n\nDo this for 18 (20: 22) more rows.\n\nFor the next 18 rows, sc "
         "across.\n\nStarting with "
         "ch 1, work 18 rows of sc.\n\nThen all of it thirty-six times.\n\nThe shell has 24 rows.\n\n(Both make 24 sc "
         "rows.)\n\nSew "
         "over 20 rows.\n\nGauge: 18 sts and 24 rows to 10 cm.\n\n24 rows = 10 cm.\n\nAt the end of one row, "
         "rest.\n\nNo rows "
         "are left.\n\nSize 4 rows8 rows.\n",
         "pattern x1\n  3:1 begin chain 20\nprose 1: Work 18 rows of sc.\nprose 5 instruction: Do this for 18 (20: 22) "
         "more "
         "rows.\nprose 7 instruction: For the next 18 rows, sc across.\nprose 9 work instruction: Starting with ch 1, "
         "work 18 "
         "rows of sc.\nprose 11 rows: Then all of it thirty-six times.\nprose 13 rows: The shell has 24 rows.\nprose "
         "15 rows: "
         "(Both make 24 sc rows.)\nprose 17 work rows: Sew over 20 rows.\nprose 19: Gauge: 18 sts and 24 rows to 10 "
         "cm.\nprose "
         "21: 24 rows = 10 cm.\nprose 23: At the end of one row, rest.\nprose 25: No rows are left.\nprose 27: Size 4 "
         "rows8 "
         "rows.\n"},
        {"Ch 20.\n\nNOTES\n\nDo this for 18 more rows.\n",
         "pattern x1\n  1:1 begin chain 20\nprose 5: Do this for 18 more rows.\n"},
    };
    assert_examples(examples);
}

static void counts_stand_behind_rows(void **state)
{
    static const struct example examples[] = {
        {"Ch 20.\nK to end. 72 sts.\nK to end. (72).\nK to end. - (70, 72) sts.\nK to end. - [70, 72] sts.\nK to end. "
         "20 "
         "rem.\nK 3. 20 sc.\nK 3. 1 st.\nK 3. [72]\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row | K to end. 72 sts.\n  3:1 row | K to end. (72).\n  4:1 row | K "
         "to end. - (70, 72) sts.\n  5:1 row | K to end. - [70, 72] sts.\n  6:1 row | K to end. 20 rem.\n  7:1 row | K "
         "3. 20 sc.\n  8:1 row | K 3. 1 st.\n  9:1 row | K 3. [72]\n"},
        {"Ch 20.\nK 3. 20 sc in next 20 sc.\nK 3. 4 mm of lace. They are 20 sts.\nK 3. - 20 sts.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row | K 3.\n  2:6 row | 20 sc in next 20 sc.\n  3:1 row | K 3.\n  "
         "4:1 "
         "row | K 3.\nprose 3: 4 mm of lace.\nprose 3: They are 20 sts.\nprose 4 count: - 20 sts.\n"},
        {"Ch 20.\nK 3. 20 sts are on the needle, as many as at the start of the piece.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row | K 3.\nprose 2: 20 sts are on the needle, as many as at the "
         "start of "
         "the piece.\n"},
    };
    assert_examples(examples);
}

static void chains_go_on_or_begin(void **state)
{
    static const struct example examples[] = {
        {"Ch 20.\nRow 1: sc.\nCh 3, dc in each st around.\nCh 20, sc in 2nd ch from hook.\nCh 3, dc in next ch-2 "
         "sp.\nCh 6 for the tie.\nRow 1: sc.\nCh 10, dc in first st. Sc in each ch.\nCh 10, sc in each ch.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row [Row 1] 1-1 | sc.\n  3:1 row | Ch 3, dc in each st around.\n"
         "pattern 2 x1\n  4:1 begin chain 20\n  4:8 row | sc in 2nd ch from hook.\n  5:1 row | Ch 3, dc in next ch-2 "
         "sp.\npattern 3 x1\n  6:1 begin chain 6\n  7:1 row [Row 1] 1-1 | sc.\n  8:1 row | Ch 10, dc in first st.\n  "
         "8:24 row | Sc in each ch.\npattern 4 x1\n  9:1 begin chain 10\n  9:8 row | sc in each ch.\nprose 6 work: for "
         "the tie.\n"},
        {"Ch 20.\nCh 4, join. Ch 3, 12 dc in ring.\n", "pattern x1\n  1:1 begin chain 20\npattern 2 x1\n  2:1 begin "
                                                       "ring 4 joined\n  2:13 row | Ch 3, 12 dc in ring.\n"},
    };
    assert_examples(examples);
}

/* "Row 1: Ch 20, sc in 2nd ch from hook": a row that begins a piece. */
static void rows_begin_pieces(void **state)
{
    static const struct example examples[] = {
        {"Row 1: Ch 20.\nRow 2: sc.\n", "pattern x1\n  1:8 begin chain 20\n  2:1 row [Row 2] 2-2 | sc.\n"},
        {"Rnd 1: Ch 4, join, 12 dc in ring.\n",
         "pattern x1\n  1:8 begin ring 4 joined\n  1:1 row [Rnd 1] 1-1 | 12 dc in ring.\n"},
        {"Rnd 1: Ch 20, join, ch 1, sc around.\n",
         "pattern x1\n  1:8 begin chain 20 joined\n  1:1 row [Rnd 1] 1-1 | ch 1, sc around.\n"},
        {"Row 1: Ch 3, dc in each st.\n", "pattern x1\n  1:1 row [Row 1] 1-1 | Ch 3, dc in each st.\n"},
        {"Row 1: Cast on 20 sts, k to end.\nRow 2: p.\nRow 1: Cast on 5 sts, k.\nRow 1: Cast on 30 sts.\n",
         "pattern x1\n  1:8 begin cast on 20\n  1:1 row [Row 1] 1-1 | k to end.\n  2:1 row [Row 2] 2-2 | p.\n  3:1 row "
         "[Row 1] 1-1 | Cast on 5 sts, k.\npattern 2 x1\n  4:8 begin cast on 30\n"},
        {"Row 1: Cast on 20 sts with trim and 4 mm needles.\n", "pattern x1\n  1:8 begin trim 4mm cast on 20\n"},
        {"# Sleeve\nRow 1: Join yarn at underarm, sc 20.\nRow 1: Join yarn at neck, sc 3.\nRow 1: Work on the 44 held "
         "sts, k.\nRow 2: Ch 20.\nNext row: Ch 20.\nRow 1 (1, 1): Ch 20.\n# Yoke\nRow 1: Work on the 44 held sts, k.\n",
         "Sleeve x1\n  2:8 begin join 0\n  2:1 row [Row 1] 1-1 | sc 20.\n  3:1 row [Row 1] 1-1 | Join yarn at neck, sc "
         "3.\n  4:1 row [Row 1] 1-1 | Work on the 44 held sts, k.\n  5:1 row [Row 2] 2-2 | Ch 20.\n  6:1 row [Next "
         "row] "
         "| Ch 20.\n  7:1 row [Row 1 (1, 1)] 1/1/1-1/1/1 | Ch 20.\nYoke x1\n  9:8 begin held 44\n  9:1 row [Row 1] 1-1 "
         "| "
         "k.\n"},
        {"Ch 5.\nRow 1: Ch 20.\nRow 1: Pick up and knit 20 sts, k.\nRow 2: k.\nRow 1: Fsc 20.\nRnd 1: 6 sc in "
         "ring.\nRow 2: "
         "Sc.\nRnd 1: Magic ring.\nRnd 2: With MC, sc.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row [Row 1] 1-1 | Ch 20.\npattern 2 x1\n  3:8 begin pick up 20\n  3:1 "
         "row [Row 1] 1-1 | k.\n  4:1 row [Row 2] 2-2 | k.\n  5:1 row [Row 1] 1-1 | Fsc 20.\npattern 3 x1\n  6:8 begin "
         "ring 0 "
         "joined\n  6:1 row [Rnd 1] 1-1 | 6 sc in ring.\n  7:1 row [Row 2] 2-2 | Sc.\npattern 4 x1\n  8:8 begin ring 0 "
         "joined\n  9:1 row [Rnd 2] 2-2 main | sc.\n"},
        {"Row 1: Join MC at underarm, sc in 20 sts.\nRow 2: Join CC, sc.\n",
         "pattern x1\n  1:8 begin main join 0\n  1:1 row [Row 1] 1-1 main | sc in 20 sts.\n  2:1 row [Row 2] 2-2 trim "
         "| sc.\n"},
        {"Ch 5.\nRow 1: sc.\n# Cap\nRow 1: Ch 30, join, sc around.\nRow 2: Work even until it measures 20 (22) cm.\n# "
         "Rim\nRow "
         "1: Ch 3, join, sc around.\n",
         "pattern x1\n  1:1 begin chain 5\n  2:1 row [Row 1] 1-1 | sc.\nCap x1\n  4:8 begin chain 30 joined\n  4:1 row "
         "[Row 1] 1-1 | sc around.\n  5:1 refused [Row 2] 2-2 | Work even until it measures 20 (22) cm. ! 5:36 " WRONG
         " Rim\n  7:1 row [Row 1] 1-1 | Ch 3, join, sc around.\n"},
        {"Row 1: Ch 20 (22), sc in 2nd ch from hook. (20) (22)\nRow 2 (3): Rep row 1 2 (3) times.\n",
         "pattern x1\n  1:8 begin chain 20 ! 1:11 " WRONG
         "  1:1 row [Row 1] 1-1 | sc in 2nd ch from hook. (20) (22)\n  2:1 "
         "refused [Row 2 (3)] 2-2 | Rep row 1 2 (3) times. ! 2:5 " WRONG},
    };
    assert_examples(examples);
}

static void joined_yarn_begins_work(void **state)
{
    static const struct example examples[] = {
        {"Join MC at underarm. Sc in 20 sts.\nJoin CC, sc 20.\nJoin yarn at neck, sc 3.\n",
         "pattern x1\n  1:1 begin main join 0\n  1:22 row main | Sc in 20 sts.\n  2:10 row trim | sc 20.\n  3:1 row "
         "trim | Join yarn at neck, "
         "sc 3.\n"},
        {"With MC and trim.\nCh 5.\n", "pattern x1\n  1:1 refused main | With MC and trim. ! 1:1 several yarns are "
                                       "named together\npattern 2 x1\n  2:1 begin main chain 5\n"},
        {"# Cap\nWith MC, k 20.\nRow 1: With MC and trim, k1 trim, k1 MC.\nRow 2: With MC and lace, k.\nChange to "
         "smaller hook.\nChange to smaller hook, k 3.\n",
         "Cap x1\n  2:10 row main | k 20.\n  3:1 row [Row 1] 1-1 main | k1 trim, k1 MC.\n  4:1 refused [Row 2] 2-2 "
         "main "
         "| k. ! 4:8 several yarns are named together\n  5:1 refused main | Change to smaller hook. ! 5:11 the tool "
         "cannot be identified: the text does not name two\n  6:25 refused main | k 3. ! 6:11 the tool cannot be "
         "identified: the text does not name two\n"},
        {"# Cap\nWith MC and trim, rep row 1 2 times.\nWith MC and trim, ch 20.\nCh 20 using smaller hook.\n",
         "Cap x1\n  2:19 refused main | rep row 1 2 times. ! 2:1 several yarns are named together\nCap 2 x1\n  3:19 "
         "begin "
         "main chain 20 ! 3:1 several yarns are named together\nCap 3 x1\n  4:1 begin main chain 20 ! 4:13 the tool "
         "cannot be identified: the text does not name two\n"},
        {"# Hem\nWith MC.\nWith MC, work as cap.\n# Rim\nWork as hem.\nWork as the cap.\n",
         "Hem x1\n  3:10 begin main nothing 0\n  3:10 reference main as 'cap'\nRim x1\n  5:1 begin main nothing 0\n  "
         "5:1 "
         "reference main as 'hem'\nprose 6 work: Work as the cap.\n"},
        {"Work even for 4 rows.\nWork at the same time 3.\nCh 5.\nAt same time, work 3 sc.\n",
         "pattern x1\n  3:1 begin chain 5\n  4:1 refused | At same time, work 3 sc. ! 4:1 two shapings at the same "
         "time "
         "are not read\nprose 1: Work even for 4 rows.\nprose 2: Work at the same time 3.\n"},
    };
    assert_examples(examples);
}

/* Changes and cuts at the end of a row apply after it. */
static void what_stands_behind_a_row_comes_after_it(void **state)
{
    static const struct example examples[] = {
        {"Ch 20.\nRow 1: K. Change to CC.\nRow 2: K. With CC, k. Fasten off.\nRow 3: K. Fasten off and pray. So be "
         "it.\nRow "
         "4: k. Join MC.\nRow 5: K. Change to lace. Then go.\nRow 6: K 3 (with MC), changing to the stove.\nRow 7: K "
         "in CC and "
         "lace.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row [Row 1] 1-1 | K.\n  3:1 row [Row 2] 2-2 trim | K. With CC, k.\n  "
         "3:23 cut "
         "trim 0.00 m\n  4:1 row [Row 3] 3-3 trim | K. Fasten off and pray.\n  5:1 row [Row 4] 4-4 trim | k. Join "
         "MC.\n  "
         "6:1 row [Row 5] 5-5 trim | K.\n  7:1 row [Row 6] 6-6 lace | K 3 (with MC), changing to the stove.\n  8:1 row "
         "[Row "
         "7] 7-7 main | K in CC and lace.\nprose 4: So be it.\nprose 6: Then go.\n"},
        {"Ch 20.\nRow 1: Sc 3. Stuff firmly. Mark it.\nRow 2: Sc 3. Stuff firmly. Sc 4.\nRow 3: Sc 3. 4 more.\nRow 4: "
         "Sc 3. "
         "Stuff 4.\nRow 5: Sc 3. Stuff *it*.\nRow 6: Sc 3. Sc is hard.\nRow 7: Sc 3. Stuff firmly. Then rest.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row [Row 1] 1-1 | Sc 3. Stuff firmly. Mark it.\n  3:1 row [Row 2] "
         "2-2 "
         "| Sc 3. Stuff firmly. Sc 4.\n  4:1 row [Row 3] 3-3 | Sc 3. 4 more.\n  5:1 row [Row 4] 4-4 | Sc 3. Stuff 4.\n "
         " "
         "6:1 row [Row 5] 5-5 | Sc 3. Stuff *it*.\n  7:1 row [Row 6] 6-6 | Sc 3. Sc is hard.\n  8:1 row [Row 7] 7-7 | "
         "Sc "
         "3.\nprose 8: Stuff firmly.\nprose 8: Then rest.\n"},
    };
    assert_examples(examples);
}

static void rows_may_have_names(void **state)
{
    static const struct example examples[] = {
        {"Ch 20.\nDivide for arms: Sc in 12 sts.\nDivide in the very middle: sc 12.\nNote 3: sc 3 is one.\nGauge: sc "
         "12.\nDivide: with care.\nSc 3, then: ch 1.\nSee a:b.\n",
         "pattern x1\n  1:1 begin chain 20\n  2:1 row [Divide for arms] | Sc in 12 sts.\n  3:1 row | Divide in the "
         "very "
         "middle: sc 12.\n  7:1 row | Sc 3, then: ch 1.\nprose 4: Note 3: sc 3 is one.\nprose 5: Gauge: sc 12.\nprose "
         "6: "
         "Divide: with care.\nprose 8: See a:b.\n"},
        {"Divide: Sc 12 in all.\nCh 5.\n", "Divide := Sc 12 in all\npattern x1\n  2:1 begin chain 5\n"},
    };
    assert_examples(examples);
}

static void sizes_hold_until_others_are_named(void **state)
{
    static const struct example examples[] = {
        {"Ch 5.\nSize L only:\nRow 5: sc.\nAll sizes: Row 6: sc.\nRow 7: sc.\n",
         "pattern x1\n  1:1 begin chain 5\n  3:1 row [Row 5] 5-5 only-L | sc.\n  4:12 row [Row 6] 6-6 | sc.\n  5:1 row "
         "[Row 7] 7-7 | sc.\n"},
        /* A number for each size ends the limit, except on the same line. */
        {"Ch 5.\nSize L only:\nRow 5 (6, 7): sc.\nRow 8: sc.\nSize L only: Row 5 (6, 7): sc.\n",
         "pattern x1\n  1:1 begin chain 5\n  3:1 row [Row 5 (6, 7)] 5/6/7-5/6/7 | sc.\n  4:1 row [Row 8] 8-8 | sc.\n  "
         "5:14 "
         "row [Row 5 (6, 7)] 5/6/7-5/6/7 only-L | sc.\n"},
        {"Ch 5.\nSize L only:\nRow 5: sc.\n\nRow 6: sc.\n",
         "pattern x1\n  1:1 begin chain 5\n  3:1 row [Row 5] 5-5 only-L | sc.\n  5:1 row [Row 6] 6-6 | sc.\n"},
        {"Size Q only: Sc 3.\n\n# Toy\nSize Q only: Sc 3.\n",
         "Toy x1\n  4:1 refused | Size Q only: Sc 3. ! 4:1 the sizes of this line cannot be read\nprose 1: Size Q "
         "only: "
         "Sc "
         "3.\n"},
        {"Size L only: sc 20.\n", "pattern x1\n  1:14 row only-L | sc 20.\n"},
        {"Size L only:\nSc 20.\n", "pattern x1\n  2:1 row only-L | Sc 20.\n"},
    };
    assert_examples(examples);
}

static void stitch_patterns_stand_before_the_pieces(void **state)
{
    static const struct example examples[] = {
        {"K2, p2 rib (multiple of 4):\nRow 1: *K2, p2*.\n\n# Cuff\nCh 5.\n",
         "stitch pattern K2, p2 rib\n  2:1 row [Row 1] 1-1 | *K2, p2*.\nCuff x1\n  5:1 begin chain 5\n"},
        {"With 5 mm hook, ch 20:\nRow 1: sc.\n",
         "pattern x1\n  1:17 begin 5mm chain 20\n  2:1 row [Row 1] 1-1 5mm | sc.\n"},
        {"The ferry leaves the quay, and the studio on it, three times a day:\nCh 5.\n",
         "The ferry leaves the quay, and the studio on it, three times a day x1\n  2:1 begin chain 5\n"},
        {"The ferry leaves the quay, and the studio on it, for four times a day:\nCh 5.\n",
         "pattern x1\n  2:1 begin chain 5\nprose 1: The ferry leaves the quay, and the studio on it, for four times a "
         "day:\n"},
        {"NOTES\n\nMoss st:\nRow 1: *K1, p1*.\nShells:\nRow 1: sc.\n\n:\n\nWith 5 mm hook, ch 20:\nRow 1: sc.\n",
         "stitch pattern Moss st\n  4:1 row [Row 1] 1-1 | *K1, p1*.\nShells x1\n  6:1 row [Row 1] 1-1 | sc.\nShells 2 "
         "x1\n  "
         "10:17 begin 5mm chain 20\n  11:1 row [Row 1] 1-1 5mm | sc.\nprose 8: :\n"},
    };
    assert_examples(examples);
}

/* The lines of the project: piece, part, tool, and the number of rows in each size. */
static void a_change_of_tool_makes_another_line(void **state)
{
    static const char *const sizes[] = {"S", "M", "L"}, *const yarns[] = {"main"};
    const struct hk_row_words words = {
        .catalogue = *state, .size_count = 3, .size_names = sizes, .yarns = yarns, .yarn_count = 1};
    struct hk_arena arena = {0};
    struct hk_written written;
    struct out *out = calloc(1, sizeof *out);
    assert_non_null(out);
    assert_true(
        hk_written_read("# Body\nWith 5 mm hook, ch 20.\nRow 1: sc.\nWith 4 mm hook, sc in 3 sts.\nRows 2 (2, "
                        "-)-9 (8, -): With 3 mm hook, sc.\nNECK\nSize L only: Row 10: sc.\nRow 11 : With 4 mm hook, "
                        "sc.\nNext 2 rows: sc.\nWith 5 mm hook, sc in 3 sts.\nChange to 4 mm hook. Fasten off.\n",
                        "pattern.txt", &words, &written, &arena));
    for (size_t i = 0; i < written.work_count; i++) {
        const struct hk_written_line *line = &written.works[i];
        put(out, "%s|%s|%g:", written.pieces[line->piece].name, line->part, line->tool_mm);
        for (size_t size = 0; size < 3; size++) {
            int64_t rows = 0;
            for (size_t e = 0; e < line->count; e++)
                rows += hk_entry_rows(&written.entries[line->first + e], size);
            put(out, " %" PRId64, rows);
        }
        put(out, "\n");
    }
    /* The beginning of a piece counts as one row here. */
    assert_string_equal(out->text,
                        "Body||5: 2 2 2\nBody|from line 4|4: 1 1 1\nBody|from Rows 2|3: 8 7 0\n"
                        "Body|NECK|3: 0 0 1\nBody|NECK, from Row 11|4: 3 3 3\nBody|NECK, from line 10|5: 2 2 2\n");
    free(out);
    hk_arena_free(&arena);
}

static void what_is_too_large_is_refused(void **state)
{
    enum { line_bytes = 17 << 10, pieces = 2001 };
    const struct hk_row_words words = {
        .catalogue = *state, .size_count = 1, .size_names = (const char *const[]){"S"}, .yarns = NULL, .yarn_count = 0};
    struct hk_arena arena = {0};
    struct hk_written written;
    char *text = calloc(1, line_bytes + 20);
    assert_non_null(text);
    strcpy(text, "Ch 5.\nRow 1: ");
    for (size_t i = strlen(text); i < line_bytes; i += 4)
        memcpy(text + i, "sc, ", 4);
    assert_true(hk_written_read(text, "pattern.txt", &words, &written, &arena));
    assert_int_equal(written.entry_count, 2);
    assert_string_equal(written.entries[1].problem.text, "a line of more than 16 kB is not read");
    text[0] = '\0';
    for (size_t i = 0; i < pieces; i++)
        memcpy(text + 7 * i, "Ch 9.\n\n", 8);
    assert_true(hk_written_read(text, "pattern.txt", &words, &written, &arena));
    assert_int_equal(written.piece_count, pieces - 1);
    assert_string_equal(written.entries[pieces - 1].problem.text, "more than 2000 pieces are not read");
    free(text);
    hk_arena_free(&arena);
}

static void conventions_are_settled_by_words(void **state)
{
    (void)state;
    enum {
        CH2 = 1u << HK_CONVENTION_CH2,
        CH3 = 1u << HK_CONVENTION_CH3,
        CH4 = 1u << HK_CONVENTION_CH4,
        OTHER = 1u << HK_CONVENTION_CH_OTHER
    };
    static const struct {
        const char *text;
        unsigned settled, other;
    } cases[] = {
        {"Ch 3 does not count as a st.", 1u << HK_CONVENTION_CH3, 1u << HK_CONVENTION_CH3},
        {"ch-3 counts as first dc throughout", 1u << HK_CONVENTION_CH3, 0},
        {"The 2 ch at the start of a row counts as 1 htr.", 1u << HK_CONVENTION_CH2, 1u << HK_CONVENTION_CH2},
        {"Turning ch counts as a stitch",
         1u << HK_CONVENTION_CH2 | 1u << HK_CONVENTION_CH3 | 1u << HK_CONVENTION_CH4 | 1u << HK_CONVENTION_CH_OTHER,
         1u << HK_CONVENTION_CH2 | 1u << HK_CONVENTION_CH_OTHER},
        {"The skipped ch do not count as a dc.", 1u << HK_CONVENTION_SKIPPED_DC, 1u << HK_CONVENTION_SKIPPED_DC},
        {"Join = sl st in top of ch-3.", 1u << HK_CONVENTION_CH3, 0},
        {"ch 1 does not count as a st", 0, 0},
        {"Join = sl st in first dc", CH3, CH3},
        {"Join: ss in first tr", CH3, CH3},
        {"Join = sl st in first st", 0, 0},
        {"Join = sl st in top of first st", 0, 0},
        {"Join = sl st in top of beg ch", CH3 | CH4, 0},
        {"Join: sl st in top of ch-4", CH4, 0},
        {"Join = sl st in top of beg ch 2", CH2, CH2},
        {"Join = sl st in top of ch1", OTHER, OTHER},
        {"Chain 2 counts as hdc, ch 3 never counts.", CH2 | CH3, CH2 | CH3},
        {"Ch 3 counts as first dc, do not turn.", CH3, 0},
        {"Ch-4 counts as dc and ch-1 sp.", CH4, 0},
        {"Turning ch 5 doesn't count, don't skip it.", OTHER, 0},
        {"Ch 3 isn't to be counted; ch 6 is counted.", CH3 | OTHER, CH3 | OTHER},
        {"Ch 3 counts, don't skip it.", CH3, 0},
        {"Ch 1 counts as sc.", OTHER, OTHER},
        {"The 12-ch counts as a st.", OTHER, OTHER},
        {"The 1000 ch count as a st.", OTHER, OTHER},
        {"2 ch do not count", CH2, 0},
        {"Tch counts as a st, the ch 3 is worked last.", CH2 | CH3 | CH4 | OTHER, CH2 | OTHER},
        {"The 2 skipped ch count as hdc.", 1u << HK_CONVENTION_SKIPPED_HDC, 1u << HK_CONVENTION_SKIPPED_HDC},
        {"Missed ch do not count as htr.", 1u << HK_CONVENTION_SKIPPED_HDC, 0},
        {"Skipped ch count as dc.", 1u << HK_CONVENTION_SKIPPED_DC, 0},
        {"Each ch-2 sp counts as 2 sts.", 1u << HK_CONVENTION_SPACES, 1u << HK_CONVENTION_SPACES},
        {"Ch sps do not count.", 1u << HK_CONVENTION_SPACES, 0},
        {"Ch spaces are not counted.", 1u << HK_CONVENTION_SPACES, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_conventions conventions = {0};
        assert_true(hk_convention_read(cases[i].text, &conventions));
        if (conventions.settled != cases[i].settled || conventions.other != cases[i].other)
            fail_msg("%s: settled %x, other %x", cases[i].text, conventions.settled, conventions.other);
    }
    static const char *const others[] = {"Count your stitches.", "Join with sl st in first dc.", "Join = knot.",
                                         "The discount counts.", "Each stitch counts.",          "Chained sts count."};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        struct hk_conventions conventions = {0};
        if (hk_convention_read(others[i], &conventions) || conventions.settled)
            fail_msg("%s is read", others[i]);
    }
}

/* "name|other name: steps"; "" if it defines nothing. */
static void words_are_defined(void **state)
{
    (void)state;
    static const struct {
        const char *text, *expected;
    } cases[] = {
        {"shell = 5 dc in same st", "shell|: 5 dc in same st"},
        {"Picot: ch 3, sl st in 3rd ch from hook.", "Picot|: ch 3, sl st in 3rd ch from hook"},
        {"V-st (dc, ch 1, dc)", "V-st|: (dc, ch 1, dc)"},
        {"V-st (dc, ch 1, dc) .", "V-st|: (dc, ch 1, dc)"},
        {"Cluster (CL) = dc3tog", "Cluster|CL: dc3tog"},
        {"Cluster (CL): dc3tog . ", "Cluster|CL: dc3tog"},
        {"Big puff st - 5 hdc in foll. st", "Big puff st|: 5 hdc in foll. st"},
        {"C4F = slip 2, k2, k2 from the needle", "C4F|: slip 2, k2, k2 from the needle"},
        {"Ch 26 (30, 34)", ""},
        {"Ch 26 = (30, 34)", "Ch 26|: (30, 34)"},
        {"V-st (dc, ch 1, dc) in corner", ""},
        {"V-st (dc, ch 1, dc", ""},
        {"A name of four words = 5 dc", ""},
        {"shell = many dc", ""},
        {"tr - treble", ""},
        {"= 5 dc", ""},
        {"(CL) = 5 dc", ""},
        {"5 dc = shell 1", ""},
        {"Join = sl st 1", ""},
        {"Gauge: 16 sts", ""},
        {"Work 5 dc.", ""},
        {"Work 5 dc", ""},
        {"Workingwithoutamarkforfartoolongtobeaname = 5 dc", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_arena arena = {0};
        const char *name, *also;
        size_t at, length;
        char text[200] = "";
        if (hk_definition_find(cases[i].text, &name, &also, &at, &length, &arena))
            snprintf(text, sizeof text, "%s|%s: %.*s", name, also ? also : "", (int)length, cases[i].text + at);
        if (strcmp(text, cases[i].expected) != 0)
            fail_msg("%s: \"%s\" and not \"%s\"", cases[i].text, text, cases[i].expected);
        hk_arena_free(&arena);
    }
}

/* The number of bytes taken, and the number of each of three sizes. */
static void times_are_read(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        size_t bytes;
        int64_t times[3];
        bool wrong;
    } cases[] = {
        {"make 2", 6, {2, 2, 2}, false},
        {"Make 2.", 7, {2, 2, 2}, false},
        {"(make 2 (3, 4))", 15, {2, 3, 4}, false},
        {"[make two]", 10, {2, 2, 2}, false},
        {"x 3", 3, {3, 3, 3}, false},
        {"x3", 2, {3, 3, 3}, false},
        {"X3", 2, {3, 3, 3}, false},
        {"(2)", 3, {2, 2, 2}, false},
        {"(2x)", 4, {2, 2, 2}, false},
        {"make 2:", 7, {2, 2, 2}, false},
        {"(make 2, one of them in CC)", 27, {2, 2, 2}, false},
        {"Make 2, one by one.", 7, {2, 2, 2}, false},
        {"(make 2, one of them", 20, {2, 2, 2}, false},
        {"Knit 2, purl 2.", 0, {0}, false},
        {"Make 2: one", 0, {0}, false},
        {"(2 alike)", 9, {2, 2, 2}, false},
        {"Work 2 pieces.", 14, {2, 2, 2}, false},
        {"Both alike", 10, {2, 2, 2}, false},
        {"(both the same)", 15, {2, 2, 2}, false},
        {"make 2 (3)", 10, {2, 2, 2}, true},
        {"(make 2 (3))", 12, {2, 2, 2}, true},
        {"make 2 (3, 4, 5)", 16, {2, 2, 2}, true},
        {"Make 2 (3) rows", 0, {0}, false},
        {"(make 2", 0, {0}, false},
        {"make 2 rows", 0, {0}, false},
        {"make them", 0, {0}, false},
        {"2", 0, {0}, false},
        {"(worked flat)", 0, {0}, false},
        {"xs", 0, {0}, false},
        {"", 0, {0}, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_arena arena = {0};
        struct hk_graded_count times;
        bool wrong;
        size_t bytes = hk_times_read(cases[i].text, 3, &times, &wrong, &arena);
        bool right = bytes == cases[i].bytes && (bytes == 0 || wrong == cases[i].wrong);
        for (size_t size = 0; size < 3 && bytes > 0; size++)
            right = right && hk_graded_in(times, size) == cases[i].times[size];
        if (!right)
            fail_msg("%s: %zu bytes, %" PRId64 "%s", cases[i].text, bytes, bytes ? times.one : 0,
                     bytes && wrong ? ", wrong" : "");
        hk_arena_free(&arena);
    }
}

static void some_headings_name_no_piece(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        bool silent, gauge;
    } cases[] = {
        {"NOTES", true, false},          {"Notes:", true, false},
        {"Sizes (to fit)", true, false}, {"Gauge", true, true},
        {"TENSION :", true, true},       {"Gauge swatch", true, true},
        {"Gauged sleeve", false, false}, {"Yarn bag", false, false},
        {"Body", false, false},          {":", false, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        bool gauge, silent = hk_heading_silent(cases[i].text, &gauge);
        if (silent != cases[i].silent || gauge != cases[i].gauge)
            fail_msg("%s", cases[i].text);
    }
}

/* Each colour with its rows, the text after them, and, after "!", the byte of the unreadable part. */
static void colours_come_in_turn(void **state)
{
    static const char *const sizes[] = {"S", "M", "L"}, *const yarns[] = {"A", "B", "MC", "CC"};
    static const struct {
        const char *text, *expected;
    } cases[] = {
        {"Colour sequence: A, B, MC; work 1 rnd each.", "A 1, B 1, MC 1"},
        {"Stripe pattern (6 rows): 2 rows A, 4 rows B.", "A 2, B 4"},
        {"Stripe pattern (6 rows) 2 rows A, 4 rows B.", "none"},
        {"Stripe pattern (6 rows)", "none"},
        {"Stripe pattern (A and B): 2 rows A, 4 rows B.", "none"},
        {"Stripe pattern (see chart): 2 rows A, 4 rows B", "none"},
        {"Stripe pattern = 2 rows A, 4 rows B", "A 2, B 4"},
        {"Stripe pattern - 2 rows A, 4 rows B", "A 2, B 4"},
        {"Stripe pattern", "none"},
        {"Stripe pattern 2 rows A, 4 rows B.", "none"},
        {"Work in the following stripe sequence: A for 2 rows, B for 4 rows; rep.", "A 2, B 4"},
        {"Stripe sequence: 2 (4, 6) rows A, 4 rows B.", "A 2/4/6, B 4"},
        {"Stripe sequence: 2 (4) rows A, 4 rows B.", "A 2, B 4 wrong at 18"},
        {"Stripe sequence: 2 (4, 6, 8) rows A, 4 (5, 6, 7) rows B.", "A 2, B 4 wrong at 18"},
        {"Stripe sequence: 2, 4 rows A, 4 rows B.", " ! 17 these colours are not read"},
        {"Alternate 2 rows A and 2 rows B.", "A 2, B 2"},
        {"Alternate 2 rows with the yarn A and 2 rows in colour B.", "A 2, B 2"},
        {"Stripes: A (2 rows), B (4 rows).", "A 2, B 4"},
        {"Stripes: (A 2 rows, B 4 rows).", "A 2, B 4"},
        {"Stripes: (A 2 rows), (B 4 rows).", "A 2 ! 9 these colours are not read"},
        {"Stripes: A, B 2 rows each.", "A 2, B 2"},
        {"Stripes: A, B, 2 rows each.", "A 2, B 2"},
        {"Stripes: A, B (2 rows each).", "A 2, B 2"},
        {"Stripes: 2 rows each of A, B and MC.", "A 2, B 2, MC 2"},
        {"Stripes: 2 rows A, B 4 rows.", "A 2, B 4"},
        {"Stripes: 2 rows A (2 rows), B 4 rows.", "A 2 ! 9 these colours are not read"},
        {"Stripes: A, B, changing colour every 2 rows.", "A 2, B 2"},
        {"Stripes: A, B, change colour every other row.", "A 2, B 2"},
        {"Stripes: A, B, change every row.", "A 1, B 1"},
        {"Stripes: A, B, changing colour.", "A 0, B 0 ! 13 the words after these colours are not read"},
        {"Stripes: A, B, 2 rows.", "A 0, B 0 ! 13 the words after these colours are not read"},
        {"Stripes: A, B. Work 1 row each.", "A 1, B 1"},
        {"Stripes: A, 4 rows B, work 2 rows each.", "A 0, B 4 ! 20 the words after these colours are not read"},
        {"Stripes: 2 rows A, 4 rows B, carrying yarn up the side. Next.", "A 2, B 4 carried | Next."},
        {"Stripes: 2 rows A, 4 rows B; do not cut; rep.", "A 2, B 4 carried"},
        {"Stripes: 2 rows A, 4 rows B for 20 rows.", "A 2, B 4 goes on |for 20 rows."},
        {"Stripes: 2 rows A, 4 rows B until work measures 20 cm.", "A 2, B 4 goes on |until work measures 20 cm."},
        {"Stripes: 2 rows A, 4 rows B;", "A 2, B 4"},
        {"Stripes: 2 rows A, 4 rows B; then sew.", "A 2, B 4 ! 27 the words after these colours are not read"},
        {"Stripes: 2 rows A, 4 rows B) Next.", "A 2, B 4 ! 29 the words after these colours are not read"},
        {"Stripes: 2 rows A, 4 rows B ending with A.", "A 2, B 4 ! 28 the words after these colours are not read"},
        {"Stripes: see chart", "none"},
        {"Stripes: see chart 3", " ! 9 these colours are not read"},
        {"Stripes: MC by chart", "MC 0 ! 9 these colours are not read"},
        {"Stripes: *2 rows A, 4 rows B; rep from * 3 rows.", "A 2, B 4"},
        {"Stripes: 2 rows A.", "A 2 ! 9 these colours are not read"},
        {"Stripes: 0 rows A, 2 rows B.", "A 0, B 2 ! 9 the number of rows of each of these colours is not stated"},
        {"Stripes: 0 (2, 2) rows A, 2 rows B.", "A 0/2/2, B 2"},
        {"Stripes: 2 rows A / 2 rows B & 1 row MC then 1 row CC.", "A 2, B 2, MC 1, CC 1"},
        {"Stripes: 2.5 rows A, 2 rows B", " ! 9 these colours are not read"},
        {"Stripes: 2 rows A.B, 2 rows MC.", "A 2 ! 9 these colours are not read"},
        {"Stripes of 2 rows A and 2 rows B.", "A 2, B 2"},
        {"Work stripes in this order: 2 rows A, 2 rows B; then as set.",
         "A 2, B 2 ! 46 the words after these colours are not read"},
        {"Stripes: A, B, A, B every 2 rows, 3 rows each",
         "A 2, B 2, A 2, B 2 ! 32 the words after these colours are not read"},
        {"Stripes: 2 (2, 4) rows A, B, work 2 rows each.",
         "A 2/2/4, B 0 ! 27 the words after these colours are not read"},
        {"Stripes: A, B, work 2 rows.", "A 0, B 0 ! 13 the words after these colours are not read"},
        {"Stripes: A, B every 2 rows before changing.", "A 2, B 2"},
        {"Stripes: 2 rows A, 4 rows B, work 1 row each.", "A 2, B 4 ! 27 the words after these colours are not read"},
        {"Stripes: 2 (2, 4) rows A, 2 rows B, work 2 rows each.",
         "A 2/2/4, B 2 ! 34 the words after these colours are not read"},
        {"Stripes: 2 (2, 4) rows A, 2 (2, 4) rows B, work 2 (2, 4) rows each.", "A 2/2/4, B 2/2/4"},
        {"Stripes: A, B every 2 (2, 4) rows.", "A 2/2/4, B 2/2/4"},
        {"Stripes: A, B every 2.", "A 0, B 0 ! 14 the words after these colours are not read"},
        {"Stripes: A, B each.", "A 0, B 0 ! 14 the words after these colours are not read"},
        {"Stripes: A x 2 rows, B - 4 rows.", "A 2, B 4"},
        {"Stripes: A (x), B 4 rows.", "A 0 ! 9 these colours are not read"},
        {"Stripes: A (2 rows, B 4 rows.", "A 2, B 4"},
        {"Stripes: A 2 rows), B 4 rows.", "A 2 ! 9 these colours are not read"},
        {"Stripe pattern (6 rows", "none"},
        {"Stripe pattern (6 rows):", "none"},
        {"Stripes of", "none"},
        {"Stripes:", "none"},
        {"Stripes: 2 rows, 4 rows B.", " ! 9 these colours are not read"},
        {"Stripes: 2 A, 4 B.", " ! 9 these colours are not read"},
        {"Stripes: A, B, 2 stitches each.", "A 0, B 0 ! 13 the words after these colours are not read"},
        {"Stripes: 2 rows A, 4 rows B.Next", "A 2, B 4 |Next"},
        {"Stripes: 2 rows A, 4 rows B. Next 1.5", "A 2, B 4 | Next 1.5"},
        {"Stripes: chart A.", " ! 9 these colours are not read"},
        {"Stripes: 2 rows A, 4 rows B; (rep", "A 2, B 4"},
        {"Stripes (2 rows A, 4 rows B)", "none"},
        {"Stripes: 2 (4) rows A, 2 (4) rows B.", "A 2, B 2 wrong at 10"},
    };
    const struct hk_row_words words = {
        .catalogue = *state, .size_count = 3, .size_names = sizes, .yarns = yarns, .yarn_count = 4};
    const struct hk_setting_words setting_words = {.words = &words, .main_named = true};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_arena arena = {0};
        struct out out = {0};
        struct hk_colours colours;
        if (!hk_colours_read(cases[i].text, &setting_words, &colours, &arena)) {
            put(&out, "none");
            colours = (struct hk_colours){.length = strlen(cases[i].text)};
        }
        for (size_t c = 0; c < colours.count; c++) {
            put(&out, "%s%s ", c ? ", " : "", yarns[colours.colours[c].role]);
            put_number(&out, colours.colours[c].rows, 3);
        }
        put(&out, "%s%s", colours.carried ? " carried" : "", colours.goes_on ? " goes on" : "");
        if (colours.wrong)
            put(&out, " wrong at %zu", colours.wrong);
        if (cases[i].text[colours.length])
            put(&out, " |%s", cases[i].text + colours.length);
        if (colours.problem)
            put(&out, " ! %zu %s", colours.problem_at, colours.problem);
        assert_string_equal(out.text, cases[i].expected);
        hk_arena_free(&arena);
    }
}

/* At most 64 colours are read. */
static void as_many_colours_as_are_read(void **state)
{
    static const char *const sizes[] = {"S"}, *const yarns[] = {"A", "B"};
    const struct hk_row_words words = {
        .catalogue = *state, .size_count = 1, .size_names = sizes, .yarns = yarns, .yarn_count = 2};
    const struct hk_setting_words setting_words = {.words = &words};
    for (size_t count = 64; count <= 65; count++) {
        char text[1024] = "Stripes: ";
        for (size_t i = 0; i < count; i++)
            strcat(text, i == 0 ? "1 row A" : i % 2 ? ", 1 row B" : ", 1 row A");
        struct hk_arena arena = {0};
        struct hk_colours colours;
        assert_true(hk_colours_read(text, &setting_words, &colours, &arena));
        assert_int_equal(colours.count, 64);
        if (count == 64)
            assert_null(colours.problem);
        else
            assert_string_equal(colours.problem, "a sequence of more than 64 colours is not read");
        hk_arena_free(&arena);
    }
}

static void colours_are_named(void **state)
{
    static const struct {
        const char *text, *behind; /* "working in stripes," */
        bool wanted;
    } cases[] = {
        {"Working in stripe sequence, work even", " work even", true},
        {"Keeping to the striped pattern, sc across", " sc across", false},
        {"In this colour order, sc across", " sc across", true},
        {"Work in stripe sequence for 20 rows", NULL, true},
        {"Work even in the same stripes", NULL, true},
        {"Work in rounds", NULL, false},
        {"Win stripes", NULL, false},
        {"Stripes", NULL, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const char *behind = hk_colours_intro(cases[i].text);
        if (cases[i].behind)
            assert_string_equal(behind, cases[i].behind);
        else
            assert_null(behind);
        assert_int_equal(hk_colours_wanted(cases[i].text), cases[i].wanted);
    }
    assert_non_null(hk_colours_name_at("color pattern"));
    assert_null(hk_colours_name_at("pattern"));
}

/* A line "ok: ..." anywhere leaves the other lines as they are, wrapped ones too, and accepts for the one below it. */
static void lines_that_accept_are_no_lines(void **state)
{
    static const char text[] = "Quay throw\n==========\nA throw that is wrapped at a width of some\nforty characters by an editor, and\n"
                               "begins here.\n\n## Body\nWith MC,\nRow 1: Sc in next st and\nin each st across. (20 sts)\n"
                               "Row 2: K2,\n\np2.\n- Row 3: K.\n\n\nFasten off.";
    const struct hk_row_words words = written_words(*state, HK_TERMS_US, 3);
    struct hk_arena arena = {0};
    struct hk_pattern_lines plain, with;
    assert_true(hk_pattern_lines_read(text, "pattern.txt", &words, &plain, &arena));
    for (size_t i = 0; i < plain.start_count; i++) {
        static const char *const forms[] = {"ok: unusual", "Ok: unusual, untaken", "  ok:unusual ", "- ok: unusual"};
        const size_t at = plain.starts[i];
        const char *more = hk_arena_print(&arena, "%.*s%s\n%s", (int)at, text, forms[i % 4], text + at);
        assert_non_null(more);
        assert_true(hk_pattern_lines_read(more, "pattern.txt", &words, &with, &arena));
        assert_int_equal(with.ok_count, 1);
        assert_int_equal(with.oks[0].number, i + 1);
        assert_int_equal(with.count, plain.count);
        size_t below = 0;
        for (size_t l = 0; l < plain.count; l++) {
            const struct hk_pattern_line *a = &plain.lines[l], *b = &with.lines[l];
            assert_string_equal(a->text.text, b->text.text);
            assert_int_equal(a->heading, b->heading);
            assert_int_equal(a->apart, b->apart);
            assert_int_equal(a->number + (a->number > i), b->number);
            below = below == 0 && b->number > i + 1 ? b->number : below;
        }
        assert_int_equal(with.oks[0].first, below ? below : i + 1);
        assert_true(with.oks[0].last >= with.oks[0].first && with.oks[0].last <= plain.start_count + 1);
    }
    hk_arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_begin_where_work_begins),
        cmocka_unit_test(what_programs_leave_is_taken_off),
        cmocka_unit_test(labels_of_all_kinds),
        cmocka_unit_test(rows_by_reference),
        cmocka_unit_test(shaping_at_the_ends),
        cmocka_unit_test(yarn_and_tool),
        cmocka_unit_test(sizes_that_do_without),
        cmocka_unit_test(rows_change_yarn),
        cmocka_unit_test(rows_without_labels),
        cmocka_unit_test(starts_of_all_kinds),
        cmocka_unit_test(prose_defines_and_is_counted),
        cmocka_unit_test(times_stand_in_headings_and_below),
        cmocka_unit_test(pieces_of_one_name_are_numbered),
        cmocka_unit_test(times_that_do_not_fit_the_sizes_are_reported),
        cmocka_unit_test(notes_begin_no_piece),
        cmocka_unit_test(sentences_end_at_their_marks),
        cmocka_unit_test(yarn_is_cut),
        cmocka_unit_test(words_of_work_are_rows),
        cmocka_unit_test(brackets_and_places_are_rows_or_remarks),
        cmocka_unit_test(counts_alone_are_marked),
        cmocka_unit_test(numbers_of_rows_are_marked),
        cmocka_unit_test(counts_stand_behind_rows),
        cmocka_unit_test(chains_go_on_or_begin),
        cmocka_unit_test(rows_begin_pieces),
        cmocka_unit_test(joined_yarn_begins_work),
        cmocka_unit_test(what_stands_behind_a_row_comes_after_it),
        cmocka_unit_test(rows_may_have_names),
        cmocka_unit_test(sizes_hold_until_others_are_named),
        cmocka_unit_test(stitch_patterns_stand_before_the_pieces),
        cmocka_unit_test(a_change_of_tool_makes_another_line),
        cmocka_unit_test(what_is_too_large_is_refused),
        cmocka_unit_test(conventions_are_settled_by_words),
        cmocka_unit_test(words_are_defined),
        cmocka_unit_test(times_are_read),
        cmocka_unit_test(some_headings_name_no_piece),
        cmocka_unit_test(colours_come_in_turn),
        cmocka_unit_test(as_many_colours_as_are_read),
        cmocka_unit_test(colours_are_named),
        cmocka_unit_test(lines_that_accept_are_no_lines),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
