/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pattern.txt as text (hankful(1), PATTERNS AS THEY ARE WRITTEN): lines and headings, labels, starts, references, yarn
 * and tool, prose. Rows stay texts here; test_pattern_file works them.
 */
#include "support.h"

#include "pattern/prose.h"
#include "pattern/written.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct out {
    char text[20000];
    size_t length;
};

__attribute__((format(printf, 2, 3))) static void put(struct out *out, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = vsnprintf(out->text + out->length, sizeof out->text - out->length, format, args);
    va_end(args);
    out->length += length > 0 ? (size_t)length : 0;
    assert_true(out->length < sizeof out->text);
}

static void put_number(struct out *out, struct hk_graded_count number, size_t sizes)
{
    for (size_t i = 0; i < (number.by_size ? sizes : 1); i++)
        put(out, "%s%" PRId64, i ? "/" : "", hk_graded_in(number, i));
}

static void put_reference(struct out *out, const struct hk_reference *r, size_t sizes)
{
    static const char *const kinds[] = {"rows", "last", "even", "words", "pattern", "shape", "edge", "as"};
    put(out, " %s", kinds[r->kind]);
    for (size_t i = 0; i < r->number_count; i++)
        put(out, " %" PRId64, r->numbers[i]);
    if (r->kind == HK_REF_LAST) {
        put(out, " ");
        put_number(out, r->last, sizes);
    }
    if (r->words)
        put(out, " '%s'", r->words);
    if (r->first_next)
        put(out, " next");
    for (size_t i = 0; i < r->stage_count; i++) {
        put(out, " every %" PRId64 "%s", r->stages[i].every, r->stages[i].open ? "" : r->stages[i].to ? " to " : " x");
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
    static const char *const begins[] = {"chain", "cast on", "ring", "pick up", "edge", "held", "join", "nothing"};
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
        put(out, "prose %zu%s: %s\n", w->prose[i].place.line, w->prose[i].work ? " work" : "", w->prose[i].text);
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

/* As a word processor and Markdown leave it: CRLF, a no-break space, a soft hyphen, curly quotes, bullets, bold type,
 * wrapped lines. */
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

/* "6 times" behind "next and every 4th row" is 6 or 7 in all: asked back. */
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
                   "  4:1 refused | Dec 1 st each end of next and every 4th row 6 times. ! 4:1 this may be meant as so "
                   "many times in all, or as so many more than the next row\n"
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
        "  11:19 refused main 4.5mm | k to end. ! 11:1 several yarns are named at once\n");
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
                   "  9:1 refused | Sizes M and XL only: sc across. ! 9:1 which sizes are meant cannot be read\n"
                   "  10:1 refused | Medium and XL only: sc. ! 10:1 which sizes are meant cannot be read\n");
}

/* Yarn that a row changes to holds for the rows below it; of several in one row none does. */
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

/* What opens a row without a label, and what only looks like it. */
static void rows_without_labels(void **state)
{
    assert_written("# Toy\nCh 5.\n\nMedium and large only: (4 sc, inc) x 6 (36)\n\nS only: K to end. - (20, 20)\n\n"
                   "(See the picture of sc.)\n\nPlace eyes between rounds 6 and 7.\n\nRepeat decrease row.\n\nThen work 5 more rows.\n\nBO loosely.\n\n"
                   "For sizes M and larger: Sc in next 3 sts.\n\nMake a second one in the same way.\n",
                   "Toy x1\n"
                   "  2:1 begin chain 5\n"
                   "  4:24 row only-M only-L | (4 sc, inc) x 6 (36)\n"
                   "  6:9 row only-S | K to end. - (20, 20)\n"
                   "  12:1 row | Repeat decrease row.\n"
                   "  14:1 row | Then work 5 more rows.\n"
                   "  16:1 row | BO loosely.\n"
                   "  18:1 refused | For sizes M and larger: Sc in next 3 sts. ! 18:1 which sizes are meant cannot be "
                   "read\n"
                   "  20:1 refused | Make a second one in the same way. ! 20:1 how often a piece is made is not read "
                   "here\n"
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

static void conventions_are_settled_by_words(void **state)
{
    (void)state;
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
        {"Join = sl st in first dc", 1u << HK_CONVENTION_CH3, 1u << HK_CONVENTION_CH3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_conventions conventions = {0};
        assert_true(hk_convention_read(cases[i].text, &conventions));
        if (conventions.settled != cases[i].settled || conventions.other != cases[i].other)
            fail_msg("%s: settled %x, other %x", cases[i].text, conventions.settled, conventions.other);
    }
    struct hk_conventions conventions = {0};
    assert_false(hk_convention_read("Count your stitches.", &conventions));
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
        cmocka_unit_test(conventions_are_settled_by_words),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
