/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote_letter.h"

#include "quote.h"

#include <math.h>

/* Returns "30 days" as {"days":30,"in_weeks":false}; null if it is not stated. */
static json_t *period_json(struct json *json, int64_t days, bool weeks)
{
    if (!days)
        return json_null();
    json_t *object = json_make_object(json);
    json_put_whole(json, object, "days", days);
    json_put_bool(json, object, "in_weeks", weeks);
    return object;
}

static json_t *measures_json(struct json *json, const struct work *work, size_t size)
{
    json_t *measures = json_make_array(json);
    for (size_t i = 0; i < hk_project_measures(work->project); i++) {
        const struct hk_project_measure measure = hk_project_measure(work->project, i, size);
        const bool length = !isnan(measure.length_m);
        if (!length && !measure.count)
            continue;
        json_t *object = json_make_object(json);
        json_put_text(json, object, "name", measure.name);
        json_put(json, object, "length_m", length ? json_real(measure.length_m) : json_null());
        json_put(json, object, "count", length ? json_null() : json_integer(measure.count));
        json_add(json, measures, object);
    }
    return measures;
}

static json_t *included_json(struct json *json, const struct work *work, size_t size)
{
    static const char *const kinds[] = {
        [HK_INCLUDED_NOTION] = "notion", [HK_INCLUDED_WORK] = "work", [HK_INCLUDED_POSTAGE] = "postage"};
    json_t *included = json_make_array(json);
    for (size_t i = 0; i < hk_project_costs(work->project); i++) {
        const struct hk_project_cost cost = hk_project_cost(work->project, i, size);
        if (cost.included == HK_INCLUDED_NOT)
            continue;
        json_t *object = json_make_object(json);
        json_put_text(json, object, "item", cost.item);
        json_put_text(json, object, "kind", kinds[cost.included]);
        json_put(json, object, "quantity", isnan(cost.quantity) ? json_null() : json_real(cost.quantity));
        json_add(json, included, object);
    }
    return included;
}

static json_t *sizes_json(struct json *json, const struct work *work, const struct hk_quote *quote)
{
    json_t *sizes = json_make_array(json);
    for (size_t i = 0; i < quote->size_count; i++) {
        const size_t size = pipeline_sizes(work).first + i;
        json_t *object = json_make_object(json);
        json_put_text(json, object, "size", quote->sizes[i].size);
        json_put(json, object, "finished_size", measures_json(json, work, size));
        json_put(json, object, "included", included_json(json, work, size));
        json_put(json, object, "hours",
                 quote->sizes[i].hours.likely > 0 ? json_text(quote_hours(&quote->sizes[i].hours).text) : json_null());
        json_add(json, sizes, object);
    }
    return sizes;
}

json_t *quote_letter_json(struct json *json, const struct work *work, const struct hk_quote *quote,
                          const struct options *options)
{
    const struct hk_project_letter letter = hk_project_letter(work->project);
    json_t *object = json_make_object(json);
    json_put_text(json, object, "client", options->client);
    json_put_text(json, object, "maker", letter.maker);
    json_put_text(json, object, "place", letter.place);
    json_put_text(json, object, "care", letter.care);
    json_put_text(json, object, "conditions", letter.conditions);
    json_put(json, object, "valid_for", period_json(json, letter.valid_days, letter.valid_weeks));
    json_put(json, object, "ready_in", period_json(json, letter.ready_days, letter.ready_weeks));
    json_put(json, object, "tax_shown",
             quote->tax_count == 0 ? json_null() : json_text(letter.tax_separately ? "separately" : "included"));
    json_put_bool(json, object, "sized", hk_project_sizes(work->project) > 1);
    json_put_bool(json, object, "hours", options->given & OPTION_HOURS);
    json_put(json, object, "sizes", sizes_json(json, work, quote));
    return object;
}
