/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful shop: the purchases for every size, the chance that they are enough, and the effect of one ball more or
 * fewer.
 */
#include "findings.h"
#include "in_hand.h"
#include "json.h"
#include "number.h"
#include "purchases.h"
#include "pipeline.h"

#include <stdlib.h>
#include <string.h>

/* ---- Text ---- */

struct named_money {
    char text[HK_MONEY_TEXT + 8];
};

/* Formats an expected amount, to the minor unit. */
static struct money about(const struct hk_shop *shop, double minor)
{
    return shop_money(shop, minor < 1e15 ? (int64_t)(minor + 0.5) : -1);
}

/* Formats "EUR 6.40". */
static struct named_money with_currency(const struct hk_shop *shop, int64_t minor)
{
    struct money amount = shop_money(shop, minor);
    struct named_money named;
    snprintf(named.text, sizeof named.text, "%.3s%s%s", shop->currency, *shop->currency ? " " : "", amount.text);
    return named;
}

static bool several_roles(const struct hk_shop *shop)
{
    for (size_t i = 0; i < shop->size_count; i++)
        if (shop->sizes[i].role_count > 1)
            return true;
    return false;
}

/* Returns whether two purchases differ only in their number of balls. */
static bool same_ball(const struct hk_shop_step *a, const struct hk_shop_step *b)
{
    return a->shop && b->shop && a->put_up_g == b->put_up_g && strcmp(a->shop, b->shop) == 0 && strcmp(a->lot, b->lot) == 0;
}

/*
 * Returns the difference between a step and the basket: "left out: 2 x 50 g, Quay Yarns", "added: 50 g, at home and 50
 * g, Mole Wool". Lots are named where they may differ. Owner: the caller (free).
 */
static char *changed_words(const struct hk_shop *shop, const struct hk_shop_role *role, size_t i)
{
    char *words = NULL;
    size_t basket = 0;
    while (role->steps[basket].shop)
        basket++;
    const size_t outward = i < basket ? (size_t)-1 : 1; /* unsigned wrap-around: one down */
    bool done = text_append(&words, "%s", i == basket ? "" : i < basket ? "left out: " : "added: ");
    for (size_t at = basket; at != i && done;) {
        const size_t from = at;
        const struct hk_shop_step *of = &role->steps[at + outward];
        do
            at += outward;
        while (at != i && same_ball(of, &role->steps[at + outward]));
        const int64_t change = role->steps[at].balls - role->steps[from].balls, balls = change < 0 ? -change : change;
        const bool lot = !shop->lots_apart && *of->lot;
        done = text_append(&words, "%s", from == basket ? "" : " and ") &&
               (balls == 1 || text_append(&words, "%s\u00a0x\u00a0", number_whole(balls).text)) &&
               text_append(&words, "%s\u00a0g%s%s%s%s", number_label(of->put_up_g).text, *of->shop ? ", " : "",
                           shop_title(of->shop), lot ? ", lot " : "", lot ? of->lot : "");
    }
    return words;
}

static void add_changed(struct text *text, struct text_table *table, const struct hk_shop *shop,
                        const struct hk_shop_role *role, size_t i)
{
    char *words = changed_words(shop, role, i);
    text->failed |= !words;
    text_table_cell(table, "%s", words ? words : "");
    free(words);
}

static void add_steps(struct text *text, struct text_table *table, const struct hk_shop *shop, const struct hk_shop_size *size,
                      const struct hk_shop_role *role)
{
    const struct number_step metre = number_step(role->deviation_m, 0);
    const struct number_step yard = number_step(role->deviation_m / HK_M_PER_YARD, 0);
    for (size_t i = 0; i < role->step_count; i++) {
        const struct hk_shop_step *step = &role->steps[i];
        if (i)
            text_table_cell(table, "%s", "");
        else
            shop_size_cell(table, size);
        text_table_cell(table, "%s", i ? "" : role->role);
        text_table_cell(table, "%s%s", step->shop ? "" : "buy ", number_whole(step->balls).text);
        if (shop->offers)
            add_changed(text, table, shop, role, i);
        text_table_cell(table, "%s", number_chance(step->chance).text);
        text_table_cell(table, "%s", number_share(step->margin).text);
        text_table_cell(table, "%s", shop_money(shop, step->cost_minor).text);
        text_table_cell(table, "%s", number_stepped(step->expected_left_over_m, metre, NUMBER_NEAREST).text);
        text_table_cell(table, "%s", number_stepped(step->expected_left_over_m / HK_M_PER_YARD, yard, NUMBER_NEAREST).text);
    }
}

static void print_steps(const struct hk_shop *shop, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "A ball or two more or fewer");
    text_paragraph(
        text,
        "MARGIN is the yarn beyond the likely amount, less the yarn lost where balls are joined. COST is the cost of "
        "all the yarn%s. SPARE is the yarn left over, the mean over all makings.",
        shop->offers ? ", with postage and discounts of that basket" : "");
    if (shop->offers)
        text_paragraph(text,
                       "Left out is the ball without which the chance stays highest (balls at home stay); added is the "
                       "one that costs least.");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    if (shop->offers)
        text_table_column(table, TEXT_WRAP, "WHICH BALLS");
    text_table_column(table, TEXT_RIGHT, "CHANCE");
    text_table_column(table, TEXT_RIGHT, "MARGIN");
    text_table_column(table, TEXT_RIGHT, "COST%s%s", *shop->currency ? " " : "", shop->currency);
    text_table_column(table, TEXT_RIGHT, "SPARE m");
    text_table_column(table, TEXT_RIGHT, "yd");
    for (size_t i = 0; i < shop->size_count; i++)
        for (size_t j = 0; j < shop->sizes[i].role_count; j++)
            add_steps(text, table, shop, &shop->sizes[i], &shop->sizes[i].roles[j]);
    text_table_print(table);
}

static void report_what_for(const struct hk_shop *shop, struct text *text)
{
    if (shop->short_cost_minor >= 0)
        text_paragraph(
            text,
            "The number of balls of least expected cost: that of the balls and that of running short (%s, by "
            "project.csv), where a ball left over keeps %s of its price.",
            with_currency(shop, shop->short_cost_minor).text, number_asked(shop->spare_worth).text);
    else if (shop->margin >= 0)
        text_paragraph(
            text,
            "The balls that hold the likely amount and a flat %s more, as asked for; CHANCE is the chance that "
            "they are enough.",
            number_asked(shop->margin).text);
    else
        text_paragraph(text, "%s enough with a chance of %s, for each yarn.",
                       shop->offers ? "The cheapest basket that is" : "The fewest balls that are",
                       number_asked(shop->chance).text);
}

/* Shows the joint chance, only where several yarns contribute to it: "S 92%, M 93%" for several sizes. */
static void report_joint_chance(const struct work *work, struct text *text)
{
    const struct hk_shop *shop = work->shop;
    const bool one = shop->size_count == 1, named = work->size != HK_NO_SIZE && hk_project_sizes(work->project) > 1;
    char *chances = NULL;
    for (size_t i = 0; several_roles(shop) && i < shop->size_count; i++)
        if (!text_append(&chances, "%s%s %s", i ? ", " : "", shop->sizes[i].size,
                         number_chance(shop->sizes[i].chance_all).text))
            text->failed = true;
    if (chances)
        text_gap(text);
    if (chances && one)
        text_paragraph(text, "The chance that every yarn%s%s is enough: %s.", named ? " of size " : "",
                       named ? shop->sizes[0].size : "", number_chance(shop->sizes[0].chance_all).text);
    else if (chances)
        text_paragraph(text, "The chance that every yarn of a size is enough: %s.", chances);
    free(chances);
}

static void report_proof_of(const struct hk_shop_size *size, struct text *text)
{
    if (size->proven)
        text_paragraph(text, "%s: no basket is cheaper; this is proven.", size->size);
    else if (size->gap < 1)
        text_paragraph(text,
                       "%s: the search was stopped; the cheapest basket is at most %s cheaper (--seconds gives it more time).",
                       size->size, number_percent(size->gap).text);
    else
        text_paragraph(text,
                       "%s: the search was stopped before it could tell how much cheaper a basket there may be (--seconds "
                       "gives it more time).",
                       size->size);
}

/* Shown only where there was a choice. */
static void report_proof(const struct hk_shop *shop, struct text *text)
{
    size_t proven = 0;
    for (size_t i = 0; i < shop->size_count; i++)
        proven += shop->sizes[i].proven;
    if (!shop->offers)
        return;
    text_gap(text);
    if (proven == shop->size_count)
        text_paragraph(text, "No basket%s is cheaper; this is proven.",
                       shop->lots_apart ? " with one dye lot for each role" : "");
    for (size_t i = 0; proven < shop->size_count && i < shop->size_count; i++)
        report_proof_of(&shop->sizes[i], text);
}

/* Returns the effect of one ball fewer, where that is possible. Owner: the caller (free). */
static char *fewer_words(const struct hk_shop *shop, const struct hk_shop_reason *reason)
{
    if (reason->balls == 1)
        return text_format("%s", "");
    return text_format("with one fewer it would run short in %s of makings, which costs %s more than it saves; ",
                       number_chance(reason->short_chance_fewer).text, about(shop, reason->fewer_minor).text);
}

/*
 * Returns the effect of one ball more; it is free only at the largest number of balls considered. Owner: the caller
 * (free).
 */
static char *more_words(const struct hk_shop *shop, const struct hk_shop_reason *reason)
{
    if (reason->more_minor <= 0)
        return text_format("one more would cost nothing in the long run, but they are enough in %s of makings, and beyond "
                           "99.9%% no more are bought",
                           number_chance(reason->spare_chance_more).text);
    return text_format("one more would be left over in %s of makings, which costs %s more than it saves",
                       number_chance(reason->spare_chance_more).text, about(shop, reason->more_minor).text);
}

/* Returns whether every purchase of the role is balls of the given mass. */
static bool bought_in(const struct hk_shop_size *size, const char *role, double put_up_g)
{
    for (size_t i = 0; i < size->line_count; i++)
        if (strcmp(size->lines[i].role, role) == 0 && size->lines[i].put_up_g != put_up_g)
            return false;
    return true;
}

/* Explains the number of balls, where running short has a price. */
static void report_reason(const struct hk_shop *shop, const struct hk_shop_size *size, const struct hk_shop_role *role,
                          struct text *text)
{
    const struct hk_shop_reason *reason = &role->reason;
    const bool alike = bought_in(size, role->role, reason->put_up_g);
    char *fewer = fewer_words(shop, reason), *more = more_words(shop, reason);
    if (fewer && more)
        text_item(text, "%s, %s: %s%s %s of %s g at %s %s least: %s%s", size->size, role->role,
                  alike ? "" : "in balls of one size, ", number_whole(reason->balls).text, reason->balls > 1 ? "balls" : "ball",
                  number_label(reason->put_up_g).text, shop_money(shop, reason->price_minor).text,
                  reason->balls > 1 ? "cost" : "costs", fewer, more);
    else
        text->failed = true;
    free(fewer);
    free(more);
}

static void report_reasons(const struct hk_shop *shop, struct text *text)
{
    bool any = false;
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].role_count; j++) {
            const struct hk_shop_role *role = &shop->sizes[i].roles[j];
            if (role->basis != HK_SHOP_BASIS_LEAST_COST)
                continue;
            if (!any) {
                text_gap(text);
                text_heading(text, "Why this number");
            }
            any = true;
            report_reason(shop, &shop->sizes[i], role, text);
        }
    }
}

/* Formats "A12, B3"; "not stated" for a lot without a name. */
static char *lot_names(const struct hk_shop_size *size, const char *role)
{
    char *names = NULL;
    for (size_t i = 0; i < size->line_count; i++) {
        const struct hk_shop_line *line = &size->lines[i];
        bool said = strcmp(line->role, role) != 0;
        for (size_t k = 0; k < i && *line->lot; k++)
            said |= strcmp(size->lines[k].role, role) == 0 && strcmp(size->lines[k].lot, line->lot) == 0;
        if (!said && !text_append(&names, "%s%s", names ? ", " : "", *line->lot ? line->lot : "one not stated"))
            return NULL;
    }
    return names;
}

static void report_mixed(const struct hk_shop_size *size, const struct hk_shop_role *role, struct text *text)
{
    char *names = lot_names(size, role->role);
    text_gap(text);
    if (names)
        text_paragraph(text, "%s, %s: %zu lots are mixed (%s), as project.csv lets them; their colours may differ, so change "
                       "where it does not show, or row by row.", size->size, role->role, role->lots, names);
    else
        text->failed = true;
    free(names);
}

static const struct hk_shop_role *role_named(const struct hk_shop_size *size, const char *role)
{
    for (size_t i = 0; i < size->role_count; i++)
        if (strcmp(size->roles[i].role, role) == 0)
            return &size->roles[i];
    return NULL;
}

/*
 * Returns " in S, M": the sizes in which some of the stock at home is unused; "" for the only size, NULL if there is
 * none.
 */
static char *sizes_leaving(const struct hk_shop *shop, const char *role, struct text *text)
{
    char *sizes = NULL;
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_role *in = role_named(&shop->sizes[i], role);
        if (in && in->own_left && shop->size_count == 1)
            text->failed |= !text_append(&sizes, "%s", "");
        else if (in && in->own_left)
            text->failed |= !text_append(&sizes, "%s%s", sizes ? ", " : " in ", shop->sizes[i].size);
    }
    return sizes;
}

static bool role_before(const struct hk_shop *shop, size_t size, const char *role)
{
    for (size_t i = 0; i < size; i++)
        if (role_named(&shop->sizes[i], role))
            return true;
    return false;
}

/* Explains why stock at home is not used. */
static void report_own_left(const struct hk_shop *shop, struct text *text)
{
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].role_count; j++) {
            const char *role = shop->sizes[i].roles[j].role;
            char *sizes = role_before(shop, i, role) ? NULL : sizes_leaving(shop, role, text);
            if (sizes) {
                text_gap(text);
                text_paragraph(text,
                               "%s: some balls at home are not taken%s, for a role stays in one lot, unless lots in "
                               "project.csv says \"may mix\".",
                               role, sizes);
            }
            free(sizes);
        }
    }
}

static void report_mixed_and_eaten(const struct hk_shop *shop, struct text *text)
{
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].role_count; j++) {
            const struct hk_shop_role *role = &shop->sizes[i].roles[j];
            if (role->lots > 1)
                report_mixed(&shop->sizes[i], role, text);
            if (i == 0 && role->swatch_use_g > 0) {
                text_gap(text);
                text_paragraph(text, "%s: the %s g of your swatches are included.", role->role,
                               number_digits(role->swatch_use_g, 2).text);
            }
        }
    }
}

static enum outcome print_text(const struct work *work, struct text *text)
{
    const struct hk_shop *shop = work->shop;
    text_heading(text, "%s: yarn to buy", shop->project);
    report_what_for(shop, text);
    in_hand_report(work->need, text);
    text_gap(text);
    purchases_print(shop, true, text);
    report_proof(shop, text);
    report_joint_chance(work, text);
    report_mixed_and_eaten(shop, text);
    report_own_left(shop, text);
    report_reasons(shop, text);
    print_steps(shop, text);
    findings_but_assumptions(text, &work->diags, work->folder.path);
    return text_outcome(text);
}

/* ---- A list to carry ---- */

static void list_line(const struct hk_shop *shop, const struct hk_shop_line *line, struct text *text)
{
    const bool own = shop_is_own(line->shop), priced = line->cost_minor >= 0 && !own;
    text_line(text, "[ ] %s x %s g %s%s%s%s%s%s (%s)%s%s", number_whole(line->balls).text,
              number_label(line->put_up_g).text, line->yarn, *line->colour ? ", " : "", line->colour,
              *line->lot ? ", lot " : "", line->lot, !*line->lot && line->balls > 1 && !own ? ", of one lot" : "",
              line->role, priced ? ": " : "", priced ? with_currency(shop, line->cost_minor).text : "");
}

static void list_bill(const struct hk_shop *shop, const struct hk_shop_bill *bill, struct text *text)
{
    if (bill->postage_minor > 0)
        text_line(text, "    postage: %s", with_currency(shop, bill->postage_minor).text);
    if (bill->discount_minor > 0)
        text_line(text, "    discount: -%s", with_currency(shop, bill->discount_minor).text);
    if (!shop_is_own(bill->shop))
        text_line(text, "    to pay: %s", with_currency(shop, bill->total_minor).text);
}

/* Lists the purchases of one shop; `bill` is NULL for purchases without a price, which have no shop. */
static void list_shop(const struct hk_shop *shop, const struct hk_shop_size *size, const struct hk_shop_bill *bill,
                      struct text *text)
{
    const char *title = !bill ? "No price stated" : shop_is_own(bill->shop) ? "At home" : *bill->shop ? bill->shop : "To buy";
    text_gap(text);
    text_heading(text, "%s", title);
    for (size_t i = 0; i < size->line_count; i++) {
        const struct hk_shop_line *line = &size->lines[i];
        if (bill ? line->cost_minor >= 0 && strcmp(line->shop, bill->shop) == 0 : line->cost_minor < 0)
            list_line(shop, line, text);
    }
    if (bill)
        list_bill(shop, bill, text);
}

static void list_size(const struct hk_shop *shop, const struct hk_shop_size *size, struct text *text)
{
    if (size->times > 1)
        text_heading(text, "%s, %s, each %s times: shopping list", shop->project, size->size,
                     number_whole(size->times).text);
    else
        text_heading(text, "%s, %s: shopping list", shop->project, size->size);
    for (size_t i = 0; i < size->bill_count; i++)
        list_shop(shop, size, &size->bills[i], text);
    if (!size->priced)
        list_shop(shop, size, NULL, text);
    if (size->bill_count > 1) {
        text_gap(text);
        text_line(text, "All together: %s", with_currency(shop, size->total_minor).text);
    }
    for (size_t i = 0; i < size->role_count; i++)
        if (size->roles[i].lots > 1)
            report_mixed(size, &size->roles[i], text);
}

static enum outcome print_list(const struct work *work, struct text *text)
{
    for (size_t i = 0; i < work->shop->size_count; i++) {
        if (i)
            text_gap(text);
        list_size(work->shop, &work->shop->sizes[i], text);
    }
    return text_outcome(text);
}

/* ---- JSON ---- */

static json_t *steps_json(struct json *json, const struct hk_shop_role *role, int digits)
{
    json_t *steps = json_make_array(json);
    for (size_t i = 0; i < role->step_count; i++) {
        const struct hk_shop_step *step = &role->steps[i];
        json_t *object = json_make_object(json);
        json_put_whole(json, object, "balls", step->balls);
        json_put_money(json, object, "cost", step->cost_minor, digits);
        json_put_real(json, object, "chance", step->chance);
        json_put_real(json, object, "margin", step->margin);
        json_put_real(json, object, "left_over_m", step->left_over_m);
        json_put_real(json, object, "expected_left_over_m", step->expected_left_over_m);
        json_put_text(json, object, "shop", step->shop);
        json_put_real(json, object, "put_up_g", step->put_up_g);
        json_put_text(json, object, "lot", step->lot);
        json_add(json, steps, object);
    }
    return steps;
}

static json_t *reason_json(struct json *json, const struct hk_shop_role *role)
{
    const struct hk_shop_reason *reason = &role->reason;
    if (role->basis != HK_SHOP_BASIS_LEAST_COST)
        return json_null();
    json_t *object = json_make_object(json);
    json_put_whole(json, object, "balls", reason->balls);
    json_put_real(json, object, "put_up_g", reason->put_up_g);
    json_put_real(json, object, "short_chance", reason->short_chance);
    json_put_real(json, object, "short_chance_fewer", reason->short_chance_fewer);
    json_put_real(json, object, "spare_chance_more", reason->spare_chance_more);
    return object;
}

static json_t *role_json(struct json *json, const struct hk_shop_role *role, int digits)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "role", role->role);
    json_put_real(json, object, "need_g", role->need_g);
    json_put_real(json, object, "bought_g", role->bought_g);
    json_put_real(json, object, "joins_g", role->joins_g);
    json_put_real(json, object, "chance", role->chance);
    json_put_real(json, object, "margin", role->margin);
    json_put_real(json, object, "left_over_m", role->left_over_m);
    json_put_real(json, object, "likely_g", role->likely_g);
    json_put(json, object, "steps", steps_json(json, role, digits));
    json_put_real(json, object, "swatches_g", role->swatch_use_g);
    json_put_whole(json, object, "lots", (int64_t)role->lots);
    json_put_bool(json, object, "own_left", role->own_left);
    json_put(json, object, "least_cost", reason_json(json, role));
    return object;
}

static json_t *size_json(struct json *json, const struct hk_shop_size *size, int digits)
{
    json_t *object = json_make_object(json), *roles = json_make_array(json);
    for (size_t i = 0; i < size->role_count; i++)
        json_add(json, roles, role_json(json, &size->roles[i], digits));
    json_put_text(json, object, "size", size->size);
    json_put(json, object, "lines", purchase_lines_json(json, size, digits));
    json_put(json, object, "roles", roles);
    json_put_money(json, object, "goods", size->goods_minor, digits);
    json_put_money(json, object, "postage", size->postage_minor, digits);
    json_put_money(json, object, "discount", size->discount_minor, digits);
    json_put_money(json, object, "total", size->total_minor, digits);
    json_put_real(json, object, "chance_all", size->chance_all);
    json_put(json, object, "proven", size->proven ? json_true() : json_real(size->gap));
    json_put_bool(json, object, "priced", size->priced);
    json_put_whole(json, object, "times", size->times);
    json_put(json, object, "bills", purchase_bills_json(json, size, digits));
    return object;
}

static enum outcome print_json(const struct work *work, FILE *out)
{
    const struct hk_shop *shop = work->shop;
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *sizes = json_make_array(&json);
    json_put_text(&json, answer, "project", shop->project);
    json_put_real(&json, answer, "chance", shop->chance);
    json_put_text(&json, answer, "currency", shop->currency);
    for (size_t i = 0; i < shop->size_count; i++)
        json_add(&json, sizes, size_json(&json, &shop->sizes[i], shop->minor_digits));
    json_put(&json, answer, "shop", sizes);
    json_put_remarks(&json, answer, &work->diags, work->folder.path);
    json_put(&json, answer, "margin", shop->margin >= 0 ? json_real(shop->margin) : json_null());
    json_put_money(&json, answer, "short_cost", shop->short_cost_minor, shop->minor_digits);
    json_put_bool(&json, answer, "lots_apart", shop->lots_apart);
    return json_write(&json, answer, out);
}

enum outcome cmd_shop(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct text text = text_to(out, options->width);
    if (options->given & OPTION_LIST && options->given & OPTION_JSON) {
        complain("--list is for people and --json for programs: give one of them");
        return MISUSED;
    }
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_SHOP);
    if (outcome == DONE && options->given & OPTION_LIST)
        outcome = print_list(&work, &text);
    else if (outcome == DONE)
        outcome = options->given & OPTION_JSON ? print_json(&work, out) : print_text(&work, &text);
    pipeline_free(&work);
    return outcome;
}
