/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * costs.csv (hankful(1), FILES). The kind decides which words `per` may be, and whether the amount is money or a
 * percentage. Both stand in one table, from which the hints of the errors are made too.
 */
#include "project/read/costs.h"

#include "base/money.h"
#include "hankful.h"
#include "project/read/fields.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ITEM, KIND, AMOUNT, QUANTITY, PER, PRINT };
static const struct hk_field fields[] = {
    [ITEM] = {"item", HK_FIELD_FILLED, HK_FIELD_NAME(hk_cost, item), HK_FIELD_KEEPS(hk_cost, cell)},
    [KIND] = {"kind", HK_FIELD_FILLED},
    [AMOUNT] = {"amount", HK_FIELD_FILLED, HK_FIELD_KEEPS(hk_cost, amount_cell)},
    [QUANTITY] = {"quantity"},
    [PER] = {"per"},
    [PRINT] = {"print", HK_FIELD_WORD(hk_cost, unprinted, "yes", "no"), HK_FIELD_KEEPS(hk_cost, print_cell)},
    {.name = NULL},
};

/* No number of buttons or hours is larger. */
#define QUANTITY_MOST 1e6

enum amount_form { MONEY, PERCENT, EITHER };
enum quantity_form { NO_QUANTITY, COUNTED, HOURS };

enum { WORDS_MOST = 8 }; /* the last is NULL */
static const struct kind {
    const char *name, *meaning;
    enum amount_form amount;
    enum quantity_form quantity;
    struct {
        const char *word;
        enum hk_cost_per per;
    } words[WORDS_MOST];
    bool stated; /* per must not be empty */
} kinds[] = {
    [HK_COST_MATERIAL] = {"material",
                          "notions that each piece and each kit takes, such as buttons",
                          MONEY,
                          COUNTED,
                          {{"piece", HK_PER_PIECE}, {"kit", HK_PER_KIT}},
                          false},
    [HK_COST_LABOUR] = {"labour",
                        "pay for an hour of work; with a quantity, hours of other work",
                        MONEY,
                        HOURS,
                        {{"piece", HK_PER_PIECE},
                         {"hour", HK_PER_PIECE},
                         {"kit", HK_PER_KIT},
                         {"batch", HK_PER_BATCH},
                         {"pattern", HK_PER_PATTERN}},
                        false},
    [HK_COST_OVERHEAD] = {"overhead",
                          "studio, light and tools, as percent of other costs or as money",
                          EITHER,
                          NO_QUANTITY,
                          {{"all", HK_PER_ALL},
                           {"materials", HK_PER_MATERIALS},
                           {"labour", HK_PER_LABOUR},
                           {"piece", HK_PER_PIECE},
                           {"hour", HK_PER_HOUR},
                           {"kit", HK_PER_KIT},
                           {"batch", HK_PER_BATCH}},
                          false},
    [HK_COST_MARKUP] = {"markup",
                        "profit on top of the work, in percent",
                        PERCENT,
                        NO_QUANTITY,
                        {{"all", HK_PER_ALL}, {"materials", HK_PER_MATERIALS}, {"labour", HK_PER_LABOUR}},
                        false},
    [HK_COST_FEE] = {"fee",
                     "the share of a sale that a marketplace or payment service takes",
                     EITHER,
                     NO_QUANTITY,
                     {{"sale", HK_PER_EACH}, {"piece", HK_PER_PIECE}, {"kit", HK_PER_KIT}, {"pattern", HK_PER_PATTERN}},
                     false},
    [HK_COST_TAX] = {"tax",
                     "a tax on the price, included in it or added to it; a row for each",
                     PERCENT,
                     NO_QUANTITY,
                     {{"included", HK_PER_INCLUDED}, {"added", HK_PER_ADDED}},
                     true},
    [HK_COST_KIT] = {"kit",
                     "things that one kit holds or one batch takes, such as a box",
                     MONEY,
                     COUNTED,
                     {{"kit", HK_PER_KIT}, {"batch", HK_PER_BATCH}},
                     false},
    [HK_COST_FIXED] = {"fixed",
                       "costs that arise once for a batch or a pattern, such as photographs",
                       MONEY,
                       COUNTED,
                       {{"batch", HK_PER_BATCH}, {"pattern", HK_PER_PATTERN}},
                       true},
    [HK_COST_POSTAGE] = {"postage",
                         "sending one piece or one kit",
                         MONEY,
                         COUNTED,
                         {{"piece", HK_PER_PIECE}, {"kit", HK_PER_KIT}},
                         false},
};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

const char *hk_cost_kind(size_t i, const char **meaning)
{
    *meaning = i < KINDS ? kinds[i].meaning : NULL;
    return i < KINDS ? kinds[i].name : NULL;
}

/* ---- Kind and per -------------------------------------------------------------------------------------------- */

static bool read_kind(struct hk_reading_row row, struct hk_cost *cost)
{
    const char *names[KINDS];
    size_t choice;
    for (size_t i = 0; i < KINDS; i++)
        names[i] = kinds[i].name;
    if (!hk_reading_choice(row.reading, hk_reading_cell(row, KIND), names, KINDS, &choice))
        return false;
    cost->kind = (enum hk_cost_kind)choice;
    return true;
}

static size_t words_of(const struct kind *kind, const char *words[WORDS_MOST])
{
    size_t count = 0;
    while (kind->words[count].word) {
        words[count] = kind->words[count].word;
        count++;
    }
    return count;
}

/* Where the cell is empty: a share is a share of all, an overhead in money is for a piece, work is on a piece. */
static enum hk_cost_per per_default(const struct hk_cost *cost)
{
    switch (cost->kind) {
    case HK_COST_MATERIAL:
    case HK_COST_FEE:
    case HK_COST_POSTAGE:
        return HK_PER_EACH;
    case HK_COST_LABOUR:
        return HK_PER_PIECE;
    case HK_COST_OVERHEAD:
        return cost->percent ? HK_PER_ALL : HK_PER_PIECE;
    case HK_COST_MARKUP:
        return HK_PER_ALL;
    case HK_COST_KIT:
        return HK_PER_KIT;
    case HK_COST_TAX:
    case HK_COST_FIXED:
        break;
    }
    return HK_PER_EACH;
}

static bool is_share(enum hk_cost_per per)
{
    return per == HK_PER_ALL || per == HK_PER_MATERIALS || per == HK_PER_LABOUR;
}

/* An overhead in percent is a share of something; an overhead in money is not. */
static bool per_fits(struct hk_reading_row row, const struct hk_cost *cost)
{
    if (cost->kind != HK_COST_OVERHEAD || cost->percent == is_share(cost->per))
        return true;
    struct hk_cell cell = hk_reading_cell(row, PER);
    hk_diags_add(row.reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "an overhead in %s cannot be per %s",
                 cost->percent ? "percent" : "money", hk_reading_text(row.reading, cell));
    hk_diags_hint(row.reading->diags, cost->percent ? "write all, materials or labour"
                                                     : "write it with a percent sign, or per piece, hour, kit or batch");
    return false;
}

static bool read_per(struct hk_reading_row row, struct hk_cost *cost)
{
    const struct kind *kind = &kinds[cost->kind];
    struct hk_cell cell = hk_reading_cell(row, PER);
    const char *words[WORDS_MOST] = {NULL};
    size_t choice, count = words_of(kind, words);
    cost->per = per_default(cost);
    if (hk_cell_empty(cell) && !kind->stated)
        return true;
    if (hk_cell_empty(cell)) {
        hk_diags_add(row.reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(cell, 0), "the %s \"%s\" does not say %s",
                     kind->name, cost->item,
                     cost->kind == HK_COST_TAX ? "whether it is in the price or comes on top" : "what it is fixed for");
        hk_diags_hint(row.reading->diags, "write %s or %s in the column per", words[0], words[1]);
        return false;
    }
    if (!hk_reading_choice(row.reading, cell, words, count, &choice))
        return false;
    cost->per = kind->words[choice].per;
    return per_fits(row, cost);
}

/* ---- Amount -------------------------------------------------------------------------------------------------- */

/* To the ten-thousandth of a percent, exactly. */
static bool read_percent(struct hk_reading_row row, struct hk_cell cell, int64_t *millionths)
{
    double ratio;
    struct hk_diags *diags = row.reading->diags;
    if (!hk_quantity_cell(cell, HK_DIM_PERCENT, HK_SIGN_NOT_NEGATIVE, &ratio, diags))
        return false;
    double exact = ratio * (double)HK_MILLION, whole = floor(exact + 0.5);
    if (whole > (double)HK_PERCENT_MOST) {
        hk_diags_add(diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "%s is more than ten times the whole", cell.text);
        hk_diags_hint(diags, "write it like 6.5%%");
        return false;
    }
    if (fabs(exact - whole) > 1e-4) {
        hk_diags_add(diags, HK_CODE_NUMBER, hk_cell_place(cell, 0), "%s has too many digits after the point", cell.text);
        hk_diags_hint(diags, "write at most 4");
        return false;
    }
    *millionths = (int64_t)whole;
    return true;
}

/* A number with neither a percent sign nor a currency. */
static bool is_bare(const char *text)
{
    return text[strspn(text, "0123456789.,'/ +-")] == '\0';
}

/* Whether only the amount can distinguish a percentage from money: the column per of an overhead does too. */
static bool may_be_either(struct hk_reading_row row, enum hk_cost_kind kind)
{
    return kinds[kind].amount == EITHER && (kind != HK_COST_OVERHEAD || hk_cell_empty(hk_reading_cell(row, PER)));
}

/* A bare amount read as a number, 2 where it is none, and as money, -1 where it is none. Below 1 it may be a ratio too. */
struct readings {
    double number;
    int64_t minor;
};

static struct readings readings_of(struct hk_reading_row row, struct hk_cell cell)
{
    struct hk_diags silent = {0};
    struct readings readings = {2, -1};
    hk_quantity_cell(cell, HK_DIM_PLAIN, HK_SIGN_NOT_NEGATIVE, &readings.number, &silent);
    hk_project_money_cell(row.reading->project, cell, &readings.minor, &silent);
    row.reading->diags->out_of_memory |= silent.out_of_memory;
    hk_diags_free(&silent);
    return readings;
}

/* 0 is the same as a percentage and as money. */
static bool is_one_or_other(struct hk_reading_row row, const struct hk_cost *cost, const char *text)
{
    const struct hk_project *project = row.reading->project;
    const struct readings readings = readings_of(row, cost->amount_cell);
    struct hk_diags *diags = row.reading->diags;
    char money[HK_MONEY_TEXT] = "4.50", ratio[48] = "";
    if (readings.number == 0)
        return true;
    if (readings.minor > 0)
        hk_money_text(readings.minor, hk_project_minor_digits(project), money);
    if (readings.number <= 1)
        snprintf(ratio, sizeof ratio, "%s%% or ", hk_number_text(100 * readings.number, 6).text);
    hk_diags_add(diags, HK_CODE_UNIT_MISSING, hk_cell_place(cost->amount_cell, 0),
                 "the %s \"%s\" of %s can be a percentage or an amount of money", kinds[cost->kind].name, cost->item, text);
    hk_diags_hint(diags, "write %s%s%%, or %s %s %s%s", ratio, text, readings.minor > 0 ? "as an amount" : "an amount such as",
                  project->currency ? project->currency->code : "EUR", money,
                  project->currency ? "" : " with the currency stated in project.csv");
    return false;
}

static bool read_amount(struct hk_reading_row row, struct hk_cost *cost)
{
    const struct kind *kind = &kinds[cost->kind];
    struct hk_cell cell = cost->amount_cell;
    if (hk_cell_empty(cell))
        return false;
    const char *text = hk_reading_text(row.reading, cell);
    bool percent = strchr(text, '%') || strstr(text, "cent");
    cost->percent = percent;
    if (is_bare(text) && may_be_either(row, cost->kind) && !is_one_or_other(row, cost, text))
        return false;
    if (percent && kind->amount != MONEY)
        return read_percent(row, cell, &cost->millionths);
    if (!percent && kind->amount != PERCENT)
        return hk_reading_money(row.reading, cell, &cost->amount_minor);
    hk_diags_add(row.reading->diags, percent ? HK_CODE_UNIT_WRONG : HK_CODE_UNIT_MISSING, hk_cell_place(cell, 0),
                 percent ? "the %s \"%s\" is in percent" : "the %s \"%s\" is not in percent", kind->name, cost->item);
    hk_diags_hint(row.reading->diags, percent ? "write an amount of money, such as 4.50" : "write it like 20%%");
    return false;
}

/* A rate of 0 for work cannot be met by any price. */
static bool rate_fits(struct hk_reading_row row, const struct hk_cost *cost)
{
    if (cost->kind != HK_COST_LABOUR || cost->amount_minor > 0)
        return true;
    hk_diags_add(row.reading->diags, HK_CODE_RANGE, hk_cell_place(cost->amount_cell, 0),
                 "\"%s\" is work for nothing an hour", cost->item);
    hk_diags_hint(row.reading->diags, "write what an hour of it earns, or leave the row out and ask with --price");
    return false;
}

/* ---- Quantity ------------------------------------------------------------------------------------------------ */

static bool too_many(struct hk_reading_row row, struct hk_cell cell, const char *where)
{
    hk_diags_add(row.reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "a quantity of %s%s", cell.text, where);
    hk_diags_hint(row.reading->diags, "write at most a million");
    return false;
}

/* One value of a quantity: "7", "0.5"; hours also as "90 min". */
static bool value_read(struct hk_reading_row row, struct hk_cell cell, bool hours, int64_t *quantity)
{
    struct hk_diags *diags = row.reading->diags;
    double value;
    size_t length = strlen(cell.text);
    if (strcmp(cell.text, "-") == 0) {
        *quantity = 0;
        return true;
    }
    bool bare = length > 0 && cell.text[length - 1] >= '0' && cell.text[length - 1] <= '9';
    if (!hk_quantity_cell(cell, hours && !bare ? HK_DIM_MINUTES : HK_DIM_PLAIN, HK_SIGN_NOT_NEGATIVE, &value, diags))
        return false;
    double exact = (hours && !bare ? value / 60 : value) * (double)HK_COST_ONE;
    if (exact > QUANTITY_MOST * (double)HK_COST_ONE)
        return too_many(row, cell, "");
    *quantity = (int64_t)floor(exact + 0.5);
    return true;
}

/* The unit of minutes may be missing: a quarter of an hour for the buttons would be fifteen hours. */
#define HOURS_SELDOM ((int64_t)15)

static void warn_of_hours(struct hk_reading_row row, struct hk_cell cell, const struct hk_cost *cost)
{
    bool each = cost->per == HK_PER_PIECE || cost->per == HK_PER_KIT;
    int64_t most = 0;
    for (size_t i = 0; i < row.reading->project->size_count; i++)
        most = cost->quantity[i] > most ? cost->quantity[i] : most;
    if (cost->kind != HK_COST_LABOUR || !each || most < HOURS_SELDOM * HK_COST_ONE)
        return;
    hk_diags_add(row.reading->diags, HK_CODE_UNUSUAL, hk_cell_place(cell, 0), "\"%s\" takes %" PRId64 " hours for each %s",
                 cost->item, most / HK_COST_ONE, cost->per == HK_PER_KIT ? "kit" : "piece");
    hk_diags_hint(row.reading->diags, "if minutes are meant, write them as %" PRId64 " min; if not, it may stay",
                  most / HK_COST_ONE);
}

/* The quantity is the name of a row of grade.csv. */
static bool measure_read(struct hk_reading_row row, struct hk_cell cell, struct hk_cost *cost)
{
    struct hk_project *project = row.reading->project;
    struct hk_graded graded = {0};
    if (!row.reading->knows_grade || !hk_graded_cell(cell, project->size_count, &project->grade, false, &graded,
                                                     &project->arena, row.reading->diags))
        return false;
    for (size_t i = 0; i < project->size_count; i++) {
        if ((double)graded.by_size[i].count > QUANTITY_MOST)
            return too_many(row, cell, ", as grade.csv has it");
        cost->quantity[i] = HK_COST_ONE * graded.by_size[i].count;
    }
    return true;
}

static bool starts_number(const char *text)
{
    return *text >= '0' && *text <= '9';
}

static bool graded_read(struct hk_reading_row row, struct hk_cell cell, struct hk_cost *cost)
{
    struct hk_reading *reading = row.reading;
    struct hk_project *project = reading->project;
    const char **texts = hk_arena_take(&project->arena, project->size_count, sizeof *texts);
    cost->quantity = hk_arena_take(&project->arena, project->size_count, sizeof *cost->quantity);
    if (!texts || !cost->quantity)
        return false;
    const char *text = hk_reading_text(reading, cell);
    if (!starts_number(text) && !strchr("-.", *text))
        return measure_read(row, cell, cost);
    if (!hk_graded_split(cell, project->size_count, texts, &project->arena, reading->diags))
        return false;
    for (size_t i = 0; i < project->size_count; i++) {
        struct hk_cell one = cell;
        one.text = texts[i];
        if (!value_read(row, one, kinds[cost->kind].quantity == HOURS, &cost->quantity[i]))
            return false;
    }
    return true;
}

static bool read_quantity(struct hk_reading_row row, struct hk_cost *cost)
{
    struct hk_reading *reading = row.reading;
    struct hk_cell cell = hk_reading_cell(row, QUANTITY);
    const struct kind *kind = &kinds[cost->kind];
    if (hk_cell_empty(cell) && cost->kind == HK_COST_LABOUR && cost->per != HK_PER_PIECE) {
        hk_diags_add(reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(cell, 0), "\"%s\" does not say how many hours",
                     cost->item);
        hk_diags_hint(reading->diags, "write hours in the column quantity, such as 1.5 or 90 min; only the work on the "
                                      "piece itself is computed from its stitches");
        return false;
    }
    if (hk_cell_empty(cell))
        return true;
    if (kind->quantity == NO_QUANTITY) {
        hk_diags_add(reading->diags, HK_CODE_CELL_EXTRA, hk_cell_place(cell, 0), "a %s has no quantity", kind->name);
        hk_diags_hint(reading->diags, "leave the cell empty");
        return false;
    }
    if (!reading->knows_sizes || !graded_read(row, cell, cost))
        return false;
    warn_of_hours(row, cell, cost);
    return true;
}

/* ---- Rows ---------------------------------------------------------------------------------------------------- */

/* The work that is computed from the stitches has one rate; taxes have a name each, so that no tax is written twice. */
static bool doubles(const struct hk_cost *cost, const struct hk_cost *other)
{
    if (cost->kind != other->kind)
        return false;
    if (cost->kind == HK_COST_TAX)
        return hk_text_same(cost->item, other->item);
    return cost->kind == HK_COST_LABOUR && !cost->quantity && !other->quantity;
}

static void alone(struct hk_reading_row row, const struct hk_cost *cost)
{
    const struct hk_project *project = row.reading->project;
    bool tax = cost->kind == HK_COST_TAX;
    for (size_t i = 0; i < project->cost_count; i++) {
        const struct hk_cost *other = &project->costs[i];
        if (!doubles(cost, other))
            continue;
        hk_diags_add(row.reading->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(cost->cell, 0),
                     "%s%s%s is already in line %zu", tax ? "the tax \"" : "the rate for the work on the piece",
                     tax ? cost->item : "", tax ? "\"" : "", hk_cell_place(other->cell, 0).line);
        hk_diags_hint(row.reading->diags, "%s", tax ? "keep one of the rows, or give a second tax its own name"
                                                    : "keep one of the rows, or write how many hours in the column quantity");
        return;
    }
}

/* Only materials are listed in a pattern. */
static bool print_fits(struct hk_reading_row row, const struct hk_cost *cost)
{
    if (cost->kind == HK_COST_MATERIAL || hk_cell_empty(cost->print_cell))
        return true;
    hk_diags_add(row.reading->diags, HK_CODE_CELL_EXTRA, hk_cell_place(cost->print_cell, 0),
                 "\"%s\" is %s, and a pattern lists only materials", cost->item, kinds[cost->kind].name);
    hk_diags_hint(row.reading->diags, "leave print empty");
    return false;
}

static void read_row(struct hk_reading_row row)
{
    struct hk_project *project = row.reading->project;
    struct hk_cost cost = {0};
    hk_fields_read(fields, row, &cost);
    if (!read_kind(row, &cost))
        return;
    bool good = read_amount(row, &cost) && rate_fits(row, &cost);
    good = read_per(row, &cost) && good;
    good = read_quantity(row, &cost) && good;
    good = print_fits(row, &cost) && good;
    if (!good)
        return;
    alone(row, &cost);
    project->costs[project->cost_count++] = cost;
}

void hk_costs_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    bool known;
    const struct hk_table *table = hk_fields_table(reading, "costs.csv", fields, false, &known);
    size_t rows = table ? hk_table_rows(table) : 0;
    project->costs = hk_arena_take(&project->arena, rows, sizeof *project->costs);
    for (size_t i = 0; project->costs && i < rows; i++)
        read_row((struct hk_reading_row){reading, table, i});
    if (table)
        hk_reading_doubled(reading, table, "quantity");
}
