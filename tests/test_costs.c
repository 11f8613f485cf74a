/* SPDX-License-Identifier: GPL-3.0-or-later */
/* costs.csv: the values read, and every mistake at its place with its hint. The folder has sizes S, M and L, in EUR. */
#include "folder.h"

#include "project/read/reading.h"

#include <string.h>

#define ONE HK_COST_ONE

static struct hk_project *read_costs(const struct hk_catalogue *catalogue, const char *costs)
{
    struct folder folder = {.other_name = "costs.csv", .other_text = costs};
    return folder_good(catalogue, folder);
}

static void assert_costs_bad(const struct hk_catalogue *catalogue, const char *costs, const char *expected)
{
    struct folder folder = {.other_name = "costs.csv", .other_text = costs};
    assert_folder_bad(catalogue, folder, expected);
}

static void no_costs_are_no_mistake(void **state)
{
    struct hk_project *project = folder_good(*state, good_folder);
    assert_int_equal(project->cost_count, 0);
    hk_project_free(project);
}

static void rows_of_every_kind_are_read(void **state)
{
    struct hk_project *project = read_costs(*state,
        "item,kind,amount,quantity,per\n"
        "buttons,material,0.85,\"7 (7, 8)\",\n"
        "lining,material,12.00,0.5,piece\n"
        "work,labour,18.00,,\n"
        "packing,labour,15,90 min,kit\n"
        "studio,overhead,10%,,labour\n"
        "light,overhead,0.50,,hour\n"
        "profit,markup,12.5%,,\n"
        "marketplace,fee,6.5%,,\n"
        "listing,fee,EUR 0.20,,pattern\n"
        "VAT,tax,19%,,included\n"
        "box,kit,1.10,,\n"
        "printing,fixed,40,,batch\n"
        "parcel,postage,4.90,,piece\n");
    const struct hk_cost *c = project->costs;
    assert_int_equal(project->cost_count, 13);
    assert_int_equal(c[0].amount_minor, 85);
    assert_int_equal(c[0].quantity[0], 7 * ONE);
    assert_int_equal(c[0].quantity[2], 8 * ONE);
    assert_int_equal(c[0].per, HK_PER_EACH);
    assert_int_equal(c[1].quantity[1], ONE / 2);
    assert_int_equal(c[1].per, HK_PER_PIECE);
    assert_null(c[2].quantity);
    assert_int_equal(c[2].amount_minor, 1800);
    assert_int_equal(c[3].quantity[0], 3 * ONE / 2);
    assert_int_equal(c[3].per, HK_PER_KIT);
    assert_true(c[4].percent);
    assert_int_equal(c[4].per, HK_PER_LABOUR);
    assert_int_equal(c[4].millionths, 100000);
    assert_false(c[5].percent);
    assert_int_equal(c[5].per, HK_PER_HOUR);
    assert_int_equal(c[6].millionths, 125000);
    assert_int_equal(c[6].per, HK_PER_ALL);
    assert_int_equal(c[7].millionths, 65000);
    assert_int_equal(c[8].amount_minor, 20);
    assert_int_equal(c[8].per, HK_PER_PATTERN);
    assert_int_equal(c[9].per, HK_PER_INCLUDED);
    assert_int_equal(c[10].per, HK_PER_KIT);
    assert_int_equal(c[11].per, HK_PER_BATCH);
    assert_int_equal(c[12].per, HK_PER_PIECE);
    hk_project_free(project);
}

/* A size without the item, a name from grade.csv, hours without and with units. */
static void quantities_may_be_graded_named_or_nothing(void **state)
{
    struct hk_project *project = read_costs(*state,
        "item,kind,amount,quantity\n"
        "zip,material,3,\"- (1, 1)\"\n"
        "beads,material,0.05,width\n"
        "blocking,labour,15,0.25\n"
        "sewing,labour,15,1 h 10 min\n");
    const struct hk_cost *c = project->costs;
    assert_int_equal(c[0].quantity[0], 0);
    assert_int_equal(c[0].quantity[1], ONE);
    assert_int_equal(c[1].quantity[2], 28 * ONE);
    assert_int_equal(c[2].quantity[0], ONE / 4);
    assert_int_equal(c[3].quantity[0], 70 * ONE / 60);
    hk_project_free(project);
}

/* A minute is not a whole thousandth of an hour; a second, a third of an hour and the fifth decimal are exact too. */
static void quantities_are_not_cut(void **state)
{
    struct hk_project *project = read_costs(*state,
        "item,kind,amount,quantity\n"
        "pins,labour,15,20 min\n"
        "beads,labour,15,1 min\n"
        "knots,labour,15,7 s\n"
        "blocking,labour,15,1/3\n"
        "tape,material,15,0.12345\n"
        "lace,material,15,2/3\n");
    const struct hk_cost *c = project->costs;
    assert_int_equal(3 * c[0].quantity[0], ONE);
    assert_int_equal(60 * c[1].quantity[0], ONE);
    assert_int_equal(3600 * c[2].quantity[0], 7 * ONE);
    assert_int_equal(3 * c[3].quantity[0], ONE);
    assert_int_equal(100000 * c[4].quantity[0], 12345 * ONE);
    assert_int_equal(3 * c[5].quantity[0], 2 * ONE);
    hk_project_free(project);
}

/*
 * 6.5 may be 6.5% or EUR 6.50, 0.065 a spreadsheet's form of 6.5%; with a `per` that requires money, and at 0, it is
 * unambiguous.
 */
static void a_bare_number_that_may_be_percent_or_money_is_asked_about(void **state)
{
    assert_costs_bad(*state,
        "item,kind,amount,quantity,per\n"
        "card,fee,6.5,,\n"
        "shop,fee,0.065,,sale\n"
        "light,overhead,8,,\n"
        "rent,overhead,1,,\n"
        "light,overhead,0.50,,hour\n"
        "gift,fee,0,,\n"
        "market,fee,6.5 percent,,\n"
        "stall,fee,3 EUR,,\n",
        "costs.csv:2:10: error: the fee \"card\" of 6.5 can be a percentage or an amount of money; write 6.5%, or as an amount "
        "EUR 6.50\n"
        "costs.csv:3:10: error: the fee \"shop\" of 0.065 can be a percentage or an amount of money; write 6.5% or 0.065%, or an "
        "amount such as EUR 4.50\n"
        "costs.csv:4:16: error: the overhead \"light\" of 8 can be a percentage or an amount of money; write 8%, or as an amount "
        "EUR 8.00\n"
        "costs.csv:5:15: error: the overhead \"rent\" of 1 can be a percentage or an amount of money; write 100% or 1%, or as an "
        "amount EUR 1.00\n");
    struct folder folder = {.project = "field,value\nsizes,S (M; L)\n", .other_name = "costs.csv"};
    folder.other_text = "item,kind,amount\ncard,fee,6.5\n";
    assert_folder_bad(*state, folder,
        "costs.csv:2:10: error: the fee \"card\" of 6.5 can be a percentage or an amount of money; write 6.5%, or as an amount "
        "EUR 6.50 with the currency stated in project.csv\n");
}

static void the_nearest_kind_is_named_where_one_is_near(void **state)
{
    assert_costs_bad(*state, "item,kind,amount\nwork,labor,18\ntea,biscuits,2\n",
                     "costs.csv:2:6: error: \"labor\" is not a choice here; did you mean \"labour\"? write material, labour, "
                     "overhead, markup, fee, tax, kit, fixed or postage\n"
                     "costs.csv:3:5: error: \"biscuits\" is not a choice here; write material, labour, overhead, markup, fee, "
                     "tax, kit, fixed or postage\n");
}

static void mistakes_are_reported_with_hints(void **state)
{
    assert_costs_bad(
        *state,
        "item,kind,amount,quantity,per\n"
        "buttons,materials,0.85,,\n"
        "buttons,material,10%,,\n"
        "work,labour,0,,\n"
        "packing,labour,15,,kit\n"
        "studio,overhead,10%,,hour\n"
        "light,overhead,0.50,,labour\n"
        "profit,markup,12.50,,\n"
        "profit,markup,-5%,,\n"
        "card,fee,2.12345%,,\n"
        "card,fee,2%,3,\n"
        "VAT,tax,19%,,\n"
        "printing,fixed,40,,\n"
        "parcel,postage,4.90,,sale\n"
        "zip,material,1,\"1 (1, 1, 1)\",\n"
        "yarn,material,-1,,\n",
        "costs.csv:2:9: error: \"materials\" is not a choice here; did you mean \"material\"? write material, labour, "
        "overhead, markup, fee, tax, kit, fixed or postage\n"
        "costs.csv:3:18: error: the material \"buttons\" is in percent; write an amount of money, such as 4.50\n"
        "costs.csv:4:13: error: \"work\" is work for nothing an hour; write what an hour of it earns, or leave the row "
        "out "
        "and ask with --price\n"
        "costs.csv:5:19: error: \"packing\" does not say how many hours; write hours in the column quantity, such as "
        "1.5 or "
        "90 min; only the work on the piece itself is computed from its stitches\n"
        "costs.csv:6:22: error: an overhead in percent cannot be per hour; write all, materials or labour\n"
        "costs.csv:7:22: error: an overhead in money cannot be per labour; write it with a percent sign, or per piece, "
        "hour, "
        "kit or batch\n"
        "costs.csv:8:15: error: the markup \"profit\" is not in percent; write it like 20%\n"
        "costs.csv:9:15: error: -5% is below zero; write a percentage of zero or more\n"
        "costs.csv:10:10: error: 2.12345% has too many digits after the point; write at most 4\n"
        "costs.csv:11:13: error: a fee has no quantity; leave the cell empty\n"
        "costs.csv:12:14: error: the tax \"VAT\" does not say whether it is in the price or comes on top; write "
        "included or "
        "added in the column per\n"
        "costs.csv:13:20: error: the fixed \"printing\" does not say what it is fixed for; write batch or pattern in "
        "the "
        "column per\n"
        "costs.csv:14:22: error: \"sale\" is not a choice here; write piece or kit\n"
        "costs.csv:15:17: error: 4 values for 3 sizes; write one value for all sizes, or one for each with 0 or - "
        "where a size does "
        "without\n"
        "costs.csv:16:15: error: -1 is below zero; write a price of zero or more\n");
}

static void one_rate_for_the_work_and_one_row_for_a_tax(void **state)
{
    assert_costs_bad(
        *state,
        "item,kind,amount,quantity,per\n"
        "work,labour,18,,\n"
        "sewing,labour,18,2,\n"
        "VAT,tax,19%,,included\n"
        "also,labour,20,,\n"
        "sales tax,tax,5%,,added\n"
        "vat,tax,5%,,added\n",
        "costs.csv:5:1: error: the rate for the work on the piece is already in line 2; keep one of the rows, or write "
        "how many hours in the column quantity\n"
        "costs.csv:7:1: error: the tax \"vat\" is already in line 4; keep one of the rows, or give a second tax its "
        "own "
        "name\n");
}

static void several_taxes_are_several_rows(void **state)
{
    struct hk_project *project = read_costs(*state,
        "item,kind,amount,quantity,per\n"
        "country,tax,5%,,added\n"
        "province,tax,9.975%,,added\n"
        "levy,tax,1%,,included\n");
    assert_int_equal(project->cost_count, 3);
    assert_int_equal(project->costs[1].millionths, 99750);
    assert_int_equal(project->costs[1].per, HK_PER_ADDED);
    assert_int_equal(project->costs[2].per, HK_PER_INCLUDED);
    hk_project_free(project);
}

/* The cost of a row of 10^12 hours of work exceeded the range of whole numbers. */
static void quantities_of_the_grading_sheet_have_a_bound_too(void **state)
{
    struct folder folder = {.grade = "name,S,M,L\nwidth,20,24,28\nmany,1000000,1000000,1000000\nmore,1,1000001,1\n",
                            .other_name = "costs.csv"};
    folder.other_text = "item,kind,amount,quantity,per\nbeads,material,0.05,many,\n";
    struct hk_project *project = folder_good(*state, folder);
    assert_int_equal(project->costs[0].quantity[2], 1000000 * ONE);
    hk_project_free(project);
    folder.other_text = "item,kind,amount,quantity,per\npacking,labour,15,more,kit\n";
    assert_folder_bad(*state, folder, "costs.csv:2:19: error: a quantity of more, as grade.csv has it; write at most a million\n");
}

/* One row for each mistake; the rows without a mistake (a, b, e, h, k, p, cc) have no finding. */
static void every_mistake_in_costs_is_reported(void **state)
{
    assert_costs_bad(
        *state,
        "item,kind,amount,quantity,per\na,material,1.00,\"1 (2, -)\",\nb,material,1.00,-,\n"
        "c,material,1.00,2000000,\nd,material,1.00,1 (2),\ne,material,1.00,width,\n"
        "f,material,1.00,widht,\ng,material,1.00,3 g,\nh,material,1.00,.5,\ni,labour,14,90 m,kit\n"
        "j,labour,0,1,kit\nk,labour,14,1.5 h,kit\nl,overhead,1001%,,\nm,overhead,6.55555%,,\n"
        "n,overhead,5,,all\no,overhead,5%,,hour\np,overhead,5%,,materials\nq,overhead,5%,,moon\n"
        "r,markup,,,\ns,markup,5,,\nt,tax,5,,included\nu,tax,5%,,\nv,tax,5%,2,added\nw,fixed,5,,\n"
        "x,moon,5,,\ny,postage,5%,,\nz,labour,14,,kit\naa,labour,14,,\nbb,labour,15,,\n"
        "cc,kit,1,0.001 min,\ndd,material,1.00,1 (x; 3),\n",
        "costs.csv:4:17: error: a quantity of 2000000; write at most a million\n"
        "costs.csv:5:17: error: 2 values for 3 sizes; write one value for all sizes, or one for each with "
        "0 or - where a size does without\n"
        "costs.csv:7:17: error: \"widht\" is neither a number nor a name in grade.csv; did you mean \"width\"?\n"
        "costs.csv:8:19: error: g measures a mass, and a plain number is needed here; write it like 12.5\n"
        "costs.csv:10:16: error: m measures a length, and a time is needed here; write it like 25 min or "
        "1 h 10 min\n"
        "costs.csv:11:10: error: \"j\" is work for nothing an hour; write what an hour of it earns, or "
        "leave the row out and ask with --price\n"
        "costs.csv:13:12: error: 1001% is more than ten times the whole; write it like 6.5%\n"
        "costs.csv:14:12: error: 6.55555% has too many digits after the point; write at most 4\n"
        "costs.csv:15:15: error: an overhead in money cannot be per all; write it with a percent sign, or "
        "per piece, hour, kit or batch\n"
        "costs.csv:16:16: error: an overhead in percent cannot be per hour; write all, materials or labour\n"
        "costs.csv:18:16: error: \"moon\" is not a choice here; write all, materials, labour, piece, "
        "hour, kit or batch\n"
        "costs.csv:19:10: error: the cell \"amount\" is empty; every row of costs.csv needs one\n"
        "costs.csv:20:10: error: the markup \"s\" is not in percent; write it like 20%\n"
        "costs.csv:21:7: error: the tax \"t\" is not in percent; write it like 20%\n"
        "costs.csv:22:11: error: the tax \"u\" does not say whether it is in the price or comes on top; "
        "write included or added in the column per\n"
        "costs.csv:23:10: error: a tax has no quantity; leave the cell empty\n"
        "costs.csv:24:12: error: the fixed \"w\" does not say what it is fixed for; write batch or "
        "pattern in the column per\n"
        "costs.csv:25:3: error: \"moon\" is not a choice here; write material, labour, overhead, markup, "
        "fee, tax, kit, fixed or postage\n"
        "costs.csv:26:11: error: the postage \"y\" is in percent; write an amount of money, such as 4.50\n"
        "costs.csv:27:13: error: \"z\" does not say how many hours; write hours in the column quantity, "
        "such as 1.5 or 90 min; only the work on the piece itself is computed from its stitches\n"
        "costs.csv:29:1: error: the rate for the work on the piece is already in line 28; keep one of "
        "the rows, or write how many hours in the column quantity\n"
        "costs.csv:30:16: error: min measures a time, and a plain number is needed here; write it like "
        "12.5\n"
        "costs.csv:31:18: error: \"x\" is not a plain number; write it like 12.5\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_costs_are_no_mistake),
        cmocka_unit_test(rows_of_every_kind_are_read),
        cmocka_unit_test(quantities_may_be_graded_named_or_nothing),
        cmocka_unit_test(quantities_are_not_cut),
        cmocka_unit_test(a_bare_number_that_may_be_percent_or_money_is_asked_about),
        cmocka_unit_test(quantities_of_the_grading_sheet_have_a_bound_too),
        cmocka_unit_test(the_nearest_kind_is_named_where_one_is_near),
        cmocka_unit_test(mistakes_are_reported_with_hints),
        cmocka_unit_test(one_rate_for_the_work_and_one_row_for_a_tax),
        cmocka_unit_test(several_taxes_are_several_rows),
        cmocka_unit_test(every_mistake_in_costs_is_reported),
    };
    return cmocka_run_group_tests_name("costs", tests, catalogue_set_up, catalogue_tear_down);
}
