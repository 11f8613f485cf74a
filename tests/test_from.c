/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What yarn in hand is enough for, against `need` run forwards on designs written with each number. */
#include "folder.h"

#include "need/need.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static struct hk_catalogue *catalogue;

static int read_catalogue(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_source tables = hk_source_folder(TABLES_DIR);
    catalogue = hk_catalogue_read(&tables, &diags);
    hk_diags_free(&diags);
    return catalogue ? 0 : -1;
}

static int free_catalogue(void **state)
{
    (void)state;
    hk_catalogue_free(catalogue);
    return 0;
}

/* A blanket of motifs with a border, and a scarf, each of two yarns; %lld is the number that varies. */
static const char blanket[] =
    "piece,fabric,yarn,tool,stitches,rows,times,start\n"
    "square,double crochet,main,5 mm,24,12,%lld,\nborder,single crochet,trim,5 mm,400,3,,edge\n";
static const char scarf[] =
    "piece,fabric,yarn,tool,stitches,rows,times,start\n"
    "scarf,double crochet,\"main 6, trim 2\",5 mm,60,%lld,,\nfringe,single crochet,trim,5 mm,40,1,,\n";

static struct stages design(const char *pieces, long long number, const char *have, const char *join)
{
    char text[600], project[300];
    snprintf(text, sizeof text, pieces, number);
    snprintf(project, sizeof project, "field,value\ntitle,Mole blanket\nsizes,one\nterms,US\n%s", join);
    const struct hk_memory_file files[] = {
        {"project.csv", project},
        {"yarns.csv", "role,yarn,put_up,length,colour,fibre\nmain,Alva,50 g,120 m,,wool\ntrim,Borg,50 g,110 m,,\n"},
        {"swatches.csv", "swatch,yarn,tool,fabric,stitches,rows,width,height,weight,scale_step\n"
                         "sq,main,5 mm,double crochet,24,18,16 cm,18 cm,13 g,0.1 g\n"},
        {"pieces.csv", text},
        {NULL, NULL},
    };
    struct hk_diags diags = {0};
    struct hk_source source = hk_source_memory(files);
    struct hk_project *read = hk_project_read_hand(&source, catalogue, &(struct hk_hand){.have = have}, &diags);
    for (size_t i = 0; !read && i < diags.count; i++)
        print_message("%s: %s\n", diags.findings[i].at.file, diags.findings[i].message);
    assert_non_null(read);
    hk_diags_free(&diags);
    return stages_from(read, 0);
}

static struct hk_from *find(const struct stages *s, const char *vary)
{
    struct hk_diags diags = {0};
    struct hk_from *from = hk_from_find(s->need, (struct hk_from_options){vary}, &diags);
    for (size_t i = 0; i < diags.count; i++)
        print_message("%s: %s\n", diags.findings[i].at.file, diags.findings[i].message);
    assert_non_null(from);
    hk_diags_free(&diags);
    return from;
}

/* Whether `need` says that so many balls of each role are enough. */
static bool need_has(const struct stages *s, int64_t main, int64_t trim)
{
    bool enough = true;
    for (size_t i = 0; i < s->need->role_count; i++)
        enough &= s->need->roles[i].balls <= (s->need->roles[i].role == 0 ? main : trim);
    return enough;
}

static void numbers_agree_with_need(void **state)
{
    (void)state;
    static const struct {
        const char *pieces;
        long long designed;
        int64_t main, trim;
        const char *join;
    } cases[] = {
        {blanket, 20, 4, 3, ""},
        {blanket, 3, 10, 2, ""},
        {blanket, 50, 3, 9, "join,anywhere\n"},
        {blanket, 12, 1, 2, "margin,10%\n"},
        {scarf, 100, 4, 3, ""},
        {scarf, 400, 9, 2, ""},
        {scarf, 90, 2, 1, "join,anywhere\n"},
        {scarf, 150, 5, 5, "margin,10%\n"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char have[80];
        snprintf(have, sizeof have, "main %lld balls, trim %lld balls", (long long)cases[i].main,
                 (long long)cases[i].trim);
        struct stages s = design(cases[i].pieces, cases[i].designed, have, cases[i].join);
        struct hk_from *from = find(&s, NULL);
        assert_int_equal(from->size_count, 1);
        assert_int_equal(from->sizes[0].design.enough, need_has(&s, cases[i].main, cases[i].trim));
        assert_int_equal(from->count_count, 1);
        const struct hk_from_count *count = &from->counts[0];
        assert_int_equal(count->designed, cases[i].designed);
        assert_int_equal(count->kind, cases[i].pieces == blanket ? HK_FROM_COPIES : HK_FROM_ROWS);
        assert_false(count->unlimited);
        if (count->most > 0) {
            struct stages at = design(cases[i].pieces, count->most, have, cases[i].join);
            assert_true(need_has(&at, cases[i].main, cases[i].trim));
            assert_true(count->at.enough);
            assert_close(count->at.roles[0].mass_g, at.need->roles[0].mass_g.likely, 1e-9, 0);
            stages_free(at);
        }
        struct stages more = design(cases[i].pieces, count->most + 1, have, cases[i].join);
        assert_false(need_has(&more, cases[i].main, cases[i].trim));
        assert_false(count->next.enough);
        assert_close(count->next.roles[0].mass_g, more.need->roles[0].mass_g.likely, 1e-9, 0);
        size_t first = count->next.first_out;
        for (size_t r = 0; r < count->next.role_count; r++)
            assert_true(count->next.roles[r].chance >= count->next.roles[first].chance);
        stages_free(more);
        if (count->kind == HK_FROM_ROWS) /* 18 rows of the swatch are 18 cm */
            assert_close(count->length_m, 0.01 * (double)count->most, 1e-9, 0);
        hk_from_free(from);
        stages_free(s);
    }
}

static void the_yarn_that_runs_out_first_is_named(void **state)
{
    (void)state;
    struct stages s = design(blanket, 20, "main 4 balls, trim 9 balls", "");
    struct hk_from *from = find(&s, "square");
    assert_string_equal(from->counts[0].next.roles[from->counts[0].next.first_out].role_name, "main");
    hk_from_free(from);
    stages_free(s);
    s = design(blanket, 20, "main 40 balls, trim 1 ball", "");
    from = find(&s, "border");
    assert_int_equal(from->counts[0].kind, HK_FROM_ROWS);
    assert_string_equal(from->counts[0].next.roles[from->counts[0].next.first_out].role_name, "trim");
    hk_from_free(from);
    stages_free(s);
}

/* A yarn that is not stated limits nothing, and its chance is unknown; grams are enough as balls of that mass are. */
static void yarn_that_is_not_stated_is_left_out(void **state)
{
    (void)state;
    struct stages s = design(blanket, 20, "main 4 balls", ""), grams = design(blanket, 20, "200 g main", "");
    struct hk_from *from = find(&s, NULL), *by_mass = find(&grams, NULL);
    const struct hk_from_design *of = &from->sizes[0].design;
    assert_true(isnan(of->roles[1].have_g) && isnan(of->roles[1].chance) && of->first_out == 0);
    assert_close(of->chance, of->roles[0].chance, 1e-12, 0);
    assert_int_equal(from->counts[0].most, by_mass->counts[0].most);
    hk_from_free(from);
    hk_from_free(by_mass);
    stages_free(s);
    stages_free(grams);
}

static void assert_refused(const struct stages *s, const char *vary, const char *place, const char *message)
{
    struct hk_diags diags = {0};
    assert_null(hk_from_find(s->need, (struct hk_from_options){vary}, &diags));
    assert_int_equal(hk_diags_errors(&diags), 1);
    assert_string_equal(hk_diags_finding(&diags, 0)->at.file, place);
    assert_non_null(strstr(hk_diags_finding(&diags, 0)->message, message));
    hk_diags_free(&diags);
}

static void what_cannot_be_answered_is_refused(void **state)
{
    (void)state;
    struct stages s = design(blanket, 20, NULL, "");
    assert_refused(&s, NULL, "--have", "the yarn in hand is not stated");
    stages_free(s);
    s = design(blanket, 20, "main 4 balls", "");
    assert_refused(&s, "sqare", "--vary", "there is no piece \"sqare\"");
    stages_free(s);
}

/* So much yarn that the number has no end that matters. */
static void a_number_has_an_upper_limit(void **state)
{
    (void)state;
    struct stages s = design(blanket, 20, "main 900000 balls", "");
    struct hk_from *from = find(&s, NULL);
    assert_true(from->counts[0].unlimited && from->counts[0].most >= HK_FROM_MOST);
    hk_from_free(from);
    stages_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_agree_with_need),
        cmocka_unit_test(the_yarn_that_runs_out_first_is_named),
        cmocka_unit_test(yarn_that_is_not_stated_is_left_out),
        cmocka_unit_test(what_cannot_be_answered_is_refused),
        cmocka_unit_test(a_number_has_an_upper_limit),
    };
    return cmocka_run_group_tests(tests, read_catalogue, free_catalogue);
}
