/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * offers.csv and shops.csv (hankful(1), FILES). hk_offer_counts decides later which offers fill a role: the file may hold
 * the offers of candidates, or a whole price list. A shop that shops.csv does not have is an error and not a shop
 * without postage: a misspelt name would make the basket look cheaper than it is.
 */
#include "project/read/offers.h"

#include "project/read/fields.h"
#include "project/read/offer_price.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char own_name[] = "own";

/* An offer's metres a gram may differ from those of the yarn by this ratio without a warning. */
#define LENGTH_TOLERANCE 0.02
#define LENGTH_NOISE 1e-9 /* rounding errors of 102 m against 100 m */
#define MILLION 1e6
#define MILLIONTH_NOISE 1e-6

/* ---- Shops --------------------------------------------------------------------------------------------------- */

static const char *seller_name(const void *project, size_t i)
{
    return ((const struct hk_project *)project)->sellers[i].name;
}

/* "10%". A bare number may be a ratio, a percentage or an amount of money. */
static bool read_percent(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    int64_t *millionths = value;
    const char *text = hk_reading_text(reading, cell);
    double ratio;
    bool bare = text[strspn(text, "0123456789.,'/ ")] == '\0';
    if (!hk_quantity_cell(cell, bare ? HK_DIM_PLAIN : HK_DIM_PERCENT, HK_SIGN_NOT_NEGATIVE, &ratio, reading->diags))
        return false;
    if (bare && ratio > 0) {
        char part[48] = "";
        if (ratio <= 1)
            snprintf(part, sizeof part, "%s%% or ", hk_number_text(100 * ratio, 6).text);
        hk_diags_add(reading->diags, HK_CODE_UNIT_MISSING, hk_cell_place(cell, 0),
                     "%s off can be a percentage or an amount of money", text);
        hk_diags_hint(reading->diags, "write %s%s%%, or an amount in the column off", part, text);
        return false;
    }
    double whole = floor(ratio * MILLION + 0.5);
    if (ratio <= 1 && fabs(ratio * MILLION - whole) < MILLIONTH_NOISE) {
        *millionths = (int64_t)whole;
        return true;
    }
    hk_diags_add(reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "%s%% off the goods",
                 hk_number_text(100 * ratio, 10).text);
    hk_diags_hint(reading->diags, "write at most 100%%, with at most four digits after the point");
    return false;
}

static bool seller_name_good(struct hk_reading *reading, struct hk_cell cell, const char *name)
{
    if (hk_text_same(name, own_name)) {
        hk_diags_add(reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0),
                     "\"own\" is what is at home, and asks for no postage");
        hk_diags_hint(reading->diags, "take this row out, or give the shop another name");
        return false;
    }
    size_t found = hk_index_find(&reading->sellers, name);
    if (found == SIZE_MAX)
        return true;
    hk_diags_add(reading->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(cell, 0), "shop \"%s\" is already in line %zu",
                 name, hk_cell_place(reading->project->sellers[found].cell, 0).line);
    hk_diags_hint(reading->diags, "keep one of the two rows");
    return false;
}

static size_t seller_keep(struct hk_reading *reading, const struct hk_seller *seller)
{
    struct hk_project *project = reading->project;
    size_t number = project->seller_count;
    struct hk_seller *grown =
        hk_arena_grow(&project->arena, project->sellers, number, &reading->seller_capacity, sizeof *grown);
    if (!grown || !hk_index_add(&reading->sellers, seller->name, number, &project->arena))
        return SIZE_MAX;
    project->sellers = grown;
    project->sellers[number] = *seller;
    return project->seller_count++;
}

static const struct hk_field seller_fields[] = {
    {"shop", HK_FIELD_FILLED, HK_FIELD_NAME(hk_seller, name), HK_FIELD_KEEPS(hk_seller, cell)},
    {"postage", HK_FIELD_MONEY(hk_seller, postage_minor)},
    {"free_from", HK_FIELD_MONEY(hk_seller, free_from_minor)},
    {"off", HK_FIELD_MONEY(hk_seller, off_minor)},
    {"off_from", HK_FIELD_MONEY(hk_seller, off_from_minor)},
    {"off_percent", HK_FIELD_READ(hk_seller, off_millionths, int64_t, read_percent)},
    {.name = NULL},
};

/* Shops of shops.csv. Where there is no such file, offers.csv names them. */
static const struct hk_table *read_sellers(struct hk_reading *reading, bool *known)
{
    const struct hk_table *table = hk_fields_table(reading, "shops.csv", seller_fields, false, known);
    seller_keep(reading, &(struct hk_seller){.name = own_name, .free_from_minor = -1});
    seller_keep(reading, &(struct hk_seller){.name = "", .free_from_minor = -1});
    for (size_t row = 0; table && row < hk_table_rows(table); row++) {
        struct hk_seller seller = {.free_from_minor = -1};
        hk_fields_read(seller_fields, (struct hk_reading_row){reading, table, row}, &seller);
        if (!hk_cell_empty(seller.cell) && seller_name_good(reading, seller.cell, seller.name))
            seller_keep(reading, &seller);
    }
    return table;
}

/* ---- Offers -------------------------------------------------------------------------------------------------- */

/* Whole balls; the rest of a used ball is a ball with a put-up of its own. */
static bool read_stock(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    int64_t *stock = value;
    double balls;
    if (!hk_quantity_cell(cell, HK_DIM_PLAIN, HK_SIGN_NOT_NEGATIVE, &balls, reading->diags))
        return false;
    if (balls != floor(balls)) {
        hk_diags_add(reading->diags, HK_CODE_NUMBER, hk_cell_place(cell, 0), "%s is not a number of whole balls",
                     cell.text);
        hk_diags_hint(reading->diags,
                      "give what is left of a ball a row of its own: its weight as put_up, and a stock of 1");
        return false;
    }
    *stock = (int64_t)balls;
    return true;
}

enum { ROLE, SHOP, PUT_UP, PRICE, YARN, COLOUR, LOT, LENGTH, PACK, STOCK, VALUE };
static const struct hk_field offer_fields[] = {
    [ROLE] = {"role", HK_FIELD_FILLED, HK_FIELD_KEEPS(hk_offer, cell)},
    [SHOP] = {"shop", HK_FIELD_FILLED},
    [PUT_UP] = {"put_up", HK_FIELD_FILLED, HK_FIELD_QUANTITY(hk_offer, put_up_g, HK_DIM_MASS)},
    [PRICE] = {"price", HK_FIELD_FILLED, HK_FIELD_READ(hk_offer, price, struct hk_offer_price, hk_offer_price_read)},
    [YARN] = {"yarn"},
    [COLOUR] = {"colour", HK_FIELD_NAME(hk_offer, colour)},
    [LOT] = {"lot", HK_FIELD_NAME(hk_offer, lot)},
    [LENGTH] = {"length", HK_FIELD_QUANTITY(hk_offer, length_m, HK_DIM_LENGTH)},
    [PACK] = {"pack", HK_FIELD_COUNT(hk_offer, pack)},
    [STOCK] = {"stock", HK_FIELD_READ(hk_offer, stock, int64_t, read_stock)},
    [VALUE] = {"value", HK_FIELD_MONEY(hk_offer, value_minor)},
    {.name = NULL},
};

struct offers_reading {
    struct hk_reading *reading;
    bool shops_stated, shops_known; /* there is a shops.csv; it could be read */
};

/* A shop that only offers.csv names: no postage is known. */
static size_t seller_add(struct offers_reading *o, struct hk_cell cell, const char *name)
{
    struct hk_project *project = o->reading->project;
    if (project->seller_count == HK_ROWS_MOST + 2) {
        hk_diags_add(o->reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "more than %zu shops", HK_ROWS_MOST);
        return SIZE_MAX;
    }
    if (project->seller_count == HK_SELLER_PRICE + 1) {
        hk_diags_add(o->reading->diags, HK_CODE_ASSUMPTION, hk_table_place(cell.table),
                     "no postage is included, because there is no shops.csv");
        hk_diags_hint(o->reading->diags, "state postage and discounts there, a row for each shop");
    }
    return seller_keep(o->reading, &(struct hk_seller){.name = name, .free_from_minor = -1, .cell = cell});
}

/* `free`: the price in the row is 0, as it is for yarn at home. */
static size_t seller_of(struct offers_reading *o, struct hk_cell cell, bool free)
{
    if (hk_cell_empty(cell))
        return SIZE_MAX;
    const char *name = hk_reading_name(o->reading, cell);
    size_t found = hk_index_find(&o->reading->sellers, name);
    if (found != SIZE_MAX || !o->shops_known)
        return found;
    if (!o->shops_stated)
        return seller_add(o, cell, name);
    hk_diags_add(o->reading->diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, 0), "shops.csv has no shop \"%s\"", name);
    if (o->reading->diags->count == HK_FINDINGS_MOST)
        return SIZE_MAX; /* the finding is not shown, so there is no need to search */
    size_t near = hk_text_nearest(name, o->reading->project->seller_count, seller_name, o->reading->project);
    if (near != SIZE_MAX && near != HK_SELLER_PRICE)
        hk_diags_hint(o->reading->diags, "did you mean \"%s\"?", seller_name(o->reading->project, near));
    else if (free)
        hk_diags_hint(o->reading->diags, "what is at home has the shop \"own\"; for a shop, add a row there");
    else
        hk_diags_hint(o->reading->diags, "add a row for it there, with a postage of 0 if it asks for none");
    return SIZE_MAX;
}

static size_t role_of(struct hk_reading *reading, struct hk_cell cell)
{
    if (hk_cell_empty(cell))
        return SIZE_MAX;
    const char *name = hk_reading_name(reading, cell);
    size_t found = hk_index_find(&reading->roles, name);
    if (found == SIZE_MAX && reading->knows_yarns)
        hk_reading_unknown(reading, cell, 0, "role", name, " in yarns.csv", hk_project_role_names(reading->project));
    return found;
}

/* The yarn that the cell names, or the planned yarn of the role where the cell is empty. */
static size_t yarn_of(struct hk_reading *reading, struct hk_cell cell, size_t role)
{
    const struct hk_project *project = reading->project;
    if (hk_cell_empty(cell)) {
        size_t plan = role == SIZE_MAX ? SIZE_MAX : project->roles[role].plan;
        return plan == SIZE_MAX ? SIZE_MAX : project->candidates[plan].yarn;
    }
    const char *name = hk_reading_name(reading, cell);
    size_t found = hk_index_find(&reading->yarns, name);
    if (found == SIZE_MAX && reading->knows_yarns)
        hk_reading_unknown(reading, cell, 0, "yarn", name, " in yarns.csv", hk_project_yarn_names(project));
    return found;
}

/* Yarn at home has a price of 0 and a stock. A value is stated for yarn at home alone. */
static bool own_good(struct hk_reading_row row, const struct hk_offer *offer)
{
    struct hk_diags *diags = row.reading->diags;
    struct hk_cell stock = hk_reading_cell(row, STOCK);
    if (offer->shop != HK_SELLER_OWN && offer->value_minor >= 0) {
        hk_diags_add(diags, HK_CODE_CELL_EXTRA, hk_cell_place(hk_reading_cell(row, VALUE), 0),
                     "a value for what a shop sells");
        hk_diags_hint(diags, "leave the cell empty: a value is for balls at home, those of the shop own");
        return false;
    }
    if (offer->shop != HK_SELLER_OWN)
        return true;
    bool free_of_cost = offer->price.minor == 0 && offer->price.balls == 1;
    if (!free_of_cost) {
        hk_diags_add(diags, HK_CODE_MONEY, hk_cell_place(hk_reading_cell(row, PRICE), 0),
                     "a price for what is at home");
        hk_diags_hint(diags, "write 0, or name the shop that sells it; what a ball is worth goes in the column value");
    }
    if (hk_cell_empty(stock)) {
        hk_diags_add(diags, HK_CODE_CELL_MISSING, hk_cell_place(stock, 0), "no stock is stated for what is at home");
        hk_diags_hint(diags, "write how many balls there are in the column stock");
        return false;
    }
    return free_of_cost;
}

/* No shop sells for 0: the row may be yarn at home under another name, and any number of balls would then be free. */
static void check_price(struct hk_reading *reading, struct hk_cell cell, const struct hk_offer *offer)
{
    if (offer->price.minor != 0 || offer->shop == HK_SELLER_OWN)
        return;
    hk_diags_add(reading->diags, HK_CODE_PRICE_NOTHING, hk_cell_place(cell, 0), "shop \"%s\" asks 0 for a ball, so %s",
                 reading->project->sellers[offer->shop].name,
                 offer->stock < 0 ? "any number of them costs nothing" : "its stock costs nothing");
    hk_diags_hint(reading->diags, "what is at home has the shop \"own\" and a stock; else write what a ball costs");
}

static void check_length(struct hk_reading *reading, struct hk_cell cell, const struct hk_offer *offer)
{
    const struct hk_yarn *yarn = &reading->project->yarns[offer->yarn];
    if (!(offer->length_m > 0 && yarn->length_m > 0 && yarn->put_up_g > 0))
        return;
    double label_m = offer->put_up_g * yarn->length_m / yarn->put_up_g, ratio = offer->length_m / label_m;
    if (fabs(ratio - 1) <= LENGTH_TOLERANCE + LENGTH_NOISE)
        return;
    hk_diags_add(reading->diags, HK_CODE_OFFER_LENGTH, hk_cell_place(cell, 0),
                 "%s m in %s g, and by yarns.csv %s has %s m",
                 hk_number_text(offer->length_m, 4).text, hk_number_text(offer->put_up_g, 4).text, yarn->name,
                 hk_number_text(label_m, 4).text);
    hk_diags_hint(reading->diags, "is it the same yarn? A ball is counted by its weight all the same");
}

/* A price for several balls states the pack. */
static bool pack_good(struct hk_reading_row row, struct hk_offer *offer)
{
    struct hk_diags *diags = row.reading->diags;
    const struct hk_offer_price *price = &offer->price;
    struct hk_cell pack = hk_reading_cell(row, PACK);
    if (price->balls > 1 && !hk_cell_empty(pack) && offer->pack != price->balls) {
        hk_diags_add(diags, HK_CODE_MONEY, hk_cell_place(pack, 0), "a pack of %s, and the price is for %s balls", pack.text,
                     hk_number_text((double)price->balls, 7).text);
        hk_diags_hint(diags, "leave the cell empty; a pack of another number has a row of its own");
        return false;
    }
    if (price->balls > 1)
        offer->pack = price->balls;
    if (price->from_count == 0 || price->from[0].from > offer->pack)
        return true;
    hk_diags_add(diags, HK_CODE_MONEY, hk_cell_place(hk_reading_cell(row, PRICE), 0),
                 "a quantity price from %s, and the least that is sold is %s",
                 hk_number_text((double)price->from[0].from, 7).text, hk_number_text((double)offer->pack, 7).text);
    hk_diags_hint(diags, "write the price that all buyers pay, or a larger number of balls");
    return false;
}

static void read_offer(struct offers_reading *o, struct hk_reading_row row)
{
    struct hk_project *project = row.reading->project;
    struct hk_offer offer = {.pack = 1, .stock = -1, .price = {.minor = -1, .balls = 1}, .value_minor = HK_NO_PRICE};
    bool good = hk_fields_read(offer_fields, row, &offer);
    offer.shop = seller_of(o, hk_reading_cell(row, SHOP), offer.price.minor == 0);
    offer.role = role_of(row.reading, offer.cell);
    offer.yarn = yarn_of(row.reading, hk_reading_cell(row, YARN), offer.role);
    if (!good || offer.shop == SIZE_MAX || offer.role == SIZE_MAX || offer.yarn == SIZE_MAX || !own_good(row, &offer) ||
        !pack_good(row, &offer))
        return;
    check_price(row.reading, hk_reading_cell(row, PRICE), &offer);
    check_length(row.reading, hk_reading_cell(row, LENGTH), &offer);
    project->offers[project->offer_count++] = offer;
}

/* ---- Offers listed twice --------------------------------------------------------------------------------------- */

static int compare_numbers(double a, double b)
{
    return (a > b) - (a < b);
}

static int compare_prices(const struct hk_offer_price *a, const struct hk_offer_price *b)
{
    int difference = compare_numbers((double)a->minor, (double)b->minor);
    difference = difference ? difference : compare_numbers((double)a->balls, (double)b->balls);
    difference = difference ? difference : compare_numbers((double)a->from_count, (double)b->from_count);
    for (size_t i = 0; i < a->from_count && !difference; i++) {
        difference = compare_numbers((double)a->from[i].from, (double)b->from[i].from);
        difference = difference ? difference : compare_numbers((double)a->from[i].minor, (double)b->from[i].minor);
    }
    return difference;
}

/* Two rows are one offer where all of this is equal. The stock is not part of it. */
static int compare_offers(const struct hk_offer *a, const struct hk_offer *b)
{
    const int differences[] = {
        compare_numbers((double)a->role, (double)b->role), compare_numbers((double)a->shop, (double)b->shop),
        compare_numbers((double)a->yarn, (double)b->yarn), compare_numbers(a->put_up_g, b->put_up_g),
        compare_prices(&a->price, &b->price),
        compare_numbers((double)a->pack, (double)b->pack), hk_text_compare(a->colour, b->colour),
        hk_text_compare(a->lot, b->lot),
    };
    for (size_t i = 0; i < sizeof differences / sizeof differences[0]; i++) {
        if (differences[i] != 0)
            return differences[i];
    }
    return 0;
}

/* Equal offers have equal keys, and few others do: most comparisons of millions of rows end at the key. */
struct keyed {
    uint64_t key;
    struct hk_offer *offer;
};

static uint64_t mixed(uint64_t key, uint64_t value)
{
    key = (key ^ value) * UINT64_C(0x9E3779B97F4A7C15); /* 2^64 over the golden ratio: odd, its bits well spread */
    return key ^ key >> 32;
}


static struct keyed keyed(struct hk_offer *offer)
{
    uint64_t key = mixed(mixed(mixed(0, offer->role), offer->shop), offer->yarn);
    key = mixed(mixed(key, (uint64_t)offer->price.minor), (uint64_t)offer->pack);
    return (struct keyed){mixed(mixed(key, hk_text_hash(offer->colour)), hk_text_hash(offer->lot)), offer};
}

static int compare_sorted(const void *a, const void *b)
{
    const struct keyed *x = a, *y = b;
    if (x->key != y->key)
        return x->key < y->key ? -1 : 1;
    int difference = compare_offers(x->offer, y->offer);
    return difference != 0 ? difference : (x->offer > y->offer) - (x->offer < y->offer);
}

static void report_doubled(struct hk_reading *reading, const struct hk_offer *offer, const struct hk_offer *first)
{
    hk_diags_add(reading->diags, HK_CODE_OFFER_DOUBLED, hk_cell_place(offer->cell, 0),
                 "this offer is already in line %zu, and that row alone counts", hk_cell_place(first->cell, 0).line);
    hk_diags_hint(reading->diags, "take one of the two out; if they are two lots of balls, name the lots or add up the stock");
}

/* Keeps the first of the rows that are one offer: a second row would double its stock. */
static void drop_doubled(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    size_t count = project->offer_count, kept = 0;
    struct hk_arena scratch = {0};
    struct keyed *sorted = hk_arena_take(&scratch, count, sizeof *sorted);
    for (size_t i = 0; i < count && sorted; i++)
        sorted[i] = keyed(&project->offers[i]);
    if (sorted)
        qsort(sorted, count, sizeof *sorted, compare_sorted);
    for (size_t i = 1, first = 0; i < count && sorted; i++) {
        if (sorted[first].key != sorted[i].key || compare_offers(sorted[first].offer, sorted[i].offer) != 0) {
            first = i;
            continue;
        }
        report_doubled(reading, sorted[i].offer, sorted[first].offer);
        sorted[i].offer->pack = 0; /* marks it as dropped */
    }
    for (size_t i = 0; i < count; i++) {
        if (project->offers[i].pack > 0)
            project->offers[kept++] = project->offers[i];
    }
    project->offer_count = kept;
    reading->diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

void hk_offers_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    struct offers_reading o = {.reading = reading};
    struct hk_column columns[HK_FIELDS_MOST + 1];
    bool known;
    o.shops_stated = read_sellers(reading, &o.shops_known);
    const struct hk_table *table =
        hk_reading_large_table(reading, "offers.csv", hk_fields_columns(offer_fields, columns), HK_OFFER_ROWS_MOST,
                               HK_CATALOGUE_BYTES, &known);
    if (!table || !project->sellers)
        return;
    project->offers = hk_arena_take(&project->arena, hk_table_rows(table), sizeof *project->offers);
    for (size_t row = 0; row < hk_table_rows(table) && project->offers; row++)
        read_offer(&o, (struct hk_reading_row){reading, table, row});
    drop_doubled(reading);
}
