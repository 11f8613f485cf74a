/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "place.h"

#include "layout.h"
#include "number.h"

char *place_words(const struct hk_ball_place *place)
{
    const struct number copy = number_whole(place->copy), row = number_whole(place->row);
    if (!*place->piece)
        return text_format("-");
    return text_format("%s%s%s%s%s%s%s", place->piece, place->copies > 1 ? " " : "", place->copies > 1 ? copy.text : "",
                       *place->part ? ", " : "", place->part, place->row > 0 ? ", row " : "",
                       place->row > 0 ? row.text : "");
}

json_t *place_json(struct json *json, const struct hk_ball_place *place)
{
    if (!*place->piece)
        return json_null();
    json_t *object = json_make_object(json);
    json_put_text(json, object, "piece", place->piece);
    json_put_text(json, object, "part", place->part);
    json_put_whole(json, object, "copy", place->copy);
    json_put_whole(json, object, "copies", place->copies);
    json_put(json, object, "row", place->row > 0 ? json_integer(place->row) : json_null());
    return object;
}

json_t *ball_ends_json(struct json *json, const struct hk_ball_end *ends, size_t count)
{
    json_t *list = json_make_array(json);
    for (size_t i = 0; i < count; i++) {
        json_t *object = json_make_object(json);
        json_put_whole(json, object, "ball", ends[i].ball);
        json_put(json, object, "likely", place_json(json, &ends[i].likely));
        json_put(json, object, "earliest", place_json(json, &ends[i].earliest));
        json_put(json, object, "latest", place_json(json, &ends[i].latest));
        json_add(json, list, object);
    }
    return list;
}
