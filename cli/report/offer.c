/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The offer to a client, as `quote --letter --html` writes it. */
#include "quote_letter.h"
#include "report/page.h"

void report_offer(struct report *report)
{
    struct markup *markup = &report->markup;
    markup_open(markup, "div", "id", "offer", NULL);
    markup->failed |= !quote_letter_write(document_html(markup, "quote"), report->work, report->quote, report->options);
    markup_close(markup, "div");
}
