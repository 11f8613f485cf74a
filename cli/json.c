/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json.h"

#include "files.h"
#include "safe.h"
#include "workbook/workbooks.h"
#include "layout.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

json_t *json_make_object(struct json *json)
{
    json_t *object = json_object();
    json->failed = json->failed || !object;
    return object;
}

json_t *json_make_answer(struct json *json)
{
    json_t *answer = json_make_object(json);
    json_put_text(json, answer, "hankful", "1");
    return answer;
}

json_t *json_make_array(struct json *json)
{
    json_t *array = json_array();
    json->failed = json->failed || !array;
    return array;
}

void json_put(struct json *json, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0)
        json->failed = true;
}

void json_add(struct json *json, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0)
        json->failed = true;
}

json_t *json_text(const char *text)
{
    const char *words = text ? text : "";
    json_t *value = json_string(words);
    char *clean = value ? NULL : text_format("%s", words);
    if (clean) {
        safe_words(clean);
        value = json_string(clean);
    }
    free(clean);
    return value;
}

void json_put_text(struct json *json, json_t *object, const char *key, const char *text)
{
    json_put(json, object, key, json_text(text));
}

void json_put_real(struct json *json, json_t *object, const char *key, double value)
{
    json_put(json, object, key, json_real(value));
}

void json_put_whole(struct json *json, json_t *object, const char *key, int64_t value)
{
    json_put(json, object, key, json_integer(value));
}

void json_put_bool(struct json *json, json_t *object, const char *key, bool value)
{
    json_put(json, object, key, json_boolean(value));
}

/* Of json_keep: the answer so far, and its list of rows, which it owns. */
static struct {
    bool wanted;
    json_t *answer, *rows;
} kept;

void json_keep(void)
{
    kept.wanted = true;
}

json_t *json_kept(void)
{
    json_t *answer = kept.answer;
    kept.answer = kept.rows = NULL;
    return answer;
}

void json_put_money(struct json *json, json_t *object, const char *key, int64_t minor, int minor_digits)
{
    char text[HK_MONEY_TEXT];
    if (minor < 0) {
        json_put(json, object, key, json_null());
        return;
    }
    hk_money_text(minor, minor_digits, text);
    json_put_price(json, object, key, text);
}

void json_put_price(struct json *json, json_t *object, const char *key, const char *price)
{
    if (kept.wanted)
        json_put(json, object, key, json_pack("{s:s}", "money", price));
    else
        json_put_text(json, object, key, price);
}

static json_t *range_of(struct json *json, const struct hk_range *range)
{
    json_t *value = json_make_object(json);
    json_put_real(json, value, "likely", range->likely);
    json_put_real(json, value, "low", range->low);
    json_put_real(json, value, "high", range->high);
    return value;
}

void json_put_range(struct json *json, json_t *object, const char *key, const struct hk_range *range)
{
    json_put(json, object, key, range_of(json, range));
}

void json_put_amount(struct json *json, json_t *object, const char *key, const struct hk_range *range)
{
    json_t *value = range_of(json, range);
    json_put_real(json, value, "enough", range->enough);
    json_put(json, object, key, value);
}

void json_put_place(struct json *json, json_t *object, struct hk_place at, const char *folder)
{
    struct workbook_place cell;
    bool failed = false;
    const bool within = workbook_place(folder, at, &cell, &failed);
    char *path = within || failed ? NULL : project_path(folder, at.file ? at.file : "");
    json->failed = json->failed || failed || (!within && !path);
    json_put_text(json, object, "file", within ? cell.path : path);
    if (within) {
        json_put_text(json, object, "sheet", cell.sheet);
        json_put_text(json, object, "cell", cell.cell);
    }
    json_put_whole(json, object, "line", (int64_t)(within ? cell.row : at.line));
    json_put_whole(json, object, "column", (int64_t)(within ? cell.column : at.column));
    workbook_place_free(&cell);
    free(path);
}

void json_add_finding(struct json *json, json_t *array, const struct hk_finding *finding, const char *folder)
{
    json_t *object = json_make_object(json);
    json_put_place(json, object, finding->at, folder);
    json_put_text(json, object, "code", hk_code_name(finding->code));
    char *message = workbook_words(folder, finding->message);
    char *hint = workbook_words(folder, finding->hint ? finding->hint : "");
    json->failed = json->failed || !message || !hint;
    json_put_text(json, object, "message", message);
    json_put_text(json, object, "hint", hint);
    free(message);
    free(hint);
    json_add(json, array, object);
}

void json_put_findings(struct json *json, json_t *object, const char *key, const struct hk_diags *diags,
                       enum hk_severity severity, const char *folder)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; i < hk_diags_count(diags); i++)
        if (hk_code_severity(hk_diags_finding(diags, i)->code) == severity)
            json_add_finding(json, array, hk_diags_finding(diags, i), folder);
    json_put(json, object, key, array);
}

void json_put_accepted(struct json *json, json_t *object, const struct hk_diags *diags, const char *folder)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; hk_diags_accepted_finding(diags, i); i++)
        json_add_finding(json, array, hk_diags_accepted_finding(diags, i), folder);
    json_put(json, object, "accepted", array);
}

void json_put_remarks(struct json *json, json_t *object, const struct hk_diags *diags, const char *folder)
{
    json_put_findings(json, object, "warnings", diags, HK_SEVERITY_WARNING, folder);
    json_put_findings(json, object, "assumptions", diags, HK_SEVERITY_NOTE, folder);
    json_put_accepted(json, object, diags, folder);
}

/*
 * Collects the output of jansson, which arrives a few bytes at a time but never splits a character. The buffer records
 * a failure, because jansson drops a key that it could not write and reports no error.
 */
struct pieces {
    FILE *out;
    bool failed;
    size_t used;
    char bytes[1 << 14];
};

static int put_gathered(struct pieces *pieces)
{
    const size_t used = pieces->used;
    pieces->used = 0;
    const int written = safe_json(pieces->bytes, used, pieces->out);
    pieces->failed = pieces->failed || written != 0;
    return written;
}

static int put_piece(const char *bytes, size_t size, void *context)
{
    struct pieces *pieces = context;
    if (size > sizeof pieces->bytes - pieces->used && put_gathered(pieces) != 0)
        return -1;
    if (size > sizeof pieces->bytes) {
        const int written = safe_json(bytes, size, pieces->out);
        pieces->failed = pieces->failed || written != 0;
        return written;
    }
    memcpy(pieces->bytes + pieces->used, bytes, size);
    pieces->used += size;
    return 0;
}

/* Writes and frees the value. */
static void dump(struct json *json, json_t *value, size_t flags, FILE *out)
{
    struct pieces pieces = {.out = out};
    if (json->failed || json_dump_callback(value, put_piece, &pieces, flags | JSON_REAL_PRECISION(15)) != 0 ||
        put_gathered(&pieces) != 0 || pieces.failed || ferror(out))
        json->failed = true;
    json_decref(value);
}

/* Returns the value as text. Owner: the caller (free). Returns NULL if it cannot be written. */
static char *text_of(struct json *json, json_t *value, size_t flags, size_t *bytes)
{
    char *text = NULL;
    FILE *memory = open_memstream(&text, bytes);
    json->failed = json->failed || !memory;
    dump(json, value, flags, memory);
    if (memory && fclose(memory) != 0)
        json->failed = true;
    json->failed = json->failed || !text; /* glibc closes the stream without error although the last realloc failed */
    if (!json->failed)
        return text;
    free(text);
    return NULL;
}

/* Writes and frees an object, without its braces and the adjacent line ends. */
static void dump_inside(struct json *json, json_t *object, FILE *out)
{
    size_t bytes = 0;
    char *text = text_of(json, object, JSON_INDENT(2), &bytes);
    if (text && (bytes < 4 || fwrite(text + 2, 1, bytes - 4, out) != bytes - 4))
        json->failed = true;
    free(text);
}

static void print(struct json *json, FILE *out, const char *before, const char *key, const char *behind)
{
    if (!json->failed && fprintf(out, "%s%s%s", before, key, behind) < 0)
        json->failed = true;
}

static enum outcome outcome_of(const struct json *json)
{
    if (!json->failed)
        return DONE;
    complain("cannot build the JSON output: out of memory, or a number beyond what JSON can hold");
    return FAILED;
}

void json_write_first(struct json *json, json_t *first, const char *key, FILE *out)
{
    if (kept.wanted) {
        kept.answer = first;
        kept.rows = json_make_array(json);
        json_put(json, first, key, kept.rows);
        return;
    }
    print(json, out, "{\n", "", "");
    dump_inside(json, first, out);
    print(json, out, ",\n  \"", key, "\": [");
}

void json_write_row(struct json *json, json_t *row, FILE *out)
{
    if (kept.wanted) {
        json_add(json, kept.rows, row);
        return;
    }
    print(json, out, json->rows++ ? ",\n    " : "\n    ", "", "");
    dump(json, row, 0, out);
}

enum outcome json_write_last(struct json *json, json_t *last, FILE *out)
{
    if (kept.wanted) {
        json->failed |= json_object_update(kept.answer, last) != 0;
        json_decref(last);
        return outcome_of(json);
    }
    print(json, out, json->rows ? "\n  ],\n" : "],\n", "", "");
    dump_inside(json, last, out);
    print(json, out, "\n}\n", "", "");
    return outcome_of(json);
}

enum outcome json_write(struct json *json, json_t *object, FILE *out)
{
    if (kept.wanted) {
        kept.answer = object;
        return outcome_of(json);
    }
    dump(json, object, JSON_INDENT(2), out);
    print(json, out, "\n", "", "");
    return outcome_of(json);
}

enum outcome json_write_line(struct json *json, json_t *object, FILE *out)
{
    size_t bytes = 0;
    char *line = text_of(json, object, JSON_COMPACT, &bytes); /* complete in memory before any of it is written */
    if (!line)
        return outcome_of(json);
    const bool written = fwrite(line, 1, bytes, out) == bytes && fputc('\n', out) != EOF && fflush(out) == 0;
    free(line);
    if (written)
        return DONE;
    complain("cannot write the answer: %s", strerror(errno));
    return FAILED;
}
