/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bill as a table of text, a column a size. */
#include "quote.h"

#include <string.h>

struct text_table *quote_table(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "%s", *quote->currency ? quote->currency : "AMOUNT");
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_column(table, TEXT_RIGHT, "%s", quote->sizes[i].size);
    return table;
}

void quote_row(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount)
{
    text_table_cell(table, "%s", name);
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_cell(table, "%s", quote_money(quote, quote_amount(&quote->sizes[i], amount)).text);
}

void quote_row_if_any(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount)
{
    bool any = false;
    for (size_t i = 0; i < quote->size_count; i++)
        any |= quote_amount(&quote->sizes[i], amount) != 0;
    if (any)
        quote_row(table, quote, name, amount);
}

struct table_bill {
    struct text_table *table;
    const struct hk_quote *quote;
};

/* Adds a line of the bill. With several sizes, the price to ask stands among the answers above. */
static void add_line(void *context, const struct quote_bill_line *line)
{
    const struct table_bill *bill = context;
    if (bill->quote->solved && bill->quote->size_count > 1 && strcmp(line->key, QUOTE_PRICE_KEY) == 0)
        return;
    text_table_cell(bill->table, "%s", line->name);
    for (size_t i = 0; i < bill->quote->size_count; i++)
        text_table_cell(bill->table, "%s", quote_money(bill->quote, line->minor[i]).text);
}

void quote_bill_rows(struct text_table *table, const struct hk_quote *quote, struct text *text)
{
    struct table_bill bill = {table, quote};
    text->failed |= !quote_bill_each(quote, add_line, &bill);
}
