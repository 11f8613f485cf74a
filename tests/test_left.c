/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The rest of the work in hand, and what is typed of it (tests/test_left_calibration.c has simulated makers). Masses
 * are compared with sums of the prediction of `need` and with a Gaussian update written here.
 */
#include "folder.h"

#include "model/fit.h"
#include "need/need.h"
#include "tally/rest.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A back, two sleeves in a contrast and a border, in S, M and L. */
static const char pieces[] = "piece,part,fabric,yarn,tool,stitches,rows,times,start\n"
                             "back,lower,double crochet,main,5 mm,100,40,,\n"
                             "back,upper,double crochet,main,5 mm,,20,,continue\n"
                             "sleeve,,double crochet,trim,5 mm,60,50,2,\n"
                             "border,,single crochet,main,4 mm,200,4,,edge\n";
static const char yarns[] =
    "role,yarn,put_up,length,colour,fibre\nmain,Alva,50 g,120 m,,wool\ntrim,Borg,50 g,110 m,,\n";
static const char swatches[] = "swatch,yarn,tool,fabric,stitches,rows,weight,scale_step\n"
                               "sq,main,5 mm,double crochet,24,18,13 g,0.1 g\n";

struct hand_case {
    const char *progress, *offers;
    struct hk_hand hand;
};

static const struct hk_catalogue *catalogue;
static struct hk_catalogue *own_catalogue;

static int read_catalogue(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_source tables = hk_source_folder(TABLES_DIR);
    catalogue = own_catalogue = hk_catalogue_read(&tables, &diags);
    hk_diags_free(&diags);
    return catalogue ? 0 : -1;
}

static int free_catalogue(void **state)
{
    (void)state;
    hk_catalogue_free(own_catalogue);
    return 0;
}

static struct hk_project *read_case(struct hand_case of, struct hk_diags *diags)
{
    const struct hk_memory_file files[] = {
        {"project.csv", "field,value\ntitle,Quay jacket\nsizes,\"S, M, L\"\nterms,US\nchance,95%\n"},
        {"yarns.csv", yarns},
        {"swatches.csv", swatches},
        {"pieces.csv", pieces},
        {of.progress ? "progress.csv" : "none", of.progress ? of.progress : ""},
        {of.offers ? "offers.csv" : "none too", of.offers ? of.offers : ""},
        {NULL, NULL},
    };
    struct hk_source source = hk_source_memory(files);
    return hk_project_read_hand(&source, catalogue, &of.hand, diags);
}

struct answer {
    struct stages stages;
    struct hk_remaining *left;
};

static struct answer left_in(struct hk_project *project)
{
    struct hk_diags diags = {0};
    size_t size = hk_project_size_in_hand(project);
    struct answer answer = {{.project = project}, NULL};
    answer.stages.tally = hk_tally_count(project, &diags);
    answer.stages.fit = hk_fit_make(answer.stages.tally, &diags);
    answer.stages.need = hk_need_predict(answer.stages.fit, hk_need_defaults(), &diags);
    answer.left = hk_remaining_predict(answer.stages.need, size == HK_NO_SIZE ? 1 : size, &diags);
    assert_non_null(answer.left);
    hk_diags_free(&diags);
    return answer;
}

static struct answer left_of(struct hand_case of)
{
    struct hk_diags diags = {0};
    struct hk_project *project = read_case(of, &diags);
    for (size_t i = 0; !project && i < diags.count; i++)
        print_message("%s:%zu:%zu %s\n", diags.findings[i].at.file, diags.findings[i].at.line,
                      diags.findings[i].at.column, diags.findings[i].message);
    assert_non_null(project);
    hk_diags_free(&diags);
    return left_in(project);
}

static void answer_free(struct answer answer)
{
    hk_remaining_free(answer.left);
    stages_free(answer.stages);
}

static const struct hk_remaining_role *role_of(const struct answer *answer, const char *name)
{
    for (size_t i = 0; i < answer->left->role_count; i++)
        if (strcmp(answer->left->roles[i].role_name, name) == 0)
            return &answer->left->roles[i];
    fail_msg("no role %s", name);
    return NULL;
}

static void assert_same(const struct answer *a, const struct answer *b)
{
    assert_int_equal(a->left->role_count, b->left->role_count);
    assert_int_equal(a->left->part_count, b->left->part_count);
    for (size_t i = 0; i < a->left->role_count; i++) {
        const struct hk_remaining_role *x = &a->left->roles[i], *y = &b->left->roles[i];
        assert_close(x->mass_g.likely, y->mass_g.likely, 1e-9, 1e-9);
        assert_close(x->mass_g.enough, y->mass_g.enough, 1e-9, 1e-9);
        assert_close(x->used_g, y->used_g, 1e-9, 1e-9);
        assert_int_equal(x->order, y->order);
        assert_int_equal(x->end_count, y->end_count);
    }
}

/* ---- Weighings ---- */

#define HEAD "size,piece,part,rows,weight,yarn,scale_step\n"

static void weighings_in_any_order_and_typed_are_the_same(void **state)
{
    (void)state;
    struct answer a = left_of((struct hand_case){HEAD "M,back,,,150 g,,\nM,sleeve 1,,,70 g,,\n", NULL, {0}});
    struct answer b = left_of((struct hand_case){HEAD "M,sleeve 1,,,70 g,,\nM,back,,,150 g,,\n", NULL, {0}});
    struct answer c =
        left_of((struct hand_case){HEAD "M,back,,,150 g,,\n", NULL, {.done = "sleeve 1", .used = "70 g"}});
    struct answer d = left_of(
        (struct hand_case){NULL, NULL, {.size = "M", .done = "back, sleeve 1", .used = "main 150 g; trim 70 g"}});
    struct answer e = left_of(
        (struct hand_case){NULL, NULL, {.size = "M", .done = "sleeve 1, BACK", .used = "70 g of trim, 150 g Alva"}});
    assert_same(&a, &b);
    assert_same(&a, &c);
    assert_same(&a, &d);
    assert_same(&a, &e);
    assert_close(role_of(&a, "main")->used_g, 150, 1e-9, 0);
    assert_close(role_of(&a, "trim")->used_g, 70, 1e-9, 0);
    answer_free(a);
    answer_free(b);
    answer_free(c);
    answer_free(d);
    answer_free(e);
}

/*
 * The posterior of the first weighing, updated by the second (a Kalman step, written here), predicts what the fit of
 * both does. The model is nonlinear, so they agree to some ten-thousandths.
 */
/* A scarf of one yarn, half of it done; in a project of two yarns the name is wanted. */
static void the_only_yarn_needs_no_name(void **state)
{
    (void)state;
    static const struct hk_memory_file files[] = {
        {"project.csv", "field,value\ntitle,Quay scarf\nsizes,one\n"},
        {"yarns.csv", "role,yarn,put_up,length,fibre\nmain,Alva,50 g,120 m,wool\n"},
        {"swatches.csv", swatches},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nscarf,double crochet,main,5 mm,40,100\n"},
        {NULL, NULL},
    };
    static const char *const used[] = {"60 g", "main 60 g", "Alva 60 g"};
    struct answer answers[3];
    struct hk_source source = hk_source_memory(files);
    for (size_t i = 0; i < 3; i++) {
        struct hk_diags diags = {0};
        const struct hk_hand hand = {.done = "scarf 50 rows", .used = used[i]};
        answers[i] = left_in(hk_project_read_hand(&source, catalogue, &hand, &diags));
        assert_findings(&diags, "");
        assert_close(role_of(&answers[i], "main")->used_g, 60, 0, 1);
        assert_same(&answers[0], &answers[i]);
    }
    for (size_t i = 0; i < 3; i++)
        answer_free(answers[i]);
    struct hk_diags diags = {0};
    assert_null(read_case((struct hand_case){NULL, NULL, {.size = "M", .done = "border", .left = "60 g"}}, &diags));
    assert_findings(&diags,
                    "--left:1:1: error: several yarns, and the amount does not say which of them it is of; write the "
                    "role before it: main 60 g\n");
}

static void one_by_one_is_all_at_once(void **state)
{
    (void)state;
    struct answer one = left_of((struct hand_case){HEAD "M,back,lower,,100 g,,0.1 g\n", NULL, {0}});
    struct answer both =
        left_of((struct hand_case){HEAD "M,back,lower,,100 g,,0.1 g\nM,back,upper,,51 g,,0.1 g\n", NULL, {0}});
    const struct hk_fit *first = one.stages.fit, *second = both.stages.fit;
    assert_int_equal(first->count, second->count);
    struct hk_datum datum = {0};
    for (size_t i = 0; i < second->evidence; i++)
        if (second->data[i].progress == 1)
            datum = second->data[i];
    datum.tally = one.stages.tally; /* the same work, by the first fit */
    double *j = calloc(first->count, sizeof *j), *along = calloc(first->count, sizeof *along);
    assert_true(j && along);
    double off = hk_fit_ln_off(first, NULL, &datum, 1, j); /* ln expected - ln weighed */
    hk_fit_along(first, j, along);
    double variance = hk_fit_dot(first, j, along) + datum.s * datum.s;
    for (size_t i = 0; i < first->count; i++) {
        const struct hk_parameter *p = &second->parameters[i];
        assert_int_equal(p->kind, first->parameters[i].kind);
        double updated = first->parameters[i].value - along[i] * off / variance;
        double sd = sqrt(first->covariance[i * first->count + i] - along[i] * along[i] / variance);
        assert_close(updated, p->value, 0, 5e-4);
        assert_close(sd, sqrt(second->covariance[i * second->count + i]), 5e-3, 1e-5);
    }
    free(j);
    free(along);
    answer_free(one);
    answer_free(both);
}

/* Weighed, the rest of a role is exactly nothing, and what was used is what was weighed. */
static void what_is_weighed_is_certain(void **state)
{
    (void)state;
    struct answer a = left_of((struct hand_case){NULL, NULL, {.size = "S", .done = "sleeve x2", .used = "141 g"}});
    const struct hk_remaining_role *trim = role_of(&a, "trim"), *main = role_of(&a, "main");
    assert_true(trim->mass_g.likely == 0 && trim->mass_g.enough == 0 && trim->spread == 0 && trim->order == 0);
    assert_true(trim->worked && !main->worked);
    assert_close(trim->used_g, 141, 1e-9, 0);
    assert_true(main->used_g == 0 && main->mass_g.likely > 0);
    answer_free(a);
}

/* ---- Rows to come ---- */

/* The parts of the rest, with what is done of the same size, are the whole of `need`. */
static void rest_and_done_are_the_whole(void **state)
{
    (void)state;
    static const char *const done[] = {"back 1 row",
                                       "back 40 rows",
                                       "back 41 rows",
                                       "back 59 rows",
                                       "sleeve 2 to row 17",
                                       "sleeve x2 17 rows",
                                       "sleeve 1, sleeve 2 row 3, back lower, border 2 rounds"};
    for (size_t d = 0; d < sizeof done / sizeof done[0]; d++) {
        struct answer a = left_of((struct hand_case){NULL, NULL, {.size = "M", .done = done[d]}});
        const struct hk_tally *tally = a.stages.tally;
        const struct hk_project *project = a.stages.project;
        struct hk_arena arena = {0};
        struct hk_rest rest = {0};
        assert_true(hk_rest_make(tally, 1, HK_REST_ALL, &rest, &arena));
        for (size_t line = 0; line < project->line_count; line++) {
            const struct hk_worked *whole = &tally->lines[project->line_count + line];
            double sum = 0, of_whole = (double)whole->times * whole->uses[0].kinds.kinds[0].count;
            for (size_t i = 0; i < rest.count; i++)
                if (rest.lines[i].line == line)
                    sum += (double)rest.worked[i].times * rest.worked[i].uses[0].kinds.kinds[0].count;
            for (size_t p = 0; p < project->progress_count; p++)
                for (size_t w = 0; w < tally->progress[p].count; w++)
                    if (tally->progress[p].lines[w] == line)
                        sum += (double)tally->progress[p].worked[w].times *
                               tally->progress[p].worked[w].uses[0].kinds.kinds[0].count;
            assert_close(sum, of_whole, 1e-9, 0);
        }
        hk_arena_free(&arena);
        answer_free(a);
    }
}

/* Nothing is worked: the rest is the whole, in her grams: those of the label times exp(H). */
static void without_progress_the_rest_is_the_need(void **state)
{
    (void)state;
    struct answer a = left_of((struct hand_case){NULL, NULL, {0}});
    for (size_t i = 0; i < a.left->role_count; i++) {
        const struct hk_need_role *need = NULL;
        for (size_t k = 0; k < a.stages.need->role_count; k++)
            if (a.stages.need->roles[k].size == 1 && a.stages.need->roles[k].role == a.left->roles[i].role)
                need = &a.stages.need->roles[k];
        assert_non_null(need);
        double weighs = hk_fit_weighs(a.stages.fit, 0, i);
        assert_close(a.left->roles[i].mass_g.likely, need->mass_g.likely * weighs, 1e-9, 0);
        assert_true(weighs < 1);
        assert_false(a.left->roles[i].known);
        assert_int_equal(a.left->roles[i].order, need->balls); /* from nothing: all of it */
        assert_int_equal(a.left->done_count, 0);
    }
    answer_free(a);
}

/* ---- In hand ---- */

static void the_yarn_in_hand_is_the_start_without_the_used(void **state)
{
    (void)state;
    static const char offers[] = "role,shop,put_up,price,lot,stock\nmain,own,50 g,0,L7,5\nmain,Quay,50 g,6,L7,1\n"
                                 "main,Mole,50 g,5,L9,20\nmain,Mole,50 g,5,L7,4\ntrim,Quay,50 g,6,,\n";
    struct answer a = left_of((struct hand_case){NULL, offers, {.size = "M", .done = "back lower", .used = "100 g"}});
    struct answer b = left_of(
        (struct hand_case){NULL, offers, {.size = "M", .done = "back lower", .used = "100 g", .left = "main 37 g"}});
    struct answer c = left_of(
        (struct hand_case){NULL, NULL, {.size = "M", .done = "back lower", .used = "100 g", .have = "main 5 balls"}});
    const struct hk_remaining_role *main = role_of(&a, "main"), *weighed = role_of(&b, "main"),
                                   *typed = role_of(&c, "main");
    double weighs = hk_fit_weighs(a.stages.fit, 0, 0);
    double joins_g = 2 * a.stages.need->roles[2].join_g; /* two balls are used up, by the label */
    assert_true(main->known && !main->weighed && weighed->known && weighed->weighed);
    assert_close(main->in_hand_g, 250 * weighs - 100 - joins_g * weighs, 1e-9, 0);
    assert_close(typed->in_hand_g, main->in_hand_g, 1e-9, 0);
    assert_close(weighed->in_hand_g, 37, 1e-9, 0);
    assert_close(weighed->ball_g, 37, 1e-9, 0);
    assert_string_equal(main->lot, "L7");
    assert_string_equal(weighed->shop, "Mole"); /* which has more of the lot than Quay */
    assert_int_equal(weighed->stock, 4);
    assert_true(weighed->order > 0 && weighed->order_chance >= 0.95 && weighed->chance < 0.95);
    assert_string_equal(typed->lot, "");
    assert_false(role_of(&a, "trim")->known);
    answer_free(a);
    answer_free(b);
    answer_free(c);
}

/* What was used and what is left, against what there was. */
static void yarn_that_does_not_add_up_is_named(void **state)
{
    (void)state;
    static const struct {
        const char *have, *left;
        double start_g, left_g;
        bool named;
    } cases[] = {
        {"main 5 balls", "main 37 g", 250, 37, true}, /* most of two balls are nowhere */
        {"main 2 balls", "main 49 g", 100, 49, true}, /* more is used and left than there was */
        {"main 1 ball", NULL, 50, 0, true},           /* more is used than there was */
        {"main 5 balls", "main 145 g", 250, 145, false},
        {"main 5 balls", NULL, 250, 0, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct answer a = left_of((struct hand_case){
            NULL,
            NULL,
            {.size = "M", .done = "back lower", .used = "100 g", .left = cases[i].left, .have = cases[i].have}});
        const double weighs = hk_fit_weighs(a.stages.fit, 0, 0);
        const struct hk_remaining_role *main = role_of(&a, "main");
        assert_close(main->missing_g, cases[i].named ? cases[i].start_g * weighs - 100 - cases[i].left_g : 0, 1e-9, 0);
        assert_close(main->ball_weighs_g, 50 * weighs, 1e-9, 0);
        answer_free(a);
    }
}

/* One ball fewer than ordered is not enough. */
static void no_ball_too_many_is_ordered(void **state)
{
    (void)state;
    static const char *const left[] = {"main 5 g, trim 3 g", "main 37 g, trim 61 g", "main 99 g, trim 120 g",
                                       "main 1 ball, trim 2 balls"};
    for (size_t i = 0; i < sizeof left / sizeof left[0]; i++) {
        struct answer a = left_of(
            (struct hand_case){NULL, NULL, {.size = "L", .done = "back 30 rows", .used = "80 g", .left = left[i]}});
        for (size_t r = 0; r < a.left->role_count; r++) {
            const struct hk_remaining_role *role = &a.left->roles[r];
            if (role->order > 0)
                assert_true(role->chance < 0.95 && role->order_chance >= 0.95);
            else
                assert_true(role->chance >= 0.95);
            double bought_g = role->in_hand_g + 50 * (double)(role->order - 1);
            if (role->order > 0)
                assert_true(bought_g < role->mass_g.enough + 50); /* a join wastes less than a ball */
        }
        answer_free(a);
    }
}

/* Work that is done and not weighed takes of the yarn in hand too, and ends of balls are then not stated. */
static void work_without_a_weight_counts(void **state)
{
    (void)state;
    struct answer a =
        left_of((struct hand_case){NULL, NULL, {.size = "M", .done = "back lower", .have = "main 8 balls"}});
    const struct hk_remaining_role *main = role_of(&a, "main");
    assert_true(main->unweighed_g > 50 && main->used_g == 0 && main->end_count == 0);
    answer_free(a);
    a = left_of((struct hand_case){NULL, NULL, {.size = "M", .done = "back lower", .left = "main 30 g, main 5 balls"}});
    main = role_of(&a, "main");
    assert_true(main->unweighed_g == 0 && main->end_count == 6);
    assert_close(main->ball_g, 30, 1e-9, 0);
    assert_close(main->in_hand_g, 30 + 250 * hk_fit_weighs(a.stages.fit, 0, 0), 1e-9, 0);
    assert_string_equal(main->ends[0].likely.piece, "back");
    answer_free(a);
}

/* What is left of a known start is a weighing, as `left` in progress.csv. */
static void what_is_left_is_a_weighing(void **state)
{
    (void)state;
    static const char offers[] = "role,shop,put_up,price,stock\nmain,own,50 g,0,5\n";
    struct answer a =
        left_of((struct hand_case){NULL, offers, {.size = "M", .done = "back lower", .left = "main 140 g"}});
    struct answer b = left_of((struct hand_case){
        "size,piece,part,weight,of,yarn\nM,back,lower,140 g,left,main\n", offers, {.left = "main 140 g"}});
    assert_same(&a, &b);
    assert_int_equal(a.left->evidence, 1);
    assert_close(role_of(&a, "main")->in_hand_g, 140, 1e-9, 0);
    answer_free(a);
    answer_free(b);
}

/* Where the yarn is short, the last row before a part that must still be worked: with that part it is within what is in
 * hand. */
static void the_row_to_stop_at_leaves_the_border(void **state)
{
    (void)state;
    struct answer a = left_of((struct hand_case){
        NULL, NULL, {.size = "M", .done = "back lower 30 rows", .used = "75 g", .left = "main 70 g"}});
    const struct hk_remaining_part *border = NULL;
    for (size_t i = 0; i < a.left->part_count; i++)
        if (strcmp(a.left->parts[i].piece, "border") == 0)
            border = &a.left->parts[i];
    assert_non_null(border);
    assert_true(border->must_stop);
    assert_string_equal(border->stop.piece, "back");
    double row_g = a.left->parts[0].mass_g.likely / 10; /* of ten rows to come, about the same for each */
    int64_t row = strcmp(border->stop.part, "lower") == 0 ? border->stop.row - 30 : border->stop.row + 10;
    assert_true((double)row * row_g + border->mass_g.likely <= 70);
    assert_true((double)(row + 4) * row_g + border->mass_g.enough > 70);
    answer_free(a);
}

/* ---- Mistakes ---- */

static void mistakes_are_at_their_column(void **state)
{
    (void)state;
    static const struct {
        struct hk_hand hand;
        const char *place; /* "--done:7" */
        const char *message, *hint;
    } cases[] = {
        {{.size = "M", .done = "bakc"},
         "--done:1",
         "there is no piece \"bakc\" in pieces.csv",
         "did you mean \"back\"?"},
        {{.size = "M", .done = "back, brder 2 rows"},
         "--done:7",
         "there is no piece \"brder\" in pieces.csv",
         "did you mean \"border\"?"},
        {{.size = "M", .done = "back; back lower"},
         "--done:7",
         "is stated twice",
         "name each piece, copy and part once"},
        {{.size = "M", .done = "border,  back uper"},
         "--done:15",
         "there is no part \"uper\" of \"back\"",
         "did you mean \"upper\"?"},
        {{.size = "M", .done = "sleeve"}, "--done:1", "is worked 2 times", "sleeve x2"},
        {{.size = "M", .done = "back 20"},
         "--done:1",
         "is worked 1 time",
         "write back 20 rows for these rows, or back for all of it"},
        {{.size = "M", .done = "back rows 5-44"},
         "--done:11",
         "rows 5-44 do not begin with row 1",
         "such as rows 1-40 or 40 rows"},
        {{.size = "M", .done = "back", .used = "311 g, 49 g"},
         "--used:8",
         "do not say of which yarn",
         "write a role or yarn before each"},
        {{.size = "M", .done = "sleeve 3"}, "--done:1", "is worked 2 times", "sleeve 1"},
        {{.size = "M", .done = "border 5 rows"}, "--done:8", "5 rows, and \"border\", size M has 4", "state no rows"},
        {{.size = "M", .done = "border 0 rows"}, "--done:8", "0 is", ""},
        {{.size = "M", .done = "back,,border"}, "--done:6", "a piece is missing", "back, front 40 rows"},
        {{.size = "M", .done = "all 12 rows"}, "--done:5", "rows of \"all\" could be anywhere", ""},
        {{.done = "back"}, "--size:0", "the size that is worked is missing", "--size S"},
        {{.size = "M", .done = "back", .used = "118"}, "--used:1", "unit", ""},
        {{.size = "M", .done = "back", .used = "118 m"}, "--used:5", "", ""},
        {{.size = "M", .done = "back", .used = "main 118 g, mian 3 g"},
         "--used:13",
         "there is no role or yarn \"mian\"",
         "main"},
        {{.size = "M", .done = "back", .used = "main 118 g, 3 g main"}, "--used:13", "twice", ""},
        {{.size = "M", .done = "back", .used = "trim 18 g"}, "--used:6", "worked in nothing that is done", ""},
        {{.size = "M", .done = "back", .left = "37 g"}, "--left:1", "does not say which", "main 37 g"},
        {{.size = "M", .done = "back", .used = "ten g"}, "--used:1", "", ""},
        {{.size = "M", .done = "back", .used = "-5 g"}, "--used:1", "", ""},
        {{.size = "M", .have = "main four balls"}, "--have:1", "", ""},
        {{.size = "M", .have = "main 4 balls trim"}, "--have:14", "\"trim\" is not read", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_diags diags = {0};
        struct hk_project *project = read_case((struct hand_case){NULL, NULL, cases[i].hand}, &diags);
        struct hk_tally *tally = project ? hk_tally_count(project, &diags) : NULL;
        const struct hk_finding *error = NULL;
        char place[40];
        for (size_t k = 0; k < hk_diags_count(&diags) && !error; k++)
            if (hk_code_severity(diags.findings[k].code) == HK_SEVERITY_ERROR)
                error = hk_diags_finding(&diags, k);
        if (!error)
            fail_msg("case %zu: no error", i);
        snprintf(place, sizeof place, "%s:%zu", error->at.file, error->at.column);
        if (strcmp(place, cases[i].place) != 0 || !strstr(error->message, cases[i].message) ||
            !strstr(error->hint ? error->hint : "", cases[i].hint))
            fail_msg("case %zu: %s: %s; %s", i, place, error->message, error->hint ? error->hint : "");
        hk_tally_free(tally);
        hk_project_free(project);
        hk_diags_free(&diags);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weighings_in_any_order_and_typed_are_the_same),
        cmocka_unit_test(the_only_yarn_needs_no_name),
        cmocka_unit_test(one_by_one_is_all_at_once),
        cmocka_unit_test(what_is_weighed_is_certain),
        cmocka_unit_test(rest_and_done_are_the_whole),
        cmocka_unit_test(without_progress_the_rest_is_the_need),
        cmocka_unit_test(the_yarn_in_hand_is_the_start_without_the_used),
        cmocka_unit_test(yarn_that_does_not_add_up_is_named),
        cmocka_unit_test(no_ball_too_many_is_ordered),
        cmocka_unit_test(work_without_a_weight_counts),
        cmocka_unit_test(what_is_left_is_a_weighing),
        cmocka_unit_test(the_row_to_stop_at_leaves_the_border),
        cmocka_unit_test(mistakes_are_at_their_column),
    };
    return cmocka_run_group_tests(tests, read_catalogue, free_catalogue);
}
