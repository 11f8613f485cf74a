/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful shop: the purchases for every size, the chance that they are enough, and the effect of one ball more or
 * fewer.
 */
#include "findings.h"
#include "json.h"
#include "pipeline.h"
#include "purchases.h"
#include "shop_text.h"

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

static json_t *notions_json(struct json *json, const struct hk_shop_size *size)
{
    json_t *notions = json_make_array(json);
    for (size_t i = 0; i < size->notion_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "item", size->notions[i].item);
        json_put_real(json, object, "quantity", size->notions[i].quantity);
        json_add(json, notions, object);
    }
    return notions;
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
    json_put(json, object, "notions", notions_json(json, size));
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
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    if (options->given & OPTION_LIST && options->given & OPTION_JSON) {
        complain("--list is for people and --json for programs: give one of them");
        return MISUSED;
    }
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_SHOP);
    if (outcome == DONE && options->given & OPTION_JSON) {
        outcome = print_json(&work, out);
    } else if (outcome == DONE) {
        if (options->given & OPTION_LIST)
            shop_list(&work, &text);
        else
            shop_text(&work, options, &text);
        outcome = text_outcome(&text);
    }
    pipeline_free(&work);
    return outcome;
}
