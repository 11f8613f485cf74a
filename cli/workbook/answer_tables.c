/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/answer_sheets.h"

#include "layout.h"
#include "workbook/decimal.h"

#include <stdlib.h>
#include <string.h>

/* What is known while the answer is walked through. */
struct walk {
    json_t *tables;
    const json_t *sizes;  /* the names of the sizes, for lists of a number for each; NULL: none */
    const char *currency; /* "EUR" or "" */
    bool failed;
};

/* A list of objects within a row, which becomes a table of its own. */
struct inner {
    char *path;
    const json_t *list;
};

struct row {
    json_t *flat; /* header: value */
    struct inner *inner;
    size_t inner_count;
};

static void put(struct walk *walk, json_t *object, const char *key, json_t *value)
{
    walk->failed |= !key || json_object_set(object, key, value) != 0;
}

/* ---- Headers ---- */

static const char *const units[] = {"m", "g", "mm", "cm", "yd", "in", "oz", "h", "tex"};

/* Returns the unit that a key is or ends in, "length_m"; *length is that of the key without it. NULL: none. */
static const char *unit_of(const char *key, size_t *length)
{
    const char *mark = strrchr(key, '_'), *last = mark ? mark + 1 : key;
    *length = strlen(key);
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (strcmp(last, units[i]) != 0)
            continue;
        *length = mark ? (size_t)(mark - key) : 0;
        return units[i];
    }
    return NULL;
}

/* Returns "length, likely (m)" for likely in length_m. Owner: the caller (free). Returns NULL when memory runs out. */
static char *header(const char *prefix, const char *key, const char *currency)
{
    size_t before, length;
    const char *outer = unit_of(prefix, &before), *own = unit_of(key, &length);
    const char *unit = currency ? currency : own ? own : outer;
    const bool both = before > 0 && length > 0;
    char *name = text_format("%.*s%s%.*s%s%s%s", (int)before, prefix, both ? ", " : "", (int)length, key,
                             unit ? " (" : "", unit ? unit : "", unit ? ")" : "");
    for (char *c = name; c && *c; c++)
        if (*c == '_')
            *c = ' ';
    return name;
}

/* ---- Rows ---- */

static bool is_money(const json_t *value)
{
    return json_object_size(value) == 1 && json_object_get(value, "money");
}

static bool is_list_of_objects(const json_t *value)
{
    return json_is_array(value) && json_is_object(json_array_get(value, 0));
}

static void add_inner(struct walk *walk, struct row *row, const char *path, const char *key, const json_t *list)
{
    struct inner *grown = realloc(row->inner, (row->inner_count + 1) * sizeof *grown);
    char *name = grown ? text_format("%s%s%s", path, *path ? " " : "", key) : NULL;
    row->inner = grown ? grown : row->inner;
    walk->failed |= !name;
    for (char *c = name; c && *c; c++)
        if (*c == '_')
            *c = ' ';
    if (name)
        row->inner[row->inner_count++] = (struct inner){name, list};
}

/* Puts the fields of an object into a flat row; `prefix` is the key of an object within. */
static void flatten(struct walk *walk, struct row *row, const char *path, const char *prefix, const json_t *object)
{
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)(uintptr_t)object, key, value)
    {
        if (is_list_of_objects(value)) {
            add_inner(walk, row, path, key, value);
        } else if (json_is_object(value) && !is_money(value)) {
            flatten(walk, row, path, key, value);
        } else if (!json_is_array(value) || json_array_size(value) > 0) {
            char *name = header(prefix, key, is_money(value) && *walk->currency ? walk->currency : NULL);
            put(walk, row->flat, name, value);
            free(name);
        }
    }
}

static json_t *table_of(struct walk *walk, const char *path)
{
    json_t *table = json_object_get(walk->tables, path);
    if (table)
        return table;
    walk->failed |= json_object_set_new(walk->tables, path, json_array()) != 0;
    return json_object_get(walk->tables, path);
}

/* Returns whether the value is a list with a number for each size. */
static bool is_by_size(const struct walk *walk, const json_t *value)
{
    if (!walk->sizes || !json_is_array(value) || json_array_size(value) != json_array_size(walk->sizes))
        return false;
    for (size_t i = 0; i < json_array_size(value); i++)
        if (!json_is_number(json_array_get(value, i)) && !json_is_null(json_array_get(value, i)))
            return false;
    return true;
}

static json_t *joined(struct walk *walk, const json_t *list)
{
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < json_array_size(list) && good; i++) {
        const json_t *value = json_array_get(list, i);
        const char *between = words ? ", " : "";
        char number[40];
        decimal_short(json_number_value(value), number, sizeof number);
        good = text_append(&words, "%s%s", between, json_is_string(value) ? json_string_value(value) : number);
    }
    json_t *text = good ? json_string(words ? words : "") : NULL;
    walk->failed |= !text;
    free(words);
    return text;
}

/* Adds the row to its table. A row with a number for each size becomes a row for each. */
static void add_row(struct walk *walk, const char *path, const json_t *flat)
{
    json_t *table = table_of(walk, path), *value;
    const char *key;
    bool by_size = false;
    json_object_foreach((json_t *)(uintptr_t)flat, key, value) by_size = by_size || is_by_size(walk, value);
    for (size_t i = 0; i < (by_size ? json_array_size(walk->sizes) : 1); i++) {
        json_t *row = json_object();
        if (by_size)
            put(walk, row, "size", json_array_get(walk->sizes, i));
        json_object_foreach((json_t *)(uintptr_t)flat, key, value)
        {
            if (is_by_size(walk, value))
                put(walk, row, key, json_array_get(value, i));
            else if (json_is_array(value))
                walk->failed |= json_object_set_new(row, key, joined(walk, value)) != 0;
            else
                put(walk, row, key, value);
        }
        walk->failed |= json_array_append_new(table, row) != 0;
    }
}

static void walk_list(struct walk *walk, const char *path, const json_t *list, const json_t *names);

/* Returns whether a field tells the rows of a list apart. */
static bool is_name(const char *key)
{
    static const char *const names[] = {"size",   "role", "yarn", "colour", "piece", "part",
                                        "fabric", "shop", "item", "name",   "swatch"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(key, names[i]) == 0)
            return true;
    return false;
}

/* Walks through the lists within a row, which take over its names. */
static void walk_inner(struct walk *walk, struct row *row)
{
    json_t *names = json_object(), *value;
    const char *key;
    json_object_foreach(row->flat, key, value)
    {
        if (is_name(key) && json_is_string(value) && *json_string_value(value))
            put(walk, names, key, value);
    }
    for (size_t i = 0; i < row->inner_count; i++) {
        walk_list(walk, row->inner[i].path, row->inner[i].list, names);
        free(row->inner[i].path);
    }
    free(row->inner);
    json_decref(names);
}

static void walk_list(struct walk *walk, const char *path, const json_t *list, const json_t *names)
{
    for (size_t i = 0; i < json_array_size(list) && !walk->failed; i++) {
        struct row row = {.flat = json_copy((json_t *)(uintptr_t)names)};
        walk->failed |= !row.flat;
        if (walk->failed)
            return;
        flatten(walk, &row, path, "", json_array_get(list, i));
        add_row(walk, path, row.flat);
        walk_inner(walk, &row);
        json_decref(row.flat);
    }
}

/* ---- The answer ---- */

/* A list of texts is a table of one column; the other fields of the answer are a table of two, `about`. */
static void walk_fields(struct walk *walk, const json_t *flat)
{
    json_t *about = json_array(), *value;
    const char *key;
    json_object_foreach((json_t *)(uintptr_t)flat, key, value)
    {
        const bool list = json_is_array(value) && strcmp(key, "sizes") != 0;
        for (size_t i = 0; list && i < json_array_size(value); i++) {
            json_t *one = json_object();
            put(walk, one, key, json_array_get(value, i));
            walk->failed |= json_array_append_new(table_of(walk, key), one) != 0;
        }
        if (list)
            continue;
        json_t *text = json_is_array(value) ? joined(walk, value) : json_incref(value);
        walk->failed |= json_array_append_new(about, json_pack("{s:s, s:o}", "field", key, "value", text)) != 0;
    }
    walk->failed |= json_object_set_new(walk->tables, "about", about) != 0;
}

json_t *answer_tables(const json_t *answer)
{
    const char *currency = json_string_value(json_object_get(answer, "currency"));
    struct walk walk = {
        .tables = json_object(), .sizes = json_object_get(answer, "sizes"), .currency = currency ? currency : ""};
    struct row row = {.flat = json_object()};
    json_t *none = json_object();
    walk.failed = !walk.tables || !row.flat || !none;
    if (!walk.failed)
        flatten(&walk, &row, "", "", answer);
    for (size_t i = 0; i < row.inner_count; i++) {
        if (!walk.failed)
            walk_list(&walk, row.inner[i].path, row.inner[i].list, none);
        free(row.inner[i].path);
    }
    free(row.inner);
    if (!walk.failed)
        walk_fields(&walk, row.flat);
    json_decref(none);
    json_decref(row.flat);
    if (!walk.failed)
        return walk.tables;
    json_decref(walk.tables);
    return NULL;
}
