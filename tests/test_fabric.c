/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "tally/count.h"

#include <string.h>

static const struct hk_column columns[] = {
    {"fabric", true, true}, {"row", true, true}, {"make", true, true}, {NULL, false, false}};

struct read {
    struct hk_arena arena;
    struct hk_diags diags;
    struct hk_table *table;
    struct hk_fabric *fabrics;
    size_t count;
    bool good;
};

/* The fabric of a row `*sc 3*`: 3. */
static int64_t run_of(const struct hk_row *row)
{
    assert_int_equal(row->step_count, 1);
    assert_int_equal(row->steps[0].step_count, 1);
    return row->steps[0].steps[0].where.count.one;
}

static struct read read_fabrics(const struct hk_catalogue *catalogue, const char *text)
{
    struct read read = {0};
    const struct memory_file files[] = {{"fabrics.csv", text, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    read.table = hk_table_read(&source, "fabrics.csv", (struct hk_table_options){.columns = columns}, &read.diags);
    assert_non_null(read.table);
    read.good =
        hk_fabrics_read(read.table, HK_TERMS_US, catalogue, &read.fabrics, &read.count, &read.arena, &read.diags);
    return read;
}

/* Asserts the findings, and frees everything. */
static void done(struct read *read, const char *expected)
{
    assert_findings(&read->diags, expected);
    hk_arena_free(&read->arena);
    hk_table_free(read->table);
}

static void set_up_rows_are_worked_once_and_the_others_in_turn(void **state)
{
    struct read read = read_fabrics(*state, "fabric,row,make\n"
                                            "Tide,set-up,*sc 1*\nTide,set-up 2,*sc 2*\nTide,1,*sc 3*\nTide,2,*sc 4*\n");
    assert_true(read.good);
    assert_int_equal(read.count, 1);
    const struct hk_fabric *fabric = &read.fabrics[0];
    assert_string_equal(fabric->name, "Tide");
    assert_int_equal(fabric->setup_count, 2);
    assert_int_equal(fabric->cycle_count, 2);
    static const int64_t needs[] = {1, 2, 3, 4, 3, 4, 3};
    for (int64_t r = 0; r < 7; r++)
        assert_int_equal(run_of(hk_fabric_row(fabric, r)), needs[r]);
    assert_int_equal(run_of(hk_fabric_row(fabric, 1000000000000)), 3);
    assert_false(fabric->knit);
    done(&read, "");
}

/* Rows of two fabrics in mixed order, the last first, names and words in any letter case. */
static void rows_may_stand_in_any_order(void **state)
{
    struct read read = read_fabrics(*state, "fabric,row,make\n"
                                            "Tide,2,*sc 2*\nReed,1,*k 1*\nTIDE,Set-Up,*sc 1*\ntide,1,*sc 3*\n");
    assert_true(read.good);
    assert_int_equal(read.count, 2);
    assert_string_equal(read.fabrics[0].name, "Tide");
    assert_string_equal(read.fabrics[1].name, "Reed");
    assert_true(read.fabrics[1].knit);
    assert_int_equal(run_of(hk_fabric_row(&read.fabrics[0], 0)), 1);
    assert_int_equal(run_of(hk_fabric_row(&read.fabrics[0], 1)), 3);
    assert_int_equal(run_of(hk_fabric_row(&read.fabrics[0], 2)), 2);
    done(&read, "");
}

static void gaps_and_doubled_rows_are_reported_and_good_fabrics_stay(void **state)
{
    struct read read =
        read_fabrics(*state, "fabric,row,make\n"
                             "Tide,1,*sc 1*\nTide,3,*sc 1*\nReed,1,*k 1*\nReed,1,*p 1*\n"
                             "Dune,set-up,*k 1*\nRock,2,*k 1*\nMoor,1,*k 1*\nHeath,set-up 2,*k 1*\nHeath,1,*k 1*\n");
    assert_false(read.good);
    assert_int_equal(read.count, 1);
    assert_string_equal(read.fabrics[0].name, "Moor");
    done(&read, "fabrics.csv:3:6: error: Tide has a row 3 and no row 2; number the rows without gaps\n"
                "fabrics.csv:5:6: error: Reed has a row 1 twice, first in line 4; number the rows 1, 2, ... each once\n"
                "fabrics.csv:6:6: error: Dune has set-up rows and no row 1; number the rows that are repeated 1, 2, ...\n"
                "fabrics.csv:7:6: error: Rock has a row 2 and no row 1; number the rows without gaps\n"
                "fabrics.csv:9:7: error: Heath has a row set-up 2 and no set-up row; number the rows without gaps\n");
}

static void every_wrong_cell_is_reported_at_once(void **state)
{
    struct read read = read_fabrics(
        *state, "fabric,row,make\n"
                "Tide,first,*sc 1*\nTide,,*scc 1*\n,1,*k 1*\nReed,0,*k 1*\nReed,1.5,*k 1*\nMoor,1,*k 1\nHeath,1,\n");
    assert_false(read.good);
    assert_int_equal(read.count, 0);
    done(&read, "fabrics.csv:2:6: error: first is no row of a fabric; write set-up, set-up 2, ... for rows worked "
                "once, then 1, 2, ...\n"
                "fabrics.csv:3:6: error: the cell \"row\" is empty; every row of fabrics.csv needs one\n"
                "fabrics.csv:3:8: error: scc is not a stitch in US terms; did you mean \"sc\"?\n"
                "fabrics.csv:4:1: error: the cell \"fabric\" is empty; every row of fabrics.csv needs one\n"
                "fabrics.csv:5:6: error: 0 is no row of a fabric; write set-up, set-up 2, ... for rows worked once, "
                "then 1, 2, ...\n"
                "fabrics.csv:6:6: error: 1.5 is no row of a fabric; write set-up, set-up 2, ... for rows worked once, "
                "then 1, 2, ...\n"
                "fabrics.csv:7:8: error: the repeat that opens here is not closed; write * after its last stitch too, "
                "or rep from * with the number of times\n"
                "fabrics.csv:8:9: error: the cell \"make\" is empty; every row of fabrics.csv needs one\n");
}

/*
 * A swatch needs a width that returns within the cycle, or stays constant; corners, crowns and triangles do not have
 * one.
 */
static void a_fabric_that_goes_one_way_shapes(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    struct read read =
        read_fabrics(catalogue, "fabric,row,make\n"
                                "flat,1,\"k 1, *k 1*\"\n"
                                "mesh,1,\"*ch 1, sk 2, dc 1*\"\nmesh,2,*3 sc in each of 1*\nmesh,3,*sc 3*\n"
                                "lace,1,*sc2tog*\nlace,2,*2 sc in 1*\n"
                                "crown,1,\"*sc 5, sc2tog*\"\ncrown,2,\"*sc 4, sc2tog*\"\n"
                                "wedge,1,\"2 sc in 1, *sc 1*\"\nwedge,2,*sc 1*\n");
    static const bool shapes[] = {false, false, false, true, true};
    assert_int_equal(read.count, 5);
    for (size_t i = 0; i < read.count; i++)
        assert_int_equal(hk_count_shapes(&read.fabrics[i], catalogue, &read.arena), shapes[i]);
    done(&read, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(set_up_rows_are_worked_once_and_the_others_in_turn),
        cmocka_unit_test(rows_may_stand_in_any_order),
        cmocka_unit_test(gaps_and_doubled_rows_are_reported_and_good_fabrics_stay),
        cmocka_unit_test(every_wrong_cell_is_reported_at_once),
        cmocka_unit_test(a_fabric_that_goes_one_way_shapes),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
