/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "input/table.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define INCHES                                                                                                               \
    "inches written as 5\" need the whole cell in quotes with the mark doubled (\"5\"\"\"), or write 5 in"
#define SAVE_AS "in the spreadsheet: File, Save as, Text CSV, character set UTF-8"

enum { ROLE, YARN, PUT_UP, NOTES };

static const struct hk_column columns[] = {
    {"role", true, true}, {"yarn", true, false}, {"put_up", false, false}, {"notes", false, false}, {NULL, false, false},
};

/* Reads the bytes as yarns.csv, with the columns above. */
static struct hk_table *read_bytes(const char *bytes, size_t size, struct hk_table_options options, struct hk_diags *diags)
{
    /* memory_source interprets size 0 as "measure the text" */
    const struct memory_file files[] = {{"yarns.csv", size ? bytes : "", size}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    return hk_table_read(&source, "yarns.csv", options, diags);
}

static struct hk_table *read_text(const char *text, struct hk_diags *diags)
{
    return read_bytes(text, strlen(text), (struct hk_table_options){.columns = columns}, diags);
}

/* Returns all rows as text: cells joined by '|', rows closed by '/'. Owner: the caller (free). */
static char *rows_text(const struct hk_table *table)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    for (size_t row = 0; row < hk_table_rows(table); row++) {
        for (size_t i = 0; i < hk_table_columns(table); i++)
            fprintf(out, "%s%s", i ? "|" : "", hk_table_at(table, row, i).text);
        fputc('/', out);
    }
    fclose(out);
    return text;
}

/* Asserts that the file reads without a finding as those rows. */
static void assert_rows(const char *text, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_table *table = read_text(text, &diags);
    assert_findings(&diags, "");
    assert_non_null(table);
    char *rows = rows_text(table);
    assert_string_equal(rows, expected);
    free(rows);
    hk_table_free(table);
}

/* Asserts that the file has exactly those findings; `delivered` states whether it gives a table. */
static void assert_finds(const char *text, const char *expected, bool delivered)
{
    struct hk_diags diags = {0};
    struct hk_table *table = read_text(text, &diags);
    assert_findings(&diags, expected);
    assert_int_equal(table != NULL, delivered);
    hk_table_free(table);
}

static void assert_place(struct hk_cell cell, size_t offset, size_t line, size_t column)
{
    struct hk_place place = hk_cell_place(cell, offset);
    assert_string_equal(place.file, "yarns.csv");
    assert_int_equal(place.line, line);
    assert_int_equal(place.column, column);
}

/* ---- Dialects ---------------------------------------------------------------------------------------------------- */

static void comma_semicolon_and_tab_are_found_from_the_header(void **state)
{
    (void)state;
    assert_rows("role,yarn\nmain,4;5\n", "main|4;5/");
    assert_rows("role;yarn\nmain;4,95\n", "main|4,95/");
    assert_rows("role\tyarn\nmain\t4,95; 5\n", "main|4,95; 5/");
    assert_rows("role;\"yarn\";\"notes\"\na;b;c\n", "a|b|c/");
}

static void separators_within_quotes_of_the_header_do_not_count(void **state)
{
    (void)state;
    const char *text = "\"a,b,c,d\";e\n1;2\n";
    struct hk_diags diags = {0};
    struct hk_table *table = read_bytes(text, strlen(text), (struct hk_table_options){0}, &diags);
    assert_findings(&diags, "");
    assert_int_equal(hk_table_columns(table), 2);
    assert_string_equal(hk_table_header(table, 0).text, "a,b,c,d");
    hk_table_free(table);
}

static void a_stated_separator_is_taken_and_its_line_counted(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_table *table = read_text("\xEF\xBB\xBF" "sep=;\r\nrole;yarn\r\nmain;a,b,c\r\n", &diags);
    assert_findings(&diags, "");
    assert_string_equal(hk_table_cell(table, 0, YARN).text, "a,b,c");
    assert_place(hk_table_cell(table, 0, YARN), 0, 3, 6);
    hk_table_free(table);
    assert_rows("\"SEP=|\"\nrole|yarn\na|b\n", "a|b/");
}

static void a_comma_is_a_decimal_mark_where_it_separates_nothing(void **state)
{
    (void)state;
    static const char *const texts[] = {"role,yarn\n", "role;yarn\n", "role\tyarn\n", "role\n"};
    static const enum hk_decimal expected[] = {HK_DECIMAL_POINT, HK_DECIMAL_COMMA, HK_DECIMAL_EITHER, HK_DECIMAL_POINT};
    struct hk_column one[] = {{"role", true, true}, {"yarn", false, false}, {NULL, false, false}};
    for (size_t i = 0; i < 4; i++) {
        struct hk_diags diags = {0};
        struct hk_table *table = read_bytes(texts[i], strlen(texts[i]), (struct hk_table_options){.columns = one}, &diags);
        assert_findings(&diags, "");
        assert_int_equal(hk_table_decimal(table), expected[i]);
        hk_table_free(table);
    }
}

static void every_line_end_ends_a_line(void **state)
{
    (void)state;
    assert_rows("role,yarn\r\na,b\r\nc,d\r\n", "a|b/c|d/");
    assert_rows("role,yarn\ra,b\rc,d\r", "a|b/c|d/");
    assert_rows("role,yarn\na,b\r\nc,d", "a|b/c|d/");
    assert_rows("role,yarn\na,", "a|/");
}

static void a_byte_order_mark_is_no_part_of_the_first_name(void **state)
{
    (void)state;
    assert_rows("\xEF\xBB\xBFrole,yarn\na,b\n", "a|b/");
    assert_rows("\xEF\xBB\xBF\"role\",yarn\na,b\n", "a|b/");
}

static void notes_and_rows_of_empty_cells_are_no_rows(void **state)
{
    (void)state;
    assert_rows("# it's 5\" wide, \"so\n\n , \n,,,\nrole,yarn\n#a\na,b\n\n,,\n\"\",\"\"\n#\nc,d\n#last \"", "a|b/c|d/");
}

/* A spreadsheet that saves a note with a quote in it quotes the cell. */
static void a_note_that_a_spreadsheet_quoted_is_still_a_note(void **state)
{
    (void)state;
    assert_rows("\"# a \"\"note\"\"; here\",\nrole,yarn\n\"# another, one\",\na,b\n", "a|b/");
}

/* The findings, and whether rows were delivered anyway. */
static void assert_finding(const char *text, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_table *table = read_text(text, &diags);
    assert_findings(&diags, expected);
    assert_non_null(table);
    hk_table_free(table);
}

/*
 * Error values that spreadsheet programs show in English, German, French, Spanish, Italian, Polish, Danish and Russian;
 * from memory.
 */
static void a_spreadsheets_error_is_an_error_in_the_first_cell_too(void **state)
{
    (void)state;
    static const char *const errors[] = {
        "#REF!", "#N/A", "#NAME?", "#VALUE!", "#DIV/0!", "#NUM!", "#NULL!", "#SPILL!", "#NV", "#WERT!", "#BEZUG!", "#ZAHL!", "#NOM?",
        "#VALEUR!", "#\xC2\xBFNOMBRE?", "#\xC2\xA1REF!", "#N/D", "#ARG!", "#I/T", "#\xD0\x9D/\xD0\x94", "#####", "Err:502", "#n/a",
    };
    for (size_t i = 0; i < sizeof errors / sizeof errors[0]; i++) {
        static const char *const forms[] = {"role,yarn\n%s,b\n", "role,yarn\n\"%s\",b\n", "role,yarn\na,%s\n", "role;yarn\n %s ;b\n"};
        static const size_t columns_at[] = {1, 2, 3, 2};
        for (size_t f = 0; f < 4; f++) {
            char text[100], expected[200];
            snprintf(text, sizeof text, forms[f], errors[i]);
            snprintf(expected, sizeof expected,
                     "yarns.csv:2:%zu: error: %s is a spreadsheet's error, not a value; type the value itself\n", columns_at[f], errors[i]);
            assert_finding(text, expected);
        }
    }
    assert_finding("role,yarn\n#REF!,,\n", "yarns.csv:2:1: error: #REF! is a spreadsheet's error, not a value; type the value itself\n");
    assert_rows("role,yarn\nrole,#12\nrole,#A04\n\"# SO!\",\n#### ####\n#########\na,#b?\n", "role|#12/role|#A04/a|#b?/");
}

static void an_error_in_a_column_that_is_not_read_is_none(void **state)
{
    (void)state;
    assert_finding("role,yarn,mine\na,b,#REF!\n", "yarns.csv:1:11: warning: no column is called \"mine\": it is not read\n");
    assert_finding("role,yarn,#NAME?\na,b,c\n",
                   "yarns.csv:1:11: error: #NAME? is a spreadsheet's error, not a value; type the value itself\n");
}

static void a_note_with_the_cells_of_a_row_is_warned_about(void **state)
{
    (void)state;
    static const char hint[] = "; to have it read, put its first cell in quotes; if it is a note, put the whole line in quotes\n";
    static const char *const notes[] = {"#2 main,b,c,d", "# 2 main,b,c,d", "#main,b,\"c,\",d\r"};
    for (size_t i = 0; i < sizeof notes / sizeof notes[0]; i++) {
        char text[100], expected[300];
        snprintf(text, sizeof text, "role,yarn,put_up,notes\na,b\n%s\n", notes[i]);
        snprintf(expected, sizeof expected,
                 "yarns.csv:3:1: warning: this line begins with # and is not read, though it has the cells of a row: %.*s%s",
                 (int)strcspn(notes[i], "\r"), notes[i], hint);
        assert_finding(text, expected);
    }
    /* fewer cells, prose, before the header, and in quotes as a whole */
    assert_rows("#a,b,c,d\nrole,yarn,put_up,notes\n#2 main,b,c\n# this, that, those, and it\n\"#a,b,c,d\"\n# 5\",b,c,d\n#\n#,,,\n", "");
}

/* The cells required in every row are enough to recognise a row, if there are any; a column that the file lacks has
 * none. */
static void a_note_with_all_cells_that_a_row_needs_is_warned_about(void **state)
{
    (void)state;
    static const struct hk_column three[] = {{"piece", true, true},  {"fabric", true, true}, {"rows", true, true},
                                             {"part", false, false}, {"yarn", false, true},  {NULL, false, false}};
    const char *text = "piece,part,fabric,rows\n#2 sleeve,,sc,20\n#2 sleeve,cuff,,20\n";
    struct hk_diags diags = {0};
    hk_table_free(read_bytes(text, strlen(text), (struct hk_table_options){.columns = three}, &diags));
    assert_findings(&diags, "yarns.csv:2:1: warning: this line begins with # and is not read, though it has the cells of a row: "
                            "#2 sleeve,,sc,20; to have it read, put its first cell in quotes; if it is a note, put the whole line in quotes\n");
}

static void a_number_sign_in_quotes_begins_a_name(void **state)
{
    (void)state;
    assert_rows("role,yarn\n\"#2 sleeve\",b\n'#3,b\n", "#2 sleeve|b/#3|b/");
}

/* '72 and ="72" prevent a spreadsheet from reading a number or a date. */
static void what_keeps_a_text_from_a_spreadsheet_is_undone(void **state)
{
    (void)state;
    assert_rows("role,yarn\n'72,'2-4 \n\"'72\",' 5\n'quoted',it's\n'\n", "72|2-4/72|5/'quoted'|it's/'|/");
    assert_rows("role,yarn\n=\"72\", =\"2-4\" \n\"=\"\"72\"\"\",\"=\"\"2,4\"\"\"\n", "72|2-4/72|2,4/");
    assert_rows("role;yarn\n=\"7;2\";=\"\"\n\"x;=\"\"y\"\"\";a=b\n", "7;2|/x;=\"y\"|a=b/");
    assert_rows("role,yarn\n\"a\n,=\"\"b\"\"\",=\"c\"\n=72,=A1\n", "a\n,=\"b\"|c/=72|=A1/");
    struct hk_diags diags = {0};
    struct hk_table *table = read_text("role,yarn,notes\n=\"72\",\"=\"\"2,4\"\"\",'c\n", &diags);
    assert_findings(&diags, "");
    assert_place(hk_table_cell(table, 0, ROLE), 1, 2, 4);
    assert_place(hk_table_cell(table, 0, YARN), 1, 2, 12);
    assert_place(hk_table_cell(table, 0, NOTES), 0, 2, 19);
    hk_table_free(table);
}

static void cells_separated_by_bars_are_named(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    assert_null(read_text("# a note, with commas\nrole|yarn\na|b\n", &diags));
    assert_findings(&diags, "yarns.csv:0:0: error: the cells are separated by bars, |; separate them by commas, semicolons or tabs, or "
                            "write sep=| as the first line\n");
    assert_rows("role,yarn\na|b,c\n", "a|b|c/");
}

static void a_number_sign_within_a_quoted_cell_is_text(void **state)
{
    (void)state;
    assert_rows("role,yarn\na,\"b\n#c\"\nd,e\n", "a|b\n#c/d|e/");
}

static void quotes_hold_separators_line_ends_and_doubled_quotes(void **state)
{
    (void)state;
    assert_rows("role,yarn\na,\"b,\"\"c\"\"\r\nd\" \n  \"e\"  ,f\n", "a|b,\"c\"\r\nd/e|f/");
    assert_rows("role,yarn\na,\"\"\"\"\n", "a|\"/");
}

static void curly_quotes_are_plain_text(void **state)
{
    (void)state;
    assert_rows("role,yarn\na,\xE2\x80\x9C" "b\xE2\x80\x9D\n", "a|\xE2\x80\x9C" "b\xE2\x80\x9D/");
}

static void outer_blanks_of_cells_are_taken_off(void **state)
{
    (void)state;
    assert_rows("role,yarn\n \xC2\xA0 a b\xE2\x80\xAF ,\"\t c \xC2\xA0\"\n", "a b|c/");
    assert_rows("role,yarn,notes\na,\xC2\xA0,\" \"\n", "a||/");
}

static void empty_columns_without_a_name_are_left_out(void **state)
{
    (void)state;
    assert_rows("role,yarn,,,\na,b,,,\nc\nd,,,,,,,\n", "a|b/c|/d|/");
    assert_rows("role,,yarn\na,,b\n", "a||b/");
}

/* ---- Columns ----------------------------------------------------------------------------------------------------- */

static void names_of_columns_may_be_written_as_people_do(void **state)
{
    (void)state;
    static const char *const headers[] = {"put_up", "Put up", "PUT-UP", "\" put\xC2\xA0up \"", "put\xE2\x80\x93up"};
    for (size_t i = 0; i < sizeof headers / sizeof headers[0]; i++) {
        char text[100];
        snprintf(text, sizeof text, "%s,Yarn,ROLE\n50 g,b,a\n", headers[i]);
        struct hk_diags diags = {0};
        struct hk_table *table = read_text(text, &diags);
        assert_findings(&diags, "");
        assert_string_equal(hk_table_cell(table, 0, PUT_UP).text, "50 g");
        assert_string_equal(hk_table_cell(table, 0, ROLE).text, "a");
        hk_table_free(table);
    }
}

static void an_unknown_column_is_warned_about_with_the_nearest_absent_name(void **state)
{
    (void)state;
    assert_finds("role,yarn,put_pu,ball,yarm\na,b,c,d,e\n",
                 "yarns.csv:1:11: warning: no column is called \"put_pu\": it is not read; is it meant to be \"put_up\"?\n"
                 "yarns.csv:1:18: warning: no column is called \"ball\": it is not read\n"
                 "yarns.csv:1:23: warning: no column is called \"yarm\": it is not read\n",
                 true);
}

/*
 * A stated separator applies to the whole file; "sep=" with further text, or with an invalid separator, is an ordinary
 * row.
 */
static void the_separator_may_be_stated_in_the_first_line(void **state)
{
    (void)state;
    static const char *const stated[] = {"sep=;", "SEP=;", "\"sep=;\"", "sep=;\r"};
    for (size_t i = 0; i < sizeof stated / sizeof stated[0]; i++) {
        char text[64];
        snprintf(text, sizeof text, "%s\nrole;yarn\na,b;c\n", stated[i]);
        assert_rows(text, "a,b|c/");
    }
    assert_finds("sep=;", "yarns.csv:0:0: error: the file has neither header nor rows; the first row names the columns: role, yarn\n",
                 false);
    assert_finds("sep=x\nrole,yarn\na,b\n",
                 "yarns.csv:1:1: error: \"sep=x\" is no column: a header row is missing; the first row names the columns: role, yarn\n", false);
    assert_finds("sep=;x\nrole;yarn\na;b\n",
                 "yarns.csv:1:1: error: \"sep=\" is no column: a header row is missing; the first row names the columns: role, yarn\n", false);
}

static void a_cell_too_many_is_reported_with_what_parts_cells(void **state)
{
    (void)state;
    static const struct {
        const char *mark, *name;
    } separators[] = {{",", "comma"}, {";", "semicolon"}, {"\t", "tab"}, {"|", "bar"}};
    for (size_t i = 0; i < sizeof separators / sizeof separators[0]; i++) {
        const char *m = separators[i].mark;
        char text[64], expected[256];
        snprintf(text, sizeof text, "sep=%s\nrole%syarn\na%sb%sc\n", m, m, m, m); /* a bar only if stated */
        snprintf(expected, sizeof expected,
                 "yarns.csv:3:5: error: \"c\" stands beyond the last column; a %s inside a cell splits it: put quotes round the "
                 "whole cell, or name the column\n",
                 separators[i].name);
        assert_finds(text, expected, true); /* the rest of the row is read for other mistakes */
    }
}

/* Spaces of every width that pasting brings in are not part of a column's name or of a cell. */
static void thin_blanks_are_blanks(void **state)
{
    (void)state;
    assert_rows("\xE2\x80\xAFrole\xE2\x80\xAF,\xE2\x80\x8Byarn\xEF\xBB\xBF\na,b\n\xE2\x80\x8B,\xEF\xBB\xBF\n\xC2\xA0,\xE2\x80\xAF\n", "a|b/");
}

static void a_doubled_column_is_an_error(void **state)
{
    (void)state;
    assert_finds("role,yarn,Role\na,b,c\n",
                 "yarns.csv:1:11: error: the column \"Role\" stands twice; rename or remove one: the first is column 1\n", false);
    const char *text = "size,S,s\n";
    struct hk_diags diags = {0};
    assert_null(read_bytes(text, strlen(text), (struct hk_table_options){0}, &diags));
    assert_findings(&diags, "yarns.csv:1:8: error: the column \"s\" stands twice; rename or remove one: the first is column 2\n");
}

static void every_missing_column_is_named(void **state)
{
    (void)state;
    assert_finds("# note\nnotes,put_up\na,b\n",
                 "yarns.csv:2:1: error: the column \"role\" is missing; "
                 "add it to this row, and a cell for it to each row below\n"
                 "yarns.csv:2:1: error: the column \"yarn\" is missing; "
                 "add it to this row, and a cell for it to each row below\n",
                 false);
}

static void a_missing_column_is_looked_for_among_the_misspelt_ones(void **state)
{
    (void)state;
    assert_finds("yarn,Rolle\na,b\n",
                 "yarns.csv:1:1: error: the column \"role\" is missing; is \"Rolle\" meant to be it?\n"
                 "yarns.csv:1:6: warning: no column is called \"Rolle\": it is not read; is it meant to be \"role\"?\n",
                 false);
}

static void rows_without_a_header_are_reported_by_names_that_are_none(void **state)
{
    (void)state;
    assert_finds("main,Merino,50 g\ncontrast,Alpaca,25 g\n",
                 "yarns.csv:1:1: error: \"main\" is no column: a header row is missing; "
                 "the first row names the columns: role, yarn\n",
                 false);
}

static void an_empty_file_has_no_header(void **state)
{
    (void)state;
    assert_finds("", "yarns.csv:0:0: error: the file is empty; the first row names the columns: role, yarn\n", false);
    assert_finds(
        "# only a note\n\n,,\n",
        "yarns.csv:0:0: error: the file has neither header nor rows; the first row names the columns: role, yarn\n",
        false);
}

static void a_header_alone_is_an_error_only_where_rows_are_required(void **state)
{
    (void)state;
    assert_rows("role,yarn\n", "");
    const char *text = "role,yarn\n# nothing\n";
    struct hk_table_options options = {.columns = columns, .required = true};
    struct hk_diags diags = {0};
    assert_null(read_bytes(text, strlen(text), options, &diags));
    assert_findings(&diags, "yarns.csv:0:0: error: there is a header and no row below it; add at least one row\n");
}

static void too_many_columns_are_refused(void **state)
{
    (void)state;
    char *text = calloc(HK_COLUMNS_MOST + 2, 6);
    for (size_t i = 0, at = 0; i <= HK_COLUMNS_MOST; i++)
        at += (size_t)sprintf(text + at, "%s%04zu", i ? "," : "", i);
    struct hk_diags diags = {0};
    assert_null(read_bytes(text, strlen(text), (struct hk_table_options){0}, &diags));
    assert_findings(&diags, "yarns.csv:1:5121: error: the header has 1025 columns, and at most 1024 can be read\n");
    *strrchr(text, ',') = '\0';
    struct hk_table *table = read_bytes(text, strlen(text), (struct hk_table_options){0}, &diags);
    assert_findings(&diags, "");
    assert_int_equal(hk_table_columns(table), HK_COLUMNS_MOST);
    hk_table_free(table);
    free(text);
}

/* ---- Cells ------------------------------------------------------------------------------------------------------- */

static void an_empty_cell_that_every_row_needs_is_an_error_of_the_cell(void **state)
{
    (void)state;
    assert_finds("yarn,role\na,b\nc,\nd\ne,\" \"\n\"two\nlines\",\n",
                 "yarns.csv:3:3: error: the cell \"role\" is empty; every row of yarns.csv needs one\n"
                 "yarns.csv:4:2: error: the cell \"role\" is empty; every row of yarns.csv needs one\n"
                 "yarns.csv:5:5: error: the cell \"role\" is empty; every row of yarns.csv needs one\n"
                 "yarns.csv:7:8: error: the cell \"role\" is empty; every row of yarns.csv needs one\n",
                 true);
}

static void a_filled_cell_without_a_column_is_an_error_once_a_row(void **state)
{
    (void)state;
    assert_finds("role,,yarn\na,,b,\nc,x,d,y\ne,,f,g,h\n",
                 "yarns.csv:3:3: error: \"x\" stands under no column name; "
                 "a comma inside a cell splits it: put quotes round the whole cell, or name the column\n"
                 "yarns.csv:4:6: error: \"g\" stands beyond the last column; "
                 "a comma inside a cell splits it: put quotes round the whole cell, or name the column\n",
                 true);
    assert_finds("role;yarn\na;b;c\n",
                 "yarns.csv:2:5: error: \"c\" stands beyond the last column; "
                 "a semicolon inside a cell splits it: put quotes round the whole cell, or name the column\n",
                 true);
    /* in quotes, no separator splits it */
    assert_finds("role,,yarn\n\"a\",\"x\",\"b\"\n\"a\",x,\"b\"\n",
                 "yarns.csv:2:6: error: \"x\" stands under no column name; "
                 "write a column's name above it, or empty the cell\n"
                 "yarns.csv:3:5: error: \"x\" stands under no column name; "
                 "a comma inside a cell splits it: put quotes round the whole cell, or name the column\n",
                 true);
}

static void a_column_that_the_file_lacks_gives_empty_cells_at_the_row(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_table *table = read_text("role,yarn\n# note\na,b\n", &diags);
    assert_findings(&diags, "");
    assert_false(hk_table_has(table, NOTES));
    assert_true(hk_table_has(table, YARN));
    assert_false(hk_table_has(table, 100));
    assert_true(hk_cell_empty(hk_table_cell(table, 0, NOTES)));
    assert_false(hk_cell_empty(hk_table_cell(table, 0, YARN)));
    assert_place(hk_table_cell(table, 0, NOTES), 0, 3, 1);
    assert_int_equal(hk_table_place(table).line, 0);
    assert_string_equal(hk_table_name(table), "yarns.csv");
    hk_table_free(table);
}

static void a_cell_of_no_file_has_no_place(void **state)
{
    (void)state;
    struct hk_place place = hk_cell_place((struct hk_cell){.text = "a"}, 0);
    assert_null(place.file);
    assert_int_equal(place.line, 0);
}

static void a_cell_may_have_64_kb_and_no_more(void **state)
{
    (void)state;
    for (int quoted = 0; quoted < 2; quoted++) {
        for (size_t more = 0; more < 2; more++) {
            size_t length = HK_CELL_BYTES + more;
            char *text = calloc(length + 64, 1);
            strcpy(text, quoted ? "role,yarn\n\"a\n\",\"" : "role,yarn\na\nb,");
            memset(text + strlen(text), 'x', length);
            strcat(text, quoted ? "\"\nc,d\n" : "\nc,d\n");
            struct hk_diags diags = {0};
            struct hk_table *table = read_text(text, &diags);
            assert_int_equal(table != NULL, more == 0);
            assert_findings(&diags,
                            !more ? ""
                            : quoted
                                ? "yarns.csv:3:4: error: the cell that starts here is longer than 64 kB; "
                                  "is its closing quote missing? " INCHES "\n"
                                : "yarns.csv:3:3: error: the cell that starts here is longer than 64 kB; shorten it\n");
            hk_table_free(table);
            free(text);
        }
    }
}

static void a_cell_of_one_mb_is_one_finding(void **state)
{
    (void)state;
    size_t size = (size_t)1 << 20;
    char *text = calloc(size + 64, 1);
    strcpy(text, "role,yarn\na,");
    memset(text + strlen(text), 'x', size);
    strcat(text, "\nb,\"c\"d\n");
    assert_finds(text,
                 "yarns.csv:2:3: error: the cell that starts here is longer than 64 kB; shorten it\n"
                 "yarns.csv:3:6: error: text follows the quote that closes the cell; " INCHES "\n",
                 false);
    free(text);
}

/* ---- Mistakes of form -------------------------------------------------------------------------------------------- */

static void a_stray_quote_is_an_error_of_its_byte_and_the_next_rows_are_read(void **state)
{
    (void)state;
    assert_finds("role,yarn\na,5\" hook\nb,\"5\" hook\"\n,c\n",
                 "yarns.csv:2:4: error: there is a quote in a cell that does not begin with one; " INCHES "\n"
                 "yarns.csv:3:7: error: text follows the quote that closes the cell; " INCHES "\n"
                 "yarns.csv:4:1: error: the cell \"role\" is empty; every row of yarns.csv needs one\n",
                 false);
}

/* An unclosed quote costs only its own line: the empty role in the line below is still reported. */
static void an_open_quote_is_reported_at_the_line_that_opens_it(void **state)
{
    (void)state;
    assert_finds("role,yarn\na,b\nc, \"5 in\n,d\n",
                 "yarns.csv:3:4: error: a quote opens here and is never closed; " INCHES "\n"
                 "yarns.csv:4:1: error: the cell \"role\" is empty; every row of yarns.csv needs one\n",
                 false);
    assert_finds("role,yarn\na,\"5 in\n,\"d\"\n",
                 "yarns.csv:2:3: error: a quote opens here, and text follows the next one, in line 3 column 3; " INCHES "\n"
                 "yarns.csv:3:1: error: the cell \"role\" is empty; every row of yarns.csv needs one\n",
                 false);
}

static void an_open_quote_before_100_kb_is_reported_at_the_line_that_opens_it(void **state)
{
    (void)state;
    size_t rows = 25000;
    char *text = calloc(rows * 4 + 64, 1);
    strcpy(text, "role,yarn\na,\"b\n");
    for (size_t i = 0, at = strlen(text); i < rows; i++, at += 4)
        memcpy(text + at, "c,d\n", 4);
    assert_finds(text,
                 "yarns.csv:2:3: error: the cell that starts here is longer than 64 kB; is its closing quote missing? " INCHES
                 "\n",
                 false);
    free(text);
}

static void without_its_header_no_row_is_judged(void **state)
{
    (void)state;
    assert_finds("role,ya\"rn\na,b\nc,d,e\"\n",
                 "yarns.csv:1:8: error: there is a quote in a cell that does not begin with one; " INCHES "\n", false);
}

/* ---- Places ------------------------------------------------------------------------------------------------------ */

/*
 * Columns count characters. Line 2: a kanji, then the quoted cell whose text begins at column 4; its doubled quote is
 * one character of the text and two of the file.
 */
static void places_count_characters_and_pass_doubled_quotes(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_table *table = read_text("role,yarn,notes\n\xE8\x8C\x9C,\" x\"\"y\r\nz\",  w\n", &diags);
    assert_findings(&diags, "");
    struct hk_cell yarn = hk_table_cell(table, 0, YARN);
    assert_string_equal(yarn.text, "x\"y\r\nz");
    assert_place(hk_table_cell(table, 0, ROLE), 0, 2, 1);
    assert_place(hk_table_cell(table, 0, ROLE), 3, 2, 2);
    assert_place(yarn, 0, 2, 5); /* x */
    assert_place(yarn, 1, 2, 6); /* the doubled quote */
    assert_place(yarn, 2, 2, 8); /* y */
    assert_place(yarn, 5, 3, 1); /* z */
    assert_place(yarn, 6, 3, 2); /* its end */
    assert_place(yarn, 60, 3, 2);
    assert_place(hk_table_cell(table, 0, NOTES), 0, 3, 6);
    assert_place(hk_table_header(table, 1), 0, 1, 6);
    hk_table_free(table);
}

/* The byte of the file at a place. */
static const char *byte_at(const char *text, struct hk_place place)
{
    for (size_t line = 1; line < place.line; line++) {
        text += strcspn(text, "\r\n");
        text += text[0] == '\r' && text[1] == '\n' ? 2 : 1;
    }
    for (size_t column = 1; column < place.column; column++) {
        for (text++; ((unsigned char)*text & 0xC0) == 0x80;)
            text++;
    }
    return text;
}

/* Property: for every byte of every cell's text, the file has that byte at the reported place. */
static void assert_places_hold(const char *file, const struct hk_table *table)
{
    for (size_t row = 0; row < hk_table_rows(table); row++) {
        for (size_t i = 0; i < hk_table_columns(table); i++) {
            struct hk_cell cell = hk_table_at(table, row, i);
            for (size_t at = 0; cell.text[at]; at++) {
                if (((unsigned char)cell.text[at] & 0xC0) != 0x80)
                    assert_int_equal(*byte_at(file, hk_cell_place(cell, at)), cell.text[at]);
            }
        }
    }
}

/*
 * A file of random cells with every awkward feature, written by the rules (RFC 4180 section 2), reads back unchanged.
 */
static void random_awkward_files_read_as_written_and_places_hold(void **state)
{
    (void)state;
    static const char *const pieces[] = {"a", "\"", ",", ";", "\r\n", "\n", "\r", " ", "\xC3\xA9", "\xE8\x8C\x9C", "#", "5", "\xC2\xA0"};
    static const char *const blanks[] = {"", "\n", "\r", "\r\n", " ", "\xC2\xA0"};
    enum { PIECES = sizeof pieces / sizeof pieces[0] };
    uint32_t seed = 20;
    for (int round = 0; round < 500; round++) {
        char file[4096] = "role,yarn,notes\n", expected[4096] = "";
        for (int cell = 0; cell < 12; cell++) {
            char text[64] = "x"; /* neither a note nor trimmed nor empty */
            for (int n = 0; n < 5; n++) {
                seed = seed * 1664525 + 1013904223; /* a linear congruence is enough for shuffling */
                strcat(text, pieces[(seed >> 16) % PIECES]);
            }
            strcat(text, "y");
            strcat(expected, text);
            strcat(expected, cell % 3 == 2 ? "/" : "|");
            char *out = file + strlen(file);
            *out++ = '"';
            for (const char *c = text; *c; c++) {
                if (*c == '"')
                    *out++ = '"';
                *out++ = *c;
            }
            for (int n = 0; n < 3; n++) { /* trimmed again */
                seed = seed * 1664525 + 1013904223;
                const char *blank = blanks[(seed >> 16) % (sizeof blanks / sizeof blanks[0])];
                out += strlen(strcpy(out, blank));
            }
            strcpy(out, cell % 3 == 2 ? "\"\n" : "\", ");
        }
        struct hk_diags diags = {0};
        struct hk_table *table = read_text(file, &diags);
        assert_findings(&diags, "");
        char *rows = rows_text(table);
        assert_string_equal(rows, expected);
        assert_places_hold(file, table);
        free(rows);
        hk_table_free(table);
    }
}

/* ---- Files that are no text -------------------------------------------------------------------------------------- */

static void spreadsheets_own_formats_are_reported_by_their_first_bytes(void **state)
{
    (void)state;
    static const struct {
        const char *bytes;
        size_t size;
        const char *what;
    } cases[] = {
        {"PK\3\4\24\0\6\0", 8, "a spreadsheet program's own format (.xlsx or .ods)"},
        {"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", 8, "a spreadsheet program's own format (.xls)"},
        {"r\0o\0l\0e\0", 8, "UTF-16 text without a byte order mark"},
        {"\0r\0o\0l\0e", 8, "UTF-16 text without a byte order mark"},
        {"<html><table>", 13, "HTML or XML"},
        {"%PDF-1.7", 8, "a PDF document"},
        {"{\\rtf1", 6, "a word processor's document (.rtf)"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_diags diags = {0};
        assert_null(read_bytes(cases[i].bytes, cases[i].size, (struct hk_table_options){.columns = columns}, &diags));
        char expected[200];
        snprintf(expected, sizeof expected, "yarns.csv:0:0: error: this is %s, not CSV text; " SAVE_AS "\n", cases[i].what);
        assert_findings(&diags, expected);
    }
}

/* The file as UTF-16: the characters of `text`, none beyond U+FFFF, after a byte order mark. */
static size_t put_wide(char *out, const char *text, bool big)
{
    const unsigned char *c = (const unsigned char *)text;
    size_t size = 0;
    for (uint32_t code = 0xFEFF; code; code = *c < 0x80 ? *c : *c < 0xE0 ? (*c & 0x1Fu) << 6 | (c[1] & 0x3Fu)
                                                                        : (*c & 0xFu) << 12 | (c[1] & 0x3Fu) << 6 | (c[2] & 0x3Fu)) {
        out[size + big] = (char)(code & 0xFF);
        out[size + !big] = (char)(code >> 8);
        size += 2;
        c += size == 2 ? 0 : code < 0x80 ? 1 : code < 0x800 ? 2 : 3;
    }
    return size;
}

/* The format that a spreadsheet calls "Unicode text": UTF-16 with its mark, and tabs. */
static void utf16_with_a_byte_order_mark_is_read(void **state)
{
    (void)state;
    for (int big = 0; big < 2; big++) {
        char bytes[200];
        size_t size = put_wide(bytes, "role\tyarn\tput_up\r\nmain\tChoix \xC3\xA9\xE8\x8C\x9C\t5\r\n", big);
        struct hk_diags diags = {0};
        struct hk_table *table = read_bytes(bytes, size, (struct hk_table_options){.columns = columns}, &diags);
        assert_findings(&diags, "");
        assert_string_equal(hk_table_cell(table, 0, YARN).text, "Choix \xC3\xA9\xE8\x8C\x9C");
        assert_place(hk_table_cell(table, 0, PUT_UP), 0, 2, 15);
        hk_table_free(table);
    }
}

/*
 * A surrogate pair is one character (RFC 2781 section 2.1: U+12345 is D808 DF45); half of one, or half a unit, is
 * damage.
 */
static void utf16_is_what_rfc_2781_says(void **state)
{
    (void)state;
    static const char good[] = "\xFE\xFF\0r\0o\0l\0e\0,\0y\0a\0r\0n\0\n\xD8\x08\xDF\x45\0,\0b";
    struct hk_diags diags = {0};
    struct hk_table *table = read_bytes(good, sizeof good - 1, (struct hk_table_options){.columns = columns}, &diags);
    assert_findings(&diags, "");
    assert_string_equal(hk_table_cell(table, 0, ROLE).text, "\xF0\x92\x8D\x85");
    hk_table_free(table);
    static const char above[] = "\xFE\xFF\0r\0o\0l\0e\0,\0y\0a\0r\0n\0\n\xFF\x21\0,\0b"; /* U+FF21, above the surrogates */
    table = read_bytes(above, sizeof above - 1, (struct hk_table_options){.columns = columns}, &diags);
    assert_findings(&diags, "");
    assert_string_equal(hk_table_cell(table, 0, ROLE).text, "\xEF\xBC\xA1");
    hk_table_free(table);
    static const struct {
        const char *bytes;
        size_t size;
    } bad[] = {{"\xFE\xFF\0r\xD8\x08", 6}, {"\xFE\xFF\0r\xD8\x08\xFF\x21", 8}, {"\xFE\xFF\0r\xD8\x08\0a", 8}, {"\xFE\xFF\0r\xDC\x08\xD8\x08", 8}, {"\xFE\xFF\0r\0", 5}, {"\xFE\xFF\0r\0\0", 6}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_null(read_bytes(bad[i].bytes, bad[i].size, (struct hk_table_options){.columns = columns}, &diags));
        assert_findings(&diags, "yarns.csv:1:2: error: this is UTF-16 text with a damage here; " SAVE_AS "\n");
    }
}

static void binary_junk_is_no_text(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    assert_null(read_bytes("role,yarn\na,b\0c\n", 16, (struct hk_table_options){.columns = columns}, &diags));
    assert_findings(&diags, "yarns.csv:2:4: error: this is not text: it has a byte 00; " SAVE_AS "\n");
    for (int byte = 1; byte < 0x20; byte++) {
        char text[] = "role,yarn\nabcdefghijkl?,b\n";
        *strchr(text, '?') = (char)byte;
        struct hk_table *table = read_text(text, &diags);
        assert_int_equal(table != NULL, byte >= '\t' && byte <= '\r');
        hk_table_free(table);
        hk_diags_free(&diags);
    }
}

/* Windows-1252: E9 is e acute, 80 the euro sign, 92 a right quote, BD one half; 81 is not assigned. */
static void what_is_not_utf8_is_read_as_windows_1252_with_one_warning(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_table *table = read_text("role,yarn\na,Ch\xE9ri \x80 \x92 7\xBD \x81\nb,\xE9\n", &diags);
    assert_findings(&diags, "yarns.csv:2:5: warning: the file is not UTF-8: read as Windows-1252, which makes this sign "
                            "\"\xC3\xA9\"; " SAVE_AS "\n");
    struct hk_cell yarn = hk_table_cell(table, 0, YARN);
    assert_string_equal(yarn.text, "Ch\xC3\xA9ri \xE2\x82\xAC \xE2\x80\x99 7\xC2\xBD \xEF\xBF\xBD");
    assert_place(yarn, strlen("Ch\xC3\xA9ri "), 2, 9);
    hk_table_free(table);
}

/* ---- The source -------------------------------------------------------------------------------------------------- */

static void an_absent_file_is_an_error_only_where_it_is_required(void **state)
{
    (void)state;
    const struct memory_file files[] = {{NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    assert_null(hk_table_read(&source, "yarns.csv", (struct hk_table_options){.columns = columns}, &diags));
    assert_findings(&diags, "");
    assert_null(hk_table_read(&source, "yarns.csv", (struct hk_table_options){.columns = columns, .required = true}, &diags));
    assert_findings(&diags, "yarns.csv:0:0: error: the file is missing; add it, with the columns role, yarn\n");
}

static void an_absent_file_may_be_there_in_a_format_of_its_own(void **state)
{
    (void)state;
    const struct memory_file files[] = {{"a/yarns.ods", "PK", 0}, {"pieces.xlsx", "PK", 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    const struct hk_table_options required = {.columns = columns, .required = true};
    assert_null(hk_table_read(&source, "a/yarns.csv", required, &diags));
    assert_null(hk_table_read(&source, "pieces.csv", required, &diags));
    assert_null(hk_table_read(&source, "a.b/yarns", required, &diags));
    assert_findings(&diags, "pieces.csv:0:0: error: the file is missing; pieces.xlsx is there: save it as pieces.csv, in "
                            "the spreadsheet: File, Save as, Text CSV, character set UTF-8\n"
                            "a.b/yarns:0:0: error: the file is missing; add it, with the columns role, yarn\n"
                            "a/yarns.csv:0:0: error: the file is missing; a/yarns.ods is there: save it as a/yarns.csv, in "
                            "the spreadsheet: File, Save as, Text CSV, character set UTF-8\n");
    diags = (struct hk_diags){0};
    assert_null(hk_table_read(&source, "pieces.csv", (struct hk_table_options){.columns = columns}, &diags));
    assert_findings(&diags, "");
}

static void a_file_beyond_the_limit_is_refused(void **state)
{
    (void)state;
    size_t most = (size_t)1 << 20;
    char *text = calloc(most + 2, 1);
    strcpy(text, "role,yarn\n#");
    memset(text + strlen(text), 'x', most - strlen(text));
    struct hk_table_options options = {.columns = columns, .most_bytes = most};
    struct hk_diags diags = {0};
    struct hk_table *table = read_bytes(text, most, options, &diags);
    assert_findings(&diags, "");
    assert_non_null(table);
    hk_table_free(table);
    text[most] = 'x';
    assert_null(read_bytes(text, most + 1, options, &diags));
    assert_findings(&diags, "yarns.csv:0:0: error: the file is larger than 1 MB; "
                            "a file of a project has some kB: is this the right one?\n");
    free(text);
}

static enum hk_open refused_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    (void)host, (void)name, (void)file;
    *why = "Permission denied";
    return HK_OPEN_REFUSED;
}

static ptrdiff_t broken_read(void *handle, void *bytes, size_t count, const char **why)
{
    int *calls = handle;
    if (++*calls > 1) {
        *why = "Input/output error";
        return -1;
    }
    memcpy(bytes, "role,yarn\n", count < 10 ? count : 10);
    return 10;
}

static void count_close(void *handle)
{
    *(int *)handle += 100;
}

static enum hk_open broken_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    (void)name, (void)why;
    *file = (struct hk_file){.handle = host, .read = broken_read, .close = count_close};
    return HK_OPEN_DONE;
}

static void a_file_that_cannot_be_read_is_the_machines_failure(void **state)
{
    (void)state;
    int calls = 0;
    struct hk_source refused = {NULL, refused_open}, broken = {&calls, broken_open};
    struct hk_diags diags = {0};
    assert_null(hk_table_read(&refused, "yarns.csv", (struct hk_table_options){.columns = columns}, &diags));
    assert_true(diags.machine);
    assert_findings(&diags, "yarns.csv:0:0: error: cannot be opened: Permission denied\n");
    assert_null(hk_table_read(&broken, "yarns.csv", (struct hk_table_options){.columns = columns}, &diags));
    assert_int_equal(calls, 102); /* read twice, closed once */
    assert_true(diags.machine);
    assert_findings(&diags, "yarns.csv:0:0: error: reading stopped: Input/output error\n");
}

static void freeing_nothing_is_fine(void **state)
{
    (void)state;
    hk_table_free(NULL);
}

/* ---- Spoiled files ----------------------------------------------------------------------------------------------- */

/* Reads the bytes; the result must be a table or a finding, and the delivered table must be consistent. */
static void assert_survives(const char *bytes, size_t size)
{
    struct hk_diags diags = {0};
    struct hk_table *table = read_bytes(bytes, size, (struct hk_table_options){.columns = columns}, &diags);
    assert_true(table != NULL || diags.errors > 0);
    for (size_t row = 0; table && row < hk_table_rows(table); row++) {
        for (size_t i = 0; i < hk_table_columns(table); i++) {
            struct hk_cell cell = hk_table_at(table, row, i);
            struct hk_place place = hk_cell_place(cell, strlen(cell.text));
            assert_true(place.line >= 1 && place.column >= 1);
        }
    }
    hk_table_free(table);
    hk_diags_free(&diags);
}

static const char good_file[] = "\xEF\xBB\xBF# two yarns\r\nrole;yarn;put up;notes\r\nmain;\"Loch \"\"4\"\"\";50 g;\"a\r\nb\"\r\n"
                                "contrast;Caf\xC3\xA9;25 g;\r\n";

static void a_good_file_cut_anywhere_gives_rows_or_a_finding(void **state)
{
    (void)state;
    for (size_t size = 0; size < sizeof good_file; size++)
        assert_survives(good_file, size);
}

static void a_good_file_with_any_byte_spoiled_gives_rows_or_a_finding(void **state)
{
    (void)state;
    char bytes[sizeof good_file];
    for (size_t at = 0; at < sizeof good_file - 1; at++) {
        for (int byte = 0; byte < 256; byte++) {
            memcpy(bytes, good_file, sizeof bytes);
            bytes[at] = (char)byte;
            assert_survives(bytes, sizeof bytes - 1);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comma_semicolon_and_tab_are_found_from_the_header),
        cmocka_unit_test(separators_within_quotes_of_the_header_do_not_count),
        cmocka_unit_test(a_stated_separator_is_taken_and_its_line_counted),
        cmocka_unit_test(a_comma_is_a_decimal_mark_where_it_separates_nothing),
        cmocka_unit_test(every_line_end_ends_a_line),
        cmocka_unit_test(a_byte_order_mark_is_no_part_of_the_first_name),
        cmocka_unit_test(notes_and_rows_of_empty_cells_are_no_rows),
        cmocka_unit_test(a_note_that_a_spreadsheet_quoted_is_still_a_note),
        cmocka_unit_test(a_number_sign_within_a_quoted_cell_is_text),
        cmocka_unit_test(a_spreadsheets_error_is_an_error_in_the_first_cell_too),
        cmocka_unit_test(an_error_in_a_column_that_is_not_read_is_none),
        cmocka_unit_test(a_note_with_the_cells_of_a_row_is_warned_about),
        cmocka_unit_test(a_note_with_all_cells_that_a_row_needs_is_warned_about),
        cmocka_unit_test(a_number_sign_in_quotes_begins_a_name),
        cmocka_unit_test(what_keeps_a_text_from_a_spreadsheet_is_undone),
        cmocka_unit_test(cells_separated_by_bars_are_named),
        cmocka_unit_test(utf16_with_a_byte_order_mark_is_read),
        cmocka_unit_test(utf16_is_what_rfc_2781_says),
        cmocka_unit_test(quotes_hold_separators_line_ends_and_doubled_quotes),
        cmocka_unit_test(curly_quotes_are_plain_text),
        cmocka_unit_test(outer_blanks_of_cells_are_taken_off),
        cmocka_unit_test(empty_columns_without_a_name_are_left_out),
        cmocka_unit_test(names_of_columns_may_be_written_as_people_do),
        cmocka_unit_test(an_unknown_column_is_warned_about_with_the_nearest_absent_name),
        cmocka_unit_test(the_separator_may_be_stated_in_the_first_line),
        cmocka_unit_test(a_cell_too_many_is_reported_with_what_parts_cells),
        cmocka_unit_test(thin_blanks_are_blanks),
        cmocka_unit_test(a_doubled_column_is_an_error),
        cmocka_unit_test(every_missing_column_is_named),
        cmocka_unit_test(a_missing_column_is_looked_for_among_the_misspelt_ones),
        cmocka_unit_test(rows_without_a_header_are_reported_by_names_that_are_none),
        cmocka_unit_test(an_empty_file_has_no_header),
        cmocka_unit_test(a_header_alone_is_an_error_only_where_rows_are_required),
        cmocka_unit_test(too_many_columns_are_refused),
        cmocka_unit_test(an_empty_cell_that_every_row_needs_is_an_error_of_the_cell),
        cmocka_unit_test(a_filled_cell_without_a_column_is_an_error_once_a_row),
        cmocka_unit_test(a_column_that_the_file_lacks_gives_empty_cells_at_the_row),
        cmocka_unit_test(a_cell_of_no_file_has_no_place),
        cmocka_unit_test(a_cell_may_have_64_kb_and_no_more),
        cmocka_unit_test(a_cell_of_one_mb_is_one_finding),
        cmocka_unit_test(a_stray_quote_is_an_error_of_its_byte_and_the_next_rows_are_read),
        cmocka_unit_test(an_open_quote_is_reported_at_the_line_that_opens_it),
        cmocka_unit_test(an_open_quote_before_100_kb_is_reported_at_the_line_that_opens_it),
        cmocka_unit_test(without_its_header_no_row_is_judged),
        cmocka_unit_test(places_count_characters_and_pass_doubled_quotes),
        cmocka_unit_test(random_awkward_files_read_as_written_and_places_hold),
        cmocka_unit_test(spreadsheets_own_formats_are_reported_by_their_first_bytes),
        cmocka_unit_test(binary_junk_is_no_text),
        cmocka_unit_test(what_is_not_utf8_is_read_as_windows_1252_with_one_warning),
        cmocka_unit_test(an_absent_file_is_an_error_only_where_it_is_required),
        cmocka_unit_test(an_absent_file_may_be_there_in_a_format_of_its_own),
        cmocka_unit_test(a_file_beyond_the_limit_is_refused),
        cmocka_unit_test(a_file_that_cannot_be_read_is_the_machines_failure),
        cmocka_unit_test(freeing_nothing_is_fine),
        cmocka_unit_test(a_good_file_cut_anywhere_gives_rows_or_a_finding),
        cmocka_unit_test(a_good_file_with_any_byte_spoiled_gives_rows_or_a_finding),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
