/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers as text, alone and in every output of the library, under a locale with a decimal comma (ISO 30112 lets a
 * locale choose its decimal mark; de_DE chooses the comma). The test builds the locale where the machine has its
 * sources.
 */
#include "support.h"

#include "model/fit.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define COMMA "de_DE.UTF-8"

static void check(double value, int digits, const char *expected)
{
    assert_string_equal(hk_number_text(value, digits).text, expected);
}

static void numbers_have_a_point_and_no_idle_digits(void **state)
{
    (void)state;
    check(0, 3, "0");
    check(-0.0, 3, "0");
    check(430, 4, "430");
    check(2.75, 6, "2.75");
    check(-2.5, 6, "-2.5");
    check(0.0015, 3, "0.0015");
    check(9.996, 3, "10");
    check(123456, 3, "123000");
    check(12345.678, 7, "12345.68");
    check(0.1, 15, "0.1");
    check(0.1, 17, "0.10000000000000001"); /* the exact double: IEEE 754 */
    check(1, 0, "1");
    check(1.0 / 3, 99, "0.33333333333333331");
}

static void no_number_has_a_programmers_exponent(void **state)
{
    (void)state;
    check(12000, 2, "12000");
    check(1e12, 6, "1000000000000");
    check(1e-5, 6, "0.00001");
    check(1.5e-9, 6, "0.0000000015");
    check(1.25e18, 6, "1.25 x 10^18");
    check(-4e-12, 6, "-4 x 10^-12");
    check(1.7976931348623157e308, 17, "1.7976931348623157 x 10^308");
    check(4.9406564584124654e-324, 17, "4.9406564584124654 x 10^-324");
    check(INFINITY, 3, "inf");
    check(-INFINITY, 3, "-inf");
    check(NAN, 3, "nan");
}

/* Comparison with the number that C reads back in its own locale. */
static void digits_are_those_of_the_c_library(void **state)
{
    (void)state;
    uint64_t seed = 11;
    for (int i = 0; i < 2000; i++) {
        double value = (double)random_in(&seed, -1000000000, 1000000000) / pow(10, (double)random_in(&seed, 0, 12));
        int digits = (int)random_in(&seed, 1, 17);
        char expected[64];
        snprintf(expected, sizeof expected, "%.*g", digits, value);
        assert_close(strtod(hk_number_text(value, digits).text, NULL), strtod(expected, NULL), 0, 0);
    }
}

/* ---- Under a comma ----------------------------------------------------------------------------------------------- */

struct said {
    char *text;
    size_t size;
};

static void report_printed(FILE *out, const struct hk_printed *amount)
{
    fprintf(out, "%s / %s\n", amount->metric_text, amount->customary_text);
}

static void report_block(FILE *out, const struct hk_need *need, struct hk_diags *diags)
{
    struct hk_materials *block = hk_materials_make(need, hk_materials_defaults(), diags);
    for (size_t y = 0; block && y < block->yarn_count; y++) {
        fprintf(out, "%s\n", block->yarns[y].put_up_text);
        for (size_t c = 0; c < block->yarns[y].colour_count; c++) {
            report_printed(out, &block->yarns[y].colours[c].length);
            report_printed(out, &block->yarns[y].colours[c].mass);
        }
    }
    for (size_t i = 0; block && i < block->tool_count; i++)
        fprintf(out, "%s\n", block->tools[i].text);
    for (size_t i = 0; block && i < block->gauge_count; i++)
        fprintf(out, "%s\n", block->gauges[i].text);
    for (size_t i = 0; block && i < block->measure_count; i++)
        report_printed(out, &block->measures[i].amount);
    hk_materials_free(block);
}

/* Returns every output of the library for a folder, as far as the stages succeed. */
static struct said report_all(const struct hk_catalogue *catalogue, const struct hk_source *source)
{
    struct hk_diags diags = {0};
    struct said said = {0};
    FILE *out = open_memstream(&said.text, &said.size);
    assert_non_null(out);
    struct hk_project *project = hk_project_read(source, catalogue, &diags);
    struct hk_tally *tally = project ? hk_tally_count(project, &diags) : NULL;
    struct hk_fit *fit = tally ? hk_fit_make(tally, &diags) : NULL;
    struct hk_time_fit *time = tally ? hk_fit_time(tally, &diags) : NULL;
    struct hk_need *need = fit ? hk_need_predict(fit, hk_need_defaults(), &diags) : NULL;
    if (need) {
        struct hk_shop *shop = hk_shop_plan(need, hk_shop_defaults(), &diags);
        struct hk_hours *hours = time ? hk_hours_predict(time, HK_NO_SIZE, &diags) : NULL;
        struct hk_quote *quote = hk_quote_make(need, shop, hours, hk_quote_defaults(HK_QUESTION_COMMISSION), &diags);
        report_block(out, need, &diags);
        hk_quote_free(quote);
        hk_hours_free(hours);
        hk_shop_free(shop);
    }
    char *findings = findings_text(&diags);
    fputs(findings, out);
    free(findings);
    fclose(out);
    hk_need_free(need);
    hk_time_fit_free(time);
    hk_fit_free(fit);
    hk_tally_free(tally);
    hk_project_free(project);
    hk_diags_free(&diags);
    return said;
}

/* Sets the comma locale, built in a temporary folder if the machine has none; returns false if there is no locale. */
static bool comma_set(const char *folder)
{
    char command[512];
    if (setlocale(LC_ALL, COMMA))
        return true;
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 '%s/" COMMA "' >'%s/log' 2>&1", folder, folder);
    if (system(command) == -1 || setenv("LOCPATH", folder, 1) != 0)
        return false;
    return setlocale(LC_ALL, COMMA) != NULL;
}

static void folder_remove(const char *folder)
{
    char command[512];
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    assert_int_equal(system(command), 0);
}

static void same_in_both(const struct hk_catalogue *catalogue, struct hk_source source)
{
    setlocale(LC_ALL, "C");
    struct said point = report_all(catalogue, &source);
    setlocale(LC_ALL, COMMA);
    struct said comma = report_all(catalogue, &source);
    setlocale(LC_ALL, "C");
    assert_non_null(strpbrk(point.text, "."));
    assert_string_equal(comma.text, point.text);
    free(point.text);
    free(comma.text);
}

/* Findings with fractional numbers, from as many files as possible. */
static const struct memory_file noisy[] = {
    {"project.csv", "field,value\ntitle,Mole cushion\nsizes,\"S (M)\"\ncurrency,EUR\ntail,12.5 cm\n", 0},
    {"yarns.csv", "role,yarn,put_up,length,category\nmain,Quay DK,62.5 g,431.5 m,6\n", 0},
    {"offers.csv", "role,shop,put_up,price,length\nmain,Mole,0.5 g,9.80,15.5 m\nmain,Mole,62.5 g,9.80,250.5 m\n", 0},
    {"swatches.csv",
     "swatch,yarn,tool,fabric,stitches,rows,width,height,weight,minutes\n"
     "plain,main,4.5 mm,single crochet,20,20,12.5 cm,12.5 cm,9.5 g,1.5\nheavy,main,17.25 mm,double crochet,20,20,,,0.35 g,\n",
     0},
    {"pieces.csv",
     "piece,fabric,yarn,tool,stitches,rows\nfront,single crochet,main,4.5 mm,42.5 (44.5) cm,30.25 cm\n"
     "edge,single crochet,main,11.25 mm,40,2\n",
     0},
    {NULL, NULL, 0},
};

static const struct memory_file refused[] = {
    {"project.csv", "field,value\ntitle,Mole\nchance,150.5%\nmargin,230.5%\nspare_worth,120.5%\n", 0},
    {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
    {"offers.csv", "role,shop,put_up,price\nmain,Mole,50 g,9.80\n", 0},
    {"shops.csv", "shop,off\nMole,0.5\n", 0},
    {"swatches.csv", "swatch,yarn,tool,fabric,stitches,rows,gauge\nplain,main,US 4,single crochet,20,20,0.15 x 320.5\n", 0},
    {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nfront,single crochet,main,4.5,40,30\n", 0},
    {NULL, NULL, 0},
};

static void a_comma_of_the_hosts_changes_no_text(void **state)
{
    char folder[] = "/tmp/hankful-locale-XXXXXX";
    assert_non_null(mkdtemp(folder));
    if (!comma_set(folder)) {
        folder_remove(folder);
        print_message("no locale " COMMA ", and localedef cannot build it here\n");
        skip();
    }
    assert_string_equal(localeconv()->decimal_point, ",");
    static const char *const examples[] = {EXAMPLES_DIR "/skerry-cardigan", EXAMPLES_DIR "/pier-shawl",
                                           EXAMPLES_DIR "/ferry-cushion"};
    for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++)
        same_in_both(*state, hk_source_folder(examples[i]));
    same_in_both(*state, memory_source(noisy));
    same_in_both(*state, memory_source(refused));
    folder_remove(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_have_a_point_and_no_idle_digits),
        cmocka_unit_test(no_number_has_a_programmers_exponent),
        cmocka_unit_test(digits_are_those_of_the_c_library),
        cmocka_unit_test(a_comma_of_the_hosts_changes_no_text),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
