/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rows of rows/rows.csv, as patterns write them, read and worked in every size. This file has the rows without
 * labels, notes and references to other rows, which need the reader of whole patterns.
 */
#include "support.h"

#include "base/arena.h"
#include "written.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define EFFORT 10000000
#define CHOICES_MOST (1u << HK_CONVENTIONS)
#define MESSAGE_MOST 2000

/* The result of a case under some conventions. */
struct outcome {
    bool errors[WRITTEN_ROWS][WRITTEN_SIZES], worked[WRITTEN_ROWS][WRITTEN_SIZES];
    bool states[WRITTEN_ROWS][WRITTEN_SIZES], disagrees[WRITTEN_ROWS][WRITTEN_SIZES];
    int64_t counts[WRITTEN_ROWS][WRITTEN_SIZES], left[WRITTEN_ROWS][WRITTEN_SIZES];
    bool places_right[WRITTEN_ROWS][WRITTEN_SIZES];
    unsigned choices;
    char message[MESSAGE_MOST]; /* place of the first error */
};

/* ---- Places by kind ---- */

static bool spot_is(const struct hk_spot *spot, const struct hk_row_words *words, const char *kind)
{
    char text[32];
    if (spot->kind == HK_SPOT_SPACE) {
        snprintf(text, sizeof text, "ch-%" PRIu32 " sp", spot->chains);
        return strcmp(kind, text) == 0;
    }
    if (spot->kind != HK_SPOT_STITCH || spot->stitch == HK_SPOT_ANY)
        return false;
    const struct hk_stitch *stitch = &words->catalogue->stitches[spot->stitch];
    const struct hk_stitch *base = &words->catalogue->stitches[stitch->base];
    const char *own = words->terms == HK_TERMS_UK ? stitch->uk : stitch->us,
               *plain = words->terms == HK_TERMS_UK ? base->uk : base->us;
    return (own && strcmp(kind, own) == 0) || (plain && strcmp(kind, plain) == 0);
}

/* Compares with "14 dc; 6 ch-1 sp": exactly these places. */
static bool places_right(const struct hk_edge *edge, const struct hk_row_words *words, const char *cell, size_t size)
{
    int64_t named = 0, all = 0;
    for (size_t i = 0; i < edge->count; i++)
        all += edge->spots[i].kind == HK_SPOT_STITCH || edge->spots[i].kind == HK_SPOT_SPACE;
    while (*cell) {
        char item[100], value[32];
        snprintf(item, sizeof item, "%.*s", (int)strcspn(cell, ";"), cell);
        char *kind = strchr(item, ')') ? strchr(item, ')') + 2 : strchr(item, ' ') + 1;
        int64_t there = 0;
        for (size_t i = 0; i < edge->count; i++)
            there += spot_is(&edge->spots[i], words, kind);
        kind[-1] = '\0';
        written_value(item, size, value, sizeof value);
        if (there != strtoll(value, NULL, 10))
            return false;
        named += there;
        cell += strcspn(cell, ";");
        cell += strspn(cell, "; ");
    }
    return named == all;
}

/* ---- Following ---- */

static void keep(struct outcome *outcome, const struct written_case *of, size_t row, size_t size,
                 const struct hk_followed *followed, const struct hk_follow *follow)
{
    outcome->choices |= followed->choices;
    outcome->worked[row][size] = followed->good;
    outcome->errors[row][size] = !followed->good;
    outcome->counts[row][size] = followed->count;
    outcome->left[row][size] = followed->left;
    for (size_t i = 0; i < followed->compared_count; i++)
        outcome->disagrees[row][size] |= !followed->compared[i].agrees;
    outcome->states[row][size] = followed->compared_count > 0;
    outcome->places_right[row][size] = strcmp(of->places[row], "-") == 0 ||
                                       places_right(hk_follow_edge_now(follow), &of->words, of->places[row], size);
    if (!followed->good && !*outcome->message)
        snprintf(outcome->message, sizeof outcome->message, "row %zu, size %zu: %s; %s", row + 1, size + 1,
                 followed->trouble.text, followed->trouble.hint);
}

static void follow_size(const struct written_case *of, const struct hk_row *rows, unsigned other, size_t size,
                        struct outcome *outcome)
{
    const struct hk_conventions conventions = {.other = other};
    int64_t effort = EFFORT;
    struct hk_follow *follow = hk_follow_new(of->words.catalogue, &conventions, size, &effort);
    assert_true(follow && written_start(follow, of, size));
    bool good = true;
    for (size_t row = 0; row < of->row_count && good; row++) {
        struct hk_followed followed;
        assert_true(hk_follow_row(follow, &rows[row], (struct hk_manner){.round = of->rounds}, &followed));
        keep(outcome, of, row, size, &followed, follow);
        good = followed.good;
    }
    hk_follow_free(follow);
}

static void follow_case(const struct written_case *of, const struct hk_row *rows, unsigned other,
                        struct outcome *outcome)
{
    *outcome = (struct outcome){0};
    for (size_t size = 0; size < of->sizes; size++)
        follow_size(of, rows, other, size, outcome);
}

/* Unmet stated counts, and rows that cannot be worked. */
static size_t troubles(const struct written_case *of, const struct outcome *outcome)
{
    size_t count = 0;
    for (size_t row = 0; row < of->row_count; row++)
        for (size_t size = 0; size < of->sizes; size++)
            count += outcome->disagrees[row][size] || outcome->errors[row][size];
    return count;
}

/* Returns whether a choice contradicts no count that the default meets. */
static bool contradicts(const struct written_case *of, const struct outcome *usual, const struct outcome *outcome)
{
    for (size_t row = 0; row < of->row_count; row++)
        for (size_t size = 0; size < of->sizes; size++)
            if ((outcome->disagrees[row][size] && !usual->disagrees[row][size]) ||
                (outcome->errors[row][size] && !usual->errors[row][size]))
                return true;
    return false;
}

static unsigned bits(unsigned set)
{
    unsigned count = 0;
    for (; set; set &= set - 1)
        count++;
    return count;
}

/* The default, unless stated counts contradict it and agree with another choice without any contradiction. */
static void settle(const struct written_case *of, const struct hk_row *rows, struct outcome *best)
{
    static struct outcome usual, other;
    follow_case(of, rows, 0, &usual);
    *best = usual;
    unsigned open = usual.choices;
    for (unsigned flips = 1; flips <= HK_CONVENTIONS && troubles(of, best); flips++) {
        for (unsigned set = 1; set < CHOICES_MOST; set++) {
            if (set & ~open || bits(set) != flips)
                continue;
            follow_case(of, rows, set, &other);
            open |= other.choices;
            if (!contradicts(of, &usual, &other) && troubles(of, &other) < troubles(of, best))
                *best = other;
        }
    }
}

/* ---- Right or wrong ---- */

struct score {
    size_t cases, right, silent, noisy, refused, may_refused;
    size_t stated_right, called_wrong;
};

static bool is_wrong_in(const char *cell, size_t size)
{
    for (; *cell; cell += strcspn(cell, ", ;"), cell += strspn(cell, ", ;"))
        if (strtoul(cell, NULL, 10) == size + 1)
            return true;
    return false;
}

/* Prints the differences from the file. *silent: there was no finding. Returns false if there is a difference. */
static bool check_row(const struct written_case *of, const struct outcome *outcome, size_t row, size_t size,
                      struct score *score, bool *silent)
{
    char count[32], left[32];
    bool expects_wrong = is_wrong_in(of->wrong[row], size);
    written_value(of->counts[row], size, count, sizeof count);
    written_value(of->left[row], size, left, sizeof left);
    if (strcmp(count, "!") == 0) {
        if (outcome->worked[row][size])
            print_error("%s: row %zu, size %zu: worked, to %" PRId64 ", and cannot be\n", of->id, row + 1, size + 1,
                        outcome->counts[row][size]);
        *silent |= outcome->worked[row][size];
        return !outcome->worked[row][size];
    }
    if (!outcome->worked[row][size])
        return false;
    score->stated_right += outcome->states[row][size] && !expects_wrong;
    score->called_wrong += outcome->disagrees[row][size] && !expects_wrong;
    bool count_right = strcmp(count, "-") == 0 || strtoll(count, NULL, 10) == outcome->counts[row][size];
    count_right &= strcmp(left, "-") == 0 || strtoll(left, NULL, 10) == outcome->left[row][size];
    bool right = count_right && outcome->places_right[row][size] && outcome->disagrees[row][size] == expects_wrong;
    if (!right)
        print_error("%s: row %zu, size %zu: %" PRId64 " and %" PRId64
                    " left, not %s and %s; stated count %s; places %s\n",
                    of->id, row + 1, size + 1, outcome->counts[row][size], outcome->left[row][size], count, left,
                    outcome->disagrees[row][size] ? "wrong" : "right or none",
                    outcome->places_right[row][size] ? "right" : "wrong");
    *silent |= !right && !outcome->disagrees[row][size];
    return right;
}

static void check_case(const struct written_case *of, struct score *score)
{
    static struct outcome outcome;
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    struct hk_row rows[WRITTEN_ROWS];
    bool read = true, right = true, silent = false;
    score->cases++;
    for (size_t i = 0; i < of->row_count && read; i++)
        read = written_read(of->rows[i], &of->words, &rows[i], &arena, &diags);
    if (read) {
        settle(of, rows, &outcome);
        for (size_t row = 0; row < of->row_count; row++)
            for (size_t size = 0; size < of->sizes; size++)
                right &= check_row(of, &outcome, row, size, score, &silent);
    }
    if (read && right) {
        score->right++;
    } else if (read && silent) {
        score->silent++;
    } else if (read && !*outcome.message) {
        score->noisy++;
    } else {
        score->refused++;
        score->may_refused += of->may_be_refused;
        print_message("%s is refused%s: %s\n", of->id, of->may_be_refused ? ", as it may be" : "",
                      read ? outcome.message : diags.findings[0].message);
    }
    hk_diags_free(&diags);
    hk_arena_free(&arena);
}

static void test_corpus(void **state)
{
    struct written_corpus corpus = written_corpus_read(*state);
    struct score score = {0};
    for (size_t i = 0; i < corpus.count; i++)
        if (corpus.cases[i].plain)
            check_case(&corpus.cases[i], &score);
    written_corpus_free(&corpus);
    print_message(
        "%zu cases: %zu right, %zu wrong without a word, %zu wrong with a word, %zu refused, %zu of them may be\n",
        score.cases, score.right, score.silent, score.noisy, score.refused, score.may_refused);
    print_message("%zu right stated counts, %zu called wrong\n", score.stated_right, score.called_wrong);
    assert_true(score.cases >= 150);
    assert_true(100 * score.right >= 95 * (score.cases - score.may_refused));
    assert_int_equal(score.silent, 0);
    assert_true(100 * score.called_wrong <= 2 * score.stated_right);
}

/* ---- Hostile rows ---- */

#define HOSTILE_EFFORT 1000000
#define HOSTILE_LONG 60000 /* bytes: a cell of 64 kB */

/* Repeats the piece many times, after its prefix. */
static char *over_and_over(const char *before, const char *piece, const char *behind)
{
    char *text = malloc(HOSTILE_LONG + 1000);
    assert_non_null(text);
    size_t used = (size_t)sprintf(text, "%s", before);
    while (used + strlen(piece) < HOSTILE_LONG)
        used += (size_t)sprintf(text + used, "%s", piece);
    sprintf(text + used, "%s", behind);
    return text;
}

/* Reads the row and works it over long edges: its cost is bounded, for any result. Returns whether it could be read. */
static bool work_hostile(const char *text, const struct hk_catalogue *catalogue)
{
    const struct hk_row_words words = written_words(catalogue, HK_TERMS_US, 2);
    const struct hk_conventions conventions = {0};
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    struct hk_row row;
    bool read = written_read(text, &words, &row, &arena, &diags);
    assert_true(read == hk_diags_ok(&diags));
    for (size_t edge = 0; read && edge < 3; edge++) {
        int64_t effort = HOSTILE_EFFORT;
        struct hk_followed followed;
        struct hk_follow *follow = hk_follow_new(catalogue, &conventions, 1, &effort);
        assert_true(follow && (edge == 0   ? hk_follow_edge(follow, 100000, HK_SPOT_ANY)
                               : edge == 1 ? hk_follow_chain(follow, 100000, true)
                                           : hk_follow_ring(follow)));
        for (size_t again = 0; again < 3; again++) {
            assert_true(hk_follow_row(follow, &row, (struct hk_manner){.round = edge == 1}, &followed));
            assert_true(followed.good || *followed.trouble.text);
        }
        hk_follow_free(follow);
    }
    hk_diags_free(&diags);
    hk_arena_free(&arena);
    return read;
}

/* Each would take hours if worked literally. */
static void test_hostile(void **state)
{
    static const char *const worked[] = {"999999999999 sc in next st",
                                         "sc 999999999999",
                                         "ch 999999999999, sc in each st",
                                         "ch 999999999999, turn",
                                         "[sc in same st] 999999999999 times",
                                         "[turn] 999999999999 times",
                                         "[[[[turn] 999999 times] 999999 times] 999999 times] 999999 times",
                                         "*[*[*sc in next st*] rep*] rep*",
                                         "*sc 1, [*dc 1, [*hdc 1, ch 1*] rep*] rep*",
                                         "join 999999999999",
                                         "[sl st in same st] 999999999999 times",
                                         "sc in each ch-1 sp and each st and each ch-2 sp",
                                         "[sc in last st] 999999 times",
                                         "[sc in next st, sc in last st] 999999 times",
                                         "[sc in each st to last 99999 sts, sc in next st] 999999 times",
                                         "sk next 50000 sts, [sc in skipped st] 50000 times",
                                         "tch 999999999999 as dc, sc across",
                                         "sc in next 999999999999 sts 2 rows below",
                                         "*sc in next ch-1 sp; rep from * to last 50000 sts",
                                         "sc in next st (1 sc, 2 dc, 3 sts, 4 ch-1 sps)",
                                         "ch 3 (counts as dc and ch 999999999999), dc across"};
    static const struct {
        const char *before, *piece, *behind;
    } long_ones[] = {{"", "pm, k 1, ", "k 1"},
                     {"", "sm, ", "k 1"},
                     {"", "blo ", "sc 1"},
                     {"sc in each st", " and each ch-1 sp", ""},
                     {"", "(", "sc 1"},
                     {"", "[sc 1, ", "sc 1"},
                     {"sc 1", ", k 1 across", ""},
                     {"sc 1", ", rep", ""},
                     {"sc 1", "*sc 1 across", ""},
                     {"", "ch 2, ", "sc across"},
                     {"", "and then ", "sc 1"},
                     {"sc 1. ", "1 sc; ", "turnn"},
                     {"sc 1 (", "1 sc, ", "1 sc)"},
                     {"", "[sc in next st] rep, ", "sc 1"},
                     {"place next 2 sts on hold (", "a ", ""},
                     {"sc 5 (", "1, ", "1)"},
                     {"*", "sc in next st, ch 1, ", "sc in next st*"},
                     {"", "*sc 1*, ", "sc 1"}};
    size_t read = 0;
    for (size_t i = 0; i < sizeof worked / sizeof *worked; i++)
        read += work_hostile(worked[i], *state);
    assert_true(read > 15);
    for (size_t i = 0; i < sizeof long_ones / sizeof *long_ones; i++) {
        char *text = over_and_over(long_ones[i].before, long_ones[i].piece, long_ones[i].behind);
        work_hostile(text, *state);
        free(text);
    }
}

/* ---- Row by row ---- */

/* Rows over an edge, each with its result, worked by hand. */
struct followed_example {
    const char *start; /* as in rows.csv; "rounds" after it: worked in the round */
    const char *rows;  /* separated by " / " */
    /*
     * For each row: stitches; ", N left" of the row below; ", not N" for a stated count that differs; "{...}" the
     * places in the order in which the next row meets them. For a row that cannot be worked: its place and the reason.
     */
    const char *comes_to;
};

static void put_places(const struct hk_edge *edge, const struct hk_row_words *words, char *text, size_t size)
{
    size_t length = 0, same = 0;
    text[0] = '\0';
    for (size_t i = 0; i < edge->count; i += same) {
        const struct hk_spot *spot = &edge->spots[i];
        for (same = 1; i + same < edge->count; same++)
            if (spot[same].kind != spot->kind || spot[same].stitch != spot->stitch ||
                spot[same].chains != spot->chains || spot[same].marked != spot->marked)
                break;
        const char *name = spot->kind == HK_SPOT_RING     ? "ring"
                           : spot->kind == HK_SPOT_MARKER ? "m"
                           : spot->kind == HK_SPOT_SPACE  ? "sp"
                           : spot->stitch == HK_SPOT_ANY
                               ? "st"
                               : hk_stitch_word(&words->catalogue->stitches[spot->stitch], words->terms);
        length += (size_t)snprintf(text + length, size - length, "%s%zu %s%s", i ? ", " : "", same, name,
                                   spot->marked ? " marked" : "");
        if (spot->chains > 0)
            length += (size_t)snprintf(text + length, size - length, " of %" PRIu32, spot->chains);
    }
}

/* The result of one row, with its places if they are compared. */
static void put_outcome(const struct hk_followed *followed, const struct hk_follow *follow,
                        const struct hk_row_words *words, bool places, char *text, size_t size)
{
    char edge[MESSAGE_MOST];
    if (!followed->good) {
        snprintf(text, size, "%zu %s; %s", followed->trouble.at + 1, followed->trouble.text, followed->trouble.hint);
        return;
    }
    int length = snprintf(text, size, "%" PRId64, followed->count);
    if (followed->left)
        length += snprintf(text + length, size - (size_t)length, ", %" PRId64 " left", followed->left);
    for (size_t i = 0; i < followed->compared_count; i++)
        if (!followed->compared[i].agrees)
            length += snprintf(text + length, size - (size_t)length, ", %" PRId64 " not %" PRId64,
                               followed->compared[i].actual, followed->compared[i].stated);
    put_places(hk_follow_edge_now(follow), words, edge, sizeof edge);
    if (places)
        snprintf(text + length, size - (size_t)length, " {%s}", edge);
}

/* The example in the second of two sizes. */
static bool followed_right(const struct followed_example *example, const struct hk_row_words *words)
{
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    struct hk_conventions conventions = {0};
    const char *rounds = strstr(example->start, " rounds");
    struct written_case of = {.rounds = rounds, .words = *words};
    of.start =
        hk_arena_text(&arena, example->start, rounds ? (size_t)(rounds - example->start) : strlen(example->start));
    struct hk_follow *follow = hk_follow_new(words->catalogue, &conventions, 1, NULL);
    assert_true(follow && written_start(follow, &of, 1));
    char all[3 * MESSAGE_MOST] = "";
    size_t length = 0;
    const char *expected = example->comes_to;
    for (const char *at = example->rows; at;) {
        const char *end = strstr(at, " / ");
        const char *next = strstr(expected, " / ");
        struct hk_row row;
        struct hk_followed followed;
        char outcome[MESSAGE_MOST];
        if (!written_read(hk_arena_text(&arena, at, end ? (size_t)(end - at) : strlen(at)), words, &row, &arena,
                          &diags))
            fail_msg("%s: %s", at, diags.findings[0].message);
        assert_true(hk_follow_row(follow, &row, (struct hk_manner){.round = rounds}, &followed));
        const char *brace = strchr(expected, '{');
        put_outcome(&followed, follow, words, brace && (!next || brace < next), outcome, sizeof outcome);
        length += (size_t)snprintf(all + length, sizeof all - length, "%s%s", length ? " / " : "", outcome);
        at = end && followed.good ? end + 3 : NULL;
        expected = next ? next + 3 : "";
    }
    bool right = strcmp(all, example->comes_to) == 0;
    if (!right)
        print_error("%s, %s\n  is       %s\n  and not  %s\n", example->start, example->rows, all, example->comes_to);
    hk_follow_free(follow);
    hk_diags_free(&diags);
    hk_arena_free(&arena);
    return right;
}

static void assert_followed(const struct hk_catalogue *catalogue, enum hk_terms terms,
                            const struct followed_example *examples, size_t count)
{
    const struct hk_row_words words = written_words(catalogue, terms, 2);
    bool right = true;
    for (size_t i = 0; i < count; i++)
        right &= followed_right(&examples[i], &words);
    assert_true(right);
}

#define ASSERT_FOLLOWED(terms, examples) \
    assert_followed(*state, (terms), (examples), sizeof(examples) / sizeof *(examples))

static void starts_of_rows(void **state)
{
    static const struct followed_example examples[] = {
        /* the chain uses the first of 20; stated to count as the stitch of the row */
        {"20 sts", "Tch 3 (counts as st), dc in each st across, turn", "20"},
        {"20 sts", "Ch 3, dc in each st across, turn", "20"},
        {"20 sts", "Ch 3, sc in each st across, turn", "20"},
        {"20 sts rounds", "Ch 3, dc in each st around, join to first sl st", "20"},
        {"20 sts rounds", "Ch 3, dc in each st around, join to first dc", "20"},
        /* a foundation: its chain exists already, so the 19 others are worked; in the round it uses one */
        {"chain 20", "Ch 3 (counts as dc), dc in each ch across, turn", "21"},
        {"chain 20 rounds", "Ch 3 (counts as dc), dc in each ch around, join", "20"},
        {"chain 20", "Dc in 4th ch from hook and in each ch across, turn", "18"},
        {"chain 20", "Dc in 8th ch from hook, *ch 2, sk 2, dc in next ch; rep from * across, turn", "6"},
        {"chain 20", "Tr in 5th ch from hook and in each ch across, turn", "17"},
        {"chain 20", "Hdc in 3rd ch from hook and in each ch across, turn", "18"},
        {"chain 20", "Ch 3 (does not count), dc in 4th ch from hook, dc in each ch across, turn", "20"},
        {"chain 20", "Dc in 4th ch from hook (skipped chs do not count), dc in each ch across, turn", "17"},
        {"chain 4", "Sc in 9th ch from hook",
         "7 there are fewer than 9 chains from the hook; start the work with a chain, or write in first st"},
        {"nothing", "Ch 5, sc in 2nd ch from hook and in each ch across, turn", "4"},
        {"nothing", "Ch 1000001, sc in 2nd ch from hook", "1 a foundation of more than 1000000 chains; "},
        {"20 sts", "Ch 1000001 (counts as dc), dc across", "1 a chain of more than 1000000; "},
        {"20 sts", "Tch 1000001, dc across", "1 a chain of more than 1000000; "},
        {"20 sts", "Dc across, ch 1000001, turn", "1 a chain of more than 1000000; "},
        {"20 sts", "Tch 3 as (dc, ch 1000001), dc across", "1 a space of more than 1000000 chains; "},
        {"20 sts", "Tch 3 as (dc 1000001), dc across", "1 the row comes to more than 1000000 places; "},
        {"20 sts", "Tch 4 as (dc 2), dc in next 19 sts, turn", "21"},
        /* size 2 has a space of 1, size 1 has none */
        {"20 sts", "Tch 3 as (dc, ch 0 (1)), dc in next 19 sts, turn", "20 {19 dc, 1 sp of 1, 1 dc of 3}"},
        {"20 sts", "Tch 3 as (dc, ch 1 (0)), dc in next 19 sts, turn", "20 {19 dc, 1 dc of 3}"},
        /* chains at the end of a row begin the next: before "4th ch from hook" they widen it by 6 */
        {"20 sts", "Sc across, ch 6, turn / Dc in 4th ch from hook, dc in next 2 ch, dc in each st across, turn",
         "20 / 24"},
        {"20 sts", "Dc across, ch 3, turn / Dc across, turn", "20 / 20"},
        {"20 sts", "Dc across, ch 3, turn / Turn, dc across, turn", "20 / 20"},
        /* Slip stitches before a chain move along: rows leave the stitches that they cross, rounds put them last. */
        {"20 sts", "Sl st in next 3 sts, [ch 1, sc 1] 3 times, leave rem sts unworked, turn", "3, 17 left"},
        {"20 sts rounds", "Ch 3, dc around, join / Sl st in first st, ch 3, dc around, join", "20 / 20"},
        {"20 sts rounds", "Ch 3, dc around, join / Sl st in next st, ch 3, dc around, join", "20 / 20"},
        {"20 sts rounds", "Turn, sl st in next st, ch 1, sc around, join", "20"},
        {"20 sts rounds", "Join with sl st in any st, ch 1, sc around, join", "20"},
        {"ring", "Join with sl st in ring, ch 1, 6 sc in ring, join", "6"},
        {"20 sts rounds", "Join with sl st in any st, ch 1, sc in same st and in each st around, join", "20"},
        {"20 sts rounds", "Join with sl st in any st, ch 3, dc in same st, dc in each st around, join", "21"},
        {"20 sts rounds", "Join with sl st in any st, ch 3, dc in next st, dc in each st around, join", "20"},
        {"20 sts", "Join with sl st in next ch-1 sp, ch 1, sc across", "20 no ch-1 space is left to work into; "},
        {"20 sts", "[Ch 2, sk 1] 20 times, turn / Ch 3 (counts as dc), dc in next sp",
         "0 / 1 no stitch is left to work this into; "},
        {"20 tss", "Tss in first st, tss in each st across", "20"},
        {"20 tss", "Ch 1, tss in each st across", "20"},
        {"1 tss", "Tss 1", "1 no stitch is left to work this into; "},
    };
    ASSERT_FOLLOWED(HK_TERMS_US, examples);
}

/*
 * "First N sts" are the first N stitches of the row below. A chain that counts stands on the first of them: "sk first
 * 3 sts" leaves 2 without a stitch (common practice, no source). Of 10: 3 into 1 and 7 are 8; 1 and 7 are 8; "next 3
 * sts" are those after the chain: 1 and 6 are 7.
 */
static void the_first_stitches(void **state)
{
    static const struct followed_example examples[] = {
        {"10 sc", "Ch 1, sc3tog over first 3 sts, sc across", "8"},
        {"10 dc", "Dc2tog over first 2 dc, dc to end", "9"},
        {"10 dc", "Dc2tog in first 2 dc, dc to end", "9"},
        {"10 dc", "Dc2tog over first 4 dc, dc to end", "8"},
        {"10 dc", "3-dc cluster over first 3 sts, dc in each st to last 3 sts, 3-dc cl over last 3 sts", "6"},
        {"10 sc", "Sc2tog over next 2 sts, sc in each st to last 2 sts, sc2tog over last 2 sts", "8"},
        {"1 sc", "Sc2tog over first 2 sts", "13 no stitch is left to work this into; "},
        {"10 sts", "Ch 3 (counts as dc), sk first 3 sts, dc in each st across", "8"},
        {"10 sts", "Ch 3 (counts as dc), sk first 2 sts, dc in each st across", "9"},
        {"10 sts", "Ch 3 (counts as dc), sk first st, dc in each st across", "10"},
        {"10 sts", "Ch 3 (counts as dc), sk next 3 sts, dc in each st across", "7"},
        {"10 sts", "Ch 3 (does not count as a st), sk first 3 sts, dc in each st across", "7"},
        {"10 sts", "Ch 1, sk first 3 sts, sc in each st across", "7"},
        {"10 sts", "Ch 3 (counts as dc), dc in first 3 sts, dc in each st across", "11"},
        {"10 sts", "Ch 3 (counts as dc), dc in each of first 3 sts, dc in each st across", "11"},
        {"10 sts", "Ch 3 (counts as dc), dc in first st, dc in each st across", "11"},
        {"10 sts", "Ch 3 (counts as dc), dc in next 3 sts, dc in each st across", "10"},
        {"10 sts", "Ch 3 (counts as dc), dc2tog over first 2 sts, dc in each st across", "10"},
        {"10 sts", "Ch 3 (counts as dc), dc2tog over next 2 sts, dc in each st across", "9"},
        {"10 sts", "Ch 3 (counts as dc), (dc, ch 1, dc) in first 2 sts, dc in each st across", "13"},
        {"10 sts", "Ch 1, 2 sc in first 2 sts, sc in each st across", "10"},
        {"10 sts", "Ch 1, 2 sc in each of first 2 sts, sc in each st to last 2 sts, 2 sc in each of last 2 sts", "14"},
        {"10 sts", "Ch 1, sc in first 3 sts, ch 2, sk next 3 sts, sc in last 4 sts", "7"},
        /* the chain stands where the slip stitches end, on the third */
        {"10 sts", "Sl st in first 3 sts, ch 3 (counts as dc), sk first 2 sts, dc in each st across", "7, 2 left"},
        {"10 sts", "Sl st in first 3 sts, ch 1, sc in first 2 sts, sc in each st across", "8, 2 left"},
        {"10 sts", "Sl st in first 3 sts, ch 1, sc in next 2 sts, sc in each st across", "7, 3 left"},
        /* a space is not where the chain stands */
        {"6 sts",
         "*Sc in next st, ch 1, sk next st; rep from * across / Ch 3 (counts as dc), sk first ch-1 sp, dc in next sc, "
         "dc in next ch-1 sp, dc in next sc",
         "3 / 4"},
    };
    ASSERT_FOLLOWED(HK_TERMS_US, examples);
}

/* Crossed stitches: each pair takes two places, the second of its stitches the one that was skipped. */
static void skipped_stitches_by_their_kind(void **state)
{
    static const struct followed_example examples[] = {
        {"12 dc", "Ch 1, (sk next dc, tr in next dc, tr in skipped dc) 4 times", "8, 4 left {8 tr}"},
        {"12 dc", "Ch 1, *sk next dc, tr in next dc, tr in missed dc; rep from * across", "12 {12 tr}"},
        {"12 dc", "Ch 1, *sk next st, tr in next st, tr in skipped st; rep from * across", "12 {12 tr}"},
        {"12 dc", "Ch 1, *sk next 2 dc, dc in next dc, dc in each of 2 skipped dc; rep from * across", "12 {12 dc}"},
        {"12 dc", "Ch 1, sk next dc, sc in next dc, sc in skipped sc",
         "40 the next place is a dc, not a sc; skip it by name, or name what is there"},
        {"4 dc", "*Dc in next st, ch 1, sk next st; rep from * across / Ch 1, sk next ch-1 sp, sc in skipped dc",
         "2 / 30 the next place is a space, not a dc; skip it by name, or name what is there"},
        {"12 dc", "Ch 1, dc in next dc, dc in skipped dc", "28 no stitch is left to work this into; "},
    };
    ASSERT_FOLLOWED(HK_TERMS_US, examples);
}

static void places_of_rows(void **state)
{
    static const struct followed_example examples[] = {
        /* *ch 1, sk 1, sc 1* over 8: 4 sc, 4 spaces */
        {"8 sts",
         "*Sc in next st, ch 1, sk next st; rep from * across, turn / Sc in each st and each ch-1 sp to last sp, turn",
         "4 / 6, 1 left"},
        {"8 sts",
         "*Sc in next st, ch 1, sk next st; rep from * across, turn / Sk each st to next ch-1 sp, sc in next sp, sc in "
         "next 2 sc",
         "4 / 3, 2 left"},
        {"8 sts",
         "Sc in next 4 sts, ch 2, sc in next 2 sts, ch 3, sc in next 2 sts / Sc in each sc to last ch-2 sp, 2 sc in "
         "next "
         "ch-2 sp, sc in next 4 sc",
         "8 / 10"},
        {"8 sts",
         "Sc in next 4 sts, ch 2, sc in next 2 sts, ch 3, sc in next 2 sts / Sc in each sc to last corner sp, 3 sc in "
         "corner, sc in next 2 sc, sc in next ch-2 sp, sc in next 4 sc",
         "8 / 12"},
        {"8 sts", "Sc in next 8 sts / Sc in each st to last ch-2 sp", "8 / 18 no ch-2 space is left to work into; "},
        {"8 sts", "Sc in next 8 sts / Sc in next ch-2 sp", "8 / 7 no ch-2 space is left to work into; "},
        {"8 sts", "Sc in next 8 sts / Sc in next 9 sts", "8 / 7 no stitch is left to work this into; "},
        {"8 sc", "Dc in next dc", "7 the next place is a sc, not a dc; skip it by name, or name what is there"},
        {"8 k", "K in next 7 sts, dc in next dc",
         "24 the next place is a k, not a dc; skip it by name, or name what is there"},
        {"8 k", "P in next 8 p", "8"},
        {"8 sc", "Sc in next 7 sts, sc in top of ch-3",
         "25 the next place is a sc, not the top of a chain that counts as a stitch; skip it by name, or name what is "
         "there"},
        {"8 sc", "Sc in next ch", "7 the next place is a sc, not a chain; skip it by name, or name what is there"},
        {"8 sc", "Sc in marked st", "7 no place of this kind is left to work into; "},
        {"8 sc", "Sc in skipped st", "7 no stitch is left to work this into; "},
        {"8 sc", "Sc in next shell", "7 no place of this kind is left to work into; "},
        {"8 sc", "Sc in ring", "7 no place of this kind is left to work into; "},
        {"ring", "Sc in each st across", "7 no stitch is left to work this into; "},
        {"ring", "Sc in each ring",
         "1 this has no end in a ring; write how many are worked into the ring: 6 sc in ring"},
        /* two shells of 5 with an sc before each: into the middle, the last, the first, whichever exists */
        {"4 sts",
         "*Sc in next st, 5 dc in next st; rep from * across / *Sc in centre dc of next shell, sc in next sc; rep from "
         "* across",
         "12 / 4"},
        {"4 sts",
         "*Sc in next st, 5 dc in next st; rep from * across, turn / Sc in last dc of next shell, sc in next sc",
         "12 / 2, 6 left"},
        {"4 sts", "*Sc in next st, 5 dc in next st; rep from * across / Sc in 2nd sc of next shell",
         "12 / 7 no place of this kind is left to work into; "},
        {"4 sts", "*Sc in next st, 5 dc in next st; rep from * across / Sc in 6th dc of next shell",
         "12 / 7 no place of this kind is left to work into; "},
        {"4 sts",
         "*Sc in next st, (2 dc, ch 1, 2 dc) in next st; rep from * across / *3 dc in next shell, sk next sc; rep from "
         "* across",
         "10 / 6"},
        {"4 sts", "*2 dc in next st; rep from * across / *2 dc in sp between next 2 groups; rep from * across",
         "8 / 6"},
        {"8 sc", "K 2, pm, k 6 / K to marker, sm, k 2", "8 {6 k, 1 m, 2 k} / 8"},
        {"8 k", "K 2, sm, k 6",
         "6 no marker is left here; place markers with pm in the row below, or work to the marker first"},
        {"8 k", "Pm, k 3, pm, k 5 / K 3, sm",
         "8 / 6 the next marker is 2 stitches further on; place markers with pm in the row below, or "
         "work to the marker first"},
        {"8 k", "K 3, pm, k 5 / K 4, sm",
         "8 / 6 the next marker is 1 stitch further on; place markers with pm in the row below, or "
         "work to the marker first"},
        {"8 k", "K 3, pm, k 5 / K 5, rm, k 3", "8 {5 k, 1 m, 3 k} / 8 {8 k}"},
        {"8 k rounds", "Pm, k 8 / K in first st, k 7", "8 {1 m, 8 k} / 8"},
        {"8 sc", "Sc in next 2 sts, mark last st, sc in next 6 sts, turn", "8 {6 sc, 1 sc marked, 1 sc}"},
        {"8 sc", "Pm in first st, sc in next 8 sts, turn", "8"},
        {"8 sc", "Ch 2, sc in next 8 sts, mark first st, turn", "8 {7 sc, 1 sc marked}"},
        {"8 sc", "Sc in next 8 sts, pm in next st, turn",
         "25 a marker goes into a stitch that this row has worked already; write it after that stitch: pm in last st"},
        {"8 sc", "Sc in next 3 sts, sk same st, sc in next 5 sts", "8"},
        {"8 sc", "Sc in next 3 sts, sk rem sts", "3, 5 left"},
        {"8 sc", "Sc in next 3 sts, sk each st to next ch-1 sp, sc in next st",
         "33 no ch-1 space is left to work into; "},
        {"4 sts",
         "*Sc in next st, (2 dc, ch 1, sc) in next st; rep from * across, turn / Sc in 1st sc of next shell, sc in "
         "next st, leave rem sts unworked",
         "8 / 2, 6 left"},
        {"8 sc", "Sc in next 4 sts, ch 2, turn, sc in next 4 sts / Sc in sp between next 2 sts, sc in next 7 sts",
         "8 / 8"},
        {"8 sc", "Sc in next 3 sts, sk next 2 sts, sc in next 3 sts, sc in each of next 2 skipped sts", "8"},
        {"8 sc", "Sc in next 3 sts, leave last 2 sts unworked", "19 5 stitches are left here, not 2; "},
        {"8 sc", "Sc in next 7 sts, leave last 2 sts unworked", "19 1 stitch is left here, not 2; "},
        {"8 sc", "Sc in next 3 sts, sc in last st", "25 4 stitches are left before the last; work or skip them first"},
        {"8 sc", "Sc in next 6 sts, sc in last st", "25 1 stitch is left before the last; work or skip them first"},
        {"8 sc", "Sc in each st to last 9 sts", "1 fewer than 9 stitches are left here; "},
        {"8 sc", "Sc in next 8 sts, sc in each st to last st", "19 fewer than 1 stitch is left here; "},
        {"8 k", "K 3, pm, k 5 / K to 6 sts before marker", "8 / 1 fewer than 6 stitches are left before that place; "},
        {"8 sc", "Sc2tog in each st across", "4"},
        {"7 sc", "Sc2tog in each st across", "1 1 stitch remains at the end of the row; "},
        {"8 sc", "Sc3tog in each st across", "1 2 stitches remain at the end of the row; "},
        {"8 sc", "Working along the other side of the ch, sc across",
         "1 there is no foundation chain to work along the other side of; "},
        {"chain 8", "Sc in 2nd ch from hook and in next 3 ch, working along the other side of the ch, sc across",
         "1 3 chains are left before the other side; "},
        {"chain 8",
         "Sc in 2nd ch from hook and in each ch to end, working along the other side of the ch, sc in each ch to end",
         "14"}, /* one stitch in the end chain does not turn around it: it can be reached from the other side too */
        {"chain 8",
         "Sc in 2nd ch from hook and in each ch to last ch, 2 sc in last ch, working along the other side of the ch, "
         "sc "
         "in each ch to end",
         "14"}, /* 6 and 2, and 6 without the end chain */
        {"8 sc", "Sc in next 4 sts, join to next ch-1 sp, sc in next 4 sts", "27 no ch-1 space is left to work into; "},
        {"8 sc", "Sc in next 4 sts, ch 0 (2), sc in next 4 sts", "8 {4 sc, 1 sp of 2, 4 sc}"},
        {"8 sc", "Sc in next 4 sts, ch 2 (0), sc in next 4 sts", "8 {8 sc}"},
        {"8 sc", "(Sc 2, ch 3, sl st in 3rd ch from hook) in next st, sc in next 7 sts", "9"},
        {"8 sc", "Sc in next st, ch 4, sl st in 3rd ch from hook, sc in next 7 sts", "8 {7 sc, 1 sp of 1, 1 sc}"},
        {"8 sc", "Sc in next st, ch 5, dc in 4th ch from hook, sc in next 7 sts", "9 {7 sc, 1 dc, 1 sp of 3, 1 sc}"},
    };
    ASSERT_FOLLOWED(HK_TERMS_US, examples);
}

static void shaping_and_repeats_of_rows(void **state)
{
    static const struct followed_example examples[] = {
        {"8 sc", "Inc in each st across", "16 {16 sc}"},
        {"8 dc", "Inc in each st across", "16 {16 dc}"},
        {"8 sts", "Dec across", "4 {4 sc2tog}"},
        {"8 k", "Inc in next 4 sts, dec 2", "10"},
        {"8 fpsc", "Dec 4", "4"},
        {"8 sc", "M1 0 (2), k 8", "10"},
        {"8 sc", "M1 2 (0), k 8", "8"},
        {"8 k", "*K 1; rep from *, M1 1, k in last st", "9"},
        {"8 sc", "[Sc in next 3 sts, ch 1] to last 2 sts, sc in next 2 sts", "8"},
        {"8 sc", "[Sc in next 3 sts, ch 1] to last st, sc in next st",
         "1 1 stitch remains where this repeat should come out; "},
        {"8 sc", "*Sc in next 3 sts; rep from * across", "20 2 stitches remain where this repeat should come out; "},
        {"8 sc", "[Ch 1] across",
         "1 this repeat has no end; let each run of the repeat use up stitches of the row below"},
        {"8 sc", "*Sc in next st, *; *sc in next st*", "8"},
        {"8 sc", "*[Sc in next st, ch 1] rep, sc in next st; rep from *",
         "2 this repeat is inside another, and neither its number nor its end is stated; write (dc, ch 1) 3 "
         "times, or "
         "[dc, ch 1] to next ch-2 sp"},
        {"8 sc", "Sc 2, [sc 1, ch 1] rep 5 times, sc 1", "8"},
        {"8 sc", "Sc in next 2 sts, [sc in next st] rep 2 times",
         "1 the number of repeats is ambiguous: in all, or in addition to the first; write 5 more times for those "
         "after the first, or brackets: [...] 6 times; or state what the row comes to"},
        {"ring", "*Sc 1; rep from *", "8 no stitch is left to work this into; "},
        {"8 sc", "Sc in next 6 sts, hdc in next st, inc in next st", "9 {2 sc, 1 hdc, 6 sc}"},
        {"8 sc", "Inc across", "16"},
        {"8 sc", "2 sc in each st and each ch-1 sp across", "16"},
        {"8 sc", "1001 sc in each of next 2 sts", "2002, 6 left"},
        {"8 sc", "(*Sc 1*) in next st, sc across",
         "2 this repeat has no end; let each run of the repeat use up stitches of the row below"},
        {"nothing", "Join 1000000000000, join 1000000000000",
         "1 the row comes to more than 1000000000000 of one stitch; "},
        {"8 sc",
         "Sc in next 4 sts, ch 6, sc in next 2 sts, ch 6, sc in next 2 sts (8 sts, plus 6 chs at each underarm)", "8"},
        {"8 sc",
         "Sc in next 4 sts, ch 6, sc in next 2 sts, ch 5, sc in next 2 sts (8 sts, plus 6 chs at each underarm)",
         "8, 5 not 6"},
        {"8 sc", "2 sc in next st, sc in next 7 sts (1 st inc'd)", "9"},
        {"8 sc", "2 sc in next st, sc in next 7 sts (2 sts inc'd)", "9, 1 not 2"},
        {"8 sc", "Sc2tog, sc in next 6 sts (1 st dec'd)", "7"},
        {"8 sc", "Sc2tog, sc in next 6 sts (2 sts dec'd)", "7, 1 not 2"},
        {"8 sc", "Sc in next 4 sts, ch 1, sc in next 4 sts (9 sts counting each ch-1 as a st)", "8"},
        {"4 sts", "*Sc in next st, 5 dc in next st; rep from * across (2 shells)", "12"},
        {"4 sts", "*Sc in next st, 5 dc in next st; rep from * across (10 dc, 3 sc)", "12, 2 not 3"},
    };
    ASSERT_FOLLOWED(HK_TERMS_US, examples);
}

/* Findings of a row use its own terms. */
static void findings_are_in_the_terms_of_the_pattern(void **state)
{
    static const struct followed_example examples[] = {
        {"8 dc", "Tr in next tr", "7 the next place is a dc, not a tr; skip it by name, or name what is there"},
        {"8 htr", "Dc in next dc", "7 the next place is a htr, not a dc; skip it by name, or name what is there"},
    };
    ASSERT_FOLLOWED(HK_TERMS_UK, examples);
}

/* For every remaining effort, a row has its full result, or the effort runs out. */
static void effort_may_end_at_any_place(void **state)
{
    static const char *const rows[] = {
        "Ch 3, *dc in next st, ch 1, sk next st; rep from * to last st, dc in last st, turn (20 dc, 10 ch-1 sps)",
        "K 3, pm, k 5, sm, k to end",
        "Tch 4 as (dc, ch 1), *sk next st, (dc, ch 1, dc) in next st; rep from *, dc in last st, leave rem sts "
        "unworked",
        "Sl st in next 3 sts, ch 1, 2 sc in each st to last 3 sts, turn",
        "Join with sl st in last st, ch 1, sc2tog across, join with sl st to first st",
        "Sk next 30 sts, sc in each of next 3 skipped sts, ch 4, sl st in 3rd ch from hook, sc across (30 sts)",
        "Tss in each st across",
        "[Sc in next 2 sts, [ch 1, sk next st] twice] rep, inc in last st",
    };
    const struct hk_row_words words = written_words(*state, HK_TERMS_US, 1);
    const struct hk_conventions conventions = {0};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct hk_arena arena = {0};
        struct hk_diags diags = {0};
        struct hk_row row;
        bool whole = false;
        size_t spent = 0;
        assert_true(written_read(rows[i], &words, &row, &arena, &diags));
        for (int64_t most = 0; most < 1000; most++) {
            int64_t effort = most;
            struct hk_followed followed;
            struct hk_follow *follow = hk_follow_new(*state, &conventions, 0, &effort);
            assert_true(follow && hk_follow_edge(follow, 41, HK_SPOT_ANY));
            assert_true(hk_follow_row(follow, &row, (struct hk_manner){0}, &followed));
            assert_false(whole && followed.trouble.spent); /* more effort never fails */
            whole |= !followed.trouble.spent;
            spent += followed.trouble.spent;
            hk_follow_free(follow);
        }
        assert_true(whole && spent > 20);
        hk_diags_free(&diags);
        hk_arena_free(&arena);
    }
}

/* A row without room for its result is refused, and the old contents stay. */
static void an_edge_has_a_limit(void **state)
{
    const struct hk_conventions conventions = {0};
    struct hk_follow *follow = hk_follow_new(*state, &conventions, 0, NULL);
    assert_true(hk_follow_edge(follow, 20, HK_SPOT_ANY));
    assert_false(hk_follow_edge(follow, (int64_t)HK_SPOTS_MOST + 1, HK_SPOT_ANY));
    assert_false(hk_follow_chain(follow, (int64_t)HK_SPOTS_MOST + 1, false));
    assert_int_equal(hk_edge_width(hk_follow_edge_now(follow)), 20);
    hk_follow_free(follow);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_corpus),
        cmocka_unit_test(test_hostile),
        cmocka_unit_test(starts_of_rows),
        cmocka_unit_test(the_first_stitches),
        cmocka_unit_test(skipped_stitches_by_their_kind),
        cmocka_unit_test(places_of_rows),
        cmocka_unit_test(shaping_and_repeats_of_rows),
        cmocka_unit_test(findings_are_in_the_terms_of_the_pattern),
        cmocka_unit_test(effort_may_end_at_any_place),
        cmocka_unit_test(an_edge_has_a_limit),
    };
    return cmocka_run_group_tests_name("rows", tests, catalogue_set_up, catalogue_tear_down);
}
