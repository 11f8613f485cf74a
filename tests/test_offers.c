/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder.h"

#include "project/project.h"

#include <stdio.h>
#include <stdlib.h>

static struct folder with(const char *offers, const char *shops)
{
    return (struct folder){.other_name = "offers.csv", .other_text = offers, .other2_name = "shops.csv",
                           .other2_text = shops};
}

static const char two_shops[] = "shop,postage,free_from,off,off_from,off_percent\n"
                                "Quay,4.50,50,,,\n"
                                "Mole,0,,2,30.00,12.5%\n";

static void every_cell_of_an_offer_is_read(void **state)
{
    struct hk_project *p = folder_good(*state, with("role,shop,put_up,price,yarn,colour,lot,length,pack,stock\n"
                                                    "main,Quay,50 g,6.40,quay dk,Slate,A1,120 m,5,10\n"
                                                    "lace,own,12.5 g,0,,,,,,1\n",
                                                    two_shops));
    assert_int_equal(p->offer_count, 2);
    const struct hk_offer *main = &p->offers[0], *own = &p->offers[1];
    assert_string_equal(p->sellers[main->shop].name, "Quay");
    assert_string_equal(p->roles[main->role].name, "main");
    assert_string_equal(p->yarns[main->yarn].name, "Quay DK");
    assert_string_equal(main->colour, "Slate");
    assert_string_equal(main->lot, "A1");
    assert_close(main->put_up_g, 50, 0, 0);
    assert_close(main->length_m, 120, 0, 0);
    assert_int_equal(main->pack, 5);
    assert_int_equal(main->stock, 10);
    assert_int_equal(main->price.minor, 640);
    assert_int_equal(own->shop, HK_SELLER_OWN);
    assert_string_equal(p->yarns[own->yarn].name, "Quay Lace"); /* empty: the planned yarn */
    assert_int_equal(own->pack, 1);
    assert_int_equal(own->stock, 1);
    assert_string_equal(own->lot, "");
    hk_project_free(p);
}

static struct hk_offer_price price_of(struct hk_project *p, size_t i)
{
    assert_true(i < p->offer_count);
    return p->offers[i].price;
}

/* One ball, a pack, quantity prices, and both; the words in any letter case, blanks and decimal commas as everywhere. */
static void a_price_may_be_of_a_pack_and_fall_with_the_number(void **state)
{
    struct hk_project *p = folder_good(*state, with("role,shop,put_up,price,pack\n"
                                                    "main,Quay,50 g,6.40,\n"
                                                    "main,Quay,50 g,5 for 27.99,\n"
                                                    "main,Quay,50 g,5 FOR EUR 28,5\n"
                                                    "main,Quay,50 g,5.60; from 10 5.20; From 20 balls 4.90,\n"
                                                    "main,Quay,50 g,5 for 27.99;from 20 5 for 26,\n"
                                                    "main,Quay,50 g,\"5,60 ; from 10 5,20\",3\n",
                                                    two_shops));
    assert_int_equal(price_of(p, 0).minor, 640);
    assert_int_equal(price_of(p, 0).balls, 1);
    assert_int_equal(price_of(p, 0).from_count, 0);
    assert_int_equal(price_of(p, 1).minor, 2799);
    assert_int_equal(price_of(p, 1).balls, 5);
    assert_int_equal(p->offers[1].pack, 5);
    assert_int_equal(price_of(p, 2).minor, 2800);
    struct hk_offer_price falling = price_of(p, 3);
    assert_int_equal(falling.from_count, 2);
    assert_int_equal(falling.from[0].from, 10);
    assert_int_equal(falling.from[0].minor, 520);
    assert_int_equal(falling.from[1].from, 20);
    assert_int_equal(falling.from[1].minor, 490);
    assert_int_equal(hk_offer_price_at(&p->offers[3], 9), 560);
    assert_int_equal(hk_offer_price_at(&p->offers[3], 10), 520);
    assert_int_equal(hk_offer_price_at(&p->offers[3], 1000), 490);
    assert_int_equal(price_of(p, 4).balls, 5);
    assert_int_equal(price_of(p, 4).from[0].minor, 2600);
    assert_int_equal(price_of(p, 5).from[0].minor, 520);
    assert_int_equal(p->offers[5].pack, 3);
    hk_project_free(p);
}

/* Each mistake says what to write; none is read as another price: "from 5.20" is not 0.20 from five balls on. */
static void mistakes_in_a_price_are_reported(void **state)
{
    assert_folder_bad(*state, with("role,shop,put_up,price,pack,stock\n"
                                   "main,Quay,50 g,27.99 for 5,,\n"
                                   "main,Quay,50 g,6.40; 5 for 27.99,,\n"
                                   "main,Quay,50 g,from 10 5.20,,\n"
                                   "main,Quay,50 g,5.60; from 5.20,,\n"
                                   "main,Quay,50 g,5.60; from ten 5.20,,\n"
                                   "main,Quay,50 g,5.60; from 10 5.60,,\n"
                                   "main,Quay,50 g,5.60; from 10 5.20; from 10 5.00,,\n"
                                   "main,Quay,50 g,5 for 27.99; from 20 5.20,,\n"
                                   "main,Quay,50 g,0 for 27.99,,\n"
                                   "main,Quay,50 g,5 for 27.99,3,\n"
                                   "main,Quay,50 g,5.60; from 3 5.20,3,\n"
                                   "main,Quay,50 g,5.60;,,\n"
                                   "main,Quay,50 g,5.60; from 10,,\n"
                                   "main,own,50 g,5 for 0,,5\n"
                                   "main,Quay,50 g,5.60 from 10 5.20,,\n",
                                   two_shops),
                      "offers.csv:2:16: error: the price of a pack stands before its number; write the number of balls first, like "
                      "5 for 27.99\n"
                      "offers.csv:3:16: error: a second price that does not say from how many balls; write from 10 5.20 for the price "
                      "from ten balls on; a pack has a row of its own\n"
                      "offers.csv:4:16: error: a quantity price without the price of one ball; write the price of a ball first: 5.60; "
                      "from 10 5.20\n"
                      "offers.csv:5:16: error: a quantity price without its number of balls; write the number of balls, like from 10 "
                      "5.20\n"
                      "offers.csv:6:16: error: a quantity price without its number of balls; write the number of balls, like from 10 "
                      "5.20\n"
                      "offers.csv:7:16: error: a quantity price that is not lower than the price before it, or is 0; check the prices; "
                      "the more balls, the lower the price of each\n"
                      "offers.csv:8:16: error: the numbers of balls of the quantity prices do not rise; begin with the smallest number "
                      "of balls\n"
                      "offers.csv:9:16: error: prices for packs of two sizes; let each price be for the same number of balls, or give "
                      "each pack a row of its own\n"
                      "offers.csv:10:16: error: a price for no ball; write how many balls a pack has, like 5 for 27.99\n"
                      "offers.csv:11:28: error: a pack of 3, and the price is for 5 balls; leave the cell empty; a pack of another "
                      "number has a row of its own\n"
                      "offers.csv:12:16: error: a quantity price from 3, and the least that is sold is 3; write the price that all "
                      "buyers pay, or a larger number of balls\n"
                      "offers.csv:13:16: error: a second price that does not say from how many balls; write from 10 5.20 for the price "
                      "from ten balls on; a pack has a row of its own\n"
                      "offers.csv:14:16: error: a quantity price without its number of balls; write the number of balls, like from 10 "
                      "5.20\n"
                      "offers.csv:15:15: error: a price for what is at home; write 0, or name the shop that sells it; what a ball is "
                      "worth goes in the column value\n"
                      "offers.csv:16:16: error: a quantity price without a semicolon before it; write it like 5.60; from 10 5.20\n");
}

static void every_cell_of_a_shop_is_read(void **state)
{
    struct hk_project *p = folder_good(*state, with("", two_shops));
    assert_int_equal(p->seller_count, 4); /* stock at home and the price of yarns.csv come first */
    const struct hk_seller *quay = &p->sellers[2], *mole = &p->sellers[3];
    assert_int_equal(quay->postage_minor, 450);
    assert_int_equal(quay->free_from_minor, 5000);
    assert_int_equal(quay->off_minor, 0);
    assert_int_equal(mole->postage_minor, 0);
    assert_int_equal(mole->free_from_minor, -1);
    assert_int_equal(mole->off_minor, 200);
    assert_int_equal(mole->off_from_minor, 3000);
    assert_int_equal(mole->off_millionths, 125000);
    hk_project_free(p);
}

/* shops.csv may have 2,000 rows; shops that only offers.csv names count too. */
static void more_shops_than_can_be_kept_apart_are_refused(void **state)
{
    char *offers = calloc(2002, sizeof "main,s1234,50 g,1\n"), *end = offers;
    end += sprintf(end, "role,shop,put_up,price\n");
    for (int i = 0; i < 2000; i++)
        end += sprintf(end, "main,s%d,50 g,1\n", i);
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(*state, with(offers, ""), &diags);
    assert_non_null(p);
    assert_int_equal(p->seller_count, 2002); /* the first two exist without any file */
    hk_diags_free(&diags);
    hk_project_free(p);
    sprintf(end, "main,s2000,50 g,1\n");
    assert_folder_bad(
        *state, with(offers, ""),
        "offers.csv:0:0: note: no postage is included, because there is no shops.csv; state postage and discounts "
        "there, a row for each shop\n"
        "offers.csv:2002:6: error: more than 2000 shops\n");
    free(offers);
}

/*
 * A bare number may be a percentage, a ratio or an amount, so it is refused as ambiguous; zero is zero in all of them.
 */
static void percent_off_with_and_without_its_sign(void **state)
{
    struct hk_project *p = folder_good(*state, with("", "shop,off_percent\na,12.5 %\nb,10%\nc,0.5%\nd,0\ne,100%\n"));
    const int64_t expected[] = {125000, 100000, 5000, 0, 1000000};
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(p->sellers[2 + i].off_millionths, expected[i]);
    hk_project_free(p);
    assert_folder_bad(*state, with("", "shop,off_percent\na,0.5\nb,101%\nc,-1\nd,0.00001%\ne,10\n"),
                      "shops.csv:2:3: error: 0.5 off can be a percentage or an amount of money; write 50% or 0.5%, or an amount in "
                      "the column off\n"
                      "shops.csv:3:3: error: 101% off the goods; write at most 100%, with at most four digits after the "
                      "point\n"
                      "shops.csv:4:3: error: -1 is below zero; write a percentage of zero or more\n"
                      "shops.csv:5:3: error: 0.00001% off the goods; write at most 100%, with at most four digits after the "
                      "point\n"
                      "shops.csv:6:3: error: 10 off can be a percentage or an amount of money; write 10%, or an amount in the "
                      "column off\n");
}

/* Every kind of mistake in one file, each at its cell. */
static void mistakes_are_reported_all_at_once(void **state)
{
    assert_folder_bad(*state,
                      with("role,shop,put_up,price,yarn,colour,lot,length,pack,stock\n"
                           "mian,Quay,50 g,6.40,,,,,,\n"
                           "main,Quey,50 g,6.40,,,,,,\n"
                           "main,Harbour,50 g,6.40,,,,,,\n"
                           "main,Quay,0 g,6.40,Quay D,,,,0,-1\n"
                           "main,own,50 g,6.40,,,,,,\n"
                           "main,own,50 g,1,,,,,,2\n"
                           "main,,50 g,,,,,,,\n",
                           two_shops),
                      "offers.csv:2:1: error: there is no role \"mian\" in yarns.csv; did you mean \"main\"?\n"
                      "offers.csv:3:6: error: shops.csv has no shop \"Quey\"; did you mean \"Quay\"?\n"
                      "offers.csv:4:6: error: shops.csv has no shop \"Harbour\"; add a row for it there, with a postage of 0 "
                      "if it asks for none\n"
                      "offers.csv:5:11: error: 0 g is not possible here; write a mass above zero\n"
                      "offers.csv:5:20: error: there is no yarn \"Quay D\" in yarns.csv; did you mean \"Quay DK\"?\n"
                      "offers.csv:5:30: error: 0 is not possible here; write a plain number above zero\n"
                      "offers.csv:5:32: error: -1 is below zero; write a plain number of zero or more\n"
                      "offers.csv:6:15: error: a price for what is at home; write 0, or name the shop that sells it; what a "
                      "ball is worth goes in the column value\n"
                      "offers.csv:6:25: error: no stock is stated for what is at home; write how many balls there are in "
                      "the column stock\n"
                      "offers.csv:7:15: error: a price for what is at home; write 0, or name the shop that sells it; what a "
                      "ball is worth goes in the column value\n"
                      "offers.csv:8:6: error: the cell \"shop\" is empty; every row of offers.csv needs one\n"
                      "offers.csv:8:12: error: the cell \"price\" is empty; every row of offers.csv needs one\n");
    assert_folder_bad(
        *state, with("", "shop,postage\nown,0\nQuay,3\nquay,2\n"),
        "shops.csv:2:1: error: \"own\" is what is at home, and asks for no postage; take this row out, or "
        "give the shop another name\n"
        "shops.csv:4:1: error: shop \"quay\" is already in line 3; keep one of the two rows\n");
}

/* 2% of 120 m is 2.4 m: 122.4 m pass, 122.5 m do not. By weight: 60 m in 25 g is the same yarn. */
static void an_offer_of_another_length_is_warned_about(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p =
        folder_read(*state, with("role,shop,put_up,price,length\n"
                                 "main,Quay,50 g,6.40,122.4 m\n"
                                 "main,Quay,25 g,3.40,60 m\n"
                                 "main,Mole,50 g,6.40,122.5 m\n",
                                 two_shops), &diags);
    assert_findings(&diags,
                    "offers.csv:4:21: warning: 122.5 m in 50 g, and by yarns.csv Quay DK has 120 m; is it the same "
                    "yarn? A ball is counted by its weight all the same\n");
    assert_int_equal(p->offer_count, 3);
    hk_project_free(p);
}

/* Stated, zero and not stated; a shop's stock is never zero. */
static void what_a_ball_at_home_is_worth_may_be_stated(void **state)
{
    struct hk_project *p = folder_good(*state, with("role,shop,put_up,price,stock,value\nmain,own,50 g,0,2,4.20\n"
                                                    "main,own,25 g,0,1,0\nmain,own,20 g,0,1,\nmain,Quay,50 g,6,,\n", two_shops));
    static const int64_t expected[] = {420, 0, -1, -1};
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(p->offers[i].value_minor, expected[i]);
    hk_project_free(p);
    assert_folder_bad(*state, with("role,shop,put_up,price,stock,value\nmain,own,50 g,0,2,x\nmain,Quay,50 g,6,,5\n", two_shops),
                      "offers.csv:2:19: error: \"x\" is not a price; write it like EUR 6.40, and what costs nothing as 0\n"
                      "offers.csv:3:19: error: a value for what a shop sells; leave the cell empty: a value is for balls at home, "
                      "those of the shop own\n");
}

static void half_a_ball_at_home_is_a_ball_of_its_own(void **state)
{
    assert_folder_bad(*state, with("role,shop,put_up,price,stock\nmain,own,50 g,0,0.5\n", two_shops),
                      "offers.csv:2:17: error: 0.5 is not a number of whole balls; give what is left of a ball a row of its own: "
                      "its weight as put_up, and a stock of 1\n");
    struct hk_project *p = folder_good(*state, with("role,shop,put_up,price,stock\nmain,own,25 g,0,1\n", two_shops));
    assert_close(p->offers[0].put_up_g, 25, 0, 0);
    hk_project_free(p);
}

/* The stock must not count twice. The same put-up at another price is another offer: the last balls of a sale. */
static void an_offer_listed_twice_counts_once(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(*state, with("role,shop,put_up,price,lot,stock\n"
                                                    "main,Quay,50 g,6.40,A,3\n"
                                                    "main,Quay,50 g,4.00,A,2\n"
                                                    "main,quay,50.0 g,6.40,a,5\n"
                                                    "main,Quay,50 g,6.40,B,3\n",
                                                    two_shops), &diags);
    assert_findings(&diags, "offers.csv:4:1: warning: this offer is already in line 2, and that row alone counts; take "
                            "one of the two out; if they are two lots of balls, name the lots or add up the stock\n");
    assert_int_equal(p->offer_count, 3);
    assert_int_equal(p->offers[0].stock, 3);
    assert_int_equal(p->offers[1].price.minor, 400);
    assert_string_equal(p->offers[2].lot, "B");
    hk_project_free(p);
}

static void without_shops_csv_no_postage_is_charged(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(*state, with("role,shop,put_up,price\nmain,Quay,50 g,6.40\nmain,QUAY,100 g,12\n", ""),
                                       &diags);
    assert_findings(&diags,
                    "offers.csv:0:0: note: no postage is included, because there is no shops.csv; state postage and "
                    "discounts there, a row for each shop\n");
    assert_int_equal(p->offers[0].shop, p->offers[1].shop);
    assert_int_equal(p->sellers[p->offers[0].shop].postage_minor, 0);
    hk_project_free(p);
}

/*
 * A price of 0 is for stock at home; a price of 0 in a shop is a mistake, or the shop would supply any amount for
 * nothing.
 */
static void a_free_shop_is_warned_about(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(*state, with("role,shop,put_up,price,stock\n"
                                                    "main,own,50 g,0,3\nmain,home,50 g,0,\nmain,Quay,50 g,0.00,2\n"
                                                    "main,Quay,50 g,0.01,\n",
                                                    "shop\nhome\nQuay\n"), &diags);
    assert_findings(&diags,
                    "offers.csv:3:16: warning: shop \"home\" asks 0 for a ball, so any number of them costs nothing; what is at "
                    "home has the shop \"own\" and a stock; else write what a ball costs\n"
                    "offers.csv:4:16: warning: shop \"Quay\" asks 0 for a ball, so its stock costs nothing; what is at "
                    "home has the shop \"own\" and a stock; else write what a ball costs\n");
    assert_int_equal(p->offer_count, 4);
    hk_project_free(p);
    assert_folder_bad(*state, with("role,shop,put_up,price,stock\nmain,home,50 g,0,3\nmain,home,50 g,1,3\nmain,owm,50 g,0,3\n",
                                   "shop\nQuay\n"),
                      "offers.csv:2:6: error: shops.csv has no shop \"home\"; what is at home has the shop \"own\"; for a shop, "
                      "add a row there\n"
                      "offers.csv:3:6: error: shops.csv has no shop \"home\"; add a row for it there, with a postage of 0 if it "
                      "asks for none\n"
                      "offers.csv:4:6: error: shops.csv has no shop \"owm\"; did you mean \"own\"?\n");
    struct folder folder = {.yarns = "role,yarn,put_up,length,price\nmain,Quay DK,50 g,120 m,0\nlace,Quay Lace,25 g,210 m,\n"};
    hk_project_free(folder_read(*state, folder, &diags));
    assert_findings(
        &diags, "yarns.csv:2:25: warning: a ball costs 0, so any number of them costs nothing; write what a ball "
                "costs, or nothing where that is not known; what is at home goes into offers.csv, as shop \"own\"\n");
}

/*
 * The yarn is the planned one or empty; the colour is that of yarns.csv, or either is empty; letter case does not
 * matter.
 */
static void which_offers_fill_a_role(void **state)
{
    struct hk_project *p = folder_good(*state, with("role,shop,put_up,price,yarn,colour\n"
                                                    "main,Quay,50 g,1,,\n"
                                                    "main,Quay,50 g,2,Quay DK,slate\n"
                                                    "main,Quay,50 g,3,Quay DK,Buoy red\n"
                                                    "main,Quay,50 g,4,Quay Lace,Slate\n"
                                                    "lace,Quay,50 g,5,,\n",
                                                    two_shops));
    const struct hk_candidate *plan = &p->candidates[p->roles[0].plan];
    const bool counts[] = {true, true, false, false, false};
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(hk_offer_counts(&p->offers[i], plan), counts[i]);
    struct hk_candidate any = *plan;
    any.colour = "";
    assert_true(hk_offer_counts(&p->offers[2], &any));
    hk_project_free(p);
}

/* A currency without minor units takes whole numbers only. */
static void prices_without_minor_units(void **state)
{
    struct folder folder = with("role,shop,put_up,price\nmain,Quay,50 g,980\n", "shop,postage\nQuay,550\n");
    folder.project = "field,value\ntitle,Sampler\nsizes,\"S (M, L)\"\ncurrency,JPY\n";
    folder.yarns = "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n";
    struct hk_project *p = folder_good(*state, folder);
    assert_int_equal(p->offers[0].price.minor, 980);
    assert_int_equal(p->sellers[2].postage_minor, 550);
    hk_project_free(p);
    folder.other_text = "role,shop,put_up,price\nmain,Quay,50 g,9.80\n";
    assert_folder_bad(*state, folder,
                      "offers.csv:2:16: error: 9.80 has too many digits after the point; write a whole number\n");
}

static void every_mistake_in_offers_and_shops_is_reported(void **state)
{
    assert_folder_bad(
        *state,
        with("role,shop,put_up,price,yarn,length,pack,stock\nmain,Mole,50 g,6,,,,\nmian,Mole,50 g,6,,,,\n"
             "zzzzzzz,Mole,50 g,6,,,,\n,Mole,50 g,6,,,,\nmain,,50 g,6,,,,\nmain,Moel,50 g,6,,,,\n"
             "main,Zanzibar,50 g,6,,,,\nmain,Mole,,6,,,,\nmain,Mole,50 m,6,,,,\nmain,Mole,50 g,,,,,\n"
             "main,Mole,50 g,6,Quay KD,,,\nmain,Mole,50 g,6,Sun,,,\nmain,Mole,50 g,6,,x,,\n"
             "main,Mole,50 g,6,,100 m,,\nmain,Mole,50 g,6,,121 m,,\nmain,Mole,50 g,6,,,0,\n"
             "main,Mole,50 g,6,,,2.5,\nmain,Mole,50 g,6,,,,2.5\nmain,Mole,50 g,6,,,,x\nmain,own,50 g,6,,,,\n"
             "main,own,50 g,0,,,,\nmain,own,50 g,5,,,,1\nmain,mole,50 g,6,,,,\n",
             "shop,postage,free_from,off,off_from,off_percent\nMole,x,,,,\nown,1,,,,\nmole,2,,,,\n,2,,,,\n"
             "Mill,1,2,3,4,0.5\nTill,1,2,3,4,101%\nBill,1,2,3,4,0.00001%\nWill,1,2,3,4,x\n"),
        "offers.csv:3:1: error: there is no role \"mian\" in yarns.csv; did you mean \"main\"?\n"
        "offers.csv:4:1: error: there is no role \"zzzzzzz\" in yarns.csv; known here: main or lace\n"
        "offers.csv:5:1: error: the cell \"role\" is empty; every row of offers.csv needs one\n"
        "offers.csv:6:6: error: the cell \"shop\" is empty; every row of offers.csv needs one\n"
        "offers.csv:7:6: error: shops.csv has no shop \"Moel\"; did you mean \"Mole\"?\n"
        "offers.csv:8:6: error: shops.csv has no shop \"Zanzibar\"; add a row for it there, with a "
        "postage of 0 if it asks for none\n"
        "offers.csv:9:11: error: the cell \"put_up\" is empty; every row of offers.csv needs one\n"
        "offers.csv:10:14: error: m measures a length, and a mass is needed here; write it like 50 g or "
        "1.75 oz\n"
        "offers.csv:11:16: error: the cell \"price\" is empty; every row of offers.csv needs one\n"
        "offers.csv:12:18: error: there is no yarn \"Quay KD\" in yarns.csv; did you mean \"Quay DK\"?\n"
        "offers.csv:13:18: error: there is no yarn \"Sun\" in yarns.csv; known here: Quay DK or Quay Lace\n"
        "offers.csv:14:19: error: \"x\" is not a length; write it like 18.5 cm or 7 1/4 in\n"
        "offers.csv:15:1: warning: this offer is already in line 2, and that row alone counts; take "
        "one of the two out; if they are two lots of balls, name the lots or add up the stock\n"
        "offers.csv:15:19: warning: 100 m in 50 g, and by yarns.csv Quay DK has 120 m; is it the same "
        "yarn? A ball is counted by its weight all the same\n"
        "offers.csv:16:1: warning: this offer is already in line 2, and that row alone counts; take "
        "one of the two out; if they are two lots of balls, name the lots or add up the stock\n"
        "offers.csv:17:20: error: 0 is not possible here; write a plain number above zero\n"
        "offers.csv:18:20: error: 2.5 is not a whole number; write it like 12\n"
        "offers.csv:19:21: error: 2.5 is not a number of whole balls; give what is left of a ball a row "
        "of its own: its weight as put_up, and a stock of 1\n"
        "offers.csv:20:21: error: \"x\" is not a plain number; write it like 12.5\n"
        "offers.csv:21:15: error: a price for what is at home; write 0, or name the shop that sells it; what a "
        "ball is worth goes in the column value\n"
        "offers.csv:21:20: error: no stock is stated for what is at home; write how many balls there are "
        "in the column stock\n"
        "offers.csv:22:20: error: no stock is stated for what is at home; write how many balls there are "
        "in the column stock\n"
        "offers.csv:23:15: error: a price for what is at home; write 0, or name the shop that sells it; what a "
        "ball is worth goes in the column value\n"
        "offers.csv:24:1: warning: this offer is already in line 2, and that row alone counts; take "
        "one of the two out; if they are two lots of balls, name the lots or add up the stock\n"
        "shops.csv:2:6: error: \"x\" is not a price; write it like EUR 6.40, and what costs nothing as 0\n"
        "shops.csv:3:1: error: \"own\" is what is at home, and asks for no postage; take this row out, "
        "or give the shop another name\n"
        "shops.csv:4:1: error: shop \"mole\" is already in line 2; keep one of the two rows\n"
        "shops.csv:5:1: error: the cell \"shop\" is empty; every row of shops.csv needs one\n"
        "shops.csv:6:14: error: 0.5 off can be a percentage or an amount of money; write 50% or 0.5%, or an amount "
        "in the column off\n"
        "shops.csv:7:14: error: 101% off the goods; write at most 100%, with at most four digits after "
        "the point\n"
        "shops.csv:8:14: error: 0.00001% off the goods; write at most 100%, with at most four digits after "
        "the point\n"
        "shops.csv:9:14: error: \"x\" is not a percentage; write it like 95%\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_cell_of_an_offer_is_read),
        cmocka_unit_test(a_price_may_be_of_a_pack_and_fall_with_the_number),
        cmocka_unit_test(mistakes_in_a_price_are_reported),
        cmocka_unit_test(every_cell_of_a_shop_is_read),
        cmocka_unit_test(percent_off_with_and_without_its_sign),
        cmocka_unit_test(more_shops_than_can_be_kept_apart_are_refused),
        cmocka_unit_test(mistakes_are_reported_all_at_once),
        cmocka_unit_test(an_offer_of_another_length_is_warned_about),
        cmocka_unit_test(what_a_ball_at_home_is_worth_may_be_stated),
        cmocka_unit_test(half_a_ball_at_home_is_a_ball_of_its_own),
        cmocka_unit_test(an_offer_listed_twice_counts_once),
        cmocka_unit_test(without_shops_csv_no_postage_is_charged),
        cmocka_unit_test(a_free_shop_is_warned_about),
        cmocka_unit_test(which_offers_fill_a_role),
        cmocka_unit_test(prices_without_minor_units),
        cmocka_unit_test(every_mistake_in_offers_and_shops_is_reported),
    };
    return cmocka_run_group_tests_name("offers", tests, catalogue_set_up, catalogue_tear_down);
}
