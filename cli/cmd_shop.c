/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful shop: what to buy in every size, how sure it is that it is enough, and what a ball more or fewer does. */
#include "findings.h"
#include "json.h"
#include "number.h"
#include "work.h"

#include <stdlib.h>
#include <string.h>

/* ---- Text ---- */

struct money {
    char text[HK_MONEY_TEXT];
};

static struct money money(const struct hk_shop *shop, int64_t minor)
{
    struct money money = {"-"};
    if (minor >= 0)
        hk_money_text(minor, shop->minor_digits, money.text);
    return money;
}

static bool flat_margin(const struct hk_shop *shop)
{
    return shop->margin >= 0;
}

static const struct hk_shop_role *role_named(const struct hk_shop_size *size, const char *name)
{
    for (size_t i = 0; i < size->role_count; i++)
        if (strcmp(size->roles[i].role, name) == 0)
            return &size->roles[i];
    return NULL;
}

/* How finely a length left over may be shown: as finely as the role's length is known. */
static struct number_step length_step(const struct hk_need *need, const char *size, const char *role, double unit_m)
{
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *known = &need->roles[i];
        if (strcmp(known->size_name, size) == 0 && strcmp(known->role_name, role) == 0)
            return number_step(known->length_m.likely * known->spread / unit_m, 0);
    }
    return (struct number_step){1, 0};
}

/* Columns only where some line has something to say there. */
static bool any_shop(const struct hk_shop *shop)
{
    for (size_t i = 0; i < shop->size_count; i++)
        for (size_t j = 0; j < shop->sizes[i].line_count; j++)
            if (*shop->sizes[i].lines[j].shop || *shop->sizes[i].lines[j].lot)
                return true;
    return false;
}

static bool several_lines(const struct hk_shop *shop)
{
    for (size_t i = 0; i < shop->size_count; i++)
        if (shop->sizes[i].line_count > 1)
            return true;
    return false;
}

/* What the table of purchases shows besides. */
struct extras {
    bool shop, total;
};

static void add_purchase(struct text_table *table, const struct hk_shop *shop, const struct hk_shop_size *size,
                         const struct hk_shop_line *line, struct extras extras)
{
    const struct hk_shop_role *role = role_named(size, line->role);
    text_table_cell(table, "%s", size->size);
    text_table_cell(table, "%s", line->role);
    text_table_cell(table, "%s", number_whole(line->balls).text);
    text_table_cell(table, "%s g %s%s%s", number_stated(line->put_up_g).text, line->yarn, *line->colour ? " " : "",
                    line->colour);
    if (extras.shop) {
        text_table_cell(table, "%s", line->shop);
        text_table_cell(table, "%s", line->lot);
    }
    text_table_cell(table, "%s", money(shop, line->price_minor).text);
    text_table_cell(table, "%s", money(shop, line->cost_minor).text);
    text_table_cell(table, "%s", role ? number_chance(role->chance).text : "-");
    text_table_cell(table, "%s", role ? number_share(role->margin).text : "-");
}

static void add_total(struct text_table *table, const struct hk_shop *shop, const struct hk_shop_size *size,
                      struct extras extras)
{
    int64_t balls = 0;
    for (size_t i = 0; i < size->line_count; i++)
        balls += size->lines[i].balls;
    text_table_cell(table, "%s", size->size);
    text_table_cell(table, "all");
    text_table_cell(table, "%s", number_whole(balls).text);
    for (int i = 0; i < (extras.shop ? 4 : 2); i++)
        text_table_cell(table, "%s", "");
    text_table_cell(table, "%s", money(shop, size->priced ? size->total_minor : -1).text);
    text_table_cell(table, "%s", number_chance(size->chance_all).text);
    text_table_cell(table, "%s", "");
}

static void print_purchases(const struct hk_shop *shop, struct text *text)
{
    const struct extras extras = {any_shop(shop), several_lines(shop)};
    struct text_table *table = text_table(text);
    const char *currency = shop->currency ? shop->currency : "";
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    text_table_column(table, TEXT_WRAP, "OF");
    if (extras.shop) {
        text_table_column(table, TEXT_WRAP, "SHOP");
        text_table_column(table, TEXT_WRAP, "LOT");
    }
    text_table_column(table, TEXT_RIGHT, "PRICE");
    text_table_column(table, TEXT_RIGHT, "COST%s%s", *currency ? " " : "", currency);
    text_table_column(table, TEXT_RIGHT, "CHANCE");
    text_table_column(table, TEXT_RIGHT, "MARGIN");
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].line_count; j++)
            add_purchase(table, shop, &shop->sizes[i], &shop->sizes[i].lines[j], extras);
        if (extras.total)
            add_total(table, shop, &shop->sizes[i], extras);
    }
    text_table_print(table);
}

static int64_t bought_balls(const struct hk_shop_size *size, const char *role)
{
    int64_t balls = 0;
    for (size_t i = 0; i < size->line_count; i++)
        if (strcmp(size->lines[i].role, role) == 0)
            balls += size->lines[i].balls;
    return balls;
}

static void add_steps(struct text_table *table, const struct work *work, const struct hk_shop_size *size,
                      const struct hk_shop_role *role)
{
    const struct number_step metre = length_step(work->need, size->size, role->role, 1);
    const struct number_step yard = length_step(work->need, size->size, role->role, HK_M_PER_YARD);
    const int64_t bought = bought_balls(size, role->role);
    for (size_t i = 0; i < role->step_count; i++) {
        const struct hk_shop_step *step = &role->steps[i];
        text_table_cell(table, "%s", i ? "" : size->size);
        text_table_cell(table, "%s", i ? "" : role->role);
        text_table_cell(table, "%s%s", step->balls == bought ? "buy " : "", number_whole(step->balls).text);
        text_table_cell(table, "%s", number_chance(step->chance).text);
        text_table_cell(table, "%s", number_share(step->margin).text);
        text_table_cell(table, "%s", money(work->shop, step->cost_minor).text);
        text_table_cell(table, "%s", number_stepped(step->left_over_m, metre, NUMBER_NEAREST).text);
        text_table_cell(table, "%s", number_stepped(step->left_over_m / HK_M_PER_YARD, yard, NUMBER_NEAREST).text);
    }
}

static void print_steps(const struct work *work, struct text *text)
{
    const struct hk_shop *shop = work->shop;
    struct text_table *table = text_table(text);
    const char *currency = shop->currency ? shop->currency : "";
    text_gap(text);
    text_heading(text, "A ball or two more or fewer");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    text_table_column(table, TEXT_RIGHT, "CHANCE");
    text_table_column(table, TEXT_RIGHT, "MARGIN");
    text_table_column(table, TEXT_RIGHT, "COST%s%s", *currency ? " " : "", currency);
    text_table_column(table, TEXT_RIGHT, "LEFT OVER m");
    text_table_column(table, TEXT_RIGHT, "yd");
    for (size_t i = 0; i < shop->size_count; i++)
        for (size_t j = 0; j < shop->sizes[i].role_count; j++)
            add_steps(table, work, &shop->sizes[i], &shop->sizes[i].roles[j]);
    text_table_print(table);
}

static void say_what_for(const struct hk_shop *shop, struct text *text)
{
    if (flat_margin(shop))
        text_paragraph(text,
                       "So many that they hold the likely amount and a flat %s more, as asked for; CHANCE is what that "
                       "gives.",
                       number_asked(shop->margin).text);
    else
        text_paragraph(text, "The fewest balls that are enough with a chance of %s, for each yarn.",
                       number_asked(shop->chance).text);
    text_paragraph(
        text, "MARGIN is what they hold beyond the likely amount, the yarn lost where balls are joined taken off.");
}

/* "S 92%, M 93%": only where there are several yarns whose chances come together. */
static void say_joint_chance(const struct hk_shop *shop, struct text *text)
{
    char *chances = NULL;
    for (size_t i = 0; several_lines(shop) && i < shop->size_count; i++)
        if (!text_append(&chances, "%s%s %s", i ? ", " : "", shop->sizes[i].size,
                         number_chance(shop->sizes[i].chance_all).text))
            text->lost = true;
    if (chances) {
        text_gap(text);
        text_paragraph(text, "The chance that every yarn of a size is enough: %s.", chances);
    }
    free(chances);
}

static enum outcome print_text(const struct work *work, struct text *text)
{
    text_heading(text, "%s: what to buy", work->shop->project);
    say_what_for(work->shop, text);
    text_gap(text);
    print_purchases(work->shop, text);
    say_joint_chance(work->shop, text);
    print_steps(work, text);
    findings_assumed(text, &work->diags, work->folder.path);
    return text_outcome(text);
}

/* ---- JSON ---- */

static json_t *line_json(struct json *json, const struct hk_shop_line *line, int digits)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "role", line->role);
    json_put_text(json, object, "yarn", line->yarn);
    json_put_text(json, object, "colour", line->colour);
    json_put_text(json, object, "shop", line->shop);
    json_put_text(json, object, "lot", line->lot);
    json_put_real(json, object, "put_up_g", line->put_up_g);
    json_put_real(json, object, "put_up_m", line->put_up_m);
    json_put_whole(json, object, "balls", line->balls);
    json_put_money(json, object, "price", line->price_minor, digits);
    json_put_money(json, object, "cost", line->cost_minor, digits);
    return object;
}

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
        json_add(json, steps, object);
    }
    return steps;
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
    return object;
}

static json_t *size_json(struct json *json, const struct hk_shop_size *size, int digits)
{
    json_t *object = json_make_object(json), *lines = json_make_array(json), *roles = json_make_array(json);
    for (size_t i = 0; i < size->line_count; i++)
        json_add(json, lines, line_json(json, &size->lines[i], digits));
    for (size_t i = 0; i < size->role_count; i++)
        json_add(json, roles, role_json(json, &size->roles[i], digits));
    json_put_text(json, object, "size", size->size);
    json_put(json, object, "lines", lines);
    json_put(json, object, "roles", roles);
    json_put_money(json, object, "goods", size->goods_minor, digits);
    json_put_money(json, object, "postage", size->postage_minor, digits);
    json_put_money(json, object, "discount", size->discount_minor, digits);
    json_put_money(json, object, "total", size->total_minor, digits);
    json_put_real(json, object, "chance_all", size->chance_all);
    json_put_bool(json, object, "proven", size->proven);
    json_put_bool(json, object, "priced", size->priced);
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
    json_put_findings(&json, answer, "warnings", &work->diags, HK_WARNING, work->folder.path);
    json_put_findings(&json, answer, "assumed", &work->diags, HK_NOTE, work->folder.path);
    json_put(&json, answer, "margin", flat_margin(shop) ? json_real(shop->margin) : json_null());
    return json_write(&json, answer, out);
}

enum outcome cmd_shop(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct text text = text_to(out, options->width);
    enum outcome outcome = work_project(&work, options, work_folder(options), STAGE_SHOP);
    if (outcome == DONE)
        outcome = options->json ? print_json(&work, out) : print_text(&work, &text);
    work_free(&work);
    return outcome;
}
