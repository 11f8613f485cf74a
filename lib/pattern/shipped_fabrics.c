/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tables/fabrics.csv: read after the other shipped tables, since its rows use the table of stitches. */
#include "pattern/shipped_fabrics.h"

#include "base/text.h"

#include <string.h>

const struct hk_fabric *hk_catalogue_fabric(const struct hk_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < catalogue->fabric_count; i++) {
        if (hk_text_same(catalogue->fabrics[i].name, name))
            return &catalogue->fabrics[i];
    }
    for (size_t i = 0; i < catalogue->alias_count; i++) {
        if (hk_text_same(catalogue->aliases[i].name, name))
            return catalogue->aliases[i].fabric;
    }
    return NULL;
}

/* Reads the other names of a fabric: "stocking stitch; jersey stitch". */
static void aliases_read(struct hk_catalogue *catalogue, size_t row, size_t *capacity)
{
    const struct hk_table *table = catalogue->fabrics_table;
    for (const char *c = hk_table_cell(table, row, HK_FABRICS_ALSO).text; *c; c += *c == ';') {
        c += strspn(c, " ");
        size_t length = strcspn(c, ";");
        const char *name = hk_arena_text(&catalogue->arena, c, length);
        struct hk_fabric_alias *grown = hk_arena_grow(&catalogue->arena, catalogue->aliases, catalogue->alias_count, capacity,
                                                      sizeof *grown);
        if (!name || !grown)
            return;
        catalogue->aliases = grown;
        grown[catalogue->alias_count++] =
            (struct hk_fabric_alias){name, hk_catalogue_fabric(catalogue, hk_table_cell(table, row, HK_FABRICS_FABRIC).text)};
        c += length;
    }
}

static void fabrics_read(struct hk_catalogue *catalogue, struct hk_diags *diags)
{
    const struct hk_table *table = catalogue->fabrics_table;
    size_t capacity = 0;
    if (!table || catalogue->stitch_count == 0) /* all words of all rows would be unknown */
        return;
    if (!hk_fabrics_read(table, HK_TERMS_US, catalogue, &catalogue->fabrics, &catalogue->fabric_count, &catalogue->arena,
                         diags))
        return;
    for (size_t row = 0; row < hk_table_rows(table); row++)
        aliases_read(catalogue, row, &capacity);
}

struct hk_catalogue *hk_catalogue_read(const struct hk_source *source, struct hk_diags *diags)
{
    size_t errors = diags->errors;
    struct hk_catalogue *catalogue = hk_catalogue_tables_read(source, diags);
    if (catalogue && !diags->out_of_memory)
        fabrics_read(catalogue, diags);
    if (catalogue && catalogue->arena.out_of_memory)
        diags->out_of_memory = true;
    if (diags->errors == errors && !diags->out_of_memory)
        return catalogue;
    hk_catalogue_free(catalogue);
    return NULL;
}
