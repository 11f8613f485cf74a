/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rows of rows/rows.csv, as patterns write them, read and followed in every size. Here: those that stand alone,
 * without labels, notes and references to other rows, which the reader of whole patterns knows.
 */
#include "support.h"

#include "arena.h"
#include "written.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define EFFORT 10000000
#define CHOICES_MOST (1u << HK_CONVENTIONS)
#define MESSAGE_MOST 2000

/* What a case came to under some conventions. */
struct outcome {
    bool errors[WRITTEN_ROWS][WRITTEN_SIZES], worked[WRITTEN_ROWS][WRITTEN_SIZES];
    bool states[WRITTEN_ROWS][WRITTEN_SIZES], disagrees[WRITTEN_ROWS][WRITTEN_SIZES];
    int64_t counts[WRITTEN_ROWS][WRITTEN_SIZES], left[WRITTEN_ROWS][WRITTEN_SIZES];
    bool places_right[WRITTEN_ROWS][WRITTEN_SIZES];
    unsigned choices;
    char message[MESSAGE_MOST]; /* of the first error */
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
    const char *own = words->terms == HK_UK ? stitch->uk : stitch->us,
               *plain = words->terms == HK_UK ? base->uk : base->us;
    return (own && strcmp(kind, own) == 0) || (plain && strcmp(kind, plain) == 0);
}

/* "14 dc; 6 ch-1 sp": each of these, and nothing else. */
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

/* Stated counts that are not met, and rows that cannot be worked. */
static size_t troubles(const struct written_case *of, const struct outcome *outcome)
{
    size_t count = 0;
    for (size_t row = 0; row < of->row_count; row++)
        for (size_t size = 0; size < of->sizes; size++)
            count += outcome->disagrees[row][size] || outcome->errors[row][size];
    return count;
}

/* It contradicts nothing that the default meets. */
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

/* The default, unless stated counts contradict it and meet another choice without contradicting that anywhere. */
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

/* What is not as the file says, printed. *silent: nothing was said of it. False where something is. */
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

/* The piece over and over, behind what stands before it. */
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

/* Reads it and follows it over long edges: what it costs is bounded, whatever comes of it. Gives whether it could be
 * read. */
static bool work_hostile(const char *text, const struct hk_catalogue *catalogue)
{
    const struct hk_row_words words = written_words(catalogue, HK_US, 2);
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

/* Each would take hours if it were worked as it stands. */
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_corpus),
        cmocka_unit_test(test_hostile),
    };
    return cmocka_run_group_tests_name("rows", tests, catalogue_set_up, catalogue_tear_down);
}
