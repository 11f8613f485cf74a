/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "in_hand.h"

#include "number.h"

#include <stdlib.h>

/*
 * Returns "22 g of main, 3.4 g of lace"; for several sizes "22 g of main (size M); 9 g of main (size L)". Owner: the
 * caller (free).
 */
static char *used_words(const struct hk_need *need)
{
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < need->used_count && good; i++) {
        const struct hk_need_used *used = &need->used[i];
        const bool first = i == 0 || used->size != used[-1].size;
        const bool last = i + 1 == need->used_count || used->size != used[1].size, name = last && need->size_count > 1;
        good = text_append(&words, "%s%s g of %s%s%s%s", i == 0 ? "" : first ? "; " : ", ", number_stated(used->mass_g).text,
                           *used->of ? used->of : "all yarns together", name ? " (size " : "", name ? used->size_name : "",
                           name ? ")" : "");
    }
    return words;
}

void in_hand_report(const struct hk_need *need, struct text *text)
{
    if (!need->in_hand)
        return;
    char *used = used_words(need);
    if (used)
        text_paragraph(
            text, "For a fresh making; the work in hand has used %s so far, as weighed: hankful left shows the rest.",
            used);
    else if (need->used_count == 0)
        text_paragraph(text, "For a fresh making; hankful left shows the rest of the work in hand.");
    else
        text->failed = true;
    free(used);
}

json_t *in_hand_json(struct json *json, const struct hk_need *need)
{
    json_t *list = json_make_array(json);
    for (size_t i = 0; i < need->used_count; i++) {
        json_t *object = json_make_object(json);
        json_put_text(json, object, "size", need->used[i].size_name);
        json_put_text(json, object, "of", need->used[i].of);
        json_put_real(json, object, "mass_g", need->used[i].mass_g);
        json_add(json, list, object);
    }
    return list;
}
