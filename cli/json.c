/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json.h"

#include "files.h"
#include "text.h"

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
        text_clean(clean);
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

void json_put_money(struct json *json, json_t *object, const char *key, int64_t minor, int minor_digits)
{
    char text[HK_MONEY_TEXT];
    if (minor < 0) {
        json_put(json, object, key, json_null());
        return;
    }
    hk_money_text(minor, minor_digits, text);
    json_put_text(json, object, key, text);
}

static void add_finding(struct json *json, json_t *array, const struct hk_finding *finding, const char *folder)
{
    json_t *object = json_make_object(json);
    char *path = folder_path(folder, finding->at.file ? finding->at.file : "");
    json->failed = json->failed || !path;
    json_put_text(json, object, "file", path);
    json_put_whole(json, object, "line", (int64_t)finding->at.line);
    json_put_whole(json, object, "column", (int64_t)finding->at.column);
    json_put_text(json, object, "code", hk_code_name(finding->code));
    json_put_text(json, object, "message", finding->message);
    json_put_text(json, object, "hint", finding->hint);
    json_add(json, array, object);
    free(path);
}

void json_put_findings(struct json *json, json_t *object, const char *key, const struct hk_diags *diags,
                       enum hk_severity severity, const char *folder)
{
    json_t *array = json_make_array(json);
    for (size_t i = 0; i < diags->count; i++)
        if (hk_code_severity(diags->findings[i].code) == severity)
            add_finding(json, array, &diags->findings[i], folder);
    json_put(json, object, key, array);
}

static const size_t digits = JSON_REAL_PRECISION(15);

/* Writes and frees the value, `off` bytes left out at either end. */
static void dump(struct json *json, json_t *value, size_t flags, size_t off, FILE *out)
{
    char *text = json->failed ? NULL : json_dumps(value, flags | digits);
    const size_t bytes = text ? strlen(text) : 0;
    json_decref(value);
    if (bytes < 2 * off || !text || fwrite(text + off, 1, bytes - 2 * off, out) != bytes - 2 * off)
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
    print(json, out, "{\n", "", "");
    dump(json, first, JSON_INDENT(2), 2, out);
    print(json, out, ",\n  \"", key, "\": [");
}

void json_write_row(struct json *json, json_t *row, FILE *out)
{
    print(json, out, json->rows++ ? ",\n    " : "\n    ", "", "");
    dump(json, row, 0, 0, out);
}

enum outcome json_write_last(struct json *json, json_t *last, FILE *out)
{
    print(json, out, json->rows ? "\n  ],\n" : "],\n", "", "");
    dump(json, last, JSON_INDENT(2), 2, out);
    print(json, out, "\n}\n", "", "");
    return outcome_of(json);
}

enum outcome json_write(struct json *json, json_t *object, FILE *out)
{
    dump(json, object, JSON_INDENT(2), 0, out);
    print(json, out, "\n", "", "");
    return outcome_of(json);
}
