/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Another yarn in place of the planned yarn of a role: worked by hand, compared with the plan's own prediction and with
 * a script.
 */
#include "folder.h"

#include "catalogue/moisture.h"
#include "compare/yarn_list.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

static struct hk_compare *compare_with(const struct stages *stages, const char *text, struct hk_compare_options options,
                                       struct hk_yarn_list **list)
{
    struct hk_diags diags = {0};
    const struct memory_file files[] = {{"list.csv", text, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    if (text) {
        *list = hk_yarn_list_read(&source, "list.csv", stages->project, &diags);
        assert_findings(&diags, "");
        assert_non_null(*list);
        options.list = *list;
    }
    struct hk_compare *compare = hk_compare_make(stages->need, options, &diags);
    assert_findings(&diags, "");
    assert_non_null(compare);
    return compare;
}

/* No weighings, no tails, ten rows of 100 sc on an edge: 2 loops each. */
static const struct folder plain_folder = {
    .project = "field,value\ntitle,Plain\nsizes,one\ncurrency,EUR\ntail,0\njoin,anywhere\n",
    .grade = "",
    .yarns = "role,yarn,put_up,length,wpi,price,fibre,category\nmain,Alva,50 g,100 m,12.7,5.00,wool,\n"
             "main,Thick,100 g,100 m,10.16,9.00,cotton,Light\nmain,Slim,25 g,100 m,25.4,2.00,wool,\n",
    .fabrics = "fabric,row,make\nplain,1,*sc*\n",
    .swatches = "",
    .pieces = "piece,fabric,yarn,tool,stitches,rows,start\npiece,plain,main,5 mm,100,10,edge\n",
};

/*
 * Wraps of 12.7 and 10.16 in an inch are 2 and 2.5 mm: a loop on 5 mm is 7 pi mm, then 7.5 pi mm. 2000 loops: 14 pi m =
 * 43.98 m and 15 pi m = 47.12 m; at 0.5 and 1 g a metre 21.99 and 47.12 g. Stitches grow by 7.5/7, so 7%; 4.5 mm + 2.5
 * mm is 7 mm again, so that hook keeps the gauge, and with it the length is the plan's 14 pi. Thickness 2.5/2 = 1.25 is
 * just kept, and its label says 3 Light, which the planned yarn's 13 wraps fit too.
 */
static void a_thicker_yarn_makes_longer_loops(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    assert_int_equal(compare->row_count, 2);
    const struct hk_compare_row *thick = &compare->rows[0];
    assert_string_equal(thick->yarns[0].yarn, "Thick");
    assert_string_equal(thick->categories, "3 Light, 4 Medium");
    assert_close(compare->plan.length_m.likely, 14 * PI, 1e-12, 0);
    assert_close(thick->length_m.likely, 15 * PI, 1e-12, 0);
    assert_close(thick->mass_g, 15 * PI, 1e-12, 0);
    assert_close(thick->piece_g, 15 * PI, 1e-12, 0);
    assert_close(thick->stitch_size, 7.5 / 7, 1e-12, 0);
    assert_close(thick->thickness, 1.25, 1e-12, 0);
    assert_int_equal(thick->verdict, HK_VERDICT_OTHER_TOOL);
    assert_close(thick->keeping_tool_mm, 4.5, 0, 0);
    assert_string_equal(thick->keeping_label, "7");
    assert_close(thick->keeping_length_m, 14 * PI, 1e-12, 0);
    hk_compare_free(compare);
    stages_free(stages);
}

/*
 * 25.4 wraps: 1 mm, half as thick; categories by whole wraps 25: 1 only; the plan's 13: 2, 3. None in common. Length
 * 2000 * 6 pi mm = 12 pi m.
 */
static void a_yarn_of_no_common_category_differs_and_comes_last(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    const struct hk_compare_row *slim = &compare->rows[1];
    assert_string_equal(slim->yarns[0].yarn, "Slim");
    assert_int_equal(slim->verdict, HK_VERDICT_DIFFERS);
    assert_int_equal(slim->reason, HK_REASON_CATEGORY);
    assert_string_equal(slim->categories, "1 Super Fine");
    assert_string_equal(compare->plan.categories, "2 Fine, 3 Light");
    assert_close(slim->length_m.likely, 12 * PI, 1e-12, 0);
    assert_true(slim->cost_minor < compare->rows[0].cost_minor); /* cheaper, but unsuitable */
    hk_compare_free(compare);
    stages_free(stages);
}

/* Agreed allowances: wool 17 (carded) to 18.25 (combed), cotton 8.5 percent: regulation (EU) 1007/2011 annex IX. */
static void fibres_that_hold_another_share_of_moisture_are_reported(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    assert_close(compare->plan.moisture_low, 0.17, 1e-12, 0);
    assert_close(compare->plan.moisture_high, 0.1825, 1e-12, 0);
    assert_close(compare->rows[0].moisture_low, 0.085, 1e-12, 0);
    assert_true(compare->rows[0].damp);
    assert_false(compare->rows[1].damp);
    hk_compare_free(compare);
    stages_free(stages);
}

static void assert_allowance(const struct hk_catalogue *catalogue, const char *label, double low, double high)
{
    double found_low = -1, found_high = -1;
    assert_true(hk_moisture_allowance(catalogue, label, &found_low, &found_high));
    assert_close(found_low, low, 1e-12, 0);
    assert_close(found_high, high, 1e-12, 0);
}

/* 0.7 * 17 + 0.3 * 11 = 15.2; 0.7 * 18.25 + 0.3 * 11 = 16.075. */
static void labels_are_weighed_by_their_shares(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    assert_allowance(catalogue, "70% Merino wool, 30% silk", 0.152, 0.16075);
    assert_allowance(catalogue, "70% Merino 30% silk", 0.152, 0.16075);
    assert_allowance(catalogue, "wool, combed", 0.1825, 0.1825);
    assert_allowance(catalogue, "mercerised cotton", 0.105, 0.105);
    assert_allowance(catalogue, "cotton", 0.085, 0.085);
    assert_allowance(catalogue, "cotton and linen", 0.085, 0.12);
    assert_allowance(catalogue, "50% cotton / 50% linen", 0.1025, 0.1025);
    assert_allowance(catalogue, "100% nylon", 0.0575, 0.0625);
}

static void an_unknown_fibre_or_wrong_shares_leave_the_allowance_open(void **state)
{
    static const char *const labels[] = {"", "moonbeam", "50% moonbeam, 50% wool", "50% wool, 20% silk", "crayon"};
    for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++) {
        double low = 7, high = 8;
        assert_false(hk_moisture_allowance(*state, labels[i], &low, &high));
        assert_close(low, 7, 0, 0);
        assert_close(high, 8, 0, 0);
    }
}

/* Breeds and processes are no fibres of the table, and no slip for one. */
static void a_mistyped_fibre_is_recognised(void **state)
{
    static const char *const labels[][2] = {
        {"woll", "wool"},
        {"70% wool, 30% silck", "silk"},
        {"Merinoo", "merino"},
        {"90% wol 10% nylon", "wool"},
        {"poly blend", NULL},
        {"Bluefaced Leicester", NULL},
        {"superwash", NULL},
        {"wool, 20% tinsel", NULL},
        {"50% wool, 20% silk", NULL},
        {"", NULL},
    };
    for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++) {
        struct hk_arena arena = {0};
        const char *meant = hk_fibre_meant(*state, labels[i][0], &arena);
        if (labels[i][1])
            assert_string_equal(meant, labels[i][1]);
        else
            assert_null(meant);
        hk_arena_free(&arena);
    }
}

/* The planned yarn in its own place has the same figures as the prediction. */
static void the_plan_in_its_own_place_is_the_prediction(void **state)
{
    struct folder folder = {
        .yarns = "role,yarn,put_up,length,price\nmain,Quay DK,50 g,120 m,6.40\nlace,Quay Lace,25 g,210 m,7\n"
                 "main,Other,50 g,110 m,5\n",
        .pieces = "piece,fabric,yarn,tool,stitches,rows,times\n"
                  "strip,single crochet,main,4 mm,width,10,2\n"
                  "band,half double crochet,main + lace,5 mm,30,20,\n"
                  "cord,single crochet,main x2,5 mm,10,40,3\n"
                  "edge,single crochet,\"main 2, lace 4\",3.5 mm,40,12,\n",
    };
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    assert_string_equal(compare->size, "M");
    const struct hk_need_role *role = NULL, *lace = NULL;
    for (size_t i = 0; i < stages.need->role_count; i++) {
        if (stages.need->roles[i].size == 1 && stages.need->roles[i].role == 0)
            role = &stages.need->roles[i];
        if (stages.need->roles[i].size == 1 && stages.need->roles[i].role == 1)
            lace = &stages.need->roles[i];
    }
    const struct hk_compare_row *plan = &compare->plan;
    assert_non_null(role);
    assert_non_null(lace);
    assert_close(plan->length_m.likely, role->length_m.likely, 1e-12, 0);
    assert_close(plan->length_m.enough, role->length_m.enough, 1e-12, 0);
    assert_close(plan->spread, role->spread, 1e-12, 0);
    assert_close(plan->yarns[0].mass_g.low, role->mass_g.low, 1e-12, 0);
    assert_close(plan->yarns[0].mass_g.high, role->mass_g.high, 1e-12, 0);
    assert_close(plan->yarns[0].mass_g.enough, role->mass_g.enough, 1e-12, 0);
    assert_int_equal(plan->balls, role->balls);
    assert_close(plan->piece_g, role->mass_g.likely + lace->mass_g.likely, 1e-12, 0);
    assert_close(plan->stitch_size, 1, 1e-12, 0);
    assert_int_equal(plan->verdict, HK_VERDICT_FITS);
    assert_close(plan->keeping_length_m, plan->length_m.likely, 1e-12, 0);
    hk_compare_free(compare);
    stages_free(stages);
}

/*
 * Half of the plan's 0.5 g a metre twice: 25 g = 100 m. Each is 2/sqrt 2 mm thick by wraps of 25.4/1.41421..., so the
 * two are 2 mm together: each has the plan's length, and both are one yarn, bought once.
 */
static void two_yarns_of_half_the_grist_replace_one(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_yarn_list *list = NULL;
    struct hk_compare_options options = hk_compare_defaults();
    options.held_together = true;
    struct hk_compare *compare =
        compare_with(&stages, "yarn,put_up,length,wpi,price\nHalf,25 g,100 m,17.96051224213831,3\nFar,25 g,10 m,,1\n",
                     options, &list);
    assert_int_equal(compare->row_count, 3); /* two yarns alone, and Half with itself */
    const struct hk_compare_row *pair = NULL;
    for (size_t i = 0; i < compare->row_count; i++) {
        if (compare->rows[i].yarns[0].strands == 2)
            pair = &compare->rows[i];
    }
    assert_non_null(pair);
    assert_int_equal(pair->yarn_count, 1);
    assert_string_equal(pair->yarns[0].yarn, "Half");
    assert_close(pair->length_m.likely, 28 * PI, 1e-9, 0);
    assert_close(pair->keeping_length_m, 28 * PI, 1e-9, 0);
    assert_close(pair->yarns[0].mass_g.likely, 7 * PI, 1e-9, 0);
    assert_close(pair->mass_g, 7 * PI, 1e-9, 0);
    assert_int_equal(pair->verdict, HK_VERDICT_FITS);
    assert_int_equal(pair->cost_minor, pair->yarns[0].cost_minor);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    stages_free(stages);
}

/*
 * Half is held together with itself in place of main, like its swatch; the same design is also planned in `light x2`.
 * Its length, mass, balls and cost equal those of hk_shop_plan there: 5 balls, where each strand alone takes 3.
 */
static void two_strands_of_one_yarn_are_bought_as_shop_buys_them(void **state)
{
    static const char pieces[] = "piece,fabric,yarn,tool,stitches,rows,start\nwrap,plain,%s,5 mm,60,130,edge\n"
                                 "edging,plain,%s,4 mm,60,8,edge\n";
    char apart[200], together[200];
    snprintf(apart, sizeof apart, pieces, "main", "main");
    snprintf(together, sizeof together, pieces, "light x2", "light x2");
    struct folder folder = {
        .project = "field,value\ntitle,Wrap\nsizes,one\ncurrency,EUR\n",
        .grade = "",
        .yarns = "role,yarn,put_up,length,price\nmain,Broad,50 g,100 m,9.00\nlight,Half,50 g,200 m,7.80\n",
        .fabrics = "fabric,row,make\nplain,1,*sc*\n",
        .swatches = "swatch,yarn,tool,fabric,stitches,rows,start,weight,scale_step\ns,light x2,5 mm,plain,20,24,edge,12 g,0.1 g\n",
        .pieces = apart,
    };
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_compare_options options = hk_compare_defaults();
    options.held_together = true;
    struct hk_compare *compare = compare_with(&stages, NULL, options, NULL);
    folder.pieces = together;
    struct stages planned = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_diags diags = {0};
    struct hk_shop *shop = hk_shop_plan(planned.need, hk_shop_defaults(), &diags);
    assert_findings(&diags, "");
    assert_non_null(shop);
    const struct hk_compare_row *row = &compare->rows[0];
    const struct hk_need_role *need = &planned.need->roles[0];
    const struct hk_shop_line *line = &shop->sizes[0].lines[0];
    assert_int_equal(compare->row_count, 1);
    assert_int_equal(row->yarns[0].strands, 2);
    assert_true(row->yarns[0].weighed);
    assert_close(row->length_m.likely, need->length_m.likely, 1e-9, 0);
    assert_close(row->length_m.enough, need->length_m.enough, 1e-9, 0);
    assert_close(row->yarns[0].mass_g.low, need->mass_g.low, 1e-9, 0);
    assert_close(row->yarns[0].mass_g.enough, need->mass_g.enough, 1e-9, 0);
    assert_close(row->left_over_m, shop->sizes[0].roles[0].left_over_m, 1e-6, 0);
    assert_int_equal(line->balls, 5);
    assert_int_equal(line->cost_minor, 3900);
    assert_int_equal(row->balls, line->balls);
    assert_int_equal(row->cost_minor, line->cost_minor);
    hk_shop_free(shop);
    hk_compare_free(compare);
    stages_free(planned);
    stages_free(stages);
}

/*
 * The same yarn in two put-ups, and in yarns.csv in two roles: each is held together with itself, and with no other row
 * of the same yarn.
 */
static void a_yarn_in_several_rows_is_not_held_together_with_itself_as_with_another(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_yarn_list *list = NULL;
    struct hk_compare_options options = hk_compare_defaults();
    options.held_together = true;
    struct hk_compare *compare = compare_with(
        &stages, "yarn,put_up,length,colour\nHalf,25 g,100 m,\nhalf,75 g,300 m,\nHalf,25 g,100 m,Kelp\n", options, &list);
    size_t twice = 0, pairs = 0;
    for (size_t i = 0; i < compare->row_count; i++) {
        twice += compare->rows[i].yarns[0].strands == 2;
        pairs += compare->rows[i].yarn_count == 2;
    }
    assert_int_equal(compare->row_count, 3 + 3 + 2); /* alone, twice, and with Kelp in each of the two put-ups */
    assert_int_equal(twice, 3);
    assert_int_equal(pairs, 2);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    stages_free(stages);
    struct folder folder = plain_folder;
    folder.yarns = "role,yarn,put_up,length\nmain,Alva,50 g,100 m\nmain,Half,25 g,100 m\nlace,Half,25 g,100 m\n";
    stages = stages_of(*state, folder, HK_NO_SIZE);
    compare = compare_with(&stages, NULL, options, NULL);
    assert_int_equal(compare->row_count, 2); /* Half, and Half twice */
    hk_compare_free(compare);
    stages_free(stages);
}

static void orders_are_as_asked_for(void **state)
{
    static const char text[] = "yarn,put_up,length,price\na,50 g,100 m,\nb,50 g,110 m,9\nc,100 g,210 m,12\nd,25 g,60 m,2\n";
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    for (enum hk_compare_order order = HK_COMPARE_ORDER_COST; order <= HK_COMPARE_ORDER_BALLS; order++) {
        struct hk_yarn_list *list = NULL;
        struct hk_compare_options options = hk_compare_defaults();
        options.order = order;
        struct hk_compare *compare = compare_with(&stages, text, options, &list);
        assert_int_equal(compare->row_count, 4);
        for (size_t i = 1; i < compare->row_count; i++) {
            const struct hk_compare_row *a = &compare->rows[i - 1], *b = &compare->rows[i];
            assert_int_equal(b->verdict == HK_VERDICT_DIFFERS, false);
            assert_true(order != HK_COMPARE_ORDER_COST || (a->cost_minor >= 0 && (b->cost_minor < 0 || a->cost_minor <= b->cost_minor)));
            assert_true(order != HK_COMPARE_ORDER_LENGTH || a->length_m.likely <= b->length_m.likely);
            assert_true(order != HK_COMPARE_ORDER_MASS || a->mass_g <= b->mass_g);
            assert_true(order != HK_COMPARE_ORDER_BALLS || a->balls <= b->balls);
        }
        hk_compare_free(compare);
        hk_yarn_list_free(list);
    }
    stages_free(stages);
}

/* A ball of one gram and one metre is shorter than the yarn lost in a join of two tails. */
static void a_ball_used_up_by_a_join_differs_and_costs_nothing(void **state)
{
    struct folder folder = plain_folder;
    folder.project = "field,value\ntitle,Plain\nsizes,one\ncurrency,EUR\ntail,1 m\njoin,anywhere\n";
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_yarn_list *list = NULL;
    struct hk_compare *compare =
        compare_with(&stages, "yarn,put_up,length,price\nCrumb,0.5 g,1 m,1\n", hk_compare_defaults(), &list);
    assert_int_equal(compare->rows[0].reason, HK_REASON_BALL_SMALL);
    assert_int_equal(compare->rows[0].cost_minor, -1);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    stages_free(stages);
}

/* Equal yarns with different names keep the order of the list. */
static void yarns_alike_stay_as_listed(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    for (enum hk_compare_order order = HK_COMPARE_ORDER_COST; order <= HK_COMPARE_ORDER_BALLS; order++) {
        struct hk_yarn_list *list = NULL;
        struct hk_compare_options options = hk_compare_defaults();
        options.order = order;
        struct hk_compare *compare =
            compare_with(&stages, "yarn,put_up,length,price\na,50 g,100 m,9\nb,50 g,100 m,9\nc,50 g,100 m,9\n", options, &list);
        for (size_t i = 0; i < 3; i++)
            assert_int_equal(compare->rows[i].listed, i);
        hk_compare_free(compare);
        hk_yarn_list_free(list);
    }
    stages_free(stages);
}

/*
 * Three balls of 4 * 10^12 are more than 10^13 in the major unit; for two yarns held together, each is below the limit,
 * and the sum is above.
 */
static void a_yarn_too_expensive_to_compute_is_an_error(void **state)
{
    static const char *const lists[] = {"yarn,put_up,length,price\nGold,8 g,16 m,4000000000000\n",
                                        "yarn,put_up,length,price\nGold,50 g,200 m,6000000000000\nLead,50 g,200 m,6000000000000\n"};
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    for (size_t i = 0; i < 2; i++) {
        struct hk_diags diags = {0};
        const struct memory_file files[] = {{"list.csv", lists[i], 0}, {NULL, NULL, 0}};
        struct hk_source source = memory_source(files);
        struct hk_yarn_list *list = hk_yarn_list_read(&source, "list.csv", stages.project, &diags);
        struct hk_compare_options options = hk_compare_defaults();
        options.list = list;
        options.held_together = i == 1;
        assert_non_null(list);
        assert_null(hk_compare_make(stages.need, options, &diags));
        assert_findings(&diags, "yarns.csv:2:1: error: what main costs is more than can be counted to the minor unit; check "
                                "prices and put_up\n");
        hk_yarn_list_free(list);
    }
    stages_free(stages);
}

/*
 * Two sizes of two pieces; S has no trim, so trim has nothing to compare in S, and the body is the only work in main.
 */
static void a_role_that_a_size_does_without_is_not_compared(void **state)
{
    struct folder folder = plain_folder;
    folder.project = "field,value\ntitle,Plain\nsizes,\"S, M\"\ncurrency,EUR\ntail,0\njoin,anywhere\n";
    folder.yarns = "role,yarn,put_up,length,wpi\nmain,Alva,50 g,100 m,12.7\nmain,Thick,100 g,100 m,10.16\n"
                   "trim,Slim,25 g,100 m,25.4\n";
    folder.pieces = "piece,fabric,yarn,tool,stitches,rows,start,times\nbody,plain,main,5 mm,100,10,edge,1\n"
                    "edge,plain,trim,5 mm,100,2,edge,- (1)\ncuff,plain,main,5 mm,100,2,edge,- (1)\n";
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    assert_close(compare->plan.length_m.likely, 14 * PI, 1e-12, 0);
    hk_compare_free(compare);
    struct hk_diags diags = {0};
    struct hk_compare_options options = hk_compare_defaults();
    options.role = "trim";
    assert_null(hk_compare_make(stages.need, options, &diags));
    assert_findings(&diags, "yarns.csv:4:1: error: nothing is worked in trim in size S; ask for another size or another role\n");
    options.role = "embroidery";
    assert_null(hk_compare_make(stages.need, options, &diags));
    assert_findings(&diags, "yarns.csv:0:0: error: there is no role \"embroidery\" in yarns.csv; the first is \"main\"\n");
    stages_free(stages);
}

/* 34 tools with 30 strand counts are 1,020 pairs; 33 tools are 990. */
static void more_ways_to_work_a_role_than_can_be_computed_are_reported(void **state)
{
    static char pieces[1 << 14];
    struct folder folder = plain_folder;
    folder.project = "field,value\ntitle,Plain\nsizes,one\ncurrency,EUR\ntail,0\njoin,anywhere\n";
    for (size_t tools = 33; tools <= 34; tools++) {
        size_t at = (size_t)sprintf(pieces, "piece,fabric,yarn,tool,stitches,rows,start\n");
        for (size_t tool = 0; tool < tools; tool++) {
            at += (size_t)sprintf(pieces + at, "p%zu,plain,\"main 1", tool);
            for (int strands = 2; strands <= 30; strands++)
                at += (size_t)sprintf(pieces + at, ",main x%d 1", strands);
            at += (size_t)sprintf(pieces + at, "\",3.%02zu mm,10,60,edge\n", tool);
        }
        folder.pieces = pieces;
        struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
        struct hk_diags diags = {0};
        struct hk_compare *compare = hk_compare_make(stages.need, hk_compare_defaults(), &diags);
        assert_int_equal(compare != NULL, tools == 33);
        assert_findings(
            &diags, compare ? ""
                            : "yarns.csv:2:1: error: main is worked with more than 1000 pairs of a tool and what is "
                              "held together with it; there are too many to compute together: leave out lines "
                              "that do not matter\n");
        hk_compare_free(compare);
        stages_free(stages);
    }
}

static void what_cannot_be_compared_is_reported(void **state)
{
    struct hk_diags diags = {0};
    struct folder folder = plain_folder;
    folder.yarns = "role,yarn,put_up,length\nmain,Alva,50 g,100 m\n";
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_compare_options options = hk_compare_defaults();
    assert_null(hk_compare_make(stages.need, options, &diags));
    assert_findings(&diags, "yarns.csv:2:1: error: no other yarn is listed for main; add a row of that role below the planned "
                            "yarn, or name a catalogue with --yarns FILE\n");
    options.role = "mian";
    assert_null(hk_compare_make(stages.need, options, &diags));
    assert_findings(&diags, "yarns.csv:0:0: error: there is no role \"mian\" in yarns.csv; did you mean \"main\"?\n");
    stages_free(stages);
}

static void every_mistake_of_a_catalogue_is_reported(void **state)
{
    struct hk_diags diags = {0};
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    const struct memory_file files[] = {
        {"list.csv", "yarn;put_up;length;colour;price;wpi;colours\nMole;50;118,5 m;Peat;6,90;;\nMole;50 g;90 m;Fog;6,9x;;\n"
                     ";50 g;;x;1;;\nMole;-50 g;110 m;Fog;5 £;0;\nMole;50 m;110 g;Fog;;12 cm;\n"
                     "Mole;01.05.2024;110 m;Fog;1,234;abc;\nMole;50 g;0 m;Fog;1;12;;extra\n", 0},
        {"open.csv", "yarn,put_up,length\na,50 g,10 m\n\"b,50 g,9 m\n", 0},
        {"short.csv", "yarn,put_up,lenght\na,50 g,10 m\n", 0},
        {"empty.csv", "", 0}, {"head.csv", "yarn,put_up,length\n# none yet\n", 0},
        {"sheet.csv", "PK\003\004", 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    assert_null(hk_yarn_list_read(&source, "list.csv", stages.project, &diags));
    assert_findings(&diags, "list.csv:1:37: warning: no column is called \"colours\": it is not read\n"
                             "list.csv:2:6: error: 50 has no unit; write 50 g or 50 oz\n"
                             "list.csv:3:23: error: \"6,9x\" is not a price; write it like EUR 6.40\n"
                             "list.csv:4:1: error: the cell \"yarn\" is empty; every row of list.csv needs one\n"
                             "list.csv:4:7: error: the cell \"length\" is empty; every row of list.csv needs one\n"
                             "list.csv:5:6: error: -50 g is below zero; write a mass above zero\n"
                             "list.csv:5:24: error: £ is not this design's currency; write the price in EUR\n"
                             "list.csv:5:26: error: 0 is not possible here; write wraps per inch above zero\n"
                             "list.csv:6:9: error: m measures a length, and a mass is needed here; write it like 50 g or 1.75 oz\n"
                             "list.csv:6:15: error: g measures a mass, and a length is needed here; write it like 18.5 cm or 7 1/4 in\n"
                             "list.csv:6:25: error: cm measures a length, and wraps per inch is needed here; write it like 12 wpi\n"
                             "list.csv:7:6: error: 01.05.2024 is a date that a spreadsheet made of what was typed; format the column as text and type it again\n"
                             "list.csv:7:27: error: 1,234 has too many digits after the point; write at most 2\n"
                             "list.csv:7:33: error: \"abc\" is not wraps per inch; write it like 12 wpi\n"
                             "list.csv:8:11: error: 0 m is not possible here; write a length above zero\n"
                             "list.csv:8:25: error: \"extra\" stands beyond the last column; a semicolon inside a cell splits it: "
                             "put quotes round the whole cell, or name the column\n");
    static const struct {
        const char *name;
        enum hk_code code;
    } whole[] = {{"open.csv", HK_CODE_CSV_SYNTAX}, {"short.csv", HK_CODE_COLUMN_MISSING}, {"empty.csv", HK_CODE_HEADER_MISSING},
                 {"head.csv", HK_CODE_ROWS_MISSING}, {"sheet.csv", HK_CODE_FILE_FORMAT}};
    for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++) {
        assert_null(hk_yarn_list_read(&source, whole[i].name, stages.project, &diags));
        assert_int_equal(diags.errors, 1);
        hk_diags_sort(&diags);
        assert_int_equal(diags.findings[0].code, whole[i].code);
        hk_diags_free(&diags);
    }
    assert_null(hk_yarn_list_read(&source, "none.csv", stages.project, &diags));
    assert_int_equal(diags.errors, 1);
    assert_int_equal(diags.findings[0].code, HK_CODE_FILE_MISSING);
    hk_diags_free(&diags);
    stages_free(stages);
}

/*
 * The same two yarns twice: with decimal points, and as a spreadsheet saves them where the comma is the decimal mark.
 */
static void a_catalogue_may_come_from_a_spreadsheet_of_decimal_commas(void **state)
{
    static const char *const texts[] = {
        "yarn,put_up,length,price,wpi,fibre\nMole,50 g,118.5 m,6.90,12.5,\"85% wool, 15% silk\"\nTinker,3.5 oz,180 yd,14.00,,\n",
        "\xEF\xBB\xBFYarn;Put up;Length;Price;WPI;Fibre;\r\nMole;50 g;118,5 m;6,90;12,5;85 % wool, 15 % silk;\r\n"
        "Tinker;3,5 oz;180 yd;\xE2\x82\xAC 14,00;;;\r\n;;;;;;\r\n"};
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_compare *compares[2];
    struct hk_yarn_list *lists[2] = {NULL, NULL};
    for (size_t t = 0; t < 2; t++)
        compares[t] = compare_with(&stages, texts[t], hk_compare_defaults(), &lists[t]);
    assert_int_equal(compares[0]->row_count, 2);
    assert_int_equal(compares[1]->row_count, 2);
    for (size_t i = 0; i < 2; i++) {
        const struct hk_compare_row *a = &compares[0]->rows[i], *b = &compares[1]->rows[i];
        assert_string_equal(a->yarns[0].yarn, b->yarns[0].yarn);
        assert_close(a->mass_g, b->mass_g, 0, 0);
        assert_close(a->moisture_high, b->moisture_high, 0, 0);
        assert_int_equal(a->cost_minor, b->cost_minor);
    }
    for (size_t t = 0; t < 2; t++) {
        hk_compare_free(compares[t]);
        hk_yarn_list_free(lists[t]);
    }
    stages_free(stages);
}

/*
 * Balls of 50 g at 5.00 by yarns.csv; in offers.csv Near sells threes at 4.00 each and Far singles at 4.50. Alva takes
 * 21.99 g likely, so one ball: three from Near are 12.00, one from Far 4.50. Offers without stock, of another put-up or
 * at home give no price.
 */
static void a_yarn_costs_what_its_cheapest_offer_asks(void **state)
{
    struct folder folder = plain_folder;
    folder.other_name = "offers.csv";
    folder.other_text = "role,shop,put_up,price,yarn,pack,stock\nmain,Near,50 g,4.00,,3,\nmain,Far,50 g,4.50,,,\n"
                        "main,Gone,50 g,1.00,,,0\nmain,Large,100 g,0.50,,,\nmain,own,50 g,0,,,9\nmain,Near,100 g,7.00,Thick,2,\n";
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    assert_true(compare->offers);
    assert_int_equal(compare->plan.cost_minor, 450);
    assert_int_equal(compare->plan.balls, 1);
    assert_string_equal(compare->rows[0].yarns[0].yarn, "Thick"); /* sold in twos only */
    assert_int_equal(compare->rows[0].balls, 2);
    assert_int_equal(compare->rows[0].cost_minor, 1400);
    assert_int_equal(compare->rows[1].cost_minor, 200); /* Slim has no offer: by yarns.csv */
    hk_compare_free(compare);
    stages_free(stages);
}

/*
 * The same ball costs 4.50 in Far; from two on 2.00 each in Near, so two for 4.00 cost less than one for 4.20; a pack of
 * three for 3.98 costs least of all, and its price is not 1.33 a ball.
 */
static void quantity_and_pack_prices_count_in_what_a_yarn_costs(void **state)
{
    static const struct {
        const char *offers;
        int64_t balls, price, price_for, cost;
    } cases[] = {
        {"main,Far,50 g,4.50\n", 1, 450, 1, 450},
        {"main,Far,50 g,4.50\nmain,Near,50 g,4.20; from 2 2.00\n", 2, 200, 1, 400},
        {"main,Near,50 g,4.20; from 2 2.00\nmain,Mill,50 g,3 for 3.98\n", 3, 398, 3, 398},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct folder folder = plain_folder;
        char text[200];
        snprintf(text, sizeof text, "role,shop,put_up,price\n%s", cases[i].offers);
        folder.other_name = "offers.csv";
        folder.other_text = text;
        struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
        struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
        assert_int_equal(compare->plan.balls, cases[i].balls);
        assert_int_equal(compare->plan.cost_minor, cases[i].cost);
        assert_int_equal(compare->plan.yarns[0].price_minor, cases[i].price);
        assert_int_equal(compare->plan.yarns[0].price_for, cases[i].price_for);
        hk_compare_free(compare);
        stages_free(stages);
    }
}

/*
 * 5 mm of hook and 2 mm of yarn are 7 mm; a yarn of 7.5 mm alone is thicker, so no hook is thin enough: 8.25/7 on 0.75
 * mm.
 */
static void no_tool_is_named_where_none_keeps_the_gauge(void **state)
{
    struct stages stages = stages_of(*state, plain_folder, HK_NO_SIZE);
    struct hk_yarn_list *list = NULL;
    struct hk_compare *compare = compare_with(&stages, "yarn,put_up,length,wpi,category\nRope,500 g,100 m,3.3866666666666667,DK\n",
                                              hk_compare_defaults(), &list);
    assert_close(compare->rows[0].keeping_tool_mm, 0, 0, 0);
    assert_close(compare->rows[0].keeping_length_m, 0, 0, 0);
    assert_string_equal(compare->rows[0].keeping_label, "");
    assert_close(compare->rows[0].nearest_tool_mm, 0.75, 0, 0);
    assert_close(compare->rows[0].nearest_size, 8.25 / 7, 1e-9, 0);
    assert_close(compare->plan.nearest_tool_mm, 5, 0, 0); /* the plan keeps its own */
    assert_close(compare->plan.nearest_size, 1, 1e-12, 0);
    assert_string_equal(compare->rows[0].categories, "3 Light, 7 Jumbo"); /* by its label and by its 3 wraps */
    assert_int_equal(compare->rows[0].verdict, HK_VERDICT_DIFFERS);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    stages_free(stages);
}

/*
 * The script's catalogue: from all pairs, computed by hand, the three nearest partners of each yarn that is the finer
 * of the two.
 */
static void pairs_are_those_that_all_pairs_tried_give(void **state)
{
    struct hk_diags diags = {0};
    struct hk_source source = hk_source_folder(REFERENCE_DIR "/compare");
    struct stages stages = stages_from(hk_project_read(&source, *state, &diags), HK_NO_SIZE);
    struct hk_yarn_list *list = hk_yarn_list_read(&source, "catalogue.csv", stages.project, &diags);
    struct hk_compare_options options = {.list = list, .held_together = true};
    assert_non_null(list);
    struct hk_compare *compare = hk_compare_make(stages.need, options, &diags);
    assert_non_null(compare);
    const double plan = 50.0 / 120;
    size_t expected = 0, found = 0;
    for (size_t i = 0; i < list->count; i++) {
        size_t near = 0;
        for (size_t j = 0; j < list->count; j++) {
            double a = list->yarns[i].put_up_g / list->yarns[i].length_m, b = list->yarns[j].put_up_g / list->yarns[j].length_m;
            bool finer = a < b || (a == b && i <= j);
            near += finer && fabs(a + b - plan) <= 0.05 * plan;
        }
        expected += near < 3 ? near : 3;
    }
    for (size_t i = 0; i < compare->row_count; i++) {
        const struct hk_compare_row *row = &compare->rows[i];
        const struct hk_compare_yarn *one = &row->yarns[0], *other = &row->yarns[row->yarn_count - 1];
        double both = one->put_up_g / one->put_up_m + other->put_up_g / other->put_up_m;
        if (row->yarn_count < 2 && one->strands < 2)
            continue;
        found++;
        assert_true(fabs(both - plan) <= 0.05 * plan * (1 + 1e-12));
        assert_close(row->mass_g, both * row->length_m.likely / (double)one->strands, 1e-9, 0);
    }
    assert_true(expected > 50);
    assert_int_equal(found, expected);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    stages_free(stages);
    hk_diags_free(&diags);
}

/* ---- The script ---- */

static double result_at(const struct hk_table *table, size_t row, size_t column)
{
    return strtod(hk_table_at(table, row, column).text, NULL); /* LC_ALL is not set in the environment of the script */
}

static const char *verdict_text(enum hk_verdict verdict)
{
    static const char *const texts[] = {"fits", "fits with another hook", "differs"};
    return texts[verdict];
}

/*
 * tests/reference/compare.py: 400 random yarns, order and numbers; it shares no code with the library and fits
 * independently.
 */
static void four_hundred_random_yarns_agree_with_the_script(void **state)
{
    struct hk_diags diags = {0};
    struct hk_source source = hk_source_folder(REFERENCE_DIR "/compare");
    struct stages stages = stages_from(hk_project_read(&source, *state, &diags), HK_NO_SIZE);
    struct hk_yarn_list *list = hk_yarn_list_read(&source, "catalogue.csv", stages.project, &diags);
    struct hk_table *results = hk_table_read(&source, "results.csv", (struct hk_table_options){.required = true}, &diags);
    struct hk_compare_options options = hk_compare_defaults();
    options.list = list;
    assert_non_null(list);
    assert_non_null(results);
    struct hk_compare *compare = hk_compare_make(stages.need, options, &diags);
    assert_non_null(compare);
    assert_int_equal(compare->row_count, 400);
    assert_int_equal(hk_table_rows(results), 400);
    for (size_t i = 0; i < compare->row_count; i++) {
        const struct hk_compare_row *row = &compare->rows[i];
        assert_int_equal(row->listed, (size_t)result_at(results, i, 0));
        assert_string_equal(verdict_text(row->verdict), hk_table_at(results, i, 1).text);
        assert_close(row->length_m.likely, result_at(results, i, 2), 1e-8, 0);
        assert_close(row->length_m.enough, result_at(results, i, 3), 1e-7, 0);
        assert_close(row->spread, result_at(results, i, 4), 1e-6, 0);
        assert_close(row->mass_g, result_at(results, i, 5), 1e-8, 0);
        assert_close(row->yarns[0].mass_g.enough, result_at(results, i, 6), 1e-7, 0);
        assert_int_equal(row->balls, (int64_t)result_at(results, i, 7));
        assert_int_equal(row->cost_minor, (int64_t)result_at(results, i, 8));
        assert_close(row->left_over_m, result_at(results, i, 9), 1e-6, 1e-6);
        assert_close(row->piece_g, result_at(results, i, 10), 1e-8, 0);
    }
    hk_compare_free(compare);
    hk_table_free(results);
    hk_yarn_list_free(list);
    stages_free(stages);
    hk_diags_free(&diags);
}

/*
 * Cotton 8.5%, acrylic 2% (Regulation (EU) 1007/2011 annex IX): 54 and 53 parts of cotton are 2.99 and 3.055% below the
 * plan's.
 */
static void allowances_three_percent_apart_are_damp(void **state)
{
    struct folder folder = plain_folder;
    folder.yarns = "role,yarn,put_up,length,wpi,price,fibre\nmain,Alva,50 g,100 m,12.7,5.00,cotton\n"
                   "main,Less,50 g,100 m,12.7,5.00,54% cotton 46% acrylic\nmain,More,50 g,100 m,12.7,5.00,53% cotton 47% acrylic\n";
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_compare *compare = compare_with(&stages, NULL, hk_compare_defaults(), NULL);
    assert_int_equal(compare->row_count, 2);
    for (size_t i = 0; i < 2; i++)
        assert_int_equal(compare->rows[i].damp, strcmp(compare->rows[i].yarns[0].yarn, "More") == 0);
    hk_compare_free(compare);
    stages_free(stages);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_thicker_yarn_makes_longer_loops),
        cmocka_unit_test(a_yarn_of_no_common_category_differs_and_comes_last),
        cmocka_unit_test(fibres_that_hold_another_share_of_moisture_are_reported),
        cmocka_unit_test(labels_are_weighed_by_their_shares),
        cmocka_unit_test(an_unknown_fibre_or_wrong_shares_leave_the_allowance_open),
        cmocka_unit_test(a_mistyped_fibre_is_recognised),
        cmocka_unit_test(the_plan_in_its_own_place_is_the_prediction),
        cmocka_unit_test(two_yarns_of_half_the_grist_replace_one),
        cmocka_unit_test(two_strands_of_one_yarn_are_bought_as_shop_buys_them),
        cmocka_unit_test(a_yarn_in_several_rows_is_not_held_together_with_itself_as_with_another),
        cmocka_unit_test(orders_are_as_asked_for),
        cmocka_unit_test(a_ball_used_up_by_a_join_differs_and_costs_nothing),
        cmocka_unit_test(what_cannot_be_compared_is_reported),
        cmocka_unit_test(more_ways_to_work_a_role_than_can_be_computed_are_reported),
        cmocka_unit_test(every_mistake_of_a_catalogue_is_reported),
        cmocka_unit_test(a_yarn_costs_what_its_cheapest_offer_asks),
        cmocka_unit_test(quantity_and_pack_prices_count_in_what_a_yarn_costs),
        cmocka_unit_test(no_tool_is_named_where_none_keeps_the_gauge),
        cmocka_unit_test(pairs_are_those_that_all_pairs_tried_give),
        cmocka_unit_test(a_catalogue_may_come_from_a_spreadsheet_of_decimal_commas),
        cmocka_unit_test(four_hundred_random_yarns_agree_with_the_script),
        cmocka_unit_test(yarns_alike_stay_as_listed),
        cmocka_unit_test(a_yarn_too_expensive_to_compute_is_an_error),
        cmocka_unit_test(a_role_that_a_size_does_without_is_not_compared),
        cmocka_unit_test(allowances_three_percent_apart_are_damp),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
