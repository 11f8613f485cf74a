/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "need_json.h"

#include "in_hand.h"

static json_t *role_json(struct json *json, const struct hk_need_role *role)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "size", role->size_name);
    json_put_text(json, object, "role", role->role_name);
    json_put_text(json, object, "yarn", role->yarn);
    json_put_whole(json, object, "stitches", role->stitches);
    json_put_real(json, object, "loops", role->loops);
    json_put_amount(json, object, "length_m", &role->length_m);
    json_put_amount(json, object, "mass_g", &role->mass_g);
    json_put_real(json, object, "spread", role->spread);
    json_put_real(json, object, "spread_mass", role->spread_mass);
    json_put_whole(json, object, "balls", role->balls);
    json_put_text(json, object, "colour", role->colour);
    json_put_text(json, object, "rgb", role->rgb);
    json_put_real(json, object, "chance", role->chance);
    json_put_real(json, object, "put_up_g", role->put_up_g);
    json_put_real(json, object, "put_up_m", role->put_up_m);
    json_put_real(json, object, "join_g", role->join_g);
    return object;
}

static json_t *part_json(struct json *json, const struct hk_need_part *part)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "size", part->size_name);
    json_put_text(json, object, "piece", part->piece);
    json_put_text(json, object, "part", part->part);
    json_put_text(json, object, "role", part->role_name);
    json_put_whole(json, object, "stitches", part->stitches);
    json_put_real(json, object, "length_m", part->length_m);
    json_put_real(json, object, "mass_g", part->mass_g);
    json_put_real(json, object, "enough_g", part->enough_g);
    json_put_real(json, object, "share", part->share);
    return object;
}

static json_t *stitch_json(struct json *json, const struct hk_need_stitch *stitch)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "size", stitch->size_name);
    json_put_text(json, object, "role", stitch->role_name);
    json_put_text(json, object, "stitch", stitch->stitch);
    json_put_real(json, object, "count", stitch->count);
    json_put_real(json, object, "length_m", stitch->length_m);
    json_put_real(json, object, "mass_g", stitch->mass_g);
    json_put_real(json, object, "share", stitch->share);
    return object;
}

static const char *cause_name(enum hk_cause cause)
{
    switch (cause) {
    case HK_CAUSE_NOTHING_WEIGHED:
        return "nothing-weighed";
    case HK_CAUSE_SCALE:
        return "scale";
    case HK_CAUSE_STITCH:
        return "stitch";
    case HK_CAUSE_TOOL:
        return "tool";
    case HK_CAUSE_YARN:
        return "yarn";
    case HK_CAUSE_ONE_DAY:
        return "one-day";
    case HK_CAUSE_GRIST:
        return "grist";
    case HK_CAUSE_GARMENT:
        return "garment";
    case HK_CAUSE_BALL:
        return "ball";
    case HK_CAUSE_MAKING:
        return "making";
    }
    return "";
}

static json_t *why_json(struct json *json, const struct hk_need_why *why, const struct hk_need_role *role)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "size", role->size_name);
    json_put_text(json, object, "role", role->role_name);
    json_put_text(json, object, "cause", cause_name(why->cause));
    json_put_real(json, object, "share", why->share);
    json_put_real(json, object, "spread_mass_then", why->spread_mass_then);
    json_put_text(json, object, "swatch", why->swatch);
    json_put_text(json, object, "stitch", why->stitch);
    json_put_text(json, object, "yarn", why->yarn);
    json_put_text(json, object, "fabric", why->fabric);
    json_put_real(json, object, "tool_mm", why->tool_mm);
    json_put_real(json, object, "scale_step_g", why->scale_step_g);
    json_put_real(json, object, "scale_accuracy_g", why->scale_accuracy_g);
    json_put_real(json, object, "new_step_g", why->new_step_g);
    json_put_text(json, object, "piece", why->piece);
    json_put_whole(json, object, "stitches", why->stitches);
    json_put_whole(json, object, "rows", why->rows);
    json_put_whole(json, object, "copies", why->copies);
    return object;
}

static json_t *sizes_json(struct json *json, const struct work *work)
{
    json_t *sizes = json_make_array(json);
    for (size_t i = 0; i < work->need->size_count; i++)
        if (work->size == HK_NO_SIZE || work->size == i)
            json_add(json, sizes, json_text(work->need->sizes[i]));
    return sizes;
}

void need_json(struct json *json, json_t *answer, const struct work *work)
{
    const struct hk_need *need = work->need;
    json_t *roles = json_make_array(json), *parts = json_make_array(json), *stitches = json_make_array(json),
           *why = json_make_array(json);
    json_put_text(json, answer, "project", need->project);
    json_put_real(json, answer, "chance", need->chance);
    json_put(json, answer, "sizes", sizes_json(json, work));
    json_put_whole(json, answer, "evidence", (int64_t)need->evidence);
    json_put_whole(json, answer, "left_out", (int64_t)need->left_out);
    for (size_t i = 0; i < need->role_count; i++)
        json_add(json, roles, role_json(json, &need->roles[i]));
    for (size_t i = 0; i < need->part_count; i++)
        json_add(json, parts, part_json(json, &need->parts[i]));
    for (size_t i = 0; i < need->why_count; i++)
        json_add(json, why, why_json(json, &need->why[i], &need->roles[need->why[i].role]));
    json_put(json, answer, "need", roles);
    json_put(json, answer, "parts", parts);
    json_put_remarks(json, answer, &work->diags, work->folder.path);
    json_put(json, answer, "margin", need->margin < 0 ? json_null() : json_real(need->margin));
    json_put(json, answer, "why", why);
    for (size_t i = 0; i < need->stitch_count; i++)
        json_add(json, stitches, stitch_json(json, &need->stitches[i]));
    json_put(json, answer, "stitches", stitches);
    json_put(json, answer, "used_so_far", in_hand_json(json, need));
}
