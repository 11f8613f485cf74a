/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canonical form of a row: the printed text reads as the same tree, and working both gives the same result. */
#include "support.h"

#include "base/arena.h"
#include "written.h"

#include <stdio.h>
#include <string.h>

#define EDGES 5
#define RANDOM_ROWS RANDOM_CASES(20000)
#define TEXT_MOST 4000
#define EFFORT 200000

/* ---- The same when followed ---- */

static bool start(struct hk_follow *follow, size_t edge)
{
    switch (edge) {
    case 0:
        return hk_follow_edge(follow, 24, HK_SPOT_ANY);
    case 1:
        return hk_follow_chain(follow, 26, false);
    case 2:
        return hk_follow_ring(follow);
    case 3:
        return hk_follow_edge(follow, 36, HK_SPOT_ANY);
    default:
        return hk_follow_edge(follow, 0, HK_SPOT_ANY);
    }
}

static bool worked_same(const struct hk_followed *a, const struct hk_followed *b)
{
    if (a->worked_count != b->worked_count)
        return false;
    for (size_t i = 0; i < a->worked_count; i++)
        if (a->worked[i].stitch != b->worked[i].stitch || a->worked[i].yarn != b->worked[i].yarn ||
            a->worked[i].count != b->worked[i].count)
            return false;
    return true;
}

static bool compared_same(const struct hk_followed *a, const struct hk_followed *b)
{
    if (a->compared_count != b->compared_count)
        return false;
    for (size_t i = 0; i < a->compared_count; i++)
        if (a->compared[i].stated != b->compared[i].stated || a->compared[i].actual != b->compared[i].actual)
            return false;
    return true;
}

static bool outcome_same(const struct hk_followed *a, const struct hk_followed *b)
{
    if (a->good != b->good)
        return false;
    if (!a->good)
        return a->trouble.code == b->trouble.code && strcmp(a->trouble.text, b->trouble.text) == 0;
    return a->count == b->count && a->width == b->width && a->left == b->left && a->used == b->used &&
           a->cut_m == b->cut_m && a->choices == b->choices && worked_same(a, b) && compared_same(a, b);
}

/*
 * Works both over several edges, twice each: the second row is worked on the result of the first. Returns the number of
 * successes.
 */
static size_t follow_both(const struct hk_row *a, const struct hk_row *b, const struct hk_row_words *words,
                          const char *text)
{
    const struct hk_conventions conventions = {0};
    size_t good = 0;
    for (size_t edge = 0; edge < EDGES; edge++) {
        int64_t efforts[2] = {EFFORT, EFFORT};
        size_t size = edge % words->size_count;
        struct hk_follow *follows[2];
        for (size_t i = 0; i < 2; i++) {
            follows[i] = hk_follow_new(words->catalogue, &conventions, size, &efforts[i]);
            assert_true(follows[i] && start(follows[i], edge));
        }
        for (size_t again = 0; again < 2; again++) {
            struct hk_followed one, other;
            struct hk_manner manner = {.round = edge % 2 == 0};
            assert_true(hk_follow_row(follows[0], a, manner, &one) && hk_follow_row(follows[1], b, manner, &other));
            if (!outcome_same(&one, &other) ||
                !hk_edge_same(hk_follow_edge_now(follows[0]), hk_follow_edge_now(follows[1])))
                fail_msg("%s: followed otherwise over edge %zu when printed and read again: %s; %s", text, edge,
                         one.trouble.text, other.trouble.text);
            good += one.good;
        }
        hk_follow_free(follows[0]);
        hk_follow_free(follows[1]);
    }
    return good;
}

/* ---- Printed and read again ---- */

static size_t failures;

/* *good: the number of edges that fit. Returns false if the row cannot be read. */
static bool check_row(const char *text, const struct hk_row_words *words, size_t *good)
{
    struct hk_arena arena = {0};
    struct hk_diags diags = {0}, again = {0};
    struct hk_row row = {0}, read = {0};
    bool readable = written_read(text, words, &row, &arena, &diags);
    if (readable) {
        const char *printed = hk_row_print(&row, words, &arena);
        assert_non_null(printed);
        if (!written_read(printed, words, &read, &arena, &again)) {
            print_error("%s\n  printed:  %s\n  cannot be read: %s\n", text, printed, again.findings[0].message);
            failures++;
        } else if (!written_same(&row, &read, words->size_count)) {
            print_error("%s\n  printed: %s\n  again:   %s\n  reads as another tree\n", text, printed,
                        hk_row_print(&read, words, &arena));
            failures++;
        } else {
            assert_string_equal(printed, hk_row_print(&read, words, &arena));
            *good += follow_both(&row, &read, words, text);
        }
    }
    hk_diags_free(&diags);
    hk_diags_free(&again);
    hk_arena_free(&arena);
    return readable;
}

static void test_corpus(void **state)
{
    struct written_corpus corpus = written_corpus_read(*state);
    size_t checked = 0, good = 0;
    failures = 0;
    for (size_t i = 0; i < corpus.count; i++)
        for (size_t j = 0; j < corpus.cases[i].row_count; j++)
            checked += check_row(corpus.cases[i].rows[j], &corpus.cases[i].words, &good);
    written_corpus_free(&corpus);
    assert_int_equal(failures, 0);
    assert_true(checked > 350);
    assert_true(good > checked);
}

/* ---- Random rows ---- */

struct writer {
    uint64_t seed;
    size_t sizes;
    enum hk_terms terms;
    char text[TEXT_MOST];
    size_t used;
};

static void say(struct writer *writer, const char *text)
{
    writer->used += (size_t)snprintf(writer->text + writer->used, TEXT_MOST - writer->used, "%s", text);
    assert_true(writer->used < TEXT_MOST);
}

static size_t pick(struct writer *writer, size_t count)
{
    return (size_t)random_in(&writer->seed, 0, (int64_t)count - 1);
}

#define SAY_ONE(writer, ...)                                                                                           \
    do {                                                                                                               \
        static const char *const said[] = {__VA_ARGS__};                                                               \
        say(writer, said[pick(writer, sizeof said / sizeof *said)]);                                                   \
    } while (0)

static void say_number(struct writer *writer, int64_t least, int64_t most)
{
    char text[32];
    bool graded = writer->sizes > 1 && pick(writer, 4) == 0;
    for (size_t i = 0; i < (graded ? writer->sizes : 1); i++) {
        snprintf(text, sizeof text, "%s%d",
                 i == 0   ? ""
                 : i == 1 ? " ("
                          : ", ",
                 (int)random_in(&writer->seed, least, most));
        say(writer, text);
    }
    say(writer, graded ? ")" : "");
}

static void report_stitch(struct writer *writer)
{
    if (writer->terms == HK_TERMS_UK)
        SAY_ONE(writer, "dc", "tr", "htr", "dtr", "dc2tog", "tr2tog", "ss", "3-tr cl", "inc", "dec", "k", "p");
    else
        SAY_ONE(writer, "sc", "dc", "hdc", "tr", "sc2tog", "dc2tog", "sl st", "bobble", "3-dc cl", "FPdc", "inc", "dec",
                "k", "p", "k2tog", "ssk", "yo", "M1L", "kfb", "tss", "BO", "ch-3 picot", "sc inc", "hdc dec");
}

static void report_kind(struct writer *writer, bool several)
{
    switch (pick(writer, 12)) {
    case 0:
        SAY_ONE(writer, "ch-1 sp", "ch-2 sp", "ch-3 sps", "sp", "2-ch sp", "corner");
        return;
    case 1:
        say(writer, writer->terms == HK_TERMS_UK ? "tr" : "dc");
        return;
    case 2:
        SAY_ONE(writer, "sc", "hdc", "dc", "k", "bobble", "3-dc cl");
        return;
    case 3:
        SAY_ONE(writer, "shell", "V-st", "group");
        return;
    case 4:
        SAY_ONE(writer, "skipped st", "marked st", "ch");
        return;
    case 5:
        SAY_ONE(writer, "sp between 2 sts", "centre dc of next shell", "3rd st of next shell", "last dc of shell");
        return;
    default:
        say(writer, several ? "sts" : "st");
    }
}

static void report_limit(struct writer *writer)
{
    switch (pick(writer, 6)) {
    case 0:
        say(writer, " to last ");
        say_number(writer, 1, 5);
        say(writer, " sts");
        return;
    case 1:
        say(writer, " to next ");
        report_kind(writer, false);
        return;
    case 2:
        say(writer, " to ");
        say_number(writer, 2, 4);
        say(writer, " sts before ");
        SAY_ONE(writer, "marker", "next ch-1 sp", "last dc", "turning ch");
        return;
    default:
        SAY_ONE(writer, " across", " around", " to end", " to marker");
    }
}

static void report_where(struct writer *writer)
{
    switch (pick(writer, 9)) {
    case 0:
        say(writer, "in each ");
        report_kind(writer, false);
        if (pick(writer, 4) == 0) {
            say(writer, " and each ");
            report_kind(writer, false);
        }
        if (pick(writer, 2) == 0)
            report_limit(writer);
        return;
    case 1:
        SAY_ONE(writer, "in each of next ", "in next ", "in last ", "in each of last ");
        say_number(writer, 2, 6);
        say(writer, " ");
        report_kind(writer, true);
        return;
    case 2:
        SAY_ONE(writer, "in ring", "in top of ch-3", "in top of turning ch", "in 2nd ch from hook",
                "in 4th ch from hook", "in same st", "in same sp", "2 rows below", "in next st 3 rnds below",
                "in st at base of ch-3", "in 4th ch from hook (skipped chs count as dc)");
        return;
    default:
        SAY_ONE(writer, "in next ", "in first ", "in last ", "in same ", "into the next ");
        report_kind(writer, false);
    }
}

static void report_steps(struct writer *writer, size_t most, size_t deep);

static void report_times(struct writer *writer)
{
    if (pick(writer, 4) == 0) {
        SAY_ONE(writer, "twice", "once", "x 3", "3 more times");
        return;
    }
    say_number(writer, 1, 5);
    say(writer, " times");
}

static void report_bracket(struct writer *writer, size_t deep)
{
    SAY_ONE(writer, "[", "(");
    char open = writer->text[writer->used - 1];
    report_steps(writer, 3, deep + 1);
    say(writer, open == '(' ? ") " : "] ");
    switch (pick(writer, 5)) {
    case 0:
        report_limit(writer);
        return;
    case 1:
        report_times(writer);
        return;
    case 2:
        report_times(writer);
        say(writer, " in ring");
        return;
    case 3:
        say(writer, "rep");
        return;
    default:
        report_where(writer);
    }
}

static void report_star(struct writer *writer, size_t deep)
{
    bool second = pick(writer, 6) == 0;
    say(writer, "*");
    report_steps(writer, 3, deep + 1);
    if (second) {
        say(writer, ", ** ");
        report_steps(writer, 2, deep + 1);
    }
    if (!second && pick(writer, 3) == 0) {
        say(writer, "*");
        return;
    }
    say(writer, "; rep from *");
    if (pick(writer, 3) == 0) {
        say(writer, " ");
        report_times(writer);
    } else if (pick(writer, 4)) {
        report_limit(writer);
    }
    say(writer, second ? ", ending last rep at **" : "");
}

static void report_chain(struct writer *writer)
{
    say(writer, "ch ");
    say_number(writer, 1, 6);
    if (pick(writer, 4) == 0)
        SAY_ONE(writer, " (counts as dc)", " (does not count as a st)", " (counts as dc and ch 2)", ", counts as a st",
                " (counts as first dc, ch 1)");
}

static void report_other(struct writer *writer)
{
    switch (pick(writer, 8)) {
    case 0:
        say(writer, "sk ");
        SAY_ONE(writer, "next ", "first ", "");
        say_number(writer, 1, 4);
        SAY_ONE(writer, " sts", " ch-1 sps", " st");
        return;
    case 1:
        SAY_ONE(writer, "tch 1", "tch 3 as dc", "tch 4 as (dc, ch 1)", "tch 2");
        return;
    case 2:
        SAY_ONE(writer, "place next 4 sts on hold for left sleeve", "place next 6 sts on holder",
                "leave last 4 sts unworked", "leaving rem sts unworked", "sk next ch-1 sp",
                "sk next 38 sts for sleeve");
        return;
    case 3:
        SAY_ONE(writer, "with A", "change to MC", "in B", "cut 20 cm x 3", "cut 12 in", "cut 0.1 m");
        return;
    case 4:
        SAY_ONE(writer, "pm", "sm", "rm", "place marker in next st", "turn",
                "working along other side of foundation ch");
        return;
    case 5:
        SAY_ONE(writer, "sl st to ch-2 sp", "sl st in next st", "sl st in first sc", "fasten off", "sl 1, k2tog, psso");
        return;
    default:
        SAY_ONE(writer, "join", "join with sl st to first sc", "join to top of ch-3", "turn", "join yarn");
    }
}

static void report_worked(struct writer *writer)
{
    switch (pick(writer, 5)) {
    case 0:
        say_number(writer, 1, 6);
        say(writer, " ");
        report_stitch(writer);
        say(writer, " ");
        report_where(writer);
        return;
    case 1:
        report_stitch(writer);
        say(writer, " ");
        say_number(writer, 1, 9);
        return;
    case 2:
        report_stitch(writer);
        report_limit(writer);
        return;
    default:
        report_stitch(writer);
        say(writer, " ");
        report_where(writer);
        if (pick(writer, 6) == 0) {
            say(writer, " and in ");
            SAY_ONE(writer, "each st across", "next st", "last st");
        }
    }
}

static void report_steps(struct writer *writer, size_t most, size_t deep)
{
    size_t count = 1 + pick(writer, most);
    for (size_t i = 0; i < count; i++) {
        say(writer, i ? ", " : "");
        switch (pick(writer, deep > 3 ? 6 : 9)) {
        case 0:
            report_chain(writer);
            break;
        case 1:
            report_other(writer);
            break;
        case 6:
            report_bracket(writer, deep);
            break;
        case 7:
            if (deep != 1) { /* a star within a star closes it */
                report_star(writer, deep);
                break;
            }
            report_bracket(writer, deep);
            break;
        default:
            report_worked(writer);
        }
    }
}

static void report_stated(struct writer *writer)
{
    SAY_ONE(writer, " (", ". ", " - ", ": ", " [");
    char open = writer->text[writer->used - 1];
    char before = writer->used > 1 ? writer->text[writer->used - 2] : ' ';
    say_number(writer, 6, 40);
    SAY_ONE(writer, " sts", " sc", " dc", "", " sts inc'd", " k", " sts, 4 ch-2 sps", " dc and 6 chs", " shells");
    (void)before;
    say(writer, open == '(' ? ")" : open == '[' ? "]" : "");
}

static void test_random(void **state)
{
    struct writer writer = {.seed = 20261128};
    size_t readable = 0, good = 0;
    failures = 0;
    for (size_t i = 0; i < RANDOM_ROWS && failures < 20; i++) {
        writer.used = 0;
        writer.sizes = 1 + pick(&writer, 3);
        writer.terms = pick(&writer, 4) == 0 ? HK_TERMS_UK : HK_TERMS_US;
        report_steps(&writer, 4, 0);
        if (pick(&writer, 4) == 0)
            SAY_ONE(&writer, ", turn", ", join", ", ch 1, turn", ", rep around", ", repeat");
        if (pick(&writer, 3) == 0)
            report_stated(&writer);
        const struct hk_row_words words = written_words(*state, writer.terms, writer.sizes);
        readable += check_row(writer.text, &words, &good);
    }
    assert_int_equal(failures, 0);
    assert_true(readable > RANDOM_ROWS / 2);
    assert_true(good > RANDOM_ROWS / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_corpus),
        cmocka_unit_test(test_random),
    };
    return cmocka_run_group_tests_name("row_print", tests, catalogue_set_up, catalogue_tear_down);
}
