/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "pattern/shipped_fabrics.h"
#include "tally/count.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- As shipped -------------------------------------------------------------------------------------------------- */

static const char *const table_names[] = {"stitches", "fabrics", "categories", "tools", "fibres", "currencies", "spreads"};

static size_t table_index(const struct hk_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < hk_catalogue_tables(catalogue); i++) {
        if (strcmp(hk_catalogue_table_name(catalogue, i), name) == 0)
            return i;
    }
    fail_msg("no table %s", name);
    return 0;
}

static size_t column_index(const struct hk_catalogue *catalogue, size_t table, const char *name)
{
    for (size_t i = 0; i < hk_catalogue_columns(catalogue, table); i++) {
        if (strcmp(hk_catalogue_column(catalogue, table, i), name) == 0)
            return i;
    }
    fail_msg("no column %s", name);
    return 0;
}

/*
 * The set-up of the suite reads all tables and fails on any finding; duplicate keys and words are findings (tested
 * below).
 */
static void all_seven_tables_are_read(void **state)
{
    assert_int_equal(hk_catalogue_tables(*state), COUNT(table_names));
    for (size_t i = 0; i < COUNT(table_names); i++) {
        assert_string_equal(hk_catalogue_table_name(*state, i), table_names[i]);
        assert_true(hk_catalogue_rows(*state, i) > 0);
    }
}

static void every_row_of_every_table_names_its_source(void **state)
{
    for (size_t t = 0; t < hk_catalogue_tables(*state); t++) {
        size_t source = column_index(*state, t, "source");
        for (size_t row = 0; row < hk_catalogue_rows(*state, t); row++) {
            if (!*hk_catalogue_cell(*state, t, row, source))
                fail_msg("%s, row %zu has no source", hk_catalogue_table_name(*state, t), row + 1);
        }
    }
}

static void cells_are_shown_as_they_stand_in_the_file(void **state)
{
    size_t tools = table_index(*state, "tools");
    assert_string_equal(hk_catalogue_column(*state, tools, 0), "tool_mm");
    assert_string_equal(hk_catalogue_cell(*state, tools, 0, 0), "2.25");
    assert_string_equal(hk_catalogue_cell(*state, tools, 0, 1), "B-1");
}

static void nothing_is_shown_past_the_ends(void **state)
{
    size_t tables = hk_catalogue_tables(*state);
    assert_null(hk_catalogue_table_name(*state, tables));
    assert_int_equal(hk_catalogue_rows(*state, tables), 0);
    assert_int_equal(hk_catalogue_columns(*state, tables), 0);
    assert_null(hk_catalogue_column(*state, tables, 0));
    assert_null(hk_catalogue_cell(*state, tables, 0, 0));
    assert_null(hk_catalogue_column(*state, 0, hk_catalogue_columns(*state, 0)));
    assert_null(hk_catalogue_cell(*state, 0, hk_catalogue_rows(*state, 0), 0));
    assert_null(hk_catalogue_cell(*state, 0, 0, hk_catalogue_columns(*state, 0)));
}

/* ---- Stitches ---------------------------------------------------------------------------------------------------- */

static const struct hk_stitch *stitch_find(const struct hk_catalogue *catalogue, enum hk_terms terms, const char *word)
{
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *s = &catalogue->stitches[i];
        const char *own = terms == HK_TERMS_US ? s->us : s->uk;
        if (own && strcmp(own, word) == 0)
            return s;
        for (size_t k = 0; k < s->also_count; k++) {
            if ((s->also_both[k] || s->also_terms[k] == terms) && strcmp(s->also[k], word) == 0)
                return s;
        }
    }
    return NULL;
}

/*
 * The form at the start of the notes: groups joined by " + ", each "u=. w=. c=." or "N(u=. w=. c=.)", with an optional
 * factor " x1.25"; or "f=." for a length along the work. A stitch has loops = u + min(c, 1), wraps = w + max(c - 1, 0);
 * adjacent groups add up. Returns false if the text does not have this form.
 */
static bool recount(const char *form, double *loops, double *wraps)
{
    *loops = *wraps = 0;
    for (;;) {
        int times = 1, u = 0, w = 0, c = 0, length = 0, more = 0;
        double factor = 1, along = 0;
        if (sscanf(form, "f=%lf%n", &along, &length) != 1 && sscanf(form, "u=%d w=%d c=%d%n", &u, &w, &c, &length) != 3 &&
            (sscanf(form, "%d(u=%d w=%d c=%d)%n", &times, &u, &w, &c, &length) != 4 || length == 0))
            return false;
        form += length;
        if (sscanf(form, " x%lf%n", &factor, &more) == 1)
            form += more;
        *loops += factor * times * (u + (c > 1 ? 1 : c)) + along;
        *wraps += factor * times * (w + (c > 1 ? c - 1 : 0));
        if (strncmp(form, " + ", 3) != 0)
            return *form == '\0' || *form == ';';
        form += 3;
    }
}

static void every_stitch_recounts_from_its_yarn_overs(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    size_t table = table_index(catalogue, "stitches"), notes = column_index(catalogue, table, "notes");
    assert_int_equal(catalogue->stitch_count, hk_catalogue_rows(catalogue, table));
    assert_true(catalogue->stitch_count >= 100);
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *s = &catalogue->stitches[i];
        double loops, wraps;
        if (!recount(hk_catalogue_cell(catalogue, table, i, notes), &loops, &wraps))
            fail_msg("%s: no count in \"%s\"", s->name, hk_catalogue_cell(catalogue, table, i, notes));
        if (fabs(s->loops - loops) > 1e-12 || fabs(s->wraps - wraps) > 1e-12)
            fail_msg("%s: %g+%g in the table, %g+%g from the notes", s->name, s->loops, s->wraps, loops, wraps);
    }
}

static void the_form_of_the_notes_is_checked_to_its_end(void **state)
{
    (void)state;
    double loops, wraps;
    assert_true(recount("3(u=0 w=0 c=1) + u=1 w=0 c=0; words", &loops, &wraps));
    assert_close(loops, 4, 0, 0);
    assert_close(wraps, 0, 0, 0);
    assert_true(recount("u=1 w=1 c=2 x1.5 + f=0.25; words", &loops, &wraps));
    assert_close(loops, 3.25, 1e-15, 0);
    assert_close(wraps, 3, 1e-15, 0);
    assert_false(recount("", &loops, &wraps));
    assert_false(recount("u=1 w=1", &loops, &wraps));
    assert_false(recount("5(u=1 w=1 c=2", &loops, &wraps));
    assert_false(recount("u=1 w=1 c=2 or so", &loops, &wraps));
}

/* The values listed in hankful(1), ROW NOTATION. */
static void stitches_have_the_loops_and_wraps_of_the_design(void **state)
{
    static const struct {
        const char *us;
        int needs, leaves;
        double loops, wraps;
    } expected[] = {
        {"ch", 0, 1, 1, 0},           {"sl st", 1, 1, 1, 0},
        {"sc", 1, 1, 2, 0},           {"hdc", 1, 1, 2, 1},
        {"dc", 1, 1, 2, 2},           {"tr", 1, 1, 2, 4},
        {"dtr", 1, 1, 2, 6},          {"sc2tog", 2, 1, 3, 0},
        {"dc2tog", 2, 1, 3, 4},       {"5-dc bobble", 1, 1, 6, 10},
        {"3-hdc puff", 1, 1, 5, 3.75}, {"fsc", 0, 1, 2, 1},
        {"5-dc popcorn", 1, 1, 10, 10}, {"k", 1, 1, 1, 0},
        {"p", 1, 1, 1, 0},            {"k2tog", 2, 1, 1, 0},
        {"yo", 0, 1, 1, 0},           {"picot", 0, 0, 4, 0},
        {"sk", 1, 0, 0, 0},           {"sl", 1, 1, 0.25, 0},
    };
    for (size_t i = 0; i < COUNT(expected); i++) {
        const struct hk_stitch *s = stitch_find(*state, HK_TERMS_US, expected[i].us);
        if (!s || s->needs != expected[i].needs || s->leaves != expected[i].leaves || s->loops != expected[i].loops ||
            s->wraps != expected[i].wraps)
            fail_msg("%s is not as the design has it", expected[i].us);
    }
}

/* US and UK pairs: two copies of the trade body's list; the derived ones follow their stitch. */
static void uk_terms_are_one_name_off(void **state)
{
    static const char *const pairs[][2] = {
        {"ch", "ch"},           {"sl st", "ss"},       {"sk", "miss"},         {"sc", "dc"},
        {"hdc", "htr"},         {"dc", "tr"},          {"tr", "dtr"},          {"dtr", "trtr"},
        {"sc2tog", "dc2tog"},   {"dc2tog", "tr2tog"},  {"esc", "edc"},         {"edc", "etr"},
        {"fsc", "fdc"},         {"FPdc", "FPtr"},      {"FPdc", "RtrF"},       {"BPsc", "RdcB"},
        {"3-dc cl", "3-tr cl"}, {"BO", "cast off"},    {"rev sc", "rev dc"},   {"single crochet", "double crochet"},
        {"bobble", "bobble"},   {"slip stitch", "sl st"},
    };
    for (size_t i = 0; i < COUNT(pairs); i++) {
        const struct hk_stitch *us = stitch_find(*state, HK_TERMS_US, pairs[i][0]), *uk = stitch_find(*state, HK_TERMS_UK, pairs[i][1]);
        if (!us || us != uk)
            fail_msg("%s in US terms is not %s in UK terms", pairs[i][0], pairs[i][1]);
    }
}

/* "sc exists only in US terms, so its presence identifies a US pattern": trade copies of the list. */
static void some_words_exist_in_one_terms_only(void **state)
{
    static const char *const us_only[] = {"sc", "hdc", "sc2tog", "FPsc", "bind off", "single crochet"};
    static const char *const uk_only[] = {"htr", "miss", "ss", "cast off", "skpo", "half treble"};
    for (size_t i = 0; i < COUNT(us_only); i++) {
        assert_non_null(stitch_find(*state, HK_TERMS_US, us_only[i]));
        assert_null(stitch_find(*state, HK_TERMS_UK, us_only[i]));
    }
    for (size_t i = 0; i < COUNT(uk_only); i++) {
        assert_non_null(stitch_find(*state, HK_TERMS_UK, uk_only[i]));
        assert_null(stitch_find(*state, HK_TERMS_US, uk_only[i]));
    }
}

/* Three repeats of the step are three of the stitch: a row has nothing else. */
static void check_word(const struct hk_catalogue *catalogue, enum hk_terms terms, const struct hk_stitch *s, const char *word)
{
    char text[128];
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    struct hk_row row;
    snprintf(text, sizeof text, "%s 3", word);
    bool read =
        hk_row_parse((struct hk_cell){.text = text}, terms, catalogue, &row, &arena, &diags) && row.step_count == 1;
    const struct hk_step *step = read ? row.steps : NULL;
    bool right = false;
    if (step && step->kind == HK_STEP_STITCH)
        right = &catalogue->stitches[step->stitch] == s && step->many.one * step->where.count.one == 3;
    else if (step && step->kind == HK_STEP_CHAIN)
        right = strcmp(s->name, "chain") == 0 && step->many.one == 3;
    else if (step && step->kind == HK_STEP_SKIP)
        right = s->loops + s->wraps == 0 && s->leaves == 0 && step->where.count.one == 3;
    if (!right)
        fail_msg("\"%s\" in %s terms is not three of %s", text, terms == HK_TERMS_US ? "US" : "UK", s->name);
    hk_diags_free(&diags);
    hk_arena_free(&arena);
}

static void every_spelling_is_a_word_of_the_notation(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *s = &catalogue->stitches[i];
        if (s->us)
            check_word(catalogue, HK_TERMS_US, s, s->us);
        if (s->uk)
            check_word(catalogue, HK_TERMS_UK, s, s->uk);
        for (size_t k = 0; k < s->also_count; k++) {
            if (s->also_both[k] || s->also_terms[k] == HK_TERMS_US)
                check_word(catalogue, HK_TERMS_US, s, s->also[k]);
            if (s->also_both[k] || s->also_terms[k] == HK_TERMS_UK)
                check_word(catalogue, HK_TERMS_UK, s, s->also[k]);
        }
    }
}

/* ---- Fabrics ----------------------------------------------------------------------------------------------------- */

static const int64_t one_stripe[] = {1};

static const struct hk_catalogue *shipped; /* the state of the whole suite */

static struct hk_work work_of(const struct hk_fabric *fabric, enum hk_start start, int64_t stitches, int64_t rows)
{
    return (struct hk_work){.fabric = fabric,
                            .catalogue = shipped,
                            .start = start,
                            .stitches = stitches,
                            .rows = rows,
                            .end_stitches = HK_NOT_STATED,
                            .stripe_rows = one_stripe,
                            .stripe_count = 1};
}

/* Returns the stitches that the last of a number of rows leaves, -1 if the rows do not fit. */
static int64_t leaves_after(struct hk_work work, int64_t rows, int64_t *foundation)
{
    struct hk_arena arena = {0};
    struct hk_counted counted = {0};
    struct hk_count_error error;
    work.rows = rows;
    bool fits = hk_count_part(&work, &counted, &error, &arena) == HK_COUNTING_DONE;
    if (fits)
        hk_follow_free(counted.follow);
    int64_t leaves = fits ? counted.leaves : -1;
    if (foundation)
        *foundation = fits ? counted.foundation : -1;
    hk_arena_free(&arena);
    return leaves;
}

/* The intended use of each fabric. All others start from a chain (or are cast on) and keep their width. */
static const char *const from_ring[] = {"granny square", "solid granny square", "hexagon", "single crochet circle",
                                        "double crochet circle", "corner to corner"};
static const char *const on_edge[] = {"slip stitch edging", "single crochet edging", "crab stitch edging", "shell edging",
                                      "picot edging"};
static const char *const one_row[] = {"slip stitch seam", "single crochet seam", "mattress seam",  "whip stitch seam",
                                      "grafted seam",     "backstitch seam",     "bind-off edge",
                                      "chain cord"};

static bool among(const char *const *names, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(names[i], name) == 0)
            return true;
    }
    return false;
}

/*
 * Near each ordinary width, within a repeat of 12, is a width that fits 12 rows, and every cycle leaves the stitches
 * that it found.
 */
static void check_keeps_width(const struct hk_fabric *fabric, enum hk_start start)
{
    for (int64_t asked = 20; asked <= 160; asked += 7) {
        struct hk_work work = work_of(fabric, start, HK_NOT_STATED, 12);
        int64_t apart;
        if (hk_count_nearest(&work, (double)asked, &work.stitches, &apart) != HK_COUNTING_DONE ||
            llabs((long long)(work.stitches - asked)) > 12)
            fail_msg("%s: no width near %d fits", fabric->name, (int)asked);
        int64_t setup = (int64_t)fabric->setup_count, cycle = (int64_t)fabric->cycle_count;
        int64_t first = leaves_after(work, setup + cycle, NULL);
        if (first <= 0 || leaves_after(work, 12, NULL) <= 0 || leaves_after(work, setup + 2 * cycle, NULL) != first ||
            leaves_after(work, setup + 5 * cycle, NULL) != first)
            fail_msg("%s on %d stitches does not keep its width", fabric->name, (int)work.stitches);
    }
}

static void check_grows(const struct hk_fabric *fabric)
{
    struct hk_work work = work_of(fabric, HK_START_RING, HK_NOT_STATED, 1);
    for (int64_t rows = 1, last = 0; rows <= 12; rows++) {
        int64_t leaves = leaves_after(work, rows, NULL);
        if (leaves <= last)
            fail_msg("%s does not grow in round %d", fabric->name, (int)rows);
        last = leaves;
    }
}

static void check_one_row(const struct hk_fabric *fabric)
{
    assert_int_equal(fabric->setup_count + fabric->cycle_count, 1);
    for (int64_t stitches = 1; stitches <= 60; stitches++) {
        if (leaves_after(work_of(fabric, HK_START_EDGE, stitches, 1), 1, NULL) < 0)
            fail_msg("%s does not fit an edge of %d", fabric->name, (int)stitches);
    }
}

static void every_fabric_counts_over_many_rows(void **state)
{
    const struct hk_catalogue *catalogue = shipped = *state;
    assert_true(catalogue->fabric_count >= 40);
    size_t special = 0;
    for (size_t i = 0; i < catalogue->fabric_count; i++) {
        const struct hk_fabric *fabric = &catalogue->fabrics[i];
        bool ring = among(from_ring, COUNT(from_ring), fabric->name);
        bool edge = among(on_edge, COUNT(on_edge), fabric->name);
        bool once = among(one_row, COUNT(one_row), fabric->name);
        special += ring + edge + once;
        if (ring)
            check_grows(fabric);
        else if (once)
            check_one_row(fabric);
        else
            check_keeps_width(fabric, edge ? HK_START_EDGE : HK_START_CHAIN);
    }
    assert_int_equal(special, COUNT(from_ring) + COUNT(on_edge) + COUNT(one_row));
}

/* The fabrics required by the issue, each under a name that a designer would search for. */
static void the_usual_fabrics_are_there(void **state)
{
    static const char *const names[] = {
        "single crochet",  "half double crochet", "double crochet", "treble crochet", "slip stitch",
        "back loop rib",   "moss stitch",         "linen stitch",   "granite stitch", "v-stitch",
        "mesh",            "open filet",          "solid filet",    "shell stitch",   "granny stitch",
        "granny square",   "waffle stitch",       "basketweave stitch", "single crochet ripple", "double crochet ripple",
        "slip stitch seam", "mattress seam",      "crab stitch edging", "stockinette", "garter stitch",
        "1x1 rib",         "2x2 rib",             "seed stitch",    "tunisian simple stitch", "Single Crochet"};
    for (size_t i = 0; i < COUNT(names); i++) {
        if (!hk_catalogue_fabric(*state, names[i]))
            fail_msg("no fabric %s", names[i]);
    }
    assert_null(hk_catalogue_fabric(*state, "single"));
}

/* The names of each trade, mainly UK names of knitting (common practice, no source). */
static void other_names_mean_the_same_fabric(void **state)
{
    static const char *const same[][2] = {
        {"stocking stitch", "stockinette"},        {"Stockinette Stitch", "stockinette"},
        {"reverse stocking stitch", "reverse stockinette"}, {"stocking stitch in the round", "stockinette in rounds"},
        {"single rib", "1x1 rib"},                 {"double rib", "2x2 rib"},
        {"double moss stitch", "double seed stitch"}, {"cast-off edge", "bind-off edge"},
    };
    for (size_t i = 0; i < COUNT(same); i++) {
        assert_non_null(hk_catalogue_fabric(*state, same[i][0]));
        assert_ptr_equal(hk_catalogue_fabric(*state, same[i][0]), hk_catalogue_fabric(*state, same[i][1]));
    }
}

static void no_name_means_two_fabrics(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    assert_true(catalogue->alias_count > 20);
    for (size_t i = 0; i < catalogue->alias_count; i++) {
        const struct hk_fabric_alias *alias = &catalogue->aliases[i];
        assert_non_null(alias->fabric);
        if (hk_catalogue_fabric(catalogue, alias->name) != alias->fabric)
            fail_msg("\"%s\" means %s too", alias->name, hk_catalogue_fabric(catalogue, alias->name)->name);
        assert_true(*alias->name != '\0' && alias->name[strlen(alias->name) - 1] != ' ');
    }
}

struct worked {
    const char *name;
    enum hk_start start;
    int64_t stitches, foundation;
    int64_t leaves[5];
};

/*
 * Worked by hand; common practice, no source. Foundation chains are the chains that row 1 is worked into: "chain 22,
 * double crochet in the fourth" is 19 of them and 3 turning chains that count as a stitch.
 */
static void fabrics_leave_what_a_hand_count_says(void **state)
{
    static const struct worked worked[] = {
        {"single crochet", HK_START_CHAIN, 20, 20, {20, 20, 20, 20, 20}},
        {"double crochet", HK_START_CHAIN, 20, 19, {20, 20, 20, 20, 20}},
        {"moss stitch", HK_START_CHAIN, 20, 19, {20, 20, 20, 20, 20}},
        {"mesh", HK_START_CHAIN, 21, 20, {21, 21, 21, 21, 21}},
        {"shell stitch", HK_START_CHAIN, 25, 25, {25, 25, 25, 25, 25}},
        /* ten groups of 3 and an edge stitch on each side; then nine groups between pairs of 2 */
        {"granny stitch", HK_START_CHAIN, 32, 31, {32, 31, 32, 31, 32}},
        /* round n: n groups of 3 and a corner of 2 chains on each of four sides */
        {"granny square", HK_START_RING, HK_NOT_STATED, 0, {20, 32, 44, 56, 68}},
        /* sides of 3, 7, 11, ... and four corners of 2 chains */
        {"solid granny square", HK_START_RING, HK_NOT_STATED, 0, {20, 36, 52, 68, 84}},
        /* six sides of 2, 4, 6, ... and six corners of 1 chain */
        {"hexagon", HK_START_RING, HK_NOT_STATED, 0, {18, 30, 42, 54, 66}},
        {"single crochet circle", HK_START_RING, HK_NOT_STATED, 0, {6, 12, 18, 24, 30}},
        {"double crochet circle", HK_START_RING, HK_NOT_STATED, 0, {12, 24, 36, 48, 60}},
        /* a block of 3 chains and 3 doubles more in each row */
        {"corner to corner", HK_START_RING, HK_NOT_STATED, 0, {6, 12, 18, 24, 30}},
        {"2x2 rib", HK_START_CHAIN, 42, 42, {42, 42, 42, 42, 42}},
    };
    for (size_t i = 0; i < COUNT(worked); i++) {
        const struct worked *w = &worked[i];
        const struct hk_fabric *fabric = hk_catalogue_fabric(*state, w->name);
        assert_non_null(fabric);
        for (int64_t rows = 1; rows <= 5; rows++) {
            int64_t foundation, leaves = leaves_after(work_of(fabric, w->start, w->stitches, rows), rows, &foundation);
            if (leaves != w->leaves[rows - 1] || foundation != w->foundation)
                fail_msg("%s, row %d: %d on a foundation of %d", w->name, (int)rows, (int)leaves, (int)foundation);
        }
    }
}

static void widths_that_miss_the_repeat_do_not_fit(void **state)
{
    static const struct {
        const char *name;
        int64_t stitches;
    } errors[] = {{"moss stitch", 21}, {"v-stitch", 33}, {"shell stitch", 26}, {"2x2 rib", 44}, {"seed stitch", 20}};
    for (size_t i = 0; i < COUNT(errors); i++) {
        const struct hk_fabric *fabric = hk_catalogue_fabric(*state, errors[i].name);
        assert_non_null(fabric);
        assert_int_equal(leaves_after(work_of(fabric, HK_START_CHAIN, errors[i].stitches, 2), 2, NULL), -1);
    }
}

static void only_knit_fabrics_are_cast_on(void **state)
{
    assert_true(hk_catalogue_fabric(*state, "stockinette")->knit);
    assert_false(hk_catalogue_fabric(*state, "single crochet")->knit);
    assert_false(hk_catalogue_fabric(*state, "tunisian simple stitch")->knit);
}

/* ---- Categories -------------------------------------------------------------------------------------------------- */

/* Returns the names of the categories for a number of wraps per inch, concatenated. */
static void assert_categories(const struct hk_catalogue *catalogue, double wraps, const char *expected)
{
    char found[32] = "";
    for (size_t i = 0; i < catalogue->category_count; i++) {
        if (hk_category_holds(catalogue, &catalogue->categories[i], wraps))
            strncat(found, catalogue->categories[i].name, sizeof found - strlen(found) - 1);
    }
    if (strcmp(found, expected) != 0)
        fail_msg("%g wraps an inch are of categories %s, not %s", wraps, found, expected);
}

/* Wraps per inch from two copies of the yarn weight table: ranges overlap, so the answer is a set. */
static void wraps_fit_a_set_of_categories(void **state)
{
    assert_categories(*state, 60, "0"); /* 30 and up */
    assert_categories(*state, 16, "12");
}

/* Numbers and labels of the trade's yarn weight table (tables/categories.csv), as designers write them. */
static void categories_are_found_as_labels_state_them(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    static const char *const names[][2] = {{"4", "Medium"}, {"medium", "Medium"}, {"4 Medium", "Medium"},
                                           {"category 4", "Medium"}, {"4 - medium", "Medium"}, {"4 (Medium)", "Medium"},
                                           {"Super Fine", "Super Fine"}, {"6: super bulky", "Super Bulky"},
                                           {"DK", "Light"}, {"Aran", "Medium"}, {"light worsted", "Light"}};
    static const char *const none[] = {"", "5 medium", "44", "4 Mediums", "baby" /* 1 and 2 */, "4 or 5", "category"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const struct hk_category *category = hk_category_find(catalogue, names[i][0]);
        assert_non_null(category);
        assert_string_equal(category->label, names[i][1]);
    }
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        assert_null(hk_category_find(catalogue, none[i]));
}

/* ---- Tools ------------------------------------------------------------------------------------------------------- */

/* Reads the cells of one column as tools; -1 for a cell that is no tool. */
static void tools_of(const struct hk_catalogue *catalogue, const char *csv, double *tools_mm, size_t count,
                     struct hk_diags *diags)
{
    static const struct hk_column columns[] = {{"tool", true, false}, {"notes", false, false}, {NULL, false, false}};
    const struct memory_file files[] = {{"swatches.csv", csv, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_table *table = hk_table_read(&source, "swatches.csv", (struct hk_table_options){.columns = columns}, diags);
    assert_non_null(table);
    assert_int_equal(hk_table_rows(table), count);
    for (size_t i = 0; i < count; i++) {
        tools_mm[i] = -1;
        bool read = hk_tool_cell(hk_table_cell(table, i, 0), catalogue, &tools_mm[i], diags);
        assert_true(read == (tools_mm[i] != -1));
    }
    hk_table_free(table);
}

static void assert_tools(const struct hk_catalogue *catalogue, const char *csv, const double *expected, size_t count)
{
    double tools_mm[64];
    struct hk_diags diags = {0};
    assert_true(count <= COUNT(tools_mm));
    tools_of(catalogue, csv, tools_mm, count, &diags);
    assert_findings(&diags, "");
    for (size_t i = 0; i < count; i++) {
        if (tools_mm[i] != expected[i]) /* exactly: the diameter distinguishes tools */
            fail_msg("tool %zu is %.17g mm, not %g", i + 1, tools_mm[i], expected[i]);
    }
}

/* Hook and needle sizes, seen in two copies; P-16 from memory. */
static void labels_mean_the_diameters_of_the_trade(void **state)
{
    static const double hooks[] = {2.25, 2.75, 3.25, 3.5, 3.75, 4, 4.5, 5, 5.5, 6, 6.5, 8, 9, 9, 10, 10, 11.5, 19};
    assert_tools(*state,
                 "tool\nB-1\nC-2\nD-3\nE-4\nF-5\nG-6\nUS 7\nH-8\nI-9\nJ-10\nK-10 1/2\nL-11\nM-13\nN-13\nN-15\nP-15\n"
                 "P-16\nS\n",
                 hooks, COUNT(hooks));
    static const double steel[] = {3.5, 3.25, 2.75, 2.5, 2.1, 2, 1.9, 1.8, 1.65, 1.5, 1.4, 1.3, 1.1, 1, 0.85, 0.75};
    assert_tools(*state,
                 "tool\nsteel 00\nsteel 0\nsteel 1\nsteel 2\nsteel 3\nsteel 4\nsteel 5\nsteel 6\nsteel 7\nsteel 8\n"
                 "steel 9\nsteel 10\nsteel 11\nsteel 12\nsteel 13\nsteel 14\n",
                 steel, COUNT(steel));
    static const double needles[] = {2.25, 2.75, 3.25, 3.5, 3.75, 4, 4.5, 5, 5.5, 6, 6.5, 8, 9, 10, 12.75, 15, 19, 25};
    assert_tools(*state,
                 "tool\nUS 1\nUS 2\nUS 3\nUS 4\nUS 5\nUS 6\nUS 7\nUS 8\nUS 9\nUS 10\nUS 10 1/2\nUS 11\nUS 13\nUS 15\n"
                 "US 17\nUS 19\nUS 35\nUS 50\n",
                 needles, COUNT(needles));
}

static void one_diameter_is_one_number_however_it_is_written(void **state)
{
    static const double same[] = {5, 5, 5, 5, 5, 5, 5, 2.25, 2.25, 2.25, 6.5, 6.5, 6.5, 6.35};
    assert_tools(*state,
                 "tool\n5 mm\n5mm\n0.5 cm\nH-8\nh8\nH\nUS H-8\n2.25 mm\nB\n0.225 cm\nK-10.5\nk 10½\nUS size 10 1/2\n"
                 "1/4 in\n",
                 same, COUNT(same));
    static const double comma[] = {3.5, 3.5};
    assert_tools(*state, "tool;notes\n3,5 mm;\nE-4;\n", comma, COUNT(comma));
}

/* Reads cells that are no tools, and asserts these findings. */
static void assert_no_tools(const struct hk_catalogue *catalogue, const char *csv, size_t count, const char *findings)
{
    double tools_mm[16];
    struct hk_diags diags = {0};
    assert_true(count <= COUNT(tools_mm));
    tools_of(catalogue, csv, tools_mm, count, &diags);
    for (size_t i = 0; i < count; i++)
        assert_true(tools_mm[i] == -1);
    assert_findings(&diags, findings);
}

static void labels_that_name_no_one_size_are_errors_that_help(void **state)
{
    assert_no_tools(*state, "tool,notes\n8,a\n4.2,a\nN,a\nP,a\nJ,a\nH-9,a\nbent,a\nnan,a\n,a\n", 9,
                    "swatches.csv:2:1: error: the tool \"8\" has no unit; write 8 mm, or US 8, which is 5 mm\n"
                    "swatches.csv:3:1: error: the tool \"4.2\" has no unit; write 4.2 mm\n"
                    "swatches.csv:4:1: error: \"N\" may be 9 or 10 mm; write the diameter, such as 9 mm\n"
                    "swatches.csv:5:1: error: \"P\" may be 10, 11.5 or 15 mm; write the diameter, such as 10 mm\n"
                    "swatches.csv:6:1: error: \"J\" may be 5.75 or 6 mm; write the diameter, such as 5.75 mm\n"
                    "swatches.csv:7:1: error: there is no hook or needle \"H-9\"; did you mean \"H-8\"? its diameter, "
                    "such as 5 mm, would do too\n"
                    "swatches.csv:8:1: error: there is no hook or needle \"bent\"; write its diameter, such as 5 mm\n"
                    "swatches.csv:9:1: error: there is no hook or needle \"nan\"; write its diameter, such as 5 mm\n");
}

/* Names as patterns print them; the diameter selects one of the several sizes with the same letter. */
static void a_label_and_its_diameter_may_stand_together(void **state)
{
    static const double same[] = {5, 5, 5, 6, 5.75, 6.5};
    assert_tools(*state, "tool\n5 mm (US H-8)\nH-8 (5 mm)\nUS 8 (5.0mm)\nJ (6 mm)\n5.75 mm (J)\nK-10½ (6.5 mm)\n", same,
                 COUNT(same));
    assert_no_tools(
        *state,
        "tool,notes\nH-8 (6 mm),a\nJ (8 mm),a\nH-9 (5 mm),a\nH-8 (5),a\nH-8 (US 8),a\n(5 mm),a\n5 mm),a\n5 mm (US "
        "H-8,a\nH-8 (5 mm) hook,a\n",
        9,
        "swatches.csv:2:1: error: \"H-8\" is 5 mm, not 6 mm; write the diameter alone, such as 5 mm\n"
        "swatches.csv:3:1: error: \"J\" is 5.75 or 6 mm, not 8 mm; write the diameter alone, such as "
        "5.75 mm\n"
        "swatches.csv:4:1: error: there is no hook or needle \"H-9\"; did you mean \"H-8\"? its diameter, "
        "such as 5 mm, would do too\n"
        "swatches.csv:5:6: error: the tool \"5\" has no unit; write 5 mm, or US 5, which is 3.75 mm\n"
        "swatches.csv:6:1: error: there is no hook or needle \"H-8 (US 8)\"; did you mean \"H-8\"? its "
        "diameter, such as 5 mm, would do too\n"
        "swatches.csv:7:1: error: there is no hook or needle \"(5 mm)\"; write its diameter, such as 5 mm\n"
        "swatches.csv:8:5: error: \")\" behind 5 mm is not understood; write one value, like 18.5 cm or 7 1/4 in\n"
        "swatches.csv:9:6: error: \"(US H-8\" behind 5 mm is not understood; write one value, like 18.5 cm or 7 1/4 "
        "in\n"
        "swatches.csv:10:1: error: there is no hook or needle \"H-8 (5 mm) hook\"; did you mean \"H-8\"? its "
        "diameter, such as 5 mm, would do too\n");
}

static void diameters_that_cannot_be_are_errors(void **state)
{
    assert_no_tools(*state, "tool,notes\n5 g,a\n0 mm,a\n-5 mm,a\n5 m,a\n1e30 mm,a\n5 mmm,a\n", 6,
                    "swatches.csv:2:3: error: g measures a mass, and a length is needed here; write it like 18.5 cm or "
                    "7 1/4 in\n"
                    "swatches.csv:3:1: error: 0 mm is not possible here; write a length above zero\n"
                    "swatches.csv:4:1: error: -5 mm is below zero; write a length above zero\n"
                    "swatches.csv:5:1: error: 5 m is not a diameter of a hook or needle; write it like 5 mm\n"
                    "swatches.csv:6:1: error: 1e30 mm is how a spreadsheet shortens a long number; digits may be lost; "
                    "format the column as text and type the number with all its digits\n"
                    "swatches.csv:7:3: error: \"mmm\" is not a known unit; did you mean mm?\n");
}

/* ---- Fibres ------------------------------------------------------------------------------------------------------ */

static double allowance(const struct hk_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < catalogue->fibre_count; i++) {
        if (strcmp(catalogue->fibres[i].name, name) == 0)
            return catalogue->fibres[i].allowance;
    }
    fail_msg("no fibre %s", name);
    return 0;
}

/* Agreed allowances refer to the dry mass; numbers recomputed from the Directive's table. */
static void agreed_allowances_give_the_dry_mass(void **state)
{
    assert_close(100 / (1 + allowance(*state, "wool, carded")), 85.470085, 1e-8, 0);
    assert_close(100 / (1 + allowance(*state, "cotton")), 92.165899, 1e-8, 0);
    double blend = 67.5 * (1 + allowance(*state, "wool, carded")) + 22.5 * (1 + allowance(*state, "polyamide, staple"));
    assert_close(blend, 102.88125, 1e-12, 0);
}

/* ---- Currencies -------------------------------------------------------------------------------------------------- */

static int digits(const struct hk_catalogue *catalogue, const char *code)
{
    const struct hk_currency *currency = hk_currency_find(catalogue, code);
    return currency ? currency->minor_digits : -1;
}

/* ISO 4217 list one, published 2024-06-25: all codes whose minor unit is not 2, and the number of codes with 2. */
static void currencies_have_the_digits_of_the_standard(void **state)
{
    static const char *const none[] = {"BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG",
                                       "RWF", "UGX", "UYI", "VND", "VUV", "XAF", "XOF", "XPF"};
    static const char *const three[] = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};
    static const char *const four[] = {"CLF", "UYW"};
    const struct hk_catalogue *catalogue = *state;
    for (size_t i = 0; i < COUNT(none); i++)
        assert_int_equal(digits(catalogue, none[i]), 0);
    for (size_t i = 0; i < COUNT(three); i++)
        assert_int_equal(digits(catalogue, three[i]), 3);
    for (size_t i = 0; i < COUNT(four); i++)
        assert_int_equal(digits(catalogue, four[i]), 4);
    size_t two = 0;
    for (size_t i = 0; i < catalogue->currency_count; i++)
        two += catalogue->currencies[i].minor_digits == 2;
    assert_int_equal(two, 140);
    assert_int_equal(catalogue->currency_count, two + COUNT(none) + COUNT(three) + COUNT(four));
}

static void currencies_are_found_by_code(void **state)
{
    assert_int_equal(digits(*state, "EUR"), 2);
    assert_int_equal(digits(*state, "eur"), 2);
    assert_int_equal(digits(*state, "HUF"), 2); /* from the standard; shops there round to whole units */
    assert_int_equal(digits(*state, "XAU"), -1); /* gold has no minor unit */
    assert_int_equal(digits(*state, "EU"), -1);
    assert_int_equal(digits(*state, ""), -1);
}

/* ---- Spreads ----------------------------------------------------------------------------------------------------- */

/* DEVELOPERS.md, The model. */
static void spreads_are_those_of_the_design(void **state)
{
    const struct hk_spreads s = ((const struct hk_catalogue *)*state)->spreads;
    assert_close(s.wrap_ratio, 2.0 / 3, 1e-15, 0);
    assert_close(s.wrap, 0.2, 0, 0);
    assert_close(s.tension, 0.15, 0, 0);
    assert_close(s.stitch, 0.12, 0, 0);
    assert_close(s.tool, 0.05, 0, 0);
    assert_close(s.yarn, 0.06, 0, 0);
    assert_close(s.grist, 0.02, 0, 0);
    assert_close(s.making, 0.04, 0, 0);
    assert_close(s.piece, 0.02, 0, 0);
    assert_close(s.garment, 0.03, 0, 0);
    assert_close(s.moisture, 0.15, 0, 0);
    assert_close(s.unstated, 0.015, 0, 0);
    assert_close(s.unstated_spread, 0.02, 0, 0);
    assert_close(s.ball, 0.015, 0, 0);
    assert_close(s.unravelled, 0.02, 0, 0);
    assert_close(s.reader, 0.07, 0, 0);
    assert_close(s.diameter_mm, 0.108, 0, 0);
    assert_close(s.time_loop_s, 1.3, 0, 0);
    assert_close(s.time_tension, 0.35, 0, 0);
    assert_close(s.time_stitch, 0.15, 0, 0);
    assert_close(s.time_tool, 0.05, 0, 0);
    assert_close(s.time_yarn, 0.1, 0, 0);
    assert_close(s.time_making, 0.1, 0, 0);
    assert_close(s.time_piece, 0.05, 0, 0);
    assert_close(s.time_end_min, 3, 0, 0);
}

/* A ratio is at most 1; the two times, in seconds a loop and minutes an end, are at most 60 of their unit. */
static void times_among_the_spreads_may_be_above_one(void **state)
{
    (void)state;
    assert_close(hk_spreads_most("tension"), 1, 0, 0);
    assert_close(hk_spreads_most("time_loop_s"), hk_spreads_most("time_end_min"), 0, 0);
    assert_true(hk_spreads_most("time_loop_s") > 1);
}

static void spreads_are_found_by_name(void **state)
{
    struct hk_spreads s = ((const struct hk_catalogue *)*state)->spreads;
    size_t names = 0;
    while (hk_spreads_name(names)) {
        double *value = hk_spreads_find(&s, hk_spreads_name(names));
        assert_non_null(value);
        *value = (double)++names;
    }
    assert_int_equal(names, sizeof s / sizeof(double));
    assert_close(s.wrap_ratio, 1, 0, 0);
    assert_close(s.diameter_mm, 17, 0, 0);
    assert_ptr_equal(hk_spreads_find(&s, "Tension"), &s.tension);
    assert_null(hk_spreads_find(&s, "tensions"));
}

/* ---- Broken tables ----------------------------------------------------------------------------------------------- */

#define GARMENT_SPREADS                                                                                                  \
    "garment,0.1,m,s\nmoisture,0.1,m,s\nunstated,0.1,m,s\nunstated_spread,0.1,m,s\nball,0.1,m,s\n"

#define TIME_SPREADS                                                                                                     \
    "time_loop_s,1,m,s\ntime_tension,0.1,m,s\ntime_stitch,0.1,m,s\ntime_tool,0.1,m,s\ntime_yarn,0.1,m,s\n"                \
    "time_making,0.1,m,s\ntime_piece,0.1,m,s\ntime_end_min,1,m,s\n"

/* Small valid tables; each test damages one. */
static const struct memory_file sound[] = {
    {"stitches.csv",
     "us,uk,also,name,family,needs,leaves,loops,wraps,notes,source\n"
     "sc,dc,,single crochet,crochet,1,1,2,0,u=1 w=0 c=1,s\n"
     "ch,ch,,chain,crochet,0,1,1,0,u=0 w=0 c=1,s\n"
     "sl st,ss,,slip stitch,crochet,1,1,1,0,u=1 w=0 c=0,s\n",
     0},
    {"fabrics.csv", "fabric,row,make,source\nsingle crochet,1,\"tch 1, *sc 1*\",s\n", 0},
    {"categories.csv",
     "category,label,types,knit_low_per_10cm,knit_high_per_10cm,crochet_low_per_10cm,crochet_high_per_10cm,"
     "needle_low_mm,needle_high_mm,hook_low_mm,hook_high_mm,wraps_low_per_in,wraps_high_per_in,notes,source\n"
     "4,Medium,,16,20,11,14,4.5,5.5,5.5,6.5,9,12,,s\n",
     0},
    {"tools.csv", "tool_mm,label,kind,source\n5,H-8,hook,s\n", 0},
    {"fibres.csv", "fibre,allowance_percent,density_g_per_cm3,notes,source\ncotton,8.5,1.52,,s\n", 0},
    {"currencies.csv", "code,minor_digits,name,notes,source\nEUR,2,Euro,,s\n", 0},
    {"spreads.csv",
     "name,value,meaning,source\nwrap_ratio,0.6,m,s\nwrap,0.2,m,s\ntension,0.1,m,s\nstitch,0.1,m,s\ntool,0.1,m,s\n"
     "yarn,0.1,m,s\ngrist,0.1,m,s\nmaking,0.1,m,s\npiece,0.1,m,s\n" GARMENT_SPREADS
     "unravelled,0.1,m,s\nreader,0.1,m,s\ndiameter_mm,0.1,m,s\n" TIME_SPREADS,
     0},
};

/* Reads the valid tables with one of them replaced (text NULL: omitted). */
static struct hk_catalogue *read_with(const char *name, const char *text, struct hk_diags *diags)
{
    struct memory_file files[COUNT(sound) + 1] = {{0}};
    size_t count = 0;
    for (size_t i = 0; i < COUNT(sound); i++) {
        bool other = strcmp(sound[i].name, name) == 0;
        if (!other || text)
            files[count++] = other ? (struct memory_file){name, text, 0} : sound[i];
    }
    struct hk_source source = memory_source(files);
    return hk_catalogue_read(&source, diags);
}

static void assert_refused(const char *name, const char *text, const char *findings)
{
    struct hk_diags diags = {0};
    assert_null(read_with(name, text, &diags));
    assert_findings(&diags, findings);
}

static void sound_tables_are_read(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_catalogue *catalogue = read_with("", NULL, &diags);
    assert_findings(&diags, "");
    assert_non_null(catalogue);
    assert_int_equal(catalogue->stitch_count, 3);
    assert_int_equal(catalogue->fabric_count, 1);
    hk_catalogue_free(catalogue);
    hk_catalogue_free(NULL);
}

static void a_missing_table_is_an_error(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(sound); i++) {
        struct hk_diags diags = {0};
        assert_null(read_with(sound[i].name, NULL, &diags));
        assert_int_equal(diags.count, 1);
        assert_int_equal(diags.findings[0].code, HK_CODE_FILE_MISSING);
        assert_string_equal(diags.findings[0].at.file, sound[i].name);
        hk_diags_free(&diags);
    }
}

static void a_source_with_nothing_in_it_reports_every_table(void **state)
{
    (void)state;
    const struct memory_file nothing[] = {{NULL, NULL, 0}};
    struct hk_source source = memory_source(nothing);
    struct hk_diags diags = {0};
    assert_null(hk_catalogue_read(&source, &diags));
    assert_int_equal(diags.count, COUNT(table_names));
    hk_diags_free(&diags);
}

static void mistakes_in_stitches_are_all_reported(void **state)
{
    (void)state;
    assert_refused("stitches.csv",
                   "us,uk,also,name,family,needs,leaves,loops,wraps,notes,source\n"
                   "sc,dc,,single crochet,crochet,1,1,2,0,,s\n"
                   ",,,nameless,crochet,1,1,2,0,,s\n"
                   "hdc,htr,,half double crochet,weaving,1,1,2,1,,s\n"
                   "dc,tr,,double crochet,crochet,one,-1,2.5 g,,,s\n"
                   "tr,dtr,,treble crochet,crochet,1,1,2,4,,\n",
                   "stitches.csv:3:1: error: the stitch has no abbreviation; write one in us, uk or both\n"
                   "stitches.csv:4:30: error: \"weaving\" is not a choice here; write crochet, tunisian or knit\n"
                   "stitches.csv:5:31: error: \"one\" is not a plain number; write it like 12.5\n"
                   "stitches.csv:5:35: error: -1 is below zero; write a plain number of zero or more\n"
                   "stitches.csv:5:42: error: g measures a mass, and a plain number is needed here; write it like 12.5\n"
                   "stitches.csv:5:44: error: the cell \"wraps\" is empty; every row of stitches.csv needs one\n"
                   "stitches.csv:6:41: error: the cell \"source\" is empty; every row of stitches.csv needs one\n");
}

/* dc in UK terms is sc in US terms: that is no conflict. */
static void a_word_has_one_meaning_in_each_terms(void **state)
{
    (void)state;
    assert_refused("stitches.csv",
                   "us,uk,also,name,family,needs,leaves,loops,wraps,notes,source\n"
                   "sc,dc,us:single,single crochet,crochet,1,1,2,0,,s\n"
                   "dc,tr,uk:single;treble,double crochet,crochet,1,1,2,2,,s\n"
                   "tr,dtr,uk:Treble;uk:tr,treble crochet,crochet,1,1,2,4,,s\n"
                   "ch,ch,,chain,crochet,0,1,1,0,,s\n"
                   "sl st,ss,us:Single Crochet,slip stitch,crochet,1,1,1,0,,s\n",
                   "stitches.csv:4:8: error: in UK terms the word \"tr\" is already in line 3\n"
                   "stitches.csv:4:8: error: in UK terms the word \"Treble\" is already in line 3\n"
                   "stitches.csv:6:10: error: in US terms the word \"Single Crochet\" is already in line 2\n");
}

static void a_fabric_without_a_source_is_reported(void **state)
{
    (void)state;
    assert_refused("fabrics.csv", "fabric,row,make,source\nsingle crochet,1,\"tch 1, *sc 1*\",\n",
                   "fabrics.csv:2:34: error: the cell \"source\" is empty; every row of fabrics.csv needs one\n");
}

static void mistakes_in_categories_are_reported(void **state)
{
    (void)state;
    assert_refused(
        "categories.csv",
        "category,label,types,knit_low_per_10cm,knit_high_per_10cm,crochet_low_per_10cm,crochet_high_per_10cm,"
        "needle_low_mm,needle_high_mm,hook_low_mm,hook_high_mm,wraps_low_per_in,wraps_high_per_in,notes,source\n"
        "4,Medium,,20,16,11,14,4.5,5.5,5.5,6.5,12,9,,s\n"
        "4,Heavy,,16,20,11,14,4.5,5.5,5.5,6.5,0,x,,s\n",
        "categories.csv:2:39: error: a range from 12 to 9; write the smaller number first\n"
        "categories.csv:3:1: error: the category \"4\" is already in line 2\n"
        "categories.csv:3:38: error: 0 is not possible here; write a plain number above zero\n"
        "categories.csv:3:40: error: \"x\" is not a plain number; write it like 12.5\n");
}

static void mistakes_in_tools_are_reported(void **state)
{
    (void)state;
    assert_refused("tools.csv", "tool_mm,label,kind,source\n5,H-8,hook,s\n5,h-8,Hook,s\n0,I-9,awl,s\n",
                   "tools.csv:3:3: error: the tool \"h-8, 5 mm\" is already in line 2\n"
                   "tools.csv:4:1: error: 0 is not possible here; write a plain number above zero\n"
                   "tools.csv:4:7: error: \"awl\" is not a choice here; write hook, steel hook or needle\n");
}

static void mistakes_in_fibres_are_reported(void **state)
{
    (void)state;
    assert_refused("fibres.csv",
                   "fibre,allowance_percent,density_g_per_cm3,notes,source\ncotton,8.5,,,s\ncotton,-1,,,s\n",
                   "fibres.csv:3:1: error: the fibre \"cotton\" is already in line 2\n"
                   "fibres.csv:3:8: error: -1 is below zero; write a plain number of zero or more\n");
}

static void mistakes_in_currencies_are_reported(void **state)
{
    (void)state;
    assert_refused("currencies.csv", "code,minor_digits,name,notes,source\nEUR,5,Euro,,s\neur,2.5,Euro,,s\n",
                   "currencies.csv:2:5: error: a currency of 5 digits; write 0 to 4\n"
                   "currencies.csv:3:1: error: the currency \"eur\" is already in line 2\n"
                   "currencies.csv:3:5: error: 2.5 is not a whole number; write it like 12\n");
}

static void mistakes_in_spreads_are_reported(void **state)
{
    (void)state;
    assert_refused("spreads.csv",
                   "name,value,meaning,source\nwrap_ratio,0.6,m,s\nwrap,0.2,m,s\ntensoin,0.1,m,s\nstitch,0,m,s\n"
                   "tool,0.1,m,s\n"
                   "yarn,0.1,m,s\ngrist,0.1,m,s\nmaking,0.1,m,s\npiece,0.1,m,s\nunravelled,0.1,m,s\nreader,0.1,m,"
                   "s\nwrap,0.1,m,s\n" GARMENT_SPREADS TIME_SPREADS,
                   "spreads.csv:0:0: error: there is no row for the spread tension\n"
                   "spreads.csv:0:0: error: there is no row for the spread diameter_mm\n"
                   "spreads.csv:4:1: error: there is no spread \"tensoin\"; did you mean \"tension\"?\n"
                   "spreads.csv:5:8: error: 0 is not possible here; write a plain number above zero\n"
                   "spreads.csv:13:1: error: the spread \"wrap\" is already in line 3\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_seven_tables_are_read),
        cmocka_unit_test(every_row_of_every_table_names_its_source),
        cmocka_unit_test(cells_are_shown_as_they_stand_in_the_file),
        cmocka_unit_test(nothing_is_shown_past_the_ends),
        cmocka_unit_test(every_stitch_recounts_from_its_yarn_overs),
        cmocka_unit_test(the_form_of_the_notes_is_checked_to_its_end),
        cmocka_unit_test(stitches_have_the_loops_and_wraps_of_the_design),
        cmocka_unit_test(uk_terms_are_one_name_off),
        cmocka_unit_test(some_words_exist_in_one_terms_only),
        cmocka_unit_test(every_spelling_is_a_word_of_the_notation),
        cmocka_unit_test(every_fabric_counts_over_many_rows),
        cmocka_unit_test(the_usual_fabrics_are_there),
        cmocka_unit_test(other_names_mean_the_same_fabric),
        cmocka_unit_test(no_name_means_two_fabrics),
        cmocka_unit_test(fabrics_leave_what_a_hand_count_says),
        cmocka_unit_test(widths_that_miss_the_repeat_do_not_fit),
        cmocka_unit_test(only_knit_fabrics_are_cast_on),
        cmocka_unit_test(wraps_fit_a_set_of_categories),
        cmocka_unit_test(categories_are_found_as_labels_state_them),
        cmocka_unit_test(labels_mean_the_diameters_of_the_trade),
        cmocka_unit_test(one_diameter_is_one_number_however_it_is_written),
        cmocka_unit_test(labels_that_name_no_one_size_are_errors_that_help),
        cmocka_unit_test(a_label_and_its_diameter_may_stand_together),
        cmocka_unit_test(diameters_that_cannot_be_are_errors),
        cmocka_unit_test(agreed_allowances_give_the_dry_mass),
        cmocka_unit_test(currencies_have_the_digits_of_the_standard),
        cmocka_unit_test(currencies_are_found_by_code),
        cmocka_unit_test(spreads_are_those_of_the_design),
        cmocka_unit_test(times_among_the_spreads_may_be_above_one),
        cmocka_unit_test(spreads_are_found_by_name),
        cmocka_unit_test(sound_tables_are_read),
        cmocka_unit_test(a_missing_table_is_an_error),
        cmocka_unit_test(a_source_with_nothing_in_it_reports_every_table),
        cmocka_unit_test(mistakes_in_stitches_are_all_reported),
        cmocka_unit_test(a_word_has_one_meaning_in_each_terms),
        cmocka_unit_test(a_fabric_without_a_source_is_reported),
        cmocka_unit_test(mistakes_in_categories_are_reported),
        cmocka_unit_test(mistakes_in_tools_are_reported),
        cmocka_unit_test(mistakes_in_fibres_are_reported),
        cmocka_unit_test(mistakes_in_currencies_are_reported),
        cmocka_unit_test(mistakes_in_spreads_are_reported),
    };
    return cmocka_run_group_tests_name("catalogue", tests, catalogue_set_up, catalogue_tear_down);
}
