/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote_letter.h"

#include "findings.h"
#include "quote.h"

#include <stdlib.h>

/* Returns "3 balls of 100 g and 3 balls of 50 g". Owner: the caller (free). */
static char *balls_words(const struct hk_quote_yarn *yarn)
{
    char *words = NULL;
    for (size_t i = 0; i < yarn->put_up_count; i++) {
        const struct hk_quote_balls *of = &yarn->put_ups[i];
        const char *before = i == 0 ? "" : i + 1 < yarn->put_up_count ? ", " : " and ";
        if (!text_append(&words, "%s%s %s of %s g", before, number_whole(of->balls).text, of->balls == 1 ? "ball" : "balls",
                         number_label(of->put_up_g).text))
            return NULL;
    }
    return words;
}

static void report_letter_yarn(const struct hk_quote_yarn *yarn, struct text *text)
{
    char *balls = balls_words(yarn);
    if (balls)
        text_item(text, "Yarn: %s%s%s, %s", yarn->yarn, *yarn->colour ? ", " : "", yarn->colour, balls);
    else
        text->failed = true;
    free(balls);
}

enum outcome quote_letter(const struct work *work, const struct hk_quote *quote, const struct options *options, FILE *out)
{
    struct text of = text_to(out, options->width), *text = &of;
    const struct hk_quote_size *size = &quote->sizes[0];
    const bool sized = hk_project_sizes(work->project) > 1;
    text_heading(text, "Quote: %s", quote->project);
    text_gap(text);
    text_item(text, "Made to order: %s%s%s", quote->project, sized ? ", size " : "", sized ? size->size : "");
    for (size_t i = 0; i < size->yarn_count; i++)
        report_letter_yarn(&size->yarns[i], text);
    text_item(text, "Price: %s%s", quote_named_money(quote, size->bill.paid_minor).text,
              quote->tax_stated ? ", tax included" : "");
    if (size->deposit_minor > 0)
        text_item(text, "Deposit: %s when it is ordered, %s when it is ready",
                  quote_named_money(quote, size->deposit_minor).text,
                  quote_named_money(quote, size->bill.paid_minor - size->deposit_minor).text);
    if (size->hours.likely > 0)
        text_item(text, "Time: about %s hours of work by hand", quote_hours(&size->hours).text);
    return text_outcome(text);
}
