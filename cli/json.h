/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON answers, on jansson: keys in a fixed order, 15 significant digits, every failure detected. */
#ifndef JSON_H
#define JSON_H

#include "commands.h"
#include "hankful.h"

#include <jansson.h>

/* `failed` records a failed step (no memory, a number that is not finite); json_write checks it once. */
struct json {
    bool failed;
    size_t rows; /* rows written by json_write_row */
};

/* Returns {"hankful":"1"}, the start of every answer. */
json_t *json_make_answer(struct json *json);
json_t *json_make_object(struct json *json);
json_t *json_make_array(struct json *json);

/* Each function takes ownership of `value`; a NULL value, object or array is a failure. */
void json_put(struct json *json, json_t *object, const char *key, json_t *value);
void json_add(struct json *json, json_t *array, json_t *value);

/* Adds text; bytes of invalid UTF-8 (possible in a folder's name) become "?". NULL becomes "". */
void json_put_text(struct json *json, json_t *object, const char *key, const char *text);
void json_put_real(struct json *json, json_t *object, const char *key, double value);
void json_put_whole(struct json *json, json_t *object, const char *key, int64_t value);
void json_put_bool(struct json *json, json_t *object, const char *key, bool value);
/* Adds money as "38.40"; null for a negative amount, which means unknown. */
void json_put_money(struct json *json, json_t *object, const char *key, int64_t minor, int minor_digits);
/* Adds likely, low and high as an object; `put_amount` also adds the amount that is enough. */
void json_put_range(struct json *json, json_t *object, const char *key, const struct hk_range *range);
void json_put_amount(struct json *json, json_t *object, const char *key, const struct hk_range *range);
json_t *json_text(const char *text);

/* Puts a place: file, line and column; in a workbook its sheet and cell too, with the row as the line. */
void json_put_place(struct json *json, json_t *object, struct hk_place at, const char *folder);

/* Returns a finding as an object: file, line, column, code, message, hint. */
void json_add_finding(struct json *json, json_t *array, const struct hk_finding *finding, const char *folder);
/* Returns the findings of one severity as an array of such objects. */
void json_put_findings(struct json *json, json_t *object, const char *key, const struct hk_diags *diags,
                       enum hk_severity severity, const char *folder);
/* Adds the accepted findings as the array `accepted`. */
void json_put_accepted(struct json *json, json_t *object, const struct hk_diags *diags, const char *folder);
/* Adds the array `warnings`, the notes as the array `assumptions`, and the accepted findings. */
void json_put_remarks(struct json *json, json_t *object, const struct hk_diags *diags, const char *folder);

/*
 * An answer of many rows, written without keeping them: the start of the object, the array with one row on each line,
 * and the end of the object. Each call writes and frees its value; only the last call returns whether all calls
 * succeeded.
 */
void json_write_first(struct json *json, json_t *first, const char *key, FILE *out);
void json_write_row(struct json *json, json_t *row, FILE *out);
enum outcome json_write_last(struct json *json, json_t *last, FILE *out);

/* Writes and frees the value. Returns FAILED, with a message, if any step failed. */
enum outcome json_write(struct json *json, json_t *object, FILE *out);
/* The same on a single line, which is flushed, so that a reader gets it at once and complete. */
enum outcome json_write_line(struct json *json, json_t *object, FILE *out);

/* Puts money that is written already, "-12.50". */
void json_put_price(struct json *json, json_t *object, const char *key, const char *price);

/*
 * From now on the answer is kept as a value and not written; money in it is {"money": "12.50"}. json_kept returns it,
 * once; NULL: none was made. Owner: the caller (json_decref).
 */
void json_keep(void);
json_t *json_kept(void);

#endif
